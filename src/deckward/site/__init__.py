"""A ship or a field: landing area, ramp, wires, lens, and how it moves."""

from deckward.site.files import bundled, load, source, text
from deckward.site.words import describe

__all__ = ["bundled", "describe", "load", "source", "text"]
