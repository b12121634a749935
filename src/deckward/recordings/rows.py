"""From a file to rows in SI: its columns understood, its cells turned into numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.errors import InputError, Note
from deckward.foundation.units import to_si
from deckward.recordings.cells import Cells
from deckward.recordings.clock import Stamps, even_time, on_clock_of, read_time
from deckward.recordings.columns import (
    Column,
    ColumnMap,
    Plan,
    UnknownColumns,
    advise_missing,
    listed,
    missing_position,
    plain_name,
    plan_columns,
)
from deckward.recordings.content import Content
from deckward.recordings.formats import find_format
from deckward.recordings.geographic import degrees_and_minutes, letters_beside
from deckward.recordings.quantities import BY_NAME, GEODETIC, understand
from deckward.recordings.steps import written_step


class Rows(Struct):
    """The rows of one file in SI, as they stand in it.

    ``who`` gives each row's craft as an index into ``names``, None for one craft.
    ``own`` are the channels of the craft, ``ship`` those with the ship's prefix; steps
    are what their columns were rounded to. ``ships``, ``also`` and ``loose`` are as in ``Table``.
    ``computed`` rows were put in by the reader; ``doubt`` is as in ``Track``.
    """

    content: Content
    names_in_file: tuple[str, ...]
    plan: Plan
    stamps: Stamps
    who: np.ndarray | None
    names: tuple[str, ...]
    own: dict[str, np.ndarray]
    ship: dict[str, np.ndarray]
    own_steps: dict[str, float]
    ship_steps: dict[str, float]
    ship_time: np.ndarray | None
    ships: Sequence[str]
    also: Mapping[str, str]
    loose: Sequence[str]
    doubt: Mapping[str, np.ndarray]
    computed: int
    notes: list[Note]


def read_rows(
    content: Content, column_map: ColumnMap | None, *, aircraft: bool, named: tuple[str, ...] = ()
) -> Rows:
    """Read the columns of one file and turn them into SI; ``named`` are craft that are asked for by name."""
    column_map = column_map or ColumnMap()
    table = find_format(content).open(content, replace(column_map.file, named=named))
    try:
        plan = plan_columns(table.names, column_map)
    except InputError as error:
        raise content.error(error.problem, place=error.place, remedy=error.remedy) from None
    own, prefixed = plan.of(ship=False), plan.of(ship=True)
    alone = not aircraft and not _whole(prefixed)
    if not aircraft and not alone:
        own = {q: column for q, column in own.items() if q in ("time", "who") and "time" not in prefixed}
    _check_needed(
        content,
        table.names,
        own,
        prefixed,
        aircraft=aircraft,
        alone=alone,
        even=column_map.file.rate_hz is not None,
    )
    columns = [*own.values(), *prefixed.values()] if not alone else list(own.values())
    texts = [c.index for c in columns if c.quantity == "who" or (c.quantity == "time" and c.unit is None)]
    numbers = [c.index for c in columns if c.index not in texts]
    beside = {
        ship: letters_beside(table.names, craft, [*texts, *numbers]) if column_map.columns else {}
        for ship, craft in ((False, own), (True, prefixed))
    }
    letters = {index for each in beside.values() for index in each.values()}
    cells = table.load(numbers, sorted({*texts, *letters}))
    time = own.get("time") or prefixed.get("time")
    stamps = read_time(cells, time, column_map.file) if time else even_time(cells, column_map.file)
    ship_time = prefixed.get("time") if aircraft else None
    second = read_time(cells, ship_time, column_map.file) if ship_time is not None else None
    who, names = _who(cells, own.get("who"), content)
    own_values, own_steps = _values(cells, own, beside[False])
    ship_values, ship_steps = _values(cells, {} if alone else prefixed, beside[True])
    return Rows(
        content=content,
        names_in_file=tuple(plain_name(name) for name in table.names),
        plan=plan,
        stamps=stamps,
        who=who,
        names=names,
        own=own_values,
        ship=ship_values,
        own_steps=own_steps,
        ship_steps=ship_steps,
        ship_time=on_clock_of(second, stamps).seconds if second is not None else None,
        ships=table.ships,
        also=table.also,
        loose=table.loose,
        doubt=cells.doubt,
        computed=cells.computed,
        notes=[*plan.notes, *cells.notes, *_cut(content)],
    )


def _cut(content: Content) -> list[Note]:
    return (
        [Note("file-cut", "The packed file ends too early; it was read as far as it goes.")]
        if content.cut
        else []
    )


def _whole(columns: Mapping[str, Column]) -> bool:
    return not missing_position(columns) and "heading" in columns


def _check_needed(content, names, own, prefixed, *, aircraft: bool, alone: bool, even: bool) -> None:
    """Stop where time, position or (of the ship) heading is in no column."""
    of_ship = not aircraft and not alone
    looked_at = prefixed if of_ship else own
    missing = list(missing_position(looked_at))
    if not aircraft and "heading" not in looked_at:
        missing.append("heading")
    if "time" not in own and (aircraft or "time" not in prefixed) and not even:
        missing.insert(0, "time")
    if not missing:
        return
    craft = "a recording" if aircraft else "the ship's recording"
    found = sorted((name for name in names if name.strip()), key=lambda name: understand(name) is not None)
    ways = " (a position is latitude, longitude, altitude or north, east, up)" if missing != ["time"] else ""
    advice = advise_missing(missing, names, ship=of_ship)
    raise UnknownColumns(
        f"no column holds {', '.join(missing)}, which {craft} needs{ways}.",
        file=content.file,
        place=f"columns {listed(found)}" if found else "its first line",
        remedy=f"{advice}. Or say which column it is in a column map (--map).",
    )


def _who(cells: Cells, column: Column | None, content: Content) -> tuple[np.ndarray | None, tuple[str, ...]]:
    """Give each row's craft as an index into the names, -1 where it has none."""
    import polars as pl

    if column is None:
        return None, (content.stem,)
    raw = pl.Series(cells.take(column.index))
    if raw.dtype.is_nested():
        raise content.error(
            "holds lists, not names.", place=f"column {column.source!r}", remedy="Write one name."
        )
    if raw.dtype.is_float():
        raw = pl.Series(
            [None if v is None or np.isnan(v) else f"{v:.15g}" for v in raw.to_list()], dtype=pl.String
        )
    text = raw.cast(pl.String, strict=False).str.strip_chars().replace("", None)
    names = tuple(sorted(text.drop_nulls().unique().to_list()))
    if not names:
        raise content.error(
            "holds no name in any row.", place=f"column {column.source!r}", remedy="Remove the column."
        )
    numbers = text.replace_strict(list(names), list(range(len(names))), default=-1, return_dtype=pl.Int64)
    codes = numbers.fill_null(-1).to_numpy()
    lost = int((codes < 0).sum())
    if lost:
        cells.notes.append(Note("nameless-rows", f"{lost} rows without a name in {column.source} left out."))
    return codes, names


def _values(
    cells: Cells, columns: Mapping[str, Column], beside: Mapping[str, int]
) -> tuple[dict[str, np.ndarray], dict[str, float]]:
    """Turn columns into SI one by one; also the steps they were written in, SI.

    ``beside`` gives the columns that may hold the letter of a hemisphere, by quantity.
    """
    values: dict[str, np.ndarray] = {}
    steps: dict[str, float] = {}
    for quantity, column in columns.items():
        if quantity in ("time", "who"):
            continue
        raw = cells.number(
            column.index,
            column.source,
            words=BY_NAME[quantity].dimension == "fraction",
            degrees=quantity in GEODETIC[:2],
            unit=column.unit.suffix if column.unit else "",
        )
        # values that a reader works out between those that were recorded lie on no scale
        step = None if cells.computed else written_step(raw)
        suffix = column.unit.suffix if column.unit else ""
        si = to_si(raw, suffix)
        values[quantity] = column.sign * si if column.sign != 1 else si
        if step is not None:
            steps[quantity] = step * (column.unit.factor if column.unit else 1.0)
    for quantity in degrees_and_minutes(cells, columns, values, beside):
        steps.pop(quantity, None)
    return values, steps
