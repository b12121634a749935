"""The pattern card's answers: from the stack to the groove on the planned course, and round again."""

from __future__ import annotations

import math
from functools import cached_property

from msgspec import Struct

from deckward.errors import Note
from deckward.planning import again, approach, overhead, pattern, slips
from deckward.planning.again import Again
from deckward.planning.approach import Aim
from deckward.planning.approach_plan import setting_of
from deckward.planning.on_speed import on_speed
from deckward.planning.overhead import Descent, Hold, Overhead
from deckward.planning.pattern import Pattern, Solver
from deckward.planning.scenario import Scenario, need
from deckward.planning.slips import Slip
from deckward.planning.steaming import Steaming
from deckward.planning.wind import Steering

#: a wave-off is planned from this part of the groove's range: our own choice
WAVED_OFF = 0.5
#: the flight holds at a fuel-saving airspeed, as a share of the initial's: our own choice
HOLDING_SHARE = 0.8


class PatternPlan(Struct, frozen=True, dict=True):
    """The day pattern for ``aircraft`` that land ``interval`` seconds apart, at a landing ``mass``, kg.

    ``holds`` are the stack's levels, the lowest flight's first; ``descents`` lead each to
    the initial.
    """

    steaming: Steaming
    mass: float
    aircraft: int
    interval: float
    solver: Solver
    pattern: Pattern
    overhead: Overhead
    holds: tuple[Hold, ...]
    descents: tuple[Descent, ...]
    bolter: Again
    wave_off: Again
    notes: tuple[Note, ...]

    @cached_property
    def slips(self) -> tuple[Slip, ...]:
        """What goes wrong most, tried on the planned turn."""
        return slips.usual(self.solver, self.pattern)

    @property
    def inbound(self) -> float:
        """From the lowest level of the stack to touchdown, for the first that breaks, s."""
        return (
            self.descents[0].seconds + self.overhead.initial_to_break + self.overhead.places[0].touchdown_time
        )

    @property
    def trip(self) -> float:
        """From one look at the deck to the next, s; where others land too, in their next gap."""
        if self.aircraft < 2:
            return self.bolter.trip
        return math.ceil(self.bolter.trip / self.interval) * self.interval


def steaming(scenario: Scenario, chosen: Steering) -> Steaming:
    """Set the ship on a course in the scenario's wind near the sea."""
    there = need(scenario.wind, "wind.from_deg")
    return Steaming(chosen.course, chosen.speed, there.from_direction, there.speed, scenario.site.angle)


def trimmed(scenario: Scenario, mass: float) -> pattern.Trimmed:
    """Give the jet on speed at a landing mass.

    Raises:
        InputError: what it flies on speed is not known.
    """
    jet = on_speed(
        scenario.aircraft,
        mass=mass,
        air=scenario.air_at(scenario.pattern.altitude_90),
        told=scenario.on_speed,
    )
    return pattern.Trimmed(jet.equivalent, scenario.aircraft.on_speed)


def aim_of(scenario: Scenario, chosen: Steering, mass: float) -> Aim:
    """Say where the approach on the ship's chosen course ends."""
    setting = setting_of(scenario, chosen)
    return approach.aim(setting, approach.fly(setting, mass))


def plan(scenario: Scenario, chosen: Steering, *, mass: float) -> PatternPlan:
    """Plan the day pattern on the ship's chosen course.

    Raises:
        InputError: no wind is told, the jet's on-speed airspeed is not known, or the pattern
            cannot be flown in this wind.
    """
    there, wish, site = steaming(scenario, chosen), scenario.pattern, scenario.site
    aim = aim_of(scenario, chosen, mass)
    solver = Solver(wish, there, trimmed(scenario, mass), aim, scenario.air_at)
    flown = pattern.solve(wish, steaming=there, on_speed=solver.on_speed, aim=aim, air_at=scenario.air_at)
    each = max((flight.count for flight in scenario.flights), default=scenario.recovering)
    into = overhead.come_in(
        wish,
        flown,
        steaming=there,
        aircraft=each,
        interval=scenario.recovery.interval,
        air_at=scenario.air_at,
    )
    holds = overhead.stack(
        max(len(scenario.flights), 1),
        lowest=wish.stack_altitude,
        airspeed=HOLDING_SHARE * wish.initial_airspeed,
        steaming=there,
        air_at=scenario.air_at,
    )
    descents = tuple(overhead.descend(hold, wish, steaming=there, air_at=scenario.air_at) for hold in holds)
    bolter = again.bolter(solver, flown, clear=site.length)
    waved_off = again.wave_off(solver, flown, range=WAVED_OFF * flown.groove.range, clear=site.length)
    return PatternPlan(
        steaming=there,
        mass=mass,
        aircraft=scenario.recovering,
        interval=scenario.recovery.interval,
        solver=solver,
        pattern=flown,
        overhead=into,
        holds=holds,
        descents=descents,
        bolter=bolter,
        wave_off=waved_off,
        notes=(*flown.notes, *into.notes, *descents[0].notes, *bolter.notes, *waved_off.notes),
    )
