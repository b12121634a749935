"""The published power-approach set against numbers worked from it by hand."""

from __future__ import annotations

import math

import pytest

from deckward import aircraft, site
from support.authorities import rows

FOOT, POUND, G = 0.3048, 0.45359237, 9.80665
FITTINGS = rows("deck-fittings")
(SET,) = rows("power-approach-set").values()


def test_lift_of_the_set_carries_its_weight():
    """The set's own numbers agree to 0.4 %: 33,200 / (62.87 x 530) = 0.9964, its CL 1.0.

    62.87 lb/ft2 is the pressure of 230 ft/s at the sea; with the set's own 62.9 it is 0.9959.
    """
    made = aircraft.load("cr2144-power-approach")
    aero, mass = made.tables["aerodynamics"], made.tables["mass"]["reference_kg"]
    assert mass == pytest.approx(SET["weight [lb]"] * POUND, abs=0.6)
    pressure = 0.5 * 1.225 * (SET["speed [ft/s]"] * FOOT) ** 2
    needed = mass * G / (pressure * aero["reference_area_m2"])
    on_speed = aero["angle_of_attack_deg"].index(round(math.degrees(made.on_speed), 1))
    assert aero["lift_coefficient"][on_speed] == pytest.approx(needed, rel=0.005)
    assert aero["drag_coefficient"][on_speed] == SET["CD [1]"]


def test_derivatives_of_the_set_give_its_dimensional_ones():
    (worked,) = rows("power-approach-derivatives").values()
    made = aircraft.load("cr2144-power-approach")
    aero, mass = made.tables["aerodynamics"], made.tables["mass"]
    slopes = aero["derivatives"]
    speed, chord = SET["speed [ft/s]"] * FOOT, aero["chord_m"]
    force = 0.5 * 1.225 * speed**2 * aero["reference_area_m2"]
    z_alpha = -force * (slopes["lift_per_alpha"] + SET["CD [1]"]) / mass["reference_kg"]
    assert z_alpha / FOOT == pytest.approx(worked["Z alpha [ft/s2]"], rel=2e-3)
    moment = force * chord / mass["pitch_inertia_kgm2"]
    assert moment * slopes["pitch_per_alpha"] == pytest.approx(worked["M alpha [1/s2]"], rel=2e-3)
    assert moment * slopes["pitch_per_elevator"] == pytest.approx(worked["M elevator [1/s2]"], rel=2e-3)
    rate = moment * chord / (2 * speed) * slopes["pitch_per_pitch_rate"]
    assert rate == pytest.approx(worked["M q [1/s]"], rel=2e-3)


def test_the_large_ships_path_clears_the_ramp_by_14_feet():
    """230 ft times tan 3.5 deg is 14.07 ft (worked by hand; 14.1 ft usually quoted, from memory)."""
    lens = site.load("wintermere").lens
    assert lens.hook_target / FOOT == pytest.approx(230, abs=0.01)
    assert lens.hook_target * math.tan(lens.basic_angle) / FOOT == pytest.approx(14.07, abs=0.005)


def test_lens_fans():
    """Published: where the 5-cell ball leaves the lens; from memory: what 12 cells cover."""
    five, twelve = site.load("corrie-vane").lens, site.load("wintermere").lens
    assert math.degrees(five.cells * five.cell) / 2 == pytest.approx(
        FITTINGS["ball leaves the lens"]["angle [deg]"]
    )
    cover = FITTINGS["cover of twelve cells"]["angle [deg]"]
    assert math.degrees(twelve.cells * twelve.cell) == pytest.approx(cover, abs=1e-3)


def test_wires_stand_at_the_usual_distances():
    """Worked so that 230 ft lies midway between wires 2 and 3, 40 ft apart: 170, 210, 250, 290 ft."""
    wires = site.load("wintermere").wires
    assert [x / FOOT for x in wires.positions] == pytest.approx([170, 210, 250, 290], abs=0.01)
    pendant = FITTINGS["pendant"]
    assert pendant["low [in]"] * FOOT / 12 < wires.height < pendant["high [in]"] * FOOT / 12
