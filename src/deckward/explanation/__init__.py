"""Why a pass went as it did: findings with evidence, and what each cause cost at ramp and touchdown.

``explain`` a pass; ``launches`` finds the launches of a recording, and ``explain`` takes the one
that a pass follows. The module ``what_if`` flies a pass again with one thing changed.
"""

from __future__ import annotations

from deckward.explanation.arrival import arrivals
from deckward.explanation.contributions import at_ramp, causes, contributions
from deckward.explanation.findings import costed
from deckward.explanation.findings import find as _find
from deckward.explanation.launch import Launch
from deckward.explanation.launch import before as launch_before
from deckward.explanation.launch import find as launches
from deckward.explanation.launch import findings as _of_launch
from deckward.explanation.model import Arrival, Contribution, Explanation, Finding, Made
from deckward.explanation.view import View
from deckward.passes.model import Pass
from deckward.scoring.rulebook import Rulebook

__all__ = [
    "Arrival",
    "Contribution",
    "Explanation",
    "Finding",
    "Launch",
    "Made",
    "explain",
    "launch_before",
    "launches",
]


def explain(flown: Pass, rulebook: Rulebook, *, launch: Launch | None = None) -> Explanation:
    """Say why a pass went as it did.

    Args:
        flown: the pass; what was recorded around it (``flown.recorded``) says more.
        rulebook: names the positions of the pass.
        launch: the launch before it, whose findings are told with it.
    """
    view = View(flown, rulebook)
    found = () if launch is None else _of_launch(launch, flown.aircraft)
    of = causes(view)
    parts = None if of is None else at_ramp(of)
    return Explanation(
        findings=costed((*_find(view), *found), parts),
        contributions=() if parts is None else contributions(parts),
        unexplained=None if parts is None else parts.unexplained,
        arrivals=() if of is None else arrivals(of),
    )
