"""The fuel ladder: from launch (or from now) to the ball, looks at the deck, and bingo.

A look is one pass at the deck. It may be flown where the fuel after a bolter still reaches
the field with its reserve and the margin: the least fuel.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from msgspec import Struct
from msgspec.structs import replace

from deckward.planning import burning, flows, transit
from deckward.planning.approach import Approach
from deckward.planning.burning import Burn, Times
from deckward.planning.flows import Flow
from deckward.planning.scenario import Leg, Scenario, need
from deckward.planning.transit import Bingo

#: looks that are drawn up at most
_MOST_LOOKS = 12


class Event(Struct, frozen=True):
    """A point of the ladder; ``time`` on the clock, or from the ladder's start."""

    name: str
    time: float
    fuel: float


class Look(Struct, frozen=True):
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


class Tanking(Struct, frozen=True):
    """Going to the tanker: ``cost`` to get there and take fuel, kg; ``leave_with`` at least so much.

    ``looks`` are those that the fuel taken gives.
    """

    cost: float
    seconds: float
    leave_with: float
    give: float
    looks: int


class FlightFuel(Struct, frozen=True):
    """What the last aircraft of a flight has at the ball, in its turn."""

    name: str
    crews: tuple[str, ...]
    aircraft: int
    fuel_now: float
    ball: float
    fuel: float
    looks: int
    too_heavy: float


class FuelPlan(Struct, frozen=True):
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


def plan(
    scenario: Scenario, *, flown: Approach, dry: float, most: float | None, solved: Times,
    carried: float | None = None,
) -> FuelPlan:  # fmt: skip
    """Draw up the ladder.

    Args:
        scenario: the facts.
        flown: the approach at the landing mass to reckon with.
        dry: the jet's mass on landing without fuel, kg.
        most: the most fuel at the ball that the landing mass allows, kg.
        solved: times of the planned pattern and way in; what the scenario tells goes before them.
        carried: its mass without fuel on the legs, kg, where stores are left behind; else ``dry``.

    Raises:
        InputError: a fact is missing that no table stands in for.
    """
    bingo = transit.bingo(scenario, dry=dry)
    least = bingo.fuel + scenario.fuel.margin
    burn = burning.burn(scenario, flown=flown, dry=dry, solved=solved)
    ladder = _Ladder(scenario, burn, solved, dry if carried is None else carried)
    events = tuple(ladder.events())
    ball = events[-1]
    burn = replace(burn, fuel=ball.fuel)
    wanted = scenario.fuel.looks
    needed = burn.needed(wanted, least)
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
        possible=burn.looks(ball.fuel, least),
        wanted=wanted,
        too_heavy=too_heavy,
        burn_off=burn.holds(ball.fuel, ball.fuel - too_heavy),
        short=max(needed - ball.fuel, 0.0),
        latest=ball.time + burn.holds(ball.fuel, burn.needed(1, least)),
        latest_wanted=ball.time + burn.holds(ball.fuel, needed),
        late=ladder.late,
        tanking=tanking,
        flights=tuple(_flights(scenario, burn, solved, least, most)),
        climbs_counted=transit.tables(scenario) is not None,
    )


class _Ladder:
    """Walks from launch, or from now, to the ball."""

    def __init__(self, scenario: Scenario, burn: Burn, solved: Times, carried: float) -> None:
        self.scenario, self.burn, self.solved = scenario, burn, solved
        self.zero_fuel = carried
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
        self.zero_fuel = self.burn.dry
        first = first_ball(self.scenario, self.burn, self.solved)
        if self.clock and first is not None:
            leave = first - self.burn.inbound_seconds
            if leave >= self.time:
                self._burn(leave - self.time, self.burn.holding_flow)
                yield self._event("leave the stack")
            else:
                self.late = self.time - leave
        self._burn(self.burn.inbound_seconds, self.burn.holding_flow)
        yield self._event("ball")

    def _event(self, name: str) -> Event:
        return Event(name, self.time, self.fuel)

    def _burn(self, seconds: float, flow: Flow) -> None:
        self.time += seconds
        self.fuel -= flow.spent(self.zero_fuel + self.fuel, seconds)

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
        if leg.flow is not None:
            flow = flows.steady(leg.flow)
        elif leg.like is not None:
            listed = need(flows.level(scenario.aircraft, leg.like), f"leg[{number}].flow_pph")
            flow = listed.times(self.share)
        else:
            need(self.table, f"leg[{number}].flow_pph")
            cruising = flows.tabulated(
                partial(transit.cruise_at, scenario, leg.altitude), self.zero_fuel + self.fuel
            )
            flow = need(cruising, f"leg[{number}].flow_pph").times(self.share)
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
        after = fuel - burn.look_at(fuel)
        if burn.looks(fuel - burn.trip_at(fuel), least):
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
        fuel -= burn.trip_at(fuel)


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
        looks=burn.looks(least + tanker.give - burn.inbound, least),
    )


def first_ball(scenario: Scenario, burn: Burn, solved: Times) -> float | None:
    """Return when the first aircraft is at the ball: the stack's time, else so long before the first ramp."""
    if solved.balls:
        return solved.balls[0]
    first = scenario.recovery.time
    return None if first is None else first - burn.to_ramp


def _flights(
    scenario: Scenario, burn: Burn, solved: Times, least: float, most: float | None
) -> Iterator[FlightFuel]:
    """Yield each flight's last aircraft at the ball, holding until its turn."""
    first, last = first_ball(scenario, burn, solved), -1
    if first is None:
        return
    for flight in scenario.flights:
        last += flight.count
        if flight.fuel is None or flight.time is None:
            continue
        ball = solved.balls[last] if last < len(solved.balls) else first + last * scenario.recovery.interval
        fuel = flight.fuel - burn.held(flight.fuel, ball - flight.time)
        yield FlightFuel(
            name=flight.name,
            crews=flight.crews,
            aircraft=flight.count,
            fuel_now=flight.fuel,
            ball=ball,
            fuel=fuel,
            looks=burn.looks(fuel, least),
            too_heavy=0.0 if most is None else max(fuel - most, 0.0),
        )
