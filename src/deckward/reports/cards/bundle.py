"""Writing a plan's cards into a folder: everything or nothing."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from deckward.planning.plan import Plan
from deckward.reports import paper
from deckward.reports.bundle import deposit
from deckward.reports.cards.making import make
from deckward.reports.cards.model import Card, bounds, number
from deckward.reports.cards.text import render
from deckward.reports.model import CAUTION
from deckward.reports.palette import COCKPIT, DAY

#: width, height and margin, mm, and type against the kneeboard's
PAPERS: Mapping[str, tuple[float, float, float, float]] = {
    "kneeboard": (139.7, 215.9, 7.0, 1.0),
    "a4": (210.0, 297.0, 14.0, 1.36),
    "letter": (215.9, 279.4, 14.0, 1.34),
}
#: a kneeboard page of 990 by 1530 dots
_PPI = 180.0


def write(plan: Plan, out_dir: str | os.PathLike[str], *, paper_size: str = "a4") -> list[Path]:
    """Write the cards: text, PDFs for the kneeboard by day and by night and for paper, a PNG of each.

    ``paper_size`` is "a4" or "letter". Nothing is left in the folder on a failure.

    Raises:
        InputError: the folder is a file or cannot be written to.
    """
    made = make(plan)

    def fill(folder: Path) -> None:
        (folder / "cards.txt").write_text(
            render(made, left_out=plan.left_out), encoding="utf-8", newline="\n"
        )
        (folder / f"cards-{paper_size}.pdf").write_bytes(pdf(plan, made, paper_size))
        for inks, tail in ((DAY, ""), (COCKPIT, "-night")):
            (folder / f"cards{tail}.pdf").write_bytes(pdf(plan, made, "kneeboard", inks=inks))
            for card, data in zip(made, pictures(plan, made, inks=inks), strict=True):
                (folder / f"{card.key}{tail}.png").write_bytes(data)

    return deposit(out_dir, fill)


def pdf(
    plan: Plan, made: Sequence[Card], paper_size: str = "kneeboard", *, inks: Mapping[str, str] = DAY
) -> bytes:
    """Typeset the cards, one a page."""
    (out,) = paper.typeset("cards.typ", _data(plan, made, paper_size, inks), "pdf")
    return out


def pictures(
    plan: Plan, made: Sequence[Card], *, inks: Mapping[str, str] = DAY, ppi: float = _PPI
) -> list[bytes]:
    """Paint the cards as PNG at the kneeboard's size, in order."""
    return paper.typeset("cards.typ", _data(plan, made, "kneeboard", inks), "png", ppi=ppi)


def _data(plan: Plan, made: Sequence[Card], paper_size: str, inks: Mapping[str, str]) -> dict[str, Any]:
    width, height, margin, type_scale = PAPERS[paper_size]
    return {
        "inks": dict(inks),
        "width": width,
        "height": height,
        "margin": margin,
        "scale": type_scale,
        "plan": plan.scenario.name,
        "caution": CAUTION,
        "cards": [_card(card, inks) for card in made],
    }


def _card(card: Card, inks: Mapping[str, str]) -> dict[str, Any]:
    return {
        "title": card.title,
        "by": card.by,
        "verdict": card.verdict,
        "ok": card.ok,
        "figures": [
            {"what": one.what, "value": one.value, "unit": one.unit, "remark": one.remark}
            for one in card.figures
        ],
        "drawing": None
        if card.drawing is None
        else {
            "svg": card.drawing.render(inks),
            "alt": card.drawing.title,
            "ratio": card.drawing.height / card.drawing.width,
        },
        "tables": [
            {
                "title": one.title,
                "head": list(one.head),
                "rows": [list(row) for row in one.rows],
                "marked": sorted(one.marked),
                "half": one.half,
            }
            for one in card.tables
        ],
        "limits": [
            {
                "what": one.what,
                "text": f"{number(one, one.value)}, may be {bounds(one)} ({one.of})",
                "kept": one.kept,
            }
            for one in card.says.limits
        ],
        "notes": [note.text for note in card.notes],
        "inputs": [{"what": one.what, "text": one.text} for one in card.says.inputs],
    }
