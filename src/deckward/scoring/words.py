"""What the scorecard says in words: the pass in a line, the one thing to look at."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from deckward.foundation.units import from_si
from deckward.passes.model import Pass
from deckward.scoring.model import Deviation, Grade
from deckward.scoring.rulebook import Rulebook
from deckward.scoring.shorthand import Said
from deckward.scoring.windows import Window

#: remarks in the one line; a person reads three in two seconds
_MOST_SAID = 3
#: a grade or a wire less likely than this is not spoken of
_UNLIKELY = 0.1
#: nearer than this a distance is told in feet, m
_NEAR = 370.0


def summary(flown: Pass, said: Sequence[Said], places: Sequence[Window], *, graded: bool) -> str:
    """Say the pass in a line: how it ended, then the most weighty remarks in their order."""
    weighty = sorted(said, key=lambda item: -item.weight)[:_MOST_SAID]
    parts = []
    for item in said:
        if item in weighty:
            corrected = f", corrected {item.corrected[1]}" if item.corrected else ""
            parts.append(f"{item.words} {item.where}".strip() + corrected)
    if parts:
        told = _capital(", ".join(parts))
    elif not places or not graded:
        told = "Too little of the approach on record to judge"
    else:
        told = "Nothing outside the limits"
    return f"{outcome(flown, places)}. {told}."


def odds_in_words(grade: Grade) -> str:
    """Say the grade with its odds: "OK", or "OK or fair, 60 to 40"."""
    likely = sorted(((share, name) for name, share in grade.odds.items() if share >= _UNLIKELY), reverse=True)
    if len(likely) < 2:
        return grade.name
    whole = sum(share for share, _ in likely)
    shares = [round(100 * share / whole) for share, _ in likely]
    shares[0] += 100 - sum(shares)
    names = [name for _, name in likely]
    return f"{', '.join(names[:-1])} or {names[-1]}, {' to '.join(str(share) for share in shares)}"


def look_at(flown: Pass, deviations: Sequence[Deviation], dangers: Sequence[str], *, graded: bool) -> str:
    """Name the one thing to look at: the deviation that weighs most, with number and place."""
    if not deviations:
        if dangers:
            return f"{_capital(dangers[0])}."
        if not graded:
            return "Too little of the approach is on record."
        return "Nothing beyond the rulebook's limits."
    most = max(deviations, key=lambda item: (item.weight, -item.time))
    return f"{_capital(most.words)}: {_amount(flown, most)}{_place(flown, most)}."


def not_judged(
    flown: Pass, rulebook: Rulebook, places: Sequence[Window], unseen: Mapping[str, Mapping[str, float]]
) -> tuple[str, ...]:
    """Say what could not be judged, one line each.

    ``unseen`` maps a quantity to position codes, each with the standard deviation that
    made it useless there, or 0 where it is missing.
    """
    lines = []
    reached = {place.bounds.code for place in places}
    for bounds in rulebook.positions:
        if bounds.code in reached or bounds.end < 0:
            continue
        if flown.wave_off is not None or flown.outcome == "wave-off":
            continue
        late = flown.groove is not None and flown.groove.start > places[0].start - 1e-6
        why = "the groove began later" if late else "the recording does not show it"
        lines.append(f"nothing {bounds.name}: {why}")
    for quantity, spreads in unseen.items():
        codes = [p.bounds.code for p in places if p.bounds.code in spreads and not p.over_the_deck]
        if not codes:
            continue
        everywhere = len(codes) >= len([place for place in places if not place.over_the_deck])
        where = "" if everywhere else " " + ", ".join(rulebook.position(code).name for code in codes)
        worst = max(spreads.values())
        why = "too uncertain" if worst > 0 else "not in the recording"
        lines.append(f"{quantity}{where}: {why}")
    return tuple(lines)


def outcome(flown: Pass, places: Sequence[Window]) -> str:
    """Say how the pass ended."""
    if flown.outcome is None:
        return "Ends before the deck" if flown.touchdown is None else f"Ends at touchdown{_wire(flown)}"
    if flown.outcome == "trap":
        in_the_air = ", taken in the air" if flown.wire_in_the_air else ""
        return f"Trap{_wire(flown)}{in_the_air}"
    if flown.outcome == "wave-off":
        if not places:
            return "Wave-off"
        return f"Wave-off {'over the deck' if places[-1].over_the_deck else places[-1].bounds.name}"
    if flown.outcome == "bolter":
        if "touched after wave-off" in flown.flags:
            return "Bolter, touched after a wave-off"
        return "Bolter, hook skip" if "hook skip" in flown.flags else "Bolter"
    if flown.outcome == "outside":
        return "Met the deck outside the landing area"
    return flown.outcome.replace("-", " ").capitalize()


def _wire(flown: Pass) -> str:
    likely = sorted(
        ((share, wire) for wire, share in flown.wire_odds.items() if wire != "none" and share >= _UNLIKELY),
        reverse=True,
    )
    if len(likely) > 1:
        return f", wire {' or '.join(wire for _, wire in likely)}"
    wire = flown.wire if flown.wire is not None else next((wire for _, wire in likely), None)
    return "" if wire is None else f", wire {wire}"


def _amount(flown: Pass, item: Deviation) -> str:
    """Say how much, in the trade's units."""
    value, positive = abs(item.value), item.value > 0
    degrees, rate = from_si(value, "deg"), from_si(value, "fps")
    side = "right" if positive else "left"
    if item.quantity == "glide slope":
        cells = value / flown.site.lens.cell
        return f"{degrees:.2f} deg ({cells:.1f} cells) {'above' if positive else 'below'} the path"
    if item.quantity == "angle of attack":
        return f"{degrees:.1f} deg {'above' if positive else 'below'} on speed"
    if item.quantity in ("line-up", "start"):
        amount = f"{from_si(value, 'ft'):.0f} ft" if item.unit == "m" else f"{degrees:.1f} deg"
        return f"{amount} {side} of the centreline"
    if item.quantity == "path rate":
        return f"{rate:.0f} ft/s {'up' if positive else 'down'} against the path"
    if item.quantity == "drift":
        return f"{rate:.0f} ft/s to the {side}"
    if item.quantity == "sink":
        return f"{rate:.0f} ft/s {'more' if positive else 'less'} than the path asks"
    if item.quantity == "bank":
        return f"{degrees:.0f} deg of bank"
    return f"{value:.0f} s from wings level to the deck"


def _place(flown: Pass, item: Deviation) -> str:
    """Say where: how far from the ramp and how long before it."""
    series = flown.series
    known = np.isfinite(series.range)
    if not item.position or not known.any():
        return ""
    distance = float(np.interp(item.time, series.time[known], series.range[known]))
    if distance <= 0:
        return ", over the deck"
    if distance >= _NEAR:
        return f", {from_si(distance, 'nm'):.2f} nm from the ramp"
    return f", {round(from_si(distance, 'ft'), -1):.0f} ft from the ramp"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
