"""The day pattern from abeam to touchdown, solved in the moving air for a ship that moves.

The turn is worked back from the groove: the jet is to be wings level on the landing area's
centreline, on the commanded path, so many seconds before touchdown. Banked steadily and with
the angle of attack held on speed, the turn that ends there begins somewhere on downwind; that
settles how far abeam the downwind leg lies and how long after abeam the turn begins. Where a
distance abeam is wanted, the bank is found that has it.

Source: turns from balance of forces; the numbers flown to are published (CNATRA P-1211).
Where its rates of descent do not go with its altitudes, the altitudes are kept.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

import numpy as np
from msgspec import Struct
from msgspec.structs import astuple, replace

from deckward.environment import airspeed as speeds
from deckward.environment import atmosphere
from deckward.errors import InputError, Note
from deckward.foundation.units import DEGREE, NAUTICAL_MILE, from_si
from deckward.planning import turn as turns
from deckward.planning.approach import Aim
from deckward.planning.scenario import Pattern as Wish
from deckward.planning.solving import root
from deckward.planning.steaming import Steaming
from deckward.planning.turn import Curve

#: steepest bank of the turn to the groove: published (CNATRA P-1211), 27 to 30 deg
GREATEST_BANK = 30.0 * DEGREE
#: shallower than this the turn is no longer one: our own choice
LEAST_BANK = 12.0 * DEGREE
#: how much of downwind the path shows before abeam: our own choice
_LEAD = 1.0 * NAUTICAL_MILE
_TURN_POINTS = 401

AirAt = Callable[[np.ndarray], atmosphere.Air]


class Trimmed(Struct, frozen=True):
    """The jet on speed: equivalent airspeed in level flight, wings level, and its angle of attack."""

    airspeed: float
    angle_of_attack: float


class Checkpoint(Struct, frozen=True):
    """A moment to fly to; ``time`` from passing abeam, s, ``bank`` + right, ``sink`` + down.

    ``height`` above the sea; ``heading`` true; ``airspeed`` true, ``calibrated`` as the
    gauge has it. ``ahead`` and ``port`` of the ramp along and across the keel; ``range`` and
    ``line_up_offset`` from the ramp along the landing area's centreline and to the right.
    """

    name: str
    time: float
    bank: float
    height: float
    sink: float
    heading: float
    airspeed: float
    calibrated: float
    ahead: float
    port: float
    range: float
    line_up_offset: float


class Path(Struct, frozen=True):
    """The planned path past the ship, (n,) each, read-only; ``time`` from passing abeam.

    ``ahead``, ``right`` in landing axes from the ramp; ``heading`` clockwise from the
    centreline, ``height`` above the sea, ``sink`` + down, ``airspeed`` true.
    """

    time: np.ndarray
    ahead: np.ndarray
    right: np.ndarray
    height: np.ndarray
    bank: np.ndarray
    heading: np.ndarray
    airspeed: np.ndarray
    sink: np.ndarray

    def __post_init__(self) -> None:
        for values in astuple(self):
            values.setflags(write=False)


class Groove(Struct, frozen=True):
    """The last straight: ``heading`` clockwise from the centreline, true ``airspeed``, ``closure``, ``sink``.

    ``range`` of the roll-out aft of the ramp and its ``height`` above the sea.
    """

    seconds: float
    range: float
    height: float
    heading: float
    airspeed: float
    closure: float
    sink: float


class Pattern(Struct, frozen=True):
    """A solved pattern. ``time_to_turn`` counts from abeam; below 0 the turn begins before it.

    ``turned`` is how far the heading comes round to the left, ``turn_time`` from the first
    roll to wings level.
    """

    abeam: float
    time_to_turn: float
    bank: float
    turn_time: float
    turned: float
    downwind_heading: float
    downwind_airspeed: float
    downwind_speed_past_ship: float
    groove: Groove
    checkpoints: tuple[Checkpoint, ...]
    path: Path
    notes: tuple[Note, ...] = ()

    def checkpoint(self, name: str) -> Checkpoint:
        """Return the checkpoint of this name: "abeam", "turn", "90", "45", "groove", "touchdown"."""
        return next(point for point in self.checkpoints if point.name == name)


class Turn(Struct, frozen=True):
    """The turn to the groove, (n,) from its start, and when it is at the 90 and the 45."""

    curve: Curve
    height: np.ndarray
    sink: np.ndarray
    marks: tuple[float, float]


class Solver(Struct, frozen=True, dict=True):
    """The pattern's givens, and its legs for a bank.

    Where the wish tells a distance abeam, the bank is found that has it and its own stands
    aside.
    """

    wish: Wish
    steaming: Steaming
    on_speed: Trimmed
    aim: Aim
    air_at: AirAt = atmosphere.standard
    roll_rate: float = turns.ROLL_RATE

    def airspeed(self, height, bank=0.0, path=0.0):
        """Give the true airspeed that the wish holds at a height, bank and path angle in the air."""
        level = speeds.true_from_equivalent(
            self.on_speed.airspeed, density=np.interp(height, *self._densities)
        )
        if self.wish.hold == "speed":
            return level
        return level * turns.speed_ratio(bank, path, self.on_speed.angle_of_attack)

    @cached_property
    def _densities(self) -> tuple[np.ndarray, np.ndarray]:
        """The air's density at heights up to well over the pattern: asked once, not at every step."""
        height = np.linspace(0.0, 2.0 * self.wish.downwind_altitude, 41)
        return height, self.air_at(height).density

    def groove(self) -> Groove:
        """Give the straight before touchdown that lasts as long as is wanted."""
        slope, seconds = np.tan(self.aim.angle), self.wish.groove
        path = sink = 0.0
        for _ in range(20):
            airspeed = float(self.airspeed(self.aim.height + sink * seconds / 2.0, path=path))
            heading, closure = self.steaming.heading_for(0.0, float(np.sqrt(airspeed**2 - sink**2)))
            if not closure > 1.0:
                raise InputError(
                    "the wind over the deck is as fast as the jet: it would not come nearer.",
                    remedy="Check the wind, the ship's speed and the on-speed airspeed.",
                )
            sink = float(closure * slope)
            path = -float(np.arcsin(sink / airspeed))
        return Groove(
            seconds=seconds,
            range=closure * seconds - self.aim.ahead,
            height=self.aim.height + sink * seconds,
            heading=heading,
            airspeed=airspeed,
            closure=closure,
            sink=sink,
        )

    def downwind(self) -> tuple[float, float, float]:
        """Give airspeed, heading clockwise from the centreline and speed aft past the ship."""
        airspeed = float(self.airspeed(self.wish.downwind_altitude))
        heading, past = self.steaming.heading_for(self.steaming.angle + np.pi, airspeed)
        return airspeed, heading, past

    def turn(self, bank: float, groove: Groove) -> Turn:
        """Fly the turn to the left from downwind to the groove's heading.

        Speed and descent hang on where the marks are, and these on the speed: gone round
        until they stand still.
        """
        _, start, _ = self.downwind()
        to_go = start - groove.heading
        altitudes = self.altitudes(groove)
        middle = self.airspeed(self.wish.altitude_90, bank)
        quick = float(turns.rate(bank, middle))
        seconds = to_go / quick + 2.0 * turns.roll_loss(bank, self.roll_rate)
        marks = (seconds * (1.0 - np.pi / 2 / to_go), seconds * (1.0 - np.pi / 4 / to_go))
        path = np.zeros(_TURN_POINTS)
        for _ in range(30):
            time = np.linspace(0.0, seconds, _TURN_POINTS)
            banks = -turns.rolled(time, bank, self.roll_rate)
            knots = np.array([0.0, *marks, seconds])
            height = np.interp(time, knots, altitudes)
            sinks = -np.diff(altitudes) / np.diff(knots)
            sink = sinks[np.clip(np.searchsorted(knots, time, side="right") - 1, 0, sinks.size - 1)]
            airspeed = self.airspeed(height, banks, path)
            path = -np.arcsin(sink / airspeed)
            curve = turns.integrate(time, banks, airspeed, path, heading=start, air=self.steaming.air)
            left = curve.heading - groove.heading
            before = marks
            marks = (float(np.interp(-np.pi / 2, -left, time)), float(np.interp(-np.pi / 4, -left, time)))
            if abs(left[-1]) < 1e-9 and np.allclose(marks, before, rtol=0.0, atol=1e-7):
                break
            seconds += float(left[-1]) / quick
        return Turn(curve=curve, height=height, sink=sink, marks=marks)

    def altitudes(self, groove: Groove) -> np.ndarray:
        """Give the altitudes at the turn's start, the 90, the 45 and wings level, none below the next."""
        wanted = [self.wish.downwind_altitude, self.wish.altitude_90, self.wish.altitude_45, groove.height]
        return np.maximum.accumulate(wanted[::-1])[::-1]

    def abeam(self, bank: float) -> float:
        """Give how far to port of the ramp downwind lies for a bank."""
        groove = self.groove()
        return self._start(self.turn(bank, groove), groove)[1]

    def _start(self, turn: Turn, groove: Groove) -> tuple[float, float]:
        """Give where the turn begins, ahead and to port of the ramp along the keel."""
        curve = turn.curve
        return self.steaming.hull(-groove.range - curve.ahead[-1], -curve.right[-1])

    def plan(self, bank: float) -> Pattern:
        """Put the legs together for a bank."""
        groove = self.groove()
        turn = self.turn(bank, groove)
        airspeed, heading, past = self.downwind()
        ahead, abeam = self._start(turn, groove)
        path = self._path(turn, groove, ahead, abeam)
        seconds = float(turn.curve.time[-1])
        time_to_turn = -ahead / past
        at = {
            "abeam": 0.0,
            "turn": time_to_turn,
            "90": time_to_turn + turn.marks[0],
            "45": time_to_turn + turn.marks[1],
            "groove": time_to_turn + seconds,
            "touchdown": float(path.time[-1]),
        }
        return Pattern(
            abeam=abeam,
            time_to_turn=time_to_turn,
            bank=bank,
            turn_time=seconds,
            turned=heading - groove.heading,
            downwind_heading=float(self.steaming.true_heading(heading)),
            downwind_airspeed=airspeed,
            downwind_speed_past_ship=past,
            groove=groove,
            checkpoints=tuple(self._checkpoint(name, time, path, bank) for name, time in at.items()),
            path=path,
            notes=tuple(self._notes(groove, time_to_turn)),
        )

    def _path(self, turn: Turn, groove: Groove, ahead: float, abeam: float) -> Path:
        """Give downwind from a mile before abeam, the turn and the groove, one after the other."""
        airspeed, heading, past = self.downwind()
        curve = turn.curve
        straight = np.arange(-max(_LEAD, ahead + _LEAD) / past, -ahead / past, 0.5)
        before = self.steaming.landing(-past * straight, abeam)
        start = self.steaming.landing(ahead, abeam)
        last = np.linspace(0.0, groove.seconds, 34)[1:]
        stretches = (
            (straight, *before, self.wish.downwind_altitude, 0.0, heading, airspeed, 0.0),
            (
                curve.time - ahead / past,
                start[0] + curve.ahead,
                start[1] + curve.right,
                turn.height,
                curve.bank,
                curve.heading,
                curve.airspeed,
                turn.sink,
            ),
            (
                curve.time[-1] - ahead / past + last,
                groove.closure * last - groove.range,
                0.0,
                groove.height - groove.sink * last,
                0.0,
                groove.heading,
                groove.airspeed,
                groove.sink,
            ),
        )
        columns = [np.broadcast_arrays(*stretch) for stretch in stretches]
        return Path(*(np.concatenate(column) for column in zip(*columns, strict=True)))

    def _checkpoint(self, name: str, time: float, path: Path, bank: float) -> Checkpoint:
        def at(values: np.ndarray) -> float:
            return float(np.interp(time, path.time, values))

        height, airspeed = at(path.height), at(path.airspeed)
        air = self.air_at(np.asarray(height))
        ahead, port = self.steaming.hull(at(path.ahead), at(path.right))
        k = min(int(np.searchsorted(path.time, time + 1e-9)), path.time.size - 1)
        return Checkpoint(
            name=name,
            time=time,
            bank=-bank if name in ("turn", "90", "45") else 0.0,
            height=height,
            sink=float(path.sink[k]),
            heading=float(self.steaming.true_heading(at(path.heading))),
            airspeed=airspeed,
            calibrated=float(
                speeds.calibrated_from_true(airspeed, pressure=air.pressure, temperature=air.temperature)
            ),
            ahead=ahead,
            port=port,
            range=-at(path.ahead),
            line_up_offset=at(path.right),
        )

    def _notes(self, groove: Groove, time_to_turn: float):
        wish = self.wish
        if self.altitudes(groove)[2] > wish.altitude_45:
            yield Note(
                "groove-above-45",
                f"A groove of {groove.seconds:.0f} s begins at {_feet(groove.height)} ft, above the "
                f"{_feet(wish.altitude_45)} ft of the 45: the turn levels off there.",
            )
        if time_to_turn < -0.5:
            yield Note(
                "turn-before-abeam",
                f"The turn begins {-time_to_turn:.0f} s before abeam: the wind over the deck carries the jet "
                "aft through the turn. A longer groove or less wind puts it after.",
            )


def solve(
    wish: Wish,
    *,
    steaming: Steaming,
    on_speed: Trimmed,
    aim: Aim,
    air_at: AirAt = atmosphere.standard,
    roll_rate: float = turns.ROLL_RATE,
    greatest_bank: float = GREATEST_BANK,
) -> Pattern:
    """Solve the pattern; a distance abeam that cannot be had gives the nearest that can, and a note.

    ``air_at`` gives the air at heights above the sea; ``greatest_bank`` limits the bank that
    a wanted distance abeam may ask for.

    Raises:
        InputError: the jet cannot catch the ship, or cannot keep the downwind track in this
            wind; or so long a groove begins above downwind.
    """
    solver = Solver(wish, steaming, on_speed, aim, air_at, roll_rate)
    groove = solver.groove()
    if groove.height > wish.downwind_altitude:
        raise InputError(
            f"a groove of {groove.seconds:.0f} s begins at {_feet(groove.height)} ft on the path, above "
            f"downwind's {_feet(wish.downwind_altitude)} ft.",
            place="key pattern.groove_s",
            remedy="Shorten the groove, or fly downwind higher (pattern.downwind_altitude_ft).",
        )
    if not solver.downwind()[2] > 0.0:
        raise InputError(
            "the wind across the ship is faster than the jet: it cannot hold the downwind track.",
            remedy="Check the wind, the ship's speed and the on-speed airspeed.",
        )
    if wish.abeam is None:
        return solver.plan(wish.bank)
    bank, note = bank_for(solver, wish.abeam, greatest_bank)
    pattern = solver.plan(bank)
    return replace(pattern, notes=(note, *pattern.notes)) if note else pattern


def bank_for(solver: Solver, abeam: float, greatest: float) -> tuple[float, Note | None]:
    """Find the bank that puts downwind ``abeam``; at the nearest limit, a note says what was missed."""
    nearest, farthest = solver.abeam(greatest), solver.abeam(LEAST_BANK)
    if not nearest <= abeam <= farthest:
        close = abeam < nearest
        limit, bank = (nearest, greatest) if close else (farthest, LEAST_BANK)
        return bank, Note(
            "abeam-out-of-reach",
            f"{_miles(abeam)} nm abeam would need {'more' if close else 'less'} than "
            f"{from_si(bank, 'deg'):.0f} deg of bank; at that the {'least' if close else 'most'} is "
            f"{_miles(limit)} nm, and this is planned.",
        )
    return root(lambda bank: solver.abeam(bank) - abeam, LEAST_BANK, greatest), None


def _feet(metres: float) -> str:
    return f"{from_si(metres, 'ft'):,.0f}"


def _miles(metres: float) -> str:
    return f"{from_si(metres, 'nm'):.2f}"
