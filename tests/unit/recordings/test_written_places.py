"""Latitude and longitude in degrees and minutes; nested JSON; time counted by rows; maps that are kept."""

from __future__ import annotations

import json

import numpy as np
import pytest

from deckward.errors import InputError
from deckward.recordings import (
    ColumnMap,
    FileOptions,
    Rule,
    draft_column_map,
    needs_column_map,
    open_recording,
    read_column_map,
    write_column_map,
)
from deckward.recordings.geographic import degrees_in
from support.recorded_flight import columns_of, csv_text, flight

COLUMNS = columns_of(flight(15.0))
OWN = {name: values for name, values in COLUMNS.items() if not name.startswith("ship_")}


@pytest.mark.parametrize(
    ("cell", "degrees"),
    [
        ("27°36.5'N", 27.0 + 36.5 / 60.0),
        ("S 27 36 30", -(27.0 + 36.5 / 60.0)),
        ("27:36:30 S", -(27.0 + 36.5 / 60.0)),
        ("2736.5N", 27.0 + 36.5 / 60.0),
        ("08818.0W", -88.3),
        ("-88 18.0", -88.3),
        ("88.3W", -88.3),
        ("27.6", 27.6),
    ],
)
def test_a_place_is_read_in_degrees_and_minutes(cell, degrees):
    assert degrees_in(cell) == pytest.approx(degrees, abs=1e-12)


@pytest.mark.parametrize("cell", ["", "north", "N", "27°N36°E", "12 34 56 78"])
def test_what_is_no_place_is_none(cell):
    assert np.isnan(degrees_in(cell))


def in_minutes(value: float, letters: str, width: int) -> str:
    whole, minutes = divmod(abs(value) * 60.0, 60.0)
    return f"{int(whole):0{width}d}{minutes:09.6f}{letters[int(value < 0)]}"


def test_cells_with_letters_are_read_without_a_map(tmp_path):
    path = tmp_path / "flight.csv"
    written = {**OWN, "latitude_deg": [in_minutes(v, "NS", 2) for v in OWN["latitude_deg"]],
               "longitude_deg": [in_minutes(v, "EW", 3) for v in OWN["longitude_deg"]]}  # fmt: skip
    path.write_text(csv_text(written), encoding="utf-8")
    (track,) = open_recording(path).aircraft
    assert np.degrees(track["latitude"]) == pytest.approx(np.asarray(OWN["latitude_deg"]), abs=1e-7)
    assert np.degrees(track["longitude"]) == pytest.approx(np.asarray(OWN["longitude_deg"]), abs=1e-7)


def test_objects_in_objects_are_columns_with_dotted_names(tmp_path):
    path = tmp_path / "flight.jsonl"
    rows = [dict(zip(OWN, map(float, row), strict=True)) for row in zip(*OWN.values(), strict=True)]
    lines = [json.dumps({"time_s": row.pop("time_s"), "jet": {"now": row}}) for row in rows]
    path.write_text("\n".join(lines), encoding="utf-8")
    rules = tuple(Rule(f"jet.now.{name}", name.rsplit("_", 1)[0], name.rsplit("_", 1)[1])
                  for name in ("latitude_deg", "longitude_deg", "altitude_m"))  # fmt: skip
    (track,) = open_recording(path, column_map=ColumnMap(rules)).aircraft
    assert track["altitude"] == pytest.approx(np.asarray(OWN["altitude_m"], float))


@pytest.mark.parametrize("whole", ["samples", "columns"])
def test_one_object_may_hold_all_samples(tmp_path, whole):
    path = tmp_path / "flight.json"
    numbers = {name: [float(v) for v in values] for name, values in OWN.items()}
    if whole == "samples":
        held = {"by": "hand", "samples": [dict(zip(numbers, row, strict=True))
                                          for row in zip(*numbers.values(), strict=True)]}  # fmt: skip
    else:
        held = numbers
    path.write_text(json.dumps(held, indent=1), encoding="utf-8")
    (track,) = open_recording(path).aircraft
    assert len(track) == len(OWN["time_s"])


def test_time_is_counted_by_rows_where_the_map_gives_a_rate(tmp_path):
    path = tmp_path / "flight.csv"
    path.write_text(csv_text({k: v for k, v in OWN.items() if k != "time_s"}), encoding="utf-8")
    with pytest.raises(InputError, match="no column holds time"):
        open_recording(path)
    recording = open_recording(path, column_map=ColumnMap(file=FileOptions(rate_hz=20.0)))
    assert recording.rate_hz == pytest.approx(20.0)
    assert "time-by-rows" in {note.code for note in recording.notes}


def test_a_map_that_is_kept_is_read_back_as_it_was(tmp_path):
    rules = (
        Rule('odd "name" \\ 50 %', "altitude", "ft", -1, 0.5, "because: é", False),
        Rule("käse", "ignore", None, 1, 0.9, "no use", False),
        Rule("t", "time", None),
    )
    options = FileOptions(delimiter=";", decimal=",", header_lines=3, time_format="%H:%M:%S%.f", rate_hz=12.5)
    path = tmp_path / "map.toml"
    path.write_text(write_column_map(ColumnMap(rules, options)), encoding="utf-8")
    read = read_column_map(path)
    assert (read.columns, read.file) == (rules, options)


def test_a_name_with_signs_that_do_not_print_can_be_mapped(tmp_path):
    path = tmp_path / "flight.csv"
    path.write_text(csv_text(OWN).replace("altitude_m", "Altitude\u00a0(m)"), encoding="utf-8")
    draft = draft_column_map(path)
    kept = tmp_path / "map.toml"
    kept.write_text(write_column_map(draft.map), encoding="utf-8")
    (track,) = open_recording(path, column_map=kept).aircraft
    assert track["altitude"] == pytest.approx(np.asarray(OWN["altitude_m"], float))


def test_of_two_columns_with_one_name_the_first_is_read(tmp_path):
    path = tmp_path / "flight.csv"
    text = csv_text({**OWN, "alt": OWN["altitude_m"], "alt ": np.zeros(len(OWN["time_s"]))}).replace(
        "alt ", "alt"
    )
    path.write_text(text.replace("altitude_m", "other"), encoding="utf-8")
    recording = open_recording(path, column_map=ColumnMap((Rule("alt", "altitude", "m"),)))
    assert any("alt #2" in note.text for note in recording.notes if note.code == "columns-left-out")
    assert recording.aircraft[0]["altitude"] == pytest.approx(np.asarray(OWN["altitude_m"], float))


def test_a_file_in_our_own_names_needs_no_map(tmp_path):
    path = tmp_path / "flight.csv"
    path.write_text(csv_text(COLUMNS), encoding="utf-8")
    assert not needs_column_map(path)
    path.write_text(csv_text(COLUMNS).replace("latitude_deg", "lat"), encoding="utf-8")
    assert needs_column_map(path)


def test_a_file_in_our_own_names_is_drafted_as_they_say(tmp_path):
    path = tmp_path / "flight.csv"
    path.write_text(csv_text(COLUMNS), encoding="utf-8")
    draft = draft_column_map(path)
    assert draft.questions == ()
    for rule in draft.map.columns:
        suffix = f"_{rule.unit}" if rule.unit else ""
        assert rule.source == rule.quantity + suffix
        assert rule.sign == 1
