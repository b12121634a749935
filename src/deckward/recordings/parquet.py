"""Reading Parquet."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterator
from contextlib import contextmanager

import numpy as np

from deckward.recordings.cells import Cells, Table, no_rows, not_too_wide
from deckward.recordings.columns import FileOptions
from deckward.recordings.content import Content

_MAGIC = b"PAR1"


class Parquet:
    """Apache Parquet files, with the types their columns have."""

    name = "parquet"

    def guess_can_open(self, head: bytes, name: str) -> bool:
        """Tell by its first bytes whether this is a Parquet file; never raises."""
        return head.startswith(_MAGIC)

    def open(self, content: Content, options: FileOptions) -> Table:
        """Open a Parquet file; only the columns asked for are read.

        Raises:
            InputError: the file is damaged or has no rows.
        """
        import polars as pl

        source = content.source()
        # on some damage the library stops in a panic, which is no Exception, and tells of it by itself
        broken = (pl.exceptions.PolarsError, pl.exceptions.PanicException, OSError, ValueError)
        try:
            with _hushed():
                names = tuple(pl.read_parquet_schema(source))
        except broken as error:
            raise _damaged(content, error) from None
        not_too_wide(content, names)

        def load(numbers: Collection[int], texts: Collection[int]) -> Cells:
            columns = {}
            rows = 0
            for i in {*numbers, *texts}:
                try:
                    with _hushed():
                        series = pl.read_parquet(source, columns=[names[i]]).to_series()
                except broken as error:
                    raise _damaged(content, error) from None
                rows = len(series)
                # out of the table library's memory at once, so that only one column is in both
                columns[i] = np.array(series.to_numpy()) if series.dtype == pl.Float64 else series
            if not rows:
                raise no_rows(content)
            return Cells(content, columns, rows, line_word="row")

        return Table(names, load)


@contextmanager
def _hushed() -> Iterator[None]:
    """Keep what compiled code writes past Python to standard error off the screen."""
    try:
        kept = os.dup(2)
    except OSError:  # standard error is closed
        yield
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 2)
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)
        os.close(nowhere)


def _damaged(content: Content, error: BaseException):
    reason = str(error).strip().splitlines()[0] if str(error).strip() else type(error).__name__
    return content.error(f"is a damaged Parquet file ({reason}).", remedy="Copy or export it again.")
