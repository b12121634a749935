"""A file as it lies on the disk: is it there, what does it begin with, is it packed."""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from pathlib import Path

from deckward.errors import InputError

#: bytes that readers are shown to say whether they can open a file
HEAD = 1 << 16
#: the most that a packed file may unpack to
MOST_UNPACKED = 1 << 30
#: the most that a byte of a packed file may unpack to, beyond the first few megabytes
_MOST_RATIO = 200
_FREE_OF_RATIO = 64 << 20
_CHUNK = 1 << 20

_KNOWN_BY_START = (
    (b"PK\x03\x04", "a zip archive or spreadsheet", "Unpack it, or save the sheet as CSV."),
    (b"\x28\xb5\x2f\xfd", "packed with zstd", "Unpack it first."),
    (b"BZh", "packed with bzip2", "Unpack it first."),
    (b"\xfd7zXZ\x00", "packed with xz", "Unpack it first."),
    (b"7z\xbc\xaf\x27\x1c", "a 7z archive", "Unpack it first."),
    (b"Rar!", "a RAR archive", "Unpack it first."),
    (b"\x89HDF", "an HDF5 file", "Export it as CSV or Parquet."),
    (b"SQLite format 3", "an SQLite database", "Export the table as CSV."),
    (b"%PDF", "a PDF", "Give the recording itself."),
    (b"\xd0\xcf\x11\xe0", "an old spreadsheet", "Save the sheet as CSV."),
    (b"\x89PNG", "a picture", "Give the recording itself."),
    (b"<", "a page of HTML or XML", "Give the recording itself."),
)


def foreign(head: bytes) -> tuple[str, str] | None:
    """Name what a file that begins so is instead of a recording, and what to do; None if unknown."""
    start = head.lstrip()
    return next(((what, remedy) for mark, what, remedy in _KNOWN_BY_START if start.startswith(mark)), None)


class Content:
    """A recording's bytes, unpacked where they were packed with gzip.

    ``head`` holds the first bytes. ``file`` is the path as the user wrote it. ``cut``
    turns true in :meth:`read` where packed data end too early.

    Raises:
        InputError: there is no such file, it cannot be read, or it is empty.
    """

    cut = False

    def __init__(self, path: str | Path) -> None:
        self.path = Path(path)
        self.file = str(path)
        self._check()
        try:
            with self.path.open("rb") as stream:
                start = stream.read(HEAD)
        except OSError as error:
            raise self.error(f"cannot be read: {error.strerror}.") from None
        if not start:
            raise self.error("is empty.", remedy="Record again, or give another file.")
        self.packed = start[:2] == b"\x1f\x8b"
        self.head = next(self._unpacked(HEAD), b"")[:HEAD] if self.packed else start
        if not self.head:
            raise self.error("is packed with gzip and holds nothing.", remedy="Record again.")

    @property
    def name(self) -> str:
        """The file's name without what only says that it is packed."""
        name = self.path.name
        return name[:-3] if name.casefold().endswith(".gz") else name

    @property
    def stem(self) -> str:
        """The file's name without any ending, the craft's name where the file gives none."""
        return self.name.split(".")[0] or self.name

    def source(self) -> Path | bytes:
        """Give what a reader reads: the path, or the bytes where they had to be unpacked."""
        return self.read() if self.packed else self.path

    def read(self) -> bytes:
        """Give all the bytes, unpacked.

        Raises:
            InputError: the packed data are damaged, or unpack to more than they should.
            Data that end too early (a recorder that was stopped) are given as far as they go.
        """
        return b"".join(self.pieces(_CHUNK)) if self.packed else self.path.read_bytes()

    def pieces(self, size: int) -> Iterator[bytes]:
        """Give all the bytes, unpacked, about ``size`` at a time; raises as :meth:`read` does."""
        if self.packed:
            yield from self._unpacked(size)
            return
        with self.path.open("rb") as stream:
            while piece := stream.read(size):
                yield piece

    def error(self, problem: str, *, place: str | None = None, remedy: str | None = None) -> InputError:
        """Make an error that names this file."""
        return InputError(problem, file=self.file, place=place, remedy=remedy)

    def unreadable(self) -> InputError:
        """Say what this file seems to be, where no reader can open it."""
        known = foreign(self.head)
        if known is not None:
            return self.error(f"is no recording but {known[0]}.", remedy=known[1])
        return self.error(
            "is no recording that can be read.",
            remedy="Recordings are CSV, Parquet or JSON lines (plain or gzip), or DIS captures.",
        )

    def _check(self) -> None:
        try:
            if self.path.is_dir():
                raise self.error("is a folder.", remedy="Give the recording in it.")
            if not self.path.exists():
                raise self.error("there is no such file.", remedy=self._look_alike())
            if not self.path.is_file():
                raise self.error("is not a regular file.", remedy="Give a recording on the disk.")
        except (OSError, ValueError) as error:
            raise self.error(f"cannot be read: {error}.") from None

    def _look_alike(self) -> str:
        from deckward.foundation.documents import nearest

        try:
            like = nearest(self.path.name, [entry.name for entry in self.path.parent.iterdir()])
        except OSError:
            return "The folder does not exist either."
        return f"Did you mean {like!r}?" if like else "Check the path."

    def _unpacked(self, size: int) -> Iterator[bytes]:
        """Unpack piece by piece, a gzip file of several members too."""
        limit = max(_FREE_OF_RATIO, min(MOST_UNPACKED, _MOST_RATIO * self.path.stat().st_size))
        unpack = zlib.decompressobj(wbits=31)
        total = 0
        with self.path.open("rb") as stream:
            packed = stream.read(_CHUNK)
            while packed:
                try:
                    piece = unpack.decompress(packed, size)
                except zlib.error:
                    raise self.error(
                        f"its gzip data are damaged after {total} bytes of text.",
                        remedy="Copy it again from where it came from.",
                    ) from None
                total += len(piece)
                if total > limit:
                    raise self.error(
                        f"unpacks to more than {limit >> 20} MiB.",
                        remedy="If it is a recording, unpack it and cut it into parts.",
                    )
                if piece:
                    yield piece
                packed = unpack.unconsumed_tail
                if unpack.eof:
                    packed = unpack.unused_data.lstrip(b"\0")
                    unpack = zlib.decompressobj(wbits=31)
                    if not packed:
                        packed = stream.read(_CHUNK).lstrip(b"\0")
                        if not packed:
                            return
                elif not packed:
                    packed = stream.read(_CHUNK)
        self.cut = True
        if not total:
            raise self.error(
                "its gzip data end before any text.", remedy="Copy it again from where it came from."
            )
