"""The printed debrief and the pictures of the figures, both set by typst."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any, Literal

from deckward.reports import deck, otherwise, page, spark, typeface, why, words
from deckward.reports.model import CAUTION, SessionReport
from deckward.reports.palette import DAY
from deckward.reports.svg import Drawing, Form

_FOLDER = Path(__file__).parent / "sheets"
#: notes that a sheet has room for; the page has them all
_NOTES = 4
#: dots per inch of the pictures: a page's pixels one and a half times over
_PPI = 144


def pdf(session: SessionReport) -> bytes:
    """Typeset the debrief: the session first, then one sheet for each pass."""
    lines = words.pilots(session)
    touchdowns = deck.scatter(session.passes, form=Form.SHEET)
    data = {
        "inks": dict(DAY),
        "title": words.title(session),
        "caution": CAUTION,
        "by": f"{words.called(session.recording)} · {len(session.passes)} passes",
        "quality": page.quality(session, None),
        "notes": words.notes(session.notes),
        "touchdowns": _picture(touchdowns) if touchdowns else None,
        "pilots": [
            {
                "who": line.who,
                "passes": line.passes,
                "boarding": words.boarding(line),
                "mean": words.NOTHING if line.mean_points is None else f"{line.mean_points:.2f}",
            }
            for line in lines
        ],
        "uncounted": words.uncounted(lines),
        "passes": [_pass(session, k) for k in range(len(session.passes))],
    }
    (out,) = typeset("debrief.typ", data, "pdf")
    return out


def pictures(drawings: Sequence[Drawing]) -> list[bytes]:
    """Paint drawings as PNG by day, in order."""
    return typeset("figures.typ", [_picture(drawing) for drawing in drawings], "png")


def _pass(session: SessionReport, k: int) -> dict[str, Any]:
    item = session.passes[k]
    flown, score = item.flown, item.score
    drawn = page.figures(item, Form.SHEET)
    told = why.findings(flown, item.why)
    notes = words.notes(flown.notes)
    if len(notes) > _NOTES:
        more = len(notes) - _NOTES + 1
        notes = [*notes[: _NOTES - 1], f"{more} more notes are on the pass's page."]
    return {
        "number": item.number,
        "headline": words.headline(flown),
        "wire_doubt": words.wire_doubt(flown),
        "who": words.called(flown.who),
        "clock": words.clock(flown.start),
        "by": " · ".join(
            [words.called(flown.aircraft.name), words.called(flown.site.name), words.clock(flown.start)]
        ),
        "tags": words.tags(flown),
        "score": page.grade(score),
        "summary": words.clean(score.summary),
        "shorthand": words.underlined(score.shorthand),
        "look_at": words.clean(score.look_at),
        "why": {
            "first": [asdict(one) for one in told[: why.MOST]],
            "sentences": why.sentences(flown, item.why),
        },
        "what_if": [f"{change}: {came}" for change, came in otherwise.lines(flown, item.what_if)],
        "facts": [asdict(fact) for fact in words.facts(flown)],
        "rows": [asdict(row) for row in words.rows(flown)],
        "quality": page.quality(session, flown),
        "notes": notes,
        "spark": _picture(spark.draw(flown, name=page.stem(item.number))),
        **{key: _picture(drawn[key]) if key in drawn else None for key in ("approach", "sight", "deck")},
    }


def _picture(drawing: Drawing) -> dict[str, Any]:
    return {"svg": drawing.render(DAY), "alt": drawing.title, "width": drawing.width}


def typeset(template: str, data: Any, kind: Literal["pdf", "png"], *, ppi: float = _PPI) -> list[bytes]:
    """Run typst on one of our sheets; the machine's fonts are asked only for letters ours lack.

    Returns one file for a PDF, one for each page for PNG; ``ppi`` is dots per inch of these.
    """
    import typst

    text = json.dumps(data, ensure_ascii=False)
    out = typst.compile(
        _FOLDER / template,
        format=kind,
        ppi=ppi,
        font_paths=[typeface.FOLDER],
        ignore_system_fonts=not typeface.foreign(text),
        sys_inputs={"data": text},
    )
    assert out is not None, "typst returns bytes where it is given no file to write"
    return out if isinstance(out, list) else [out]
