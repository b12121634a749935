"""Holding a drafted map against what a foreign file really holds."""

from __future__ import annotations

import numpy as np

from deckward.foundation.units import BY_SUFFIX
from support.foreign_files import ForeignFile, Wanted

#: columns that a debrief needs right; the others may be left out, never misread
NEEDED = ("time", "latitude", "longitude", "altitude", "north", "east", "up", "heading", "pitch", "roll")


def _same(wanted: Wanted, rule) -> bool:
    """Whether a rule reads a column as what it is; a descent counted down is a climb."""
    told = (rule.quantity, rule.unit or None, rule.sign)
    ways = {(wanted.quantity, wanted.unit, wanted.sign)}
    if wanted.quantity == "velocity_down":
        ways.add(("vertical_speed", wanted.unit, -wanted.sign))
    if wanted.quantity == "vertical_speed":
        ways.add(("velocity_down", wanted.unit, -wanted.sign))
    return told in ways


def verdict(file: ForeignFile, draft) -> dict[str, list[str]]:
    """Give the columns read wrongly in silence, needed but left out, asked without need, not asked."""
    rules = {rule.source: rule for rule in draft.map.columns}
    asked = {name for question in draft.questions for name in question.columns}
    found: dict[str, list[str]] = {"wrong": [], "missing": [], "needless": [], "unasked": []}
    for wanted in file.wanted:
        rule = rules.get(wanted.header.strip())
        if rule is None:
            found["missing"].append(wanted.header)
            continue
        is_asked = rule.source in asked
        right = _same(wanted, rule)
        if wanted.doubt == "!" and not is_asked:
            found["unasked"].append(wanted.header)
        if is_asked:
            if not wanted.doubt:
                found["needless"].append(wanted.header)
            continue
        if right or rule.quantity == "ignore":
            if not right and wanted.quantity.removeprefix("ship_") in NEEDED and not wanted.doubt:
                found["missing"].append(wanted.header)
            continue
        if wanted.doubt != "!":
            found["wrong"].append(f"{wanted.header}: {rule.quantity} {rule.unit} {rule.sign}")
    if file.undecided and not draft.questions:
        found["unasked"].append("(no question at all)")
    return found


#: how far what is read may be off what was flown, SI; None of this is seen in a debrief
_NEAR = {"latitude": 1e-8, "longitude": 1e-8, "altitude": 0.3, "north": 0.3, "east": 0.3, "up": 0.3}
_ANGLES = ("heading", "pitch", "roll", "longitude", "angle_of_attack")


def misread(file: ForeignFile, draft) -> list[str]:
    """Name the columns whose values a map takes for what they are not, and nobody is asked about."""
    rules = {rule.source: rule for rule in draft.map.columns}
    asked = {name for question in draft.questions for name in question.columns}
    found = []
    for wanted in file.wanted:
        rule = rules.get(wanted.header.strip())
        if rule is None or rule.source in asked or rule.quantity == "ignore" or wanted.quantity == "ignore":
            continue
        if not _reads(wanted, rule, file.truth):
            found.append(f"{wanted.header}: {rule.quantity} {rule.unit} {rule.sign}")
    return found


def _reads(wanted: Wanted, rule, truth) -> bool:
    """Whether a rule makes of a column the values that were flown."""
    if wanted.quantity == "time" or rule.quantity != wanted.quantity:
        return _same(wanted, rule)
    bare = wanted.quantity.removeprefix("ship_")
    factor = BY_SUFFIX[rule.unit or ""].factor / BY_SUFFIX[wanted.unit or ""].factor
    values = truth[wanted.quantity]
    off = values * (wanted.sign * rule.sign * factor) - values
    if bare in _ANGLES:
        off = (off + np.pi) % (2.0 * np.pi) - np.pi
    return bool(np.abs(off).max() <= _NEAR.get(bare, 2e-3 if bare in _ANGLES else 0.3))


def answered(file: ForeignFile, draft):
    """Answer every question as somebody would who knows what the file holds."""
    while draft.questions:
        question = draft.questions[0]
        ways = [draft.answered(question, choice) for choice in question.choices]
        draft = min(ways, key=lambda way: _untrue(file, way, set(question.columns)))
    return draft


def talked(file: ForeignFile, draft, most: int = 40):
    """Answer question after question as :func:`answered` does, each answer teaching the next draft."""
    for _ in range(most):
        if not draft.questions:
            return draft
        question = draft.questions[0]
        draft = draft.taught(question, choose(file, draft, question))
    raise AssertionError(f"still asking: {[q.question for q in draft.questions]}")


def choose(file: ForeignFile, draft, question):
    """Choose what somebody would who knows what the file holds."""
    return _opening(file, question) or _best(file, draft, question)


def _opening(file: ForeignFile, question):
    """Choose the column that is asked for, in its unit; None where the question is another one."""
    if not question.opens:
        return None
    wanted = {(w.header.strip(), w.quantity, w.unit or None) for w in file.wanted}
    return next(
        (c for c in question.choices if c.rules and _meant(c.rules[0]) in wanted), question.choices[-1]
    )


def _meant(rule) -> tuple:
    return rule.source, rule.quantity, rule.unit


def _best(file: ForeignFile, draft, question):
    """Choose what is least untrue and then tells most; files without a clock have 10 rows a second."""
    return min(
        question.choices,
        key=lambda choice: (
            choice.rate_hz not in (None, 10.0),
            _untrue(file, draft.answered(question, choice), set(question.columns)),
            -_told(file, draft.answered(question, choice)),
        ),
    )


def _told(file: ForeignFile, draft) -> int:
    """How many columns are read as what they hold."""
    rules = {rule.source: rule for rule in draft.map.columns}
    return sum(
        _reads(wanted, rules[wanted.header.strip()], file.truth)
        for wanted in file.wanted
        if wanted.header.strip() in rules
        and wanted.quantity != "ignore"
        and rules[wanted.header.strip()].quantity != "ignore"
    )


def unread(file: ForeignFile, draft) -> list[str]:
    """Name the columns that a debrief needs and that a map leaves out."""
    rules = {rule.source: rule for rule in draft.map.columns}
    return [
        wanted.header
        for wanted in file.wanted
        if wanted.quantity.removeprefix("ship_") in NEEDED
        and not (wanted.quantity == "time" and draft.map.file.rate_hz)
        and rules[wanted.header.strip()].quantity == "ignore"
    ]


def _untrue(file: ForeignFile, draft, columns: set[str]) -> int:
    rules = {rule.source: rule for rule in draft.map.columns}
    count = 0
    for wanted in file.wanted:
        rule = rules.get(wanted.header.strip())
        if rule is None or rule.source not in columns or wanted.quantity == "ignore":
            continue
        if rule.quantity == "ignore":
            count += wanted.quantity.removeprefix("ship_") in NEEDED
        else:
            count += 10 * (not _reads(wanted, rule, file.truth))
    return count
