"""Labels of the pattern and the start: the rulebook's bounds held against the exact track."""

from __future__ import annotations

import numpy as np
from fly_geometry import FOOT, NAUTICAL_MILE


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
    """Seconds of the groove of one who turned in and touched, nothing where there was none, s."""
    if not s.about["touchdown"] or not s.about["turn"] or s.about["wave_off"]:
        return None
    return s.about["groove"]["seconds"] if s.about["groove"] else 0.0


def short_groove(s, r):
    seconds = _groove(s)
    return seconds is not None and seconds < r["seconds_s"]


def long_groove(s, r):
    seconds = _groove(s)
    return seconds is not None and seconds > r["seconds_s"]


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
    level = s.altitude[s.t < turn["abeam_time_s"]] / FOOT
    return (
        min(abs(o) for o in off[:2]) > r["off_ft"]
        and abs(off[0] - off[1]) < r["same_ft"]
        and off[0] * off[1] > 0
        and np.sign(off[0]) * off[2] > r["later_part"] * min(abs(o) for o in off[:2])
        and float(np.std(level)) < r["level_ft"]
    )


LABELS = {
    "straight-astern": astern,
    "overshot-start": overshot,
    "undershot-start": undershot,
    "short-groove": short_groove,
    "long-groove": long_groove,
    "pattern-altitude": altitude,
    "barometric-error": barometric,
    "abeam-distance": abeam,
}
