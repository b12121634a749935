"""Which way of recovering the weather asks for: Case I, II or III.

Source: published (NAVEDTRA 14342A, tables 11-4 and 11-5): ceiling and visibility in the
control zone, whether instrument conditions are expected on the way, and night from half an
hour after sunset to half an hour before sunrise.
"""

from __future__ import annotations

from msgspec import Struct

from deckward.foundation.units import FOOT, NAUTICAL_MILE, from_si

NAMES = ("Case I", "Case II", "Case III")
#: least ceiling of Case I and of Case II
CEILINGS = (3000.0 * FOOT, 1000.0 * FOOT)
VISIBILITY = 5.0 * NAUTICAL_MILE
#: weather told in feet and miles comes a hair short of a limit in metres
_HAIR = 1e-6


class Case(Struct, frozen=True):
    """The case of a recovery, why no better one, and the cases that departures may take beside it.

    ``number`` is 1, 2 or 3. ``reasons`` are one sentence each; none for Case I.
    """

    number: int
    reasons: tuple[str, ...]
    departures: tuple[int, ...]

    @property
    def name(self) -> str:
        """Return "Case I", "Case II" or "Case III"."""
        return NAMES[self.number - 1]


def choose(*, ceiling: float, visibility: float, night: bool, instruments: bool = False) -> Case:
    """Choose by weather and light; ``ceiling`` and ``visibility`` in m, infinite where unlimited.

    ``instruments`` where instrument conditions are to be expected on the way down.

    >>> choose(ceiling=600.0, visibility=20_000.0, night=False).name
    'Case II'
    """
    number, reasons = 1, []
    for case, least in zip((2, 3), CEILINGS, strict=True):
        if ceiling < least * (1.0 - _HAIR):
            number = case
            reasons.append(
                f"The ceiling, {_feet(ceiling)} ft, is below {NAMES[case - 2]}'s {_feet(least)} ft."
            )
    if instruments and number == 1:
        number = 2
        reasons.append("Instrument conditions are expected on the way down.")
    if visibility < VISIBILITY * (1.0 - _HAIR):
        number = 3
        reasons.append(
            f"The visibility, {from_si(visibility, 'nm'):.1f} nm, is below "
            f"{from_si(VISIBILITY, 'nm'):.0f} nm."
        )
    if night:
        number = 3
        reasons.append("It is night.")
    return Case(number=number, reasons=tuple(reasons), departures=(1, 2) if number < 3 else (1, 2, 3))


def _feet(metres: float) -> str:
    return f"{from_si(metres, 'ft'):,.0f}"
