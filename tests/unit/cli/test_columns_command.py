"""``deckward columns``, the conversation it holds, and ``debrief`` on a stranger's table."""

from __future__ import annotations

import io
import json
import re

import pytest

from deckward.cli import conversation, main
from deckward.recordings import read_column_map
from support.foreign_files import file_named

#: names of one approach, as a stranger might have them
STRANGE = {
    "time_s": "Zeit [s]",
    "latitude_deg": "Breite",
    "longitude_deg": "Laenge",
    "altitude_m": "Hoehe",
    "pitch_deg": "Nick",
    "roll_deg": "Querlage rechts",
    "heading_deg": "Kurs rechtweisend",
    "true_airspeed_kt": "TAS [kt]",
    "angle_of_attack_deg": "Anstellwinkel",
    "ship_latitude_deg": "Schiff Breite",
    "ship_longitude_deg": "Schiff Laenge",
    "ship_altitude_m": "Schiff Hoehe",
    "ship_heading_deg": "Schiff Kurs",
}


@pytest.fixture
def strange(desk):
    """The desk's approach under names of a stranger's."""
    lines = (desk / "flight.csv").read_text(encoding="utf-8").splitlines()
    lines[0] = ",".join(STRANGE.get(name, name) for name in lines[0].split(","))
    (desk / "fremd.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return desk


@pytest.fixture
def doubtful(desk):
    """A file with one nameless speed."""
    return file_named("one speed").write(desk).name


@pytest.fixture
def answers(monkeypatch):
    """Somebody at a terminal who gives these answers."""

    def sit_down(*lines: str) -> None:
        monkeypatch.setattr(conversation, "there_is_someone", lambda: True)
        monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in lines)))

    return sit_down


def test_columns_tells_what_each_column_holds_and_why(strange, capsys):
    assert main(["columns", "fremd.csv"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "Hoehe altitude, m (" in said
    assert "Schiff Kurs ship heading, deg (" in said
    assert "Keep it: deckward columns fremd.csv --out MAP.toml" in said


def test_columns_prints_one_object(strange, capsys):
    assert main(["columns", "fremd.csv", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["schema"] == "deckward.columns/1"
    assert set(told) == {"schema", "columns", "questions"}
    keys = {"source", "quantity", "unit", "sign", "confidence", "why", "asked"}
    assert all(set(column) == keys for column in told["columns"])
    by_name = {column["source"]: column for column in told["columns"]}
    assert [by_name["Hoehe"][key] for key in ("quantity", "unit", "sign")] == ["altitude", "m", 1]
    assert all(0.0 < column["confidence"] <= 1.0 and column["why"] for column in told["columns"])


def test_columns_says_what_is_to_be_decided(doubtful, desk, capsys):
    assert main(["columns", doubtful]) == 0
    said = capsys.readouterr().out
    assert "To be decided" in said
    assert "Which speed is 'speed'?" in said
    assert main(["columns", doubtful, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    (question,) = told["questions"]
    assert question["columns"] == ["speed"]
    assert question["choices"][:2] == ["true airspeed", "indicated airspeed"]
    assert [column["asked"] for column in told["columns"] if column["source"] == "speed"] == [True]


def test_a_map_is_written_once_and_read_back(strange, capsys):
    assert main(["columns", "fremd.csv", "--out", "fremd.toml"]) == 0
    assert "Written: fremd.toml" in capsys.readouterr().err
    assert {rule.source for rule in read_column_map("fremd.toml").columns} >= set(STRANGE.values())
    assert main(["columns", "fremd.csv", "--out", "fremd.toml"]) == 2
    assert "there already" in capsys.readouterr().err


def test_answers_at_a_terminal_are_kept_for_the_next_recording(doubtful, answers, capsys):
    answers("what?", "9", "2", "")
    assert main(["columns", doubtful]) == 0
    said = capsys.readouterr()
    assert "Please answer with a number from 1 to 3" in said.err
    kept = re.search(r"Written: (\S+)", said.err)[1]
    rules = {rule.source: rule for rule in read_column_map(kept).columns}
    assert (rules["speed"].quantity, rules["speed"].unit) == ("indicated_airspeed", "kt")
    assert rules["speed"].why == "answered: indicated airspeed"


def test_a_name_that_is_taken_is_asked_again(doubtful, answers, desk, capsys):
    (desk / "mine.toml").write_text("", encoding="utf-8")
    answers("1", "mine.toml", "-")
    assert main(["columns", doubtful]) == 0
    assert "there already" in capsys.readouterr().err
    assert (desk / "mine.toml").read_text(encoding="utf-8") == ""


def test_leaving_the_conversation_writes_nothing(doubtful, answers, desk, capsys):
    answers()
    before = set(desk.iterdir())
    assert main(["columns", doubtful, "--out", "new.toml"]) == 2
    assert "no answer was given" in capsys.readouterr().err
    assert set(desk.iterdir()) == before


def test_debrief_works_out_a_strangers_columns_and_says_so(strange, capsys):
    common = ["--site", "ship.toml", "--aircraft", "jet.toml", "--json"]
    assert main(["debrief", "flight.csv", *common]) == 0
    known = json.loads(capsys.readouterr().out)
    assert main(["debrief", "fremd.csv", *common]) == 0
    told = json.loads(capsys.readouterr().out)
    assert "columns-drafted" in {note["code"] for note in told["recording"]["notes"]}
    for key in ("outcome", "wire", "touchdown", "ramp"):
        assert told["passes"][0][key] == known["passes"][0][key]


def test_debrief_stops_where_something_must_be_decided(doubtful, desk, capsys):
    before = set(desk.iterdir())
    assert main(["debrief", doubtful, "--out", "pages"]) == 2
    said = capsys.readouterr().err
    assert "one thing must be decided" in said
    assert "Which speed is 'speed'?" in said
    assert "--draft-map" in said
    assert set(desk.iterdir()) == before


def test_debrief_writes_the_draft_where_asked(doubtful, desk, capsys):
    assert main(["debrief", doubtful, "--draft-map", "draft.toml"]) == 2
    assert "Decide in draft.toml" in capsys.readouterr().err
    assert "asked = true" in (desk / "draft.toml").read_text(encoding="utf-8")
    assert main(["debrief", doubtful, "--map", "draft.toml"]) == 2
    assert "still an open question" in capsys.readouterr().err
    decided = (desk / "draft.toml").read_text(encoding="utf-8").replace("asked = true", "asked = false")
    (desk / "draft.toml").write_text(decided, encoding="utf-8")
    assert main(["debrief", doubtful, "--map", "draft.toml"]) == 0


def test_debrief_asks_at_a_terminal(doubtful, answers, capsys):
    answers("3")
    assert main(["debrief", doubtful, "--quiet"]) == 0
    assert "1 of 1. Which speed is 'speed'?" in " ".join(capsys.readouterr().err.split())


def test_a_ship_of_her_own_file_may_have_strange_names_too(strange, desk, capsys):
    lines = [line.split(",") for line in (desk / "fremd.csv").read_text(encoding="utf-8").splitlines()]
    ship = [i for i, name in enumerate(lines[0]) if name.startswith("Schiff")]
    names = ["Zeit [s]", *(lines[0][i].removeprefix("Schiff ") for i in ship)]
    names[names.index("Hoehe")] = "Hoehe [m]"
    rows = [names, *([row[0], *(row[i] for i in ship)] for row in lines[1:])]
    (desk / "schiff.csv").write_text("\n".join(map(",".join, rows)) + "\n", encoding="utf-8")
    rows = [[cell for i, cell in enumerate(row) if i not in ship] for row in lines]
    (desk / "jet.csv").write_text("\n".join(map(",".join, rows)) + "\n", encoding="utf-8")
    words = ["debrief", "jet.csv", "--ship", "schiff.csv", "--site", "ship.toml", "--aircraft", "jet.toml"]
    assert main(["debrief", "flight.csv", *words[4:], "--json"]) == 0
    known = json.loads(capsys.readouterr().out)
    assert main([*words, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    notes = [note["text"] for note in told["recording"]["notes"] if note["code"] == "columns-drafted"]
    assert [text.split(" hold ")[0][-10:] for text in notes] == ["of jet.csv", "schiff.csv"]
    assert told["passes"][0]["outcome"] == known["passes"][0]["outcome"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["columns"], ["RECORDING is missing"]),
        (["columns", "nothing.csv"], ["nothing.csv", "there is no such file"]),
        (["columns", "."], ["folder"]),
        (["columns", "empty.csv"], ["empty.csv", "is empty"]),
        (["columns", "noise.csv"], ["noise.csv"]),
        (["columns", "names.csv"], ["names.csv", "no rows"]),
        (["columns", "flight.csv", "--map", "x"], ["there is no option --map"]),
        (["columns", "flight.csv", "--out"], ["--out", "needs a value"]),
        (["columns", "flight.csv", "--out", "no/such/folder.toml"], ["cannot be written"]),
    ],
)
def test_what_cannot_be_drafted_is_told(desk, capsys, words, said):
    (desk / "empty.csv").write_bytes(b"")
    (desk / "noise.csv").write_bytes(bytes(range(256)) * 20)
    (desk / "names.csv").write_text("Zeit,Breite,Laenge\n", encoding="utf-8")
    assert main(words) == 2
    out, err = capsys.readouterr()
    for word in said:
        assert word in err
    assert out == "" or "--out" in words
