"""The course and speed that put the wanted wind down the landing area, or come nearest to it.

The wanted wind is a felt wind of so much along the landing area (or the catapult) and none
across it. Where the ship cannot make it, the nearest is the one whose felt wind differs
least from the wanted one as a vector, among those that keep the limits of wind and crosswind
if any does; where none does, the one that misses them by least. Crosswind is + from
starboard.

Source: the vector triangle of the maneuvering board (Pub. 1310), written out along and
across the landing area.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from deckward.environment import wind as winds
from deckward.foundation import angles
from deckward.foundation.units import DEGREE, KNOT
from deckward.planning.scenario import Ship

#: a felt wind nearer than this to the wanted one is the wanted one
_EXACT = 1e-3 * KNOT
#: courses are looked at this far apart, and then about the best ones this much closer
_STEP, _FINER = 0.25 * DEGREE, 100
#: limits of ship and wind are kept where they are missed by rounding only
_SLACK = 1e-6


class Wanted(Struct, frozen=True):
    """The felt wind that is wanted along a line ``angle`` to port of the keel, and what will do, m/s."""

    along: float
    least: float
    greatest: float
    crosswind: float
    angle: float


class Miss(Struct, frozen=True):
    """A limit that is not kept: ``value`` against ``limit``, and whether it is a least or a greatest one.

    ``what`` is "wind along", "crosswind", "ship speed" or "ship course"; of a course
    ``limit`` is the nearest one allowed.
    """

    what: str
    value: float
    limit: float

    @property
    def by(self) -> float:
        """By how much it is missed: m/s, of a course rad."""
        if self.what == "ship course":
            return abs(float(angles.difference(self.value, self.limit)))
        return abs(self.value - self.limit)


class Steering(Struct, frozen=True):
    """A course and speed of the ship, and the wind she then feels: from the bow and along the line.

    ``off`` is how far the felt wind is from the wanted one, as a vector; ``misses`` the
    limits that are not kept.
    """

    course: float
    speed: float
    felt_speed: float
    from_bow: float
    along: float
    crosswind: float
    off: float
    misses: tuple[Miss, ...]


class Answer(Struct, frozen=True):
    """What the ship should do.

    ``exact`` are the courses and speeds that make the wanted wind, the slower first, whether
    or not the ship's limits allow them; ``chosen`` is one of them, or the nearest that the
    ship can make. ``least_crosswind`` is offered beside a chosen one with wind across: the
    least crosswind of those that keep all limits; None where that is no better.
    ``wind_needed`` is how strong the true wind has to be for an exact answer.
    """

    wanted: Wanted
    exact: tuple[Steering, ...]
    chosen: Steering
    least_crosswind: Steering | None
    wind_needed: float

    @property
    def is_exact(self) -> bool:
        """Whether the chosen one makes the wanted wind."""
        return self.chosen.off <= _EXACT

    @property
    def keeps_limits(self) -> bool:
        """Whether the chosen one keeps every limit."""
        return not self.chosen.misses


class Shift(Struct, frozen=True):
    """The wind has come round by ``turned`` (+ veered, clockwise) and grown by ``grown``.

    ``held`` is what the ship feels if she keeps her course and speed; ``answer`` what she
    should then do.
    """

    turned: float
    grown: float
    held: Steering
    answer: Answer


def solve(*, wind_from: float, wind_speed: float, wanted: Wanted, ship: Ship) -> Answer:
    """Find the ship's course and speed for a wanted wind.

    >>> from deckward.planning import load
    >>> ship = load(typed={"ship.least_speed_kt": 0}).ship
    >>> wanted = Wanted(25 * KNOT, 20 * KNOT, 40 * KNOT, 7 * KNOT, 9 * DEGREE)
    >>> chosen = solve(wind_from=0.0, wind_speed=15 * KNOT, wanted=wanted, ship=ship).chosen
    >>> round(chosen.course / DEGREE, 1), round(chosen.speed / KNOT, 1)
    (15.1, 10.2)
    """
    look = _Look(wind_from, wind_speed, wanted, ship)
    exact = tuple(look.exact())
    chosen = next((one for one in exact if not one.misses), None) or look.nearest()
    least = None
    if abs(chosen.crosswind) > _EXACT:
        least = look.least_crosswind()
        if least is not None and abs(least.crosswind) > abs(chosen.crosswind) - 0.05 * KNOT:
            least = None
    return Answer(
        wanted=wanted,
        exact=exact,
        chosen=chosen,
        least_crosswind=least,
        wind_needed=wanted.along * abs(math.sin(wanted.angle)),
    )


def steering(
    *, wind_from: float, wind_speed: float, wanted: Wanted, ship: Ship, course: float, speed: float
) -> Steering:
    """Say what the ship feels on a course at a speed, and which limits that breaks."""
    return _Look(wind_from, wind_speed, wanted, ship).steering(course, speed)


def shifted(
    answer: Answer, *, wind_from: float, wind_speed: float, ship: Ship, turned: float, grown: float = 0.0
) -> Shift:
    """Say what a shift of the wind does to an answer."""
    there = {"wind_from": wind_from + turned, "wind_speed": max(wind_speed + grown, 0.0)}
    wanted, chosen = answer.wanted, answer.chosen
    return Shift(
        turned=turned,
        grown=grown,
        held=steering(**there, wanted=wanted, ship=ship, course=chosen.course, speed=chosen.speed),
        answer=solve(**there, wanted=wanted, ship=ship),
    )


def room_to_shift(
    answer: Answer, *, wind_from: float, wind_speed: float
) -> tuple[float | None, float | None]:
    """Return how far the wind may back and veer before the ship's course breaks a limit, rad.

    None where it may come round by half a turn; 0 where a limit is broken already.
    """
    out: list[float | None] = []
    for side in (-1.0, 1.0):
        turned = side * np.arange(0.0, 180.0, 0.25) * DEGREE
        chosen, wanted = answer.chosen, answer.wanted
        there = winds.over_deck(
            wind_from=wind_from + turned,
            wind_speed=wind_speed,
            course=chosen.course,
            speed=chosen.speed,
            angle=wanted.angle,
        )
        kept = _kept(wanted, there.along_landing_area, there.crosswind_from_starboard)
        broken = np.flatnonzero(~kept)
        out.append(None if not broken.size else float(abs(turned[max(broken[0] - 1, 0)])))
    return out[0], out[1]


def _kept(wanted: Wanted, along, crosswind) -> np.ndarray:
    return (
        (along >= wanted.least - _SLACK)
        & (along <= wanted.greatest + _SLACK)
        & (np.abs(crosswind) <= wanted.crosswind + _SLACK)
    )


class _Look:
    """One true wind, one wanted wind and one ship, looked at from all courses."""

    def __init__(self, wind_from: float, wind_speed: float, wanted: Wanted, ship: Ship) -> None:
        self.wind_from, self.wind_speed = wind_from, wind_speed
        self.wanted, self.ship = wanted, ship

    def exact(self) -> Iterator[Steering]:
        """Yield the answers that make the wanted wind, the slower first."""
        found = winds.ships_for(
            wind_from=self.wind_from,
            wind_speed=self.wind_speed,
            relative_from_bow=-self.wanted.angle,
            relative_speed=self.wanted.along,
        )
        for one in found:
            if np.isfinite(one.speed):
                yield self.steering(float(one.course), float(one.speed))

    def steering(self, course: float, speed: float) -> Steering:
        there = winds.over_deck(
            wind_from=self.wind_from,
            wind_speed=self.wind_speed,
            course=course,
            speed=speed,
            angle=self.wanted.angle,
        )
        along, crosswind = float(there.along_landing_area), float(there.crosswind_from_starboard)
        return Steering(
            course=float(angles.compass(course)),
            speed=speed,
            felt_speed=float(there.speed),
            from_bow=float(there.from_bow),
            along=along,
            crosswind=crosswind,
            off=math.hypot(along - self.wanted.along, crosswind),
            misses=tuple(self._misses(course, speed, along, crosswind)),
        )

    def _misses(self, course: float, speed: float, along: float, crosswind: float) -> Iterator[Miss]:
        wanted, ship = self.wanted, self.ship
        for what, value, low, high in (
            ("wind along", along, wanted.least, wanted.greatest),
            ("crosswind", abs(crosswind), 0.0, wanted.crosswind),
            ("ship speed", speed, ship.least_speed, ship.greatest_speed),
        ):
            if value < low - _SLACK:
                yield Miss(what, value, low)
            elif value > high + _SLACK:
                yield Miss(what, value, high)
        if not self._may_steer(np.array([course]))[0]:
            ends = [end for sector in ship.courses for end in sector]
            yield Miss("ship course", course, min(ends, key=lambda end: abs(angles.difference(course, end))))

    def nearest(self) -> Steering:
        """Find the course and speed whose felt wind misses the limits, and then the wanted wind, by least."""
        return self._search(self._speed_nearest)

    def least_crosswind(self) -> Steering | None:
        """Find the least crosswind of those that keep all limits, or None where none does."""
        found = self._search(self._speed_least_crosswind)
        return None if found.misses else found

    def _search(self, speed_for) -> Steering:
        """Look at all courses that may be steered, each at the speed that suits it best."""
        courses = np.arange(0.0, 2.0 * np.pi, _STEP)
        ends = [end for sector in self.ship.courses for end in sector]
        best = self._best(np.concatenate([courses, ends]), speed_for)
        close = best[0] + np.linspace(-_STEP, _STEP, 2 * _FINER + 1)
        return self.steering(*self._best(np.concatenate([close, ends, best[:1]]), speed_for))

    def _best(self, courses: np.ndarray, speed_for) -> tuple[float, float]:
        courses = courses[self._may_steer(courses)]
        speed, missed, off = speed_for(courses)
        # equally good ones (a calm) are told apart by how far the ship has to turn
        turn = 0.0 if self.ship.course is None else np.abs(angles.difference(courses, self.ship.course))
        order = np.lexsort((np.broadcast_to(turn, off.shape), off.round(7), missed.round(7)))
        return float(courses[order[0]]), float(speed[order[0]])

    def _may_steer(self, courses: np.ndarray) -> np.ndarray:
        if not self.ship.courses:
            return np.ones(courses.shape, dtype=bool)
        return np.any([_within(courses, *sector) for sector in self.ship.courses], axis=0)

    def _winds(self, courses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Give the true wind's part along the line and across it, (n,) each."""
        side = angles.difference(self.wind_from, courses - self.wanted.angle)
        return self.wind_speed * np.cos(side), self.wind_speed * np.sin(side)

    def _felt(self, speeds, courses) -> tuple[np.ndarray, np.ndarray]:
        """Give along and across for speeds (k, n) on courses (n,)."""
        along, across = self._winds(courses)
        angle = self.wanted.angle
        return along + speeds * np.cos(angle), across + speeds * np.sin(angle)

    def _candidates(self, courses: np.ndarray) -> np.ndarray:
        """Give the speeds (k, n) among which the best of each course is: all that is judged bends there."""
        along, across = self._winds(courses)
        wanted = self.wanted
        c, s = math.cos(wanted.angle), math.sin(wanted.angle)
        speeds = [(wanted.along - along) * c - across * s]
        speeds += [(limit - along) / c for limit in (wanted.least, wanted.greatest)]
        if abs(s) > 1e-9:
            speeds += [(limit - across) / s for limit in (0.0, wanted.crosswind, -wanted.crosswind)]
        return np.clip(np.stack(speeds), self.ship.least_speed, self.ship.greatest_speed)

    def _missed(self, along: np.ndarray, across: np.ndarray) -> np.ndarray:
        wanted = self.wanted
        return (
            np.maximum(wanted.least - along, 0.0)
            + np.maximum(along - wanted.greatest, 0.0)
            + np.maximum(np.abs(across) - wanted.crosswind, 0.0)
        )

    def _speed_nearest(self, courses: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        speeds = self._candidates(courses)
        along, across = self._felt(speeds, courses)
        return _pick(speeds, self._missed(along, across), np.hypot(along - self.wanted.along, across))

    def _speed_least_crosswind(self, courses: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        speeds = self._candidates(courses)
        along, across = self._felt(speeds, courses)
        return _pick(speeds, self._missed(along, across), np.abs(across))


def _pick(
    speeds: np.ndarray, missed: np.ndarray, off: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Take of each column (k, n) the speed that misses limits by least, and of these the nearest."""
    least = missed.min(axis=0)
    row = np.where(missed <= least + 1e-9, off, np.inf).argmin(axis=0)
    column = np.arange(speeds.shape[1])
    return speeds[row, column], missed[row, column], off[row, column]


def _within(courses, first: float, last: float) -> np.ndarray:
    """Tell which courses lie clockwise from the first to the last of a sector."""
    width = (last - first) % angles.TURN
    return (courses - first + 1e-9) % angles.TURN <= width + 2e-9


class Run(Struct, frozen=True):
    """How long and how far the ship holds the course for a recovery.

    ``turn`` is the time to come round to it from the present course, None where that is not
    known; ``seconds`` from settled on the course to the last aircraft, ``distance`` over the
    sea in that time. ``fits`` is how many aircraft the sea room allows, None where there is
    no end to it; ``each`` what one aircraft more (a bolter, say) adds.
    """

    turn: float | None
    aircraft: int
    interval: float
    settled: float
    seconds: float
    distance: float
    each: float
    sea_room: float | None
    fits: int | None


#: on course and steady before the first aircraft: common practice, no source
SETTLED = 60.0


def run(chosen: Steering, *, ship: Ship, aircraft: int, interval: float, settled: float = SETTLED) -> Run:
    """Work out time and sea room for a recovery (or launch) of so many aircraft on a course."""
    seconds = settled + (aircraft - 1) * interval
    turn = None
    if ship.course is not None:
        turn = abs(float(angles.difference(chosen.course, ship.course))) / ship.turn_rate
    fits = None
    if ship.sea_room is not None and chosen.speed > 0.0:
        left = ship.sea_room / chosen.speed - settled
        fits = max(math.floor(left / interval + 1e-9) + 1, 0) if left >= 0.0 else 0
    return Run(
        turn=turn,
        aircraft=aircraft,
        interval=interval,
        settled=settled,
        seconds=seconds,
        distance=chosen.speed * seconds,
        each=chosen.speed * interval,
        sea_room=ship.sea_room,
        fits=fits,
    )


def spread(
    answer: Answer, *, wind_from: float, wind_speed: float, from_spread: float, speed_spread: float
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return the range of wind along and of crosswind while the true wind wanders within its spread.

    The ship holds the chosen course and speed.
    """
    turned, speeds = np.meshgrid(
        np.linspace(-from_spread, from_spread, 41),
        np.maximum(np.linspace(wind_speed - speed_spread, wind_speed + speed_spread, 9), 0.0),
    )
    there = winds.over_deck(
        wind_from=wind_from + turned,
        wind_speed=speeds,
        course=answer.chosen.course,
        speed=answer.chosen.speed,
        angle=answer.wanted.angle,
    )
    return _range(there.along_landing_area), _range(there.crosswind_from_starboard)


def _range(values: np.ndarray) -> tuple[float, float]:
    return float(values.min()), float(values.max())
