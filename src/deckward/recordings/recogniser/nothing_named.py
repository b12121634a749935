"""Pairs of columns whose names say nothing at all, and that only together make a flight."""

from __future__ import annotations

from itertools import permutations, product

import numpy as np

from deckward.foundation.units import BY_SUFFIX
from deckward.recordings.recogniser import physics, planes
from deckward.recordings.recogniser.findings import Craft, Finding
from deckward.recordings.recogniser.names import Guess
from deckward.recordings.recogniser.unnamed import a_rate, nameless, same_of_ship

#: score of a guess that no name supports
_SCORE = 0.4
#: what a latitude and a longitude of one flight reach from end to end, deg, and change by at most, deg/s
_REACH, _FASTEST = (2e-3, 4.0), 8e-3
#: the least way flown along an axis, m
_LEAST_WAY = 300.0
#: nobody flies farther north or south, rad
_NORTHERNMOST = np.radians(85.0)
#: ground speeds of a flight, m/s: the middle one lies in here, and the quickest is at most so many times that
_SPEEDS, _UNEVEN = (25.0, 400.0), 3.0
#: how near a heading must follow the direction of motion, and how much nearer than in the next pair, rad
_HEADED, _CLEARLY = np.radians(12.0), np.radians(10.0)
#: how far a flight must turn for the heading to tell, rad
_TURNED = np.radians(40.0)
#: how well a rate must follow the changes of a height: as it is, and about its middle
_FOLLOWS, _VARIES = 0.97, 0.9
#: how far pitch, angle of attack and climb may miss one another, rad, and how well they must move together
_NOSE_OFF, _TOGETHER = np.radians(0.6), 0.7
#: angles of attack of an approach, in the middle, rad
_ATTACK = (np.radians(2.0), np.radians(17.0))


def guess_place(own: Craft, time: np.ndarray) -> None:
    """Take the one pair of nameless columns for latitude and longitude that a heading follows.

    The other order of the two, or another pair, must be clearly worse; where the heading has no name
    either, through a turn.
    """
    if own.candidates("latitude", "longitude") or planes.axes(own) is not None:
        return
    open_ones = nameless(own.findings, "angle")
    named = [f for f in own.candidates("heading") if f.column.known.size]
    tried = []
    for unit in ("deg", "rad"):
        scale = BY_SUFFIX[unit].factor
        likely = [f for f in open_ones if _may_be_place(np.degrees(f.column.numbers * scale), time)]
        for latitude, longitude in permutations(likely, 2):
            lat, lon = (f.column.numbers * scale for f in (latitude, longitude))
            if np.nanmax(np.abs(lat)) > _NORTHERNMOST:
                continue
            motion = physics.motion_on_earth(time, lat, lon)
            if _flies(motion) and (named or _turns(motion)):
                others = named or [f for f in open_ones if f is not latitude and f is not longitude]
                tried.append((_off(motion, others, turning=not named), latitude, longitude))
    best = _clearly_first(tried)
    for finding, quantity in zip(best, ("latitude", "longitude"), strict=False):
        finding.guesses = [Guess(quantity, False, None, _SCORE, by_motion=True)]


def _clearly_first(tried: list[tuple[float, Finding, Finding]]) -> tuple[Finding, ...]:
    """Give the pair that a heading follows by far the nearest; nothing where there is none."""
    tried = sorted(tried, key=lambda each: each[0])
    if not tried or tried[0][0] > _HEADED or (len(tried) > 1 and tried[1][0] < tried[0][0] + _CLEARLY):
        return ()
    return tried[0][1:]


def guess_plane(own: Craft, time: np.ndarray) -> None:
    """Take the one pair of nameless columns for north and east that a heading follows through a turn.

    The two, and a third that is the height, differ by their number only. Another pair, or their other order,
    must be clearly worse; which way each counts is decided with the heading, as of axes that are named.
    """
    if own.candidates("latitude", "longitude", "altitude", "up", "z") or planes.axes(own) is not None:
        return
    open_ones = nameless(own.findings, "length")
    headings = [f for f in own.candidates("heading") if f.column.known.size]
    tried = []
    for unit in ("m", "ft"):
        scale = BY_SUFFIX[unit].factor
        likely = [f for f in open_ones if _may_be_axis(f.column.numbers * scale, time)]
        for north, east in permutations(likely, 2):
            motion = physics.motion_in_plane(time, north.column.numbers * scale, east.column.numbers * scale)
            if _stem(north) == _stem(east) and headings and _flies(motion) and _turns(motion):
                ways = [motion.mirrored(*signs) for signs in product((1, -1), (1, -1))]
                tried.append((min(_off(way, headings, turning=True) for way in ways), north, east))
    # in metres and in feet a pair is the same
    best = _clearly_first(list({(id(n), id(e)): (off, n, e) for off, n, e in tried}.values()))
    taken = {id(finding) for finding in best}
    third = [f for f in open_ones if best and id(f) not in taken and _stem(f) == _stem(best[0])]
    if len(third) != 1:
        return
    for finding, quantity in zip((*best, *third), ("north", "east", "up"), strict=True):
        finding.guesses = [Guess(quantity, False, None, _SCORE, by_motion=True)]
        same_of_ship(own.findings, finding)


def _stem(finding: Finding) -> str:
    return finding.name.rstrip("0123456789 ._-")


def _may_be_axis(metres: np.ndarray, time: np.ndarray) -> bool:
    known = np.isfinite(metres) & np.isfinite(time)
    values, steps = metres[known], np.diff(time[known])
    forward = steps > 0.0
    if values.size < physics.FEWEST or not forward.any() or float(np.ptp(values)) < _LEAST_WAY:
        return False
    rate = np.abs(np.diff(values)[forward]) / steps[forward]
    return float(np.percentile(rate, 98)) < _SPEEDS[1]


def _off(motion: physics.Motion, headings: list[Finding], *, turning: bool) -> float:
    """How near the nearest of some headings follows the direction of motion, rad; infinite without one."""
    every = [
        physics.beside_track(motion, heading.si(unit, 1)).off
        for heading in headings
        for unit in ("deg", "rad")
        if not turning or _reaches(heading, unit)
    ]
    return min((off for off in every if np.isfinite(off)), default=np.inf)


def _may_be_place(degrees: np.ndarray, time: np.ndarray) -> bool:
    known = np.isfinite(degrees) & np.isfinite(time)
    values = degrees[known]
    if values.size < physics.FEWEST or np.abs(values).max() > 361.0:
        return False
    if not _REACH[0] < float(np.ptp(values)) < _REACH[1]:
        return False
    steps = np.diff(time[known])
    forward = steps > 0.0
    rate = np.abs(np.diff(values)[forward]) / steps[forward]
    return bool(rate.size) and float(np.percentile(rate, 98)) < _FASTEST


def _flies(motion: physics.Motion) -> bool:
    if motion.speed.size < 2 * physics.FEWEST:
        return False
    middle = float(np.percentile(motion.speed, 75))
    even = float(np.percentile(motion.speed, 98)) < _UNEVEN * middle
    return _SPEEDS[0] < middle < _SPEEDS[1] and even


def _turns(motion: physics.Motion) -> bool:
    flying = motion.direction[motion.speed > physics.FLYING]
    return flying.size > 0 and float(np.ptp(np.unwrap(flying))) > _TURNED


def _reaches(heading: Finding, unit: str) -> bool:
    return (
        bool(heading.column.known.size)
        and float(np.ptp(heading.si(unit, 1)[~np.isnan(heading.column.numbers)])) > 0.5 * _TURNED
    )


def guess_heights(own: Craft) -> None:
    """Take the one pair of nameless columns for height and vertical speed where one is the other's rate."""
    motion = own.motion
    if motion is None or motion.speed.size < 2 * physics.FEWEST or not own.paced:
        return
    found = []
    for height, rate in permutations(nameless(own.findings), 2):
        changes, told = motion.rate(height.column.numbers), motion.middle(rate.column.numbers)
        fit, varied = physics.follow(changes, told), physics.follow(changes, told, offset=True)
        if abs(fit.agreement) > _FOLLOWS and abs(varied.agreement) > _VARIES and a_rate(fit.slope, None):
            found.append((height, rate))
    if len(found) == 1:
        for finding, quantity in zip(found[0], ("altitude", "vertical_speed"), strict=True):
            finding.guesses = [Guess(quantity, False, None, _SCORE, by_motion=True)]


def guess_noses(own: Craft, climb: np.ndarray) -> None:
    """Take the one pair of nameless columns for pitch and angle of attack that differ by the climb angle.

    Args:
        own: the aircraft, its motion known.
        climb: climb angle over each span of the motion, rad.
    """
    motion = own.motion
    if motion is None or own.candidates("pitch", "angle_of_attack"):
        return
    roll = own.si("roll")
    level = np.clip(np.cos(motion.middle_angle(roll)), 0.5, 1.0) if roll is not None else 1.0
    tried: list[tuple[float, Finding, Finding, str]] = []
    open_ones = nameless(own.findings, "angle")
    for (pitch, attack), unit, nose, sign in product(
        permutations(open_ones, 2), ("deg", "rad"), (1, -1), (1, -1)
    ):
        told = motion.middle(attack.si(unit, sign))
        path = motion.middle(pitch.si(unit, nose)) - level * told
        if not np.isfinite(told).any() or not _ATTACK[0] < float(np.nanmedian(told)) < _ATTACK[1]:
            continue
        off = float(np.nanmedian(np.abs(path - climb)))
        fit = physics.follow(climb, path, offset=True)
        if off < _NOSE_OFF and fit.agreement > _TOGETHER and fit.beyond_chance:
            tried.append((off, pitch, attack, unit))
    pairs = {(id(pitch), id(attack)) for _, pitch, attack, _ in tried}
    if len(pairs) != 1:
        return
    _, pitch, attack, unit = min(tried, key=lambda each: each[0])
    for finding, quantity in ((pitch, "pitch"), (attack, "angle_of_attack")):
        finding.guesses = [Guess(quantity, False, unit, _SCORE, by_motion=True)]
