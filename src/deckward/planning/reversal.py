"""Level turns to the left that end on a track along the keel, so far to the side: break, bolter, initial."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.errors import Note
from deckward.foundation.units import DEGREE, from_si
from deckward.planning import turn as turns
from deckward.planning.solving import root
from deckward.planning.steaming import Steaming
from deckward.planning.turn import Curve

#: no pattern is flown steeper or flatter than this: our own choice
STEEPEST, FLATTEST = 75.0 * DEGREE, 6.0 * DEGREE
_POINTS = 401


class Reversal(Struct, frozen=True):
    """A level turn to the left: its bank, its curve from where it starts, and how far it went along the keel.

    ``astern`` is the track at its end: down the keel aft, else forward. ``wide`` is how much
    farther to the side than wanted it ends, + m, where no bank makes it; else 0.
    """

    bank: float
    curve: Curve
    ahead: float
    port: float
    astern: bool
    wide: float

    @property
    def seconds(self) -> float:
        """From the first roll to wings level."""
        return float(self.curve.time[-1])

    @property
    def airspeed(self) -> float:
        """True airspeed at its end."""
        return float(self.curve.airspeed[-1])


def reverse(
    steaming: Steaming, *, heading: float, astern: bool, side: float, airspeed: float,
    slowest: float | None = None, slowing: float = 0.0,
) -> Reversal:  # fmt: skip
    """Find the bank of the turn that moves the jet ``side`` metres across the keel.

    ``heading`` clockwise from the centreline; the turn ends on the track aft (``astern``) or
    forward along the keel. ``slowing`` is how fast the true ``airspeed`` falls, to ``slowest``.
    Where no bank that may be flown does it, the nearest is taken, and ``wide`` tells what is
    left.
    """

    def flown(bank: float) -> Reversal:
        return _turn(steaming, bank, heading, astern, side, airspeed, slowest, slowing)

    steep, flat = flown(STEEPEST), flown(FLATTEST)
    if steep.wide >= 0.0:
        return steep
    if flat.wide <= 0.0:
        return flat
    bank = root(lambda bank: flown(bank).wide, FLATTEST, STEEPEST)
    return replace(flown(bank), wide=0.0)


def left_over(turn: Reversal, what: str) -> Iterator[Note]:
    """Yield a note where no bank brings a turn out where it is wanted."""
    if turn.wide == 0.0:
        return
    where, cure = ("wide", "slower") if turn.wide > 0.0 else ("close", "faster")
    yield Note(
        "turn-out-of-reach",
        f"{what} ends {from_si(abs(turn.wide), 'nm'):.2f} nm too {where} even with "
        f"{from_si(turn.bank, 'deg'):.0f} deg of bank: fly it {cure}, or make good the rest after it.",
    )


def _turn(
    steaming: Steaming, bank: float, heading: float, astern: bool, side: float, airspeed: float,
    slowest: float | None, slowing: float,
) -> Reversal:  # fmt: skip
    track = steaming.angle + (np.pi if astern else 0.0)
    seconds = np.pi / float(turns.rate(bank, airspeed)) + 2.0 * turns.roll_loss(bank)
    for _ in range(60):
        time = np.linspace(0.0, seconds, _POINTS)
        flown = np.maximum(airspeed - slowing * time, airspeed if slowest is None else slowest)
        end, _ = steaming.heading_for(track, float(flown[-1]))
        curve = turns.integrate(
            time, -turns.rolled(time, bank), flown, 0.0, heading=heading, air=steaming.air
        )
        wanted = (heading - end) % (2.0 * np.pi)
        short = wanted - (heading - float(curve.heading[-1]))
        if abs(short) < 1e-9:
            break
        seconds += short / float(turns.rate(bank, flown[-1]))
    ahead, port = steaming.hull(curve.ahead[-1], curve.right[-1])
    return Reversal(
        bank=bank,
        curve=curve,
        ahead=float(ahead),
        port=float(port),
        astern=astern,
        wide=abs(float(port)) - side,
    )
