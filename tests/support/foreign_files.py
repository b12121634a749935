"""Recordings with foreign habits, made of a pass whose every number is known.

The vocabulary stands in :mod:`support.foreign_dialects`. A flight is a downwind leg, a turn
and the straight pass of :mod:`support.analytic_pass`; each file writes it in its own way.
"""

from __future__ import annotations

import gzip
import json
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta, timezone
from functools import cache
from pathlib import Path

import numpy as np
import pymap3d

from support.analytic_pass import (
    DEGREE,
    FOOT,
    GRAVITY,
    KNOT,
    AnalyticPass,
    Flight,
    Ship,
    Sway,
    attitude_for,
    euler,
)
from support.foreign_dialects import DIALECTS

PLACE = (31.417, -47.283)
START = datetime(2031, 5, 17, 14, 3, 21, 500_000, tzinfo=UTC)
VARIATION = 8.0 * DEGREE
#: SI -> number in the unit
FACTORS = {
    "deg": 1.0 / DEGREE,
    "rad": 1.0,
    "m": 1.0,
    "ft": 1.0 / FOOT,
    "kt": 1.0 / KNOT,
    "mps": 1.0,
    "kmh": 3.6,
    "fps": 1.0 / FOOT,
    "fpm": 60.0 / FOOT,
    "s": 1.0,
    "ms": 1e3,
    "min": 1.0 / 60.0,
    "h": 1.0 / 3600.0,
    "km": 1e-3,
    "mph": 3600.0 / 1609.344,
    "mrad": 1e3,
    "g": 1.0 / GRAVITY,
    "lb": 1.0 / 0.45359237,
    "pct": 100.0,
    "": 1.0,
}
DECIMALS = {
    "rad": 9,
    "m": 3,
    "ft": 2,
    "kt": 3,
    "mps": 3,
    "kmh": 2,
    "min": 7,
    "s": 3,
    "ms": 0,
    "pct": 1,
    "h": 9,
    "km": 6,
    "mph": 2,
    "mrad": 3,
}
SEPARATORS = {"tab": "\t", "blank": " "}


@dataclass(frozen=True)
class Wanted:
    """What a column really is; ``quantity`` "ignore" for what is of no use."""

    header: str
    quantity: str
    unit: str | None
    sign: int
    #: "" where it can be decided, "?" where it may be asked about, "!" where it must be
    doubt: str = ""


@dataclass(frozen=True)
class ForeignFile:
    """A file, and what is in it; ``truth`` holds SI by quantity."""

    name: str
    content: bytes
    suffix: str
    wanted: tuple[Wanted, ...]
    undecided: bool
    truth: dict[str, np.ndarray] = field(repr=False)

    def write(self, folder: Path) -> Path:
        """Put it into a folder."""
        path = folder / f"{self.name.replace(' ', '-')}{self.suffix}"
        path.write_bytes(self.content)
        return path


def names(dialects: str = DIALECTS) -> list[str]:
    """Name the files of a vocabulary."""
    return [block.splitlines()[0] for block in dialects.strip().split("\n\n")]


def decidable() -> list[str]:
    """Name the files in which nothing has to be asked."""
    blocks = [block.splitlines()[:2] for block in DIALECTS.strip().split("\n\n")]
    return [name for name, how in blocks if "undecided" not in how]


def file_named(name: str, dialects: str = DIALECTS, **style: str) -> ForeignFile:
    """Make one of them; ``style`` changes how it is made."""
    (block,) = (b for b in dialects.strip().split("\n\n") if b.splitlines()[0] == name)
    return file_of(block, **style)


def file_of(block: str, **changes: str) -> ForeignFile:
    """Make the file that one block describes."""
    name, how, *lines = block.splitlines()
    style = dict(part.split("=", 1) for part in how.removeprefix("how ").split()) | changes
    truth = flown(
        style.get("base", "pattern"),
        plane="plane" in style,
        wind=10.0 if "wind" in style else 5.0,
        sway="sway" in style,
        rate=float(style.get("rate", 20.0)),
    )
    columns, units, wanted = {}, [], []
    for line in lines:
        header, _, spec = line.partition(" => ")
        header, _, unit = header.partition("|") if "unitrow" in style else (header, "", "")
        doubt = spec[0] if spec[0] in "?!" else ""
        cells, meaning = _cells(spec.removeprefix(doubt or " ").split(), truth, style)
        columns[header] = cells
        units.append(unit)
        wanted.append(Wanted(header, *meaning, doubt))
    content, suffix = _written(columns, units, style)
    return ForeignFile(name, content, suffix, tuple(wanted), "undecided" in style, truth)


def _cells(spec: list[str], truth, style) -> tuple[list[str], tuple[str, str | None, int]]:
    """The cells of one column, and what they are: quantity, unit, sign."""
    what, *rest = spec
    time = truth["time"]
    if what == "junk":
        return _junk(rest[0], truth), ("ignore", None, 1)
    if what == "clock":
        start = 86_400.0 - 70.0 if "midnight" in style else 51_000.0
        return [_clock((start + t) % 86_400.0) for t in time], ("time", None, 1)
    if what == "iso":
        zone = timezone(timedelta(hours=-3)) if rest else UTC
        stamps = [(START + timedelta(seconds=float(t))).astimezone(zone) for t in time]
        return [s.isoformat(timespec="milliseconds") for s in stamps], ("time", None, 1)
    if what == "european":
        stamps = [START + timedelta(seconds=float(t)) for t in time]
        return [s.strftime("%d.%m.%Y %H:%M:%S,%f")[:-3] for s in stamps], ("time", None, 1)
    if what == "epoch":
        seconds = START.timestamp() + time
        return (
            [f"{s * FACTORS[rest[0]]:.{3 if rest[0] == 's' else 0}f}" for s in seconds],
            ("time", rest[0], 1),
        )
    sign = -1 if rest[-1:] == ["-"] else 1
    unit = rest[0] if rest and rest[0] != "-" else ""
    values = truth[what]
    if unit in ("dmh", "ddmm"):
        return [_degrees_and_minutes(v, what, unit) for v in values], (what, "deg", 1)
    if "words" in style and what in ("hook", "gear"):
        return ["down" if v > 0.5 else "up" for v in values], (what, None, 1)
    if what.endswith("heading"):
        values = (
            (sign * values + np.pi) % (2.0 * np.pi) - np.pi
            if "half" in style
            else (sign * values) % (2.0 * np.pi)
        )
    elif what.endswith("longitude") and "east360" in style:
        values = values % (2.0 * np.pi)
    else:
        values = sign * values
    digits = 8 if unit == "deg" and "itude" in what else DECIMALS.get(unit, 4)
    digits = 11 if unit == "rad" and "itude" in what else digits
    return [f"{v * FACTORS[unit]:.{digits}f}" for v in values], (what, unit or None, sign)


def _junk(kind: str, truth) -> list[str]:
    count = truth["time"].size
    if kind.startswith("copy:"):
        _, quantity, unit = kind.split(":")
        return [f"{v * FACTORS[unit]:.{DECIMALS.get(unit, 4)}f}" for v in truth[quantity]]
    if kind in ("ns", "ship_ns", "ew", "ship_ew"):
        return ["N" if kind.endswith("ns") else "W"] * count
    numbers = {
        "hundreds": lambda: np.round(truth["altitude"] / FOOT / 100.0),
        "ground_kt": lambda: truth["ground_speed"] / KNOT,
        "ground_mps": lambda: truth["ground_speed"],
        "ground_kmh": lambda: truth["ground_speed"] * 3.6,
        "counter": lambda: np.arange(count),
        "magnetic": lambda: ((truth["heading"] - VARIATION) % (2.0 * np.pi)) / DEGREE,
        "pressure_ft": lambda: truth["altitude"] / FOOT + 217.0,
        "aoa_units": lambda: 15.0 + 1.6 * (truth["angle_of_attack"] / DEGREE - 8.0),
        "zeros": lambda: np.zeros(count),
        "date": lambda: None,
    }[kind]()
    return ["2031-05-17"] * count if numbers is None else [f"{v:.3f}".removesuffix(".000") for v in numbers]


def _clock(seconds: float) -> str:
    whole = round(seconds * 1000.0) % 86_400_000
    minutes, rest = divmod(whole, 60_000)
    return f"{minutes // 60:02d}:{minutes % 60:02d}:{rest / 1000.0:06.3f}"


def _degrees_and_minutes(value: float, what: str, how: str) -> str:
    letter = ("NS" if "latitude" in what else "EW")[int(value < 0.0)]
    whole, minutes = divmod(abs(value) / DEGREE * 60.0, 60.0)
    width = 2 if "latitude" in what else 3
    if how == "ddmm":
        return f"{int(whole):0{width}d}{minutes:09.6f}"
    return f"{letter} {int(whole)}° {minutes:.6f}'"


def _written(columns: dict[str, list[str]], units: list[str], style) -> tuple[bytes, str]:
    """The file's bytes and the end of its name."""
    names = list(columns)
    rows = list(zip(*columns.values(), strict=True))
    if "json" in style:
        return _json(names, rows, style["json"]), ".json" if style["json"] == "array" else ".jsonl"
    if "parquet" in style:
        import io

        import polars as pl

        sink = io.BytesIO()
        pl.DataFrame({n: [float(c) for c in cells] for n, cells in columns.items()}).write_parquet(sink)
        return sink.getvalue(), ".parquet"
    separator = SEPARATORS.get(style.get("sep", ""), style.get("sep") or ",")
    if separator == "," or "quote" in style:
        names = [f'"{n}"' if separator in n or "quote" in style else n for n in names]
    lines = []
    if "title" in style:
        lines += ["Flight data unit export", "Serial 0042, firmware 7", ""]
    lines += [
        f"# {words}" for words in ("written by hand", "do not edit", "end")[: int(style.get("comments", 0))]
    ]
    lines.append(("# " if "hashed" in style else "") + separator.join(names))
    if "unitrow" in style:
        lines.append(separator.join(units))
    for row in rows:
        cells = [c.replace(".", ",") if style.get("dec") == "," and _is_number(c) else c for c in row]
        lines.append(separator.join(cells))
    data = ("\n".join(lines) + "\n").encode(style.get("encoding", "utf-8-sig" if "bom" in style else "utf-8"))
    return (gzip.compress(data), ".csv.gz") if "gz" in style else (data, ".csv")


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


def _json(names: list[str], rows, how: str) -> bytes:
    objects = []
    for row in rows:
        top: dict = {}
        for name, cell in zip(names, row, strict=True):
            *path, last = name.split(".")
            at = top
            for key in path:
                at = at.setdefault(key, {})
            at[last] = float(cell) if _is_number(cell) else cell
        objects.append(top)
    if how == "array":
        return json.dumps(objects).encode()
    return "".join(json.dumps(o) + "\n" for o in objects).encode()


@cache
def flown(base: str, *, plane: bool, wind: float, sway: bool, rate: float) -> dict[str, np.ndarray]:
    """A flight by quantity, SI, with ``ground_speed`` beside our own quantities."""
    one = AnalyticPass(
        Flight(
            ship=Ship(
                course=0.61,
                speed=9.0,
                height=2.0,
                pitch=Sway(0.9 * DEGREE, 8.3, 1.1) if sway else Sway(),
                roll=Sway(1.6 * DEGREE, 17.0, 2.0) if sway else Sway(),
            ),
            wind_from=1.7,
            wind_speed=wind,
            on_deck=1.3,
        )
    )
    track, ship = one.in_a_plane(one.times(rate))
    own = {"time": track.time, **track.channels}
    deck = {f"ship_{name}": values for name, values in ship.channels.items()}
    blow = -wind * np.array([np.cos(1.7), np.sin(1.7), 0.0])
    if base == "pattern":
        own, deck = _with_a_turn(own, deck, blow, 1.0 / rate, one)
    elif base == "level":
        own, deck = _level(own, deck)
    own["time"] = own["time"] - own["time"][0]
    time = own["time"]
    noise = np.random.default_rng(7)
    velocity = np.stack([np.gradient(own[q], time) for q in ("north", "east", "up")])
    own["velocity_north"], own["velocity_east"] = velocity[0], velocity[1]
    own["velocity_down"] = -velocity[2]
    own["vertical_speed"] = velocity[2]
    if base != "level":
        own["true_airspeed"] = np.linalg.norm(velocity - blow[[0, 1, 2], None], axis=0)
    own["ground_speed"] = np.hypot(velocity[0], velocity[1])
    own["indicated_airspeed"] = own["true_airspeed"] * (1.0 - own["up"] * 4.8e-5)
    own["normal_acceleration"] = GRAVITY / np.cos(own["roll"]) + noise.normal(0.0, 0.1, time.size)
    own["radar_altitude"] = own["up"] - 3.0
    own["gear"] = np.clip((time - 5.0) / 4.0, 0.0, 1.0)
    own["flaps"] = np.clip((time - 7.0) / 6.0, 0.0, 1.0)
    own["fuel"] = 2100.0 - 0.9 * time
    own["wind_from"] = np.full(time.size, 1.7)
    own["wind_speed"] = np.full(time.size, wind)
    for angle in ("heading", "pitch", "roll", "angle_of_attack"):
        own[angle] = own[angle] + noise.normal(0.0, 0.0005, time.size)
    if not plane:
        for name, craft in (("", own), ("ship_", deck)):
            lat, lon, height = pymap3d.enu2geodetic(
                craft[f"{name}east"], craft[f"{name}north"], craft[f"{name}up"], *PLACE, 0.0
            )
            craft[f"{name}latitude"], craft[f"{name}longitude"] = np.radians(lat), np.radians(lon)
            craft[f"{name}altitude"] = height
    return {**own, **deck}


def _with_a_turn(own, deck, blow, step, one: AnalyticPass):
    """Fly a level leg and a left turn of half a circle before the pass, back from its start."""
    start = np.array([own["north"], own["east"], own["up"]])[:, :2]
    velocity = (start[:, 1] - start[:, 0]) / (own["time"][1] - own["time"][0])
    air = velocity - blow
    speed, course = float(np.hypot(*air[:2])), float(np.arctan2(air[1], air[0]))
    bank, lead, level = -24.0 * DEGREE, 6.0, 35.0
    turning = abs(np.pi * speed / (GRAVITY * np.tan(bank)))
    before = np.arange(step, lead + turning + level, step)
    roll = np.interp(before, [lead - 1.5, lead + 1.5, lead + turning - 1.5, lead + turning + 1.5],
                     [0.0, bank, bank, 0.0])  # fmt: skip
    climb = np.interp(
        before, [0.0, lead, lead + turning - 8.0, lead + turning], [velocity[2]] * 2 + [-2.0, 0.0]
    )
    heading = course - np.cumsum(GRAVITY * np.tan(roll) / speed) * step
    rates = np.stack([speed * np.cos(heading) + blow[0], speed * np.sin(heading) + blow[1], climb])
    places = start[:, :1] - np.cumsum(rates, axis=1) * step
    flow = np.stack([rates[0] - blow[0], rates[1] - blow[1], -climb], axis=-1)
    attack = one.flight.attack / np.cos(roll)
    yaw, pitch, bankings = euler(attitude_for(flow, attack, roll))
    back = slice(None, None, -1)
    first = {
        "time": own["time"][0] - before[back],
        "north": places[0][back],
        "east": places[1][back],
        "up": places[2][back],
        "heading": yaw[back] % (2.0 * np.pi),
        "pitch": pitch[back],
        "roll": bankings[back],
        "true_airspeed": np.hypot(speed, climb)[back],
        "angle_of_attack": attack[back],
        "throttle": (0.55 + 0.1 * np.abs(roll))[back],
        "hook": np.ones(before.size),
    }
    earlier = own["time"][0] - before[back]
    way = one.ship_mean(earlier)
    ship = {
        "north": way[:, 0],
        "east": way[:, 1],
        "up": one.ship_height(earlier),
        **one.ship_angles(earlier),
    }
    return (
        {name: np.concatenate([first[name], values]) for name, values in own.items()},
        {name: np.concatenate([ship[name.removeprefix("ship_")], values]) for name, values in deck.items()},
    )


def _level(own, deck):
    """A straight and level leg at the height where the pass began."""
    count = own["time"].size // 2
    own = {name: values[:count].copy() for name, values in own.items()}
    own["up"][:] = 183.0
    for name in ("pitch", "roll"):
        own[name][:] = own[name][0]
    return own, {name: values[:count] for name, values in deck.items()}
