"""A local plane: which axis is up, how the others lie, in which unit, mirrored or not."""

from __future__ import annotations

from itertools import product

import numpy as np
from msgspec import Struct

from deckward.foundation.units import BY_SUFFIX
from deckward.recordings.recogniser import attitude, headings, mirrors, names, physics, places, unnamed
from deckward.recordings.recogniser.findings import Craft, Finding
from deckward.recordings.recogniser.times import Clock

_NAMED = ("north", "east", "up")
#: how much closer than the next a way to lay the axes must be, rad
_CLEARLY = np.radians(10.0)
_CLOSE = np.radians(15.0)
#: how near two ways must follow the heading for the heading not to tell them apart, rad
_AS_CLOSE = np.radians(6.0)
#: worth by which a reading of unnamed axes must exceed the next: where a heading's name is a compass's
#: it counts clockwise, where it is a mathematician's it may do either
_COMPASS, _YAW = 1.5, 4.5
#: every way in which two axes that nothing tells apart may lie, the usual ones first
ANY_WAY = tuple(
    mirrors.Reading(places.Senses(swapped, north, east), 1)
    for north, east in ((1, 1), (1, -1), (-1, 1), (-1, -1))
    for swapped in (True, False)
)


class Plane(Struct):
    """The columns of a plane: two level axes in the order of their names, and the one that is up.

    ``named`` is true where names say which axis is north and which east; then ``first`` is north.
    ``upright`` is whether it is sure which of them is up.
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
    upright: bool = True
    unit_known: bool = True
    senses: places.Senses = places.AS_NAMED

    @property
    def as_named(self) -> places.Senses:
        """How the axes lie by their names: an axis may be called south or west."""
        turned = [
            next((g.turned for g in f.guesses if g.quantity == quantity), 0)
            for f, quantity in ((self.first, "north"), (self.second, "east"))
        ]
        return places.Senses(False, turned[0] or 1, turned[1] or 1) if self.named else places.AS_NAMED


class Axes(Struct, frozen=True):
    """The columns of a plane by what their names say; ``upright``: whether it is sure which is up."""

    first: Finding
    second: Finding
    up: Finding
    named: bool
    up_sign: int = 1
    upright: bool = True


def axes(craft: Craft) -> Axes | None:
    """Find the three axes of a plane."""

    def pick(*names: str) -> Finding | None:
        return craft.first(*names)

    north, east = pick("north"), pick("east")
    up, down = pick("up"), pick("down")
    height = up or down or pick("altitude", "z") or _only_length(craft, north, east)
    if north is not None and east is not None and height is not None:
        return Axes(north, east, height, True, -1 if up is None and height is down else 1)
    x, y, z = pick("x"), pick("y"), pick("z")
    if x is None or y is None:
        return None
    if z is None:
        height = pick("altitude")
        return Axes(x, y, height, False) if height is not None else None
    third, sure = _upright(craft, (x, y, z))
    first, second = [f for f in (x, y, z) if f is not third]
    return Axes(first, second, third, False, upright=sure)


def _only_length(craft: Craft, north: Finding | None, east: Finding | None) -> Finding | None:
    """Give the one nameless column in a unit of length beside north and east: the height."""
    if north is None or east is None:
        return None
    left = [
        f
        for f in unnamed.nameless(craft.findings, "length")
        if names.dimension_said(f.name, f.column.unit_row) == "length"
    ]
    if len(left) == 1:
        unit = names.unit_said(left[0].name, left[0].column.unit_row, "length")
        left[0].guesses = [names.Guess("up", craft.ship, unit, 0.4, by_motion=True)]
    return left[0] if len(left) == 1 else None


def _upright(craft: Craft, three: tuple[Finding, Finding, Finding]) -> tuple[Finding, bool]:
    """Tell which of x, y and z is up, and whether that is sure.

    Its rate is a vertical speed's; or it reaches least far by much, where the others both reach
    far; or the heading follows only the other two.
    """
    rate = craft.first("vertical_speed", "sink")
    if rate is not None and rate.column.numbers.size > physics.FEWEST:
        fits = [physics.follow(np.gradient(f.column.numbers), rate.column.numbers) for f in three]
        ranked = sorted(zip(fits, range(3), strict=True), key=lambda each: -abs(each[0].agreement))
        if abs(ranked[0][0].agreement) > max(0.7, abs(ranked[1][0].agreement) + 0.2):
            return three[ranked[0][1]], True
    reach = [float(np.ptp(f.column.known)) for f in three]
    least, middle, most = sorted(range(3), key=lambda i: reach[i])
    if reach[least] < 0.4 * reach[middle] and reach[middle] > 0.15 * reach[most]:
        return three[least], True
    heading = craft.first("heading")
    usual = three[1] if reach[1] < 0.4 * reach[2] else three[2]
    if heading is None:
        return usual, False
    aside = []
    for finding in three:
        level = [f.column.numbers for f in three if f is not finding]
        motion = physics.motion_in_plane(np.arange(level[0].size, dtype=float), *level, span=20.0)
        allowed = attitude.angle_units(heading, "heading")
        found = places.match_heading(motion, heading, allowed, None, places.ALL_SENSES, slowest=0.0)
        aside.append(found[0].off if found else np.inf)
    best, second = sorted(aside)[:2]
    if best + _CLEARLY < second:
        return three[aside.index(best)], True
    return usual, False


def find_plane(craft: Craft, clocks: list[Clock], findings: list[Finding]) -> Plane | None:
    """Find the axes of a plane and a clock with which the speed is one that flies."""
    found = axes(craft)
    if found is None:
        return None
    first, second, up, named, up_sign = found.first, found.second, found.up, found.named, found.up_sign
    told = next((g.unit for f in (first, second) for g in f.guesses if g.unit is not None), None)
    if float(np.median(up.column.known)) < 0.0:
        up_sign = -1
    ways = []
    for unit, clock in product([told] if told else ["m", "ft"], clocks):
        factor = BY_SUFFIX[unit].factor
        motion = physics.motion_in_plane(
            clock.seconds, first.column.numbers * factor, second.column.numbers * factor
        )
        ways.append(
            Plane(first, second, up, up_sign, unit, told is not None, named, clock, motion, found.upright)
        )
    for way in ways:
        speed = way.motion.speed
        if speed.size and 22.0 < float(np.percentile(speed, 75)) < 420.0:
            return way
    return ways[0] if ways else None


def settle_plane(work, roll: Finding | None) -> None:
    """Decide on the axes of the aircraft's plane, and on its heading."""
    own, plane = work.own, work.plane
    bank = headings.roll_si(own, roll)
    why_unit = _settle_unit(work, plane, bank)
    heading = own.first("heading")
    if heading is not None:
        why, sure = _by_heading(work, plane, heading, bank)
    elif plane.named:
        why, sure = "named so", True
        work.readings = [mirrors.Reading(plane.as_named, 1)]
    else:
        why, sure = "an axis of a plane; nothing tells how it lies", False
        work.readings = list(ANY_WAY)
    senses = work.readings[0].senses
    own.motion = senses.of(plane.motion)
    north, east = (plane.second, plane.first) if senses.swapped else (plane.first, plane.second)
    confidence = 0.4 if len(work.readings) > 1 else 0.95 if sure else 0.88
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
    plane.senses = senses
    if "heading" in own.found and len(work.readings) < len(ANY_WAY):
        headings.check_north(work, own.found["heading"])


def _settle_unit(work, plane: Plane, bank: np.ndarray | None) -> str:
    """Tell metres from feet: by an airspeed, by the turns a roll makes, by the speed of approach."""
    if plane.unit_told:
        return "the name says its unit"
    own = work.own
    if not own.paced:
        return _any_unit(plane)
    rate, kind = next(((f, q) for q in ("vertical_speed", "sink") for f in own.candidates(q)), (None, ""))
    votes = attitude.height_by_rate(own, plane.up, rate, kind) if own.motion is not None else []
    if len(votes) == 1:
        return _with_unit(plane, votes[0].unit, votes[0].why)
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
    turned = float(np.ptp(np.unwrap(plane.motion.direction))) if plane.motion.speed.size else 0.0
    if bank is not None and turned > headings.TURNED:
        fit = physics.turn_by_roll(plane.motion, bank)
        if abs(fit.agreement) > 0.8:
            slope = abs(fit.slope) / in_metres[plane.unit]
            for unit, factor in in_metres.items():
                if 0.6 < slope * factor < 1.6:
                    return _with_unit(plane, unit, f"the turns fit the roll in {unit}")
    late = places.unit_by_approach(number) if _comes_down(plane) else None
    if late is not None:
        return _with_unit(plane, late[0], f"the last part is flown at {late[1]:.0f} m/s in {late[0]}")
    return _any_unit(plane)


def _comes_down(plane: Plane) -> bool:
    """Whether the flight ends low, so that its last part is flown as slowly as an approach."""
    height = np.abs(plane.up.column.numbers)
    height = height[np.isfinite(height)]
    if height.size < physics.FEWEST:
        return False
    return float(np.min(height[height.size // 2 :])) < 0.5 * float(np.max(height))


def _any_unit(plane: Plane) -> str:
    plane.unit_known = False
    return f"taken as {plane.unit}: nothing tells metres from feet"


def _with_unit(plane: Plane, unit: str, why: str) -> str:
    scale = BY_SUFFIX[unit].factor / BY_SUFFIX[plane.unit].factor
    m = plane.motion
    plane.motion = physics.Motion(m.start, m.end, m.step, m.north * scale, m.east * scale)
    plane.unit = unit
    return why


def _by_heading(work, plane: Plane, heading: Finding, bank) -> tuple[str, bool]:
    """Lay the axes so that the heading follows the motion; the reason, and whether that is sure."""
    allowed = attitude.angle_units(heading, "heading")
    tried = places.STRAIGHT if plane.named else places.ALL_SENSES
    found = places.match_heading(plane.motion, heading, allowed, bank, tried)
    guess = heading.guess("heading", ship=False)
    if not found:
        headings.keep_heading_unchecked(work, heading, allowed)
        work.readings = [mirrors.Reading(plane.as_named, 1)] if plane.named else list(ANY_WAY)
        return "named so" if plane.named else "an axis of a plane", plane.named
    if plane.named:
        plain = next((m for m in found if m.sign == 1 and m.senses == plane.as_named), found[0])
        if plain.off < _CLOSE or plain.off < found[0].off + np.radians(3.0):
            _keep(work, heading, plain)
            work.readings = mirrors.plain(plain, heading)
            return "named so; heading follows the motion", True
        ranked = mirrors.rank(
            found,
            lon=plane.second.guess("east", ship=False),
            head=guess,
            either_way=mirrors.counts_either_way(heading),
        )
        _keep(work, heading, ranked[0][1])
        work.readings = mirrors.readings(ranked)
        return "heading and turns fit the motion if it lies so", True
    if found[0].off > _CLOSE:
        _keep(work, heading, found[0])
        work.readings = list(ANY_WAY)
        return "an axis of a plane; the heading does not tell how it lies", False
    ranked = mirrors.rank(found, lon=None, head=guess, named=False, spare=_CLEARLY)
    twins = _twins(work, plane, [match for _, match in ranked])
    best = twins[0]
    if best is not ranked[0][1]:
        ranked.sort(key=lambda pair: pair[1] is not best)
    _keep(work, heading, best)
    sure = not mirrors.counts_either_way(heading)
    also = [mirrors.Reading(match.senses, match.sign) for match in twins]
    work.readings = list(dict.fromkeys([*mirrors.readings(ranked, _COMPASS if sure else _YAW), *also]))
    checked = best.roll > 0.5
    why = f"heading follows the motion to {np.degrees(best.off):.1f} deg if it lies so"
    return why + ("; the turns fit the roll" if checked else ""), checked


def _twins(work, plane: Plane, ranked: list[places.Matched]) -> list[places.Matched]:
    """Give the first of the ways ranked, and those that only the sign of the roll tells from it.

    A straight course near a diagonal looks the same with the axes exchanged; a ship that moves is seen to go
    where she heads in one of them only.
    """
    best = ranked[0]
    twins = [m for m in ranked if m.sign == best.sign and abs(m.off - best.off) < _AS_CLOSE]
    if len(twins) == 1:
        return twins
    sails = [m for m in twins if _ship_sails(work, plane, m)]
    return sails or twins


def _ship_sails(work, plane: Plane, match: places.Matched) -> bool:
    """Whether the ship goes where she heads if the axes lie so; False where she has no track or stands."""
    boat, clock = work.boat, plane.clock
    axes = []
    for own in (plane.first, plane.second):
        letters = [guess.quantity for guess in own.guesses]
        axes.append(next((f for letter in letters for f in boat.candidates(letter)), None))
    heading = boat.first("heading")
    if heading is None or clock is None or axes[0] is None or axes[1] is None:
        return False
    factor = BY_SUFFIX[plane.unit].factor
    numbers = [axis.column.numbers * factor for axis in axes if axis is not None]
    motion = match.senses.of(physics.motion_in_plane(clock.seconds, numbers[0], numbers[1], span=5.0))
    off = [
        physics.beside_track(motion, heading.si(unit, match.sign), physics.SAILING).off
        for unit in attitude.angle_units(heading, "heading", ship=True)
    ]
    return any(each < _CLOSE for each in off)


def _keep(work, heading: Finding, match: places.Matched) -> None:
    why = f"it follows the direction of motion to {np.degrees(match.off):.1f} deg in {match.unit}"
    if match.sign < 0:
        why += ", counting anticlockwise"
    work.own.keep("heading", heading, match.unit, 0.93 if match.off < _CLOSE else 0.6, why, sign=match.sign)
