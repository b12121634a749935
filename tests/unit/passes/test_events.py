"""Small readers of events: crossings, the groove, the last rise of power, the onset of contact."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from deckward.passes import contact, events
from support.analytic_pass import DECK, DEGREE

TIME = np.arange(0.0, 40.0, 0.1)


def test_the_last_falling_crossing_counts_and_lies_between_samples():
    values = np.array([5.0, 3.0, 1.0, 3.0, 2.0, 0.0])
    time = np.array([0.0, 1.0, 2.0, 3.0, 4.0, 6.0])
    assert events.last_falling(time, values, 1.5) == pytest.approx(4.5)
    assert events.last_falling(time, values, 4.0) == pytest.approx(0.5)
    assert events.last_falling(time, values, 9.0) is None
    assert events.last_falling(time, -values, -9.0) is None


def test_a_crossing_is_found_over_missing_samples():
    values = np.array([4.0, np.nan, 2.0, np.nan, 0.0])
    assert events.last_falling(np.arange(5.0), values, 1.0) == pytest.approx(3.0)


def groove(*, roll=0.0, line_up=0.0, end=30.0, start_range=2000.0):
    range_ = start_range - 60.0 * TIME
    one = np.ones_like(TIME)
    return events.groove(TIME, range_, roll * one * DEGREE, line_up * one * DEGREE, end)


def test_a_groove_begins_inside_1_2_miles_and_ends_where_it_is_told():
    """Bounds: 1.2 nm, 5 deg of bank, 3 deg of line-up, held for 1 s (common practice, no source)."""
    found = groove(start_range=1.2 * 1852.0 + 300.0)
    assert found.start == pytest.approx(5.0, abs=0.1)
    assert found.seconds == pytest.approx(30.0 - found.start)


@pytest.mark.parametrize(("roll", "line_up"), [(5.1, 0.0), (-5.1, 0.0), (0.0, 3.1), (0.0, -3.1)])
def test_banked_or_off_the_line_there_is_no_groove(roll, line_up):
    assert groove(roll=roll, line_up=line_up) is None
    assert groove(roll=np.sign(roll) * 4.9, line_up=np.sign(line_up) * 2.9) is not None


def test_a_groove_must_hold_for_a_second():
    """Wings level for 0.8 s at 10 s, then from 14 s on."""
    level = ((TIME >= 9.95) & (TIME < 10.75)) | (TIME >= 13.95)
    roll = np.where(level, 0.0, 20.0 * DEGREE)
    found = events.groove(TIME, 2000.0 - 50.0 * TIME, roll, np.zeros_like(TIME), 35.0)
    assert found.start == pytest.approx(14.0, abs=0.11)


def ramp(start: float, seconds: float, low: float, high: float) -> np.ndarray:
    return low + (high - low) * np.clip((TIME - start) / seconds, 0.0, 1.0)


@pytest.mark.parametrize("seconds", [0.2, 0.5, 1.0])
def test_a_rise_of_power_begins_where_the_lever_moved(seconds):
    found = events.last_rise(TIME, ramp(20.0, seconds, 0.55, 1.0), least=0.12, seconds=1.0)
    assert found == pytest.approx(20.0, abs=0.12)


def test_the_last_of_two_rises_counts():
    power = ramp(10.0, 0.5, 0.5, 0.75) - ramp(15.0, 0.5, 0.0, 0.25) + ramp(30.0, 0.5, 0.0, 0.5)
    assert events.last_rise(TIME, power, least=0.12, seconds=1.0) == pytest.approx(30.0, abs=0.12)


def test_a_burst_that_is_taken_back_at_once_is_no_sustained_rise():
    burst = np.full_like(TIME, 0.55) + 0.3 * ((TIME > 20.0) & (TIME < 20.6))
    assert events.last_rise(TIME, burst, least=0.12, seconds=1.0) is None


def test_wobbling_power_is_no_rise():
    wobble = 0.55 + 0.05 * np.sin(2.0 * TIME)
    assert events.last_rise(TIME, wobble, least=0.12, seconds=1.0) is None


def test_first_below_is_the_first_time_where_it_counts():
    time, height = np.arange(5.0), np.array([2.0, -1.0, 3.0, 1.0, -1.0])
    everywhere = np.full(5, True)
    assert contact.first_below(time, height, everywhere) == pytest.approx(2.0 / 3.0)
    later = np.array([False, False, True, True, True])
    assert contact.first_below(time, height, later) == pytest.approx(3.5)
    assert contact.first_below(time, height + 9.0, everywhere) is None
    assert contact.first_below(time, height - 9.0, everywhere) == 0.0


def test_wires_that_a_field_does_not_have_hold_nobody():
    bare = replace(DECK, wires=None)
    assert contact.geometric_wire(bare, 10.0) is None
    assert contact.wire_odds(bare, 10.0, 1.0) == {"none": 1.0}


def test_wires_whose_places_are_uncertain_share_the_odds_more_evenly():
    unsure = replace(DECK, sigma=replace(DECK.sigma, wires=8.0))
    assert contact.wire_odds(DECK, 70.0, 1.0)["3"] > 0.99
    assert 0.3 < contact.wire_odds(unsure, 70.0, 1.0)["3"] < 0.7
    assert sum(contact.wire_odds(unsure, 70.0, 1.0).values()) == pytest.approx(1.0)


def pulled(*places: float, spread: float = 1.0) -> contact.RollOut:
    """A stop whose pull seems to begin at a deck x, or at none that can be read."""
    began = np.arange(0.0, 150.0, 0.5) if places else np.empty(0)
    chance = np.exp(-0.5 * ((began - (places or (0.0,))[0]) / spread) ** 2)
    return contact.RollOut(6.0, 55.0, 0.0, 18.0, began, chance)


@pytest.mark.parametrize(
    ("low", "sigma", "began", "wire", "flags"),
    [
        (60.0, 0.1, 64.4, 2, ()),
        (60.0, 0.1, 76.0, 3, ("hook skip",)),
        (60.0, 0.1, 88.0, 4, ("hook skip",)),
        (63.0, 3.0, 76.0, 3, ()),
        (60.0, 0.1, 52.0, 1, ("geometry and deceleration disagree",)),
        (95.0, 0.1, 88.5, 4, ("geometry and deceleration disagree",)),
        (60.0, 0.1, None, 2, ()),
    ],
)
def test_a_wire_is_settled_by_geometry_and_pull(low, sigma, began, wire, flags):
    roll = pulled() if began is None else pulled(began)
    told = contact.stopped_by(DECK, low, sigma, roll)
    assert (told.number, told.flags) == (wire, flags)
    assert sum(told.odds.values()) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("short_of_the_last", "sigma", "skipped"),
    [(10.0, 1.0, True), (3.0, 1.0, True), (0.5, 1.0, False), (3.0, 6.0, False), (-0.5, 0.1, False)],
)
def test_a_hook_that_none_held_skipped_only_where_a_wire_was_there_beyond_doubt(
    short_of_the_last, sigma, skipped
):
    # the contract's flag: a wire was there to take and none held; what counts as doubt is common practice
    assert contact.passed_over(DECK, DECK.wires.positions[-1] - short_of_the_last, sigma) is skipped
    assert not contact.passed_over(replace(DECK, wires=None), 10.0, 1.0)


def test_a_pull_that_is_read_badly_leaves_a_skip_open():
    sure = contact.stopped_by(DECK, 60.0, 0.1, pulled(76.0))
    unsure = contact.stopped_by(DECK, 60.0, 0.1, pulled(76.0, spread=5.0))
    assert sure.odds["3"] > 0.95
    assert 0.1 < unsure.odds["3"] < 0.9


def test_where_the_wires_are_unknown_a_pull_tells_little():
    unsure = replace(DECK, sigma=replace(DECK.sigma, wires=8.0))
    told = contact.stopped_by(unsure, 70.0, 1.0, pulled(76.0))
    assert max(told.odds.values()) < 0.95
    # touched six metres before the pull: whichever it was, all the wires stand there
    assert told.odds["3"] > 0.5
