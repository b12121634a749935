"""Deck and approach axes of a ship that moves."""

from __future__ import annotations

import numpy as np
import pytest

from deckward import aircraft, site
from deckward.passes.axes import Geometry, Moment
from deckward.passes.ground import Ground


def moving(time: np.ndarray) -> Moment:
    """An aircraft that weaves down to a ship that turns, pitches, rolls and heaves."""
    one = np.ones_like(time)
    pitch, roll = 0.03 * np.sin(0.6 * time), 0.05 * np.sin(0.4 * time + 1.0)
    heading = 1.2 + 0.01 * np.sin(0.05 * time)
    turning = [0.018 * np.cos(0.6 * time), 0.02 * np.cos(0.4 * time + 1.0), 5e-4 * np.cos(0.05 * time)]
    return Moment(
        time,
        np.stack([40.0 * time - 1500.0, 55.0 * time - 1700.0 + 3.0 * np.sin(time), 3.0 * time - 120.0], -1),
        np.stack([40.0 * one, 55.0 + 3.0 * np.cos(time), 3.0 * one], -1),
        0.1 * one,
        0.02 * one,
        one,
        np.stack([5.0 * time, 9.0 * time, 1.5 * np.sin(0.5 * time) - 20.0], -1),
        np.stack([5.0 * one, 9.0 * one, 0.75 * np.cos(0.5 * time)], -1),
        pitch,
        roll,
        heading,
        np.stack(turning, -1),
    )


@pytest.mark.parametrize("origin", [None, (1.05, 0.5, 0.0), (-0.7, 2.0, 0.0), (0.0, -3.1, 0.0)])
def test_the_velocity_against_the_ship_is_the_rate_of_the_place(origin):
    def at(time: np.ndarray) -> Geometry:
        return Geometry(moving(time), site.load("wintermere"), aircraft.load("sandlark"), Ground(origin))

    time, step = np.linspace(0.0, 25.0, 11), 1e-3
    rate = (at(time + step).reference() - at(time - step).reference()) / (2.0 * step)
    assert at(time).relative_velocity() == pytest.approx(rate, abs=5e-5)
