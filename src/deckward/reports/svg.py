"""A small writer of vector drawings: elements in, one well-formed SVG out.

Coordinates are pixels, y down. Fills and strokes are inks of the palette by name; they
become colours only when the drawing is rendered, so that one drawing serves a page with
two themes (style-sheet variables) and a file (fixed colours).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from enum import Enum
from html import escape

import numpy as np
from msgspec import Struct, field

from deckward.reports import typeface

_PAINTED = ("fill", "stroke")


class Form(Enum):
    """What a drawing is for: a page, a telephone's page, a printed sheet."""

    WIDE = "wide"
    NARROW = "narrow"
    SHEET = "sheet"


class Scale(Struct, frozen=True):
    """A straight map from data (``low`` to ``high``) to pixels (``start`` to ``end``)."""

    low: float
    high: float
    start: float
    end: float

    def __call__(self, value):
        """Map a value or an array."""
        return self.start + (value - self.low) * self.per_unit

    @property
    def per_unit(self) -> float:
        """Pixels for one unit of data; negative where the axis runs against the pixels."""
        return (self.end - self.start) / (self.high - self.low)


def ticks(low: float, high: float, most: int) -> list[float]:
    """Return round values within [low, high], at most about ``most`` of them.

    >>> ticks(0.0, 1000.0, 5)
    [0.0, 200.0, 400.0, 600.0, 800.0, 1000.0]
    """
    step = 10.0 ** np.floor(np.log10((high - low) / most))
    for factor in (1, 2, 5, 10):
        if (high - low) / (step * factor) <= most:
            break
    step *= factor
    first, last = np.ceil(low / step - 1e-9), np.floor(high / step + 1e-9)
    return [float(round(k * step, 9)) + 0.0 for k in np.arange(first, last + 1)]


def simplify(points: np.ndarray, tolerance: float) -> np.ndarray:
    """Leave out points that stand within ``tolerance`` of the line through their neighbours.

    ``points`` is (n, 2), finite; the ends stay. Source: Douglas and Peucker 1973.
    """
    n = len(points)
    if n < 3:
        return points
    keep = np.zeros(n, dtype=bool)
    keep[[0, n - 1]] = True
    spans = [(0, n - 1)]
    while spans:
        i, j = spans.pop()
        if j - i < 2:
            continue
        along = points[j] - points[i]
        away = points[i + 1 : j] - points[i]
        length2 = float(along @ along)
        if length2 > 0.0:
            part = np.clip(away @ along / length2, 0.0, 1.0)
            away = away - part[:, None] * along
        distance = np.hypot(away[:, 0], away[:, 1])
        k = int(np.argmax(distance))
        if distance[k] > tolerance:
            k += i + 1
            keep[k] = True
            spans += [(i, k), (k, j)]
    return points[keep]


def runs(good: np.ndarray) -> list[slice]:
    """Return the stretches where a mask (n,) holds, as slices."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], np.asarray(good, dtype=bool), [False]])))
    return [slice(int(i), int(j)) for i, j in zip(edges[::2], edges[1::2], strict=True)]


class _Element(Struct):
    tag: str
    attributes: dict[str, object]
    children: list[_Element] = field(default_factory=list)
    text: str | None = None


class Drawing:
    """A drawing of ``width`` by ``height`` pixels with a title for those who hear it read.

    ``name`` makes the ids of its patterns and clips unique within a page.
    """

    def __init__(self, name: str, width: float, height: float, *, title: str, says: str = "") -> None:
        self.name = name
        self.width = width
        self.height = height
        self.title = title
        self.says = says
        self._root = _Element("g", {})
        self._open = [self._root]
        self._definitions: list[_Element] = []

    # -- marks -------------------------------------------------------------------------
    def line(self, x1: float, y1: float, x2: float, y2: float, *, stroke: str = "rule", width: float = 1.0,
             dash: str | None = None, round_ends: bool = False) -> None:  # fmt: skip
        """Draw a straight line."""
        self._add("line", x1=x1, y1=y1, x2=x2, y2=y2, **_stroke(stroke, width, dash, round_ends))

    def trace(self, x, y, *, stroke: str = "ink", width: float = 1.6, dash: str | None = None,
              tolerance: float = 0.12) -> None:  # fmt: skip
        """Draw a line through points (n,), broken where one is not finite."""
        points = np.column_stack(np.broadcast_arrays(np.asarray(x, float), np.asarray(y, float)))
        parts = []
        for run in runs(np.isfinite(points).all(axis=1)):
            parts.append(_path(simplify(points[run], tolerance)))
        if parts:
            marks = _stroke(stroke, width, dash, True)
            self._add("path", d="".join(parts), fill="none", stroke_linejoin="round", **marks)

    def area(self, x, low, high, *, fill: str, opacity: float = 1.0) -> None:
        """Fill between two lines over the same x (n,), left out where one is not finite."""
        x, low, high = (np.asarray(v, float) for v in np.broadcast_arrays(x, low, high))
        for run in runs(np.isfinite(x + low + high)):
            up = simplify(np.column_stack([x[run], high[run]]), 0.2)
            down = simplify(np.column_stack([x[run], low[run]]), 0.2)
            self.polygon(np.concatenate([up, down[::-1]]), fill=fill, opacity=opacity)

    def polygon(self, points, *, fill: str = "none", stroke: str | None = None, width: float = 1.0,
                opacity: float = 1.0) -> None:  # fmt: skip
        """Draw a closed shape through points (n, 2)."""
        marks = _stroke(stroke, width, None, False) if stroke else {}
        if opacity < 1.0:
            marks["fill_opacity"] = opacity
        self._add("path", d=_path(np.asarray(points, float)) + "Z", fill=fill, **marks)

    def rect(self, x: float, y: float, width: float, height: float, *, fill: str = "none",
             stroke: str | None = None, line: float = 1.0, radius: float = 0.0) -> None:  # fmt: skip
        """Draw a box."""
        marks = _stroke(stroke, line, None, False) if stroke else {}
        if radius:
            marks["rx"] = radius
        self._add("rect", x=x, y=y, width=max(width, 0.0), height=max(height, 0.0), fill=fill, **marks)

    def circle(self, x: float, y: float, radius: float, *, fill: str = "none", stroke: str | None = None,
               width: float = 1.0) -> None:  # fmt: skip
        """Draw a circle."""
        marks = _stroke(stroke, width, None, False) if stroke else {}
        self._add("circle", cx=x, cy=y, r=radius, fill=fill, **marks)

    def text(self, x: float, y: float, words: str, *, size: float = 11.0, ink: str = "ink",
             anchor: str = "start", bold: bool = False, halo: str | None = None,
             turned: float = 0.0) -> None:  # fmt: skip
        """Write words with their baseline at y; ``halo`` clears the ground of that ink round them."""
        marks: dict[str, object] = {"x": x, "y": y, "font_size": size, "fill": ink}
        if anchor != "start":
            marks["text_anchor"] = anchor
        if bold:
            marks["font_weight"] = 700
        if turned:
            marks["transform"] = f"rotate({turned:g} {x:.1f} {y:.1f})"
        if halo:
            marks |= {**_stroke(halo, 3.4, None, False), "stroke_linejoin": "round", "paint_order": "stroke"}
        self._open[-1].children.append(_Element("text", marks, text=words))

    # -- grouping ----------------------------------------------------------------------
    @contextmanager
    def clip(self, x: float, y: float, width: float, height: float) -> Iterator[None]:
        """Show what is drawn inside the block within a box only."""
        name = self._define("clipPath", {}, [_Element("rect", _box(x, y, width, height))])
        with self._group({"clip_path": f"url(#{name})"}):
            yield

    @contextmanager
    def shifted(self, x: float, y: float) -> Iterator[None]:
        """Draw the block's marks from another origin."""
        with self._group({"transform": f"translate({x:.1f} {y:.1f})"}):
            yield

    def hatch(self, ink: str, *, gap: float = 5.0, width: float = 1.0) -> str:
        """Return a fill of slanting lines in an ink."""
        strokes = _Element("path", {"d": f"M0 0V{gap:g}", "fill": "none", **_stroke(ink, width, None, False)})
        name = self._define(
            "pattern",
            {
                "width": gap,
                "height": gap,
                "patternUnits": "userSpaceOnUse",
                "patternTransform": "rotate(45)",
            },
            [strokes],
        )
        return f"url(#{name})"

    # -- writing -----------------------------------------------------------------------
    def render(self, inks: Mapping[str, str] | None = None, *, ground: str | None = None) -> str:
        """Write the drawing.

        With ``inks`` the colours are fixed and the SVG stands alone (``ground`` paints its
        paper); without, they are style-sheet variables for a page that defines them.
        """
        alone = inks is not None
        head = f'<svg viewBox="0 0 {_number(self.width)} {_number(self.height)}" role="img"'
        if alone:
            head += (
                f' xmlns="http://www.w3.org/2000/svg" width="{_number(self.width)}"'
                f' height="{_number(self.height)}"'
            )
        head += f' font-family="{escape(typeface.STACK)}"><title>{escape(self.title)}</title>'
        if self.says:
            head += f"<desc>{escape(self.says)}</desc>"
        out = [head]
        if self._definitions:
            out.append("<defs>")
            for element in self._definitions:
                _write(element, inks, out)
            out.append("</defs>")
        if alone and ground:
            _write(_Element("rect", {**_box(0, 0, self.width, self.height), "fill": ground}), inks, out)
        for element in self._root.children:
            _write(element, inks, out)
        out.append("</svg>")
        return "".join(out)

    def _add(self, tag: str, **attributes: object) -> None:
        self._open[-1].children.append(_Element(tag, attributes))

    def _define(self, tag: str, attributes: dict[str, object], children: Sequence[_Element]) -> str:
        name = f"{self.name}-{len(self._definitions)}"
        self._definitions.append(_Element(tag, {"id": name, **attributes}, list(children)))
        return name

    @contextmanager
    def _group(self, attributes: dict[str, object]) -> Iterator[None]:
        group = _Element("g", attributes)
        self._open[-1].children.append(group)
        self._open.append(group)
        yield
        self._open.pop()


def _box(x: float, y: float, width: float, height: float) -> dict[str, object]:
    return {"x": x, "y": y, "width": width, "height": height}


def _stroke(ink: str, width: float, dash: str | None, round_ends: bool) -> dict[str, object]:
    marks: dict[str, object] = {"stroke": ink, "stroke_width": width}
    if dash:
        marks["stroke_dasharray"] = dash
    if round_ends:
        marks["stroke_linecap"] = "round"
    return marks


def _number(value) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _path(points: np.ndarray) -> str:
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)


def _paint(ink: str, inks: Mapping[str, str] | None) -> str:
    if ink == "none" or ink.startswith("url("):
        return ink
    return f"var(--{ink})" if inks is None else inks[ink]


def _write(element: _Element, inks: Mapping[str, str] | None, out: list[str]) -> None:
    attributes = []
    for name, value in element.attributes.items():
        if name in _PAINTED:
            value = _paint(str(value), inks)
        elif not isinstance(value, str):
            value = _number(value)
        key = name.replace("_", "-")
        attributes.append(f' {key}="{escape(str(value))}"')
    out.append(f"<{element.tag}{''.join(attributes)}")
    if element.text is None and not element.children:
        out.append("/>")
        return
    out.append(">")
    if element.text is not None:
        out.append(escape(element.text))
    for child in element.children:
        _write(child, inks, out)
    out.append(f"</{element.tag}>")
