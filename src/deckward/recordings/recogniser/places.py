"""Where the craft are: latitude and longitude, or the axes of a plane; units, senses, mirrors."""

from __future__ import annotations

from itertools import product

import numpy as np
from msgspec import Struct

from deckward.foundation import units
from deckward.foundation.angles import TURN
from deckward.recordings.geographic import from_one_number, in_one_number, signs_of
from deckward.recordings.recogniser import physics
from deckward.recordings.recogniser.findings import Craft, Finding
from deckward.recordings.recogniser.times import Clock

#: ground speeds of a flight around a ship, m/s: the middle one lies in here
_SLOWEST, _FASTEST = 22.0, 420.0
#: share of rows that may lie where there is no place on earth
_MOST_IMPOSSIBLE = 0.05
#: how a place was written
IN_ONE_NUMBER = "degrees and minutes in one number (ddmm.mmm)"
#: agreement at which a roll follows the turns beyond doubt
_CLOSELY = 0.6
#: speeds of approach, m/s, by which a plane in metres is told from one in feet
_APPROACH = (38.0, 115.0)


class Place(Struct):
    """A way to read the position: the columns and their units, and the motion it makes."""

    first: Finding
    second: Finding
    unit: str
    clock: Clock | None
    motion: physics.Motion
    geodetic: bool
    notes: tuple[str, ...] = ()
    letters: tuple[Finding, ...] = ()


def geodetic(
    craft: Craft, clocks: list[Clock], findings: list[Finding], usual: str | None = None
) -> Place | None:
    """Read latitude and longitude; of the clocks and units that are possible, the plausible speed tells.

    ``usual`` is the unit of another craft's position, which this one's is likely to be in too.
    """

    def off(pair: tuple[Finding, Finding]) -> float:
        """Least where the names say most and the two stand side by side."""
        worth = _worth(pair[0], "latitude", craft) + _worth(pair[1], "longitude", craft)
        return min(0.5, 0.1 * abs(pair[0].column.index - pair[1].column.index)) - worth

    pairs = product(craft.candidates("latitude"), craft.candidates("longitude"))
    first = None
    for latitude, longitude in sorted(pairs, key=off):
        if latitude is longitude or not (latitude.column.known.size and longitude.column.known.size):
            continue
        place = _on_earth(craft, latitude, longitude, clocks, findings, usual)
        if place is not None and _moves_as(place.motion, craft.ship):
            return place
        first = first or place
    return first


def _moves_as(motion: physics.Motion, ship: bool) -> bool:
    """Whether the speed is one of an aircraft, or of a ship."""
    low, high = (-1.0, 35.0) if ship else (_SLOWEST, _FASTEST)
    return bool(motion.speed.size) and low < float(np.percentile(motion.speed, 75)) < high


def speeds(craft: Craft, clock: Clock, findings: list[Finding]) -> list[float]:
    """Give how fast each pair that may be a latitude and a longitude moves by a clock, m/s."""
    found = []
    for latitude, longitude in product(craft.candidates("latitude"), craft.candidates("longitude")):
        if latitude is longitude or not (latitude.column.known.size and longitude.column.known.size):
            continue
        place = _on_earth(craft, latitude, longitude, [clock], findings, None)
        if place is not None and place.motion.speed.size:
            found.append(float(np.percentile(place.motion.speed, 75)))
    return found


def _worth(finding: Finding, quantity: str, craft: Craft) -> float:
    guess = finding.guess(quantity, ship=craft.ship)
    return guess.score if guess is not None else 0.0


def _angle_units(latitude: Finding, longitude: Finding, ship: bool) -> list[str]:
    for finding, quantity in ((latitude, "latitude"), (longitude, "longitude")):
        guess = finding.guess(quantity, ship=ship)
        if guess is not None and guess.unit is not None:
            return [guess.unit]
    small = np.abs(latitude.column.known).max() <= np.pi / 2 and np.abs(longitude.column.known).max() <= TURN
    return ["deg", "rad"] if small else ["deg"]


def read_degrees(latitude: Finding, longitude: Finding, findings: list[Finding]):
    """Give both in the numbers they are written in, degrees and minutes and letters applied.

    Returns the two arrays, what was done, and the columns of letters.
    """
    pair = [latitude.column.numbers, longitude.column.numbers]
    done: list[str] = []
    letters: list[Finding] = []
    if in_one_number(*pair):
        pair = [from_one_number(values) for values in pair]
        done.append(IN_ONE_NUMBER)
    elif "place" in (latitude.column.kind, longitude.column.kind):
        done.append("degrees and minutes with the letter of the hemisphere")
    by_index = {finding.column.index: finding for finding in findings}
    for place, (finding, quantity) in enumerate(((latitude, "latitude"), (longitude, "longitude"))):
        behind = by_index.get(finding.column.index + 1)
        if behind is None or behind.settled or behind.column.texts is None or behind.column.kind != "text":
            continue
        signs = signs_of(quantity, behind.column.texts)
        if signs is not None and np.nanmin(pair[place]) >= 0.0:
            pair[place] = pair[place] * signs
            letters.append(behind)
            done.append(f"its hemisphere stands in {behind.name!r}")
    return pair[0], pair[1], done, letters


def _on_earth(craft, latitude, longitude, clocks, findings, usual) -> Place | None:
    lat, lon, done, letters = read_degrees(latitude, longitude, findings)
    impossible = (np.abs(lat) > 90.0) | (np.abs(lon) > 361.0)
    if impossible.mean() > _MOST_IMPOSSIBLE or not np.isfinite(lat).any():
        return None
    lat, lon = np.where(impossible, np.nan, lat), np.where(impossible, np.nan, lon)
    ways = []
    allowed = _angle_units(latitude, longitude, craft.ship)
    for unit in sorted(allowed, key=lambda unit: unit != usual):
        factor = units.DEGREE if unit == "deg" else 1.0
        for clock in clocks or [None]:
            if clock is None:
                empty = np.array([], dtype=int)
                none = np.array([])
                motion = physics.Motion(empty, empty, none, none, none)
            else:
                motion = physics.motion_on_earth(
                    clock.seconds, lat * factor, lon * factor, span=5.0 if craft.ship else 1.0
                )
            ways.append(Place(latitude, longitude, unit, clock, motion, True, tuple(done), tuple(letters)))
    return likely(ways, craft.ship)


def likely(ways: list[Place], ship: bool) -> Place | None:
    """Of several readings take the first whose speed is one that such a craft has."""
    for way in ways:
        if _moves_as(way.motion, ship):
            return way
    return ways[0] if ways else None


class Senses(Struct, frozen=True):
    """How the two axes of a plane (or longitude) lie: which is north, and which count backwards."""

    swapped: bool
    north: int
    east: int

    def of(self, motion: physics.Motion) -> physics.Motion:
        """Turn a motion whose north is the first axis and whose east is the second."""
        first, second = (motion.east, motion.north) if self.swapped else (motion.north, motion.east)
        return physics.Motion(motion.start, motion.end, motion.step, self.north * first, self.east * second)

    @property
    def mirrors(self) -> bool:
        """Whether they make a mirror image of the plane whose first axis is north, second east."""
        return (self.north * self.east < 0) != self.swapped


ALL_SENSES = tuple(
    Senses(swapped, north, east) for swapped in (False, True) for north in (1, -1) for east in (1, -1)
)
AS_NAMED = Senses(False, 1, 1)
STRAIGHT = tuple(senses for senses in ALL_SENSES if not senses.swapped)


class Matched(Struct, frozen=True):
    """A heading that follows the motion: the senses, the heading's unit and sign, how far off, rad."""

    senses: Senses
    unit: str
    sign: int
    off: float
    roll: float


def match_heading(
    motion: physics.Motion,
    heading: Finding,
    heading_units: list[str],
    roll: np.ndarray | None,
    senses: tuple[Senses, ...],
    slowest: float = physics.FLYING,
) -> list[Matched]:
    """Try every sense of the axes with every sign of the heading; the nearest first.

    ``roll`` of a match is how well a roll (n,), rad, right wing down, fits the turns it makes.
    """
    found = []
    for way, unit, sign in product(senses, heading_units, (1, -1)):
        turned = way.of(motion)
        aside = physics.beside_track(turned, heading.si(unit, sign), slowest)
        if not np.isfinite(aside.off):
            continue
        agreement = _turns(turned, roll, heading.si(unit, sign)) if roll is not None else 0.0
        found.append(Matched(way, unit, sign, aside.off, agreement))
    return sorted(found, key=lambda match: match.off)


def _turns(motion: physics.Motion, roll: np.ndarray, heading: np.ndarray) -> float:
    """Say how well a roll makes the turns that are flown, from -1 to 1."""
    fit = physics.turn_by_roll(motion, roll)
    if abs(fit.agreement) > _CLOSELY and fit.beyond_chance:
        return fit.agreement
    bank = physics.bank(motion, roll, heading)
    return float(np.tanh(bank.odds / 5.0)) if bank.likely else 0.0


def unit_by_approach(speed: np.ndarray) -> tuple[str, float] | None:
    """Tell a plane in metres from one in feet by the speed in the last part of the flight."""
    moving = speed[speed > 0.3 * np.percentile(speed, 90)] if speed.size else speed
    if moving.size < physics.FEWEST:
        return None
    late = float(np.median(moving[-max(physics.FEWEST, moving.size // 3) :]))
    if _APPROACH[0] < late < _APPROACH[1]:
        return "m", late
    if _APPROACH[1] * 1.05 < late < _APPROACH[1] / units.FOOT:
        return "ft", late * units.FOOT
    return None
