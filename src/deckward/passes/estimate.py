"""Estimating the state of aircraft and ship over a pass, with its sigma.

Every signal becomes a lane of the fixed-interval smoother; all lanes of all passes of a
recording are smoothed side by side. The aircraft's lanes end where it meets the deck: what
comes after is never smoothed into the approach, and the state up to the contact is carried
on from before it.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct, field

from deckward.foundation import angles, local
from deckward.foundation import smoothing as fis
from deckward.foundation.statistics import median
from deckward.foundation.track import Track
from deckward.passes.axes import Moment
from deckward.passes.ground import Ground

_PLACE = ("north", "east", "down")
_ATTITUDE = ("pitch", "roll", "heading")
#: the lanes that a craft's state is read from
STATES = (*_PLACE, *_ATTITUDE)
#: smallest standard deviation of a sample, m and rad: a millimetre, a thousandth of a degree
_LEAST = {"north": 1e-4, "east": 1e-4, "down": 1e-4}
_LEAST_ANGLE = 1e-6
#: most that a sample's variance may be taken for (rad^2): gusts shake the vane for real
_MOST = {"angle_of_attack": np.radians(0.02) ** 2}
#: and the sigma told for such a channel at the most
_WIDEST_SPREAD = np.radians(0.3)
#: noise that no figure of a pass shows: half a centimetre, 5 cm/s, a few thousandths of a degree
_TRIVIAL = {"north": 5e-3, "east": 5e-3, "down": 5e-3, "true_airspeed": 0.05}
_TRIVIAL_ANGLE = 1e-4
#: samples no further apart than this (s) in the last seconds can be read off without smoothing
_CLOSE, _LATE = 0.12, 30.0
#: a sample this many standard deviations from what the others say is no sample
_GATE = 6.0
#: and a deviation smaller than this (m, m/s, rad) is no spike, however fine the recording
_NO_SPIKE = {
    "north": 0.3,
    "east": 0.3,
    "down": 0.15,
    "true_airspeed": 0.5,
    "pitch": 0.009,
    "roll": 0.035,
    "heading": 0.017,
}
_NO_SPIKE_ANGLE = 2e-3
_EARTH_RADIUS = 6.371e6


class Lane(Struct):
    """One signal over the window of one pass; ``state`` and its ``variances`` (n, 3) once smoothed."""

    name: str
    time: np.ndarray
    value: np.ndarray
    measured: np.ndarray
    least: float
    bias: float = 0.0
    end: int = 0
    variance: float = np.nan
    jerk: float = np.nan
    state: np.ndarray = field(default_factory=lambda: np.empty((0, 3)))
    variances: np.ndarray = field(default_factory=lambda: np.empty((0, 3)))
    filtered: np.ndarray = field(default_factory=lambda: np.empty((0, 3)))
    filtered_covariance: np.ndarray = field(default_factory=lambda: np.empty((0, 3, 3)))
    #: where the recording has a value at all
    given: np.ndarray = field(default_factory=lambda: np.empty(0, dtype=bool))
    #: without noise: read off from the samples, not smoothed
    fine: bool = False
    #: the end that the state was smoothed back from
    smoothed_to: int = -1
    #: log-likelihood reached by the noise levels
    score: float = -np.inf
    #: smallest jerk density believed: nothing that flies holds its path better
    least_jerk: float = 0.0
    #: what a single value may be off, where the lane is not smoothed that far
    spread: float = 0.0
    #: part of the signal that other channels explain, (n, 3), taken out before smoothing
    aid: np.ndarray | None = None
    #: the forward pass that the lane was filtered in, and its column there
    forward: tuple[fis.Filtered, int] | None = None
    shares: np.ndarray | None = None
    #: covariance of the shares, (k, k)
    doubt: np.ndarray | None = None

    @property
    def rejected(self) -> int:
        """Values before the end that stood too far off to be samples."""
        return int((self.given & ~self.measured)[: self.end].sum()) if self.given.size else 0

    @property
    def settled(self) -> bool:
        """Whether the lane's state was given, not smoothed."""
        return bool(self.state.size) and bool(np.isnan(self.variance))

    def carried(self, row: int, when) -> np.ndarray:
        """State (m, 3) at times (m,) if the filtered state at a row simply goes on."""
        step = np.atleast_1d(when) - self.time[row]
        if self.fine:
            value = _filled(self, row + 1)[row - 6 :]
            start = local.last_weights(self.time[row - 6 : row + 1]) @ value
            return fis.extrapolate(start, np.zeros((3, 3)), step, 0.0)[0]
        jerk = self.jerk if np.isfinite(self.jerk) else 0.0
        return fis.extrapolate(self.filtered[row], self.filtered_covariance[row], step, jerk)[0]

    def at(self, when) -> np.ndarray:
        """Value, rate, acceleration (m, 3) at times (m,)."""
        return fis.between_samples(self.time, self.state, when)

    def sigma(self, when, order: int = 0) -> np.ndarray:
        """Standard deviation (m,) of the value (0), rate (1) or acceleration (2) at times."""
        variance = self.variances[:, order]
        i = np.minimum(np.maximum(np.searchsorted(self.time, when), 1), self.time.size - 1)
        near = np.maximum(np.maximum(variance[i - 1], variance[i]), 0.0)
        return np.sqrt(near + self.bias**2) if order == 0 else np.sqrt(near)


class Craft(Struct):
    """The lanes of one craft over one pass, in the plane of ``ground``."""

    ground: Ground
    track: Track
    lanes: dict[str, Lane]
    _read: dict[tuple[str, ...], tuple[tuple[int, ...], np.ndarray]] = field(default_factory=dict)

    def states(self, when, names: tuple[str, ...] = STATES, *, order: int = 2) -> np.ndarray:
        """Value, rate, acceleration (m, 3, k) of lanes, place and attitude unless named, at times (m,).

        ``order`` is that of the last derivative wanted.
        """
        lanes = [self.lanes[name] for name in names]
        stamp = tuple(id(lane.state) for lane in lanes)
        read = self._read.get(names)
        if read is None or read[0] != stamp:
            read = self._read[names] = (stamp, np.stack([lane.state for lane in lanes], axis=-1))
        return fis.between_samples(lanes[0].time, read[1], when, order=order)

    def place(self, when) -> tuple[np.ndarray, np.ndarray]:
        """Place and velocity (m, 3) each, at times (m,)."""
        states = self.states(when, _PLACE, order=1)
        return states[:, 0], states[:, 1]

    def speed(self, when) -> np.ndarray:
        """Speed against the earth (m,), m/s."""
        return np.linalg.norm(self.place(when)[1], axis=-1)

    def attitude(self, when) -> np.ndarray:
        """Pitch, roll, heading (m, 3), rad."""
        return self.states(when, _ATTITUDE, order=0)[:, 0]


def moment(aircraft: Craft, ship: Craft, when) -> Moment:
    """Put the estimated state of both craft at times (m,) together."""
    when = np.atleast_1d(np.asarray(when, dtype=float))
    own, deck = aircraft.states(when, order=1), ship.states(when, order=1)
    pitch, roll, heading = own[:, 0, 3:].T
    ship_pitch, ship_roll, ship_heading = deck[:, 0, 3:].T
    return Moment(
        when,
        own[:, 0, :3],
        own[:, 1, :3],
        pitch,
        roll,
        heading,
        deck[:, 0, :3],
        deck[:, 1, :3],
        ship_pitch,
        ship_roll,
        ship_heading,
        deck[:, 1, 3:],
    )


def lanes_of(
    track: Track, ground: Ground, *, extra: tuple[str, ...] = (), least_jerk: float = 0.0
) -> dict[str, Lane]:
    """Make unsmoothed lanes from a track: place, attitude where recorded, and extras."""
    lanes: dict[str, Lane] = {}
    track = _without_frozen(track)
    place = ground.place(track)
    for axis, name in enumerate(_PLACE):
        lanes[name] = _lane(name, track, place[:, axis], _place_rounding(track, name))
        lanes[name].least_jerk = least_jerk
    for name in (*_ATTITUDE, *extra):
        values = track.get(name)
        if values is None or np.isfinite(values).sum() < min(4, len(track)):
            continue
        if name == "heading":
            values = angles.unwrap(values)
        lanes[name] = _lane(name, track, values, track.sigma.get(name, 0.0))
    return lanes


def _without_frozen(track: Track) -> Track:
    """Blank samples that repeat the place before them to the last digit while the craft moves."""
    first, second = ("latitude", "longitude") if track.geodetic else ("north", "east")
    if len(track) < 8:
        return track
    same = np.zeros(len(track), dtype=bool)
    same[1:] = (np.diff(track[first]) == 0.0) & (np.diff(track[second]) == 0.0)
    if not same.any() or all(_creeps(track, name) for name in (first, second)):
        return track
    around = np.convolve(~same, np.ones(9), mode="same") >= 3.0
    frozen = same & (around | (_length_of_runs(same) * median(np.diff(track.time)) < 5.0))
    repeated = {
        name: np.where(frozen & (np.diff(values, prepend=np.nan) == 0.0), np.nan, values)
        for name, values in track.channels.items()
    }
    return track.with_channels(**repeated)


def _creeps(track: Track, name: str) -> bool:
    """Whether a channel moves by one step of its scale at a time: it repeats because it is coarse.

    The first sample of a step is half a step from the truth, the samples of a step together are not.
    """
    moves = np.abs(np.diff(track[name]))
    moves = moves[moves > 0.0]
    return not moves.size or float(median(moves)) < 2.0 * np.sqrt(12.0) * track.sigma.get(name, 0.0)


def _length_of_runs(mask: np.ndarray) -> np.ndarray:
    """For each True, how many Trues stand in its run; 0 elsewhere."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], mask, [False]]).astype(int)))
    out = np.zeros(mask.size)
    for start, stop in edges.reshape(-1, 2):
        out[start:stop] = stop - start
    return out


def _step_sigma(values: np.ndarray) -> float:
    """What rounding leaves of a signal that dwells on the steps of a scale, one sigma; else 0."""
    change = np.abs(np.diff(values[np.isfinite(values)]))
    moved = change[change > 0.0]
    if moved.size < 3 or moved.size > 0.8 * change.size:
        return 0.0
    step = float(np.min(moved))
    if median(moved) > 1.05 * step and np.mean(np.abs(moved / step - np.rint(moved / step)) < 0.02) < 0.95:
        return 0.0
    return step / np.sqrt(12.0)


def _place_rounding(track: Track, axis: str) -> float:
    """Standard deviation (m) that the file's rounding leaves in one axis of the place."""
    if track.geodetic:
        name = {"north": "latitude", "east": "longitude", "down": "altitude"}[axis]
    else:
        name = {"down": "up"}.get(axis, axis)
    sigma = max(track.sigma.get(name, 0.0), _step_sigma(track[name]))
    if name == "latitude":
        return sigma * _EARTH_RADIUS
    if name == "longitude":
        latitude = track["latitude"]
        return sigma * _EARTH_RADIUS * float(np.cos(median(latitude[np.isfinite(latitude)])))
    return sigma


def _lane(name: str, track: Track, values: np.ndarray, rounding: float) -> Lane:
    if name not in _PLACE:
        rounding = max(rounding, _step_sigma(values))
    least = max(_LEAST.get(name, _LEAST_ANGLE), rounding)
    measured = np.isfinite(values)
    measured &= ~_spikes(name, track.time, values, measured, least)
    return Lane(
        name,
        track.time,
        np.where(measured, values, 0.0),
        measured,
        least,
        bias=_rounding_bias(values[measured], rounding),
        end=len(track),
        given=np.isfinite(values),
    )


def _rounding_bias(values: np.ndarray, rounding: float) -> float:
    """What rounding leaves however many samples are averaged.

    Samples that fall into one step of the rounding all carry the same error: a value that
    crosses k steps over the window leaves about the step's sigma over sqrt(k + 1).
    """
    if rounding <= 0.0 or values.size < 2:
        return 0.0
    tail = values[-min(values.size, 60) :]
    crossed = np.ptp(tail) / (rounding * np.sqrt(12.0))
    return rounding / np.sqrt(crossed + 1.0)


def _spikes(name: str, time, values, measured, least: float) -> np.ndarray:
    """Single samples far off the line between their neighbours, (n,) mask."""
    bad = np.zeros(values.size, dtype=bool)
    for _ in range(3):
        index = np.flatnonzero(measured & ~bad)
        if index.size < 7:
            return bad
        t, v = time[index], values[index]
        share = (t[1:-1] - t[:-2]) / (t[2:] - t[:-2])
        off = v[1:-1] - (v[:-2] + share * (v[2:] - v[:-2]))
        scale = max(1.4826 * float(median(np.abs(off))), 2.0 * least)
        # a spike leaves half of itself in both neighbours' residuals, a jolt all of it in one
        size = np.abs(off)
        local = size >= 1.5 * np.maximum(np.append(size[1:], 0.0), np.insert(size[:-1], 0, 0.0))
        smallest = _NO_SPIKE.get(name, _NO_SPIKE_ANGLE)
        worst = (size > 15.0 * scale) & local & (size > smallest)
        if not worst.any():
            break
        bad[index[1:-1][worst]] = True
    return bad


def smooth(lanes: list[Lane]) -> None:
    """Find each lane's noise, then filter and smooth lanes side by side, filling in their states."""
    live = [lane for lane in lanes if lane.measured[: lane.end].sum() >= 4]
    if not live:
        return
    time, value, measured = stack(live)
    within = measured & (np.arange(time.shape[0])[:, None] < [lane.end for lane in live])
    least = np.array([lane.least for lane in live])
    trivial = np.array([_TRIVIAL.get(lane.name, _TRIVIAL_ANGLE) for lane in live])
    noise = fis.noise_levels(time, value, within, least, trivial=trivial)
    columns = (noise.variance, noise.jerk, noise.score, noise.quiet)
    for lane, r, q, score, quiet in zip(live, *columns, strict=True):
        most = _MOST.get(lane.name, np.inf)
        lane.variance, lane.score = min(float(r), most), float(score)
        lane.jerk = max(float(q), lane.least_jerk)
        lane.fine = bool(quiet) and _is_whole(lane)
        if lane.name in _MOST:
            lane.spread = float(np.clip(np.sqrt(r), np.sqrt(most), _WIDEST_SPREAD))
    read_off([lane for lane in live if lane.fine])
    run([lane for lane in live if not lane.fine])


def _is_whole(lane: Lane) -> bool:
    """Whether every sample is there, close enough together to be read off."""
    step = np.diff(lane.time)
    late = lane.time[1:] > lane.time[-1] - _LATE
    close = float(step.max()) < 2.0 * _CLOSE and float(step[late].max()) < _CLOSE
    missing = ~lane.measured[: lane.end]
    alone = not (missing[1:] & missing[:-1]).any() and missing.mean() < 0.01
    return close and lane.end >= 2 * 7 and bool(alone) and not missing[-3:].any()


def read_off(lanes: list[Lane]) -> None:
    """Take the states of lanes without noise from the samples themselves."""
    groups: dict[tuple[int, int], list[Lane]] = {}
    for lane in lanes:
        groups.setdefault((id(lane.time), lane.end), []).append(lane)
    for (_, end), group in groups.items():
        time = group[0].time
        first, kind, weight = local.weights(time, end)
        values = np.stack([_filled(lane, end) for lane in group], axis=-1)
        state = local.states(values, first, weight[kind])
        spread = np.einsum("nip,njp->nij", weight, weight)
        variances = np.diagonal(spread, axis1=1, axis2=2)[kind]
        for j, lane in enumerate(group):
            lane.state = np.empty((time.size, 3))
            lane.variances = np.empty((time.size, 3))
            lane.state[:end], lane.variances[:end] = state[..., j], variances * lane.variance
            if end < time.size:
                ahead = time[end:] - time[end - 1]
                lane.state[end:], covariance = fis.extrapolate(
                    lane.state[end - 1], spread[kind[end - 1]] * lane.variance, ahead, lane.jerk
                )
                lane.variances[end:] = np.diagonal(covariance, axis1=1, axis2=2)
            lane.smoothed_to = end


def run(lanes: list[Lane]) -> None:
    """Filter and smooth lanes at the noise levels they have, leaving out what is no sample."""
    if not lanes:
        return
    for _ in range(3):
        time, value, measured = stack(lanes)
        variance = np.where(measured, [lane.variance for lane in lanes], np.inf)
        jerk = np.array([lane.jerk for lane in lanes])
        end = np.array([lane.end for lane in lanes])
        forward = _follow_bends(fis.filter_forward(time, value, variance, jerk), value, variance, end)
        backward = fis.smooth_backward(forward, end)
        for j, lane in enumerate(lanes):
            lane.forward = (forward, j)
            _fill(lane, forward, backward, j)
        least = np.array([_NO_SPIKE.get(lane.name, _NO_SPIKE_ANGLE) for lane in lanes])
        with np.errstate(invalid="ignore"):
            ratio = np.abs(np.nan_to_num(backward.residual / backward.residual_sigma))
        off = (ratio > _GATE) & _worst_of_neighbours(ratio)
        off &= np.abs(np.nan_to_num(backward.residual)) > least
        again = [lane for j, lane in enumerate(lanes) if off[:, j].any()]
        if not again:
            return
        for j, lane in enumerate(lanes):
            out = off[: lane.time.size, j]
            lane.measured = lane.measured & ~out
        lanes = again


def _filled(lane: Lane, end: int) -> np.ndarray:
    """Values up to ``end`` with the few missing ones put on the line between their neighbours."""
    ok = lane.measured[:end]
    if ok.all():
        return lane.value[:end]
    return np.interp(lane.time[:end], lane.time[:end][ok], lane.value[:end][ok])


def end_anew(lanes: list[Lane]) -> None:
    """Smooth lanes back again from ends that have moved."""
    read_off([lane for lane in lanes if lane.fine])
    groups: dict[int, list[Lane]] = {}
    for lane in lanes:
        if lane.forward is not None and not lane.fine:
            groups.setdefault(id(lane.forward[0]), []).append(lane)
    for group in groups.values():
        assert group[0].forward is not None
        forward = group[0].forward[0].take([lane.forward[1] for lane in group if lane.forward])
        backward = fis.smooth_backward(forward, np.array([lane.end for lane in group]))
        for j, lane in enumerate(group):
            _fill(lane, forward, backward, j)


def _fill(lane: Lane, forward: fis.Filtered, backward: fis.Smoothed, j: int) -> None:
    n = lane.time.size
    aid = 0.0 if lane.aid is None else lane.aid
    lane.state = backward.state[:n, :, j] + aid
    lane.variances = np.diagonal(backward.covariance[:n, :, :, j], axis1=1, axis2=2)
    lane.filtered = forward.state[:n, :, j] + aid
    lane.filtered_covariance = forward.covariance[:n, :, :, j]
    lane.smoothed_to = lane.end


def _follow_bends(forward: fis.Filtered, value, variance, end) -> fis.Filtered:
    """Give jerk where a lane bends more than its usual jerk lets it follow.

    A path may be straight for a minute and bend in its last second; there the
    innovations outgrow their variance, and the jerk is raised for those rows until they
    fit. Spikes are no bends: a single innovation counts for no more than four sigma.
    """
    n = forward.time.shape[0]
    boost = np.ones_like(forward.time)
    live = np.arange(forward.time.shape[1])
    current = forward
    changed = False
    for _ in range(4):
        with np.errstate(invalid="ignore"):
            power = np.minimum(current.innovation**2 / current.innovation_variance, 16.0)
        power[:10] = np.nan
        power[np.arange(n)[:, None] >= end[live]] = np.nan
        mean, count = _moving_mean(power, current.time)
        bent = mean > 1.0 + 4.0 * np.sqrt(2.0 / np.maximum(count, 3.0))
        bent &= count >= 3.0
        rows = bent.any(axis=0)
        if not rows.any():
            break
        live = live[rows]
        boost[:, live] *= np.where(bent[:, rows], np.clip(mean[:, rows], 2.0, 8.0) ** 2, 1.0)
        first = int(bent.any(axis=1).argmax())
        current = fis.filter_forward(
            forward.time[:, live],
            value[:, live],
            variance[:, live],
            forward.jerk[0, live] * boost[:, live],
            begun=current.take(rows) if first else None,
            row=first,
        )
        if not changed:
            forward = fis.Filtered(**{k: getattr(forward, k).copy() for k in forward.__struct_fields__})
            changed = True
        for name in forward.__struct_fields__:
            getattr(forward, name)[..., live] = getattr(current, name)
    return forward


def _moving_mean(values: np.ndarray, time: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Mean over about a second round each row, and how many values it is of; (n, L) each."""
    step = median(np.diff(time, axis=0), axis=0)
    half = int(np.clip(round(0.5 / max(float(median(step)), 1e-3)), 2, 30))
    ok = np.isfinite(values)
    kernel = 2 * half + 1
    total, count = (
        np.cumsum(np.pad(a, ((half + 1, half), (0, 0))), axis=0)
        for a in (np.where(ok, values, 0.0), ok.astype(float))
    )
    total, count = total[kernel:] - total[:-kernel], count[kernel:] - count[:-kernel]
    return total / np.maximum(count, 1.0), count


def _worst_of_neighbours(size: np.ndarray) -> np.ndarray:
    """Whether a residual is the greatest among five rows, so that one spike takes one sample."""
    around = size.copy()
    for shift in (1, 2):
        around[shift:] = np.maximum(around[shift:], size[:-shift])
        around[:-shift] = np.maximum(around[:-shift], size[shift:])
    return size >= around


def stack(lanes: list[Lane]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Lay lanes side by side, (n, L); rows past a lane's end repeat its last time, unmeasured."""
    n = max(lane.time.size for lane in lanes)
    time = np.empty((n, len(lanes)))
    value = np.zeros((n, len(lanes)))
    measured = np.zeros((n, len(lanes)), dtype=bool)
    for j, lane in enumerate(lanes):
        m = lane.time.size
        time[:m, j] = lane.time
        time[m:, j] = lane.time[-1]
        value[:m, j] = lane.value if lane.aid is None else lane.value - lane.aid[:, 0]
        measured[:m, j] = lane.measured
    return time, value, measured
