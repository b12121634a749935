"""Steady flight: on a glide path relative to a moving deck, level, or climbing."""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.errors import InputError
from deckward.foundation.units import STANDARD_GRAVITY, from_si
from deckward.prediction import flight
from deckward.prediction.flight import ALPHA
from deckward.prediction.model import LANDING, STILL_AIR, Air, Configuration, Controls, Model, State

_SPEEDS = (20.0, 200.0)
#: force over weight, and share of an interval, that count for nothing in a search for balance
_ENOUGH = 1e-13


class Trim(Struct, frozen=True):
    """Steady flight with wings level along the frame's x axis.

    ``path`` is the path angle in the frame (- descending), ``air_path`` the one through the
    air; ``closure`` the speed along x; ``nose`` in ``controls`` is the angle of attack,
    ``elevator`` what trims. ``thrust`` in newtons, ``power`` 0 to 1.
    """

    state: State
    controls: Controls
    air: Air
    configuration: Configuration
    path: float
    air_path: float
    true_airspeed: float
    closure: float
    alpha: float
    pitch: float
    thrust: float
    power: float
    elevator: float


def trim(
    model: Model,
    *,
    path: float = math.radians(-3.5),
    air: Air = STILL_AIR,
    alpha: float | None = None,
    true_airspeed: float | None = None,
    configuration: Configuration = LANDING,
) -> Trim:
    """Find the steady flight along x at a path angle in the frame, by angle of attack or by airspeed.

    ``path`` in rad, - descending; in a frame that moves with the ship it is the path
    relative to the deck and ``air`` the wind over deck. Without ``alpha`` (rad) or
    ``true_airspeed`` (m/s) the aircraft flies on speed.

    Raises:
        InputError: no power of the engine, or no angle of attack of the tables, holds it.
    """
    power, extra = model.coefficients.full_power, (0.0, 0.0)
    # lift goes by power, too, where flaps are blown, and by the elevator that the power asks for
    for _ in range(12):
        case = _Case(model, path, air, configuration, power, *extra)
        if true_airspeed is not None:
            angle, speed = case.alpha_at(true_airspeed), true_airspeed
        else:
            angle = model.on_speed if alpha is None else alpha
            speed = case.speed_at(angle)
        _, thrust, (vx, vy, vz) = case.balance(speed, angle, case.forces(angle))
        climb = math.asin((vz - air.z) / speed)
        heading = math.atan2(vy - air.y, vx - air.x)
        settled = float(model.power_of(thrust))
        if math.isnan(settled):
            raise InputError(
                f"no power of {model.name!r} holds a path of {math.degrees(path):.1f} deg at "
                f"{from_si(speed, 'kt'):.0f} kt: it takes {thrust:.0f} N.",
                remedy="Choose another mass, speed or path.",
            )
        done = abs(settled - power) < 1e-9
        power = settled
        state = State(0.0, 0.0, 0.0, vx, vy, vz, climb + angle, 0.0, heading, 0.0, 0.0, power, thrust)
        elevator = elevator_to_hold(model, state, air, configuration)
        extra = _of_elevator(model, angle, elevator, configuration, power)
        if done:
            break
    return Trim(
        state=state,
        controls=Controls(power, angle, 0.0, ALPHA),
        air=air,
        configuration=configuration,
        path=path,
        air_path=climb,
        true_airspeed=speed,
        closure=vx,
        alpha=angle,
        pitch=climb + angle,
        thrust=thrust,
        power=power,
        elevator=elevator,
    )


def elevator_to_hold(model: Model, state: State, air: Air, configuration: Configuration = LANDING) -> float:
    """Return the elevator that holds a state's angle of attack still, rad, + trailing edge down."""
    alpha = state.pitch - math.asin((state.vz - air.z) / _speed(state, air))
    *_, elevator, _ = flight.accelerate(
        model.coefficients,
        (state.vx, state.vy, state.vz),
        state.pitch,
        state.roll,
        state.heading,
        0.0,
        state.power,
        state.thrust,
        alpha,
        ALPHA,
        configuration,
        air,
    )
    return float(elevator)


def _speed(state: State, air: Air) -> float:
    return math.sqrt((state.vx - air.x) ** 2 + (state.vy - air.y) ** 2 + (state.vz - air.z) ** 2)


def _velocity(path: float, air: Air, speed: float) -> tuple[float, float, float] | None:
    """Velocity along x at a path angle that has an airspeed; None where the wind is too strong for it."""
    slope = math.tan(path)
    a = 1.0 + slope * slope
    b = -2.0 * (air.x + slope * air.z)
    c = air.x**2 + air.y**2 + air.z**2 - speed**2
    root = b * b - 4 * a * c
    if root < 0.0:
        return None
    closure = (-b + math.sqrt(root)) / (2 * a)
    return closure, 0.0, closure * slope


def _of_elevator(model, alpha, elevator, configuration, power) -> tuple[float, float]:
    """Lift and drag coefficients that the elevator adds to those of the tables."""
    c = model.coefficients
    lift, _, usual = flight.coefficients(c, alpha, configuration, power)
    more = c.lift_per_elevator * (elevator - usual)
    induced = c.drag_per_lift_squared * ((lift + more) ** 2 - lift**2)
    return float(more), float(c.drag_per_elevator * (elevator - usual) + induced)


class _Case(Struct, frozen=True):
    """A path to hold in some air, with what the elevator adds to lift and drag."""

    model: Model
    path: float
    air: Air
    configuration: Configuration
    power: float
    more_lift: float
    more_drag: float

    def forces(self, alpha: float) -> tuple[float, float]:
        """Lift and drag coefficients at an angle of attack."""
        lift, drag = self.model.lift_and_drag(alpha, configuration=self.configuration, power=self.power)
        return float(lift) + self.more_lift, float(drag) + self.more_drag

    def balance(
        self, speed: float, alpha: float, forces: tuple[float, float]
    ) -> tuple[float, float, tuple[float, float, float]]:
        """Force missing across the path over weight, the thrust that balances along it, the velocity."""
        velocity = _velocity(self.path, self.air, speed)
        if velocity is None:
            return -1.0, 0.0, (0.0, 0.0, 0.0)
        c, air = self.model.coefficients, self.air
        climb = math.asin((velocity[2] - air.z) / speed)
        lift, drag = forces
        pressure = 0.5 * air.density * speed**2 * c.area
        weight = c.mass * STANDARD_GRAVITY
        thrust = (pressure * drag + weight * math.sin(climb)) / math.cos(alpha)
        across = pressure * lift + thrust * math.sin(alpha) - weight * math.cos(climb)
        return float(across / weight), float(thrust), velocity

    def speed_at(self, alpha: float) -> float:
        forces = self.forces(alpha)
        speed = _root(lambda speed: self.balance(speed, alpha, forces)[0], *_SPEEDS)
        if speed is None:
            raise InputError(
                f"{self.model.name!r} flies at no speed on {math.degrees(alpha):.1f} deg of angle of attack.",
                remedy="Choose an angle of attack inside its tables, and a mass that it can carry.",
            )
        return speed

    def alpha_at(self, speed: float) -> float:
        alpha = _root(
            lambda alpha: self.balance(speed, alpha, self.forces(alpha))[0],
            self.model.alpha_range[0],
            self.model.alpha_top,
        )
        if alpha is None:
            raise InputError(
                f"no angle of attack of {self.model.name!r} holds {from_si(speed, 'kt'):.0f} kt.",
                remedy="Choose a speed nearer to on-speed, or extend the aircraft's tables.",
            )
        return alpha


def _root(function, low: float, high: float) -> float | None:
    """Where a rising function is zero; None where it is not inside.

    Source: false position that halves the value of an end which stays (Dowell and Jarratt 1971,
    the "Illinois" algorithm; from memory).
    """
    below, above = function(low), function(high)
    if not below <= 0.0 <= above:
        return None
    side = 0
    for _ in range(100):
        middle = low + (high - low) * (below / (below - above)) if above > below else low
        value = function(middle)
        if abs(value) < _ENOUGH or high - low < _ENOUGH * (1.0 + abs(high)):
            return middle
        if value < 0.0:
            low, below = middle, value
            above = 0.5 * above if side < 0 else above
            side = -1
        else:
            high, above = middle, value
            below = 0.5 * below if side > 0 else below
            side = 1
    return 0.5 * (low + high)


def on_speed_airspeed(model: Model, masses, *, path: float = math.radians(-3.5)) -> np.ndarray:
    """Return true airspeeds (n,) on speed at masses (n,), kg, near the sea in still air."""
    speeds = [trim(with_mass(model, mass), path=path).true_airspeed for mass in np.atleast_1d(masses)]
    return np.array(speeds)


def with_mass(model: Model, mass: float) -> Model:
    """Return the model at another mass, kg; inertias stay."""
    return replace(model, coefficients=model.coefficients._replace(mass=float(mass)))
