"""The bundled session: every recording of it is debriefed, and the pages are there."""

from __future__ import annotations

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
