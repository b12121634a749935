"""Values that cannot be: out of range, dropped out, frozen, carried forward, spiked."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from msgspec import Struct, field

from deckward.errors import Note
from deckward.foundation import angles
from deckward.foundation.earth import SEMI_MAJOR_AXIS
from deckward.foundation.statistics import median
from deckward.recordings.columns import Column
from deckward.recordings.content import Content
from deckward.recordings.quantities import BY_NAME, GEODETIC, LOCAL, spellings
from deckward.recordings.steps import written_step

#: numbers that recorders write for "no value"; only where the quantity cannot have them
_SENTINELS = (-999.0, -9999.0, -99999.0, -999999.0, -32768.0, -1000.0)
_NEVER_NEGATIVE = (
    "altitude",
    "up",
    "radar_altitude",
    "true_airspeed",
    "indicated_airspeed",
    "fuel",
    "mass",
    "fuel_flow",
)
#: a position that stands still this long, s and samples, is frozen where the craft moves
_FROZEN_SECONDS, _FROZEN_SAMPLES = 0.7, 5
#: other channels may rest longer
_RESTING_SECONDS, _RESTING_SAMPLES = 3.0, 30
#: climb or descent, m, that shows a craft to be in the air and not on a runway
_CLIMBED = 5.0
#: ground speed, m/s, above which a craft flies (no ship is so fast)
_FLYING = 25.0
#: a single sample this far off its neighbours' line, at least, is a spike
_SPIKE = {"latitude": 3.0, "longitude": 3.0, "altitude": 3.0, "north": 3.0, "east": 3.0, "up": 3.0}
_SPIKE_ANGLE, _SPIKE_SPEED = np.radians(1.5), 3.0
_SPIKED = (*_SPIKE, "pitch", "roll", "heading", "angle_of_attack", "true_airspeed")
_UNIT_WORDS = {"angle": "radians", "fraction": "0 to 1"}


class Samples(Struct):
    """One craft's samples while they are being cleaned: SI, writable, strictly increasing time.

    ``own_time`` is false where the times are another craft's, already judged;
    ``computed`` tells that the reader put samples in.  ``steps`` are
    the written steps of the columns in SI; ``columns`` say where each quantity came from.
    """

    who: str
    content: Content
    time: np.ndarray
    channels: dict[str, np.ndarray]
    columns: Mapping[str, Column]
    steps: dict[str, float]
    ship: bool = False
    own_time: bool = True
    computed: bool = False
    time_sigma: float = 0.0
    #: as in ``Track``
    doubt: Mapping[str, np.ndarray] = field(default_factory=dict)
    notes: list[Note] = field(default_factory=list)

    @property
    def position(self) -> tuple[str, str, str]:
        """The names of the three channels of the position."""
        return GEODETIC if "latitude" in self.channels else LOCAL

    def say(self, code: str, text: str) -> None:
        """Add a note."""
        self.notes.append(Note(code, text))

    def source(self, quantity: str) -> str:
        """Name the column that a quantity came from."""
        column = self.columns.get(quantity)
        return column.source.strip() if column else quantity

    def factor(self, quantity: str) -> float:
        """Give what one of the column's unit is in SI."""
        column = self.columns.get(quantity)
        return column.unit.factor if column and column.unit else 1.0

    def drop(self, quantity: str) -> None:
        """Leave a channel out."""
        del self.channels[quantity]

    def keep(self, rows: np.ndarray) -> None:
        """Keep the samples that a mask picks."""
        self.time = self.time[rows]
        self.channels = {q: values[rows] for q, values in self.channels.items()}
        self.doubt = {q: values[rows] for q, values in self.doubt.items()}

    def plane(self) -> np.ndarray:
        """Give the horizontal place (n, 2) in m, true for short ways only."""
        first, second, _ = self.position
        a, b = self.channels[first], self.channels[second]
        if first == "north":
            return np.column_stack([a, b])
        return SEMI_MAJOR_AXIS * on_a_plane(a, b)


def on_a_plane(latitude: np.ndarray, longitude: np.ndarray) -> np.ndarray:
    """Give places (n, 2), in earth radii, north and east of the first; the date line is no break."""
    known = np.isfinite(latitude) & np.isfinite(longitude)
    if not known.any():
        return np.column_stack([latitude, longitude])
    first = int(np.argmax(known))
    east = angles.difference(longitude, longitude[first]) * np.cos(latitude[first])
    return np.column_stack([latitude - latitude[first], east])


def clean(samples: Samples) -> None:
    """Mask or leave out what cannot be, each told with a note.

    Raises:
        InputError: a position that no place on earth has.
    """
    _drop_empty(samples)
    _mask_impossible(samples)
    _mask_dropouts(samples)
    if samples.computed:
        return
    _mask_carried_forward(samples)
    plane = samples.plane()
    _mask_frozen(samples, plane)
    speed = _usual_speed(samples.time, plane)
    _mask_resting(samples, speed)
    _report_spikes(samples)


def _drop_empty(samples: Samples) -> None:
    empty = [q for q, values in samples.channels.items() if not np.isfinite(values).any()]
    lost = [q for q in empty if q in samples.position]
    if lost:
        raise samples.content.error(
            f"holds no value of {lost[0]}.",
            place=f"column {samples.source(lost[0])!r}",
            remedy="A recording needs a position in at least some of its rows.",
        )
    for quantity in empty:
        samples.drop(quantity)
    if empty:
        samples.say("empty-columns", f"Columns without any value: {', '.join(map(samples.source, empty))}.")


def _when(samples: Samples, bad: np.ndarray) -> str:
    return f"first at {samples.time[np.argmax(bad)]:.2f} s"


def _count(bad: np.ndarray) -> str:
    count = int(bad.sum())
    return "1 sample" if count == 1 else f"{count} samples"


def _mask_impossible(samples: Samples) -> None:
    masked: list[str] = []
    for quantity, values in list(samples.channels.items()):
        known = BY_NAME[quantity]
        bad = (values < known.low) | (values > known.high) | np.isinf(values)
        if quantity in _NEVER_NEGATIVE:
            bad |= _sentinels(samples, quantity, values)
        if not bad.any():
            continue
        if bad.sum() * 2 > np.isfinite(values).sum():
            _not_this_unit(samples, quantity, float(np.nanmedian(values[bad])))
            continue
        values[bad] = np.nan
        masked.append(f"{samples.source(quantity)} ({_count(bad)}, {_when(samples, bad)})")
    if masked:
        samples.say("impossible-values", f"Values that cannot be count as missing: {'; '.join(masked)}.")


def _sentinels(samples: Samples, quantity: str, values: np.ndarray) -> np.ndarray:
    if np.fmin.reduce(values) > -50.0:
        return np.zeros(values.shape, bool)
    return np.isin(np.round(values / samples.factor(quantity), 3), _SENTINELS)


def _not_this_unit(samples: Samples, quantity: str, typical: float) -> None:
    """Leave out a channel whose values the quantity cannot have; stop where it is the position."""
    column = samples.columns[quantity]
    unit = column.unit
    written = (typical - (unit.offset if unit else 0.0)) / samples.factor(quantity) * column.sign
    words = _UNIT_WORDS.get(BY_NAME[quantity].dimension, "that unit")
    if BY_NAME[quantity].dimension == "angle" and unit is not None and unit.suffix == "deg":
        words = "degrees"
    text = f"holds values such as {written:.6g}, which no {quantity.replace('_', ' ')} has in {words}"
    if quantity in samples.position:
        swapped = (
            quantity == "latitude"
            and abs(typical) <= np.pi
            and np.nanmax(np.abs(samples.channels["longitude"])) <= np.pi / 2.0
        )
        raise samples.content.error(
            f"{text}.",
            place=f"column {column.source.strip()!r}",
            remedy="Latitude and longitude seem to be swapped: exchange their names."
            if swapped and unit is not None and unit.suffix == "deg"
            else f"Name it after its unit: {spellings(quantity, ship=column.ship)}.",
        )
    samples.drop(quantity)
    samples.say(
        "implausible-unit",
        f"{column.source.strip()} {text}; left out. Name it after its unit: "
        f"{spellings(quantity, ship=column.ship)}.",
    )


def _mask_dropouts(samples: Samples) -> None:
    """Mask positions of exactly 0, 0: nobody was there."""
    first, second, third = samples.position
    a, b = samples.channels[first], samples.channels[second]
    bad = (a == 0.0) & (b == 0.0)
    if not bad.any() or bad.all():
        return
    rest = np.hypot(a[~bad], b[~bad])
    scale = 1.0 if first == "latitude" else SEMI_MAJOR_AXIS
    if not np.isfinite(rest).any() or np.nanmin(rest) < 2e-4 * scale:
        return
    for quantity in (first, second, third):
        samples.channels[quantity][bad] = np.nan
    samples.say(
        "dropouts", f"Positions of exactly 0, 0 count as missing ({_count(bad)}, {_when(samples, bad)})."
    )


def _usual_speed(time: np.ndarray, plane: np.ndarray) -> np.ndarray:
    """Give the ground speed (n,) m/s over about a second around each sample, 0 where unknown."""
    ok = np.isfinite(plane).all(axis=1)
    known, place = (time, plane) if ok.all() else (time[ok], plane[ok])
    if known.size < 2:
        return np.zeros(time.size)
    reach = max(1, round(0.5 / max(float(median(np.diff(known))), 1e-3)))
    row = np.arange(known.size)
    ahead, behind = np.minimum(row + reach, known.size - 1), np.maximum(row - reach, 0)
    way = np.hypot(place[ahead, 0] - place[behind, 0], place[ahead, 1] - place[behind, 1])
    speed = way / np.maximum(known[ahead] - known[behind], 1e-9)
    return speed if known is time else np.interp(time, known, speed)


def _runs(same: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Give first and last index of each stretch in which every sample equals the one before."""
    edges = np.diff(np.concatenate([[0], same.view(np.int8), [0]]))
    return np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)


def _mask_frozen(samples: Samples, plane: np.ndarray) -> None:
    """Mask positions that stand still while the craft moves: it jumps after, or has airspeed."""
    first, second, third = samples.position
    time = samples.time
    start, end = _runs((plane[1:] == plane[:-1]).all(axis=1))
    long = (end - start >= _FROZEN_SAMPLES - 1) & (time[end] - time[start] >= _FROZEN_SECONDS)
    start, end = start[long], end[long]
    if not start.size:
        return
    steps = np.hypot(*np.diff(plane, axis=0).T)
    moving = steps[steps > 0.0]
    usual = float(median(moving)) if moving.size else 0.0
    after = np.minimum(end + 1, time.size - 1)
    jump = np.hypot(*(plane[after] - plane[end]).T)
    jumped = (jump > max(8.0 * usual, 2.0 if samples.ship else 8.0)) & (after > end)
    airspeed = samples.channels.get("true_airspeed", samples.channels.get("indicated_airspeed"))
    flying = np.zeros(start.size, bool)
    if airspeed is not None and not samples.ship:
        flying = np.nan_to_num(airspeed[start]) > 1.5 * _FLYING
    frozen = jumped | flying
    if not frozen.any():
        return
    bad = np.zeros(time.size, bool)
    for i, j in zip(start[frozen], end[frozen], strict=True):
        bad[i + 1 : j + 1] = True
    for quantity, values in samples.channels.items():
        if quantity in (first, second, third):
            values[bad] = np.nan
        elif BY_NAME[quantity].smooth:
            values[bad & np.concatenate([[False], values[1:] == values[:-1]])] = np.nan
    lengths = time[end[frozen]] - time[start[frozen]]
    longest = int(np.argmax(lengths))
    paused = " as if the game was paused" if not jumped[frozen].any() else ""
    samples.say(
        "frozen-values",
        f"The position stands still {_times(int(frozen.sum()))} while the craft moves{paused}, longest "
        f"{lengths[longest]:.1f} s at {time[start[frozen][longest]]:.2f} s; those samples count as missing.",
    )


def _times(count: int) -> str:
    return "once" if count == 1 else f"{count} times"


def _mask_carried_forward(samples: Samples) -> None:
    """Mask values that are only repeated until the next one comes, every k-th sample."""
    first, second, _ = samples.position
    smooth = {q: values for q, values in samples.channels.items() if BY_NAME[q].smooth}
    every, repeats = _repeats(list(smooth.values()))
    if every and not all(_a_step_at_a_time(samples, q, repeats, only_round=True) for q in (first, second)):
        others = [values for q, values in samples.channels.items() if q not in smooth]
        later = np.flatnonzero(repeats)
        if all(np.array_equal(values[later], values[later - 1], equal_nan=True) for values in others):
            samples.keep(~repeats)
            done = "left out"
        else:
            for values in smooth.values():
                values[repeats] = np.nan
            done = "only controls and switches of the others used"
        for quantity in smooth:
            _look_at_steps_again(samples, quantity)
        text = (
            f"Every {every} samples stand for one: they repeat the one before until the next comes; {done}."
        )
        samples.say("carried-forward", text)
        return
    told: list[str] = []
    for quantity in smooth:
        if quantity == second:
            continue
        names = (first, second) if quantity == first else (quantity,)
        every, repeats = _repeats([smooth[name] for name in names])
        if every and not all(_a_step_at_a_time(samples, name, repeats) for name in names):
            for name in names:
                smooth[name][repeats] = np.nan
                _look_at_steps_again(samples, name)
            told.append(f"{' and '.join(map(samples.source, names))} every {every}")
    if told:
        samples.say(
            "carried-forward",
            f"Values that are repeated until the next one comes count once: {', '.join(told)} samples.",
        )


def _repeats(group: list[np.ndarray]) -> tuple[int, np.ndarray]:
    """Find how many samples a group of values is held for, 0 where it is not, and the repeats."""
    size = group[0].size
    changed = np.zeros(max(size - 1, 0), bool)
    for values in group:
        changed |= values[1:] != values[:-1]
    share = changed.mean() if changed.size else 1.0
    if share > 0.7 or share < 0.002:
        return 0, changed
    at = np.flatnonzero(changed) + 1
    lengths = np.diff(at)
    if lengths.size < 20:
        return 0, changed
    every = float(median(lengths))
    regular = np.abs(lengths - every) <= max(1.0, 0.25 * every)
    if every < 2.0 or regular.mean() < 0.8 or (lengths == 1).mean() > 0.1:
        return 0, changed
    repeats = np.zeros(size, bool)
    repeats[1:] = ~changed
    for run in np.flatnonzero(lengths > 3.0 * every):
        repeats[at[run] : at[run + 1]] = False
    repeats[: at[0]] &= at[0] <= 3.0 * every
    repeats[at[-1] :] &= size - at[-1] <= 3.0 * every
    return round(every), repeats


def _a_step_at_a_time(
    samples: Samples, quantity: str, repeats: np.ndarray, *, only_round: bool = False
) -> bool:
    """Tell whether a channel moves by a written step or two where it moves: coarse, not held."""
    values = samples.channels[quantity]
    step = samples.steps.get(quantity, 0.0)
    if only_round:
        factor = samples.factor(quantity)
        step = (written_step(values / factor, only_round=True) or 0.0) * factor
    moves = np.abs(np.diff(values[~repeats]))
    moves = moves[moves > 0.0]
    return moves.size == 0 or bool(median(moves) < 2.5 * step)


def _look_at_steps_again(samples: Samples, quantity: str) -> None:
    factor = samples.factor(quantity)
    step = written_step(samples.channels[quantity] / factor)
    if step is None:
        samples.steps.pop(quantity, None)
    else:
        samples.steps[quantity] = step * factor


def _mask_resting(samples: Samples, speed: np.ndarray) -> None:
    """Mask channels that stop changing in flight though they change all the time elsewhere."""
    told: list[str] = []
    height = np.nan_to_num(samples.channels[samples.position[2]])
    for quantity, values in samples.channels.items():
        if not BY_NAME[quantity].smooth or quantity in samples.position:
            continue
        same = values[1:] == values[:-1]
        if not same.any() or same.mean() > 0.3:
            continue
        start, end = _runs(same)
        rests = (
            (end - start >= _RESTING_SAMPLES - 1)
            & (samples.time[end] - samples.time[start] >= _RESTING_SECONDS)
            & (np.minimum(speed[start], speed[end]) > _FLYING)
            & (np.abs(height[end] - height[start]) > _CLIMBED)
        )
        for i, j in zip(start[rests], end[rests], strict=True):
            values[i + 1 : j + 1] = np.nan
        if rests.any():
            i, j = start[rests][0], end[rests][0]
            told.append(
                f"{samples.source(quantity)} {_times(int(rests.sum()))}, first for "
                f"{samples.time[j] - samples.time[i]:.1f} s at {samples.time[i]:.2f} s"
            )
    if told:
        samples.say(
            "frozen-values", f"Values stop changing in flight and count as missing there: {'; '.join(told)}."
        )


def _report_spikes(samples: Samples) -> None:
    """Tell of single samples far off the line between their neighbours; they are kept."""
    told: list[str] = []
    time = samples.time
    share = (time[1:-1] - time[:-2]) / (time[2:] - time[:-2])
    for quantity in _SPIKED:
        values = samples.channels.get(quantity)
        if values is None or values.size < 20:
            continue
        spikes = _spikes(samples, quantity, values, share)
        if spikes.size:
            word = "1 spike" if spikes.size == 1 else f"{spikes.size} spikes"
            told.append(f"{samples.source(quantity)} {word}, first at {samples.time[spikes[0]]:.2f} s")
    if told:
        samples.say("spikes", f"Single samples far from their neighbours: {'; '.join(told)}.")


def _spikes(samples: Samples, quantity: str, values: np.ndarray, share: np.ndarray) -> np.ndarray:
    """Find spikes among (n,) values; ``share`` (n - 2,) is how far on each sample stands in time."""
    ok = np.flatnonzero(np.isfinite(values))
    if ok.size < 20:
        return ok[:0]
    if ok.size < values.size:
        time, values = samples.time[ok], values[ok]
        share = (time[1:-1] - time[:-2]) / (time[2:] - time[:-2])
    if quantity in ("heading", "roll", "longitude"):
        values = angles.unwrap(values)
    bend = values[1:-1] - values[:-2] - share * (values[2:] - values[:-2])
    if quantity in ("latitude", "longitude"):
        bend *= SEMI_MAJOR_AXIS
    off = np.abs(bend)
    least = _SPIKE.get(quantity, _SPIKE_SPEED if quantity == "true_airspeed" else _SPIKE_ANGLE)
    if off.max() <= least:
        return ok[:0]
    least = max(least, 15.0 * float(median(off)))
    if off.max() <= least:
        return ok[:0]
    peak = off > least
    # both neighbours bend back by half as much; a corner of the motion has none that do
    back = -0.25 * bend * np.sign(bend)
    peak[1:] &= bend[:-1] * np.sign(bend[1:]) < back[1:]
    peak[:-1] &= bend[1:] * np.sign(bend[:-1]) < back[:-1]
    return ok[1:-1][peak]
