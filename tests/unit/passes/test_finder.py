"""Approaches that never came near the centreline: found where they end low over the ramp's line, else not."""

from __future__ import annotations

import numpy as np
import pytest

from deckward import site
from deckward.passes import finder

SHIP = site.load("wintermere")


def skewed(*, aside: float, over: float, degrees: float = 20.0) -> finder.Overview:
    """A straight run at 58 m/s that comes in ``degrees`` off, ``aside`` m off the centreline at the ramp.

    It descends at 3.5 deg to a height ``over`` the deck at the ramp, and flies level past it.
    """
    time = np.arange(0.0, 40.0, 0.25)
    along = 58.0 * (time - 30.0)
    left = np.minimum(along, 0.0) * np.tan(np.radians(degrees)) - aside
    height = over + np.tan(np.radians(3.5)) * np.maximum(-along, 0.0)
    still = np.full(time.size, 58.0)
    sink = np.where(along < 0.0, -58.0 * np.tan(np.radians(3.5)), 0.0)
    return finder.Overview(time, along, left, height, still, still, sink, along + SHIP.ramp[0], left)


@pytest.mark.parametrize("aside", [25.0, 45.0])
def test_a_jet_that_comes_in_askew_and_low_is_a_pass(aside):
    (window,) = finder.windows(skewed(aside=aside, over=3.0), SHIP)
    assert window.start < 15.0
    assert window.end > 30.0


@pytest.mark.parametrize("more", [{"aside": 45.0, "over": 40.0}, {"aside": 250.0, "over": 3.0}])
def test_who_goes_by_high_or_far_aside_makes_none(more):
    assert finder.windows(skewed(**more), SHIP) == ()


def test_a_usual_approach_is_found_once():
    assert len(finder.windows(skewed(aside=0.0, over=3.0, degrees=1.0), SHIP)) == 1
