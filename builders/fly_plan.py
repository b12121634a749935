"""What is to be flown and what was flown: the plan of a pass and its 120 Hz history."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from fly_deck import DeckPlan
from fly_geometry import NAUTICAL_MILE
from fly_ship import Ship, ShipPlan


@dataclass(frozen=True)
class Plan:
    """One pass: who flies what where, and how badly. Schedules are ((range m, value), ...)."""

    jet: str
    site: dict
    ship: ShipPlan
    points: dict  # of the aircraft, from its centre of gravity
    on_speed: float
    told: tuple = ()
    seed: int = 0
    wind_from: float = 0.0
    wind_kt: float = 0.0
    turbulence: float = 0.0  # share of the published free-air intensities
    start: str = "final"  # "downwind"; within a sortie also "upwind" and "far"
    start_range: float = 1.15 * NAUTICAL_MILE
    abeam: float = 1.15 * NAUTICAL_MILE
    turn_delay: float = 6.0  # s past abeam
    turn_bank: float = 27.0
    glide: tuple = ((0.0, 0.0),)  # deg high
    alpha: tuple = ((0.0, 0.0),)  # deg slow
    lateral: tuple = ((0.0, 0.0),)  # m right
    aim: float = 0.0  # m of hook target shift
    weave: tuple = (0.0, 8.0)  # m, s
    roughness: float = 1.0  # of hands and eyes
    wave_off: float | None = None  # m of range
    cut: tuple | None = None  # (range m, throttle change)
    flare: tuple | None = None  # (range m, deg)
    hook_down: bool = True
    deck: DeckPlan = field(default_factory=DeckPlan)
    after: float = 14.0  # s flown after a wave-off or bolter
    upwind: float = 12.0  # s flown ahead at pattern height before the crosswind turn
    far: float = 6500.0  # m of range at which a straight-in turns inbound
    far_height: float = 366.0  # m
    passes_by: bool = False  # flies over the ship instead of descending
    crash_after: float | None = None  # s of recording after a ramp strike


@dataclass(frozen=True)
class Flight:
    """Arrays at 120 Hz; time zero is where the recording may start."""

    plan: Plan
    ship: Ship
    time: np.ndarray
    cg: np.ndarray  # (n, 3) earth-centred
    body: np.ndarray  # (n, 3, 3) body axes, earth-centred
    velocity: np.ndarray  # (n, 3) north-east-down over the ground
    channels: dict
    wire: int | None
    engaged: float | None
    stopped: float | None
    wave_off: float | None

    def between(self, plan, first, end, **outcome):
        """A part of the flight as a flight of its own, flown after a plan of its own."""
        return Flight(
            plan=plan,
            ship=self.ship.between(first, end),
            time=self.time[first:end],
            cg=self.cg[first:end],
            body=self.body[first:end],
            velocity=self.velocity[first:end],
            channels={name: values[first:end] for name, values in self.channels.items()},
            **outcome,
        )
