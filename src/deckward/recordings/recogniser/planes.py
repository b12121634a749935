"""A local plane: which axis is up, how the others lie, in which unit, mirrored or not."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np

from deckward.foundation.units import BY_SUFFIX
from deckward.recordings.recogniser import attitude, flight, physics, places
from deckward.recordings.recogniser.findings import Craft, Finding
from deckward.recordings.recogniser.times import Clock

_NAMED = ("north", "east", "up")
#: how much closer than the next a way to lay the axes must be, rad
_CLEARLY = np.radians(10.0)
_CLOSE = np.radians(15.0)


@dataclass
class Plane:
    """The columns of a plane: two level axes in the order of their names, and the one that is up.

    ``named`` is true where names say which axis is north and which east; then ``first`` is north.
    """

    first: Finding
    second: Finding
    up: Finding
    up_sign: int
    unit: str
    unit_told: bool
    named: bool
    clock: Clock | None
    motion: physics.Motion
    senses: places.Senses = places.AS_NAMED
    #: whether a person has to say how the axes lie
    ask: bool = False


def axes(craft: Craft) -> tuple[Finding, Finding, Finding, bool, int] | None:
    """Give first, second, up, whether names tell north and east, and the sign of up by its name."""

    def pick(*names: str) -> Finding | None:
        return next((f for f in craft.candidates(*names) if f.column.known.size), None)

    north, east = pick("north"), pick("east")
    up, down = pick("up"), pick("down")
    height = up or down or pick("altitude", "z")
    if north is not None and east is not None and height is not None:
        return north, east, height, True, -1 if up is None and height is down else 1
    x, y, z = pick("x"), pick("y"), pick("z")
    if x is None or y is None:
        return None
    height = pick("altitude") if z is None else None
    if z is None:
        return (x, y, height, False, 1) if height is not None else None
    third = _upright(craft, x, y, z)
    first, second = [f for f in (x, y, z) if f is not third]
    return first, second, third, False, 1


def _upright(craft: Craft, x: Finding, y: Finding, z: Finding) -> Finding:
    """Tell which of y and z is up: its rate is a vertical speed's, or it reaches least far."""
    rate = next((f for f in craft.candidates("vertical_speed", "sink") if f.column.known.size), None)
    if rate is not None and rate.column.numbers.size > physics.FEWEST:
        agree = {}
        for axis in (y, z):
            rates = np.gradient(axis.column.numbers)
            agree[axis.name] = abs(physics.follow(rates, rate.column.numbers).agreement)
        if max(agree.values()) > 0.7 and abs(agree[y.name] - agree[z.name]) > 0.2:
            return y if agree[y.name] > agree[z.name] else z
    reach = {axis.name: float(np.ptp(axis.column.known)) for axis in (y, z)}
    return y if reach[y.name] < 0.4 * reach[z.name] else z


def find_plane(craft: Craft, clocks: list[Clock], findings: list[Finding]) -> Plane | None:
    """Find the axes of a plane and a clock with which the speed is one that flies."""
    found = axes(craft)
    if found is None:
        return None
    first, second, up, named, up_sign = found
    told = next((g.unit for f in (first, second) for g in f.guesses if g.unit is not None), None)
    if not named and float(np.median(up.column.known)) < 0.0:
        up_sign = -1
    if named and float(np.median(up.column.known)) < 0.0:
        up_sign = -1
    ways = []
    for unit, clock in product([told] if told else ["m", "ft"], clocks):
        factor = BY_SUFFIX[unit].factor
        motion = physics.motion_in_plane(
            clock.seconds, first.column.numbers * factor, second.column.numbers * factor
        )
        ways.append(Plane(first, second, up, up_sign, unit, told is not None, named, clock, motion))
    for way in ways:
        speed = way.motion.speed
        if speed.size and 22.0 < float(np.percentile(speed, 75)) < 420.0:
            return way
    return ways[0] if ways else None


def settle_plane(work, roll: Finding | None) -> None:
    """Decide on the axes of the aircraft's plane, and on its heading."""
    own, plane = work.own, work.plane
    bank = flight.roll_si(own, roll)
    why_unit = _settle_unit(work, plane, bank)
    heading = next((f for f in own.candidates("heading") if f.column.known.size), None)
    senses, why, sure = places.AS_NAMED, "named so" if plane.named else "", plane.named
    ask = False
    if heading is None:
        ask = not plane.named
        if ask:
            senses, why = places.Senses(True, 1, 1), "an axis of a plane; nothing tells how it lies"
    else:
        senses, why, sure, ask = _by_heading(work, plane, heading, bank, sure)
    own.motion = senses.of(plane.motion)
    north, east = (plane.second, plane.first) if senses.swapped else (plane.first, plane.second)
    confidence = 0.4 if ask else 0.95 if sure else 0.88
    own.keep("north", north, plane.unit, confidence, f"{why}; {why_unit}", sign=senses.north)
    own.keep("east", east, plane.unit, confidence, f"{why}; {why_unit}", sign=senses.east)
    up = plane.up.guesses[0]
    own.keep(
        "up",
        plane.up,
        up.unit or plane.unit,
        0.9,
        "named so" if plane.named else "the axis that reaches least far, and stays on one side of zero",
        sign=plane.up_sign,
    )
    plane.ask = ask
    plane.senses = senses


def _settle_unit(work, plane: Plane, bank: np.ndarray | None) -> str:
    """Tell metres from feet: by an airspeed, by the turns a roll makes, by the speed of approach."""
    if plane.unit_told:
        return "the name says its unit"
    own = work.own
    in_metres = {"m": 1.0, "ft": BY_SUFFIX["ft"].factor}
    number = plane.motion.speed / in_metres[plane.unit]
    for finding in own.candidates("true_airspeed", "indicated_airspeed", "speed"):
        guess = next((g for g in finding.guesses if g.unit is not None), None)
        if guess is None or guess.unit is None:
            continue
        told = plane.motion.middle(finding.si(guess.unit, 1))
        for unit, factor in in_metres.items():
            if abs(np.log(float(np.nanmedian(number * factor) / np.nanmedian(told)))) < 0.4:
                return _with_unit(plane, unit, f"its speed is that of {finding.name!r} in {unit}")
    if bank is not None:
        fit = physics.turn_by_roll(plane.motion, bank)
        if abs(fit.agreement) > 0.8:
            slope = abs(fit.slope) / in_metres[plane.unit]
            for unit, factor in in_metres.items():
                if 0.6 < slope * factor < 1.6:
                    return _with_unit(plane, unit, f"the turns fit the roll in {unit}")
    late = places.unit_by_approach(number)
    if late is not None:
        return _with_unit(plane, late[0], f"the last part is flown at {late[1]:.0f} m/s in {late[0]}")
    return f"taken as {plane.unit}"


def _with_unit(plane: Plane, unit: str, why: str) -> str:
    scale = BY_SUFFIX[unit].factor / BY_SUFFIX[plane.unit].factor
    m = plane.motion
    plane.motion = physics.Motion(m.start, m.end, m.step, m.north * scale, m.east * scale)
    plane.unit = unit
    return why


def _by_heading(work, plane: Plane, heading: Finding, bank, sure: bool):
    """Lay the axes so that the heading follows the motion; senses, reason, sure, whether to ask."""
    allowed = attitude.angle_units(heading, "heading")
    tried = places.STRAIGHT if plane.named else places.ALL_SENSES
    found = places.match_heading(plane.motion, heading, allowed, bank, tried)
    guess = heading.guess("heading", ship=False)
    if not found:
        flight.keep_heading_unchecked(work, heading, allowed)
        return places.Senses(not plane.named, 1, 1), "an axis of a plane", sure, not plane.named
    if plane.named:
        return _named_axes(work, heading, found, guess)
    clockwise = [m for m in found if m.sign == 1]
    other = [m for m in found if m.sign == -1]
    best = clockwise[0]
    against = best.roll < -0.5 or (guess is not None and guess.turned < 0)
    if against and other and other[0].off < _CLOSE and not (best.roll > 0.5):
        if guess is not None and guess.turned < 0:
            best = other[0]
        else:
            _keep(work, heading, best)
            return best.senses, "heading and turns do not agree which way the plane lies", False, True
    rivals = [m for m in (clockwise if best.sign == 1 else other) if m.senses != best.senses]
    unclear = bool(rivals) and rivals[0].off < best.off + _CLEARLY
    _keep(work, heading, best)
    if best.off > _CLOSE or unclear:
        return best.senses, "an axis of a plane; the heading does not tell how it lies", False, True
    plain = guess is not None and heading.name.casefold().find("yaw") < 0
    checked = best.roll > 0.5
    why = f"heading follows the motion to {np.degrees(best.off):.1f} deg if it lies so"
    if checked:
        why += "; the turns fit the roll"
    return best.senses, why, checked, not (checked or plain)


def _named_axes(work, heading: Finding, found, guess):
    """Check axes that are named: a mismatch is the heading's, unless the turns say it is theirs."""
    plain = next((m for m in found if m.sign == 1 and m.senses == places.AS_NAMED), found[0])
    best = found[0]
    if plain.off < _CLOSE or plain.off < best.off + np.radians(3.0):
        _keep(work, heading, plain)
        return plain.senses, "named so; heading follows the motion", True, False
    ranked = []
    for match in found:
        if match.off > best.off + np.radians(3.0):
            continue
        flips = (match.senses.north < 0) + (match.senses.east < 0) + (match.sign < 0)
        score = -2.0 * flips + (1.0 if match.roll > 0.5 else -1.0 if match.roll < -0.5 else 0.0)
        if guess is not None and guess.turned:
            score += 3.0 * (1 if (match.sign < 0) == (guess.turned < 0) else -1)
        ranked.append((score, match))
    ranked.sort(key=lambda pair: -pair[0])
    chosen = ranked[0][1]
    work.mirrored = len(ranked) > 1 and ranked[1][0] > ranked[0][0] - 0.5
    _keep(work, heading, chosen)
    return chosen.senses, "heading and turns fit the motion if it lies so", True, False


def _keep(work, heading: Finding, match: places.Matched) -> None:
    why = f"it follows the direction of motion to {np.degrees(match.off):.1f} deg in {match.unit}"
    if match.sign < 0:
        why += ", counting anticlockwise"
    work.own.keep("heading", heading, match.unit, 0.93 if match.off < _CLOSE else 0.6, why, sign=match.sign)
