"""What the pilot saw at each sample: ball, marker, aim, and all that goes with them."""

from __future__ import annotations

import numpy as np

from deckward.foundation import frames
from deckward.passes import axes, sigmas
from deckward.passes.axes import Geometry
from deckward.passes.flown import Flown
from deckward.passes.model import Series


def series(b: Flown) -> Series:
    """The state at the samples, with what the pilot saw."""
    geometry, reference = b.geometry, b.reference
    error, distance = b.glide_slope(geometry)
    attack, attack_sigma, origin = b.attack
    right, left, _ = geometry.wheels()
    velocity = b.velocity
    corner_right, corner_above = _marker(b, geometry)
    spread = sigmas.at(b, b.time, geometry, distance)
    spread["angle_of_attack"] = spread["angle_of_attack_error"] = attack_sigma
    moment = geometry.moment
    ramp_down = (geometry.ramp + frames.rotate(geometry.at_ship, moment.ship_place))[:, 2]
    return Series(
        time=b.time,
        range=-reference[:, 0],
        line_up_offset=reference[:, 1],
        line_up_error=geometry.line_up_error(reference),
        height=reference[:, 2],
        glide_slope_error=error,
        ball_cells=error / b.site.lens.cell,
        angle_of_attack=attack,
        angle_of_attack_error=attack - b.profile.on_speed,
        sink=b.sink,
        closure=b.closure,
        true_airspeed=b.airspeed if b.airspeed_source != "none" else np.full_like(error, np.nan),
        pitch=moment.pitch,
        roll=moment.roll,
        heading=moment.heading,
        power=b.power,
        specific_energy_rate=b.energy_rate,
        hook=b.hook,
        right_wheel=right,
        left_wheel=left,
        eye=geometry.eye(),
        drift=np.arctan2(velocity[:, 1], velocity[:, 0]),
        aim=_aim(b, geometry),
        marker_right_of_corner=corner_right,
        marker_above_corner=corner_above,
        ball_in_window=axes.ball_in_window(error, distance, b.site.lens.image_distance),
        deck_pitch=moment.ship_pitch,
        deck_roll=moment.ship_roll,
        deck_heave=ramp_down.mean() - ramp_down,
        contact=b.first_contact,
        sigma=spread,
        correlation=sigmas.correlation(b),
        origin={
            "angle_of_attack": origin,
            "true_airspeed": "measured" if b.airspeed_source == "recorded" else "inferred",
            "pitch": _origin(b, "pitch"),
            "roll": _origin(b, "roll"),
            "heading": _origin(b, "heading"),
        },
    )


def _origin(b: Flown, name: str) -> str:
    return "measured" if name in b.d.aircraft.track else "inferred"


def _marker(b: Flown, geometry: Geometry) -> tuple[np.ndarray, np.ndarray]:
    """Flight-path marker against the far right corner of the landing area, seen from the eye, rad."""
    site = b.site
    corner = geometry.approach(geometry.deck_point((site.length, site.width / 2.0, 0.0)))
    sight = corner - geometry.eye()
    flown = geometry.earth_velocity()
    azimuth = np.arctan2(flown[:, 1], flown[:, 0]) - np.arctan2(sight[:, 1], sight[:, 0])
    level = np.hypot(sight[:, 0], sight[:, 1])
    above = np.arctan2(flown[:, 2], np.hypot(flown[:, 0], flown[:, 1])) - np.arctan2(sight[:, 2], level)
    behind = (sight[:, 0] <= 0.0) | (np.arange(b.time.size) >= b.first_contact)
    return np.where(behind, np.nan, azimuth), np.where(behind, np.nan, above)


def _aim(b: Flown, geometry: Geometry) -> np.ndarray:
    """Deck x, y (n, 2) that the hook point would meet if the present velocity stayed."""
    hook = b.hook
    velocity = b.velocity
    out = np.full((b.time.size, 2), np.nan)
    falling = (velocity[:, 2] < -0.2) & (hook[:, 2] > 0.0)
    falling[b.first_contact :] = False
    seconds = hook[falling, 2] / -velocity[falling, 2]
    out[falling] = hook[falling, :2] + velocity[falling, :2] * seconds[:, None]
    return out
