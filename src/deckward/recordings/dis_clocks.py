"""The clocks of the senders of PDUs, and what a capture or the order of a dump says of them.

A stamp counts from the hour of UTC (absolute) or from a start of the sender's own (relative). In a capture
the times of arrival tie the senders' clocks together; in a dump, which has none, the order does that the
PDUs stand in: each arrived after the one before it.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.errors import Note
from deckward.recordings import dis_pdu

#: s that clocks may seem to differ by and count as one: networks delay by that much
_SYNCHRONOUS = 0.05
#: in a capture the least delayed tell of the clocks: this percentile of arrival after the stamp
_PROMPT = 10
#: in a dump these many in a hundred of the bounds that its order sets may be out: late packets
_LATE = 2
#: bounds no further apart than this, s, say what the offset is
_CLOSE = 0.5
#: a stamp this much before the sender's last one, s, begins an exercise anew; seconds put between the two
_BACK, _BETWEEN = 1.0, 60.0


class Times(Struct, frozen=True):
    """When each state was, ``time`` (n,), s; whose it is; the senders that nothing ties to the others."""

    time: np.ndarray
    sender: np.ndarray
    loose: tuple[int, ...] = ()


def times(states: np.ndarray, captured: np.ndarray, notes: list[Note]) -> Times:
    """Give each state's time, on UTC or the clock of the capture where that is known.

    ``states`` (n,) stand in the order they were captured in at ``captured`` (n,) s, NaN in a dump.
    """
    sender = states["site"].astype(int) << 16 | states["application"]
    stamps = dis_pdu.past_the_hour(states["timestamp"])
    absolute = dis_pdu.is_absolute(states["timestamp"])
    if np.isfinite(captured).all():
        return Times(_by_capture(stamps, absolute, captured, sender, notes), sender)
    return _by_order(stamps, absolute, sender, notes)


def _named(sender: int) -> str:
    return f"{sender >> 16}:{sender & 0xFFFF}"


def _times(count: int) -> str:
    return "once" if count == 1 else f"{count} times"


def _unwrapped(stamps: np.ndarray) -> np.ndarray:
    """Count on past the hour, in the order the states stand in."""
    return stamps - 3600.0 * np.concatenate([[0.0], np.cumsum(np.rint(np.diff(stamps) / 3600.0))])


def _runs(time: np.ndarray) -> np.ndarray:
    """Number the runs (n,) of one sender's times: another begins where they go back."""
    return np.concatenate([[0], np.cumsum(np.diff(time) < -_BACK)])


# -- captures ----------------------------------------------------------------------------------


def _by_capture(stamps, absolute, captured, sender, notes) -> np.ndarray:
    time = np.empty(stamps.size)
    ahead: dict[int, float] = {}
    for one in np.unique(sender).tolist():
        own = np.flatnonzero(sender == one)
        arrival = captured[own]
        ahead[one] = 0.0
        if absolute[own].mean() > 0.5:
            time[own] = stamps[own] + 3600.0 * np.rint((arrival - stamps[own]) / 3600.0)
            ahead[one] = -float(np.percentile(arrival - time[own], _PROMPT))
        else:
            count = _unwrapped(stamps[own])
            runs = _runs(count)
            for run in range(int(runs[-1]) + 1):
                rows = runs == run
                time[own[rows]] = count[rows] + np.percentile(arrival[rows] - count[rows], _PROMPT)
        late = arrival - time[own]
        if own.size > 3 and np.subtract(*np.percentile(late, [90, 10])) > 1.0:
            notes.append(
                Note(
                    "stamps-not-used",
                    f"The time stamps of sender {_named(one)} do not run with the capture; "
                    "the times of capture are used instead.",
                )
            )
            time[own] = arrival
            ahead[one] = 0.0
    apart = max(ahead.values()) - min(ahead.values())
    if apart > _SYNCHRONOUS:
        notes.append(
            Note(
                "clocks-apart",
                f"The senders' clocks differ by {apart:.2f} s; they were brought onto the clock of the "
                "capture.",
            )
        )
        for one, offset in ahead.items():
            time[sender == one] -= offset
    return time


# -- dumps -------------------------------------------------------------------------------------


def _by_order(stamps, absolute, sender, notes) -> Times:
    names, counts = np.unique(sender, return_counts=True)
    time, runs = np.empty(stamps.size), np.empty(stamps.size, int)
    for one in names:
        own = sender == one
        time[own] = _unwrapped(stamps[own])
        runs[own] = _runs(time[own])
    first, *others = names[np.argsort(-counts, kind="stable")].tolist()
    loose, told = [], []
    for one in others:
        both = absolute[sender == one].all() and absolute[sender == first].all()
        if both:  # an hour may have passed for one and not yet for the other
            time[sender == one] += 3600.0 * np.rint(
                (time[sender == first][0] - time[sender == one][0]) / 3600.0
            )
        offset = None
        for run in range(int(runs.max()) + 1):
            here = runs == run
            offset = _offset(time[here], sender[here], first, one, synchronous=bool(both))
            if offset is not None and offset != 0.0:
                time[here & (sender == one)] += offset
                told.append(f"{_named(one)} by {offset:+.2f} s")
        if offset is None:
            loose.append(one)
    if told:
        notes.append(
            Note(
                "clocks-apart",
                "The senders' clocks differ; by the order that their packets stand in, the times of "
                f"{', '.join(dict.fromkeys(told))} were brought onto those of sender {_named(first)}.",
            )
        )
    if loose and not absolute.all():
        notes.append(
            Note(
                "clocks-apart",
                f"{len(names)} senders count time from zeros of their own, and neither times of capture nor "
                "the order of their packets tie them together; their clocks are taken as one.",
            )
        )
    for run in range(1, int(runs.max()) + 1):
        later = runs >= run
        time[later] += time[~later].max() + _BETWEEN - time[runs == run].min()
    if runs.any():
        notes.append(
            Note(
                "time-back",
                f"The senders' clocks were set back {_times(int(runs.max()))}: what follows is another "
                f"exercise and was counted on, {_BETWEEN:.0f} s after the one before.",
            )
        )
    return Times(time, sender, tuple(loose))


def _offset(time, sender, first: int, one: int, *, synchronous: bool) -> float | None:
    """Give the seconds to add to the times of sender ``one``; None where the order does not tell.

    Each of its packets came after the last of the ``first`` before it and before the next.
    """
    rows = np.arange(time.size)
    reference = sender == first
    before = np.maximum.accumulate(np.where(reference, rows, -1))
    after = np.minimum.accumulate(np.where(reference, rows, time.size)[::-1])[::-1]
    own = (sender == one) & (before >= 0) & (after < time.size)
    if not own.any():
        return None
    low = float(np.percentile(time[before[own]] - time[own], 100 - _LATE))
    high = float(np.percentile(time[after[own]] - time[own], _LATE))
    if high - low > _CLOSE:
        return None
    slack = _SYNCHRONOUS if synchronous else 0.0
    if low - slack <= 0.0 <= high + slack:
        return 0.0
    return 0.5 * (low + high)
