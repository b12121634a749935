"""Many passes at once by the project's own approach model: other equations, the same pilot.

All flights go on together, (n,) each, with the pilots of ``fly_many_pilot``. What was flown becomes a
``Flight`` like the library's, so that the truth is worked out by the same code.
"""

from __future__ import annotations

import math

import numpy as np
from fly import SETTLE, start_state
from fly_geometry import G0, euler_angles, euler_matrix, local_axes, to_earth_centred, to_geodetic
from fly_jet import wind_vector
from fly_many_deck import FLIP, contact, on_deck, over_the_ramp_too_low
from fly_many_pilot import FINAL, STEP, Crew
from fly_pilot import Turbulence
from fly_plan import Flight
from fly_ship import STEP as FINE
from fly_ship import sail

from deckward import prediction

LOGGED = ("x", "y", "z", "pitch", "roll", "heading", "alpha", "airspeed", "throttle", "power")


def fly_many(jet, plans, faults, events, seed):
    """Fly plans of one jet, all from the same kind of start; yields their flights, in order."""
    crew = Crew(jet, plans, faults, seed)
    first = [sail(plan.ship, plan.site, -SETTLE, 1.0) for plan in plans]
    begins = [
        start_state(plan, ship, 0, crew.steady.power, crew.steady.true_airspeed)
        for plan, ship in zip(plans, first, strict=True)
    ]
    state, wind, ramp_height = _begin(crew, first, begins)
    seconds = SETTLE + (75.0 if plans[0].start == "final" else 190.0)
    steps = round(seconds / STEP)
    log = np.empty((steps, len(LOGGED), crew.n), dtype=np.float32 if crew.n > 400 else float)
    ended, waved = np.full(crew.n, steps), np.full(crew.n, np.nan)
    gusts, gust_rng = np.zeros((3, crew.n)), np.random.default_rng([seed, 1])
    ship_forward = np.cos(crew.angle), np.sin(crew.angle)
    eye = np.array(crew.kind.points["eye"])
    for i in range(steps):
        t = i * STEP - SETTLE
        gusts, blown = _gusts(crew, gusts, gust_rng, events, t)
        cos, sin = np.cos(state.heading), np.sin(state.heading)
        air = prediction.Air(
            x=wind[0] + blown[0] * cos - blown[1] * sin,
            y=wind[1] + blown[0] * sin + blown[1] * cos,
            z=blown[2],
        )
        alpha, airspeed = prediction.angle_of_attack(state, air), prediction.true_airspeed(state, air)
        cp, sp = np.cos(state.pitch), np.sin(state.pitch)
        s = {
            "range": -state.x, "side": state.y, "closure": state.vx, "side_rate": state.vy, "climb": state.vz,
            "closure_total": np.hypot(state.vx, state.vy), "course_error": np.arctan2(state.vy, state.vx),
            "course_to_go": (-state.heading + math.pi) % (2 * math.pi) - math.pi,
            "downwind_error": (crew.angle - state.heading + 2 * math.pi) % (2 * math.pi) - math.pi,
            "abeam_passed": state.x * ship_forward[0] + state.y * ship_forward[1] < 0.0,
            "altitude": state.z + ramp_height, "airspeed": airspeed, "alpha": alpha, "pitch": state.pitch,
            "eye_x": state.x + (eye[0] * cp + eye[2] * sp) * cos,
            "eye_z": state.z + eye[0] * sp - eye[2] * cp * np.cos(state.roll),
        }  # fmt: skip
        goes = (s["range"] < crew.wave_at) & np.isnan(waved) & (crew.phase == FINAL) & (t > 0)
        waved = np.where(goes, t, waved)
        crew.climbing |= goes
        throttle, target, bank = crew.fly(t, s)
        log[i] = (
            state.x, state.y, state.z, state.pitch, state.roll, state.heading, alpha, airspeed, throttle,
            state.power,
        )  # fmt: skip
        over = (state.x > 260.0) & (crew.phase == FINAL) & np.isnan(waved) | (t > waved + 7.0)
        ended = np.where((over | (s["altitude"] < 1.0)) & (ended == steps), i, ended)
        if (ended < steps).all():
            break
        state = prediction.step(crew.model, state, prediction.Controls(throttle, target, bank), air, STEP)
    log = log[: i + 1]
    for k in range(crew.n):
        yield _flight(crew, k, np.asarray(log[: min(ended[k], i + 1), :, k], dtype=float), waved[k])


def _begin(crew, ships, begins):
    """States of all flights at the start, wind over deck (2, n), height of the ramp over the sea (n,)."""
    rows, winds, heights = [], [], []
    for plan, ship, begin, angle in zip(crew.plans, ships, begins, crew.angle, strict=True):
        at = to_earth_centred(begin["latitude"], begin["longitude"], begin["height"])
        place = ship.level[0].T @ (at - ship.steady_ramp[0])
        heading = float(ship.heading[0]) - angle
        c, s = math.cos(heading), math.sin(heading)
        sails = np.array([math.cos(ship.heading[0]), math.sin(ship.heading[0])]) * plan.ship.speed_kt
        sails = sails * 1852.0 / 3600.0
        north, east, down = begin["velocity"]
        moves = np.array([north, east]) - sails
        air = np.array(wind_vector(plan.wind_from, plan.wind_kt)) - sails
        turn = np.array([[c, s], [-s, c]])
        yaw = (begin["attitude"][0] - heading + math.pi) % (2 * math.pi) - math.pi
        rows.append((*place, *(turn @ moves), -down, begin["attitude"][1], 0.0, yaw, 0.0, 0.0,
                     crew.steady.power, crew.steady.thrust))  # fmt: skip
        winds.append(turn @ air)
        heights.append(float(to_geodetic(ship.steady_ramp[0])[2]))
    return prediction.State(*np.array(rows).T), np.array(winds).T, np.array(heights)


def _gusts(crew, gusts, rng, events, t):
    """The gusts' own states (3, n), and the moving air along, across and up of the nose."""
    for axis in range(3):
        a = math.exp(-STEP * crew.steady.true_airspeed / Turbulence.LENGTH[axis])
        noise = rng.standard_normal(crew.n)
        gusts[axis] = a * gusts[axis] + Turbulence.RMS[axis] * crew.gusty * math.sqrt(1 - a * a) * noise
    blown = gusts.copy()
    for k, event in enumerate(events):
        if event is not None and 0.0 <= t - event[0] < event[1]:
            blown[:, k] += np.array(event[2:]) * math.sin(math.pi * (t - event[0]) / event[1]) ** 2
    return gusts, blown


def _flight(crew, k, log, waved):
    """What was flown as a flight, with the deck's part."""
    plan, n = crew.plans[k], 2 * log.shape[0] - 1
    flown = {
        name: np.interp(np.arange(n) / 2, np.arange(log.shape[0]), values)
        for name, values in zip(LOGGED, log.T, strict=True)
    }
    ship = sail(plan.ship, plan.site, -SETTLE, (n + 1600) * FINE)
    place = np.stack([flown["x"], flown["y"], flown["z"]], axis=-1)
    cg = ship.steady_ramp[:n] + np.einsum("nij,nj->ni", ship.level[:n], place)
    body = ship.level[:n] @ FLIP @ euler_matrix(flown["heading"], flown["pitch"], flown["roll"])
    met = contact(plan, ship, cg, body)
    wire = engaged = stopped = None
    extra = {name: flown[name] for name in ("alpha", "airspeed", "throttle", "power")}
    on_wheels = np.zeros(n)
    struck = None if met is None else over_the_ramp_too_low(plan, ship, met, cg, body)
    if struck is not None:
        # what is left of it is not drawn
        n = min(struck + 30, n)
        cg, body, on_wheels = cg[:n], body[:n], np.zeros(n)
        extra, met = {name: values[:n] for name, values in extra.items()}, None
    elif met is not None:
        cg, body, extra, on_wheels, (wire, engaged, stopped) = on_deck(plan, ship, met, cg, body, extra)
        n = len(cg)
    latitude, longitude, _ = to_geodetic(cg)
    ned = local_axes(latitude, longitude)
    velocity = np.einsum("nji,nj->ni", ned, np.gradient(cg, FINE, axis=0))
    yaw, pitch, roll = euler_angles(np.einsum("nji,njk->nik", ned, body))
    pull = np.gradient(velocity, FINE, axis=0) - np.array([0.0, 0.0, G0])
    load = -np.einsum("nji,nj->ni", body, np.einsum("nij,nj->ni", ned, pull))[:, 2] / G0
    if met is not None:
        climb = np.clip(-velocity[met:, 2] / np.maximum(extra["airspeed"][met:], 5.0), -1.0, 1.0)
        extra["alpha"][met:] = pitch[met:] - np.arcsin(climb)
    constant = np.ones(n)
    channels = {
        "alpha": extra["alpha"], "airspeed": extra["airspeed"], "calibrated": extra["airspeed"],
        "throttle": extra["throttle"], "stick_pitch": 0 * constant, "stick_roll": 0 * constant, "load": load,
        "mass": crew.model.mass * constant, "n2": 55.0 + 45.0 * extra["power"], "fuel_flow": 0.5 * constant,
        "gear": constant, "flaps": constant, "hook": constant, "on_wheels": on_wheels,
        "yaw": yaw % (2 * math.pi), "pitch": pitch, "roll": roll,
    }  # fmt: skip
    return Flight(
        plan=plan, ship=ship.between(0, n + 130), time=ship.time[:n], cg=cg, body=body, velocity=velocity,
        channels=channels, wire=wire, engaged=engaged, stopped=stopped,
        wave_off=None if np.isnan(waved) else float(waved),
    )  # fmt: skip
