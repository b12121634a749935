"""The run on the deck of passes that our own model flew, drawn by hand: a wire's pull, or off again."""

from __future__ import annotations

import math

import numpy as np
from fly_deck import RUNOUT, STATIC_COMPRESSION
from fly_geometry import euler_angles, euler_matrix
from fly_ship import STEP

FLIP = np.diag([1.0, 1.0, -1.0])


def contact(plan, ship, cg, body):
    """Sample at which hook, wheels or ramp are met, None if never."""
    n = len(cg)
    points = plan.points

    def deck(name, side=1.0):
        x, y, z = points[name]
        return np.einsum("nji,nj->ni", ship.deck[:n], cg + body @ np.array([x, y * side, z]) - ship.ramp[:n])

    hook, edge = deck("hook"), plan.site["landing_area"]["length_m"]
    over = (hook[:, 0] > 0.0) & (hook[:, 0] < edge) & (np.abs(hook[:, 1]) < 60.0)
    hit = over & (hook[:, 2] <= 0.0)
    for side in (1.0, -1.0):
        wheel = deck("main_wheels", side)
        hit |= (
            (wheel[:, 2] <= 0.0) & (wheel[:, 0] > 0.0) & (wheel[:, 0] < edge) & (np.abs(wheel[:, 1]) < 60.0)
        )
    wires, half = plan.site["wires"], plan.site["landing_area"]["width_m"] / 2
    for number, x in enumerate(wires["positions_m"], start=1):
        crossed = np.concatenate([[False], (hook[:-1, 0] <= x) & (hook[1:, 0] > x)])
        low = (hook[:, 2] <= wires["height_m"]) & (np.abs(hook[:, 1]) < half)
        hit |= crossed & low & (number not in plan.deck.skips)
    rows = np.flatnonzero(hit[1:]) + 1
    return int(rows[0]) if rows.size else None


def over_the_ramp_too_low(plan, ship, met, cg, body):
    """Sample at which the hook passes the ramp below the deck, None where it comes over it."""
    rows = slice(max(met - 60, 0), met + 60)
    at = (
        cg[rows]
        + body[rows] @ np.array(plan.points["hook"])
        - ship.ramp[rows.start : rows.start + len(cg[rows])]
    )
    hook = np.einsum("nji,nj->ni", ship.deck[rows.start : rows.start + len(at)], at)
    passed = np.flatnonzero(hook[:, 0] > 0.0)
    if not passed.size or hook[passed[0], 2] > -0.02:
        return None
    return rows.start + int(passed[0])


def _arrest(x, speed, takes):
    """Place and speed of a jet that takes a wire, and when it stops: the pull of ``fly_deck``."""
    places, speeds, engaged, left = [], [], speed, 3.0
    stop = None
    while left > 0.0:
        places.append(x)
        speeds.append(speed)
        u = (x - takes) / RUNOUT
        pull = min(max(u, 0.0) / 0.14, 1.0) if u < 0.82 else max(0.35, 1.0 - 0.65 * (u - 0.82) / 0.18)
        speed = max(speed - pull * engaged**2 / (2 * RUNOUT * (0.07 + 0.68 + 0.1215)) * STEP, 0.0)
        x += speed * STEP
        if speed == 0.0:
            stop = len(places) * STEP if stop is None else stop
            left -= STEP
    return np.array(places), np.array(speeds), stop


def on_deck(plan, ship, met, cg, body, extra):
    """The flight carried on from the contact: stopped by the first wire that holds, or off again."""
    before, now = met - 1, met
    x0, y0, z0 = ship.deck[now].T @ (cg[now] - ship.ramp[now])
    last = ship.deck[before].T @ (cg[before] - ship.ramp[before])
    speed, aside = (x0 - last[0]) / STEP, (y0 - last[1]) / STEP
    yaw, pitch, roll = (float(v) for v in euler_angles((ship.deck[now] @ FLIP).T @ body[now]))
    hook = np.array(plan.points["hook"])
    hook_x = x0 + hook[0] * math.cos(pitch) + hook[2] * math.sin(pitch)
    wires = plan.site["wires"]["positions_m"]
    holds = [k for k, x in enumerate(wires) if x >= hook_x - speed * STEP and k + 1 not in plan.deck.skips]
    wheels = plan.points["main_wheels"][2] - STATIC_COMPRESSION
    falls = max((last[2] - z0) / STEP, 0.5)
    if hook_x < 2.0 or abs(y0) > plan.site["landing_area"]["width_m"] / 2:
        holds = []
    if holds:
        x_wire = wires[holds[0]]
        x, v, stop = _arrest(x0, speed, x_wire + x0 - hook_x)
        t = np.arange(len(x)) * STEP
        found = (holds[0] + 1, x_wire, stop)
        lift = np.zeros_like(t)
    else:
        t = np.arange(0.0, 7.0, STEP)
        x, v, found = x0 + speed * t + 0.8 * t**2, speed + 1.6 * t, (None, None, None)
        flies = np.clip(t - 1.2, 0.0, None)
        lift = np.minimum(0.9 * flies**2, 2.7 * flies)
    y = y0 + aside * 0.3 * (1 - np.exp(-t / 0.3))
    # the fall goes on until the wheels are down, and then the nose comes down too
    z = wheels + 0.03 * np.logaddexp(0.0, (z0 - falls * t - wheels) / 0.03) + lift
    nose = pitch * np.exp(-np.clip(t - (z0 - wheels) / falls, 0, None) / 0.5)
    if not holds:
        nose = nose + math.radians(8.0) * np.clip((t - 0.8) / 1.0, 0, 1)
    m = met + len(t)
    place = np.stack([x, y, z], axis=-1)
    turned = euler_matrix(yaw * np.exp(-t / 1.0), nose, roll * np.exp(-t / 0.3))
    rows = slice(met, m)
    cg = np.concatenate([cg[:met], ship.ramp[rows] + np.einsum("nij,nj->ni", ship.deck[rows], place)])
    body = np.concatenate([body[:met], ship.deck[rows] @ FLIP @ turned])
    power = np.minimum(1.0, extra["throttle"][met] + 1.2 * t)
    if found[2] is not None:
        power = np.where(t > found[2], np.clip(1.0 - 0.8 * (t - found[2]), 0.0, None), power)
    more = {
        "alpha": 0.0 * t, "airspeed": extra["airspeed"][met] + v - speed, "throttle": power, "power": power,
    }  # fmt: skip
    extra = {name: np.concatenate([values[:met], more[name]]) for name, values in extra.items()}
    on_wheels = np.concatenate([np.zeros(met), (lift <= 0.0).astype(float)])
    return cg, body, extra, on_wheels, found
