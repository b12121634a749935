"""What a pilot was fitted to: the lever of each pass as he moved it, and as his numbers foretold it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from deckward.reports import typeface
from deckward.reports.svg import Drawing, Scale, ticks

_WIDTH, _EDGE = 1000.0, 14.0
_ACROSS, _TALL, _GAP = 2, 92.0, 22.0
#: passes that are drawn at most
_MOST = 8


def of_pilot(
    name: str, lever: Sequence[np.ndarray], every: float, rows: Sequence[tuple[str, str]]
) -> Drawing:
    """Draw the levers of passes and list what was concluded.

    Args:
        name: the pilot's.
        lever: for each pass what he did and what the fitted hands foretold a second before, (2, n),
            weights of thrust.
        every: s between samples.
        rows: what was concluded, as names and words.
    """
    d = Drawing(
        "hands",
        _WIDTH,
        0.0,
        title=f"What {name} was fitted to",
        says="Lever over time for each pass, as flown and as the fitted hands foretold it; "
        "then the fitted numbers.",
    )
    floor = _levers(d, name, lever[:_MOST], every) if lever else 0.0
    d.text(_EDGE, floor + 16.0, "Concluded", size=11, bold=True)
    d.text(
        _EDGE + typeface.width("Concluded", 11, bold=True) + 6.0, floor + 16.0,
        "one standard deviation in brackets", size=10, ink="soft",
    )  # fmt: skip
    y = floor + 34.0
    for row, words in rows:
        d.text(_EDGE, y, row, size=10.5, bold=True)
        d.text(_EDGE + 190.0, y, words, size=10.5)
        y += 16.0
    d.height = y + 2.0
    return d


def _levers(d: Drawing, name: str, lever: Sequence[np.ndarray], every: float) -> float:
    d.text(_EDGE, 14.0, name, size=11, bold=True)
    d.text(
        _EDGE + typeface.width(name, 11, bold=True) + 6.0, 14.0,
        "lever about its trim, in hundredths of the weight in thrust", size=10, ink="soft",
    )  # fmt: skip
    d.line(_WIDTH - 330.0, 10.5, _WIDTH - 306.0, 10.5, stroke="ink", width=1.3)
    d.text(_WIDTH - 301.0, 14.0, "as flown", size=10, ink="soft")
    d.line(_WIDTH - 240.0, 10.5, _WIDTH - 216.0, 10.5, stroke="blue", width=1.6, dash="5 3")
    d.text(_WIDTH - 211.0, 14.0, "as these hands foretell it, 1 s ahead", size=10, ink="soft")
    size = max(0.02, float(np.quantile(np.abs(np.concatenate([one[0] for one in lever])), 0.99)))
    seconds = max(one.shape[1] for one in lever) * every
    wide = (_WIDTH - 2.0 * _EDGE - (_ACROSS - 1) * _GAP) / _ACROSS
    floor = 24.0
    for place, one in enumerate(lever):
        row, column = divmod(place, _ACROSS)
        left, top = _EDGE + column * (wide + _GAP), 24.0 + row * (_TALL + _GAP)
        x = Scale(-seconds, 0.0, left, left + wide)
        y = Scale(-1.1 * size, 1.1 * size, top + _TALL, top)
        floor = top + _TALL + 16.0
        d.rect(left, top, wide, _TALL, fill="none", stroke="edge", line=0.7)
        d.line(left, y(0.0), left + wide, y(0.0), stroke="edge", width=0.7)
        for value in ticks(-100.0 * size, 100.0 * size, 4):
            d.text(left + 3.0, y(value / 100.0) + 3.0, f"{value:g}", size=9, ink="soft", halo="paper")
        for value in ticks(-seconds, 0.0, 6):
            words = "end" if value == 0.0 else f"{value:g} s"
            anchor = "end" if value == 0.0 else "middle"
            d.text(x(value), top + _TALL + 11.0, words, size=9, ink="soft", anchor=anchor)
        time = (np.arange(one.shape[1]) + 1 - one.shape[1]) * every
        with d.clip(left, top, wide, _TALL):
            d.trace(x(time), y(one[0]), stroke="ink", width=1.3)
            d.trace(x(time), y(one[1]), stroke="blue", width=1.6, dash="5 3")
        d.text(left + wide - 4.0, top + 12.0, f"pass {place + 1}", size=10, anchor="end", halo="paper")
    return floor
