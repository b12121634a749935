"""The documents that come with the package, and the rule that finds one by name or path."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from msgspec import Struct

from deckward.errors import InputError
from deckward.foundation import documents
from deckward.foundation.documents import Problem, T


class Shelf(Struct, frozen=True):
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
        known = self.name_of(name)
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
        known = self.name_of(written)
        if known is not None:
            return self.source(known), f"{known}.toml (bundled)"
        if not written.strip() or not _exists(written):
            raise self._unknown(written)
        return documents.read_text(name_or_path), written

    def load(
        self,
        name_or_path: str | Path,
        shape: type[T],
        *,
        check: Callable[[T], Iterable[Problem]] | None = None,
    ) -> T:
        """Read a document by its bundled name or from a file; see :func:`documents.parse`.

        Raises:
            InputError: no such document, or one that is not valid.
        """
        text, file = self.find(name_or_path)
        return documents.parse(text, shape, file=file, check=check)

    def name_of(self, name_or_path: str | Path) -> str | None:
        """Return the bundled name that :meth:`find` would take, or None for a path.

        Case and spaces do not matter: ``Grey Heron`` is ``grey-heron``.
        """
        wanted = "-".join(str(name_or_path).casefold().split())
        return wanted if wanted in self.names() else None

    def _unknown(self, name: str) -> InputError:
        names = self.names()
        guess = documents.nearest(name.removesuffix(".toml"), names)
        hint = f"Did you mean {guess!r}? " if guess else ""
        return InputError(
            f"there is no {self.what} and no file of the name '{documents.clip(name, 200)}'.",
            place=self.option,
            remedy=f"{hint}Bundled: {', '.join(names)}. For a file of your own give its path.",
        )


def _exists(path: str) -> bool:
    try:
        return Path(path).exists()
    except (OSError, ValueError):
        return False
