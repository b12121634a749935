"""One function for each thing a person asks for: what the faces call."""

from deckward.workflow.contract import published as published_schema
from deckward.workflow.demonstration import demo
from deckward.workflow.folder import save
from deckward.workflow.measuring import Measured, measure_aircraft, measure_site
from deckward.workflow.session import Debrief, debrief
from deckward.workflow.shelves import AIRCRAFT, RULEBOOKS, SITES, Shelf

__all__ = [
    "AIRCRAFT",
    "RULEBOOKS",
    "SITES",
    "Debrief",
    "Measured",
    "Shelf",
    "debrief",
    "demo",
    "measure_aircraft",
    "measure_site",
    "published_schema",
    "save",
]
