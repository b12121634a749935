"""By day from the holding stack over the ship to downwind: who holds where, the break, the interval.

Source: stack, initial and limits are published (CNATRA P-1211) unless said otherwise; the
turns are worked out in the moving air.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.environment import airspeed as speeds
from deckward.environment import atmosphere
from deckward.errors import Note
from deckward.foundation.units import FOOT, NAUTICAL_MILE, STANDARD_GRAVITY, from_si
from deckward.planning import turn as turns
from deckward.planning.pattern import AirAt, Pattern
from deckward.planning.reversal import Reversal, left_over, reverse
from deckward.planning.scenario import Pattern as Wish
from deckward.planning.steaming import Steaming

STACK_DIAMETER = 5.0 * NAUTICAL_MILE
STACK_STEP = 1000.0 * FOOT
SOONEST_BREAK = 1.0 * NAUTICAL_MILE
#: from memory: about 4 nm
LATEST_BREAK = 4.0 * NAUTICAL_MILE
MOST_IN_PATTERN = 6
#: how far to starboard of the keel the initial and the run-in lie; from memory that it is so, the figure ours
RUN_IN_OFFSET = 0.1 * NAUTICAL_MILE
#: slowing at idle with the boards out, through the break and on downwind: our own choice
SLOWING = 2.5
#: on speed at least so long before abeam, to trim and check: our own choice
SETTLED = 10.0


class Hold(Struct, frozen=True):
    """One level of the stack, a circle to the left past the ship at its 3 o'clock, held over her.

    ``banks`` are the least and the most round the circle, for the wind to leave it where it is.
    """

    altitude: float
    diameter: float
    airspeed: float
    lap: float
    banks: tuple[float, float]


class Descent(Struct, frozen=True):
    """From the stack's 9 o'clock to the initial: straight aft, then a turn to the left onto the run-in.

    ``sink`` is what the altitude over that time asks for.
    """

    straight: float
    turn: Reversal
    seconds: float
    sink: float
    notes: tuple[Note, ...] = ()


class Place(Struct, frozen=True):
    """One aircraft of the flight: times from the first break, and how far ahead of the ramp it breaks."""

    number: int
    break_time: float
    break_ahead: float
    abeam_time: float
    touchdown_time: float


class Overhead(Struct, frozen=True):
    """From the initial to abeam, for a flight that comes in together.

    ``run_in`` is the speed past the ship at the initial's airspeed; ``slowed`` how long
    before abeam the jet is on speed; ``before`` where the jet before one is, ahead and to
    port of the ramp along the keel, as one passes abeam: None where it has landed.
    """

    initial_altitude: float
    initial_airspeed: float
    run_in: float
    initial_to_break: float
    turn: Reversal
    load_factor: float
    downwind: float
    slowed: float
    break_interval: float
    landing_interval: float
    before: tuple[float, float] | None
    places: tuple[Place, ...]
    notes: tuple[Note, ...] = ()


def stack(
    flights: int, *, lowest: float, airspeed: float, steaming: Steaming,
    diameter: float = STACK_DIAMETER, air_at: AirAt = atmosphere.standard,
) -> tuple[Hold, ...]:  # fmt: skip
    """Give each flight a level of the stack, from the lowest up; ``airspeed`` is calibrated."""
    holds = []
    for k in range(flights):
        altitude = lowest + k * STACK_STEP
        true = _true(airspeed, altitude, air_at)
        lap, banks = _circle(steaming, true, diameter / 2.0)
        holds.append(Hold(altitude, diameter, true, lap, banks))
    return tuple(holds)


def descend(hold: Hold, wish: Wish, *, steaming: Steaming, air_at: AirAt = atmosphere.standard) -> Descent:
    """Lead a flight from its circle's 9 o'clock to the initial, at the initial's airspeed."""
    true = _true(wish.initial_airspeed, wish.initial_altitude, air_at)
    heading, past = steaming.heading_for(steaming.angle + np.pi, true)
    turn = reverse(steaming, heading=heading, astern=False, side=hold.diameter + RUN_IN_OFFSET, airspeed=true)
    straight = (wish.initial_distance + turn.ahead) / past
    seconds = straight + turn.seconds
    return Descent(
        straight=straight,
        turn=turn,
        seconds=seconds,
        sink=(hold.altitude - wish.initial_altitude) / seconds,
        notes=tuple(left_over(turn, "The turn from the stack to the initial")),
    )


def come_in(
    wish: Wish, pattern: Pattern, *, steaming: Steaming, aircraft: int = 1, interval: float = 50.0,
    air_at: AirAt = atmosphere.standard, slowing: float = SLOWING,
) -> Overhead:  # fmt: skip
    """Plan initial and break for a flight of ``aircraft`` that is to land ``interval`` seconds apart.

    The first breaks as soon as it may and still is on speed before abeam. Those behind fly on
    for the break interval and come back over the same way on downwind: a landing interval is
    the break interval, lengthened by that way.
    """
    true = _true(wish.initial_airspeed, wish.initial_altitude, air_at)
    heading, run_in = steaming.heading_for(steaming.angle, true)
    turn = reverse(
        steaming,
        heading=heading,
        astern=True,
        side=pattern.abeam + RUN_IN_OFFSET,
        airspeed=true,
        slowest=pattern.downwind_airspeed,
        slowing=slowing,
    )
    past = pattern.downwind_speed_past_ship
    excess = turn.airspeed - pattern.downwind_airspeed
    slow_time = excess / slowing
    slow_way = (past + excess / 2.0) * slow_time
    first = max(SOONEST_BREAK, slow_way + SETTLED * past - turn.ahead)
    settled = (first + turn.ahead - slow_way) / past
    downwind = slow_time + settled
    break_interval = interval * past / (run_in + past)
    to_abeam = turn.seconds + downwind
    touchdown = pattern.checkpoint("touchdown").time
    places = tuple(
        Place(
            number=k + 1,
            break_time=k * break_interval,
            break_ahead=first + k * break_interval * run_in,
            abeam_time=to_abeam + k * interval,
            touchdown_time=to_abeam + touchdown + k * interval,
        )
        for k in range(aircraft)
    )
    return Overhead(
        initial_altitude=wish.initial_altitude,
        initial_airspeed=true,
        run_in=run_in,
        initial_to_break=(wish.initial_distance + first) / run_in,
        turn=turn,
        load_factor=float(turns.load_factor(turn.bank)),
        downwind=downwind,
        slowed=settled,
        break_interval=break_interval,
        landing_interval=interval,
        before=_before(pattern, steaming, interval),
        places=places,
        notes=(*left_over(turn, "The break"), *_notes(places, interval)),
    )


def _before(pattern: Pattern, steaming: Steaming, interval: float) -> tuple[float, float] | None:
    path = pattern.path
    if interval > path.time[-1]:
        return None
    ahead, right = (float(np.interp(interval, path.time, way)) for way in (path.ahead, path.right))
    return steaming.hull(ahead, right)


def _notes(places: tuple[Place, ...], interval: float):
    late = [place for place in places if place.break_ahead > LATEST_BREAK]
    if late:
        yield Note(
            "break-too-far",
            f"Number {late[0].number} would break {from_si(late[0].break_ahead, 'nm'):.1f} nm ahead, "
            f"{from_si(late[0].break_ahead - LATEST_BREAK, 'nm'):.1f} nm later than the "
            f"{from_si(LATEST_BREAK, 'nm'):.0f} nm that are usual: let it and those behind go round again, "
            f"or take {late[0].number - 1} at a time.",
        )
    at_once = int((places[0].touchdown_time - places[0].break_time) // interval) + 1
    at_once = min(at_once, len(places))
    if at_once > MOST_IN_PATTERN:
        yield Note(
            "pattern-full",
            f"{at_once} aircraft would be in the pattern at once, and {MOST_IN_PATTERN} are the most. "
            "Lengthen the interval.",
        )


def _true(calibrated: float, altitude: float, air_at: AirAt) -> float:
    air = air_at(np.asarray(altitude))
    return float(speeds.true_from_calibrated(calibrated, pressure=air.pressure, temperature=air.temperature))


def _circle(steaming: Steaming, airspeed: float, radius: float) -> tuple[float, tuple[float, float]]:
    """Give the time round a circle held over the ship, and the least and most bank that holds it."""
    track = np.linspace(0.0, -2.0 * np.pi, 361)
    flown = np.array([steaming.heading_for(float(angle), airspeed) for angle in track])
    heading, past = flown[:, 0], flown[:, 1]
    lap = float(turns.cumulative(radius / past, -track)[-1])
    rate = np.abs(np.gradient(heading, track)) * past / radius
    bank = np.arctan(airspeed * rate / STANDARD_GRAVITY)
    return lap, (float(bank.min()), float(bank.max()))
