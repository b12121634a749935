"""Shapes, limits and the ways back."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.environment import airspeed, atmosphere, wind


def test_arrays_come_back_in_their_shape_and_are_left_alone():
    heights = np.linspace(0, 30_000, 12).reshape(3, 4)
    heights.setflags(write=False)
    air = atmosphere.standard(heights, temperature_offset=np.full((3, 4), 10.0))
    assert air.density.shape == (3, 4)
    cold = atmosphere.standard(heights)
    assert (air.density < cold.density).all() and (air.pressure == cold.pressure).all()


@pytest.mark.parametrize("height", [-5_001.0, 84_853.0, np.nan, np.inf])
def test_outside_the_standard_is_nan(height):
    air = atmosphere.standard(height)
    assert np.isnan(air.pressure) and np.isnan(air.temperature) and np.isnan(air.density)


@pytest.mark.parametrize("pressure", [0.0, -1.0, np.nan, 1e6, 1e-3])
def test_pressure_outside_the_standard_is_nan(pressure):
    assert np.isnan(atmosphere.pressure_altitude(pressure))


def test_altimeter_rule():
    """One hectopascal is about 27 ft (8.3 m) at the sea: altimeter practice."""
    up = atmosphere.altitude_to_pressure_altitude(100.0, sea_pressure=100_325.0)
    assert up == pytest.approx(100.0 + 10 * 8.35, abs=1.0)
    level = atmosphere.altitude_to_pressure_altitude(100.0, sea_pressure=101_325.0)
    assert level == pytest.approx(100.0, abs=1e-6)


def test_no_airspeed_from_mach_1_on():
    assert np.isnan(airspeed.mach_from_calibrated(airspeed.SEA_LEVEL_SOUND * 1.001, pressure=101_325.0))
    assert np.isnan(airspeed.mach_from_calibrated(300.0, pressure=20_000.0))
    assert np.isnan(airspeed.calibrated_from_mach(1.0, pressure=50_000.0))


def test_calm_air_over_a_ship_at_rest_has_no_speed():
    there = wind.over_deck(wind_from=1.0, wind_speed=0.0, course=2.0, speed=0.0, angle=0.157)
    assert there.speed == 0 and there.along_landing_area == 0 and there.crosswind_from_starboard == 0


def test_bow_off_the_course():
    """A ship crabbing 5 deg to port of her course meets her own wind 5 deg to starboard."""
    there = wind.over_deck(
        wind_from=0.0, wind_speed=0.0, course=np.radians(3), speed=10.0, heading=np.radians(358)
    )
    assert np.degrees(there.from_bow) == pytest.approx(5.0)
    back = wind.true_wind(
        relative_from_bow=there.from_bow,
        relative_speed=there.speed,
        course=np.radians(3),
        speed=10.0,
        heading=np.radians(358),
    )
    assert back.speed == pytest.approx(0.0, abs=1e-12)
