"""Stack, initial, break, interval, bolter and wave-off."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from msgspec.structs import replace

from deckward import aircraft, site
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE
from deckward.planning import again, overhead, pattern
from deckward.planning.reversal import left_over, reverse
from deckward.planning.steaming import Steaming
from support.wishes import USUAL, aim_at

THERE = Steaming(200 * DEGREE, 12 * KNOT, 238 * DEGREE, 17 * KNOT, 9 * DEGREE)
CALM = Steaming(0.0, 0.0, 0.0, 0.0)
AIM = aim_at(site.load("wintermere"), aircraft.load("sandlark"))
SOLVER = pattern.Solver(USUAL, THERE, pattern.Trimmed(125 * KNOT, 8 * DEGREE), AIM)
PLAN = SOLVER.plan(28 * DEGREE)


def flown(there: Steaming, bank: float, seconds: float, heading: float, airspeed, roll_rate=10 * DEGREE):
    """Small steps over the sea, ship and wind in earth axes: ahead and port along her keel, heading."""
    north = east = 0.0
    step = seconds / 20_000
    heading += there.course - there.angle
    for k in range(20_000):
        t = (k + 0.5) * step
        v = airspeed(t)
        phi = min(bank, t * roll_rate, (seconds - t) * roll_rate)
        turn = step * 9.80665 * math.tan(phi) / v
        heading -= turn / 2
        north += step * (v * math.cos(heading) - there.wind_speed * math.cos(there.wind_from))
        east += step * (v * math.sin(heading) - there.wind_speed * math.sin(there.wind_from))
        heading -= turn / 2
    north -= there.speed * seconds * math.cos(there.course)
    east -= there.speed * seconds * math.sin(there.course)
    c, s = math.cos(there.course), math.sin(there.course)
    return north * c + east * s, north * s - east * c, heading


def test_the_break_flown_ends_on_downwind():
    plan = overhead.come_in(USUAL, PLAN, steaming=THERE)
    v = plan.initial_airspeed
    start, _ = THERE.heading_for(THERE.angle, v)
    ahead, port, heading = flown(
        THERE, plan.turn.bank, plan.turn.seconds, start, lambda t: max(v - 2.5 * t, PLAN.downwind_airspeed)
    )
    assert port == pytest.approx(PLAN.abeam + overhead.RUN_IN_OFFSET, abs=2.0)
    assert ahead == pytest.approx(plan.turn.ahead, abs=2.0)
    # its track past the ship is straight aft, at the speed it then has
    v = plan.turn.airspeed
    across = v * math.sin(heading - THERE.course) - THERE.wind_speed * math.sin(
        THERE.wind_from - THERE.course
    )
    assert across == pytest.approx(0.0, abs=0.02)


def test_a_flight_lands_at_the_interval_that_is_wanted():
    """Each flies its own way at its own speeds: times to abeam from places and speeds alone."""
    plan = overhead.come_in(USUAL, PLAN, steaming=THERE, aircraft=3, interval=45.0)
    past = PLAN.downwind_speed_past_ship
    for place in plan.places:
        waited = (place.break_ahead - plan.places[0].break_ahead) / plan.run_in
        assert place.break_time == pytest.approx(waited)
        back = plan.downwind + (place.break_ahead - plan.places[0].break_ahead) / past
        assert place.abeam_time == pytest.approx(place.break_time + plan.turn.seconds + back)
    landings = [place.touchdown_time for place in plan.places]
    assert [b - a for a, b in pairwise(landings)] == pytest.approx([45.0, 45.0])
    # published (CNATRA P-1211): 15 s between the breaks of a section; common practice: 40 to 60 s to land
    assert 13.0 < plan.break_interval < 18.0
    assert plan.notes == ()


def test_the_first_breaks_no_sooner_than_may_be_and_is_on_speed_before_abeam():
    plan = overhead.come_in(USUAL, PLAN, steaming=THERE)
    assert plan.places[0].break_ahead >= 1.0 * NAUTICAL_MILE
    assert plan.slowed >= overhead.SETTLED - 1e-9
    fast = overhead.come_in(replace(USUAL, initial_airspeed=340 * KNOT), PLAN, steaming=THERE)
    assert fast.places[0].break_ahead > plan.places[0].break_ahead
    assert fast.load_factor > plan.load_factor


def test_more_than_can_break_in_time_is_said():
    plan = overhead.come_in(USUAL, PLAN, steaming=THERE, aircraft=9)
    codes = [note.code for note in plan.notes]
    assert codes == ["break-too-far"]
    crowded = overhead.come_in(USUAL, PLAN, steaming=THERE, aircraft=9, interval=15.0)
    assert "pattern-full" in {note.code for note in crowded.notes}


def test_the_jet_before_is_where_it_will_be_so_much_later():
    plan = overhead.come_in(USUAL, PLAN, steaming=THERE, interval=PLAN.checkpoint("90").time)
    at_90 = PLAN.checkpoint("90")
    assert plan.before == pytest.approx((at_90.ahead, at_90.port), abs=1.0)
    assert overhead.come_in(USUAL, PLAN, steaming=THERE, interval=90.0).before is None


def test_stack_in_calm_air():
    """A circle of 5 nm at 250 kt true: bank atan(V^2 / (g R)), lap 2 pi R / V."""
    first, second = overhead.stack(2, lowest=2000 * FOOT, airspeed=230 * KNOT, steaming=CALM)
    assert (second.altitude - first.altitude) / FOOT == pytest.approx(1000.0)
    radius = 2.5 * NAUTICAL_MILE
    assert first.lap == pytest.approx(2 * math.pi * radius / first.airspeed, rel=1e-6)
    for bank in first.banks:
        assert math.tan(bank) == pytest.approx(first.airspeed**2 / (9.80665 * radius), rel=1e-3)
    windy = overhead.stack(1, lowest=2000 * FOOT, airspeed=230 * KNOT, steaming=THERE)[0]
    assert windy.banks[0] < first.banks[0] < windy.banks[1]
    assert windy.lap > first.lap


def test_from_the_stack_to_the_initial():
    hold = overhead.stack(1, lowest=3000 * FOOT, airspeed=230 * KNOT, steaming=THERE)[0]
    down = overhead.descend(hold, USUAL, steaming=THERE)
    true = down.turn.airspeed
    start, past = THERE.heading_for(THERE.angle + math.pi, true)
    ahead, port, _ = flown(THERE, down.turn.bank, down.turn.seconds, start, lambda t: true)
    # it began 5 nm to port abeam of the ramp and ends on the run-in, 3 nm astern
    assert ahead - down.straight * past == pytest.approx(-3.0 * NAUTICAL_MILE, abs=3.0)
    assert hold.diameter + port == pytest.approx(-overhead.RUN_IN_OFFSET, abs=3.0)
    assert down.sink * down.seconds == pytest.approx(2200 * FOOT)


@pytest.mark.parametrize("start", [-AIM.ahead, 0.25 * NAUTICAL_MILE])
def test_round_again_comes_abeam_as_planned(start):
    if start < 0.0:
        trip = again.bolter(SOLVER, PLAN, clear=300.0)
    else:
        trip = again.wave_off(SOLVER, PLAN, range=start, clear=300.0)
    v = PLAN.downwind_airspeed
    ahead, port, _ = flown(THERE, trip.turn.bank, trip.turn.seconds, PLAN.groove.heading, lambda t: v)
    up = trip.straight * PLAN.groove.closure - start
    assert up >= 300.0
    assert up * math.sin(THERE.angle) + port == pytest.approx(PLAN.abeam, abs=2.0)
    downwind = up * math.cos(THERE.angle) + ahead
    assert trip.downwind == pytest.approx(downwind / PLAN.downwind_speed_past_ship, abs=0.1)
    assert trip.downwind >= again.LEAST_DOWNWIND - 0.1
    # from memory: about two minutes round
    assert 90.0 < trip.trip < 160.0


@pytest.mark.parametrize(("side", "bank", "word"), [(200.0, 75.0, "wide"), (60_000.0, 6.0, "close")])
def test_a_turn_that_no_bank_makes_is_flown_at_the_nearest_and_said(side, bank, word):
    turn = reverse(CALM, heading=0.0, astern=True, side=side, airspeed=300 * KNOT)
    assert turn.bank == pytest.approx(bank * DEGREE)
    assert abs(turn.port) - side == pytest.approx(turn.wide)
    (note,) = left_over(turn, "The break")
    assert note.code == "turn-out-of-reach"
    assert f"{abs(turn.wide) / NAUTICAL_MILE:.2f} nm too {word}" in note.text


def test_a_break_too_fast_for_its_distance_is_planned_all_the_same():
    plan = overhead.come_in(replace(USUAL, initial_airspeed=430 * KNOT), PLAN, steaming=THERE)
    assert [note.code for note in plan.notes] == ["turn-out-of-reach"]
    assert plan.places[0].abeam_time > 0.0
