"""A ship that nobody recorded, from what came to rest on her deck and from passes flown at her.

She is taken to steam steadily. What rests on her moves as she does; what touches her deck
again and again touches nearly the same spot of it. Each is weighed by how well it says so,
and the greatest set that agrees on one course and speed is kept: rests ashore, taxiing and a
landing elsewhere fall out.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from deckward.aircraft.model import Profile
from deckward.errors import InputError, Note
from deckward.foundation import angles, earth
from deckward.foundation.statistics import median
from deckward.foundation.track import Track
from deckward.foundation.units import DEGREE, KNOT
from deckward.passes.ground import Ground
from deckward.passes.model import ShipCourse
from deckward.passes.ship import steered
from deckward.passes.touches import FASTEST_SHIP, Rest, Run, Touch
from deckward.site.model import Site

#: seconds between the nodes of her track
_NODE = 10.0
#: how well the touched spot is known across the deck, m; common practice, no source
_ASIDE = 4.0
#: sigma of an approach's course against the centreline, and of a heading against the course made good
_LINED_UP, _LEEWAY = 1.5 * DEGREE, 2.0 * DEGREE
#: sigmas from which on a touch or a rest belongs to something else
_GATE = 3.5
#: metres that a deck may have been up or down at a single touch
_SWAYS = 1.5


@dataclass(frozen=True)
class FittedShip:
    """A steady ship and how well she is known.

    Angles rad, SI. ``course_sigma`` and ``speed_sigma`` of her way, ``along`` and ``aside``
    of her place along and across the landing area, ``height_sigma`` of the deck's height;
    ``residual`` is the rms of the touches about the fit, m (None for fewer than three).
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

    def note(self) -> Note:
        """Say what was fitted to what, and how well."""
        many = f"{len(self.touches)} touch{'es' if len(self.touches) != 1 else ''} of the deck"
        text = (
            f"The ship was fitted to {many} and {sum(rest.end - rest.start for rest in self.rests):.0f} s "
            "at rest on it: course "
            f"{np.degrees(angles.compass(self.course)):.1f} deg (sigma {np.degrees(self.course_sigma):.1f}), "
            f"{self.speed / KNOT:.1f} kt (sigma {self.speed_sigma / KNOT:.2g}), her place along the deck to "
            f"{self.along:.0f} m, the deck's height to {self.height_sigma:.1f} m"
        )
        text += "." if self.residual is None else f"; the touches lie {self.residual:.0f} m about it (rms)."
        if len(self.touches) == 1:
            text += (
                " One touch alone: where on the deck it was is taken from where people land, so the wire is "
                "little more than a guess. Record several passes, or the ship."
            )
        return Note("ship-fitted", text)


def fit_ship(tracks: tuple[Track, ...], site: Site, profile: Profile) -> FittedShip:
    """Fit a steadily steaming ship to what a recording's aircraft did on and over her.

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
    return _fitted(straight, ground, span, site, profile)


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


@dataclass(frozen=True)
class _Way:
    """A straight way: place (2,) at a time, velocity (2,), covariance (4, 4) of both."""

    time: float
    place: np.ndarray
    velocity: np.ndarray
    covariance: np.ndarray
    touches: tuple[Touch, ...]
    rests: tuple[Rest, ...]

    def off(self, touch: Touch) -> np.ndarray:
        """How far (2,), m, a touch lies from the way."""
        return touch.place - self.place - self.velocity * (touch.time - self.time)

    def misses(self, touch: Touch) -> float:
        """Distance of a touch from the way, in sigmas of both."""
        since = touch.time - self.time
        carry = np.hstack([np.eye(2), since * np.eye(2)])
        spread = carry @ self.covariance @ carry.T + _spot(touch)
        return float(np.sqrt(_square(self.off(touch), spread)))

    def strays(self, rest: Rest) -> float:
        """Difference of velocities, in sigmas of both."""
        off = rest.velocity - self.velocity
        spread = self.covariance[2:, 2:] + rest.sigma**2 * np.eye(2)
        return float(np.sqrt(_square(off, spread)))


def _spot(touch: Touch) -> np.ndarray:
    """Covariance (2, 2) of where on deck a touch was, north and east."""
    ahead = np.array([np.cos(touch.course), np.sin(touch.course)])
    side = np.array([-ahead[1], ahead[0]])
    aside = _ASIDE if touch.kind == "arrest" else 0.5 * touch.along
    return touch.along**2 * np.outer(ahead, ahead) + aside**2 * np.outer(side, side)


def _agreed(touches: list[Touch], rests: list[Rest]) -> _Way | None:
    """The way that most touches and rests agree on."""
    trials: list[_Way] = []
    for i, one in enumerate(touches):
        near = [r for r in rests if 0.0 < r.end - one.time < 90.0 and _by(r, one)]
        trials += [_solve([one], [rest]) for rest in near[:3]]
        trials += [
            _solve([one, other], [])
            for other in touches[i + 1 :]
            if abs(other.time - one.time) > 60.0
            and np.hypot(*(other.place - one.place)) < FASTEST_SHIP * abs(other.time - one.time)
        ]
    best: _Way | None = None
    most = 0.0
    for trial in trials:
        agreeing = [t for t in touches if trial.misses(t) < _GATE]
        resting = [r for r in rests if trial.strays(r) < _GATE and _aboard(r, trial)]
        votes = len(agreeing) + 0.5 * min(len(resting), len(agreeing))
        # between equals, the one that the earlier and the nearer agree with best
        votes -= 0.01 * sum(trial.misses(touch) for touch in agreeing)
        if votes > most:
            best, most = _solve(agreeing, resting) if agreeing else trial, votes
    return best


def _by(rest: Rest, touch: Touch) -> bool:
    """Whether a rest lies where a touch led to."""
    since = rest.start - touch.time
    return float(np.hypot(*(rest.place - touch.place))) < 250.0 + FASTEST_SHIP * abs(since)


def _aboard(rest: Rest, way: _Way) -> bool:
    middle = 0.5 * (rest.start + rest.end)
    off = rest.place - way.place - way.velocity * (middle - way.time)
    slack = np.sqrt(np.trace(way.covariance[2:, 2:])) * abs(middle - way.time)
    return float(np.hypot(*off)) < 300.0 + slack


def _solve(touches: list[Touch], rests: list[Rest]) -> _Way:
    """Weighted least squares of place and velocity."""
    zero = float(np.mean([touch.time for touch in touches]))
    information = np.zeros((4, 4))
    right = np.zeros(4)
    for touch in touches:
        carry = np.hstack([np.eye(2), (touch.time - zero) * np.eye(2)])
        weight = np.linalg.inv(_spot(touch))
        information += carry.T @ weight @ carry
        right += carry.T @ weight @ touch.place
    for rest in rests:
        information[2:, 2:] += np.eye(2) / rest.sigma**2
        right[2:] += rest.velocity / rest.sigma**2
    # a ship is no faster than this, whatever little is known
    information[2:, 2:] += np.eye(2) / FASTEST_SHIP**2
    covariance = np.linalg.inv(information)
    solution = covariance @ right
    way = _Way(zero, solution[:2], solution[2:], covariance, tuple(touches), tuple(rests))
    free = 2 * (len(touches) + len(rests)) - 4
    if free <= 0:
        return way
    misfit = sum(_square(way.off(touch), _spot(touch)) for touch in touches)
    misfit += sum(_square(rest.velocity - way.velocity, rest.sigma**2 * np.eye(2)) for rest in rests)
    return replace(way, covariance=covariance * max(1.0, misfit / free))


def _rhumb(way: _Way, place: np.ndarray, ground: Ground, span: Track) -> Track:
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


def _unbent(way: _Way, straight: _Way, rhumb: Track, ground: Ground) -> _Way:
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
    return _solve(touches, rests)


def _square(off: np.ndarray, spread: np.ndarray) -> float:
    return float(off @ np.linalg.solve(spread, off))


def _fitted(way: _Way, ground: Ground, span: Track, site: Site, profile: Profile) -> FittedShip:
    """Put a ship under the way: heading, height and reference point."""
    speed = float(np.hypot(*way.velocity))
    course = float(np.arctan2(way.velocity[1], way.velocity[0]))
    ahead = np.array([np.cos(course), np.sin(course)])
    of_velocity = way.covariance[2:, 2:]
    speed_sigma = float(np.sqrt(ahead @ of_velocity @ ahead))
    side = np.array([-ahead[1], ahead[0]])
    course_sigma = float(min(np.sqrt(side @ of_velocity @ side) / max(speed, 1e-3), np.pi))
    heading, heading_sigma = _heading(way, course, course_sigma, site)

    # the reference point of the aircraft stood over this spot of the deck when it touched
    reach = _touched_x(way, site) - profile.hook[0]
    area = heading - site.angle
    c, s = np.cos(heading), np.sin(heading)
    ramp = np.array([c * site.ramp[0] - s * site.ramp[1], s * site.ramp[0] + c * site.ramp[1]])
    spot = ramp + reach * np.array([np.cos(area), np.sin(area)])
    deck, height_sigma = _deck_height(way, profile)
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
    sigma = {"along": along, "across": aside, "down": height_sigma}
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
    )


def _heading(way: _Way, course: float, course_sigma: float, site: Site) -> tuple[float, float]:
    """Where she points: her course made good, and the approaches less the landing area's angle."""
    weight = 1.0 / (course_sigma**2 + _LEEWAY**2)
    pull = 0.0
    for touch in way.touches:
        flown = touch.speed * np.array([np.cos(touch.course), np.sin(touch.course)]) - way.velocity
        area = float(np.arctan2(flown[1], flown[0]))
        one = 1.0 / (_LINED_UP**2 + site.sigma.angle**2)
        pull += one * float(angles.difference(area + site.angle, course))
        weight += one
    return course + pull / weight, float(1.0 / np.sqrt(weight))


def _touched_x(way: _Way, site: Site) -> float:
    """Deck x of the hook at the touches: the middle of the wires, else where hooks are meant to land."""
    arrests = sum(touch.kind == "arrest" for touch in way.touches)
    if site.wires is not None and 2 * arrests >= len(way.touches):
        return float(np.mean(site.wires.positions))
    return site.lens.hook_target


def _deck_height(way: _Way, profile: Profile) -> tuple[float, float]:
    """Height of the deck over the sea, m, and its sigma, from what stood on it."""
    wheels = max(profile.main_wheels[2], profile.nose_wheel[2])
    heights = [rest.height for rest in way.rests] or [
        touch.height for touch in way.touches if touch.kind == "arrest"
    ]
    least = 0.3
    if not heights:
        heights, least = [touch.height for touch in way.touches], 5.0
    spread = float(np.std(heights)) if len(heights) > 1 else _SWAYS
    sigma = float(np.hypot(least, spread / np.sqrt(len(heights))))
    return float(median(heights)) - wheels, sigma


def known_to(ship: FittedShip, site: Site) -> Site:
    """Give the site with what is not known of the ship as a doubt about her landing area and wires."""
    angle = float(np.hypot(site.sigma.angle, ship.heading_sigma))
    wires = float(np.hypot(site.sigma.wires, ship.along))
    return replace(site, sigma=replace(site.sigma, angle=angle, wires=wires))
