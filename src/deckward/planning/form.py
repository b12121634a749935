"""The form of a scenario file: its keys, their ranges, and what each of them is.

Every single key may also be typed as an option: ``wind.from_deg`` is ``--wind-from-deg``.
What is left out keeps a default that stands here, or is missed by the card that needs it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Annotated, Literal

from msgspec import Meta, field

from deckward.foundation.documents import Problem, Table

Bearing = Annotated[float, Meta(ge=0, le=360)]
Clock = Annotated[
    str,
    Meta(
        pattern=r"^([01]?\d|2[0-3]):[0-5]\d(:[0-5]\d)?$",
        max_length=8,
        description="clock time UTC, such as 17:40",
    ),
]
Pounds = Annotated[float, Meta(ge=0, le=1_300_000)]
WindSpeed = Annotated[float, Meta(ge=0, le=150)]
ShipSpeed = Annotated[float, Meta(ge=0, le=60)]
Altitude = Annotated[float, Meta(ge=0, le=60_000)]
Airspeed = Annotated[float, Meta(gt=30, le=1200)]
Interval = Annotated[float, Meta(ge=10, le=900, description="time from one aircraft to the next")]
Flow = Annotated[float, Meta(gt=0, le=500_000, description="fuel flow in pounds an hour")]
Name = Annotated[str, Meta(min_length=1, max_length=40)]
Latitude = Annotated[float, Meta(ge=-85, le=85, description="+ north")]
Longitude = Annotated[float, Meta(ge=-180, le=180, description="+ east")]


#: from memory: recoveries are flown in some 20 to 40 kt over the deck
LEAST_WIND_KT, GREATEST_WIND_KT = 20.0, 40.0


class ShipForm(Table):
    """What the ship does and can do."""

    course_deg: Annotated[Bearing, Meta(description="true course she steers now")] | None = None
    speed_kt: Annotated[ShipSpeed, Meta(description="speed she makes now")] | None = None
    #: common practice, no source
    least_speed_kt: Annotated[ShipSpeed, Meta(description="least speed at which she steers")] = 4.0
    greatest_speed_kt: Annotated[ShipSpeed, Meta(description="greatest speed she can make")] = 30.0
    courses_deg: Annotated[
        tuple[tuple[Bearing, Bearing], ...],
        Meta(max_length=8, description="sectors she may steer, each clockwise from its first course"),
    ] = ()
    sea_room_nm: (
        Annotated[float, Meta(gt=0, le=500, description="how far she may run on one course")] | None
    ) = None
    #: common practice, no source
    turn_deg_per_s: Annotated[float, Meta(gt=0, le=10, description="how fast she comes round")] = 1.0
    latitude_deg: Latitude | None = None
    longitude_deg: Longitude | None = None
    bow_height_ft: Annotated[float, Meta(ge=5, le=200, description="deck over the water at the bow")] = 60.0


class WindForm(Table):
    """The true wind near the sea."""

    from_deg: Annotated[Bearing, Meta(description="true bearing it comes from")]
    speed_kt: Annotated[WindSpeed, Meta(description="speed over the sea")]
    from_spread_deg: Annotated[float, Meta(ge=0, le=90, description="how far it swings to each side")] = 0.0
    speed_spread_kt: Annotated[WindSpeed, Meta(description="how much it rises and falls")] = 0.0


class FeltWindForm(Table):
    """The wind that the ship feels on her course and speed of now, in place of [wind]."""

    from_bow_deg: Annotated[
        float, Meta(ge=-180, le=360, description="where it comes from, clockwise from the bow; - to port")
    ]
    speed_kt: Annotated[WindSpeed, Meta(description="its speed over the deck")]


class WindAloftForm(Table):
    """The wind at an altitude."""

    altitude_ft: Annotated[float, Meta(gt=0, le=60_000, description="above the sea")]
    from_deg: Bearing
    speed_kt: Annotated[float, Meta(ge=0, le=250)]


class SeaForm(Table):
    """The sea."""

    state: Annotated[int, Meta(ge=0, le=9, description="sea state by the usual scale")] | None = None
    wave_height_m: Annotated[float, Meta(ge=0, le=20, description="significant wave height")] | None = None


class WeatherForm(Table):
    """Ceiling, visibility, light and air."""

    ceiling_ft: Annotated[float, Meta(ge=0, le=60_000, description="lowest broken cloud")] | None = None
    visibility_nm: Annotated[float, Meta(ge=0, le=100)] | None = None
    night: Annotated[bool, Meta(description="true from half an hour after sunset")] | None = None
    sea_pressure_hpa: Annotated[float, Meta(ge=850, le=1090, description="pressure at the sea")] = 1013.25
    temperature_c: Annotated[float, Meta(ge=-50, le=60, description="air at the sea")] = 15.0


class StoreForm(Table):
    """Something that hangs on the jet."""

    name: Name
    mass_lb: Annotated[Pounds, Meta(description="of one of them")]
    count: Annotated[int, Meta(ge=1, le=40, description="how many")] = 1
    right_ft: Annotated[float, Meta(ge=-60, le=60, description="from the middle, - to the left")] = 0.0
    kept: Annotated[bool, Meta(description="whether it comes back to the ship")] = True


class FlightForm(Table):
    """A flight that is to be recovered, in the order of recovery."""

    name: Name
    count: Annotated[int, Meta(ge=1, le=40, description="aircraft in it")] | None = None
    crews: Annotated[tuple[Name, ...], Meta(max_length=40, description="a name for each aircraft")] = ()
    at: (
        Annotated[Clock, Meta(description="clock time of what follows, such as 17:40; else the scenario's")]
        | None
    ) = None
    fuel_lb: Annotated[Pounds, Meta(description="fuel of the one with least, then")] | None = None
    bearing_deg: Annotated[Bearing, Meta(description="where it is then, from the ship")] | None = None
    distance_nm: Annotated[float, Meta(ge=0, le=400, description="how far from the ship")] | None = None
    altitude_ft: Altitude | None = None
    heading_deg: Bearing | None = None
    airspeed_kt: Annotated[Airspeed, Meta(description="calibrated")] | None = None


class LegForm(Table):
    """A part of the sortie between launch and recovery."""

    name: Name
    minutes: Annotated[float, Meta(gt=0, le=1440)] | None = None
    distance_nm: Annotated[float, Meta(gt=0, le=3000)] | None = None
    track_deg: Annotated[Bearing, Meta(description="true course over the sea, for the wind")] | None = None
    altitude_ft: Altitude = 20_000.0
    airspeed_kt: Annotated[Airspeed, Meta(description="true")] | None = None
    flow_pph: Annotated[float, Meta(gt=0, le=500_000, description="fuel flow in pounds an hour")] | None = (
        None
    )
    like: Annotated[Name, Meta(description="name of a level flight in the aircraft file")] | None = None


class DivertForm(Table):
    """The field to go to when the deck will not take the jet."""

    name: Name = "divert field"
    bearing_deg: Annotated[Bearing, Meta(description="from the ship")] | None = None
    distance_nm: Annotated[float, Meta(gt=0, le=1000, description="from the ship")] | None = None
    latitude_deg: Latitude | None = None
    longitude_deg: Longitude | None = None
    reserve_lb: Annotated[Pounds, Meta(description="fuel wanted overhead the field")] | None = None
    bingo_lb: (
        Annotated[Pounds, Meta(description="fuel to get there with the reserve, else worked out")] | None
    ) = None


class TankerForm(Table):
    """A tanker."""

    give_lb: Annotated[Pounds, Meta(description="fuel it can give each aircraft")]
    distance_nm: Annotated[float, Meta(ge=0, le=200, description="from the pattern to it")] = 5.0
    altitude_ft: Altitude = 5000.0
    minutes: Annotated[float, Meta(gt=0, le=60, description="to join and take it")] = 8.0


class FuelForm(Table):
    """How fuel is counted."""

    flow_pct: Annotated[float, Meta(ge=20, le=400, description="of the aircraft file's fuel flows")] = 100.0
    start_lb: Annotated[Pounds, Meta(description="burnt from engine start to the end of the stroke")] = 0.0
    looks: Annotated[int, Meta(ge=1, le=20, description="passes wanted before bingo")] = 2
    margin_lb: Annotated[Pounds, Meta(description="kept over bingo")] = 0.0
    holding_pph: Annotated[Flow, Meta(description="in the stack, else the aircraft file's")] | None = None
    pattern_pph: Annotated[Flow, Meta(description="gear down in the pattern, else worked out")] | None = None
    trip_min: (
        Annotated[float, Meta(gt=0, le=60, description="from one look at the ball to the next")] | None
    ) = None
    inbound_min: (
        Annotated[float, Meta(gt=0, le=60, description="from leaving the stack to the ball")] | None
    ) = None


class ApproachForm(Table):
    """On-speed airspeed, where the aircraft file has no [aerodynamics] to work it out from."""

    on_speed_kt: Annotated[Airspeed, Meta(description="calibrated airspeed on speed, wings level")]
    at_mass_lb: Annotated[float, Meta(ge=100, le=1_300_000, description="mass that it belongs to")]


class GearForm(Table):
    """The arresting gear."""

    #: from memory; a news item has the same figure
    energy_ftlb: Annotated[float, Meta(gt=1e5, le=1e9, description="energy it can take")] = 47.5e6
    #: from memory: 320 to 344 ft
    run_out_ft: Annotated[float, Meta(ge=50, le=1000, description="how far it lets the aircraft run")] = 340.0
    mass_lb: Annotated[tuple[Pounds, ...], Meta(max_length=30, description="landing masses, rising")] = ()
    engaging_kt: Annotated[
        tuple[Annotated[float, Meta(gt=20, le=300)], ...],
        Meta(max_length=30, description="greatest engaging speed at each mass"),
    ] = ()


class RecoveryForm(Table):
    """The recovery."""

    time: (
        Annotated[Clock, Meta(description="clock time of the first ramp crossing, UTC, such as 17:40")] | None
    ) = None
    aircraft: Annotated[int, Meta(ge=1, le=40, description="how many; else those of the flights")] | None = (
        None
    )
    #: common practice, no source: 40 to 60 s by day
    interval_s: Interval = 50.0
    #: from memory: 20 to 30 kt, up to 40
    wind_kt: Annotated[WindSpeed, Meta(description="wind wanted down the landing area")] = 25.0
    least_wind_kt: (
        Annotated[WindSpeed, Meta(description="least that will do, else 20 or the wanted one if less")] | None
    ) = None
    greatest_wind_kt: (
        Annotated[WindSpeed, Meta(description="most that will do, else 40 or the wanted one if more")] | None
    ) = None
    #: from memory: about 7 kt, some say 5 to 10
    crosswind_kt: Annotated[WindSpeed, Meta(description="most across the landing area")] = 7.0
    basic_angle_deg: (
        Annotated[float, Meta(ge=2, le=6, description="lens setting, else the site's")] | None
    ) = None
    landing_mass_lb: Annotated[Pounds, Meta(description="heaviest landing, else the aircraft's")] | None = (
        None
    )
    case: Annotated[int, Meta(ge=1, le=3, description="ordered whatever the weather")] | None = None


class CatapultForm(Table):
    """What the catapult gives."""

    mass_lb: Annotated[tuple[Pounds, ...], Meta(min_length=2, max_length=30, description="masses, rising")]
    end_speed_kt: Annotated[
        tuple[Annotated[float, Meta(gt=20, le=300)], ...],
        Meta(min_length=2, max_length=30, description="end speed against the ship at each, full capacity"),
    ]
    stroke_ft: Annotated[float, Meta(ge=50, le=600)] = 300.0
    capacity_pct: Annotated[
        float, Meta(ge=10, le=100, description="part of its full energy that it is set to")
    ] = 100.0


class LaunchForm(Table):
    """The launch."""

    time: Annotated[Clock, Meta(description="clock time of the first shot, UTC, such as 17:40")] | None = None
    aircraft: Annotated[int, Meta(ge=1, le=40, description="how many")] | None = None
    interval_s: Interval = 60.0
    wind_kt: (
        Annotated[WindSpeed, Meta(description="wind wanted down the catapult, else what is needed")] | None
    ) = None
    greatest_wind_kt: Annotated[WindSpeed, Meta(description="most that will do")] = 40.0
    crosswind_kt: Annotated[WindSpeed, Meta(description="most across the catapult")] = 10.0
    #: from memory: about 15 kt
    margin_kt: Annotated[float, Meta(ge=0, le=60, description="over the least end airspeed")] = 15.0
    catapult_angle_deg: Annotated[
        float, Meta(ge=-15, le=15, description="how far the catapult points to port of the keel")
    ] = 0.0
    catapult: CatapultForm | None = None


class PatternForm(Table):
    """The day pattern as it is to be flown."""

    #: published (CNATRA P-1211): 800 ft, 3 nm astern, 600, 450 and 325 to 375 ft, 27 to 30 deg, 15 to 18 s
    initial_altitude_ft: Altitude = 800.0
    initial_airspeed_kt: Airspeed = 300.0
    initial_nm: Annotated[float, Meta(gt=0, le=20, description="distance of the initial astern")] = 3.0
    downwind_altitude_ft: Altitude = 600.0
    altitude_90_ft: Altitude = 450.0
    altitude_45_ft: Altitude = 350.0
    abeam_nm: (
        Annotated[float, Meta(ge=0.3, le=4, description="distance abeam, else what the turn needs")] | None
    ) = None
    bank_deg: Annotated[float, Meta(ge=10, le=45, description="bank of the turn to the groove")] = 28.0
    groove_s: Annotated[float, Meta(ge=5, le=60, description="wings level to touchdown")] = 16.5
    hold: Annotated[
        Literal["angle of attack", "speed"], Meta(description="what stays on-speed in the turn")
    ] = "angle of attack"
    #: from memory: 2,000 ft in the fleet, 1,500 in training
    stack_altitude_ft: Annotated[Altitude, Meta(description="lowest of the holding stack")] = 2000.0


class MarshalForm(Table):
    """The marshal stack."""

    radial_deg: (
        Annotated[Bearing, Meta(description="from the ship, else opposite the final bearing")] | None
    ) = None
    #: published (NAVEDTRA 14342A): not below 6,000 ft
    lowest_altitude_ft: Altitude = 6000.0
    push: Annotated[Clock, Meta(description="clock time of the first push, UTC, such as 17:40")] | None = None
    #: from memory, common practice: 1 min
    interval_s: Interval = 60.0
    #: from memory
    airspeed_kt: Annotated[Airspeed, Meta(description="calibrated, holding and inbound")] = 250.0
    #: from memory: one-minute legs with two-minute turns; published: six-minute racetrack
    leg_s: Annotated[float, Meta(ge=20, le=300)] = 60.0
    #: from memory: on speed by 6 nm, so that is where a short turn after a bolter comes in
    turn_in_nm: Annotated[
        float, Meta(ge=4, le=20, description="where a bolter comes back onto the final bearing")
    ] = 6.0


class ScenarioForm(Table):
    """A scenario file."""

    name: Annotated[str, Meta(min_length=1, max_length=80, description="what the plan is called")] = "plan"
    description: Annotated[str, Meta(max_length=400, description="one line about it, for lists")] = ""
    time: Annotated[Clock, Meta(description="clock time now, UTC, such as 17:40")] | None = None
    site: Annotated[str, Meta(min_length=1, max_length=300, description="bundled ship, or a site file")] = (
        "generic-ship"
    )
    aircraft: Annotated[
        str, Meta(min_length=1, max_length=300, description="bundled aircraft, or an aircraft file")
    ] = "generic-jet"
    fuel_lb: Annotated[Pounds, Meta(description="fuel at engine start")] | None = None
    mass_lb: (
        Annotated[
            Pounds, Meta(description="mass at engine start, in place of empty aircraft, fuel and stores")
        ]
        | None
    ) = None
    ship: ShipForm = field(default_factory=ShipForm)
    wind: WindForm | None = None
    felt_wind: FeltWindForm | None = None
    wind_aloft: Annotated[tuple[WindAloftForm, ...], Meta(max_length=20)] = ()
    sea: SeaForm = field(default_factory=SeaForm)
    weather: WeatherForm = field(default_factory=WeatherForm)
    store: Annotated[tuple[StoreForm, ...], Meta(max_length=40)] = ()
    flight: Annotated[tuple[FlightForm, ...], Meta(max_length=40)] = ()
    leg: Annotated[tuple[LegForm, ...], Meta(max_length=40)] = ()
    divert: DivertForm | None = None
    tanker: TankerForm | None = None
    approach: ApproachForm | None = None
    fuel: FuelForm = field(default_factory=FuelForm)
    gear: GearForm = field(default_factory=GearForm)
    recovery: RecoveryForm = field(default_factory=RecoveryForm)
    launch: LaunchForm = field(default_factory=LaunchForm)
    pattern: PatternForm = field(default_factory=PatternForm)
    marshal: MarshalForm = field(default_factory=MarshalForm)


def check(form: ScenarioForm) -> Iterator[Problem]:
    """Yield what no single key of a scenario can show."""
    yield from _check_ship(form)
    yield from _check_winds(form)
    yield from _check_flights(form.flight)
    yield from _check_legs(form.leg)
    yield from _check_divert(form)
    yield from _check_curve("gear", form.gear.mass_lb, {"engaging_kt": form.gear.engaging_kt})
    catapult = form.launch.catapult
    if catapult is not None:
        yield from _check_curve("launch.catapult", catapult.mass_lb, {"end_speed_kt": catapult.end_speed_kt})
    yield from _check_pattern(form.pattern)


def _check_ship(form: ScenarioForm) -> Iterator[Problem]:
    ship, recovery = form.ship, form.recovery
    if ship.least_speed_kt > ship.greatest_speed_kt:
        yield Problem(
            "ship.least_speed_kt",
            f"{ship.least_speed_kt:g} kt is more than her greatest speed, {ship.greatest_speed_kt:g} kt.",
            "Give the least speed at which she steers.",
        )
    yield from _check_pair("ship", {"latitude_deg": ship.latitude_deg, "longitude_deg": ship.longitude_deg})
    least, wanted, greatest = wind_range(recovery)
    for low, high, name in ((least, wanted, "least_wind_kt"), (wanted, greatest, "greatest_wind_kt")):
        if low > high:
            yield Problem(
                f"recovery.{name}",
                f"the wanted {wanted:g} kt do not lie between {least:g} and {greatest:g} kt.",
                "Give least_wind_kt, wind_kt and greatest_wind_kt in rising order.",
            )


def wind_range(recovery: RecoveryForm) -> tuple[float, float, float]:
    """Return the least, the wanted and the greatest wind of a recovery, kt."""
    wanted, least, greatest = recovery.wind_kt, recovery.least_wind_kt, recovery.greatest_wind_kt
    return (
        min(LEAST_WIND_KT, wanted) if least is None else least,
        wanted,
        max(GREATEST_WIND_KT, wanted) if greatest is None else greatest,
    )


def _check_winds(form: ScenarioForm) -> Iterator[Problem]:
    if form.wind is not None and form.felt_wind is not None:
        yield Problem(
            "felt_wind",
            "the wind is told twice: as true wind and as the ship feels it.",
            "Leave [wind] or [felt_wind] out.",
        )
    if form.felt_wind is not None:
        for name in ("course_deg", "speed_kt"):
            if getattr(form.ship, name) is None:
                yield Problem(
                    f"ship.{name}",
                    "a wind that the ship feels says nothing without her course and speed.",
                    "Give ship.course_deg and ship.speed_kt, or tell the true wind in [wind].",
                )
    for number, (below, level) in enumerate(pairwise(form.wind_aloft), start=2):
        if level.altitude_ft <= below.altitude_ft:
            yield Problem(
                f"wind_aloft[{number}].altitude_ft",
                f"{level.altitude_ft:g} ft does not lie above the one before, {below.altitude_ft:g} ft.",
                "Order the winds from the lowest up.",
            )


def _check_flights(flights: Sequence[FlightForm]) -> Iterator[Problem]:
    seen: set[str] = set()
    for number, flight in enumerate(flights, start=1):
        if flight.name.casefold() in seen:
            yield Problem(
                f"flight[{number}].name",
                f'a second flight is called "{flight.name}".',
                "Give each flight a name of its own.",
            )
        seen.add(flight.name.casefold())
        if flight.count is not None and flight.crews and len(flight.crews) != flight.count:
            yield Problem(
                f"flight[{number}].crews",
                f"{len(flight.crews)} crews stand beside {flight.count} aircraft.",
                "Give one name for each aircraft, or leave count out.",
            )
        yield from _check_pair(
            f"flight[{number}]",
            {
                name: getattr(flight, name)
                for name in ("bearing_deg", "distance_nm", "altitude_ft", "heading_deg", "airspeed_kt")
            },
        )


def _check_legs(legs: Sequence[LegForm]) -> Iterator[Problem]:
    for number, leg in enumerate(legs, start=1):
        if (leg.minutes is None) == (leg.distance_nm is None):
            yield Problem(
                f"leg[{number}].minutes",
                "a leg lasts some minutes or goes some miles, one of the two.",
                "Give minutes or distance_nm.",
            )
        if leg.distance_nm is not None and leg.airspeed_kt is None:
            yield Problem(
                f"leg[{number}].airspeed_kt",
                "a leg told by its distance needs a speed.",
                "Give airspeed_kt, true airspeed.",
            )
        if leg.flow_pph is not None and leg.like is not None:
            yield Problem(
                f"leg[{number}].like",
                "the fuel flow is told twice.",
                "Give flow_pph, or the name of a level flight in the aircraft file.",
            )


def _check_divert(form: ScenarioForm) -> Iterator[Problem]:
    divert = form.divert
    if divert is None:
        return
    yield from _check_pair("divert", {"bearing_deg": divert.bearing_deg, "distance_nm": divert.distance_nm})
    yield from _check_pair(
        "divert", {"latitude_deg": divert.latitude_deg, "longitude_deg": divert.longitude_deg}
    )
    if divert.latitude_deg is not None and divert.bearing_deg is not None:
        yield Problem(
            "divert.latitude_deg",
            "the field is told twice: by its place, and by bearing and distance.",
            "Leave one of the two out.",
        )
    elif divert.latitude_deg is not None and form.ship.latitude_deg is None:
        yield Problem(
            "ship.latitude_deg",
            "the field is told by its place, and the ship's place is missing.",
            "Give ship.latitude_deg and ship.longitude_deg, or the field by bearing and distance.",
        )


def _check_pattern(pattern: PatternForm) -> Iterator[Problem]:
    order = ("altitude_45_ft", "altitude_90_ft", "downwind_altitude_ft", "initial_altitude_ft")
    for low, high in pairwise(order):
        if getattr(pattern, low) > getattr(pattern, high):
            yield Problem(
                f"pattern.{low}",
                f"{getattr(pattern, low):g} ft is above {high}, {getattr(pattern, high):g} ft.",
                f"The pattern comes down: give {low} below {high}.",
            )


def _check_pair(table: str, values: dict[str, float | None]) -> Iterator[Problem]:
    """Yield a fault for each value that is missing where others of its group are told."""
    missing = [name for name, value in values.items() if value is None]
    if missing and len(missing) < len(values):
        for name in missing:
            yield Problem(
                f"{table}.{name}",
                "this key is missing beside the others that it goes with.",
                f"Give all of {', '.join(values)}, or none.",
            )


def _check_curve(
    table: str, masses: Sequence[float], columns: dict[str, Sequence[float]]
) -> Iterator[Problem]:
    if any(after <= before for before, after in pairwise(masses)):
        yield Problem(
            f"{table}.mass_lb",
            "the masses do not rise from one to the next.",
            "Order them from the lightest, and keep the other list in the same order.",
        )
    for name, column in columns.items():
        if len(column) != len(masses):
            yield Problem(
                f"{table}.{name}",
                f"a list of {len(column)} stands beside {len(masses)} masses.",
                "Give one number for each mass.",
            )
