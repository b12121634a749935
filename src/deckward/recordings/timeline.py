"""The time of each sample: order, repeats, standing still, rounding, jitter, gaps."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from msgspec import Struct

from deckward.errors import Note
from deckward.foundation.statistics import median, quantiles
from deckward.recordings.steps import written_step

#: a step this many times the usual one is a gap
GAP = 2.5
#: samples that one grid is laid through: a recorder's clock is steady for that long
_PIECE = 400
_SHORTEST_PIECE = 40
#: share of the samples that must sit on a grid before it replaces the stamps
_MOSTLY = 0.9


class Settled(Struct, frozen=True):
    """The samples that are kept, in order: their rows, strictly increasing time, its sigma."""

    rows: np.ndarray
    time: np.ndarray
    sigma: float
    notes: tuple[Note, ...]


def settle(
    stamps: np.ndarray,
    place: np.ndarray,
    same: Callable[[np.ndarray, np.ndarray], np.ndarray],
    *,
    regular: bool = True,
) -> Settled:
    """Bring the samples of one craft into a strictly increasing time.

    Args:
        stamps: (n,) s as written, NaN where there is none.
        place: (n, 2) where the craft is, in any length unit, NaN where unknown: the
            order that makes the shorter way is the right one.
        same: tells for rows ``i`` and ``j`` (m,) whether they hold the same values.
        regular: whether the recorder may have sampled at a steady rate, which rounded or
            late stamps are then put back on.
    """
    notes: list[Note] = []
    rows = np.flatnonzero(np.isfinite(stamps))
    if rows.size < stamps.size:
        lost = stamps.size - rows.size
        notes.append(Note("no-time", f"{_samples(lost)} without a time left out."))
    time = stamps[rows]
    if rows.size < 2:
        return Settled(rows, time, 0.0, tuple(notes))
    if np.any(np.diff(time) < 0.0):
        rows, time = _in_order(rows, time, place, notes)
    rows, time = _without_repeats(rows, time, same, notes)
    time, sigma = _off_the_grid(time, place[rows], notes) if regular else (time, 0.0)
    keep, time = _moved_on(time, notes)
    return Settled(rows[keep], time[keep], sigma, tuple(notes))


def _samples(count: int) -> str:
    return "1 sample" if count == 1 else f"{count} samples"


def _way(place: np.ndarray) -> float:
    steps = np.hypot(*np.diff(place[np.isfinite(place).all(axis=1)], axis=0).T)
    return float(steps.sum())


def _in_order(rows, time, place, notes):
    """Sort samples that stand out of order, or count on where the clock was set back."""
    order = np.argsort(time, kind="stable")
    back = np.flatnonzero(np.diff(time) < 0.0)
    if _way(place[rows[order]]) <= _way(place[rows]) * (1.0 + 1e-9):
        moved = int(np.count_nonzero(order != np.arange(order.size)))
        notes.append(
            Note(
                "out-of-order",
                f"{_samples(moved)} out of order sorted by time, first at {time[back[0] + 1]:.2f} s.",
            )
        )
        return rows[order], time[order]
    step = float(median(np.abs(np.diff(time))))
    jumps = time[back] - time[back + 1] + step
    offset = np.zeros(time.size)
    offset[back + 1] = jumps
    times = "once" if back.size == 1 else f"{back.size} times"
    notes.append(
        Note(
            "time-back",
            f"Time runs back {times}, first from {time[back[0]]:.2f} s to {time[back[0] + 1]:.2f} s; "
            f"what follows is another stretch of flight and was counted on, "
            f"{jumps[0]:.2f} s later than written.",
        )
    )
    return rows, time + np.cumsum(offset)


def _without_repeats(rows, time, same, notes):
    still = np.flatnonzero(np.diff(time) == 0.0)
    if not still.size:
        return rows, time
    twins = still[same(rows[still], rows[still + 1])] + 1
    if not twins.size:
        return rows, time
    notes.append(
        Note(
            "repeated-rows",
            f"{_samples(twins.size)} repeating the one before left out, first at {time[twins[0]]:.2f} s.",
        )
    )
    keep = np.ones(time.size, bool)
    keep[twins] = False
    return rows[keep], time[keep]


def _usual_step(time: np.ndarray) -> float:
    """Give the mean step without gaps; stamps may repeat."""
    steps = np.diff(time)
    forward = steps[steps > 0.0]
    if not forward.size:
        return 0.0
    return float(steps[steps <= 3.0 * median(forward)].mean())


def _off_the_grid(time, place, notes) -> tuple[np.ndarray, float]:
    """Undo rounded or jittered stamps where the samples clearly lie on a regular grid."""
    usual = _usual_step(time)
    if time.size < _SHORTEST_PIECE or usual <= 0.0:
        return time, 0.0
    steps = np.diff(time)
    middle = float(median(steps))
    if steps.min() > 0.0 and np.abs(steps - np.rint(steps / middle) * middle).max() < 1e-4 * middle:
        return time, 0.0
    step = written_step(time) or 0.0
    if step >= 0.01 * usual:
        grid, width = _grid(time, step, usual)
        crowded = steps.min() <= 0.0
        if grid is not None and (crowded or _roughness(grid, place) <= 1.05 * _roughness(time, place)):
            notes.append(
                Note(
                    "time-rounded",
                    f"Time stamps are rounded to {step:g} s; the samples lie on a regular grid of "
                    f"{median(np.diff(grid)):.4g} s, which was used instead.",
                )
            )
            return grid, max(width / np.sqrt(12.0), 0.002 * step)
    grid, scatter = _fitted_grid(time, _shared_step(steps))
    if (
        grid is not None
        and scatter > 0.01 * usual
        and _roughness(grid, place) < 0.5 * _roughness(time, place)
    ):
        notes.append(
            Note(
                "time-jitter",
                f"Time stamps scatter by {scatter:.2g} s about a regular grid of {usual:.4g} s "
                "that the motion keeps to; the grid was used instead.",
            )
        )
        return grid, scatter / np.sqrt(_PIECE / 4.0)
    if step >= 0.1 * usual:
        notes.append(Note("time-rounded", f"Time stamps are rounded to {step:g} s."))
    return time, step / np.sqrt(12.0)


def _shared_step(steps: np.ndarray) -> float:
    """Give the step that most steps are near a multiple of."""
    middle = float(median(steps))
    counts = np.rint(steps / middle) if middle > 0.0 else steps
    near = (counts > 0.0) & (np.abs(steps / max(middle, 1e-12) - counts) < 0.25)
    return float(steps[near].sum() / counts[near].sum()) if near.any() else middle


def _roughness(time: np.ndarray, place: np.ndarray) -> float:
    """Tell how unevenly the craft would move with these times; 0 where it cannot be told."""
    ok = np.isfinite(place).all(axis=1)
    steps = np.diff(time[ok])
    way = np.hypot(*np.diff(place[ok], axis=0).T)
    moving = (steps > 0.0) & (way > 0.0)
    if moving.sum() < 3:
        return 0.0
    return float(median(np.abs(np.diff(way[moving] / steps[moving]))))


def _pieces(time: np.ndarray, longest: float) -> np.ndarray:
    """Cut the samples at steps past ``longest`` and into pieces; (p, m) indices."""
    gaps = np.flatnonzero(np.diff(time) > longest) + 1
    starts = np.concatenate([[0], gaps])
    ends = np.concatenate([gaps, [time.size]])
    length = min(_PIECE, int(time.size))
    firsts: list[np.ndarray] = []
    for start, end in zip(starts, ends, strict=True):
        if end - start >= length:
            own = np.arange(start, end - length + 1, length)
            firsts.append(own if own[-1] == end - length else np.append(own, end - length))
    if not firsts:
        return np.empty((0, length), int)
    return np.concatenate(firsts)[:, None] + np.arange(length)


def _grid(time: np.ndarray, step: float, usual: float) -> tuple[np.ndarray | None, float]:
    """Lay regular grids within the bounds that rounding to ``step`` leaves; None where none fits.

    For a grid start + spacing * count, every sample bounds the start from both sides;
    the room between the bounds is a concave function of the spacing and is maximised.
    """
    index = _pieces(time, 3.0 * max(usual, step))
    if not index.size:
        return None, 0.0
    stamps = time[index]
    # between two samples lie as few steps of the grid as the rounding allows
    fewest = np.maximum(1.0, np.floor((np.diff(stamps, axis=1) - step) / usual + 1e-6) + 1.0)
    count = np.concatenate([np.zeros((len(index), 1)), np.cumsum(fewest, axis=1)], axis=1)
    last = count[:, -1]
    mean = (stamps[:, -1] - stamps[:, 0]) / last
    low, high = mean - step / last, mean + step / last

    def room(spacing):
        rest = stamps - spacing[:, None] * count
        lower, upper = rest.max(axis=1) - step / 2.0, rest.min(axis=1) + step / 2.0
        return upper - lower, (upper + lower) / 2.0

    golden = (np.sqrt(5.0) - 1.0) / 2.0
    for _ in range(16):
        one, two = high - golden * (high - low), low + golden * (high - low)
        left = room(one)[0] > room(two)[0]
        low, high = np.where(left, low, one), np.where(left, two, high)
    spacing = (low + high) / 2.0
    width, start = room(spacing)
    fits = width > -0.02 * step
    if fits.mean() < _MOSTLY:
        return None, 0.0
    return _replaced(time, index[fits], start[fits, None] + spacing[fits, None] * count[fits]), float(
        max(width[fits].mean(), 0.0)
    )


def _fitted_grid(time: np.ndarray, usual: float) -> tuple[np.ndarray | None, float]:
    """Lay regular grids through the stamps by least squares; also their scatter, s."""
    index = _pieces(time, 3.0 * usual) if usual > 0.0 else np.empty((0, 0), int)
    if not index.size:
        return None, 0.0
    stamps = time[index]
    count = _counts(stamps - stamps[:, :1], usual)
    middle = count.mean(axis=1, keepdims=True)
    mean = stamps.mean(axis=1, keepdims=True)
    away = count - middle
    spacing = ((stamps - mean) * away).sum(axis=1, keepdims=True) / (away * away).sum(axis=1, keepdims=True)
    grid = mean + spacing * away
    scatter = float(np.sqrt(((stamps - grid) ** 2).mean()))
    if scatter > 0.4 * usual or np.any(np.diff(count, axis=1) < 1.0):
        return None, scatter
    return _replaced(time, index, grid), scatter


def _counts(since: np.ndarray, usual: float) -> np.ndarray:
    """Give each stamp of each piece its number on the grid that the stamps crowd about most.

    ``since`` is (p, m) s after the first stamp of the piece. Grids with a few steps more
    or less between first and last are tried; the best is the one with the longest mean
    of unit vectors whose angle is the stamp's place within a step.
    """
    whole = np.rint(since[:, -1] / usual)
    rows = np.arange(since.shape[1], dtype=float)
    best = np.zeros(len(since))
    count = np.zeros(since.shape)
    for more in range(-4, 5):
        phase = since * ((whole + more) / since[:, -1])[:, None]
        mean = np.exp(2j * np.pi * phase).mean(axis=1)
        better = np.abs(mean) > best
        best = np.maximum(best, np.abs(mean))
        near = np.rint(phase - np.angle(mean)[:, None] / (2.0 * np.pi))
        # where no sample was lost, the number is the row's, however late a stamp may be
        none_lost = whole + more == rows[-1]
        count[better] = np.where(none_lost[:, None], rows, near)[better]
    return count


def _replaced(time: np.ndarray, index: np.ndarray, grid: np.ndarray) -> np.ndarray | None:
    """Put grid times in; None where too few samples have one, or time would not run on."""
    out = time.copy()
    out[index] = grid
    covered = np.zeros(time.size, bool)
    covered[index] = True
    if covered.mean() < _MOSTLY or np.any(np.diff(out) <= 0.0):
        return None
    return out


def _moved_on(time: np.ndarray, notes: list[Note]) -> tuple[np.ndarray, np.ndarray]:
    """Spread samples with one stamp until the next, where they come at the usual rate; else keep one."""
    first = np.concatenate([[True], np.diff(time) > 0.0])
    if first.all():
        return first, time
    starts = np.flatnonzero(first)
    counts = np.diff(np.append(starts, time.size))
    later = np.append(time[starts][1:], np.inf)
    spacing = (later - time[starts]) / counts
    usual = float(median(spacing[:-1])) if spacing.size > 1 else np.inf
    spacing[-1] = usual
    even = (spacing > 0.3 * usual) & (spacing < 3.0 * usual) & np.isfinite(spacing)
    within = np.arange(time.size) - np.repeat(starts, counts)
    spread = np.repeat(even, counts)
    out = np.where(spread, time + within * np.repeat(np.where(even, spacing, 0.0), counts), time)
    keep = first | spread
    repeated = int((~first).sum())
    where = float(time[np.argmax(~first)])
    lost = int((~keep).sum())
    done = (
        "spread until the next stamp"
        if not lost
        else f"{lost} of them left out, the others spread until the next"
    )
    if lost == repeated:
        done = "left out"
    notes.append(
        Note(
            "time-standing-still",
            f"Time stands still for {_samples(repeated)}, first at {where:.2f} s; they were {done}.",
        )
    )
    return keep, out


def describe(time: np.ndarray) -> tuple[Note, ...]:
    """Tell what a reader should know of how the samples are spaced.

    ``time`` is (n,), strictly increasing.
    """
    if time.size < 3:
        return ()
    steps = np.diff(time)
    usual = float(median(steps))
    notes = []
    gaps = steps > GAP * usual
    slow = float(steps[gaps].sum())
    if gaps.sum() > 0.05 * steps.size:
        notes.append(
            Note(
                "uneven-rate",
                f"The rate changes: mostly {1.0 / usual:.3g} Hz, but {slow:.1f} s of "
                f"{time[-1] - time[0]:.1f} s are sampled less often, the longest gap {steps.max():.2f} s.",
            )
        )
    elif gaps.any():
        longest = int(np.argmax(steps))
        count = int(gaps.sum())
        if count == 1:
            text = f"A gap of {steps[longest]:.2f} s at {time[longest]:.2f} s."
        else:
            text = (
                f"{count} gaps; the longest {steps[longest]:.2f} s at {time[longest]:.2f} s, "
                f"{slow:.1f} s together."
            )
        notes.append(Note("gap", text))
    even = steps[~gaps]
    spread = float(np.subtract(*quantiles(even, (0.9, 0.1))))
    if spread > 0.2 * usual:
        low, high = quantiles(even, (0.05, 0.95))
        notes.append(
            Note("jitter", f"Samples come unevenly: steps of {low:.3g} to {high:.3g} s (5 to 95 %).")
        )
    if usual > 0.25:
        notes.append(
            Note("low-rate", f"Only {1.0 / usual:.3g} samples a second; figures between them are uncertain.")
        )
    return tuple(notes)
