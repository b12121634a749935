"""What a site is, in SI and radians, once its file has been read."""

from __future__ import annotations

import numpy as np
from msgspec import Struct, field

Vector = tuple[float, float, float]


class Place(Struct, frozen=True):
    """Where a field is: rad, rad, m; ``heading`` of its reference point, true, rad."""

    latitude: float
    longitude: float
    elevation: float
    heading: float


class Wires(Struct, frozen=True):
    """Deck-frame x of each wire, aft first, and the height a hook takes it at, m."""

    positions: tuple[float, ...]
    height: float


class Lens(Struct, frozen=True):
    """The optical landing aid; ``position`` in the deck frame (x fwd, y stbd, z up), m."""

    position: Vector
    basic_angle: float
    cells: int
    cell: float
    red_cells: int
    hook_target: float
    stabilisation: str
    image_distance: float
    window_height: float


class SiteSigma(Struct, frozen=True):
    """How well the geometry is known, one standard deviation, m and rad; 0 is exact."""

    ramp: Vector = (0.0, 0.0, 0.0)
    angle: float = 0.0
    wires: float = 0.0
    lens: Vector = (0.0, 0.0, 0.0)


class Site(Struct, frozen=True):
    """A ship or a field.

    ``ramp`` is the ramp centre at deck level in the hull frame (x forward, y
    starboard, z down), m, from the point whose track is recorded. ``angle`` is the
    landing area's angle to port, rad.
    """

    name: str
    kind: str
    angle: float
    ramp: Vector
    length: float
    width: float
    lens: Lens
    wires: Wires | None = None
    place: Place | None = None
    centre: Vector = (0.0, 0.0, 0.0)
    sigma: SiteSigma = field(default_factory=SiteSigma)
    generic: bool = False
    description: str = ""

    @property
    def is_field(self) -> bool:
        """Whether it stands on land: no motion, no angle."""
        return self.kind == "field"

    @property
    def ramp_vector(self) -> np.ndarray:
        """``ramp`` as an array, shape (3,)."""
        return np.asarray(self.ramp, dtype=float)
