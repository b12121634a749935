"""The ship (or the field) of a flown pass as a function of time, on the simulator's 120 Hz grid."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
from fly_geometry import KNOT, euler_matrix, local_axes, to_earth_centred, turn_to_port

STEP = 1.0 / 120.0
A, E2 = 6378137.0, 0.0066943799901413165


@dataclass(frozen=True)
class ShipPlan:
    """Where the ship is at zero time and how she moves; motions are (amplitude, rad/s, phase) sums."""

    latitude: float
    longitude: float
    heading: float  # deg true, course = heading
    speed_kt: float = 0.0
    height: float = 19.5  # of the reference point, m
    turn_rate: float = 0.0  # deg/s, + to starboard
    turn_from: float = 0.0  # s
    turn_until: float = 1e9
    pitch: tuple = ()  # deg
    roll: tuple = ()  # deg
    heave: tuple = ()  # m
    trim_pitch: float = 0.0  # deg, steady
    list_roll: float = 0.0  # deg, steady


def _sum(terms, t):
    return sum((a * np.sin(w * t + p) for a, w, p in terms), np.zeros_like(t))


@dataclass(frozen=True)
class Ship:
    """Arrays over the 120 Hz grid from ``start``: position of the reference point, attitude, axes."""

    plan: ShipPlan
    site: dict
    start: float
    time: np.ndarray
    latitude: np.ndarray
    longitude: np.ndarray
    height: np.ndarray
    heading: np.ndarray  # rad, not wrapped
    pitch: np.ndarray
    roll: np.ndarray
    point: np.ndarray  # (n, 3)
    hull: np.ndarray = field(repr=False)  # (n, 3, 3)
    ramp: np.ndarray = field(repr=False)  # (n, 3) earth-centred
    deck: np.ndarray = field(repr=False)  # (n, 3, 3) forward, starboard, up
    level: np.ndarray = field(repr=False)  # (n, 3, 3) approach axes
    steady_ramp: np.ndarray = field(repr=False)  # (n, 3) without pitch, roll and heave

    def between(self, first, end):
        """The samples from first to end."""
        arrays = {k: v[first:end] for k, v in vars(self).items() if isinstance(v, np.ndarray)}
        return replace(self, **arrays)


def sail(plan: ShipPlan, site: dict, start: float, seconds: float) -> Ship:
    """Move the ship from ``start`` (s, zero is where the plan places her) for so many seconds."""
    first = round(start / STEP)
    index = np.arange(min(first, 0), first + round(seconds / STEP) + 1)
    t = index * STEP
    turning = (np.clip(t, plan.turn_from, plan.turn_until) - plan.turn_from) * plan.turn_rate
    heading = np.radians(plan.heading + turning)
    speed = plan.speed_kt * KNOT
    latitude, longitude = _track(plan, t, heading, speed)
    height = plan.height + _sum(plan.heave, t)
    pitch = np.radians(plan.trim_pitch + _sum(plan.pitch, t))
    roll = np.radians(plan.list_roll + _sum(plan.roll, t))
    keep = index >= first
    t, latitude, longitude, height = t[keep], latitude[keep], longitude[keep], height[keep]
    heading, pitch, roll = heading[keep], pitch[keep], roll[keep]

    point = to_earth_centred(latitude, longitude, height)
    ned = local_axes(latitude, longitude)
    hull = ned @ euler_matrix(heading, pitch, roll)
    angle = np.radians(site["landing_area"]["angle_deg"])
    up = np.diag([1.0, 1.0, -1.0])
    deck = hull @ turn_to_port(angle) @ up
    zero = np.zeros_like(heading)
    level = ned @ euler_matrix(heading - angle, zero, zero) @ up
    offset = np.asarray(site["landing_area"]["ramp_m"])
    ramp = point + hull @ offset
    steady = to_earth_centred(latitude, longitude, np.full_like(height, plan.height))
    steady_ramp = steady + ned @ euler_matrix(heading, zero, zero) @ offset
    return Ship(
        plan=plan,
        site=site,
        start=float(t[0]),
        time=t,
        latitude=latitude,
        longitude=(longitude + 180.0) % 360.0 - 180.0,
        height=height,
        heading=heading,
        pitch=pitch,
        roll=roll,
        point=point,
        hull=hull,
        ramp=ramp,
        deck=deck,
        level=level,
        steady_ramp=steady_ramp,
    )


def _track(plan, t, heading, speed):
    zero = int(np.argmin(np.abs(t)))
    latitude = np.full_like(t, plan.latitude)
    for _ in range(2):
        s2 = np.sin(np.radians(latitude)) ** 2
        meridian = A * (1 - E2) / (1 - E2 * s2) ** 1.5
        rate = speed * np.cos(heading) / meridian
        latitude = plan.latitude + np.degrees(_integral(rate, zero))
    s2 = np.sin(np.radians(latitude)) ** 2
    normal = A / np.sqrt(1 - E2 * s2)
    rate = speed * np.sin(heading) / (normal * np.cos(np.radians(latitude)))
    return latitude, plan.longitude + np.degrees(_integral(rate, zero))


def _integral(rate, zero):
    total = np.concatenate([[0.0], np.cumsum(0.5 * (rate[1:] + rate[:-1]) * STEP)])
    return total - total[zero]
