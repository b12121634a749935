"""How a hand answers to what an eye saw: its mean and its chance along a pass, by the law of the hands.

The law is that of ``scene.fly_hands``: an error seen a delay ago beyond a threshold, its sum and its
rate, each with a gain. The eye's slow error goes through the same gains, the hand's own is added;
both are first-order noise, so that along a pass the hand is Gaussian about its mean. The threshold
counts on the average of the eye's error.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from deckward.prediction.following import EVERY

#: s at the start of a pass that do not count: what was seen before is not known
SKIP = 0.8


class Line(NamedTuple):
    """What a hand answers to and what it did, (..., n) each, ``EVERY`` s apart.

    ``error`` (m), its ``rate``, what is ``felt`` (m/s2), the ``distance`` of what is looked at (m),
    what is ``known`` beside them and added, and the ``hand``. ``good`` says which samples count.
    """

    error: np.ndarray
    rate: np.ndarray
    felt: np.ndarray
    distance: np.ndarray
    known: np.ndarray
    hand: np.ndarray
    good: np.ndarray


class Law(NamedTuple):
    """The numbers of one hand: times s, angles rad, gains in the hand's unit a metre and so on.

    ``eye`` is the size of the eye's slow error, ``hand`` of the hand's own, in its unit.
    """

    delay: float
    gain: float
    rate: float
    felt: float
    settle: float
    threshold: float
    eye: float
    hand: float
    aim: float
    eye_time: float
    hand_time: float


def delayed(values: np.ndarray, seconds: float) -> np.ndarray:
    """Return what was there some time ago, (..., n); the first value before there was any."""
    place = np.maximum(np.arange(values.shape[-1]) - seconds / EVERY, 0.0)
    index = np.minimum(place.astype(int), values.shape[-1] - 2)
    share = place - index
    return values[..., index] * (1.0 - share) + values[..., index + 1] * share


def _below(value: np.ndarray) -> np.ndarray:
    """Return the share of a normal distribution below values, to 1e-7.

    Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 7.1.26.
    """
    size = np.abs(value) / np.sqrt(2.0)
    t = 1.0 / (1.0 + 0.3275911 * size)
    poly = 0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429)))
    beyond = 0.5 * t * poly * np.exp(-size * size)
    return np.where(value > 0.0, 1.0 - beyond, beyond)


def _beyond(value: np.ndarray, wide: np.ndarray, threshold: np.ndarray) -> tuple[np.ndarray, ...]:
    """Return what of a value, off by chance, exceeds a threshold either way, on average.

    And its slopes by the value, by how wide the chance is, and by the threshold.
    """
    over, under = (value - threshold) / wide, (-value - threshold) / wide
    up, down = _below(over), _below(under)
    bell = (np.exp(-0.5 * over**2) - np.exp(-0.5 * under**2)) / np.sqrt(2.0 * np.pi)
    return wide * (over * up - under * down + bell), up + down, bell, down - up


def asked(line: Line, law: Law) -> tuple[np.ndarray, dict[str, np.ndarray]]:
    """Return what the law asks of the hand on average, (..., n), but for a constant, and its slopes.

    The slopes are by ``aim``, and by the logarithms of the law's other numbers.
    """
    off, rate = delayed(line.error, law.delay), delayed(line.rate, law.delay)
    wide = np.maximum(law.eye * line.distance, 1e-6)
    seen, by_value, by_width, by_threshold = _beyond(off - law.aim, wide, law.threshold * line.distance)

    def through(values: np.ndarray) -> np.ndarray:
        return -law.gain * values - law.settle * EVERY * np.cumsum(values, axis=-1)

    summed = law.settle * EVERY * np.cumsum(seen, axis=-1)
    mean = line.known - law.gain * seen - summed - law.rate * rate - law.felt * line.felt
    late = 0.02
    rate_before = (delayed(line.rate, law.delay + late) - rate) / late
    off_before = (delayed(line.error, law.delay + late) - off) / late
    return mean, {
        "delay": law.delay * (through(by_value * off_before) - law.rate * rate_before),
        "gain": -law.gain * seen,
        "rate": -law.rate * rate,
        "felt": -law.felt * line.felt,
        "settle": -summed,
        "threshold": through(by_threshold * law.threshold * line.distance),
        "eye": through(by_width * wide),
        "hand": np.zeros_like(mean),
        "aim": through(-by_value),
    }


def spread(
    line: Line, law: Law, *, constant: float, sample: float
) -> tuple[np.ndarray, dict[str, np.ndarray]]:
    """Return the covariance (n, n) of a hand about its mean on one pass (n,), and its slopes.

    ``constant`` is the standard deviation of what stays the same through the pass, ``sample`` that of
    a sample's own error. The slopes are by the logarithms of the numbers that matter to it.
    """
    n = line.hand.size
    off = delayed(line.error, law.delay) - law.aim
    wide = np.maximum(law.eye * line.distance, 1e-6)
    _, slope, _, _ = _beyond(off, wide, law.threshold * line.distance)
    apart = np.abs(np.subtract.outer(np.arange(n), np.arange(n))) * EVERY
    seen = np.exp(-apart / law.eye_time) * np.outer(slope * wide, slope * wide)
    summed = np.cumsum(seen, axis=0)
    both = law.gain * law.settle * EVERY * (summed + summed.T)
    twice = (law.settle * EVERY) ** 2 * np.cumsum(summed, axis=1)
    once = law.gain**2 * seen
    hand = law.hand**2 * np.exp(-apart / law.hand_time)
    eye = once + both + twice
    return eye + hand + constant**2 + sample**2 * np.eye(n), {
        "gain": 2.0 * once + both,
        "settle": both + 2.0 * twice,
        "eye": 2.0 * eye,
        "hand": 2.0 * hand,
    }


def loop(n: int, frequency: float, damping: float) -> np.ndarray:
    """Return how a second-order loop (rad/s) answers, (n, n): rows are times, columns what was asked for."""
    since = np.arange(n + 1) * EVERY
    quick = frequency * np.sqrt(1.0 - damping**2)
    decay = np.exp(-damping * frequency * since)
    step = 1.0 - decay * (np.cos(quick * since) + damping * frequency / quick * np.sin(quick * since))
    weights = np.diff(step)
    index = np.subtract.outer(np.arange(n), np.arange(n)) - 1
    return np.where(index >= 0, weights[np.maximum(index, 0)], 0.0)


class Likelihood:
    """The likelihood of a hand on one pass, about a law; other passes are held against it, too.

    Args:
        line: the pass, (n,).
        law: the numbers.
        names: those of them that slopes are taken by.
        constant, sample: see :func:`spread`.
        answer: how what is moved follows what is asked for, (n, n); at once where None.
    """

    def __init__(
        self, line: Line, law: Law, names: tuple[str, ...], *, constant: float, sample: float, answer=None
    ):
        self.law, self.names, self.answer = law, names, answer
        self.first = round(SKIP / EVERY)
        whole, changes = spread(line, law, constant=constant, sample=sample)
        self.inverse = np.linalg.inv(self._follow(whole))
        self.value = -0.5 * float(np.linalg.slogdet(self.inverse)[1])
        self.changes: Mapping[str, np.ndarray] = {
            name: self._follow(changes[name]) for name in names if name in changes
        }
        self.traces = {name: float(np.sum(self.inverse * change)) for name, change in self.changes.items()}

    def _follow(self, covariance: np.ndarray) -> np.ndarray:
        if self.answer is not None:
            covariance = self.answer @ covariance @ self.answer.T + 1e-6 * np.eye(len(covariance))
        return covariance[self.first :, self.first :]

    def _parts(self, line: Line) -> tuple[np.ndarray, np.ndarray]:
        mean, slopes = asked(line, self.law)
        by = np.stack([slopes[name] for name in self.names])
        if self.answer is not None:
            mean, by = mean @ self.answer.T, by @ self.answer.T
        return np.where(line.good, line.hand - mean, 0.0)[..., self.first :], by[..., self.first :]

    def slopes(self, line: Line) -> np.ndarray:
        """Return the slopes (..., names) of minus the log likelihood of a pass, or of many (m, n)."""
        off, by = self._parts(line)
        pull = off @ self.inverse
        lean = -np.einsum("k...n,...n->...k", by, pull)
        for i, name in enumerate(self.names):
            if name in self.changes:
                more = np.einsum("...n,...n->...", pull @ self.changes[name], pull)
                lean[..., i] += 0.5 * (self.traces[name] - more)
        return lean

    def at(self, line: Line) -> tuple[float, np.ndarray, np.ndarray]:
        """Return minus the log likelihood of one pass, its slopes and the information in it."""
        off, by = self._parts(line)
        information = by @ self.inverse @ by.T
        turned = {name: self.inverse @ change for name, change in self.changes.items()}
        for i, one in enumerate(self.names):
            for j, other in enumerate(self.names):
                if one in turned and other in turned:
                    information[i, j] += 0.5 * float(np.sum(turned[one] * turned[other].T))
        return self.value + 0.5 * float(off @ self.inverse @ off), self.slopes(line), information
