"""Round again by instruments, flown over the sea by a jet that knows only headings and times."""

from __future__ import annotations

import math

import numpy as np
import pytest

from deckward import aircraft, planning, site
from deckward.errors import InputError
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE
from deckward.planning import again_night, inbound, marshal, pattern
from deckward.planning.plan import make
from deckward.planning.steaming import Steaming
from support.wishes import aim_at

G = 9.80665
SHIP = site.load("wintermere")
#: course deg, ship kt, wind from deg, kt
WINDS = {
    "calm, ship stopped": (0.0, 0.0, 0.0, 0.0),
    "down the deck": (251.1, 18.7, 225.0, 10.0),
    "from the right": (10.0, 15.0, 60.0, 20.0),
    "strong": (355.0, 8.0, 350.0, 35.0),
}


def given(wind) -> inbound.Descent:
    course, ship, wind_from, kt = wind
    there = Steaming(course * DEGREE, ship * KNOT, wind_from * DEGREE, kt * KNOT, SHIP.angle)
    return inbound.Descent(
        there, pattern.Trimmed(128 * KNOT, 8 * DEGREE), aim_at(SHIP, aircraft.load("sandlark"))
    )


def vector(angle: float) -> np.ndarray:
    return np.array([math.cos(angle), math.sin(angle)])


@pytest.mark.parametrize("turn_in", [6.0, 10.0])
@pytest.mark.parametrize("wind", WINDS.values(), ids=WINDS)
def test_flown_by_headings_and_times_it_is_back_on_the_final_bearing(wind, turn_in):
    """North and east over the sea; the ship sails on. Rolls at 10 deg/s, as by day."""
    descent = given(wind)
    there = descent.steaming
    way_in = descent.approach(marshal.stack(1, steaming=there)[0])
    found = again_night.circuit(descent, way_in, turn_in=turn_in * NAUTICAL_MILE)
    airspeed = descent.on_speed_at(1200 * FOOT)
    bearing = there.course - there.angle
    air = -there.wind_speed * vector(there.wind_from)
    sail = there.speed * vector(there.course)
    # from the touchdown, where the hook's target carries it: straight up the line until level
    climb = found.straight - (way_in.gate("touchdown").time - way_in.gate("ball").time)
    across = float((air - sail) @ vector(bearing + math.pi / 2))
    heading = bearing - math.asin(across / airspeed)
    place = descent.aim.ahead * vector(bearing)
    time = 0.0

    def straight(seconds):
        nonlocal place, time
        place = place + seconds * (airspeed * vector(heading) + air)
        time += seconds

    def left(bank, seconds, step=0.05):
        nonlocal place, time, heading
        for k in range(round(seconds / step)):
            now = (k + 0.5) * step
            banked = min(bank, 10 * DEGREE * min(now, seconds - now))
            heading -= G * math.tan(banked) / airspeed * step
            place = place + step * (airspeed * vector(heading) + air)
            time += step

    straight(climb)
    left(found.bank, found.turn)
    assert math.cos(heading - found.downwind_heading) > math.cos(0.5 * DEGREE)
    straight(found.downwind)
    left(found.bank_in, found.turn_back)
    rest = place - time * sail
    assert float(rest @ vector(bearing + math.pi / 2)) == pytest.approx(0.0, abs=60.0)
    assert -float(rest @ vector(bearing)) == pytest.approx(turn_in * NAUTICAL_MILE, abs=120.0)


def test_the_standard_rate_is_three_degrees_a_second():
    """From memory: 3 deg/s; tan(bank) = V rate / g, 19.1 deg at 126 kt."""
    descent = given(WINDS["calm, ship stopped"])
    way_in = descent.approach(marshal.stack(1, steaming=descent.steaming)[0])
    found = again_night.circuit(descent, way_in, turn_in=6 * NAUTICAL_MILE)
    airspeed = descent.on_speed_at(1200 * FOOT)
    assert math.tan(found.bank) == pytest.approx(airspeed * 3 * DEGREE / G)
    assert found.bank_in == pytest.approx(found.bank, abs=0.1 * DEGREE)
    # in a calm the two turns lie a diameter apart, and rolling in and out a little more
    assert found.abeam == pytest.approx(2 * airspeed / (3 * DEGREE), rel=0.15)
    # ball to touchdown, up to 1,200 ft at 1,500 ft/min, two turns, downwind and back: by hand
    by_hand = (
        found.straight + found.turn + found.turn_back
        + (descent.aim.ahead + 6 * NAUTICAL_MILE) / airspeed
        + (found.straight - 27.0) + 5.25 * NAUTICAL_MILE / airspeed
    )  # fmt: skip
    assert found.trip == pytest.approx(by_hand, rel=0.03)


def test_a_longer_way_is_longer_and_where_to_turn_in_may_be_told():
    dark = planning.load("lantern-evening", typed={"weather.night": True, "marshal.turn_in_nm": 8})
    night = make(dark, ["marshal"]).marshal
    assert [round(one.turn_in / NAUTICAL_MILE, 6) for one in night.circuits] == [8.0, 10.0]
    assert night.circuits[0].trip < night.circuits[1].trip


def test_a_crosswind_that_no_bank_takes_out_is_said():
    descent = given((0.0, 0.0, 90.0, 55.0))
    way_in = descent.approach(marshal.stack(1, steaming=descent.steaming)[0])
    found = again_night.circuit(descent, way_in, turn_in=6 * NAUTICAL_MILE)
    assert (found.notes == ()) == (again_night.FLATTEST < found.bank_in < again_night.STEEPEST)


def test_wind_as_fast_as_the_jet_is_refused():
    descent = given((0.0, 0.0, 90.0, 5.0))
    way_in = descent.approach(marshal.stack(1, steaming=descent.steaming)[0])
    gale = given((0.0, 0.0, 0.0, 140.0))
    with pytest.raises(InputError, match="no way round"):
        again_night.circuit(gale, way_in, turn_in=6 * NAUTICAL_MILE)
