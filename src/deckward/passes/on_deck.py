"""The aircraft seen from the ship's hull, sample by sample, for what needs no landing area yet."""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.foundation import angles, frames
from deckward.foundation.track import Track
from deckward.passes.ground import Ground

#: a deck is looked for this far from the ship's reference point: along, across, up, m
_REACH = (400.0, 100.0, 60.0)
#: slower than this against the ship nothing flies, m/s; and what counts as rest
ROLLING, RESTS = 30.0, 0.7
#: shortest stretch on deck that says anything, s
_SHORTEST = 1.0


class FromHull(Struct, frozen=True):
    """The aircraft against the ship at n times, raw.

    ``level`` (n, 3): reference point ahead, to starboard and below that of the ship, along
    her heading but level; ``hull`` (n, 3) the same in hull axes; ``attitude`` (n, 3, 3)
    turns body axes into hull axes; ``speed`` (n,) over the deck, m/s, and ``felt`` (n,) through the air as
    recorded, NaN where it was not.
    """

    time: np.ndarray
    level: np.ndarray
    hull: np.ndarray
    attitude: np.ndarray
    speed: np.ndarray
    felt: np.ndarray

    def point(self, body) -> np.ndarray:
        """Place (n, 3) in hull axes of a point of the aircraft."""
        return self.hull + self.attitude @ np.asarray(body, dtype=float)

    @property
    def pitch(self) -> np.ndarray:
        """Pitch against the hull (n,), rad."""
        return np.arcsin(np.clip(-self.attitude[:, 2, 0], -1.0, 1.0))

    def take(self, rows) -> FromHull:
        """Return some of the samples."""
        return FromHull(
            self.time[rows],
            self.level[rows],
            self.hull[rows],
            self.attitude[rows],
            self.speed[rows],
            self.felt[rows],
        )


def from_hull(track: Track, ship: Track) -> FromHull:
    """Bring raw samples of an aircraft into hull axes, where both craft are known."""
    names = ("latitude", "longitude", "altitude") if track.geodetic else ("north", "east", "up")
    usable = np.logical_and.reduce([np.isfinite(track[name]) for name in names])
    usable &= (track.time >= ship.time[0]) & (track.time <= ship.time[-1])
    part = track.take(np.flatnonzero(usable))
    time = part.time
    if time.size < 8:
        empty = np.empty((0, 3))
        return FromHull(np.empty(0), empty, empty, np.empty((0, 3, 3)), np.empty(0), np.empty(0))
    ground = Ground.at(ship, time[-1])
    own = ground.place(ship)
    offset = ground.place(part) - np.stack([np.interp(time, ship.time, own[:, k]) for k in range(3)], axis=-1)
    heading, pitch, roll = (_at(time, ship, name) for name in ("heading", "pitch", "roll"))
    level = frames.rotate_back(frames.yaw(heading), offset)
    deck = frames.body_to_level(heading, pitch, roll)
    body = frames.body_to_level(*(_at(time, part, name) for name in ("heading", "pitch", "roll")))
    attitude = np.einsum("nji,njk->nik", deck, body)
    hull = frames.rotate_back(deck, offset)
    felt = part.get("true_airspeed")
    felt = np.full(time.size, np.nan) if felt is None else felt
    return FromHull(time, level, hull, attitude, speed_over(time, level), felt)


def _at(time: np.ndarray, track: Track, name: str) -> np.ndarray:
    values = track.get(name)
    if values is None or not np.isfinite(values).any():
        return np.zeros(time.size)
    ok = np.isfinite(values)
    values = angles.unwrap(values) if name == "heading" else values
    return np.interp(time, track.time[ok], values[ok])


def speed_over(time: np.ndarray, place: np.ndarray) -> np.ndarray:
    """Level speed (n,) from mean places (n, 2 or 3) of the half seconds to either side."""
    area = np.concatenate(
        [np.zeros((1, 2)), np.cumsum(0.5 * (place[1:, :2] + place[:-1, :2]) * np.diff(time)[:, None], axis=0)]
    )

    def mean(start: np.ndarray, end: np.ndarray) -> np.ndarray:
        ends = [np.stack([np.interp(t, time, area[:, j]) for j in (0, 1)], axis=-1) for t in (start, end)]
        return (ends[1] - ends[0]) / np.maximum(end - start, 1e-6)[:, None]

    # at the ends of a recording both halves move inward
    at = np.clip(time, time[0] + 0.6, max(time[-1] - 0.6, time[0] + 0.6))
    apart = mean(at + 0.1, at + 0.6) - mean(at - 0.6, at - 0.1)
    return np.linalg.norm(apart, axis=-1) / 0.7


def stretches(view: FromHull, *, upto: float = ROLLING) -> list[np.ndarray]:
    """Rows of each stretch in which the aircraft rolls or rests on deck, slower than ``upto`` m/s."""
    near = np.logical_and.reduce([np.abs(view.hull[:, k]) < _REACH[k] for k in range(3)])
    rows = np.flatnonzero(near & (view.speed < upto))
    if not rows.size:
        return []
    breaks = np.flatnonzero((np.diff(rows) > 1) | (np.diff(view.time[rows]) > 3.0)) + 1
    return [run for run in np.split(rows, breaks) if view.time[run[-1]] - view.time[run[0]] > _SHORTEST]
