"""A ship on a steady course in a steady wind, as one who flies round her sees it.

Landing axes: origin at the ramp, ``ahead`` along the landing area's centreline, ``right`` to
starboard of it; they go with the ship and do not turn. A heading on the ship is measured
clockwise from the centreline. Hull axes: the same origin, along the keel.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np
from msgspec import Struct

from deckward.environment import wind
from deckward.foundation import angles


class Steaming(Struct, frozen=True, dict=True):
    """Course and speed of a ship, her landing area's ``angle`` to port, and the true wind.

    A field has the heading of its runway for a course, no speed and no angle.
    """

    course: float
    speed: float
    wind_from: float
    wind_speed: float
    angle: float = 0.0

    @cached_property
    def over_deck(self) -> wind.WindOverDeck:
        """The wind over the deck."""
        return wind.over_deck(
            wind_from=self.wind_from,
            wind_speed=self.wind_speed,
            course=self.course,
            speed=self.speed,
            angle=self.angle,
        )

    @cached_property
    def landing_heading(self) -> float:
        """Where the landing area points, true."""
        return float(angles.compass(angles.difference(self.course, self.angle)))

    @cached_property
    def air(self) -> np.ndarray:
        """Velocity of the air past the ship, landing axes, shape (2,)."""
        there = self.over_deck
        return -np.array([float(there.along_landing_area), float(there.crosswind_from_starboard)])

    def heading_for(self, track: float, airspeed: float) -> tuple[float, float]:
        """Give the heading that keeps a track past the ship, and the speed along it.

        ``track`` and heading are clockwise from the centreline; ``airspeed`` is level.
        NaN where the air crosses the track faster than the jet flies.
        """
        along, across = direction(track), direction(track + np.pi / 2)
        drift = float(self.air @ across) / airspeed
        crab = np.arcsin(-drift) if abs(drift) <= 1.0 else np.nan
        return track + float(crab), airspeed * float(np.cos(crab)) + float(self.air @ along)

    def true_heading(self, heading):
        """Turn a heading clockwise from the centreline into a true one."""
        return angles.compass(self.landing_heading + np.asarray(heading))

    def hull(self, ahead, right):
        """Turn a place in landing axes into ahead of the ramp and to port of it, hull axes."""
        c, s = np.cos(self.angle), np.sin(self.angle)
        return ahead * c + right * s, ahead * s - right * c

    def landing(self, ahead, port):
        """Turn ahead and to port of the ramp, hull axes, into landing axes: undoes :meth:`hull`."""
        c, s = np.cos(self.angle), np.sin(self.angle)
        return ahead * c + port * s, ahead * s - port * c


def direction(heading: float) -> np.ndarray:
    """Give the unit vector of a heading, shape (2,): ahead and right, or north and east."""
    return np.array([np.cos(heading), np.sin(heading)])
