"""Wires laid from pulls and halts that were made up with known places."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.passes.wiring import Stop, lay

TRUE = np.array([50.0, 62.3, 74.2, 86.5])
GIVEN = np.array([52.0, 64.0, 76.0, 88.0])
MANY = (0, 1, 1, 2, 2, 3, 3, 3)


def stops(numbers, sigma, *, run=95.0, differ=0.3, faster=0.0, seed=1) -> list[Stop]:
    """Arrests at wires (from 0): pulls off by ``sigma``, runs by ``differ`` and longer by speed, m."""
    rng = np.random.default_rng(seed)
    speeds = 52.0 + 4.0 * rng.normal(size=len(numbers))
    found = []
    for wire, speed in zip(TRUE[list(numbers)], speeds, strict=True):
        halt = wire + run + faster * (speed**2 / 52.0**2 - 1.0) + differ * rng.normal()
        found.append(Stop(wire + sigma * rng.normal(), sigma, halt, speed))
    return found


@pytest.mark.parametrize("faster", [0.0, 60.0])
def test_halts_show_the_spacing_where_pulls_are_blurred(faster):
    """Whether runs are all alike or longer for faster jets, the wires come nearer to their true spacing."""
    with_halts, without = [], []
    for seed in range(12):
        seen = stops(MANY, 2.0, faster=faster, seed=seed)
        blind = [Stop(one.x, one.sigma, np.nan, one.speed) for one in seen]
        for kept, out in ((seen, with_halts), (blind, without)):
            off = lay(kept, GIVEN, 4.0, 4.0).places - TRUE
            out.append(off - off.mean())
    assert np.std(with_halts) < 0.7 * np.std(without)


@pytest.mark.parametrize("differ", [0.3, 8.0])
def test_truth_lies_within_two_sigma(differ):
    """Also where runs differ so widely that halts say nothing."""
    inside = []
    for seed in range(25):
        found = lay(stops(MANY, 1.0, differ=differ, seed=seed), GIVEN, 4.0, 4.0)
        inside += list(np.abs(found.places - TRUE) < 2.0 * found.sigma)
    assert np.mean(inside) > 0.9


def test_a_wire_that_none_took_is_the_less_sure_the_farther_off_it_is():
    found = lay(stops((0, 0, 0), 0.7), GIVEN, 4.0, 4.0)
    assert list(np.argsort(found.sigma)) == [0, 1, 2, 3]
    assert found.sigma[3] > 2.5 and found.sigma[0] < 1.0


def test_one_blurred_pull_does_not_move_every_wire_by_one():
    """It seems to begin a spacing aft of the first wire, but may well be nine metres off."""
    seen = [*stops((1, 2, 2, 3), 0.7), Stop(38.0, 9.0, np.nan, 50.0)]
    found = lay(seen, GIVEN, 4.0, 4.0)
    assert found.places == pytest.approx(TRUE, abs=2.0)
    assert list(found.number[:4]) == [1, 2, 2, 3]
