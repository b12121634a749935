"""A drafted column map, and what is still to be asked."""

from __future__ import annotations

from dataclasses import dataclass, replace

from deckward.recordings.columns import IGNORE, ColumnMap, Rule


@dataclass(frozen=True)
class Choice:
    """An answer: its words, and the rules (or the rate) that it makes."""

    text: str
    rules: tuple[Rule, ...] = ()
    rate_hz: float | None = None


@dataclass(frozen=True)
class Question:
    """What only a person can tell, of which columns, and the answers there are."""

    columns: tuple[str, ...]
    question: str
    choices: tuple[Choice, ...]


@dataclass(frozen=True)
class Draft:
    """A drafted column map and what is open in it; ``first`` is the map before any answer."""

    map: ColumnMap
    questions: tuple[Question, ...] = ()
    first: ColumnMap | None = None

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
        return Draft(replace(self.map, columns=rules, file=file), left, first)


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
        why=f"answered: {words}",
    )
