"""Passes with one thing done wrong on purpose: a pilot with a fault, air and deck with an event.

``fly_faulty`` flies a plan with a fault. ``fly_pair`` flies a plan twice with the same recorded
commands, once with one of them changed for a while: what the change did to the hook's height at
the ramp is then the difference of the two flights, nothing correcting it afterwards.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from fly import SETTLE, fly_pass, new_pilot, start_state
from fly_geometry import FOOT, G0
from fly_jet import TYPES, Jet, trim, wind_vector
from fly_log import Log
from fly_pilot import Pilot, Turbulence
from fly_plan import Flight, Plan
from fly_ship import STEP, sail

#: throttle that a pilot takes off and puts on at most, from the steady approach's: an engine that
#: is slow from idle answers a hand that goes to the stops with a swing that never ends
LEAST_MOST = (-0.3, 0.3)
CHASE_LEAD = {"A4": 3.0, "F4N": 2.3}  # s that the chasing pilot looks ahead: too little


@dataclass(frozen=True)
class Fault:
    """What is done wrong: from ``at`` (m of range) for ``seconds``, so strongly as ``size`` says."""

    what: str
    at: float = 0.0
    seconds: float = 1e9
    size: float = 0.0
    more: float = 0.0


class FaultyPilot(Pilot):
    """The usual pilot, but for one fault."""

    fault: Fault

    def __init__(self, plan, rng, path_height, throttle, elevator, speed, fault=None):
        super().__init__(plan, rng, path_height, throttle, elevator, speed)
        self.fault = fault or Fault("none")
        self.since = None  # when the fault began
        self.held = throttle
        self.over, self.sawed, self.chasing = False, 0.0, 1.0
        self.climb_pitch, self.climb_alpha = 10.0, 1.5
        if self.fault.what == "over-rotate":
            self.climb_pitch, self.climb_alpha = 10.0 + self.fault.size * 1.6, self.fault.size

    def fly(self, t, s):
        s = self._seen(s)
        power_before = self.throttle
        throttle, elevator, aileron = super().fly(t, s)
        if self.climbing or self.phase != "final":
            return throttle, elevator, aileron
        if self.since is None and 0 < s["range"] < self.fault.at:
            self.since, self.held = t, power_before
            self.start = dict(s)
        if self.since is None or self.over:
            return throttle, elevator, aileron
        if t - self.since > self.fault.seconds:
            self.over = True
            return throttle, elevator, aileron
        return self._wrong(t - self.since, s, power_before, throttle, elevator, aileron)

    def _wrong(self, since, s, before, throttle, elevator, aileron):
        """The commands while the fault lasts; ``since`` it began, s."""
        fault = self.fault
        if fault.what in ("step", "cut", "idle"):
            throttle = self._power_to(before, self.held + fault.size)
        elif fault.what == "leave in":
            throttle = self._power_to(before, self.trim_throttle + fault.size)
            self.over = self._ball(s) > fault.more
        elif fault.what == "idle while low":
            throttle = self._power_to(before, fault.size)
            self.over = self._ball(s) < fault.more
        elif fault.what == "saw":
            # on top of what the pilot does anyway, so that the mean stays his
            side = 1.0 if (since / fault.more) % 1.0 < 0.5 else -1.0
            wanted = side * fault.size
            self.sawed += max(-2.5 * STEP, min(2.5 * STEP, wanted - self.sawed))
            throttle = min(1.0, max(0.0, throttle + self.sawed))
        elif fault.what == "burst":
            level = self.trim_throttle + (fault.size if since < 1.3 else -fault.more)
            throttle = self._power_to(before, level, rate=2.0)
        elif fault.what == "nose for ball":
            throttle = self._power_to(before, self.held)
            ask = max(-fault.size, min(fault.size, fault.more * self._path(s)))
            elevator = self._nose_again(s, self.kind.on_speed + ask)
        elif fault.what == "chase":
            # all the power and nose one way until the ball goes through the middle, then the other way
            rate = math.degrees((s["climb"] + s["closure"] * self.slope) / max(s["range"], 100.0))
            ball = self._ball(s) + CHASE_LEAD[self.plan.jet] * rate
            self.chasing = -1.0 if ball > 0.05 else 1.0 if ball < -0.05 else self.chasing
            throttle = self._power_to(before, self.trim_throttle + self.chasing * fault.size)
            elevator = self._nose_again(s, self.kind.on_speed + self.chasing * fault.more)
        elif fault.what == "push down":
            throttle = self._power_to(before, self.held - fault.size)
            elevator = self._nose_again(s, self.kind.on_speed - fault.more)
        elif fault.what == "nose":
            elevator = self._nose_again(s, self.kind.on_speed + fault.size)
        elif fault.what in ("roll", "side step"):
            if fault.what == "roll":
                throttle = self._power_to(before, self.held)
            third = fault.seconds / 2.0
            bank = math.radians(fault.size) * (1.0 if since < third else -1.0)
            aileron = self._bank(s, bank)
        return throttle, elevator, aileron

    def _glide(self, s, height_error, rate_wanted):
        throttle = super()._glide(s, height_error, rate_wanted)
        least, most = (self.trim_throttle + reach for reach in LEAST_MOST)
        self.throttle = min(max(throttle, least), most)
        return self.throttle

    def _power_to(self, before, wanted, rate=1.2):
        wanted = min(1.0, max(0.0, wanted))
        self.throttle = before + max(-rate * STEP, min(rate * STEP, wanted - before))
        return self.throttle

    def _nose_again(self, s, target):
        """The nose with another target, in place of what was commanded this step."""
        return self._nose(s, target)

    def _ball(self, s):
        distance = max(self.plan.site["lens"]["position_m"][0] - s["eye"][0], 30.0)
        return math.degrees((s["eye"][2] - self.path_height(s["eye"][0])) / distance)

    def _climb(self, s):
        self.throttle = min(1.0, self.throttle + 1.2 * STEP)
        want = math.radians(self.climb_pitch)
        alpha = math.degrees(s["alpha"] + 0.8 * (want - s["pitch"]))
        target = min(max(alpha, -2.0), self.kind.on_speed + self.climb_alpha)
        return self.throttle, self._nose(s, target), self._bank(s, 0.0)

    def _seen(self, s):
        """What the pilot takes for the centreline until he has it."""
        if self.phase == "final":
            return s
        if self.fault.what == "astern":
            angle = math.radians(self.plan.site["landing_area"]["angle_deg"])
            side = s["side"] + s["range"] * math.tan(angle)
            return {**s, "side": side, "course_error": s["course_error"] - angle}
        if self.fault.what == "beside":
            return {**s, "side": s["side"] - self.fault.size}
        return s

    def _join(self, s):
        """Bank of the arc that ends on the centreline, along it."""
        plan, left, turn = self.plan, -s["side"], s["course_error"]
        if turn < -math.pi / 2:
            turn += 2 * math.pi
        if turn < 0 or left < 0 or abs(turn) < math.radians(6) or left < 6.0:
            self.phase, self.height_sum = "final", 0.0
            return self._line_up(0.0, s)
        if turn > math.radians(120) or abs(math.degrees(s["course_to_go"])) > 150:
            return -math.radians(plan.turn_bank)
        rate = s["closure_total"] * (1 - math.cos(turn)) / max(left, 8.0)
        bank = math.atan(s["airspeed"] * rate / G0)
        return -min(math.radians(plan.turn_bank + 8), bank)

    def _pattern(self, t, s):
        low = 0.0
        turned = math.degrees(abs(s["course_to_go"]))
        if self.fault.what == "pattern height":
            low = self.fault.size * (
                1.0 if self.phase == "downwind" else float(np.interp(turned, [155, 172], [0, 1]))
            )
        elif self.fault.what == "altimeter":
            low = self.fault.size * float(np.interp(turned, [20, 35], [0, 1]))
        return super()._pattern(t, {**s, "altitude": s["altitude"] - low} if low else s)


class Air(Turbulence):
    """Free-air gusts with one event on top: (from s, seconds, along, across, up in m/s)."""

    def __init__(self, scale, rng, event=None):
        super().__init__(scale, rng)
        self.event, self.time, self.history = event, -SETTLE, []

    def step(self, airspeed):
        along, across, up = super().step(airspeed)
        if self.event is not None:
            start, seconds, *wind = self.event
            if start <= self.time < start + seconds:
                shape = math.sin(math.pi * (self.time - start) / seconds) ** 2
                along, across, up = (a + b * shape for a, b in zip((along, across, up), wind, strict=True))
        self.time += STEP
        return along, across, up


def faulty_pilot(plan: Plan, rng, fault: Fault | None) -> FaultyPilot:
    usual = new_pilot(plan, rng)
    return FaultyPilot(
        plan, rng, usual.path_height, usual.trim_throttle, usual.trim_elevator, usual.speed, fault
    )


def fly_faulty(plan: Plan, fault: Fault | None = None, event=None) -> Flight:
    """Fly a plan with a fault of the pilot's or an event of the air."""
    rng = np.random.default_rng(plan.seed)
    air = Air(plan.turbulence, np.random.default_rng(plan.seed + 1), event)
    if event is not None and not plan.turbulence:
        plan = replace(plan, turbulence=1e-9)
    return _fly(plan, faulty_pilot(plan, rng, fault), air)


def _fly(plan: Plan, pilot, air) -> Flight:
    throttle, elevator, speed = trim(plan.jet)
    ship = sail(plan.ship, plan.site, -SETTLE, 90.0 if plan.start == "final" else 210.0)
    log = Log()
    jet = Jet(TYPES[plan.jet], wind_vector(plan.wind_from, plan.wind_kt))
    jet.place(**start_state(plan, ship, 0, throttle, speed))
    jet.command(throttle, elevator, 0.0)
    end = fly_pass(plan, ship, log, 0, jet, pilot, air)
    return log.flight(plan, ship, **end.outcome())


@dataclass(frozen=True)
class Change:
    """One command or disturbance changed from ``start`` (s) for ``seconds``, shaped as sin^2 or a block.

    ``what`` is "power" (share of throttle), "nose" (deg of angle of attack), "bank" (deg), "air"
    (m/s up, or along the nose with ``along``) or "deck" (m of heave of one sine wave).
    """

    what: str
    start: float
    seconds: float
    size: float
    along: bool = False
    block: bool = False

    def at(self, t):
        inside = 0.0 <= t - self.start < self.seconds
        if not inside:
            return 0.0
        if self.block:
            return self.size
        return self.size * math.sin(math.pi * (t - self.start) / self.seconds) ** 2


class Recorder:
    """A pilot whose commands, and what he flew, are kept step by step."""

    def __init__(self, pilot):
        self.pilot, self.kept = pilot, []

    def __getattr__(self, name):
        return getattr(self.pilot, name)

    def fly(self, t, s):
        commands = self.pilot.fly(t, s)
        self.kept.append((*commands, s["alpha"], s["q"], s["roll"], s["p"]))
        return commands


class Replayer:
    """Kept commands again; with a change: angle of attack and bank held as they were (elevator for air)."""

    phase, climbing = "final", False

    def __init__(self, kept, kind, change=None, trim_throttle=0.0):
        self.kept, self.kind, self.change, self.i = kept, kind, change, 0
        self.trim_throttle, self.throttle = trim_throttle, trim_throttle
        self.pushed = 0.0

    def wave_off(self):
        self.climbing = True

    def fly(self, t, s):
        throttle, elevator, aileron, alpha, q, roll, p = self.kept[min(self.i, len(self.kept) - 1)]
        self.i += 1
        change = self.change
        if change is not None and change.what in ("power", "nose", "bank") and t >= change.start:
            size = change.at(t)
            if change.what == "power":
                throttle = min(1.0, max(0.0, throttle + size))
            want = alpha + (math.radians(size) if change.what == "nose" else 0.0)
            bank = roll + (math.radians(size) if change.what == "bank" else 0.0)
            error = want - s["alpha"]
            self.pushed = max(-0.15, min(0.15, self.pushed + error * STEP))
            # firmer than the pilot's own loop: angle of attack is to be held
            elevator -= 2.0 * self.kind.elevator_gain * error + 3.0 * self.kind.elevator_gain * self.pushed
            elevator += 1.4 * self.kind.rate_gain * (s["q"] - q)
            aileron += 2.6 * (bank - s["roll"]) - 0.8 * (s["p"] - p)
        self.throttle = throttle
        return throttle, max(-1.0, min(1.0, elevator)), max(-1.0, min(1.0, aileron))


class Again:
    """Kept gusts again, with one event on top."""

    def __init__(self, kept, change=None):
        self.kept, self.change, self.i = kept, change, 0

    def step(self, _airspeed):
        along, across, up = self.kept[min(self.i, len(self.kept) - 1)] if self.kept else (0.0, 0.0, 0.0)
        t = self.i * STEP - SETTLE
        self.i += 1
        if self.change is not None and self.change.what == "air":
            size = self.change.at(t)
            along, up = (along + size, up) if self.change.along else (along, up + size)
        return along, across, up


class Keeping(Air):
    """Gusts that are kept."""

    def step(self, airspeed):
        gust = super().step(airspeed)
        self.history.append(gust)
        return gust


def fly_pair(plan: Plan, change: Change) -> tuple[Flight, Flight]:
    """The flight as flown and the same commands with one change."""
    plan = replace(plan, turbulence=plan.turbulence or 1e-9)
    recorder = Recorder(faulty_pilot(plan, np.random.default_rng(plan.seed), None))
    air = Keeping(plan.turbulence, np.random.default_rng(plan.seed + 1))
    unchanged = _fly(plan, recorder, air)
    trim_throttle = trim(plan.jet)[0]
    pilot = Replayer(recorder.kept, TYPES[plan.jet], change, trim_throttle)
    sails = plan.ship
    if change.what == "deck":
        # one more wave that is at its mean where the change begins
        rate = 2 * math.pi / change.seconds
        sails = replace(sails, heave=(*sails.heave, (change.size, rate, -rate * change.start)))
    return unchanged, _fly(replace(plan, ship=sails), pilot, Again(air.history, change))


__all__ = ["FOOT", "G0", "Change", "Fault", "fly_faulty", "fly_pair"]
