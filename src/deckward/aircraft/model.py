"""What an aircraft profile is, in SI and radians, once its file has been read."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct, field

Vector = tuple[float, float, float]


class ProfileSigma(Struct, frozen=True):
    """How well the profile is known, one standard deviation, m and rad; 0 is exact."""

    eye: Vector = (0.0, 0.0, 0.0)
    hook: Vector = (0.0, 0.0, 0.0)
    main_wheels: Vector = (0.0, 0.0, 0.0)
    nose_wheel: Vector = (0.0, 0.0, 0.0)
    on_speed: float = 0.0


class Profile(Struct, frozen=True):
    """An aircraft.

    Points are in the body frame (x forward, y right, z down), m, from the point whose
    track is recorded: ``hook`` with the hook down, ``main_wheels`` the right main (the
    left mirrors it). ``band`` is the on-speed band of angle of attack (low, high), rad;
    ``slight_band`` the wider one outside which the jet is plainly fast or slow.
    ``tables`` holds the optional tables of the file as read (edge units), by their names
    (``mass``, ``aerodynamics``, ``engine``, ``launch``, ``fuel``); see ``aircraft/tables.py``.
    """

    name: str
    eye: Vector
    hook: Vector
    main_wheels: Vector
    nose_wheel: Vector
    on_speed: float
    band: tuple[float, float]
    slight_band: tuple[float, float]
    max_landing_mass: float | None = None
    on_speed_pitch: float | None = None
    sigma: ProfileSigma = field(default_factory=ProfileSigma)
    generic: bool = False
    tables: Mapping[str, Any] = field(default_factory=dict)
    description: str = ""
