"""What must hold of every pass, whatever its history."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deckward import scoring
from support.synthetic_pass import fly

RULEBOOKS = {name: scoring.load(name) for name in scoring.bundled()}
RANGES = (1389, 1150, 926, 700, 463, 250, 100, 0, -70)


def histories(most):
    values = st.lists(st.floats(-most, most), min_size=len(RANGES), max_size=len(RANGES))
    return values.map(lambda found: dict(zip(RANGES, found, strict=True)))


passes = st.fixed_dictionaries(
    {
        "ball_deg": histories(0.8),
        "right_m": histories(15.0),
        "slow_deg": histories(1.5),
        "bank_deg": histories(10.0),
    }
)
rulebooks = st.sampled_from(sorted(RULEBOOKS)).map(RULEBOOKS.__getitem__)
_PAIRS = [("LUL", "LUR"), ("DL", "DR"), ("LWD", "RWD"), ("LL", "LR")]
MIRRORED = dict(_PAIRS) | {right: left for left, right in _PAIRS}
quickly = partial(settings, deadline=None, max_examples=60)


def scaled(told: Mapping[str, Mapping[float, float]], by: float):
    return {name: {at: by * value for at, value in history.items()} for name, history in told.items()}


@quickly()
@given(told=passes, by=st.floats(1.0, 3.0), rulebook=rulebooks)
def test_larger_deviations_never_earn_a_better_grade(told, by, rulebook):
    before = scoring.score(fly(**told), rulebook, draws=0)
    after = scoring.score(fly(**scaled(told, by)), rulebook, draws=0)
    assert rulebook.rung(after.grade.name) >= rulebook.rung(before.grade.name)
    assert (
        sum(item.weight for item in after.deviations) >= sum(item.weight for item in before.deviations) - 1e-9
    )


@quickly()
@given(told=passes, rulebook=rulebooks)
def test_left_and_right_are_judged_alike(told, rulebook):
    mirrored = told | scaled({"right_m": told["right_m"], "bank_deg": told["bank_deg"]}, -1.0)
    one, other = (scoring.score(fly(**each), rulebook, draws=0) for each in (told, mirrored))
    assert one.grade == other.grade
    found = [
        sorted((item.position, item.symbol, item.intensity) for item in card.deviations)
        for card in (one, other)
    ]
    assert found[1] == sorted((code, MIRRORED.get(symbol, symbol), size) for code, symbol, size in found[0])


@quickly(max_examples=40)
@given(
    told=passes,
    rulebook=rulebooks,
    sigma=st.floats(1e-5, 0.02),
    tau=st.sampled_from([0.3, 2.0, math.inf]),
    wires=st.sampled_from([{}, {"3": 0.6, "4": 0.3, "none": 0.1}, {"1": 1.0}]),
)
def test_odds_are_odds(told, rulebook, sigma, tau, wires):
    names = ("glide_slope_error", "line_up_offset", "angle_of_attack_error", "sink", "roll")
    scales = dict(zip(names, (1.0, 300.0, 1.0, 50.0, 1.0), strict=True))
    flown = fly(
        **told,
        wire_odds=wires,
        sigma={name: sigma * scales[name] for name in names},
        correlation=dict.fromkeys(names, tau),
        clearance_sigma_m=sigma * 100,
    )
    grade = scoring.score(flown, rulebook, draws=60).grade
    assert sum(grade.odds.values()) == pytest.approx(1.0)
    assert all(0.0 < share <= 1.0 + 1e-9 for share in grade.odds.values())
    assert grade.odds[grade.name] == pytest.approx(max(grade.odds.values()))


@quickly(max_examples=40)
@given(told=passes, rulebook=rulebooks)
def test_a_pass_known_exactly_has_one_grade(told, rulebook):
    exact = scoring.score(fly(**told), rulebook, draws=0).grade
    drawn = scoring.score(fly(**told), rulebook, draws=40).grade
    assert exact == drawn and exact.odds == {exact.name: 1.0}


@quickly(max_examples=40)
@given(told=passes, rulebook=rulebooks)
def test_learners_are_graded_no_worse(told, rulebook):
    points = {
        name: scoring.score(fly(**told), each, draws=0).grade.points or 0.0
        for name, each in RULEBOOKS.items()
    }
    assert points["learners"] >= points["strict"]


@quickly()
@given(told=passes, rulebook=rulebooks)
def test_the_shorthand_says_the_worst_of_what_was_found(told, rulebook):
    card = scoring.score(fly(**told), rulebook, draws=0)
    worst = max((item.intensity for item in card.deviations), default=0)
    assert bool(card.shorthand) == bool(card.deviations)
    assert ("_" in card.shorthand) == (worst == 3)
