"""Whole sorties: rest and taxi on deck, launch, pattern, pass after pass, straight-in, out and back."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from fly import SETTLE, End, fly_pass, new_pilot, start_state
from fly_aim import fly_to
from fly_deck import STATIC_COMPRESSION, DeckState
from fly_geometry import euler_angles, euler_matrix, local_axes, to_geodetic
from fly_jet import TYPES, Jet, trim, wind_vector
from fly_log import Log
from fly_pilot import Turbulence
from fly_plan import Flight, Plan
from fly_ship import STEP, sail


@dataclass
class Carried:
    """A jet that stands or rolls on its wheels where it is put, seen as a deck run by the log."""

    kind: object
    state: DeckState
    throttle: float = 0.05
    touched: bool = True
    airspeed: float = 10.0

    def _up(self, _name, _side=1.0):
        return self.state.x, 0.0


@dataclass(frozen=True)
class Leg:
    """One pass of a sortie: its plan, its samples and how it ended."""

    plan: Plan
    first: int
    end: int
    outcome: End


@dataclass
class Sortie:
    """A flight of several legs on one ship; ``legs`` holds the passes in order."""

    plan: Plan  # jet, site, ship and air of the whole sortie
    seconds: float
    start: float = -SETTLE
    legs: list = field(default_factory=list)

    def __post_init__(self):
        self.ship = sail(self.plan.ship, self.plan.site, self.start, self.seconds)
        self.kind = TYPES[self.plan.jet]
        self.wind = wind_vector(self.plan.wind_from, self.plan.wind_kt)
        self.log, self.i, self.jet = Log(), 0, None

    def _take_over(self):
        """A fresh simulator with the motion of the last sample, or where the plan says if there is none."""
        self.jet = Jet(self.kind, self.wind)
        if not self.log.cg:
            throttle, elevator, speed = trim(self.plan.jet)
            self.jet.place(**start_state(self.plan, self.ship, 0, throttle, speed))
            self.jet.command(throttle, elevator, 0.0)
            return throttle
        body, velocity = self.log.body[-1], self.log.velocity[-1]
        latitude, longitude, height = (float(v) for v in to_geodetic(self.log.cg[-1]))
        axes = local_axes(np.float64(latitude), np.float64(longitude))
        yaw, pitch, roll = (float(v) for v in euler_angles(axes.T @ body))
        turn = self.log.body[-2].T @ body
        throttle = self.log.rows[-1][3]
        self.jet.place(
            latitude=latitude,
            longitude=longitude,
            height=height,
            velocity=tuple(float(v) for v in velocity),
            attitude=(yaw % (2 * math.pi), pitch, roll),
            throttle=throttle,
            rates=(turn[2, 1] / STEP, turn[0, 2] / STEP, turn[1, 0] / STEP),
        )
        self.log.cut(len(self.log.cg) - 1)
        return throttle

    def fly(self, plan: Plan, hit=None, counts=True):
        """Fly one plan from where the jet is, its aim moved until it hits; what it does is a pass."""
        first, kept = self.i, len(self.log.cg)
        if kept:
            first = self.i = kept - 1
        state = self.log.copy()

        def attempt(trial):
            self.log, self.i = state.copy(), first
            throttle = self._take_over()
            rng = np.random.default_rng(trial.seed)
            pilot = new_pilot(trial, rng)
            pilot.throttle = throttle
            gusts = Turbulence(trial.turbulence, rng)
            end = fly_pass(trial, self.ship, self.log, first, self.jet, pilot, gusts)
            self.leg = Leg(trial, first, end.i, end)
            self.i = end.i
            return self.log.flight(trial, self.ship, first=first, **end.outcome())

        fly_to(plan, hit, attempt)
        if counts:
            self.legs.append(self.leg)
        self.i = len(self.log.cg) - 1
        end = self.leg.outcome
        if end.jet is None:
            s = end.run.state
            self.pose = (s.x, s.y, s.yaw, s.pitch)
        return end

    def stand(self, x, y, yaw, seconds):
        """Rest on deck, carried by the ship."""
        self.pose = (x, y, yaw, 0.0)
        self._carry(seconds, lambda _: (x, y, yaw, 0.0), throttle=0.05)

    def rest(self, seconds):
        """Stay where the last leg ended."""
        x, y, yaw, pitch = self.pose
        self._carry(seconds, lambda t: (x, y, yaw, pitch * math.exp(-t)), throttle=0.05, hook=True)
        self.pose = (x, y, yaw, 0.0)

    def taxi(self, route, speed=2.5, yaw_at_end=0.0):
        """Roll along straight legs of deck points, nose into the way, turning as a jet turns."""
        for x, y in route:
            x0, y0 = self.pose[:2]
            way = math.hypot(x - x0, y - y0)
            course = math.atan2(y - y0, x - x0)
            self._turn(course)
            self._carry(way / speed, self._line((x0, y0), (x, y), way, speed, course), throttle=0.12)
            self.pose = (x, y, course, 0.0)
        self._turn(yaw_at_end)

    def _line(self, a, b, way, speed, course):
        def at(t):
            f = min(1.0, speed * t / max(way, 1e-6))
            return a[0] + f * (b[0] - a[0]), a[1] + f * (b[1] - a[1]), course, 0.0

        return at

    def _turn(self, yaw):
        x, y, now, _ = self.pose
        change = (yaw - now + math.pi) % (2 * math.pi) - math.pi
        seconds = abs(change) / math.radians(12.0) + STEP
        self._carry(seconds, lambda t: (x, y, now + change * min(1.0, t / seconds), 0.0), throttle=0.15)
        self.pose = (x, y, now + change, 0.0)

    def launch(self, end_speed=64.0, stroke=88.0):
        """Full power, the stroke along the hull from where the jet stands, then the air."""
        x0, y0, yaw, _ = self.pose
        angle = math.radians(self.plan.site["landing_area"]["angle_deg"])
        self._carry(4.0, lambda t: (x0, y0, yaw, 0.0), throttle=1.0)
        a = end_speed**2 / (2 * stroke)
        c, s = math.cos(angle), math.sin(angle)

        def at(t):
            along = 0.5 * a * t * t
            pitch = math.radians(6.0) * max(0.0, along / stroke - 0.5) * 2.0
            return x0 + along * c, y0 + along * s, angle, pitch

        self._carry(end_speed / a, at, throttle=1.0)

    def _carry(self, seconds, pose, throttle, hook=False):
        run = Carried(self.kind, DeckState(*[0.0] * 12))
        points = self.plan.points
        run.throttle = self.log.rows[-1][3] if self.log.rows else throttle
        for n in range(1, round(seconds / STEP) + 1):
            x, y, yaw, pitch = pose(n * STEP)
            s = run.state
            s.x, s.y, s.yaw, s.pitch = x, y, yaw, pitch
            wheel_x, _, wheel_z = points["main_wheels"]
            s.z = wheel_z * math.cos(pitch) - wheel_x * math.sin(pitch) - STATIC_COMPRESSION
            run.throttle += max(-0.8 * STEP, min(1.0 * STEP, throttle - run.throttle))
            if not self.log.rows:
                self._first(run)
                continue
            self.i += 1
            self.log.deck(run, hook, self.ship, self.i, self.wind)

    def _first(self, run):
        """The first sample of a sortie that begins on deck."""
        s, ship = run.state, self.ship
        flip = np.diag([1.0, 1.0, -1.0])
        cg = ship.ramp[0] + ship.deck[0] @ np.array([s.x, s.y, s.z])
        body = ship.deck[0] @ flip @ euler_matrix(np.float64(s.yaw), np.float64(s.pitch), np.float64(0.0))
        speed = self.plan.ship.speed_kt * 1852 / 3600
        heading = float(ship.heading[0])
        latitude, longitude, _ = to_geodetic(cg)
        yaw, pitch, roll = euler_angles(local_axes(latitude, longitude).T @ body)
        self.log.cg.append(cg)
        self.log.body.append(body)
        self.log.velocity.append(np.array([speed * math.cos(heading), speed * math.sin(heading), 0.0]))
        row = [0.0, speed, speed, run.throttle, 0, 0, 1.0, 5783.0, 57.0, 0.05, 1.0, 1.0, 0.0, 1.0]
        self.log.rows.append((*row, float(yaw) % (2 * math.pi), float(pitch), float(roll)))

    def flight(self) -> Flight:
        """All of it."""
        return self.log.flight(self.plan, self.ship, wire=None, engaged=None, stopped=None, wave_off=None)

    def passes(self, whole: Flight):
        """Each pass as a flight of its own."""
        for leg in self.legs:
            yield whole.between(leg.plan, leg.first, leg.end, **leg.outcome.outcome())
