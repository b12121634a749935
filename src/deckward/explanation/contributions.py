"""What each cause cost at the ramp: start, power, nose, bank, air and deck, over time.

A cause's contribution is what it did to the hook's height at the ramp with all other commands as
recorded and nothing correcting the height afterwards: angle of attack held for power, nose and
bank, elevator held for air. The reference is on-speed flight down the commanded path with the
power that holds it. What these leave of the height at the ramp is told as unexplained.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from msgspec import Struct

from deckward.explanation.flight import Fit, Flight
from deckward.explanation.model import Contribution
from deckward.explanation.recursion import by_hand
from deckward.explanation.view import STEP, View
from deckward.foundation.statistics import median
from deckward.passes.model import Pass
from deckward.scoring.windows import waved_off_in_the_air

CAUSES = ("start", "power", "nose", "bank", "air", "deck")
#: s of one stretch that is told, and the longest time before the ramp that is looked at; chosen by us
STRETCH, LONGEST = 0.5, 30.0
#: s before the ramp from which a wave-off changes nothing there that matters; chosen by us
UNFELT = 1.0
#: power above which a wave-off is one; common practice, no source
FULL_POWER = 0.85
#: one standard deviation of a contribution, as a share of it: own tables, a usual jet's
_SHARE, _USUAL_SHARE = 0.10, 0.20
#: the same of inferred power, as a share of what its stretches make (rms) as far as so many before and
#: after: when thrust shows in the motion the hand that set it was earlier, and by how much is not known
_INFERRED_SHARE, _AROUND = 0.6, 3
#: lag of the nose behind the hand that leads it, as a part of the airframe's own; chosen by us, on
#: flights of two jets
NOSE_SHARE = 0.33
#: s by which the bank follows the hand; common practice, no source
BANK_LAG = 0.4
#: s by which the sideslip of a bank follows it: a part of the yaw mode's period; common practice, no source
SLIP_LAG = 1.0


class Split(Struct, frozen=True, eq=False):
    """The hook's height at the ramp, split; ``(n,)`` by sample, m each, on ``time``.

    ``parts`` maps power, nose, bank, air and deck to what each step made; ``start`` is what
    the first state would have made alone; ``deviation`` is all of it, against the commanded
    height over a still deck.
    """

    time: np.ndarray
    start: float
    parts: dict[str, np.ndarray]
    deviation: float
    own_tables: bool
    power_recorded: bool
    fit: Fit

    @property
    def unexplained(self) -> float:
        """What the causes leave, m."""
        return self.deviation - self.start - sum(float(part.sum()) for part in self.parts.values())

    def between(self, cause: str, start: float, end: float) -> float:
        """What a cause made between two times, m."""
        if cause == "start":
            return self.start if start <= self.time[0] else 0.0
        return float(np.diff(self.until(cause, np.array([start, end])))[0])

    def until(self, cause: str, when: np.ndarray) -> np.ndarray:
        """What a cause but the start made up to times (n,), m."""
        total = np.concatenate([[0.0], np.cumsum(self.parts[cause])])
        return np.interp(when, np.append(self.time, self.time[-1] + STEP), total)


def split(view: View) -> Split | None:
    """Split the hook's height at the ramp, None where the recording or the pass does not allow it."""
    flown = view.flown
    ramp = flown.ramp
    if ramp is None or flown.groove is None or _waved_off_before(flown, ramp.time):
        return None
    first = max(flown.groove.start, ramp.time - LONGEST, float(view.time[0]))
    steps = int((ramp.time - first) / STEP)
    if steps < 60:
        return None
    rows = np.searchsorted(view.time, ramp.time) - steps + np.arange(steps)
    rows = rows[(rows >= 0) & (rows < view.time.size)]
    flight = Flight(view, rows)
    if flight.model is None:
        return None
    return _lay(flight, ramp.hook_to_ramp)


def _waved_off_before(flown: Pass, ramp: float) -> bool:
    """Whether a wave-off had begun early enough to be felt at the ramp.

    Who is on record as having gone by the deck without full power flew on as he was.
    """
    wave_off = flown.wave_off
    if wave_off is None or not waved_off_in_the_air(flown) or wave_off.start > ramp - UNFELT:
        return False
    series = flown.series
    power = series.power[(series.time >= wave_off.start) & (series.time <= ramp)]
    power = power[np.isfinite(power)]
    return power.size == 0 or float(power.max()) > FULL_POWER


def _lay(flight: Flight, hook_to_ramp: float) -> Split:
    """Fit the approach to what was flown, run its adjoint back from the ramp, lay the causes on it."""
    model, view = flight.model, flight.view
    assert model is not None
    n = flight.rows.size
    ahead, _ = flight.hook_offset()
    hands, stick = model.alpha_hold, model.elevator_hold
    along, up = flight.air
    lift = np.cos(view.roll[flight.rows]) - 1.0
    thrust, recorded = flight.thrust()
    thrust = thrust - median(thrust)
    fit = flight.fit(thrust, along, up, lift, recorded)
    steady, needed = model.steady_with(fit.lift)
    of_hand, of_air = model.answers(hands, n, ahead), model.answers(stick, n, ahead)
    nose = fit.nose_gain * (flight.attack - model.alpha_from_air(along, up))
    power_push = of_hand[1:] @ model.input(hands, "power") * STEP
    nose_push = of_hand[1:] @ model.input(hands, "nose") * STEP
    sideways, sideways_at_first = flight.sideways()
    tilted, tilted_at_first = flight.tilted()
    parts = {
        "power": by_hand(
            power_push, fit.power_gain * thrust + fit.thrust - needed, view.power.follows[flight.rows]
        ),
        "nose": by_hand(nose_push, nose, STEP / (NOSE_SHARE * model.pitch_lag + STEP)),
        "bank": by_hand(of_hand[1:] @ model.input(hands, "lift") * STEP, lift, STEP / (BANK_LAG + STEP))
        - by_hand(power_push, fit.slip_drag * flight.slip_size, STEP / (BANK_LAG + SLIP_LAG + STEP))
        + sideways
        + tilted,
        "air": of_air[1:] @ model.input(stick, "air_x") * STEP * along
        + of_air[1:] @ model.input(stick, "air_z") * STEP * up,
        "deck": -np.diff(flight.heave, append=flight.heave[-1]),
    }
    # the attitude it arrives with
    parts["nose"][-1] += ahead * float(nose[-5:].mean())
    start = float(of_hand[0] @ (fit.first - steady)) - float(flight.heave[0])
    start += sideways_at_first + tilted_at_first
    nominal = flight.site.lens.hook_target * float(np.tan(flight.site.lens.basic_angle))
    return Split(
        time=view.time[flight.rows],
        start=start,
        parts=parts,
        deviation=hook_to_ramp - nominal,
        own_tables=model.own,
        power_recorded=recorded,
        fit=fit,
    )


def contributions(found: Split) -> tuple[Contribution, ...]:
    """Tell a split in stretches of half a second, in order of time."""
    share = _SHARE if found.own_tables else _USUAL_SHARE
    out = [
        Contribution(
            "start", float(found.time[0]), float(found.time[0]), found.start, share * abs(found.start)
        )
    ]
    edges = np.arange(found.time[0], found.time[-1] + STRETCH, STRETCH)
    edges[-1] = min(edges[-1], found.time[-1] + STEP)
    between = list(pairwise(edges.tolist()))
    made = {cause: np.diff(found.until(cause, edges)).tolist() for cause in CAUSES[1:]}
    around = np.sqrt(_mean_around(np.square(made["power"])))
    for k, (start, end) in enumerate(between):
        for cause in CAUSES[1:]:
            height = made[cause][k]
            sigma = 0.01 if cause == "deck" else share * abs(height) + 0.01
            if cause == "power" and not found.power_recorded:
                sigma = _INFERRED_SHARE * float(around[k]) + 0.01
            out.append(Contribution(cause, start, end, height, sigma))
    return tuple(out)


def _mean_around(values: np.ndarray) -> np.ndarray:
    """Return the mean (n,) of each value with its neighbours, fewer at the ends."""
    total = np.concatenate([[0.0], np.cumsum(values)])
    row = np.arange(values.size)
    low, high = np.maximum(row - _AROUND, 0), np.minimum(row + _AROUND + 1, values.size)
    return (total[high] - total[low]) / (high - low)
