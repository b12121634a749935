"""The aircraft on approach, one step at a time: forces, pitch, roll and engine.

Frame: any level frame that moves uniformly (the ship's steady motion, or the earth): x
forward, y to starboard, z up. Velocities are against that frame, and so is the air's: in a
frame that moves with the ship, the air's velocity is the wind over deck. Heading is + to
starboard of x; pitch + nose up; roll + right wing down; SI and radians throughout.

:func:`build` makes the step out of its one text for numbers, for arrays and, in
``prediction/compiled.py``, for the compiler.

Source: the equations of motion of any text of flight mechanics, in air-path axes with the
sideslip small (e.g. Etkin, *Dynamics of Atmospheric Flight*, 1972, chapter 5; from memory).
Yaw is reduced to the nose turning into the relative wind at the rate of the yaw mode.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from deckward.foundation.units import STANDARD_GRAVITY

#: what the ``nose`` control means
ELEVATOR, PITCH, ALPHA = 0, 1, 2
#: angle of attack beyond which forces are those at this angle, rad
_STEEPEST = 0.7


class Coefficients(NamedTuple):
    """What the step needs of an aircraft: numbers, and tables on even grids."""

    mass: float
    area: float
    chord: float
    pitch_inertia: float
    #: lift and drag coefficients and the elevator that trims, on an even grid of angle of attack
    alpha_low: float
    per_alpha: float
    lift: np.ndarray
    drag: np.ndarray
    trim_elevator: np.ndarray
    on_speed: float
    #: force along the body's x axis over pressure and area, at on-speed trim
    on_speed_axial: float
    on_speed_thrust: float
    lift_per_elevator: float
    lift_per_pitch_rate: float
    lift_per_alpha_rate: float
    drag_per_elevator: float
    drag_per_lift_squared: float
    pitch_per_alpha: float
    pitch_per_alpha_rate: float
    pitch_per_pitch_rate: float
    pitch_per_elevator: float
    elevator_limit: float
    #: height of the point that the coefficients belong to, and of the thrust line, above the
    #: centre of gravity, over the chord
    reference_height: float
    thrust_height: float
    gear_drag: float
    flaps_lift: float
    flaps_drag: float
    brake_lift: float
    brake_drag: float
    blown_lift: float
    blown_above: float
    #: thrust and the quickest rise and fall of power, on an even grid of power from 0
    per_power: float
    full_power: float
    thrust: np.ndarray
    rise: np.ndarray
    fall: np.ndarray
    thrust_lag: float
    side_per_sideslip: float
    yaw_rate_per_sideslip: float
    pitch_frequency: float
    pitch_damping: float
    roll_frequency: float
    roll_damping: float
    roll_rate_limit: float


def look_up(table, place):
    """Read a table on an even grid at grid places (n,) or a number, straight between, held past its ends."""
    place = np.minimum(np.maximum(place, 0.0), table.size - 1.000001)
    index = np.asarray(place).astype(np.intp)
    low = table[index]
    return low + (place - index) * (table[index + 1] - low)


def build(look_up, compiled=lambda function: function):
    """Make the step: ``advance(c, state, controls, configuration, air, dt)`` to the next state.

    ``state`` is a tuple in the order of :class:`~deckward.prediction.model.State`;
    ``controls`` (power, nose, bank, hold); ``configuration`` (gear, flaps, speed brake);
    ``air`` (x, y, z, density). Numbers, or arrays of shapes that go together; ``hold`` is
    one number for all. ``compiled`` turns each function into the one that is used.
    """

    @compiled
    def air_path(c, velocity, air):
        """Relative wind: airspeed, its level part, unit direction, sine and cosine of the climb angle."""
        rx = velocity[0] - air[0]
        ry = velocity[1] - air[1]
        rz = velocity[2] - air[2]
        level = np.sqrt(rx * rx + ry * ry)
        speed = np.sqrt(level * level + rz * rz)
        return speed, rx / level, ry / level, rz / speed, level / speed

    @compiled
    def coefficients(c, alpha, configuration, power):
        """Lift and drag coefficients at the trim elevator, and that elevator."""
        place = (alpha - c.alpha_low) * c.per_alpha
        table_lift = look_up(c.lift, place)
        up = configuration[1] - 1.0
        blown = np.minimum(np.maximum((c.blown_above - power) * 50.0, 0.0), 1.0)
        lift = (
            table_lift
            + c.flaps_lift * up
            + c.brake_lift * configuration[2]
            - c.blown_lift * configuration[1] * blown
        )
        drag = (
            look_up(c.drag, place)
            + c.flaps_drag * up
            + c.gear_drag * (configuration[0] - 1.0)
            + c.brake_drag * configuration[2]
            + c.drag_per_lift_squared * (lift * lift - table_lift * table_lift)
        )
        return lift, drag, look_up(c.trim_elevator, place)

    @compiled
    def push(c, path, alpha, roll, sideslip, lift, drag, thrust):
        """Accelerations: along x, y, z and across the path in the plane of symmetry (lift direction).

        ``lift``, ``drag`` and ``thrust`` in newtons; ``sideslip`` the side force.
        """
        _, ex, ey, sin_climb, cos_climb = path
        a2 = alpha * alpha
        sin_a = alpha * (1.0 - a2 * (1.0 / 6.0 - a2 / 120.0))
        cos_a = 1.0 - a2 * (0.5 - a2 / 24.0)
        sin_r, cos_r = np.sin(roll), np.cos(roll)
        ahead = (thrust * cos_a - drag) / c.mass
        normal = (lift + thrust * sin_a) / c.mass
        side = sideslip / c.mass
        up = normal * cos_r - side * sin_r
        right = normal * sin_r + side * cos_r
        level = ahead * cos_climb - up * sin_climb
        ax = level * ex - right * ey
        ay = level * ey + right * ex
        az = ahead * sin_climb + up * cos_climb - STANDARD_GRAVITY
        return ax, ay, az, normal - STANDARD_GRAVITY * cos_climb * cos_r, right

    @compiled
    def elevator_for(c, per_moment, moment, per_rate, still_rate, per_elevator, error, q, hold):
        """Elevator that makes the pitch acceleration which a loop asks for, as far as it reaches.

        The angle of attack changes by ``still_rate - per_elevator * elevator``, and a change
        pitches by ``per_rate``; so the elevator stands on both sides of the equation.
        """
        frequency = c.pitch_frequency
        damping = 2.0 * c.pitch_damping * frequency
        wanted = frequency * frequency * error - per_moment * (moment + per_rate * still_rate)
        gain = per_moment * (c.pitch_per_elevator - per_rate * per_elevator)
        if hold == PITCH:
            elevator = (wanted - damping * q) / gain
        else:
            elevator = (wanted - damping * still_rate) / (gain - damping * per_elevator)
        return np.minimum(np.maximum(elevator, -c.elevator_limit), c.elevator_limit)

    @compiled
    def accelerate(c, velocity, pitch, roll, heading, q, power, thrust, nose, hold, configuration, air):
        """Return accelerations (x, y, z), of pitch rate, the heading rate, the elevator, angle of attack."""
        path = air_path(c, velocity, air)
        speed, ex, ey, sin_climb, _ = path
        cos_r = np.cos(roll)
        alpha = (pitch - np.arcsin(sin_climb)) / cos_r
        alpha = np.minimum(np.maximum(alpha, -_STEEPEST), _STEEPEST)
        sideslip = ey * np.cos(heading) - ex * np.sin(heading)
        lift, drag, trim = coefficients(c, alpha, configuration, power)
        pressure = 0.5 * air[3] * speed * speed * c.area
        half = 0.5 * c.chord / speed
        axial = lift * alpha - drag
        lift = lift + c.lift_per_pitch_rate * q * half
        side = pressure * c.side_per_sideslip * sideslip

        _, _, _, normal, _ = push(c, path, alpha, roll, side, pressure * lift, pressure * drag, thrust)
        per_elevator = pressure * c.lift_per_elevator / (c.mass * speed)
        still_rate = q - normal / speed + per_elevator * trim
        per_rate = c.pitch_per_alpha_rate * half
        moment = (
            c.pitch_per_alpha * (alpha - c.on_speed)
            + c.pitch_per_pitch_rate * q * half
            - c.reference_height * (axial - c.on_speed_axial)
            - c.thrust_height * (thrust / pressure - c.on_speed_thrust)
        )
        per_moment = pressure * c.chord / c.pitch_inertia
        if hold == ELEVATOR:
            elevator = np.minimum(np.maximum(nose, -c.elevator_limit), c.elevator_limit)
        else:
            error = nose - pitch if hold == PITCH else nose - alpha
            elevator = elevator_for(c, per_moment, moment, per_rate, still_rate, per_elevator, error, q, hold)
        alpha_rate = still_rate - per_elevator * elevator
        q_rate = per_moment * (moment + per_rate * alpha_rate + c.pitch_per_elevator * elevator)

        more = c.lift_per_elevator * (elevator - trim) + c.lift_per_alpha_rate * alpha_rate * half
        drag = (
            drag
            + c.drag_per_elevator * (elevator - trim)
            + c.drag_per_lift_squared * more * (2.0 * lift + more)
        )
        lift = lift + more
        ax, ay, az, _, right = push(c, path, alpha, roll, side, pressure * lift, pressure * drag, thrust)
        turn = right / (speed * path[4]) + c.yaw_rate_per_sideslip * sideslip
        return ax, ay, az, q_rate, turn, elevator, alpha

    @compiled
    def spool(c, power, thrust, lever, dt):
        """Power and thrust after ``dt`` with the lever at ``lever``."""
        place = power * c.per_power
        wanted = np.minimum(np.maximum(lever, 0.0), c.full_power) - power
        change = np.minimum(np.maximum(wanted, -look_up(c.fall, place) * dt), look_up(c.rise, place) * dt)
        power = power + change
        share = min(1.0, dt / (c.thrust_lag + 0.5 * dt))
        return power, thrust + share * (look_up(c.thrust, power * c.per_power) - thrust)

    @compiled
    def advance(c, state, controls, configuration, air, dt):
        x, y, z, vx, vy, vz, pitch, roll, heading, q, p, power, thrust = state
        lever, nose, bank, hold = controls
        power, thrust = spool(c, power, thrust, lever, dt)
        ax, ay, az, q_rate, turn, _, _ = accelerate(
            c, (vx, vy, vz), pitch, roll, heading, q, power, thrust, nose, hold, configuration, air
        )
        wanted = c.roll_frequency * (c.roll_frequency * (bank - roll) - 2.0 * c.roll_damping * p)
        limit = c.roll_rate_limit
        next_p = np.minimum(np.maximum(p + wanted * dt, -limit), limit)
        next_q = q + q_rate * dt
        # kinematics go by the mean of both ends: second order from one evaluation
        half = 0.5 * dt
        sin_r, cos_r = np.sin(roll), np.cos(roll)
        pitching = 0.5 * (q + next_q) * cos_r - turn * cos_r * sin_r
        return (
            x + vx * dt + ax * dt * half,
            y + vy * dt + ay * dt * half,
            z + vz * dt + az * dt * half,
            vx + ax * dt,
            vy + ay * dt,
            vz + az * dt,
            pitch + pitching * dt,
            roll + (p + next_p) * half,
            heading + turn * dt,
            next_q,
            next_p,
            power,
            thrust,
        )

    return advance, accelerate, coefficients


advance, accelerate, coefficients = build(look_up)
