"""Fuel flow by the jet's mass: what a file lists at one mass follows the thrust that level flight takes.

With gear and flaps up the drag coefficient is taken as a part that lift does not touch and one
with its square; the file's approach tables less its gear and flaps give the first. At a held
airspeed the thrust then is ``q S c0 + k W^2 / (q S)`` (q: dynamic pressure, S: wing area, W:
weight). A listed flow is scaled by what the file's flows by thrust give for the two thrusts, so
that at the listed mass it stays as listed.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from msgspec import Struct

from deckward.aircraft.model import Profile
from deckward.environment import airspeed as speeds
from deckward.environment import atmosphere
from deckward.foundation.units import FOOT, KNOT, STANDARD_GRAVITY
from deckward.planning.on_speed import flow_for

SEA_LEVEL_DENSITY = float(atmosphere.standard(0.0).density)
#: a flow is worked out at so many masses, from and to these parts of the one it is listed at, that one too
_POINTS, _PARTS = 13, (0.55, 2.35)


class Flow(Struct, frozen=True):
    """Fuel flow, kg/s, at rising masses, kg; straight between two, beyond the ends as there."""

    masses: tuple[float, ...]
    flows: tuple[float, ...]

    def at(self, mass: float) -> float:
        """Return the flow at a mass."""
        return float(np.interp(mass, self.masses, self.flows))

    def spent(self, mass: float, seconds: float) -> float:
        """Return what is burnt from a mass on, kg: at the flow of halfway."""
        return self.at(mass - 0.5 * self.at(mass) * seconds) * seconds

    def seconds(self, mass: float, fuel: float) -> float:
        """Return how long a fuel lasts from a mass on, s."""
        return fuel / self.at(mass - 0.5 * fuel)

    def times(self, share: float) -> Flow:
        """Return a share of it."""
        return Flow(self.masses, tuple(share * flow for flow in self.flows))


def steady(flow: float) -> Flow:
    """Return a flow that goes by no mass."""
    return Flow((0.0,), (flow,))


def tabulated(flow: Callable[[float], float | None], mass: float) -> Flow | None:
    """Return a flow by masses about one; None where it is not known at that one."""
    if flow(mass) is None:
        return None
    known = [(one, flow(one)) for one in mass * np.linspace(*_PARTS, _POINTS)]
    pairs = [(float(one), found) for one, found in known if found is not None]
    return Flow(tuple(one for one, _ in pairs), tuple(found for _, found in pairs))


def clean_drag(profile: Profile) -> tuple[float, float] | None:
    """Return the drag coefficient without lift, gear and flaps up, and its growth with lift squared.

    None where the aircraft file does not tell what gear, flaps and lift add.
    """
    aero = profile.tables.get("aerodynamics")
    if aero is None:
        return None
    growth = aero.get("drag_per_lift_squared", 0.0)
    down = aero.get("gear_drag", 0.0) + aero.get("flaps_drag", 0.0)
    if growth <= 0.0 or down <= 0.0:
        return None
    at = math.degrees(profile.on_speed)
    lift = float(np.interp(at, aero["angle_of_attack_deg"], aero["lift_coefficient"]))
    drag = float(np.interp(at, aero["angle_of_attack_deg"], aero["drag_coefficient"]))
    base = drag - growth * lift**2 - down
    return (base, growth) if base > 0.0 else None


def clean_thrust(profile: Profile, *, mass: float, equivalent: float) -> float | None:
    """Return the thrust of level flight, gear and flaps up, at an equivalent airspeed; None if not known."""
    found = clean_drag(profile)
    if found is None:
        return None
    base, growth = found
    force = 0.5 * SEA_LEVEL_DENSITY * equivalent**2 * profile.tables["aerodynamics"]["reference_area_m2"]
    return force * base + growth * (mass * STANDARD_GRAVITY) ** 2 / force


def ratio(profile: Profile, *, mass: float, listed: float | None, equivalent: float) -> float | None:
    """Return the flow at a mass over that at the ``listed`` one, airspeed held; None if not known."""
    if listed is None:
        return None
    thrusts = [clean_thrust(profile, mass=one, equivalent=equivalent) for one in (mass, listed)]
    if thrusts[0] is None or thrusts[1] is None:
        return None
    burns = [flow_for(profile, one) for one in thrusts if one is not None]
    return burns[0] / burns[1] if burns[0] and burns[1] else thrusts[0] / thrusts[1]


def scaled(profile: Profile, flow: float, *, mass: float | None, equivalent: float) -> Flow:
    """Return a flow that is listed at a mass and airspeed, by mass; steady where the file cannot tell."""

    def at(other: float) -> float | None:
        by = ratio(profile, mass=other, listed=mass, equivalent=equivalent)
        return None if by is None else flow * by

    return (None if mass is None else tabulated(at, mass)) or steady(flow)


def level(profile: Profile, name: str) -> Flow | None:
    """Find a level flight of the aircraft's table by its name or the name's first word, as a flow by mass."""
    for one in profile.tables.get("fuel", {}).get("level", ()):
        called = one["name"].casefold()
        if called != name.casefold() and called.replace(",", " ").split()[0] != name.casefold():
            continue
        if "gear" in called or "pattern" in called:
            return steady(one["flow_kgps"])
        air = atmosphere.standard(one["altitude_ft"] * FOOT)
        true = speeds.true_from_calibrated(
            one["airspeed_kt"] * KNOT, pressure=air.pressure, temperature=air.temperature
        )
        equivalent = float(speeds.equivalent_from_true(true, density=air.density))
        return scaled(profile, one["flow_kgps"], mass=one["mass_kg"], equivalent=equivalent)
    return None


def cruise(profile: Profile, flow: float, *, airspeed: float, altitude: float, mass: float) -> float:
    """Return a cruise's flow at a mass; it is listed at the file's reference mass, ``airspeed`` true."""
    equivalent = float(speeds.equivalent_from_true(airspeed, density=atmosphere.standard(altitude).density))
    listed = profile.tables.get("mass", {}).get("reference_kg")
    by = ratio(profile, mass=mass, listed=listed, equivalent=equivalent)
    return flow if by is None else flow * by
