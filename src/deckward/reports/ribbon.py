"""The ribbon of causes: what each made of the hook's height at the ramp, over the approach's own axis."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from deckward.explanation.model import Explanation
from deckward.foundation.units import FOOT
from deckward.reports import typeface, why, words
from deckward.reports.svg import Form

if TYPE_CHECKING:
    from deckward.reports.approach import _Sheet

#: height of a cause's lane, px
_LANE = {Form.WIDE: 24.0, Form.NARROW: 21.0}
#: bars are never drawn to a larger scale than this, m of a bar that fills its lane
_LEAST = 0.5 * FOOT
#: per cent of the bars that stay inside their lane
_FULL = 98.0
#: heights below this are not drawn, px
_THIN = 0.3


def draw(sheet: _Sheet, told: Explanation, form: Form) -> None:
    """Draw a lane for each cause: bars up where it lifted the hook at the ramp, hatched down where not.

    A printed sheet has no room for it, and tells it in words.
    """
    if not told.contributions or form not in _LANE:
        return
    d, lane = sheet.drawing, _LANE[form]
    made = [abs(p.ramp_height) for p in told.contributions if p.cause != "start"]
    most = max(float(np.percentile(made, _FULL)), _LEAST)
    full = f"a full bar is {words.number(most, 'ft', 1)} ft or more"
    unit = full if sheet.narrow else f"what made it, half second by half second; {full}"
    sums = why.totals(told)
    with sheet.panel("Height at the ramp", unit, lane * len(why.CAUSES), 0.0, 1.0) as p:
        sheet.verticals(p)
        hatch = d.hatch("ink", gap=3.2, width=1.1)
        for k, cause in enumerate(why.CAUSES):
            middle = p.top + (k + 0.5) * lane
            if k:
                d.line(sheet.left, p.top + k * lane, sheet.right, p.top + k * lane, stroke="rule", width=0.7)
            d.line(sheet.left, middle, sheet.x(0.0), middle, stroke="edge", width=0.6)
            if cause != "start":
                _bars(sheet, told, cause, middle, 0.5 * lane - 1.0, most, hatch)
            label, inside = _total(sums[cause], short=sheet.narrow), sheet.x(0.0) + 5
            bold = abs(sums[cause]) >= why.SLIGHT
            if inside + typeface.width(label, 10, bold=bold) > sheet.right - 2:
                d.text(sheet.right - 3, middle + 3.4, label, size=10, bold=bold, anchor="end", halo="sheet")
            else:
                d.text(inside, middle + 3.4, label, size=10, bold=bold)
    for k, cause in enumerate(why.CAUSES):
        y = p.top + (k + 0.5) * lane + 3.4
        d.text(sheet.left - 5, y, cause, size=9 if sheet.narrow else 10, ink="soft", anchor="end")


def _bars(sheet, told: Explanation, cause: str, middle: float, reach: float, most: float, hatch: str) -> None:
    """Draw what a cause made, stretch by stretch: filled above the middle, hatched below it."""
    series = sheet.flown.series
    for part in told.contributions:
        if part.cause != cause:
            continue
        ends = np.interp([part.start, part.end], series.time, series.range)
        left, right = np.clip(sheet.x(ends), sheet.left, sheet.right)
        tall = reach * float(np.clip(part.ramp_height / most, -1.0, 1.0))
        if right - left <= 0.0 or abs(tall) < _THIN:
            continue
        if tall > 0.0:
            sheet.drawing.rect(left, middle - tall, right - left, tall, fill="blue")
        else:
            sheet.drawing.rect(left, middle, right - left, -tall, fill=hatch, stroke="ink", line=0.5)


def _total(made: float, *, short: bool) -> str:
    size, side = words.sided(made, "ft", 0, "high", "low")
    if not side:
        return "0"
    return f"{size} {side[0].upper()}" if short else f"{size} ft {side}"
