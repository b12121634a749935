"""The formats that recordings come in, found by entry point.

A format is a class without arguments under the entry point group
``deckward.recordings``. Our own are registered there too, and known here by name, so
that reading them does not wait for a search through all that is installed.
"""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import Protocol

from deckward.recordings.cells import Table
from deckward.recordings.columns import FileOptions
from deckward.recordings.content import Content

GROUP = "deckward.recordings"
#: name -> module:class, as in the project's entry points; asked in this order
OWN = {
    "parquet": "deckward.recordings.parquet:Parquet",
    "json-lines": "deckward.recordings.json_lines:JsonLines",
    "dis": "deckward.recordings.dis:Dis",
    "csv": "deckward.recordings.delimited:Delimited",
}


#: endings that say nearly for sure which of our own it is, and how its text does not begin
_LIKELY = {".csv": "csv", ".tsv": "csv", ".txt": "csv"}
_OTHERWISE = (b"{", b"[", b"PAR1")


class Format(Protocol):
    """A format that recordings may come in."""

    name: str

    def guess_can_open(self, head: bytes, name: str) -> bool:
        """Tell cheaply by the first bytes and the file's name; never raises."""

    def open(self, content: Content, options: FileOptions) -> Table:
        """Open the file; raises InputError with file, place and remedy where it cannot."""


def _own(name: str) -> Format:
    module, _, attribute = OWN[name].partition(":")
    return getattr(import_module(module), attribute)()


def find_format(content: Content) -> Format:
    """Find the format that can open a file: our own first, then those of other packages.

    Raises:
        InputError: none can.
    """
    likely = _LIKELY.get(Path(content.name).suffix.casefold())
    first = [likely] if likely and not content.head.lstrip().startswith(_OTHERWISE) else []
    for name in dict.fromkeys([*first, *OWN]):
        own = _own(name)
        if own.guess_can_open(content.head, content.name):
            return own
    from importlib.metadata import entry_points

    for entry in entry_points(group=GROUP):
        if entry.name in OWN:
            continue
        other = entry.load()()
        if other.guess_can_open(content.head, content.name):
            return other
    raise content.unreadable()
