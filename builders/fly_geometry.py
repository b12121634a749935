"""Earth, ship and body geometry of the flown passes: the outside truth, written apart from the product.

Positions are earth-centred metres on WGS-84, matrices hold axes as columns in that frame.
Right-handed axes: local north-east-down, hull and body forward-starboard-down. The deck and
approach frames count forward, starboard, up from the ramp.
"""

from __future__ import annotations

import math

import numpy as np
import pymap3d

FOOT = 0.3048
KNOT = 1852.0 / 3600.0
NAUTICAL_MILE = 1852.0
G0 = 9.80665


def to_earth_centred(latitude, longitude, height):
    """Degrees and metres to earth-centred metres, shape (..., 3)."""
    return np.stack(pymap3d.geodetic2ecef(latitude, longitude, height), axis=-1)


def to_geodetic(point):
    """Earth-centred metres to degrees, degrees, metres."""
    latitude, longitude, height = pymap3d.ecef2geodetic(point[..., 0], point[..., 1], point[..., 2])
    return np.asarray(latitude), np.asarray(longitude), np.asarray(height)


def local_axes(latitude, longitude):
    """North, east, down at a place as columns, shape (..., 3, 3)."""
    if np.ndim(latitude) == 0:
        sla, cla = math.sin(la := math.radians(latitude)), math.cos(la)
        slo, clo = math.sin(lo := math.radians(longitude)), math.cos(lo)
        return np.array([[-sla * clo, -slo, -cla * clo], [-sla * slo, clo, -cla * slo], [cla, 0.0, -sla]])
    la, lo = np.radians(latitude), np.radians(longitude)
    sla, cla, slo, clo = np.sin(la), np.cos(la), np.sin(lo), np.cos(lo)
    north = np.stack([-sla * clo, -sla * slo, cla], axis=-1)
    east = np.stack([-slo, clo, np.zeros_like(slo)], axis=-1)
    down = np.stack([-cla * clo, -cla * slo, -sla], axis=-1)
    return np.stack([north, east, down], axis=-1)


def euler_matrix(yaw, pitch, roll):
    """Forward-starboard-down axes of a 3-2-1 attitude (rad) as columns, shape (..., 3, 3)."""
    # one attitude at a time is flown step by step: the language's own functions are faster there
    one = np.ndim(yaw) == np.ndim(pitch) == np.ndim(roll) == 0
    sin, cos = (math.sin, math.cos) if one else (np.sin, np.cos)
    cy, sy = cos(yaw), sin(yaw)
    cp, sp = cos(pitch), sin(pitch)
    cr, sr = cos(roll), sin(roll)
    rows = [
        [cy * cp, cy * sp * sr - sy * cr, cy * sp * cr + sy * sr],
        [sy * cp, sy * sp * sr + cy * cr, sy * sp * cr - cy * sr],
        [-sp, cp * sr, cp * cr],
    ]
    return np.array(rows) if one else np.stack([np.stack(row, axis=-1) for row in rows], axis=-2)


def euler_angles(matrix):
    """Yaw, pitch, roll (rad) of a rotation matrix, shape (..., 3, 3)."""
    yaw = np.arctan2(matrix[..., 1, 0], matrix[..., 0, 0])
    pitch = -np.arcsin(np.clip(matrix[..., 2, 0], -1.0, 1.0))
    roll = np.arctan2(matrix[..., 2, 1], matrix[..., 2, 2])
    return yaw, pitch, roll


def turn_to_port(angle):
    """Landing-area axes (forward, starboard, down) within hull axes, angle to port in rad."""
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])


def eye_over_hook(points, pitch):
    """Eye minus hook point, wings level: (forward, up) in metres at a pitch in rad."""
    dx = points["eye"][0] - points["hook"][0]
    dz = points["eye"][2] - points["hook"][2]
    return (
        dx * math.cos(pitch) + dz * math.sin(pitch),
        dx * math.sin(pitch) - dz * math.cos(pitch),
    )


def path_constant(site, points, pitch):
    """Height of the eye's commanded path over the lens point where it passes the lens's x, m."""
    lens = site["lens"]
    forward, up = eye_over_hook(points, pitch)
    slope = math.tan(math.radians(lens["basic_angle_deg"]))
    return (lens["hook_target_m"] - lens["position_m"][0] + forward) * slope + up - lens["position_m"][2]
