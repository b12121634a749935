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

from deckward.explanation.along import Along
from deckward.explanation.approach import Approach
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


class Causes(Struct, frozen=True, eq=False):
    """What was done and met on a recorded approach, as changes from the commanded one, (n,) by sample.

    ``power`` is thrust over weight beyond what holds the path, and ``follows`` the share of its
    gap to the lever that the engine makes up in a step; ``nose`` angle of attack by the
    hand, rad; ``lift`` what a bank leaves of the lift, less 1; ``along`` and ``up`` gusts, m/s.
    ``steady`` is the state that holds the path on speed.
    """

    flight: Flight
    model: Approach
    fit: Fit
    steady: np.ndarray
    power: np.ndarray
    follows: np.ndarray
    nose: np.ndarray
    lift: np.ndarray
    along: np.ndarray
    up: np.ndarray
    power_recorded: bool

    @property
    def time(self) -> np.ndarray:
        """When each step begins, s."""
        return self.flight.view.time[self.flight.rows]

    def steps_to(self, when: float) -> int:
        """How many steps there are to a time."""
        return int(np.clip(round((when - float(self.time[0])) / STEP), 1, self.time.size))

    @property
    def slip_drag(self) -> np.ndarray:
        """Drag over weight of the sideslip that banks made."""
        return self.fit.slip_drag * self.flight.slip_size

    def by_air(self, stick: Along, answers: np.ndarray) -> np.ndarray:
        """What the air of each step did at the end, by answers (steps + 1, states)."""
        steps = len(answers) - 1
        return (
            stick.made(answers, "air_x") * self.along[:steps] + stick.made(answers, "air_z") * self.up[:steps]
        )

    @property
    def nose_follows(self) -> float:
        """Share of the gap between nose and hand that is made up in a step."""
        return STEP / (NOSE_SHARE * self.model.pitch_lag + STEP)


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


def causes(view: View) -> Causes | None:
    """Find what was done and met up to contact, or to the ramp; None where pass or recording forbid it."""
    flown = view.flown
    ramp, touched = flown.ramp, flown.touchdown
    if flown.groove is None or ramp is None or _waved_off_before(flown, ramp.time):
        return None
    until = ramp.time
    if touched is not None and touched.hook_x is not None and not _waved_off_before(flown, touched.time):
        until = max(touched.time, ramp.time)
    first = max(flown.groove.start, ramp.time - LONGEST, float(view.time[0]))
    if int((ramp.time - first) / STEP) < 60:
        return None
    steps = int((until - first) / STEP)
    rows = np.searchsorted(view.time, until) - steps + np.arange(steps)
    rows = rows[(rows >= 0) & (rows < view.time.size)]
    flight = Flight(view, rows)
    model = flight.model
    if model is None:
        return None
    along, up = flight.air
    lift = np.cos(view.roll[rows]) - 1.0
    thrust, recorded = flight.thrust()
    thrust = thrust - median(thrust)
    fit = flight.fit(thrust, along, up, lift, recorded)
    vx, vz, needed = model.steady_with(fit.lift)
    return Causes(
        flight=flight,
        model=model,
        fit=fit,
        steady=flight.hands.state(vx=vx, vz=vz),
        power=fit.power_gain * thrust + fit.thrust - needed,
        follows=view.power.follows[rows],
        nose=fit.nose_gain * (flight.attack - flight.stick.alpha_of(along, up)),
        lift=lift,
        along=along,
        up=up,
        power_recorded=recorded,
    )


def split(view: View) -> Split | None:
    """Split the hook's height at the ramp, None where the recording or the pass does not allow it."""
    of = causes(view)
    return None if of is None else at_ramp(of)


def at_ramp(of: Causes) -> Split:
    """Split the hook's height at the ramp."""
    ramp, lens = of.flight.view.flown.ramp, of.flight.site.lens
    assert ramp is not None, "causes are told of passes that came to the ramp"
    height = ramp.hook_to_ramp - lens.hook_target * float(np.tan(lens.basic_angle))
    return of_height(of, of.steps_to(ramp.time), height)


def _waved_off_before(flown: Pass, until: float) -> bool:
    """Whether a wave-off had begun early enough to be felt by then.

    Who is on record as having gone by the deck without full power flew on as he was.
    """
    wave_off = flown.wave_off
    if wave_off is None or not waved_off_in_the_air(flown) or wave_off.start > until - UNFELT:
        return False
    series = flown.series
    power = series.power[(series.time >= wave_off.start) & (series.time <= until)]
    power = power[np.isfinite(power)]
    return power.size == 0 or float(power.max()) > FULL_POWER


def of_height(of: Causes, steps: int, deviation: float) -> Split:
    """Lay the causes of the hook's height over the commanded path after so many steps, m, on their time."""
    flight, fit = of.flight, of.fit
    hands, stick = flight.hands, flight.stick
    ahead, _ = flight.hook_offset()
    of_hand, of_air = (each.answers(each.hook(ahead)[None], steps)[:, 0] for each in (hands, stick))
    power_push = hands.made(of_hand, "power")
    sideways, sideways_at_first = flight.sideways(steps)
    tilted, tilted_at_first = flight.tilted(steps)
    heave = flight.heave[:steps]
    parts = {
        "power": by_hand(power_push, of.power[:steps], of.follows[:steps]),
        "nose": by_hand(hands.made(of_hand, "nose"), of.nose[:steps], of.nose_follows),
        "bank": by_hand(hands.made(of_hand, "lift"), of.lift[:steps], STEP / (BANK_LAG + STEP))
        - by_hand(power_push, of.slip_drag[:steps], STEP / (BANK_LAG + SLIP_LAG + STEP))
        + sideways
        + tilted,
        "air": of.by_air(stick, of_air),
        "deck": -np.diff(heave, append=heave[-1]),
    }
    # the attitude it arrives with
    parts["nose"][-1] += ahead * float(of.nose[max(steps - 5, 0) : steps].mean())
    start = float(of_hand[0] @ (fit.first - of.steady)) - float(heave[0])
    start += sideways_at_first + tilted_at_first
    return Split(
        time=of.time[:steps],
        start=start,
        parts=parts,
        deviation=deviation,
        own_tables=of.model.own,
        power_recorded=of.power_recorded,
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
