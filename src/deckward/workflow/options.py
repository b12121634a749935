"""Checking what a person asked for before any file is opened.

Names in messages are the Python arguments; the command line shows them as its options.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import UTC, datetime, time
from pathlib import Path
from typing import TypeVar

from deckward.errors import InputError
from deckward.foundation import units

T = TypeVar("T")

REASONS = ("technique", "pattern", "foul-deck", "own")

#: fastest ship and strongest wind that are taken for meant, kt (no source: far above both)
FASTEST_SHIP_KT = 60.0
STRONGEST_WIND_KT = 150.0

#: larger numbers of seconds count from 1970
EPOCH_FROM = 1e8


def _float(value) -> float:
    """Read a number; NaN for what is none."""
    try:
        return float(value)
    except (TypeError, ValueError):
        return math.nan


def number(name: str, value: float | str, low: float, high: float) -> float:
    """Return ``value`` where it is a number from ``low`` to ``high``.

    Raises:
        InputError: it is not.
    """
    found = _float(value)
    if not low <= found <= high:
        raise InputError(
            f"{value!r} is not a number from {low:g} to {high:g}.",
            place=name,
            remedy=f"Give {name} in that range.",
        )
    return found


def finite(name: str, value: float | str) -> float:
    """Return ``value`` where it is a finite number.

    Raises:
        InputError: it is not.
    """
    found = _float(value)
    if not math.isfinite(found):
        raise InputError(f"{value!r} is not a number.", place=name, remedy="Give one number.")
    return found


def instant(name: str, value: float | str) -> float | datetime | time:
    """Read a moment: a number of seconds, an ISO 8601 time, or a UTC clock time.

    Raises:
        InputError: it is none of these.
    """
    if isinstance(value, str):
        for read in (datetime.fromisoformat, time.fromisoformat):
            try:
                return read(value)
            except ValueError:
                continue
        raise InputError(
            f"{value!r} is no time.",
            place=name,
            remedy="Give seconds of the recording, 2031-05-04T17:20:05Z, or 17:20:05.",
        )
    return finite(name, value)


def seconds(name: str, when: float | datetime | time, clock: str, zero: datetime | None) -> float:
    """Bring a moment onto the clock of a recording, s.

    ``clock`` and ``zero`` are the recording's: "elapsed" from an unknown instant,
    "utc-day" from midnight of an unknown day, "utc" from ``zero``.

    Raises:
        InputError: the recording's clock cannot tell that moment.
    """
    if isinstance(when, float):
        # a recording stamped in seconds since 1970 is read as seconds since its own zero
        epoch = zero is not None and when >= EPOCH_FROM
        return when - zero.timestamp() if zero is not None and epoch else when
    if isinstance(when, datetime) and zero is not None:
        return (when if when.tzinfo else when.replace(tzinfo=UTC)).timestamp() - zero.timestamp()
    if isinstance(when, time) and clock == "utc-day":
        return when.hour * 3600.0 + when.minute * 60.0 + when.second + when.microsecond * 1e-6
    if isinstance(when, time) and zero is not None:
        return datetime.combine(zero.astimezone(UTC).date(), when, UTC).timestamp() - zero.timestamp()
    raise InputError(
        "the recording counts seconds from an instant it does not name."
        if clock == "elapsed"
        else "the recording does not name its day.",
        place=name,
        remedy="Give the time in the recording's own seconds."
        if clock == "elapsed"
        else "Give a clock time such as 17:20:05.",
    )


def bearing(name: str, value: float) -> float:
    """Degrees from 0 to 360 to radians.

    Raises:
        InputError: out of that range.
    """
    return units.to_si(number(name, value, 0.0, 360.0), "deg")


def place(name: str, value) -> tuple[float, float]:
    """Latitude and longitude in degrees to radians.

    Raises:
        InputError: not two numbers, or no such place on earth.
    """
    latitude, longitude = parts(name, value, 2)
    return (
        units.to_si(number(f"{name} latitude", latitude, -90.0, 90.0), "deg"),
        units.to_si(number(f"{name} longitude", longitude, -180.0, 180.0), "deg"),
    )


def parts(name: str, value, count: int) -> tuple:
    """Return ``value`` as a tuple of ``count`` parts.

    Raises:
        InputError: it has another number of parts.
    """
    found = tuple(value) if isinstance(value, (tuple, list)) else ()
    if len(found) != count:
        words = {2: "latitude and longitude", 3: "latitude, longitude and time"}[count]
        raise InputError(f"{value!r} is not {words}.", place=name, remedy=f"Give {words}, parted by commas.")
    return found


def together(**given) -> bool:
    """Whether all of a group of options were given; False where none was.

    Raises:
        InputError: some were given, others not.
    """
    missing = [name for name, value in given.items() if value is None]
    if missing and len(missing) < len(given):
        present = next(name for name, value in given.items() if value is not None)
        raise InputError(
            f"{present} says nothing without {' and '.join(missing)}.",
            place=present,
            remedy=f"Give {' and '.join(missing)} too, or leave {present} out.",
        )
    return not missing


def one_of(name: str, value: str | None, choices: tuple[str, ...]) -> str | None:
    """Return ``value`` where it is None or one of ``choices``.

    Raises:
        InputError: it is something else.
    """
    if value is not None and value not in choices:
        raise InputError(
            f"{value!r} is not a choice.", place=name, remedy=f"Choose from {', '.join(choices)}."
        )
    return value


def readable(path: str | Path) -> Path:
    """Return ``path`` where it is a file.

    Raises:
        InputError: there is none, or it is a folder.
    """
    path = Path(path)
    try:
        folder, there = path.is_dir(), path.exists()
    except (OSError, ValueError):  # a name that no system takes
        folder = there = False
    if folder:
        raise InputError("this is a folder.", file=str(path), remedy="Name one file in it.")
    if not there:
        raise InputError(
            "there is no such file.",
            file=str(path),
            remedy="Check the name, and the folder you are in.",
        )
    return path


def naming(file: str | Path, work: Callable[[], T]) -> T:
    """Do some work on what a file held; a fault gets the name of the file where it has none."""
    try:
        return work()
    except InputError as fault:
        raise InputError(
            fault.problem, file=fault.file or str(file), place=fault.place, remedy=fault.remedy
        ) from fault
