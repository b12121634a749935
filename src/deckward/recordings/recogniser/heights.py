"""Deciding altitude, pitch, angle of attack and vertical speed, each by the others."""

from __future__ import annotations

import numpy as np

from deckward.foundation import units
from deckward.foundation.units import BY_SUFFIX
from deckward.recordings.recogniser import air, asking, attitude, nothing_named, physics, places, unnamed
from deckward.recordings.recogniser.findings import Craft, Finding
from deckward.recordings.recogniser.names import words_in
from deckward.recordings.recogniser.work import Work

#: how far an angle of attack may be off pitch minus climb, rad
_NO_ANGLE = np.radians(4.0)
#: words of an altitude that is no barometer's
_MEASURED = frozenset(("gps", "gnss", "geo", "geom", "geometric", "geodetic", "wgs", "ellipsoid", "true"))


def settle_heights_and_nose(work: Work) -> None:
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
    pitch, attack = own.first("pitch"), own.first("angle_of_attack")
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
            pitch, attack = own.first("pitch"), own.first("angle_of_attack")
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
            pitch, attack = own.first("pitch"), own.first("angle_of_attack")
            if pitch is not None and attack is not None:
                tried = attitude.noses(own, altitude, [str(altitude.unit)], pitch, bank, attack, usual)
    elif _named_otherwise(work, altitude):
        work.questions.append(asking.which_height_unit([altitude], []))
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


def _named_otherwise(work: Work, altitude: Finding) -> bool:
    """Whether the way down to the ship or to a stop is flown in a unit that the altitude is not named in."""
    guess = altitude.guess("altitude", ship=False)
    if work.plane is not None or guess is None or guess.ours or altitude.unit not in ("m", "ft"):
        return False
    votes = (
        attitude.height_by_glide(work.own, altitude),
        attitude.height_by_approach(work.own, altitude, _distance_to_ship(work)),
    )
    units_flown = {vote.unit for vote in votes if vote is not None}
    return bool(units_flown) and altitude.unit not in units_flown


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
        attitude.unit_as_of(own, allowed),
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
