"""The documents that come with the package, and the rule that finds one by name or path."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from deckward.errors import InputError
from deckward.foundation import documents


@dataclass(frozen=True)
class Shelf:
    """A folder of bundled TOML files of one kind; a file's stem is its name.

    ``what`` names the kind in messages ("site"), ``option`` the option that takes one
    ("--site").
    """

    what: str
    option: str
    folder: Path

    def names(self) -> tuple[str, ...]:
        """List the bundled names in alphabetical order."""
        return tuple(sorted(path.stem for path in self.folder.glob("*.toml")))

    def source(self, name: str) -> str:
        """Return the TOML text of a bundled document.

        Raises:
            InputError: no such name.
        """
        known = self._bundled(name)
        if known is None:
            raise self._unknown(name)
        return (self.folder / f"{known}.toml").read_text(encoding="utf-8")

    def find(self, name_or_path: str | Path) -> tuple[str, str]:
        """Return the TOML text and the file name to show in messages.

        A bundled name wins; anything else is a path (``./name`` for a file called like a
        bundled one).

        Raises:
            InputError: neither a bundled name nor a file.
        """
        written = str(name_or_path)
        known = self._bundled(written)
        if known is not None:
            return self.source(known), f"{known}.toml (bundled)"
        looks_like_a_path = written.endswith(".toml") or "/" in written or "\\" in written
        if not looks_like_a_path and not _exists(written):
            raise self._unknown(written)
        return documents.read_text(name_or_path), written

    def is_bundled(self, name_or_path: str | Path) -> bool:
        """Whether :meth:`find` would take a bundled document."""
        return self._bundled(str(name_or_path)) is not None

    def _bundled(self, name: str) -> str | None:
        wanted = "-".join(name.casefold().split())
        return wanted if wanted in self.names() else None

    def _unknown(self, name: str) -> InputError:
        names = self.names()
        guess = documents.nearest(name, names)
        hint = f"Did you mean {guess!r}? " if guess else ""
        return InputError(
            f"there is no {self.what} and no file of the name '{name[:80]}'.",
            place=self.option,
            remedy=f"{hint}Bundled: {', '.join(names)}. For a file of your own give its path.",
        )


def _exists(path: str) -> bool:
    try:
        return Path(path).exists()
    except (OSError, ValueError):
        return False
