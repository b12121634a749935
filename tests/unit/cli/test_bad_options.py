"""Options that cannot be used: exit 2, one message that says where and what to do."""

from __future__ import annotations

from pathlib import Path

import pytest

from deckward.cli import main

#: (arguments after ``deckward``, words the message must have)
BAD = [
    # commands
    (["debreif", "flight.csv"], ["debreif", "Did you mean debrief?"]),
    (["xyz"], ["xyz", "Commands: debrief"]),
    (["Demo"], ["Did you mean demo?"]),
    # words
    (["debrief"], ["RECORDING is missing", "debrief --help"]),
    (["debrief", "flight.csv", "second.csv"], ["second.csv", "one word too many"]),
    (["sites", "a", "b"], ["'b'", "one word too many"]),
    (["schema", "extra"], ["'extra'", "debrief, plan"]),
    # options that are not there
    (["debrief", "flight.csv", "--sites", "x"], ["--sites", "Did you mean --site?"]),
    (["debrief", "flight.csv", "--jsn"], ["--jsn", "Did you mean --json?"]),
    (["debrief", "flight.csv", "--wind-from", "20"], ["--wind-from", "Did you mean --wind-from-deg?"]),
    (["debrief", "flight.csv", "--aircaft=x"], ["--aircaft", "Did you mean --aircraft?"]),
    (["debrief", "flight.csv", "--rule", "x"], ["there is no option --rule."]),
    (["debrief", "flight.csv", "-j"], ["there is no option -j."]),
    (["--verson"], ["Did you mean --version?"]),
    (["demo", "--json"], ["there is no option --json."]),
    (["sites", "--tom"], ["Did you mean --toml?"]),
    (["--json", "debrief", "flight.csv"], ["--json belongs behind the command"]),
    (["--out=pages", "debrief", "flight.csv"], ["--out belongs behind the command"]),
    # values missing or too many
    (["debrief", "flight.csv", "--site"], ["--site", "needs a value"]),
    (["debrief", "flight.csv", "--out"], ["--out", "needs a value"]),
    (
        ["debrief", "flight.csv", "--wind-from-deg", "--wind-speed-kt", "9"],
        ["--wind-from-deg", "needs a value"],
    ),
    (["debrief", "flight.csv", "--json=yes"], ["--json", "takes no value"]),
    # numbers
    (
        ["debrief", "flight.csv", "--wind-from-deg", "north", "--wind-speed-kt", "9"],
        ["--wind-from-deg", "'north'"],
    ),
    (
        ["debrief", "flight.csv", "--wind-from-deg", "20,5", "--wind-speed-kt", "9"],
        ["--wind-from-deg", "'20,5'"],
    ),
    (["debrief", "flight.csv", "--ship-speed-kt", "fast"], ["--ship-speed-kt", "'fast'"]),
    (["debrief", "flight.csv", "--ship-time-offset-s", "1:30"], ["--ship-time-offset-s", "'1:30'"]),
    (["debrief", "flight.csv", "--ship-time-offset-s", "nan"], ["--ship-time-offset-s", "not a number"]),
    (["debrief", "flight.csv", "--ship-time-offset-s", "inf"], ["--ship-time-offset-s", "not a number"]),
    # ranges
    (
        ["debrief", "flight.csv", "--wind-from-deg", "400", "--wind-speed-kt", "9"],
        ["--wind-from-deg", "0 to 360"],
    ),
    (
        ["debrief", "flight.csv", "--wind-from-deg", "-10", "--wind-speed-kt", "9"],
        ["--wind-from-deg", "0 to 360"],
    ),
    (
        ["debrief", "flight.csv", "--wind-from-deg", "nan", "--wind-speed-kt", "9"],
        ["--wind-from-deg", "0 to 360"],
    ),
    (
        ["debrief", "flight.csv", "--wind-from-deg", "10", "--wind-speed-kt", "-9"],
        ["--wind-speed-kt", "0 to 150"],
    ),
    (
        ["debrief", "flight.csv", "--wind-from-deg", "10", "--wind-speed-kt", "900"],
        ["--wind-speed-kt", "0 to 150"],
    ),
    (
        ["debrief", "flight.csv", "--wind-from-deg", "10", "--wind-speed-kt", "inf"],
        ["--wind-speed-kt", "0 to 150"],
    ),
    (
        ["debrief", "flight.csv", "--ship-course-deg", "361", "--ship-speed-kt", "9", "--ship-at", "1,2,3"],
        ["--ship-course-deg", "0 to 360"],
    ),
    (
        ["debrief", "flight.csv", "--ship-course-deg", "1", "--ship-speed-kt", "99", "--ship-at", "1,2,3"],
        ["--ship-speed-kt", "0 to 60"],
    ),
    (
        ["debrief", "flight.csv", "--ship-course-deg", "1", "--ship-speed-kt", "9", "--ship-at", "95,2,3"],
        ["--ship-at latitude", "-90 to 90"],
    ),
    (
        ["debrief", "flight.csv", "--ship-course-deg", "1", "--ship-speed-kt", "9", "--ship-at", "-9,200,3"],
        ["--ship-at longitude", "-180 to 180"],
    ),
    (
        ["debrief", "flight.csv", "--ship-course-deg", "1", "--ship-speed-kt", "9", "--ship-at", "27N,2,3"],
        ["--ship-at latitude", "'27N'"],
    ),
    (
        ["debrief", "flight.csv", "--ship-course-deg", "1", "--ship-speed-kt", "9", "--ship-at", "1,2"],
        ["--ship-at", "latitude, longitude and time"],
    ),
    (
        ["debrief", "flight.csv", "--ship-course-deg", "1", "--ship-speed-kt", "9", "--ship-at", "1,2,3,4"],
        ["--ship-at", "latitude, longitude and time"],
    ),
    (["debrief", "flight.csv", "--origin", "27.6"], ["--origin", "latitude and longitude"]),
    (["debrief", "flight.csv", "--origin", "27.6,-88.3,0"], ["--origin", "latitude and longitude"]),
    (["debrief", "flight.csv", "--origin", "127.6,-88.3"], ["--origin latitude", "-90 to 90"]),
    (["debrief", "flight.csv", "--origin", "-27.6,188.3"], ["--origin longitude", "-180 to 180"]),
    (["debrief", "flight.csv", "--origin", "27.6,west"], ["--origin longitude", "'west'"]),
    (["debrief", "flight.csv", "--origin", ""], ["--origin", "latitude and longitude"]),
    # half given, or given twice
    (["debrief", "flight.csv", "--wind-from-deg", "20"], ["--wind-from-deg", "without --wind-speed-kt"]),
    (["debrief", "flight.csv", "--wind-speed-kt", "20"], ["--wind-speed-kt", "without --wind-from-deg"]),
    (["debrief", "flight.csv", "--ship-course-deg", "20"], ["without --ship-speed-kt and --ship-at"]),
    (["debrief", "flight.csv", "--ship-speed-kt", "20"], ["without --ship-course-deg and --ship-at"]),
    (["debrief", "flight.csv", "--ship-at", "1,2,3"], ["without --ship-course-deg and --ship-speed-kt"]),
    (
        ["debrief", "flight.csv", "--ship-course-deg", "20", "--ship-speed-kt", "9"],
        ["--ship-course-deg", "without --ship-at"],
    ),
    (
        [
            "debrief",
            "flight.csv",
            "--ship",
            "flight.csv",
            "--ship-course-deg",
            "1",
            "--ship-speed-kt",
            "9",
            "--ship-at",
            "1,2,3",
        ],
        ["--ship", "given twice"],
    ),
    (["debrief", "flight.csv", "--ship", "fitted", "--site", "ollershaw-sands"], ["--ship", "does not move"]),
    # choices
    (["debrief", "flight.csv", "--reason", "bad luck"], ["--reason", "technique, pattern, foul-deck"]),
    # files and folders
    (["debrief", "nothing.csv"], ["nothing.csv", "there is no such file"]),
    (["debrief", "folder"], ["folder", "this is a folder"]),
    (["debrief", ""], ["this is a folder"]),
    (["debrief", "flight.csv", "--ship", "nothing.csv"], ["nothing.csv", "there is no such file"]),
    (["debrief", "flight.csv", "--ship", "folder"], ["folder", "this is a folder"]),
    (["debrief", "flight.csv", "--map", "nothing.toml"], ["nothing.toml", "there is no such file"]),
    (["debrief", "flight.csv", "--map", "folder"], ["folder", "this is a folder"]),
    (["debrief", "flight.csv", "--out", "flight.csv"], ["flight.csv", "--out", "this is a file"]),
    (["debrief", "flight.csv", "--out", "flight.csv/pages"], ["flight.csv", "--out", "this is a file"]),
    (["demo", "--out", "flight.csv"], ["flight.csv", "--out", "this is a file"]),
    (["sites", "--toml"], ["--toml", "Name"]),
    (["sites", "--copy", "mine.toml"], ["--copy", "Name"]),
    (["aircraft", "--copy", "mine.toml"], ["--copy", "Name"]),
    (["rulebooks", "--toml"], ["--toml", "Name"]),
    (["sites", "no-such-ship"], ["no-such-ship"]),
    (["aircraft", "no-such-jet"], ["no-such-jet"]),
    (["rulebooks", "no-such-book"], ["no-such-book"]),
    (["debrief", "flight.csv", "--site", "no-such-ship"], ["no-such-ship"]),
    (["debrief", "flight.csv", "--aircraft", "no-such-jet"], ["no-such-jet"]),
    (["debrief", "flight.csv", "--rulebook", "no-such-book"], ["no-such-book"]),
]


@pytest.fixture
def desk(tmp_path, monkeypatch) -> Path:
    """A working folder with a recording's name in it, and nothing else of use."""
    (tmp_path / "folder").mkdir()
    (tmp_path / "flight.csv").write_text("time_s,latitude_deg\n0,1\n")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def listing(folder: Path) -> list[str]:
    return sorted(str(path) for path in folder.rglob("*"))


@pytest.mark.parametrize(("words", "expected"), BAD, ids=[" ".join(words) for words, _ in BAD])
def test_a_bad_option_is_told_in_one_message(desk, capsys, words, expected):
    before = listing(desk)
    code = main(words)
    said = capsys.readouterr()
    assert code == 2
    assert said.out == ""
    assert said.err.startswith("deckward: ")
    assert said.err.count("\n") == 1
    for part in expected:
        assert part in said.err
    assert listing(desk) == before


def test_with_json_a_failure_prints_nothing_on_standard_output(desk, capsys):
    assert main(["debrief", "nothing.csv", "--json"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "nothing.csv" in said.err


def test_a_folder_that_cannot_be_written_is_told_before_any_work(desk, monkeypatch, capsys):
    # permissions do not bind the system's owner, as whom these tests may run
    monkeypatch.setattr("deckward.workflow.folder.os.access", lambda path, mode: False)
    assert main(["debrief", "flight.csv", "--out", "folder/pages"]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_a_copy_never_overwrites(desk, capsys):
    name = first_site()
    assert main(["sites", name, "--copy", "flight.csv"]) == 2
    assert "there already" in capsys.readouterr().err
    assert (desk / "flight.csv").read_text().startswith("time_s")


def first_site() -> str:
    from deckward import workflow

    return workflow.SITES.names()[0]
