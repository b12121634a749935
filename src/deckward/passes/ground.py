"""The plane in which a pass is worked out: fixed to the earth near the ship."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from msgspec import Struct

from deckward.foundation import earth
from deckward.foundation.track import Track

#: mean radius of the earth, m
_RADIUS = 6.371e6


class Ground(Struct, frozen=True, dict=True):
    """North, east, down at a fixed origin (rad, rad, m), or a flat plane without one.

    Sums and smoothing are done in this plane, since it does not turn or curve; what is
    level at a place is then found from :meth:`levels`.
    """

    origin: tuple[float, float, float] | None

    @classmethod
    def at(cls, track: Track, when: float) -> Ground:
        """Put the origin where the craft is at a time, at sea level."""
        if not track.geodetic:
            return cls(None)
        i = int(np.clip(np.searchsorted(track.time, when), 0, len(track) - 1))
        return cls((float(track["latitude"][i]), float(track["longitude"][i]), 0.0))

    def place(self, track: Track) -> np.ndarray:
        """Give north, east, down (n, 3), m, of a track in this plane."""
        if self.origin is None:
            return np.stack([track["north"], track["east"], -track["up"]], axis=-1)
        return self.place_geodetic(track["latitude"], track["longitude"], track["altitude"])

    def place_geodetic(self, latitude, longitude, altitude) -> np.ndarray:
        """Give north, east, down (..., 3), m, of places given in rad and m."""
        assert self.origin is not None
        return earth.to_ned(earth.geodetic_to_ecef(latitude, longitude, altitude), *self.origin)

    def levels(self, place) -> np.ndarray:
        """Give the rotations (n, 3, 3) from this plane to what is level at places (n, 3)."""
        place = np.asarray(place, dtype=float)
        if self.origin is None:
            return np.broadcast_to(np.eye(3), (*place.shape[:-1], 3, 3))
        return earth.level_rotation(self._earth_centred(place)) @ self._rotation.T

    def level_turning(self, velocity) -> np.ndarray:
        """Give the rate (n, 3), rad/s, at which what is level turns for one who moves, (n, 3) m/s.

        Axes north, east, down; the earth taken as a sphere, which leaves half a percent.
        """
        velocity = np.asarray(velocity, dtype=float)
        if self.origin is None:
            return np.zeros_like(velocity)
        north, east = velocity[..., 0] / _RADIUS, velocity[..., 1] / _RADIUS
        return np.stack([east, -north, -east * np.tan(self.origin[0])], axis=-1)

    def altitude(self, place) -> np.ndarray:
        """Give the height above the sea datum (n,), m, of places (n, 3)."""
        place = np.asarray(place, dtype=float)
        if self.origin is None:
            return -place[..., 2]
        return earth.ecef_to_geodetic(self._earth_centred(place))[2]

    @cached_property
    def _centre(self) -> np.ndarray:
        """The origin in earth-centred axes."""
        assert self.origin is not None
        return earth.geodetic_to_ecef(*self.origin)

    @cached_property
    def _rotation(self) -> np.ndarray:
        """The rotation (3, 3) from earth-centred axes to this plane's."""
        assert self.origin is not None
        return earth.ned_rotation(*self.origin[:2])

    def _earth_centred(self, place: np.ndarray) -> np.ndarray:
        return self._centre + place @ self._rotation
