"""Airwakes from files, deck motions by seed, and the edges of both."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.environment import airwake, sea, turbulence
from deckward.errors import InputError


def test_every_bundled_airwake_is_read_and_says_where_it_is_from():
    for name, told in airwake.bundled().items():
        made = airwake.load(name)
        assert made.source == told
        assert made.steady(-5000.0) == (0.0, 0.0)


def test_an_airwake_of_ones_own_replaces_the_tables(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(
        'name = "Mine"\nsource = "measured"\n'
        "[steady]\nrange_m = [0, 100]\nalong_over_wind = [0.1, 0.0]\nup_over_wind = [-0.1, 0.0]\n"
        "[random]\nrange_m = [0, 100]\nsigma_over_wind = [0.1, 0.0]\ntime_s = [2, 3]\n",
        encoding="utf-8",
    )
    along, up = airwake.load(path).steady(50.0)
    assert (along, up) == pytest.approx((0.05, -0.05))


@pytest.mark.parametrize(
    ("old", "new", "key", "problem"),
    [
        ("range_m = [-60, -30,", "range_m = [-30, -60,", "steady.range_m", "do not rise"),
        ("up_over_wind = [-0.0006,", "up_over_wind = [", "steady.up_over_wind", "a list of 19"),
        ("[random]", "[gusts]", "gusts", "unknown key"),
        ("time_s = [2.0,", "time_s = [0,", "random.time_s", "out of range"),
    ],
)
def test_a_bad_airwake_is_refused(tmp_path, old, new, key, problem):
    text = airwake.source("usual")
    assert old in text
    path = tmp_path / "bad.toml"
    path.write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        airwake.load(path)
    told = next(line for line in str(caught.value).splitlines() if key in line)
    assert problem in told


def test_the_same_seed_moves_the_deck_the_same():
    def at(seed):
        motion = sea.deck_motion(sea.sea_state(6), sea.Hull(), speed=8.0, heading=np.pi, seed=seed)
        return motion.at(np.linspace(0.0, 60.0, 50))

    assert np.array_equal(at(3), at(3))
    assert not np.allclose(at(3), at(4))


def test_a_motion_is_scaled_to_what_is_wanted():
    motion = sea.deck_motion(sea.sea_state(5), sea.Hull(), speed=8.0, heading=np.pi, seed=1)
    wanted = sea.scaled(motion, pitch=0.01, heave=1.0)
    assert 2.0 * wanted.sigmas()[:2] == pytest.approx([1.0, 0.01])
    assert wanted.sigmas()[2] == motion.sigmas()[2]


def test_one_wave_stands_for_itself():
    motion = sea.regular_motion(pitch=0.0175, period=10.0, seed=2)
    assert motion.pitch_wave() == pytest.approx((0.0175, 2 * np.pi / 10.0))
    assert motion.at(np.linspace(0, 10, 1001))[1].max() == pytest.approx(0.0175, rel=1e-4)
    assert sea.still_deck().pitch_wave()[0] == 0.0


def test_a_beam_sea_rolls_and_does_not_pitch():
    _, pitch, roll = sea.response(0.35, sea.Hull(), speed=0.0, heading=np.pi / 2)
    assert pitch < 1e-6 < roll


def test_the_medium_sea_of_the_papers():
    motion = sea.medium_sea_motion()
    heave, pitch, _ = motion.at(0.0)
    assert (heave, pitch) == pytest.approx((0.0, 0.0), abs=1e-12)
    assert motion.at(np.pi / 2 / 0.6)[0] == pytest.approx(1.22 + 0.305 * np.sin(np.pi / 6), abs=1e-9)


def test_still_air_has_no_gusts():
    assert not turbulence.gust_series(turbulence.still(), np.ones((5, 3))).any()


def test_wind_is_held_near_the_surface():
    low, lower = (float(turbulence.wind_at(h, wind_20ft=10.0)) for h in (0.3, 0.0))
    assert low == lower > 0.0
