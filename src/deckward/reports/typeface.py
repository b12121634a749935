"""The one typeface, B612 (SIL Open Font License): its files, and how wide words are in it."""

from __future__ import annotations

import base64
import struct
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).parent / "type"
FAMILY = "B612"
#: what stands in where the face lacks a letter or is absent
STACK = "B612, 'DejaVu Sans', 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif"

#: grades and shorthand: round brackets mean something there, and B612's look square
CODE = "ui-monospace, 'DejaVu Sans Mono', 'Cascadia Mono', Menlo, Consolas, monospace"


@cache
def web_font(weight: str) -> str:
    """Return the Latin part of a weight ("Regular", "Bold") as base64 WOFF."""
    return base64.b64encode((FOLDER / f"B612-{weight}.woff").read_bytes()).decode("ascii")


def width(text: str, size: float, *, bold: bool = False) -> float:
    """Return how wide ``text`` is set at ``size``, kerning left aside; both in one unit."""
    table = _advances("Bold" if bold else "Regular")
    return size * sum(table.get(ord(letter), 0.62 if ord(letter) < 0x1100 else 1.0) for letter in text)


def fit(text: str, size: float, room: float, *, bold: bool = False) -> str:
    """Return ``text``, cut with an ellipsis where it is wider than ``room``."""
    if width(text, size, bold=bold) <= room:
        return text
    while text and width(text + "…", size, bold=bold) > room:
        text = text[:-1]
    return text.rstrip() + "…"


def foreign(text: str) -> bool:
    """Tell whether a text has letters beyond Latin, Greek and Cyrillic, which no font of ours has."""
    return any(ord(letter) >= 0x0530 and not 0x1E00 <= ord(letter) < 0x2C00 for letter in text)


@cache
def _advances(weight: str) -> dict[int, float]:
    """Read advance widths in em by code point.

    Source: OpenType specification 1.9, tables ``head``, ``hhea``, ``hmtx`` and
    ``cmap`` format 4.
    """
    data = (FOLDER / f"B612-{weight}.otf").read_bytes()
    count = struct.unpack_from(">H", data, 4)[0]
    tables = {}
    for i in range(count):
        tag, _, offset, _ = struct.unpack_from(">4sIII", data, 12 + 16 * i)
        tables[tag] = offset
    em = struct.unpack_from(">H", data, tables[b"head"] + 18)[0]
    metrics = struct.unpack_from(">H", data, tables[b"hhea"] + 34)[0]
    advance = [struct.unpack_from(">H", data, tables[b"hmtx"] + 4 * i)[0] / em for i in range(metrics)]
    return {code: advance[min(glyph, metrics - 1)] for code, glyph in _cmap(data, tables[b"cmap"]) if glyph}


def _cmap(data: bytes, at: int):
    """Yield (code point, glyph) of the first format-4 subtable."""
    for i in range(struct.unpack_from(">H", data, at + 2)[0]):
        sub = at + struct.unpack_from(">HHI", data, at + 4 + 8 * i)[2]
        if struct.unpack_from(">H", data, sub)[0] == 4:
            break
    else:
        return
    n = struct.unpack_from(">H", data, sub + 6)[0] // 2
    ends = struct.unpack_from(f">{n}H", data, sub + 14)
    starts = struct.unpack_from(f">{n}H", data, sub + 16 + 2 * n)
    deltas = struct.unpack_from(f">{n}H", data, sub + 16 + 4 * n)
    ranges = struct.unpack_from(f">{n}H", data, sub + 16 + 6 * n)
    for k in range(n):
        for code in range(starts[k], min(ends[k], 0xFFFE) + 1):
            glyph = code
            if ranges[k]:
                place = sub + 16 + 6 * n + 2 * k + ranges[k] + 2 * (code - starts[k])
                glyph = struct.unpack_from(">H", data, place)[0]
                if not glyph:
                    continue
            yield code, (glyph + deltas[k]) & 0xFFFF
