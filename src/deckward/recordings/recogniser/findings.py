"""What has been found out of each column and each craft."""

from __future__ import annotations

import numpy as np
from msgspec import Struct, field

from deckward.foundation.units import BY_SUFFIX
from deckward.recordings.columns import IGNORE, Rule, plain_name
from deckward.recordings.quantities import SHIP_PREFIX
from deckward.recordings.recogniser.names import Guess
from deckward.recordings.recogniser.physics import Motion
from deckward.recordings.recogniser.sample import SampledColumn


class Finding(Struct):
    """One column: what its name may mean, and what was decided. ``quantity`` None: nothing yet."""

    column: SampledColumn
    guesses: list[Guess]
    quantity: str | None = None
    ship: bool = False
    unit: str | None = None
    sign: int = 1
    confidence: float = 0.0
    why: str = ""
    asked: bool = False

    @property
    def name(self) -> str:
        """The column's name in the file, as a map writes it."""
        return plain_name(self.column.name)

    @property
    def settled(self) -> bool:
        """Whether something was decided."""
        return self.quantity is not None

    def guess(self, quantity: str, *, ship: bool | None = None) -> Guess | None:
        """Give what the name says where it may mean this quantity."""
        return next(
            (g for g in self.guesses if g.quantity == quantity and (ship is None or g.ship == ship)), None
        )

    def take(
        self,
        quantity: str,
        unit: str | None,
        confidence: float,
        why: str,
        *,
        sign: int = 1,
        ship: bool = False,
    ) -> None:
        """Decide what the column holds."""
        self.quantity, self.unit, self.sign, self.ship = quantity, unit, sign, ship
        self.confidence, self.why = confidence, why

    def leave(self, why: str, confidence: float = 0.9) -> None:
        """Decide that the column is left out."""
        self.take(IGNORE, None, confidence, why)

    def si(self, unit: str | None = None, sign: int | None = None) -> np.ndarray:
        """Give its numbers in SI, by the unit decided or another one."""
        known = BY_SUFFIX[(self.unit if unit is None else unit) or ""]
        values = self.column.numbers * known.factor + known.offset
        return values * (self.sign if sign is None else sign)

    def rule(self) -> Rule:
        """Give it as a rule of a column map."""
        quantity = self.quantity or IGNORE
        if self.ship and quantity != IGNORE:
            quantity = SHIP_PREFIX + quantity
        return Rule(
            source=self.name,
            quantity=quantity,
            unit=self.unit,
            sign=self.sign,
            confidence=round(self.confidence, 2),
            why=self.why,
            asked=self.asked,
        )


class Craft(Struct):
    """What is known so far of the aircraft or the ship: time, motion, rows of its own."""

    ship: bool
    findings: list[Finding]
    time: np.ndarray | None = None
    motion: Motion | None = None
    #: false where nothing tells how fast time runs, so that no speed tells a unit
    paced: bool = True
    found: dict[str, Finding] = field(default_factory=dict)

    def candidates(self, *quantities: str) -> list[Finding]:
        """Give open columns whose name may mean one of these, the likeliest first."""
        ranked = [
            (max(g.score for g in f.guesses if g.quantity in quantities and g.ship == self.ship), f)
            for f in self.findings
            if not f.settled and any(g.quantity in quantities and g.ship == self.ship for g in f.guesses)
        ]
        best = [(score, f) for score, f in ranked if score > 0.75 * max(g.score for g in f.guesses)]
        return [f for _, f in sorted(best, key=lambda pair: -pair[0])]

    def first(self, *quantities: str) -> Finding | None:
        """Give the likeliest open column for one of these that holds numbers; None without one."""
        return next((f for f in self.candidates(*quantities) if f.column.known.size), None)

    def keep(self, quantity: str, finding: Finding, unit: str | None, confidence: float, why: str, *, sign=1):
        """Decide that a column holds a quantity of this craft."""
        if finding.guesses and finding.guesses[0].by_motion:
            confidence = min(confidence, 0.8)
            why = f"its name says nothing; {why.removeprefix('named so; ').removeprefix('named a time; ')}"
        finding.take(quantity, unit, confidence, why, sign=sign, ship=self.ship)
        self.found[quantity] = finding

    def si(self, quantity: str) -> np.ndarray | None:
        """Give a quantity that was found, SI."""
        return self.found[quantity].si() if quantity in self.found else None
