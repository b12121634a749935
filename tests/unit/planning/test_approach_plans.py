"""The approach card: masses, the most fuel at the ball, what binds, and a jet that is too heavy."""

from __future__ import annotations

import math

import numpy as np
import pytest

from deckward.environment import sea
from deckward.errors import InputError
from deckward.foundation.units import DEGREE, KNOT, POUND
from deckward.planning import load, masses, plan, says
from deckward.planning.scenario import Scenario

FACTS = {
    "site": "wintermere",
    "aircraft": "sandlark",
    "wind.from_deg": 240,
    "wind.speed_kt": 18,
}


def scenario(**facts) -> Scenario:
    return load(typed={**FACTS, **{key.replace("__", "."): value for key, value in facts.items()}})


def approach(**facts):
    return plan.make(scenario(**facts), ["approach"]).approach


def pounds(kg: float) -> float:
    return kg / POUND


STORES = [
    {"name": "tank", "mass_lb": 150, "count": 2},
    {"name": "bomb", "mass_lb": 500, "right_ft": -8, "kept": False},
    {"name": "pod", "mass_lb": 300, "right_ft": 8},
]


def test_what_comes_back_and_what_does_not():
    weighed = masses.weigh(scenario(store=STORES, fuel_lb=3000))
    assert weighed.dry == pytest.approx(4649 + 600 * POUND)
    assert weighed.start == pytest.approx(4649 + 4100 * POUND)
    assert weighed.landing_asymmetry / POUND / 0.3048 == pytest.approx(2400)
    assert weighed.launch_asymmetry / POUND / 0.3048 == pytest.approx(-1600)


def test_a_whole_mass_and_the_fuel_in_it_tell_the_rest():
    weighed = masses.weigh(scenario(mass_lb=20_000, fuel_lb=5000, store=STORES))
    assert pounds(weighed.empty) == pytest.approx(20_000 - 5000 - 1100)
    assert pounds(weighed.dry) == pytest.approx(20_000 - 5000 - 500)


def test_a_jet_of_unknown_mass_asks_for_it():
    with pytest.raises(InputError, match="mass_lb and fuel_lb"):
        masses.weigh(load())
    with pytest.raises(InputError, match="no more than the fuel and stores"):
        masses.weigh(scenario(mass_lb=2000, fuel_lb=2500))


def test_the_most_fuel_is_what_the_landing_mass_leaves():
    """Published form of it, derived: 33,000 - 27,400 = 5,600 lb."""
    found = approach(mass_lb=30_000, fuel_lb=2600, recovery__landing_mass_lb=33_000)
    assert pounds(found.most_fuel) == pytest.approx(5600)
    assert pounds(found.fuel) == pytest.approx(2600)
    assert found.limits[0].what == "aircraft"


def test_the_gear_binds_before_the_aircraft_where_its_limit_is_lower():
    gear = {"gear__mass_lb": [8000, 16_000], "gear__engaging_kt": [110, 97]}
    found = approach(**gear)
    assert found.limits[0].what == "gear"
    flown = plan.approach_plan.approach.fly(found.setting, found.limits[0].mass)
    limit = plan.approach_plan.approach.engaging_limits(scenario(**gear).recovery.gear, found.limits[0].mass)
    assert flown.closure == pytest.approx(limit["gear"], abs=1e-6)
    assert found.least_wind_for == "gear"
    assert found.least_wind == pytest.approx(25 * KNOT, abs=0.1 * KNOT)


def test_a_jet_too_heavy_is_planned_with_the_most_and_the_rest_is_told():
    made = plan.make(load("full-creel"))
    found = made.approach
    assert found.arriving > found.most_fuel == pytest.approx(found.fuel)
    assert found.arriving - found.most_fuel == pytest.approx(made.fuel.too_heavy)
    heavy = [row for row in found.rows if row.fuel > found.most_fuel]
    assert heavy and not any(row.within for row in heavy)


def test_the_table_by_fuel_rises_and_holds_the_planned_fuel():
    for name in ("lantern-evening", "thistledown", "full-creel"):
        found = plan.make(load(name)).approach
        fuels = [row.fuel for row in found.rows]
        assert fuels == sorted(fuels)
        assert fuels[0] <= found.fuel <= fuels[-1]
        assert len(fuels) <= 9
        speeds = [row.flown.jet.calibrated for row in found.rows]
        assert speeds == sorted(speeds)


def test_without_a_wind_the_wanted_one_is_taken_and_said():
    found = plan.make(load(typed={"aircraft": "sandlark", "recovery.wind_kt": 22}), ["approach"]).approach
    assert not found.wind_told
    assert found.setting.along == pytest.approx(22 * KNOT)


def test_a_lens_set_otherwise_moves_the_hook_over_the_ramp():
    plain, steep = approach(), approach(recovery__basic_angle_deg=4)
    assert steep.geometry.hook_to_ramp > plain.geometry.hook_to_ramp
    assert steep.planned.sink > plain.planned.sink
    assert {round(row.angle / DEGREE, 2) for row in plain.angles} == {3.0, 3.25, 3.5, 3.75, 4.0}


@pytest.mark.parametrize(("kt", "angle"), [(15, 3.25), (26, 3.5), (34, 3.75), (38, 4.0)])
def test_the_usual_lens_setting_for_a_wind(kt, angle):
    wind = {"recovery__least_wind_kt": 10, "wind__speed_kt": 20}
    assert approach(recovery__wind_kt=kt, **wind).suggested_angle / DEGREE == pytest.approx(angle)


def test_a_card_that_was_not_asked_for_is_not_there():
    made = plan.make(scenario(), ["wind"])
    assert (made.approach, made.fuel) == (None, None)
    assert made.wind is not None


def test_a_jet_without_aerodynamics_takes_a_told_airspeed():
    generic = {"aircraft": "generic-jet", "mass_lb": 40_000, "fuel_lb": 10_000}
    with pytest.raises(InputError, match=r"approach\.on_speed_kt"):
        approach(**generic)
    found = approach(**generic, approach__on_speed_kt=140, approach__at_mass_lb=36_000)
    assert found.planned.jet.thrust is None
    assert found.planned.jet.calibrated == pytest.approx(140 * KNOT * (40 / 36) ** 0.5, rel=1e-3)


def test_the_ramp_moves_as_deck_motions_of_the_sea_do_on_average():
    """Against the seeded motions of the same sea, ship and course, sampled over an hour."""
    found = approach(sea__state=5)
    steering = plan.make(scenario(sea__state=5), ["wind"]).wind.recovery.answer.chosen
    coming = 240 * DEGREE + math.pi - steering.course
    here = scenario().site
    aft, time = here.centre[0] - here.ramp[0], np.arange(0.0, 3600.0, 0.5)
    squares = []
    for seed in range(60):
        moving = sea.deck_motion(
            sea.sea_state(5), sea.Hull(), speed=steering.speed, heading=coming, seed=seed
        )
        heave, pitch, _ = moving.at(time)
        squares.append(np.var(sea.ramp_heave(heave, pitch, aft=aft)))
    assert found.ramp_sigma == pytest.approx(np.sqrt(np.mean(squares)), rel=0.05)


def test_a_sea_is_told_by_its_height_or_its_state_and_a_still_one_moves_nothing():
    assert approach().ramp_sigma is None
    assert approach(sea__state=1).ramp_sigma is None
    by_state, by_height = approach(sea__state=4), approach(sea__wave_height_m=1.88)
    assert by_state.ramp_sigma == pytest.approx(by_height.ramp_sigma)
    assert approach(sea__state=2, sea__wave_height_m=1.88).ramp_sigma == by_height.ramp_sigma


def test_a_restless_deck_is_said_with_what_it_leaves_of_the_hooks_height():
    notes = {note.code for note in says.approach(scenario(sea__state=7), approach(sea__state=7)).notes}
    assert "deck-moves" in notes
    assert "deck-moves" not in {
        note.code for note in says.approach(scenario(sea__state=3), approach(sea__state=3)).notes
    }
