"""A height that comes late is found out by the moment the path bends.

The paths are worked out here from airspeed, attitude and angle of attack by the climb angle of
flight mechanics, sin(climb) = cos a sin p - sin a cos r cos p without sideslip (textbook form, from
memory), integrated a hundred times finer than they are recorded.
"""

import numpy as np
import pytest

from deckward.foundation.track import Track
from deckward.passes.finder import Window
from deckward.passes.lateness import Lateness, lateness, made_good

LANDS, ENDS = 20.0, 22.0
PASS = Window(start=0.0, entry=2.0, end=ENDS, abeam=None)


def flown(*, late=0.0, tilted=0.0, rate=20.0, noise=0.0, roll=0.02, seed=1, without=()) -> Track:
    """A recording of an approach that meets the deck at 20 s, its height ``late`` s behind the rest, its
    pitch ``tilted`` s."""
    rng = np.random.default_rng(seed)
    fine = np.arange(-1.0, ENDS + 0.1, 1e-3)
    down = np.clip((fine - LANDS) / 0.25, 0.0, 1.0)
    pitch = np.radians(5.0 + 0.4 * np.sin(0.7 * fine) - 2.0 * np.clip(fine - LANDS, 0.0, 1.0))
    climb = np.radians(-3.2 + 0.3 * np.sin(0.9 * fine + 1.0)) * (1.0 - down)
    speed = np.full(fine.size, 66.0) - 8.0 * np.clip(fine - LANDS, 0.0, 2.0)
    attack = pitch - climb
    for _ in range(4):  # the angle of attack that makes this climb angle at this roll
        here = np.cos(attack) * np.sin(pitch) - np.sin(attack) * np.cos(roll) * np.cos(pitch)
        attack += (here - np.sin(climb)) / np.cos(climb)
    height = 60.0 + np.concatenate([[0.0], np.cumsum(speed * np.sin(climb))[:-1] * 1e-3])
    time = np.arange(0.0, ENDS, 1.0 / rate)
    channels = {
        "north": 66.0 * time,
        "east": 0.0 * time,
        "up": np.interp(time - late, fine, height) + rng.normal(0.0, noise, time.size),
        "pitch": np.interp(time - tilted, fine, pitch),
        "roll": np.full(time.size, roll),
        "angle_of_attack": np.interp(time, fine, attack),
        "true_airspeed": np.interp(time, fine, speed),
    }
    return Track("jet", time, {k: v for k, v in channels.items() if k not in without})


def told(seconds: float, sigma: float) -> Lateness:
    """A height so late, an attitude in time."""
    return Lateness(np.array([seconds, 0.0]), np.diag([sigma**2, 0.03**2]))


@pytest.mark.parametrize("rate", [10.0, 20.0, 50.0])
@pytest.mark.parametrize("late", [0.05, 0.1, 0.2, 0.35])
def test_lateness_of_a_quiet_height_is_found(late, rate):
    found = lateness(flown(late=late, rate=rate), [PASS])
    assert found.seconds[0] == pytest.approx(late, abs=0.008)
    assert found.sigma[0] < 0.015


@pytest.mark.parametrize("rate", [10.0, 20.0, 50.0])
def test_a_height_in_time_is_not_found_late(rate):
    found = lateness(flown(rate=rate), [PASS])
    assert found is None or abs(found.seconds[0]) < 0.008


@pytest.mark.parametrize("tilted", [0.0, 0.1, 0.2])
@pytest.mark.parametrize("late", [0.0, 0.1])
def test_lateness_of_an_attitude_is_told_from_that_of_a_height(late, tilted):
    found = lateness(flown(late=late, tilted=tilted), [PASS])
    assert found.seconds[0] == pytest.approx(late, abs=0.015)
    assert found.seconds[1] == pytest.approx(tilted, abs=0.03)


@pytest.mark.parametrize("roll", [-0.3, 0.3])
def test_a_bank_is_no_lateness(roll):
    assert lateness(flown(roll=roll), [PASS]).seconds[0] == pytest.approx(0.0, abs=0.008)


def test_sigma_tells_how_well_a_noisy_height_says_it():
    off = [
        (found.seconds[0] - late) / found.sigma[0]
        for seed in range(30)
        for late in (0.0, 0.15)
        if (found := lateness(flown(late=late, noise=0.3, seed=seed), [PASS]))
    ]
    assert len(off) >= 40
    assert 0.5 <= np.mean(np.abs(off) < 1.0) <= 0.9
    assert np.mean(np.abs(off) > 3.0) <= 0.05


def test_several_passes_say_it_better_than_one():
    one = flown(late=0.1, noise=0.3, seed=1)
    more = [flown(late=0.1, noise=0.3, seed=seed) for seed in range(2, 6)]
    time = np.concatenate([t.time + 100.0 * k for k, t in enumerate([one, *more])])
    all_of_it = Track("jet", time, {k: np.concatenate([t[k] for t in [one, *more]]) for k in one.channels})
    windows = [Window(100.0 * k, 2.0 + 100.0 * k, ENDS + 100.0 * k, None) for k in range(5)]
    together = lateness(all_of_it, windows)
    assert together.sigma[0] < lateness(one, [PASS]).sigma[0]
    assert abs(together.seconds[0] - 0.1) < 3.0 * together.sigma[0]


@pytest.mark.parametrize("missing", ["angle_of_attack", "true_airspeed", "pitch"])
def test_nothing_is_said_where_nothing_tells(missing):
    assert lateness(flown(late=0.1, without=(missing,)), [PASS]) is None


def test_nothing_is_said_where_channels_contradict_by_more_than_a_lateness():
    """An angle of attack that flies on where the height stops at the deck."""
    track = flown()
    flown_on = track["angle_of_attack"].copy()
    down = track.time > LANDS
    flown_on[down] = flown_on[np.flatnonzero(~down)[-1]]
    assert lateness(track.with_channels(angle_of_attack=flown_on), [PASS]) is None


def test_a_steady_path_says_nothing():
    track = flown()
    steady = {
        "up": 200.0 - 3.0 * track.time,
        "pitch": np.full(len(track), np.radians(5.0)),
        "roll": np.zeros(len(track)),
        "true_airspeed": np.full(len(track), 66.0),
        "angle_of_attack": np.full(len(track), np.radians(5.0) + np.arcsin(3.0 / 66.0)),
    }
    assert lateness(track.with_channels(**steady), [PASS]) is None


def test_spikes_in_the_height_are_passed_over():
    track = flown(late=0.1)
    up = track["up"].copy()
    up[[90, 210, 300]] += (40.0, -25.0, 60.0)
    assert lateness(track.with_channels(up=up), [PASS]).seconds[0] == pytest.approx(0.1, abs=0.01)


def test_a_late_height_is_moved_and_said():
    late, plain = flown(late=0.1), flown()
    moved, notes = made_good(late, lateness(late, [PASS]))
    known = np.isfinite(moved["up"])
    assert known.mean() > 0.98
    assert np.abs(moved["up"] - plain["up"])[known].max() < 0.05
    assert [note.code for note in notes] == ["late-height"]
    assert "0.10 s" in notes[0].text
    assert 0.0 < moved.sigma["late-height"] < 0.02


def test_a_height_that_is_not_late_is_left_alone():
    track = flown()
    for seconds, sigma in ((0.0, 0.003), (0.008, 0.003), (-0.2, 0.01)):
        moved, notes = made_good(track, told(seconds, sigma))
        assert np.array_equal(moved["up"], track["up"])
        assert np.array_equal(moved["pitch"], track["pitch"])
        assert not notes


def test_a_lateness_that_may_be_none_is_half_believed():
    """Between the two, the sigma holds both: late as it seems, and not late at all."""
    moved, _ = made_good(flown(), told(0.15, 0.07))
    assert 0.03 < moved.sigma["late-height"] < 0.15
