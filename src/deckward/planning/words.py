"""Plans in the trade's words and units, without the numbers' own tables."""

from __future__ import annotations

from deckward.foundation.units import from_si
from deckward.planning.scenario import Scenario

DAY_SECONDS = 86_400


def knots(speed: float, digits: int = 1) -> str:
    """Write a speed: "9.2 kt"."""
    return f"{_rounded(from_si(speed, 'kt'), digits)} kt"


def degrees(angle: float, digits: int = 0) -> str:
    """Write an angle: "20 deg"."""
    return f"{_rounded(from_si(angle, 'deg'), digits)} deg"


def bearing(angle: float) -> str:
    """Write a course or bearing with three figures: "007"; north is 360.

    >>> bearing(0.0), bearing(0.12)
    ('360', '007')
    """
    whole = round(from_si(angle, "deg")) % 360
    return f"{whole or 360:03d}"


def pounds(mass: float) -> str:
    """Write a mass: "3,040 lb"."""
    return f"{_rounded(from_si(mass, 'lb'), 0)} lb"


def feet(length: float, digits: int = 0) -> str:
    """Write a length: "600 ft"."""
    return f"{_rounded(from_si(length, 'ft'), digits)} ft"


def miles(length: float, digits: int = 1) -> str:
    """Write a distance: "1.1 nm"."""
    return f"{_rounded(from_si(length, 'nm'), digits)} nm"


def minutes(seconds: float) -> str:
    """Write a duration: "48 s", "6.8 min"."""
    return f"{seconds:.0f} s" if seconds < 59.5 else f"{seconds / 60:.1f} min"


def clock(seconds: float, *, of_day: bool = True) -> str:
    """Write a clock time, or a time from the ladder's start: "18:20:30", "+12:30".

    >>> clock(66030.0), clock(750.0, of_day=False)
    ('18:20:30', '+12:30')
    """
    whole = round(seconds)
    if not of_day:
        sign = "-" if whole < 0 else "+"
        return f"{sign}{abs(whole) // 60}:{abs(whole) % 60:02d}"
    whole %= DAY_SECONDS
    return f"{whole // 3600:02d}:{whole % 3600 // 60:02d}:{whole % 60:02d}"


def across(crosswind: float) -> str:
    """Write a crosswind: "0.9 kt across from starboard"."""
    if abs(from_si(crosswind, "kt")) < 0.05:
        return "none across"
    return f"{knots(abs(crosswind))} across from {'starboard' if crosswind > 0 else 'port'}"


def looks(count: int) -> str:
    """Count looks: "1 look", "3 looks"."""
    return f"{count} look{'' if count == 1 else 's'}"


def flights(scenario: Scenario) -> str:
    """Name the flights of a recovery: "Larch 4, Teasel 2"."""
    return ", ".join(f"{one.name} {one.count}" for one in scenario.flights)


def _rounded(value: float, digits: int) -> str:
    text = f"{value:,.{digits}f}"
    return text.removeprefix("-") if not any(letter in "123456789" for letter in text) else text
