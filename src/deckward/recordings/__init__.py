"""Reading flight recordings: the only part that parses flight files."""

from __future__ import annotations

from pathlib import Path

from deckward.recordings.columns import ColumnMap, FileOptions, Rule, UnknownColumns
from deckward.recordings.drafted import Draft
from deckward.recordings.model import Recording
from deckward.recordings.opening import open_recording

__all__ = [
    "ColumnMap",
    "Draft",
    "FileOptions",
    "Recording",
    "Rule",
    "UnknownColumns",
    "draft_column_map",
    "has_columns",
    "names_of_columns",
    "needs_column_map",
    "open_recording",
    "read_column_map",
    "write_column_map",
]


def read_column_map(path: str | Path) -> ColumnMap:
    """Read a column map (TOML: ``[file]``, ``[[column]]``).

    Raises:
        InputError: it cannot be read, or a key is unknown, missing or of the wrong kind,
            or a question in it is still open.
    """
    from deckward.recordings.column_map import read

    return read(path)


def write_column_map(column_map: ColumnMap) -> str:
    """Write a column map as the TOML text that :func:`read_column_map` reads."""
    from deckward.recordings.column_map import written

    return written(column_map)


def draft_column_map(
    path: str | Path, *, of_ship: bool | None = None, like: ColumnMap | None = None
) -> Draft:
    """Draft the column map of a recording whose names are not ours; see ``recogniser.drafting``.

    ``of_ship`` says whether it is a recording of the ship alone; None: told by how it moves. ``like`` is the
    map of another file of the same recorder: columns of the same name are in the same unit.

    Raises:
        InputError: it cannot be read as a table.
    """
    from deckward.recordings.recogniser.drafting import draft

    return draft(path, of_ship=of_ship, like=like)


def names_of_columns(path: str | Path) -> tuple[str, ...]:
    """Give the names of a table's columns, as they stand in the file.

    Raises:
        InputError: it cannot be read as a table.
    """
    from deckward.recordings.content import Content
    from deckward.recordings.recogniser.sample import column_names

    return column_names(Content(path))


def has_columns(path: str | Path) -> bool:
    """Tell whether a recording is a table, whose columns have names.

    Raises:
        InputError: it cannot be read at all.
    """
    from deckward.recordings.content import Content
    from deckward.recordings.formats import find_format
    from deckward.recordings.recogniser.sample import TABLES

    return find_format(Content(path)).name in TABLES


def needs_column_map(path: str | Path, *, of_ship: bool = False) -> bool:
    """Tell whether a table's own names leave its time, position or (a ship's) heading unknown.

    Raises:
        InputError: it cannot be read as a table.
    """
    from deckward.recordings.recogniser.drafting import is_foreign

    return is_foreign(path, of_ship=of_ship)
