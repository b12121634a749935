"""Recordings that show less: graded by what is there, and said what is not."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from deckward import scoring
from deckward.passes.model import Series
from support.synthetic_pass import NM, fly

STRICT = scoring.load("strict")
NEVER = (9e9, -9e9)


def test_without_angle_of_attack():
    card = scoring.score(fly(ball_deg=0.35, lost={"angle_of_attack_error": NEVER}), STRICT)
    assert card.shorthand == "(H)AW"
    assert card.not_judged == ("angle of attack: not in the recording",)


def test_what_was_not_seen_earns_no_best_grade():
    card = scoring.score(fly(heave_m=2.5, lost={"angle_of_attack_error": NEVER}), STRICT)
    assert card.grade.name == "OK"
    assert "not everything could be judged; OK underlined needs it" in card.reasons


def test_a_gap_is_not_bridged():
    lost = dict.fromkeys(("glide_slope_error", "line_up_offset", "line_up_error"), (800.0, 500.0))
    card = scoring.score(fly(ball_deg={900: 0.0, 650: 2.0, 480: 0.0}, lost=lost), STRICT)
    assert "IM" not in {item.position for item in card.deviations if item.quantity == "glide slope"}
    assert "glide slope in the middle: not in the recording" in card.not_judged
    assert "line-up in the middle: not in the recording" in card.not_judged


def test_a_short_gap_is():
    lost = {"glide_slope_error": (800.0, 740.0)}
    card = scoring.score(fly(ball_deg=0.35, lost=lost), STRICT)
    assert (card.shorthand, card.not_judged) == ("(H)AW", ())


def test_a_record_that_begins_late_says_so():
    card = scoring.score(fly(start_m=700.0), STRICT)
    assert card.not_judged == ("nothing at the start: the recording does not show it",)
    assert card.grade.name == "OK"


def test_a_late_roll_out_says_so():
    card = scoring.score(fly(groove_m=500.0, downwind=True), STRICT)
    assert card.not_judged == ("nothing in the middle: the groove began later",)


def test_too_little_to_grade():
    card = scoring.score(fly(start_m=200.0), STRICT)
    assert (card.grade.name, card.grade.points) == ("not graded", None)
    assert card.summary == "Trap, wire 3. Too little of the approach on record to judge."
    assert "could be judged" in card.reasons[0]


def test_an_outcome_that_is_not_known_is_not_graded():
    card = scoring.score(fly(outcome=None, end_m=600.0), STRICT)
    assert (card.grade.name, card.grade.symbol, card.grade.points) == ("not graded", "", None)
    assert card.grade.odds == {"not graded": 1.0}


def test_one_hertz_is_enough_for_what_lasts():
    assert scoring.score(fly(ball_deg=0.35, rate_hz=1.0), STRICT).shorthand == "(H)AW"


@pytest.mark.parametrize(
    "told",
    [
        {"start_m": 60.0, "end_m": 50.0, "outcome": None},
        {"start_m": 3 * NM, "end_m": 2.9 * NM, "outcome": None},
        {"start_m": 3 * NM, "end_m": 2.9 * NM, "outcome": "wave-off", "wave_off_m": 2.95 * NM},
        {"outcome": "wave-off", "wave_off_m": 1380.0},
        {"outcome": "ramp strike", "end_m": 0.0},
        {"rate_hz": 0.3},
        {"lost": {"range": NEVER}},
        {"lost": {"closure": NEVER}},
        {
            "lost": dict.fromkeys(
                ("glide_slope_error", "line_up_offset", "line_up_error", "sink", "roll"), NEVER
            )
        },
        {"lost": {"deck_heave": NEVER}},
        {"lost": {"glide_slope_error": (1000.0, -999.0)}},
        {"sigma": {"glide_slope_error": np.nan}},
        {"sigma": {"glide_slope_error": 0.0}, "correlation": {"glide_slope_error": 0.0}},
        {
            "sigma": {"glide_slope_error": 9.0, "line_up_offset": 900.0},
            "correlation": {"glide_slope_error": 1e-9},
        },
        {"groove_m": -10.0, "downwind": True},
        {"wire": None, "wire_odds": {}},
    ],
)
@pytest.mark.parametrize("name", scoring.bundled())
def test_nothing_crashes_and_the_odds_stay_odds(told, name):
    card = scoring.score(fly(**told), scoring.load(name), draws=20)
    assert sum(card.grade.odds.values()) == pytest.approx(1.0)
    assert card.grade.name in card.grade.odds
    assert card.summary.endswith(".") and card.look_at.endswith(".")


@pytest.mark.parametrize("samples", [0, 1, 2])
def test_next_to_no_samples(samples):
    flown = fly()
    kept = {
        name: getattr(flown.series, name)[:samples]
        for name in Series.__struct_fields__
        if isinstance(getattr(flown.series, name), np.ndarray)
    }
    card = scoring.score(replace(flown, series=replace(flown.series, **kept, contact=samples)), STRICT)
    assert card.grade.name == "not graded"


def test_a_pass_is_left_as_it_was():
    flown = fly(sigma={"glide_slope_error": 0.001})
    for name in Series.__struct_fields__:
        if isinstance(value := getattr(flown.series, name), np.ndarray):
            value.setflags(write=False)
    assert scoring.score(flown, STRICT).grade.name == "OK"
