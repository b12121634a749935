"""The marshal stack by night and in weather: who holds where, and when each pushes.

Source: published (NAVEDTRA 14342A): on the radial opposite the expected final bearing, at
angels + 15 miles by the ship's distance equipment, not below 6,000 ft, 1,000 ft apart; the
first to push is the lowest. One minute apart: from memory, common practice.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.foundation import angles
from deckward.foundation.units import FOOT, NAUTICAL_MILE
from deckward.planning.steaming import Steaming, direction

LOWEST = 6000.0 * FOOT
STEP = 1000.0 * FOOT
INTERVAL = 60.0
#: common practice, no source: a push within so many seconds of its time is on time
TOLERANCE = 10.0


class Slot(Struct, frozen=True):
    """One aircraft's place: ``distance`` is what its distance equipment reads at the fix, m.

    ``radial`` is the true bearing of the fix from the ship; ``push`` in the seconds of the
    first push given. ``fix`` is north and east of the ship, m, over the ground.
    """

    number: int
    altitude: float
    distance: float
    radial: float
    push: float

    @property
    def fix(self) -> tuple[float, float]:
        """Where the fix is from the ship, north and east: the distance read is along the slant."""
        north, east = np.sqrt(self.distance**2 - self.altitude**2) * direction(self.radial)
        return float(north), float(east)

    @property
    def inbound(self) -> float:
        """The track over the fix to the ship, true."""
        return float(angles.compass(self.radial + np.pi))


def distance(altitude: float) -> float:
    """Return the distance of the fix for an altitude: angels + 15, one mile for each 1,000 ft.

    >>> round(distance(8000 * FOOT) / NAUTICAL_MILE, 9)
    23.0
    """
    return (altitude / (1000.0 * FOOT) + 15.0) * NAUTICAL_MILE


def stack(
    aircraft: int, *, steaming: Steaming, first_push: float = 0.0, interval: float = INTERVAL,
    lowest: float = LOWEST, radial: float | None = None,
) -> tuple[Slot, ...]:  # fmt: skip
    """Give each aircraft its altitude, fix and push time, the lowest first."""
    if radial is None:
        radial = float(angles.compass(steaming.landing_heading + np.pi))
    return tuple(
        Slot(
            number=k + 1,
            altitude=lowest + k * STEP,
            distance=distance(lowest + k * STEP),
            radial=radial,
            push=first_push + k * interval,
        )
        for k in range(aircraft)
    )
