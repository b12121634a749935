"""Cards that rest on one another: the launch's wind, the pattern's times, and what is left out."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from deckward.errors import InputError
from deckward.foundation.units import FOOT, KNOT, NAUTICAL_MILE
from deckward.planning import bundled, load, says_flying
from deckward.planning.plan import CARDS, make

EVENING = load("lantern-evening")


@pytest.fixture(scope="module")
def evening():
    return make(EVENING)


def test_every_bundled_scenario_has_every_card():
    for name in bundled():
        made = make(load(name))
        assert all(getattr(made, card) is not None for card in CARDS)
        assert made.left_out == ()


def test_a_card_that_the_facts_do_not_support_is_left_out_unless_it_is_named():
    bare = load(typed={"wind.from_deg": 240, "wind.speed_kt": 18})
    made = make(bare)
    assert made.wind is not None
    assert {one.card for one in made.left_out} == set(CARDS) - {"wind"}
    with pytest.raises(InputError, match="mass_lb"):
        make(bare, ["launch"])


def test_nothing_at_all_asks_for_the_wind():
    with pytest.raises(InputError, match=r"wind\.from_deg"):
        make(load(typed={}))


def test_all_that_speak_of_the_landing_speak_of_one_mass(evening):
    masses = {round(one.mass, 6) for one in (evening.marshal, evening.pattern)}
    assert masses == {round(evening.approach.planned.jet.mass, 6)}


def test_the_launch_steers_for_the_wind_it_needs(evening):
    course, shot = evening.launch.course, evening.launch.shot
    assert course == evening.wind.launch
    assert course.answer.wanted.least == pytest.approx(shot.wind_needed)
    assert evening.launch.end_airspeed >= shot.wanted
    # a catapult 20 kt weaker asks for 20 kt more
    weak = EVENING.launch.catapult
    weak = replace(weak, end_speeds=tuple(speed - 20 * KNOT for speed in weak.end_speeds))
    other = make(replace(EVENING, launch=replace(EVENING.launch, catapult=weak)), ["launch"]).launch
    assert other.shot.wind_needed == pytest.approx(shot.wind_needed + 20 * KNOT)
    assert other.course.answer.chosen.along >= other.shot.wind_needed - 1e-6


def test_a_told_launch_wind_stands():
    told = replace(EVENING, launch=replace(EVENING.launch, wind=18 * KNOT))
    assert make(told, ["wind"]).wind.launch.answer.wanted.along == pytest.approx(18 * KNOT)


def test_a_launch_too_heavy_for_the_wind_says_by_how_much_and_what_would_go():
    weak = replace(EVENING.launch.catapult, end_speeds=tuple(100 * KNOT for _ in range(4)))
    heavy = replace(EVENING, launch=replace(EVENING.launch, catapult=weak))
    made = make(heavy, ["launch"]).launch
    said = says_flying.launch(heavy, made)
    assert not said.feasible
    text = next(note.text for note in said.notes if note.code == "launch-too-heavy")
    assert "more than may be over the deck" in text
    assert made.shot.heaviest < made.shot.mass
    lighter = made.shot.mass - made.shot.heaviest
    fuel = replace(heavy, load=replace(heavy.load, fuel=heavy.load.fuel - lighter - 1.0))
    assert make(fuel, ["launch"]).launch.shot.wind_needed <= EVENING.launch.greatest_wind


def test_fuel_takes_the_times_of_pattern_and_way_in(evening):
    burn, day = evening.fuel.burn, evening.pattern
    assert burn.usual == ()
    # eight land 50 s apart: one that bolters takes the next gap after its own trip
    assert burn.trip_seconds % EVENING.recovery.interval == pytest.approx(0.0)
    assert 0.0 <= burn.trip_seconds - day.bolter.trip < EVENING.recovery.interval
    # from the stack to the ball, 3/4 nm before the ramp, and some way on to the touchdown
    ball = (0.75 * NAUTICAL_MILE + EVENING.site.lens.hook_target) / evening.approach.planned.closure
    assert burn.inbound_seconds == pytest.approx(day.inbound - ball, abs=1.0)


def test_the_first_ball_of_the_ladder_is_the_one_of_the_stack_and_of_the_pattern(evening):
    """By day 3/4 nm before the first ramp crossing; by night and in cloud the stack's own, to the second."""
    ball = EVENING.recovery.time - 0.75 * NAUTICAL_MILE / evening.pattern.pattern.groove.closure
    assert evening.fuel.ball.time == pytest.approx(ball, abs=0.05)
    # the stack, asked for by day, comes to the same second
    assert evening.marshal.held[0].ball == pytest.approx(ball, abs=1.0)
    for weather in (
        replace(EVENING.weather, night=True),
        replace(EVENING.weather, ceiling=1500 * FOOT),
    ):
        for wish in (EVENING.marshal, replace(EVENING.marshal, push=18 * 3600.0 + 600.0)):
            made = make(replace(EVENING, weather=weather, marshal=wish))
            held = made.marshal.held
            assert made.fuel.ball.time == pytest.approx(held[0].ball, abs=0.05)
            leave = next(event for event in made.fuel.events if event.name == "leave the stack")
            assert leave.time == pytest.approx(held[0].slot.push, abs=0.05)
            # each flight's last aircraft: the fourth, the sixth and the eighth of the stack
            last = [held[k].ball for k in (3, 5, 7)]
            assert [one.ball for one in made.fuel.flights] == pytest.approx(last, abs=0.05)


def test_by_night_way_in_and_trip_are_the_stacks():
    dark = replace(EVENING, weather=replace(EVENING.weather, night=True))
    made = make(dark)
    assert made.fuel.burn.usual == ()
    night = made.marshal
    assert made.fuel.burn.inbound_seconds == pytest.approx(night.inbound.gate("ball").time, abs=0.1)
    # a bolter takes the next gap between others' balls after its own trip
    gap = night.held[1].ball - night.held[0].ball
    assert 0.0 <= made.fuel.burn.trip_seconds - night.circuits[0].trip < gap
    assert made.fuel.burn.trip_seconds == pytest.approx(
        gap * round(made.fuel.burn.trip_seconds / gap), abs=0.01
    )
    alone = replace(dark, flights=(replace(EVENING.flights[0], count=1, crews=()),))
    alone = make(alone)
    assert alone.fuel.burn.trip_seconds == pytest.approx(alone.marshal.circuits[0].trip, abs=0.1)


def test_told_times_go_before_solved_ones():
    told = replace(EVENING, fuel=replace(EVENING.fuel, trip=333.0, inbound=222.0))
    burn = make(told, ["fuel"]).fuel.burn
    assert (burn.trip_seconds, burn.inbound_seconds) == (333.0, 222.0)


def test_ramp_times_wider_than_the_pushes_are_told(evening):
    said = says_flying.night(EVENING, evening.marshal)
    text = next(note.text for note in said.notes if note.code == "ramp-interval")
    held = evening.marshal.held
    assert f"{held[1].ramp - held[0].ramp:.0f} s apart" in text
    # at the interval that is offered instead the ramp times are the wanted 60 s apart
    push = float(text.rsplit("push ", 1)[1].split()[0])
    quick = replace(EVENING, marshal=replace(EVENING.marshal, interval=push))
    held = make(quick, ["marshal"]).marshal.held
    assert held[1].ramp - held[0].ramp == pytest.approx(60.0, abs=1.0)


def test_a_jet_too_near_its_fix_is_told_the_speed_that_is_on_time():
    larch = EVENING.flights[0]
    where = replace(larch.where, distance=24 * NAUTICAL_MILE, bearing=1.1, heading=4.2)
    push = 18 * 3600.0 + 60.0
    for late in range(10, 200, 5):
        near = replace(
            EVENING,
            flights=(replace(larch, count=1, crews=(), where=where),),
            marshal=replace(EVENING.marshal, push=push + late),
        )
        notes = make(near, ["marshal"]).marshal.notes
        told = [note.text for note in notes if note.code == "early-at-the-fix"]
        if told:
            assert "kt" in told[0]
            return
    pytest.fail("no push was a little too late for the start")
