"""The grade's odds: resampling from the pass's own sigma."""

from __future__ import annotations

import math

import numpy as np
import pytest

from deckward import scoring
from deckward.scoring.resampling import resample
from support.synthetic_pass import DEG, fly

STRICT = scoring.load("strict")
#: halfway between nothing and a little high: what an offset makes of it is a coin with two sides
CLOSE = {"ball_deg": 0.30}


def drawn(name, flown, draws=4000, **kwargs):
    copies = resample(flown, flown.series.time[0], flown.series.time[-1], draws=draws, seed=3, **kwargs)
    return getattr(copies, name)


@pytest.mark.parametrize("tau", [math.inf, 0.5, 3.0])
def test_copies_have_the_sigma_and_the_memory_that_the_pass_carries(tau):
    flown = fly(sigma={"glide_slope_error": 0.002}, correlation={"glide_slope_error": tau})
    ball = drawn("glide_slope_error", flown)
    usable = np.isfinite(ball[0])
    errors = (ball[1:] - ball[0])[:, usable]
    assert errors.std(axis=0) == pytest.approx(0.002, rel=0.06)
    assert abs(errors.mean(axis=0)).max() < 0.0002
    for lag in (1, 5, 15):  # of 0.2 s
        together = np.mean(errors[:, lag:] * errors[:, :-lag]) / 0.002**2
        assert together == pytest.approx(math.exp(-0.2 * lag / tau), abs=0.03)


def test_the_first_copy_is_the_estimate_itself():
    flown = fly(ball_deg={926: 0.4, 0: 0}, sigma={"glide_slope_error": 0.01, "line_up_offset": 3.0})
    ball = drawn("glide_slope_error", flown, draws=5)
    copies = resample(flown, 101.0, 130.0, draws=5, seed=1)
    expected = np.interp(copies.time, flown.series.time, flown.series.glide_slope_error)
    assert copies.glide_slope_error[0] == pytest.approx(expected)
    assert ball.shape[0] == 6


def test_an_error_of_the_eye_is_an_error_of_the_hook_the_same_way():
    flown = fly(sigma={"glide_slope_error": 0.002}, correlation={"glide_slope_error": 2.0})
    copies = resample(flown, 101.0, float(flown.series.time[-1]), draws=500, seed=1)
    at = np.searchsorted(copies.time, flown.ramp.time)
    errors = (copies.glide_slope_error[:, at] - copies.glide_slope_error[0, at]) / 0.002
    assert copies.ramp_error == pytest.approx(errors, abs=1e-4)


def test_a_line_up_error_is_the_same_in_metres_and_as_an_angle():
    flown = fly(sigma={"line_up_offset": 2.0}, correlation={"line_up_offset": math.inf})
    copies = resample(flown, 101.0, 140.0, draws=50, seed=1)
    lever = copies.range + flown.site.lens.hook_target
    moved = copies.line_up_offset - copies.line_up_offset[0]
    assert np.allclose((copies.line_up_error - copies.line_up_error[0]) * lever, moved)


def test_the_same_seed_gives_the_same_odds_and_another_seed_nearly():
    flown = fly(**CLOSE, sigma={"glide_slope_error": 0.06 * DEG})
    first, second, other = (scoring.score(flown, STRICT, seed=seed).grade.odds for seed in (1, 1, 2))
    assert first == second != other
    assert first["OK"] == pytest.approx(other["OK"], abs=0.12)


def test_a_poor_recording_says_how_poor_and_a_good_one_is_sure():
    uncertain = []
    for sigma_deg in (0.2, 0.05, 0.01, 0.001):
        card = scoring.score(fly(ball_deg=0.33, sigma={"glide_slope_error": sigma_deg * DEG}), STRICT)
        assert sum(card.grade.odds.values()) == pytest.approx(1.0)
        assert card.grade.odds[card.grade.name] == max(card.grade.odds.values())
        uncertain.append(1.0 - max(card.grade.odds.values()))
    assert uncertain == sorted(uncertain, reverse=True)
    assert uncertain[0] > 0.3 and uncertain[-1] == 0.0


def test_the_odds_are_told_in_words():
    card = scoring.score(fly(ball_deg=0.33, sigma={"glide_slope_error": 0.15 * DEG}), STRICT)
    said = scoring.odds_in_words(card.grade)
    assert said.count(" to ") >= 1 and " or " in said
    assert any(reason.startswith(said) for reason in card.reasons)
    assert scoring.odds_in_words(scoring.score(fly(), STRICT).grade) == "OK"
    half = scoring.model.Grade("OK", "OK", 4.0, {"OK": 0.6, "fair": 0.37, "cut": 0.03})
    assert scoring.odds_in_words(half) == "OK or fair, 62 to 38"


def test_an_uncertain_clearance_leaves_a_cut_possible():
    # the hook passes the ramp at 47 % of what the path gives; below 40 % is a cut
    certain = scoring.score(fly(ball_deg={30: 0, 0: -1.04}), STRICT)
    poor = scoring.score(fly(ball_deg={30: 0, 0: -1.04}, clearance_sigma_m=0.4), STRICT)
    assert certain.grade.odds == {"no grade": 1.0}
    # 0.30 m of 0.4 m: a normal deviate of 0.75 has 23 % beyond
    margin = (certain_clearance() - 0.4 * nominal()) / 0.4
    expected = 0.5 * math.erfc(margin / math.sqrt(2))
    assert poor.grade.odds["cut"] == pytest.approx(expected, abs=0.06)


def test_a_strike_that_is_not_sure_is_told_with_odds():
    deep = {"outcome": "ramp strike", "ball_deg": {600: 0, 0: -2.2}, "end_m": -20.0}
    sure = scoring.score(fly(**deep, clearance_sigma_m=0.01), STRICT)
    assert sure.grade.odds == {"cut": 1.0} and sure.reasons[0] == "ramp strike"
    poor = scoring.score(
        fly(ball_deg=-0.1, outcome="ramp strike", end_m=-20.0, clearance_sigma_m=3.0), STRICT
    )
    assert poor.grade.name == "cut"  # the outcome stands where geometry says nothing of it
    flown = fly(ball_deg={20: -0.1, 0: -2.2}, outcome="ramp strike", end_m=-20.0, clearance_sigma_m=1.0)
    below = 0.5 * math.erfc(flown.ramp.hook_to_ramp / math.sqrt(2))
    assert flown.ramp.hook_to_ramp < 0
    dangerously_low = 0.5 * math.erfc((flown.ramp.hook_to_ramp - 0.4 * nominal()) / math.sqrt(2))
    odds = scoring.score(flown, STRICT).grade.odds
    assert below < odds["cut"] == pytest.approx(dangerously_low, abs=0.06) and odds["cut"] < 1.0


def nominal():
    return 70.0 * math.tan(3.5 * DEG)


def certain_clearance():
    return fly(ball_deg={30: 0, 0: -1.04}).ramp.hook_to_ramp


def test_the_odds_of_the_wire_show():
    odds = scoring.score(fly(wire=4, wire_odds={"4": 0.8, "none": 0.2}), STRICT).grade.odds
    assert odds == pytest.approx({"OK": 0.8, "bolter": 0.2})
    odds = scoring.score(fly(wire=1, wire_odds={"1": 0.7, "2": 0.3}), STRICT).grade
    assert odds.name == "fair" and odds.odds == pytest.approx({"fair": 0.7, "OK": 0.3})


def test_a_recording_that_ends_at_touchdown_goes_by_where_the_hook_met_the_deck():
    card = scoring.score(fly(outcome=None, wire_odds={"3": 0.9, "4": 0.04, "none": 0.06}), STRICT)
    assert card.grade.name == "OK" and card.grade.odds == pytest.approx({"OK": 0.94, "bolter": 0.06})
    assert card.summary.startswith("Ends at touchdown, wire 3.")


def test_an_error_that_hides_a_plain_deviation_is_not_judged_by():
    card = scoring.score(fly(slow_deg=1.0, sigma={"angle_of_attack_error": 2.0 * DEG}), STRICT)
    assert card.deviations == ()
    assert card.not_judged == ("angle of attack: too uncertain",)
    assert card.grade.odds == {"OK": 1.0}


def test_the_odds_come_true():
    """Where a pass is flown at random and measured with a known error, p is how often it is so.

    The prior is flat, as the copies take it to be: the true ball lies anywhere over a
    range much wider than the error.
    """
    rng = np.random.default_rng(20)
    sigma, told, came = 0.12, [], []
    for seed in range(260):
        truth = rng.uniform(-0.75, 0.95)
        measured = truth + rng.normal(0.0, sigma)
        flown = fly(ball_deg=measured, rate_hz=5, sigma={"glide_slope_error": sigma * DEG})
        odds = scoring.score(flown, STRICT, draws=150, seed=seed).grade.odds
        real = scoring.score(fly(ball_deg=truth, rate_hz=5), STRICT, draws=0).grade.name
        for name in ("OK", "fair", "no grade"):
            told.append(odds.get(name, 0.0))
            came.append(name == real)
    told_, came_ = np.array(told), np.array(came, dtype=float)
    for low, high in ((0.0, 0.1), (0.1, 0.35), (0.35, 0.65), (0.65, 0.9), (0.9, 1.01)):
        here = (told_ >= low) & (told_ < high)
        assert here.sum() >= 15
        expected, seen = told_[here].mean(), came_[here].mean()
        assert seen == pytest.approx(expected, abs=3.0 * math.sqrt(0.25 / here.sum()) + 0.01)
