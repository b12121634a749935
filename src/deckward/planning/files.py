"""Scenarios from TOML files and from what a person typed: the bundled ones and a person's own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from deckward import aircraft as profiles
from deckward import site as sites
from deckward.environment import wind as winds
from deckward.errors import InputError
from deckward.foundation import documents
from deckward.foundation.shelf import Shelf
from deckward.foundation.units import FOOT, STANDARD_GRAVITY, to_si
from deckward.planning import form as forms
from deckward.planning import scenario as model
from deckward.planning.form import ScenarioForm, check
from deckward.planning.scenario import Scenario

SHELF = Shelf("scenario", "SCENARIO", Path(__file__).parent / "bundled")
#: the TOML text of a bundled one, to start a file of one's own from
source = SHELF.source


def load(name_or_path: str | Path | None = None, *, typed: Mapping[str, Any] | None = None) -> Scenario:
    """Read a scenario by its bundled name or from a file, or make one of typed facts alone.

    ``typed`` has values by their keys (``wind.from_deg``); they win over the file's. The
    site and aircraft files that a scenario names are looked for beside it first.

    Raises:
        InputError: no such scenario, or a fact that cannot be used.

    >>> load(typed={"wind.from_deg": 250, "wind.speed_kt": 20}).recovering
    1
    """
    text, file = ("", "") if name_or_path is None else SHELF.find(name_or_path)
    form = documents.parse(text, ScenarioForm, file=file, check=check, typed=typed or {})
    folder = None
    if name_or_path is not None and SHELF.name_of(name_or_path) is None:
        folder = Path(name_or_path).parent
    try:
        return _scenario(form, folder)
    except InputError as fault:
        key = (fault.place or "").removeprefix("--")
        if not file or fault.file or key in (typed or {}):
            raise
        # what the scenario names is not there
        place = f"key {key}" if key in ("site", "aircraft") else fault.place
        raise InputError(fault.problem, file=file, place=place, remedy=fault.remedy) from fault


def bundled() -> dict[str, str]:
    """Return the bundled scenarios' names, each with one line about it."""
    return {name: load(name).description for name in SHELF.names()}


def _beside(folder: Path | None, name: str) -> str | Path:
    """Take a file that stands beside the scenario before a bundled one or a path from here."""
    if folder is not None and (folder / name).is_file():
        return folder / name
    return name


def _scenario(form: ScenarioForm, folder: Path | None) -> Scenario:
    ship = _ship(form.ship)
    site = sites.load(_beside(folder, form.site))
    if site.is_field:
        raise InputError(
            f"{site.name} is a field, and a plan needs a ship.",
            place="key site",
            remedy="Name a ship: deckward sites.",
        )
    felt = None
    if form.felt_wind is not None:
        felt = model.FeltWind(to_si(form.felt_wind.from_bow_deg, "deg"), to_si(form.felt_wind.speed_kt, "kt"))
    return Scenario(
        name=form.name,
        description=form.description,
        time=_clock(form.time),
        site=site,
        aircraft=profiles.load(_beside(folder, form.aircraft)),
        ship=ship,
        wind=_wind(form.wind, felt, ship),
        felt_wind=felt,
        winds_aloft=tuple(
            model.WindAloft(to_si(w.altitude_ft, "ft"), to_si(w.from_deg, "deg"), to_si(w.speed_kt, "kt"))
            for w in form.wind_aloft
        ),
        sea=model.Sea(form.sea.state, form.sea.wave_height_m),
        weather=model.Weather(
            ceiling=_si(form.weather.ceiling_ft, "ft"),
            visibility=_si(form.weather.visibility_nm, "nm"),
            night=form.weather.night,
            sea_pressure=to_si(form.weather.sea_pressure_hpa, "hpa"),
            sea_temperature=to_si(form.weather.temperature_c, "c"),
        ),
        load=model.Load(
            fuel=_si(form.fuel_lb, "lb"),
            gross=_si(form.mass_lb, "lb"),
            stores=tuple(
                model.Store(s.name, to_si(s.mass_lb, "lb"), s.count, to_si(s.right_ft, "ft"), s.kept)
                for s in form.store
            ),
        ),
        flights=tuple(_flight(one, form.time) for one in form.flight),
        legs=tuple(_leg(one) for one in form.leg),
        divert=None if form.divert is None else _divert(form.divert),
        tanker=None if form.tanker is None else _tanker(form.tanker),
        on_speed=None
        if form.approach is None
        else model.ToldSpeed(to_si(form.approach.on_speed_kt, "kt"), to_si(form.approach.at_mass_lb, "lb")),
        fuel=model.FuelRules(
            flow_share=to_si(form.fuel.flow_pct, "pct"),
            start=to_si(form.fuel.start_lb, "lb"),
            looks=form.fuel.looks,
            margin=to_si(form.fuel.margin_lb, "lb"),
            holding=_si(form.fuel.holding_pph, "pph"),
            pattern=_si(form.fuel.pattern_pph, "pph"),
            trip=_si(form.fuel.trip_min, "min"),
            inbound=_si(form.fuel.inbound_min, "min"),
        ),
        recovery=_recovery(form),
        launch=_launch(form.launch),
        pattern=_pattern(form.pattern),
        marshal=model.Marshal(
            radial=_si(form.marshal.radial_deg, "deg"),
            lowest_altitude=to_si(form.marshal.lowest_altitude_ft, "ft"),
            push=_clock(form.marshal.push),
            interval=form.marshal.interval_s,
            airspeed=to_si(form.marshal.airspeed_kt, "kt"),
            leg=form.marshal.leg_s,
            turn_in=to_si(form.marshal.turn_in_nm, "nm"),
        ),
    )


def _ship(form: forms.ShipForm) -> model.Ship:
    return model.Ship(
        course=_si(form.course_deg, "deg"),
        speed=_si(form.speed_kt, "kt"),
        least_speed=to_si(form.least_speed_kt, "kt"),
        greatest_speed=to_si(form.greatest_speed_kt, "kt"),
        courses=tuple((to_si(a, "deg"), to_si(b, "deg")) for a, b in form.courses_deg),
        sea_room=_si(form.sea_room_nm, "nm"),
        turn_rate=to_si(form.turn_deg_per_s, "deg"),
        latitude=_si(form.latitude_deg, "deg"),
        longitude=_si(form.longitude_deg, "deg"),
        bow_height=to_si(form.bow_height_ft, "ft"),
    )


def _wind(
    form: forms.WindForm | None, felt: model.FeltWind | None, ship: model.Ship
) -> model.WindFact | None:
    """Take the true wind as told, or find it from what the ship feels."""
    if form is not None:
        return model.WindFact(
            to_si(form.from_deg, "deg"),
            to_si(form.speed_kt, "kt"),
            to_si(form.from_spread_deg, "deg"),
            to_si(form.speed_spread_kt, "kt"),
        )
    if felt is None:
        return None
    found = winds.true_wind(
        relative_from_bow=felt.from_bow, relative_speed=felt.speed, course=ship.course, speed=ship.speed
    )
    return model.WindFact(float(found.from_direction), float(found.speed), 0.0, 0.0)


def _flight(form: forms.FlightForm, now: str | None) -> model.Flight:
    where = None
    if form.bearing_deg is not None:
        where = model.Whereabouts(
            to_si(form.bearing_deg, "deg"),
            to_si(form.distance_nm, "nm"),
            to_si(form.altitude_ft, "ft"),
            to_si(form.heading_deg, "deg"),
            to_si(form.airspeed_kt, "kt"),
        )
    return model.Flight(
        name=form.name,
        count=form.count or len(form.crews) or 1,
        crews=form.crews,
        time=_clock(form.at or now),
        fuel=_si(form.fuel_lb, "lb"),
        where=where,
    )


def _leg(form: forms.LegForm) -> model.Leg:
    return model.Leg(
        name=form.name,
        seconds=_si(form.minutes, "min"),
        distance=_si(form.distance_nm, "nm"),
        track=_si(form.track_deg, "deg"),
        altitude=to_si(form.altitude_ft, "ft"),
        airspeed=_si(form.airspeed_kt, "kt"),
        flow=_si(form.flow_pph, "pph"),
        like=form.like,
    )


def _divert(form: forms.DivertForm) -> model.Divert:
    return model.Divert(
        name=form.name,
        bearing=_si(form.bearing_deg, "deg"),
        distance=_si(form.distance_nm, "nm"),
        latitude=_si(form.latitude_deg, "deg"),
        longitude=_si(form.longitude_deg, "deg"),
        reserve=_si(form.reserve_lb, "lb"),
        bingo=_si(form.bingo_lb, "lb"),
    )


def _tanker(form: forms.TankerForm) -> model.Tanker:
    return model.Tanker(
        give=to_si(form.give_lb, "lb"),
        distance=to_si(form.distance_nm, "nm"),
        altitude=to_si(form.altitude_ft, "ft"),
        seconds=to_si(form.minutes, "min"),
    )


def _recovery(form: ScenarioForm) -> model.Recovery:
    recovery, gear = form.recovery, form.gear
    least, wanted, greatest = _each(forms.wind_range(recovery), "kt")
    return model.Recovery(
        time=_clock(recovery.time),
        aircraft=recovery.aircraft,
        interval=recovery.interval_s,
        wind=wanted,
        least_wind=least,
        greatest_wind=greatest,
        crosswind=to_si(recovery.crosswind_kt, "kt"),
        basic_angle=_si(recovery.basic_angle_deg, "deg"),
        landing_mass=_si(recovery.landing_mass_lb, "lb"),
        case=recovery.case,
        gear=model.Gear(
            # a foot-pound is the work of a pound's weight over a foot
            energy=to_si(gear.energy_ftlb, "lb") * STANDARD_GRAVITY * FOOT,
            run_out=to_si(gear.run_out_ft, "ft"),
            masses=_each(gear.mass_lb, "lb"),
            engaging_speeds=_each(gear.engaging_kt, "kt"),
        ),
    )


def _launch(form: forms.LaunchForm) -> model.Launch:
    catapult = form.catapult
    return model.Launch(
        time=_clock(form.time),
        aircraft=form.aircraft,
        interval=form.interval_s,
        wind=_si(form.wind_kt, "kt"),
        greatest_wind=to_si(form.greatest_wind_kt, "kt"),
        crosswind=to_si(form.crosswind_kt, "kt"),
        margin=to_si(form.margin_kt, "kt"),
        catapult_angle=to_si(form.catapult_angle_deg, "deg"),
        catapult=None
        if catapult is None
        else model.Catapult(
            masses=_each(catapult.mass_lb, "lb"),
            end_speeds=_each(catapult.end_speed_kt, "kt"),
            stroke=to_si(catapult.stroke_ft, "ft"),
            capacity=to_si(catapult.capacity_pct, "pct"),
        ),
    )


def _pattern(form: forms.PatternForm) -> model.Pattern:
    return model.Pattern(
        initial_altitude=to_si(form.initial_altitude_ft, "ft"),
        initial_airspeed=to_si(form.initial_airspeed_kt, "kt"),
        initial_distance=to_si(form.initial_nm, "nm"),
        downwind_altitude=to_si(form.downwind_altitude_ft, "ft"),
        altitude_90=to_si(form.altitude_90_ft, "ft"),
        altitude_45=to_si(form.altitude_45_ft, "ft"),
        abeam=_si(form.abeam_nm, "nm"),
        bank=to_si(form.bank_deg, "deg"),
        groove=form.groove_s,
        hold=form.hold,
        stack_altitude=to_si(form.stack_altitude_ft, "ft"),
    )


def _si(value: float | None, suffix: str) -> float | None:
    return None if value is None else to_si(value, suffix)


def _each(values: Iterable[float], suffix: str) -> tuple[float, ...]:
    return tuple(to_si(value, suffix) for value in values)


def _clock(text: str | None) -> float | None:
    """Read a clock time as seconds from midnight."""
    if text is None:
        return None
    hours, minutes, *seconds = (int(part) for part in text.split(":"))
    return 3600.0 * hours + 60.0 * minutes + (seconds[0] if seconds else 0)
