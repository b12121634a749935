"""The day pattern's card: checkpoints to fly, drawn to scale, the break and the way round again."""

from __future__ import annotations

from deckward.planning import says_flying
from deckward.planning.again import Again
from deckward.planning.pattern_plan import PatternPlan
from deckward.planning.plan import Plan
from deckward.planning.words import bearing
from deckward.reports import planned_pattern
from deckward.reports.cards.model import Card, Figure, Table, plain, rounded, signed, verdict
from deckward.reports.words import MINUS

_NAMES = {"abeam": "abeam", "turn": "turn", "90": "the 90", "45": "the 45", "groove": "wings level",
          "touchdown": "touchdown"}  # fmt: skip


def card(plan: Plan) -> Card:
    """Make the card."""
    scenario, day = plan.scenario, plan.pattern
    assert day is not None, "asked for"
    said, flown, there = says_flying.day(scenario, day), day.pattern, day.steaming
    abeam, groove = flown.checkpoint("abeam"), flown.groove
    after = "after abeam" if flown.time_to_turn >= 0.0 else "before abeam"
    return Card(
        key="pattern",
        title="Day pattern",
        by=f"{scenario.aircraft.name} at {plain(day.mass, 'lb')} lb · ship {bearing(there.course)} at "
        f"{plain(there.speed, 'kt', 1)} kt",
        verdict=verdict(said),
        ok=said.feasible,
        figures=(
            Figure("abeam", plain(flown.abeam, "nm", 2), "nm", f"{plain(abeam.height, 'ft')} ft"),
            Figure(
                "downwind", bearing(flown.downwind_heading), "", f"{plain(abeam.calibrated, 'kt')} kt CAS"
            ),
            Figure("turn", f"{abs(flown.time_to_turn):.0f}", "s", after),
            Figure("bank", f"{plain(flown.bank, 'deg')}°", "", f"{flown.turn_time:.0f} s to wings level"),
            Figure("groove", f"{groove.seconds:.1f}", "s", f"{plain(groove.range, 'nm', 2)} nm"),
        ),
        drawing=planned_pattern.draw(day, scenario.site),
        tables=(_checkpoints(day), _before(day), _again(day), _slips(day)),
        says=said,
    )


def _checkpoints(day: PatternPlan) -> Table:
    rows = tuple(
        (
            _NAMES[point.name],
            f"{point.time:.0f}".replace("-", MINUS),
            plain(point.height, "ft"),
            rounded(point.sink, "fpm", 10),
            bearing(point.heading),
            plain(point.calibrated, "kt"),
            plain(abs(point.bank), "deg"),
        )
        for point in day.pattern.checkpoints
    )
    return Table("To fly", ("", "s", "ft", "ft/min", "heading", "kt CAS", "bank°"), rows)


def _before(day: PatternPlan) -> Table:
    into, hold, down = day.overhead, day.holds, day.descents
    rows: list[tuple[str, ...]] = []
    for one, way in zip(hold, down, strict=True):
        rows.append(
            (
                f"hold {plain(one.altitude, 'ft')} ft",
                f"{one.lap:.0f} s round",
                f"{way.seconds:.0f} s to the initial",
            )
        )
    first = into.places[0]
    rows += [
        ("initial", f"{plain(into.initial_altitude, 'ft')} ft", f"break in {into.initial_to_break:.0f} s"),
        ("break", f"{plain(first.break_ahead, 'nm', 1)} nm ahead",
         f"{plain(into.turn.bank, 'deg')}° bank, {into.load_factor:.1f} g"),
        ("next breaks", f"{into.break_interval:.0f} s later", f"lands {into.landing_interval:.0f} s later"),
        ("downwind", f"{into.downwind:.0f} s to abeam", f"on speed {into.slowed:.0f} s of it"),
    ]  # fmt: skip
    return Table("From the stack", ("", "", ""), tuple(rows))


def _again(day: PatternPlan) -> Table:
    rows = tuple(_round(one) for one in (day.bolter, day.wave_off))
    return Table("Round again", ("", "ahead, s", "bank°", "downwind, s", "to land, s"), rows)


def _round(one: Again) -> tuple[str, ...]:
    return (
        one.name,
        f"{one.straight:.0f}",
        plain(one.turn.bank, "deg"),
        f"{one.downwind:.0f}",
        f"{one.trip:.0f}",
    )


def _slips(day: PatternPlan) -> Table:
    rows: list[tuple[str, ...]] = []
    marked = set()
    for slip in day.slips:
        if not slip.within_limits:
            marked.add(len(rows))
        rows.append(
            (
                slip.name,
                signed(slip.line_up_offset, "ft"),
                f"{slip.groove:.0f}",
                plain(slip.bank, "deg") + ("" if slip.within_limits else ", not enough"),
                f"{slip.time_to_turn:.0f}".replace("-", MINUS),
            )
        )
    head = ("flown as planned", "ft right", "groove, s", "or bank°", "turn at, s")
    return Table("If it is begun otherwise", head, tuple(rows), frozenset(marked))
