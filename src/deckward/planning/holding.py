"""Holding: from where a jet is now to the fix at its time, in moving air, with a ship that moves.

All is solved in the air: there the jet's turns are circles, and the fix, which goes with the
ship, drifts past. Where it will be at the push is known, so the way there must have just the
length that the jet flies until then. Laps are left-hand racetracks with the inbound leg over
the fix (published, NAVEDTRA 14342A); over a lap the two turns cancel, and the legs make good
the drift.

Axes: north and east, m. ``drift`` is the velocity of the fix through the air: the ship's
less the wind's. Headings true, rad.

Source: shortest paths of bounded curvature (Dubins, American Journal of Mathematics 79,
1957), turn-straight-turn; lengthened where there is time to lose.
"""

from __future__ import annotations

from functools import partial
from itertools import product

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.errors import InputError
from deckward.foundation.units import DEGREE, STANDARD_GRAVITY, from_si
from deckward.planning import turn as turns
from deckward.planning.solving import root
from deckward.planning.steaming import direction

#: published: a racetrack of six minutes; from memory: turns of two minutes and legs of one
LAP = 360.0
HALF_TURN = 120.0
STEEPEST = 30.0 * DEGREE
#: a leg shorter than this is none: our own choice
SHORTEST_LEG = 15.0
#: headings off the present one that a way may be drawn out on: our own choice
_ASIDE = tuple(angle * DEGREE for angle in (0.0, -30.0, 30.0, -60.0, 60.0, -90.0, 90.0))
#: how far ahead a way is looked for, s
_FARTHEST = 4.0 * 3600.0


class Start(Struct, frozen=True):
    """Where the jet is from the ship, its heading and true airspeed, which it keeps."""

    north: float
    east: float
    heading: float
    airspeed: float


class Leg(Struct, frozen=True):
    """A straight leg or a turn of the way; ``start`` from now, s.

    ``bank`` is 0 on a straight, else + right; ``heading`` is that at its end; ``turned`` how
    far it turns, + right. A turn's time has its rolling in and out.
    """

    start: float
    seconds: float
    heading: float
    bank: float
    turned: float


class Laps(Struct, frozen=True):
    """The racetrack: ``count`` times round, each of ``seconds``; legs wings level, headings flown."""

    count: int
    seconds: float
    bank: float
    half_turn: float
    inbound_heading: float
    inbound_seconds: float
    outbound_heading: float
    outbound_seconds: float


class Holding(Struct, frozen=True):
    """The way to the fix.

    ``arrival`` is when it is first there; ``late`` how long after its time it leaves: below 0
    it is so near already that no turn of its makes it later by so little.
    """

    legs: tuple[Leg, ...]
    laps: Laps | None
    arrival: float
    late: float


class _Way(Struct, frozen=True):
    """Turn, straight, turn through the air: shapes as asked. ``to_right`` +1 or -1 of each turn."""

    to_right: tuple[int, int]
    turned: tuple[np.ndarray, np.ndarray]
    heading: np.ndarray
    straight: np.ndarray
    seconds: np.ndarray


class _Air(Struct, frozen=True):
    """How the jet turns: speed, bank, radius, time for a radian and the time that a roll loses."""

    airspeed: float
    bank: float
    roll_rate: float

    @property
    def radius(self) -> float:
        return turns.radius(self.bank, self.airspeed)

    @property
    def loss(self) -> float:
        return turns.roll_loss(self.bank, self.roll_rate)

    def turn_seconds(self, angle: float) -> float:
        return float(abs(angle) / turns.rate(self.bank, self.airspeed) + 2.0 * self.loss)

    def ways(self, heading: float, place, final: float) -> list[_Way]:
        """Give the four ways to places (..., 2) from the start, to arrive on heading ``final``.

        NaN where there is none. Rolling in and out sets a straight before and after each turn.
        """
        place = np.asarray(place, dtype=float)
        lead = self.airspeed * self.loss
        place = place - lead * (direction(heading) + direction(final))
        out = []
        for first, second in product((-1, 1), repeat=2):
            across = self.radius * (second * _right(final) - first * _right(heading))
            between = place + across
            far = np.hypot(between[..., 0], between[..., 1])
            straight = far
            bearing = np.arctan2(between[..., 1], between[..., 0])
            if first != second:
                with np.errstate(invalid="ignore"):
                    straight = np.sqrt(far**2 - (2.0 * self.radius) ** 2)
                bearing = bearing + np.arctan2(2.0 * first * self.radius, straight)
            turned = (first * (bearing - heading)) % (2 * np.pi), (second * (final - bearing)) % (2 * np.pi)
            seconds = (straight + self.radius * (turned[0] + turned[1])) / self.airspeed + 2.0 * self.loss
            # rolling out of the one turn and into the other takes its part of the straight
            straight = np.where(straight >= 2.0 * lead, straight, np.nan)
            seconds = np.where(np.isnan(straight), np.nan, seconds)
            out.append(_Way((first, second), turned, bearing, straight, seconds))
        return out


class _Detour(Struct, frozen=True):
    """How a drawn-out way begins: a turn aside, then straight on for ``wait``; ``moved`` by the turn."""

    aside: float
    heading: float
    seconds: float
    moved: np.ndarray
    wait: float = 0.0

    @staticmethod
    def turned(air: _Air, heading: float, aside: float) -> _Detour:
        if aside == 0.0:
            return _Detour(aside, heading, 0.0, np.zeros(2))
        side, after = np.sign(aside), heading + aside
        moved = side * air.radius * (_right(heading) - _right(after))
        moved += air.airspeed * air.loss * (direction(heading) + direction(after))
        return _Detour(aside, after, air.turn_seconds(aside), moved)

    def left(self, air: _Air, place: np.ndarray, final: float, wait, straight) -> np.ndarray:
        """Give what is left to go, (..., 2), between the waiting and the last straight."""
        ahead = np.multiply.outer(np.asarray(wait, float), direction(self.heading))
        back = np.multiply.outer(np.asarray(straight, float), direction(final))
        return place - self.moved - air.airspeed * (ahead + back)


def solve(
    start: Start, *, fix: tuple[float, float], inbound: float, drift: np.ndarray, seconds: float,
    lap: float = LAP, half_turn: float = HALF_TURN, roll_rate: float = turns.ROLL_RATE,
) -> Holding:  # fmt: skip
    """Find the way that crosses the fix inbound in ``seconds`` from now.

    ``fix`` is from the ship; ``inbound`` the track over it, past the ship. With time for a lap
    or more, the jet goes straight to the fix and holds; with less, the way is drawn out; with
    too little, it goes straight there and is late.

    Raises:
        InputError: the fix drifts through the air faster than the jet flies.
    """
    bank = float(np.arctan(start.airspeed * np.pi / half_turn / STANDARD_GRAVITY))
    air = _Air(start.airspeed, min(bank, STEEPEST), roll_rate)
    final = _inbound_heading(inbound, start.airspeed, drift)
    place = np.array([fix[0] - start.north, fix[1] - start.east])
    arrival, way = _soonest(air, start.heading, final, place, drift)
    joined = _way_legs(air, start.heading, final, way, None, 0.0)
    rest = seconds - arrival
    if rest <= 0.0:
        return Holding(joined, None, arrival, -rest)
    laps = _laps(start.airspeed, final, drift, rest, lap, half_turn, roll_rate)
    if laps is not None:
        return Holding((*joined, *_lap_legs(laps, arrival, roll_rate)), laps, arrival, 0.0)
    drawn = _drawn_out(air, start.heading, final, place + drift * seconds, seconds)
    if drawn is not None:
        return Holding(drawn, None, seconds, 0.0)
    return Holding(joined, None, arrival, -rest)


def trace(holding: Holding, start: Start, *, drift: np.ndarray, step: float = 2.0) -> np.ndarray:
    """Give the way past the ship for drawing, (n, 3): seconds from now, north and east of the ship."""
    points, at = [np.array([[0.0, start.north, start.east]])], np.array([start.north, start.east])
    heading = start.heading
    for leg in holding.legs:
        time = np.linspace(0.0, leg.seconds, max(int(leg.seconds / step), 2))
        banks = turns.rolled(time, leg.bank) if leg.bank else np.zeros_like(time)
        curve = turns.integrate(
            time, banks, np.full_like(time, start.airspeed), 0.0, heading=heading, air=-np.asarray(drift)
        )
        stretch = np.column_stack([leg.start + time, at[0] + curve.ahead, at[1] + curve.right])
        points.append(stretch[1:])
        at, heading = stretch[-1, 1:], leg.heading
    return np.concatenate(points)


def _inbound_heading(track: float, airspeed: float, drift: np.ndarray) -> float:
    """Give the heading whose way past the fix runs along ``track``."""
    across = float(np.asarray(drift) @ _right(track)) / airspeed
    if abs(across) >= 1.0 or np.hypot(*drift) >= airspeed:
        raise InputError(
            f"the fix moves through the air at {from_si(float(np.hypot(*drift)), 'kt'):.0f} kt, and the jet "
            f"holds at {from_si(airspeed, 'kt'):.0f} kt: it cannot stay over it.",
            remedy="Check the wind aloft (wind_aloft) and the holding airspeed (marshal.airspeed_kt).",
        )
    return track + float(np.arcsin(across))


def _soonest(air: _Air, heading: float, final: float, place: np.ndarray, drift: np.ndarray):
    """Find when the jet can first cross the fix inbound, and the way there."""

    def spare(when, k: int):
        there = place + np.multiply.outer(np.asarray(when, dtype=float), drift)
        return air.ways(heading, there, final)[k].seconds - when

    reach = np.hypot(*place) + 8.0 * np.pi * air.radius
    grid = np.linspace(0.0, min(reach / (air.airspeed - np.hypot(*drift)), _FARTHEST), 400)
    best: tuple[float, int] | None = None
    for k in range(4):
        for i in _changes(spare(grid, k), grid[1])[0][:1]:
            when = root(partial(spare, k=k), float(grid[i]), float(grid[i + 1]), within=1e-6)
            if best is None or when < best[0]:
                best = float(when), k
    assert best is not None, "some way of turn, straight, turn leads to every fix"
    when, k = best
    return when, air.ways(heading, place + drift * when, final)[k]


def _changes(error: np.ndarray, step: float) -> tuple[np.ndarray, ...]:
    """Return where ``error`` goes through nothing along its last axis without a jump."""
    change = np.diff(error, axis=-1)
    return np.nonzero((error[..., :-1] * error[..., 1:] <= 0.0) & (np.abs(change) < 6.0 * step))


def _laps(
    airspeed: float, final: float, drift: np.ndarray, rest: float,
    lap: float, half_turn: float, roll_rate: float,
) -> Laps | None:  # fmt: skip
    """Divide the time left into laps as near the usual one as the wind allows; None where it is too short."""
    near = max(round(rest / lap), 1)
    for count in sorted({near, near + 1, max(near - 1, 1)}, key=lambda n: abs(rest / n - lap)):
        seconds = rest / count
        # legs of the usual share where there is time, else quicker turns
        for legs in (seconds - 2.0 * half_turn, 4.0 * SHORTEST_LEG, 3.0 * SHORTEST_LEG):
            turn = min(0.5 * (seconds - legs), half_turn)
            if turn > 0.0 and (found := _lap(airspeed, final, drift, seconds, turn, roll_rate)):
                return replace(found, count=count)
    return None


def _lap(
    airspeed: float, final: float, drift: np.ndarray, seconds: float, half_turn: float, roll_rate: float
) -> Laps | None:
    """Close one lap over the drifting fix; None where a turn is too steep or a leg too short for it."""
    bank = float(np.arctan(airspeed * np.pi / half_turn / STANDARD_GRAVITY))
    air = _Air(airspeed, bank, roll_rate)
    # both turns together are a full circle, whatever the outbound heading
    legs = seconds - 2.0 * half_turn
    drifted = np.asarray(drift) * seconds
    spare = airspeed * legs - float(drifted @ direction(final))
    if bank > STEEPEST or spare <= 0.0:
        return None
    inbound = float(((airspeed * legs) ** 2 - drifted @ drifted) / (2.0 * airspeed * spare))
    outbound = legs - inbound
    if min(inbound, outbound) - 2.0 * air.loss < SHORTEST_LEG:
        return None
    way = drifted - airspeed * inbound * direction(final)
    return Laps(
        count=1,
        seconds=seconds,
        bank=bank,
        half_turn=air.turn_seconds(np.pi),
        inbound_heading=final,
        inbound_seconds=inbound - 2.0 * air.loss,
        outbound_heading=float(np.arctan2(way[1], way[0])),
        outbound_seconds=outbound - 2.0 * air.loss,
    )


def _lap_legs(laps: Laps, start: float, roll_rate: float):
    """Yield the legs of the laps: they begin over the fix."""
    left = (laps.inbound_heading - laps.outbound_heading) % (2.0 * np.pi)
    loss = turns.roll_loss(laps.bank, roll_rate)
    quick = (2.0 * np.pi) / (laps.seconds - laps.inbound_seconds - laps.outbound_seconds - 4.0 * loss)
    for _ in range(laps.count):
        for turned, heading, straight in (
            (left, laps.outbound_heading, laps.outbound_seconds),
            (2.0 * np.pi - left, laps.inbound_heading, laps.inbound_seconds),
        ):
            turning = turned / quick + 2.0 * loss
            yield Leg(start, turning, heading, -laps.bank, -turned)
            yield Leg(start + turning, straight, heading, 0.0, 0.0)
            start += turning + straight


def _drawn_out(
    air: _Air, heading: float, final: float, place: np.ndarray, seconds: float
) -> tuple[Leg, ...] | None:
    """Find a way of just this time: off the heading for a while, then round, then a straight to the fix.

    Of those that leave the heading least, the one that turns least is taken; None where the
    fix is too near for so little time.
    """
    before = np.arange(0.0, 0.7 * seconds + 1.0, max(5.0, seconds / 60.0))
    after = np.linspace(0.0, seconds, 200)
    best: tuple[float, _Detour, float, int] | None = None
    for aside in _ASIDE:
        first = _Detour.turned(air, heading, aside)
        ways = air.ways(first.heading, first.left(air, place, final, before[:, None], after), final)
        for k, way in enumerate(ways):
            error = way.seconds + first.seconds + before[:, None] + after - seconds
            turned = way.turned[0] + way.turned[1]
            for i, j in zip(*_changes(error, after[1]), strict=True):
                cost = float(turned[i, j]) + 0.01 * before[i]
                if best is None or cost < best[0]:
                    best = cost, replace(first, wait=float(before[i])), float(after[j]), k
        if best is not None:
            break
    if best is None:
        return None
    _, first, low, k = best

    def way_after(straight: float) -> _Way:
        return air.ways(first.heading, first.left(air, place, final, first.wait, straight), final)[k]

    def missed(straight: float) -> float:
        return float(way_after(straight).seconds) + first.seconds + first.wait + straight - seconds

    straight = root(missed, low, low + float(after[1]), within=1e-6)
    return _way_legs(air, heading, final, way_after(straight), first, straight)


def _way_legs(
    air: _Air, heading: float, final: float, way: _Way, first: _Detour | None, straight: float
) -> tuple[Leg, ...]:
    """Write a way as legs, one after the other."""
    legs: list[Leg] = []

    def add(seconds: float, to: float, bank: float = 0.0, turned: float = 0.0) -> None:
        start = legs[-1].start + legs[-1].seconds if legs else 0.0
        if seconds > 0.0:
            legs.append(Leg(start, seconds, to, bank, turned))

    along, between = float(way.heading), float(way.straight) / air.airspeed - 2.0 * air.loss
    if first is not None:
        add(first.seconds, first.heading, float(np.sign(first.aside)) * air.bank, first.aside)
        add(first.wait, first.heading)
    for k, (to, level) in enumerate([(along, between), (final, straight)]):
        turned = float(way.turned[k]) * way.to_right[k]
        add(air.turn_seconds(turned), to, way.to_right[k] * air.bank, turned)
        add(level, to)
    return tuple(legs)


def _right(heading: float) -> np.ndarray:
    return direction(heading + np.pi / 2)
