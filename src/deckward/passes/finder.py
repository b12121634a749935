"""Finding passes in hours of flight.

A pass is a stretch in which the aircraft, in the air, closes on the ramp inside a cone
about the landing area's centreline, low and slow enough to mean to land. Everything else
(launch, the fast run overhead, downwind, marshal, taxi) stays outside that cone.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.aircraft.model import Profile
from deckward.foundation import angles, earth, frames
from deckward.foundation.track import Track
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE
from deckward.passes.axes import hull_to_deck
from deckward.passes.ground import Ground
from deckward.site.model import Site


class Cone(Struct, frozen=True):
    """What counts as being on an approach. All bounds are chosen by us, wide of any approach."""

    farthest: float = 1.2 * NAUTICAL_MILE
    nearest: float = 40.0
    #: half width of the cone about the centreline
    half_width: float = 12.0 * DEGREE
    #: elevation of the aircraft seen from the hook target point
    elevation: tuple[float, float] = (0.7 * DEGREE, 8.5 * DEGREE)
    closure: tuple[float, float] = (40.0 * KNOT, 190.0 * KNOT)
    #: a run that never comes below this elevation flies past, high over the deck
    lowest: float = 5.5 * DEGREE
    #: a run shorter than this (time, ground closed) is a crossing, no pass
    shortest: float = 4.0
    least_closed: float = 250.0
    #: a run from farther aside is one where it comes over the ramp's line as low and as near as that, m
    skewed: float = 32.0 * DEGREE
    over_ramp: tuple[float, float] = (12.0, 100.0)


class Window(Struct, frozen=True):
    """Where a pass lies in the recording, s: from its start to its end; ``entry`` into the cone."""

    start: float
    entry: float
    end: float
    abeam: float | None


class Overview(Struct, frozen=True):
    """The whole flight against the ship at a few samples a second, (n,) each.

    ``along`` and ``across`` in approach axes, m; ``height`` over the deck; ``hull_x``,
    ``hull_y`` in hull axes; ``speed`` and ``climb`` against the ship, m/s.
    """

    time: np.ndarray
    along: np.ndarray
    across: np.ndarray
    height: np.ndarray
    closure: np.ndarray
    speed: np.ndarray
    climb: np.ndarray
    hull_x: np.ndarray
    hull_y: np.ndarray


def overview(track: Track, ship: Track, site: Site, profile: Profile) -> Overview:
    """Bring a whole flight into approach axes, roughly: every quarter of a second, unsmoothed."""
    names = ("latitude", "longitude", "altitude") if track.geodetic else ("north", "east", "up")
    usable = np.logical_and.reduce([np.isfinite(track[name]) for name in names])
    usable &= (track.time >= ship.time[0] - 1.0) & (track.time <= ship.time[-1] + 1.0)
    time = track.time[usable]
    keep = np.diff(np.floor(time / 0.25), prepend=-np.inf) > 0
    thin = track.take(np.flatnonzero(usable)[keep])
    time = thin.time
    if time.size < 4:
        nothing = np.empty(0)
        return Overview(*[nothing] * 9)
    state = {
        name: _interpolate(time, ship, name)
        for name in (("latitude", "longitude", "altitude") if ship.geodetic else ("north", "east", "up"))
    }
    heading = _interpolate(time, ship, "heading")
    at = Track("ship", time, {**state, "heading": heading})
    if thin.geodetic:
        offset = np.empty((time.size, 3))
        for chunk in np.array_split(np.arange(time.size), max(time.size // 4000, 1)):
            offset[chunk] = _geodetic_offset(thin.take(chunk), at.take(chunk))
    else:
        offset = Ground(None).place(thin) - Ground(None).place(at)
    hull = frames.rotate_back(frames.yaw(heading), offset)
    lowest = max(profile.main_wheels[2], profile.hook[2])
    deck = (hull - site.ramp_vector) @ hull_to_deck(site.angle).T
    rate = np.gradient(_median3(deck), time, axis=0)
    return Overview(
        time,
        deck[:, 0],
        deck[:, 1],
        deck[:, 2] - lowest,
        rate[:, 0],
        np.hypot(rate[:, 0], rate[:, 1]),
        rate[:, 2],
        hull[:, 0],
        hull[:, 1],
    )


def _geodetic_offset(craft: Track, ship: Track) -> np.ndarray:
    place = earth.geodetic_to_ecef(craft["latitude"], craft["longitude"], craft["altitude"])
    return earth.to_ned(place, ship["latitude"], ship["longitude"], ship["altitude"])


def _interpolate(time, ship: Track, name: str) -> np.ndarray:
    values = ship[name]
    ok = np.isfinite(values)
    if not ok.any():
        return np.full_like(time, np.nan)
    if name in ("heading", "longitude"):
        values = angles.unwrap(values)
    return np.interp(time, ship.time[ok], values[ok])


def _median3(values: np.ndarray) -> np.ndarray:
    """Running median of three rows, ends kept: takes single spikes out of a rough look."""
    out = values.copy()
    a, b, c = values[:-2], values[1:-1], values[2:]
    out[1:-1] = np.maximum(np.minimum(a, b), np.minimum(np.maximum(a, b), c))
    return out


def windows(view: Overview, site: Site, cone: Cone | None = None) -> tuple[Window, ...]:
    """Find the passes of a flight, in order of time."""
    cone = cone or Cone()
    if view.time.size < 4:
        return ()
    runs = _merged(view, _runs(view, site, cone), site, cone)
    runs = sorted([*runs, *_skewed(view, site, cone, runs)])
    found: list[Window] = []
    for first, last in runs:
        end = _end(view, last, site)
        floor = found[-1].end if found else view.time[0]
        abeam = _abeam(view, first, site, floor)
        start = abeam - 3.0 if abeam is not None else _straight_start(view, first, floor)
        found.append(Window(max(start, floor), view.time[first], end, abeam))
    return tuple(found)


def _runs(view: Overview, site: Site, cone: Cone) -> list[tuple[int, int]]:
    """Stretches inside the cone, as (first, last) rows."""
    ahead = site.lens.hook_target - view.along
    distance = np.hypot(ahead, view.across)
    elevation = np.arctan2(view.height, distance)
    bearing = np.arctan2(np.abs(view.across), ahead)
    inside = (-view.along < cone.farthest) & (-view.along > cone.nearest) & (bearing < cone.half_width)
    inside &= (elevation > cone.elevation[0]) & (elevation < cone.elevation[1])
    inside &= (view.closure > cone.closure[0]) & (view.closure < cone.closure[1])
    edges = np.flatnonzero(np.diff(np.concatenate([[False], inside, [False]]).astype(int)))
    return [(int(a), int(b) - 1) for a, b in edges.reshape(-1, 2)]


def _skewed(view: Overview, site: Site, cone: Cone, known) -> list[tuple[int, int]]:
    """Find runs that never were near the centreline and still came low over the ramp's line.

    So comes who undershoots and meets the deck beside the landing area.
    """
    wide = replace(cone, half_width=cone.skewed)
    found = []
    for first, last in _merged(view, _runs(view, site, wide), site, wide):
        end = _end(view, last, site)
        rows = np.arange(last, np.searchsorted(view.time, end))
        over = rows[view.along[rows] >= 0.0]
        apart = all(view.time[b] < view.time[first] or view.time[a] > end for a, b in known)
        if not (apart and over.size):
            continue
        low, near = view.height[over[0]] < cone.over_ramp[0], abs(view.across[over[0]]) < cone.over_ramp[1]
        if low and near:
            found.append((first, last))
    return found


def _merged(view: Overview, runs, site: Site, cone: Cone) -> list[tuple[int, int]]:
    """Join stretches of one approach, then drop those too short to be one."""
    joined: list[tuple[int, int]] = []
    for first, last in runs:
        if joined:
            before = joined[-1][1]
            seconds = view.time[first] - view.time[before]
            closed = view.along[first] - view.along[before]
            # a frozen or empty stretch says nothing of the speed in it: the whole gap does
            went_on = (
                seconds < 20.0 and 0.5 * cone.closure[0] * seconds < closed < cone.closure[1] * seconds + 50.0
            )
            went_on |= seconds < 3.0 and abs(closed) < 300.0
            if went_on and view.along[first] < 0.0:
                joined[-1] = (joined[-1][0], last)
                continue
        joined.append((first, last))
    height = np.arctan2(view.height, np.hypot(site.lens.hook_target - view.along, view.across))
    return [
        (a, b)
        for a, b in joined
        if height[a : b + 1].min() < cone.lowest
        and view.time[b] - view.time[a] >= cone.shortest
        and view.along[b] - view.along[a] >= cone.least_closed
    ]


def _end(view: Overview, last: int, site: Site) -> float:
    """When the pass is over: stopped on deck, past the bow, turned away, or the recording ends."""
    after = slice(last, None)
    time = view.time[after]
    stopped = (view.speed[after] < 3.0) & (view.height[after] < 5.0)
    past = view.along[after] > site.length + 250.0
    away = (view.closure[after] < -5.0) | (time - time[0] > 40.0)
    over = np.flatnonzero(stopped | past | away)
    if not over.size:
        return float(time[-1])
    settle = 1.5 if stopped[over[0]] else 0.0
    return float(min(time[over[0]] + settle, time[-1]))


def _abeam(view: Overview, first: int, site: Site, floor: float) -> float | None:
    """When the aircraft last passed the ramp outbound, to port, on its way to this approach."""
    x = view.hull_x - site.ramp[0]
    row = np.arange(1, first + 1)
    row = row[(view.time[row] > view.time[first] - 150.0) & (view.time[row] >= floor)]
    outbound = (x[row - 1] > 0.0) & (x[row] <= 0.0)
    port = (view.hull_y[row] < site.ramp[1] - 400.0) & (view.hull_y[row] > -3.5 * NAUTICAL_MILE)
    low = view.height[row] < 500.0
    hits = row[outbound & port & low]
    if not hits.size:
        return None
    i = int(hits[-1])
    share = x[i - 1] / (x[i - 1] - x[i])
    return float(view.time[i - 1] + share * (view.time[i] - view.time[i - 1]))


def _straight_start(view: Overview, first: int, floor: float) -> float:
    """Start of a straight-in: where it last began to close from within three miles."""
    begin = first
    while (
        begin > 0
        and view.closure[begin - 1] > 10.0
        and -view.along[begin - 1] < 3.0 * NAUTICAL_MILE
        and view.time[begin - 1] >= floor
        and view.time[begin] - view.time[begin - 1] < 10.0
    ):
        begin -= 1
    return float(view.time[begin])


def describe(view: Overview) -> str:
    """Say what a recording without a pass shows instead."""
    if view.time.size < 4:
        return "no time in which both aircraft and ship are known"
    distance = np.hypot(view.along, view.across)
    i = int(distance.argmin())
    if view.speed.max() < 20.0:
        return "the aircraft does not fly: it never moves faster than 40 knots against the deck"
    return (
        f"the aircraft comes no closer to an approach than {distance[i] / NAUTICAL_MILE:.1f} nm from the "
        f"ramp, {view.height[i] / FOOT:.0f} ft above the deck at {view.speed[i] / KNOT:.0f} kt"
    )
