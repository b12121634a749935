"""Deciding the aircraft's heading, and with it how longitude and latitude count."""

from __future__ import annotations

import numpy as np

from deckward.foundation import angles
from deckward.recordings.recogniser import asking, attitude, mirrors, physics, places, unnamed
from deckward.recordings.recogniser.findings import Craft, Finding
from deckward.recordings.recogniser.places import Place
from deckward.recordings.recogniser.work import Work

#: how far a heading may be off the direction of motion, rad: beyond doubt; at all
_CLOSE, _AT_ALL = np.radians(8.0), np.radians(35.0)
#: a turn that shows in which unit a roll is, rad
TURNED = np.radians(20.0)
#: sizes of a magnetic variation where ships are, rad
_VARIATION = (np.radians(1.0), np.radians(35.0))
#: how far off it may be before magnetic north is suspected, rad
_SUSPECT = np.radians(2.5)


def roll_si(own: Craft, roll: Finding | None) -> np.ndarray | None:
    """Give the roll as it would be with the right wing down counting up, rad; by its range."""
    if roll is None:
        return None
    if roll.settled:
        return roll.si()
    return roll.si(attitude.angle_units(roll, "roll", most_rad=3.2)[0], 1)


def settle_heading_on_earth(work: Work, roll: Finding | None) -> None:
    """Decide on heading, and with it whether longitude or latitude count backwards."""
    own, place = work.own, work.place
    assert own.motion is not None and place is not None
    bank = roll_si(own, roll)
    candidates = sorted(
        own.candidates("heading"),
        key=lambda f: not (f.guess("heading", ship=False) or f.guesses[0]).true,
    )
    for heading in candidates:
        if not heading.column.known.size or _is_direction(own, heading):
            continue
        allowed = attitude.angle_units(heading, "heading")
        found = places.match_heading(own.motion, heading, allowed, bank, places.STRAIGHT)
        if not found:
            keep_heading_unchecked(work, heading, allowed)
            return
        if _keep_matched_heading(work, heading, found, place) and "heading" in own.found:
            return
    flipped = place.second.guess("longitude", ship=False)
    as_named = places.AS_NAMED
    if not candidates and flipped is not None and flipped.turned < 0:
        place.second.sign = -1
        place.second.why += "; its name says that it counts to the west"
        as_named = places.Senses(False, 1, -1)
        own.motion = as_named.of(own.motion)
    work.readings = [mirrors.Reading(as_named, 1)]
    if not candidates and places.IN_ONE_NUMBER in place.notes and not place.letters:
        _ask_hemispheres(work, place)


def _ask_hemispheres(work: Work, place: Place) -> None:
    """Ask where degrees and minutes lie that have neither a sign nor a letter."""
    for finding, quantity, ways in (
        (place.first, "latitude", ("north", "south")),
        (place.second, "longitude", ("east", "west")),
    ):
        guess = finding.guess(quantity, ship=False)
        told = guess is not None and (guess.turned or guess.ours)
        if not told and float(np.nanmin(finding.column.known)) >= 0.0:
            work.questions.append(asking.which_hemisphere(finding, *ways))


def _is_direction(own: Craft, heading: Finding) -> bool:
    """Leave out what is the direction of motion to the last digit: a track, or no wind at all."""
    guess = heading.guess("heading", ship=False)
    if own.motion is None or (guess is not None and (guess.ours or guess.true)):
        return False
    unit = attitude.angle_units(heading, "heading")[0]
    aside = physics.beside_track(own.motion, heading.si(unit, 1))
    if not (np.isfinite(aside.off) and aside.off < unnamed.TRACK_OFF and aside.turned > TURNED):
        return False
    heading.leave("it is the direction of motion, which the positions give")
    return True


def keep_heading_unchecked(work: Work, heading: Finding, allowed: list[str]) -> None:
    """Keep a heading that nothing moves against."""
    unit = allowed[0]
    work.own.keep("heading", heading, unit, 0.6, "named so; nothing moves fast enough to check it")


def _keep_matched_heading(work: Work, heading: Finding, found: list[places.Matched], place: Place) -> bool:
    own = work.own
    assert own.motion is not None
    best = found[0]
    plain = next((m for m in found if m.sign == 1 and not (m.senses.north < 0 or m.senses.east < 0)), None)
    turned = float(np.ptp(np.unwrap(own.motion.direction)))
    if plain is not None and plain.off < _AT_ALL:
        near = plain.off < best.off + np.radians(6.0) or (turned < np.radians(40.0) and plain.off < _CLOSE)
        if near:
            _keep_heading(work, heading, plain)
            work.readings = mirrors.plain(plain, heading)
            return True
    if best.off > _AT_ALL:
        return False
    ranked = mirrors.rank(
        found,
        lon=place.second.guess("longitude", ship=False),
        head=heading.guess("heading", ship=False),
        either_way=mirrors.counts_either_way(heading),
    )
    chosen = ranked[0][1]
    for finding, sense, way in (
        (place.first, chosen.senses.north, "the south"),
        (place.second, chosen.senses.east, "the west"),
    ):
        if sense < 0:
            finding.sign = -1
            finding.why += f"; heading and turns fit if it counts to {way}"
            finding.confidence = 0.9
    own.motion = chosen.senses.of(own.motion)
    _keep_heading(work, heading, chosen)
    work.readings = mirrors.readings(ranked)
    return True


def _keep_heading(work: Work, heading: Finding, match: places.Matched) -> None:
    """Keep a heading that fits the motion, unless it is magnetic."""
    own = work.own
    way = " with its sign turned" if match.sign < 0 else ""
    why = f"it follows the direction of motion to {np.degrees(match.off):.1f} deg in {match.unit}{way}"
    own.keep("heading", heading, match.unit, 0.97 if match.off < _CLOSE else 0.8, why, sign=match.sign)
    check_north(work, heading)


def check_north(work: Work, heading: Finding) -> None:
    """Leave out a heading that is magnetic; ask where the flight cannot tell."""
    own = work.own
    assert own.motion is not None
    aside = physics.beside_track(own.motion, heading.si())
    guess = heading.guess("heading", ship=False)
    if guess is not None and guess.true:
        heading.why += "; the name says true"
        return
    if guess is not None and guess.ours:
        return
    if np.isfinite(aside.constant):
        if abs(aside.constant) > _SUSPECT:
            heading.leave(
                f"it is {np.degrees(aside.constant):+.0f} deg off the direction of motion on all courses: "
                "magnetic, and headings here are true",
                0.85,
            )
            del own.found["heading"]
        return
    blown = _beside_the_air(work, heading)
    if blown is not None and abs(blown) < _SUSPECT:
        heading.why += "; the wind in the file explains what is left: true"
    elif abs(aside.middle) > _SUSPECT:
        work.questions.append(asking.true_or_magnetic([heading], float(np.degrees(aside.middle))))
    elif _another_compass(own, heading):
        work.questions.append(asking.true_or_magnetic([heading], None))
    else:
        work.unsure = heading


def _another_compass(own: Craft, heading: Finding) -> bool:
    """Whether another heading, that no word tells from this one, is off it by a variation all the way."""
    here = heading.si()
    for other in own.candidates("heading"):
        if other is heading or not other.column.known.size:
            continue
        guess = other.guess("heading", ship=False)
        if guess is None or guess.true or guess.turned:
            continue
        apart = angles.difference(other.si(heading.unit, heading.sign), here)
        apart = apart[np.isfinite(apart)]
        if apart.size and float(np.ptp(apart)) < _SUSPECT and _VARIATION[0] < abs(float(np.median(apart))):
            return abs(float(np.median(apart))) < _VARIATION[1]
    return False


def _beside_the_air(work: Work, heading: Finding) -> float | None:
    """Give how far a heading is off the direction through the air, by wind columns, rad; None without."""
    own = work.own
    assert own.motion is not None
    told = []
    for quantity in ("wind_from", "wind_speed"):
        found = own.first(quantity)
        guess = found.guess(quantity, ship=False) if found is not None else None
        if found is None or guess is None or guess.unit is None:
            return None
        told.append(own.motion.middle(found.si(guess.unit, 1)))
    source, speed = told
    north = own.motion.north + speed * np.cos(source)
    east = own.motion.east + speed * np.sin(source)
    aside = angles.difference(own.motion.middle_angle(heading.si()), np.arctan2(east, north))
    aside = aside[np.isfinite(aside) & (own.motion.speed > physics.FLYING)]
    return float(np.median(aside)) if aside.size else None
