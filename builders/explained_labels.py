"""Which faults a flight really shows: the rulebook's own bounds held against the simulator's own states.

A flight that was told to have a fault is a positive only where this says so; the product's detectors
have no part in it. Everything is worked out from the exact samples that ``explained.py`` wrote and from
the truth beside them, with the geometry of ``fly_geometry``; the bounds are read from the table of rules.
"""

from __future__ import annotations

import math
import tomllib
from itertools import pairwise
from pathlib import Path

import numpy as np
from fly_geometry import FOOT, NAUTICAL_MILE, euler_matrix, local_axes, to_earth_centred, turn_to_port

RULES = Path(__file__).parents[1] / "src/deckward/explanation/rules.toml"
G0 = 9.80665


class Shown:
    """A flight in approach and deck axes; metres, degrees, seconds, (n,)."""

    def __init__(self, arrays, about):
        self.about, site = about, about["site"]
        self.t = np.asarray(arrays["time"])
        degrees = np.degrees
        ship_latitude, ship_longitude = degrees(arrays["ship_latitude"]), degrees(arrays["ship_longitude"])
        own = to_earth_centred(degrees(arrays["latitude"]), degrees(arrays["longitude"]), arrays["altitude"])
        ship = to_earth_centred(ship_latitude, ship_longitude, arrays["ship_altitude"])
        ned, zero = local_axes(ship_latitude, ship_longitude), np.zeros(self.t.size)
        heading = arrays["ship_heading"]
        area, up = site["landing_area"], np.diag([1.0, 1.0, -1.0])
        self.angle = area["angle_deg"]
        hull = ned @ euler_matrix(heading, arrays["ship_pitch"], arrays["ship_roll"])
        ramp = ship + hull @ np.array(area["ramp_m"])
        level = ned @ euler_matrix(heading - math.radians(self.angle), zero, zero) @ up
        deck = hull @ turn_to_port(math.radians(self.angle)) @ up
        body = local_axes(degrees(arrays["latitude"]), degrees(arrays["longitude"])) @ euler_matrix(
            arrays["heading"], arrays["pitch"], arrays["roll"]
        )
        points = about["aircraft"]["points_m"]
        at = np.einsum("nji,nj->ni", level, own - ramp)
        self.range, self.side = -at[:, 0], at[:, 1]
        self.hook = np.einsum("nji,nj->ni", deck, own + body @ np.array(points["hook"]) - ramp)
        eye = np.einsum("nji,nj->ni", level, own + body @ np.array(points["eye"]) - ramp)
        lens = np.array(site["lens"]["position_m"])
        self.line_up = degrees(np.arctan2(self.side, self.range + site["lens"]["hook_target_m"]))
        self.course = degrees(np.arctan2(np.gradient(self.side, self.t), -np.gradient(self.range, self.t)))
        self.across = np.gradient(self.side, self.t)
        self.bank = degrees(arrays["roll"])
        self.slow = degrees(arrays["angle_of_attack"]) - about["aircraft"]["approach"]["on_speed_deg"]
        self.throttle = np.asarray(arrays["throttle"])
        self.altitude = np.asarray(arrays["altitude"])
        self.to_turn = np.abs((degrees(heading - arrays["heading"]) - self.angle + 180.0) % 360.0 - 180.0)
        # the constant of the pass: so that the eye is as far off the path as the truth says
        basic = math.radians(site["lens"]["basic_angle_deg"])
        deck_lens = ramp + np.einsum("nij,j->ni", deck, lens)
        lens_level = np.einsum("nji,nj->ni", level, deck_lens - ramp)
        ahead, over = lens_level[:, 0] - eye[:, 0], eye[:, 2] - lens_level[:, 2]
        self.ball = np.full(self.t.size, np.nan)
        known = [p for p in about["positions"] if p["name"] != "ramp"] or about["positions"]
        if known:
            when, error = known[-1]["time_s"], math.radians(known[-1]["glide_slope_error_deg"])
            there = np.interp(when, self.t, ahead)
            constant = np.interp(when, self.t, over) - there * math.tan(basic + error)
            seen = ahead > 5.0
            self.ball[seen] = degrees(np.arctan2(over - constant, ahead) - basic)[seen]
        ends = [
            about["touchdown"] and about["touchdown"]["time_s"],
            about["wave_off"] and about["wave_off"]["start_s"],
        ]
        self.until = min([x for x in ends if x] or [self.t[-1]])
        ramp_at = about["ramp"]["time_s"] if about["ramp"] else None
        self.to_ramp = (ramp_at if ramp_at is not None else np.inf) - self.t
        groove = about["groove"]
        self.groove_start = groove["start_s"] if groove else np.inf
        self.aloft = self.t < self.until
        self.in_groove = self.aloft & (self.t >= self.groove_start)

    def lasts(self, mask) -> float:
        """Seconds of the longest run of a mask."""
        edges = np.flatnonzero(np.diff(np.concatenate([[False], mask, [False]]).astype(int))).reshape(-1, 2)
        return max((float(self.t[b - 1] - self.t[a]) for a, b in edges), default=-1.0)

    def at(self, values, when):
        return float(np.interp(when, self.t, values))


def _off_side(s, r):
    """Samples beyond the near bound with the nose somewhere near the landing area."""
    return s.aloft & (s.range < 1.2 * NAUTICAL_MILE) & (s.range > r["beyond_nm"] * NAUTICAL_MILE)


def undershot(s, r):
    rows = _off_side(s, r) & (np.abs(s.bank) < r["bank_deg"]) & (np.abs(s.course) < 30.0)
    rows &= (s.line_up < -r["line_up_deg"]) & (s.side < -r["offset_ft"] * FOOT)
    # up the wake from the start is another fault; to cross it on the way back is not
    if astern(s, {**r, "held_s": r["wake_held_s"], "beyond_nm": r["wake_beyond_nm"]}):
        return False
    return bool(s.about["turn"]) and s.lasts(rows) >= r["held_s"]


def overshot(s, r):
    rows = _off_side(s, r) & (np.abs(s.course) < 80.0)
    rows &= (s.line_up > r["line_up_deg"]) & (s.side > r["offset_ft"] * FOOT)
    return bool(s.about["turn"]) and s.lasts(rows) >= 0.5


def astern(s, r):
    """Follows the wake: on it, and going along it, wings level."""
    left = np.degrees(np.arctan2(-s.side, s.range))
    near = r["of_angle"] * s.angle
    rows = _off_side(s, r) & (np.abs(s.bank) < r["bank_deg"])
    rows &= (np.abs(left - s.angle) < near) & (np.abs(s.course - s.angle) < near)
    return s.lasts(rows) >= r["held_s"]


def _groove(s):
    groove, down = s.about["groove"], s.about["touchdown"]
    return groove["seconds"] if groove and down and s.about["turn"] and not s.about["wave_off"] else None


def abeam(s, r):
    turn = s.about["turn"]
    off = turn and turn["abeam_distance_m"] / NAUTICAL_MILE
    return bool(turn) and not r["least_nm"] <= off <= r["most_nm"]


def altitude(s, r):
    turn = s.about["turn"]
    return bool(turn) and abs(turn["abeam_altitude_m"] / FOOT - r["abeam_ft"]) > r["off_ft"]


def barometric(s, r):
    """The same error at the abeam, the ninety and after it, and held level before the turn."""
    turn = s.about["turn"]
    if not turn:
        return False
    off = [turn["abeam_altitude_m"] / FOOT - r["abeam_ft"]]
    later = s.t > turn["abeam_time_s"]
    for left, wanted in ((90.0, r["ninety_ft"]), (45.0, r["forty_five_ft"])):
        rows = np.flatnonzero(later & (s.to_turn < left))
        if not rows.size:
            return False
        off.append(float(s.altitude[rows[0]]) / FOOT - wanted)
    return (
        min(abs(o) for o in off[:2]) > r["off_ft"]
        and abs(off[0] - off[1]) < r["same_ft"]
        and off[0] * off[1] > 0
        and off[0] * off[2] > 0
    )


def chased(s, r):
    """Half swings of the ball through the middle, one after the other."""
    rows = s.in_groove & (s.range < r["within_nm"] * NAUTICAL_MILE) & (s.to_ramp > 0.5) & np.isfinite(s.ball)
    ball = s.ball[rows]
    if ball.size < 20:
        return False
    peaks, best = [], ball[0]
    for value in ball[1:]:
        if value * best < 0:
            peaks.append(best)
            best = value
        elif abs(value) > abs(best):
            best = value
    peaks.append(best)
    return sum(abs(a - b) >= r["swing_deg"] for a, b in pairwise(peaks)) >= r["swings"]


def low(s, r):
    rows = s.in_groove & (s.to_ramp < r["before_ramp_s"]) & (s.to_ramp > 0)
    return s.lasts(rows & (s.ball < -r["low_deg"])) >= r["held_s"]


def over_rotated(s, r):
    off = s.about["wave_off"]
    if not off:
        return False
    contact = s.about["touchdown"]["time_s"] if s.about["touchdown"] else np.inf
    length = s.about["site"]["landing_area"]["length_m"]
    rows = (s.t >= off["start_s"]) & (s.t < contact) & (s.hook[:, 2] < r["hook_ft"] * FOOT)
    rows &= (s.hook[:, 0] > -400.0) & (s.hook[:, 0] < length)
    return s.lasts(rows & (s.slow > r["above_on_speed_deg"])) >= r["held_s"]


def rolled(s, r):
    """A bank that costs so much sink, with the throttle not moved up for it."""
    rows = s.in_groove & (s.range > 60.0) & (np.abs(s.bank) > r["bank_deg"])
    edges = np.flatnonzero(np.diff(np.concatenate([[False], rows, [False]]).astype(int))).reshape(-1, 2)
    for a, b in edges:
        lost = float(np.sum(1 - np.cos(np.radians(s.bank[a:b])))) * (s.t[1] - s.t[0]) * G0 / FOOT
        before = (s.t > s.t[a] - 2.0) & (s.t < s.t[a] - 0.7)
        more = float(s.throttle[a:b].mean() - s.throttle[before].mean()) if before.any() else 1.0
        if s.t[b - 1] - s.t[a] >= r["held_s"] and lost > r["sink_fps"] and more * 0.6 < r["power_weights"]:
            return True
    return False


def late_line_up(s, r):
    rows = s.in_groove & (s.to_ramp < r["before_ramp_s"]) & (s.range > -50)
    if not rows.any():
        return False
    off = s.side[rows][0]
    back = -np.sign(off)
    return (
        abs(off) > r["offset_ft"] * FOOT
        and float(np.max(back * s.bank[rows])) > r["bank_deg"]
        and float(np.max(back * s.across[rows])) > r["drift_fps"] * FOOT
    )


LABELS = {
    "undershot-start": undershot, "overshot-start": overshot, "straight-astern": astern,
    "short-groove": lambda s, r: (g := _groove(s)) is not None and g < r["seconds_s"],
    "long-groove": lambda s, r: (g := _groove(s)) is not None and g > r["seconds_s"],
    "abeam-distance": abeam, "pattern-altitude": altitude, "barometric-error": barometric,
    "chased-ball": chased, "low-in-window": low, "over-rotated": over_rotated,
    "roll-without-power": rolled, "late-line-up": late_line_up,
    "hook-skip": lambda s, _: "hook skip" in s.about.get("flags", ()),
}  # fmt: skip


def labels(arrays, about) -> dict[str, bool]:
    """Say of each code that can be told so whether the flight shows it."""
    rules = tomllib.loads(RULES.read_text())
    shown = Shown(arrays, about)
    # who never came near the centreline flew no pass
    came = bool(about["positions"])
    return {code: came and bool(look(shown, rules[code])) for code, look in LABELS.items()}
