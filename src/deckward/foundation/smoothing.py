"""A fixed-interval smoother for many signals at once, on irregular samples.

Each *lane* is one signal with its own times, noise and gaps. The model of a lane is
position, velocity and acceleration driven by white jerk of spectral density ``jerk``
(unit^2/s^5); a sample sees the position with a variance of its own, infinite where
there is none. Lanes are smoothed side by side, so that the loop over time is paid once.

Source: forward Kalman filter and backward recursion of Bierman, "Fixed interval
smoothing with discrete measurements", Int. J. Control 18 (1973), after Bryson and
Frazier (1963); leave-one-out residuals after de Jong, Biometrika 76 (1989).
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.foundation.statistics import distinct, median

#: standard deviation of value and rate before the first sample; the start is taken from the data
_START = (100.0, 100.0, 100.0)
#: factors around the first guess of jerk / variance that the likelihood is asked about
_RATIOS = 10.0 ** np.arange(-1.8, 1.9, 0.9)
#: seconds that the structure function spans, and rows the likelihood looks at
_LONGEST_STRIDE = 1.6
#: times the likelihood is asked, moving on while its maximum stands at an edge
_SEARCHES = 5
_LIKELIHOOD_ROWS = 400
#: variance over jerk * step^5 from which on samples say little one by one
_NOISY = 1e4
#: share of the mean power that counts at least: a path may be straight, a scale may stand still, mostly
_SHARE = 0.3


#: shortest step (s) told apart from none, and by what part two steps may differ and count as one length
_SHORTEST, _SAME_STEP = 1e-9, 1e-9
#: one step of the model, its parts counted in steps: [covariance | mean], (3, 4) row by row
_STEP = np.array([[1.0, 1.0, 0.5], [0.0, 1.0, 1.0], [0.0, 0.0, 1.0]])
_BOTH = np.zeros((4, 4))
_BOTH[:3, :3], _BOTH[3, 3] = _STEP, 1.0
_FORWARD = np.kron(_STEP, _BOTH)
_BOTH[:3, :3] = _STEP.T
_BACKWARD = np.kron(_STEP.T, _BOTH)
#: powers of the step in each part, and what white jerk adds to it over one step
_POWER = np.add.outer([0, 1, 2], [0, 1, 2, 0]).ravel()
_DRIVE = np.array([[1 / 20, 1 / 8, 1 / 6, 0], [1 / 8, 1 / 3, 1 / 2, 0], [1 / 6, 1 / 2, 1, 0]]).ravel()


class Smoothed(Struct, frozen=True):
    """Posterior states of lanes.

    ``time`` (n, L); ``state`` (n, 3, L): value, rate, acceleration; ``covariance``
    (n, 3, 3, L). Rows past a lane's end are predictions from it. ``residual`` (n, L) is
    how far a sample stands from what all others say of it, ``residual_sigma`` the standard
    deviation expected of that; NaN where not measured.
    """

    time: np.ndarray
    state: np.ndarray
    covariance: np.ndarray
    residual: np.ndarray
    residual_sigma: np.ndarray


class Filtered(Struct, frozen=True):
    """Forward pass: the state at each row given the samples up to that row."""

    time: np.ndarray
    state: np.ndarray
    covariance: np.ndarray
    innovation: np.ndarray
    innovation_variance: np.ndarray
    gain: np.ndarray
    jerk: np.ndarray

    def take(self, lanes) -> Filtered:
        """Return some of the lanes."""
        return Filtered(
            **{name: np.ascontiguousarray(getattr(self, name)[..., lanes]) for name in self.__struct_fields__}
        )


def filter_forward(time, value, variance, jerk, *, begun: Filtered | None = None, row: int = 0) -> Filtered:
    """Filter lanes forward in time.

    Args:
        time: (n, L), s, not decreasing along each lane.
        value: (n, L); ignored where ``variance`` is infinite.
        variance: (n, L), of each sample, inf where there is none.
        jerk: (L,) or (n, L), spectral density of the jerk (over the step up to a row).
        begun: a pass over the same lanes that is the same up to ``row``, to go on from there.
        row: first row that is another; 0 without ``begun``.
    """
    time, value, variance = (np.ascontiguousarray(a, dtype=float) for a in (time, value, variance))
    n, lanes = time.shape
    jerk = np.broadcast_to(np.asarray(jerk, dtype=float), (n, lanes))
    measured = np.isfinite(variance)
    seen = np.where(measured, value, 0.0)
    noise = np.where(measured, variance, np.inf)
    step, scale = _steps(time)
    rescale, drive = _rescaling(step), _DRIVE[:, None] * (jerk * step**5)[:, None]

    states = np.empty((n, 12, lanes))
    spread, gains = np.empty((n, lanes)), np.empty((n, 3, lanes))
    above = np.empty((n, 4, lanes))
    if begun is None:
        first = np.zeros((3, 4, lanes))
        first[:, 3] = _start(time, seen, measured)
        first[[0, 1, 2], [0, 1, 2]] = np.square(_START)[:, None]
        states[0] = first.reshape(12, lanes) * scale[0]
    else:
        last = np.concatenate([begun.covariance[row - 1], begun.state[row - 1, :, None]], axis=1)
        states[row] = _FORWARD @ (last.reshape(12, lanes) * scale[row]) + drive[row]
    scratch, fall = np.empty((12, lanes)), np.empty((3, 4, lanes))
    for k in range(row, n):
        now = states[k]
        if k > row:
            before, factor = states[k - 1], rescale[k]
            if factor is not None:
                before = np.multiply(before, factor, out=scratch)
            np.matmul(_FORWARD, before, out=now)
            now += drive[k]
        # the first row of the covariance, and how far the prediction stands above the sample
        top, gain = above[k], gains[k]
        np.copyto(top, now[:4])
        top[3] -= seen[k]
        np.add(top[0], noise[k], out=spread[k])
        np.divide(top[:3], spread[k], out=gain)
        np.multiply(gain[:, None], top, out=fall)
        now -= fall.reshape(12, lanes)
    # what went before is taken from there
    states[row:] /= scale[row:]
    gains[row:] /= scale[row:, 3::4]
    grid = states.reshape(n, 3, 4, lanes)
    found = {
        "state": grid[:, :, 3],
        "covariance": grid[:, :, :3],
        "innovation": np.where(measured, -above[:, 3], np.nan),
        "innovation_variance": spread,
        "gain": gains,
    }
    if begun is not None:
        for name, values in found.items():
            values[:row] = getattr(begun, name)[:row]
    return Filtered(time, **found, jerk=jerk)


def _steps(time) -> tuple[np.ndarray, np.ndarray]:
    """Steps (n, L) up to each row, and what makes a state's parts (n, 12, L) lengths over that step.

    The parts are the covariance and the mean, row by row: (3, 4). Counted in steps, the model is the
    same at every row of every lane, whatever its samples' times.
    """
    step = np.diff(time, axis=0, prepend=time[:1])
    step[0] = step[1] if len(step) > 1 else 1.0
    step = np.maximum(step, _SHORTEST)
    return step, _powers(step)


def _powers(values) -> np.ndarray:
    """Powers (n, 12, L) of values (n, L) that belong to the parts of a state."""
    out = np.empty((values.shape[0], 12, values.shape[1]))
    ones, square = np.ones_like(values), values * values
    powers = (ones, values, square, square * values, square * square)
    for part, power in enumerate(_POWER):
        out[:, part] = powers[power]
    return out


def _rescaling(step) -> list[np.ndarray | None]:
    """Take the parts (12, L) from the row before to a row's step; None where it is as long."""
    ratio = step[1:] / step[:-1]
    rows = np.flatnonzero((np.abs(ratio - 1.0) > _SAME_STEP).any(axis=1))
    out: list[np.ndarray | None] = [None] * len(step)
    for row, factor in zip(rows + 1, _powers(ratio[rows]), strict=True):
        out[row] = factor
    return out


def _start(time, value, measured) -> np.ndarray:
    """Guess value and rate (3, L) from the first and the tenth sample of each lane."""
    lane = np.arange(time.shape[1])
    rank = np.cumsum(measured, axis=0)
    first = (rank >= 1).argmax(axis=0)
    later = (rank >= np.minimum(10, rank[-1])).argmax(axis=0)
    gap = time[later, lane] - time[first, lane]
    rate = np.where(gap > 0, (value[later, lane] - value[first, lane]) / np.where(gap > 0, gap, 1.0), 0.0)
    return np.stack([value[first, lane] - rate * (time[first, lane] - time[0]), rate, np.zeros_like(rate)])


def _drive(step: np.ndarray, jerk: np.ndarray) -> np.ndarray:
    """Covariance (n, 3, 3, L) that white jerk (n, L) adds over a step (n, L)."""
    d2, d3 = step * step, step**3
    out = np.empty((step.shape[0], 3, 3, step.shape[1]))
    out[:, 0, 0] = d3 * d2 / 20.0
    out[:, 0, 1] = out[:, 1, 0] = d2 * d2 / 8.0
    out[:, 0, 2] = out[:, 2, 0] = d3 / 6.0
    out[:, 1, 1] = d3 / 3.0
    out[:, 1, 2] = out[:, 2, 1] = d2 / 2.0
    out[:, 2, 2] = step
    return out * jerk[:, None, None]


def smooth_backward(forward: Filtered, end=None) -> Smoothed:
    """Smooth lanes back from their ends.

    Args:
        forward: the forward pass.
        end: (L,) number of rows of each lane that count; rows past it are predicted
            from the last one that does, as if they had not been measured. None: all.
    """
    n, _, lanes = forward.state.shape
    end = np.full(lanes, n) if end is None else np.asarray(end, dtype=int)
    row = np.arange(n)[:, None]
    counts = np.isfinite(forward.innovation) & (row < end)
    weight = counts / forward.innovation_variance
    scaled = np.where(counts, forward.innovation, 0.0) * weight
    step, scale = _steps(forward.time)
    gain = forward.gain * counts[:, None]
    scaled_gain = gain * scale[:, 3::4]
    rescale = _rescaling(step)
    # what a sample adds to the first row of the information, and takes from the adjoint
    pull = np.zeros((n, 4, lanes))
    pull[:, 0], pull[:, 3] = -weight, scaled

    grids = np.empty((n, 12, lanes))
    grids[-1] = 0.0
    scratch, product = np.empty((12, lanes)), np.empty((3, 4, lanes))
    work = scratch.reshape(3, 4, lanes)
    taken, column = np.empty((4, lanes)), np.empty((3, lanes))
    for k in range(n - 1, -1, -1):
        now = grids[k]
        if k < n - 1:
            np.matmul(_BACKWARD, scratch, out=now)
            factor = rescale[k + 1]
            if factor is not None:
                now *= factor
        np.copyto(scratch, now)
        g = scaled_gain[k]
        np.multiply(g[None], work[:, :3], out=product[:, :3])
        np.add.reduce(product[:, :3], axis=1, out=column)
        work[:, 0] -= column
        np.multiply(g[:, None], work, out=product)
        np.add.reduce(product, axis=0, out=taken)
        taken += pull[k]
        work[0] -= taken
    grids *= scale
    grid = grids.reshape(n, 3, 4, lanes)
    informations, adjoints = grid[:, :, :3], grid[:, :, 3]

    cov = forward.covariance
    state = forward.state - (cov * adjoints[:, None]).sum(2)
    left = np.einsum("nijl,njkl->nikl", cov, informations)
    covariance = cov - np.einsum("nijl,njkl->nikl", left, cov)
    error = scaled + (gain * adjoints).sum(1)
    precision = weight + np.einsum("nil,nijl,njl->nl", gain, informations, gain)
    with np.errstate(invalid="ignore", divide="ignore"):
        residual = np.where(counts, error / precision, np.nan)
        residual_sigma = np.where(counts, 1.0 / np.sqrt(precision), np.nan)
    if (end < n).any():
        _predict_past_end(forward, end, state, covariance)
    return Smoothed(forward.time, state, covariance, residual, residual_sigma)


def _predict_past_end(forward: Filtered, end, state, covariance) -> None:
    """Overwrite rows past each lane's end with predictions from its last row."""
    for lane in np.flatnonzero(end < state.shape[0]):
        last = max(int(end[lane]) - 1, 0)
        step = forward.time[last:, lane] - forward.time[last, lane]
        mean, cov = extrapolate(
            forward.state[last, :, lane], forward.covariance[last, :, :, lane], step, forward.jerk[last, lane]
        )
        state[last:, :, lane] = mean
        covariance[last:, :, :, lane] = cov


def extrapolate(state, covariance, step, jerk) -> tuple[np.ndarray, np.ndarray]:
    """Carry one state (3,) with covariance (3, 3) over steps (m,), s.

    Returns states (m, 3) and covariances (m, 3, 3).
    """
    step = np.atleast_1d(np.asarray(step, dtype=float))
    transition = np.zeros((step.size, 3, 3))
    transition[:, 0, 0] = transition[:, 1, 1] = transition[:, 2, 2] = 1.0
    transition[:, 0, 1] = transition[:, 1, 2] = step
    transition[:, 0, 2] = 0.5 * step * step
    drive = _drive(np.abs(step)[:, None], np.full((step.size, 1), jerk))[..., 0]
    mean = transition @ state
    cov = transition @ covariance @ transition.transpose(0, 2, 1) + drive
    return mean, cov


class Noise(Struct, frozen=True):
    """Sample variance and jerk density of lanes, and the log-likelihood they reach, (L,) each.

    ``quiet`` lanes have no noise that anybody minds: no more was looked for, and no
    likelihood is told.
    """

    variance: np.ndarray
    jerk: np.ndarray
    score: np.ndarray
    quiet: np.ndarray


def noise_levels(time, value, measured, floor, *, trivial=0.0) -> Noise:
    """Find each lane's sample variance and jerk density.

    A first guess comes from third differences over strides of several lengths; the
    greatest likelihood around it settles the ratio, with the scale concentrated out.

    Args:
        time: (n, L), s.
        value: (n, L).
        measured: (n, L), where there is a sample.
        floor: (L,) smallest standard deviation a sample can have (rounding).
        trivial: (L,) standard deviation up to which nobody minds the noise.
    """
    time, value = np.asarray(time, dtype=float), np.asarray(value, dtype=float)
    measured, floor = np.asarray(measured, dtype=bool), np.asarray(floor, dtype=float)
    lanes = time.shape[1]
    variance, jerk, score = floor**2, np.full(lanes, 1e-14), np.full(lanes, -np.inf)
    late = _last_rows(time, value, measured)
    step = _median_step(late[0])
    power, noise, drive = _differences(*late, step, 1)
    with np.errstate(invalid="ignore"):
        quiet = power / noise <= np.square(trivial)
        jerk = np.where(quiet, np.maximum(power / drive, 1e-14), jerk)
    rest = np.flatnonzero(~quiet)
    if rest.size:
        late_time, late_value, late_seen = (a[:, rest] for a in late)
        variance[rest], jerk[rest] = _structure(late_time, late_value, late_seen, floor[rest])
    apart = variance / (jerk * step**5) > _NOISY
    asked = ~quiet & (variance > np.square(trivial)) & (measured.sum(axis=0) >= 8)
    for group, rows in ((asked & apart, _bins), (asked & ~apart, _last_rows)):
        index = np.flatnonzero(group)
        if index.size:
            when, what, seen = rows(time[:, index], value[:, index], measured[:, index])
            part = (when, what, np.where(seen > 0.0, 1.0 / np.maximum(seen, 1.0), np.inf))
            found = _most_likely(part, np.log10(jerk[index] / variance[index]))
            variance[index], jerk[index], score[index] = found
    return Noise(np.maximum(variance, floor**2), np.maximum(jerk, 1e-14), score, ~asked)


def _most_likely(rows, centre: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Variance, jerk and log-likelihood (L,) at the likeliest ratio, searched from ``centre`` on."""
    many, spacing = _RATIOS.size, np.log10(_RATIOS[1] / _RATIOS[0])
    variance, ratio, score = (np.zeros(centre.size) for _ in range(3))
    open_ = np.arange(centre.size)
    for turn in range(_SEARCHES):
        time, value, weight = (np.tile(a[:, open_], (1, many)) for a in rows)
        forward = filter_forward(time, value, weight, (_RATIOS[:, None] * 10.0 ** centre[open_]).ravel())
        scores, scales = _concentrated(forward, many, open_.size)
        top = scores.argmax(axis=0)
        at_edge = ((top == 0) | (top == many - 1)) & (np.abs(centre[open_]) < 14.0)
        done = ~at_edge if turn + 1 < _SEARCHES else np.ones_like(at_edge)
        best = np.clip(top, 1, many - 2)
        lane = np.arange(open_.size)
        low, mid, high = scores[best - 1, lane], scores[best, lane], scores[best + 1, lane]
        bend = low - 2.0 * mid + high
        with np.errstate(invalid="ignore", divide="ignore"):
            shift = np.where(bend < 0.0, 0.5 * (low - high) / bend, 0.0)
        shift = np.clip(np.nan_to_num(shift), -1.0, 1.0)
        log_scale = np.log(np.maximum(scales, 1e-300))
        neighbour = np.where(shift < 0, log_scale[best - 1, lane], log_scale[best + 1, lane])
        fraction = np.abs(shift)
        settled = open_[done]
        variance[settled] = np.exp((1 - fraction) * log_scale[best, lane] + fraction * neighbour)[done]
        ratio[settled] = (10.0 ** centre[open_] * _RATIOS[best] * 10.0 ** (shift * spacing))[done]
        score[settled] = scores.max(axis=0)[done]
        centre[open_] += np.where(at_edge, np.log10(_RATIOS[top]), 0.0)
        open_ = open_[~done]
        if not open_.size:
            break
    return variance, ratio * variance, score


def regress(time, value, variance, jerk, shapes, *, spread: float) -> tuple[np.ndarray, np.ndarray]:
    """Fit lanes as a sum of known shapes and what the model of a lane leaves free.

    Generalised least squares: lane and shapes go through one filter, and the lane's
    innovations are fitted by the shapes'.

    Args:
        time: (n, L), s.
        value: (n, L).
        variance: (n, L), of each sample, inf where there is none.
        jerk: (L,).
        shapes: (k, n, L).
        spread: standard deviation of a coefficient before anything is known; keeps shapes
            that say nearly the same from cancelling each other with large coefficients.

    Returns:
        Coefficients (k, L) and their covariances (k, k, L).
    """
    count, lanes = shapes.shape[0], time.shape[1]
    everything = np.concatenate([value[None], shapes])
    forward = filter_forward(
        np.tile(time, (1, count + 1)),
        np.concatenate(list(everything), axis=1),
        np.tile(variance, (1, count + 1)),
        np.tile(jerk, count + 1),
    )
    white = np.nan_to_num(forward.innovation / np.sqrt(forward.innovation_variance))
    white[:4] = 0.0
    white = white.reshape(-1, count + 1, lanes)
    out, doubt = np.zeros((count, lanes)), np.zeros((count, count, lanes))
    prior = np.eye(count) / spread
    for lane in range(lanes):
        rows = np.concatenate([white[:, 1:, lane], prior])
        seen = np.concatenate([white[:, 0, lane], np.zeros(count)])
        out[:, lane], *_ = np.linalg.lstsq(rows, seen, rcond=None)
        doubt[:, :, lane] = np.linalg.pinv(rows.T @ rows)
    return out, doubt


def _bins(time, value, measured) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Means over runs of samples, so that the rows asked about span the whole lane; counts last."""
    n, lanes = time.shape
    size = -(-n // _LIKELIHOOD_ROWS)
    if size == 1:
        return time, value, measured.astype(float)
    pad = -n % size
    count, total, when = (
        np.pad(a, ((0, pad), (0, 0))).reshape(-1, size, lanes).sum(axis=1)
        for a in (measured.astype(float), np.where(measured, value, 0.0), np.where(measured, time, 0.0))
    )
    first = np.pad(time, ((0, pad), (0, 0)), mode="edge").reshape(-1, size, lanes)[:, 0]
    some = count > 0
    share = np.where(some, count, 1.0)
    mean_time = np.where(some, when / share, first)
    return (
        np.maximum.accumulate(mean_time, axis=0),
        total / share,
        count,
    )


def _last_rows(time, value, measured) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Each lane's last rows before its last sample: times, values, and whether measured (1 or 0)."""
    n, lanes = time.shape
    last = n - 1 - measured[::-1].argmax(axis=0)
    rows = last + np.arange(1 - min(_LIKELIHOOD_ROWS, n), 1)[:, None]
    inside = rows >= 0
    rows = np.maximum(rows, 0)
    lane = np.arange(lanes)
    return time[rows, lane], value[rows, lane], (inside & measured[rows, lane]).astype(float)


def _structure(time, value, measured, floor) -> tuple[np.ndarray, np.ndarray]:
    """Guess variance and jerk density (L,) from third divided differences.

    Of four samples a stride apart, white sample noise gives the third divided difference
    a variance of r * sum(w^2), white jerk one of q * 0.55 / (36 h): the integral of the
    squared quadratic B-spline that the difference weighs the jerk with.
    """
    n = time.shape[0]
    step = _median_step(time)
    longest = max(1, min((n - 1) // 6, int(_LONGEST_STRIDE / max(step.min(), 1e-3))))
    longest = max(longest, min(3, (n - 1) // 6))
    strides = distinct([1, 2, 3, *np.geomspace(1, longest, 6).round().astype(int)])
    strides = strides[strides <= max(longest, 1)]
    rows = [_differences(time, value, measured, step, int(stride)) for stride in strides]
    power, noise, drive = (np.stack(column) for column in zip(*rows, strict=True))
    variance, jerk = _split(power, noise, drive, floor)
    # no more noise than would make the closest four samples disagree as they do
    with np.errstate(invalid="ignore"):
        most = np.nan_to_num(power[0] / noise[0], nan=np.inf)
    return np.clip(variance, floor**2, np.maximum(most, floor**2)), jerk


def _differences(time, value, measured, step, stride: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Power of third differences over a stride, and what noise and jerk of 1 give it, (L,) each."""
    n, lanes = time.shape
    power, noise, drive = (np.full(lanes, np.nan) for _ in range(3))
    count = n - 3 * stride
    if count < 4:
        return power, noise, drive
    index = [slice(j * stride, j * stride + count) for j in range(4)]
    t = np.stack([time[i] for i in index])
    ok = np.logical_and.reduce([measured[i] > 0.0 for i in index])
    span = t[3] - t[0]
    ok &= (np.diff(t, axis=0) > 0).all(axis=0) & (span < 4.5 * stride * step)
    with np.errstate(divide="ignore", invalid="ignore"):
        weights = np.stack(
            [1.0 / np.prod([t[j] - t[k] for k in range(4) if k != j], axis=0) for j in range(4)]
        )
        difference = sum(w * value[i] for w, i in zip(weights, index, strict=True))
        h3 = np.where(ok, (span / 3.0) ** 3, np.nan)
        square = (difference * h3) ** 2
        spread = (weights**2).sum(axis=0) * h3**2
    # too long a stride for a slow lane would step over what it is to see
    in_reach = stride * step <= np.maximum(_LONGEST_STRIDE, 3.0 * step)
    for lane in np.flatnonzero((ok.sum(axis=0) >= 4) & in_reach):
        good = ok[:, lane]
        power[lane] = _power(square[good, lane])
        noise[lane] = median(spread[good, lane])
        drive[lane] = 0.55 / 36.0 * median(h3[good, lane]) ** (5.0 / 3.0)
    return power, noise, drive


def _power(square: np.ndarray) -> float:
    """Power of differences from their squares: robust, yet not blind to a few large ones."""
    usual = float(median(square)) / 0.4549
    ordered = np.sort(square)
    trimmed = float(np.mean(ordered[: max(int(0.98 * ordered.size), 1)]))
    return max(usual, _SHARE * trimmed)


def _split(power, noise, drive, floor) -> tuple[np.ndarray, np.ndarray]:
    """Split powers (strides, L) into r * noise + q * drive, least squares of logarithms."""
    guess = np.logspace(-8.0, 8.0, 65)
    least = np.maximum(floor**2, 1e-16)
    known = np.isfinite(power)
    count = np.maximum(known.sum(axis=0), 1)
    power, noise, drive = (np.where(known, a, 1.0) for a in (power, noise, drive))
    usual = median(drive, axis=0)
    shape = noise[None] + guess[:, None, None] * drive[None] / usual
    log_ratio = np.where(known, np.log(np.maximum(power, 1e-24)) - np.log(shape), 0.0)
    offset = log_ratio.sum(axis=1) / count
    misfit = np.where(known, (log_ratio - offset[:, None]) ** 2, 0.0).sum(axis=1)
    best = misfit.argmin(axis=0)
    lane = np.arange(power.shape[1])
    variance = np.exp(offset[best, lane])
    jerk = variance * guess[best] / usual
    return np.maximum(variance, least), np.maximum(jerk, 1e-14)


def _concentrated(forward: Filtered, many: int, lanes: int) -> tuple[np.ndarray, np.ndarray]:
    """Log-likelihood with the scale taken out, and that scale; (many, lanes)."""
    ok = np.isfinite(forward.innovation)
    ok &= np.cumsum(ok, axis=0) > 5
    count = np.maximum(ok.sum(axis=0), 1)
    square = np.where(ok, forward.innovation, 0.0) ** 2 / forward.innovation_variance
    scale = square.sum(axis=0) / count
    log_spread = np.where(ok, np.log(forward.innovation_variance), 0.0).sum(axis=0)
    score = -0.5 * (count * np.log(np.maximum(scale, 1e-300)) + log_spread)
    return score.reshape(many, lanes), scale.reshape(many, lanes)


def _median_step(time: np.ndarray) -> np.ndarray:
    step = np.diff(time, axis=0)
    positive = [column[column > 0] for column in step.T]
    return np.array([float(median(column)) if column.size else 1.0 for column in positive])


def between_samples(time, state, when, *, order: int = 2) -> np.ndarray:
    """Read value, rate and acceleration between rows of one lane.

    Args:
        time: (n,), s, increasing.
        state: (n, 3, ...) value, rate, acceleration at those times.
        when: (m,), s; outside the rows the nearest end is carried on.
        order: of the last derivative wanted.

    Returns:
        (m, order + 1, ...). Between two rows the posterior mean of the model is the fifth-degree
        polynomial that both states fix.
    """
    time = np.asarray(time, dtype=float)
    when = np.atleast_1d(np.asarray(when, dtype=float))
    if np.array_equal(when, time):
        return state[:, : order + 1].copy()
    i = np.minimum(np.maximum(np.searchsorted(time, when, side="right") - 1, 0), time.size - 2)
    span = time[i + 1] - time[i]
    shape = (-1,) + (1,) * (state.ndim - 2)
    s = np.minimum(np.maximum((when - time[i]) / span, 0.0), 1.0).reshape(shape)
    d = span.reshape(shape)
    first, second = state[i], state[i + 1]
    p0, v0, a0 = first[:, 0], first[:, 1] * d, first[:, 2] * (d * d)
    p1, v1, a1 = second[:, 0], second[:, 1] * d, second[:, 2] * (d * d)
    gap = p1 - p0
    c3 = 10 * gap - 6 * v0 - 4 * v1 - 1.5 * a0 + 0.5 * a1
    c4 = -15 * gap + 8 * v0 + 7 * v1 + 1.5 * a0 - a1
    c5 = 6 * gap - 3 * (v0 + v1) - 0.5 * a0 + 0.5 * a1
    out = np.empty((when.size, order + 1, *state.shape[2:]))
    out[:, 0] = p0 + s * (v0 + s * (0.5 * a0 + s * (c3 + s * (c4 + s * c5))))
    outside = when.size > 0 and bool(when.min() < time[0] or when.max() > time[-1])
    if order == 0 and not outside:
        return out
    rate = (v0 + s * (a0 + s * (3 * c3 + s * (4 * c4 + s * 5 * c5)))) / d
    if order > 1 or outside:
        bend = (a0 + s * (6 * c3 + s * (12 * c4 + s * 20 * c5))) / (d * d)
        if outside:
            past = (when - np.minimum(np.maximum(when, time[0]), time[-1])).reshape(shape)
            out[:, 0] += past * rate + 0.5 * past**2 * bend
            rate = rate + past * bend
        if order > 1:
            out[:, 2] = bend
    if order > 0:
        out[:, 1] = rate
    return out
