"""Smooth curves through the updates of a craft, and what they leave open.

Where value and rate are known at every update the curve is of the fifth degree with the
second derivatives that keep its third one continuous (of all such curves the one of least
jerk); where only values are known it is the natural cubic spline. Breaks end a curve.

Source: C. de Boor, "A Practical Guide to Splines", ch. IV (cubic spline by its slopes); the
fifth-degree case follows in the same way from the continuity of the third derivative.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

#: silence, s, after which a craft counts as gone: 2.4 times a heartbeat of 5 s (from memory)
TIMEOUT = 12.0
#: seconds between samples put between two updates
STEP = 0.1
#: turns of an iteration that gains at least a factor of two each
_TURNS = 45


class Curve(Struct, frozen=True):
    """Values (n, 3) at updates (n,) s, with their first and second derivatives, NaN where not known.

    Between two updates it is of fifth, third or first degree, as much as both know.
    """

    time: np.ndarray
    value: np.ndarray
    rate: np.ndarray
    bend: np.ndarray

    @classmethod
    def through(cls, time, value, rate=None, bend=None) -> Curve:
        """Make a curve where derivatives may be unknown."""
        unknown = np.full(value.shape, np.nan)
        return cls(time, value, unknown if rate is None else rate, unknown if bend is None else bend)

    def completed(self, whole: np.ndarray) -> Curve:
        """Work out the derivatives that are not known, across the intervals (n - 1,) that are ``whole``."""
        curve = self
        if not np.isfinite(curve.rate).all():
            curve = replace(curve, rate=_slopes(curve.time, curve.value, whole))
        if not np.isfinite(curve.bend).all():
            curve = replace(curve, bend=_bends(curve.time, curve.value, curve.rate, whole))
        return curve

    def at(self, before: np.ndarray, share: np.ndarray) -> np.ndarray:
        """Give the values (m, 3) after the updates ``before`` (m,), at shares of the way to the next."""
        return self.between(before, np.minimum(before + 1, len(self.time) - 1), share)

    def between(self, i: np.ndarray, j: np.ndarray, share: np.ndarray) -> np.ndarray:
        """Give the values (m, 3) at shares of the way from updates ``i`` to updates ``j`` (m,)."""
        span = (self.time[j] - self.time[i])[:, None]
        s = share[:, None]
        first, last = self.value[i], self.value[j]
        straight = first + s * (last - first)
        c = s * s * (3.0 - 2.0 * s)
        swing = span * s * (1.0 - s) * ((1.0 - s) * self.rate[i] - s * self.rate[j])
        cubic = first + c * (last - first) + swing
        q = s**3 * (10.0 + s * (6.0 * s - 15.0))
        r0, r1 = s * (1.0 + s * s * (s * (8.0 - 3.0 * s) - 6.0)), s**3 * (s * (7.0 - 3.0 * s) - 4.0)
        b0, b1 = 0.5 * s * s * (1.0 - s) ** 3, 0.5 * s**3 * (1.0 - s) ** 2
        fifth = first + q * (last - first) + span * (r0 * self.rate[i] + r1 * self.rate[j])
        fifth = fifth + span * span * (b0 * self.bend[i] + b1 * self.bend[j])
        out = np.where(np.isfinite(fifth), fifth, np.where(np.isfinite(cubic), cubic, straight))
        return np.where(s == 0.0, first, out)

    def left_out(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Leave each update out in turn: how far off the smoothest curve through the others passes it.

        Two updates on either side hold that curve. Gives which updates (m,) were tried, how far off each
        axis was (m, 3), and the seconds (m, 2) from the one before and to the one after.
        """
        n = len(self.time)
        tried = np.arange(2, n - 2)
        if tried.size:
            tried = tried[np.all([np.diff(self.time)[tried + k] < TIMEOUT for k in (-2, -1, 0, 1)], axis=0)]
        nodes = tried[:, None] + np.array([-2, -1, 1, 2])
        time, value, rate, bend = (a[nodes] for a in (self.time, self.value, self.rate, self.bend))
        span = np.diff(time, axis=1)[..., None]
        if not np.isfinite(rate).all():
            pull = 3.0 * np.diff(value, axis=1) / span**2
            rate = _solved(span, 2.0, 1.0, pull, pull)
        if not np.isfinite(bend).all():
            bend = _solved(
                span, 9.0, -3.0, *_bending(span, np.diff(value, axis=1), rate[:, :-1], rate[:, 1:])
            )
        flat = Curve(*(a.reshape(-1, *a.shape[2:]) for a in (time, value, rate, bend)))
        since, until = self.time[tried] - time[:, 1], time[:, 2] - self.time[tried]
        first = 4 * np.arange(tried.size) + 1
        off = flat.between(first, first + 1, since / (since + until)) - self.value[tried]
        return tried, off, np.column_stack([since, until])

    def left(self) -> float:
        """Tell how far off the curve passes updates it does not see, each axis, one sigma; 0 with too few.

        Two in three lie within: a few jolts say nothing of how well the rates fit.
        """
        middle, share = _middles(self.time)
        if not middle.size:
            return 0.0
        off = self.between(middle - 1, middle + 1, share) - self.value[middle]
        # in the middle a rate that is wrong by as much at both ends does not show: it swings the
        # curve to both sides of the straight line, by at most 0.096 of what it is wrong by
        steps = np.diff(self.time)[:, None]
        meant = 0.5 * steps * (self.rate[1:] + self.rate[:-1])
        swing = np.nan_to_num(0.096 * (meant - np.diff(self.value, axis=0)))[steps[:, 0] < TIMEOUT]
        return float(np.hypot(_usual(off), _usual(swing)))


def _usual(off: np.ndarray) -> float:
    return float(np.percentile(np.sqrt((off**2).mean(axis=1)), 68)) if off.size else 0.0


def _middles(time: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Give the updates between two others worth going between, and their shares of that way."""
    if len(time) < 5:
        return np.empty(0, int), np.empty(0)
    middle = np.arange(1, len(time) - 1)
    span = time[middle + 1] - time[middle - 1]
    middle = middle[(span > 1.5 * STEP) & (span < TIMEOUT)]
    return middle, (time[middle] - time[middle - 1]) / (time[middle + 1] - time[middle - 1])


def _slopes(time, value, whole) -> np.ndarray:
    """Slopes (n, 3) of the natural cubic splines through values, one for each run of whole intervals."""
    span = np.diff(time)[:, None]
    pull = 3.0 * np.diff(value, axis=0) / span**2
    return _balanced(span, whole, 2.0, 1.0, pull, pull)


def _bends(time, value, rate, whole) -> np.ndarray:
    """Second derivatives (n, 3) that keep the third ones of fifth-degree curves continuous."""
    span = np.diff(time)[:, None]
    return _balanced(span, whole, 9.0, -3.0, *_bending(span, np.diff(value, axis=0), rate[:-1], rate[1:]))


def _bending(span, way, first, last) -> tuple[np.ndarray, np.ndarray]:
    """Give what intervals with these rates at their ends pull second derivatives to, at either end."""
    begin = (60.0 * way - span * (36.0 * first + 24.0 * last)) / span**3
    end = (60.0 * way - span * (24.0 * first + 36.0 * last)) / span**3
    return begin, -end


def _solved(span, own: float, other: float, left, right) -> np.ndarray:
    """Solve what :func:`_balanced` does, for many short rows of nodes (m, k, 3) at once."""
    nodes = span.shape[1] + 1
    weight = 1.0 / span[..., 0]
    matrix = np.zeros((span.shape[0], nodes, nodes))
    goal = np.zeros((span.shape[0], nodes, left.shape[-1]))
    for k in range(nodes - 1):
        matrix[:, k, k] += own * weight[:, k]
        matrix[:, k + 1, k + 1] += own * weight[:, k]
        matrix[:, k, k + 1] = matrix[:, k + 1, k] = other * weight[:, k]
        goal[:, k] += left[:, k]
        goal[:, k + 1] += right[:, k]
    return np.linalg.solve(matrix, goal)


def _balanced(span, whole, own: float, other: float, left, right) -> np.ndarray:
    """Solve for values at nodes whose neighbours pull on them over every whole interval.

    An interval adds ``own / span`` to both its ends' own weights, ``other / span`` to the weights of
    each other, and ``left``, ``right`` to what they must sum to. Own weights are at least twice the
    others', so that plain iteration converges.
    """
    n = span.shape[0] + 1
    weight = np.where(whole[:, None], 1.0 / span, 0.0)
    total = np.zeros((n, 1))
    total[:-1] += own * weight
    total[1:] += own * weight
    goal = np.zeros((n, left.shape[1]))
    goal[:-1] += np.where(whole[:, None], left, 0.0)
    goal[1:] += np.where(whole[:, None], right, 0.0)
    total = np.where(total > 0.0, total, 1.0)
    found = goal / total
    for _ in range(_TURNS):
        pull = goal.copy()
        pull[:-1] -= other * weight * found[1:]
        pull[1:] -= other * weight * found[:-1]
        found = pull / total
    return found
