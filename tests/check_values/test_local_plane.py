"""A local plane on the earth, against the reference geodesy library pymap3d."""

from __future__ import annotations

import numpy as np
import pymap3d
import pytest

from deckward.foundation.track import Track
from deckward.recordings.placing import on_the_earth

MILLIMETRE = 1e-3


@pytest.mark.parametrize("origin", [(27.6, -88.3), (-39.2, 179.95), (71.0, -179.9), (0.0, 0.0)])
def test_places_are_those_of_a_plane_that_touches_the_ellipsoid(origin):
    rng = np.random.default_rng(1)
    north, east, up = rng.uniform(-30e3, 30e3, 50), rng.uniform(-30e3, 30e3, 50), rng.uniform(0.0, 3e3, 50)
    track = Track("a", np.arange(50.0), {"north": north, "east": east, "up": up})
    placed = on_the_earth(track, tuple(np.radians(origin)))
    latitude, longitude, altitude = pymap3d.enu2geodetic(east, north, up, *origin, 0.0)
    assert placed["latitude"] * 6.4e6 == pytest.approx(np.radians(latitude) * 6.4e6, abs=MILLIMETRE)
    turns = (placed["longitude"] - np.radians(longitude) + np.pi) % (2.0 * np.pi) - np.pi
    assert np.abs(turns).max() * 6.4e6 < MILLIMETRE
    assert placed["altitude"] == pytest.approx(altitude, abs=MILLIMETRE)


def test_headings_turn_with_the_meridians():
    """The azimuth of a fixed direction of the plane, by pymap3d from two places along it."""
    origin = (60.0, 10.0)
    heading = np.radians(35.0)
    east, north = 20e3, 5e3
    track = Track(
        "a", np.arange(1.0), {"north": [north], "east": [east], "up": [100.0], "heading": [heading]}
    )
    placed = on_the_earth(track, tuple(np.radians(origin)))
    ahead = pymap3d.enu2geodetic(east + np.sin(heading), north + np.cos(heading), 100.0, *origin, 0.0)
    here = pymap3d.enu2geodetic(east, north, 100.0, *origin, 0.0)
    azimuth, _, _ = pymap3d.geodetic2aer(*ahead, *here)
    assert np.degrees(placed["heading"][0]) == pytest.approx(azimuth, abs=0.002)
    assert abs(np.degrees(placed["heading"][0]) - 35.0) > 0.2
