"""The pages: one for the session and one for each pass, each a single file that needs no other."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from msgspec.structs import asdict

from deckward.passes.model import Pass
from deckward.reports import (
    approach,
    deck,
    otherwise,
    palette,
    pattern,
    readout,
    sight,
    spark,
    typeface,
    why,
    words,
)
from deckward.reports.caution import CAUTION
from deckward.reports.model import PassReport, SessionReport
from deckward.reports.svg import Drawing, Form
from deckward.scoring.model import Scorecard

if TYPE_CHECKING:
    from jinja2 import Environment

_FOLDER = Path(__file__).parent / "pages"
#: the figures of a pass by name; the ones that have something to show are drawn
FIGURES = ("approach", "sight", "deck", "pattern")
_ON_PAGES = (Form.WIDE, Form.NARROW)
_SIZES = {1: "a little", 2: "plain", 3: "a lot"}


def figures(item: PassReport, form: Form) -> dict[str, Drawing]:
    """Draw everything there is to draw of a pass, by name."""
    name = stem(item.number)
    drawn = {
        "approach": approach.draw(
            item.flown, name=name, form=form, why=item.why, what_if=item.what_if, ahead=item.ahead
        ),
        "sight": sight.draw(item.flown, name=name, form=form),
        "deck": deck.draw(item.flown, name=name, form=form),
        "pattern": pattern.draw(item.flown, name=name, form=form),
    }
    return {key: drawing for key, drawing in drawn.items() if drawing is not None}


def stem(number: int) -> str:
    """Return the file name of a pass without its ending."""
    return f"pass-{number:02d}"


def of_pass(
    session: SessionReport, item: PassReport, wide: dict[str, Drawing], narrow: dict[str, Drawing]
) -> str:
    """Write the page of one pass with its figures for wide and narrow windows."""
    flown, score = item.flown, item.score
    numbers = [other.number for other in session.passes]
    here = numbers.index(item.number)
    return (
        _environment()
        .get_template("pass.html")
        .render(
            session=words.title(session),
            number=item.number,
            count=len(numbers),
            before=f"{stem(numbers[here - 1])}.html" if here else None,
            after=f"{stem(numbers[here + 1])}.html" if here + 1 < len(numbers) else None,
            headline=words.headline(flown),
            wire_doubt=words.wire_doubt(flown),
            who=words.called(flown.who),
            aircraft=words.called(flown.aircraft.name),
            site=words.called(flown.site.name),
            clock=words.clock(flown.start),
            tags=words.tags(flown),
            score=grade(score),
            summary=words.clean(score.summary),
            shorthand=words.underlined(score.shorthand),
            look_at=words.clean(score.look_at),
            why=reasons(item),
            what_if=otherwise.lines(flown, item.what_if),
            outlook=None if item.ahead is None else words.outlook(item.ahead),
            facts=words.facts(flown),
            planned=words.planned(item.planned),
            rows=words.rows(flown),
            rulebook=words.called(score.rulebook),
            reasons=[words.clean(reason) for reason in score.reasons],
            deviations=[
                {
                    "words": words.clean(deviation.words),
                    "symbol": words.underlined(deviation.symbol),
                    "intensity": deviation.intensity,
                    "size": _SIZES.get(deviation.intensity, ""),
                }
                for deviation in sorted(score.deviations, key=lambda d: -d.intensity)
            ],
            read=json.dumps(readout.lines(flown), ensure_ascii=False),
            axes={form.value: " ".join(f"{end:.4f}" for end in approach.share(form)) for form in _ON_PAGES},
            quality=quality(session, flown),
            notes=words.notes(flown.notes),
            files=[(f"figures/{stem(item.number)}-{key}.png", key) for key in wide],
            **{key: pair(wide.get(key), narrow.get(key)) for key in ("approach", "sight", "deck", "pattern")},
        )
    )


def of_session(session: SessionReport) -> str:
    """Write the page of the session."""
    lines = words.pilots(session)
    wide, narrow = (deck.scatter(session.passes, form=form) for form in _ON_PAGES)
    return (
        _environment()
        .get_template("session.html")
        .render(
            session=words.title(session),
            recording=words.called(session.recording),
            count=len(session.passes),
            sites=", ".join(dict.fromkeys(words.called(item.flown.site.name) for item in session.passes)),
            passes=[
                {
                    "number": item.number,
                    "page": f"{stem(item.number)}.html",
                    "who": words.called(item.flown.who),
                    "clock": words.clock(item.flown.start),
                    "headline": words.headline(item.flown),
                    "wire_doubt": words.wire_doubt(item.flown),
                    "tags": words.tags(item.flown),
                    "score": grade(item.score),
                    "summary": words.clean(item.score.summary),
                    "shorthand": words.underlined(item.score.shorthand),
                    "spark": _inline(spark.draw(item.flown, name=stem(item.number))),
                }
                for item in session.passes
            ],
            pilots=[
                {
                    **asdict(line),
                    "rate": f"{100 * line.traps / line.counted:.0f}" if line.counted else None,
                    "mean": None if line.mean_points is None else f"{line.mean_points:.2f}",
                }
                for line in lines
            ],
            uncounted=words.uncounted(lines),
            touchdowns=pair(wide, narrow),
            quality=quality(session, None),
            notes=words.notes(session.notes),
        )
    )


def grade(score: Scorecard) -> dict[str, Any]:
    """Return what a page shows of a grade."""
    shares = sorted((p for p in score.grade.odds.values() if p > 0.0), reverse=True)
    return {
        "name": words.called(score.grade.name),
        "symbol": words.underlined(words.called(score.grade.symbol)),
        "points": None if score.grade.points is None else words.points(score),
        "doubt": words.grade_doubt(score),
        "shares": [f"{100 * p:.1f}" for p in shares],
    }


def reasons(item: PassReport) -> dict[str, Any]:
    """Return what a page shows of why: findings, three at once, and what made the height at the ramp."""
    told = why.findings(item.flown, item.why)
    return {
        "first": told[: why.MOST],
        "more": told[why.MOST :],
        "sentences": [words.opened(line) for line in why.sentences(item.flown, item.why)],
        "height": why.at_ramp_of(item.why),
        "arrived": why.arrived(item.why),
        "causes": why.CAUSES,
    }


def quality(session: SessionReport, flown: Pass | None) -> list[tuple[str, str]]:
    """Return the figures of the data-quality box, of a pass or of the whole recording."""
    out = [("recording", words.called(session.recording)), ("samples a second", f"{session.rate_hz:.1f}")]
    if flown is None:
        return [*out, ("samples", f"{session.samples:,}".replace(",", " "))]
    return [*out, *words.certainty(flown)]


def render(template: str, shown: Mapping[str, Any]) -> str:
    """Write a page from one of our templates, with the values that it shows by name."""
    return _environment().get_template(template).render(shown)


def pair(wide: Drawing | None, narrow: Drawing | None) -> dict[str, str] | None:
    """Return a figure for wide and one for narrow windows; None where there is none."""
    return {"wide": _inline(wide), "narrow": _inline(narrow)} if wide and narrow else None


def _inline(drawing: Drawing) -> str:
    from markupsafe import Markup

    return Markup(drawing.render())


@cache
def _environment() -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined
    from markupsafe import Markup

    environment = Environment(
        loader=FileSystemLoader(_FOLDER),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    script = (_FOLDER / "page.js").read_text(encoding="utf-8").strip()
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    environment.globals |= {
        "css": Markup(_style()),
        "script": Markup(script),
        "script_hash": f"sha256-{digest}",
        "caution": CAUTION,
    }
    return environment


def _style() -> str:
    day, night = palette.css(palette.DAY), palette.css(palette.NIGHT)
    faces = "".join(
        f'@font-face{{font-family:"{typeface.FAMILY}";font-weight:{weight};font-display:swap;'
        f'src:url("data:font/woff;base64,{typeface.web_font(name)}") format("woff")}}'
        for name, weight in (("Regular", 400), ("Bold", 700))
    )
    return (
        f"{faces}:root{{{day}--face:{typeface.STACK};--code:{typeface.CODE}}}"
        f"@media (prefers-color-scheme:dark){{:root:not([data-light=day]){{{night}color-scheme:dark}}}}"
        f":root[data-light=day]{{color-scheme:light}}:root[data-light=night]{{{night}color-scheme:dark}}"
        f"@media print{{:root{{{day}}}}}" + (_FOLDER / "style.css").read_text(encoding="utf-8")
    )
