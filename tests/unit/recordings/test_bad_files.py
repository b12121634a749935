"""Bad and odd files: each ends in an error with file, place and remedy, or in a note. Never a traceback."""

from __future__ import annotations

import gzip
import json
import os
import zlib
from collections.abc import Callable
from pathlib import Path

import numpy as np
import polars as pl
import pytest

from deckward.errors import InputError
from deckward.recordings import open_recording, read_column_map
from support.recorded_flight import columns_of, csv_text, flight

COLUMNS = columns_of(flight(15.0))
ROWS = 300
TEXT = csv_text(COLUMNS)
LINES = TEXT.splitlines()
NAMES = LINES[0].split(",")
OWN = {name: values for name, values in COLUMNS.items() if not name.startswith("ship_")}


def text(lines=None, **columns) -> bytes:
    """The flight as CSV with some columns replaced, or without them where None."""
    if lines is not None:
        return ("\n".join(lines) + "\n").encode()
    changed = {**COLUMNS, **columns}
    return csv_text({name: values for name, values in changed.items() if values is not None}).encode()


def renamed(**names: str | None) -> bytes:
    """The flight as CSV with columns called otherwise, or without them where None."""
    return csv_text(
        {
            names.get(name, name): values
            for name, values in COLUMNS.items()
            if names.get(name, name) is not None
        }
    ).encode()


def cell(row: int, column: str, value: str) -> list[str]:
    """The lines of the flight with one cell replaced; row 0 is the first sample."""
    lines = list(LINES)
    cells = lines[row + 1].split(",")
    cells[NAMES.index(column)] = value
    lines[row + 1] = ",".join(cells)
    return lines


def filled(column: str, value: str) -> bytes:
    return text(**{column: [value] * ROWS})


def parquet(frame: pl.DataFrame, tmp_path: Path) -> bytes:
    path = tmp_path / "made.parquet"
    frame.write_parquet(path)
    data = path.read_bytes()
    path.unlink()
    return data


def bomb(size: int) -> bytes:
    pack = zlib.compressobj(9, wbits=31)
    head = pack.compress((LINES[0] + "\n").encode())
    row = ("0," * (len(NAMES) - 1) + "0\n").encode() * 20_000
    return head + b"".join(pack.compress(row) for _ in range(size // len(row))) + pack.flush()


def damaged() -> bytes:
    packed = bytearray(gzip.compress(TEXT.encode()))
    packed[len(packed) // 2] ^= 0xFF
    return bytes(packed)


def swapped_names() -> bytes:
    return renamed(latitude_deg="longitude_deg", longitude_deg="latitude_deg")


#: what it is, the file's bytes, then what the error says: place, problem, remedy
REFUSED: list[tuple[str, bytes | Callable[[Path], bytes], str, str, str]] = [
    ("empty", b"", "", "is empty", "another file"),
    ("only blanks", b"\n\n  \n", "", "no line that names columns", "header"),
    ("only zeros", bytes(4096), "", "no recording that can be read", "CSV, Parquet or JSON"),
    ("random bytes", np.random.default_rng(1).bytes(3000), "", "no recording", "CSV, Parquet"),
    ("zip", b"PK\x03\x04" + bytes(100), "", "zip archive or spreadsheet", "CSV"),
    ("zstd", b"\x28\xb5\x2f\xfd" + bytes(100), "", "zstd", "Unpack"),
    ("bzip2", b"BZh91AY&SY" + bytes(100), "", "bzip2", "Unpack"),
    ("xz", b"\xfd7zXZ\x00" + bytes(100), "", "xz", "Unpack"),
    ("HDF5", b"\x89HDF\r\n\x1a\n" + bytes(100), "", "HDF5", "Export"),
    ("database", b"SQLite format 3\0" + bytes(100), "", "SQLite", "Export"),
    ("PDF", b"%PDF-1.7\n%\xe2\xe3\n", "", "PDF", "recording itself"),
    ("picture", b"\x89PNG\r\n\x1a\n" + bytes(64), "", "picture", "recording itself"),
    (
        "web page",
        b"<!doctype html><html><body>not found</body></html>",
        "",
        "HTML or XML",
        "recording itself",
    ),
    ("XML", b"<?xml version='1.0'?>\n<track/>", "", "HTML or XML", "recording itself"),
    ("header only", (LINES[0] + "\n").encode(), "", "holds no rows", "Record again"),
    ("header only, no line end", LINES[0].encode(), "", "holds no rows", "Record again"),
    ("header and blank lines", (LINES[0] + "\n\n\n").encode(), "", "holds no rows", "Record again"),
    ("no header", text(LINES[1:]), "line 1", "numbers where the names", "time_s,latitude_deg"),
    ("prose", b"Dear diary,\ntoday I flew.\n", "Dear diary", "no column holds time", "time_s"),
    (
        "one column",
        b"time_s\n1\n2\n",
        "columns time_s",
        "no column holds latitude, longitude, altitude",
        "altitude_m",
    ),
    ("no time", renamed(time_s=None), "columns latitude_deg", "no column holds time", "ISO 8601"),
    ("no latitude", renamed(latitude_deg=None), "columns", "holds latitude", "latitude_deg"),
    ("no longitude", renamed(longitude_deg=None), "columns", "holds longitude", "longitude_deg"),
    ("no altitude", renamed(altitude_m=None), "columns", "holds altitude", "altitude_ft"),
    (
        "altitude without unit",
        renamed(altitude_m="altitude"),
        "columns",
        "holds altitude",
        "'altitude' looks like",
    ),
    (
        "altitude in knots",
        renamed(altitude_m="altitude_kt"),
        "columns",
        "holds altitude",
        "'altitude_kt' looks like",
    ),
    (
        "short names",
        renamed(latitude_deg="Lat", longitude_deg="Lon"),
        "columns",
        "latitude, longitude",
        "'Lat' looks",
    ),
    (
        "misspelt",
        renamed(longitude_deg="longtitude_deg"),
        "columns",
        "longitude",
        "'longtitude_deg' looks like",
    ),
    ("time by another name", renamed(time_s="t [s]"), "columns", "holds time", "'t [s]' looks like time"),
    (
        "half a plane",
        renamed(latitude_deg="north_m", longitude_deg=None),
        "columns",
        "position",
        "longitude_deg",
    ),
    (
        "one quantity twice",
        text(altitude_ft=COLUMNS["altitude_m"]),
        "columns 4 and 26",
        "'altitude_m' and 'altitude_ft' both hold altitude",
        "Choose",
    ),
    (
        "one name twice",
        renamed(roll_deg="pitch_deg_").replace(b"pitch_deg_", b"pitch_deg"),
        "columns",
        "two columns are named 'pitch_deg'",
        "rename",
    ),
    ("ship twice", text(ship_heading_rad=COLUMNS["ship_heading_deg"]), "columns", "ship_heading", "Choose"),
    ("time and bare time", text(time=COLUMNS["time_s"]), "columns 1 and 26", "both hold time", "Choose"),
    (
        "words for a quantity",
        filled("pitch_deg", "level"),
        "line 2, column 'pitch_deg'",
        "'level' is no number",
        "plain numbers",
    ),
    (
        "another unit in the cells",
        filled("altitude_m", "180 ft"),
        "line 2, column 'altitude_m'",
        "'180 ft'",
        "belongs in the column's name",
    ),
    ("words for a switch", filled("hook", "maybe"), "line 2, column 'hook'", "'maybe'", "plain numbers"),
    (
        "grouping commas",
        csv_text({**COLUMNS, "altitude_m": ["1,180.5"] * ROWS}, delimiter=";").encode(),
        "line 2, column 'altitude_m'",
        "'1,180.5'",
        "grouping commas",
    ),
    ("decimal commas between commas", text().replace(b".", b","), "line 2", "50 cells", "decimal commas"),
    (
        "wrong time",
        text(time_s=None, time=["soon"] * ROWS),
        "line 2, column 'time'",
        "is no time",
        "ISO 8601",
    ),
    (
        "dates of another order",
        text(time_s=None, time=["17/05/2031 12:00:00"] * ROWS),
        "line 2, column 'time'",
        "'17/05/2031 12:00:00' is no time",
        "time_format",
    ),
    (
        "hours past the day",
        text(time_s=None, time=["77:00:01"] * ROWS),
        "line 2, column 'time'",
        "'77:00:01' is no time",
        "UTC clock",
    ),
    ("time without any value", text(time_s=[""] * ROWS), "", "no row with a time", "time column"),
    (
        "bare time of no known unit",
        text(time_s=None, time=np.arange(ROWS) * 1e-5),
        "column 'time'",
        "has no unit",
        "time_ms",
    ),
    (
        "milliseconds called seconds",
        text(time_s=np.arange(ROWS) * 50.0),
        "column 'time_s'",
        "samples would be 50 s apart",
        "time_ms",
    ),
    (
        "minutes called seconds",
        text(time_s=[f"{t:.8f}" for t in np.arange(ROWS) / 1200.0]),
        "column 'time_s'",
        "another unit",
        "time_min",
    ),
    (
        "latitude without any value",
        text(latitude_deg=[""] * ROWS),
        "column 'latitude_deg'",
        "no value of latitude",
        "position",
    ),
    (
        "latitude out of range",
        text(latitude_deg=COLUMNS["latitude_deg"] * 1e5),
        "column 'latitude_deg'",
        "no latitude has in degrees",
        "latitude_deg or latitude_rad",
    ),
    (
        "degrees called radians",
        renamed(latitude_deg="latitude_rad", longitude_deg="longitude_rad"),
        "column 'latitude_rad'",
        "no latitude has in radians",
        "latitude_deg",
    ),
    (
        "radians called degrees",
        text(**{k: [f"{v:.11f}" for v in np.radians(COLUMNS[k])] for k in ("latitude_deg", "longitude_deg")}),
        "columns 'latitude_deg' and 'longitude_deg'",
        "another unit",
        "latitude_rad",
    ),
    (
        "swapped, out of range",
        text(latitude_deg=COLUMNS["longitude_deg"] - 40.0, longitude_deg=COLUMNS["latitude_deg"]),
        "column 'latitude_deg'",
        "no latitude has",
        "exchange their names",
    ),
    (
        "altitude past the sky",
        text(altitude_m=COLUMNS["altitude_m"] + 1e6),
        "column 'altitude_m'",
        "no altitude has",
        "altitude_ft",
    ),
    (
        "uneven rows, most",
        text([LINES[0], *(line + ",1,2" for line in LINES[1:])]),
        "line 2",
        "27 cells here",
        "file.delimiter",
    ),
    (
        "too few cells, most",
        text([LINES[0], *(line.rpartition(",")[0] for line in LINES[1:])]),
        "line 2",
        "24 cells here",
        "file.delimiter",
    ),
    (
        "enormous first line",
        b"time_s," + b"x" * 200_000 + b"\n1,2\n",
        "line 1",
        "longer than 64 KiB",
        "one line for each sample",
    ),
    ("only the ship", text(who=["ship"] * ROWS), "", "only the ship", "aircraft's recording"),
    ("names without any", text(who=[""] * ROWS), "column 'who'", "no name in any row", "Remove"),
    ("packed nothing", gzip.compress(b""), "", "holds nothing", "Record again"),
    ("packed, no text", gzip.compress(TEXT.encode())[:15], "", "before any text", "Copy it again"),
    ("packed, damaged", damaged(), "", "damaged", "Copy it again"),
    ("packed, not at all", b"\x1f\x8b" + b"\x00" * 500, "", "damaged", "Copy it again"),
    ("packed bomb", bomb(80 << 20), "", "unpacks to more than", "cut it into parts"),
    ("packed picture", gzip.compress(b"\x89PNG\r\n\x1a\n" + bytes(64)), "", "picture", "recording itself"),
    ("Parquet, cut", lambda tmp: parquet(pl.DataFrame(COLUMNS), tmp)[:3000], "", "damaged Parquet", "again"),
    ("Parquet, only its mark", b"PAR1", "", "damaged Parquet", "again"),
    (
        "Parquet without rows",
        lambda tmp: parquet(pl.DataFrame(COLUMNS).head(0), tmp),
        "",
        "holds no rows",
        "Record again",
    ),
    (
        "Parquet of lists",
        lambda tmp: parquet(
            pl.DataFrame(COLUMNS).with_columns(pl.concat_list("pitch_deg").alias("pitch_deg")), tmp
        ),
        "column 'pitch_deg'",
        "not numbers",
        "plain number column",
    ),
    (
        "Parquet of dates",
        lambda tmp: parquet(pl.DataFrame(COLUMNS).with_columns(time_s=pl.date(2031, 5, 17)), tmp),
        "column 'time_s'",
        "date values, not numbers",
        "plain number column",
    ),
    ("JSON, broken", b'{"time_s": 0, "latitude_deg"', "line 1", "no JSON object", "one object a line"),
    (
        "JSON, most lines broken",
        b'{"time_s": 0}\nhello\nyou\nthere\n',
        "line 2",
        "'hello'",
        "one object a line",
    ),
    ("JSON array, broken", b'[{"time_s": 0}, ', "", "no whole JSON array", "one object a line"),
    ("JSON array of numbers", b"[1, 2, 3]", "", "element 1 is no object", "time_s"),
    ("JSON array, empty", b"[]", "", "holds no rows", "Record again"),
    (
        "JSON object of settings",
        json.dumps({"wind": {"from": 120}}).encode(),
        "columns wind",
        "no column holds time",
        "time_s",
    ),
    ("JSON, nested without end", b"[" * 200_000, "", "no whole JSON array", "one object a line"),
    (
        "JSON of words",
        "\n".join(json.dumps({**{k: 1.0 for k in NAMES}, "pitch_deg": "up"}) for _ in range(9)).encode(),
        "row 1, column 'pitch_deg'",
        "'up' is no number",
        "plain numbers",
    ),
]


@pytest.mark.parametrize(
    ("data", "place", "problem", "remedy"), [row[1:] for row in REFUSED], ids=[row[0] for row in REFUSED]
)
def test_a_file_that_cannot_be_used_is_refused_with_place_and_remedy(tmp_path, data, place, problem, remedy):
    path = tmp_path / "flight.csv"
    path.write_bytes(data(tmp_path) if callable(data) else data)
    with pytest.raises(InputError) as caught:
        open_recording(path)
    error = caught.value
    assert error.file == str(path)
    assert place in (error.place or "")
    assert problem in error.problem
    assert remedy in (error.remedy or "")
    assert error.exit_code == 2
    assert str(path) in str(error)
    assert "\n" not in str(error)


def test_a_file_that_is_not_there(tmp_path):
    (tmp_path / "flight.csv").write_text(TEXT)
    with pytest.raises(InputError, match=r"no such file.*Did you mean 'flight.csv'"):
        open_recording(tmp_path / "fligth.csv")
    with pytest.raises(InputError, match=r"no such file.*folder does not exist"):
        open_recording(tmp_path / "nowhere" / "flight.csv")


def test_a_folder_is_no_recording(tmp_path):
    with pytest.raises(InputError, match="is a folder"):
        open_recording(tmp_path)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes here")
def test_what_is_no_regular_file_is_refused_without_waiting_for_it(tmp_path):
    os.mkfifo(tmp_path / "pipe.csv")
    with pytest.raises(InputError, match="is not a regular file"):
        open_recording(tmp_path / "pipe.csv")


@pytest.mark.parametrize("path", ["a\0b.csv", "x" * 5000])
def test_a_path_that_no_system_takes(path):
    with pytest.raises(InputError):
        open_recording(path)


#: what it is, the ship's file, then what the error says
SHIPS_REFUSED: list[tuple[str, bytes, str, str]] = [
    ("empty", b"", "is empty", "another file"),
    (
        "without heading",
        renamed(ship_heading_deg=None).replace(b"\nheading_deg", b"\nx"),
        "no column holds heading",
        "heading_deg",
    ),
    (
        "without position",
        csv_text({"time_s": COLUMNS["time_s"], "heading_deg": COLUMNS["ship_heading_deg"]}).encode(),
        "latitude, longitude, altitude",
        "latitude_deg",
    ),
    (
        "without time",
        csv_text({k: v for k, v in COLUMNS.items() if k.startswith("ship_")}).encode(),
        "no column holds time",
        "ship_time_s",
    ),
    (
        "of several craft",
        text(who=["a", "b", "c"] * 100, **{k: None for k in NAMES if k.startswith("ship_")}),
        "several craft",
        'Name the ship\'s rows "ship"',
    ),
    ("in words", filled("ship_heading_deg", "north"), "'north' is no number", "plain numbers"),
]


@pytest.mark.parametrize(
    ("data", "problem", "remedy"), [row[1:] for row in SHIPS_REFUSED], ids=[row[0] for row in SHIPS_REFUSED]
)
def test_a_ship_that_cannot_be_used_is_refused(tmp_path, data, problem, remedy):
    path, ship = tmp_path / "flight.csv", tmp_path / "ship.csv"
    path.write_bytes(csv_text(OWN).encode())
    if data.startswith(b"time_s") and b"ship_heading_deg" not in data and b"ship_latitude_deg" in data:
        data = data.replace(b",heading_deg", b",x", 1)
    ship.write_bytes(data)
    with pytest.raises(InputError) as caught:
        open_recording(path, ship=ship)
    assert caught.value.file == str(ship)
    assert problem in caught.value.problem
    assert remedy in (caught.value.remedy or "")


#: what it is, the map, then what the error says
MAPS_REFUSED: list[tuple[str, str, str]] = [
    ("no TOML", "[[column]\n", "not valid TOML"),
    ("unknown table", "[files]\n", "files.*unknown key.*Did you mean 'file'"),
    ("unknown key of the file", '[file]\ndelimeter = ";"\n', r"file.delimeter.*Did you mean 'delimiter'"),
    (
        "unknown key of a column",
        '[[column]]\nsource = "a"\nquantitty = "ignore"\n',
        "quantitty.*Did you mean 'quantity'",
    ),
    ("no source", '[[column]]\nquantity = "ignore"\n', r"column\[1\].source.*missing"),
    ("no quantity", '[[column]]\nsource = "pitch_deg"\n', r"column\[1\].quantity.*missing"),
    ("a number for a name", '[[column]]\nsource = 3\nquantity = "ignore"\n', r"column\[1\].source.*number 3"),
    (
        "unknown quantity",
        '[[column]]\nsource = "pitch_deg"\nquantity = "ptich"\n',
        "unknown quantity 'ptich'.*Did you mean 'pitch'",
    ),
    ("no unit", '[[column]]\nsource = "pitch_deg"\nquantity = "pitch"\n', "pitch needs a unit"),
    (
        "unit of another kind",
        '[[column]]\nsource = "pitch_deg"\nquantity = "pitch"\nunit = "kt"\n',
        "'kt' is no unit of pitch.*pitch_deg or pitch_rad",
    ),
    (
        "sign",
        '[[column]]\nsource = "pitch_deg"\nquantity = "pitch"\nunit = "deg"\nsign = 2\n',
        r"column\[1\].sign",
    ),
    (
        "open question",
        '[[column]]\nsource = "pitch_deg"\nquantity = "pitch"\nunit = "deg"\nasked = true\n',
        "still an open question",
    ),
    (
        "column twice",
        '[[column]]\nsource = "gear"\nquantity = "ignore"\n' * 2,
        "'gear' stands here twice",
    ),
    ("two characters between cells", '[file]\ndelimiter = ";;"\n', "file.delimiter"),
    ("decimal mark", '[file]\ndecimal = "x"\n', "file.decimal"),
    ("no lines above", "[file]\nheader_lines = -1\n", "file.header_lines.*out of range"),
    (
        "column that is not there",
        '[[column]]\nsource = "ptich_deg"\nquantity = "pitch"\nunit = "deg"\n',
        r"no column 'ptich_deg'.*Did you mean 'pitch_deg'",
    ),
    (
        "two columns for one quantity",
        '[[column]]\nsource = "gear"\nquantity = "pitch"\nunit = "deg"\n',
        "both hold pitch",
    ),
    ("unknown encoding", '[file]\nencoding = "klingon"\n', "unknown encoding 'klingon'"),
    ("header past the end", "[file]\nheader_lines = 5000\n", "no line 5000"),
    (
        "no such pattern",
        '[[column]]\nsource = "time_s"\nquantity = "time"\n[file]\ntime_format = "%Q"\n',
        "time_format '%Q' is no pattern|is no time",
    ),
]


@pytest.mark.parametrize(
    ("body", "message"), [row[1:] for row in MAPS_REFUSED], ids=[row[0] for row in MAPS_REFUSED]
)
def test_a_column_map_that_cannot_be_used_is_refused(tmp_path, body, message):
    path, column_map = tmp_path / "flight.csv", tmp_path / "map.toml"
    path.write_text(TEXT)
    column_map.write_text(body)
    with pytest.raises(InputError, match=message) as caught:
        open_recording(path, column_map=column_map)
    assert caught.value.file in (str(path), str(column_map))


def test_a_column_map_that_is_not_there(tmp_path):
    with pytest.raises(InputError, match="there is no such file"):
        read_column_map(tmp_path / "map.toml")


def repeated(lines: list[str], at: int) -> list[str]:
    return [*lines[:at], lines[at], *lines[at:]]


#: what it is, the file, the note's code, what it says, samples kept
NOTED: list[tuple[str, bytes, str, str, int]] = [
    (
        "a bad cell",
        text(cell(10, "pitch_deg", "abc")),
        "unreadable-cells",
        "pitch_deg: 1 cell holds no number and counts as missing, first on line 12 ('abc')",
        ROWS,
    ),
    (
        "a bad cell after blank lines",
        text([*LINES[:5], "", "", *cell(10, "pitch_deg", "abc")[5:]]),
        "unreadable-cells",
        "first on line 14",
        ROWS,
    ),
    (
        "a bad cell of great size",
        text(cell(10, "pitch_deg", "z" * 300_000)),
        "unreadable-cells",
        "zzz...",
        ROWS,
    ),
    ("a bad time", text(cell(10, "time_s", "soon")), "unreadable-cells", "time_s: 1 cell", ROWS - 1),
    ("two points in a number", text(cell(10, "altitude_m", "1.2.3")), "unreadable-cells", "'1.2.3'", ROWS),
    ("a spreadsheet's error", text(cell(10, "altitude_m", "#REF!")), "unreadable-cells", "'#REF!'", ROWS),
    (
        "a row too short",
        text([*LINES[:20], LINES[20][:60], *LINES[21:]]),
        "uneven-rows",
        "1 row has another number of cells than the 25 columns and was left out, first line 21",
        ROWS - 1,
    ),
    (
        "rows too long",
        text([*LINES[:20], LINES[20] + ",1", LINES[21] + ",1", *LINES[22:]]),
        "uneven-rows",
        "first line 21 (26)",
        ROWS - 2,
    ),
    (
        "a quote that does not end",
        text(cell(10, "gear", '"1')),
        "uneven-rows",
        "line 12 (broken off)",
        ROWS - 1,
    ),
    ("names in the middle", text([*LINES[:50], LINES[0], *LINES[50:]]), "names-again", "line 51", ROWS),
    (
        "a row of units",
        text([LINES[0], ",".join(["unit"] * len(NAMES)), *LINES[1:]]),
        "line-of-words",
        "Line 2 holds no number",
        ROWS,
    ),
    ("zeros at the end", text() + bytes(5000), "", "", ROWS),
    (
        "a zero in a cell",
        text(cell(10, "pitch_deg", "1\0.5")),
        "uneven-rows",
        "line 12 (broken off)",
        ROWS - 1,
    ),
    ("a row twice", text(repeated(LINES, 60)), "repeated-rows", "1 sample repeating the one before", ROWS),
    ("the file twice", text([*LINES, *LINES[1:]]), "repeated-rows", "300 samples", ROWS),
    (
        "halves in the wrong order",
        text([LINES[0], *LINES[150:], *LINES[1:150]]),
        "out-of-order",
        "sorted by time",
        ROWS,
    ),
    (
        "a value past all range",
        text(cell(10, "pitch_deg", "9999")),
        "impossible-values",
        "pitch_deg (1 sample, first at 0.50 s)",
        ROWS,
    ),
    (
        "a number for no value",
        text(cell(10, "altitude_m", "-999")),
        "impossible-values",
        "altitude_m (1 sample",
        ROWS,
    ),
    ("a number too great", text(cell(10, "fuel_lb", "1e400")), "impossible-values", "fuel_lb", ROWS),
    (
        "a place of zeros",
        text(
            cell(11, "longitude_deg", "0")[:1]
            + [
                line
                if i != 12
                else ",".join(
                    "0" if n in ("latitude_deg", "longitude_deg") else c
                    for n, c in zip(NAMES, line.split(","), strict=True)
                )
                for i, line in enumerate(LINES)
            ][1:]
        ),
        "dropouts",
        "0, 0 count as missing (1 sample, first at 0.55 s)",
        ROWS,
    ),
    ("ship without heading", renamed(ship_heading_deg=None), "ship-incomplete", "ship_heading missing", ROWS),
    (
        "ship without altitude",
        renamed(ship_altitude_m=None),
        "ship-incomplete",
        "ship_altitude missing",
        ROWS,
    ),
    (
        "ship in words only",
        renamed(ship_altitude_m="ship_altitude"),
        "ship-incomplete",
        "ship_altitude missing",
        ROWS,
    ),
    ("rows of nobody", text(who=["Wren"] * 290 + [""] * 10), "nameless-rows", "10 rows", ROWS - 10),
    (
        "throttle in per cent",
        text(throttle=COLUMNS["throttle"] * 100.0),
        "implausible-unit",
        "throttle_pct",
        ROWS,
    ),
    (
        "revolutions a minute",
        text(engine_rpm=np.full(ROWS, 8500.0)),
        "implausible-unit",
        "engine_rpm_pct",
        ROWS,
    ),
    (
        "degrees called radians",
        renamed(heading_deg="h", pitch_deg="pitch_rad"),
        "implausible-unit",
        "no pitch has in radians; left out",
        ROWS,
    ),
    ("one sample", text(LINES[:2]), "", "", 1),
    ("two samples", text(LINES[:3]), "", "", 2),
    ("five samples", text(LINES[:6]), "", "", 5),
    ("few samples a second", text([LINES[0], *LINES[1::10]]), "low-rate", "Only 2 samples a second", 30),
    ("a long gap", text([*LINES[:100], *LINES[200:]]), "gap", "A gap of 5.05 s at 4.90 s", ROWS - 100),
]


@pytest.mark.parametrize(
    ("data", "code", "said", "kept"), [row[1:] for row in NOTED], ids=[row[0] for row in NOTED]
)
def test_what_can_be_mended_is_read_with_a_note(tmp_path, data, code, said, kept):
    path = tmp_path / "flight.csv"
    path.write_bytes(data)
    recording = open_recording(path)
    notes = {note.code: note.text for note in recording.notes}
    if code:
        assert said in notes[code]
        assert all(text.endswith(".") and "\n" not in text for text in notes.values())
    else:
        assert notes == {}
    (track,) = recording.aircraft
    assert len(track) == kept
    assert np.all(np.diff(track.time) > 0.0)
    for values in track.channels.values():
        assert not np.isinf(values).any()


def test_the_tables_are_long_enough():
    assert len(REFUSED) + len(SHIPS_REFUSED) + len(MAPS_REFUSED) + len(NOTED) >= 130
    names = [row[0] for row in REFUSED]
    assert len(set(names)) == len(names)
