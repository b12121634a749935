"""Reading a column map: a TOML file that says what each column of a recording holds."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from deckward.foundation.documents import Problem, load, nearest
from deckward.recordings.columns import IGNORE, ColumnMap, FileOptions, Rule
from deckward.recordings.quantities import BY_NAME, SHIP_PREFIX, spellings, split_prefix, unit_of


def _about(description: str, **limits):
    return Meta(description=description, **limits)


class _File(msgspec.Struct, forbid_unknown_fields=True):
    delimiter: (
        Annotated[str, _about("what stands between cells, one character", min_length=0, max_length=1)] | None
    ) = None
    decimal: Literal[".", ","] | None = None
    encoding: Annotated[str, _about('such as "utf-8" or "cp1252"')] | None = None
    header_lines: (
        Annotated[int, _about("lines up to and with the one of the columns' names; 0: none", ge=0)] | None
    ) = None
    time_format: Annotated[str, _about("a strftime pattern for times written as text")] | None = None
    rate_hz: (
        Annotated[float, _about("rows a second, where no column holds the time", gt=0.0, le=1000.0)] | None
    ) = None


class _Column(msgspec.Struct, forbid_unknown_fields=True):
    source: Annotated[str, _about("the column's name in the file", min_length=1)]
    quantity: Annotated[str, _about('what it holds, or "ignore"', min_length=1)]
    unit: Annotated[str, _about("the unit's suffix")] | None = None
    sign: Literal[1, -1] = 1
    confidence: Annotated[float, _about("how sure the draft is", ge=0.0, le=1.0)] | None = None
    why: str | None = None
    asked: bool = False


class _Document(msgspec.Struct, forbid_unknown_fields=True):
    file: _File = msgspec.field(default_factory=_File)
    column: list[_Column] = msgspec.field(default_factory=list)


def read(path: str | Path) -> ColumnMap:
    """Read a column map (TOML: ``[file]``, ``[[column]]``).

    Raises:
        InputError: it cannot be read, or a key is unknown, missing or of the wrong kind,
            or a question in it is still open.
    """
    document = load(path, _Document, check=_check)
    return ColumnMap(
        columns=tuple(Rule(**msgspec.structs.asdict(column)) for column in document.column),
        file=FileOptions(**msgspec.structs.asdict(document.file)),
        path=str(path),
    )


def written(column_map: ColumnMap) -> str:
    """Write a column map as TOML text that :func:`read` reads back."""
    lines = ["# What each column of a recording holds. Look it over; deckward debrief --map FILE uses it."]
    file = {
        name: value
        for name in _File.__struct_fields__
        if (value := getattr(column_map.file, name)) is not None
    }
    if file:
        lines += ["", "[file]", *(f"{name} = {_toml(value)}" for name, value in file.items())]
    for rule in column_map.columns:
        lines += ["", "[[column]]"]
        for name in _Column.__struct_fields__:
            value = getattr(rule, name)
            if value is not None and not (rule.quantity == IGNORE and name == "sign"):
                lines.append(f"{name} = {_toml(value)}")
    return "\n".join(lines) + "\n"


def _toml(value: str | float | bool) -> str:
    """Write one value; the escapes of JSON are TOML's."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def _check(document: _Document) -> Iterator[Problem]:
    seen: set[str] = set()
    known = [*BY_NAME, *(SHIP_PREFIX + name for name in BY_NAME if name != "who"), IGNORE]
    for number, column in enumerate(document.column, start=1):
        key = f"column[{number}]"
        if column.source in seen:
            yield Problem(
                f"{key}.source", f"{column.source!r} stands here twice.", "Keep one [[column]] for it."
            )
        seen.add(column.source)
        if column.asked:
            remedy = "Decide its quantity and unit, then set asked = false."
            yield Problem(f"{key}.asked", f"what {column.source!r} holds is still an open question.", remedy)
        if column.quantity not in known:
            like = nearest(column.quantity, known)
            remedy = f"Did you mean {like!r}?" if like else f"Known: {', '.join(BY_NAME)}; {IGNORE}."
            yield Problem(f"{key}.quantity", f"unknown quantity {column.quantity!r}.", remedy)
            continue
        bare = split_prefix(column.quantity)[1]
        if column.quantity == IGNORE or bare == "who" or (bare == "time" and not column.unit):
            continue
        if unit_of(bare, column.unit) is None:
            problem = f"{column.unit!r} is no unit of {bare}." if column.unit else f"{bare} needs a unit."
            yield Problem(f"{key}.unit", problem, f"Give the suffix alone, as in {spellings(bare)}.")
