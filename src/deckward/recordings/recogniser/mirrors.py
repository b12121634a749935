"""Positions that count the other way and headings that do: mirror images of one another.

A flight whose positions are mirrored, whose headings count anticlockwise and whose roll has its
left wing down counting up looks the same as one of which none is so. Names tell some of it; a pass
at an angled deck tells the rest, since every landing area is angled to port.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from msgspec import Struct

from deckward.foundation import angles
from deckward.foundation.earth import SEMI_MAJOR_AXIS
from deckward.recordings.recogniser import asking, physics, places
from deckward.recordings.recogniser.findings import Finding
from deckward.recordings.recogniser.names import Guess, words_in
from deckward.recordings.recogniser.places import Matched, Senses

#: rad off the nearest reading that another may be and still be one
_AS_GOOD = np.radians(3.0)
#: what an unusual sense, a roll that agrees, and a name that says so are worth
_UNUSUAL, _ROLL, _NAMED = 2.0, 1.0, 3.0
#: what it is worth that a heading named as a compass's counts anticlockwise
_NO_COMPASS = 3.0
#: worth by which one reading must exceed the next to be taken without asking
CLEARLY = 2.5
#: names of a heading that need not be a compass's
_EITHER_WAY = frozenset({"yaw", "psi", "gier", "lacet", "rot", "rotation", "angle", "z", "y"})
#: how well a roll must fit the turns to say anything
_FITS = 0.5
#: angles to port that landing areas have, rad
_ANGLED = (np.radians(5.0), np.radians(14.0))
#: how far a ship's heading is off her course at most, rad
_ON_COURSE = np.radians(12.0)
#: an approach: within this distance of the ship, m, and the spans of it that are looked at
_NEAR, _LAST = 1600.0, 12


class Reading(Struct, frozen=True):
    """One way to read where things lie: the senses of the axes, and of the heading (-1: anticlockwise)."""

    senses: Senses
    heading: int

    @property
    def mirrored(self) -> bool:
        """Whether the positions are a mirror image of what the first axis north, the second east make."""
        return self.senses.mirrors

    @property
    def mirror_image(self) -> Reading:
        """The reading that looks the same in the data."""
        turned = Senses(self.senses.swapped, self.senses.north, -self.senses.east)
        return Reading(turned, -self.heading)


def rank(
    found: Iterable[Matched],
    *,
    lon: Guess | None,
    head: Guess | None,
    named: bool = True,
    either_way: bool = True,
    spare: float = _AS_GOOD,
) -> list[tuple[float, Matched]]:
    """Rank the ways to read positions and heading that follow the motion as well as the nearest.

    Args:
        found: the ways, the nearest first.
        lon: what the name of the longitude (or the east axis) says.
        head: what the name of the heading says.
        either_way: whether the heading's name is one that may count anticlockwise.
        named: whether the axes' names say which they are, so that to turn one is unusual.
        spare: how much worse than the nearest a way may follow the motion, rad.
    """
    every = list(found)
    ranked = []
    for match in every:
        if match.off > every[0].off + spare:
            continue
        worth = -(_UNUSUAL if either_way else _NO_COMPASS) * (match.sign < 0)
        if named:
            worth -= _UNUSUAL * ((match.senses.east < 0) + (match.senses.north < 0))
        worth += _ROLL * ((match.roll > _FITS) - (match.roll < -_FITS))
        for guess, turned in ((lon, match.senses.east < 0), (head, match.sign < 0)):
            if guess is not None and guess.turned:
                worth += _NAMED if turned == (guess.turned < 0) else -_NAMED
        ranked.append((worth, match))
    return sorted(ranked, key=lambda pair: (-pair[0], pair[1].off))


def counts_either_way(heading: Finding) -> bool:
    """Whether a heading is named as in mathematics, where it may count anticlockwise, not as on a compass."""
    guess = heading.guess("heading")
    named = guess is not None and (guess.turned != 0 or guess.true or guess.ours)
    return not named and bool(_EITHER_WAY & words_in(heading.name))


def plain(match: Matched, heading: Finding) -> list[Reading]:
    """Give the reading of positions as they are named, and its mirror image where no roll confirms it."""
    reading = Reading(match.senses, match.sign)
    doubtful = match.roll < _FITS and counts_either_way(heading)
    return [reading, reading.mirror_image] if doubtful else [reading]


def readings(ranked: list[tuple[float, Matched]], clearly: float = CLEARLY) -> list[Reading]:
    """Give the first of ranked ways, and those it does not clearly exceed."""
    best = ranked[0][0]
    return list(dict.fromkeys(Reading(m.senses, m.sign) for worth, m in ranked if worth > best - clearly))


def settle(work) -> None:
    """Ask how positions and headings lie where neither names nor a pass at an angled deck tell."""
    if not work.readings:
        return
    if work.plane is not None and not work.plane.upright:
        triples = [[found.get(axis) for axis in ("north", "east", "up")] for found in _crafts(work)]
        work.questions.append(asking.which_axes([[f for f in three if f is not None] for three in triples]))
        return
    chosen = work.readings[0]
    likely = list(dict.fromkeys(_with_ship(work, chosen)))
    left = list(dict.fromkeys(likely if len(likely) > 1 else [*likely, *work.readings]))
    # where axes may be turned by right angles too, no course means anything
    side = _landing_side(work) if {*work.readings} <= {chosen, chosen.mirror_image} else 0
    if side > 0:
        left = [each for each in left if each.mirrored == chosen.mirrored]
    elif side < 0:
        left = sorted({*left, chosen.mirror_image}, key=lambda each: each.mirrored == chosen.mirrored)
    if len(left) > 1:
        work.questions.append(_question(work, chosen, left))


def _with_ship(work, chosen: Reading) -> list[Reading]:
    """Give the ways a plane may lie by a moving ship's heading, where nothing of the aircraft tells."""
    heading, motion = work.boat.found.get("heading"), work.boat.motion
    if len(work.readings) < len(places.ALL_SENSES) or heading is None or motion is None:
        return []
    north, east = chosen.senses.north * motion.north, chosen.senses.east * motion.east
    first, second = (east, north) if chosen.senses.swapped else (north, east)
    raw = physics.Motion(motion.start, motion.end, motion.step, first, second)
    left = []
    for way in work.readings:
        for turned in (1, -1) if counts_either_way(heading) else (1,):
            aside = physics.beside_track(
                way.senses.of(raw), heading.si(sign=heading.sign * turned), physics.SAILING
            )
            if aside.off < _ON_COURSE:
                left.append(Reading(way.senses, chosen.heading * turned))
    return left


def _crafts(work) -> list[dict[str, Finding]]:
    return [work.boat.found] if work.alone else [work.own.found, work.boat.found]


def _question(work, chosen: Reading, ways: list[Reading]):
    """Ask which of several readings it is; every column that hangs on it changes with the answer."""
    geodetic = work.plane is None
    crafts = _crafts(work)
    north, east = ("latitude", "longitude") if geodetic else ("north", "east")
    axes = [
        (finding, quantity)
        for found in crafts
        for quantity in (north, east, "velocity_north", "velocity_east")
        if (finding := found.get(quantity)) is not None
    ]
    headings = [found["heading"] for found in crafts if "heading" in found]
    roll = work.own.found.get("roll")
    # only a sign that the turns told hangs on where the turns go
    rolls = [roll] if roll is not None and roll.confidence > 0.9 else []
    choices = []
    for way in ways:
        rules = []
        for finding, quantity in axes:
            to_north = quantity in (north, "velocity_north")
            first = to_north != chosen.senses.swapped
            old = chosen.senses.north if to_north else chosen.senses.east
            goes_north = first != way.senses.swapped
            new = way.senses.north if goes_north else way.senses.east
            other = {north: east, east: north}.get(quantity) or (
                "velocity_east" if to_north else "velocity_north"
            )
            rules.append(
                asking.changed(
                    finding,
                    quantity=asking.with_prefix(finding, quantity if goes_north == to_north else other),
                    sign=finding.sign * old * new,
                )
            )
        turned = way.heading * chosen.heading
        rules += [asking.changed(f, sign=f.sign * turned) for f in headings]
        flip = -1 if way.mirrored != chosen.mirrored else 1
        rules += [asking.changed(f, sign=f.sign * flip) for f in rolls]
        choices.append((_in_words(way, work), tuple(rules)))
    return asking.how_it_lies([f for f, _ in axes], headings, rolls, choices)


def _in_words(way: Reading, work) -> str:
    """Say one reading: where the axes point, and how the heading counts."""
    found, senses = _crafts(work)[0], way.senses
    north, east = ("north", "south")[senses.north < 0], ("east", "west")[senses.east < 0]
    if work.plane is None:
        parts = [f"{found['latitude'].name!r} to the south"] if senses.north < 0 else []
        parts.append(f"{found['longitude'].name!r} to the {east}")
    else:
        pair = (work.plane.first.name, work.plane.second.name)
        words = (east, north) if senses.swapped else (north, east)
        parts = [f"{name!r} to the {word}" for name, word in zip(pair, words, strict=True)]
    if "heading" in found:
        parts.append("headings " + ("anticlockwise" if way.heading < 0 else "clockwise"))
    return ", ".join(parts)


def _landing_side(work) -> int:
    """Tell by an approach to the ship whether the landing area as read is angled to port (1) or not (-1)."""
    own, boat = work.own, work.boat
    heading, where = boat.si("heading"), _beside_ship(work)
    if own.motion is None or heading is None or where is None or work.alone or boat.motion is None:
        return 0
    ship = (
        [float(np.median(v)) for v in (boat.motion.north, boat.motion.east)]
        if boat.motion.speed.size
        else [0.0, 0.0]
    )
    north, east = own.motion.north - ship[0], own.motion.east - ship[1]
    along = [own.motion.middle(values) for values in where]
    distance, speed = np.hypot(*along), np.hypot(north, east)
    with np.errstate(invalid="ignore", divide="ignore"):
        inbound = -(along[0] * north + along[1] * east) / (distance * speed)
        near = (distance < _NEAR) & (speed > physics.FLYING) & (inbound > 0.97)
    rows = np.flatnonzero(near)[-_LAST:]
    if rows.size < physics.FEWEST - 2:
        return 0
    course = np.arctan2(east[rows], north[rows])
    to_port = angles.difference(own.motion.middle_angle(heading)[rows], course)
    middle = float(np.median(to_port))
    return int(np.sign(middle)) if _ANGLED[0] < abs(middle) < _ANGLED[1] else 0


def _beside_ship(work) -> tuple[np.ndarray, np.ndarray] | None:
    """Give how far north and east of the ship the aircraft is, m."""
    own, boat = work.own, work.boat
    if work.plane is not None:
        pairs = [(own.si(axis), boat.si(axis)) for axis in ("north", "east")]
        scale = 1.0, 1.0
    else:
        pairs = [(own.si(axis), boat.si(axis)) for axis in ("latitude", "longitude")]
        latitude = pairs[0][0]
        if latitude is None:
            return None
        scale = SEMI_MAJOR_AXIS, SEMI_MAJOR_AXIS * float(np.cos(np.nanmedian(latitude)))
    apart = [(a - b) * s for (a, b), s in zip(pairs, scale, strict=True) if a is not None and b is not None]
    return (apart[0], apart[1]) if len(apart) == 2 else None
