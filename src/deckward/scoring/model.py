"""What scoring says of a pass: deviations, grade with odds, shorthand, words."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct


class Deviation(Struct, frozen=True):
    """One departure from the rulebook at one position.

    ``intensity`` is 1 a little, 2 plain, 3 a lot. ``value`` and ``limit`` are SI and
    radians, signed as the quantity is. ``symbol`` is the shorthand, ``words`` the plain
    text ("high in the middle").
    """

    position: str
    quantity: str
    symbol: str
    words: str
    intensity: int
    value: float
    limit: float
    time: float
    weight: float
    #: what ``value`` and ``limit`` are in: "rad", "m", "m/s" or "s"
    unit: str = "rad"


class Grade(Struct, frozen=True):
    """A named grade; ``points`` is None where it is not scored or cannot be told.

    ``odds`` maps grade names to probabilities that sum to 1.
    """

    name: str
    symbol: str
    points: float | None
    odds: Mapping[str, float]


class Scorecard(Struct, frozen=True):
    """Everything scoring says: the largest deviation speaks in ``look_at``."""

    grade: Grade
    deviations: tuple[Deviation, ...]
    shorthand: str
    summary: str
    look_at: str
    rulebook: str
    #: why the grade is what it is, one line each (safety rules that fired first)
    reasons: tuple[str, ...] = ()
    #: what the recording shows too little of to be judged, one line each
    not_judged: tuple[str, ...] = ()
