"""The published result of a debrief: one object, edge units in its key names.

A number the recording does not support is None, never a guess. The JSON Schema that
stands in the reference is made from these classes by :func:`schema`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Final, Literal

import msgspec

from deckward.explanation import model as explained
from deckward.passes import model as flown
from deckward.reports.model import PassReport, SessionReport
from deckward.scoring import model as scored
from deckward.workflow.published import DECIMALS, Note, schema_of
from deckward.workflow.published import Object as _Object
from deckward.workflow.published import known as _known
from deckward.workflow.published import note as _note
from deckward.workflow.published import number as _number

if TYPE_CHECKING:
    from deckward.explanation import what_if as changed

SCHEMA: Final = "deckward.debrief/1"

#: samples of a path between two that are published
_PATH_EVERY = 4

Outcome = Literal["trap", "bolter", "touch-and-go", "wave-off", "landing", "ramp strike", "outside"]
Probability = Annotated[float, msgspec.Meta(ge=0.0, le=1.0)]


class Recording(_Object, frozen=True):
    """What was read, and how good it is."""

    samples: int
    rate_hz: float | None
    notes: list[Note]


class Grade(_Object, frozen=True):
    """The grade in the rulebook's words, and how sure it is."""

    name: str
    symbol: str
    points: float | None
    odds: dict[str, Probability]


class Groove(_Object, frozen=True):
    """Wings level behind the ramp."""

    start_s: float
    seconds: float


class Turn(_Object, frozen=True):
    """The turn from downwind."""

    abeam_distance_m: float | None
    abeam_altitude_m: float | None
    start_s: float | None


class Position(_Object, frozen=True):
    """The state where the pass crosses a named range."""

    name: str
    range_m: float
    time_s: float
    glide_slope_error_deg: float | None
    ball_cells: float | None
    line_up_error_deg: float | None
    line_up_offset_m: float | None
    angle_of_attack_deg: float | None
    angle_of_attack_error_deg: float | None
    sink_mps: float | None
    closure_mps: float | None
    after_wave_off: bool


class Ramp(_Object, frozen=True):
    """The hook point over the ramp."""

    time_s: float
    hook_to_ramp_m: float | None
    hook_to_ramp_sigma_m: float | None


class Touchdown(_Object, frozen=True):
    """First contact; the hook's keys are None where the hook was up."""

    time_s: float
    kind: Literal["deck", "wire", "wheels"]
    hook_x_m: float | None
    hook_x_sigma_m: float | None
    wheels_x_m: float | None
    off_centre_m: float | None
    sink_mps: float | None
    closure_mps: float | None
    angle_of_attack_deg: float | None
    pitch_deg: float | None


class WaveOff(_Object, frozen=True):
    """The last sustained rise of power, and how low the hook went after it."""

    start_s: float
    start_range_m: float | None
    lowest_hook_above_deck_m: float | None


class Finding(_Object, frozen=True):
    """Why: a cause with its evidence. They stand in order of what they cost."""

    code: str
    title: str
    from_s: float
    to_s: float
    position: str
    weight: float
    cost_ramp_m: float | None
    evidence: dict[str, float | str | bool | None]
    advice: str


class Contribution(_Object, frozen=True):
    """What one cause did to the hook's height at the ramp between two times."""

    cause: Literal["start", "power", "nose", "bank", "air", "deck"]
    from_s: float
    to_s: float
    ramp_height_m: float
    sigma_m: float


class Made(_Object, frozen=True):
    """What one cause made between two times, in the unit of its arrival."""

    cause: Literal["start", "power", "nose", "bank", "air", "deck"]
    from_s: float
    to_s: float
    made: float


class Arrival(_Object, frozen=True):
    """How the pass arrived in one quantity: against on speed or centreline, or past the hook's target."""

    what: Literal["airspeed", "angle of attack", "line-up", "touchdown"]
    unit: Literal["mps", "deg", "m"]
    deviation: float
    unexplained: float
    parts: list[Made]


class Odds(_Object, frozen=True):
    """How the pass could still have ended from one moment on; what is left to 1 met the deck outside."""

    time_s: float
    trap: Probability
    bolter: Probability
    wave_off: Probability
    ramp_strike: Probability


class HookPoint(_Object, frozen=True):
    """A place of the hook's path: past the ramp and over the deck."""

    x_m: float
    height_m: float


class WhatIf(_Object, frozen=True):
    """A pass flown again by the model with one change; ``told`` is false where it cannot fly the pass."""

    change: str
    told: bool
    model_misses_m: float | None
    model_misses_at_ramp_m: float | None
    hook_to_ramp_m: float | None
    hook_x_m: float | None
    wire: int | None
    lowest_hook_above_deck_m: float | None
    path: list[HookPoint]


class Planned(_Object, frozen=True):
    """One quantity as planned and as flown, in ``unit``; ``difference`` is flown less planned."""

    what: str
    unit: str
    planned: float
    flown: float
    difference: float


class Pass(_Object, frozen=True):
    """One pass at the deck; ``planned`` is empty without a plan."""

    who: str
    aircraft: str
    site: str
    start_s: float
    end_s: float
    outcome: Outcome | None
    flags: list[str]
    wire: int | None
    wire_odds: dict[str, Probability]
    wire_in_the_air: bool
    grade: Grade
    shorthand: str
    summary: str
    groove: Groove | None
    turn: Turn | None
    positions: list[Position]
    ramp: Ramp | None
    touchdown: Touchdown | None
    wave_off: WaveOff | None
    findings: list[Finding]
    contributions: list[Contribution]
    unexplained_m: float | None
    arrivals: list[Arrival]
    odds: list[Odds]
    last_safe_wave_off_s: float | None
    what_if: list[WhatIf]
    planned: list[Planned]


class Document(_Object, frozen=True):
    """The whole result of one debrief."""

    schema: Literal["deckward.debrief/1"]
    recording: Recording
    passes: list[Pass]


def document(report: SessionReport) -> Document:
    """Turn a debriefed session into the published object.

    A pass carries its own notes on the data behind it; they are gathered in
    ``recording.notes``, headed by the pass's number, since the object has no other
    place for them.
    """
    notes = [_note(note) for note in report.notes]
    for one in report.passes:
        notes.extend(
            Note(code=note.code, text=f"Pass {one.number}: {note.text}")
            for note in one.flown.notes
            if note not in report.notes
        )
    return Document(
        schema=SCHEMA,
        recording=Recording(samples=report.samples, rate_hz=_number(report.rate_hz), notes=notes),
        passes=[_pass(one) for one in report.passes],
    )


def schema() -> dict[str, Any]:
    """Make the JSON Schema (draft 2020-12) of :class:`Document`."""
    return schema_of(Document, SCHEMA)


def _pass(report: PassReport) -> Pass:
    one, score = report.flown, report.score
    return Pass(
        who=one.who,
        aircraft=one.aircraft.name,
        site=one.site.name,
        start_s=_known(one.start, "s"),
        end_s=_known(one.end, "s"),
        outcome=one.outcome,  # type: ignore[arg-type]
        flags=list(one.flags),
        wire=None if one.wire is None else int(one.wire),
        wire_odds=_odds(one.wire_odds),
        wire_in_the_air=one.wire_in_the_air,
        grade=_grade(score.grade),
        shorthand=score.shorthand,
        summary=score.summary,
        groove=_groove(one.groove) if one.groove else None,
        turn=_turn(one.turn) if one.turn else None,
        positions=[_position(position) for position in one.positions],
        ramp=_ramp(one.ramp) if one.ramp else None,
        touchdown=_touchdown(one.touchdown) if one.touchdown else None,
        wave_off=_wave_off(one.wave_off) if one.wave_off else None,
        findings=[_finding(finding) for finding in report.why.findings],
        contributions=[_contribution(part) for part in report.why.contributions],
        unexplained_m=_number(report.why.unexplained, "m"),
        arrivals=[_arrival(one) for one in report.why.arrivals],
        odds=[] if report.ahead is None else _outlook(report.ahead),
        last_safe_wave_off_s=None if report.ahead is None else _number(report.ahead.last_safe, "s"),
        what_if=[_what_if(one) for one in report.what_if],
        planned=[
            Planned(
                what=line.what,
                unit=line.suffix,
                planned=_known(line.planned, line.suffix),
                flown=_known(line.flown, line.suffix),
                difference=_known(line.difference, line.suffix),
            )
            for line in report.planned
        ],
    )


def _finding(finding: explained.Finding) -> Finding:
    return Finding(
        code=finding.code,
        title=finding.title,
        from_s=_known(finding.start, "s"),
        to_s=_known(finding.end, "s"),
        position=finding.position,
        weight=finding.weight,
        cost_ramp_m=_number(finding.cost_ramp, "m"),
        evidence={
            name: _number(value) if isinstance(value, float) else value
            for name, value in finding.evidence.items()
        },
        advice=finding.advice,
    )


def _contribution(part: explained.Contribution) -> Contribution:
    return Contribution(
        cause=part.cause,  # type: ignore[arg-type]
        from_s=_known(part.start, "s"),
        to_s=_known(part.end, "s"),
        ramp_height_m=_known(part.ramp_height, "m"),
        sigma_m=_known(part.sigma, "m"),
    )


#: the unit of each arrival
_UNITS: dict[str, Literal["mps", "deg", "m"]] = {
    "airspeed": "mps",
    "angle of attack": "deg",
    "line-up": "m",
    "touchdown": "m",
}


def _arrival(one: explained.Arrival) -> Arrival:
    unit = _UNITS[one.what]
    return Arrival(
        what=one.what,  # type: ignore[arg-type]
        unit=unit,
        deviation=_known(one.deviation, unit),
        unexplained=_known(one.unexplained, unit),
        parts=[
            Made(
                cause=part.cause,  # type: ignore[arg-type]
                from_s=_known(part.start, "s"),
                to_s=_known(part.end, "s"),
                made=_known(part.made, unit),
            )
            for part in one.parts
        ],
    )


def _what_if(one: changed.WhatIf) -> WhatIf:
    # five a second are enough to draw it
    path: list[Any] = [] if one.path is None else list(one.path[::_PATH_EVERY])
    return WhatIf(
        change=f"{one.change.name}={one.change.value:g}" if one.change.value else one.change.name,
        told=one.told,
        model_misses_m=_number(one.rms, "m"),
        model_misses_at_ramp_m=_number(one.at_ramp, "m"),
        hook_to_ramp_m=_number(one.hook_to_ramp, "m"),
        hook_x_m=_number(one.hook_x, "m"),
        wire=one.wire,
        lowest_hook_above_deck_m=_number(one.lowest_hook, "m"),
        path=[HookPoint(x_m=_known(x, "m"), height_m=_known(height, "m")) for x, height in path],
    )


def _outlook(ahead: explained.Outlook) -> list[Odds]:
    return [
        Odds(
            time_s=_known(ahead.time[k], "s"),
            trap=_known(ahead.trap[k]),
            bolter=_known(ahead.bolter[k]),
            wave_off=_known(ahead.wave_off[k]),
            ramp_strike=_known(ahead.ramp_strike[k]),
        )
        for k in range(ahead.time.size)
    ]


def _odds(odds) -> dict[str, float]:
    return {str(name): min(1.0, max(0.0, round(float(p), DECIMALS))) for name, p in odds.items()}


def _grade(grade: scored.Grade) -> Grade:
    return Grade(name=grade.name, symbol=grade.symbol, points=_number(grade.points), odds=_odds(grade.odds))


def _groove(groove: flown.Groove) -> Groove:
    return Groove(start_s=_known(groove.start, "s"), seconds=_known(groove.seconds, "s"))


def _turn(turn: flown.Turn) -> Turn:
    return Turn(
        abeam_distance_m=_number(turn.abeam_distance, "m"),
        abeam_altitude_m=_number(turn.abeam_altitude, "m"),
        start_s=_number(turn.start, "s"),
    )


def _ramp(ramp: flown.Ramp) -> Ramp:
    return Ramp(
        time_s=_known(ramp.time, "s"),
        hook_to_ramp_m=_number(ramp.hook_to_ramp, "m"),
        hook_to_ramp_sigma_m=_number(ramp.hook_to_ramp_sigma, "m"),
    )


def _wave_off(wave_off: flown.WaveOff) -> WaveOff:
    return WaveOff(
        start_s=_known(wave_off.start, "s"),
        start_range_m=_number(wave_off.start_range, "m"),
        lowest_hook_above_deck_m=_number(wave_off.lowest_hook_above_deck, "m"),
    )


def _position(position: flown.Position) -> Position:
    return Position(
        name=position.name,
        range_m=_known(position.range, "m"),
        time_s=_known(position.time, "s"),
        glide_slope_error_deg=_number(position.glide_slope_error, "deg"),
        ball_cells=_number(position.ball_cells),
        line_up_error_deg=_number(position.line_up_error, "deg"),
        line_up_offset_m=_number(position.line_up_offset, "m"),
        angle_of_attack_deg=_number(position.angle_of_attack, "deg"),
        angle_of_attack_error_deg=_number(position.angle_of_attack_error, "deg"),
        sink_mps=_number(position.sink, "mps"),
        closure_mps=_number(position.closure, "mps"),
        after_wave_off=bool(position.after_wave_off),
    )


def _touchdown(touchdown: flown.Touchdown) -> Touchdown:
    return Touchdown(
        time_s=_known(touchdown.time, "s"),
        kind=touchdown.kind,  # type: ignore[arg-type]
        hook_x_m=_number(touchdown.hook_x, "m"),
        hook_x_sigma_m=_number(touchdown.hook_x_sigma, "m"),
        wheels_x_m=_number(touchdown.wheels_x, "m"),
        off_centre_m=_number(touchdown.off_centre, "m"),
        sink_mps=_number(touchdown.sink, "mps"),
        closure_mps=_number(touchdown.closure, "mps"),
        angle_of_attack_deg=_number(touchdown.angle_of_attack, "deg"),
        pitch_deg=_number(touchdown.pitch, "deg"),
    )
