"""The way in from marshal: gates, times, the corner onto the final bearing, and late pushes."""

from __future__ import annotations

import math

import numpy as np
import pytest

from deckward import aircraft, planning, site
from deckward.errors import InputError
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE
from deckward.planning import inbound, marshal, pattern
from deckward.planning.steaming import Steaming
from support.wishes import aim_at

THERE = Steaming(200 * DEGREE, 12 * KNOT, 238 * DEGREE, 17 * KNOT, 9 * DEGREE)
AIM = aim_at(site.load("wintermere"), aircraft.load("sandlark"))
ON_SPEED = pattern.Trimmed(125 * KNOT, 8 * DEGREE)
GIVEN = inbound.Descent(THERE, ON_SPEED, AIM, wind_at=planning.load("lantern-evening").wind_at)
SLOT = marshal.stack(1, steaming=THERE)[0]


def test_gates_come_in_order_at_their_heights():
    flown = GIVEN.approach(SLOT)
    names = [gate.name for gate in flown.gates]
    assert names == ["push", "platform", "level", "10 nm", "6 nm", "tip-over", "ball", "touchdown"]
    at = {gate.name: gate for gate in flown.gates}
    heights = {name: round(at[name].height / FOOT) for name in names[:6]}
    assert heights == {
        "push": 6000,
        "platform": 5000,
        "level": 1200,
        "10 nm": 1200,
        "6 nm": 1200,
        "tip-over": 1200,
    }
    assert at["6 nm"].airspeed == pytest.approx(125 * KNOT, abs=0.5)
    # in line with the deck the heading holds off the wind across the landing area
    across = float(THERE.over_deck.crosswind_from_starboard)
    crab = math.remainder(at["touchdown"].heading - THERE.landing_heading, 2 * math.pi)
    assert crab == pytest.approx(math.asin(across / (125 * KNOT)), abs=0.2 * DEGREE)
    assert flown.notes == ()


def test_the_path_hangs_together():
    flown = GIVEN.approach(SLOT)
    way = np.hypot(np.diff(flown.ahead), np.diff(flown.right))
    past = way / np.diff(flown.time)
    assert past.max() < 260 * KNOT and past.min() > 95 * KNOT
    assert flown.ahead[-1] == pytest.approx(AIM.ahead, abs=0.1)
    assert flown.height[-1] == pytest.approx(AIM.height, abs=0.5)
    assert np.hypot(flown.ahead[0], flown.right[0]) == pytest.approx(np.hypot(*SLOT.fix), abs=0.1)


def earth(slot, step=0.05):
    """Fly push to gate in small steps against 25 kt, true airspeed straight from pressure ratios."""
    height, way, time = slot.altitude, math.hypot(*slot.fix), 0.0
    while way > 10 * NAUTICAL_MILE:
        delta = (1 - 6.8755856e-6 * height / FOOT) ** 5.25588
        impact = (1 + 0.2 * (250 / 661.4786) ** 2) ** 3.5 - 1
        mach = math.sqrt(5 * ((impact / delta + 1) ** (2 / 7) - 1))
        true = mach * 661.4786 * math.sqrt(1 - 6.8755856e-6 * height / FOOT) * KNOT
        if height > 1200 * FOOT:
            height -= step * (4000 if height > 5000 * FOOT else 2000) * FOOT / 60
        way -= step * (true - 25 * KNOT)
        time += step
    return time


def test_push_to_gate_against_small_steps_from_the_standard():
    """Axial wind of 25 kt over a deck without angle, the same at all heights; 15,000 ft, 30 miles."""
    there = Steaming(0.0, 10 * KNOT, 0.0, 15 * KNOT)
    slot = marshal.Slot(1, 15_000 * FOOT, marshal.distance(15_000 * FOOT), math.pi, 0.0)
    given = inbound.Descent(there, ON_SPEED, AIM)
    assert given.to_gate(slot, 250 * KNOT) == pytest.approx(earth(slot), abs=0.5)


def test_a_late_push_is_made_good_by_speed():
    fast, slow = GIVEN.corrections(SLOT, (15.0, -15.0))
    assert (fast.left, slow.left) == pytest.approx((0.0, 0.0), abs=1e-9)
    planned = GIVEN.to_gate(SLOT, 250 * KNOT)
    assert GIVEN.to_gate(SLOT, fast.airspeed) == pytest.approx(planned - 15.0, abs=0.3)
    assert GIVEN.to_gate(SLOT, slow.airspeed) == pytest.approx(planned + 15.0, abs=0.3)
    assert slow.airspeed < 250 * KNOT < fast.airspeed


@pytest.mark.parametrize("late", [90.0, -90.0])
def test_what_speed_cannot_make_good_is_left_over(late):
    (made,) = GIVEN.corrections(SLOT, [late])
    assert made.airspeed == inbound.SPEEDS[1 if late > 0 else 0]
    flown = GIVEN.to_gate(SLOT, 250 * KNOT) - GIVEN.to_gate(SLOT, made.airspeed)
    assert made.left == pytest.approx(late - flown, abs=0.3)


def test_a_radial_from_the_side_meets_the_final_bearing_at_the_gate():
    there = THERE
    slot = marshal.stack(1, steaming=there, radial=there.landing_heading + math.pi - 20 * DEGREE)[0]
    flown = GIVEN.approach(slot)
    k = int(np.argmax(flown.ahead > -10 * NAUTICAL_MILE))
    assert flown.right[0] > 5 * NAUTICAL_MILE
    assert np.abs(flown.right[k:]).max() < 1.0
    assert flown.notes == ()
    side = marshal.stack(1, steaming=there, radial=there.landing_heading + 0.5 * math.pi)[0]
    assert [note.code for note in GIVEN.approach(side).notes] == ["sharp-onto-final"]


def test_too_high_at_the_gate_is_said():
    near = marshal.Slot(1, 12_000 * FOOT, 16 * NAUTICAL_MILE, SLOT.radial, 0.0)
    assert "high-at-gate" in [note.code for note in GIVEN.approach(near).notes]


def test_wind_as_fast_as_the_jet_is_refused():
    there = Steaming(0.0, 10 * KNOT, 0.0, 130 * KNOT)
    with pytest.raises(InputError, match="makes no way to the ship"):
        inbound.Descent(there, ON_SPEED, AIM).approach(marshal.stack(1, steaming=there)[0])
