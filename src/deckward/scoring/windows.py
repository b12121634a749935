"""Where and when a pass is judged: the rulebook's positions as stretches of its time."""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.passes.model import Pass
from deckward.scoring.rulebook import PositionBounds, Rulebook

#: a pass whose closure is below this is not coming to the ramp, m/s
_SLOWEST = 5.0


class Window(Struct, frozen=True):
    """A position as this pass flew it, s; ``landing`` where it ends with first contact."""

    bounds: PositionBounds
    start: float
    end: float
    landing: bool = False

    @property
    def over_the_deck(self) -> bool:
        """Whether it lies past the ramp."""
        return self.bounds.end < 0


def waved_off_in_the_air(flown: Pass) -> bool:
    """Whether a wave-off began before anything touched the deck."""
    if flown.wave_off is None:
        return False
    return flown.touchdown is None or flown.wave_off.start < flown.touchdown.time


def judged_until(flown: Pass) -> float:
    """Return the time after which nothing is judged: contact, wave-off or end of the record."""
    last = float(flown.series.time[-1]) if flown.series.time.size else flown.end
    if flown.wave_off is not None and waved_off_in_the_air(flown):
        return min(last, flown.wave_off.start)
    if flown.touchdown is not None:
        return min(last, flown.touchdown.time)
    if flown.outcome == "ramp strike" and flown.ramp is not None:
        return min(last, flown.ramp.time)
    return last


def ramp_time(flown: Pass) -> float | None:
    """Return when the pass crossed the ramp, or would have crossed it as it was being flown."""
    if flown.ramp is not None and not waved_off_in_the_air(flown):
        return flown.ramp.time
    series = flown.series
    usable = (series.time <= judged_until(flown)) & np.isfinite(series.range) & (series.closure > _SLOWEST)
    if not usable.any():
        return None
    last = np.flatnonzero(usable)[-1]
    return float(series.time[last] + series.range[last] / series.closure[last])


def windows(flown: Pass, rulebook: Rulebook) -> tuple[Window, ...]:
    """Return the positions that the pass reached, in its time, from far to near.

    A pass that rolls out late starts later: its first position begins with the groove and
    lasts the rulebook's ``at_least``, at the cost of the next. Nothing lies after first
    contact or after a wave-off began.
    """
    end = judged_until(flown)
    ramp = ramp_time(flown)
    before = flown.series.time <= end
    time, distance = flown.series.time[before], flown.series.range[before]
    known = np.isfinite(distance)
    time, distance = time[known], distance[known]
    if time.size < 2:
        return ()
    found: list[Window] = []
    groove = flown.groove.start if flown.groove is not None else -np.inf
    free = max(groove, float(time[0]))
    for bounds in rulebook.positions:
        if bounds.measured_by == "time":
            start = None if ramp is None else ramp - bounds.start
            stop = None if ramp is None else ramp - bounds.end
        else:
            start = _reaches(time, distance, bounds.start)
            stop = _reaches(time, distance, bounds.end)
        if start is None:
            continue
        ends = end if stop is None else min(stop, end)
        begins = max(start, free)
        if not found and groove > float(time[0]):
            ends = min(max(ends, begins + bounds.at_least), end)
        if ends <= begins:
            continue
        found.append(Window(bounds, begins, ends))
        free = ends
    touched = flown.touchdown is not None and not waved_off_in_the_air(flown)
    if touched and found and found[-1].end == end:
        found[-1] = replace(found[-1], landing=True)
    return tuple(found)


def _reaches(time: np.ndarray, distance: np.ndarray, bound: float) -> float | None:
    """Return when ``distance`` last falls through ``bound``, s; None if it never does.

    A record that starts inside the bound, coming closer, reaches it at its first sample.
    """
    falls = np.flatnonzero((distance[:-1] > bound) & (distance[1:] <= bound))
    if falls.size:
        i = falls[-1]
        part = (distance[i] - bound) / (distance[i] - distance[i + 1])
        return float(time[i] + part * (time[i + 1] - time[i]))
    if distance[0] <= bound and distance[1] < distance[0]:
        return float(time[0])
    return None
