"""A study as lines of text."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from deckward.reports.caution import CAUTION
from deckward.reports.studies import words as says
from deckward.reports.studies.model import StudyReport
from deckward.reports.words import MINUS, NOTHING

WIDTH = 78
_PLAIN: dict[str, str | int | None] = {"·": "|", "±": "+/-", MINUS: "-", NOTHING: "-", "─": "-"}


def render(report: StudyReport, *, plain: bool = False) -> str:
    """Write a study, lines ended by newlines; ``plain`` keeps to ASCII."""
    lines = [says.title(report), *_fill(says.setting(report)), ""]
    if len(report.varied) == 2:
        lines += [*_grid(report), ""]
    if report.varied:
        lines += _table(report)
    else:
        (case,) = report.cases
        for outcome, head in says.OUTCOMES:
            lines.append(f"  {head:<20}{says.interval(case.found.shares[outcome])} %")
        lines += ["", *(f"  {what:<20}{text}" for what, text in says.facts(case))]
    lines += [
        "",
        *_fill(f"{report.count} passes a case, seed {report.seed}; in brackets 95 per cent intervals."),
        *_fill(says.MODEL),
        *_fill(CAUTION),
    ]
    text = "\n".join(line.rstrip() for line in lines) + "\n"
    if plain:
        text = text.translate(str.maketrans(_PLAIN)).encode("ascii", "replace").decode("ascii")
    return text


def _fill(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, break_on_hyphens=False)


def _grid(report: StudyReport) -> list[str]:
    """Set the boarding rate out over both inputs."""
    down, across = report.varied
    rates = iter(says.percent(case.found.shares["trap"].value) for case in report.cases)
    rows = [[f"{down.title} \\ {across.title}", *(across.label(value) for value in across.values)]]
    for value in down.values:
        rows.append([down.label(value), *(next(rates) for _ in across.values)])
    return ["Traps of all passes, %", *_columns(rows)]


def _table(report: StudyReport) -> list[str]:
    """One line a case: shares, hook touchdown, sink."""
    head = [*(one.title for one in report.varied), "trap, %"]
    head += ["bolter", "wave-off", "ramp strike", "hook, ft", "sink, ft/s"]
    rows = [head]
    for case in report.cases:
        found = case.found
        row = [one.label(case.values[one.name]) for one in report.varied]
        row.append(says.interval(found.shares["trap"]))
        row += [says.percent(found.shares[name].value) for name in ("bolter", "wave-off", "ramp strike")]
        row.append(says.mean(found.touch_x, "ft"))
        row.append(says.mean(found.sink, "fps", 1))
        rows.append(row)
    return _columns(rows)


def _columns(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
    return ["  ".join(f"{cell:>{width}}" for cell, width in zip(row, widths, strict=True)) for row in rows]
