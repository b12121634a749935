"""One function for each thing a person asks for: what the faces call.

A part is imported when it is first asked for, so that one command does not wait for what
only another needs.
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False  # type checkers read it as true; the real one would import typing
if TYPE_CHECKING:
    from deckward.workflow.demonstration import demo
    from deckward.workflow.folder import save
    from deckward.workflow.mapping import Columns, Draft, columns
    from deckward.workflow.measuring import Measured, measure_aircraft, measure_site
    from deckward.workflow.measuring_given import Given
    from deckward.workflow.measuring_pilot import measure_pilot
    from deckward.workflow.planning import Cards, plan
    from deckward.workflow.published import published_schema
    from deckward.workflow.session import Debrief, debrief
    from deckward.workflow.shelves import AIRCRAFT, RULEBOOKS, SCENARIOS, SITES, Shelf
    from deckward.workflow.studying import Studied, study

__all__ = [
    "AIRCRAFT",
    "RULEBOOKS",
    "SCENARIOS",
    "SITES",
    "Cards",
    "Columns",
    "Debrief",
    "Draft",
    "Given",
    "Measured",
    "Shelf",
    "Studied",
    "columns",
    "debrief",
    "demo",
    "measure_aircraft",
    "measure_pilot",
    "measure_site",
    "plan",
    "published_schema",
    "save",
    "study",
]

_MODULES = {
    "demonstration": ("demo",),
    "folder": ("save",),
    "mapping": ("Columns", "Draft", "columns"),
    "measuring": ("Measured", "measure_aircraft", "measure_site"),
    "measuring_given": ("Given",),
    "measuring_pilot": ("measure_pilot",),
    "planning": ("Cards", "plan"),
    "published": ("published_schema",),
    "session": ("Debrief", "debrief"),
    "shelves": ("AIRCRAFT", "RULEBOOKS", "SCENARIOS", "SITES", "Shelf"),
    "studying": ("Studied", "study"),
}
_HOME = {name: module for module, names in _MODULES.items() for name in names}


def __getattr__(name: str):
    if name not in _HOME:
        raise AttributeError(f"module 'deckward.workflow' has no attribute {name!r}")
    return getattr(import_module(f"deckward.workflow.{_HOME[name]}"), name)


def __dir__() -> list[str]:
    return sorted(__all__)
