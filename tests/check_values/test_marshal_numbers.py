"""Cases and the marshal stack against their published tables."""

from __future__ import annotations

import math

import pytest

from deckward import aircraft, site
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE
from deckward.planning import cases, inbound, marshal, pattern
from deckward.planning.steaming import Steaming
from support.authorities import each, rows
from support.wishes import aim_at

ONE, TWO, THREE = rows("recovery-cases").values()
APPROACH = rows("case-three-approach")

# on and just past each limit of the table: ceiling ft, visibility nm, night, instruments expected; case
WEATHER = [
    (ONE["ceiling [ft]"], ONE["visibility [nm]"], False, False, ONE),
    (math.inf, 10.0, False, False, ONE),
    (ONE["ceiling [ft]"] - 1, ONE["visibility [nm]"], False, False, TWO),
    (5000, 10.0, False, True, TWO),
    (TWO["ceiling [ft]"], TWO["visibility [nm]"], False, True, TWO),
    (TWO["ceiling [ft]"] - 1, 10.0, False, False, THREE),
    (5000, TWO["visibility [nm]"] - 0.1, False, False, THREE),
    (5000, 10.0, True, False, THREE),
]


@each("marshal-distances", feet="altitude [ft]", miles="distance [nm]")
def test_distance_is_angels_plus_fifteen(feet, miles):
    assert marshal.distance(feet * FOOT) / NAUTICAL_MILE == pytest.approx(miles, abs=1e-9)


def test_the_stack_stands_on_the_radial_opposite_the_final_bearing():
    """Published (NAVEDTRA 14342A): opposite the expected final bearing, from 6,000 ft up, 1,000 ft apart."""
    lowest = round(APPROACH["lowest marshal"]["height [ft]"])
    there = Steaming(course=100 * DEGREE, speed=0.0, wind_from=0.0, wind_speed=0.0, angle=9 * DEGREE)
    slots = marshal.stack(14, steaming=there, first_push=1200.0, interval=60.0)
    for slot, feet in zip(slots, range(lowest, 20_000, 1000), strict=True):
        assert slot.radial / DEGREE == pytest.approx(271.0)
        assert slot.inbound / DEGREE == pytest.approx(91.0)
        assert slot.altitude / FOOT == pytest.approx(feet)
        assert slot.distance / NAUTICAL_MILE == pytest.approx(feet / 1000 + 15)
        # the equipment reads the slant
        assert math.hypot(*slot.fix, slot.altitude) == pytest.approx(slot.distance)
    assert [slot.push for slot in slots] == pytest.approx([1200.0 + 60.0 * k for k in range(14)])


@pytest.mark.parametrize(("ceiling", "visibility", "night", "instruments", "row"), WEATHER)
def test_case_by_weather(ceiling, visibility, night, instruments, row):
    case = cases.choose(
        ceiling=ceiling * FOOT,
        visibility=visibility * NAUTICAL_MILE,
        night=night,
        instruments=instruments,
    )
    assert case.number == row["case [1]"]
    assert bool(case.reasons) == (row is not ONE)
    allowed = row["departures"].split()
    assert case.departures == tuple(
        n for n, name in enumerate(("I", "II", "III"), start=1) if name in allowed
    )


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
    tip_over, platform = APPROACH["tip-over"], APPROACH["platform"]
    assert flown.gate("tip-over").range / NAUTICAL_MILE == pytest.approx(tip_over["distance [nm]"], abs=0.05)
    assert flown.gate("tip-over").height / FOOT == pytest.approx(tip_over["height [ft]"], abs=1)
    assert flown.gate("platform").height / FOOT == pytest.approx(platform["height [ft]"], abs=1)
    assert flown.gate("platform").sink / FOOT * 60 == pytest.approx(platform["sink [ft/min]"])
