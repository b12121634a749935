"""Figures, pages, cards and text: the only plotting and PDF."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import os

    from deckward.reports.model import SessionReport

__all__ = ["screen", "write"]


def screen(session: SessionReport, *, width: int = 80, colour: bool = False, plain: bool = False) -> str:
    """Return the debrief as text for a terminal, lines ended by newlines.

    ``width`` is the terminal's in columns; ``colour`` adds ANSI styles, which never say
    anything that the words do not; ``plain`` keeps to ASCII.
    """
    from deckward.reports.terminal import draw

    return draw(session, width=width, colour=colour, plain=plain)


def write(
    session: SessionReport,
    out_dir: str | os.PathLike[str],
    *,
    progress: Callable[[str, float], None] | None = None,
) -> list[Path]:
    """Write pages, figures and the PDF into a folder and return the files, the session's page last.

    The files are made elsewhere first: on an error the folder is left as it was. Files
    that are in the folder already stay, except those of the same names. ``progress`` is
    told what is being made and the share done, 0..1.

    Raises:
        InputError: the folder is a file or cannot be written to.
    """
    from deckward.reports.bundle import write

    return write(session, out_dir, progress=progress)
