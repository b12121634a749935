"""Value, rate and acceleration of finely recorded signals from the samples round each.

Where samples carry no noise to speak of, a fixed-interval smoother gives back the samples;
the same comes from a cubic through the nearest seven, for all signals of a craft at once.

Source: least-squares smoothing of Savitzky and Golay, Analytical Chemistry 36 (1964), on
uneven times.
"""

from __future__ import annotations

import numpy as np

_POINTS, _DEGREE = 7, 3


def weights(time: np.ndarray, end: int) -> tuple[np.ndarray, np.ndarray]:
    """Give the samples and their weights for each row.

    Args:
        time: (n,), s, increasing; n >= 7.
        end: rows that count, >= 7; rows from it on are answered from the last ones.

    Returns:
        First sample of each row's window (end,), and weights (end, 3, 7) that turn the
        window's values into value, rate and acceleration at the row.
    """
    first = np.clip(np.arange(end) - _POINTS // 2, 0, end - _POINTS)
    window = time[first[:, None] + np.arange(_POINTS)]
    scale = (window[:, -1] - window[:, 0]) / 2.0
    offset = (window - time[:end, None]) / scale[:, None]
    powers = offset[..., None] ** np.arange(_DEGREE + 1)
    normal = np.einsum("npi,npj->nij", powers, powers)
    solved = np.linalg.solve(normal, powers.transpose(0, 2, 1))[:, :3]
    solved *= np.stack([np.ones_like(scale), 1.0 / scale, 2.0 / scale**2], axis=-1)[..., None]
    return first, solved


def states(values: np.ndarray, first: np.ndarray, weight: np.ndarray) -> np.ndarray:
    """Apply weights to signals (n, L); returns (end, 3, L)."""
    window = values[first[:, None] + np.arange(_POINTS)]
    return np.einsum("nip,npl->nil", weight, window)
