"""The bundled session: a few recordings, and how each is to be debriefed."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from itertools import chain
from pathlib import Path

from msgspec.structs import replace

from deckward.errors import Note
from deckward.reports.model import SessionReport
from deckward.workflow import folder
from deckward.workflow.session import Debrief, debrief, write

DEMO = Path(__file__).parents[1] / "demo"


def demo(*, out: str | Path | None = None, progress: Callable[[str], None] | None = None) -> Debrief:
    """Debrief the bundled session of three invented pilots.

    Args:
        out: folder for its pages.
        progress: called with a few words before each longer step.

    Raises:
        InputError: the folder cannot be written.
    """
    if out is not None:
        folder.check(Path(out))
    session = tomllib.loads((DEMO / "session.toml").read_text(encoding="utf-8"))
    reports = [
        debrief(DEMO / one.pop("file"), **_with_paths(one), progress=progress).report
        for one in session["recording"]
    ]
    report = _joined(session["title"], reports)
    return write(report, out, progress=progress)


def _with_paths(options: dict) -> dict:
    """Turn the names of files that stand beside the session into their paths."""
    return {
        key: DEMO / value if isinstance(value, str) and (DEMO / value).is_file() else value
        for key, value in options.items()
    }


def _joined(title: str, reports: list[SessionReport]) -> SessionReport:
    """Put the passes of several recordings into one session, numbered through."""
    passes = chain.from_iterable(report.passes for report in reports)
    notes = [
        Note(note.code, f"{report.recording}: {note.text}") for report in reports for note in report.notes
    ]
    return SessionReport(
        title=title,
        recording=f"{len(reports)} recordings",
        samples=sum(report.samples for report in reports),
        rate_hz=max(report.rate_hz for report in reports),
        notes=tuple(notes),
        passes=tuple(replace(one, number=number) for number, one in enumerate(passes, start=1)),
    )
