"""Deciding what the columns of the aircraft hold, in the order in which one helps the next."""

from __future__ import annotations

import numpy as np
from msgspec import Struct, field

from deckward.foundation import angles, units
from deckward.foundation.units import BY_SUFFIX
from deckward.recordings.drafted import Question
from deckward.recordings.recogniser import (
    air,
    asking,
    attitude,
    mirrors,
    nothing_named,
    physics,
    places,
    planes,
    unnamed,
)
from deckward.recordings.recogniser.findings import Craft, Finding
from deckward.recordings.recogniser.names import words_in
from deckward.recordings.recogniser.places import Place
from deckward.recordings.recogniser.times import Clock

#: speed that a flight without a clock is taken to have while its other channels are looked at, m/s
_ASSUMED_SPEED = 68.0
#: speeds of flights around a ship, m/s, and a wind that nobody flies in
_LEAST_FLIGHT, _MOST_FLIGHT, _WIND_AT_MOST = 25.0, 400.0, 30.0
#: how far a heading may be off the direction of motion, rad: beyond doubt; at all
_CLOSE, _AT_ALL = np.radians(8.0), np.radians(35.0)
#: log of how much more recorders count the right roll up than the left one, nine to one by our choice, and of
#: the odds at which it is sure: a hundred to one
_USUAL_ROLL, _SURE = float(np.log(9.0)), float(np.log(99.0))
#: a turn that shows in which unit a roll is, rad
TURNED = np.radians(20.0)
#: how far off it may be before magnetic north is suspected, rad
_SUSPECT = np.radians(2.5)
#: how far an angle of attack may be off pitch minus climb, rad
_NO_ANGLE = np.radians(4.0)
#: words of an altitude that is no barometer's
_MEASURED = frozenset(("gps", "gnss", "geo", "geom", "geometric", "geodetic", "wgs", "ellipsoid", "true"))


class Work(Struct):
    """Everything that drafting knows so far."""

    findings: list[Finding]
    own: Craft
    boat: Craft
    every: int
    rate: float | None
    #: rows a second by a remark in the file
    rate_said: float | None = None
    clock: Clock | None = None
    place: Place | None = None
    plane: planes.Plane | None = None
    alone: bool = False
    time_format: str | None = None
    likely_rate: float | None = None
    #: words by which a person's latitude and longitude are named
    place_words: frozenset[str] = frozenset()
    #: words that mark the columns of a ship that was found by her motion
    ship_words: frozenset[str] = frozenset()
    #: a heading that fits the motion on one course only, where variation and wind may cancel
    unsure: Finding | None = None
    #: how positions and headings may lie: as they were read first, then what looks the same
    readings: list[mirrors.Reading] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)


def settle_place(work: Work, clocks: list[Clock]) -> None:
    """Find the position and the clock, and the motion they make."""
    rows = work.findings[0].column.numbers.size if work.findings else 0
    tried = clocks
    if not clocks and work.findings:
        for rate in dict.fromkeys((work.rate or work.rate_said, work.rate)):
            counted = np.arange(rows) * work.every / (rate or 20.0)
            tried = [Clock(work.findings[0], counted, "s", None, "", 0.0)]
            if rate is None or rate == work.rate or _flies(work, tried):
                work.rate = rate
                break
    work.place = places.geodetic(work.own, tried, work.findings)
    if work.place is not None:
        _keep_geodetic(work, work.place)
    else:
        work.plane = planes.find_plane(work.own, tried, work.findings)
        if work.plane is not None:
            work.own.motion = work.plane.motion
    clock = work.place.clock if work.place else work.plane.clock if work.plane else None
    if clocks:
        work.clock = clock or clocks[0]
        work.own.time = work.clock.seconds
    elif tried:
        work.own.time = tried[0].seconds
        _guess_rate(work, rows)


def _flies(work: Work, clocks: list[Clock]) -> bool:
    """Whether with a clock the motion is that of a jet, and agrees with an airspeed whose unit is named."""
    found = places.geodetic(work.own, clocks, work.findings) or planes.find_plane(
        work.own, clocks, work.findings
    )
    if found is None or not found.motion.speed.size:
        return False
    fast = float(np.percentile(found.motion.speed, 60))
    told = _airspeed_told(work.own)
    return _LEAST_FLIGHT < fast < _MOST_FLIGHT and (told is None or abs(fast - told) < _WIND_AT_MOST)


def _guess_rate(work: Work, rows: int) -> None:
    """Without a clock, scale time so that the speed is what the airspeed says, or a usual one."""
    motion = work.own.motion
    if motion is None or not motion.speed.size:
        return
    told = _airspeed_told(work.own)
    fast = float(np.percentile(motion.speed, 60))
    scale = fast / (told or _ASSUMED_SPEED)
    if work.rate is None and scale > 0.0:
        work.own.paced = told is not None
        if told is not None:
            work.likely_rate = 20.0 / scale
        work.own.motion = physics.Motion(
            motion.start, motion.end, motion.step * scale, motion.north / scale, motion.east / scale
        )
        if work.plane is not None:
            work.plane.motion = work.own.motion


def _airspeed_told(own: Craft) -> float | None:
    """Give the middle one of the airspeeds whose unit is named, m/s."""
    told = None
    for finding in own.candidates("true_airspeed", "indicated_airspeed", "speed"):
        guess = next((g for g in finding.guesses if g.unit is not None), None)
        if guess is not None and guess.unit is not None and finding.column.known.size:
            told = float(np.median(finding.column.known)) * BY_SUFFIX[guess.unit].factor
    return told


def _keep_geodetic(work: Work, place: Place) -> None:
    work.own.motion = place.motion
    guess = place.first.guess("latitude", ship=False)
    told = guess is not None and guess.unit is not None
    why = [
        "named so",
        "the name says its unit" if told else f"its range and speed fit {place.unit}",
        *place.notes,
    ]
    for finding, quantity in ((place.first, "latitude"), (place.second, "longitude")):
        work.own.keep(quantity, finding, place.unit, 0.97 if told else 0.93, "; ".join(why))
    for finding in place.letters:
        finding.leave("the letter of a hemisphere; it is read with the column before it", 0.97)


def settle_flight(work: Work) -> None:
    """Decide on attitude, heights, speeds and the rest of the aircraft's columns."""
    own = work.own
    unnamed.guess_tilt(own)
    unnamed.guess_by_motion(own)
    roll = _first(own, "roll")
    if work.plane is not None:
        planes.settle_plane(work, roll)
    elif own.motion is not None:
        _settle_heading_on_earth(work, roll)
    if own.motion is None:
        air.by_name_alone(work)
        return
    _settle_roll(work, roll)
    _settle_heights_and_nose(work)
    air.settle_air(work)


def _first(craft: Craft, quantity: str) -> Finding | None:
    return next((f for f in craft.candidates(quantity) if f.column.known.size), None)


def roll_si(own: Craft, roll: Finding | None) -> np.ndarray | None:
    """Give the roll as it would be with the right wing down counting up, rad; by its range."""
    if roll is None:
        return None
    if roll.settled:
        return roll.si()
    return roll.si(attitude.angle_units(roll, "roll", most_rad=3.2)[0], 1)


def _settle_heading_on_earth(work: Work, roll: Finding | None) -> None:
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
    else:
        work.unsure = heading


def _beside_the_air(work: Work, heading: Finding) -> float | None:
    """Give how far a heading is off the direction through the air, by wind columns, rad; None without."""
    own = work.own
    assert own.motion is not None
    told = []
    for quantity in ("wind_from", "wind_speed"):
        found = next((f for f in own.candidates(quantity) if f.column.known.size), None)
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


def _settle_roll(work: Work, roll: Finding | None) -> None:
    """Decide on the roll by the turns it makes."""
    own = work.own
    if roll is None or own.motion is None:
        return
    guess = roll.guess("roll", ship=False)
    allowed = attitude.angle_units(roll, "roll", most_rad=3.2)
    turned = own.motion.speed.size and float(np.ptp(np.unwrap(own.motion.direction))) > TURNED
    for unit in sorted(allowed, key=lambda unit: unit != _unit_as_of(own, allowed)):
        usual = unit == _unit_as_of(own, allowed)
        if not usual and not turned:
            continue
        sign = _sign_by_turns(own, roll.si(unit, 1), sure=not usual)
        if sign:
            side = "right" if sign > 0 else "left"
            why = f"it makes the turns that are flown if it is in {unit} and {side} wing down counts up"
            own.keep("roll", roll, unit, 0.96, why, sign=sign)
            if sign < 0 and "heading" not in own.found and not (guess is not None and guess.turned < 0):
                work.readings += [each.mirror_image for each in work.readings]
            return
    unit = _unit_as_of(own, allowed)
    if guess is not None and guess.turned:
        side = "left" if guess.turned < 0 else "right"
        own.keep(
            "roll",
            roll,
            unit,
            0.85,
            f"the name says {side} counts up; no turn to check it by",
            sign=guess.turned,
        )
        return
    own.keep("roll", roll, unit, 0.6, "named so; there is no turn to check its sign by")
    if not (guess is not None and guess.ours):
        work.questions.append(asking.which_way_up(roll, "right wing down", "left wing down"))


def _sign_by_turns(own: Craft, roll: np.ndarray, *, sure: bool) -> int:
    """Give the sign that a roll has by the turns it makes, 0 where they do not tell.

    Where motion or heading follow it closely they tell; else what is left when the wind from the side is
    parted off, if that makes it sure enough, rolls to the right counting up on most recorders.
    """
    assert own.motion is not None
    heading = own.si("heading")
    for witness in (None, heading):
        fit = physics.turn_by_roll(own.motion, roll, witness)
        close = abs(fit.agreement) > (0.9 if sure else 0.6) and fit.beyond_chance
        if close and 0.3 < abs(fit.slope) < 3.0:
            return int(np.sign(fit.agreement))
    if heading is None or sure:
        return 0
    bank = physics.bank(own.motion, roll, heading)
    likely = bank.odds + _USUAL_ROLL
    return int(np.sign(likely)) if bank.likely and abs(likely) > _SURE else 0


def _unit_as_of(own: Craft, allowed: list[str]) -> str:
    """Of the units that an angle can be in, take the one that the other angles are in."""
    if len(allowed) == 1:
        return allowed[0]
    for quantity in ("heading", "pitch", "latitude"):
        unit = own.found[quantity].unit if quantity in own.found else None
        if unit in allowed:
            return str(unit)
    return allowed[0]


def _settle_heights_and_nose(work: Work) -> None:
    """Decide on altitude, pitch, angle of attack and vertical speed, each by the others."""
    own = work.own
    assert own.motion is not None
    if work.plane is None:
        unnamed.guess_altitude(own)
        if not own.candidates("altitude", "pressure_altitude", "up", "z", "vertical_speed", "sink"):
            nothing_named.guess_heights(own)
    altitude = _altitude(work)
    if altitude is not None:
        unnamed.guess_rate(own, altitude)
        if altitude.unit is not None:
            unnamed.guess_nose(own, physics.climb_angle(own.motion, own.motion.rate(altitude.si())))
    pitch, attack = _first(own, "pitch"), _first(own, "angle_of_attack")
    rate, kind = next(
        ((f, q) for q in ("vertical_speed", "sink") for f in own.candidates(q) if f.column.known.size),
        (None, "vertical_speed"),
    )
    if altitude is None:
        return
    if pitch is None and attack is None and own.motion is not None:
        votes = [altitude.unit] if altitude.unit else _units_by_rate(own, altitude, rate, kind)
        if len(votes) == 1:
            nothing_named.guess_noses(
                own, physics.climb_angle(own.motion, own.motion.rate(altitude.si(votes[0])))
            )
            pitch, attack = _first(own, "pitch"), _first(own, "angle_of_attack")
    heights = [altitude.unit] if altitude.unit is not None else ["m", "ft"]
    bank = own.si("roll")
    usual = own.found["roll"].unit if "roll" in own.found else None
    tried = attitude.noses(own, altitude, heights, pitch, bank, attack, usual) if pitch is not None else []
    if pitch is not None and _no_angle(attack, tried):
        attack = None
        tried = attitude.noses(own, altitude, heights, pitch, bank, None, usual)
    rate_unit = None
    if altitude.unit is None:
        climbs = (
            attitude.height_by_climbs(own, altitude, pitch, attack, tried[0] if tried else None, bank)
            if pitch is not None and attack is not None
            else None
        )
        rate_unit = _decide_height(work, altitude, rate, kind, tried, attack is not None, climbs)
        if own.motion is not None and not altitude.asked and (pitch is None) != (attack is None):
            unnamed.guess_nose(own, physics.climb_angle(own.motion, own.motion.rate(altitude.si())))
            pitch, attack = _first(own, "pitch"), _first(own, "angle_of_attack")
            if pitch is not None and attack is not None:
                tried = attitude.noses(own, altitude, [str(altitude.unit)], pitch, bank, attack, usual)
    if not altitude.asked:
        tried = [nose for nose in tried if nose.height == altitude.unit]
        if pitch is not None and _no_angle(
            attack, tried
        ):  # it seemed to be one in the other unit of the altitude
            attack = None
            tried = attitude.noses(own, altitude, [str(altitude.unit)], pitch, bank, None, usual)
    if pitch is not None:
        _settle_pitch(work, pitch, tried)
    if attack is not None:
        _settle_attack(work, attack, tried)
    if rate is not None:
        air.settle_rate(work, rate, kind, altitude, rate_unit)


def _units_by_rate(own: Craft, altitude: Finding, rate: Finding | None, kind: str) -> list[str]:
    return [vote.unit for vote in attitude.height_by_rate(own, altitude, rate, kind)]


def _no_angle(attack: Finding | None, tried: list[attitude.Nose]) -> bool:
    """Leave an angle of attack out that is far off pitch minus climb however both are read."""
    if attack is None or not tried or tried[0].attack is None or tried[0].rest <= _NO_ANGLE:
        return False
    off = np.degrees(tried[0].rest)
    attack.leave(f"it is {off:.0f} deg off pitch minus climb in any unit: a gauge's own?", 0.8)
    return True


def _altitude(work: Work) -> Finding | None:
    """Give the column of heights; its unit is set only where the name (or the plane) tells it."""
    own = work.own
    if work.plane is not None:
        return own.found.get("up")
    ranked = [f for f in own.candidates("altitude") if f.column.known.size]
    pressure = False
    if not ranked:
        ranked = [f for f in own.candidates("pressure_altitude") if f.column.known.size]
        if not ranked:
            return _third_axis(own)
        ranked[0].why = "the only altitude there is, by its name one by pressure"
        pressure = True
    altitude = max(ranked, key=lambda f: _height_score(f))
    guess = altitude.guess("altitude", ship=False) or altitude.guesses[0]
    why = altitude.why or "named so"
    own.keep("altitude", altitude, guess.unit, 0.95 if guess.unit else 0.5, why)
    if guess.unit is not None:
        altitude.why += "; the name says its unit"
    if pressure:
        work.questions.append(asking.pressure_or_not(altitude))
    return altitude


def _third_axis(own: Craft) -> Finding | None:
    """Take an axis that points up for the altitude, beside a place on the earth that has none."""
    ranked = [f for f in own.candidates("up", "z") if f.column.known.size]
    unit = next((g.unit for f in ranked[:1] for g in f.guesses if g.unit is not None), None)
    if len(ranked) != 1 or float(np.median(ranked[0].column.known)) <= 0.0:
        return None
    own.keep(
        "altitude", ranked[0], unit, 0.85 if unit else 0.5, "the axis that points up, beside a place on earth"
    )
    if unit is not None:
        ranked[0].why += "; the name says its unit"
    return ranked[0]


def _height_score(finding: Finding) -> float:
    guess = finding.guess("altitude", ship=False)
    if guess is None:
        return 0.0
    # beside one that says how it was measured, an altitude of no more words is as likely a barometer's
    measured = 0.3 * bool(_MEASURED & words_in(finding.name))
    return (
        guess.score
        + measured
        + 0.1 * guess.true
        + 0.05 * (guess.unit is not None)
        - 0.5 * finding.column.constant
    )


def _decide_height(work, altitude, rate, kind, tried, with_attack, climbs) -> str | None:
    """Take the altitude's unit from what tells it best; ask where nothing does."""
    own = work.own
    votes = attitude.height_by_rate(own, altitude, rate, kind)
    nose = attitude.height_by_nose(tried, with_attack) or climbs
    if nose is not None and attitude.too_steep(own, altitude, nose.unit):
        nose = None
    glide = attitude.height_by_glide(own, altitude) or attitude.height_by_approach(
        own, altitude, _distance_to_ship(work)
    )
    if len(votes) > 1:
        other = nose or glide
        votes = [v for v in votes if other is not None and v.unit == other.unit]
        votes = [attitude.Vote(v.unit, 0.9, f"{v.why}; {other.why}", v.rate_unit) for v in votes if other]
    votes += [vote for vote in (nose, glide) if vote is not None]
    if votes:
        best = max(votes, key=lambda vote: vote.confidence)
        altitude.unit, altitude.confidence = best.unit, best.confidence
        altitude.why += f"; {best.why}"
        return next((v.rate_unit for v in votes if v.unit == best.unit and v.rate_unit), None)
    altitude.unit = "m"
    altitude.why += "; nothing in the flight tells metres from feet"
    linked = []
    both = attitude.height_by_rate(own, altitude, rate, kind)
    if rate is not None and len(both) > 1:
        sign = -1 if kind == "sink" else 1
        own.keep(
            "vertical_speed", rate, "mps", 0.4, "its rate is the altitude's, number for number", sign=sign
        )
        linked.append((rate, {vote.unit: vote.rate_unit for vote in both if vote.rate_unit}))
    heights = [altitude]
    work.questions.append(asking.which_height_unit(heights, linked))
    return None


def _distance_to_ship(work: Work) -> np.ndarray | None:
    """Give how far the ship is from the aircraft along the surface (n,), m; None where she has no track."""
    own, place = work.own, work.place
    latitude, longitude = own.si("latitude"), own.si("longitude")
    if place is None or place.clock is None or latitude is None or longitude is None:
        return None
    hers = places.geodetic(work.boat, [place.clock], work.findings, place.unit)
    if hers is None:
        return None
    north, east, _, _ = places.read_degrees(hers.first, hers.second, work.findings)
    factor = units.DEGREE if hers.unit == "deg" else 1.0
    return physics.distance(latitude, place.second.sign * longitude, north * factor, east * factor)


def _settle_pitch(work: Work, pitch: Finding, tried: list[attitude.Nose]) -> None:
    own = work.own
    allowed = attitude.angle_units(pitch, "pitch", most_rad=1.58)
    guess = pitch.guess("pitch", ship=False)
    if tried and tried[0].rest < _NO_ANGLE:
        best = tried[0]  # of both heights, where nothing told the unit
        unit, sign = best.pitch
        other = next((n for n in tried if n.pitch[0] == unit and n.pitch[1] != sign), None)
        clear = other is None or other.rest > best.rest + np.radians(1.0)
        if clear:
            way = "nose up" if sign > 0 else "nose down"
            why = (
                f"in {unit} it makes an angle of attack of {np.degrees(best.middle):.0f} deg; {way} counts up"
            )
            own.keep("pitch", pitch, unit, 0.95, why, sign=sign)
            return
    sign = guess.turned if guess is not None and guess.turned else 1
    own.keep(
        "pitch",
        pitch,
        _unit_as_of(own, allowed),
        0.6,
        "named so; the flight does not show its sign",
        sign=sign,
    )
    if not (guess is not None and (guess.ours or guess.turned)):
        work.questions.append(asking.which_way_up(pitch, "nose up", "nose down"))


def _settle_attack(work: Work, attack: Finding, tried: list[attitude.Nose]) -> None:
    own = work.own
    best = next((nose for nose in tried if nose.attack is not None), None)
    if best is not None and best.attack is not None:
        unit, sign = best.attack
        why = f"it is pitch minus climb angle to {np.degrees(best.rest):.1f} deg in {unit}"
        own.keep(
            "angle_of_attack", attack, unit, 0.95 if best.rest < np.radians(2.0) else 0.75, why, sign=sign
        )
        height, guess = own.found.get("altitude"), attack.guess("angle_of_attack", ship=False)
        other = next((n for n in tried if n.height != best.height), None)
        unlike = height is not None and height.asked and other is not None and other.rest > _NO_ANGLE
        if unlike and guess is not None and guess.unit is None:
            work.questions.append(asking.angle_or_gauge(attack))
        return
    allowed = attitude.angle_units(attack, "angle_of_attack", most_rad=0.8)
    middle = float(np.median(attack.column.known))
    unit = allowed[0] if len(allowed) == 1 else ("deg" if abs(middle) > 0.8 else "rad")
    if units.DEGREE < abs(middle) * BY_SUFFIX[unit].factor < 20.0 * units.DEGREE:
        sign = 1 if middle > 0 else -1
        why = "named so; its size is that of an approach"
        own.keep("angle_of_attack", attack, unit, 0.75, why, sign=sign)
        guess = attack.guess("angle_of_attack", ship=False)
        if guess is not None and guess.unit is None and not guess.ours:
            work.questions.append(asking.angle_or_gauge(attack))
