"""What flies: the model of an aircraft on approach, its state, its controls and the air around it.

Frames and signs: ``prediction/flight.py``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

import numpy as np
from msgspec import Struct

from deckward.aircraft.model import Profile
from deckward.environment import airspeed, atmosphere
from deckward.errors import InputError
from deckward.foundation.units import STANDARD_GRAVITY, to_si
from deckward.prediction import flight
from deckward.prediction.flight import ALPHA, ELEVATOR, Coefficients

SEA_LEVEL_DENSITY = float(airspeed.SEA_LEVEL_DENSITY)
#: what the tables are laid on: one step of angle of attack (rad) and of power
_ALPHA_STEP, _POWER_STEP = to_si(0.05, "deg"), 0.005
#: an engine without rates follows its lever at once
_AT_ONCE = 1e3


class State(NamedTuple):
    """Where the aircraft's reference point is and how it moves; numbers, or (n,) each.

    Position and velocity in a level frame that moves uniformly (x forward, y starboard, z
    up), m and m/s; attitude and rates rad and rad/s, ``heading`` + to starboard of x.
    ``power`` is where the engine is (0 idle, 1 military), ``thrust`` what it gives, N.
    """

    x: Any
    y: Any
    z: Any
    vx: Any
    vy: Any
    vz: Any
    pitch: Any
    roll: Any
    heading: Any
    pitch_rate: Any
    roll_rate: Any
    power: Any
    thrust: Any


class Controls(NamedTuple):
    """What the pilot asks for.

    ``power`` is the lever (0 to 1). ``hold`` says what ``nose`` is: ``ELEVATOR`` its
    deflection (rad, + trailing edge down), ``PITCH`` an attitude and ``ALPHA`` an angle of
    attack that a loop of the model's pitch frequency goes to. ``bank`` is the bank to go to.
    """

    power: Any
    nose: Any
    bank: Any = 0.0
    hold: int = ALPHA


class Configuration(NamedTuple):
    """Gear and flaps (1 as for the approach, 0 up), speed brake (1 out)."""

    gear: Any = 1.0
    flaps: Any = 1.0
    speed_brake: Any = 0.0


class Air(NamedTuple):
    """Where the air goes to in the state's frame, m/s, and its density, kg/m^3.

    A head wind of 12 m/s is ``Air(x=-12.0)``; ``z`` is + for an updraught.
    """

    x: Any = 0.0
    y: Any = 0.0
    z: Any = 0.0
    density: Any = SEA_LEVEL_DENSITY


LANDING = Configuration()
STILL_AIR = Air()


class Model(Struct, frozen=True):
    """An aircraft as the step sees it.

    ``alpha_range`` is what the profile's tables span (low, high), rad: beyond it lift holds
    its last value. ``alpha_top`` is the angle of attack of the greatest lift in the tables;
    ``stalls`` whether lift falls behind it, or the table just ends. ``missing`` names the
    derivatives that the profile lacks for flying by elevator.
    """

    name: str
    profile: Profile
    coefficients: Coefficients
    on_speed: float
    alpha_range: tuple[float, float]
    alpha_top: float
    stalls: bool
    missing: tuple[str, ...] = ()

    @property
    def mass(self) -> float:
        """Mass, kg."""
        return self.coefficients.mass

    def lift_and_drag(self, alpha, *, configuration: Configuration = LANDING, power=1.0):
        """Return trimmed lift and drag coefficients at angles of attack, rad."""
        lift, drag, _ = flight.coefficients(
            self.coefficients, np.asarray(alpha, dtype=float), configuration, power
        )
        return lift, drag

    def thrust_of(self, power):
        """Return the thrust that belongs to a power, N."""
        c = self.coefficients
        return flight.look_up(c.thrust, np.asarray(power, dtype=float) * c.per_power)

    def power_of(self, thrust):
        """Return the power that gives a thrust; NaN outside what the engine gives."""
        c = self.coefficients
        grid = np.arange(c.thrust.size) / c.per_power
        return np.interp(thrust, c.thrust, grid, left=np.nan, right=np.nan)


def model_of(profile: Profile, *, mass: float | None = None) -> Model:
    """Make the model that a profile's tables describe, at a mass (kg; its reference mass if left out).

    Raises:
        InputError: the profile has no aerodynamics or no engine table, or no mass is known.

    >>> from deckward import aircraft
    >>> model_of(aircraft.load("sandlark")).mass
    5783.0
    """
    for name in ("aerodynamics", "engine"):
        if name not in profile.tables:
            raise InputError(
                f"the aircraft {profile.name!r} has no [{name}] table, and flying it on needs one.",
                remedy="Add the table to its file, or name another aircraft with --aircraft.",
            )
    tables = profile.tables
    masses: Mapping[str, Any] = tables.get("mass", {})
    chosen = mass or masses.get("reference_kg") or profile.max_landing_mass
    if not chosen:
        raise InputError(
            f"the mass of the aircraft {profile.name!r} is not known.",
            remedy="Give mass.reference_kg or approach.max_landing_mass_kg in its file.",
        )
    aero = tables["aerodynamics"]
    slopes, missing = _slopes(aero.get("derivatives") or {}, masses)
    shape = _shape(aero, slopes, profile.on_speed)
    engine = _engine(tables["engine"])
    span, chord, area = aero["span_m"], aero["chord_m"], aero["reference_area_m2"]
    speed = math.sqrt(2 * chosen * STANDARD_GRAVITY / (SEA_LEVEL_DENSITY * area * shape["lift_on_speed"]))
    yaw_inertia = masses.get("yaw_inertia_kgm2", chosen * (0.35 * span) ** 2)
    stiffness = 0.5 * SEA_LEVEL_DENSITY * speed**2 * area * span / yaw_inertia
    coefficients = Coefficients(
        mass=float(chosen),
        area=area,
        chord=chord,
        pitch_inertia=masses.get("pitch_inertia_kgm2", chosen * chord**2),
        alpha_low=shape["low"],
        per_alpha=1.0 / _ALPHA_STEP,
        lift=shape["lift"],
        drag=shape["drag"],
        trim_elevator=shape["trim_elevator"],
        on_speed=profile.on_speed,
        on_speed_axial=shape["axial"],
        on_speed_thrust=shape["thrust"],
        lift_per_elevator=slopes["lift_per_elevator"],
        lift_per_pitch_rate=slopes["lift_per_pitch_rate"],
        lift_per_alpha_rate=slopes["lift_per_alpha_rate"],
        drag_per_elevator=slopes["drag_per_elevator"],
        drag_per_lift_squared=aero.get("drag_per_lift_squared", 0.0),
        pitch_per_alpha=slopes["pitch_per_alpha"],
        pitch_per_alpha_rate=slopes["pitch_per_alpha_rate"],
        pitch_per_pitch_rate=slopes["pitch_per_pitch_rate"],
        pitch_per_elevator=slopes["pitch_per_elevator"],
        elevator_limit=to_si(aero.get("elevator_limit_deg", 20.0), "deg"),
        reference_height=aero.get("above_centre_m", 0.0) / chord,
        thrust_height=tables["engine"].get("above_centre_m", 0.0) / chord,
        gear_drag=aero.get("gear_drag", 0.0),
        flaps_lift=aero.get("flaps_lift", 0.0),
        flaps_drag=aero.get("flaps_drag", 0.0),
        brake_lift=aero.get("speed_brake_lift", 0.0),
        brake_drag=aero.get("speed_brake_drag", 0.0),
        blown_lift=aero.get("blown_lift", 0.0),
        blown_above=aero.get("blown_above_power", 0.0),
        per_power=1.0 / _POWER_STEP,
        full_power=engine["full"],
        thrust=engine["thrust"],
        rise=engine["rise"],
        fall=engine["fall"],
        thrust_lag=tables["engine"].get("lag_s", 0.0),
        side_per_sideslip=slopes["side_per_sideslip"],
        yaw_rate_per_sideslip=math.sqrt(max(stiffness * slopes["yaw_per_sideslip"], 0.1)),
        pitch_frequency=2.0,
        pitch_damping=0.8,
        roll_frequency=2.0,
        roll_damping=0.8,
        roll_rate_limit=to_si(40.0, "deg"),
    )
    return Model(
        name=profile.name,
        profile=profile,
        coefficients=coefficients,
        on_speed=profile.on_speed,
        alpha_range=shape["range"],
        alpha_top=shape["top"],
        stalls=shape["stalls"],
        missing=missing,
    )


#: what stands in for a derivative that a profile lacks. With attitude or angle of attack held
#: the pitch derivatives do not matter: the loop asks for a pitch acceleration.
_USUAL = {
    "lift_per_elevator": 0.0,
    "lift_per_pitch_rate": 0.0,
    "lift_per_alpha_rate": 0.0,
    "drag_per_elevator": 0.0,
    "pitch_per_alpha": -0.4,
    "pitch_per_alpha_rate": 0.0,
    "pitch_per_pitch_rate": -5.0,
    "pitch_per_elevator": -0.6,
    "side_per_sideslip": -0.8,
    "yaw_per_sideslip": 0.12,
}
_FOR_ELEVATOR = ("pitch_per_alpha", "pitch_per_pitch_rate", "pitch_per_elevator")


def _slopes(
    given: Mapping[str, float], masses: Mapping[str, Any]
) -> tuple[dict[str, float], tuple[str, ...]]:
    missing = [f"aerodynamics.derivatives.{name}" for name in _FOR_ELEVATOR if name not in given]
    if "pitch_inertia_kgm2" not in masses:
        missing.append("mass.pitch_inertia_kgm2")
    return {name: given.get(name, usual) for name, usual in _USUAL.items()}, tuple(missing)


def _shape(aero: Mapping[str, Any], slopes: Mapping[str, float], on_speed: float) -> dict[str, Any]:
    """Lay lift, drag and the trim elevator on an even grid of angle of attack."""
    alpha = to_si(np.asarray(aero["angle_of_attack_deg"], dtype=float), "deg")
    grid = np.arange(alpha[0], alpha[-1] + 0.5 * _ALPHA_STEP, _ALPHA_STEP)
    lift = np.interp(grid, alpha, aero["lift_coefficient"])
    drag = np.interp(grid, alpha, aero["drag_coefficient"])
    at = int(np.argmin(np.abs(grid - on_speed)))
    lift_on, drag_on = float(np.interp(on_speed, grid, lift)), float(np.interp(on_speed, grid, drag))
    axial = lift * grid - drag
    axial_on = lift_on * on_speed - drag_on
    top = int(np.argmax(lift))
    trim = np.zeros_like(grid)
    if aero.get("elevator", "trimmed") == "trimmed":
        # in level flight thrust balances drag, whatever the angle of attack
        reference = aero.get("above_centre_m", 0.0) / aero["chord_m"]
        moment = slopes["pitch_per_alpha"] * (grid - on_speed) - reference * (axial - axial_on)
        trim = -moment / slopes["pitch_per_elevator"]
        trim -= trim[at]
    return {
        "low": float(grid[0]),
        "lift": lift,
        "drag": drag,
        "trim_elevator": trim,
        "lift_on_speed": lift_on,
        "axial": axial_on,
        "thrust": drag_on / math.cos(on_speed),
        "range": (float(alpha[0]), float(alpha[-1])),
        "top": float(grid[top]),
        "stalls": top < grid.size - 2,
    }


def _engine(table: Mapping[str, Any]) -> dict[str, Any]:
    """Lay thrust and rates on an even grid of power from 0 to full."""
    power = np.asarray(table["power"], dtype=float)
    full = float(power[-1])
    grid = np.arange(0.0, full + 1.5 * _POWER_STEP, _POWER_STEP)
    return {
        "full": full,
        "thrust": np.interp(grid, power, table["thrust_n"]),
        "rise": np.interp(grid, power, table.get("rise_per_s", np.full(power.size, _AT_ONCE))),
        "fall": np.interp(grid, power, table.get("fall_per_s", np.full(power.size, _AT_ONCE))),
    }


def step(
    model: Model,
    state: State,
    controls: Controls,
    air: Air = STILL_AIR,
    dt: float = 0.02,
    *,
    configuration: Configuration = LANDING,
) -> State:
    """Return the state ``dt`` seconds later; pure, any number of aircraft at once.

    Valid: angle of attack inside ``model.alpha_range`` (lift holds its last value beyond),
    bank below 60 deg, sideslip small.

    Raises:
        InputError: flying by elevator with a profile that lacks pitch derivatives.
    """
    if controls.hold == ELEVATOR and model.missing:
        raise _cannot_fly_by_elevator(model)
    return State(*flight.advance(model.coefficients, state, controls, configuration, air, dt))


def _cannot_fly_by_elevator(model: Model) -> InputError:
    return InputError(
        f"the aircraft {model.name!r} lacks what flying by elevator needs: {', '.join(model.missing)}.",
        remedy="Add it to the aircraft's file, or fly it by attitude or angle of attack.",
    )


def angle_of_attack(state: State, air: Air = STILL_AIR):
    """Return the angle of attack against the air around, rad."""
    rx, ry, rz = state.vx - air.x, state.vy - air.y, state.vz - air.z
    climb = np.arctan2(rz, np.hypot(rx, ry))
    return (state.pitch - climb) / np.cos(state.roll)


def true_airspeed(state: State, air: Air = STILL_AIR):
    """Return the true airspeed, m/s."""
    return np.sqrt((state.vx - air.x) ** 2 + (state.vy - air.y) ** 2 + (state.vz - air.z) ** 2)


def density_at(altitude):
    """Return the standard air's density at a height above the sea (m), kg/m^3."""
    return atmosphere.standard(atmosphere.geopotential_height(np.asarray(altitude, dtype=float))).density
