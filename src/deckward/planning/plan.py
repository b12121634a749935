"""A whole plan: the cards that were asked for, each from the ones it rests on."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from deckward.planning import approach_plan, fuel, masses, wind_plan
from deckward.planning.approach import fly
from deckward.planning.approach_plan import ApproachPlan
from deckward.planning.fuel import FuelPlan
from deckward.planning.scenario import Scenario
from deckward.planning.wind_plan import WindPlan

#: the cards, in the order they are flown
CARDS = ("wind", "approach", "fuel")


@dataclass(frozen=True)
class Plan:
    """A scenario and its cards; None for one that was not asked for."""

    scenario: Scenario
    wind: WindPlan | None = None
    approach: ApproachPlan | None = None
    fuel: FuelPlan | None = None


def make(scenario: Scenario, cards: Collection[str] = CARDS) -> Plan:
    """Work out the cards.

    Raises:
        InputError: a fact is missing that a card cannot do without.
    """
    wind = None
    if "wind" in cards or scenario.wind is not None:
        wind = wind_plan.plan(scenario)
    approach = ladder = None
    if "approach" in cards or "fuel" in cards:
        felt = None if wind is None else wind.recovery.answer.chosen
        weights = masses.weigh(scenario)
        bounds = approach_plan.bounds(scenario, weights, felt)
        if "fuel" in cards or _ladder_is_told(scenario):
            heaviest = fly(bounds.setting, weights.dry + bounds.fuel_for(None))
            ladder = fuel.plan(scenario, flown=heaviest, most=bounds.most_fuel)
        if "approach" in cards:
            approach = approach_plan.plan(scenario, bounds, fuel=None if ladder is None else ladder.ball.fuel)
    return Plan(
        scenario=scenario,
        wind=wind if "wind" in cards else None,
        approach=approach,
        fuel=ladder if "fuel" in cards else None,
    )


def _ladder_is_told(scenario: Scenario) -> bool:
    """Whether there is a field, and fuel to begin with: enough for the fuel at the ball."""
    fuel_told = scenario.load.fuel is not None or any(one.fuel is not None for one in scenario.flights)
    return scenario.divert is not None and fuel_told
