"""Rulebooks as TOML files: their form, their checks, and the bundled ones."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from pathlib import Path
from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta

from deckward.foundation import documents
from deckward.foundation.documents import Problem
from deckward.foundation.shelf import Shelf
from deckward.foundation.units import BY_SUFFIX, to_si
from deckward.scoring.rulebook import (
    NOT_GRADED,
    GrooveRule,
    LadderGrade,
    Limit,
    OutcomeGrade,
    PositionBounds,
    Rulebook,
    SafetyRule,
    Threshold,
    WaveOffWindow,
)
from deckward.scoring.vocabulary import DANGERS, INTENSITIES, REMARKS

SHELF = Shelf("rulebook", "--rulebook", Path(__file__).parent / "rulebooks")

#: why a wave-off was flown; the recording alone leaves it unknown
REASONS = ("technique", "pattern", "foul deck", "own")

_Name = Annotated[str, Meta(min_length=1, max_length=80)]
_Code = Annotated[str, Meta(pattern="^[A-Z]{1,3}$", description="one to three capital letters, such as IM")]
_Source = Annotated[
    str,
    Meta(
        min_length=1,
        max_length=400,
        description="where the numbers are from, or 'common practice, no source'",
    ),
]
_Weight = Annotated[float, Meta(ge=0, le=20, description="how much it counts, 1 is usual")]
_Held = Annotated[float, Meta(gt=0, le=10, description="how long it must be held, in seconds")]
_Limits = Annotated[
    tuple[float, float, float], Meta(description="from where it is a little, plain, and a lot")
]
_Points = Annotated[float, Meta(ge=0, le=5, description="points of the grade")]
_Beyond = Annotated[float, Meta(gt=0, le=1e4, description="from where the rule applies")]
_Bound = Annotated[float, Meta(ge=-1e5, le=1e5, description="where it begins or ends, aft of the ramp")]
_Below = Annotated[float, Meta(gt=0, le=1e3, description="below which the rule applies")]


class _Table(msgspec.Struct, forbid_unknown_fields=True):
    """A table of the file; an unknown key in it is an error."""


class _Judging(_Table):
    held_s: _Held
    intensity_weights: Annotated[
        tuple[float, float, float], Meta(description="what a little, plain and a lot count")
    ]
    least_judged_s: Annotated[
        float, Meta(ge=0, le=60, description="seconds of the glide slope that a grade needs")
    ]
    source: _Source


class _Position(_Table):
    name: _Name
    code: _Code
    weight: _Weight
    source: _Source
    from_nm: _Bound | None = None
    from_ft: _Bound | None = None
    from_m: _Bound | None = None
    from_s: _Bound | None = None
    to_nm: _Bound | None = None
    to_ft: _Bound | None = None
    to_m: _Bound | None = None
    to_s: _Bound | None = None
    at_least_s: Annotated[float, Meta(ge=0, le=20)] = 0.0


class _Window(_Table):
    from_s: Annotated[float, Meta(gt=0, le=60, description="seconds before the ramp where it begins")]
    to_s: Annotated[float, Meta(ge=0, le=60, description="seconds before the ramp where it ends")]
    source: _Source


class _Groove(_Table):
    within_nm: Annotated[float, Meta(gt=0, le=5, description="how far out the groove can begin")]
    bank_deg: Annotated[float, Meta(gt=0, le=30, description="bank within which the wings are level")]
    line_up_deg: Annotated[float, Meta(gt=0, le=30, description="line-up within which it is the groove")]
    held_s: _Held
    source: _Source


class _Threshold(_Table):
    what: Annotated[list[Literal[*REMARKS]], Meta(min_length=1)]  # type: ignore[valid-type]
    source: _Source
    where: list[_Code] | None = None
    limits_deg: _Limits | None = None
    limits_cells: _Limits | None = None
    limits_bands: _Limits | None = None
    limits_ft: _Limits | None = None
    limits_m: _Limits | None = None
    limits_fps: _Limits | None = None
    limits_mps: _Limits | None = None
    limits_s: _Limits | None = None
    held_s: _Held | None = None
    weight: _Weight = 1.0


class _Safety(_Table):
    name: _Name
    what: Literal[*(name for name, remark in REMARKS.items() if remark.placed), *DANGERS]  # type: ignore[valid-type]
    at_best: _Name
    source: _Source
    where: list[_Code] | None = None
    beyond_deg: _Beyond | None = None
    beyond_cells: _Beyond | None = None
    beyond_bands: _Beyond | None = None
    beyond_ft: _Beyond | None = None
    beyond_m: _Beyond | None = None
    beyond_fps: _Beyond | None = None
    beyond_mps: _Beyond | None = None
    below_nominal: (
        Annotated[float, Meta(gt=0, le=1, description="part of the commanded clearance")] | None
    ) = None
    below_ft: _Below | None = None
    below_m: _Below | None = None
    held_s: _Held | None = None


class _Grade(_Table):
    name: _Name
    symbol: Annotated[str, Meta(max_length=12)]
    points: _Points
    source: _Source
    total_at_most: Annotated[float, Meta(ge=0, le=1e4)] | None = None
    worst_at_most: Literal[*INTENSITIES] | None = None  # type: ignore[valid-type]
    deck_moves_m: Annotated[float, Meta(ge=0, le=20, description="least amplitude of the ramp")] = 0.0
    everything_judged: bool = False
    only_by_safety: bool = False


class _Outcome(_Table):
    name: _Name
    symbol: Annotated[str, Meta(max_length=12)]
    source: _Source
    points: _Points | None = None


class _WaveOff(_Outcome, kw_only=True):
    reason: Literal[*REASONS, "unknown"]  # type: ignore[valid-type]


class _Outcomes(_Table):
    ramp_strike: _Name
    outside: _Name
    source: _Source
    first_wire_at_best: _Name | None = None


class _Document(_Table):
    name: _Name
    judging: _Judging
    position: Annotated[list[_Position], Meta(min_length=1, max_length=12)]
    wave_off_window: _Window
    groove: _Groove
    threshold: Annotated[list[_Threshold], Meta(min_length=1, max_length=300)]
    grade: Annotated[list[_Grade], Meta(min_length=1, max_length=20)]
    bolter: _Outcome
    wave_off: Annotated[list[_WaveOff], Meta(min_length=1, max_length=10)]
    outcomes: _Outcomes
    safety: Annotated[list[_Safety], Meta(max_length=100)] = []
    about: Annotated[str, Meta(max_length=400)] = ""


def bundled() -> tuple[str, ...]:
    """List the names of the bundled rulebooks."""
    return SHELF.names()


def load(name_or_path: str | Path) -> Rulebook:
    """Read a rulebook: a bundled name, or the path of a TOML file.

    Raises:
        InputError: no such rulebook, or the file is not a valid one.
    """
    text, file = SHELF.find(name_or_path)
    return _rulebook(documents.parse(text, _Document, file=file, check=_check))


# -- checks of what one key alone cannot show --------------------------------------------------


def _check(document: _Document) -> Iterator[Problem]:
    yield from _check_judging(document)
    yield from _check_positions(document.position)
    codes = [position.code for position in document.position]
    yield from _check_thresholds(document.threshold, codes)
    yield from _check_grades(document.grade)
    yield from _check_safety(document, codes)
    yield from _check_outcomes(document)


def _check_judging(document: _Document) -> Iterator[Problem]:
    weights = document.judging.intensity_weights
    if not 0 < weights[0] < weights[1] < weights[2]:
        yield Problem(
            "judging.intensity_weights",
            "the weights do not rise from above 0.",
            "Give three numbers that rise: a little, plain, a lot.",
        )
    window = document.wave_off_window
    if window.from_s <= window.to_s:
        yield Problem(
            "wave_off_window.to_s", "the window ends before it begins.", "Make from_s larger than to_s."
        )


def _check_positions(positions: list[_Position]) -> Iterator[Problem]:
    previous: tuple[str, str, float] | None = None
    for number, position in enumerate(positions, start=1):
        key = f"position[{number}]"
        for field in ("code", "name"):
            value = getattr(position, field)
            if value in [getattr(earlier, field) for earlier in positions[: number - 1]]:
                yield Problem(
                    f"{key}.{field}", f"{value!r} stands here twice.", "Give each position its own."
                )
        start, end = _given(position, "from_"), _given(position, "to_")
        if len(start) != 1 or len(end) != 1 or ("s" in start) != ("s" in end):
            yield Problem(
                key,
                "its bounds are not one pair.",
                "Give one from_ and one to_ key: lengths (_nm, _ft, _m), or seconds (from_s and to_s).",
            )
            continue
        measured_by, begins, ends = _bounds(position)
        if begins <= ends:
            yield Problem(
                f"{key}.to_{next(iter(end))}",
                f"{position.name!r} ends before it begins.",
                "Bounds count down to the ramp: make from_ larger than to_.",
            )
        if previous and previous[1] == measured_by and begins > previous[2] + 1e-6:
            yield Problem(
                f"{key}.from_{next(iter(start))}",
                f"it begins before {previous[0]!r} ends.",
                "List the positions from far to near and let none overlap.",
            )
        previous = (position.name, measured_by, ends)


def _check_thresholds(thresholds: list[_Threshold], codes: list[str]) -> Iterator[Problem]:
    seen: set[tuple[str, str]] = set()
    for number, threshold in enumerate(thresholds, start=1):
        key = f"threshold[{number}]"
        limits = _given(threshold, "limits_")
        for what in threshold.what:
            yield from _check_unit(key, what, "limits_", limits, REMARKS[what].units)
            yield from _check_order(key, what, limits)
            placed = REMARKS[what].placed
            if placed and not threshold.where:
                yield Problem(f"{key}.where", f"{what!r} needs positions.", f"Give some of {_listed(codes)}.")
            elif not placed and threshold.where is not None:
                yield Problem(
                    f"{key}.where", f"{what!r} is judged once for the whole pass.", "Leave 'where' out."
                )
            for code in threshold.where or ("",):
                if (what, code) in seen:
                    yield Problem(
                        f"{key}.what",
                        f"{what!r} has two thresholds{f' at {code}' if code else ''}.",
                        "Keep one.",
                    )
                seen.add((what, code))
        yield from _check_codes(f"{key}.where", threshold.where, codes)


def _check_order(key: str, what: str, limits: Mapping[str, Any]) -> Iterator[Problem]:
    falls = what == "short in the groove"
    for unit, values in limits.items():
        a, b, c = reversed(values) if falls else values
        if not 0 < a < b < c:
            yield Problem(
                f"{key}.limits_{unit}",
                f"the limits do not {'fall' if falls else 'rise'}, all above 0.",
                f"Give three numbers that {'fall' if falls else 'rise'}: a little, plain, a lot.",
            )


def _check_unit(
    key: str, what: str, prefix: str, given: Mapping[str, Any], units: tuple[str, ...]
) -> Iterator[Problem]:
    choices = " or ".join(prefix + unit for unit in units)
    if not units and given:
        yield Problem(
            f"{key}.{prefix}{next(iter(given))}",
            f"{what!r} takes no limit: the lens sets it.",
            "Leave it out.",
        )
    elif units and len(given) != 1:
        state = "no limit is" if not given else f"{len(given)} limits are"
        yield Problem(key, f"{state} given for {what!r}.", f"Give one: {choices}.")
    elif units and next(iter(given)) not in units:
        unit = next(iter(given))
        yield Problem(f"{key}.{prefix}{unit}", f"{what!r} is not counted in {unit}.", f"Give {choices}.")


def _check_codes(key: str, where: list[str] | None, codes: list[str]) -> Iterator[Problem]:
    for code in where or ():
        if code not in codes:
            yield Problem(key, f"there is no position {code!r}.", f"Known here: {_listed(codes)}.")


def _check_grades(grades: list[_Grade]) -> Iterator[Problem]:
    rungs = [(number, grade) for number, grade in enumerate(grades, start=1) if not grade.only_by_safety]
    for number, grade in enumerate(grades, start=1):
        key = f"grade[{number}]"
        if grade.only_by_safety and (grade.total_at_most is not None or grade.worst_at_most is not None):
            yield Problem(
                f"{key}.only_by_safety",
                f"{grade.name!r} is given by safety rules alone, yet has a bound.",
                "Leave total_at_most and worst_at_most out, or only_by_safety.",
            )
        if number > 1 and grade.points > grades[number - 2].points:
            yield Problem(
                f"{key}.points",
                f"{grade.name!r} has more points than the grade above it.",
                "List best first.",
            )
    if not rungs:
        yield Problem(
            "grade", "every grade is given by safety rules alone.", "Add grades for the other passes."
        )
        return
    if rungs[-1][0] != len(rungs):
        yield Problem(
            f"grade[{rungs[-1][0]}]",
            "a grade stands below one that safety rules alone give.",
            "List those with only_by_safety last.",
        )
    last = rungs[-1][1]
    bounded = last.total_at_most is not None or last.worst_at_most is not None
    if bounded or last.deck_moves_m or last.everything_judged:
        yield Problem(
            f"grade[{rungs[-1][0]}]",
            f"no grade is left for passes that {last.name!r} does not take.",
            "Give the last grade before those of only_by_safety no bound.",
        )
    for (_, better), (number, worse) in pairwise(rungs):
        tightest = float("inf") if better.total_at_most is None else better.total_at_most
        if worse.total_at_most is not None and worse.total_at_most < tightest:
            yield Problem(
                f"grade[{number}].total_at_most",
                f"{worse.name!r} takes fewer deviations than {better.name!r} above it.",
                "Let total_at_most rise down the list.",
            )


def _check_safety(document: _Document, codes: list[str]) -> Iterator[Problem]:
    names = [grade.name for grade in document.grade]
    for number, rule in enumerate(document.safety, start=1):
        key = f"safety[{number}]"
        prefix, other = ("below_", "beyond_") if rule.what == "low over the ramp" else ("beyond_", "below_")
        units = DANGERS[rule.what] if rule.what in DANGERS else REMARKS[rule.what].units
        for unit in _given(rule, other):
            yield Problem(
                f"{key}.{other}{unit}",
                f"{rule.what!r} is not bounded so.",
                f"Give {' or '.join(prefix + name for name in units)}." if units else "Leave it out.",
            )
        yield from _check_unit(key, rule.what, prefix, _given(rule, prefix), units)
        yield from _check_codes(f"{key}.where", rule.where, codes)
        if rule.what in ("low over the ramp", "hard touchdown") and rule.where is not None:
            yield Problem(f"{key}.where", f"{rule.what!r} has its own place.", "Leave 'where' out.")
        yield from _check_rung(f"{key}.at_best", rule.at_best, names)


def _check_outcomes(document: _Document) -> Iterator[Problem]:
    names = [grade.name for grade in document.grade]
    outcomes = document.outcomes
    yield from _check_rung("outcomes.ramp_strike", outcomes.ramp_strike, names)
    yield from _check_rung("outcomes.outside", outcomes.outside, names)
    if outcomes.first_wire_at_best is not None:
        yield from _check_rung("outcomes.first_wire_at_best", outcomes.first_wire_at_best, names)
    for reason in (*REASONS, "unknown"):
        count = sum(wave_off.reason == reason for wave_off in document.wave_off)
        if count != 1:
            yield Problem(
                "wave_off",
                f"{count or 'no'} grade{'s' if count > 1 else ''} for a wave-off of reason {reason!r}.",
                f'Give one [[wave_off]] with reason = "{reason}".',
            )
    seen: set[str] = {NOT_GRADED}
    named = [(f"grade[{number}]", grade.name) for number, grade in enumerate(document.grade, start=1)]
    named.append(("bolter", document.bolter.name))
    named += [(f"wave_off[{number}]", item.name) for number, item in enumerate(document.wave_off, start=1)]
    for key, name in named:
        if name in seen:
            yield Problem(f"{key}.name", f"the name {name!r} is taken.", "Give each grade its own name.")
        seen.add(name)


def _check_rung(key: str, name: str, names: list[str]) -> Iterator[Problem]:
    if name not in names:
        guess = documents.nearest(name, names)
        hint = f"Did you mean {guess!r}? " if guess else ""
        yield Problem(key, f"there is no grade {name!r}.", f"{hint}Known here: {_listed(names)}.")


# -- from edge units into SI -------------------------------------------------------------------


def _rulebook(document: _Document) -> Rulebook:
    held = document.judging.held_s
    groove, window, outcomes = document.groove, document.wave_off_window, document.outcomes
    return Rulebook(
        name=document.name,
        about=document.about,
        positions=tuple(
            PositionBounds(item.name, item.code, *_bounds(item), item.weight, item.at_least_s, item.source)
            for item in document.position
        ),
        wave_off_window=WaveOffWindow(window.from_s, window.to_s, window.source),
        groove=GrooveRule(
            to_si(groove.within_nm, "nm"),
            to_si(groove.bank_deg, "deg"),
            to_si(groove.line_up_deg, "deg"),
            groove.held_s,
            groove.source,
        ),
        thresholds=tuple(_threshold(item, what, held) for item in document.threshold for what in item.what),
        safety=tuple(_safety(item, held) for item in document.safety),
        grades=tuple(_grade(item) for item in document.grade),
        bolter=_outcome(document.bolter),
        wave_offs={item.reason: _outcome(item) for item in document.wave_off},
        outcomes={"ramp strike": outcomes.ramp_strike, "outside": outcomes.outside},
        first_wire=outcomes.first_wire_at_best,
        intensity_weights=document.judging.intensity_weights,
        least_judged=document.judging.least_judged_s,
    )


def _threshold(item: _Threshold, what: str, held: float) -> Threshold:
    ((unit, values),) = _given(item, "limits_").items()
    a, b, c = (_limit(value, unit) for value in values)
    return Threshold(what, tuple(item.where or ()), (a, b, c), item.held_s or held, item.weight, item.source)


def _safety(item: _Safety, held: float) -> SafetyRule:
    given = _given(item, "beyond_") or _given(item, "below_")
    limit = next((_limit(value, unit) for unit, value in given.items()), None)
    return SafetyRule(
        item.name, item.what, tuple(item.where or ()), limit, item.held_s or held, item.at_best, item.source
    )


def _grade(item: _Grade) -> LadderGrade:
    worst = item.worst_at_most
    return LadderGrade(
        item.name,
        item.symbol,
        item.points,
        item.total_at_most,
        None if worst is None else INTENSITIES.index(worst) + 1,
        item.deck_moves_m,
        item.everything_judged,
        item.only_by_safety,
        item.source,
    )


def _outcome(item: _Outcome) -> OutcomeGrade:
    return OutcomeGrade(item.name, item.symbol, item.points, item.source)


def _bounds(position: _Position) -> tuple[str, float, float]:
    ((unit, start),) = _given(position, "from_").items()
    ((end_unit, end),) = _given(position, "to_").items()
    return "time" if unit == "s" else "range", to_si(start, unit), to_si(end, end_unit)


def _limit(value: float, unit: str) -> Limit:
    if unit in BY_SUFFIX:
        return Limit(to_si(value, unit), BY_SUFFIX[unit].dimension)
    return Limit(value, unit)


def _given(table: msgspec.Struct, prefix: str) -> dict[str, Any]:
    """Return unit and value of the keys ``prefix + unit`` that a table holds."""
    fields = ((name, getattr(table, name)) for name in table.__struct_fields__ if name.startswith(prefix))
    return {name.removeprefix(prefix): value for name, value in fields if value is not None}


def _listed(names: list[str]) -> str:
    return ", ".join(dict.fromkeys(names))
