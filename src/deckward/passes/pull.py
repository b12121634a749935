"""Where a wire begins to pull, from how the run over the deck slows down.

A hook that takes a wire feels little at first: the pull grows while the wire straightens,
then stays, or grows on as a spring's. So the run is fitted as a free one plus a pull that
begins at some instant and grows for some while, both found by trial, over everything up to the
first half of the stop.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.foundation.statistics import median

#: seconds before contact that the run is fitted from, and what it may have lost by its end
_BEFORE, _UPTO = 0.8, 0.6
#: ways a pull may grow, and for how long, s: evenly or as a sine to its greatest, and then it stays; or as
#: a sine that falls again, as a spring's
_GROWS = (
    *(("even", grows) for grows in (0.02, 0.1, 0.18, 0.25, 0.32, 0.4, 0.5, 0.62)),
    *(("sine", grows) for grows in (0.4, 0.47, 0.55, 0.64, 0.75, 0.87, 1.0, 1.15, 1.3, 1.5, 1.7, 1.95, 2.2)),
    *(("wave", grows) for grows in (0.75, 0.87, 1.0, 1.15, 1.3, 1.5, 1.7, 1.95, 2.2, 2.5, 2.9, 3.5)),
)


def _beforehand() -> np.ndarray:
    """Chance of each way to grow: all orders of time alike, and the two that bend share theirs."""
    chance = []
    for kind, share in (("even", 1.0), ("sine", 0.5), ("wave", 0.5)):
        times = np.log([max(grows, 0.05) for bent, grows in _GROWS if bent == kind])
        chance.append(share * np.gradient(times))
    return np.concatenate(chance) / np.concatenate(chance).sum()


_CHANCE = _beforehand()
#: trials of the instant, s after contact
ONSETS = np.arange(-0.3, 2.2, 0.01)
#: accelerations that thrust and friction leave before and after contact, m/s^2, one sigma
_FLYING, _ROLLING = 0.4, 1.5
#: least that one run may leave of a way to grow that others like
_ODD = 1e-4
#: what the shape leaves of a place, m, gusts of an airspeed, m/s, and the least pull of a wire, m/s^2
_SHAPE, _GUSTS, _LEAST_PULL = 0.01, 0.4, 4.0


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
        total = self.fits @ _CHANCE
        return total / total.max()


def together(pulls: list[Pull]) -> tuple[list[tuple[float, float]], float]:
    """Onset and sigma, s, of pulls of like wires, which all grow in the same way.

    Returns:
        Each with its own sigma, and the sigma, s, that all share for want of knowing the way.
    """
    weight = _CHANCE
    for pull in pulls:
        alone = pull.fits.sum(axis=0)
        # one odd run must not settle it for all
        weight = weight * np.maximum(alone / alone.max(), _ODD)
    weight = weight / weight.sum()
    fits = np.stack([pull.fits for pull in pulls])
    of_way = np.maximum(fits.sum(axis=1), 1e-300)
    mean = np.einsum("pkg,k->pg", fits, ONSETS) / of_way
    spread = np.einsum("pkg,k->pg", fits, ONSETS**2) / of_way - mean**2
    onset = mean @ weight
    off = mean - onset[:, None]
    # how far all are off alike, a way to grow at a time
    shared = off.mean(axis=0)
    alone = np.sqrt((np.maximum(spread, 0.0) + (off - shared) ** 2) @ weight)
    both = float(np.sqrt(shared**2 @ weight))
    return [(float(at), float(sigma)) for at, sigma in zip(onset, alone, strict=True)], both


def _centre(chance: np.ndarray) -> tuple[float, float]:
    share = chance / chance.sum()
    mean = float((ONSETS * share).sum())
    return mean, float(np.sqrt((share * (ONSETS - mean) ** 2).sum()))


def pull_begins(
    elapsed: np.ndarray, x: np.ndarray, *, noise: float, speed: np.ndarray | None = None
) -> Pull | None:
    """Find when a wire began to pull.

    Args:
        elapsed: (n,), s after contact, from before it on.
        x: (n,), m along the deck of a point of the aircraft.
        noise: standard deviation of one place, m.
        speed: (n,), m/s, recorded beside the places, over the ground or through the air: how it falls is
            looked at, not how high it is. NaN where it was not.

    Returns:
        None where the run has no pull in it, or too few samples.
    """
    inside = elapsed > -_BEFORE
    elapsed, x = elapsed[inside], x[inside]
    end = _half_stopped(elapsed, x)
    if end is None:
        return None
    t, x = elapsed[: end + 1], x[: end + 1] - x[0]
    felt = np.full(t.size, np.nan) if speed is None else speed[inside][: end + 1]
    if t.size < 6 or (t > 0.0).sum() < 4:
        return None
    spread = float(np.hypot(noise, _SHAPE))
    ahead, rolled, none = np.minimum(t, 0.0), np.clip(t, 0.0, None), np.zeros_like(t)
    free = np.stack([none + 1.0, t, 0.5 * ahead**2, 0.5 * rolled**2, none], axis=-1) / spread
    since = t - ONSETS[:, None]
    pulls = np.stack([-_lost(since, bent, grows) for bent, grows in _GROWS], axis=1) / spread
    seen_at = x / spread
    known = np.isfinite(felt)
    if known.sum() > 5:
        # the same run as speeds, but for a wind
        of_speed = float(np.hypot(noise_of(felt[known]), _GUSTS))
        slope = np.stack([none, none + 1.0, ahead, rolled, none + 1.0], axis=-1)[known] / of_speed
        fall = np.stack([-_slower(since[:, known], bent, grows) for bent, grows in _GROWS], axis=1)
        free = np.concatenate([free, slope])
        pulls = np.concatenate([pulls, fall / of_speed], axis=-1)
        seen_at = np.concatenate([seen_at, (felt[known] - felt[known][0]) / of_speed])
    prior = np.diag([0.0, 0.0, 1.0 / _FLYING, 1.0 / _ROLLING, 1e-3])
    # what the free run cannot take up: the cost of any run is its square in this measure
    taken = np.linalg.inv(free.T @ free + prior**2)
    rest = seen_at - free @ (taken @ (free.T @ seen_at))
    shared = pulls @ free
    seen = pulls @ rest
    size = np.einsum("kgn,kgn->kg", pulls, pulls) - np.einsum("kgi,ij,kgj->kg", shared, taken, shared)
    strength = seen / np.maximum(size, 1e-12)
    enough = (size * spread**2 > 1e-9) & (strength >= _LEAST_PULL)
    score = np.where(enough, float(seen_at @ rest) - seen * strength, np.inf)
    if not np.isfinite(score).any():
        return None
    least = max(float(score.min()), 0.0)
    fits = np.exp(-0.5 * (score - least) / max(1.0, least / len(free)))
    mean, sigma = _centre(fits @ _CHANCE)
    best = int(score.argmin())
    return Pull(mean, sigma, float(strength.flat[best]), spread * float(np.sqrt(least / len(free))), fits)


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


def noise_of(values: np.ndarray) -> float:
    """Standard deviation of single samples (n,) from third differences, which smooth motion has little of."""
    if values.size < 8:
        return 0.0
    third = np.diff(values, 3)
    return float(1.4826 * median(np.abs(third)) / np.sqrt(20.0))


def _slower(since: np.ndarray, bent: str, grows: float) -> np.ndarray:
    """Speed lost, m/s, per m/s^2 of a pull; see :func:`_lost`."""
    if bent == "wave":
        rate = 0.5 * np.pi / grows
        return (1.0 - np.cos(rate * np.clip(since, 0.0, 2.0 * grows))) / rate
    up = np.clip(since, 0.0, grows)
    over = np.clip(since - grows, 0.0, None)
    if bent == "sine":
        rate = 0.5 * np.pi / grows
        return (1.0 - np.cos(rate * up)) / rate + over
    return up**2 / (2.0 * grows) + over


def _lost(since: np.ndarray, bent: str, grows: float) -> np.ndarray:
    """Metres lost per m/s^2 of a pull that grows for ``grows`` seconds in the way ``bent``."""
    if bent == "wave":
        rate = 0.5 * np.pi / grows
        up = np.clip(since, 0.0, 2.0 * grows)
        return up / rate - np.sin(rate * up) / rate**2 + 2.0 / rate * np.clip(since - 2.0 * grows, 0.0, None)
    up = np.clip(since, 0.0, grows)
    over = np.clip(since - grows, 0.0, None)
    if bent == "sine":
        rate = 0.5 * np.pi / grows
        lost, slower = up / rate - np.sin(rate * up) / rate**2, 1.0 / rate
    else:
        lost, slower = up**3 / (6.0 * grows), 0.5 * grows
    return lost + slower * over + 0.5 * over**2
