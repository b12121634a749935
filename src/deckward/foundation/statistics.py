"""The median, quantiles and the different values of an array.

Numpy's own load its masked arrays first, which takes as long as reading a recording.
"""

from __future__ import annotations

import numpy as np


def median(values, axis: int | None = None):
    """Give the middle of values, or the mean of the middle two; NaN where any is NaN, or none is there.

    Args:
        values: of any shape.
        axis: along which; all together without one.

    Returns:
        A number, or an array without the axis.

    >>> float(median([3.0, 1.0, 10.0, 2.0]))
    2.5
    """
    values = np.asarray(values, dtype=float)
    values = values.reshape(-1) if axis is None else np.moveaxis(values, axis, 0)
    count = values.shape[0]
    if not count:
        return np.full(values.shape[1:], np.nan)[()]
    half = count // 2
    # NaN is put last
    ordered = np.partition(values, sorted({max(half - 1, 0), half, count - 1}), axis=0)
    middle = ordered[half] if count % 2 else 0.5 * (ordered[half - 1] + ordered[half])
    unknown = np.isnan(ordered[-1])
    return np.where(unknown, np.nan, middle) if values.ndim > 1 else (np.nan if unknown else middle)


def distinct(values) -> np.ndarray:
    """Give the different ones of values, rising, of any shape without NaN.

    >>> distinct([2, 1, 2]).tolist()
    [1, 2]
    """
    ordered = np.sort(np.asarray(values), axis=None)
    new = np.ones(ordered.size, dtype=bool)
    new[1:] = ordered[1:] != ordered[:-1]
    return ordered[new]


def quantiles(values, shares) -> np.ndarray:
    """Give the values (k,) below which shares (k,), 0..1, of values without NaN lie, by straight lines.

    >>> quantiles([1.0, 2.0, 3.0], [0.25, 1.0]).tolist()
    [1.5, 3.0]
    """
    ordered = np.sort(np.asarray(values, dtype=float), axis=None)
    return np.interp(np.asarray(shares) * (ordered.size - 1), np.arange(ordered.size), ordered)
