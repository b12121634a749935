"""Time columns: seconds, ISO 8601, UTC clock times; and bringing two clocks together."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.errors import Note
from deckward.foundation.statistics import distinct, median
from deckward.foundation.units import BY_SUFFIX, to_si
from deckward.recordings.cells import WITH_UNIT, Cells
from deckward.recordings.columns import Column, FileOptions

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_DAY = 86_400.0
#: numbers past this are taken as seconds since 1970 (it is 1973 there)
_EPOCH_FROM = 1e8
#: and it is 2096 there
_EPOCH_UNTIL = 4e9
#: counts since 1970 that no unit of ours is for, told by their size: microseconds and nanoseconds
_FINE = (1e-6, 1e-9)
_CLOCK = r"^\d{1,2}:\d{2}:\d{2}(\.\d+)?$"
#: 14h03m21.5s or 14h 03' 21.5", read as a clock time; 7:05.25, minutes and seconds since some start
_LETTERS = r"(?i)^(\d{1,2})\s*h\s*(\d{1,2})\s*[m'′]\s*(\d{1,2}(?:\.\d+)?)\s*(?:s|\"|″|'')?$"
_MINUTES = r"^(\d{1,4}):(\d{2}(?:\.\d+)?)$"
_ISO = ("%Y-%m-%dT%H:%M:%S%.f", "%Y%m%dT%H%M%S%.f")
_ZONE = r"([+-])(\d{2}):?(\d{2})?$"


class Stamps(Struct, frozen=True):
    """Times of samples, s, NaN where there is none.

    ``clock`` is "elapsed" (an unknown zero), "utc-day" (after midnight UTC of an
    unknown day) or "utc", where ``zero`` is the instant that second 0 stands for.
    """

    seconds: np.ndarray
    clock: str
    zero: datetime | None = None


def read_time(cells: Cells, column: Column, options: FileOptions) -> Stamps:
    """Read the time column of a table.

    Raises:
        InputError: it holds no times, or a bare number whose unit cannot be told.
    """
    import polars as pl

    raw = cells.take(column.index)
    kind = getattr(raw, "dtype", None)
    if kind == pl.String:
        text = raw.str.strip_chars()
        if options.time_format is None and (_mostly_numbers(text) or _with_unit(text, column)):
            cells.columns[column.index] = text
            return _numeric(cells, column)
        return _written(cells, column, text, options)
    if kind == pl.Datetime:
        if raw.dtype.time_zone:
            raw = raw.dt.convert_time_zone("UTC").dt.replace_time_zone(None)
        return _from_microseconds(raw.dt.cast_time_unit("us").to_physical())
    if kind == pl.Time:
        return Stamps(_past_midnight(raw.to_physical().cast(pl.Float64).to_numpy() * 1e-9), "utc-day")
    if kind == pl.Duration:
        micro = raw.dt.cast_time_unit("us").to_physical()
        return Stamps(micro.cast(pl.Float64).to_numpy() * 1e-6, "elapsed")
    cells.columns[column.index] = raw
    return _numeric(cells, column)


def even_time(cells: Cells, options: FileOptions) -> Stamps:
    """Count time by the rows of a file without a column of it, at the rate the map gives."""
    assert options.rate_hz is not None, "the caller looks for a rate"
    cells.notes.append(
        Note(
            "time-by-rows",
            f"No column holds the time: it is counted by rows, {options.rate_hz:g} a second as the column "
            "map says.",
        )
    )
    return Stamps(np.arange(cells.rows) / options.rate_hz, "elapsed")


def _mostly_numbers(text) -> bool:
    import polars as pl

    present = text.drop_nulls()
    present = present.filter(present != "")
    return present.cast(pl.Float64, strict=False).is_not_null().sum() * 2 > len(present)


def _with_unit(text, column: Column) -> bool:
    """Whether the unit of a time stands behind the number in each cell."""
    present = text.drop_nulls()
    present = present.filter(present != "")
    return column.unit is not None and present.str.contains(WITH_UNIT).sum() * 2 > len(present)


def _numeric(cells: Cells, column: Column) -> Stamps:
    numbers = cells.number(
        column.index, column.source, unit=column.unit.suffix if column.unit is not None else ""
    )
    if column.unit is None:
        known = numbers[np.isfinite(numbers)]
        for factor in _FINE:
            if known.size and _EPOCH_FROM < median(known) * factor < _EPOCH_UNTIL:
                return Stamps(numbers * factor, "utc", _EPOCH)
    unit = column.unit or _likely_unit(cells, column, numbers)
    seconds = column.sign * to_si(numbers, unit.suffix)
    finite = seconds[np.isfinite(seconds)]
    if finite.size and median(finite) > _EPOCH_FROM:
        return Stamps(seconds, "utc", _EPOCH)
    return Stamps(seconds, "elapsed")


def _likely_unit(cells: Cells, column: Column, numbers: np.ndarray):
    """Tell seconds from milliseconds by how far apart samples are."""
    steps = np.diff(distinct(numbers[np.isfinite(numbers)]))
    step = float(median(steps)) if steps.size else 1.0
    suffix = "s" if 1e-3 <= step <= 4.0 else "ms" if 4.0 < step <= 4000.0 else None
    if suffix is None:
        raise cells.content.error(
            f"has no unit, and steps of {step:g} fit neither seconds nor milliseconds.",
            place=f"column {column.source!r}",
            remedy="Name it time_s, time_ms or time_min.",
        )
    unit = BY_SUFFIX[suffix]
    word = {"s": "seconds", "ms": "milliseconds"}[suffix]
    cells.notes.append(
        Note(
            "time-unit-inferred",
            f"{column.source.strip()} has no unit and was read as {word}, since its steps are {step:g}; "
            f"name it time_{suffix} to settle it.",
        )
    )
    return unit


def _written(cells: Cells, column: Column, text, options: FileOptions) -> Stamps:
    """Read times written as text."""
    import polars as pl

    text = text.str.replace(",", ".", literal=True)
    present = text.drop_nulls()
    present = present.filter(present != "")
    if options.time_format is not None:
        pattern = options.time_format
        try:
            if any(code in pattern for code in ("%d", "%j", "%D", "%F", "%s", "%c")):
                micro = text.str.to_datetime(pattern, time_unit="us", strict=False).to_physical()
                stamps = _from_microseconds(micro)
            else:
                stamps = _from_time_of_day(text.str.to_time(pattern, strict=False))
        except pl.exceptions.PolarsError:
            raise cells.content.error(
                f"time_format {pattern!r} is no pattern for times.",
                remedy='Write one such as "%d/%m/%Y %H:%M:%S%.f" in the column map.',
            ) from None
    elif present.str.contains(_MINUTES).sum() * 2 > len(present):
        stamps = _from_minutes(text)
    elif present.str.contains(_LETTERS).sum() * 2 > len(present):
        stamps = _from_clock(text.str.replace(_LETTERS, "$1:$2:$3"))
    elif present.str.replace("Z$", "").str.contains(_CLOCK).sum() * 2 > len(present):
        stamps = _from_clock(text)
    else:
        stamps = _from_iso(text)
    _tell_unread(cells, column, text, stamps.seconds)
    return stamps


def _tell_unread(cells: Cells, column: Column, text, seconds: np.ndarray) -> None:
    bad = (text.is_not_null() & (text != "")).to_numpy() & ~np.isfinite(seconds)
    count = int(bad.sum())
    if not count:
        return
    first = int(np.argmax(bad))
    shown = repr(text[first][:40])
    if count * 2 > len(seconds):
        raise cells.content.error(
            f"{shown} is no time ({count} of {len(seconds)} cells are none).",
            place=f"{cells.place(first)}, column {column.source!r}",
            remedy="Write seconds in time_s, or ISO 8601 (2031-05-17T14:03:21.50Z) or UTC clock times "
            "(14:03:21.50) in time; a column map can set file.time_format.",
        )
    cells_are = "cell holds no time and counts" if count == 1 else "cells hold no time and count"
    cells.notes.append(
        Note(
            "unreadable-cells",
            f"{column.source}: {count} {cells_are} as missing, first on {cells.place(first)} ({shown}).",
        )
    )


def _from_clock(text) -> Stamps:
    import polars as pl

    parts = text.str.replace("Z$", "").str.split_exact(":", 2).struct.unnest()
    hours, minutes, seconds = (
        parts.to_series(i).cast(pl.Float64, strict=False).to_numpy().astype(float) for i in range(3)
    )
    bad = (hours > 24) | (minutes > 59) | (seconds >= 61) | (minutes < 0) | (seconds < 0)
    day = hours * 3600.0 + minutes * 60.0 + seconds
    return Stamps(_past_midnight(np.where(bad, np.nan, day)), "utc-day")


def _from_minutes(text) -> Stamps:
    import polars as pl

    parts = text.str.extract_groups(_MINUTES).struct.unnest()
    minutes, seconds = (
        parts.to_series(i).cast(pl.Float64, strict=False).to_numpy().astype(float) for i in range(2)
    )
    return Stamps(np.where(seconds >= 60.0, np.nan, minutes * 60.0 + seconds), "elapsed")


def _from_time_of_day(times) -> Stamps:
    import polars as pl

    return Stamps(_past_midnight(times.to_physical().cast(pl.Float64).to_numpy() * 1e-9), "utc-day")


def _from_iso(text) -> Stamps:
    import polars as pl

    text = text.str.replace(" ", "T", literal=True).str.replace("Z$", "")
    zoned = text.str.replace(r"^\d{4}-?\d{2}-?\d{2}T?", "").str.contains(r"[+-]\d{2}:?(\d{2})?$")
    offset = None
    if zoned.any():
        groups = text.str.extract_groups(_ZONE).struct.unnest()
        sign = groups.to_series(0).replace({"+": "1", "-": "-1"}).cast(pl.Int64)
        minutes = groups.to_series(1).cast(pl.Int64) * 60 + groups.to_series(2).cast(pl.Int64).fill_null(0)
        offset = pl.select(pl.when(zoned).then(sign * minutes).otherwise(0)).to_series()
        text = pl.select(pl.when(zoned).then(text.str.replace(_ZONE, "")).otherwise(text)).to_series()
    micro = None
    for pattern in _ISO:
        parsed = text.str.to_datetime(pattern, time_unit="us", strict=False)
        micro = (
            parsed.to_physical()
            if micro is None
            else pl.select(pl.coalesce(micro, parsed.to_physical())).to_series()
        )
        if not micro.has_nulls():
            break
    if offset is not None:
        micro = micro - offset * 60_000_000
    return _from_microseconds(micro)


def _from_microseconds(micro) -> Stamps:
    """Count from midnight UTC of the first day, so that no digit is lost."""
    import polars as pl

    first = micro.min()
    zero = _EPOCH if first is None else _EPOCH + timedelta(days=int(first // 86_400_000_000))
    start = int((zero - _EPOCH).total_seconds()) * 1_000_000
    seconds = (micro - start).cast(pl.Float64).to_numpy() * 1e-6
    return Stamps(seconds, "utc", zero)


def _past_midnight(seconds: np.ndarray) -> np.ndarray:
    """Count on past midnight where a time of day falls back by more than half a day."""
    out = np.array(seconds, dtype=float)
    finite = np.isfinite(out)
    steps = np.diff(out[finite])
    days = np.cumsum((steps < -_DAY / 2).astype(int) - (steps > _DAY / 2).astype(int))
    if days.any():
        out[finite] += _DAY * np.concatenate([[0], days])
    return out


def on_clock_of(stamps: Stamps, other: Stamps) -> Stamps:
    """Bring times onto another source's clock where both say how they count.

    Elapsed times of an unknown zero are left as they are.
    """
    if stamps.zero is not None and other.zero is not None:
        shift = (stamps.zero - other.zero).total_seconds()
        return replace(stamps, seconds=stamps.seconds + shift, zero=other.zero)
    if "utc-day" in (stamps.clock, other.clock) and "elapsed" not in (stamps.clock, other.clock):
        mine, theirs = np.nanmedian(stamps.seconds), np.nanmedian(other.seconds)
        shift = _DAY * round(float(theirs - mine) / _DAY)
        return Stamps(stamps.seconds + shift, other.clock, other.zero)
    return stamps
