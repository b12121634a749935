"""What a study shows: its inputs, which of them vary, and what became of each case."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from deckward.prediction import Study
from deckward.site.model import Site


class Input(Struct, frozen=True):
    """One input: its option's name, what a person calls it, its unit's word, its values in that unit."""

    name: str
    title: str
    unit: str
    values: tuple[float | str, ...]

    def label(self, value: float | str) -> str:
        """Write a value with its unit."""
        text = value if isinstance(value, str) else f"{value:g}"
        return f"{text} {self.unit}" if self.unit else text


class Case(Struct, frozen=True):
    """One combination of the inputs, by their names, and what became of its passes."""

    values: Mapping[str, float | str]
    found: Study


class StudyReport(Struct, frozen=True):
    """A study: ``inputs`` all of them, ``cases`` with the last varied input running fastest."""

    site: Site
    inputs: tuple[Input, ...]
    count: int
    seed: int
    cases: tuple[Case, ...]

    @property
    def varied(self) -> tuple[Input, ...]:
        """The inputs with several values."""
        return tuple(one for one in self.inputs if len(one.values) > 1)

    @property
    def held(self) -> tuple[Input, ...]:
        """The inputs with one value."""
        return tuple(one for one in self.inputs if len(one.values) == 1)
