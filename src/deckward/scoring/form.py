"""What a rulebook's file looks like: its keys, their ranges, and how they hang together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta

from deckward.foundation import documents
from deckward.foundation.documents import Problem
from deckward.foundation.units import to_si
from deckward.scoring.rulebook import NOT_GRADED, REASONS
from deckward.scoring.vocabulary import DANGERS, INTENSITIES, REMARKS

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


class JudgingForm(_Table):
    """How deviations are counted."""

    held_s: _Held
    intensity_weights: Annotated[
        tuple[float, float, float], Meta(description="what a little, plain and a lot count")
    ]
    least_judged_s: Annotated[
        float, Meta(ge=0, le=60, description="seconds of the glide slope that a grade needs")
    ]
    source: _Source


class PositionForm(_Table):
    """A named stretch of the pass."""

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


class WindowForm(_Table):
    """Where a gross deviation must be waved off."""

    from_s: Annotated[float, Meta(gt=0, le=60, description="seconds before the ramp where it begins")]
    to_s: Annotated[float, Meta(ge=0, le=60, description="seconds before the ramp where it ends")]
    source: _Source


class GrooveForm(_Table):
    """When the groove begins."""

    within_nm: Annotated[float, Meta(gt=0, le=5, description="how far out the groove can begin")]
    bank_deg: Annotated[float, Meta(gt=0, le=30, description="bank within which the wings are level")]
    line_up_deg: Annotated[float, Meta(gt=0, le=30, description="line-up within which it is the groove")]
    held_s: _Held
    source: _Source


class ThresholdForm(_Table):
    """From where something is remarked on."""

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


class SafetyForm(_Table):
    """What holds a grade down."""

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


class GradeForm(_Table):
    """A rung of the ladder."""

    name: _Name
    symbol: Annotated[str, Meta(max_length=12)]
    points: _Points
    source: _Source
    total_at_most: Annotated[float, Meta(ge=0, le=1e4)] | None = None
    worst_at_most: Literal[*INTENSITIES] | None = None  # type: ignore[valid-type]
    deck_moves_m: Annotated[float, Meta(ge=0, le=20, description="least amplitude of the ramp")] = 0.0
    everything_judged: bool = False
    only_by_safety: bool = False


class OutcomeForm(_Table):
    """A grade that an outcome gives."""

    name: _Name
    symbol: Annotated[str, Meta(max_length=12)]
    source: _Source
    points: _Points | None = None


class WaveOffForm(OutcomeForm, kw_only=True):
    """The grade of a wave-off flown for one reason."""

    reason: Literal[*REASONS, "unknown"]  # type: ignore[valid-type]


class OutcomesForm(_Table):
    """What strikes, misses and the first wire are worth."""

    ramp_strike: _Name
    outside: _Name
    source: _Source
    first_wire_at_best: _Name | None = None


class RulebookForm(_Table):
    """A whole rulebook."""

    name: _Name
    judging: JudgingForm
    position: Annotated[list[PositionForm], Meta(min_length=1, max_length=12)]
    wave_off_window: WindowForm
    groove: GrooveForm
    threshold: Annotated[list[ThresholdForm], Meta(min_length=1, max_length=300)]
    grade: Annotated[list[GradeForm], Meta(min_length=1, max_length=20)]
    bolter: OutcomeForm
    wave_off: Annotated[list[WaveOffForm], Meta(min_length=1, max_length=10)]
    outcomes: OutcomesForm
    safety: Annotated[list[SafetyForm], Meta(max_length=100)] = []
    description: Annotated[str, Meta(max_length=400)] = ""


def in_units(table: msgspec.Struct, prefix: str) -> dict[str, Any]:
    """Return unit and value of the keys ``prefix + unit`` that a table holds."""
    fields = ((name, getattr(table, name)) for name in table.__struct_fields__ if name.startswith(prefix))
    return {name.removeprefix(prefix): value for name, value in fields if value is not None}


def stretch(position: PositionForm) -> tuple[str, float, float]:
    """Return what a position is measured by, and where it begins and ends, m or s."""
    ((unit, start),) = in_units(position, "from_").items()
    ((end_unit, end),) = in_units(position, "to_").items()
    return "time" if unit == "s" else "range", to_si(start, unit), to_si(end, end_unit)


# -- checks of what one key alone cannot show --------------------------------------------------


def check(document: RulebookForm) -> Iterator[Problem]:
    """Find what one key alone cannot show."""
    yield from _check_judging(document)
    yield from _check_positions(document.position)
    codes = [position.code for position in document.position]
    yield from _check_thresholds(document.threshold, codes)
    yield from _check_grades(document.grade)
    yield from _check_safety(document, codes)
    yield from _check_outcomes(document)


def _check_judging(document: RulebookForm) -> Iterator[Problem]:
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


def _check_positions(positions: list[PositionForm]) -> Iterator[Problem]:
    previous: tuple[str, str, float] | None = None
    for number, position in enumerate(positions, start=1):
        key = f"position[{number}]"
        for field in ("code", "name"):
            value = getattr(position, field)
            if value in [getattr(earlier, field) for earlier in positions[: number - 1]]:
                yield Problem(
                    f"{key}.{field}", f"{value!r} stands here twice.", "Give each position its own."
                )
        start, end = in_units(position, "from_"), in_units(position, "to_")
        if len(start) != 1 or len(end) != 1 or ("s" in start) != ("s" in end):
            yield Problem(
                key,
                "its bounds are not one pair.",
                "Give one from_ and one to_ key: lengths (_nm, _ft, _m), or seconds (from_s and to_s).",
            )
            continue
        measured_by, begins, ends = stretch(position)
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


def _check_thresholds(thresholds: list[ThresholdForm], codes: list[str]) -> Iterator[Problem]:
    seen: set[tuple[str, str]] = set()
    for number, threshold in enumerate(thresholds, start=1):
        key = f"threshold[{number}]"
        limits = in_units(threshold, "limits_")
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


def _check_grades(grades: list[GradeForm]) -> Iterator[Problem]:
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


def _check_safety(document: RulebookForm, codes: list[str]) -> Iterator[Problem]:
    names = [grade.name for grade in document.grade]
    for number, rule in enumerate(document.safety, start=1):
        key = f"safety[{number}]"
        prefix, other = ("below_", "beyond_") if rule.what == "low over the ramp" else ("beyond_", "below_")
        units = DANGERS[rule.what] if rule.what in DANGERS else REMARKS[rule.what].units
        for unit in in_units(rule, other):
            yield Problem(
                f"{key}.{other}{unit}",
                f"{rule.what!r} is not bounded so.",
                f"Give {' or '.join(prefix + name for name in units)}." if units else "Leave it out.",
            )
        yield from _check_unit(key, rule.what, prefix, in_units(rule, prefix), units)
        yield from _check_codes(f"{key}.where", rule.where, codes)
        if rule.what in ("low over the ramp", "hard touchdown") and rule.where is not None:
            yield Problem(f"{key}.where", f"{rule.what!r} has its own place.", "Leave 'where' out.")
        yield from _check_rung(f"{key}.at_best", rule.at_best, names)


def _check_outcomes(document: RulebookForm) -> Iterator[Problem]:
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


def _listed(names: list[str]) -> str:
    return ", ".join(dict.fromkeys(names))
