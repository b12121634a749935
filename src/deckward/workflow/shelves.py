"""What is bundled: sites, aircraft and rulebooks, to look at and to start one's own from."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from msgspec import Struct

from deckward import aircraft as profiles
from deckward import planning, scoring
from deckward import site as sites
from deckward.errors import InputError
from deckward.planning import words
from deckward.planning.scenario import Scenario
from deckward.scoring.rulebook import Rulebook


class Shelf(Struct, frozen=True):
    """Bundled documents of one kind, and the words to show one."""

    command: str
    bundled: Callable[[], Mapping[str, str]]
    source: Callable[[str], str]
    load: Callable[[str], Any]
    in_words: Callable[[Any], list[tuple[str, str]]]

    def names(self) -> tuple[str, ...]:
        """List the names."""
        return tuple(self.bundled())

    def describe(self, name_or_path: str) -> list[tuple[str, str]]:
        """Check a bundled document or a file of a person's own, and say what is in it, row by row.

        Raises:
            InputError: there is none, or it has a fault.
        """
        return self.in_words(self.load(name_or_path))

    def nothing_named(self, option: str) -> InputError:
        """Make the fault of an option that wants a name and has none."""
        return InputError(
            "this option says nothing of which one.",
            place=option,
            remedy=f"Name one of: {', '.join(self.names())}.",
        )


def _rulebook_in_words(book: Rulebook) -> list[tuple[str, str]]:
    grades = [f"{grade.name} ({grade.symbol}) {grade.points:g}" for grade in book.grades]
    return [
        ("name", book.name),
        ("about", book.description),
        ("positions", ", ".join(f"{position.name} ({position.code})" for position in book.positions)),
        ("looked at", ", ".join(dict.fromkeys(limit.what for limit in book.thresholds))),
        ("safety", ", ".join(dict.fromkeys(rule.name for rule in book.safety))),
        ("grades, points", ", ".join(grades)),
        ("wave-offs", ", ".join(f"{why}: {grade.name}" for why, grade in book.wave_offs.items())),
    ]


def _scenario_in_words(scenario: Scenario) -> list[tuple[str, str]]:
    wind = scenario.wind
    rows = [
        ("name", scenario.name),
        ("about", scenario.description),
        ("ship", scenario.site.name),
        ("aircraft", scenario.aircraft.name),
        (
            "wind",
            f"from {words.bearing(wind.from_direction)} at {words.knots(wind.speed)}" if wind else "not told",
        ),
        ("flights", words.flights(scenario) or "none told"),
        ("divert field", scenario.divert.name if scenario.divert else "none told"),
    ]
    return [(label, text) for label, text in rows if text]


SITES = Shelf("sites", sites.bundled, sites.source, sites.load, sites.describe)
AIRCRAFT = Shelf("aircraft", profiles.bundled, profiles.source, profiles.load, profiles.describe)
RULEBOOKS = Shelf("rulebooks", scoring.bundled, scoring.source, scoring.load, _rulebook_in_words)
SCENARIOS = Shelf("scenarios", planning.bundled, planning.source, planning.load, _scenario_in_words)
