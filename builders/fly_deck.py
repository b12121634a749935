"""Jets on the deck: a small rigid model in deck axes for settle, arrest, roll, bolter run and rest."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from fly_geometry import G0, euler_angles, euler_matrix
from fly_jet import JetType
from fly_ship import STEP

SUBSTEPS = 8
STATIC_COMPRESSION = 0.09  # m
RUNOUT = 98.0  # m


@dataclass(frozen=True)
class DeckPlan:
    """What the deck does to a jet that meets it."""

    skips: tuple = ()  # wires (counted from 1) that do not hold
    wires_live: bool = True
    runout: float = RUNOUT
    rollback: float = 0.0  # m pulled back by the wire after the stop
    brakes: float = 0.0  # m/s^2, a full stop without a wire
    drag: float = 0.0  # m/s^2 of a wreck sliding
    hold: float = 3.0  # s on deck after the stop
    idle: bool = False  # power off at touchdown instead of full
    rotate: float = 7.0  # deg of pitch held in a bolter


@dataclass
class DeckState:
    """Centre of gravity in deck axes (x forward, y starboard, z up), attitude against the deck."""

    x: float
    y: float
    z: float
    vx: float
    vy: float
    vz: float
    yaw: float
    pitch: float
    roll: float
    yaw_rate: float
    pitch_rate: float
    roll_rate: float


@dataclass
class DeckRun:
    """Step a jet on the deck; ``wire`` is the one that stopped it, ``engaged`` when and where."""

    kind: JetType
    points: dict
    plan: DeckPlan
    wires: tuple
    wire_height: float
    half_width: float
    hook_down: bool
    state: DeckState
    airspeed: float
    angle_of_attack: float  # deg
    throttle: float
    trim_throttle: float
    wire: int | None = None
    engaged: float | None = None
    stopped: float | None = None
    time: float = 0.0
    touched: bool = False
    _reference: dict = field(default_factory=dict)
    _thrust: float = 0.0

    def __post_init__(self):
        self._reference = {
            "airspeed": self.airspeed,
            "alpha": self.angle_of_attack,
            "speed": self.state.vx,
            "hook": self._up("hook")[0:2],
        }
        self._passed = [False] * len(self.wires)
        for i, x in enumerate(self.wires):
            self._passed[i] = self._point("hook")[0] > x

    def _point(self, name, side=1.0):
        s = self.state
        m = euler_matrix(np.float64(s.yaw), np.float64(s.pitch), np.float64(s.roll))
        x, y, z = self.points[name]
        v = m @ np.array([x, y * side, z])
        return s.x + v[0], s.y + v[1], s.z - v[2]

    def _up(self, name, side=1.0):
        """Fast (x, z) of a point, small yaw."""
        s = self.state
        x, y, z = self.points[name]
        sp, cp = math.sin(s.pitch), math.cos(s.pitch)
        return (
            s.x + x * cp + z * sp,
            s.z - (-sp * x + cp * math.sin(s.roll) * y * side + cp * math.cos(s.roll) * z),
        )

    def advance(self):
        """One step of the simulator's clock."""
        self._power()
        before = self._point("hook")
        for _ in range(SUBSTEPS):
            self._substep(STEP / SUBSTEPS)
        self.time += STEP
        if self.hook_down and self.wire is None:
            self._look_for_wire(before, self._point("hook"))

    def _power(self):
        held = self.wire is not None and self.state.vx < 8.0
        target = 0.0 if self.plan.idle or self.stopped is not None or held else 1.0
        rate = 1.2 if target > self.throttle else 0.8
        self.throttle += max(-rate * STEP, min(rate * STEP, target - self.throttle))

    def _look_for_wire(self, before, after):
        for i, x in enumerate(self.wires):
            if self._passed[i] or after[0] <= x:
                continue
            self._passed[i] = True
            share = (x - before[0]) / max(after[0] - before[0], 1e-9)
            z = before[2] + share * (after[2] - before[2])
            y = before[1] + share * (after[1] - before[1])
            if z > self.wire_height or abs(y) > self.half_width:
                continue
            if not self.plan.wires_live or i + 1 in self.plan.skips:
                continue
            self.wire = i + 1
            self.engaged = x
            self._reference["engaged_speed"] = self.state.vx
            return

    def _wire_acceleration(self):
        if self.wire is None or self.stopped is not None:
            return 0.0
        length = self.plan.runout
        u = (self._up("hook")[0] - self.engaged) / length
        rise, fall = 0.14, 0.82
        if u < rise:
            f = max(u, 0.0) / rise
        elif u < fall:
            f = 1.0
        else:
            f = max(0.35, 1.0 - 0.65 * (u - fall) / (1.0 - fall))
        area = rise / 2 + (fall - rise) + 0.675 * (1 - fall)
        v = self._reference["engaged_speed"]
        return f * v * v / (2 * length * area)

    def _substep(self, dt):
        s, kind, ref = self.state, self.kind, self._reference
        points = self.points
        alpha = math.degrees(s.pitch - math.atan2(s.vz, max(self.airspeed, 5.0)))
        ratio = (self.airspeed / ref["airspeed"]) ** 2
        cl = max(-0.5, min(1.35, (alpha - kind.lift_zero) / (ref["alpha"] - kind.lift_zero)))
        lift = G0 * ratio * cl
        xm, ym = points["main_wheels"][0], points["main_wheels"][1]
        xn = points["nose_wheel"][0]
        share = xn / (xn - xm)
        k_main = share * G0 / STATIC_COMPRESSION
        k_nose = (1 - share) * G0 / STATIC_COMPRESSION * 3.0
        c_main = 2 * 0.45 * math.sqrt(k_main)
        c_nose = 2 * 0.5 * math.sqrt(k_nose * min(1.0, kind.pitch_gyration / xn**2))
        up = -G0 + lift
        pitching = rolling = 0.0
        on_wheels = 0.0
        for name, side, x, y, k, c in (
            ("main_wheels", 1.0, xm, ym, k_main / 2, c_main / 2),
            ("main_wheels", -1.0, xm, -ym, k_main / 2, c_main / 2),
            ("nose_wheel", 1.0, xn, 0.0, k_nose, c_nose),
        ):
            squash = -self._up(name, side)[1]
            if squash <= 0.0:
                continue
            rate = -(s.vz + s.pitch_rate * x - s.roll_rate * y)
            push = max(0.0, k * squash + c * rate)
            up += push
            pitching += push * x / kind.pitch_gyration
            rolling -= push * y / kind.roll_gyration
            on_wheels += push
            self.touched = True
        brake = self._wire_acceleration()
        weight = min(1.0, on_wheels / G0)
        pitching -= brake * 0.25 / kind.pitch_gyration
        pitching -= 1.2 * math.radians(alpha - ref["alpha"]) * ratio + 1.0 * s.pitch_rate
        rolling -= 2.0 * s.roll_rate + 1.5 * s.roll * (1.0 - weight)
        if self.wire is None and not self.plan.idle and self.time > 0.8 and not self.plan.brakes:
            pitching += 3.0 * (math.radians(self.plan.rotate) - s.pitch) - 1.5 * s.pitch_rate
        self._thrust += dt / 0.8 * (self.throttle - self.trim_throttle - self._thrust)
        push = G0 * kind.thrust_to_weight * self._thrust / max(0.2, 1 - self.trim_throttle) * 0.75
        ahead = push if self.wire is None else -brake
        ahead -= 0.02 * G0 * weight + self.plan.drag * min(1.0, on_wheels)
        if self.touched and self.plan.brakes:
            ahead -= self.plan.brakes * weight + 0.8 * ratio
        side = 0.0
        if on_wheels > 0.0:
            side = (s.vx * math.tan(s.yaw) - s.vy) / 0.3
            s.yaw_rate = -s.yaw / 1.0
        s.vx += ahead * dt
        s.vy += side * dt
        s.vz += up * dt
        s.pitch_rate += pitching * dt
        s.roll_rate += rolling * dt
        if s.vx <= 0.0 or self.stopped is not None:
            if self.stopped is None:
                self.stopped = self.time
            s.vx = -self._roll_back()
            s.vy = 0.0
            s.yaw_rate = 0.0
        s.x += s.vx * dt
        s.y += s.vy * dt
        s.z += s.vz * dt
        s.pitch += s.pitch_rate * dt
        s.roll += s.roll_rate * dt
        s.yaw += s.yaw_rate * dt
        self.airspeed = max(0.5, self.airspeed + ahead * dt)

    def _roll_back(self):
        if self.wire is None or not self.plan.rollback:
            return 0.0
        since = self.time - self.stopped
        return self.plan.rollback / 2.0 * (1 - math.cos(math.pi * since)) if since < 2.0 else 0.0


def enter(deck_before, deck_now, cg_before, cg_now, body_before, body_now):
    """Deck state from two successive simulator states: matrices as columns, points in deck axes."""
    flip = np.diag([1.0, 1.0, -1.0])
    velocity = (cg_now - cg_before) / STEP
    angles = np.array(euler_angles((deck_now @ flip).T @ body_now))
    earlier = np.array(euler_angles((deck_before @ flip).T @ body_before))
    rates = (angles - earlier) / STEP
    return DeckState(*cg_now, *velocity, *angles, *rates)
