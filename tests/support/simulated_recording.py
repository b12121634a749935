"""Passes flown by the approach model as a person's recordings, one file each, in a local plane."""

from __future__ import annotations

import numpy as np

from deckward import site as sites
from deckward.prediction import (
    STEP,
    Conditions,
    Officer,
    Pilot,
    State,
    model_of,
    scene_of,
    start_on_path,
    trim,
)
from deckward.prediction.ensemble import Crew, fly_tracks
from support.approach import save

#: the ship's course, rad, and speed, m/s; s of approach; samples are this far apart, s
COURSE, SPEED, LONGEST, APART = 0.4, 8.0, 40.0, 0.1


def passes(profile, ship: str, pilot: Pilot, count: int, *, seed: int = 1, headwind=12.5) -> list[dict]:
    """Fly passes by a pilot over a still deck in free-air gusts; return the columns of each."""
    site = sites.load(ship)
    model, day = model_of(profile), Conditions(headwind=headwind)
    scene = scene_of(model, site, day, pilot=pilot, officer=Officer(active=0.0), dt=STEP)
    begin = start_on_path(scene, trim(model, path=-site.lens.basic_angle, air=day.air), 1650.0)
    starts = State(*(np.full(count, float(value)) for value in begin))
    rng = np.random.default_rng(seed)
    starts = starts._replace(
        z=starts.z + 2.0 * rng.normal(size=count), y=starts.y + 6.0 * rng.normal(size=count)
    )
    crew = Crew(pilots=Pilot._make(np.full(count, value) for value in pilot))
    each = round(APART / STEP)
    states, levers = fly_tracks(
        scene, starts, seed=seed, dt=STEP, each=each, longest=LONGEST, threads=1, crew=crew
    )
    out = []
    for row in range(count):
        until = int(np.isfinite(levers[row]).sum())
        one = State(*(column[row, :until] for column in states))
        out.append(_columns(site, one, levers[row, :until], headwind))
    return out


def _columns(site, s: State, lever: np.ndarray, headwind: float) -> dict:
    time = np.arange(lever.size) * APART
    landing = COURSE - site.angle
    way = SPEED * time
    ahead, right = np.array([np.cos(COURSE), np.sin(COURSE)]), np.array([-np.sin(COURSE), np.cos(COURSE)])
    along, across = (
        np.array([np.cos(landing), np.sin(landing)]),
        np.array([-np.sin(landing), np.cos(landing)]),
    )
    hull = np.outer(way, ahead)
    ramp = hull + site.ramp[0] * ahead + site.ramp[1] * right
    level = ramp + np.outer(s.x, along) + np.outer(s.y, across)
    airspeed = np.sqrt((s.vx + headwind) ** 2 + s.vy**2 + s.vz**2)
    alpha = s.pitch - np.arctan2(s.vz, s.vx + headwind)
    return {
        "time_s": time,
        "north_m": level[:, 0],
        "east_m": level[:, 1],
        "up_m": s.z - site.ramp[2],
        "heading_deg": np.degrees(landing + s.heading),
        "pitch_deg": np.degrees(s.pitch),
        "roll_deg": np.degrees(s.roll),
        "true_airspeed_mps": airspeed,
        "angle_of_attack_deg": np.degrees(alpha),
        "throttle": lever,
        "ship_north_m": hull[:, 0],
        "ship_east_m": hull[:, 1],
        "ship_up_m": 0.0 * time,
        "ship_heading_deg": np.degrees(COURSE) + 0.0 * time,
    }


def write(folder, columns: list[dict]) -> list[str]:
    """Write the columns of passes as files; return their names."""
    names = [f"pass-{number}.csv" for number in range(1, len(columns) + 1)]
    for name, one in zip(names, columns, strict=True):
        save(folder / name, one)
    return names
