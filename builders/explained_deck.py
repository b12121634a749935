"""What is put into a clean recording afterwards: configuration, mass, what is done on deck; and launches.

The library's jets fly with everything down and have no deck of their own, so gear, flaps, hook,
mass, brakes, the taxi after the stop and the launch are written here, by hand.
"""

from __future__ import annotations

import copy
import math

import numpy as np
from corpus_clean import MOTIONS
from fly_geometry import KNOT, euler_angles, euler_matrix, local_axes, to_geodetic
from fly_jet import TYPES
from fly_ship import STEP, ShipPlan, sail
from sites import aircraft_file, ship


def _rng(name):
    return np.random.default_rng([ord(c) for c in name])


def EDITS(name, arrays, meta, flight):
    """Every edit of a clean landing, by its name; nothing for a pass that did not stop in a wire."""
    out = {}
    if meta["outcome"] != "trap":
        return out
    t, down = arrays["time"], meta["touchdown"]["time_s"]
    number = name.rpartition("-")[2]
    rng, u = _rng(name), _rng(name).uniform
    distance = _distance(arrays)

    def put(code, changes, **about):
        out[f"{code}-{number}"] = ({**arrays, **changes}, {**copy.deepcopy(meta), "code": code, **about})

    late = np.clip((t - np.interp(-u(300, 1100), -distance, t)) / 3.0, 0, 1)
    if rng.integers(2):
        put("not-configured", {"gear": late if rng.integers(2) else 0 * late})
    else:
        put("not-configured", {"flaps": late * 1.0 if rng.integers(2) else 0.5 * np.ones_like(t)})
    hook_late = np.clip((t - np.interp(-u(300, 900), -distance, t)) / 1.5, 0, 1)
    put("hook-not-down", {"hook": np.round(hook_late)})
    light = float(np.median(arrays["mass"]))
    heavy = copy.deepcopy(meta)
    heavy["aircraft"]["approach"]["max_landing_mass_kg"] = round(light - u(80, 700))
    heavy["code"] = "too-heavy"
    out[f"too-heavy-{number}"] = (arrays, heavy)

    power = arrays["throttle"]
    at_touch = float(np.interp(down, t, power))
    kept = np.where(t > down, np.minimum(power, at_touch + u(0, 0.2)), power)
    put("power-short-at-touchdown", {"throttle": kept})
    off = down + u(0.9, 1.4)
    early = np.where(t > off, np.maximum(0.0, power - (t - off) * 1.2), power)
    put("power-off-early", {"throttle": early})
    on = down + u(0.5, 1.5)
    put("brakes-in-wire", {"wheel_brake": np.where(t > on, u(0.3, 1.0), 0.0)})
    put("wheel-brake-later", {"wheel_brake": np.where(t > t[-1] - 0.8, 1.0, 0.0)})
    fast = u(5.5, 9.0)
    put("taxied", *_taxi(arrays, meta, flight, 2.5, 11.0, hook_up_after=u(2, 6)))
    put("hook-left-down", *_taxi(arrays, meta, flight, 2.5, 11.0, hook_up_after=None))
    put("fast-taxi-turn", *_taxi(arrays, meta, flight, fast, u(20, 30), hook_up_after=u(2, 6)))
    return out


def _distance(arrays):
    """Roughly the distance to the ship, m, falling until the end."""
    north = (arrays["latitude"] - arrays["ship_latitude"]) * 6.37e6
    east = (arrays["longitude"] - arrays["ship_longitude"]) * 6.37e6 * np.cos(arrays["latitude"])
    return np.hypot(north, east)


def _taxi(arrays, meta, flight, speed, rate, *, hook_up_after):
    """The recording with a taxi after the stop: straight, a right turn of 80 degrees, straight."""
    plan = flight.plan
    end = arrays["time"][-1]
    t = np.arange(1, 20 * 28 + 1) / 20.0
    seconds = end + 35.0
    vessel = sail(plan.ship, plan.site, 0.0, seconds)
    i = np.clip(np.round((end + t) / STEP).astype(int), 0, len(vessel.time) - 1)
    n = len(flight.time)
    last = flight.ship.deck[n - 1].T @ (flight.cg[-1] - flight.ship.ramp[n - 1])
    flip = np.diag([1.0, 1.0, -1.0])
    yaw0, pitch0, _ = (float(v) for v in euler_angles((flight.ship.deck[n - 1] @ flip).T @ flight.body[-1]))
    goes, turns = 6.0, 6.0 + 20.0 / speed
    v = np.clip((t - goes) / 2.0, 0, 1) * speed
    v = np.where(
        t > turns + 80.0 / rate + 4.0, np.clip(v - (t - turns - 80.0 / rate - 4.0) * 1.5, 0, None), v
    )
    spin = np.where((t > turns) & (t < turns + 80.0 / rate), math.radians(rate), 0.0)
    yaw = yaw0 + np.cumsum(spin) / 20.0
    x, y = last[0] + np.cumsum(v * np.cos(yaw)) / 20.0, last[1] + np.cumsum(v * np.sin(yaw)) / 20.0
    place = np.stack([x, y, np.full_like(x, last[2])], axis=-1)
    more = _on_deck(vessel, i, place, yaw, pitch0 * np.exp(-t))
    out = {}
    for key, values in arrays.items():
        if key == "time":
            extra = end + t
        elif key in more:
            extra = more[key]
        elif key == "hook":
            extra = np.ones_like(t) if hook_up_after is None else (t < hook_up_after).astype(float)
        elif key == "throttle":
            extra = np.full_like(t, 0.1)
        else:
            extra = np.full_like(t, values[-1])
        out[key] = np.concatenate([values, extra])
    return (out,)


def _on_deck(vessel, i, place, yaw, pitch):
    """Channels of a jet carried by the ship: deck place (n, 3), yaw and pitch against the deck."""
    flip = np.diag([1.0, 1.0, -1.0])
    at = vessel.ramp[i] + np.einsum("nij,nj->ni", vessel.deck[i], place)
    body = np.einsum("nij,njk->nik", vessel.deck[i] @ flip, euler_matrix(yaw, pitch, np.zeros_like(yaw)))
    latitude, longitude, height = to_geodetic(at)
    heading, pitch, roll = euler_angles(np.einsum("nji,njk->nik", local_axes(latitude, longitude), body))
    return {
        "latitude": np.radians(latitude), "longitude": np.radians(longitude), "altitude": height,
        "heading": np.mod(heading, 2 * math.pi), "pitch": pitch, "roll": roll,
        "ship_latitude": np.radians(vessel.latitude[i]), "ship_longitude": np.radians(vessel.longitude[i]),
        "ship_altitude": vessel.height[i], "ship_heading": np.mod(vessel.heading[i], 2 * math.pi),
        "ship_pitch": vessel.pitch[i], "ship_roll": vessel.roll[i],
        "true_airspeed": np.full(len(i), 10.0), "indicated_airspeed": np.full(len(i), 10.0),
    }  # fmt: skip


LAUNCH_CODES = ("launch", "stick-in-launch", "launch-trim", "launch-flaps", "launch-power", "launch-settle")


def launch_case(number, settings):
    """Six launches of one jet from one ship: a clean one, and one with each fault."""
    seed, ships = settings
    out = {}
    for code in LAUNCH_CODES:
        rng = np.random.default_rng([seed, 900, number, LAUNCH_CODES.index(code)])
        out[f"{code}-{number:03d}"] = _launch(code, rng, ("A4", "F4N")[number % 2], ships[number // 2 % 2])
    return out


def _launch(code, rng, jet, key):
    u, kind = rng.uniform, TYPES[jet]
    site, height = ship(key)
    motion = (None, "medium", "heaving")[rng.integers(3)]
    speed = u(10, 25)
    plan = ShipPlan(latitude=20.0 + u(-30, 30), longitude=u(-170, 170), heading=u(0, 360), speed_kt=speed,
                    height=height, **(MOTIONS[motion] if motion else {}))  # fmt: skip
    rate = 20.0
    rest, stroke, end = u(8, 14), u(85, 95), u(66, 76)
    pull = end**2 / (2 * stroke)
    fires, leaves = rest, rest + end / pull
    t = np.arange(0, leaves + 14.0, 1 / rate)
    vessel = sail(plan, site, 0.0, t[-1] + 1.0)
    i = np.round(t / STEP).astype(int)
    angle = math.radians(site["landing_area"]["angle_deg"])
    since = np.clip(t - fires, 0, leaves - fires)
    after = np.clip(t - leaves, 0, None)
    along = 0.5 * pull * since**2 + end * after + 0.5 * 2.0 * after**2
    sag = u(5.0, 9.0) if code == "launch-settle" else u(0.0, 1.6)
    climb = u(1.5, 2.2)  # m/s^2 upwards
    dip = math.sqrt(2 * climb * sag) if sag > 0 else 0.0
    rise = np.where(after > 0, -dip * after + 0.5 * climb * after**2, 0.0)
    late = np.clip(after - 6.0, 0, None)
    rise -= 0.5 * climb * late**2
    pitch = np.radians(2.0 + 8.0 * np.clip((t - leaves + 0.5) / 2.0, 0, 1)) * (t > fires)
    x0 = u(100, 140)
    wheel = kind.points["main_wheels"][2]
    place = np.stack([x0 + along * math.cos(angle), 10.0 + along * math.sin(angle), wheel + 0 * t], axis=-1)
    values = _on_deck(vessel, i, place, angle + 0 * t, pitch)
    steady = float(vessel.height.mean() - site["landing_area"]["ramp_m"][2])
    gone = after > 0
    # in the air the ship's motion carries it no more
    level = np.where(gone, 0.0, values["altitude"])
    bow = float(values["altitude"][np.flatnonzero(~gone)[-1]])
    values["altitude"] = np.where(gone, bow + rise, level)
    full = np.clip((t - (fires - u(3, 5))) / 1.0, 0, 1)
    top = u(0.6, 0.8) if code == "launch-power" else u(0.97, 1.0)
    flaps_wanted, trim_wanted = 0.5, 0.25
    stick = rng.normal(0, 0.01, t.size)
    if code == "stick-in-launch":
        when, size = u(fires + 0.3, leaves - 0.7), u(0.25, 0.6) * (1 if rng.integers(2) else -1)
        stick = stick + size * ((t > when) & (t < when + u(0.4, 1.0)))
    stick = stick + np.where(after > 0.3, 0.3 * np.clip(after - 0.3, 0, 1), 0.0)
    trim = trim_wanted + (
        u(0.12, 0.3) * (1 if rng.integers(2) else -1) if code == "launch-trim" else u(-0.02, 0.02)
    )
    flaps = float(rng.choice([0.0, 0.2, 1.0])) if code == "launch-flaps" else flaps_wanted
    wind_kt = u(0, 10)
    airspeed = np.maximum(np.gradient(along, t), 0) + (speed + wind_kt) * KNOT
    mass = u(5000, 6500)
    values.update({
        "time": t, "true_airspeed": airspeed, "indicated_airspeed": airspeed,
        "angle_of_attack": pitch, "throttle": 0.1 + full * (top - 0.1), "stick_pitch": stick,
        "pitch_trim": np.full_like(t, trim), "flaps": np.full_like(t, flaps), "gear": np.ones_like(t),
        "hook": np.zeros_like(t), "mass": np.full_like(t, mass),
        "weight_on_wheels": (~gone).astype(float),
    })  # fmt: skip
    aircraft = aircraft_file(jet, kind.points, (0.0, 0.0, 0.0), None)
    aircraft["launch"] = {
        "source": "invented", "mass_kg": [4000, 9000], "trim_deg": [5.0, 5.0], "end_airspeed_kt": [110, 150],
        "pitch_trim": [trim_wanted, trim_wanted], "flaps_at": flaps_wanted,
    }  # fmt: skip
    about = {"code": code, "jet": jet, "site": site, "aircraft": aircraft, "wind_from_deg": plan.heading,
             "wind_kt": wind_kt,
             "launch": {"fires_s": fires, "leaves_s": leaves, "settle_m": sag, "deck_m": steady}}  # fmt: skip
    return values, about
