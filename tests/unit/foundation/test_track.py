"""The track: frozen, read-only, its own copy."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.foundation.track import Track


def track(n: int = 6) -> Track:
    time = np.arange(float(n))
    return Track("one", time, {"north": time * 10.0, "up": time + 100.0}, {"up": 0.1})


def test_it_keeps_a_copy_of_what_it_is_given():
    time, up = np.arange(4.0), np.ones(4)
    channels, sigma = {"up": up}, {"up": 0.3}
    kept = Track("one", time, channels, sigma)
    time[0] = up[0] = 99.0
    channels["down"] = up
    sigma["up"] = 7.0
    assert kept.time[0] == 0.0
    assert kept["up"][0] == 1.0
    assert "down" not in kept
    assert kept.sigma["up"] == 0.3


def test_nothing_in_it_can_be_changed():
    one = track()
    with pytest.raises(AttributeError):
        one.who = "two"
    with pytest.raises(ValueError, match="read-only"):
        one["up"][0] = 1.0
    with pytest.raises(ValueError, match="read-only"):
        one.time[0] = 1.0
    with pytest.raises(TypeError):
        one.channels["north"] = np.zeros(6)
    with pytest.raises(TypeError):
        one.sigma["north"] = 1.0


def test_a_channel_of_another_length_is_refused():
    with pytest.raises(ValueError, match="pitch"):
        Track("one", np.arange(3.0), {"pitch": np.zeros(4)})


def test_both_ends_of_a_stretch_belong_to_it():
    assert track().between(1.0, 3.0).time.tolist() == [1.0, 2.0, 3.0]
    assert track().between(1.5, 1.6).time.size == 0
    assert track().between(-10.0, 99.0).time.size == 6


def test_taking_samples_takes_every_channel():
    part = track().take(np.array([0, 4]))
    assert part["north"].tolist() == [0.0, 40.0]
    assert part.who == "one" and dict(part.sigma) == {"up": 0.1}
    assert track().take(track()["up"] > 103.0).time.tolist() == [4.0, 5.0]


def test_channels_can_be_added_in_a_copy():
    one = track()
    more = one.with_channels(pitch=np.zeros(6), up=np.full(6, 5.0))
    assert "pitch" in more and "pitch" not in one
    assert more["up"][0] == 5.0 and one["up"][0] == 100.0


def test_it_says_what_it_has():
    one = track()
    assert len(one) == 6
    assert one.get("pitch") is None
    with pytest.raises(KeyError):
        one["pitch"]
    assert not one.geodetic
    assert one.with_channels(latitude=np.zeros(6)).geodetic
