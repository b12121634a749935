"""What if, in words and drawn: what would have come of a pass with one thing done otherwise."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from deckward.foundation.units import FOOT, to_si
from deckward.passes.model import Pass
from deckward.reports import words
from deckward.reports.svg import Form, ticks

if TYPE_CHECKING:
    from deckward.explanation.what_if import WhatIf
    from deckward.reports.approach import _Sheet

_DASHES = ("7 3", "2 3", "10 3 2 3", "1 5")
#: farthest from the commanded path that is drawn, m
_FARTHEST = 30.0 * FOOT


def lines(flown: Pass, told: Sequence[WhatIf]) -> list[tuple[str, str]]:
    """Return what was changed and what would have come of it, for each."""
    if told and not any(one.told for one in told):
        return [("nothing is told", _outcome(flown, told[0]))]
    return [(_title(one), _outcome(flown, one)) for one in told]


def _title(one: WhatIf) -> str:
    value = f"{one.change.value:g}"
    return {
        "hold-power": f"power held from {value} s before the ramp",
        "sooner": f"power and nose {value} s sooner",
        "on-speed": "on speed all the way, power as flown",
        "wave-off": f"waved off at {value} nm",
    }[one.change.name]


def _outcome(flown: Pass, one: WhatIf) -> str:
    if not one.told:
        if one.rms is None or one.at_ramp is None:
            return "no stretch from the groove to the ramp could be flown again"
        missed = words.number(max(one.rms, abs(one.at_ramp)), "ft")
        return f"the model misses what was flown by {missed} ft"
    assert one.hook_to_ramp is not None
    if one.hook_to_ramp < 0.0:
        return "into the ramp"
    parts = [f"hook to ramp {words.height(one.hook_to_ramp)} ft"]
    if flown.ramp is not None:
        parts[0] += f" (flown {words.height(flown.ramp.hook_to_ramp)})"
    if one.hook_x is not None:
        parts.append(f"down at {words.number(one.hook_x, 'ft')} ft")
        if flown.site.wires is not None:
            parts.append(f"wire {one.wire}" if one.wire is not None else "past the wires")
    elif one.lowest_hook is not None:
        parts.append(f"hook never below {words.height(one.lowest_hook)} ft over the deck")
    return ", ".join(parts)


def draw(sheet: _Sheet, told: Sequence[WhatIf], form: Form) -> None:
    """Draw the hook against its commanded path, as flown and with each change."""
    shown = [(number, one.path) for number, one in enumerate(told, start=1) if one.path is not None]
    if not shown or form is Form.SHEET:
        return
    d, site = sheet.drawing, sheet.flown.site
    slope = np.tan(site.lens.basic_angle)
    ahead = sheet.series.hook[sheet.at, 0] + sheet.range
    shift = float(np.nanmedian(ahead))
    hook = sheet.series.hook[sheet.at]
    flown = sheet.in_flight(hook[:, 2] - (site.lens.hook_target - hook[:, 0]) * slope)
    tracks = [(number, path[:, 0], path[:, 1] - (site.lens.hook_target - path[:, 0]) * slope)
              for number, path in shown]  # fmt: skip
    most = max([float(np.nanmax(np.abs(z), initial=0.0)) for _, _, z in tracks])
    near = sheet.range < shift - min(float(x[0]) for _, x, _ in tracks)
    most = max(most, float(np.nanmax(np.abs(flown[near]), initial=0.0)))
    limit = float(np.clip(1.1 * most, 10.0 * FOOT, _FARTHEST))
    with sheet.panel(
        "What if", "hook over its commanded path, ft; solid: as flown", 110.0, -limit, limit
    ) as p:
        sheet.level(p, 0.0, stroke="edge")
        sheet.verticals(p)
        sheet.trace(p, flown, width=2.2)
        for k, (number, x, z) in enumerate(tracks):
            at = sheet.x(shift - x)
            d.trace(at, p.y(z), stroke="blue", width=2.0, dash=_DASHES[k % len(_DASHES)])
            seen = np.flatnonzero((np.abs(z) < limit) & (at < sheet.right - 8))
            if seen.size:
                end = seen[-1]
                x_end, y_end = float(at[end]) + 3, float(p.y(z[end])) - 3
                d.text(x_end, y_end, str(number), size=11, ink="blue", bold=True, halo="sheet")
    marks = ticks(-limit / FOOT, limit / FOOT, 5)
    sheet.scale_labels(p, [(to_si(v, "ft"), f"{v:g}".replace("-", words.MINUS)) for v in marks])
