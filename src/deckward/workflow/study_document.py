"""From a study to its published object."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from deckward import prediction
from deckward.reports.caution import CAUTION
from deckward.reports.studies.model import Case, StudyReport
from deckward.workflow import study_contract as c
from deckward.workflow.published import known


def document(report: StudyReport) -> c.Document:
    """Turn a study into the published object."""
    return c.Document(
        schema=c.SCHEMA,
        site=report.site.name,
        caution=CAUTION,
        number=report.count,
        seed=report.seed,
        varied=[one.name for one in report.varied],
        cases=[_case(case) for case in report.cases],
    )


def _case(case: Case) -> c.Case:
    found = case.found
    told: dict[str, Any] = dict(case.values)
    told["sea"] = int(told["sea"])
    told["mass_lb"] = None if isinstance(told["mass_lb"], str) else told["mass_lb"]
    touched = int(np.isfinite(found.passes.touch_x).sum())
    return c.Case(
        inputs=c.Inputs(**told),
        outcomes=c.Outcomes(
            **{name.replace(" ", "_").replace("-", "_"): _share(one) for name, one in found.shares.items()}
        ),
        wires={str(number): _share(one) for number, one in found.wires.items()},
        touchdown=c.Touchdown(
            passes=touched,
            past_ramp_ft=_spread(found.touch_x, "ft"),
            off_centre_ft=_spread(found.touch_y, "ft"),
            sink_fps=_spread(found.sink, "fps"),
            sink_points_fps=[known(value, "fps") for value in found.sink_points],
        )
        if touched
        else None,
        hook_to_ramp_ft=None if math.isnan(found.ramp_height[0]) else _spread(found.ramp_height, "ft"),
    )


def _share(one: prediction.Share) -> c.Share:
    return c.Share(share=known(one.value), low=known(one.low), high=known(one.high))


def _spread(value: tuple[float, float], suffix: str) -> c.Spread:
    return c.Spread(mean=known(value[0], suffix), sd=known(value[1], suffix))
