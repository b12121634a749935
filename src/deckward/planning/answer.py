"""What every card says beside its numbers: inputs, limits, what binds, and notes."""

from __future__ import annotations

from msgspec import Struct

from deckward.errors import Note


class Input(Struct, frozen=True):
    """A fact that the card was worked out from, in the trade's words."""

    what: str
    text: str


class Limit(Struct, frozen=True):
    """A limit, in SI; ``suffix`` is the unit it is told in at the edges.

    ``value`` lies between ``least`` and ``greatest`` where it is kept; one of these may be
    None. ``of`` is whose limit it is.
    """

    what: str
    value: float
    least: float | None
    greatest: float | None
    suffix: str
    of: str

    @property
    def margin(self) -> float:
        """How far the value is inside the nearer bound; below 0 by how much it is missed."""
        gaps = []
        if self.least is not None:
            gaps.append(self.value - self.least)
        if self.greatest is not None:
            gaps.append(self.greatest - self.value)
        return min(gaps)

    @property
    def kept(self) -> bool:
        """Whether it is kept, but for rounding."""
        return bool(self.margin >= -1e-6)

    @property
    def tightness(self) -> float:
        """How near the value is to its bound, as a share of the bound: the least binds."""
        bound = self.least if self.greatest is None else self.greatest
        return self.margin / max(abs(bound or 0.0), 1e-9)


class Says(Struct, frozen=True):
    """A card's inputs, limits and notes."""

    inputs: tuple[Input, ...]
    limits: tuple[Limit, ...]
    notes: tuple[Note, ...]

    @property
    def binds(self) -> Limit | None:
        """The limit that is missed most, or else the one that is nearest."""
        return min(self.limits, key=lambda limit: limit.tightness, default=None)

    @property
    def feasible(self) -> bool:
        """Whether every limit is kept."""
        return all(limit.kept for limit in self.limits)
