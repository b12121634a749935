"""Bingo, the ladder, looks before bingo, tanking: arithmetic that can be done by hand beside it."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from msgspec.structs import replace

from deckward import aircraft
from deckward.errors import InputError
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE, POUND
from deckward.planning import fuel, load, transit
from deckward.planning.approach import Approach
from deckward.planning.burning import Times
from deckward.planning.on_speed import OnSpeed
from deckward.planning.scenario import Scenario

#: climbs and descents that take nothing, one cruise at 300 kt and 0.3 kg/s at every altitude
FLAT = {
    "altitude_ft": [0.0, 30_000.0],
    "minutes": [0.0, 0.0],
    "distance_nm": [0.0, 0.0],
    "fuel_kg": [0.0, 0.0],
}
CRUISE = {"altitude_ft": [1000.0, 30_000.0], "airspeed_kt": [300.0, 300.0], "flow_kgps": [0.3, 0.3]}
#: no aerodynamics and no engine: flows stay as they are listed, and nothing is burnt at military power
WHATEVER_IT_WEIGHS = {"mass": aircraft.load("sandlark").tables["mass"]}
DRY = 11_000 * POUND
FACTS = {
    "aircraft": "sandlark",
    "divert.bearing_deg": 90,
    "divert.distance_nm": 60,
    "divert.reserve_lb": 400,
    "fuel.holding_pph": 2400,
    "fuel.pattern_pph": 3000,
    "fuel.trip_min": 4,
    "fuel.inbound_min": 5,
}


def scenario(table=True, **facts) -> Scenario:
    typed = {**FACTS, **{key.replace("__", "."): value for key, value in facts.items()}}
    read = load(typed={key: value for key, value in typed.items() if value is not None})
    if not table:
        return read
    profile = read.aircraft
    easy = {**profile.tables["fuel"], "climb": FLAT, "descent": FLAT, "cruise": CRUISE}
    return replace(read, aircraft=replace(profile, tables={**WHATEVER_IT_WEIGHS, "fuel": easy}))


def plan(read: Scenario, most: float | None = 2500 * POUND) -> fuel.FuelPlan:
    jet = OnSpeed(13_500 * POUND, 0.0, 65.0, 65.0, 65.0, None, None, None)
    flown = Approach(jet, sink=3.1, closure=100 * KNOT, pitch=0.1, crab=0.0)
    return fuel.plan(read, flown=flown, dry=DRY, most=most, solved=Times(case=1))


def pounds(kg: float) -> float:
    return kg / POUND


def test_bingo_in_still_air_is_distance_over_speed_times_flow():
    """60 nm at 300 kt: 720 s at 0.3 kg/s, and the reserve."""
    found = transit.bingo(scenario())
    assert found.fuel == pytest.approx(216.0 + 400 * POUND)
    assert found.seconds == pytest.approx(720.0)


@pytest.mark.parametrize(
    ("from_deg", "ground_kt"), [(90, 250.0), (270, 350.0), (0, math.sqrt(300**2 - 50**2))]
)
def test_bingo_in_wind(from_deg, ground_kt):
    """To the east in 50 kt from ahead, astern and abeam."""
    found = transit.bingo(scenario(wind__from_deg=from_deg, wind__speed_kt=50))
    assert found.fuel - found.reserve == pytest.approx(0.3 * 60 / ground_kt * 3600)


def test_bingo_takes_the_altitude_that_costs_least():
    real = scenario(table=False)
    best = transit.bingo(real)
    table = real.aircraft.tables["fuel"]
    for altitude in (5_000, 10_000, 15_000, 25_000):
        climb = transit.slope(table["climb"], 0.0, altitude * FOOT)
        descent = transit.slope(table["descent"], 0.0, altitude * FOOT)
        left = 60 * NAUTICAL_MILE - climb.distance - descent.distance
        if left >= 0.0:
            airspeed, flow = transit.cruise(table["cruise"], altitude * FOOT)
            other = climb.fuel + descent.fuel + flow * left / airspeed + best.reserve
            assert best.fuel <= other + 1e-9


def test_bingo_grows_with_distance_and_headwind():
    fuels = [
        transit.bingo(scenario(table=False, divert__distance_nm=nm)).fuel for nm in (5, 20, 60, 150, 300)
    ]
    assert fuels == sorted(fuels)
    ahead = transit.bingo(scenario(table=False, wind__from_deg=90, wind__speed_kt=40)).fuel
    astern = transit.bingo(scenario(table=False, wind__from_deg=270, wind__speed_kt=40)).fuel
    assert astern < transit.bingo(scenario(table=False)).fuel < ahead


def test_a_field_told_by_its_place():
    """One degree of latitude north of the equator: 60 nm of the meridian there is 59.7 (110.574 km)."""
    place = {
        "divert__latitude_deg": 1,
        "divert__longitude_deg": 0,
        "ship__latitude_deg": 0,
        "ship__longitude_deg": 0,
    }
    found = transit.bingo(scenario(divert__bearing_deg=None, divert__distance_nm=None, **place))
    assert found.distance == pytest.approx(110_574, rel=1e-4)
    assert found.bearing == pytest.approx(0.0, abs=1e-9)


def test_a_told_bingo_stands():
    found = transit.bingo(scenario(divert__bingo_lb=1900))
    assert pounds(found.fuel) == pytest.approx(1900)


def test_a_jet_without_tables_says_what_to_tell():
    plain = scenario(table=False, aircraft="generic-jet")
    with pytest.raises(InputError, match=r"divert\.bingo_lb"):
        transit.bingo(plain)
    with pytest.raises(InputError, match=r"fuel\.pattern_pph"):
        plan(scenario(table=False, aircraft="generic-jet", divert__bingo_lb=2000, fuel__pattern_pph=None))


def test_wind_as_fast_as_the_jet_is_told():
    with pytest.raises(InputError, match="as fast as the jet"):
        transit.over_the_sea(
            scenario(wind__from_deg=90, wind__speed_kt=120),
            track=90 * DEGREE,
            airspeed=110 * KNOT,
            altitude=0.0,
        )


def test_the_ladder_by_hand():
    """2,000 lb at 10:00, 30 minutes of holding at 2,400 lb an hour, 5 inbound: 600 lb at the ball.

    At 100 kt the ball, 3/4 nm from the ramp, is 27 s before the ramp: left 27 s sooner, 18 lb more.
    """
    found = plan(scenario(fuel_lb=2000, time="10:00", recovery__time="10:35", leg=[]))
    assert [event.name for event in found.events] == ["launch", "overhead", "leave the stack", "ball"]
    assert [pounds(event.fuel) for event in found.events] == pytest.approx([2000, 2000, 818, 618])
    assert found.clock and found.ball.time == pytest.approx(10 * 3600 + 35 * 60 - 27)


def test_legs_burn_what_they_say():
    legs = [
        {"name": "out", "distance_nm": 50, "airspeed_kt": 300, "altitude_ft": 20_000},
        {"name": "there", "minutes": 6, "flow_pph": 4000},
        {"name": "low", "minutes": 10, "like": "holding"},
    ]
    found = plan(scenario(fuel_lb=4000, fuel__start_lb=100, leg=legs))
    burnt = [pounds(a.fuel - b.fuel) for a, b in pairwise(found.events)]
    out = 0.3 * 50 / 300 * 3600 / POUND
    low = 0.295 * 600 / POUND
    assert burnt == pytest.approx([100, out, 400, low, 0, 200])
    assert not found.clock


def test_climbs_between_legs_are_counted():
    legs = [{"name": "up there", "minutes": 10, "altitude_ft": 20_000}]
    real = plan(scenario(table=False, fuel_lb=4000, leg=legs))
    burnt = real.events[0].fuel - real.events[1].fuel
    # 4.2 minutes and 204 kg up to 20,000 ft, the rest of the ten at 0.285 kg/s, listed at 5,783 kg:
    # lighter by some 3 % after the climb, and lift is a third of the drag there
    assert burnt == pytest.approx(204 + 0.285 * (600 - 4.2 * 60), rel=0.03)


def test_coming_too_late_is_told_and_the_ball_moves():
    found = plan(scenario(fuel_lb=4000, time="10:00", recovery__time="10:02"))
    assert found.late == pytest.approx(180.0 + 27.0)
    assert found.ball.time == 10 * 3600 + 300


def test_the_ladder_starts_with_a_flight_where_no_launch_is_told():
    flight = [{"name": "Larch", "fuel_lb": 2000, "at": "10:10"}]
    found = plan(scenario(flight=flight, recovery__time="10:35"))
    assert [event.name for event in found.events] == ["now", "leave the stack", "ball"]
    assert pounds(found.ball.fuel) == pytest.approx(2000 - (25 * 60 - 27) / 3600 * 2400)
    with pytest.raises(InputError, match="--fuel-lb"):
        plan(scenario())


def test_looks_before_bingo_are_counted_to_the_last_that_keeps_it():
    found = plan(scenario(fuel_lb=2400))
    step, least = found.burn.trip, found.least
    assert pounds(step) == pytest.approx(200)
    after = [look.after for look in found.looks]
    assert found.possible == sum(one >= least for one in after) == sum(look.within for look in found.looks)
    assert not found.looks[-1].within
    assert [a - b for a, b in pairwise(after)] == pytest.approx([step] * (len(after) - 1))
    assert [look.then for look in found.looks if look.within][-1] == "divert"


def test_the_last_moment_of_a_first_ball_leaves_one_look():
    found = plan(scenario(fuel_lb=2400))
    left = found.ball.fuel - (found.latest - found.ball.time) * found.burn.holding
    assert left - found.burn.look == pytest.approx(found.least)
    assert found.burn.looks(left, found.least) == 1
    assert found.burn.looks(left - 1.0, found.least) == 0


def test_too_little_for_the_looks_wanted_says_how_much():
    found = plan(scenario(fuel_lb=1600, fuel__looks=4))
    assert found.short > 0.0
    more = plan(scenario(fuel_lb=1600 + pounds(found.short) + 0.1, fuel__looks=4))
    assert (more.short, more.possible) == (0.0, 4)
    assert found.possible < 4


def test_too_heavy_says_how_much_must_go_and_how_long_that_takes():
    found = plan(scenario(fuel_lb=3000))
    assert pounds(found.too_heavy) == pytest.approx(300)
    assert found.burn_off == pytest.approx(300 / 2400 * 3600)
    assert [look.too_heavy > 0 for look in found.looks][:3] == [True, True, False]


def test_going_to_the_tanker_keeps_the_field_in_reach():
    tanker = {
        "tanker__give_lb": 1000,
        "tanker__minutes": 10,
        "tanker__distance_nm": 0,
        "tanker__altitude_ft": 0,
    }
    found = plan(scenario(fuel_lb=2600, **tanker))
    assert pounds(found.tanking.cost) == pytest.approx(400)
    assert found.tanking.leave_with == pytest.approx(found.least + found.tanking.cost)
    # 1,000 lb over the least, 200 inbound and one look's own: four trips of 200 lb do not all fit
    assert found.tanking.looks == 1 + int((800 * POUND - found.burn.look) // found.burn.trip)
    last = [look for look in found.looks if look.within][-1]
    assert last.then == ("tank" if last.after >= found.tanking.leave_with else "divert")


def test_each_flight_waits_its_turn():
    flights = [{"name": "A", "count": 2, "fuel_lb": 2000}, {"name": "B", "count": 3, "fuel_lb": 2000}]
    found = plan(scenario(flight=flights, time="10:00", recovery__time="10:30", recovery__interval_s=60))
    assert [one.ball - 37800 for one in found.flights] == pytest.approx([60 - 27, 240 - 27])
    assert [pounds(one.fuel) for one in found.flights] == pytest.approx(
        [2000 - 31 * 40 + 18, 2000 - 34 * 40 + 18]
    )


def test_a_jet_that_burns_more_by_a_share_does_so_everywhere():
    own = {"table": False, "fuel_lb": 4000, "fuel__holding_pph": None, "fuel__pattern_pph": None}
    plain, thirsty = (plan(scenario(**own, fuel__flow_pct=pct)) for pct in (100, 110))
    assert thirsty.bingo.fuel - thirsty.bingo.reserve == pytest.approx(
        1.1 * (plain.bingo.fuel - plain.bingo.reserve)
    )
    # the one that burns more comes to the ball a little lighter, and then flies on a little less
    assert thirsty.burn.trip == pytest.approx(1.1 * plain.burn.trip, rel=0.005)
    assert thirsty.burn.holding == pytest.approx(1.1 * plain.burn.holding, rel=0.005)


def test_every_listed_jet_has_tables_for_the_ladder():
    for name in ("sandlark", "stormcote"):
        assert {"climb", "cruise", "descent"} <= set(aircraft.load(name).tables["fuel"])
