"""A steady pull over a length: the catapult's stroke, and the arresting gear's run-out."""

from __future__ import annotations

from msgspec import Struct


class Pull(Struct, frozen=True):
    """What a steady pull is: mean acceleration, m/s^2, time, s, energy into or out of the jet, J.

    ``end_speed`` against the ship is reached, or lost, over ``length``.
    """

    end_speed: float
    length: float
    acceleration: float
    seconds: float
    energy: float


def pull(end_speed: float, length: float, mass: float) -> Pull:
    """Say what a steady pull to (or from) ``end_speed`` takes: v^2 / (2 L), 2 L / v and m v^2 / 2."""
    return Pull(
        end_speed=end_speed,
        length=length,
        acceleration=end_speed**2 / (2.0 * length),
        seconds=2.0 * length / end_speed,
        energy=0.5 * mass * end_speed**2,
    )
