"""What a scenario is, in SI and radians, once it has been read: the facts that plans start from.

Directions are true; winds are told by where they come from. Clock times are seconds from
midnight UTC. ``None`` means that nobody told it: :func:`need` says so to the person whose
card cannot do without.
"""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from msgspec import Struct

from deckward.aircraft.model import Profile
from deckward.environment import atmosphere
from deckward.environment import wind as winds
from deckward.environment.atmosphere import Air
from deckward.environment.wind import Velocity, Wind
from deckward.errors import InputError
from deckward.foundation.documents import option
from deckward.site.model import Site

T = TypeVar("T")


class Ship(Struct, frozen=True):
    """What the ship can do: ``courses`` are the sectors she may steer, each clockwise from its first.

    ``course`` and ``speed`` are those of now; ``sea_room`` is how far she may run on one
    course, m; ``turn_rate`` how fast she comes round, rad/s; ``bow_height`` the bow's deck
    above the water, m.
    """

    course: float | None
    speed: float | None
    least_speed: float
    greatest_speed: float
    courses: tuple[tuple[float, float], ...]
    sea_room: float | None
    turn_rate: float
    latitude: float | None
    longitude: float | None
    bow_height: float


class WindFact(Struct, frozen=True):
    """The true wind near the sea, and how far it may swing to each side and rise or fall."""

    from_direction: float
    speed: float
    from_spread: float
    speed_spread: float


class FeltWind(Struct, frozen=True):
    """The wind that the ship feels: from how far right of the bow, and its speed."""

    from_bow: float
    speed: float


class WindAloft(Struct, frozen=True):
    """The wind at an altitude above the sea, m."""

    altitude: float
    from_direction: float
    speed: float


class Weather(Struct, frozen=True):
    """Ceiling and visibility, m; air at the sea, Pa and K; ``night`` where it is dark."""

    ceiling: float | None
    visibility: float | None
    night: bool | None
    sea_pressure: float
    sea_temperature: float


class Store(Struct, frozen=True):
    """Something that hangs on the jet: kg each, ``right`` of the centreline, m; ``kept`` if brought back."""

    name: str
    mass: float
    count: int
    right: float
    kept: bool


class Load(Struct, frozen=True):
    """What the jet carries: fuel at engine start, kg, and stores; ``gross`` where it was told as a whole."""

    fuel: float | None
    gross: float | None
    stores: tuple[Store, ...]


class Whereabouts(Struct, frozen=True):
    """Where a flight is: bearing from the ship, distance, altitude, heading, calibrated airspeed."""

    bearing: float
    distance: float
    altitude: float
    heading: float
    airspeed: float


class Flight(Struct, frozen=True):
    """One flight of the recovery, in its order; ``crews`` has a name for each aircraft, or none.

    ``fuel`` (of the one with least) and ``where`` it is belong to ``time``, the scenario's
    where the flight tells none.
    """

    name: str
    count: int
    crews: tuple[str, ...]
    time: float | None
    fuel: float | None
    where: Whereabouts | None


class Leg(Struct, frozen=True):
    """A part of the sortie between launch and recovery.

    Either ``seconds`` or ``distance`` (with ``airspeed``, true, along ``track``); ``flow``
    is told, or that of the profile's level flight called ``like``.
    """

    name: str
    seconds: float | None
    distance: float | None
    track: float | None
    altitude: float
    airspeed: float | None
    flow: float | None
    like: str | None


class Divert(Struct, frozen=True):
    """The field to go to: from the ship by bearing and distance, or by its place.

    ``bingo`` is the fuel to get there with the reserve, where it is told and not worked out.
    """

    name: str
    bearing: float | None
    distance: float | None
    latitude: float | None
    longitude: float | None
    reserve: float | None
    bingo: float | None


class Tanker(Struct, frozen=True):
    """What a tanker can give, kg, and where it is: a leg of ``distance`` m at ``altitude`` m away."""

    give: float
    distance: float
    altitude: float
    seconds: float


class FuelRules(Struct, frozen=True):
    """How fuel is counted: ``flow_share`` times the profile's flows; ``start`` burnt before launch, kg.

    ``looks`` is how many passes are wanted before bingo; ``margin`` what is kept over bingo, kg.
    ``holding`` and ``pattern`` are flows, kg/s, ``trip`` the time from one look at the ball to
    the next and ``inbound`` from leaving the stack to the ball, s; None where they are not told.
    """

    flow_share: float
    start: float
    looks: int
    margin: float
    holding: float | None
    pattern: float | None
    trip: float | None
    inbound: float | None


class ToldSpeed(Struct, frozen=True):
    """The calibrated airspeed on speed at a mass, where it is told and not worked out."""

    airspeed: float
    mass: float


class Gear(Struct, frozen=True):
    """The arresting gear: energy it takes, J, run-out, m, and limits of engaging speed by landing mass."""

    energy: float
    run_out: float
    masses: tuple[float, ...]
    engaging_speeds: tuple[float, ...]


class Recovery(Struct, frozen=True):
    """The recovery: when, how many, how far apart, and the wind wanted down the landing area.

    ``wind`` within ``least_wind`` and ``greatest_wind``; ``crosswind`` is the limit across
    the landing area; ``basic_angle`` in place of the lens's own; ``landing_mass`` in place
    of the profile's limit; ``case`` where it is ordered whatever the weather.
    """

    time: float | None
    aircraft: int | None
    interval: float
    wind: float
    least_wind: float
    greatest_wind: float
    crosswind: float
    basic_angle: float | None
    landing_mass: float | None
    case: int | None
    gear: Gear


class Catapult(Struct, frozen=True):
    """End speed against the ship by mass, at full capacity, and the stroke, m.

    ``capacity`` is the part of its full energy that it is set to: end speeds go with its root.
    """

    masses: tuple[float, ...]
    end_speeds: tuple[float, ...]
    stroke: float
    capacity: float = 1.0


class Launch(Struct, frozen=True):
    """The launch: when, how many, the wind wanted down the catapult, the margin over the least airspeed.

    ``catapult_angle`` is how far the catapult points to port of the keel.
    """

    time: float | None
    aircraft: int | None
    interval: float
    wind: float | None
    greatest_wind: float
    crosswind: float
    margin: float
    catapult_angle: float
    catapult: Catapult | None


class Pattern(Struct, frozen=True):
    """The day pattern as it is to be flown: altitudes above the sea, m; calibrated airspeeds.

    ``abeam`` is the distance from the ship's track; None lets the turn settle it. ``hold`` is
    "angle of attack" or "speed": what stays on-speed while banked.
    """

    initial_altitude: float
    initial_airspeed: float
    initial_distance: float
    downwind_altitude: float
    altitude_90: float
    altitude_45: float
    abeam: float | None
    bank: float
    groove: float
    hold: str
    stack_altitude: float


class Marshal(Struct, frozen=True):
    """The stack: ``radial`` from the ship (None: opposite the final bearing), lowest altitude, push times.

    ``push`` is the clock time of the first push; ``leg`` the holding pattern's leg, s;
    ``turn_in`` how far aft of the ramp a jet that bolters comes back onto the final bearing, m.
    """

    radial: float | None
    lowest_altitude: float
    push: float | None
    interval: float
    airspeed: float
    leg: float
    turn_in: float


class Sea(Struct, frozen=True):
    """The sea: state by the usual scale, significant wave height, m."""

    state: int | None
    wave_height: float | None


class Scenario(Struct, frozen=True):
    """The facts of one launch and recovery."""

    name: str
    site: Site
    aircraft: Profile
    ship: Ship
    wind: WindFact | None
    felt_wind: FeltWind | None
    winds_aloft: tuple[WindAloft, ...]
    sea: Sea
    weather: Weather
    load: Load
    flights: tuple[Flight, ...]
    legs: tuple[Leg, ...]
    divert: Divert | None
    tanker: Tanker | None
    on_speed: ToldSpeed | None
    fuel: FuelRules
    recovery: Recovery
    launch: Launch
    pattern: Pattern
    marshal: Marshal
    time: float | None = None
    description: str = ""

    @property
    def recovering(self) -> int:
        """How many aircraft are to be recovered: as told, else those of the flights, else one."""
        return self.recovery.aircraft or sum(flight.count for flight in self.flights) or 1

    def air_at(self, altitude) -> Air:
        """Give the air at an altitude above the sea, m: the standard's, moved to the sea's own."""
        level = atmosphere.altitude_to_pressure_altitude(
            np.stack(np.broadcast_arrays(altitude, 0.0)), sea_pressure=self.weather.sea_pressure
        )
        warmer = self.weather.sea_temperature - atmosphere.standard(level[1]).temperature
        return atmosphere.standard(level[0], temperature_offset=warmer)

    def wind_at(self, altitude: float) -> Wind:
        """Give the wind at an altitude, m: straight between the sea's and those told aloft, as vectors.

        Above the highest it stays as there.
        """
        low = need(self.wind, "wind.from_deg")
        levels = [WindAloft(0.0, low.from_direction, low.speed), *self.winds_aloft]
        air = [winds.air_velocity(wind_from=one.from_direction, wind_speed=one.speed) for one in levels]
        heights = [one.altitude for one in levels]
        return winds.wind_of(
            Velocity(
                np.asarray(np.interp(altitude, heights, [float(one.north) for one in air])),
                np.asarray(np.interp(altitude, heights, [float(one.east) for one in air])),
            )
        )


def need(value: T | None, key: str) -> T:
    """Return a fact that a card cannot do without.

    ``key`` is its place in the scenario file, such as ``divert.distance_nm``.

    Raises:
        InputError: nobody told it.
    """
    if value is None:
        raise InputError(
            "this fact is missing, and the card cannot do without it.",
            place=f"key {key}",
            remedy=f"Give it in the scenario file, or as {option(key)}.",
        )
    return value
