"""Systems worked out for all steps at once, against the same taken one step after the other."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.explanation import recursion


@pytest.mark.parametrize("share", [0.01, 0.06, 0.5, 1.0])
def test_a_lag_makes_up_its_share_of_the_gap_each_step(share):
    values = np.random.default_rng(3).normal(size=400)
    state, wanted = 0.0, []
    for value in values:
        state += share * (value - state)
        wanted.append(state)
    np.testing.assert_allclose(recursion.lagged(values, share), wanted, atol=1e-9)
