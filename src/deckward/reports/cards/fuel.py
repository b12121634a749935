"""The fuel card: bingo, the ladder and the looks, drawn as fuel against time."""

from __future__ import annotations

import numpy as np

from deckward.foundation.units import POUND, from_si
from deckward.planning import says
from deckward.planning.fuel import FuelPlan
from deckward.planning.plan import Plan
from deckward.planning.words import bearing, clock, looks, minutes
from deckward.reports import typeface
from deckward.reports.cards.model import Card, Figure, Table, plain, verdict
from deckward.reports.svg import Drawing, Scale, ticks

WIDTH, HEIGHT = 470.0, 270.0

#: what the words on the landing-mass limit take, pixels
_WORDS = 160.0

_THEN = {"again": "again", "tank": "tank", "divert": "divert", "too late": "too late"}


def card(plan: Plan) -> Card:
    """Make the card."""
    scenario, fuel = plan.scenario, plan.fuel
    assert fuel is not None and scenario.divert is not None, "asked for"
    said = says.fuel(scenario, fuel)
    bingo = fuel.bingo
    way = "" if bingo.bearing is None else f" {bearing(bingo.bearing)} at {plain(bingo.distance, 'nm')} nm"
    return Card(
        key="fuel",
        title="Fuel",
        by=f"{scenario.aircraft.name} · {scenario.divert.name}{way}",
        verdict=verdict(said),
        ok=said.feasible,
        figures=(
            Figure("bingo", plain(bingo.fuel, "lb"), "lb", _with_margin(fuel)),
            Figure("at the ball", plain(fuel.ball.fuel, "lb"), "lb", _when(fuel, fuel.ball.time)),
            Figure("most to land", plain(fuel.most, "lb"), "lb"),
            Figure("looks", str(fuel.possible), "", f"{fuel.wanted} wanted"),
            Figure("latest ball", _short(fuel, fuel.latest_wanted), "", f"for {looks(fuel.wanted)}"),
        ),
        drawing=draw(fuel),
        tables=tuple(
            table for table in (_ladder(fuel), _looks(fuel), _bingo(fuel), _flights(fuel)) if table.rows
        ),
        says=said,
    )


def _with_margin(fuel: FuelPlan) -> str:
    margin = fuel.least - fuel.bingo.fuel
    return "" if margin < POUND else f"with margin {plain(fuel.least, 'lb')}"


def _when(fuel: FuelPlan, seconds: float) -> str:
    return clock(seconds, of_day=fuel.clock)


def _ladder(fuel: FuelPlan) -> Table:
    rows: list[tuple[str, ...]] = []
    before: float | None = None
    for event in fuel.events:
        burnt = "" if before is None else plain(before - event.fuel, "lb")
        rows.append((event.name, _when(fuel, event.time), plain(event.fuel, "lb"), burnt))
        before = event.fuel
    return Table("Ladder", ("", "time", "fuel, lb", "burnt"), tuple(rows))


def _looks(fuel: FuelPlan) -> Table:
    rows: list[tuple[str, ...]] = []
    marked = set()
    for look in fuel.looks:
        heavy = look.too_heavy > 0.5 * POUND
        if heavy or not look.within:
            marked.add(len(rows))
        rows.append(
            (
                str(look.number),
                _when(fuel, look.time),
                plain(look.fuel, "lb"),
                plain(look.after, "lb"),
                "under bingo" if not look.within else "too heavy" if heavy else _THEN[look.then],
            )
        )
    head = ("look", "ball", "fuel, lb", "bolter", "then")
    return Table("Looks", head, tuple(rows), frozenset(marked))


def _bingo(fuel: FuelPlan) -> Table:
    bingo = fuel.bingo
    rows: list[tuple[str, ...]] = []
    for name, part in bingo.parts.items():
        way = f"{plain(part.distance, 'nm')} nm"
        rows.append((name, minutes(part.seconds), way, plain(part.fuel, "lb")))
    if rows:
        rows.append(("reserve", "", "", plain(bingo.reserve, "lb")))
    altitude, speed = plain(bingo.altitude, "ft"), plain(bingo.ground_speed, "kt")
    title = f"To the field at {altitude} ft, {speed} kt over the sea"
    return Table(title, ("", "time", "distance", "fuel, lb"), tuple(rows))


def _flights(fuel: FuelPlan) -> Table:
    rows: list[tuple[str, ...]] = []
    marked = set()
    for one in fuel.flights:
        if one.looks < fuel.wanted or one.too_heavy > 0.0:
            marked.add(len(rows))
        rows.append(
            (
                f"{one.name}, {one.aircraft}",
                clock(one.ball),
                plain(one.fuel, "lb"),
                str(one.looks),
                "heavy" if one.too_heavy > 0.0 else "",
            )
        )
    head = ("", "last ball", "fuel, lb", "looks", "")
    return Table("Flights", head, tuple(rows), frozenset(marked))


def draw(fuel: FuelPlan) -> Drawing:
    """Draw fuel against time: the ladder, the looks, the landing-mass limit above and bingo below."""
    d = Drawing(
        "fuel-card", WIDTH, HEIGHT, title="Fuel against time: ladder, looks, landing-mass limit and bingo"
    )
    points = [(event.time, event.fuel) for event in fuel.events]
    tries = [(look.time, look.fuel) for look in fuel.looks]
    last = tries[-1][0] if tries else points[-1][0]
    start = points[0][0]
    span = max(last - start, 600.0)
    top = max(points[0][1], fuel.most or 0.0, fuel.needed) * 1.06
    x = Scale(start, start + span * 1.02, 52.0, WIDTH - 12.0)
    y = Scale(0.0, top, HEIGHT - 30.0, 12.0)
    d.rect(0, 0, WIDTH, HEIGHT, fill="sheet")
    for pounds in ticks(0.0, float(from_si(top, "lb")), 6):
        d.line(x.start, y(pounds * POUND), x.end, y(pounds * POUND), stroke="rule", width=0.8)
        d.text(x.start - 6, y(pounds * POUND) + 4, f"{pounds:,.0f}", size=11, anchor="end", ink="soft")
    for mark in _marks(start, start + span):
        d.line(x(mark), y.start, x(mark), y.start + 4, stroke="edge")
        d.text(x(mark), y.start + 17, _short(fuel, mark), size=11, anchor="middle", ink="soft")
    if fuel.most is not None and fuel.most < top:
        with d.clip(x.start, y.end, x.end - x.start, y.start - y.end):
            d.rect(x.start, y.end, x.end - x.start, y(fuel.most) - y.end, fill=d.hatch("doubt", gap=7.0))
        d.line(x.start, y(fuel.most), x.end, y(fuel.most), stroke="ink", width=1.6)
        words = f"most to land {plain(fuel.most, 'lb')}"
        right = _clearer_right(points + tries, x, y, y(fuel.most) - 10)
        edge, anchor = (x.end - 6, "end") if right else (x.start + 6, "start")
        d.text(edge, y(fuel.most) - 6, words, size=12, bold=True, halo="sheet", anchor=anchor)
    d.rect(x.start, y(fuel.least), x.end - x.start, y.start - y(fuel.least), fill="red-wash")
    d.line(x.start, y(fuel.least), x.end, y(fuel.least), stroke="red", width=2.0)
    word = "bingo" if fuel.least - fuel.bingo.fuel < POUND else "bingo and margin"
    d.text(
        x.start + 6,
        y(fuel.least) + 16,
        f"{word} {plain(fuel.least, 'lb')}",
        size=12,
        bold=True,
        ink="red-ink",
    )
    _tank_by(d, fuel, x, y)
    d.trace([x(t) for t, _ in points], [y(f) for _, f in points], width=2.6)
    d.trace([x(t) for t, _ in tries], [y(f) for _, f in tries], width=2.0, dash="6 4")
    for event in fuel.events:
        d.circle(x(event.time), y(event.fuel), 3.2, fill="ink")
    for look in fuel.looks:
        spot = x(look.time), y(look.fuel)
        d.circle(
            *spot,
            8.5,
            fill="sheet" if look.within else "red-wash",
            stroke="ink" if look.within else "red",
            width=1.8,
        )
        d.text(spot[0], spot[1] + 4, str(look.number), size=11, bold=True, anchor="middle")
    _event_names(d, fuel, x, y)
    return d


def _tank_by(d: Drawing, fuel: FuelPlan, x: Scale, y: Scale) -> None:
    """Draw the least fuel to leave for the tanker with, and what follows the last look that is left."""
    if fuel.tanking is not None:
        level = y(fuel.tanking.leave_with)
        d.line(x.start, level, x.end, level, stroke="blue", width=1.4, dash="8 4")
        words = f"tanker, no later than {plain(fuel.tanking.leave_with, 'lb')}"
        d.text(x.start + 6, level - 5, words, size=11, ink="blue", bold=True, halo="sheet")
    last = next((look for look in reversed(fuel.looks) if look.within), None)
    if last is not None:
        words = f"after look {last.number}: {_THEN[last.then]}"
        level = min(float(y(fuel.least)) + 34.0, y.start - 6.0)
        d.text(x.end - 6, level, words, size=11, bold=True, ink="red-ink", anchor="end")


def _clearer_right(line: list[tuple[float, float]], x: Scale, y: Scale, level: float) -> bool:
    """Whether words at a level, pixels, stand clearer of a line on the right than on the left."""
    times, fuels = np.array(line).T
    gaps = []
    for low, high in ((x.start, x.start + _WORDS), (x.end - _WORDS, x.end)):
        at = x.low + (np.linspace(low, high, 20) - x.start) / x.per_unit
        gaps.append(float(np.abs(y(np.interp(at, times, fuels)) - level).min()))
    return gaps[1] > gaps[0]


def _event_names(d: Drawing, fuel: FuelPlan, x: Scale, y: Scale) -> None:
    """Name the ladder's points, where no name or line of words stands already."""
    taken = -1e9
    most = None if fuel.most is None else y(fuel.most)
    for event in fuel.events[:-1]:
        left, base = x(event.time) + 7, y(event.fuel) - 8
        crossed = most is not None and abs(base - most) < 18
        if left < taken or crossed:
            continue
        d.text(left, base, event.name, size=11, halo="sheet")
        taken = left + typeface.width(event.name, 11) + 4


def _marks(start: float, end: float) -> list[float]:
    step = next(
        step for step in (60, 120, 300, 600, 900, 1800, 3600, 7200, 36_000) if (end - start) / step <= 7
    )
    first = -(-start // step) * step
    return [first + k * step for k in range(int((end - first) // step) + 1)]


def _short(fuel: FuelPlan, seconds: float) -> str:
    return clock(seconds)[:5] if fuel.clock else clock(seconds, of_day=False)
