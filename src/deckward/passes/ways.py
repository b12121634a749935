"""A ship's way: where she was at a time and how she went, from touches of her deck and rests on it."""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.aircraft.model import Profile
from deckward.foundation import angles
from deckward.foundation.statistics import median
from deckward.foundation.units import DEGREE
from deckward.passes.touches import FASTEST_SHIP, Rest, Touch
from deckward.site.model import Site

#: how well the touched spot is known across the deck, m; common practice, no source
_ASIDE = 4.0
#: sigma of an approach's course against the centreline, and of a heading against the course made good
_LINED_UP, _LEEWAY = 1.5 * DEGREE, 2.0 * DEGREE
#: metres that a deck may have been up or down at a single touch
_SWAYS = 1.5


class Way(Struct, frozen=True):
    """A straight way: place (2,) at a time, velocity (2,), covariance (4, 4) of both.

    ``strain`` is the rms of what it rests on about it, in sigmas; None where nothing is left over.
    """

    time: float
    place: np.ndarray
    velocity: np.ndarray
    covariance: np.ndarray
    touches: tuple[Touch, ...]
    rests: tuple[Rest, ...]
    strain: float | None = None

    def off(self, touch: Touch) -> np.ndarray:
        """How far (2,), m, a touch lies from the way."""
        return touch.place - self.place - self.velocity * (touch.time - self.time)

    def misses(self, touch: Touch) -> float:
        """Distance of a touch from the way, in sigmas of both."""
        since = touch.time - self.time
        carry = np.hstack([np.eye(2), since * np.eye(2)])
        spread = carry @ self.covariance @ carry.T + _spot(touch)
        return float(np.sqrt(square(self.off(touch), spread)))

    def strays(self, rest: Rest) -> float:
        """Difference of velocities, in sigmas of both."""
        off = rest.velocity - self.velocity
        spread = self.covariance[2:, 2:] + rest.sigma**2 * np.eye(2)
        return float(np.sqrt(square(off, spread)))


def _spot(touch: Touch) -> np.ndarray:
    """Covariance (2, 2) of where on deck a touch was, north and east."""
    ahead = np.array([np.cos(touch.course), np.sin(touch.course)])
    side = np.array([-ahead[1], ahead[0]])
    aside = _ASIDE if touch.kind == "arrest" else 0.5 * touch.along
    return touch.along**2 * np.outer(ahead, ahead) + aside**2 * np.outer(side, side)


def solve(touches: list[Touch], rests: list[Rest]) -> Way:
    """Weighted least squares of place and velocity."""
    zero = float(np.mean([touch.time for touch in touches]))
    information = np.zeros((4, 4))
    right = np.zeros(4)
    for touch in touches:
        carry = np.hstack([np.eye(2), (touch.time - zero) * np.eye(2)])
        weight = np.linalg.inv(_spot(touch))
        information += carry.T @ weight @ carry
        right += carry.T @ weight @ touch.place
    for rest in rests:
        information[2:, 2:] += np.eye(2) / rest.sigma**2
        right[2:] += rest.velocity / rest.sigma**2
    # a ship is no faster than this, whatever little is known
    information[2:, 2:] += np.eye(2) / FASTEST_SHIP**2
    covariance = np.linalg.inv(information)
    solution = covariance @ right
    way = Way(zero, solution[:2], solution[2:], covariance, tuple(touches), tuple(rests))
    free = 2 * (len(touches) + len(rests)) - 4
    if free <= 0:
        return way
    misfit = sum(square(way.off(touch), _spot(touch)) for touch in touches)
    misfit += sum(square(rest.velocity - way.velocity, rest.sigma**2 * np.eye(2)) for rest in rests)
    return replace(way, covariance=covariance * max(1.0, misfit / free), strain=float(np.sqrt(misfit / free)))


def square(off: np.ndarray, spread: np.ndarray) -> float:
    """Give the square of an offset in sigmas of its covariance."""
    return float(off @ np.linalg.solve(spread, off))


def heading_of(way: Way, course: float, course_sigma: float, site: Site) -> tuple[float, float]:
    """Where she points: her course made good, and the approaches less the landing area's angle."""
    weight = 1.0 / (course_sigma**2 + _LEEWAY**2)
    pull = 0.0
    for touch in way.touches:
        flown = touch.speed * np.array([np.cos(touch.course), np.sin(touch.course)]) - way.velocity
        area = float(np.arctan2(flown[1], flown[0]))
        one = 1.0 / (_LINED_UP**2 + site.sigma.angle**2)
        pull += one * float(angles.difference(area + site.angle, course))
        weight += one
    return course + pull / weight, float(1.0 / np.sqrt(weight))


def touched_x(way: Way, site: Site) -> float:
    """Deck x of the hook at the touches: the middle of the wires, else where hooks are meant to land."""
    arrests = sum(touch.kind == "arrest" for touch in way.touches)
    if site.wires is not None and 2 * arrests >= len(way.touches):
        return float(np.mean(site.wires.positions))
    return site.lens.hook_target


def deck_height(way: Way, profile: Profile) -> tuple[float, float]:
    """Height of the deck over the sea, m, and its sigma, from what stood on it."""
    wheels = max(profile.main_wheels[2], profile.nose_wheel[2])
    heights = [rest.height for rest in way.rests] or [
        touch.height for touch in way.touches if touch.kind == "arrest"
    ]
    least = 0.3
    if not heights:
        heights, least = [touch.height for touch in way.touches], 5.0
    spread = float(np.std(heights)) if len(heights) > 1 else _SWAYS
    sigma = float(np.hypot(least, spread / np.sqrt(len(heights))))
    return float(median(heights)) - wheels, sigma
