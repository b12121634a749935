"""The ship's course: her limits, what binds, how long she holds it, and what a shift of the wind does."""

from __future__ import annotations

import pytest

from deckward.errors import InputError
from deckward.foundation.units import DEGREE, KNOT, NAUTICAL_MILE
from deckward.planning import load, wind_plan

FAIR = {"site": "wintermere", "wind.from_deg": 240, "wind.speed_kt": 18, "recovery.wind_kt": 26}


def recovery(**facts) -> wind_plan.Course:
    typed = {key.replace("__", "."): value for key, value in facts.items()}
    return wind_plan.plan(load(typed={**FAIR, **typed})).recovery


def test_no_wind_is_asked_for():
    with pytest.raises(InputError, match="--wind-from-deg"):
        wind_plan.plan(load())


def test_a_wanted_wind_below_or_above_the_usual_range_widens_it():
    assert recovery(recovery__wind_kt=12).answer.wanted.least == pytest.approx(12 * KNOT)
    assert recovery(recovery__wind_kt=45).answer.wanted.greatest == pytest.approx(45 * KNOT)


def test_a_least_speed_is_kept_and_said_to_bind():
    """30 kt of wind from right down the angle would have the ship stand still."""
    course = recovery(wind__speed_kt=30, recovery__wind_kt=30, ship__least_speed_kt=6)
    (exact,) = [one for one in course.answer.exact if one.speed < 6 * KNOT]
    assert [(miss.what, miss.by / KNOT) for miss in exact.misses] == [("ship speed", pytest.approx(6.0))]
    assert course.answer.chosen.speed == pytest.approx(6 * KNOT)
    assert course.answer.keeps_limits and not course.answer.is_exact


def test_a_ship_too_slow_says_by_how_much_the_wind_falls_short():
    course = recovery(wind__speed_kt=4, ship__greatest_speed_kt=14)
    assert not course.answer.keeps_limits
    (miss,) = course.answer.chosen.misses
    assert miss.what == "wind along"
    assert miss.limit == pytest.approx(20 * KNOT)
    assert miss.by == pytest.approx(20 * KNOT - course.answer.chosen.along)
    assert course.answer.chosen.speed == pytest.approx(14 * KNOT)


def test_a_forbidden_course_gives_way_to_the_nearest_that_is_allowed():
    free = recovery().answer.chosen.course / DEGREE
    course = recovery(ship__courses_deg=[[free + 10, 355]])
    assert course.answer.chosen.course / DEGREE == pytest.approx(free + 10, abs=0.01)
    assert [miss.what for miss in course.answer.exact[0].misses] == ["ship course"]
    assert course.answer.exact[0].misses[0].by / DEGREE == pytest.approx(10.0)


def test_sectors_may_go_through_north():
    course = recovery(wind__from_deg=350, ship__courses_deg=[[330, 20]])
    assert course.answer.is_exact
    assert not 20 < course.answer.chosen.course / DEGREE < 330


def test_the_least_crosswind_is_offered_where_the_wanted_wind_costs_more():
    course = recovery(wind__speed_kt=3)
    chosen, least = course.answer.chosen, course.answer.least_crosswind
    assert abs(least.crosswind) < abs(chosen.crosswind)
    assert least.along == pytest.approx(20 * KNOT, abs=0.1 * KNOT)
    assert not least.misses


def test_in_a_calm_the_ship_turns_no_further_than_she_must():
    course = recovery(wind__speed_kt=0, ship__course_deg=123, ship__speed_kt=10)
    assert course.answer.chosen.course / DEGREE == pytest.approx(123, abs=0.3)
    assert course.run.turn == pytest.approx(0.0, abs=0.5)


def test_time_and_sea_room():
    """Nine more 40 s apart after a minute of settling: 7 minutes at the ship's speed."""
    course = recovery(recovery__aircraft=10, recovery__interval_s=40, ship__sea_room_nm=0.5)
    speed = course.answer.chosen.speed
    assert course.run.seconds == pytest.approx(420.0)
    assert course.run.distance == pytest.approx(420.0 * speed)
    assert course.run.fits == int((0.5 * NAUTICAL_MILE / speed - 60.0) // 40.0) + 1 < 10
    assert recovery(ship__sea_room_nm=0.05).run.fits == 0


def test_coming_round_takes_the_time_of_the_short_way():
    course = recovery(ship__course_deg=10, ship__speed_kt=12, ship__turn_deg_per_s=0.5)
    turn = abs((course.answer.chosen.course / DEGREE - 10 + 180) % 360 - 180)
    assert course.run.turn == pytest.approx(turn / 0.5)


def test_a_shift_of_twenty_degrees_either_way():
    course = recovery()
    backed, veered = course.shifts
    assert (backed.turned / DEGREE, veered.turned / DEGREE) == pytest.approx((-20.0, 20.0))
    # backed, the wind comes from the left of the landing area, veered, from its right
    assert backed.held.crosswind < -4 * KNOT
    assert veered.held.crosswind > 4 * KNOT
    chosen = course.answer.chosen.course
    for shift in course.shifts:
        assert shift.answer.is_exact
        assert (shift.answer.chosen.course - chosen) / DEGREE == pytest.approx(
            shift.turned / DEGREE, abs=1e-6
        )


def test_how_far_the_wind_may_come_round_is_where_a_limit_breaks():
    course = recovery(recovery__crosswind_kt=5)
    told = {"wind__from_deg": 240 + course.veers / DEGREE + 0.3, "recovery__crosswind_kt": 5}
    held = recovery(
        **told,
        ship__course_deg=course.answer.chosen.course / DEGREE,
        ship__speed_kt=course.answer.chosen.speed / KNOT,
    ).now
    assert [miss.what for miss in held.misses] == ["crosswind"]


def test_the_spread_of_the_wind_holds_its_ends():
    course = recovery(wind__from_spread_deg=15, wind__speed_spread_kt=4)
    assert course.along_range[0] < 26 * KNOT < course.along_range[1]
    # 22 kt from 15 deg to the right of what the course was made for
    answer = course.answer
    extreme = recovery(
        wind__from_deg=255,
        wind__speed_kt=22,
        ship__course_deg=answer.chosen.course / DEGREE,
        ship__speed_kt=answer.chosen.speed / KNOT,
    ).now
    assert course.crosswind_range[1] == pytest.approx(extreme.crosswind)


def test_a_launch_has_a_course_of_its_own_where_its_wind_is_told():
    plan = wind_plan.plan(load(typed={**FAIR, "launch.wind_kt": 25}))
    assert plan.launch.answer.chosen.from_bow == pytest.approx(0.0, abs=1e-9)
    assert wind_plan.plan(load(typed=FAIR)).launch is None
