"""Before the flight: from a scenario to a plan and its cards."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct

from deckward import planning
from deckward.errors import InputError
from deckward.foundation import documents
from deckward.planning.plan import CARDS, Plan, make
from deckward.workflow import folder, options, plan_document
from deckward.workflow.published import encode


class Cards(Struct, frozen=True):
    """A plan; ``files`` names the cards that were written, empty where none were asked for."""

    plan: Plan
    files: tuple[Path, ...] = ()

    def to_dict(self) -> dict[str, Any]:
        """Return the published object as dicts and lists, edge units in its keys."""
        return msgspec.to_builtins(plan_document.document(self.plan))

    def to_json(self) -> str:
        """Return the published object as JSON text."""
        return encode(plan_document.document(self.plan))

    def to_text(self, *, plain: bool = False) -> str:
        """Return the cards as lines of text; ``plain`` keeps to ASCII."""
        from deckward.reports.cards import make, render

        return render(make(self.plan), left_out=self.plan.left_out, plain=plain)


def plan(
    scenario: str | Path | None = None,
    *,
    cards: Sequence[str] = (),
    facts: Mapping[str, Any] | None = None,
    out: str | Path | None = None,
    paper: str = "a4",
) -> Cards:
    """Work out the cards of a scenario and (with ``out``) draw them.

    Args:
        scenario: a bundled name or a file; None where ``facts`` say all.
        cards: which of :data:`CARDS`; where none is named, all that the facts support.
        facts: values by their keys in a scenario file (``wind.from_deg``), in place of its own.
        out: folder for the cards; nothing is left there on a failure.
        paper: "a4" or "letter", beside the kneeboard's size.

    Raises:
        InputError: a fact is missing or cannot be used.
    """
    for card in cards:
        if card not in CARDS:
            guess = documents.nearest(card, CARDS)
            raise InputError(
                f"there is no card {card!r}.{f' Did you mean {guess}?' if guess else ''}",
                place="cards",
                remedy=f"Cards: {', '.join(CARDS)}.",
            )
    options.one_of("paper", paper, ("a4", "letter"))
    if out is not None:
        folder.check(Path(out))
    made = make(planning.load(scenario, typed=facts), tuple(cards))
    if out is None:
        return Cards(made)
    from deckward.reports.cards import write

    return Cards(made, tuple(write(made, out, paper_size=paper)))
