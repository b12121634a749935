"""Systems that run step by step, worked out for all steps at once."""

from __future__ import annotations

import numpy as np


def states(phi: np.ndarray, first: np.ndarray, pushes: np.ndarray) -> np.ndarray:
    """Run ``state = phi @ state + push`` and return the state before each push, (steps, states, cases).

    ``first`` is (states, cases), ``pushes`` (steps, states, cases). The steps are cut into blocks
    that run side by side from rest; what stood at the start of each block is added after.
    """
    steps, count, cases = pushes.shape
    length = max(int(np.sqrt(steps)), 1)
    blocks = -(-steps // length)
    padded = np.zeros((blocks * length, count, cases))
    padded[:steps] = pushes
    padded = padded.reshape(blocks, length, count, cases)
    out = np.empty_like(padded)
    state = np.zeros((blocks, count, cases))
    for k in range(length):
        out[:, k] = state
        state = phi @ state + padded[:, k]
    after = powers(phi, length)
    start, whole = np.empty_like(state), phi @ after[-1]
    running = first
    for block in range(blocks):
        start[block] = running
        running = whole @ running + state[block]
    out += after @ start[:, None]
    return out.reshape(blocks * length, count, cases)[:steps]


def powers(phi: np.ndarray, count: int) -> np.ndarray:
    """Return phi to the powers 0 to ``count - 1``, (count, states, states)."""
    out = np.empty((count, *phi.shape))
    out[0] = np.eye(len(phi))
    done, leap = 1, phi
    while done < count:
        more = min(done, count - done)
        out[done : done + more] = out[:more] @ leap
        done, leap = done + more, leap @ leap
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
