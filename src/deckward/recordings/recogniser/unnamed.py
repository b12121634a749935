"""Columns whose names say nothing, or not of which craft: what the motion says of them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

import numpy as np
from msgspec.structs import replace

from deckward.foundation.units import BY_SUFFIX
from deckward.recordings.recogniser import attitude, names, physics
from deckward.recordings.recogniser.findings import Craft, Finding
from deckward.recordings.recogniser.names import Guess, words_in

#: score of a guess that no name supports
_SCORE = 0.4
#: score of a name that hardly says anything
_WEAK = 0.5
#: how near to the direction of motion a heading is, rad; nearer than the second is that direction itself
_HEADING_OFF, TRACK_OFF = np.radians(12.0), np.radians(0.03)
#: steps of a column that can be a clock in s or ms, and how evenly it rises; the same of one in minutes,
#: which a straight course could be but for its evenness
_TICKS = (((2e-3, 4000.0), 0.5), ((2e-3 / 60.0, 2e-3), 0.02))
#: how far pitch, angle of attack and climb may miss one another for a nameless column to be the height, rad
_NOSE_OFF = np.radians(1.2)
#: seconds since 1970 that a recording may begin at
_EPOCH = (8.2e8, 3.0e9)
#: a ship's speed at most, and a flight's at least, m/s
_SHIP, _FLIGHT = 20.0, 35.0


def nameless(findings: Sequence[Finding], dimension: str | None = None) -> list[Finding]:
    """Give the open columns of moving numbers whose names say nothing, nor another dimension.

    A name that might mean, at best, what another column was found to be says nothing either.
    """
    taken = {(f.quantity, f.ship) for f in findings if f.settled}
    found = [
        f
        for f in findings
        if not f.settled
        and all(g.score < _WEAK and (g.quantity, g.ship) in taken for g in f.guesses)
        and f.column.kind == "number"
        and not f.column.constant
    ]
    if dimension is None:
        return found
    said = [names.dimension_said(f.name, f.column.unit_row) for f in found]
    return [f for f, each in zip(found, said, strict=True) if each in (None, dimension)]


def guess_clock(findings: Sequence[Finding], every: int) -> None:
    """Take a nameless column for the time where it alone rises evenly, and not row by row."""
    for (least, most), uneven in _TICKS:
        even = []
        for finding in nameless(findings, "time"):
            steps = np.diff(finding.column.known)
            ticks = steps.size > 10 and least <= np.median(steps) / every <= most
            if ticks and steps.min() > 0.0 and np.ptp(steps) < uneven * np.median(steps):
                whole = bool(np.all(np.mod(finding.column.known, 1.0) == 0.0))
                counts = whole and np.median(steps) < 60.0 and not _since_1970(finding.column.known)
                if not counts:
                    even.append(finding)
        if len(even) == 1:
            even[0].guesses = [Guess("time", False, None, _SCORE, by_motion=True)]
        if even:
            return


def _since_1970(known: np.ndarray) -> bool:
    """Whether numbers have the size of seconds or milliseconds since 1970, from 1996 to 2065."""
    middle = float(np.median(known))
    return any(_EPOCH[0] < middle * scale < _EPOCH[1] for scale in (1.0, 1e-3))


def tell_ship_by_speed(work, time: np.ndarray | None) -> None:
    """Tell which of two craft is the ship by how slowly she moves, where no word says so."""
    findings, boat, own = work.findings, work.boat, work.own
    usual = _place_words() | work.place_words
    if time is None or boat.candidates("latitude", "north"):
        return
    speeds: dict[frozenset[str], float] = {}
    for first, second, moves in (
        ("latitude", "longitude", _on_earth),
        ("north", "east", physics.motion_in_plane),
    ):
        for one, other in product(own.candidates(first), own.candidates(second)):
            apart = words_in(one.name) ^ words_in(other.name)
            if not apart <= usual or not one.column.known.size:
                continue
            motion = moves(time, one.column.numbers, other.column.numbers, span=3.0)
            if motion.speed.size:
                common = words_in(one.name) & words_in(other.name)
                speeds[common] = float(np.percentile(motion.speed, 75))
    slow = [words for words, speed in speeds.items() if speed < _SHIP]
    fast = [words for words, speed in speeds.items() if speed > _FLIGHT]
    if len(slow) != 1 or len(fast) != 1:
        return
    marks = slow[0] - fast[0]
    if not marks:
        return
    for finding in findings:
        if marks <= words_in(finding.column.said):
            finding.guesses = [replace(guess, ship=True) for guess in finding.guesses]


def _on_earth(time, latitude, longitude, *, span: float) -> physics.Motion:
    return physics.motion_on_earth(time, np.radians(latitude), np.radians(longitude), span=span)


def _place_words() -> frozenset[str]:
    """Words by which a latitude and a longitude of one craft differ: those of the quantities."""
    from deckward.recordings.recogniser.vocabulary import QUANTITIES

    words = f"{QUANTITIES['latitude']},{QUANTITIES['longitude']}".replace(",", " ").replace("*", " ").split()
    return frozenset(words)


def guess_by_motion(own: Craft) -> None:
    """Give nameless columns guesses that the motion supports; what comes after decides on them."""
    motion = own.motion
    if motion is None or motion.speed.size < 2 * physics.FEWEST:
        return
    if not own.candidates("heading"):
        _best(own, "heading", lambda f, unit: _as_heading(motion, f.si(unit, 1)), 6.3)
    if not own.candidates("roll"):
        _best(own, "roll", lambda f, unit: _as_roll(motion, f.si(unit, 1)), 3.2)


def guess_tilt(own: Craft) -> None:
    """Take a tilt for the pitch beside a roll that is named, for the roll beside a pitch."""
    tilts = [f for f in own.candidates("tilt") if f.column.known.size and not f.column.constant]
    named = {quantity: bool(own.candidates(quantity)) for quantity in ("pitch", "roll")}
    if len(tilts) != 1 or named["pitch"] == named["roll"]:
        return
    quantity = "roll" if named["pitch"] else "pitch"
    tilts[0].guesses = [replace(guess, quantity=quantity) for guess in tilts[0].guesses]


def guess_rate(own: Craft, altitude: Finding) -> None:
    """Take a nameless column for the vertical speed where it is the altitude's rate."""
    motion = own.motion
    if motion is None or own.candidates("vertical_speed", "sink"):
        return
    rate = motion.rate(altitude.column.numbers)
    for finding in nameless(own.findings, "speed"):
        values = motion.middle(finding.column.numbers)
        fit = physics.follow(rate, values)
        # two numbers that hardly change agree by their size alone: their changes must agree as well
        changes = physics.follow(rate, values, offset=True)
        alike = abs(fit.agreement) > 0.97 and abs(changes.agreement) > 0.9 and fit.beyond_chance
        if alike and a_rate(fit.slope, altitude.unit):
            finding.guesses = [Guess("vertical_speed", False, None, _SCORE, by_motion=True)]
            return


def guess_altitude(own: Craft) -> None:
    """Take a nameless column for the altitude where a vertical speed that is named is its rate."""
    motion = own.motion
    rate = own.first("vertical_speed", "sink")
    if motion is None or not motion.speed.size or own.candidates("altitude", "pressure_altitude", "up", "z"):
        return
    if rate is None:
        _altitude_by_nose(own)
        return
    told = motion.middle(rate.column.numbers)
    fitting = []
    for finding in nameless(own.findings, "length"):
        changes = motion.rate(finding.column.numbers)
        fit, varied = physics.follow(changes, told), physics.follow(changes, told, offset=True)
        alike = abs(fit.agreement) > 0.97 and abs(varied.agreement) > 0.9 and fit.beyond_chance
        if alike and a_rate(fit.slope, None):
            fitting.append((_off_unit(fit.slope), finding))
    if fitting:  # of two heights the one whose rate it is: a barometer's is off by the weather
        _, finding = min(fitting, key=lambda each: each[0])
        unit = names.unit_said(finding.name, finding.column.unit_row, "length")
        finding.guesses = [Guess("altitude", False, unit, _SCORE, by_motion=True)]


def _off_unit(slope: float) -> float:
    """How far the slope of a vertical speed against a height is off the nearest in any units, a logarithm."""
    heights = [1.0, BY_SUFFIX["ft"].factor]
    rates = [each.factor for each in BY_SUFFIX.values() if each.usual and each.dimension == "speed"]
    return float(min(abs(np.log(abs(slope) * rate / height)) for height in heights for rate in rates))


def _altitude_by_nose(own: Craft) -> None:
    """Take a nameless column for the altitude where pitch and angle of attack ask for its climbs."""
    pitch, attack = own.first("pitch"), own.first("angle_of_attack")
    if pitch is None or attack is None or not own.paced:
        return
    bank, fitting = own.si("roll"), []
    for finding in nameless(own.findings, "length"):
        tried = attitude.noses(own, finding, ["m", "ft"], pitch, bank, attack, None)
        best = tried[0] if tried else None
        if best is None or best.rest > _NOSE_OFF:
            continue
        vote = attitude.height_by_climbs(own, finding, pitch, attack, best, bank)
        if vote is not None and vote.unit == best.height:
            fitting.append(finding)
    if len(fitting) == 1:
        unit = names.unit_said(fitting[0].name, fitting[0].column.unit_row, "length")
        fitting[0].guesses = [Guess("altitude", False, unit, _SCORE, by_motion=True)]
        same_of_ship(own.findings, fitting[0])


def same_of_ship(findings: Sequence[Finding], own: Finding) -> None:
    """Take the ship's nameless column of the same words for the same quantity."""
    word = names.own_word(own.name)
    for finding in findings:
        alike = word and names.own_word(finding.name) == word and names.of_ship(finding.name)
        if alike and not finding.settled and not finding.guesses and finding.column.kind == "number":
            finding.guesses = [replace(guess, ship=True) for guess in own.guesses]


def a_rate(slope: float, unit: str | None) -> bool:
    """Whether a slope is that of a vertical speed, against a height in ``unit`` (or in any)."""
    heights = [BY_SUFFIX[unit].factor] if unit else [1.0, BY_SUFFIX["ft"].factor]
    rates = [each.factor for each in BY_SUFFIX.values() if each.usual and each.dimension == "speed"]
    return any(0.85 < abs(slope) * rate / height < 1.18 for height in heights for rate in rates)


def guess_nose(own: Craft, climb: np.ndarray) -> None:
    """Take nameless columns for pitch or angle of attack where one is named and they fit together."""
    motion = own.motion
    if motion is None:
        return
    pitch = next((f for f in own.candidates("pitch")), None)
    attack = next((f for f in own.candidates("angle_of_attack")), None)
    if (pitch is None) == (attack is None):
        return
    known = pitch or attack
    assert known is not None
    given, wanted, sense = (
        ("pitch", "angle_of_attack", -1) if attack is None else ("angle_of_attack", "pitch", 1)
    )

    def fits(finding: Finding, unit: str) -> float:
        ways = product(attitude.angle_units(known, given), (1, -1))
        told = [motion.middle(known.si(*way)) + sense * climb for way in ways]
        return min(float(np.nanmedian(np.abs(motion.middle(finding.si(unit, 1)) - one))) for one in told)

    _best(own, wanted, lambda f, unit: _near(fits(f, unit)), 1.58)


def _near(off: float) -> float | None:
    return off if off < np.radians(1.0) else None


def _best(own: Craft, quantity: str, merit, most_rad: float) -> None:
    """Give the nameless column with the least ``merit`` (None: not it at all) a guess."""
    tried = []
    for finding in nameless(own.findings, "angle"):
        for unit in attitude.angle_units(finding, quantity, most_rad=most_rad):
            off = merit(finding, unit)
            if off is not None:
                tried.append((off, finding, unit))
    if tried:
        _, finding, unit = min(tried, key=lambda each: each[0])
        finding.guesses = [Guess(quantity, False, unit, _SCORE, by_motion=True)]


def _as_heading(motion: physics.Motion, values: np.ndarray) -> float | None:
    aside = physics.beside_track(motion, values)
    turned = np.isfinite(aside.off) and aside.turned > np.radians(25.0)
    return aside.off if turned and TRACK_OFF < aside.off < _HEADING_OFF else None


def _as_roll(motion: physics.Motion, values: np.ndarray) -> float | None:
    fit = physics.turn_by_roll(motion, values)
    if abs(fit.agreement) < 0.9 or not 0.5 < abs(fit.slope) < 2.0:
        return None
    return float(abs(np.log(abs(fit.slope))))
