"""Signs of a deck in the track of an aircraft: where it touched one, and where it rested on one."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.foundation import angles
from deckward.foundation.statistics import median
from deckward.foundation.track import Track
from deckward.foundation.units import DEGREE
from deckward.passes.ground import Ground
from deckward.passes.pull import pull_begins

#: no ship is faster, no approach slower or faster than these over the ground, m/s
FASTEST_SHIP, _APPROACH = 20.0, (33.0, 100.0)
#: shortest rest, and the pieces that longer ones are cut into, so that taxiing falls out, s;
#: the velocity (m/s) may stray this much in one
_SHORTEST_REST, _PIECE, _STEADY = 1.5, 15.0, 0.6
#: what curvature and rounding leave of any velocity, m/s
_LEAST = 0.02
#: metres by which a deck sways under what rests on it, and angle by which a steady ship yaws
_SWAY, _YAWS = 0.25, 0.15 * DEGREE
#: a track that ends in a descent of so many metres, below this height, ended on a deck
_LOW, _DESCENT = 90.0, 60.0
#: seconds without a fix after which a track has ended
_ENDED = 20.0
#: how well the touched spot is known along the deck, m: the spread of those who land (common
#: practice, no source); and where only the last fix before the deck is known
_ALONG, _LAST_FIX = 14.0, 40.0


class Touch(Struct, frozen=True):
    """Where the aircraft's reference point was over the deck: s, (2,) m north, east; height, m.

    ``along`` is how well that spot of the deck is known, m; ``course`` (rad) and ``speed``
    (m/s) over the ground and ``sink`` (m/s) just before; ``kind`` "arrest" or "last fix".
    """

    time: float
    place: np.ndarray
    height: float
    course: float
    speed: float
    sink: float
    along: float
    kind: str

    def carried_down(self, height: float) -> Touch:
        """Go on along the path down to a height, m, ever less sure of where that is."""
        seconds = max(self.height - height, 0.0) / max(self.sink, 1.0)
        ahead = self.speed * seconds
        return replace(
            self,
            time=self.time + seconds,
            place=self.place + ahead * np.array([np.cos(self.course), np.sin(self.course)]),
            height=min(self.height, height),
            along=float(np.hypot(self.along, 0.2 * ahead)),
        )


class Rest(Struct, frozen=True):
    """A stretch at one velocity, as on a deck: s, (2,) m and m/s north, east; height m; sigma m/s.

    ``turn`` (rad/s, + to starboard) is the rate of the recorded heading; its sigma is inf where there
    is none.
    """

    start: float
    end: float
    place: np.ndarray
    velocity: np.ndarray
    height: float
    sigma: float
    turn: float = 0.0
    turn_sigma: float = np.inf


class Run:
    """One craft's way over the ground, in bins of half a second or of one sample."""

    def __init__(self, track: Track, ground: Ground) -> None:
        place = ground.place(track)
        good = np.isfinite(place).all(axis=-1)
        good &= ~_filled(place, good)
        self.track = track
        self.raw_time, self.raw = track.time[good], place[good]
        step = float(median(np.diff(self.raw_time))) if self.raw_time.size > 1 else 1.0
        self.step = step
        bins = np.floor(self.raw_time / max(0.5, step))
        _, first, count = np.unique(bins, return_index=True, return_counts=True)
        self.time = np.add.reduceat(self.raw_time, first) / count if first.size else self.raw_time
        self.place = np.add.reduceat(self.raw, first, axis=0) / count[:, None] if first.size else self.raw
        self.height = ground.altitude(self.place) if first.size else np.empty(0)
        self.velocity = (
            np.gradient(self.place[:, :2], self.time, axis=0) if self.time.size > 2 else np.zeros((0, 2))
        )
        self.speed = np.hypot(*self.velocity.T) if self.time.size > 2 else np.empty(0)

    def touches(self) -> list[Touch]:
        """Arrests, and ends of tracks that came down to a deck."""
        if self.speed.size < 8:
            return []
        arrests = self._arrests()
        ends = [one for one in self._ends() if all(abs(one.time - a.time) > 30.0 for a in arrests)]
        return arrests + ends

    def _arrests(self) -> list[Touch]:
        later = np.interp(self.time + 3.0, self.time, self.speed)
        fast = (self.speed > _APPROACH[0]) & (self.speed < _APPROACH[1])
        stops = fast & (later < 0.62 * self.speed) & (later < 35.0)
        found = [self._arrest(int(run[0])) for run in _runs(np.flatnonzero(stops), self.time, 20.0)]
        return [one for one in found if one is not None]

    def _arrest(self, row: int) -> Touch | None:
        # three seconds before much speed is gone: a second or so before a wire pulls
        guess = self.time[row] + 0.5
        course, speed, sink = self._before(guess)
        rows = (self.raw_time > guess - 3.0) & (self.raw_time < guess + 6.0)
        t, place = self.raw_time[rows], self.raw[rows]
        if t.size < 4 or np.diff(t).max() > 2.5:
            return None
        ahead = place[:, 0] * np.cos(course) + place[:, 1] * np.sin(course)
        onset, along = guess + 0.7, _ALONG + self.step * speed
        pull = pull_begins(t - guess, ahead - ahead[0], noise=0.3) if t.size > 30 else None
        if pull is not None:
            onset, along = guess + pull.onset, _ALONG
        at = np.array([np.interp(onset, t, place[:, k]) for k in range(3)])
        rest = self.height[(self.time > onset) & (self.time < onset + 8.0)]
        height = float(median(rest)) if rest.size else float(-at[2])
        return Touch(float(onset), at[:2], height, course, speed, sink, along, "arrest")

    def _ends(self) -> list[Touch]:
        """Last fixes before silence, low at the end of a descent."""
        last = np.flatnonzero(np.diff(self.time, append=np.inf) > _ENDED)
        found = []
        for row in last:
            before = (self.time > self.time[row] - 90.0) & (self.time <= self.time[row])
            if before.sum() < 12:
                continue
            course, speed, sink = self._before(self.time[row] + 0.1)
            down = float(self.height[before].max() - self.height[row])
            if _APPROACH[0] < speed < _APPROACH[1] and down > _DESCENT and self.height[row] < _LOW:
                when, spot, height = float(self.time[row]), self.place[row, :2], float(self.height[row])
                found.append(Touch(when, spot, height, course, speed, sink, _LAST_FIX, "last fix"))
        return found

    def _before(self, when: float) -> tuple[float, float, float]:
        """Course, speed over the ground and sink before a time: ten seconds, or more where fixes are rare."""
        earlier = np.flatnonzero(self.time < when)
        rows = earlier[self.time[earlier] > when - 10.0]
        if rows.size < 8:
            rows = earlier[-16:][self.time[earlier[-16:]] > when - 60.0]
        if rows.size < 2:
            return 0.0, 0.0, 0.0
        since = self.time[rows] - when
        north, east, climb = (
            float(np.polyfit(since, values, 1)[0])
            for values in (self.place[rows, 0], self.place[rows, 1], self.height[rows])
        )
        return float(np.arctan2(east, north)), float(np.hypot(north, east)), -climb

    def rests(self) -> list[Rest]:
        """Stretches at one velocity no faster than a ship, at one height."""
        if self.speed.size < 4:
            return []
        level = np.abs(np.gradient(self.height, self.time)) < 2.0
        bend = np.linalg.norm(np.gradient(self.velocity, self.time, axis=0), axis=-1)
        steady = (self.speed < FASTEST_SHIP) & level & (bend < _STEADY)
        found = []
        for run in _runs(np.flatnonzero(steady), self.time, 3.0):
            start, end = self.time[run[0]], self.time[run[-1]]
            if end - start < _SHORTEST_REST:
                continue
            edges = np.linspace(start, end, int((end - start) // _PIECE) + 2)
            found += [self._rest(float(a), float(b)) for a, b in pairwise(edges)]
        return found

    def _rest(self, start: float, end: float) -> Rest:
        rows = (self.raw_time >= start) & (self.raw_time <= end)
        t, place = self.raw_time[rows], self.raw[rows]
        middle = 0.5 * (start + end)
        line = np.polyfit(t - middle, place[:, :2], 1)
        off = place[:, :2] - (line[1] + np.outer(t - middle, line[0]))
        spread = float(np.sqrt(np.mean(off**2)))
        fitted = spread / max(float(np.std(t)) * np.sqrt(t.size), 1e-6)
        sigma = float(np.sqrt(fitted**2 + (_SWAY / (end - start)) ** 2 + _LEAST**2))
        inside = (self.time >= start) & (self.time <= end)
        height = float(np.mean(self.height[inside]))
        return Rest(start, end, line[1], line[0], height, sigma, *self._turn(start, end))

    def _turn(self, start: float, end: float) -> tuple[float, float]:
        """Rate of the recorded heading and its sigma, rad/s."""
        heading = self.track.get("heading")
        if heading is None:
            return 0.0, np.inf
        rows = (self.track.time >= start) & (self.track.time <= end) & np.isfinite(heading)
        if rows.sum() < 5:
            return 0.0, np.inf
        t, turned = self.track.time[rows] - start, angles.unwrap(heading[rows])
        line = np.polyfit(t, turned, 1)
        spread = float(np.std(turned - np.polyval(line, t)))
        fitted = spread / (float(np.std(t)) * np.sqrt(t.size))
        return float(line[0]), float(np.hypot(fitted, _YAWS / (end - start)))


def _filled(place: np.ndarray, good: np.ndarray) -> np.ndarray:
    """Samples (n,) that only repeat the place before them while the craft moved on."""
    same = np.zeros(len(place), dtype=bool)
    same[1:] = good[1:] & good[:-1] & (np.diff(place[:, :2], axis=0) == 0.0).all(axis=-1)
    if not same.any():
        return same
    fresh = np.flatnonzero(good & ~same)
    after = np.minimum(np.searchsorted(fresh, np.arange(len(place)), side="right"), fresh.size - 1)
    before = np.maximum(np.searchsorted(fresh, np.arange(len(place)), side="right") - 1, 0)
    jump = np.linalg.norm(place[fresh[after], :2] - place[fresh[before], :2], axis=-1)
    return same & ((jump > 2.0) | (after == before))


def _runs(rows: np.ndarray, time: np.ndarray, gap: float) -> list[np.ndarray]:
    if not rows.size:
        return []
    return np.split(rows, np.flatnonzero(np.diff(time[rows]) > gap) + 1)
