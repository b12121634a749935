"""Recovery courses against maneuvering-board problems worked by hand from the vector triangle."""

from __future__ import annotations

import math

import pytest

from deckward.foundation.units import DEGREE, KNOT
from deckward.planning import load, wind
from support.authorities import each

ANY_SHIP = load(typed={"ship.least_speed_kt": 0, "ship.greatest_speed_kt": 60}).ship


def wanted(kt: float, angle: float) -> wind.Wanted:
    return wind.Wanted(kt * KNOT, 0.8 * kt * KNOT, 40 * KNOT, 7 * KNOT, angle * DEGREE)


def told(steering: wind.Steering) -> tuple[float, float]:
    return steering.course / DEGREE, steering.speed / KNOT


@each("recovery-courses")
def test_both_answers_of_a_solvable_problem(row):
    wish, angle = row["relative [kt]"], -row["from bow [deg]"]
    slow = row["course [deg]"], row["speed [kt]"]
    fast = row["other course [deg]"], row["other speed [kt]"]
    answer = wind.solve(
        wind_from=row["from [deg]"] * DEGREE,
        wind_speed=row["wind [kt]"] * KNOT,
        wanted=wanted(wish, angle),
        ship=ANY_SHIP,
    )
    for found, expected in zip(answer.exact, (slow, fast), strict=True):
        course, speed = told(found)
        assert abs((course - expected[0] + 180) % 360 - 180) < 0.1
        assert speed == pytest.approx(expected[1], abs=0.1)
        assert found.along / KNOT == pytest.approx(wish, abs=1e-6)
        assert found.crosswind / KNOT == pytest.approx(0.0, abs=1e-6)
    assert answer.chosen == answer.exact[0]
    assert answer.is_exact and answer.keeps_limits


def test_a_wind_too_light_for_the_angle_has_the_least_crosswind_instead():
    """Wind 300 at 3 kt: 25 kt down a 9-degree angle needs 3.91 kt across the keel.

    By hand: the wind square on the port bow's beam, course 300 + 90 = 030, her own
    25 cos 9 = 24.69 kt; across 24.69 sin 9 - 3 cos 9 = 0.90, along 24.86.
    """
    answer = wind.solve(wind_from=300 * DEGREE, wind_speed=3 * KNOT, wanted=wanted(25, 9), ship=ANY_SHIP)
    assert answer.exact == ()
    assert told(answer.chosen) == pytest.approx((30.0, 24.69), abs=0.1)
    assert answer.chosen.along / KNOT == pytest.approx(24.86, abs=0.01)
    assert answer.chosen.crosswind / KNOT == pytest.approx(0.90, abs=0.01)
    assert answer.wind_needed / KNOT == pytest.approx(25 * math.sin(9 * DEGREE))
    assert answer.keeps_limits and not answer.is_exact


def test_a_calm_leaves_the_axial_crosswind_less_what_the_course_cannot_change():
    """A ship at 25 kt in still air: 24.69 along and 3.91 across a 9-degree deck."""
    calm = wind.steering(
        wind_from=0.0, wind_speed=0.0, wanted=wanted(25, 9), ship=ANY_SHIP, course=1.0, speed=25 * KNOT
    )
    assert calm.along / KNOT == pytest.approx(24.69, abs=0.005)
    assert calm.crosswind / KNOT == pytest.approx(3.91, abs=0.005)


@each(
    "deck-winds",
    course="course [deg]",
    ship_kt="speed [kt]",
    from_deg="from [deg]",
    kt="wind [kt]",
    along="along [kt]",
    across="across [kt]",
)
def test_what_the_ship_feels_now(course, ship_kt, from_deg, kt, along, across):
    now = wind.steering(
        wind_from=from_deg * DEGREE,
        wind_speed=kt * KNOT,
        wanted=wanted(25, 9),
        ship=ANY_SHIP,
        course=course * DEGREE,
        speed=ship_kt * KNOT,
    )
    assert (now.along / KNOT, now.crosswind / KNOT) == pytest.approx((along, across), abs=0.006)


@each(
    "true-winds",
    course="course [deg]",
    ship_kt="speed [kt]",
    bow="from bow [deg]",
    felt="relative [kt]",
    from_deg="from [deg]",
    kt="wind [kt]",
)
def test_the_true_wind_behind_a_felt_one(course, ship_kt, bow, felt, from_deg, kt):
    scenario = load(
        typed={
            "ship.course_deg": course,
            "ship.speed_kt": ship_kt,
            "felt_wind.from_bow_deg": bow,
            "felt_wind.speed_kt": felt,
        }
    )
    assert scenario.wind.from_direction / DEGREE == pytest.approx(from_deg, abs=0.1)
    assert scenario.wind.speed / KNOT == pytest.approx(kt, abs=0.1)
