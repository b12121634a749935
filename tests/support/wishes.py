"""The day pattern as a scenario without a word about it has it, and changes to that."""

from __future__ import annotations

from dataclasses import replace

from deckward import planning
from deckward.planning.scenario import Pattern

USUAL = planning.load(typed={"wind.from_deg": 0, "wind.speed_kt": 0}).pattern


def wanted(**changes) -> Pattern:
    return replace(USUAL, **changes)
