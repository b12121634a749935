"""Looking at what is bundled, and starting a file of one's own from it."""

from __future__ import annotations

import tomllib

import pytest

from deckward import workflow
from deckward.cli import main

SHELVES = {"sites": workflow.SITES, "aircraft": workflow.AIRCRAFT, "rulebooks": workflow.RULEBOOKS}


@pytest.mark.parametrize("command", SHELVES)
def test_the_list_has_every_name_with_a_line_about_it(capsys, command):
    assert main([command]) == 0
    said = capsys.readouterr().out
    for name, about in SHELVES[command].bundled().items():
        assert f"\n{name} " in f"\n{said}"
        assert len(about) > 10
        assert about.split()[0] in said


@pytest.mark.parametrize("command", SHELVES)
def test_each_name_is_shown_and_its_file_printed(capsys, command):
    for name in SHELVES[command].names():
        assert main([command, name]) == 0
        shown = capsys.readouterr().out
        assert main([command, name, "--toml"]) == 0
        document = tomllib.loads(capsys.readouterr().out)
        assert document["name"] in shown


@pytest.mark.parametrize("command", SHELVES)
def test_a_copy_is_a_file_that_works_and_says_the_same(tmp_path, monkeypatch, capsys, command):
    monkeypatch.chdir(tmp_path)
    name = SHELVES[command].names()[0]
    assert main([command, name, "--copy", "mine.toml"]) == 0
    assert "mine.toml" in capsys.readouterr().out
    assert main([command, "mine.toml"]) == 0
    mine = capsys.readouterr().out
    assert main([command, name]) == 0
    assert capsys.readouterr().out == mine


@pytest.mark.parametrize("command", SHELVES)
def test_a_fault_in_a_file_is_told_with_its_key(tmp_path, monkeypatch, capsys, command):
    monkeypatch.chdir(tmp_path)
    source = SHELVES[command].source(SHELVES[command].names()[0])
    (tmp_path / "mine.toml").write_text(f"colour = 3\n{source}", encoding="utf-8")
    assert main([command, "mine.toml"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "mine.toml" in said.err
    assert "colour" in said.err


def test_the_schema_is_printed_as_it_is_published(capsys):
    assert main(["schema"]) == 0
    assert capsys.readouterr().out == workflow.published_schema()
