"""Hours of flight made of passes: told knots joined by smooth curves, in one ship's steady frame.

Between passes the aircraft flies fifth-degree polynomials through knots, told as places
and velocities against the steady ship; bank follows from the turn, as coordinated flight
has it. Inside a pass it does what :mod:`support.analytic_pass` says.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.foundation.track import Track
from support.analytic_pass import (
    GRAVITY,
    AnalyticPass,
    Flight,
    attitude_for,
    euler,
    turned,
)


class Knot(Struct, frozen=True):
    """Where the aircraft is told to be at a time: steady frame, m and m/s."""

    time: float
    place: tuple[float, float, float]
    velocity: tuple[float, float, float]


class Stay(Struct, frozen=True):
    """On the deck at a steady-frame place from one time to another."""

    start: float
    end: float
    place: tuple[float, float, float]


class Sortie:
    """Passes and what lies between them, in order of time. All at one ship."""

    def __init__(self, stages: list[AnalyticPass | Knot | Stay]) -> None:
        self.stages = stages
        self.passes = [stage for stage in stages if isinstance(stage, AnalyticPass)]
        self.frame = self.passes[0] if self.passes else AnalyticPass(Flight())
        self._spans = list(self._joined())

    def _joined(self):
        """(start, end, what flies there): passes, stays, and curves between told ends."""
        before: Knot | None = None
        for stage in self.stages:
            if isinstance(stage, AnalyticPass):
                first, last = self._ends(stage)
            elif isinstance(stage, Stay):
                still = (0.0, 0.0, 0.0)
                first, last = Knot(stage.start, stage.place, still), Knot(stage.end, stage.place, still)
            else:
                first = last = stage
            if before is not None and first.time > before.time:
                yield before.time, first.time, (before, first)
            if last.time > first.time:
                yield first.time, last.time, stage
            before = last

    def _ends(self, one: AnalyticPass) -> tuple[Knot, Knot]:
        out = []
        for when in (one.flight.start, one.end):
            step = 1e-3
            now, later = self._steady(one, np.array([when, when + step]))
            out.append(Knot(when, tuple(now), tuple((later - now) / step)))
        return out[0], out[1]

    @staticmethod
    def _steady(one: AnalyticPass, time) -> np.ndarray:
        """Steady-frame places (n, 3) of a pass."""
        offset = one.craft(time)[0] - one.from_steady(time, np.zeros((time.size, 3)))
        return turned(np.swapaxes(one.axes(time), 1, 2), offset)

    @property
    def start(self) -> float:
        """First time."""
        return self._spans[0][0]

    @property
    def end(self) -> float:
        """Last time."""
        return self._spans[-1][1]

    def craft(self, time) -> tuple[np.ndarray, np.ndarray]:
        """Place and attitude at times (n,)."""
        place, rotation = np.empty((time.size, 3)), np.empty((time.size, 3, 3))
        for start, end, what in self._spans:
            rows = (time >= start) & (time <= end)
            if not rows.any():
                continue
            if isinstance(what, AnalyticPass):
                place[rows], rotation[rows] = what.craft(time[rows])
            else:
                place[rows], rotation[rows] = self._between(what, time[rows])
        return place, rotation

    def _between(self, what, time) -> tuple[np.ndarray, np.ndarray]:
        def steady(t):
            if isinstance(what, Stay):
                return np.broadcast_to(what.place, (t.size, 3))
            return curve(*what, t)

        def at(t):
            return self.frame.from_steady(t, steady(t))

        step = 1e-2
        wind = self.frame.flight.wind_speed * np.array(
            [np.cos(self.frame.flight.wind_from), np.sin(self.frame.flight.wind_from), 0.0]
        )
        air = (at(time + step) - at(time - step)) / (2 * step) + self.frame.ship_rate(time) + wind
        ahead, behind = (
            (at(t + step) - at(t - step)) / (2 * step) + self.frame.ship_rate(t) + wind
            for t in (time + 0.1, time - 0.1)
        )
        turn = np.arctan2(ahead[:, 1], ahead[:, 0]) - np.arctan2(behind[:, 1], behind[:, 0])
        turn = ((turn + np.pi) % (2 * np.pi) - np.pi) / 0.2
        speed = np.linalg.norm(air, axis=1)
        roll = np.where(speed > 40.0, np.arctan(speed * turn / GRAVITY), 0.0)
        slow = speed < 40.0
        air = np.where(slow[:, None], self.frame.axes(time)[:, :, 0] * 40.0, air)
        return at(time), attitude_for(air, np.where(slow, 0.02, 0.14), roll)

    def in_a_plane(self, rate: float) -> tuple[Track, Track]:
        """Record aircraft and ship in a local plane: place and attitude, throttle not told."""
        time = np.arange(self.start, self.end, 1.0 / rate)
        place, rotation = self.craft(time)
        way = self.frame.ship_mean(time)
        heading, pitch, roll = euler(rotation)
        own = {
            "north": way[:, 0] + place[:, 0],
            "east": way[:, 1] + place[:, 1],
            "up": -place[:, 2],
            "heading": heading % (2.0 * np.pi),
            "pitch": pitch,
            "roll": roll,
        }
        ship = {"north": way[:, 0], "east": way[:, 1], "up": self.frame.ship_height(time)}
        return (
            Track("aircraft", time, own),
            Track("ship", time, {**ship, **self.frame.ship_angles(time)}),
        )


def curve(a: Knot, b: Knot, time) -> np.ndarray:
    """Fifth-degree polynomial (n, 3) from one knot to another, unaccelerated at both."""
    span = b.time - a.time
    s = ((time - a.time) / span)[:, None]
    gap = np.subtract(b.place, a.place)
    u, v = span * np.asarray(a.velocity), span * np.asarray(b.velocity)
    c3 = 10 * gap - 6 * u - 4 * v
    c4 = -15 * gap + 8 * u + 7 * v
    c5 = 6 * gap - 3 * (u + v)
    return np.asarray(a.place) + s * (u + s * s * (c3 + s * (c4 + s * c5)))


def shifted(flight: Flight, start: float) -> AnalyticPass:
    """A pass of a flight that starts at a time."""
    return AnalyticPass(replace(flight, start=start))
