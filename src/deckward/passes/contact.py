"""Where the aircraft meets the deck, and what stopped it."""

from __future__ import annotations

from collections.abc import Mapping
from math import erf, sqrt

import numpy as np
from msgspec import Struct

from deckward.foundation.statistics import median
from deckward.foundation.units import STANDARD_GRAVITY
from deckward.passes.pull import ONSETS, pull_begins
from deckward.site.model import Site

#: deceleration that only a wire gives: over two seconds, and over less than one and a bit;
#: chosen by us: brakes alone stay below it, every arrest of our flown passes above it
WIRE_DECELERATION = 0.45 * STANDARD_GRAVITY
_EARLY_DECELERATION = 0.3 * STANDARD_GRAVITY
_LOOK = 2.0
#: the deck is looked for this far around the landing area, m
_MARGIN_AHEAD, _MARGIN_ASIDE = 60.0, 60.0
#: metres between a wire and where its pull is seen to begin, beside what the samples leave open
PULL_SIGMA = 1.2
#: how often a hook passes over a wire that it is low enough for, and then over the next as well;
#: how often a pull is read quite wrongly, how often the hook's height is, and by how many metres
#: along the deck: chosen by us
_SKIPS, _SKIPS_ON, _MISREAD, _MISPLACED, _ASTRAY = 0.03, 0.3, 0.001, 0.03, 6.0
#: places that all wires together are tried at, in sigmas
_SHIFTS = np.linspace(-3.0, 3.0, 25)


class RollOut(Struct, frozen=True):
    """What the recording shows after contact, from its own samples.

    ``seconds`` is how long it goes on; ``speed_at_contact`` and ``speed_left`` against the
    deck, m/s; ``deceleration`` the strongest over two seconds, m/s^2; ``chance`` (k,), greatest
    1, how likely a pull began while the hook point was at the deck x ``began`` (k,), m; both
    empty where no pull can be read.
    """

    seconds: float
    speed_at_contact: float
    speed_left: float
    deceleration: float
    began: np.ndarray
    chance: np.ndarray

    @property
    def held(self) -> bool:
        """Whether a wire held the aircraft."""
        long_enough = self.seconds > 1.2
        return self.deceleration > (WIRE_DECELERATION if long_enough else _EARLY_DECELERATION)

    @property
    def stopped(self) -> bool:
        """Whether it came to rest, or near enough, on the deck."""
        return self.speed_left < 0.3 * max(self.speed_at_contact, 1.0)

    def pulled_at(self, places: np.ndarray) -> np.ndarray:
        """Likelihood of a pull by a wire at each deck x, greatest 1; all alike where none can be read."""
        if not self.chance.size:
            return np.ones(np.shape(places))
        off = (self.began - places[..., None]) / PULL_SIGMA
        likely = np.exp(-0.5 * off**2) @ self.chance
        return likely / max(float(likely.max()), 1e-300)


def over_deck(points: np.ndarray, site: Site) -> np.ndarray:
    """Whether deck-frame points (m, 3) stand over the deck round the landing area."""
    return (
        (points[:, 0] >= 0.0)
        & (points[:, 0] < site.length + _MARGIN_AHEAD)
        & (np.abs(points[:, 1]) < site.width / 2.0 + _MARGIN_ASIDE)
    )


def first_below(time: np.ndarray, height: np.ndarray, ok: np.ndarray) -> float | None:
    """First time (s) at which a height falls to zero where ``ok``, between samples by a line."""
    below = (height <= 0.0) & ok
    rows = np.flatnonzero(below)
    if not rows.size:
        return None
    i = int(rows[0])
    if i == 0 or not np.isfinite(height[i - 1]) or height[i - 1] <= 0.0:
        return float(time[i])
    share = height[i - 1] / (height[i - 1] - height[i])
    return float(time[i - 1] + share * (time[i] - time[i - 1]))


def roll_out(
    time: np.ndarray, x: np.ndarray, *, contact: float, x_contact: float, speed: float, noise: float
) -> RollOut:
    """Read what happened after contact from where the recorded hook points stand.

    Args:
        time: (n,), s, from a second before contact on.
        x: (n,), deck x of the hook point, m, from the recorded place and attitude.
        contact: s.
        x_contact: of the hook point at contact, deck x, m.
        speed: against the deck at contact, m/s, + forward.
        noise: standard deviation of a recorded place, m.
    """
    after = time >= contact
    elapsed = time[after] - contact
    if elapsed.size < 3 or elapsed[-1] < 0.3:
        seconds = float(elapsed[-1]) if elapsed.size else 0.0
        return RollOut(seconds, speed, speed, 0.0, np.empty(0), np.empty(0))
    deceleration = _strongest(elapsed, x[after])
    tail = time >= time[-1] - max(0.6, 3.0 * float(median(np.diff(time[after]))))
    left = float(np.polyfit(time[tail] - time[-1], x[tail], 1)[0]) if tail.sum() > 1 else speed
    pull = pull_begins(time - contact, x, noise=noise)
    if pull is None:
        began = chance = np.empty(0)
    else:
        began = x_contact + np.interp(ONSETS, time - contact, x) - np.interp(contact, time, x)
        chance = pull.chance
    return RollOut(float(elapsed[-1]), speed, left, deceleration, began, chance)


def _strongest(elapsed, x) -> float:
    """Strongest mean deceleration over two seconds (or all there is), m/s^2, by parabolas."""
    span = min(_LOOK, float(elapsed[-1]))
    best = -np.inf
    for begin in np.arange(0.0, max(float(elapsed[-1]) - span, 0.0) + 1e-9, 0.25):
        rows = (elapsed >= begin) & (elapsed <= begin + span + 1e-9)
        if rows.sum() >= 4:
            best = max(best, -2.0 * float(np.polyfit(elapsed[rows] - begin, x[rows], 2)[0]))
    return best if np.isfinite(best) else 0.0


class Wire(Struct, frozen=True):
    """Which wire, how sure, and what speaks against it."""

    number: int | None
    odds: Mapping[str, float]
    in_the_air: bool
    flags: tuple[str, ...]


def geometric_wire(site: Site, low_x: float) -> int | None:
    """First wire, counted from aft and from 1, at or past the x where the hook is low enough."""
    if site.wires is None:
        return None
    for number, x in enumerate(site.wires.positions, start=1):
        if x >= low_x:
            return number
    return None


def wire_odds(site: Site, low_x: float, sigma: float) -> dict[str, float]:
    """Chance of each wire (and of ``none``) when the hook is low enough at ``low_x`` +- sigma."""
    if site.wires is None:
        return {"none": 1.0}
    sigma = max(float(np.hypot(sigma, site.sigma.wires)), 1e-6)
    edges = [0.0] + [0.5 * (1.0 + erf((x - low_x) / sigma / sqrt(2.0))) for x in site.wires.positions]
    odds = {str(k): edges[k] - edges[k - 1] for k in range(1, len(edges))}
    return {**odds, "none": 1.0 - edges[-1]}


def passed_over(site: Site, low_x: float, sigma: float) -> bool:
    """Whether a hook that no wire held passed over one, rather than coming down beyond them all.

    ``low_x`` (m, ``sigma``) is where the hook was first low enough for a wire. Where the last wire
    stands within the doubt of that, coming down beyond it is the likelier.
    """
    if site.wires is None or geometric_wire(site, low_x) is None:
        return False
    at = np.asarray(site.wires.positions) + site.sigma.wires * _SHIFTS[:, None]
    shifts = np.exp(-0.5 * _SHIFTS**2) if site.sigma.wires > 0.0 else np.ones(_SHIFTS.size)
    first = _first(at, low_x, sigma)
    left = np.arange(at.shape[1], 0, -1)
    over = first @ (_SKIPS * _SKIPS_ON ** (left - 1))
    return float(shifts @ over) > float(shifts @ (1.0 - first.sum(axis=1)))


def stopped_by(site: Site, low_x: float, sigma: float, roll: RollOut) -> Wire:
    """Settle the wire of an aircraft that a wire held.

    Geometry says where the hook was first low enough (``low_x``, ``sigma``), the recording
    where the pull began, and now and then a hook passes over a wire. Each first wire and
    each later one that may have held is weighed by all three. Where the file has the
    wires, all of them may stand off by one and the same distance.
    """
    assert site.wires is not None
    at = np.asarray(site.wires.positions) + site.sigma.wires * _SHIFTS[:, None]
    shifts = np.exp(-0.5 * _SHIFTS**2) if site.sigma.wires > 0.0 else np.ones(_SHIFTS.size)
    sharp, wide = _first(at, low_x, sigma), _first(at, low_x, float(np.hypot(sigma, _ASTRAY)))
    first = (1.0 - _MISPLACED) * sharp + _MISPLACED * wide + 1e-12
    pull = (roll.pulled_at(at) + _MISREAD) * shifts[:, None]
    steps = np.arange(at.shape[1]) - np.arange(at.shape[1])[:, None]
    over = np.where(steps > 0, _SKIPS * _SKIPS_ON ** np.maximum(steps - 1, 0), steps == 0)
    # first wire that the hook was low enough for, wire that held
    joint = np.einsum("sf,fk,sk->fk", first, over, pull)
    joint /= joint.sum()
    weight = joint.sum(axis=0)
    held = int(np.argmax(weight))
    flags: tuple[str, ...] = ()
    if joint[:held, held].sum() > 0.5 * weight[held]:
        flags = ("hook skip",)
    elif shifts @ sharp[:, : held + 1].sum(axis=1) < 1e-3 * shifts.sum():
        flags = ("geometry and deceleration disagree",)
    odds = {str(k): float(w) for k, w in enumerate(weight, start=1) if w > 5e-4}
    total = sum(odds.values())
    return Wire(held + 1, {k: w / total for k, w in odds.items()}, False, flags)


def _first(at: np.ndarray, low_x: float, sigma: float) -> np.ndarray:
    """Chance (s, k) that each wire, at ``at`` (s, k), is the first that the hook is low enough for."""
    z = (at - low_x) / max(sigma, 1e-6) / sqrt(2.0)
    reached = np.array([0.5 * (1.0 + erf(value)) for value in z.ravel()]).reshape(z.shape)
    return np.diff(reached, axis=1, prepend=0.0)
