"""How the command line starts, ends and fails."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from deckward import __version__
from deckward.cli import main
from deckward.cli.parser import arguments


def test_help_names_every_command(capsys):
    assert main(["--help"]) == 0
    text = capsys.readouterr().out
    for command in ("debrief", "columns", "demo", "sites", "aircraft", "rulebooks", "schema"):
        assert f"\n    {command} " in text
    assert "licensed people" in text


def test_no_words_at_all_show_the_help(capsys):
    assert main([]) == 0
    assert "COMMAND" in capsys.readouterr().out


def test_version(capsys):
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"deckward {__version__}\n"


@pytest.mark.parametrize(
    "command", ["debrief", "columns", "demo", "sites", "aircraft", "rulebooks", "schema"]
)
def test_each_command_has_help(capsys, command):
    assert main([command, "--help"]) == 0
    assert f"usage: deckward {command}" in capsys.readouterr().out


def test_a_southern_place_is_not_taken_for_an_option():
    given = arguments(["debrief", "a.csv", "--origin", "-39.2,160.4", "--ship-time-offset-s", "-2.5"])
    assert given.origin == (-39.2, 160.4)
    assert given.ship_time_offset_s == -2.5


@pytest.mark.parametrize(
    ("fault", "code", "words"),
    [
        (KeyboardInterrupt(), 130, "stopped"),
        (MemoryError(), 70, "out of memory"),
        (ZeroDivisionError("division by zero"), 70, "ZeroDivisionError: division by zero"),
    ],
)
def test_what_no_message_foresaw_ends_without_a_trace(monkeypatch, capsys, fault, code, words):
    def fail(given):
        raise fault

    monkeypatch.setattr("deckward.cli.commands.schema", fail)
    assert main(["schema"]) == code
    said = capsys.readouterr()
    assert said.out == ""
    assert words in said.err
    assert "Traceback" not in said.err


def test_the_whole_trace_is_there_for_a_report(monkeypatch, capsys):
    def fail(given):
        raise ZeroDivisionError

    monkeypatch.setattr("deckward.cli.commands.schema", fail)
    monkeypatch.setenv("DECKWARD_TRACE", "1")
    assert main(["schema"]) == 70
    assert "Traceback" in capsys.readouterr().err


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no broken pipes of this kind")
def test_a_reader_that_leaves_is_no_failure_to_talk_about():
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "wb") as pipe:
        done = subprocess.run(
            [sys.executable, "-m", "deckward", "schema"], stdout=pipe, stderr=subprocess.PIPE, check=False
        )
    assert done.returncode == 141
    assert done.stderr == b""


def test_a_terminal_that_knows_few_letters_is_no_failure():
    done = subprocess.run(
        [sys.executable, "-m", "deckward", "sites"],
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
        capture_output=True,
        check=False,
    )
    assert done.returncode == 0
    assert done.stderr == b""
