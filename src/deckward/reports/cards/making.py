"""From a plan to its cards."""

from __future__ import annotations

from deckward.planning.plan import Plan
from deckward.reports.cards import approach, fuel, launch, marshal, pattern, wind
from deckward.reports.cards.model import Card

_MAKERS = {
    "launch": launch.card,
    "wind": wind.card,
    "marshal": marshal.card,
    "pattern": pattern.card,
    "approach": approach.card,
    "fuel": fuel.card,
}


def make(plan: Plan) -> list[Card]:
    """Make the cards of a plan, in the order they are flown."""
    return [maker(plan) for name, maker in _MAKERS.items() if getattr(plan, name) is not None]
