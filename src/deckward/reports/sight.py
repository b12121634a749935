"""What the pilot saw: lens, index and deck picture at the positions of a pass.

The ball stands at its virtual image's place in the window; its colour and whether it is
on the lens at all go by the angle. The deck picture is a level camera at the eye, looking
along the landing-area centreline: right is right, up is up.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from msgspec import Struct

from deckward.foundation import frames
from deckward.passes.axes import hull_to_deck
from deckward.passes.model import Pass, Position
from deckward.reports import typeface, words
from deckward.reports.approach import TOGETHER
from deckward.reports.svg import Drawing, Form

#: how many moments are shown at most
MOST = 6
_ON_SHEET = 4
#: height of a moment with its deck picture and without, px
_TALL = 290.0
_SHORT = 168.0


class Moment(Struct, frozen=True):
    """One moment to draw: the names of the positions that fall on it, and its sample."""

    names: str
    at: Position
    sample: int


def moments(flown: Pass, most: int = MOST) -> list[Moment]:
    """Pick the moments that have a ball to see, in order of time; positions at one place are one.

    Where there are more than ``most``, those that follow another soonest are left out.
    """
    series = flown.series
    out: list[Moment] = []
    for at in sorted(flown.positions, key=lambda at: at.time):
        sample = min(int(np.searchsorted(series.time, at.time)), series.time.size - 1)
        if not words.known(at.ball_cells) or at.after_wave_off or sample > series.contact:
            continue
        if out and abs(out[-1].at.range - at.range) < TOGETHER:
            joined = f"{out[-1].names} · {words.called(at.name)}"
            out[-1] = Moment(joined, out[-1].at, out[-1].sample)
        else:
            out.append(Moment(words.called(at.name), at, sample))
    while len(out) > most:
        after = [later.at.time - sooner.at.time for sooner, later in pairwise(out)]
        del out[after.index(min(after)) + 1]
    return out


def draw(flown: Pass, *, name: str, form: Form = Form.WIDE) -> Drawing | None:
    """Draw the moments side by side, two in a row on a telephone; None where there is none.

    A printed sheet has a few of them in a column, without the deck pictures.
    """
    seen = moments(flown, _ON_SHEET if form is Form.SHEET else MOST)
    if not seen:
        return None
    across = {Form.WIDE: max(len(seen), 4), Form.NARROW: 2, Form.SHEET: 1}[form]
    width = {Form.WIDE: 1000.0, Form.NARROW: 380.0, Form.SHEET: 216.0}[form]
    tall = _SHORT if form is Form.SHEET else _TALL
    column = width / across
    down = -(-len(seen) // across)
    drawing = Drawing(
        f"{name}-sight-{form.value}",
        width,
        tall * down,
        title=f"What the pilot saw: {words.called(flown.who)}",
        says="For each position the ball in the lens, the angle-of-attack index and the deck with the "
        "flight-path marker.",
    )
    for k, moment in enumerate(seen):
        # columns keep a readable width however few there are
        box = min(column - (0 if form is Form.SHEET else 14), 214.0)
        left = column * (k % across) + (column - box) / 2
        with drawing.shifted(left, tall * (k // across)):
            _moment(drawing, flown, moment, box)
            if form is not Form.SHEET:
                _deck(drawing, flown, moment, box)
    return drawing


def _moment(d: Drawing, flown: Pass, moment: Moment, box: float) -> None:
    at, ramp = moment.at, flown.ramp
    d.text(0, 13, typeface.fit(moment.names, 12, box - 58, bold=True), size=12, bold=True)
    if ramp is not None and ramp.time - at.time > 0.5:
        d.text(box, 13, f"{ramp.time - at.time:.0f} s to go", size=10, ink="soft", anchor="end")
    d.line(0, 19, box, 19, stroke="ink", width=0.9)
    _lens(d, flown, moment, box / 2 - 16)
    _index(d, words.speed_word(at.angle_of_attack_error, flown.aircraft), box - 16)
    high, word = words.ball(at.ball_cells)
    d.text(0, 148, f"{high} {word}" + _colour_word(flown, at), size=11, bold=True)
    speed = words.speed_word(at.angle_of_attack_error, flown.aircraft)
    alpha = f"{words.number(at.angle_of_attack, 'deg', 1)}° {speed}" if speed else "not in the recording"
    d.text(0, 162, f"AoA {alpha}", size=10, ink="soft")


def _on_lens(flown: Pass, at: Position) -> bool:
    return abs(at.ball_cells) <= flown.site.lens.cells / 2


def _is_red(flown: Pass, at: Position) -> bool:
    lens = flown.site.lens
    return at.ball_cells < lens.red_cells - lens.cells / 2


def _colour_word(flown: Pass, at: Position) -> str:
    if not _on_lens(flown, at):
        return ", off the lens"
    return ", red" if _is_red(flown, at) else ""


def _lens(d: Drawing, flown: Pass, moment: Moment, x: float) -> None:
    """Draw the window with the ball where its image stands, between the datum lights."""
    lens, at = flown.site.lens, moment.at
    top, tall, wide = 36.0, 88.0, 24.0
    middle = top + tall / 2
    d.rect(x - wide / 2 - 3, top - 3, wide + 6, tall + 6, fill="lens", stroke="edge", line=1, radius=2.5)
    for k in range(1, lens.cells):
        y = top + tall * k / lens.cells
        d.line(x - wide / 2, y, x + wide / 2, y, stroke="edge", width=0.4)
    for k in range(6):
        for side in (-1, 1):
            d.circle(x + side * (wide / 2 + 9 + 6.4 * k), middle, 2.5, fill="green")
    if _on_lens(flown, at):
        cell = tall / lens.cells
        place = float(flown.series.ball_in_window[moment.sample]) / lens.window_height * tall
        if not np.isfinite(place):
            place = at.ball_cells * cell
        y = middle - float(np.clip(place, -(tall - cell) / 2, (tall - cell) / 2))
        half = max(cell, 7.0) / 2
        red = _is_red(flown, at)
        lamp = "red" if red else "amber"
        d.rect(x - wide / 2, y - half, wide, 2 * half, fill=lamp, stroke="glare", line=0.8, radius=half)
        if red:
            for dx in (-6, 0, 6):
                d.line(x + dx - 2, y + half - 1, x + dx + 2, y - half + 1, stroke="glare", width=1.3)
    else:
        up = at.ball_cells > 0
        y, tip = (top - 7, -6) if up else (top + tall + 7, 6)
        d.polygon([(x - 6, y), (x + 6, y), (x, y + tip)], fill="ink")


def _index(d: Drawing, speed: str, x: float) -> None:
    """Draw the index: upper chevron slow, ring on speed, lower chevron fast; lit ones filled."""
    top = 48.0
    slow, fast = "slow" in speed, "fast" in speed
    centred = speed == "on speed" or speed.startswith("slightly")

    def chevron(y: float, tip: float, lit: bool, lamp: str) -> None:
        points = [(x - 10, y), (x, y + tip), (x + 10, y), (x + 10, y + 0.55 * abs(tip)), (x, y + tip + 6.5)]
        points.append((x - 10, y + 0.55 * abs(tip)))
        if lit:
            d.polygon(points, fill=lamp, stroke="ink", width=1.4)
        else:
            d.polygon(points, stroke="edge", width=0.8)

    chevron(top, 11.0, slow, "green")
    chevron(top + 58, -11.0, fast, "red")
    d.circle(x, top + 32, 8.0, stroke="ink" if centred else "edge", width=5.6 if centred else 0.9)
    if centred:
        d.circle(x, top + 32, 8.0, stroke="amber", width=3.2)


def level(points: np.ndarray, angle: float, pitch: float, roll: float) -> np.ndarray:
    """Turn deck-frame points (n, 3) into the approach frame of a deck pitched bow-up and rolled.

    ``angle`` is the landing area's to port of the keel, ``roll`` + starboard down; rad.
    """
    hull = np.asarray(points, dtype=float) @ hull_to_deck(angle)
    still = frames.rotate(frames.body_to_level(0.0, pitch, roll), hull)
    return frames.rotate_back(frames.yaw(-angle), still) * np.array([1.0, 1.0, -1.0])


def _deck(d: Drawing, flown: Pass, moment: Moment, box: float) -> None:
    """Draw the landing area from the eye with the flight-path marker and the far right corner."""
    s, site, k = flown.series, flown.site, moment.sample
    top, tall = 171.0, 92.0
    eye = s.eye[k]
    half = site.width / 2
    d.rect(0, top, box, tall, fill="sheet")
    near = max(0.0, float(eye[0]) + 12.0)

    def project(points: list[tuple[float, float, float]]) -> np.ndarray:
        turned = level(np.array(points), site.angle, float(s.deck_pitch[k]), float(s.deck_roll[k])) - eye
        ahead = np.maximum(turned[:, 0], 4.0)
        return np.column_stack([turned[:, 1] / ahead, turned[:, 2] / ahead])

    corner = project([(site.length, half, 0.0)])[0]
    marker = corner + np.tan([float(s.marker_right_of_corner[k]), float(s.marker_above_corner[k])])
    middle = project([((near + site.length) / 2, 0.0, 0.0)])[0]
    field = 2.2 * half / (max(moment.at.range, 0.0) + 110.0)
    if np.isfinite(marker).all():
        # wide enough for the marker too, where that leaves the deck large enough to read
        away = np.abs(marker - middle) * (1.15, 1.15 * box / tall)
        field = float(np.clip(np.max(away), field, 2.0 * field))
    per = box / 2 / field
    x0, y0 = box / 2 - middle[0] * per, top + tall / 2 + middle[1] * per

    def place(points: np.ndarray) -> np.ndarray:
        return np.column_stack([x0 + points[:, 0] * per, y0 - points[:, 1] * per])

    with d.clip(0, top, box, tall):
        if y0 > top:
            d.line(0, y0, box, y0, stroke="edge", width=0.8)
        sides = [(near, -half, 0.0), (site.length, -half, 0.0), (site.length, half, 0.0), (near, half, 0.0)]
        d.polygon(place(project(sides)), fill="deck", stroke="ink", width=0.9)
        line = place(project([(near, 0.0, 0.0), (site.length, 0.0, 0.0)]))
        d.line(*line[0], *line[1], stroke="paper", width=1.8)
        for at in site.wires.positions if site.wires else ():
            if at > near:
                a, b = place(project([(at, -half, 0.0), (at, half, 0.0)]))
                d.line(*a, *b, stroke="ink", width=0.5)
        cx, cy = place(corner[None, :])[0]
        d.rect(cx - 2.6, cy - 2.6, 5.2, 5.2, fill="paper", stroke="ink", line=1.1)
        if np.isfinite(marker).all():
            mx, my = place(marker[None, :])[0]
            _flight_path(d, float(mx), float(my), box, top, tall)
    d.rect(0, top, box, tall, stroke="edge", line=0.7)
    wide = 2 * np.degrees(np.arctan(field))
    d.text(
        box - 4, top + tall - 4, f"{wide:.{1 if wide < 10 else 0}f}° wide", size=8.5, ink="soft", anchor="end"
    )
    size, side = words.sided(moment.at.line_up_offset, "ft", 0, "right", "left", "on the centreline")
    offset = side if size == "0" else f"{size} ft {side}"
    d.text(0, top + tall + 13, offset, size=10.5, bold=True)
    drift, way = words.sided(float(s.drift[k]), "deg", 1, "right", "left", "no drift")
    moving = way if float(drift if drift != words.NOTHING else 0) == 0 else f"drift {drift}° {way}"
    d.text(box, top + tall + 13, moving, size=10, ink="soft", anchor="end")


def _flight_path(d: Drawing, x: float, y: float, box: float, top: float, tall: float) -> None:
    """Draw the flight-path marker; at the frame's edge, an arrow to where it is."""
    fx, fy = float(np.clip(x, 8, box - 8)), float(np.clip(y, top + 8, top + tall - 8))
    if (fx, fy) != (x, y):
        away = np.array([x - fx, y - fy])
        away /= np.hypot(*away)
        across = np.array([-away[1], away[0]])
        tip = np.array([fx, fy])
        d.polygon([tip + 7 * away, tip - 3 * away + 5 * across, tip - 3 * away - 5 * across], fill="blue")
        return
    for ink, extra in (("paper", 2.4), ("blue", 0.0)):
        d.circle(x, y, 4.2, stroke=ink, width=1.7 + extra)
        d.line(x - 11, y, x - 4.2, y, stroke=ink, width=1.7 + extra)
        d.line(x + 4.2, y, x + 11, y, stroke=ink, width=1.7 + extra)
        d.line(x, y - 9, x, y - 4.2, stroke=ink, width=1.7 + extra)
