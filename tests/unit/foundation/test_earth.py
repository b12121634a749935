"""Places on the earth: shapes, axes and round trips; values stand with the check values."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.foundation import earth

MILLIMETRE = 1e-3


def test_the_axes_go_through_greenwich_ninety_east_and_the_pole():
    xyz = earth.geodetic_to_ecef(np.radians([0.0, 0.0, 90.0]), np.radians([0.0, 90.0, 0.0]), np.zeros(3))
    assert xyz[0] == pytest.approx([6378137.0, 0.0, 0.0], abs=MILLIMETRE)
    assert xyz[1] == pytest.approx([0.0, 6378137.0, 0.0], abs=MILLIMETRE)
    assert xyz[2] == pytest.approx([0.0, 0.0, 6356752.3142], abs=MILLIMETRE)


@pytest.mark.parametrize("latitude", [-90.0, -89.9999, -45.0, 0.0, 1e-6, 60.0, 89.999999, 90.0])
@pytest.mark.parametrize("longitude", [-180.0, -90.0, 0.0, 179.999999])
@pytest.mark.parametrize("height", [-100.0, 0.0, 12_000.0])
def test_a_place_comes_back_from_earth_centred_axes(latitude, longitude, height):
    xyz = earth.geodetic_to_ecef(np.radians(latitude), np.radians(longitude), height)
    back = earth.ecef_to_geodetic(xyz)
    assert earth.geodetic_to_ecef(*back) == pytest.approx(xyz, abs=1e-3 * MILLIMETRE)
    assert np.degrees(back[0]) == pytest.approx(latitude, abs=1e-9)
    assert back[2] == pytest.approx(height, abs=1e-3 * MILLIMETRE)


def test_north_east_down_come_back():
    ned = np.array([[1200.0, -340.0, 55.0], [0.0, 0.0, 0.0], [-5.0, 8000.0, -900.0]])
    origin = (np.radians(-33.0), np.radians(179.9999), 12.0)
    assert earth.to_ned(earth.from_ned(ned, *origin), *origin) == pytest.approx(ned, abs=1e-6)


def test_each_point_may_have_its_own_origin():
    latitude, longitude = np.radians([10.0, -70.0]), np.radians([20.0, -179.0])
    xyz = earth.geodetic_to_ecef(latitude + 1e-5, longitude, np.array([3.0, 4.0]))
    both = earth.to_ned(xyz, latitude, longitude, np.zeros(2))
    for k in range(2):
        assert both[k] == pytest.approx(earth.to_ned(xyz[k], latitude[k], longitude[k], 0.0))


def test_the_level_axes_are_right_handed_and_point_as_named():
    rotation = earth.ned_rotation(np.radians(50.0), np.radians(-30.0))
    north, east, down = rotation
    assert np.cross(north, east) == pytest.approx(down)
    assert rotation @ rotation.T == pytest.approx(np.eye(3), abs=1e-15)
    assert north[2] > 0.0 and down[2] < 0.0 and east[2] == 0.0


def test_inputs_are_not_written_to():
    xyz = earth.geodetic_to_ecef(np.radians([10.0, 20.0]), np.radians([5.0, 6.0]), np.zeros(2))
    xyz.setflags(write=False)
    before = xyz.copy()
    earth.ecef_to_geodetic(xyz)
    earth.to_ned(xyz, 0.1, 0.1, 0.0)
    assert (xyz == before).all()


@pytest.mark.parametrize("height, within", [(-200.0, 3e-10), (0.0, 1e-14), (3000.0, 3e-10), (20_000.0, 2e-8)])
def test_the_level_at_a_point_is_that_at_its_coordinates(height, within):
    latitude = np.radians([-89.99, -60.0, -0.001, 0.0, 12.0, 45.0, 80.0])
    longitude = np.radians([0.0, 179.9999, -180.0, 90.0, -52.6, 3.0, 120.0])
    level = earth.level_rotation(earth.geodetic_to_ecef(latitude, longitude, height))
    assert level == pytest.approx(earth.ned_rotation(latitude, longitude), abs=within)


def test_the_pole_has_a_level():
    down = earth.level_rotation(earth.geodetic_to_ecef(np.pi / 2.0, 0.0, 100.0))[2]
    assert down == pytest.approx([0.0, 0.0, -1.0], abs=1e-12)
    assert np.isfinite(earth.level_rotation([0.0, 0.0, earth.SEMI_MINOR_AXIS])).all()
