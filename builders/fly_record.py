"""Write a flown pass as a person's recording: rows at a rate, columns, units, formats, files."""

from __future__ import annotations

import gzip
import json
import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pymap3d
from fly_geometry import KNOT, local_axes, to_earth_centred, to_geodetic
from fly_plan import Flight

DEGREES = 180.0 / math.pi
UNITS = {  # factor from SI
    "m": 1.0, "ft": 1 / 0.3048, "nm": 1 / 1852.0, "mps": 1.0, "kt": 1 / KNOT, "fps": 1 / 0.3048,
    "kmh": 3.6, "fpm": 60 / 0.3048, "deg": DEGREES, "rad": 1.0, "s": 1.0, "ms": 1000.0, "min": 1 / 60,
    "kg": 1.0, "lb": 1 / 0.45359237, "kgps": 1.0, "pph": 3600 / 0.45359237, "g": 1 / 9.80665,
    "mps2": 1.0, "pct": 100.0, "": 1.0,
}  # fmt: skip
DECIMALS = {
    "latitude": 9, "longitude": 9, "altitude": 4, "north": 4, "east": 4, "up": 4, "heading": 4, "pitch": 4,
    "roll": 4, "true_airspeed": 3, "indicated_airspeed": 3, "angle_of_attack": 4, "vertical_speed": 4,
    "velocity_north": 4, "velocity_east": 4, "velocity_down": 4, "normal_acceleration": 4, "throttle": 4,
    "engine_rpm": 2, "fuel_flow": 3, "mass": 1, "stick_pitch": 4, "stick_roll": 4, "gear": 2, "flaps": 2,
    "hook": 0, "weight_on_wheels": 0,
}  # fmt: skip
POSE = ("heading", "pitch", "roll")
COMMON = (*POSE, "true_airspeed", "indicated_airspeed", "angle_of_attack", "throttle", "gear", "hook")
DEFAULT_UNITS = {
    "time": "s", "latitude": "deg", "longitude": "deg", "altitude": "m", "north": "m", "east": "m",
    "up": "m", "heading": "deg", "pitch": "deg", "roll": "deg", "true_airspeed": "kt",
    "indicated_airspeed": "kt", "angle_of_attack": "deg", "vertical_speed": "fpm", "velocity_north": "mps",
    "velocity_east": "mps", "velocity_down": "mps", "normal_acceleration": "g", "engine_rpm": "pct",
    "fuel_flow": "pph", "mass": "lb",
}  # fmt: skip


@dataclass(frozen=True)
class Form:
    """How a pass is written down."""

    rate: float = 20.0
    phase: float = 0.0  # s of the first sample
    jitter: float = 0.0  # s rms of when samples are taken; the stamps are right
    channels: tuple = COMMON
    units: tuple = ()  # (quantity, unit) pairs over the defaults
    ship: str = "rows"  # "rows", "file", "course" or "field"
    ship_rate: float = 10.0
    ship_phase: float = 0.033
    ship_clock: float = 0.0  # s the ship's clock is ahead of the aircraft's
    ship_pose: tuple = POSE
    plane: str | None = None  # None, "origin" (told), "shared" (not told)
    plane_origin: tuple = (0.0, 0.0)  # metres north, east of the ship's start
    time_zero: float = 0.0  # added to the times written
    time_style: str = "s"  # "s", "ms", "min", "iso"
    file: str = "track.csv"
    ship_file: str = "ship.csv"
    reference: tuple = (0.0, 0.0, 0.0)  # recorded point in body axes from the centre of gravity
    until: float | None = None
    who: str | None = None
    extra: tuple = ()  # (column name, kind) nobody knows


@dataclass(frozen=True)
class Table:
    """Columns of floats with how many decimals each is written with."""

    columns: dict  # name -> array
    decimals: dict  # name -> int


def sample_aircraft(flight: Flight, form: Form):
    """Times (s, flight clock) and SI arrays of every quantity at the form's rate."""
    stop = flight.time[-1] if form.until is None else min(form.until, flight.time[-1])
    n = int((stop - form.phase) * form.rate + 1e-6) + 1
    t = form.phase + np.arange(n) / form.rate
    if form.jitter:
        late = np.random.default_rng(n).normal(0.0, form.jitter, n)
        t = np.sort(t + np.clip(late, -0.45 / form.rate, 0.45 / form.rate))
    own = flight.cg + flight.body @ np.asarray(form.reference)
    point = np.stack([np.interp(t, flight.time, own[:, k]) for k in range(3)], axis=-1)
    latitude, longitude, height = to_geodetic(point)
    c = flight.channels

    def at(values):
        return np.interp(t, flight.time, values)

    velocity = np.stack([at(flight.velocity[:, k]) for k in range(3)], axis=-1)
    out = {
        "point": point,
        "latitude": np.radians(latitude),
        "longitude": np.radians(longitude),
        "altitude": height,
        "heading": np.mod(at(np.unwrap(c["yaw"])), 2 * math.pi),
        "pitch": at(c["pitch"]),
        "roll": at(c["roll"]),
        "true_airspeed": at(c["airspeed"]),
        "indicated_airspeed": at(c["calibrated"]),
        "angle_of_attack": at(c["alpha"]),
        "vertical_speed": -velocity[:, 2],
        "velocity_north": velocity[:, 0],
        "velocity_east": velocity[:, 1],
        "velocity_down": velocity[:, 2],
        "normal_acceleration": at(c["load"]) * 9.80665,
        "throttle": at(c["throttle"]),
        "engine_rpm": at(c["n2"]) / 100.0,
        "fuel_flow": at(c["fuel_flow"]),
        "mass": at(c["mass"]),
        "stick_pitch": at(c["stick_pitch"]),
        "stick_roll": at(c["stick_roll"]),
        "gear": at(c["gear"]),
        "flaps": at(c["flaps"]),
        "hook": np.round(at(c["hook"])),
        "weight_on_wheels": np.round(at(c["on_wheels"])),
    }
    return t, out


def sample_ship(flight: Flight, t):
    """SI arrays of the ship's reference point at times t."""
    s = flight.ship
    point = np.stack([np.interp(t, s.time, s.point[:, k]) for k in range(3)], axis=-1)
    latitude, longitude, height = to_geodetic(point)
    return {
        "point": point,
        "latitude": np.radians(latitude),
        "longitude": np.radians(longitude),
        "altitude": height,
        "heading": np.mod(np.interp(t, s.time, s.heading), 2 * math.pi),
        "pitch": np.interp(t, s.time, s.pitch),
        "roll": np.interp(t, s.time, s.roll),
    }


def plane_origin(flight: Flight, form: Form):
    """Latitude and longitude (deg) of the local plane's origin, on the sea."""
    zero = int(np.argmin(np.abs(flight.ship.time)))
    start = to_earth_centred(flight.ship.latitude[zero], flight.ship.longitude[zero], 0.0)
    axes = local_axes(flight.ship.latitude[zero], flight.ship.longitude[zero])
    latitude, longitude, _ = to_geodetic(start + axes @ np.array([*form.plane_origin, 0.0]))
    return round(float(latitude), 6), round(float(longitude), 6)


def to_plane(values, origin):
    """North, east, up of the tangent plane at an origin (deg) on the sea."""
    e, n, u = pymap3d.ecef2enu(
        values["point"][:, 0], values["point"][:, 1], values["point"][:, 2], *origin, 0.0
    )
    return {"north": n, "east": e, "up": u}


def table(t, values, channels, form, prefix="", place=("latitude", "longitude", "altitude"), time=True):
    """Columns with unit suffixes and their decimals."""
    units = {**DEFAULT_UNITS, **dict(form.units)}
    columns, decimals = {}, {}
    if time:
        unit = form.time_style if form.time_style != "iso" else "s"
        columns[f"time_{unit}"] = (t + form.time_zero) * UNITS[unit]
        decimals[f"time_{unit}"] = {"s": 4, "ms": 1, "min": 7}[unit]
    for quantity in (*place, *channels):
        unit = units.get(quantity, "")
        name = prefix + quantity + (f"_{unit}" if unit else "")
        columns[name] = values[quantity] * UNITS[unit]
        decimals[name] = DECIMALS[quantity] + (2 if unit in ("rad", "nm") else 0)
    return Table(columns, decimals)


def tables(flight: Flight, form: Form):
    """The aircraft's table, the ship's (or None) and the options that name them."""
    t, own = sample_aircraft(flight, form)
    options, ship_table = [], None
    place = ("latitude", "longitude", "altitude")
    origin = None
    if form.plane:
        place, origin = ("north", "east", "up"), plane_origin(flight, form)
        own.update(to_plane(own, origin))
        if form.plane == "origin":
            options += ["--origin", f"{origin[0]},{origin[1]}"]
    main = table(t, own, form.channels, form, place=place)
    if form.ship == "rows":
        ship = sample_ship(flight, t)
        if origin:
            ship.update(to_plane(ship, origin))
        more = table(t, ship, form.ship_pose, form, prefix="ship_", place=place, time=False)
        main = Table({**main.columns, **more.columns}, {**main.decimals, **more.decimals})
    elif form.ship == "file":
        first = form.phase - 0.7 + form.ship_phase
        n = int((t[-1] + 0.5 - first) * form.ship_rate) + 1
        when = first + np.arange(n) / form.ship_rate
        ship = sample_ship(flight, when)
        if origin:
            ship.update(to_plane(ship, origin))
        ship_table = table(when + form.ship_clock, ship, form.ship_pose, form, place=place)
        options += ["--ship", form.ship_file]
    elif form.ship == "course":
        plan = flight.ship.plan
        ship = sample_ship(flight, np.array([0.0]))
        at = f"{ship['latitude'][0] * DEGREES:.8f},{ship['longitude'][0] * DEGREES:.8f},{form.time_zero:g}"
        options += ["--ship-course-deg", f"{plan.heading:g}", "--ship-speed-kt", f"{plan.speed_kt:g}"]
        options += ["--ship-at", at]
    for name, kind in form.extra:
        main.columns[name] = np.full(len(t), 7.0) if kind == "constant" else np.sin(t)
        main.decimals[name] = 3
    return main, ship_table, options


def write_table(path: Path, data: Table, form: Form, who=None):
    """One file in the format its name says."""
    names, cells = list(data.columns), {}
    for name, values in data.columns.items():
        digits = data.decimals[name]
        cells[name] = ["" if math.isnan(v) else f"{v:.{digits}f}" for v in values.tolist()]
    if form.time_style == "iso" and "time_s" in cells:
        base = np.datetime64("2031-05-14T00:00:00.000000")
        stamps = base + np.round(data.columns["time_s"] * 1e6).astype("timedelta64[us]")
        cells["time"] = [str(s) + "Z" for s in stamps]
        names = ["time", *[n for n in names if n != "time_s"]]
    if who is not None:
        cells["who"] = list(who) if not isinstance(who, str) else [who] * len(cells[names[0]])
        names = [names[0], "who", *names[1:]]
    write_cells(path, names, [cells[n] for n in names])


def write_cells(path: Path, names, columns):
    """Text columns to CSV, JSON lines or Parquet, gzip by the name."""
    kind = path.name.removesuffix(".gz")
    if kind.endswith(".parquet"):
        import polars

        polars.DataFrame(
            {n: [_number(v) for v in c] for n, c in zip(names, columns, strict=True)}
        ).write_parquet(path)
        return
    if kind.endswith(".jsonl"):
        rows = zip(*[[_number(v) for v in c] for c in columns], strict=True)
        lines = [json.dumps(dict(zip(names, row, strict=True))) for row in rows]
    else:
        lines = [",".join(names), *map(",".join, zip(*columns, strict=True))]
    blob = ("\n".join(lines) + "\n").encode()
    path.write_bytes(gzip.compress(blob, mtime=0) if path.name.endswith(".gz") else blob)


def _number(text):
    if text == "":
        return None
    try:
        return float(text)
    except ValueError:
        return text


def toml(value: dict) -> str:
    """A site or aircraft dictionary as TOML; keys that start with an underscore stay out."""
    top, parts = [], []
    for key, item in value.items():
        if key.startswith("_"):
            continue
        if isinstance(item, dict):
            body = "\n".join(f"{k} = {_toml_value(v)}" for k, v in item.items() if not k.startswith("_"))
            parts.append(f"[{key}]\n{body}")
        else:
            top.append(f"{key} = {_toml_value(item)}")
    return "\n".join(top) + "\n" + "\n".join(parts) + "\n"


def _toml_value(v):
    if isinstance(v, str):
        return json.dumps(v)
    if isinstance(v, bool):
        return "true" if v else "false"
    if isinstance(v, (list, tuple)):
        return "[" + ", ".join(_toml_value(x) for x in v) + "]"
    if isinstance(v, int):
        return str(v)
    return f"{v:.6f}".rstrip("0").ljust(len(f"{v:.1f}"), "0") if v == v else "nan"
