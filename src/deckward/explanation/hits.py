"""What a detector returns, and how it becomes a finding."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import numpy as np
from msgspec import Struct, field

from deckward.explanation.model import Evidence, Finding
from deckward.explanation.rules import Rule
from deckward.explanation.view import View
from deckward.foundation.units import from_si

#: the most that going far beyond a rule counts for; chosen by us
_MOST = 2.5


def degrees(value: float) -> float:
    """Radians as evidence shows them."""
    return round(float(from_si(value, "deg")), 2)


def feet(value: float) -> float:
    """Metres, or metres a second, as evidence shows them in feet."""
    return round(float(from_si(value, "ft")), 1)


def _plain(value: float | str | bool | None) -> float | str | bool | None:
    """A number as a float or int of the language, nothing for one that is not known."""
    if isinstance(value, np.floating | float):
        return float(value) if np.isfinite(value) else None
    return value.item() if isinstance(value, np.generic) else value


def finding(hits: Iterable[Hit], rule: Rule, position: Callable[[float], str]) -> Finding | None:
    """Make a finding of the plainest hit of a rule, None where there is none.

    ``position`` says in words where in the pass a time lies.
    """
    found = sorted(hits, key=lambda hit: -hit.excess)
    if not found:
        return None
    hit = found[0]
    return Finding(
        code=rule.code,
        title=rule.title,
        start=hit.start,
        end=hit.end,
        position=hit.position or position(hit.start),
        weight=round(rule.weight * min(max(hit.excess, 1.0), _MOST), 2),
        evidence={
            **{name: _plain(value) for name, value in hit.evidence.items()},
            **({"times": len(found)} if len(found) > 1 else {}),
        },
        advice=rule.advice,
    )


class Hit(Struct, frozen=True):
    """An interval (s) in which a rule was met; ``excess`` is how far: 1 at the bound, 2 twice it."""

    start: float
    end: float
    excess: float
    evidence: Evidence = field(default_factory=dict)
    position: str | None = None


class Detector(Struct, frozen=True):
    """Looks for one code in a pass."""

    code: str
    look: Callable[[View, Rule], Iterable[Hit]]

    def find(self, view: View, rule: Rule) -> Finding | None:
        """Return the plainest hit as a finding, None where there is none."""
        return finding(self.look(view, rule), rule, view.position)
