"""The one place that holds a conversion factor.

Exact by definition: 1 ft = 0.3048 m, 1 nm = 1852 m, 1 kt = 1852/3600 m/s,
1 mi = 1609.344 m, 1 lb = 0.45359237 kg, g0 = 9.80665 m/s^2 (international yard and pound
agreement 1959; International Extraordinary Hydrographic Conference 1929;
3rd CGPM 1901). 1 inHg = 3386.389 Pa (NIST SP 811, 0 degC).
"""

from __future__ import annotations

import math

from msgspec import Struct

FOOT = 0.3048
NAUTICAL_MILE = 1852.0
STATUTE_MILE = 1609.344
KNOT = NAUTICAL_MILE / 3600.0
POUND = 0.45359237
STANDARD_GRAVITY = 9.80665
INCH_OF_MERCURY = 3386.389
DEGREE = math.pi / 180.0


class Unit(Struct, frozen=True):
    """A unit at the edge: SI value = ``factor`` * number + ``offset``."""

    suffix: str
    dimension: str
    factor: float
    offset: float = 0.0
    #: false for one that is read but that nobody is told to write
    usual: bool = True


_UNITS = (
    Unit("rad", "angle", 1.0),
    Unit("deg", "angle", DEGREE),
    Unit("mrad", "angle", 1e-3, usual=False),
    Unit("m", "length", 1.0),
    Unit("ft", "length", FOOT),
    Unit("nm", "length", NAUTICAL_MILE),
    Unit("km", "length", 1000.0, usual=False),
    Unit("mps", "speed", 1.0),
    Unit("kt", "speed", KNOT),
    Unit("fps", "speed", FOOT),
    Unit("kmh", "speed", 1.0 / 3.6),
    Unit("fpm", "speed", FOOT / 60.0),
    Unit("mph", "speed", STATUTE_MILE / 3600.0, usual=False),
    Unit("s", "time", 1.0),
    Unit("ms", "time", 1e-3),
    Unit("min", "time", 60.0),
    Unit("h", "time", 3600.0, usual=False),
    Unit("us", "time", 1e-6, usual=False),
    Unit("kg", "mass", 1.0),
    Unit("lb", "mass", POUND),
    Unit("kgps", "flow", 1.0),
    Unit("pph", "flow", POUND / 3600.0),
    Unit("pa", "pressure", 1.0),
    Unit("hpa", "pressure", 100.0),
    Unit("inhg", "pressure", INCH_OF_MERCURY),
    Unit("k", "temperature", 1.0),
    Unit("c", "temperature", 1.0, 273.15),
    Unit("mps2", "acceleration", 1.0),
    Unit("g", "acceleration", STANDARD_GRAVITY),
    Unit("pct", "fraction", 0.01),
    Unit("", "fraction", 1.0),
)

BY_SUFFIX: dict[str, Unit] = {unit.suffix: unit for unit in _UNITS}


def to_si(value, suffix: str):
    """Turn a number or array in the unit named by ``suffix`` into SI.

    Raises:
        KeyError: the suffix is no unit of the edge.

    >>> round(to_si(600.0, "ft"), 2)
    182.88
    """
    unit = BY_SUFFIX[suffix]
    return value * unit.factor + unit.offset if unit.offset else value * unit.factor


def from_si(value, suffix: str):
    """Turn SI into the unit named by ``suffix``; the inverse of :func:`to_si`.

    >>> round(from_si(51.444444, "kt"), 3)
    100.0
    """
    unit = BY_SUFFIX[suffix]
    return (value - unit.offset) / unit.factor if unit.offset else value / unit.factor
