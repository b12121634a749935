"""Every detector over a pass, and what each finding cost."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from deckward.explanation import deck, hands, nose, pattern
from deckward.explanation.contributions import Split
from deckward.explanation.model import Finding
from deckward.explanation.rules import load
from deckward.explanation.view import View

DETECTORS = (*nose.DETECTORS, *hands.DETECTORS, *pattern.DETECTORS, *deck.DETECTORS)
#: causes whose contributions, while it lasts, are what a finding cost; not for one that times the
#: ball: what moved it was done before
_CAUSES = {
    "slow-held": ("nose",),
    "fast-held": ("nose",),
    "nose-for-ball": ("nose",),
    "flared": ("nose",),
    "dived": ("nose",),
    "power-left-in": ("power",),
    "power-idle": ("power",),
    "power-cut-at-ramp": ("power",),
    "burst-then-cut": ("power",),
    "roll-without-power": ("bank",),
    "late-line-up": ("bank",),
}
#: metres at the ramp that a finding of weight 1 counts for where its cost is not known; chosen by us
_METRES = 1.0


def find(view: View) -> tuple[Finding, ...]:
    """Return what the detectors find in a pass, in their order."""
    if view.time.size < 20:
        return ()
    rules = load()
    found = (detector.find(view, rules[detector.code]) for detector in DETECTORS)
    return tuple(finding for finding in found if finding is not None)


def costed(findings: Iterable[Finding], split: Split | None) -> tuple[Finding, ...]:
    """Give findings what they cost at the ramp, the dearest first."""
    priced = [
        finding
        if split is None or finding.code not in _CAUSES
        else replace(
            finding,
            cost_ramp=sum(
                split.between(cause, finding.start, finding.end) for cause in _CAUSES[finding.code]
            ),
        )
        for finding in findings
    ]
    return tuple(sorted(priced, key=_dearness, reverse=True))


def _dearness(finding: Finding) -> float:
    return max(abs(finding.cost_ramp or 0.0), _METRES * finding.weight)
