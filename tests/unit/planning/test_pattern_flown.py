"""The planned day pattern, flown by the approach model from abeam with the planned bank."""

from __future__ import annotations

import math

import numpy as np
import pytest

from deckward import aircraft, prediction, site
from deckward.environment import atmosphere
from deckward.foundation.units import DEGREE, KNOT
from deckward.planning import pattern
from deckward.planning.steaming import Steaming
from support.wishes import aim_at, wanted

SHIP = site.load("wintermere")
G = 9.80665
# course deg, ship kt, wind from deg, kt
WINDS = {
    "calm, ship stopped": (40.0, 0.0, 45.0, 0.0),
    "light wind, ship makes it": (40.0, 25.0, 300.0, 3.0),
    "wind down the deck": (251.1, 18.7, 225.0, 10.0),
    "strong and ahead": (355.0, 8.0, 350.0, 30.0),
    "from the right": (10.0, 15.0, 60.0, 20.0),
    "from astern": (200.0, 20.0, 20.0, 8.0),
}


def air_at(there: Steaming, height: float) -> prediction.Air:
    density = float(atmosphere.standard(height).density)
    return prediction.Air(float(there.air[0]), float(there.air[1]), 0.0, density)


def fly(model, plan: pattern.Pattern, there: Steaming, step=0.05):
    """Bank by the planned times, angle of attack held on speed, power holding the planned heights.

    The bank follows its command a little late, so the command leads by that much; nothing
    steers to the ship.
    """
    c, path = model.coefficients, plan.path
    lead = 2 * c.roll_damping / c.roll_frequency
    turn, level = plan.checkpoint("turn").time, plan.checkpoint("groove").time
    time = min(0.0, turn - 2.0)
    begin = prediction.trim(
        model, path=0.0, air=prediction.Air(density=air_at(there, path.height[0]).density)
    )
    heading, ahead, right = (
        float(np.interp(time, path.time, v)) for v in (path.heading, path.ahead, path.right)
    )
    state = begin.state._replace(
        x=ahead,
        y=right,
        z=float(path.height[0]),
        vx=begin.true_airspeed * math.cos(heading) + there.air[0],
        vy=begin.true_airspeed * math.sin(heading) + there.air[1],
        heading=heading,
    )
    _, drag = model.lift_and_drag(model.on_speed)
    while time < level - 1e-9:
        air = air_at(there, state.z)
        speed = float(prediction.true_airspeed(state, air))
        height, sink, wanted_speed = (
            float(np.interp(time, path.time, v)) for v in (path.height, path.sink, path.airspeed)
        )
        push = 0.14 * (height - state.z) - 1.06 * (sink + state.vz) + 1.05 * (wanted_speed - speed)
        resistance = 0.5 * air.density * speed**2 * c.area * float(drag)
        thrust = resistance + c.mass * (G * state.vz / speed + push)
        thrust = min(max(thrust, c.thrust[0]), c.thrust[-1])
        rolling = min(time + lead - turn, level - time - lead) * 10 * DEGREE
        bank = -min(max(rolling, 0.0), plan.bank)
        controls = prediction.Controls(float(model.power_of(thrust)), model.on_speed, bank)
        state = prediction.step(model, state, controls, air, step)
        time += step
    return state


@pytest.mark.parametrize("wind", WINDS.values(), ids=WINDS)
@pytest.mark.parametrize(("name", "mass"), [("sandlark", 5783.0), ("stormcote", 15_000.0)])
def test_roll_out_lands_in_the_groove(name, mass, wind):
    profile = aircraft.load(name)
    model = prediction.model_of(profile, mass=mass)
    course, ship_kt, wind_from, wind_kt = wind
    there = Steaming(course * DEGREE, ship_kt * KNOT, wind_from * DEGREE, wind_kt * KNOT, SHIP.angle)
    level = prediction.trim(model, path=0.0).true_airspeed
    aim = aim_at(SHIP, profile)
    plan = pattern.solve(wanted(), steaming=there, on_speed=pattern.Trimmed(level, profile.on_speed), aim=aim)
    end = fly(model, plan, there)
    assert abs(end.y) < 30.0
    assert (aim.ahead - end.x) / plan.groove.closure == pytest.approx(plan.groove.seconds, abs=1.0)
    assert end.z == pytest.approx(plan.groove.height, abs=6.0)
    assert abs(end.heading - plan.groove.heading) < 2.5 * DEGREE
