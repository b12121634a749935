"""What met the deck, seen from the hull: arrests, with where the pull began and ended, and bolters."""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.aircraft.model import Profile
from deckward.foundation.statistics import median
from deckward.passes.on_deck import FromHull
from deckward.passes.pull import Pull, noise_of, pull_begins, together

#: closing speeds from which wires stop jets, m/s, and what is left of it three seconds later
CLOSING, _LEFT = (30.0, 100.0), 0.62
#: how near to the ship's point a deck is, m: along and across
_NEAR = (500.0, 120.0)
#: speeds over the deck below which an airspeed says little, m/s, and how nearly it must fall alike
_STOPPED, _ALIKE = 15.0, 0.15
#: seconds of approach that show where the centreline points
_FINAL = 6.0
#: where the pull of one arrest seems to begin against where the wire is, m
ONSET = 0.7
#: a jet that has slowed to this in a wire is at its end, m/s, and for how long it is looked at there, s
_ENDS, _AT_END = 2.0, 1.0
#: seconds that a descent and the roll after it are looked at for, and from when on the struts have settled
_DESCENDS, _ROLLS, _SETTLED = 1.5, 0.8, 0.2
#: least descent, m/s, that a deck ends; what rolling leaves, m rms; how much worse than a knee a smooth
#: pull-up must fit (difference of chi-square), and how well the knee must
_LEAST_SINK, _ROUGH, _WORSE, _FITS = 1.5, 0.15, 12.0, 1.5
#: how high a deck may lie over the ship's point or below it, m
_HIGHEST = 60.0


class Arrest(Struct, frozen=True):
    """One stop by a wire, seen from the hull.

    ``course`` of the approach to starboard of the bow, rad; ``place`` (2,) of the aircraft's
    reference point when the pull began, ahead and to starboard, m; ``pitch`` and ``speed``, m/s, then;
    ``sigma`` of the place along the way, m, and ``shared`` that in which all arrests of a ship are off
    alike; ``halt`` (2,) the place at the end of the run, NaN where it was not recorded.
    """

    course: float
    place: np.ndarray
    pitch: float
    speed: float
    sigma: float
    shared: float
    halt: np.ndarray


def arrests(views: list[FromHull]) -> list[Arrest]:
    """Find every stop by a wire of one ship."""
    runs = [
        (*run, _halt(view, guess))
        for view in views
        for guess in _stops(view)
        if (run := _run(view, guess)) is not None
    ]
    if not runs:
        return []
    onsets, shared = together([pull for _, _, pull, *_ in runs])
    found = []
    for (part, course, _, guess, halt), (onset, sigma) in zip(runs, onsets, strict=True):
        since = part.time - guess - onset
        near = np.abs(since) < 0.4
        if near.sum() < 4:
            continue
        place = np.array([_smooth_at(since[near], part.level[near, k]) for k in (0, 1)])
        speed, pitch = float(median(part.speed[near])), float(median(part.pitch[near]))
        own, all_ = float(np.hypot(ONSET, sigma * speed)), shared * speed
        found.append(Arrest(course, place, pitch, speed, own, all_, halt))
    return found


def _halt(view: FromHull, guess: float) -> np.ndarray:
    """Where (2,) a stop that began about ``guess`` ended, m; NaN where the recording ends before."""
    slow = np.flatnonzero((view.time > guess) & (view.time < guess + 15.0) & (view.speed < _ENDS))
    if not slow.size:
        return np.full(2, np.nan)
    rows = (view.time >= view.time[slow[0]]) & (view.time < view.time[slow[0]] + _AT_END)
    return np.median(view.level[rows, :2], axis=0)


def _stops(view: FromHull) -> list[float]:
    """Times, s, some moments before a wire pulls."""
    if view.time.size < 20:
        return []
    later = np.interp(view.time + 3.0, view.time, view.speed)
    fast = (view.speed > CLOSING[0]) & (view.speed < CLOSING[1])
    near = (np.abs(view.level[:, 0]) < _NEAR[0]) & (np.abs(view.level[:, 1]) < _NEAR[1])
    rows = np.flatnonzero(fast & near & (later < _LEFT * view.speed))
    if not rows.size:
        return []
    starts = rows[np.append(True, np.diff(view.time[rows]) > 10.0)]
    return [float(view.time[row]) + 0.5 for row in starts]


def _run(view: FromHull, guess: float) -> tuple[FromHull, float, Pull, float] | None:
    """One approach and stop, its course, the pull in it and the time that the pull counts from."""
    part = view.take(np.flatnonzero((view.time > guess - _FINAL) & (view.time < guess + 6.0)))
    before = part.time < guess
    if before.sum() < 8 or (~before).sum() < 6:
        return None
    course = float(np.arctan(np.polyfit(part.level[before, 0], part.level[before, 1], 1)[0]))
    along = part.level[:, 0] * np.cos(course) + part.level[:, 1] * np.sin(course)
    late = part.time > guess - 1.0
    since, way = part.time[late] - guess, along[late]
    felt = part.felt[late] if _slows_alike(part.felt[late], part.speed[late]) else None
    pull = pull_begins(since, way, noise=noise_of(way), speed=felt)
    return None if pull is None else (part, course, pull, guess)


def _slows_alike(felt: np.ndarray, speed: np.ndarray) -> bool:
    """Whether a recorded airspeed (n,) falls as the speed over the deck (n,) does: some stick there."""
    known = np.isfinite(felt) & (speed > _STOPPED)
    if known.sum() < 8:
        return False
    slope = np.polyfit(speed[known], felt[known], 1)[0]
    return abs(float(slope) - 1.0) < _ALIKE


def _smooth_at(since: np.ndarray, values: np.ndarray) -> float:
    """Value at 0 of a parabola through samples."""
    return float(np.polyfit(since, values, min(2, values.size - 1))[-1])


def hook_ahead(one: Arrest, profile: Profile) -> float:
    """How far the hook point is ahead of the reference point, m, at the pitch of an arrest."""
    return float(profile.hook[0] * np.cos(one.pitch) + profile.hook[2] * np.sin(one.pitch))


class Roll(Struct, frozen=True):
    """A touch that no wire ended, seen from the hull.

    ``course`` of the approach to starboard of the bow, rad; ``place`` (2,) of the aircraft's reference
    point at the touch, ahead and to starboard, m; ``level`` of the main wheels rolling, m over
    the ship's point.
    """

    course: float
    place: np.ndarray
    level: float


def rolls(views: list[FromHull], profile: Profile) -> list[Roll]:
    """Find bolters and touch-and-goes: a descent that ends at once, and a level roll at speed."""
    found = []
    for view in views:
        stopped = _stops(view)
        for rows in _overhead(view):
            one = _roll(view, rows, profile)
            if one is not None and all(abs(one[0] - guess) > 10.0 for guess in stopped):
                found.append(one[1])
    return found


def _overhead(view: FromHull) -> list[np.ndarray]:
    """Rows of each crossing of the deck at speed."""
    if view.time.size < 20:
        return []
    fast = (view.speed > CLOSING[0]) & (view.speed < CLOSING[1])
    near = (np.abs(view.level[:, 0]) < _NEAR[0]) & (np.abs(view.level[:, 1]) < _NEAR[1])
    rows = np.flatnonzero(fast & near & (np.abs(view.hull[:, 2]) < _HIGHEST))
    if not rows.size:
        return []
    return np.split(rows, np.flatnonzero(np.diff(view.time[rows]) > 1.0) + 1)


def _roll(view: FromHull, rows: np.ndarray, profile: Profile) -> tuple[float, Roll] | None:
    """When wheels met the deck in a crossing, and the roll; None where nothing shows that they did."""
    x, _, z = profile.main_wheels
    time, height = view.time[rows], -view.point((x, 0.0, z))[rows, 2]
    noise = float(np.hypot(noise_of(height), _ROUGH))
    best: tuple[float, float] | None = None
    for knee in np.arange(time[0] + _DESCENDS, time[-1] - _ROLLS, 0.05):
        near = (time > knee - _DESCENDS) & (time < knee + _ROLLS)
        since = time[near] - knee
        if (since < 0.0).sum() < 4 or (since > 0.0).sum() < 4:
            continue
        bent = np.stack([np.ones_like(since), np.minimum(since, 0.0), np.maximum(since, 0.0)], axis=-1)
        (_, sinks, after), *_ = np.linalg.lstsq(bent, height[near], rcond=None)
        left = _left(bent, height[near])
        smooth = _left(np.stack([np.ones_like(since), since, since**2], axis=-1), height[near])
        worse = since.size * (smooth**2 - left**2) / noise**2
        level = sinks < -_LEAST_SINK and abs(after) < 0.25 * abs(sinks)
        if level and left < _FITS * noise and worse > _WORSE and (best is None or worse > best[0]):
            best = worse, float(knee)
    if best is None:
        return None
    touch = best[1]
    before = (view.time > touch - _FINAL) & (view.time < touch)
    course = float(np.arctan(np.polyfit(view.level[before, 0], view.level[before, 1], 1)[0]))
    place = np.array([np.interp(touch, view.time, view.level[:, k]) for k in (0, 1)])
    settled = (time > touch + _SETTLED) & (time < touch + _ROLLS)
    return touch, Roll(course, place, float(median(height[settled])))


def _left(terms: np.ndarray, values: np.ndarray) -> float:
    """Root mean square that a fit of terms (n, k) leaves of values (n,)."""
    fit, *_ = np.linalg.lstsq(terms, values, rcond=None)
    return float(np.sqrt(np.mean((values - terms @ fit) ** 2)))
