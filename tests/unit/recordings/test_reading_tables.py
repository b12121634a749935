"""What can be read, in every form that a recorder may write it."""

from __future__ import annotations

import gzip
import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import polars as pl
import pytest

from deckward.errors import InputError
from deckward.foundation import angles
from deckward.recordings import open_recording, read_column_map
from support.recorded_flight import columns_of, csv_text, flight, write_csv, write_json_lines

FLIGHT = flight(40.0)
COLUMNS = columns_of(FLIGHT)
SHIP_COLUMNS = {name: values for name, values in COLUMNS.items() if name.startswith("ship_")}
OWN_COLUMNS = {name: values for name, values in COLUMNS.items() if not name.startswith("ship_")}


def codes(recording) -> set[str]:
    return {note.code for note in recording.notes}


def assert_is_the_flight(track, truth=FLIGHT, *, quantities=None) -> None:
    """Each channel is the flight's, to half of the last digit written."""
    for quantity in quantities or track.channels:
        wanted = truth[quantity]
        if quantity in ("heading", "longitude"):
            off = angles.difference(track[quantity], wanted)
        else:
            off = track[quantity] - wanted
        tolerance = 1e-4 if quantity not in ("latitude", "longitude") else 1e-11
        assert np.abs(off).max() <= tolerance, quantity


def write(tmp_path: Path, form: str) -> Path:
    if form == "csv":
        return write_csv(tmp_path / "flight.csv", COLUMNS)
    if form == "csv.gz":
        return write_csv(tmp_path / "flight.csv.gz", COLUMNS)
    if form == "csv without ending":
        return write_csv(tmp_path / "flight", COLUMNS)
    if form == "csv called parquet":
        return write_csv(tmp_path / "flight.parquet", COLUMNS)
    if form == "packed but not called so":
        path = tmp_path / "flight.csv"
        path.write_bytes(gzip.compress(csv_text(COLUMNS).encode()))
        return path
    if form == "gzip in two members":
        text = csv_text(COLUMNS).encode()
        path = tmp_path / "flight.csv.gz"
        path.write_bytes(gzip.compress(text[:5000]) + gzip.compress(text[5000:]))
        return path
    if form == "jsonl":
        return write_json_lines(tmp_path / "flight.jsonl", COLUMNS)
    if form == "jsonl.gz":
        return write_json_lines(tmp_path / "flight.jsonl.gz", COLUMNS)
    if form == "json array":
        lines = write_json_lines(tmp_path / "flight.jsonl", COLUMNS).read_text().splitlines()
        path = tmp_path / "flight.json"
        path.write_text("[\n" + ",\n".join(lines) + "\n]")
        return path
    frame = pl.DataFrame(COLUMNS)
    path = tmp_path / "flight.parquet"
    if form == "parquet of integers and strings":
        frame = frame.with_columns(pl.col("gear").cast(pl.Int8), pl.col("throttle").cast(pl.String))
    if form == "parquet.gz":
        frame.write_parquet(path)
        packed = tmp_path / "flight.parquet.gz"
        packed.write_bytes(gzip.compress(path.read_bytes()))
        return packed
    frame.write_parquet(path)
    return path


@pytest.mark.parametrize(
    "form",
    [
        "csv",
        "csv.gz",
        "csv without ending",
        "csv called parquet",
        "packed but not called so",
        "gzip in two members",
        "jsonl",
        "jsonl.gz",
        "json array",
        "parquet",
        "parquet.gz",
        "parquet of integers and strings",
    ],
)
def test_every_format_gives_the_same_flight_without_a_note(tmp_path, form):
    recording = open_recording(write(tmp_path, form))
    (track,) = recording.aircraft
    assert recording.notes == ()
    assert recording.samples == len(track) == 800
    assert recording.rate_hz == pytest.approx(20.0)
    assert track.who == "flight"
    assert_is_the_flight(track)
    assert recording.ship is not None
    for quantity in ("latitude", "longitude", "altitude", "heading", "pitch", "roll"):
        assert recording.ship[quantity] == pytest.approx(FLIGHT[f"ship_{quantity}"], abs=1e-4)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (lambda text: text.replace("\n", "\r\n"), None),
        (lambda text: text.replace("\n", "\r"), None),
        (lambda text: "\ufeff" + text, None),
        (lambda text: text.rstrip("\n"), None),
        (lambda text: text + "\n\n", None),
        (lambda text: text.replace("\n", "\n\n"), None),
        (lambda text: text.replace(",", ";"), None),
        (lambda text: text.replace(",", "\t"), None),
        (lambda text: text.replace(",", "|"), None),
        (lambda text: text.replace(",", " "), None),
        (lambda text: text.replace(",", "   "), None),
        (lambda text: text.replace(",", ", "), None),
        (lambda text: text.replace(",", ";").replace(".", ","), None),
        (lambda text: text.replace(",", "\t").replace(".", ","), None),
        (lambda text: "sep=;\n" + text.replace(",", ";"), None),
        (lambda text: text.replace("\n", ",\n"), None),
        (lambda text: text.partition("\n")[0] + "\n" + text.partition("\n")[2].replace("\n", ",\n"), None),
        (
            lambda text: "\n".join(",".join(f'"{c}"' for c in line.split(",")) for line in text.splitlines()),
            None,
        ),
        (lambda text: "# made by a recorder\n#\n" + text, None),
        (lambda text: "# " + text, None),
        (lambda text: text.replace("\n", "\n# a remark, in the middle\n", 300), None),
        (lambda text: "Recorder 2.1\nSession,12\n" + text, "lines-above-names"),
        (lambda text: text.upper().replace("TRUE", "true", 0), None),
        (lambda text: text.replace("time_s", " time_s "), None),
        (lambda text: text.encode("utf-16"), None),
        (
            lambda text: ("lüftung," + text.replace("\n", "\nü,")).rstrip("ü,").encode("cp1252"),
            "columns-left-out",
        ),
    ],
)
def test_text_is_understood_as_people_write_it(tmp_path, change, code):
    path = tmp_path / "flight.csv"
    text = change(csv_text(COLUMNS))
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    recording = open_recording(path)
    assert codes(recording) == ({code} if code else set())
    assert recording.samples == 800
    assert_is_the_flight(recording.aircraft[0])


@pytest.mark.parametrize("missing", ["", "NaN", "nan", "NA", "null", "None", "-", "n/a", " "])
def test_a_missing_cell_is_not_a_number_and_no_news(tmp_path, missing):
    lines = csv_text(COLUMNS).splitlines()
    names = lines[0].split(",")
    at = names.index("pitch_deg")
    cells = lines[11].split(",")
    cells[at] = missing
    lines[11] = ",".join(cells)
    path = tmp_path / "flight.csv"
    path.write_text("\n".join(lines))
    recording = open_recording(path)
    pitch = recording.aircraft[0]["pitch"]
    assert np.isnan(pitch[10])
    assert np.isnan(pitch).sum() == 1
    assert recording.notes == ()


def test_a_switch_may_be_a_word(tmp_path):
    lines = csv_text({**COLUMNS, "gear": ["down"] * 800, "hook": ["true"] * 400 + ["false"] * 400})
    path = tmp_path / "flight.csv"
    path.write_text(lines)
    track = open_recording(path).aircraft[0]
    assert (track["gear"] == 1.0).all()
    assert track["hook"].sum() == 400


@pytest.mark.parametrize("form", ["Z", "", "+02:00", "-0730", " ", "basic"])
def test_iso_times_are_utc_whatever_their_zone(tmp_path, form):
    start = datetime(2031, 5, 17, 23, 59, 50, tzinfo=UTC)
    offset = {"+02:00": timedelta(hours=2), "-0730": -timedelta(hours=7, minutes=30)}.get(form, timedelta())
    stamps = []
    for t in FLIGHT["time"]:
        local = start + timedelta(seconds=round(float(t), 3)) + offset
        text = local.strftime("%Y%m%dT%H%M%S.%f" if form == "basic" else "%Y-%m-%dT%H:%M:%S.%f")[:-3]
        stamps.append(text.replace("T", " ") if form == " " else text + (form if form != "basic" else "Z"))
    path = write_csv(
        tmp_path / "flight.csv", {"time": stamps, **{k: v for k, v in COLUMNS.items() if k != "time_s"}}
    )
    recording = open_recording(path)
    assert recording.notes == ()
    assert recording.clock == "utc"
    assert recording.time_zero == datetime(2031, 5, 17, tzinfo=UTC)
    assert recording.aircraft[0].time == pytest.approx(86_390.0 + FLIGHT["time"], abs=1e-6)


@pytest.mark.parametrize("style", ["{:02d}:{:02d}:{:06.3f}", "{:d}:{:02d}:{:06.3f}Z"])
def test_clock_times_run_on_past_midnight(tmp_path, style):
    stamps = []
    for t in FLIGHT["time"]:
        day = (86_390.0 + float(t)) % 86_400.0
        stamps.append(style.format(int(day // 3600), int(day % 3600 // 60), day % 60))
    path = write_csv(
        tmp_path / "flight.csv", {"time": stamps, **{k: v for k, v in COLUMNS.items() if k != "time_s"}}
    )
    recording = open_recording(path)
    assert recording.notes == ()
    assert recording.clock == "utc-day"
    assert recording.time_zero is None
    assert recording.aircraft[0].time == pytest.approx(86_390.0 + FLIGHT["time"], abs=1e-3)


@pytest.mark.parametrize(("name", "factor"), [("time_ms", 1e3), ("time_min", 1 / 60)])
def test_time_in_other_units(tmp_path, name, factor):
    times = [f"{t * factor:.9f}" for t in FLIGHT["time"]]
    path = write_csv(
        tmp_path / "flight.csv", {name: times, **{k: v for k, v in COLUMNS.items() if k != "time_s"}}
    )
    recording = open_recording(path)
    assert recording.aircraft[0].time == pytest.approx(FLIGHT["time"], abs=1e-6)
    assert recording.clock == "elapsed"


def test_seconds_since_1970_say_their_instant(tmp_path):
    path = write_csv(tmp_path / "flight.csv", {**COLUMNS, "time_s": COLUMNS["time_s"] + 1.9e9})
    recording = open_recording(path)
    assert recording.clock == "utc"
    assert recording.time_zero == datetime(1970, 1, 1, tzinfo=UTC)
    assert recording.aircraft[0].time[0] == 1.9e9


@pytest.mark.parametrize(("factor", "word"), [(1.0, "seconds"), (1000.0, "milliseconds")])
def test_a_bare_time_column_is_read_by_its_steps_and_said(tmp_path, factor, word):
    columns = {"time": COLUMNS["time_s"] * factor, **{k: v for k, v in COLUMNS.items() if k != "time_s"}}
    recording = open_recording(write_csv(tmp_path / "flight.csv", columns))
    (note,) = recording.notes
    assert note.code == "time-unit-inferred"
    assert word in note.text
    assert recording.aircraft[0].time == pytest.approx(FLIGHT["time"], abs=1e-6)


def test_parquet_keeps_its_own_kinds_of_time(tmp_path):
    start = datetime(2031, 5, 17, 12, 0, 0)
    stamps = [start + timedelta(seconds=round(float(t), 3)) for t in FLIGHT["time"]]
    rest = {k: v for k, v in COLUMNS.items() if k != "time_s"}
    path = tmp_path / "flight.parquet"
    for series, first in (
        (pl.Series("time", stamps), 43_200.0),
        (pl.Series("time", stamps).dt.replace_time_zone("Europe/Paris"), 36_000.0),
        (pl.Series("time", stamps).dt.cast_time_unit("ns"), 43_200.0),
        (pl.Series("time", stamps).dt.time(), 43_200.0),
        (pl.Series("time", [s - start for s in stamps]), 0.0),
    ):
        pl.DataFrame([series, *(pl.Series(k, v) for k, v in rest.items())]).write_parquet(path)
        recording = open_recording(path)
        assert recording.aircraft[0].time == pytest.approx(first + FLIGHT["time"], abs=1e-6)


def test_a_ship_in_a_file_of_its_own(tmp_path):
    path = write_csv(tmp_path / "flight.csv", OWN_COLUMNS)
    slow = {"time_s": COLUMNS["time_s"][::4] + 0.01, **{k: v[::4] for k, v in SHIP_COLUMNS.items()}}
    prefixed = write_csv(tmp_path / "prefixed.csv", slow)
    bare = write_csv(tmp_path / "bare.csv", {k.removeprefix("ship_"): v for k, v in slow.items()})
    own_time = write_csv(
        tmp_path / "own.csv", {("ship_" if k == "time_s" else "") + k: v for k, v in slow.items()}
    )
    lines = write_json_lines(tmp_path / "ship.jsonl.gz", slow)
    assert open_recording(path).ship is None
    for ship in (prefixed, bare, own_time, lines):
        recording = open_recording(path, ship=ship)
        assert recording.notes == ()
        assert recording.ship.who == "ship"
        assert recording.ship.time == pytest.approx(slow["time_s"])
        assert recording.ship["latitude"] == pytest.approx(FLIGHT["ship_latitude"][::4], abs=1e-11)
        assert recording.samples == 800


def test_the_ships_own_file_wins_over_the_rows_and_says_so(tmp_path):
    path = write_csv(tmp_path / "flight.csv", COLUMNS)
    moved = {**SHIP_COLUMNS, "time_s": COLUMNS["time_s"], "ship_altitude_m": COLUMNS["ship_altitude_m"] + 5.0}
    recording = open_recording(path, ship=write_csv(tmp_path / "ship.csv", moved))
    assert codes(recording) == {"ship-twice"}
    assert recording.ship["altitude"].mean() == pytest.approx(24.5, abs=0.5)


def test_clocks_of_two_files_are_brought_together(tmp_path):
    day = datetime(2031, 5, 17, tzinfo=UTC)
    start = 86_380.0
    rest = {k: v for k, v in OWN_COLUMNS.items() if k != "time_s"}
    iso = [(day + timedelta(seconds=start + round(float(t), 3))).isoformat() for t in FLIGHT["time"]]
    path = write_csv(tmp_path / "flight.csv", {"time": iso, **rest})
    instants = {
        "iso.csv": (
            "time",
            [(day + timedelta(seconds=start + 30.0 + 0.05 * i)).isoformat() for i in range(800)],
        ),
        "epoch.csv": ("time_s", [f"{day.timestamp() + start + 30.0 + 0.05 * i:.3f}" for i in range(800)]),
        "clock.csv": ("time", [_clock(start + 30.0 + 0.05 * i) for i in range(800)]),
    }
    for name, (column, stamps) in instants.items():
        ship = write_csv(tmp_path / name, {column: stamps, **SHIP_COLUMNS})
        recording = open_recording(path, ship=ship)
        assert recording.ship.time[0] == pytest.approx(start + 30.0, abs=1e-3), name
        assert recording.notes == (), name


def _clock(second: float) -> str:
    day = second % 86_400.0
    return f"{int(day // 3600):02d}:{int(day % 3600 // 60):02d}:{day % 60:06.3f}"


def test_clocks_that_share_no_time_are_told(tmp_path):
    path = write_csv(tmp_path / "flight.csv", OWN_COLUMNS)
    ship = write_csv(tmp_path / "ship.csv", {"time_s": COLUMNS["time_s"] + 5000.0, **SHIP_COLUMNS})
    recording = open_recording(path, ship=ship)
    assert codes(recording) == {"clocks-apart"}


def together(*names: str) -> dict:
    """Several craft in one table, their rows interleaved."""
    flights = [columns_of(flight(20.0, home=(0.5 + 0.001 * i, -1.5))) for i in range(len(names))]
    order = np.argsort(np.concatenate([f["time_s"] for f in flights]), kind="stable")
    rows = {name: np.concatenate([f[name] for f in flights])[order] for name in flights[0]}
    return {"who": np.repeat(names, 400)[order], **rows}


def test_several_craft_in_one_file(tmp_path):
    path = write_csv(tmp_path / "session.csv", together("Wren", "Heron", "Kestrel two"))
    recording = open_recording(path)
    assert [track.who for track in recording.aircraft] == ["Heron", "Kestrel two", "Wren"]
    assert [len(track) for track in recording.aircraft] == [400, 400, 400]
    assert recording.samples == 1200
    assert recording.aircraft[2]["latitude"] == pytest.approx(
        flight(20.0, home=(0.5, -1.5))["latitude"], abs=1e-11
    )
    alone = open_recording(path, only="Heron")
    assert [track.who for track in alone.aircraft] == ["Heron"]
    with pytest.raises(InputError, match=r"no craft named 'heran'.*Did you mean 'Heron'.*Kestrel two, Wren"):
        open_recording(path, only="heran")


def test_craft_may_be_numbered(tmp_path):
    columns = together("201", "202")
    path = tmp_path / "session.parquet"
    frame = pl.DataFrame({k: v for k, v in columns.items() if k != "who"})
    frame.with_columns(pl.Series("who", columns["who"]).cast(pl.Int32)).write_parquet(path)
    assert [track.who for track in open_recording(path).aircraft] == ["201", "202"]
    path = write_csv(tmp_path / "session.csv", columns)
    assert [track.who for track in open_recording(path, only="202").aircraft] == ["202"]


def test_a_craft_called_ship_is_the_ship(tmp_path):
    columns = together("Ship", "Wren")
    columns = {k: v for k, v in columns.items() if not k.startswith("ship_")}
    recording = open_recording(write_csv(tmp_path / "session.csv", columns))
    assert [track.who for track in recording.aircraft] == ["Wren"]
    assert len(recording.ship) == 400
    assert "ship-by-name" in codes(recording)


def test_the_only_craft_takes_its_name_from_the_file(tmp_path):
    path = write_csv(tmp_path / "evening hop.csv.gz", COLUMNS)
    assert open_recording(path).aircraft[0].who == "evening hop"
    assert open_recording(path, only="evening hop").aircraft[0].who == "evening hop"


def local_columns(**replace) -> dict:
    own = {
        k: v
        for k, v in COLUMNS.items()
        if "latitude" not in k and "longitude" not in k and "altitude" not in k
    }
    t = FLIGHT["time"]
    rates = flight(40.0)
    north = np.concatenate([[0.0], np.cumsum(rates["velocity_north"][:-1] * 0.05)])
    east = np.concatenate([[0.0], np.cumsum(rates["velocity_east"][:-1] * 0.05)])
    return {
        **own,
        "north_m": np.round(north, 4),
        "east_m": np.round(east + 1500.0, 4),
        "up_ft": np.round(FLIGHT["altitude"] / 0.3048, 4),
        "ship_north_m": np.round(8.0 * np.cos(np.radians(15.0)) * t, 4),
        "ship_east_m": np.round(8.0 * np.sin(np.radians(15.0)) * t, 4),
        "ship_up_m": np.full(t.size, 19.5),
        **replace,
    }


def test_two_craft_in_one_plane_stay_there(tmp_path):
    recording = open_recording(write_csv(tmp_path / "flight.csv", local_columns()))
    (track,) = recording.aircraft
    assert not track.geodetic
    assert not recording.ship.geodetic
    assert track["up"] == pytest.approx(FLIGHT["altitude"], abs=1e-4)
    assert open_recording(tmp_path / "flight.csv", origin=(0.5, -1.5)).ship.geodetic is False


def test_a_plane_beside_the_earth_needs_its_origin(tmp_path):
    own = {k: v for k, v in local_columns().items() if not k.startswith("ship_")}
    path = write_csv(tmp_path / "flight.csv", {**own, **SHIP_COLUMNS})
    with pytest.raises(InputError, match=r"the aircraft is in a local plane.*--origin LAT,LON"):
        open_recording(path)
    recording = open_recording(path, origin=(np.radians(27.6), np.radians(-88.3)))
    assert recording.aircraft[0].geodetic
    assert recording.ship.geodetic
    assert recording.aircraft[0]["latitude"] == pytest.approx(FLIGHT["latitude"], abs=2e-6)


def test_an_origin_places_a_lone_aircraft_on_the_earth(tmp_path):
    own = {k: v for k, v in local_columns().items() if not k.startswith("ship_")}
    path = write_csv(tmp_path / "flight.csv", own)
    assert not open_recording(path).aircraft[0].geodetic
    assert open_recording(path, origin=(0.5, -1.5)).aircraft[0].geodetic


def test_unknown_columns_are_left_out_with_one_note(tmp_path):
    extra = {
        "engine temp": COLUMNS["gear"],
        "foo": COLUMNS["gear"],
        "altitude_kt": COLUMNS["gear"],
        "pitch": COLUMNS["gear"],
    }
    recording = open_recording(write_csv(tmp_path / "flight.csv", {**COLUMNS, **extra}))
    texts = {note.code: note.text for note in recording.notes}
    assert set(texts) == {"columns-left-out", "columns-without-unit"}
    assert "engine temp, foo" in texts["columns-left-out"]
    assert "altitude_kt (write altitude_m, altitude_ft or altitude_nm)" in texts["columns-without-unit"]
    assert "pitch (write pitch_deg or pitch_rad)" in texts["columns-without-unit"]
    assert_is_the_flight(recording.aircraft[0])


def test_two_positions_for_one_craft(tmp_path):
    columns = {**COLUMNS, "north_m": COLUMNS["gear"], "east_m": COLUMNS["gear"], "up_m": COLUMNS["gear"]}
    recording = open_recording(write_csv(tmp_path / "flight.csv", columns))
    assert codes(recording) == {"position-twice"}
    assert "north" not in recording.aircraft[0]


def test_columns_without_any_value_are_told(tmp_path):
    recording = open_recording(write_csv(tmp_path / "flight.csv", {**COLUMNS, "flaps": [""] * 800}))
    assert codes(recording) == {"empty-columns"}
    assert "flaps" not in recording.aircraft[0]


def test_json_rows_may_lack_keys(tmp_path):
    path = write_json_lines(tmp_path / "flight.jsonl", COLUMNS)
    rows = [json.loads(line) for line in path.read_text().splitlines()]
    for i, row in enumerate(rows):
        if i % 2:
            del row["pitch_deg"]
        if i == 799:
            row["speed_brake"] = 1
    path.write_text("\n".join(map(json.dumps, rows)))
    recording = open_recording(path)
    assert recording.notes == ()
    assert np.isnan(recording.aircraft[0]["pitch"]).sum() == 400
    assert np.isfinite(recording.aircraft[0]["speed_brake"]).sum() == 1


def test_json_with_nan_and_a_broken_line(tmp_path):
    path = write_json_lines(tmp_path / "flight.jsonl", COLUMNS)
    lines = path.read_text().splitlines()
    lines[3] = lines[3].replace('"gear": 1.0', '"gear": NaN')
    lines[5] = lines[5][:40]
    path.write_text("\n".join(lines))
    recording = open_recording(path)
    assert codes(recording) == {"unreadable-lines"}
    assert "line 6" in recording.notes[0].text
    assert len(recording.aircraft[0]) == 799


MAP = """
[file]
delimiter = ";"
decimal = ","
header_lines = 2
time_format = "%d.%m.%Y %H:%M:%S%.f"
[[column]]
source = "Zeit"
quantity = "time"
[[column]]
source = "Höhe (ft)"
quantity = "altitude"
unit = "ft"
confidence = 0.97
why = "the name says feet"
[[column]]
source = "sink"
quantity = "vertical_speed"
unit = "mps"
sign = -1
[[column]]
source = "deck heading"
quantity = "ship_heading"
unit = "deg"
[[column]]
source = "gear"
quantity = "ignore"
"""


def test_a_column_map_says_what_names_do_not(tmp_path):
    start = datetime(2031, 5, 17, 12, 0, 0)
    stamps = [
        (start + timedelta(seconds=round(float(t), 2))).strftime("%d.%m.%Y %H:%M:%S.%f")[:-4]
        for t in FLIGHT["time"]
    ]
    columns = {
        k: v
        for k, v in COLUMNS.items()
        if k not in ("time_s", "altitude_m", "vertical_speed_fpm", "ship_heading_deg")
    }
    columns = {
        "Zeit": stamps,
        "Höhe (ft)": np.round(FLIGHT["altitude"] / 0.3048, 4),
        "sink": np.round(-FLIGHT["vertical_speed"], 4),
        "deck heading": COLUMNS["ship_heading_deg"],
        **columns,
    }
    text = csv_text(columns, delimiter=";")
    head, _, body = text.partition("\n")
    body = "\n".join(
        ";".join([row.split(";")[0], *(c.replace(".", ",") for c in row.split(";")[1:])])
        for row in body.splitlines()
    )
    path = tmp_path / "flight.csv"
    path.write_text(f"Aufzeichnung\n{head}\n{body}\n", encoding="utf-8")
    map_path = tmp_path / "map.toml"
    map_path.write_text(MAP, encoding="utf-8")
    for column_map in (map_path, read_column_map(map_path)):
        recording = open_recording(path, column_map=column_map)
        assert recording.notes == ()
        (track,) = recording.aircraft
        assert "gear" not in track
        assert track.time == pytest.approx(43_200.0 + FLIGHT["time"], abs=1e-6)
        assert_is_the_flight(track)
        assert recording.ship["heading"] == pytest.approx(FLIGHT["ship_heading"], abs=1e-6)


def test_a_column_map_may_choose_between_two_columns(tmp_path):
    columns = {**COLUMNS, "altitude_ft": COLUMNS["altitude_m"] / 0.3048 + 100.0}
    path = write_csv(tmp_path / "flight.csv", columns)
    map_path = tmp_path / "map.toml"
    map_path.write_text('[[column]]\nsource = "altitude_ft"\nquantity = "ignore"\n')
    assert_is_the_flight(open_recording(path, column_map=map_path).aircraft[0])


def test_a_long_packed_recording_that_ends_too_early_is_read_as_far_as_it_goes(tmp_path):
    packed = gzip.compress(csv_text(COLUMNS).encode())
    path = tmp_path / "flight.csv.gz"
    path.write_bytes(packed[: len(packed) * 3 // 4])
    recording = open_recording(path)
    assert codes(recording) == {"file-cut"}
    assert 400 < len(recording.aircraft[0]) < 700
    track = recording.aircraft[0]
    assert track["ship_roll" if "ship_roll" in track else "roll"] == pytest.approx(
        FLIGHT["roll"][: len(track)], abs=1e-4
    )


def test_a_last_line_that_breaks_off_is_left_out(tmp_path):
    text = csv_text(COLUMNS)
    path = tmp_path / "flight.csv"
    path.write_text(text[: len(text) - 100])
    recording = open_recording(path)
    assert codes(recording) == {"uneven-rows"}
    assert "line 801" in recording.notes[0].text
    assert len(recording.aircraft[0]) == 799
