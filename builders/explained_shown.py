"""A flight as its exact samples show it: approach and deck axes, the ball, thrust beyond what is asked for.

Everything is worked out from the samples that ``explained.py`` wrote and from the truth beside them, with
the geometry of ``fly_geometry``; the product's own code has no part in it.
"""

from __future__ import annotations

import math
import tomllib
from functools import cache, cached_property
from pathlib import Path

import numpy as np
from fly_geometry import euler_matrix, local_axes, to_earth_centred, turn_to_port
from fly_jet import trim

G0 = 9.80665
BUNDLED = Path(__file__).parents[1] / "src/deckward/aircraft/bundled"
#: the file that holds the engine table measured on each of the library's models
FILES = {"A4": "sandlark", "F4N": "stormcote"}


@cache
def _engine(name):
    return tomllib.loads((BUNDLED / f"{name}.toml").read_text())["engine"]


class Shown:
    """A flight in approach and deck axes; metres, degrees, seconds, (n,)."""

    def __init__(self, arrays, about):
        self.about, site = about, about["site"]
        self.arrays = arrays
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
        #: place on the deck, m along and across, and heading against it, deg
        self.place = np.einsum("nji,nj->ni", deck, own - ramp)
        self.turned = degrees(np.unwrap(arrays["heading"] - heading))
        eye = np.einsum("nji,nj->ni", level, own + body @ np.array(points["eye"]) - ramp)
        lens = np.array(site["lens"]["position_m"])
        self.line_up = degrees(np.arctan2(self.side, self.range + site["lens"]["hook_target_m"]))
        self.closure, self.across = -np.gradient(self.range, self.t), np.gradient(self.side, self.t)
        self.course = degrees(np.arctan2(self.across, self.closure))
        self.bank, self.pitch = degrees(arrays["roll"]), degrees(arrays["pitch"])
        approach = about["aircraft"]["approach"]
        self.on_speed, self.band = approach["on_speed_deg"], approach["on_speed_band_deg"]
        self.slow = degrees(arrays["angle_of_attack"]) - self.on_speed
        self.altitude = np.asarray(arrays["altitude"])
        self.sink = -np.gradient(self.altitude, self.t)
        self.to_turn = np.abs((degrees(heading - arrays["heading"]) - self.angle + 180.0) % 360.0 - 180.0)
        basic = math.radians(site["lens"]["basic_angle_deg"])
        #: climb against the commanded path, m/s
        self.climb = self.closure * math.tan(basic) - self.sink
        # the constant of the pass: so that the eye is as far off the path as the truth says
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
        self._times()

    def _times(self):
        about = self.about
        self.down = about["touchdown"]["time_s"] if about["touchdown"] else None
        off = about["wave_off"]["start_s"] if about["wave_off"] else None
        self.until = min([x for x in (self.down, off) if x is not None] or [self.t[-1]])
        ramp_at = about["ramp"]["time_s"] if about["ramp"] else None
        if off is not None and self.down is None:
            # when it would have come over the ramp, had it flown on
            ramp_at = off + self.at(self.range, off) / self.at(self.closure, off)
        elif self.down is None and ramp_at is not None:
            self.until = min(self.until, ramp_at)
        self.ramp_at = ramp_at
        self.to_ramp = (ramp_at if ramp_at is not None else np.inf) - self.t
        groove = about["groove"]
        self.groove_start = groove["start_s"] if groove else np.inf
        self.aloft = self.t < self.until
        self.in_groove = self.aloft & (self.t >= self.groove_start)

    @cached_property
    def power(self):
        """Thrust that the throttle asks for beyond the steady approach's, over weight, (n,)."""
        return self.thrust(self.arrays["throttle"]) - self.thrust(trim(self.about["jet"])[0])

    def thrust(self, throttle):
        """Steady thrust at a throttle, over weight."""
        engine = _engine(FILES[self.about["jet"]])
        weight = float(np.median(self.arrays["mass"])) * G0
        return np.interp(throttle, engine["power"], engine["thrust_n"]) / weight

    def mean(self, values, seconds):
        """Mean over a centred stretch, shorter at the ends."""
        half = round(seconds / 2 / self.step)
        total = np.concatenate([[0.0], np.cumsum(values)])
        row = np.arange(values.size)
        first, last = np.maximum(row - half, 0), np.minimum(row + half + 1, values.size)
        return (total[last] - total[first]) / (last - first)

    @property
    def step(self):
        return float(self.t[1] - self.t[0])

    def runs(self, mask, least=0.0):
        """Slices of the runs of a mask that last so long."""
        edges = np.flatnonzero(np.diff(np.concatenate([[False], mask, [False]]).astype(int))).reshape(-1, 2)
        return [slice(int(a), int(b)) for a, b in edges if self.t[b - 1] - self.t[a] >= least - 1e-9]

    def lasts(self, mask) -> float:
        """Seconds of the longest run of a mask."""
        return max((float(self.t[run][-1] - self.t[run][0]) for run in self.runs(mask)), default=-1.0)

    def at(self, values, when):
        return float(np.interp(when, self.t, values))

    def between(self, start, end):
        return (self.t >= start) & (self.t <= end)


def turning_points(values, least):
    """Rows of the turning points of a signal, wobbles below ``least`` left out."""
    low = high = 0
    for i in range(1, len(values)):
        low, high = (i if values[i] < values[low] else low), (i if values[i] > values[high] else high)
        if values[high] - values[low] >= least:
            break
    else:
        return [0]
    kept = sorted((low, high))
    for i in range(kept[-1] + 1, len(values)):
        if (values[i] - values[kept[-1]]) * (values[kept[-1]] - values[kept[-2]]) > 0:
            kept[-1] = i
        elif abs(values[i] - values[kept[-1]]) >= least:
            kept.append(i)
    return kept
