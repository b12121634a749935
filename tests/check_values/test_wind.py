"""Wind over deck against maneuvering-board problems."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.environment import wind
from deckward.foundation.units import KNOT
from support.authorities import each, rows


@each(
    "recovery-courses",
    from_deg="from [deg]",
    kt="wind [kt]",
    wanted_kt="relative [kt]",
    bearing="from bow [deg]",
    course="course [deg]",
    ship_kt="speed [kt]",
)
def test_recovery_course(from_deg, kt, wanted_kt, bearing, course, ship_kt):
    true = {"wind_from": np.radians(from_deg), "wind_speed": kt * KNOT}
    ship = wind.ship_for(**true, relative_from_bow=np.radians(bearing), relative_speed=wanted_kt * KNOT)
    assert np.degrees(ship.course) == pytest.approx(course, abs=0.06)
    assert ship.speed / KNOT == pytest.approx(ship_kt, abs=0.06)
    there = wind.over_deck(**true, course=ship.course, speed=ship.speed)
    assert there.speed / KNOT == pytest.approx(wanted_kt, abs=1e-9)
    assert np.degrees(there.from_bow) == pytest.approx(bearing, abs=1e-9)


def test_a_crosswind_stronger_than_the_wind_cannot_be_had():
    """Wind 300 at 3 kt, wanted 25 kt at 9 deg to port: sin 9 deg x 25 is 1.3 times the wind."""
    ship = wind.ship_for(
        wind_from=np.radians(300),
        wind_speed=3 * KNOT,
        relative_from_bow=np.radians(-9),
        relative_speed=25 * KNOT,
    )
    assert np.isnan(ship.course) and np.isnan(ship.speed)


@each(
    "deck-winds",
    course="course [deg]",
    ship_kt="speed [kt]",
    from_deg="from [deg]",
    kt="wind [kt]",
    bearing="from bow [deg]",
    speed="relative [kt]",
    along="along [kt]",
    across="across [kt]",
)
def test_wind_over_deck(course, ship_kt, from_deg, kt, bearing, speed, along, across):
    there = wind.over_deck(
        wind_from=np.radians(from_deg),
        wind_speed=kt * KNOT,
        course=np.radians(course),
        speed=ship_kt * KNOT,
        angle=np.radians(9),
    )
    assert np.degrees(there.from_bow) == pytest.approx(bearing, abs=0.06)
    assert np.degrees(there.from_landing_area) == pytest.approx(bearing + 9, abs=0.06)
    assert there.speed / KNOT == pytest.approx(speed, abs=0.006)
    assert there.along_landing_area / KNOT == pytest.approx(along, abs=0.006)
    assert there.crosswind_from_starboard / KNOT == pytest.approx(across, abs=0.006)


@each(
    "true-winds",
    course="course [deg]",
    ship_kt="speed [kt]",
    bearing="from bow [deg]",
    relative_kt="relative [kt]",
    from_deg="from [deg]",
    kt="wind [kt]",
)
def test_true_wind_from_apparent(course, ship_kt, bearing, relative_kt, from_deg, kt):
    found = wind.true_wind(
        relative_from_bow=np.radians(bearing),
        relative_speed=relative_kt * KNOT,
        course=np.radians(course),
        speed=ship_kt * KNOT,
    )
    assert np.degrees(found.from_direction) == pytest.approx(from_deg, abs=0.06)
    assert found.speed / KNOT == pytest.approx(kt, abs=0.06)


def test_third_published_problem():
    """The other way: both winds are published here, the ship's own is worked to fit."""
    row = rows("true-winds")["third"]
    there = wind.over_deck(
        wind_from=np.radians(row["from [deg]"]),
        wind_speed=row["wind [kt]"] * KNOT,
        course=np.radians(row["course [deg]"]),
        speed=row["speed [kt]"] * KNOT,
    )
    assert np.degrees(there.from_bow) == pytest.approx(row["from bow [deg]"], abs=0.1)
    assert there.speed / KNOT == pytest.approx(row["relative [kt]"], abs=0.1)
