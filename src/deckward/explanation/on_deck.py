"""The run on the deck: the recording from the first contact on, against the ship."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

import numpy as np

from deckward.foundation import angles
from deckward.foundation.track import Track
from deckward.passes.ground import Ground
from deckward.passes.model import Pass


class OnDeck:
    """The recording from the first contact on: speed and turn against the ship, on its own samples."""

    def __init__(self, flown: Pass):
        recorded, touch = flown.recorded, flown.touchdown
        self.known = recorded is not None and touch is not None and flown.outcome in ("trap", "landing")
        if recorded is None or touch is None:
            return
        self.track = recorded.aircraft.between(touch.time, np.inf)
        self.ship = recorded.ship.between(touch.time - 5.0, float(recorded.aircraft.time[-1]) + 5.0)
        self.known = self.known and len(self.track) > 10

    def get(self, name: str) -> np.ndarray | None:
        """A channel from contact on, None where not recorded."""
        values = self.track.get(name)
        return values if values is not None and np.isfinite(values).any() else None

    @cached_property
    def time(self) -> np.ndarray:
        """Times of the samples, s."""
        return self.track.time

    @cached_property
    def speed(self) -> np.ndarray:
        """Speed against the ship, m/s, over half a second."""
        ground = Ground.at(self.ship, float(self.time[0]))
        place = ground.place(self.track)[:, :2] - _places(self.ship, ground, self.time)
        ahead = np.stack([np.interp(self.time + 0.25, self.time, c) for c in place.T], axis=-1)
        behind = np.stack([np.interp(self.time - 0.25, self.time, c) for c in place.T], axis=-1)
        span = np.minimum(self.time + 0.25, self.time[-1]) - np.maximum(self.time - 0.25, self.time[0])
        return np.hypot(*(ahead - behind).T) / np.maximum(span, 1e-3)

    @cached_property
    def turn_rate(self) -> np.ndarray | None:
        """Turn against the ship, rad/s, over half a second."""
        heading = self.get("heading")
        if heading is None:
            return None
        own = angles.unwrap(heading)
        ship = np.interp(self.time, self.ship.time, angles.unwrap(self.ship["heading"]))
        turned = own - ship
        return (
            np.interp(self.time + 0.25, self.time, turned) - np.interp(self.time - 0.25, self.time, turned)
        ) / 0.5

    @cached_property
    def stop(self) -> float | None:
        """When the landing run ended, s."""
        slow = np.flatnonzero(self.speed < 1.5)
        return float(self.time[slow[0]]) if slow.size else None

    def runs(self, mask: np.ndarray, least: float) -> Iterator[tuple[float, float, slice]]:
        """Runs of a mask on the samples, at least so many seconds long."""
        edges = np.flatnonzero(np.diff(np.concatenate([[False], mask, [False]]).astype(int)))
        for first, last in edges.reshape(-1, 2):
            start, end = float(self.time[first]), float(self.time[last - 1])
            if end - start >= least:
                yield start, end, slice(int(first), int(last))


def _places(ship: Track, ground: Ground, when: np.ndarray) -> np.ndarray:
    """North, east (n, 2) of the ship at times."""
    place = ground.place(ship)[:, :2]
    known = np.isfinite(place).all(axis=-1)
    return np.stack([np.interp(when, ship.time[known], column[known]) for column in place.T], axis=-1)
