"""Steps a second of a pass against the open flight dynamics library's own, one core, by processor time.

    PYTHONPATH=src:builders python benchmarks/passes.py

Both step 0.02 s. Ours carries gusts, airwake, a moving deck, pilot and landing signal officer;
the library flies its jet with the controls held, called from Python.
"""

from __future__ import annotations

import statistics
import time

import numpy as np
from measure_jets import JETS, start

from deckward import aircraft, site
from deckward.environment import airwake, sea
from deckward.prediction import STEP, Conditions, Officer, State, model_of, scene_of, start_on_path, trim
from deckward.prediction.ensemble import compiled, fly_passes

PAIRS, PASSES, STEPS = 5, 1500, 40_000


def library_step() -> float:
    """Return the library's processor seconds a step."""
    weight, speed, _ = JETS["F4N"]
    fdm = start("F4N", weight, speed)
    fdm["simulation/do_simple_trim"] = 1
    fdm.set_dt(STEP)
    begin = time.process_time()
    for _ in range(STEPS):
        fdm.run()
    return (time.process_time() - begin) / STEPS


def our_step(scene, starts) -> float:
    """Return our processor seconds a step."""
    begin = time.process_time()
    flown = fly_passes(scene, starts, seed=1, dt=STEP, threads=1)
    return (time.process_time() - begin) / (np.nansum(flown.touch_time) / STEP)


def main() -> None:
    """Print the median ratio of pairs run in turn."""
    ship, model = site.load("wintermere"), model_of(aircraft.load("stormcote"))
    motion = sea.deck_motion(sea.sea_state(5), sea.Hull(), speed=8.0, heading=np.pi, seed=1)
    day = Conditions(airwake=airwake.load(), motion=motion)
    scene = scene_of(model, ship, day, officer=Officer(active=0.0), dt=STEP)
    begin = start_on_path(scene, trim(model, path=-ship.lens.basic_angle, air=day.air), 1400.0)
    starts = State(*(np.full(PASSES, float(value)) for value in begin))
    our_step(scene, State(*(column[:2] for column in starts)))
    found = [(library_step(), our_step(scene, starts)) for _ in range(PAIRS)]
    ratio = statistics.median(theirs / ours for theirs, ours in found)
    ours = statistics.median(ours for _, ours in found)
    print("compiled" if compiled() else "in arrays")
    print(
        f"a step: {ours * 1e6:.3f} us; the library's: {statistics.median(a for a, _ in found) * 1e6:.2f} us"
    )
    print(f"ratio: {ratio:.0f} (at least 20, aim 50); flown seconds a processor second: {STEP / ours:.0f}")


if __name__ == "__main__":
    main()
