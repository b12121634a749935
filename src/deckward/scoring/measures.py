"""How much of each remark there is in a stretch of the pass, for every copy of it at once."""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from deckward.aircraft.model import Profile
from deckward.foundation.angles import difference
from deckward.passes.model import Pass
from deckward.scoring.resampling import Copies
from deckward.scoring.rulebook import Limit
from deckward.scoring.vocabulary import REMARKS
from deckward.scoring.windows import waved_off_in_the_air
from deckward.site.model import Site

#: a position with less than this part of its samples is not judged
_LEAST_PART = 0.5
#: before the groove begins, how long an overshoot is looked for, s
_ROLL_OUT = 10.0


class Found(Struct, frozen=True):
    """What a stretch holds of a remark: ``(1 + draws,)``, 0 and less where there is none.

    ``time`` is where the estimate has its most, ``spread`` one standard deviation of the
    quantity there, ``judged`` False where the recording shows too little of it. ``unit``
    is what the values are in; ``side`` times a value is the quantity with its sign.
    """

    values: np.ndarray
    time: float
    spread: float
    side: int
    unit: str
    judged: bool = True


def limit_value(limit: Limit, what: str, site: Site, profile: Profile) -> float:
    """Return a limit in SI for this site and aircraft, + the more of the remark."""
    if limit.unit == "cells":
        return limit.value * site.lens.cell
    if limit.unit == "bands":
        return _from_bands(limit.value, profile, slow=what == "slow")
    if limit.unit == "nominal":
        return limit.value * nominal_clearance(site)
    return -limit.value if what == "short in the groove" else limit.value


def nominal_clearance(site: Site) -> float:
    """Return the hook's height over the ramp on the commanded path, m."""
    return site.lens.hook_target * math.tan(site.lens.basic_angle)


def red_below(site: Site) -> float:
    """Return how low the ball turns red, rad, positive."""
    return (site.lens.cells / 2 - site.lens.red_cells) * site.lens.cell


def bottom_below(site: Site) -> float:
    """Return how low the ball leaves the lens, rad, positive."""
    return site.lens.cells / 2 * site.lens.cell


def held(
    flown: Pass, copies: Copies, what: str, span: tuple[float, float], *, hold: float, metres: bool
) -> Found:
    """Return the most of a remark that was held for ``hold`` seconds between two times.

    A trend is a mean rate over ``hold`` seconds that lie mostly within the span; anything else
    must stay beyond a value for that long, or for half of a shorter span. ``metres``
    counts line-up as an offset rather than an angle.
    """
    remark = REMARKS[what]
    first, last = np.searchsorted(copies.time, [span[0] - 1e-9, span[1] + 1e-9])
    steps = max(1, round(hold / copies.step))
    if remark.trend:
        # more than half of a motion lies in the span, all of it in the grid
        first = max(first + (steps + 1) // 2, steps)
        signal = most = _rate(flown, copies, what, steps, slice(first, max(first, last)))
        middle = -steps / 2
    else:
        signal = remark.side * _signal(flown, copies, remark.quantity, metres)[:, first:last]
        steps = min(steps, max(1, (last - first) // 2))
        most = _running_least(signal, steps)
        middle = (steps - 1) / 2
    known = np.flatnonzero(np.isfinite(signal[0]))
    unit = _unit(remark.quantity, metres)
    if known.size < max(2, _LEAST_PART * (last - first)) or not np.isfinite(most[0]).any():
        nothing = np.full(signal.shape[0], np.nan)
        return Found(nothing, span[0], 0.0, remark.side, unit, judged=False)
    peak = int(np.nanargmax(most[0]))
    return Found(
        np.fmax.reduce(most, axis=1),
        float(copies.time[first + peak] + middle * copies.step),
        _spread(signal[:, known[known.size // 2]]),
        remark.side,
        unit,
    )


def at_contact(flown: Pass, copies: Copies, what: str, *, metres: bool) -> Found | None:
    """Return a remark as it stood at first contact, or None where that says nothing of it.

    Line-up in metres is the hook point's place in the landing area, sink the hook point's
    rate against the deck, less what the commanded path asks at that closure.
    """
    touchdown, remark = flown.touchdown, REMARKS[what]
    if touchdown is None:
        return None
    if remark.quantity == "line-up" and metres and touchdown.off_centre is not None:
        value = touchdown.off_centre + _last_errors(copies.line_up_offset)
    elif remark.quantity == "sink" and touchdown.sink is not None and touchdown.closure is not None:
        asked = touchdown.closure * math.tan(flown.site.lens.basic_angle)
        value = touchdown.sink - asked + _last_errors(copies.sink)
    else:
        return None
    unit = _unit(remark.quantity, metres)
    return Found(remark.side * value, touchdown.time, _spread(value), remark.side, unit)


def whole_pass(flown: Pass, copies: Copies, what: str) -> Found | None:
    """Return a remark on the start or the groove; None where the pass has no such thing.

    Only a pass from downwind has a start to overshoot and a groove to be timed, and only
    one that came to the deck shows how long the groove was.
    """
    groove, series, remark = flown.groove, flown.series, REMARKS[what]
    if groove is None or flown.turn is None:
        return None
    if remark.quantity == "groove":
        if flown.touchdown is None or waved_off_in_the_air(flown):
            return None
        seconds = np.full(copies.ramp_error.size, remark.side * groove.seconds)
        return Found(seconds, groove.start, 0.0, remark.side, "s")
    outside = -_turn_side(flown, groove.start)
    rolling_out = (series.time <= groove.start + 1e-6) & (series.time >= groove.start - _ROLL_OUT)
    rolling_out &= np.isfinite(series.line_up_error)
    if not rolling_out.any():
        return None
    beyond = remark.side * outside * series.line_up_error[rolling_out]
    # an overshoot may be over before the wings are level, an undershoot is what is left then
    at = int(np.argmax(beyond)) if what == "overshot the start" else -1
    values = beyond[at] + np.nan_to_num(copies.line_up_error[:, 0] - copies.line_up_error[0, 0])
    when = float(series.time[rolling_out][at])
    return Found(values, when, _spread(values), remark.side * outside, "rad")


def over_the_ramp(flown: Pass, copies: Copies) -> np.ndarray | None:
    """Return the hook's height over the deck at the ramp in every copy, m."""
    if flown.ramp is None:
        return None
    return flown.ramp.hook_to_ramp + np.nan_to_num(flown.ramp.hook_to_ramp_sigma) * copies.ramp_error


def _turn_side(flown: Pass, rolled_out: float) -> int:
    """Return -1 for a left-hand turn to final, +1 for a right-hand one."""
    series = flown.series
    turning = (series.time > rolled_out - 20.0) & (series.time < rolled_out) & np.isfinite(series.heading)
    heading = series.heading[turning]
    return 1 if difference(heading[1:], heading[:-1]).sum() > 0 else -1


def _unit(quantity: str, metres: bool) -> str:
    if quantity in ("path rate", "drift", "sink"):
        return "m/s"
    return "m" if metres else "rad"


def _spread(values: np.ndarray) -> float:
    return float(values[1:].std()) if values.size > 1 else 0.0


def _signal(flown: Pass, copies: Copies, quantity: str, metres: bool) -> np.ndarray:
    if quantity == "glide slope":
        return copies.glide_slope_error
    if quantity == "angle of attack":
        return copies.angle_of_attack_error
    if quantity == "line-up":
        return copies.line_up_offset if metres else copies.line_up_error
    if quantity == "bank":
        return copies.roll
    return copies.sink - copies.closure * math.tan(flown.site.lens.basic_angle)


def _rate(flown: Pass, copies: Copies, what: str, steps: int, ends: slice) -> np.ndarray:
    """Return the mean rate of a trend over ``steps`` that end at ``ends``, + the more of it.

    A motion through the centre belongs to the side on which it does more; of the other
    trend there is then 0. Against the glide path only so much counts as both the deck and
    the sea see of it: a heaving deck moves the ball under a steady jet, and a ball held
    still on a heaving deck is a jet that moves.
    """
    since = slice(ends.start - steps, ends.stop - steps)
    seconds, side = steps * copies.step, REMARKS[what].side
    if REMARKS[what].quantity == "drift":
        start, end = copies.line_up_offset[:, since], copies.line_up_offset[:, ends]
        rate = side * (end - start) / seconds
        here = np.isfinite(rate)
    else:
        ball, distance, deck = copies.glide_slope_error, copies.ball_distance, copies.deck_heave
        start, end = ball[:, since] * distance[since], ball[:, ends] * distance[ends]
        heave = deck[ends] - deck[since]
        if flown.site.lens.stabilisation == "inertial":
            heave = -heave
        motion = side * (end - start)
        rate = np.minimum(motion, motion + side * heave) / seconds
        # a jet beside the path comes closer to it in metres while the ball stands still
        here = side * (ball[:, ends] - ball[:, since]) > 0
    low_or_left = what in ("settling", "coming back up", "drifting left")
    here &= start + end < 0 if low_or_left else start + end > 0
    rate[~here & np.isfinite(rate)] = 0.0
    return rate


def _running_least(signal: np.ndarray, steps: int) -> np.ndarray:
    """Return the least of every ``steps`` neighbours along time, NaN if one is."""
    least, size = signal, 1
    while size < steps:
        shift = min(size, steps - size)
        least = np.minimum(least[:, :-shift], least[:, shift:])
        size += shift
    return least


def _last_errors(values: np.ndarray) -> np.ndarray:
    errors = values - values[0]
    known = np.flatnonzero(np.isfinite(errors[0]))
    return errors[:, known[-1]] if known.size else np.zeros(values.shape[0])


def _from_bands(value: float, profile: Profile, *, slow: bool) -> float:
    """Return the angle-of-attack error at ``value`` bands: 1 and 2 the edges, then onwards."""
    edge = 1 if slow else 0
    first = abs(profile.band[edge] - profile.on_speed)
    second = abs(profile.slight_band[edge] - profile.on_speed)
    if value <= 1:
        return value * first
    return first + (value - 1) * (second - first if second > first else first)
