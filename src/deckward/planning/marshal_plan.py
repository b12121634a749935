"""The marshal card's answers: the case, the stack, the way in, each flight's hold, and late pushes."""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from deckward.environment import airspeed as speeds
from deckward.environment import wind as winds
from deckward.errors import Note
from deckward.foundation.units import KNOT
from deckward.planning import again_night, cases, holding, marshal
from deckward.planning.again_night import Circuit
from deckward.planning.burning import Times
from deckward.planning.cases import Case
from deckward.planning.holding import Holding, Start
from deckward.planning.inbound import GATE, Correction, Descent, Inbound
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


class Held(Struct, frozen=True):
    """One aircraft of the stack: who it is, its slot, when it is at the ball and the ramp, its way there.

    ``ball`` and ``ramp`` are on the clock of the pushes. ``holding`` and ``track`` (n, 3: seconds
    from when its place was told, north and east of the ship) are None where none was.
    """

    who: str
    slot: Slot
    ball: float
    ramp: float
    holding: Holding | None
    track: np.ndarray | None


class MarshalPlan(Struct, frozen=True):
    """The recovery by night or in weather. ``case`` is None where the weather is not told.

    ``ordered`` where the scenario orders the case. ``clock`` tells whether pushes are times
    of day, else seconds from the first. ``inbound`` is the lowest aircraft's way in;
    ``circuits`` are the ways round again after a bolter, the shorter first.
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
    circuits: tuple[Circuit, ...]
    notes: tuple[Note, ...]

    @property
    def ramp_interval(self) -> float:
        """From the first ramp crossing to the second, s; the pushes' where there is one."""
        return self.held[1].ramp - self.held[0].ramp if len(self.held) > 1 else self.interval

    @property
    def trip(self) -> float:
        """From one ball to the next after a bolter, by the shorter way, s."""
        return self.circuits[0].trip


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


class _Stack(Struct, frozen=True):
    """The stack on the clock, and each aircraft's way in; ``told`` where pushes are times of day."""

    descent: Descent
    slots: tuple[Slot, ...]
    ways: tuple[Inbound, ...]
    circuits: tuple[Circuit, ...]
    told: bool


def times(scenario: Scenario, chosen: Steering, *, mass: float) -> Times:
    """Give what flying near the ship takes by instruments, for the fuel ladder."""
    there = _stacked(scenario, chosen, mass)
    ball = there.ways[0].gate("ball").time
    return Times(
        case=case_number(scenario),
        trip=_in_a_gap(there),
        inbound=ball,
        to_ramp=there.ways[0].ramp - ball,
        balls=tuple(_balls(there)) if there.told else (),
    )


def _balls(there: _Stack):
    for slot, way in zip(there.slots, there.ways, strict=True):
        yield slot.push + way.gate("ball").time


def _in_a_gap(there: _Stack) -> float:
    """Give the trip after a bolter, drawn out to the next gap where others land too."""
    trip = there.circuits[0].trip
    if len(there.slots) < 2:
        return trip
    first, second = list(_balls(there))[:2]
    return math.ceil(trip / (second - first)) * (second - first)


def _stacked(scenario: Scenario, chosen: Steering, mass: float) -> _Stack:
    there, wish = steaming(scenario, chosen), scenario.marshal
    descent = _descent(scenario, chosen, mass)
    lowest = descent.approach(_lowest(scenario, there))
    push = wish.push
    if push is None and scenario.recovery.time is not None:
        push = scenario.recovery.time - lowest.ramp
    slots = marshal.stack(
        scenario.recovering,
        steaming=there,
        first_push=push or 0.0,
        interval=wish.interval,
        lowest=wish.lowest_altitude,
        radial=wish.radial,
    )
    return _Stack(
        descent=descent,
        slots=slots,
        ways=(lowest, *(descent.approach(slot) for slot in slots[1:])),
        circuits=tuple(
            again_night.circuit(descent, lowest, turn_in=far) for far in sorted({wish.turn_in, GATE})
        ),
        told=push is not None,
    )


def plan(scenario: Scenario, chosen: Steering, *, mass: float) -> MarshalPlan:
    """Plan the stack and the way in on the ship's chosen course.

    Raises:
        InputError: no wind is told, or the jet's on-speed airspeed is not known.
    """
    there, wish, stacked = steaming(scenario, chosen), scenario.marshal, _stacked(scenario, chosen, mass)
    lowest = stacked.ways[0]
    held = tuple(
        _held(scenario, there, way, slot, who, flight, told=stacked.told)
        for slot, way, (who, flight) in zip(stacked.slots, stacked.ways, _aircraft(scenario), strict=True)
    )
    return MarshalPlan(
        steaming=there,
        mass=mass,
        case=case_of(scenario),
        ordered=scenario.recovery.case,
        clock=stacked.told,
        interval=wish.interval,
        airspeed=wish.airspeed,
        held=held,
        inbound=lowest,
        corrections=stacked.descent.corrections(stacked.slots[0], LATE),
        circuits=stacked.circuits,
        notes=(*lowest.notes, *stacked.circuits[0].notes, *_notes(held, wish.airspeed)),
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
    scenario: Scenario, there: Steaming, way_in: Inbound, slot: Slot, who: str, flight: Flight | None,
    *, told: bool,
) -> Held:  # fmt: skip
    ball, ramp = slot.push + way_in.gate("ball").time, slot.push + way_in.ramp
    if flight is None or flight.where is None or flight.time is None or not told:
        return Held(who, slot, ball, ramp, None, None)
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
    return Held(who, slot, ball, ramp, found, holding.trace(found, start, drift=drift))


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
