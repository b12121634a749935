"""Where wires lie, from where each arrest's pull began and where it came to rest.

A pull's beginning is blurred, and wires are laid at even spacing, nearly. Where a jet comes to rest is
sharp, but how far a wire lets it run is not known: that is found with the wires, as a length that may grow
with the speed, and how far arrests differ from it. Where they differ widely the rests count for little.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.foundation.statistics import median

#: spacings of wires that are tried, m, and how near the given one is expected
_SPACINGS, _SPACING_SIGMA = np.arange(8.5, 16.5, 0.05), 1.0
#: how unevenly wires are laid, m; no source
_UNEVEN = 0.4
#: most that one stray pull may cost, and from how many sigmas it counts less
_STRAY, _FAR = 9.0, 3.0
#: how far runs after a pull may differ beyond what the speed explains, m: what is tried
_DIFFER = np.geomspace(0.5, 20.0, 13)
#: how much longer a jet may run whose speed squared is twice that of another, m; the same where it is unknown
_FASTER, _ANY = 60.0, 1000.0


class Stop(Struct, frozen=True):
    """One arrest along the deck: the hook's ``x`` when the pull began, m, and its ``sigma``.

    ``halt`` is its x at rest, NaN where no rest was recorded; ``speed`` that at the pull, m/s.
    """

    x: float
    sigma: float
    halt: float
    speed: float


class Laid(Struct, frozen=True):
    """Wires (n,), m, aft first, with a sigma (n,) each, and the wire of each arrest, counted from 0."""

    places: np.ndarray
    sigma: np.ndarray
    number: np.ndarray


class _Runs(Struct, frozen=True):
    """What one solution holds: wires with sigma, the halt expected past each wire (k,), and its spread."""

    places: np.ndarray
    sigma: np.ndarray
    run: np.ndarray
    differ: float


def lay(stops: list[Stop], given: np.ndarray, given_sigma: float, place_sigma: float) -> Laid:
    """Find all wires of a ship.

    Args:
        stops: k arrests.
        given: (n,) where the wires were thought to be, m, aft first.
        given_sigma: how well each was known against the next, m.
        place_sigma: how well all of them together were known on the hull, m.
    """
    x, sigma, halt, speed = np.array([(s.x, s.sigma, s.halt, s.speed) for s in stops]).T
    usual = float(median(np.diff(given))) if given.size > 1 else 12.0
    known = min(max(given_sigma, 0.5), _SPACING_SIGMA)
    number = _numbers(x, sigma, given, usual, known, max(place_sigma, 1.0))
    faster = speed**2 / np.mean(speed**2) - 1.0
    counted = sigma
    for _ in range(4):
        found = _solve(number, np.stack([x, counted, halt, faster]), given.size, usual, known)
        # a stray pull counts for less the farther it is off
        off = np.abs(x - found.places[number]) / sigma
        counted = sigma * np.maximum(off / _FAR, 1.0)
        cost = np.minimum(((x[:, None] - found.places) / sigma[:, None]) ** 2, _STRAY)
        rested = (halt - found.run)[:, None] - found.places
        cost = cost + np.nan_to_num(rested / found.differ) ** 2
        again = cost.argmin(axis=1)
        if np.array_equal(again, number) and np.allclose(counted, sigma):
            break
        number = again
    return Laid(found.places, found.sigma, number)


def _numbers(x, sigma, given, usual: float, known: float, place: float) -> np.ndarray:
    """Which wire each pull (k,) began at, by the best comb; numbered as near to the given wires as can be."""
    best: tuple[float, float, float] | None = None
    for spacing in _SPACINGS if x.size > 1 else np.array([usual]):
        for start in np.arange(0.0, spacing, 0.2):
            off = (x - start + 0.5 * spacing) % spacing - 0.5 * spacing
            cost = float(np.sum(np.minimum((off / sigma) ** 2, _STRAY))) + ((spacing - usual) / known) ** 2
            # a finer comb fits anything: it must earn its teeth
            cost -= 2.0 * x.size * np.log(spacing)
            if best is None or cost < best[0]:
                best = (cost, float(spacing), float(start))
    assert best is not None
    _, spacing, start = best
    near = round((float(given[0]) - start) / spacing)
    least = np.inf
    for shift in range(near - given.size, near + given.size + 1):
        comb = start + spacing * (shift + np.arange(given.size))
        off = (x[:, None] - comb) / sigma[:, None]
        cost = float(np.sum(np.minimum(off**2, _STRAY).min(axis=1)))
        cost += (float(median(comb - given)) / place) ** 2
        if cost < least:
            least, number = cost, (off**2).argmin(axis=1)
    return number


def _solve(number, seen: np.ndarray, count: int, usual: float, known: float) -> _Runs:
    """Solve for the wires, given which took what; ``seen`` (4, k) as in :func:`lay`.

    Unknown are the first wire, the spacing, each wire's own offset, and the run's length and growth with
    speed: linear for each spread of the runs that is tried, and these weighed by how well they explain.
    """
    x, sigma, halt, faster = seen
    wires = np.concatenate([np.ones((count, 1)), np.arange(count)[:, None], np.eye(count)], axis=1)
    began = np.concatenate([wires[number], np.zeros((x.size, 2))], axis=1)
    rests = np.isfinite(halt)
    rested = np.concatenate([wires[number], np.ones((x.size, 1)), faster[:, None]], axis=1)[rests]
    loose = np.array([1.0 / _ANY, 1.0 / known, *[1.0 / _UNEVEN] * count, 1.0 / _ANY, 1.0 / _FASTER])
    wanted = loose * np.array([0.0, usual, *[0.0] * count, 0.0, 0.0])
    weighed, means, spreads, runs = [], [], [], []
    for differ in _DIFFER:
        rows = np.concatenate([np.diag(loose), began / sigma[:, None], rested / differ])
        values = np.concatenate([wanted, x / sigma, halt[rests] / differ])
        inverse = np.linalg.inv(rows.T @ rows)
        best = inverse @ (rows.T @ values)
        left = float(np.sum((rows @ best - values) ** 2))
        _, size = np.linalg.slogdet(inverse)
        weighed.append(-0.5 * left + 0.5 * size - rests.sum() * np.log(differ))
        means.append(wires @ best[:-2])
        spreads.append(np.diag(wires @ inverse[:-2, :-2] @ wires.T))
        runs.append(best[-2] + best[-1] * faster)
    share = np.exp(np.array(weighed) - max(weighed))
    share /= share.sum()
    places = share @ np.array(means)
    spread = share @ (np.array(spreads) + (np.array(means) - places) ** 2)
    return _Runs(places, np.sqrt(spread), share @ np.array(runs), float(np.exp(share @ np.log(_DIFFER))))
