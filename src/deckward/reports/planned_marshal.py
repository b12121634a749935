"""The planned marshal stack and way in, from above and from the side, for a card.

At rest with the ship, the final bearing to the right. Distances are to scale in both views, smaller in
the one from above where the way to the fix needs room.
"""

from __future__ import annotations

import numpy as np

from deckward.foundation import angles
from deckward.foundation.units import FOOT, NAUTICAL_MILE, from_si
from deckward.planning.inbound import GATE, Gate
from deckward.planning.marshal_plan import Held, MarshalPlan
from deckward.planning.steaming import direction
from deckward.reports.svg import Drawing, Scale

WIDTH, HEIGHT = 470.0, 390.0
_PLAN = 220.0
#: of that, what the way to the fix may take, pixels
_TALL = 150.0
_SIDE = (252.0, 366.0)
#: words over the gates of the side view; the others are plain from these
_GATES = {
    "platform": "platform",
    "10 nm": "gear and flaps",
    "6 nm": "on speed",
    "tip-over": "tip over",
}


def draw(plan: MarshalPlan) -> Drawing:
    """Draw plan and profile, and the way to the fix of the first aircraft whose place is told."""
    d = Drawing(
        "marshal-card",
        WIDTH,
        HEIGHT,
        title="The marshal stack and the way in, from above and from the side",
        says="At rest with the ship, the final bearing to the right; distances to scale.",
    )
    d.rect(0, 0, WIDTH, HEIGHT, fill="sheet")
    shown = next((one for one in plan.held if one.track is not None), None)
    far = max(float(np.hypot(*one.slot.fix)) for one in plan.held) + 4.0 * NAUTICAL_MILE
    if shown is not None and shown.track is not None:
        ahead, _ = _landing(shown.track[:, 1], shown.track[:, 2], plan.inbound.final_bearing)
        far = min(max(far, float(-ahead.min()) + 1.0 * NAUTICAL_MILE), 1.4 * far)
    # as far out as it takes to have the way to the fix, to its sides, in the view from above
    farther = float(np.ptp(_across(plan, shown))) / _TALL * (WIDTH - 22.0) - 2.0 * NAUTICAL_MILE
    above, side = (
        Scale(-reach, 2.0 * NAUTICAL_MILE, 8.0, WIDTH - 14.0) for reach in (max(far, farther), far)
    )
    _from_above(d, plan, shown, above)
    _from_the_side(d, plan, side)
    return d


def _from_above(d: Drawing, plan: MarshalPlan, shown: Held | None, x: Scale) -> None:
    bearing = plan.inbound.final_bearing
    # the middle of what is drawn is the middle of the view, as far as the final bearing stays in it
    across = _across(plan, shown)
    middle = 0.5 * float(across.min() + across.max()) * x.per_unit
    level = _PLAN / 2 + 20 - middle
    y = Scale(0.0, 1.0, level, level + x.per_unit)
    with d.clip(0, 0, WIDTH, _PLAN + 8):
        d.line(x(-GATE), y(0.0), x(0.0), y(0.0), stroke="edge", width=1.2, dash="9 3 2 3")
        if shown is not None and shown.track is not None:
            ahead, right = _landing(shown.track[:, 1], shown.track[:, 2], bearing)
            d.trace(x(ahead), y(right), stroke="blue", width=1.5, dash="6 3")
            start = float(x(ahead[0])), float(y(right[0]))
            if start[0] > 4 and 4 < start[1] < _PLAN:
                d.circle(*start, 4.5, fill="sheet", stroke="blue", width=2.0)
        d.trace(x(plan.inbound.ahead), y(plan.inbound.right), width=2.6)
        for one in plan.held:
            fix = _landing(*one.slot.fix, bearing)
            spot = float(x(fix[0])), float(y(fix[1]))
            d.circle(*spot, 3.6, fill="ink" if one is plan.held[0] else "sheet", stroke="ink", width=1.6)
    _ship(d, float(x(0.0)), float(y(0.0)), plan)
    first, last = plan.held[0].slot, plan.held[-1].slot
    spot = _landing(*first.fix, bearing)
    label = f"{_thousands(first.altitude)} at {from_si(first.distance, 'nm'):.0f} nm"
    if last is not first:
        label += f" … {_thousands(last.altitude)} at {from_si(last.distance, 'nm'):.0f} nm"
    d.text(8, 17, label, size=13, bold=True, halo="sheet")
    radial = round(np.degrees(first.radial)) % 360
    d.text(8, 33, f"radial {radial:03.0f}°, final bearing {_degrees(bearing)}", size=12, halo="sheet")
    if shown is not None:
        d.text(WIDTH - 8, _PLAN, _way_of(shown), size=11, ink="blue", anchor="end", halo="sheet")
    for miles in (10, 3):
        at = float(x(-miles * NAUTICAL_MILE))
        d.line(at, y(0.0) - 5, at, y(0.0) + 5, stroke="ink", width=1.4)
        d.text(at, y(0.0) + 19, f"{miles}", size=11, anchor="middle", halo="sheet")
    d.line(x(spot[0]), y(spot[1]) + 8, x(spot[0]), y(spot[1]) + 16, stroke="ink", width=1.0)
    d.text(x(spot[0]), y(spot[1]) + 28, "fix", size=11, anchor="middle", halo="sheet")


def _across(plan: MarshalPlan, shown: Held | None) -> np.ndarray:
    """Give how far right of the final bearing all that is seen from above lies, m."""
    sides = [np.zeros(1), plan.inbound.right]
    if shown is not None and shown.track is not None:
        sides.append(_landing(shown.track[:, 1], shown.track[:, 2], plan.inbound.final_bearing)[1])
    return np.concatenate(sides)


def _way_of(one: Held) -> str:
    assert one.holding is not None
    laps = one.holding.laps
    if laps is None:
        return f"dashed: {one.who} to the fix"
    count = "1 lap" if laps.count == 1 else f"{laps.count} laps"
    return f"dashed: {one.who}, {count} of {laps.seconds:.0f} s"


def _from_the_side(d: Drawing, plan: MarshalPlan, x: Scale) -> None:
    inbound = plan.inbound
    top = max(one.slot.altitude for one in plan.held)
    y = Scale(0.0, top * 1.08, _SIDE[1], _SIDE[0])
    d.line(8, y(0.0), WIDTH - 8, y(0.0), stroke="ink", width=1.4)
    d.line(8, _SIDE[0] - 12, WIDTH - 8, _SIDE[0] - 12, stroke="rule", width=1.0)
    out = -np.hypot(inbound.ahead, inbound.right)
    d.trace(x(out), y(inbound.height), width=2.6)
    for one in plan.held:
        at = float(x(-np.hypot(*one.slot.fix)))
        level = float(y(one.slot.altitude))
        d.line(at - 20, level, at, level, stroke="ink", width=1.6)
    for miles in (10, 20, 30):
        if -miles * NAUTICAL_MILE > x.low:
            at = float(x(-miles * NAUTICAL_MILE))
            d.line(at, y(0.0), at, y(0.0) + 4, stroke="ink", width=1.2)
            d.text(at, y(0.0) + 16, f"{miles} nm", size=10.5, anchor="middle")
    for gate in inbound.gates:
        if gate.name in _GATES:
            _gate(d, x, y, gate)


def _gate(d: Drawing, x: Scale, y: Scale, gate: Gate) -> None:
    """Mark a gate, and write its name and height on a line that rises from it."""
    at = float(x(-gate.range)), float(y(gate.height))
    rise = {"platform": 0.0, "10 nm": 48.0, "6 nm": 31.0, "tip-over": 14.0}[gate.name]
    d.circle(*at, 3.4, fill="sheet", stroke="ink", width=1.6)
    label = f"{_GATES[gate.name]}, {round(from_si(gate.height, 'ft') / 100) * 100:,.0f} ft"
    if gate.name == "platform":
        d.text(at[0] + 8, at[1] - 2, label, size=11, bold=True, halo="sheet")
        return
    d.line(at[0], at[1] - 4, at[0], at[1] - rise, stroke="soft", width=0.8)
    if gate.name != "10 nm":
        label = _GATES[gate.name]
    d.text(at[0] + 2, at[1] - rise - 3, label, size=11, bold=True, halo="sheet")


def _landing(north, east, bearing: float):
    """Turn north and east of the ship into along and right of the final bearing."""
    along, right = direction(bearing), direction(bearing + np.pi / 2)
    return north * along[0] + east * along[1], north * right[0] + east * right[1]


def _ship(d: Drawing, x: float, y: float, plan: MarshalPlan) -> None:
    """Draw the ship's keel as she steers against the final bearing."""
    keel = float(angles.difference(plan.steaming.course, plan.inbound.final_bearing))
    along = np.array([np.cos(keel), np.sin(keel)])
    side = np.array([-along[1], along[0]])
    at = np.array([x, y])
    tip = at + 16 * along
    d.line(*at, *tip, stroke="ink", width=2.4)
    d.polygon([tip + 5 * along, tip - 4 * along + 4 * side, tip - 4 * along - 4 * side], fill="ink")


def _thousands(altitude: float) -> str:
    return f"{round(altitude / FOOT / 100) * 100:,.0f} ft"


def _degrees(bearing: float) -> str:
    return f"{round(np.degrees(bearing)) % 360:03.0f}°"
