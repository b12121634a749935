"""Where the aircraft meets the deck, and what stopped it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import erf, sqrt

import numpy as np

from deckward.foundation.units import STANDARD_GRAVITY
from deckward.site.model import Site

#: deceleration that only a wire gives: over two seconds, and over less than one and a bit;
#: chosen by us: brakes alone stay below it, every arrest of our flown passes above it
WIRE_DECELERATION = 0.45 * STANDARD_GRAVITY
_EARLY_DECELERATION = 0.3 * STANDARD_GRAVITY
_LOOK = 2.0
#: the deck is looked for this far around the landing area, m
_MARGIN_AHEAD, _MARGIN_ASIDE = 60.0, 60.0
#: metres lost that the start of a wire's pull is read from, and how well its shape is known there
_FIRST_METRES, SHAPE_SIGMA = 4.0, 0.03
#: share of the space between wires from which on their places are too vague to read a pull by
_VAGUE = 0.3
#: friction and thrust before a wire pulls, m/s^2
_COASTING = 1.5


@dataclass(frozen=True)
class RollOut:
    """What the recording shows after contact, from its own samples.

    ``seconds`` is how long it goes on; ``speed_at_contact`` and ``speed_left`` against the
    deck, m/s; ``deceleration`` the strongest over two seconds, m/s^2; ``misfit`` how
    far (m, rms) the distance lost stands from a pull that began at each wire, by number.
    """

    seconds: float
    speed_at_contact: float
    speed_left: float
    deceleration: float
    misfit: Mapping[int, float]

    @property
    def held(self) -> bool:
        """Whether a wire held the aircraft."""
        long_enough = self.seconds > 1.2
        return self.deceleration > (WIRE_DECELERATION if long_enough else _EARLY_DECELERATION)

    @property
    def stopped(self) -> bool:
        """Whether it came to rest, or near enough, on the deck."""
        return self.speed_left < 0.3 * max(self.speed_at_contact, 1.0)


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
    time: np.ndarray, x: np.ndarray, *, contact: float, x_contact: float, speed: float, wires
) -> RollOut:
    """Read what happened after contact from where the recorded hook points stand.

    Args:
        time: (n,), s, of the samples from contact on.
        x: (n,), deck x of the hook point, m, from the recorded place and attitude.
        contact: s.
        x_contact: of the hook point at contact, deck x, m.
        speed: against the deck at contact, m/s, + forward.
        wires: deck x of the wires, aft first, m.
    """
    elapsed = time - contact
    if time.size < 3 or elapsed[-1] < 0.3:
        return RollOut(float(elapsed[-1]) if time.size else 0.0, speed, speed, 0.0, {})
    lost = x_contact + speed * elapsed - x
    deceleration = _strongest(elapsed, x)
    tail = time >= time[-1] - max(0.6, 3.0 * float(np.median(np.diff(time))))
    left = float(np.polyfit(time[tail] - time[-1], x[tail], 1)[0]) if tail.sum() > 1 else speed
    misfit = {
        number: _misfit(elapsed, lost, (position - x_contact) / max(speed, 1.0))
        for number, position in enumerate(wires, start=1)
    }
    return RollOut(float(elapsed[-1]), speed, left, deceleration, misfit)


def _strongest(elapsed, x) -> float:
    """Strongest mean deceleration over two seconds (or all there is), m/s^2, by parabolas."""
    span = min(_LOOK, float(elapsed[-1]))
    best = -np.inf
    for begin in np.arange(0.0, max(float(elapsed[-1]) - span, 0.0) + 1e-9, 0.25):
        rows = (elapsed >= begin) & (elapsed <= begin + span + 1e-9)
        if rows.sum() >= 4:
            best = max(best, -2.0 * float(np.polyfit(elapsed[rows] - begin, x[rows], 2)[0]))
    return best if np.isfinite(best) else 0.0


def _misfit(elapsed, lost, onset: float) -> float:
    """How far (m, rms) the first metres lost stand from a pull that begins at ``onset`` (s).

    The pull may be there at once or grow; before it the aircraft coasts, with friction or
    thrust up to a bound.
    """
    beyond = np.flatnonzero(lost > _FIRST_METRES)
    stop = max(int(beyond[0]) + 1 if beyond.size else elapsed.size, min(5, elapsed.size))
    t, lost = elapsed[:stop], lost[:stop]
    after = np.clip(t - onset, 0.0, None)
    best = float(np.sqrt(np.mean(lost**2)))
    for powers in ((2,), (3,), (2, 3)):
        shapes = np.stack([after**power for power in powers], axis=1)
        for coasting in (None, -_COASTING, 0.0, _COASTING):
            if coasting is None:
                basis, rest = np.column_stack([shapes, 0.5 * t**2]), lost
            else:
                basis, rest = shapes, lost - 0.5 * coasting * t**2
            solution, *_ = np.linalg.lstsq(basis, rest, rcond=None)
            if (solution[: len(powers)] < 0.0).any():
                continue
            if coasting is None and abs(solution[-1]) > _COASTING:
                continue
            best = min(best, float(np.sqrt(np.mean((rest - basis @ solution) ** 2))))
    return best


@dataclass(frozen=True)
class Wire:
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


def stopped_by(site: Site, low_x: float, sigma: float, roll: RollOut, noise: float) -> Wire:
    """Settle the wire of an aircraft that a wire held.

    Geometry says where the hook was first low enough, the recording where the pull began;
    both weigh by their sigma (``noise``, m, is that of a recorded place). A pull that
    plainly begins at a later wire than geometry's is told as a hook skip, one that begins
    before the hook was low as a disagreement.
    """
    assert site.wires is not None
    positions = np.asarray(site.wires.positions)
    numbers = np.arange(1, positions.size + 1)
    geometry = wire_odds(site, low_x, sigma)
    weight = np.array([geometry[str(k)] for k in numbers])
    spread = float(np.hypot(SHAPE_SIGMA, noise))
    misfit = np.array([roll.misfit.get(int(k), 0.0) for k in numbers])
    if positions.size > 1 and site.sigma.wires > _VAGUE * float(np.diff(positions).min()):
        # where a pull begins tells nothing of wires that may stand anywhere
        misfit = np.zeros(numbers.size)
    pull = np.exp(-2.0 * np.minimum((misfit - misfit.min()) ** 2 / spread**2, 40.0))
    flags: tuple[str, ...] = ()
    first = geometric_wire(site, low_x)
    likely = int(numbers[int(np.argmin(misfit))])
    if first is None or weight.sum() < 1e-3:
        flags = ("geometry and deceleration disagree",)
        weight = pull * np.exp(-0.5 * np.minimum(((low_x - positions) / 6.0) ** 2, 80.0)) + 1e-12
    elif likely > first and misfit[first - 1] > 4.0 * spread and misfit[likely - 1] < 2.0 * spread:
        if geometry[str(likely)] < 0.05:
            flags = ("hook skip",)
            weight = np.where(numbers > first, pull, 0.0)
        else:
            weight = weight * pull
    elif weight.max() < 0.999:
        weight = weight * (pull + 1e-3)
    weight = weight / weight.sum()
    odds = {str(k): float(w) for k, w in zip(numbers, weight, strict=True) if w > 5e-4}
    total = sum(odds.values())
    return Wire(int(numbers[int(np.argmax(weight))]), {k: w / total for k, w in odds.items()}, False, flags)
