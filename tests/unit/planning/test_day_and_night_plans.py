"""Pattern, marshal and launch planned from the bundled scenarios and from broken ones."""

from __future__ import annotations

import math

import numpy as np
import pytest
from msgspec.structs import replace

from deckward import planning
from deckward.errors import InputError
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE
from deckward.planning import launch_plan, marshal_plan, pattern_plan, wind_plan
from deckward.planning.scenario import Whereabouts


def of(name: str):
    scenario = planning.load(name)
    return scenario, wind_plan.plan(scenario).recovery.answer.chosen


LANTERN, COURSE = of("lantern-evening")


@pytest.mark.parametrize("name", planning.bundled())
def test_every_bundled_scenario_has_all_three(name):
    scenario, chosen = of(name)
    mass = scenario.aircraft.max_landing_mass
    day = pattern_plan.plan(scenario, chosen, mass=mass)
    assert 0.7 < day.pattern.abeam / NAUTICAL_MILE < 1.5
    assert len(day.slips) >= 3 and len(day.holds) == len(scenario.flights)
    night = marshal_plan.plan(scenario, chosen, mass=mass)
    assert len(night.held) == scenario.recovering
    assert night.case is not None
    shot = launch_plan.plan(scenario)
    assert shot.wanted > shot.least > 40.0
    assert shot.trim is not None and shot.steps


def test_the_pattern_is_flown_on_the_ships_chosen_course():
    day = pattern_plan.plan(LANTERN, COURSE, mass=6000.0)
    assert day.steaming.course == COURSE.course
    along = float(day.steaming.over_deck.along_landing_area)
    assert along == pytest.approx(COURSE.along, abs=1e-6)
    assert day.pattern.groove.closure + along == pytest.approx(day.pattern.groove.airspeed, rel=0.01)


def test_a_heavier_jet_flies_faster_and_wider():
    light, heavy = (pattern_plan.plan(LANTERN, COURSE, mass=mass).pattern for mass in (5200.0, 6600.0))
    assert heavy.downwind_airspeed > light.downwind_airspeed
    assert heavy.abeam > light.abeam


def test_the_first_crosses_the_ramp_when_the_recovery_begins():
    night = marshal_plan.plan(LANTERN, COURSE, mass=6000.0)
    assert night.clock
    assert night.held[0].ramp == pytest.approx(LANTERN.recovery.time, abs=1e-6)
    pushes = np.diff([one.slot.push for one in night.held])
    assert pushes == pytest.approx(np.full(7, 60.0))
    assert [one.who for one in night.held[:5]] == [
        "Abel Renn",
        "Mika Thorold",
        "Jo Sandiver",
        "Ines Corrow",
        "Piet Hallam",
    ]
    assert night.held[-1].who == "Sorrel 2"


def test_who_told_a_place_is_led_to_the_fix_in_time():
    night = marshal_plan.plan(LANTERN, COURSE, mass=6000.0)
    for one in night.held[:6]:
        assert one.holding is not None and one.track is not None
        assert one.holding.late == pytest.approx(0.0, abs=1e-6)
        assert one.track[-1, 1:] == pytest.approx(one.slot.fix, abs=200.0)
    assert all(one.holding is None for one in night.held[6:])


def test_who_is_too_far_away_is_said_to_be_late():
    far = Whereabouts(0.3, 90 * NAUTICAL_MILE, 3000.0, 1.0, 128.0)
    late = replace(LANTERN.flights[0], where=far, time=LANTERN.recovery.time - 800.0)
    scenario = replace(LANTERN, flights=(late, *LANTERN.flights[1:]))
    night = marshal_plan.plan(scenario, COURSE, mass=6000.0)
    assert "late-at-the-fix" in {note.code for note in night.notes}
    first = night.held[0]
    assert first.holding is not None and first.holding.late > 300.0


def test_a_push_after_midnight_is_the_next_one():
    flight = replace(LANTERN.flights[0], time=86_400.0 - 600.0)
    scenario = replace(
        LANTERN,
        flights=(flight,),
        marshal=replace(LANTERN.marshal, push=900.0),
        recovery=replace(LANTERN.recovery, aircraft=1),
    )
    held = marshal_plan.plan(scenario, COURSE, mass=6000.0).held[0]
    assert held.holding is not None
    last = held.holding.legs[-1]
    assert last.start + last.seconds == pytest.approx(1500.0, abs=0.1)


@pytest.mark.parametrize(
    ("weather", "number"),
    [
        ({"night": True, "ceiling": None, "visibility": None}, 3),
        ({"night": False, "ceiling": 700 * FOOT, "visibility": 9000.0}, 3),
        ({"night": None, "ceiling": 2000.0, "visibility": 20_000.0}, 1),
        ({"night": False, "ceiling": None, "visibility": 20_000.0}, None),
    ],
)
def test_case_of_a_scenario(weather, number):
    case = marshal_plan.case_of(replace(LANTERN, weather=replace(LANTERN.weather, **weather)))
    assert (case and case.number) == number


def test_without_fuel_no_launch():
    with pytest.raises(InputError, match="fuel"):
        launch_plan.plan(replace(LANTERN, load=replace(LANTERN.load, fuel=None)))


def test_the_launch_weighs_what_hangs_on_it():
    """Empty, fuel and stores less what is burnt; the moments of what hangs to the sides."""
    load = LANTERN.load
    shot = launch_plan.plan(LANTERN)
    hung = sum(store.count * store.mass for store in load.stores)
    empty = LANTERN.aircraft.tables["mass"]["empty_kg"]
    assert shot.mass == pytest.approx(empty + hung + load.fuel - LANTERN.fuel.start)
    moment = sum(store.count * store.mass * store.right for store in load.stores)
    assert shot.asymmetry == pytest.approx(moment) and moment != 0.0
    assert shot.aileron is not None and 0.0 < shot.aileron < 5 * DEGREE
    assert math.isclose(shot.margin, 15 * KNOT)
