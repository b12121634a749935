"""Every outcome a pass can have, flown by formulas: what happened, which wire, with what flags."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from deckward.passes import find
from deckward.passes.model import Pass
from support.analytic_pass import DECK, DEGREE, FIELD, JET, ROUGH, AnalyticPass, Flight, Ship, Sway

#: a still ship, all of it told
STILL = Ship()
WIRES = DECK.wires.positions


def debrief(flight: Flight, *, rate: float = 10.0, until: float | None = None, since: float | None = None):
    """Measure the one pass of a flight; None where none is found."""
    flown = AnalyticPass(flight)
    if flight.site.is_field:
        own, ship = flown.on_earth(flight.site.place.latitude, flight.site.place.longitude, flown.times(rate))
        ship = None
    else:
        own, ship = flown.in_a_plane(flown.times(rate))
    # the vane of these flights does not see the deck: after contact it would contradict the height
    own = (
        own.with_channels(
            angle_of_attack=np.where(own.time < flown.contact.time, own["angle_of_attack"], np.nan)
        )
        if until and flown.contact
        else own
    )
    own = own.between(-1e9 if since is None else since, 1e9 if until is None else until)
    found = find(own, ship=ship, site=flight.site, aircraft=flight.jet)
    assert len(found.passes) <= 1
    return flown, found.passes[0] if found.passes else None


def at_the_field(**told) -> Flight:
    """A flight at the field: the "ship" stands still at the field's place."""
    place = FIELD.place
    stands = Ship(course=place.heading, speed=0.0, height=place.elevation)
    return replace(Flight(site=FIELD, ship=stands, slope=3.25 * DEGREE, hook_aim=150.0), **told)


TABLE = {
    # told: outcome, wire, in the air, flags
    "wire 1": (Flight(hook_aim=46.0), "trap", 1, False, ()),
    "wire 1, far short": (Flight(hook_aim=12.0, on_deck=2.0), "trap", 1, False, ()),
    "wire 2": (Flight(hook_aim=58.0), "trap", 2, False, ()),
    "wire 3": (Flight(hook_aim=70.0), "trap", 3, False, ()),
    "wire 4": (Flight(hook_aim=82.0), "trap", 4, False, ()),
    "wire 2 in the air": (Flight(hook_aim=WIRES[1] + 0.9), "trap", 2, True, ()),
    "wire 4 in the air": (Flight(hook_aim=WIRES[3] + 0.9), "trap", 4, True, ()),
    "a wire on a moving deck": (
        Flight(ship=replace(ROUGH, pitch=Sway(0.6 * DEGREE, 8.3, -2.0)), hook_aim=75.0),
        "trap",
        None,
        None,
        (),
    ),
    "long": (Flight(hook_aim=96.0), "bolter", None, False, ()),
    "a wire there, none held": (Flight(hook_aim=70.0, wire=None), "bolter", None, False, ("hook skip",)),
    "two wires skipped, the last held": (Flight(hook_aim=58.0, wire=4), "trap", 4, False, ("hook skip",)),
    "hook up": (Flight(hook_down=False), "touch-and-go", None, False, ()),
    "at a field, hook down": (at_the_field(), "touch-and-go", None, False, ()),
    "at a field, hook up": (at_the_field(hook_down=False), "touch-and-go", None, False, ()),
    "full stop at a field": (at_the_field(brakes=3.0, after=25.0), "landing", None, False, ()),
    "full stop at a field, hook up": (
        at_the_field(brakes=3.0, after=25.0, hook_down=False),
        "landing",
        None,
        False,
        (),
    ),
    "waved off far out": (Flight(wave_off_before=9.0), "wave-off", None, False, ()),
    "waved off close in": (Flight(wave_off_before=3.5), "wave-off", None, False, ()),
    "waved off too late": (
        Flight(wave_off_before=1.3, recovery=6.0, hook_aim=96.0),
        "bolter",
        None,
        False,
        ("touched after wave-off",),
    ),
    "waved off too late, the hook alone touches": (
        Flight(wave_off_before=0.6, recovery=3.0, hook_aim=96.0),
        "bolter",
        None,
        False,
        ("touched after wave-off",),
    ),
    "into the ramp": (Flight(hook_aim=-5.0), "ramp strike", 1, False, ()),
    "right of the landing area": (Flight(off_centre=17.0, wire=None), "outside", None, False, ()),
    "left of the landing area": (Flight(off_centre=-17.0, wire=None), "outside", None, False, ()),
    "past the landing area": (Flight(hook_aim=DECK.length + 20.0, wire=None), "outside", None, False, ()),
}


@pytest.mark.parametrize("rate", [5.0, 10.0, 20.0])
@pytest.mark.parametrize("grows", [0.1, 0.25, 0.5])
@pytest.mark.parametrize("passed_over", [0, 1])
def test_the_wire_is_the_one_whose_pull_begins(passed_over, grows, rate):
    flight = Flight(hook_aim=58.0, wire=2 + passed_over, pull_grows=grows, after=11.0)
    flown, one = debrief(flight, rate=rate)
    assert flown.geometric_wire == 2
    assert (one.outcome, one.wire) == ("trap", 2 + passed_over)
    assert one.flags == (("hook skip",) if passed_over else ())


@pytest.mark.parametrize("name", TABLE)
def test_what_happened_is_told_as_it_happened(name):
    flight, outcome, wire, in_the_air, flags = TABLE[name]
    flown, one = debrief(flight, rate=10.0)
    assert one is not None
    assert (one.outcome, one.flags) == (outcome, flags)
    wire = flown.wire if outcome in ("trap", "ramp strike") else wire
    assert one.wire == wire
    if in_the_air is not None:
        assert one.wire_in_the_air is in_the_air
    if wire is not None:
        assert one.wire_odds[str(wire)] > (0.5 if flags else 0.9)
        assert sum(one.wire_odds.values()) == pytest.approx(1.0)
    if outcome == "wave-off":
        assert one.wire is None and not one.wire_in_the_air
    if "touched after wave-off" not in flags:
        assert_contact(flown, one)


def assert_contact(flown: AnalyticPass, one: Pass) -> None:
    """First contact and ramp against the formulas, within what clean recordings must reach."""
    if one.outcome not in ("outside", "ramp strike"):
        assert (one.touchdown is None) == (flown.contact is None)
    if flown.ramp_time is not None and one.outcome != "wave-off":
        assert one.ramp.time == pytest.approx(flown.ramp_time, abs=0.005)
        assert one.ramp.hook_to_ramp == pytest.approx(flown.hook_to_ramp, abs=0.05)
    if one.touchdown is None or one.outcome == "ramp strike":
        return
    touch, truth = one.touchdown, flown.contact
    assert touch.kind == truth.kind
    assert touch.time == pytest.approx(truth.time, abs=0.01)
    assert touch.sink == pytest.approx(truth.sink, abs=0.15)
    assert touch.closure == pytest.approx(truth.closure, abs=0.1)
    assert touch.pitch == pytest.approx(truth.pitch, abs=0.1 * DEGREE)
    if truth.hook_x is None:
        assert touch.hook_x is touch.hook_x_sigma is touch.off_centre is None
    else:
        assert touch.hook_x == pytest.approx(truth.hook_x, abs=0.3)
        assert touch.off_centre == pytest.approx(truth.off_centre, abs=0.1)


@pytest.mark.parametrize(
    ("aim", "rate"),
    [
        (40.0, 5.0),
        (49.0, 5.0),
        (54.5, 30.0),
        (62.0, 5.0),
        (66.5, 30.0),
        (78.5, 5.0),
        (90.5, 30.0),
        (100.0, 5.0),
    ],
)
def test_the_wire_is_right_two_metres_from_any_wire(aim, rate):
    """Hooks that meet the deck 2 m or more from a wire and from where one could be met in the air."""
    flown, one = debrief(Flight(hook_aim=aim), rate=rate)
    assert (one.outcome, one.wire) == ("bolter" if aim > 90.0 else "trap", flown.wire)
    assert not set(one.flags) - {"touched after wave-off"}


@pytest.mark.parametrize(("grows", "nose"), [(0.05, 0.25), (0.25, 0.15), (0.25, 0.6), (0.5, 0.25)])
def test_how_a_wire_pulls_and_the_nose_falls_does_not_change_the_wire(grows, nose):
    _, one = debrief(Flight(hook_aim=70.0, pull_grows=grows, nose_falls=nose))
    assert (one.outcome, one.wire, one.flags) == ("trap", 3, ())
    assert one.wire_odds["3"] > 0.95


@pytest.mark.parametrize(("before", "rate"), [(2.0, 10.0), (3.0, 5.0), (3.0, 20.0), (6.0, 10.0), (12.0, 5.0)])
def test_a_wave_off_is_measured_through_its_bend(before, rate):
    """Smooth pull up off a straight path, no noise: height over the ramp, start, lowest hook."""
    flown, one = debrief(Flight(ship=ROUGH, wave_off_before=before), rate=rate)
    assert one.outcome == "wave-off"
    assert one.wave_off.start == pytest.approx(flown.wave_off_time, abs=0.25)
    truth = -float(flown.approach(np.array([one.wave_off.start]))[0, 0])
    assert one.wave_off.start_range == pytest.approx(truth, abs=1.0)
    assert one.ramp.hook_to_ramp == pytest.approx(flown.hook_to_ramp, abs=0.05 if rate > 5 else 0.10)
    over = flown.times(200.0)
    hook = flown.deck(over, JET.hook)
    lowest = hook[(hook[:, 0] > 0.0) & (hook[:, 0] < DECK.length) & (over > flown.wave_off_time), 2].min()
    # told at the recording's own samples: a step of climb apart
    assert lowest - 0.1 < one.wave_off.lowest_hook_above_deck < lowest + 0.1 + flown.flight.climb / rate


@pytest.mark.parametrize(
    ("before", "recovery", "rate"), [(1.3, 6.0, 10.0), (0.9, 4.0, 20.0), (0.6, 3.0, 30.0)]
)
def test_a_path_that_bends_in_the_last_second_is_followed_to_the_deck(before, recovery, rate):
    """A wave-off too late, after a straight path, at 0.3 to 0.6 g: within 0.3 m or three sigma."""
    flown, one = debrief(Flight(wave_off_before=before, recovery=recovery, hook_aim=96.0), rate=rate)
    off = abs(one.touchdown.hook_x - flown.contact.hook_x)
    assert off < max(0.3, 3.0 * one.touchdown.hook_x_sigma)
    assert one.touchdown.hook_x_sigma < 3.0


def test_positions_after_a_wave_off_began_say_so():
    _, one = debrief(Flight(wave_off_before=12.0))
    after = {position.name: position.after_wave_off for position in one.positions}
    assert after["3/4 nm"] is False and after["1/2 nm"] is False
    assert after["1/4 nm"] is True


def test_a_wave_off_without_a_power_channel_starts_where_energy_rises():
    flown = AnalyticPass(Flight(wave_off_before=8.0, recovery=2.0))
    own, ship = flown.in_a_plane()
    own = replace(own, channels={k: v for k, v in own.channels.items() if k != "throttle"})
    (one,) = find(own, ship=ship, site=DECK, aircraft=JET).passes
    assert one.outcome == "wave-off"
    assert one.wave_off.start == pytest.approx(flown.wave_off_time, abs=0.6)


@pytest.mark.parametrize("seconds", [-8.0, -2.0, -0.5])
def test_a_recording_that_ends_before_the_ramp_says_nothing_of_the_outcome(seconds):
    flown = AnalyticPass(Flight())
    _, one = debrief(Flight(), until=flown.ramp_time + seconds)
    assert one.outcome is None and one.touchdown is None and one.ramp is None
    assert one.wire is None and one.wire_odds == {}
    assert "ends-early" in [note.code for note in one.notes]


def test_a_recording_that_ends_at_touchdown_tells_touchdown_and_odds_but_no_outcome():
    flown = AnalyticPass(Flight(hook_aim=70.0))
    _, one = debrief(Flight(hook_aim=70.0), until=flown.contact.time + 0.35)
    assert one.outcome is None and one.wire is None
    assert one.touchdown.hook_x == pytest.approx(flown.contact.hook_x, abs=0.3)
    assert one.wire_odds["3"] > 0.9
    assert "ends-at-touchdown" in [note.code for note in one.notes]


def test_a_recording_that_begins_in_the_groove_is_measured_from_there():
    flown = AnalyticPass(Flight(hook_aim=70.0))
    _, one = debrief(Flight(hook_aim=70.0), since=flown.crosses(700.0))
    assert [position.name for position in one.positions] == ["1/4 nm", "ramp"]
    assert (one.outcome, one.wire) == ("trap", 3)
    assert one.ramp.hook_to_ramp == pytest.approx(flown.hook_to_ramp, abs=0.05)
    assert one.groove.start == pytest.approx(one.start, abs=0.11)


def test_a_hook_that_nobody_tells_of_counts_as_down():
    flown = AnalyticPass(Flight(hook_aim=96.0))
    own, ship = flown.in_a_plane()
    own = replace(own, channels={k: v for k, v in own.channels.items() if k != "hook"})
    (one,) = find(own, ship=ship, site=DECK, aircraft=JET).passes
    assert one.outcome == "bolter" and one.touchdown.kind == "deck"
