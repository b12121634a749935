"""Known histories to deviations, shorthand, words and grade."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from deckward import scoring
from deckward.errors import InputError
from support.synthetic_pass import DEG, JET, SHIP, fly

STRICT = scoring.load("strict")

#: title: the pass, its shorthand, its grade by the strict rulebook
HISTORIES = {
    "clean": ({}, "", "OK"),
    "clean, to a moving deck": ({"heave_m": 2.5}, "", "OK underlined"),
    "high start, taken off": ({"ball_deg": {1389: 0.7, 1100: 0.7, 950: 0.2, 600: 0}}, "HX NCIM", "OK"),
    "high start, stays a little high": (
        {"ball_deg": {1389: 0.7, 1150: 0.7, 950: 0.35, 380: 0.35, 100: 0.1}},
        "HX (H)IM-IC",
        "fair",
    ),
    "very high start, still high in the middle": (
        {"ball_deg": {1389: 1.0, 1150: 1.0, 950: 0.6, 800: 0.6, 480: 0.1, 0: 0}},
        "_H_X HIM",
        "fair",
    ),
    "low in the middle, taken off": (
        {"ball_deg": {1389: 0, 926: -0.22, 760: -0.45, 600: -0.45, 300: 0}},
        "LOIM NCIC",
        "OK",
    ),
    "settles in the middle": ({"ball_deg": {926: 0, 740: -0.55, 600: -0.55, 300: 0}}, "(S)IM LOIM", "fair"),
    "a little high all the way": ({"ball_deg": 0.35}, "(H)AW", "fair"),
    "a little high, more so in close": (
        {"ball_deg": {520: 0.35, 420: 0.52, 130: 0.52, 60: 0.4, 0: 0.35}},
        "(H)AW HIC",
        "fair",
    ),
    "a little fast all the way": ({"slow_deg": -0.9}, "(F)AW", "OK"),
    "slow in close": ({"slow_deg": {500: 0, 350: 1.4, 150: 1.4, 0: 0.4}}, "SLOIC", "fair"),
    "very slow late": ({"slow_deg": {500: 0, 350: 2.2, -70: 2.2}}, "_SLO_IC-AR", "no grade"),
    "lined up left, taken off": ({"right_m": {1389: -48, 1100: -40, 950: 0}}, "LULX NCIM", "OK"),
    "from left to right": (
        {"right_m": {1000: -30, 850: -30, 550: 14, 450: 6, 350: 0}},
        "(LUL)X LULIM _LTR_IM (LUR)IM-IC",
        "fair",
    ),
    "down through the path": (
        {"ball_deg": {926: 0.0, 700: 0.55, 420: 0.55, 220: -0.45, 0: -0.3}},
        "HIM-IC \\IC LOIC",
        "no grade",
    ),
    "up through the path": (
        {"ball_deg": {926: -0.5, 760: -0.5, 560: 0.4, 450: 0.15, 0: 0}},
        "LOX-IM (/)IM (H)IM",
        "fair",
    ),
    "settles at the ramp": ({"ball_deg": {250: 0.1, 110: 0.1, 0: -0.6}}, "(S)AR (LO)AR", "fair"),
    "settles through the path at the ramp": (
        {"ball_deg": {250: 0.3, 110: 0.3, 0: -0.8}},
        "(H)IM-IC _\\_AR LOAR",
        "no grade",
    ),
    "comes down at the ramp": (
        {"ball_deg": {463: 0, 300: 0.6, 110: 0.6, 0: 0.25}},
        "(C)IC HIC (CD)AR",
        "fair",
    ),
    "climbs at the ramp": ({"ball_deg": {110: 0, 0: 0.9}}, "(C)AR HAR", "fair"),
    "drifts left in close": (
        {"right_m": {420: 0, 100: -12, -70: -8}},
        "(DL)IC _LUL_IC-AR _LL_IW",
        "no grade",
    ),
    "landed right": ({"off_centre_m": 5.0}, "LRIW", "OK"),
    "wing down in close": ({"bank_deg": {300: 0, 250: -13, 120: -13, 95: 0}}, "LWDIC", "OK"),
    "floats into the wires": ({"touchdown_sink_mps": 1.0}, "NERDIW", "OK"),
    "hard into the wires": ({"touchdown_sink_mps": 6.2}, "_TMRD_IW", "no grade"),
    "long in the groove": ({"downwind": True, "groove_m": 1100.0}, "LIG", "OK"),
    "short in the groove": ({"downwind": True, "groove_m": 500.0}, "NESA", "OK"),
    "straight in: no groove to time": ({"groove_m": 1300.0}, "", "OK"),
    "overshot start": (
        {"downwind": True, "groove_m": 800.0, "right_m": {1250: -150, 1000: 70, 800: 20, 640: 0}},
        "OSX",
        "OK",
    ),
    "overshot start, never taken off": (
        {"downwind": True, "groove_m": 800.0, "right_m": {1250: -150, 1000: 40, 800: 30, 500: 15, 300: 0}},
        "(OSX) LURX-IC",
        "fair",
    ),
    "undershot start": (
        {"downwind": True, "groove_m": 800.0, "right_m": {1250: -150, 800: -36, 640: 0}},
        "USX",
        "OK",
    ),
    "first wire": ({"wire": 1}, "", "fair"),
}


@pytest.mark.parametrize("title", HISTORIES)
def test_a_known_history_reads_as_a_landing_signal_officer_would_write_it(title):
    told, shorthand, grade = HISTORIES[title]
    card = scoring.score(fly(**told), STRICT)
    assert (card.shorthand, card.grade.name) == (shorthand, grade)
    assert card.grade.odds == {grade: 1.0}  # nothing of these passes is uncertain


def test_a_deviation_carries_its_number_and_its_limit():
    (deviation,) = scoring.score(fly(ball_deg={1389: 0.7, 1100: 0.7, 950: 0.2, 600: 0}), STRICT).deviations
    assert (deviation.position, deviation.quantity, deviation.symbol) == ("X", "glide slope", "H")
    assert deviation.words == "high at the start"
    assert (deviation.intensity, deviation.unit) == (2, "rad")
    assert deviation.value == pytest.approx(0.7 * DEG, abs=1e-6)
    assert deviation.limit == pytest.approx(0.6 * DEG)
    # a plain deviation counts 2.5, the start 0.8
    assert deviation.weight == pytest.approx(2.0)


def test_values_and_limits_have_the_sign_of_their_quantity():
    card = scoring.score(
        fly(ball_deg=-0.3, slow_deg=-0.9, right_m={600: 0, 300: -7, 0: -7, -70: -7}, bank_deg={200: -9}),
        STRICT,
    )
    found = {(item.quantity, item.position): item for item in card.deviations}
    for key, unit in {
        ("glide slope", "IM"): "rad",
        ("angle of attack", "IM"): "rad",
        ("line-up", "IC"): "m",
        ("bank", "AR"): "rad",
        ("line-up", "IW"): "m",
    }.items():
        assert found[key].unit == unit
        assert found[key].value < found[key].limit < 0
    assert found["line-up", "IW"].value == -7.0


def test_a_deviation_must_be_held():
    step = 52.0 * 0.1  # metres that pass in a tenth of a second

    def bump(seconds):
        half = seconds / 2 * 52.0
        return {700 + half + step: 0.0, 700 + half: 0.9, 700 - half: 0.9, 700 - half - step: 0.0}

    def high(seconds):
        card = scoring.score(fly(ball_deg=bump(seconds)), STRICT)
        return [item.symbol for item in card.deviations if item.quantity == "glide slope"]

    assert high(0.6) == []
    assert high(1.6) == ["H"]


def test_a_heaving_deck_is_no_motion_of_the_jet():
    heave, period = 2.5, 9.0  # the synthetic deck's

    def ball(distance):
        time = 100.0 + (1.2 * 1852.0 - distance) / 52.0
        return -math.degrees(heave * math.sin(2 * math.pi * time / period) / (distance + 125.0))

    moved_by_the_deck = {float(d): ball(d) for d in range(-60, 700, 4)}
    moving = scoring.score(fly(ball_deg=moved_by_the_deck, heave_m=heave), STRICT)
    still = scoring.score(fly(ball_deg=moved_by_the_deck), STRICT)
    assert "path rate" in {item.quantity for item in still.deviations}
    assert "path rate" not in {item.quantity for item in moving.deviations}


@pytest.mark.parametrize(
    ("told", "says"),
    [
        ({}, "Trap, wire 3. Nothing outside the limits."),
        ({"ball_deg": {1050: 0, 800: 0.3, 480: 0.3, 300: 0}}, "Trap, wire 3. A little high in the middle."),
        (
            {"ball_deg": {1100: 0.25, 850: 0.6, 700: 0.6, 480: 0, 420: 0, 290: -0.4, 200: -0.3, 0: 0}},
            "Trap, wire 3. High in the middle, flew down through the glide path in close, low in close.",
        ),
        (
            {"right_m": {1389: -48, 1100: -40, 950: 0}},
            "Trap, wire 3. Lined up left at the start, corrected in the middle.",
        ),
        ({"slow_deg": -0.9}, "Trap, wire 3. A little fast all the way."),
        ({"wire": 2, "wire_odds": {"2": 0.97, "3": 0.03}}, "Trap, wire 2. Nothing outside the limits."),
        ({"wire": 2, "wire_odds": {"2": 0.6, "3": 0.4}}, "Trap, wire 2 or 3. Nothing outside the limits."),
        ({"outcome": "bolter", "flags": ("hook skip",)}, "Bolter, hook skip. Nothing outside the limits."),
        ({"outcome": "touch-and-go"}, "Touch and go. Nothing outside the limits."),
        ({"outcome": "wave-off", "wave_off_m": 300.0}, "Wave-off in close. Nothing outside the limits."),
        (
            {"outcome": "outside", "right_m": {250: 0, -70: 20}, "off_centre_m": 20.0},
            "Met the deck outside the landing area. Drifted right fast at the ramp, "
            "lined up far right at the ramp, landed far right in the wires.",
        ),
    ],
)
def test_the_pass_in_one_line(told, says):
    assert scoring.score(fly(**told), STRICT).summary == says


@pytest.mark.parametrize(
    ("told", "says"),
    [
        ({}, "Nothing beyond the rulebook's limits."),
        (
            {"ball_deg": {463: 0, 400: -0.42, 200: -0.42, 100: 0}},
            "Low in close: 0.42 deg (3.0 cells) below the path, 1210 ft from the ramp.",
        ),
        (
            {"slow_deg": {280: 0, 250: 1.5, 100: 1.5, 60: 0}},
            "Slow in close: 1.5 deg above on speed, 680 ft from the ramp.",
        ),
        (
            {"right_m": {463: 0, 400: -7, 200: -7, 100: 0}},
            "Lined up left in close: 23 ft left of the centreline, 1210 ft from the ramp.",
        ),
        ({"off_centre_m": 5.0}, "Landed right in the wires: 16 ft right of the centreline, over the deck."),
        (
            {"touchdown_sink_mps": 1.0},
            "Not enough rate of descent in the wires: 7 ft/s less than the path asks, over the deck.",
        ),
        ({"downwind": True, "groove_m": 1100.0}, "Long in the groove: 23 s from wings level to the deck."),
    ],
)
def test_the_one_thing_to_look_at(told, says):
    assert scoring.score(fly(**told), STRICT).look_at == says


@pytest.mark.parametrize(
    ("told", "grade", "because"),
    [
        (
            {"ball_deg": {600: 0, 330: -0.62, 150: -0.62, 60: 0}},
            "no grade",
            "red ball continued into the wave-off window",
        ),
        ({"ball_deg": {600: 0, 300: -0.95, 120: -0.95, 0: -0.5}}, "cut", "ball off the bottom of the lens"),
        ({"ball_deg": {100: 0, 40: -0.55, 0: -0.55}}, "no grade", "low late, at the ramp"),
        ({"ball_deg": {250: 0.1, 110: 0.1, 0: -0.75}}, "no grade", "settle at the ramp"),
        ({"ball_deg": {40: 0, 0: -0.9}}, "no grade", "hook low over the ramp"),
        ({"ball_deg": {25: 0, 0: -1.5}}, "cut", "hook dangerously low over the ramp"),
        ({"right_m": {250: 0, 90: -9, -70: -9}}, "no grade", "far left of the centreline"),
    ],
)
def test_safety_rules_hold_the_grade_down(told, grade, because):
    card = scoring.score(fly(**told), STRICT)
    assert card.grade.name == grade
    assert any(reason.startswith(because) and f"{grade} at best" in reason for reason in card.reasons)


def test_a_safety_rule_holds_a_bolter_down_too():
    fine = scoring.score(fly(outcome="bolter"), STRICT)
    red = scoring.score(fly(outcome="bolter", ball_deg={600: 0, 330: -0.62, 150: -0.62, 60: 0}), STRICT)
    assert (fine.grade.name, fine.grade.points) == ("bolter", 2.5)
    assert (red.grade.name, red.grade.points) == ("no grade", 2.0)


@pytest.mark.parametrize("outcome", ["ramp strike", "outside"])
def test_a_strike_and_a_landing_outside_are_cuts(outcome):
    card = scoring.score(fly(outcome=outcome), STRICT)
    assert (card.grade.name, card.grade.points, card.grade.odds) == ("cut", 0.0, {"cut": 1.0})


@pytest.mark.parametrize(
    ("reason", "name", "symbol", "points"),
    [
        (None, "wave-off", "WO", None),
        ("technique", "technique wave-off", "WO", 1.0),
        ("pattern", "pattern wave-off", "WOP", 2.0),
        ("foul deck", "foul-deck wave-off", "WOFD", None),
        ("own", "own wave-off", "OWO", None),
    ],
)
def test_only_a_reason_settles_a_wave_off(reason, name, symbol, points):
    grade = scoring.score(fly(outcome="wave-off", wave_off_m=300.0), STRICT, reason=reason).grade
    assert (grade.name, grade.symbol, grade.points) == (name, symbol, points)


def test_a_reason_says_nothing_of_a_pass_that_was_not_waved_off():
    assert scoring.score(fly(), STRICT, reason="technique").grade.name == "OK"
    touched = fly(outcome="bolter", flags=("touched after wave-off",))
    assert scoring.score(touched, STRICT).grade.name == "bolter"
    assert scoring.score(touched, STRICT, reason="technique").grade.name == "technique wave-off"


def test_an_unknown_reason_is_refused():
    with pytest.raises(InputError, match="Give one of: technique, pattern, foul deck, own"):
        scoring.score(fly(), STRICT, reason="bad luck")


def test_nothing_after_the_wave_off_is_judged():
    dives_later = {320: 0.0, 250: -1.5, 0: -1.5}
    card = scoring.score(fly(outcome="wave-off", wave_off_m=330.0, ball_deg=dives_later), STRICT)
    assert card.deviations == () and card.not_judged == ()


def test_practice_ashore_is_graded_as_a_pass():
    assert scoring.score(fly(outcome="touch-and-go", ball_deg=0.35), STRICT).grade.name == "fair"
    assert scoring.score(fly(outcome="landing"), STRICT).grade.points == 4.0


def test_thresholds_in_bands_follow_the_aircraft():
    card = scoring.score(fly(slow_deg=0.9), STRICT)
    assert card.shorthand == "(SLO)AW"
    wide = replace(JET, band=(6.8 * DEG, 9.2 * DEG), slight_band=(6.0 * DEG, 10.0 * DEG))
    assert scoring.score(fly(slow_deg=0.9, aircraft=wide), STRICT).shorthand == ""


def test_the_red_ball_follows_the_lens():
    five_cells = replace(SHIP, lens=replace(SHIP.lens, cells=5, cell=0.3 * DEG, red_cells=1))
    low = {600: 0, 330: -0.5, 150: -0.5, 95: 0}
    red = "red ball continued into the wave-off window: no grade at best"
    assert red in scoring.score(fly(ball_deg=low, site=five_cells), STRICT).reasons
    assert red not in scoring.score(fly(ball_deg=low), STRICT).reasons
