"""Systems worked out for all steps at once, against the same taken one step after the other."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.explanation import recursion


@pytest.mark.parametrize("steps", [1, 2, 23, 24, 25, 50, 99, 613])
def test_steps_taken_in_pairs_are_those_taken_one_after_the_other(steps):
    rng = np.random.default_rng(steps)
    phi = np.eye(4) + 0.05 * rng.normal(size=(steps, 4, 4))
    first, pushes = rng.normal(size=(4, 2)), rng.normal(size=(steps, 4, 2))
    state, wanted = first, []
    for k in range(steps):
        wanted.append(state)
        state = phi[k] @ state + pushes[k]
    np.testing.assert_allclose(recursion.run(phi, first, pushes), wanted, rtol=1e-8, atol=1e-9)
    rows = rng.normal(size=(3, 4))
    back = [rows]
    for k in range(steps - 1, -1, -1):
        back.append(back[-1] @ phi[k])
    np.testing.assert_allclose(recursion.carried(phi, rows), back[::-1], rtol=1e-8, atol=1e-9)


@pytest.mark.parametrize("share", [0.01, 0.06, 0.5, 1.0])
def test_a_lag_makes_up_its_share_of_the_gap_each_step(share):
    values = np.random.default_rng(3).normal(size=400)
    state, wanted = 0.0, []
    for value in values:
        state += share * (value - state)
        wanted.append(state)
    np.testing.assert_allclose(recursion.lagged(values, share), wanted, atol=1e-9)
