"""Simulated passes with the states in which they crossed some ranges, and how odds did on them."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from msgspec import Struct

from deckward.prediction import STEP, Scene, State
from deckward.prediction import scene as kernel
from deckward.prediction.chance import keys as keys_of
from deckward.prediction.ensemble import OUTCOMES, begin, first_sight
from deckward.prediction.following import EVERY, Record

NAMES = ("trap", "bolter", "wave-off", "ramp strike", "outside")


class Crossed(Struct, frozen=True):
    """Passes that flew through a range: their states there, the deck's moment, and what became of them.

    ``track`` (looks, 13, n) and ``motions`` (looks, n) are their states and the deck's moments every
    ``EVERY`` s from the start on, ``look`` (n,) the first at or behind the range.
    """

    states: State
    begins: np.ndarray
    outcome: np.ndarray
    track: np.ndarray
    motions: np.ndarray
    look: np.ndarray

    def record(self, scene: Scene, number: int) -> Record:
        """Return a pass as it was flown up to the range."""
        until = int(self.look[number]) + 1
        states = State(*self.track[:until, :, number].T)
        w = scene.weather
        climb = np.arctan2(states.vz, np.hypot(states.vx - w.along, states.vy - w.across))
        return Record(states, self.motions[:until, number], states.pitch - climb)


def fly_through(scene: Scene, starts: State, ranges, *, seed: int, longest: float = 60.0) -> list[Crossed]:
    """Fly passes side by side to their ends and keep the states in which they cross ranges, m.

    Passes that were waved off before a range are left out of it.
    """
    count = np.size(starts.x)
    keys = keys_of(seed, 0, count)
    delay = max(1, round(scene.pilot.delay / STEP))
    state = tuple(np.broadcast_to(column, count).astype(float) for column in starts)
    kept = [(np.zeros((13, count)), np.zeros(count, int), np.zeros(count, bool)) for _ in ranges]
    each, track = round(EVERY / STEP), []
    with np.errstate(all="ignore"):
        flown = begin(scene, state, keys)
        past = np.repeat(first_sight(scene, state, flown)[:, None], delay, axis=1)
        for k in range(round(longest / STEP)):
            before = state[0]
            count_of = np.uint64(k * kernel.DRAWS)
            state, flown = kernel.tick(
                scene, state, flown, past, k % delay, k % delay, k * STEP, keys, count_of, STEP
            )
            for reach, (rows, when, crossed) in zip(ranges, kept, strict=True):
                now = (before < -reach) & (state[0] >= -reach) & (flown.outcome == 0) & (flown.call == 0)
                if now.any():
                    rows[:, now] = np.stack(np.broadcast_arrays(*state))[:, now]
                    when[now] = k + 1
                    crossed |= now
            if (k + 1) % each == 0:
                track.append(np.stack(np.broadcast_arrays(*state)))
            if not (flown.outcome == 0).any():
                break
    outcome = np.where(flown.outcome == 0, OUTCOMES.index("wave-off"), flown.outcome).astype(int)
    path = np.stack(track)
    motions = flown.begin + (np.arange(len(track))[:, None] + 1) * EVERY
    return [
        Crossed(
            states=State(*rows[:, crossed]),
            begins=(flown.begin + when * STEP)[crossed],
            outcome=outcome[crossed],
            track=path[:, :, crossed],
            motions=motions[:, crossed],
            look=(np.ceil(when[crossed] / each) - 1).astype(int),
        )
        for rows, when, crossed in kept
    ]


class Bin(Struct, frozen=True):
    """Passes whose odds fell between two bounds: how many, their mean odds, and how often it came so."""

    low: float
    high: float
    count: int
    predicted: float
    observed: float


def reliability(odds, came, edges=(0.0, 0.1, 0.25, 0.5, 0.75, 0.9, 1.0001)) -> list[Bin]:
    """Hold odds (n,) against what came (n,), bin by bin."""
    odds, came = np.asarray(odds, float), np.asarray(came, bool)
    out = []
    for low, high in pairwise(edges):
        rows = (odds >= low) & (odds < high)
        if rows.any():
            out.append(Bin(low, high, int(rows.sum()), float(odds[rows].mean()), float(came[rows].mean())))
    return out


def brier(odds, came) -> tuple[float, float]:
    """Return the Brier score of odds (n,) and that of always telling the base rate."""
    odds, came = np.asarray(odds, float), np.asarray(came, float)
    return float(np.mean((odds - came) ** 2)), float(came.mean() * (1.0 - came.mean()))


def beyond_chance(odds, came) -> float:
    """Return how many standard deviations the count that came is from the sum of the odds."""
    odds, came = np.asarray(odds, float), np.asarray(came, float)
    return float((came.sum() - odds.sum()) / np.sqrt(max((odds * (1.0 - odds)).sum(), 1e-9)))
