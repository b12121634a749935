"""The pilots of many passes at once: those of ``fly_pilot`` with the faults of ``fly_errors``, (n,) each."""

from __future__ import annotations

import math

import numpy as np
from fly_errors import CHASE_LEAD, LEAST_MOST, Fault
from fly_geometry import FOOT, G0, path_constant
from fly_jet import TYPES
from fly_ship import STEP as FINE

from deckward import aircraft, prediction

#: s between two looks of the pilot; what was flown is laid on the library's finer steps afterwards
STEP = 2.0 * FINE
FILES = {"A4": "sandlark", "F4N": "stormcote"}
DOWNWIND, TURN, FINAL = 0, 1, 2
#: m between the places that a plan's schedules are read at
GRID = 5.0


def schedule(plans, name):
    """A plan's schedule of every flight on even ranges, (n, places)."""
    at = np.arange(0.0, 5000.0, GRID)
    return np.stack([np.interp(at, *zip(*sorted(getattr(plan, name)), strict=True)) for plan in plans])


class Wanders:
    """Slow noise of unit rms, (n,)."""

    def __init__(self, rng, n, seconds):
        self.a = math.exp(-STEP / seconds)
        self.rng, self.value = rng, np.zeros(n)

    def step(self):
        noise = self.rng.standard_normal(self.value.size)
        self.value = self.a * self.value + math.sqrt(1.0 - self.a**2) * noise
        return self.value


class Crew:
    """The pilots of all flights of one jet."""

    def __init__(self, jet, plans, faults, seed):
        self.jet, self.plans, self.kind = jet, plans, TYPES[jet]
        self.model = prediction.model_of(aircraft.load(FILES[jet]))
        self.steady = prediction.trim(
            self.model, path=math.radians(-2.7), alpha=math.radians(self.kind.on_speed)
        )
        n = self.n = len(plans)
        rng = self.rng = np.random.default_rng(seed)
        lenses = [plan.site["lens"] for plan in plans]
        self.slope = np.tan(np.radians([lens["basic_angle_deg"] for lens in lenses]))
        self.lens = np.array([lens["position_m"] for lens in lenses])
        pitch = [math.radians(self.kind.on_speed - lens["basic_angle_deg"] * 0.78) for lens in lenses]
        constant = [path_constant(p.site, p.points, a) for p, a in zip(plans, pitch, strict=True)]
        self.path_zero = self.lens[:, 2] + np.array(constant)
        self.angle = np.radians([plan.site["landing_area"]["angle_deg"] for plan in plans])
        self.aim, self.roughness, self.turn_delay, self.turn_bank = (
            np.array([getattr(plan, name) for plan in plans], dtype=float)
            for name in ("aim", "roughness", "turn_delay", "turn_bank")
        )
        self.gusty = np.array([plan.turbulence for plan in plans])
        self.wave_at = np.array([-np.inf if plan.wave_off is None else plan.wave_off for plan in plans])
        flare = [plan.flare or (-np.inf, 0.0) for plan in plans]
        self.flare_at, self.flare_by = np.array(flare).T
        self.glide, self.alpha, self.lateral = (schedule(plans, k) for k in ("glide", "alpha", "lateral"))
        faults = [fault or Fault("none") for fault in faults]
        self.what = np.array([fault.what for fault in faults])
        self.at, self.seconds, self.size, self.more = (
            np.array([getattr(fault, name) for fault in faults]) for name in ("at", "seconds", "size", "more")
        )
        self.throttle = np.full(n, self.steady.power)
        self.height_sum, self.bank_sum, self.lead, self.sawed = (np.zeros(n) for _ in range(4))
        self.rate = self.acceleration = None
        self.eyes, self.hands, self.sides = (Wanders(rng, n, s) for s in (2.0, 0.6, 3.0))
        self.climbing = np.zeros(n, dtype=bool)
        self.phase = np.where([plan.start == "final" for plan in plans], FINAL, DOWNWIND)
        self.abeam_at = np.full(n, np.nan)
        self.since, self.held = np.full(n, np.nan), np.zeros(n)
        self.over, self.chasing = np.zeros(n, dtype=bool), np.ones(n)
        turned = self.what == "over-rotate"
        self.climb_pitch = 10.0 + np.where(turned, self.size * 1.6, 0.0)
        self.climb_alpha = np.where(turned, self.size, 1.5)

    def read(self, table, distance):
        row = np.clip(distance / GRID, 0, table.shape[1] - 1).astype(int)
        return table[np.arange(self.n), row]

    def fly(self, t, s):
        """Throttle, angle of attack (rad) and bank (rad) at a time (s) from what is seen."""
        before = self.throttle.copy()
        seen = self._seen(s)
        final = self.phase == FINAL
        level_bank, error, rate = self._line_up(seen), self._path(seen), -seen["closure"] * self.slope
        bank, wanted, climb = self._pattern(t, seen)
        bank = np.where(final, level_bank, bank)
        throttle = self._glide(seen, np.where(final, error, wanted), np.where(final, rate, climb))
        target = self.kind.on_speed + self.read(self.alpha, seen["range"]) + self.lead
        target = target + np.where(final & (seen["range"] < self.flare_at), self.flare_by, 0.0)
        own = throttle
        throttle, target, bank, sawing = self._wrong(t, seen, before, throttle, target, bank)
        up, pulled = self._climb(seen, before)
        throttle = np.where(self.climbing, up, throttle)
        # who saws does so on top of what he does anyway
        self.throttle = np.where(sawing, own, throttle)
        return (
            throttle,
            np.radians(np.where(self.climbing, pulled, target)),
            np.where(self.climbing, 0.0, bank),
        )

    def _climb(self, s, before):
        alpha = np.degrees(s["alpha"] + 0.8 * (np.radians(self.climb_pitch) - s["pitch"]))
        return np.minimum(1.0, before + 1.2 * STEP), np.clip(
            alpha, -2.0, self.kind.on_speed + self.climb_alpha
        )

    def _seen(self, s):
        """What is taken for the centreline until it is reached."""
        turning = self.phase != FINAL
        astern, beside = turning & (self.what == "astern"), turning & (self.what == "beside")
        side = s["side"] + np.where(astern, s["range"] * np.tan(self.angle), 0.0)
        side = side - np.where(beside, self.size, 0.0)
        turned = np.degrees(np.abs(s["course_to_go"]))
        low = np.where(
            self.what == "pattern height",
            np.where(self.phase == DOWNWIND, 1.0, np.interp(turned, [155, 172], [0, 1])),
            np.where(self.what == "altimeter", np.interp(turned, [20, 35], [0, 1]), 0.0),
        )
        altitude = s["altitude"] - np.where(turning, low * self.size, 0.0)
        course = s["course_error"] - np.where(astern, self.angle, 0.0)
        return {**s, "side": side, "course_error": course, "altitude": altitude}

    def _path(self, s):
        weave = 0.06 * self.roughness * self.eyes.step()
        error = self.read(self.glide, s["range"]) + weave * np.minimum(
            1.0, np.maximum(s["range"], 60.0) / 700
        )
        distance = np.maximum(self.lens[:, 0] - s["eye_x"], 30.0)
        lift = distance * np.tan(np.radians(error)) + self.aim * self.slope
        return self._path_height(s) + lift - s["eye_z"]

    def _path_height(self, s):
        return self.path_zero + (self.lens[:, 0] - s["eye_x"]) * self.slope

    def _glide(self, s, height_error, rate_wanted):
        if self.rate is None:
            self.rate, self.acceleration = s["climb"], np.zeros(self.n)
        self.acceleration = self.acceleration + STEP / 0.15 * (
            (s["climb"] - self.rate) / STEP - self.acceleration
        )
        self.rate = s["climb"]
        he = np.clip(height_error, -12.0, 12.0)
        summed = np.clip(self.height_sum + he * STEP, -40.0, 40.0)
        self.height_sum = np.where(np.abs(he) < 3.0, summed, self.height_sum)
        self.lead = np.clip(0.3 * (rate_wanted + 0.15 * he - s["climb"]), -0.6, 0.6)
        ask = 0.03 * he + 0.2 * (rate_wanted - s["climb"]) - 0.2 * self.acceleration + 0.002 * self.height_sum
        ask = ask * 0.8 / self.kind.thrust_to_weight
        noise = 0.012 * self.roughness * self.hands.step()
        want = np.clip(self.steady.power + ask + noise, 0.0, 1.0)
        moved = self.throttle + np.clip(want - self.throttle, -1.2 * STEP, 1.2 * STEP)
        return np.clip(moved, self.steady.power + LEAST_MOST[0], self.steady.power + LEAST_MOST[1])

    def _line_up(self, s):
        noise = (
            1.2 * self.roughness * self.sides.step() * np.minimum(1.0, np.maximum(s["range"], 100.0) / 900.0)
        )
        error = np.clip(s["side"] - self.read(self.lateral, s["range"]) - noise, -60.0, 60.0)
        summed = np.clip(self.bank_sum + error * STEP, -40.0, 40.0)
        self.bank_sum = np.where(self.phase == FINAL, summed, self.bank_sum)
        ask = 0.07 * error + 0.5 * s["side_rate"] + 0.002 * self.bank_sum
        return np.arctan(np.clip(-ask / G0, -0.35, 0.35))

    def _pattern(self, t, s):
        """Bank, height error and climb rate of the pattern; starts the turn and the final."""
        high = 600 * FOOT
        down, turn = self.phase == DOWNWIND, self.phase == TURN
        self.abeam_at = np.where(down & s["abeam_passed"] & np.isnan(self.abeam_at), t, self.abeam_at)
        self.phase = np.where(down & (t - self.abeam_at > self.turn_delay), TURN, self.phase)
        level = np.radians(np.clip(1.2 * np.degrees(s["downwind_error"]), -20.0, 20.0))
        turned = np.degrees(np.abs(s["course_to_go"]))
        wanted = np.interp(turned, [0, 45, 90, 170, 190], [95, 107, 450 * FOOT, 175, high]) - s["altitude"]
        descent = np.where(turned < 160, 2.0, 0.6)
        near = turned < 60
        over = self._path_height(s) - s["eye_z"]
        on_path = near & (over < 3.0)
        wanted = np.where(near, over, wanted)
        climb = np.where(on_path, -np.maximum(s["closure"], 20.0) * self.slope, np.where(near, 0.0, -descent))
        bank = self._join(s, turn)
        return (
            np.where(down, level, bank),
            np.where(down, high - s["altitude"], wanted),
            np.where(down, 0.0, climb),
        )

    def _join(self, s, turning):
        """Bank of the arc that ends on the centreline, along it; the final begins when it is there."""
        left, turn = -s["side"], s["course_error"]
        turn = np.where(turn < -math.pi / 2, turn + 2 * math.pi, turn)
        there = (turn < 0) | (left < 0) | (np.abs(turn) < math.radians(6)) | (left < 6.0)
        there &= turning & (np.abs(np.degrees(s["course_to_go"])) < 150)
        self.phase = np.where(there, FINAL, self.phase)
        self.height_sum = np.where(there, 0.0, self.height_sum)
        rate = s["closure_total"] * (1 - np.cos(turn)) / np.maximum(left, 8.0)
        arc = np.minimum(np.radians(self.turn_bank + 8), np.arctan(s["airspeed"] * rate / G0))
        early = (turn > math.radians(120)) | (np.abs(np.degrees(s["course_to_go"])) > 150)
        return -np.where(early, np.radians(self.turn_bank), arc)

    def _wrong(self, t, s, before, throttle, target, bank):
        """The commands with what is done wrong."""
        starts = (self.phase == FINAL) & np.isnan(self.since) & (s["range"] > 0) & (s["range"] < self.at)
        self.since, self.held = np.where(starts, t, self.since), np.where(starts, before, self.held)
        since = np.nan_to_num(t - self.since, nan=-1.0)
        self.over |= since > self.seconds
        on = (since >= 0) & ~self.over & ~self.climbing
        ball = np.degrees(
            (s["eye_z"] - self._path_height(s)) / np.maximum(self.lens[:, 0] - s["eye_x"], 30.0)
        )
        trim, speed, below = self.steady.power, self.kind.on_speed, self._path_height(s) - s["eye_z"]

        def of(*names):
            return on & np.isin(self.what, names)

        def to(wanted, rate=1.2):
            return before + np.clip(np.clip(wanted, 0.0, 1.0) - before, -rate * STEP, rate * STEP)

        rate = np.degrees((s["climb"] + s["closure"] * self.slope) / np.maximum(s["range"], 100.0))
        led = ball + CHASE_LEAD[self.jet] * rate
        chasing = np.where(led > 0.05, -1.0, np.where(led < -0.05, 1.0, self.chasing))
        self.chasing = np.where(of("chase"), chasing, self.chasing)
        saw = np.where((since / np.maximum(self.more, 0.1)) % 1.0 < 0.5, 1.0, -1.0) * self.size - self.sawed
        self.sawed = np.where(of("saw"), self.sawed + np.clip(saw, -2.5 * STEP, 2.5 * STEP), self.sawed)
        burst = trim + np.where(since < 1.3, self.size, -self.more)
        for mask, value in (
            (of("cut"), to(self.held + self.size)),
            (of("leave in"), to(trim + self.size)),
            (of("idle while low"), to(self.size)),
            (of("saw"), np.clip(throttle + self.sawed, 0.0, 1.0)),
            (of("burst"), to(burst, 2.0)),
            (of("nose for ball", "roll"), to(self.held)),
            (of("chase"), to(trim + self.chasing * self.size)),
            (of("push down"), to(self.held - self.size)),
        ):
            throttle = np.where(mask, value, throttle)
        for mask, value in (
            (of("nose for ball"), speed + np.clip(self.more * below, -self.size, self.size)),
            (of("chase"), speed + self.chasing * self.more),
            (of("push down"), speed - self.more),
            (of("nose"), speed + self.size),
        ):  # fmt: skip
            target = np.where(mask, value, target)
        bank = np.where(
            of("roll", "side step"),
            np.radians(self.size) * np.where(since < self.seconds / 2, 1.0, -1.0),
            bank,
        )
        self.over |= of("leave in") & (ball > self.more) | of("idle while low") & (ball < self.more)
        return throttle, target, bank, of("saw")
