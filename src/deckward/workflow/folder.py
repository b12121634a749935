"""Where results are put: looked at before any work is done."""

from __future__ import annotations

import os
from pathlib import Path

from deckward.errors import InputError


def check(folder: Path) -> None:
    """Make sure, before any work, that pages can be put into ``folder``; make nothing.

    Raises:
        InputError: it is a file, or it cannot be written.
    """
    nearest = _nearest(folder)
    if not nearest.is_dir():
        raise InputError(
            "this is a file, pages need a folder.",
            file=str(nearest),
            place="out",
            remedy="Name another folder.",
        )
    if not os.access(nearest, os.W_OK | os.X_OK):
        raise InputError(
            "this folder cannot be written.",
            file=str(nearest),
            place="out",
            remedy="Name another folder, or change its permissions.",
        )


def _nearest(folder: Path) -> Path:
    """Return the folder itself, or the nearest one above it that is there."""
    missing: list[str] = []
    try:
        while not folder.exists() and folder != folder.parent:
            missing.append(folder.name)
            folder = folder.parent
        for name in missing:
            # a name that the disk cannot hold shows only in a folder that is there
            (folder / name).exists()
    except (OSError, ValueError) as error:
        raise InputError(
            f"no folder can have this name: {error}.", file=str(folder), place="out", remedy="Name another."
        ) from error
    return folder


def save(path: Path, text: str) -> Path:
    """Write a new text file, and refuse to overwrite one.

    Raises:
        InputError: there is one already, or the folder cannot be written.
    """
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        raise InputError(
            "this file is there already.", file=str(path), remedy="Choose another name, or remove it."
        ) from None
    except (OSError, ValueError) as error:
        raise InputError(
            f"this file cannot be written: {getattr(error, 'strerror', None) or error}.",
            file=str(path),
            remedy="Choose another place.",
        ) from error
    return path
