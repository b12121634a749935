"""A study on screen and on paper: what became of many passes, case by case."""

from __future__ import annotations

from deckward.reports.studies.bundle import write
from deckward.reports.studies.text import render

__all__ = ["render", "write"]
