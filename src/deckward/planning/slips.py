"""What becomes of a planned pattern that is begun wrong, or flown in another wind."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from deckward.foundation.units import KNOT, NAUTICAL_MILE, from_si
from deckward.planning.pattern import GREATEST_BANK, Pattern, Solver, bank_for
from deckward.planning.steaming import Steaming

#: what is tried unless told otherwise: our own choice
TOO_CLOSE = 0.2 * NAUTICAL_MILE
MORE_WIND = 10.0 * KNOT


class Slip(Struct, frozen=True):
    """The planned bank and time to the turn, flown from ``abeam`` in ``steaming``'s wind.

    ``line_up_offset`` and ``groove`` are where and how long before touchdown the wings come
    level, + right of the centreline. ``bank`` and ``time_to_turn`` would have made the
    planned groove from there; ``within_limits`` tells whether that bank may be flown.
    """

    name: str
    abeam: float
    steaming: Steaming
    line_up_offset: float
    groove: float
    bank: float
    time_to_turn: float
    within_limits: bool


def usual(solver: Solver, pattern: Pattern, *, greatest_bank: float = GREATEST_BANK) -> tuple[Slip, ...]:
    """Try what goes wrong most: abeam too close and too wide, and more and less wind."""
    ship = solver.steaming
    nearer, more = from_si(TOO_CLOSE, "nm"), from_si(MORE_WIND, "kt")
    tries = [
        (f"{nearer:.1f} nm too close abeam", pattern.abeam - TOO_CLOSE, ship),
        (f"{nearer:.1f} nm too wide abeam", pattern.abeam + TOO_CLOSE, ship),
        (f"{more:.0f} kt more wind", pattern.abeam, replace(ship, wind_speed=ship.wind_speed + MORE_WIND)),
    ]
    if ship.wind_speed >= MORE_WIND:
        less = replace(ship, wind_speed=ship.wind_speed - MORE_WIND)
        tries.append((f"{more:.0f} kt less wind", pattern.abeam, less))
    return tuple(
        slip(name, solver, pattern, abeam=abeam, steaming=steaming, greatest_bank=greatest_bank)
        for name, abeam, steaming in tries
    )


def slip(
    name: str, solver: Solver, pattern: Pattern, *,
    abeam: float, steaming: Steaming, greatest_bank: float = GREATEST_BANK,
) -> Slip:  # fmt: skip
    """Fly the planned bank and time to the turn from another distance abeam, in another wind.

    The pilot holds the downwind track that he has, and rolls out on the heading that keeps
    the centreline.
    """
    there = replace(solver, steaming=steaming)
    groove = there.groove()
    curve = there.turn(pattern.bank, groove).curve
    past = there.downwind()[2]
    start = steaming.landing(-past * pattern.time_to_turn, abeam)
    bank, missed = bank_for(there, abeam, greatest_bank)
    made = there.plan(bank)
    return Slip(
        name=name,
        abeam=abeam,
        steaming=steaming,
        line_up_offset=float(start[1] + curve.right[-1]),
        groove=float(there.aim.ahead - start[0] - curve.ahead[-1]) / groove.closure,
        bank=bank,
        time_to_turn=made.time_to_turn,
        within_limits=missed is None,
    )
