"""The linear model of small changes about steady flight."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from msgspec import Struct

from deckward.prediction import flight
from deckward.prediction.flight import ALPHA, ELEVATOR, PITCH
from deckward.prediction.model import Model
from deckward.prediction.trim import Trim

INPUTS = ("power", "nose", "bank", "air_x", "air_y", "air_z")
OUTPUTS = ("path", "true_airspeed", "alpha")
_MOTION = ("z", "vx", "vz", "y", "vy", "heading")
_STATES = {ELEVATOR: (*_MOTION, "pitch", "pitch_rate"), PITCH: _MOTION, ALPHA: _MOTION}
#: how far each is moved to find its effect: m, m/s, rad, rad/s, share of power
_NUDGE = {"z": 1.0, "vx": 0.05, "vy": 0.05, "vz": 0.05, "power": 0.01, "air_x": 0.05, "air_y": 0.05}
_SMALL = 1e-3


class Linear(Struct, frozen=True, eq=False):
    """Small changes about a trim.

    ``d/dt states = a @ states + b @ inputs`` and ``outputs = c @ states + d @ inputs``.

    States and inputs are changes from ``trim``, in the order of their names, SI and radians,
    in the trim's frame (x forward, y starboard, z up). ``power`` is the engine's power (not
    the lever), ``bank`` the roll angle itself, ``air_x`` to ``air_z`` the air's velocity.
    ``nose`` is the elevator where ``hold`` is ``ELEVATOR``; with ``PITCH`` and ``ALPHA``
    attitude and angle of attack are what ``nose`` says, without delay, whatever the air does.
    Outputs: ``path`` is the climb angle in the frame, rad.
    """

    trim: Trim
    hold: int
    states: tuple[str, ...]
    inputs: tuple[str, ...]
    outputs: tuple[str, ...]
    a: np.ndarray
    b: np.ndarray
    c: np.ndarray
    d: np.ndarray

    def modes(self) -> np.ndarray:
        """Return the eigenvalues of ``a``, 1/s."""
        return np.linalg.eigvals(self.a)


def linear(model: Model, trim: Trim, *, hold: int = ELEVATOR) -> Linear:
    """Find the linear model about a trim by small changes either way of the full one.

    ``hold`` is ``ELEVATOR`` (elevator held: the pitch motion is part of it), ``PITCH`` or
    ``ALPHA`` (attitude or angle of attack held).
    """
    states = _STATES[hold]
    both = _slopes(model, trim, hold, (*states, *INPUTS), _steady(trim, hold))
    count = len(states)
    return Linear(
        trim=trim,
        hold=hold,
        states=states,
        inputs=INPUTS,
        outputs=OUTPUTS,
        a=both[:count, :count],
        b=both[:count, count:],
        c=both[count:, :count],
        d=both[count:, count:],
    )


def along(
    model: Model, trim: Trim, flown: Mapping[str, np.ndarray], *, names: Sequence[str], hold: int = ELEVATOR
) -> np.ndarray:
    """Find the slopes with which the changes from a trim run along a flight that goes far from it.

    Args:
        model: the aircraft.
        trim: what the changes count from.
        flown: states and inputs as flown, whole and not as changes, (n,) each; what is left
            out stands at the trim.
        names: states and inputs whose slopes are wanted.
        hold: ``ELEVATOR``, ``PITCH`` or ``ALPHA``.

    Returns:
        (n, states, names): how the rate of each state, in the order of :func:`linear`, goes with each
        name, so that what the full model does beyond the trim is the sum of slopes times
        changes, the changes not being small. Slopes are averaged over the way from the trim to
        what was flown, by Simpson's rule, exact to the third order.
    """
    base = _steady(trim, hold)
    way, weights = np.array([0.0, 0.5, 1.0]), np.array([1.0, 4.0, 1.0]) / 6.0
    there = {name: np.asarray(value) for name, value in base.items()}
    for name, values in flown.items():
        there[name] = (base[name] + way[:, None] * (values - base[name]))[..., None]
    slopes = _slopes(model, trim, hold, names, there)[: len(_STATES[hold])]
    return np.einsum("swnk,w->nsk", slopes, weights)


def _steady(trim: Trim, hold: int) -> dict[str, Any]:
    """States and inputs of a trim."""
    return {
        "z": 0.0,
        "y": 0.0,
        "vx": trim.state.vx,
        "vy": trim.state.vy,
        "vz": trim.state.vz,
        "heading": trim.state.heading,
        "pitch": trim.pitch,
        "pitch_rate": 0.0,
        "power": trim.power,
        "nose": {ELEVATOR: trim.elevator, PITCH: trim.pitch, ALPHA: trim.alpha}[hold],
        "bank": 0.0,
        "air_x": trim.air.x,
        "air_y": trim.air.y,
        "air_z": trim.air.z,
    }


def _slopes(model: Model, trim: Trim, hold: int, names: Sequence[str], base: dict[str, Any]) -> np.ndarray:
    """Slopes of rates and outputs, (rows, ..., names), by small changes either way of ``base``."""
    nudges = np.array([_NUDGE.get(name, _SMALL) for name in names])
    # one column a name, moved up and then down
    moved = np.concatenate([np.diag(nudges), -np.diag(nudges)], axis=1)
    at = {name: base[name] + row for name, row in zip(names, moved, strict=True)}
    high, low = np.split(_motion(model, trim, hold, base | at), 2, axis=-1)
    return (high - low) / (2.0 * nudges)


def _motion(model: Model, trim: Trim, hold: int, now: dict[str, Any]) -> np.ndarray:
    """Rates of the states, then the outputs, one row each; ``now`` holds numbers or arrays (n,)."""
    air = trim.air._replace(x=now["air_x"], y=now["air_y"], z=now["air_z"])
    rx, ry, rz = now["vx"] - air.x, now["vy"] - air.y, now["vz"] - air.z
    speed = np.sqrt(rx * rx + ry * ry + rz * rz)
    climb, cos_bank = np.arcsin(rz / speed), np.cos(now["bank"])
    if hold == ELEVATOR:
        pitch, elevator = now["pitch"], now["nose"]
    else:
        pitch = now["nose"] if hold == PITCH else climb + now["nose"] * cos_bank
        elevator = None
    alpha = (pitch - climb) / cos_bank
    if elevator is None:
        elevator = flight.coefficients(model.coefficients, alpha, trim.configuration, now["power"])[2]
    ax, ay, az, q_rate, turn, _, _ = flight.accelerate(
        model.coefficients,
        (now["vx"], now["vy"], now["vz"]),
        pitch,
        now["bank"],
        now["heading"],
        now["pitch_rate"],
        now["power"],
        model.thrust_of(now["power"]),
        elevator,
        ELEVATOR,
        trim.configuration,
        air,
    )
    sin_bank = np.sin(now["bank"])
    rates = [now["vz"], ax, az, now["vy"], ay, turn]
    if hold == ELEVATOR:
        rates += [now["pitch_rate"] * cos_bank - turn * cos_bank * sin_bank, q_rate]
    path = np.arctan2(now["vz"], np.hypot(now["vx"], now["vy"]))
    return np.array(np.broadcast_arrays(*rates, path, speed, alpha))
