"""The launch of one jet: trim, airspeeds, the stroke, the wind it needs, and what an engine less leaves."""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.aircraft.model import Profile
from deckward.errors import InputError, Note
from deckward.foundation.units import from_si
from deckward.planning import launch, masses
from deckward.planning.launch import Bound, FlyOff, Power
from deckward.planning.pull import Pull, pull
from deckward.planning.scenario import Catapult, Scenario, need
from deckward.planning.solving import root
from deckward.planning.wind_plan import Course
from deckward.prediction import STILL_AIR, Air, Model, model_of


class EngineOut(Struct, frozen=True):
    """The jet with one engine failed as the stroke ends, at the planned end airspeed.

    ``acceleration`` in level flight; ``least`` the end airspeed that keeps the bounds, None
    where none does.
    """

    power: Power
    flown: FlyOff
    acceleration: float
    least: float | None


class Shot(Struct, frozen=True):
    """A planned launch. Airspeeds are true, angles rad, masses kg.

    ``bounds`` are the least end airspeeds, the one that binds first; ``wanted`` is that and
    the margin. ``stroke`` and what hangs on it are None where nobody told the catapult;
    ``capacity`` is the part of its energy that it is set to.
    ``wind_needed`` is down the catapult for ``wanted``, ``wind_for_least`` without the
    margin. ``heaviest`` is the mass that the greatest wind still launches, where this one is
    too heavy. ``aileron`` holds up the asymmetry, None where the file does not tell.
    """

    mass: float
    power: Power
    trim: float | None
    flaps: str
    bounds: tuple[Bound, ...]
    margin: float
    wanted: float
    stroke: Pull | None
    capacity: float | None
    wind_needed: float | None
    wind_for_least: float | None
    heaviest: float | None
    flown: FlyOff
    flown_least: FlyOff
    acceleration: float
    asymmetry: float
    aileron: float | None
    engine_out: EngineOut | None
    steps: tuple[str, ...]
    notes: tuple[Note, ...]

    @property
    def least(self) -> float:
        """The least airspeed at the end of the stroke."""
        return self.bounds[0].airspeed


class LaunchPlan(Struct, frozen=True):
    """The shot, and the ship's course for it: None where the wind, or what is needed of it, is not known."""

    shot: Shot
    course: Course | None

    @property
    def end_airspeed(self) -> float | None:
        """True airspeed at the end of the stroke on that course; None where it is not known."""
        if self.course is None or self.shot.stroke is None:
            return None
        return self.shot.stroke.end_speed + self.course.answer.chosen.along

    @property
    def least_capacity(self) -> float | None:
        """The part of the catapult's full energy that the end airspeed wanted takes on that course.

        None where it is not known; more than 1 where even all of it is too little.
        """
        if self.course is None or self.shot.stroke is None or self.shot.capacity is None:
            return None
        end_speed = max(self.shot.wanted - self.course.answer.chosen.along, 0.0)
        return self.shot.capacity * (end_speed / self.shot.stroke.end_speed) ** 2


def shoot(
    profile: Profile, *, mass: float, margin: float, catapult: Catapult | None = None,
    greatest_wind: float = float("inf"), asymmetry: float = 0.0, air: Air = STILL_AIR,
) -> Shot:  # fmt: skip
    """Plan the launch of a jet of ``mass``; ``asymmetry`` in kg m about its middle, + heavier on the right.

    Raises:
        InputError: the aircraft file lacks its aerodynamics or engine, or the jet cannot fly away.
    """
    model = model_of(profile, mass=mass)
    power = launch.power_for(model, mass)
    flying = launch.powered(model, power)
    bounds = _bounds(flying, air)
    if not np.isfinite(bounds[0].airspeed):
        raise InputError(
            f"{profile.name} at {_pounds(mass)} lb keeps no {bounds[0].what} off the bow, however fast.",
            remedy="Take less fuel or stores, or launch with afterburner (launch.afterburner_above_kg).",
        )
    wanted = bounds[0].airspeed + margin
    flown, flown_least = launch.fly_off(flying, end_airspeeds=(wanted, bounds[0].airspeed), air=air)
    stroke = None
    wind = at_least = heaviest = None
    if catapult is not None:
        end_speed = _end_speed(catapult, mass)
        stroke = pull(end_speed, catapult.stroke, mass)
        wind, at_least = max(wanted - end_speed, 0.0), max(bounds[0].airspeed - end_speed, 0.0)
        if wind > greatest_wind:
            heaviest = _heaviest(profile, margin, catapult, greatest_wind, air, mass)
    table = profile.tables.get("launch", {})
    return Shot(
        mass=mass,
        power=power,
        trim=launch.from_table(model, "trim_deg"),
        flaps=table.get("flaps", ""),
        bounds=bounds,
        margin=margin,
        wanted=wanted,
        stroke=stroke,
        capacity=None if catapult is None else catapult.capacity,
        wind_needed=wind,
        wind_for_least=at_least,
        heaviest=heaviest,
        flown=flown,
        flown_least=flown_least,
        acceleration=float(launch.level_acceleration(flying, wanted, air)),
        asymmetry=asymmetry,
        aileron=launch.aileron_for(model, asymmetry=asymmetry, airspeed=wanted, air=air),
        engine_out=_engine_out(model, wanted, air),
        steps=tuple(table.get("steps", ())),
        notes=tuple(_notes(profile, mass, catapult, wind, greatest_wind, heaviest)),
    )


def plan(scenario: Scenario) -> Shot:
    """Plan the launch of a scenario's jet, as heavy as it is after what it burns before the shot.

    Raises:
        InputError: its mass or fuel is not told, its file lacks aerodynamics or engine, or it
            cannot fly away.
    """
    weights, wish = masses.weigh(scenario), scenario.launch
    return shoot(
        scenario.aircraft,
        mass=_gross(scenario),
        margin=wish.margin,
        catapult=wish.catapult,
        greatest_wind=wish.greatest_wind,
        asymmetry=weights.launch_asymmetry,
        air=_air(scenario),
    )


def wind_needed(scenario: Scenario) -> float | None:
    """Return the wind down the catapult that the launch needs; None where the facts do not tell it."""
    catapult = scenario.launch.catapult
    if catapult is None:
        return None
    try:
        mass = _gross(scenario)
        model = model_of(scenario.aircraft, mass=mass)
    except InputError:
        return None
    model = launch.powered(model, launch.power_for(model, mass))
    least = _bounds(model, _air(scenario))[0].airspeed
    if not np.isfinite(least):
        return None
    return max(least + scenario.launch.margin - _end_speed(catapult, mass), 0.0)


def _gross(scenario: Scenario) -> float:
    return need(masses.weigh(scenario).start, "fuel_lb") - scenario.fuel.start


def _air(scenario: Scenario) -> Air:
    return Air(density=float(scenario.air_at(scenario.ship.bow_height).density))


def _bounds(model: Model, air: Air) -> tuple[Bound, ...]:
    """Give the model's bounds and the aircraft file's own airspeed, greatest first."""
    bounds = list(launch.bounds(model, air=air))
    told = launch.from_table(model, "end_airspeed_kt")
    if told is not None:
        # the table is calibrated airspeed near the sea: the same as equivalent within half a knot
        true = told * float(np.sqrt(STILL_AIR.density / air.density))
        bounds.append(Bound("the aircraft file's table", true))
    return tuple(sorted(bounds, key=lambda bound: -bound.airspeed))


def _end_speed(catapult: Catapult, mass: float) -> float:
    return float(np.interp(mass, catapult.masses, catapult.end_speeds) * np.sqrt(catapult.capacity))


def _heaviest(
    profile: Profile, margin: float, catapult: Catapult, wind: float, air: Air, mass: float
) -> float | None:
    """Find the mass below this one that the wind just launches; None where even half of it is too much."""

    def missing(lighter: float) -> float:
        model = model_of(profile, mass=lighter)
        model = launch.powered(model, launch.power_for(model, lighter))
        return _bounds(model, air)[0].airspeed + margin - _end_speed(catapult, lighter) - wind

    half = 0.5 * mass
    if missing(half) > 0.0:
        return None
    return root(missing, half, mass, within=1.0)


def _engine_out(model: Model, end_airspeed: float, air: Air) -> EngineOut | None:
    engines = model.profile.tables.get("launch", {}).get("engines", 1)
    if engines < 2:
        return None
    power = launch.power_for(model, model.mass, engines_out=1.0 / engines)
    flying = launch.powered(model, power)
    least = launch.bounds(flying, air=air)[0].airspeed
    return EngineOut(
        power=replace(power, name=f"{power.name}, {engines - 1} of {engines} engines"),
        flown=launch.fly_off(flying, end_airspeeds=(end_airspeed,), air=air)[0],
        acceleration=float(launch.level_acceleration(flying, end_airspeed, air)),
        least=least if np.isfinite(least) else None,
    )


def _notes(profile, mass, catapult, wind, greatest_wind, heaviest):
    most = profile.tables.get("mass", {}).get("max_launch_kg")
    if most is not None and mass > most:
        yield Note(
            "too-heavy-to-launch",
            f"{_pounds(mass)} lb is {_pounds(mass - most)} lb over the {_pounds(most)} lb that "
            f"{profile.name} may launch with: take so much less fuel or stores.",
        )
    if catapult is None:
        yield Note(
            "catapult-not-told",
            "What the catapult gives is not told, so the wind needed cannot be: end speed and wind together "
            "must make the airspeed above.",
        )
        return
    light, heavy = catapult.masses[0], catapult.masses[-1]
    if not light <= mass <= heavy:
        yield Note(
            "outside-catapult-table",
            f"The catapult's table goes from {_pounds(light)} to {_pounds(heavy)} lb; its end speed is taken "
            "from the nearer end.",
        )
    if wind is not None and wind > greatest_wind:
        lighter = "No lighter jet gets away either."
        if heaviest is not None:
            lighter = f"At {_pounds(heaviest)} lb, {_pounds(mass - heaviest)} lb less, it just goes."
        yield Note(
            "too-much-wind-needed",
            f"It takes {from_si(wind, 'kt'):.0f} kt down the catapult, "
            f"{from_si(wind - greatest_wind, 'kt'):.0f} kt more than there may be. {lighter}",
        )


def _pounds(mass: float) -> str:
    return f"{from_si(mass, 'lb'):,.0f}"
