"""Round again after a bolter or a wave-off: straight ahead, climbing, then left onto downwind."""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.errors import Note
from deckward.foundation.units import FOOT, from_si, to_si
from deckward.planning.pattern import GREATEST_BANK, Pattern, Solver
from deckward.planning.reversal import Reversal, left_over, reverse

#: published for the field (CNATRA P-1211): no turn below it
LEAST_TURN_ALTITUDE = 300.0 * FOOT
#: wings level on downwind before abeam, for the checks: our own choice
LEAST_DOWNWIND = 15.0
#: climb on speed with military power: our own choice, where the aircraft's model is not asked
CLIMB = to_si(1500.0, "fpm")


class Again(Struct, frozen=True):
    """One more time round, from where the pass was broken off; times in seconds from there.

    ``straight`` up the landing area's centreline until the jet is past the bow, high enough
    and far enough ahead for a while on downwind; then ``turn`` onto it, ``downwind`` to
    abeam; ``trip`` is the whole way to the next touchdown.
    """

    name: str
    range: float
    straight: float
    turn: Reversal
    downwind: float
    trip: float
    notes: tuple[Note, ...] = ()


def bolter(solver: Solver, pattern: Pattern, *, clear: float, climb: float = CLIMB) -> Again:
    """Plan the way round from a touchdown that no wire held; ``clear`` is the ramp-to-bow way, m."""
    return _again("bolter", solver, pattern, -solver.aim.ahead, clear, climb)


def wave_off(solver: Solver, pattern: Pattern, *, range: float, clear: float, climb: float = CLIMB) -> Again:
    """Plan the way round from a wave-off ``range`` aft of the ramp, up the landing area."""
    return _again("wave-off", solver, pattern, range, clear, climb)


def _again(name: str, solver: Solver, pattern: Pattern, start: float, clear: float, climb: float) -> Again:
    groove, steaming = pattern.groove, solver.steaming
    height = solver.aim.height + (start + solver.aim.ahead) * np.tan(solver.aim.angle)
    to_climb = max(LEAST_TURN_ALTITUDE - height, 0.0) / climb
    straight = float(max(to_climb, (start + clear) / groove.closure))
    for _ in range(12):
        ahead, port = steaming.hull(straight * groove.closure - start, 0.0)
        turn = reverse(
            steaming,
            heading=groove.heading,
            astern=True,
            side=pattern.abeam - float(port),
            airspeed=pattern.downwind_airspeed,
        )
        downwind = (float(ahead) + turn.ahead) / pattern.downwind_speed_past_ship
        if downwind > LEAST_DOWNWIND - 0.01:
            break
        straight += (LEAST_DOWNWIND - downwind) * pattern.downwind_speed_past_ship / groove.closure
    notes = list(left_over(turn, f"The turn downwind after a {name}"))
    if turn.bank > GREATEST_BANK and not notes:
        notes.append(
            Note(
                "steep-to-downwind",
                f"Turning downwind after a {name} takes {from_si(turn.bank, 'deg'):.0f} deg of bank to end "
                f"{from_si(pattern.abeam, 'nm'):.2f} nm abeam: take less, end wider, and ease back in.",
            )
        )
    return Again(
        name=name,
        range=start,
        straight=straight,
        turn=turn,
        downwind=downwind,
        trip=straight + turn.seconds + downwind + pattern.checkpoint("touchdown").time,
        notes=tuple(notes),
    )
