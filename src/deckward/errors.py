"""What can go wrong, in two kinds.

A broken promise (a file that cannot be used, an unknown key or option) stops
the work: :class:`DeckwardError` and its children. Bad data degrades the result
and says so: :class:`Note`.
"""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import force_setattr


def printable(text: str) -> str:
    """Replace signs of a file that do not print: they could steer the terminal."""
    return "".join(
        sign if sign.isprintable() or sign == "\n" else "\N{REPLACEMENT CHARACTER}" for sign in text
    )


class DeckwardError(Exception):
    """A promise that the input broke; carries the place and the remedy.

    Args:
        problem: what is wrong, in one sentence without the place.
        file: the file it is in, if any.
        place: where in the file: "line 12", "column 'Alt'", "key lens.cells".
        remedy: what the user can do about it.
    """

    exit_code = 2

    def __init__(
        self,
        problem: str,
        *,
        file: str | None = None,
        place: str | None = None,
        remedy: str | None = None,
    ) -> None:
        self.problem = problem
        self.file = file
        self.place = place
        self.remedy = remedy
        super().__init__(self.message())

    def message(self) -> str:
        """Say it in one line: place, problem, remedy."""
        where = ", ".join(part for part in (self.file, self.place) if part)
        text = f"{where}: {self.problem}" if where else self.problem
        gap = "" if text.endswith("\n") else " "
        return printable(f"{text}{gap}{self.remedy}" if self.remedy else text)


class InputError(DeckwardError):
    """A file, a key or an option that cannot be used. Exit 2."""


class NoPassError(DeckwardError):
    """The recording is readable, but there is no pass in it. Exit 3."""

    exit_code = 3


class Note(Struct, frozen=True):
    """Something the reader of a result should know about the data behind it.

    ``code`` is a stable short name (``gap``, ``frozen-values``); ``text`` is
    one sentence for a person.
    """

    code: str
    text: str

    def __post_init__(self) -> None:
        force_setattr(self, "text", printable(self.text))
