"""Round again by instruments after a bolter: ahead and up, downwind, and back onto the final bearing.

All is flown on speed in landing configuration and in the moving air: straight up the landing
area's line until level at 1,200 ft, a turn to the left at the standard rate, downwind beside
the final bearing, and a second turn that ends on it so far from the ramp.

Source: climb straight to 1,200 ft, then as controlled: from memory; standard rate, 3 deg/s:
from memory; back at six miles, where a jet is to be on speed (from memory), or at the
published 10-mile gate (NAVEDTRA 14342A).
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.errors import InputError, Note
from deckward.foundation.units import DEGREE, STANDARD_GRAVITY, from_si
from deckward.planning import turn as turns
from deckward.planning.again import CLIMB
from deckward.planning.inbound import LEVEL, ON_SPEED_BY, Descent, Inbound
from deckward.planning.solving import root
from deckward.planning.steaming import Steaming
from deckward.planning.turn import Curve

STANDARD_RATE = 3.0 * DEGREE
#: banks that the second turn may take to come out on the final bearing: our own choice
FLATTEST, STEEPEST = 8.0 * DEGREE, 30.0 * DEGREE
_POINTS = 241


class Circuit(Struct, frozen=True):
    """One way round, ball to ball; times in s, banks and true headings in rad.

    ``turn_in`` is how far aft of the ramp the second turn ends. ``straight`` runs from the
    ball over the touchdown to the first turn, ``inbound`` from the second turn's end to the
    ball.
    """

    turn_in: float
    straight: float
    bank: float
    turn: float
    downwind_heading: float
    downwind: float
    bank_in: float
    turn_back: float
    inbound: float
    abeam: float
    notes: tuple[Note, ...] = ()

    @property
    def trip(self) -> float:
        """From one ball to the next."""
        return self.straight + self.turn + self.downwind + self.turn_back + self.inbound


def circuit(descent: Descent, way_in: Inbound, *, turn_in: float) -> Circuit:
    """Fly one more time round.

    Raises:
        InputError: the wind is as fast as the jet.
    """
    there = descent.air_over_ship(LEVEL)
    airspeed = descent.on_speed_at(LEVEL)
    out, closure = _along(there, 0.0, airspeed)
    back, past = _along(there, np.pi, airspeed)
    ball, touchdown = way_in.gate("ball"), way_in.gate("touchdown")
    climb = (LEVEL - touchdown.height) / CLIMB
    bank = float(np.arctan(airspeed * STANDARD_RATE / STANDARD_GRAVITY))
    first = _turn(there, bank, airspeed, out, back)
    # landing axes: where the climb ends, and where the first turn leaves the jet
    start = descent.aim.ahead + closure * climb
    after, abeam = start + float(first.ahead[-1]), float(first.right[-1])

    def off(second: float) -> float:
        return abeam + float(_turn(there, second, airspeed, back, out).right[-1])

    low, high = off(FLATTEST), off(STEEPEST)
    notes: tuple[Note, ...] = ()
    if low * high < 0.0:
        bank_in = root(off, FLATTEST, STEEPEST, within=1e-7)
    else:
        bank_in = FLATTEST if abs(low) < abs(high) else STEEPEST
        notes = (
            Note(
                "night-turn-in-off",
                f"The turn from downwind ends {from_si(min(abs(low), abs(high)), 'nm'):.1f} nm beside the "
                f"final bearing even with {from_si(bank_in, 'deg'):.0f} deg of bank: make it good after it.",
            ),
        )
    second = _turn(there, bank_in, airspeed, back, out)
    way = after + turn_in + float(second.ahead[-1])
    return Circuit(
        turn_in=turn_in,
        straight=touchdown.time - ball.time + climb,
        bank=bank,
        turn=float(first.time[-1]),
        downwind_heading=float(there.true_heading(back)),
        downwind=max(way, 0.0) / past,
        bank_in=bank_in,
        turn_back=float(second.time[-1]),
        inbound=_inbound(way_in, turn_in, closure),
        abeam=-abeam,
        notes=notes,
    )


def _along(there: Steaming, track: float, airspeed: float) -> tuple[float, float]:
    """Give heading and speed past the ship on a track, clockwise from the centreline."""
    heading, past = there.heading_for(track, airspeed)
    if not past > 1.0:
        raise InputError(
            f"at {from_si(airspeed, 'kt'):.0f} kt true the jet makes no way round the ship in this wind.",
            remedy="Check the winds (wind, wind_aloft) and the on-speed airspeed.",
        )
    return heading, past


def _turn(there: Steaming, bank: float, airspeed: float, start: float, end: float) -> Curve:
    """Fly a level turn to the left from one heading to another."""
    turned = (start - end) % (2.0 * np.pi)
    seconds = turned / float(turns.rate(bank, airspeed)) + 2.0 * turns.roll_loss(bank)
    time = np.linspace(0.0, seconds, _POINTS)
    speeds = np.full_like(time, airspeed)
    return turns.integrate(time, -turns.rolled(time, bank), speeds, 0.0, heading=start, air=there.air)


def _inbound(way_in: Inbound, turn_in: float, closure: float) -> float:
    """Give the time from so far out to the ball, on speed where the first approach was not yet."""
    ball = way_in.gate("ball").time
    near = min(turn_in, ON_SPEED_BY)
    to_go = np.hypot(way_in.ahead, way_in.right)
    return ball - float(np.interp(-near, -to_go, way_in.time)) + (turn_in - near) / closure
