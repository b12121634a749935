"""The shorthand's rules: what persists is written once, what grows again, what is taken back."""

from __future__ import annotations

import pytest

from deckward import scoring
from deckward.scoring.model import Deviation
from deckward.scoring.shorthand import remarks, written
from deckward.scoring.vocabulary import REMARKS
from support.synthetic_pass import fly

STRICT = scoring.load("strict")
PLACES = scoring.windows(fly(), STRICT)
NAMES = {place.bounds.code: place.bounds.name for place in PLACES}


def deviations(text):
    """Read "high:X2 settling:IC1" as deviations, one a word, in the order of the pass."""
    out = []
    for word in text.split():
        what, _, place = word.partition(":")
        what, code, intensity = what.replace("_", " "), place[:-1], int(place[-1])
        remark = REMARKS[what]
        where = next((window for window in PLACES if window.bounds.code == code), None)
        out.append(
            Deviation(
                position=code,
                quantity=remark.quantity,
                symbol=remark.symbol,
                words=f"{remark.words[intensity - 1]} {NAMES[code]}" if code else remark.words[intensity - 1],
                intensity=intensity,
                value=0.1 * remark.side,
                limit=0.05 * remark.side,
                time=where.start + 0.1 * len(out) if where else 0.0,
                weight=float(intensity),
            )
        )
    return tuple(out)


@pytest.mark.parametrize(
    ("found", "shorthand"),
    [
        ("", ""),
        ("high:X1", "(H)X"),
        ("high:IC2", "HIC"),
        ("high:AR3", "_H_AR"),
        # what persists
        ("high:X1 high:IM1", "(H)X-IM"),
        ("high:X1 high:IM2", "(H)X HIM"),
        ("high:X1 high:IM1 high:IC1 high:AR1", "(H)AW"),
        ("high:X1 high:IM2 high:IC2 high:AR2", "HAW"),
        ("high:X1 high:IM1 high:IC3 high:AR1", "(H)AW _H_IC"),
        ("fast:X2 fast:IM2 fast:IC2 fast:AR2", "FAW"),
        ("high:X1 high:IC1", "(H)X (H)IC"),
        ("settling:IC1 settling:AR1", "(S)IC-AR"),
        # a remainder that is being taken off is not written, one that stays is
        ("high:X2 high:IM1", "HX"),
        ("high:X3 high:IM2", "_H_X HIM"),
        ("high:X2 high:IM1 high:IC1", "HX (H)IM-IC"),
        # taken back, and nothing came of it
        ("lined_up_left:X2", "LULX NCIM"),
        ("lined_up_left:X2 lined_up_right:IC1", "LULX (LUR)IC"),
        ("lined_up_left:X2 drifting_right:IM1", "LULX (DR)IM"),
        ("high:X2", "HX NCIM"),
        ("high:IM3", "_H_IM NCIC"),
        # motions through the middle
        ("high:IM2 settling:IC2 low:IC2", "HIM \\IC LOIC"),
        ("high:IM2 coming_down:IC1 low:AR1", "HIM (\\)IC (LO)AR"),
        ("low:IM1 climbing:IC2 high:IC1", "(LO)IM /IC (H)IC"),
        ("low:IM1 settling:IC2 high:AR1", "(LO)IM SIC (H)AR"),
        ("lined_up_left:X1 drifting_right:IM2 lined_up_right:IM1", "(LUL)X LTRIM (LUR)IM"),
        ("lined_up_right:IM1 drifting_left:IC3 lined_up_left:AR1", "(LUR)IM _RTL_IC (LUL)AR"),
        # the whole pass, and the start
        ("long_in_the_groove:2 high:IM1", "LIG (H)IM"),
        ("overshot_the_start:2 lined_up_right:X2", "OSX"),
        ("overshot_the_start:1 lined_up_right:X2", "(OSX) LURX NCIM"),
        ("overshot_the_start:2 lined_up_left:X1", "OSX (LUL)X"),
        # the order of the pass
        ("slow:AR1 lined_up_left:X1 high:IM1", "(LUL)X (H)IM (SLO)AR"),
    ],
)
def test_written_by_rule(found, shorthand):
    assert written(remarks(deviations(found), PLACES)) == shorthand


def test_words_and_signs_say_the_same():
    said = remarks(deviations("high:X1 high:IM1 high:IC1 settling:AR2"), PLACES)
    assert [f"{item.words} {item.where}" for item in said] == [
        "a little high at the start, in the middle and in close",
        "settled at the ramp",
    ]


def test_every_remark_has_its_own_sign():
    signs = [remark.symbol for remark in REMARKS.values()]
    assert len(set(signs)) == len(signs)
