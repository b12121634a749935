"""The launch, marshal and pattern cards as they are published."""

from __future__ import annotations

import math

from deckward.planning import again as rounds
from deckward.planning import launch as launches
from deckward.planning import marshal_plan, pattern_plan, says_flying
from deckward.planning.launch_plan import LaunchPlan
from deckward.planning.scenario import Scenario
from deckward.planning.words import clock
from deckward.workflow import plan_contract as c
from deckward.workflow.plan_shared import course_of, said_of
from deckward.workflow.published import known, number


def launch(scenario: Scenario, plan: LaunchPlan) -> c.Launch:
    """Publish the launch card."""
    shot = plan.shot
    stroke, less = shot.stroke, shot.engine_out
    return c.Launch(
        says=said_of(says_flying.launch(scenario, plan)),
        mass_lb=known(shot.mass, "lb"),
        power=shot.power.name,
        trim_deg=number(shot.trim, "deg"),
        flaps=shot.flaps,
        bounds=[c.Bound(what=one.what, airspeed_kt=known(one.airspeed, "kt")) for one in shot.bounds],
        margin_kt=known(shot.margin, "kt"),
        wanted_end_airspeed_kt=known(shot.wanted, "kt"),
        end_airspeed_kt=number(plan.end_airspeed, "kt"),
        stroke=None
        if stroke is None
        else c.Stroke(
            end_speed_kt=known(stroke.end_speed, "kt"),
            length_ft=known(stroke.length, "ft"),
            seconds=known(stroke.seconds),
            acceleration_g=known(stroke.acceleration, "g"),
        ),
        capacity_pct=number(shot.capacity, "pct"),
        least_capacity_pct=number(plan.least_capacity, "pct"),
        wind_needed_kt=number(shot.wind_needed, "kt"),
        wind_for_least_kt=number(shot.wind_for_least, "kt"),
        heaviest_lb=number(shot.heaviest, "lb"),
        course=None if plan.course is None else course_of(plan.course),
        planned=_fly_off(shot.flown, shot.acceleration),
        at_least=_fly_off(shot.flown_least),
        engine_out=None
        if less is None
        else c.EngineOut(
            power=less.power.name,
            least_end_airspeed_kt=number(less.least, "kt"),
            flown=_fly_off(less.flown, less.acceleration),
        ),
        aileron_deg=number(shot.aileron, "deg"),
        steps=list(shot.steps),
    )


def _fly_off(flown: launches.FlyOff, acceleration: float | None = None) -> c.FlyOff:
    return c.FlyOff(
        end_airspeed_kt=known(flown.end_airspeed, "kt"),
        settle_ft=known(flown.settle, "ft"),
        lowest_s=known(flown.lowest),
        climbs=flown.climbs,
        greatest_angle_of_attack_deg=known(float(flown.angle_of_attack.max()), "deg"),
        level_acceleration_g=number(acceleration, "g"),
    )


def pattern(scenario: Scenario, plan: pattern_plan.PatternPlan) -> c.Pattern:
    """Publish the day pattern's card."""
    flown, into = plan.pattern, plan.overhead
    return c.Pattern(
        says=said_of(says_flying.day(scenario, plan)),
        mass_lb=known(plan.mass, "lb"),
        abeam_nm=known(flown.abeam, "nm"),
        turn_s=known(flown.time_to_turn),
        bank_deg=known(flown.bank, "deg"),
        turn_time_s=known(flown.turn_time),
        groove_s=known(flown.groove.seconds),
        groove_nm=known(flown.groove.range, "nm"),
        checkpoints=[
            c.Checkpoint(
                name=one.name,
                time_s=known(one.time),
                altitude_ft=known(one.height, "ft"),
                sink_fpm=known(one.sink, "fpm"),
                heading_deg=known(one.heading, "deg"),
                calibrated_kt=known(one.calibrated, "kt"),
                bank_deg=known(one.bank, "deg"),
                ahead_nm=known(one.ahead, "nm"),
                port_nm=known(one.port, "nm"),
            )
            for one in flown.checkpoints
        ],
        slips=[
            c.Slip(
                what=one.name,
                abeam_nm=known(one.abeam, "nm"),
                line_up_offset_ft=known(one.line_up_offset, "ft"),
                groove_s=known(one.groove),
                bank_deg=known(one.bank, "deg"),
                turn_s=known(one.time_to_turn),
                within_limits=one.within_limits,
            )
            for one in plan.slips
        ],
        holds=[
            c.Hold(
                altitude_ft=known(hold.altitude, "ft"),
                lap_s=known(hold.lap),
                to_initial_s=known(down.seconds),
            )
            for hold, down in zip(plan.holds, plan.descents, strict=True)
        ],
        to_downwind=c.Break(
            initial_altitude_ft=known(into.initial_altitude, "ft"),
            initial_to_break_s=known(into.initial_to_break),
            ahead_nm=known(into.places[0].break_ahead, "nm"),
            bank_deg=known(into.turn.bank, "deg"),
            load_factor_g=known(into.load_factor),
            downwind_s=known(into.downwind),
            interval_s=known(into.break_interval),
        ),
        again=[_again(one) for one in (plan.bolter, plan.wave_off)],
        interval_s=known(plan.interval),
        trip_s=known(plan.trip),
        inbound_s=known(plan.inbound),
    )


def _again(one: rounds.Again) -> c.Again:
    return c.Again(
        what=one.name,
        straight_s=known(one.straight),
        bank_deg=known(one.turn.bank, "deg"),
        downwind_s=known(one.downwind),
        trip_s=known(one.trip),
    )


def marshal(scenario: Scenario, plan: marshal_plan.MarshalPlan) -> c.Marshal:
    """Publish the marshal card."""
    case = plan.ordered or (plan.case.number if plan.case else None)
    held = plan.held
    return c.Marshal(
        says=said_of(says_flying.night(scenario, plan)),
        case=case,  # type: ignore[arg-type]
        ordered=plan.ordered is not None,
        clock_times=plan.clock,
        radial_deg=known(held[0].slot.radial, "deg"),
        final_bearing_deg=known(plan.inbound.final_bearing, "deg"),
        interval_s=known(plan.interval),
        ramp_interval_s=None if len(held) < 2 else known(plan.ramp_interval),
        mass_lb=known(plan.mass, "lb"),
        stack=[_held(one, of_day=plan.clock) for one in held],
        way_in=[
            c.Gate(
                name=gate.name,
                time_s=known(gate.time),
                range_nm=known(gate.range, "nm"),
                altitude_ft=known(gate.height, "ft"),
                calibrated_kt=known(gate.airspeed, "kt"),
                heading_deg=known(gate.heading, "deg"),
                sink_fpm=known(gate.sink, "fpm"),
            )
            for gate in plan.inbound.gates
        ],
        corrections=[
            c.Correction(
                late_s=known(one.late), calibrated_kt=known(one.airspeed, "kt"), left_s=known(one.left)
            )
            for one in plan.corrections
        ],
        again=[
            c.Circuit(
                turn_in_nm=known(one.turn_in, "nm"),
                straight_s=known(one.straight),
                bank_deg=known(one.bank, "deg"),
                downwind_deg=known(one.downwind_heading, "deg"),
                downwind_s=known(one.downwind),
                bank_in_deg=known(one.bank_in, "deg"),
                trip_s=known(one.trip),
            )
            for one in plan.circuits
        ],
    )


def _held(one: marshal_plan.Held, *, of_day: bool) -> c.Held:
    way = one.holding
    laps = None if way is None else way.laps
    return c.Held(
        who=one.who,
        altitude_ft=known(one.slot.altitude, "ft"),
        distance_nm=known(one.slot.distance, "nm"),
        push_s=known(one.slot.push),
        push=clock(one.slot.push, of_day=of_day),
        ball_s=known(one.ball),
        ball=clock(one.ball, of_day=of_day),
        ramp_s=known(one.ramp),
        ramp=clock(one.ramp, of_day=of_day),
        laps=None if way is None else (0 if laps is None else laps.count),
        lap_s=None if laps is None else known(laps.seconds),
        bank_deg=None if laps is None else known(laps.bank, "deg"),
        outbound_deg=None if laps is None else known(laps.outbound_heading % math.tau, "deg"),
        outbound_s=None if laps is None else known(laps.outbound_seconds),
        late_s=None if way is None else known(way.late),
    )
