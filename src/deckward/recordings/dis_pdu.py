"""The Entity State PDU of IEEE 1278.1: bytes to arrays, world axes to heading, pitch and roll.

Source: field order as in an open implementation; sizes, byte order, the meaning of
orientation and of the dead-reckoning algorithms from memory of IEEE 1278.1-1998 and
-2012, checked against worked orientations.
"""

from __future__ import annotations

import numpy as np

from deckward.foundation.earth import ecef_to_geodetic, ned_rotation
from deckward.foundation.frames import rotate, rotate_back

ENTITY_STATE = 1
PLATFORM, AIR, SURFACE = 1, 2, 3
#: first value of an entity type's category in the surface domain: an aircraft carrier (from memory)
CARRIER = 1

STATE = np.dtype(
    [
        ("version", "u1"),
        ("exercise", "u1"),
        ("type", "u1"),
        ("family", "u1"),
        ("timestamp", ">u4"),
        ("length", ">u2"),
        ("status", "u1"),
        ("padding", "u1"),
        ("site", ">u2"),
        ("application", ">u2"),
        ("entity", ">u2"),
        ("force", "u1"),
        ("parameters", "u1"),
        ("kind", "u1"),
        ("domain", "u1"),
        ("country", ">u2"),
        ("category", "u1"),
        ("subcategory", "u1"),
        ("specific", "u1"),
        ("extra", "u1"),
        ("alternative", "u1", 8),
        ("velocity", ">f4", 3),
        ("location", ">f8", 3),
        ("orientation", ">f4", 3),
        ("appearance", ">u4"),
        ("algorithm", "u1"),
        ("other", "u1", 15),
        ("acceleration", ">f4", 3),
        ("angular_velocity", ">f4", 3),
        ("charset", "u1"),
        ("marking", "S11"),
        ("capabilities", ">u4"),
    ]
)

_TICK = 3600.0 / 2**31
#: dead-reckoning algorithms whose velocity is in body axes, that rotate, that know acceleration
IN_BODY, ROTATING, ACCELERATED = (6, 7, 8, 9), (3, 4, 7, 8), (4, 5, 8, 9)
STATIC, OTHER = 1, 0
#: rotating ones in body axes with an acceleration: by the standard's formula the rate at which the
#: components of the velocity change, as some senders have it the acceleration itself
BODY_RATES = (8,)
#: bits of a platform's appearance: it stands still though its velocity goes on; it is gone
FROZEN, DEACTIVATED = 1 << 21, 1 << 23
#: past these no craft goes, m/s, m/s^2, rad/s
_FASTEST, _HARDEST, _QUICKEST = 3_000.0, 1_000.0, 30.0


def decode(data: bytes, offsets: np.ndarray) -> np.ndarray:
    """Read the PDUs that start at ``offsets`` (n,) as an array of :data:`STATE` (n,).

    Bytes past the fixed part (variable parameters) are left out.
    """
    octets = np.frombuffer(data, np.uint8)
    if offsets.size > 1:
        stride = int(offsets[1] - offsets[0])
        if stride >= STATE.itemsize and np.all(np.diff(offsets) == stride):
            first = int(offsets[0])
            rows = np.lib.stride_tricks.as_strided(
                octets[first:], (offsets.size, STATE.itemsize), (stride, 1), writeable=False
            )
            return np.ascontiguousarray(rows).view(STATE)[:, 0]
    if not offsets.size:
        return np.empty(0, STATE)
    starts = np.lib.stride_tricks.sliding_window_view(octets, STATE.itemsize)
    return starts[offsets].view(STATE)[:, 0]


def whole_states(data: bytes, offsets: np.ndarray) -> np.ndarray:
    """Tell which of the PDUs at ``offsets`` are entity states that lie whole in the data, (n,)."""
    octets = np.frombuffer(data, np.uint8)
    length = octets[offsets + 8].astype(int) << 8 | octets[offsets + 9]
    return (
        (octets[offsets + 2] == ENTITY_STATE) & (length >= STATE.itemsize) & (offsets + length <= len(data))
    )


def past_the_hour(timestamp: np.ndarray) -> np.ndarray:
    """Give the seconds past the hour that timestamps (n,) mean: the upper 31 bits of 3600 s."""
    return (timestamp >> 1).astype(float) * _TICK


def is_absolute(timestamp: np.ndarray) -> np.ndarray:
    """Tell which timestamps (n,) count from the hour of UTC, and not from any start."""
    return (timestamp & 1).astype(bool)


def world_to_body(orientation: np.ndarray) -> np.ndarray:
    """Give the rotation (n, 3, 3) from earth-centred to body axes.

    ``orientation`` (n, 3): psi about z, theta about the new y, phi about the new x, rad.
    """
    psi, theta, phi = np.moveaxis(numbers(np.asarray(orientation)), -1, 0)
    s1, c1, s2, c2, s3, c3 = np.sin(psi), np.cos(psi), np.sin(theta), np.cos(theta), np.sin(phi), np.cos(phi)
    rows = [
        [c2 * c1, c2 * s1, -s2],
        [s3 * s2 * c1 - c3 * s1, s3 * s2 * s1 + c3 * c1, s3 * c2],
        [c3 * s2 * c1 + s3 * s1, c3 * s2 * s1 - s3 * c1, c3 * c2],
    ]
    return np.stack([np.stack(row, axis=-1) for row in rows], axis=-2)


def attitude(orientation: np.ndarray, location: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Turn orientations in the world (n, 3) at places (n, 3) into heading, pitch and roll, rad.

    Heading is in [0, 2 pi), pitch nose up +, roll starboard down +.
    """
    latitude, longitude, _ = ecef_to_geodetic(location)
    level = ned_rotation(latitude, longitude)
    body = np.einsum("...ij,...kj->...ik", world_to_body(orientation), level)
    heading = np.arctan2(body[..., 0, 1], body[..., 0, 0]) % (2.0 * np.pi)
    pitch = np.arcsin(np.clip(-body[..., 0, 2], -1.0, 1.0))
    roll = np.arctan2(body[..., 1, 2], body[..., 2, 2])
    return heading, pitch, roll


def numbers(values: np.ndarray) -> np.ndarray:
    """Turn a field into the machine's own numbers; what is no number at all becomes NaN quietly."""
    with np.errstate(invalid="ignore"):
        return values.astype(float)


def _bounded(values: np.ndarray, most: float) -> np.ndarray:
    """Give numbers of which none is past what moves; NaN for those that are."""
    out = numbers(values)
    out[~(np.abs(out) < most)] = np.nan
    return out


def motion(states: np.ndarray, *, turning: bool = False) -> tuple[np.ndarray, np.ndarray]:
    """Give velocity and acceleration in earth-centred axes, (n, 3) each, m/s and m/s^2.

    What the dead-reckoning algorithm of a state does not know is NaN: the acceleration of
    one of constant velocity, the velocity too of one without motion or unknown. A craft of
    constant body velocity that rotates is accelerated by the rotation; with ``turning`` so is one of
    :data:`BODY_RATES`, beside the acceleration sent.
    """
    algorithm = states["algorithm"]
    velocity = _bounded(states["velocity"], _FASTEST)
    acceleration = _bounded(states["acceleration"], _HARDEST)
    in_body = np.isin(algorithm, IN_BODY)
    if in_body.any():
        turn = world_to_body(states["orientation"][in_body])
        spin = _bounded(states["angular_velocity"][in_body], _QUICKEST)
        which = algorithm[in_body]
        pull = np.where((which == 7)[:, None], 0.0, acceleration[in_body])
        turned = (which == 7) | (np.isin(which, BODY_RATES) & turning)
        pull = pull + np.where(turned[:, None], np.cross(spin, velocity[in_body]), 0.0)
        velocity[in_body] = rotate_back(turn, velocity[in_body])
        acceleration[in_body] = rotate_back(turn, pull)
    acceleration[~np.isin(algorithm, (*ACCELERATED, 7))] = np.nan
    velocity[np.isin(algorithm, (STATIC, OTHER)) | (algorithm > 9)] = np.nan
    acceleration[np.isnan(velocity)] = np.nan
    # a frozen one is not reckoned on
    still = (states["appearance"] & FROZEN).astype(bool)
    velocity[still], acceleration[still] = 0.0, 0.0
    return velocity, acceleration


def attitude_rates(states: np.ndarray, pitch: np.ndarray, roll: np.ndarray) -> np.ndarray:
    """Give the rates of heading, pitch and roll (n, 3), rad/s; NaN where none are told.

    An algorithm that holds the attitude may still tell the angular velocity: taken so where any state
    of the entity has one. The turn of the level axes under the craft is left out: it is below 1e-4 rad/s.
    """
    p, q, r = _bounded(states["angular_velocity"], _QUICKEST).T
    sr, cr = np.sin(roll), np.cos(roll)
    cp = np.where(np.abs(np.cos(pitch)) < 0.05, np.nan, np.cos(pitch))
    rates = np.column_stack([(q * sr + r * cr) / cp, q * cr - r * sr, p + np.tan(pitch) * (q * sr + r * cr)])
    told = np.isin(states["algorithm"], ROTATING) | (np.abs(numbers(states["angular_velocity"])).max() > 0.0)
    rates[~told] = np.nan
    return rates


def level_velocity(velocity: np.ndarray, location: np.ndarray) -> np.ndarray:
    """Turn velocities in earth-centred axes (n, 3) into north, east, down (n, 3)."""
    latitude, longitude, _ = ecef_to_geodetic(location)
    return rotate(ned_rotation(latitude, longitude), velocity)
