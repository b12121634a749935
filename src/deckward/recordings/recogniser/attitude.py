"""Deciding heading, pitch, roll, angle of attack and heights: unit and sign, by how they fit."""

from __future__ import annotations

from itertools import product

import numpy as np
from msgspec import Struct

from deckward.foundation import units
from deckward.recordings.recogniser import physics
from deckward.recordings.recogniser.findings import Craft, Finding

#: angles of attack that a jet may have in the middle of a flight with its gear down, rad
_LIKELY_ATTACK = (np.radians(0.7), np.radians(19.0))
#: what joins angle of attack, pitch and climb, rad: still good; surely bad
_GOOD, _BAD = np.radians(1.6), np.radians(2.6)
#: how near a slope must be to the one that a unit asks for, as a ratio: feet and metres are 3.3 apart
_NEAR_SLOPE = 1.35
#: number that no angle of a nose in degrees stays below, and the rows that this needs
_TINY, _ENOUGH = 0.3, 60
#: descent that is not held through most of a flight, rad
_STEEP = np.radians(7.0)
#: an approach to a ship, as distances left to fly, m, how much of it must be seen, and its angles, deg
_FAR_OUT, _CLOSE_IN, _LONG_ENOUGH, _GLIDES = 2200.0, 250.0, 400.0, (2.3, 5.2)
#: rate of a vertical speed column over that of the altitude column -> what the two are in
_RATES = {
    60.0: ("ft", "fpm"),
    60.0 / units.FOOT: ("m", "fpm"),
    units.FOOT: ("ft", "mps"),
    1.0 / units.FOOT: ("m", "fps"),
    units.FOOT / units.KNOT: ("ft", "kt"),
    1.0 / units.KNOT: ("m", "kt"),
}


def angle_units(finding: Finding, quantity: str, *, ship: bool = False, most_rad: float = 6.3) -> list[str]:
    """Give the units an angle can be in: the name's, else what its range allows."""
    guess = finding.guess(quantity, ship=ship)
    if guess is not None and guess.unit is not None:
        return [guess.unit]
    known = finding.column.known
    if not known.size or np.abs(known).max() > most_rad:
        return ["deg"]
    # a flying jet's nose and angle of attack are not within a third of a degree of zero all the way
    flown = not ship and quantity in ("pitch", "angle_of_attack") and known.size > _ENOUGH
    return ["rad"] if flown and 0.0 < np.abs(known).max() < _TINY else ["deg", "rad"]


def unit_as_of(own: Craft, allowed: list[str]) -> str:
    """Of the units that an angle can be in, take the one that the other angles are in."""
    if len(allowed) == 1:
        return allowed[0]
    for quantity in ("heading", "pitch", "latitude"):
        unit = own.found[quantity].unit if quantity in own.found else None
        if unit in allowed:
            return str(unit)
    return allowed[0]


class Nose(Struct, frozen=True):
    """One way to read altitude, pitch and angle of attack, and how badly they fit, rad."""

    height: str
    pitch: tuple[str, int]
    attack: tuple[str, int] | None
    rest: float
    middle: float


def noses(
    craft: Craft,
    altitude: Finding,
    heights: list[str],
    pitch: Finding,
    roll: np.ndarray | None,
    attack: Finding | None,
    usual: str | None,
) -> list[Nose]:
    """Try every unit and sign of altitude, pitch and angle of attack; the best fit first.

    ``usual`` is the unit of the other angles, which these are likely to be in too.

    The angle of attack is pitch minus climb angle; without a column of it, it is at least
    positive and steady.
    """
    motion = craft.motion
    assert motion is not None, "a craft without motion is not asked"
    bank = motion.middle_angle(roll) if roll is not None else None
    found = []
    attacks = product(angle_units(attack, "angle_of_attack"), (1, -1)) if attack is not None else [None]
    for height, (unit, sign), own in product(
        heights, product(angle_units(pitch, "pitch", most_rad=1.58), (1, -1)), list(attacks)
    ):
        climb = physics.climb_angle(motion, motion.rate(altitude.si(height, altitude.sign)))
        need = physics.attack_by_nose(motion.middle(pitch.si(unit, sign)), climb, bank)
        use = np.isfinite(need) & (np.abs(climb) < 0.5)
        if use.sum() < physics.FEWEST:
            continue
        middle = float(np.median(need[use]))
        rest = physics.spread(need[use])
        if own is not None and attack is not None:
            told = motion.middle(attack.si(*own))
            aside = (told - need)[use]
            if np.isfinite(aside).sum() < physics.FEWEST:
                continue
            rest = float(np.nanmedian(np.abs(aside)))
            middle = float(np.nanmedian(told[use]))
        if not _LIKELY_ATTACK[0] < middle < _LIKELY_ATTACK[1]:
            rest += np.radians(6.0)
        if usual is not None and unit != usual:
            rest += np.radians(1.2)
        found.append(Nose(height, (unit, sign), own, rest, middle))
    return sorted(found, key=lambda nose: nose.rest)


class Vote(Struct, frozen=True):
    """A unit of the altitude, how sure, and why; with the unit of vertical speed where both hang together."""

    unit: str
    confidence: float
    why: str
    rate_unit: str | None = None


def height_by_rate(craft: Craft, altitude: Finding, rate: Finding | None, quantity: str) -> list[Vote]:
    """Compare the altitude's rate with a vertical speed: which units make them one."""
    if rate is None or craft.motion is None or not craft.paced:
        return []
    fit = physics.follow(craft.motion.rate(altitude.column.numbers), craft.motion.middle(rate.column.numbers))
    if not fit.sound:
        return []
    ratio = abs(fit.slope)
    guess = rate.guess(quantity)
    if guess is not None and guess.unit is not None:
        factor = units.BY_SUFFIX[guess.unit].factor
        for unit in ("m", "ft"):
            if 0.85 < ratio * factor / units.BY_SUFFIX[unit].factor < 1.18:
                why = f"its rate agrees with {rate.name!r} if it is in {unit}"
                return [Vote(unit, 0.97, why, guess.unit)]
        return []
    if 0.9 < ratio < 1.1:
        why = f"its rate is that of {rate.name!r} number for number"
        return [Vote("m", 0.5, why, "mps"), Vote("ft", 0.5, why, "fps")]
    for known, (unit, rate_unit) in _RATES.items():
        if 0.92 < ratio / known < 1.08:
            why = f"its rate is {ratio:.3g} times in {rate.name!r}: {unit} and {rate_unit}"
            return [Vote(unit, 0.95, why, rate_unit)]
    return []


def height_by_nose(found: list[Nose], attack: bool) -> Vote | None:
    """Tell metres from feet by what makes pitch, climb and angle of attack fit."""
    best = found[0] if found else None
    other = next((nose for nose in found if best and nose.height != best.height), None)
    if best is None or other is None or best.rest > _GOOD or other.rest < _BAD * (0.7 if attack else 1.0):
        return None
    if other.rest < 2.2 * best.rest:
        return None
    whose = (
        "angle of attack, pitch and climb fit" if attack else "pitch and climb fit a steady angle of attack"
    )
    why = f"{whose} in {best.height} (to {np.degrees(best.rest):.1f} deg), not in {other.height}"
    return Vote(best.height, 0.93 if attack else 0.86, why)


def too_steep(craft: Craft, altitude: Finding, unit: str) -> bool:
    """Whether in this unit most of the flight goes down more steeply than jets do with their gear down.

    An angle of attack in the units of a gauge fits pitch and climb if the altitude is taken 3.3 times
    too high.
    """
    motion = craft.motion
    assert motion is not None, "a craft without motion is not asked"
    climb = physics.climb_angle(motion, motion.rate(altitude.si(unit, altitude.sign)))
    climb = climb[np.isfinite(climb)]
    return bool(climb.size) and float(np.median(climb)) < -_STEEP


def height_by_climbs(
    craft: Craft,
    altitude: Finding,
    pitch: Finding,
    attack: Finding,
    best: Nose | None,
    roll: np.ndarray | None,
) -> Vote | None:
    """Tell metres from feet by how pitch minus angle of attack follows the climb, whatever else it is off by.

    Where most of a flight is level, both units fit in the middle; its climbs and descents tell them apart:
    tan(pitch - attack) = rate of climb over speed, with a slope of one in the right unit.
    """
    motion = craft.motion
    if motion is None or best is None or best.attack is None or not craft.paced:
        return None
    level = np.clip(np.cos(motion.middle_angle(roll)), 0.5, 1.0) if roll is not None else 1.0
    path = motion.middle(pitch.si(*best.pitch)) - level * motion.middle(attack.si(*best.attack))
    flies = motion.speed > physics.FLYING
    rate = np.where(flies, motion.rate(altitude.column.numbers), np.nan) / np.where(flies, motion.speed, 1.0)
    fit = physics.follow(rate, np.tan(np.clip(path, -1.0, 1.0)), offset=True)
    if not (fit.sound and fit.beyond_chance):
        return None
    for unit in ("m", "ft"):
        slope = fit.slope / units.BY_SUFFIX[unit].factor
        if 1.0 / _NEAR_SLOPE < slope < _NEAR_SLOPE:
            why = f"pitch minus angle of attack follows the climb {slope:.2f} times if it is in {unit}"
            return Vote(unit, 0.9, why)
    return None


def height_by_approach(craft: Craft, altitude: Finding, away: np.ndarray | None) -> Vote | None:
    """Tell metres from feet by how an approach comes down against the distance left to the ship, m (n,).

    Jets come down to a deck at about 3.5 deg; read in the other unit that is 11 deg, or 1.
    """
    motion = craft.motion
    if motion is None or away is None or not motion.speed.size:
        return None
    left, closing = motion.middle(away), -motion.rate(away)
    inbound = (motion.speed > physics.FLYING) & (closing > 0.6 * motion.speed) & (left < _FAR_OUT)
    if inbound.sum() < physics.FEWEST // 2:
        return None
    last = int(np.flatnonzero(inbound)[-1])
    first = last - int(np.argmin(np.append(inbound[last::-1], False))) + 1
    rows = np.arange(first, last + 1)
    rows = rows[left[rows] > _CLOSE_IN]
    if rows.size < physics.FEWEST // 2:
        return None
    height, out = motion.middle(altitude.column.numbers)[rows], left[rows]
    known = np.isfinite(height)
    if known.sum() < physics.FEWEST // 2 or np.ptp(out[known]) < _LONG_ENOUGH:
        return None
    slope = float(np.polyfit(out[known], height[known], 1)[0])
    for unit in ("m", "ft"):
        angle = np.degrees(np.arctan(slope * units.BY_SUFFIX[unit].factor))
        if _GLIDES[0] < angle < _GLIDES[1]:
            why = f"it comes down to the ship at {angle:.1f} deg in {unit}, a glide path that is flown"
            return Vote(unit, 0.8, why)
    return None


def height_by_glide(craft: Craft, altitude: Finding) -> Vote | None:
    """Tell metres from feet by the descent to a landing: no jet comes down to a deck at 11 deg, or at 1."""
    motion = craft.motion
    if motion is None:
        return None
    flying = motion.speed > physics.FLYING
    if flying.sum() < 2 * physics.FEWEST:
        return None
    rows = np.flatnonzero(flying)
    after = motion.speed[rows[-1] + 1 :]
    if after.size < 2 or np.median(after) > 0.5 * np.median(motion.speed[flying]):
        return None
    rate = motion.rate(altitude.column.numbers)[rows]
    middle = np.cumsum(motion.step)[rows]
    late = (middle > middle[-1] - 25.0) & np.isfinite(rate)
    low = motion.middle(altitude.column.numbers)[rows]
    span = float(np.nanmax(low) - np.nanmin(low))
    if late.sum() < physics.FEWEST or span <= 0.0 or low[late].min() > np.nanmin(low) + 0.15 * span:
        return None
    slope = np.degrees(np.arctan(-np.median(rate[late] / motion.speed[rows][late])))
    for unit in ("m", "ft"):
        angle = np.degrees(np.arctan(np.tan(np.radians(slope)) * units.BY_SUFFIX[unit].factor))
        if 2.2 < angle < 5.2:
            why = f"it comes down to a stop at {angle:.1f} deg in {unit}, a glide path that is flown"
            return Vote(unit, 0.8, why)
    return None
