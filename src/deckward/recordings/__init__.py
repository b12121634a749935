"""Reading flight recordings: the only part that parses flight files."""

from __future__ import annotations

from pathlib import Path

from deckward.recordings.columns import ColumnMap, FileOptions, Rule
from deckward.recordings.model import Recording
from deckward.recordings.opening import open_recording

__all__ = ["ColumnMap", "FileOptions", "Recording", "Rule", "open_recording", "read_column_map"]


def read_column_map(path: str | Path) -> ColumnMap:
    """Read a column map (TOML: ``[file]``, ``[[column]]``).

    Raises:
        InputError: it cannot be read, or a key is unknown, missing or of the wrong kind,
            or a question in it is still open.
    """
    from deckward.recordings.column_map import read

    return read(path)
