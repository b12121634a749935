"""The stroke and the settle off the bow against derived numbers, and the bundled launch tables."""

from __future__ import annotations

import math

import numpy as np
import pytest
from msgspec.structs import replace

from deckward import aircraft, prediction
from deckward.foundation.units import FOOT, KNOT, POUND
from deckward.planning import launch, launch_plan, load
from deckward.planning.plan import make
from deckward.planning.pull import pull
from deckward.planning.scenario import Catapult

G = 9.80665
FOOT_POUND = POUND * G * FOOT

# Worked from v^2 / (2 L) and 2 L / v. Strokes from memory (C-13 Mod 0, 2 and 1):
# end speed kt; g and s over 249.83, 306.75 and 309.73 ft
STROKES = [
    (120, (2.55, 2.47), (2.08, 3.03), (2.06, 3.06)),
    (130, (2.99, 2.28), (2.44, 2.80), (2.42, 2.82)),
    (140, (3.47, 2.11), (2.83, 2.60), (2.80, 2.62)),
    (150, (3.99, 1.97), (3.25, 2.42), (3.22, 2.45)),
    (160, (4.54, 1.85), (3.69, 2.27), (3.66, 2.29)),
]

# Worked: deficit of load factor, its growth 1/s; greatest settle ft, when s
SETTLES = [
    (0.15, 0.125, 4.63, 2.40),
    (0.194, 0.125, 10.0, 3.10),
    (0.22, 0.125, 14.6, 3.52),
    (0.22, 0.20, 5.71, 2.20),
]


@pytest.mark.parametrize(("kt", "mod_0", "mod_2", "mod_1"), STROKES)
def test_stroke(kt, mod_0, mod_2, mod_1):
    for feet, (mean, seconds) in zip((249.83, 306.75, 309.73), (mod_0, mod_2, mod_1), strict=True):
        shot = pull(kt * KNOT, feet * FOOT, 1.0)
        assert shot.acceleration / G == pytest.approx(mean, abs=0.0051)
        assert shot.seconds == pytest.approx(seconds, abs=0.0051)


def test_energy_of_the_stroke():
    """Derived: 60,000 lb at 140 kt have 52.1 million foot-pounds."""
    shot = pull(140 * KNOT, 309.73 * FOOT, 60_000 * POUND)
    assert shot.energy / FOOT_POUND / 1e6 == pytest.approx(52.1, abs=0.05)


@pytest.mark.parametrize(("deficit", "growth", "feet", "seconds"), SETTLES)
def test_settle_in_closed_form(deficit, growth, feet, seconds):
    settle, when = launch.closed_settle(deficit, growth)
    assert settle / FOOT == pytest.approx(feet, rel=0.006)
    assert when == pytest.approx(seconds, abs=0.01)


@pytest.mark.parametrize(("deficit", "growth"), [row[:2] for row in SETTLES])
def test_settle_flown_by_small_steps(deficit, growth):
    """The same load factor, stepped through: within 2 % of the closed form."""
    step, sink, height, lowest = 0.001, 0.0, 0.0, 0.0
    for k in range(6000):
        sink += step * G * (deficit - growth * (k + 0.5) * step)
        height -= step * sink
        lowest = min(lowest, height)
    assert -lowest == pytest.approx(launch.closed_settle(deficit, growth)[0], rel=0.02)


def test_settle_of_the_model_goes_with_the_closed_form():
    """Flown off the bow with the rotation that makes the load factor grow as steadily as the closed
    form wants it, thrust equal to drag: within 2 % of it."""
    profile = aircraft.load("sandlark")
    model = prediction.model_of(profile, mass=7000.0)
    start = launch.stance(model)
    there = launch.configuration(model)
    deficit, rate = 0.12, math.radians(2.0)
    lift, drag = model.lift_and_drag(start, configuration=there)
    c = model.coefficients
    per_pressure = c.area * float(lift) + c.area * float(drag) * math.tan(start)
    speed = math.sqrt((1 - deficit) * c.mass * G / (0.5 * 1.225 * per_pressure))
    thrust = 0.5 * 1.225 * speed**2 * c.area * float(drag) / math.cos(start)
    # the nose is on its way up already, and the command leads by the lag of the loop that follows it
    pitching, lead = rate - deficit * G / speed, 2 * c.pitch_damping / c.pitch_frequency
    power = float(model.power_of(thrust))
    state = prediction.State(0.0, 0.0, 0.0, speed, 0.0, 0.0, start, 0.0, 0.0, pitching, 0.0, power, thrust)
    heights, loads, times, t, dt = [0.0], [], [], 0.0, 0.01
    while t < 6.0:
        # speed is held: power makes up for the drag that grows, as the closed form has it
        lift, drag = model.lift_and_drag(start + rate * t, configuration=there)
        pressure = 0.5 * 1.225 * (state.vx**2 + state.vz**2) * c.area
        push = pressure * float(drag) - c.mass * 4.0 * (math.hypot(state.vx, state.vz) - speed)
        push += c.mass * G * state.vz / speed
        state = state._replace(thrust=push, power=float(model.power_of(max(push, c.thrust[0]))))
        before = state.vz
        controls = prediction.Controls(state.power, start + rate * (t + lead), 0.0, prediction.ALPHA)
        state = prediction.step(model, state, controls, prediction.STILL_AIR, dt, configuration=there)
        loads.append((state.vz - before) / dt / G + 1.0)
        times.append(t)
        heights.append(state.z)
        t += dt
    settle = -min(heights)
    half = slice(0, int(np.argmin(heights)))
    growth, begun = np.polyfit(np.array(times)[half], np.array(loads)[half], 1)
    closed, _ = launch.closed_settle(1.0 - begun, growth)
    assert settle == pytest.approx(closed, rel=0.02)


@pytest.mark.parametrize("name", ["sandlark", "stormcote"])
def test_bundled_tables_hold_what_the_model_flies(name):
    """The bundled files' end airspeeds are the model's own, rounded to a knot."""
    profile = aircraft.load(name)
    table = profile.tables["launch"]
    for mass, kt in zip(table["mass_kg"], table["end_airspeed_kt"], strict=True):
        model = prediction.model_of(profile, mass=mass)
        model = launch.powered(model, launch.power_for(model, mass))
        assert launch.bounds(model)[0].airspeed / KNOT == pytest.approx(kt, abs=1.0)
    assert len(table["steps"]) >= 8


def test_wind_that_makes_up_what_the_catapult_lacks():
    """Worked by hand: a least end airspeed of 148 kt, 15 kt of margin and 145 kt off the catapult: 18 kt."""
    profile = aircraft.load("sandlark")
    bare = launch_plan.shoot(profile, mass=7000.0, margin=15 * KNOT)
    # a catapult as much slower than this jet's least as 145 kt is than 148
    end_speed = bare.least - 3 * KNOT
    catapult = Catapult((5000.0, 9000.0), (end_speed, end_speed), 91.0)
    shot = launch_plan.shoot(profile, mass=7000.0, margin=15 * KNOT, catapult=catapult)
    assert shot.wind_needed / KNOT == pytest.approx(18.0, abs=1e-6)
    assert shot.wind_for_least / KNOT == pytest.approx(3.0, abs=1e-6)


def test_end_speed_goes_with_the_root_of_the_catapults_energy():
    """Kinetic energy: 81 % of it is 90 % of the end speed."""
    profile = aircraft.load("sandlark")
    full = Catapult((5000.0, 9000.0), (75.0, 65.0), 91.0)
    less = Catapult((5000.0, 9000.0), (75.0, 65.0), 91.0, capacity=0.81)
    ends = [
        launch_plan.shoot(profile, mass=7000.0, margin=0.0, catapult=one).stroke.end_speed
        for one in (full, less)
    ]
    assert ends[0] == pytest.approx(70.0)
    assert ends[1] == pytest.approx(63.0)


def test_the_least_capacity_just_makes_the_end_airspeed_wanted():
    evening = load("lantern-evening")
    made = make(evening, ["launch"]).launch
    assert made.least_capacity < 1.0
    set_to = replace(evening.launch.catapult, capacity=made.least_capacity)
    again = make(replace(evening, launch=replace(evening.launch, catapult=set_to)), ["launch"]).launch
    course = again.course.answer.chosen
    assert again.shot.stroke.end_speed + made.course.answer.chosen.along == pytest.approx(made.shot.wanted)
    assert course.along >= again.shot.wind_needed - 1e-6
