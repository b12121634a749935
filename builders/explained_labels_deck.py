"""Labels of set-up, deck and launch: the rulebook's bounds held against what was put into the recording."""

from __future__ import annotations

import numpy as np
from fly_geometry import FOOT, KNOT, NAUTICAL_MILE

G0 = 9.80665


def _within(s, r):
    """When the jet last came inside a distance of the ramp before contact, s."""
    rows = np.flatnonzero(s.aloft & (s.range < r["within_nm"] * NAUTICAL_MILE))
    outside = rows[~np.isin(rows - 1, rows)] if rows.size else rows
    return s.t[outside[-1]] if outside.size else None


def not_configured(s, r):
    when = _within(s, r)
    return when is not None and (
        s.at(s.arrays["gear"], when) < r["gear_down"] or s.at(s.arrays["flaps"], when) < r["flaps_down"]
    )


def hook_not_down(s, r):
    when = _within(s, r)
    return when is not None and s.at(s.arrays["hook"], when) < r["hook_down"]


def too_heavy(s, r):
    limit = s.about["aircraft"]["approach"]["max_landing_mass_kg"]
    return s.at(s.arrays["mass"], s.until) > limit + r["over_kg"]


def _speed(s):
    """Speed against the deck, m/s, over half a second."""
    x, y = s.mean(s.place[:, 0], 0.2), s.mean(s.place[:, 1], 0.2)
    return s.mean(np.hypot(np.gradient(x, s.t), np.gradient(y, s.t)), 0.3)


def _stop(s):
    """When the landing run ended, None where it did not."""
    rows = np.flatnonzero((s.t > s.down + 0.5) & (_speed(s) < 1.5))
    return s.t[rows[0]] if rows.size else None


def power_short(s, r):
    if s.down is None or s.about["outcome"] not in ("trap", "bolter") or s.t[-1] < s.down + 0.9:
        return False
    stop = _stop(s) if s.about["outcome"] == "trap" else None
    ends = min(s.down + r["after_s"], np.inf if stop is None else stop)
    return s.arrays["throttle"][s.between(s.down, ends)].max() < r["full_power"]


def power_off_early(s, r):
    """Most power in the run, and less than a part of it later while it still rolls."""
    if s.about["outcome"] != "trap":
        return False
    stop = _stop(s)
    rolls = np.flatnonzero(
        s.between(s.down, s.t[-1] if stop is None else stop) & (_speed(s) > r["speed_kt"] * KNOT)
    )
    power = s.arrays["throttle"][rolls]
    if power.size < 4 or power.max() < 0.5:
        return False
    after = power[int(np.argmax(power)) :]
    return after.min() < r["left"] * power.max()


def brakes(s, r):
    if s.about["outcome"] != "trap" or "wheel_brake" not in s.arrays:
        return False
    stop = _stop(s)
    rolls = s.between(s.down, s.t[-1] if stop is None else stop) & (_speed(s) > r["speed_kt"] * KNOT)
    return s.lasts(rolls & (s.arrays["wheel_brake"] > r["brake"])) >= r["held_s"]


def hook_left_down(s, r):
    stop = _stop(s) if s.about["outcome"] == "trap" else None
    if stop is None:
        return False
    down = (s.t > stop + 1.0) & (s.arrays["hook"] > 0.5)
    return s.lasts(down & (_speed(s) > r["speed_kt"] * KNOT)) >= r["held_s"] or s.lasts(down) >= r["after_s"]


def fast_taxi(s, r):
    stop = _stop(s) if s.about["outcome"] == "trap" else None
    if stop is None:
        return False
    speed, rate = _speed(s), s.mean(np.radians(np.gradient(s.turned, s.t)), 0.3)
    rows = (s.t > stop + 1.0) & (speed > r["speed_kt"] * KNOT) & (speed < 40 * KNOT)
    return s.lasts(rows & (np.abs(rate) * speed > r["sideways_g"] * G0)) >= r["held_s"]


LABELS = {
    "not-configured": not_configured,
    "hook-not-down": hook_not_down,
    "too-heavy": too_heavy,
    "power-short-at-touchdown": power_short,
    "power-off-early": power_off_early,
    "brakes-in-wire": brakes,
    "hook-left-down": hook_left_down,
    "hook-skip": lambda s, _: "hook skip" in s.about["flags"],
    "fast-taxi-turn": fast_taxi,
}


def _stroke(arrays, about):
    """Samples of the stroke."""
    t, launch = arrays["time"], about["launch"]
    return (t >= launch["fires_s"]) & (t <= launch["leaves_s"])


def stick(arrays, about, r):
    t, launch = arrays["time"], about["launch"]
    rows = (t > launch["fires_s"]) & (t < launch["leaves_s"] - 0.3)
    still = np.median(arrays["stick_pitch"][(t > launch["fires_s"] - 2.0) & (t < launch["fires_s"])])
    moved = t[rows & (np.abs(arrays["stick_pitch"] - still) > r["moved"])]
    return moved.size > 1 and moved[-1] - moved[0] >= r["held_s"]


def trim(arrays, about, r):
    wanted = about["aircraft"]["launch"]["pitch_trim"][0]
    return abs(np.median(arrays["pitch_trim"][_stroke(arrays, about)]) - wanted) > r["off"]


def flaps(arrays, about, r):
    wanted = about["aircraft"]["launch"]["flaps_at"]
    return abs(np.median(arrays["flaps"][_stroke(arrays, about)]) - wanted) > r["off"]


def power(arrays, about, r):
    return np.mean(arrays["throttle"][_stroke(arrays, about)] < r["full_power"]) > r["part"]


def settle(arrays, about, r):
    return about["launch"]["settle_m"] > r["below_ft"] * FOOT


LAUNCHES = {
    "stick-in-launch": stick,
    "launch-trim": trim,
    "launch-flaps": flaps,
    "launch-power": power,
    "launch-settle": settle,
}
