"""What cannot be had: each says which limit fails and by how much, and what it offers instead can be had."""

from __future__ import annotations

import re

import pytest
from msgspec.structs import replace

from deckward.foundation.units import DEGREE, KNOT, POUND
from deckward.planning import load, says, says_flying
from deckward.planning.plan import make

EVENING = load("lantern-evening")


def notes(said) -> dict[str, str]:
    """Every note's text by its code; those of one code one after the other."""
    out: dict[str, str] = {}
    for note in said.notes:
        out[note.code] = f"{out[note.code]} {note.text}" if note.code in out else note.text
    return out


def number(text: str, pattern: str) -> float:
    found = re.search(pattern, text)
    assert found, (pattern, text)
    return float(found[1].replace(",", ""))


# -- no wind course ----------------------------------------------------------------------------


def test_a_ship_too_slow_names_the_limit_the_shortfall_and_the_nearest():
    """12 kt at most in 5 kt of wind: 17 kt and less down the angle, where 20 is the least that will do."""
    slow = replace(
        EVENING,
        ship=replace(EVENING.ship, greatest_speed=12 * KNOT, courses=()),
        wind=replace(EVENING.wind, speed=5 * KNOT),
    )
    plan = make(slow, ["wind"]).wind
    said = says.wind(slow, plan)
    assert not said.feasible
    failing = [limit for limit in said.limits if not limit.kept]
    assert failing[0].what == "wind down the landing area"
    assert -failing[0].margin / KNOT == pytest.approx(20 - 17, abs=0.2)
    told = notes(said)
    assert number(told["wind-limit-missed"], r"is ([\d.]+) kt short of 20.0 kt") == pytest.approx(3, abs=0.2)
    # the nearest that is offered is steered at a speed she has, and makes what it says
    chosen = plan.recovery.answer.chosen
    assert chosen.speed <= 12 * KNOT + 1e-6
    assert f"{chosen.along / KNOT:.1f} kt down the landing area" in told["wind-compromise"]
    # with the wind that she lacks it can be had
    windier = replace(slow, wind=replace(slow.wind, speed=5 * KNOT - failing[0].margin + 0.1 * KNOT))
    assert says.wind(windier, make(windier, ["wind"]).wind).feasible


def test_a_course_she_may_not_steer_says_how_far_off_the_nearest_is():
    shut = replace(EVENING, ship=replace(EVENING.ship, courses=((0.0, 60 * DEGREE),)))
    plan = make(shut, ["wind"]).wind
    told = notes(says.wind(shut, plan))
    assert "outside the courses she may steer" in told["wind-nearest"]
    exact = plan.recovery.answer.exact[0].course / DEGREE
    off = number(told["wind-nearest"], r"out of her reach: ([\d.]+) deg outside")
    # 60 or north is the nearer end of the sector
    assert off == pytest.approx(min(abs(exact - 60), abs(360 - exact)), abs=1)
    assert "wind-compromise" in told


def test_least_steerage_speed_binds_in_a_gale():
    gale = replace(
        EVENING, wind=replace(EVENING.wind, speed=26 * KNOT), ship=replace(EVENING.ship, least_speed=6 * KNOT)
    )
    plan = make(gale, ["wind"]).wind
    chosen = plan.recovery.answer.chosen
    assert chosen.speed >= 6 * KNOT - 1e-6
    said = says.wind(gale, plan)
    assert "her speed" in notes(said)["wind-nearest"]
    assert "short of 6.0 kt" in notes(said)["wind-nearest"]


# -- over weight -------------------------------------------------------------------------------


def test_a_recovery_over_weight_says_how_much_fuel_must_go_and_then_it_may_land():
    creel = load("full-creel")
    plan = make(creel)
    said = says.approach(creel, plan.approach)
    over = next(limit for limit in said.limits if limit.what == "landing mass")
    assert not over.kept and said.binds is over
    goes = number(notes(said)["too-heavy"], r": ([\d,]+) lb must go")
    assert goes == pytest.approx(-over.margin / POUND, abs=1)
    # so much less at engine start, and the rest burnt alike: it lands within its limit
    flow = plan.fuel.burn
    minutes = number(notes(says.fuel(creel, plan.fuel))["too-heavy"], r"([\d.]+) min of holding")
    held = flow.held(plan.fuel.ball.fuel, minutes * 60)
    assert held / POUND == pytest.approx(goes, rel=0.01)
    later = replace(creel, recovery=replace(creel.recovery, time=creel.recovery.time + minutes * 60 + 10))
    assert says.approach(later, make(later).approach).feasible


def test_too_heavy_without_any_fuel_says_by_how_much_stores_must_go():
    creel = load("full-creel", typed={"recovery.landing_mass_lb": 30_000})
    text = notes(says.approach(creel, make(creel).approach))["too-heavy-dry"]
    over = number(text, r"jet is ([\d,]+) lb over")
    # 12,701 kg of jet, six rounds of 510 lb and two racks of 220 lb
    assert over == pytest.approx(12_701 / POUND + 6 * 510 + 2 * 220 - 30_000, abs=1)
    assert "leave stores behind" in text


def test_a_launch_over_weight_says_at_which_weight_it_goes():
    weak = replace(EVENING.launch.catapult, end_speeds=tuple(95 * KNOT for _ in range(4)))
    heavy = replace(EVENING, launch=replace(EVENING.launch, catapult=weak))
    made = make(heavy, ["launch"]).launch
    text = notes(says_flying.launch(heavy, made))["launch-too-heavy"]
    goes = number(text, r"goes at ([\d,]+) lb")
    more = number(text, r"is ([\d.]+) kt more than may be over the deck")
    assert more == pytest.approx((made.shot.wind_needed - heavy.launch.greatest_wind) / KNOT, abs=0.06)
    light = replace(
        heavy, load=replace(heavy.load, fuel=heavy.load.fuel - (made.shot.mass - (goes - 2) * POUND))
    )
    assert make(light, ["launch"]).launch.shot.wind_needed <= heavy.launch.greatest_wind


# -- no fuel for the field ---------------------------------------------------------------------


def test_no_fuel_for_the_field_says_how_much_is_missing_and_what_would_do():
    dry = replace(EVENING, load=replace(EVENING.load, fuel=4200 * POUND))
    plan = make(dry).fuel
    said = says.fuel(dry, plan)
    failing = [limit for limit in said.limits if not limit.kept]
    assert failing and failing[0].of == "bingo" and said.binds is failing[0]
    told = notes(said)
    short = number(told["fuel-short"], r"^([\d,]+) lb short")
    assert short == pytest.approx(-failing[0].margin / POUND, abs=1)
    # with so much more at engine start (and what carrying it burns) it can be had
    more = replace(dry, load=replace(dry.load, fuel=dry.load.fuel + 1.06 * short * POUND))
    assert says.fuel(more, make(more).fuel).feasible
    # or so much earlier at the ball
    earlier = number(told["fuel-short"], r"ball ([\d.]+) min earlier") * 60
    sooner = replace(dry, recovery=replace(dry.recovery, time=dry.recovery.time - earlier - 5))
    assert make(sooner).fuel.short == pytest.approx(0.0, abs=6 * POUND)


def test_where_not_even_one_look_is_left_the_field_or_the_tanker_comes_first():
    dry = replace(EVENING, load=replace(EVENING.load, fuel=3900 * POUND), tanker=None)
    plan = make(dry).fuel
    assert plan.possible == 0
    assert "go to the field before the pass, or take fuel first" in notes(says.fuel(dry, plan))["no-look"]
    assert plan.looks[0].then in ("divert", "too late")
