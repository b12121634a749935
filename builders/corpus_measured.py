"""The corpus that a ship is measured from: traps on the bundled ship, with noise, and more held out."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from pathlib import Path

import corpus_clean
import numpy as np
from corpus_clean import COMMON, HEAVY, MEDIUM
from fly_record import Form

BUNDLED = Path(__file__).resolve().parents[1] / "src" / "deckward" / "site" / "bundled" / "wintermere.toml"
NOISES = (
    (("noise", {"altitude_ft": 1.0}),),
    (("noise", {"altitude_ft": 2.0, "attitude_deg": 0.1}),),
    (("noise", {"position_m": 0.3, "altitude_ft": 0.7, "attitude_deg": 0.08}),),
    (("single_precision", {}),),
    (("coarse", {"altitude_ft": 1.0, "attitude_deg": 0.1, "position_decimals": 6}),),
)
COUNT = 184
#: seeds of further flights of the same kinds
SECOND, THIRD = 87, 129


def second(make):
    """Flights of the same kinds with seeds of their own."""
    return cases(make, SECOND)


def third(make):
    """Flights of the same kinds again, to be looked at once."""
    return cases(make, THIRD)


def other(make, law):
    """A third of the second flights with wires that pull by another law (``other_pulls``)."""
    return [replace(case, flown_as=case.name, pull=law) for case in second(make)[: COUNT // 3]]


def cases(make, seed=41):
    """Traps and some bolters of two jets, each recorded once with one of five noises."""
    rng = np.random.default_rng(seed)
    site = tomllib.loads(BUNDLED.read_text(encoding="utf-8"))
    out = []
    for i in range(COUNT):
        plan = corpus_clean.plan_at(
            ("A4", "F4N")[i % 2],
            "halcyon",
            (float(rng.uniform(-50, 60)), float(rng.uniform(-180, 180))),
            float(rng.integers(0, 360)),
            speed=float(rng.integers(10, 26)),
            wind=(float(rng.integers(-14, 8)), float(rng.integers(4, 18))),
            motion=(None, MEDIUM, None, MEDIUM, HEAVY)[i % 5],
            seed=3000 + 1000 * (seed - 41) + i,
            aim=float(rng.normal(0.0, 13.0)),
            glide=((1600, float(rng.normal(0, 0.25))), (600, float(rng.normal(0, 0.2))), (0, 0.0)),
            lateral=(
                (1500, float(rng.normal(0, 8))),
                (300, float(rng.normal(0, 2))),
                (0, float(rng.normal(0, 1))),
            ),
            told=("aims near 70 m",),
        )
        plan = replace(plan, site=site, ship=replace(plan.ship, height=0.0))
        out.append(
            make(
                name=f"flight-{i:03d}",
                plan=plan,
                form=Form(rate=(5, 10, 20)[i % 3], ship="rows", channels=COMMON),
                damage=NOISES[i // 2 % len(NOISES)],
                damage_seed=60_000 + 1000 * (seed - 41) + i,
            )
        )
    return out
