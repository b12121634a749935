"""Laying effects on the hand that made them, and reading attitude and course for sideslip."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from deckward.explanation import power
from deckward.explanation.flight import coordinated, sideslip
from deckward.explanation.recursion import by_hand


def answer(hand, follows):
    """A first-order lag, step by step, that starts where the hand is."""
    out, now = [], hand[0]
    for wanted, share in zip(hand, follows, strict=True):
        now = now + share * (wanted - now)
        out.append(now)
    return np.array(out)


@pytest.fixture
def lagging():
    rng = np.random.default_rng(4)
    hand, push = rng.normal(size=80), rng.normal(size=80)
    return hand, push, rng.uniform(0.05, 1.0, 80)


def test_each_moment_is_given_what_it_alone_would_have_done(lagging):
    """Superposition, the definition of a linear system: one moment of the hand at a time."""
    hand, push, follows = lagging
    told = by_hand(push, answer(hand, follows), follows)
    for k in (1, 20, 79):
        alone = np.zeros(80)
        alone[k] = hand[k]
        assert told[k] == pytest.approx(push @ answer(alone, follows))
    assert told.sum() == pytest.approx(push @ answer(hand, follows))


def test_what_comes_later_changes_nothing_before_it(lagging):
    hand, push, follows = lagging
    other = hand.copy()
    other[40:50] += 1.0
    one, two = (by_hand(push, answer(h, follows), follows) for h in (hand, other))
    assert two[:40] == pytest.approx(one[:40])
    assert two[50:] == pytest.approx(one[50:])
    assert (two - one)[40:50].sum() == pytest.approx(push @ answer(other - hand, follows))


@pytest.mark.parametrize(
    ("roll", "alpha", "beta"), [(0.0, 0.14, 0.03), (0.25, 0.14, 0.0), (-0.4, 0.1, -0.05)]
)
def test_sideslip_is_that_of_an_attitude_and_a_way_through_the_air(roll, alpha, beta):
    """Attitude as scipy's intrinsic z-y-x rotation: the velocity in body axes gives alpha and beta."""
    heading, pitch = 0.3, 0.11
    body = Rotation.from_euler("ZYX", [heading, pitch, roll])
    way = body.apply([np.cos(alpha) * np.cos(beta), np.sin(beta), np.sin(alpha) * np.cos(beta)])
    climb, course = np.arcsin(-way[2]), np.arctan2(way[1], way[0])
    found = sideslip(*(np.array([value]) for value in (pitch, roll, climb, course - heading)))
    assert found == pytest.approx([beta], abs=1e-9)
    if beta == 0.0:
        off = coordinated(*(np.array([value]) for value in (pitch, roll, climb)))
        assert off == pytest.approx([course - heading], abs=1e-9)


def test_an_engine_at_its_quickest_follows_by_the_share_it_made():
    engine = power.Engine(
        np.array([0.0, 1.0]), np.array([0.0, 0.8]), np.array([0.4, 0.4]), np.array([0.8, 0.8])
    )
    throttle = np.where(np.arange(200) < 20, 0.3, np.where(np.arange(200) < 100, 0.5, 0.2))
    given = engine.answer(throttle, 0.05)
    follows = engine.follows(throttle, given, 0.05)
    assert answer(throttle, follows) == pytest.approx(given)
    assert follows[20] == pytest.approx(0.4 * 0.05 / 0.2)


def test_the_lag_of_a_jet_without_tables_comes_from_the_pass():
    """A throttle that is worked, answered with a lag of 0.4 s, averaged as the energy rate is."""
    rng = np.random.default_rng(2)
    time = np.arange(0.0, 25.0, 0.05)
    throttle = 0.4 + 0.06 * np.sin(1.1 * time) + 0.05 * np.sin(2.3 * time)
    asked = np.interp(throttle, power.USUAL_THROTTLE, power.USUAL_THRUST)
    thrust = power.lagged(asked, 0.05, 0.4)
    felt = np.convolve(thrust, np.ones(20) / 20, "same") - 0.18 + 0.002 * rng.normal(size=time.size)
    rows = (time > 2.0) & (time < 23.0)
    found = power.measure(throttle, felt, rows, dt=0.05, engine=None, spool=False)
    lag = 0.05 / found.follows[0] - 0.05
    assert lag == pytest.approx(0.4)
    assert np.std((found.thrust - thrust)[rows]) < 0.1 * np.std(thrust[rows])
