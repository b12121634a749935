"""Working out what was not recorded, with a wider sigma, and saying so."""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.aircraft.model import Profile
from deckward.errors import Note
from deckward.foundation import angles, frames
from deckward.foundation.statistics import median
from deckward.foundation.units import DEGREE, STANDARD_GRAVITY
from deckward.passes.estimate import Craft, Lane
from deckward.passes.model import Wind

#: sigma of an attitude that was worked out from the path, rad; of a wind nobody told, m/s
_HEADING_SIGMA, _ROLL_SIGMA, _PITCH_SIGMA = 1.5 * DEGREE, 2.0 * DEGREE, 1.5 * DEGREE
_UNKNOWN_WIND = 5.0


class AirMass(Struct, frozen=True):
    """The wind over a pass: (n, 3) north, east, down, m/s, at the samples, and its sigma.

    ``source`` is "told", "recorded", "from airspeed" or "none".
    """

    wind: np.ndarray
    sigma: float
    source: str


def wind_vector(wind: Wind) -> np.ndarray:
    """Velocity of the air (3,), north, east, down, m/s, of a wind named by where it is from."""
    return -wind.speed * np.array([np.cos(wind.from_direction), np.sin(wind.from_direction), 0.0])


def air_mass(craft: Craft, when: np.ndarray, wind: Wind | None, upto: float) -> AirMass:
    """Find the wind: as told, as recorded, else from airspeed against path before ``upto``."""
    track = craft.track
    if wind is not None:
        return AirMass(np.broadcast_to(wind_vector(wind), (when.size, 3)), 0.3, "told")
    from_, speed = track.get("wind_from"), track.get("wind_speed")
    if from_ is not None and speed is not None:
        ok = np.isfinite(from_) & np.isfinite(speed)
        if ok.any():
            north = np.interp(when, track.time[ok], -(speed * np.cos(from_))[ok])
            east = np.interp(when, track.time[ok], -(speed * np.sin(from_))[ok])
            return AirMass(np.stack([north, east, np.zeros_like(north)], axis=-1), 0.5, "recorded")
    airspeed = track.get("true_airspeed")
    if airspeed is not None and "heading" in craft.lanes:
        ok = np.isfinite(airspeed) & (track.time < upto)
        if ok.sum() > 10:
            return _from_airspeed(craft, track.time[ok], airspeed[ok], when)
    return AirMass(np.zeros((when.size, 3)), _UNKNOWN_WIND, "none")


def _from_airspeed(craft: Craft, time, airspeed, when) -> AirMass:
    """Steady wind that best turns airspeed along the heading into the velocity flown."""
    _, velocity = craft.place(time)
    heading = craft.lanes["heading"].at(time)[:, 0]
    level = np.sqrt(np.maximum(airspeed**2 - velocity[:, 2] ** 2, 0.0))
    along = np.stack([np.cos(heading), np.sin(heading)], axis=-1) * level[:, None]
    wind = velocity[:, :2] - along
    steady = median(wind, axis=0)
    spread = 1.4826 * median(np.abs(wind - steady), axis=0)
    sigma = float(np.hypot(*spread)) + 0.5
    return AirMass(np.broadcast_to(np.append(steady, 0.0), (when.size, 3)), sigma, "from airspeed")


def fill_attitude(craft: Craft, profile: Profile, wind: Wind | None) -> list[Note]:
    """Add lanes for heading, roll and pitch where the recording has none."""
    notes: list[Note] = []
    missing = [name for name in ("heading", "roll", "pitch") if name not in craft.lanes]
    if not missing:
        return notes
    time = craft.lanes["north"].time
    _, velocity = craft.place(time)
    air = velocity - (wind_vector(wind) if wind is not None else 0.0)
    if "heading" in missing:
        heading = angles.unwrap(np.arctan2(air[:, 1], air[:, 0]))
        sigma = _HEADING_SIGMA if wind is not None else 3.0 * _HEADING_SIGMA
        _add(craft, "heading", time, heading, sigma)
    if "roll" in missing:
        rate = np.gradient(angles.unwrap(np.arctan2(air[:, 1], air[:, 0])), time)
        speed = np.hypot(air[:, 0], air[:, 1])
        _add(craft, "roll", time, np.arctan(speed * rate / STANDARD_GRAVITY), _ROLL_SIGMA)
    if "pitch" in missing:
        climb = np.arctan2(-air[:, 2], np.hypot(air[:, 0], air[:, 1]))
        recorded = craft.lanes.get("angle_of_attack")
        if recorded is not None:
            attack, sigma = recorded.at(time)[:, 0], 0.4 * DEGREE
        else:
            attack, sigma = np.full_like(climb, profile.on_speed), _PITCH_SIGMA
        _add(craft, "pitch", time, climb + attack * np.cos(craft.lanes["roll"].at(time)[:, 0]), sigma)
    notes.append(
        Note(
            "attitude-inferred",
            f"{_words(missing)} not recorded: worked out from the path"
            f"{' and the wind' if wind is not None else ''}, with a wider sigma.",
        )
    )
    return notes


def level_ship(ship: Craft) -> list[Note]:
    """Add lanes of zero pitch and roll (and heading from the track) where the ship has none."""
    time = ship.lanes["north"].time
    missing = [name for name in ("pitch", "roll") if name not in ship.lanes]
    for name in missing:
        _add(ship, name, time, np.zeros_like(time), 0.0)
    if not missing:
        return []
    return [Note("ship-level", f"The ship's {_words(missing)} not recorded: taken as 0.")]


def attack_from_path(craft: Craft, air: AirMass, when: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Angle of attack (m,), rad, from attitude, path and wind, and its sigma (m,)."""
    _, velocity = craft.place(when)
    heading, pitch, roll = (craft.lanes[name].at(when)[:, 0] for name in ("heading", "pitch", "roll"))
    body = frames.rotate_back(frames.body_to_level(heading, pitch, roll), velocity - air.wind)
    attack = np.arctan2(body[:, 2], body[:, 0])
    speed = np.maximum(np.linalg.norm(body, axis=-1), 1.0)
    sink = craft.lanes["down"].sigma(when, 1)
    climb = np.abs(velocity[:, 2]) / speed
    sigma = np.sqrt(
        craft.lanes["pitch"].sigma(when) ** 2
        + (sink / speed) ** 2
        + (climb * air.sigma / speed) ** 2
        + (0.1 * DEGREE) ** 2
    )
    return attack, sigma


def _words(names: list[str]) -> str:
    text = names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]
    return text.capitalize() if text else text


def _add(craft: Craft, name: str, time, values, sigma: float) -> None:
    rate = np.gradient(values, time)
    covariance = np.zeros((time.size, 3, 3))
    covariance[:, 0, 0] = sigma**2
    state = np.stack([values, rate, np.zeros_like(values)], axis=-1)
    craft.lanes[name] = Lane(
        name,
        time,
        values,
        np.ones(time.size, dtype=bool),
        sigma,
        end=time.size,
        state=state,
        variances=np.diagonal(covariance, axis1=1, axis2=2),
        filtered=state,
        filtered_covariance=covariance,
    )
