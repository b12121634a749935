"""Wind over deck against maneuvering-board problems."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.environment import wind
from deckward.foundation.units import KNOT
from support.authorities import each, rows

# Worked by hand from the vector triangle: wind from deg, kt, wanted relative kt, relative deg;
# course deg, kt of the slower answer
RECOVERY_COURSES = [
    (0, 15, 25, -9, 15.1, 10.2),
    (60, 20, 30, -9, 73.6, 10.2),
    (225, 10, 28, -9.05, 251.1, 18.7),
    (270, 30, 30, -9, 279.0, 0.0),
    (180, 8, 25, 0, 180.0, 17.0),
    (45, 12, 27, -11.33, 71.2, 15.7),
    (320, 6, 30, -9, 11.5, 25.9),
]


@pytest.mark.parametrize(("from_deg", "kt", "wanted_kt", "bearing", "course", "ship_kt"), RECOVERY_COURSES)
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


# Relative wind on a 9-degree deck, worked by hand: course, kt, wind from, kt; relative deg, kt,
# along, across from starboard
DECK_WINDS = [
    (90, 20, 90, 8, 0.0, 28.0, 27.66, 4.38),
    (90, 22, 80, 12, -3.5, 33.88, 33.73, 3.23),
    (0, 25, 0, 0, 0.0, 25.0, 24.69, 3.91),
]


@pytest.mark.parametrize(
    ("course", "ship_kt", "from_deg", "kt", "bearing", "speed", "along", "across"), DECK_WINDS
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
