"""Whether a fitted pilot is the one who flew: simulated pilots with known hands, all disturbances on.

    PYTHONPATH=src:builders:benchmarks python benchmarks/pilots.py [FOLDER]

Each of 36 pilots, drawn about the usual one, flies 8 passes of one of two jets in gusts, airwake and on
a moving deck; he is fitted, and what was found is held against what he was given: by how many sigmas
it is off on average and in spread (0 and 1 are wanted), how often it is within two (0.95), and
how much of the spread among pilots is left. A FOLDER holds passes by pilots of the open library's jets, as
``builders/corpus_odds.py`` writes them: hands of another make, of which delay and gains can be compared.
"""

from __future__ import annotations

import json
import sys
import tempfile
import time
from collections import defaultdict
from pathlib import Path

import numpy as np

from deckward import aircraft, site
from deckward.environment import airwake, sea
from deckward.prediction import Conditions, Officer, Pilot, State, model_of, scene_of, start_on_path, trim
from deckward.prediction.ensemble import Crew, fly_tracks
from deckward.prediction.fitting import EVERY, WIDE, Flown, fit
from deckward.prediction.following import SHIFTED
from deckward.prediction.odds import STEP

PILOTS, EACH, SEED, LONGEST = 36, 8, 4242, 40.0
JETS, SEAS = ("stormcote", "sandlark"), (4, 5, 6)
#: from and to, of each number: evenly of its logarithm, or of itself for habits
DRAWN = {
    "delay": (0.15, 0.6), "height_gain": (0.012, 0.035), "rate_gain": (0.10, 0.26),
    "climb_gain": (0.05, 0.20), "settle_gain": (0.0006, 0.003), "threshold": (0.0004, 0.0014),
    "eye_noise": (0.0007, 0.002), "hand_noise": (0.006, 0.018), "aim": (-1.0, 1.0),
    "line_up_gain": (0.045, 0.11), "line_up_rate_gain": (0.3, 0.8), "line_up_settle_gain": (0.001, 0.004),
    "side_noise": (0.0025, 0.007), "alpha_habit": (-0.012, 0.012), "nose_lead": (0.002, 0.008),
    "alpha_noise": (0.003, 0.008),
}  # fmt: skip


def draw(rng) -> Pilot:
    """Draw a pilot; his delay is a whole number of steps."""
    values = {}
    for name, (low, high) in DRAWN.items():
        even = name in SHIFTED
        values[name] = float(rng.uniform(low, high) if even else np.exp(rng.uniform(*np.log([low, high]))))
    values["delay"] = round(values["delay"] / STEP) * STEP
    return Pilot(**values)


def passes_of(pilot: Pilot, jet: str, sea_state: int, seed: int) -> list[Flown]:
    """Fly a pilot's passes and record them up to the ramp."""
    model, ship, rng = model_of(aircraft.load(jet)), site.load("wintermere"), np.random.default_rng(seed)
    motion = sea.deck_motion(sea.sea_state(sea_state), sea.Hull(), speed=8.0, heading=np.pi, seed=seed)
    day = Conditions(airwake=airwake.load(), motion=motion, headwind=float(rng.uniform(10.0, 15.0)))
    scene = scene_of(model, ship, day, pilot=pilot, officer=Officer(active=0.0), dt=STEP)
    begin = start_on_path(scene, trim(model, path=-ship.lens.basic_angle, air=day.air), 1600.0)
    starts = State(*(np.full(EACH, float(value)) for value in begin))
    high, right, fast = rng.normal(size=(3, EACH))
    starts = starts._replace(z=starts.z + 3.0 * high, y=starts.y + 8.0 * right, vx=starts.vx + fast)
    begins = rng.uniform(0.0, 600.0, EACH)
    hands = Pilot._make(np.full(EACH, value) for value in pilot)
    states, levers = fly_tracks(
        scene, starts, seed=seed, dt=STEP, each=round(EVERY / STEP), longest=LONGEST, begins=begins,
        crew=Crew(pilots=hands),
    )  # fmt: skip
    out = []
    for number in range(EACH):
        until = int(np.sum(states.x[number] < -5.0))
        one = State(*(column[number, :until] for column in states))
        climb = np.arctan2(one.vz, one.vx + day.headwind)
        out.append(
            Flown(
                scene,
                one,
                begins[number] + EVERY * np.arange(until),
                levers[number, :until],
                one.pitch - climb,
            )
        )
    return out


def simulated() -> None:
    """Print how well pilots were found again."""
    rng, began = np.random.default_rng(SEED), time.process_time()
    off, sigmas, inside = defaultdict(list), defaultdict(list), 0
    for number in range(PILOTS):
        pilot = draw(rng)
        flown = passes_of(pilot, JETS[number % 2], SEAS[number % 3], SEED + number)
        found = fit(flown, seed=number)
        for name in DRAWN:
            told, true = getattr(found.pilot, name), getattr(pilot, name)
            error = told - true if name in SHIFTED else np.log(told / true)
            off[name].append(error / found.sigma[name])
            sigmas[name].append(found.sigma[name])
        inside += found.differ > 1.0
    print(f"{PILOTS} pilots, {EACH} passes each; {(time.process_time() - began) / PILOTS:.1f} s of CPU each")
    print(f"passes that differed more than by chance: {inside} of {PILOTS}")
    print(f"{'':<20} off, sigmas  spread  within two  median sigma  left of the usual spread")
    for name, values in off.items():
        z, sigma = np.array(values), float(np.median(sigmas[name]))
        within = float(np.mean(np.abs(z) < 2.0))
        left = sigma / WIDE[name]
        print(f"{name:<20} {z.mean():+10.2f} {z.std():8.2f} {within:9.2f} {sigma:13.3g} {left:13.2f}")
    every = np.abs(np.concatenate(list(off.values())))
    print(f"all: within two {np.mean(every < 2.0):.3f}, beyond three {np.mean(every > 3.0):.3f}")


def flown(folder: Path) -> None:
    """Print what is found of the open library's pilots beside what they were given."""
    from explained import measured
    from fly_jet import TYPES

    from deckward.explanation.hands_shown import shown

    by_pilot = defaultdict(list)
    for path in sorted(folder.glob("*.npz")):
        about = json.loads(path.with_suffix(".json").read_text())
        with tempfile.TemporaryDirectory() as scratch:
            *_, found = measured(path, about, Path(scratch), tables=True)
        for one in found:
            recorded, _ = shown(one)
            if recorded is not None:
                per_weight = 0.8 / TYPES[about["jet"]].thrust_to_weight / recorded.scene.lever_per_weight
                by_pilot[about["pilot"]["name"]].append((recorded, about["pilot"], per_weight))
    for name, parts in by_pilot.items():
        own, weight = parts[0][1], float(np.mean([part[2] for part in parts]))
        found = fit([part[0] for part in parts], seed=1)
        print(f"{name}: {len(parts)} passes, sigmas wider by {np.sqrt(found.differ):.1f}")
        given = {
            "delay": own["delay"], "height_gain": weight * own["height"], "rate_gain": weight * own["rate"],
            "climb_gain": weight * own["climb"], "settle_gain": weight * own["settle"],
            "line_up_gain": 0.07, "line_up_rate_gain": 0.5, "line_up_settle_gain": 0.002,
        }  # fmt: skip
        for field, true in given.items():
            told, sigma = getattr(found.pilot, field), found.sigma[field]
            print(f"  {field:<20} {told:.4g}, given {true:.4g}: {np.log(told / true) / sigma:+.1f} sigmas")


if __name__ == "__main__":
    simulated()
    if sys.argv[1:]:
        flown(Path(sys.argv[1]))
