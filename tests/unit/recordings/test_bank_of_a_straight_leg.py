"""Which way a roll counts on a straight approach, by path, nose and gusts from the side.

A jet's path turns by g tan(roll) / V and by the side force of the wind that it meets askew; its nose comes
round into that wind. The flights are integrated from these equations, which any text on flight dynamics has.
"""

from __future__ import annotations

import numpy as np
import pytest

from deckward.recordings.recogniser import physics

G, SPEED, STEP = 9.80665, 68.0, 0.05


def flown(seed: int, *, rms_gust: float, rolls: float):
    """Time, motion, roll and heading of 50 s of a straight approach in gusts from the side."""
    rng = np.random.default_rng(seed)
    n = 1000
    roll = np.radians(rolls) * smooth(rng, n, 2.5)
    gust = rms_gust * smooth(rng, n, 1.5)
    course, heading = np.zeros(n), np.zeros(n)
    for i in range(n - 1):
        met = heading[i] - course[i] + gust[i] / SPEED  # the air comes from the left of the nose by this
        turn = G * np.tan(roll[i]) / SPEED + 0.12 * met
        course[i + 1] = course[i] + turn * STEP
        heading[i + 1] = heading[i] + (turn - 0.9 * met) * STEP
    time = STEP * np.arange(n)
    north = np.cumsum(SPEED * np.cos(2.5 + course)) * STEP
    east = np.cumsum(SPEED * np.sin(2.5 + course)) * STEP
    return physics.motion_in_plane(time, north, east), roll, 2.5 + heading


def smooth(rng, n, seconds):
    """Noise of one rms that goes on for about some seconds."""
    keep = np.exp(-STEP / seconds)
    out = np.zeros(n)
    for i in range(1, n):
        out[i] = keep * out[i - 1] + (1.0 - keep**2) ** 0.5 * rng.normal()
    return out


@pytest.mark.parametrize("turned", [1, -1])
@pytest.mark.parametrize("seed", range(12))
def test_the_sign_of_small_rolls_shows(seed, turned):
    """Rolls of a third of a degree in gusts of 1.5 m/s, written to a hundredth of a degree."""
    motion, roll, heading = flown(seed, rms_gust=1.5, rolls=0.35)
    written = turned * np.radians(np.round(np.degrees(roll), 2))
    bank = physics.bank(motion, written, np.radians(np.round(np.degrees(heading), 2)))
    assert turned * bank.odds > -2.0  # never the other way
    assert turned * bank.slope == pytest.approx(1.0, abs=3.5 * np.hypot(bank.sigma, 0.3))


def test_most_of_them_are_told_for_sure():
    odds = []
    for seed in range(40):
        motion, roll, heading = flown(seed, rms_gust=1.0, rolls=0.4)
        odds.append(physics.bank(motion, roll, heading).odds)
    assert np.mean(np.array(odds) > np.log(99.0)) > 0.75
    assert min(odds) > -np.log(9.0)


def test_a_roll_that_has_nothing_to_do_with_the_path_tells_nothing():
    for seed in range(20):
        motion, roll, heading = flown(seed, rms_gust=1.0, rolls=0.4)
        bank = physics.bank(motion, np.roll(roll, 400), heading)
        assert not (bank.likely and abs(bank.odds) > np.log(99.0) + np.log(9.0))


def test_without_anything_that_moves_nothing_is_said():
    motion, roll, heading = flown(1, rms_gust=0.0, rolls=0.4)
    assert physics.bank(motion, np.zeros_like(roll), heading).odds == 0.0
    assert physics.bank(motion, np.full_like(roll, np.nan), heading).odds == 0.0
