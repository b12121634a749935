"""A site in the trade's words and units."""

from __future__ import annotations

import math

from deckward.foundation.units import from_si
from deckward.site.model import Site, Vector

STABILISATION = {
    "line": "line: the angle stays fixed to the horizon, the lens moves with the deck",
    "inertial": "inertial: the path stays where it is on average while the deck heaves",
    "none": "none: the path moves with the deck",
}


def describe(site: Site) -> list[tuple[str, str]]:
    """Say what a site is, as labels and texts in feet and degrees.

    >>> from deckward.site import load
    >>> dict(describe(load("wintermere")))["wires"]
    '4, at 170, 210, 250 and 290 ft past the ramp; a hook takes one 0.4 ft above the deck'
    """
    rows = [("name", site.name)]
    if site.description:
        rows.append(("about", site.description))
    rows.append(("kind", site.kind))
    if site.place:
        place = site.place
        rows.append(
            (
                "place",
                f"{_angle(abs(place.latitude), 4)} {'south' if place.latitude < 0 else 'north'}, "
                f"{_angle(abs(place.longitude), 4)} {'west' if place.longitude < 0 else 'east'}, "
                f"{_feet(place.elevation)} above the sea, heading {_angle(place.heading, 1)} true",
            )
        )
    angle = f", {_angle(site.angle, 2)} to port" if not site.is_field else ""
    rows += [
        ("landing area", f"{_feet(site.length)} long, {_feet(site.width)} wide{angle}"),
        ("ramp", _from_reference(site.ramp, field=site.is_field)),
        ("wires", _wires(site)),
        *_lens(site),
    ]
    if any(site.centre):
        rows.append(("centre of pitch", _from_reference(site.centre)))
    rows.append(("known to within", _known_to(site)))
    return rows


def _wires(site: Site) -> str:
    if site.wires is None:
        return "none"
    *most, last = (f"{from_si(x, 'ft'):.0f}" for x in site.wires.positions)
    where = f"{', '.join(most)} and {last}" if most else last
    return (
        f"{len(site.wires.positions)}, at {where} ft past the ramp; "
        f"a hook takes one {_feet(site.wires.height, 1)} above the deck"
    )


def _lens(site: Site) -> list[tuple[str, str]]:
    lens = site.lens
    forward, starboard, up = lens.position
    clearance = lens.hook_target * math.tan(lens.basic_angle)
    return [
        (
            "lens",
            f"{lens.cells} cells of {_angle(lens.cell, 3)}, the lower {lens.red_cells} red; "
            f"basic angle {_angle(lens.basic_angle, 2)}",
        ),
        (
            "lens stands",
            f"{_feet(forward)} past the ramp, {_side(starboard, 'the centreline')}, "
            f"{_feet(abs(up), 1)} {'above' if up >= 0 else 'below'} the deck",
        ),
        (
            "hook target",
            f"{_feet(lens.hook_target)} past the ramp; on a still deck the hook crosses the ramp "
            f"{_feet(clearance, 1)} above it",
        ),
        ("stabilisation", STABILISATION[lens.stabilisation]),
        (
            "window",
            f"{_feet(lens.window_height, 1)} high, the ball's image {_feet(lens.image_distance)} behind it",
        ),
    ]


def _known_to(site: Site) -> str:
    sigma = site.sigma
    if not (any(sigma.ramp) or sigma.angle or sigma.wires or any(sigma.lens)):
        return "taken as exact"
    return (
        f"ramp {_spread(sigma.ramp)}, angle {_angle(sigma.angle, 1)}, "
        f"wires {_feet(sigma.wires)}, lens {_spread(sigma.lens)} (one sigma)"
    )


def _from_reference(point: Vector, *, field: bool = False) -> str:
    what = "the reference point" if field else "the recorded point"
    if not any(point):
        return f"at {what}"
    forward, starboard, down = point
    along = f"{_feet(abs(forward))} {'forward' if forward >= 0 else 'aft'}"
    height = f"{_feet(abs(down))} {'below' if down > 0 else 'above'}"
    return f"{along}, {_side(starboard, 'its axis' if field else 'the keel line')}, {height}: from {what}"


def _side(starboard: float, of: str) -> str:
    if not starboard:
        return f"on {of}"
    return f"{_feet(abs(starboard))} to {'starboard' if starboard > 0 else 'port'} of {of}"


def _spread(values: Vector) -> str:
    return "/".join(f"{from_si(value, 'ft'):.0f}" for value in values) + " ft"


def _feet(metres: float, digits: int = 0) -> str:
    return f"{from_si(metres, 'ft'):,.{digits}f} ft"


def _angle(radians: float, digits: int) -> str:
    return f"{from_si(radians, 'deg'):.{digits}f} deg"
