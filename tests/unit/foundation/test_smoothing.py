"""The fixed-interval smoother against the textbook, written out with dense matrices."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.foundation import smoothing

#: a start that the data outweigh, as the smoother's own
DIFFUSE = 1e4


def transition(step: float) -> np.ndarray:
    return np.array([[1.0, step, step**2 / 2], [0.0, 1.0, step], [0.0, 0.0, 1.0]])


def drive(step: float, jerk: float) -> np.ndarray:
    """White jerk integrated over a step, by the textbook's integral of e^(Fs) G G' e^(F's)."""
    nodes, weights = np.polynomial.legendre.leggauss(5)
    out = np.zeros((3, 3))
    for node, weight in zip(nodes, weights, strict=True):
        reach = transition(0.5 * step * (node + 1.0))[:, 2:]
        out += 0.5 * step * weight * reach @ reach.T
    return jerk * out


def textbook(time, value, variance, jerk):
    """Kalman filter, then Rauch, Tung and Striebel's recursion (AIAA Journal 3, 1965)."""
    n = time.size
    mean, cov = np.array([value[np.isfinite(variance)][0], 0.0, 0.0]), np.eye(3) * DIFFUSE
    filtered, predicted = [], []
    for k in range(n):
        if k:
            step = time[k] - time[k - 1]
            f = transition(step)
            mean, cov = f @ mean, f @ cov @ f.T + drive(step, jerk)
        predicted.append((mean, cov))
        if np.isfinite(variance[k]):
            gain = cov[:, 0] / (cov[0, 0] + variance[k])
            mean = mean + gain * (value[k] - mean[0])
            cov = cov - np.outer(gain, cov[0])
        filtered.append((mean, cov))
    states, covs = [filtered[-1][0]], [filtered[-1][1]]
    for k in range(n - 2, -1, -1):
        f = transition(time[k + 1] - time[k])
        gain = filtered[k][1] @ f.T @ np.linalg.inv(predicted[k + 1][1])
        states.append(filtered[k][0] + gain @ (states[-1] - predicted[k + 1][0]))
        covs.append(filtered[k][1] + gain @ (covs[-1] - predicted[k + 1][1]) @ gain.T)
    return np.array(states[::-1]), np.array(covs[::-1])


def walk(seed: int, n: int = 90, noise: float = 0.02, jerk: float = 0.5, rate: float = 10.0):
    """A path of the smoother's own model on irregular times, with noisy samples of it."""
    random = np.random.default_rng(seed)
    time = np.cumsum(random.uniform(0.4, 1.6, n) / rate)
    state, path = np.array([3.0, 1.0, 0.0]), []
    for k in range(n):
        if k:
            step = time[k] - time[k - 1]
            state = transition(step) @ state + np.linalg.cholesky(drive(step, jerk)) @ random.normal(size=3)
        path.append(state)
    path = np.array(path)
    return time, path, path[:, 0] + noise * random.normal(size=n)


def smooth(time, value, variance, jerk, end=None):
    """One lane or several, columns side by side."""
    columns = [np.atleast_2d(np.asarray(a, dtype=float).T).T for a in (time, value, variance)]
    for column in columns:
        column.setflags(write=False)
    return smoothing.smooth_backward(smoothing.filter_forward(*columns, np.atleast_1d(jerk)), end)


@pytest.mark.parametrize("holes", [(), (0, 1, 40, 41, 42, 43, 70, 89)])
def test_it_equals_the_textbook(holes):
    time, _, value = walk(1)
    variance = np.full(time.size, 0.02**2)
    variance[list(holes)] = np.inf
    value[list(holes)] = 1e6
    ours = smooth(time, value, variance, 0.5)
    states, covs = textbook(time, value, variance, 0.5)
    sigma = np.sqrt(covs[:, range(3), range(3)])
    assert np.abs((ours.state[:, :, 0] - states) / sigma).max() < 1e-3
    # the first rows still carry some of the diffuse start, and with it fewer digits
    assert ours.covariance[3:, ..., 0] == pytest.approx(covs[3:], rel=1e-5, abs=1e-9)
    assert ours.covariance[:3, ..., 0] == pytest.approx(covs[:3], rel=2e-2, abs=1e-6)


def test_lanes_do_not_touch_one_another():
    lanes = [walk(seed, rate=rate) for seed, rate in ((1, 5.0), (2, 10.0), (3, 30.0))]
    noise, jerk = np.array([0.02, 0.3, 1.0]) ** 2, np.array([0.5, 3.0, 0.01])
    time, value = (np.stack([lane[i] for lane in lanes], axis=1) for i in (0, 2))
    together = smooth(time, value, np.broadcast_to(noise, time.shape), jerk)
    for k in range(3):
        alone = smooth(time[:, k], value[:, k], np.full(90, noise[k]), jerk[k])
        assert together.state[:, :, k] == pytest.approx(alone.state[:, :, 0], rel=1e-9, abs=1e-9)
        assert together.residual[:, k] == pytest.approx(alone.residual[:, 0], rel=1e-7, abs=1e-9)


def test_a_short_lane_is_filled_up_with_its_last_time_and_stays_as_it_was():
    time, _, value = walk(4, n=60)
    variance = np.full(60, 4e-4)
    alone = smooth(time, value, variance, 0.5)
    padded = smooth(
        np.append(time, [time[-1]] * 25),
        np.append(value, np.zeros(25)),
        np.append(variance, [np.inf] * 25),
        0.5,
    )
    assert padded.state[:60] == pytest.approx(alone.state, abs=1e-8)
    assert padded.covariance[:60] == pytest.approx(alone.covariance, abs=1e-9)
    assert np.isnan(padded.residual[60:]).all()


def test_rows_without_a_sample_change_nothing_where_samples_are():
    time, _, value = walk(5)
    there = np.random.default_rng(0).uniform(size=90) > 0.4
    variance = np.where(there, 4e-4, np.inf)
    masked = smooth(time, np.where(there, value, 1e9), variance, 0.5)
    dropped = smooth(time[there], value[there], variance[there], 0.5)
    assert masked.state[there][3:] == pytest.approx(dropped.state[3:], rel=1e-6, abs=1e-6)
    assert masked.covariance[there][3:] == pytest.approx(dropped.covariance[3:], rel=1e-5, abs=1e-9)


def test_a_gap_is_bridged_with_a_sigma_that_says_so():
    time, path, value = walk(6, n=200, jerk=0.5)
    variance = np.full(200, 4e-4)
    variance[80:120] = np.inf
    out = smooth(time, value, variance, 0.5)
    sigma = np.sqrt(out.covariance[:, 0, 0, 0])
    assert sigma[100] > 5.0 * sigma[60]
    assert abs(out.state[100, 0, 0] - path[100, 0]) < 4.0 * sigma[100]


def test_a_leave_one_out_residual_is_what_leaving_one_out_gives():
    time, _, value = walk(7)
    variance = np.full(90, 4e-4)
    everything = smooth(time, value, variance, 0.5)
    for k in (0, 1, 17, 45, 88, 89):
        without = variance.copy()
        without[k] = np.inf
        rest = smooth(time, value, without, 0.5)
        assert everything.residual[k, 0] == pytest.approx(value[k] - rest.state[k, 0, 0], rel=1e-4, abs=1e-7)
        expected = np.sqrt(variance[k] + rest.covariance[k, 0, 0, 0])
        assert everything.residual_sigma[k, 0] == pytest.approx(expected, rel=1e-2 if k < 2 else 1e-6)


def test_the_sigma_is_honest_on_paths_of_its_own_model():
    """200 paths: of 200 values and 200 rates in the middle 60 to 76 % lie within one sigma."""
    paths = [walk(seed, n=40) for seed in range(200)]
    time, value = (np.stack([p[i] for p in paths], axis=1) for i in (0, 2))
    out = smooth(time, value, np.full(time.shape, 4e-4), np.full(200, 0.5))
    truth = np.stack([p[1] for p in paths], axis=2)
    for order in (0, 1):
        off = (out.state[20, order] - truth[20, order]) / np.sqrt(out.covariance[20, order, order])
        assert 0.60 < np.mean(np.abs(off) < 1.0) < 0.76


def test_rows_past_an_end_are_predicted_as_if_never_measured():
    time, _, value = walk(8)
    variance = np.full(90, 4e-4)
    wild = value.copy()
    wild[50:] += 1000.0
    cut = smooth(time, wild, variance, 0.5, end=np.array([50]))
    alone = smooth(time[:50], value[:50], variance[:50], 0.5)
    assert cut.state[:50] == pytest.approx(alone.state, abs=1e-7)
    assert cut.covariance[:50] == pytest.approx(alone.covariance, abs=1e-9)
    for k in (50, 89):
        f = transition(time[k] - time[49])
        assert cut.state[k, :, 0] == pytest.approx(f @ alone.state[49, :, 0], abs=1e-6)
        ahead = f @ alone.covariance[49, ..., 0] @ f.T + drive(time[k] - time[49], 0.5)
        assert cut.covariance[k, ..., 0] == pytest.approx(ahead, rel=1e-6)
    assert np.isnan(cut.residual[50:]).all()


def test_carrying_a_state_on_is_the_model_over_one_step():
    state, cov = np.array([1.0, 2.0, 3.0]), np.diag([0.1, 0.2, 0.3])
    mean, spread = smoothing.extrapolate(state, cov, [0.0, 0.7], 0.4)
    assert mean[0] == pytest.approx(state) and spread[0] == pytest.approx(cov)
    f = transition(0.7)
    assert mean[1] == pytest.approx(f @ state)
    assert spread[1] == pytest.approx(f @ cov @ f.T + drive(0.7, 0.4))


@pytest.mark.parametrize("rate", [5.0, 10.0, 30.0])
@pytest.mark.parametrize(("noise", "jerk"), [(0.3, 1.0), (0.05, 5.0), (0.02, 0.02)])
def test_noise_levels_are_found_again(rate, noise, jerk):
    """Eight paths of each kind: sigma within 10 %, jerk within a factor 1.8, in the median."""
    paths = [walk(seed, n=500, noise=noise, jerk=jerk, rate=rate) for seed in range(8)]
    time, value = (np.stack([p[i] for p in paths], axis=1) for i in (0, 2))
    found = smoothing.noise_levels(time, value, np.full(time.shape, True), np.full(8, 1e-4))
    assert np.median(np.sqrt(found.variance)) == pytest.approx(noise, rel=0.10)
    assert 1 / 1.8 < np.median(found.jerk) / jerk < 1.8
    assert np.all((np.sqrt(found.variance) / noise < 1.3) & (np.sqrt(found.variance) / noise > 0.7))


def test_noise_levels_are_those_of_the_samples_that_are_there():
    time, _, value = walk(11, n=500, noise=0.3, jerk=1.0)
    there = np.random.default_rng(2).uniform(size=500) > 0.3
    full = smoothing.noise_levels(
        time[:, None], np.where(there, value, 1e6)[:, None], there[:, None], np.array([1e-4])
    )
    assert np.sqrt(full.variance[0]) == pytest.approx(0.3, rel=0.15)


def test_a_variance_is_never_less_than_rounding_leaves():
    time, _, value = walk(12, noise=0.0)
    found = smoothing.noise_levels(time[:, None], value[:, None], np.full((90, 1), True), np.array([0.25]))
    assert found.variance[0] == pytest.approx(0.25**2)


def test_known_shapes_are_found_in_a_lane():
    """Shares put in by hand come back within three of the sigmas that least squares gives them."""
    time, _, value = walk(13, n=300, noise=0.05, jerk=0.01)
    shapes = np.stack([np.sin(3.0 * time), np.exp(-((time - 15.0) ** 2))])
    put_in = np.array([2.0, -1.5])
    mixed = value + put_in @ shapes
    got, _ = smoothing.regress(
        time[:, None],
        mixed[:, None],
        np.full((300, 1), 0.05**2),
        np.array([0.01]),
        shapes[:, :, None],
        spread=10.0,
    )
    spread = 0.05 / np.sqrt((shapes**2).sum(axis=1))
    assert np.all(np.abs(got[:, 0] - put_in) < 5.0 * spread)


def test_a_shape_told_twice_shares_what_is_its_own():
    time, _, value = walk(14, n=300, noise=0.05, jerk=0.01)
    shape = np.sin(3.0 * time)
    lanes = time[:, None], (value + 2.0 * shape)[:, None], np.full((300, 1), 0.05**2), np.array([0.01])
    once, _ = smoothing.regress(*lanes, shape[None, :, None], spread=10.0)
    twice, doubt = smoothing.regress(*lanes, np.stack([shape, shape])[:, :, None], spread=10.0)
    assert twice[:, 0] == pytest.approx([once[0, 0] / 2.0] * 2, abs=0.01)
    # which of the two it is stays open up to the prior, while their sum is well known
    apart, together = np.array([1.0, -1.0]), np.array([1.0, 1.0])
    assert apart @ doubt[:, :, 0] @ apart == pytest.approx(2.0 * 10.0**2, rel=0.01)
    assert together @ doubt[:, :, 0] @ together < 0.01


def quintic(coefficients, time):
    poly = np.polynomial.Polynomial(coefficients)
    return np.stack([poly(time), poly.deriv()(time), poly.deriv(2)(time)], axis=1)


def test_between_rows_a_polynomial_of_fifth_degree_is_exact():
    random = np.random.default_rng(3)
    time = np.cumsum(random.uniform(0.05, 0.4, 12))
    coefficients = random.normal(size=6)
    when = np.linspace(time[0], time[-1], 300)
    read = smoothing.between_samples(time, quintic(coefficients, time), when)
    assert read == pytest.approx(quintic(coefficients, when), rel=1e-9, abs=1e-8)


def test_rows_themselves_are_read_as_they_are_and_ends_are_carried_on():
    time = np.array([0.0, 1.0, 3.0])
    state = np.array([[1.0, 2.0, 4.0], [5.0, -1.0, 0.5], [2.0, 0.0, -1.0]])
    assert smoothing.between_samples(time, state, time) == pytest.approx(state)
    before, after = smoothing.between_samples(time, state, [-0.5, 5.0])
    assert before == pytest.approx([1.0 - 1.0 + 0.5, 2.0 - 2.0, 4.0])
    assert after == pytest.approx([2.0 - 2.0, -2.0, -1.0])


def test_several_signals_are_read_at_once():
    time = np.arange(5.0)
    many = np.random.default_rng(5).normal(size=(5, 3, 4))
    read = smoothing.between_samples(time, many, [0.3, 2.9])
    assert read.shape == (2, 3, 4)
    assert read[:, :, 2] == pytest.approx(smoothing.between_samples(time, many[:, :, 2], [0.3, 2.9]))


def test_what_goes_on_from_an_earlier_pass_divides_nothing_that_was_not_written(monkeypatch):
    """Rows before the one it goes on from are the earlier pass's, whatever lay in memory there."""
    time = np.linspace(0.0, 4.0, 41)[:, None]
    value, variance, jerk = np.sin(time), np.full((41, 1), 0.01), np.ones(1)
    whole = smoothing.filter_forward(time, value, variance, jerk)
    empty = np.empty
    monkeypatch.setattr(smoothing.np, "empty", lambda *a, **k: np.full_like(empty(*a, **k), 1e308))
    again = smoothing.filter_forward(time, value, variance, jerk, begun=whole, row=20)
    for name in ("state", "covariance", "gain", "innovation"):
        np.testing.assert_allclose(getattr(again, name), getattr(whole, name), rtol=1e-9, atol=1e-12)
