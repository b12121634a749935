"""The pattern and the start: where the turn came from, and how it ended."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from deckward.explanation.hits import Detector, Hit, degrees, feet
from deckward.explanation.rules import Rule
from deckward.explanation.view import View, stretches
from deckward.foundation import angles
from deckward.foundation.statistics import median
from deckward.foundation.units import DEGREE, from_si


def _from_the_turn(view: View) -> bool:
    return view.flown.turn is not None


def _start(view: View) -> float:
    """When the groove begins; the end of the approach where it never does."""
    return view.flown.groove.start if view.flown.groove else view.until


def _on_the_wake(view: View, of_angle: float) -> np.ndarray:
    """Samples that follow the ship's wake: it lies left of the centreline, at the landing area's angle."""
    angle = view.flown.site.angle
    bearing = np.arctan2(view.offset, view.range)
    return (np.abs(bearing + angle) < of_angle * angle) & (np.abs(view.drift - angle) < of_angle * angle)


def _straight_astern(view: View, rule: Rule) -> Iterator[Hit]:
    angle = view.flown.site.angle
    if angle <= 0.0:
        return
    bearing = np.arctan2(view.offset, view.range)
    rows = view.aloft & view.near & (view.range > rule["beyond"]) & (np.abs(view.roll) < rule["bank"])
    for part in stretches(rows & _on_the_wake(view, rule["of_angle"]), rule["held"]):
        yield Hit(
            float(view.time[part][0]),
            float(view.time[part][-1]),
            1.0 + 0.1 * float(view.time[part][-1] - view.time[part][0]),
            {
                "left_of_centreline_deg": degrees(-float(bearing[part].mean())),
                "angle_of_landing_area_deg": degrees(angle),
            },
            "at the start",
        )


def _overshot(view: View, rule: Rule) -> Iterator[Hit]:
    if not _from_the_turn(view):
        return
    rows = view.aloft & view.near & (view.range > rule["beyond"])
    rows &= np.abs(view.drift) < 80.0 * DEGREE
    over = rows & (view.line_up > rule["line_up"]) & (view.offset > rule["offset"])
    for part in stretches(over, 0.5):
        if not (view.offset[: part.start] < 0.0).any():
            continue
        most = float(view.line_up[part].max())
        yield Hit(
            float(view.time[part][0]),
            float(view.time[part][-1]),
            most / rule["line_up"],
            {"line_up_deg": degrees(most), "offset_ft": feet(float(view.offset[part].max()))},
            "at the start",
        )


def _undershot(view: View, rule: Rule) -> Iterator[Hit]:
    if not _from_the_turn(view):
        return
    rows = view.aloft & view.near & (view.range > rule["beyond"])
    rows &= (np.abs(view.roll) < rule["bank"]) & (np.abs(view.drift) < 30.0 * DEGREE)
    left = rows & (view.line_up < -rule["line_up"]) & (view.offset < -rule["offset"])
    wake = rows & (view.range > rule["wake_beyond"]) & _on_the_wake(view, rule["of_angle"])
    if any(stretches(wake, rule["wake_held"])):
        return  # came up the wake: another fault; to cross it later, on the way back, is not
    for part in stretches(left, rule["held"]):
        if float(np.nanmax(view.line_up[: part.start + 1])) > 0.5 * rule["line_up"]:
            continue  # already across: coming back from an overshoot
        most = float(-view.line_up[part].min())
        yield Hit(
            float(view.time[part][0]),
            float(view.time[part][-1]),
            most / rule["line_up"],
            {"line_up_deg": -degrees(most), "offset_ft": feet(float(view.offset[part].min()))},
            "at the start",
        )


def _groove_length(view: View, rule: Rule, *, short: bool) -> Iterator[Hit]:
    groove = view.flown.groove
    if not _from_the_turn(view) or (view.flown.touchdown is None and short):
        return  # ended by a wave-off: its length says nothing
    if groove is None:
        # turned, or lined up, until the deck
        if short and view.ramp_time is not None:
            yield Hit(
                view.ramp_time - 3.0, view.ramp_time, 2.5, {"groove_s": 0.0, "limit_s": rule["seconds"]}
            )
        return
    seconds = groove.seconds
    if view.flown.touchdown is None and view.ramp_time is not None:
        seconds = view.ramp_time - groove.start
    limit = rule["seconds"]
    if (seconds < limit) if short else (seconds > limit):
        yield Hit(
            groove.start,
            groove.start + groove.seconds,
            1.0 + abs(seconds - limit) / 5.0,
            {"groove_s": round(seconds, 1), "limit_s": limit},
            "in the groove",
        )


def _short_groove(view: View, rule: Rule) -> Iterator[Hit]:
    yield from _groove_length(view, rule, short=True)


def _long_groove(view: View, rule: Rule) -> Iterator[Hit]:
    yield from _groove_length(view, rule, short=False)


def _altitude(view: View) -> np.ndarray | None:
    """Height above the sea (above the field, at one) on the even times, m."""
    recorded = view.flown.recorded
    if recorded is None:
        return None
    values = view.channel("altitude" if recorded.aircraft.geodetic else "up")
    place = view.flown.site.place
    return values if values is None or place is None else values - place.elevation


def _abeam_altitude(view: View) -> float | None:
    turn, place = view.flown.turn, view.flown.site.place
    if turn is None or not np.isfinite(turn.abeam_altitude):
        return None
    return turn.abeam_altitude - (0.0 if place is None else place.elevation)


def _pattern_altitude(view: View, rule: Rule) -> Iterator[Hit]:
    altitude = _abeam_altitude(view)
    if altitude is None:
        return
    off = altitude - rule["abeam"]
    if abs(off) > rule["off"]:
        yield Hit(
            view.flown.start,
            view.flown.start + 3.0,
            abs(off) / rule["off"],
            {"abeam_altitude_ft": feet(altitude), "off_ft": feet(off)},
            "abeam",
        )


def _turned(view: View, to_go: float) -> int | None:
    """Row at which so much of the turn (rad) to the landing area is left, on the way round."""
    recorded, turn = view.flown.recorded, view.flown.turn
    if recorded is None or turn is None:
        return None
    ship = recorded.ship
    known = np.isfinite(ship["heading"])
    heading = np.interp(view.time, ship.time[known], angles.unwrap(ship["heading"][known]))
    nose = view.even(np.unwrap(view.flown.series.heading))
    left = np.abs(angles.difference(heading - view.flown.site.angle, nose))
    rows = np.flatnonzero((view.time > turn.start) & (view.time < _start(view)) & (left < to_go))
    return int(rows[0]) if rows.size else None


def _barometric(view: View, rule: Rule) -> Iterator[Hit]:
    radar, altitude = view.channel("radar_altitude"), _altitude(view)
    if radar is not None and altitude is not None:
        yield from _against_radar(view, rule, radar, altitude)
        return
    abeam = _abeam_altitude(view)
    if abeam is None or altitude is None or abs(abeam - rule["abeam"]) <= rule["off"]:
        return
    row = _turned(view, 90.0 * DEGREE)
    if row is None:
        return
    first, second = abeam - rule["abeam"], float(altitude[row]) - rule["ninety"]
    level = altitude[view.inside(view.flown.start, view.flown.turn.start)]  # type: ignore[union-attr]
    steady = level.size < 20 or float(np.std(level)) < rule["level"]
    off = min(abs(first), abs(second))
    last = _turned(view, 45.0 * DEGREE)
    third = second if last is None else float(altitude[last]) - rule["forty_five"]
    same = first * second > 0 and abs(first - second) < rule["same"]
    same = same and np.sign(first) * third > rule["later_part"] * off
    if same and off > rule["off"] and steady:
        yield Hit(
            view.flown.start,
            float(view.time[row]),
            off / rule["off"],
            {"off_abeam_ft": feet(first), "off_at_the_ninety_ft": feet(second)},
            "in the pattern",
        )


def _against_radar(view: View, rule: Rule, radar: np.ndarray, altitude: np.ndarray) -> Iterator[Hit]:
    """The recorded altitude against the radar's, over the sea: the same difference all along."""
    rows = view.aloft & (view.range > 300.0) & (radar > 30.0)
    if rows.sum() < 100:
        return
    off = (altitude - radar)[rows]
    middle, spread = float(median(off)), float(np.std(off))
    if abs(middle) > rule["radar"] and spread < rule["level"]:
        times = view.time[rows]
        yield Hit(
            float(times[0]),
            float(times[-1]),
            abs(middle) / rule["radar"],
            {"altitude_over_radar_ft": feet(middle), "spread_ft": feet(spread)},
            "in the pattern",
        )


def _abeam_distance(view: View, rule: Rule) -> Iterator[Hit]:
    turn = view.flown.turn
    if turn is None or not np.isfinite(turn.abeam_distance):
        return
    distance = turn.abeam_distance
    if rule["least"] <= distance <= rule["most"]:
        return
    excess = rule["least"] / distance if distance < rule["least"] else distance / rule["most"]
    yield Hit(
        view.flown.start,
        view.flown.start + 3.0,
        1.0 + 3.0 * (excess - 1.0),
        {"abeam_nm": round(float(from_si(distance, "nm")), 2)},
        "abeam",
    )


DETECTORS = (
    Detector("straight-astern", _straight_astern),
    Detector("overshot-start", _overshot),
    Detector("undershot-start", _undershot),
    Detector("short-groove", _short_groove),
    Detector("long-groove", _long_groove),
    Detector("pattern-altitude", _pattern_altitude),
    Detector("barometric-error", _barometric),
    Detector("abeam-distance", _abeam_distance),
)
