"""The frozen pass: what happened between the start and the end, in SI and radians.

Frames and signs are those of the project's conventions: approach frame (origin at the
ramp, x forward along the landing-area centreline, y starboard, z up, level with the
horizon) and deck frame (same origin, tilts with the ship).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
from msgspec import Struct, field

from deckward.aircraft.model import Profile
from deckward.errors import Note
from deckward.foundation.track import Track
from deckward.foundation.units import DEGREE, NAUTICAL_MILE
from deckward.site.model import Site


class Wind(NamedTuple):
    """A steady wind: where it comes from, true, rad, and its speed, m/s."""

    from_direction: float
    speed: float


class GrooveBounds(NamedTuple):
    """When the groove begins: inside ``within`` (m), bank and line-up (rad) hold for ``held`` s."""

    within: float = 1.2 * NAUTICAL_MILE
    bank: float = 5.0 * DEGREE
    line_up: float = 3.0 * DEGREE
    held: float = 1.0


class ShipCourse(Struct, frozen=True):
    """A ship known by course and speed: at a place (rad) at a time (s), steering a rhumb line."""

    latitude: float
    longitude: float
    time: float
    course: float
    speed: float


class Series(Struct, frozen=True):
    """The smoothed state on the recording's own samples, ``(n,)`` each unless said.

    NaN where a quantity has no meaning (the ball past the lens) or was not recorded
    (``power``). After contact with the deck the samples go on for the plots, but
    nothing before ``contact`` (index of the first sample at or after contact, n if
    none) was smoothed with them.
    """

    time: np.ndarray
    #: distance of the reference point aft of the ramp, m, approach frame
    range: np.ndarray
    #: + right of the centreline, m / rad (seen from the hook target point)
    line_up_offset: np.ndarray
    line_up_error: np.ndarray
    #: reference point above the ramp point, approach frame, m
    height: np.ndarray
    #: glide-slope error at the lens, rad, + high; in cells of the lens
    glide_slope_error: np.ndarray
    ball_cells: np.ndarray
    angle_of_attack: np.ndarray
    #: + slow
    angle_of_attack_error: np.ndarray
    #: descent of the reference point relative to the earth, m/s
    sink: np.ndarray
    #: speed relative to the ship along the centreline, m/s, + closing
    closure: np.ndarray
    true_airspeed: np.ndarray
    pitch: np.ndarray
    roll: np.ndarray
    #: true heading, rad
    heading: np.ndarray
    #: 0..1 as recorded (throttle, else engine rpm), NaN where not recorded
    power: np.ndarray
    #: rate of (height + V^2 / 2g) of the air-mass energy, m/s
    specific_energy_rate: np.ndarray
    #: (n, 3) deck frame, m
    hook: np.ndarray
    right_wheel: np.ndarray
    left_wheel: np.ndarray
    #: (n, 3) approach frame, m
    eye: np.ndarray
    #: direction of the velocity relative to the ship against the centreline, rad, + right
    drift: np.ndarray
    #: (n, 2) deck-frame x, y where the present velocity meets the deck plane, m; NaN if not
    aim: np.ndarray
    #: flight-path marker minus far right corner of the landing area, seen from the eye, rad,
    #: + right / + above
    marker_right_of_corner: np.ndarray
    marker_above_corner: np.ndarray
    #: the ball in its window, m above the window's centre (virtual image), not clipped
    ball_in_window: np.ndarray
    deck_pitch: np.ndarray
    deck_roll: np.ndarray
    #: height of the ramp point against its mean over the pass, m
    deck_heave: np.ndarray
    contact: int
    #: standard deviation per field name, (n,) each
    sigma: Mapping[str, np.ndarray] = field(default_factory=dict)
    #: how long an error of that field lasts, s (correlation time; inf for a pure offset)
    correlation: Mapping[str, float] = field(default_factory=dict)
    #: field name -> "measured" or "inferred"
    origin: Mapping[str, str] = field(default_factory=dict)


class Position(Struct, frozen=True):
    """The state where the pass crosses a named range."""

    name: str
    range: float
    time: float
    glide_slope_error: float
    ball_cells: float
    line_up_error: float
    line_up_offset: float
    angle_of_attack: float | None
    angle_of_attack_error: float | None
    sink: float
    closure: float
    after_wave_off: bool
    #: one standard deviation of glide_slope_error, line_up_offset, angle_of_attack, sink, closure
    sigma: Mapping[str, float] = field(default_factory=dict)


class Ramp(Struct, frozen=True):
    """The moment the hook point crosses the ramp."""

    time: float
    hook_to_ramp: float
    hook_to_ramp_sigma: float


class Touchdown(Struct, frozen=True):
    """First contact: hook with the deck or a wire; with the hook up, wheels only."""

    time: float
    #: "deck", "wire" or "wheels"
    kind: str
    hook_x: float | None
    hook_x_sigma: float | None
    wheels_x: float | None
    off_centre: float | None
    sink: float | None
    closure: float | None
    angle_of_attack: float | None
    pitch: float | None


class WaveOff(Struct, frozen=True):
    """Where the last sustained rise of power began; lowest hook point over the deck after it."""

    start: float
    start_range: float
    lowest_hook_above_deck: float | None


class Groove(Struct, frozen=True):
    """Wings level behind the ramp: when it began and how long it lasted, s."""

    start: float
    seconds: float


class Turn(Struct, frozen=True):
    """The turn from downwind: abeam distance and height above the sea, m."""

    abeam_distance: float
    abeam_altitude: float
    start: float


class Recorded(Struct, frozen=True):
    """What was recorded around a pass, on the aircraft's clock: every channel, before and after it.

    Ends where the next pass begins; ``ship`` is cut to the same time.
    """

    aircraft: Track
    ship: Track


class Pass(Struct, frozen=True):
    """One pass at the deck, from its first to its last sample."""

    who: str
    aircraft: Profile
    site: Site
    start: float
    end: float
    #: one of the contract's outcomes, or None where the recording ends too early to say
    outcome: str | None
    flags: tuple[str, ...]
    wire: int | None
    wire_odds: Mapping[str, float]
    wire_in_the_air: bool
    groove: Groove | None
    turn: Turn | None
    positions: tuple[Position, ...]
    ramp: Ramp | None
    touchdown: Touchdown | None
    wave_off: WaveOff | None
    series: Series
    notes: tuple[Note, ...] = ()
    #: height of the commanded path over the lens (contract's c), m, and the angle of
    #: attack band's on-speed pitch used, rad
    path_constant: float = 0.0
    on_speed_pitch: float = 0.0
    #: the channels behind the pass, None where only the series is known
    recorded: Recorded | None = None


class Found(Struct, frozen=True):
    """What a search brought: the passes in order of time, and what else was seen."""

    passes: tuple[Pass, ...]
    seen: str
    notes: tuple[Note, ...] = ()
