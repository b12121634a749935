"""Power and line-up: what the hands did too much, too late or not at all."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from deckward.explanation.hits import Detector, Hit, degrees, feet
from deckward.explanation.rules import Rule
from deckward.explanation.view import STEP, View, averaged, stretches, swings
from deckward.foundation.statistics import median
from deckward.foundation.units import STANDARD_GRAVITY


def _told(view: View) -> dict[str, str]:
    """Say where power was worked out."""
    return {} if view.power.recorded else {"power": "worked out from the energy rate"}


def _back(values: np.ndarray, seconds: float, extreme: np.ufunc) -> np.ndarray:
    """Running extreme (``np.fmax`` or ``np.fmin``) over the seconds before each sample."""
    reach = round(seconds / STEP)
    padded = np.concatenate([np.full(reach, np.nan), values])
    return extreme.reduce(np.lib.stride_tricks.sliding_window_view(padded, reach + 1), axis=1)


def _left_in(view: View, rule: Rule) -> Iterator[Hit]:
    if not (view.groove & (view.ball < -rule["low"])).any():
        return
    low = _back(view.ball, rule["within"], np.fmin) < -rule["low"]
    rows = view.groove & low & (view.ball > -rule["near"]) & (view.path_rate > 0.2)
    for part in stretches(rows & (view.power.best > rule["power_weights"]), rule["held"]):
        later = view.groove & view.inside(float(view.time[part][0]), float(view.time[part][-1]) + 5.0)
        top = float(np.nanmax(view.ball[later]))
        if top > rule["ends_high"]:
            much = float(view.power.best[part].mean())
            yield Hit(
                float(view.time[part][0]),
                float(view.time[part][-1]),
                0.5 * (top / rule["ends_high"] + much / rule["power_weights"]),
                {"power_weights": round(much, 3), "went_high_deg": degrees(top), **_told(view)},
            )


def _idle(view: View, rule: Rule) -> Iterator[Hit]:
    power = view.power.best
    falling = view.groove & (-view.path_rate > 0.3 * rule["falls"])
    for part in stretches(falling & (power < -rule["below_weights"]), rule["held"]):
        end = part.stop - 1
        after = view.groove & view.inside(float(view.time[end]), float(view.time[end]) + rule["then"])
        lowest = float(np.nanmin(view.ball[part.start : end + 1]))
        if np.isfinite(view.ball[after]).any():
            lowest = min(lowest, float(np.nanmin(view.ball[after])))
        fastest = float(np.max(-view.path_rate[part]))
        if lowest < -rule["ball"] and fastest > rule["falls"]:
            yield Hit(
                float(view.time[part][0]),
                float(view.time[end]),
                float(-power[part].min()) / rule["below_weights"],
                {
                    "power_weights": round(float(power[part].min()), 3),
                    "fell_fps": feet(fastest),
                    "low_deg": degrees(lowest),
                    **_told(view),
                },
            )


def _sawing(view: View, rule: Rule) -> Iterator[Hit]:
    rows = np.flatnonzero(view.groove)
    if view.hand is None or rows.size < 40:
        return
    hand = view.hand[rows]
    turns = swings(hand, rule["stroke_part"])
    need = int(rule["strokes"])
    for k in range(len(turns) - need):
        first, last = turns[k], turns[k + need]
        seconds = (last - first) * STEP
        if seconds <= rule["within"]:
            size = float(median(np.abs(np.diff(hand[turns[k : k + need + 1]]))))
            yield Hit(
                float(view.time[rows[first]]),
                float(view.time[rows[last]]),
                size / rule["stroke_part"],
                {"strokes": need, "seconds": round(seconds, 1), "stroke_pct": round(100.0 * size)},
            )


def _cut_at_ramp(view: View, rule: Rule) -> Iterator[Hit]:
    # of the hand alone: the engine's answer comes too late to be told before the deck
    if view.hand is None or view.ramp_time is None:
        return
    power = view.hand
    end = min(view.until, view.ramp_time + 1.5)
    rows = np.flatnonzero(
        view.aloft & (view.to_ramp < rule["before_ramp"]) & (view.time < end - rule["held"])
    )
    if rows.size < 4:
        return
    last = int(np.searchsorted(view.time, end))
    # mean power from each sample to contact
    after = np.cumsum(power[rows[0] : last][::-1])[::-1] / np.arange(last - rows[0], 0, -1)
    after = after[rows - rows[0]]
    first = max(rows[0] - round(rule["fell_within"] / STEP), 0)
    before = _back(averaged(power, 0.4)[first:], rule["fell_within"], np.fmax)[rows - first]
    cut = before - after
    usual = float(median(power[view.groove])) if view.groove.any() else 1.0
    off = (after < usual - rule["below_part"]) & (power[rows] < before - 0.5 * cut)
    cut = np.where(off, cut, 0.0)
    best = int(np.argmax(cut))
    if cut[best] > rule["cut_part"]:
        row = int(rows[best])
        yield Hit(
            float(view.time[row]),
            end,
            float(cut[best]) / rule["cut_part"],
            {
                "cut_pct": round(100.0 * float(cut[best])),
                "ball_deg": degrees(float(view.ball[row])),
                "ball_moves_fps": feet(float(view.path_rate[row])),
            },
        )


def _burst_then_cut(view: View, rule: Rule) -> Iterator[Hit]:
    power = view.power.best
    rows = view.groove & (view.to_ramp < rule["before_ramp"]) & (view.to_ramp > -1.0)
    bursts = rows & (power > rule["burst_weights"])
    cuts = rows & (power < -rule["cut_weights"])
    for part in stretches(bursts, rule["burst_held"]):
        earlier = max(part.start - round(rule["low_before"] / STEP), 0)
        lowest = float(np.nanmin(view.ball[earlier : part.stop]))
        if lowest > -rule["low"]:
            continue
        last = float(view.time[part][-1])
        for cut in stretches(cuts & view.inside(last, last + rule["within"]), rule["cut_held"]):
            size = min(float(power[part].max()) / rule["burst_weights"],
                       float(-power[cut].min()) / rule["cut_weights"])  # fmt: skip
            yield Hit(
                float(view.time[part][0]),
                float(view.time[cut][-1]),
                size,
                {
                    "low_deg": degrees(lowest),
                    "burst_weights": round(float(power[part].max()), 3),
                    "cut_weights": round(float(-power[cut].min()), 3),
                    **_told(view),
                },
            )


def _roll_without_power(view: View, rule: Rule) -> Iterator[Hit]:
    rows = view.groove & (view.range > 60.0)
    bank = averaged(np.abs(view.roll), 0.3)
    for part in stretches(rows & (bank > rule["bank"]), rule["held"]):
        start, end = float(view.time[part][0]), float(view.time[part][-1])
        before = view.inside(start - 2.0, start - 0.7)
        if not before.any():
            continue
        more = float(np.nanmean(view.power.best[part]) - np.nanmean(view.power.best[before]))
        lost = float(np.sum(1.0 - np.cos(view.roll[part]))) * STEP * STANDARD_GRAVITY
        if more < rule["power_weights"] and lost > rule["sink"]:
            most = float(bank[part].max())
            yield Hit(
                start,
                end,
                lost / rule["sink"],
                {
                    "bank_deg": degrees(most),
                    "power_added_weights": round(more, 3),
                    "sink_from_bank_fps": feet(lost),
                    **_told(view),
                },
            )


def _drifted(view: View, rule: Rule) -> Iterator[Hit]:
    rows = view.aloft & view.groove & (view.to_ramp < rule["before_ramp"])
    side = np.sign(view.offset)
    away = side * averaged(view.side_rate, 0.5)
    level = averaged(np.abs(view.roll), 1.0) < rule["bank"]
    for part in stretches(rows & (away > 0.5 * rule["drift"]) & level, rule["held"]):
        offset = float(np.abs(view.offset[part][-1]))
        rate = float(away[part].mean())
        if offset > rule["offset"] and rate > rule["drift"]:
            yield Hit(
                float(view.time[part][0]),
                float(view.time[part][-1]),
                0.5 * (offset / rule["offset"] + rate / rule["drift"]),
                {
                    "drift_fps": feet(float(side[part][-1]) * rate),
                    "offset_ft": feet(float(view.offset[part][-1])),
                },
            )


def _late_line_up(view: View, rule: Rule) -> Iterator[Hit]:
    rows = view.aloft & view.groove & (view.to_ramp < rule["before_ramp"]) & (view.range > -50)
    if rows.sum() < 20:
        return
    first = int(np.flatnonzero(rows)[0])
    offset = float(view.offset[first])
    bank = np.sign(-offset) * view.roll
    towards = np.sign(-offset) * view.side_rate
    if abs(offset) < rule["offset"]:
        return
    most = float(np.nanmax(bank[rows]))
    speed = float(np.nanmax(towards[rows]))
    if most > rule["bank"] and speed > rule["drift"]:
        work = rows & (np.abs(view.roll) > 0.5 * rule["bank"])
        times = view.time[work]
        yield Hit(
            float(times[0]),
            float(times[-1]),
            0.5 * (abs(offset) / rule["offset"] + most / rule["bank"]),
            {"offset_ft": feet(offset), "bank_deg": degrees(most), "across_fps": feet(speed)},
        )


DETECTORS = (
    Detector("power-left-in", _left_in),
    Detector("power-idle", _idle),
    Detector("power-sawing", _sawing),
    Detector("power-cut-at-ramp", _cut_at_ramp),
    Detector("burst-then-cut", _burst_then_cut),
    Detector("roll-without-power", _roll_without_power),
    Detector("drifted", _drifted),
    Detector("late-line-up", _late_line_up),
)
