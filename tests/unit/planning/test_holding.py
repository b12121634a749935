"""Holding: the racetrack in calm air, its legs in wind, and the way drawn."""

from __future__ import annotations

import math

import numpy as np
import pytest

from deckward.errors import InputError
from deckward.foundation.units import DEGREE, KNOT, NAUTICAL_MILE
from deckward.planning import holding
from support.authorities import rows

V = 288.7 * KNOT
FIX = (-25.0 * NAUTICAL_MILE, 0.0)
CALM = np.zeros(2)


def hold(seconds, *, north=-45.0, east=0.0, heading=0.0, drift=CALM, **options):
    start = holding.Start(north * NAUTICAL_MILE, east * NAUTICAL_MILE, heading, V)
    plan = holding.solve(start, fix=FIX, inbound=0.0, drift=drift, seconds=seconds, **options)
    return start, plan


def test_straight_in_from_behind_the_fix():
    _, plan = hold(20 * NAUTICAL_MILE / V + 1e-6)
    assert plan.arrival == pytest.approx(20 * NAUTICAL_MILE / V, abs=0.1)
    assert plan.laps is None


def test_six_minutes_more_is_one_published_lap():
    """Two turns of two minutes and two legs of one: 1,440 s of way, and bank as derived, 21.6 deg."""
    lap = rows("case-three-approach")["holding"]["lap [min]"] * 60.0
    _, plan = hold(20 * NAUTICAL_MILE / V + lap)
    laps = plan.laps
    assert laps is not None and laps.count == 1
    assert laps.bank / DEGREE == pytest.approx(21.6, abs=0.06)
    assert laps.half_turn == pytest.approx(120.0, abs=3.0)
    # rolling in and out takes a few seconds off each leg
    assert laps.inbound_seconds == pytest.approx(60.0, abs=3.0)
    assert laps.outbound_seconds == pytest.approx(laps.inbound_seconds, abs=1e-6)
    assert math.remainder(laps.outbound_heading - math.pi, 2 * math.pi) == pytest.approx(0.0, abs=1e-9)
    assert laps.inbound_seconds + laps.outbound_seconds + 2 * laps.half_turn == pytest.approx(lap)


def test_wind_on_the_nose_shortens_the_way_out():
    """The fix comes to meet a jet held back by the wind: more time inbound than outbound."""
    _, plan = hold(1500.0, drift=np.array([40 * KNOT, 0.0]))
    assert plan.laps is not None
    assert plan.laps.inbound_seconds > plan.laps.outbound_seconds + 30.0


def test_crosswind_is_held_with_more_crab_outbound():
    """Wind from the east: the jet points into it on both legs, and about twice as much going out."""
    _, plan = hold(1500.0, drift=np.array([0.0, 30 * KNOT]))
    laps = plan.laps
    assert laps is not None
    inbound = math.remainder(laps.inbound_heading, 2 * math.pi)
    outbound = math.remainder(math.pi - laps.outbound_heading, 2 * math.pi)
    assert inbound == pytest.approx(math.asin(30 * KNOT / V), abs=1e-9)
    assert outbound > 2.0 * inbound


def test_a_little_time_is_drawn_out_without_a_lap():
    _, plan = hold(20 * NAUTICAL_MILE / V + 60.0)
    assert plan.laps is None and plan.late == 0.0
    assert sum(leg.seconds for leg in plan.legs) == pytest.approx(20 * NAUTICAL_MILE / V + 60.0, abs=0.05)


def test_too_near_to_lose_a_little_time_is_said_to_be_early():
    _, plan = hold(60.0, north=-26.0)
    assert plan.late == pytest.approx(-(60.0 - 1.0 * NAUTICAL_MILE / V), abs=0.5)


def test_too_late_says_by_how_much():
    _, plan = hold(100.0)
    assert plan.late == pytest.approx(20 * NAUTICAL_MILE / V - 100.0, abs=0.1)


@pytest.mark.parametrize("seconds", [500.0, 900.0, 2000.0])
def test_the_way_drawn_ends_over_the_fix(seconds):
    drift = np.array([20 * KNOT, -15 * KNOT])
    start, plan = hold(seconds, north=-10.0, east=14.0, heading=2.0, drift=drift)
    way = holding.trace(plan, start, drift=drift)
    assert way[-1, 0] == pytest.approx(seconds, abs=0.1)
    assert way[-1, 1:] == pytest.approx(FIX, abs=150.0)
    assert (np.diff(way[:, 0]) > 0.0).all()


def test_a_fix_that_outruns_the_jet_is_refused():
    with pytest.raises(InputError, match="cannot stay over it"):
        hold(600.0, drift=np.array([V * 1.01, 0.0]))
