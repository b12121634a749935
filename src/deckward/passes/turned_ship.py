"""A ship that turned, between passes or in one: a way of her own for each, joined to one track.

What rests on her after a touch shows how she went just then, and where the recording has a
heading, how fast she turned. Touches that one straight way explains share it; the next that
it does not explain begins another.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.foundation.units import DEGREE
from deckward.passes.touches import Rest, Touch
from deckward.passes.ways import Way, solve

#: sigmas from which on a touch or a rest is another's; a rest slower than this is ashore, m/s
_GATE, _UNDER_WAY = 3.5, 1.0
#: sigmas from which on a turn is one, and may be one; slower than this (rad/s) it is none
_SURE, _PERHAPS, _TURNS = 3.0, 2.0, 0.03 * DEGREE
#: seconds after a touch in which a rest follows it, and before and after a leg that it still holds
_FOLLOWS, _BEFORE, _AFTER = 90.0, 90.0, 30.0


class Leg(Struct, frozen=True):
    """A stretch at one speed and one rate of turn (rad/s, + to starboard), from ``start`` to ``end``, s."""

    way: Way
    turn: float
    turn_sigma: float
    start: float
    end: float

    def at(self, time: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Place and velocity (n, 2)."""
        since = time - self.way.time
        bend, rate = _bend(self.way, self.turn, since)
        return self.way.place + np.outer(since, self.way.velocity) + bend, self.way.velocity + rate


def follows(touch: Touch, rests: list[Rest]) -> list[Rest]:
    """Rests on a deck under way soon after a touch."""
    return [
        rest
        for rest in rests
        if 0.0 < rest.end - touch.time < _FOLLOWS
        and float(np.hypot(*(rest.place - touch.place))) < 250.0 + 20.0 * (rest.start - touch.time)
        and float(np.hypot(*rest.velocity)) > _UNDER_WAY + 3.0 * rest.sigma
    ]


def strangers(way: Way, touches: list[Touch], rests: list[Rest]) -> list[Touch]:
    """Touches that ended at rest on a deck under way, but not on this straight way."""
    return [
        touch
        for touch in touches
        if (mine := follows(touch, rests))
        and (touch not in way.touches or all(way.strays(rest) > _GATE for rest in mine))
    ]


def legs(touches: list[Touch], rests: list[Rest]) -> list[Leg]:
    """Sort touches, each with the rests that follow it, into legs of one way each, in order of time."""
    found: list[Leg] = []
    for touch in sorted(touches, key=lambda one: one.time):
        mine = follows(touch, rests)
        if found and _goes_on(found[-1], touch, mine):
            before = found[-1].way
            found[-1] = _leg([*before.touches, touch], [*before.rests, *mine])
        elif mine:
            found.append(_leg([touch], mine))
    return found


def _goes_on(leg: Leg, touch: Touch, mine: list[Rest]) -> bool:
    if leg.turn != 0.0 or _rate(mine)[0] != 0.0:
        return False
    return leg.way.misses(touch) < _GATE and all(leg.way.strays(rest) < _GATE for rest in mine)


def _leg(touches: list[Touch], rests: list[Rest]) -> Leg:
    turn, sigma = _rate(rests)
    way = solve(touches, rests)
    for _ in range(3 if turn else 0):
        straight = [_unbent(rest, way, turn) for rest in rests]
        way = replace(solve(touches, straight), touches=tuple(touches), rests=tuple(rests))
    return Leg(way, turn, sigma, touches[0].time - _BEFORE, max(rest.end for rest in rests) + _AFTER)


def _unbent(rest: Rest, way: Way, turn: float) -> Rest:
    middle = np.array([0.5 * (rest.start + rest.end) - way.time])
    return replace(rest, velocity=rest.velocity - _bend(way, turn, middle)[1][0])


def _rate(rests: list[Rest]) -> tuple[float, float]:
    """Rate of turn that rests show, 0 where it may be none, and its sigma, rad/s."""
    mean, sigma = _mean_rate(rests)
    return (mean if abs(mean) > max(_SURE * sigma, _TURNS) else 0.0), sigma


def perhaps_turning(rests: Sequence[Rest]) -> tuple[float, float] | None:
    """Rate of turn and sigma, rad/s, where rests hint at one, sure or not."""
    mean, sigma = _mean_rate(rests)
    return (mean, sigma) if abs(mean) > max(_PERHAPS * sigma, _TURNS) else None


def _mean_rate(rests: Sequence[Rest]) -> tuple[float, float]:
    weight = sum(rest.turn_sigma**-2 for rest in rests)
    if weight == 0.0:
        return 0.0, 0.0
    return sum(rest.turn * rest.turn_sigma**-2 for rest in rests) / weight, float(weight**-0.5)


def _bend(way: Way, turn: float, since: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """How far (n, 2) a turn carries her off her straight way, and how fast."""
    if turn == 0.0:
        return np.zeros((since.size, 2)), np.zeros((since.size, 2))
    angle = turn * since
    ahead, aside = way.velocity, np.array([-way.velocity[1], way.velocity[0]])
    off = np.outer(np.sin(angle) / turn - since, ahead) + np.outer((1.0 - np.cos(angle)) / turn, aside)
    return off, np.outer(np.cos(angle) - 1.0, ahead) + np.outer(np.sin(angle), aside)


def joined(found: list[Leg], time: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Place and velocity (n, 2) along all legs: each as it is, smooth curves from one to the next."""
    place, velocity = found[0].at(time)
    for one, other in pairwise(found):
        end, start = one.end, other.start
        if start - end < 1.0:
            # no room between them: halfway from what happened on one to what did on the other
            end = 0.5 * (one.end - _AFTER + other.start + _BEFORE)
            end, start = end - 1.0, end + 1.0
        (p0,), (v0,) = one.at(np.array([end]))
        (p1,), (v1,) = other.at(np.array([start]))
        later, between = time >= start, (time > end) & (time < start)
        place[later], velocity[later] = other.at(time[later])
        share = (time[between] - end) / (start - end)
        place[between], velocity[between] = _curve(share, start - end, p0, p1, v0, v1)
    return place, velocity


def _curve(share: np.ndarray, seconds: float, p0, p1, v0, v1) -> tuple[np.ndarray, np.ndarray]:
    """Cubic from one place and velocity to another; place and velocity (n, 2) at shares of the time."""
    s = share[:, None]
    place = (
        (1.0 + 2.0 * s) * (1.0 - s) ** 2 * p0
        + s * (1.0 - s) ** 2 * seconds * v0
        + s**2 * (3.0 - 2.0 * s) * p1
        + s**2 * (s - 1.0) * seconds * v1
    )
    rate = 6.0 * s * (1.0 - s) * (p1 - p0) / seconds
    return place, rate + (1.0 - s) * (1.0 - 3.0 * s) * v0 + s * (3.0 * s - 2.0) * v1
