"""The smoother against two public ones, filterpy and pykalman, on irregular samples with holes."""

from __future__ import annotations

import numpy as np
import pytest
from filterpy.kalman import KalmanFilter
from pykalman import KalmanFilter as PyKalmanFilter

from deckward.foundation import smoothing

NOISE, JERK, N = 0.4, 2.0, 80
#: what a hundredth of a sigma is allowed for the different starts of the filters
SHARE_OF_SIGMA = 0.01


@pytest.fixture(scope="module")
def samples():
    random = np.random.default_rng(20)
    time = np.cumsum(random.uniform(0.02, 0.3, N))
    value = 40.0 - 3.0 * time + 2.0 * np.sin(0.9 * time) + NOISE * random.normal(size=N)
    there = random.uniform(size=N) > 0.15
    there[:2] = True
    return time, value, there


@pytest.fixture(scope="module")
def ours(samples):
    time, value, there = samples
    variance = np.where(there, NOISE**2, np.inf)
    forward = smoothing.filter_forward(time[:, None], value[:, None], variance[:, None], np.array([JERK]))
    return smoothing.smooth_backward(forward)


def model(time):
    """Transition and drive of white jerk, as in Bar-Shalom, Li and Kirubarajan (2001), 6.2.3."""
    steps = np.diff(time)
    f = np.array([[[1, d, d * d / 2], [0, 1, d], [0, 0, 1]] for d in steps])
    q = np.array(
        [
            [[d**5 / 20, d**4 / 8, d**3 / 6], [d**4 / 8, d**3 / 3, d**2 / 2], [d**3 / 6, d**2 / 2, d]]
            for d in steps
        ]
    )
    return f, JERK * q


def assert_same(ours, states, covariances):
    sigma = np.sqrt(covariances[:, range(3), range(3)])
    assert np.abs((ours.state[..., 0] - states) / sigma).max() < SHARE_OF_SIGMA
    ratio = np.sqrt(ours.covariance[:, range(3), range(3), 0]) / sigma
    assert np.abs(ratio - 1.0).max() < SHARE_OF_SIGMA


def test_filterpys_rauch_tung_striebel_smoother_says_the_same(samples, ours):
    time, value, there = samples
    f, q = model(time)
    f, q = np.concatenate([np.eye(3)[None], f]), np.concatenate([np.zeros((1, 3, 3)), q])
    peer = KalmanFilter(dim_x=3, dim_z=1)
    peer.x, peer.P = np.array([value[0], 0.0, 0.0]), np.eye(3) * 1e4
    peer.H, peer.R = np.array([[1.0, 0.0, 0.0]]), np.array([[NOISE**2]])
    measured = [float(v) if ok else None for v, ok in zip(value, there, strict=True)]
    means, covariances = [], []
    for k in range(N):
        peer.predict(F=f[k], Q=q[k])
        peer.update(measured[k])
        means.append(peer.x.copy())
        covariances.append(peer.P.copy())
    states, spread, _, _ = peer.rts_smoother(np.array(means), np.array(covariances), Fs=list(f), Qs=list(q))
    assert_same(ours, states.reshape(N, 3), spread)


def test_pykalmans_smoother_says_the_same(samples, ours):
    time, value, there = samples
    f, q = model(time)
    peer = PyKalmanFilter(
        transition_matrices=f,
        transition_covariance=q,
        observation_matrices=np.array([[1.0, 0.0, 0.0]]),
        observation_covariance=np.array([[NOISE**2]]),
        initial_state_mean=np.array([value[0], 0.0, 0.0]),
        initial_state_covariance=np.eye(3) * 1e4,
    )
    states, spread = peer.smooth(np.ma.masked_array(value, mask=~there))
    assert_same(ours, states, spread)
