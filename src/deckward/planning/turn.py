"""Turns in the moving air: speed that goes with bank, rate, radius, and a turn rolled into and out of.

Bank is + to the right. A turn is coordinated and its vertical acceleration nothing. The
wind moves the whole of it; see :mod:`deckward.planning.steaming` for the axes.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.foundation.units import DEGREE, STANDARD_GRAVITY

#: quick enough to feel square, slow enough to be smooth: common practice, no source
ROLL_RATE = 10.0 * DEGREE


def speed_ratio(bank, path, angle_of_attack):
    """Return true airspeed over that of level flight, wings level, at one angle of attack.

    ``path`` is the angle of the path in the air, + climbing. In balance along the path and
    across it, lift L and drag D at a held angle of attack a hold the weight W so that
    L + D tan a = W (cos path / cos bank - sin path tan a); L and D go with speed squared.
    """
    return np.sqrt(np.cos(path) / np.cos(bank) - np.sin(path) * np.tan(angle_of_attack))


def rate(bank, airspeed):
    """Return the rate of turn, rad/s, + to the right."""
    return STANDARD_GRAVITY * np.tan(bank) / airspeed


def radius(bank, airspeed):
    """Return the radius in the air, m."""
    return airspeed**2 / (STANDARD_GRAVITY * np.tan(np.abs(bank)))


def load_factor(bank):
    """Return the load factor of a level turn."""
    return 1.0 / np.cos(bank)


def roll_loss(bank: float, roll_rate: float = ROLL_RATE) -> float:
    """Return how much later a rolled turn begins, and earlier it ends, than one banked at once, s.

    A steady roll from wings level makes tan(bank) grow from nothing: its mean falls short
    of the full bank's by this part of the rolling time.
    """
    bank = abs(bank)
    if bank == 0.0:
        return 0.0
    mean = -np.log(np.cos(bank)) / (bank * np.tan(bank))
    return float(bank / roll_rate * (1.0 - mean))


class Curve(Struct, frozen=True):
    """A flown stretch, (n,) each: ``time`` from its start, ``heading`` clockwise from the centreline.

    ``ahead`` and ``right`` count from where it starts, landing axes.
    """

    time: np.ndarray
    bank: np.ndarray
    heading: np.ndarray
    airspeed: np.ndarray
    ahead: np.ndarray
    right: np.ndarray


def integrate(
    time: np.ndarray, bank: np.ndarray, airspeed: np.ndarray, path: np.ndarray | float,
    *, heading: float, air: np.ndarray,
) -> Curve:  # fmt: skip
    """Fly bank and airspeed (n,) over ``time`` from a heading, in air that moves with ``air`` (2,)."""
    turned = heading + cumulative(rate(bank, airspeed), time)
    level = airspeed * np.cos(path)
    return Curve(
        time=time,
        bank=bank,
        heading=turned,
        airspeed=airspeed,
        ahead=cumulative(level * np.cos(turned) + air[0], time),
        right=cumulative(level * np.sin(turned) + air[1], time),
    )


def cumulative(values: np.ndarray, time: np.ndarray) -> np.ndarray:
    """Return the running integral (n,) of values over time, from 0, by trapezoids."""
    out = np.zeros(len(time))
    np.cumsum(np.diff(time) * (values[1:] + values[:-1]) / 2.0, out=out[1:])
    return out


def rolled(time: np.ndarray, bank: float, roll_rate: float = ROLL_RATE) -> np.ndarray:
    """Return the bank (n,) of a turn that fills ``time``: rolled in steadily, held, rolled out."""
    ramp = np.minimum(time - time[0], time[-1] - time) * roll_rate
    return np.sign(bank) * np.minimum(ramp, abs(bank))
