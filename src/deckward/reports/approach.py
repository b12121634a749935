"""The approach on one shared distance axis: side, ball, line-up, angle of attack, sink, power, bank.

The jet flies from left to right. Distances are of the reference point aft of the ramp,
except in the side view, where it is the eye that meets the lens's cells.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

import numpy as np
from msgspec import Struct

from deckward.explanation.model import Explanation, Outlook
from deckward.foundation.units import DEGREE, FOOT, KNOT, NAUTICAL_MILE, to_si
from deckward.passes.model import Pass, Position
from deckward.reports import otherwise, ribbon, typeface, words
from deckward.reports.svg import Drawing, Form, Scale, runs, ticks

if TYPE_CHECKING:
    from deckward.explanation.what_if import WhatIf

#: the farthest that is drawn aft of the ramp, m
FAR = 1.3 * NAUTICAL_MILE
#: positions nearer to one another than this are told as one, m
TOGETHER = 15.0
#: a doubt band thinner than this is not drawn, px
THIN = 1.6

_WIDE = {Form.WIDE: 1000.0, Form.NARROW: 380.0, Form.SHEET: 560.0}
#: heights of the strips, px; a printed sheet has no room for bank
_TALL = {
    "side": {Form.WIDE: 264.0, Form.NARROW: 190.0, Form.SHEET: 128.0},
    "odds": {Form.WIDE: 76.0, Form.NARROW: 64.0, Form.SHEET: 0.0},
    "ball": {Form.WIDE: 168.0, Form.NARROW: 116.0, Form.SHEET: 92.0},
    "line-up": {Form.WIDE: 128.0, Form.NARROW: 100.0, Form.SHEET: 62.0},
    "alpha": {Form.WIDE: 92.0, Form.NARROW: 76.0, Form.SHEET: 46.0},
    "sink": {Form.WIDE: 82.0, Form.NARROW: 66.0, Form.SHEET: 40.0},
    "power": {Form.WIDE: 70.0, Form.NARROW: 56.0, Form.SHEET: 36.0},
    "bank": {Form.WIDE: 58.0, Form.NARROW: 48.0, Form.SHEET: 0.0},
}
_FRACTIONS = {1: "1/4", 2: "1/2", 3: "3/4"}


class Stretch(Struct, frozen=True):
    """The part of a pass that the axis shows: its samples and its ends, m aft of the ramp."""

    samples: slice
    far: float
    past: float


def stretch(flown: Pass) -> Stretch:
    """Find the last straight run at the deck: where the range falls without a break, to past the lens."""
    s, reach = flown.series, flown.series.range
    past = flown.site.lens.position[0] + 30.0
    inside = max((at.time for at in flown.positions), default=None)
    if inside is not None:
        known = min(int(np.searchsorted(s.time, inside)), reach.size - 1)
    else:
        known = min(s.contact, int(np.nanargmin(np.abs(reach))))
    falling = np.diff(reach, append=-np.inf) < 0.0
    breaks = np.flatnonzero(~falling[:known])
    start = int(breaks[-1]) + 1 if breaks.size else 0
    beyond = np.flatnonzero(reach[start:known] > FAR)
    start += int(beyond[-1]) + 1 if beyond.size else 0
    over = np.flatnonzero(~falling[known:] | (reach[known:] < -past))
    end = known + int(over[0]) + 1 if over.size else reach.size
    far = float(np.clip(reach[start], 0.15 * NAUTICAL_MILE, FAR))
    return Stretch(samples=slice(start, end), far=far, past=past)


def axis(form: Form) -> tuple[float, float]:
    """Return where the shared axis begins and ends in a drawing, px."""
    return (38.0, 372.0) if form is Form.NARROW else (56.0, _WIDE[form] - 14.0)


def share(form: Form) -> tuple[float, float]:
    """Return the ends of the shared axis as shares of the drawing's width."""
    left, right = axis(form)
    return left / _WIDE[form], right / _WIDE[form]


class _Panel(Struct, frozen=True):
    """One strip of the figure; ``y`` maps SI to pixels between ``top`` and ``bottom``."""

    y: Scale
    top: float
    bottom: float


class _Sheet:
    """The drawing under way: the shared axis, the next free height, the marks of every strip."""

    def __init__(self, name: str, flown: Pass, form: Form, ahead: Outlook | None = None) -> None:
        self.flown = flown
        self.last_safe = None if ahead is None else ahead.last_safe_range
        self.tall = {part: heights[form] for part, heights in _TALL.items()}
        self.narrow = form is Form.NARROW
        self.roomy = form is Form.WIDE
        self.width = _WIDE[form]
        self.left, self.right = axis(form)
        self.part = stretch(flown)
        self.x = Scale(self.part.far, -self.part.past, self.left, self.right)
        self.series = flown.series
        self.at = self.part.samples
        self.range = self.series.range[self.at]
        self.drawing = Drawing(
            f"{name}-approach-{form.value}",
            self.width,
            0.0,
            title=f"The approach: {words.headline(flown)}, {words.called(flown.who)}",
            says="Side view with the cells of the lens, ball, line-up, angle of attack, sink, power and "
            "bank over the distance aft of the ramp.",
        )
        self.floor = 0.0

    def values(self, name: str) -> np.ndarray:
        return np.asarray(getattr(self.series, name), dtype=float)[self.at]

    def in_flight(self, values: np.ndarray) -> np.ndarray:
        """Blank what comes after contact with the deck."""
        return np.where(np.arange(self.series.range.size)[self.at] < self.series.contact, values, np.nan)

    def sigma(self, name: str) -> np.ndarray | None:
        spread = self.series.sigma.get(name)
        return None if spread is None else np.asarray(spread, dtype=float)[self.at]

    @contextmanager
    def panel(self, title: str, unit: str, height: float, low: float, high: float) -> Iterator[_Panel]:
        """Open a strip: its title, its ground, its frame."""
        d = self.drawing
        self.floor += 17.0
        top = self.floor
        d.text(self.left, top - 5.0, title, size=11, bold=True)
        d.text(self.left + typeface.width(title, 11, bold=True) + 6, top - 5.0, unit, size=10, ink="soft")
        self.floor += height
        d.rect(self.left, top, self.right - self.left, height, fill="sheet")
        panel = _Panel(Scale(low, high, self.floor, top), top, self.floor)
        with d.clip(self.left, top, self.right - self.left, height):
            yield panel
        d.rect(self.left, top, self.right - self.left, height, stroke="edge", line=0.7)
        self.floor += 5.0

    def absent(self, what: str) -> None:
        """Say in a line that a strip has nothing to show."""
        self.floor += 19.0
        self.drawing.text(self.left, self.floor - 5.0, what, size=11, bold=True)
        room = self.left + typeface.width(what, 11, bold=True) + 6
        self.drawing.text(room, self.floor - 5.0, "not in the recording", size=10, ink="soft")
        self.floor += 4.0

    def scale_labels(self, panel: _Panel, marks: list[tuple[float, str]]) -> None:
        """Write an axis's values left of a strip, with a tick each."""
        for value, label in marks:
            y = panel.y(value)
            if panel.top - 0.5 <= y <= panel.bottom + 0.5:
                self.drawing.line(self.left - 3, y, self.left, y, stroke="edge", width=0.7)
                size = 9 if self.narrow else 10
                self.drawing.text(self.left - 6, y + 3.4, label, size=size, ink="soft", anchor="end")

    def level(self, panel: _Panel, value: float, *, stroke: str = "rule", width: float = 0.8,
              dash: str | None = None) -> None:  # fmt: skip
        y = panel.y(value)
        self.drawing.line(self.left, y, self.right, y, stroke=stroke, width=width, dash=dash)

    def trace(self, panel: _Panel, values: np.ndarray, **style) -> None:
        self.drawing.trace(self.x(self.range), panel.y(values), **style)

    def doubt(self, panel: _Panel, values: np.ndarray, spread: np.ndarray | None) -> None:
        """Draw a band of one standard deviation either side, where it is wide enough to matter."""
        if spread is None:
            return
        wide = np.where(np.abs(panel.y.per_unit) * spread * 2 > THIN, spread, np.nan)
        self.drawing.area(self.x(self.range), panel.y(values - wide), panel.y(values + wide), fill="doubt")

    def verticals(self, panel: _Panel) -> None:
        """Draw the positions, the wave-off and the touchdown through a strip."""
        for reach, stroke, dash in self.events():
            x = self.x(reach)
            self.drawing.line(x, panel.top, x, panel.bottom, stroke=stroke, width=0.9, dash=dash)

    def events(self) -> list[tuple[float, str, str | None]]:
        out: list[tuple[float, str, str | None]] = [
            (reach, "edge", "1 3") for reach, _ in self.places() if reach > 0.0
        ]
        out.append((0.0, "ink", None))
        if self.flown.wave_off is not None:
            out.append((self.flown.wave_off.start_range, "red-ink", "5 3"))
        if self.last_safe is not None:
            out.append((self.last_safe, "green", "2 2"))
        touched = self.touched()
        if touched is not None:
            out.append((touched, "blue", "5 3"))
        return [event for event in out if -self.part.past <= event[0] <= self.part.far]

    def places(self) -> list[tuple[float, str]]:
        """Return where the positions are, m aft of the ramp, with the names of those that fall together."""
        names: dict[float, list[str]] = {0.0: ["ramp"]}
        for at in sorted(self.flown.positions, key=lambda at: -at.range):
            if not at.range <= self.part.far:
                continue
            near = next((r for r in names if abs(r - at.range) < TOGETHER), at.range)
            own = words.called(at.name)
            if own not in names.setdefault(near, []):
                names[near].append(own)
        return [(reach, " · ".join(own)) for reach, own in names.items()]

    def touched(self) -> float | None:
        """Return the reference point's range at contact, m."""
        at = self.series.contact
        return float(self.series.range[at]) if at < self.series.range.size else None

    def marked(self, panel: _Panel, name: str, write: Callable[[Position], str], *,
               halo: str = "sheet") -> None:  # fmt: skip
        """Put a dot where the pass crosses each position, and its value where there is room."""
        end = -np.inf
        for at in sorted(self.flown.positions, key=lambda at: -at.range):
            value = getattr(at, name)
            if not words.known(value) or not at.range <= self.part.far:
                continue
            x, y = self.x(at.range), panel.y(value)
            if not panel.top <= y <= panel.bottom:
                continue
            self.drawing.circle(x, y, 2.6, fill="ink", stroke=halo, width=1.2)
            label = write(at)
            room = typeface.width(label, 10) / 2 + 2
            middle = float(np.clip(x, self.left + room, self.right - room))
            if label and middle - room > end:
                end = middle + room
                base = y - 6 if y - panel.top > 16 else y + 13
                self.drawing.text(middle, base, label, size=10, anchor="middle", halo=halo)


def draw(
    flown: Pass,
    *,
    name: str,
    form: Form = Form.WIDE,
    why: Explanation | None = None,
    what_if: Sequence[WhatIf] = (),
    ahead: Outlook | None = None,
) -> Drawing:
    """Draw the approach of a pass, and under it what made the height at the ramp and what might have been.

    The odds along it are drawn where they are known. ``name`` tells the drawing's ids apart from
    others in the same page.
    """
    sheet = _Sheet(name, flown, form, ahead)
    _heads(sheet)
    _side(sheet)
    if ahead is not None and sheet.tall["odds"]:
        _odds(sheet, ahead)
    _ball(sheet)
    _plan(sheet)
    _alpha(sheet)
    _sink(sheet)
    _power(sheet)
    if sheet.tall["bank"]:
        _bank(sheet)
    if why is not None:
        ribbon.draw(sheet, why, form)
    otherwise.draw(sheet, what_if, form)
    _feet(sheet)
    _legend(sheet)
    sheet.drawing.height = sheet.floor + 4
    return sheet.drawing


def _heads(sheet: _Sheet) -> None:
    """Write the names of the positions and events over the figure, in rows that never overlap."""
    heads = [(reach, names, "soft") for reach, names in sheet.places()]
    if sheet.flown.wave_off is not None and sheet.flown.wave_off.start_range <= sheet.part.far:
        heads.append((sheet.flown.wave_off.start_range, "waved off", "red-ink"))
    if sheet.last_safe is not None:
        heads.append((sheet.last_safe, "last safe wave-off", "green"))
    touched = sheet.touched()
    if touched is not None:
        heads.append((touched, "down", "blue"))
    ends: list[float] = []
    placed = []
    for reach, label, ink in sorted(heads, key=lambda head: -head[0]):
        wide = typeface.width(label, 10)
        x = float(np.clip(sheet.x(reach), sheet.left + wide / 2, sheet.right - wide / 2))
        row = next((k for k, end in enumerate(ends) if x - wide / 2 > end + 7), len(ends))
        if row == len(ends):
            ends.append(0.0)
        ends[row] = x + wide / 2
        placed.append((row, x, label, ink))
    for row, x, label, ink in placed:
        sheet.drawing.text(x, 11 + 13 * row, label, size=10, ink=ink, anchor="middle")
    sheet.floor = 13.0 * len(ends) + 6


def _side(sheet: _Sheet) -> None:
    d, lens, part = sheet.drawing, sheet.flown.site.lens, sheet.part
    apex_x, apex_z = lens.position[0], lens.position[2] + sheet.flown.path_constant
    reach = part.far + apex_x
    half = lens.cells / 2 * lens.cell
    top = apex_z + np.tan(lens.basic_angle + half) * reach
    eye = sheet.series.eye[sheet.at]
    error = sheet.in_flight(sheet.values("glide_slope_error"))
    to_lens = apex_x - eye[:, 0]
    # seen against the lens's own cells, whatever the deck and the stabilisation do
    seen = apex_z + np.tan(lens.basic_angle + error) * to_lens
    height = np.where(np.isfinite(error), seen, eye[:, 2])
    high = max(top, float(np.nanmax(height[sheet.range > 0], initial=0.0))) * 1.04
    ramp_x = sheet.x(0.0)
    with sheet.panel("Side", "eye over the deck, ft", sheet.tall["side"], -0.075 * high, high) as p:
        far_x = sheet.left
        hatch = d.hatch("red-ink", gap=6, width=0.7)
        for k in range(lens.cells):
            edges = lens.basic_angle + (np.array([k, k + 1]) - lens.cells / 2) * lens.cell
            z = apex_z + np.tan(edges) * reach
            wedge = [(sheet.x(-apex_x), p.y(apex_z)), (far_x, p.y(z[0])), (far_x, p.y(z[1]))]
            kind = "red-wash" if k < lens.red_cells else "amber-wash"
            d.polygon(wedge, fill=f"{kind}-2" if k % 2 else kind)
            if k < lens.red_cells:
                d.polygon(wedge, fill=hatch, opacity=0.45)
        sea = p.y(p.y.low)
        d.rect(ramp_x, p.y(0.0), sheet.right - ramp_x, sea - p.y(0.0), fill="deck")
        d.line(ramp_x, p.y(0.0), sheet.right, p.y(0.0), stroke="ink", width=1.4)
        sheet.verticals(p)
        centre = apex_z + np.tan(lens.basic_angle) * reach
        d.line(far_x, p.y(centre), sheet.x(-apex_x), p.y(apex_z), stroke="edge", width=1, dash="9 3 2 3")
        spread = sheet.sigma("glide_slope_error")
        sheet.doubt(p, height, None if spread is None else spread * np.abs(to_lens))
        _path_by_ball(sheet, sheet.x(-eye[:, 0]), p.y(height), error)
        d.circle(sheet.x(-apex_x), p.y(apex_z), 3.2, fill="lens", stroke="amber", width=1.6)
        d.text(sheet.right - 4, p.y(apex_z) - 8, "lens", size=10, anchor="end", halo="sheet")
        red = apex_z + np.tan(lens.basic_angle - half + lens.red_cells * lens.cell / 2) * reach
        d.text(far_x + 5, p.y(red) + 5, "red", size=10, ink="red-ink", halo="red-wash")
        d.text(far_x + 5, p.y(top) + 16, "amber", size=10, ink="amber-ink", halo="amber-wash")
    marks = ticks(0.0, high / FOOT, 4 if sheet.narrow else 6)
    sheet.scale_labels(p, [(to_si(v, "ft"), f"{v:.0f}") for v in marks])


def _odds(sheet: _Sheet, ahead: Outlook) -> None:
    """Draw a ribbon of what was still to come: the outcomes stacked up to one."""
    d = sheet.drawing
    x = sheet.x(ahead.range)
    hatch = d.hatch("amber-ink", gap=5, width=0.8)
    with sheet.panel("Odds from here on", "% by a model's hands", sheet.tall["odds"], 0.0, 1.0) as p:
        floor = np.zeros(ahead.time.size)
        parts = (
            (ahead.trap, "doubt"),
            (ahead.bolter, "blue"),
            (ahead.wave_off, hatch),
            (ahead.ramp_strike + ahead.outside, "red"),
        )
        for odds, fill in parts:
            d.area(x, p.y(floor), p.y(floor + odds), fill=fill)
            floor = floor + odds
        d.trace(x, p.y(ahead.trap), width=1.4)
        sheet.verticals(p)
    sheet.scale_labels(p, [(0.0, "0"), (0.5, "50"), (1.0, "100")])
    left, base = sheet.left, sheet.floor + 8
    for label, fill in (("trap", "doubt"), ("bolter", "blue"), ("wave-off", hatch), ("ramp strike", "red")):
        d.rect(left, base - 8, 12, 9, fill=fill, stroke="edge", line=0.6)
        d.text(left + 16, base, label, size=9.5, ink="soft")
        left += 28 + typeface.width(label, 9.5)
    sheet.floor = base + 3


def _path_by_ball(sheet: _Sheet, x: np.ndarray, y: np.ndarray, error: np.ndarray) -> None:
    """Draw a path heavier the farther the ball is out, red in the red cells, dashed off the lens."""
    lens = sheet.flown.site.lens
    cells = np.nan_to_num(error / lens.cell, nan=0.0)
    off = np.abs(cells) > lens.cells / 2
    red = ~off & (cells < lens.red_cells - lens.cells / 2)
    past = ~np.isfinite(error)
    weight = np.clip(np.round(np.abs(cells)), 0, 5)
    kind = weight + 10 * red + 20 * off + 40 * past
    order = np.flatnonzero(np.diff(kind)) + 1
    sheet.drawing.trace(x, y, stroke="sheet", width=4.6)
    for i, j in zip([0, *order], [*order, kind.size], strict=True):
        piece = slice(int(i), min(int(j) + 1, kind.size))
        if past[i]:
            sheet.drawing.trace(x[piece], y[piece], stroke="soft", width=1.2)
        elif off[i]:
            sheet.drawing.trace(x[piece], y[piece], width=2.2, dash="3 4")
        else:
            heavy = 1.5 + 0.45 * float(weight[i])
            sheet.drawing.trace(x[piece], y[piece], stroke="red" if red[i] else "ink", width=heavy)


def _ball(sheet: _Sheet) -> None:
    d, lens = sheet.drawing, sheet.flown.site.lens
    half = lens.cells / 2
    cells = sheet.in_flight(sheet.values("ball_cells"))
    with sheet.panel("Ball", "cells of the lens", sheet.tall["ball"], -half * 1.3, half * 1.3) as p:
        hatch = d.hatch("red-ink", gap=6, width=0.7)
        right = sheet.x(-lens.position[0]) - sheet.left
        for k in range(lens.cells):
            y0, y1 = p.y(k + 1 - half), p.y(k - half)
            kind = "red-wash" if k < lens.red_cells else "amber-wash"
            d.rect(sheet.left, y0, right, y1 - y0, fill=f"{kind}-2" if k % 2 else kind)
        y0, y1 = p.y(lens.red_cells - half), p.y(-half)
        d.polygon([(sheet.left, y0), (sheet.left + right, y0), (sheet.left + right, y1), (sheet.left, y1)],
                  fill=hatch, opacity=0.45)  # fmt: skip
        sheet.verticals(p)
        sheet.level(p, 0.0, stroke="green", width=1.2)
        sheet.doubt(p, cells, sheet.sigma("ball_cells"))
        _path_by_ball(sheet, sheet.x(sheet.range), p.y(cells), cells * lens.cell)
        _off_scale(sheet, p, cells)
        sheet.marked(p, "ball_cells", lambda at: " ".join(words.ball(at.ball_cells)), halo="amber-wash")
    step = half / 2 if half / 2 == round(half / 2) else half
    values = np.arange(-half, half + 0.1, step)
    sheet.scale_labels(p, [(v, f"{abs(v):g}") for v in values])
    _ends(sheet, p, "high", "low")


def _off_scale(sheet: _Sheet, panel: _Panel, values: np.ndarray) -> None:
    """Point to where a trace leaves a strip."""
    at = panel.y(values)
    for over, y, tip in ((at < panel.top, panel.top, -1), (at > panel.bottom, panel.bottom, 1)):
        for run in runs(over):
            x = float(np.clip(sheet.x(np.mean(sheet.range[run])), sheet.left + 6, sheet.right - 6))
            base = y - tip * 7
            sheet.drawing.polygon([(x - 5, base), (x + 5, base), (x, y - tip)], fill="ink")


def _ends(sheet: _Sheet, panel: _Panel, up: str, down: str) -> None:
    """Say in the left margin what up and down mean."""
    x = 10 if sheet.narrow else 14
    for y, word, anchor in ((panel.top, up, "end"), (panel.bottom, down, "start")):
        sheet.drawing.text(x, y, word, size=9.5, ink="soft", anchor=anchor, turned=-90)


def _plan(sheet: _Sheet) -> None:
    d, site = sheet.drawing, sheet.flown.site
    half = site.width / 2
    offset = sheet.values("line_up_offset")
    widest = float(np.nanmax(np.abs(offset), initial=0.0))
    limit = float(np.clip(widest * 1.15, half * 1.25, 60.0))
    with sheet.panel("Line-up", "from the centreline, ft", sheet.tall["line-up"], limit, -limit) as p:
        ramp_x = sheet.x(0.0)
        d.rect(ramp_x, p.y(-half), sheet.right - ramp_x, p.y(half) - p.y(-half), fill="deck")
        sheet.verticals(p)
        for edge in (-half, half):
            d.line(sheet.left, p.y(edge), ramp_x, p.y(edge), stroke="edge", width=0.8, dash="2 4")
            d.line(ramp_x, p.y(edge), sheet.right, p.y(edge), stroke="ink", width=1.0)
        sheet.level(p, 0.0, stroke="ink", width=0.9, dash="9 3 2 3")
        sheet.doubt(p, offset, sheet.sigma("line_up_offset"))
        sheet.trace(p, offset, width=2.2)
        _off_scale(sheet, p, offset)
        sheet.marked(p, "line_up_offset", _line_up_label)
        if sheet.roomy:
            d.text(sheet.left + 5, p.y(half) - 3, "landing-area edge", size=9, ink="soft", halo="sheet")
    marks = [v for v in ticks(-limit / FOOT, limit / FOOT, 5) if v]
    sheet.scale_labels(p, [(to_si(v, "ft"), f"{abs(v):.0f}") for v in [0.0, *marks]])
    _ends(sheet, p, "left", "right")


def _line_up_label(at: Position) -> str:
    return " ".join(words.sided(at.line_up_offset, "ft", 0, "R", "L"))


def _alpha(sheet: _Sheet) -> None:
    d, jet = sheet.drawing, sheet.flown.aircraft
    alpha = sheet.in_flight(sheet.values("angle_of_attack"))
    before = np.where(sheet.range > 0.0, alpha, np.nan)
    if not np.isfinite(before).any():
        sheet.absent("Angle of attack")
        return
    slight_low, slight_high = jet.slight_band
    low = max(min(slight_low - 0.6 * DEGREE, float(np.nanmin(before))), slight_low - 4 * DEGREE)
    high = min(max(slight_high + 0.6 * DEGREE, float(np.nanmax(before))), slight_high + 4 * DEGREE)
    origin = sheet.series.origin.get("angle_of_attack")
    unit = "deg, worked out, not recorded" if origin == "inferred" else "deg"
    with sheet.panel("Angle of attack", unit, sheet.tall["alpha"], low, high) as p:
        band = p.y(jet.band[1]), p.y(jet.band[0])
        d.rect(sheet.left, band[0], sheet.right - sheet.left, band[1] - band[0], fill="amber-wash")
        for edge in jet.band:
            sheet.level(p, edge, stroke="edge", width=0.8)
        for edge in jet.slight_band:
            sheet.level(p, edge, stroke="edge", width=0.7, dash="2 4")
        sheet.verticals(p)
        sheet.doubt(p, alpha, sheet.sigma("angle_of_attack"))
        sheet.trace(p, alpha, width=2.0)
        sheet.marked(p, "angle_of_attack", lambda at: words.number(at.angle_of_attack, "deg", 1))
        if sheet.roomy:
            d.text(sheet.left + 5, band[1] - 3, "on speed", size=9, ink="amber-ink", halo="amber-wash")
    sheet.scale_labels(p, _degrees(low, high, 4))
    _ends(sheet, p, "slow", "fast")


def _degrees(low: float, high: float, most: int) -> list[tuple[float, str]]:
    marks = ticks(low / DEGREE, high / DEGREE, most)
    return [(to_si(v, "deg"), f"{v:g}".replace("-", words.MINUS)) for v in marks]


def _sink(sheet: _Sheet) -> None:
    sink, closure = sheet.in_flight(sheet.values("sink")), sheet.values("closure")
    flying = np.where(sheet.range > 0.0, sink, np.nan)
    minute = to_si(1.0, "fpm")
    high = float(np.clip(np.nanmax(flying, initial=0.0), 900 * minute, 1800 * minute)) * 1.08
    low = float(np.clip(np.nanmin(flying, initial=0.0), -600 * minute, 200 * minute))
    holds = np.where(
        (sheet.range > 0.0) & (closure > 20 * KNOT),
        closure * np.tan(sheet.flown.site.lens.basic_angle),
        np.nan,
    )
    with sheet.panel("Sink", "ft/min; dashed: what holds the path", sheet.tall["sink"], low, high) as p:
        sheet.verticals(p)
        sheet.trace(p, holds, stroke="soft", width=0.9, dash="4 3")
        sheet.doubt(p, sink, sheet.sigma("sink"))
        sheet.trace(p, sink, width=2.0)
        sheet.marked(p, "sink", lambda at: words.number(at.sink, "fpm"))
    marks = ticks(low / minute, high / minute, 4)
    sheet.scale_labels(p, [(v * minute, f"{v:.0f}".replace("-", words.MINUS)) for v in marks])


def _power(sheet: _Sheet) -> None:
    power = sheet.values("power")
    if not np.isfinite(power).any():
        sheet.absent("Power")
        return
    with sheet.panel("Power", "% as recorded", sheet.tall["power"], 0.0, 1.04) as p:
        sheet.verticals(p)
        sheet.trace(p, power, width=2.0)
    sheet.scale_labels(p, [(0.0, "0"), (0.5, "50"), (1.0, "100")])


def _bank(sheet: _Sheet) -> None:
    bank = sheet.values("roll")
    limit = float(np.clip(np.nanmax(np.abs(bank), initial=0.0) * 1.1, 8 * DEGREE, 30 * DEGREE))
    with sheet.panel("Bank", "deg", sheet.tall["bank"], limit, -limit) as p:
        sheet.level(p, 0.0, stroke="edge", width=0.7)
        sheet.verticals(p)
        sheet.trace(p, bank, width=1.6)
    sheet.scale_labels(p, [(v, label.strip(words.MINUS)) for v, label in _degrees(-limit, limit, 3)])
    _ends(sheet, p, "left", "right")


def _feet(sheet: _Sheet) -> None:
    """Write the distance axis: quarters of a mile over thousands of feet."""
    d, y = sheet.drawing, sheet.floor - 5
    quarter = NAUTICAL_MILE / 4
    for k in range(int(sheet.part.far / quarter) + 1):
        x = sheet.x(k * quarter)
        whole, rest = divmod(k, 4)
        label = "ramp" if k == 0 else f"{whole if whole else ''} {_FRACTIONS.get(rest, '')}".strip() + " nm"
        d.line(x, y, x, y + 5, stroke="edge")
        room = typeface.width(label, 10) / 2
        d.text(max(x, room + 1), y + 16, label, size=10, anchor="middle", bold=k == 0)
    for v in ticks(-sheet.part.past / FOOT, sheet.part.far / FOOT, int(sheet.width / 100)):
        x = sheet.x(to_si(v, "ft"))
        if v:
            d.line(x, y + 22, x, y + 25, stroke="edge", width=0.7)
            label = f"{v:,.0f}".replace(",", " ").replace("-", words.MINUS)
            d.text(x, y + 34, label, size=9, ink="soft", anchor="middle")
    d.text(sheet.x(0.0), y + 34, "0 ft", size=9, ink="soft", anchor="middle")
    d.line(sheet.left, y + 22, sheet.right, y + 22, stroke="edge", width=0.7)
    sheet.floor = y + 40


def _legend(sheet: _Sheet) -> None:
    """Explain the marks in rows that fill the width."""
    d = sheet.drawing
    samples: list[tuple[str, dict]] = [
        ("path, heavier with the ball's error", {"stroke": "ink", "width": 2.4}),
        ("in the red cells", {"stroke": "red", "width": 3.6}),
        ("off the lens", {"stroke": "ink", "width": 2.2, "dash": "3 4"}),
        ("commanded path, centreline", {"stroke": "edge", "width": 1.2, "dash": "9 3 2 3"}),
        ("± one sigma", {"stroke": "doubt", "width": 8.0}),
    ]
    x, y = sheet.left, sheet.floor + 14
    for label, style in samples:
        wide = 32 + typeface.width(label, 10) + 16
        if x + wide > sheet.right + 16:
            x, y = sheet.left, y + 16
        d.line(x, y - 3.5, x + 26, y - 3.5, **style)
        d.text(x + 32, y, label, size=10, ink="soft")
        x += wide
    sheet.floor = y + 4
