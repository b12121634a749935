"""A drafted column map, and what is still to be asked."""

from __future__ import annotations

from dataclasses import dataclass, replace

from deckward.recordings.columns import ColumnMap, Rule


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
    """A drafted column map and what is open in it."""

    map: ColumnMap
    questions: tuple[Question, ...] = ()

    def answered(self, question: Question, choice: Choice) -> Draft:
        """Settle one question; every rule that the answer makes is no longer asked about."""
        told = {
            rule.source: replace(rule, asked=False, confidence=1.0, why=f"answered: {choice.text}")
            for rule in choice.rules
        }
        rules = tuple(told.get(rule.source, rule) for rule in self.map.columns)
        file = replace(self.map.file, rate_hz=choice.rate_hz or self.map.file.rate_hz)
        left = tuple(q for q in self.questions if q is not question)
        return Draft(replace(self.map, columns=rules, file=file), left)
