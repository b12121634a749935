"""What recordings show of a deck, in the deck axes that were concluded from them: for a person to judge."""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.aircraft.model import Profile
from deckward.foundation.track import Track
from deckward.passes.arrests import arrests, hook_ahead
from deckward.passes.axes import hull_to_deck
from deckward.passes.on_deck import FromHull, from_hull, stretches
from deckward.site.model import Site

#: seconds of approach and of the run on deck that a path shows
_BEFORE, _AFTER = 6.0, 12.0
#: a hook so low over the deck is down, m, and so far round the landing area counts, m
_DOWN, _ASIDE = 0.3, 60.0


class Evidence(Struct, frozen=True):
    """Sightings in deck axes (x forward of the ramp, y to starboard, z up), m.

    ``paths`` (n, 3) of the hook point, one for each approach; ``crossings`` (k,) its height over
    the ramp; ``touches`` (k, 2) where it was first down; ``pulls`` (k, 3) x, y and the sigma of
    x where a pull began; ``stood`` (k, 3) main wheels that rested or rolled, a median for each stretch.
    """

    paths: tuple[np.ndarray, ...]
    crossings: np.ndarray
    touches: np.ndarray
    pulls: np.ndarray
    stood: np.ndarray


def evidence(pairs: list[tuple[Track, Track]], site: Site, profile: Profile) -> Evidence:
    """Collect what recordings show of a deck: approaches, touches, pulls and rests.

    Args:
        pairs: aircraft's and ship's track of each recording.
        site: the ship as it was measured.
        profile: the jet.
    """
    views = [from_hull(own, ship) for own, ship in pairs]
    paths = [path for view in views for path in _paths(view, site, profile)]
    crossings = [_at_ramp(path) for path in paths if path[0, 0] < 0.0 < path[-1, 0]]
    touches = [path[row, :2] for path in paths if (row := down(path)) is not None]
    turn = hull_to_deck(site.angle)
    pulls = []
    for one in arrests(views):
        x, y, _ = turn @ (np.array([*one.place, site.ramp[2]]) - site.ramp_vector)
        pulls.append((x + hook_ahead(one, profile), y, one.sigma))
    x, _, z = profile.main_wheels
    stood = [
        np.median(_deck(view.take(rows).point((x, 0.0, z)), site), axis=0)
        for view in views
        for rows in stretches(view)
    ]
    return Evidence(
        tuple(paths),
        np.array(crossings),
        np.array(touches).reshape(-1, 2),
        np.array(pulls).reshape(-1, 3),
        np.array(stood).reshape(-1, 3),
    )


def _deck(hull: np.ndarray, site: Site) -> np.ndarray:
    return (hull - site.ramp_vector) @ hull_to_deck(site.angle).T


def _paths(view: FromHull, site: Site, profile: Profile) -> list[np.ndarray]:
    """Each approach of the hook point that comes over the ramp near the landing area."""
    if view.time.size < 8:
        return []
    hook = _deck(view.point(profile.hook), site)
    x, y, z = hook.T
    over = (x[:-1] < 0.0) & (x[1:] >= 0.0) & (np.abs(y[1:]) < _ASIDE) & (np.abs(z[1:]) < _ASIDE)
    return [
        hook[(view.time > view.time[row] - _BEFORE) & (view.time < view.time[row] + _AFTER)]
        for row in np.flatnonzero(over)
    ]


def _at_ramp(path: np.ndarray) -> float:
    row = int(np.flatnonzero(path[:, 0] >= 0.0)[0])
    near = slice(max(row - 1, 0), row + 1)
    return float(np.interp(0.0, path[near, 0], path[near, 2]))


def down(path: np.ndarray) -> int | None:
    """Find the first row of a path past the ramp with the hook down on the deck."""
    rows = np.flatnonzero((path[:, 0] > 0.0) & (path[:, 2] < _DOWN))
    return int(rows[0]) if rows.size else None
