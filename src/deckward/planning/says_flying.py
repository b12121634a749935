"""What the launch, pattern and marshal cards say beside their numbers, as the other cards do."""

from __future__ import annotations

from collections.abc import Iterator

from deckward.errors import Note
from deckward.foundation.units import FOOT, NAUTICAL_MILE, from_si
from deckward.planning import inbound, marshal, overhead, pattern
from deckward.planning.answer import Input, Limit, Says
from deckward.planning.launch import LEAST_ACCELERATION, MOST_SETTLE
from deckward.planning.launch_plan import LaunchPlan
from deckward.planning.marshal_plan import MarshalPlan
from deckward.planning.pattern_plan import PatternPlan
from deckward.planning.says import course_limits, course_notes, generic_notes
from deckward.planning.scenario import Scenario
from deckward.planning.slips import Slip
from deckward.planning.steaming import Steaming
from deckward.planning.words import across, bearing, clock, degrees, feet, flights, knots, miles, pounds

#: published (CNATRA P-1211): 0.9 to 1.1 nm; from memory: up to 1.3 in the fleet
ABEAM = (0.9 * NAUTICAL_MILE, 1.3 * NAUTICAL_MILE)

# -- launch ------------------------------------------------------------------------------------


def launch(scenario: Scenario, plan: LaunchPlan) -> Says:
    """Say what the launch rests on, and what it keeps."""
    return Says(
        tuple(_launch_inputs(scenario, plan)),
        tuple(_launch_limits(scenario, plan)),
        (*_launch_notes(scenario, plan), *generic_notes(scenario)),
    )


def _launch_inputs(scenario: Scenario, plan: LaunchPlan) -> Iterator[Input]:
    shot, load, wish = plan.shot, scenario.load, scenario.launch
    yield Input("aircraft", f"{scenario.aircraft.name}, {shot.power.name} power")
    hung = [f"{one.count} x {one.name}" if one.count > 1 else one.name for one in load.stores]
    fuel = "" if load.fuel is None else f", {pounds(load.fuel - scenario.fuel.start)} of it fuel"
    yield Input("gross", f"{pounds(shot.mass)}{fuel}" + (f", with {', '.join(hung)}" if hung else ""))
    if shot.stroke is not None:
        stroke = shot.stroke
        yield Input("catapult", f"{knots(stroke.end_speed, 0)} over {feet(stroke.length)} at this weight")
    yield Input("margin", f"{knots(shot.margin, 0)} over the least end airspeed")
    yield Input(
        "flown off the bow",
        f"{feet(MOST_SETTLE)} of settle and {from_si(LEAST_ACCELERATION, 'g'):.2f} g in level flight allowed",
    )
    if scenario.wind is not None:
        fact = scenario.wind
        yield Input("wind", f"from {bearing(fact.from_direction)} at {knots(fact.speed)}")
    if wish.aircraft is not None:
        yield Input("shots", f"{wish.aircraft}, {wish.interval:.0f} s apart")


def _launch_limits(scenario: Scenario, plan: LaunchPlan) -> Iterator[Limit]:
    shot = plan.shot
    if plan.end_airspeed is not None:
        yield Limit("end airspeed", plan.end_airspeed, shot.wanted, None, "kt", "least and margin")
    most = scenario.aircraft.tables.get("mass", {}).get("max_launch_kg")
    if most is not None:
        yield Limit("launch mass", shot.mass, None, most, "lb", "aircraft")
    yield Limit("settle off the bow", shot.flown.settle, None, MOST_SETTLE, "ft", "fly-away")
    yield Limit("level acceleration", shot.acceleration, LEAST_ACCELERATION, None, "g", "fly-away")
    if plan.course is not None:
        yield from course_limits(scenario, plan.course)


def _launch_notes(scenario: Scenario, plan: LaunchPlan) -> Iterator[Note]:
    shot, wish = plan.shot, scenario.launch
    yield Note(
        "launch-binds",
        f"{shot.bounds[0].what[0].upper()}{shot.bounds[0].what[1:]} sets the least end airspeed, "
        f"{knots(shot.least, 0)}; next is {shot.bounds[1].what}, {knots(shot.bounds[1].airspeed, 0)}.",
    )
    if shot.wind_needed is not None:
        yield _wind_note(plan)
        if shot.wind_needed > wish.greatest_wind:
            over = shot.wind_needed - wish.greatest_wind
            cure = (
                f"{pounds(shot.mass - shot.heaviest)} less and it goes at {pounds(shot.heaviest)}"
                if shot.heaviest is not None
                else "not even half the weight would go"
            )
            yield Note(
                "launch-too-heavy",
                f"{knots(shot.wind_needed)} of wind is {knots(over)} more than may be over the deck: {cure}.",
            )
    if plan.course is not None:
        yield from course_notes(plan.course)
    if shot.asymmetry and shot.aileron is not None:
        heavy = "right" if shot.asymmetry > 0 else "left"
        yield Note(
            "launch-asymmetry",
            f"Heavier on the {heavy}: {degrees(shot.aileron, 1)} of aileron the other way hold the wings "
            "level.",
        )
    less = shot.engine_out
    if less is not None:
        then = (
            f"it still keeps the limits from {knots(less.least, 0)}"
            if less.least is not None
            else "no airspeed keeps the limits: what is under the wings must go at once"
        )
        yield Note(
            "launch-engine-out",
            f"With {less.power.name} as the stroke ends: {from_si(less.acceleration, 'g'):.2f} g in level "
            f"flight, settles {feet(less.flown.settle, 1)}; {then}.",
        )
    yield from shot.notes


def _wind_note(plan: LaunchPlan) -> Note:
    shot = plan.shot
    assert shot.wind_needed is not None and shot.wind_for_least is not None
    if plan.end_airspeed is None:
        there = ""
    else:
        over = plan.end_airspeed - shot.wanted
        way = "more" if over >= 0.0 else "less"
        there = f" Her course gives {knots(abs(over))} {way} than that."
    if shot.wind_needed == 0.0:
        return Note("launch-wind", f"The catapult alone gives the end airspeed wanted.{there}")
    return Note(
        "launch-wind",
        f"{knots(shot.wind_needed)} down the catapult with the margin, {knots(shot.wind_for_least)} without "
        f"any.{there}",
    )


# -- pattern -----------------------------------------------------------------------------------


def day(scenario: Scenario, plan: PatternPlan) -> Says:
    """Say what the day pattern rests on, and what it keeps."""
    return Says(
        tuple(_pattern_inputs(scenario, plan)),
        tuple(_pattern_limits(plan)),
        (*_pattern_notes(plan), *generic_notes(scenario)),
    )


def _steaming_inputs(there: Steaming) -> Iterator[Input]:
    felt = there.over_deck
    yield Input("ship", f"{bearing(there.course)} at {knots(there.speed)}")
    yield Input(
        "wind over the deck",
        f"{knots(float(felt.along_landing_area))} down the landing area, "
        f"{across(float(felt.crosswind_from_starboard))}",
    )


def _pattern_inputs(scenario: Scenario, plan: PatternPlan) -> Iterator[Input]:
    wish = scenario.pattern
    yield Input("aircraft", f"{scenario.aircraft.name} at {pounds(plan.mass)}, on speed")
    yield from _steaming_inputs(plan.steaming)
    asked = "what the turn needs" if wish.abeam is None else miles(wish.abeam, 2)
    yield Input(
        "wanted",
        f"abeam {asked}, bank {degrees(wish.bank)}, groove {wish.groove:.1f} s, {wish.hold} held in the turn",
    )
    names = f" ({flights(scenario)})" if scenario.flights else ""
    yield Input("aircraft to land", f"{plan.aircraft}{names}, {plan.interval:.0f} s apart")


def _pattern_limits(plan: PatternPlan) -> Iterator[Limit]:
    flown = plan.pattern
    yield Limit("abeam distance", flown.abeam, *ABEAM, "nm", "pattern")
    yield Limit("bank to the groove", flown.bank, None, pattern.GREATEST_BANK, "deg", "pattern")
    for again in (plan.bolter, plan.wave_off):
        yield Limit(
            f"bank after a {again.name}", again.turn.bank, None, pattern.GREATEST_BANK, "deg", "pattern"
        )
    yield Limit(
        "start of the break",
        plan.overhead.places[0].break_ahead,
        None,
        overhead.LATEST_BREAK,
        "nm",
        "pattern",
    )


def _pattern_notes(plan: PatternPlan) -> Iterator[Note]:
    flown = plan.pattern
    yield Note(
        "pattern-turn",
        f"Turn {_when(flown.time_to_turn)} with {degrees(flown.bank)} of bank: {flown.turn_time:.0f} s to "
        f"wings level, {miles(flown.groove.range, 2)} astern at {feet(flown.groove.height)}.",
    )
    for slip in plan.slips:
        if not slip.within_limits:
            yield Note("pattern-slip", _slip(slip))
    yield from plan.notes


def _slip(slip: Slip) -> str:
    side = "right" if slip.line_up_offset > 0 else "left"
    offset = round(abs(slip.line_up_offset) / FOOT, -1) * FOOT
    off = "on the centreline" if offset < FOOT else f"{feet(offset)} {side} of the centreline"
    name = slip.name[0].upper() + slip.name[1:]
    return (
        f"{name}, flown as planned: wings level {off}, {slip.groove:.0f} s to go. Not even "
        f"{degrees(slip.bank)} of bank makes it: widen out before the turn, or wave it off."
    )


def _when(time_to_turn: float) -> str:
    """Say when the turn begins."""
    if abs(time_to_turn) < 0.5:
        return "abeam"
    return f"{abs(time_to_turn):.0f} s {'after' if time_to_turn > 0.0 else 'before'} abeam"


# -- marshal -----------------------------------------------------------------------------------


def night(scenario: Scenario, plan: MarshalPlan) -> Says:
    """Say what the stack and the way in rest on, and what they keep."""
    return Says(
        tuple(_marshal_inputs(scenario, plan)),
        tuple(_marshal_limits(plan)),
        (*_marshal_notes(plan), *generic_notes(scenario)),
    )


def _marshal_inputs(scenario: Scenario, plan: MarshalPlan) -> Iterator[Input]:
    weather, wish = scenario.weather, scenario.marshal
    told = []
    if weather.ceiling is not None:
        told.append(f"ceiling {feet(weather.ceiling)}")
    if weather.visibility is not None:
        told.append(f"visibility {miles(weather.visibility)}")
    if weather.night is not None:
        told.append("night" if weather.night else "day")
    yield Input("weather", ", ".join(told) or "not told")
    yield from _steaming_inputs(plan.steaming)
    yield Input(
        "aircraft", f"{scenario.aircraft.name} at {pounds(plan.mass)}, {knots(plan.airspeed, 0)} to the gate"
    )
    names = f" ({flights(scenario)})" if scenario.flights else ""
    yield Input("pushes", f"{len(plan.held)}{names}, {plan.interval:.0f} s apart")
    yield Input("holding", f"left-hand, legs of {wish.leg:.0f} s, six minutes round")
    if scenario.winds_aloft:
        levels = ", ".join(
            f"{bearing(one.from_direction)} at {knots(one.speed, 0)} in {feet(one.altitude)}"
            for one in scenario.winds_aloft
        )
        yield Input("winds aloft", levels)


def _marshal_limits(plan: MarshalPlan) -> Iterator[Limit]:
    lowest = plan.held[0].slot.altitude
    if lowest < marshal.LOWEST:
        yield Limit("lowest altitude", lowest, marshal.LOWEST, None, "ft", "stack")
    level = next((gate.range for gate in plan.inbound.gates if gate.name == "level"), None)
    if level is not None:
        yield Limit("levelling off before the gate", level, inbound.GATE, None, "nm", "way in")
    off = [abs(one.holding.late) for one in plan.held if one.holding is not None]
    if off:
        yield Limit("off the push time", max(off), None, marshal.TOLERANCE, "s", "push")


def _marshal_notes(plan: MarshalPlan) -> Iterator[Note]:
    yield _case_note(plan)
    if len(plan.held) > 1:
        first, second = plan.held[:2]
        ramp = second.ramp - first.ramp
        if ramp - plan.interval > 1.0:
            yield Note(
                "ramp-interval",
                f"Pushes {plan.interval:.0f} s apart come to the ramp {ramp:.0f} s apart, for each flies a "
                f"mile more: the last crosses it at {clock(plan.held[-1].ramp, of_day=plan.clock)}. For "
                f"{plan.interval:.0f} s at the ramp push {2 * plan.interval - ramp:.0f} s apart.",
            )
    yield from plan.notes
    if not plan.clock:
        yield Note("push-not-told", "No push or recovery time is told: times count from the first push.")


def _case_note(plan: MarshalPlan) -> Note:
    case = plan.case
    if plan.ordered is not None:
        weather = "" if case is None or case.number == plan.ordered else f" The weather asks for {case.name}."
        return Note("case", f"Case {'I' * plan.ordered} is ordered.{weather}")
    if case is None:
        return Note(
            "case",
            "Ceiling and visibility are not told (weather.ceiling_ft, weather.visibility_nm), so no case is "
            "chosen.",
        )
    if case.number == 1:
        return Note("case", "Case I: the day pattern will do, and this is for worse weather.")
    return Note("case", f"{case.name}. {' '.join(case.reasons)}")
