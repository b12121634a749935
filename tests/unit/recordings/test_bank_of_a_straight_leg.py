"""Which way a roll counts on a straight approach, by path, nose and gusts from the side.

A jet's path turns by g tan(roll) / V (the handbook's worked example is below) and by the side force of the
air that it meets askew; its nose comes round into that air. How strongly is made up here, and so are the
gusts: only the signs of both are general knowledge, from memory.
"""

from __future__ import annotations

import numpy as np
import pytest

from deckward.recordings.recogniser import physics

G, SPEED, STEP = 9.80665, 68.0, 0.05


def flown(seed: int, *, rms_gust: float, rolls: float, yaw: float = 0.0, answered: float = 0.0):
    """Motion, roll and heading of 50 s of a straight approach in gusts from the side.

    ``yaw`` swings the nose about, rad/s; ``answered`` is the share of the push from the side that comes of it
    which is rolled against at once.
    """
    rng = np.random.default_rng(seed)
    n = 1000
    roll = np.radians(rolls) * smooth(rng, n, 2.5)
    gust = rms_gust * smooth(rng, n, 1.5)
    swing = yaw * smooth(rng, n, 1.0)
    course, heading = np.zeros(n), np.zeros(n)
    for i in range(n - 1):
        met = heading[i] - course[i] + gust[i] / SPEED  # the air comes from the left of the nose by this
        roll[i] -= answered * 0.12 * (heading[i] - course[i]) * SPEED / G
        turn = G * np.tan(roll[i]) / SPEED + 0.12 * met
        course[i + 1] = course[i] + turn * STEP
        heading[i + 1] = heading[i] + (turn - 0.9 * met + swing[i]) * STEP
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


def test_rolls_against_a_slip_are_told_where_path_and_roll_alone_have_the_sign_wrong():
    """A jet that slips to one side with a wing down against it goes where the slip pushes it."""
    alone, parted = [], []
    for seed in range(30):
        motion, roll, heading = flown(seed, rms_gust=0.2, rolls=0.15, yaw=0.03, answered=0.5)
        alone.append(physics.turn_by_roll(motion, roll).slope)
        parted.append(physics.bank(motion, roll, heading).odds)
    assert np.mean(np.array(alone) < 0.0) > 0.9
    assert np.mean(np.array(parted) > 0.0) == 1.0


def test_the_turn_of_a_bank_is_the_handbooks():
    """TAS 288.7 kt, 21.6 deg of bank: a half circle in two minutes (handbook, table of holds; derived)."""
    time = np.arange(0.0, 120.0, 0.1)
    speed, rate = 288.7 * 1852.0 / 3600.0, np.pi / 120.0
    motion = physics.motion_in_plane(
        time, speed / rate * np.sin(rate * time), speed / rate * (1.0 - np.cos(rate * time))
    )
    fit = physics.turn_by_roll(motion, np.full(time.size, np.radians(21.6)))
    assert fit.slope == pytest.approx(1.0, abs=0.005)


def test_a_roll_that_has_nothing_to_do_with_the_path_tells_nothing():
    for seed in range(20):
        motion, roll, heading = flown(seed, rms_gust=1.0, rolls=0.4)
        bank = physics.bank(motion, np.roll(roll, 400), heading)
        assert not (bank.likely and abs(bank.odds) > np.log(99.0) + np.log(9.0))


def test_without_anything_that_moves_nothing_is_said():
    motion, roll, heading = flown(1, rms_gust=0.0, rolls=0.4)
    assert physics.bank(motion, np.zeros_like(roll), heading).odds == 0.0
    assert physics.bank(motion, np.full_like(roll, np.nan), heading).odds == 0.0
