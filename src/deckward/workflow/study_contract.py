"""The published study: one object, edge units in its key names.

The JSON Schema that stands in the reference is made from these classes by :func:`schema`.
"""

from __future__ import annotations

from typing import Any, Final, Literal

from deckward.workflow.contract import Probability
from deckward.workflow.published import Object, schema_of

SCHEMA: Final = "deckward.study/1"


class Share(Object, frozen=True):
    """A share of all passes with its 95 per cent interval."""

    share: Probability
    low: Probability
    high: Probability


class Outcomes(Object, frozen=True):
    """How the passes ended."""

    trap: Share
    bolter: Share
    wave_off: Share
    ramp_strike: Share
    outside: Share


class Spread(Object, frozen=True):
    """A mean and a standard deviation."""

    mean: float
    sd: float


class Touchdown(Object, frozen=True):
    """Where and how the hook met the deck, over the passes that touched down."""

    passes: int
    past_ramp_ft: Spread
    off_centre_ft: Spread
    sink_fps: Spread
    sink_points_fps: list[float]


class Inputs(Object, frozen=True):
    """The inputs of a case."""

    aircraft: str
    mass_lb: float | None
    wind_kt: float
    crosswind_kt: float
    ship_speed_kt: float
    sea: int
    sea_from_bow_deg: float
    airwake_pct: float
    gusts: Literal["free-air", "low-altitude", "none"]
    light: Literal["day", "night"]
    pilot: str
    officer: Literal["yes", "no"]
    start_nm: float


class Case(Object, frozen=True):
    """One combination of the inputs, and what became of its passes."""

    inputs: Inputs
    outcomes: Outcomes
    wires: dict[str, Share]
    touchdown: Touchdown | None
    hook_to_ramp_ft: Spread | None


class Document(Object, frozen=True):
    """The whole study."""

    schema: Literal["deckward.study/1"]
    site: str
    caution: str
    number: int
    seed: int
    varied: list[str]
    cases: list[Case]


def schema() -> dict[str, Any]:
    """Make the JSON Schema (draft 2020-12) of :class:`Document`."""
    return schema_of(Document, SCHEMA)
