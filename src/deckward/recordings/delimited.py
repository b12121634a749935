"""Reading delimited text: CSV and its relatives.

A well-formed file goes straight to the table library with the types we want. A file
that is not (uneven rows, cells that are no numbers, foreign line ends) is read again as
text, line by line, so that what is wrong can be told by line.
"""

from __future__ import annotations

import codecs
import io
import re
from collections.abc import Collection, Iterable, Iterator, Sequence

import numpy as np
from msgspec import Struct

from deckward.errors import InputError, Note
from deckward.recordings.cells import WITH_UNIT, Cells, Table, no_rows, not_too_wide
from deckward.recordings.columns import FileOptions, UnknownColumns
from deckward.recordings.content import HEAD, Content, foreign
from deckward.recordings.quantities import Meaning, understand
from deckward.recordings.shape import (
    COMMENT,
    DELIMITERS,
    find_shape,
    is_value,
    rate_said,
    split_line,
    tick_said,
    told_apart,
    uncommented,
    units_under,
)

#: lines at the top of a file among which the names of the columns are looked for
_LINES_BEFORE_NAMES = 50
#: names of ours in a line that leave no doubt that it names the columns
_SURELY_NAMES = 3
#: one byte a letter: western Europe, where nothing tells; central Europe, Cyrillic, Greek, Turkish
_CODE_PAGES = ("cp1252", "cp1250", "cp1251", "cp1253", "cp1254")
#: bytes read at a time
_CHUNK = 4 << 20
#: bytes that text does not hold
_BINARY = bytes(c for c in range(32) if c not in b"\t\n\r\f\v\x1b")


class Layout(Struct, frozen=True):
    """How a delimited file is written.

    ``header`` is the index of the line that names the columns, ``body`` the byte after
    it. ``units`` is the index of a line of units under it, whose cells are in ``unit_row``.
    ``plain`` is false where the fast reader would misread it.
    """

    names: tuple[str, ...]
    header: int
    body: int
    delimiter: str
    decimal_comma: bool
    encoding: str
    first_row: tuple[str, ...]
    plain: bool
    units: int | None = None
    unit_row: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()
    #: the word for the group that stands over each column, where a line of them does
    groups: tuple[str, ...] = ()
    #: rows a second that a remark speaks of, and seconds in a tick
    rate_said: float | None = None
    tick_said: float | None = None

    @property
    def last_above(self) -> int:
        """Index of the last line above the samples."""
        return self.header if self.units is None else self.units


class Headless(UnknownColumns):
    """A table holds samples where the names of its columns should be. Exit 2."""


class Delimited:
    """CSV, also with semicolons, tabs, bars or blanks, in any common encoding."""

    name = "csv"

    def guess_can_open(self, head: bytes, name: str) -> bool:
        """Tell whether the first bytes are text that is not some other format's; never raises."""
        if head.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
            return True
        text = head.rstrip(b"\0")
        zeros = text.count(b"\0")
        clean = len(text.translate(None, _BINARY)) + zeros == len(text)
        return bool(text) and clean and zeros * 100 < len(text) and foreign(head) is None

    def open(self, content: Content, options: FileOptions) -> Table:
        """Open delimited text.

        Raises:
            InputError: no line names columns, or there are no rows under it.
        """
        layout = find_layout(content, options)

        def load(numbers: Collection[int], texts: Collection[int]) -> Cells:
            cells = _load_fast(content, layout, numbers, texts) if layout.plain else None
            return cells or _load_carefully(content, layout, numbers, texts)

        return Table(layout.names, load)


def _is_unit(cell: str) -> bool:
    from deckward.recordings.recogniser.names import is_unit

    return is_unit(cell)


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return "_" not in cell


def _known(cells: Iterable[str]) -> int:
    return sum(isinstance(understand(cell), Meaning) for cell in cells)


def _encoding(content: Content, options: FileOptions) -> str:
    head = content.head
    if options.encoding is not None:
        try:
            return codecs.lookup(options.encoding).name
        except LookupError:
            raise content.error(
                f"unknown encoding {options.encoding!r}.",
                place="key file.encoding of the column map",
                remedy='For example "utf-8" or "cp1252".',
            ) from None
    if head.startswith(codecs.BOM_UTF8):
        return "utf-8-sig"
    if head.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return "utf-16"
    try:
        codecs.getincrementaldecoder("utf-8")().decode(head)
    except UnicodeDecodeError:
        return _code_page(head)
    return "utf-8"


def _code_page(head: bytes) -> str:
    """Take the code page of Europe in which the top of a file has most words that name something."""
    from deckward.recordings.recogniser.names import known_words

    top = b"\n".join(head.splitlines()[:_LINES_BEFORE_NAMES])
    return max(_CODE_PAGES, key=lambda page: known_words(top.decode(page, "replace")))


def find_layout(content: Content, options: FileOptions) -> Layout:
    """Find out how a delimited file is written.

    Raises:
        InputError: no line names columns.
    """
    encoding = _encoding(content, options)
    text = codecs.getincrementaldecoder(encoding)("replace").decode(content.head)
    if encoding == "utf-8":
        text = text.removeprefix("\ufeff")
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if len(lines) < 2 and len(content.head) >= HEAD:
        raise content.error(
            f"its first line is longer than {HEAD >> 10} KiB.",
            place="line 1",
            remedy="A recording has one line for each sample.",
        )
    header, delimiter = _find_header(content, lines, options)
    names = split_line(uncommented(lines[header]), delimiter)
    units = units_under(lines, header, delimiter, _is_unit)
    body = header if units is None else units
    following = [line for line in lines[body + 1 :] if line.strip() and not line.startswith(COMMENT)]
    first_row = split_line(following[0], delimiter) if following else []
    if options.header_lines == 0:
        names = [f"column {place}" for place in range(1, len(first_row) + 1)]
        units = None
    elif names and _all_values(names):
        raise Headless(
            "holds numbers where the names of the columns should be.",
            file=content.file,
            place=f"line {header + 1}",
            remedy="Put a line with names such as time_s,latitude_deg,... above the numbers, or let deckward "
            "columns tell what they are and keep its column map (header_lines = 0).",
        )
    if len(first_row) == len(names) + 1 and not first_row[-1]:
        names.append("")
    elif len(first_row) == len(names) - 1 and not names[-1]:
        names.pop()
    decimal_comma = options.decimal == "," or (options.decimal is None and _has_decimal_comma(first_row))
    newlines = content.head.count(b"\n")
    above = [line for line in lines[:header] if line.strip() and not line.startswith((*COMMENT, "sep="))]
    remarks = [each for each in lines[:_LINES_BEFORE_NAMES] if each.startswith(COMMENT)]
    notes = []
    if above and options.header_lines is None:
        count = f"{len(above)} line" + ("s" if len(above) > 1 else "")
        notes.append(
            Note("lines-above-names", f"{count} above the column names (line {header + 1}) not read.")
        )
    if units is not None:
        notes.append(
            Note("line-of-words", f"Line {units + 1} holds no number but units; not read as a sample.")
        )
    not_too_wide(content, names)
    groups = _groups(lines[:header], len(names), delimiter) if len(set(names)) < len(names) else []
    return Layout(
        names=told_apart(names, groups),
        header=header,
        body=_end_of_line(content.head, body),
        delimiter=delimiter,
        decimal_comma=decimal_comma,
        encoding=encoding,
        first_row=tuple(first_row),
        plain=(
            encoding in ("utf-8", "utf-8-sig", "ascii")
            and len(first_row) == len(names)
            and delimiter != " "
            and newlines > body
            and not any(line.startswith(COMMENT) for line in lines[body + 1 :])
        ),
        units=units,
        unit_row=tuple(split_line(uncommented(lines[units]), delimiter)) if units is not None else (),
        notes=tuple(notes),
        groups=tuple(groups),
        rate_said=rate_said([*above, *remarks]),
        tick_said=tick_said([*above, *remarks]),
    )


def _all_values(cells: Sequence[str]) -> bool:
    """Whether a line holds samples: numbers (with a point or a comma) and times only."""
    present = [cell for cell in cells if cell]
    return len(present) > 1 and all(is_value(cell) for cell in present)


def _groups(above: Sequence[str], width: int, delimiter: str) -> list[str]:
    """Read a line of groups over the names (``own;;;ship;;``), each up to the next; empty without one.

    Only asked for where names stand twice: else a title of several cells would name every column.
    """
    row = next((line for line in reversed(above) if line.strip() and not line.startswith("sep=")), "")
    cells = split_line(uncommented(row), delimiter)
    if delimiter == " " or len(cells) not in (width, width - 1, width + 1) or sum(map(bool, cells)) < 2:
        return []
    groups, last = [], ""
    for cell in (*cells, *[""] * width)[:width]:
        last = cell or last
        groups.append(last)
    return groups


def _end_of_line(data: bytes, index: int) -> int:
    end = -1
    for _ in range(index + 1):
        end = data.find(b"\n", end + 1)
        if end < 0:
            return len(data)
    return end + 1


def _find_header(content: Content, lines: Sequence[str], options: FileOptions) -> tuple[int, str]:
    """Find the line that names the columns, and what stands between the names."""
    if options.header_lines == 0:  # what stands above the samples are remarks
        index = next((i for i, line in enumerate(lines) if line.strip() and not line.startswith(COMMENT)), 0)
        return index - 1, options.delimiter or _find_delimiter(lines, index)[1]
    if options.header_lines is not None:
        index = options.header_lines - 1
        if index >= len(lines):
            raise content.error(
                f"has no line {options.header_lines}.", remedy="Correct file.header_lines in the column map."
            )
        return index, options.delimiter or _find_delimiter(lines, index)[1]
    best: tuple[int, int, str] | None = None
    for index, line in enumerate(lines[:_LINES_BEFORE_NAMES]):
        if line.startswith("sep=") and len(line) == 5:
            options = FileOptions(delimiter=line[4], decimal=options.decimal)
            continue
        if not line.strip():
            continue
        if options.delimiter:
            delimiter = options.delimiter
            known = _known(split_line(uncommented(line), delimiter))
        else:
            known, delimiter = _find_delimiter(lines, index)
        if (best is None and (known or not line.startswith(COMMENT))) or (best and known > best[0]):
            best = (known, index, delimiter)
        if known >= _SURELY_NAMES:
            break
    if best is None or best[0] < _SURELY_NAMES:
        shape = find_shape(lines[:-1] if len(lines) > 2 else lines, _is_unit, delimiter=options.delimiter)
        if shape is not None:
            return shape.header, shape.delimiter
    if best is None:
        raise content.error(
            "holds no line that names columns.", remedy="Give a recording with a header line."
        )
    return best[1], best[2]


def _find_delimiter(lines: Sequence[str], index: int) -> tuple[int, str]:
    """Find what separates the cells of a line: what gives most known names, then most cells."""
    line = uncommented(lines[index])
    following = lines[index + 1] if index + 1 < len(lines) else ""

    def merit(delimiter: str) -> tuple[int, bool, bool, int]:
        cells = split_line(line, delimiter)
        even = len(cells) > 1 and len(cells) == len(split_line(following, delimiter))
        return _known(cells), even, even and _all_values(cells), len(cells) if delimiter != " " else 1

    best = max(DELIMITERS, key=merit)
    return merit(best)[0], best


def _has_decimal_comma(cells: Sequence[str]) -> bool:
    bare = [_without_unit(cell) for cell in cells]
    with_comma = [cell for cell in bare if cell.count(",") == 1 and _is_number(cell.replace(",", "."))]
    return bool(with_comma) and not any("." in cell and _is_number(cell) for cell in bare)


def _without_unit(cell: str) -> str:
    """Give the number of a cell that carries a unit behind it; the cell where it does not."""
    found = re.match(WITH_UNIT, cell.strip().replace(",", "."))
    return cell.strip()[: found.end(1)] if found is not None else cell


def _load_fast(
    content: Content, layout: Layout, numbers: Collection[int], texts: Collection[int]
) -> Cells | None:
    """Read with the types wanted; None where the file turns out not to be well-formed.

    The text goes through the table library in pieces, so that neither the file nor the
    library's table is held whole beside the columns.
    """
    import polars as pl

    for index in numbers:
        cell = layout.first_row[index]
        if cell and not _is_number(cell.replace(",", ".") if layout.decimal_comma else cell):
            return None
    wanted = sorted({*numbers, *texts})
    schema = {str(i): pl.Float64 if i in numbers else pl.String for i in range(len(layout.names))}
    between, mark = len(layout.names) - 1, layout.delimiter.encode()
    pieces: dict[int, list] = {i: [] for i in wanted}
    rows = 0
    for text in _pieces(content, layout.body):
        try:
            frame = (
                pl.scan_csv(
                    io.BytesIO(text),
                    has_header=False,
                    separator=layout.delimiter,
                    schema=schema,
                    decimal_comma=layout.decimal_comma,
                )
                .select(str(i) for i in wanted)
                .collect()
            )
        except pl.exceptions.PolarsError:
            return None
        # the library pads and cuts uneven rows in silence: count what stands between cells
        found = text.count(mark)
        if found != frame.height * between:
            frame = frame.filter(~pl.all_horizontal(pl.all().is_null()))
            if found != frame.height * between:
                return None
        rows += frame.height
        for i in wanted:
            series = frame.drop_in_place(str(i))
            pieces[i].append(np.array(series.to_numpy()) if i in numbers else series)
    if content.cut:
        return None
    if not rows:
        raise no_rows(content)
    columns = {i: held if i in numbers else pl.concat(held) for i, held in pieces.items()}
    return Cells(content, columns, rows, list(layout.notes), first_line=layout.last_above + 2)


def _pieces(content: Content, body: int) -> Iterator[bytes]:
    """Give the text under the names in pieces of whole lines."""
    rest = b""
    start = body
    for piece in content.pieces(_CHUNK):
        end = piece.rfind(b"\n", start) + 1
        if end > start:
            text, rest = rest + piece[start:end], piece[end:]
            if not text.isspace():
                yield text
        else:
            rest += piece[start:]
        start = max(0, start - len(piece))
    if rest.strip():
        yield rest


def _load_carefully(
    content: Content, layout: Layout, numbers: Collection[int], texts: Collection[int]
) -> Cells:
    """Read as text, the good lines only, remembering where each stood."""
    import polars as pl

    notes = list(layout.notes)
    kept, lines = _good_lines(content, layout, notes)
    if not kept:
        raise no_rows(content)
    wanted = sorted({*numbers, *texts})
    try:
        frame = (
            pl.scan_csv(
                io.BytesIO(b"\n".join(kept)),
                has_header=False,
                separator=layout.delimiter,
                schema={str(i): pl.String for i in range(len(layout.names))},
            )
            .select(str(i) for i in wanted)
            .collect()
        )
    except pl.exceptions.PolarsError as error:
        raise content.error(
            f"cannot be read as a table ({str(error).splitlines()[0]}).",
            remedy="Export it again as plain CSV.",
        ) from None
    columns = {i: frame.drop_in_place(str(i)) for i in wanted}
    if layout.decimal_comma:
        for index in numbers:
            columns[index] = columns[index].str.replace(",", ".", literal=True)
    return Cells(content, columns, len(kept), notes, np.asarray(lines))


def _good_lines(content: Content, layout: Layout, notes: list[Note]) -> tuple[list[bytes], list[int]]:
    width = len(layout.names)
    names = list(layout.names)
    mark = layout.delimiter.encode()
    kept: list[bytes] = []
    lines: list[int] = []
    uneven: list[tuple[int, int]] = []
    again: list[int] = []
    for number, line in body_lines(content, layout):
        cells = _count(line, layout.delimiter, mark)
        if cells == width:
            kept.append(line)
            lines.append(number)
        elif cells == width + 1 and line.endswith(mark):
            kept.append(line[:-1])
            lines.append(number)
        else:
            uneven.append((number, cells))
            continue
        if line[:1].isdigit():
            continue
        words = split_line(line.decode("utf-8", "replace"), layout.delimiter)
        if words == names:
            again.append(lines.pop())
            kept.pop()
        elif len(kept) == 1 and not any(_is_number(word.replace(",", ".")) or ":" in word for word in words):
            kept.pop()
            notes.append(Note("line-of-words", f"Line {lines.pop()} holds no number; not read as a sample."))
    if len(uneven) > len(kept):
        number, cells = uneven[0]
        raise _uneven_error(content, layout, number, cells)
    if uneven:
        number, cells = uneven[0]
        rows = "1 row has" if len(uneven) == 1 else f"{len(uneven)} rows have"
        left = "was" if len(uneven) == 1 else "were"
        notes.append(
            Note(
                "uneven-rows",
                f"{rows} another number of cells than the {width} columns and {left} left out, "
                f"first line {number} ({'broken off' if cells < 0 else cells}).",
            )
        )
    if again:
        rows = "The column names stand again on line" + ("s" if len(again) > 1 else "")
        notes.append(Note("names-again", f"{rows} {', '.join(map(str, again[:5]))}; not read as a sample."))
    return kept, lines


def _uneven_error(content: Content, layout: Layout, number: int, cells: int) -> InputError:
    held = "a quoted cell that does not end" if cells < 0 else f"{cells} cell" + ("s" if cells != 1 else "")
    return content.error(
        f"names {len(layout.names)} columns, but most rows have another number of cells: {held} here.",
        place=f"line {number}",
        remedy="Check what separates the cells, and decimal commas; a column map can set file.delimiter.",
    )


def _count(line: bytes, delimiter: str, mark: bytes) -> int:
    """Count the cells of a line; -1 where a quoted cell does not end or bytes were lost."""
    if b"\0" in line:
        return -1
    if b'"' not in line:
        return line.count(mark) + 1
    if line.count(b'"') % 2:
        return -1
    return len(split_line(line.decode("utf-8", "replace"), delimiter))


def body_lines(content: Content, layout: Layout) -> Iterator[tuple[int, bytes]]:
    """Give the lines under the names with their numbers, as UTF-8, without empty ones and comments."""
    data = content.read()
    if layout.encoding not in ("utf-8", "utf-8-sig", "ascii"):
        data = data.decode(layout.encoding, "replace").encode()
    else:
        try:
            data.decode()
        except UnicodeDecodeError:
            data = data.decode("cp1252", "replace").encode()
    data = data.rstrip(b"\0")
    rows = data.splitlines()
    if content.cut:
        rows.pop()
    comments = tuple(mark.encode() for mark in COMMENT)
    first = layout.last_above + 1
    for number, row in enumerate(rows[first:], start=first + 1):
        if row.startswith(comments) or not row.strip():
            continue
        yield number, b" ".join(row.split()) if layout.delimiter == " " else row
