"""Systems worked out for all steps at once, against the same taken one step after the other."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.explanation import recursion


@pytest.mark.parametrize("steps", [1, 2, 7, 100, 613])
def test_states_are_those_of_single_steps(steps):
    rng = np.random.default_rng(steps)
    phi = np.eye(4) + 0.05 * rng.normal(size=(4, 4))
    first, pushes = rng.normal(size=(4, 2)), rng.normal(size=(steps, 4, 2))
    state, wanted = first, []
    for push in pushes:
        wanted.append(state)
        state = phi @ state + push
    np.testing.assert_allclose(recursion.states(phi, first, pushes), wanted, rtol=1e-9)


def test_powers_are_products():
    phi = np.array([[0.9, 0.2], [-0.1, 1.0]])
    wanted = [np.linalg.matrix_power(phi, k) for k in range(11)]
    np.testing.assert_allclose(recursion.powers(phi, 11), wanted, rtol=1e-12)


@pytest.mark.parametrize("share", [0.01, 0.06, 0.5, 1.0])
def test_a_lag_makes_up_its_share_of_the_gap_each_step(share):
    values = np.random.default_rng(3).normal(size=400)
    state, wanted = 0.0, []
    for value in values:
        state += share * (value - state)
        wanted.append(state)
    np.testing.assert_allclose(recursion.lagged(values, share), wanted, atol=1e-9)
