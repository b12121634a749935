"""The standard atmosphere, and air that is warmer, colder or at another sea pressure.

Source: U.S. Standard Atmosphere 1976, tables 3 and 4 and equations 18, 23, 33a, 33b, 42,
50; up to 80 km the same as ISO 2533 and ICAO Doc 7488.
Valid: -5 km to 84.852 km geopotential; NaN outside.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from numpy.typing import ArrayLike

from deckward.foundation.units import STANDARD_GRAVITY

SEA_LEVEL_TEMPERATURE = 288.15
SEA_LEVEL_PRESSURE = 101_325.0
#: specific gas constant of dry air, J/(kg K): 8314.32 / 28.9644
GAS_CONSTANT = 8314.32 / 28.9644
HEAT_RATIO = 1.4
#: earth radius that the standard's geopotential height is defined with, m
GEOPOTENTIAL_RADIUS = 6_356_766.0
LOWEST, HIGHEST = -5_000.0, 84_852.0

_BASE_HEIGHT = np.array([0.0, 11_000.0, 20_000.0, 32_000.0, 47_000.0, 51_000.0, 71_000.0])
_LAPSE = np.array([-6.5, 0.0, 1.0, 2.8, 0.0, -2.8, -2.0]) * 1e-3


def gradient_pressure(height, base_pressure, base_temperature, lapse):
    """Return the pressure ``height`` above the base of a layer whose temperature has a slope.

    ``lapse`` is the rise of temperature with height, K/m, not zero. Equation 33a.
    """
    ratio = (base_temperature + lapse * height) / base_temperature
    return base_pressure * ratio ** (-STANDARD_GRAVITY / (GAS_CONSTANT * lapse))


def isothermal_pressure(height, base_pressure, base_temperature):
    """Return the pressure ``height`` above the base of a layer of one temperature. Equation 33b."""
    return base_pressure * np.exp(-STANDARD_GRAVITY * height / (GAS_CONSTANT * base_temperature))


def _bases() -> tuple[np.ndarray, np.ndarray]:
    temperatures, pressures = [SEA_LEVEL_TEMPERATURE], [SEA_LEVEL_PRESSURE]
    for thickness, lapse in zip(np.diff(_BASE_HEIGHT), _LAPSE[:-1], strict=True):
        base = pressures[-1], temperatures[-1]
        if lapse:
            pressures.append(gradient_pressure(thickness, *base, lapse))
        else:
            pressures.append(isothermal_pressure(thickness, *base))
        temperatures.append(temperatures[-1] + lapse * thickness)
    return np.array(temperatures), np.array(pressures)


_BASE_TEMPERATURE, _BASE_PRESSURE = _bases()


class Air(Struct, frozen=True):
    """Air at a place: K, Pa, kg/m^3, m/s; the shape of what was asked."""

    temperature: np.ndarray
    pressure: np.ndarray
    density: np.ndarray
    speed_of_sound: np.ndarray


def density(pressure, temperature):
    """Return the density of dry air by the gas law. Equation 42."""
    return pressure / (GAS_CONSTANT * temperature)


def speed_of_sound(temperature):
    """Return the speed of sound in dry air. Equation 50."""
    return np.sqrt(HEAT_RATIO * GAS_CONSTANT * temperature)


def geopotential_height(altitude):
    """Turn a geometric altitude above the sea into geopotential height. Equation 18.

    >>> round(float(geopotential_height(11_019.0)))
    11000
    """
    return GEOPOTENTIAL_RADIUS * altitude / (GEOPOTENTIAL_RADIUS + altitude)


def standard(pressure_altitude: ArrayLike, *, temperature_offset: ArrayLike = 0.0) -> Air:
    """Return the air at a pressure altitude (geopotential).

    ``temperature_offset`` is what the air is warmer than standard, K: it changes density
    and speed of sound, not the pressure that belongs to a pressure altitude.

    >>> round(float(standard(0.0).speed_of_sound), 3)
    340.294
    """
    height = np.asarray(pressure_altitude, dtype=float)
    height = np.where((height >= LOWEST) & (height <= HIGHEST), height, np.nan)
    layer = _layer_at(height)
    above = height - _BASE_HEIGHT[layer]
    base = _BASE_PRESSURE[layer], _BASE_TEMPERATURE[layer]
    lapse = _LAPSE[layer]
    pressure = np.where(
        lapse == 0.0,
        isothermal_pressure(above, *base),
        gradient_pressure(above, *base, np.where(lapse == 0.0, 1.0, lapse)),
    )
    temperature = _BASE_TEMPERATURE[layer] + lapse * above + np.asarray(temperature_offset, dtype=float)
    return Air(temperature, pressure, density(pressure, temperature), speed_of_sound(temperature))


def pressure_altitude(pressure: ArrayLike) -> np.ndarray:
    """Return the geopotential height at which the standard atmosphere has this pressure.

    >>> round(float(pressure_altitude(69_682.0)), -1)
    3050.0
    """
    pressure = np.asarray(pressure, dtype=float)
    pressure = np.where(pressure > 0.0, pressure, np.nan)
    layer = np.clip(np.searchsorted(-_BASE_PRESSURE, -pressure, side="right") - 1, 0, _LAPSE.size - 1)
    ratio = pressure / _BASE_PRESSURE[layer]
    temperature, lapse = _BASE_TEMPERATURE[layer], _LAPSE[layer]
    slope = np.where(lapse == 0.0, 1.0, lapse)
    above = np.where(
        lapse == 0.0,
        -GAS_CONSTANT * temperature / STANDARD_GRAVITY * np.log(ratio),
        temperature / slope * (ratio ** (-GAS_CONSTANT * slope / STANDARD_GRAVITY) - 1.0),
    )
    height = _BASE_HEIGHT[layer] + above
    return np.where((height >= LOWEST) & (height <= HIGHEST), height, np.nan)


def altitude_to_pressure_altitude(altitude: ArrayLike, *, sea_pressure: ArrayLike) -> np.ndarray:
    """Return the pressure altitude of an altitude above the sea on a day of this sea pressure.

    An altimeter's rule: the standard atmosphere shifted in height so that it has
    ``sea_pressure`` at the sea. Temperature is left standard in the shift.
    """
    return np.asarray(altitude, dtype=float) + pressure_altitude(sea_pressure)


def _layer_at(height: np.ndarray) -> np.ndarray:
    return np.clip(np.searchsorted(_BASE_HEIGHT, height, side="right") - 1, 0, _LAPSE.size - 1)
