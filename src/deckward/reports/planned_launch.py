"""The jet off the bow: height against time at the planned and at the least end airspeed, for a card."""

from __future__ import annotations

import numpy as np

from deckward.foundation.units import FOOT, from_si
from deckward.planning.launch import MOST_SETTLE, FlyOff
from deckward.planning.launch_plan import Shot
from deckward.reports import words
from deckward.reports.svg import Drawing, Scale, ticks

WIDTH, HEIGHT = 470.0, 210.0
#: how long the curves are shown, s
_SECONDS = 6.0


def draw(shot: Shot) -> Drawing:
    """Draw the settle curves, the settle that is allowed, and one with an engine less where there are two."""
    d = Drawing(
        "launch-card",
        WIDTH,
        HEIGHT,
        title="Height off the bow against time, at the planned and at the least end airspeed",
        says=f"The jet settles {_feet(shot.flown.settle)} feet at the planned end airspeed and "
        f"{_feet(shot.flown_least.settle)} at the least.",
    )
    d.rect(0, 0, WIDTH, HEIGHT, fill="sheet")
    lowest = max(shot.flown_least.settle, MOST_SETTLE)
    x = Scale(0.0, _SECONDS, 44.0, WIDTH - 14.0)
    y = Scale(-1.5 * lowest, 3.2 * lowest, HEIGHT - 26.0, 14.0)
    for feet in ticks(from_si(y.low, "ft"), from_si(y.high, "ft"), 6):
        at = float(y(feet * FOOT))
        d.line(x.start, at, x.end, at, stroke="rule", width=0.8)
        d.text(x.start - 6, at + 4, words.number(feet * FOOT, "ft", signed=True), size=11, anchor="end")
    d.line(x.start, y(0.0), x.end, y(0.0), stroke="ink", width=1.6)
    d.line(x.start, y(-MOST_SETTLE), x.end, y(-MOST_SETTLE), stroke="ink", width=1.2, dash="2 3")
    d.text(
        x.end - 4,
        y(-MOST_SETTLE) + 14,
        f"{_feet(MOST_SETTLE)} ft of settle",
        size=11,
        anchor="end",
        halo="sheet",
    )
    for second in range(int(_SECONDS) + 1):
        d.text(x(float(second)), HEIGHT - 9, f"{second} s", size=10.5, anchor="middle")
    d.text(x.start + 5, y.end + 24, "ft over the bow", size=11, ink="soft", halo="sheet")
    with d.clip(x.start, y.end, x.end - x.start, y.start - y.end):
        if shot.engine_out is not None:
            _curve(d, x, y, shot.engine_out.flown, width=1.5, dash="1 4")
        _curve(d, x, y, shot.flown_least, width=1.8, dash="7 4")
        _curve(d, x, y, shot.flown, width=2.8)
    _name(d, x, y, shot.flown, f"planned {_knots(shot.wanted)}", 0.86)
    _name(d, x, y, shot.flown_least, f"least {_knots(shot.least)}", 0.42)
    if shot.engine_out is not None:
        less = shot.engine_out.flown
        height = float(np.clip(np.interp(4.9, less.time, less.height), y.low * 0.6, y.high))
        d.text(x(4.9), y(height) + 34, "an engine less", size=12, bold=True, anchor="middle", halo="sheet")
    return d


def _curve(d: Drawing, x: Scale, y: Scale, flown: FlyOff, *, width: float, dash: str | None = None) -> None:
    shown = flown.time <= _SECONDS
    d.trace(x(flown.time[shown]), y(flown.height[shown]), width=width, dash=dash)


def _name(d: Drawing, x: Scale, y: Scale, flown: FlyOff, label: str, share: float) -> None:
    """Write a curve's name where it is so far up the drawing."""
    level = share * y.high
    above = np.flatnonzero((flown.height >= level) & (flown.time > flown.lowest))
    when = float(flown.time[above[0]]) if above.size else _SECONDS
    when = min(when, _SECONDS - 0.2)
    height = float(np.interp(when, flown.time, flown.height))
    d.text(x(when) - 8, y(height) + 4, label, size=12, bold=True, anchor="end", halo="sheet")


def _feet(metres: float) -> str:
    return f"{from_si(metres, 'ft'):.0f}"


def _knots(speed: float) -> str:
    return f"{from_si(speed, 'kt'):.0f} kt"
