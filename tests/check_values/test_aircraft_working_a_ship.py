"""A real aircraft making four approaches to a moving ship, as its transponder told it.

The sample ships with the ``traffic`` package (MIT), put in beside the others without its
dependencies: ``pip install --no-deps traffic==2.13``. Nothing of it is copied here, and without
it these tests are skipped, except where `run.py test` set things up. One row a second, barometric
altitude in steps of 25 ft, places filled forward for as much as 20 s, no attitude, no ship. Nobody
published where the ship was.

This is a repeatability check, no check against truth: another fit of the same four ends of
approach, made by hand and written down before this one was built, gave 16.8 kt on 351.5 deg,
approach courses some 9.5 deg to port of it. And it is coarse: the fixes end 0 to 120 ft above
the lowest of them, and a second's doubt in a time stamp is 50 m. From memory, unsourced:
glide slopes at ships are set from 3 to 4 deg.
"""

from __future__ import annotations

import numpy as np
import pytest

from deckward.foundation import angles
from deckward.foundation.track import Track
from deckward.passes.fitted_ship import fit_ship
from support.analytic_pass import DECK, DEGREE, FOOT, JET, KNOT
from support.real_flights import needs_real_flights, rows

SPEED, COURSE = 16.8, 351.5

pytestmark = needs_real_flights


@pytest.fixture(scope="module")
def track() -> Track:
    fixes = sorted(rows("military/aircraft_carrier.json.gz"), key=lambda row: row["timestamp"])
    time, latitude, longitude, altitude = (
        np.array([np.nan if row[name] is None else float(row[name]) for row in fixes])
        for name in ("timestamp", "latitude", "longitude", "altitude")
    )
    later = np.append(True, np.diff(time) > 0.0)
    channels = {"latitude": latitude * DEGREE, "longitude": longitude * DEGREE, "altitude": altitude * FOOT}
    return Track(
        "aircraft",
        (time[later] - time[0]) / 1000.0,
        {name: values[later] for name, values in channels.items()},
        {"altitude": 25.0 * FOOT / np.sqrt(12.0)},
    )


@pytest.fixture(scope="module")
def ship(track):
    return fit_ship((track,), DECK, JET)


def test_the_four_approaches_agree_on_one_ship_and_the_landing_ashore_does_not(ship):
    assert len(ship.touches) == 4
    assert {touch.kind for touch in ship.touches} == {"last fix"}
    assert ship.residual < 200.0


def test_she_goes_as_another_fit_says(ship):
    assert ship.speed / KNOT == pytest.approx(SPEED, abs=1.0)
    assert np.degrees(angles.difference(ship.course, COURSE * DEGREE)) == pytest.approx(0.0, abs=3.0)


def against(ship, touch) -> np.ndarray:
    """Velocity of an approach against the ship, north and east."""
    way = ship.speed * np.array([np.cos(ship.course), np.sin(ship.course)])
    return touch.speed * np.array([np.cos(touch.course), np.sin(touch.course)]) - way


def test_they_come_in_along_an_angled_deck(ship):
    """8 to 11 deg to port: what the decks that such aircraft work from are built with (from memory)."""
    left = [
        -np.degrees(angles.difference(np.arctan2(v[1], v[0]), ship.course))
        for v in (against(ship, touch) for touch in ship.touches)
    ]
    assert np.mean(left) == pytest.approx(9.5, abs=3.0)


def test_they_come_down_a_glide_slope_against_the_ship(track, ship):
    """A line through height over the way flown against the ship, the last 75 s of each approach."""
    slopes = []
    for touch in ship.touches:
        moved = np.append(True, (np.diff(track["latitude"]) != 0.0) | (np.diff(track["longitude"]) != 0.0))
        late = moved & np.isfinite(track["altitude"]) & np.isfinite(track["latitude"])
        # the touch lies where the path was carried down to; its fixes end some seconds before
        late &= (track.time > touch.time - 75.0) & (track.time <= touch.time)
        flown = (track.time[late] - touch.time) * np.hypot(*against(ship, touch))
        slopes.append(np.degrees(np.arctan(-np.polyfit(flown, track["altitude"][late], 1)[0])))
    assert all(2.7 < slope < 3.6 for slope in slopes), slopes
