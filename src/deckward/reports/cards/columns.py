"""Where the tables of a card stand: side by side where that is lower and both are narrow enough."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from deckward.reports import typeface
from deckward.reports.cards.model import Table

#: a kneeboard card between its margins, and between two columns, points
WIDTH, GUTTER = 125.7 / 25.4 * 72.0, 12.0
#: the sheet's type and spaces, points at the usual size: cells, heads and titles, insets, between tables
_CELL, _HEAD, _TITLE = 7.8, 6.6, 7.4
_FIRST, _NEXT = 3.0, 6.5
_APART = 6.0
_ROW = _CELL + 4.2
#: how many tables are looked at together
_MOST = 6


def arrange(tables: Sequence[Table], size: float) -> list[list[dict[str, Any]]]:
    """Put a card's tables in rows of one or two columns, for type of a size against the usual.

    Of all runs of tables and all ways to part them the one is taken that saves most height; in
    a column they keep their order. Each column has its ``tables`` by number and its ``width``,
    points.
    """
    out: list[list[dict[str, Any]]] = []
    widths = [size * _width(one) for one in tables]
    heights = [size * _height(one) for one in tables]
    first = 0
    while first < len(tables):
        found = _best(widths, heights, first, GUTTER * size)
        if found is None:
            out.append([{"tables": [first], "width": WIDTH}])
            first += 1
            continue
        left, right = found
        needs = [max(widths[k] for k in part) for part in found]
        spare = (WIDTH - GUTTER * size - sum(needs)) / 2.0
        out.append(
            [{"tables": part, "width": need + spare} for part, need in zip((left, right), needs, strict=True)]
        )
        first = max(*left, *right) + 1
    return out


def whole(tables: Sequence[Table], size: float, rows: Sequence[Sequence[Mapping[str, Any]]]) -> list[bool]:
    """Tell of each table whether all its cells stand unbroken in the width that ``arrange`` gave it."""
    room = {}
    for row in rows:
        share = (WIDTH - GUTTER * size * (len(row) - 1)) / sum(one["width"] for one in row)
        room.update({k: share * one["width"] for one in row for k in one["tables"]})
    return [size * _width(one) < 0.98 * room[k] for k, one in enumerate(tables)]


def _best(
    widths: Sequence[float], heights: Sequence[float], first: int, gutter: float
) -> tuple[list[int], list[int]] | None:
    """Find the two columns that save most height from a table on, which stands on the left."""
    best: tuple[float, list[int], list[int]] | None = None
    for end in range(first + 2, min(len(widths), first + _MOST) + 1):
        run = range(first, end)
        for way in range(1, 2 ** len(run) - 1, 2):
            left = [k for k in run if way >> (k - first) & 1]
            right = [k for k in run if not way >> (k - first) & 1]
            if max(widths[k] for k in left) + max(widths[k] for k in right) + gutter > WIDTH:
                continue
            tall = [sum(heights[k] for k in part) for part in (left, right)]
            saved = sum(tall) - max(tall)
            # a table that saves nothing stands by itself
            if best is None or saved > best[0] + 1.0:
                best = saved, left, right
    return None if best is None else best[1:]


def _height(table: Table) -> float:
    head = _HEAD + 4.2 if any(table.head) else 0.0
    return _APART + _TITLE + head + _ROW * len(table.rows)


@lru_cache(maxsize=64)
def _width(table: Table) -> float:
    """Return how wide a table is at the usual size, points."""
    total = 0.0
    for k, head in enumerate(table.head):
        cells = [
            typeface.width(row[k], _CELL, bold=k == 0 or number in table.marked)
            for number, row in enumerate(table.rows)
        ]
        total += max([typeface.width(head, _HEAD), *cells]) + (_FIRST if k == 0 else _NEXT)
    return max(total, typeface.width(table.title, _TITLE, bold=True))
