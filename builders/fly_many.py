"""Many passes at once by the project's own approach model: other equations, the same pilot.

The pilot of ``fly_pilot`` with the faults of ``fly_errors``, written once more for all flights together,
(n,) each. What was flown becomes a ``Flight`` like the library's, so that the truth is worked out by the
same code; the run on the deck is drawn by hand: a steady pull, or a roll and a lift-off.
"""

from __future__ import annotations

import math

import numpy as np
from fly import SETTLE, start_state
from fly_deck import RUNOUT, STATIC_COMPRESSION
from fly_errors import CHASE_LEAD, LEAST_MOST, Fault
from fly_geometry import (
    FOOT,
    G0,
    euler_angles,
    euler_matrix,
    local_axes,
    path_constant,
    to_earth_centred,
    to_geodetic,
)
from fly_jet import TYPES, wind_vector
from fly_pilot import Turbulence
from fly_plan import Flight
from fly_ship import STEP, sail

from deckward import aircraft, prediction

FILES = {"A4": "sandlark", "F4N": "stormcote"}
FLIP = np.diag([1.0, 1.0, -1.0])
DOWNWIND, TURN, FINAL = 0, 1, 2
#: m between the places that a plan's schedules are read at
GRID = 5.0
LOGGED = ("x", "y", "z", "pitch", "roll", "heading", "alpha", "airspeed", "throttle", "power")


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
    plan, flown = crew.plans[k], dict(zip(LOGGED, log.T, strict=True))
    n = log.shape[0]
    ship = sail(plan.ship, plan.site, -SETTLE, (n + 1600) * STEP)
    place = np.stack([flown["x"], flown["y"], flown["z"]], axis=-1)
    cg = ship.steady_ramp[:n] + np.einsum("nij,nj->ni", ship.level[:n], place)
    body = ship.level[:n] @ FLIP @ euler_matrix(flown["heading"], flown["pitch"], flown["roll"])
    met = _contact(plan, ship, cg, body)
    wire = engaged = stopped = None
    extra = {name: flown[name] for name in ("alpha", "airspeed", "throttle", "power")}
    on_wheels = np.zeros(n)
    if met is not None and _struck(plan, ship, met, cg, body):
        # what is left of it is not drawn
        n = met + 6
        cg, body, on_wheels = cg[:n], body[:n], np.zeros(n)
        extra, met = {name: values[:n] for name, values in extra.items()}, None
    elif met is not None:
        cg, body, extra, on_wheels, (wire, engaged, stopped) = _on_deck(plan, ship, met, cg, body, extra)
        n = len(cg)
    latitude, longitude, _ = to_geodetic(cg)
    ned = local_axes(latitude, longitude)
    velocity = np.einsum("nji,nj->ni", ned, np.gradient(cg, STEP, axis=0))
    yaw, pitch, roll = euler_angles(np.einsum("nji,njk->nik", ned, body))
    pull = np.gradient(velocity, STEP, axis=0) - np.array([0.0, 0.0, G0])
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


def _contact(plan, ship, cg, body):
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


def _struck(plan, ship, met, cg, body):
    """Whether the contact is the ramp's: the hook comes over it well below the deck."""
    hook = ship.deck[met].T @ (cg[met] + body[met] @ np.array(plan.points["hook"]) - ship.ramp[met])
    return hook[0] < 1.0 and hook[2] < -0.02


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


def _on_deck(plan, ship, met, cg, body, extra):
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
