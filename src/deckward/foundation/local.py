"""Value, rate and acceleration of finely recorded signals from the samples round each.

Where samples carry no noise to speak of, a fixed-interval smoother gives back the samples;
the same comes from a cubic through the nearest seven, for all signals of a craft at once.

Source: least-squares smoothing of Savitzky and Golay, Analytical Chemistry 36 (1964), on
uneven times.
"""

from __future__ import annotations

import numpy as np

_POINTS, _DEGREE = 7, 3
#: windows whose times differ by less (s) are spaced alike
_ALIKE = 1e-9


def weights(time: np.ndarray, end: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Give the samples and their weights for each row.

    Args:
        time: (n,), s, increasing; n >= 7.
        end: rows that count, >= 7; rows from it on are answered from the last ones.

    Returns:
        First sample of each row's window (end,), which weights the row takes (end,), and
        the weights (k, 3, 7) that turn a window's values into value, rate and acceleration
        at the row. Rows in a row whose windows are spaced alike share theirs.
    """
    first = np.clip(np.arange(end) - _POINTS // 2, 0, end - _POINTS)
    offset = time[first[:, None] + np.arange(_POINTS)] - time[:end, None]
    new = np.ones(end, dtype=bool)
    new[1:] = (np.abs(offset[1:] - offset[:-1]) > _ALIKE).any(axis=1)
    return first, np.cumsum(new) - 1, _solved(offset[new])


def last_weights(time: np.ndarray) -> np.ndarray:
    """Give the weights (3, 7) at the last of seven times (7,), s."""
    return _solved((time - time[-1])[None])[0]


def _solved(offset: np.ndarray) -> np.ndarray:
    """Weights (k, 3, 7) of samples at times (k, 7) from the row's own, s."""
    scale = (offset[:, -1] - offset[:, 0]) / 2.0
    powers = (offset / scale[:, None])[..., None] ** np.arange(_DEGREE + 1)
    normal = powers.swapaxes(-1, -2) @ powers
    solved = np.linalg.solve(normal, powers.swapaxes(-1, -2))[:, :3]
    return solved * np.stack([np.ones_like(scale), 1.0 / scale, 2.0 / scale**2], axis=-1)[..., None]


def states(values: np.ndarray, first: np.ndarray, weight: np.ndarray) -> np.ndarray:
    """Apply weights (end, 3, 7) to signals (n, L); returns (end, 3, L)."""
    return weight @ values[first[:, None] + np.arange(_POINTS)]
