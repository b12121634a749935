"""Measuring by command: rows for a person, a file for the next debrief, faults in one message."""

from __future__ import annotations

import json

import numpy as np
import pytest
from msgspec.structs import replace

from deckward import aircraft, site, workflow
from deckward.cli import main
from deckward.errors import InputError
from support.analytic_pass import DECK, DEGREE, JET, AnalyticPass, Flight, Ship
from support.approach import save

STILL = Ship(course=0.6, speed=9.0)
AIMS = (46.0, 58.0, 71.0, 83.0)


def columns(own, ship=None, *, prefix: str = "ship_") -> dict:
    """Columns of tracks in a local plane, as a person would name them."""
    found = {"time_s": own.time}
    for track, before in ((own, ""), (ship, prefix)):
        if track is None:
            continue
        for name in ("north", "east", "up"):
            found[f"{before}{name}_m"] = track[name]
        for name in ("heading", "pitch", "roll"):
            found[f"{before}{name}_deg"] = np.degrees(track[name])
    return found


@pytest.fixture
def desk(tmp_path, monkeypatch):
    """Four traps, one of them with the ship in a file of her own, the jet and what is known of both."""
    for number, aim in enumerate(AIMS, start=1):
        own, ship = AnalyticPass(Flight(ship=STILL, hook_aim=aim, after=11.0)).in_a_plane()
        save(tmp_path / f"{number}.csv", columns(own, ship))
    save(tmp_path / "alone.csv", columns(own))
    save(tmp_path / "ship.csv", columns(ship))
    (tmp_path / "jet.toml").write_text(aircraft.text(JET), encoding="utf-8")
    (tmp_path / "true.toml").write_text(site.text(DECK), encoding="utf-8")
    start = replace(DECK, ramp=(-150.0, 0.0, -15.0), angle=8.0 * DEGREE)
    (tmp_path / "start.toml").write_text(site.text(start), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


FILES = ["1.csv", "2.csv", "3.csv", "4.csv"]


def test_a_ship_is_measured_and_the_next_debrief_reads_her_file(desk, capsys):
    words = ["measure", "site", *FILES, "--site", "start.toml", "--aircraft", "jet.toml"]
    assert main([*words, "--name", "Our ship", "--copy", "mine.toml"]) == 0
    said = capsys.readouterr().out
    for part in ("deck height", "angle", "wire 4", "sigma", "--at-ramp", "Written: mine.toml"):
        assert part in said
    found = site.load("mine.toml")
    assert found.name == "Our ship"
    assert found.ramp[2] == pytest.approx(DECK.ramp[2], abs=0.3)
    assert found.angle == pytest.approx(DECK.angle, abs=0.3 * DEGREE)
    assert found.sigma.wires > 0.5
    doubt = {}
    for known in ("mine.toml", "true.toml"):
        assert main(["debrief", "2.csv", "--site", known, "--aircraft", "jet.toml", "--json"]) == 0
        (one,) = json.loads(capsys.readouterr().out)["passes"]
        assert (one["outcome"], one["wire"]) == ("trap", 2)
        doubt[known] = one["ramp"]["hook_to_ramp_sigma_m"], one["touchdown"]["hook_x_sigma_m"]
    # what is not known of the ship shows
    assert all(mine > true for mine, true in zip(doubt["mine.toml"], doubt["true.toml"], strict=True))


def test_a_jet_is_measured_and_its_file_printed(desk, capsys):
    assert (
        main(["measure", "aircraft", *FILES, "--site", "true.toml", "--aircraft", "jet.toml", "--toml"]) == 0
    )
    printed = capsys.readouterr().out
    (desk / "again.toml").write_text(printed, encoding="utf-8")
    found = aircraft.load("again.toml")
    assert found.main_wheels[2] == pytest.approx(JET.main_wheels[2], abs=0.2)
    assert found.hook[0] == pytest.approx(JET.hook[0], abs=2.0 * found.sigma.hook[0])


@pytest.mark.parametrize("what", ["site", "aircraft"])
def test_what_was_seen_is_drawn(desk, capsys, what):
    known = ["--site", "true.toml", "--aircraft", "jet.toml"]
    assert main(["measure", what, *FILES, *known, "--out", "seen"]) == 0
    assert sorted(path.name for path in (desk / "seen").iterdir()) == ["evidence.png", "evidence.svg"]
    assert "Written: seen/evidence.svg" in capsys.readouterr().out.replace("\\", "/")
    assert main(["measure", what, *FILES, *known, "--out", "jet.toml"]) == 2
    assert "this is a file" in capsys.readouterr().err


def test_the_ship_may_have_files_of_her_own(desk):
    rows = [
        workflow.measure_site(
            files,
            workflow.Given(ship=ships, site="start.toml", aircraft="jet.toml", ship_time_offset_s=offset),
        ).rows
        for files, ships, offset in ((["alone.csv"], ["ship.csv"], 0.0), (["4.csv"], [], None))
    ]
    assert rows[0] == rows[1]


@pytest.mark.parametrize("what", ["site", "aircraft"])
def test_the_ship_is_chosen_of_several_craft_in_her_file(desk, capsys, what):
    """Her rows beside those of a guard ship that lies elsewhere: the same is measured as from hers alone."""
    _, ship = AnalyticPass(Flight(ship=STILL, hook_aim=AIMS[-1], after=11.0)).in_a_plane()
    hers = columns(ship)
    guard = {**hers, "north_m": hers["north_m"] + 4000.0}
    both = {name: np.concatenate([hers[name], guard[name]]) for name in hers}
    who = np.repeat(["Ark", "Guard"], ship.time.size)
    save(desk / "both.csv", {"who": who, **both})
    words = ["measure", what, "alone.csv", "--site", "true.toml", "--aircraft", "jet.toml"]
    words += ["--ship-time-offset-s", "0", "--toml"]
    assert main([*words, "--ship", "ship.csv"]) == 0
    alone = capsys.readouterr().out
    assert main([*words, "--ship", "both.csv", "--ship-who", "Ark"]) == 0
    assert capsys.readouterr().out == alone
    assert main([*words, "--ship", "both.csv"]) == 2
    assert "--ship-who" in capsys.readouterr().err


def test_a_clock_that_nothing_ties_is_told_and_widens_what_hangs_on_it(desk):
    """A ship on an even keel ties no clocks: her way in one sigma of them goes into wires and ramp."""
    given = {"ship": ["ship.csv"], "site": "start.toml", "aircraft": "jet.toml"}
    known, loose = (
        workflow.measure_site(["alone.csv"], workflow.Given(**given, ship_time_offset_s=offset))
        for offset in (0.0, None)
    )
    rows = dict(loose.rows)
    assert "--ship-time-offset-s" in rows["ship's clock"]
    sure, unsure = (float(text.split("wires_m = ")[1].split()[0]) for text in (known.text, loose.text))
    assert unsure > sure + 5.0


def test_ships_files_that_do_not_reach_to_a_marked_spot_are_told(desk):
    for ships in (["ship.csv"] * 2, ["ship.csv"] * 4):
        with pytest.raises(InputError, match="marked spot"):
            workflow.measure_site(
                ["alone.csv"] * 2, workflow.Given(ship=ships, aircraft="jet.toml"), at_ramp="alone.csv"
            )


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (["site"], ["RECORDING"]),
        (["lens", "1.csv"], ["lens"]),
        (["site", "nothing.csv"], ["nothing.csv", "no such file"]),
        (["site", "alone.csv"], ["alone.csv", "no ship in this recording", "--ship"]),
        (["site", "1.csv", "--ship", "nothing.csv"], ["nothing.csv"]),
        (["site", *FILES, "--ship", "ship.csv", "--ship", "ship.csv"], ["--ship", "4 recordings and 2"]),
        (["site", "1.csv", "--site", "ollershaw-sands"], ["--site", "is a field"]),
        (["aircraft", "1.csv", "--site", "ollershaw-sands"], ["--site", "is a field"]),
        (["aircraft", "1.csv", "--at-ramp", "1.csv"], ["--at-ramp", "ahead of the recorded point"]),
        (["aircraft", "1.csv", "--at-lens", "1.csv"], ["--at-lens", "nothing of the aircraft"]),
        (["site", "1.csv", "--mains-at-ramp", "1.csv"], ["--mains-at-ramp", "nothing of the site"]),
        (["site", "1.csv", "--at-ramp", "nothing.csv"], ["nothing.csv"]),
        (["site", "1.csv", "--only", "Heron"], ["Heron"]),
        (["site", "1.csv", "--ship-who", "Arc"], ["holds no ship named 'Arc'"]),
        (["aircraft", "1.csv", "--ship-who", "Arc"], ["holds no ship named 'Arc'"]),
        (["pilot", *FILES, "--ship-who", "Arc"], ["holds no ship named 'Arc'"]),
        (["site", "1.csv", "--map", "nothing.toml"], ["nothing.toml"]),
        (["site", "1.csv", "--origin", "91,0"], ["--origin"]),
        (["site", "1.csv", "--copy", "jet.toml"], ["jet.toml", "there already"]),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else value,
)
def test_what_cannot_be_measured_is_said_in_one_message(desk, capsys, words, expected):
    before = sorted(path.name for path in desk.iterdir())
    assert main(["measure", *words]) == 2
    said = capsys.readouterr()
    assert said.out == "" and said.err.count("\n") == 1
    for part in expected:
        assert part in said.err
    assert sorted(path.name for path in desk.iterdir()) == before
