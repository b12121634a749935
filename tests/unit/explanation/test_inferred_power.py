"""Power worked out of how the aircraft moved: worked examples of Newton's second law along the path."""

from __future__ import annotations

import numpy as np
import pytest

from deckward import aircraft
from deckward.explanation import power

TIME = np.arange(0.0, 20.0, 0.05)
G = 9.80665


def told(*, speed=None, sink=3.6, airspeed=None, attack=0.0, profile="sandlark", gusts=0.0, speed_sigma=0.0):
    """Infer the power of 20 s at 60 m/s down a path that asks for 3.6 m/s of sink."""
    one = np.ones(TIME.size)
    speed = 60.0 * one if speed is None else speed
    return power.infer(
        sink * one,
        speed,
        speed if airspeed is None else airspeed,
        attack * one,
        -3.6 * one,
        aircraft.load(profile),
        TIME > 1.0,
        dt=0.05,
        speed_sigma=speed_sigma,
        gusts=gusts,
    )


def test_steady_flight_down_the_path_asks_for_no_more_power():
    assert told().felt == pytest.approx(0.0, abs=1e-12)


def test_a_jet_that_speeds_up_has_its_acceleration_over_gravity_more():
    """0.5 m/s2 down the path: 0.5 / 9.80665 of its weight; drag grows with the speed beside it."""
    found = told(speed=60.0 + 0.02 * TIME)
    drag = power._drag(aircraft.load("sandlark"), np.zeros(1))[0][0]
    late = float(found.felt[-1] - found.felt[0])
    assert found.felt[0] == pytest.approx(0.02 / G, abs=0.003)
    assert late == pytest.approx(drag * ((60.4 / 60.2) ** 2 - (60.0 / 60.2) ** 2), rel=0.05)


def test_a_jet_that_sinks_less_than_the_path_has_more_power():
    """1 m/s less sink at 60 m/s: 1/60 of its weight."""
    assert told(sink=2.6).felt == pytest.approx(1.0 / 60.0, rel=1e-6)


def test_a_gust_is_no_power_though_airspeed_shows_it():
    gust = 1.0 * np.sin(2.0 * TIME)
    found = told(speed=60.0 + 0.0 * TIME, airspeed=60.0 + gust, gusts=0.7)
    # the rate of airspeed alone would make 2 / g = 0.2 of it
    assert np.abs(found.felt).max() < 0.02


def test_what_is_known_worse_has_a_wider_sigma():
    own, usual = told(), told(profile="generic-jet")
    assert own.sigma < usual.sigma < told(profile="generic-jet", speed_sigma=0.2).sigma
    assert own.sigma < told(gusts=1.0).sigma


def test_slow_flight_holds_more_drag_by_the_table():
    """One degree slow: the drag that the table tells over its lift on speed."""
    profile = aircraft.load("sandlark")
    table = profile.tables["aerodynamics"]
    on = np.degrees(profile.on_speed)
    drag = np.interp([on, on + 1.0], table["angle_of_attack_deg"], table["drag_coefficient"])
    lift = np.interp(on, table["angle_of_attack_deg"], table["lift_coefficient"])
    found = told(attack=np.radians(1.0))
    assert found.felt == pytest.approx((drag[1] - drag[0]) / lift, rel=1e-6)
