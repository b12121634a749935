"""What a ship or a jet was measured from: every sighting where it lies, and what was concluded.

The plan is at true scale, in deck axes: x forward along the landing-area centreline from the
ramp, y to starboard. Heights are drawn larger than lengths, and say so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from deckward.aircraft.model import Profile
from deckward.passes.evidence import Evidence, down
from deckward.reports import typeface
from deckward.reports.svg import Drawing, Scale, ticks
from deckward.site.model import Site

_WIDTH, _EDGE = 1000.0, 14.0
#: how far aft of the ramp and beside the landing area the plan goes, m
_AFT, _BESIDE = 60.0, 6.0
#: heights shown, m over the deck
_LOWEST, _HIGHEST = -1.0, 9.0
#: one standard deviation is never drawn thinner than this, px
_THIN = 1.0


def of_site(site: Site, seen: Evidence, rows: Sequence[tuple[str, str]]) -> Drawing:
    """Draw a measured landing area with what it was measured from, and the conclusions beneath."""
    d = Drawing(
        "evidence",
        _WIDTH,
        0.0,
        title=f"What {site.name} was measured from",
        says="Plan and heights of the landing area with approaches, touches, beginnings of pulls and rests; "
        "wires and ramp with one standard deviation.",
    )
    x = Scale(-_AFT, _reach(site, seen), _EDGE, _WIDTH - _EDGE)
    floor = _plan(d, site, seen, x)
    floor = _heights(d, site, seen, x, floor)
    floor = _metres(d, x, floor)
    floor = _key(d, floor)
    d.height = _conclusions(d, rows, floor)
    return d


def _reach(site: Site, seen: Evidence) -> float:
    far = [site.lens.hook_target, *(site.wires.positions if site.wires else ()), *seen.stood[:, 0]]
    return float(min(max(far) + 30.0, site.length))


def _plan(d: Drawing, site: Site, seen: Evidence, x: Scale) -> float:
    half, scale = site.width / 2.0, x.per_unit
    beside = half + _BESIDE
    y = Scale(-beside, beside, 22.0, 22.0 + 2.0 * beside * scale)
    _heading(d, 12.0, site.name, "from above, true scale, port on top, the ship at rest")
    with d.clip(x.start, y.start, x.end - x.start, y.end - y.start):
        d.rect(x(0.0), y(-half), x(site.length) - x(0.0), site.width * scale, fill="deck")
        d.line(x.start, y(0.0), x.end, y(0.0), stroke="edge", dash="9 3 2 3")
        _band(d, x, site.sigma.ramp[0], 0.0, y(-half), y(half))
        d.line(x(0.0), y(-half), x(0.0), y(half), stroke="ink", width=1.6)
        for at in site.wires.positions if site.wires else ():
            _band(d, x, site.sigma.wires, at, y(-half), y(half))
            d.line(x(at), y(-half), x(at), y(half), stroke="ink", width=1.1)
        for path in seen.paths:
            d.trace(x(path[:, 0]), y(path[:, 1]), stroke="soft", width=0.9)
        for at, off in seen.touches:
            d.polygon(_triangle(x(at), y(off)), fill="paper", stroke="ink", width=1.1)
        for at, off, _ in seen.stood:
            d.rect(x(at) - 3.0, y(off) - 3.0, 6.0, 6.0, fill="paper", stroke="ink", line=1.1)
        for at, off, sigma in seen.pulls:
            d.line(x(at - sigma), y(off), x(at + sigma), y(off), stroke="blue", width=1.4)
            d.circle(x(at), y(off), 3.4, fill="blue", stroke="paper", width=0.8)
    for number, at in enumerate(site.wires.positions if site.wires else (), 1):
        d.text(x(at), y(half) + 13.0, str(number), size=11, anchor="middle", bold=True)
    d.text(x(0.0), y(half) + 13.0, "ramp", size=10, ink="soft", anchor="middle")
    return y.end + 8.0


def _heights(d: Drawing, site: Site, seen: Evidence, x: Scale, floor: float) -> float:
    top = floor + 26.0
    z = Scale(_LOWEST, _HIGHEST, top + 130.0, top)
    times = abs(z.per_unit) / x.per_unit
    _heading(d, floor + 14.0, "Heights over the deck", f"drawn {times:.0f} times as large as lengths")
    with d.clip(x.start, z.end, x.end - x.start, z.start - z.end):
        doubt = max(site.sigma.ramp[2], _THIN / abs(z.per_unit) / 2.0)
        d.rect(x(0.0), z(doubt), x.end - x(0.0), z(-doubt) - z(doubt), fill="doubt")
        d.line(x(0.0), z(0.0), x.end, z(0.0), stroke="ink", width=1.2)
        for path in seen.paths:
            # once down, the recorded point's noise would hide the wheels
            flown = path[: (down(path) or len(path) - 1) + 1]
            d.trace(x(flown[:, 0]), z(flown[:, 2]), stroke="soft", width=0.9)
        for height in seen.crossings:
            d.line(x(0.0) - 5.0, z(height), x(0.0) + 5.0, z(height), stroke="ink", width=1.8)
        for at, _, height in seen.stood:
            d.rect(x(at) - 3.0, z(height) - 3.0, 6.0, 6.0, fill="paper", stroke="ink", line=1.1)
    for value in ticks(0.0, _HIGHEST, 4):
        d.text(x.end, z(value) - 4.0, f"{value:g} m", size=9.5, ink="soft", anchor="end", halo="paper")
    return z.start


def _metres(d: Drawing, x: Scale, floor: float) -> float:
    """Write the distance axis; return the new floor."""
    y = floor + 4.0
    d.line(x.start, y, x.end, y, stroke="edge", width=0.7)
    for value in ticks(x.low, x.high, 14):
        d.line(x(value), y, x(value), y + 4.0, stroke="edge", width=0.7)
        d.text(x(value), y + 15.0, f"{value:g}", size=9.5, ink="soft", anchor="middle", bold=value == 0.0)
    d.text(x.end, y + 28.0, "m from the ramp", size=9.5, ink="soft", anchor="end")
    return y + 34.0


def _key(d: Drawing, floor: float) -> float:
    at, y = _EDGE, floor + 10.0
    for mark, words in (
        ("path", "hook's path"),
        ("crossing", "over the ramp"),
        ("touch", "hook first down"),
        ("pull", "pull began, one sigma"),
        ("stood", "wheels stood or rolled"),
        ("doubt", "concluded, one sigma either way"),
    ):
        middle = at + 9.0
        if mark == "path":
            d.line(at, y - 3.5, at + 18.0, y - 3.5, stroke="soft", width=0.9)
        elif mark == "crossing":
            d.line(middle - 5.0, y - 3.5, middle + 5.0, y - 3.5, stroke="ink", width=1.8)
        elif mark == "touch":
            d.polygon(_triangle(middle, y - 3.5), fill="paper", stroke="ink", width=1.1)
        elif mark == "pull":
            d.line(at, y - 3.5, at + 18.0, y - 3.5, stroke="blue", width=1.4)
            d.circle(middle, y - 3.5, 3.4, fill="blue", stroke="paper", width=0.8)
        elif mark == "stood":
            d.rect(middle - 3.0, y - 6.5, 6.0, 6.0, fill="paper", stroke="ink", line=1.1)
        else:
            d.rect(at, y - 8.0, 18.0, 9.0, fill="doubt")
        d.text(at + 24.0, y, words, size=10, ink="soft")
        at += 24.0 + typeface.width(words, 10) + 22.0
    return y + 14.0


def _conclusions(d: Drawing, rows: Sequence[tuple[str, str]], floor: float) -> float:
    """List what was concluded; return the height of the drawing."""
    _heading(d, floor + 14.0, "Concluded", "one standard deviation in brackets")
    y = floor + 32.0
    for name, text in rows:
        d.text(_EDGE, y, name, size=10.5, bold=True)
        d.text(_EDGE + 120.0, y, _short(text), size=10.5)
        y += 16.0
    return y + 2.0


def _short(text: str) -> str:
    """Cut a row to the width of the drawing, at a comma."""
    room = _WIDTH - 2.0 * _EDGE - 120.0
    while typeface.width(text, 10.5) > room and ", " in text:
        text = text.removesuffix(", ...").rpartition(", ")[0] + ", ..."
        if text.count(", ") <= 1:
            break
    return text


def of_aircraft(
    profile: Profile, rows: Sequence[tuple[str, str]], seen: Mapping[str, Sequence[float]]
) -> Drawing:
    """Draw a measured jet's points from the side, each sighting as a tick, and the conclusions.

    Args:
        profile: the jet as it was measured.
        rows: what was concluded, as names and words.
        seen: sightings by name: "main wheels", "nose wheel" (m below) and "hook" (m ahead).
    """
    points = {
        "eye": profile.eye,
        "hook": profile.hook,
        "main wheels": profile.main_wheels,
        "nose wheel": profile.nose_wheel,
    }
    doubt = {"hook": profile.sigma.hook, "main wheels": profile.sigma.main_wheels}
    d = Drawing(
        "evidence",
        _WIDTH,
        0.0,
        title=f"What {profile.name} was measured from",
        says="Side view of eye, hook and wheels about the recorded point, with each sighting and one "
        "standard deviation.",
    )
    across = [point[0] for point in (*points.values(), (0.0, 0.0, 0.0))]
    down = [point[2] for point in (*points.values(), (0.0, 0.0, 0.0))]
    x = Scale(min(across) - 3.0, max(across) + 3.0, _EDGE, _WIDTH - _EDGE)
    scale = min(x.per_unit, 260.0 / (max(down) - min(down) + 2.0))
    middle = 0.5 * (x.low + x.high)
    x = Scale(middle, middle + 1.0, _WIDTH / 2.0, _WIDTH / 2.0 + scale)
    z = Scale(min(down) - 1.0, min(down), 24.0, 24.0 + scale)
    _heading(d, 12.0, profile.name, "from the side, true scale, nose to the right")
    bottom = z(max(down) + 1.0)
    d.line(
        _EDGE, z(profile.main_wheels[2]), _WIDTH - _EDGE, z(profile.main_wheels[2]), stroke="edge", dash="6 4"
    )
    d.line(x(0.0) - 7.0, z(0.0), x(0.0) + 7.0, z(0.0), stroke="ink", width=1.4)
    d.line(x(0.0), z(0.0) - 7.0, x(0.0), z(0.0) + 7.0, stroke="ink", width=1.4)
    d.text(x(0.0) + 10.0, z(0.0) - 6.0, "recorded point", size=10.5, ink="soft")
    for name, point in points.items():
        at, low = x(point[0]), z(point[2])
        wide, _, tall = doubt.get(name, (0.0, 0.0, 0.0))
        d.rect(
            at - max(wide * scale, _THIN), low - max(tall * scale, _THIN), 2.0 * max(wide * scale, _THIN),
            2.0 * max(tall * scale, _THIN), fill="doubt",
        )  # fmt: skip
        for value in seen.get(name, ()):
            if name == "hook":
                d.line(x(value), low - 8.0, x(value), low + 8.0, stroke="blue", width=1.2)
            else:
                d.line(at - 12.0, z(value), at + 12.0, z(value), stroke="blue", width=1.2)
        d.circle(at, low, 4.0, fill="ink", stroke="paper", width=0.8)
        d.text(at, low - 13.0, name, size=11, anchor="middle", bold=True, halo="paper")
    note = "blue ticks: single sightings; shaded: one sigma; dashed: the deck under the main wheels"
    d.text(_EDGE, bottom + 12.0, note, size=10, ink="soft")
    d.height = _conclusions(d, rows, bottom + 18.0)
    return d


def _heading(d: Drawing, y: float, words: str, note: str) -> None:
    d.text(_EDGE, y, words, size=11, bold=True)
    d.text(_EDGE + typeface.width(words, 11, bold=True) + 6.0, y, note, size=10, ink="soft")


def _band(d: Drawing, x: Scale, sigma: float, at: float, top: float, bottom: float) -> None:
    if sigma > 0.0:
        d.rect(x(at - sigma), top, x(at + sigma) - x(at - sigma), bottom - top, fill="doubt")


def _triangle(x: float, y: float) -> np.ndarray:
    return np.array([(x - 4.0, y - 3.5), (x + 4.0, y - 3.5), (x, y + 3.5)])
