"""The cells of a table, turned into numbers one column at a time.

A reader gives a :class:`Table`: the names of its columns and a way to load some of
them. What a cell holds that is no number becomes NaN and a note; a column that mostly
holds none stops the work. Columns leave the table as they are asked for, so that a
long recording is never held twice.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from typing import Any

import numpy as np
from msgspec import Struct, field

from deckward.errors import InputError, Note
from deckward.recordings.content import Content

#: cells that say "no value", any case, beside the empty cell
NO_VALUE = ("na", "n/a", "nan", "null", "none", "nil", "-", "--", "---", "#n/a", "inf", "-inf", "+inf")
#: no quantity in any unit is larger (time since 1970 in nanoseconds is 2e18)
LARGEST = 1e19
#: a thousand are many; a file with more is no recording, or several side by side
MOST_COLUMNS = 2000
#: a switch in words: what is out, down or on, and what is not; English, German, French, Spanish, Italian
WORDS = {
    **dict.fromkeys(
        ("true", "yes", "on", "down", "dn", "extended", "ext", "out", "deployed", "lowered"), "1"
    ),
    **dict.fromkeys(("false", "no", "off", "up", "retracted", "retr", "in", "stowed", "raised"), "0"),
    **dict.fromkeys(("ja", "ein", "an", "ausgefahren", "unten", "sorti", "sortie", "oui"), "1"),
    **dict.fromkeys(("nein", "eingefahren", "oben", "rentré", "rentrée", "rentre", "rentree", "non"), "0"),
    **dict.fromkeys(("sí", "si", "abajo", "fuera", "extendido", "sì", "giù", "giu", "fuori", "esteso"), "1"),
    **dict.fromkeys(("arriba", "dentro", "retraído", "retraido", "su", "retratto"), "0"),
}
#: a number with its unit in the same cell
WITH_UNIT = r"^([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([^\d\s.,;:+-][^\d]*)$"


class Cells(Struct):
    """Loaded columns by their index in the file: polars series, numpy arrays or lists of them.

    ``computed`` of the rows were put in by the reader, not recorded. ``lines`` gives the
    line (or row) of the file each row stands on; None where rows simply follow one
    another from ``first_line``.
    """

    content: Content
    columns: dict[int, Any]
    rows: int
    notes: list[Note] = field(default_factory=list)
    lines: np.ndarray | None = None
    first_line: int = 1
    line_word: str = "line"
    computed: int = 0
    doubt: Mapping[str, np.ndarray] = field(default_factory=dict)

    def place(self, row: int) -> str:
        """Say where a row stands in the file."""
        line = self.first_line + row if self.lines is None else int(self.lines[row])
        return f"{self.line_word} {line}"

    def take(self, index: int) -> Any:
        """Give a column as it was loaded, and let go of it."""
        return self.columns.pop(index)

    def number(
        self, index: int, name: str, *, words: bool = False, degrees: bool = False, unit: str = ""
    ) -> np.ndarray:
        """Give a column as numbers, NaN where there is none, and let go of it.

        ``words`` lets a switch be written as true/false, on/off, up/down; ``degrees`` lets a
        place be written in degrees and minutes, with the letter of its hemisphere; ``unit`` lets
        that unit stand behind the number in each cell.

        Raises:
            InputError: more than half of the cells hold something that is no number.
        """
        column = self.take(index)
        if isinstance(column, list):
            column = column[0] if len(column) == 1 else np.concatenate(column)
        if not isinstance(column, np.ndarray):
            column = self._floats(column, name, words=words, degrees=degrees, unit=unit)
        return self._bounded(np.asarray(column, dtype=float), name)

    def _bounded(self, values: np.ndarray, name: str) -> np.ndarray:
        """Mask numbers that nothing here can reach, infinite ones among them."""
        if not values.size or max(np.fmax.reduce(values), -np.fmin.reduce(values)) <= LARGEST:
            return values
        beyond = np.abs(values) > LARGEST
        count = int(np.count_nonzero(beyond))
        if not count:
            return values
        where = self.place(int(np.argmax(beyond)))
        cells = "cell is past all range and counts" if count == 1 else "cells are past all range and count"
        self.notes.append(
            Note(
                "impossible-values",
                f"{name}: {count} {cells} as missing, first on {where}.",
            )
        )
        return np.where(beyond, np.nan, values)

    def _floats(self, series, name: str, *, words: bool, degrees: bool, unit: str) -> np.ndarray:
        import polars as pl

        if series.dtype == pl.String:
            series = self._parsed(series, name, words=words, degrees=degrees, unit=unit)
        elif series.dtype == pl.Null:
            return np.full(len(series), np.nan)
        elif not (series.dtype.is_numeric() or series.dtype == pl.Boolean):
            raise self.content.error(
                f"holds {str(series.dtype).lower()} values, not numbers.",
                place=f"column {name!r}",
                remedy="Write it as a plain number column.",
            )
        if series.dtype == pl.Float32:
            return series.to_numpy().astype(float)
        return series.cast(pl.Float64).to_numpy()

    def _parsed(self, series, name: str, *, words: bool, degrees: bool, unit: str):
        import polars as pl

        text = series.str.strip_chars()
        numbers = text.cast(pl.Float64, strict=False)
        doubtful = text.is_not_null() & numbers.is_null() & (text != "")
        if not doubtful.any():
            return numbers
        low = text.str.to_lowercase()
        if words:
            spoken = low.replace(WORDS).cast(pl.Float64, strict=False)
            numbers = pl.select(pl.coalesce(numbers, spoken)).to_series()
        if unit:
            numbers = pl.select(pl.coalesce(numbers, _before_unit(text, unit))).to_series()
        if degrees:
            from deckward.recordings.geographic import degrees_in

            left = text.to_frame().select(pl.when(doubtful).then(text)).to_series().to_list()
            spelt = [degrees_in(cell) if cell else None for cell in left]
            numbers = numbers.fill_null(pl.Series(spelt, dtype=pl.Float64).fill_nan(None))
        bad = (doubtful & numbers.is_null() & ~low.is_in(list(NO_VALUE))).to_numpy()
        count = int(bad.sum())
        if count:
            first = int(np.argmax(bad))
            shown = _shown(text[first])
            present = int(numbers.is_not_null().sum())
            if count > present:
                raise self.content.error(
                    f"{shown} is no number ({count} of {count + present} cells are none).",
                    place=f"{self.place(first)}, column {name!r}",
                    remedy=_advice(text[first]),
                )
            cells = "cell holds no number and counts" if count == 1 else "cells hold no number and count"
            self.notes.append(
                Note(
                    "unreadable-cells",
                    f"{name}: {count} {cells} as missing, first on {self.place(first)} ({shown}).",
                )
            )
        return numbers


def _before_unit(text, unit: str):
    """Give the numbers of cells that carry a unit behind them (``152 kt``); null where it is another one."""
    import polars as pl

    from deckward.foundation.units import BY_SUFFIX
    from deckward.recordings.recogniser.names import unit_in

    parts = text.str.extract_groups(WITH_UNIT).struct.unnest()
    numbers, tails = parts.to_series(0), parts.to_series(1)
    dimension = BY_SUFFIX[unit].dimension
    spelt = [tail for tail in tails.drop_nulls().unique().to_list() if unit_in(tail, dimension) == unit]
    return pl.select(pl.when(tails.is_in(spelt)).then(numbers)).to_series().cast(pl.Float64, strict=False)


def _shown(cell: str) -> str:
    return repr(cell if len(cell) <= 30 else f"{cell[:27]}...")


def _advice(cell: str) -> str:
    if "," in cell and cell.replace(",", "").replace(".", "").lstrip("+-").isdigit():
        return "Write numbers with a decimal point and without grouping commas."
    if any(c.isdigit() for c in cell) and any(c.isalpha() for c in cell):
        return "Write the number alone; the unit belongs in the column's name."
    return "Write plain numbers, or leave the cell empty where there is none."


class Table(Struct, frozen=True):
    """A table that a reader has opened.

    ``load`` is called once with the indices of the columns that are wanted as numbers
    and those wanted as they are (names, written times). ``ships`` are the values of
    ``who`` that are known to be ships, the likeliest first; ``also`` are other names that a craft may be
    called by, ``loose`` the craft whose clocks nothing in the file ties to the others'.
    """

    names: tuple[str, ...]
    load: Callable[[Collection[int], Collection[int]], Cells]
    ships: Sequence[str] = ()
    also: Mapping[str, str] = field(default_factory=dict)
    loose: Sequence[str] = ()


def from_frame(
    content: Content,
    frame,
    *,
    line_word: str = "row",
    lines: np.ndarray | None = None,
    notes: list[Note] | None = None,
) -> Table:
    """Make a table of a polars frame that has been read whole."""
    not_too_wide(content, frame.columns)

    def load(numbers: Collection[int], texts: Collection[int]) -> Cells:
        columns: Mapping[int, Any] = {index: frame.to_series(index) for index in {*numbers, *texts}}
        return Cells(content, dict(columns), frame.height, notes or [], lines, line_word=line_word)

    return Table(tuple(frame.columns), load)


def no_rows(content: Content) -> InputError:
    """Say that a file names columns and holds nothing under them."""
    return content.error("names its columns but holds no rows.", remedy="Record again, or give another file.")


def not_too_wide(content: Content, names: Collection[str]) -> None:
    """Stop where a table has more columns than any recorder writes: each costs time to look at.

    Raises:
        InputError: says how many there are and may be.
    """
    if len(names) > MOST_COLUMNS:
        raise content.error(
            f"has {len(names):,} columns; at most {MOST_COLUMNS:,} are read.",
            remedy="Export the columns of one aircraft and its ship alone.",
        )
