"""Figures, pages, cards and text: the only plotting and PDF."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import os

    import numpy as np

    from deckward.aircraft.model import Profile
    from deckward.passes.evidence import Evidence
    from deckward.reports.model import SessionReport
    from deckward.site.model import Site

__all__ = ["draw_aircraft", "draw_pilot", "draw_site", "screen", "write"]


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


def draw_site(
    site: Site, seen: Evidence, rows: Sequence[tuple[str, str]], out_dir: str | os.PathLike[str]
) -> list[Path]:
    """Draw what a ship was measured from into a folder, as SVG and PNG; ``rows`` say what was concluded.

    Raises:
        InputError: the folder is a file or cannot be written to.
    """
    from deckward.reports import bundle, evidence

    return bundle.write_drawing(evidence.of_site(site, seen, rows), out_dir)


def draw_pilot(
    name: str,
    lever: Sequence[np.ndarray],
    every: float,
    rows: Sequence[tuple[str, str]],
    out_dir: str | os.PathLike[str],
) -> list[Path]:
    """Draw what a pilot was fitted to; ``lever`` holds what he did and what his numbers make of it.

    Raises:
        InputError: the folder is a file or cannot be written to.
    """
    from deckward.reports import bundle, hands_fitted

    return bundle.write_drawing(hands_fitted.of_pilot(name, lever, every, rows), out_dir)


def draw_aircraft(
    profile: Profile,
    seen: Mapping[str, Sequence[float]],
    rows: Sequence[tuple[str, str]],
    out_dir: str | os.PathLike[str],
) -> list[Path]:
    """Draw what a jet was measured from; ``seen`` holds the sightings (m) by point.

    Raises:
        InputError: the folder is a file or cannot be written to.
    """
    from deckward.reports import bundle, evidence

    return bundle.write_drawing(evidence.of_aircraft(profile, rows, seen), out_dir)
