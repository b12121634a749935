"""Gusts of the air that the ship has no part in, and the wind's profile with height.

Gusts are along the flight path (+ forward, a tail gust), across it (+ to the right) and up.
Spectra are one-sided over spatial frequency (rad/m): their integral from 0 is the variance.

Sources: free air, the carrier-landing disturbances of MIL-F-8785C 3.8.3 (from memory; its
one-sided convention assumed); low altitude, the Dryden form of MIL-F-8785C 3.7 (published,
as an open flight dynamics library and MIL-HDBK-1797 have it); wind profile, the same (from
memory).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from deckward.foundation.units import FOOT

#: where the low-altitude form holds, m; its values there are kept below and above
LOWEST, HIGHEST = 10.0 * FOOT, 1000.0 * FOOT
#: roughness of the surface under the wind, m: final approach, and otherwise
ROUGHNESS_LANDING, ROUGHNESS = 0.15 * FOOT, 2.0 * FOOT
_REFERENCE = 20.0 * FOOT
_HEIGHT_STEP = 5.0

#: free air: spectral density at no frequency (m^2/s^2 per rad/m) and lengths (m) of its poles and zero
_ALONG = 200.0 * FOOT**3, 100.0 * FOOT
_ACROSS = 5900.0 * FOOT**3, 1000.0 * FOOT, 400.0 * FOOT, 400.0 / 3.0 * FOOT
_UP = 71.6 * FOOT**3, 100.0 * FOOT


class Gusts(NamedTuple):
    """Filters that shape white noise into gusts, one step of time at a time.

    ``rows`` (heights, 3, 10): for gusts along, across and up the numbers a1, b1, a2, b2, c2,
    r1, r2 of ``x1 = a1 x1 + b1 n``, ``x2 = a2 x2 + b2 n + c2 x1``, ``gust = r1 x1 + r2 x2``
    with a standard normal n; then s, t, u of ``x1 = s m``, ``x2 = t m + u n``, which starts
    them as if they had always blown. ``per_metre`` rows a metre of height, from the first at 0 m.
    """

    rows: np.ndarray
    per_metre: float


def free_air_spectra(frequency) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return the spectra of free-air gusts along, across and up at spatial frequencies, rad/m."""
    square = np.square(np.asarray(frequency, dtype=float))
    level, length = _ALONG
    along = level / (1.0 + length**2 * square)
    level, pole, zero, second = _ACROSS
    across = level * (1.0 + zero**2 * square) / ((1.0 + pole**2 * square) * (1.0 + second**2 * square))
    level, length = _UP
    return along, across, level / (1.0 + length**2 * square)


def free_air_sigmas() -> tuple[float, float, float]:
    """Return the standard deviations of free-air gusts along, across and up, m/s.

    >>> [round(sigma, 2) for sigma in free_air_sigmas()]
    [0.54, 1.29, 0.32]
    """
    along = np.sqrt(_ALONG[0] * np.pi / (2 * _ALONG[1]))
    level, pole, zero, second = _ACROSS
    across = np.sqrt(level * np.pi / 2 * (1.0 + zero**2 / (pole * second)) / (pole + second))
    return float(along), float(across), float(np.sqrt(_UP[0] * np.pi / (2 * _UP[1])))


def low_altitude(height, wind_20ft) -> tuple[np.ndarray, np.ndarray]:
    """Return lengths (3, ...) and standard deviations (3, ...) along, across and up, m and m/s.

    ``height`` in m, held inside 10 to 1,000 ft; ``wind_20ft`` the wind 20 ft up, m/s.
    """
    feet = np.clip(np.asarray(height, dtype=float), LOWEST, HIGHEST) / FOOT
    shape = 0.177 + 0.000823 * feet
    level = feet / shape**1.2 * FOOT
    up = 0.1 * np.asarray(wind_20ft, dtype=float) + 0.0 * feet
    return np.stack([level, level, feet * FOOT]), np.stack([up / shape**0.4, up / shape**0.4, up])


def low_altitude_spectra(frequency, height, wind_20ft) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return the low-altitude spectra along, across and up at spatial frequencies, rad/m."""
    lengths, sigmas = low_altitude(height, wind_20ft)
    square = np.square(np.asarray(frequency, dtype=float))

    def sideways(sigma, length):
        spread = length**2 * square
        return sigma**2 * length / np.pi * (1.0 + 3.0 * spread) / (1.0 + spread) ** 2

    along = sigmas[0] ** 2 * 2.0 * lengths[0] / np.pi / (1.0 + lengths[0] ** 2 * square)
    return along, sideways(sigmas[1], lengths[1]), sideways(sigmas[2], lengths[2])


def free_air(*, airspeed: float, dt: float, strength: float = 1.0) -> Gusts:
    """Make the filters of free-air gusts at an airspeed (m/s) for steps of ``dt`` (s).

    ``strength`` multiplies the published intensities.
    """
    along, across, up = (strength * sigma for sigma in free_air_sigmas())
    _, pole, zero, second = _ACROSS
    # the two poles of the gusts across, side by side with the weights of partial fractions
    first_share = (pole - zero) / (pole - second)
    rows = [
        _one_pole(_ALONG[1], airspeed, dt, along),
        _two_poles(pole, second, first_share, airspeed, dt, across),
        _one_pole(_UP[1], airspeed, dt, up),
    ]
    return Gusts(np.array([rows, rows]), 0.0)


def low_altitude_gusts(*, airspeed: float, dt: float, wind_20ft: float) -> Gusts:
    """Make the filters of low-altitude gusts at an airspeed (m/s) for steps of ``dt`` (s)."""
    heights = np.arange(0.0, HIGHEST + 2 * _HEIGHT_STEP, _HEIGHT_STEP)
    lengths, sigmas = low_altitude(heights, wind_20ft)
    rows = [
        [
            _one_pole(lengths[0, i], airspeed, dt, sigmas[0, i]),
            _double_pole(lengths[1, i], airspeed, dt, sigmas[1, i]),
            _double_pole(lengths[2, i], airspeed, dt, sigmas[2, i]),
        ]
        for i in range(heights.size)
    ]
    return Gusts(np.array(rows), 1.0 / _HEIGHT_STEP)


def still() -> Gusts:
    """Return filters that make no gusts."""
    return Gusts(np.zeros((2, 3, 10)), 0.0)


def gust_series(gusts: Gusts, normals, *, height: float = 0.0) -> np.ndarray:
    """Return gusts (n, ..., 3), m/s, shaped from standard normals of that shape at one height, m."""
    row = gusts.rows[min(int(height * gusts.per_metre), gusts.rows.shape[0] - 1)]
    a1, b1, a2, b2, c2, r1, r2 = row.T[:7]
    x1, x2 = np.zeros(3), np.zeros(3)
    out = np.empty_like(np.asarray(normals, dtype=float))
    for k, n in enumerate(normals):
        x1 = a1 * x1 + b1 * n
        x2 = a2 * x2 + b2 * n + c2 * x1
        out[k] = r1 * x1 + r2 * x2
    return out


def wind_at(height, *, wind_20ft, roughness: float = ROUGHNESS_LANDING):
    """Return the mean wind at heights (m) over a surface, from the wind 20 ft up, m/s.

    Below ten times the roughness it is held.

    >>> round(float(wind_at(30.0, wind_20ft=10.0)), 1)
    13.3
    """
    height = np.maximum(np.asarray(height, dtype=float), 10.0 * roughness)
    return wind_20ft * np.log(height / roughness) / np.log(_REFERENCE / roughness)


def _one_pole(length, airspeed, dt, sigma) -> list[float]:
    decay = float(np.exp(-airspeed * dt / length))
    return _scaled([decay, 1.0 - decay, 0.0, 0.0, 0.0, 1.0, 0.0], sigma)


def _two_poles(first, second, first_share, airspeed, dt, sigma) -> list[float]:
    a1, a2 = (float(np.exp(-airspeed * dt / length)) for length in (first, second))
    return _scaled([a1, 1.0 - a1, a2, 1.0 - a2, 0.0, first_share, 1.0 - first_share], sigma)


def _double_pole(length, airspeed, dt, sigma) -> list[float]:
    # (1 + sqrt(3) T s) / (1 + T s)^2 = sqrt(3) / (1 + T s) + (1 - sqrt(3)) / (1 + T s)^2
    decay = float(np.exp(-airspeed * dt / length))
    root = float(np.sqrt(3.0))
    return _scaled([decay, 1.0 - decay, decay, 0.0, 1.0 - decay, root, 1.0 - root], sigma)


def _scaled(row, sigma) -> list[float]:
    """Scale a filter's output so that its variance in steps of time is exactly ``sigma`` squared."""
    a1, b1, a2, b2, c2, r1, r2 = row
    move = np.array([[a1, 0.0], [c2 * a1, a2]])
    drive = np.array([b1, b2 + c2 * b1])
    spread = np.linalg.solve(np.eye(4) - np.kron(move, move), np.outer(drive, drive).ravel()).reshape(2, 2)
    out = np.array([r1, r2])
    scale = float(sigma / np.sqrt(out @ spread @ out))
    first = np.sqrt(spread[0, 0])
    shared = spread[0, 1] / first
    rest = np.sqrt(max(spread[1, 1] - shared**2, 0.0))
    return [a1, b1, a2, b2, c2, r1 * scale, r2 * scale, float(first), float(shared), float(rest)]
