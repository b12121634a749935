"""Finding passes in a track and measuring them in deck axes."""

from __future__ import annotations

from deckward.passes.fitted_ship import FittedShip, fit_ship, known_to
from deckward.passes.measuring import Quantity, measure_aircraft, measure_site
from deckward.passes.model import Found, GrooveBounds, Pass, ShipCourse, Wind
from deckward.passes.search import find

__all__ = [
    "FittedShip",
    "Found",
    "GrooveBounds",
    "Pass",
    "Quantity",
    "ShipCourse",
    "Wind",
    "find",
    "fit_ship",
    "known_to",
    "measure_aircraft",
    "measure_site",
]
