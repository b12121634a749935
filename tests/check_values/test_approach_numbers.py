"""Approach numbers against published geometry, hand-worked kinematics, and a model flown by others."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from deckward import aircraft, site
from deckward.environment import atmosphere
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE, POUND
from deckward.planning import approach, load
from deckward.planning.on_speed import on_speed
from deckward.planning.plan import make
from deckward.planning.pull import pull
from deckward.planning.scenario import Gear, ToldSpeed

STILL = atmosphere.standard(0.0)
#: on-speed airspeed told, so that the kinematics stand alone: 135 kt true at any sink
TOLD = ToldSpeed(135 * KNOT, 15_000.0)


def setting(**changes) -> approach.Setting:
    plain = approach.Setting(
        profile=aircraft.load("sandlark"),
        site=site.load("wintermere"),
        air=STILL,
        along=25 * KNOT,
        crosswind=0.0,
        angle=3.5 * DEGREE,
        told=TOLD,
    )
    return replace(plain, **changes)


def test_sink_and_path_in_the_air_of_135_kt_in_25_kt_of_wind():
    """Derived by hand: 681 ft/min, 2.857 deg below the horizon in the air (110 kt of closure)."""
    flown = approach.fly(setting(), 15_000.0)
    # the nose-down path makes 135 kt 134.83 level, which hand work leaves aside
    assert flown.sink / FOOT * 60 == pytest.approx(681.3, abs=1.2)
    assert flown.closure / KNOT == pytest.approx(110.0, abs=0.2)
    assert flown.jet.descent / DEGREE == pytest.approx(2.857, abs=0.01)


# derived by hand, closure x tan(angle): closure kt, angle deg, sink ft/min
SINKS = [(95, 3.0, 504), (110, 3.25, 633), (120, 3.5, 743), (140, 4.0, 991)]


@pytest.mark.parametrize(("closure", "angle", "fpm"), SINKS)
def test_sink_for_a_closure(closure, angle, fpm):
    there = setting(angle=angle * DEGREE, along=0.0)
    level = approach.fly(there, 15_000.0).closure / KNOT
    flown = approach.fly(replace(there, along=(level - closure) * KNOT), 15_000.0)
    assert flown.closure / KNOT == pytest.approx(closure, abs=0.1)
    assert flown.sink / FOOT * 60 == pytest.approx(fpm, abs=1.0)


def test_hook_over_the_ramp_and_what_a_foot_there_moves():
    """From memory: 14.1 ft at 3.5 deg for a target 230 ft in; derived: 16.35 ft of touchdown a foot."""
    flown = approach.fly(setting(), 15_000.0)
    there = approach.geometry(setting(), flown.pitch)
    assert there.hook_to_ramp / FOOT == pytest.approx(14.067, abs=0.001)
    assert approach.slips(setting(), flown, there).foot_touchdown / FOOT == pytest.approx(16.350, abs=0.001)


# body geometry by hand: eye forward of and above the hook, ft; pitch deg; hook to eye ft, eye ahead ft
EYES = [(40, 12, 6, 16.12, 38.5), (40, 12, 10, 18.76, 37.3), (38, 11, 8, 16.18, 36.1)]


@pytest.mark.parametrize(("forward", "above", "pitch", "up", "ahead"), EYES)
def test_hook_to_eye(forward, above, pitch, up, ahead):
    profile = replace(
        aircraft.load("sandlark"), eye=(forward * FOOT, 0.0, -above * FOOT), hook=(0.0, 0.0, 0.0)
    )
    there = approach.geometry(setting(profile=profile), pitch * DEGREE)
    assert there.hook_to_eye / FOOT == pytest.approx(up, abs=0.01)
    assert there.eye_ahead / FOOT == pytest.approx(ahead, abs=0.1)


def test_a_degree_of_nose():
    """Derived: with 40 ft between hook and eye 0.70 ft of hook, 11.4 ft of touchdown at 3.5 deg."""
    profile = replace(aircraft.load("sandlark"), eye=(40 * FOOT, 0.0, 0.0), hook=(0.0, 0.0, 0.0))
    there = setting(profile=profile)
    flown = approach.fly(there, 15_000.0)
    slip = approach.slips(there, flown, approach.geometry(there, 0.0))
    assert slip.nose_height / FOOT == pytest.approx(-0.70, abs=0.01)
    assert slip.nose_touchdown / FOOT == pytest.approx(-11.4, abs=0.05)


def test_a_knot_of_wind_from_three_quarters_of_a_mile():
    """By hand: at 110 kt of closure and 11.36 ft/s, 24.5 s become 24.77: 2.56 ft lower, 41.8 ft shorter."""
    flown = approach.fly(setting(), 15_000.0)
    slip = approach.slips(setting(), flown, approach.geometry(setting(), flown.pitch))
    seconds = 0.75 * 3600 / 110
    lower = 11.36 * (0.75 * 3600 / 109 - seconds)
    assert slip.wind_height / FOOT == pytest.approx(-lower, rel=0.01)
    assert slip.wind_touchdown / FOOT == pytest.approx(-lower / math.tan(3.5 * DEGREE), rel=0.01)


def test_time_from_three_quarters_of_a_mile():
    """Derived: 24.5 s at 110 kt of closure."""
    flown = approach.fly(setting(), 15_000.0)
    assert approach.seconds_from(0.75 * NAUTICAL_MILE, flown) == pytest.approx(24.5, abs=0.1)


def test_crab_in_an_axial_wind():
    """Derived: 25 kt from ahead of a 9-degree deck at 135 kt, 1.66 deg nose right."""
    flown = approach.fly(
        setting(along=25 * math.cos(9 * DEGREE) * KNOT, crosswind=25 * math.sin(9 * DEGREE) * KNOT), 15_000.0
    )
    assert flown.crab / DEGREE == pytest.approx(1.66, abs=0.005)


# energy capacity 47.5e6 ft-lb (from memory): derived limits, landing mass lb, kt
ENERGY = [(30_000, 189.0), (40_000, 163.8), (44_000, 156.2), (50_000, 146.5), (54_000, 141.0)]


@pytest.mark.parametrize(("lb", "kt"), ENERGY)
def test_engaging_speed_that_the_gear_can_take(lb, kt):
    gear = load().recovery.gear
    assert approach.engaging_limits(gear, lb * POUND)["gear energy"] / KNOT == pytest.approx(kt, abs=0.15)


def test_least_wind_for_an_engaging_speed():
    """Derived: approach 141 kt, limit 115: 26 kt down the angle (the path's slope aside)."""
    gear = Gear(1e9, 100.0, (10_000.0, 20_000.0), (115 * KNOT, 115 * KNOT))
    there = setting(told=ToldSpeed(141 * KNOT, 15_000.0))
    wind, what = approach.least_wind(there, gear, 15_000.0)
    assert what == "gear"
    assert wind / KNOT == pytest.approx(26.0, abs=0.3)


# trims of the open flight dynamics library's models, level, as told for them: lb, kt CAS
MODELS = [("sandlark", 12_750, 125.0), ("stormcote", 33_000, 134.0)]


@pytest.mark.parametrize(("name", "lb", "kt"), MODELS)
def test_on_speed_airspeed_is_the_models(name, lb, kt):
    jet = on_speed(aircraft.load(name), mass=lb * POUND, air=atmosphere.standard(60.0), descent=3.0 * DEGREE)
    assert jet.calibrated / KNOT == pytest.approx(kt, abs=1.2)


def test_thrust_on_the_path_is_the_models():
    """The library's A4 at 12,750 lb on a 3-degree path in the air: 2,194 lb of thrust."""
    jet = on_speed(
        aircraft.load("sandlark"), mass=12_750 * POUND, air=atmosphere.standard(60.0), descent=3.0 * DEGREE
    )
    assert jet.thrust / (POUND * 9.80665) == pytest.approx(2_194, rel=0.04)


def test_airspeed_grows_with_the_root_of_the_mass():
    """Derived: 136.3 kt at 33,200 lb becomes 141.9 at 36,000."""
    told = ToldSpeed(136.3 * KNOT, 33_200 * POUND)
    jet = on_speed(aircraft.load("generic-jet"), mass=36_000 * POUND, air=STILL, told=told)
    assert jet.calibrated / KNOT == pytest.approx(141.9, abs=0.05)


# the arrest by v^2 / (2 L), 2 L / v and W v^2 / (2 g), worked by hand; run-outs from memory:
# lb, kt; 10^6 ft-lb, mean g over 320 and 340 ft, s over 340 ft
ARRESTS = [
    (12_000, 95, 4.79, 1.25, 1.18, 4.24),
    (30_000, 110, 16.07, 1.67, 1.58, 3.66),
    (34_000, 105, 16.59, 1.53, 1.44, 3.84),
    (44_000, 120, 28.05, 1.99, 1.87, 3.36),
    (50_000, 130, 37.41, 2.34, 2.20, 3.10),
    (54_000, 112, 29.99, 1.74, 1.63, 3.60),
]


@pytest.mark.parametrize(("lb", "kt", "energy", "short", "long", "seconds"), ARRESTS)
def test_arrest_as_a_steady_pull(lb, kt, energy, short, long, seconds):
    shorter, longer = (pull(kt * KNOT, feet * FOOT, lb * POUND) for feet in (320, 340))
    assert shorter.acceleration / 9.80665 == pytest.approx(short, abs=0.0051)
    assert longer.acceleration / 9.80665 == pytest.approx(long, abs=0.0051)
    assert longer.seconds == pytest.approx(seconds, abs=0.0051)
    assert longer.energy / (POUND * 9.80665 * FOOT) / 1e6 == pytest.approx(energy, abs=0.0051)


def test_most_fuel_at_the_ball():
    """Worked by hand: a limit of 33,000 lb and a jet of 27,400 lb leave 5,600 lb."""
    scenario = load(
        typed={
            "mass_lb": 40_000,
            "fuel_lb": 12_600,
            "approach.on_speed_kt": 135,
            "approach.at_mass_lb": 33_000,
            "recovery.landing_mass_lb": 33_000,
            "gear.energy_ftlb": 4.75e7,
        }
    )
    assert make(scenario, ["approach"]).approach.most_fuel / POUND == pytest.approx(5600, abs=0.5)


def test_the_card_arrests_with_its_own_closing_speed():
    plan = make(load("lantern-evening"), ["approach"]).approach
    assert plan.arrest.end_speed == plan.planned.closure
    assert plan.arrest.length == pytest.approx(340 * FOOT)
