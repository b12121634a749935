"""Where things stand against the deck: hull, deck and approach axes, and the lens.

Every function takes a :class:`Moment`, the estimated state of aircraft and ship at m
times, and is pure.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np
from msgspec import Struct

from deckward.aircraft.model import Profile
from deckward.foundation import frames
from deckward.passes.ground import Ground
from deckward.site.model import Site

_UP = np.array([1.0, 1.0, -1.0])


class Moment(Struct, frozen=True):
    """Aircraft and ship at m times.

    ``place``, ``velocity`` (m, 3) in the ground's plane; ``pitch``, ``roll``,
    ``heading`` (m,), rad, against what is level at the craft; ship the same, and
    ``ship_turning`` (m, 3), the rates of her pitch, roll and heading, rad/s.
    """

    time: np.ndarray
    place: np.ndarray
    velocity: np.ndarray
    pitch: np.ndarray
    roll: np.ndarray
    heading: np.ndarray
    ship_place: np.ndarray
    ship_velocity: np.ndarray
    ship_pitch: np.ndarray
    ship_roll: np.ndarray
    ship_heading: np.ndarray
    ship_turning: np.ndarray


def hull_to_deck(angle: float) -> np.ndarray:
    """Give the matrix (3, 3) from hull axes (z down) to deck axes (z up), origins aside."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, -1.0]])


class Geometry:
    """Aircraft and ship of a :class:`Moment` brought into deck and approach axes.

    All results are (m,) or (m, 3), m and rad. The level plane is that at the ship's
    reference point at each instant.
    """

    def __init__(self, moment: Moment, site: Site, profile: Profile, ground: Ground) -> None:
        self.moment = moment
        self.site = site
        self.profile = profile
        self.at_ship = ground.levels(moment.ship_place)
        self.ship_attitude = frames.body_to_level(moment.ship_heading, moment.ship_pitch, moment.ship_roll)
        self._ground = ground
        self.offset = frames.rotate(self.at_ship, moment.place - moment.ship_place)
        self.ramp = frames.rotate(self.ship_attitude, site.ramp_vector)
        self._centreline = frames.yaw(moment.ship_heading - site.angle)
        self._to_deck = hull_to_deck(site.angle)

    @cached_property
    def body(self) -> np.ndarray:
        """Rotations (m, 3, 3) from the aircraft's axes to what is level at the ship."""
        moment = self.moment
        own = frames.body_to_level(moment.heading, moment.pitch, moment.roll)
        to_ship_level = self.at_ship @ self._ground.levels(moment.place).swapaxes(-1, -2)
        return to_ship_level @ own

    def point(self, body_point) -> np.ndarray:
        """Place of a point of the aircraft from the ship's reference point, level axes."""
        return self.offset + frames.rotate(self.body, np.asarray(body_point, dtype=float))

    def approach(self, level_point) -> np.ndarray:
        """Bring a point given from the ship's reference point into approach axes."""
        return self.turn_to_approach(level_point - self.ramp)

    def turn_to_approach(self, level_vector) -> np.ndarray:
        """Turn a level vector into approach axes."""
        return frames.rotate_back(self._centreline, level_vector) * _UP

    def deck(self, level_point) -> np.ndarray:
        """Bring a point given from the ship's reference point into deck axes."""
        hull = frames.rotate_back(self.ship_attitude, level_point) - self.site.ramp_vector
        return hull @ self._to_deck.T

    def hull(self) -> np.ndarray:
        """The aircraft's reference point in hull axes."""
        return frames.rotate_back(self.ship_attitude, self.offset)

    def deck_point(self, deck_point) -> np.ndarray:
        """Place of a deck-frame point from the ship's reference point, level axes."""
        hull = self.site.ramp_vector + self._to_deck.T @ np.asarray(deck_point, dtype=float)
        return frames.rotate(self.ship_attitude, hull)

    def reference(self) -> np.ndarray:
        """The aircraft's reference point in approach axes."""
        return self.approach(self.offset)

    def hook(self) -> np.ndarray:
        """The hook point in deck axes."""
        return self.deck(self.point(self.profile.hook))

    def wheels(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Right main, left main and nose wheel in deck axes."""
        x, y, z = self.profile.main_wheels
        return (
            self.deck(self.point((x, y, z))),
            self.deck(self.point((x, -y, z))),
            self.deck(self.point(self.profile.nose_wheel)),
        )

    def eye(self) -> np.ndarray:
        """The pilot's eye in approach axes."""
        return self.approach(self.point(self.profile.eye))

    def earth_velocity(self) -> np.ndarray:
        """Velocity against the earth, in approach axes, m/s."""
        return self.turn_to_approach(frames.rotate(self.at_ship, self.moment.velocity))

    def relative_velocity(self) -> np.ndarray:
        """Rate of the reference point's place in approach axes, which turn with the ship, m/s."""
        moment = self.moment
        pitching, rolling, yawing = moment.ship_turning.T
        flown = frames.rotate(self.at_ship, moment.velocity - moment.ship_velocity)
        # what is level at the ship turns with her way over the curved earth
        flown -= np.cross(self._ground.level_turning(moment.ship_velocity), self.offset)
        across = np.array([-np.sin(moment.ship_heading), np.cos(moment.ship_heading)])
        turning = self.ship_attitude[:, :, 0] * rolling[:, None]
        turning[:, :2] += (pitching * across).T
        turning[:, 2] += yawing
        rate = self.turn_to_approach(flown - np.cross(turning, self.ramp))
        place = self.reference()
        rate[:, 0] += yawing * place[:, 1]
        rate[:, 1] -= yawing * place[:, 0]
        return rate

    def line_up_error(self, reference) -> np.ndarray:
        """Angle of the offset seen from the hook target point, + right."""
        return np.arctan2(reference[:, 1], self.site.lens.hook_target - reference[:, 0])

    def lens_height(self, ship_altitude) -> np.ndarray:
        """Height of the lens above the sea (m,), the ship's reference point being at ``ship_altitude``."""
        return ship_altitude - self.deck_point(self.site.lens.position)[:, 2]

    def glide_slope(
        self, constant: float, *, ship_altitude, mean_lens_height: float
    ) -> tuple[np.ndarray, np.ndarray]:
        """Glide-slope error (m,), + high, and the distance from eye to lens (m,).

        NaN past the lens. ``constant`` is the height at which the eye's commanded path
        passes the lens. An inertially stabilised lens aims as if it stood still at
        ``mean_lens_height`` above the sea; only there do both heights (m) count.
        """
        lens = self.site.lens
        lens_level = self.deck_point(lens.position)
        eye_level = self.point(self.profile.eye)
        if lens.stabilisation == "none":
            eye, at = self.deck(eye_level), np.asarray(lens.position, dtype=float)[None]
        else:
            eye, at = self.approach(eye_level), self.approach(lens_level)
        ahead = at[:, 0] - eye[:, 0]
        above = eye[:, 2] - at[:, 2]
        if lens.stabilisation == "inertial":
            above = ship_altitude - eye_level[:, 2] - mean_lens_height
        error = np.arctan2(above - constant, ahead) - lens.basic_angle
        distance = np.linalg.norm(eye_level - lens_level, axis=-1)
        return np.where(ahead > 0.0, error, np.nan), distance


def path_constant(site: Site, profile: Profile, on_speed_pitch: float) -> float:
    """Height over the lens at which the eye's commanded path passes it, m.

    On a still and level deck: the line that leads the hook of this aircraft, at on-speed
    attitude and wings level, to the hook target point at the basic angle, moved by the
    hook-to-eye offset at that attitude.
    """
    forward = profile.eye[0] - profile.hook[0]
    down = profile.eye[2] - profile.hook[2]
    c, s = np.cos(on_speed_pitch), np.sin(on_speed_pitch)
    eye_ahead = forward * c + down * s
    eye_above = forward * s - down * c
    lens = site.lens
    run = lens.hook_target + eye_ahead - lens.position[0]
    return float(eye_above + run * np.tan(lens.basic_angle) - lens.position[2])


def ball_in_window(error, distance, image_distance: float) -> np.ndarray:
    """Height of the ball over the centre of its window, m, for an angular error (rad).

    The light comes from a virtual image ``image_distance`` behind the window, so that the
    ball runs out of its box at a larger angle close in. Source: image distance published
    (NAVEDTRA 14342A); formula derived from it.
    """
    distance = np.asarray(distance, dtype=float)
    return image_distance * distance * np.tan(error) / (distance + image_distance)
