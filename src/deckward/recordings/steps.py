"""How finely a column was written: the step that its values are multiples of."""

from __future__ import annotations

import numpy as np

from deckward.foundation.statistics import distinct

#: values looked at, and how many different ones it takes to speak of a step
_LOOKED_AT = 1200
_FEWEST = 8
_DECIMALS = tuple(
    factor * 10.0**exponent
    for exponent in range(3, -13, -1)
    for factor in (5.0, 2.5, 2.0, 1.0)
    if exponent < 3 or factor == 1.0
)
#: a stretch of neighbours, among which a step that is no round number shows itself
_STRETCH = 4000


def written_step(values: np.ndarray, *, only_round: bool = False) -> float | None:
    """Give the step that a column's values are rounded to, in the column's unit.

    Round decimal steps (whole feet, 0.1 deg), single precision, and steps that are no
    round number in the column's unit (whole feet written in metres) are found. None
    where there are too few different values, or no step coarser than the digits written.
    ``only_round`` leaves the last kind out: even motion, repeated, can look like it.

    >>> written_step(np.round(np.linspace(0.0, 90.0, 500), 1))
    0.1
    """
    finite = np.isfinite(values)
    if not finite.all():
        values = values[finite]
    if values.size < _FEWEST:
        return None
    # some from everywhere and some in a row: either alone may meet only every third step
    start = max(0, (values.size - _LOOKED_AT // 2) // 2)
    in_a_row = values[start : start + _LOOKED_AT // 2]
    different = distinct(np.concatenate([values[:: max(1, values.size // _LOOKED_AT)], in_a_row]))
    if different.size < _FEWEST:
        return None
    decimal = _decimal_step(different)
    single = _single_precision(different, decimal)
    if single is not None or only_round:
        return single or decimal
    other = _even_step(values, decimal)
    return other if other is not None else decimal


def _decimal_step(different: np.ndarray) -> float | None:
    """Find the largest round step, coarse ones ruled out by a few values first."""
    few = different[:: max(1, different.size // 16)]
    size = float(np.abs(different).max())
    for step in _DECIMALS:
        if step > size:  # nothing is a multiple of it but zero
            continue
        if size / step > 1e12:
            return None
        if _multiples(few, step, size) and _multiples(different, step, size):
            return step
    return None


def _multiples(values: np.ndarray, step: float, size: float) -> bool:
    ratio = values / step
    return bool(np.abs(ratio - np.rint(ratio)).max() < 1e-6 + 4e-16 * size / step)


def _single_precision(different: np.ndarray, decimal: float | None) -> float | None:
    """Tell values that went through single precision, however many digits were written."""
    narrow = different.astype(np.float32)
    spacing = float(np.spacing(np.abs(narrow[narrow.size // 2])))
    written = decimal or 0.0
    if written > 0.9 * spacing:
        return None
    off = np.abs(narrow.astype(float) - different)
    if off.max() <= 0.51 * written + 1e-12 * spacing and written < 0.2 * spacing:
        return spacing
    few = different[:: max(1, different.size // 60)]
    shortest = all(float(str(np.float32(value))) == value for value in few)
    return spacing if shortest else None


def _even_step(values: np.ndarray, decimal: float | None) -> float | None:
    """Find a step that is no round number: all differences are multiples of the smallest."""
    start = max(0, (values.size - _STRETCH) // 2)
    stretch = values[start : start + _STRETCH]
    different = distinct(stretch)
    if different.size < 20:
        return None
    gaps = np.diff(different)
    written = decimal or 1e-9 * float(np.abs(different).max())
    step = float(gaps.min())
    if step < 8.0 * written:
        return None
    counts = np.rint(gaps / step)
    even = different.size * 3 > stretch.size and (counts == 1.0).mean() > 0.8
    if even and not _dwells(stretch):
        return None  # even motion, sampled evenly, not an even scale
    step = float(gaps.sum() / counts.sum())
    return step if np.abs(gaps - counts * step).max() <= 1.01 * written else None


def _dwells(values: np.ndarray) -> bool:
    """Whether values repeat now and then, now longer, now shorter: a scale too coarse for the motion.

    Values that a recorder holds until the next one comes all repeat alike.
    """
    changes = np.flatnonzero(np.diff(values))
    lengths = np.diff(changes)
    return lengths.size >= _FEWEST and (lengths > 1).mean() > 0.02 and distinct(lengths).size > 1
