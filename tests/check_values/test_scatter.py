"""Passes by chance against the ranges that are usually told: plausible bounds, no more.

From memory, low confidence: hook touchdown scatters 35 to 60 ft by day, its height at the ramp
2.5 to 5 ft, sink 2 to 3.5 ft/s about 10 to 13, boarding 90 to 97 per cent by day and 80 to 93 by
night.
"""

from __future__ import annotations

import numpy as np
import pytest

from deckward import aircraft, site
from deckward.environment import airwake, sea
from deckward.prediction import NIGHT, Conditions, Pilot, model_of, study

FOOT = 0.3048


@pytest.fixture(scope="module")
def flown():
    motion = sea.deck_motion(sea.sea_state(5), sea.Hull(), speed=8.0, heading=np.pi, seed=1)
    day = Conditions(airwake=airwake.load(), motion=motion)
    jet, ship = model_of(aircraft.load("stormcote")), site.load("wintermere")
    return {
        name: study(jet, ship, day, pilot=pilot, count=250, seed=2)
        for name, pilot in (("day", Pilot()), ("night", NIGHT))
    }


def test_touchdown_scatters_as_is_told(flown):
    day = flown["day"]
    assert 30.0 <= day.touch_x[1] / FOOT <= 65.0
    assert 2.0 <= day.ramp_height[1] / FOOT <= 5.0
    assert 3.0 <= day.touch_y[1] / FOOT <= 7.0
    assert 9.5 <= day.sink[0] / FOOT <= 13.0
    assert flown["night"].touch_x[1] > day.touch_x[1]


def test_boarding_is_as_often_as_is_told(flown):
    assert 0.88 <= flown["day"].shares["trap"].value <= 0.98
    assert 0.80 <= flown["night"].shares["trap"].value <= 0.95


def test_scatter_along_the_deck_is_at_least_that_at_the_ramp(flown):
    """Worked: the touchdown's variance is that of the height at the ramp over tan of the path, and more."""
    day = flown["day"]
    assert day.touch_x[1] >= 0.9 * day.ramp_height[1] / np.tan(np.radians(3.5))


def test_sink_follows_from_closure(flown):
    """Worked: mean sink is closure times the path's tangent; the airwake's downwash is met low and slow."""
    passes = flown["day"].passes
    closure = np.nanmean(passes.touch_closure)
    assert flown["day"].sink[0] == pytest.approx(closure * np.tan(np.radians(3.5)), rel=0.15)
