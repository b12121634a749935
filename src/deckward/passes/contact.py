"""Where the aircraft meets the deck, and what stopped it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import erf, sqrt

import numpy as np

from deckward.foundation.units import STANDARD_GRAVITY
from deckward.site.model import Site

#: mean deceleration over half a second that only a wire gives; common practice, no source
WIRE_DECELERATION = 0.7 * STANDARD_GRAVITY
#: the deck is looked for this far around the landing area, m
_MARGIN_AHEAD, _MARGIN_ASIDE = 60.0, 60.0
#: how well the onset of a wire's pull places the hook, m, at best
_ONSET_SIGMA = 1.5
#: how far past the wire its pull is typically felt, m; common practice, no source
_FELT_LATE = 3.0


@dataclass(frozen=True)
class RollOut:
    """What the recording shows after contact, from its own samples.

    ``speed_left`` and ``speed_at_contact`` against the deck, m/s; ``deceleration`` the
    strongest half-second mean, m/s^2; ``seconds`` how long the recording goes on;
    ``onset_x`` where the hook point was when the pull began, deck x, m.
    """

    seconds: float
    speed_at_contact: float
    speed_left: float
    deceleration: float
    onset_x: float | None
    onset_sigma: float | None

    @property
    def held(self) -> bool:
        """Whether a wire held the aircraft."""
        return self.deceleration > WIRE_DECELERATION

    @property
    def stopped(self) -> bool:
        """Whether it came to rest, or near enough, on the deck."""
        return self.speed_left < 0.3 * max(self.speed_at_contact, 1.0)


def over_deck(points: np.ndarray, site: Site) -> np.ndarray:
    """Whether deck-frame points (m, 3) stand over the deck round the landing area."""
    return (
        (points[:, 0] > -3.0)
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


def roll_out(time: np.ndarray, hook: np.ndarray, contact: float, x_contact: float, speed: float) -> RollOut:
    """Read what happened after contact from the recorded hook points.

    Args:
        time: (n,), s, of the samples from contact on.
        hook: (n, 3), deck frame, m, from the recorded place and attitude.
        contact: s.
        x_contact: of the hook point at contact, deck x, m.
        speed: against the deck at contact, m/s, + forward.
    """
    if time.size < 3 or time[-1] - contact < 0.3:
        left = speed
        seconds = float(time[-1] - contact) if time.size else 0.0
        return RollOut(seconds, speed, left, 0.0, None, None)
    x = hook[:, 0]
    rate = np.gradient(x, time)
    left = float(np.median(rate[-min(3, rate.size) :]))
    slowest = min(left, float(np.min(_mean3(rate))))
    span = 0.5
    later = np.interp(time + span, time, rate, right=np.nan)
    drop = (rate - later) / span
    strongest = float(np.nanmax(drop)) if np.isfinite(drop).any() else 0.0
    if not np.isfinite(drop).any():
        strongest = float((speed - left) / max(time[-1] - contact, 0.1))
    onset = _onset(time, x, contact, x_contact, speed) if strongest > WIRE_DECELERATION else (None, None)
    return RollOut(float(time[-1] - contact), speed, max(slowest, 0.0), strongest, onset[0], onset[1])


def _mean3(values: np.ndarray) -> np.ndarray:
    if values.size < 3:
        return values
    return np.convolve(values, np.full(3, 1.0 / 3.0), mode="valid")


def _onset(time, x, contact: float, x_contact: float, speed: float) -> tuple[float | None, float | None]:
    """Find where the pull of a wire begins: distance lost grows from there as a power of time.

    The free run is known from before contact; tried are a pull that is there at once and
    one that grows steadily, over a grid of onsets in the first few metres lost.
    """
    elapsed = time - contact
    lost = x_contact + speed * elapsed - x
    for reach in (2.5, 6.0, 15.0):
        beyond = np.flatnonzero(lost > reach)
        stop = int(beyond[0]) + 1 if beyond.size else time.size
        if stop >= 5:
            break
    t, lost = elapsed[:stop], lost[:stop]
    if t.size < 3:
        return None, None
    best = (np.inf, 0.0)
    for onset in np.arange(0.0, max(t[-2], 0.02), 0.01):
        after = np.clip(t - onset, 0.0, None)
        for power in (2, 3):
            shape = after**power
            size = float(shape @ lost) / max(float(shape @ shape), 1e-12)
            left = float(np.sum((lost - size * shape) ** 2))
            if size > 0.0 and left < best[0]:
                best = (left, float(onset))
    if not np.isfinite(best[0]):
        return None, None
    # the samples round the onset bound how well it can be placed
    i = int(np.clip(np.searchsorted(t, best[1]), 1, t.size - 1))
    step = max(float(np.median(np.diff(time))), float(t[i] - t[i - 1]))
    sigma = float(np.hypot(_ONSET_SIGMA, 0.5 * speed * step))
    return x_contact + speed * best[1], sigma


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


def stopped_by(site: Site, low_x: float, sigma: float, roll: RollOut) -> Wire:
    """Settle the wire of an aircraft that a wire held.

    Geometry says where the hook was first low enough, the recording where the pull began;
    both weigh by their sigma. A pull that begins clearly at a later wire than geometry's is
    told as a hook skip, one that fits no wire as a disagreement.
    """
    assert site.wires is not None
    positions = np.asarray(site.wires.positions)
    geometry = wire_odds(site, low_x, sigma)
    weight = np.array([geometry[str(k + 1)] for k in range(positions.size)])
    flags: list[str] = []
    if roll.onset_x is not None and roll.onset_sigma is not None:
        spread = np.hypot(roll.onset_sigma, site.sigma.wires)
        # a pull cannot be felt before the wire; growing from nothing, it is felt after it
        past = roll.onset_x - positions - _FELT_LATE
        late = past / np.where(past > 0.0, np.hypot(spread, _FELT_LATE), spread)
        pull = np.exp(-0.5 * np.minimum(late**2, 80.0))
        first = geometric_wire(site, low_x)
        nearest = int(np.argmin(np.abs(late)))
        if first is None or (
            nearest + 1 != first and abs(late[nearest]) < 2.0 and abs(late[first - 1]) > 2.5
        ):
            if first is not None and nearest + 1 > first:
                flags.append("hook skip")
                weight = np.where(np.arange(positions.size) > first - 1, pull, 0.0)
            else:
                flags.append("geometry and deceleration disagree")
                weight = (weight + 1e-3) * (pull + 1e-3)
        elif weight.max() < 0.999:
            weight = (weight + 1e-6) * (pull + 1e-3)
    if weight.sum() <= 0.0:
        weight = np.exp(-0.5 * np.minimum(((low_x - positions) / 6.0) ** 2, 80.0)) + 1e-12
        flags.append("geometry and deceleration disagree")
    weight = weight / weight.sum()
    number = int(np.argmax(weight)) + 1
    odds = {str(k + 1): float(w) for k, w in enumerate(weight) if w > 5e-4}
    total = sum(odds.values())
    return Wire(number, {k: w / total for k, w in odds.items()}, False, tuple(flags))
