"""The terminal screen: ten seconds a pass, in text that any width and any theme can show."""

from __future__ import annotations

import re
import textwrap
import unicodedata
from collections.abc import Sequence

from deckward.foundation.units import NAUTICAL_MILE
from deckward.passes.model import Pass
from deckward.reports import otherwise, spark, why, words
from deckward.reports.caution import CAUTION
from deckward.reports.model import PassReport, SessionReport

#: narrower than this nothing can be laid out
NARROWEST = 44
#: wider than this a line is hard to follow
WIDEST = 100
_INDENT = "    "
#: a blank that no line breaks at
_GLUE = "\xa0"
_STYLES = {"bold": "1", "dim": "2", "reverse": "7", "red": "1;31", "look": "1;34"}
_PLAIN: dict[str, str | int | None] = {
    "·": "|",
    "°": " deg",
    "±": "+/-",
    words.MINUS: "-",
    words.NOTHING: "-",
    "…": "...",
    "─": "-",
    "•": "*",
}


class _Pen:
    """Writes styled words, or bare ones where there is no colour."""

    def __init__(self, colour: bool) -> None:
        self.colour = colour

    def __call__(self, text: str, style: str) -> str:
        return f"\x1b[{_STYLES[style]}m{text}\x1b[0m" if self.colour and text else text


def draw(session: SessionReport, *, width: int = 80, colour: bool = False, plain: bool = False) -> str:
    """Write the whole screen, lines ended by newlines.

    ``plain`` keeps to ASCII, for terminals that can show no more.
    """
    width = max(NARROWEST, min(width, WIDEST))
    pen = _Pen(colour)
    lines = [
        *(pen(line, "bold") for line in _wrap(words.title(session), width)),
        *_wrap(f"{words.called(session.recording)} · {_count(session)} · {session.rate_hz:.0f} Hz", width),
    ]
    for item in session.passes:
        lines += ["", pen("─" * width, "dim"), *_pass(item, width, pen, plain)]
    if len(session.passes) > 1:
        lines += ["", pen("─" * width, "dim"), *_glance(session, width, pen)]
    notes = words.notes(session.notes)
    if notes:
        lines += ["", pen("The recording", "bold"), *_bullets(notes, width)]
    lines += ["", *(pen(line, "dim") for line in _wrap(CAUTION, width))]
    text = "\n".join(line.rstrip() for line in lines) + "\n"
    if plain:
        text = text.translate(str.maketrans(_PLAIN)).encode("ascii", "replace").decode("ascii")
    return text


def _count(session: SessionReport) -> str:
    count = len(session.passes)
    return f"{count} pass" if count == 1 else f"{count} passes"


def _pass(item: PassReport, width: int, pen: _Pen, plain: bool) -> list[str]:
    flown, score = item.flown, item.score
    number = f"{item.number:>2}"
    head, symbol = words.headline(flown), words.called(score.grade.symbol)
    grade = f"{words.called(score.grade.name)}" + (
        f" {words.points(score)}" if score.grade.points is not None else ", not scored"
    )
    plaque = f" {symbol}  {grade}"
    room = width - len(_INDENT) - cells(head) - cells(plaque) - 1
    styled = f"{pen(f' {symbol} ', 'reverse')} {pen(grade, 'bold')}"
    if room >= 1:
        lines = [f"{pen(number, 'bold')}  {pen(head, 'bold')}{' ' * room}{styled}"]
    else:
        lines = [f"{pen(number, 'bold')}  {pen(head, 'bold')}", _INDENT + styled]
    doubts = [text for text in (words.grade_doubt(score), words.wire_doubt(flown)) if text]
    names = (words.called(name) for name in (flown.who, flown.aircraft.name, flown.site.name))
    who = " · ".join([*names, words.clock(flown.start)])
    lines += [pen(line, "dim") for line in _wrap(who, width, _INDENT)]
    if doubts or words.tags(flown):
        lines += _wrap(" · ".join([*doubts, *words.tags(flown)]), width, _INDENT)
    lines += _wrap(words.clean(score.summary), width, _INDENT)
    lines += [pen(line, "bold") for line in _wrap(words.clean(score.shorthand), width, _INDENT)]
    lines += ["", _INDENT + _ball_line(flown, width - len(_INDENT), plain)]
    lines += _table(flown, width - len(_INDENT), pen)
    lines += _wrap(_facts(flown), width, _INDENT)
    lines += _planned(item, width, pen)
    if item.ahead is not None:
        lines += _wrap(words.outlook(item.ahead), width, _INDENT)
    look = words.clean(score.look_at)
    if look:
        first, *rest = _wrap(f"Look at  {look}", width, _INDENT)
        lines += [first.replace("Look at", pen("Look at", "look"), 1), *rest]
    lines += _why(item, width, pen)
    for k, (change, came) in enumerate(otherwise.lines(flown, item.what_if), start=1):
        first, *rest = _wrap(f"What if {k} {change}: {came}", width, _INDENT, hang=" " * 9)
        lines += [first.replace(f"What if {k}", pen(f"What if {k}", "look"), 1), *rest]
    notes = words.notes(flown.notes)
    if notes:
        lines += [pen(line, "dim") for line in _bullets(notes, width, _INDENT)]
    return lines


def _planned(item: PassReport, width: int, pen: _Pen) -> list[str]:
    """Set the plan beside the pass; nothing without one."""
    rows = words.planned(item.planned)
    if not rows:
        return []
    head = ("against the plan", "planned", "flown", "by")
    sizes = [max(cells(row[k]) for row in (head, *rows)) for k in range(4)]
    lines = []
    for row in (head, *rows):
        parts = [row[0] + " " * (sizes[0] - cells(row[0]))]
        parts += [" " * (size - cells(cell)) + cell for cell, size in zip(row[1:], sizes[1:], strict=True)]
        line = _INDENT + "  ".join(parts)
        lines.append(pen(line, "dim") if row is head else line)
    return ["", *(line[:width] for line in lines), ""]


def _why(item: PassReport, width: int, pen: _Pen) -> list[str]:
    """Say why in a line for each of the dearest findings, and a line for the height at the ramp."""
    lines = []
    told = why.findings(item.flown, item.why)
    for number, one in enumerate(told[: why.MOST], start=1):
        what = " · ".join(part for part in (one.title, one.where, one.cost or one.evidence) if part)
        first, *rest = _wrap(f"Why {number}    {what}", width, _INDENT, hang=" " * 9)
        lines += [first.replace(f"Why {number}", pen(f"Why {number}", "look"), 1), *rest]
        if number == 1:
            lines += _wrap(one.advice, width, _INDENT + " " * 9)
    if len(told) > why.MOST:
        lines.append(f"{_INDENT}{' ' * 9}{len(told) - why.MOST} more on the pass's page")
    made = why.largest(item.flown, item.why)
    if made:
        text = " · ".join(
            f"{why.did(one)} {' '.join(words.sided(one.made, 'ft', 0, 'ft high', 'ft low'))}" for one in made
        )
        lines += _wrap(f"Ramp     {text}", width, _INDENT, hang=" " * 9)
    return lines


def _facts(flown: Pass) -> str:
    """Put the single numbers in one line that breaks only between them."""
    items = []
    for fact in words.facts(flown):
        what = fact.what.removesuffix(" at touchdown")
        item = " ".join(part for part in (what, fact.value, fact.unit, fact.remark) if part)
        items.append(item.replace(" ", _GLUE))
    return " · ".join(items)


def _ball_line(flown: Pass, width: int, plain: bool) -> str:
    """Draw the ball from 1 nm to the ramp in one line, the quarters named between the blocks."""
    names = ("3/4", "1/2", "1/4", "ramp")
    lead = "ball "
    each = (width - len(lead) - sum(len(name) + 2 for name in names)) // 4
    each = max(2, min(each, 14))
    out = lead
    for k, name in enumerate(names):
        far = (1.0 - k / 4) * NAUTICAL_MILE
        places = [far - (i + 0.5) / each * NAUTICAL_MILE / 4 for i in range(each)]
        out += "".join(spark.blocks(flown, places, plain=plain)) + f" {name} "
    return out


def _table(flown: Pass, width: int, pen: _Pen) -> list[str]:
    """Lay out the positions; columns that a narrow terminal has no room for go first."""
    rows = words.rows(flown)
    if not rows:
        return []
    red_below = flown.site.lens.red_cells - flown.site.lens.cells / 2
    in_red = {words.called(at.name) for at in flown.positions if at.ball_cells < red_below}
    columns = [
        ("", [row.name + "*" * row.after_wave_off for row in rows], 0),
        ("range ft", [row.distance for row in rows], 2),
        ("ball, cells", [_join(row.ball, row.ball_word, row.doubt) for row in rows], 0),
        ("line-up ft", [_join(row.line_up, row.line_up_word) for row in rows], 0),
        ("deg", [row.line_up_angle for row in rows], 1),
        ("AoA", [_join(row.alpha, row.alpha_word) for row in rows], 0),
        ("sink ft/min", [row.sink for row in rows], 0),
        ("closing kt", [row.closure for row in rows], 3),
    ]
    kept = list(range(len(columns)))
    for drop in (1, 2, 3):
        if _across(columns, kept) > width:
            kept = [k for k in kept if columns[k][2] != drop]
    if _across(columns, kept) > width:
        # the last resort: short titles, no doubts and no words for the angle of attack
        columns[2] = ("ball", [_join(row.ball, row.ball_word) for row in rows], 0)
        columns[5] = ("AoA", [row.alpha for row in rows], 0)
        columns = [(re.split(r",| ft", title)[0], values, drop) for title, values, drop in columns]
    sizes = [_size(column) for column in columns]
    gap = "  " if _across(columns, kept) <= width else " "
    lines = [_INDENT + pen(gap.join(_pad(columns[k][0], sizes[k], k) for k in kept).rstrip(), "dim")]
    for n, row in enumerate(rows):
        parts = []
        for k in kept:
            part = _pad(columns[k][1][n], sizes[k], k)
            if k == 0:
                part = pen(part, "bold")
            elif k == 2 and row.name in in_red:
                part = pen(part, "red")
            parts.append(part)
        lines.append(_INDENT + gap.join(parts).rstrip())
    if any(row.after_wave_off for row in rows):
        lines.append(_INDENT + pen("* after the wave-off", "dim"))
    return lines


def _size(column: tuple[str, list[str], int]) -> int:
    title, values, _ = column
    return max(cells(title), *(cells(value) for value in values))


def _across(columns: list[tuple[str, list[str], int]], kept: list[int]) -> int:
    """Return how wide the kept columns stand with two blanks between."""
    return sum(_size(columns[k]) + 2 for k in kept) - 2


def _join(*parts: str) -> str:
    return " ".join(part for part in parts if part)


def _pad(text: str, size: int, column: int) -> str:
    blanks = " " * max(0, size - cells(text))
    return blanks + text if column in (1, 4, 6, 7) else text + blanks


def _glance(session: SessionReport, width: int, pen: _Pen) -> list[str]:
    """List the passes a line each, and what they come to by pilot."""
    lines = [pen("The session", "bold")]
    who = max(cells(words.called(item.flown.who)) for item in session.passes)
    who = min(who, max(8, width - 34))
    for item in session.passes:
        name = words.called(item.flown.who)
        if cells(name) > who:
            name = name[: who - 1] + "…"
        points = "" if item.score.grade.points is None else f" {words.points(item.score)}"
        grade = f"{words.called(item.score.grade.symbol)}{points}"
        line = f"{item.number:>2}  {name}{' ' * (who - cells(name))}  {grade:<9} {words.headline(item.flown)}"
        lines.append(line if cells(line) <= width else line[: width - 1] + "…")
    pilots = words.pilots(session)
    if len(pilots) > 1:
        lines.append("")
        for pilot in pilots:
            mean = "" if pilot.mean_points is None else f" · mean {pilot.mean_points:.2f}"
            lines += _wrap(f"{pilot.who}: boarding rate {words.boarding(pilot)}{mean}", width)
        left = words.uncounted(pilots)
        lines += _wrap(left, width) if left else []
    return lines


def _bullets(items: Sequence[str], width: int, indent: str = "") -> list[str]:
    return [line for item in items for line in _wrap(f"• {item}", width, indent, hang="  ")]


def _wrap(text: str, width: int, indent: str = "", *, hang: str = "") -> list[str]:
    if not text:
        return []
    lines = textwrap.wrap(
        text, width, initial_indent=indent, subsequent_indent=indent + hang, break_on_hyphens=False
    )
    return [line.replace(_GLUE, " ") for line in lines]


def cells(text: str) -> int:
    """Return how many columns of a terminal a text takes.

    Source: Unicode standard annex 11, wide and fullwidth letters take two; combining
    marks none.
    """
    return sum(
        0 if unicodedata.combining(letter) else 2 if unicodedata.east_asian_width(letter) in "WF" else 1
        for letter in text
    )
