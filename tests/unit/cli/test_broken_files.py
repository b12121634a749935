"""Broken files given to each command: exit 2 or 3, one message with place and remedy, nothing written."""

from __future__ import annotations

import gzip
import io
import json
import os
import struct
import zlib
from collections.abc import Callable
from pathlib import Path

import numpy as np
import polars as pl
import pytest

from deckward import aircraft, planning, scoring, site
from deckward.cli import main
from support.recorded_flight import columns_of, csv_text, flight

COLUMNS = columns_of(flight(6.0, 10.0))
TEXT = csv_text(COLUMNS)
ROWS = len(next(iter(COLUMNS.values())))
LINES = TEXT.splitlines()
SHIP, JET, RULES = site.source("wintermere"), aircraft.source("sandlark"), scoring.source("strict")
PLAN = planning.source("lantern-evening")


def table(**changed) -> bytes:
    """The flight with some columns replaced (None: left out)."""
    whole = {**COLUMNS, **changed}
    return csv_text({name: values for name, values in whole.items() if values is not None}).encode()


def parquet(**changed) -> bytes:
    data = io.BytesIO()
    pl.DataFrame({**COLUMNS, **changed}).write_parquet(data)
    return data.getvalue()


def rows(*objects) -> bytes:
    return "\n".join(json.dumps(each) for each in objects).encode()


def nested(depth: int) -> str:
    return '{"a":' * depth + "1" + "}" * depth


def bomb(filling: bytes, size: int) -> bytes:
    """A small gzip file that unpacks to ``size`` bytes."""
    pack = zlib.compressobj(9, wbits=31)
    block = filling * (1 << 20)
    return b"".join(pack.compress(block) for _ in range(size >> 20)) + pack.flush()


def trailing() -> bytes:
    """A gzip file with one wrong byte in its check sum."""
    packed = bytearray(gzip.compress(TEXT.encode()))
    packed[-6] ^= 0xFF
    return bytes(packed)


MANY = ",".join(f"c{i}" for i in range(100_000))
#: recordings that no command can use: name, bytes, exit code of debrief, words of place, problem and remedy
RECORDINGS: list[tuple[str, bytes, int, tuple[str, ...]]] = [
    ("nothing", b"", 2, ("is empty", "another file")),
    ("one zero", b"\0", 2, ("no recording", "CSV, Parquet or JSON")),
    ("one letter", b"x", 2, ("holds no rows", "Record again")),
    ("only a mark", b"\xef\xbb\xbf", 2, ("no line that names columns", "header")),
    ("only a wide mark", b"\xff\xfe", 2, ("no line that names columns", "header")),
    ("half a wide sign", b"\xff\xfet", 2, ("no line that names columns", "header")),
    ("only comments", b"# a\n# b\n# c\n", 2, ("flight.csv", "header")),
    ("only line ends", b"\r\r\r\n\n\n\r", 2, ("no line that names columns", "header")),
    ("names only", LINES[0].encode(), 2, ("holds no rows", "Record again")),
    ("names twice", f"{LINES[0]}\n{LINES[0]}\n".encode(), 2, ("flight.csv", "Record again")),
    ("one row", "\n".join(LINES[:2]).encode(), 3, ("no pass", "Seen instead")),
    ("two rows", "\n".join(LINES[:3]).encode(), 3, ("no pass", "Seen instead")),
    ("a flight without a pass", TEXT.encode(), 3, ("no pass", "Seen instead")),
    (
        "line ends of three kinds",
        TEXT.replace("\n", "\r\n", 20).replace("\n", "\r", 25).encode(),
        3,
        ("Seen",),
    ),
    ("every cell no number", table(**{k: ["nan"] * ROWS for k in COLUMNS}), 2, ("time", "Check")),
    ("every cell endless", table(**{k: ["inf"] * ROWS for k in COLUMNS}), 2, ("time", "Check")),
    ("every cell huge", table(**{k: ["1e308"] * ROWS for k in COLUMNS}), 2, ("time", "flight.csv")),
    ("every cell empty", table(**{k: [""] * ROWS for k in COLUMNS}), 2, ("time", "Check")),
    ("every cell zero", table(**{k: ["0"] * ROWS for k in COLUMNS}), 3, ("no pass", "Seen instead")),
    ("airspeed nothing", table(true_airspeed_kt=["0"] * ROWS), 3, ("no pass", "Seen instead")),
    ("time stands still", table(time_s=[7.0] * ROWS), 3, ("no pass", "Seen instead")),
    ("time runs back", table(time_s=COLUMNS["time_s"][::-1]), 3, ("no pass", "Seen instead")),
    ("time in ages", table(time_s=COLUMNS["time_s"] * 1e12), 2, ("time_s", "time_ms")),
    ("time in nothing", table(time_s=COLUMNS["time_s"] * 1e-9), 3, ("no pass", "Seen instead")),
    ("time not a number", table(time_s=["soon"] * ROWS), 2, ("line 2", "ISO 8601")),
    ("latitude endless", table(latitude_deg=["inf"] * ROWS), 2, ("latitude_deg", "position")),
    (
        "latitude in words",
        table(latitude_deg=["north"] * ROWS),
        2,
        ("column 'latitude_deg'", "numbers"),
    ),
    ("altitude in words", table(altitude_m=["high"] * ROWS), 2, ("column 'altitude_m'", "numbers")),
    ("names twice over", table(latitude_rad=COLUMNS["latitude_deg"]), 2, ("both hold latitude", "Choose")),
    ("100,000 columns of nothing", f"{MANY}\n{MANY}\n".encode(), 2, ("line 1", "one line for each sample")),
    ("a line of 5 MB", b"time_s," + b"y" * 5_000_000 + b"\n1,2\n", 2, ("line 1", "64 KiB")),
    ("a cell of 5 MB", TEXT.encode() + b'"' + b"z" * 5_000_000, 3, ("no pass", "Seen")),
    ("zeros between all", TEXT.encode().replace(b",", b"\0,"), 2, ("flight.csv", "")),
    ("zeros for line ends", TEXT.encode().replace(b"\n", b"\0"), 2, ("flight.csv", "")),
    ("Latin letters", "Höhe;Länge\n1;2\n".encode("latin-1"), 2, ("flight.csv", "time")),
    ("wrong letters", b"\xc3\x28\xa0\xa1,\xe2\x28\xa1\n1,2\n", 2, ("flight.csv", "time")),
    ("steering signs", b"\x1b[31mtime\x1b[0m,\x07alt\n1,2\n", 2, ("no recording", "CSV, Parquet or JSON")),
    ("names of paths", b"../../etc/passwd,C:\\x\n1,2\n", 2, ("../../etc/passwd", "time_s")),
    ("a formula", b"=cmd|'/c x'!A1,b\n1,2\n", 2, ("flight.csv", "time_s")),
    ("a patch", b"--- a/x\n+++ b/x\n@@ -1 +1 @@\n-a\n+b\n", 2, ("flight.csv", "")),
    ("a program", b"\x7fELF" + bytes(200), 2, ("holds no rows", "another file")),
    ("a Java class", b"\xca\xfe\xba\xbe" + bytes(200), 2, ("holds no rows", "another file")),
    ("a tar", b"a.csv".ljust(257, b"\0") + b"ustar\0" + bytes(300), 2, ("flight.csv", "")),
    ("mail", b"From: a\nTo: b\nSubject: c\n\nhello, there\n", 2, ("flight.csv", "")),
    ("TOML", SHIP.encode(), 2, ("flight.csv", "")),
    ("gzip of nothing", gzip.compress(b""), 2, ("holds nothing", "Record again")),
    ("gzip cut", gzip.compress(TEXT.encode())[:40], 2, ("flight.csv", "again")),
    ("gzip, sum wrong", trailing(), 2, ("damaged", "Copy it again")),
    ("gzip in gzip", gzip.compress(gzip.compress(TEXT.encode())), 2, ("no recording", "plain or gzip")),
    ("gzip of zeros", bomb(b"\0", 90 << 20), 2, ("no recording", "CSV, Parquet or JSON")),
    ("gzip of digits", bomb(b"1", 90 << 20), 2, ("flight.csv", "")),
    ("gzip of brackets", gzip.compress(b"[" * 3_000_000), 2, ("flight.csv", "")),
    ("Parquet, cut", parquet()[:500], 2, ("damaged Parquet", "again")),
    ("Parquet, only marks", b"PAR1" + bytes(200) + b"PAR1", 2, ("damaged Parquet", "again")),
    (
        "Parquet, foot too long",
        parquet()[:-8] + struct.pack("<I", 0x7FFFFFFF) + b"PAR1",
        2,
        ("Parquet", "again"),
    ),
    ("Parquet, middle lost", parquet()[:200] + parquet()[-600:], 2, ("Parquet", "again")),
    ("Parquet of words", parquet(pitch_deg=["up"] * ROWS), 2, ("pitch_deg", "number")),
    ("Parquet of truths", parquet(latitude_deg=[True] * ROWS), 3, ("no pass", "Seen instead")),
    ("Parquet of nothing", parquet(latitude_deg=[None] * ROWS), 2, ("latitude_deg", "position")),
    (
        "Parquet of times",
        parquet(altitude_m=pl.Series([1] * ROWS).cast(pl.Datetime("us"))),
        2,
        ("altitude_m", ""),
    ),
    ("Parquet of objects", parquet(altitude_m=[{"a": 1.0}] * ROWS), 2, ("altitude_m", "number")),
    ("JSON cut", b'{"time_s": 0, "latitude', 2, ("line 1", "one object a line")),
    ("JSON null", b"null", 2, ("flight.csv", "")),
    ("JSON number", b"[1e999]", 2, ("no object", "time_s")),
    ("JSON nested", nested(50_000).encode(), 2, ("flight.csv", "one object a line")),
    ("JSON nested a little", nested(40).encode(), 2, ("flight.csv", "time_s")),
    ("JSON lists nested", b"[" * 100_000 + b"]" * 100_000, 2, ("flight.csv", "one object a line")),
    ("JSON keys twice", b'{"time_s": 0, "time_s": 1}\n' * 9, 2, ("latitude", "latitude_deg")),
    ("JSON of huge whole numbers", b'{"time_s": 1' + b"0" * 4000 + b"}\n" * 3, 2, ("flight.csv", "")),
    ("JSON of longer ones", b'{"time_s": 1' + b"0" * 9000 + b"}\n" * 3, 2, ("flight.csv", "")),
    ("JSON, half signs", rows({"\ud800": 1, "time_s": 0}), 2, ("latitude", "latitude_deg")),
    ("JSON of lists", rows({"time_s": [0, 1], "latitude_deg": [1, 2]}), 2, ("flight.csv", "")),
    ("JSON of long lists", rows({"time_s": list(range(5000))}), 2, ("flight.csv", "")),
    ("JSON rows of no key", rows({}, {}, {}), 2, ("flight.csv", "")),
    ("JSON, one key a row", rows(*({f"k{i}": i} for i in range(3000))), 2, ("3,000 columns", "Export")),
    (
        "JSON with words for numbers",
        rows(*({**dict.fromkeys(COLUMNS, "x")} for _ in range(4))),
        2,
        ("'x'", ""),
    ),
    (
        "JSON, NaN all over",
        rows(*({**dict.fromkeys(COLUMNS, float("nan"))} for _ in range(4))),
        2,
        ("time", ""),
    ),
]


WHAT = [row[0] for row in RECORDINGS]


@pytest.fixture
def desk(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def told(argv: list[str], capsys, code: int | tuple[int, ...]) -> str:
    """Run a command; its one message. Nothing on standard output, nothing written."""
    before = sorted(Path().rglob("*"))
    found = main(argv)
    out, err = capsys.readouterr()
    assert found in ((code,) if isinstance(code, int) else code), err or out[:500]
    assert out == ""
    assert "Traceback" not in err and len(err) < 6000
    assert all(sign.isprintable() or sign == "\n" for sign in err)
    assert sorted(Path().rglob("*")) == before
    return err


@pytest.mark.parametrize(
    ("data", "code", "words"), [r[1:] for r in RECORDINGS], ids=[r[0] for r in RECORDINGS]
)
def test_a_broken_recording_is_refused_by_debrief(desk, capsys, data, code, words):
    Path("flight.csv").write_bytes(data)
    message = told(["debrief", "flight.csv", "--out", "pages", "--draft-map", "map.toml"], capsys, code)
    assert message.startswith("deckward: flight.csv")
    for word in words:
        assert word in message


@pytest.mark.parametrize(("data", "code"), [r[1:3] for r in RECORDINGS], ids=WHAT)
def test_the_same_to_columns_and_measure(desk, capsys, data, code):
    """``columns`` may read what no debrief can use; then it says what it left out. Never a trace."""
    Path("flight.csv").write_bytes(data)
    assert main(["columns", "flight.csv", "--json"]) in (0, 2)
    said = capsys.readouterr()
    assert (said.out == "") != (said.err == "")
    assert json.loads(said.out)["schema"] == "deckward.columns/1" if said.out else "flight.csv" in said.err
    message = told(["measure", "site", "flight.csv", "--copy", "ship.toml", "--out", "seen"], capsys, 2)
    assert "flight.csv" in message


def toml_cases(good: str, option: str) -> list[tuple[str, bytes, tuple[str, ...]]]:
    """Files that no reader of hand-written TOML takes: what, bytes, words of place and remedy."""
    return [
        ("empty", b"", ("name", "missing")),
        ("only a comment", b"# nothing\n", ("name", "missing")),
        ("zeros", bytes(300), ("line 1", "")),
        ("a picture", b"\x89PNG\r\n\x1a\n" + bytes(64), ("UTF-8", "")),
        ("wide letters", good.encode("utf-16"), ("UTF-8", "")),
        ("Latin letters", "name = \"Möwe\"\n".encode("latin-1"), ("UTF-8", "")),
        ("JSON", b'{"name": "x"}', ("line 1", "TOML")),
        ("cut", good.encode()[: len(good) // 2 - 3], ("", "")),
        ("key twice", b'name = "a"\nname = "b"\n', ("line 2", "twice")),
        ("table twice", f"{good}\n[zz]\n[zz]\n".encode(), ("twice", "")),
        ("unknown key", b'nam = "x"\n' + good.encode(), ("nam", "Did you mean 'name'")),
        ("unknown table", f"{good}\n[zzyzx]\na = 1\n".encode(), ("zzyzx", "unknown")),
        ("name is a number", good.replace("name = ", "name = 1 #", 1).encode(), ("name", "number 1")),
        ("name is a list", good.replace("name = ", "name = [] #", 1).encode(), ("name", "list")),
        ("name is endless", good.replace("name = ", f'name = "{"x" * 100_000}" #', 1).encode(), ("name", "")),
        ("name steers", good.replace("name = ", 'name = "\\u001b[2J" #', 1).encode(), ("name", "")),
        ("lists nested", f"a = {'[' * 3000}{']' * 3000}\n".encode(), ("nested", "")),
        ("tables nested", ("a" + ".a" * 5000 + " = 1\n").encode(), ("", "")),
        ("inline nested", ("a = " + "{b=" * 3000 + "1" + "}" * 3000 + "\n").encode(), ("nested", "")),
        ("number endless", f"{good}\nzz = {'9' * 5000}\n".encode(), ("", "")),
        ("10 MB", b"#" + b"x" * 10_000_000, ("larger", "")),
        ("many keys", "".join(f"k{i} = 1\n" for i in range(20_000)).encode(), ("k0", "unknown")),
    ]  # fmt: skip


WHERE = {
    "site": (SHIP, ["sites", "mine.toml"]),
    "aircraft": (JET, ["aircraft", "mine.toml"]),
    "rulebook": (RULES, ["rulebooks", "mine.toml"]),
    "scenario": (PLAN, ["scenarios", "mine.toml"]),
    "plan": (PLAN, ["plan", "mine.toml", "--out", "cards"]),
    "map": (
        '[[column]]\nsource = "a"\nquantity = "ignore"\n',
        ["debrief", "flight.csv", "--map", "mine.toml"],
    ),
    "pilot": ("", ["study", "--pilot", "mine.toml", "--number", "10", "--out", "study"]),
}
#: what is no fault there: a map and a scenario may be empty, a map and a pilot have no name
NO_FAULT = {
    "map": ("name ", "empty", "only a comment", "cut", "unknown key"),
    "pilot": ("name ", "empty", "only a comment", "cut", "unknown key"),
    "scenario": ("empty", "only a comment"),
    "plan": ("empty", "only a comment"),
}
TOML = [
    (f"{kind}: {what}", kind, data, words)
    for kind, (good, _) in WHERE.items()
    for what, data, words in toml_cases(good, kind)
    if not what.startswith(NO_FAULT.get(kind, ("~",)))
]


@pytest.mark.parametrize(("kind", "data", "words"), [r[1:] for r in TOML], ids=[r[0] for r in TOML])
def test_a_broken_file_of_facts_is_refused_by_its_command(desk, capsys, kind, data, words):
    Path("flight.csv").write_text(TEXT, encoding="utf-8")
    Path("mine.toml").write_bytes(data)
    message = told(WHERE[kind][1], capsys, 2)
    assert "mine.toml" in message
    for word in words:
        assert word in message


#: what stands where a file should: how it is made, words of the message
PLACES: list[tuple[str, Callable[[Path], object], tuple[str, ...]]] = [
    ("a folder", lambda at: at.mkdir(), ("is a folder", "Name")),
    ("a link to itself", lambda at: at.symlink_to(at.name), ("mine",)),
    ("links in a ring", lambda at: (at.symlink_to("b"), Path("b").symlink_to(at.name)), ("mine",)),
    ("a link to nothing", lambda at: at.symlink_to("gone"), ("mine",)),
    ("a pipe", lambda at: os.mkfifo(at), ("not a regular file",)),
    ("nothing at all", lambda at: None, ("mine",)),
]
ASKED = {
    "debrief": ["debrief", "mine", "--out", "pages"],
    "ship": ["debrief", "flight.csv", "--ship", "mine"],
    "map": ["debrief", "flight.csv", "--map", "mine"],
    "site": ["debrief", "flight.csv", "--site", "./mine"],
    "aircraft": ["debrief", "flight.csv", "--aircraft", "./mine"],
    "rulebook": ["debrief", "flight.csv", "--rulebook", "./mine"],
    "plan of a debrief": ["debrief", "flight.csv", "--plan", "./mine"],
    "columns": ["columns", "mine", "--out", "map.toml"],
    "measure": ["measure", "site", "mine"],
    "measure at the ramp": ["measure", "site", "flight.csv", "--at-ramp", "mine"],
    "plan": ["plan", "./mine", "--out", "cards"],
    "study": ["study", "--site", "./mine", "--number", "10"],
    "pilot": ["study", "--pilot", "./mine", "--number", "10"],
}


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no links and pipes here")
@pytest.mark.parametrize(("make", "words"), [row[1:] for row in PLACES], ids=[row[0] for row in PLACES])
@pytest.mark.parametrize("argv", ASKED.values(), ids=ASKED)
def test_what_is_no_file_is_refused_without_waiting_for_it(desk, capsys, argv, make, words):
    Path("flight.csv").write_text(TEXT, encoding="utf-8")
    make(Path("mine"))
    message = told(argv, capsys, 2)
    assert "mine" in message


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0, reason="whoever may read all reads this too"
)
@pytest.mark.parametrize("argv", ASKED.values(), ids=ASKED)
def test_a_file_that_may_not_be_read_is_refused(desk, capsys, argv):
    Path("flight.csv").write_text(TEXT, encoding="utf-8")
    Path("mine").write_text(TEXT, encoding="utf-8")
    Path("mine").chmod(0)
    assert "mine" in told(argv, capsys, 2)


#: names that lead out of a folder, or are no names
ODD_NAMES = [
    "../../x.csv",
    "/nonexistent/x.csv",
    "a\nb.csv",
    "x" * 300,
    "-",
    "~nobody/x.csv",
    "con.csv/../x",
    "",
]


@pytest.mark.parametrize("name", ODD_NAMES, ids=repr)
@pytest.mark.parametrize("command", [["debrief"], ["columns"], ["measure", "site"]], ids=" ".join)
def test_a_name_that_is_no_file_is_refused(desk, capsys, command, name):
    told([*command, name], capsys, 2)


@pytest.mark.parametrize("name", ["x" * 300, "a/" + "y" * 300], ids=["long", "long in a folder"])
def test_a_name_that_no_folder_or_file_can_have_is_refused(desk, capsys, name):
    Path("flight.csv").write_text(TEXT, encoding="utf-8")
    for argv in (
        ["debrief", "flight.csv", "--out", name],
        ["columns", "flight.csv", "--out", name],
        ["plan", "lantern-evening", "wind", "--out", name],
        ["sites", "wintermere", "--copy", name],
    ):
        # without a pass there is nothing to write
        assert main(argv) in (2, 3)
        assert "Traceback" not in capsys.readouterr().err
    assert [path.name for path in desk.iterdir()] == ["flight.csv"]


def test_a_who_that_looks_like_a_path_names_no_file(desk, capsys):
    """Craft are named by the file; a page's name never leaves its folder."""
    Path("flight.csv").write_bytes(table(who=["../../x"] * ROWS))
    assert main(["debrief", "flight.csv", "--out", "pages"]) == 3
    assert sorted(path.name for path in desk.iterdir()) == ["flight.csv"]
    capsys.readouterr()


def test_there_are_three_hundred_in_this_file_alone():
    names = [row[0] for row in RECORDINGS] + [row[0] for row in TOML]
    assert len(set(names)) == len(names)
    assert np.unique([zlib.crc32(row[1]) for row in RECORDINGS]).size == len(RECORDINGS)
    assert len(names) + len(PLACES) * len(ASKED) + 3 * len(ODD_NAMES) >= 300
