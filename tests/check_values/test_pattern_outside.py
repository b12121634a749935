"""The planned day pattern flown by jets of the open flight dynamics library, not by a model of ours.

A steady hand: bank by the planned times, nose for the angle of attack, power for height.
Nothing steers to the ship after downwind.
"""

from __future__ import annotations

import math

import fly_jet
import numpy as np
import pytest
from fly_ship import STEP

from deckward import site
from deckward.environment import airspeed, atmosphere
from deckward.foundation import earth
from deckward.foundation.units import DEGREE, FOOT, KNOT
from deckward.planning import approach, pattern
from deckward.planning.steaming import Steaming
from support.wishes import wanted

SHIP = site.load("wintermere")
#: how late the bank of these jets follows the stick, s: the hand moves so much before the plan's time
LEAD = 0.8
#: rudder for a radian of sideslip
FEET = {"A4": 5.0, "F4N": 1.2}
LATITUDE, LONGITUDE = 30.0, -40.0
SETTLING = 15.0
G = 9.80665
# course deg, ship kt, wind from deg, kt
WINDS = {
    "calm, ship stopped": (40.0, 0.0, 45.0, 0.0),
    "wind down the deck": (251.1, 18.7, 225.0, 10.0),
    "strong and ahead": (355.0, 8.0, 350.0, 25.0),
}


def level_trim(kind: fly_jet.JetType) -> tuple[float, float, float]:
    """Throttle, elevator and true airspeed in level flight on speed at 600 ft."""
    low, high = kind.approach_kt - 25, kind.approach_kt + 30
    for _ in range(30):
        jet = fly_jet.Jet(kind, (0.0, 0.0))
        f = jet.fdm
        f["ic/h-sl-ft"], f["ic/vc-kts"], f["ic/gamma-deg"] = 600.0, 0.5 * (low + high), 0.0
        f.run_ic()
        f["propulsion/set-running"] = -1
        f["simulation/do_simple_trim"] = 0
        low, high = (
            (0.5 * (low + high), high) if f["aero/alpha-deg"] > kind.on_speed else (low, 0.5 * (low + high))
        )
    elevator = f["fcs/elevator-cmd-norm"] + f["fcs/pitch-trim-cmd-norm"]
    return f["fcs/throttle-cmd-norm"], elevator, f["velocities/vt-fps"] * FOOT


class Hand:
    """Loops from state to throttle, elevator, aileron and rudder."""

    def __init__(self, kind, throttle, elevator):
        self.kind, self.trim = kind, (throttle, elevator)
        self.throttle, self.elevator = throttle, elevator
        self.alpha_sum = self.bank_sum = self.slip_sum = 0.0

    def commands(self, s, bank, height, climb, speed):
        kind = self.kind
        push = 0.14 * (height - s["height"]) + 1.06 * (climb - s["climb"]) + 1.05 * (speed - s["speed"])
        # more bank takes more thrust before anything shows it
        share = (push / G + 0.2 * (1 / math.cos(s["roll"]) - 1)) / kind.thrust_to_weight
        want = min(max(self.trim[0] + 0.8 * share, 0.0), 1.0)
        self.throttle += max(-1.2 * STEP, min(1.2 * STEP, want - self.throttle))
        error = kind.on_speed * DEGREE - s["alpha"]
        self.alpha_sum = max(-0.15, min(0.15, self.alpha_sum + error * STEP))
        want = self.trim[1] - kind.elevator_gain * error - 4.0 * self.alpha_sum + kind.rate_gain * s["q"]
        self.elevator += max(-3 * STEP, min(3 * STEP, max(-1.0, min(1.0, want)) - self.elevator))
        miss = bank - s["roll"]
        if abs(miss) < 3.0 * DEGREE:
            self.bank_sum += miss * STEP
        aileron = max(-1.0, min(1.0, 3.0 * miss + 1.2 * self.bank_sum - 1.6 * s["p"]))
        # feet: the ball in the middle
        self.slip_sum -= s["beta"] * STEP
        rudder = max(-1.0, min(1.0, FEET[kind.model] * (2.4 * self.slip_sum - s["beta"])))
        return self.throttle, self.elevator, aileron, rudder


def read(jet) -> dict[str, float]:
    raw = jet.read()
    return {
        "height": raw[5] * FOOT,
        "climb": -raw[8] * FOOT,
        "roll": raw[9],
        "heading": raw[11],
        "p": raw[12],
        "q": raw[13],
        "beta": raw[24],
        "alpha": raw[15],
        "speed": raw[16] * FOOT,
        "place": earth.to_ned(np.array(raw[0:3]) * FOOT, *ORIGIN),
    }


ORIGIN = (math.radians(LATITUDE), math.radians(LONGITUDE), 0.0)


def fly(kind, plan: pattern.Pattern, there: Steaming, trimmed):
    """Fly from before abeam to the planned roll-out; place on the ship then, and the state."""
    throttle, elevator, _ = trimmed
    path, start = plan.path, min(plan.time_to_turn, 0.0) - SETTLING
    turn, level = plan.checkpoint("turn").time, plan.checkpoint("groove").time
    landing, course = there.landing_heading, there.course
    wind = fly_jet.wind_vector(math.degrees(there.wind_from), there.wind_speed / KNOT)
    ahead, right = (float(np.interp(start, path.time, v)) for v in (path.ahead, path.right))
    north = ahead * math.cos(landing) - right * math.sin(landing)
    east = ahead * math.sin(landing) + right * math.cos(landing)
    latitude, longitude, _ = earth.ecef_to_geodetic(earth.from_ned(np.array([north, east, 0.0]), *ORIGIN))
    heading, speed = plan.downwind_heading, plan.downwind_airspeed
    jet = fly_jet.Jet(kind, wind)
    jet.place(
        latitude=math.degrees(float(latitude)),
        longitude=math.degrees(float(longitude)),
        height=float(path.height[0]),
        velocity=(speed * math.cos(heading) + wind[0], speed * math.sin(heading) + wind[1], 0.0),
        attitude=(heading, kind.on_speed * DEGREE, 0.0),
        throttle=throttle,
    )
    hand, time = Hand(kind, throttle, elevator), start
    while time < level:
        s = read(jet)
        height, sink, wanted_speed = (
            float(np.interp(time, path.time, v)) for v in (path.height, path.sink, path.airspeed)
        )
        rolling = min(time + LEAD - turn, level - time - LEAD) * 10 * DEGREE
        bank = -min(max(rolling, 0.0), plan.bank)
        if time < turn - LEAD:
            bank = 1.2 * math.remainder(heading - s["heading"], 2 * math.pi)
        jet.command(*hand.commands(s, bank, height, -sink, wanted_speed))
        jet.step()
        time += STEP
    s = read(jet)
    sailed = there.speed * (time - start)
    north, east = s["place"][0] - sailed * math.cos(course), s["place"][1] - sailed * math.sin(course)
    return (
        north * math.cos(landing) + east * math.sin(landing),
        east * math.cos(landing) - north * math.sin(landing),
        s,
    )


@pytest.mark.parametrize("model", ["A4", "F4N"])
@pytest.mark.parametrize("wind", WINDS.values(), ids=WINDS)
def test_the_librarys_jets_roll_out_in_the_groove(model, wind):
    kind = fly_jet.TYPES[model]
    trimmed = level_trim(kind)
    course, ship_kt, wind_from, wind_kt = wind
    there = Steaming(course * DEGREE, ship_kt * KNOT, wind_from * DEGREE, wind_kt * KNOT, SHIP.angle)
    density = atmosphere.standard(600 * FOOT).density
    equivalent = float(airspeed.equivalent_from_true(trimmed[2], density=density))
    aim = approach.Aim(ahead=74.0, height=21.0, angle=3.5 * DEGREE)
    plan = pattern.solve(
        wanted(), steaming=there, on_speed=pattern.Trimmed(equivalent, kind.on_speed * DEGREE), aim=aim
    )
    ahead, right, s = fly(kind, plan, there, trimmed)
    assert abs(right) < 30.0
    assert (aim.ahead - ahead) / plan.groove.closure == pytest.approx(plan.groove.seconds, abs=1.0)
    assert s["height"] == pytest.approx(plan.groove.height, abs=30 * FOOT)
