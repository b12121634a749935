"""Cards as plain text: for a terminal, a chat, a printer of lines."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from deckward.planning.plan import LeftOut
from deckward.reports.cards.model import Card, Table, limits
from deckward.reports.caution import CAUTION
from deckward.reports.words import MINUS, NOTHING

WIDTH = 78
_PLAIN: dict[str, str | int | None] = {"·": "|", "°": " deg", MINUS: "-", NOTHING: "-", "─": "-"}


def render(cards: Sequence[Card], *, left_out: Sequence[LeftOut] = (), plain: bool = False) -> str:
    """Write cards one after another, lines ended by newlines; ``plain`` keeps to ASCII."""
    parts = [_card(card) for card in cards]
    if left_out:
        parts.append("\n".join(["─" * WIDTH, "NOT PLANNED", "", *_left_out(left_out)]))
    text = "\n\n".join([*parts, textwrap.fill(CAUTION, WIDTH)]) + "\n"
    if plain:
        text = text.translate(str.maketrans(_PLAIN)).encode("ascii", "replace").decode("ascii")
    return text


def _left_out(left_out: Sequence[LeftOut]) -> Iterator[str]:
    """Say what is missing, once for all the cards that miss it."""
    cards: dict[str, list[str]] = {}
    for one in left_out:
        cards.setdefault(str(one.why), []).append(one.card)
    for why, names in cards.items():
        text = f"{', '.join(names)}: {why}"
        yield textwrap.fill(text, WIDTH, initial_indent="  - ", subsequent_indent="    ")


def _card(card: Card) -> str:
    lines = ["─" * WIDTH, f"{card.title.upper()}   {card.by}", "", textwrap.fill(card.verdict, WIDTH), ""]
    label = max(len(figure.what) for figure in card.figures) + 2
    for figure in card.figures:
        parts = (figure.value, figure.unit, figure.remark and f"({figure.remark})")
        lines.append(f"  {figure.what:<{label}}{' '.join(part for part in parts if part)}")
    for table in (*card.tables, limits(card.says)):
        lines += ["", table.title, *_table(table)]
    lines += ["", "To know"]
    for note in card.notes:
        lines.append(textwrap.fill(note.text, WIDTH, initial_indent="  - ", subsequent_indent="    "))
    lines += ["", "Worked out from"]
    wide = max(len(one.what) for one in card.says.inputs) + 2
    for one in card.says.inputs:
        lines.append(
            textwrap.fill(
                one.text, WIDTH, initial_indent=f"  {one.what:<{wide}}", subsequent_indent=" " * (wide + 2)
            )
        )
    return "\n".join(line.rstrip() for line in lines)


def _table(table: Table) -> list[str]:
    rows = [table.head, *table.rows] if any(table.head) else list(table.rows)
    widths = [max(len(row[k]) for row in rows) for k in range(len(table.head))]
    lines = []
    for number, row in enumerate(rows):
        cells = [
            f"{cell:<{width}}" if k == 0 or not _is_number(table, k) else f"{cell:>{width}}"
            for k, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        mark = "!" if any(table.head) and number - 1 in table.marked else " "
        lines.append(f"{mark} {'  '.join(cells)}".rstrip())
    return lines


def _is_number(table: Table, column: int) -> bool:
    """Whether every cell of a column begins like a number."""
    return all(not row[column] or row[column][0] in f"+-{MINUS}0123456789{NOTHING}" for row in table.rows)
