"""Recorded passes as a pilot's hands are fitted to them: where he was, and what lever and nose did."""

from __future__ import annotations

import numpy as np

from deckward.explanation import ahead
from deckward.foundation.units import DEGREE
from deckward.passes.model import Pass
from deckward.prediction.fitting import Flown

#: s of a pass that show anything of its pilot
LEAST_SECONDS = 10.0
#: a throttle that moves less than this, of its travel, was not moved by a hand that flies
_STUCK = 0.005
#: farther off than this, the angle of attack is that of another aircraft than the file's
_OTHER_JET = 4.0 * DEGREE


def shown(flown: Pass) -> tuple[Flown | None, bool]:
    """Return a pass as a pilot is fitted to it, and whether the jet's own tables are behind it.

    From 0.9 nm to the ramp, the wave-off or contact; None where there is too little of that.
    """
    found = ahead.moments(flown)
    if found is None or found.record.begins.size * ahead.EVERY < LEAST_SECONDS:
        return None, False
    record = found.record
    looks = record.begins + float(found.time[0] - found.begins[0])
    one = Flown(
        scene=found.scene,
        states=record.states,
        begins=record.begins,
        lever=_lever(flown, looks),
        alpha=_attack(flown, looks, record),
        banks=flown.series.origin.get("roll") == "measured",
    )
    return one, found.own


def _lever(flown: Pass, looks: np.ndarray) -> np.ndarray | None:
    """Return the throttle at times, None where it was not recorded or not moved."""
    recorded = flown.recorded
    values = None if recorded is None else recorded.aircraft.get("throttle")
    if recorded is None or values is None:
        return None
    known = np.isfinite(values)
    near = known & (recorded.aircraft.time > looks[0] - 1.0) & (recorded.aircraft.time < looks[-1] + 1.0)
    if near.sum() < 20 or float(np.std(values[near])) < _STUCK:
        return None
    return np.interp(looks, recorded.aircraft.time[known], values[known])


def _attack(flown: Pass, looks: np.ndarray, record) -> np.ndarray | None:
    """Return the angle of attack without gusts, rad: by attitude and path, its mean as it was measured."""
    series = flown.series
    measured = series.origin.get("angle_of_attack") == "measured"
    if series.origin.get("pitch") == "measured":
        known = np.isfinite(series.pitch)
        climb = record.states.pitch - record.alpha
        found = np.interp(looks, series.time[known], series.pitch[known]) - climb
        if measured:
            found = found - found.mean() + record.alpha.mean()
    elif measured:
        found = record.alpha
    else:
        return None
    return found if abs(float(found.mean()) - flown.aircraft.on_speed) < _OTHER_JET else None
