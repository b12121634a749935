"""A whole plan: the cards that were asked for, each from the ones it rests on."""

from __future__ import annotations

from collections.abc import Callable, Collection
from functools import cached_property, lru_cache
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from deckward.errors import InputError
from deckward.planning import (
    approach_plan,
    fuel,
    launch_plan,
    marshal_plan,
    masses,
    pattern_plan,
    wind_plan,
)
from deckward.planning.approach import TIMED_FROM, fly
from deckward.planning.approach_plan import ApproachPlan, Bounds
from deckward.planning.burning import Times
from deckward.planning.fuel import FuelPlan
from deckward.planning.launch_plan import LaunchPlan
from deckward.planning.marshal_plan import MarshalPlan
from deckward.planning.pattern_plan import PatternPlan
from deckward.planning.scenario import Scenario
from deckward.planning.wind import Steering
from deckward.planning.wind_plan import WindPlan

#: landing mass and times near the ship are gone round until the mass stands still so near, kg
_ROUNDS, _SETTLED = 4, 1.0

#: the cards, in the order they are flown
CARDS = ("launch", "wind", "marshal", "pattern", "approach", "fuel")


class LeftOut(Struct, frozen=True):
    """A card that the facts do not support, and why."""

    card: str
    why: InputError


class Plan(Struct, frozen=True):
    """A scenario and its cards; None for one that was not asked for, or is ``left_out``."""

    scenario: Scenario
    launch: LaunchPlan | None = None
    wind: WindPlan | None = None
    marshal: MarshalPlan | None = None
    pattern: PatternPlan | None = None
    approach: ApproachPlan | None = None
    fuel: FuelPlan | None = None
    left_out: tuple[LeftOut, ...] = ()


def make(scenario: Scenario, cards: Collection[str] = ()) -> Plan:
    """Work out the cards; where none is named all that the facts support.

    Raises:
        InputError: a fact is missing that a named card cannot do without, or that all cannot.
    """
    work = _Work(scenario)
    makers: dict[str, Callable[[], Any]] = {
        "launch": lambda: work.launch,
        "wind": lambda: work.wind,
        "marshal": work.marshal,
        "pattern": work.pattern,
        "approach": work.approach,
        "fuel": lambda: work.fuel,
    }
    made: dict[str, Any] = {}
    left_out = []
    for card in CARDS:
        if cards and card not in cards:
            continue
        try:
            made[card] = makers[card]()
        except InputError as why:
            if cards:
                raise
            left_out.append(LeftOut(card, why))
    if not made:
        raise left_out[CARDS.index("wind")].why
    return Plan(scenario=scenario, **made, left_out=tuple(left_out))


class _Work:
    """What the cards share, worked out once and only where it is asked for."""

    def __init__(self, scenario: Scenario) -> None:
        self.scenario = scenario
        self._pattern_at = lru_cache(self._pattern)

    @cached_property
    def launch(self) -> LaunchPlan:
        shot = launch_plan.plan(self.scenario)
        if self.scenario.wind is None:
            return LaunchPlan(shot, None)
        if "wind" not in self.__dict__:
            self.wind = wind_plan.plan(self.scenario, launch_wind=shot.wind_needed)
        return LaunchPlan(shot, self.wind.launch)

    @cached_property
    def wind(self) -> WindPlan:
        return wind_plan.plan(self.scenario, launch_wind=launch_plan.wind_needed(self.scenario))

    def marshal(self) -> MarshalPlan:
        return marshal_plan.plan(self.scenario, self._chosen, mass=self._mass)

    def pattern(self) -> PatternPlan:
        return self._pattern_at(self._mass)

    def approach(self) -> ApproachPlan:
        return approach_plan.plan(self.scenario, self._bounds, fuel=self._arriving)

    @cached_property
    def fuel(self) -> FuelPlan:
        # usual times are near enough to tell the mass that the first solved ones are for
        bounds = self._bounds
        ladder = self._ladder(Times(marshal_plan.case_number(self.scenario)), None)
        mass = None
        for _ in range(_ROUNDS):
            before, mass = mass, bounds.masses.dry + bounds.fuel_for(ladder.ball.fuel)
            if before is not None and abs(mass - before) < _SETTLED:
                break
            ladder = self._ladder(self._times(mass), mass)
        return ladder

    def _ladder(self, times: Times, mass: float | None) -> FuelPlan:
        bounds = self._bounds
        weights = bounds.masses
        return fuel.plan(
            self.scenario,
            flown=fly(bounds.setting, weights.dry + bounds.fuel_for(None) if mass is None else mass),
            dry=weights.dry,
            carried=weights.dry + weights.expended,
            most=bounds.most_fuel,
            solved=times,
        )

    @property
    def _chosen(self) -> Steering:
        return self.wind.recovery.answer.chosen

    @cached_property
    def _bounds(self) -> Bounds:
        felt = None if self.scenario.wind is None else self._chosen
        return approach_plan.bounds(self.scenario, masses.weigh(self.scenario), felt)

    @property
    def _arriving(self) -> float | None:
        """The fuel at the ball, where there is a field, and fuel to begin with."""
        scenario = self.scenario
        told = scenario.load.fuel is not None or any(one.fuel is not None for one in scenario.flights)
        return self.fuel.ball.fuel if scenario.divert is not None and told else None

    @property
    def _mass(self) -> float:
        return self._bounds.masses.dry + self._bounds.fuel_for(self._arriving)

    def _pattern(self, mass: float) -> PatternPlan:
        return pattern_plan.plan(self.scenario, self._chosen, mass=mass)

    def _times(self, mass: float) -> Times:
        """Take the times near the ship from the pattern and the way in, as the case has them."""
        scenario, case = self.scenario, marshal_plan.case_number(self.scenario)
        if scenario.wind is None:
            return Times(case)
        if case == 3:
            return marshal_plan.times(scenario, self._chosen, mass=mass)
        day = self._pattern_at(mass)
        closure = day.pattern.groove.closure
        to_ramp = TIMED_FROM[0] / closure
        if case == 2:
            return replace(marshal_plan.times(scenario, self._chosen, mass=mass), trip=day.trip)
        past_ramp = -day.pattern.checkpoint("touchdown").range / closure
        return Times(case, day.trip, day.inbound - past_ramp - to_ramp, to_ramp)
