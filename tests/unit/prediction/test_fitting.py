"""A pilot fitted to passes: his law against the one that flies, and his numbers found again.

The passes are the model's own with known hands. The flying law (``scene.fly_hands``) is another piece of
code than the one that is fitted (``answering``): they have to agree where there is no chance.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.special import ndtr

from deckward.errors import InputError
from deckward.prediction import STEP, Pilot, State, answering, fitting
from deckward.prediction.answering import EVERY, Law, Line
from deckward.prediction.ensemble import Crew, fly_tracks
from deckward.prediction.fitting import Flown, fit
from deckward.prediction.following import SHIFTED
from support.predicted import NOBODY, STEADY_HANDS, made, rough_day

#: a pilot unlike the usual one
OTHER = Pilot(
    delay=0.22, height_gain=0.028, rate_gain=0.22, climb_gain=0.16, settle_gain=0.002, aim=0.7,
    alpha_habit=-0.008, line_up_gain=0.09, line_up_rate_gain=0.7, hand_noise=0.008,
)  # fmt: skip


def flown(pilot: Pilot, count: int, seed: int, *, longest=25.0) -> list[Flown]:
    """Fly passes in rough air at a moving deck and record them to the ramp."""
    scene, states = made(pilot=pilot, officer=NOBODY, ranges=(1500.0,), **rough_day())
    rng = np.random.default_rng(seed)
    starts = State(*(np.repeat(column, count) for column in states))
    starts = starts._replace(
        z=starts.z + 2.0 * rng.normal(size=count), y=starts.y + 8.0 * rng.normal(size=count)
    )
    begins = rng.uniform(0.0, 500.0, count)
    tracks, levers = fly_tracks(
        scene, starts, seed=seed, dt=STEP, each=round(EVERY / STEP), longest=longest, begins=begins,
        threads=1, crew=Crew(pilots=Pilot._make(np.full(count, value) for value in pilot)),
    )  # fmt: skip
    out = []
    for i in range(count):
        until = int(np.sum(tracks.x[i] < -5.0))
        one = State(*(column[i, :until] for column in tracks))
        alpha = one.pitch - np.arctan2(one.vz, one.vx - scene.weather.along)
        out.append(Flown(scene, one, begins[i] + EVERY * np.arange(until), levers[i, :until], alpha))
    return out


@pytest.fixture(scope="module")
def passes():
    return flown(OTHER, 7, 5)


def test_without_chance_the_law_asks_for_what_the_flying_one_does():
    (one,) = flown(STEADY_HANDS._replace(delay=0.3, aim=0.5, settle_gain=0.002), 1, 1)
    pilot = one.scene.pilot
    line = fitting._power_line(one.scene, one.states, one.begins, one.lever, pilot.delay)
    mean, _ = answering.asked(line, fitting._power_law(pilot, one.scene))
    off = (line.hand - mean)[round(1.0 / EVERY) : -5]
    assert np.std(line.hand) > 10.0 * np.std(off)
    assert np.abs(off).max() < 0.01


def test_the_slopes_are_those_of_differences(passes):
    one = passes[0]
    line = fitting._power_line(one.scene, one.states, one.begins, one.lever, 0.3)
    law = fitting._power_law(OTHER, one.scene)
    _, slopes = answering.asked(line, law)
    _, spreads = answering.spread(line, law, constant=0.05, sample=0.002)
    for name in ("gain", "rate", "felt", "settle", "threshold", "eye", "aim"):
        value = getattr(law, name)
        up, down = (
            law._replace(**{name: value + h if name == "aim" else value * np.exp(h)}) for h in (1e-4, -1e-4)
        )
        change = (answering.asked(line, up)[0] - answering.asked(line, down)[0]) / 2e-4
        assert slopes[name] == pytest.approx(change, abs=1e-6 + 1e-3 * np.abs(change).max())
    for name in ("gain", "settle", "hand"):
        up, down = (law._replace(**{name: getattr(law, name) * np.exp(h)}) for h in (1e-4, -1e-4))
        change = sum(
            sign * answering.spread(line, one, constant=0.05, sample=0.002)[0]
            for sign, one in ((1.0, up), (-1.0, down))
        )
        assert spreads[name] == pytest.approx(change / 2e-4, abs=1e-3 * np.abs(change).max() / 2e-4)


def test_what_exceeds_a_threshold_by_chance_is_the_mean_of_many_draws():
    rng, wide, threshold = np.random.default_rng(3), 0.8, 0.6
    value = np.array([-2.0, -0.3, 0.1, 1.5])
    drawn = value[:, None] + wide * rng.normal(size=(4, 400_000))
    over = np.maximum(drawn - threshold, 0.0) + np.minimum(drawn + threshold, 0.0)
    mean, slope, _, _ = answering._beyond(value, np.full(4, wide), np.full(4, threshold))
    assert mean == pytest.approx(over.mean(axis=1), abs=0.006)
    assert slope == pytest.approx((np.abs(drawn) > threshold).mean(axis=1), abs=0.004)


def test_the_normal_distribution_is_anothers():
    value = np.linspace(-6.0, 6.0, 97)
    assert answering._below(value) == pytest.approx(ndtr(value), abs=2e-7)


def test_the_loop_answers_as_its_equation_does():
    """A second-order loop of 2 rad/s and 0.8, integrated by another's solver."""
    n, asked = 60, np.sin(0.9 * np.arange(60) * EVERY) + 0.3
    held = solve_ivp(
        lambda t, s: [s[1], 4.0 * (asked[min(int(t / EVERY + 1e-9), n - 1)] - s[0]) - 3.2 * s[1]],
        (0.0, 5.9), [0.0, 0.0], t_eval=np.arange(n) * EVERY, max_step=0.01, rtol=1e-8,
    )  # fmt: skip
    assert answering.loop(n, 2.0, 0.8) @ asked == pytest.approx(held.y[0], abs=2e-3)


def test_the_covariance_is_that_of_many_hands():
    """Hands drawn by the law's own noise, on a line where nothing is seen but errors of the eye."""
    n, zero = 80, np.zeros(80)
    line = Line(zero, zero, zero, np.linspace(900.0, 300.0, n), zero, zero, zero == 0.0)
    law = Law(0.3, 0.02, 0.1, 0.1, 0.002, 1e-9, 0.0015, 0.006, 0.0, 2.0, 0.6)
    whole, _ = answering.spread(line, law, constant=0.0, sample=0.0)
    rng, count = np.random.default_rng(4), 20_000
    eye, hand = rng.normal(size=(2, count))
    hands, total = np.empty((n, count)), np.zeros(count)
    for k in range(n):
        if k:
            for time, noise in ((2.0, eye), (0.6, hand)):
                keep = np.exp(-EVERY / time)
                noise *= keep
                noise += np.sqrt(1.0 - keep**2) * rng.normal(size=count)
        seen = law.eye * line.distance[k] * eye
        total = total + EVERY * seen
        hands[k] = law.hand * hand - law.gain * seen - law.settle * total
    assert np.cov(hands) == pytest.approx(whole, abs=0.05 * whole.max())


def test_a_pilot_unlike_the_usual_one_is_found_again(passes):
    """Within three sigma each, and the sigmas small enough to tell him from the usual one."""
    found = fit(passes, seed=2, drawn=160, threads=1)
    for name, sigma in found.sigma.items():
        told, true = getattr(found.pilot, name), getattr(OTHER, name)
        assert abs(told - true if name in SHIFTED else np.log(told / true)) < 3.0 * sigma, name
    usual = Pilot()
    for name in ("delay", "rate_gain", "climb_gain", "aim", "alpha_habit", "line_up_rate_gain"):
        true, other = getattr(OTHER, name), getattr(usual, name)
        apart = abs(true - other if name in SHIFTED else np.log(true / other))
        assert apart > 2.0 * found.sigma[name], name
    assert found.differ < 1.5
    assert all(np.var(did - told) < np.var(did) for did, told in found.lever)


def test_the_same_passes_make_the_same_pilot_on_any_number_of_threads(passes):
    pytest.importorskip("numba")
    few = passes[:4]
    one, three = (fit(few, seed=3, drawn=60, threads=n) for n in (1, 3))
    assert one.pilot == three.pilot and one.sigma == three.sigma


def test_two_pilots_who_take_turns_are_told_apart(passes):
    """Passes of unlike hands in one fit differ by more than chance, and the sigmas are wider for it."""
    mixed = [*passes[:4], *flown(Pilot(delay=0.5, rate_gain=0.1, climb_gain=0.05, aim=-1.0), 4, 6)]
    found = fit(mixed, seed=1, drawn=160, threads=1)
    assert found.differ > 2.0


def test_what_was_not_recorded_is_not_fitted(passes):
    bare = [one._replace(lever=None) for one in passes[:4]]
    found = fit(bare, seed=1, drawn=60, threads=1)
    assert "delay" not in found.sigma and "line_up_gain" in found.sigma and found.lever == ()
    assert found.pilot.rate_gain == Pilot().rate_gain
    with pytest.raises(InputError, match="neither throttle nor bank nor angle of attack"):
        fit([one._replace(alpha=None, banks=False) for one in bare])


def test_tracks_are_the_same_compiled_and_in_arrays(monkeypatch):
    pytest.importorskip("numba")
    (machine,) = flown(OTHER, 1, 3, longest=8.0)
    monkeypatch.setenv("DECKWARD_COMPILED", "0")
    (arrays,) = flown(OTHER, 1, 3, longest=8.0)
    assert machine.lever == pytest.approx(arrays.lever, abs=1e-9)
    assert machine.states.z == pytest.approx(arrays.states.z, abs=1e-9)
