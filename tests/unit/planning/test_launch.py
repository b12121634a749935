"""Launches: flown off the bow, bounded, and short of wind, thrust or an engine."""

from __future__ import annotations

import math

import numpy as np
import pytest
from msgspec.structs import replace

from deckward import aircraft, prediction
from deckward.errors import InputError
from deckward.foundation.units import FOOT, KNOT, POUND
from deckward.planning import launch, launch_plan
from deckward.planning.scenario import Catapult

G = 9.80665
SANDLARK, STORMCOTE = aircraft.load("sandlark"), aircraft.load("stormcote")
CATAPULT = Catapult((5400.0, 10_900.0), (77.0, 64.0), 91.0)


def shot(profile=SANDLARK, mass=7500.0, **options):
    options = {"margin": 15 * KNOT, "catapult": CATAPULT, "greatest_wind": 40 * KNOT} | options
    return launch_plan.shoot(profile, mass=mass, **options)


def test_the_least_airspeed_is_where_the_settle_is_ten_feet():
    plan = shot()
    (settle,) = [bound.airspeed for bound in plan.bounds if bound.what == "settle of 10 ft"]
    model = launch.powered(prediction.model_of(SANDLARK, mass=7500.0), plan.power)
    (flown,) = launch.fly_off(model, end_airspeeds=[settle])
    assert flown.settle / FOOT == pytest.approx(10.0, abs=0.15)
    assert plan.least >= settle
    assert plan.flown.settle < plan.flown_least.settle
    assert plan.flown.climbs
    assert plan.wanted == pytest.approx(plan.least + 15 * KNOT)


def test_wind_makes_up_what_the_catapult_lacks():
    """148 kt and a margin of 15 with 145 kt of end speed need 18 kt of wind: the sum that is published."""
    plan = shot(mass=9500.0)
    assert plan.stroke is not None
    end = float(np.interp(9500.0, CATAPULT.masses, CATAPULT.end_speeds))
    assert plan.stroke.end_speed == pytest.approx(end)
    assert plan.wind_needed == pytest.approx(plan.wanted - end)
    assert plan.wind_for_least == pytest.approx(plan.wind_needed - 15 * KNOT)


def test_heavier_needs_more_of_everything():
    light, heavy = shot(mass=6000.0), shot(mass=9500.0)
    assert heavy.least > light.least
    assert heavy.wind_needed > light.wind_needed
    assert heavy.acceleration < light.acceleration
    assert heavy.trim > light.trim


def test_hot_and_thin_air_wants_more_true_airspeed():
    thin = prediction.Air(density=1.225 * 0.9)
    bound = launch.bounds(prediction.model_of(SANDLARK, mass=7500.0), air=thin)
    usual = launch.bounds(prediction.model_of(SANDLARK, mass=7500.0))
    ratio = bound[0].airspeed / usual[0].airspeed
    assert ratio == pytest.approx(1 / math.sqrt(0.9), rel=0.01)


def test_level_flight_balances_where_the_acceleration_says():
    """Lift, weight and thrust at the angle of attack found, put together again."""
    model = prediction.model_of(SANDLARK, mass=7500.0)
    v = 75.0
    gained = launch.level_acceleration(model, v)
    thrust, c = model.coefficients.thrust[-1], model.coefficients
    alphas = np.radians(np.linspace(1.0, 14.0, 2000))
    lift, drag = model.lift_and_drag(alphas, configuration=launch.configuration(model))
    pressure = 0.5 * 1.225 * v**2 * c.area
    k = int(np.argmin(np.abs(pressure * lift + thrust * np.sin(alphas) - 7500.0 * G)))
    assert gained == pytest.approx(float(thrust * np.cos(alphas[k]) - pressure * drag[k]) / 7500.0, abs=0.02)
    assert launch.level_acceleration(model, 30.0) == -G


def test_too_little_wind_says_how_much_lighter_it_goes():
    plan = shot(mass=10_000.0, greatest_wind=20 * KNOT)
    assert plan.wind_needed > 20 * KNOT
    assert plan.heaviest is not None and plan.heaviest < 10_000.0
    assert shot(mass=plan.heaviest, greatest_wind=20 * KNOT).wind_needed == pytest.approx(20 * KNOT, abs=0.05)
    note = next(note for note in plan.notes if note.code == "too-much-wind-needed")
    assert f"{plan.heaviest / POUND:,.0f} lb" in note.text


def test_an_engine_less_is_told_where_there_are_two():
    assert shot().engine_out is None
    plan = shot(STORMCOTE, 21_000.0, catapult=None)
    out = plan.engine_out
    assert out is not None
    assert out.power.name == "afterburner, 1 of 2 engines"
    assert out.acceleration < plan.acceleration
    assert out.flown.height[-1] < plan.flown.height[-1]
    assert out.least is None or out.least > plan.least


def test_afterburner_from_the_mass_that_the_file_tells():
    assert shot(STORMCOTE, 16_000.0, catapult=None).power.name == "military"
    lit = shot(STORMCOTE, 17_000.0, catapult=None)
    assert lit.power.name == "afterburner"
    assert lit.power.share == pytest.approx(133_900 / 79_680)


def test_over_the_greatest_mass_and_without_a_catapult_it_says_so():
    plan = shot(mass=10_500.0, catapult=None)
    assert [note.code for note in plan.notes] == ["too-heavy-to-launch", "catapult-not-told"]
    assert plan.wind_needed is None and plan.stroke is None
    outside = shot(mass=5_000.0)
    assert [note.code for note in outside.notes] == ["outside-catapult-table"]


def test_a_jet_that_cannot_fly_away_is_refused():
    weak = replace(SANDLARK, tables={**SANDLARK.tables, "engine": _weak_engine()})
    with pytest.raises(InputError, match=r"keeps no 0.04 g in level flight"):
        shot(weak)


def _weak_engine():
    engine = dict(SANDLARK.tables["engine"])
    engine["thrust_n"] = [0.25 * thrust for thrust in engine["thrust_n"]]
    return engine


def test_asymmetry_is_held_by_aileron():
    """A moment over pressure, area, span and the aileron's power."""
    plan = shot(asymmetry=-600.0)
    aero = SANDLARK.tables["aerodynamics"]
    pressure = 0.5 * 1.225 * plan.wanted**2
    power = pressure * aero["reference_area_m2"] * aero["span_m"] * aero["derivatives"]["roll_per_aileron"]
    assert plan.aileron == pytest.approx(600.0 * G / power, rel=1e-3)
    aero = {**aero, "derivatives": {}}
    untold = replace(SANDLARK, tables={**SANDLARK.tables, "aerodynamics": aero})
    assert shot(untold, asymmetry=-600.0).aileron is None


def test_stance_from_the_wheels_where_the_file_does_not_tell():
    assert launch.stance(prediction.model_of(SANDLARK)) == pytest.approx(math.radians(7.0))
    nose_down = replace(
        SANDLARK,
        nose_wheel=(6.0, 0.0, 1.0),
        main_wheels=(0.0, 0.7, 1.3),
        tables={name: table for name, table in SANDLARK.tables.items() if name != "launch"},
    )
    assert launch.stance(prediction.model_of(nose_down)) == pytest.approx(math.atan2(-0.3, 6.0))
