"""Scales too coarse for the motion: what they were written in, and what their repeats are worth."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.foundation.track import Track
from deckward.foundation.units import DEGREE, FOOT
from deckward.passes.estimate import lanes_of
from deckward.passes.ground import Ground
from deckward.recordings import open_recording
from deckward.recordings.steps import written_step


def descent(rate: float) -> np.ndarray:
    """Heights of an approach, m, that waver a little."""
    time = np.arange(0.0, 60.0, 1.0 / rate)
    return 250.0 - 3.9 * time + 0.8 * np.sin(0.3 * time) + 0.2 * np.sin(1.7 * time)


@pytest.mark.parametrize("rate", [10.0, 20.0, 50.0])
@pytest.mark.parametrize("digits", [3, 4, 6])
def test_whole_feet_written_in_metres_are_found_in_a_steady_descent(rate, digits):
    written = np.round(np.round(descent(rate) / FOOT) * FOOT, digits)
    assert written_step(written) == pytest.approx(FOOT, rel=1e-2)


def test_even_motion_held_for_some_samples_is_no_scale():
    written = np.repeat(np.linspace(200.0, 20.0, 300), 2)
    assert written_step(written) is None


def test_what_rounding_leaves_of_a_zero_is_on_no_coarse_scale():
    """A still ship's pitch worked out of other angles: every value is far smaller than any round step."""
    found = written_step(np.random.default_rng(1).normal(0.0, 1e-9, 400))
    assert found is None or found < 1e-9


def test_the_repeats_of_a_coarse_place_count():
    """One sample of each step alone would stand half a step behind."""
    time = np.arange(0.0, 60.0, 0.02)
    step = 1e-5 * DEGREE
    latitude = 12.0 * DEGREE + 10.0 / 6.371e6 * time
    ship = Track(
        "ship",
        time,
        {
            "latitude": np.round(latitude / step) * step,
            "longitude": np.full_like(time, 0.3),
            "altitude": np.full_like(time, 20.0),
            "heading": np.zeros_like(time),
        },
        {"latitude": step / np.sqrt(12.0), "longitude": step / np.sqrt(12.0)},
    )
    north = lanes_of(ship, Ground.at(ship, 60.0))["north"]
    assert north.measured.mean() > 0.95


def test_a_ship_that_does_not_heave_is_written_in_the_feet_of_the_aircraft(tmp_path):
    rate = 20.0
    time = np.arange(0.0, 60.0, 1.0 / rate)
    feet = np.round(descent(rate) / FOOT) * FOOT
    level = np.full_like(time, np.round(19.5 / FOOT) * FOOT)
    place, nothing = (30.0 + 1e-5 * time, np.full_like(time, -75.0)), np.zeros_like(time)
    rows = np.column_stack([time, *place, feet, *place, level, nothing])
    names = "time_s,latitude_deg,longitude_deg,altitude_m,ship_latitude_deg,ship_longitude_deg,"
    file = tmp_path / "flight.csv"
    np.savetxt(file, rows, "%.6f", ",", header=names + "ship_altitude_m,ship_heading_deg", comments="")
    read = open_recording(file)
    assert read.ship.sigma["altitude"] == pytest.approx(FOOT / np.sqrt(12.0), rel=1e-2)
