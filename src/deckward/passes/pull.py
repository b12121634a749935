"""Where a wire begins to pull, from how the run over the deck slows down.

A hook that takes a wire feels little at first: the pull grows while the wire straightens,
then stays. So the run is fitted as a free one plus a pull that begins at some instant and
grows for some while, both found by trial, over everything up to the first half of the stop.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

#: seconds before contact that the run is fitted from, and what it may have lost by its end
_BEFORE, _UPTO = 0.8, 0.6
#: ways a pull may grow: evenly or as a sine to its greatest, and for how long, s
_GROWS = tuple((False, grows) for grows in (0.02, 0.1, 0.18, 0.25, 0.32, 0.4, 0.5, 0.62)) + tuple(
    (True, grows) for grows in (0.4, 0.55, 0.75, 1.0, 1.3, 1.7, 2.2)
)
#: trials of the instant, s after contact
ONSETS = np.arange(-0.3, 2.2, 0.01)
#: accelerations that thrust and friction leave before and after contact, m/s^2, one sigma
_FLYING, _ROLLING = 0.4, 1.5
#: least that one run may leave of a way to grow that others like, and how much a sample counts: the
#: noise of recordings lasts longer than from one to the next; both from our flown arrests
_ODD, _COUNTS = 0.1, 0.45
#: what the shape leaves of a place, m, and the least pull of a wire, m/s^2
_SHAPE, _LEAST_PULL = 0.01, 4.0


class Pull(Struct, frozen=True):
    """When a wire began to pull: s after contact, with sigma; how well each trial fits.

    ``fits`` (k, g) is the likelihood of each of :data:`ONSETS` with each way to grow, greatest
    1; ``strength`` the pull, m/s^2; ``misfit`` m rms of the run about the best fit.
    """

    onset: float
    sigma: float
    strength: float
    misfit: float
    fits: np.ndarray

    @property
    def chance(self) -> np.ndarray:
        """Likelihood (k,) of each onset, greatest 1, however the pull grows."""
        total = self.fits.sum(axis=1)
        return total / total.max()


def together(pulls: list[Pull]) -> list[tuple[float, float]]:
    """Onset and sigma, s, of pulls of like wires, which all grow in the same way."""
    weight = np.ones(len(_GROWS))
    for pull in pulls:
        alone = pull.fits.sum(axis=0)
        # one odd run must not settle it for all
        weight = weight * np.maximum((alone / alone.max()) ** _COUNTS, _ODD)
    return [_centre(pull.fits**_COUNTS @ weight) for pull in pulls]


def _centre(chance: np.ndarray) -> tuple[float, float]:
    share = chance / chance.sum()
    mean = float((ONSETS * share).sum())
    return mean, float(np.sqrt((share * (ONSETS - mean) ** 2).sum()))


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
    t, x = elapsed[: end + 1], x[: end + 1] - x[0]
    if t.size < 6 or (t > 0.0).sum() < 4:
        return None
    spread = float(np.hypot(noise, _SHAPE))
    rolled = np.clip(t, 0.0, None)
    free = np.stack([np.ones_like(t), t, 0.5 * np.minimum(t, 0.0) ** 2, 0.5 * rolled**2], axis=-1)
    prior = np.diag([0.0, 0.0, spread / _FLYING, spread / _ROLLING])
    # what the free run cannot take up: the cost of any run is its square in this measure
    left = np.eye(t.size) - free @ np.linalg.solve(free.T @ free + prior**2, free.T)
    pulls = np.stack([-_lost(t - ONSETS[:, None], bent, grows) for bent, grows in _GROWS], axis=1)
    seen = pulls @ (left @ x)
    size = np.einsum("kgn,kgn->kg", pulls @ left, pulls)
    strength = seen / np.maximum(size, 1e-12)
    score = np.where((size > 1e-9) & (strength >= _LEAST_PULL), float(x @ left @ x) - seen * strength, np.inf)
    if not np.isfinite(score).any():
        return None
    least = max(float(score.min()), 0.0)
    per_sample = max(spread**2, least / t.size)
    fits = np.exp(-0.5 * (score - least) / per_sample)
    mean, sigma = _centre(fits.sum(axis=1))
    best = int(score.argmin())
    return Pull(mean, sigma, float(strength.flat[best]), float(np.sqrt(least / t.size)), fits)


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


def _lost(since: np.ndarray, bent: bool, grows: float) -> np.ndarray:
    """Metres lost per m/s^2 of a pull that grows for ``grows`` seconds, then stays."""
    up = np.clip(since, 0.0, grows)
    over = np.clip(since - grows, 0.0, None)
    if bent:
        rate = 0.5 * np.pi / grows
        lost, slower = up / rate - np.sin(rate * up) / rate**2, 1.0 / rate
    else:
        lost, slower = up**3 / (6.0 * grows), 0.5 * grows
    return lost + slower * over + 0.5 * over**2
