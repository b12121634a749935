"""How a ship sways between updates that tell her attitude and not its rates.

Each angle is taken for a random motion about a mean whose correlation dies away while it swings:
what the updates show of it fixes period, decay and size, and these what is likely in between, with
its sigma. Where the updates stand close it is the smooth curve through them.

Source: regression with a Gaussian process: C. E. Rasmussen and C. K. I. Williams, "Gaussian Processes for
Machine Learning" (2006), equations 2.23 to 2.30, an update left out by 5.12; the swinging kernel after
A. G. Wilson and R. P. Adams, "Gaussian Process Kernels for Pattern Discovery and Extrapolation" (2013).
"""

from __future__ import annotations

import numpy as np

#: tried: radians a second that a ship swings at, seconds that she keeps at it
_SWINGS = np.geomspace(0.2, 2.0, 13)
_KEEPS = (4.0, 9.0, 20.0, 45.0, 100.0)
#: updates taken together, and those that reach over to the next lot
_MOST, _OVER = 72, 12
#: rad: what the orientation's rounding leaves, and a sway that nobody needs to know
_ROUNDED, STILL = 2e-6, 2e-5
#: times the variance of the updates that a sway's may be: more is an alias of a slow motion, not a sway
_LARGEST = 100.0
#: share that a told rate may be off: chosen by us
_RATE_OFF = 0.01


def sway(
    time: np.ndarray, angles: np.ndarray, when: np.ndarray, rates: np.ndarray | None = None
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Give angles (m, 3) and their sigma at times (m,) from those (n, 3) at times (n,); rad, s.

    ``rates`` (n, 3), rad/s, are used where all are known. Also how far off (3,) each angle passes updates
    that are left out in turn, root mean square of all but the first and last two; 0 where nothing sways.
    """
    told = rates is not None and bool(np.isfinite(rates).all())
    out, sigma = np.empty((when.size, angles.shape[1])), np.zeros((when.size, angles.shape[1]))
    missed = np.zeros(angles.shape)
    for k in range(angles.shape[1]):
        values = angles[:, k]
        turning = rates[:, k] if told and rates is not None else np.empty(0)
        out[:, k] = np.interp(when, time, values)
        if np.ptp(values) < STILL or time.size < 5:
            continue
        step = _MOST - 2 * _OVER
        for first in range(0, max(time.size - 2 * _OVER, 1), step):
            rows = slice(first, first + _MOST)
            begin = -np.inf if first == 0 else time[first + _OVER]
            last = first + _OVER + step
            end = np.inf if last + _OVER >= time.size else time[last]
            own, here = (when >= begin) & (when < end), (time[rows] >= begin) & (time[rows] < end)
            out[own, k], sigma[own, k], off = _swung(time[rows], values[rows], turning[rows], when[own])
            missed[rows, k][here] = off[here]
    return out, sigma, np.sqrt(np.mean(missed[2:-2] ** 2, axis=0)) if len(time) > 4 else missed.max(axis=0)


def _swung(
    time: np.ndarray, values: np.ndarray, rates: np.ndarray, when: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Give the likeliest motion through some updates, and its sigma, at times; ``rates`` may be empty.

    Also how far off it passes each update if that is left out.
    """
    apart, ahead = time[:, None] - time, time[:, None] - when
    one = np.concatenate([np.ones(time.size), np.zeros(rates.size)])
    told = np.concatenate([values, rates])
    best: tuple[float, np.ndarray, tuple] | None = None
    rounding = (_ROUNDED / max(float(np.std(values)), _ROUNDED)) ** 2 + 1e-9
    for keeps in _KEEPS:
        for swings in _SWINGS:
            kernel = _kernel(apart, swings, keeps, rates=bool(rates.size))
            kernel[: time.size, : time.size] += rounding * np.eye(time.size)
            try:
                lower = np.linalg.cholesky(kernel)
            except np.linalg.LinAlgError:
                continue
            # the mean is not known: it is fitted, and the likelihood is of what is left
            inverse = np.linalg.inv(lower)
            white, level = inverse @ told, inverse @ one
            mean = float(level @ white) / float(level @ level)
            left = white - mean * level
            size = float(left @ left) / max(told.size - 1, 1)
            if size > _LARGEST * float(np.var(values)):
                continue
            score = -0.5 * (told.size - 1) * np.log(size) - np.log(np.diag(lower)).sum()
            score -= 0.5 * np.log(float(level @ level))
            if best is None or score > best[0]:
                best = (score, inverse, (swings, keeps, mean, size, left, level))
    if best is None:
        spread = np.full(when.size, float(np.std(values)))
        return np.interp(when, time, values), spread, np.full(time.size, float(np.std(values)))
    _, inverse, (swings, keeps, mean, size, left, level) = best
    reach = inverse @ _kernel(ahead, swings, keeps, rates=bool(rates.size))[:, : when.size]
    missing = 1.0 - level @ reach
    spread = 1.0 - (reach**2).sum(axis=0) + missing**2 / float(level @ level)
    return (
        mean + left @ reach,
        np.sqrt(size * np.maximum(spread, 0.0)),
        _left_out(inverse, left, level, time.size),
    )


def _left_out(inverse: np.ndarray, left: np.ndarray, level: np.ndarray, n: int) -> np.ndarray:
    """Give how far off (n,) each update is foretold by the others, its rate left out with it."""
    leans = inverse.T @ level
    precision = inverse.T @ inverse - np.outer(leans, leans) / float(level @ level)
    weighed = (inverse.T @ left).reshape(-1, n).T
    rows = np.arange(n)
    if weighed.shape[1] == 1:
        return weighed[:, 0] / precision[rows, rows]
    own = np.array([[precision[rows + i * n, rows + j * n] for j in (0, 1)] for i in (0, 1)])
    return np.linalg.solve(np.moveaxis(own, -1, 0), weighed[..., None])[:, 0, 0]


def _kernel(apart: np.ndarray, swings: float, keeps: float, *, rates: bool) -> np.ndarray:
    """Correlate values so many seconds (n, m) apart; with ``rates`` values and rates, (2 n, 2 m)."""
    fades = np.exp(-0.5 * (apart / keeps) ** 2)
    cosine, sine = fades * np.cos(swings * apart), fades * np.sin(swings * apart)
    if not rates:
        return cosine
    slower = apart / keeps**2
    first = -slower * cosine - swings * sine
    second = (slower**2 - keeps**-2 - swings**2) * cosine + 2.0 * swings * slower * sine
    both = np.block([[cosine, -first], [first, -second]])
    if apart.shape[0] == apart.shape[1]:
        # a sender's rates lag by a step of its own
        rows = np.arange(apart.shape[0], 2 * apart.shape[0])
        both[rows, rows] *= 1.0 + _RATE_OFF**2
    return both
