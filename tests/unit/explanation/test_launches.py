"""Launches made by hand: found once, and only the fault that is in them is told."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from deckward import aircraft, explanation
from deckward.explanation import launch as launches
from deckward.foundation.track import Track

RATE, FIRES, PULL, STROKE = 20.0, 10.0, 27.0, 2.6
LEAVES = FIRES + STROKE


@pytest.fixture(scope="module")
def profile():
    table = {
        "mass_kg": [4000, 9000],
        "trim_deg": [5.0, 5.0],
        "end_airspeed_kt": [110, 150],
        "flaps": "half",
        "pitch_trim": [0.2, 0.3],
    }
    jet = aircraft.load("sandlark")
    return replace(jet, tables={**jet.tables, "launch": table})


def launch(*, dip=0.5, **channels):
    """A jet that is fired north off a ship that sails north at 10 m/s, and climbs away."""
    time = np.arange(0.0, LEAVES + 12.0, 1.0 / RATE)
    stroke, after = np.clip(time - FIRES, 0.0, STROKE), np.clip(time - LEAVES, 0.0, None)
    along = 0.5 * PULL * stroke**2 + PULL * STROKE * after
    climb = 2.0
    rise = np.where(after > 0, -np.sqrt(2 * climb * dip) * after + 0.5 * climb * after**2, 0.0)
    still = np.zeros_like(time)
    usual = {
        "throttle": np.where(time > FIRES - 3.0, 1.0, 0.1),
        "stick_pitch": still,
        "pitch_trim": still + 0.24,
        "flaps": still + 0.5,
        "mass": still + 6000.0,
    }
    own = Track(
        "jet", time, {"north": 10.0 * time + along, "east": still, "up": 20.0 + rise, **usual, **channels}
    )
    ship = Track("ship", time, {"north": 10.0 * time, "east": still, "up": still, "heading": still})
    return time, own, ship


def codes(own, ship, profile):
    found = explanation.launches(own, ship)
    assert len(found) == 1
    return [finding.code for finding in launches.findings(found[0], profile)]


def test_a_clean_launch_is_found_where_it_is_and_says_nothing(profile):
    _, own, ship = launch()
    (found,) = explanation.launches(own, ship)
    assert found.start == pytest.approx(FIRES, abs=0.4)
    assert found.end == pytest.approx(LEAVES, abs=0.5)
    assert launches.findings(found, profile) == ()


def test_each_fault_is_told_alone(profile):
    time, own, ship = launch()
    pulled = np.where((time > FIRES + 0.8) & (time < FIRES + 1.4), 0.4, 0.0)
    assert codes(own.with_channels(stick_pitch=pulled), ship, profile) == ["stick-in-launch"]
    assert codes(own.with_channels(pitch_trim=0 * time + 0.5), ship, profile) == ["launch-trim"]
    assert codes(own.with_channels(flaps=0 * time), ship, profile) == ["launch-flaps"]
    assert codes(own.with_channels(throttle=0 * time + 0.7), ship, profile) == ["launch-power"]
    _, sunk, ship = launch(dip=6.0)
    assert codes(sunk, ship, profile) == ["launch-settle"]


def test_what_was_not_recorded_is_not_guessed(profile):
    _, own, ship = launch()
    bare = replace(own, channels={name: own[name] for name in ("north", "east", "up")})
    assert codes(bare, ship, profile) == []


def test_a_run_on_deck_and_a_landing_are_no_launches():
    time, own, ship = launch()
    slow = own.with_channels(north=10.0 * time + 0.2 * (own["north"] - 10.0 * time))
    assert explanation.launches(slow, ship) == ()
    backwards = replace(own, channels={name: values[::-1] for name, values in own.channels.items()})
    assert explanation.launches(backwards, ship) == ()


def test_a_launch_is_told_with_the_pass_it_led_to():
    _, own, ship = launch()
    (found,) = explanation.launches(own, ship)
    assert explanation.launch_before([found], [100.0, 400.0]) == {0: found}
    assert explanation.launch_before([found], [1.0, 5.0]) == {1: found}
    assert explanation.launch_before([found], []) == {}
