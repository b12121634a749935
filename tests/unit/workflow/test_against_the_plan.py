"""A debrief that knows the plan: flown beside planned, and nothing where the recording is silent."""

from __future__ import annotations

import csv
import gzip
import json
import re
from importlib import resources
from pathlib import Path

import pytest

import deckward
from deckward import planning
from deckward.cli import main
from deckward.foundation.units import from_si
from deckward.planning.plan import make

DEMO = Path(str(resources.files("deckward") / "demo"))
OVERSHOOT = DEMO / "overshoot.csv.gz"


@pytest.fixture(scope="module")
def told() -> dict:
    return deckward.debrief(OVERSHOOT, plan="lantern-evening").to_dict()["passes"][0]


def lines(one: dict) -> dict:
    return {line["what"]: line for line in one["planned"]}


def test_flown_is_what_the_debrief_says_elsewhere(told):
    found = lines(told)
    assert found["abeam distance"]["flown"] * 1852 == pytest.approx(
        told["turn"]["abeam_distance_m"], rel=1e-6
    )
    altitude = found["altitude abeam"]
    assert altitude["flown"] * 0.3048 == pytest.approx(told["turn"]["abeam_altitude_m"], rel=1e-6)
    hook = found["hook touchdown past the ramp"]
    assert hook["flown"] * 0.3048 == pytest.approx(told["touchdown"]["hook_x_m"], rel=1e-6)


def test_planned_is_what_the_cards_say(told):
    plan, found = make(planning.load("lantern-evening")), lines(told)
    assert found["abeam distance"]["planned"] == pytest.approx(from_si(plan.pattern.pattern.abeam, "nm"))
    assert found["sink"]["planned"] == pytest.approx(from_si(plan.approach.planned.sink, "fpm"))
    for line in found.values():
        assert line["difference"] == pytest.approx(line["flown"] - line["planned"], abs=2e-6)


def test_the_turn_begun_late_is_told(told):
    """This pass was flown to overshoot: its turn was begun late, from the right distance abeam."""
    found = lines(told)
    assert found["turn after abeam"]["difference"] > 3.0
    assert abs(found["abeam distance"]["difference"]) < 0.1


def test_what_was_not_recorded_has_no_line(told):
    assert not {"landing mass", "fuel at the ball", "launch mass"} & set(lines(told))


def test_recorded_fuel_and_mass_are_compared(tmp_path):
    with gzip.open(OVERSHOOT, "rt", encoding="utf-8", newline="") as file:
        head, *rows = csv.reader(file)
    burning = tmp_path / "burning.csv"
    with burning.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow([*head, "fuel_lb"])
        writer.writerows([*row, 1700] for row in rows)
    found = lines(deckward.debrief(burning, plan="lantern-evening").to_dict()["passes"][0])
    assert found["fuel at the ball"]["flown"] == pytest.approx(1700)
    # the jet without fuel is the plan's: as heavy as planned but for the fuel
    off = found["landing mass"]["difference"] - found["fuel at the ball"]["difference"]
    assert off == pytest.approx(0.0, abs=1.0)


def test_screen_and_page_show_it(tmp_path, capsys):
    assert main(["debrief", str(OVERSHOOT), "--plan", "lantern-evening", "--out", str(tmp_path / "out")]) == 0
    said = capsys.readouterr().out
    assert "against the plan" in said and "turn after abeam" in said
    page = next(path for path in (tmp_path / "out").glob("*.html") if "Against the plan" in path.read_text())
    assert "hook touchdown past the ramp" in page.read_text(encoding="utf-8")


def test_print_has_the_lines_that_the_screen_has():
    """The PDF's own account of how many lines it set beside the pass."""
    from deckward.reports import paper

    report = deckward.debrief(OVERSHOOT, plan="lantern-evening").report
    assert paper.sheet(report).told("planned") == [len(report.passes[0].planned)] != [0]
    bare = deckward.debrief(OVERSHOOT, site="wintermere", aircraft="sandlark").report
    assert paper.sheet(bare).told("planned") == [0]
    # still a sheet for the session and one for the pass
    assert len(re.findall(rb"/Type\s*/Page\b", paper.pdf(report))) == 2


def test_without_a_plan_nothing_is_set_beside(capsys):
    ours = ["--site", "wintermere", "--aircraft", "sandlark", "--json"]
    assert main(["debrief", str(OVERSHOOT), *ours]) == 0
    assert json.loads(capsys.readouterr().out)["passes"][0]["planned"] == []


def test_a_plan_that_is_none_is_refused(capsys):
    assert main(["debrief", str(OVERSHOOT), "--plan", "no-such-plan"]) == 2
    assert "no-such-plan" in capsys.readouterr().err
