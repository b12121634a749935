"""A card for the knee: a few large numbers, a drawing, tables, and what to know."""

from __future__ import annotations

from msgspec import Struct

from deckward.errors import Note
from deckward.foundation.units import from_si
from deckward.planning.answer import Limit, Says
from deckward.reports.svg import Drawing
from deckward.reports.words import MINUS, NOTHING


class Figure(Struct, frozen=True):
    """A large number: what it is, the number, its unit, and a word beside it."""

    what: str
    value: str
    unit: str = ""
    remark: str = ""


class Table(Struct, frozen=True):
    """A small table; rows whose number is in ``marked`` are set apart (and say why in words)."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    marked: frozenset[int] = frozenset()


class Card(Struct, frozen=True):
    """One card. ``verdict`` is its answer in one line; ``ok`` whether every limit is kept."""

    key: str
    title: str
    by: str
    verdict: str
    ok: bool
    figures: tuple[Figure, ...]
    drawing: Drawing | None
    tables: tuple[Table, ...]
    says: Says

    @property
    def notes(self) -> tuple[Note, ...]:
        """What to know, in order."""
        return self.says.notes


def verdict(said: Says) -> str:
    """Say in one line whether the limits are kept, and what binds."""
    binds = said.binds
    if binds is None:
        return "No limit to keep."
    missed = [limit for limit in said.limits if not limit.kept]
    if not missed:
        return f"All limits kept. Nearest: {_limit(binds)}."
    return "Out of limits: " + "; ".join(_limit(limit) for limit in missed) + "."


def limits(said: Says) -> Table:
    """Set the limits out as a table."""
    rows = tuple(
        (limit.what, number(limit, limit.value), bounds(limit), number(limit, limit.margin), limit.of)
        for limit in said.limits
    )
    marked = frozenset(k for k, limit in enumerate(said.limits) if not limit.kept)
    return Table("Limits", ("", "is", "may be", "in hand", "of"), rows, marked)


def bounds(limit: Limit) -> str:
    """Write what a limit allows."""
    if limit.least is None:
        return f"to {number(limit, limit.greatest)}"
    if limit.greatest is None:
        return f"from {number(limit, limit.least)}"
    return f"{number(limit, limit.least)} to {number(limit, limit.greatest)}"


def number(limit: Limit, value: float | None) -> str:
    """Write a value of a limit in its unit."""
    digits = {"lb": 0, "g": 2}.get(limit.suffix, 1)
    if limit.suffix == "ft" and limit.of == "stack":
        digits = 0
    return f"{plain(value, limit.suffix, digits)} {limit.suffix}"


def _limit(limit: Limit) -> str:
    margin = abs(limit.margin)
    if limit.kept:
        return f"{limit.what}, {number(limit, margin)} in hand"
    short = limit.least is not None and limit.value < limit.least
    return f"{limit.what} {number(limit, margin)} {'short' if short else 'over'} ({limit.of})"


def plain(value: float | None, suffix: str = "", digits: int = 0) -> str:
    """Write an SI value in a unit, without the unit's name."""
    if value is None:
        return NOTHING
    text = f"{float(from_si(value, suffix)):,.{digits}f}"
    if not any(letter in "123456789" for letter in text):
        return text.removeprefix("-")
    return text.replace("-", MINUS)


def rounded(value: float, suffix: str, step: float) -> str:
    """Write an SI value in a unit, rounded to steps of it."""
    return f"{round(float(from_si(value, suffix)) / step) * step:,.0f}"


def signed(value: float, suffix: str, digits: int = 0) -> str:
    """Write an SI value in a unit with its sign."""
    text = plain(value, suffix, digits)
    return text if text.startswith(MINUS) or not any(letter in "123456789" for letter in text) else f"+{text}"
