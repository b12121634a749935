"""The main job whole: from files to a result, by command and by Python."""

from __future__ import annotations

import json
import math

import jsonschema
import numpy as np
import pytest

import deckward
from deckward.cli import main
from deckward.errors import InputError, NoPassError
from deckward.foundation import earth
from deckward.workflow import contract
from support.approach import save

OURS = {"site": "ship.toml", "aircraft": "jet.toml"}
OPTIONS = ["--site", "ship.toml", "--aircraft", "jet.toml"]


def split(columns: dict) -> tuple[dict, dict]:
    """The aircraft's columns and the ship's."""
    ship = {name: values for name, values in columns.items() if name.startswith("ship_")}
    own = {name: values for name, values in columns.items() if name not in ship}
    return own, ship


def touch(**options) -> float:
    return deckward.debrief("flight.csv", **OURS, **options).to_dict()["passes"][0]["touchdown"]["hook_x_m"]


@pytest.fixture
def touch_by_command(capsys):
    """Debrief flight.csv by command with more options; where the hook touched."""

    def run(*words: str) -> float:
        assert main(["debrief", "flight.csv", *OPTIONS, *words, "--json"]) == 0
        return json.loads(capsys.readouterr().out)["passes"][0]["touchdown"]["hook_x_m"]

    return run


def test_a_recording_becomes_a_debrief(desk):
    done = deckward.debrief("flight.csv", **OURS)
    assert isinstance(done, deckward.Debrief)
    found = done.to_dict()
    jsonschema.validate(found, contract.schema())
    (one,) = found["passes"]
    assert (one["aircraft"], one["site"], one["who"]) == ("Test jet", "Test ship", "flight")
    # drawn as a touch at 70 m of a point that the hook hangs some metres behind and below
    assert one["touchdown"]["hook_x_m"] == pytest.approx(66.0, abs=10.0)
    assert [position["name"] for position in one["positions"]] == ["3/4 nm", "1/2 nm", "1/4 nm", "ramp"]
    assert done.pages == ()


def test_the_command_prints_the_same_object_and_nothing_else(desk, capsys):
    assert main(["debrief", "flight.csv", *OPTIONS, "--json"]) == 0
    said = capsys.readouterr()
    assert json.loads(said.out) == deckward.debrief("flight.csv", **OURS).to_dict()
    assert said.err == ""


def test_the_screen_is_plain_text_where_nobody_sees_colour(desk, capsys):
    assert main(["debrief", "flight.csv", *OPTIONS, "--no-colour"]) == 0
    said = capsys.readouterr()
    assert "Test jet" in said.out
    assert "\x1b" not in said.out
    assert said.err == ""


def test_pages_are_written_into_the_folder_that_is_named(desk, capsys):
    (desk / "pages").mkdir()
    (desk / "pages" / "mine.txt").write_text("stays")
    assert main(["debrief", "flight.csv", *OPTIONS, "--out", "pages", "--quiet"]) == 0
    first = capsys.readouterr().out.strip()
    assert (desk / first).read_text(encoding="utf-8").startswith("<!doctype html>")
    assert (desk / "pages" / "mine.txt").read_text() == "stays"
    assert list((desk / "pages").rglob("*.pdf"))
    assert [path.name for path in desk.iterdir() if path.name.startswith(".")] == []


def test_python_names_the_pages_with_the_sessions_first(desk):
    done = deckward.debrief("flight.csv", **OURS, out="pages")
    assert done.pages[0].name == "index.html"
    assert all(page.exists() for page in done.pages)


def test_a_recording_without_a_pass_says_what_was_there(desk, approach, capsys):
    save(desk / "far.csv", {**approach, "latitude_deg": approach["latitude_deg"] + 2.0})
    assert main(["debrief", "far.csv", *OPTIONS, "--json", "--out", "pages"]) == 3
    said = capsys.readouterr()
    assert said.out == ""
    assert "far.csv: there is no pass in this recording. Seen instead: " in said.err
    assert not (desk / "pages").exists()
    with pytest.raises(NoPassError):
        deckward.debrief("far.csv", **OURS)


def test_of_several_craft_each_is_debriefed_or_the_one_that_is_named(desk, approach, capsys):
    two = {name: np.concatenate([values, values]) for name, values in approach.items()}
    who = ["Heron"] * len(approach["time_s"]) + ["Plover"] * len(approach["time_s"])
    save(desk / "two.csv", {"who": who, **two})
    found = deckward.debrief("two.csv", **OURS).to_dict()["passes"]
    assert [one["who"] for one in found] == ["Heron", "Plover"]
    assert main(["debrief", "two.csv", *OPTIONS, "--only", "Plover", "--json"]) == 0
    assert [one["who"] for one in json.loads(capsys.readouterr().out)["passes"]] == ["Plover"]
    assert main(["debrief", "two.csv", *OPTIONS, "--only", "Plovr"]) == 2
    assert "Plover" in capsys.readouterr().err


def test_the_ship_among_several_craft_is_the_one_that_is_named(desk, approach, capsys, touch_by_command):
    """One column tells a jet from a ship whose name does not say that she is one."""
    together = touch()
    own, ship = split(approach)
    ship = {name.removeprefix("ship_"): values for name, values in ship.items()}
    rows = len(own["time_s"])
    both = {name: np.concatenate([own[name], ship.get(name, np.full(rows, np.nan))]) for name in own}
    both |= {name: np.concatenate([own.get(name, np.full(rows, np.nan)), ship[name]]) for name in ship}
    both["time_s"] = np.concatenate([own["time_s"], own["time_s"]])
    save(desk / "flight.csv", {"who": ["Heron"] * rows + ["Ark"] * rows, **both})
    assert touch_by_command("--ship-who", "Ark") == pytest.approx(together, abs=0.01)
    assert main(["debrief", "flight.csv", *OPTIONS, "--ship-who", "Arc"]) == 2
    said = capsys.readouterr().err
    assert "no ship named 'Arc'" in said
    assert "It has Ark, Heron." in said


def test_the_ship_may_stand_in_a_file_of_its_own(desk, approach, touch_by_command):
    together = touch()
    own, ship = split(approach)
    save(desk / "flight.csv", own)
    save(desk / "ship.csv", {"time_s": own["time_s"], **ship})
    assert touch(ship="ship.csv") == pytest.approx(together, abs=0.01)
    assert touch_by_command("--ship", "ship.csv", "--ship-time-offset-s", "0") == pytest.approx(
        together, abs=0.01
    )


def test_without_a_ship_the_message_says_how_to_give_one(desk, approach, capsys):
    save(desk / "flight.csv", split(approach)[0])
    assert main(["debrief", "flight.csv", *OPTIONS]) == 2
    said = capsys.readouterr().err
    assert "flight.csv" in said
    assert "--ship" in said


def test_the_ship_may_be_known_by_course_and_speed(desk, approach, touch_by_command):
    together = touch()
    own, ship = split(approach)
    save(desk / "flight.csv", own)
    at = (ship["ship_latitude_deg"][0], ship["ship_longitude_deg"][0], own["time_s"][0])
    # this ship is level and the recorded one rolls by 0.8 degrees: metres, not decimetres
    words = [
        "--ship-course-deg",
        "20",
        "--ship-speed-kt",
        str(12.0 * 3600 / 1852),
        "--ship-at",
        ",".join(map(str, at)),
    ]
    assert touch_by_command(*words) == pytest.approx(together, abs=8.0)


def test_a_local_plane_does_as_well_as_latitude_and_longitude(desk, approach, touch_by_command):
    together = touch()
    # near where it touches: a plane is flat and the sea is not
    row = np.argmin(approach["altitude_m"])
    origin = (approach["ship_latitude_deg"][row], approach["ship_longitude_deg"][row])
    flat = {
        name: values for name, values in approach.items() if not name.endswith(("itude_deg", "altitude_m"))
    }
    for prefix in ("", "ship_"):
        place = earth.geodetic_to_ecef(
            np.radians(approach[f"{prefix}latitude_deg"]),
            np.radians(approach[f"{prefix}longitude_deg"]),
            approach[f"{prefix}altitude_m"],
        )
        ned = earth.to_ned(place, math.radians(origin[0]), math.radians(origin[1]), 0.0)
        flat |= {f"{prefix}north_m": ned[:, 0], f"{prefix}east_m": ned[:, 1], f"{prefix}up_m": -ned[:, 2]}
    save(desk / "flight.csv", flat)
    assert touch_by_command("--origin", f"{origin[0]},{origin[1]}") == pytest.approx(together, abs=0.2)


def test_a_column_map_reads_names_that_are_not_ours(desk, approach, touch_by_command):
    together = touch()
    own = dict(approach)
    own["Height"] = own.pop("altitude_m") / 0.3048
    save(desk / "flight.csv", own)
    (desk / "map.toml").write_text('[[column]]\nsource = "Height"\nquantity = "altitude"\nunit = "ft"\n')
    assert touch_by_command("--map", "map.toml") == pytest.approx(together, abs=0.01)


def test_a_wind_makes_an_angle_of_attack_where_none_was_recorded(desk, approach):
    less = {name: values for name, values in approach.items() if name != "angle_of_attack_deg"}
    save(desk / "flight.csv", less)
    done = deckward.debrief("flight.csv", **OURS, wind_from_deg=0.0, wind_speed_kt=0.0).to_dict()
    # drawn with still air and the nose 8 degrees above the path
    for position in done["passes"][0]["positions"][:3]:
        assert position["angle_of_attack_deg"] == pytest.approx(8.0, abs=0.3)


def test_a_reason_settles_the_points_of_a_wave_off(desk, approach, capsys):
    save(desk / "flight.csv", {**approach, "altitude_m": np.maximum(approach["altitude_m"], 45.0)})
    (one,) = deckward.debrief("flight.csv", **OURS).to_dict()["passes"]
    assert one["outcome"] == "wave-off"
    assert one["grade"]["points"] is None
    assert main(["debrief", "flight.csv", *OPTIONS, "--reason", "pattern", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["passes"][0]["grade"]["points"] is not None


def test_a_change_is_told_beside_the_pass(desk, capsys):
    words = ["debrief", "flight.csv", *OPTIONS, "--what-if", "wave-off=0.2", "--what-if", "on-speed"]
    assert main([*words, "--json"]) == 0
    waved, on_speed = json.loads(capsys.readouterr().out)["passes"][0]["what_if"]
    assert [waved["change"], on_speed["change"]] == ["wave-off=0.2", "on-speed"]
    assert waved["told"]
    assert waved["model_misses_m"] < 1.0
    assert waved["lowest_hook_above_deck_m"] > 5.0
    assert waved["path"][0]["x_m"] < 0.0 < waved["path"][-1]["x_m"]
    assert main([*words, "--out", "pages", "--no-colour"]) == 0
    assert "What if 1 waved off at 0.2 nm: hook to ramp " in capsys.readouterr().out
    page = (desk / "pages" / "pass-01.html").read_text(encoding="utf-8")
    assert "waved off at 0.2 nm" in page
    assert "hook over its commanded path" in page


def test_without_a_change_asked_for_none_is_told(desk):
    assert deckward.debrief("flight.csv", **OURS).to_dict()["passes"][0]["what_if"] == []


def test_without_a_ship_and_a_jet_of_ones_own_a_line_says_how_to_do_better(desk):
    notes = deckward.debrief("flight.csv").to_dict()["recording"]["notes"]
    texts = {note["code"]: note["text"] for note in notes}
    assert "--site" in texts["generic-site"]
    assert "--aircraft" in texts["generic-aircraft"]
    assert not {"generic-site", "generic-aircraft"} & {
        note["code"] for note in deckward.debrief("flight.csv", **OURS).to_dict()["recording"]["notes"]
    }


def test_a_rulebook_changes_the_grading(desk):
    names = deckward.workflow.RULEBOOKS.names()
    assert {
        deckward.debrief("flight.csv", **OURS, rulebook=name).report.passes[0].score.rulebook
        for name in names
    } == set(names)


def test_each_longer_step_is_told(desk):
    told = []
    deckward.debrief("flight.csv", **OURS, progress=told.append)
    assert told == ["reading", "finding the passes", "grading and explaining"]


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"wind_from_deg": "north", "wind_speed_kt": 5}, "wind_from_deg"),
        ({"ship_at": "31,-121,0", "ship_course_deg": 1, "ship_speed_kt": 2}, "ship_at"),
        ({"origin": 31.0}, "origin"),
        ({"ship_time_offset_s": "late"}, "ship_time_offset_s"),
        ({"site": "ollershaw-sands", "ship": "flight.csv"}, "does not move"),
        ({"reason": "foul weather"}, "foul-deck"),
        ({"what_if": ["later"]}, "hold-power"),
    ],
)
def test_python_gets_the_same_faults_in_its_own_words(desk, options, words):
    with pytest.raises(InputError, match=words):
        deckward.debrief("flight.csv", **options)


def test_a_misspelt_argument_is_refused(desk):
    with pytest.raises(TypeError, match="wind_from"):
        deckward.debrief("flight.csv", wind_from=20)


def test_the_rulebook_says_when_the_groove_begins(desk):
    """A rulebook of one's own that looks for the groove from half a mile finds a shorter one."""
    near = deckward.workflow.RULEBOOKS.source("strict").replace("within_nm = 1.2", "within_nm = 0.5")
    (desk / "near.toml").write_text(near)

    def seconds(**options) -> float:
        return deckward.debrief("flight.csv", **OURS, **options).to_dict()["passes"][0]["groove"]["seconds"]

    closing = 57.9  # m/s, as the approach is drawn
    apart = seconds() - seconds(rulebook="near.toml")
    assert apart >= 0.4 * 1852.0 / closing
    assert seconds(rulebook="near.toml") == pytest.approx(0.5 * 1852.0 / closing, abs=2.0)
