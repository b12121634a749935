"""The example recorder writes what we read, whole and without a question."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import numpy as np
import pytest

from deckward import recordings, site
from deckward.aircraft import load as profile
from deckward.passes import find

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "record_flight.py"


@pytest.fixture
def written(tmp_path):
    """Thirty seconds of a recorder whose clock and waiting take no time."""
    spec = importlib.util.spec_from_file_location("record_flight", EXAMPLE)
    example = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(example)
    now = [100.0]

    def wait(seconds: float) -> None:
        now[0] += seconds

    def clock() -> float:
        now[0] += 1e-4
        return now[0]

    example.record(str(tmp_path / "flight.csv"), 30.0, wait, clock)
    return example, recordings.open_recording(tmp_path / "flight.csv")


def test_it_is_forty_lines_long():
    assert len(EXAMPLE.read_text(encoding="utf-8").splitlines()) <= 45


def test_every_column_is_understood_and_nothing_is_amiss(written):
    example, read = written
    (own,) = read.aircraft
    assert not read.notes
    assert read.rate_hz == pytest.approx(example.RATE, rel=0.05)
    wanted = {"heading", "pitch", "roll", "true_airspeed", "angle_of_attack", "throttle", "hook"}
    assert set(own.channels) == wanted | {"latitude", "longitude", "altitude"}
    assert set(read.ship.channels) == {"latitude", "longitude", "altitude", "heading", "pitch", "roll"}


def test_the_numbers_come_back_as_they_were(written):
    example, read = written
    (own,) = read.aircraft
    for row in (0, 200, -1):
        told = example.read(float(own.time[row]))
        assert np.degrees(own["latitude"][row]) == pytest.approx(told["latitude_deg"], abs=2e-8)
        assert own["altitude"][row] == pytest.approx(told["altitude_m"], abs=5e-3)
        assert np.degrees(read.ship["latitude"][row]) == pytest.approx(told["ship_latitude_deg"], abs=2e-8)


def test_a_pass_is_found_in_it(written):
    _, read = written
    found = find(read.aircraft[0], ship=read.ship, site=site.load("generic-ship"), aircraft=profile())
    assert len(found.passes) == 1
