"""A ship that nobody recorded, fitted to rests on her deck and touches of it."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from deckward.errors import InputError
from deckward.foundation import angles
from deckward.foundation.track import Track
from deckward.passes import find
from deckward.passes.fitted_ship import fit_ship, known_to
from support.analytic_pass import DECK, DEGREE, JET, KNOT, AnalyticPass, Flight, Ship

STEADY = Ship(course=152.0 * DEGREE, speed=9.3)


def joined(*tracks: Track) -> Track:
    """One after the other, as one recorder writes them."""
    names = tracks[0].channels
    return Track(
        "aircraft",
        np.concatenate([track.time for track in tracks]),
        {name: np.concatenate([track[name] for track in tracks]) for name in names},
    )


def traps(*aims: float, ship: Ship = STEADY, every: float = 400.0):
    """Traps flown at one ship, each its hook aimed at a deck x; the aircraft's track and hers."""
    flown = [
        AnalyticPass(Flight(ship=ship, hook_aim=aim, start=every * k, after=12.0))
        for k, aim in enumerate(aims)
    ]
    pairs = [one.in_a_plane() for one in flown]
    return joined(*[own for own, _ in pairs]), joined(*[ship for _, ship in pairs])


def off(fitted, ship: Track) -> tuple[float, float]:
    """How far along and across the landing area the fitted ship lies from the true one."""
    when = fitted.touches[0].time
    north, east = (
        np.interp(when, fitted.track.time, fitted.track[name]) - np.interp(when, ship.time, ship[name])
        for name in ("north", "east")
    )
    area = ship["heading"][0] - DECK.angle
    return north * np.cos(area) + east * np.sin(area), east * np.cos(area) - north * np.sin(area)


def test_several_traps_give_her_way_and_her_place():
    own, ship = traps(58.0, 70.0, 82.0, 66.0)
    fitted = fit_ship((own,), DECK, JET)
    assert (len(fitted.touches), len(fitted.rests)) == (4, 4)
    assert fitted.speed == pytest.approx(STEADY.speed, abs=3.0 * fitted.speed_sigma)
    assert float(angles.difference(fitted.course, STEADY.course)) == pytest.approx(
        0.0, abs=3.0 * fitted.course_sigma
    )
    assert fitted.speed_sigma < 0.1 * KNOT and fitted.course_sigma < 0.3 * DEGREE
    along, across = off(fitted, ship)
    assert along == pytest.approx(0.0, abs=2.5 * fitted.along) and fitted.along < 10.0
    assert across == pytest.approx(0.0, abs=2.5 * fitted.aside)
    # the recorded point of the test deck stands at the sea, her deck some 20 m up
    assert fitted.track["up"][0] == pytest.approx(0.0, abs=3.0 * fitted.height_sigma)


def test_one_trap_gives_her_way_and_says_how_little_it_knows_of_the_rest():
    own, _ = traps(70.0)
    fitted = fit_ship((own,), DECK, JET)
    assert fitted.speed == pytest.approx(STEADY.speed, abs=2.0 * fitted.speed_sigma)
    assert fitted.along > 10.0 and fitted.residual is None
    assert "One touch alone" in fitted.note().text
    found = find(own, ship=fitted.track, site=known_to(fitted, DECK), aircraft=JET)
    (one,) = found.passes
    assert one.outcome == "trap"
    assert one.touchdown.hook_x_sigma > 10.0
    assert max(one.wire_odds.values()) < 0.9


def turned(*courses: float, every: float = 400.0):
    """A trap on each of these courses, the ship always as far from one point as her way took her."""
    flown = [
        AnalyticPass(Flight(ship=replace(STEADY, course=course * DEGREE), start=every * k, after=14.0))
        for k, course in enumerate(courses, start=1)
    ]
    pairs = [one.in_a_plane() for one in flown]
    return joined(*[own for own, _ in pairs]), [ship for _, ship in pairs]


def test_a_ship_that_turned_between_passes_is_fitted_leg_by_leg_and_says_so():
    own, ships = turned(152.0, 152.0, 190.0)
    fitted = fit_ship((own,), DECK, JET)
    assert [len(leg.way.touches) for leg in fitted.legs] == [2, 1]
    for leg, course in zip(fitted.legs, (152.0, 190.0), strict=True):
        gone = np.arctan2(leg.way.velocity[1], leg.way.velocity[0])
        assert np.degrees(angles.difference(gone, course * DEGREE)) == pytest.approx(0.0, abs=1.5)
    for touch, ship in zip(fitted.touches, ships, strict=True):
        off = [
            np.interp(touch.time, fitted.track.time, fitted.track[name])
            - np.interp(touch.time, ship.time, ship[name])
            for name in ("north", "east")
        ]
        assert np.hypot(*off) < 3.0 * np.hypot(fitted.along, fitted.aside)
    assert "She turned" in fitted.note().text and "190 deg" in fitted.note().text
    found = find(own, ship=fitted.track, site=known_to(fitted, DECK), aircraft=JET)
    assert [one.outcome for one in found.passes] == ["trap"] * 3
    assert all(abs(one.positions[-1].line_up_offset) < 3.0 * fitted.aside for one in found.passes)


@pytest.mark.parametrize("turn", [-0.3, 0.3])
def test_a_ship_in_a_turn_is_fitted_as_one(turn):
    turning = replace(STEADY, turn=turn * DEGREE)
    own, ship = AnalyticPass(Flight(ship=turning, after=14.0)).in_a_plane()
    fitted = fit_ship((own,), DECK, JET)
    (leg,) = fitted.legs
    assert np.degrees(leg.turn) == pytest.approx(turn, abs=3.0 * np.degrees(leg.turn_sigma))
    assert f"0.30 deg/s to {'port' if turn < 0.0 else 'starboard'}" in fitted.note().text
    for before in (0.0, 20.0):
        when = fitted.touches[0].time - before
        heading, true = (
            np.interp(when, one.time, angles.unwrap(one["heading"])) for one in (fitted.track, ship)
        )
        off = float(angles.difference(heading, true))
        assert off == pytest.approx(0.0, abs=2.0 * fitted.heading_sigma)


def test_a_short_rest_in_a_turn_is_a_warning():
    turning = replace(STEADY, turn=0.17 * DEGREE)
    own, _ = AnalyticPass(Flight(ship=turning, after=6.3)).in_a_plane()
    fitted = fit_ship((own,), DECK, JET)
    assert not fitted.legs and "if she was in a turn, the fit does not hold" in fitted.note().text


def test_decks_of_two_ships_are_no_ship():
    own, _ = turned(90.0, 270.0, every=1500.0)
    east = own.with_channels(east=own["east"] + np.where(own.time > 2200.0, 100e3, 0.0))
    with pytest.raises(InputError, match="two ships"):
        fit_ship((east,), DECK, JET)


def test_what_no_straight_way_explains_does_not_hold():
    own, _ = traps(58.0, 70.0, 82.0, 66.0)
    steady = fit_ship((own,), DECK, JET)
    assert steady.holds and steady.strays == 0
    strained = replace(steady, strain=3.4)
    assert "the fit does not hold" in strained.note().text and "does not hold" not in steady.note().text
    assert "2 other ends of approaches lie off" in replace(steady, strays=2).note().text


def test_how_the_deck_tilts_is_told_as_a_sigma():
    own, _ = traps(58.0, 70.0)
    fitted = fit_ship((own,), DECK, JET)
    assert "pitch and roll are taken as none" in fitted.note().text
    (one, _) = find(own, ship=fitted.track, site=known_to(fitted, DECK), aircraft=JET).passes
    # 0.3 deg at the ramp, 150 m from the middle, is 0.8 m
    assert one.ramp.hook_to_ramp_sigma > 0.7


def test_rests_ashore_and_taxiing_are_no_part_of_her():
    own, _ = traps(58.0, 70.0, 82.0)
    ashore = 60
    time = np.arange(ashore) * 0.5 - 200.0
    parked = Track(
        "aircraft",
        time,
        {
            name: np.full(ashore, 5000.0) if name in ("north", "east") else np.full(ashore, values[0])
            for name, values in own.channels.items()
        },
    )
    fitted = fit_ship((joined(parked, own),), DECK, JET)
    assert fitted.speed == pytest.approx(STEADY.speed, abs=3.0 * fitted.speed_sigma)
    assert len(fitted.rests) == 3


def test_a_ship_at_anchor_is_fitted_too():
    own, _ = traps(70.0, ship=replace(STEADY, speed=0.0))
    fitted = fit_ship((own,), DECK, JET)
    assert fitted.speed < 0.3
    heading = float(angles.difference(fitted.heading, STEADY.course))
    assert heading == pytest.approx(0.0, abs=2.5 * fitted.heading_sigma)


@pytest.mark.parametrize(
    "flight",
    [
        Flight(ship=STEADY, wave_off_before=6.0),
        Flight(ship=STEADY, hook_aim=96.0),
        Flight(ship=STEADY, after=2.0),
    ],
    ids=["a wave-off", "a bolter", "a trap cut off before the rest"],
)
def test_what_says_nothing_of_a_ship_is_refused(flight):
    own, _ = AnalyticPass(flight).in_a_plane()
    with pytest.raises(InputError, match="no ship can be fitted"):
        fit_ship((own,), DECK, JET)
