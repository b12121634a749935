"""Scenarios: bundled ones, a person's own, typed facts, and what is said of broken ones."""

from __future__ import annotations

import math
import re

import pytest

from deckward import planning
from deckward.errors import InputError
from deckward.foundation.units import KNOT, NAUTICAL_MILE, POUND
from deckward.planning.scenario import need


@pytest.mark.parametrize("name", planning.bundled())
def test_each_bundled_scenario_loads_and_says_what_it_is(name):
    scenario = planning.load(name)
    assert scenario.description == planning.bundled()[name] != ""
    assert scenario.wind is not None
    assert not scenario.aircraft.generic


def test_typed_facts_win_over_the_files_and_leave_the_rest():
    plain = planning.load("lantern-evening")
    typed = planning.load("lantern-evening", typed={"wind.speed_kt": 9, "recovery.aircraft": 3})
    assert typed.wind.speed == pytest.approx(9 * KNOT)
    assert typed.wind.from_direction == plain.wind.from_direction
    assert (plain.recovering, typed.recovering) == (8, 3)


def test_facts_alone_make_a_scenario():
    scenario = planning.load(
        typed={"fuel_lb": 2000, "wind.from_deg": 90, "wind.speed_kt": 10, "site": "wintermere"}
    )
    assert scenario.load.fuel == pytest.approx(2000 * POUND)
    assert scenario.site.name == "Wintermere"
    assert scenario.recovering == 1


def test_a_felt_wind_becomes_the_true_one():
    """Ship north at 20 kt in 20 kt of wind from ahead: the air stands still."""
    scenario = planning.load(
        typed={
            "felt_wind.from_bow_deg": 0,
            "felt_wind.speed_kt": 30,
            "ship.course_deg": 0,
            "ship.speed_kt": 20,
        }
    )
    assert scenario.wind.speed == pytest.approx(10 * KNOT)
    assert math.degrees(scenario.wind.from_direction) == pytest.approx(0.0, abs=1e-9)


def test_the_wind_between_two_levels_is_half_of_each():
    scenario = planning.load(
        typed={
            "wind.from_deg": 0,
            "wind.speed_kt": 10,
            "wind_aloft": [{"altitude_ft": 10_000, "from_deg": 90, "speed_kt": 10}],
        }
    )
    half = scenario.wind_at(5_000 * 0.3048)
    assert math.degrees(half.from_direction) == pytest.approx(45.0)
    assert half.speed == pytest.approx(10 * KNOT / math.sqrt(2))
    assert scenario.wind_at(20_000.0).speed == pytest.approx(10 * KNOT)


def test_files_named_in_a_scenario_are_looked_for_beside_it(tmp_path):
    from deckward import site

    (tmp_path / "my-ship.toml").write_text(
        site.source("wintermere").replace('"Wintermere"', '"Mine"'), encoding="utf-8"
    )
    (tmp_path / "plan.toml").write_text('site = "my-ship.toml"', encoding="utf-8")
    assert planning.load(tmp_path / "plan.toml").site.name == "Mine"


def test_a_fact_that_nobody_told_is_asked_for_by_key_and_option():
    with pytest.raises(InputError, match=r"key divert\.distance_nm.*--divert-distance-nm"):
        need(planning.load().divert, "divert.distance_nm")


def test_a_range_of_courses_and_sea_room_are_read():
    ship = planning.load("lantern-evening").ship
    assert ship.courses == ((math.radians(150), math.radians(330)),)
    assert ship.sea_room == pytest.approx(18 * NAUTICAL_MILE)


def test_typed_faults_are_told_by_their_option_and_file_faults_by_their_key(tmp_path):
    with pytest.raises(InputError, match=r"^--wind-speed-kt: 500 is out of range"):
        planning.load("thistledown", typed={"wind.speed_kt": 500})
    path = tmp_path / "plan.toml"
    path.write_text('time = "25:00"\n', encoding="utf-8")
    with pytest.raises(InputError, match=rf"^{re.escape(str(path))}, key time \(line 1\)"):
        planning.load(path)
