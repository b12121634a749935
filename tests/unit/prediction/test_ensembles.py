"""Many passes by chance: the same on any number of threads, compiled or not, and what they say."""

from __future__ import annotations

import math

import numpy as np
import pytest

from deckward import aircraft, site
from deckward.environment import sea
from deckward.prediction import State, chance, model_of
from deckward.prediction.ensemble import OUTCOMES, Passes, compiled, fly_passes
from deckward.prediction.following import Population, Record, follow
from deckward.prediction.odds import (
    Scatter,
    last_safe_wave_off,
    odds_from,
    share,
    study,
    wave_off_clears,
)
from deckward.prediction.scene import NIGHT, Officer, Pilot
from deckward.prediction.setting import Conditions
from support.predicted import DT, NOBODY, STEADY_HANDS, made, rough_day


def same(one: Passes, other: Passes, tolerance=0.0):
    return all(
        np.allclose(getattr(one, name), getattr(other, name), rtol=0, atol=tolerance, equal_nan=True)
        for name in Passes.__struct_fields__
    )


@pytest.fixture
def in_arrays(monkeypatch):
    monkeypatch.setenv("DECKWARD_COMPILED", "0")


def many(states, count):
    return State(*(np.repeat(column, count) for column in states))


@pytest.fixture(scope="module")
def rough():
    scene, states = made(pilot=Pilot(), officer=Officer(), ranges=(700.0,), **rough_day())
    return scene, many(states, 60)


def test_counted_chance_is_normal_and_uncorrelated():
    with np.errstate(over="ignore"):
        keys = chance.keys(5, 0, 20_000)
        first, second = (chance.normal(keys, np.uint64(n)) for n in (0, 1))
        paired = chance.pair(keys, np.uint64(2))
        even = chance.uniform(keys, np.uint64(3))
    for draw in (first, second, *paired):
        assert (draw.mean(), draw.std()) == pytest.approx((0.0, 1.0), abs=0.02)
    assert abs(np.corrcoef(first, second)[0, 1]) < 0.02
    assert abs(np.corrcoef(first[1:], first[:-1])[0, 1]) < 0.02
    assert 0.0 <= even.min() < 0.001 < 0.999 < even.max() < 1.0


def test_a_trajectory_has_its_own_chance_wherever_it_is_flown(rough, in_arrays):
    scene, starts = rough
    whole = fly_passes(scene, starts, seed=7, dt=DT)
    late = fly_passes(scene, State(*(column[40:] for column in starts)), seed=7, dt=DT, first=40)
    assert np.array_equal(whole.touch_x[40:], late.touch_x, equal_nan=True)
    assert not np.array_equal(whole.touch_x[:20], late.touch_x, equal_nan=True)


def test_compiled_and_arrays_tell_the_same(rough, monkeypatch):
    pytest.importorskip("numba")
    scene, starts = rough
    machine = fly_passes(scene, starts, seed=3, dt=DT, threads=1)
    assert compiled() is not None
    monkeypatch.setenv("DECKWARD_COMPILED", "0")
    assert same(machine, fly_passes(scene, starts, seed=3, dt=DT), 1e-9)


def brought(scene, states, count):
    """Pilots of a population who bring what they have in mind."""
    looks = State(*(np.repeat(column[:1], 30) for column in states))
    looks = looks._replace(x=looks.x - looks.vx * 0.1 * np.arange(30)[::-1])
    record = Record(looks, np.arange(30) * 0.1, looks.pitch - np.arctan2(looks.vz, looks.vx + 12.5))
    spread = (("height_gain", 0.3), ("delay", 0.4), ("aim", 0.5))
    return follow(
        scene,
        record,
        np.array([29]),
        population=Population(Pilot(), spread),
        count=count,
        particles=80,
        dt=DT,
    )


def test_pilots_with_a_memory_fly_the_same_compiled_and_in_arrays(rough, monkeypatch):
    pytest.importorskip("numba")
    scene, starts = rough
    crew = brought(scene, starts, 60).crew()
    machine, threads = (fly_passes(scene, starts, seed=3, dt=DT, threads=n, crew=crew) for n in (1, 3))
    assert same(machine, threads)
    monkeypatch.setenv("DECKWARD_COMPILED", "0")
    assert same(machine, fly_passes(scene, starts, seed=3, dt=DT, crew=crew), 1e-9)
    assert not same(machine, fly_passes(scene, starts, seed=3, dt=DT), 1e-3)


def test_an_officer_who_only_looks_on_calls_and_lets_fly(in_arrays):
    scene, states = made(officer=Officer(acts=0.0), ranges=(700.0,))
    low = states._replace(z=states.z - 16.0)
    seen = fly_passes(scene, low, seed=0, dt=DT)
    assert seen.called[0] == 1 and OUTCOMES[seen.outcome[0]] != "wave-off"
    odds = odds_from(scene, low, count=20, seed=1)
    assert odds.called[0] == 1.0 and odds.wave_off[0] == 0.0
    assert wave_off_clears(scene, low, count=20)[0] == 1.0


def test_any_number_of_threads_tells_the_same(rough):
    pytest.importorskip("numba")
    scene, starts = rough
    one, three = (fly_passes(scene, starts, seed=3, dt=DT, threads=n) for n in (1, 3))
    assert same(one, three)


@pytest.mark.parametrize("name", ["sandlark", "stormcote"])
@pytest.mark.parametrize("ship", ["wintermere", "corrie-vane"])
def test_steady_hands_in_still_air_meet_the_hooks_target(name, ship, in_arrays):
    """The commanded path leads the hook there: geometry of lens, eye and hook, flown."""
    scene, states = made(name, ship=ship)
    flown = fly_passes(scene, states, seed=0, dt=DT)
    assert OUTCOMES[flown.outcome[0]] == "trap"
    target = site.load(ship).lens.hook_target
    # the pilot's threshold leaves some of the path's height
    assert flown.touch_x[0] == pytest.approx(target, abs=5.0)
    assert flown.ramp_height[0] == pytest.approx(target * scene.slope, abs=0.3)
    closure = states.vx[0]
    assert flown.touch_sink[0] == pytest.approx(closure * scene.slope, rel=0.03)


@pytest.mark.parametrize("name", ["sandlark", "stormcote"])
def test_the_step_is_fine_enough(name, in_arrays):
    """The hook's height at the ramp within 0.1 ft of a four times finer step, airwake and deck moving."""
    day = {"airwake": rough_day()["airwake"], "motion": sea.regular_motion(pitch=0.01, heave=0.8, seed=4)}
    heights = []
    for dt in (DT, DT / 4):
        scene, states = made(name, dt=dt, **day)
        # chance goes by the step: leave the airwake's random part out
        weather = scene.weather._replace(wake_sigma=0.0 * scene.weather.wake_sigma, wake_random=0.0)
        scene = scene._replace(weather=weather, pilot=scene.pilot._replace(delay=0.4))
        heights.append(fly_passes(scene, states, seed=2, dt=dt).ramp_height[0])
    assert heights[0] == pytest.approx(heights[1], abs=0.1 * 0.3048)


def test_low_is_struck_and_high_bolters(in_arrays):
    scene, states = made(ranges=(150.0,))
    low, high = (states._replace(z=states.z + by) for by in (-8.0, 9.0))
    assert OUTCOMES[fly_passes(scene, low, seed=0, dt=DT).outcome[0]] == "ramp strike"
    assert OUTCOMES[fly_passes(scene, high, seed=0, dt=DT).outcome[0]] in ("bolter", "wave-off")


def test_a_low_pass_is_waved_off_and_climbs_away(in_arrays):
    scene, states = made(officer=Officer(), ranges=(700.0,))
    flown = fly_passes(scene, states._replace(z=states.z - 16.0), seed=0, dt=DT)
    assert OUTCOMES[flown.outcome[0]] == "wave-off"
    assert flown.called[0] == 1 and flown.lowest[0] > 5.0


def test_odds_add_to_one_and_sharpen_towards_the_deck(in_arrays):
    scene, states = made(pilot=Pilot(), ranges=(600.0, 60.0), **rough_day())
    odds = odds_from(scene, states, count=60, seed=1)
    total = odds.trap + odds.bolter + odds.wave_off + odds.ramp_strike + odds.outside
    assert total == pytest.approx([1.0, 1.0])
    spread = odds.trap * (1 - odds.trap)
    assert spread[1] <= spread[0] + 0.05


def test_the_last_safe_wave_off_lies_between_far_and_the_ramp(in_arrays):
    ranges = (500.0, 300.0, 200.0, 160.0, 120.0, 80.0, 20.0)
    scene, states = made(pilot=Pilot(), ranges=ranges, **rough_day())
    clears = wave_off_clears(scene, states, count=40)
    assert clears[0] == 1.0 and clears[-1] == 0.0
    last = last_safe_wave_off(scene, states, count=200)
    assert last is not None and 100.0 <= ranges[last] <= 300.0
    assert last_safe_wave_off(scene, states, count=100, margin=60.0) is None


def test_a_lower_pass_must_be_waved_off_earlier(in_arrays):
    ranges = tuple(np.arange(400.0, 40.0, -30.0))
    scene, states = made(pilot=Pilot(), ranges=ranges)
    on_path = last_safe_wave_off(scene, states, count=100)
    low = last_safe_wave_off(scene, states._replace(z=states.z - 3.0), count=100)
    assert on_path is not None and (low is None or low < on_path)


def test_a_study_says_the_same_for_the_same_seed(in_arrays):
    model, ship = model_of(aircraft.load("sandlark")), site.load("corrie-vane")

    def told(seed, pilot=None):
        return study(model, ship, Conditions(), count=60, seed=seed, start_range=700.0, pilot=pilot)

    one, again, other = told(1), told(1), told(2)
    assert one.shares == again.shares and one.touch_x == again.touch_x
    assert one.touch_x != other.touch_x
    assert sum(part.value for part in one.shares.values()) == pytest.approx(1.0)
    assert sum(part.value for part in one.wires.values()) == pytest.approx(one.shares["trap"].value)
    assert told(1, NIGHT).touch_y[1] > one.touch_y[1]


def test_scattered_starts_scatter(in_arrays):
    model, ship = model_of(aircraft.load("sandlark")), site.load("wintermere")
    day = Conditions(gusts="none")
    wide, none = (
        study(
            model, ship, day, pilot=STEADY_HANDS, officer=NOBODY, scatter=s, count=40, start_range=500.0
        ).ramp_height[1]
        for s in (Scatter(), Scatter(0.0, 0.0, 0.0))
    )
    assert none < 1e-9 < 0.2 < wide


def test_share_has_an_interval_that_holds_it():
    made_share = share(3, 40)
    assert 0.0 < made_share.low < made_share.value == 3 / 40 < made_share.high < 1.0
    assert share(40, 40).high == 1.0
    # worked by hand: Wilson's interval of 3 in 40 is 2.58 to 19.86 per cent
    assert (made_share.low, made_share.high) == pytest.approx((0.0258, 0.1986), abs=2e-4)


def test_an_inertial_lens_does_not_move_with_the_deck():
    from deckward.prediction import scene as kernel

    line, _ = made(ship="wintermere")
    held, _ = made(ship="corrie-vane")
    up = (1.0, 0.0, 0.0)
    for scene, moves in ((line, True), (held, False)):
        still, _ = kernel.ball(scene.deck, -500.0, 45.0, (0.0, 0.0, 0.0))
        lifted, _ = kernel.ball(scene.deck, -500.0, 45.0, up)
        assert bool(abs(lifted - still) > 1e-4) is moves
    # bow up by a degree, the ramp goes down by its distance behind the centre of pitch
    tilted = kernel.deck_height(line.deck, 0.0, 0.0, (0.0, math.radians(1.0), 0.0))
    assert tilted == pytest.approx(line.deck.ramp_x * math.radians(1.0), rel=1e-6)
