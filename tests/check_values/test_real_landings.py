"""Airliners landing at Paris, as their own transponders told it: the path is the published 3.0 deg.

The samples ship with the ``traffic`` package (MIT), put in beside the others without its
dependencies: ``pip install --no-deps traffic==2.13``. Nothing of it is copied here, and
without it these tests are skipped, except where `run.py test` set things up. One fix a second, time
stamps and barometric altitude rounded to 1 s and 25 ft, forward-filled positions, no attitude, no
wind.

Where the runway is follows from the landings themselves: heading is the median track,
place and elevation the median of the last fix in the air. That moves the whole picture
up or down but leaves its slope, which alone is checked: 3.0 deg is the glide path
published for both runways (France AIP, from memory). Altitude is pressure altitude, a few
per cent off true height by the day's temperature. Scatter allowed: 0.12 deg, what an
independent fit of the same landings shows (3.06 +- 0.12 deg).
"""

from __future__ import annotations

from collections import defaultdict

import numpy as np
import pytest
from msgspec.structs import replace

from deckward.foundation.track import Track
from deckward.passes import find
from deckward.site.model import Lens, Place
from support.analytic_pass import DEGREE, FIELD, FOOT, JET, KNOT, NAUTICAL_MILE
from support.real_flights import needs_real_flights, rows

PUBLISHED = 3.0
SCATTER = 0.12
STEP = 25.0 * FOOT
#: near the last fixes in the air, deg; track over the ground, deg
RUNWAYS = {"Orly 06": (48.7235, 2.327, 61.9), "Roissy 08R": (48.992, 2.552, 85.4)}

pytestmark = needs_real_flights


def flights():
    """Each flight of the collection as arrays, (n,) each, in order of time."""
    by_flight = defaultdict(list)
    for row in rows("collections/quickstart.json.gz"):
        by_flight[row["icao24"], row["callsign"]].append(row)
    names = ("timestamp", "latitude", "longitude", "altitude", "track", "onground")
    for fixes in by_flight.values():
        fixes.sort(key=lambda row: row["timestamp"])
        yield {
            name: np.array([np.nan if row[name] is None else float(row[name]) for row in fixes])
            for name in names
        }


def landing(flight, latitude: float, longitude: float, track: float):
    """The last five minutes in the air before a runway, or None; repeated fixes dropped."""
    moved = np.ones(flight["timestamp"].size, dtype=bool)
    moved[1:] = (np.diff(flight["latitude"]) != 0.0) | (np.diff(flight["longitude"]) != 0.0)
    fresh = moved & np.isfinite(flight["altitude"]) & (flight["onground"] == 0.0)
    north = (flight["latitude"] - latitude) * 60.0 * NAUTICAL_MILE
    east = (flight["longitude"] - longitude) * 60.0 * NAUTICAL_MILE * np.cos(latitude * DEGREE)
    along = np.abs((flight["track"] - track + 180.0) % 360.0 - 180.0) < 3.0
    last = np.flatnonzero(fresh & along & (np.hypot(north, east) < 1500.0) & (flight["altitude"] < 400.0))
    if not last.size:
        return None
    seconds = flight["timestamp"] / 1000.0
    keep = fresh & (seconds <= seconds[last[-1]]) & (seconds > seconds[last[-1]] - 300.0)
    if keep.sum() < 60 or flight["altitude"][keep][0] < flight["altitude"][last[-1]] + 1000.0:
        return None
    return {name: values[keep] for name, values in flight.items()}


@pytest.fixture(scope="module")
def landings():
    """Passes by runway."""
    everything = list(flights())
    return {name: passes(everything, *where) for name, where in RUNWAYS.items()}


def passes(everything, latitude: float, longitude: float, track: float):
    flown = [part for flight in everything if (part := landing(flight, latitude, longitude, track))]
    last = {name: np.median([part[name][-1] for part in flown]) for name in flown[0]}
    heading = np.median(np.concatenate([part["track"][-40:] for part in flown]))
    place = Place(
        last["latitude"] * DEGREE, last["longitude"] * DEGREE, last["altitude"] * FOOT, heading * DEGREE
    )
    # the ramp stands 300 m short of the last fixes, and everything aims at those
    lens = Lens((300.0, -30.0, 1.0), PUBLISHED * DEGREE, 12, 0.1417 * DEGREE, 2, 300.0, "line", 45.7, 1.36)
    site = replace(FIELD, ramp=(-300.0, 0.0, 0.0), length=3000.0, lens=lens, place=place)
    results = []
    for part in flown:
        channels = {
            "latitude": part["latitude"] * DEGREE,
            "longitude": part["longitude"] * DEGREE,
            "altitude": part["altitude"] * FOOT,
            "hook": np.zeros(part["altitude"].size),
        }
        track = Track("airliner", part["timestamp"] / 1000.0, channels, {"altitude": STEP / np.sqrt(12.0)})
        results.append(find(track, ship=None, site=site, aircraft=JET).passes)
    return results


@pytest.mark.parametrize("runway", RUNWAYS)
def test_each_landing_is_one_pass(landings, runway):
    assert len(landings[runway]) >= 20
    assert [len(found) for found in landings[runway]] == [1] * len(landings[runway])


@pytest.mark.parametrize("runway", RUNWAYS)
def test_the_path_is_three_degrees(landings, runway):
    """Straight line through the height over the last three miles, down to where a flare could begin."""
    slopes = []
    for (one,) in landings[runway]:
        series = one.series
        rows = (series.range > 0.4 * NAUTICAL_MILE) & (series.range < 3.0 * NAUTICAL_MILE)
        slopes.append(np.degrees(np.arctan(np.polyfit(series.range[rows], series.height[rows], 1)[0])))
    assert np.mean(slopes) == pytest.approx(PUBLISHED, abs=SCATTER)
    assert np.std(slopes) < SCATTER
    assert np.abs(np.array(slopes) - PUBLISHED).max() < 3.0 * SCATTER


@pytest.mark.parametrize("runway", RUNWAYS)
def test_sink_over_closure_at_three_quarters_of_a_mile_is_three_degrees_in_the_mean(landings, runway):
    """One instant of a 1 Hz, 25-ft record: single passes scatter more, their mean does not."""
    at = [p for (one,) in landings[runway] for p in one.positions if p.name == "3/4 nm"]
    assert len(at) >= 19
    slopes = np.degrees(np.arctan2([p.sink for p in at], [p.closure for p in at]))
    assert np.mean(slopes) == pytest.approx(PUBLISHED, abs=SCATTER)
    assert all(110 * KNOT < p.closure < 175 * KNOT for p in at)


@pytest.mark.parametrize("runway", RUNWAYS)
def test_what_was_not_recorded_is_said(landings, runway):
    for (one,) in landings[runway]:
        assert {"attitude-inferred", "angle-of-attack-inferred"} <= {note.code for note in one.notes}
        assert one.series.origin["pitch"] == one.series.origin["heading"] == "inferred"
        assert one.touchdown is None or one.touchdown.hook_x is None
