"""Why, in words: findings with their evidence in trade units, and what made the height at the ramp."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from msgspec import Struct

from deckward.explanation.model import Contribution, Explanation, Finding
from deckward.foundation.units import FOOT, NAUTICAL_MILE, to_si
from deckward.passes.model import Pass
from deckward.reports import words

#: findings that are shown at once; the rest is folded
MOST = 3
#: sentences of what made the height at the ramp
SENTENCES = 3
#: less than this at the ramp is not told, m
SLIGHT = 1.0 * FOOT
#: evidence that is told of one finding
_PIECES = 3
#: in nautical miles beyond, in feet nearer than this
_NEAR = 0.15 * NAUTICAL_MILE

CAUSES = ("start", "power", "nose", "bank", "air", "deck")
#: what a cause did where it lifted the hook at the ramp, and where it lowered it
_DID = {
    "start": ("started high", "started low"),
    "power": ("power added", "power taken off"),
    "nose": ("nose up", "nose down"),
    "bank": ("the bank taken off", "lift and speed lost in the bank"),
    "air": ("the air carried it", "the air let it down"),
    "deck": ("the deck went down", "the deck came up"),
}

#: evidence by its key: what is said of a number, of a negative one (None: the same), and its kind
_SAYS: Mapping[str, tuple[str, str | None, str]] = {
    "mean_error_deg": ("{} slow on average", "{} fast on average", "deg"),
    "nose_deg": ("nose {} up", "nose {} down", "deg"),
    "ball_deg": ("ball {} high", "ball {} low", "cells"),
    "power_helped_weights": ("power helped by {}", "power worked against it by {}", "weight"),
    "pitch_up_deg": ("nose {} up", "nose {} down", "deg"),
    "sink_less_fps": ("sink {} less", None, "fpm"),
    "pitch_down_deg": ("nose {} down", None, "deg"),
    "sink_more_fps": ("sink {} more", None, "fpm"),
    "high_deg": ("ball {} high", "ball {} low", "cells"),
    "brought_to_deg": ("brought to {} high", "brought to {} low", "cells"),
    "height_lost_ft": ("{} of height lost", None, "ft"),
    "lowest_deg": ("ball {} high at the lowest", "ball {} low at the lowest", "cells"),
    "low_ft": ("{} above the path", "{} below the path", "ft"),
    "before_ramp_s": ("{} before the ramp", "{} past the ramp", "s"),
    "lowest_hook_ft": ("hook down to {} over the deck", "hook {} below the deck", "ft"),
    "above_on_speed_deg": ("{} above on-speed", None, "deg"),
    "hook_above_deck_ft": ("hook {} over the deck", "hook {} below the deck", "ft"),
    "swings": ("{} swings", None, "count"),
    "largest_deg": ("the largest {}", None, "cells"),
    "power_weights": ("thrust {} above what holds the path", "thrust {} below what holds the path", "weight"),
    "went_high_deg": ("the ball went {} high", None, "cells"),
    "fell_fps": ("fell from the path at {}", None, "fpm"),
    "low_deg": ("ball {} high", "ball {} low", "cells"),
    "strokes": ("{} strokes", None, "count"),
    "seconds": ("in {}", None, "s"),
    "stroke_pct": ("of {} of the throttle each", None, "pct"),
    "cut_pct": ("{} of the throttle taken off", None, "pct"),
    "cut_weights": ("thrust cut by {}", None, "weight"),
    "ball_moves_fps": ("rising through the path at {}", "falling through the path at {}", "fpm"),
    "burst_weights": ("burst of {}", None, "weight"),
    "bank_deg": ("bank {}", None, "deg"),
    "power_added_weights": ("thrust added {}", "thrust taken off {}", "weight"),
    "sink_from_bank_fps": ("sink of {} from the bank", None, "fpm"),
    "drift_fps": ("drift {} to the right", "drift {} to the left", "fps"),
    "offset_ft": ("{} right of the centreline", "{} left of the centreline", "ft"),
    "across_fps": ("moving across at {}", None, "fps"),
    "times": ("{} times", None, "count"),
    "came_down_s": ("came down at {} of the recording", None, "s"),
    "mass_lb": ("{} at the ramp", None, "lb"),
    "limit_lb": ("{} is the most", None, "lb"),
    "most_power_pct": ("no more than {} power", None, "pct"),
    "speed_kt": ("at {}", None, "kt"),
    "power_pct": ("{} power", None, "pct"),
    "brake_pct": ("{} brake", None, "pct"),
    "taxied_s": ("taxied {} with it", None, "s"),
    "down_after_stop_s": ("{} after the stop", None, "s"),
    "pitch_off_deg": ("nose {} high at touchdown", "nose {} low at touchdown", "deg"),
    "sink_fps": ("sink {}", None, "fpm"),
    "sideways_g": ("{} sideways", None, "g"),
    "turn_deg_per_s": ("turning {} a second", None, "deg"),
    "left_of_centreline_deg": ("{} left of the centreline", None, "deg"),
    "angle_of_landing_area_deg": ("the landing area stands {} off", None, "deg"),
    "line_up_deg": ("{} right", "{} left", "deg"),
    "groove_s": ("{} in the groove", None, "s"),
    "abeam_altitude_ft": ("{} abeam", None, "ft"),
    "off_ft": ("{} too high", "{} too low", "ft"),
    "off_abeam_ft": ("{} high abeam", "{} low abeam", "ft"),
    "off_at_the_ninety_ft": ("{} high at the ninety", "{} low at the ninety", "ft"),
    "altitude_over_radar_ft": ("altitude {} over the radar's", "altitude {} below the radar's", "ft"),
    "abeam_nm": ("{} abeam", None, "nm"),
    "moved": ("moved by {} of its travel", None, "share"),
    "set_to": ("set to {}", None, "plain"),
    "should_be": ("should be {}", None, "plain"),
    "stood_at": ("stood at {}", None, "share"),
    "below_ft": ("{} below the bow", None, "ft"),
    "end_speed_short_kt": ("end speed {} short", None, "kt"),
    "what": ("the {}", None, "text"),
    "which": ("{}", None, "text"),
    "foretold_by": ("foretold by {}", None, "text"),
    "power": ("power {}", None, "text"),
}
#: bounds, which the rules tell
UNTOLD = frozenset({"limit_deg", "limit_s", "spread_ft"})


class Told(Struct, frozen=True):
    """A finding ready to print."""

    title: str
    where: str
    evidence: str
    cost: str
    advice: str
    weighty: bool


class Stretch(Struct, frozen=True):
    """What one cause did at a stretch: from one distance aft of the ramp to another, m at the ramp."""

    cause: str
    start: float
    end: float
    made: float


def findings(flown: Pass, why: Explanation) -> list[Told]:
    """Return every finding, the dearest first."""
    return [_told(flown, one) for one in why.findings]


def _told(flown: Pass, one: Finding) -> Told:
    pieces = [piece for key, value in one.evidence.items() if (piece := evidence(flown, key, value))]
    return Told(
        title=words.clean(one.title),
        where=_where(flown, one),
        evidence=", ".join(pieces[:_PIECES]),
        cost=at_ramp(one.cost_ramp) if abs(one.cost_ramp or 0.0) >= SLIGHT else "",
        advice=words.clean(one.advice),
        weighty=one.weight >= 1.0,
    )


def evidence(flown: Pass, key: str, value: float | str | bool | None) -> str:
    """Say one piece of evidence; empty where there is nothing to say."""
    if value is None or key in UNTOLD:
        return ""
    plus, minus, kind = _SAYS[key]
    if isinstance(value, str):
        return plus.format(words.clean(value))
    phrase = minus if minus and value < 0.0 else plus
    return phrase.format(_amount(flown, abs(float(value)), kind))


def _amount(flown: Pass, value: float, kind: str) -> str:
    """Write a number of the evidence in the unit that the trade reads it in."""
    if kind == "cells":
        size = to_si(value, "deg") / flown.site.lens.cell
        return f"{size:.1f} {'cell' if f'{size:.1f}' == '1.0' else 'cells'}"
    shown = {
        "deg": f"{value:.1f}°",
        "fpm": f"{60.0 * value:.0f} ft/min",
        "fps": f"{value:.0f} ft/s",
        "ft": f"{value:.0f} ft",
        "weight": f"{100.0 * value:.0f} % of the weight",
        "s": f"{value:.1f} s",
        "kt": f"{value:.0f} kt",
        "pct": f"{value:.0f} %",
        "share": f"{100.0 * value:.0f} %",
        "lb": f"{value:,.0f} lb".replace(",", " "),
        "nm": f"{value:.2f} nm",
        "g": f"{value:.2f} g",
        "count": f"{value:.0f}",
        "plain": f"{value:g}",
    }
    return shown[kind]


def _where(flown: Pass, one: Finding) -> str:
    """Say where in the pass a finding is: the distances it runs over, else its position."""
    start, end = distance(flown, one.start), distance(flown, one.end)
    if start is None or end is None or start <= 0.0 or start > 1.5 * NAUTICAL_MILE:
        return one.position
    return span(start, end)


def distance(flown: Pass, when: float) -> float | None:
    """Distance aft of the ramp at a time in the air, m; None where it is not known."""
    series = flown.series
    if not series.time[0] <= when <= series.time[-1]:
        return None
    reach = float(np.interp(when, series.time, series.range))
    return reach if math.isfinite(reach) else None


def span(start: float, end: float) -> str:
    """Say from where to where, m aft of the ramp: "from 0.5 to 0.3 nm", "at 600 ft"."""
    first, last = _place(start), _place(end)
    if first == last or end >= start:
        return f"at {first}"
    if first.endswith(" nm") and last.endswith(" nm"):
        first = first.removesuffix(" nm")
    return f"from {first} to {last}"


def _place(reach: float) -> str:
    if reach < 15.0:
        return "the ramp"
    if reach >= _NEAR:
        return f"{words.number(reach, 'nm', 1)} nm"
    return f"{10.0 * round(reach / FOOT / 10.0):.0f} ft"


def at_ramp(height: float | None) -> str:
    """Say a height that something made at the ramp: "6 ft low at the ramp"."""
    size, side = words.sided(height, "ft", 0, "high", "low")
    return f"{size} ft {side} at the ramp" if side else "nothing at the ramp"


def deviation(why: Explanation) -> float | None:
    """Height of the hook over the commanded path at the ramp, m, as the causes and their rest make it."""
    if not why.contributions or why.unexplained is None:
        return None
    return sum(part.ramp_height for part in why.contributions) + why.unexplained


def at_ramp_of(why: Explanation) -> str:
    """Say the height at the ramp that the causes made, and what of it they leave; empty where not known."""
    whole = deviation(why)
    if whole is None or why.unexplained is None:
        return ""
    size, side = words.sided(whole, "ft", 0, "above", "below")
    left, some = words.sided(why.unexplained, "ft", 0, "s", "s")
    height = f"{size} ft {side} the commanded path" if side else "on the commanded path"
    return f"{height}, {left} ft unexplained" if some else height


def totals(why: Explanation) -> dict[str, float]:
    """Sum up what each cause made at the ramp, m."""
    out = dict.fromkeys(CAUSES, 0.0)
    for part in why.contributions:
        out[part.cause] += part.ramp_height
    return out


def sentences(flown: Pass, why: Explanation) -> list[str]:
    """Say what made most at the ramp: "power taken off from 0.5 to 0.3 nm: 6 ft low at the ramp"."""
    return [f"{did(one)}: {at_ramp(one.made)}" for one in largest(flown, why)]


class Arrived(Struct, frozen=True):
    """A line of how a pass arrived: what, how much and on which side, what each cause made, what is left."""

    what: str
    size: str
    side: str
    made: tuple[str, ...]
    left: str


#: what an arrival is called, its unit, digits, and the words for its sides
_ARRIVED: Mapping[str, tuple[str, str, int, str, str]] = {
    "airspeed": ("airspeed, kt", "kt", 1, "fast", "slow"),
    "angle of attack": ("angle of attack, deg", "deg", 1, "slow", "fast"),
    "line-up": ("line-up, ft", "ft", 0, "right", "left"),
    "touchdown": ("touchdown, ft", "ft", 0, "long", "short"),
}


def arrived(why: Explanation) -> list[Arrived]:
    """Return the lines of how a pass arrived, height at the ramp first; a cause without a part is blank."""
    out = []
    whole = deviation(why)
    if whole is not None:
        made = totals(why)
        out.append(_arrived("height, ft", whole, why.unexplained, made, "ft", 1, "high", "low"))
    for one in why.arrivals:
        made = {}
        for part in one.parts:
            made[part.cause] = made.get(part.cause, 0.0) + part.made
        name, unit, digits, plus, minus = _ARRIVED[one.what]
        out.append(_arrived(name, one.deviation, one.unexplained, made, unit, digits, plus, minus))
    return out


def _arrived(
    what: str, value: float, left: float | None, made: Mapping[str, float],
    unit: str, digits: int, plus: str, minus: str,
) -> Arrived:  # fmt: skip
    def said(number: float | None) -> str:
        return words.number(number, unit, digits, signed=True)

    size, side = words.sided(value, unit, digits, plus, minus)
    return Arrived(
        what, size, side, tuple(said(made[cause]) if cause in made else "" for cause in CAUSES), said(left)
    )


def largest(flown: Pass, why: Explanation) -> list[Stretch]:
    """Return the few stretches that made most at the ramp."""
    found = sorted(stretches(flown, why.contributions), key=lambda one: -abs(one.made))
    return [one for one in found[:SENTENCES] if abs(one.made) >= SLIGHT]


def did(one: Stretch) -> str:
    """Say what a cause did, and where."""
    return f"{_DID[one.cause][one.made < 0.0]} {span(one.start, one.end)}"


def stretches(flown: Pass, parts: Sequence[Contribution]) -> Iterator[Stretch]:
    """Join what a cause did on one side at a stretch; what is slight does not part it."""
    for cause in CAUSES:
        own = [part for part in parts if part.cause == cause]
        runs: list[list[Contribution]] = []
        for part in own:
            if runs and (part.ramp_height * _sum(runs[-1]) >= 0.0 or abs(part.ramp_height) < 0.1 * FOOT):
                runs[-1].append(part)
            else:
                runs.append([part])
        for run in _joined(runs):
            trimmed = [part for part in run if abs(part.ramp_height) >= 0.05 * abs(_sum(run))] or run
            start, end = distance(flown, trimmed[0].start), distance(flown, trimmed[-1].end)
            if start is not None:
                yield Stretch(cause, start, start if end is None else end, _sum(run))


def _joined(runs: list[list[Contribution]]) -> list[list[Contribution]]:
    """Let small runs between two of the other side go with them."""
    out: list[list[Contribution]] = []
    for run in runs:
        small = len(out) > 0 and abs(_sum(run)) < 0.25 * abs(_sum(out[-1]))
        if small or (out and _sum(run) * _sum(out[-1]) > 0.0):
            out[-1].extend(run)
        else:
            out.append(list(run))
    return out


def _sum(run: Sequence[Contribution]) -> float:
    return sum(part.ramp_height for part in run)
