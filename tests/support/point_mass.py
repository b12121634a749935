"""A jet as a point with forces on it, flown over the sea in a wind; shares no code with the planner.

Forces from an aircraft's own tables, angle of attack held, thrust steered to hold heights,
bank told by a schedule over time: earth axes, fourth-order steps.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from msgspec import Struct

G = 9.80665


class Jet(Struct, frozen=True):
    """Mass, wing and the coefficients at the held angle of attack, rad."""

    mass: float
    area: float
    alpha: float
    lift: float
    drag: float
    least_thrust: float
    most_thrust: float

    def level_airspeed(self, density: float) -> float:
        """True airspeed in level flight, wings level."""
        force = 0.5 * density * self.area * (self.lift + self.drag * math.tan(self.alpha))
        return math.sqrt(self.mass * G / force)


def density(height: float) -> float:
    """Standard air below 11 km, written out."""
    temperature = 288.15 - 0.0065 * height
    pressure = 101325.0 * (temperature / 288.15) ** 5.25588
    return pressure / (287.05287 * temperature)


class Now(Struct, frozen=True):
    """Place, m, velocity through the air (speed, climb angle, heading) and time."""

    time: float
    north: float
    east: float
    height: float
    airspeed: float
    climb: float
    heading: float


def fly(
    jet: Jet,
    start: Now,
    *,
    until: float,
    bank: Callable[[float], float],
    wanted: Callable[[float], tuple[float, float, float]],
    wind: tuple[float, float],
    step: float = 0.05,
) -> list[Now]:
    """Fly until a time. ``wanted(t)`` gives height, climb and airspeed that power steers to.

    ``wind`` is where the air goes, north and east. With the angle of attack held, speed,
    climb and height hang together as a chain of three: the gains put its roots at 0.35 a
    second.
    """

    def rates(t, s):
        _, _, h, v, climb, heading = s
        q = 0.5 * density(h) * v * v * jet.area
        to_height, to_climb, to_speed = wanted(t)
        push = 0.14 * (to_height - h) + 1.06 * (to_climb - v * math.sin(climb)) + 1.05 * (to_speed - v)
        thrust = (q * jet.drag + jet.mass * (G * math.sin(climb) + push)) / math.cos(jet.alpha)
        thrust = min(max(thrust, jet.least_thrust), jet.most_thrust)
        up = q * jet.lift + thrust * math.sin(jet.alpha)
        along = thrust * math.cos(jet.alpha) - q * jet.drag
        phi = bank(t)
        return (
            v * math.cos(climb) * math.cos(heading) + wind[0],
            v * math.cos(climb) * math.sin(heading) + wind[1],
            v * math.sin(climb),
            along / jet.mass - G * math.sin(climb),
            (up * math.cos(phi) / jet.mass - G * math.cos(climb)) / v,
            up * math.sin(phi) / (jet.mass * v * math.cos(climb)),
        )

    s = (start.north, start.east, start.height, start.airspeed, start.climb, start.heading)
    t, out = start.time, [start]
    while t < until - 1e-9:
        d = min(step, until - t)
        a = rates(t, s)
        b = rates(t + d / 2, tuple(x + d / 2 * k for x, k in zip(s, a, strict=True)))
        c = rates(t + d / 2, tuple(x + d / 2 * k for x, k in zip(s, b, strict=True)))
        e = rates(t + d, tuple(x + d * k for x, k in zip(s, c, strict=True)))
        s = tuple(x + d / 6 * (i + 2 * j + 2 * k + m) for x, i, j, k, m in zip(s, a, b, c, e, strict=True))
        t += d
        out.append(Now(t, *s))
    return out
