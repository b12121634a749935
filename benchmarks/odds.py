"""Whether odds come true: on simulated passes held out, and on passes that the open library flew.

    PYTHONPATH=src:builders:tests:benchmarks python benchmarks/odds.py [FOLDER ...]

A FOLDER holds passes as ``builders/corpus_odds.py`` writes them (``held`` for figures to be told);
they are flown by a jet of another model and by pilots whom nothing was fitted to.
"""

from __future__ import annotations

import json
import sys
import tempfile
from pathlib import Path

import numpy as np
from explained import measured

from deckward import aircraft, site
from deckward.environment import airwake, sea
from deckward.explanation import ahead
from deckward.foundation.units import NAUTICAL_MILE
from deckward.prediction import STEP, Conditions, State, model_of, odds_from, scene_of, start_on_path, trim
from deckward.prediction.chance import keys, normal
from deckward.prediction.ensemble import OUTCOMES
from deckward.prediction.following import follow
from support.odds import beyond_chance, brier, fly_through, reliability

RANGES = {"1/2 nm": 0.5 * NAUTICAL_MILE, "1/4 nm": 0.25 * NAUTICAL_MILE}
PASSES, CONTINUATIONS, PARTICLES, SEED = 1000, 100, 300, 31337
TOLD = ("trap", "bolter", "wave-off", "ramp strike")


def simulated() -> dict[str, tuple[dict, np.ndarray]]:
    """Return odds and outcomes of simulated passes by range, on four days of rising trouble."""
    ship = site.load("wintermere")
    parts: dict[str, list] = {name: [] for name in RANGES}
    for number, (jet, state, gusts) in enumerate(
        [("sandlark", 0, 1.0), ("stormcote", 5, 1.0), ("sandlark", 6, 1.5), ("stormcote", 6, 2.0)]
    ):
        model = model_of(aircraft.load(jet))
        motion = (
            sea.deck_motion(sea.sea_state(state), sea.Hull(), speed=8.0, heading=np.pi, seed=SEED + number)
            if state
            else sea.still_deck()
        )
        day = Conditions(airwake=airwake.load(), motion=motion, gust_strength=gusts)
        scene = scene_of(model, ship, day, dt=STEP)
        start = start_on_path(scene, trim(model, path=-ship.lens.basic_angle, air=day.air), 1400.0)
        count = PASSES // 4
        with np.errstate(over="ignore"):
            high, right, fast = (normal(keys(99 + number + SEED, 0, count), np.uint64(n)) for n in (1, 2, 3))
        starts = State(*(np.full(count, float(value)) for value in start))
        starts = starts._replace(z=starts.z + 4 * high, y=starts.y + 10 * right, vx=starts.vx + 1.5 * fast)
        crossed = fly_through(scene, starts, RANGES.values(), seed=SEED + number)
        for name, found in zip(RANGES, crossed, strict=True):
            parts[name] += [one_simulated(scene, found, i) for i in range(found.outcome.size)]
    return {name: _joined(pairs) for name, pairs in parts.items()}


def one_simulated(scene, found, number: int):
    """Return the odds of one pass from a range on, its pilot followed up to there, and its outcome."""
    record, look = found.record(scene, number), np.array([found.look[number]])
    followed = follow(
        scene, record, look, count=CONTINUATIONS, particles=PARTICLES, seed=number, dt=STEP, begun=True
    )
    states = State(*(column[look] for column in record.states))
    odds = odds_from(scene, states, begins=record.begins[look], seed=7 + number, followed=followed)
    return odds, found.outcome[[number]]


def flown(folders) -> dict[str, tuple[dict, np.ndarray]]:
    """Return odds and outcomes of library-flown passes by range."""
    parts: dict[str, list] = {name: [] for name in RANGES}
    for path in sorted(path for folder in folders for path in Path(folder).glob("*.npz")):
        about = json.loads(path.with_suffix(".json").read_text())
        if about["outcome"] not in TOLD:
            continue
        with tempfile.TemporaryDirectory() as scratch:
            *_, found = measured(path, about, Path(scratch), tables=True)
        if len(found) != 1:
            continue
        for name in RANGES:
            at = next((p for p in found[0].positions if p.name == name and not p.after_wave_off), None)
            moment = None if at is None else ahead.moments(found[0], at=np.array([at.time]))
            if moment is not None:
                odds = ahead.odds_at(moment, count=CONTINUATIONS, seed=1)
                parts[name].append((odds, np.array([OUTCOMES.index(about["outcome"])])))
    return {name: _joined(pairs) for name, pairs in parts.items() if pairs}


def _joined(pairs) -> tuple[dict, np.ndarray]:
    told = {
        name: np.concatenate([getattr(odds, name.replace("-", "_").replace(" ", "_")) for odds, _ in pairs])
        for name in TOLD
    }
    return told, np.concatenate([outcome for _, outcome in pairs])


def tell(title: str, found: dict[str, tuple[dict, np.ndarray]]) -> None:
    """Print reliability and Brier scores by range and outcome."""
    print(f"\n{title}")
    for place, (odds, outcome) in found.items():
        print(f"\n  at {place}: {outcome.size} passes")
        for name in TOLD:
            came = outcome == OUTCOMES.index(name)
            score, base = brier(odds[name], came)
            print(
                f"    {name:<12} told {odds[name].mean():.3f}, came {came.mean():.3f} "
                f"({beyond_chance(odds[name], came):+.1f} sd); Brier {score:.4f}, base rate {base:.4f}"
            )
            for part in reliability(odds[name], came):
                print(
                    f"      {part.low:.2f} to {min(part.high, 1.0):.2f}: {part.count:>5} passes, told "
                    f"{part.predicted:.3f}, came {part.observed:.3f}"
                )


if __name__ == "__main__":
    tell(f"{PASSES} simulated passes, held out", simulated())
    if sys.argv[1:]:
        tell("Flown by the open flight dynamics library", flown(sys.argv[1:]))
