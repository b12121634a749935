"""How a ship sways between updates that tell her attitude and not its rates.

Each angle is taken for a random motion about a mean whose correlation dies away while it swings:
what the updates show of it fixes period, decay and size, and these what is likely in between, with
its sigma. Where the updates stand close it is the smooth curve through them.

Source: regression with a Gaussian process: C. E. Rasmussen and C. K. I. Williams, "Gaussian Processes for
Machine Learning" (2006), equations 2.23 to 2.30; the swinging kernel after A. G. Wilson and
R. P. Adams, "Gaussian Process Kernels for Pattern Discovery and Extrapolation" (2013).
"""

from __future__ import annotations

import numpy as np

#: tried: radians a second that a ship swings at, seconds that she keeps at it
_SWINGS = np.geomspace(0.2, 2.0, 13)
_KEEPS = (4.0, 9.0, 20.0, 45.0, 100.0)
#: updates taken together, and those that reach over to the next lot
_MOST, _OVER = 72, 12
#: rad: what the orientation's rounding leaves, and a sway that nobody needs to know
_ROUNDED, _STILL = 2e-6, 2e-5


def sway(time: np.ndarray, angles: np.ndarray, when: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Give angles (m, 3) and their sigma at times (m,) from those (n, 3) at times (n,); rad, s."""
    out, sigma = np.empty((when.size, angles.shape[1])), np.zeros((when.size, angles.shape[1]))
    for k in range(angles.shape[1]):
        values = angles[:, k]
        out[:, k] = np.interp(when, time, values)
        if np.ptp(values) < _STILL or time.size < 5:
            continue
        step = _MOST - 2 * _OVER
        for first in range(0, max(time.size - 2 * _OVER, 1), step):
            rows = slice(first, first + _MOST)
            begin = -np.inf if first == 0 else time[first + _OVER]
            last = first + _OVER + step
            end = np.inf if last + _OVER >= time.size else time[last]
            own = (when >= begin) & (when < end)
            out[own, k], sigma[own, k] = _swung(time[rows], values[rows], when[own])
    return out, sigma


def _swung(time: np.ndarray, values: np.ndarray, when: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Give the likeliest motion through some updates, and its sigma, at times."""
    apart = time[:, None] - time
    one = np.ones(time.size)
    best: tuple[float, np.ndarray, tuple] | None = None
    rounding = (_ROUNDED / max(float(np.std(values)), _ROUNDED)) ** 2 + 1e-9
    for keeps in _KEEPS:
        for swings in _SWINGS:
            kernel = _kernel(apart, swings, keeps) + rounding * np.eye(time.size)
            try:
                lower = np.linalg.cholesky(kernel)
            except np.linalg.LinAlgError:
                continue
            # the mean is not known: it is fitted, and the likelihood is of what is left
            inverse = np.linalg.inv(lower)
            white, level = inverse @ values, inverse @ one
            mean = float(level @ white) / float(level @ level)
            left = white - mean * level
            size = float(left @ left) / max(time.size - 1, 1)
            score = -0.5 * (time.size - 1) * np.log(size) - np.log(np.diag(lower)).sum()
            score -= 0.5 * np.log(float(level @ level))
            if best is None or score > best[0]:
                best = (score, inverse, (swings, keeps, mean, size, left, level))
    if best is None:
        return np.interp(when, time, values), np.full(when.size, float(np.std(values)))
    _, inverse, (swings, keeps, mean, size, left, level) = best
    reach = inverse @ _kernel(time[:, None] - when, swings, keeps)
    missing = 1.0 - level @ reach
    spread = 1.0 - (reach**2).sum(axis=0) + missing**2 / float(level @ level)
    return mean + left @ reach, np.sqrt(size * np.maximum(spread, 0.0))


def _kernel(apart: np.ndarray, swings: float, keeps: float) -> np.ndarray:
    return np.exp(-0.5 * (apart / keeps) ** 2) * np.cos(swings * apart)
