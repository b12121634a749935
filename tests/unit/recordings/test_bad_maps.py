"""Column maps that cannot be used: each fault is told with the place and what to do."""

from __future__ import annotations

import pytest

from deckward.errors import InputError
from deckward.recordings import open_recording, read_column_map
from support.recorded_flight import columns_of, csv_text, flight

TEXT = csv_text(columns_of(flight(15.0))).replace("altitude_m", "Alt")
COLUMN = '[[column]]\nsource = "Alt"\nquantity = "altitude"\nunit = "m"\n'

#: (what is wrong, the map, words the message must have)
BAD = [
    ("no TOML", "Alt = altitude", ["line 1", "not valid TOML"]),
    ("a text that does not end", '[[column]]\nsource = "Alt\n', ["line 2", "quote"]),
    ("a table twice", "[file]\n[file]\n", ["twice"]),
    ("an unknown table", "[columns]\nAlt = 1\n", ["columns", "Did you mean 'column'"]),
    ("a table for a list", '[column]\nsource = "Alt"\n', ["column"]),
    ("a list for a table", '[[file]]\ndelimiter = ";"\n', ["file"]),
    ("an unknown key of the file", '[file]\nseparator = ";"\n', ["file.separator"]),
    ("a misspelt key of the file", '[file]\ndelimeter = ";"\n', ["delimeter", "delimiter"]),
    ("a delimiter of two signs", '[file]\ndelimiter = ";;"\n', ["file.delimiter", "one character"]),
    ("a delimiter that is a number", "[file]\ndelimiter = 1\n", ["file.delimiter"]),
    ("a decimal that is neither", '[file]\ndecimal = ";"\n', ["file.decimal"]),
    ("an unknown encoding", '[file]\nencoding = "utf-99"\n' + COLUMN, ["utf-99", "cp1252"]),
    ("an encoding that is a number", "[file]\nencoding = 8\n", ["file.encoding"]),
    ("fewer header lines than none", "[file]\nheader_lines = -1\n", ["file.header_lines"]),
    ("a header line in words", '[file]\nheader_lines = "two"\n', ["file.header_lines"]),
    ("half a header line", "[file]\nheader_lines = 1.5\n", ["file.header_lines"]),
    ("a header line past the end", "[file]\nheader_lines = 99999\n" + COLUMN, ["no line 99999"]),
    ("a time format that is a number", "[file]\ntime_format = 12\n", ["file.time_format"]),
    ("a rate of nothing", "[file]\nrate_hz = 0\n", ["file.rate_hz"]),
    ("a rate that runs back", "[file]\nrate_hz = -20.0\n", ["file.rate_hz"]),
    ("a rate past all recorders", "[file]\nrate_hz = 1e6\n", ["file.rate_hz"]),
    ("a rate in words", '[file]\nrate_hz = "20"\n', ["file.rate_hz"]),
    ("a column without a name", '[[column]]\nquantity = "altitude"\nunit = "m"\n', ["source"]),
    ("an empty name", '[[column]]\nsource = ""\nquantity = "altitude"\n', ["column[1].source"]),
    ("a name that is a number", '[[column]]\nsource = 3\nquantity = "altitude"\n', ["column[1].source"]),
    (
        "a name with a line break",
        '[[column]]\nsource = "A\\nlt"\nquantity = "ignore"\n',
        ["column[1].source"],
    ),
    ("no quantity", '[[column]]\nsource = "Alt"\nunit = "m"\n', ["quantity"]),
    ("an unknown quantity", COLUMN.replace("altitude", "altitud"), ["'altitud'", "Did you mean 'altitude'"]),
    ("a quantity nobody has", COLUMN.replace("altitude", "happiness"), ["happiness", "Known:"]),
    (
        "a quantity that is a list",
        '[[column]]\nsource = "Alt"\nquantity = ["altitude"]\n',
        ["column[1].quantity"],
    ),
    ("a ship's name", '[[column]]\nsource = "Alt"\nquantity = "ship_who"\n', ["ship_who"]),
    ("no unit", COLUMN.replace('unit = "m"', ""), ["column[1].unit", "altitude needs a unit", "altitude_m"]),
    ("a unit of something else", COLUMN.replace('"m"', '"kt"'), ["'kt' is no unit of altitude"]),
    ("an unknown unit", COLUMN.replace('"m"', '"furlong"'), ["'furlong' is no unit of altitude"]),
    ("a unit that is a number", COLUMN.replace('"m"', "3"), ["column[1].unit"]),
    ("a unit spelt with its mark", COLUMN.replace('"m"', '"_m"'), ["'_m' is no unit of altitude"]),
    ("a sign of two", COLUMN + "sign = 2\n", ["column[1].sign"]),
    ("a sign of zero", COLUMN + "sign = 0\n", ["column[1].sign"]),
    ("a sign in words", COLUMN + 'sign = "-"\n', ["column[1].sign"]),
    ("more than certain", COLUMN + "confidence = 1.5\n", ["column[1].confidence"]),
    ("a confidence in words", COLUMN + 'confidence = "high"\n', ["column[1].confidence"]),
    ("a confidence that is no number", COLUMN + "confidence = nan\n", ["column[1].confidence"]),
    ("a reason that is a number", COLUMN + "why = 7\n", ["column[1].why"]),
    ("an open question", COLUMN + "asked = true\n", ["column[1].asked", "still an open question"]),
    ("a question in words", COLUMN + 'asked = "no"\n', ["column[1].asked"]),
    ("an unknown key of a column", COLUMN + "factor = 0.3\n", ["column[1].factor"]),
    ("a misspelt key of a column", COLUMN + "confidense = 0.3\n", ["confidense", "confidence"]),
    ("a column twice", COLUMN + COLUMN, ["column[2].source", "stands here twice"]),
    (
        "a column that is not there",
        COLUMN + '[[column]]\nsource = "fuel_lbs"\nquantity = "fuel"\nunit = "lb"\n',
        ["column 'fuel_lbs'", "Did you mean 'fuel_lb'"],
    ),
    (
        "two columns for one quantity",
        COLUMN + '[[column]]\nsource = "fuel_lb"\nquantity = "altitude"\nunit = "m"\n',
        ["both hold altitude", "ignore"],
    ),
    ("nothing but what is ignored", COLUMN.replace("altitude", "ignore"), ["no column holds altitude"]),
]


@pytest.mark.parametrize(("text", "words"), [row[1:] for row in BAD], ids=[row[0] for row in BAD])
def test_a_bad_map_is_refused_with_the_place_and_the_remedy(tmp_path, text, words):
    recording, path = tmp_path / "flight.csv", tmp_path / "map.toml"
    recording.write_text(TEXT, encoding="utf-8")
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        open_recording(recording, column_map=path)
    message = caught.value.message()
    assert str(path) in message or str(recording) in message
    for word in words:
        assert word in message
    assert caught.value.remedy or "mend" in message


@pytest.mark.parametrize("data", [b"\xff\xfe\x00", b"PAR1" * 9, b"\x00" * 40, b"a" * 300_000])
def test_what_is_no_map_at_all_is_refused(tmp_path, data):
    path = tmp_path / "map.toml"
    path.write_bytes(data)
    with pytest.raises(InputError) as caught:
        read_column_map(path)
    assert str(path) in caught.value.message()


def test_the_map_itself_is_good(tmp_path):
    recording, path = tmp_path / "flight.csv", tmp_path / "map.toml"
    recording.write_text(TEXT, encoding="utf-8")
    path.write_text(COLUMN, encoding="utf-8")
    assert len(open_recording(recording, column_map=path).aircraft) == 1
