"""Holding a drafted map against what a foreign file really holds."""

from __future__ import annotations

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
