"""Cases and the marshal stack against their published tables."""

from __future__ import annotations

import math

import pytest

from deckward import aircraft, site
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE
from deckward.planning import cases, inbound, marshal, pattern
from deckward.planning.steaming import Steaming
from support.wishes import aim_at

# published (NAVEDTRA 14342A, table 11-11)
DISTANCES = [(6000, 21), (8000, 23), (10_000, 25), (15_000, 30), (19_000, 34)]

# published (NAVEDTRA 14342A, table 11-4): ceiling ft, visibility nm, night, instruments expected; case
WEATHER = [
    (3000, 5.0, False, False, 1),
    (math.inf, 10.0, False, False, 1),
    (2999, 5.0, False, False, 2),
    (5000, 10.0, False, True, 2),
    (1000, 5.0, False, True, 2),
    (999, 10.0, False, False, 3),
    (5000, 4.9, False, False, 3),
    (5000, 10.0, True, False, 3),
]


@pytest.mark.parametrize(("feet", "miles"), DISTANCES)
def test_distance_is_angels_plus_fifteen(feet, miles):
    assert marshal.distance(feet * FOOT) / NAUTICAL_MILE == pytest.approx(miles, abs=1e-9)


def test_the_stack_stands_on_the_radial_opposite_the_final_bearing():
    """Published: 180 degrees from the expected final bearing, from 6,000 ft up, 1,000 ft apart."""
    there = Steaming(course=100 * DEGREE, speed=0.0, wind_from=0.0, wind_speed=0.0, angle=9 * DEGREE)
    slots = marshal.stack(14, steaming=there, first_push=1200.0, interval=60.0)
    for slot, feet in zip(slots, range(6000, 20_000, 1000), strict=True):
        assert slot.radial / DEGREE == pytest.approx(271.0)
        assert slot.inbound / DEGREE == pytest.approx(91.0)
        assert slot.altitude / FOOT == pytest.approx(feet)
        assert slot.distance / NAUTICAL_MILE == pytest.approx(feet / 1000 + 15)
        # the equipment reads the slant
        assert math.hypot(*slot.fix, slot.altitude) == pytest.approx(slot.distance)
    assert [slot.push for slot in slots] == pytest.approx([1200.0 + 60.0 * k for k in range(14)])


@pytest.mark.parametrize(("ceiling", "visibility", "night", "instruments", "number"), WEATHER)
def test_case_by_weather(ceiling, visibility, night, instruments, number):
    case = cases.choose(
        ceiling=ceiling * FOOT,
        visibility=visibility * NAUTICAL_MILE,
        night=night,
        instruments=instruments,
    )
    assert case.number == number
    assert bool(case.reasons) == (number > 1)
    # published (table 11-5): Case I or II recovery allows no Case III departure
    assert case.departures == ((1, 2, 3) if number == 3 else (1, 2))


def test_reasons_name_the_limit_and_what_there_is():
    case = cases.choose(ceiling=800 * FOOT, visibility=3 * NAUTICAL_MILE, night=False)
    assert case.reasons[-2:] == (
        "The ceiling, 800 ft, is below Case II's 1,000 ft.",
        "The visibility, 3.0 nm, is below 5 nm.",
    )


def test_approach_of_the_lowest_takes_as_long_as_derived():
    """Derived: 21 miles, 255 kt over the first 11 and 140 less 25 kt over the last 10 are 7.8 min.

    Slowing from 250 kt takes until 6 miles here, which saves about half a minute.
    """
    there = Steaming(course=0.0, speed=10 * KNOT, wind_from=0.0, wind_speed=15 * KNOT)
    given = inbound.Descent(
        there,
        pattern.Trimmed(140 * KNOT, 8 * DEGREE),
        aim_at(site.load("wintermere"), aircraft.load("sandlark")),
    )
    flown = given.approach(marshal.stack(1, steaming=there)[0])
    assert 7.2 <= flown.seconds / 60 <= 7.8
    # from memory: tip-over at 3 miles; published: level at 1,200 ft before it
    assert flown.gate("tip-over").range / NAUTICAL_MILE == pytest.approx(3.0, abs=0.05)
    assert flown.gate("tip-over").height / FOOT == pytest.approx(1200, abs=1)
    assert flown.gate("platform").height / FOOT == pytest.approx(5000, abs=1)
    assert flown.gate("platform").sink / FOOT * 60 == pytest.approx(2000)
