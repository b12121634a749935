"""A pass whose every number is known: straight flight to a moving deck, told by formulas.

Nothing here uses the package's geometry. Rotations are products of elementary ones, the
earth is pymap3d's, and events are found by halving intervals on the formulas themselves.

The aircraft flies in the *steady frame*: origin at the ramp of a ship on an even keel, x
along the landing area, y to starboard, z up, moving and turning as the ship does on the
whole. The ship pitches, rolls and heaves about it. Until the wheels meet the deck the
reference point follows the told path; then it rolls on the moving deck, is held by a wire,
brakes, or flies off again. SI and radians.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import cached_property

import numpy as np
import pymap3d
from msgspec import Struct, field

from deckward.aircraft.model import Profile
from deckward.foundation.track import Track
from deckward.site.model import Lens, Place, Site, Wires

DEGREE = math.pi / 180.0
FOOT = 0.3048
KNOT = 1852.0 / 3600.0
NAUTICAL_MILE = 1852.0
CENTIMETRE = 0.01
MILLISECOND = 0.001
GRAVITY = 9.80665

#: ranges at which a pass is read, by name
RANGES = {"3/4 nm": 1389.0, "1/2 nm": 926.0, "1/4 nm": 463.0}

DECK = Site(
    name="Test deck",
    kind="ship",
    angle=9.0 * DEGREE,
    ramp=(-150.0, 2.5, -19.5),
    length=232.0,
    width=27.0,
    lens=Lens((128.0, -19.0, 1.2), 3.5 * DEGREE, 12, 0.1417 * DEGREE, 2, 70.0, "line", 45.7, 1.36),
    wires=Wires((52.0, 64.0, 76.0, 88.0), 0.1),
)
FIELD = Site(
    name="Test field",
    kind="field",
    angle=0.0,
    ramp=(0.0, 0.0, 0.0),
    length=2400.0,
    width=45.0,
    lens=Lens((230.0, -30.0, 1.2), 3.25 * DEGREE, 12, 0.1417 * DEGREE, 2, 150.0, "line", 45.7, 1.36),
    place=Place(45.0 * DEGREE, 7.0 * DEGREE, 120.0, 231.0 * DEGREE),
)
JET = Profile(
    name="Test jet",
    eye=(5.1, 0.0, -1.2),
    hook=(-4.3, 0.0, 1.9),
    main_wheels=(-0.3, 1.2, 1.8),
    nose_wheel=(3.4, 0.0, 1.8),
    on_speed=8.0 * DEGREE,
    band=(7.3 * DEGREE, 8.7 * DEGREE),
    slight_band=(6.8 * DEGREE, 9.2 * DEGREE),
    on_speed_pitch=5.3 * DEGREE,
)


class Sway(Struct, frozen=True):
    """One sine of the ship's motion: amplitude, period (s), phase at time 0 (rad)."""

    amplitude: float = 0.0
    period: float = 9.0
    phase: float = 0.0

    def at(self, time):
        """Value at times (n,)."""
        return self.amplitude * np.sin(2.0 * np.pi * time / self.period + self.phase)


class Ship(Struct, frozen=True):
    """How the ship goes: course and speed, heading against the course, turn rate, sways."""

    course: float = 0.0
    speed: float = 10.0
    #: heading minus course
    leeway: float = 0.0
    turn: float = 0.0
    heave: Sway = field(default_factory=Sway)
    pitch: Sway = field(default_factory=Sway)
    roll: Sway = field(default_factory=Sway)
    #: height of the reference point above the sea on an even keel
    height: float = 0.0


ROUGH = Ship(
    speed=10.0,
    heave=Sway(1.0, 9.0, 0.4),
    pitch=Sway(0.8 * DEGREE, 8.3, 1.1),
    roll=Sway(1.5 * DEGREE, 17.0, 2.0),
)


class Flight(Struct, frozen=True):
    """What is flown. ``start`` is the time at which the aircraft is ``from_range`` aft of the ramp.

    ``hook_aim`` is the steady-frame x at which the straight path leads the hook point to
    deck level, at ``slope`` below the horizon (seen from the ship); ``off_centre`` how far
    right of the centreline, with ``drift`` the angle of the path to it, + to the right.
    ``weave`` and ``sway`` add sines to height and line-up that are zero at the aim.
    """

    site: Site = DECK
    jet: Profile = JET
    ship: Ship = field(default_factory=Ship)
    start: float = 0.0
    from_range: float = 1750.0
    closure: float = 57.0
    slope: float = 3.5 * DEGREE
    hook_aim: float = 70.0
    off_centre: float = 0.0
    drift: float = 0.0
    weave: Sway = field(default_factory=Sway)
    sway: Sway = field(default_factory=Sway)
    attack: float = 8.0 * DEGREE
    roll: Sway = field(default_factory=Sway)
    wind_from: float = 0.0
    wind_speed: float = 0.0
    #: "geometry": the wire the hook comes to; a number: that wire; None: none holds
    wire: int | str | None = "geometry"
    #: what the wire pulls with at its strongest, and how long that takes to grow, s
    pull: float = 2.0 * GRAVITY
    pull_grows: float = 0.25
    #: how fast the nose comes down after the wheels meet the deck, s
    nose_falls: float = 0.25
    hook_down: bool = True
    #: power goes up this long before the aim would be reached; None: never
    wave_off_before: float | None = None
    #: how strongly the path bends up then: time from sink to climb, s
    recovery: float = 5.0
    climb: float = 8.0
    #: deceleration of the wheel brakes; 0: flies off again after ``on_deck`` seconds
    brakes: float = 0.0
    on_deck: float = 1.3
    #: length of the recording after the aim, s
    after: float = 7.0


def about_z(angle) -> np.ndarray:
    """Turn about z by angles (...,): (..., 3, 3)."""
    return _elementary(angle, 0, 1)


def about_y(angle) -> np.ndarray:
    """Turn about y by angles (...,)."""
    return _elementary(angle, 2, 0)


def about_x(angle) -> np.ndarray:
    """Turn about x by angles (...,)."""
    return _elementary(angle, 1, 2)


def _elementary(angle, i: int, j: int) -> np.ndarray:
    angle = np.asarray(angle, dtype=float)
    out = np.zeros((*angle.shape, 3, 3))
    out[..., range(3), range(3)] = 1.0
    out[..., i, i] = out[..., j, j] = np.cos(angle)
    out[..., i, j] = -np.sin(angle)
    out[..., j, i] = np.sin(angle)
    return out


def attitude(heading, pitch, roll) -> np.ndarray:
    """Body axes to north, east, down: yaw, then pitch, then roll."""
    return about_z(heading) @ about_y(pitch) @ about_x(roll)


def euler(rotation) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Heading, pitch, roll of rotations (n, 3, 3)."""
    nose = rotation[:, :, 0]
    return (
        np.arctan2(nose[:, 1], nose[:, 0]),
        np.arcsin(np.clip(-nose[:, 2], -1.0, 1.0)),
        np.arctan2(rotation[:, 2, 1], rotation[:, 2, 2]),
    )


def turned(rotation, vector) -> np.ndarray:
    """Apply rotations (n, 3, 3) to one vector (3,) or to n of them (n, 3)."""
    return (rotation @ np.broadcast_to(vector, (*rotation.shape[:-2], 3))[..., None])[..., 0]


def crossing(values: Callable, low: float, high: float, *, step: float = 0.01) -> float | None:
    """First time at which ``values`` goes from above zero to zero or less, to 1e-9 s."""
    time = np.arange(low, high + step, step)
    sign = values(time)
    rows = np.flatnonzero((sign[:-1] > 0.0) & (sign[1:] <= 0.0))
    if not rows.size:
        return None
    low, high = float(time[rows[0]]), float(time[rows[0] + 1])
    for _ in range(30):
        middle = 0.5 * (low + high)
        if values(np.array([middle]))[0] > 0.0:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


class Reading(Struct, frozen=True):
    """What is true at one instant: approach-frame place, errors, angles and rates."""

    time: float
    range: float
    line_up_offset: float
    line_up_error: float
    glide_slope_error: float
    angle_of_attack: float
    sink: float
    closure: float


class Contact(Struct, frozen=True):
    """First contact of the hook (or, with the hook up, of the wheels)."""

    time: float
    kind: str
    hook_x: float | None
    off_centre: float | None
    sink: float
    closure: float
    pitch: float


class AnalyticPass:
    """Formulas of one flight. Times are absolute, (n,), s."""

    def __init__(self, flight: Flight) -> None:
        self.flight = flight
        self.site = flight.site
        self.jet = flight.jet
        self._held: tuple[float, float] | None = None

    # --- the ship

    def ship_course(self, time) -> np.ndarray:
        """Course over the ground."""
        return self.flight.ship.course + self.flight.ship.turn * time

    def ship_mean(self, time) -> np.ndarray:
        """North, east (n, 2) of the ship, from where she is at time 0."""
        ship = self.flight.ship
        if abs(ship.turn) < 1e-9:
            way = ship.speed * np.asarray(time)
            return np.stack([way * np.cos(ship.course), way * np.sin(ship.course)], axis=-1)
        radius = ship.speed / ship.turn
        course = self.ship_course(time)
        return radius * np.stack(
            [np.sin(course) - np.sin(ship.course), np.cos(ship.course) - np.cos(course)], axis=-1
        )

    def ship_heading(self, time) -> np.ndarray:
        """True heading."""
        return self.ship_course(time) + self.flight.ship.leeway

    def ship_attitude(self, time) -> np.ndarray:
        """Hull axes to north, east, down."""
        ship = self.flight.ship
        return attitude(self.ship_heading(time), ship.pitch.at(time), ship.roll.at(time))

    def ship_height(self, time) -> np.ndarray:
        """Height of the ship's reference point above the sea."""
        return self.flight.ship.height + self.flight.ship.heave.at(time)

    def ship_place(self, time) -> np.ndarray:
        """The reference point against the steady one at sea level: north, east, down."""
        zero = np.zeros_like(time)
        return np.stack([zero, zero, -self.ship_height(time)], axis=-1)

    # --- the aircraft, as a place against the steady ship at sea level (north, east, down)

    def axes(self, time) -> np.ndarray:
        """Steady axes (n, 3, 3), columns along, across, up, in north, east, down."""
        centreline = self.ship_heading(time) - self.site.angle
        zero = np.zeros_like(centreline)
        along = np.stack([np.cos(centreline), np.sin(centreline), zero], axis=-1)
        across = np.stack([-np.sin(centreline), np.cos(centreline), zero], axis=-1)
        up = np.broadcast_to([0.0, 0.0, -1.0], along.shape)
        return np.stack([along, across, up], axis=-1)

    def from_steady(self, time, point) -> np.ndarray:
        """North, east, down of steady-frame points (n, 3)."""
        ramp = turned(about_z(self.ship_heading(time)), np.asarray(self.site.ramp))
        ramp = ramp - np.array([0.0, 0.0, self.flight.ship.height])
        return ramp + turned(self.axes(time), point)

    @cached_property
    def aim_time(self) -> float:
        """When the reference point is over where it would be with the hook at the aim."""
        flight = self.flight
        return flight.start + (flight.from_range + flight.hook_aim - self._hook_arm[0]) / flight.closure

    @cached_property
    def wave_off_time(self) -> float | None:
        """When power goes up for the wave-off."""
        before = self.flight.wave_off_before
        return None if before is None else self.aim_time - before

    @cached_property
    def _hook_arm(self) -> np.ndarray:
        """Hook point from the reference point in steady axes, on the straight path."""
        flight = self.flight
        time = np.array([flight.start])
        velocity = flight.closure * np.array([1.0, math.tan(flight.drift), -math.tan(flight.slope)])
        rate = turned(self.axes(time), velocity) + self.ship_rate(time)
        own = self._flown_attitude(rate, np.zeros(1))
        return turned(np.swapaxes(self.axes(time), 1, 2), turned(own, np.asarray(self.jet.hook)))[0]

    def ship_rate(self, time) -> np.ndarray:
        course, speed = self.ship_course(time), self.flight.ship.speed
        return np.stack([speed * np.cos(course), speed * np.sin(course), np.zeros_like(course)], axis=-1)

    def _path(self, time) -> np.ndarray:
        """The told path of the reference point in the steady frame."""
        flight = self.flight
        left = time - self.aim_time
        arm = self._hook_arm
        x = flight.hook_aim - arm[0] + flight.closure * left
        y = flight.off_centre - arm[1] + flight.closure * left * math.tan(flight.drift)
        z = -arm[2] - flight.closure * left * math.tan(flight.slope)
        y = y + _sine_from_zero(flight.sway, left)
        z = z + _sine_from_zero(flight.weave, left)
        if self.wave_off_time is not None:
            rise = flight.closure * math.tan(flight.slope) + flight.climb
            z = z + _bent_up(time - self.wave_off_time, rise, flight.recovery)
        return np.stack([x, y, z], axis=-1)

    def _air_velocity(self, time) -> np.ndarray:
        """Velocity (n, 3) of the told path in the air, north, east, down."""
        step = 1e-3
        ahead, behind = (self.from_steady(t, self._path(t)) for t in (time + step, time - step))
        flight = self.flight
        wind = -flight.wind_speed * np.array([np.cos(flight.wind_from), np.sin(flight.wind_from), 0.0])
        return (ahead - behind) / (2.0 * step) + self.ship_rate(time) - wind

    def _flown_attitude(self, rate, roll) -> np.ndarray:
        """Attitude that flies at the told angle of attack without sideslip."""
        flight = self.flight
        wind = -flight.wind_speed * np.array([np.cos(flight.wind_from), np.sin(flight.wind_from), 0.0])
        return attitude_for(rate - wind, np.full_like(roll, flight.attack), roll)

    def attack(self, time) -> np.ndarray:
        """Angle of attack: as told, and in proportion to the lift that bends the path."""
        step = 1e-2
        before, now, after = (self._path(t)[:, 2] for t in (time - step, time, time + step))
        return self.flight.attack * (1.0 + (before - 2.0 * now + after) / step**2 / GRAVITY)

    def _free(self, time) -> tuple[np.ndarray, np.ndarray]:
        """Place and attitude in the air; what a wire takes comes off along the deck."""
        flight = self.flight
        rotation = attitude_for(self._air_velocity(time), self.attack(time), flight.roll.at(time))
        point = self._path(time)
        point[:, 0] -= self._lost(time)
        return self.from_steady(time, point), rotation

    def _lost(self, time) -> np.ndarray:
        """Distance that a wire has taken off: its pull grows steadily, then stays until the stop."""
        if self._held is None:
            return np.zeros_like(time)
        since, speed = np.clip(time - self._held[0], 0.0, None), self._held[1]
        pull, grow = self.flight.pull, self.flight.pull_grows
        early = np.minimum(since, grow)
        late = np.clip(since - grow, 0.0, None)
        stop = grow + (speed - 0.5 * pull * grow) / pull
        rest = np.clip(since - stop, 0.0, None)
        late = late - rest
        lost = pull * early**3 / (6.0 * grow)
        lost = lost + 0.5 * pull * grow * late + 0.5 * pull * late**2
        return lost + speed * rest

    # --- contact

    def _lowest_wheel(self, place, rotation, time) -> np.ndarray:
        x, y, z = self.jet.main_wheels
        sides = [self.deck_of(place + turned(rotation, (x, s * y, z)), time) for s in (1.0, -1.0)]
        height = np.minimum(sides[0][:, 2], sides[1][:, 2])
        over = (sides[0][:, 0] > -1.0) & (sides[0][:, 0] < self.site.length + 50.0)
        return np.where(over, height, 1.0)

    @cached_property
    def wheels_time(self) -> float | None:
        """When the first main wheel meets the deck, the path flown on and a wire pulling."""
        self._settle_wire()
        return self._free_wheels_time()

    def _free_wheels_time(self) -> float | None:
        def height(time):
            return self._lowest_wheel(*self._free(time), time)

        return crossing(height, self.aim_time - 6.0, self.aim_time + 6.0)

    @cached_property
    def hook_meets(self) -> float | None:
        """When the hook point meets the deck in free flight (no wire before it)."""
        if not self.flight.hook_down:
            return None

        def height(time):
            place, rotation = self._free(time)
            hook = self.deck_of(place + turned(rotation, self.jet.hook), time)
            return np.where(hook[:, 0] > 0.0, hook[:, 2], 1.0)

        return crossing(height, self.aim_time - 6.0, self.aim_time + 6.0)

    @cached_property
    def low_x(self) -> float | None:
        """Deck x at which the hook point first is as low as a wire."""
        if not self.flight.hook_down or self.site.wires is None:
            return None
        held, self._held = self._held, None

        def height(time):
            place, rotation = self._free(time)
            hook = self.deck_of(place + turned(rotation, self.jet.hook), time)
            return np.where(hook[:, 0] > 0.0, hook[:, 2] - self.site.wires.height, 1.0)

        low = crossing(height, self.aim_time - 6.0, self.aim_time + 6.0)
        x = None
        if low is not None:
            place, rotation = self._free(np.array([low]))
            at = np.array([low])
            x = float(self.deck_of(place + turned(rotation, self.jet.hook), at)[0, 0])
        self._held = held
        return x

    @cached_property
    def geometric_wire(self) -> int | None:
        """The first wire whose x the hook passes low enough, from 1."""
        if self.low_x is None:
            return None
        return next((k for k, x in enumerate(self.site.wires.positions, 1) if x >= self.low_x), None)

    @property
    def wire(self) -> int | None:
        """The wire that holds."""
        told = self.flight.wire
        return self.geometric_wire if told == "geometry" else told

    def _settle_wire(self) -> None:
        """Find when the hook comes to the wire that holds, and at what speed."""
        if self.wire is None or self._held is not None or self.site.wires is None:
            return
        x = self.site.wires.positions[self.wire - 1]
        self._contact_free = self._free_wheels_time()

        def ahead(time):
            place, rotation = self._craft(time, self._contact_free)
            return x - self.deck_of(place + turned(rotation, self.jet.hook), time)[:, 0]

        when = crossing(ahead, self.aim_time - 6.0, self.aim_time + 6.0)
        assert when is not None, "the wire told is never reached"
        self._held = (when, self.flight.closure)

    @property
    def wire_time(self) -> float | None:
        """When the hook comes to the wire that holds."""
        self._settle_wire()
        return None if self._held is None else self._held[0]

    # --- the whole flight

    def craft(self, time) -> tuple[np.ndarray, np.ndarray]:
        """Place (n, 3) against the steady ship at sea level, north, east, down; attitude (n, 3, 3)."""
        return self._craft(np.asarray(time, dtype=float), self.wheels_time)

    def _craft(self, time, wheels: float | None) -> tuple[np.ndarray, np.ndarray]:
        place, rotation = self._free(time)
        if wheels is None:
            return place, rotation
        rolling = time > wheels
        if rolling.any():
            place[rolling], rotation[rolling] = self._on_deck(time[rolling], wheels)
        leave = wheels + self.flight.on_deck
        if self._held is None and self.flight.brakes == 0.0:
            away = time > leave
            if away.any():
                place[away], rotation[away] = self._away(time[away], leave, wheels)
        return place, rotation

    def _on_deck(self, time, wheels: float) -> tuple[np.ndarray, np.ndarray]:
        """Rolling: the lower main wheel stays on the deck, the nose comes down."""
        at = np.array([wheels])
        place, rotation = self._free(at)
        relative = np.swapaxes(self.ship_attitude(at), 1, 2) @ rotation
        yaw, pitch, roll = (float(a[0]) for a in euler(relative))
        ease = np.exp(-(time - wheels) / self.flight.nose_falls)
        yaw = -self.site.angle + (yaw + self.site.angle) * ease
        pitch = 1.0 * DEGREE + (pitch - 1.0 * DEGREE) * ease
        roll = roll * ease
        relative = attitude(yaw, pitch, roll)
        x, y, z = self.jet.main_wheels
        to_deck = self._hull_to_deck
        wheel = np.minimum(*[(turned(relative, (x, s * y, z)) @ to_deck.T)[:, 2] for s in (1.0, -1.0)])
        first = self.deck_of(place, at)[0]
        since = time - wheels
        run = self.flight.closure * since
        if self.flight.brakes > 0.0:
            stop = self.flight.closure / self.flight.brakes
            braked = np.minimum(since, stop)
            run = self.flight.closure * braked - 0.5 * self.flight.brakes * braked**2
        run = run - (self._lost(time) - self._lost(at))
        deck = np.stack([first[0] + run, np.full_like(run, first[1]), -wheel], axis=-1)
        hull = deck @ to_deck + np.asarray(self.site.ramp)
        ship = self.ship_attitude(time)
        return turned(ship, hull) + self.ship_place(time), ship @ relative

    def _away(self, time, leave: float, wheels: float) -> tuple[np.ndarray, np.ndarray]:
        """Flying off: straight on from the deck, climbing."""
        at = np.array([leave, leave - 1e-3])
        place, rotation = self._on_deck(at, wheels)
        start = np.linalg.solve(self.axes(at[:1])[0], (place - self.from_steady(at, np.zeros((2, 3))))[0])
        since = time - leave
        point = np.stack(
            [
                start[0] + self.flight.closure * since,
                np.full_like(since, start[1]),
                start[2] + _bent_up(since, self.flight.climb, self.flight.recovery),
            ],
            axis=-1,
        )
        heading, pitch, _ = (float(a[0]) for a in euler(rotation))
        nose = 10.0 * DEGREE + (pitch - 10.0 * DEGREE) * np.exp(-since / 0.8)
        turn = self.ship_heading(time) - self.ship_heading(at[:1])
        return self.from_steady(time, point), attitude(heading + turn, nose, np.zeros_like(nose))

    # --- reading it

    @cached_property
    def _hull_to_deck(self) -> np.ndarray:
        """Rows: deck x, y, z in hull axes."""
        a = self.site.angle
        return np.array([[math.cos(a), -math.sin(a), 0.0], [math.sin(a), math.cos(a), 0.0], [0.0, 0.0, -1.0]])

    def deck_of(self, place, time) -> np.ndarray:
        """Deck-frame coordinates of places against the steady ship."""
        ship = np.swapaxes(self.ship_attitude(time), 1, 2)
        hull = turned(ship, place - self.ship_place(time)) - np.asarray(self.site.ramp)
        return hull @ self._hull_to_deck.T

    def place_of_deck(self, point, time) -> np.ndarray:
        """Place of a deck-frame point (3,) against the steady ship."""
        hull = np.asarray(point) @ self._hull_to_deck + np.asarray(self.site.ramp)
        return turned(self.ship_attitude(time), hull) + self.ship_place(time)

    def deck(self, time, point) -> np.ndarray:
        """Deck-frame coordinates (n, 3) of a point of the aircraft."""
        place, rotation = self.craft(time)
        return self.deck_of(place + turned(rotation, point), time)

    def approach(self, time, point=(0.0, 0.0, 0.0)) -> np.ndarray:
        """Approach-frame coordinates (n, 3) of a point of the aircraft."""
        place, rotation = self.craft(time)
        return self.approach_of(place + turned(rotation, point), time)

    def approach_of(self, place, time) -> np.ndarray:
        ramp = self.place_of_deck(np.zeros(3), time)
        return turned(np.swapaxes(self.axes(time), 1, 2), place - ramp)

    def path_constant(self, on_speed_pitch: float) -> float:
        """Height over the lens at which the eye's commanded path passes it."""
        nose_up = about_y(on_speed_pitch)
        arm = nose_up @ (np.asarray(self.jet.eye) - np.asarray(self.jet.hook))
        lens = self.site.lens
        hook_there = (lens.hook_target - (lens.position[0] - arm[0])) * math.tan(lens.basic_angle)
        return hook_there - arm[2] - lens.position[2]

    def lens_height(self, time) -> np.ndarray:
        """Height of the lens above the sea."""
        return -self.place_of_deck(self.site.lens.position, time)[:, 2]

    def glide_slope_error(self, time, on_speed_pitch: float, *, mean_lens: float | None = None):
        """Error (n,) at the lens, by the lens's way of stabilising."""
        lens = self.site.lens
        place, rotation = self.craft(time)
        eye_place = place + turned(rotation, self.jet.eye)
        lens_place = self.place_of_deck(lens.position, time)
        if lens.stabilisation == "none":
            eye, at = self.deck_of(eye_place, time), np.asarray(lens.position)[None]
        else:
            eye, at = self.approach_of(eye_place, time), self.approach_of(lens_place, time)
        above = eye[:, 2] - at[:, 2]
        if lens.stabilisation == "inertial":
            assert mean_lens is not None
            above = -eye_place[:, 2] - mean_lens
        above = above - self.path_constant(on_speed_pitch)
        return np.arctan2(above, at[:, 0] - eye[:, 0]) - lens.basic_angle

    @cached_property
    def ramp_time(self) -> float | None:
        """When the hook point crosses the ramp."""

        def behind(time):
            return -self.deck(time, self.jet.hook)[:, 0]

        return crossing(behind, self.aim_time - 6.0, self.aim_time + 6.0)

    @property
    def hook_to_ramp(self) -> float:
        """Deck-frame height of the hook point as it crosses the ramp."""
        return float(self.deck(np.array([self.ramp_time]), self.jet.hook)[0, 2])

    @cached_property
    def contact(self) -> Contact | None:
        """First contact: hook with wire or deck; wheels with the hook up."""
        wheels = self.wheels_time
        if not self.flight.hook_down:
            return None if wheels is None else self._contact(wheels, "wheels", None)
        meets = self.hook_meets
        if self.wire_time is not None and (meets is None or self.wire_time < meets):
            return self._contact(self.wire_time, "wire", self.site.wires.positions[self.wire - 1])
        if meets is None:
            return None if wheels is None else self._contact(wheels, "wheels", None)
        return self._contact(meets, "deck", float(self.deck(np.array([meets]), self.jet.hook)[0, 0]))

    def _contact(self, when: float, kind: str, hook_x: float | None) -> Contact:
        just_before = np.array([when - 2e-4, when - 1e-4])
        point = self.jet.main_wheels if kind == "wheels" else self.jet.hook
        rate = np.diff(self.deck(just_before, point), axis=0)[0] / 1e-4
        off = None if kind == "wheels" else float(self.deck(np.array([when]), self.jet.hook)[0, 1])
        pitch = float(euler(self.craft(np.array([when - 1e-4]))[1])[1][0])
        return Contact(when, kind, hook_x, off, float(-rate[2]), self.closure(when - 1e-3), pitch)

    def closure(self, when: float) -> float:
        """Rate of the reference point's approach-frame x."""
        pair = self.approach(np.array([when - 1e-3, when + 1e-3]))
        return float((pair[1, 0] - pair[0, 0]) / 2e-3)

    def crosses(self, range_: float) -> float:
        """When the reference point is this far aft of the ramp."""

        def left(time):
            return -self.approach(time)[:, 0] - range_

        when = crossing(left, self.flight.start, self.aim_time + 5.0, step=0.5)
        assert when is not None, f"never {range_} m from the ramp"
        return when

    def reading(self, when: float, on_speed_pitch: float, *, mean_lens: float | None = None) -> Reading:
        """Everything that is true at one instant."""
        at = np.array([when])
        x, y, _ = self.approach(at)[0]
        pair = self.craft(np.array([when - 1e-3, when + 1e-3]))[0][:, 2]
        return Reading(
            time=when,
            range=float(-x),
            line_up_offset=float(y),
            line_up_error=float(np.arctan2(y, self.site.lens.hook_target - x)),
            glide_slope_error=float(self.glide_slope_error(at, on_speed_pitch, mean_lens=mean_lens)[0]),
            angle_of_attack=float(self.attack(at)[0]),
            sink=float((pair[1] - pair[0]) / 2e-3),
            closure=self.closure(when),
        )

    # --- recording it

    def channels(self, time) -> dict[str, np.ndarray]:
        """What instruments show, apart from place and attitude."""
        speed = np.linalg.norm(self._air_velocity(time), axis=-1)
        power = np.full_like(time, 0.55)
        if self.wave_off_time is not None:
            power = power + 0.45 * np.clip((time - self.wave_off_time) / 0.4, 0.0, 1.0)
        elif self.wheels_time is not None:
            power = power + 0.45 * np.clip((time - self.wheels_time - 0.2) / 0.4, 0.0, 1.0)
        return {
            "true_airspeed": speed,
            "angle_of_attack": self.attack(time),
            "throttle": power,
            "hook": np.full_like(time, float(self.flight.hook_down)),
        }

    @property
    def end(self) -> float:
        """Last time of the recording."""
        return self.aim_time + self.flight.after

    def times(self, rate: float = 20.0) -> np.ndarray:
        """Sample times from start to end."""
        return np.arange(self.flight.start, self.end, 1.0 / rate)

    def in_a_plane(self, time=None, ship_time=None) -> tuple[Track, Track]:
        """Record aircraft and ship in north, east, up of a local plane."""
        time = self.times() if time is None else time
        ship_time = time if ship_time is None else ship_time
        place, rotation = self.craft(time)
        heading, pitch, roll = euler(rotation)
        way = self.ship_mean(time)
        own = {
            "north": way[:, 0] + place[:, 0],
            "east": way[:, 1] + place[:, 1],
            "up": -place[:, 2],
            "heading": heading % (2.0 * np.pi),
            "pitch": pitch,
            "roll": roll,
        }
        way = self.ship_mean(ship_time)
        ship = {"north": way[:, 0], "east": way[:, 1], "up": self.ship_height(ship_time)}
        return (
            Track("aircraft", time, {**own, **self.channels(time)}),
            Track("ship", ship_time, {**ship, **self.ship_angles(ship_time)}),
        )

    def on_earth(self, latitude: float, longitude: float, time=None, ship_time=None) -> tuple[Track, Track]:
        """Record aircraft and ship on WGS-84, the ship at a place (rad) at time 0."""
        time = self.times() if time is None else time
        ship_time = time if ship_time is None else ship_time
        place, rotation = self.craft(time)
        at = self._ship_geodetic(latitude, longitude, time)
        # the aircraft stands off the ship in the level plane at her reference point
        offset = place - self.ship_place(time)
        lat, lon, height = pymap3d.ned2geodetic(
            *offset.T, np.degrees(at[0]), np.degrees(at[1]), at[2], deg=True
        )
        lat, lon = np.radians(lat), np.radians(lon)
        own = np.swapaxes(_level_axes(at[0], at[1]), 1, 2) @ rotation
        heading, pitch, roll = euler(_level_axes(lat, lon) @ own)
        craft = {
            "latitude": lat,
            "longitude": _half_turn(lon),
            "altitude": height,
            "heading": heading % (2.0 * np.pi),
            "pitch": pitch,
            "roll": roll,
        }
        at = self._ship_geodetic(latitude, longitude, ship_time)
        ship = {"latitude": at[0], "longitude": _half_turn(at[1]), "altitude": at[2]}
        return (
            Track("aircraft", time, {**craft, **self.channels(time)}),
            Track("ship", ship_time, {**ship, **self.ship_angles(ship_time)}),
        )

    def sink_on_earth(self, latitude: float, longitude: float, when: float) -> float:
        """Descent against the earth, plumb at the aircraft, of :meth:`on_earth`'s recording."""
        height = self.on_earth(latitude, longitude, np.array([when - 1e-2, when + 1e-2]))[0]["altitude"]
        return float(height[0] - height[1]) / 2e-2

    def ship_angles(self, time) -> dict[str, np.ndarray]:
        ship = self.flight.ship
        heading = self.ship_heading(time) % (2.0 * np.pi)
        return {"heading": heading, "pitch": ship.pitch.at(time), "roll": ship.roll.at(time)}

    def _ship_geodetic(self, latitude: float, longitude: float, time) -> tuple:
        """Latitude, longitude, height of the ship: the way made good, laid on the ellipsoid."""
        way = self.ship_mean(time)
        e2 = 6.69437999014e-3
        lat = latitude
        for _ in range(4):
            middle = 0.5 * (latitude + lat)
            meridian = 6378137.0 * (1.0 - e2) / (1.0 - e2 * np.sin(middle) ** 2) ** 1.5
            lat = latitude + way[:, 0] / meridian
        middle = 0.5 * (latitude + lat)
        parallel = 6378137.0 / np.sqrt(1.0 - e2 * np.sin(middle) ** 2) * np.cos(middle)
        return lat, longitude + way[:, 1] / parallel, self.ship_height(time)


def _sine_from_zero(sway: Sway, left) -> np.ndarray:
    """A sine that is zero where ``left`` is zero."""
    return sway.amplitude * np.sin(2.0 * np.pi * left / sway.period)


def _bent_up(since, rise: float, seconds: float) -> np.ndarray:
    """Height gained when the vertical speed grows by ``rise`` along a smooth step."""
    since = np.clip(since, 0.0, None)
    u = np.minimum(since / seconds, 1.0)
    return rise * (seconds * (u**3 - 0.5 * u**4) + np.clip(since - seconds, 0.0, None))


def attitude_for(air, attack, roll) -> np.ndarray:
    """Attitude that meets the air velocity (n, 3) at angles of attack (n,), without sideslip."""
    speed = np.linalg.norm(air, axis=-1)
    a, b = np.cos(attack), np.cos(roll) * np.sin(attack)
    pitch = np.arcsin(-air[:, 2] / speed / np.hypot(a, b)) + np.arctan2(b, a)
    flow = np.stack([a, np.zeros_like(a), np.sin(attack)], axis=-1)
    met = turned(attitude(np.zeros_like(pitch), pitch, roll), flow)
    heading = np.arctan2(air[:, 1], air[:, 0]) - np.arctan2(met[:, 1], met[:, 0])
    return attitude(heading, pitch, roll)


def _level_axes(latitude, longitude) -> np.ndarray:
    """Earth-centred axes to north, east, down: turn by longitude, then tip by latitude."""
    tip = np.swapaxes(about_y(-(np.asarray(latitude) + np.pi / 2.0)), -1, -2)
    return tip @ np.swapaxes(about_z(longitude), -1, -2)


def _half_turn(longitude) -> np.ndarray:
    """Longitude in [-180, 180) deg, as recordings tell it."""
    return (longitude + np.pi) % (2.0 * np.pi) - np.pi


def without(track: Track, *names: str) -> Track:
    """The track without some of its channels."""
    kept: Mapping[str, np.ndarray] = {k: v for k, v in track.channels.items() if k not in names}
    return Track(track.who, track.time, kept, track.sigma)
