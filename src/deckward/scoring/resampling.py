"""Copies of a pass, each as it may have been flown, given how well the recording knows it.

The copies share one even, coarse grid of time. Row 0 of every array is the estimate
itself; the other rows add errors drawn with the standard deviation and the correlation
time that the pass carries (a first-order Gauss-Markov process; one offset for the whole
pass where the correlation time is infinite).
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from deckward.passes.model import Pass

#: step of the grid, s: the shortest deviation worth a remark lasts several steps
STEP = 0.2
#: no more grid points than this, for a craft that takes minutes over the approach
_MOST = 300
#: a stretch without samples longer than this is not bridged, s
_LONGEST_GAP = 2.0
#: what is left of an error's past once it no longer matters
_NEGLIGIBLE = 1e-4
#: how far the first and last sample are held, s
_HOLD = 0.3


class Copies(Struct, frozen=True):
    """The needed series of a pass: ``(n,)`` or ``(1 + draws, n)``, NaN where unknown.

    ``ball_distance`` is from the eye to the lens along the centreline, m; ``deck_heave`` is
    how high the deck stands, 0 where that is not known. ``ramp_error`` is
    the error of the height over the ramp in standard deviations, ``(1 + draws,)``: that of
    the glide slope there, since an eye too high is a hook too high.
    """

    step: float
    time: np.ndarray
    range: np.ndarray
    closure: np.ndarray
    ball_distance: np.ndarray
    deck_heave: np.ndarray
    glide_slope_error: np.ndarray
    line_up_offset: np.ndarray
    line_up_error: np.ndarray
    angle_of_attack_error: np.ndarray
    sink: np.ndarray
    roll: np.ndarray
    ramp_error: np.ndarray


def resample(flown: Pass, start: float, end: float, *, draws: int, seed: int) -> Copies:
    """Draw copies of the pass between two times; the same seed gives the same copies."""
    step = max(STEP, (end - start) / _MOST)
    grid = start + step * np.arange(int((end - start) / step + 1e-9) + 1)
    series = flown.series
    usable = slice(0, series.contact)
    time = series.time[usable]

    def on_grid(values: np.ndarray) -> np.ndarray:
        return _on_grid(time, values[usable], grid)

    def spread(name: str) -> np.ndarray | None:
        sigma = series.sigma.get(name)
        if sigma is None:
            return None
        known = np.isfinite(sigma[usable])
        if not known.any():
            return None
        return np.interp(grid, time[known], np.asarray(sigma)[usable][known])

    def standard(name: str, stream: int) -> np.ndarray:
        # one stream a quantity: leaving one out does not move the others
        rng = np.random.default_rng([seed, stream])
        tau = float(series.correlation.get(name, np.inf))
        errors = np.zeros((1 + draws, grid.size), dtype=np.float32)
        errors[1:] = _gauss_markov(rng, grid.size, step, tau, draws)
        return errors

    def copies(name: str, stream: int) -> tuple[np.ndarray, np.ndarray | None]:
        estimate, sigma = on_grid(getattr(series, name)), spread(name)
        if sigma is None or not (sigma > 0).any():
            return np.broadcast_to(estimate, (1 + draws, grid.size)), None
        errors = standard(name, stream)
        return estimate.astype(np.float32) + errors * sigma.astype(np.float32), errors

    distance = on_grid(series.range)
    eye = on_grid(series.eye[:, 0])
    lens = flown.site.lens
    glide, glide_errors = copies("glide_slope_error", 0)
    offset, _ = copies("line_up_offset", 1)
    # the angle at the hook target that goes with each copy of the offset
    to_target = np.maximum(distance + lens.hook_target, 1.0)
    angle = on_grid(series.line_up_error) + (offset - offset[0]) / to_target
    ramp_error = np.random.default_rng([seed, 5]).standard_normal(1 + draws)
    if glide_errors is not None and flown.ramp is not None:
        at = min(int(np.searchsorted(grid, flown.ramp.time)), grid.size - 1)
        ramp_error = glide_errors[:, at].astype(float)
    ramp_error[0] = 0.0
    return Copies(
        step=step,
        time=grid,
        range=distance,
        closure=on_grid(series.closure),
        ball_distance=lens.position[0] - np.where(np.isfinite(eye), eye, -distance),
        deck_heave=np.nan_to_num(on_grid(series.deck_heave)),
        glide_slope_error=glide,
        line_up_offset=offset,
        line_up_error=angle,
        angle_of_attack_error=copies("angle_of_attack_error", 2)[0],
        sink=copies("sink", 3)[0],
        roll=copies("roll", 4)[0],
        ramp_error=ramp_error,
    )


def _on_grid(time: np.ndarray, values: np.ndarray, grid: np.ndarray) -> np.ndarray:
    """Interpolate, NaN where the samples leave a gap or end."""
    known = np.isfinite(values)
    if not known.any():
        return np.full(grid.size, np.nan)
    at, value = time[known], values[known]
    out = np.interp(grid, at, value)
    right = np.searchsorted(at, grid)
    before, after = np.clip(right - 1, 0, at.size - 1), np.clip(right, 0, at.size - 1)
    inside = (right > 0) & (right < at.size)
    lost = np.where(inside, at[after] - at[before] > _LONGEST_GAP, np.abs(grid - at[after]) > _HOLD)
    out[lost] = np.nan
    return out


def _gauss_markov(rng: np.random.Generator, size: int, step: float, tau: float, draws: int) -> np.ndarray:
    """Draw errors of standard deviation 1 and correlation ``exp(-|dt| / tau)``; (draws, size).

    The recursion x[i] = f x[i-1] + sqrt(1 - f^2) z[i] is summed by doubling: after the
    pass with shift s each value holds its last 2 s terms.
    """
    if not np.isfinite(tau):
        return np.broadcast_to(rng.standard_normal((draws, 1), dtype=np.float32), (draws, size))
    errors = rng.standard_normal((draws, size), dtype=np.float32)
    kept = math.exp(-step / tau) if tau > 0 else 0.0
    errors[:, 1:] *= math.sqrt(1.0 - kept**2)
    shift = 1
    while shift < size and kept > _NEGLIGIBLE:
        errors[:, shift:] += kept * errors[:, :-shift]
        kept, shift = kept**2, 2 * shift
    return errors
