"""Systems that run step by step, worked out for all steps at once."""

from __future__ import annotations

import numpy as np


def lagged(values: np.ndarray, share: float) -> np.ndarray:
    """Pass values (n,) through a first-order lag that makes up a share of the gap each step, from rest."""
    weights = share * (1.0 - share) ** np.arange(min(values.size, int(30.0 / share)))
    return np.convolve(values, weights)[: values.size]


def by_hand(push: np.ndarray, answer: np.ndarray, follows: float | np.ndarray) -> np.ndarray:
    """Lay what a lagging answer did on the moments of the hand that it follows; the sum stays.

    Args:
        push: what a unit of the answer does at the ramp, by step, (n,).
        answer: the answer, (n,); it makes up the share
        follows: of its gap to the hand in each step, a number or (n,).
    """
    left = 1.0 - np.broadcast_to(follows, push.shape)
    weight, later = 0.0, []
    for done, stays in zip(push[::-1].tolist(), np.append(left[1:], 0.0)[::-1].tolist(), strict=True):
        weight = done + stays * weight
        later.append(weight)
    # what led to the first answer lies before the first sample, and stays with it
    hand = np.concatenate([answer[:1], answer[1:] - left[1:] * answer[:-1]])
    return np.array(later[::-1]) * hand
