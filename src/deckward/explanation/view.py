"""A pass as detectors read it: even steps in time, the quantities they share, intervals of a mask."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.explanation import power as engine
from deckward.explanation.on_deck import OnDeck
from deckward.foundation.statistics import median
from deckward.foundation.units import NAUTICAL_MILE
from deckward.passes.model import Pass
from deckward.scoring.rulebook import Rulebook
from deckward.scoring.windows import Window, judged_until, ramp_time, windows

STEP = 0.05
#: s over which gusts are averaged out of the angle of attack and the energy rate
_CALM, _CALM_ENERGY = 0.8, 1.0


def averaged(values: np.ndarray, seconds: float) -> np.ndarray:
    """Mean over a centred stretch, shorter at the ends; NaN counts for nothing."""
    half = max(round(seconds / STEP / 2.0), 0)
    known = np.isfinite(values)
    total = np.concatenate([[0.0], np.cumsum(np.where(known, values, 0.0))])
    count = np.concatenate([[0], np.cumsum(known)])
    row = np.arange(values.size)
    first, last = np.maximum(row - half, 0), np.minimum(row + half + 1, values.size)
    n = count[last] - count[first]
    return np.where(n > 0, (total[last] - total[first]) / np.maximum(n, 1), np.nan)


def stretches(mask: np.ndarray, least: float) -> Iterator[slice]:
    """Yield the runs of a mask that last at least so many seconds."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], mask, [False]]).astype(int)))
    for first, last in edges.reshape(-1, 2):
        if (last - first) * STEP >= least - 1e-9:
            yield slice(int(first), int(last))


def swings(values: np.ndarray, least: float) -> list[int]:
    """Rows of the turning points of a signal, leaving out wobbles smaller than ``least``."""
    known = np.flatnonzero(np.isfinite(values))
    if known.size < 2:
        return []
    turns: list[int] = []
    low = high = int(known[0])
    heading = 0
    for i in known[1:]:
        if values[i] > values[high]:
            high = int(i)
        if values[i] < values[low]:
            low = int(i)
        if heading >= 0 and values[high] - values[i] >= least:
            turns.append(high)
            heading, low = -1, int(i)
        elif heading <= 0 and values[i] - values[low] >= least:
            turns.append(low)
            heading, high = 1, int(i)
    turns.append(high if heading > 0 else low)
    return turns


def _far(when: np.ndarray, known: np.ndarray) -> np.ndarray:
    """Which times are more than a second and a half from every known one."""
    after = np.searchsorted(known, when)
    to_next = np.abs(known[np.minimum(after, known.size - 1)] - when)
    to_last = np.abs(known[np.maximum(after - 1, 0)] - when)
    return np.minimum(to_next, to_last) > 1.5


class View(Struct, frozen=True, dict=True):
    """One pass on even steps; angles rad, lengths m, shapes (n,)."""

    flown: Pass
    rulebook: Rulebook

    @cached_property
    def time(self) -> np.ndarray:
        """Even times from the first to the last sample of the pass."""
        recorded = self.flown.series.time
        return np.arange(max(self.flown.start, recorded[0]), recorded[-1], STEP)

    def even(self, values: np.ndarray) -> np.ndarray:
        """Bring a series of the pass onto the even times; NaN where nothing was known nearby."""
        known = np.isfinite(values)
        if known.sum() < 2:
            return np.full(self.time.size, np.nan)
        time = self.flown.series.time
        if known.all():
            return np.where(self._far, np.nan, np.interp(self.time, time, values))
        out = np.interp(self.time, time[known], values[known])
        return np.where(_far(self.time, time[known]), np.nan, out)

    @cached_property
    def _far(self) -> np.ndarray:
        """Even times that are far from every sample."""
        return _far(self.time, self.flown.series.time)

    def channel(self, name: str) -> np.ndarray | None:
        """A recorded channel on the even times, None where it was not recorded."""
        recorded = self.flown.recorded
        values = None if recorded is None else recorded.aircraft.get(name)
        if recorded is None or values is None or np.isfinite(values).sum() < 2:
            return None
        known = np.isfinite(values)
        return np.interp(self.time, recorded.aircraft.time[known], values[known])

    def measured(self, name: str) -> bool:
        """Whether a channel was recorded, and not worked out from others."""
        return self.flown.recorded is None or self.channel(name) is not None

    # --- when

    @cached_property
    def until(self) -> float:
        """When the approach ends: contact, wave-off or end of the recording, s."""
        return judged_until(self.flown)

    @cached_property
    def ramp_time(self) -> float | None:
        """When the hook crossed the ramp, or would have, s."""
        return ramp_time(self.flown)

    @cached_property
    def to_ramp(self) -> np.ndarray:
        """Seconds to the ramp; inf where it was never to be reached."""
        return np.full(self.time.size, np.inf) if self.ramp_time is None else self.ramp_time - self.time

    @cached_property
    def groove(self) -> np.ndarray:
        """Samples of the groove, up to contact or wave-off."""
        start = self.flown.groove.start if self.flown.groove else np.inf
        return (self.time >= start) & (self.time < self.until)

    @cached_property
    def aloft(self) -> np.ndarray:
        """Samples before contact or wave-off."""
        return self.time < self.until

    # --- what

    @cached_property
    def range(self) -> np.ndarray:
        """Distance to the ramp, m."""
        return self.even(self.flown.series.range)

    @cached_property
    def ball(self) -> np.ndarray:
        """Glide-slope error, rad, + high."""
        return self.even(self.flown.series.glide_slope_error)

    @cached_property
    def height_error(self) -> np.ndarray:
        """Eye over the commanded path, m."""
        return np.tan(self.ball) * (self.flown.site.lens.position[0] + self.range)

    @cached_property
    def closure(self) -> np.ndarray:
        """Speed against the ship along the centreline, m/s."""
        return self.even(self.flown.series.closure)

    @cached_property
    def sink(self) -> np.ndarray:
        """Descent, m/s."""
        return self.even(self.flown.series.sink)

    @cached_property
    def path_rate(self) -> np.ndarray:
        """Climb against the commanded path, m/s."""
        return self.closure * np.tan(self.flown.site.lens.basic_angle) - self.sink

    @cached_property
    def raw_attack(self) -> np.ndarray:
        """Angle-of-attack error with the gusts in it, rad, + slow."""
        return self.even(self.flown.series.angle_of_attack_error)

    @cached_property
    def attack(self) -> np.ndarray:
        """Angle-of-attack error without the gusts, rad, + slow."""
        return averaged(self.raw_attack, _CALM)

    @cached_property
    def pitch(self) -> np.ndarray:
        """Pitch, rad."""
        return self.even(self.flown.series.pitch)

    @cached_property
    def roll(self) -> np.ndarray:
        """Bank, rad, + right."""
        return self.even(self.flown.series.roll)

    @cached_property
    def offset(self) -> np.ndarray:
        """Line-up offset, m, + right."""
        return self.even(self.flown.series.line_up_offset)

    @cached_property
    def line_up(self) -> np.ndarray:
        """Line-up error, rad, + right."""
        return self.even(self.flown.series.line_up_error)

    @cached_property
    def drift(self) -> np.ndarray:
        """Course against the centreline, rad, + right."""
        return self.even(self.flown.series.drift)

    @cached_property
    def side_rate(self) -> np.ndarray:
        """Speed across the centreline, m/s, + right."""
        return self.closure * np.tan(self.drift)

    @cached_property
    def hook(self) -> np.ndarray:
        """Hook point in deck axes, (n, 3)."""
        return np.stack([self.even(column) for column in self.flown.series.hook.T], axis=-1)

    @cached_property
    def recorded_power(self) -> np.ndarray:
        """Throttle, else engine speed, 0 to 1."""
        return self.even(self.flown.series.power)

    @cached_property
    def hand(self) -> np.ndarray | None:
        """Where the hand holds the power: share of the throttle, or of the engine speed above idle."""
        known = np.isfinite(self.recorded_power)
        if known.sum() < 10:
            return None
        share = np.interp(self.time, self.time[known], self.recorded_power[known])
        recorded = self.flown.recorded
        of_engine = recorded is not None and "throttle" not in recorded.aircraft
        return (share - engine.IDLE_SPEED) / (1.0 - engine.IDLE_SPEED) if of_engine else share

    @cached_property
    def power(self) -> engine.Power:
        """Power as thrust over weight."""
        airspeed = self.even(self.flown.series.true_airspeed)
        if np.isfinite(self.recorded_power).sum() < 10:
            return self._inferred_power(airspeed)
        rate = self.even(self.flown.series.specific_energy_rate)
        asked = -self.closure * np.tan(self.flown.site.lens.basic_angle)
        felt = averaged((rate - asked) / np.maximum(airspeed, 20.0), _CALM_ENERGY)
        mass = self.channel("mass")
        recorded = self.flown.recorded
        spool = recorded is not None and "throttle" not in recorded.aircraft
        return engine.measure(
            self.recorded_power,
            felt,
            self.groove & (self.to_ramp > 2.0),
            dt=STEP,
            engine=engine.engine_of(self.flown.aircraft, None if mass is None else float(median(mass))),
            spool=spool,
        )

    def _inferred_power(self, airspeed: np.ndarray) -> engine.Power:
        """Power worked out of how the aircraft moved."""
        series = self.flown.series
        speed = np.hypot(self.closure, np.nan_to_num(self.side_rate))
        learnt = self.groove & (self.to_ramp > 2.0) & np.isfinite(airspeed + speed + self.sink)
        sigma = series.sigma.get("closure")
        gusts = 0.0
        if series.origin.get("true_airspeed") == "measured" and learnt.any():
            along = (airspeed - speed)[learnt]
            gusts = 1.48 * float(median(np.abs(along - median(along))))
        found = engine.infer(
            self.sink,
            speed,
            airspeed,
            self.attack,
            -self.closure * np.tan(self.flown.site.lens.basic_angle),
            self.flown.aircraft,
            learnt,
            dt=STEP,
            speed_sigma=0.0 if sigma is None else float(median(sigma[np.isfinite(sigma)])),
            gusts=gusts,
        )
        return replace(found, felt=averaged(found.felt, _CALM_ENERGY))

    @cached_property
    def on_deck(self) -> OnDeck:
        """The run on the deck."""
        return OnDeck(self.flown)

    # --- helpers

    def at(self, values: np.ndarray, when: float) -> float:
        """Value at a time."""
        return float(np.interp(when, self.time, values))

    def inside(self, start: float, end: float) -> np.ndarray:
        """Samples between two times."""
        return (self.time >= start) & (self.time <= end)

    @cached_property
    def _windows(self) -> tuple[Window, ...]:
        return windows(self.flown, self.rulebook)

    def position(self, when: float) -> str:
        """Where in the pass a time lies, in words."""
        for window in self._windows:
            if window.start <= when <= window.end:
                return window.bounds.name
        touched = self.flown.touchdown
        if touched is not None and when >= touched.time:
            return "on deck"
        if self.flown.wave_off is not None and when >= self.flown.wave_off.start:
            return "on the wave-off"
        return "in the groove" if self.flown.groove and when >= self.flown.groove.start else "in the turn"

    @property
    def near(self) -> np.ndarray:
        """Samples inside 1.2 nm."""
        return self.range < 1.2 * NAUTICAL_MILE
