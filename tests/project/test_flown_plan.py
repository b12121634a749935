"""A sortie that the open flight dynamics library flew, launch and landing, set beside its plan.

The truth is the library's and the flier's own: the end speed it was shot with, the mass it
flew at, the wind it flew in.
"""

from __future__ import annotations

import dataclasses
import math

import corpus_clean
import numpy as np
import pytest
from fly_record import Form, tables, toml, write_table
from fly_sortie import Sortie
from fly_truth import truth
from msgspec.structs import replace
from sites import aircraft_file

import deckward
from deckward import aircraft
from deckward.cli import main

COLUMNS = ("heading", "pitch", "roll", "true_airspeed", "angle_of_attack", "throttle", "gear", "hook", "mass")
END_SPEED, STROKE = 64.0, 88.0
KT = 1852.0 / 3600.0


@pytest.fixture(scope="module")
def flown(tmp_path_factory):
    """A launch, a pattern and a trap: the sortie, its recording, site and aircraft, and a scenario."""
    folder = tmp_path_factory.mktemp("sortie")
    plan = corpus_clean.plan_at("A4", "halcyon", (41.2, -52.6), 48.0, speed=17.0, wind=(-9, 13), seed=901)
    sortie = Sortie(plan, 420.0, start=0.0)
    angle = math.radians(plan.site["landing_area"]["angle_deg"])
    sortie.stand(169.0, 35.5, angle, 12.0)
    sortie.launch(END_SPEED, STROKE)
    sortie.fly(dataclasses.replace(plan, start="upwind", after=7.0, turn_delay=15.0))
    whole, form = sortie.flight(), Form(rate=20, channels=COLUMNS, ship_pose=("heading", "pitch", "roll"))
    table, _, _ = tables(whole, form)
    write_table(folder / form.file, table, form)
    (folder / "site.toml").write_text(toml(plan.site))
    jet = aircraft_file("A4", plan.points, form.reference, None)
    (folder / "jet.toml").write_text(toml(jet))
    whole_jet = replace(aircraft.load(folder / "jet.toml"), tables=aircraft.load("sandlark").tables)
    (folder / "jet.toml").write_text(aircraft.text(whole_jet))
    (folder / "plan.toml").write_text(
        f"""name = "As flown"
site = "site.toml"
aircraft = "jet.toml"
mass_lb = 12750
fuel_lb = 2400
[wind]
from_deg = {plan.wind_from}
speed_kt = {plan.wind_kt}
[launch.catapult]
mass_lb = [10000, 20000]
end_speed_kt = [{END_SPEED / KT}, {END_SPEED / KT}]
[divert]
bingo_lb = 900
"""
    )
    return sortie, whole, form, folder


def test_launch_and_landing_stand_beside_the_plan(flown):
    sortie, whole, form, folder = flown
    told = deckward.debrief(folder / form.file, plan=folder / "plan.toml").to_dict()["passes"]
    assert len(told) == 1
    lines = {line["what"]: line for line in told[0]["planned"]}
    # shot along the landing area at 64 m/s against the ship: her speed and the wind along it are added
    plan = sortie.plan
    heading = math.radians(48.0 - plan.site["landing_area"]["angle_deg"])
    from_wind = math.radians(plan.wind_from)
    along = 17.0 * KT * math.cos(math.radians(48.0) - heading) + plan.wind_kt * KT * math.cos(
        from_wind - heading
    )
    across = 17.0 * KT * math.sin(math.radians(48.0) - heading) + plan.wind_kt * KT * math.sin(
        from_wind - heading
    )
    airspeed = math.hypot(END_SPEED + along, across) / KT
    assert lines["end airspeed off the catapult"]["flown"] == pytest.approx(airspeed, abs=2.0)
    # it weighs as much as its plan says before the shot
    assert lines["launch mass"]["flown"] == pytest.approx(12_750, abs=30)
    assert lines["launch mass"]["planned"] == pytest.approx(12_750)
    # and the landing is the one that was flown
    (one,) = [truth(each, form.reference, plan.site, None) for each in sortie.passes(whole)]
    assert lines["hook touchdown past the ramp"]["flown"] * 0.3048 == pytest.approx(
        one["touchdown"]["hook_x_m"], abs=2.0
    )
    assert lines["abeam distance"]["flown"] * 1852 == pytest.approx(one["turn"]["abeam_distance_m"], rel=0.05)
    felt = np.array([along, across])
    assert lines["wind down the angle"]["flown"] == pytest.approx(felt[0] / KT, abs=2.0)


def test_screen_page_and_print_show_the_launch(flown, capsys):
    _, _, form, folder = flown
    out = folder / "out"
    assert (
        main(["debrief", str(folder / form.file), "--plan", str(folder / "plan.toml"), "--out", str(out)])
        == 0
    )
    said = capsys.readouterr().out
    assert "end airspeed off the catapult" in said and "launch mass" in said
    page = next(path for path in out.glob("*.html") if "Against the plan" in path.read_text("utf-8"))
    assert "end airspeed off the catapult" in page.read_text("utf-8")
