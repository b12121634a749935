"""Measuring a ship with a known jet, or a jet with a known ship, from how it touched and stood.

What stands on its wheels shows the deck's height, or with a known deck the wheels'. What a
wire stops came along the centreline, and the pull begins where the hook is at the wire.
Nothing else is needed of either, so a first guess may be far off. What cannot be seen (the
lens, the pilot's eye, how low the hook hangs) stays as it was given.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.aircraft.model import Profile
from deckward.errors import InputError
from deckward.foundation.statistics import median
from deckward.foundation.track import Track
from deckward.foundation.units import DEGREE
from deckward.passes.axes import hull_to_deck
from deckward.passes.on_deck import RESTS, FromHull, from_hull, stretches
from deckward.passes.pull import Pull, noise_of, pull_begins, together
from deckward.passes.wiring import Stop, lay
from deckward.site.model import Site, Wires

#: closing speeds from which wires stop jets, m/s, and what is left of it three seconds later
_CLOSING, _LEFT = (30.0, 100.0), 0.62
#: how far aft of the ship's point an approach is looked at for its angle of attack, m
_FINAL_FROM = (1500.0, 300.0)
#: speeds over the deck below which an airspeed says little, m/s, and how nearly it must fall alike
_STOPPED, _ALIKE = 15.0, 0.15
#: seconds of approach that show where the centreline points
_FINAL = 6.0
#: scatter among pilots where there are too few passes to show it: course, m off centre; no source
_COURSE, _ASIDE = 0.6 * DEGREE, 1.5
#: how far one pilot's habit may lie off the centreline however often he lands, m; no source
_HABIT = 1.0
#: what tyres and struts give way, m, one sigma
_STRUTS = 0.1
#: where a pull seems to begin against where the wire is, m: of one arrest, and what all share
_ONSET, _SHAPE = 0.7, 0.6
_NOT_SEEN = "none took it, by the spacing; delete it if she has fewer"
#: a jet that has slowed to this in a wire is at its end, m/s, and for how long it is looked at there, s
_ENDS, _AT_END = 2.0, 1.0
#: how well a wheel is put on the ramp's edge or abreast of the lens, m, and how far it can be from
#: where it was thought to be on the jet
_PUT, _FARTHEST = 0.3, 15.0


class Quantity(Struct, frozen=True):
    """One measured number: its name, value and sigma (m or rad), and what it rests on, in words."""

    name: str
    value: float
    sigma: float
    evidence: str
    #: the single sightings, in the quantity's unit
    seen: tuple[float, ...] = ()


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
        own, all_ = float(np.hypot(_ONSET, sigma * speed)), shared * speed
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
    fast = (view.speed > _CLOSING[0]) & (view.speed < _CLOSING[1])
    near = (np.abs(view.level[:, 1]) < 120.0) & (np.abs(view.level[:, 0]) < 500.0)
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


def _mean(values: list[float], usual: float) -> tuple[float, float]:
    """Mean without the farthest stray, and its sigma; ``usual`` is the scatter of one."""
    seen = np.asarray(values)
    if seen.size >= 4:
        off = np.abs(seen - median(seen))
        seen = seen[off <= 4.0 * max(1.4826 * float(median(off)), 0.25 * usual)]
    n = seen.size
    # a few values show their scatter badly: the usual one counts as three more
    scatter = np.sqrt((float(np.sum((seen - seen.mean()) ** 2)) + 3.0 * usual**2) / (n + 2.0))
    return float(seen.mean()), float(scatter / np.sqrt(n))


def measure_site(
    pairs: list[tuple[Track, Track]],
    site: Site,
    profile: Profile,
    *,
    at_ramp: tuple[Track, Track] | None = None,
    at_lens: tuple[Track, Track] | None = None,
) -> tuple[Site, list[Quantity]]:
    """Measure a ship from recordings of a known jet on her deck.

    Args:
        pairs: aircraft's and ship's track of each recording.
        site: what to start from; what the recordings do not show stays as it is there.
        profile: the jet's points.
        at_ramp: a recording in which the nose wheel stands on the ramp's edge.
        at_lens: one in which it stands abreast of the lens.

    Returns:
        The site with its sigmas, and each measured quantity with its evidence.

    Raises:
        InputError: nothing stands or rolls on the deck in any of them.
    """
    views = [from_hull(own, ship) for own, ship in pairs]
    height = _deck_height(views, profile)
    if height is None:
        raise InputError(
            "in none of the recordings does the aircraft stand or roll on the deck.",
            remedy="Record a trap to its stop, or ten seconds at rest on deck.",
        )
    found = [height]
    ramp, spread = list(site.ramp), list(site.sigma.ramp)
    ramp[2], spread[2] = -height.value, height.sigma
    if at_ramp is not None:
        edge = _at_ramp(at_ramp, profile)
        ramp[0], spread[0] = edge.value, edge.sigma
        found.append(edge)
    measured = replace(site, ramp=_point(ramp), sigma=replace(site.sigma, ramp=_point(spread)), generic=False)
    stops = arrests(views)
    if stops:
        measured, more = _landing_area(stops, measured, profile)
        found += more
    if at_lens is not None:
        abreast = _at_lens(at_lens, measured, profile, same=at_ramp is not None)
        found.append(abreast)
        lens = replace(measured.lens, position=_point((abreast.value, *measured.lens.position[1:])))
        known = replace(measured.sigma, lens=_point((abreast.sigma, *measured.sigma.lens[1:])))
        measured = replace(measured, lens=lens, sigma=known)
    return measured, found


def _point(values) -> tuple[float, float, float]:
    x, y, z = (round(float(value), 3) for value in values)
    return x, y, z


def _landing_area(stops: list[Arrest], site: Site, profile: Profile) -> tuple[Site, list[Quantity]]:
    """Measure angle, centreline and wires from arrests."""
    courses = [-one.course for one in stops]
    angle, angle_sigma = _mean(courses, _COURSE)
    found = [Quantity("angle", angle, angle_sigma, _many(len(stops), "approach"), tuple(courses))]

    axis = np.array([np.cos(angle), -np.sin(angle)])
    right = np.array([np.sin(angle), np.cos(angle)])
    offs = [float(one.place @ right) for one in stops]
    aside, spread = _mean(offs, _ASIDE)
    # where the centreline crosses the hull x of the ramp
    ramp = (site.ramp[0], (aside - site.ramp[0] * right[0]) / right[1], site.ramp[2])
    sigma = (site.sigma.ramp[0], float(np.hypot(spread, _HABIT)), site.sigma.ramp[2])
    beside = tuple((off - site.ramp[0] * right[0]) / right[1] for off in offs)
    words = f"{_many(len(stops), 'arrest')}, to starboard at the ramp"
    found.append(Quantity("centreline", ramp[1], sigma[1], words, beside))
    known = replace(site.sigma, ramp=_point(sigma), angle=float(angle_sigma))
    site = replace(site, angle=float(angle), ramp=_point(ramp), sigma=known)
    if site.wires is None:
        return site, found

    origin = float(np.asarray(ramp[:2]) @ axis)
    seen = [_along(one, axis, origin, profile) for one in stops]
    known = float(np.hypot(site.sigma.wires, site.sigma.ramp[0]))
    laid = lay(seen, np.asarray(site.wires.positions), site.sigma.wires, known)
    shared = float(median([one.shared for one in stops]))
    spread = np.sqrt(laid.sigma**2 + shared**2 + _SHAPE**2 + profile.sigma.hook[0] ** 2)
    for number, x in enumerate(laid.places):
        mine = tuple(one.x for one, wire in zip(seen, laid.number, strict=True) if wire == number)
        words = f"{_many(len(mine), 'pull')} began there" if mine else _NOT_SEEN
        found.append(Quantity(f"wire {number + 1}", float(x), float(spread[number]), words, mine))
    wires = Wires(tuple(round(float(x), 2) for x in laid.places), site.wires.height)
    all_ = float(np.sqrt(np.mean(spread**2)))
    return replace(site, wires=wires, sigma=replace(site.sigma, wires=round(all_, 3))), found


def _along(one: Arrest, axis: np.ndarray, origin: float, profile: Profile) -> Stop:
    """An arrest along the centreline ``axis`` (2,) of hull axes, the ramp at ``origin``."""
    ahead = hook_ahead(one, profile) - origin
    return Stop(float(one.place @ axis) + ahead, one.sigma, float(one.halt @ axis) + ahead, one.speed)


def _many(count: int, what: str) -> str:
    plural = "" if count == 1 else "es" if what.endswith("ch") else "s"
    return f"{count} {what}{plural}"


def _deck_height(views: list[FromHull], profile: Profile) -> Quantity | None:
    """Deck over the ship's recorded point, m, from main wheels that stand or roll."""
    x, _, z = profile.main_wheels
    levels = []
    for view in views:
        for rows in stretches(view):
            levels.append(-float(median(view.take(rows).point((x, 0.0, z))[:, 2])))
    if not levels:
        return None
    # what flies slowly past, or rests on an island, stands apart from most
    middle = float(median(levels))
    levels = [one for one in levels if abs(one - middle) < 3.0]
    value, sigma = _mean(levels, 0.1)
    sigma = float(np.sqrt(sigma**2 + _STRUTS**2 + profile.sigma.main_wheels[2] ** 2))
    many = _many(len(levels), "stretch")
    return Quantity("deck height", value, sigma, f"{many} on deck", tuple(levels))


def _parked(pair: tuple[Track, Track], option: str) -> tuple[FromHull, str]:
    """The longest rest of a recording made on a marked spot, and how long it was, in words."""
    view = from_hull(*pair)
    rests = stretches(view, upto=RESTS)
    if not rests:
        raise InputError(
            "the aircraft does not rest in the recording made there.",
            place=option,
            remedy="Park on the spot and record ten seconds.",
        )
    rows = max(rests, key=len)
    return view.take(rows), f"at rest there for {view.time[rows[-1]] - view.time[rows[0]]:.0f} s"


def _at_ramp(pair: tuple[Track, Track], profile: Profile) -> Quantity:
    """Hull x of the ramp from a nose wheel that rests on its edge."""
    view, rest = _parked(pair, "at_ramp")
    sigma = float(np.hypot(_PUT, profile.sigma.nose_wheel[0]))
    return Quantity("ramp", float(median(view.point(profile.nose_wheel)[:, 0])), sigma, f"nose wheel {rest}")


def _at_lens(pair: tuple[Track, Track], site: Site, profile: Profile, *, same: bool) -> Quantity:
    """Deck x of the lens from a nose wheel that rests abreast of it; ``same``: it marked the ramp as well."""
    view, rest = _parked(pair, "at_lens")
    deck = (view.point(profile.nose_wheel) - site.ramp_vector) @ hull_to_deck(site.angle).T
    # where the wheel is on the jet falls out where it stood at both places
    others = (_PUT,) if same else (profile.sigma.nose_wheel[0], site.sigma.ramp[0])
    sigma = float(np.linalg.norm([_PUT, *others]))
    return Quantity("lens", float(median(deck[:, 0])), sigma, f"past the ramp, nose wheel {rest}")


def _wheel_ahead(pair: tuple[Track, Track], site: Site, wheel, name: str, option: str) -> Quantity:
    """How far ahead of the reference point a wheel is that rests on the edge of a known ramp, m."""
    view, rest = _parked(pair, option)
    to_go = site.ramp[0] - view.hull[:, 0] - view.attitude[:, 0, 2] * wheel[2]
    ahead = float(median(to_go / np.maximum(view.attitude[:, 0, 0], 0.1)))
    if abs(ahead - wheel[0]) > _FARTHEST:
        raise InputError(
            f"the {name} would be {ahead:.0f} m ahead of the recorded point.",
            place=option,
            remedy="Give a recording in which it stands on the ramp's edge, nose forward, on the ship named.",
        )
    return Quantity(f"{name} ahead", ahead, float(np.hypot(_PUT, site.sigma.ramp[0])), rest)


def hook_ahead(one: Arrest, profile: Profile) -> float:
    """How far the hook point is ahead of the reference point, m, at the pitch of an arrest."""
    return float(profile.hook[0] * np.cos(one.pitch) + profile.hook[2] * np.sin(one.pitch))


def measure_aircraft(
    pairs: list[tuple[Track, Track]],
    site: Site,
    profile: Profile,
    *,
    at_ramp: tuple[Track, Track] | None = None,
    mains_at_ramp: tuple[Track, Track] | None = None,
) -> tuple[Profile, list[Quantity]]:
    """Measure a jet's wheels and hook from recordings on a known ship.

    Args:
        pairs: aircraft's and ship's track of each recording.
        site: the ship.
        profile: what to start from; where the hook is fore and aft is refined, not found.
        at_ramp: a recording in which the nose wheel stands on the ramp's edge.
        mains_at_ramp: one in which the main wheels do.

    Returns:
        The profile with its sigmas, and each measured quantity with its evidence.

    Raises:
        InputError: nothing rests on the deck and no wire stops anything in any of them.
    """
    views = [from_hull(own, ship) for own, ship in pairs]
    found: list[Quantity] = []
    main, nose, hook = (list(point) for point in (profile.main_wheels, profile.nose_wheel, profile.hook))
    known = profile.sigma
    main_sigma, nose_sigma, hook_sigma = (list(s) for s in (known.main_wheels, known.nose_wheel, known.hook))
    for pair, name, point, option in (
        (mains_at_ramp, "main wheels", main, "mains_at_ramp"),
        (at_ramp, "nose wheel", nose, "at_ramp"),
    ):
        if pair is not None:
            found.append(ahead := _wheel_ahead(pair, site, point, name, option))
            point[0] = round(ahead.value, 3)
            (main_sigma if point is main else nose_sigma)[0] = round(ahead.sigma, 3)
    for name, point in (("main wheels", main), ("nose wheel", nose)):
        down = _wheel_down(views, site, point[0])
        if down is None:
            continue
        value, sigma, levels = down
        point[2] = round(value, 3)
        (main_sigma if point is main else nose_sigma)[2] = round(sigma, 3)
        many = f"{_many(len(levels), 'stretch')} at rest"
        found.append(Quantity(f"{name} below", value, sigma, many, tuple(levels)))
    stops = arrests(views)
    if stops and site.wires is not None:
        forward, sigma, seen = _hook_x(stops, site, profile)
        hook[0], hook_sigma[0] = round(forward, 3), round(sigma, 3)
        found.append(Quantity("hook ahead", forward, sigma, _many(len(stops), "arrest"), tuple(seen)))
    if not found:
        raise InputError(
            "in none of the recordings does the aircraft rest on the deck or stop in a wire.",
            remedy="Record a trap to its stop, or ten seconds at rest on deck.",
        )
    measured = replace(
        profile,
        main_wheels=_point(main),
        nose_wheel=_point(nose),
        hook=_point(hook),
        sigma=replace(
            known, main_wheels=_point(main_sigma), nose_wheel=_point(nose_sigma), hook=_point(hook_sigma)
        ),
        generic=False,
    )
    return measured, found


def flown_at(pairs: list[tuple[Track, Track]]) -> list[float]:
    """Give the middle angle of attack of each approach in which it is recorded, rad."""
    found = []
    for own, ship in pairs:
        attack = own.get("angle_of_attack")
        if attack is None:
            continue
        view = from_hull(own, ship)
        final = (view.level[:, 0] < -_FINAL_FROM[1]) & (view.level[:, 0] > -_FINAL_FROM[0])
        final &= (np.abs(view.level[:, 1]) < 300.0) & (view.speed > _CLOSING[0])
        values = np.interp(view.time[final], own.time, attack)
        values = values[np.isfinite(values)]
        if values.size > 8:
            found.append(float(median(values)))
    return found


def _wheel_down(views: list[FromHull], site: Site, ahead: float) -> tuple[float, float, list[float]] | None:
    """How far below the reference point a wheel ``ahead`` of it stands, m, its sigma and the sightings."""
    levels = []
    for view in views:
        for rows in stretches(view, upto=RESTS):
            part = view.take(rows)
            over = site.ramp[2] - part.hull[:, 2]
            pitch = part.pitch
            levels.append(float(median((over + ahead * np.sin(pitch)) / np.cos(pitch))))
    if not levels:
        return None
    middle = float(median(levels))
    levels = [one for one in levels if abs(one - middle) < 3.0]
    value, sigma = _mean(levels, 0.1)
    return value, float(np.sqrt(sigma**2 + _STRUTS**2 + site.sigma.ramp[2] ** 2)), levels


def _hook_x(stops: list[Arrest], site: Site, profile: Profile) -> tuple[float, float, list[float]]:
    """Hook ahead of the reference point, from pulls that began at the known wire nearest to its old place."""
    assert site.wires is not None
    axis = np.array([np.cos(site.angle), -np.sin(site.angle)])
    origin = float(site.ramp_vector[:2] @ axis)
    positions = np.asarray(site.wires.positions)
    seen = []
    for one in stops:
        reach = float(one.place @ axis) - origin
        expected = reach + hook_ahead(one, profile)
        wire = float(positions[np.argmin(np.abs(positions - expected))])
        seen.append((wire - reach - profile.hook[2] * np.sin(one.pitch)) / np.cos(one.pitch))
    value, sigma = _mean(seen, _ONSET)
    return value, float(np.sqrt(sigma**2 + _SHAPE**2 + site.sigma.wires**2)), seen
