"""What a study's tables and pages say."""

from __future__ import annotations

from deckward.prediction import Share
from deckward.reports import words
from deckward.reports.studies.model import Case, StudyReport

#: outcomes in the order they are told, with their short heads
OUTCOMES = (
    ("trap", "trap"),
    ("bolter", "bolter"),
    ("wave-off", "wave-off"),
    ("ramp strike", "ramp strike"),
    ("outside", "outside"),
)
MODEL = (
    "The passes are flown by a model of the jet, the air, the deck and a pilot; his habits and the landing "
    "signal officer's limits are common practice without a source. Compare cases with one another; do not "
    "take a share for a squadron's."
)


def percent(share: float, digits: int = 1) -> str:
    """Write a share in per cent."""
    return f"{100.0 * share:.{digits}f}"


def interval(share: Share) -> str:
    """Write a share with its 95 per cent interval."""
    return f"{percent(share.value)} ({percent(share.low)} to {percent(share.high)})"


def name(report: StudyReport, case: Case) -> str:
    """Call a case by what varies, or plainly where nothing does."""
    return (
        ", ".join(f"{one.title} {one.label(case.values[one.name])}" for one in report.varied) or "All passes"
    )


def setting(report: StudyReport) -> str:
    """Tell what all cases share."""
    held = [f"{one.title} {one.label(one.values[0])}" for one in report.held]
    return " · ".join([words.called(report.site.name), *held])


def title(report: StudyReport) -> str:
    """Return the study's title."""
    if not report.varied:
        return f"What became of {report.count} passes"
    return "Boarding over " + " and ".join(one.title for one in report.varied)


def wires(case: Case) -> str:
    """Tell the shares of the wires."""
    return (
        ", ".join(f"{n}: {percent(share.value)} %" for n, share in case.found.wires.items()) or words.NOTHING
    )


def facts(case: Case) -> list[tuple[str, str]]:
    """Return what a case's page says beside its shares."""
    found = case.found
    out = [("wires", wires(case))]
    if found.sink_points:
        low, high = (words.number(found.sink_points[k], "fps", 1) for k in (0, -1))
        off = f"{side(found.touch_y[0])}, ± {words.number(found.touch_y[1], 'ft', 1)} ft"
        out += [
            ("hook touchdown", f"{mean(found.touch_x, 'ft')} ft past the ramp"),
            (
                "off the centreline",
                off,
            ),
            ("sink at touchdown", f"{mean(found.sink, 'fps', 1)} ft/s; 5 to 95 %: {low} to {high} ft/s"),
        ]
    if words.known(found.ramp_height[0]):
        out.append(("hook over the ramp", f"{mean(found.ramp_height, 'ft', 1)} ft"))
    return out


def mean(value: tuple[float, float], unit: str, digits: int = 0) -> str:
    """Write a mean and its standard deviation, SI, in the unit of a suffix."""
    if not words.known(value[0]):
        return words.NOTHING
    return f"{words.number(value[0], unit, digits)} ± {words.number(value[1], unit, digits)}"


def side(offset: float) -> str:
    """Write a mean offset with its side."""
    size, which = words.sided(offset, "ft", 1, "right", "left", "on it")
    return which if float(size) == 0.0 else f"{size} ft {which}"
