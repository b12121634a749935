"""What the approach figure says at every place along its axis, in words, for pages that can point."""

from __future__ import annotations

import numpy as np

from deckward.foundation.units import DEGREE
from deckward.passes.model import Pass
from deckward.reports import words
from deckward.reports.approach import stretch

#: places along the axis, its two ends included
STEPS = 141
_BANK = 0.5 * DEGREE


def lines(flown: Pass) -> list[str]:
    """Return a line for each of :data:`STEPS` places from the axis's far end to its near one.

    A place that the pass did not reach has an empty line; after contact only what still
    means something is told.
    """
    part, s = stretch(flown), flown.series
    reach = s.range[part.samples]
    order = np.argsort(reach)
    contact = float(s.range[s.contact]) if s.contact < s.range.size else -np.inf
    ramp = flown.ramp.time if flown.ramp is not None else None
    names = ("time", "ball_cells", "line_up_offset", "angle_of_attack", "sink", "power", "roll")
    known = {name: np.asarray(getattr(s, name), dtype=float)[part.samples][order] for name in names}
    out = []
    for place in np.linspace(part.far, -part.past, STEPS):
        if not reach[order[0]] <= place <= reach[order[-1]]:
            out.append("")
            continue
        at = {name: float(np.interp(place, reach[order], values)) for name, values in known.items()}
        out.append(_line(flown, float(place), at, flying=place > contact, ramp=ramp))
    return out


def _line(flown: Pass, place: float, at: dict[str, float], *, flying: bool, ramp: float | None) -> str:
    side = "aft of the ramp" if place > 0 else "past the ramp"
    parts = [f"{words.number(abs(place), 'ft')} ft {side}"]
    if ramp is not None and at["time"] < ramp:
        parts.append(f"{ramp - at['time']:.1f} s to go")
    if flying and words.known(at["ball_cells"]):
        parts.append("ball " + " ".join(words.ball(at["ball_cells"])))
    size, way = words.sided(at["line_up_offset"], "ft", 0, "right", "left", "centred")
    parts.append(way if size == "0" else f"{size} ft {way}")
    if flying and words.known(at["angle_of_attack"]):
        error = at["angle_of_attack"] - flown.aircraft.on_speed
        word = words.speed_word(error, flown.aircraft)
        parts.append(f"{words.number(at['angle_of_attack'], 'deg', 1)}° {word}")
    if flying:
        parts.append(f"{words.number(at['sink'], 'fpm')} ft/min")
    if words.known(at["power"]):
        parts.append(f"power {100 * at['power']:.0f} %")
    if abs(at["roll"]) >= _BANK:
        size, way = words.sided(at["roll"], "deg", 0, "right", "left")
        parts.append(f"bank {size}° {way}")
    return " · ".join(parts)
