from __future__ import annotations

import math
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from deckward.errors import Note
from deckward.reports import words
from support import drawn_pass

DEG = math.pi / 180


@given(st.text())
def test_clean_text_cannot_steer_a_terminal(text):
    out = words.clean(text)
    assert not any(unicodedata.category(letter).startswith("C") for letter in out)
    assert "  " not in out and out == out.strip()


def test_clean_keeps_letters_of_every_script():
    assert words.clean("Zoë Łącka 美咲 Анна") == "Zoë Łącka 美咲 Анна"


def test_clean_stops_escape_sequences_and_turned_lines():
    assert words.clean("\x1b[31mred\u202eder") == "\ufffd[31mred\ufffdder"


def test_long_names_are_cut_and_empty_ones_named():
    assert len(words.called("x" * 500)) == words.LONGEST_NAME
    assert words.called("x" * 500).endswith("…")
    assert words.called(" \t ") == "unnamed"


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        (0.84, ("0.8", "high")),
        (-2.36, ("2.4", "low")),
        (0.04, ("0.0", "centred")),
        (-0.04, ("0.0", "centred")),
        (303.46, ("off", "high")),
        (-120.0, ("off", "low")),
        (99.96, ("100.0", "high")),
        (math.nan, ("–", "")),
        (None, ("–", "")),
    ],
)
def test_the_ball_is_told_as_high_or_low(cells, said):
    assert words.ball(cells) == said


@pytest.mark.parametrize(
    ("alpha_deg", "word"),
    [
        (8.0, "on speed"),
        (8.69, "on speed"),
        (8.71, "slightly slow"),
        (9.21, "slow"),
        (7.29, "slightly fast"),
        (6.79, "fast"),
    ],
)
def test_the_index_speaks_in_the_profiles_bands(alpha_deg, word):
    # the invented jet: on speed 8.0, band 7.3 to 8.7, wider band 6.8 to 9.2
    assert words.speed_word((alpha_deg - 8.0) * DEG, drawn_pass.JET) == word


def test_no_angle_of_attack_has_no_word():
    assert words.speed_word(None, drawn_pass.JET) == words.speed_word(math.nan, drawn_pass.JET) == ""


@pytest.mark.parametrize(
    ("chances", "said"),
    [
        ({"OK": 0.58, "Fair": 0.42}, "OK or Fair, 58 to 42"),
        ({"OK": 1.0}, ""),
        ({"OK": 0.96, "Fair": 0.04}, ""),
        ({"Fair": 0.5, "OK": 0.3, "No grade": 0.2}, "Fair 50 %, OK 30 %, No grade 20 %"),
        ({}, ""),
    ],
)
def test_odds_are_told_where_there_is_doubt(chances, said):
    assert words.odds(chances) == said


@pytest.mark.parametrize(
    ("seconds", "said"),
    [(0.0, "0:00:00"), (754.9, "0:12:34"), (90061.0, "25:01:01"), (1_700_000_000.0, "22:13:20 UTC")],
)
def test_the_recordings_time(seconds, said):
    # 1 700 000 000 s after the epoch is 2023-11-14 22:13:20 UTC (common knowledge)
    assert words.clock(seconds) == said


def test_a_sigma_that_rounds_to_nothing_is_told_as_below():
    assert words.spread(0.003, "ft", 1) == "± < 0.1"
    assert words.spread(0.3048, "ft", 1) == "± 1.0"
    assert words.spread(None, "ft", 1) == ""


@pytest.mark.parametrize(
    ("outcome", "wire", "said"),
    [
        ("trap", 2, "Trap, wire 2"),
        ("trap", None, "Trap"),
        (None, None, "Not told: the recording ends too early"),
        ("outside", None, "Touched outside the landing area"),
    ],
)
def test_the_headline_says_outcome_and_wire(outcome, wire, said):
    flown = replace(drawn_pass.good().flown, outcome=outcome, wire=wire)
    assert words.headline(flown) == said


def test_a_wire_in_the_air_and_flags_are_tags():
    flown = replace(drawn_pass.good().flown, wire_in_the_air=True, flags=("hook skip",))
    assert words.tags(flown) == ["wire taken in the air", "hook skip"]


def test_boarding_rate_leaves_out_wave_offs_that_nothing_explains():
    lines = {line.who: line for line in words.pilots(drawn_pass.session())}
    # Ines: a trap and a bolter; Sunniva: a wave-off without points and a trap
    assert words.boarding(lines["Ines Karvala"]) == "50 %, 1 of 2"
    assert words.boarding(lines["Sunniva Aldecourt"]) == "100 %, 1 of 1"
    assert lines["Ines Karvala"].mean_points == pytest.approx((4.0 + 2.5) / 2)
    assert words.uncounted(list(lines.values())).startswith("One wave-off is not")


def test_a_scored_wave_off_counts_against_the_boarding_rate():
    report = drawn_pass.wave_off()
    score = replace(report.score, grade=replace(report.score.grade, points=1.0))
    (line,) = words.pilots(drawn_pass.session(replace(report, score=score)))
    assert words.boarding(line) == "0 %, 0 of 1"


def test_notes_are_told_once():
    assert words.notes((Note("gap", "A gap."), Note("gap", "A gap."), Note("rate", "Slow."))) == [
        "A gap.",
        "Slow.",
    ]


def test_only_a_notable_doubt_stands_beside_the_ball():
    assert {row.doubt for row in words.rows(drawn_pass.good().flown)} == {""}
    assert {row.doubt for row in words.rows(drawn_pass.poor().flown)} == {"± 0.3"}


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("(LO.IM) _LO_.IC", [("(LO.IM) ", False), ("LO", True), (".IC", False)]),
        ("_OK_", [("OK", True)]),
        ("OK", [("OK", False)]),
        ("a_b", [("a_b", False)]),
        ("", []),
    ],
)
def test_a_lot_is_underlined(text, pieces):
    assert words.underlined(text) == pieces
