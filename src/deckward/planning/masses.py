"""What the jet weighs at launch and on landing, and how lopsided its stores make it."""

from __future__ import annotations

from msgspec import Struct

from deckward.errors import InputError
from deckward.foundation.units import POUND
from deckward.planning.scenario import Scenario


class Masses(Struct, frozen=True):
    """Masses, kg: ``dry`` is the jet without fuel that comes back, ``start`` at engine start.

    ``start`` is None where the fuel is not told. The asymmetries are the stores' moments
    about the middle, kg m, + heavier on the right.
    """

    empty: float
    kept: float
    expended: float
    start: float | None
    launch_asymmetry: float
    landing_asymmetry: float

    @property
    def dry(self) -> float:
        """Mass on landing without fuel."""
        return self.empty + self.kept


def weigh(scenario: Scenario) -> Masses:
    """Add up what the jet weighs.

    Raises:
        InputError: neither the aircraft file nor the scenario tells its mass; or the told
            mass is less than what is in it.
    """
    load, stores = scenario.load, scenario.load.stores
    kept = sum(store.count * store.mass for store in stores if store.kept)
    expended = sum(store.count * store.mass for store in stores if not store.kept)
    empty = scenario.aircraft.tables.get("mass", {}).get("empty_kg")
    if load.gross is not None and load.fuel is not None:
        empty = load.gross - load.fuel - kept - expended
        if empty <= 0.0:
            raise InputError(
                f"{load.gross / POUND:,.0f} lb is no more than the fuel and stores in it.",
                place="key mass_lb",
                remedy="Give the whole aircraft's mass at engine start, or leave it out.",
            )
    if empty is None:
        raise InputError(
            f"what {scenario.aircraft.name} weighs without fuel is not known.",
            place="key mass_lb",
            remedy="Give mass_lb and fuel_lb (the whole jet and its fuel at engine start), or an aircraft "
            "file with mass.empty_kg.",
        )
    start = load.gross
    if start is None and load.fuel is not None:
        start = empty + kept + expended + load.fuel
    return Masses(
        empty=empty,
        kept=kept,
        expended=expended,
        start=start,
        launch_asymmetry=sum(store.count * store.mass * store.right for store in stores),
        landing_asymmetry=sum(store.count * store.mass * store.right for store in stores if store.kept),
    )
