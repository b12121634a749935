"""Everything that drafting knows so far."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct, field

if TYPE_CHECKING:
    from deckward.recordings.drafted import Question
    from deckward.recordings.recogniser.findings import Craft, Finding
    from deckward.recordings.recogniser.mirrors import Reading
    from deckward.recordings.recogniser.places import Place
    from deckward.recordings.recogniser.planes import Plane
    from deckward.recordings.recogniser.times import Clock


class Work(Struct):
    """Everything that drafting knows so far."""

    findings: list[Finding]
    own: Craft
    boat: Craft
    every: int
    rate: float | None
    #: rows a second by a remark in the file
    rate_said: float | None = None
    clock: Clock | None = None
    place: Place | None = None
    plane: Plane | None = None
    alone: bool = False
    time_format: str | None = None
    likely_rate: float | None = None
    #: words by which a person's latitude and longitude are named
    place_words: frozenset[str] = frozenset()
    #: words that mark the columns of a ship that was found by her motion
    ship_words: frozenset[str] = frozenset()
    #: a heading that fits the motion on one course only, where variation and wind may cancel
    unsure: Finding | None = None
    #: how positions and headings may lie: as they were read first, then what looks the same
    readings: list[Reading] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
