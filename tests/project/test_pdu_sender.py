"""The example that sends PDUs writes what we read, and what the standard's other readers would."""

from __future__ import annotations

import importlib.util
import socket
import struct
from pathlib import Path

import numpy as np
import pymap3d
import pytest

from deckward import recordings, site
from deckward.aircraft import load as profile
from deckward.passes import find
from support.dis_packets import AIR, entity_state, timestamp, world_orientation

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "send_pdus.py"


@pytest.fixture(scope="module")
def example():
    spec = importlib.util.spec_from_file_location("send_pdus", EXAMPLE)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def sent(example, sink, seconds: float) -> None:
    """Send with a clock and a waiting that take no time."""
    now = [1_700_000_000.0]

    def wait(length: float) -> None:
        now[0] += length

    def clock() -> float:
        now[0] += 1e-4
        return now[0]

    example.send(sink, seconds, wait, clock)


@pytest.fixture
def read(example, tmp_path):
    path = tmp_path / "flight.dis"
    with path.open("wb") as file:
        sent(example, file.write, 30.0)
    return recordings.open_recording(path)


def test_it_is_some_forty_lines_of_code():
    lines = EXAMPLE.read_text(encoding="utf-8").splitlines()
    assert len([line for line in lines if line.strip()]) <= 60


def test_every_byte_is_where_the_standard_has_it(example):
    """Against a packing of the same state by names, its orientation by other formulas."""
    place, attitude, velocity = (47.3, -21.9, 180.0), (212.0, 6.5, -11.0), (-50.0, -31.0, 3.4)
    turned = world_orientation(*(np.radians([angle]) for angle in (*attitude, *place[:2])))
    u, v, w = pymap3d.enu2uvw(velocity[1], velocity[0], -velocity[2], place[0], place[1])
    expected = entity_state(
        stamp=timestamp(1234.5),
        location=pymap3d.geodetic2ecef(*place),
        orientation=turned[0],
        velocity=(u, v, w),
        algorithm=2,
        marking="Petrel 1",
        entity=(1, 1, 5),
        domain=AIR,
    )
    packed = example.entity_state(5, "Petrel 1", 1234.5, AIR, place, attitude, velocity)
    assert len(packed) == len(expected) == struct.unpack_from(">H", packed, 8)[0]
    numbers = slice(36, 84)  # velocity, location, orientation
    assert (packed[:36], packed[84:]) == (expected[:36], expected[84:])
    fields = [struct.unpack(">3f3d3f", blob[numbers]) for blob in (packed, expected)]
    assert fields[0][3:6] == pytest.approx(fields[1][3:6], abs=1e-6)
    assert fields[0] == pytest.approx(fields[1], rel=1e-6, abs=1e-6)


def test_what_is_sent_comes_back_as_it_was(example, read):
    (own,) = read.aircraft
    assert (own.who, len(own)) == ("Petrel 1", pytest.approx(600, abs=5))
    for row in (0, 200, -1):
        told = example.read(float(own.time[row] - own.time[0]))
        _, place, attitude, _ = told["Petrel 1"]
        assert np.degrees(own["latitude"][row]) == pytest.approx(place[0], abs=2e-7)
        assert own["altitude"][row] == pytest.approx(place[2], abs=0.02)
        assert np.degrees(own["pitch"][row]) == pytest.approx(attitude[1], abs=1e-3)
        assert np.degrees(read.ship["latitude"][row]) == pytest.approx(told["Ship"][1][0], abs=2e-7)


def test_a_pass_is_found_in_it(read):
    found = find(read.aircraft[0], ship=read.ship, site=site.load("generic-ship"), aircraft=profile())
    assert len(found.passes) == 1


def test_they_travel_as_datagrams(example):
    with (
        socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as ear,
        socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as mouth,
    ):
        ear.bind(("127.0.0.1", 0))
        ear.settimeout(5.0)
        mouth.connect(ear.getsockname())
        sent(example, mouth.send, 0.05)
        packets = [ear.recv(2000) for _ in range(2)]
    assert [len(packet) for packet in packets] == [144, 144]
    assert {packet[129:].split(b"\0")[0] for packet in packets} == {b"Petrel 1", b"Ship"}
