"""What the cards say beside their numbers: inputs, limits, what binds, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterator

from deckward.errors import Note
from deckward.planning.answer import Input, Limit, Says
from deckward.planning.approach_plan import ApproachPlan
from deckward.planning.fuel import FuelPlan
from deckward.planning.scenario import Scenario
from deckward.planning.wind import Answer, Miss, Shift
from deckward.planning.wind_plan import Course, WindPlan
from deckward.planning.words import (
    across,
    bearing,
    clock,
    degrees,
    feet,
    flights,
    knots,
    looks,
    miles,
    minutes,
    pounds,
)

#: share of the hook's height over the ramp that its rise may take before it is said; chosen by us
_RESTLESS = 0.25

# -- wind --------------------------------------------------------------------------------------


def wind(scenario: Scenario, plan: WindPlan) -> Says:
    """Say what the ship's courses rest on and what they keep."""
    limits = list(course_limits(scenario, plan.recovery))
    notes = [*course_notes(plan.recovery), *generic_notes(scenario)]
    if plan.launch is not None:
        limits += course_limits(scenario, plan.launch)
        notes += course_notes(plan.launch)
    return Says(tuple(_wind_inputs(scenario, plan)), tuple(limits), tuple(notes))


def _wind_inputs(scenario: Scenario, plan: WindPlan) -> Iterator[Input]:
    ship, recovery, fact = scenario.ship, scenario.recovery, plan.wind
    spread = []
    if fact.from_spread:
        spread.append(f"swinging {degrees(fact.from_spread)} each way")
    if fact.speed_spread:
        spread.append(f"rising and falling {knots(fact.speed_spread, 0)}")
    felt = " (from the wind she feels)" if scenario.felt_wind else ""
    there = f"from {bearing(fact.from_direction)} at {knots(fact.speed)}{felt}"
    yield Input("wind", ", ".join([there, *spread]))
    yield Input("ship", f"{scenario.site.name}, landing area {degrees(scenario.site.angle, 1)} to port")
    sectors = " or ".join(f"{bearing(a)} to {bearing(b)}" for a, b in ship.courses)
    room = f", sea room {miles(ship.sea_room)}" if ship.sea_room is not None else ""
    yield Input(
        "she can",
        f"steer at {knots(ship.least_speed, 0)} and more, make {knots(ship.greatest_speed, 0)}"
        + (f", on {sectors}" if sectors else ", on any course")
        + room,
    )
    yield Input(
        "wanted",
        f"{knots(recovery.wind)} down the landing area, {knots(recovery.least_wind, 0)} to "
        f"{knots(recovery.greatest_wind, 0)} will do, no more than {knots(recovery.crosswind)} across",
    )
    yield from _sea_input(scenario)
    count = scenario.recovering
    names = f" ({flights(scenario)})" if scenario.flights else ""
    yield Input("aircraft", f"{count}{names}, {recovery.interval:.0f} s apart")


def _sea_input(scenario: Scenario) -> Iterator[Input]:
    """Yield the sea as it is told: what the ramp's moving hangs on."""
    told = []
    if scenario.sea.state is not None:
        told.append(f"state {scenario.sea.state}")
    if scenario.sea.wave_height is not None:
        told.append(f"waves of {scenario.sea.wave_height:.1f} m")
    if told:
        yield Input("sea", f"{', '.join(told)}")


def course_limits(scenario: Scenario, course: Course) -> Iterator[Limit]:
    """Yield what a course keeps: winds, her speed, sea room."""
    chosen, wanted, ship = course.answer.chosen, course.answer.wanted, scenario.ship
    what, line = course.what, "the landing area" if course.what == "recovery" else "the catapult"
    yield Limit(f"wind down {line}", chosen.along, wanted.least, wanted.greatest, "kt", what)
    yield Limit(f"wind across {line}", abs(chosen.crosswind), None, wanted.crosswind, "kt", what)
    yield Limit("ship's speed", chosen.speed, ship.least_speed, ship.greatest_speed, "kt", "ship")
    if course.run.sea_room is not None:
        yield Limit("run on the course", course.run.distance, None, course.run.sea_room, "nm", "sea room")


def course_notes(course: Course) -> Iterator[Note]:
    """Yield what to know of a course: why it is not the exact one, what is missed, room and shifts."""
    answer, chosen = course.answer, course.answer.chosen
    line = "landing area" if course.what == "recovery" else "catapult"
    if answer.is_exact:
        yield Note(
            "wind-exact",
            f"For the {course.what}: {bearing(chosen.course)} at {knots(chosen.speed)} puts "
            f"{knots(chosen.along)} straight down the {line}.",
        )
    else:
        for text in _why_not_exact(answer, line):
            yield Note("wind-nearest", text)
        yield Note(
            "wind-compromise",
            f"Nearest: {bearing(chosen.course)} at {knots(chosen.speed)}, {knots(chosen.along)} down the "
            f"{line} and {across(chosen.crosswind)}.",
        )
    for miss in chosen.misses:
        yield Note(
            "wind-limit-missed", f"No course and speed of hers keeps every limit: {_missed(miss, line)}."
        )
    least = answer.least_crosswind
    if least is not None:
        yield Note(
            "wind-least-crosswind",
            f"With the least crosswind: {bearing(least.course)} at {knots(least.speed)}, "
            f"{knots(least.along)} down the {line} and {across(least.crosswind)}.",
        )
    yield from _room_notes(course)
    yield from _wander_notes(course, line)
    for shift in course.shifts:
        if shift.held.misses:
            yield Note("wind-shift", _shift(shift, line))


def _why_not_exact(answer: Answer, line: str) -> Iterator[str]:
    wanted = answer.wanted
    if not answer.exact:
        yield (
            f"{knots(wanted.along)} down a {line} {degrees(wanted.angle, 1)} off her keel needs "
            f"{knots(answer.wind_needed)} of true wind or more: there is less."
        )
    for one in answer.exact:
        broken = [miss for miss in one.misses if miss.what.startswith("ship")]
        if broken:
            yield (
                f"The exact answer, {bearing(one.course)} at {knots(one.speed)}, is out of her reach: "
                f"{' and '.join(_missed(miss, line) for miss in broken)}."
            )


def _missed(miss: Miss, line: str) -> str:
    if miss.what == "ship course":
        return f"{degrees(miss.by)} outside the courses she may steer ({bearing(miss.limit)} is the nearest)"
    name = {
        "wind along": f"wind down the {line}",
        "crosswind": "crosswind",
        "ship speed": "her speed",
    }[miss.what]
    way = "over" if miss.value > miss.limit else "short of"
    return f"{name} {knots(miss.value)} is {knots(miss.by)} {way} {knots(miss.limit)}"


def _room_notes(course: Course) -> Iterator[Note]:
    run = course.run
    if run.fits is None or run.fits >= run.aircraft:
        return
    assert run.sea_room is not None
    interval = (run.sea_room / course.answer.chosen.speed - run.settled) / max(run.aircraft - 1, 1)
    remedy = (
        f" All {run.aircraft} would need {interval:.0f} s from one to the next."
        if run.fits and interval >= 20.0
        else ""
    )
    yield Note(
        "sea-room-short",
        f"{run.aircraft} aircraft take {minutes(run.seconds)} and {miles(run.distance)}, "
        f"{miles(run.distance - run.sea_room)} more than there is: room for {run.fits}.{remedy}",
    )


def _wander_notes(course: Course, line: str) -> Iterator[Note]:
    low, high = course.crosswind_range
    wanted = course.answer.wanted
    if high - low < 1e-9:
        return
    worst = max(abs(low), abs(high))
    if worst > wanted.crosswind or course.along_range[0] < wanted.least:
        yield Note(
            "wind-wanders-out",
            f"As the wind wanders, {knots(course.along_range[0])} to {knots(course.along_range[1])} come "
            f"down the {line} and up to {knots(worst)} across it: outside the limits at times.",
        )


def _shift(shift: Shift, line: str) -> str:
    way = "veers" if shift.turned > 0 else "backs"
    held, new = shift.held, shift.answer.chosen
    missed = " and ".join(_missed(miss, line) for miss in held.misses)
    return (
        f"If the wind {way} {degrees(abs(shift.turned))}: {knots(held.along)} down the {line}, "
        f"{across(held.crosswind)}, and {missed}; {bearing(new.course)} at {knots(new.speed)} mends it."
    )


# -- approach ----------------------------------------------------------------------------------


def approach(scenario: Scenario, plan: ApproachPlan) -> Says:
    """Say what the approach numbers rest on and which limits they keep."""
    return Says(
        tuple(_approach_inputs(scenario, plan)),
        tuple(_approach_limits(scenario, plan)),
        (*_approach_notes(scenario, plan), *generic_notes(scenario)),
    )


def generic_notes(scenario: Scenario) -> Iterator[Note]:
    """Yield a note where nobody named the ship."""
    if scenario.site.generic:
        yield Note(
            "generic-site",
            f"No ship is named: {scenario.site.name} is taken, with usual numbers. Name yours: --site.",
        )


def _approach_inputs(scenario: Scenario, plan: ApproachPlan) -> Iterator[Input]:
    setting, masses = plan.setting, plan.masses
    jet = scenario.aircraft
    yield Input("aircraft", f"{jet.name}, on speed at {degrees(jet.on_speed, 1)} of angle of attack")
    stores = [
        f"{one.count} x {one.name}" if one.count > 1 else one.name for one in scenario.load.stores if one.kept
    ]
    carried = f" with {', '.join(stores)}" if stores else ""
    yield Input("without fuel", f"{pounds(masses.dry)}{carried}")
    yield Input("fuel at the ball", pounds(plan.fuel))
    yield Input(
        "wind over the deck",
        f"{knots(setting.along)} down the landing area, {across(setting.crosswind)}"
        + ("" if plan.wind_told else " (the wanted wind: no true wind is told)"),
    )
    yield Input(
        "lens", f"{scenario.site.name}'s at {degrees(setting.angle, 2)}, {scenario.site.lens.stabilisation}"
    )
    yield from _sea_input(scenario)
    yield Input(
        "air at the deck",
        f"{float(setting.air.temperature) - 273.15:.0f} C, {float(setting.air.pressure) / 100:.0f} hPa",
    )


def _approach_limits(scenario: Scenario, plan: ApproachPlan) -> Iterator[Limit]:
    planned, mass = plan.planned, plan.masses.dry + (plan.fuel if plan.arriving is None else plan.arriving)
    for limit in plan.limits:
        of = {"aircraft": "aircraft", "gear": "arresting gear", "gear energy": "arresting gear's energy"}[
            limit.what
        ]
        yield Limit("landing mass", mass, None, limit.mass, "lb", of)
    of = "arresting gear" if plan.engaging_limit_of == "gear" else "arresting gear's energy"
    yield Limit("engaging speed", planned.closure, None, plan.engaging_limit, "kt", of)
    crosswind = abs(plan.setting.crosswind)
    yield Limit(
        "wind across the landing area", crosswind, None, scenario.recovery.crosswind, "kt", "recovery"
    )


def _approach_notes(scenario: Scenario, plan: ApproachPlan) -> Iterator[Note]:
    most, arriving = plan.most_fuel, plan.arriving
    if most is not None and most < 0.0:
        yield Note(
            "too-heavy-dry",
            f"Even without fuel the jet is {pounds(-most)} over its landing mass: leave stores behind.",
        )
    elif most is not None and arriving is not None and arriving > most:
        yield Note(
            "too-heavy",
            f"It comes to the ball with {pounds(arriving)} and may have {pounds(most)}: "
            f"{pounds(arriving - most)} must go before the pass. The numbers here are for what it may have.",
        )
    if plan.ramp_sigma is not None and 2.0 * plan.ramp_sigma > _RESTLESS * plan.geometry.hook_to_ramp:
        yield Note(
            "deck-moves",
            f"In this sea the ramp comes up by {feet(2.0 * plan.ramp_sigma, 1)} now and then, of "
            f"{feet(plan.geometry.hook_to_ramp, 1)} that the hook has over it: fly the mean of the ball, "
            "and be ready to be waved off.",
        )
    if not plan.wind_told:
        yield Note(
            "wind-assumed", "No wind is told: the wanted wind is taken, straight down the landing area."
        )
    if plan.least_wind > plan.setting.along + 1e-9:
        yield Note(
            "too-fast-for-gear",
            f"The arresting gear asks for {knots(plan.least_wind)} down the landing area at this mass, "
            f"{knots(plan.least_wind - plan.setting.along)} more than there is.",
        )
    if not scenario.recovery.gear.masses:
        yield Note(
            "gear-by-energy",
            "No limits of engaging speed by mass are told (gear.mass_lb, gear.engaging_kt): only the gear's "
            "energy is looked at, and an aircraft's own limit is as a rule lower.",
        )
    if abs(plan.suggested_angle - plan.setting.angle) > 1e-6:
        yield Note(
            "lens-setting",
            f"For {knots(plan.setting.along, 0)} of wind {degrees(plan.suggested_angle, 2)} is the usual "
            f"lens setting; these numbers are for {degrees(plan.setting.angle, 2)}.",
        )
    if plan.planned.jet.thrust is None:
        yield Note(
            "power-unknown", "The on-speed airspeed is told, not worked out, so there is no power to give."
        )


# -- fuel --------------------------------------------------------------------------------------


def fuel(scenario: Scenario, plan: FuelPlan) -> Says:
    """Say what the ladder rests on, and what is too much or too little."""
    return Says(
        tuple(_fuel_inputs(scenario, plan)), tuple(_fuel_limits(plan)), tuple(_fuel_notes(scenario, plan))
    )


def _fuel_inputs(scenario: Scenario, plan: FuelPlan) -> Iterator[Input]:
    divert, bingo, burn = scenario.divert, plan.bingo, plan.burn
    assert divert is not None, "a ladder has a field"
    start = plan.events[0]
    yield Input("to begin with", f"{pounds(start.fuel)} at {start.name}")
    way = ""
    if bingo.bearing is not None and bingo.distance is not None:
        way = f", {bearing(bingo.bearing)} at {miles(bingo.distance, 0)}"
    yield Input("field", f"{divert.name}{way}, {pounds(bingo.reserve)} kept overhead")
    if bingo.altitude is None:
        yield Input("bingo", f"{pounds(bingo.fuel)}, as told")
    else:
        assert bingo.airspeed is not None and bingo.headwind is not None and bingo.seconds is not None
        wind = (
            f"headwind {knots(bingo.headwind, 0)}"
            if bingo.headwind >= 0
            else f"tailwind {knots(-bingo.headwind, 0)}"
        )
        yield Input(
            "bingo flown at",
            f"{feet(bingo.altitude)}, {knots(bingo.airspeed, 0)} true, {wind}, {minutes(bingo.seconds)}",
        )
    yield Input(
        "flows",
        f"holding {_flow(burn.holding)}, pattern {_flow(burn.pattern)}; "
        f"{minutes(burn.inbound_seconds)} from the stack to the ball, {minutes(burn.trip_seconds)} a trip"
        + (f" ({' and '.join(burn.usual)} by common practice)" if burn.usual else ""),
    )
    yield Input("wanted", f"{looks(plan.wanted)}, {pounds(scenario.fuel.margin)} kept over bingo")


def _flow(flow: float) -> str:
    return f"{pounds(flow * 3600.0)} an hour"


def _fuel_limits(plan: FuelPlan) -> Iterator[Limit]:
    yield Limit(
        f"fuel at the ball for {looks(plan.wanted)}",
        plan.ball.fuel,
        plan.needed,
        None,
        "lb",
        "bingo",
    )
    if plan.most is not None:
        yield Limit("fuel at the ball to land", plan.ball.fuel, None, plan.most, "lb", "landing mass")


def _fuel_notes(scenario: Scenario, plan: FuelPlan) -> Iterator[Note]:
    def when(seconds: float) -> str:
        return clock(seconds, of_day=plan.clock)

    yield Note(
        "ball",
        f"First ball at {when(plan.ball.time)} with {pounds(plan.ball.fuel)}: {looks(plan.possible)} before "
        f"the fuel after a bolter is under {pounds(plan.least)}.",
    )
    if plan.too_heavy > 0.0:
        yield Note(
            "too-heavy",
            f"{pounds(plan.too_heavy)} too much to land: {minutes(plan.burn_off)} of holding burns it, "
            "or dump it.",
        )
    if plan.most is not None and plan.needed > plan.most:
        yield Note(
            "window-shut",
            f"{looks(plan.wanted)} need {pounds(plan.needed)} at the ball, "
            f"{pounds(plan.needed - plan.most)} more than the landing mass allows: "
            f"{looks(plan.burn.looks(plan.most, plan.least))} is the most, or leave stores behind.",
        )
    if plan.short > 0.0:
        earlier = -plan.burn.holds(plan.ball.fuel, plan.needed)
        yield Note(
            "fuel-short",
            f"{pounds(plan.short)} short of {looks(plan.wanted)}. Take so much more, or come to the ball "
            f"{minutes(earlier)} earlier.",
        )
    else:
        yield Note(
            "latest",
            f"Latest first ball: {when(plan.latest_wanted)} for {looks(plan.wanted)}, "
            f"{when(plan.latest)} for one.",
        )
    if plan.late > 0.0:
        yield Note(
            "late",
            f"The jet is {minutes(plan.late)} late for the recovery's first ramp at "
            f"{clock(scenario.recovery.time or 0.0)}.",
        )
    yield from _tank_notes(plan)
    for code, words, named in (
        ("flights-short", f"With less than {looks(plan.wanted)} in their turn", _short(plan)),
        ("flights-heavy", "Too heavy at the ball", [one.name for one in plan.flights if one.too_heavy > 0.0]),
    ):
        if named:
            yield Note(code, f"{words}: {', '.join(named)}.")
    if not plan.climbs_counted:
        yield Note(
            "climbs-left-out",
            "The aircraft file tells no climb and descent: those are left out of the ladder.",
        )


def _short(plan: FuelPlan) -> list[str]:
    return [f"{one.name} ({one.looks})" for one in plan.flights if one.looks < plan.wanted]


def _tank_notes(plan: FuelPlan) -> Iterator[Note]:
    last = next((look for look in reversed(plan.looks) if look.within), None)
    tanking = plan.tanking
    if tanking is not None:
        in_time = [look.number for look in plan.looks if look.after >= tanking.leave_with]
        before = " After the first look it is too late."
        if in_time:
            before = f" After look {in_time[-1]} at the latest."
        yield Note(
            "tank",
            f"Go to the tanker with {pounds(tanking.leave_with)} or more, so that the field stays in reach: "
            f"{minutes(tanking.seconds)}, and {pounds(tanking.give)} give {looks(tanking.looks)}.{before}",
        )
    if last is None:
        yield Note(
            "no-look",
            "No look keeps the fuel for the field: go to the field before the pass, or take fuel first.",
        )
    elif last.then == "tank":
        yield Note("decide", f"After look {last.number} fails: tank, with {pounds(last.after)}.")
    else:
        yield Note("decide", f"After look {last.number} fails: go to the field, with {pounds(last.after)}.")
