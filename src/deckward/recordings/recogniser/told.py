"""What a person has told of some columns, what that teaches of the others, and what to ask next."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec.structs import replace

from deckward.recordings.columns import IGNORE, Rule
from deckward.recordings.drafted import Question, Told
from deckward.recordings.quantities import split_prefix
from deckward.recordings.recogniser import asking
from deckward.recordings.recogniser.findings import Craft, Finding
from deckward.recordings.recogniser.names import Guess, Phrase, phrase_of, words_in

#: what a debrief wants of the aircraft and of the ship, asked for one after the other once words fail
_WANTED = ("heading", "pitch", "roll", "angle_of_attack", "true_airspeed", "throttle", "hook")
#: of heading, pitch, roll and angle of attack, and of columns without a name, so many as show that words fail
_MANY = 3
_WANTED_OF_SHIP = ("heading", "pitch", "roll")
#: what a flight covers at least along one axis of a plane, m
_SHORT_WAY = 30.0
#: what may count either way
_SIGNED = ("longitude", "latitude", "heading", "pitch", "roll", "angle_of_attack", "vertical_speed")
#: score of a name that says hardly anything, and confidence of a column that is left out for good
_FAINT, _SURE = 0.2, 0.95
#: columns in which a word may stand that names a quantity: of the aircraft, a ship, a second craft
_MOST = 3
#: how fast a value may change, SI a second, and how far from zero it may be
_FASTEST = {"latitude": 1e-4, "longitude": 3e-4, "altitude": 150.0, "heading": 0.8, "pitch": 0.6, "roll": 2.5}
_FASTEST |= {"north": 450.0, "east": 450.0, "up": 150.0}
_FARTHEST = {"pitch": 1.58, "roll": 3.2, "angle_of_attack": 0.9, "true_airspeed": 450.0, "throttle": 1.6}
#: a ship turns, and rolls, more slowly
_FASTEST_OF_SHIP = {"latitude": 4e-6, "longitude": 1.5e-5, "altitude": 5.0, "heading": 0.1}
_FASTEST_OF_SHIP |= {"north": 25.0, "east": 25.0, "up": 5.0}
_FARTHEST_OF_SHIP = {"pitch": 0.3, "roll": 0.7, "altitude": 120.0}
_UNITS = {
    "latitude": ("deg", "rad"),
    "longitude": ("deg", "rad"),
    "heading": ("deg", "rad"),
    "pitch": ("deg", "rad"),
    "roll": ("deg", "rad"),
    "angle_of_attack": ("deg", "rad"),
    "altitude": ("m", "ft"),
    "north": ("m", "ft"),
    "east": ("m", "ft"),
    "up": ("m", "ft"),
    "true_airspeed": ("kt", "mps", "kmh"),
    "throttle": ("", "pct"),
    "hook": ("", "pct"),
}
#: least reach of an angle that counts in degrees all the same, by its name unknown
_MORE_THAN_RADIANS = 6.3


def phrases(told: Told, names: Sequence[str]) -> tuple[Phrase, ...]:
    """Give the words that the aircraft's columns taught, each with its quantity.

    Words that stand in many of the file's ``names`` tell no column from another.
    """
    if not told.rules:
        return ()
    everywhere = [words_in(name) for name in names]
    taught = []
    for rule in told.rules:
        ship, quantity = split_prefix(rule.quantity)
        if ship or quantity in (IGNORE, "time", "who"):
            continue
        phrase = phrase_of(rule.source, quantity, rule.unit)
        if phrase is None:
            continue
        seen = {word: sum(word in each for each in everywhere) for word in phrase.words}
        own = frozenset(word for word in phrase.words if seen[word] <= _MOST)
        if own:
            taught.append(replace(phrase, words=own))
    return tuple(taught)


def guesses(told: Told, name: str) -> list[Guess] | None:
    """Give what was told of a column as the only way to read it; None where nothing was."""
    rule = told.of(name)
    if rule is None:
        return None
    if rule.quantity == IGNORE:
        return []
    ship, quantity = split_prefix(rule.quantity)
    open_sign = name in told.plain and quantity in _SIGNED
    sign = 0 if open_sign else rule.sign
    return [Guess(quantity, ship, rule.unit, 1.0, turned=sign, true=True, ours=not open_sign and sign > 0)]


def settled(told: Told, rule: Rule) -> Rule:
    """Give the rule that a person's word makes of a drafted one; a sign he did not tell is the draft's."""
    given = told.of(rule.source)
    if given is None:
        return rule
    if rule.source in told.plain and rule.quantity == given.quantity:
        return replace(given, sign=rule.sign, asked=rule.asked)
    return given


def next_question(work, told: Told) -> Question | None:
    """Ask for the next quantity that is wanted and that nothing tells; None if that is all."""
    if work.own.time is None or not nameless_at_all(work):
        return None
    done = told.declined | {rule.quantity for rule in told.rules}
    for quantity in () if work.alone or not (told or _words_fail(work)) else _WANTED:
        if quantity not in work.own.found and quantity not in done:
            question = which(quantity, work, work.own)
            if question is not None:
                return question
    if work.place is None and work.plane is None and not work.alone:
        return None
    craft = work.boat
    if not told and not (craft.found and not work.alone and _by_motion(craft)):
        has_place = "latitude" in craft.found or "north" in craft.found
        if has_place and "heading" not in craft.found:  # a ship's is needed, and never worked out
            return which("heading", work, craft)
        return None
    place = ("latitude", "longitude", "altitude") if work.plane is None else ("north", "east", "up")
    placed = place[2:] if work.alone else place
    for quantity in (*placed, *_WANTED_OF_SHIP):
        key = quantity if work.alone else f"ship_{quantity}"
        if quantity in craft.found or key in done:
            continue
        question = which(quantity, work, craft)
        if question is not None:
            return question
        if quantity in placed:
            return None
    return None


def _words_fail(work) -> bool:
    """Whether hardly anything of the aircraft but her place was found, and much in the file has no name."""
    missing = [quantity for quantity in _WANTED[:4] if quantity not in work.own.found]
    return len(missing) >= _MANY and sum(map(_open, work.findings)) >= _MANY


def _by_motion(craft: Craft) -> bool:
    """Whether her place was told by motion alone."""
    place = craft.found.get("latitude")
    return place is not None and bool(place.guesses) and place.guesses[0].by_motion


def nameless_at_all(work) -> bool:
    """Whether there is a column whose name says nothing and that was not decided on."""
    return any(_open(finding) for finding in work.findings)


def _open(finding: Finding) -> bool:
    return _undecided(finding) and (not finding.guesses or finding.guesses[0].score < _FAINT)


def _undecided(finding: Finding) -> bool:
    left_for_want = finding.quantity == IGNORE and finding.confidence < _SURE
    return finding.column.kind == "number" and (not finding.settled or left_for_want)


def which(quantity: str, work, craft: Craft) -> Question | None:
    """Ask which of the likely columns holds a quantity of a craft; None if there is none."""
    choices = [(finding, unit, quantity) for finding, unit in likely(quantity, work, craft)]
    if quantity == "latitude":  # or else the place is in a local plane
        choices += [(finding, unit, "north") for finding, unit in likely("north", work, craft)]
    ship = work.alone or craft is work.boat
    return asking.which_column(quantity, choices, ship=ship, alone=work.alone) if choices else None


def likely(quantity: str, work, craft: Craft) -> list[tuple[Finding, str]]:
    """Give the columns that may hold a quantity, each with a unit in which it may."""
    ship = work.alone or craft is work.boat
    found = []
    for finding in work.findings:
        still = finding.column.constant and quantity != "hook" and not (ship and finding.column.known[0])
        named = _undecided(finding) and any(guess.quantity == quantity for guess in finding.guesses)
        if still or not (named or _open(finding)):
            continue
        if work.ship_words and (work.ship_words <= words_in(finding.column.said)) != ship:
            continue
        found += [
            (finding, unit)
            for unit in _units_of(finding, quantity)
            if _fits(finding, unit, quantity, ship, work)
        ]
    return found


def _units_of(finding: Finding, quantity: str) -> tuple[str, ...]:
    units = _UNITS[quantity]
    if not finding.column.known.size:
        return ()
    reach = float(np.abs(finding.column.known).max())
    if "rad" in units:
        # nobody rolls or heads by half a degree only, and a place in radians is a number below pi
        return ("deg",) if reach > _MORE_THAN_RADIANS else units
    if "pct" in units:
        return ("pct",) if reach > 1.6 else ("",)
    return units


def _fits(finding: Finding, unit: str, quantity: str, ship: bool, work) -> bool:
    """Whether the column's size and rate are possible in a unit."""
    values = finding.si(unit, 1)
    fastest = (_FASTEST_OF_SHIP if ship else {}).get(quantity, _FASTEST.get(quantity, np.inf))
    farthest = (_FARTHEST_OF_SHIP if ship else {}).get(quantity, _FARTHEST.get(quantity, np.inf))
    known = values[np.isfinite(values)]
    if quantity == "latitude":
        farthest = np.pi / 2
    if not known.size or float(np.percentile(np.abs(known), 98)) > farthest:
        return False
    if quantity in ("north", "east") and not ship and float(np.ptp(known)) < _SHORT_WAY:
        return False
    if quantity == "hook":
        return len(np.unique(known)) <= 12
    if quantity == "throttle" and known.min() < -0.2:
        return False
    steps = np.diff(work.own.time)
    change = np.abs(np.diff(np.unwrap(values) if quantity == "heading" else values))
    use = np.isfinite(change) & (steps > 0.0)
    if use.sum() < 5:
        return True
    return float(np.percentile(change[use] / steps[use], 95)) < fastest
