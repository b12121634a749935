"""A drafted column map, and what is still to be asked."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct
from msgspec.structs import replace

from deckward.recordings.columns import IGNORE, ColumnMap, Rule

#: begins the reason of a rule that a person answered
_ANSWERED = "answered: "


class Choice(Struct, frozen=True):
    """An answer: its words, and the rules (or the rate) that it makes."""

    text: str
    rules: tuple[Rule, ...] = ()
    rate_hz: float | None = None


class Question(Struct, frozen=True):
    """What only a person can tell, of which columns, and the answers there are.

    ``opens`` names the quantity (with the ship's prefix where it is hers) whose column is asked for: the
    answer may tell other columns as well.
    """

    columns: tuple[str, ...]
    question: str
    choices: tuple[Choice, ...]
    opens: str = ""


class Told(Struct, frozen=True):
    """What a person has told: rules, and quantities in no column (``ship_`` before hers).

    ``plain`` names the columns of which quantity and unit were told, but not which way they count.
    """

    rules: tuple[Rule, ...] = ()
    declined: frozenset[str] = frozenset()
    plain: frozenset[str] = frozenset()

    def __bool__(self) -> bool:
        return bool(self.rules or self.declined)

    def of(self, name: str) -> Rule | None:
        """Give the rule for a column."""
        return next((rule for rule in self.rules if rule.source == name), None)


class Draft(Struct, frozen=True):
    """A drafted column map and what is open in it; ``first`` is the map before any answer.

    ``again`` drafts the file anew with what was told and the rows a second.
    """

    map: ColumnMap
    questions: tuple[Question, ...] = ()
    first: ColumnMap | None = None
    again: Again | None = None
    told: Told = Told()
    #: the file holds a ship alone
    of_ship: bool = False

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
        before, opened = self.told, {rule.source for rule in choice.rules}
        drafted = {rule.source: rule.quantity for rule in (answered.first or answered.map).columns}
        rules = {rule.source: rule for rule in before.rules}
        for rule in answered.map.columns:
            if (rule.why or "").startswith(_ANSWERED):
                rules[rule.source] = rule
        earlier = {rule.source: rule.why for rule in before.rules}
        kept = {source for source in before.plain if rules[source].why == earlier[source]}
        # who left a column out has no other for what it was
        left = {drafted[source] for source, rule in rules.items() if rule.quantity == IGNORE}
        declined = before.declined | (left - {IGNORE}) | (set() if opened else {question.opens})
        told = Told(tuple(rules.values()), declined, frozenset(kept | opened))
        return self.again(told, answered.map.file.rate_hz)


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


Again = Callable[[Told, float | None], Draft]
