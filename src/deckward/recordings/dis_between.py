"""Going from update to update of a dead-reckoned craft."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deckward.foundation.earth import ecef_to_geodetic, ned_rotation
from deckward.foundation.statistics import median

#: silence, s, after which a craft counts as gone: 2.4 times a heartbeat of 5 s (from memory)
TIMEOUT = 12.0
#: seconds between samples put between two updates
STEP = 0.1
#: change of velocity, m/s, that the accelerations sent do not explain: a jolt, if it is also
#: this many times the usual
_JOLT, _UNUSUAL = 1.0, 6.0


def moments(time: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Give the times of updates and of samples between them.

    Also after which update each is, and its share of the way to the next, 0 at an update.
    """
    gaps = np.diff(time)
    more = np.where(gaps <= TIMEOUT, np.maximum(np.ceil(gaps / STEP - 1e-6) - 1.0, 0.0), 0.0).astype(int)
    before = np.repeat(np.arange(time.size), np.append(more + 1, 1))
    within = np.arange(before.size) - np.concatenate([[0], np.cumsum(more + 1)])[before]
    share = within / np.append(more + 1, 1)[before]
    return time[before] + share * np.append(gaps, 0.0)[before], before, share


@dataclass(frozen=True)
class Way:
    """Values (n, 3) at updates (n,) s, with their first and second derivatives, NaN where not sent.

    Between two updates it is a curve of fifth, third or first degree, as much as both know.
    """

    time: np.ndarray
    value: np.ndarray
    rate: np.ndarray
    bend: np.ndarray

    @classmethod
    def through(cls, time, value, rate=None, bend=None) -> Way:
        """Make a way where derivatives may be unknown."""
        unknown = np.full(value.shape, np.nan)
        return cls(time, value, unknown if rate is None else rate, unknown if bend is None else bend)

    def at(self, before: np.ndarray, share: np.ndarray) -> np.ndarray:
        """Give the values (m, 3) after the updates ``before`` (m,), at shares of the way to the next."""
        return self._between(before, np.minimum(before + 1, len(self.time) - 1), share)

    def left(self) -> float:
        """Tell how far off the way passes updates it does not see, root mean square; 0 with too few."""
        if len(self.time) < 5:
            return 0.0
        middle = np.arange(1, len(self.time) - 1)
        span = self.time[middle + 1] - self.time[middle - 1]
        middle = middle[(span > 1.5 * STEP) & (span < TIMEOUT)]
        if not middle.size:
            return 0.0
        share = (self.time[middle] - self.time[middle - 1]) / (self.time[middle + 1] - self.time[middle - 1])
        off = self._between(middle - 1, middle + 1, share) - self.value[middle]
        # in the middle a rate that is wrong by as much at both ends does not show: it swings the
        # curve to both sides of the straight line, by at most 0.096 of what it is wrong by
        steps = np.diff(self.time)[:, None]
        meant = 0.5 * steps * (self.rate[1:] + self.rate[:-1])
        swing = np.nan_to_num(0.096 * (meant - np.diff(self.value, axis=0)))[steps[:, 0] < TIMEOUT]
        return float(np.sqrt(np.mean(off**2) + np.mean(swing**2)))

    def _between(self, i: np.ndarray, j: np.ndarray, share: np.ndarray) -> np.ndarray:
        span = (self.time[j] - self.time[i])[:, None]
        s = share[:, None]
        first, last = self.value[i], self.value[j]
        straight = first + s * (last - first)
        c = s * s * (3.0 - 2.0 * s)
        swing = span * s * (1.0 - s) * ((1.0 - s) * self.rate[i] - s * self.rate[j])
        cubic = first + c * (last - first) + swing
        q = s**3 * (10.0 + s * (6.0 * s - 15.0))
        r0, r1 = s * (1.0 + s * s * (s * (8.0 - 3.0 * s) - 6.0)), s**3 * (s * (7.0 - 3.0 * s) - 4.0)
        b0, b1 = 0.5 * s * s * (1.0 - s) ** 3, 0.5 * s**3 * (1.0 - s) ** 2
        fifth = first + q * (last - first) + span * (r0 * self.rate[i] + r1 * self.rate[j])
        fifth = fifth + span * span * (b0 * self.bend[i] + b1 * self.bend[j])
        out = np.where(np.isfinite(fifth), fifth, np.where(np.isfinite(cubic), cubic, straight))
        return np.where(s == 0.0, first, out)


@dataclass(frozen=True)
class Jolt:
    """A blow, or the start of a pull, between two updates: wheels meet a deck, a wire takes the hook.

    A curve would spread it over all of the interval. What was sent before it holds until
    it comes. From the place and the velocity that the next update adds to what was
    reckoned, it came place / velocity before that update if it was a blow (taken so up and
    down), and twice that if it was a steady pull (taken so in the level plane).
    """

    after: int
    span: float
    since_blow: float
    since_pull: float
    blow: np.ndarray
    pull: np.ndarray

    def own(self, before: np.ndarray, share: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Give which samples lie in this interval and how long after its first update they are, s."""
        own = np.flatnonzero((before == self.after) & (share > 0.0))
        return own, share[own] * self.span

    def place(self, path: Way, seconds: np.ndarray) -> np.ndarray:
        """Give earth-centred places (m, 3) so long after the first update."""
        blow = np.clip(1.0 - (self.span - seconds) / self.since_blow, 0.0, 1.0)[:, None]
        pull = np.clip(1.0 - (self.span - seconds) / self.since_pull, 0.0, 1.0)[:, None] ** 2
        return _reckoned(path, self.after, seconds) + blow * self.blow + pull * self.pull

    def attitude(self, turn: Way, seconds: np.ndarray) -> np.ndarray:
        """Give attitudes (m, 3): held, or turning on, until the blow."""
        held = _reckoned(turn, self.after, seconds)
        at_blow = _reckoned(turn, self.after, np.array([self.span - self.since_blow]))
        late = np.clip(1.0 - (self.span - seconds) / self.since_blow, 0.0, 1.0)[:, None]
        return np.where(late > 0.0, at_blow + late * (turn.value[self.after + 1] - at_blow), held)


def _reckoned(way: Way, update: int, seconds: np.ndarray) -> np.ndarray:
    t = seconds[:, None]
    rate, bend = np.nan_to_num(way.rate[update]), np.nan_to_num(way.bend[update])
    return way.value[update] + rate * t + 0.5 * bend * t * t


def find_jolts(path: Way) -> list[Jolt]:
    """Find the jolts along a path in earth-centred axes, m."""
    found = []
    for first in _jolted(path):
        last = first + 1
        span = float(path.time[last] - path.time[first])
        aside = path.value[last] - _reckoned(path, first, np.array([span]))[0]
        faster = path.rate[last] - path.rate[first] - np.nan_to_num(path.bend[first]) * span
        latitude, longitude, _ = ecef_to_geodetic(path.value[last])
        up = -ned_rotation(latitude, longitude)[2]
        blow = up * (aside @ up)
        pull = aside - blow
        level = faster - up * (faster @ up)
        found.append(
            Jolt(
                after=int(first),
                span=span,
                since_blow=_within(np.linalg.norm(blow), abs(faster @ up), span),
                since_pull=_within(2.0 * np.linalg.norm(pull), np.linalg.norm(level), span),
                blow=blow,
                pull=pull,
            )
        )
    return found


def _within(way, speed, span: float) -> float:
    """Give how long a way takes, at least a thousandth of the span and at most all of it."""
    return float(np.clip(way / max(speed, 1e-9), 1e-3 * span, span))


def _jolted(path: Way) -> np.ndarray:
    """Find the intervals (their first update) in which the velocity changes by a jolt.

    It is one where the change is not what the accelerations sent explain, or where up and
    down it is not as before and after.
    """
    if len(path.time) < 5 or not np.isfinite(path.rate).all():
        return np.empty(0, int)
    span = np.diff(path.time)
    latitude, longitude, _ = ecef_to_geodetic(path.value)
    up = -ned_rotation(latitude, longitude)[:, 2]
    climb = np.diff(np.einsum("ij,ij->i", path.rate, up)) / span
    around = median(np.stack([climb[:-2], climb[1:-1], climb[2:]]), axis=0)
    unlike = np.abs(climb - np.concatenate([climb[:1], around, climb[-1:]])) * span
    sent = 0.5 * (path.bend[1:] + path.bend[:-1])
    unexplained = np.linalg.norm(np.diff(path.rate, axis=0) - sent * span[:, None], axis=1)
    jolted = np.zeros(span.size, bool)
    for change in (unlike, np.nan_to_num(unexplained)):
        jolted |= change > max(_JOLT, _UNUSUAL * float(median(change)))
    return np.flatnonzero(jolted & (span > STEP) & (span < TIMEOUT))
