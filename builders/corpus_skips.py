"""The corpus of hooks that pass wires over: the wires that hold are not those that geometry expects."""

from __future__ import annotations

import corpus_clean
import numpy as np
from corpus_clean import COMMON, MEDIUM
from fly_deck import DeckPlan
from fly_record import Form
from sites import SHIPS

DAMAGES = (  # name, damage
    ("clean", ()),
    ("noisy", (("noise", {"position_m": 0.15, "altitude_ft": 0.5, "attitude_deg": 0.08}),)),
    ("coarse", (("coarse", {"altitude_ft": 1.0, "attitude_deg": 0.1, "position_decimals": 6}),)),
)
PLACES = ((27.0, -88.0), (-39.0, 160.0), (55.0, -8.0), (-12.0, 12.0), (36.0, 178.0))


def cases(make):
    """Thirty-two flights to the middle of two wires; in most the next one, or two, do not hold."""
    rng = np.random.default_rng(23)
    out = []
    for i in range(32):
        jet, key = ("A4", "F4N")[i % 2], ("halcyon", "petrel", "tern", "kestrel")[i // 2 % 4]
        wires = SHIPS[key][0]["wires"]["positions_m"]
        first = int(rng.integers(0, len(wires) - 1))
        # a wire passed over in five of eight, two of them in one of eight, none in two
        passed = (1, 1, 1, 1, 1, 2, 0, 0)[i % 8]
        skips = tuple(range(first + 1, min(first + passed, len(wires) - 1) + 1))
        target = wires[first] - float(rng.uniform(2.5, 8.0))
        plan = corpus_clean.plan_at(
            jet,
            key,
            PLACES[i % len(PLACES)],
            float(rng.integers(0, 360)),
            speed=float(rng.integers(12, 24)),
            wind=(float(rng.integers(-12, 6)), float(rng.integers(5, 15))),
            motion=(None, MEDIUM, None)[i % 3],
            seed=800 + i,
            deck=DeckPlan(skips=skips, runout=float(rng.uniform(85.0, 110.0))),
            told=(f"hook passes over wire {', '.join(map(str, skips))}" if skips else "no wire passed over",),
        )
        for k, (name, damage) in enumerate(DAMAGES):
            out.append(
                make(
                    name=f"flight-{i:02d}--{name}",
                    plan=plan,
                    form=Form(rate=(5, 10, 20)[(i + k) % 3], ship="rows", channels=COMMON),
                    hit=("hook", target),
                    damage=damage,
                    damage_seed=7000 + 10 * i + k,
                    flown_as=f"flight-{i:02d}",
                )
            )
    return out
