"""From a plan in SI and radians to the published object."""

from __future__ import annotations

from deckward.foundation import units
from deckward.foundation.units import FOOT, POUND, STANDARD_GRAVITY
from deckward.planning import approach as approaches
from deckward.planning import fuel as ladders
from deckward.planning import says
from deckward.planning.approach_plan import ApproachPlan, Row
from deckward.planning.fuel import FuelPlan
from deckward.planning.plan import Plan
from deckward.planning.scenario import Scenario
from deckward.planning.wind_plan import WindPlan
from deckward.planning.words import clock
from deckward.reports.caution import CAUTION
from deckward.workflow import plan_contract as c
from deckward.workflow import plan_flying as flying
from deckward.workflow.plan_shared import course_of, said_of
from deckward.workflow.published import known, number


def document(plan: Plan) -> c.Document:
    """Turn a plan into the published object."""
    scenario = plan.scenario
    return c.Document(
        schema=c.SCHEMA,
        name=scenario.name,
        site=scenario.site.name,
        aircraft=scenario.aircraft.name,
        caution=CAUTION,
        launch=flying.launch(scenario, plan.launch) if plan.launch else None,
        wind=_wind(scenario, plan.wind) if plan.wind else None,
        marshal=flying.marshal(scenario, plan.marshal) if plan.marshal else None,
        pattern=flying.pattern(scenario, plan.pattern) if plan.pattern else None,
        approach=_approach(scenario, plan.approach) if plan.approach else None,
        fuel=_fuel(scenario, plan.fuel) if plan.fuel else None,
        left_out=[c.LeftOut(card=one.card, text=str(one.why)) for one in plan.left_out],
    )


# -- wind --------------------------------------------------------------------------------------


def _wind(scenario: Scenario, plan: WindPlan) -> c.Wind:
    return c.Wind(
        says=said_of(says.wind(scenario, plan)),
        wind_from_deg=known(plan.wind.from_direction, "deg"),
        wind_speed_kt=known(plan.wind.speed, "kt"),
        recovery=course_of(plan.recovery),
        launch=course_of(plan.launch) if plan.launch else None,
    )


# -- approach ----------------------------------------------------------------------------------


def _approach(scenario: Scenario, plan: ApproachPlan) -> c.Approach:
    setting, geometry, slips = plan.setting, plan.geometry, plan.slips
    return c.Approach(
        says=said_of(says.approach(scenario, plan)),
        basic_angle_deg=known(setting.angle, "deg"),
        usual_angle_deg=known(plan.suggested_angle, "deg"),
        wind_along_kt=known(setting.along, "kt"),
        crosswind_from_starboard_kt=known(setting.crosswind, "kt"),
        crab_deg=known(plan.planned.crab, "deg"),
        dry_lb=known(plan.masses.dry, "lb"),
        arriving_fuel_lb=number(plan.arriving, "lb"),
        most_fuel_lb=number(plan.most_fuel, "lb"),
        planned=_speeds(plan.planned, fuel=plan.fuel, limit=plan.engaging_limit),
        times=[c.Timed(from_nm=known(at, "nm"), seconds=known(seconds)) for at, seconds in plan.seconds],
        groove_s=known(plan.groove),
        groove_nm=known(plan.groove * plan.planned.closure, "nm"),
        least_wind_kt=known(plan.least_wind, "kt"),
        least_wind_for=plan.least_wind_for,
        arrest=c.Arrest(
            run_out_ft=known(plan.arrest.length, "ft"),
            seconds=known(plan.arrest.seconds),
            mean_g=known(plan.arrest.acceleration, "g"),
            energy_ftlb=known(plan.arrest.energy / (POUND * STANDARD_GRAVITY * FOOT)),
        ),
        ramp_moves_sigma_ft=number(plan.ramp_sigma, "ft"),
        limits=[
            c.MassLimit(
                of=limit.what,
                mass_lb=known(limit.mass, "lb"),
                fuel_lb=known(limit.mass - plan.masses.dry, "lb"),
            )
            for limit in plan.limits
        ],
        geometry=c.Geometry(
            hook_to_eye_ft=known(geometry.hook_to_eye, "ft"),
            eye_ahead_of_hook_ft=known(geometry.eye_ahead, "ft"),
            hook_to_ramp_ft=known(geometry.hook_to_ramp, "ft"),
            hook_target_ft=known(geometry.hook_target, "ft"),
            eye_over_lens_ft=known(geometry.eye_over_lens, "ft"),
            lens_roll_deg=number(geometry.lens_roll, "deg"),
        ),
        slips=c.Slips(
            nose_up_1_deg_hook_ft=known(slips.nose_height, "ft"),
            nose_up_1_deg_touchdown_ft=known(slips.nose_touchdown, "ft"),
            headwind_1_kt_hook_ft=known(slips.wind_height, "ft"),
            headwind_1_kt_touchdown_ft=known(slips.wind_touchdown, "ft"),
            headwind_1_kt_sink_fpm=known(slips.wind_sink, "fpm"),
            ramp_1_ft_touchdown_ft=known(slips.foot_touchdown, "ft"),
            ball_1_cell_hook_ft=known(slips.ball_height, "ft"),
            ball_1_cell_touchdown_ft=known(slips.ball_touchdown, "ft"),
        ),
        by_fuel=[_row(row) for row in plan.rows],
        by_angle=[
            c.Angle(
                basic_angle_deg=known(row.angle, "deg"),
                sink_fpm=known(row.flown.sink, "fpm"),
                hook_to_ramp_ft=known(row.hook_to_ramp, "ft"),
                power_pct=number(row.flown.jet.power, "pct"),
            )
            for row in plan.angles
        ],
    )


def _row(row: Row) -> c.Speeds:
    return _speeds(row.flown, fuel=row.fuel, limit=row.engaging_limit, within=row.within)


def _speeds(flown: approaches.Approach, *, fuel: float, limit: float, within: bool | None = None) -> c.Speeds:
    jet = flown.jet
    return c.Speeds(
        fuel_lb=known(fuel, "lb"),
        mass_lb=known(jet.mass, "lb"),
        calibrated_kt=known(jet.calibrated, "kt"),
        true_kt=known(jet.true, "kt"),
        sink_fpm=known(flown.sink, "fpm"),
        closure_kt=known(flown.closure, "kt"),
        engaging_limit_kt=known(limit, "kt"),
        pitch_deg=known(flown.pitch, "deg"),
        power_pct=number(jet.power, "pct"),
        thrust_lbf=None if jet.thrust is None else number(jet.thrust / (POUND * STANDARD_GRAVITY)),
        flow_pph=number(jet.flow, "pph"),
        within_limits=within,
    )


# -- fuel --------------------------------------------------------------------------------------


def _fuel(scenario: Scenario, plan: FuelPlan) -> c.Fuel:
    def when(seconds: float) -> str:
        return clock(seconds, of_day=plan.clock)

    burn, tanking = plan.burn, plan.tanking
    return c.Fuel(
        says=said_of(says.fuel(scenario, plan)),
        clock_times=plan.clock,
        ladder=[
            c.Event(
                name=one.name, time_s=known(one.time), clock=when(one.time), fuel_lb=known(one.fuel, "lb")
            )
            for one in plan.events
        ],
        bingo=_bingo(scenario, plan),
        least_after_a_look_lb=known(plan.least, "lb"),
        needed_at_ball_lb=known(plan.needed, "lb"),
        most_at_ball_lb=number(plan.most, "lb"),
        at_ball_lb=known(plan.ball.fuel, "lb"),
        looks_wanted=plan.wanted,
        looks_possible=plan.possible,
        looks=[_look(one, when(one.time)) for one in plan.looks],
        latest_first_ball=when(plan.latest),
        latest_first_ball_for_wanted=when(plan.latest_wanted),
        too_heavy_lb=known(plan.too_heavy, "lb"),
        burn_off_s=known(plan.burn_off),
        short_lb=known(plan.short, "lb"),
        late_s=known(plan.late),
        holding_pph=known(burn.holding, "pph"),
        pattern_pph=known(burn.pattern, "pph"),
        trip_lb=known(burn.trip, "lb"),
        trip_s=known(burn.trip_seconds),
        look_lb=known(burn.look, "lb"),
        tanking=c.Tanking(
            leave_with_lb=known(tanking.leave_with, "lb"),
            cost_lb=known(tanking.cost, "lb"),
            seconds=known(tanking.seconds),
            give_lb=known(tanking.give, "lb"),
            looks=tanking.looks,
        )
        if tanking
        else None,
        flights=[
            c.FlightFuel(
                name=one.name,
                aircraft=one.aircraft,
                told_lb=known(one.fuel_now, "lb"),
                ball_clock=clock(one.ball),
                fuel_lb=known(one.fuel, "lb"),
                looks=one.looks,
                too_heavy_lb=known(one.too_heavy, "lb"),
            )
            for one in plan.flights
        ],
    )


def _look(one: ladders.Look, when: str) -> c.Look:
    return c.Look(
        number=one.number,
        time_s=known(one.time),
        clock=when,
        fuel_lb=known(one.fuel, "lb"),
        after_bolter_lb=known(one.after, "lb"),
        keeps_bingo=one.within,
        too_heavy_lb=known(one.too_heavy, "lb"),
        then=one.then,  # type: ignore[arg-type]
    )


def _bingo(scenario: Scenario, plan: FuelPlan) -> c.Bingo:
    bingo = plan.bingo
    assert scenario.divert is not None, "a ladder has a field"
    parts = {name: units.from_si(part.fuel, "lb") for name, part in bingo.parts.items()}
    return c.Bingo(
        field=scenario.divert.name,
        fuel_lb=known(bingo.fuel, "lb"),
        reserve_lb=known(bingo.reserve, "lb"),
        bearing_deg=number(bingo.bearing, "deg"),
        distance_nm=number(bingo.distance, "nm"),
        altitude_ft=number(bingo.altitude, "ft"),
        true_airspeed_kt=number(bingo.airspeed, "kt"),
        ground_speed_kt=number(bingo.ground_speed, "kt"),
        headwind_kt=number(bingo.headwind, "kt"),
        seconds=number(bingo.seconds),
        climb_lb=number(parts.get("climb")),
        cruise_lb=number(parts.get("cruise")),
        descent_lb=number(parts.get("descent")),
    )
