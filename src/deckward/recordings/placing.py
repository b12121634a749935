"""Placing a local plane on the earth."""

from __future__ import annotations

import numpy as np

from deckward.foundation.earth import ecef_to_geodetic, from_ned, ned_rotation
from deckward.foundation.track import Track


def on_the_earth(track: Track, origin: tuple[float, float]) -> Track:
    """Turn north, east, up into latitude, longitude and altitude.

    The plane touches the WGS-84 ellipsoid at ``origin`` (latitude, longitude, rad), with
    ``up`` along the vertical there: 10 km out it stands 8 m above the sea. Headings and
    horizontal velocities are turned from the plane's north to the north of each place;
    the tilt of the horizon between the two (0.05 deg in 6 km) is left in pitch and roll.

    Returns a track with ``latitude``, ``longitude`` (rad) and ``altitude`` (m).
    """
    channels = dict(track.channels)
    ned = np.column_stack([channels.pop("north"), channels.pop("east"), -channels.pop("up")])
    latitude, longitude, altitude = ecef_to_geodetic(from_ned(ned, *origin, 0.0))
    north = np.einsum("nij,j->ni", ned_rotation(latitude, longitude), ned_rotation(*origin)[0])
    turn = np.arctan2(north[:, 1], north[:, 0])
    for name in ("heading", "wind_from"):
        if name in channels:
            channels[name] = channels[name] + turn
    if "velocity_north" in channels and "velocity_east" in channels:
        ahead, right = channels["velocity_north"], channels["velocity_east"]
        channels["velocity_north"] = ahead * np.cos(turn) - right * np.sin(turn)
        channels["velocity_east"] = ahead * np.sin(turn) + right * np.cos(turn)
    sigma = {q: s for q, s in track.sigma.items() if q not in ("north", "east", "up")}
    if "up" in track.sigma:
        sigma["altitude"] = track.sigma["up"]
    for place, plane, radius in (
        ("latitude", "north", 6.37e6),
        ("longitude", "east", 6.37e6 * np.cos(origin[0])),
    ):
        if plane in track.sigma:
            sigma[place] = track.sigma[plane] / radius
    return Track(
        track.who,
        track.time,
        {"latitude": latitude, "longitude": longitude, "altitude": altitude, **channels},
        sigma,
        track.doubt,
    )
