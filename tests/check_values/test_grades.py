"""Grades, points, positions and groove against what was published, or is held in memory.

CNATRAINST 3740.9D and CNATRA P-1211 are publications of the Naval Air Training Command;
"public account" stands for what a naval aviator and a former landing signal officer wrote
in public. Rows from memory are marked so.
"""

from __future__ import annotations

import math

import pytest

from deckward import scoring
from deckward.scoring.measures import bottom_below, nominal_clearance
from support.synthetic_pass import DEG, FT, NM, SHIP, fly

RULEBOOKS = pytest.mark.parametrize("rulebook", [scoring.load(name) for name in scoring.bundled()])


@RULEBOOKS
@pytest.mark.parametrize(
    ("name", "symbol", "points", "source"),
    [
        ("OK underlined", "_OK_", 5.0, "value published, CNATRAINST 3740.9D; pairing from memory"),
        ("OK", "OK", 4.0, "public account; 4.0 also in CNATRAINST 3740.9D"),
        ("fair", "(OK)", 3.0, "public account"),
        ("no grade", "-", 2.0, "published, CNATRAINST 3740.9D"),
        ("cut", "C", 0.0, "from memory"),
        ("bolter", "B", 2.5, "public account"),
        ("pattern wave-off", "WOP", 2.0, "published, CNATRAINST 3740.9D"),
        ("technique wave-off", "WO", 1.0, "entry published, CNATRAINST 3740.9D; pairing from memory"),
        ("foul-deck wave-off", "WOFD", None, "not scored, from memory"),
        ("own wave-off", "OWO", None, "not scored, from memory"),
    ],
)
def test_points(rulebook, name, symbol, points, source):
    everything = (*rulebook.grades, rulebook.bolter, *rulebook.wave_offs.values())
    (found,) = (grade for grade in everything if grade.name == name)
    assert (found.symbol, found.points) == (symbol, points)
    assert ("published" in found.source or "public account" in found.source) == (
        "published" in source or "public account" in source
    )
    assert ("from memory" in found.source) == ("from memory" in source)


@RULEBOOKS
def test_a_pattern_wave_off_is_worth_a_no_grade(rulebook):
    """Published, CNATRAINST 3740.9D: the same value."""
    assert rulebook.wave_offs["pattern"].points == rulebook.grades[rulebook.rung("no grade")].points


@RULEBOOKS
@pytest.mark.parametrize(
    ("code", "far_m", "near_m"),
    # letters: a former landing signal officer's public account; distances from memory
    [
        ("X", 0.75 * NM, 0.5 * NM),
        ("IM", 0.5 * NM, 0.25 * NM),
        ("IC", 0.25 * NM, 300 * FT),
        ("AR", 300 * FT, 0.0),
    ],
)
def test_positions(rulebook, code, far_m, near_m):
    bounds = rulebook.position(code)
    assert (bounds.start, bounds.end) == pytest.approx((far_m, near_m))


@pytest.mark.parametrize(
    ("seconds", "shorthand"), [(15.5, ""), (17.5, ""), (14.0, "(NESA)"), (19.5, "(LIG)")]
)
def test_a_groove_of_15_to_18_seconds_draws_no_remark(seconds, shorthand):
    """Published, CNATRA P-1211: 15 to 18 s from wings level to touchdown."""
    flown = fly(downwind=True, groove_m=52.0 * seconds - 70.0)
    assert flown.groove.seconds == pytest.approx(seconds)
    assert scoring.score(flown, scoring.load("strict")).shorthand == shorthand


def test_clearance_over_the_ramp():
    """Derived: 230 ft times tan 3.5 deg is 14.067 ft; the lower edge of 0.75 deg at 500 ft leaves 7.5 ft."""
    from msgspec.structs import replace

    lens = replace(
        SHIP.lens, hook_target=230 * FT, basic_angle=3.5 * DEG, cells=5, cell=0.3 * DEG, red_cells=1
    )
    site = replace(SHIP, lens=lens)
    assert nominal_clearance(site) / FT == pytest.approx(14.067, abs=0.001)
    assert bottom_below(site) == pytest.approx(0.75 * DEG)
    left = nominal_clearance(site) / FT - 500 * math.tan(bottom_below(site))
    assert left == pytest.approx(7.5, abs=0.05)
    # between the two bounds of the strict rulebook: no grade, not yet a cut
    rules = {rule.name: rule for rule in scoring.load("strict").safety}
    part = left * FT / nominal_clearance(site)
    assert (
        rules["hook dangerously low over the ramp"].limit.value
        < part
        < rules["hook low over the ramp"].limit.value
    )
