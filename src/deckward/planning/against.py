"""What was flown against what was planned: one line a quantity, where both are known.

What the recording does not show (a channel that is not in it, an airspeed that was only
inferred) has no line: it is not guessed.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from deckward.foundation.units import NAUTICAL_MILE
from deckward.passes.model import Pass
from deckward.planning.plan import Plan

#: speeds and the felt wind are the median from here to the ramp
_FROM = 0.75 * NAUTICAL_MILE
#: an outbound jet passes abeam at least so far to port of the keel
_ABEAM_AT_LEAST = 0.3 * NAUTICAL_MILE


class Compared(Struct, frozen=True):
    """One quantity in SI, as planned and as flown; ``suffix`` is the unit it is told in, with ``digits``."""

    what: str
    planned: float
    flown: float
    suffix: str
    digits: int = 0

    @property
    def difference(self) -> float:
        """Flown less planned."""
        return self.flown - self.planned


def compare(
    plan: Plan, flown: Pass, *, launch_airspeed: float | None = None, launch_mass: float | None = None
) -> tuple[Compared, ...]:
    """Compare a pass with its plan, in the order it is flown; airspeeds true.

    ``launch_airspeed`` at the end of the stroke and ``launch_mass`` are those of the launch
    that led to it, where they were recorded.
    """
    pairs = (*_launch(plan, launch_airspeed, launch_mass), *_pattern(plan, flown), *_approach(plan, flown))
    return tuple(
        Compared(what, float(planned), float(found), suffix, digits)
        for what, planned, found, suffix, digits in pairs
        if planned is not None and found is not None and np.isfinite(found)
    )


_Pairs = Iterator[tuple[str, float | None, float | None, str, int]]


def _launch(plan: Plan, airspeed: float | None, mass: float | None) -> _Pairs:
    if plan.launch is None:
        return
    yield "launch mass", plan.launch.shot.mass, mass, "lb", 0
    yield "end airspeed off the catapult", plan.launch.shot.wanted, airspeed, "kt", 0


def _pattern(plan: Plan, flown: Pass) -> _Pairs:
    if plan.pattern is None:
        return
    day, turn = plan.pattern.pattern, flown.turn
    if turn is not None:
        yield "abeam distance", day.abeam, turn.abeam_distance, "nm", 2
        yield "altitude abeam", day.checkpoint("abeam").height, turn.abeam_altitude, "ft", 0
        abeam = _time_abeam(flown)
        yield "turn after abeam", day.time_to_turn, None if abeam is None else turn.start - abeam, "s", 0
    if flown.groove is not None:
        yield "groove", day.groove.seconds, flown.groove.seconds, "s", 1


def _approach(plan: Plan, flown: Pass) -> _Pairs:
    approach, s = plan.approach, flown.series
    if approach is None:
        return
    until = flown.ramp.time if flown.ramp else flown.end
    near = (s.range <= _FROM) & (s.range >= 0.0) & (s.time <= until)
    if flown.wave_off is not None:
        near &= s.time <= flown.wave_off.start
    if plan.fuel is not None:
        at_ball = s.time[near][0] if near.any() else until
        yield "fuel at the ball", plan.fuel.ball.fuel, _recorded(flown, "fuel", at_ball), "lb", 0
    yield "landing mass", approach.planned.jet.mass, _mass(plan, flown, until), "lb", 0
    if near.any():
        if s.origin.get("true_airspeed") == "measured":
            speed = s.true_airspeed[near]
            yield "approach airspeed, true", approach.planned.jet.true, float(np.nanmedian(speed)), "kt", 0
            level = np.sqrt(np.maximum(speed**2 - s.sink[near] ** 2, 0.0))
            yield "wind down the angle", approach.setting.along, float(
                np.nanmedian(level - s.closure[near])
            ), "kt", 1  # fmt: skip
        yield "closing speed", approach.planned.closure, float(np.nanmedian(s.closure[near])), "kt", 0
        yield "sink", approach.planned.sink, float(np.nanmedian(s.sink[near])), "fpm", 0
    if flown.touchdown is not None and flown.touchdown.hook_x is not None:
        yield "hook touchdown past the ramp", approach.geometry.hook_target, flown.touchdown.hook_x, "ft", 0


def _time_abeam(flown: Pass) -> float | None:
    """Return when the jet last passes the ramp's place along the keel before its turn."""
    s, angle, turn = flown.series, flown.site.angle, flown.turn
    assert turn is not None, "asked of a pass from a turn"
    ahead = -s.range * np.cos(angle) + s.line_up_offset * np.sin(angle)
    port = -s.range * np.sin(angle) - s.line_up_offset * np.cos(angle)
    passes = (ahead[:-1] > 0.0) & (ahead[1:] <= 0.0) & (port[1:] > _ABEAM_AT_LEAST)
    found = np.flatnonzero(passes)
    if found.size == 0:
        return None
    k = int(found[-1])
    share = ahead[k] / (ahead[k] - ahead[k + 1])
    return float(s.time[k] + share * (s.time[k + 1] - s.time[k]))


def _mass(plan: Plan, flown: Pass, when: float) -> float | None:
    """Return the recorded mass, or the recorded fuel and what the plan has without any."""
    mass = _recorded(flown, "mass", when)
    if mass is not None:
        return mass
    fuel = _recorded(flown, "fuel", when)
    assert plan.approach is not None, "asked for"
    return None if fuel is None else fuel + plan.approach.masses.dry


def _recorded(flown: Pass, name: str, when: float) -> float | None:
    """Return a recorded channel at a time; None where it is not there."""
    track = None if flown.recorded is None else flown.recorded.aircraft
    values = None if track is None else track.get(name)
    if track is None or values is None:
        return None
    good = np.isfinite(values)
    return float(np.interp(when, track.time[good], values[good])) if good.any() else None
