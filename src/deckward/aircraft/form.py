"""The form of an aircraft file: its keys, their ranges, and what each of them is.

A debrief needs ``[points_m]`` and ``[approach]``. The tables of mass, aerodynamics, engine,
launch and fuel are for predicting and planning; where they stand they are held to their form.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Annotated

from msgspec import Meta

from deckward.aircraft.tables import AerodynamicsForm, EngineForm, FuelForm, LaunchForm, MassForm
from deckward.foundation.documents import Problem, Table

#: air path against deck path, where the pass itself cannot tell: closure over true airspeed
USUAL_CLOSURE = 0.82
USUAL_BASIC_ANGLE_DEG = 3.5

Offset = Annotated[float, Meta(ge=-60, le=60)]
Spread = Annotated[float, Meta(ge=0, le=20)]
Point = tuple[Offset, Offset, Offset]
Spreads = tuple[Spread, Spread, Spread]
Angle = Annotated[float, Meta(ge=-10, le=40)]


class PointsForm(Table):
    """Where things are on the aircraft, from the point whose track is recorded."""

    eye: Annotated[Point, Meta(description="the pilot's eye: metres forward, right, down")]
    hook: Annotated[Point, Meta(description="the hook point, hook down: metres forward, right, down")]
    main_wheels: Annotated[
        Point, Meta(description="where the right main wheel meets the deck: metres forward, right, down")
    ]
    nose_wheel: Annotated[
        Point, Meta(description="where the nose wheel meets the deck: metres forward, right, down")
    ]


class ApproachForm(Table):
    """Flying the approach."""

    on_speed_deg: Annotated[
        float, Meta(ge=-5, le=30, description="on-speed angle of attack in degrees, not in cockpit units")
    ]
    on_speed_band_deg: Annotated[
        tuple[Angle, Angle], Meta(description="angle of attack, lower and upper end of on-speed")
    ]
    slight_band_deg: Annotated[
        tuple[Angle, Angle], Meta(description="angle of attack, outside of which it is fast or slow")
    ]
    on_speed_pitch_deg: Annotated[Angle, Meta(description="pitch attitude on speed")] | None = None
    max_landing_mass_kg: (
        Annotated[float, Meta(ge=100, le=600_000, description="heaviest mass to land with")] | None
    ) = None


class SigmaForm(Table):
    """How well the profile is known: one standard deviation of each."""

    eye_m: Annotated[Spreads, Meta(description="of points_m.eye, each direction")] = (0.0, 0.0, 0.0)
    hook_m: Annotated[Spreads, Meta(description="of points_m.hook, each direction")] = (0.0, 0.0, 0.0)
    main_wheels_m: Annotated[Spreads, Meta(description="of points_m.main_wheels, each direction")] = (
        0.0,
        0.0,
        0.0,
    )
    nose_wheel_m: Annotated[Spreads, Meta(description="of points_m.nose_wheel, each direction")] = (
        0.0,
        0.0,
        0.0,
    )
    on_speed_deg: Annotated[float, Meta(ge=0, le=10, description="of approach.on_speed_deg")] = 0.0


class ProfileForm(Table):
    """An aircraft file."""

    name: Annotated[str, Meta(min_length=1, max_length=80, description="what the aircraft is called")]
    points_m: PointsForm
    approach: ApproachForm
    description: Annotated[str, Meta(max_length=400, description="one line about it, for lists")] = ""
    sigma: SigmaForm | None = None
    mass: MassForm | None = None
    aerodynamics: AerodynamicsForm | None = None
    engine: EngineForm | None = None
    launch: LaunchForm | None = None
    fuel: FuelForm | None = None


def check(form: ProfileForm) -> Iterator[Problem]:
    """Yield what no single key of an aircraft file can show."""
    yield from _check_bands(form.approach)
    yield from _check_points(form)
    yield from _check_masses(form)
    yield from _check_tables(form)


def _check_bands(approach: ApproachForm) -> Iterator[Problem]:
    on_speed = approach.on_speed_deg
    low, high = approach.on_speed_band_deg
    if not low <= on_speed <= high or low == high:
        yield Problem(
            "approach.on_speed_band_deg",
            f"on-speed ({on_speed:g}) does not lie between {low:g} and {high:g}.",
            "Give the lower end first, below on_speed_deg, then the upper end.",
        )
    outer_low, outer_high = approach.slight_band_deg
    if not (outer_low <= low and high <= outer_high):
        yield Problem(
            "approach.slight_band_deg",
            f"{outer_low:g} to {outer_high:g} does not hold the on-speed band, {low:g} to {high:g}.",
            "The on-speed band lies inside this one.",
        )


def _check_points(form: ProfileForm) -> Iterator[Problem]:
    points, approach = form.points_m, form.approach
    if points.main_wheels[1] <= 0:
        yield Problem(
            "points_m.main_wheels",
            f"its second number, metres to the right, is {points.main_wheels[1]:g}.",
            "Give the right wheel, above 0; the left one mirrors it.",
        )
    if points.eye[2] >= points.main_wheels[2]:
        yield Problem(
            "points_m.eye",
            f"the eye ({points.eye[2]:g} m down) is not above the wheels ({points.main_wheels[2]:g} m down).",
            "The third number counts down: give the eye a smaller one, usually below 0.",
        )
    pitch_deg = approach.on_speed_pitch_deg
    if pitch_deg is None:
        pitch_deg = approach.on_speed_deg - USUAL_CLOSURE * USUAL_BASIC_ANGLE_DEG
    hook, wheels = (_below(point, pitch_deg) for point in (points.hook, points.main_wheels))
    if hook < wheels - 0.05:
        yield Problem(
            "points_m.hook",
            f"at {pitch_deg:.1f} deg of pitch the hook hangs {wheels - hook:.2f} m above the main wheels and "
            "could not meet the deck.",
            "Give the hook point with the hook down; the third number counts down. "
            "An aircraft without a hook takes its main wheels' point, in the middle.",
        )


def _below(point: Sequence[float], pitch_deg: float) -> float:
    """How far a body point lies below the reference point, m, at a pitch attitude."""
    pitch = math.radians(pitch_deg)
    return point[2] * math.cos(pitch) - point[0] * math.sin(pitch)


def _check_masses(form: ProfileForm) -> Iterator[Problem]:
    mass, landing = form.mass, form.approach.max_landing_mass_kg
    if mass is None or mass.empty_kg is None:
        return
    if mass.max_launch_kg is not None and mass.max_launch_kg <= mass.empty_kg:
        yield Problem(
            "mass.max_launch_kg",
            f"{mass.max_launch_kg:g} kg is no more than the empty aircraft, {mass.empty_kg:g} kg.",
            "Give the heaviest mass to launch with, in kilograms.",
        )
    if landing is not None and landing <= mass.empty_kg:
        yield Problem(
            "approach.max_landing_mass_kg",
            f"{landing:g} kg is no more than the empty aircraft, {mass.empty_kg:g} kg.",
            "Give the heaviest mass to land with, in kilograms.",
        )


def _check_tables(form: ProfileForm) -> Iterator[Problem]:
    if form.aerodynamics:
        aero = form.aerodynamics
        yield from _check_table(
            "aerodynamics",
            "angle_of_attack_deg",
            aero.angle_of_attack_deg,
            {"lift_coefficient": aero.lift_coefficient, "drag_coefficient": aero.drag_coefficient},
        )
        low, high, on_speed = min(aero.angle_of_attack_deg), max(aero.angle_of_attack_deg), form.approach
        if not low <= on_speed.on_speed_deg <= high:
            yield Problem(
                "aerodynamics.angle_of_attack_deg",
                f"the table, {low:g} to {high:g} deg, does not reach on-speed ({on_speed.on_speed_deg:g}).",
                "Give the tables around the approach.",
            )
    if form.engine:
        engine = form.engine
        yield from _check_table(
            "engine",
            "power",
            engine.power,
            {"thrust_n": engine.thrust_n, "rise_per_s": engine.rise_per_s, "fall_per_s": engine.fall_per_s},
        )
        if any(b < a for a, b in pairwise(engine.thrust_n)):
            yield Problem("engine.thrust_n", "thrust falls while power rises.", "Order both from idle up.")
        if engine.afterburner_n is not None and engine.afterburner_n <= engine.thrust_n[-1]:
            yield Problem(
                "engine.afterburner_n",
                f"{engine.afterburner_n:g} N is no more than without it ({engine.thrust_n[-1]:g} N).",
                "Give the thrust of all engines with full afterburner, or leave the key out.",
            )
    if form.launch:
        launch = form.launch
        yield from _check_table(
            "launch",
            "mass_kg",
            launch.mass_kg,
            {
                "trim_deg": launch.trim_deg,
                "end_airspeed_kt": launch.end_airspeed_kt,
                "pitch_trim": launch.pitch_trim,
            },
        )
    if form.fuel and (form.fuel.thrust_n or form.fuel.flow_kgps):
        yield from _check_table("fuel", "thrust_n", form.fuel.thrust_n, {"flow_kgps": form.fuel.flow_kgps})
    for name in ("climb", "cruise", "descent"):
        flown = getattr(form.fuel, name, None)
        if flown is not None:
            columns = {key: getattr(flown, key) for key in flown.__struct_fields__ if key != "altitude_ft"}
            yield from _check_table(f"fuel.{name}", "altitude_ft", flown.altitude_ft, columns)


def _check_table(
    table: str, argument: str, values: Sequence[float], columns: dict[str, Sequence[float] | None]
) -> Iterator[Problem]:
    if any(after <= before for before, after in pairwise(values)):
        yield Problem(
            f"{table}.{argument}",
            "the values do not rise from one to the next.",
            "Order the table by this key, and keep the other lists in the same order.",
        )
    for name, column in columns.items():
        if column is not None and len(column) != len(values):
            yield Problem(
                f"{table}.{name}",
                f"a list of {len(column)} stands beside {len(values)} of {argument}.",
                f"Give one number for each {argument}.",
            )
