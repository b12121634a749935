"""A made-up flight around a made-up ship, and ways to write it as a recording.

Laps of a racetrack in a steady wind: every channel is consistent with the motion.
"""

from __future__ import annotations

import gzip
import json
from collections.abc import Mapping
from pathlib import Path

import numpy as np

from deckward.foundation.earth import ecef_to_geodetic, from_ned

HOME = (np.radians(27.6), np.radians(-88.3))
GRAVITY = 9.80665
KNOT = 1852.0 / 3600.0
FOOT = 0.3048

#: quantity -> (column, what turns SI into the column's unit)
COLUMNS = {
    "time": ("time_s", 1.0),
    "latitude": ("latitude_deg", 180.0 / np.pi),
    "longitude": ("longitude_deg", 180.0 / np.pi),
    "altitude": ("altitude_m", 1.0),
    "pitch": ("pitch_deg", 180.0 / np.pi),
    "roll": ("roll_deg", 180.0 / np.pi),
    "heading": ("heading_deg", 180.0 / np.pi),
    "true_airspeed": ("true_airspeed_kt", 1.0 / KNOT),
    "indicated_airspeed": ("indicated_airspeed_kt", 1.0 / KNOT),
    "angle_of_attack": ("angle_of_attack_deg", 180.0 / np.pi),
    "vertical_speed": ("vertical_speed_fpm", 60.0 / FOOT),
    "velocity_north": ("velocity_north_mps", 1.0),
    "velocity_east": ("velocity_east_mps", 1.0),
    "velocity_down": ("velocity_down_mps", 1.0),
    "throttle": ("throttle", 1.0),
    "gear": ("gear", 1.0),
    "hook": ("hook", 1.0),
    "fuel": ("fuel_lb", 1.0 / 0.45359237),
    "flaps": ("flaps", 1.0),
    "ship_latitude": ("ship_latitude_deg", 180.0 / np.pi),
    "ship_longitude": ("ship_longitude_deg", 180.0 / np.pi),
    "ship_altitude": ("ship_altitude_m", 1.0),
    "ship_heading": ("ship_heading_deg", 180.0 / np.pi),
    "ship_pitch": ("ship_pitch_deg", 180.0 / np.pi),
    "ship_roll": ("ship_roll_deg", 180.0 / np.pi),
}
DECIMALS = {"latitude_deg": 9, "longitude_deg": 9, "ship_latitude_deg": 9, "ship_longitude_deg": 9}


def flight(seconds: float = 120.0, rate: float = 20.0, *, times=None, home=HOME) -> dict[str, np.ndarray]:
    """Fly laps; SI and radians by quantity, ``times`` instead of a regular rate where given."""
    fine = np.arange(0.0, seconds + 0.02, 0.02)
    speed = 67.0 + 2.0 * np.sin(fine / 17.0)
    lap = 140.0
    phase = (fine % lap) / lap
    turning = ((phase > 0.2) & (phase < 0.5)) | (phase > 0.7)
    rate_of_turn = np.where(turning, -2.0 * np.pi / (0.6 * lap), 0.0)
    padded = np.pad(rate_of_turn, 50, mode="edge")
    rate_of_turn = np.convolve(padded, np.ones(101) / 101.0, mode="valid") + 0.004 * np.sin(fine * 1.3)
    heading = np.radians(332.0) + np.cumsum(rate_of_turn) * 0.02
    climb_angle = np.radians(-1.5) * np.sin(2.0 * np.pi * fine / lap) + np.radians(0.4) * np.sin(fine * 0.9)
    wind_north, wind_east = -8.0, 3.0
    north_rate = speed * np.cos(climb_angle) * np.cos(heading) + wind_north
    east_rate = speed * np.cos(climb_angle) * np.sin(heading) + wind_east
    climb = speed * np.sin(climb_angle)
    ned = np.column_stack(
        [
            np.cumsum(north_rate) * 0.02,
            1500.0 + np.cumsum(east_rate) * 0.02,
            -180.0 - np.cumsum(climb) * 0.02,
        ]
    )
    attack = np.radians(8.0) + np.radians(0.8) * np.sin(fine / 5.0)
    roll = np.arctan(rate_of_turn * speed / GRAVITY)
    ship_speed, ship_heading = 8.0, np.radians(15.0)
    ship_ned = np.column_stack(
        [
            fine * ship_speed * np.cos(ship_heading),
            fine * ship_speed * np.sin(ship_heading),
            np.full(fine.size, -19.5),
        ]
    )
    out_times = np.arange(0.0, seconds, 1.0 / rate) if times is None else np.asarray(times, dtype=float)
    out = {"time": out_times}
    latitude, longitude, altitude = ecef_to_geodetic(from_ned(ned, *home, 0.0))
    ship_latitude, ship_longitude, _ = ecef_to_geodetic(from_ned(ship_ned, *home, 0.0))
    for name, values in {
        "latitude": latitude,
        "longitude": longitude,
        "altitude": altitude,
        "pitch": attack + climb_angle,
        "roll": roll,
        "heading": heading,
        "true_airspeed": speed,
        "indicated_airspeed": 0.99 * speed,
        "angle_of_attack": attack,
        "vertical_speed": climb,
        "velocity_north": north_rate,
        "velocity_east": east_rate,
        "velocity_down": -climb,
        "throttle": 0.6 + 0.2 * np.sin(fine / 3.0),
        "gear": np.ones(fine.size),
        "hook": np.ones(fine.size),
        "fuel": 2000.0 - 0.5 * fine,
        "flaps": np.ones(fine.size),
        "ship_latitude": ship_latitude,
        "ship_longitude": ship_longitude,
        "ship_altitude": 19.5 + 0.3 * np.sin(fine / 4.0),
        "ship_heading": np.full(fine.size, ship_heading),
        "ship_pitch": np.radians(0.5) * np.sin(fine / 3.0),
        "ship_roll": np.radians(1.5) * np.sin(fine / 5.0),
    }.items():
        if name == "longitude":
            values = np.unwrap(values)
        out[name] = np.interp(out_times, fine, values)
    out["longitude"] = (out["longitude"] + np.pi) % (2.0 * np.pi) - np.pi
    out["heading"] = out["heading"] % (2.0 * np.pi)
    return out


def columns_of(samples: Mapping[str, np.ndarray], *, leave_out=()) -> dict[str, np.ndarray]:
    """Give the columns of a recording, in their units, rounded as a recorder writes them."""
    columns = {}
    for quantity, values in samples.items():
        if quantity in leave_out:
            continue
        name, factor = COLUMNS[quantity]
        columns[name] = np.round(values * factor, DECIMALS.get(name, 4))
    return columns


def csv_text(columns: Mapping[str, object], *, delimiter: str = ",", end: str = "\n") -> str:
    """Write columns as delimited text."""
    rows = zip(*(_cells(name, values) for name, values in columns.items()), strict=True)
    return end.join([delimiter.join(columns), *(delimiter.join(row) for row in rows)]) + end


def _cells(name: str, values) -> list[str]:
    digits = DECIMALS.get(name, 4)
    return [
        ""
        if isinstance(v, float) and np.isnan(v)
        else f"{v:.{digits}f}"
        if isinstance(v, (float, np.floating))
        else str(v)
        for v in values
    ]


def write_csv(path: Path, columns: Mapping[str, object], **how) -> Path:
    """Write columns as CSV; packed with gzip where the name says so."""
    text = csv_text(columns, **how).encode()
    path.write_bytes(gzip.compress(text) if path.suffix == ".gz" else text)
    return path


def write_json_lines(path: Path, columns: Mapping[str, object]) -> Path:
    """Write columns as one JSON object a line."""
    rows = zip(*(list(values) for values in columns.values()), strict=True)
    text = "".join(
        json.dumps(dict(zip(columns, map(_plain, row), strict=True))) + "\n" for row in rows
    ).encode()
    path.write_bytes(gzip.compress(text) if path.suffix == ".gz" else text)
    return path


def _plain(value):
    if isinstance(value, (float, np.floating)):
        return None if np.isnan(value) else float(value)
    return value.item() if isinstance(value, np.generic) else value
