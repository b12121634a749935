"""A thousand holds from anywhere in any wind, flown by the clock by jets that know no planner."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.foundation.units import DEGREE, KNOT, NAUTICAL_MILE
from deckward.planning import holding
from support import flown_holds

COUNT = 1000
ROLL_RATE = 10 * DEGREE


def along(angle):
    return np.stack([np.cos(angle), np.sin(angle)], axis=-1)


@pytest.fixture(scope="module")
def flown():
    """Solve and fly them all; errors at the time that the plan has the jet leave the fix."""
    draw = np.random.default_rng(20)
    inbound = draw.uniform(0, 2 * np.pi, COUNT)
    airspeed = draw.uniform(230, 330, COUNT) * KNOT
    course = inbound + draw.uniform(-0.6, 0.6, COUNT)
    ship = draw.uniform(0, 30, COUNT)[:, None] * KNOT * along(course)
    air = draw.uniform(0, 70, COUNT)[:, None] * KNOT * along(draw.uniform(0, 2 * np.pi, COUNT))
    fix = -draw.uniform(20, 36, COUNT)[:, None] * NAUTICAL_MILE * along(inbound)
    away = draw.uniform(0, 40, COUNT)[:, None] * NAUTICAL_MILE * along(draw.uniform(0, 2 * np.pi, COUNT))
    heading = draw.uniform(0, 2 * np.pi, COUNT)
    seconds = draw.uniform(240, 2400, COUNT)
    plans = [
        holding.solve(
            holding.Start(*(fix[i] + away[i]), heading[i], airspeed[i]),
            fix=(fix[i, 0], fix[i, 1]),
            inbound=inbound[i],
            drift=ship[i] - air[i],
            seconds=seconds[i],
        )
        for i in range(COUNT)
    ]
    legs = np.zeros((COUNT, max(len(plan.legs) for plan in plans), 4))
    legs[:, :, 0] = np.inf
    for row, plan in zip(legs, plans, strict=True):
        row[: len(plan.legs)] = [(leg.start, leg.heading, leg.bank, leg.turned) for leg in plan.legs]
    until = seconds + [plan.late for plan in plans]
    place, end = flown_holds.fly(
        legs, fix + away, heading, airspeed, air, until, roll_rate=ROLL_RATE, step=0.25
    )
    missed = place - fix - until[:, None] * ship
    way = along(inbound)
    past = np.sum((airspeed[:, None] * along(end) + air - ship) * way, axis=1)
    seconds_off = np.sum(missed * way, axis=1) / past
    across = missed[:, 1] * way[:, 0] - missed[:, 0] * way[:, 1]
    return plans, seconds, seconds_off, across


def test_each_crosses_the_fix_at_its_time(flown):
    """Within 5 s wherever it can be there in time at all, and over the fix, not beside it."""
    plans, _, off, across = flown
    in_time = np.array([plan.late == 0.0 for plan in plans])
    assert in_time.sum() > 0.9 * COUNT
    assert np.abs(off[in_time]).max() < 5.0
    assert np.abs(across).max() < 0.1 * NAUTICAL_MILE


def test_who_cannot_be_in_time_says_how_late_and_is(flown):
    plans, _, off, _ = flown
    late = np.array([plan.late > 0.0 for plan in plans])
    assert late.sum() > 20
    assert np.abs(off[late]).max() < 5.0


def test_who_is_too_near_for_a_little_delay_is_rare(flown):
    plans, _, _, _ = flown
    assert sum(plan.late < 0.0 for plan in plans) <= COUNT // 200


def test_laps_stay_near_six_minutes_and_turns_within_thirty_degrees(flown):
    plans, _, _, _ = flown
    laps = [plan.laps for plan in plans if plan.laps]
    assert len(laps) > COUNT // 2
    seconds = np.array([lap.seconds for lap in laps])
    # where strong wind leaves no room for the legs of a short lap, one twice as long is flown
    assert seconds.max() <= 720.0
    assert np.percentile(np.abs(seconds - 360.0), 75) <= 90.0
    banks = np.array([abs(leg.bank) for plan in plans for leg in plan.legs])
    assert banks.max() <= 30 * DEGREE + 1e-9
    assert all(leg.seconds > 0.0 for plan in plans for leg in plan.legs)
