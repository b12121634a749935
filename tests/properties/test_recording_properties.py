"""What holds for every recording: units, order of rows and columns, damage of any kind."""

from __future__ import annotations

import gzip
import struct
import tempfile
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deckward.errors import InputError
from deckward.foundation.units import BY_SUFFIX, from_si
from deckward.recordings import open_recording, read_column_map
from deckward.recordings.quantities import BY_NAME, Meaning, spellings, understand
from deckward.recordings.steps import written_step
from support.dis_packets import as_ship, datagram, ethernet, pcap, pcapng, states_of
from support.recorded_flight import columns_of, csv_text, flight

FLIGHT = flight(6.0)
COLUMNS = columns_of(FLIGHT)
TEXT = csv_text(COLUMNS).encode()
GEODETIC = ("latitude", "longitude", "altitude")
LOCAL = {
    "north": np.cumsum(FLIGHT["velocity_north"]) * 0.05,
    "east": np.cumsum(FLIGHT["velocity_east"]) * 0.05,
    "up": FLIGHT["altitude"],
}


def read(data: bytes, name: str = "flight.csv", **options):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(data)
        return open_recording(path, **options)


UNITED = [
    (name, suffix)
    for name, quantity in BY_NAME.items()
    if quantity.dimension not in ("time", "name")
    for suffix, unit in BY_SUFFIX.items()
    if unit.dimension == quantity.dimension
]


@pytest.mark.parametrize(("name", "suffix"), UNITED)
def test_a_value_comes_back_from_any_unit_it_may_be_written_in(name, suffix):
    rng = np.random.default_rng(len(name) + len(suffix))
    low, high = BY_NAME[name].low, BY_NAME[name].high
    wanted = rng.uniform(low + 0.3 * (high - low), low + 0.7 * (high - low), FLIGHT["time"].size)
    if name in GEODETIC:
        wanted = FLIGHT[name]
    columns = {k: v for k, v in COLUMNS.items() if k.rpartition("_")[0] != name and k != name}
    if name in LOCAL:
        columns = {k: v for k, v in columns.items() if not k.startswith((*GEODETIC, "ship_"))}
        columns |= {f"{q}_m": values for q, values in LOCAL.items() if q != name}
        wanted = LOCAL[name]
    column = f"{name}_{suffix}" if suffix else name
    assert understand(column) == Meaning(False, name, BY_SUFFIX[suffix])
    text = csv_text({**columns, column: [repr(float(v)) for v in from_si(wanted, suffix)]})
    (track,) = read(text.encode()).aircraft
    if name not in track:  # contradicts the rest of the flight, as random numbers do
        assert name in {"true_airspeed", "heading", "roll", "pitch", "angle_of_attack", *_RATES}
        return
    assert track[name] == pytest.approx(wanted, rel=1e-9, abs=1e-9)


_RATES = ("vertical_speed", "velocity_north", "velocity_east", "velocity_down")


@given(st.sampled_from(sorted(BY_NAME)), st.booleans())
def test_every_name_offered_is_understood(name, ship):
    if ship and name == "who":
        return
    for spelling in spellings(name, ship=ship).replace(" or ", ", ").split(", "):
        meaning = understand(spelling)
        assert isinstance(meaning, Meaning)
        assert (meaning.quantity, meaning.ship) == (name, ship)


@settings(deadline=None, max_examples=25)
@given(st.permutations(range(FLIGHT["time"].size)))
def test_the_order_of_rows_does_not_matter(order):
    recording = read(csv_text({name: values[list(order)] for name, values in COLUMNS.items()}).encode())
    (track,) = recording.aircraft
    assert np.array_equal(track.time, COLUMNS["time_s"])
    for quantity in ("latitude", "pitch", "throttle"):
        assert track[quantity] == pytest.approx(FLIGHT[quantity], abs=1e-4)
    assert np.array_equal(recording.ship.time, track.time)


@settings(deadline=None, max_examples=25)
@given(st.permutations(list(COLUMNS)))
def test_the_order_of_columns_does_not_matter(names):
    recording = read(csv_text({name: COLUMNS[name] for name in names}).encode())
    assert recording.notes == ()
    assert recording.aircraft[0]["pitch"] == pytest.approx(FLIGHT["pitch"], abs=1e-6)


@settings(deadline=None, max_examples=25)
@given(st.lists(st.integers(0, 2), min_size=120, max_size=120))
def test_how_craft_are_interleaved_does_not_matter(whose):
    names = np.array(["a", "b", "c"])[whose]
    recording = read(csv_text({"who": names, **COLUMNS}).encode())
    for track in recording.aircraft:
        own = names == track.who
        assert np.array_equal(track.time, COLUMNS["time_s"][own])
        assert track["latitude"] == pytest.approx(FLIGHT["latitude"][own], abs=1e-11)
    assert np.array_equal(recording.ship.time, COLUMNS["time_s"])


@given(
    st.floats(1e-5, 500.0),
    st.integers(0, 10_000),
    st.sampled_from([1.0, 2.0, 5.0, 10.0]),
    st.integers(-3, 1),
)
def test_a_round_step_is_found(spread, seed, factor, exponent):
    step = factor * 10.0**exponent
    values = np.round(np.random.default_rng(seed).normal(0.0, spread, 400) / step) * step
    found = written_step(values)
    if found is not None:
        assert np.abs(values / found - np.rint(values / found)).max() < 1e-6
        assert found >= step * (1.0 - 1e-9)


def outcome(data: bytes, name: str = "flight.csv") -> str:
    """Open any bytes: a recording that keeps its promises, or an error that keeps its own."""
    try:
        recording = read(data, name)
    except InputError as error:
        assert error.file
        assert error.problem
        return "refused"
    for track in (*recording.aircraft, *([recording.ship] if recording.ship else [])):
        assert np.all(np.diff(track.time) > 0.0)
        assert np.isfinite(track.time).all()
        assert not any(np.isinf(values).any() for values in track.channels.values())
    return "read"


@settings(deadline=None, max_examples=80)
@given(st.data())
def test_damage_anywhere_ends_in_a_recording_or_an_error(data):
    damaged = bytearray(TEXT[:4000])
    for _ in range(data.draw(st.integers(1, 6))):
        at = data.draw(st.integers(0, len(damaged) - 1))
        size = data.draw(st.integers(0, 200))
        damaged[at : at + size] = data.draw(
            st.one_of(
                st.binary(max_size=30),
                st.sampled_from([b",", b"\n", b'"', b"\0", b"1e999", b"nan", b";", b"#"]),
            )
        )
        if not damaged:
            damaged = bytearray(b"x")
    outcome(bytes(damaged))


@settings(deadline=None, max_examples=100)
@given(
    st.one_of(
        st.binary(min_size=1, max_size=300),
        st.text(min_size=1, max_size=300).map(lambda t: t.encode("utf-8", "replace")),
    )
)
def test_any_bytes_end_in_an_error(data):
    assert outcome(data) == "refused"
    outcome(gzip.compress(data))


@settings(deadline=None, max_examples=80)
@given(
    st.lists(
        st.dictionaries(
            st.sampled_from(
                ["time_s", "latitude_deg", "longitude_deg", "altitude_m", "who", "pitch_deg", "x"]
            ),
            st.one_of(
                st.none(),
                st.booleans(),
                st.floats(),
                st.integers(),
                st.text(max_size=5),
                st.lists(st.integers(), max_size=2),
            ),
        ),
        max_size=8,
    )
)
def test_any_json_rows_end_in_a_recording_or_an_error(rows):
    import json

    outcome("\n".join(map(json.dumps, rows)).encode() or b"{}", "flight.jsonl")
    outcome(json.dumps(rows).encode(), "flight.json")


CELLS = st.one_of(
    st.sampled_from(
        [
            "",
            "0",
            "1",
            "-1",
            "90",
            "1e308",
            "-1e308",
            "1e-320",
            "nan",
            "inf",
            "12:00:00",
            "2031-05-17T12:00:00Z",
            "x",
        ]
    ),
    st.floats(width=32).map(str),
    st.integers(-(10**20), 10**20).map(str),
)
NAMES = [
    "time_s",
    "time",
    "latitude_deg",
    "longitude_deg",
    "altitude_m",
    "north_m",
    "east_m",
    "up_m",
    "heading_deg",
]
NAMES += [
    "pitch_deg",
    "roll_deg",
    "true_airspeed_kt",
    "angle_of_attack_deg",
    "vertical_speed_fpm",
    "hook",
    "who",
]
NAMES += ["ship_latitude_deg", "ship_longitude_deg", "ship_altitude_m", "ship_heading_deg", "ship_time_s"]


@settings(deadline=None, max_examples=80)
@given(st.data())
def test_any_cells_end_in_a_recording_or_an_error(data):
    some = data.draw(st.lists(st.sampled_from(NAMES), unique=True, min_size=3, max_size=9))
    names = list(dict.fromkeys(["time_s", "latitude_deg", "longitude_deg", "altitude_m", *some]))
    rows = data.draw(
        st.lists(st.lists(CELLS, min_size=len(names), max_size=len(names)), min_size=1, max_size=40)
    )
    outcome("\n".join([",".join(names), *(",".join(row) for row in rows)]).encode())


@settings(deadline=None, max_examples=100)
@given(st.text(max_size=200))
def test_any_column_map_ends_in_a_map_or_an_error(text):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "map.toml"
        path.write_bytes(text.encode("utf-8", "replace"))
        try:
            assert read_column_map(path).path == str(path)
        except InputError as error:
            assert error.file == str(path)


STATES = states_of(FLIGHT, range(2, 40, 3), start=1.9e9, marking="Wren")
STATES += states_of(as_ship(FLIGHT), range(2, 40, 3), start=1.9e9, marking="Ark", domain=3, entity=(1, 2, 4))
FRAMES = [(when, ethernet(datagram(pdu))) for when, pdu in STATES]


@settings(deadline=None, max_examples=120)
@given(st.sampled_from([pcap(FRAMES), pcapng(FRAMES), b"".join(pdu for _, pdu in STATES)]), st.data())
def test_damaged_packets_end_in_a_recording_or_an_error(whole, data):
    damaged = bytearray(whole)
    for _ in range(data.draw(st.integers(1, 8))):
        at = data.draw(st.integers(0, max(len(damaged) - 1, 0)))
        damaged[at : at + data.draw(st.integers(0, 8))] = data.draw(st.binary(max_size=8))
    outcome(bytes(damaged) or b"x", "flight.pcap")


@settings(deadline=None, max_examples=60)
@given(st.data())
def test_any_numbers_in_a_state_end_in_a_recording_or_an_error(data):
    floats = st.lists(st.floats(width=32), min_size=3, max_size=3)
    pdus = []
    for when, pdu in STATES[: data.draw(st.integers(1, 10))]:
        changed = bytearray(pdu)
        for at in data.draw(st.lists(st.sampled_from([36, 72, 104, 116]), max_size=2)):
            struct.pack_into(">3f", changed, at, *data.draw(floats))
        if data.draw(st.booleans()):
            struct.pack_into(">3d", changed, 48, *data.draw(floats))
        changed[4:8] = data.draw(st.one_of(st.just(bytes(changed[4:8])), st.binary(min_size=4, max_size=4)))
        changed[88] = data.draw(st.integers(0, 11))
        pdus.append((when, ethernet(datagram(bytes(changed)))))
    outcome(pcap(pdus), "flight.pcap")
