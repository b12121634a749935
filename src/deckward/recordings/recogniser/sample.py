"""A few thousand rows of a table, as numbers where they are numbers: enough to tell its columns by."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from typing import NoReturn

import numpy as np
from msgspec import Struct
from msgspec.structs import force_setattr, replace

from deckward.recordings.cells import LARGEST, NO_VALUE, WITH_UNIT, WORDS, not_too_wide
from deckward.recordings.columns import FileOptions
from deckward.recordings.content import Content
from deckward.recordings.formats import find_format
from deckward.recordings.geographic import degrees_in
from deckward.recordings.shape import rate_said, split_line

#: rows looked at, from the whole length of the file
MOST_ROWS = 3000
#: formats whose columns are drafted
TABLES = ("csv", "json-lines", "parquet")


class SampledColumn(Struct, frozen=True):
    """A column: its place and name, the unit row's cell, and the rows that were looked at.

    ``numbers`` is NaN where a cell holds none. ``texts`` are the cells as written, None where
    the file holds typed numbers. ``kind`` is "number", "place" (degrees and minutes in text),
    "words" (of a switch), "text" or "empty".
    """

    index: int
    name: str
    unit_row: str
    numbers: np.ndarray
    texts: tuple[str, ...] | None
    kind: str
    #: what stands over it and its neighbours
    group: str = ""

    @property
    def said(self) -> str:
        """All the words that name it: its group's and its own."""
        known = not self.group or self.name.startswith(self.group)
        return self.name if known else f"{self.group} {self.name}"

    def __post_init__(self) -> None:
        # infinite ones among them: what no quantity in any unit reaches is no number
        force_setattr(self, "numbers", np.where(np.abs(self.numbers) <= LARGEST, self.numbers, np.nan))

    @property
    def known(self) -> np.ndarray:
        """The numbers there are."""
        return self.numbers[np.isfinite(self.numbers)]

    @property
    def constant(self) -> bool:
        """Whether it holds one number only."""
        return self.known.size > 0 and float(np.ptp(self.known)) == 0.0


class Sample(Struct, frozen=True):
    """Rows of a table; ``every`` is how many rows of the file one of them stands for.

    ``rate_said`` is how many rows a second a remark above the table speaks of, ``tick_said`` how long a tick
    is, s; None without one.
    """

    columns: tuple[SampledColumn, ...]
    rows: int
    every: int
    options: FileOptions
    rate_said: float | None = None
    tick_said: float | None = None


def column_names(content: Content) -> tuple[str, ...]:
    """Give the names of a table's columns.

    Raises:
        InputError: it is no table that can be read.
    """
    if find_format(content).name == "csv":
        from deckward.recordings.delimited import Headless, find_layout

        try:
            return find_layout(content, FileOptions()).names
        except Headless:
            return find_layout(content, FileOptions(header_lines=0)).names
    return tuple(column.name for column in take_sample(content, FileOptions()).columns)


def take_sample(content: Content, options: FileOptions) -> Sample:
    """Look at rows spread evenly over a file.

    Raises:
        InputError: it is no table that can be read, or has no rows.
    """
    reader = find_format(content)
    if reader.name == "csv":
        return _of_text(content, options)
    if reader.name == "json-lines":
        quick = _of_json_lines(content, options)
        if quick is not None:
            return quick
    return _of_table(content, reader, options)


def _of_text(content: Content, options: FileOptions) -> Sample:
    from deckward.recordings.delimited import body_lines, find_layout

    layout = find_layout(content, options)
    lines = [line for _, line in body_lines(content, layout)]
    every = -(-len(lines) // MOST_ROWS)
    width = len(layout.names)
    rows = []
    for line in lines[:: max(1, every)]:
        text = line.decode("utf-8", "replace")
        plain = '"' not in text and layout.delimiter != " "
        cells = text.split(layout.delimiter) if plain else split_line(text, layout.delimiter)
        if len(cells) in (width, width + 1) and not (len(cells) > width and cells[-1].strip()):
            rows.append(cells[:width])
    if not rows:
        _explain_no_rows(content, layout, lines)
    units = (*layout.unit_row, *[""] * width)
    columns = [
        _column(i, name, units[i], [cell.strip() for cell in cells], comma=layout.decimal_comma)
        for i, (name, cells) in enumerate(zip(layout.names, zip(*rows, strict=True), strict=True))
        if name.strip()
    ]
    if layout.groups:
        columns = [replace(column, group=layout.groups[column.index]) for column in columns]
    return Sample(tuple(columns), len(rows), max(1, every), options, layout.rate_said, layout.tick_said)


def _explain_no_rows(content: Content, layout, lines: Sequence[bytes]) -> NoReturn:
    """Stop: there are no rows, or they have other cells than there are names."""
    if not lines:
        raise content.error(
            "names its columns but holds no rows.", remedy="Record again, or give another file."
        )
    cells = len(split_line(lines[0].decode("utf-8", "replace"), layout.delimiter))
    raise content.error(
        f"names {len(layout.names)} columns, but its rows hold {cells} cells.",
        place=f"line {layout.header + 1}",
        remedy=f"Put a name that holds {layout.delimiter!r} between quotes, and give each column one name.",
    )


def _of_json_lines(content: Content, options: FileOptions) -> Sample | None:
    """Read a few lines of many; None where they are no lines of objects."""
    from deckward.recordings.json_lines import flat

    lines = [line for line in content.read().removeprefix(b"\xef\xbb\xbf").splitlines() if line.strip()]
    every = -(-len(lines) // MOST_ROWS)
    rows = []
    for line in lines[:: max(1, every)]:
        try:
            row = json.loads(line)
        except (ValueError, RecursionError):
            continue
        if isinstance(row, dict):
            rows.append(flat(row))
    if len(rows) < 2:
        return None
    names = dict.fromkeys(name for row in rows for name in row)
    not_too_wide(content, names)
    columns = [_column(i, name, "", [row.get(name) for row in rows]) for i, name in enumerate(names)]
    return Sample(tuple(columns), len(rows), max(1, every), options)


def _of_table(content: Content, reader, options: FileOptions) -> Sample:
    """Load a table whole and look at some of it."""
    table = reader.open(content, options)
    cells = table.load([], range(len(table.names)))
    every = max(1, -(-cells.rows // MOST_ROWS))
    columns = []
    for i, name in enumerate(table.names):
        held = cells.take(i)
        if isinstance(held, list):
            held = np.concatenate(held)
        held = held[::every]
        values = held.tolist() if isinstance(held, np.ndarray) else held.to_list()
        columns.append(_column(i, name, "", values))
    rows = -(-cells.rows // every)
    return Sample(tuple(columns), rows, every, options, _rate_beside(content, reader.name))


def _rate_beside(content: Content, reader: str) -> float | None:
    """Read the rows a second that stand in front of the samples in one JSON object."""
    if reader != "json-lines":
        return None
    return rate_said([content.head.decode("utf-8", "replace").partition("[")[0]])


def _column(index: int, name: str, unit_row: str, cells: Sequence, *, comma: bool = False) -> SampledColumn:
    """Turn cells into numbers, and say what kind they are."""
    if all(cell is None or isinstance(cell, (int, float)) for cell in cells):
        from deckward.recordings.json_lines import as_float

        numbers = np.array([np.nan if cell is None else as_float(cell) for cell in cells])
        kind = "number" if np.isfinite(numbers).any() else "empty"
        return SampledColumn(index, name, unit_row, numbers, None, kind)
    texts = tuple("" if cell is None else cell if isinstance(cell, str) else str(cell) for cell in cells)
    plain = [text.replace(",", ".") for text in texts] if comma else texts
    try:
        return SampledColumn(index, name, unit_row, np.array(plain, dtype=float), texts, "number")
    except ValueError:
        pass
    numbers = np.array([_number(text) for text in plain])
    present = [text for text in plain if text.casefold() not in ("", *NO_VALUE)]
    found = int(np.isfinite(numbers).sum())
    if present and not found and (unit := _unit_behind(present)) is not None:
        bare = [re.match(WITH_UNIT, text) for text in plain]
        numbers = np.array([float(cell[1]) if cell is not None else np.nan for cell in bare])
        return SampledColumn(index, name, unit_row or unit, numbers, texts, "number")
    if not present:
        kind = "empty"
    elif 2 * found > len(present):
        kind = "number"
    elif all(text.casefold() in WORDS for text in present):
        kind = "words"
    else:
        places = np.array([degrees_in(text) for text in plain])
        clock = sum(":" in text for text in present[:50]) * 2 > len(present[:50]) and not any(
            letter in present[0].upper() for letter in "NSEW"
        )
        kind = "place" if np.isfinite(places).sum() * 2 > len(present) and not clock else "text"
        numbers = places if kind == "place" else numbers
    return SampledColumn(index, name, unit_row, numbers, texts, kind)


def _unit_behind(cells: Sequence[str]) -> str | None:
    """Give the unit that stands behind the number in every cell; None where there is none."""
    from deckward.recordings.recogniser.names import is_unit

    found = [re.match(WITH_UNIT, cell) for cell in cells]
    tails = {cell[2].strip() for cell in found if cell is not None}
    # a capital S is the letter of a hemisphere
    alone = len(tails) == 1 and all(cell is not None for cell in found)
    return next((tail for tail in tails if alone and is_unit(tail) and tail != "S"), None)


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return np.nan
