"""What flying near the ship burns: holding, the pattern, looks at the deck, and the times these take."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from msgspec import Struct

from deckward.errors import InputError
from deckward.planning import flows, transit
from deckward.planning.approach import TIMED_FROM, Approach
from deckward.planning.flows import Flow
from deckward.planning.on_speed import flow_for, military_thrust, on_speed
from deckward.planning.scenario import Scenario, need

#: from one look to the next, and from leaving the stack to the ball: common practice, no source
TRIP = {"day": 240.0, "instruments": 480.0}
INBOUND = {"day": 300.0, "instruments": 480.0}
#: military power after a bolter before the pattern's own: common practice, no source
_BOLTER = 10.0
#: looks that are counted at most
_MOST = 99


class Times(Struct, frozen=True):
    """What flying near the ship takes in a ``case`` of recovery, s; None for what was not solved.

    ``to_ramp`` is from the ball to the ramp. ``balls`` are the clock times of the aircraft's
    first balls in their order, where the stack has settled them.
    """

    case: int
    trip: float | None = None
    inbound: float | None = None
    to_ramp: float | None = None
    balls: tuple[float, ...] = ()


class Burn(Struct, frozen=True):
    """What flying near the ship takes, by the jet's mass: times in s, fuel in kg.

    ``dry`` is the jet without fuel, ``fuel`` what it has at its first ball: the numbers
    without an argument are for that. ``to_ramp`` is from the ball to the ramp, ``full`` the
    flow at military power. ``usual`` names the times that are common practice, for want of
    solved or told ones.
    """

    dry: float
    fuel: float
    holding_flow: Flow
    pattern_flow: Flow
    full: float | None
    to_ramp: float
    trip_seconds: float
    inbound_seconds: float
    usual: tuple[str, ...]

    @property
    def holding(self) -> float:
        """Flow in the stack, kg/s."""
        return self.holding_flow.at(self.dry + self.fuel)

    @property
    def pattern(self) -> float:
        """Flow on speed in level flight, kg/s."""
        return self.pattern_flow.at(self.dry + self.fuel)

    @property
    def look(self) -> float:
        """Fuel from the ball to the end of a bolter."""
        return self.look_at(self.fuel)

    @property
    def trip(self) -> float:
        """Fuel from one ball to the next."""
        return self.trip_at(self.fuel)

    @property
    def inbound(self) -> float:
        """Fuel from leaving the stack to the ball."""
        return self.holding * self.inbound_seconds

    def look_at(self, fuel: float) -> float:
        """Return the fuel from a ball with so much to the end of a bolter."""
        flow = self.pattern_flow.at(self.dry + fuel)
        return flow * self.to_ramp + (self.full or flow) * _BOLTER

    def trip_at(self, fuel: float) -> float:
        """Return the fuel from a ball with so much to the next."""
        return self.pattern_flow.spent(self.dry + fuel, self.trip_seconds)

    def held(self, fuel: float, seconds: float) -> float:
        """Return what is burnt in the stack in a time, from so much on."""
        return self.holding_flow.spent(self.dry + fuel, seconds)

    def holds(self, fuel: float, down_to: float) -> float:
        """Return how long the stack takes from a fuel to another, s; below 0 where there is less."""
        return self.holding_flow.seconds(self.dry + fuel, fuel - down_to)

    def needed(self, looks: int, least: float) -> float:
        """Return the fuel at the ball for so many looks before the least."""
        fuel = _before(self.look_at, least)
        for _ in range(looks - 1):
            fuel = _before(self.trip_at, fuel)
        return fuel

    def looks(self, fuel: float, least: float) -> int:
        """Return how many looks a fuel at the ball gives before the least."""
        count = 0
        while fuel - self.look_at(fuel) >= least - 1e-9 and count < _MOST:
            fuel, count = fuel - self.trip_at(fuel), count + 1
        return count


def _before(burnt: Callable[[float], float], left: float) -> float:
    """Find the fuel that leaves so much."""
    fuel = left
    for _ in range(8):
        fuel = left + burnt(fuel)
    return fuel


def burn(scenario: Scenario, *, flown: Approach, dry: float, solved: Times) -> Burn:
    """Find what a scenario's jet burns near the ship.

    Raises:
        InputError: a flow is not told, and no table stands in for it.
    """
    rules, profile, mass = scenario.fuel, scenario.aircraft, flown.jet.mass
    share = rules.flow_share
    pattern = _pattern(scenario, mass)
    if pattern is None:
        raise InputError(
            f"what {profile.name} burns in the pattern is not known.",
            place="key fuel.pattern_pph",
            remedy="Give fuel.pattern_pph, or an aircraft file with [fuel] thrust_n and flow_kgps.",
        )
    military = military_thrust(profile)
    full = None if military is None else flow_for(profile, military)
    known = {"trip": rules.trip or solved.trip, "inbound": rules.inbound or solved.inbound}
    kind = "instruments" if solved.case == 3 else "day"
    return Burn(
        dry=dry,
        fuel=mass - dry,
        holding_flow=_holding(scenario, mass),
        pattern_flow=pattern,
        full=None if full is None else full * share,
        to_ramp=TIMED_FROM[0] / flown.closure if solved.to_ramp is None else solved.to_ramp,
        trip_seconds=known["trip"] or TRIP[kind],
        inbound_seconds=known["inbound"] or INBOUND[kind],
        usual=tuple(name for name, seconds in known.items() if seconds is None),
    )


def _holding(scenario: Scenario, mass: float) -> Flow:
    told, profile = scenario.fuel.holding, scenario.aircraft
    if told is not None:
        return flows.steady(told)
    found = flows.level(profile, "holding")
    if found is None and "cruise" in profile.tables.get("fuel", {}):
        found = flows.tabulated(partial(transit.cruise_at, scenario, scenario.pattern.stack_altitude), mass)
    return need(found, "fuel.holding_pph").times(scenario.fuel.flow_share)


def _pattern(scenario: Scenario, mass: float) -> Flow | None:
    """Find the flow of level flight on speed: told, from thrust where the tables allow, else as listed."""
    told, profile = scenario.fuel.pattern, scenario.aircraft
    if told is not None:
        return flows.steady(told)
    found = None
    if "aerodynamics" in profile.tables and scenario.on_speed is None:
        air = scenario.air_at(scenario.pattern.downwind_altitude)
        found = flows.tabulated(lambda other: on_speed(profile, mass=other, air=air).flow, mass)
    found = found or flows.level(profile, "pattern")
    return None if found is None else found.times(scenario.fuel.flow_share)
