"""Cards for the knee, from a plan: text, PDF and PNG, by day and for a dark cockpit."""

from deckward.reports.cards.bundle import write
from deckward.reports.cards.making import make
from deckward.reports.cards.text import render

__all__ = ["make", "render", "write"]
