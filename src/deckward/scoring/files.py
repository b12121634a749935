"""Rulebooks from TOML files: the bundled ones and a person's own."""

from __future__ import annotations

from pathlib import Path

from deckward.foundation import documents
from deckward.foundation.shelf import Shelf
from deckward.foundation.units import BY_SUFFIX, to_si
from deckward.scoring.form import (
    GradeForm,
    OutcomeForm,
    RulebookForm,
    SafetyForm,
    ThresholdForm,
    check,
    in_units,
    stretch,
)
from deckward.scoring.rulebook import (
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
from deckward.scoring.vocabulary import INTENSITIES

SHELF = Shelf("rulebook", "--rulebook", Path(__file__).parent / "rulebooks")
#: the TOML text of a bundled one, to start a file of one's own from
source = SHELF.source


def load(name_or_path: str | Path = "strict") -> Rulebook:
    """Read a rulebook by its bundled name or from a file.

    Raises:
        InputError: no such rulebook, or a file that is no valid one.

    >>> load("learners").grades[1].points
    4.0
    """
    text, file = SHELF.find(name_or_path)
    return _rulebook(documents.parse(text, RulebookForm, file=file, check=check))


def bundled() -> dict[str, str]:
    """Return the bundled rulebooks' names, each with one line about it."""
    return {name: load(name).description for name in SHELF.names()}


def _rulebook(document: RulebookForm) -> Rulebook:
    held = document.judging.held_s
    groove, window, outcomes = document.groove, document.wave_off_window, document.outcomes
    return Rulebook(
        name=document.name,
        description=document.description,
        positions=tuple(
            PositionBounds(item.name, item.code, *stretch(item), item.weight, item.at_least_s, item.source)
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


def _threshold(item: ThresholdForm, what: str, held: float) -> Threshold:
    ((unit, values),) = in_units(item, "limits_").items()
    a, b, c = (_limit(value, unit) for value in values)
    return Threshold(what, tuple(item.where or ()), (a, b, c), item.held_s or held, item.weight, item.source)


def _safety(item: SafetyForm, held: float) -> SafetyRule:
    given = in_units(item, "beyond_") or in_units(item, "below_")
    limit = next((_limit(value, unit) for unit, value in given.items()), None)
    return SafetyRule(
        item.name, item.what, tuple(item.where or ()), limit, item.held_s or held, item.at_best, item.source
    )


def _grade(item: GradeForm) -> LadderGrade:
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


def _outcome(item: OutcomeForm) -> OutcomeGrade:
    return OutcomeGrade(item.name, item.symbol, item.points, item.source)


def _limit(value: float, unit: str) -> Limit:
    if unit in BY_SUFFIX:
        return Limit(to_si(value, unit), BY_SUFFIX[unit].dimension)
    return Limit(value, unit)
