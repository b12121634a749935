"""What explanation says of a pass: findings, what each cause cost, and what was left over."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from msgspec import Struct

from deckward.errors import Note

Evidence = Mapping[str, float | str | bool | None]


class Finding(Struct, frozen=True):
    """Something the pilot did, or had done to him, with its evidence.

    ``start`` and ``end`` in s; ``position`` where in the pass, in words; ``weight`` 1 for a
    usual one; ``cost_ramp`` is what it did to the hook's height at the ramp, m, + up, None
    where that is not known. ``evidence`` has its units in its names.
    """

    code: str
    title: str
    start: float
    end: float
    position: str
    weight: float
    evidence: Evidence
    advice: str
    cost_ramp: float | None = None


class Contribution(Struct, frozen=True):
    """Height of the hook at the ramp, m, that a cause made between two times, and its sigma."""

    cause: str
    start: float
    end: float
    ramp_height: float
    sigma: float


class Made(Struct, frozen=True):
    """What a cause made of an arrival's quantity between two times, s."""

    cause: str
    start: float
    end: float
    made: float


class Arrival(Struct, frozen=True):
    """How a pass arrived in one quantity, and what made it so.

    ``what`` is "airspeed" (m/s over on speed at the ramp), "angle of attack" (rad from on speed there,
    + slow), "line-up" (m there, + right) or "touchdown" (m past the hook's target); ``deviation`` is
    what it was, ``parts`` what made it, in order of time, and ``unexplained`` what they leave.
    """

    what: str
    deviation: float
    unexplained: float
    parts: tuple[Made, ...]


class Explanation(Struct, frozen=True):
    """Findings by cost, contributions in order of time, what they leave of the ramp height, m; arrivals."""

    findings: tuple[Finding, ...] = ()
    contributions: tuple[Contribution, ...] = ()
    unexplained: float | None = None
    arrivals: tuple[Arrival, ...] = ()


class Outlook(Struct, frozen=True):
    """How a pass could still have ended, from each of some moments on, (n,) each.

    ``time`` in s, ``range`` of the reference point aft of the ramp, m; odds of each outcome with
    nobody waving it off, and ``called``, the odds that a landing signal officer would by rule. A
    wave-off signalled at ``last_safe`` (s, None where none was safe) still keeps the hook
    ``margin`` (m) over ramp, wires and deck in ``share`` of its ensemble; full power follows
    ``reaction`` s after the signal. ``verdict`` says what that means for the pass, in words.
    """

    time: np.ndarray
    range: np.ndarray
    trap: np.ndarray
    bolter: np.ndarray
    wave_off: np.ndarray
    ramp_strike: np.ndarray
    outside: np.ndarray
    called: np.ndarray
    last_safe: float | None
    last_safe_range: float | None
    margin: float
    share: float
    reaction: float
    verdict: str
    notes: tuple[Note, ...] = ()
