"""Numbers as the trade reads them and words for them: shared by screen, pages and sheets.

In: SI and radians, signs of the conventions. Out: text in feet, knots, nautical miles,
degrees and feet a minute, high and low, left and right, slow and fast in words.
"""

from __future__ import annotations

import datetime
import math
import re
import unicodedata
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np
from msgspec import Struct

from deckward.aircraft.model import Profile
from deckward.errors import Note
from deckward.explanation.model import Outlook
from deckward.foundation.units import from_si, to_si
from deckward.passes.model import Pass, Position
from deckward.reports.model import SessionReport
from deckward.scoring.model import Scorecard

if TYPE_CHECKING:
    from deckward.planning.against import Compared

NOTHING = "–"
MINUS = "−"
#: a grade or a wire that is likelier than this is told without its odds
SURE = 0.95
#: odds below this are not worth a reader's time
SLIGHT = 0.05
LONGEST_NAME = 60
#: one standard deviation above which the reader is told, cells
NOTABLE_CELLS = 0.25
#: nearer than this a position is the ramp itself, m
AT_RAMP = 10.0
#: below this a ball is called centred, cells
CENTRED = 0.05

_OUTCOMES = {
    None: "Not told: the recording ends too early",
    "trap": "Trap",
    "bolter": "Bolter",
    "touch-and-go": "Touch-and-go",
    "wave-off": "Wave-off",
    "landing": "Landing",
    "ramp strike": "Ramp strike",
    "outside": "Touched outside the landing area",
}


def clean(text: str) -> str:
    """Return text without what could steer a terminal or turn a line: names are strangers' input.

    Control, format, private and unassigned characters become a replacement mark; every
    kind of white space becomes one blank.
    """
    return " ".join(
        "".join("�" if unicodedata.category(c)[0] == "C" and not c.isspace() else c for c in text).split()
    )


def called(name: str, *, most: int = LONGEST_NAME) -> str:
    """Return a name from a file clean and, at ``most`` letters, short enough to stand in a line."""
    name = clean(name) or "unnamed"
    return name if len(name) <= most else name[: most - 1] + "…"


def underlined(text: str) -> list[tuple[str, bool]]:
    """Split shorthand or a symbol into its pieces and whether each is underlined ("_LO_": a lot)."""
    pieces = re.split(r"_([^_\s]+)_", clean(text))
    return [(piece, k % 2 == 1) for k, piece in enumerate(pieces) if piece]


def title(session: SessionReport) -> str:
    """Return the session's title, which has a line to itself."""
    return called(session.title, most=2 * LONGEST_NAME)


def opened(text: str) -> str:
    """Return a sentence with a capital at its beginning."""
    return text[:1].upper() + text[1:]


def known(value: float | None) -> bool:
    """Tell whether there is a number."""
    return value is not None and math.isfinite(value)


def number(value: float | None, unit: str, digits: int = 0, *, signed: bool = False) -> str:
    """Write an SI value in the unit of a suffix, a true minus before it; a dash for none."""
    if value is None or not math.isfinite(value):
        return NOTHING
    scaled = round(float(from_si(value, unit)), digits) + 0.0
    text = f"{scaled:+.{digits}f}" if signed and scaled else f"{scaled:.{digits}f}"
    return text.replace("-", MINUS)


def spread(value: float | None, unit: str, digits: int) -> str:
    """Write one standard deviation: "± 0.3", or what it is below; empty for none."""
    if value is None or not math.isfinite(value):
        return ""
    text = number(value, unit, digits)
    return f"± {text}" if float(text) else f"± < {10.0**-digits:.{digits}f}"


def sided(
    value: float | None, unit: str, digits: int, plus: str, minus: str, zero: str = ""
) -> tuple[str, str]:
    """Split a signed value into its size and the word for its side."""
    if value is None or not math.isfinite(value):
        return NOTHING, ""
    size = number(abs(value), unit, digits)
    if float(size) == 0.0:
        return size, zero
    return size, plus if value > 0 else minus


def height(value: float | None) -> str:
    """Write a height over the deck in feet, to a tenth where that matters."""
    return number(value, "ft", 1 if value is not None and abs(value) < 30.0 else 0)


def ball(cells: float | None) -> tuple[str, str]:
    """Return the ball's distance from the datum in cells, and "high", "low" or "centred".

    So far off the lens that cells say nothing, as after a wave-off, it is just "off".
    """
    if cells is not None and abs(cells) >= 100.0:
        return "off", "high" if cells > 0.0 else "low"
    return sided(cells, "", 1, "high", "low", "centred")


def speed_word(error: float | None, profile: Profile) -> str:
    """Say an angle-of-attack error (rad, + slow) as the index does.

    On speed within the profile's band, slightly slow or fast within its wider one.
    """
    if error is None or not math.isfinite(error):
        return ""
    alpha = profile.on_speed + error
    side = "slow" if alpha > profile.on_speed else "fast"
    if profile.band[0] <= alpha <= profile.band[1]:
        return "on speed"
    inside = profile.slight_band[0] <= alpha <= profile.slight_band[1]
    return f"slightly {side}" if inside else side


def clock(seconds: float) -> str:
    """Write a recording's time: h:mm:ss, or the date's own time where it counts from 1970."""
    if not math.isfinite(seconds):
        return NOTHING
    if abs(seconds) >= 1e8:
        moment = datetime.datetime.fromtimestamp(seconds, datetime.UTC)
        return moment.strftime("%H:%M:%S UTC")
    minutes, rest = divmod(int(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02d}:{rest:02d}"


def odds(chances: Mapping[str, float], *, before: str = "") -> str:
    """Say what may be, likeliest first: "OK or fair, 60 to 40"; empty where there is no doubt."""
    likely = sorted(((p, name) for name, p in chances.items() if p >= SLIGHT), key=lambda item: -item[0])
    if len(likely) < 2 or likely[0][0] >= SURE:
        return ""
    if len(likely) == 2:
        (p, a), (q, b) = likely
        share = round(100 * p / (p + q))
        return f"{before}{clean(a)} or {clean(b)}, {share} to {100 - share}"
    return before + ", ".join(f"{clean(name)} {100 * p:.0f} %" for p, name in likely)


def outlook(ahead: Outlook) -> str:
    """Say where the odds of a trap stood along a pass, and what the last safe wave-off means."""
    places = []
    for name, reach in (("1/2 nm", 0.5), ("1/4 nm", 0.25)):
        at = int(np.argmin(np.abs(ahead.range - to_si(reach, "nm"))))
        if abs(ahead.range[at] - to_si(reach, "nm")) < 30.0:
            places.append(f"{100 * ahead.trap[at]:.0f} % at {name}")
    places.append(f"{100 * ahead.trap[-1]:.0f} % at the last")
    called = float(ahead.called.max())
    officer = ""
    if called >= 0.1:
        where = from_si(float(ahead.range[int(np.argmax(ahead.called))]), "nm")
        officer = f" By rule an officer would wave it off: up to {100 * called:.0f} %, at {where:.2f} nm."
    return f"Odds of a trap: {', '.join(places)}.{officer} {ahead.verdict}"


def headline(flown: Pass) -> str:
    """Say the outcome and the wire: "Trap, wire 3"."""
    text = _OUTCOMES.get(flown.outcome, clean(flown.outcome or "").capitalize())
    if flown.wire is not None:
        text += f", wire {flown.wire}"
    return text


def wire_doubt(flown: Pass) -> str:
    """Say which other wires it may have been; empty where there is no doubt."""
    return odds(flown.wire_odds, before="wire ")


def tags(flown: Pass) -> list[str]:
    """Return the flags of a pass, and a wire taken in the air."""
    extra = ["wire taken in the air"] if flown.wire_in_the_air else []
    return [*extra, *(clean(flag) for flag in flown.flags)]


def points(score: Scorecard) -> str:
    """Write the grade's points, or say that it has none."""
    return NOTHING if score.grade.points is None else f"{score.grade.points:.1f}"


def grade_doubt(score: Scorecard) -> str:
    """Say the other grades it may be; empty where there is no doubt."""
    return odds(score.grade.odds)


class Row(Struct, frozen=True):
    """One line of the positions table, ready to print; ``doubt`` is the ball's sigma in cells."""

    name: str
    distance: str
    ball: str
    ball_word: str
    doubt: str
    line_up: str
    line_up_word: str
    line_up_angle: str
    alpha: str
    alpha_word: str
    sink: str
    closure: str
    after_wave_off: bool


def rows(flown: Pass) -> list[Row]:
    """Return the positions of a pass in order of time."""
    return [_row(at, flown) for at in sorted(flown.positions, key=lambda at: at.time)]


def _row(at: Position, flown: Pass) -> Row:
    high, word = ball(at.ball_cells)
    offset, side = sided(at.line_up_offset, "ft", 0, "right", "left", "centred")
    sigma = at.sigma.get("glide_slope_error", 0.0) / flown.site.lens.cell
    return Row(
        name=called(at.name),
        distance=number(at.range, "ft") if at.range > AT_RAMP else "",
        ball=high,
        ball_word=word,
        doubt=spread(sigma, "", 1) if sigma >= NOTABLE_CELLS and known(at.ball_cells) else "",
        line_up=offset,
        line_up_word=side,
        line_up_angle=number(abs(at.line_up_error), "deg", 1),
        alpha=number(at.angle_of_attack, "deg", 1),
        alpha_word=speed_word(at.angle_of_attack_error, flown.aircraft),
        sink=number(at.sink, "fpm"),
        closure=number(at.closure, "kt"),
        after_wave_off=at.after_wave_off,
    )


class Fact(Struct, frozen=True):
    """One number worth a place of its own: what, how much, in what, how sure, and a remark."""

    what: str
    value: str
    unit: str
    doubt: str = ""
    remark: str = ""


def facts(flown: Pass) -> list[Fact]:
    """Return the single numbers of a pass: ramp, touchdown, wave-off, groove, pattern."""
    out = []
    if flown.ramp is not None:
        out.append(
            Fact(
                "hook to ramp",
                height(flown.ramp.hook_to_ramp),
                "ft",
                spread(flown.ramp.hook_to_ramp_sigma, "ft", 1),
            )
        )
    touch = flown.touchdown
    if touch is not None:
        if known(touch.hook_x):
            sure = spread(touch.hook_x_sigma, "ft", 1)
            remark = "in a wire, in the air" if touch.kind == "wire" else "past the ramp"
            out.append(Fact("hook down", number(touch.hook_x, "ft"), "ft", sure, remark))
        elif known(touch.wheels_x):
            out.append(Fact("wheels down", number(touch.wheels_x, "ft"), "ft", remark="past the ramp"))
        if known(touch.off_centre):
            size, side = sided(touch.off_centre, "ft", 0, "right", "left")
            out.append(Fact("off centre", size, "ft", remark=side))
        if known(touch.sink):
            out.append(Fact("sink at touchdown", number(touch.sink, "fpm"), "ft/min"))
        if known(touch.closure):
            out.append(Fact("closing at touchdown", number(touch.closure, "kt"), "kt"))
    if flown.wave_off is not None:
        where = number(flown.wave_off.start_range, "ft")
        out.append(Fact("waved off", where, "ft", remark="aft of the ramp"))
        if known(flown.wave_off.lowest_hook_above_deck):
            low = height(flown.wave_off.lowest_hook_above_deck)
            out.append(Fact("lowest hook", low, "ft", remark="above the deck"))
    if flown.groove is not None and known(flown.groove.seconds):
        out.append(Fact("groove", f"{flown.groove.seconds:.0f}", "s"))
    if flown.turn is not None:
        high = number(flown.turn.abeam_altitude, "ft")
        distance = number(flown.turn.abeam_distance, "nm", 2)
        out.append(Fact("abeam", distance, "nm", remark=f"at {high} ft"))
    return out


def inferred(flown: Pass) -> list[str]:
    """Return the quantities that were worked out rather than recorded, in words."""
    origin = flown.series.origin
    return sorted(name.replace("_", " ") for name, source in origin.items() if source == "inferred")


def certainty(flown: Pass) -> list[tuple[str, str]]:
    """Return how sure a pass's numbers are (the median of one sigma) and what was inferred."""
    out = []
    for name, label, unit, digits in (
        ("ball_cells", "ball", "", 2),
        ("line_up_offset", "line-up", "ft", 1),
        ("angle_of_attack", "angle of attack", "deg", 2),
        ("sink", "sink", "fpm", 0),
    ):
        sigma = flown.series.sigma.get(name)
        if sigma is None or not np.isfinite(sigma + getattr(flown.series, name)).any():
            continue
        suffix = {"": " cells", "ft": " ft", "deg": "°", "fpm": " ft/min"}[unit]
        out.append((label, spread(float(np.nanmedian(sigma)), unit, digits) + suffix))
    worked_out = inferred(flown)
    if worked_out:
        out.append(("worked out, not recorded", ", ".join(worked_out)))
    return out


def notes(items: tuple[Note, ...]) -> list[str]:
    """Return the sentences of notes, each once, in order."""
    return list(dict.fromkeys(clean(note.text) for note in items))


class PilotLine(Struct, frozen=True):
    """What one pilot's passes come to."""

    who: str
    passes: int
    traps: int
    counted: int
    uncounted: int
    mean_points: float | None


def pilots(session: SessionReport) -> list[PilotLine]:
    """Sum the session by pilot, in order of first pass.

    Boarding rate is traps over traps, bolters, ramp strikes and scored wave-offs; a
    wave-off without points (its reason is not in the recording) is counted apart.
    Source: common practice, no source.
    """
    out = []
    for who in dict.fromkeys(item.flown.who for item in session.passes):
        own = [item for item in session.passes if item.flown.who == who]
        scored = [p for item in own if (p := item.score.grade.points) is not None]
        tried = [item for item in own if item.flown.outcome in ("trap", "bolter", "ramp strike", "wave-off")]
        unscored = sum(item.flown.outcome == "wave-off" and item.score.grade.points is None for item in tried)
        out.append(
            PilotLine(
                who=called(who),
                passes=len(own),
                traps=sum(item.flown.outcome == "trap" for item in own),
                counted=len(tried) - unscored,
                uncounted=unscored,
                mean_points=sum(scored) / len(scored) if scored else None,
            )
        )
    return out


def boarding(line: PilotLine) -> str:
    """Write a boarding rate with what it counts: "75 %, 3 of 4"."""
    if not line.counted:
        return NOTHING
    return f"{100 * line.traps / line.counted:.0f} %, {line.traps} of {line.counted}"


def uncounted(lines: Sequence[PilotLine]) -> str:
    """Say that wave-offs were left out of the boarding rate; empty where none was."""
    left = sum(line.uncounted for line in lines)
    if not left:
        return ""
    which = "One wave-off is" if left == 1 else f"{left} wave-offs are"
    return f"{which} not in the boarding rate: the recording cannot show why."


def planned(lines: Sequence[Compared]) -> list[tuple[str, str, str, str]]:
    """Return what was planned, flown, and by how much that differs, with units, for a table."""
    out = []
    for line in lines:
        unit = {"fpm": "ft/min"}.get(line.suffix, line.suffix)
        out.append(
            (
                line.what,
                f"{number(line.planned, line.suffix, line.digits)} {unit}",
                f"{number(line.flown, line.suffix, line.digits)} {unit}",
                number(line.difference, line.suffix, line.digits, signed=True),
            )
        )
    return out
