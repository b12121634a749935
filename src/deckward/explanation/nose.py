"""Nose and path: angle of attack held off, nose for the ball, flare, dive, and what is done near the ramp."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from deckward.explanation.hits import Detector, Hit, degrees, feet
from deckward.explanation.rules import Rule
from deckward.explanation.view import STEP, View, averaged, stretches, swings
from deckward.foundation.statistics import median


def _held_off(view: View, rule: Rule, side: int) -> Iterator[Hit]:
    profile = view.flown.aircraft
    edge = profile.band[1] - profile.on_speed if side > 0 else profile.on_speed - profile.band[0]
    limit = rule["beyond_bands"] * edge
    error = side * averaged(view.raw_attack, rule["mean"])
    # what is pulled or pushed at the ramp is a flare or a dive
    rows = view.groove & (view.range < rule["within"]) & (view.to_ramp > rule["before_ramp"])
    for part in stretches(rows & (error > limit), rule["held"]):
        mean = float(error[part].mean())
        yield Hit(
            float(view.time[part][0]),
            float(view.time[part][-1]),
            mean / limit,
            {"mean_error_deg": side * degrees(mean), "limit_deg": side * degrees(limit)},
        )


def _slow_held(view: View, rule: Rule) -> Iterator[Hit]:
    yield from _held_off(view, rule, 1)


def _fast_held(view: View, rule: Rule) -> Iterator[Hit]:
    yield from _held_off(view, rule, -1)


def _usual_before(values: np.ndarray, rows: np.ndarray) -> np.ndarray:
    """Median of the eight to two seconds before each row; at first, of what there is."""
    near, far = round(2.0 / STEP), round(8.0 / STEP)
    padded = np.concatenate([np.full(far, values[0]), values])
    # every fifth sample: angle of attack is averaged over more than that
    windows = np.lib.stride_tricks.sliding_window_view(padded, far - near)[rows, ::5]
    return median(windows, axis=1)


def _nose_for_ball(view: View, rule: Rule) -> Iterator[Hit]:
    off = view.groove & (view.to_ramp > rule["before_ramp"]) & (np.abs(view.ball) > rule["ball"])
    rows = np.flatnonzero(off)
    if not rows.size:
        return
    nose = np.full(view.time.size, np.nan)
    nose[rows] = -np.sign(view.ball[rows]) * (view.attack[rows] - _usual_before(view.attack, rows))
    for part in stretches(off & (nose > rule["nose"]), rule["held"]):
        start, end = float(view.time[part][0]), float(view.time[part][-1])
        before = view.inside(start - 1.2, start - 0.4)
        if not before.any():
            continue
        ball = float(view.ball[part][0])
        helps = -np.sign(ball) * float(view.power.best[part].mean() - view.power.best[before].mean())
        if helps < rule["power_weights"]:
            most = float(nose[part].max())
            yield Hit(
                start,
                end,
                most / rule["nose"],
                {
                    "nose_deg": degrees(float(-np.sign(ball)) * most),
                    "ball_deg": degrees(ball),
                    "power_helped_weights": round(helps, 3),
                },
            )


def _flared(view: View, rule: Rule) -> Iterator[Hit]:
    touch = view.flown.touchdown
    if touch is None or view.until < touch.time - 0.1 or not view.measured("pitch"):
        return
    ramp = touch.time if view.ramp_time is None else view.ramp_time
    first = ramp - rule["before_ramp"]
    before = view.groove & view.inside(first - 3.0, first)
    rows = view.inside(first, touch.time - 0.02)
    if before.sum() < 10 or rows.sum() < 10:
        return
    up = float(np.nanmax(view.pitch[rows]) - np.nanmean(view.pitch[before]))
    less = float(np.nanmean(view.sink[before]) - np.nanmin(view.sink[rows]))
    if up > rule["pitch"] and less > rule["sink"]:
        yield Hit(
            float(view.time[rows][0]),
            touch.time,
            up / rule["pitch"],
            {"pitch_up_deg": degrees(up), "sink_less_fps": feet(less)},
        )


def _dived(view: View, rule: Rule) -> Iterator[Hit]:
    ramp = view.ramp_time
    if ramp is None or not view.measured("pitch"):
        return
    rows = view.aloft & view.inside(ramp - rule["before_ramp"], ramp + 0.8)
    before = view.groove & view.inside(ramp - 2 * rule["before_ramp"], ramp - rule["before_ramp"])
    if before.sum() < 20 or rows.sum() < 20:
        return
    level, sink = (float(median(v[before & np.isfinite(v)])) for v in (view.pitch, view.sink))
    down = level - view.pitch
    for part in stretches(rows & (down > rule["pitch"]), 0.3):
        later = view.inside(float(view.time[part][0]), float(view.time[part][-1]) + 1.5) & view.aloft
        more = float(np.nanmax(view.sink[later])) - sink
        if more > rule["sink"]:
            yield Hit(
                float(view.time[part][0]),
                float(view.time[part][-1]),
                float(down[part].max()) / rule["pitch"],
                {"pitch_down_deg": degrees(float(down[part].max())), "sink_more_fps": feet(more)},
            )


def _high_brought_down(view: View, rule: Rule) -> Iterator[Hit]:
    rows = view.groove & (view.to_ramp < rule["from"]) & (view.to_ramp > -0.1)
    high = rows & (view.ball > rule["high"]) & (view.to_ramp > rule["to"])
    if not high.any():
        return
    first = int(np.flatnonzero(high)[0])
    falling = rows & (np.arange(view.time.size) >= first) & (-view.path_rate > rule["falls"])
    for part in stretches(falling, rule["held"]):
        top = float(np.nanmax(view.ball[first : part.start + 1]))
        end = int(np.flatnonzero(rows)[-1])
        bottom = float(np.nanmin(view.ball[part.start : end + 1]))
        dropped = float(view.height_error[part.start] - np.nanmin(view.height_error[part.start : end + 1]))
        if top - bottom > rule["drop"] and top > rule["high"]:
            yield Hit(
                float(view.time[part][0]),
                float(view.time[part][-1]),
                float(np.max(-view.path_rate[part])) / rule["falls"],
                {
                    "high_deg": degrees(top),
                    "brought_to_deg": degrees(bottom),
                    "height_lost_ft": feet(dropped),
                },
            )


def _low_in_window(view: View, rule: Rule) -> Iterator[Hit]:
    rows = view.groove & (view.to_ramp < rule["before_ramp"]) & (view.to_ramp > 0)
    for part in stretches(rows & (view.ball < -rule["low"]), rule["held"]):
        lowest = float(view.ball[part].min())
        yield Hit(
            float(view.time[part][0]),
            float(view.time[part][-1]),
            -lowest / rule["low"],
            {"lowest_deg": degrees(lowest), "low_ft": feet(float(view.height_error[part].min()))},
        )


def _late_wave_off(view: View, rule: Rule) -> Iterator[Hit]:
    wave_off, ramp = view.flown.wave_off, view.ramp_time
    if wave_off is None:
        return
    before = np.inf if ramp is None else ramp - wave_off.start
    lowest = wave_off.lowest_hook_above_deck
    late = before < rule["before_ramp"]
    low = lowest is not None and lowest < rule["hook"]
    if not late and not low and "touched after wave-off" not in view.flown.flags:
        return
    yield Hit(
        wave_off.start,
        wave_off.start + max(before, 0.5) if np.isfinite(before) else wave_off.start + 1.0,
        2.0 if low else 1.0 + max(0.0, 1.0 - before / rule["before_ramp"]),
        {
            "before_ramp_s": round(float(before), 2) if np.isfinite(before) else None,
            "lowest_hook_ft": None if lowest is None else feet(lowest),
        },
        "on the wave-off",
    )


def _over_rotated(view: View, rule: Rule) -> Iterator[Hit]:
    wave_off = view.flown.wave_off
    if wave_off is None:
        return
    hook, site = view.hook, view.flown.site
    contact = view.flown.series.contact
    ends = view.flown.series.time[contact] if contact < view.flown.series.time.size else np.inf
    rows = (view.time >= wave_off.start) & (view.time < ends) & (hook[:, 2] < rule["hook"])
    rows &= (hook[:, 0] > -400.0) & (hook[:, 0] < site.length)
    for part in stretches(rows & (view.attack > rule["above_on_speed"]), rule["held"]):
        most = float(view.attack[part].max())
        yield Hit(
            float(view.time[part][0]),
            float(view.time[part][-1]),
            most / rule["above_on_speed"],
            {"above_on_speed_deg": degrees(most), "hook_above_deck_ft": feet(float(hook[part, 2].min()))},
            "on the wave-off",
        )


def _chased_ball(view: View, rule: Rule) -> Iterator[Hit]:
    rows = np.flatnonzero(view.groove & (view.range < rule["within"]) & (view.to_ramp > 0.5))
    if rows.size < 40:
        return
    ball = view.ball[rows]
    turns = swings(ball, rule["swing"])
    legs = [
        (a, b) for a, b in pairwise(turns)
        if abs(ball[b] - ball[a]) >= rule["swing"] and ball[a] * ball[b] < 0.0
    ]  # fmt: skip
    if len(legs) < rule["swings"]:
        return
    sizes = [abs(float(ball[b] - ball[a])) for a, b in legs]
    yield Hit(
        float(view.time[rows[legs[0][0]]]),
        float(view.time[rows[legs[-1][1]]]),
        min(sizes) / rule["swing"],
        {"swings": len(legs), "largest_deg": degrees(max(sizes))},
    )


DETECTORS = (
    Detector("slow-held", _slow_held),
    Detector("fast-held", _fast_held),
    Detector("nose-for-ball", _nose_for_ball),
    Detector("flared", _flared),
    Detector("dived", _dived),
    Detector("high-brought-down", _high_brought_down),
    Detector("low-in-window", _low_in_window),
    Detector("late-wave-off", _late_wave_off),
    Detector("over-rotated", _over_rotated),
    Detector("chased-ball", _chased_ball),
)
