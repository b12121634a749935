"""A ship that nobody recorded, from what came to rest on her deck and from passes flown at her.

She is taken to steam steadily, as long as that explains what is seen. What rests on her moves as
she does; what touches her deck again and again touches nearly the same spot of it. Each is
weighed by how well it says so, and the greatest set that agrees on one course and speed is
kept: rests ashore, taxiing and a landing elsewhere fall out. Where touches with a rest on a deck
under way do not agree, or that deck turns, she turned: each leg is fitted by itself.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.aircraft.model import Profile
from deckward.errors import InputError, Note
from deckward.foundation import angles, earth
from deckward.foundation.track import Track
from deckward.foundation.units import DEGREE, KNOT
from deckward.passes.ground import Ground
from deckward.passes.model import ShipCourse
from deckward.passes.ship import steered
from deckward.passes.touches import FASTEST_SHIP, Rest, Run, Touch
from deckward.passes.turned_ship import Leg, joined, legs, perhaps_turning, strangers
from deckward.passes.ways import Way, deck_height, heading_of, solve, touched_x
from deckward.site.model import Site

#: seconds between the nodes of her track
_NODE = 10.0
#: sigmas from which on a touch or a rest belongs to something else, and rms of them that no steady
#: ship leaves
_GATE, _STRAINED = 3.5, 2.0
#: pitch and roll of a deck that nobody recorded, rad, and its heave, m, one sigma: chosen by us
_PITCHES, _ROLLS, _HEAVES = 0.3 * DEGREE, 0.7 * DEGREE, 0.5
#: seconds at rest from which on what rests shows how the deck moves
_SHOWS = 20.0
#: seconds between the nodes of a ship that turned, and for which an unsure turn is carried on
_STEP, _CARRIED = 5.0, 15.0


class FittedShip(Struct, frozen=True):
    """A ship and how well she is known.

    Angles rad, SI. ``course_sigma`` and ``speed_sigma`` of her way, ``along`` and ``aside``
    of her place along and across the landing area, ``height_sigma`` of the deck's height;
    ``residual`` is the rms of the touches about the fit, m (None for fewer than three), ``strain``
    that of all in sigmas. One that turned has ``legs`` (her course and speed are those of the first);
    ``strays`` counts ends of approaches that are on no way of hers.
    """

    track: Track
    course: float
    speed: float
    course_sigma: float
    speed_sigma: float
    heading: float
    heading_sigma: float
    along: float
    aside: float
    height_sigma: float
    residual: float | None
    touches: tuple[Touch, ...]
    rests: tuple[Rest, ...]
    strain: float | None = None
    legs: tuple[Leg, ...] = ()
    strays: int = 0

    @property
    def holds(self) -> bool:
        """Whether what she was fitted to lies as near her way as it should."""
        return self.strain is None or self.strain < _STRAINED

    def note(self) -> Note:
        """Say what was fitted to what, and how well."""
        many = f"{len(self.touches)} touch{'es' if len(self.touches) != 1 else ''} of the deck"
        text = (
            f"The ship was fitted to {many} and {sum(rest.end - rest.start for rest in self.rests):.0f} s "
            f"at rest on it: {self._went()}, her place along the deck to {self.along:.0f} m, the deck's "
            f"height to {self.height_sigma:.1f} m"
        )
        text += "." if self.residual is None else f"; the touches lie {self.residual:.0f} m about it (rms)."
        if self.legs:
            text += " She turned: between those her track is a guess, and her place is known for each alone."
        if not self.holds:
            text += (
                f" That is {self.strain:.1f} times as far as it should be: she hardly steamed straight on, "
                "and the fit does not hold. Record the ship."
            )
        hint = None if self.legs else perhaps_turning(self.rests)
        if hint is not None:
            rate, doubt = np.abs(np.degrees(hint))
            text += (
                f" What rested on her turned by {rate:.2f} deg/s (sigma {doubt:.2f}): if she was in a turn, "
                "the fit does not hold. Rest ten seconds on deck, or record the ship."
            )
        sigma = self.track.sigma
        text += (
            f" Her pitch and roll are taken as none (sigma {np.degrees(sigma['pitches']):.1f} and "
            f"{np.degrees(sigma['rolls']):.1f} deg)."
        )
        if self.strays:
            one = self.strays == 1
            text += (
                f" {self.strays} other end{'' if one else 's'} of approaches {'lies' if one else 'lie'} off "
                "her way: ashore, on another ship, or she turned meanwhile."
            )
        if len(self.touches) == 1:
            text += (
                " One touch alone: where on the deck it was is taken from where people land, so the wire is "
                "little more than a guess. Record several passes, or the ship."
            )
        return Note("ship-fitted", text)

    def _went(self) -> str:
        """Her course and speed, of each leg where she turned."""
        if not self.legs:
            return (
                f"course {np.degrees(angles.compass(self.course)):.1f} deg (sigma "
                f"{np.degrees(self.course_sigma):.1f}), {self.speed / KNOT:.1f} kt (sigma "
                f"{self.speed_sigma / KNOT:.2g})"
            )
        told = []
        for leg in self.legs:
            north, east = leg.way.velocity
            words = f"{np.degrees(angles.compass(np.arctan2(east, north))):.0f} deg"
            words += f" and {np.hypot(north, east) / KNOT:.1f} kt at {leg.way.time:.0f} s"
            if leg.turn:
                side = "starboard" if leg.turn > 0.0 else "port"
                words += f", turning {abs(np.degrees(leg.turn)):.2f} deg/s to {side}"
            told.append(words)
        return "course " + "; ".join(told)


def fit_ship(tracks: tuple[Track, ...], site: Site, profile: Profile) -> FittedShip:
    """Fit a ship to what a recording's aircraft did on and over her.

    Raises:
        InputError: nothing that the recording holds says where a ship was, or how she moved.
    """
    ground = _ground(tracks)
    touches: list[Touch] = []
    rests: list[Rest] = []
    for track in tracks:
        run = Run(track, ground)
        touches += run.touches()
        rests += run.rests()
    touches = _brought_down(touches)
    if not touches:
        raise InputError(
            "no ship can be fitted: no wire stopped the aircraft, and no approach ends at a deck.",
            place="ship",
            remedy="Give a recording of the ship, or her course, speed and place.",
        )
    way = _agreed(touches, rests)
    if way is None:
        raise InputError(
            "no ship can be fitted: one touch of the deck, and nothing rested on it long enough to show "
            "how she moves.",
            place="ship",
            remedy="Record some seconds at rest on deck or a second pass; or give her course and speed.",
        )
    span = Track(
        "span", np.array([min(one.time[0] for one in tracks), max(one.time[-1] for one in tracks)]), {}
    )
    straight = way
    for _ in range(2 if ground.origin is not None else 0):
        rhumb = _rhumb(straight, straight.place, ground, span)
        straight = _unbent(way, straight, rhumb, ground)
    sways = _sways(tracks, rests)
    turned = legs(touches, rests)
    if strangers(way, touches, rests) or any(leg.turn for leg in turned):
        fitted = _turned(turned, ground, span, site, profile)
    else:
        fitted = _fitted(straight, ground, span, site, profile)
    sigma = {**fitted.track.sigma, **sways, "down": float(np.hypot(fitted.height_sigma, sways["down"]))}
    strays = len(touches) - len(fitted.touches)
    return replace(fitted, track=replace(fitted.track, sigma=sigma), strays=strays)


def _sways(tracks: tuple[Track, ...], rests: list[Rest]) -> dict[str, float]:
    """How far her deck is from level and from its mean height, one sigma, as what rests on it shows."""
    seen: dict[str, list[np.ndarray]] = {"pitch": [], "roll": []}
    for track in tracks:
        for rest in rests:
            rows = (track.time >= rest.start) & (track.time <= rest.end)
            for name, parts in seen.items():
                values = track.get(name)
                if values is not None and np.isfinite(values[rows]).sum() > 4:
                    parts.append(values[rows] - np.nanmean(values[rows]))
    found = {"pitches": _PITCHES, "rolls": _ROLLS, "down": _HEAVES}
    if sum(rest.end - rest.start for rest in rests) > _SHOWS:
        found |= {
            f"{name}{plural}": float(np.nanstd(np.concatenate(seen[name])))
            for name, plural in (("pitch", "es"), ("roll", "s"))
            if seen[name]
        }
    return found


def _brought_down(touches: list[Touch]) -> list[Touch]:
    """Carry tracks that ended in the air down to where the lowest of all was."""
    lowest = min((touch.height for touch in touches if touch.kind == "last fix"), default=0.0)
    return [touch.carried_down(lowest) if touch.kind == "last fix" else touch for touch in touches]


def _ground(tracks: tuple[Track, ...]) -> Ground:
    track = tracks[0]
    if not track.geodetic:
        return Ground(None)
    ok = np.flatnonzero(np.isfinite(track["latitude"]) & np.isfinite(track["longitude"]))
    middle = ok[ok.size // 2]
    return Ground((float(track["latitude"][middle]), float(track["longitude"][middle]), 0.0))


def _agreed(touches: list[Touch], rests: list[Rest]) -> Way | None:
    """The way that most touches and rests agree on."""
    trials: list[Way] = []
    for i, one in enumerate(touches):
        near = [r for r in rests if 0.0 < r.end - one.time < 90.0 and _by(r, one)]
        trials += [solve([one], [rest]) for rest in near[:3]]
        trials += [
            solve([one, other], [])
            for other in touches[i + 1 :]
            if abs(other.time - one.time) > 60.0
            and np.hypot(*(other.place - one.place)) < FASTEST_SHIP * abs(other.time - one.time)
        ]
    best: Way | None = None
    most = 0.0
    for trial in trials:
        agreeing = [t for t in touches if trial.misses(t) < _GATE]
        resting = [r for r in rests if trial.strays(r) < _GATE and _aboard(r, trial)]
        votes = len(agreeing) + 0.5 * min(len(resting), len(agreeing))
        # between equals, the one that the earlier and the nearer agree with best
        votes -= 0.01 * sum(trial.misses(touch) for touch in agreeing)
        if votes > most:
            best, most = solve(agreeing, resting) if agreeing else trial, votes
    return best


def _by(rest: Rest, touch: Touch) -> bool:
    """Whether a rest lies where a touch led to."""
    since = rest.start - touch.time
    return float(np.hypot(*(rest.place - touch.place))) < 250.0 + FASTEST_SHIP * abs(since)


def _aboard(rest: Rest, way: Way) -> bool:
    middle = 0.5 * (rest.start + rest.end)
    off = rest.place - way.place - way.velocity * (middle - way.time)
    slack = np.sqrt(np.trace(way.covariance[2:, 2:])) * abs(middle - way.time)
    return float(np.hypot(*off)) < 300.0 + slack


def _rhumb(way: Way, place: np.ndarray, ground: Ground, span: Track) -> Track:
    """Run the way on from a place (2,) along a rhumb line, as a ship that keeps her course does."""
    assert ground.origin is not None
    point = np.array([*place, 0.0])
    latitude, longitude, _ = earth.ecef_to_geodetic(earth.from_ned(point, *ground.origin))
    # what is north at her place is not quite the plane's north
    ahead = ground.levels(point[None])[0] @ np.array([*way.velocity, 0.0])
    course = float(np.arctan2(ahead[1], ahead[0]))
    speed = float(np.hypot(ahead[0], ahead[1]))
    at = ShipCourse(float(latitude), float(longitude), way.time, course, speed)
    empty = {"latitude": np.zeros(2), "longitude": np.zeros(2)}
    return steered(at, span.with_channels(**empty))


def _unbent(way: Way, straight: Way, rhumb: Track, ground: Ground) -> Way:
    """Solve again with what touches and rests owe to the bend of a rhumb line in the plane taken out."""
    line = straight.place + np.outer(rhumb.time - straight.time, straight.velocity)
    bend = ground.place(rhumb)[:, :2] - line

    def off(when: float) -> np.ndarray:
        return np.array([np.interp(when, rhumb.time, bend[:, k]) for k in (0, 1)])

    touches = [replace(one, place=one.place - off(one.time)) for one in way.touches]
    rests = [
        replace(
            one,
            place=one.place - off(0.5 * (one.start + one.end)),
            velocity=one.velocity - (off(one.end) - off(one.start)) / (one.end - one.start),
        )
        for one in way.rests
    ]
    return solve(touches, rests)


def _fitted(way: Way, ground: Ground, span: Track, site: Site, profile: Profile) -> FittedShip:
    """Put a ship under the way: heading, height and reference point."""
    speed = float(np.hypot(*way.velocity))
    course = float(np.arctan2(way.velocity[1], way.velocity[0]))
    ahead = np.array([np.cos(course), np.sin(course)])
    of_velocity = way.covariance[2:, 2:]
    speed_sigma = float(np.sqrt(ahead @ of_velocity @ ahead))
    side = np.array([-ahead[1], ahead[0]])
    course_sigma = float(min(np.sqrt(side @ of_velocity @ side) / max(speed, 1e-3), np.pi))
    heading, heading_sigma = heading_of(way, course, course_sigma, site)

    # the reference point of the aircraft stood over this spot of the deck when it touched
    reach = touched_x(way, site) - profile.hook[0]
    area = heading - site.angle
    c, s = np.cos(heading), np.sin(heading)
    ramp = np.array([c * site.ramp[0] - s * site.ramp[1], s * site.ramp[0] + c * site.ramp[1]])
    spot = ramp + reach * np.array([np.cos(area), np.sin(area)])
    deck, height_sigma = deck_height(way, profile)
    height = deck + site.ramp[2]

    if ground.origin is None:
        time = np.arange(span.time[0] - _NODE, span.time[-1] + 2.0 * _NODE, _NODE)
        place = way.place - spot + np.outer(time - way.time, way.velocity)
        channels = {"north": place[:, 0], "east": place[:, 1]}
    else:
        rhumb = _rhumb(way, way.place - spot, ground, span)
        time = rhumb.time
        channels = {name: rhumb[name] for name in ("latitude", "longitude")}
    channels |= {
        "up" if ground.origin is None else "altitude": np.full_like(time, height),
        "heading": np.full_like(time, float(angles.compass(heading))),
        "pitch": np.zeros_like(time),
        "roll": np.zeros_like(time),
    }
    landing = np.array([np.cos(area), np.sin(area)])
    across = np.array([-landing[1], landing[0]])
    of_place = way.covariance[:2, :2]
    along, aside = (float(np.sqrt(axis @ of_place @ axis)) for axis in (landing, across))
    off = [way.off(touch) for touch in way.touches]
    residual = None
    if len(off) > 2:
        residual = float(np.sqrt(np.sum(np.square(off)) / (2 * len(off) - 4)))
    sigma = {"along": along, "across": aside}
    return FittedShip(
        Track("ship", time, channels, sigma),
        course,
        speed,
        course_sigma,
        speed_sigma,
        heading,
        heading_sigma,
        along,
        aside,
        height_sigma,
        residual,
        way.touches,
        way.rests,
        way.strain,
    )


def _turned(found: list[Leg], ground: Ground, span: Track, site: Site, profile: Profile) -> FittedShip:
    """Put a ship under legs that differ."""
    for one, other in pairwise(found):
        apart = float(np.hypot(*(other.way.place - one.way.place)))
        if apart > FASTEST_SHIP * (other.way.time - one.way.time):
            raise InputError(
                "no ship can be fitted: what the aircraft rested on are decks of two ships.",
                place="ship",
                remedy="Cut the recording between them, or give a recording of the ship.",
            )
    parts = [_fitted(leg.way, ground, span, site, profile) for leg in found]
    touches = tuple(touch for leg in found for touch in leg.way.touches)
    rests = tuple(rest for leg in found for rest in leg.way.rests)
    whole = replace(found[0].way, touches=touches, rests=rests)
    deck, height_sigma = deck_height(whole, profile)

    time = np.arange(span.time[0] - _NODE, span.time[-1] + 2.0 * _NODE, _STEP)
    place, velocity = joined(found, time)
    leeway = [float(angles.difference(part.heading, part.course)) for part in parts]
    heading = np.arctan2(velocity[:, 1], velocity[:, 0])
    heading = heading + np.interp(time, [leg.way.time for leg in found], leeway)
    # the reference point of the aircraft stood over this spot of the deck when it touched
    reach = touched_x(whole, site) - profile.hook[0]
    ahead = site.ramp[0] + reach * np.cos(site.angle)
    aside = site.ramp[1] - reach * np.sin(site.angle)
    c, s = np.cos(heading), np.sin(heading)
    point = place - np.stack([c * ahead - s * aside, s * ahead + c * aside], axis=-1)
    channels = {"north": point[:, 0], "east": point[:, 1]}
    if ground.origin is not None:
        flat = np.column_stack([point, np.zeros(time.size)])
        latitude, longitude, _ = earth.ecef_to_geodetic(earth.from_ned(flat, *ground.origin))
        channels = {"latitude": latitude, "longitude": longitude}
    channels |= {
        "up" if ground.origin is None else "altitude": np.full_like(time, deck + site.ramp[2]),
        "heading": angles.compass(heading),
        "pitch": np.zeros_like(time),
        "roll": np.zeros_like(time),
    }
    first = parts[0]
    unsure = max(part.heading_sigma for part in parts)
    along, aside_sigma = (max(getattr(part, name) for part in parts) for name in ("along", "aside"))
    return FittedShip(
        Track("ship", time, channels, {"along": along, "across": aside_sigma}),
        first.course,
        first.speed,
        max(part.course_sigma for part in parts),
        max(part.speed_sigma for part in parts),
        first.heading,
        float(np.hypot(unsure, _CARRIED * max(leg.turn_sigma for leg in found))),
        along,
        aside_sigma,
        height_sigma,
        None,
        touches,
        rests,
        None,
        tuple(found),
    )


def known_to(ship: FittedShip, site: Site) -> Site:
    """Give the site with what is not known of the ship as a doubt about her landing area and wires."""
    angle = float(np.hypot(site.sigma.angle, ship.heading_sigma))
    wires = float(np.hypot(site.sigma.wires, ship.along))
    return replace(site, sigma=replace(site.sigma, angle=angle, wires=wires))
