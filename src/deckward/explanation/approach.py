"""The steady flight down the commanded path that a pass is held against, and small changes about it.

The aircraft is at the mass that it showed, in the wind of the pass. Along the pass itself, where
changes are not small, the model is that of :mod:`deckward.explanation.along`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cached_property
from typing import Any

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward import prediction
from deckward.aircraft.model import Profile
from deckward.errors import InputError
from deckward.foundation.units import DEGREE, STANDARD_GRAVITY

#: lift and drag of a usual jet on approach, by angle of attack from on-speed, deg, for profiles
#: without tables; common practice, no source
_USUAL_ALPHA = (-8.0, -4.0, 0.0, 4.0, 8.0)
_USUAL_LIFT = (0.50, 0.75, 1.00, 1.25, 1.45)
_USUAL_DRAG = (0.17, 0.19, 0.225, 0.275, 0.34)


def _usual_tables(on_speed: float) -> dict[str, Any]:
    """Tables of a usual jet that is on speed at an angle of attack (rad)."""
    at = [on_speed / DEGREE + alpha for alpha in _USUAL_ALPHA]
    return {
        "mass": {"reference_kg": 12_000.0, "pitch_inertia_kgm2": 90_000.0},
        "aerodynamics": {
            "source": "common practice, no source",
            "reference_area_m2": 35.0,
            "span_m": 11.0,
            "chord_m": 3.5,
            "angle_of_attack_deg": at,
            "lift_coefficient": list(_USUAL_LIFT),
            "drag_coefficient": list(_USUAL_DRAG),
            "derivatives": {
                "pitch_per_alpha": -0.35,
                "pitch_per_alpha_rate": -3.0,
                "pitch_per_pitch_rate": -8.0,
                "pitch_per_elevator": -0.5,
            },
        },
        "engine": {
            "source": "common practice, no source",
            "power": [0.0, 0.2, 0.4, 0.6, 0.8, 1.0],
            "thrust_n": [5_000.0, 9_000.0, 21_000.0, 38_000.0, 58_000.0, 80_000.0],
            "lag_s": 0.8,
        },
    }


class Approach(Struct, frozen=True, eq=False, dict=True):
    """An aircraft on the commanded path, and its linear models with angle of attack and with elevator held.

    ``step`` s. ``own`` says whether the aircraft's own tables are behind it.
    """

    step: float
    model: prediction.Model
    trim: prediction.Trim
    alpha_hold: prediction.Linear
    elevator_hold: prediction.Linear
    own: bool

    @cached_property
    def pitch_lag(self) -> float:
        """Lag of the angle of attack behind the elevator, s, of the airframe alone: 2 zeta over omega.

        Of the quicker pair of modes with the elevator held, the short period.
        """
        linear = self.elevator_hold
        upright = [linear.states.index(name) for name in ("vx", "vz", "pitch", "pitch_rate")]
        quick = sorted(np.linalg.eigvals(linear.a[np.ix_(upright, upright)]), key=abs)[-2:]
        return float((-(quick[0] + quick[1]) / (quick[0] * quick[1])).real)

    @cached_property
    def slip_drag(self) -> float | None:
        """Drag over weight of a radian of sideslip by the aircraft's own table, None without one."""
        slopes = self.model.profile.tables.get("aerodynamics", {}).get("derivatives") or {}
        per_sideslip = slopes.get("drag_per_sideslip")
        if per_sideslip is None or not self.own:
            return None
        return float(per_sideslip / self.model.lift_and_drag(self.trim.alpha)[0])

    def steady_with(self, lift: float) -> tuple[float, float, float]:
        """Give what a constant lift error asks for to hold the path: m/s along and up, thrust over weight.

        ``lift`` is lift over weight that the aircraft has beyond its tables.
        """
        linear, slope = self.alpha_hold, math.tan(-self.trim.path)
        vx, vz = linear.states.index("vx"), linear.states.index("vz")
        drag = [linear.a[row, vx] - slope * linear.a[row, vz] for row in (vx, vz)]
        push = [STANDARD_GRAVITY * part for part in (math.cos(self.trim.pitch), math.sin(self.trim.pitch))]
        faster, thrust = np.linalg.solve(np.array([drag, push]).T, [0.0, -STANDARD_GRAVITY * lift])
        return float(faster), float(-slope * faster), float(thrust)


def _mass(
    model: prediction.Model, true_airspeed: float, path: float, air: prediction.Air, alpha: float
) -> float:
    """Mass that flies a path at an airspeed and angle of attack, kg: lift and thrust carry it."""
    lift, drag = (float(value) for value in model.lift_and_drag(alpha))
    closure = true_airspeed * math.cos(path) + air.x
    climb = math.asin(closure * math.tan(path) / true_airspeed)
    force = 0.5 * air.density * true_airspeed**2 * model.coefficients.area * (lift + drag * math.tan(alpha))
    return force / (math.cos(climb) - math.sin(climb) * math.tan(alpha)) / STANDARD_GRAVITY


def flying(
    profile: Profile, *, true_airspeed: float, alpha: float, air: prediction.Air, path: float
) -> tuple[prediction.Model, prediction.Trim, bool] | None:
    """Make the model of an aircraft at the mass that it showed, and its steady flight on speed.

    Args:
        profile: the aircraft; where it has no tables, a usual jet's stand in.
        true_airspeed: as flown, m/s, at
        alpha: this angle of attack, rad: the two settle the mass.
        air: wind over deck.
        path: commanded climb angle, rad, negative.

    Returns:
        Model, steady flight, and whether the aircraft's own tables are behind it; None where it
        cannot fly the path.
    """
    for own in (True, False):
        tables: Mapping[str, Any] = profile.tables if own else _usual_tables(profile.on_speed)
        if "aerodynamics" not in tables or "engine" not in tables:
            continue
        try:
            model = prediction.model_of(replace(profile, tables=tables))
            model = prediction.with_mass(model, _mass(model, true_airspeed, path, air, alpha))
            return model, prediction.trim(model, path=path, air=air, alpha=profile.on_speed), own
        except InputError:
            continue
    return None


def approach(
    profile: Profile, *, true_airspeed: float, wind_along: float, path: float, step: float
) -> Approach | None:
    """Make the small-change model of an aircraft on a commanded path, None where it cannot fly it.

    Args:
        profile: the aircraft; where it has no tables, a usual jet's stand in.
        true_airspeed: as flown on speed, m/s: settles the mass.
        wind_along: wind over deck against the landing direction, m/s, + head wind.
        path: commanded climb angle, rad, negative.
        step: s.
    """
    found = flying(
        profile,
        true_airspeed=true_airspeed,
        alpha=profile.on_speed,
        air=prediction.Air(x=-wind_along),
        path=path,
    )
    if found is None:
        return None
    model, steady, own = found
    return Approach(
        step,
        model,
        steady,
        prediction.linear(model, steady, hold=prediction.ALPHA),
        prediction.linear(model, steady, hold=prediction.ELEVATOR),
        own,
    )
