"""The bundled session: every recording of it is debriefed, and the pages are there."""

from __future__ import annotations

import json
import tomllib

import jsonschema
import pytest

from deckward import workflow
from deckward.cli import main
from deckward.workflow import contract
from deckward.workflow.demonstration import DEMO


@pytest.fixture(scope="module")
def session() -> workflow.Debrief:
    return workflow.demo()


def test_the_session_has_three_pilots_and_about_a_dozen_passes(session):
    found = session.to_dict()
    jsonschema.validate(found, contract.schema())
    assert len({one["who"] for one in found["passes"]}) == 3
    assert 10 <= len(found["passes"]) <= 16
    assert {"trap", "bolter", "wave-off"} <= {one["outcome"] for one in found["passes"]}


def test_every_pass_is_told_as_it_was_flown(session):
    """Against the states of the simulator that flew it, which the recordings do not hold."""
    truth = json.loads((DEMO / "truth.json").read_text(encoding="utf-8"))["recordings"]
    flown = sorted((one for recording in truth for one in recording["passes"]), key=_by_name_and_ramp)
    told = sorted(session.to_dict()["passes"], key=_by_name_and_ramp)
    for key in ("who", "outcome", "wire"):
        assert [one[key] for one in told] == [one[key] for one in flown], key
    for mine, true in zip(told, flown, strict=True):
        if mine["touchdown"]:
            # the roughest recording of the session is 5 Hz with gaps: 1.5 m is asked of such a one
            assert mine["touchdown"]["hook_x_m"] == pytest.approx(true["touchdown"]["hook_x_m"], abs=1.5)


def _by_name_and_ramp(one: dict) -> tuple:
    return one["who"], one["outcome"], one["ramp"]["hook_to_ramp_m"]


def test_passes_are_numbered_through_and_notes_say_which_recording(session):
    assert [one.number for one in session.report.passes] == list(range(1, len(session.report.passes) + 1))
    files = [one["file"] for one in tomllib.loads((DEMO / "session.toml").read_text())["recording"]]
    for note in session.report.notes:
        assert note.text.startswith(tuple(f"{file}: " for file in files))


def test_the_session_is_small():
    assert sum(path.stat().st_size for path in DEMO.iterdir()) < 2_000_000


def test_the_command_prints_the_session_and_says_where_its_pages_are(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["demo", "--no-colour"]) == 0
    said = capsys.readouterr().out
    assert tomllib.loads((DEMO / "session.toml").read_text())["title"] in said
    index = said.splitlines()[-1].removeprefix("Pages: ")
    assert (tmp_path / index).parent.name == "deckward-demo"
    assert (tmp_path / index).exists()
