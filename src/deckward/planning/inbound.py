"""From the push to the ball by night and in weather: descent, gates, tip-over, seen from a ship that moves.

Source: platform, gates and altitudes are published (NAVEDTRA 14342A) unless said otherwise;
speeds and times are worked out in the moving air.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.environment import airspeed as speeds
from deckward.environment import atmosphere
from deckward.environment.wind import Wind
from deckward.errors import InputError, Note
from deckward.foundation import angles
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE, from_si, to_si
from deckward.planning.approach import Aim
from deckward.planning.marshal import Slot
from deckward.planning.pattern import AirAt, Trimmed
from deckward.planning.steaming import Steaming, direction

#: from memory: 250 kt and 4,000 ft a minute from the push
AIRSPEED = 250.0 * KNOT
FIRST_SINK = to_si(4000.0, "fpm")
PLATFORM = 5000.0 * FOOT
SECOND_SINK = to_si(2000.0, "fpm")
LEVEL = 1200.0 * FOOT
GATE = 10.0 * NAUTICAL_MILE
#: from memory: in landing configuration and on speed by here
ON_SPEED_BY = 6.0 * NAUTICAL_MILE
BALL = 0.75 * NAUTICAL_MILE
#: slowing with gear and flaps coming down: our own choice
SLOWING = 0.9
#: a late or early push is made good with calibrated airspeeds from one to the other: our own choice
SPEEDS = (220.0 * KNOT, 300.0 * KNOT)
#: a turn onto the final bearing sharper than this is flown as an arc by many: our own choice
_SHARPEST = 40.0 * DEGREE
_STEP = 1.0
#: heights that winds and airspeeds are worked out at
_LEVELS = 500.0 * FOOT


class Gate(Struct, frozen=True):
    """A moment of the approach: ``time`` from the push, ``range`` aft of the ramp, ``height`` over the sea.

    ``airspeed`` is calibrated, ``past`` the speed past the ship, ``heading`` true and
    ``sink`` + down, from here on.
    """

    name: str
    time: float
    range: float
    height: float
    airspeed: float
    past: float
    heading: float
    sink: float


class Inbound(Struct, frozen=True):
    """An approach from the fix. ``final_bearing`` is where the landing area points, true.

    The arrays are (n,), read-only: seconds from the push, ``ahead`` and ``right`` of the
    ramp in landing axes, ``height`` over the sea. ``seconds`` is from push to touchdown,
    ``ramp`` from push to the ramp.
    """

    final_bearing: float
    gates: tuple[Gate, ...]
    time: np.ndarray
    ahead: np.ndarray
    right: np.ndarray
    height: np.ndarray
    ramp: float
    notes: tuple[Note, ...] = ()

    def __post_init__(self) -> None:
        for values in (self.time, self.ahead, self.right, self.height):
            values.setflags(write=False)

    @property
    def seconds(self) -> float:
        """From push to touchdown."""
        return float(self.time[-1])

    def gate(self, name: str) -> Gate:
        """Return a gate by name.

        They are "push", "platform", "level", "10 nm", "6 nm", "tip-over", "ball" and "touchdown".
        """
        return next(gate for gate in self.gates if gate.name == name)


class Correction(Struct, frozen=True):
    """How a push that was ``late`` (+) or early is made good by the 10-mile gate.

    ``airspeed`` to hold, calibrated; ``left`` what of it remains at the gate, s.
    """

    late: float
    airspeed: float
    left: float


class Descent(Struct, frozen=True):
    """The givens of an approach: ship and surface wind, the wind at altitudes, the jet on speed, its aim.

    ``airspeed`` is calibrated, held to the 10-mile gate.
    """

    steaming: Steaming
    on_speed: Trimmed
    aim: Aim
    wind_at: Callable[[float], Wind] | None = None
    air_at: AirAt = atmosphere.standard
    airspeed: float = AIRSPEED

    def approach(self, slot: Slot) -> Inbound:
        """Fly from the slot's fix to touchdown.

        Raises:
            InputError: the wind is as fast as the jet.
        """
        steps = self._fly(slot, until=-self.aim.ahead)
        names = {"push": 0.0}
        for name, height in (("platform", PLATFORM), ("level", LEVEL)):
            if slot.altitude > height:
                names[name] = float(steps.time[np.argmax(steps.height <= height + 1e-3)])
        for name, left in (("10 nm", GATE), ("6 nm", ON_SPEED_BY), ("ball", BALL)):
            names[name] = float(np.interp(-left, -steps.to_go, steps.time))
        names["tip-over"] = float(steps.time[np.argmax(steps.on_path)])
        names["touchdown"] = float(steps.time[-1])
        ordered = sorted(names.items(), key=lambda item: item[1])
        ahead, right = self._places(slot, steps.to_go)
        return Inbound(
            final_bearing=self.steaming.landing_heading,
            gates=tuple(self._gate(name, time, steps) for name, time in ordered),
            time=steps.time,
            ahead=ahead,
            right=right,
            height=steps.height,
            ramp=float(np.interp(0.0, -steps.to_go, steps.time)),
            notes=tuple(self._notes(slot, steps)),
        )

    def to_gate(self, slot: Slot, airspeed: float) -> float:
        """Give the time from the fix to the 10-mile gate at a calibrated airspeed."""
        return float(replace(self, airspeed=airspeed)._fly(slot, until=GATE).time[-1])

    def corrections(self, slot: Slot, lates: Sequence[float]) -> tuple[Correction, ...]:
        """Make good pushes that were late, + s, or early, by flying faster or slower to the gate."""
        tried = np.linspace(*SPEEDS, 9)
        times = np.array([self.to_gate(slot, float(airspeed)) for airspeed in tried])
        planned = float(np.interp(self.airspeed, tried, times))
        out = []
        for late in lates:
            wanted = planned - late
            airspeed = float(np.interp(-wanted, -times, tried))
            out.append(Correction(late, airspeed, float(np.interp(airspeed, tried, times)) - wanted))
        return tuple(out)

    def _fly(self, slot: Slot, *, until: float) -> _Steps:
        """Step down the way in until so far from the ramp is left."""
        column = self._column(slot.altitude)
        first, track = self._first(slot)
        slope = float(np.tan(self.aim.angle))
        time, to_go, height, excess, on_path = 0.0, first + GATE, slot.altitude, np.inf, False
        rows = []
        while True:
            outside = to_go > GATE + 1e-6
            fast, airspeed, ahead, right = column.at(height)
            excess = min(excess, fast - airspeed)
            airspeed += excess
            past, heading = _past(track if outside else 0.0, airspeed, ahead, right)
            path = self.aim.height + (to_go + self.aim.ahead) * slope
            on_path = on_path or path <= height <= LEVEL + 1e-6
            if on_path:
                sink = slope * past
            elif height > LEVEL + 1e-6:
                sink = FIRST_SINK if height > PLATFORM + 1e-6 else SECOND_SINK
            else:
                sink = 0.0
            rows.append((time, to_go, height, airspeed, past, heading, sink, on_path))
            left = to_go - until
            if left < 1e-6:
                break
            # a step ends where a leg or a descent does
            step = min(_STEP, left / past, (to_go - GATE) / past if outside else _STEP)
            for floor in (PLATFORM, LEVEL):
                if sink and not on_path and height > floor + 1e-6:
                    step = min(step, (height - floor) / sink)
            if not (on_path or sink):
                step = min(step, max((path - height) / (slope * past), 1e-3))
            time, to_go, height = time + step, to_go - past * step, height - sink * step
            excess = np.inf if to_go > GATE + 1e-6 else max(excess - SLOWING * step, 0.0)
        return _Steps(*(np.array(values) for values in zip(*rows, strict=True)))

    def _column(self, top: float) -> _Column:
        """Give speeds and air past the ship at heights up to the top."""
        height = np.arange(0.0, top + 2.0 * _LEVELS, _LEVELS)
        air = self.air_at(height)
        fast = speeds.true_from_calibrated(self.airspeed, pressure=air.pressure, temperature=air.temperature)
        slow = speeds.true_from_equivalent(self.on_speed.airspeed, density=air.density)
        past = [self.air_over_ship(float(level)).air for level in height]
        return _Column(np.column_stack([fast, slow, past]).tolist())

    def air_over_ship(self, height: float) -> Steaming:
        """Give the ship on her course, in the wind of a height."""
        if self.wind_at is None:
            return self.steaming
        wind = self.wind_at(height)
        return replace(self.steaming, wind_from=float(wind.from_direction), wind_speed=float(wind.speed))

    def on_speed_at(self, height: float) -> float:
        """Give the true airspeed on speed at a height."""
        density = self.air_at(np.asarray(height)).density
        return float(speeds.true_from_equivalent(self.on_speed.airspeed, density=density))

    def _first(self, slot: Slot) -> tuple[float, float]:
        """Give way and track, landing axes, of the leg from the fix to the gate on the final bearing."""
        leg = np.array([-GATE, 0.0]) - self._fix(slot)
        return float(np.hypot(*leg)), float(np.arctan2(leg[1], leg[0]))

    def _fix(self, slot: Slot) -> np.ndarray:
        """Give the fix in landing axes, as if the ship's bearings came from her ramp."""
        bearing = float(angles.difference(slot.radial, self.steaming.landing_heading))
        return float(np.hypot(*slot.fix)) * direction(bearing)

    def _places(self, slot: Slot, to_go: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        first, _ = self._first(slot)
        back = np.clip((to_go - GATE) / first, 0.0, 1.0)
        fix = self._fix(slot)
        ahead = np.where(to_go > GATE, -GATE + back * (fix[0] + GATE), -to_go)
        return ahead, back * fix[1]

    def _gate(self, name: str, time: float, steps: _Steps) -> Gate:
        k = min(int(np.searchsorted(steps.time, time - 1e-9)), steps.time.size - 1)
        height = float(np.interp(time, steps.time, steps.height))
        air = self.air_at(np.asarray(height))
        calibrated = speeds.calibrated_from_true(
            float(np.interp(time, steps.time, steps.airspeed)),
            pressure=air.pressure,
            temperature=air.temperature,
        )
        return Gate(
            name=name,
            time=time,
            range=float(np.interp(time, steps.time, steps.to_go)),
            height=height,
            airspeed=float(calibrated),
            past=float(np.interp(time, steps.time, steps.past)),
            heading=float(self.steaming.true_heading(steps.heading[k])),
            sink=float(steps.sink[k]),
        )

    def _notes(self, slot: Slot, steps: _Steps):
        at_gate = float(np.interp(-GATE, -steps.to_go, steps.height))
        if at_gate > LEVEL + 10.0 * FOOT:
            yield Note(
                "high-at-gate",
                f"At the 10-mile gate the jet is still {from_si(at_gate - LEVEL, 'ft'):,.0f} ft above "
                f"{from_si(LEVEL, 'ft'):,.0f} ft: push from farther out, or descend faster.",
            )
        _, track = self._first(slot)
        if abs(track) > _SHARPEST:
            yield Note(
                "sharp-onto-final",
                f"The radial meets the final bearing at {from_si(abs(track), 'deg'):.0f} deg at 10 miles: "
                "fly an arc onto it from farther out.",
            )


class _Steps(Struct, frozen=True):
    """What was stepped through, (n,) each; ``to_go`` is the way left to the ramp."""

    time: np.ndarray
    to_go: np.ndarray
    height: np.ndarray
    airspeed: np.ndarray
    past: np.ndarray
    heading: np.ndarray
    sink: np.ndarray
    on_path: np.ndarray


class _Column(Struct, frozen=True):
    """The air over the ship on even levels: airspeeds fast and on speed, air past her ahead and right."""

    rows: list[list[float]]

    def at(self, height: float) -> list[float]:
        """Go straight between two levels."""
        k = int(height // _LEVELS)
        part = height / _LEVELS - k
        return [low + part * (high - low) for low, high in zip(self.rows[k], self.rows[k + 1], strict=True)]


def _past(track: float, airspeed: float, ahead: float, right: float) -> tuple[float, float]:
    """Give the speed past the ship along a track, and the heading that keeps it, landing axes."""
    c, s = math.cos(track), math.sin(track)
    drift = (right * c - ahead * s) / airspeed
    past = airspeed * math.sqrt(max(1.0 - drift * drift, 0.0)) + ahead * c + right * s
    if abs(drift) >= 1.0 or past <= 1.0:
        raise InputError(
            f"at {from_si(airspeed, 'kt'):.0f} kt true the jet makes no way to the ship against this wind.",
            remedy="Check the winds (wind, wind_aloft) and the airspeeds.",
        )
    return past, track - math.asin(drift)
