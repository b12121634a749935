"""Latitudes and longitudes as people write them: degrees and minutes, letters for the hemisphere."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from typing import Any

import numpy as np

from deckward.errors import Note
from deckward.foundation import units
from deckward.recordings.cells import Cells
from deckward.recordings.columns import Column

_CELL = r"""\s*(?P<before>[NSEW])?\s*(?P<sign>[+-])?\s*
    (?P<degrees>\d+(?:\.\d+)?)\s*(?:°|º|d|deg|:|\s|$|(?=[NSEW'.]))\s*
    (?:(?P<minutes>\d+(?:\.\d+)?)\s*(?:'|′|m|min|:|\s|$|(?=[NSEW]))\s*)?
    (?:(?P<seconds>\d+(?:\.\d+)?)\s*(?:"|″|'')?\s*)?
    (?P<after>[NSEW])?\s*$"""
#: letters beside a column -> sign
_LETTERS = {"latitude": {"N": 1.0, "S": -1.0}, "longitude": {"E": 1.0, "W": -1.0}}
#: whole degrees and minutes written as one number reach this far
_MOST = {"latitude": 9000.0, "longitude": 18_000.0}


def degrees_in(cell: str) -> float:
    """Read a cell such as ``45°30.5'N``, ``N 45 30 30`` or ``4530.5N``; NaN where it is none.

    A number past 360 is degrees and minutes in one.

    >>> degrees_in("27°30.0'S")
    -27.5
    """
    found = re.match(_CELL, cell, re.VERBOSE | re.IGNORECASE)
    if found is None:
        return float("nan")
    value = float(found["degrees"])
    letter = (found["before"] or found["after"] or "").upper()
    if found["minutes"] is None and letter and value > 180.0:
        value = float(from_one_number(np.array([value]))[0])
    value += float(found["minutes"] or 0.0) / 60.0 + float(found["seconds"] or 0.0) / 3600.0
    return -value if letter in ("S", "W") or found["sign"] == "-" else value


def from_one_number(values: np.ndarray) -> np.ndarray:
    """Turn degrees and minutes in one number (``4530.5``) into degrees."""
    size = np.abs(values)
    whole = np.floor(size / 100.0)
    return np.sign(values) * (whole + (size - 100.0 * whole) / 60.0)


def in_one_number(latitude: np.ndarray, longitude: np.ndarray) -> bool:
    """Tell degrees and minutes in one number from degrees: past what degrees can be, no minutes past 60.

    Minutes that are rounded up may come out as 60 themselves (``2660.0000``).
    """
    if not np.any(np.abs(latitude) > 180.0):
        return False
    for values, least, most in ((latitude, 180.0, _MOST["latitude"]), (longitude, 0.0, _MOST["longitude"])):
        size = np.abs(values[np.isfinite(values)])
        if (
            not size.size
            or np.median(size) < least
            or size.max() > most
            or np.any(size % 100.0 > 60.0 + 1e-9)
        ):
            return False
    return True


def letters_beside(names: Sequence[str], columns: Mapping[str, Any], used: Collection[int]) -> dict[str, int]:
    """Give, for latitude and longitude, the index of the free column right behind, if there is one."""
    beside = {}
    for quantity in _LETTERS:
        index = columns[quantity].index + 1 if quantity in columns else len(names)
        if index < len(names) and index not in used:
            beside[quantity] = index
    return beside


def signs_of(quantity: str, letters: Sequence[str | None]) -> np.ndarray | None:
    """Turn the letters of a hemisphere into signs; None where the cells hold anything else."""
    known = _LETTERS[quantity]
    signs = [known.get((letter or "").strip().upper(), np.nan) for letter in letters]
    held = [letter for letter in letters if (letter or "").strip()]
    if not held or np.count_nonzero(np.isfinite(signs)) < len(held):
        return None
    return np.asarray(signs)


def degrees_and_minutes(
    cells: Cells, columns: Mapping[str, Column], values: dict[str, np.ndarray], beside: Mapping[str, int]
) -> list[str]:
    """Mend latitude and longitude (rad) that hold degrees and minutes in one number, or no sign.

    The letter of the hemisphere is looked for in the columns ``beside``. Returns what was
    changed; each change is noted.
    """
    if not {"latitude", "longitude"} <= columns.keys():
        return []
    changed = []
    degree = [getattr(columns[quantity].unit, "suffix", "") == "deg" for quantity in _LETTERS]
    pair = [values[quantity] / units.DEGREE for quantity in _LETTERS]
    if all(degree) and in_one_number(*pair):
        for quantity, numbers in zip(_LETTERS, pair, strict=True):
            values[quantity] = from_one_number(numbers) * units.DEGREE
        changed += list(_LETTERS)
        names = f"{columns['latitude'].source.strip()} and {columns['longitude'].source.strip()}"
        cells.notes.append(
            Note("degrees-and-minutes", f"{names} were read as degrees and minutes in one number.")
        )
    for quantity, index in beside.items():
        held = cells.take(index)
        letters = held.to_list() if hasattr(held, "to_list") else []
        if not all(letter is None or isinstance(letter, str) for letter in letters):
            continue
        signs = signs_of(quantity, letters)
        if signs is not None and np.nanmin(values[quantity]) >= 0.0:
            values[quantity] = values[quantity] * signs
            changed.append(quantity)
    return changed
