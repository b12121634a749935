"""The day pattern: flown by forces on a point, and against its published numbers."""

from __future__ import annotations

import math

import numpy as np
import pytest

from deckward import aircraft, site
from deckward.errors import InputError
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE
from deckward.planning import pattern, slips
from deckward.planning.steaming import Steaming
from support import point_mass
from support.wishes import aim_at, wanted

SANDLARK = aircraft.load("sandlark")
SHIP = site.load("wintermere")
AERO = SANDLARK.tables["aerodynamics"]


def jet(mass: float = 5783.0) -> point_mass.Jet:
    alpha_deg = SANDLARK.on_speed / DEGREE
    look_up = {
        key: float(np.interp(alpha_deg, AERO["angle_of_attack_deg"], AERO[f"{key}_coefficient"]))
        for key in ("lift", "drag")
    }
    return point_mass.Jet(
        mass=mass,
        area=AERO["reference_area_m2"],
        alpha=SANDLARK.on_speed,
        **look_up,
        least_thrust=SANDLARK.tables["engine"]["thrust_n"][0],
        most_thrust=SANDLARK.tables["engine"]["thrust_n"][-1],
    )


def on_speed(flown: point_mass.Jet) -> pattern.Trimmed:
    return pattern.Trimmed(flown.level_airspeed(1.225), flown.alpha)


def steaming(course_deg=40.0, ship_kt=12.0, from_deg=45.0, wind_kt=14.0, angle=SHIP.angle) -> Steaming:
    return Steaming(course_deg * DEGREE, ship_kt * KNOT, from_deg * DEGREE, wind_kt * KNOT, angle)


def solve(wish=None, there=None, flown=None):
    flown = flown or jet()
    return pattern.solve(
        wish or wanted(),
        steaming=there or steaming(),
        on_speed=on_speed(flown),
        aim=aim_at(SHIP, SANDLARK),
    )


WINDS = {
    "calm, ship stopped": {"ship_kt": 0.0, "wind_kt": 0.0},
    "light wind, ship makes it": {"ship_kt": 25.0, "wind_kt": 3.0, "from_deg": 300.0},
    "wind down the deck": {"course_deg": 251.1, "ship_kt": 18.7, "from_deg": 225.0, "wind_kt": 10.0},
    "strong and ahead": {"course_deg": 355.0, "ship_kt": 8.0, "from_deg": 350.0, "wind_kt": 30.0},
    "from the right": {"course_deg": 10.0, "ship_kt": 15.0, "from_deg": 60.0, "wind_kt": 20.0},
    "from astern": {"course_deg": 200.0, "ship_kt": 20.0, "from_deg": 20.0, "wind_kt": 8.0},
}


def fly(plan: pattern.Pattern, there: Steaming, flown: point_mass.Jet):
    """From abeam with the planned bank and times to wings level; where that is on the ship."""
    start = plan.checkpoint("abeam")
    path = plan.path
    turn, rolled_out = plan.checkpoint("turn").time, plan.checkpoint("groove").time

    def bank(t: float) -> float:
        rolling = min(t - turn, rolled_out - t) * 10.0 * DEGREE
        return -min(max(rolling, 0.0), plan.bank)

    # earth axes from the ramp at abeam; the ship's reference point makes no odds to her velocity
    course = there.course
    now = point_mass.Now(
        time=0.0,
        north=start.port * math.sin(course) + start.ahead * math.cos(course),
        east=-start.port * math.cos(course) + start.ahead * math.sin(course),
        height=start.height,
        airspeed=start.airspeed,
        climb=0.0,
        heading=start.heading,
    )
    air = (
        -there.wind_speed * math.cos(there.wind_from),
        -there.wind_speed * math.sin(there.wind_from),
    )
    end = point_mass.fly(
        flown,
        now,
        until=rolled_out,
        bank=bank,
        wanted=lambda t: tuple(
            float(np.interp(t, path.time, values)) for values in (path.height, -path.sink, path.airspeed)
        ),
        wind=air,
    )[-1]
    north = end.north - there.speed * end.time * math.cos(course)
    east = end.east - there.speed * end.time * math.sin(course)
    landing = course - there.angle
    return end, (
        north * math.cos(landing) + east * math.sin(landing),
        -north * math.sin(landing) + east * math.cos(landing),
    )


@pytest.mark.parametrize("wind", WINDS.values(), ids=WINDS)
@pytest.mark.parametrize(
    "wish",
    [wanted(), wanted(bank=22 * DEGREE, groove=18.0), wanted(abeam=1.1 * NAUTICAL_MILE)],
    ids=["28 deg", "22 deg, long groove", "1.1 nm abeam"],
)
def test_flown_by_forces_the_plan_rolls_out_in_the_groove(wish, wind):
    flown, there = jet(), steaming(**wind)
    plan = solve(wish, there, flown)
    end, (ahead, right) = fly(plan, there, flown)
    assert abs(right) < 30.0
    seconds = (aim_at(SHIP, SANDLARK).ahead - ahead) / plan.groove.closure
    assert seconds == pytest.approx(wish.groove, abs=1.0)
    heading = plan.checkpoint("groove").heading
    assert abs(math.remainder(end.heading - heading, 2 * math.pi)) < 2.5 * DEGREE
    assert end.height == pytest.approx(plan.groove.height, abs=15 * FOOT)


def test_abeam_as_wished_is_flown_abeam():
    plan = solve(wanted(abeam=1.05 * NAUTICAL_MILE))
    assert plan.notes == ()
    assert plan.checkpoint("abeam").port == pytest.approx(1.05 * NAUTICAL_MILE, abs=0.1)
    assert plan.checkpoint("abeam").ahead == pytest.approx(0.0, abs=0.5)
    assert solve(wanted(bank=plan.bank)).abeam == pytest.approx(plan.abeam, abs=0.1)


def test_too_close_to_be_had_gives_the_nearest_and_says_so():
    plan = solve(wanted(abeam=0.6 * NAUTICAL_MILE))
    assert [note.code for note in plan.notes] == ["abeam-out-of-reach"]
    assert plan.bank == pattern.GREATEST_BANK
    assert plan.abeam > 0.6 * NAUTICAL_MILE
    assert f"{plan.abeam / NAUTICAL_MILE:.2f} nm" in plan.notes[0].text


def test_a_long_groove_levels_off_before_it_and_says_so():
    plan = solve(wanted(groove=30.0), steaming(ship_kt=0.0, wind_kt=0.0))
    assert "groove-above-45" in {note.code for note in plan.notes}
    assert plan.groove.height > 350 * FOOT
    assert np.all(np.diff(plan.path.height) <= 1e-9)


def test_wind_as_fast_as_the_jet_is_refused():
    with pytest.raises(InputError, match="as fast as the jet"):
        solve(there=steaming(wind_kt=150.0, from_deg=40.0))
    with pytest.raises(InputError, match="downwind track"):
        solve(there=steaming(ship_kt=0.0, wind_kt=150.0, from_deg=221.0))


def test_holding_speed_needs_less_room_than_holding_angle_of_attack():
    """At 28 deg the on-speed jet flies 1 / sqrt(cos 28) faster, so that its circle is 13 % wider."""
    calm = Steaming(0.0, 0.0, 0.0, 0.0)
    held = solve(wanted(hold="speed"), calm)
    free = solve(wanted(), calm)
    assert free.checkpoint("90").airspeed / held.checkpoint("90").airspeed == pytest.approx(
        1.0 / math.sqrt(math.cos(28 * DEGREE)), abs=0.002
    )
    assert free.abeam / held.abeam == pytest.approx(1.13, abs=0.01)


def test_slips_fall_on_the_side_that_a_pilot_knows():
    flown, there = jet(), steaming()
    solver = pattern.Solver(wanted(), there, on_speed(flown), aim_at(SHIP, SANDLARK))
    plan = solver.plan(28 * DEGREE)
    close, wide, more, less = slips.usual(solver, plan)
    # nothing else moves the roll-out across than the distance that was missed
    assert close.line_up_offset == pytest.approx(0.2 * NAUTICAL_MILE * math.cos(there.angle), abs=1.0)
    assert wide.line_up_offset == pytest.approx(-0.2 * NAUTICAL_MILE * math.cos(there.angle), abs=1.0)
    assert close.bank > plan.bank > wide.bank
    # more wind carries the jet aft: a longer groove, and the turn has to begin earlier
    assert more.groove > plan.groove.seconds > less.groove
    assert more.time_to_turn < plan.time_to_turn < less.time_to_turn
    unchanged = slips.slip("as planned", solver, plan, abeam=plan.abeam, steaming=there)
    assert unchanged.line_up_offset == pytest.approx(0.0, abs=0.1)
    assert unchanged.groove == pytest.approx(plan.groove.seconds, abs=0.01)
    assert unchanged.within_limits


def test_a_short_groove_in_much_wind_turns_before_abeam_and_says_what_helps():
    windy = steaming(course_deg=355.0, ship_kt=8.0, from_deg=350.0, wind_kt=30.0)
    short, long = (solve(wanted(groove=groove), windy) for groove in (13.0, 22.0))
    assert short.time_to_turn < 0.0 < long.time_to_turn
    assert [note.code for note in short.notes] == ["turn-before-abeam"]
    assert "longer groove" in short.notes[0].text
    assert short.checkpoint("turn").ahead > 0.0


def test_a_groove_that_begins_above_downwind_is_refused():
    with pytest.raises(InputError, match=r"groove_s.*above downwind's 600 ft"):
        solve(wanted(groove=60.0), steaming(ship_kt=0.0, wind_kt=0.0))
