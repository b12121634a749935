"""Rotations between frames: yaw-pitch-roll (3-2-1) attitudes, right-handed, z down.

Source: any text of flight mechanics, e.g. Stevens, Lewis and Johnson, *Aircraft Control
and Simulation*, 3rd ed., eq. 1.3-20 (from memory).
"""

from __future__ import annotations

import numpy as np


def body_to_level(heading, pitch, roll) -> np.ndarray:
    """Give the rotation (..., 3, 3) that turns body (or hull) axes into north, east, down.

    Heading clockwise from north, pitch bow or nose up +, roll starboard down +, rad.
    """
    heading, pitch, roll = np.broadcast_arrays(heading, pitch, roll)
    sh, ch = np.sin(heading), np.cos(heading)
    sp, cp = np.sin(pitch), np.cos(pitch)
    sr, cr = np.sin(roll), np.cos(roll)
    out = np.empty((*heading.shape, 3, 3))
    out[..., 0, 0] = cp * ch
    out[..., 0, 1] = sr * sp * ch - cr * sh
    out[..., 0, 2] = cr * sp * ch + sr * sh
    out[..., 1, 0] = cp * sh
    out[..., 1, 1] = sr * sp * sh + cr * ch
    out[..., 1, 2] = cr * sp * sh - sr * ch
    out[..., 2, 0] = -sp
    out[..., 2, 1] = sr * cp
    out[..., 2, 2] = cr * cp
    return out


def rotate(rotation, vector) -> np.ndarray:
    """Apply rotations (..., 3, 3) to vectors (..., 3)."""
    return np.einsum("...ij,...j->...i", rotation, vector)


def rotate_back(rotation, vector) -> np.ndarray:
    """Apply the inverse of rotations (..., 3, 3) to vectors (..., 3)."""
    return np.einsum("...ji,...j->...i", rotation, vector)


def yaw(heading) -> np.ndarray:
    """Give the rotation (..., 3, 3) of a level frame that points along ``heading`` to north, east, down."""
    zero = np.zeros_like(np.asarray(heading, dtype=float))
    return body_to_level(heading, zero, zero)
