"""The quantities a recording may hold, and the names their columns carry.

A column is understood when its name is a quantity and a unit suffix of the right
dimension (``altitude_ft``); quantities without a dimension take no suffix or ``_pct``.
The same names with ``ship_`` in front are the ship's.
"""

from __future__ import annotations

import math

from msgspec import Struct

from deckward.foundation import units

SHIP_PREFIX = "ship_"
GEODETIC = ("latitude", "longitude", "altitude")
LOCAL = ("north", "east", "up")


class Quantity(Struct, frozen=True):
    """A quantity, its dimension and the values it can possibly have, SI and radians.

    ``smooth`` tells a physical motion, which never stands still in flight, from a
    control or a switch, which may.
    """

    name: str
    dimension: str
    low: float = -math.inf
    high: float = math.inf
    smooth: bool = False


_ANGLE = math.radians
_QUANTITIES = (
    Quantity("time", "time"),
    Quantity("who", "name"),
    Quantity("latitude", "angle", _ANGLE(-90), _ANGLE(90), True),
    Quantity("longitude", "angle", _ANGLE(-360), _ANGLE(360), True),
    Quantity("altitude", "length", -500.0, 40_000.0, True),
    Quantity("north", "length", -5e6, 5e6, True),
    Quantity("east", "length", -5e6, 5e6, True),
    Quantity("up", "length", -500.0, 40_000.0, True),
    Quantity("heading", "angle", _ANGLE(-36_000), _ANGLE(36_000), True),
    Quantity("pitch", "angle", _ANGLE(-90.5), _ANGLE(90.5), True),
    Quantity("roll", "angle", _ANGLE(-360), _ANGLE(360), True),
    Quantity("true_airspeed", "speed", -20.0, 1_500.0, True),
    Quantity("indicated_airspeed", "speed", -20.0, 1_500.0, True),
    Quantity("angle_of_attack", "angle", _ANGLE(-180), _ANGLE(180), True),
    Quantity("vertical_speed", "speed", -600.0, 600.0, True),
    Quantity("velocity_north", "speed", -1_500.0, 1_500.0, True),
    Quantity("velocity_east", "speed", -1_500.0, 1_500.0, True),
    Quantity("velocity_down", "speed", -600.0, 600.0, True),
    Quantity("normal_acceleration", "acceleration", -500.0, 500.0, True),
    Quantity("radar_altitude", "length", -100.0, 40_000.0, True),
    Quantity("throttle", "fraction", -0.2, 1.6),
    Quantity("engine_rpm", "fraction", -0.2, 1.6),
    Quantity("fuel_flow", "flow", -1.0, 100.0),
    Quantity("fuel", "mass", -100.0, 300_000.0),
    Quantity("mass", "mass", 100.0, 600_000.0),
    Quantity("stick_pitch", "fraction", -1.6, 1.6),
    Quantity("stick_roll", "fraction", -1.6, 1.6),
    Quantity("elevator", "fraction", -1.6, 1.6),
    Quantity("aileron", "fraction", -1.6, 1.6),
    Quantity("pitch_trim", "fraction", -1.6, 1.6),
    Quantity("gear", "fraction", -0.2, 1.6),
    Quantity("flaps", "fraction", -0.2, 1.6),
    Quantity("hook", "fraction", -0.2, 1.6),
    Quantity("speed_brake", "fraction", -0.2, 1.6),
    Quantity("wheel_brake", "fraction", -0.2, 1.6),
    Quantity("weight_on_wheels", "fraction", -0.2, 1.6),
    Quantity("wind_from", "angle", _ANGLE(-360), _ANGLE(720)),
    Quantity("wind_speed", "speed", 0.0, 150.0),
    Quantity("sea_pressure", "pressure", 80_000.0, 115_000.0),
    Quantity("temperature", "temperature", 150.0, 350.0),
)

BY_NAME: dict[str, Quantity] = {quantity.name: quantity for quantity in _QUANTITIES}

_SUFFIXES: dict[str, tuple[str, ...]] = {
    dimension: tuple(
        sorted(
            (u.suffix for u in units.BY_SUFFIX.values() if u.usual and u.dimension == dimension and u.suffix),
            key=lambda suffix: suffix == "rad",  # offered last: few recorders write it
        )
    )
    for dimension in {quantity.dimension for quantity in _QUANTITIES}
}

#: everyday short forms, offered in messages only: they say nothing of the unit
_SHORT_FORMS = {
    "lat": "latitude",
    "lon": "longitude",
    "lng": "longitude",
    "long": "longitude",
    "alt": "altitude",
    "height": "altitude",
    "hdg": "heading",
    "yaw": "heading",
    "psi": "heading",
    "theta": "pitch",
    "bank": "roll",
    "phi": "roll",
    "tas": "true_airspeed",
    "ias": "indicated_airspeed",
    "aoa": "angle_of_attack",
    "alpha": "angle_of_attack",
    "vs": "vertical_speed",
    "vvi": "vertical_speed",
    "climb": "vertical_speed",
    "rpm": "engine_rpm",
    "t": "time",
    "timestamp": "time",
    "utc": "time",
    "seconds": "time",
    "x": "north",
    "y": "east",
    "z": "up",
    "name": "who",
    "callsign": "who",
    "pilot": "who",
}


class Meaning(Struct, frozen=True):
    """What a column holds: of which craft, which quantity, in which unit.

    ``unit`` is None for a name and for a time written as text.
    """

    ship: bool
    quantity: str
    unit: units.Unit | None


class Misnamed(Struct, frozen=True):
    """A column whose quantity is known but whose unit is missing or of another dimension."""

    ship: bool
    quantity: str
    advice: str


def split_prefix(name: str) -> tuple[bool, str]:
    """Tell whether a name is the ship's, and give it without the prefix.

    >>> split_prefix("ship_pitch")
    (True, 'pitch')
    """
    return (True, name[len(SHIP_PREFIX) :]) if name.startswith(SHIP_PREFIX) else (False, name)


def unit_of(quantity: str, suffix: str | None) -> units.Unit | None:
    """Give the unit that ``suffix`` means for a quantity, or None where it does not fit."""
    known = BY_NAME[quantity]
    unit = units.BY_SUFFIX.get(suffix or "")
    return unit if unit is not None and unit.dimension == known.dimension else None


def spellings(quantity: str, *, ship: bool = False) -> str:
    """Name the columns that would hold a quantity, for a message.

    >>> spellings("mass")
    'mass_kg or mass_lb'
    """
    known = BY_NAME[quantity]
    endings = [f"_{suffix}" for suffix in _SUFFIXES[known.dimension]]
    if known.dimension in ("fraction", "name"):
        endings.insert(0, "")
    names = [(SHIP_PREFIX if ship else "") + quantity + ending for ending in endings]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


def understand(name: str) -> Meaning | Misnamed | None:
    """Read a column's name; None where it names no quantity.

    >>> understand("ship_altitude_ft").quantity
    'altitude'
    >>> understand("altitude").advice
    'altitude_m, altitude_ft or altitude_nm'
    """
    ship, bare = split_prefix(name.strip().casefold())
    if bare == "time":
        return Meaning(ship, "time", None)
    if bare == "who":
        return None if ship else Meaning(False, "who", None)
    if bare in BY_NAME:
        quantity, suffix = bare, ""
    else:
        quantity, _, suffix = bare.rpartition("_")
        if quantity not in BY_NAME or quantity == "who" or suffix not in units.BY_SUFFIX:
            return None
    unit = unit_of(quantity, suffix)
    if unit is None:
        return Misnamed(ship, quantity, spellings(quantity, ship=ship))
    return Meaning(ship, quantity, unit)


def nearest_quantity(name: str) -> str | None:
    """Guess which quantity an unknown column might be meant to hold, for a message only."""
    from deckward.foundation.documents import nearest

    _, bare = split_prefix(name.strip().casefold())
    words = [word for word in "".join(c if c.isalpha() else " " for c in bare).split() if word]
    for word in words:
        if word in _SHORT_FORMS:
            return _SHORT_FORMS[word]
    for word in words:
        found = nearest(word, BY_NAME)
        if found:
            return found
    return nearest(bare, BY_NAME)
