"""What a pass holds of a rulebook's deviations and dangers, in every copy of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from msgspec import Struct

from deckward.passes.model import Pass
from deckward.scoring import measures
from deckward.scoring.measures import Found
from deckward.scoring.model import Deviation
from deckward.scoring.resampling import Copies
from deckward.scoring.rulebook import Rulebook, SafetyRule, Threshold
from deckward.scoring.vocabulary import LANDED, REMARKS
from deckward.scoring.windows import Window, ramp_time

#: what a fully judged pass shows at every position before the deck
_ESSENTIAL = ("glide slope", "line-up", "angle of attack")


class Judgement(Struct, frozen=True):
    """What the deviations add up to in each copy, ``(1 + draws,)``; row 0 is the estimate.

    ``deviations`` are those of the estimate. ``unseen`` maps a quantity to the positions
    where it was not judged, each with the standard deviation that made it useless, 0
    where it is missing. ``seconds`` is how much of the glide slope was judged.
    """

    deviations: tuple[Deviation, ...]
    total: np.ndarray
    worst: np.ndarray
    unseen: Mapping[str, Mapping[str, float]]
    complete: bool
    seconds: float


class Danger(Struct, frozen=True):
    """The best rung that the safety rules leave each copy, and what the estimate broke.

    ``struck`` says of which copies the hook was below the deck at the ramp.
    """

    rung: np.ndarray
    struck: np.ndarray
    broken: tuple[SafetyRule, ...]


def judge(flown: Pass, rulebook: Rulebook, places: Sequence[Window], copies: Copies) -> Judgement:
    """Hold every threshold of a rulebook against a pass."""
    by_code = {place.bounds.code: place for place in places}
    counted = np.array([0.0, *rulebook.intensity_weights])
    total = np.zeros(copies.ramp_error.size)
    worst = np.zeros(copies.ramp_error.size, dtype=int)
    deviations: list[Deviation] = []
    unseen: dict[str, dict[str, float]] = {}
    seen: set[tuple[str, str]] = set()
    for threshold in rulebook.thresholds:
        what = threshold.what
        limits = [measures.limit_value(limit, what, flown.site, flown.aircraft) for limit in threshold.limits]
        for window, found in _find(flown, threshold, by_code, copies):
            code = window.bounds.code if window else ""
            quantity = REMARKS[what].quantity
            # an error that hides a plain deviation leaves nothing to judge
            if not found.judged or found.spread > abs(limits[1]):
                if not REMARKS[what].trend:
                    unseen.setdefault(quantity, {})[code] = found.spread
                continue
            seen.add((quantity, code))
            intensity = np.sum(found.values[:, None] > np.array(limits), axis=1)
            weights = counted[intensity] * threshold.weight * (window.bounds.weight if window else 1.0)
            total += weights
            np.maximum(worst, intensity, out=worst)
            if intensity[0]:
                step = int(intensity[0])
                deviations.append(_deviation(what, found, step, limits[step - 1], float(weights[0]), window))
    order = [place.bounds.code for place in places]
    deviations.sort(key=lambda item: (order.index(item.position) if item.position else -1, item.time))
    aloft = [place for place in places if not place.over_the_deck]
    reached_all = len(aloft) == sum(bounds.end >= 0 for bounds in rulebook.positions)
    return Judgement(
        deviations=tuple(deviations),
        total=total,
        worst=worst,
        unseen=unseen,
        complete=reached_all
        and all((quantity, place.bounds.code) in seen for quantity in _ESSENTIAL for place in aloft),
        seconds=sum(p.end - p.start for p in aloft if ("glide slope", p.bounds.code) in seen),
    )


def _find(
    flown: Pass, threshold: Threshold, by_code: Mapping[str, Window], copies: Copies
) -> Iterator[tuple[Window | None, Found]]:
    """Yield the window (None: the whole pass) and what was found there."""
    what = threshold.what
    if not REMARKS[what].placed:
        whole = measures.whole_pass(flown, copies, what)
        if whole is not None:
            yield None, whole
        return
    metres = threshold.limits[0].unit == "length"
    for code in threshold.where:
        if code in by_code:
            window = by_code[code]
            yield window, _in_window(flown, copies, what, window, threshold.held, metres)


def _in_window(flown: Pass, copies: Copies, what: str, window: Window, hold: float, metres: bool) -> Found:
    found = measures.at_contact(flown, copies, what, metres=metres) if window.landing else None
    span = (window.start, window.end)
    return found or measures.held(flown, copies, what, span, hold=hold, metres=metres)


def _deviation(
    what: str, found: Found, intensity: int, limit: float, weight: float, window: Window | None
) -> Deviation:
    remark = REMARKS[what]
    symbol, words = remark.symbol, remark.words
    if window is not None and window.landing and what in LANDED:
        symbol, words = LANDED[what]
    return Deviation(
        position=window.bounds.code if window else "",
        quantity=remark.quantity,
        symbol=symbol,
        words=f"{words[intensity - 1]} {window.bounds.name}" if window else words[intensity - 1],
        intensity=intensity,
        value=found.side * float(found.values[0]),
        limit=found.side * limit,
        time=found.time,
        weight=weight,
        unit=found.unit,
    )


def look_for_danger(flown: Pass, rulebook: Rulebook, places: Sequence[Window], copies: Copies) -> Danger:
    """Hold every safety rule of a rulebook against a pass."""
    rung = np.zeros(copies.ramp_error.size, dtype=int)
    broken = []
    for rule in rulebook.safety:
        breaks = _breaks(flown, rule, rulebook, places, copies)
        rung = np.where(breaks, np.maximum(rung, rulebook.rung(rule.at_best)), rung)
        if breaks[0]:
            broken.append(rule)
    broken.sort(key=lambda rule: -rulebook.rung(rule.at_best))
    clearance = measures.over_the_ramp(flown, copies)
    struck = np.zeros(rung.size, dtype=bool) if clearance is None else clearance < 0
    return Danger(rung, struck, tuple(broken))


def _breaks(
    flown: Pass, rule: SafetyRule, rulebook: Rulebook, places: Sequence[Window], copies: Copies
) -> np.ndarray:
    """Say of every copy whether it breaks a rule; what is not on record breaks none."""
    none = np.zeros(copies.ramp_error.size, dtype=bool)
    what, limit = _what_and_limit(flown, rule)
    if what == "hard touchdown":
        touchdown = flown.touchdown
        return none | (touchdown is not None and touchdown.sink is not None and touchdown.sink > limit)
    if what == "low over the ramp":
        clearance = measures.over_the_ramp(flown, copies)
        return none if clearance is None else clearance < limit
    metres = rule.limit is not None and rule.limit.unit == "length"
    if rule.where:
        found = [
            _in_window(flown, copies, what, place, rule.held, metres)
            for place in places
            if place.bounds.code in rule.where
        ]
    else:
        ramp, window = ramp_time(flown), rulebook.wave_off_window
        if ramp is None:
            return none
        span = (ramp - window.start, ramp - window.end)
        found = [measures.held(flown, copies, what, span, hold=rule.held, metres=metres)]
    for item in found:
        if item.judged and item.spread <= abs(limit):
            none = none | (item.values > limit)
    return none


def _what_and_limit(flown: Pass, rule: SafetyRule) -> tuple[str, float]:
    """Return the remark or danger that a rule looks at and its limit in SI."""
    if rule.what == "red ball":
        return "low", measures.red_below(flown.site)
    if rule.what == "ball off the bottom":
        return "low", measures.bottom_below(flown.site)
    assert rule.limit is not None  # the file's check sees to it
    return rule.what, measures.limit_value(rule.limit, rule.what, flown.site, flown.aircraft)
