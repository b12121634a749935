"""What is read from a pass, against the formulas it was flown by."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from deckward.errors import InputError
from deckward.passes import ShipCourse, Wind, find
from support.analytic_pass import (
    DECK,
    DEGREE,
    FIELD,
    JET,
    RANGES,
    ROUGH,
    AnalyticPass,
    Flight,
    Ship,
    Sway,
    euler,
    without,
)

#: a weaving pass at a moving deck in wind: nothing about it is plain
LIVELY = Flight(
    ship=replace(ROUGH, leeway=1.0 * DEGREE),
    closure=56.0,
    off_centre=-1.0,
    drift=-0.3 * DEGREE,
    weave=Sway(1.5, 10.0),
    sway=Sway(2.0, 13.0),
    roll=Sway(2.0 * DEGREE, 9.0),
    wind_from=20.0 * DEGREE,
    wind_speed=6.0,
    hook_aim=80.0,
)
WIND = Wind(LIVELY.wind_from, LIVELY.wind_speed)
NAMES = ("3/4 nm", "1/2 nm", "1/4 nm", "ramp")


def one_pass(own, ship, flight: Flight, wind: Wind | None = WIND):
    (one,) = find(own, ship=ship, site=flight.site, aircraft=flight.jet, wind=wind).passes
    return one


def truths(flown: AnalyticPass, one) -> dict:
    """What is true where the formulas cross the ranges that the pass was read at."""
    mean_lens = float(flown.lens_height(np.linspace(one.start, one.end, 2001)).mean())
    out = {}
    for position in one.positions:
        when = flown.ramp_time if position.name == "ramp" else flown.crosses(RANGES[position.name])
        out[position.name] = flown.reading(when, one.on_speed_pitch, mean_lens=mean_lens)
    return out


def codes(one) -> list[str]:
    return [note.code for note in one.notes]


@pytest.mark.parametrize("stabilisation", ["line", "inertial", "none"])
def test_the_ball_goes_by_how_the_lens_is_stabilised(stabilisation):
    """Three definitions, one moving deck: each within 0.01 deg, and far from one another."""
    site = replace(DECK, lens=replace(DECK.lens, stabilisation=stabilisation))
    flight = replace(LIVELY, site=site)
    flown = AnalyticPass(flight)
    one = one_pass(*flown.in_a_plane(flown.times(10.0)), flight)
    assert tuple(p.name for p in one.positions) == NAMES
    for position, truth in zip(one.positions, truths(flown, one).values(), strict=True):
        assert position.glide_slope_error == pytest.approx(truth.glide_slope_error, abs=0.01 * DEGREE)
        assert position.ball_cells == pytest.approx(position.glide_slope_error / site.lens.cell)
    others = {
        other: AnalyticPass(replace(flight, site=replace(site, lens=replace(site.lens, stabilisation=other))))
        for other in {"line", "inertial", "none"} - {stabilisation}
    }
    for other in others.values():
        apart = [
            abs(truth.glide_slope_error - p.glide_slope_error)
            for p, truth in zip(one.positions, truths(other, one).values(), strict=True)
        ]
        assert max(apart) > 0.05 * DEGREE


def test_positions_are_the_formulas_at_those_ranges():
    flown = AnalyticPass(LIVELY)
    one = one_pass(*flown.in_a_plane(flown.times(10.0)), LIVELY)
    for position, truth in zip(one.positions, truths(flown, one).values(), strict=True):
        assert position.time == pytest.approx(truth.time, abs=0.005)
        assert position.range == pytest.approx(truth.range, abs=0.3)
        assert position.line_up_offset == pytest.approx(truth.line_up_offset, abs=0.05)
        assert position.line_up_error == pytest.approx(truth.line_up_error, abs=0.02 * DEGREE)
        assert position.angle_of_attack == pytest.approx(truth.angle_of_attack, abs=0.05 * DEGREE)
        assert position.angle_of_attack_error == pytest.approx(position.angle_of_attack - JET.on_speed)
        assert position.sink == pytest.approx(truth.sink, abs=0.06)
        assert position.closure == pytest.approx(truth.closure, abs=0.06)
        assert position.after_wave_off is False


def test_the_series_follows_the_formulas_at_every_sample_before_contact():
    flown = AnalyticPass(LIVELY)
    one = one_pass(*flown.in_a_plane(flown.times(10.0)), LIVELY)
    series = one.series
    rows = np.arange(10, series.contact - 1)
    time = series.time[rows]
    place = flown.approach(time)
    heading, pitch, roll = euler(flown.craft(time)[1])
    mean_ramp = flown.place_of_deck(np.zeros(3), series.time)[:, 2].mean()
    told = {
        "range": (-place[:, 0], 0.05),
        "line_up_offset": (place[:, 1], 0.05),
        "height": (place[:, 2], 0.05),
        "hook": (flown.deck(time, JET.hook), 0.05),
        "right_wheel": (flown.deck(time, JET.main_wheels), 0.05),
        "eye": (flown.approach(time, JET.eye), 0.05),
        "pitch": (pitch, 0.02 * DEGREE),
        "roll": (roll, 0.05 * DEGREE),
        "heading": (heading, 0.05 * DEGREE),
        "glide_slope_error": (flown.glide_slope_error(time, JET.on_speed_pitch), 0.03 * DEGREE),
        "angle_of_attack": (flown.attack(time), 0.05 * DEGREE),
        "deck_pitch": (flown.flight.ship.pitch.at(time), 0.01 * DEGREE),
        "deck_roll": (flown.flight.ship.roll.at(time), 0.01 * DEGREE),
        "deck_heave": (mean_ramp - flown.place_of_deck(np.zeros(3), time)[:, 2], 0.02),
        "true_airspeed": (flown.channels(time)["true_airspeed"], 0.05),
    }
    for name, (truth, within) in told.items():
        off = np.abs(getattr(series, name)[rows] - truth)
        if name == "heading":
            off = np.minimum(off, np.abs(off - 2.0 * np.pi))
        assert off.max() < within, f"{name}: {off.max():.4f}"


def test_drift_aim_and_flight_path_marker_are_where_the_jet_is_going():
    """A straight steady path at a steady ship: the aim is the hook's touchdown all along."""
    flight = Flight(drift=0.8 * DEGREE, off_centre=3.0, hook_aim=75.0)
    flown = AnalyticPass(flight)
    one = one_pass(*flown.in_a_plane(flown.times(10.0)), flight, wind=None)
    series, rows = one.series, slice(5, one.series.contact - 2)
    assert np.degrees(series.drift[rows]) == pytest.approx(0.8, abs=0.01)
    assert series.aim[rows, 0] == pytest.approx(flown.contact.hook_x, abs=0.3)
    assert series.aim[rows, 1] == pytest.approx(flown.contact.off_centre, abs=0.05)
    # the marker: direction of flight over the earth against the far right corner, by hand
    k = 40
    time = series.time[k : k + 1]
    way = flown.ship_mean(time + 1e-3) - flown.ship_mean(time - 1e-3)
    step = flown.craft(time + 1e-3)[0] - flown.craft(time - 1e-3)[0] + np.append(way, [[0.0]], axis=1)
    eye = flown.craft(time)[0] + flown.craft(time)[1][0] @ np.asarray(JET.eye)
    sight = flown.place_of_deck((DECK.length, DECK.width / 2.0, 0.0), time) - eye
    right = np.arctan2(step[0, 1], step[0, 0]) - np.arctan2(sight[0, 1], sight[0, 0])
    rise, corner = (np.arctan2(-v[0, 2], np.hypot(*v[0, :2])) for v in (step, sight))
    assert series.marker_right_of_corner[k] == pytest.approx(right, abs=0.01 * DEGREE)
    assert series.marker_above_corner[k] == pytest.approx(rise - corner, abs=0.01 * DEGREE)


def test_nothing_is_said_of_the_ball_past_the_lens_and_nothing_smoothed_over_contact():
    flight = Flight(hook_aim=96.0)
    flown = AnalyticPass(flight)
    one = one_pass(*flown.in_a_plane(flown.times(10.0)), flight, wind=None)
    series = one.series
    past = series.eye[:, 0] > DECK.lens.position[0] + 1.0
    assert past.any() and np.isnan(series.glide_slope_error[past]).all()
    assert np.isnan(series.ball_cells[past]).all()
    assert series.time[series.contact] >= flown.contact.time > series.time[series.contact - 1]
    # the recording itself after contact: wheels on the deck, not a carried-on descent
    rolling = (series.time > flown.wheels_time + 0.2) & (series.time < flown.wheels_time + 1.0)
    assert np.abs(series.right_wheel[rolling, 2]).max() < 0.02


# --- the commanded path


def test_on_speed_pitch_is_the_profiles_where_it_is_given():
    flown = AnalyticPass(LIVELY)
    one = one_pass(*flown.in_a_plane(flown.times(5.0)), LIVELY)
    assert one.on_speed_pitch == JET.on_speed_pitch
    assert one.path_constant == pytest.approx(flown.path_constant(JET.on_speed_pitch), abs=1e-9)


NO_PITCH = replace(JET, on_speed_pitch=None)


@pytest.mark.parametrize("recorded", [True, False])
def test_on_speed_pitch_comes_from_closure_over_airspeed(recorded):
    """On-speed angle of attack less the basic angle times closure over airspeed; wind told either way."""
    flight = replace(LIVELY, jet=NO_PITCH)
    flown = AnalyticPass(flight)
    own, ship = flown.in_a_plane(flown.times(5.0))
    if not recorded:
        own = without(own, "true_airspeed")
    one = one_pass(own, ship, flight)
    time = np.linspace(flown.crosses(RANGES["3/4 nm"]), flown.ramp_time, 50)
    share = np.median([flown.closure(t) for t in time] / flown.channels(time)["true_airspeed"])
    expected = NO_PITCH.on_speed - DECK.lens.basic_angle * share
    assert one.on_speed_pitch == pytest.approx(expected, abs=0.01 * DEGREE)
    assert one.path_constant == pytest.approx(flown.path_constant(expected), abs=0.01)


def test_on_speed_pitch_that_nothing_supports_takes_the_stated_share_and_says_so():
    flight = replace(LIVELY, jet=NO_PITCH)
    flown = AnalyticPass(flight)
    own, ship = flown.in_a_plane(flown.times(5.0))
    one = one_pass(without(own, "true_airspeed"), ship, flight, wind=None)
    assert one.on_speed_pitch == pytest.approx(NO_PITCH.on_speed - 0.82 * DECK.lens.basic_angle)
    assert "on-speed-pitch-assumed" in codes(one)


def test_on_speed_pitch_at_a_field_without_wind_takes_the_whole_basic_angle():
    place = FIELD.place
    ship = Ship(course=place.heading, speed=0.0, height=place.elevation)
    flight = Flight(site=FIELD, jet=NO_PITCH, ship=ship, slope=3.25 * DEGREE, hook_aim=150.0)
    flown = AnalyticPass(flight)
    own, _ = flown.on_earth(place.latitude, place.longitude, flown.times(5.0))
    one = one_pass(own, None, flight, wind=None)
    assert one.on_speed_pitch == pytest.approx(NO_PITCH.on_speed - FIELD.lens.basic_angle)
    assert one.positions[0].glide_slope_error == pytest.approx(
        flown.reading(flown.crosses(RANGES["3/4 nm"]), one.on_speed_pitch).glide_slope_error,
        abs=0.005 * DEGREE,
    )


# --- what was not recorded

#: what is left out: (channels, wind told, attack within deg, ball within deg, note)
GAPS = {
    "angle of attack": (("angle_of_attack",), True, 0.2, 0.01, "angle-of-attack-inferred"),
    "roll": (("roll",), True, 0.1, 0.03, "attitude-inferred"),
    "heading": (("heading",), True, 0.1, 0.03, "attitude-inferred"),
    "pitch": (("pitch",), True, 0.1, 0.03, "attitude-inferred"),
    "pitch and angle of attack": (("pitch", "angle_of_attack"), True, 1.5, 0.06, "attitude-inferred"),
    "attitude": (("pitch", "roll", "heading"), True, 0.1, 0.04, "attitude-inferred"),
    "attack and airspeed": (
        ("angle_of_attack", "true_airspeed"),
        True,
        0.2,
        0.01,
        "angle-of-attack-inferred",
    ),
    "attack, wind not told": (("angle_of_attack",), False, 0.5, 0.01, "angle-of-attack-inferred"),
    "airspeed and throttle": (("true_airspeed", "throttle"), True, 0.1, 0.01, None),
    "all but place": (
        ("pitch", "roll", "heading", "angle_of_attack", "true_airspeed", "throttle", "hook"),
        False,
        1.5,
        0.06,
        "attitude-inferred",
    ),
}


@pytest.mark.parametrize("name", GAPS)
def test_what_was_not_recorded_is_worked_out_and_said(name):
    left_out, told, attack_within, ball_within, note = GAPS[name]
    flight = replace(LIVELY, weave=Sway(0.5, 12.0), sway=Sway(), roll=Sway())
    flown = AnalyticPass(flight)
    own, ship = flown.in_a_plane(flown.times(10.0))
    one = one_pass(without(own, *left_out), ship, flight, wind=WIND if told else None)
    assert note is None or note in codes(one)
    assert one.outcome == ("bolter" if flown.wire is None else "trap")
    for position, truth in zip(one.positions, truths(flown, one).values(), strict=True):
        assert position.line_up_offset == pytest.approx(truth.line_up_offset, abs=0.1)
        assert position.angle_of_attack == pytest.approx(truth.angle_of_attack, abs=attack_within * DEGREE)
        if position.name != "ramp":
            off = position.glide_slope_error - truth.glide_slope_error
            assert abs(off) < ball_within * DEGREE
            assert abs(off) < 3.0 * position.sigma["glide_slope_error"] + 0.005 * DEGREE
    for quantity in ("pitch", "roll", "heading", "angle_of_attack"):
        origin = one.series.origin[quantity]
        assert origin == ("inferred" if quantity in left_out else "measured")
    if {"pitch", "angle_of_attack"} <= set(left_out):
        assert one.ramp.hook_to_ramp_sigma > 0.05
    assert one.ramp.hook_to_ramp == pytest.approx(
        flown.hook_to_ramp, abs=max(0.05, 3.0 * one.ramp.hook_to_ramp_sigma)
    )


def test_a_wider_sigma_goes_with_what_was_worked_out():
    flown = AnalyticPass(LIVELY)
    own, ship = flown.in_a_plane(flown.times(10.0))
    full = one_pass(own, ship, LIVELY)
    bare = one_pass(without(own, "pitch", "angle_of_attack"), ship, LIVELY)
    assert bare.ramp.hook_to_ramp_sigma > 3.0 * full.ramp.hook_to_ramp_sigma
    assert bare.touchdown.hook_x_sigma > 3.0 * full.touchdown.hook_x_sigma
    for a, b in zip(bare.positions, full.positions, strict=True):
        assert a.sigma["angle_of_attack"] > 3.0 * b.sigma["angle_of_attack"]
        assert a.sigma["glide_slope_error"] > b.sigma["glide_slope_error"]


def test_a_ship_without_pitch_and_roll_is_taken_level_and_that_is_said():
    flight = Flight(ship=Ship(speed=8.0))
    flown = AnalyticPass(flight)
    own, ship = flown.in_a_plane(flown.times(10.0))
    one = one_pass(own, without(ship, "pitch", "roll"), flight)
    assert "ship-level" in codes(one)
    assert one.touchdown.hook_x == pytest.approx(flown.contact.hook_x, abs=0.3)
    assert not one.series.deck_pitch.any() and not one.series.deck_roll.any()


# --- a ship known by course and speed


@pytest.mark.parametrize("course", [0.0, 77.0, 200.0, 355.0])
@pytest.mark.parametrize("when", [0.0, -7200.0])
def test_a_ship_known_by_course_and_speed_is_the_ship_that_was_there(course, when):
    """Her place told at the start, or two hours before along the same rhumb line."""
    flight = Flight(ship=Ship(course=course * DEGREE, speed=9.0))
    flown = AnalyticPass(flight)
    at = (50.0 * DEGREE, -20.0 * DEGREE)
    own, _ = flown.on_earth(*at, flown.times(10.0))
    latitude, longitude = at
    if when:
        latitude, longitude = rhumb_line(*at, course * DEGREE, 9.0 * when)
    told = ShipCourse(latitude, longitude, when, course * DEGREE, 9.0)
    one = one_pass(own, told, flight, wind=None)
    assert (one.outcome, one.wire) == ("trap", flown.wire)
    assert one.touchdown.hook_x == pytest.approx(flown.contact.hook_x, abs=0.3)
    for position, truth in zip(one.positions, truths(flown, one).values(), strict=True):
        assert position.line_up_offset == pytest.approx(truth.line_up_offset, abs=0.1)
        assert position.glide_slope_error == pytest.approx(truth.glide_slope_error, abs=0.01 * DEGREE)


def rhumb_line(latitude, longitude, course, distance, steps: int = 20_000):
    """Small steps of constant course on the ellipsoid."""
    e2, a = 6.69437999014e-3, 6378137.0
    step = distance / steps
    for _ in range(steps):
        w = np.sqrt(1.0 - e2 * np.sin(latitude) ** 2)
        north = step * np.cos(course) * w**3 / (a * (1.0 - e2))
        middle = latitude + 0.5 * north
        east = step * np.sin(course) * np.sqrt(1.0 - e2 * np.sin(middle) ** 2) / (a * np.cos(middle))
        latitude, longitude = latitude + north, longitude + east
    return latitude, longitude


def test_a_ship_site_needs_a_ship_and_a_plane_an_origin():
    flown = AnalyticPass(Flight())
    own, _ = flown.in_a_plane(flown.times(5.0))
    with pytest.raises(InputError, match="no ship"):
        find(own, ship=None, site=DECK, aircraft=JET)
    with pytest.raises(InputError, match="local plane"):
        find(own, ship=ShipCourse(0.9, 0.1, 0.0, 0.0, 9.0), site=DECK, aircraft=JET)
    with pytest.raises(InputError, match="local plane"):
        find(own, ship=None, site=FIELD, aircraft=JET)


def test_recordings_are_not_written_to_and_two_searches_say_the_same():
    """Tracks are read-only, so that a write would raise; nothing is remembered between searches."""
    flown = AnalyticPass(LIVELY)
    own, ship = flown.in_a_plane(flown.times(5.0))
    first, again = one_pass(own, ship, LIVELY), one_pass(own, ship, LIVELY)
    assert first.ramp == again.ramp and first.touchdown == again.touchdown
    assert first.positions == again.positions
