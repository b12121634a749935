"""Where a wire begins to pull, from how the run over the deck slows down.

A hook that takes a wire feels little at first: the pull grows while the wire straightens,
then stays. So the run is fitted as a free one plus a pull that begins at some instant and
grows for some while, both found by trial, over everything up to the first half of the stop.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

#: seconds before contact that the run is fitted from, and what it may have lost by its end
_BEFORE, _UPTO = 0.8, 0.55
#: how long a pull may take to grow, s
_GROWS = (0.02, 0.1, 0.18, 0.26, 0.34, 0.44, 0.56)
#: trials of the instant, s after contact
ONSETS = np.arange(-0.3, 2.2, 0.01)
#: accelerations that thrust and friction leave before and after contact, m/s^2, one sigma
_FLYING, _ROLLING = 0.4, 1.5
#: what the shape leaves of a place, m, and the least pull of a wire, m/s^2
_SHAPE, _LEAST_PULL = 0.01, 4.0


@dataclass(frozen=True)
class Pull:
    """When a wire began to pull: s after contact, with sigma; how well each trial fits.

    ``chance`` (k,) over :data:`ONSETS`, greatest 1; ``strength`` the pull, m/s^2;
    ``misfit`` m rms of the run about the best fit.
    """

    onset: float
    sigma: float
    strength: float
    misfit: float
    chance: np.ndarray


def pull_begins(elapsed: np.ndarray, x: np.ndarray, *, noise: float) -> Pull | None:
    """Find when a wire began to pull.

    Args:
        elapsed: (n,), s after contact, from before it on.
        x: (n,), m along the deck of a point of the aircraft.
        noise: standard deviation of one place, m.

    Returns:
        None where the run has no pull in it, or too few samples.
    """
    inside = elapsed > -_BEFORE
    elapsed, x = elapsed[inside], x[inside]
    end = _half_stopped(elapsed, x)
    if end is None:
        return None
    t, x = elapsed[: end + 1], x[: end + 1]
    if t.size < 6 or (t > 0.0).sum() < 4:
        return None
    spread = float(np.hypot(noise, _SHAPE))
    rolled = np.clip(t, 0.0, None)
    free = np.stack([np.ones_like(t), t, 0.5 * np.minimum(t, 0.0) ** 2, 0.5 * rolled**2], axis=-1)
    prior = np.diag([0.0, 0.0, spread / _FLYING, spread / _ROLLING, 0.0])
    score = np.full((ONSETS.size, len(_GROWS)), np.inf)
    strength = np.zeros_like(score)
    for i, onset in enumerate(ONSETS):
        for j, grows in enumerate(_GROWS):
            basis = np.column_stack([free, -_lost(t - onset, grows)])
            normal = basis.T @ basis + prior**2
            try:
                solution = np.linalg.solve(normal, basis.T @ x)
            except np.linalg.LinAlgError:
                continue
            if solution[4] < _LEAST_PULL:
                continue
            rest = x - basis @ solution
            score[i, j] = float(rest @ rest) + float(np.sum((prior @ solution) ** 2))
            strength[i, j] = solution[4]
    if not np.isfinite(score).any():
        return None
    least = float(score.min())
    per_sample = max(spread**2, least / t.size)
    chance = np.exp(-0.5 * (score - least) / per_sample).sum(axis=1)
    share = chance / chance.sum()
    mean = float((ONSETS * share).sum())
    sigma = float(np.sqrt((share * (ONSETS - mean) ** 2).sum()))
    return Pull(
        mean,
        sigma,
        float(strength.flat[int(score.argmin())]),
        float(np.sqrt(least / t.size)),
        chance / chance.max(),
    )


def _half_stopped(elapsed: np.ndarray, x: np.ndarray) -> int | None:
    """Row at which about half of the speed at contact is gone; None where it never is."""
    before = elapsed < 0.15
    if before.sum() < 3:
        return None
    speed = float(np.polyfit(elapsed[before], x[before], 1)[0])
    later = np.minimum(elapsed + 0.25, elapsed[-1])
    earlier = np.maximum(elapsed - 0.25, elapsed[0])
    now = (np.interp(later, elapsed, x) - np.interp(earlier, elapsed, x)) / np.maximum(later - earlier, 1e-6)
    slow = np.flatnonzero((now < _UPTO * speed) & (elapsed > 0.2))
    return int(slow[0]) if slow.size else None


def _lost(since: np.ndarray, grows: float) -> np.ndarray:
    """Metres lost per m/s^2 of a pull that grows evenly for ``grows`` seconds, then stays."""
    up = np.clip(since, 0.0, grows)
    over = np.clip(since - grows, 0.0, None)
    return up**3 / (6.0 * grows) + 0.5 * grows * over + 0.5 * over**2
