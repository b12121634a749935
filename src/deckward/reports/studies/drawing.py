"""The figures of a study: odds over one input, boarding over two, where the hooks came down."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from deckward.foundation.units import from_si, to_si
from deckward.prediction.ensemble import OUTCOMES
from deckward.reports import deck, typeface
from deckward.reports.studies import words as says
from deckward.reports.studies.model import Case, Input, StudyReport
from deckward.reports.svg import Drawing, Form, Scale, ticks

_WIDE = {Form.WIDE: 1000.0, Form.NARROW: 380.0}
#: how each outcome is drawn: its line and the word beside it
_LINES = (
    ("trap", "ink", 2.4, None),
    ("bolter", "blue", 2.0, "8 3"),
    ("wave-off", "amber-ink", 2.0, "2 3"),
    ("ramp strike", "red", 2.4, "9 3 2 3"),
)
#: marks of hooks that are drawn at most; more only blacken the deck
_MOST_MARKS = 600


def figures(report: StudyReport, form: Form) -> dict[str, Drawing]:
    """Draw everything there is to draw of a study, by name."""
    drawn: dict[str, Drawing] = {}
    if len(report.varied) == 2:
        drawn["boarding"] = grid(report, "trap", form=form)
        drawn["bolters"] = grid(report, "bolter", form=form)
    elif report.varied:
        drawn["outcomes"] = lines(report, form=form)
    else:
        drawn["touchdowns"] = touchdowns(report, report.cases[0], form=form)
        drawn["sink"] = sink(report.cases[0], form=form)
    return drawn


def grid(report: StudyReport, outcome: str, *, form: Form = Form.WIDE) -> Drawing:
    """Set the share of an outcome out over two inputs: a number in each box, the box darker the more."""
    down, across = report.varied
    width = _WIDE[form]
    size = 11.0 if form is Form.WIDE else 8.5
    labels = [down.label(value) for value in down.values]
    left = 14 + max(typeface.width(text, size, bold=True) for text in [*labels, down.title])
    box = (width - left - 8) / len(across.values)
    tall = 46.0 if form is Form.WIDE else 34.0
    d = Drawing(
        f"study-{outcome.replace(' ', '-')}-{form.value}",
        width,
        64 + tall * len(labels),
        title=f"Share of passes: {outcome}, over {down.title} and {across.title}",
        says="A table of shares in per cent with their 95 per cent intervals.",
    )
    d.text(left, 13, f"{_HEADS[outcome]}, % of all passes", size=12, bold=True)
    d.text(left + box * len(across.values) / 2, 30, across.title, size=size, ink="soft", anchor="middle")
    d.text(4, 46, down.title, size=size, ink="soft")
    if form is Form.WIDE:
        d.text(width - 8, 13, "bars: from the least share of the table to the greatest", size=10, ink="soft",
               anchor="end")  # fmt: skip
    shares = np.array([case.found.shares[outcome].value for case in report.cases])
    least, most = float(shares.min()), float(shares.max())
    every = iter(report.cases)
    for k, value in enumerate(across.values):
        middle = left + box * (k + 0.5)
        d.text(middle, 46, across.label(value), size=size, bold=True, anchor="middle")
    for row, label in enumerate(labels):
        top = 52 + tall * row
        d.text(4, top + tall / 2 + 4, label, size=size, bold=True)
        for k in range(len(across.values)):
            share = next(every).found.shares[outcome]
            depth = (share.value - least) / (most - least) if most > least else 0.0
            _box(d, left + box * k, top, box - 2, tall - 2, depth)
            middle = left + box * k + box / 2 - 1
            d.text(middle, top + tall / 2 + (-3 if form is Form.WIDE else 3),
                   says.percent(share.value), size=size + 3, bold=True, anchor="middle")  # fmt: skip
            if form is Form.WIDE and box > 84:
                span = f"{says.percent(share.low)} to {says.percent(share.high)}"
                d.text(middle, top + tall / 2 + 11, span, size=9, ink="soft", anchor="middle")
    return d


_HEADS = {"trap": "Traps", "bolter": "Bolters"}


def _box(d: Drawing, x: float, y: float, width: float, height: float, depth: float) -> None:
    """Draw a box with a bar at its foot as long as the share stands in the table's range."""
    d.rect(x, y, width, height, fill="sheet", stroke="rule", line=0.7)
    d.rect(x, y + height - 5, width * depth, 5, fill="blue")


def lines(report: StudyReport, *, form: Form = Form.WIDE) -> Drawing:
    """Draw the shares of the outcomes over one input, with their intervals."""
    (over,) = report.varied
    width = _WIDE[form]
    tall = 320.0 if form is Form.WIDE else 240.0
    place, marks = _along(over)
    x = Scale(min(place), max(place), 70.0, width - 40.0)
    y = Scale(0.0, 1.0, 24.0 + tall, 24.0)
    d = Drawing(
        f"study-outcomes-{form.value}",
        width,
        tall + 86,
        title=f"Share of passes by outcome over {over.title}",
        says="Lines for trap, bolter, wave-off and ramp strike with bands of 95 per cent.",
    )
    d.text(44, 14, "Share of all passes, %", size=12, bold=True)
    d.rect(44, 24, width - 56, tall, fill="sheet")
    for share in ticks(0.0, 1.0, 5):
        d.line(44, y(share), width - 12, y(share), stroke="rule", width=0.8)
        d.text(38, y(share) + 4, f"{100 * share:.0f}", size=10, ink="soft", anchor="end")
    at = np.array([x(value) for value in place])
    seen = [line for line in _LINES if any(case.found.shares[line[0]].value for case in report.cases)]
    for outcome, *_ in seen:
        shares = [case.found.shares[outcome] for case in report.cases]
        low, high = (np.array([y(getattr(share, end)) for share in shares]) for end in ("low", "high"))
        d.area(at, low, high, fill="doubt", opacity=0.55)
    for outcome, ink, size, dash in seen:
        shares = [case.found.shares[outcome] for case in report.cases]
        values = np.array([y(share.value) for share in shares])
        d.trace(at, values, stroke=ink, width=size, dash=dash, tolerance=0.0)
        for px, py in zip(at, values, strict=True):
            d.circle(px, py, 2.6, fill=ink, stroke="sheet", width=1.0)
    d.rect(44, 24, width - 56, tall, stroke="edge", line=0.7)
    for value, label in marks:
        d.line(x(value), 24 + tall, x(value), 28 + tall, stroke="edge")
        d.text(x(value), 40 + tall, label, size=10, anchor="middle")
    d.text(44 + (width - 56) / 2, 55 + tall, _titled(over), size=11, ink="soft", anchor="middle")
    left = 44.0
    for outcome, ink, size, dash in seen:
        d.line(left, 72 + tall, left + 26, 72 + tall, stroke=ink, width=size, dash=dash)
        d.text(left + 32, 76 + tall, outcome, size=10, ink="soft")
        left += 46 + typeface.width(outcome, 10)
    return d


def _titled(over: Input) -> str:
    return f"{over.title}, {over.unit}" if over.unit else over.title


def _along(over: Input) -> tuple[list[float], list[tuple[float, str]]]:
    """Return where an input's values stand on an axis, and what is written there."""
    places = [float(k if isinstance(value, str) else value) for k, value in enumerate(over.values)]
    texts = [value if isinstance(value, str) else f"{value:g}" for value in over.values]
    return places, list(zip(places, texts, strict=True))


def touchdowns(report: StudyReport, case: Case, *, form: Form = Form.WIDE) -> Drawing:
    """Draw where the hooks came down on the landing area, true scale."""
    site, passes = report.site, case.found.passes
    width = _WIDE[form]
    down = np.flatnonzero(np.isfinite(passes.touch_x))[:_MOST_MARKS]
    met, across = passes.touch_x[down], passes.touch_y[down]
    low = min(-5.0, float(met.min(initial=0.0)) - 6.0)
    wires = site.wires.positions if site.wires else (site.lens.hook_target,)
    high = max(wires[-1] + 16.0, float(met.max(initial=0.0)) + 6.0)
    half = site.width / 2
    x = Scale(low, high, 12.0, width - 12.0)
    y = Scale(-half, half, 26.0, 26.0 + site.width * x.per_unit)
    d = Drawing(
        f"study-touchdowns-{form.value}",
        width,
        y(half) + 62,
        title=f"Where the hook came down: {down.size} passes",
        says="The landing area from above at true scale, with the wires and a mark for each pass.",
    )
    d.text(12, 13, "Where the hook came down", size=12, bold=True)
    deck.landing_area(d, site, x, y, None)
    trap = OUTCOMES.index("trap")
    for px, py, outcome in zip(met, across, passes.outcome[down], strict=True):
        if outcome == trap:
            d.circle(x(px), y(py), 1.7, fill="ink")
        else:
            d.circle(x(px), y(py), 2.6, stroke="red", width=1.2)
    base = y(half) + 24
    for v in ticks(from_si(low, "ft"), from_si(high, "ft"), int(width / 75)):
        at = x(to_si(v, "ft"))
        d.line(at, base, at, base + 4, stroke="edge", width=0.7)
        d.text(at, base + 14, f"{v:.0f}" if v else "ramp", size=9.5, ink="soft", anchor="middle")
    d.line(x.start, base, x.end, base, stroke="edge", width=0.7)
    d.circle(18, base + 26, 2.2, fill="ink")
    d.text(26, base + 30, "trap", size=10, ink="soft")
    d.circle(66, base + 26, 2.6, stroke="red", width=1.2)
    shown = f", {down.size} of {report.count} passes drawn" if down.size == _MOST_MARKS else ""
    d.text(75, base + 30, f"not stopped{shown}", size=10, ink="soft")
    d.text(x.end, base + 30, "ft past the ramp", size=9.5, ink="soft", anchor="end")
    return d


def sink(case: Case, *, form: Form = Form.WIDE) -> Drawing:
    """Draw how the sink at touchdown is spread."""
    width, tall = _WIDE[form], 130.0
    values = from_si(case.found.passes.touch_sink, "fps")
    values = values[np.isfinite(values)]
    d = Drawing(
        f"study-sink-{form.value}",
        width,
        tall + 60,
        title="Sink at touchdown",
        says="How many passes touched down with each sink.",
    )
    d.text(12, 13, "Sink at touchdown, ft/s", size=12, bold=True)
    if not values.size:
        d.text(12, 40, "no pass touched down", size=11, ink="soft")
        return d
    edges = np.arange(np.floor(values.min()), np.ceil(values.max()) + 0.5, 0.5)
    counts, _ = np.histogram(values, edges)
    x = Scale(float(edges[0]), float(edges[-1]), 12.0, width - 12.0)
    y = Scale(0.0, float(counts.max(initial=1)), 24 + tall, 30.0)
    d.rect(12, 24, width - 24, tall, fill="sheet")
    for low, high, count in _bars(edges, counts):
        d.rect(x(low) + 0.5, y(count), x(high) - x(low) - 1, y(0) - y(count), fill="edge")
    d.line(12, 24 + tall, width - 12, 24 + tall, stroke="ink")
    for v in ticks(float(edges[0]), float(edges[-1]), int(width / 60)):
        d.line(x(v), 24 + tall, x(v), 28 + tall, stroke="edge")
        d.text(x(v), 41 + tall, f"{v:g}", size=10, ink="soft", anchor="middle")
    return d


def _bars(edges: np.ndarray, counts: Sequence[int] | np.ndarray):
    return zip(edges[:-1], edges[1:], (float(n) for n in counts), strict=True)
