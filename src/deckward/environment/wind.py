"""Wind over the sea and over the deck.

Directions are true and say where the wind comes from, rad; speeds m/s. Relative to the
ship, a direction is + to starboard of the bow (or of the landing area's heading), in
[-pi, pi). All functions take numbers or arrays of shapes that go together.

Source: the vector triangle of the maneuvering board (Pub. 1310), written out.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.foundation import angles


class Velocity(Struct, frozen=True):
    """Where air or ship goes to: north and east components."""

    north: np.ndarray
    east: np.ndarray


class Wind(Struct, frozen=True):
    """A wind by where it comes from, in [0, 2 pi), and its speed."""

    from_direction: np.ndarray
    speed: np.ndarray


class WindOverDeck(Struct, frozen=True):
    """The relative wind at the ship.

    ``along_landing_area`` is the headwind down its centreline; ``crosswind_from_starboard``
    the part across it, + from the right.
    """

    speed: np.ndarray
    from_bow: np.ndarray
    from_landing_area: np.ndarray
    along_landing_area: np.ndarray
    crosswind_from_starboard: np.ndarray


class ShipVelocity(Struct, frozen=True):
    """A ship's course, in [0, 2 pi), and speed."""

    course: np.ndarray
    speed: np.ndarray


def air_velocity(*, wind_from, wind_speed) -> Velocity:
    """Return where the air goes to.

    >>> air = air_velocity(wind_from=0.0, wind_speed=5.0)
    >>> float(air.north), abs(float(air.east))
    (-5.0, 0.0)
    """
    return Velocity(-wind_speed * np.cos(wind_from), -wind_speed * np.sin(wind_from))


def wind_of(velocity: Velocity) -> Wind:
    """Return the wind that moves the air like this; calm air comes from north."""
    return Wind(
        angles.compass(np.arctan2(-velocity.east, -velocity.north)),
        np.hypot(velocity.north, velocity.east),
    )


def over_deck(*, wind_from, wind_speed, course, speed, heading=None, angle=0.0) -> WindOverDeck:
    """Return the wind over the deck of a ship on ``course`` at ``speed``.

    ``heading`` is where the bow points (``course`` if left out); ``angle`` the landing
    area's angle to port.

    >>> wind = over_deck(wind_from=0.0, wind_speed=0.0, course=0.0, speed=10.0, angle=np.radians(9))
    >>> round(float(wind.crosswind_from_starboard), 3)
    1.564
    """
    air = air_velocity(wind_from=wind_from, wind_speed=wind_speed)
    relative = wind_of(Velocity(air.north - speed * np.cos(course), air.east - speed * np.sin(course)))
    bow = course if heading is None else heading
    from_landing_area = angles.difference(relative.from_direction, angles.difference(bow, angle))
    return WindOverDeck(
        speed=relative.speed,
        from_bow=angles.difference(relative.from_direction, bow),
        from_landing_area=from_landing_area,
        along_landing_area=relative.speed * np.cos(from_landing_area),
        crosswind_from_starboard=relative.speed * np.sin(from_landing_area),
    )


def true_wind(*, relative_from_bow, relative_speed, course, speed, heading=None) -> Wind:
    """Return the true wind behind a relative wind: the inverse of :func:`over_deck`."""
    bow = course if heading is None else heading
    relative = air_velocity(wind_from=bow + relative_from_bow, wind_speed=relative_speed)
    return wind_of(Velocity(relative.north + speed * np.cos(course), relative.east + speed * np.sin(course)))


def ships_for(
    *, wind_from, wind_speed, relative_from_bow, relative_speed
) -> tuple[ShipVelocity, ShipVelocity]:
    """Return both courses and speeds that make this relative wind out of the true wind, the slower first.

    The slower sails into the wind, the other before it. NaN for one that would sail astern,
    and for both where there is none: the air is still, or the wanted wind across the bow is
    stronger than the true wind.
    """
    with np.errstate(divide="ignore", over="ignore", invalid="ignore"):
        into_wind = np.arcsin(relative_speed * np.sin(relative_from_bow) / wind_speed)
    ahead, mine = relative_speed * np.cos(relative_from_bow), wind_speed * np.cos(into_wind)
    # rounding may leave an answer of no speed at all a hair below nothing
    slow = np.where(np.isclose(ahead, mine, rtol=0.0, atol=1e-9 * wind_speed), 0.0, ahead - mine)
    return _sailing(wind_from, into_wind, slow), _sailing(wind_from, np.pi - into_wind, ahead + mine)


def ship_for(*, wind_from, wind_speed, relative_from_bow, relative_speed) -> ShipVelocity:
    """Return the slower of :func:`ships_for` that there is; NaN where there is none."""
    slow, fast = ships_for(
        wind_from=wind_from,
        wind_speed=wind_speed,
        relative_from_bow=relative_from_bow,
        relative_speed=relative_speed,
    )
    there = np.isfinite(slow.speed)
    return ShipVelocity(
        course=np.where(there, slow.course, fast.course), speed=np.where(there, slow.speed, fast.speed)
    )


def _sailing(wind_from, turn, speed) -> ShipVelocity:
    """Give the ship that has the wind ``turn`` to starboard of her bow; NaN for one that sails astern."""
    with np.errstate(invalid="ignore"):
        there = speed >= 0.0
    return ShipVelocity(
        course=np.where(there, angles.compass(angles.difference(wind_from, turn)), np.nan),
        speed=np.where(there, speed, np.nan),
    )
