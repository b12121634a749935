"""The approach model: pure steps, steady flight, and what it refuses."""

from __future__ import annotations

import math

import numpy as np
import pytest
from msgspec.structs import replace

from deckward import aircraft
from deckward.errors import InputError
from deckward.prediction import (
    ALPHA,
    ELEVATOR,
    PITCH,
    Air,
    Configuration,
    Controls,
    State,
    angle_of_attack,
    approach_figures,
    linear,
    linear_along,
    model_of,
    speed_curve,
    step,
    trim,
    true_airspeed,
    with_mass,
)

WITH_TABLES = [
    name for name in aircraft.bundled() if {"aerodynamics", "engine"} <= set(aircraft.load(name).tables)
]


def fly(model, state, controls, seconds, air=None, dt=0.02, **options):
    for _ in range(round(seconds / dt)):
        state = step(model, state, controls, air or Air(), dt, **options)
    return state


@pytest.fixture(scope="module")
def jet():
    return model_of(aircraft.load("sandlark"))


@pytest.mark.parametrize("name", WITH_TABLES)
def test_every_bundled_aircraft_with_tables_holds_a_glide_path(name):
    model = model_of(aircraft.load(name))
    steady = trim(model, air=Air(x=-12.0))
    end = fly(model, steady.state, steady.controls, 10.0, steady.air)
    assert end.z / end.x == pytest.approx(math.tan(steady.path), abs=1e-5)
    assert float(angle_of_attack(end, steady.air)) == pytest.approx(model.on_speed, abs=1e-5)
    assert {figure.code for figure in approach_figures(model)} == {
        "path-stability",
        "glide-slope-transfer",
        "level-acceleration",
        "wave-off-loss",
    }


def test_many_aircraft_fly_as_each_alone(jet):
    starts = [trim(jet, alpha=a).state for a in (0.12, 0.14, 0.16)]
    many = State(*(np.array(column) for column in zip(*starts, strict=True)))
    for column in many:
        column.setflags(write=False)
    power, bank = np.array([0.3, 0.5, 0.7]), np.array([0.0, 0.1, -0.2])
    together = fly(jet, many, Controls(power, 0.14, bank, ALPHA), 2.0)
    for i, start in enumerate(starts):
        alone = fly(jet, start, Controls(power[i], 0.14, bank[i], ALPHA), 2.0)
        assert [column[i] for column in together] == pytest.approx(list(alone), abs=1e-12)


def test_a_moving_frame_changes_nothing_but_the_numbers(jet):
    """The same flight seen from a ship at 10 m/s: its wind is the air's velocity against her."""
    start = trim(jet, path=0.0).state
    seen = start._replace(vx=start.vx - 10.0, vy=start.vy - 3.0)
    controls = Controls(0.7, 0.15, 0.2, ALPHA)
    earth, ship = fly(jet, start, controls, 5.0), fly(jet, seen, controls, 5.0, Air(x=-10.0, y=-3.0))
    assert ship.x + 10.0 * 5.0 == pytest.approx(earth.x, abs=1e-8)
    assert ship.y + 3.0 * 5.0 == pytest.approx(earth.y, abs=1e-8)
    assert (ship.z, ship.pitch, ship.roll) == pytest.approx((earth.z, earth.pitch, earth.roll), abs=1e-8)


def test_a_bank_turns_at_the_rate_of_the_textbook(jet):
    """Rate of turn g tan(bank) / V once the bank is steady and lift carries the weight."""
    level = trim(jet, path=0.0, true_airspeed=75.0)
    bank = math.radians(20.0)
    turning = trim(with_mass(jet, jet.mass / math.cos(bank)), path=0.0, true_airspeed=75.0)
    controls = Controls(turning.power, turning.alpha, bank, ALPHA)
    start = level.state._replace(roll=bank)
    first = fly(jet, start, controls, 6.0)
    last = fly(jet, first, controls, 2.0)
    course = math.atan2(last.vy, last.vx) - math.atan2(first.vy, first.vx)
    speed = float(true_airspeed(last))
    assert course / 2.0 == pytest.approx(9.80665 * math.tan(bank) / speed, rel=0.03)


def test_the_steps_error_falls_as_the_step_shrinks(jet):
    start = trim(jet).state
    controls = Controls(0.6, 0.10, 0.1, ALPHA)
    fine = fly(jet, start, controls, 5.0, dt=0.0025)
    coarse, half = (abs(fly(jet, start, controls, 5.0, dt=dt).z - fine.z) for dt in (0.04, 0.02))
    assert half < 0.6 * coarse
    assert half < 0.03


def test_pitch_attitude_is_held(jet):
    start = trim(jet)
    end = fly(jet, start.state, Controls(start.power, start.pitch + 0.05, 0.0, PITCH), 6.0)
    assert end.pitch == pytest.approx(start.pitch + 0.05, abs=1e-3)


def test_power_rises_no_quicker_than_the_engine_can(jet):
    start = trim(jet).state._replace(power=0.0, thrust=float(jet.thrust_of(0.0)))
    state = fly(jet, start, Controls(1.0, 0.14), 0.5)
    # 0.22 of the range a second at idle, in the aircraft's file
    assert state.power == pytest.approx(0.11, abs=0.005)
    assert state.thrust == pytest.approx(float(jet.thrust_of(state.power)), rel=1e-9)


def test_thrust_lags_behind_power_where_the_profile_says_so():
    profile = aircraft.load("sandlark")
    engine = {"power": (0.0, 1.0), "thrust_n": (0.0, 40_000.0), "lag_s": 0.8}
    model = model_of(replace(profile, tables={**profile.tables, "engine": engine}))
    start = trim(model).state._replace(power=0.0, thrust=0.0)
    state = fly(model, start, Controls(1.0, 0.14), 0.8, dt=0.005)
    assert state.thrust / 40_000.0 == pytest.approx(1 - math.exp(-1), abs=0.005)


def test_an_updraught_lifts_and_a_tail_gust_sinks(jet):
    steady = trim(jet)
    controls = Controls(steady.power, steady.elevator, 0.0, ELEVATOR)
    still = fly(jet, steady.state, controls, 3.0)
    assert fly(jet, steady.state, controls, 3.0, Air(z=1.0)).z > still.z + 0.5
    assert fly(jet, steady.state, controls, 3.0, Air(x=2.0)).z < still.z - 0.3


def test_air_from_the_side_turns_the_nose_into_it_and_drifts(jet):
    steady = trim(jet)
    end = fly(jet, steady.state, steady.controls, 4.0, Air(y=-5.0))
    assert end.heading > 0.03
    assert end.y < -1.0


def test_gear_up_and_speed_brake_change_drag(jet):
    out = trim(jet, path=0.0).thrust
    assert trim(jet, path=0.0, configuration=Configuration(gear=0.0)).thrust < out - 500
    assert trim(jet, path=0.0, configuration=Configuration(speed_brake=1.0)).thrust > out + 500
    clean = trim(jet, path=0.0, configuration=Configuration(gear=0.0, flaps=0.0))
    assert clean.true_airspeed > trim(jet, path=0.0).true_airspeed * 1.2


def test_blown_flaps_lose_lift_at_low_power():
    model = model_of(aircraft.load("stormcote"))
    high, low = (float(model.lift_and_drag(model.on_speed, power=p)[0]) for p in (0.5, 0.2))
    assert high - low == pytest.approx(0.15)


def test_the_linear_model_foretells_small_changes(jet):
    steady = trim(jet, air=Air(x=-12.0))
    small = linear(jet, steady)
    change = {"power": 0.02, "nose": -0.005, "air_x": 0.3, "air_z": -0.2}
    inputs = np.array([change.get(name, 0.0) for name in small.inputs])
    states = np.zeros(len(small.states))
    dt, seconds = 0.005, 4.0
    for _ in range(round(seconds / dt)):
        states = states + dt * (
            small.a @ (states + 0.5 * dt * (small.a @ states + small.b @ inputs)) + small.b @ inputs
        )
    air = steady.air._replace(x=steady.air.x + 0.3, z=-0.2)
    power = steady.power + 0.02
    start = steady.state._replace(power=power, thrust=float(jet.thrust_of(power)))
    end = fly(jet, start, Controls(power, steady.elevator - 0.005, 0.0, ELEVATOR), seconds, air, dt)
    foretold = dict(zip(small.states, states, strict=True))
    assert foretold["z"] == pytest.approx(end.z - steady.state.vz * seconds, rel=0.05)
    assert foretold["vz"] == pytest.approx(end.vz - steady.state.vz, rel=0.05)
    assert foretold["pitch"] == pytest.approx(end.pitch - steady.pitch, rel=0.05)


@pytest.mark.parametrize("hold", [PITCH, ALPHA])
def test_with_the_nose_held_the_pitch_motion_is_left_out(jet, hold):
    small = linear(jet, trim(jet), hold=hold)
    assert "pitch" not in small.states
    vz, nose = small.states.index("vz"), small.inputs.index("nose")
    assert small.b[vz, nose] > 0.0
    if hold == ALPHA:
        # the nose follows the air: an updraught only carries, it does not push
        assert (
            small.b[vz, small.inputs.index("air_z")]
            < 0.1 * linear(jet, trim(jet), hold=PITCH).b[vz, small.inputs.index("air_z")]
        )


def test_thrust_required_has_its_least_where_the_path_slope_turns(jet):
    curve = speed_curve(jet, np.arange(56.0, 90.0, 1.0))
    least = curve.true_airspeed[np.argmin(curve.thrust)]
    turn = np.interp(0.0, -curve.path_slope, curve.true_airspeed)
    assert turn == pytest.approx(least, abs=2.0)


def test_no_tables_no_model():
    with pytest.raises(InputError, match=r"no \[aerodynamics\] table"):
        model_of(aircraft.load("generic-jet"))


def test_elevator_needs_pitch_derivatives(jet):
    profile = jet.profile
    aero = {k: v for k, v in profile.tables["aerodynamics"].items() if k != "derivatives"}
    bare = model_of(replace(profile, tables={**profile.tables, "aerodynamics": aero}))
    start = trim(bare)
    fly(bare, start.state, start.controls, 0.1)
    with pytest.raises(InputError, match="pitch_per_elevator"):
        step(bare, start.state, Controls(0.5, 0.0, 0.0, ELEVATOR))


def test_a_mass_that_no_thrust_holds_is_refused(jet):
    with pytest.raises(InputError, match="no power"):
        trim(with_mass(jet, 12_000.0), path=0.6)


def test_a_speed_below_the_stall_is_refused(jet):
    with pytest.raises(InputError, match="no angle of attack"):
        trim(jet, path=0.0, true_airspeed=40.0)


def test_slopes_along_a_flight_give_the_whole_model_far_from_the_trim(jet):
    """Twelve knots slow, two degrees up, a gust: rates by slopes against the model's own step.

    The model is asked by a step so short that nothing but its rates is in it.
    """
    steady = trim(jet, air=Air(x=-12.0))
    slow, sink, pull, gust = -6.0, -0.8, math.radians(2.0), 1.5
    vx, vz = steady.state.vx + slow, steady.state.vz + sink
    air = steady.air._replace(z=gust)
    alpha = steady.alpha + pull
    pitch = math.atan2(vz - gust, vx - air.x) + alpha

    def rates(vx, vz, pitch, alpha, air):
        dt = 1e-5
        state = steady.state._replace(vx=vx, vz=vz, pitch=pitch)
        moved = step(jet, state, steady.controls._replace(nose=alpha), air, dt)
        return (moved.vx - vx) / dt, (moved.vz - vz) / dt

    there = rates(vx, vz, pitch, alpha, air)
    here = rates(steady.state.vx, steady.state.vz, steady.pitch, steady.alpha, steady.air)
    names = ("vx", "vz", "nose", "air_z")
    flown = {name: np.array([value]) for name, value in zip(names, (vx, vz, alpha, gust), strict=True)}
    slopes = linear_along(jet, steady, flown, names=names, hold=ALPHA)[0]
    small = linear(jet, steady, hold=ALPHA)
    changes = np.array([slow, sink, pull, gust])
    rows = [small.states.index(name) for name in ("vx", "vz")]
    told = slopes[rows] @ changes
    wanted = np.subtract(there, here)
    assert told == pytest.approx(wanted, rel=0.02, abs=0.02)
    # small changes alone would not do
    columns = [small.a[rows][:, [small.states.index(name) for name in ("vx", "vz")]],
               small.b[rows][:, [small.inputs.index(name) for name in ("nose", "air_z")]]]  # fmt: skip
    assert not np.allclose(np.concatenate(columns, axis=1) @ changes, wanted, rtol=0.05, atol=0.02)
