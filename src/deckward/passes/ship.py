"""How the ship moves: from her own track, from course and speed, or not at all."""

from __future__ import annotations

import numpy as np
from msgspec.structs import replace

from deckward.errors import InputError
from deckward.foundation import angles, earth
from deckward.foundation.track import Track
from deckward.passes.model import ShipCourse
from deckward.site.model import Site

#: seconds between the nodes of a ship that is known by course and speed
_NODE = 10.0


def ship_track(ship: Track | ShipCourse | None, aircraft: Track, site: Site) -> Track:
    """Give the ship (or field) as a track that spans the aircraft's times.

    Raises:
        InputError: a ship is needed and none is given.
    """
    if site.is_field and not isinstance(ship, Track):
        return _standing(site, aircraft)
    if isinstance(ship, ShipCourse):
        return steered(ship, aircraft)
    if ship is None:
        raise InputError(
            f"the site '{site.name}' is a ship, and the recording has no ship in it.",
            remedy="Add ship_ columns, give --ship FILE, or --ship-course-deg with --ship-speed-kt "
            "and --ship-at.",
        )
    return ship


def shifted(ship: Track, offset: float) -> Track:
    """Move the ship's clock by ``offset`` seconds: her time + offset is the aircraft's time."""
    return replace(ship, time=ship.time + offset) if offset else ship


def _standing(site: Site, aircraft: Track) -> Track:
    if site.place is None:
        raise InputError(f"the field '{site.name}' has no place.", remedy="Add a [place] table to its file.")
    if not aircraft.geodetic:
        raise InputError(
            "the recording is in a local plane, and a field needs latitude and longitude.",
            remedy="Give --origin LAT,LON of the plane.",
        )
    time = np.array([aircraft.time[0] - 1.0, aircraft.time[-1] + 1.0])
    place = site.place
    return Track(
        site.name,
        time,
        {
            "latitude": np.full(2, place.latitude),
            "longitude": np.full(2, place.longitude),
            "altitude": np.full(2, place.elevation),
            "heading": np.full(2, place.heading),
            "pitch": np.zeros(2),
            "roll": np.zeros(2),
        },
    )


def steered(ship: ShipCourse, aircraft: Track) -> Track:
    """Run a rhumb line on the ellipsoid through the given place, both ways in time."""
    if not aircraft.geodetic:
        raise InputError(
            "the recording is in a local plane, and --ship-at gives latitude and longitude.",
            remedy="Give --origin LAT,LON of the plane.",
        )
    first, last = aircraft.time[0] - _NODE, aircraft.time[-1] + _NODE
    before = np.arange(0.0, min(first - ship.time, 0.0) - _NODE, -_NODE)[::-1]
    after = np.arange(0.0, max(last - ship.time, 0.0) + _NODE, _NODE)
    elapsed = np.concatenate([before[:-1], after])
    cos = np.cos(ship.course)
    north_rate = ship.speed * cos
    # latitude along the meridian: two rounds of the mean radius suffice over an ocean's width
    latitude = np.full_like(elapsed, ship.latitude)
    for _ in range(3):
        middle = 0.5 * (latitude + ship.latitude)
        latitude = ship.latitude + north_rate * elapsed / _meridian_radius(middle)
    start = int(np.flatnonzero(elapsed == 0.0)[0])
    rate = ship.speed * np.sin(ship.course) / (_normal_radius(latitude) * np.cos(latitude))
    steps = 0.5 * (rate[1:] + rate[:-1]) * np.diff(elapsed)
    longitude = np.concatenate([[0.0], np.cumsum(steps)])
    longitude += ship.longitude - longitude[start]
    still = np.zeros_like(elapsed)
    return Track(
        "ship",
        ship.time + elapsed,
        {
            "latitude": latitude,
            "longitude": longitude,
            "altitude": still,
            "heading": np.full_like(elapsed, float(angles.compass(ship.course))),
            "pitch": still,
            "roll": still,
        },
    )


def _meridian_radius(latitude):
    e2 = earth.ECCENTRICITY_SQUARED
    return earth.SEMI_MAJOR_AXIS * (1.0 - e2) / (1.0 - e2 * np.sin(latitude) ** 2) ** 1.5


def _normal_radius(latitude):
    e2 = earth.ECCENTRICITY_SQUARED
    return earth.SEMI_MAJOR_AXIS / np.sqrt(1.0 - e2 * np.sin(latitude) ** 2)
