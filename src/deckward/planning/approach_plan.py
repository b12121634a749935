"""The approach card's answers: the planned approach, a table by fuel at the ball, limits, slips."""

from __future__ import annotations

import math

from msgspec import Struct
from msgspec.structs import replace

from deckward.environment import sea
from deckward.foundation.units import POUND
from deckward.planning import approach
from deckward.planning.approach import Approach, Geometry, MassLimit, Setting, Slips
from deckward.planning.masses import Masses
from deckward.planning.pull import Pull, pull
from deckward.planning.scenario import Scenario
from deckward.planning.wind import Steering

#: rows of the table at most
_ROWS = 9


class Row(Struct, frozen=True):
    """The approach with a fuel at the ball, kg: engaging limit, m/s, and whether all limits are kept."""

    fuel: float
    flown: Approach
    engaging_limit: float
    within: bool


class AngleRow(Struct, frozen=True):
    """The planned approach at another basic angle."""

    angle: float
    flown: Approach
    hook_to_ramp: float


class ApproachPlan(Struct, frozen=True):
    """The approach as planned, ``fuel`` in kg at the ball, and everything about it.

    ``most_fuel`` is what the limits of landing mass leave, None without one. ``arriving`` is
    the fuel that the ladder brings to the ball, None where there is none; where it is more
    than the most, the most is planned with. ``wind_told`` is False
    where the wanted wind was taken for want of any other. ``least_wind`` down the landing
    area keeps the engaging speed, and ``least_wind_for`` is what asks for it; ``arrest`` is the
    run-out as a steady pull. ``ramp_sigma`` is one standard deviation of the ramp's height in
    the sea that is told, m, None without one.
    """

    setting: Setting
    masses: Masses
    fuel: float
    arriving: float | None
    wind_told: bool
    planned: Approach
    geometry: Geometry
    slips: Slips
    seconds: tuple[tuple[float, float], ...]
    groove: float
    limits: tuple[MassLimit, ...]
    most_fuel: float | None
    engaging_limit: float
    engaging_limit_of: str
    least_wind: float
    least_wind_for: str
    arrest: Pull
    ramp_sigma: float | None
    suggested_angle: float
    angles: tuple[AngleRow, ...]
    rows: tuple[Row, ...]


class Bounds(Struct, frozen=True):
    """The setting of an approach, the landing masses that it allows, and the fuel the jet can have, kg."""

    setting: Setting
    masses: Masses
    limits: tuple[MassLimit, ...]
    carried: float | None
    felt: Steering | None

    @property
    def wind_told(self) -> bool:
        """Whether the wind over the deck comes of a true wind."""
        return self.felt is not None

    @property
    def most_fuel(self) -> float | None:
        """The most fuel at the ball, kg; below 0 where the jet is too heavy without any."""
        return self.limits[0].mass - self.masses.dry if self.limits else None

    def fuel_for(self, arriving: float | None) -> float:
        """Return the fuel to plan the approach with: what arrives, no more than may and can be there."""
        known = [one for one in (arriving, self.most_fuel, self.carried) if one is not None]
        return max(min(known, default=0.0), 0.0)


def setting_of(scenario: Scenario, felt: Steering | None) -> Setting:
    """Set the approach up; without a felt wind the wanted one is taken, straight down the angle."""
    recovery, site = scenario.recovery, scenario.site
    return Setting(
        profile=scenario.aircraft,
        site=site,
        air=scenario.air_at(-site.ramp[2]),
        along=recovery.wind if felt is None else felt.along,
        crosswind=0.0 if felt is None else felt.crosswind,
        angle=recovery.basic_angle or site.lens.basic_angle,
        told=scenario.on_speed,
    )


def bounds(scenario: Scenario, masses: Masses, felt: Steering | None) -> Bounds:
    """Find what bounds the landing mass; see :func:`setting_of`."""
    recovery, setting = scenario.recovery, setting_of(scenario, felt)
    limits = approach.mass_limits(
        setting, recovery.gear, told=recovery.landing_mass, low=masses.dry, high=3.0 * masses.dry
    )
    carried = scenario.load.fuel or scenario.aircraft.tables.get("mass", {}).get("fuel_kg")
    return Bounds(setting, masses, tuple(limits), carried, felt)


def plan(scenario: Scenario, found: Bounds, *, fuel: float | None) -> ApproachPlan:
    """Work the approach out for a fuel at the ball, kg; without one for the most that may be.

    Raises:
        InputError: what the jet flies on speed is not known.
    """
    setting, masses, gear = found.setting, found.masses, scenario.recovery.gear
    most = found.most_fuel
    taken = found.fuel_for(fuel)
    mass = masses.dry + taken
    flown = approach.fly(setting, mass)
    geometry = approach.geometry(setting, flown.pitch)
    limit_of, limit = min(approach.engaging_limits(gear, mass).items(), key=lambda item: item[1])
    least, least_for = approach.least_wind(setting, gear, mass)
    return ApproachPlan(
        setting=setting,
        masses=masses,
        fuel=taken,
        arriving=fuel,
        wind_told=found.wind_told,
        planned=flown,
        geometry=geometry,
        slips=approach.slips(setting, flown, geometry),
        seconds=tuple((start, approach.seconds_from(start, flown)) for start in approach.TIMED_FROM),
        groove=scenario.pattern.groove,
        limits=found.limits,
        most_fuel=most,
        engaging_limit=limit,
        engaging_limit_of=limit_of,
        least_wind=least,
        least_wind_for=least_for,
        arrest=pull(flown.closure, gear.run_out, mass),
        ramp_sigma=ramp_sigma(scenario, found.felt),
        suggested_angle=approach.suggested_angle(setting.along),
        angles=tuple(_angle(setting, angle, mass) for angle in approach.BASIC_ANGLES),
        rows=tuple(_row(scenario, found, fuel) for fuel in _fuels(taken, most, found.carried)),
    )


def ramp_sigma(scenario: Scenario, felt: Steering | None) -> float | None:
    """Return how far the ramp goes up and down in the scenario's sea, one standard deviation, m.

    The sea comes with the wind; where no wind is told, from ahead. The hull is a usual one.
    """
    waves = sea.sea_of(state=scenario.sea.state, height=scenario.sea.wave_height)
    if waves is None:
        return None
    heading, speed = math.pi, 0.0
    if felt is not None and scenario.wind is not None:
        heading, speed = scenario.wind.from_direction + math.pi - felt.course, felt.speed
    moves = sea.motion_sigmas(waves, sea.Hull(), speed=speed, heading=heading)
    return sea.ramp_sigma(moves, aft=scenario.site.centre[0] - scenario.site.ramp[0])


def _angle(setting: Setting, angle: float, mass: float) -> AngleRow:
    other = replace(setting, angle=angle)
    flown = approach.fly(other, mass)
    return AngleRow(angle, flown, approach.geometry(other, flown.pitch).hook_to_ramp)


def _fuels(planned: float, most: float | None, carried: float | None) -> list[float]:
    """Choose round fuels round the planned one and up to just over the most, kg."""
    reach = min(one for one in (most, carried, math.inf) if one is not None)
    top = max(planned, reach if math.isfinite(reach) else 0.0, 1000.0 * POUND) / POUND
    step = next(step for step in (200, 250, 500, 1000, 2000, 5000, 10_000) if top / step <= _ROWS - 2)
    count = math.floor(top / step + 1e-9) + 1
    return [k * step * POUND for k in range(max(count - _ROWS + 1, 1), count + 1)]


def _row(scenario: Scenario, found: Bounds, fuel: float) -> Row:
    mass, most = found.masses.dry + fuel, found.most_fuel
    flown = approach.fly(found.setting, mass)
    limit = min(approach.engaging_limits(scenario.recovery.gear, mass).values())
    return Row(fuel, flown, limit, (most is None or fuel <= most + 1e-6) and flown.closure <= limit)
