"""One pass while it is being measured: its lanes, and where it first meets the deck."""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.aircraft.model import Profile
from deckward.errors import Note
from deckward.foundation.statistics import median
from deckward.foundation.track import Track
from deckward.passes import contact
from deckward.passes.axes import Geometry, Moment
from deckward.passes.estimate import STATES, Craft, Lane, lanes_of, moment
from deckward.passes.finder import Window
from deckward.passes.ground import Ground
from deckward.site.model import Site

_EXTRA = ("angle_of_attack", "true_airspeed")
#: jerk density (m^2/s^5) that even a steady approach has; chosen by us
_LEAST_JERK = 1e-3
#: seconds before a pass ends that every sample is used of, and the rate kept before, 1/s
_FULL, _EARLY_RATE = 35.0, 5.0
#: seconds of the ship's track looked at around a pass
_SHIP_MARGIN = 4.0
#: the ship's samples below which her track is followed as it is, unsmoothed
_FEW = 8


class Draft(Struct):
    """One pass while it is being measured."""

    window: Window
    aircraft: Craft
    ship: Craft
    site: Site
    profile: Profile
    notes: list[Note]
    #: first contact with the deck as the recording shows it, s, or None
    contact: float | None = None
    #: samples that stand on or below the deck in the second from the first one on
    low: int = 0

    def geometry(self, when) -> Geometry:
        """Deck and approach axes at times (m,)."""
        return Geometry(moment(self.aircraft, self.ship, when), self.site, self.profile, self.aircraft.ground)


def draft(window: Window, track: Track, ship: Track, site: Site, profile: Profile) -> Draft | None:
    """Cut a pass out of the recording and lay its lanes out; None where too little is left."""
    part = _thinned(track.between(window.start - 1.0, window.end))
    position = part["latitude"] if part.geodetic else part["north"]
    if np.isfinite(position).sum() < 8:
        return None
    ground = Ground.at(ship, window.end)
    near = ship.between(part.time[0] - _SHIP_MARGIN, part.time[-1] + _SHIP_MARGIN)
    if len(near) < _FEW:
        i, j = np.searchsorted(ship.time, [part.time[0], part.time[-1]])
        near = ship.take(slice(max(int(i) - 3, 0), int(j) + 3))
    aircraft = Craft(ground, part, lanes_of(part, ground, extra=_EXTRA, least_jerk=_LEAST_JERK))
    vessel = Craft(ground, near, lanes_of(near, ground))
    follow_plain(vessel, near)
    result = Draft(window, aircraft, vessel, site, profile, [])
    _guess_contact(result)
    return result


def _thinned(part: Track) -> Track:
    """Keep a few samples a second of what lies long before the end."""
    early = part.time < part.time[-1] - _FULL if len(part) else np.empty(0, dtype=bool)
    if early.sum() < 8:
        return part
    keep = np.diff(np.floor(part.time * _EARLY_RATE), prepend=-np.inf) > 0
    return part.take(keep | ~early)


def follow_plain(vessel: Craft, near: Track) -> None:
    """Take the lanes of a ship as they are where there is nothing in them to smooth."""
    if len(near) < _FEW or _is_plain(near):
        for lane in vessel.lanes.values():
            _follow(lane)


def _is_plain(ship: Track) -> bool:
    """Whether the ship's attitude and height never change: nothing there to smooth."""
    names = ("altitude", "up", "pitch", "roll")
    fixed = [ship[name] for name in names if name in ship]
    return len(ship) < 40 and all(np.ptp(values) == 0.0 for values in fixed)


def _follow(lane: Lane) -> None:
    """Take a lane as it is: straight between its samples, without sigma."""
    time = lane.time
    rate = np.gradient(lane.value, time)
    lane.state = np.stack([lane.value, rate, np.zeros_like(rate)], axis=-1)
    lane.variances = np.zeros((time.size, 3))
    lane.filtered, lane.filtered_covariance = lane.state, np.zeros((time.size, 3, 3))


def lanes_to_smooth(drafts: list[Draft]) -> list[Lane]:
    """Collect every lane that has not been settled otherwise."""
    lanes = [lane for d in drafts for craft in (d.aircraft, d.ship) for lane in craft.lanes.values()]
    return [lane for lane in lanes if not lane.settled]


def raw_moment(d: Draft, rows: np.ndarray) -> Moment:
    """Give the recording's own samples as a moment, unsmoothed, at rows of the aircraft's track."""
    lanes = d.aircraft.lanes
    time = lanes["north"].time[rows]

    def read(craft: Craft, name: str) -> np.ndarray:
        lane = craft.lanes.get(name)
        if lane is None or not lane.measured.any():
            return np.zeros(time.size)
        ok = lane.measured
        return np.interp(time, lane.time[ok], lane.value[ok])

    def read_all(craft: Craft) -> np.ndarray:
        return np.stack([read(craft, name) for name in STATES], axis=-1)

    own = read_all(d.aircraft)
    smoothed = all(name in d.ship.lanes and d.ship.lanes[name].state.size for name in STATES)
    deck = d.ship.states(time)[:, 0] if smoothed else read_all(d.ship)
    still = np.zeros((time.size, 3))
    pitch, roll, heading = own[:, 3:].T
    deck_pitch, deck_roll, deck_heading = deck[:, 3:].T
    return Moment(
        time,
        own[:, :3],
        still,
        pitch,
        roll,
        heading,
        deck[:, :3],
        still,
        deck_pitch,
        deck_roll,
        deck_heading,
        still,
    )


def _guess_contact(d: Draft) -> None:
    """Set the lanes' ends before the first sample that looks as if it were on the deck."""
    time = d.aircraft.lanes["north"].time
    rows = np.flatnonzero(time >= d.window.entry)
    geometry = Geometry(raw_moment(d, rows), d.site, d.profile, d.aircraft.ground)
    hook, (right, left, _) = geometry.hook(), geometry.wheels()
    lowest = np.minimum(right[:, 2], left[:, 2])
    if not hook_up(d):
        lowest = np.minimum(lowest, hook[:, 2])
    on = (lowest <= 0.0) & (contact.over_deck(hook, d.site) | contact.over_deck(right, d.site))
    hits = np.flatnonzero(on)
    if hits.size:
        first = int(rows[hits[0]])
        d.low = int(np.sum(time[rows[hits]] < time[first] + 1.0))
        _cut(d, time[first] - max(0.25, 1.5 * float(median(np.diff(time)))))


def _cut(d: Draft, when: float) -> None:
    """End the aircraft's lanes before a time."""
    for lane in d.aircraft.lanes.values():
        lane.end = max(int(np.searchsorted(lane.time, when)), 4)


def hook_up(d: Draft) -> bool:
    """Whether a channel says that the hook is up on this approach."""
    hook = d.aircraft.track.get("hook")
    if hook is None:
        return False
    late = hook[d.aircraft.track.time > d.window.entry]
    late = late[np.isfinite(late)]
    return bool(late.size) and float(median(late)) < 0.5


def settle_contact(d: Draft) -> None:
    """Find the first contact by carrying the last airborne state on, and end the lanes there."""
    lanes = d.aircraft.lanes
    time = lanes["north"].time
    if lanes["north"].end >= time.size:
        return
    guess: float | None = None
    ends: list[int] = []
    for _ in range(4):
        last = lanes["north"].end - 1
        ahead = time[last] + np.arange(0.0, 3.0, 0.02)
        meets = _free_flight_contact(d, last, ahead)
        if meets is None:
            # the last samples let in were of the deck already, or there was no contact at all
            if guess is None or d.low < 3:
                _cut(d, np.inf)
                return
            for lane, end in zip(lanes.values(), ends, strict=True):
                lane.end = end
            break
        if guess is not None and abs(meets - guess) < 1e-4:
            break
        guess = meets
        ends = [lane.end for lane in lanes.values()]
        _cut(d, meets)
    d.contact = guess


def _free_flight_contact(d: Draft, last: int, ahead: np.ndarray) -> float | None:
    """When hook or wheels meet the deck if the state at a row goes on, s."""
    states = {}
    for name in ("north", "east", "down", "pitch", "roll", "heading"):
        lane = d.aircraft.lanes.get(name)
        if lane is None:
            states[name] = np.zeros((ahead.size, 3))
        elif lane.settled:
            states[name] = lane.at(ahead)
        else:
            states[name] = lane.carried(min(last, lane.end - 1), ahead)
    ship_place, ship_velocity = d.ship.place(ahead)
    ship_pitch, ship_roll, ship_heading = d.ship.attitude(ahead).T
    flight = Moment(
        ahead,
        np.stack([states[name][:, 0] for name in ("north", "east", "down")], axis=-1),
        np.stack([states[name][:, 1] for name in ("north", "east", "down")], axis=-1),
        states["pitch"][:, 0],
        states["roll"][:, 0],
        states["heading"][:, 0],
        ship_place,
        ship_velocity,
        ship_pitch,
        ship_roll,
        ship_heading,
        np.zeros_like(ship_place),
    )
    geometry = Geometry(flight, d.site, d.profile, d.aircraft.ground)
    times = []
    right, left, _ = geometry.wheels()
    points = [right, left] if hook_up(d) else [right, left, geometry.hook()]
    for point in points:
        meets = contact.first_below(ahead, point[:, 2], contact.over_deck(point, d.site))
        if meets is not None:
            times.append(meets)
    return min(times) if times else None
