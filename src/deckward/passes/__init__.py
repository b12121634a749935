"""Finding passes in a track and measuring them in deck axes."""

from __future__ import annotations

from deckward.passes.model import Found, GrooveBounds, Pass, ShipCourse, Wind
from deckward.passes.search import find
from deckward.passes.ship import ship_track

__all__ = ["Found", "GrooveBounds", "Pass", "ShipCourse", "Wind", "find", "ship_track"]
