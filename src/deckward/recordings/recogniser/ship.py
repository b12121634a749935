"""Deciding what the columns of the ship hold, after the aircraft's: the same recorder wrote both."""

from __future__ import annotations

import numpy as np

from deckward.foundation.units import BY_SUFFIX
from deckward.recordings.recogniser import asking, attitude, mirrors, names, physics, places, planes
from deckward.recordings.recogniser.findings import Finding

#: tilt that moves ramp and lens by a few centimetres at most, rad
_STILL = {"pitch": np.radians(0.01), "roll": np.radians(0.03)}
#: seconds at rest on the deck, and how well the tilts must agree there, to tell a sign by
_RESTED, _AGREED = 15.0, 0.9
#: how far a ship's heading may be off her course before it is asked about, rad
_SUSPECT = np.radians(3.0)


def settle_ship(work) -> None:
    """Decide on the ship's columns, beside the aircraft's or in a file of her own."""
    if work.alone:
        work.boat.ship = False
    boat = work.boat
    boat.time = work.own.time
    if work.alone:
        boat.found |= work.own.found
        boat.motion = work.own.motion
        if work.plane is not None:
            _alone_in_plane(work)
        _settle_height(work, "up" if work.plane is not None else "altitude")
    elif work.plane is not None:
        _in_the_same_plane(work)
    else:
        _on_earth(work)
    _settle_heading(work)
    _settle_tilts(work)
    heading = boat.found.get("heading")
    if work.unsure is not None and not (heading is not None and heading.confidence > 0.9):
        work.questions.append(asking.true_or_magnetic([work.unsure], None))
    elif work.unsure is not None:
        work.unsure.why += "; the ship's heading is true"
    mirrors.settle(work)
    if work.plane is not None and not work.plane.unit_known:
        lengths = [f for f in work.findings if f.quantity in ("north", "east", "up") and _nameless_unit(f)]
        rate = work.own.found.get("vertical_speed")
        ways = {"m": "mps", "ft": "fps"}
        linked = [(rate, ways)] if rate is not None and rate.unit in ways.values() else []
        linked = [(f, by) for f, by in linked if _nameless_unit(f)]
        work.questions.append(asking.which_height_unit(lengths, linked))


def _nameless_unit(finding: Finding) -> bool:
    return all(guess.unit is None for guess in finding.guesses)


def _on_earth(work) -> None:
    """Read the ship's latitude and longitude as the aircraft's were read."""
    boat, own = work.boat, work.place
    clocks = [work.clock] if work.clock is not None else []
    if not clocks and work.own.time is not None:
        clocks = [places.Clock(work.findings[0], work.own.time, "s", None, "", 0.0)]
    place = places.geodetic(boat, clocks, work.findings, own.unit if own is not None else None)
    if place is None:
        return
    unit, sign, why = place.unit, 1, ["named as the ship's"]
    guess = place.first.guess("latitude", ship=True)
    if own is not None:
        if guess is None or guess.unit is None:
            why.append("written as the aircraft's is")
        sign = own.second.sign
    for finding in place.letters:
        finding.leave("the letter of a hemisphere; it is read with the column before it", 0.97)
    why += place.notes
    boat.keep("latitude", place.first, unit, 0.94, "; ".join(why), sign=own.first.sign if own else 1)
    boat.keep("longitude", place.second, unit, 0.94, "; ".join(why), sign=sign)
    boat.motion = place.motion.mirrored(own.first.sign if own else 1, sign)
    _settle_height(work, "altitude")


def _in_the_same_plane(work) -> None:
    """Lay the ship's axes as the aircraft's: the same letters mean the same."""
    boat = work.boat
    same = {}
    for quantity in ("north", "east", "up"):
        finding = work.own.found.get(quantity)
        if finding is None:
            return
        letter = next((g.quantity for g in finding.guesses if g.quantity in _LETTERS), None)
        words = (letter,) if letter else ()
        if quantity == "up" and letter is None:
            words = ("altitude",)
        match = next((f for w in words for f in boat.candidates(w) if f.column.known.size), None)
        if match is not None:
            same[quantity] = (match, finding)
    for quantity, (match, finding) in same.items():
        guess = next((g for g in match.guesses if g.ship), None)
        unit = (guess.unit if guess else None) or finding.unit
        why = f"named as the ship's; lies as {finding.name!r} does"
        boat.keep(quantity, match, unit, finding.confidence, why, sign=finding.sign)
    north, east = boat.si("north"), boat.si("east")
    if north is not None and east is not None and work.own.time is not None:
        boat.motion = physics.motion_in_plane(work.own.time, north, east, span=5.0)


_LETTERS = ("x", "y", "z", "north", "east", "up", "down")


def _alone_in_plane(work) -> None:
    """Keep the axes of a ship's own file as they are named; ask where they are not."""
    plane = work.plane
    work.readings = [mirrors.Reading(places.AS_NAMED, 1)] if plane.named else list(planes.ANY_WAY)
    plane.senses = work.readings[0].senses
    north, east = (plane.first, plane.second) if plane.named else (plane.second, plane.first)
    for quantity, finding, sign in (("north", north, 1), ("east", east, 1), ("up", plane.up, plane.up_sign)):
        work.boat.keep(quantity, finding, plane.unit, 0.9 if plane.named else 0.4, "named so", sign=sign)
    work.boat.motion = plane.senses.of(plane.motion)


def _settle_height(work, quantity: str) -> None:
    boat = work.boat
    if quantity in boat.found:
        return
    finding = boat.first("altitude")
    if finding is None and quantity == "altitude":  # an axis that points up, as it was for the aircraft
        finding = boat.first("up", "z")
    if finding is None:
        return
    guess = next((g for q in ("altitude", "up", "z") if (g := finding.guess(q, ship=boat.ship))), None)
    if guess is not None and guess.unit is not None:
        boat.keep(quantity, finding, guess.unit, 0.95, "named so; the name says its unit")
        return
    own = work.own.found.get("altitude")
    known = own is not None and own is not finding and not own.asked
    like = _unit_of_like(work, finding) if known else None
    if like is not None:
        boat.keep(quantity, finding, like, 0.85, "named so; in the unit of the aircraft's of that name")
        return
    asked = next((q for q in work.questions if own is not None and own.asked and own.name in q.columns), None)
    told = own is not None and any(g.unit is not None for g in own.guesses if g.quantity == "altitude")
    if own is not None and own is not finding and not told:
        boat.keep(quantity, finding, own.unit, 0.85, f"named so; in the unit of {own.name!r}")
        if asked is not None:
            work.questions.remove(asked)
            linked = [f for f in work.findings if f.asked and f.quantity == "vertical_speed"]
            by = [(f, {"m": "mps", "ft": "fps"}) for f in linked]
            work.questions.append(asking.which_height_unit([own, finding], by))
        return
    boat.keep(quantity, finding, "m", 0.4, "named so; nothing tells its unit")
    if float(np.abs(finding.column.known).max()) > 0.3:
        work.questions.append(asking.which_height_unit([finding], []))


def _unit_of_like(work, finding: Finding) -> str | None:
    """Give the unit of the aircraft's column that is named as a height of the ship is, by the altitude's."""
    own = work.own.found["altitude"]
    words = names.bare_words(finding.name)
    for other in work.findings:
        if any(g.ship or g.unit for g in other.guesses) or names.bare_words(other.name) != words:
            continue
        if other is own:
            return str(own.unit)
        fit = physics.follow(own.si(), other.column.numbers)
        for unit in ("m", "ft"):
            if fit.agreement > 0.999 and abs(fit.slope * BY_SUFFIX[unit].factor - 1.0) < 0.01:
                return unit
    return None


def _settle_heading(work) -> None:
    """Decide on the ship's heading by her course and the aircraft's heading."""
    boat, own = work.boat, work.own.found.get("heading")
    ranked = sorted(boat.candidates("heading"), key=lambda f: not _true(f, boat.ship))
    ranked += [f for f in boat.candidates("track") if f.column.known.size]
    finding = next((f for f in ranked if f.column.known.size), None)
    if finding is None:
        return
    guess = finding.guess("heading", ship=boat.ship) or finding.guesses[0]
    allowed = attitude.angle_units(finding, guess.quantity, ship=boat.ship)
    if own is not None and len(allowed) > 1 and own.unit in allowed:
        allowed = [own.unit]
    unit, sign = allowed[0], own.sign if own is not None and not work.alone else 1
    why, confidence = "named as the ship's", 0.8
    if boat.motion is not None and boat.motion.speed.size and np.median(boat.motion.speed) > physics.SAILING:
        sides = {
            (u, s): physics.beside_track(boat.motion, finding.si(u, s), physics.SAILING)
            for u in allowed
            for s in (sign, -sign)
        }
        sides = {way: aside for way, aside in sides.items() if np.isfinite(aside.off)}
        if len(work.readings) == len(planes.ANY_WAY):
            sides = {}
        if sides:
            plain = sides.get((unit, sign))
            best = min(sides, key=lambda way: sides[way].off)
            if plain is None or sides[best].off < plain.off - np.radians(20.0):
                unit, sign = best
            aside = sides[(unit, sign)]
            why = f"it follows the ship's course to {np.degrees(aside.off):.1f} deg in {unit}"
            confidence = 0.95 if aside.off < _SUSPECT else 0.6
            boat.keep("heading", finding, unit, confidence, why, sign=sign)
            if aside.off > np.radians(60.0):
                finding.why = f"named as the ship's; it is {np.degrees(aside.off):.0f} deg off her course"
            elif aside.off > _SUSPECT and not guess.true and not guess.ours:
                work.questions.append(asking.true_or_magnetic([finding], float(np.degrees(aside.middle))))
            return
    if own is not None:
        why += "; read as the aircraft's is"
    elif len(allowed) > 1:
        unit = next((f.unit for f in _angles_known(work) if f.unit in allowed), unit)
    boat.keep("heading", finding, unit, confidence, why, sign=sign)
    if own is None and len(allowed) > 1 and not any(f.unit in allowed for f in _angles_known(work)):
        work.questions.append(asking.which_angle_unit(finding))


def _angles_known(work) -> list[Finding]:
    """Give the aircraft's angles whose unit was decided."""
    found = [work.own.found.get(q) for q in ("pitch", "roll", "angle_of_attack", "latitude")]
    return [f for f in found if f is not None and f.confidence > 0.7]


def _true(finding: Finding, ship: bool) -> bool:
    guess = finding.guess("heading", ship=ship)
    return guess is not None and guess.true


def _settle_tilts(work) -> None:
    """Decide on the ship's pitch and roll; their signs are asked where no parked aircraft shows them."""
    boat = work.boat
    for quantity in ("pitch", "roll"):
        finding = boat.first(quantity)
        if finding is None:
            continue
        guess = finding.guess(quantity, ship=boat.ship)
        assert guess is not None, "a candidate has a guess"
        unit = _tilt_unit(work, finding, quantity)
        size = float(np.percentile(np.abs(finding.si(unit, 1)[np.isfinite(finding.column.numbers)]), 98))
        if guess.ours:
            boat.keep(quantity, finding, unit, 1.0, "a name of ours")
        elif size < _STILL[quantity]:
            boat.keep(
                quantity,
                finding,
                unit,
                0.8,
                "named so; it hardly moves, so that its sign makes no difference",
            )
        elif guess.turned:
            boat.keep(
                quantity,
                finding,
                unit,
                0.92,
                "named so; the name says which way it counts",
                sign=guess.turned,
            )
        else:
            rested = _on_deck(work, quantity, finding, unit)
            sign = rested or 1
            why = (
                "the parked aircraft tilts with it"
                if rested
                else "named so; nothing shows which way it counts"
            )
            boat.keep(quantity, finding, unit, 0.9 if rested else 0.5, why, sign=sign)
            if not rested:
                work.questions.append(asking.which_way_tilted(finding, quantity))
    for finding in boat.candidates("tilt"):
        if finding.column.known.size and np.ptp(finding.column.known) > 0.0:
            unit = _tilt_unit(work, finding, "tilt")
            boat.keep(
                "pitch" if "pitch" not in boat.found else "roll",
                finding,
                unit,
                0.4,
                "a tilt of the ship; which one is not said",
            )
            work.questions.append(asking.which_tilt(finding, unit))


def _tilt_unit(work, finding: Finding, quantity: str) -> str:
    allowed = attitude.angle_units(finding, quantity, ship=work.boat.ship, most_rad=0.6)
    for other in ("pitch", "roll", "heading"):
        own = work.own.found.get(other)
        if own is not None and own.unit in allowed:
            return str(own.unit)
    return allowed[0]


def _on_deck(work, quantity: str, finding: Finding, unit: str) -> int:
    """Tell the sign by an aircraft that stands on the deck; 0 where none stands there for long."""
    own, boat = work.own, work.boat
    nose = own.si(quantity)
    if own.motion is None or boat.motion is None or nose is None or own.time is None:
        return 0
    if own.motion.speed.size == 0 or boat.motion.speed.size == 0:
        return 0
    pace = float(np.median(boat.motion.speed))
    still = np.abs(own.motion.speed - pace) < 1.5
    rows = np.zeros(own.time.size, bool)
    for start, end, stands in zip(own.motion.start, own.motion.end, still, strict=True):
        rows[start:end] |= bool(stands)
    rested = float(np.nansum(np.diff(own.time)[rows[:-1]])) if rows.any() else 0.0
    if rested < _RESTED:
        return 0
    fit = physics.follow(finding.si(unit, 1)[rows], nose[rows], offset=True)
    return int(np.sign(fit.slope)) if abs(fit.agreement) > _AGREED and 0.6 < abs(fit.slope) < 1.5 else 0
