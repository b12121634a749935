"""The air and the pilot: power for glide slope, nose for angle of attack, bank for line-up."""

from __future__ import annotations

import math

import numpy as np
from fly_geometry import FOOT, G0
from fly_jet import TYPES
from fly_plan import Plan
from fly_ship import STEP


class Turbulence:
    """First-order free-air gusts of given rms and length along, across and up, m/s."""

    RMS = (1.772 * FOOT, 4.241 * FOOT * 0.5, 1.060 * FOOT)
    LENGTH = (100 * FOOT, 400 * FOOT, 100 * FOOT)

    def __init__(self, scale, rng):
        self.scale, self.rng, self.state = scale, rng, np.zeros(3)

    def step(self, airspeed):
        if not self.scale:
            return 0.0, 0.0, 0.0
        for i in range(3):
            a = math.exp(-STEP * airspeed / self.LENGTH[i])
            drive = self.RMS[i] * self.scale * math.sqrt(1 - a * a)
            self.state[i] = a * self.state[i] + drive * self.rng.standard_normal()
        return tuple(self.state)


class Wander:
    """Slow noise of a pilot's eye or hand, unit rms."""

    def __init__(self, rng, seconds):
        self.a = math.exp(-STEP / seconds)
        self.b = math.sqrt(1 - self.a**2)
        self.rng, self.value = rng, 0.0

    def step(self):
        self.value = self.a * self.value + self.b * self.rng.standard_normal()
        return self.value


def look_up(schedule, at):
    xs, ys = zip(*sorted(schedule), strict=True)
    return float(np.interp(at, xs, ys))


class Pilot:
    """Power for glide slope, nose for angle of attack, bank for line-up."""

    def __init__(self, plan: Plan, rng, path_height, throttle, elevator, speed):
        self.speed = speed
        self.captured = plan.start == "final"
        self.settled_at = None
        self.plan, self.kind = plan, TYPES[plan.jet]
        self.path_height = path_height  # eye over lens line, a function of x
        self.slope = math.tan(math.radians(plan.site["lens"]["basic_angle_deg"]))
        self.trim_throttle, self.trim_elevator = throttle, elevator
        self.throttle, self.elevator = throttle, elevator
        self.height_sum = self.alpha_sum = self.bank_sum = 0.0
        self.rate = self.acceleration = None
        self.eye_noise, self.hand_noise = Wander(rng, 2.0), Wander(rng, 0.6)
        self.side_noise = Wander(rng, 3.0)
        self.climbing = False
        self.lead = 0.0
        self.phase = plan.start if plan.start != "far" else "upwind"
        self.abeam_at = None

    def fly(self, t, s):
        """Commands (throttle, elevator, aileron) at time t from the state record s."""
        plan = self.plan
        if self.climbing:
            return self._climb(s)
        if self.phase in ("upwind", "crosswind", "outbound", "inbound", "past"):
            return self._cruise(t, s)
        if self.phase == "final":
            bank = self._line_up(t, s)
            error, rate = self._path(s), -s["closure"] * self.slope
            if not self.captured:
                self.captured = error < 4.0 and not plan.passes_by
                error = plan.far_height - s["altitude"] if plan.start == "far" else 0.0
                rate = 0.0
                if s["range"] < 0:
                    self.phase = "past"
            throttle = self._glide(s, error, rate)
        else:
            bank, wanted, descent = self._pattern(t, s)
            throttle = self._glide(s, wanted, -descent)
        if plan.cut and 0 < s["range"] < plan.cut[0]:
            throttle = min(max(throttle + plan.cut[1], 0.0), 1.0)
        target = self.kind.on_speed + look_up(plan.alpha, s["range"]) + self.lead
        if plan.flare and s["range"] < plan.flare[0] and self.phase == "final":
            target += plan.flare[1]
        return throttle, self._nose(s, target), self._bank(s, bank)

    def wave_off(self):
        self.climbing = True
        self.full_from = self.throttle

    def _climb(self, s):
        self.throttle = min(1.0, self.throttle + 1.2 * STEP)
        want = math.radians(10.0)
        alpha = math.degrees(s["alpha"] + 0.8 * (want - s["pitch"]))
        target = min(max(alpha, -2.0), self.kind.on_speed + 1.5)
        return self.throttle, self._nose(s, target), self._bank(s, 0.0)

    def _path(self, s):
        plan = self.plan
        weave = 0.06 * plan.roughness * self.eye_noise.step()
        error = look_up(plan.glide, s["range"]) + weave * min(1.0, max(s["range"], 60.0) / 700.0)
        distance = max(plan.site["lens"]["position_m"][0] - s["eye"][0], 30.0)
        lift = distance * math.tan(math.radians(error)) + plan.aim * self.slope
        return self.path_height(s["eye"][0]) + lift - s["eye"][2]

    def _glide(self, s, height_error, rate_wanted):
        """Power from the height error (m, + too low) and the wanted climb rate."""
        if self.rate is None:
            self.rate, self.acceleration = s["climb"], 0.0
        raw = (s["climb"] - self.rate) / STEP
        self.acceleration += STEP / 0.15 * (raw - self.acceleration)
        self.rate = s["climb"]
        he = max(-12.0, min(12.0, height_error))
        if abs(he) < 3.0:
            self.height_sum = max(-40.0, min(40.0, self.height_sum + he * STEP))
        self.lead = max(-0.6, min(0.6, 0.3 * (rate_wanted + 0.15 * he - s["climb"])))
        ask = 0.03 * he + 0.2 * (rate_wanted - s["climb"]) - 0.2 * self.acceleration
        ask += 0.002 * self.height_sum
        ask *= 0.8 / self.kind.thrust_to_weight
        noise = 0.012 * self.plan.roughness * self.hand_noise.step()
        want = min(1.0, max(0.0, self.trim_throttle + ask + noise))
        change = max(-1.2 * STEP, min(1.2 * STEP, want - self.throttle))
        self.throttle += change
        return self.throttle

    def _nose(self, s, target):
        error = math.radians(target) - s["alpha"]
        self.alpha_sum = max(-0.15, min(0.15, self.alpha_sum + error * STEP))
        want = (
            self.trim_elevator
            - self.kind.elevator_gain * error
            - 4.0 * self.alpha_sum
            + self.kind.rate_gain * s["q"]
        )
        want = max(-1.0, min(1.0, want))
        self.elevator += max(-3 * STEP, min(3 * STEP, want - self.elevator))
        return self.elevator

    def _line_up(self, t, s):
        plan = self.plan
        weave = plan.weave[0] * math.sin(2 * math.pi * t / plan.weave[1])
        noise = 1.2 * plan.roughness * self.side_noise.step() * min(1.0, max(s["range"], 100.0) / 900.0)
        error = s["side"] - look_up(plan.lateral, s["range"]) - weave - noise
        error = max(-60.0, min(60.0, error))
        self.bank_sum = max(-40.0, min(40.0, self.bank_sum + error * STEP))
        ask = 0.07 * error + 0.5 * s["side_rate"] + 0.002 * self.bank_sum
        return math.atan(max(-0.35, min(0.35, -ask / G0)))

    def _bank(self, s, bank):
        aileron = 2.6 * (bank - s["roll"]) - 0.8 * s["p"]
        return max(-1.0, min(1.0, aileron))

    def _cruise(self, t, s):
        """Around the pattern or out and back: nose for height, power for airspeed."""
        plan = self.plan
        far = plan.start == "far"
        height = plan.far_height if far else 600 * FOOT
        ahead = (s["downwind_error"] + 2 * math.pi) % (2 * math.pi) - math.pi
        bank = max(-0.4, min(0.4, 1.2 * ahead))
        if self.phase == "upwind":
            if s["altitude"] > 0.7 * height and self.settled_at is None:
                self.settled_at = t
            if self.settled_at is not None and t - self.settled_at > plan.upwind:
                self.phase = "crosswind"
        elif self.phase == "crosswind":
            bank = -math.radians(27.0)
            if abs(s["downwind_error"]) < math.radians(8.0):
                self.phase = "outbound" if far else "downwind"
        elif self.phase == "outbound":
            bank = max(-0.4, min(0.4, 1.2 * s["downwind_error"]))
            if s["range"] > plan.far:
                self.phase = "inbound"
        elif self.phase == "inbound":
            bank = self._join(s)
        elif s["range"] < -1500.0:
            self.phase = "over"
        climb = max(-3.0, min(6.0, 0.12 * (height - s["altitude"])))
        lift = (self.speed / max(s["airspeed"], 30.0)) ** 2 / max(math.cos(s["roll"]), 0.7)
        zero = self.kind.lift_zero
        target = zero + (self.kind.on_speed - zero) * lift
        target += 0.5 * max(-4.0, min(4.0, climb - s["climb"]))
        target = max(-2.0, min(self.kind.on_speed + 1.5, target))
        want = self.trim_throttle + 0.05 * (self.speed - s["airspeed"]) + 0.06 * climb + 0.08 * abs(bank)
        want = max(0.05, min(1.0, want))
        self.throttle += max(-0.5 * STEP, min(0.8 * STEP, want - self.throttle))
        return self.throttle, self._nose(s, target), self._bank(s, bank)

    def _join(self, s):
        """Bank that brings the jet round onto the centreline; the final begins when it is there."""
        plan = self.plan
        turned = abs(math.degrees(s["course_to_go"]))
        if turned >= 75:
            return -math.radians(plan.turn_bank)
        ahead = max(500.0, min(900.0, s["range"] * 0.6))
        miss = math.atan2(-s["side"], ahead) - s["course_error"]
        ask = 2 * s["closure_total"] ** 2 / math.hypot(ahead, s["side"]) * math.sin(miss)
        if abs(s["course_error"]) < math.radians(8) and abs(s["side"]) < 180:
            self.phase = "final"
            self.height_sum = 0.0
        return max(-math.radians(plan.turn_bank + 4), min(math.radians(20), math.atan(ask / G0)))

    def _pattern(self, t, s):
        """Downwind level, then a descending turn that hands over to the line-up."""
        plan = self.plan
        high, at_ninety = 600 * FOOT, 450 * FOOT
        turned = abs(s["course_to_go"])  # rad still to turn to the landing-area heading
        if self.phase == "downwind":
            if s["abeam_passed"] and self.abeam_at is None:
                self.abeam_at = t
            if self.abeam_at is not None and t - self.abeam_at > plan.turn_delay:
                self.phase = "turn"
            bank = math.radians(1.0) * max(-20, min(20, math.degrees(s["downwind_error"]) * 1.2))
            return bank, high - s["altitude"], 0.0
        wanted = np.interp(math.degrees(turned), [0, 45, 90, 170, 190], [95, 107, at_ninety, 175, high])
        descent = 2.0 if math.degrees(turned) < 160 else 0.6
        bank = self._join(s)
        if math.degrees(turned) < 60:
            over = self._path(s)
            if over < 3.0:
                return bank, over, max(s["closure"], 20.0) * self.slope
            return bank, 0.0, 0.0
        return bank, wanted - s["altitude"], descent
