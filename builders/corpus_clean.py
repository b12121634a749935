"""The clean corpus: its cases, listed in cases_clean.toml, as plans and forms of recordings."""

from __future__ import annotations

import tomllib
from pathlib import Path

from fly_deck import DeckPlan
from fly_jet import TYPES
from fly_plan import Plan
from fly_record import COMMON, POSE, Form
from fly_ship import ShipPlan
from sites import field, ship

MEDIUM = {
    "pitch": ((0.50, 0.60, 0.3), (0.30, 0.63, 1.1)),
    "roll": ((1.2, 0.50, 0.0), (0.9, 0.52, 2.0)),
    "heave": ((0.8, 0.60, 0.9), (0.3, 0.20, 0.2)),
}
PITCHING = {"pitch": ((1.1, 0.62, 0.5), (0.4, 0.78, 2.2))}
ROLLING = {"roll": ((2.6, 0.33, 0.4), (0.8, 0.41, 1.0)), "list_roll": 0.4}
HEAVING = {"heave": ((1.3, 0.66, 0.0), (0.5, 0.48, 1.5))}
HEAVY = {
    "pitch": ((1.0, 0.55, 0.1), (0.6, 0.71, 0.9)),
    "roll": ((2.0, 0.37, 1.2), (1.0, 0.45, 0.3)),
    "heave": ((1.5, 0.52, 2.1), (0.6, 0.69, 0.4)),
}
FULL = (
    *POSE, "true_airspeed", "indicated_airspeed", "angle_of_attack", "vertical_speed", "velocity_north",
    "velocity_east", "velocity_down", "normal_acceleration", "throttle", "engine_rpm", "fuel_flow", "mass",
    "stick_pitch", "stick_roll", "gear", "flaps", "hook", "weight_on_wheels",
)  # fmt: skip


def without(*names):
    return tuple(c for c in COMMON if c not in names)


def plan_at(
    jet, key, place, heading, *, speed=20.0, wind=(0.0, 10.0), motion=None, turn=0.0, lens=None, **more
):
    """A plan at a ship; ``wind`` is (degrees from the bow, + to starboard, knots)."""
    site, height = ship(key, **(lens or {}))
    kind = TYPES[jet]
    sails = ShipPlan(
        latitude=place[0],
        longitude=place[1],
        heading=heading,
        speed_kt=speed,
        height=height,
        turn_rate=turn,
        **(motion or {}),
    )
    return Plan(
        jet=jet,
        site=site,
        ship=sails,
        points=more.pop("points", kind.points),
        on_speed=kind.on_speed,
        wind_from=round((heading + wind[0]) % 360.0, 1),
        wind_kt=wind[1],
        **more,
    )


def plan_field(jet, key, *, wind=(10.0, 8.0), lens=None, **more):
    site = field(key, **(lens or {}))
    kind, place = TYPES[jet], site["place"]
    stands = ShipPlan(
        latitude=place["latitude_deg"],
        longitude=place["longitude_deg"],
        heading=place["heading_deg"],
        height=place["elevation_m"],
    )
    return Plan(
        jet=jet,
        site=site,
        ship=stands,
        points=kind.points,
        on_speed=kind.on_speed,
        wind_from=round((place["heading_deg"] + wind[0]) % 360.0, 1),
        wind_kt=wind[1],
        **more,
    )


MOTIONS = {
    "medium": MEDIUM,
    "pitching": PITCHING,
    "rolling": ROLLING,
    "heaving": HEAVING,
    "heavy": HEAVY,
}


def cases(make):
    """All cases; ``make`` is the case's class."""
    listed = tomllib.loads(Path(__file__).with_name("cases_clean.toml").read_text())
    return [make(name=name, **_case(entry)) for name, entry in listed.items()]


def _case(entry: dict) -> dict:
    """Arguments of a case from its table."""
    entry = {key: _tuples(value) for key, value in entry.items()}
    where, plan = entry.pop("place"), dict(entry.pop("plan", {}))
    plan["told"] = (entry.pop("told"),)
    if "motion" in plan:
        plan["motion"] = MOTIONS[plan["motion"]]
    if "deck" in plan:
        plan["deck"] = DeckPlan(**plan["deck"])
    form = dict(entry.pop("form", {}))
    channels = form.get("channels")
    if channels == "full":
        form["channels"] = FULL
    elif isinstance(channels, dict):
        form["channels"] = without(*channels["without"])
    if "expect" in entry:
        outcome, wire = entry["expect"]
        entry["expect"] = (outcome, None if wire == "none" else wire)
    if "field" in where:
        made = plan_field(where["jet"], where["field"], **plan)
    else:
        made = plan_at(where["jet"], where["ship"], where["place"], where["heading"], **plan)
    return {"plan": made, "form": Form(**form), **entry}


def _tuples(value):
    """Lists as tuples, all the way down."""
    if isinstance(value, list):
        return tuple(_tuples(v) for v in value)
    if isinstance(value, dict):
        return {k: _tuples(v) for k, v in value.items()}
    return value
