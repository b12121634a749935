"""The marshal card: who holds where, when each pushes, the gates of the way in, and late pushes."""

from __future__ import annotations

from deckward.planning import says_flying
from deckward.planning.marshal_plan import Held, MarshalPlan
from deckward.planning.plan import Plan
from deckward.planning.words import bearing, clock
from deckward.reports import planned_marshal
from deckward.reports.cards.model import Card, Figure, Table, plain, rounded, signed, verdict
from deckward.reports.words import NOTHING

_GATES = {
    "10 nm": "10 nm, gear and flaps",
    "6 nm": "6 nm, on speed",
    "tip-over": "tip over",
    "level": "level off",
}


def card(plan: Plan) -> Card:
    """Make the card."""
    scenario, night = plan.scenario, plan.marshal
    assert night is not None, "asked for"
    said, first = says_flying.night(scenario, night), night.held[0]
    case = night.ordered or (night.case.number if night.case else None)
    return Card(
        key="marshal",
        title="Marshal and way in",
        by=f"{scenario.aircraft.name} · ship {bearing(night.steaming.course)} at "
        f"{plain(night.steaming.speed, 'kt', 1)} kt" + (f" · Case {'I' * case}" if case else ""),
        verdict=verdict(said),
        ok=said.feasible,
        figures=(
            Figure("radial", bearing(first.slot.radial), "true"),
            Figure("final bearing", bearing(night.inbound.final_bearing), "true"),
            Figure("first push", _when(night, first.slot.push), "", f"{plain(first.slot.altitude, 'ft')} ft"),
            Figure("first ramp", _when(night, first.ramp), "", f"{night.inbound.ramp / 60:.1f} min in"),
            Figure("apart", f"{night.interval:.0f}", "s", "push to push"),
        ),
        drawing=planned_marshal.draw(night),
        tables=(_stack(night), _gates(night), _again(night), _late(night)),
        says=said,
    )


def _when(night: MarshalPlan, seconds: float) -> str:
    return clock(seconds, of_day=night.clock)


def _stack(night: MarshalPlan) -> Table:
    rows = tuple(
        (
            one.who,
            f"{plain(one.slot.altitude, 'ft')}",
            f"{plain(one.slot.distance, 'nm')}",
            _when(night, one.slot.push),
            _when(night, one.ball),
            _when(night, one.ramp),
            *_hold(one),
        )
        for one in night.held
    )
    return Table(
        "Stack", ("", "ft", "nm", "push", "ball", "ramp", "to the fix", "bank°", "out", "for s"), rows
    )


def _hold(one: Held) -> tuple[str, str, str, str]:
    """Say how to be at the fix in time: laps, their bank, and the leg away from it."""
    way = one.holding
    if way is None:
        return (NOTHING, "", "", "")
    if way.late > 1.0:
        return (f"{way.late:.0f} s late", "", "", "")
    if way.late < -1.0:
        return (f"{-way.late:.0f} s early", "", "", "")
    laps = way.laps
    if laps is None:
        turns = [leg for leg in way.legs if leg.bank]
        return (f"{len(turns)} turns" if turns else "straight", "", "", "")
    return (
        f"{laps.count} x {laps.seconds:.0f} s",
        plain(laps.bank, "deg"),
        bearing(laps.outbound_heading),
        f"{laps.outbound_seconds:.0f}",
    )


def _gates(night: MarshalPlan) -> Table:
    rows = tuple(
        (
            _GATES.get(gate.name, gate.name),
            f"{int(gate.time) // 60}:{int(gate.time) % 60:02d}",
            plain(max(gate.range, 0.0), "nm", 2 if gate.name == "ball" else 1),
            plain(gate.height, "ft"),
            plain(gate.airspeed, "kt"),
            bearing(gate.heading),
            rounded(gate.sink, "fpm", 50),
        )
        for gate in night.inbound.gates
    )
    head = ("lowest, from the push", "min", "nm", "ft", "kt CAS", "heading", "then ft/min")
    return Table("Way in", head, rows)


def _again(night: MarshalPlan) -> Table:
    rows = tuple(
        (
            f"in at {plain(one.turn_in, 'nm')} nm",
            f"{one.straight:.0f}",
            f"{plain(one.bank, 'deg')}, {plain(one.bank_in, 'deg')}",
            bearing(one.downwind_heading),
            f"{one.downwind:.0f}",
            f"{one.trip / 60:.1f}",
        )
        for one in night.circuits
    )
    head = ("from the ball", "ahead, s", "banks°", "downwind", "for s", "to the ball, min")
    return Table("Bolter or wave-off, at 1,200 ft", head, rows)


def _late(night: MarshalPlan) -> Table:
    rows = tuple(
        (
            f"{abs(one.late):.0f} s {'late' if one.late > 0 else 'early'}",
            f"{plain(one.airspeed, 'kt')}",
            "0" if abs(one.left) < 0.5 else signed(one.left, "s"),
        )
        for one in night.corrections
    )
    return Table("Push late or early", ("", "kt CAS to 10 nm", "s left"), rows)
