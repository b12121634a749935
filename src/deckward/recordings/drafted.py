"""A drafted column map, and what is still to be asked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from deckward.recordings.columns import IGNORE, ColumnMap, Rule

#: begins the reason of a rule that a person answered
_ANSWERED = "answered: "


@dataclass(frozen=True)
class Choice:
    """An answer: its words, and the rules (or the rate) that it makes."""

    text: str
    rules: tuple[Rule, ...] = ()
    rate_hz: float | None = None


@dataclass(frozen=True)
class Question:
    """What only a person can tell, of which columns, and the answers there are.

    ``opens`` names the quantity (with the ship's prefix where it is hers) whose column is asked for: the
    answer may tell other columns as well.
    """

    columns: tuple[str, ...]
    question: str
    choices: tuple[Choice, ...]
    opens: str = ""


@dataclass(frozen=True)
class Draft:
    """A drafted column map and what is open in it; ``first`` is the map before any answer.

    ``again`` drafts the file anew with what was answered: rules, quantities in no column, rows a second.
    """

    map: ColumnMap
    questions: tuple[Question, ...] = ()
    first: ColumnMap | None = None
    again: Again | None = field(default=None, compare=False, repr=False)
    known: tuple[Rule, ...] = ()
    declined: frozenset[str] = frozenset()

    def answered(self, question: Question, choice: Choice) -> Draft:
        """Settle one question; what its answer does not speak of stays as other answers left it."""
        first = self.first or self.map
        before = {rule.source: rule for rule in first.columns}
        told = {rule.source: rule for rule in choice.rules}
        left = tuple(q for q in self.questions if q is not question)
        still = {name for q in left for name in q.columns}
        rules = tuple(
            _answered(rule, before[rule.source], told[rule.source], choice.text)
            if rule.source in told
            else replace(rule, asked=rule.asked and rule.source in still)
            for rule in self.map.columns
        )
        file = replace(self.map.file, rate_hz=choice.rate_hz or self.map.file.rate_hz)
        return replace(self, map=replace(self.map, columns=rules, file=file), questions=left, first=first)

    def taught(self, question: Question, choice: Choice) -> Draft:
        """Settle one question and look at the file again, where the answer may tell more than it says.

        What was answered stays; the other columns and the questions may be new ones.
        """
        answered = self.answered(question, choice)
        if not question.opens or self.again is None:
            return answered
        told = {rule.source: rule for rule in (*self.known, *choice.rules)}
        told |= {r.source: r for r in answered.map.columns if (r.why or "").startswith(_ANSWERED)}
        declined = self.declined if choice.rules else self.declined | {question.opens}
        return self.again(tuple(told.values()), declined, answered.map.file.rate_hz)


def _answered(rule: Rule, before: Rule, told: Rule, words: str) -> Rule:
    """Change what an answer changes of a rule, unless another answer left the column out."""
    if rule.quantity == IGNORE != before.quantity:
        return rule
    return replace(
        rule,
        quantity=rule.quantity if told.quantity == before.quantity else told.quantity,
        unit=rule.unit if told.unit == before.unit else told.unit,
        sign=rule.sign * told.sign * before.sign,
        asked=False,
        confidence=1.0,
        why=f"{_ANSWERED}{words}",
    )


Again = Callable[[tuple[Rule, ...], frozenset[str], float | None], Draft]
