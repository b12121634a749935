"""What the reports room is handed: everything a page shows, already computed."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from deckward.errors import Note
from deckward.explanation.model import Explanation
from deckward.passes.model import Pass
from deckward.scoring.model import Scorecard

if TYPE_CHECKING:
    from deckward.explanation.what_if import WhatIf
    from deckward.planning.against import Compared


@dataclass(frozen=True)
class PassReport:
    """One pass, what scoring said of it, why, and what if; ``number`` counts from 1 within the session.

    ``planned`` is the plan beside it, empty without one.
    """

    number: int
    flown: Pass
    score: Scorecard
    why: Explanation = field(default_factory=Explanation)
    what_if: tuple[WhatIf, ...] = ()
    planned: tuple[Compared, ...] = ()


@dataclass(frozen=True)
class SessionReport:
    """A debriefed recording: its name, its quality, its passes in order of time."""

    title: str
    recording: str
    samples: int
    rate_hz: float
    notes: tuple[Note, ...]
    passes: tuple[PassReport, ...]
