"""Numbers of the approach: speeds, sink and attitude by landing mass, limits, what a slip costs.

The commanded path leads the hook to its target at the basic angle below the horizon, seen
from a still deck. Sink and closure are against the ship, on that path.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.aircraft.model import Profile
from deckward.environment.atmosphere import Air
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE
from deckward.passes import axes
from deckward.planning.on_speed import OnSpeed, on_speed
from deckward.planning.scenario import Gear, ToldSpeed
from deckward.site.model import Site

#: where the approach is timed from: the trade's start, in the middle and in close
TIMED_FROM = (0.75 * NAUTICAL_MILE, 0.5 * NAUTICAL_MILE, 0.25 * NAUTICAL_MILE)

#: lens settings that are compared
BASIC_ANGLES = tuple(angle * DEGREE for angle in (3.0, 3.25, 3.5, 3.75, 4.0))

#: from memory: 3.25 deg for little wind, 3.5 as a rule, 3.75 and 4.0 from about 33 to 35 kt up
_ANGLE_FOR_WIND = ((20.0 * KNOT, 3.25), (33.0 * KNOT, 3.5), (35.0 * KNOT, 3.75), (math.inf, 4.0))


class Setting(Struct, frozen=True):
    """What an approach is flown to: aircraft, ship, air at the deck, wind over it, and basic angle.

    ``along`` is the felt wind down the landing area, ``crosswind`` across it, + from
    starboard, m/s.
    """

    profile: Profile
    site: Site
    air: Air
    along: float
    crosswind: float
    angle: float
    told: ToldSpeed | None = None


class Approach(Struct, frozen=True):
    """The approach at one landing mass.

    ``sink`` and ``closure`` are against the deck on the path, closure also the engaging
    speed; ``pitch`` is the attitude it takes, ``crab`` the nose to the right of the
    landing area's centreline.
    """

    jet: OnSpeed
    sink: float
    closure: float
    pitch: float
    crab: float


class Aim(Struct, frozen=True):
    """Where the jet's recorded point is as its hook meets the still deck on the commanded path.

    ``ahead`` of the ramp along the centreline and ``height`` above the sea, m; the path's
    ``angle`` below the horizon, seen from the ship.
    """

    ahead: float
    height: float
    angle: float


class Geometry(Struct, frozen=True):
    """Hook, eye and lens on the commanded path, m.

    ``hook_to_eye`` is how far the eye is above the hook, ``eye_ahead`` how far ahead of it;
    ``hook_to_ramp`` the hook over the ramp; ``eye_over_lens`` where the eye's path passes
    the lens; ``lens_roll`` the roll of a lens that lifts its light by so much over the
    centreline, None for one on it.
    """

    hook_to_eye: float
    eye_ahead: float
    hook_to_ramp: float
    hook_target: float
    eye_over_lens: float
    lens_roll: float | None


class Slips(Struct, frozen=True):
    """What a slip moves at the hook, + up and + farther past the ramp, m.

    ``nose_height`` and ``nose_touchdown`` for one degree of nose up with the ball held
    centred; ``wind_height`` and ``wind_touchdown`` for one knot more wind down the deck from
    3/4 nm that nothing answers; ``wind_sink`` how much less sink one knot more wind asks for;
    ``foot_touchdown`` for a hook one foot higher at the ramp; ``ball_height`` and
    ``ball_touchdown`` for one cell at the ramp.
    """

    nose_height: float
    nose_touchdown: float
    wind_height: float
    wind_touchdown: float
    wind_sink: float
    foot_touchdown: float
    ball_height: float
    ball_touchdown: float


class MassLimit(Struct, frozen=True):
    """A limit of landing mass: ``what`` is "aircraft", "gear" or "gear energy"; kg."""

    what: str
    mass: float


def fly(setting: Setting, mass: float) -> Approach:
    """Work out the approach at a landing mass."""
    slope, sink = math.tan(setting.angle), 0.0
    descent = 0.0
    for _ in range(12):
        jet = on_speed(setting.profile, mass=mass, air=setting.air, descent=descent, told=setting.told)
        level = math.sqrt(max((jet.true * math.cos(descent)) ** 2 - setting.crosswind**2, 0.0))
        sink = (level - setting.along) * slope
        descent = math.asin(sink / jet.true)
    closure = level - setting.along
    return Approach(
        jet=jet,
        sink=sink,
        closure=closure,
        pitch=_pitch(setting, closure / jet.true),
        crab=math.asin(max(-1.0, min(1.0, setting.crosswind / jet.true))),
    )


def _pitch(setting: Setting, closure_share: float) -> float:
    told = setting.profile.on_speed_pitch
    return setting.profile.on_speed - setting.angle * closure_share if told is None else told


def from_hook(profile: Profile, point: Sequence[float], pitch: float) -> tuple[float, float]:
    """Return how far a body point is ahead of the hook and above it, wings level, m."""
    forward, down = point[0] - profile.hook[0], point[2] - profile.hook[2]
    c, s = math.cos(pitch), math.sin(pitch)
    return forward * c + down * s, forward * s - down * c


def aim(setting: Setting, flown: Approach) -> Aim:
    """Say where the recorded point is when the hook meets its target in the attitude flown.

    The site's reference point is taken to lie at the water.
    """
    ahead, above = from_hook(setting.profile, (0.0, 0.0, 0.0), flown.pitch)
    return Aim(
        ahead=setting.site.lens.hook_target + ahead,
        height=-setting.site.ramp[2] + above,
        angle=setting.angle,
    )


def geometry(setting: Setting, pitch: float) -> Geometry:
    """Place hook, eye and lens on the commanded path at a pitch attitude."""
    profile, lens = setting.profile, replace(setting.site.lens, basic_angle=setting.angle)
    ahead, above = from_hook(profile, profile.eye, pitch)
    over = axes.path_constant(replace(setting.site, lens=lens), profile, pitch)
    aside = abs(lens.position[1])
    return Geometry(
        hook_to_eye=above,
        eye_ahead=ahead,
        hook_to_ramp=lens.hook_target * math.tan(setting.angle),
        hook_target=lens.hook_target,
        eye_over_lens=over,
        lens_roll=math.atan(over / aside) if aside else None,
    )


def slips(setting: Setting, flown: Approach, there: Geometry) -> Slips:
    """Work out what small slips move at the hook."""
    slope, lens = math.tan(setting.angle), setting.site.lens
    nose = -there.eye_ahead * DEGREE
    start = TIMED_FROM[0]
    late = start / (flown.closure - KNOT) - start / flown.closure
    wind = -late * flown.sink
    away = math.hypot(lens.position[0] - there.eye_ahead, lens.position[1])
    ball = away * math.tan(lens.cell)
    return Slips(
        nose_height=nose,
        nose_touchdown=nose / slope,
        wind_height=wind,
        wind_touchdown=wind / slope,
        wind_sink=KNOT * slope,
        foot_touchdown=FOOT / slope,
        ball_height=ball,
        ball_touchdown=ball / slope,
    )


def seconds_from(distance: float, flown: Approach) -> float:
    """Return the time from a distance aft of the ramp to the ramp, s."""
    return distance / flown.closure


def suggested_angle(along: float) -> float:
    """Return the usual lens setting for a wind down the landing area, rad (from memory)."""
    return next(angle for below, angle in _ANGLE_FOR_WIND if along < below) * DEGREE


def engaging_limits(gear: Gear, mass: float) -> dict[str, float]:
    """Return the greatest engaging speeds at a landing mass: by the gear's table and by its energy."""
    limits = {"gear energy": math.sqrt(2.0 * gear.energy / mass)}
    if gear.masses:
        limits["gear"] = float(np.interp(mass, gear.masses, gear.engaging_speeds))
    return limits


def least_wind(setting: Setting, gear: Gear, mass: float) -> tuple[float, str]:
    """Return the least wind down the landing area that keeps the engaging speed, and what asks for it."""
    what, limit = min(engaging_limits(gear, mass).items(), key=lambda item: item[1])
    calm = fly(replace(setting, along=0.0), mass)
    return max(calm.closure - limit, 0.0), what


def mass_limits(
    setting: Setting, gear: Gear, *, told: float | None, low: float, high: float
) -> list[MassLimit]:
    """List the limits of landing mass, the one that binds first.

    ``told`` is in place of the aircraft file's; the gear's are looked for between ``low``
    and ``high``, and left out where they lie beyond.
    """
    out = []
    most = setting.profile.max_landing_mass if told is None else told
    if most is not None:
        out.append(MassLimit("aircraft", most))
    for what in engaging_limits(gear, low):
        mass = _heaviest(setting, gear, what, low, high)
        if mass is not None:
            out.append(MassLimit(what, mass))
    return sorted(out, key=lambda limit: limit.mass)


def _heaviest(setting: Setting, gear: Gear, what: str, low: float, high: float) -> float | None:
    """Find the heaviest mass that keeps an engaging speed, by halving; None where all up to ``high`` do."""

    def too_fast(mass: float) -> bool:
        return fly(setting, mass).closure > engaging_limits(gear, mass)[what]

    if not too_fast(high):
        return None
    for _ in range(30):
        middle = (low + high) / 2.0
        low, high = (low, middle) if too_fast(middle) else (middle, high)
    return low
