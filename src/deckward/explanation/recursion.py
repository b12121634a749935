"""Systems that run step by step, worked out for all steps at once."""

from __future__ import annotations

import numpy as np

#: fewer steps than this are taken one after the other
_FEW = 24


def run(phi: np.ndarray, first: np.ndarray, pushes: np.ndarray) -> np.ndarray:
    """Run ``state = phi @ state + push``, each step with its own; return the state before each.

    Pairs of steps are made one, and so on until few are left; then those between are filled in.

    Args:
        phi: (steps, states, states).
        first: (states, cases).
        pushes: (steps, states, cases).
    """
    steps = len(phi)
    out = np.empty_like(pushes)
    if steps <= _FEW:
        state = first
        for k in range(steps):
            out[k] = state
            state = phi[k] @ state + pushes[k]
        return out
    even = steps // 2 * 2
    early, late = phi[0:even:2], phi[1:even:2]
    both = late @ pushes[0:even:2] + pushes[1:even:2]
    out[0:even:2] = run(late @ early, first, both)
    out[1:even:2] = early @ out[0:even:2] + pushes[0:even:2]
    if steps > even:
        out[-1] = phi[even - 1] @ out[even - 1] + pushes[even - 1]
    return out


def carried(phi: np.ndarray, lasts: np.ndarray) -> np.ndarray:
    """Carry rows ``lasts`` (k, states) back through the steps of ``phi``: (steps + 1, k, states).

    What a row reads after the last step, read from the state before each step, and after all.
    """
    steps = len(phi)
    out = np.empty((steps + 1, *lasts.shape))
    out[steps] = lasts
    if steps <= _FEW:
        for k in range(steps - 1, -1, -1):
            out[k] = out[k + 1] @ phi[k]
        return out
    odd = steps % 2
    if odd:
        out[steps - 1] = lasts @ phi[-1]
    early, late = phi[0 : steps - odd : 2], phi[1 : steps - odd : 2]
    out[0 : steps - odd + 1 : 2] = carried(late @ early, out[steps - odd])
    out[1 : steps - odd : 2] = out[2 : steps - odd + 1 : 2] @ late
    return out


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
