"""From a pass and a rulebook to a scorecard: the grade, its odds and its reasons."""

from __future__ import annotations

import numpy as np

from deckward.errors import InputError
from deckward.foundation.units import from_si
from deckward.passes.model import Pass
from deckward.scoring import words
from deckward.scoring.judging import Danger, Judgement, judge, look_for_danger
from deckward.scoring.model import Grade, Scorecard
from deckward.scoring.resampling import resample
from deckward.scoring.rulebook import NOT_GRADED, REASONS, LadderGrade, OutcomeGrade, Rulebook
from deckward.scoring.shorthand import remarks, written
from deckward.scoring.vocabulary import INTENSITIES
from deckward.scoring.windows import windows

#: a grade more likely than this is told without its odds
_CERTAIN = 0.9


def score(
    flown: Pass,
    rulebook: Rulebook,
    *,
    reason: str | None = None,
    draws: int = 400,
    seed: int = 1,
) -> Scorecard:
    """Grade a pass by a rulebook, with the odds that its uncertainty leaves.

    The pass is graded as estimated and again in ``draws`` copies that carry errors of its
    own sigma; the grade named is the one that most copies get. Deviations, shorthand and
    words are those of the estimate. ``reason`` ("technique", "pattern", "foul deck",
    "own") settles a wave-off; of any other pass it says nothing. The same seed gives the
    same odds.

    Raises:
        InputError: ``reason`` is none of these.
    """
    if reason is not None and reason not in REASONS:
        raise InputError(
            f"there is no wave-off reason {reason!r}.",
            place="--reason",
            remedy=f"Give one of: {', '.join(REASONS)}.",
        )
    places = windows(flown, rulebook)
    if places:
        copies = resample(flown, places[0].start, places[-1].end, draws=draws, seed=seed)
        judged = judge(flown, rulebook, places, copies)
        danger = look_for_danger(flown, rulebook, places, copies)
    else:
        nothing = np.zeros(1 + draws, dtype=int)
        judged = Judgement((), nothing * 0.0, nothing, {}, False, 0.0)
        danger = Danger(nothing, nothing > 0, ())
    said = remarks(judged.deviations, places)
    grade, reasons = _by_outcome(flown, rulebook, judged, danger, reason) or _by_odds(
        flown, rulebook, judged, danger
    )
    graded = grade.name != NOT_GRADED
    return Scorecard(
        grade=grade,
        deviations=judged.deviations,
        shorthand=written(said),
        summary=words.summary(flown, said, places, graded=graded),
        look_at=words.look_at(flown, judged.deviations, [rule.name for rule in danger.broken], graded=graded),
        rulebook=rulebook.name,
        reasons=reasons,
        not_judged=words.not_judged(flown, rulebook, places, judged.unseen),
    )


def _by_outcome(
    flown: Pass, rulebook: Rulebook, judged: Judgement, danger: Danger, reason: str | None
) -> tuple[Grade, tuple[str, ...]] | None:
    """Return the grade and its reason where the way the pass ended leaves no choice."""
    outcome = flown.outcome
    if outcome is None and not flown.wire_odds:
        return _certain(NOT_GRADED, "", None), ("the recording ends before the pass does",)
    if outcome == "wave-off" or (reason and "touched after wave-off" in flown.flags):
        given = rulebook.wave_offs[reason or "unknown"]
        why = "waved off; the recording cannot show why: give the reason to settle the points"
        return _certain(given.name, given.symbol, given.points), (
            f"waved off for {reason}" if reason else why,
        )
    struck = outcome == "ramp strike" and danger.struck[0]
    if outcome is not None and outcome in rulebook.outcomes and not struck:
        rung = rulebook.grades[rulebook.rung(rulebook.outcomes[outcome])]
        return _certain(rung.name, rung.symbol, rung.points), (words.outcome(flown, ()).lower(),)
    if (
        outcome not in ("bolter", "ramp strike")
        and judged.seconds < rulebook.least_judged
        and not danger.broken
    ):
        why = f"only {judged.seconds:.0f} s of the glide slope could be judged"
        return _certain(NOT_GRADED, "", None), (why,)
    return None


def _certain(name: str, symbol: str, points: float | None) -> Grade:
    return Grade(name, symbol, points, {name: 1.0})


def _by_odds(
    flown: Pass, rulebook: Rulebook, judged: Judgement, danger: Danger
) -> tuple[Grade, tuple[str, ...]]:
    """Return the grade that most copies of the pass get, its odds and its reasons."""
    ladder = _ladder(flown, rulebook, judged)
    ways = _ways_to_end(flown, rulebook, np.maximum(ladder, danger.rung), danger)
    grades: list[LadderGrade | OutcomeGrade] = [*rulebook.grades, rulebook.bolter]
    shares = np.zeros(len(grades))
    for probability, graded in ways:
        drawn = graded[1:] if graded.size > 1 else graded
        shares += probability * np.bincount(drawn, minlength=len(grades)) / drawn.size
    estimate = int(max(ways, key=lambda way: way[0])[1][0])
    # of two equally likely grades the estimate's own is named
    named = estimate if shares[estimate] > shares.max() - 1e-9 else int(shares.argmax())
    odds = {grades[i].name: float(shares[i]) for i in np.argsort(-shares, kind="stable") if shares[i] > 0}
    grade = Grade(grades[named].name, grades[named].symbol, grades[named].points, odds)
    reasons = _reasons(flown, rulebook, judged, danger, int(ladder[0]))
    if max(shares) < _CERTAIN:
        reasons.append(f"{words.odds_in_words(grade)}: the recording leaves it open")
    if named != estimate:
        reasons.append(f"the estimate alone would be {grades[estimate].name}")
    return grade, tuple(reasons)


def _ladder(flown: Pass, rulebook: Rulebook, judged: Judgement) -> np.ndarray:
    """Return the rung that the deviations give each copy, 0 best."""
    takes = [
        (judged.total <= (np.inf if rung.total is None else rung.total + 1e-9))
        & (judged.worst <= (np.inf if rung.worst is None else rung.worst))
        & (_deck_amplitude(flown) >= rung.deck_moves)
        & (judged.complete or not rung.everything_judged)
        for rung in rulebook.grades
        if not rung.only_by_safety
    ]
    return np.argmax(takes, axis=0)


def _ways_to_end(
    flown: Pass, rulebook: Rulebook, graded: np.ndarray, danger: Danger
) -> list[tuple[float, np.ndarray]]:
    """Return how the pass may have ended, each with its probability and the grades it gives.

    A grade is a place in the ladder, or the length of the ladder for the bolter; a safety
    rule takes a bolter's grade only where it gives fewer points.
    """
    if flown.outcome == "ramp strike":
        # how far below the deck the hook was is only known so well
        strike = rulebook.rung(rulebook.outcomes["ramp strike"])
        return [(1.0, np.where(danger.struck, strike, graded))]
    if flown.outcome not in ("trap", "bolter", None):
        return [(1.0, graded)]
    odds = flown.wire_odds or ({"none": 1.0} if flown.outcome == "bolter" else {str(flown.wire): 1.0})
    missed = odds.get("none", 0.0)
    first = odds.get("1", 0.0) if rulebook.first_wire else 0.0
    points = np.array([rung.points for rung in rulebook.grades])
    bolter = np.where(
        points[danger.rung] < (rulebook.bolter.points or 0.0), danger.rung, len(rulebook.grades)
    )
    ways = [(missed, bolter), (1.0 - missed - first, graded)]
    if rulebook.first_wire:
        ways.append((first, np.maximum(graded, rulebook.rung(rulebook.first_wire))))
    return [way for way in ways if way[0] > 0]


def _reasons(flown: Pass, rulebook: Rulebook, judged: Judgement, danger: Danger, rung: int) -> list[str]:
    """Say what made the estimate's grade, the gravest first."""
    broken = [f"{rule.name}: {rule.at_best} at best" for rule in danger.broken]
    if flown.outcome == "bolter":
        return ["no wire taken", *broken]
    if flown.outcome == "ramp strike":
        return ["ramp strike", *broken]
    if flown.outcome is None:
        broken.append("the recording ends at touchdown: the wire goes by where the hook met the deck")
    if flown.wire == 1 and rulebook.first_wire is not None:
        broken.append(f"the first wire: {rulebook.first_wire} at best")
    return broken + _reasons_of_the_ladder(flown, rulebook, judged, rung)


def _reasons_of_the_ladder(flown: Pass, rulebook: Rulebook, judged: Judgement, rung: int) -> list[str]:
    """Say what the deviations came to, and what else kept the estimate off the rung above."""
    total, given = judged.total[0], rulebook.grades[rung]
    better = rulebook.grades[rung - 1] if rung else given
    bound = given if given.total is not None else better
    takes = "" if bound.total is None else f"; {bound.name} takes {bound.total:.1f}"
    reasons = [f"the deviations add up to {total:.1f}{takes}" if total else "no deviation"]
    if rung == 0 or (better.total is not None and total > better.total + 1e-9):
        return reasons
    if better.worst is not None and judged.worst[0] > better.worst:
        worst, taken = INTENSITIES[judged.worst[0] - 1], INTENSITIES[better.worst - 1]
        reasons.append(f"the worst deviation is {worst}; {better.name} takes {taken}")
    elif better.everything_judged and not judged.complete:
        reasons.append(f"not everything could be judged; {better.name} needs it")
    elif better.deck_moves > _deck_amplitude(flown):
        moved, wanted = from_si(_deck_amplitude(flown), "ft"), from_si(better.deck_moves, "ft")
        reasons.append(f"the deck moved by {moved:.1f} ft; {better.name} needs {wanted:.1f}")
    return reasons


def _deck_amplitude(flown: Pass) -> float:
    """Return half of how far the ramp moved up and down, m; 0 where it is not known."""
    heave = flown.series.deck_heave[np.isfinite(flown.series.deck_heave)]
    return float(heave.max() - heave.min()) / 2 if heave.size else 0.0
