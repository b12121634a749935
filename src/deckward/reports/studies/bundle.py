"""Writing a study into a folder: everything or nothing."""

from __future__ import annotations

import csv
import os
from pathlib import Path

from deckward.foundation.units import from_si
from deckward.reports import page, paper
from deckward.reports.bundle import deposit
from deckward.reports.palette import DAY
from deckward.reports.studies import drawing, text
from deckward.reports.studies import words as says
from deckward.reports.studies.model import StudyReport
from deckward.reports.svg import Form


def write(report: StudyReport, out_dir: str | os.PathLike[str]) -> list[Path]:
    """Write page, figures (SVG and PNG), text and a table (CSV); return the files, the page last.

    Raises:
        InputError: the folder is a file or cannot be written to.
    """

    def fill(folder: Path) -> None:
        wide, narrow = (drawing.figures(report, form) for form in (Form.WIDE, Form.NARROW))
        for (name, drawn), data in zip(wide.items(), paper.pictures(list(wide.values())), strict=True):
            svg = drawn.render(DAY, ground="paper")
            (folder / f"{name}.svg").write_text(svg, encoding="utf-8", newline="\n")
            (folder / f"{name}.png").write_bytes(data)
        (folder / "study.txt").write_text(text.render(report), encoding="utf-8", newline="\n")
        with (folder / "cases.csv").open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows(table(report))
        figures = [page.pair(wide[name], narrow[name]) for name in wide]
        (folder / "index.html").write_text(
            page.render(
                "study.html",
                {
                    "title": says.title(report),
                    "setting": says.setting(report),
                    "count": report.count,
                    "seed": report.seed,
                    "model": says.MODEL,
                    "figures": figures,
                    "files": [f"{name}.png" for name in wide],
                    "cases": [
                        {
                            "name": says.name(report, case),
                            "shares": [says.interval(case.found.shares[key]) for key, _ in says.OUTCOMES],
                            "facts": says.facts(case),
                        }
                        for case in report.cases
                    ],
                    "heads": [head for _, head in says.OUTCOMES],
                },
            ),
            encoding="utf-8",
            newline="\n",
        )

    return deposit(out_dir, fill)


def table(report: StudyReport) -> list[list[str | float]]:
    """Return a row for each case under a head: its inputs, its shares, its touchdowns."""
    head: list[str | float] = [one.name for one in report.inputs]
    for name, _ in says.OUTCOMES:
        head += [f"{name.replace(' ', '_').replace('-', '_')}{end}" for end in ("", "_low", "_high")]
    head += ["hook_past_ramp_ft", "hook_past_ramp_sd_ft", "sink_fps", "sink_sd_fps"]
    rows = [head]
    for case in report.cases:
        row: list[str | float] = [case.values[one.name] for one in report.inputs]
        for name, _ in says.OUTCOMES:
            share = case.found.shares[name]
            row += [round(value, 5) for value in (share.value, share.low, share.high)]
        row += [round(float(from_si(value, "ft")), 2) for value in case.found.touch_x]
        row += [round(float(from_si(value, "fps")), 2) for value in case.found.sink]
        rows.append(row)
    return rows
