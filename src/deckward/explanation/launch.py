"""Launches: found in a recording by the pull of the stroke, and what went wrong in them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.aircraft.model import Profile
from deckward.explanation.hits import Hit, finding
from deckward.explanation.model import Finding
from deckward.explanation.rules import Rule, load
from deckward.foundation.statistics import median
from deckward.foundation.track import Track
from deckward.foundation.units import STANDARD_GRAVITY, from_si
from deckward.passes.ground import Ground

#: least pull of a stroke, m/s^2, how long it lasts, s, and the speeds it joins, m/s; chosen by us
_PULL, _LEAST, _FROM, _TO = 1.0 * STANDARD_GRAVITY, 1.0, 8.0, 35.0
#: s after the stroke in which a settle shows
_AFTER = 8.0
#: flap words that say where the flaps stand
_FLAP_WORDS = {"up": 0.0, "half": 0.5, "full": 1.0, "down": 1.0}


class Launch(Struct, frozen=True, eq=False):
    """One launch: from the first pull (s) to where the stroke ends, and the track around it."""

    who: str
    start: float
    end: float
    end_speed: float
    track: Track
    ship: Track

    def channel(self, name: str) -> np.ndarray | None:
        """A recorded channel, None where there is none."""
        values = self.track.get(name)
        return values if values is not None and np.isfinite(values).any() else None

    def inside(self, start: float, end: float) -> np.ndarray:
        """Samples between two times."""
        return (self.track.time >= start) & (self.track.time <= end)


def find(track: Track, ship: Track) -> tuple[Launch, ...]:
    """Find the launches in an aircraft's track, against the ship's."""
    names = ("latitude", "longitude", "altitude") if track.geodetic else ("north", "east", "up")
    known = np.logical_and.reduce([np.isfinite(track[name]) for name in names])
    known &= (track.time >= ship.time[0] - 1.0) & (track.time <= ship.time[-1] + 1.0)
    # a quarter of a second is fine enough to find a stroke of two
    keep = known & _every(track, 0.25)
    if keep.sum() < 8:
        return ()
    thin, vessel = _places_of(track, names, keep), _places_of(ship, names, _every(ship, 1.0))
    time = thin.time
    ground = Ground.at(ship, float(time[0]))
    velocity = np.gradient(ground.place(thin)[:, :2], time, axis=0)
    sailed = ground.place(vessel)[:, :2]
    sailing = np.gradient(sailed, vessel.time, axis=0) if len(vessel) > 1 else np.zeros_like(sailed)
    own = velocity - np.stack([np.interp(time, vessel.time, column) for column in sailing.T], axis=-1)
    speed = np.hypot(*own.T)
    pull = np.gradient(speed, time)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], pull > 0.6 * _PULL, [False]]).astype(int)))
    found = []
    for first, last in edges.reshape(-1, 2):
        last -= 1
        if time[last] - time[first] < _LEAST or speed[first] > _FROM or speed[last] < _TO:
            continue
        if (speed[last] - speed[first]) / (time[last] - time[first]) < _PULL:
            continue
        start = float(time[max(first - 1, 0)])
        end = float(time[min(last + 1, time.size - 1)])
        around = track.between(start - 10.0, end + _AFTER + 1.0)
        found.append(Launch(track.who, start, end, float(speed[last]), around, ship))
    return tuple(found)


def _every(track: Track, seconds: float) -> np.ndarray:
    """The first sample in each of so many seconds."""
    return np.diff(np.floor(track.time / seconds), prepend=-np.inf) > 0


def _places_of(track: Track, names: Sequence[str], keep: np.ndarray) -> Track:
    """Some samples of a track, and of its channels only the place."""
    rows = np.flatnonzero(keep)
    return replace(
        track, time=track.time[rows], channels={name: track[name][rows] for name in names if name in track}
    )


def before(launches: Iterable[Launch], starts: Sequence[float]) -> dict[int, Launch]:
    """Lay each launch to the pass it led to: the first that starts after it, else the last one.

    ``starts`` are the starts of a craft's passes, s, in order; returns the latest launch of each.
    """
    return {
        min(int(np.searchsorted(starts, launch.end)), len(starts) - 1): launch
        for launch in launches
        if len(starts)
    }


def _stick(launch: Launch, profile: Profile, rule: Rule) -> Iterator[Hit]:
    for name in ("stick_pitch", "stick_roll"):
        stick = launch.channel(name)
        if stick is None:
            continue
        before = launch.inside(launch.start - 2.0, launch.start - 0.3) & np.isfinite(stick)
        rows = launch.inside(launch.start + 0.1, launch.end - 0.3) & np.isfinite(stick)
        if before.sum() < 3 or rows.sum() < 3:
            continue
        moved = np.abs(stick - median(stick[before]))
        beyond = rows & (moved > rule["moved"])
        times = launch.track.time[beyond]
        if times.size >= 2 and times[-1] - times[0] >= rule["held"]:
            most = float(moved[beyond].max())
            yield Hit(
                float(times[0]),
                float(times[-1]),
                most / rule["moved"],
                {"moved": round(most, 2), "which": "fore and aft" if name == "stick_pitch" else "sideways"},
            )


def _mass(launch: Launch, profile: Profile) -> float | None:
    mass, fuel = launch.channel("mass"), launch.channel("fuel")
    if mass is not None:
        return float(np.nanmedian(mass))
    empty = (profile.tables.get("mass") or {}).get("empty_kg")
    return None if fuel is None or empty is None else float(np.nanmedian(fuel)) + empty


def _trim(launch: Launch, profile: Profile, rule: Rule) -> Iterator[Hit]:
    table, trim = profile.tables.get("launch") or {}, launch.channel("pitch_trim")
    wanted_at, mass = table.get("pitch_trim"), _mass(launch, profile)
    if trim is None or not wanted_at:
        return
    if mass is None and max(wanted_at) - min(wanted_at) > rule["off"]:
        return
    wanted = float(np.interp(mass or 0.0, table["mass_kg"], wanted_at))
    set_to = float(np.nanmedian(trim[launch.inside(launch.start - 1.0, launch.end)]))
    if abs(set_to - wanted) > rule["off"]:
        yield Hit(
            launch.start,
            launch.end,
            abs(set_to - wanted) / rule["off"],
            {"set_to": round(set_to, 2), "should_be": round(wanted, 2)},
        )


def _flaps(launch: Launch, profile: Profile, rule: Rule) -> Iterator[Hit]:
    table, flaps = profile.tables.get("launch") or {}, launch.channel("flaps")
    wanted = table.get("flaps_at")
    if wanted is None:
        wanted = _FLAP_WORDS.get(str(table.get("flaps", "")).strip().lower())
    if flaps is None or wanted is None:
        return
    set_to = float(np.nanmedian(flaps[launch.inside(launch.start - 1.0, launch.end)]))
    if abs(set_to - wanted) > rule["off"]:
        yield Hit(
            launch.start,
            launch.end,
            1.0 + 2.0 * abs(set_to - wanted),
            {"set_to": round(set_to, 2), "should_be": round(float(wanted), 2)},
        )


def _power(launch: Launch, profile: Profile, rule: Rule) -> Iterator[Hit]:
    power = launch.channel("throttle")
    if power is None:
        return
    rows = launch.inside(launch.start, launch.end) & np.isfinite(power)
    if rows.sum() < 4:
        return
    short = power[rows] < rule["full_power"]
    if float(short.mean()) > rule["part"]:
        most = float(median(power[rows]))
        yield Hit(
            launch.start,
            launch.end,
            1.0 + 3.0 * (rule["full_power"] - most),
            {"power_pct": round(100.0 * most)},
        )


def _settle(launch: Launch, profile: Profile, rule: Rule) -> Iterator[Hit]:
    height = launch.track["altitude" if launch.track.geodetic else "up"]
    time = launch.track.time
    known = np.isfinite(height)
    if not known.any() or time[-1] < launch.end + 2.0:
        return
    bow = float(np.interp(launch.end, time[known], height[known]))
    rows = known & launch.inside(launch.end, launch.end + _AFTER)
    if not rows.any():
        return
    lowest = int(np.flatnonzero(rows)[np.argmin(height[rows])])
    below = bow - float(height[lowest])
    if below > rule["below"]:
        evidence: dict[str, float | str | bool | None] = {"below_ft": round(float(from_si(below, "ft")), 1)}
        wanted = _end_speed(launch, profile)
        if wanted is not None:
            evidence["end_speed_short_kt"] = wanted
        yield Hit(launch.end, float(time[lowest]), below / rule["below"], evidence, "off the bow")


def _end_speed(launch: Launch, profile: Profile) -> float | None:
    """How far the airspeed at the end of the stroke was below the table's, kt; None if not below."""
    table, mass, speed = (
        profile.tables.get("launch") or {},
        _mass(launch, profile),
        launch.channel("true_airspeed"),
    )
    if not table.get("end_airspeed_kt") or mass is None or speed is None:
        return None
    known = np.isfinite(speed)
    flown = float(from_si(np.interp(launch.end, launch.track.time[known], speed[known]), "kt"))
    short = float(np.interp(mass, table["mass_kg"], table["end_airspeed_kt"])) - flown
    return round(short, 1) if short > 0.0 else None


_Look = Callable[[Launch, Profile, Rule], Iterator[Hit]]
DETECTORS: dict[str, _Look] = {
    "stick-in-launch": _stick,
    "launch-trim": _trim,
    "launch-flaps": _flaps,
    "launch-power": _power,
    "launch-settle": _settle,
}


def findings(launch: Launch, profile: Profile) -> tuple[Finding, ...]:
    """Say what was wrong with a launch."""
    rules = load()
    made = (
        finding(look(launch, profile, rules[code]), rules[code], lambda _: "on the launch")
        for code, look in DETECTORS.items()
    )
    return tuple(one for one in made if one is not None)
