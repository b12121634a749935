"""Odds held against what came: simulated passes on a rough day, flown on from half a mile.

Source of the yardstick: Brier, "Verification of forecasts expressed in terms of probability",
Monthly Weather Review 78 (1950); a forecast is of use where it beats the base rate's.
"""

from __future__ import annotations

import numpy as np
import pytest

from deckward.foundation.units import NAUTICAL_MILE
from deckward.prediction import State, odds_from
from deckward.prediction.ensemble import OUTCOMES
from deckward.prediction.following import follow
from deckward.prediction.scene import Officer, Pilot
from support.odds import beyond_chance, brier, fly_through
from support.predicted import DT, made, rough_day

PASSES, EACH = 48, 60


@pytest.fixture(scope="module")
def crossed():
    scene, states = made(pilot=Pilot(), officer=Officer(), ranges=(1400.0,), **rough_day())
    starts = State(*(np.repeat(column, PASSES) for column in states))
    starts = starts._replace(z=starts.z + 4.0 * np.random.default_rng(8).normal(size=PASSES))
    return scene, fly_through(scene, starts, [0.5 * NAUTICAL_MILE], seed=11)[0]


def told(scene, found, number):
    record, look = found.record(scene, number), np.array([found.look[number]])
    followed = follow(scene, record, look, count=EACH, particles=200, seed=number, dt=DT, begun=True)
    states = State(*(column[look] for column in record.states))
    return odds_from(scene, states, begins=record.begins[look], seed=number, followed=followed)


def test_the_odds_of_a_followed_pilot_come_true(crossed):
    scene, found = crossed
    odds = [told(scene, found, number) for number in range(found.outcome.size)]
    trap, bolter = (np.array([getattr(one, name)[0] for one in odds]) for name in ("trap", "bolter"))
    for name, chance in (("trap", trap), ("bolter", bolter)):
        assert abs(beyond_chance(chance, found.outcome == OUTCOMES.index(name))) < 3.0
    score, base = brier(trap, found.outcome == OUTCOMES.index("trap"))
    assert score < base


def test_what_a_pilot_summed_up_is_found_again(crossed):
    """Two pilots who looked at a low and at a high ball come to the same place with unlike sums."""
    scene, found = crossed
    record, look = found.record(scene, 0), np.array([found.look[0]])
    sums = []
    for by in (-3.0, 3.0):
        moved = record._replace(states=record.states._replace(z=record.states.z + by))
        followed = follow(scene, moved, look, count=EACH, particles=200, seed=1, dt=DT, begun=True)
        sums.append(float(followed.memory.height_sum.mean()))
    assert sums[1] - sums[0] > 5.0
