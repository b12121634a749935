"""The exact figures of a flown pass, from the simulator's own states, in the project's definitions."""

from __future__ import annotations

import math

import numpy as np
from fly_geometry import path_constant, to_geodetic
from fly_jet import TYPES
from fly_plan import Flight

POSITIONS = (("3/4 nm", 1389.0), ("1/2 nm", 926.0), ("1/4 nm", 463.0))


def _at(t, values, when):
    return float(np.interp(when, t, values))


class Seen:
    """A flight in deck and approach axes; ``reference`` is the recorded point in body axes."""

    def __init__(self, flight: Flight, reference, site, pitch_given):
        ship, n = flight.ship, len(flight.time)
        self.flight, self.site, self.n = flight, site, n
        self.t = flight.time
        points = flight.plan.points
        self.own = flight.cg + flight.body @ np.asarray(reference)

        def deck(point, side=1.0):
            x, y, z = point
            at = flight.cg + flight.body @ np.array([x, y * side, z])
            return np.einsum("nji,nj->ni", ship.deck[:n], at - ship.ramp[:n])

        def level(at):
            return np.einsum("nji,nj->ni", ship.level[:n], at - ship.ramp[:n])

        self.hook = deck(points["hook"])
        self.right, self.left = deck(points["main_wheels"]), deck(points["main_wheels"], -1.0)
        self.nose = deck(points["nose_wheel"])
        self.ref = level(self.own)
        self.range, self.side = -self.ref[:, 0], self.ref[:, 1]
        eye = flight.cg + flight.body @ np.asarray(points["eye"])
        self.eye_level, self.eye_deck = level(eye), deck(points["eye"])
        self.eye_height = to_geodetic(eye)[2]
        self.closure = -np.gradient(self.range, self.t)
        self.sink = -np.gradient(to_geodetic(self.own)[2], self.t)
        lens = np.asarray(site["lens"]["position_m"])
        at = ship.ramp[:n] + np.einsum("nij,j->ni", ship.deck[:n], lens)
        self.lens_level, self.lens = level(at), lens
        self.lens_height = to_geodetic(at)[2]
        self.pitch_given = pitch_given

    def on_speed_pitch(self, on_speed, contact):
        """Pitch (rad) of the commanded path: the aircraft file's, else by the definition."""
        if self.pitch_given is not None:
            return math.radians(self.pitch_given)
        far = np.flatnonzero(self.range[:contact] > 1389.0)
        first = int(far[-1]) if len(far) else 0
        inside = (self.range >= 0.0) & (np.arange(self.n) > first) & (np.arange(self.n) < contact)
        ratio = np.median((self.closure / self.flight.channels["airspeed"])[inside])
        return math.radians(on_speed - self.site["lens"]["basic_angle_deg"] * float(ratio))

    def glide_slope_error(self, constant, contact):
        """Degrees, + high, at every sample before the lens."""
        basic = math.radians(self.site["lens"]["basic_angle_deg"])
        kind = self.site["lens"].get("stabilisation", "line")
        if kind == "none":
            up = self.eye_deck[:, 2] - self.lens[2] - constant
            ahead = self.lens[0] - self.eye_deck[:, 0]
        else:
            ahead = self.lens_level[:, 0] - self.eye_level[:, 0]
            if kind == "inertial":
                up = self.eye_height - float(np.mean(self.lens_height[:contact])) - constant
            else:
                up = self.eye_level[:, 2] - self.lens_level[:, 2] - constant
        return np.degrees(np.arctan2(up, ahead) - basic)


def crossing(t, values, i):
    """Time between samples i-1 and i at which values is zero."""
    a, b = values[i - 1], values[i]
    return float(t[i - 1] + (t[i] - t[i - 1]) * a / (a - b))


def contact(seen: Seen):
    """First contact: (kind, time, index of the sample after it, wire) or None."""
    site, plan = seen.site, seen.flight.plan
    hook, t = seen.hook, seen.t
    edge = site["landing_area"]["length_m"]
    wires = site.get("wires")
    for i in range(1, seen.n):
        if min(hook[i, 2], seen.right[i, 2], seen.left[i, 2]) > 1.0:
            continue
        if not plan.hook_down:
            for w in (seen.right, seen.left):
                if w[i, 2] <= 0.0 < w[i - 1, 2] and 0.0 < w[i, 0] < edge:
                    return "wheels", crossing(t, w[:, 2], i), i, None
            continue
        found = []
        if hook[i, 2] <= 0.0 < hook[i - 1, 2] and 0.0 < hook[i, 0] < edge:
            found.append((crossing(t, hook[:, 2], i), "deck", None))
        if wires and plan.deck.wires_live:
            for k, x in enumerate(wires["positions_m"]):
                if not hook[i - 1, 0] <= x < hook[i, 0] or k + 1 in plan.deck.skips:
                    continue
                when = crossing(t, hook[:, 0] - x, i)
                low = _at(t, hook[:, 2], when) <= wires["height_m"]
                if low and abs(_at(t, hook[:, 1], when)) <= site["landing_area"]["width_m"] / 2:
                    found.append((when, "wire", k + 1))
        if found:
            when, kind, wire = min(found, key=lambda f: f[0])
            return kind, when, i, wire
        if hook[i - 1, 0] <= 0.0 < hook[i, 0] and hook[i, 2] <= 0.0:
            return "ramp", crossing(t, hook[:, 0], i), i, None
    return None


def wire_margin(seen: Seen, met):
    """How far (m) the figures are from the next wire's doubt; negative inside it."""
    wires = seen.site.get("wires")
    if not wires or met is None or met[0] not in ("deck", "wire"):
        return None
    kind, when, i, wire = met
    hook, t = seen.hook, seen.t
    slope = (hook[i - 2, 2] - hook[i - 1, 2]) / max(hook[i - 1, 0] - hook[i - 2, 0], 1e-9)
    reach = wires["height_m"] / max(slope, 0.005)
    if kind == "wire":
        x, z = wires["positions_m"][wire - 1], _at(t, hook[:, 2], when)
        contact_x = x + z / max(slope, 0.005)
        return -round(min(contact_x - x, x + reach - contact_x), 2)
    x = _at(t, hook[:, 0], when)
    return round(min(max(w - x, x - w - reach) for w in wires["positions_m"]), 2)


def truth(flight: Flight, reference=(0.0, 0.0, 0.0), site=None, pitch_given=None, offset=0.0):
    """The dictionary of exact figures; ``offset`` is added to every time."""
    site = site or flight.plan.site
    seen = Seen(flight, reference, site, pitch_given)
    plan, t, channels = flight.plan, seen.t, flight.channels
    met = contact(seen)
    end = met[2] if met else seen.n
    pitch = seen.on_speed_pitch(plan.on_speed, end)
    constant = path_constant(site, plan.points, pitch)
    error = seen.glide_slope_error(constant, end)
    alpha = np.degrees(channels["alpha"])

    ramp_at = None
    for i in range(1, seen.n):
        if seen.hook[i - 1, 0] <= 0.0 < seen.hook[i, 0] and abs(seen.hook[i, 1]) < 300:
            ramp_at = crossing(t, seen.hook[:, 0], i)
            break
    limit = min(x for x in (ramp_at, met[1] if met else None, t[-1]) if x is not None)

    def state(name, when, distance):
        return {
            "name": name,
            "range_m": distance,
            "time_s": round(when + offset, 5),
            "glide_slope_error_deg": round(_at(t, error, when), 4),
            "line_up_offset_m": round(_at(t, seen.side, when), 3),
            "angle_of_attack_deg": round(_at(t, alpha, when), 4),
            "sink_mps": round(_at(t, seen.sink, when), 3),
            "closure_mps": round(_at(t, seen.closure, when), 3),
            "after_wave_off": bool(flight.wave_off is not None and when > flight.wave_off),
        }

    positions = []
    for name, distance in POSITIONS:
        past = seen.range - distance
        hits = [i for i in range(1, seen.n) if past[i - 1] > 0.0 >= past[i] and t[i] <= limit + 1e-9]
        if not hits:
            continue
        when = crossing(t, past, hits[-1])
        if abs(_at(t, seen.side, when)) <= 100.0 and when >= 0.0:
            positions.append(state(name, when, distance))

    ramp = None
    if ramp_at is not None:
        ramp = {
            "time_s": round(ramp_at + offset, 5),
            "hook_to_ramp_m": round(_at(t, seen.hook[:, 2], ramp_at), 4),
        }
        positions.append(state("ramp", ramp_at, round(_at(t, seen.range, ramp_at), 3)))

    touchdown = _touchdown(seen, met, alpha, offset)
    wave_off = None
    if flight.wave_off is not None:
        after = (t >= flight.wave_off) & (np.arange(seen.n) < (end if met else seen.n))
        over = after & (seen.hook[:, 0] > 0) & (seen.hook[:, 0] < site["landing_area"]["length_m"])
        wave_off = {
            "start_s": round(flight.wave_off + offset, 5),
            "start_range_m": round(_at(t, seen.range, flight.wave_off), 2),
            "lowest_hook_above_deck_m": round(float(np.min(seen.hook[over, 2])), 3) if over.any() else None,
        }
    outcome, flags = judge(seen, met)
    return {
        "wind_from_deg": plan.wind_from,
        "wind_speed_kt": plan.wind_kt,
        "told_to_fly": list(plan.told),
        "outcome": outcome,
        "flags": flags,
        "wire": flight.wire,
        "wire_in_the_air": bool(met and met[0] == "wire"),
        "wire_margin_m": wire_margin(seen, met),
        "positions": positions,
        "ramp": ramp,
        "touchdown": touchdown,
        "wave_off": wave_off,
        "groove": _groove(seen, met, flight, offset),
        "turn": _turn(seen, flight, offset),
        "on_speed_pitch_deg": round(math.degrees(pitch), 4),
        "path_constant_m": round(constant, 4),
        "turbulence": plan.turbulence,
        "model": TYPES[plan.jet].model,
    }


def _touchdown(seen, met, alpha, offset):
    if met is None or met[0] == "ramp":
        return None
    kind, when, i, wire = met
    t, channels = seen.t, seen.flight.channels
    wheels_at = _wheels(seen, i)

    def before(values):
        """Value at contact carried on from the two samples before it."""
        a, b = values[i - 2], values[i - 1]
        return float(b + (b - a) * (when - t[i - 1]) / (t[i - 1] - t[i - 2]))

    out = {
        "time_s": round(when + offset, 5),
        "kind": kind,
        "hook_x_m": None,
        "off_centre_m": None,
        "sink_mps": None,
        "wheels_x_m": None if wheels_at is None else round(wheels_at, 3),
        "closure_mps": round(float(seen.closure[i - 2]), 3),
        "angle_of_attack_deg": round(before(alpha), 3),
        "pitch_deg": round(math.degrees(before(channels["pitch"])), 3),
    }
    if kind != "wheels":
        x = seen.site["wires"]["positions_m"][wire - 1] if kind == "wire" else before(seen.hook[:, 0])
        out["hook_x_m"] = round(float(x), 3)
        out["off_centre_m"] = round(before(seen.hook[:, 1]), 3)
        z = seen.hook[:, 2]
        out["sink_mps"] = round(float((z[i - 2] - z[i - 1]) / (t[i - 1] - t[i - 2])), 3)
    return out


def _wheels(seen, i):
    """Deck-frame x of the first main wheel to meet the deck, from sample i - 1 on; None if none does."""
    landed = []
    for w in (seen.right, seen.left):
        down = np.flatnonzero(w[max(i - 1, 1) :, 2] <= 0.0)
        if len(down):
            k = int(down[0]) + max(i - 1, 1)
            when = crossing(seen.t, w[:, 2], k) if w[k - 1, 2] > 0.0 else float(seen.t[k])
            landed.append((when, _at(seen.t, w[:, 0], when)))
    return min(landed)[1] if landed else None


def judge(seen, met):
    """Outcome and flags by what the simulator did."""
    flight, plan = seen.flight, seen.flight.plan
    flags = []
    if met is None:
        return "wave-off" if flight.wave_off is not None else None, flags
    kind, when, _, _ = met
    if kind == "ramp":
        return "ramp strike", flags
    if flight.wave_off is not None and flight.wave_off < when:
        flags.append("touched after wave-off")
    half = seen.site["landing_area"]["width_m"] / 2
    side = _at(seen.t, (seen.hook if kind != "wheels" else seen.ref)[:, 1], when)
    outside = abs(side) > half
    field = seen.site.get("kind") == "field"
    if flight.wire is not None:
        outcome = "trap"
    elif flight.stopped is not None:
        outcome = "landing"
    elif field or not plan.hook_down:
        outcome = "touch-and-go"
    else:
        outcome = "bolter"
    if outside:
        outcome = "outside"
    wires = seen.site.get("wires")
    if wires and plan.hook_down and not outside and kind != "wheels":
        past = [k + 1 for k, x in enumerate(wires["positions_m"]) if passes_low(seen, x, wires["height_m"])]
        if past and (flight.wire is None or past[0] < flight.wire):
            flags.append("hook skip")
    return outcome, flags


def passes_low(seen, x, height):
    """Whether the hook point passes a wire's x at or below its height."""
    hook = seen.hook
    for i in range(1, seen.n):
        if hook[i - 1, 0] <= x < hook[i, 0]:
            return _at([hook[i - 1, 0], hook[i, 0]], [hook[i - 1, 2], hook[i, 2]], x) <= height
    return False


def _groove(seen, met, flight, offset):
    t = seen.t
    target = seen.site["lens"]["hook_target_m"]
    line_up = np.degrees(np.arctan2(seen.side, seen.range + target))
    bank = np.degrees(flight.channels["roll"])
    end = min(x for x in (met[1] if met else None, flight.wave_off, t[-1]) if x is not None)
    good = (np.abs(bank) <= 5) & (np.abs(line_up) <= 3) & (seen.range < 1.2 * 1852) & (seen.range > -target)
    for i in np.flatnonzero(good & (t >= 0) & (t <= end)):
        if good[i : i + 121].all():
            return {"start_s": round(float(t[i]) + offset, 3), "seconds": round(end - float(t[i]), 3)}
    return None


def _turn(seen, flight, offset):
    plan, ship, n = flight.plan, flight.ship, seen.n
    if plan.start not in ("downwind", "upwind"):
        return None
    hull = np.einsum("nji,nj->ni", ship.hull[:n], seen.own - ship.point[:n])
    ramp = np.asarray(seen.site["landing_area"]["ramp_m"])
    ahead = hull[:, 0] - ramp[0]
    for i in range(1, n):
        if ahead[i - 1] > 0.0 >= ahead[i] and seen.t[i] > 0:
            when = crossing(seen.t, ahead, i)
            return {
                "abeam_distance_m": round(_at(seen.t, ramp[1] - hull[:, 1], when), 2),
                "abeam_altitude_m": round(_at(seen.t, to_geodetic(seen.own)[2], when), 2),
                "abeam_time_s": round(when + offset, 4),
            }
    return None
