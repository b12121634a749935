"""One function for each thing a person asks for: what the faces call."""

from deckward.workflow.columns import Columns, Draft, columns
from deckward.workflow.contract import published as published_schema
from deckward.workflow.demonstration import demo
from deckward.workflow.folder import save
from deckward.workflow.session import Debrief, debrief
from deckward.workflow.shelves import AIRCRAFT, RULEBOOKS, SITES, Shelf

__all__ = [
    "AIRCRAFT",
    "RULEBOOKS",
    "SITES",
    "Columns",
    "Debrief",
    "Draft",
    "Shelf",
    "columns",
    "debrief",
    "demo",
    "published_schema",
    "save",
]
