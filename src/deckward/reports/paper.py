"""The printed debrief and the pictures of the figures, both set by typst."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from msgspec.structs import asdict

from deckward.reports import deck, otherwise, page, spark, why, words
from deckward.reports.caution import CAUTION
from deckward.reports.model import SessionReport
from deckward.reports.palette import DAY
from deckward.reports.svg import Drawing, Form
from deckward.reports.typesetting import Sheet

#: notes that a sheet has room for; the page has them all
_NOTES = 4


def pdf(session: SessionReport) -> bytes:
    """Typeset the debrief: the session first, then one sheet for each pass."""
    return sheet(session).pdf()


def sheet(session: SessionReport) -> Sheet:
    """Lay the debrief out."""
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
    return Sheet("debrief.typ", data)


def pictures(drawings: Sequence[Drawing]) -> list[bytes]:
    """Paint drawings as PNG by day, in order."""
    return Sheet("figures.typ", [_picture(drawing) for drawing in drawings]).pictures()


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
        "planned": words.planned(item.planned),
        "rows": [asdict(row) for row in words.rows(flown)],
        "quality": page.quality(session, flown),
        "notes": notes,
        "spark": _picture(spark.draw(flown, name=page.stem(item.number))),
        **{key: _picture(drawn[key]) if key in drawn else None for key in ("approach", "sight", "deck")},
    }


def _picture(drawing: Drawing) -> dict[str, Any]:
    return {"svg": drawing.render(DAY), "alt": drawing.title, "width": drawing.width}
