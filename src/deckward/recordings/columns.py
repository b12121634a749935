"""Which column holds which quantity: by its name, or by a column map."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct, field

from deckward.errors import InputError, Note
from deckward.foundation import units
from deckward.recordings.quantities import (
    GEODETIC,
    LOCAL,
    SHIP_PREFIX,
    Misnamed,
    nearest_quantity,
    spellings,
    split_prefix,
    understand,
    unit_of,
)

IGNORE = "ignore"
_MOST_NAMED = 12


class FileOptions(Struct, frozen=True):
    """How a file is written, where it does not show by itself; None lets the reader find out.

    ``header_lines`` counts the lines up to and with the one that names the columns.
    ``time_format`` is a strftime pattern for a time written as text. ``rate_hz`` is how many
    rows a second there are in a file without a column of time. ``named`` are craft that the user asks
    for: a reader that leaves out what is no aircraft or ship keeps these.
    """

    delimiter: str | None = None
    decimal: str | None = None
    encoding: str | None = None
    header_lines: int | None = None
    time_format: str | None = None
    rate_hz: float | None = None
    named: tuple[str, ...] = ()


class Rule(Struct, frozen=True):
    """One ``[[column]]`` of a column map: what the column ``source`` holds.

    ``quantity`` may carry the ship's prefix, or be ``ignore``. ``unit`` is a suffix of
    the edge, None for a quantity without one. ``sign`` is -1 where the column counts
    the other way.
    """

    source: str
    quantity: str
    unit: str | None = None
    sign: int = 1
    confidence: float | None = None
    why: str | None = None
    asked: bool = False


class ColumnMap(Struct, frozen=True):
    """A column map; ``path`` is where it was read from, for messages."""

    columns: tuple[Rule, ...] = ()
    file: FileOptions = field(default_factory=FileOptions)
    path: str | None = None


class Column(Struct, frozen=True):
    """A column to be read: its place in the file, and what turns it into SI."""

    index: int
    source: str
    ship: bool
    quantity: str
    unit: units.Unit | None
    sign: int = 1

    @property
    def key(self) -> str:
        """The quantity with the ship's prefix where it is the ship's."""
        return (SHIP_PREFIX if self.ship else "") + self.quantity


class Plan(Struct, frozen=True):
    """The columns of a file that are read, and what is said of the others."""

    columns: tuple[Column, ...]
    notes: tuple[Note, ...]

    def of(self, *, ship: bool) -> dict[str, Column]:
        """Give the columns of one craft by quantity."""
        return {column.quantity: column for column in self.columns if column.ship == ship}


def plan_columns(names: Sequence[str], column_map: ColumnMap | None = None) -> Plan:
    """Decide what each column of a file holds: the map's word first, then its name.

    Columns that nobody knows are left out with one note; so are columns whose unit is
    missing or of another dimension, with what to write instead.

    Raises:
        InputError: two columns for one quantity; without the file's name, the caller adds it.
    """
    rules = {rule.source: rule for rule in column_map.columns} if column_map else {}
    columns: list[Column] = []
    unknown: list[str] = []
    misnamed: list[str] = []
    notes: list[Note] = []
    for index, name in enumerate(names):
        rule = rules.get(name) or rules.get(plain_name(name))
        if rule is not None:
            if rule.quantity != IGNORE:
                ship, quantity = split_prefix(rule.quantity)
                columns.append(Column(index, name, ship, quantity, unit_of(quantity, rule.unit), rule.sign))
            continue
        meaning = understand(name)
        if meaning is None:
            if name.strip():
                unknown.append(name)
        elif isinstance(meaning, Misnamed):
            misnamed.append(f"{_short(name)} (write {meaning.advice})")
        else:
            columns.append(Column(index, name, meaning.ship, meaning.quantity, meaning.unit))
    _one_column_each(columns)
    if misnamed:
        notes.append(
            Note(
                "columns-without-unit",
                f"Left out for want of a fitting unit: {'; '.join(misnamed[:_MOST_NAMED])}.",
            )
        )
    if unknown:
        notes.append(Note("columns-left-out", f"Columns not understood and left out: {listed(unknown)}."))
    return Plan(_one_position(columns, notes), tuple(notes))


def plain_name(name: str) -> str:
    """Give a column's name as a column map writes it: signs that do not print are blanks."""
    return "".join(sign if sign.isprintable() else " " for sign in name).strip()


def listed(names: Sequence[str]) -> str:
    """Name columns or craft in a message, not more than a dozen."""
    more = len(names) - _MOST_NAMED
    return ", ".join(map(_short, names[:_MOST_NAMED])) + (f" and {more} more" if more > 0 else "")


def _short(name: str) -> str:
    name = name.strip()
    return name if len(name) <= 60 else f"{name[:57]}..."


def _one_column_each(columns: Sequence[Column]) -> None:
    taken: dict[str, Column] = {}
    for column in columns:
        other = taken.setdefault(column.key, column)
        if other is column:
            continue
        if other.source == column.source:
            problem = f"two columns are named {column.source!r}."
        else:
            problem = f"columns {other.source!r} and {column.source!r} both hold {column.key}."
        raise InputError(
            problem,
            place=f"columns {other.index + 1} and {column.index + 1}",
            remedy='Choose: rename or remove one, or set its quantity to "ignore" in a column map (--map).',
        )


def _one_position(columns: Sequence[Column], notes: list[Note]) -> tuple[Column, ...]:
    """Keep one kind of position for each craft: on the earth where it is whole."""
    kept = list(columns)
    for ship in (False, True):
        own = {column.quantity for column in kept if column.ship == ship}
        for whole, other in ((GEODETIC, LOCAL), (LOCAL, GEODETIC)):
            if own.issuperset(whole) and own.intersection(other):
                spare = sorted(own.intersection(other))
                kept = [c for c in kept if c.ship != ship or c.quantity not in spare]
                craft = "the ship's position" if ship else "the position"
                notes.append(
                    Note(
                        "position-twice",
                        f"{', '.join(spare)} not used: {craft} comes from {', '.join(whole)}.",
                    )
                )
                break
    return tuple(kept)


def missing_position(own: Mapping[str, Column]) -> tuple[str, ...]:
    """Name the quantities a position still needs; empty where it is whole."""
    ways = [tuple(q for q in way if q not in own) for way in (GEODETIC, LOCAL)]
    return min(ways, key=len)


def advise_missing(missing: Sequence[str], names: Sequence[str], *, ship: bool) -> str:
    """Say what to write for quantities that no column holds, looking at the names there are."""
    advice = []
    for quantity in missing:
        like = [
            name
            for name in names
            if split_prefix(name.strip().casefold())[0] == ship and nearest_quantity(name) == quantity
        ]
        wanted = spellings(quantity, ship=ship)
        if quantity == "time":
            wanted += f", or {SHIP_PREFIX if ship else ''}time with ISO 8601 or UTC clock times"
        advice.append(
            f"{_short(like[0])!r} looks like {quantity}: name it {wanted}"
            if like
            else f"for {quantity} write {wanted}"
        )
    text = "; ".join(advice)
    return text[:1].upper() + text[1:]
