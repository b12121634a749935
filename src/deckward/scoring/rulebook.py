"""What a rulebook is, in SI and radians, once its file has been read."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

#: the name of a grade that could not be given
NOT_GRADED = "not graded"
#: why a wave-off was flown, as a person may say; the recording alone leaves it unknown
REASONS = ("technique", "pattern", "foul deck", "own")


class PositionBounds(Struct, frozen=True):
    """A stretch of the pass that has a name; the plots and the comments read it too.

    ``start`` and ``end`` count down: metres aft of the ramp where ``measured_by`` is
    "range", seconds before the ramp where it is "time"; negative past the ramp. The first
    position that is judged lasts ``at_least`` seconds, so that a late roll-out has a start.
    """

    name: str
    code: str
    measured_by: str
    start: float
    end: float
    weight: float
    at_least: float
    source: str


class WaveOffWindow(Struct, frozen=True):
    """The last seconds before the ramp in which a gross deviation must be waved off, s."""

    start: float
    end: float
    source: str


class GrooveRule(Struct, frozen=True):
    """When the groove begins: inside ``within``, wings and line-up hold for ``held`` s."""

    within: float
    bank: float
    line_up: float
    held: float
    source: str


class Limit(Struct, frozen=True):
    """A limit and what it is counted in.

    ``unit`` is "angle", "length", "speed" or "time" (SI), "cells" (of the site's lens),
    "bands" (of the profile's angle of attack: 1 the edge of the on-speed band, 2 of the
    slight band) or "nominal" (a part of what the commanded path gives).
    """

    value: float
    unit: str


class Threshold(Struct, frozen=True):
    """From where a remark is a little, plain and a lot, at the positions ``where``."""

    what: str
    where: tuple[str, ...]
    limits: tuple[Limit, Limit, Limit]
    held: float
    weight: float
    source: str


class SafetyRule(Struct, frozen=True):
    """Something after which a pass gets ``at_best`` that grade.

    ``where`` holds position codes, or is empty for the wave-off window. ``limit`` is None
    where the lens sets it.
    """

    name: str
    what: str
    where: tuple[str, ...]
    limit: Limit | None
    held: float
    at_best: str
    source: str


class LadderGrade(Struct, frozen=True):
    """A rung: given when the weighted deviations and the worst of them stay within it.

    ``total`` or ``worst`` None: no such bound. ``only_by_safety`` rungs are reached by a
    safety rule or an outcome alone. ``deck_moves`` is the least amplitude of the ramp, m.
    """

    name: str
    symbol: str
    points: float
    total: float | None
    worst: int | None
    deck_moves: float
    everything_judged: bool
    only_by_safety: bool
    source: str


class OutcomeGrade(Struct, frozen=True):
    """A grade that the outcome gives; ``points`` None where it is not scored."""

    name: str
    symbol: str
    points: float | None
    source: str


class Rulebook(Struct, frozen=True):
    """Everything that turns a pass into a grade.

    ``grades`` runs from best to worst. ``wave_offs`` maps a reason ("technique",
    "pattern", "foul deck", "own", "unknown") to its grade. ``outcomes`` maps "ramp
    strike" and "outside" to a rung; ``first_wire`` is the best rung with the first wire.
    """

    name: str
    description: str
    positions: tuple[PositionBounds, ...]
    wave_off_window: WaveOffWindow
    groove: GrooveRule
    thresholds: tuple[Threshold, ...]
    safety: tuple[SafetyRule, ...]
    grades: tuple[LadderGrade, ...]
    bolter: OutcomeGrade
    wave_offs: Mapping[str, OutcomeGrade]
    outcomes: Mapping[str, str]
    first_wire: str | None
    intensity_weights: tuple[float, float, float]
    least_judged: float

    def position(self, code: str) -> PositionBounds:
        """Return the position with that code.

        Raises:
            KeyError: no such position.
        """
        for bounds in self.positions:
            if bounds.code == code:
                return bounds
        raise KeyError(code)

    def rung(self, name: str) -> int:
        """Return where a grade of the ladder stands, 0 best.

        Raises:
            ValueError: no such grade.
        """
        return [grade.name for grade in self.grades].index(name)
