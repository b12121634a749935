"""Calibrated, equivalent and true airspeed and Mach number, m/s.

Calibrated airspeed is what an indicator without error shows; the indicated airspeed of a
recording is taken for it. ``pressure`` and ``temperature`` are those of the air outside,
Pa and K. All functions take numbers or arrays of shapes that go together.

Source: isentropic flow into a pitot tube, gamma 1.4 (NACA Report 1135, 1953, equation 44).
Valid: below Mach 1; NaN from there on, where a probe stands behind its own shock.
"""

from __future__ import annotations

import numpy as np

from deckward.environment import atmosphere

SEA_LEVEL_SOUND = float(atmosphere.speed_of_sound(atmosphere.SEA_LEVEL_TEMPERATURE))
SEA_LEVEL_DENSITY = atmosphere.density(atmosphere.SEA_LEVEL_PRESSURE, atmosphere.SEA_LEVEL_TEMPERATURE)


def impact_pressure(mach, pressure):
    """Return how much the pressure in a pitot tube exceeds the air's own."""
    mach = np.where(mach < 1.0, mach, np.nan)
    return pressure * ((1.0 + 0.2 * mach**2) ** 3.5 - 1.0)


def mach_from_impact(impact, pressure):
    """Return the Mach number behind an impact pressure."""
    mach = np.sqrt(5.0 * ((impact / pressure + 1.0) ** (2.0 / 7.0) - 1.0))
    return np.where(mach < 1.0, mach, np.nan)


def mach_from_calibrated(calibrated, *, pressure):
    """Return the Mach number of a calibrated airspeed."""
    impact = impact_pressure(calibrated / SEA_LEVEL_SOUND, atmosphere.SEA_LEVEL_PRESSURE)
    return mach_from_impact(impact, pressure)


def calibrated_from_mach(mach, *, pressure):
    """Return the calibrated airspeed of a Mach number."""
    impact = impact_pressure(mach, pressure)
    return SEA_LEVEL_SOUND * mach_from_impact(impact, atmosphere.SEA_LEVEL_PRESSURE)


def true_from_mach(mach, *, temperature):
    """Return the true airspeed of a Mach number."""
    return mach * atmosphere.speed_of_sound(temperature)


def mach_from_true(true, *, temperature):
    """Return the Mach number of a true airspeed."""
    return true / atmosphere.speed_of_sound(temperature)


def true_from_calibrated(calibrated, *, pressure, temperature):
    """Return the true airspeed of a calibrated airspeed.

    >>> air = atmosphere.standard(0.0)
    >>> round(float(true_from_calibrated(70.0, pressure=air.pressure, temperature=air.temperature)), 6)
    70.0
    """
    return true_from_mach(mach_from_calibrated(calibrated, pressure=pressure), temperature=temperature)


def calibrated_from_true(true, *, pressure, temperature):
    """Return the calibrated airspeed of a true airspeed."""
    return calibrated_from_mach(mach_from_true(true, temperature=temperature), pressure=pressure)


def equivalent_from_true(true, *, density):
    """Return the airspeed that has the same dynamic pressure in sea-level standard air."""
    return true * np.sqrt(density / SEA_LEVEL_DENSITY)


def true_from_equivalent(equivalent, *, density):
    """Return the true airspeed of an equivalent airspeed."""
    return equivalent / np.sqrt(density / SEA_LEVEL_DENSITY)
