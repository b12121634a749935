"""The published plan: one object, edge units in its key names.

A card that was not asked for, or whose part is not built, is None. The JSON Schema that
stands in the reference is made from these classes by :func:`schema`.
"""

from __future__ import annotations

from typing import Any, Final, Literal

from deckward.workflow.published import Note, Object, schema_of

SCHEMA: Final = "deckward.plan/1"


class Input(Object, frozen=True):
    """A fact that a card was worked out from."""

    what: str
    text: str


class Limit(Object, frozen=True):
    """A limit, in ``unit``; ``margin`` is below 0 by how much it is missed."""

    what: str
    of: str
    value: float
    least: float | None
    greatest: float | None
    margin: float
    unit: str
    kept: bool


class Says(Object, frozen=True):
    """What a card rests on, which limits it keeps, which of them binds, and what to know."""

    inputs: list[Input]
    limits: list[Limit]
    binds: str | None
    feasible: bool
    notes: list[Note]


class Steering(Object, frozen=True):
    """A course and speed of the ship, and the wind she then feels."""

    course_deg: float
    speed_kt: float
    felt_speed_kt: float
    wind_from_bow_deg: float
    along_kt: float
    crosswind_from_starboard_kt: float
    limits_missed: list[str]


class Shift(Object, frozen=True):
    """What a shift of the wind does: on the course held, and on the one that mends it."""

    turned_deg: float
    held: Steering
    mended: Steering


class Run(Object, frozen=True):
    """Time and distance on the course."""

    turn_s: float | None
    aircraft: int
    interval_s: float
    seconds: float
    distance_nm: float
    one_more_nm: float
    sea_room_nm: float | None
    fits: int | None


class Course(Object, frozen=True):
    """The ship's course for a recovery or a launch."""

    wanted_kt: float
    exact: bool
    chosen: Steering
    solutions: list[Steering]
    least_crosswind: Steering | None
    wind_needed_kt: float
    along_range_kt: tuple[float, float]
    crosswind_range_kt: tuple[float, float]
    may_back_deg: float | None
    may_veer_deg: float | None
    shifts: list[Shift]
    run: Run
    now: Steering | None


class Wind(Object, frozen=True):
    """The wind card."""

    says: Says
    wind_from_deg: float
    wind_speed_kt: float
    recovery: Course
    launch: Course | None


class Speeds(Object, frozen=True):
    """The approach at one landing mass."""

    fuel_lb: float | None
    mass_lb: float
    calibrated_kt: float
    true_kt: float
    sink_fpm: float
    closure_kt: float
    engaging_limit_kt: float | None
    pitch_deg: float
    power_pct: float | None
    thrust_lbf: float | None
    flow_pph: float | None
    within_limits: bool | None


class Timed(Object, frozen=True):
    """Time to the ramp from a distance aft of it."""

    from_nm: float
    seconds: float


class Geometry(Object, frozen=True):
    """Hook, eye and lens on the commanded path."""

    hook_to_eye_ft: float
    eye_ahead_of_hook_ft: float
    hook_to_ramp_ft: float
    hook_target_ft: float
    eye_over_lens_ft: float
    lens_roll_deg: float | None


class Slips(Object, frozen=True):
    """What small slips move at the hook: + up, + farther past the ramp."""

    nose_up_1_deg_hook_ft: float
    nose_up_1_deg_touchdown_ft: float
    headwind_1_kt_hook_ft: float
    headwind_1_kt_touchdown_ft: float
    headwind_1_kt_sink_fpm: float
    ramp_1_ft_touchdown_ft: float
    ball_1_cell_hook_ft: float
    ball_1_cell_touchdown_ft: float


class MassLimit(Object, frozen=True):
    """A limit of landing mass, and the fuel at the ball that it leaves."""

    of: str
    mass_lb: float
    fuel_lb: float


class Angle(Object, frozen=True):
    """The planned approach at another basic angle."""

    basic_angle_deg: float
    sink_fpm: float
    hook_to_ramp_ft: float
    power_pct: float | None


class Arrest(Object, frozen=True):
    """The arrest as a steady pull over the gear's run-out, without the engine's thrust."""

    run_out_ft: float
    seconds: float
    mean_g: float
    energy_ftlb: float


class Approach(Object, frozen=True):
    """The approach card."""

    says: Says
    basic_angle_deg: float
    usual_angle_deg: float
    wind_along_kt: float
    crosswind_from_starboard_kt: float
    crab_deg: float
    dry_lb: float
    arriving_fuel_lb: float | None
    most_fuel_lb: float | None
    planned: Speeds
    times: list[Timed]
    groove_s: float
    groove_nm: float
    least_wind_kt: float
    least_wind_for: str
    arrest: Arrest
    ramp_moves_sigma_ft: float | None
    limits: list[MassLimit]
    geometry: Geometry
    slips: Slips
    by_fuel: list[Speeds]
    by_angle: list[Angle]


class Event(Object, frozen=True):
    """A point of the ladder."""

    name: str
    time_s: float
    clock: str
    fuel_lb: float


class Look(Object, frozen=True):
    """A look at the deck, and what may follow a bolter."""

    number: int
    time_s: float
    clock: str
    fuel_lb: float
    after_bolter_lb: float
    keeps_bingo: bool
    too_heavy_lb: float
    then: Literal["again", "tank", "divert", "too late"]


class Bingo(Object, frozen=True):
    """The least fuel to the field with its reserve."""

    field: str
    fuel_lb: float
    reserve_lb: float
    bearing_deg: float | None
    distance_nm: float | None
    altitude_ft: float | None
    true_airspeed_kt: float | None
    ground_speed_kt: float | None
    headwind_kt: float | None
    seconds: float | None
    climb_lb: float | None
    cruise_lb: float | None
    descent_lb: float | None


class Tanking(Object, frozen=True):
    """Going to the tanker."""

    leave_with_lb: float
    cost_lb: float
    seconds: float
    give_lb: float
    looks: int


class FlightFuel(Object, frozen=True):
    """The last aircraft of a flight at the ball."""

    name: str
    aircraft: int
    told_lb: float
    ball_clock: str
    fuel_lb: float
    looks: int
    too_heavy_lb: float


class Fuel(Object, frozen=True):
    """The fuel card."""

    says: Says
    clock_times: bool
    ladder: list[Event]
    bingo: Bingo
    least_after_a_look_lb: float
    needed_at_ball_lb: float
    most_at_ball_lb: float | None
    at_ball_lb: float
    looks_wanted: int
    looks_possible: int
    looks: list[Look]
    latest_first_ball: str
    latest_first_ball_for_wanted: str
    too_heavy_lb: float
    burn_off_s: float
    short_lb: float
    late_s: float
    holding_pph: float
    pattern_pph: float
    trip_lb: float
    trip_s: float
    look_lb: float
    tanking: Tanking | None
    flights: list[FlightFuel]


class Bound(Object, frozen=True):
    """A least airspeed at the end of the stroke, true, and what asks for it."""

    what: str
    airspeed_kt: float


class FlyOff(Object, frozen=True):
    """The jet off the bow from an end airspeed, true; ``climbs`` is false where it still sinks after 8 s."""

    end_airspeed_kt: float
    settle_ft: float
    lowest_s: float
    climbs: bool
    greatest_angle_of_attack_deg: float
    level_acceleration_g: float | None


class Stroke(Object, frozen=True):
    """The catapult's stroke as a steady pull."""

    end_speed_kt: float
    length_ft: float
    seconds: float
    acceleration_g: float


class EngineOut(Object, frozen=True):
    """An engine failed as the stroke ends."""

    power: str
    least_end_airspeed_kt: float | None
    flown: FlyOff


class Launch(Object, frozen=True):
    """The launch card."""

    says: Says
    mass_lb: float
    power: str
    trim_deg: float | None
    flaps: str
    bounds: list[Bound]
    margin_kt: float
    wanted_end_airspeed_kt: float
    end_airspeed_kt: float | None
    stroke: Stroke | None
    capacity_pct: float | None
    least_capacity_pct: float | None
    wind_needed_kt: float | None
    wind_for_least_kt: float | None
    heaviest_lb: float | None
    course: Course | None
    planned: FlyOff
    at_least: FlyOff
    engine_out: EngineOut | None
    aileron_deg: float | None
    steps: list[str]


class Checkpoint(Object, frozen=True):
    """A moment of the pattern; ``time_s`` from abeam, airspeed calibrated, heading true."""

    name: str
    time_s: float
    altitude_ft: float
    sink_fpm: float
    heading_deg: float
    calibrated_kt: float
    bank_deg: float
    ahead_nm: float
    port_nm: float


class Slip(Object, frozen=True):
    """The planned turn begun otherwise, and the bank and time that would mend it."""

    what: str
    abeam_nm: float
    line_up_offset_ft: float
    groove_s: float
    bank_deg: float
    turn_s: float
    within_limits: bool


class Hold(Object, frozen=True):
    """A level of the stack over the ship."""

    altitude_ft: float
    lap_s: float
    to_initial_s: float


class Break(Object, frozen=True):
    """From the initial to downwind."""

    initial_altitude_ft: float
    initial_to_break_s: float
    ahead_nm: float
    bank_deg: float
    load_factor_g: float
    downwind_s: float
    interval_s: float


class Again(Object, frozen=True):
    """The way round after a bolter or a wave-off."""

    what: str
    straight_s: float
    bank_deg: float
    downwind_s: float
    trip_s: float


class Pattern(Object, frozen=True):
    """The day pattern's card."""

    says: Says
    mass_lb: float
    abeam_nm: float
    turn_s: float
    bank_deg: float
    turn_time_s: float
    groove_s: float
    groove_nm: float
    checkpoints: list[Checkpoint]
    slips: list[Slip]
    holds: list[Hold]
    to_downwind: Break
    again: list[Again]
    interval_s: float
    trip_s: float
    inbound_s: float


class Held(Object, frozen=True):
    """One aircraft of the marshal stack; ``laps`` and what follows are null where its place is not told."""

    who: str
    altitude_ft: float
    distance_nm: float
    push_s: float
    push: str
    ball_s: float
    ball: str
    ramp_s: float
    ramp: str
    laps: int | None
    lap_s: float | None
    bank_deg: float | None
    outbound_deg: float | None
    outbound_s: float | None
    late_s: float | None


class Gate(Object, frozen=True):
    """A gate of the way in; ``time_s`` from the push."""

    name: str
    time_s: float
    range_nm: float
    altitude_ft: float
    calibrated_kt: float
    heading_deg: float
    sink_fpm: float


class Correction(Object, frozen=True):
    """The airspeed to the 10-mile gate that makes good a push so late (+); ``left_s`` remains."""

    late_s: float
    calibrated_kt: float
    left_s: float


class Circuit(Object, frozen=True):
    """A way round by instruments after a bolter, ball to ball; back on final at ``turn_in_nm``."""

    turn_in_nm: float
    straight_s: float
    bank_deg: float
    downwind_deg: float
    downwind_s: float
    bank_in_deg: float
    trip_s: float


class Marshal(Object, frozen=True):
    """The marshal card."""

    says: Says
    case: Literal[1, 2, 3] | None
    ordered: bool
    clock_times: bool
    radial_deg: float
    final_bearing_deg: float
    interval_s: float
    ramp_interval_s: float | None
    mass_lb: float
    stack: list[Held]
    way_in: list[Gate]
    corrections: list[Correction]
    again: list[Circuit]


class LeftOut(Object, frozen=True):
    """A card that the facts do not support, and what to do about it."""

    card: str
    text: str


class Document(Object, frozen=True):
    """The whole plan."""

    schema: Literal["deckward.plan/1"]
    name: str
    site: str
    aircraft: str
    caution: str
    launch: Launch | None
    wind: Wind | None
    marshal: Marshal | None
    pattern: Pattern | None
    approach: Approach | None
    fuel: Fuel | None
    left_out: list[LeftOut]


def schema() -> dict[str, Any]:
    """Make the JSON Schema (draft 2020-12) of :class:`Document`."""
    return schema_of(Document, SCHEMA)
