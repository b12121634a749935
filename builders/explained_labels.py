"""Which faults a flight really shows: the rulebook's own bounds held against the simulator's own states.

A flight that was told to have a fault is a positive only where this says so; the product's detectors
have no part in it. The bounds are read from the table of rules. Here: the approach.
"""

from __future__ import annotations

import tomllib
from functools import cache
from itertools import pairwise
from pathlib import Path

import explained_labels_deck as on_deck
import explained_labels_pattern as pattern
import numpy as np
from explained_shown import G0, Shown, turning_points
from fly_geometry import FOOT, NAUTICAL_MILE

RULES = Path(__file__).parents[1] / "src/deckward/explanation/rules.toml"


def held_off(s, r, side):
    """Angle of attack beyond the band, gusts averaged out."""
    edge = s.band[1] - s.on_speed if side > 0 else s.on_speed - s.band[0]
    rows = s.in_groove & (s.range < r["within_nm"] * NAUTICAL_MILE) & (s.to_ramp > r["before_ramp_s"])
    off = side * s.mean(s.slow, r["mean_s"])
    return s.lasts(rows & (off > r["beyond_bands"] * edge)) >= r["held_s"]


def nose_for_ball(s, r):
    """The nose leaves where it was, the way the ball asks for, and the power does not."""
    attack = s.mean(s.slow, 1.0)
    rows = s.in_groove & (s.to_ramp > r["before_ramp_s"]) & (np.abs(s.ball) > r["ball_deg"])
    wanted = -np.sign(s.ball)
    moved = np.full(s.t.size, np.nan)
    for i in np.flatnonzero(rows):
        usual = s.between(s.t[i] - 8.0, s.t[i] - 2.0)
        if usual.any():
            moved[i] = wanted[i] * (attack[i] - np.median(attack[usual]))
    for run in s.runs(rows & (moved > r["nose_deg"]), r["held_s"]):
        start = s.t[run][0]
        before = s.between(start - 1.2, start - 0.4)
        if before.any():
            helped = wanted[run][0] * (s.power[run].mean() - s.power[before].mean())
            if helped < r["power_weights"]:
                return True
    return False


def left_in(s, r):
    """From below: the ball is back, power is still on, and the ball goes through."""
    rows = s.in_groove & (s.ball > -r["near_deg"]) & (s.climb > 0.0) & (s.power > r["power_weights"])
    for run in s.runs(rows, r["held_s"]):
        start = s.t[run][0]
        was = s.in_groove & s.between(start - r["within_s"], start)
        then = s.in_groove & s.between(start, start + r["then_s"])
        if np.nanmin(s.ball[was]) < -r["low_deg"] and np.nanmax(s.ball[then]) > r["ends_high_deg"]:
            return True
    return False


def idle(s, r):
    """Power far off while the ball falls, and it falls through."""
    rows = s.in_groove & (s.power < -r["below_weights"]) & (s.climb < 0.0)
    for run in s.runs(rows, r["held_s"]):
        then = s.in_groove & s.between(s.t[run][0], s.t[run][-1] + r["then_s"])
        if -s.climb[run].min() > r["falls_fps"] * FOOT and np.nanmin(s.ball[then]) < -r["ball_deg"]:
            return True
    return False


def sawing(s, r):
    rows = np.flatnonzero(s.in_groove)
    if rows.size < 40:
        return False
    turns = s.t[rows[turning_points(s.arrays["throttle"][rows], r["stroke_part"])]]
    n = int(r["strokes"])
    return any(turns[k + n] - turns[k] <= r["within_s"] for k in range(len(turns) - n))


def cut_at_ramp(s, r):
    """Off at the ramp and left off to contact: the mean from there on against the most just before."""
    if s.ramp_at is None:
        return False
    end = min(s.until, s.ramp_at + 1.5)
    hand = s.arrays["throttle"]
    smooth = s.mean(hand, 0.4)
    usual = np.median(hand[s.in_groove]) if s.in_groove.any() else 1.0
    for i in np.flatnonzero(s.aloft & (s.to_ramp < r["before_ramp_s"]) & (s.t < end - r["held_s"])):
        left = hand[s.between(s.t[i], end)].mean()
        before = smooth[s.between(s.t[i] - r["fell_within_s"], s.t[i])].max()
        cut = before - left
        # from where the hand is more than half way there
        if hand[i] < before - 0.5 * cut and left < usual - r["below_part"] and cut > r["cut_part"]:
            return True
    return False


def flared(s, r):
    if s.down is None or s.ramp_at is None or s.until < s.down:
        return False
    first = s.ramp_at - r["before_ramp_s"]
    before, rows = s.in_groove & s.between(first - 3.0, first), s.between(first, s.down - 0.02)
    if before.sum() < 10 or rows.sum() < 5:
        return False
    up = s.pitch[rows].max() - s.pitch[before].mean()
    less = s.sink[before].mean() - s.sink[rows & (s.t < s.down - 0.06)].min()
    return up > r["pitch_deg"] and less > r["sink_fps"] * FOOT


def dived(s, r):
    if s.ramp_at is None:
        return False
    first = s.ramp_at - r["before_ramp_s"]
    before = s.in_groove & s.between(first - r["before_ramp_s"], first)
    rows = s.aloft & s.between(first, s.ramp_at + 0.8)
    if before.sum() < 20:
        return False
    down, sink = np.median(s.pitch[before]) - s.pitch, np.median(s.sink[before])
    return any(
        s.sink[s.aloft & s.between(s.t[run][0], s.t[run][-1] + 1.5)].max() - sink > r["sink_fps"] * FOOT
        for run in s.runs(rows & (down > r["pitch_deg"]), 0.3)
    )


def brought_down(s, r):
    rows = s.in_groove & (s.to_ramp < r["from_s"]) & (s.to_ramp > 0.0)
    high = np.flatnonzero(rows & (s.ball > r["high_deg"]) & (s.to_ramp > r["to_s"]))
    if not high.size:
        return False
    falling = rows & (np.arange(s.t.size) >= high[0]) & (-s.climb > r["falls_fps"] * FOOT)
    for run in s.runs(falling, r["held_s"]):
        before = np.nanmax(s.ball[high[0] : run.start + 1])
        if before - np.nanmin(s.ball[rows & (s.t >= s.t[run][0])]) > r["drop_deg"]:
            return True
    return False


def low(s, r):
    rows = s.in_groove & (s.to_ramp < r["before_ramp_s"]) & (s.to_ramp > 0)
    return s.lasts(rows & (s.ball < -r["low_deg"])) >= r["held_s"]


def late_wave_off(s, r):
    off = s.about["wave_off"]
    if not off:
        return False
    lowest = off["lowest_hook_above_deck_m"]
    late = s.ramp_at is not None and s.ramp_at - off["start_s"] < r["before_ramp_s"]
    return late or (lowest is not None and lowest < r["hook_ft"] * FOOT) or s.down is not None


def over_rotated(s, r):
    off = s.about["wave_off"]
    if not off:
        return False
    length = s.about["site"]["landing_area"]["length_m"]
    rows = (s.t >= off["start_s"]) & (s.t < (np.inf if s.down is None else s.down))
    rows &= (s.hook[:, 0] > -400.0) & (s.hook[:, 0] < length) & (s.hook[:, 2] < r["hook_ft"] * FOOT)
    return s.lasts(rows & (s.mean(s.slow, 0.8) > r["above_on_speed_deg"])) >= r["held_s"]


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


def burst_then_cut(s, r):
    rows = s.in_groove & (s.to_ramp < r["before_ramp_s"])
    cuts = s.runs(rows & (s.power < -r["cut_weights"]), r["cut_held_s"])
    for run in s.runs(rows & (s.power > r["burst_weights"]), r["burst_held_s"]):
        was = s.in_groove & s.between(s.t[run][0] - r["low_before_s"], s.t[run][-1])
        last = s.t[run][-1]
        if np.nanmin(s.ball[was]) < -r["low_deg"] and any(
            last <= s.t[cut][0] and s.t[cut][0] + r["cut_held_s"] <= last + r["within_s"] for cut in cuts
        ):
            return True
    return False


def rolled(s, r):
    """A bank that costs so much sink, with the throttle not moved up for it."""
    rows = s.in_groove & (s.range > 60.0) & (s.mean(np.abs(s.bank), 0.3) > r["bank_deg"])
    for run in s.runs(rows, r["held_s"]):
        lost = float(np.sum(1 - np.cos(np.radians(s.bank[run])))) * s.step * G0 / FOOT
        before = s.between(s.t[run][0] - 2.0, s.t[run][0] - 0.7)
        more = s.power[run].mean() - s.power[before].mean() if before.any() else 1.0
        if lost > r["sink_fps"] and more < r["power_weights"]:
            return True
    return False


def drifted(s, r):
    """Wings level while the jet goes away from the centreline."""
    away = np.sign(s.side) * s.mean(s.across, 0.5)
    rows = s.in_groove & (s.to_ramp < r["before_ramp_s"]) & (s.mean(np.abs(s.bank), 1.0) < r["bank_deg"])
    return any(
        np.abs(s.side[run][-1]) > r["offset_ft"] * FOOT and away[run].mean() > r["drift_fps"] * FOOT
        for run in s.runs(rows & (away > 0.5 * r["drift_fps"] * FOOT), r["held_s"])
    )


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


APPROACH = {
    "slow-held": lambda s, r: held_off(s, r, 1),
    "fast-held": lambda s, r: held_off(s, r, -1),
    "nose-for-ball": nose_for_ball,
    "power-left-in": left_in,
    "power-idle": idle,
    "power-sawing": sawing,
    "power-cut-at-ramp": cut_at_ramp,
    "chased-ball": chased,
    "flared": flared,
    "dived": dived,
    "high-brought-down": brought_down,
    "low-in-window": low,
    "late-wave-off": late_wave_off,
    "burst-then-cut": burst_then_cut,
    "over-rotated": over_rotated,
    "roll-without-power": rolled,
    "drifted": drifted,
    "late-line-up": late_line_up,
}
PASSES = {**APPROACH, **pattern.LABELS, **on_deck.LABELS}
LABELS = {**PASSES, **on_deck.LAUNCHES}
#: what is written into the recordings of clean flights, and what those that show nothing are called
ON_DECK = {*on_deck.LABELS, "taxied", "wheel-brake-later"} - {"hook-skip"}


@cache
def _rules():
    return tomllib.loads(RULES.read_text())


def labels(arrays, about) -> dict[str, bool]:
    """Say of every code whether the flight shows it."""
    rules = _rules()
    if "launch" in about:
        return {code: bool(look(arrays, about, rules[code])) for code, look in on_deck.LAUNCHES.items()}
    shown = Shown(arrays, about)
    return {code: bool(look(shown, rules[code])) for code, look in PASSES.items()}


def came(about) -> bool:
    """Whether a flight came near the centreline: one that never did flew no pass."""
    return "launch" in about or (
        bool(about["positions"]) and abs(about["positions"][-1]["line_up_offset_m"]) < 40.0
    )


#: where a pass that was told to be clean was flown so: deg of glide slope
FLOWN_CLEAN = {"3/4 nm": 0.6, "1/2 nm": 0.5, "1/4 nm": 0.4, "ramp": 0.5}


def clean(about, shown) -> bool:
    """Whether a pass that was told to be clean was flown so, and shows no fault."""
    return (
        about["outcome"] == "trap"
        and not any(shown.values())
        and all(
            abs(at["glide_slope_error_deg"]) < FLOWN_CLEAN[at["name"]] and abs(at["line_up_offset_m"]) < 9.0
            for at in about["positions"]
        )
    )
