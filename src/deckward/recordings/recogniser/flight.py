"""Deciding what the columns of the aircraft hold, in the order in which one helps the next."""

from __future__ import annotations

import numpy as np

from deckward.foundation.units import BY_SUFFIX
from deckward.recordings.recogniser import (
    air,
    asking,
    attitude,
    headings,
    heights,
    physics,
    places,
    planes,
    unnamed,
)
from deckward.recordings.recogniser.findings import Craft, Finding
from deckward.recordings.recogniser.places import Place
from deckward.recordings.recogniser.times import Clock
from deckward.recordings.recogniser.work import Work

#: speed that a flight without a clock is taken to have while its other channels are looked at, m/s
_ASSUMED_SPEED = 68.0
#: speeds of flights around a ship, m/s, and a wind that nobody flies in
_LEAST_FLIGHT, _MOST_FLIGHT, _WIND_AT_MOST = 25.0, 400.0, 30.0
#: log of how much more recorders count the right roll up than the left one, nine to one by our choice, and of
#: the odds at which it is sure: a hundred to one
_USUAL_ROLL, _SURE = float(np.log(9.0)), float(np.log(99.0))


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
    roll = own.first("roll")
    if work.plane is not None:
        planes.settle_plane(work, roll)
    elif own.motion is not None:
        headings.settle_heading_on_earth(work, roll)
    if own.motion is None:
        air.by_name_alone(work)
        return
    _settle_roll(work, roll)
    heights.settle_heights_and_nose(work)
    air.settle_air(work)


def _settle_roll(work: Work, roll: Finding | None) -> None:
    """Decide on the roll by the turns it makes."""
    own = work.own
    if roll is None or own.motion is None:
        return
    guess = roll.guess("roll", ship=False)
    allowed = attitude.angle_units(roll, "roll", most_rad=3.2)
    turned = own.motion.speed.size and float(np.ptp(np.unwrap(own.motion.direction))) > headings.TURNED
    for unit in sorted(allowed, key=lambda unit: unit != attitude.unit_as_of(own, allowed)):
        usual = unit == attitude.unit_as_of(own, allowed)
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
    unit = attitude.unit_as_of(own, allowed)
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

    Where motion or heading follow it closely they tell; else what is left when slips are parted off, if
    that makes it sure enough, rolls to the right counting up on most recorders.
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
