"""Writing a plan's cards into a folder: everything or nothing."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from deckward.planning.plan import Plan
from deckward.reports.bundle import deposit
from deckward.reports.cards import columns
from deckward.reports.cards.making import make
from deckward.reports.cards.model import Card, bounds, number
from deckward.reports.cards.text import render
from deckward.reports.caution import CAUTION
from deckward.reports.palette import COCKPIT, DAY
from deckward.reports.typesetting import Sheet

#: width, height and margin, mm, and type against the kneeboard's: by so much more wide and high is
#: what the margins leave, at least, so that type that fits the kneeboard fits the others too
PAPERS: Mapping[str, tuple[float, float, float, float]] = {
    "kneeboard": (139.7, 215.9, 7.0, 1.0),
    "a4": (210.0, 297.0, 14.0, 1.33),
    "letter": (215.9, 279.4, 14.0, 1.24),
}
#: type against the usual: the largest that fits is taken
SIZES = (1.15, 1.05, 0.95, 0.85, 0.75, 0.65, 0.55, 0.45)
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
        # the type sizes that the first sheet finds serve the others; then sheets are set side by side
        day = _sheet(plan, made)
        (folder / "cards.pdf").write_bytes(day.pdf())
        sizes = day.told("size")

        def painted(sheet: Sheet, tail: str) -> None:
            for card, data in zip(made, sheet.pictures(ppi=_PPI), strict=True):
                (folder / f"{card.key}{tail}.png").write_bytes(data)

        def night() -> None:
            sheet = _sheet(plan, made, inks=COCKPIT, sizes=sizes)
            (folder / "cards-night.pdf").write_bytes(sheet.pdf())
            painted(sheet, "-night")

        with ThreadPoolExecutor(2) as together:
            dark = together.submit(night)
            painted(day, "")
            paper = _sheet(plan, made, paper_size, sizes=sizes)
            (folder / f"cards-{paper_size}.pdf").write_bytes(paper.pdf())
            dark.result()

    return deposit(out_dir, fill)


def pdf(
    plan: Plan, made: Sequence[Card], paper_size: str = "kneeboard", *, inks: Mapping[str, str] = DAY
) -> bytes:
    """Typeset the cards, one a page."""
    return _sheet(plan, made, paper_size, inks=inks).pdf()


def pictures(
    plan: Plan, made: Sequence[Card], *, inks: Mapping[str, str] = DAY, ppi: float = _PPI
) -> list[bytes]:
    """Paint the cards as PNG at the kneeboard's size, in order."""
    return _sheet(plan, made, inks=inks).pictures(ppi=ppi)


def _sheet(
    plan: Plan, made: Sequence[Card], paper_size: str = "kneeboard", *,
    inks: Mapping[str, str] = DAY, sizes: Sequence[int] | None = None,
) -> Sheet:  # fmt: skip
    """Lay the cards out; ``sizes`` of their type are those that another sheet of them has found."""
    width, height, margin, type_scale = PAPERS[paper_size]
    found = [None] * len(made) if sizes is None else sizes
    data = {
        "inks": dict(inks),
        "width": width,
        "height": height,
        "margin": margin,
        "scale": type_scale,
        "sizes": list(SIZES),
        "plan": plan.scenario.name,
        "caution": CAUTION,
        "cards": [{**_card(card, inks), "size": size} for card, size in zip(made, found, strict=True)],
    }
    return Sheet("cards.typ", data)


def _card(card: Card, inks: Mapping[str, str]) -> dict[str, Any]:
    arranged = [columns.arrange(card.tables, size) for size in SIZES]
    whole = [columns.whole(card.tables, size, rows) for size, rows in zip(SIZES, arranged, strict=True)]
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
        "columns": arranged,
        "tables": [
            {
                "title": one.title,
                "head": list(one.head),
                "rows": [list(row) for row in one.rows],
                "marked": sorted(one.marked),
                "whole": [by_size[k] for by_size in whole],
            }
            for k, one in enumerate(card.tables)
        ],
        "limits": [
            {
                "what": one.what,
                "text": f"{number(one, one.value)}, {bounds(one)}" + ("" if one.kept else f" ({one.of})"),
                "kept": one.kept,
            }
            for one in card.says.limits
        ],
        "notes": [note.text for note in card.notes],
        "inputs": [{"what": one.what, "text": one.text} for one in card.says.inputs],
    }
