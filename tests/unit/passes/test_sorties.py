"""Finding passes in hours of flight: launch, pattern, straight-in, marshal, taxi; nothing told."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from msgspec.structs import replace

from deckward.passes import find
from support.analytic_pass import DECK, JET, KNOT, ROUGH, Flight
from support.sortie import Knot, Sortie, Stay, shifted

SHIP = replace(ROUGH, course=1.1)
#: out of the turn at 1200 m, 20 s of groove
GROOVE = Flight(ship=SHIP, from_range=1200.0)
STRAIGHT_IN = Flight(ship=SHIP, from_range=5200.0)
DOWNWIND, FAR_SIDE = -75.0, -1900.0


def pattern(after: float, *, port: float = FAR_SIDE) -> list[Knot]:
    """From off the bow round the left-hand pattern, up to where the groove of :data:`GROOVE` begins."""
    return [
        Knot(after + 15.0, (2300.0, 0.0, 150.0), (65.0, 0.0, 3.0)),
        Knot(after + 65.0, (2300.0, port, 190.0), (DOWNWIND, 0.0, 0.0)),
        Knot(after + 100.0, (-300.0, port, 185.0), (DOWNWIND, 0.0, -1.0)),
    ]


@cache
def day() -> tuple[Sortie, tuple]:
    """Fifty minutes: taxi, launch, marshal, a straight-in, two passes in the pattern, overhead, trap."""
    stages: list = [
        Stay(0.0, 30.0, (60.0, 5.0, 1.8)),
        Knot(60.0, (95.0, 0.0, 1.8), (0.0, 0.0, 0.0)),
        Stay(60.0, 90.0, (95.0, 0.0, 1.8)),
        # off the bow in 2.8 s
        Knot(92.8, (200.0, -8.0, 2.2), (75.0, -2.0, 1.0)),
        Knot(110.0, (1900.0, -60.0, 150.0), (110.0, 0.0, 10.0)),
        Knot(200.0, (14000.0, -2500.0, 1500.0), (120.0, 0.0, 5.0)),
    ]
    # marshal: circles at 1800 m, 12 km off
    time, turn = 280.0, 60.0
    corners = [((16000.0, -8000.0), (0, -1)), ((12000.0, -12000.0), (-1, 0)), ((8000.0, -8000.0), (0, 1))]
    corners += [((12000.0, -4000.0), (1, 0))]
    for k in range(25):
        (x, y), (dx, dy) = corners[k % 4]
        stages.append(Knot(time + k * turn, (x, y, 1800.0), (105.0 * dx, 105.0 * dy, 0.0)))
    time += 24 * turn
    stages += [
        Knot(time + 150.0, (-6000.0, -9000.0, 900.0), (-80.0, 60.0, -5.0)),
        Knot(time + 260.0, (-9500.0, 0.0, 430.0), (70.0, 0.0, -3.0)),
    ]
    start = time + 330.0
    stages.append(shifted(replace(STRAIGHT_IN, wave_off_before=6.0), start))
    stages += pattern(stages[-1].end)
    stages.append(shifted(replace(GROOVE, hook_aim=104.0), stages[-1].time + 45.0))
    stages += pattern(stages[-1].end)
    stages.append(shifted(replace(GROOVE, wire=None, off_centre=1.5), stages[-1].time + 45.0))
    end = stages[-1].end
    # round again, fast overhead at 350 kt to starboard of the landing area, break, and trap
    fast = 350 * KNOT - 10.0
    stages += [
        Knot(end + 80.0, (6000.0, -5000.0, 400.0), (-110.0, -60.0, 0.0)),
        Knot(end + 190.0, (-9000.0, -3000.0, 260.0), (60.0, 110.0, 0.0)),
        Knot(end + 240.0, (-7000.0, 150.0, 245.0), (fast, 0.0, 0.0)),
        Knot(end + 240.0 + 10000.0 / fast, (3000.0, 150.0, 245.0), (fast, 0.0, 0.0)),
    ]
    begin = stages[-1].time
    stages += [
        Knot(begin + 45.0, (3200.0, FAR_SIDE, 190.0), (DOWNWIND - 25.0, 0.0, 0.0)),
        Knot(begin + 83.0, (-300.0, FAR_SIDE, 185.0), (DOWNWIND, 0.0, -1.0)),
    ]
    stages.append(shifted(replace(GROOVE, hook_aim=45.0, after=12.0), stages[-1].time + 45.0))
    sortie = Sortie(stages)
    own, ship = sortie.in_a_plane(5.0)
    return sortie, find(own, ship=ship, site=DECK, aircraft=JET).passes


def test_the_passes_of_a_long_flight_are_found_and_nothing_else():
    sortie, passes = day()
    assert sortie.end - sortie.start > 2400.0
    assert [one.outcome for one in passes] == ["wave-off", "bolter", "bolter", "trap"]
    assert passes[2].flags == ("hook skip",)
    assert passes[3].wire == sortie.passes[3].wire


def test_each_pass_is_measured_as_if_it_stood_alone():
    sortie, passes = day()
    for flown, one in zip(sortie.passes, passes, strict=True):
        assert one.ramp.hook_to_ramp == pytest.approx(flown.hook_to_ramp, abs=0.10)
        assert one.ramp.time == pytest.approx(flown.ramp_time, abs=0.02)
        if flown.contact is not None:
            assert one.touchdown.hook_x == pytest.approx(flown.contact.hook_x, abs=0.8)


def test_passes_do_not_overlap_and_lie_around_their_ramp():
    _, passes = day()
    for one, after in pairwise(passes):
        assert one.start < one.ramp.time <= one.end <= after.start


def test_a_turn_from_downwind_is_measured_and_a_straight_in_has_none():
    """Abeam: hull-frame distance to port of the ramp where the aircraft passes it outbound."""
    sortie, passes = day()
    assert passes[0].turn is None
    assert all(one.turn is not None for one in passes[1:])
    time = np.arange(sortie.passes[1].flight.start - 70.0, sortie.passes[1].flight.start - 30.0, 0.01)
    place, _ = sortie.craft(time)
    frame = sortie.frame
    hull = np.swapaxes(frame.ship_attitude(time), 1, 2) @ (place - frame.ship_place(time))[..., None]
    hull = hull[..., 0] - np.asarray(DECK.ramp)
    k = int(np.flatnonzero((hull[:-1, 0] > 0.0) & (hull[1:, 0] <= 0.0))[-1])
    assert passes[1].turn.abeam_distance == pytest.approx(-hull[k, 1], abs=3.0)
    assert passes[1].turn.abeam_altitude == pytest.approx(-place[k, 2], abs=1.0)
    # banked within a few seconds of the knot at which the curve to the groove begins
    assert passes[1].turn.start == pytest.approx(sortie.passes[1].flight.start - 45.0, abs=12.0)


def test_a_groove_begins_once_wings_and_line_up_are_settled():
    """The straight begins at 1200 m; wings pass 5 deg a little before."""
    sortie, passes = day()
    for flown, one in zip(sortie.passes[1:], passes[1:], strict=True):
        assert one.groove.start == pytest.approx(flown.flight.start, abs=4.0)
        assert one.groove.start + one.groove.seconds == pytest.approx(one.touchdown.time, abs=0.01)
    wave_off = passes[0]
    assert wave_off.groove.start + wave_off.groove.seconds == pytest.approx(wave_off.wave_off.start, abs=0.01)


@pytest.mark.parametrize("what", ["launch", "overhead", "taxi", "downwind", "fly past abeam"])
def test_what_is_no_pass_is_not_taken_for_one_and_is_described(what):
    stages = {
        "launch": [
            Stay(0.0, 20.0, (95.0, 0.0, 1.8)),
            Knot(22.8, (200.0, -8.0, 2.2), (75.0, -2.0, 1.0)),
            Knot(40.0, (1900.0, -60.0, 150.0), (110.0, 0.0, 10.0)),
            Knot(90.0, (9000.0, -60.0, 900.0), (110.0, 0.0, 10.0)),
        ],
        "overhead": [
            Knot(0.0, (-8000.0, 60.0, 245.0), (170.0, 0.0, 0.0)),
            Knot(80.0, (5600.0, 60.0, 245.0), (170.0, 0.0, 0.0)),
        ],
        "taxi": [
            Stay(0.0, 20.0, (20.0, 0.0, 1.8)),
            Knot(80.0, (150.0, 8.0, 1.8), (1.5, 0.0, 0.0)),
            Stay(100.0, 120.0, (170.0, 10.0, 1.8)),
        ],
        "downwind": [
            Knot(0.0, (4000.0, -1900.0, 180.0), (-75.0, 0.0, 0.0)),
            Knot(100.0, (-3500.0, -1900.0, 180.0), (-75.0, 0.0, 0.0)),
        ],
        "fly past abeam": [
            Knot(0.0, (-3000.0, 700.0, 60.0), (65.0, 0.0, 0.0)),
            Knot(90.0, (2850.0, 700.0, 60.0), (65.0, 0.0, 0.0)),
        ],
    }[what]
    own, ship = Sortie(stages).in_a_plane(5.0)
    found = find(own, ship=ship, site=DECK, aircraft=JET)
    assert found.passes == ()
    assert len(found.seen) > 20
    if what == "taxi":
        assert "does not fly" in found.seen
    else:
        assert "nm" in found.seen


def test_two_searches_of_one_flight_do_not_remember_one_another():
    sortie, passes = day()
    own, ship = sortie.in_a_plane(5.0)
    again = find(own, ship=ship, site=DECK, aircraft=JET).passes
    assert [one.touchdown for one in again] == [one.touchdown for one in passes]
