"""Reading a TOML file that a person wrote, and saying plainly what is wrong with it.

A document's form is a tree of :class:`Table` types; ranges and a description of each
key sit in ``msgspec.Meta``. All faults of a file are found before it is refused, so that
its writer mends it once.
"""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any, TypeVar

import msgspec
from msgspec import Struct, inspect

from deckward.errors import InputError

T = TypeVar("T")

#: a site, a profile or a rulebook takes a few kilobytes
LARGEST_FILE = 256 * 1024
#: levels of tables and dotted keys; ours take four
DEEPEST_KEY = 16
#: faults shown in one message
MOST_FAULTS = 12

#: the TOML reader's words for the slips that people make most
_PLAINLY = {
    "Cannot overwrite a value": "the same key or table stands here twice",
    "Cannot declare": "the same key or table stands here twice",
    "Illegal character '\\n'": "a text is not closed by its quote",
    "Invalid value": "no value that TOML knows (is a text without quotes?)",
}

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_WORD = r"""(?:(?<![\w-])[\w-]++|"[^"\n]*+"|'[^'\n]*+')"""
_TOO_DEEP = re.compile(rf"(?:{_WORD}[ \t]*+\.[ \t]*+){{{DEEPEST_KEY}}}")
_KEY_PART = re.compile(r""""([^"]*)"|'([^']*)'|([\w-]+)""")
_HEADER = re.compile(r"\s*(\[\[?)([^\[\]]+)\]")
_ASSIGNMENT = re.compile(r"""\s*((?:[\w-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[\w-]+|"[^"]*"|'[^']*'))*)\s*=""")


class Table(msgspec.Struct, forbid_unknown_fields=True):
    """A table of a document; an unknown key in it is a fault."""


class Problem(Struct, frozen=True):
    """One fault of a document: the key's path (``lens.cells``), what is wrong, what to do.

    Items of a list of tables count from 1: ``deviation[2].low``.
    """

    key: str
    problem: str
    remedy: str


def load(
    path: str | Path,
    shape: type[T],
    *,
    check: Callable[[T], Iterable[Problem]] | None = None,
) -> T:
    """Read a TOML file into ``shape``; see :func:`parse`.

    Raises:
        InputError: the file cannot be read, or is not a valid document of that shape.
    """
    return parse(read_text(path), shape, file=str(path), check=check)


def read_text(path: str | Path) -> str:
    """Read a small text file, UTF-8 with or without a byte-order mark.

    Raises:
        InputError: no such file, not a file, too large, not UTF-8.
    """
    name = clip(str(path), 300)
    try:
        path = Path(path)
        if path.is_dir():
            raise InputError("this is a folder.", file=name, remedy="Name the TOML file in it.")
        if not path.exists():
            raise InputError("there is no such file.", file=name, remedy="Check the name and the folder.")
        if not path.is_file():
            raise InputError("this is not a regular file.", file=name, remedy="Name a TOML file.")
        with path.open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(
            f"the file cannot be read ({reason}).", file=name, remedy="Check the name and your rights to it."
        ) from None
    if len(data) > LARGEST_FILE:
        raise InputError(
            f"the file is larger than {LARGEST_FILE // 1024} KiB, which no such document needs.",
            file=name,
            remedy="Is this a recording? Give the TOML file here.",
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise InputError(
            "the text is not UTF-8.",
            file=name,
            place=f"line {line}",
            remedy="Save the file as UTF-8 (an editor offers it under 'encoding').",
        ) from None


def parse(
    text: str,
    shape: type[T],
    *,
    file: str,
    check: Callable[[T], Iterable[Problem]] | None = None,
    typed: Mapping[str, Any] | None = None,
) -> T:
    """Turn TOML text into ``shape``, a ``msgspec.Struct`` type.

    Every unknown key, missing key, wrong type, number out of range and number that is not
    finite is found and told at once; then ``check`` looks at what one key alone cannot show.
    ``typed`` has values that a person typed as options, by the path of their key
    (``wind.from_deg``); they stand in place of the file's.

    Raises:
        InputError: with the file, the key's path and line, what is wrong and what to do.
    """
    table = _toml(text, file)
    for key, value in (typed or {}).items():
        _put(table, key, value)
    document, refused = None, ""
    try:
        document = msgspec.convert(table, shape)
    except msgspec.ValidationError as error:
        refused = f"{error}."
    # describing the form takes longer than reading it, and only a faulty file needs that
    if document is None or not _usable(table):
        faults = list(_faults(table, inspect.type_info(shape), ""))
        if faults:
            raise refusal(faults, text, file=file, options=tuple(typed or ()))
    if document is None:  # a fault that the walk does not know of
        raise InputError(refused, file=file, remedy="See the reference of this file's form.")
    faults = list(check(document)) if check else []
    if faults:
        raise refusal(faults, text, file=file, options=tuple(typed or ()))
    return document


def refusal(faults: list[Problem], text: str, *, file: str, options: Collection[str] = ()) -> InputError:
    """Make one error of all faults of a document, each with its key and line.

    A key in ``options`` was typed, and is told by the option's name; all were where there is
    no file.
    """

    def typed(fault: Problem) -> bool:
        return not file or fault.key.partition("[")[0] in options

    def place(fault: Problem) -> str:
        return option(fault.key) if typed(fault) else _place(text, fault.key)

    if len(faults) == 1:
        (fault,) = faults
        named = None if typed(fault) else file
        return InputError(fault.problem, file=named, place=place(fault), remedy=fault.remedy)
    lines = [f"{place(f)}: {f.problem} {f.remedy}" for f in faults[:MOST_FAULTS]]
    if len(faults) > MOST_FAULTS:
        lines.append(f"and {len(faults) - MOST_FAULTS} more.")
    return InputError(f"{len(faults)} things to mend:\n  " + "\n  ".join(lines), file=file or None)


def option(key: str) -> str:
    """Return the option that a key of a document is typed as; a list is one option, given often.

    >>> option("wind.from_deg"), option("flight[2].name")
    ('--wind-from-deg', '--flight 2')
    """
    table, _, item = key.partition("[")
    number = f" {item.partition(']')[0]}" if item else ""
    return "--" + re.sub(r"[._]", "-", table) + number


def _put(table: dict[str, Any], key: str, value: Any) -> None:
    """Put a value at its path; where the file has no table there, the walk will tell."""
    *parents, last = key.split(".")
    for name in parents:
        inner = table.setdefault(name, {})
        if not isinstance(inner, dict):
            return
        table = inner
    table[last] = value


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word that was probably meant, if any is near.

    >>> nearest("lense", ["lens", "wires"])
    'lens'
    """
    if len(word) > 60:
        return None
    from difflib import get_close_matches

    spelling = {name.casefold(): name for name in known}
    found = get_close_matches(word.casefold(), spelling, n=1, cutoff=0.7)
    return spelling[found[0]] if found else None


def clip(text: str, size: int) -> str:
    """Shorten a text for a message and take control characters out of it."""
    shown = "".join(letter if letter.isprintable() else "?" for letter in text[: size + 1])
    return shown if len(text) <= size else shown[:size] + "…"


def _toml(text: str, file: str) -> dict[str, Any]:
    deep = _TOO_DEEP.search(text)
    if deep:
        line = text.count("\n", 0, deep.start()) + 1
        raise InputError(
            f"a key of more than {DEEPEST_KEY} levels.",
            file=file,
            place=f"line {line}",
            remedy="No table here is nested so deeply: is this the right file?",
        )
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise InputError(
            "lists or tables are nested far too deeply.", file=file, remedy="Is this the right file?"
        ) from None
    except ValueError as error:  # a TOMLDecodeError is one; so is an integer of thousands of digits
        reason, _, rest = str(error).partition(" (at ")
        reason = next(
            (words for start, words in _PLAINLY.items() if reason.startswith(start)),
            clip(reason.partition(";")[0], 120),
        )
        place = re.search(r"line \d+", rest)
        raise InputError(
            f"this is not valid TOML: {reason}.",
            file=file,
            place=place[0] if place else ("end of the file" if rest else None),
            remedy="Each line reads key = value; text stands in quotes, lists in [ ], decimals with a point.",
        ) from None


def _usable(value: Any) -> bool:
    """Tell whether a value holds none of what the TOML reader lets through and no document takes."""
    if isinstance(value, dict):
        return all(map(_usable, value.values()))
    if isinstance(value, list):
        return all(map(_usable, value))
    if isinstance(value, str):
        return value.isprintable() and value == value.strip() != ""
    return not isinstance(value, int | float) or (math.isfinite(value) and abs(value) < 2**63)


# -- the walk ----------------------------------------------------------------------------------


def _faults(value: Any, node: Any, key: str, about: str = "") -> Iterator[Problem]:
    """Yield what is wrong with ``value`` where ``node`` is wanted."""
    if isinstance(node, inspect.Metadata):
        yield from _faults(value, node.type, key, (node.extra_json_schema or {}).get("description", about))
    elif isinstance(node, inspect.UnionType):
        choices = [choice for choice in node.types if not isinstance(choice, inspect.NoneType)]
        found = [list(_faults(value, choice, key, about)) for choice in choices]
        if all(found):
            yield from min(found, key=len)
    elif isinstance(node, inspect.StructType):
        yield from _table_faults(value, node, key, about)
    elif isinstance(node, inspect.DictType):
        if isinstance(value, dict):
            for name, item in value.items():
                yield from _faults(item, node.value_type, _join(key, name), about)
        else:
            yield _wrong(value, node, key, about)
    elif isinstance(node, inspect.TupleType | inspect.ListType | inspect.VarTupleType):
        yield from _list_faults(value, node, key, about)
    else:
        reason = _scalar_fault(value, node)
        if reason:
            yield Problem(key, reason, _give(node, about))


def _table_faults(value: Any, node: inspect.StructType, key: str, about: str) -> Iterator[Problem]:
    if not isinstance(value, dict):
        yield _wrong(value, node, key, about)
        return
    fields = {field.encode_name: field for field in node.fields}
    unknown = [name for name in value if name not in fields]
    meant = set()
    for count, name in enumerate(unknown):
        guess = nearest(name, fields) if count < MOST_FAULTS else None
        meant.add(guess)
        remedy = f"Did you mean {guess!r}?" if guess else f"Known here: {', '.join(fields)}."
        yield Problem(_join(key, name), "unknown key.", remedy)
    for name, field in fields.items():
        if name in value:
            yield from _faults(value[name], field.type, _join(key, name))
        elif field.required and name not in meant:
            inner, text = _described(field.type)
            what = "table" if isinstance(inner, inspect.StructType) else "key"
            yield Problem(_join(key, name), f"this {what} is missing.", _give(inner, text))


def _list_faults(value: Any, node: Any, key: str, about: str) -> Iterator[Problem]:
    if not isinstance(value, list):
        yield _wrong(value, node, key, about)
        return
    if isinstance(node, inspect.TupleType):
        if len(value) != len(node.item_types):
            yield Problem(key, f"a list of {len(value)} stands here.", _give(node, about))
            return
        items = node.item_types
    else:
        least, most = node.min_length or 0, node.max_length
        if len(value) < least or (most is not None and len(value) > most):
            yield Problem(key, f"a list of {len(value)} stands here.", _give(node, about))
            return
        items = (node.item_type,) * len(value)
    for number, (item, wanted) in enumerate(zip(value, items, strict=True), start=1):
        inner, text = _described(wanted)
        if isinstance(inner, inspect.StructType):
            yield from _faults(item, inner, f"{key}[{number}]", text)
        else:
            yield from _faults(item, wanted, key, about)


def _scalar_fault(value: Any, node: Any) -> str | None:
    """Say why a value cannot stand where ``node`` is wanted, or None where it can."""
    stands = f"{_kind(value)} stands here."
    if isinstance(node, inspect.FloatType | inspect.IntType):
        kinds = (int,) if isinstance(node, inspect.IntType) else (int, float)
        if isinstance(value, bool) or not isinstance(value, kinds):
            return stands
        if (isinstance(value, int) and abs(value) >= 2**63) or not math.isfinite(value):
            return f"{clip(str(value), 40)} is not a usable number."
        within = (
            (node.gt is None or value > node.gt)
            and (node.ge is None or value >= node.ge)
            and (node.lt is None or value < node.lt)
            and (node.le is None or value <= node.le)
        )
        return None if within else f"{value} is out of range."
    if isinstance(node, inspect.StrType):
        if not isinstance(value, str):
            return stands
        if not value.isprintable():
            return "a text with line breaks or control characters stands here."
        size = len(value.strip())
        if size < (node.min_length or 0) or (node.max_length is not None and len(value) > node.max_length):
            return f"a text of {size} characters stands here."
        if node.pattern and not re.search(node.pattern, value):
            return stands
        return None
    if isinstance(node, inspect.BoolType):
        return None if isinstance(value, bool) else stands
    if isinstance(node, inspect.LiteralType):
        known = type(value) in {type(choice) for choice in node.values} and value in node.values
        return None if known else stands
    return None


# -- words -------------------------------------------------------------------------------------


def _wrong(value: Any, node: Any, key: str, about: str) -> Problem:
    return Problem(key, f"{_kind(value)} stands here.", _give(node, about))


def _give(node: Any, about: str) -> str:
    return f"Give {_expected(node)}{': ' + about if about else ''}."


def _described(node: Any) -> tuple[Any, str]:
    """Unwrap a field's type and its description."""
    about = ""
    while True:
        if isinstance(node, inspect.Metadata):
            about = (node.extra_json_schema or {}).get("description", about)
            node = node.type
        elif isinstance(node, inspect.UnionType):
            choices = [choice for choice in node.types if not isinstance(choice, inspect.NoneType)]
            if len(choices) != 1:
                return node, about
            (node,) = choices
        else:
            return node, about


def _expected(node: Any, *, many: bool = False) -> str:
    node, _ = _described(node)
    if isinstance(node, inspect.FloatType | inspect.IntType):
        whole = "whole " if isinstance(node, inspect.IntType) else ""
        return (f"{whole}numbers" if many else f"a {whole}number") + _range(node)
    if isinstance(node, inspect.StrType):
        limit = f" of at most {node.max_length} characters" if node.max_length else ""
        return ("texts" if many else "a text in quotes") + limit
    if isinstance(node, inspect.BoolType):
        return "true or false"
    if isinstance(node, inspect.LiteralType):
        return "one of " + ", ".join(f'"{choice}"' for choice in node.values)
    if isinstance(node, inspect.UnionType):
        return " or ".join(_expected(choice) for choice in node.types)
    if isinstance(node, inspect.TupleType):
        count = len(node.item_types)
        form = ", ".join("…" for _ in range(count))
        return f"a list [{form}] of {count} {_expected(node.item_types[0], many=True)}" if count else "[]"
    if isinstance(node, inspect.ListType | inspect.VarTupleType):
        least, most = node.min_length or 0, node.max_length
        size = f"{least} to {most} " if most else (f"at least {least} " if least else "")
        return ("lists" if many else "a list") + f" of {size}{_expected(node.item_type, many=True)}"
    if isinstance(node, inspect.StructType) and not many:
        return "a table with " + ", ".join(field.encode_name for field in node.fields if field.required)
    return "tables" if many else "a table"


def _range(node: Any) -> str:
    low = node.ge if node.ge is not None else node.gt
    high = node.le if node.le is not None else node.lt
    if node.ge is not None and node.le is not None:
        return f" from {low:g} to {high:g}"
    parts = []
    if low is not None:
        parts.append(f"of at least {low:g}" if node.ge is not None else f"above {low:g}")
    if high is not None:
        parts.append(f"of at most {high:g}" if node.le is not None else f"below {high:g}")
    return " " + " and ".join(parts) if parts else ""


def _kind(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return f"the number {clip(str(value), 40)}"
    if isinstance(value, str):
        return f'the text "{clip(value, 40)}"'
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if isinstance(value, dict):
        return "a table"
    return "a date or time"


# -- where a key stands ------------------------------------------------------------------------


def _join(parent: str, name: str) -> str:
    shown = clip(name, 60)
    part = shown if _BARE.fullmatch(shown) else f'"{shown}"'
    return f"{parent}.{part}" if parent else part


def _place(text: str, key: str) -> str:
    line = _line_of(text, key)
    return f"key {key}" + (f" (line {line})" if line else "")


def _line_of(text: str, key: str) -> int | None:
    """Find the line of a key, or of the nearest table or key around it that has one."""
    best: tuple[int, int] | None = None
    table, in_text = "", False
    counts: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), start=1):
        if not in_text:
            here = None
            if header := _HEADER.match(line):
                table = _path("", header[2])
                if header[1] == "[[":
                    counts[table] = counts.get(table, 0) + 1
                    table = f"{table}[{counts[table]}]"
                here = table
            elif assignment := _ASSIGNMENT.match(line):
                here = _path(table, assignment[1])
            if here and (
                key == here or key.startswith((here + ".", here + "[")) or here.startswith(key + ".")
            ):
                size = len(here) if len(here) <= len(key) else 0
                if best is None or size > best[0]:
                    best = (size, number)
        if (line.count('"""') + line.count("'''")) % 2:
            in_text = not in_text
    return best[1] if best else None


def _path(parent: str, written: str) -> str:
    for part in _KEY_PART.finditer(written):
        parent = _join(parent, part[1] or part[2] or part[3] or "")
    return parent
