"""Arrests by other wires than the flown ones: the run after the hook takes the wire, by a law of its own.

The approach, the touch and every attitude stay as they were flown. Which law a simulator's wires
follow nobody knows here; these differ in how soon the pull is felt and in where a jet stops.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from fly_plan import Flight
from fly_ship import STEP

#: run that a wire of steady run-out allows, m
RUN = 95.0


def _steady(_u, time, _speed):
    """Full at once, the same for all speeds."""
    return 22.0 * min(time / 0.05, 1.0)


def _grows(_u, time, _speed):
    """Grows evenly for 0.4 s, then the same for all speeds."""
    return 26.0 * min(time / 0.4, 1.0)


def _spring(u, _time, _speed):
    """Grows with the way, as a spring; faster jets run farther."""
    return 0.28 * u


def _half_sine(u, _time, speed):
    """Greatest half way, and the same run for all speeds."""
    return speed**2 * np.pi / (4.0 * RUN) * np.sin(np.pi * np.clip(u / RUN, 0.01, 0.99)) + 0.3


def _uneven(u, _time, speed, run):
    """As flown (``fly_deck``), with a run of its own for each arrest."""
    rise, fall = 0.14, 0.82
    w = u / run
    part = w / rise if w < rise else 1.0 if w < fall else max(0.35, 1.0 - 0.65 * (w - fall) / (1.0 - fall))
    return part * speed**2 / (2.0 * run * (rise / 2.0 + fall - rise + 0.675 * (1.0 - fall)))


LAWS = {"steady": _steady, "grows": _grows, "spring": _spring, "half-sine": _half_sine, "uneven": _uneven}


def pulled(flight: Flight, law: str, seed: int = 0) -> Flight:
    """The flight with its arrest by another law; as it was where no wire held."""
    if flight.wire is None:
        return flight
    begin = round((flight.time[0] - flight.ship.time[0]) / STEP)
    ship = flight.ship.between(begin, begin + flight.time.size)
    place = np.einsum("nji,nj->ni", ship.deck, flight.cg - ship.ramp)
    hook = flight.cg + flight.body @ np.asarray(flight.plan.points["hook"]) - ship.ramp
    ahead = np.einsum("nj,nj->n", ship.deck[:, :, 0], hook)
    first = int(np.flatnonzero(ahead >= flight.engaged)[0])
    more = {"run": 96.0 + 6.0 * np.random.default_rng(seed).normal()} if law == "uneven" else {}
    x = place[:, 0].copy()
    rate = np.gradient(x, STEP)
    speed = start = float(rate[first - 1])
    fast = rate.copy()
    for k in range(first, x.size):
        u, time = x[k - 1] - x[first - 1], (k - first + 1) * STEP
        speed = max(0.0, speed - STEP * float(LAWS[law](u, time, start, **more)))
        x[k] = x[k - 1] + speed * STEP
        fast[k] = speed
    change = fast - rate
    change[:first] = 0.0
    channels = {
        name: values + change if name in ("airspeed", "calibrated") else values
        for name, values in flight.channels.items()
    }
    return replace(flight, cg=flight.cg + ship.deck[:, :, 0] * (x - place[:, 0])[:, None], channels=channels)
