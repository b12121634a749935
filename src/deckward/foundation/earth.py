"""WGS-84: places on the earth, and the level plane at one of them.

Source: NGA.STND.0036 (World Geodetic System 1984), defining parameters a and 1/f.
"""

from __future__ import annotations

import numpy as np

SEMI_MAJOR_AXIS = 6_378_137.0
FLATTENING = 1.0 / 298.257223563
ECCENTRICITY_SQUARED = FLATTENING * (2.0 - FLATTENING)
SEMI_MINOR_AXIS = SEMI_MAJOR_AXIS * (1.0 - FLATTENING)


def geodetic_to_ecef(latitude, longitude, height) -> np.ndarray:
    """Turn latitude, longitude (rad) and ellipsoidal height (m) into earth-centred axes.

    Returns shape (..., 3), m: x through 0 N 0 E, y through 0 N 90 E, z through the pole.

    >>> xyz = geodetic_to_ecef(np.radians(30.0), np.radians(-75.0), 20.0)
    >>> [float(round(v, 3)) for v in xyz]
    [1430822.587, -5339902.593, 3170383.735]
    """
    latitude, longitude, height = np.broadcast_arrays(latitude, longitude, height)
    sin = np.sin(latitude)
    normal = SEMI_MAJOR_AXIS / np.sqrt(1.0 - ECCENTRICITY_SQUARED * sin * sin)
    across = (normal + height) * np.cos(latitude)
    return np.stack(
        [
            across * np.cos(longitude),
            across * np.sin(longitude),
            (normal * (1.0 - ECCENTRICITY_SQUARED) + height) * sin,
        ],
        axis=-1,
    )


def ecef_to_geodetic(xyz) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Turn earth-centred axes (..., 3), m, into latitude, longitude (rad) and height (m).

    Source: Bowring's start (Survey Review 23, 1976) with the geometric height; three
    rounds reach 1e-9 m between 10 km below and 100 km above the ellipsoid.
    """
    xyz = np.asarray(xyz, dtype=float)
    x, y, z = xyz[..., 0], xyz[..., 1], xyz[..., 2]
    across = np.hypot(x, y)
    ratio = SEMI_MAJOR_AXIS / SEMI_MINOR_AXIS
    second = ECCENTRICITY_SQUARED / (1.0 - ECCENTRICITY_SQUARED)
    reduced = np.arctan2(z * ratio, across)
    for _ in range(3):
        latitude = np.arctan2(
            z + second * SEMI_MINOR_AXIS * np.sin(reduced) ** 3,
            across - ECCENTRICITY_SQUARED * SEMI_MAJOR_AXIS * np.cos(reduced) ** 3,
        )
        reduced = np.arctan2((1.0 - FLATTENING) * np.sin(latitude), np.cos(latitude))
    sin, cos = np.sin(latitude), np.cos(latitude)
    normal = SEMI_MAJOR_AXIS / np.sqrt(1.0 - ECCENTRICITY_SQUARED * sin * sin)
    height = across * cos + z * sin - normal * (1.0 - ECCENTRICITY_SQUARED * sin * sin)
    return latitude, np.arctan2(y, x), height


def ned_rotation(latitude, longitude) -> np.ndarray:
    """Give the rotation (..., 3, 3) that turns earth-centred axes into north, east, down."""
    latitude, longitude = np.broadcast_arrays(latitude, longitude)
    return _level(np.sin(latitude), np.cos(latitude), np.sin(longitude), np.cos(longitude))


def level_rotation(xyz) -> np.ndarray:
    """Give :func:`ned_rotation` at earth-centred points (..., 3), m, without their coordinates.

    The vertical is that of the ellipsoid through the point of the same shape, then of the
    foot found with it: within 3e-10 rad up to 3 km above or below the ellipsoid, 2e-8 up to 20.
    """
    xyz = np.asarray(xyz, dtype=float)
    scale = np.array([SEMI_MAJOR_AXIS, SEMI_MAJOR_AXIS, SEMI_MINOR_AXIS]) ** -2.0
    normal = xyz * scale
    square = np.einsum("...i,...i->...", normal, normal)
    above = 0.5 * (np.einsum("...i,...i->...", normal, xyz) - 1.0) / square
    normal = (xyz - above[..., None] * normal) * scale
    x, y, z = normal[..., 0], normal[..., 1], normal[..., 2]
    across = np.hypot(x, y)
    length = np.hypot(across, z)
    pole = across == 0.0
    divisor = np.where(pole, 1.0, across)
    return _level(z / length, across / length, y / divisor, np.where(pole, 1.0, x / divisor))


def _level(sin, cos, east_sin, east_cos) -> np.ndarray:
    """Lay out north, east and down from the sines and cosines of latitude and longitude."""
    out = np.empty((*np.shape(sin), 3, 3))
    out[..., 0, 0] = -sin * east_cos
    out[..., 0, 1] = -sin * east_sin
    out[..., 0, 2] = cos
    out[..., 1, 0] = -east_sin
    out[..., 1, 1] = east_cos
    out[..., 1, 2] = 0.0
    out[..., 2, 0] = -cos * east_cos
    out[..., 2, 1] = -cos * east_sin
    out[..., 2, 2] = -sin
    return out


def to_ned(xyz, latitude, longitude, height) -> np.ndarray:
    """Give the place of earth-centred points (..., 3) in the level plane at a geodetic origin.

    The origin may be one for all points or one for each. Returns (..., 3): north, east,
    down, m.
    """
    origin = geodetic_to_ecef(latitude, longitude, height)
    offset = np.asarray(xyz, dtype=float) - origin
    return np.einsum("...ij,...j->...i", ned_rotation(latitude, longitude), offset)


def from_ned(ned, latitude, longitude, height) -> np.ndarray:
    """Turn north, east, down (..., 3), m, at a geodetic origin into earth-centred axes (..., 3)."""
    origin = geodetic_to_ecef(latitude, longitude, height)
    rotation = ned_rotation(latitude, longitude)
    return origin + np.einsum("...ji,...j->...i", rotation, np.asarray(ned, dtype=float))
