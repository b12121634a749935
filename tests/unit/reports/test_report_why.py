"""Findings and causes in words, and the ribbon under the approach."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from deckward import explanation, reports
from deckward.explanation.model import Contribution, Explanation, Finding
from deckward.reports import approach, terminal, why
from deckward.reports.model import PassReport, SessionReport
from deckward.reports.svg import Form
from support import drawn_pass

FOOT = 0.3048


def finding(title, cost=None, *, start=-8.0, end=-5.0, **evidence):
    return Finding("slow-held", title, start, end, "in close", 1.2, evidence, "Do it better.", cost)


@pytest.fixture
def session():
    return drawn_pass.session()


@pytest.fixture
def flown(session):
    return next(item.flown for item in session.passes if item.flown.outcome == "trap")


def explained(flown):
    at = flown.ramp.time
    parts = [Contribution("start", at - 12, at - 12, 2.0 * FOOT, 0.1)]
    for k in range(24):
        start = at - 12 + 0.5 * k
        parts.append(Contribution("power", start, start + 0.5, (-1.5 if 8 <= k < 12 else 0.01) * FOOT, 0.1))
        parts.append(Contribution("air", start, start + 0.5, (0.5 if k >= 20 else 0.0) * FOOT, 0.1))
    told = [
        finding(f"Fault {n}", -n * FOOT, start=at - 8, end=at - 6, mean_error_deg=1.3) for n in (6, 5, 4, 3)
    ]
    return Explanation(tuple(told), tuple(parts), 0.2 * FOOT)


def test_every_piece_of_evidence_has_words():
    """What a detector can put down as evidence, it can say."""
    found = set()
    for path in Path(explanation.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Hit":
                for table in (part for part in ast.walk(node) if isinstance(part, ast.Dict)):
                    found |= {key.value for key in table.keys if isinstance(key, ast.Constant)}
    assert "mean_error_deg" in found
    assert found - set(why._SAYS) - why.UNTOLD == set()


def test_evidence_is_told_in_trade_units_with_its_side_in_words(flown):
    cell = flown.site.lens.cell * 57.29578
    assert why.evidence(flown, "mean_error_deg", -1.34) == "1.3° fast on average"
    assert why.evidence(flown, "ball_deg", -2.0 * cell) == "ball 2.0 cells low"
    assert why.evidence(flown, "sink_more_fps", 5.0) == "sink 300 ft/min more"
    assert why.evidence(flown, "lowest_hook_ft", None) == ""
    assert why.evidence(flown, "limit_deg", 0.8) == ""


def test_places_are_miles_far_out_and_feet_near_the_ramp():
    assert why.span(930.0, 560.0) == "from 0.5 to 0.3 nm"
    assert why.span(930.0, 122.0) == "from 0.5 nm to 400 ft"
    assert why.span(122.0, 2.0) == "from 400 ft to the ramp"
    assert why.span(560.0, 555.0) == "at 0.3 nm"


def test_what_made_most_at_the_ramp_is_said_in_feet(flown):
    said = why.sentences(flown, explained(flown))
    assert [line.rpartition(": ")[2] for line in said] == [
        "6 ft low at the ramp",
        "2 ft high at the ramp",
        "2 ft high at the ramp",
    ]
    assert said[0].startswith("power taken off ")


def test_the_sum_of_all_parts_is_the_height_at_the_ramp(flown):
    told = explained(flown)
    assert why.deviation(told) == pytest.approx((2.0 - 6.0 + 0.2 + 2.0 + 0.2) * FOOT)
    assert why.at_ramp_of(told) == "2 ft below the commanded path"
    assert why.at_ramp_of(Explanation()) == ""


def test_three_findings_are_shown_and_the_rest_is_folded(session, flown, tmp_path):
    one = next(item for item in session.passes if item.flown is flown)
    new = PassReport(one.number, flown, one.score, explained(flown))
    told = SessionReport("Evening", "r.csv", 10, 20.0, (), (new,))
    screen = terminal.draw(told, width=80)
    assert [f"Fault {n}" in screen for n in (6, 5, 4, 3)] == [True, True, True, False]
    assert "1 more on the pass's page" in screen
    reports.write(told, tmp_path / "out")
    page = (tmp_path / "out" / f"pass-{one.number:02d}.html").read_text(encoding="utf-8")
    assert page.index("Fault 4") < page.index("<details") < page.index("Fault 3")
    assert "6 ft low at the ramp" in page


@pytest.mark.parametrize("form", [Form.WIDE, Form.NARROW])
def test_the_ribbon_tells_each_cause_by_shape_and_by_number(flown, form):
    bare = approach.draw(flown, name="a", form=form, why=Explanation()).render()
    drawn = approach.draw(flown, name="a", form=form, why=explained(flown)).render()
    assert "Height at the ramp" not in bare
    assert "Height at the ramp" in drawn
    for cause in why.CAUSES:
        assert f">{cause}</text>" in drawn
    assert ("6 ft low" if form is Form.WIDE else "6 L") in drawn
