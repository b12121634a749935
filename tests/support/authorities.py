"""Reads the tables of ``authorities/``: published values as they were typed in, with their units.

A table is ``authorities/NAME/table.csv``. Its first two columns are ``id``, the row's name in test
reports, and ``standing``, how surely the row is known. A heading with a unit in brackets, such as
``height [ft]``, holds numbers; any other holds text. An empty cell is None. Tests name columns by
their whole heading, so that a unit mistaken is a column not found.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from pathlib import Path

import pytest

FOLDER = Path(__file__).resolve().parents[2] / "authorities"
STANDINGS = {
    "confirmed",
    "confirmed-secondary",
    "derived",
    "memory-high",
    "memory-medium",
    "memory-low",
    "memory",
}
UNIT = re.compile(r".+ \[.+\]")


class TableError(ValueError):
    """A table that cannot be read: the file, the line, and what is wrong there."""


@dataclass(frozen=True)
class Row:
    """A row; ``row["height [ft]"]`` is the cell under that heading."""

    where: str
    cells: dict[str, float | str | None]

    def __getitem__(self, heading: str):
        if heading not in self.cells:
            raise TableError(f"{self.where}: no column {heading!r}; there are {', '.join(self.cells)}")
        return self.cells[heading]


def rows(name: str, *, folder: Path = FOLDER) -> dict[str, Row]:
    """Rows of a table by their id, in the order of the file."""
    path = folder / name / "table.csv"
    place = f"{folder.name}/{name}/table.csv"
    if not path.is_file():
        raise TableError(f"{place}: there is no such file")
    with path.open(encoding="utf-8", newline="") as file:
        lines = csv.reader(file, strict=True)
        headings = next(lines, [])
        if headings[:2] != ["id", "standing"] or len(set(headings)) < len(headings):
            raise TableError(f"{place}:1: headings start with id,standing, and none stands twice")
        found: dict[str, Row] = {}
        for cells in lines:
            where = f"{place}:{lines.line_num}"
            row = Row(where, _read(cells, headings, where))
            key = row.cells["id"]
            if not isinstance(key, str) or key in found:
                raise TableError(f"{where}: the id is empty or stands twice")
            found[key] = row
    if not found:
        raise TableError(f"{place}: there are no rows")
    return found


def each(name: str, /, **columns: str):
    """Parametrize a test by the rows of a table: an argument for each column named, or ``row`` for all."""
    table = rows(name)
    if not columns:
        return pytest.mark.parametrize("row", [pytest.param(row, id=key) for key, row in table.items()])
    values = [
        pytest.param(*(row[heading] for heading in columns.values()), id=key) for key, row in table.items()
    ]
    return pytest.mark.parametrize(tuple(columns), values)


def _read(cells: list[str], headings: list[str], where: str) -> dict[str, float | str | None]:
    if len(cells) != len(headings):
        raise TableError(f"{where}: {len(cells)} cells, {len(headings)} headings")
    read: dict[str, float | str | None] = {}
    for heading, cell in zip(headings, cells, strict=True):
        read[heading] = cell or None
        if cell and UNIT.fullmatch(heading):
            try:
                read[heading] = float(cell)
            except ValueError as error:
                raise TableError(f"{where}: {heading}: {cell!r} is no number") from error
    standings = set(str(read["standing"]).split("+"))
    if standings - STANDINGS:
        raise TableError(f"{where}: standing {read['standing']!r}; known are {', '.join(sorted(STANDINGS))}")
    return read
