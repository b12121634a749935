"""The jet on speed: its airspeed, power and attitude on a path through the air.

On speed the angle of attack is held; balance along the path and across it then gives the
speed for a mass. Source: forces on a point mass with thrust along the body's x axis.
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from deckward.aircraft.model import Profile
from deckward.environment import airspeed
from deckward.environment.atmosphere import Air
from deckward.errors import InputError
from deckward.foundation.units import STANDARD_GRAVITY
from deckward.planning.scenario import ToldSpeed


class OnSpeed(Struct, frozen=True):
    """The jet on speed, wings level. ``descent`` is its path's angle below the horizon in the air.

    ``thrust`` (N), ``power`` (0 idle to 1 military) and ``flow`` (kg/s) are None where the
    aircraft file has no tables for them; ``power`` and ``flow`` also where the thrust lies
    outside them.
    """

    mass: float
    descent: float
    equivalent: float
    true: float
    calibrated: float
    thrust: float | None
    power: float | None
    flow: float | None


def on_speed(
    profile: Profile, *, mass: float, air: Air, descent: float = 0.0, told: ToldSpeed | None = None
) -> OnSpeed:
    """Find airspeed and power on speed for a mass.

    ``told`` stands in place of the aircraft file's aerodynamics: its airspeed grows with the
    root of the mass.

    Raises:
        InputError: neither the file's aerodynamics nor a told airspeed is there.

    >>> from deckward.aircraft import load
    >>> from deckward.environment import atmosphere
    >>> jet = on_speed(load("sandlark"), mass=5783.0, air=atmosphere.standard(60.0))
    >>> from deckward.foundation.units import KNOT
    >>> round(jet.calibrated / KNOT)
    125
    """
    aero = profile.tables.get("aerodynamics")
    thrust = None
    if told is not None:
        equivalent = told.airspeed * math.sqrt(mass / told.mass)
        true = float(airspeed.true_from_equivalent(equivalent, density=air.density))
    elif aero is not None:
        lift, drag = _coefficients(aero, profile.on_speed)
        weight, tangent = mass * STANDARD_GRAVITY, math.tan(profile.on_speed)
        pressure = (
            weight
            * (math.cos(descent) + math.sin(descent) * tangent)
            / (aero["reference_area_m2"] * (lift + drag * tangent))
        )
        true = math.sqrt(2.0 * pressure / float(air.density))
        equivalent = float(airspeed.equivalent_from_true(true, density=air.density))
        resistance = pressure * aero["reference_area_m2"] * drag
        thrust = (resistance - weight * math.sin(descent)) / math.cos(profile.on_speed)
    else:
        raise InputError(
            f"the on-speed airspeed of {profile.name} is not known: its file has no [aerodynamics].",
            place="key approach.on_speed_kt",
            remedy="Give approach.on_speed_kt and approach.at_mass_lb (its on-speed airspeed, and the mass "
            "that it belongs to), or name an aircraft whose file has them.",
        )
    return OnSpeed(
        mass=mass,
        descent=descent,
        equivalent=equivalent,
        true=true,
        calibrated=float(
            airspeed.calibrated_from_true(true, pressure=air.pressure, temperature=air.temperature)
        ),
        thrust=thrust,
        power=None if thrust is None else power_for(profile, thrust),
        flow=None if thrust is None else flow_for(profile, thrust),
    )


def power_for(profile: Profile, thrust: float) -> float | None:
    """Return the power, 0 idle to 1 military, that gives a thrust near the sea; None where none does."""
    engine = profile.tables.get("engine")
    return None if engine is None else _within(thrust, engine["thrust_n"], engine["power"])


def flow_for(profile: Profile, thrust: float) -> float | None:
    """Return the fuel flow at a thrust near the sea, kg/s; None where the file does not say."""
    fuel = profile.tables.get("fuel")
    if fuel is None or len(fuel["thrust_n"]) < 2:
        return None
    return _within(thrust, fuel["thrust_n"], fuel["flow_kgps"])


def military_thrust(profile: Profile) -> float | None:
    """Return the thrust at military power near the sea, N."""
    engine = profile.tables.get("engine")
    return None if engine is None else engine["thrust_n"][-1]


def _coefficients(aero, angle_of_attack: float) -> tuple[float, float]:
    degrees = math.degrees(angle_of_attack)
    arguments = aero["angle_of_attack_deg"]
    return (
        float(np.interp(degrees, arguments, aero["lift_coefficient"])),
        float(np.interp(degrees, arguments, aero["drag_coefficient"])),
    )


def _within(value: float, arguments, results) -> float | None:
    """Go straight between a table's values; None outside it."""
    if not arguments[0] <= value <= arguments[-1]:
        return None
    return float(np.interp(value, arguments, results))
