"""The way round: downwind, turn and groove from above, at rest with the ship and to scale.

Axes are those of the landing area (approach frame): the ship lies at the right with her
landing area pointing right, port on top, and the jet comes round against the clock.
"""

from __future__ import annotations

import numpy as np

from deckward.foundation.units import FOOT, NAUTICAL_MILE
from deckward.passes.model import Pass
from deckward.reports import typeface, words
from deckward.reports.svg import Drawing, Form, Scale

#: a dot on the path every so many seconds
BEAT = 10.0


def draw(flown: Pass, *, name: str, form: Form = Form.WIDE) -> Drawing | None:
    """Draw the pattern of a pass that has a turn; None for one that comes straight in."""
    if flown.turn is None:
        return None
    s, site = flown.series, flown.site
    shown = slice(0, s.contact + 1)
    x, y = -s.range[shown], s.line_up_offset[shown]
    low, high = float(np.nanmin(x)) - 150.0, float(np.nanmax(x)) + 350.0
    left, right = float(np.nanmin(y)) - 220.0, float(np.nanmax(y)) + 260.0
    narrow = form is Form.NARROW
    width = 380.0 if narrow else 1000.0
    per = min((width - 24.0) / (high - low), (420.0 if narrow else 470.0) / (right - left))
    used = per * (high - low)
    px = Scale(low, high, (width - used) / 2, (width + used) / 2)
    py = Scale(left, right, 20.0, 20.0 + per * (right - left))
    bottom = py.end + 26.0
    d = Drawing(
        f"{name}-pattern-{form.value}",
        width,
        bottom + 4,
        title=f"The pattern from above: {words.called(flown.who)}",
        says="The path relative to the ship from downwind to touchdown with a dot every 10 seconds.",
    )
    d.text(px.start, 13, "The pattern", size=11, bold=True)
    note = "relative to the ship, a dot every 10 s"
    d.text(px.start + typeface.width("The pattern", 11, bold=True) + 6, 13, note, size=10, ink="soft")
    d.rect(px.start, 20, used, bottom - 20, fill="sheet", stroke="edge", line=0.7)
    _ship(d, flown, px, py)
    d.trace(px(x), py(y), width=2.2)
    beats = np.arange(float(s.time[0]), float(s.time[shown][-1]), BEAT)
    for k in np.searchsorted(s.time[shown], beats):
        d.circle(px(x[k]), py(y[k]), 2.1, fill="ink")
    abeam = _abeam(x, y, site.angle)
    datum, above = _datum(flown, abeam)
    marks = _marks(flown, x, y)
    if abeam is not None:
        marks.insert(0, ("abeam", abeam))
        _abeam_line(d, flown, px, py, abeam)
    for label, k in marks:
        feet = words.number(round((float(s.height[k]) + datum) / FOOT / 10.0) * 10.0 * FOOT, "ft")
        _mark(d, px, py, (float(x[k]), float(y[k])), label, f"{feet} ft")
    bar = NAUTICAL_MILE / (4 if narrow else 2)
    end, base = px.end - 12, bottom - 10
    d.line(end - bar * per, base, end, base, stroke="ink", width=2)
    label = f"{'1/4' if narrow else '1/2'} nm"
    d.text(end - bar * per / 2, base - 6, label, size=10, anchor="middle", halo="sheet")
    d.text(px.start + 8, base + 2, f"heights {above}", size=9.5, ink="soft")
    return d


def _ship(d: Drawing, flown: Pass, px: Scale, py: Scale) -> None:
    site, half = flown.site, flown.site.width / 2
    d.line(px.start, py(0.0), px(0.0), py(0.0), stroke="edge", width=0.9, dash="9 3 2 3")
    corners = [(0.0, -half), (site.length, -half), (site.length, half), (0.0, half)]
    d.polygon([(px(a), py(b)) for a, b in corners], fill="deck", stroke="ink", width=1.2)
    if not site.is_field:
        keel = np.array([np.cos(site.angle), np.sin(site.angle)])
        stem = 1.35 * site.length * keel
        tip = np.array([px(stem[0]), py(stem[1])])
        d.line(px(0.0), py(0.0), *tip, stroke="ink", width=1.2)
        side = np.array([-keel[1], keel[0]])
        d.polygon([tip + 5 * keel, tip - 5 * keel + 3.4 * side, tip - 5 * keel - 3.4 * side], fill="ink")


def _abeam(x: np.ndarray, y: np.ndarray, angle: float) -> int | None:
    """Return the sample that passes the ramp's beam outbound on the port side, if any."""
    ahead = x * np.cos(angle) + y * np.sin(angle)
    port = x * np.sin(angle) - y * np.cos(angle)
    out = np.flatnonzero((ahead[:-1] > 0.0) & (ahead[1:] <= 0.0) & (port[1:] > 0.0))
    return int(out[-1]) + 1 if out.size else None


def _datum(flown: Pass, abeam: int | None) -> tuple[float, str]:
    """Return what to add to heights over the ramp, m, and what they then stand above."""
    assert flown.turn is not None
    if abeam is None or not words.known(flown.turn.abeam_altitude):
        return 0.0, "above the ramp"
    return flown.turn.abeam_altitude - float(flown.series.height[abeam]), "above the sea"


def _marks(flown: Pass, x: np.ndarray, y: np.ndarray) -> list[tuple[str, int]]:
    """Find where the turn has 90 and 45 degrees to go, and where the groove begins."""
    s = flown.series
    out = []
    track = np.degrees(np.unwrap(np.arctan2(np.gradient(y), np.gradient(x))))
    track -= 360.0 * round(float(np.nanmedian(track[-max(track.size // 10, 2) :])) / 360.0)
    for degrees in (90.0, 45.0):
        crossing = np.flatnonzero((np.abs(track[:-1]) > degrees) & (np.abs(track[1:]) <= degrees))
        if crossing.size:
            out.append((f"the {degrees:.0f}", int(crossing[-1]) + 1))
    if flown.groove is not None:
        k = int(np.searchsorted(s.time, flown.groove.start))
        if k < x.size:
            out.append(("groove", k))
    return out


def _abeam_line(d: Drawing, flown: Pass, px: Scale, py: Scale, k: int) -> None:
    """Dimension the distance abeam from the ramp's fore-and-aft line."""
    assert flown.turn is not None
    angle, far = flown.site.angle, flown.turn.abeam_distance
    foot = (far * np.sin(angle), -far * np.cos(angle))
    a, b = (px(0.0), py(0.0)), (px(foot[0]), py(foot[1]))
    d.line(*a, *b, stroke="blue", width=1.0, dash="5 3")
    label = f"{words.number(far, 'nm', 2)} nm"
    middle = ((a[0] + b[0]) / 2 - 6, (a[1] + b[1]) / 2)
    d.text(*middle, label, size=11, ink="blue", bold=True, anchor="end", halo="sheet")


def _mark(d: Drawing, px: Scale, py: Scale, at: tuple[float, float], label: str, height: str) -> None:
    """Ring a point of the path and name it, inside the turn or under the line."""
    x, y = px(at[0]), py(at[1])
    d.circle(x, y, 4.6, fill="sheet", stroke="ink", width=1.8)
    turning = x - px.start < 0.35 * (px.end - px.start)
    if turning or label == "abeam":
        low = y > (py.start + py.end) / 2
        spot, anchor = (x + 11, y - 14 if low else y + (4 if turning else 17)), "start"
    else:
        spot, anchor = (x, y + 20), "middle"
    d.text(*spot, label, size=10.5, bold=True, anchor=anchor, halo="sheet")
    d.text(spot[0], spot[1] + 13, height, size=10, anchor=anchor, halo="sheet")
