"""Writing the debrief into a folder: everything or nothing."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

from deckward.errors import InputError
from deckward.reports import deck, page, paper
from deckward.reports.model import SessionReport
from deckward.reports.palette import DAY
from deckward.reports.svg import Drawing, Form

#: told what is being made and how much of the whole is done, 0..1
Progress = Callable[[str, float], None]

#: written last, so that no link of it leads nowhere
INDEX = "index.html"


def write(
    session: SessionReport, out_dir: str | os.PathLike[str], *, progress: Progress | None
) -> list[Path]:
    """Write the debrief into a folder."""
    return deposit(out_dir, lambda folder: _make(session, folder, progress or (lambda what, done: None)))


def write_drawing(drawing: Drawing, out_dir: str | os.PathLike[str]) -> list[Path]:
    """Write one drawing by day as SVG and PNG, named after itself."""

    def make(folder: Path) -> None:
        _put(folder / f"{drawing.name}.svg", drawing.render(DAY, ground="paper"))
        (folder / f"{drawing.name}.png").write_bytes(paper.pictures([drawing])[0])

    return deposit(out_dir, make)


def deposit(out_dir: str | os.PathLike[str], make: Callable[[Path], None]) -> list[Path]:
    """Let ``make`` fill a folder beside ``out_dir``, and move everything in when all is made.

    Raises:
        InputError: the folder is a file or cannot be written to.
    """
    target = Path(out_dir)
    _check(target)
    parent = next(folder for folder in target.absolute().parents if folder.is_dir())
    try:
        workshop = Path(tempfile.mkdtemp(prefix=".deckward-", dir=parent))
    except OSError as error:
        raise _unwritable(target, error) from error
    try:
        made = workshop / "made"
        made.mkdir()
        make(made)
        return _move(made, target)
    except OSError as error:
        raise _unwritable(target, error) from error
    finally:
        shutil.rmtree(workshop, ignore_errors=True)


def _check(target: Path) -> None:
    for folder in (target, *target.absolute().parents):
        if folder.exists():
            if folder.is_dir():
                return
            raise InputError("is a file, not a folder.", file=str(folder), remedy="Name another folder.")


def _unwritable(target: Path, error: OSError) -> InputError:
    reason = error.strerror or str(error)
    return InputError(
        f"cannot be written to ({reason}).", file=str(target), remedy="Name a folder that can be."
    )


def _make(session: SessionReport, folder: Path, progress: Progress) -> None:
    """Write every file of the debrief into an empty folder."""
    count = len(session.passes)
    (folder / "figures").mkdir()
    drawings: dict[str, Drawing] = {}
    for done, item in enumerate(session.passes):
        progress(f"page of pass {item.number}", 0.4 * done / max(count, 1))
        wide, narrow = (page.figures(item, form) for form in (Form.WIDE, Form.NARROW))
        name = page.stem(item.number)
        _put(folder / f"{name}.html", page.of_pass(session, item, wide, narrow))
        drawings |= {f"{name}-{key}": drawing for key, drawing in wide.items()}
    scatter = deck.scatter(session.passes)
    if scatter is not None:
        drawings["session-touchdowns"] = scatter
    _put(folder / INDEX, page.of_session(session))
    for name, drawing in drawings.items():
        _put(folder / "figures" / f"{name}.svg", drawing.render(DAY, ground="paper"))
    progress("printed debrief", 0.4)
    (folder / "debrief.pdf").write_bytes(paper.pdf(session))
    names = list(drawings)
    batch = 8
    for first in range(0, len(names), batch):
        progress("pictures", 0.55 + 0.45 * first / len(names))
        some = names[first : first + batch]
        for name, data in zip(some, paper.pictures([drawings[n] for n in some]), strict=True):
            (folder / "figures" / f"{name}.png").write_bytes(data)
    progress("done", 1.0)


def _put(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="\n")


def _move(made: Path, target: Path) -> list[Path]:
    """Put the finished files in place: the whole folder at once, or file by file beside strangers'."""
    names = sorted(
        (path.relative_to(made) for path in made.rglob("*") if path.is_file()),
        key=lambda name: (name.name == INDEX, name),
    )
    if not target.exists():
        target.parent.mkdir(parents=True, exist_ok=True)
        made.rename(target)
    else:
        for name in names:
            (target / name).parent.mkdir(exist_ok=True)
            (made / name).replace(target / name)
    return [target / name for name in names]
