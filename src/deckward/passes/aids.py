"""Helping a noisy track with what other channels say about how it bends.

Between two fixes a place can wander no further than lift, airspeed and heading let it.
Each such channel gives a known shape: the path that its integral would fly. A lane is then
fitted as a share of each shape plus what the smoother's own model leaves free, and only the
rest is smoothed. Shares and noise come from the recording itself, and a lane takes the help
only where its likelihood grows by more than the freedom that the shares bought: a channel
that says nothing, or something wrong, changes nothing.
"""

from __future__ import annotations

import numpy as np

from deckward.foundation import smoothing as fis
from deckward.foundation.statistics import median
from deckward.foundation.units import STANDARD_GRAVITY
from deckward.passes.estimate import Craft, Lane, run, stack

#: a lane with less noise than this (m) needs no help
_QUIET = {"down": 0.02, "north": 0.05, "east": 0.05}
#: log-likelihood that a share must bring (Akaike, 1974: one per parameter; doubled)
_PRICE = 2.0
#: shares are of the order of one
_SPREAD = 1.5
#: jerk density (m^2/s^5) that gusts leave even of a path that every channel explains
_LEAST_JERK = 1e-5


def aid(crafts: list[Craft]) -> None:
    """Find out for each noisy place lane whether other channels help, and smooth it with them."""
    for craft in crafts:
        lanes = [
            lane
            for name, quiet in _QUIET.items()
            if (lane := craft.lanes[name]).variance > quiet**2 and not lane.settled
        ]
        for lane in lanes:
            _try(craft, lane)


def refresh(crafts: list[Craft]) -> None:
    """Smooth helped lanes again with shapes from attitude and airspeed as they are now."""
    for craft in crafts:
        for name in _QUIET:
            lane = craft.lanes[name]
            if lane.shares is not None:
                shapes = _shapes(craft, lane)
                lane.aid = np.einsum("k,knj->nj", lane.shares, shapes)
                run([lane])
                _add_doubt(lane, shapes)


def _add_doubt(lane: Lane, shapes: np.ndarray) -> None:
    """Add to a lane's variances what the doubt of its shares leaves.

    An error of a share moves the lane by the share's shape, less what the smoother makes
    good of it: the shape minus the shape smoothed as the lane is.
    """
    assert lane.doubt is not None
    count = shapes.shape[0]
    time = np.repeat(lane.time[:, None], count, axis=1)
    variance = np.where(lane.measured, lane.variance, np.inf)[:, None]
    forward = fis.filter_forward(
        time, shapes[:, :, 0].T, np.repeat(variance, count, axis=1), np.full(count, lane.jerk)
    )
    made_good = fis.smooth_backward(forward, np.full(count, lane.end)).state
    left = np.moveaxis(shapes, 0, -1) - made_good
    lane.variances = lane.variances + np.einsum("nik,kl,nil->ni", left, lane.doubt, left)


def _try(craft: Craft, lane: Lane) -> None:
    shapes = _shapes(craft, lane)
    if not len(shapes):
        return
    time, value, measured = stack([lane])
    measured &= (np.arange(time.shape[0]) < lane.end)[:, None]
    columns = shapes[:, :, :1]
    variance, jerk = lane.variance, lane.jerk
    best: tuple[float, fis.Noise, np.ndarray, np.ndarray] | None = None
    for _ in range(3):
        weight = np.where(measured, variance, np.inf)
        shares, doubts = fis.regress(time, value, weight, np.array([jerk]), columns, spread=_SPREAD)
        rest = value - np.einsum("kl,knl->nl", shares, columns)
        noise = fis.noise_levels(time, rest, measured, np.array([lane.least]))
        if best is None or noise.score[0] > best[0]:
            best = (float(noise.score[0]), noise, shares[:, 0], doubts[:, :, 0])
        variance, jerk = float(noise.variance[0]), max(float(noise.jerk[0]), _LEAST_JERK)
    assert best is not None
    score, noise, found, doubt = best
    if score < lane.score + _PRICE * len(shapes):
        return
    lane.variance, lane.score = float(noise.variance[0]), score
    lane.jerk = max(float(noise.jerk[0]), _LEAST_JERK)
    lane.shares, lane.doubt = found, doubt
    lane.aid = np.einsum("k,knj->nj", found, shapes)
    run([lane])
    _add_doubt(lane, shapes)


def _shapes(craft: Craft, lane: Lane) -> np.ndarray:
    """Shapes (k, n, 3) that recorded channels give a place lane: path, rate, acceleration."""
    time = lane.time
    read = _Reader(craft, time)
    rates: list[np.ndarray] = []
    bends: list[np.ndarray] = []
    if lane.name == "down":
        bends += _lift(read)
        rates += _descent(read)
    else:
        rates += _ground_run(read, lane.name)
    shapes = [_from_rate(time, rate, lane.end) for rate in rates]
    shapes += [_from_bend(time, bend, lane.end) for bend in bends]
    return np.array(shapes) if shapes else np.empty((0, time.size, 3))


class _Reader:
    """Channels at the lane's own times, smoothed where they are lanes, else as recorded."""

    def __init__(self, craft: Craft, time: np.ndarray) -> None:
        self.craft, self.time = craft, time

    def __call__(self, name: str) -> np.ndarray | None:
        lane = self.craft.lanes.get(name)
        if lane is not None and lane.state.size and not lane.settled:
            return lane.at(self.time)[:, 0]
        values = self.craft.track.get(name)
        if values is None:
            return None
        ok = np.isfinite(values)
        if ok.sum() < 8:
            return None
        return np.interp(self.time, self.craft.track.time[ok], values[ok])


def _lift(read: _Reader) -> list[np.ndarray]:
    """Downward acceleration that falls short of lift: angle of attack, airspeed and bank; load factor."""
    out = []
    roll = read("roll")
    upright = np.cos(roll) if roll is not None else 1.0
    attack, speed = read("angle_of_attack"), read("true_airspeed")
    if attack is not None:
        squared = 1.0 if speed is None else speed**2
        lift = attack * squared * upright
        out.append(STANDARD_GRAVITY * (1.0 - lift / median(lift)))
        if speed is not None:
            plain = squared * upright
            out.append(STANDARD_GRAVITY * (1.0 - plain / median(plain)))
    load = read("normal_acceleration")
    if load is not None:
        out.append(STANDARD_GRAVITY - np.abs(load) * upright)
    return out


def _descent(read: _Reader) -> list[np.ndarray]:
    """Rates of descent: as recorded, and through the air from attitude and angle of attack."""
    out = []
    climb = read("vertical_speed")
    if climb is not None:
        out.append(-climb)
    down = read("velocity_down")
    if down is not None:
        out.append(down)
    pitch, attack, speed = read("pitch"), read("angle_of_attack"), read("true_airspeed")
    if pitch is not None and attack is not None and speed is not None:
        roll = read("roll")
        upright = np.cos(roll) if roll is not None else 1.0
        out.append(-speed * np.sin(pitch - attack * upright))
    return out


def _ground_run(read: _Reader, axis: str) -> list[np.ndarray]:
    """Rates along one axis: as recorded, and through the air along the heading."""
    out = []
    recorded = read(f"velocity_{axis}")
    if recorded is not None:
        out.append(recorded)
    speed, heading = read("true_airspeed"), read("heading")
    if speed is not None and heading is not None:
        out.append(speed * (np.cos(heading) if axis == "north" else np.sin(heading)))
    elif heading is not None and (roll := read("roll")) is not None:
        turn = STANDARD_GRAVITY * np.tan(roll)
        side = -np.sin(heading) if axis == "north" else np.cos(heading)
        out.append(_integral(read.time, turn * side))
    return out


def _integral(time: np.ndarray, rate: np.ndarray) -> np.ndarray:
    steps = 0.5 * (rate[1:] + rate[:-1]) * np.diff(time)
    return np.concatenate([[0.0], np.cumsum(steps)])


def _from_rate(time, rate, end: int) -> np.ndarray:
    """Path, rate, acceleration (n, 3) of a rate; it stops changing its bend at ``end``."""
    return _from_bend(time, np.gradient(rate, time), end, float(rate[0]))


def _from_bend(time, bend, end: int, start: float = 0.0) -> np.ndarray:
    """Path, rate, acceleration (n, 3) of an acceleration, held from row ``end`` on."""
    bend = bend.copy()
    lately = (time[:end] > time[max(end - 1, 0)] - 0.4) if end else slice(0, 1)
    bend[end:] = np.mean(bend[:end][lately]) if end else 0.0
    rate = start + _integral(time, bend)
    return np.stack([_integral(time, rate), rate, bend], axis=-1)
