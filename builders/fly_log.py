"""The 120 Hz history of a flight as it is flown, in the air and on the deck."""

from __future__ import annotations

import math

import numpy as np
from fly_geometry import FOOT, G0, KNOT, euler_angles, euler_matrix, local_axes, to_geodetic
from fly_plan import Flight
from fly_ship import STEP


class Log:
    """Collects the 120 Hz history."""

    NAMES = (
        "alpha", "airspeed", "calibrated", "throttle", "stick_pitch", "stick_roll", "load", "mass",
        "n2", "fuel_flow", "gear", "flaps", "hook", "on_wheels", "yaw", "pitch", "roll",
    )  # fmt: skip

    def __init__(self):
        self.cg, self.body, self.velocity, self.rows = [], [], [], []

    def cut(self, n):
        """Keep the first n samples."""
        for part in (self.cg, self.body, self.velocity, self.rows):
            del part[n:]

    def copy(self):
        other = Log()
        other.cg, other.body = self.cg[:], self.body[:]
        other.velocity, other.rows = self.velocity[:], self.rows[:]
        return other

    def air(self, seen, raw, commands, plan):
        self.cg.append(seen["cg"])
        self.body.append(seen["body"])
        self.velocity.append(np.array(raw[6:9]) * FOOT)
        self.rows.append(
            (raw[15], raw[16] * FOOT, raw[17] * KNOT, *commands[:3], raw[18], raw[19] * 0.45359237, raw[20],
             raw[21] * 0.45359237, raw[22], raw[23] / 30.0, float(plan.hook_down), 0.0,
             raw[11], raw[10], raw[9])
        )  # fmt: skip

    def deck(self, run, hook_down, ship, i, wind):
        s = run.state
        flip = np.diag([1.0, 1.0, -1.0])
        cg = ship.ramp[i] + ship.deck[i] @ np.array([s.x, s.y, s.z])
        body = ship.deck[i] @ flip @ euler_matrix(np.float64(s.yaw), np.float64(s.pitch), np.float64(s.roll))
        latitude, longitude, _ = to_geodetic(cg)
        ned = local_axes(latitude, longitude)
        velocity = ned.T @ (cg - self.cg[-1]) / STEP
        accel = (velocity - self.velocity[-1]) / STEP
        air = velocity - np.array([wind[0], wind[1], 0.0])
        in_body = body.T @ (ned @ air)
        speed = float(np.linalg.norm(air))
        alpha = max(-0.5, min(0.5, math.atan2(in_body[2], max(in_body[0], 1e-6))))
        load = float(-(body.T @ (ned @ (accel - np.array([0, 0, G0]))))[2] / G0)
        yaw, pitch, roll = (float(v) for v in euler_angles(ned.T @ body))
        last = self.rows[-1]
        run.airspeed = max(speed, 0.5)
        calibrated = speed * last[2] / max(last[1], 1.0)
        n2 = last[8] + (55.0 + 45.0 * run.throttle - last[8]) * STEP / 0.8
        flow = 0.05 + 1.0 * run.throttle**2 * run.kind.engines
        self.cg.append(cg)
        self.body.append(body)
        self.velocity.append(velocity)
        self.rows.append(
            (alpha, speed, calibrated, run.throttle, 0.0, 0.0, load, last[7], n2, flow, last[10], last[11],
             float(hook_down), float(run.touched and run._up("main_wheels")[1] <= 0.02),
             yaw % (2 * math.pi), pitch, roll)
        )  # fmt: skip

    def flight(self, plan, ship, first=0, **outcome):
        """The history from a sample on as a flight."""
        n = len(self.cg)
        rows = np.array(self.rows[first:])
        return Flight(
            plan=plan,
            ship=ship.between(first, n + 130),
            time=ship.time[first:n],
            cg=np.array(self.cg[first:]),
            body=np.array(self.body[first:]),
            velocity=np.array(self.velocity[first:]),
            channels={name: rows[:, k] for k, name in enumerate(self.NAMES)},
            **outcome,
        )
