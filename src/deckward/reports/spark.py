"""The ball of a pass in the height of a line of text: a drawing, and a row of blocks."""

from __future__ import annotations

import numpy as np

from deckward.foundation.units import NAUTICAL_MILE
from deckward.passes.model import Pass
from deckward.reports import words
from deckward.reports.approach import stretch
from deckward.reports.svg import Drawing, Scale

#: every spark covers the same way, so that rows of a table compare, m
SPAN = NAUTICAL_MILE
_BLOCKS = "▁▂▃▄▅▆▇█"
_PLAIN = "_.,-~=^#"


def draw(flown: Pass, *, name: str) -> Drawing:
    """Draw the ball from 1 nm to the ramp over the red cells and the datum."""
    width, height = 168.0, 34.0
    lens = flown.site.lens
    half = lens.cells / 2
    d = Drawing(f"{name}-spark", width, height, title=f"The ball of the pass: {words.headline(flown)}")
    x, y = Scale(SPAN, 0.0, 2.0, width - 6.0), Scale(-half, half, height - 2.0, 2.0)
    d.rect(2, 2, width - 8, height - 4, fill="sheet")
    red = y(lens.red_cells - half)
    d.rect(2, red, width - 8, height - 2 - red, fill="red-wash")
    for quarter in (0.25, 0.5, 0.75):
        at = x(quarter * NAUTICAL_MILE)
        d.line(at, 2, at, height - 2, stroke="edge", width=0.6, dash="1 2")
    d.line(2, y(0.0), width - 6, y(0.0), stroke="green", width=1)
    reach, cells = _history(flown)
    with d.clip(1, 1, width - 5, height - 2):
        d.trace(x(reach), y(np.clip(cells, -half, half)), width=1.7)
    if reach.size:
        d.circle(x(max(float(reach[-1]), 0.0)), y(float(np.clip(cells[-1], -half, half))), 2.3, fill="ink")
    return d


def _history(flown: Pass) -> tuple[np.ndarray, np.ndarray]:
    """Return distance aft of the ramp and ball of the approach, known ones before contact."""
    s, part = flown.series, stretch(flown)
    index = np.arange(s.range.size)[part.samples]
    reach, cells = s.range[part.samples], s.ball_cells[part.samples]
    ok = np.isfinite(cells) & (reach > 0.0) & (reach <= SPAN) & (index < s.contact)
    if flown.wave_off is not None:
        ok &= s.time[part.samples] <= flown.wave_off.start
    return reach[ok], cells[ok]


def blocks(flown: Pass, places: list[float], *, plain: bool = False) -> list[str]:
    """Return a block character for the ball at each distance aft of the ramp, m; a blank for none.

    The datum is between the fourth and the fifth of eight heights, a sixth of the lens's
    half apart: one cell of a lens of twelve.
    """
    reach, cells = _history(flown)
    marks = _PLAIN if plain else _BLOCKS
    half = flown.site.lens.cells / 2
    out = []
    for place in places:
        if not reach.size or not reach[-1] - 60.0 <= place <= reach[0] + 60.0:
            out.append(" ")
            continue
        value = float(np.interp(place, reach[::-1], cells[::-1]))
        out.append(marks[int(np.clip(np.floor(value / half * 6 + 4), 0, 7))])
    return out
