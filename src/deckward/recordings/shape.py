"""How a delimited table of unknown names is laid out: told by the shape of its lines alone."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Sequence

from msgspec import Struct

from deckward.recordings.quantities import Meaning, understand

COMMENT = ("#", "%", "//")
DELIMITERS = ",;\t| "

_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?$")
_WRITTEN = re.compile(
    r"(\d{1,2}:\d{2}(:\d{2})?([.,]\d+)?Z?$|\d{4}-?\d{2}-?\d{2}|\d{1,2}[./-]\d{1,2}[./-]\d{2,4})"
    r"|[NSEW]?\s*\d{1,3}[°:\s].*\d|\d+(\.\d+)?\s*[NSEW]$"
)
_EMPTY = ("", "-", "--", "nan", "na", "n/a", "null", "none")
#: share of a line of units that must be units
_MOSTLY = 0.75
#: lines looked at for what separates cells
_LOOKED_AT = 40
#: rows a second, or seconds a row, as people write them above a table
_HERTZ = re.compile(
    r"(\d+(?:[.,]\d+)?)\s*(?:hz\b|hertz\b|(?:samples?|rows?|records?|frames?|lines?)\s*(?:/|per|a|an)\s*s)",
    re.IGNORECASE,
)
_HERTZ_BEHIND = re.compile(
    r"(?:\bhz|hertz|rate)\b[\s\w()\[\]]{0,14}[:=]\s*(\d+(?:[.,]\d+)?)\s*(?:hz|/s|$|[;,|}])", re.IGNORECASE
)
_PERIOD = re.compile(
    r"\b(?:dt|delta t|step|interval|period|every)\b[\s\w()\[\]]{0,14}[:=]?\s*(\d+(?:[.,]\d+)?)\s*(ms|s)\b",
    re.IGNORECASE,
)
#: how long a tick is: one tick = 1/60 s, 1000 ticks per second, tick: 16 ms
_TICK_OF = re.compile(r"\bticks?\b\D{0,12}1\s*/\s*(\d+(?:[.,]\d+)?)\s*(?:s\b|of a second)", re.IGNORECASE)
_TICKS = re.compile(r"(\d+(?:[.,]\d+)?)\s*ticks?\s*(?:/|per|a|in a)\s*s", re.IGNORECASE)
_TICK = re.compile(r"\bticks?\b\D{0,12}?(\d+(?:[.,]\d+)?)\s*(ms|us|s)\b", re.IGNORECASE)
#: rates that recorders have, Hz
_SLOWEST, _FASTEST = 0.2, 1000.0


class Shape(Struct, frozen=True):
    """Indices of the line of names and of the line of units under it, and what parts cells."""

    header: int
    delimiter: str
    units: int | None


def split_line(line: str, delimiter: str) -> list[str]:
    """Split one line into its cells, without the blanks around them."""
    if delimiter == " ":
        return line.split()
    try:
        cells = next(csv.reader([line], delimiter=delimiter, skipinitialspace=True), [])
    except csv.Error:
        cells = line.split(delimiter)
    return [cell.strip() for cell in cells]


def told_apart(names: Sequence[str], groups: Sequence[str] = ()) -> tuple[str, ...]:
    """Give names that stand several times, and that are none of ours, names of their own.

    The word for the group that stands over them goes before them; without one the second is ``name ~2``.

    >>> told_apart(["t", "Breite", "Breite"], ["", "Jet", "Schiff"])
    ('t', 'Jet Breite', 'Schiff Breite')
    """
    twice = {name for name in names if name and list(names).count(name) > 1}
    twice = {name for name in twice if not isinstance(understand(name), Meaning)}
    if not twice:
        return tuple(names)
    grouped = [
        f"{group} {name}".strip() for name, group in zip(names, groups or [""] * len(names), strict=True)
    ]
    told: list[str] = []
    for name, full in zip(names, grouped, strict=True):
        if name not in twice:
            told.append(name)
            continue
        own = full if grouped.count(full) == 1 else name
        told.append(own if own not in told else f"{own} ~{list(names)[: len(told)].count(name) + 1}")
    return tuple(told)


def uncommented(line: str) -> str:
    """Take a comment's mark off a line."""
    return line.lstrip("#%/ ") if line.startswith(COMMENT) else line


def rate_said(lines: Sequence[str]) -> float | None:
    """Read how many rows a second there are from remarks such as ``# 25 Hz``; None without, or of several."""
    found = set()
    for line in (re.sub(r"[_\"']", " ", each) for each in lines):
        found |= {
            float(each.replace(",", ".")) for each in (*_HERTZ.findall(line), *_HERTZ_BEHIND.findall(line))
        }
        for number, unit in _PERIOD.findall(line):
            step = float(number.replace(",", ".")) * (1e-3 if unit.casefold() == "ms" else 1.0)
            found |= {round(1.0 / step, 6)} if step > 0.0 else set()
    return found.pop() if len(found) == 1 and _SLOWEST <= min(found) <= _FASTEST else None


def tick_said(lines: Sequence[str]) -> float | None:
    """Read how long a tick is, s, from remarks such as ``# one tick = 1/60 s``; None without one."""
    found = set()
    for line in (re.sub(r"[_\"']", " ", each) for each in lines):
        of = [*_TICK_OF.findall(line), *_TICKS.findall(line)]
        found |= {1.0 / float(each.replace(",", ".")) for each in of if float(each.replace(",", ".")) > 0.0}
        if not of:
            scale = {"ms": 1e-3, "us": 1e-6, "s": 1.0}
            found |= {float(n.replace(",", ".")) * scale[unit.casefold()] for n, unit in _TICK.findall(line)}
    return found.pop() if len(found) == 1 else None


def is_value(cell: str) -> bool:
    """Tell whether a cell is a number (with a point or a comma), a time or a place."""
    return bool(_NUMBER.match(cell) or _WRITTEN.match(cell))


def _row_of_values(cells: Sequence[str]) -> bool:
    present = [cell for cell in cells if cell.casefold() not in _EMPTY]
    return bool(present) and 2 * sum(map(is_value, present)) >= len(present)


def _bare(cells: Sequence[str]) -> list[str]:
    return list(cells[:-1]) if cells and not cells[-1] else list(cells)


def find_shape(
    lines: Sequence[str], is_unit: Callable[[str], bool], *, delimiter: str | None = None
) -> Shape | None:
    """Find the names of a table whose names say nothing: the last words above even rows of values.

    Args:
        lines: the first lines of the file.
        is_unit: tells whether a cell is nothing but a unit.
        delimiter: what parts cells, where it is known.
    """
    best: tuple[float, Shape] | None = None
    for mark in delimiter or DELIMITERS:
        found = _with_delimiter(lines, mark, is_unit)
        if found is not None and (best is None or found[0] > best[0]):
            best = found
    return best[1] if best else None


def _with_delimiter(lines, mark: str, is_unit) -> tuple[float, Shape] | None:
    rows = [(i, _bare(split_line(line, mark))) for i, line in enumerate(lines) if line.strip()]
    values = [(i, cells) for i, cells in rows if not lines[i].startswith(COMMENT) and _row_of_values(cells)]
    if not values:
        return None
    widths = [len(cells) for _, cells in values[:_LOOKED_AT]]
    width = max(set(widths), key=widths.count)
    if width < 2:
        return None
    first = next(i for i, cells in values if len(cells) == width)
    above = [
        (i, cells)
        for i, cells in ((i, _bare(split_line(uncommented(lines[i]), mark))) for i in range(first))
        if abs(len(cells) - width) <= (mark != " ") * 1 and sum(bool(c) for c in cells) * 2 >= width
        if not _row_of_values(cells)
    ]
    if not above:
        return None
    plain = [row for row in above if not lines[row[0]].startswith(COMMENT)] or above
    header, units = plain[-1][0], None
    if len(plain) > 1 and plain[-2][0] == header - 1 and _mostly_units(plain[-1][1], is_unit):
        header, units = header - 1, header
    even = widths.count(width) / len(widths)
    share = sum(is_value(c) for _, cells in values[:_LOOKED_AT] for c in cells) / max(1, sum(widths))
    return even * share * min(width, 12) ** 0.5, Shape(header, mark, units)


def _mostly_units(cells: Sequence[str], is_unit: Callable[[str], bool]) -> bool:
    """Whether the cells are units but for a few, such as ``ND`` or a scale's own name."""
    return sum(map(is_unit, cells)) >= _MOSTLY * len(cells)


def units_under(lines: Sequence[str], header: int, delimiter: str, is_unit) -> int | None:
    """Give the index of a line of units right under the names, None where there is none."""
    below = header + 1
    if below >= len(lines) or not lines[below].strip():
        return None
    cells = _bare(split_line(uncommented(lines[below]), delimiter))
    if len(cells) < 2 or _row_of_values(cells) or not _mostly_units(cells, is_unit):
        return None
    return below if sum(bool(c) for c in cells) * 2 >= len(cells) else None
