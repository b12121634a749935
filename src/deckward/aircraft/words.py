"""An aircraft profile in the trade's words and units."""

from __future__ import annotations

from deckward.aircraft.model import Profile, Vector
from deckward.foundation.units import from_si


def describe(profile: Profile) -> list[tuple[str, str]]:
    """Say what an aircraft profile is, as labels and texts in feet, degrees and pounds.

    >>> from deckward.aircraft import load
    >>> dict(describe(load("sandlark")))["on speed"]
    '8.0 deg; the band is 7.3 to 8.7, plainly fast below 6.8, plainly slow above 9.2'
    """
    rows = [("name", profile.name)]
    if profile.description:
        rows.append(("about", profile.description))
    low, high = (_degrees(value) for value in profile.band)
    fast, slow = (_degrees(value) for value in profile.slight_band)
    rows += [
        (
            "on speed",
            f"{_degrees(profile.on_speed)} deg; the band is {low} to {high}, "
            f"plainly fast below {fast}, plainly slow above {slow}",
        ),
        (
            "on-speed pitch",
            "worked out for each pass"
            if profile.on_speed_pitch is None
            else f"{_degrees(profile.on_speed_pitch)} deg",
        ),
        ("eye", _place(profile.eye)),
        ("hook, down", _place(profile.hook)),
        ("main wheels", _place(profile.main_wheels, pair=True)),
        ("nose wheel", _place(profile.nose_wheel)),
        (
            "heaviest landing",
            "not told"
            if profile.max_landing_mass is None
            else f"{from_si(profile.max_landing_mass, 'lb'):,.0f} lb",
        ),
        ("known to within", _known_to(profile)),
        ("tables", ", ".join(profile.tables) or "none"),
    ]
    rows += [(f"{name} from", table["source"]) for name, table in profile.tables.items()]
    return rows


def _known_to(profile: Profile) -> str:
    sigma = profile.sigma
    if not (any(sigma.eye) or any(sigma.hook) or any(sigma.main_wheels) or sigma.on_speed):
        return "taken as exact"
    return (
        f"eye {_spread(sigma.eye)}, hook {_spread(sigma.hook)}, wheels {_spread(sigma.main_wheels)}, "
        f"on-speed {_degrees(sigma.on_speed)} deg (one sigma)"
    )


def _place(point: Vector, *, pair: bool = False) -> str:
    forward, right, down = point
    along = f"{_feet(abs(forward))} {'forward' if forward >= 0 else 'aft'}"
    height = f"{_feet(abs(down))} {'below' if down >= 0 else 'above'}"
    if pair:
        return f"{along}, {_feet(right)} to each side, {height}: from the recorded point"
    side = f", {_feet(abs(right))} to the {'right' if right > 0 else 'left'}" if right else ""
    return f"{along}{side}, {height}: from the recorded point"


def _spread(values: Vector) -> str:
    return "/".join(f"{from_si(value, 'ft'):.1f}" for value in values) + " ft"


def _feet(metres: float) -> str:
    return f"{from_si(metres, 'ft'):.1f} ft"


def _degrees(radians: float) -> str:
    return f"{from_si(radians, 'deg'):.1f}"
