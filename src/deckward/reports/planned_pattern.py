"""The planned day pattern from above, at rest with the ship and to scale, for a card.

The ship's keel points right, port is on top, and the jet comes round against the clock.
"""

from __future__ import annotations

import numpy as np

from deckward.foundation.units import DEGREE, KNOT, NAUTICAL_MILE, from_si
from deckward.planning.pattern import Checkpoint
from deckward.planning.pattern_plan import PatternPlan
from deckward.planning.slips import TOO_CLOSE
from deckward.planning.steaming import Steaming, direction
from deckward.reports import words
from deckward.reports.svg import Drawing, Scale
from deckward.site.model import Site

WIDTH, HEIGHT = 470.0, 350.0
#: a dot on the path every so many seconds
BEAT = 10.0
_EDGE = 10.0


def draw(plan: PatternPlan, site: Site) -> Drawing:
    """Draw downwind, turn and groove with their checkpoints, and the turn begun too close."""
    pattern, there = plan.pattern, plan.steaming
    path = pattern.path
    ahead, port = there.hull(path.ahead, path.right)
    d = Drawing(
        "pattern-card",
        WIDTH,
        HEIGHT,
        title="The day pattern from above, at rest with the ship, to scale",
        says="From downwind to touchdown with a dot every 10 seconds; dashed, the same turn from "
        "0.2 miles closer abeam.",
    )
    d.rect(0, 0, WIDTH, HEIGHT, fill="sheet")
    low, high = float(ahead.min()), max(float(ahead.max()), 1.4 * site.length)
    top, bottom = float(port.max()), float(port.min()) - TOO_CLOSE
    per = min((WIDTH - 2 * _EDGE - 60) / (high - low), (HEIGHT - 2 * _EDGE - 58) / (top - bottom))
    x = Scale(low, high, _EDGE + 46, _EDGE + 46 + per * (high - low))
    y = Scale(top, bottom, _EDGE + 34, _EDGE + 34 + per * (top - bottom))
    _ship(d, site, there, x, y)
    turn = pattern.checkpoint("turn").time
    late = path.time >= turn
    until = late & (path.time <= pattern.checkpoint("groove").time)
    d.trace(x(ahead[until]), y(port[until] - TOO_CLOSE), stroke="soft", width=1.3, dash="5 4")
    d.trace(x(ahead), y(port), width=2.6)
    for when in np.arange(0.0, path.time[-1], BEAT):
        d.circle(*_spot(x, y, ahead, port, path.time, when), 2.4, fill="ink")
    abeam = pattern.checkpoint("abeam")
    d.line(x(0.0), y(0.0), x(abeam.ahead), y(abeam.port), stroke="blue", width=1.2, dash="5 3")
    d.text(
        x(0.0) + 6,
        y(abeam.port * 0.55),
        f"{words.number(abeam.port, 'nm', 2)} nm abeam",
        size=13,
        bold=True,
        ink="blue",
        halo="sheet",
    )
    for point in pattern.checkpoints[:-1]:
        _mark(d, x, y, point, plan)
    end = np.flatnonzero(until)[-1]
    d.text(
        x(float(ahead[end])) - 30,
        y(float(port[end]) - TOO_CLOSE) + 15,
        f"{words.number(TOO_CLOSE, 'nm', 1)} nm too close, same bank",
        size=10.5,
        ink="soft",
        anchor="middle",
        halo="sheet",
    )
    _wind(d, there)
    _scale(d, per)
    return d


def _spot(x: Scale, y: Scale, ahead, port, time, when: float) -> tuple[float, float]:
    return float(x(np.interp(when, time, ahead))), float(y(np.interp(when, time, port)))


def _ship(d: Drawing, site: Site, there: Steaming, x: Scale, y: Scale) -> None:
    """Draw the keel, the landing area and its centreline produced aft."""
    half, length = site.width / 2, site.length

    def at(ahead: float, right: float) -> tuple[float, float]:
        forward, port = there.hull(ahead, right)
        return float(x(forward)), float(y(port))

    d.line(*at(-2.2 * NAUTICAL_MILE, 0.0), *at(0.0, 0.0), stroke="edge", width=1.0, dash="9 3 2 3")
    d.polygon([at(0, -half), at(length, -half), at(length, half), at(0, half)], fill="deck", stroke="ink")
    bow, keel = float(x(1.35 * length)), float(y(0.0))
    d.line(x(0.0), keel, bow, keel, stroke="ink", width=1.6)
    d.polygon([(bow + 7, keel), (bow - 3, keel - 4), (bow - 3, keel + 4)], fill="ink")


def _mark(d: Drawing, x: Scale, y: Scale, point: Checkpoint, plan: PatternPlan) -> None:
    """Ring a checkpoint and write beside it what to have there."""
    at = float(x(point.ahead)), float(y(point.port))
    height = f"{round(from_si(point.height, 'ft') / 10) * 10:.0f} ft"
    sink = f"{round(from_si(point.sink, 'fpm') / 10) * 10:.0f} ft/min"
    heading = f"{round(point.heading / DEGREE) % 360:03.0f}°"
    pattern = plan.pattern
    # the turn may begin before abeam: the two stand apart, each with its words on its own side
    early = pattern.time_to_turn < 0.0
    outside = 8.0 if early else -8.0
    spots = {
        "abeam": (-outside, -20.0, "end" if early else "start", ("abeam", f"{height}, {heading}")),
        "turn": (
            outside,
            -20.0,
            "start" if early else "end",
            (
                _when(point.time),
                f"{from_si(pattern.bank, 'deg'):.0f}° left",
            ),
        ),
        "90": (12.0, -2.0, "start", (f"the 90: {height}", f"{sink}, {heading}")),
        "45": (12.0, -14.0, "start", (f"the 45: {height}", sink)),
        "groove": (
            14.0,
            20.0,
            "start",
            (
                f"groove {pattern.groove.seconds:.1f} s: {height}",
                f"{words.number(pattern.groove.range, 'nm', 2)} nm, {sink}",
            ),
        ),
    }
    right, down, anchor, lines = spots[point.name]
    d.circle(*at, 5.0, fill="sheet", stroke="ink", width=2.0)
    for k, line in enumerate(lines):
        d.text(
            at[0] + right, at[1] + down + 13.5 * k, line, size=12, bold=k == 0, anchor=anchor, halo="sheet"
        )


def _when(time_to_turn: float) -> str:
    """Say when the turn begins, counted from abeam."""
    if abs(time_to_turn) < 0.5:
        return "turn at once"
    return f"turn, {abs(time_to_turn):.0f} s {'after' if time_to_turn > 0.0 else 'before'}"


def _wind(d: Drawing, there: Steaming) -> None:
    """Show the wind over the deck with an arrow that blows as it is felt."""
    felt = there.over_deck
    if float(felt.speed) < 0.5 * KNOT:
        return
    to = direction(float(felt.from_bow) + np.pi)
    middle = np.array([WIDTH - 46.0, HEIGHT - 54.0])
    along, side = np.array([to[0], to[1]]), np.array([-to[1], to[0]])
    tip, tail = middle + 20 * along, middle - 20 * along
    d.line(*tail, *tip, stroke="ink", width=2.6)
    d.polygon([tip + 5 * along, tip - 6 * along + 5 * side, tip - 6 * along - 5 * side], fill="ink")
    speed = f"{words.number(float(felt.speed), 'kt')} kt"
    d.text(middle[0], middle[1] - 18, speed, size=12, bold=True, anchor="middle", halo="sheet")
    d.text(middle[0], middle[1] + 26, "over the deck", size=10, ink="soft", anchor="middle", halo="sheet")


def _scale(d: Drawing, per: float) -> None:
    bar, base = 0.5 * NAUTICAL_MILE * per, HEIGHT - 12.0
    d.line(_EDGE, base, _EDGE + bar, base, stroke="ink", width=2.4)
    d.text(_EDGE + bar + 6, base + 4, "1/2 nm, a dot every 10 s", size=10.5, ink="soft", halo="sheet")
