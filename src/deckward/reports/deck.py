"""The deck at true scale: the last 300 ft of a pass, and where a session's hooks came down.

Deck frame: x forward along the landing-area centreline from the ramp, y to starboard,
z up. One foot is as long up as along.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from deckward.foundation.units import FOOT, from_si, to_si
from deckward.passes.model import Pass
from deckward.reports import typeface, words
from deckward.reports.approach import stretch
from deckward.reports.model import PassReport
from deckward.reports.svg import Drawing, Form, Scale, ticks
from deckward.site.model import Site

#: how far aft of the ramp the picture begins
BEHIND = to_si(300.0, "ft")
#: never higher than this over the deck, m
TALL = to_si(90.0, "ft")
_WIDE = {Form.WIDE: 1000.0, Form.NARROW: 380.0, Form.SHEET: 760.0}


def draw(flown: Pass, *, name: str, form: Form = Form.WIDE) -> Drawing:
    """Draw ramp, wires, hook and wheels from 300 ft aft of the ramp: from the side and from above.

    A telephone's width is too small for both halves in a row: there they stand one
    above the other. A printed sheet has room for the side alone.
    """
    ahead = _ahead(flown)
    parts = [(-BEHIND, to_si(30.0, "ft")), (to_si(-30.0, "ft"), ahead)]
    if form is not Form.NARROW:
        parts = [(-BEHIND, ahead)]
    width = _WIDE[form]
    drawing = Drawing(
        f"{name}-deck-{form.value}",
        width,
        0.0,
        title=f"The last 300 ft at true scale: {words.headline(flown)}, {words.called(flown.who)}",
        says="Side and plan of the landing area with the ramp, the numbered wires, the paths of the hook "
        "and the main wheels and the touchdown point.",
    )
    floor = 0.0
    # the wider half sets the scale, so that a foot is a foot in both
    longest = max(high - low for low, high in parts)
    for low, high in parts:
        end = 12.0 + (width - 24.0) * (high - low) / longest
        x = Scale(low, high, 12.0, end)
        floor = _side(drawing, flown, x, floor)
        if form is not Form.SHEET:
            floor = _plan(drawing, flown, x, floor)
        floor = _feet(drawing, x, floor)
    drawing.height = _legend(drawing, floor)
    return drawing


def _ahead(flown: Pass) -> float:
    """Return how far past the ramp to draw: the wires, the touchdown, a little more."""
    wires = flown.site.wires.positions if flown.site.wires else ()
    touch = flown.touchdown
    met = [x for x in (touch.hook_x, touch.wheels_x) if x is not None] if touch else []
    reach = max([flown.site.lens.hook_target, *wires, *met]) + 20.0
    return float(min(reach, flown.site.length, to_si(460.0, "ft")))


def _feet(d: Drawing, x: Scale, floor: float) -> float:
    """Write the distance axis under one stretch of deck; return the new floor."""
    y = floor + 4
    d.line(x.start, y, x.end, y, stroke="edge", width=0.7)
    for v in ticks(x.low / FOOT, x.high / FOOT, int((x.end - x.start) / 60)):
        at = x(to_si(v, "ft"))
        label = "ramp" if v == 0 else f"{abs(v):.0f}"
        d.line(at, y, at, y + 4, stroke="edge", width=0.7)
        room = typeface.width(label, 9.5) / 2
        middle = float(np.clip(at, room, d.width - room))
        d.text(middle, y + 14, label, size=9.5, ink="soft", anchor="middle", bold=v == 0)
    d.text(x.end, y + 26, "ft from the ramp", size=9.5, ink="soft", anchor="end")
    return y + 32


def _side(d: Drawing, flown: Pass, x: Scale, floor: float) -> float:
    s, site, scale = flown.series, flown.site, abs(x.per_unit)
    slope = math.tan(site.lens.basic_angle)
    near = [_hook_before(flown), *(_before(wheel, flown) for wheel in (s.right_wheel, s.left_wheel))]
    shown = [t[(t[:, 0] >= x.low) & (t[:, 0] <= x.high), 2] for t in near]
    top = max([float(np.nanmax(z, initial=0.0)) for z in shown] + [slope * (site.lens.hook_target - x.low)])
    high = min(top + 3.0, TALL)
    above, below = high * scale, 26.0
    z = Scale(0.0, high, floor + above + 18, floor + 18)
    deck = z(0.0)
    d.text(x.start, floor + 11, "From the side", size=11, bold=True)
    note = "true scale, deck held level"
    d.text(
        x.start + typeface.width("From the side", 11, bold=True) + 6, floor + 11, note, size=10, ink="soft"
    )
    with d.clip(x.start - 4, floor + 14, x.end - x.start + 8, above + below + 8):
        ramp = x(max(0.0, x.low))
        d.polygon(
            [(ramp, deck), (x.end, deck), (x.end, deck + 13), (ramp + 10, deck + 13), (ramp, deck + 4)],
            fill="deck",
        )
        d.line(ramp, deck, x.end, deck, stroke="ink", width=1.6)
        if x.low < 0.0:
            d.line(ramp, deck, ramp, deck + 4, stroke="ink", width=1.6)
        target = site.lens.hook_target
        d.line(
            x(x.low), z(slope * (target - x.low)), x(target), deck, stroke="edge", width=1.1, dash="9 3 2 3"
        )
        for track in near[1:]:
            d.trace(x(track[:, 0]), z(track[:, 2]), stroke="soft", width=1.1, dash="5 3")
        d.trace(x(near[0][:, 0]), z(near[0][:, 2]), width=2.4)
        after = _after(s.hook, flown)
        d.trace(x(after[:, 0]), z(np.maximum(after[:, 2], 0.0)), stroke="ink", width=1.2, dash="1 3")
    for number, at in enumerate(site.wires.positions if site.wires else (), 1):
        if x.low <= at <= x.high:
            taken = number == flown.wire
            d.circle(x(at), deck - 1.2, 2.8, fill="ink" if taken else "paper", stroke="ink", width=1.2)
            _wire_number(d, x(at), deck + 24, number, taken)
    if x(0.0) - x.start > 130.0:
        _ramp_height(d, flown, x(0.0), z)
    touch = flown.touchdown
    if touch is not None:
        met = touch.hook_x if touch.hook_x is not None else touch.wheels_x
        if met is not None and x.low < met < x.high:
            what = "hook down" if touch.hook_x is not None else "wheels down"
            if touch.kind == "wire":
                what = "wire taken in the air"
            _touch_mark(d, x(met), deck, f"{what} {words.number(met, 'ft')} ft", x)
    return deck + below


def _before(track: np.ndarray, flown: Pass) -> np.ndarray:
    """Return the last straight run of a path (n, 3) up to contact with the deck."""
    run = stretch(flown).samples
    return track[run.start : min(run.stop, flown.series.contact)]


def _hook_before(flown: Pass) -> np.ndarray:
    """Return the hook's path (n, 3) as :func:`_before`, ended where it met deck or wire."""
    path, touch = _before(flown.series.hook, flown), flown.touchdown
    if touch is None or touch.hook_x is None or touch.off_centre is None:
        return path
    return np.vstack([path, [touch.hook_x, touch.off_centre, 0.0]])


def _after(track: np.ndarray, flown: Pass) -> np.ndarray:
    """Return what a path (n, 3) does from contact on, while it is over the deck drawn."""
    return track[flown.series.contact : stretch(flown).samples.stop]


def _wire_number(d: Drawing, x: float, y: float, number: int, taken: bool) -> None:
    if taken:
        d.circle(x, y - 3.6, 7.5, fill="ink")
    d.text(x, y, str(number), size=10.5, ink="paper" if taken else "ink", anchor="middle", bold=taken)


def _ramp_height(d: Drawing, flown: Pass, x: float, z: Scale) -> None:
    """Dimension the hook over the ramp."""
    if flown.ramp is None:
        return
    deck, hook = z(0.0), z(flown.ramp.hook_to_ramp)
    label = f"hook to ramp {words.height(flown.ramp.hook_to_ramp)} ft"
    side = x - 9
    seen = max(hook, z.end)
    d.line(side - 4, deck, x, deck, stroke="blue", width=0.9)
    if hook >= z.end:
        d.line(side - 4, hook, x, hook, stroke="blue", width=0.9)
    else:
        label += ", above this picture"
    d.line(side, deck, side, seen, stroke="blue", width=1.1)
    for y, tip in ((deck, -4), (seen, 4)):
        if abs(deck - seen) > 12:
            d.polygon([(side, y), (side - 2.6, y + tip), (side + 2.6, y + tip)], fill="blue")
    middle = (deck + seen) / 2 + 3.6
    d.text(side - 7, middle, label, size=11, ink="blue", anchor="end", bold=True, halo="paper")


def _touch_mark(d: Drawing, x: float, deck: float, label: str, span: Scale) -> None:
    d.polygon([(x, deck - 3), (x - 5, deck - 13), (x + 5, deck - 13)], fill="blue")
    room = typeface.width(label, 11, bold=True)
    end = x + 9 + room > span.end
    spot = x - 9 if end else x + 9
    d.text(
        spot, deck - 13, label, size=11, ink="blue", bold=True, halo="paper", anchor="end" if end else "start"
    )


def landing_area(d: Drawing, site: Site, x: Scale, y: Scale, taken: int | None) -> None:
    """Draw the landing area from above: edges, centreline, wires."""
    half = site.width / 2
    start, end = x(max(0.0, x.low)), x.end
    d.rect(start, y(-half), end - start, y(half) - y(-half), fill="deck")
    for side in (-half, half):
        d.line(start, y(side), end, y(side), stroke="ink", width=1.1)
    if x.low < 0.0:
        d.line(start, y(-half), start, y(half), stroke="ink", width=2.2)
    d.line(x.start, y(0.0), end, y(0.0), stroke="edge", width=1.0, dash="9 3 2 3")
    for number, at in enumerate(site.wires.positions if site.wires else (), 1):
        if x.low <= at <= x.high:
            mine = number == taken
            d.line(x(at), y(-half), x(at), y(half), stroke="ink", width=2.4 if mine else 0.9)
            _wire_number(d, x(at), y(half) + 15, number, mine)


def _plan(d: Drawing, flown: Pass, x: Scale, floor: float) -> float:
    s, site, scale = flown.series, flown.site, abs(x.per_unit)
    half = site.width / 2
    top = floor + 22
    y = Scale(-half, half, top, top + site.width * scale)
    d.text(x.start, floor + 13, "From above", size=11, bold=True)
    note = "port edge on top"
    d.text(x.start + typeface.width("From above", 11, bold=True) + 6, floor + 13, note, size=10, ink="soft")
    landing_area(d, site, x, y, flown.wire)
    with d.clip(x.start - 4, top - 4, x.end - x.start + 8, site.width * scale + 8):
        for wheel in (s.right_wheel, s.left_wheel):
            track = _before(wheel, flown)
            d.trace(x(track[:, 0]), y(track[:, 1]), stroke="soft", width=1.1, dash="5 3")
        hook = _hook_before(flown)
        d.trace(x(hook[:, 0]), y(hook[:, 1]), stroke="deck", width=4.2)
        d.trace(x(hook[:, 0]), y(hook[:, 1]), width=2.4)
        after = _after(s.hook, flown)
        d.trace(x(after[:, 0]), y(after[:, 1]), width=1.2, dash="1 3")
    _touch_spot(d, flown, x, y)
    return y(half) + 22


def _touch_spot(d: Drawing, flown: Pass, x: Scale, y: Scale) -> None:
    """Ring where the hook came down and say how far off the centreline that is."""
    touch = flown.touchdown
    if touch is None or touch.off_centre is None or touch.hook_x is None:
        return
    if not x.low < touch.hook_x < x.high:
        return
    at, across = x(touch.hook_x), y(touch.off_centre)
    d.circle(at, across, 5.0, fill="paper", stroke="blue", width=2.2)
    size, side = words.sided(touch.off_centre, "ft", 0, "right", "left", "on the centreline")
    label = side if size == "0" else f"{size} ft {side}"
    room = typeface.width(label, 11, bold=True) / 2
    middle = float(np.clip(at, x.start + room, x.end - room))
    place = across - 11 if touch.off_centre > 0 else across + 19
    d.text(middle, place, label, size=11, ink="blue", anchor="middle", bold=True, halo="deck")


def _legend(d: Drawing, floor: float) -> float:
    x, y = 12.0, floor + 6
    samples: list[tuple[str, dict]] = [
        ("hook", {"stroke": "ink", "width": 2.4}),
        ("main wheels", {"stroke": "soft", "width": 1.1, "dash": "5 3"}),
        ("after contact", {"stroke": "ink", "width": 1.2, "dash": "1 3"}),
        ("commanded hook path, centreline", {"stroke": "edge", "width": 1.1, "dash": "9 3 2 3"}),
    ]
    for label, style in samples:
        wide = 32 + typeface.width(label, 10) + 16
        if x + wide > d.width + 8:
            x, y = 12.0, y + 16
        d.line(x, y - 3.5, x + 26, y - 3.5, **style)
        d.text(x + 32, y, label, size=10, ink="soft")
        x += wide
    return y + 8


def scatter(
    reports: Sequence[PassReport], *, name: str = "session", form: Form = Form.WIDE
) -> Drawing | None:
    """Draw where the hooks of a session came down on the landing area; None where none did.

    Passes at other sites than the first one's are left out, and the drawing says so.
    """
    down = [
        item
        for item in reports
        if item.flown.touchdown is not None
        and item.flown.touchdown.hook_x is not None
        and item.flown.touchdown.off_centre is not None
        and item.flown.site.name == reports[0].flown.site.name
    ]
    if not down:
        return None
    site = down[0].flown.site
    width = _WIDE[form]
    met = [touch_x(item) for item in down]
    wires = site.wires.positions if site.wires else (site.lens.hook_target,)
    low = min([-5.0, *(v - 6.0 for v in met)])
    high = max([wires[-1] + 16.0, *(v + 6.0 for v in met)])
    half = site.width / 2
    x = Scale(low, high, 12.0, width - 12.0)
    top = 8.0
    y = Scale(-half, half, top, top + site.width * x.per_unit)
    drawing = Drawing(
        f"session-touchdowns-{form.value}",
        width,
        y(half) + 58,
        title=f"Where the hook came down: {len(down)} passes",
        says="The landing area from above at true scale with the wires and a numbered mark for each pass.",
    )
    landing_area(drawing, site, x, y, None)
    spots = [(float(x(touch_x(item))), float(y(_across(item)))) for item in down]
    labels = _spread([str(item.number) for item in down], spots)
    for item, (sx, sy) in zip(down, spots, strict=True):
        spread = item.flown.touchdown.hook_x_sigma if item.flown.touchdown else None
        if spread is not None and spread * x.per_unit > 6:
            reach = spread * x.per_unit
            drawing.line(sx - reach, sy, sx + reach, sy, stroke="soft", width=1.4)
        _mark(drawing, sx, sy, item.flown.outcome == "trap")
    for item, (lx, ly) in zip(down, labels, strict=True):
        drawing.text(lx, ly, str(item.number), size=11, bold=True, anchor="middle", halo="deck")
    base = y(half) + 24
    for v in ticks(from_si(low, "ft"), from_si(high, "ft"), int(width / 75)):
        at = x(to_si(v, "ft"))
        drawing.line(at, base, at, base + 4, stroke="edge", width=0.7)
        label = f"{v:.0f}" if v else "ramp"
        drawing.text(at, base + 14, label, size=9.5, ink="soft", anchor="middle", bold=not v)
    drawing.line(x.start, base, x.end, base, stroke="edge", width=0.7)
    for at, stopped, label in ((18.0, True, "trap"), (70.0, False, "not stopped")):
        _mark(drawing, at, base + 25, stopped)
        drawing.text(at + 11, base + 28, label, size=10, ink="soft")
    drawing.text(x.end, base + 28, "ft past the ramp", size=9.5, ink="soft", anchor="end")
    if any(item.flown.site.name != site.name for item in reports):
        only = f"at {words.called(site.name)} only"
        room = typeface.fit(only, 10, width - 280)
        drawing.text(156, base + 28, room, size=10, ink="soft")
    return drawing


def _mark(d: Drawing, x: float, y: float, stopped: bool) -> None:
    """Draw a filled circle for a jet that a wire stopped, an open diamond for one that flew on."""
    if stopped:
        d.circle(x, y, 5.2, fill="ink", stroke="paper", width=1.4)
    else:
        corners = [(x, y - 6.5), (x + 6.5, y), (x, y + 6.5), (x - 6.5, y)]
        d.polygon(corners, fill="paper", stroke="ink", width=1.8)


def touch_x(item: PassReport) -> float:
    """Return where the hook came down, m past the ramp."""
    assert item.flown.touchdown is not None and item.flown.touchdown.hook_x is not None
    return item.flown.touchdown.hook_x


def _across(item: PassReport) -> float:
    assert item.flown.touchdown is not None and item.flown.touchdown.off_centre is not None
    return item.flown.touchdown.off_centre


def _spread(labels: Sequence[str], spots: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Place each label beside its mark where it meets no mark and no other label."""
    placed: list[tuple[float, float]] = []
    around = [(0, -10), (0, 18), (14, 4), (-14, 4), (12, -7), (-12, -7), (12, 15), (-12, 15)]
    around += [(2 * dx, 2 * dy) for dx, dy in around]
    for label, (sx, sy) in zip(labels, spots, strict=True):
        room = typeface.width(label, 11, bold=True) / 2 + 3

        def free(at: tuple[float, float], room: float = room) -> bool:
            marks = all(abs(at[0] - px) > room + 5 or abs(at[1] - 4 - py) > 10 for px, py in spots)
            return marks and all(abs(at[0] - px) > 2 * room or abs(at[1] - py) > 12 for px, py in placed)

        choices = [(sx + dx, sy + dy) for dx, dy in around]
        placed.append(next((at for at in choices if free(at)), choices[0]))
    return placed
