"""The marshal card's answers: the case, the stack, the way in, each flight's hold, and late pushes."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from deckward.environment import airspeed as speeds
from deckward.environment import wind as winds
from deckward.errors import Note
from deckward.foundation.units import KNOT
from deckward.planning import cases, holding, marshal
from deckward.planning.cases import Case
from deckward.planning.holding import Holding, Start
from deckward.planning.inbound import Correction, Descent, Inbound
from deckward.planning.marshal import Slot
from deckward.planning.pattern_plan import aim_of, steaming, trimmed
from deckward.planning.scenario import Flight, Scenario
from deckward.planning.steaming import Steaming, direction
from deckward.planning.wind import Steering
from deckward.planning.words import knots

DAY = 86_400.0
#: no slower on the way to the fix, calibrated: our own choice
SLOWEST = 200.0 * KNOT
#: how late (+) and early a push is that the card has an answer for, s
LATE = (-20.0, -10.0, 10.0, 20.0, 30.0)


@dataclass(frozen=True)
class Held:
    """One aircraft of the stack: who it is, where its slot is, when it lands, and its way there.

    ``touchdown`` is on the clock of the pushes. ``holding`` and ``track`` (n, 3: seconds
    from when its place was told, north and east of the ship) are None where none was.
    """

    who: str
    slot: Slot
    touchdown: float
    holding: Holding | None
    track: np.ndarray | None


@dataclass(frozen=True)
class MarshalPlan:
    """The recovery by night or in weather. ``case`` is None where the weather is not told.

    ``ordered`` where the scenario orders the case. ``clock`` tells whether pushes are times
    of day, else seconds from the first. ``inbound`` is the lowest aircraft's way in.
    """

    steaming: Steaming
    mass: float
    case: Case | None
    ordered: int | None
    clock: bool
    interval: float
    airspeed: float
    held: tuple[Held, ...]
    inbound: Inbound
    corrections: tuple[Correction, ...]
    notes: tuple[Note, ...]


def case_of(scenario: Scenario) -> Case | None:
    """Choose the case of a scenario's weather; None where too little is told. Night settles it alone."""
    weather = scenario.weather
    if weather.night:
        return cases.choose(
            ceiling=math.inf if weather.ceiling is None else weather.ceiling,
            visibility=math.inf if weather.visibility is None else weather.visibility,
            night=True,
        )
    if weather.ceiling is None or weather.visibility is None:
        return None
    return cases.choose(ceiling=weather.ceiling, visibility=weather.visibility, night=False)


def case_number(scenario: Scenario) -> int:
    """Return the case that is flown: the ordered one, else the weather's, else the first."""
    if scenario.recovery.case is not None:
        return scenario.recovery.case
    case = case_of(scenario)
    return 1 if case is None else case.number


def way_in(scenario: Scenario, chosen: Steering, *, mass: float) -> Inbound:
    """Give the lowest aircraft's way in from the fix."""
    return _descent(scenario, chosen, mass).approach(_lowest(scenario, steaming(scenario, chosen)))


def plan(scenario: Scenario, chosen: Steering, *, mass: float) -> MarshalPlan:
    """Plan the stack and the way in on the ship's chosen course.

    Raises:
        InputError: no wind is told, or the jet's on-speed airspeed is not known.
    """
    there, wish = steaming(scenario, chosen), scenario.marshal
    descent, first = _descent(scenario, chosen, mass), _lowest(scenario, there)
    lowest = descent.approach(first)
    push = wish.push
    if push is None and scenario.recovery.time is not None:
        push = scenario.recovery.time - lowest.seconds
    slots = marshal.stack(
        scenario.recovering,
        steaming=there,
        first_push=push or 0.0,
        interval=wish.interval,
        lowest=wish.lowest_altitude,
        radial=wish.radial,
    )
    held = tuple(
        _held(scenario, there, descent, slot, who, flight, told=push is not None)
        for slot, (who, flight) in zip(slots, _aircraft(scenario), strict=True)
    )
    return MarshalPlan(
        steaming=there,
        mass=mass,
        case=case_of(scenario),
        ordered=scenario.recovery.case,
        clock=push is not None,
        interval=wish.interval,
        airspeed=wish.airspeed,
        held=held,
        inbound=lowest,
        corrections=descent.corrections(first, LATE),
        notes=(*lowest.notes, *_notes(held, wish.airspeed)),
    )


def _descent(scenario: Scenario, chosen: Steering, mass: float) -> Descent:
    return Descent(
        steaming(scenario, chosen),
        trimmed(scenario, mass),
        aim_of(scenario, chosen, mass),
        wind_at=scenario.wind_at,
        air_at=scenario.air_at,
        airspeed=scenario.marshal.airspeed,
    )


def _lowest(scenario: Scenario, there: Steaming) -> Slot:
    wish = scenario.marshal
    return marshal.stack(1, steaming=there, lowest=wish.lowest_altitude, radial=wish.radial)[0]


def _aircraft(scenario: Scenario) -> list[tuple[str, Flight | None]]:
    """Name every aircraft of the recovery in its order, with its flight."""
    out: list[tuple[str, Flight | None]] = [
        (flight.crews[k] if k < len(flight.crews) else f"{flight.name} {k + 1}", flight)
        for flight in scenario.flights
        for k in range(flight.count)
    ]
    out += [(f"number {k + 1}", None) for k in range(len(out), scenario.recovering)]
    return out[: scenario.recovering]


def _held(
    scenario: Scenario, there: Steaming, descent: Descent, slot: Slot, who: str, flight: Flight | None,
    *, told: bool,
) -> Held:  # fmt: skip
    touchdown = slot.push + descent.approach(slot).seconds
    if flight is None or flight.where is None or flight.time is None or not told:
        return Held(who, slot, touchdown, None, None)
    where = flight.where
    air = scenario.air_at(slot.altitude)
    true = speeds.true_from_calibrated(
        scenario.marshal.airspeed, pressure=air.pressure, temperature=air.temperature
    )
    north, east = where.distance * direction(where.bearing)
    start = Start(float(north), float(east), where.heading, float(true))
    wind = scenario.wind_at(slot.altitude)
    moved = winds.air_velocity(wind_from=float(wind.from_direction), wind_speed=float(wind.speed))
    drift = there.speed * direction(there.course) - np.array([float(moved.north), float(moved.east)])
    found = holding.solve(
        start,
        fix=slot.fix,
        inbound=slot.inbound,
        drift=drift,
        # the push is the one nearest, over midnight too
        seconds=(slot.push - flight.time + DAY / 2) % DAY - DAY / 2,
        lap=holding.LAP,
        half_turn=holding.LAP / 2.0 - scenario.marshal.leg,
    )
    return Held(who, slot, touchdown, found, holding.trace(found, start, drift=drift))


def _notes(held: tuple[Held, ...], airspeed: float):
    late = [one for one in held if one.holding is not None and one.holding.late > marshal.TOLERANCE]
    if late:
        worst = max(late, key=lambda one: one.holding.late if one.holding else 0.0)
        assert worst.holding is not None
        yield Note(
            "late-at-the-fix",
            f"{worst.who} cannot be at the fix before {worst.holding.late:.0f} s after its push: move the "
            "pushes back by that, or let it push last.",
        )
    early = [one for one in held if one.holding is not None and one.holding.late < -marshal.TOLERANCE]
    if early:
        soon = early[0].holding
        assert soon is not None
        slower = airspeed * soon.arrival / (soon.arrival - soon.late)
        cure = (
            f"fly {knots(slower, 0)} to it instead of {knots(airspeed, 0)}"
            if slower >= SLOWEST
            else f"slowing to {knots(SLOWEST, 0)} does not do it, so weave, or move its push"
        )
        yield Note(
            "early-at-the-fix",
            f"{early[0].who} is too near the fix to lose {-soon.late:.0f} s without a lap: {cure}.",
        )
