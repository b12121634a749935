"""Fuel flow by mass: the listed one at the listed mass, and otherwise by the thrust of level flight."""

from __future__ import annotations

import math

import numpy as np
import pytest
from msgspec.structs import replace

from deckward import aircraft, planning
from deckward.environment import atmosphere
from deckward.foundation.units import KNOT, POUND
from deckward.planning import flows
from deckward.planning.on_speed import on_speed
from deckward.planning.plan import make

JETS = ("sandlark", "stormcote")


@pytest.mark.parametrize("name", JETS)
def test_a_listed_flow_stands_at_its_own_mass(name):
    jet = aircraft.load(name)
    listed = next(one for one in jet.tables["fuel"]["level"] if one["name"] == "holding")
    found = flows.level(jet, "holding")
    assert found.at(listed["mass_kg"]) == pytest.approx(listed["flow_kgps"], rel=1e-9)
    heavier = [found.at(listed["mass_kg"] * share) for share in (0.8, 1.0, 1.2, 1.4)]
    assert heavier == sorted(heavier) and heavier[-1] > 1.02 * heavier[0]


def test_thrust_of_level_flight_by_hand():
    """Drag of a parabola: 30 lb/ft^2 on 260 ft^2, 12,000 lb; the file's approach less gear and flaps.

    On speed the Sandlark has CL 0.896 and CD 0.202 (its own trim on the library's model); less
    0.09 CL^2, gear 0.020 and flaps 0.080 a drag coefficient of 0.030 is left without lift.
    """
    jet = aircraft.load("sandlark")
    pressure, area, weight = 30.0, 24.155 / 0.3048**2, 12_000.0
    lift = weight / (pressure * area)
    by_hand = pressure * area * (0.202 - 0.09 * 0.896**2 - 0.100 + 0.09 * lift**2)
    equivalent = math.sqrt(2.0 * pressure / 0.0023769) * 0.3048
    found = flows.clean_thrust(jet, mass=weight * POUND, equivalent=equivalent)
    assert found / (POUND * 9.80665) == pytest.approx(by_hand, rel=0.01)


def test_a_file_without_what_gear_and_flaps_add_keeps_its_listed_flows():
    jet = aircraft.load("sandlark")
    bare = {**jet.tables["aerodynamics"], "gear_drag": 0.0, "flaps_drag": 0.0}
    jet = replace(jet, tables={**jet.tables, "aerodynamics": bare})
    assert flows.clean_drag(jet) is None
    found = flows.level(jet, "holding")
    assert found.at(4000.0) == found.at(9000.0) == pytest.approx(0.295)


def test_time_and_fuel_go_both_ways_and_by_halves():
    found = flows.Flow((5000.0, 7000.0), (0.2, 0.4))
    spent = found.spent(6500.0, 900.0)
    # the same in 900 steps of a second
    mass = 6500.0
    for _ in range(900):
        mass -= np.interp(mass, (5000.0, 7000.0), (0.2, 0.4))
    assert spent == pytest.approx(6500.0 - mass, rel=0.002)
    assert found.seconds(6500.0, spent) == pytest.approx(900.0, rel=0.003)


def test_a_heavier_recovery_burns_more_in_stack_and_pattern():
    evening = planning.load("lantern-evening")
    store = replace(evening.load.stores[0], mass=500 * POUND, count=2, kept=True)
    heavy = replace(evening, load=replace(evening.load, stores=(*evening.load.stores, store)))
    light, burdened = make(evening).fuel.burn, make(heavy).fuel.burn
    assert burdened.holding > light.holding and burdened.trip > light.trip
    # on speed at a held angle of attack thrust goes with weight, and so nearly does its flow over idle's
    jet, air = evening.aircraft, atmosphere.standard(180.0)
    thrusts = [on_speed(jet, mass=one.dry + one.fuel, air=air).thrust for one in (light, burdened)]
    masses = [one.dry + one.fuel for one in (light, burdened)]
    assert thrusts[1] / thrusts[0] == pytest.approx(masses[1] / masses[0], rel=1e-9)


def test_the_cruise_to_the_field_is_flown_at_the_mass_of_the_moment():
    from deckward.planning import transit

    evening = planning.load("lantern-evening")
    far = replace(evening, divert=replace(evening.divert, distance=150 * 1852.0))
    jet = evening.aircraft.tables["mass"]
    light = transit.bingo(far, dry=jet["empty_kg"])
    heavy = transit.bingo(far, dry=jet["empty_kg"] + 1000.0)
    listed = transit.bingo(far)
    assert light.fuel < listed.fuel < heavy.fuel
    speed = light.airspeed / KNOT
    assert 290 < speed < 430
