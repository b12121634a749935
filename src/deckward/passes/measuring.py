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
from deckward.passes.arrests import CLOSING, Arrest, Roll, arrests, hook_ahead, rolls
from deckward.passes.axes import hull_to_deck
from deckward.passes.on_deck import RESTS, FromHull, from_hull, stretches
from deckward.passes.wiring import Stop, lay
from deckward.site.model import Site, Wires

#: how far aft of the ship's point an approach is looked at for its angle of attack, m
_FINAL_FROM = (1500.0, 300.0)
#: scatter among pilots where there are too few passes to show it: course, m off centre; no source
_COURSE, _ASIDE = 0.6 * DEGREE, 1.5
#: how far one pilot's habit may lie off the centreline however often he lands, m; no source
_HABIT = 1.0
#: what tyres and struts give way, m, one sigma
_STRUTS = 0.1
#: where pulls seem to begin against where the wires are, m: what all share
_SHAPE = 0.6
_NOT_SEEN = "none took it, by the spacing; delete it if she has fewer"
#: how well a wheel is put on the ramp's edge or abreast of the lens, m, and how far it can be from
#: where it was thought to be on the jet
_PUT, _FARTHEST = 0.3, 15.0
#: of several rests those count as parked that last so many seconds; and wheels so far aft of a ramp, m,
#: say that it is elsewhere
_STAYS, _AFT = 3.0, 1.5
#: hooks that are tried so far ahead of where one was thought to be or behind, how well it was thought so at
#: best, m, and from how many sigmas a pull is a stray one
_HOOKS, _GUESSED, _STRAY = 6.0, 2.0, 3.0
#: least share of the keel's way (cosine) that a jet parked to measure its wheels points in
_ALONG = 0.5


class Quantity(Struct, frozen=True):
    """One measured number: its name, value and sigma (m or rad), and what it rests on, in words."""

    name: str
    value: float
    sigma: float
    evidence: str
    #: the single sightings, in the quantity's unit
    seen: tuple[float, ...] = ()


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
        InputError: nothing stands or rolls on the deck in any of them; or wheels or wires are aft of
            where the ramp's edge is said to be.
    """
    views = [from_hull(own, ship) for own, ship in pairs]
    stops, touched = arrests(views), rolls(views, profile)
    height = _deck_height(views, touched, profile)
    if height is None:
        raise InputError(
            "in none of the recordings does the aircraft stand or roll on the deck.",
            remedy="Record a trap to its stop, a bolter, or ten seconds at rest on deck.",
        )
    found = [height]
    ramp, spread = list(site.ramp), list(site.sigma.ramp)
    ramp[2], spread[2] = -height.value, height.sigma
    if at_ramp is not None:
        edge = _at_ramp(at_ramp, profile)
        ramp[0], spread[0] = edge.value, edge.sigma
        found.append(edge)
        _nothing_aft(views, stops, edge.value, profile)
    measured = replace(site, ramp=_point(ramp), sigma=replace(site.sigma, ramp=_point(spread)), generic=False)
    if stops or touched:
        measured, more = _landing_area(stops, touched, measured, profile)
        found += more
    if at_ramp is None and (aft := _wheels_aft(views, measured, profile)) is not None:
        found.append(aft)
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


def _landing_area(
    stops: list[Arrest], touched: list[Roll], site: Site, profile: Profile
) -> tuple[Site, list[Quantity]]:
    """Measure angle and centreline from arrests and bolters, wires from arrests."""
    came = [(one.course, one.place) for one in stops] + [(one.course, one.place) for one in touched]
    courses = [-course for course, _ in came]
    angle, angle_sigma = _mean(courses, _COURSE)
    found = [Quantity("angle", angle, angle_sigma, _many(len(came), "approach"), tuple(courses))]

    axis = np.array([np.cos(angle), -np.sin(angle)])
    right = np.array([np.sin(angle), np.cos(angle)])
    offs = [float(place @ right) for _, place in came]
    aside, spread = _mean(offs, _ASIDE)
    # where the centreline crosses the hull x of the ramp
    ramp = (site.ramp[0], (aside - site.ramp[0] * right[0]) / right[1], site.ramp[2])
    sigma = (site.sigma.ramp[0], float(np.hypot(spread, _HABIT)), site.sigma.ramp[2])
    beside = tuple((off - site.ramp[0] * right[0]) / right[1] for off in offs)
    words = f"{_met(stops, touched)}, to starboard at the ramp"
    found.append(Quantity("centreline", ramp[1], sigma[1], words, beside))
    known = replace(site.sigma, ramp=_point(sigma), angle=float(angle_sigma))
    site = replace(site, angle=float(angle), ramp=_point(ramp), sigma=known)
    if site.wires is None or not stops:
        return site, found

    origin = float(np.asarray(ramp[:2]) @ axis)
    seen = [_along(one, axis, origin, profile) for one in stops]
    on_hull = float(np.hypot(site.sigma.wires, site.sigma.ramp[0]))
    laid = lay(seen, np.asarray(site.wires.positions), site.sigma.wires, on_hull)
    shared = float(median([one.shared for one in stops]))
    sigmas = np.sqrt(laid.sigma**2 + shared**2 + _SHAPE**2 + profile.sigma.hook[0] ** 2)
    for number, x in enumerate(laid.places):
        mine = tuple(one.x for one, wire in zip(seen, laid.number, strict=True) if wire == number)
        words = f"{_many(len(mine), 'pull')} began there" if mine else _NOT_SEEN
        found.append(Quantity(f"wire {number + 1}", float(x), float(sigmas[number]), words, mine))
    wires = Wires(tuple(round(float(x), 2) for x in laid.places), site.wires.height)
    all_ = float(np.sqrt(np.mean(sigmas**2)))
    return replace(site, wires=wires, sigma=replace(site.sigma, wires=round(all_, 3))), found


def _along(one: Arrest, axis: np.ndarray, origin: float, profile: Profile) -> Stop:
    """An arrest along the centreline ``axis`` (2,) of hull axes, the ramp at ``origin``."""
    ahead = hook_ahead(one, profile) - origin
    return Stop(float(one.place @ axis) + ahead, one.sigma, float(one.halt @ axis) + ahead, one.speed)


def _many(count: int, what: str) -> str:
    plural = "" if count == 1 else "es" if what.endswith("ch") else "s"
    return f"{count} {what}{plural}"


def _met(stops: list[Arrest], touched: list[Roll]) -> str:
    counted = ((len(stops), "arrest"), (len(touched), "bolter"))
    return ", ".join(_many(count, what) for count, what in counted if count)


def _deck_height(views: list[FromHull], touched: list[Roll], profile: Profile) -> Quantity | None:
    """Deck over the ship's recorded point, m, from main wheels that stand or roll."""
    x, _, z = profile.main_wheels
    levels = [one.level for one in touched]
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


def _parked(pair: tuple[Track, Track], option: str, *, aft: bool = False) -> tuple[FromHull, str]:
    """The longest rest of a recording made on a marked spot, and how long it was, in words.

    ``aft``: of several the one farthest aft, since nothing stands aft of the ramp's edge.
    """
    view = from_hull(*pair)
    rests = stretches(view, upto=RESTS)
    if not rests:
        raise InputError(
            "the aircraft does not rest in the recording made there.",
            place=option,
            remedy="Park on the spot and record ten seconds.",
        )
    if aft:
        long = [rows for rows in rests if view.time[rows[-1]] - view.time[rows[0]] > _STAYS] or rests
        rows = min(long, key=lambda rows: float(median(view.hull[rows, 0])))
    else:
        rows = max(rests, key=len)
    return view.take(rows), f"at rest there for {view.time[rows[-1]] - view.time[rows[0]]:.0f} s"


def _at_ramp(pair: tuple[Track, Track], profile: Profile) -> Quantity:
    """Hull x of the ramp from a nose wheel that rests on its edge."""
    view, rest = _parked(pair, "at_ramp", aft=True)
    sigma = float(np.hypot(_PUT, profile.sigma.nose_wheel[0]))
    return Quantity("ramp", float(median(view.point(profile.nose_wheel)[:, 0])), sigma, f"nose wheel {rest}")


def _nothing_aft(views: list[FromHull], stops: list[Arrest], edge: float, profile: Profile) -> None:
    """Refuse a ramp's edge, hull x, that wheels stood aft of, or a wire pulled."""
    x, _, z = profile.main_wheels
    seen = [
        float(median(view.take(rows).point((x, 0.0, z))[:, 0])) for view in views for rows in stretches(view)
    ]
    seen += [float(one.place[0]) + hook_ahead(one, profile) for one in stops]
    aft = edge - min(seen, default=edge)
    if aft > _AFT + profile.sigma.nose_wheel[0]:
        raise InputError(
            f"in other recordings the jet is on the deck {aft:.0f} m aft of where the nose wheel stands.",
            place="at_ramp",
            remedy="Give a recording in which the nose wheel stands on the ramp's edge, aft of all else.",
        )


def _wheels_aft(views: list[FromHull], site: Site, profile: Profile) -> Quantity | None:
    """How far aft of the ramp of the file wheels stood or rolled in the landing area, m; None where not."""
    x, _, z = profile.main_wheels
    turn = hull_to_deck(site.angle)
    aft = 0.0
    for view in views:
        for rows in stretches(view):
            deck = (view.take(rows).point((x, 0.0, z)) - site.ramp_vector) @ turn.T
            inside = np.abs(deck[:, 1]) < 0.5 * site.width
            if inside.sum() > 3:
                aft = max(aft, -float(np.quantile(deck[inside, 0], 0.1)))
    if aft < _AFT:
        return None
    return Quantity("wheels aft", aft, _PUT, "of the ramp that the file has: hers is farther aft (--at-ramp)")


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
    view, rest = _parked(pair, option, aft=True)
    to_go = site.ramp[0] - view.hull[:, 0] - view.attitude[:, 0, 2] * wheel[2]
    facing = view.attitude[:, 0, 0]
    ahead = float(median(to_go / np.where(np.abs(facing) < _ALONG, _ALONG, facing)))
    if abs(ahead - wheel[0]) > _FARTHEST:
        raise InputError(
            f"the {name} would be {ahead:.0f} m ahead of the recorded point.",
            place=option,
            remedy="Give one in which it stands on the edge of the named ship's ramp, nose forward or aft.",
        )
    return Quantity(f"{name} ahead", ahead, float(np.hypot(_PUT, site.sigma.ramp[0])), rest)


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
    stops, touched = arrests(views), rolls(views, profile)
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
        # nose wheels may be off the deck in a bolter
        levels = [point[2] + one.level + site.ramp[2] for one in touched] if point is main else []
        down = _wheel_down(views, site, point[0], levels)
        if down is None:
            continue
        value, sigma, levels = down
        point[2] = round(value, 3)
        (main_sigma if point is main else nose_sigma)[2] = round(sigma, 3)
        many = f"{_many(len(levels), 'stretch')} at rest{' or rolling' if touched and point is main else ''}"
        found.append(Quantity(f"{name} below", value, sigma, many, tuple(levels)))
    if stops and site.wires is not None:
        forward, sigma, seen = _hook_x(stops, site, profile)
        hook[0], hook_sigma[0] = round(forward, 3), round(sigma, 3)
        found.append(Quantity("hook ahead", forward, sigma, _many(len(stops), "arrest"), tuple(seen)))
    if not found:
        raise InputError(
            "in none of the recordings does the aircraft rest on the deck or stop in a wire.",
            remedy="Record a trap to its stop, a bolter, or ten seconds at rest on deck.",
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
        final &= (np.abs(view.level[:, 1]) < 300.0) & (view.speed > CLOSING[0])
        values = np.interp(view.time[final], own.time, attack)
        values = values[np.isfinite(values)]
        if values.size > 8:
            found.append(float(median(values)))
    return found


def _wheel_down(
    views: list[FromHull], site: Site, ahead: float, levels: list[float]
) -> tuple[float, float, list[float]] | None:
    """How far below the reference point a wheel ``ahead`` of it stands, m, its sigma and the sightings.

    ``levels`` are sightings that are known already.
    """
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
    """Hook ahead of the reference point, from pulls at known wires, nearest to where it was thought."""
    assert site.wires is not None
    axis = np.array([np.cos(site.angle), -np.sin(site.angle)])
    origin = float(site.ramp_vector[:2] @ axis)
    pitch = np.array([one.pitch for one in stops])
    reach = np.array([one.place for one in stops]) @ axis - origin + profile.hook[2] * np.sin(pitch)
    cosine = np.cos(pitch)
    # (k, wires): where the hook is if each pull was each wire's
    places = (np.asarray(site.wires.positions) - reach[:, None]) / cosine[:, None]
    sigma = np.array([one.sigma for one in stops])
    trials = profile.hook[0] + np.arange(-_HOOKS, _HOOKS, 0.05)
    off = np.abs(places[:, :, None] - trials).min(axis=1) / sigma[:, None]
    far = (trials - profile.hook[0]) / max(profile.sigma.hook[0], _GUESSED)
    best = trials[np.argmin(np.sum(np.minimum(off, _STRAY) ** 2, axis=0) + far**2)]
    seen = places[np.arange(sigma.size), np.abs(places - best).argmin(axis=1)]
    # a stray pull counts for less the farther it is off
    weight = 1.0 / (sigma * np.maximum(np.abs(seen - best) / sigma / _STRAY, 1.0)) ** 2
    value = float(np.sum(weight * seen) / np.sum(weight))
    shared = float(median([one.shared for one in stops]))
    known = np.linalg.norm([1.0 / np.sqrt(np.sum(weight)), shared, _SHAPE, site.sigma.wires])
    return value, float(known), [float(one) for one in seen]
