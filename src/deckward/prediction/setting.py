"""The scene of a pass from a ship, an aircraft, the air and the hands that fly it."""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct, field

from deckward.environment import airwake as airwakes
from deckward.environment import sea, turbulence
from deckward.environment.airwake import Airwake
from deckward.environment.sea import DeckMotion
from deckward.foundation.units import STANDARD_GRAVITY
from deckward.prediction.model import SEA_LEVEL_DENSITY, Air, Model
from deckward.prediction.scene import Deck, Motion, Officer, Pilot, Scene, Weather
from deckward.prediction.trim import Trim, trim
from deckward.site.model import Site

#: deck motion is laid down at this rate for this long, then read round and round
_MOTION_RATE, _MOTION_SECONDS = 10.0, 1800.0
_PROFILE_STEP, _PROFILE_TOP = 2.0, 400.0
_WAKE_STEP = 10.0
#: the deck's height over the sea where a site does not tell, m
_USUAL_DECK_HEIGHT = 19.5


class Conditions(Struct, frozen=True):
    """The day: SI and radians.

    ``headwind`` down the landing area and ``crosswind`` (+ from starboard) of the wind over
    deck, m/s; ``ship_speed`` is the ship's share of it. ``gusts`` is "free-air" (times
    ``gust_strength``), "low-altitude" (of the natural wind 20 ft up) or "none". ``airwake``
    None is none; ``airwake_strength`` multiplies all its parts.
    """

    headwind: float = 12.5
    crosswind: float = 0.0
    ship_speed: float = 7.5
    motion: DeckMotion = field(default_factory=sea.still_deck)
    gusts: str = "free-air"
    gust_strength: float = 1.0
    airwake: Airwake | None = None
    airwake_strength: float = 1.0
    density: float = SEA_LEVEL_DENSITY

    @property
    def air(self) -> Air:
        """The steady wind over deck as the air's velocity in the approach frame."""
        return Air(-self.headwind, -self.crosswind, 0.0, self.density)


def scene_of(
    model: Model,
    site: Site,
    conditions: Conditions,
    *,
    pilot: Pilot | None = None,
    officer: Officer | None = None,
    dt: float,
) -> Scene:
    """Put a pass together; ``dt`` is the step (s) that it will be flown with."""
    pilot, officer = pilot or Pilot(), officer or Officer()
    steady = trim(model, path=-site.lens.basic_angle, air=conditions.air)
    c = model.coefficients
    slope = (model.thrust_of(steady.power + 0.01) - model.thrust_of(steady.power - 0.01)) / 0.02
    times = (pilot.eye_time, pilot.hand_time, pilot.side_time, pilot.alpha_time)
    keep = tuple(1.0 - dt / time for time in times)
    return Scene(
        aircraft=c,
        deck=deck_of(site, model, steady),
        motion=motion_of(conditions.motion),
        weather=_weather(site, conditions, steady, dt),
        pilot=Pilot(*(float(value) for value in pilot)),
        officer=Officer(*(float(value) for value in officer)),
        trim_power=steady.power,
        lever_per_weight=float(c.mass * STANDARD_GRAVITY / slope),
        slope=math.tan(site.lens.basic_angle),
        keep=keep,
        kick=tuple(math.sqrt(1.0 - k * k) for k in keep),
    )


def deck_of(site: Site, model: Model, steady: Trim) -> Deck:
    """Return the deck with the lens's path for this aircraft, at its on-speed attitude."""
    profile, lens = model.profile, site.lens
    pitch = profile.on_speed_pitch if profile.on_speed_pitch is not None else steady.pitch
    sp, cp = math.sin(pitch), math.cos(pitch)
    ahead = profile.eye[0] - profile.hook[0]
    below = profile.eye[2] - profile.hook[2]
    slope = math.tan(lens.basic_angle)
    # the line of the hook to its target, moved to the eye, over the lens
    constant = (lens.hook_target - lens.position[0] + ahead * cp + below * sp) * slope
    constant += ahead * sp - below * cp - lens.position[2]
    return Deck(
        cos_angle=math.cos(site.angle),
        sin_angle=math.sin(site.angle),
        ramp_x=site.ramp[0] - site.centre[0],
        ramp_y=site.ramp[1] - site.centre[1],
        length=site.length,
        half_width=site.width / 2,
        wires=np.array(site.wires.positions if site.wires else (), dtype=float),
        wire_height=site.wires.height if site.wires else 0.0,
        lens_x=lens.position[0],
        lens_z=lens.position[2],
        basic=lens.basic_angle,
        path_constant=constant,
        lens_moves=0.0 if lens.stabilisation == "inertial" else 1.0,
        lens_tilts=1.0 if lens.stabilisation == "none" else 0.0,
        above_sea=-site.ramp[2] if site.ramp[2] < 0.0 else _USUAL_DECK_HEIGHT,
        hook_x=profile.hook[0],
        hook_z=profile.hook[2],
        eye_x=profile.eye[0],
        eye_z=profile.eye[2],
        wheel_x=profile.main_wheels[0],
        wheel_z=profile.main_wheels[2],
    )


def motion_of(motion: DeckMotion) -> Motion:
    """Lay a deck motion down as a record."""
    if not motion.amplitude.any():
        return Motion(np.zeros((3, 2)), 1.0)
    time = np.arange(0.0, _MOTION_SECONDS, 1.0 / _MOTION_RATE)
    return Motion(np.ascontiguousarray(motion.at(time)), _MOTION_RATE)


def _weather(site: Site, day: Conditions, steady: Trim, dt: float) -> Weather:
    natural = math.hypot(
        day.headwind - day.ship_speed * math.cos(site.angle),
        day.crosswind - day.ship_speed * math.sin(site.angle),
    )
    deck = -site.ramp[2] if site.ramp[2] < 0.0 else _USUAL_DECK_HEIGHT
    heights = np.arange(0.0, _PROFILE_TOP, _PROFILE_STEP)
    at_deck = float(turbulence.wind_at(deck, wind_20ft=1.0))
    gusts = {
        "free-air": lambda: turbulence.free_air(
            airspeed=steady.true_airspeed, dt=dt, strength=day.gust_strength
        ),
        "low-altitude": lambda: turbulence.low_altitude_gusts(
            airspeed=steady.true_airspeed, dt=dt, wind_20ft=natural / at_deck
        ),
        "none": turbulence.still,
    }[day.gusts]()
    wake = day.airwake or airwakes.load()
    strength = day.airwake_strength if day.airwake else 0.0
    ends = [*wake.steady_range, *wake.random_range]
    grid = np.arange(min(ends), max(ends) + 2 * _WAKE_STEP, _WAKE_STEP)
    along, up = wake.steady(grid)
    amplitude, frequency = day.motion.pitch_wave()
    return Weather(
        along=-day.headwind,
        across=-day.crosswind,
        ship_along=-day.ship_speed * math.cos(site.angle),
        ship_across=-day.ship_speed * math.sin(site.angle),
        density=day.density,
        profile=turbulence.wind_at(heights, wind_20ft=1.0) / at_deck,
        per_height=1.0 / _PROFILE_STEP,
        gust_rows=gusts.rows,
        gust_per_metre=gusts.per_metre,
        over_deck=math.hypot(day.headwind, day.crosswind),
        wake_low=float(grid[0]),
        wake_per_metre=1.0 / _WAKE_STEP,
        wake_along=along,
        wake_up=up,
        wake_sigma=np.interp(grid, wake.random_range, wake.random_sigma, right=0.0),
        wake_time=np.interp(grid, wake.random_range, wake.random_time),
        wake_random=airwakes.RANDOM_SIGMA,
        wake_strength=strength,
        centre_x=site.ramp[0] - site.centre[0],
        pitch_amplitude=amplitude,
        pitch_frequency=frequency,
    )


def start_on_path(scene: Scene, steady: Trim, range_aft: float):
    """Return the state of an aircraft steady on the commanded path at a range (m) behind the ramp."""
    deck = scene.deck
    sp, cp = math.sin(steady.pitch), math.cos(steady.pitch)
    eye_x = -range_aft + deck.eye_x * cp + deck.eye_z * sp
    eye_z = deck.lens_z + deck.path_constant + (deck.lens_x - eye_x) * math.tan(deck.basic)
    return steady.state._replace(x=-range_aft, z=eye_z - deck.eye_x * sp + deck.eye_z * cp)
