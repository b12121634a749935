"""Reading JSON: one object a line, or one array of objects."""

from __future__ import annotations

import io
import json
import math
from collections.abc import Iterator
from typing import Any

import numpy as np

from deckward.errors import Note
from deckward.recordings.cells import Table, from_frame, no_rows, not_too_wide
from deckward.recordings.columns import FileOptions
from deckward.recordings.content import Content

#: levels of objects in objects, and longest lists, that are read as columns of their own
_DEEPEST = 6
_LONGEST_LIST = 4


class JsonLines:
    """JSON lines, a JSON array of objects, or one object that holds such an array.

    Objects in objects become columns with a dotted name: ``craft.pitch``.
    """

    name = "json-lines"

    def guess_can_open(self, head: bytes, name: str) -> bool:
        """Tell by its first character whether this is JSON; never raises."""
        return head.removeprefix(b"\xef\xbb\xbf").lstrip()[:1] in (b"{", b"[")

    def open(self, content: Content, options: FileOptions) -> Table:
        """Open JSON lines or a JSON array of objects.

        A few lines that hold no object are left out with a note.

        Raises:
            InputError: it is no JSON, or holds no objects.
        """
        import polars as pl

        data = content.read().removeprefix(b"\xef\xbb\xbf")
        if data.lstrip()[:1] == b"[":
            return from_frame(content, _frame(content, _array(content, data)))
        try:
            frame = pl.read_ndjson(io.BytesIO(data), infer_schema_length=None)
        except pl.exceptions.PolarsError:
            rows = _in_one_object(data)
            return (
                _line_by_line(content, data) if rows is None else from_frame(content, _frame(content, rows))
            )
        if not frame.height:
            raise no_rows(content)
        if any(dtype.is_nested() for dtype in frame.dtypes):
            return _nested(content, data, frame)
        return from_frame(content, frame, line_word="row")


def _nested(content: Content, data: bytes, frame) -> Table:
    """Read objects in objects; a single object that holds the array of samples too."""
    if frame.height == 1:
        rows = _in_one_object(data)
        if rows is not None:
            return from_frame(content, _frame(content, rows))
    return _line_by_line(content, data)


def _in_one_object(data: bytes) -> list[dict[str, Any]] | None:
    try:
        return inner_rows(json.loads(data))
    except (ValueError, RecursionError):
        return None


def inner_rows(whole: Any) -> list[dict[str, Any]] | None:
    """Give the samples that one object holds: its only list of objects, or its lists side by side."""
    if not isinstance(whole, dict):
        return None
    lists = {name: value for name, value in whole.items() if isinstance(value, list) and value}
    objects = [value for value in lists.values() if all(isinstance(row, dict) for row in value)]
    if len(objects) == 1 and len(objects[0]) > 1:
        return objects[0]
    even = {len(value) for value in lists.values()}
    if len(lists) > 2 and len(even) == 1 and even.pop() > _LONGEST_LIST and not objects:
        return [dict(zip(lists, row, strict=True)) for row in zip(*lists.values(), strict=True)]
    return None


def flat(row: dict[str, Any], before: str = "", deep: int = 0) -> dict[str, Any]:
    """Bring objects in objects, and short lists, into one level with dotted names.

    >>> flat({"t": 1.0, "craft": {"pitch": 2.0, "at": [3.0, 4.0]}})
    {'t': 1.0, 'craft.pitch': 2.0, 'craft.at.0': 3.0, 'craft.at.1': 4.0}
    """
    level: dict[str, Any] = {}
    for name, value in row.items():
        if isinstance(value, list) and 1 < len(value) <= _LONGEST_LIST:
            value = {str(place): item for place, item in enumerate(value)}
        if isinstance(value, dict) and value and deep < _DEEPEST:
            level |= flat(value, f"{before}{name}.", deep + 1)
        else:
            level[_whole(before + name)] = _whole(value) if isinstance(value, str) else value
    return level


def _array(content: Content, data: bytes) -> list[dict[str, Any]]:
    try:
        rows = json.loads(data)
    except (ValueError, RecursionError) as error:
        raise content.error(
            f"is no whole JSON array: {error}.", remedy="Write one object a line, or an array of objects."
        ) from None
    objects = [row for row in rows if isinstance(row, dict)]
    if len(objects) < len(rows):
        raise content.error(
            f"element {next(i for i, row in enumerate(rows) if not isinstance(row, dict)) + 1} is no object.",
            remedy='Each row must be an object such as {"time_s": 0.0, ...}.',
        )
    return objects


def _line_by_line(content: Content, data: bytes) -> Table:
    """Read lines one by one, for files that the fast reader refuses: NaN, broken lines."""
    rows: list[dict[str, Any]] = []
    lines: list[int] = []
    bad: list[int] = []
    for number, line in _numbered(data):
        try:
            row = json.loads(line)
        except (ValueError, RecursionError):
            row = None
        if isinstance(row, dict):
            rows.append(row)
            lines.append(number)
        else:
            bad.append(number)
    if len(bad) > len(rows):
        shown = data.splitlines()[bad[0] - 1][:40].decode("utf-8", "replace")
        raise content.error(
            f"holds no JSON object: {shown!r} ({len(bad)} of {len(bad) + len(rows)} lines hold none).",
            place=f"line {bad[0]}",
            remedy='Write one object a line, such as {"time_s": 0.0, ...}.',
        )
    notes = []
    if bad:
        count = "1 line holds" if len(bad) == 1 else f"{len(bad)} lines hold"
        left = "was" if len(bad) == 1 else "were"
        notes.append(
            Note("unreadable-lines", f"{count} no JSON object and {left} left out, first line {bad[0]}.")
        )
    return from_frame(content, _frame(content, rows), line_word="line", lines=np.asarray(lines), notes=notes)


def _numbered(data: bytes) -> Iterator[tuple[int, bytes]]:
    return ((number, line) for number, line in enumerate(data.splitlines(), start=1) if line.strip())


def _frame(content: Content, rows: list[dict[str, Any]]):
    """Make a frame of objects, numbers where a column holds only numbers, text elsewhere."""
    import polars as pl

    if not rows:
        raise no_rows(content)
    rows = [flat(row) for row in rows]
    names: dict[str, None] = {}
    for row in rows:
        names.update(dict.fromkeys(row))
    not_too_wide(content, names)
    return pl.DataFrame([_series(name, [row.get(name) for row in rows]) for name in names])


def _series(name: str, values: list[Any]):
    import polars as pl

    if all(value is None or isinstance(value, (int, float)) for value in values):
        return pl.Series(name, [None if v is None else as_float(v) for v in values], dtype=pl.Float64)
    return pl.Series(
        name,
        [v if v is None or isinstance(v, str) else json.dumps(v) for v in values],
        dtype=pl.String,
    )


def as_float(number: float) -> float:
    """Give a number as a float; a whole number past all floats is infinite."""
    try:
        return float(number)
    except OverflowError:
        return math.inf if number > 0 else -math.inf


def _whole(text: str) -> str:
    """Replace halves of signs, which JSON may name and which no text may hold."""
    return text if text.isascii() else text.encode("utf-8", "replace").decode("utf-8")
