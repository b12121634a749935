"""What the reports room is handed: everything a page shows, already computed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct, field

from deckward.errors import Note
from deckward.explanation.model import Explanation, Outlook
from deckward.passes.model import Pass
from deckward.scoring.model import Scorecard

if TYPE_CHECKING:
    from deckward.explanation.what_if import WhatIf
    from deckward.planning.against import Compared


class PassReport(Struct, frozen=True):
    """One pass, what scoring said of it, why, and what if; ``number`` counts from 1 within the session.

    ``planned`` is the plan beside it, empty without one.
    ``ahead`` has the odds along the pass, None where nobody asked for them or there are none.
    """

    number: int
    flown: Pass
    score: Scorecard
    why: Explanation = field(default_factory=Explanation)
    what_if: tuple[WhatIf, ...] = ()
    planned: tuple[Compared, ...] = ()
    ahead: Outlook | None = None


class SessionReport(Struct, frozen=True):
    """A debriefed recording: its name, its quality, its passes in order of time."""

    title: str
    recording: str
    samples: int
    rate_hz: float
    notes: tuple[Note, ...]
    passes: tuple[PassReport, ...]
