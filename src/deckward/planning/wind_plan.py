"""The wind card's answers: courses for recovery and launch, time and sea room, shifts of the wind."""

from __future__ import annotations

from msgspec import Struct

from deckward.foundation.units import DEGREE, KNOT
from deckward.planning import wind
from deckward.planning.scenario import Scenario, WindFact, need
from deckward.planning.wind import Answer, Run, Shift, Steering, Wanted

#: how far a wind may be out, or come round during a recovery: the plan says what that does
SHIFT = 20.0 * DEGREE
#: from memory: launches have 15 to 35 kt; this is in the middle
USUAL_LAUNCH_WIND = 25.0 * KNOT


class Course(Struct, frozen=True):
    """The ship's course for one job, ``what`` being "recovery" or "launch".

    ``along_range`` and ``crosswind_range`` are what she feels while the wind wanders within
    the spread that was told; ``backs`` and ``veers`` how far it may come round to the left
    and to the right before a limit breaks, None for half a turn. ``now`` is what she feels on
    her present course and speed.
    """

    what: str
    answer: Answer
    run: Run
    shifts: tuple[Shift, ...]
    along_range: tuple[float, float]
    crosswind_range: tuple[float, float]
    backs: float | None
    veers: float | None
    now: Steering | None


class WindPlan(Struct, frozen=True):
    """Courses for the recovery, and for the launch where its wind is known."""

    wind: WindFact
    recovery: Course
    launch: Course | None


def plan(scenario: Scenario, *, launch_wind: float | None = None) -> WindPlan:
    """Find the ship's courses for a scenario; ``launch_wind`` is what the launch needs, where it is known.

    A wind that is told goes before it. Without one, the usual least is wanted or what she has
    into the wind at her least speed, if that is more; the need is what will do.

    Raises:
        InputError: the scenario tells no wind.
    """
    recovery, launch, there = scenario.recovery, scenario.launch, need(scenario.wind, "wind.from_deg")
    landing = Wanted(
        recovery.wind, recovery.least_wind, recovery.greatest_wind, recovery.crosswind, scenario.site.angle
    )
    off = None
    wind_off = launch.wind
    least = wind_off
    if wind_off is None and launch_wind is not None:
        least = min(launch_wind, launch.greatest_wind)
        slow = there.speed + scenario.ship.least_speed
        wind_off = min(max(least, slow, USUAL_LAUNCH_WIND), launch.greatest_wind)
    if wind_off is not None and least is not None:
        shot = Wanted(wind_off, least, launch.greatest_wind, launch.crosswind, launch.catapult_angle)
        off = _course("launch", scenario, shot, launch.aircraft or scenario.recovering, launch.interval)
    return WindPlan(
        wind=there,
        recovery=_course("recovery", scenario, landing, scenario.recovering, recovery.interval),
        launch=off,
    )


def _course(what: str, scenario: Scenario, wanted: Wanted, aircraft: int, interval: float) -> Course:
    fact, ship = need(scenario.wind, "wind.from_deg"), scenario.ship
    there = {"wind_from": fact.from_direction, "wind_speed": fact.speed}
    answer = wind.solve(**there, wanted=wanted, ship=ship)
    along, across = wind.spread(answer, **there, from_spread=fact.from_spread, speed_spread=fact.speed_spread)
    backs, veers = wind.room_to_shift(answer, **there)
    now = None
    if ship.course is not None and ship.speed is not None:
        now = wind.steering(**there, wanted=wanted, ship=ship, course=ship.course, speed=ship.speed)
    return Course(
        what=what,
        answer=answer,
        run=wind.run(answer.chosen, ship=ship, aircraft=aircraft, interval=interval),
        shifts=tuple(wind.shifted(answer, **there, ship=ship, turned=side * SHIFT) for side in (-1, 1)),
        along_range=along,
        crosswind_range=across,
        backs=backs,
        veers=veers,
        now=now,
    )
