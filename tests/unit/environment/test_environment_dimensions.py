"""Pint quantities through each formula: the dimension of the result must come out."""

from __future__ import annotations

import numpy as np
import pint
import pytest

from deckward.environment import airspeed, atmosphere, wind

units = pint.UnitRegistry()
METRE, SECOND, KELVIN, PASCAL = units.metre, units.second, units.kelvin, units.pascal
SPEED = METRE / SECOND
DENSITY = units.kilogram / METRE**3


@pytest.fixture(autouse=True)
def constants_with_units(monkeypatch):
    gas_constant = atmosphere.GAS_CONSTANT * units.joule / units.kilogram / KELVIN
    monkeypatch.setattr(atmosphere, "STANDARD_GRAVITY", 9.80665 * METRE / SECOND**2)
    monkeypatch.setattr(atmosphere, "GAS_CONSTANT", gas_constant)
    monkeypatch.setattr(atmosphere, "GEOPOTENTIAL_RADIUS", 6_356_766.0 * METRE)
    monkeypatch.setattr(atmosphere, "SEA_LEVEL_PRESSURE", 101_325.0 * PASCAL)
    monkeypatch.setattr(airspeed, "SEA_LEVEL_SOUND", airspeed.SEA_LEVEL_SOUND * SPEED)
    monkeypatch.setattr(airspeed, "SEA_LEVEL_DENSITY", airspeed.SEA_LEVEL_DENSITY * DENSITY)


AIR = {"pressure": 90_000.0 * PASCAL, "temperature": 280.0 * KELVIN}


@pytest.mark.parametrize(
    ("formula", "dimension"),
    [
        (
            lambda: atmosphere.gradient_pressure(
                1e3 * METRE, 1e5 * PASCAL, 288 * KELVIN, -0.0065 * KELVIN / METRE
            ),
            PASCAL,
        ),
        (lambda: atmosphere.isothermal_pressure(1e3 * METRE, 1e5 * PASCAL, 216 * KELVIN), PASCAL),
        (lambda: atmosphere.density(1e5 * PASCAL, 288 * KELVIN), DENSITY),
        (lambda: atmosphere.speed_of_sound(288 * KELVIN), SPEED),
        (lambda: atmosphere.geopotential_height(1e3 * METRE), METRE),
        (lambda: airspeed.impact_pressure(0.2 * units.dimensionless, 1e5 * PASCAL), PASCAL),
        (lambda: airspeed.mach_from_impact(3e3 * PASCAL, 1e5 * PASCAL), units.dimensionless),
        (lambda: airspeed.true_from_calibrated(70 * SPEED, **AIR), SPEED),
        (lambda: airspeed.calibrated_from_true(70 * SPEED, **AIR), SPEED),
        (lambda: airspeed.equivalent_from_true(70 * SPEED, density=1.1 * DENSITY), SPEED),
        (lambda: airspeed.true_from_equivalent(70 * SPEED, density=1.1 * DENSITY), SPEED),
    ],
)
def test_dimension(formula, dimension):
    result = formula()
    assert result.check(dimension.dimensionality)
    assert np.isfinite(result.to_base_units().magnitude)


def test_dimension_of_winds():
    there = wind.over_deck(wind_from=0.3, wind_speed=7.0 * SPEED, course=0.1, speed=9.0 * SPEED, angle=0.157)
    for speed in (there.speed, there.along_landing_area, there.crosswind_from_starboard):
        assert speed.check(SPEED.dimensionality)
    found = wind.true_wind(relative_from_bow=0.2, relative_speed=12.0 * SPEED, course=0.1, speed=9.0 * SPEED)
    assert found.speed.check(SPEED.dimensionality)
