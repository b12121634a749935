"""An aircraft profile: eye, hook and wheels; angle-of-attack bands; masses and more."""

from deckward.aircraft.files import bundled, load, source, text
from deckward.aircraft.words import describe

__all__ = ["bundled", "describe", "load", "source", "text"]
