"""From a file to tracks: the one way that flight files come into the program."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

import numpy as np
from msgspec.structs import replace

from deckward.errors import InputError, Note
from deckward.foundation.statistics import median
from deckward.foundation.track import Track
from deckward.recordings.agreement import judge
from deckward.recordings.cleaning import Samples, clean, on_a_plane
from deckward.recordings.clock import Stamps, on_clock_of
from deckward.recordings.columns import (
    Column,
    ColumnMap,
    listed,
    missing_position,
)
from deckward.recordings.content import Content
from deckward.recordings.model import Recording
from deckward.recordings.placing import on_the_earth
from deckward.recordings.quantities import BY_NAME, GEODETIC, LOCAL
from deckward.recordings.rows import Rows, read_rows
from deckward.recordings.timeline import describe, settle

#: names that a ship goes by where it is one of several craft in a file
_SHIP_NAMES = ("ship", "carrier")
#: seconds between samples that no recorder has: a pass could not be seen, or nothing is so quick
_TOO_SLOW, _TOO_FAST = 20.0, 1e-4
#: share of a step that a multiple of it may be off, by the digits it was written with
_ALIKE = 2e-3


def open_recording(
    path: str | Path,
    *,
    ship: str | Path | None = None,
    only: str | None = None,
    ship_who: str | None = None,
    column_map: ColumnMap | str | Path | None = None,
    ship_map: ColumnMap | None = None,
    origin: tuple[float, float] | None = None,
) -> Recording:
    """Read a recording of one or several aircraft, and of the ship where it is in there.

    Args:
        path: CSV, Parquet, JSON lines or DIS packets, plain or packed with gzip.
        ship: a file with the ship's track, where it is not in the same rows; its columns
            may carry the ship's prefix or not. It may count time from another zero only
            where both say what their zero is.
        only: the one craft to read, where the file holds several (column ``who``).
        ship_who: the one that is the ship, where a file holds several craft.
        column_map: a column map or the path of one, for both files.
        ship_map: another one for the ship's file.
        origin: latitude and longitude, rad, of the origin of a local plane (north, east,
            up), to place it on the earth beside a track in latitude and longitude.

    Raises:
        InputError: a file cannot be used; says which, where, why and what to do.
    """
    if column_map is not None and not isinstance(column_map, ColumnMap):
        from deckward.recordings.column_map import read

        column_map = read(column_map)
    named = tuple(name for name in (only, ship_who) if name is not None)
    rows = read_rows(Content(path), column_map, aircraft=True, named=named)
    other = None
    if ship is not None:
        other = read_rows(Content(ship), ship_map or column_map, aircraft=False, named=named)
    _rules_used(column_map, rows, other)
    only = rows.also.get(only, only) if only is not None else None
    sailing = None if ship_who is None or other is not None else rows.also.get(ship_who, ship_who)
    aircraft, ships, times = _split(rows, only, sailing)
    notes = list(rows.notes)
    many = len(aircraft) > 1
    for samples in aircraft:
        _finish(samples)
        notes += _named(samples, samples.who if many else "")
    craft = _ship_of(rows, other, ships, times, notes, ship_who if other is not None else None)
    tracks = tuple(_track(samples) for samples in sorted(aircraft, key=lambda s: s.who))
    ship_track = _track(craft) if craft is not None else None
    tracks, ship_track = _same_axes(tracks, ship_track, origin, rows.content)
    _tell_apart(tracks, ship_track, notes)
    return Recording(
        aircraft=tracks,
        ship=ship_track,
        samples=int(rows.stamps.seconds.size) - rows.computed,
        rate_hz=_rate(tracks),
        notes=tuple(notes),
        clock=rows.stamps.clock,
        time_zero=rows.stamps.zero,
        two_clocks=other is not None or bool(ships and rows.loose),
    )


def _rules_used(column_map: ColumnMap | None, rows: Rows, other: Rows | None) -> None:
    """Stop where a column map speaks of a column that no file has."""
    if column_map is None:
        return
    found = {name for each in (rows, other) if each is not None for name in each.names_in_file}
    for number, rule in enumerate(column_map.columns, start=1):
        if rule.source.strip() not in found:
            raise InputError(
                f"{rows.content.file} has no column {rule.source!r}.",
                file=column_map.path,
                place=f"column[{number}].source",
                remedy=_one_of(rule.source, sorted(found)),
            )


def _one_of(word: str, known: Sequence[str]) -> str:
    from deckward.foundation.documents import nearest

    like = nearest(word, known)
    return (f"Did you mean {like!r}? " if like else "") + f"It has {listed(known)}."


def _split(
    rows: Rows, only: str | None, ship_who: str | None
) -> tuple[list[Samples], list[Samples], np.ndarray]:
    """Bring each craft's rows into order; aircraft, ships, and the settled time of every row."""
    ship_names = _ship_names(rows, only, ship_who)
    fliers = [name for name in rows.names if name not in ship_names]
    if only is not None and only not in fliers:
        raise rows.content.error(
            f"holds no craft named {only!r}.", remedy=_one_of(only, _called(rows, fliers))
        )
    if not fliers:
        raise rows.content.error(
            f"holds only the ship ({', '.join(rows.names)}), no aircraft.",
            remedy="Give the aircraft's recording.",
        )
    wanted = {only} if only is not None else set(fliers)
    settled = np.full(rows.stamps.seconds.size, np.nan)
    aircraft: list[Samples] = []
    ships: list[Samples] = []
    for code, name in enumerate(rows.names):
        if name not in wanted and name not in ship_names:
            continue
        index = np.arange(settled.size) if rows.who is None else np.flatnonzero(rows.who == code)
        samples = _settled(rows, index, name, settled)
        if samples is not None:
            (ships if name in ship_names else aircraft).append(samples)
    if not aircraft:
        raise rows.content.error("holds no row with a time.", remedy="Check its time column.")
    ships.sort(key=lambda each: ship_names.index(each.who))
    return aircraft, ships, settled


def _ship_names(rows: Rows, only: str | None = None, ship_who: str | None = None) -> list[str]:
    """Name the craft that are ships, the likeliest to be landed on first; the user's word goes first.

    Raises:
        InputError: there is no craft of the name that the user gave for the ship.
    """
    if ship_who is not None and (rows.who is None or ship_who not in rows.names or ship_who == only):
        taken = [name for name in rows.names if name != only] if rows.who is not None else []
        remedy = _one_of(ship_who, _called(rows, taken)) if taken else "Leave the ship's name out."
        raise rows.content.error(f"holds no ship named {ship_who!r}.", remedy=remedy)
    if rows.who is None:
        return []
    called = [name for name in rows.names if name.casefold() in _SHIP_NAMES and name not in rows.ships]
    likely = [*(name for name in rows.ships if name in rows.names), *called]
    others = [name for name in likely if name not in (only, ship_who)]
    return others if ship_who is None else [ship_who, *others]


def _called(rows: Rows, names: Sequence[str]) -> list[str]:
    """Give craft by all that they may be called."""
    other = {name: also for also, name in rows.also.items()}
    return [f"{name} ({other[name]})" if name in other else name for name in names]


def _settled(rows: Rows, index: np.ndarray, who: str, settled: np.ndarray) -> Samples | None:
    """Make the samples of the rows in ``index`` and note their times in ``settled``."""
    channels = rows.own
    first, second = GEODETIC[:2] if "latitude" in channels else LOCAL[:2]
    place = np.column_stack([channels[first][index], channels[second][index]])
    if first == "latitude":
        place = on_a_plane(*place.T)
    everything = [*channels.values(), *rows.ship.values()]

    def same(i: np.ndarray, j: np.ndarray) -> np.ndarray:
        alike = np.ones(i.size, bool)
        for values in everything:
            a, b = values[index[i]], values[index[j]]
            alike &= (a == b) | (np.isnan(a) & np.isnan(b))
        return alike

    result = settle(rows.stamps.seconds[index], place, same, regular=not rows.computed)
    if not result.rows.size:
        return None
    kept = index[result.rows]
    settled[kept] = result.time
    whole = kept.size == settled.size and bool(np.all(np.diff(kept) == 1))
    return Samples(
        who=who,
        content=rows.content,
        time=result.time,
        channels={q: (values if whole else values[kept]) for q, values in channels.items()},
        columns=rows.plan.of(ship=False),
        steps=dict(rows.own_steps),
        own_time=not rows.computed,
        computed=rows.computed > 0,
        time_sigma=result.sigma,
        doubt={name: values[kept] for name, values in rows.doubt.items()},
        notes=list(result.notes),
    )


def _check_rate(samples: Samples, step: float) -> None:
    """Stop where the usual step shows that time is in another unit."""
    if _TOO_FAST < step < _TOO_SLOW:
        return
    other = "milliseconds, name it time_ms" if step > 1.0 else "minutes, name it time_min"
    raise samples.content.error(
        f"samples would be {step:.3g} s apart.",
        place=f"column {samples.source('time')!r}",
        remedy=f"If the column counts {other}; else record at 5 to 100 Hz.",
    )


def _finish(samples: Samples) -> None:
    """Judge how a craft's samples are spaced, clean them and compare them with one another."""
    if samples.time.size > 1:
        _check_rate(samples, float(median(np.diff(samples.time))))
    clean(samples)
    if samples.own_time:
        samples.notes += describe(samples.time)
    judge(samples)
    _tell_coarse(samples)


#: steps past which a reader should know, SI, by dimension
_COARSE = {"angle": np.radians(0.049), "length": 0.25, "speed": 0.25}


def _tell_coarse(samples: Samples) -> None:
    """Tell of channels that were written in coarse steps."""
    from deckward.foundation.earth import SEMI_MAJOR_AXIS

    told = []
    for quantity, step in samples.steps.items():
        if quantity not in samples.channels or not BY_NAME[quantity].smooth:
            continue
        on_ground = quantity in ("latitude", "longitude")
        limit = (
            _COARSE["length"] / SEMI_MAJOR_AXIS
            if on_ground
            else _COARSE.get(BY_NAME[quantity].dimension, np.inf)
        )
        if step <= limit:
            continue
        column = samples.columns[quantity]
        size = step / samples.factor(quantity)
        metres = f" ({step * SEMI_MAJOR_AXIS:.2g} m)" if on_ground else ""
        told.append(f"{column.source.strip()} {size:.3g}{metres}")
    if told:
        samples.say("coarse-values", f"Columns are written in coarse steps: {', '.join(told)}.")


def _named(samples: Samples, name: str) -> list[Note]:
    return [replace(note, text=f"{name}: {note.text}") if name else note for note in samples.notes]


def _ship_of(
    rows: Rows,
    other: Rows | None,
    ships: list[Samples],
    times: np.ndarray,
    notes: list[Note],
    ship_who: str | None,
) -> Samples | None:
    """Find the ship: in a file of its own, in the same rows, or as one of the craft."""
    craft: Samples | None
    if other is not None:
        if rows.ship or ships:
            notes.append(
                Note(
                    "ship-twice",
                    "The ship comes from its own file; what the recording says of it is not used.",
                )
            )
        craft = _ship_alone(other, rows.stamps, ship_who)
        notes += other.notes
    elif rows.ship:
        craft = _ship_beside(rows, times, notes)
    elif ships:
        craft, *others = ships
        craft.ship = True
        beside = ""
        if others:
            beside = f", not those of {listed([each.who for each in others])} (--ship-who names another)"
        notes.append(Note("ship-by-name", f"The rows of {craft.who} are taken as the ship's track{beside}."))
        if "heading" not in craft.channels:
            notes.append(
                Note("ship-incomplete", f"The rows of {craft.who} hold no heading; the ship is not read.")
            )
            return None
    else:
        return None
    if craft is None:
        return None
    _finish(craft)
    notes += _named(craft, "ship")
    return craft


def _ship_alone(other: Rows, like: Stamps, ship_who: str | None) -> Samples:
    """Take the ship from a file of its own."""
    other.stamps = on_clock_of(other.stamps, like)
    prefixed = bool(other.ship)
    if prefixed:
        other.own, other.own_steps, other.ship = other.ship, other.ship_steps, {}
    sailing = None if ship_who is None else other.also.get(ship_who, ship_who)
    names = _ship_names(other, None, sailing)[:1] or list(other.names)
    if len(names) > 1 and not prefixed:
        raise other.content.error(
            f"holds several craft ({', '.join(names)}); which is the ship cannot be told.",
            remedy='Name the ship\'s rows "ship" in the column who, or say which with --ship-who.',
        )
    code = other.names.index(names[0])
    settled = np.full(other.stamps.seconds.size, np.nan)
    index = np.arange(settled.size) if other.who is None or prefixed else np.flatnonzero(other.who == code)
    samples = _settled(other, index, "ship", settled)
    if samples is None:
        raise other.content.error("holds no row with a time.", remedy="Check its time column.")
    samples.ship = True
    samples.columns = other.plan.of(ship=prefixed)
    return samples


def _ship_beside(rows: Rows, times: np.ndarray, notes: list[Note]) -> Samples | None:
    """Take the ship from the aircraft's own rows, one sample for each time."""
    columns = rows.plan.of(ship=True)
    missing = [*missing_position(columns), *(["heading"] if "heading" not in columns else [])]
    if missing:
        held = ", ".join(sorted(column.source.strip() for column in columns.values()))
        lacking = ", ".join(f"ship_{name}" for name in missing)
        notes.append(Note("ship-incomplete", f"The ship is not read: {lacking} missing beside {held}."))
        return None
    stamps = times if rows.ship_time is None else rows.ship_time
    known = np.isfinite(stamps) & np.isfinite(np.stack([rows.ship[q] for q in _position(columns)])).any(
        axis=0
    )
    index = np.flatnonzero(known)
    if not index.size:
        notes.append(Note("ship-incomplete", "The ship is not read: its columns hold no position."))
        return None
    order = index[np.argsort(stamps[index], kind="stable")]
    order = order[np.concatenate([[True], np.diff(stamps[order]) > 0.0])]
    whole = order.size == times.size and bool(np.all(np.diff(order) == 1))
    return Samples(
        who="ship",
        content=rows.content,
        time=stamps[order],
        channels={q: (values if whole else values[order]) for q, values in rows.ship.items()},
        columns=columns,
        steps=_steps_alike(rows),
        ship=True,
        own_time=rows.ship_time is not None,
    )


def _steps_alike(rows: Rows) -> dict[str, float]:
    """Steps of the ship's columns; a height that hardly changes shows none, and has the aircraft's then.

    Only where every value is a multiple of it.
    """
    steps = dict(rows.ship_steps)
    for quantity in ("altitude", "up"):
        step, values = rows.own_steps.get(quantity, 0.0), rows.ship.get(quantity)
        if values is None or step <= steps.get(quantity, 0.0):
            continue
        parts = values[np.isfinite(values)] / step
        if parts.size and np.abs(parts - np.rint(parts)).max() < _ALIKE:
            steps[quantity] = step
    return steps


def _position(columns: Mapping[str, Column]) -> tuple[str, ...]:
    return GEODETIC if "latitude" in columns else LOCAL


def _track(samples: Samples) -> Track:
    """Freeze cleaned samples."""
    sigma = {q: float(step / np.sqrt(12.0)) for q, step in samples.steps.items() if q in samples.channels}
    if samples.time_sigma > 0.0:
        sigma["time"] = float(samples.time_sigma)
    for values in (samples.time, *samples.channels.values(), *samples.doubt.values()):
        values.setflags(write=False)  # the track takes them as they are
    return Track(samples.who, samples.time, samples.channels, sigma, samples.doubt)


def _same_axes(tracks, ship, origin, content: Content):
    """Place local planes on the earth where one craft needs it; two in one plane stay there."""
    mixed = ship is not None and ship.geodetic != tracks[0].geodetic
    if origin is None:
        if mixed:
            local = "the ship" if tracks[0].geodetic else "the aircraft"
            raise content.error(
                f"{local} is in a local plane, the other in latitude and longitude.",
                remedy="Say where the plane's origin is: --origin LAT,LON.",
            )
        return tracks, ship
    if ship is None or mixed:
        tracks = tuple(track if track.geodetic else on_the_earth(track, origin) for track in tracks)
        ship = on_the_earth(ship, origin) if ship is not None and not ship.geodetic else ship
    return tracks, ship


def _tell_apart(tracks, ship, notes: list[Note]) -> None:
    """Tell where aircraft and ship share no time."""
    if ship is None:
        return
    start, end = min(t.time[0] for t in tracks), max(t.time[-1] for t in tracks)
    if ship.time[0] > end or ship.time[-1] < start:
        notes.append(
            Note(
                "clocks-apart",
                f"The ship's samples ({ship.time[0]:.1f} to {ship.time[-1]:.1f} s) and the aircraft's "
                f"({start:.1f} to {end:.1f} s) share no time; a time offset must be given.",
            )
        )


def _rate(tracks: tuple[Track, ...]) -> float:
    steps = [np.diff(track.time) for track in tracks if len(track) > 1]
    return float(1.0 / median(np.concatenate(steps))) if steps else 0.0
