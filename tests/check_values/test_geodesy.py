"""Places and level axes against PROJ, pymap3d and GeographicLib, and published numbers."""

from __future__ import annotations

import math

import numpy as np
import pymap3d
import pyproj
import pytest
from geographiclib.geodesic import Geodesic
from scipy.spatial.transform import Rotation

from deckward.foundation import earth, frames
from support.authorities import each

MICROMETRE = 1e-6
MILLIMETRE = 1e-3
ARC_SECOND = math.radians(1.0 / 3600.0)

#: everywhere: poles, equator, date line, Greenwich, below the sea, in the air
PLACES = [
    (lat, lon, height)
    for lat in (-90.0, -80.0, -33.9, 0.0, 1e-7, 45.0, 80.0, 89.9999, 90.0)
    for lon in (-180.0, -179.9999, -75.0, 0.0, 1e-9, 120.0, 179.9999)
    for height in (-50.0, 0.0, 20.0, 15_000.0)
]
LAT, LON, HEIGHT = (np.array(column) for column in zip(*PLACES, strict=True))


@each("wgs-84")
def test_the_ellipsoid_is_wgs_84(row):
    assert row["major axis [m]"] == earth.SEMI_MAJOR_AXIS
    assert pytest.approx(row["inverse flattening [1]"], rel=1e-15) == 1.0 / earth.FLATTENING
    assert pytest.approx(row["minor axis [m]"], abs=1e-4) == earth.SEMI_MINOR_AXIS
    assert pytest.approx(row["eccentricity squared [1]"], rel=1e-12) == earth.ECCENTRICITY_SQUARED


@each("earth-centred-places")
def test_two_places_worked_out_beforehand(row):
    """Values derived from the WGS-84 definition and written down before this code was."""
    latitude, longitude = (math.radians(row[f"{name} [deg]"]) for name in ("latitude", "longitude"))
    ours = earth.geodetic_to_ecef(latitude, longitude, row["height [m]"])
    assert ours == pytest.approx([row[f"{axis} [m]"] for axis in "xyz"], abs=0.51 * MILLIMETRE)


def test_earth_centred_places_are_projs():
    """PROJ's cart conversion, EPSG:4979 to EPSG:4978."""
    cart = pyproj.Transformer.from_crs("EPSG:4979", "EPSG:4978", always_xy=True)
    theirs = np.stack(cart.transform(LON, LAT, HEIGHT), axis=-1)
    ours = earth.geodetic_to_ecef(np.radians(LAT), np.radians(LON), HEIGHT)
    assert np.abs(ours - theirs).max() < MICROMETRE


def test_latitude_and_height_are_projs():
    """PROJ's cart conversion backwards; longitude at a pole is anybody's choice."""
    cart = pyproj.Transformer.from_crs("EPSG:4978", "EPSG:4979", always_xy=True)
    xyz = earth.geodetic_to_ecef(np.radians(LAT), np.radians(LON), HEIGHT)
    lon, lat, height = cart.transform(*xyz.T)
    ours = earth.ecef_to_geodetic(xyz)
    assert np.abs(ours[0] - np.radians(lat)).max() * earth.SEMI_MAJOR_AXIS < 10 * MICROMETRE
    assert np.abs(ours[2] - height).max() < 10 * MICROMETRE
    off_pole = np.abs(LAT) < 89.99999
    turn = ours[1] - np.radians(lon)
    assert np.abs(np.sin(turn[off_pole])).max() < 1e-12
    assert np.cos(turn[off_pole]).min() > 0.999


@pytest.mark.parametrize(
    "origin", [(0.0, 0.0, 0.0), (30.0, -75.0, 20.0), (-80.0, 179.9999, 5.0), (89.999, 10.0, 0.0)]
)
def test_level_places_are_pymap3ds(origin):
    """pymap3d's geodetic2ned, of places up to 20 km off, across the date line too."""
    random = np.random.default_rng(0)
    lat = np.clip(origin[0] + random.uniform(-0.1, 0.1, 60), -90.0, 90.0)
    lon, height = origin[1] + random.uniform(-0.2, 0.2, 60), random.uniform(-10.0, 3000.0, 60)
    theirs = np.stack(pymap3d.geodetic2ned(lat, lon, height, *origin), axis=-1)
    xyz = earth.geodetic_to_ecef(np.radians(lat), np.radians(lon), height)
    ours = earth.to_ned(xyz, math.radians(origin[0]), math.radians(origin[1]), origin[2])
    assert np.abs(ours - theirs).max() < 10 * MICROMETRE
    back = pymap3d.ned2geodetic(*theirs.T, *origin)
    ecef = earth.from_ned(theirs, math.radians(origin[0]), math.radians(origin[1]), origin[2])
    assert np.abs(earth.ecef_to_geodetic(ecef)[0] - np.radians(back[0])).max() < 1e-11


@pytest.mark.parametrize("latitude", [-80.0, -20.0, 0.0, 51.0, 80.0])
@pytest.mark.parametrize("azimuth", [0.0, 47.0, 90.0, 181.0, 300.0])
def test_distance_and_bearing_are_geographiclibs(latitude, azimuth):
    """GeographicLib's geodesic, 2 km from a place next to the date line.

    Chord and arc differ by s^3 / 24 R^2 = 8 micrometres there.
    """
    there = Geodesic.WGS84.Direct(latitude, 179.9995, azimuth, 2000.0)
    xyz = earth.geodetic_to_ecef(math.radians(there["lat2"]), math.radians(there["lon2"]), 0.0)
    north, east, down = earth.to_ned(xyz, math.radians(latitude), math.radians(179.9995), 0.0)
    assert math.sqrt(north**2 + east**2 + down**2) == pytest.approx(2000.0, abs=20 * MICROMETRE)
    bearing = math.atan2(east, north) - math.radians(azimuth)
    assert abs(math.sin(bearing)) < 0.01 * ARC_SECOND
    assert math.cos(bearing) > 0.0


def test_attitudes_are_scipys():
    """scipy's Rotation, intrinsic z-y-x."""
    random = np.random.default_rng(1)
    heading, pitch, roll = random.uniform(-4, 7, 50), random.uniform(-1.5, 1.5, 50), random.uniform(-3, 3, 50)
    theirs = Rotation.from_euler("ZYX", np.stack([heading, pitch, roll], axis=-1)).as_matrix()
    assert frames.body_to_level(heading, pitch, roll) == pytest.approx(theirs, abs=1e-14)


@each("minutes-of-latitude", latitude="latitude [deg]", metres="length [m]")
def test_one_minute_of_latitude_is_about_a_nautical_mile(latitude, metres):
    ends = np.radians([latitude - 0.5 / 60.0, latitude + 0.5 / 60.0])
    a, b = earth.geodetic_to_ecef(ends, np.zeros(2), np.zeros(2))
    assert np.linalg.norm(b - a) == pytest.approx(metres, abs=1.0)
