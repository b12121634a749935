"""Chance by counting: the same numbers for a trajectory on any number of threads.

Trajectory ``index`` of seed ``seed`` has a key; its n-th draw is a hash of key and n, so no
generator is shared and none has a state. A normal is the sum of the four 16-bit quarters of
one hash: its moments are the normal's but for a kurtosis of -0.3.

Source: Steele, Lea and Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014
(the mixing function, from memory).
"""

from __future__ import annotations

import numpy as np

_GOLDEN = np.uint64(0x9E3779B97F4A7C15)
_FIRST = np.uint64(0xBF58476D1CE4E5B9)
_SECOND = np.uint64(0x94D049BB133111EB)
_S30, _S27, _S31 = np.uint64(30), np.uint64(27), np.uint64(31)
_S16, _S32, _S48 = np.uint64(16), np.uint64(32), np.uint64(48)
_QUARTER = np.uint64(0xFFFF)
#: mean of four quarters, and what brings their standard deviation to 1
_MEAN = 2.0 * 65535.0
_SCALE = float(1.0 / np.sqrt(4.0 * (65536.0**2 - 1.0) / 12.0))
_PAIR = float(1.0 / np.sqrt(2.0 * (65536.0**2 - 1.0) / 12.0))


def mix(value):
    """Return a hash of 64-bit integers."""
    value = (value ^ (value >> _S30)) * _FIRST
    value = (value ^ (value >> _S27)) * _SECOND
    return value ^ (value >> _S31)


def normal(key, count):
    """Return the normal of draw ``count`` (64-bit integers, as the key)."""
    bits = mix(key + count * _GOLDEN)
    total = (
        np.float64(bits & _QUARTER)
        + np.float64((bits >> _S16) & _QUARTER)
        + np.float64((bits >> _S32) & _QUARTER)
        + np.float64(bits >> _S48)
    )
    return (total - _MEAN) * _SCALE


def pair(key, count):
    """Return two numbers of mean 0 and size 1 of draw ``count``, each the sum of two quarters.

    For noise that a filter evens out: their own kurtosis is -0.6.
    """
    bits = mix(key + count * _GOLDEN)
    first = np.float64(bits & _QUARTER) + np.float64((bits >> _S16) & _QUARTER)
    second = np.float64((bits >> _S32) & _QUARTER) + np.float64(bits >> _S48)
    return (first - 65535.0) * _PAIR, (second - 65535.0) * _PAIR


def uniform(key, count):
    """Return a number from 0 up to 1."""
    return np.float64(mix(key + count * _GOLDEN) >> np.uint64(11)) * (1.0 / 9007199254740992.0)


def keys(seed: int, first: int, count: int) -> np.ndarray:
    """Return the keys (count,) of trajectories ``first`` on."""
    index = np.arange(first, first + count, dtype=np.uint64)
    base = mix(np.array([seed & 0xFFFFFFFFFFFFFFFF], dtype=np.uint64) + _GOLDEN)
    return mix(base + (index + np.uint64(1)) * _SECOND)
