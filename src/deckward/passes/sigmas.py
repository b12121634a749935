"""Carrying the sigma of the lanes, the site and the profile to derived numbers.

First order, sources independent: each derived sigma is the root of the sum of squares of
what every source moves it by.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from deckward.foundation.statistics import median
from deckward.passes import infer
from deckward.passes.axes import Geometry

if TYPE_CHECKING:
    from deckward.passes.estimate import Craft
    from deckward.passes.flown import Flown


#: what frames, interpolation and rounding leave in any height, m
_MODEL = 0.0005


def _place(b: Flown, when: np.ndarray, order: int = 0) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Sigma along the centreline, across it and up, (m,) each, of place (0) or velocity (1)."""
    heading = b.d.ship.attitude(when)[:, 2] - b.site.angle
    c2, s2 = np.cos(heading) ** 2, np.sin(heading) ** 2
    along = across = up = np.zeros(when.size)
    for craft in (b.d.aircraft, b.d.ship):
        north, east, down = (craft.lanes[k].sigma(when, order) ** 2 for k in ("north", "east", "down"))
        along = along + c2 * north + s2 * east
        across = across + s2 * north + c2 * east
        up = up + down
    if order == 1:
        up = up + _helped_rate(b, when) ** 2
        for craft in (b.d.aircraft, b.d.ship):
            pace = craft.track.doubt_at("pace", when) ** 2
            along, across = along + pace, across + pace
            up = up + craft.track.doubt_at("climb", when) ** 2
    if order == 0:
        for craft in (b.d.aircraft, b.d.ship):
            level = craft.track.doubt_at("level", when) ** 2
            along, across = along + level, across + level
            up = up + craft.track.doubt_at("up", when) ** 2
        # an error of a sample's time is an error along the way flown
        late = b.d.aircraft.track.sigma.get("time", 0.0)
        along = along + (late * b.d.aircraft.speed(when)) ** 2
        # and a doubt about how late the height is one along the way down
        late = b.d.aircraft.track.sigma.get("late-height", 0.0)
        up = up + (late * b.d.aircraft.lanes["down"].at(when)[:, 1]) ** 2
        # and a doubt about the ship's clock one along hers
        known = b.d.ship.track.sigma
        along = along + (known.get("clock", 0.0) * b.d.ship.speed(when)) ** 2
        # a ship that was fitted is where she is to some metres
        along = along + known.get("along", 0.0) ** 2
        across = across + known.get("across", 0.0) ** 2
        up = up + known.get("down", 0.0) ** 2
    return np.sqrt(along), np.sqrt(across), np.sqrt(up)


def _helped_rate(b: Flown, when: np.ndarray) -> np.ndarray:
    """Sigma (m,) of the rate of descent that attitude and angle of attack bring in where they help."""
    lanes = b.d.aircraft.lanes
    attack = lanes.get("angle_of_attack")
    if lanes["down"].shares is None or attack is None:
        return np.zeros(when.size)
    share = min(float(np.abs(lanes["down"].shares).max()), 1.0)
    return share * b.d.aircraft.speed(when) * np.hypot(lanes["pitch"].sigma(when), attack.sigma(when))


def _angle(craft: Craft, name: str, when: np.ndarray) -> np.ndarray:
    """Sigma (m,) of an attitude angle, rad."""
    return np.hypot(craft.lanes[name].sigma(when), craft.track.doubt_at(name, when))


def _deck_height(b: Flown, when: np.ndarray) -> np.ndarray:
    """Sigma of the height of the deck near the ramp that the ship's attitude and the site leave."""
    ramp = b.site.ramp
    # nor is more known of a fitted ship's tilt than of any deck at sea
    known = b.d.ship.track.sigma
    pitch = np.abs(ramp[0]) * np.hypot(_angle(b.d.ship, "pitch", when), known.get("pitches", 0.0))
    roll = (np.abs(ramp[1]) + 1.0) * np.hypot(_angle(b.d.ship, "roll", when), known.get("rolls", 0.0))
    return np.sqrt(pitch**2 + roll**2 + b.site.sigma.ramp[2] ** 2)


def _arm(b: Flown, when: np.ndarray, point, known) -> np.ndarray:
    """Sigma of the height of a point of the aircraft against its reference point."""
    craft = b.d.aircraft
    # a doubt about how late the attitude is one along the way that it turns
    late = craft.track.sigma.get("late-attitude", 0.0)
    pitch, roll = (
        np.abs(arm) * np.hypot(_angle(craft, name, when), late * craft.lanes[name].at(when)[:, 1])
        for name, arm in (("pitch", point[0]), ("roll", point[1]))
    )
    return np.sqrt(pitch**2 + roll**2 + known[2] ** 2 + (0.1 * known[0]) ** 2)


def hook_height(b: Flown, when: np.ndarray) -> np.ndarray:
    """Sigma of the hook's height over the deck where it crosses a fixed deck x, (m,)."""
    along, _, up = _place(b, when)
    slope = _slope(b, when)
    arm = _arm(b, when, b.profile.hook, b.profile.sigma.hook)
    fore = np.hypot(b.profile.sigma.hook[0], b.site.sigma.ramp[0])
    return np.sqrt(_MODEL**2 + up**2 + _deck_height(b, when) ** 2 + arm**2 + slope**2 * (along**2 + fore**2))


def touchdown_x(b: Flown, when: float) -> float:
    """Sigma of the deck x at which the hook meets the deck, m."""
    at = np.array([when])
    slope = max(float(_slope(b, at)[0]), 0.01)
    return float(hook_height(b, at)[0]) / slope


def _slope(b: Flown, when: np.ndarray) -> np.ndarray:
    """Steepness (m,) of the hook's path against the deck."""
    step = 0.05
    hook = b.d.geometry(np.concatenate([when - step, when])).hook()
    before, now = hook[: when.size], hook[when.size :]
    run = np.maximum(now[:, 0] - before[:, 0], 1e-3)
    return np.abs(now[:, 2] - before[:, 2]) / run


def at(b: Flown, when: np.ndarray, geometry: Geometry, distance: np.ndarray) -> dict[str, np.ndarray]:
    """Sigmas (m,) of what is read at times: names as in the series."""
    along, across, up = _place(b, when)
    rate_along, _, _ = _place(b, when, 1)
    distance = np.maximum(distance, 20.0)
    slope = np.tan(b.site.lens.basic_angle)
    eye = _arm(b, when, b.profile.eye, b.profile.sigma.eye)
    lens = np.abs(b.site.lens.position[0]) + np.abs(b.site.ramp[0])
    tilt = lens * np.hypot(_angle(b.d.ship, "pitch", when), b.d.ship.track.sigma.get("pitches", 0.0))
    fixed = np.hypot(b.site.sigma.lens[2], b.site.sigma.ramp[2])
    # the commanded path hangs on hook and eye: where they are not known, neither is it
    path = np.hypot(b.profile.sigma.hook[2], slope * b.profile.sigma.hook[0])
    height = np.sqrt(_MODEL**2 + up**2 + eye**2 + tilt**2 + fixed**2 + path**2 + (slope * along) ** 2)
    turn = _angle(b.d.ship, "heading", when)
    reach = np.abs(geometry.reference()[:, 0]) + abs(b.site.ramp[0])
    side = np.sqrt(across**2 + (reach * np.hypot(turn, b.site.sigma.angle)) ** 2 + b.site.sigma.ramp[1] ** 2)
    ahead = np.maximum(b.site.lens.hook_target - geometry.reference()[:, 0], 20.0)
    lane = b.d.aircraft.lanes.get("angle_of_attack")
    if lane is not None:
        attack = np.hypot(lane.sigma(when), lane.spread)
    else:
        air = infer.air_mass(b.d.aircraft, when, b.wind, np.inf if b.d.contact is None else b.d.contact)
        attack = infer.attack_from_path(b.d.aircraft, air, when)[1]
    return {
        "glide_slope_error": height / distance,
        "ball_cells": height / distance / b.site.lens.cell,
        "height": np.sqrt(up**2 + _deck_height(b, when) ** 2),
        "line_up_offset": side,
        "line_up_error": side / ahead,
        "angle_of_attack": attack,
        "angle_of_attack_error": np.hypot(attack, b.profile.sigma.on_speed),
        "sink": _place(b, when, 1)[2],
        "closure": rate_along,
    }


def correlation(b: Flown) -> dict[str, float]:
    """How long errors last, s: the memory of the smoother, or for ever where geometry is guessed."""
    down = _memory(b, "down")
    side = max(_memory(b, "north"), _memory(b, "east"))
    geometry = max(*b.site.sigma.lens, *b.profile.sigma.hook, *b.site.sigma.ramp)
    vertical = np.inf if geometry > 0.3 else down
    return {
        "glide_slope_error": vertical,
        "ball_cells": vertical,
        "height": vertical,
        "line_up_offset": np.inf if b.site.sigma.angle > 0.0 else side,
        "line_up_error": np.inf if b.site.sigma.angle > 0.0 else side,
        "angle_of_attack": 1.0,
        "angle_of_attack_error": np.inf if b.profile.sigma.on_speed > 0.0 else 1.0,
        "sink": down,
        "closure": side,
    }


def _memory(b: Flown, name: str) -> float:
    """Time over which the smoother averages a lane: (variance * step / jerk)^(1/6), s."""
    lane = b.d.aircraft.lanes[name]
    if not np.isfinite(lane.variance) or lane.jerk <= 0.0:
        return 1.0
    step = float(median(np.diff(lane.time)))
    if lane.bias > 0.0:
        return np.inf
    return float(np.clip(2.0 * (lane.variance * step / lane.jerk) ** (1.0 / 6.0), 0.2, 10.0))
