"""Plans made before the flight: the scenario, the ship's course, approach numbers, fuel."""

from deckward.planning.files import bundled, load, source
from deckward.planning.scenario import Scenario

__all__ = ["Scenario", "bundled", "load", "source"]
