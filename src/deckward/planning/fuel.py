"""The fuel ladder: from launch (or from now) to the ball, looks at the deck, and bingo.

A look is one pass at the deck. It may be flown where the fuel after a bolter still reaches
the field with its reserve and the margin: the least fuel.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from deckward.errors import InputError
from deckward.planning import transit
from deckward.planning.approach import TIMED_FROM, Approach
from deckward.planning.on_speed import flow_for, military_thrust, on_speed
from deckward.planning.scenario import Leg, Scenario, need
from deckward.planning.transit import Bingo

#: from one look to the next, and from leaving the stack to the ball: common practice, no source
TRIP = {"day": 240.0, "instruments": 480.0}
INBOUND = {"day": 300.0, "instruments": 480.0}
#: military power after a bolter before the pattern's own: common practice, no source
_BOLTER = 10.0
#: looks that are drawn up at most
_MOST_LOOKS = 12


@dataclass(frozen=True)
class Times:
    """What flying near the ship takes in a ``case`` of recovery, s; None for what was not solved."""

    case: int
    trip: float | None = None
    inbound: float | None = None


@dataclass(frozen=True)
class Burn:
    """What flying near the ship takes: flows, kg/s, times, s, and fuel, kg.

    ``look`` is the fuel from the ball to the end of a bolter, ``trip`` from one ball to the
    next; ``inbound`` from leaving the stack to the ball. ``usual`` names the times that are
    common practice, for want of solved or told ones.
    """

    holding: float
    pattern: float
    look: float
    trip_seconds: float
    trip: float
    inbound_seconds: float
    inbound: float
    usual: tuple[str, ...]


@dataclass(frozen=True)
class Event:
    """A point of the ladder; ``time`` on the clock, or from the ladder's start."""

    name: str
    time: float
    fuel: float


@dataclass(frozen=True)
class Look:
    """A look at the deck: fuel at its ball and after a bolter, and what may follow one.

    ``within`` tells whether it keeps the least fuel; ``too_heavy`` by how much the jet is
    over its landing mass, kg, at the ball; ``then`` is "again", "tank" or "divert", or
    "too late" where not even the field is in reach.
    """

    number: int
    time: float
    fuel: float
    after: float
    within: bool
    too_heavy: float
    then: str


@dataclass(frozen=True)
class Tanking:
    """Going to the tanker: ``cost`` to get there and take fuel, kg; ``leave_with`` at least so much.

    ``looks`` are those that the fuel taken gives.
    """

    cost: float
    seconds: float
    leave_with: float
    give: float
    looks: int


@dataclass(frozen=True)
class FlightFuel:
    """What the last aircraft of a flight has at the ball, in its turn."""

    name: str
    crews: tuple[str, ...]
    aircraft: int
    fuel_now: float
    ball: float
    fuel: float
    looks: int
    too_heavy: float


@dataclass(frozen=True)
class FuelPlan:
    """The ladder and what follows from it; masses and fuel in kg, times in s.

    ``clock`` tells whether times are of the clock. ``least`` must be left after any look;
    ``most`` may be there at the ball, None without a landing-mass limit. ``needed`` is the
    fuel at the ball for the looks wanted. ``too_heavy`` must go before the first ball, which
    holding takes ``burn_off`` s; ``short`` lacks for the looks wanted. ``latest`` is the last
    moment of a first ball with one look, ``latest_wanted`` with those wanted.
    """

    clock: bool
    events: tuple[Event, ...]
    burn: Burn
    bingo: Bingo
    least: float
    most: float | None
    needed: float
    ball: Event
    looks: tuple[Look, ...]
    possible: int
    wanted: int
    too_heavy: float
    burn_off: float
    short: float
    latest: float
    latest_wanted: float
    late: float
    tanking: Tanking | None
    flights: tuple[FlightFuel, ...]
    climbs_counted: bool


def plan(scenario: Scenario, *, flown: Approach, most: float | None, solved: Times) -> FuelPlan:
    """Draw up the ladder.

    Args:
        scenario: the facts.
        flown: the approach at the heaviest landing mass to reckon with.
        most: the most fuel at the ball that the landing mass allows, kg.
        solved: times of the planned pattern and way in; what the scenario tells goes before them.

    Raises:
        InputError: a fact is missing that no table stands in for.
    """
    bingo = transit.bingo(scenario)
    least = bingo.fuel + scenario.fuel.margin
    burn = _burn(scenario, mass=flown.jet.mass, closure=flown.closure, solved=solved)
    ladder = _Ladder(scenario, burn)
    events = tuple(ladder.events())
    ball = events[-1]
    wanted = scenario.fuel.looks
    needed = least + burn.look + (wanted - 1) * burn.trip
    too_heavy = 0.0 if most is None else max(ball.fuel - most, 0.0)
    tanking = _tanking(scenario, burn, least)
    return FuelPlan(
        clock=ladder.clock,
        events=events,
        burn=burn,
        bingo=bingo,
        least=least,
        most=most,
        needed=needed,
        ball=ball,
        looks=tuple(_looks(ball, burn, least, most, tanking, bingo.fuel)),
        possible=looks_from(ball.fuel, burn, least),
        wanted=wanted,
        too_heavy=too_heavy,
        burn_off=too_heavy / burn.holding,
        short=max(needed - ball.fuel, 0.0),
        latest=ball.time + (ball.fuel - burn.look - least) / burn.holding,
        latest_wanted=ball.time + (ball.fuel - needed) / burn.holding,
        late=ladder.late,
        tanking=tanking,
        flights=tuple(_flights(scenario, burn, least, most)),
        climbs_counted=transit.tables(scenario) is not None,
    )


def looks_from(fuel: float, burn: Burn, least: float) -> int:
    """Return how many looks a fuel at the ball gives before the least fuel."""
    over = fuel - burn.look - least
    return 0 if over < 0.0 else math.floor(over / burn.trip + 1e-9) + 1


def _burn(scenario: Scenario, *, mass: float, closure: float, solved: Times) -> Burn:
    rules, profile = scenario.fuel, scenario.aircraft
    share = rules.flow_share
    pattern = rules.pattern
    if pattern is None:
        pattern = _pattern_flow(scenario, mass)
        pattern = None if pattern is None else share * pattern
    if pattern is None:
        raise InputError(
            f"what {profile.name} burns in the pattern is not known.",
            place="key fuel.pattern_pph",
            remedy="Give fuel.pattern_pph, or an aircraft file with [fuel] thrust_n and flow_kgps.",
        )
    holding = rules.holding
    if holding is None:
        holding = _level(scenario, "holding")
        if holding is None and "cruise" in profile.tables.get("fuel", {}):
            _, holding = transit.cruise(profile.tables["fuel"]["cruise"], scenario.pattern.stack_altitude)
        holding = need(holding, "fuel.holding_pph") * share
    military = military_thrust(profile)
    full = None if military is None else flow_for(profile, military)
    known = {"trip": rules.trip or solved.trip, "inbound": rules.inbound or solved.inbound}
    kind = "instruments" if solved.case == 3 else "day"
    trip = known["trip"] or TRIP[kind]
    inbound = known["inbound"] or INBOUND[kind]
    return Burn(
        holding=holding,
        pattern=pattern,
        look=pattern * TIMED_FROM[0] / closure + (full * share if full else pattern) * _BOLTER,
        trip_seconds=trip,
        trip=pattern * trip,
        inbound_seconds=inbound,
        inbound=holding * inbound,
        usual=tuple(name for name, seconds in known.items() if seconds is None),
    )


def _pattern_flow(scenario: Scenario, mass: float) -> float | None:
    """Find the flow of level flight on speed: from thrust where the tables allow, else as listed."""
    if "aerodynamics" in scenario.aircraft.tables and scenario.on_speed is None:
        air = scenario.air_at(scenario.pattern.downwind_altitude)
        flow = on_speed(scenario.aircraft, mass=mass, air=air).flow
        if flow is not None:
            return flow
    return _level(scenario, "pattern")


def _level(scenario: Scenario, name: str) -> float | None:
    """Find a level flight of the aircraft's table by its name or the name's first word."""
    for level in scenario.aircraft.tables.get("fuel", {}).get("level", ()):
        called = level["name"].casefold()
        if called == name.casefold() or called.replace(",", " ").split()[0] == name.casefold():
            return level["flow_kgps"]
    return None


class _Ladder:
    """Walks from launch, or from now, to the ball."""

    def __init__(self, scenario: Scenario, burn: Burn) -> None:
        self.scenario, self.burn = scenario, burn
        self.table = transit.tables(scenario)
        self.share = scenario.fuel.flow_share
        self.altitude = 0.0
        self.late = 0.0
        fuel = scenario.load.fuel
        start = scenario.launch.time if scenario.launch.time is not None else scenario.time
        self.from_launch = fuel is not None
        if fuel is None:
            told = next((flight for flight in scenario.flights if flight.fuel is not None), None)
            if told is not None:
                fuel, start = told.fuel, told.time
        self.clock = start is not None
        self.time, self.fuel = start or 0.0, need(fuel, "fuel_lb")

    def events(self) -> Iterator[Event]:
        """Yield the ladder's points; the last is the first ball."""
        if self.from_launch:
            yield self._event("engine start" if self.scenario.fuel.start else "launch")
            if self.scenario.fuel.start:
                self.fuel -= self.scenario.fuel.start
                yield self._event("launch")
            for number, leg in enumerate(self.scenario.legs, start=1):
                self._fly(leg, number)
                yield self._event(leg.name)
            self._change(self.scenario.pattern.stack_altitude)
            yield self._event("overhead")
        else:
            yield self._event("now")
        first = self.scenario.recovery.time
        if self.clock and first is not None:
            leave = first - self.burn.inbound_seconds
            if leave >= self.time:
                self._burn(leave - self.time, self.burn.holding)
                yield self._event("leave the stack")
            else:
                self.late = self.time - leave
        self._burn(self.burn.inbound_seconds, self.burn.holding)
        yield self._event("ball")

    def _event(self, name: str) -> Event:
        return Event(name, self.time, self.fuel)

    def _burn(self, seconds: float, flow: float) -> None:
        self.time += seconds
        self.fuel -= flow * seconds

    def _change(self, altitude: float) -> transit.Stretch:
        """Climb or descend to an altitude, where the aircraft has tables for it."""
        if self.table is None:
            return transit.Stretch(0.0, 0.0, 0.0)
        up = altitude >= self.altitude
        low, high = sorted((altitude, self.altitude))
        way = transit.slope(self.table["climb" if up else "descent"], low, high)
        self.altitude = altitude
        self.time += way.seconds
        self.fuel -= self.share * way.fuel
        return way

    def _fly(self, leg: Leg, number: int) -> None:
        scenario = self.scenario
        way = self._change(leg.altitude)
        flow = leg.flow
        if flow is None and leg.like is not None:
            flow = need(_level(scenario, leg.like), f"leg[{number}].flow_pph") * self.share
        elif flow is None:
            table = need(self.table, f"leg[{number}].flow_pph")
            flow = transit.cruise(table["cruise"], leg.altitude)[1] * self.share
        if leg.seconds is not None:
            seconds = leg.seconds - way.seconds
        else:
            assert leg.airspeed is not None and leg.distance is not None, "the form sees to it"
            speed = leg.airspeed
            if leg.track is not None:
                speed, _ = transit.over_the_sea(
                    scenario, track=leg.track, airspeed=leg.airspeed, altitude=leg.altitude
                )
            seconds = (leg.distance - way.distance) / speed
        self._burn(max(seconds, 0.0), flow)


def _looks(
    ball: Event, burn: Burn, least: float, most: float | None, tanking: Tanking | None, bingo: float
) -> Iterator[Look]:
    """Yield looks until one does not keep the least fuel; that one too."""
    fuel = ball.fuel
    for number in range(1, _MOST_LOOKS + 1):
        after = fuel - burn.look
        if looks_from(fuel - burn.trip, burn, least):
            then = "again"
        elif tanking is not None and after >= tanking.leave_with:
            then = "tank"
        else:
            then = "divert" if after >= bingo else "too late"
        within = after >= least
        yield Look(
            number=number,
            time=ball.time + (number - 1) * burn.trip_seconds,
            fuel=fuel,
            after=after,
            within=within,
            too_heavy=0.0 if most is None else max(fuel - most, 0.0),
            then=then,
        )
        if not within:
            return
        fuel -= burn.trip


def _tanking(scenario: Scenario, burn: Burn, least: float) -> Tanking | None:
    tanker = scenario.tanker
    if tanker is None:
        return None
    cost, seconds = burn.holding * tanker.seconds, tanker.seconds
    table = transit.tables(scenario)
    if table is not None:
        way = transit.slope(table["climb"], 0.0, tanker.altitude)
        airspeed, flow = transit.cruise(table["cruise"], tanker.altitude)
        level = max(tanker.distance - way.distance, 0.0) / airspeed
        cost += (way.fuel + flow * level) * scenario.fuel.flow_share
        seconds += way.seconds + level
    return Tanking(
        cost=cost,
        seconds=seconds,
        leave_with=least + cost,
        give=tanker.give,
        looks=looks_from(least + tanker.give - burn.inbound, burn, least),
    )


def _flights(scenario: Scenario, burn: Burn, least: float, most: float | None) -> Iterator[FlightFuel]:
    """Yield each flight's last aircraft at the ball, holding until its turn."""
    first, last = scenario.recovery.time, -1
    if first is None:
        return
    for flight in scenario.flights:
        last += flight.count
        if flight.fuel is None or flight.time is None:
            continue
        ball = first + last * scenario.recovery.interval
        fuel = flight.fuel - burn.holding * (ball - flight.time)
        yield FlightFuel(
            name=flight.name,
            crews=flight.crews,
            aircraft=flight.count,
            fuel_now=flight.fuel,
            ball=ball,
            fuel=fuel,
            looks=looks_from(fuel, burn, least),
            too_heavy=0.0 if most is None else max(fuel - most, 0.0),
        )
