"""One pass, moved, turned, shifted, mirrored, thinned: the same numbers.

The pass is told by formulas (``support.analytic_pass``), so that each transformed copy is
exact and every number has a truth. Tolerances are the least that estimation leaves.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import HealthCheck, Phase, example, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from deckward.foundation.track import Track
from deckward.passes import Wind, find
from support.analytic_pass import (
    CENTIMETRE,
    DECK,
    DEGREE,
    JET,
    MILLISECOND,
    RANGES,
    AnalyticPass,
    Flight,
    Ship,
    Sway,
)

#: a pitching, heaving, rolling ship with leeway; a path that drifts and weaves
SHIP = Ship(
    course=0.0,
    speed=9.0,
    leeway=1.5 * DEGREE,
    heave=Sway(0.7, 9.5, 0.3),
    pitch=Sway(0.6 * DEGREE, 8.7, -2.0),
    roll=Sway(1.0 * DEGREE, 16.0, 2.0),
)
FLOWN = Flight(
    ship=SHIP,
    from_range=1700.0,
    closure=57.0,
    off_centre=1.2,
    drift=0.4 * DEGREE,
    weave=Sway(1.0, 11.0),
    sway=Sway(1.0, 14.0),
    roll=Sway(1.5 * DEGREE, 7.0, 0.5),
    hook_aim=71.0,
    after=6.0,
)
RATE = 10.0

#: each example measures a pass, so there are few of them and none is shrunk
few = settings(
    max_examples=5,
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow],
)


def measured(own: Track, ship: Track, flight: Flight):
    wind = Wind(flight.wind_from, flight.wind_speed)
    (one,) = find(own, ship=ship, site=flight.site, aircraft=flight.jet, wind=wind).passes
    return one


def numbers(one) -> dict[str, float]:
    """What must not change, with what is told in metres, degrees and seconds apart by name."""
    out = {
        "ramp height m": one.ramp.hook_to_ramp,
        "hook x m": one.touchdown.hook_x,
        "off centre m": one.touchdown.off_centre,
        "closure m/s": one.touchdown.closure,
        "ramp s": one.ramp.time - one.touchdown.time,
    }
    for position in one.positions:
        out |= {
            f"{position.name} ball deg": np.degrees(position.glide_slope_error),
            f"{position.name} line-up deg": np.degrees(position.line_up_error),
            f"{position.name} attack deg": np.degrees(position.angle_of_attack),
            f"{position.name} offset m": position.line_up_offset,
            f"{position.name} closure m/s": position.closure,
            f"{position.name} s": position.time - one.touchdown.time,
        }
    return out


TOLERANCE = {"m": 2 * CENTIMETRE, "deg": 0.001, "s": 2 * MILLISECOND, "m/s": 2 * CENTIMETRE}


def assert_same(one, other, factor: float = 1.0) -> None:
    assert (one.outcome, one.wire) == (other.outcome, other.wire)
    a, b = numbers(one), numbers(other)
    assert list(a) == list(b)
    off = {k: (a[k], b[k]) for k in a if abs(a[k] - b[k]) > factor * TOLERANCE[k.rsplit(" ", 1)[1]]}
    assert not off


def turned(flight: Flight, course: float) -> Flight:
    """The whole picture, wind too, turned to another course."""
    ship = replace(flight.ship, course=flight.ship.course + course)
    return replace(flight, ship=ship, wind_from=flight.wind_from + course)


@cache
def in_a_plane():
    """The reference: the pass measured from a recording in a local plane."""
    flown = AnalyticPass(FLOWN)
    return measured(*flown.in_a_plane(flown.times(RATE)), FLOWN)


def test_the_pass_itself_is_measured_as_it_was_flown():
    """The reference of the tests below, against the formulas."""
    flown = AnalyticPass(FLOWN)
    assert in_a_plane().wire == flown.wire == 3
    assert in_a_plane().ramp.hook_to_ramp == pytest.approx(flown.hook_to_ramp, abs=2 * CENTIMETRE)
    assert in_a_plane().touchdown.hook_x == pytest.approx(flown.contact.hook_x, abs=15 * CENTIMETRE)
    for position in in_a_plane().positions:
        when = flown.ramp_time if position.name == "ramp" else flown.crosses(RANGES[position.name])
        truth = flown.reading(when, JET.on_speed_pitch)
        assert position.time == pytest.approx(when, abs=2 * MILLISECOND)
        assert position.line_up_offset == pytest.approx(truth.line_up_offset, abs=2 * CENTIMETRE)
        if position.name != "ramp":
            assert position.glide_slope_error == pytest.approx(truth.glide_slope_error, abs=0.002 * DEGREE)


@few
@given(
    latitude=st.floats(-80.0, 80.0),
    longitude=st.floats(-180.0, 180.0, exclude_max=True),
    course=st.floats(0.0, 360.0, exclude_max=True),
)
@example(latitude=35.0, longitude=179.9999, course=90.0)
@example(latitude=-35.0, longitude=-179.9999, course=270.0)
@example(latitude=51.0, longitude=-0.0001, course=85.0)
@example(latitude=0.0, longitude=0.0, course=359.9)
@example(latitude=80.0, longitude=10.0, course=0.0)
@example(latitude=-80.0, longitude=-170.0, course=180.0)
def test_a_pass_is_the_same_anywhere_on_earth(latitude, longitude, course):
    flight = turned(FLOWN, course * DEGREE)
    flown = AnalyticPass(flight)
    own, ship = flown.on_earth(latitude * DEGREE, longitude * DEGREE, flown.times(RATE))
    assert_same(measured(own, ship, flight), in_a_plane())


@few
@given(
    course=st.floats(0.0, 360.0),
    north=st.floats(-5e4, 5e4),
    east=st.floats(-5e4, 5e4),
    up=st.floats(-50, 300),
)
def test_a_pass_is_the_same_anywhere_in_a_plane(course, north, east, up):
    flight = turned(FLOWN, course * DEGREE)
    flown = AnalyticPass(flight)
    own, ship = (
        track.with_channels(north=track["north"] + north, east=track["east"] + east, up=track["up"] + up)
        for track in flown.in_a_plane(flown.times(RATE))
    )
    assert_same(measured(own, ship, flight), in_a_plane())


@few
@given(offset=st.sampled_from([-86400.0, -0.037, 1.0, 3600.5, 1.7e9]))
def test_a_pass_is_the_same_at_any_time(offset):
    flown = AnalyticPass(FLOWN)
    own, ship = (replace(t, time=t.time + offset) for t in flown.in_a_plane(flown.times(RATE)))
    assert_same(measured(own, ship, FLOWN), in_a_plane())


@few
@given(
    angle=st.floats(-11.0, 11.0),
    off=st.floats(-4.0, 4.0),
    drift=st.floats(-0.8, 0.8),
    swell=st.floats(0.0, 3.0),
)
def test_port_and_starboard_are_mirror_images(angle, off, drift, swell):
    """Ship, lens, swell, path and wind mirrored: offsets change sign, everything else stays."""
    ship = replace(SHIP, leeway=2.0 * DEGREE, roll=Sway(swell * DEGREE, 16.0, 2.0))
    one = Flight(
        site=replace(DECK, angle=angle * DEGREE),
        ship=ship,
        off_centre=off,
        drift=drift * DEGREE,
        roll=Sway(1.0 * DEGREE, 8.0),
        wind_from=0.3,
        wind_speed=5.0,
        from_range=1700.0,
        after=6.0,
    )
    site = one.site
    lens = replace(site.lens, position=(site.lens.position[0], -site.lens.position[1], site.lens.position[2]))
    other = replace(
        one,
        site=replace(site, angle=-site.angle, ramp=(site.ramp[0], -site.ramp[1], site.ramp[2]), lens=lens),
        ship=replace(ship, leeway=-ship.leeway, roll=Sway(-swell * DEGREE, 16.0, 2.0)),
        off_centre=-off,
        drift=-drift * DEGREE,
        roll=Sway(-1.0 * DEGREE, 8.0),
        wind_from=-0.3,
    )
    passes = []
    for flight in (one, other):
        flown = AnalyticPass(flight)
        passes.append(numbers(measured(*flown.in_a_plane(flown.times(RATE)), flight)))
    for name, value in passes[0].items():
        side = -1.0 if "offset" in name or "line-up" in name or "off centre" in name else 1.0
        assert passes[1][name] == pytest.approx(side * value, abs=TOLERANCE[name.rsplit(" ", 1)[1]]), name


@few
@given(turn=st.floats(-0.5, 0.5), course=st.floats(0.0, 360.0))
def test_a_turning_ship_changes_nothing_that_is_told_against_her(turn, course):
    """The path is told in the ship's own turning axes; earth and inertia do not know that."""
    plain = replace(FLOWN, weave=Sway(), sway=Sway(), roll=Sway(), drift=0.0)
    turning = replace(plain, ship=replace(SHIP, turn=turn * DEGREE, course=course * DEGREE))
    passes = []
    for flight in (plain, turning):
        flown = AnalyticPass(flight)
        passes.append(measured(*flown.in_a_plane(flown.times(RATE)), flight))
        assert passes[-1].touchdown.hook_x == pytest.approx(flown.contact.hook_x, abs=5 * CENTIMETRE)
        assert passes[-1].ramp.hook_to_ramp == pytest.approx(flown.hook_to_ramp, abs=CENTIMETRE)
    for a, b in zip(*(one.positions for one in passes), strict=True):
        assert a.line_up_offset == pytest.approx(b.line_up_offset, abs=2 * CENTIMETRE)


@few
@given(rate=st.sampled_from([5.0, 8.0, 12.5, 20.0, 30.0]), phase=st.floats(0.0, 1.0), seed=st.integers(0, 99))
def test_samples_may_be_anywhere(rate, phase, seed):
    """Other rates, phases and irregular times; touchdown by the budget of a clean 5 Hz record."""
    flown = AnalyticPass(FLOWN)
    time = flown.times(rate) + phase / rate
    time = time + np.random.default_rng(seed).uniform(-0.3, 0.3, time.size) / rate
    one = measured(*flown.in_a_plane(time, flown.times(RATE)), FLOWN)
    assert one.wire == 3
    assert one.ramp.hook_to_ramp == pytest.approx(in_a_plane().ramp.hook_to_ramp, abs=10 * CENTIMETRE)
    assert one.touchdown.hook_x == pytest.approx(in_a_plane().touchdown.hook_x, abs=80 * CENTIMETRE)
    for a, b in zip(one.positions, in_a_plane().positions, strict=True):
        assert a.line_up_offset == pytest.approx(b.line_up_offset, abs=20 * CENTIMETRE)
        if a.name != "ramp":
            assert a.glide_slope_error == pytest.approx(b.glide_slope_error, abs=0.03 * DEGREE)


@few
@given(ship_rate=st.sampled_from([2.0, 4.0, 7.3, 25.0]), phase=st.floats(0.0, 1.0))
def test_a_ship_in_a_file_of_her_own_is_the_same_ship(ship_rate, phase):
    """Her samples at other times and rates against the same rows."""
    flown = AnalyticPass(FLOWN)
    ship_time = np.arange(-3.0, flown.end + 3.0, 1.0 / ship_rate) + phase / ship_rate
    one = measured(*flown.in_a_plane(flown.times(RATE), ship_time), FLOWN)
    assert_same(one, in_a_plane(), factor=2.0)


@few
@given(shift=st.floats(-5.0, 5.0))
def test_a_ships_clock_that_is_told_wrong_can_be_put_right(shift):
    flown = AnalyticPass(FLOWN)
    own, ship = flown.in_a_plane(flown.times(RATE), np.arange(-10.0, flown.end + 10.0, 0.1))
    late = replace(ship, time=ship.time - shift)
    (one,) = find(own, ship=late, site=DECK, aircraft=JET, wind=Wind(0.0, 0.0), ship_time_offset=shift).passes
    assert_same(one, in_a_plane())
