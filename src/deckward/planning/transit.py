"""Fuel to fly somewhere: climb, cruise and descent from the aircraft's tables, in the wind aloft."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
from msgspec import Struct

from deckward.errors import InputError
from deckward.foundation import angles, earth
from deckward.foundation.units import FOOT, to_si
from deckward.planning import flows
from deckward.planning.scenario import Divert, Scenario, need

#: cruise altitudes are tried this far apart
_STEP = 1000.0 * FOOT


class Stretch(Struct, frozen=True):
    """A part of a flight: time, s, distance over the sea, m, and fuel, kg."""

    seconds: float
    distance: float
    fuel: float


class Bingo(Struct, frozen=True):
    """The least fuel to reach the field with its reserve, kg, and how to fly it.

    ``parts`` are climb, cruise and descent at ``altitude``, cruising over the sea at
    ``ground_speed``; None and empty where the figure was told. ``headwind`` is that of the
    cruise.
    """

    fuel: float
    reserve: float
    bearing: float | None
    distance: float | None
    altitude: float | None
    airspeed: float | None
    ground_speed: float | None
    headwind: float | None
    parts: Mapping[str, Stretch]

    @property
    def seconds(self) -> float | None:
        """How long it takes."""
        return sum(part.seconds for part in self.parts.values()) if self.parts else None


def way_to(scenario: Scenario, divert: Divert) -> tuple[float, float]:
    """Return bearing, rad, and distance, m, from the ship to the field.

    Raises:
        InputError: the field is told neither by bearing and distance nor by its place.
    """
    if divert.latitude is None:
        return need(divert.bearing, "divert.bearing_deg"), need(divert.distance, "divert.distance_nm")
    ship = scenario.ship
    latitude, longitude = need(ship.latitude, "ship.latitude_deg"), need(ship.longitude, "ship.longitude_deg")
    field = earth.geodetic_to_ecef(divert.latitude, divert.longitude, 0.0)
    north, east, _ = earth.to_ned(field, latitude, longitude, 0.0)
    chord = float(np.linalg.norm(field - earth.geodetic_to_ecef(latitude, longitude, 0.0)))
    # the arc over a chord this short hardly asks which radius
    radius = earth.SEMI_MAJOR_AXIS
    return float(angles.compass(np.arctan2(east, north))), 2.0 * radius * math.asin(chord / (2.0 * radius))


def over_the_sea(
    scenario: Scenario, *, track: float, airspeed: float, altitude: float
) -> tuple[float, float]:
    """Return ground speed and headwind on a track, m/s.

    Raises:
        InputError: the wind across the track, or against it, is as fast as the jet.
    """
    if scenario.wind is None:
        return airspeed, 0.0
    there = scenario.wind_at(altitude)
    side = float(angles.difference(there.from_direction, track))
    across, headwind = float(there.speed) * math.sin(side), float(there.speed) * math.cos(side)
    along = math.sqrt(max(airspeed**2 - across**2, 0.0)) - headwind
    if along <= 1.0:
        raise InputError(
            f"the wind at {altitude / FOOT:,.0f} ft is as fast as the jet.",
            place="key wind_aloft",
            remedy="Check the winds aloft and the airspeeds in the aircraft file.",
        )
    return along, headwind


def slope(table: Mapping[str, Any], low: float, high: float) -> Stretch:
    """Read a climb from ``low`` to ``high``, m, or a descent between them, out of its table, in still air."""
    minutes, nm, fuel = (
        _column(table, name, high) - _column(table, name, low)
        for name in ("minutes", "distance_nm", "fuel_kg")
    )
    return Stretch(to_si(minutes, "min"), to_si(nm, "nm"), fuel)


def cruise(table: Mapping[str, Any], altitude: float) -> tuple[float, float]:
    """Return true airspeed, m/s, and fuel flow, kg/s, of the cruise for range at an altitude, m."""
    return to_si(_column(table, "airspeed_kt", altitude), "kt"), _column(table, "flow_kgps", altitude)


def cruise_at(scenario: Scenario, altitude: float, mass: float) -> float:
    """Return the fuel flow of the cruise at an altitude, m, and a mass, kg/s."""
    airspeed, flow = cruise(scenario.aircraft.tables["fuel"]["cruise"], altitude)
    return flows.cruise(scenario.aircraft, flow, airspeed=airspeed, altitude=altitude, mass=mass)


def _column(table: Mapping[str, Any], name: str, altitude: float) -> float:
    return float(np.interp(altitude / FOOT, table["altitude_ft"], table[name]))


def tables(scenario: Scenario) -> Mapping[str, Any] | None:
    """Return the aircraft's fuel table where it has climb, cruise and descent."""
    fuel = scenario.aircraft.tables.get("fuel", {})
    return fuel if all(name in fuel for name in ("climb", "cruise", "descent")) else None


def bingo(scenario: Scenario, *, dry: float | None = None) -> Bingo:
    """Find the least fuel to the field, over all cruise altitudes.

    The cruise is flown at the mass of halfway where the jet's mass without fuel, ``dry``, is
    known, else at the one its table is for. Climb and descent are those of their tables.

    Raises:
        InputError: no field is told, or neither the fuel to it nor the aircraft's tables.
    """
    divert = need(scenario.divert, "divert.distance_nm")
    fuel = tables(scenario)
    reserve = divert.reserve
    if reserve is None:
        reserve = scenario.aircraft.tables.get("fuel", {}).get("reserve_kg")
    if divert.bingo is not None:
        return Bingo(
            divert.bingo, reserve or 0.0, divert.bearing, divert.distance, None, None, None, None, {}
        )
    if fuel is None:
        raise InputError(
            f"the file of {scenario.aircraft.name} tells no climb, cruise and descent.",
            place="key divert.bingo_lb",
            remedy="Give divert.bingo_lb, the fuel to get there, from a diagram you have, or an aircraft "
            "file with [fuel.climb], [fuel.cruise] and [fuel.descent].",
        )
    reserve = need(reserve, "divert.reserve_lb")
    bearing, distance = way_to(scenario, divert)
    lowest, highest = (to_si(fuel["cruise"]["altitude_ft"][end], "ft") for end in (0, -1))
    low = _at(scenario, fuel, bearing, distance, reserve, lowest, dry)
    higher = [
        _at(scenario, fuel, bearing, distance, reserve, altitude, dry)
        for altitude in np.append(np.arange(lowest + _STEP, highest, _STEP), highest)
    ]
    return min((low, *(one for one in higher if one.parts["cruise"].seconds > 0.0)), key=lambda one: one.fuel)


def _at(
    scenario: Scenario,
    fuel: Mapping[str, Any],
    bearing: float,
    distance: float,
    reserve: float,
    altitude: float,
    dry: float | None,
) -> Bingo:
    """Fly to the field at an altitude; no cruise where it is too near to get up there."""
    airspeed, flow = cruise(fuel["cruise"], altitude)
    ground_speed, headwind = over_the_sea(scenario, track=bearing, airspeed=airspeed, altitude=altitude)
    # on the way up and down the wind is that of halfway
    _, half = over_the_sea(scenario, track=bearing, airspeed=airspeed, altitude=altitude / 2.0)
    ends = {
        name: Stretch(still.seconds, max(still.distance - half * still.seconds, 0.0), still.fuel)
        for name, still in ((name, slope(fuel[name], 0.0, altitude)) for name in ("climb", "descent"))
    }
    left = max(distance - sum(part.distance for part in ends.values()), 0.0)
    seconds = left / ground_speed
    if dry is not None and seconds > 0.0:
        mass = dry + reserve + ends["descent"].fuel + 0.5 * flow * seconds
        flow = cruise_at(scenario, altitude, mass)
    parts = {
        "climb": ends["climb"],
        "cruise": Stretch(seconds, left, flow * seconds),
        "descent": ends["descent"],
    }
    share = scenario.fuel.flow_share
    parts = {name: Stretch(part.seconds, part.distance, share * part.fuel) for name, part in parts.items()}
    return Bingo(
        fuel=sum(part.fuel for part in parts.values()) + reserve,
        reserve=reserve,
        bearing=bearing,
        distance=distance,
        altitude=float(altitude),
        airspeed=airspeed,
        ground_speed=ground_speed,
        headwind=headwind,
        parts=parts,
    )
