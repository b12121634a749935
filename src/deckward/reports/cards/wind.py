"""The wind card: the ship's course and speed, and the triangle of winds drawn to scale."""

from __future__ import annotations

import numpy as np

from deckward.foundation.units import KNOT
from deckward.planning import says
from deckward.planning.answer import Says
from deckward.planning.plan import Plan
from deckward.planning.scenario import Scenario
from deckward.planning.wind import Steering
from deckward.planning.wind_plan import Course, WindPlan
from deckward.planning.words import across, bearing, clock, minutes
from deckward.reports.cards.model import Card, Figure, Table, plain, verdict
from deckward.reports.svg import Drawing

WIDTH, HEIGHT = 470.0, 392.0
#: beside it the launch's own triangle, where there is a launch
_SIDE, _GAP = 180.0, 8.0
_RING = 10.0 * KNOT
#: nearer to the felt wind's end than this there is no room for a name, pixels
_CLEAR = 45.0


def card(plan: Plan) -> Card:
    """Make the card."""
    scenario, wind = plan.scenario, plan.wind
    assert wind is not None, "asked for"
    said = says.wind(scenario, wind)
    chosen = wind.recovery.answer.chosen
    tables = [
        _answers(wind.recovery, "Courses for the recovery"),
        _shifts(wind.recovery),
        _run(scenario, wind.recovery),
    ]
    if wind.launch is not None:
        tables.insert(1, _answers(wind.launch, "Courses for the launch"))
    return Card(
        key="wind",
        title="Wind and course",
        by=f"{scenario.site.name} · true wind {bearing(wind.wind.from_direction)} at "
        f"{plain(wind.wind.speed, 'kt')} kt",
        verdict=_verdict(wind.recovery, said),
        ok=said.feasible,
        figures=(
            Figure("recovery course", bearing(chosen.course), "true"),
            Figure("ship's speed", plain(chosen.speed, "kt", 1), "kt"),
            Figure("final bearing", bearing(chosen.course - scenario.site.angle), "true"),
            Figure("down the angle", plain(chosen.along, "kt", 1), "kt", _at_the_bow(chosen)),
            _across(chosen),
        ),
        drawing=draw(scenario, wind),
        tables=tuple(table for table in tables if table.rows),
        says=said,
    )


def _verdict(course: Course, said: Says) -> str:
    if course.answer.is_exact or not said.feasible:
        return verdict(said)
    chosen = course.answer.chosen
    return f"The wanted wind cannot be had. Nearest: {_felt(chosen)}."


def _felt(one: Steering) -> str:
    return f"{plain(one.along, 'kt', 1)} kt down, {across(one.crosswind)}"


def _at_the_bow(chosen: Steering) -> str:
    """Say where the felt wind comes from, as the bow has it."""
    off = plain(abs(chosen.from_bow), "deg")
    side = "" if off == "0" else " port" if chosen.from_bow < 0 else " stbd"
    return f"{plain(chosen.felt_speed, 'kt', 1)} at {off}°{side} of the bow"


def _across(chosen: Steering) -> Figure:
    size = plain(abs(chosen.crosswind), "kt", 1)
    side = "" if size == "0.0" else "from starboard" if chosen.crosswind > 0 else "from port"
    return Figure("across", size, "kt", side)


def _answers(course: Course, title: str) -> Table:
    answer = course.answer
    named = [("steer", answer.chosen)]
    named += [("exact", one) for one in answer.exact if one != answer.chosen]
    if answer.least_crosswind is not None:
        named.append(("least across", answer.least_crosswind))
    if course.now is not None:
        named.append(("as she goes", course.now))
    rows = tuple((name, *_winds(one), _kept(one)) for name, one in named)
    marked = frozenset({0} if answer.chosen.misses else ())
    return Table(title, ("", "course", "kt", "down", "across", "limits"), rows, marked)


def _winds(one: Steering) -> tuple[str, ...]:
    return (
        bearing(one.course),
        plain(one.speed, "kt", 1),
        plain(one.along, "kt", 1),
        _across_short(one.crosswind),
    )


def _across_short(crosswind: float) -> str:
    """Write a crosswind in a table: "5.7 port"."""
    size = plain(abs(crosswind), "kt", 1)
    return size if size == "0.0" else f"{size} {'stbd' if crosswind > 0 else 'port'}"


def _kept(one: Steering) -> str:
    if not one.misses:
        return "kept"
    names = {
        "wind along": "wind",
        "crosswind": "crosswind",
        "ship speed": "her speed",
        "ship course": "her course",
    }
    return ", ".join(names[miss.what] for miss in one.misses)


def _shifts(course: Course) -> Table:
    rows = []
    for shift in course.shifts:
        way = "veers" if shift.turned > 0 else "backs"
        new = shift.answer.chosen
        rows.append(
            (
                f"{way} {plain(abs(shift.turned), 'deg')}°",
                plain(shift.held.along, "kt", 1),
                _across_short(shift.held.crosswind),
                _kept(shift.held),
                f"{bearing(new.course)} at {plain(new.speed, 'kt', 1)}",
            )
        )
    marked = frozenset(k for k, shift in enumerate(course.shifts) if shift.held.misses)
    return Table(
        "If the wind shifts", ("wind", "down", "across", "limits", "then steer"), tuple(rows), marked
    )


def _run(scenario: Scenario, course: Course) -> Table:
    run, first = course.run, scenario.recovery.time
    rows = []
    if run.turn is not None and first is not None:
        start = first - run.settled - run.turn
        rows.append(("begin the turn", clock(start), f"{minutes(run.turn)} to come round"))
    room = "" if run.sea_room is None else f" of {plain(run.sea_room, 'nm', 1)}"
    rows.append(
        (
            f"hold for {run.aircraft} aircraft" if run.aircraft > 1 else "hold for 1 aircraft",
            minutes(run.seconds),
            f"{plain(run.distance, 'nm', 1)}{room} nm, {plain(run.each, 'nm', 2)} more for each bolter",
        )
    )
    for word, limit in (("backs", course.backs), ("veers", course.veers)):
        if limit is not None:
            rows.append((f"wind {word} out of limits at", f"{plain(limit, 'deg')}°", "on the course held"))
    return Table("Time and room", ("", "", ""), tuple(rows))


# -- the triangle ------------------------------------------------------------------------------


def draw(scenario: Scenario, plan: WindPlan) -> Drawing:
    """Draw the winds at the ship, north up and to scale: the ship's own, the true one, the felt one.

    Those of the recovery, and beside them, where it is planned, those of the launch.
    """
    course, wind = plan.recovery, plan.wind
    chosen, wanted = course.answer.chosen, course.answer.wanted
    d = Drawing(
        "wind-card",
        WIDTH if plan.launch is None else WIDTH + _GAP + _SIDE,
        HEIGHT,
        title=f"Winds at {scenario.site.name} on {bearing(chosen.course)}, north up",
        says="The felt wind is the sum of the true wind and the wind of the ship's own speed.",
    )
    own, true = chosen.speed * _way(chosen.course), wind.speed * _way(wind.from_direction)
    turns = [wind.speed * _way(wind.from_direction + shift.turned) for shift in course.shifts]
    line = _way(chosen.course - wanted.angle)
    reach = max(*(float(np.hypot(*(own + one))) for one in (true, *turns)), wanted.along, 15.0 * KNOT)
    rings = int(np.ceil(reach * 1.05 / _RING))
    # the ship stands where the winds have room: opposite the felt wind
    radius = min(WIDTH, HEIGHT) / 2 - 18
    centre = np.array([WIDTH / 2, HEIGHT / 2])
    middle = (own + true) / 2
    scale = radius / max(reach * 0.62, _RING)
    at = centre - _screen(middle) * scale

    def place(vector) -> np.ndarray:
        return at + _screen(np.asarray(vector)) * scale

    d.rect(0, 0, WIDTH, HEIGHT, fill="sheet")
    with d.clip(0, 0, WIDTH, HEIGHT):
        for k in range(1, rings + 4):
            d.circle(at[0], at[1], k * _RING * scale, stroke="rule", width=0.8)
        _allowed(d, place, line, wanted)
        _ship(d, at, chosen.course, wanted.angle)
        for shift, turned in zip(course.shifts, turns, strict=True):
            spot = place(own + turned)
            d.circle(spot[0], spot[1], 4.0, fill="sheet", stroke="soft", width=1.4)
            word = "veers" if shift.turned > 0 else "backs"
            if np.hypot(*(spot - place(own + true))) > _CLEAR:
                _label(d, spot, at, f"{word} {plain(abs(shift.turned), 'deg')}°")
        _wander(d, place, own, plan)
        _arrow(d, place(own), at, "green", 2.2, dash="7 4")
        _arrow(d, place(own + true), place(own), "amber-ink", 2.6)
        _arrow(d, place(own + true), at, "ink", 4.0)
    _names(d, place, own, true, chosen, plan)
    for k in range(1, rings + 1):
        spot = at + np.array([0.0, k * _RING * scale])
        if spot[1] < HEIGHT - 8:
            d.text(spot[0] + 4, spot[1] - 4, f"{k * 10} kt", size=9.5, ink="soft", halo="sheet")
    _north(d)
    if plan.launch is not None:
        _launch(d, plan.launch, true)
    return d


def _launch(d: Drawing, course: Course, true: np.ndarray) -> None:
    """Draw the launch's triangle in a field of its own, to its own scale."""
    chosen, left = course.answer.chosen, WIDTH + _GAP
    own = chosen.speed * _way(chosen.course)
    corners = np.array([_screen(vector) for vector in (0.0 * own, own, own + true)])
    spans = np.maximum(np.ptp(corners, axis=0), 1e-9)
    scale = float(min((_SIDE - 60.0) / spans[0], (HEIGHT - 150.0) / spans[1], 9.0 / KNOT))
    middle = np.array([left + _SIDE / 2, HEIGHT / 2 - 4.0])
    ship, wind, felt = middle + (corners - (corners.min(axis=0) + corners.max(axis=0)) / 2) * scale
    d.rect(left, 0, _SIDE, HEIGHT, fill="sheet")
    words = f"launch: {bearing(chosen.course)} at {plain(chosen.speed, 'kt', 1)} kt"
    d.text(left + 10, 22, words, size=13, bold=True)
    _ship(d, ship, chosen.course, course.answer.wanted.angle)
    _arrow(d, wind, ship, "green", 1.8, dash="7 4")
    _arrow(d, felt, wind, "amber-ink", 2.0)
    _arrow(d, felt, ship, "ink", 3.0)
    base = HEIGHT - 28.0
    d.text(left + 10, base, f"felt {plain(chosen.felt_speed, 'kt', 1)} kt", size=13, bold=True)
    d.text(left + 10, base + 16, f"{plain(chosen.along, 'kt', 1)} down the catapult", size=11, ink="soft")


def _way(direction: float) -> np.ndarray:
    """North and east of a unit vector."""
    return np.array([np.cos(direction), np.sin(direction)])


def _screen(vector: np.ndarray) -> np.ndarray:
    """Turn north and east into pixels right and down."""
    return np.array([vector[1], -vector[0]])


def _allowed(d: Drawing, place, line: np.ndarray, wanted) -> None:
    """Shade where the felt wind may come from: least to greatest down the line, crosswind either side."""
    across = np.array([-line[1], line[0]])
    corners = [
        along * line + side * wanted.crosswind * across
        for along, side in (
            (wanted.least, -1),
            (wanted.greatest, -1),
            (wanted.greatest, 1),
            (wanted.least, 1),
        )
    ]
    d.polygon([place(corner) for corner in corners], fill="doubt", stroke="edge", width=0.9, opacity=0.45)
    d.line(*place(0 * line), *place(wanted.greatest * line), stroke="edge", width=1.0, dash="9 3 2 3")
    mark = place(wanted.along * line)
    d.circle(mark[0], mark[1], 5.5, stroke="blue", width=2.0)


def _ship(d: Drawing, at: np.ndarray, course: float, angle: float) -> None:
    """Draw the ship from above, her landing area marked, the ramp at the winds' meeting point."""
    ahead = _screen(_way(course))
    right = np.array([-ahead[1], ahead[0]])
    outline = [(-22, -7), (-22, 7), (20, 9), (34, 4), (40, 0), (34, -4), (6, -11), (-6, -11)]
    d.polygon([at + x * ahead + y * right for x, y in outline], fill="deck", stroke="ink", width=1.2)
    way = _screen(_way(course - angle))
    side = np.array([-way[1], way[0]])
    area = [(-22, -4), (-22, 4), (24, 4), (24, -4)]
    d.polygon([at + x * way + y * side for x, y in area], fill="none", stroke="ink", width=0.9)


def _wander(d: Drawing, place, own: np.ndarray, plan: WindPlan) -> None:
    """Outline where the felt wind goes while the true wind wanders."""
    wind = plan.wind
    if not wind.from_spread and not wind.speed_spread:
        return
    turned = np.linspace(-wind.from_spread, wind.from_spread, 25) + wind.from_direction
    low, high = max(wind.speed - wind.speed_spread, 0.0), wind.speed + wind.speed_spread
    rim = [place(own + high * _way(one)) for one in turned] + [
        place(own + low * _way(one)) for one in turned[::-1]
    ]
    d.polygon(rim, stroke="amber-ink", width=1.1)


def _arrow(
    d: Drawing, tail: np.ndarray, head: np.ndarray, ink: str, width: float, dash: str | None = None
) -> None:
    """Draw an arrow that blows from its tail to its head."""
    along = head - tail
    length = float(np.hypot(*along))
    if length < 2.0:
        return
    way = along / length
    side = np.array([-way[1], way[0]])
    size = min(6.0 + 2.2 * width, length * 0.6)
    neck = head - size * way
    d.line(*tail, *neck, stroke=ink, width=width, dash=dash)
    d.polygon([head, neck + 0.45 * size * side, neck - 0.45 * size * side], fill=ink)


def _names(d: Drawing, place, own: np.ndarray, true: np.ndarray, chosen: Steering, plan: WindPlan) -> None:
    felt = own + true
    if np.hypot(*own) > 2.0 * KNOT:
        _beside(d, place(own * 0.55), -_turn(own, true), f"her own {plain(chosen.speed, 'kt', 1)}", "green")
    if np.hypot(*true) > 0.3 * KNOT:
        _beside(
            d,
            place(own + true * 0.4),
            -_turn(own, true),
            f"true {bearing(plan.wind.from_direction)} at {plain(plan.wind.speed, 'kt')}",
            "amber-ink",
        )
    _beside(d, place(felt * 0.62), _turn(own, true), f"felt {plain(chosen.felt_speed, 'kt', 1)}", "ink")


def _turn(own: np.ndarray, true: np.ndarray) -> np.ndarray:
    """Give the screen direction from the true wind's side of the felt one to the other."""
    felt = own + true
    size = float(np.hypot(*felt)) or 1.0
    side = np.array([-felt[1], felt[0]]) / size
    if float(side @ own) > 0:
        side = -side
    return _screen(side)


def _beside(d: Drawing, spot: np.ndarray, away: np.ndarray, words: str, ink: str) -> None:
    x, y = spot + 11 * away
    anchor = "middle" if abs(away[0]) < 0.35 else ("start" if away[0] > 0 else "end")
    d.text(x, y + 4 + 6 * away[1], words, size=13, ink=ink, bold=True, anchor=anchor, halo="sheet")


def _label(d: Drawing, spot: np.ndarray, ship: np.ndarray, words: str) -> None:
    """Name a point on its side away from the ship, or where the picture has room."""
    right = spot[0] >= ship[0] if 70.0 < spot[0] < WIDTH - 70.0 else spot[0] <= 70.0
    x, anchor = (spot[0] + 9, "start") if right else (spot[0] - 9, "end")
    d.text(x, spot[1] + 4, words, size=10.5, ink="soft", halo="sheet", anchor=anchor)


def _north(d: Drawing) -> None:
    x, y = WIDTH - 24, 16
    d.polygon([(x, y - 8), (x + 5, y + 8), (x, y + 4), (x - 5, y + 8)], fill="ink")
    d.text(x, y + 22, "N", size=11, bold=True, anchor="middle")
