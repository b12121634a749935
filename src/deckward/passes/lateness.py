"""How late a recorded height, or attitude, comes after what goes with it.

Airspeed, attitude and angle of attack say how fast an aircraft climbs through the air. Where its
path bends, above all where it meets the deck or is taken up for a wave-off, the recorded height
must bend at the same moment; if it bends later, its writer held it back. A height that is late by
a tenth of a second puts the touchdown seven metres too far up the deck.

The height is compared with the integral of the climb by second differences, which are blind to an
unknown start, to a steady wind and to a steady error of the vane. Least squares; the covariance
takes the residuals' own correlation (sandwich, Newey and West, Econometrica 55, 1987).
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from deckward.errors import Note
from deckward.foundation.statistics import median
from deckward.foundation.track import Track
from deckward.passes.finder import Window

#: seconds before a pass ends that are looked at, and the share of airspeed below which it has ended
_BEFORE, _SLOW = 14.0, 0.75
#: seconds between the samples of a second difference
_SPANS = (0.15, 0.3, 0.6, 1.2)
#: and seconds before the end of which a parabola is taken out
_WHOLE = (3.0, 6.0)
#: one standard deviation of what may be wrong beside the height: attitude late (s), vane's scale
_PRIOR = np.array([np.inf, 0.15, 0.03])
#: latest height looked for, s, and least lateness, or sigma of it, that makes any difference
_LATEST, _LEAST = 0.6, 0.005
#: share of recordings whose height is late, how late those usually are, and how far the values of one
#: row may stand apart without being late, s: chosen by us
_SOME, _USUAL = 0.2, 0.15
_ONE_FRAME = (0.01, 0.01)
#: a sigma (s) above which a pass says nothing
_VAGUE = 0.2
#: share of a contradiction that a lateness may leave unexplained, and how far what is left may be from
#: the noise of most rows: chosen by us
_UNEXPLAINED, _WHITE = 0.3, 3.0
#: a variance is this much greater than residuals tell: the few rows where a path bends decide it
_FEW = 2.0
#: seconds that an attitude seems late where airspeed is told of a point two metres from the track's,
#: or where gusts pitch the aircraft as they lift it: chosen by us
_ARM = 0.05
_WHAT = ("height", "attitude")
_CHANNELS = {"height": ("altitude", "up"), "attitude": ("pitch", "roll", "heading")}
_WITNESS = {
    "height": "attitude, angle of attack and airspeed",
    "attitude": "height, angle of attack and airspeed",
}
#: no better known than this share of the step between samples: chosen by us
_SHARE_OF_STEP = 0.05
_TURNS = 9
#: a sigma (s) that asks for no better one
_ENOUGH = 0.01
#: a residual this many times the usual is a spike
_SPIKE = 6.0


class Lateness(Struct, frozen=True):
    """Seconds (2,) that height and attitude come late, and their covariance (2, 2)."""

    seconds: np.ndarray
    covariance: np.ndarray

    @property
    def sigma(self) -> np.ndarray:
        """Standard deviations (2,), s."""
        return np.sqrt(np.diag(self.covariance))


def lateness(track: Track, windows: Sequence[Window]) -> Lateness | None:
    """Estimate how late height and attitude of a track are, from its passes.

    None where the recording has not what tells: pitch, angle of attack and true airspeed.
    """
    found = [one for window in windows if (one := _of_pass(track, window)) is not None]
    if not found:
        return None
    weights = [np.linalg.inv(one.covariance) for one in found]
    covariance = np.linalg.inv(sum(weights))
    mean = covariance @ sum(w @ one.seconds for w, one in zip(weights, found, strict=True))
    misfit = sum(
        float((one.seconds - mean) @ w @ (one.seconds - mean)) for w, one in zip(weights, found, strict=True)
    )
    return Lateness(mean, covariance * max(misfit / max(2 * len(found) - 2, 1), 1.0))


def made_good(track: Track, late: Lateness | None) -> tuple[Track, list[Note]]:
    """Give the track with what is late at the time it belongs to, as far as it is likely to be late."""
    notes: list[Note] = []
    believed = _believed(late) if late is not None else ()
    for name, (seconds, sigma) in zip(_WHAT, believed, strict=False):
        if seconds < _LEAST and sigma < _LEAST:
            continue
        channels = dict(track.channels)
        if seconds >= _LEAST:
            for channel in _CHANNELS[name]:
                if channel in channels:
                    channels[channel] = _later(track.time, channels[channel], seconds, channel == "heading")
            text = (
                f"The {name} comes {seconds:.2f} s (sigma {sigma:.2f}) later than {_WITNESS[name]} say; "
                "it was moved to where it belongs."
            )
            notes.append(Note(f"late-{name}", text))
        track = Track(track.who, track.time, channels, {**track.sigma, f"late-{name}": sigma})
    return track, notes


def _believed(late: Lateness) -> list[tuple[float, float]]:
    """Mean and sigma (s) of how late height and attitude are, whether or not either is late at all.

    Most writers put all of a row at one time. Four cases are weighed by their likelihood and by how
    common they are: none is late, the height, the attitude, both. What is made good is the mean of
    the four, with a sigma that holds them all.
    """
    cases = []
    for some in itertools.product((False, True), repeat=2):
        prior = np.diag(np.where(some, _USUAL**2, 0.0))
        total = prior + late.covariance + np.diag(np.square(_ONE_FRAME))
        share = prior @ np.linalg.inv(total)
        mean, left = share @ late.seconds, prior - share @ prior
        weight = math.exp(-0.5 * late.seconds @ np.linalg.solve(total, late.seconds))
        weight /= math.sqrt(np.linalg.det(total))
        for i in np.flatnonzero(some):
            # late, not early
            weight *= math.erfc(-mean[i] / math.sqrt(2.0 * left[i, i]))
        weight *= math.prod(_SOME if one else 1.0 - _SOME for one in some)
        cases.append((weight, np.maximum(mean, 0.0), np.diag(left)))
    weights, means, variances = (np.array(column) for column in zip(*cases, strict=True))
    weights = weights / max(weights.sum(), 1e-300)
    mean = weights @ means
    variance = weights @ (variances + (means - mean) ** 2)
    return [(float(m), float(np.sqrt(v))) for m, v in zip(mean, variance, strict=True)]


def _later(time, values, late: float, turns: bool) -> np.ndarray:
    """Values (n,) read ``late`` seconds after each sample: cubic through four samples, NaN past the end."""
    ok = np.isfinite(values)
    t, v = time[ok], values[ok]
    if turns:
        v = np.unwrap(v)
    if t.size < 4:
        return np.full(time.size, np.nan)
    when = time + late
    i = np.clip(np.searchsorted(t, when, side="right") - 1, 1, t.size - 3)
    out = np.zeros(time.size)
    nodes = [t[i + k] for k in (-1, 0, 1, 2)]
    for k, node in enumerate(nodes):
        weight = np.ones(time.size)
        for j, other in enumerate(nodes):
            if j != k:
                weight *= (when - other) / (node - other)
        out += weight * v[i - 1 + k]
    straight = np.interp(when, t, v)
    # over a gap, or where the height jumps, a cubic swings
    out = np.where((nodes[3] - nodes[0]) > 4.5 * float(median(np.diff(t))), straight, out)
    out = np.where(ok & (when <= t[-1]), out, np.nan)
    return out % (2.0 * np.pi) if turns else out


def _of_pass(track: Track, window: Window) -> Lateness | None:
    part = track.between(window.end - _BEFORE, window.end)
    height = part.get("altitude" if part.geodetic else "up")
    pitch, attack, speed = (part.get(name) for name in ("pitch", "angle_of_attack", "true_airspeed"))
    if height is None or pitch is None or attack is None or speed is None:
        return None
    roll = part.get("roll")
    channels = [height, pitch, attack, speed, np.zeros(len(part)) if roll is None else roll]
    known = [np.isfinite(values) for values in channels]
    if min(int(ok.sum()) for ok in known) < 40:
        return None
    first, last = (f(part.time[ok][e] for ok in known) for f, e in ((max, 0), (min, -1)))
    step = float(median(np.diff(part.time)))
    if not (last - first > 4.0 and 0.005 < step < 0.25):
        return None
    time = np.arange(first, last, step)
    height, pitch, attack, speed, roll = (
        np.interp(time, part.time[ok], values[ok]) for ok, values in zip(known, channels, strict=True)
    )
    flying = np.flatnonzero(speed < _SLOW * float(median(speed[: max(speed.size // 2, 1)])))
    stop = int(flying[0]) if flying.size else time.size
    if (stop - 1) * step < 4.0:
        return None
    kept = [a[:stop] for a in (time, height, pitch, attack, speed, roll)]
    return _fit(*kept, step=step)


def _fit(time, height, pitch, attack, speed, roll, *, step: float) -> Lateness | None:
    best: Lateness | None = None
    climb = _climb(time, time, pitch, roll, attack, speed)
    tries = np.arange(0.0, _LATEST, 0.1)
    shifted = [height - _earlier(time - late, time, climb) for late in tries]
    for bend in _bends(time.size, step):
        start = tries[np.argmin([np.sum(bend(values) ** 2) for values in shifted])]
        late, covariance = np.array([start, 0.0, 0.0]), np.full((3, 3), np.inf)
        for _ in range(_TURNS):
            climb = _climb(time + late[1], time, pitch, roll, attack, speed)
            tilted = _climb(time + late[1] + step, time, pitch, roll, attack, speed)
            then = time - late[0]
            moved = height - _earlier(then, time, climb)
            shapes = (
                -np.interp(then, time, climb),
                _integral((tilted - climb) / step, step),
                _integral(-speed * attack, step),
            )
            change, covariance, left = _solve(bend(moved), bend(np.column_stack(shapes)), late, bend.reach)
            late[:2] = np.clip(late + change, -_LATEST, _LATEST)[:2]
            if (np.abs(change[:2]) < np.maximum(1e-3, 0.2 * np.sqrt(np.diag(covariance)[:2]))).all():
                break
        noise = 1.4826 * float(median(np.abs(left)))
        if np.sum(left**2) > max(_UNEXPLAINED * np.sum(bend(shifted[0]) ** 2), _WHITE * left.size * noise**2):
            return None  # the channels contradict each other by more than a lateness, or by nothing at all
        least = np.diag(np.square([_SHARE_OF_STEP * step, _ARM]))
        found = Lateness(late[:2], _FEW * covariance[:2, :2] + least)
        if not (np.abs(late[:2]) < _LATEST).all() or not (found.sigma < _VAGUE).all():
            continue
        if best is None or found.sigma[0] < best.sigma[0]:
            best = found
            if best.sigma[0] < _ENOUGH:
                break
    return best


def _climb(when, time, pitch, roll, attack, speed) -> np.ndarray:
    """Rate of climb through the air (n,), m/s, with the attitude of another time; no sideslip."""
    p, r = (np.interp(when, time, a) for a in (pitch, roll))
    return speed * (np.cos(attack) * np.sin(p) - np.sin(attack) * np.cos(r) * np.cos(p))


def _earlier(when, time, climb) -> np.ndarray:
    """Height flown (n,) at other times; before the first sample it goes on as it began."""
    flown = _integral(climb, float(time[1] - time[0]))
    return np.interp(when, time, flown) + float(climb[0]) * np.minimum(when - time[0], 0.0)


class _Second:
    """Second differences over a stride of rows."""

    def __init__(self, stride: int) -> None:
        self.stride, self.reach = stride, 4 * stride

    def __call__(self, values: np.ndarray) -> np.ndarray:
        s = self.stride
        return values[: -2 * s] - 2.0 * values[s:-s] + values[2 * s :]


class _Rest:
    """What a parabola leaves of the last rows."""

    def __init__(self, rows: int) -> None:
        self.rows, self.reach = rows, rows // 4
        self.basis = np.linalg.qr(np.linspace(-1.0, 1.0, rows)[:, None] ** np.arange(3))[0]

    def __call__(self, values: np.ndarray) -> np.ndarray:
        late = values[-self.rows :]
        return late - self.basis @ (self.basis.T @ late)


def _bends(rows: int, step: float) -> list[_Second | _Rest]:
    """Ways to see where a path bends; which is best depends on noise and gusts."""
    strides = [max(round(span / step), 1) for span in _SPANS]
    wholes = [round(span / step) for span in _WHOLE]
    return [
        *(_Second(stride) for stride in strides if 6 * stride <= rows),
        *(_Rest(count) for count in wholes if count <= rows),
    ]


def _solve(z: np.ndarray, x: np.ndarray, had: np.ndarray, reach: int):
    """Shares (k,) of shapes ``x`` (n, k) in ``z`` (n,) beyond those ``had``, covariance, and what is left.

    Residuals correlate over ``reach`` rows; single ones far off are spikes, and 0 in what is left (n,).
    """
    keep = np.ones(z.size, dtype=bool)
    long_run = 1.0
    for turn in range(3):
        a, b = (x, z) if keep.all() else (x[keep], z[keep])
        believed = np.diag(long_run / _PRIOR**2) if turn else np.zeros((x.shape[1],) * 2)
        normal = a.T @ a + believed
        share = np.linalg.lstsq(normal, a.T @ b - believed @ had, rcond=1e-12)[0]
        rest = z - x @ share
        usual = 1.4826 * float(median(np.abs(rest[keep])))
        far = np.abs(rest) > max(_SPIKE * usual, 1e-4)
        keep = ~far | _together(far)
        rest = np.where(keep, rest, 0.0)
        near = np.correlate(rest, rest, "full")[z.size - 1 :][: reach + 1] / max(int(keep.sum()), 1)
        near *= 1.0 - np.arange(near.size) / (reach + 1.0)
        long_run = max(2.0 * float(near.sum()) - float(near[0]), float(near[0]), 1e-12)
    kernel = np.concatenate([near[:0:-1], near])
    around = slice(near.size - 1, near.size - 1 + z.size)
    spread = np.stack([np.convolve(column, kernel, "full")[around] for column in x.T], axis=1)
    inverse = np.linalg.pinv(normal)
    return share, inverse @ (x.T @ spread + believed) @ inverse, rest


def _together(far: np.ndarray) -> np.ndarray:
    """Rows (n,) that are far off with at least three of their neighbours: no spikes."""
    four = far[3:] & far[2:-1] & far[1:-2] & far[:-3]
    rows = np.zeros(far.size, dtype=bool)
    for k in range(4):
        rows[k : k + four.size] |= four
    return rows


def _integral(rate, step: float) -> np.ndarray:
    return np.concatenate([[0.0], np.cumsum(0.5 * (rate[1:] + rate[:-1]))]) * step
