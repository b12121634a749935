"""The offset between two clocks: found on a moving deck, and said to be unknown elsewhere."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from deckward.foundation.track import Track
from deckward.passes import find
from support.analytic_pass import DECK, DEGREE, JET, ROUGH, AnalyticPass, Flight, Ship, Sway

#: a deck that moves in every way, and the jet on it for some seconds
MOVING = replace(ROUGH, speed=9.0, pitch=Sway(0.6 * DEGREE, 8.3, -2.0))


def recorded(flight: Flight, *, rate: float = 20.0, ship_rate: float = 10.0):
    flown = AnalyticPass(flight)
    time = flown.times(rate)
    ship_time = np.arange(time[0] - 6.0, time[-1] + 6.0, 1.0 / ship_rate)
    return flown, *flown.in_a_plane(time, ship_time)


def late(track: Track, seconds: float) -> Track:
    """The track stamped by a clock that runs this far ahead."""
    return replace(track, time=track.time + seconds)


def code(found) -> set[str]:
    return {note.code for note in found.notes}


@pytest.mark.parametrize("ahead", [-2.0, -0.4, 0.15, 1.3, 2.0])
def test_the_offset_is_found_on_a_moving_deck(ahead):
    flown, own, ship = recorded(Flight(ship=MOVING, hook_aim=72.0))
    found = find(own, ship=late(ship, ahead), site=DECK, aircraft=JET, two_clocks=True)
    (note,) = [note for note in found.notes if note.code == "ship-clock"]
    assert f"{-ahead:+.2f}" in note.text or f"{-ahead + 0.01:+.2f}" in note.text
    (one,) = found.passes
    # 0.05 s is half a metre of the ship's way
    assert one.touchdown.hook_x == pytest.approx(flown.contact.hook_x, abs=0.5)
    assert one.wire == flown.wire


def test_noise_widens_what_is_told_and_the_offset_stays_within_it():
    from deckward.passes import clocks
    from deckward.passes.search import _drafts

    rng = np.random.default_rng(5)
    _, own, ship = recorded(Flight(ship=MOVING, hook_aim=72.0))
    noisy = own.with_channels(
        up=own["up"] + rng.normal(0.0, 0.3, len(own)),
        north=own["north"] + rng.normal(0.0, 0.3, len(own)),
        pitch=own["pitch"] + rng.normal(0.0, 0.1 * DEGREE, len(own)),
        roll=own["roll"] + rng.normal(0.0, 0.1 * DEGREE, len(own)),
    )
    told = {}
    for name, track in (("clean", own), ("noisy", noisy)):
        moved = late(ship, 0.6)
        drafts, _ = _drafts(track, moved, DECK, JET, None)
        told[name] = clocks.estimate_offset(drafts, track, moved)
        assert told[name].offset == pytest.approx(-0.6, abs=2.5 * told[name].sigma)
    assert told["noisy"].sigma > told["clean"].sigma


def test_clocks_that_agree_are_left_alone_and_said_to_agree():
    _, own, ship = recorded(Flight(ship=MOVING, hook_aim=72.0))
    found = find(own, ship=ship, site=DECK, aircraft=JET, two_clocks=True)
    (note,) = [note for note in found.notes if note.code == "ship-clock"]
    assert "agree" in note.text
    alone = find(own, ship=ship, site=DECK, aircraft=JET)
    assert found.passes[0].touchdown == alone.passes[0].touchdown


@pytest.mark.parametrize("flight", [Flight(ship=Ship(speed=9.0)), Flight(wave_off_before=6.0)])
def test_where_nothing_ties_the_clocks_it_is_said_and_nothing_is_moved(flight):
    _, own, ship = recorded(flight)
    found = find(own, ship=ship, site=DECK, aircraft=JET, two_clocks=True)
    (note,) = [note for note in found.notes if note.code == "ship-clock-unknown"]
    assert "--ship-time-offset-s" in note.text
    alone = find(own, ship=ship, site=DECK, aircraft=JET)
    assert found.passes[0].ramp == alone.passes[0].ramp


@pytest.mark.parametrize("options", [{}, {"two_clocks": True, "ship_time_offset": -0.6}])
def test_one_sender_and_an_offset_that_was_given_need_no_estimate(options):
    _, own, ship = recorded(Flight(ship=MOVING, hook_aim=72.0))
    found = find(own, ship=late(ship, 0.6), site=DECK, aircraft=JET, **options)
    assert not code(found) & {"ship-clock", "ship-clock-unknown"}


def test_attitudes_written_late_do_not_pass_for_a_clock():
    """A fifth of a second of lag in the aircraft's attitude alone; the clocks agree."""
    _, own, ship = recorded(Flight(ship=MOVING, hook_aim=72.0))
    lagging = {
        name: np.interp(own.time - 0.2, own.time, np.unwrap(own[name]))
        for name in ("pitch", "roll", "heading")
    }
    found = find(own.with_channels(**lagging), ship=ship, site=DECK, aircraft=JET, two_clocks=True)
    assert not any("were added" in note.text for note in found.notes)


def seen(offset: float, sigma: float):
    """What is made of evidence that alone would put the offset there, normally spread."""
    from deckward.passes import clocks

    score = -0.5 * ((clocks._OFFSETS - offset) / sigma) ** 2
    return clocks._weigh(score, ("the deck's motion under the aircraft",))


@pytest.mark.parametrize(
    ("offset", "sigma", "said"),
    [(0.0, 0.02, "agree"), (0.03, 0.03, "agree"), (0.2, 0.12, "may need +0.20 s (sigma 0.12 s)"),
     (0.0, 0.12, "may need +0.00 s (sigma 0.12 s)"), (0.0, 0.6, "nothing in them ties"),
     (1.0, 0.05, "+1.00 s were added")],
)  # fmt: skip
def test_clocks_agree_only_where_what_is_seen_leaves_little_between_them(offset, sigma, said):
    """That two sources mostly share a clock chooses the offset, and makes nothing surer."""
    from deckward.passes import clocks

    found = seen(offset, sigma)
    (note,) = clocks.notes(found, 9.0)
    assert said in note.text
    if not found.differ:
        # offsets of unlike clocks are taken to spread by 1.2 s
        narrowed = 1.0 / np.hypot(1.0 / sigma, 1.0 / 1.2)
        assert found.sigma == pytest.approx(np.hypot(offset, narrowed), rel=0.05, abs=0.005)
        assert ("--ship-time-offset-s" in note.text) == (said != "agree")


def test_a_clock_that_is_only_hinted_at_widens_what_hangs_on_it(monkeypatch):
    """By the ship's way in the doubt: 0.23 s of it at 9 m/s."""
    from deckward.passes import clocks

    _, own, ship = recorded(Flight(ship=MOVING, hook_aim=72.0))
    alone = find(own, ship=ship, site=DECK, aircraft=JET).passes[0]
    monkeypatch.setattr(clocks, "estimate_offset", lambda *_, **__: seen(0.2, 0.12))
    found = find(own, ship=ship, site=DECK, aircraft=JET, two_clocks=True)
    assert code(found) >= {"ship-clock-unknown"}
    (one,) = found.passes
    assert one.touchdown.hook_x == alone.touchdown.hook_x
    wider = np.sqrt(one.touchdown.hook_x_sigma**2 - alone.touchdown.hook_x_sigma**2)
    assert wider == pytest.approx(np.hypot(0.2, 0.12) * MOVING.speed, rel=0.15)
