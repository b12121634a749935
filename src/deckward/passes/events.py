"""The events of a pass: groove, wave-off, crossings of named ranges."""

from __future__ import annotations

import numpy as np

from deckward.foundation.statistics import median
from deckward.foundation.units import NAUTICAL_MILE
from deckward.passes.model import Groove, GrooveBounds

#: the ranges at which every pass is read, m
RANGES = {
    "3/4 nm": 0.75 * NAUTICAL_MILE,
    "1/2 nm": 0.5 * NAUTICAL_MILE,
    "1/4 nm": 0.25 * NAUTICAL_MILE,
}
#: line-up offset beyond which a crossing of a range belongs to the turn, m
WIDEST = 100.0


def last_falling(time: np.ndarray, values: np.ndarray, level: float) -> float | None:
    """Last time a quantity falls through a level, between samples by a line."""
    ok = np.isfinite(values)
    time, values = time[ok], values[ok]
    rows = np.flatnonzero((values[:-1] > level) & (values[1:] <= level))
    if not rows.size:
        return None
    i = int(rows[-1])
    share = (values[i] - level) / (values[i] - values[i + 1])
    return float(time[i] + share * (time[i + 1] - time[i]))


def groove(
    time, range_, roll, line_up_error, end: float, bounds: GrooveBounds | None = None
) -> Groove | None:
    """Find the groove: wings and line-up within bounds, held; it ends at ``end`` (touchdown or wave-off)."""
    bounds = bounds or GrooveBounds()
    good = (np.abs(roll) <= bounds.bank) & (np.abs(line_up_error) <= bounds.line_up)
    good &= (range_ <= bounds.within) & (range_ > 0.0) & (time <= end)
    rows = np.flatnonzero(good)
    if not rows.size:
        return None
    breaks = np.flatnonzero(np.diff(rows) > 1)
    firsts = rows[np.concatenate([[0], breaks + 1])]
    lasts = rows[np.concatenate([breaks, [rows.size - 1]])]
    for first, last in zip(firsts, lasts, strict=True):
        upto = time[last + 1] if last + 1 < time.size else time[last]
        if upto - time[first] >= bounds.held:
            return Groove(float(time[first]), float(end - time[first]))
    return None


def last_rise(time: np.ndarray, signal: np.ndarray, *, least: float, seconds: float) -> float | None:
    """Start of the last sustained rise of a signal.

    A rise counts when the signal gains at least ``least`` within ``seconds`` and does not
    give half of it back in the following second. Its start is where the line through
    the steep part meets the level before it.
    """
    ok = np.isfinite(signal)
    time, signal = time[ok], signal[ok]
    if time.size < 5:
        return None
    later = np.interp(time + seconds, time, signal)
    after = np.interp(time + seconds + 1.0, time, signal)
    gain = later - signal
    rows = np.flatnonzero((gain >= least) & (after - signal >= 0.5 * gain))
    if not rows.size:
        return None
    breaks = np.flatnonzero(np.diff(rows) > 1)
    first = int(rows[breaks[-1] + 1]) if breaks.size else int(rows[0])
    last = int(rows[-1])
    stop = int(np.searchsorted(time, time[last] + seconds))
    stop = min(max(stop, first + 2), time.size - 1)
    top = float(signal[first : stop + 1].max())
    peak = first + int(signal[first : stop + 1].argmax())
    quarter, half = _up(signal, first, peak, top, 0.25), _up(signal, first, peak, top, 0.6)
    base = _base(time, signal, first, quarter)
    t1, t2 = (
        _cross(time, signal, base, top, 0.2, first, peak),
        _cross(time, signal, base, top, 0.6, first, peak),
    )
    if t1 is None or t2 is None or half < quarter:
        return float(time[first])
    return float(t1 - (t2 - t1) * 0.2 / 0.4)


def _up(signal, first: int, peak: int, top: float, share: float) -> int:
    level = signal[first] + share * (top - signal[first])
    hits = np.flatnonzero(signal[first : peak + 1] >= level)
    return first + int(hits[0]) if hits.size else peak


def _base(time, signal, first: int, quarter: int) -> float:
    """Level before the rise: the mean of the second before its lower quarter is reached."""
    before = (time <= time[quarter]) & (time > time[quarter] - 1.5)
    low = np.sort(signal[before])
    return float(median(low[: max(low.size * 2 // 3, 1)]))


def _cross(time, signal, base: float, top: float, share: float, first: int, peak: int) -> float | None:
    """Last time before the peak at which the signal passes a share of the way up."""
    level = base + share * (top - base)
    begin = max(first - 1, 0)
    part = signal[begin : peak + 1]
    rows = np.flatnonzero((part[:-1] < level) & (part[1:] >= level))
    if not rows.size:
        return None
    i = begin + int(rows[-1])
    return float(time[i] + (level - signal[i]) / (signal[i + 1] - signal[i]) * (time[i + 1] - time[i]))
