"""The optional tables of an aircraft file, for predicting and planning.

A list that is a table's argument rises from one value to the next; the other lists of the
table have one value for each of its. Between two values a reader goes straight.
"""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from deckward.foundation.documents import Table

Mass = Annotated[float, Meta(ge=10, le=600_000)]
Source = Annotated[str, Meta(min_length=1, max_length=400, description="where the numbers come from")]
Inertia = Annotated[float, Meta(gt=0, le=1e9, description="about the centre of gravity")]
Derivative = Annotated[float, Meta(ge=-1000, le=1000, description="per radian")]
Force = Annotated[float, Meta(ge=0, le=5e6)]
Change = Annotated[float, Meta(ge=-3, le=3)]
Flow = Annotated[float, Meta(ge=0, le=100)]


class MassForm(Table):
    """What the aircraft weighs, and how it resists turning."""

    empty_kg: Annotated[Mass, Meta(description="ready to fly, without fuel and stores")] | None = None
    reference_kg: Annotated[Mass, Meta(description="mass of the inertias and tables")] | None = None
    max_launch_kg: Annotated[Mass, Meta(description="heaviest mass to launch with")] | None = None
    fuel_kg: Annotated[float, Meta(ge=0, le=300_000, description="fuel that fits inside")] | None = None
    roll_inertia_kgm2: Inertia | None = None
    pitch_inertia_kgm2: Inertia | None = None
    yaw_inertia_kgm2: Inertia | None = None
    source: Source = "not told"


class DerivativesForm(Table):
    """Coefficients' change with what is named, per radian, stability axes.

    Rates are made dimensionless with chord / (2 V) in pitch and span / (2 V) in roll and yaw.
    """

    lift_per_alpha: Derivative | None = None
    lift_per_alpha_rate: Derivative | None = None
    lift_per_pitch_rate: Derivative | None = None
    lift_per_elevator: Derivative | None = None
    drag_per_alpha: Derivative | None = None
    drag_per_elevator: Derivative | None = None
    pitch_per_alpha: Derivative | None = None
    pitch_per_alpha_rate: Derivative | None = None
    pitch_per_pitch_rate: Derivative | None = None
    pitch_per_elevator: Derivative | None = None
    drag_per_sideslip: (
        Annotated[float, Meta(ge=0, le=5, description="drag of sideslip to either side")] | None
    ) = None
    side_per_sideslip: Derivative | None = None
    roll_per_sideslip: Derivative | None = None
    roll_per_roll_rate: Derivative | None = None
    roll_per_yaw_rate: Derivative | None = None
    roll_per_aileron: Derivative | None = None
    yaw_per_sideslip: Derivative | None = None
    yaw_per_roll_rate: Derivative | None = None
    yaw_per_yaw_rate: Derivative | None = None
    yaw_per_rudder: Derivative | None = None


class AerodynamicsForm(Table):
    """Lift and drag in approach configuration, gear, flaps and hook down."""

    source: Source
    reference_area_m2: Annotated[float, Meta(gt=1, le=2000, description="wing area of the coefficients")]
    span_m: Annotated[float, Meta(gt=1, le=150, description="wing span")]
    chord_m: Annotated[float, Meta(gt=0.2, le=30, description="mean aerodynamic chord")]
    angle_of_attack_deg: Annotated[
        tuple[Annotated[float, Meta(ge=-20, le=60)], ...],
        Meta(min_length=2, max_length=100, description="angles of attack of the two tables below, rising"),
    ]
    lift_coefficient: Annotated[
        tuple[Annotated[float, Meta(ge=-3, le=6)], ...],
        Meta(min_length=2, max_length=100, description="trimmed lift coefficient at each"),
    ]
    drag_coefficient: Annotated[
        tuple[Annotated[float, Meta(gt=0, le=6)], ...],
        Meta(min_length=2, max_length=100, description="trimmed drag coefficient at each"),
    ]
    configuration: Annotated[str, Meta(max_length=200, description="what is down or out")] = (
        "gear, flaps and hook down"
    )
    elevator: Annotated[
        Literal["trimmed", "fixed"],
        Meta(description="whether the two tables hold with the elevator that trims, or with a fixed one"),
    ] = "trimmed"
    elevator_limit_deg: Annotated[
        float, Meta(gt=0, le=60, description="how far the elevator goes either way from on-speed trim")
    ] = 20.0
    above_centre_m: Annotated[
        float,
        Meta(
            ge=-10,
            le=10,
            description="height over the centre of gravity of the point the derivatives hold at",
        ),
    ] = 0.0
    drag_per_lift_squared: Annotated[
        float, Meta(ge=0, le=1, description="drag coefficient that lift induces, over its square")
    ] = 0.0
    gear_drag: Annotated[Change, Meta(description="drag coefficient of the gear")] = 0.0
    flaps_lift: Annotated[Change, Meta(description="lift coefficient that the flaps add")] = 0.0
    flaps_drag: Annotated[
        Change, Meta(description="drag coefficient of the flaps, without what their lift induces")
    ] = 0.0
    speed_brake_lift: Annotated[Change, Meta(description="lift coefficient that the speed brake adds")] = 0.0
    speed_brake_drag: Annotated[Change, Meta(description="drag coefficient of the speed brake")] = 0.0
    blown_lift: Annotated[
        Change, Meta(description="lift coefficient lost where the engine no longer blows the flaps")
    ] = 0.0
    blown_above_power: Annotated[
        float, Meta(ge=0, le=1, description="power from which on the engine blows the flaps")
    ] = 0.0
    derivatives: DerivativesForm | None = None


class EngineForm(Table):
    """Thrust of all engines together, near the sea at approach speed, and how it follows.

    Power runs from 0 at idle to 1 at military. It goes to where the throttle stands, no
    quicker than ``rise_per_s`` and ``fall_per_s`` of its range a second, and thrust follows
    power through a first-order lag of ``lag_s``.
    """

    source: Source
    power: Annotated[
        tuple[Annotated[float, Meta(ge=0, le=1)], ...],
        Meta(min_length=2, max_length=50, description="power from idle (0) to military (1), rising"),
    ]
    thrust_n: Annotated[
        tuple[Force, ...],
        Meta(min_length=2, max_length=50, description="thrust of all engines at each power"),
    ]
    rise_per_s: (
        Annotated[
            tuple[Annotated[float, Meta(gt=0, le=50)], ...],
            Meta(min_length=2, max_length=50, description="quickest rise of power at each power"),
        ]
        | None
    ) = None
    fall_per_s: (
        Annotated[
            tuple[Annotated[float, Meta(gt=0, le=50)], ...],
            Meta(min_length=2, max_length=50, description="quickest fall of power at each power"),
        ]
        | None
    ) = None
    lag_s: Annotated[float, Meta(ge=0, le=20, description="time constant from power to thrust")] = 0.0
    above_centre_m: Annotated[
        float, Meta(ge=-10, le=10, description="height of the thrust line over the centre of gravity")
    ] = 0.0
    afterburner_n: Annotated[Force, Meta(description="thrust of all engines, fully lit")] | None = None
    afterburner_light_s: Annotated[float, Meta(ge=0, le=20, description="time to light it")] = 0.0


class LaunchForm(Table):
    """The launch, by mass."""

    source: Source
    mass_kg: Annotated[
        tuple[Mass, ...], Meta(min_length=2, max_length=50, description="masses of the tables below, rising")
    ]
    trim_deg: Annotated[
        tuple[Annotated[float, Meta(ge=-40, le=40)], ...],
        Meta(min_length=2, max_length=50, description="pitch trim to set, + nose up, at each"),
    ]
    end_airspeed_kt: Annotated[
        tuple[Annotated[float, Meta(gt=20, le=400)], ...],
        Meta(min_length=2, max_length=50, description="least airspeed at the end of the stroke, at each"),
    ]
    afterburner_above_kg: (
        Annotated[Mass, Meta(description="from this mass on it launches with afterburner")] | None
    ) = None
    flaps: Annotated[str, Meta(max_length=80, description="flap setting")] = ""
    flaps_at: (
        Annotated[float, Meta(ge=0, le=1, description="where the recorded flaps stand at that setting")]
        | None
    ) = None
    pitch_trim: (
        Annotated[
            tuple[Annotated[float, Meta(ge=-1, le=1)], ...],
            Meta(min_length=2, max_length=50, description="recorded pitch trim at each mass"),
        ]
        | None
    ) = None
    flaps_part: Annotated[
        float, Meta(ge=0, le=1, description="part of the approach's flaps that the launch is flown with")
    ] = 1.0
    stance_deg: (
        Annotated[float, Meta(ge=-10, le=25, description="pitch attitude as the catapult lets go")] | None
    ) = None
    engines: Annotated[int, Meta(ge=1, le=8, description="how many: of two or more, one may fail")] = 1
    steps: Annotated[
        tuple[Annotated[str, Meta(min_length=1, max_length=120)], ...],
        Meta(max_length=40, description="what to do before the shot, in order"),
    ] = ()


class LevelForm(Table):
    """Fuel flow of the whole aircraft in one kind of level flight."""

    name: Annotated[str, Meta(min_length=1, max_length=80, description='such as "holding" or "pattern"')]
    altitude_ft: Annotated[float, Meta(ge=-1000, le=60_000, description="pressure altitude")]
    airspeed_kt: Annotated[float, Meta(gt=20, le=1200, description="calibrated airspeed")]
    mass_kg: Annotated[Mass, Meta(description="mass it was found at")]
    flow_kgps: Annotated[Flow, Meta(description="fuel flow")]


Altitudes = Annotated[
    tuple[Annotated[float, Meta(ge=0, le=60_000)], ...],
    Meta(min_length=2, max_length=50, description="altitudes of the tables below, rising"),
]


class SlopeForm(Table):
    """A climb from the sea to each altitude, or a descent from it to the sea, in still air."""

    altitude_ft: Altitudes
    minutes: Annotated[
        tuple[Annotated[float, Meta(ge=0, le=120)], ...],
        Meta(min_length=2, max_length=50, description="time it takes, to each"),
    ]
    distance_nm: Annotated[
        tuple[Annotated[float, Meta(ge=0, le=500)], ...],
        Meta(min_length=2, max_length=50, description="distance it goes, to each"),
    ]
    fuel_kg: Annotated[
        tuple[Annotated[float, Meta(ge=0, le=50_000)], ...],
        Meta(min_length=2, max_length=50, description="fuel it takes, to each"),
    ]


class CruiseForm(Table):
    """Cruise for range."""

    altitude_ft: Altitudes
    airspeed_kt: Annotated[
        tuple[Annotated[float, Meta(gt=50, le=1200)], ...],
        Meta(min_length=2, max_length=50, description="true airspeed, at each"),
    ]
    flow_kgps: Annotated[
        tuple[Flow, ...], Meta(min_length=2, max_length=50, description="fuel flow of the aircraft, at each")
    ]


class FuelForm(Table):
    """What it burns."""

    source: Source
    thrust_n: Annotated[
        tuple[Force, ...], Meta(max_length=50, description="thrust of all engines near the sea, rising")
    ] = ()
    flow_kgps: Annotated[tuple[Flow, ...], Meta(max_length=50, description="fuel flow at each thrust")] = ()
    reserve_kg: Annotated[float, Meta(ge=0, le=100_000, description="fuel never to plan with")] | None = None
    level: Annotated[
        tuple[LevelForm, ...], Meta(max_length=50, description="fuel flows in level flight")
    ] = ()
    climb: SlopeForm | None = None
    cruise: CruiseForm | None = None
    descent: SlopeForm | None = None
