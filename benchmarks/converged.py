"""How long a step may be, and how many seconds are flown in a second: one core, by processor time.

    PYTHONPATH=src python benchmarks/converged.py

The same passes are flown with longer and shorter steps, the hook's height at the ramp against that
at a step of 2.5 ms. Chance is drawn by the step, so that for this the gusts and the random part of the
airwake and the pilot's noise are left out; airwake, a pitching and heaving deck, pilot and starts off the
path stay. The speed at the step that will do is then taken with all of them on.
"""

from __future__ import annotations

import statistics
import time

import numpy as np

from deckward import aircraft, site
from deckward.environment import airwake, sea
from deckward.foundation.units import FOOT
from deckward.prediction import Conditions, Officer, Pilot, State, model_of, scene_of, start_on_path, trim
from deckward.prediction.ensemble import compiled, fly_passes

STEPS, FINEST = (0.1, 0.05, 0.04, 0.02, 0.01, 0.005), 0.0025
CONVERGED = 0.1 * FOOT
PASSES, TIMED, RUNS = 60, 1500, 5
#: a delay that is a whole number of every step
STEADY = Pilot(delay=0.4, eye_noise=0.0, hand_noise=0.0, side_noise=0.0, alpha_noise=0.0)
JETS = ("sandlark", "stormcote")


def ramp_heights(jet: str, dt: float) -> np.ndarray:
    """Return the hook's height at the ramp of passes that start off the path, m."""
    model, ship = model_of(aircraft.load(jet)), site.load("wintermere")
    motion = sea.regular_motion(pitch=0.01, heave=0.8, seed=4)
    day = Conditions(airwake=airwake.load(), gusts="none", motion=motion)
    scene = scene_of(model, ship, day, pilot=STEADY, officer=Officer(active=0.0), dt=dt)
    calm = scene.weather._replace(wake_sigma=0.0 * scene.weather.wake_sigma, wake_random=0.0)
    starts = off_the_path(scene, model, ship, day, PASSES)
    begins = np.linspace(0.0, 30.0, PASSES)
    return fly_passes(
        scene._replace(weather=calm), starts, seed=1, dt=dt, threads=1, begins=begins
    ).ramp_height


def off_the_path(scene, model, ship, day, count: int) -> State:
    """Return starts 1400 m behind the ramp: so high or low, beside it, fast or slow."""
    begin = start_on_path(scene, trim(model, path=-ship.lens.basic_angle, air=day.air), 1400.0)
    rng = np.random.default_rng(3)
    starts = State(*(np.full(count, float(value)) for value in begin))
    high, right, fast = rng.normal(size=(3, count))
    return starts._replace(z=starts.z + 3.0 * high, y=starts.y + 8.0 * right, vx=starts.vx + fast)


def flown_a_second(dt: float) -> float:
    """Return simulated seconds a processor second with all disturbances on, the median of some runs."""
    model, ship = model_of(aircraft.load("stormcote")), site.load("wintermere")
    motion = sea.deck_motion(sea.sea_state(5), sea.Hull(), speed=8.0, heading=np.pi, seed=1)
    day = Conditions(airwake=airwake.load(), motion=motion)
    scene = scene_of(model, ship, day, officer=Officer(active=0.0), dt=dt)
    starts = off_the_path(scene, model, ship, day, TIMED)
    found = []
    for _ in range(RUNS + 1):
        begin = time.process_time()
        flown = fly_passes(scene, starts, seed=1, dt=dt, threads=1)
        found.append(np.nansum(flown.touch_time) / (time.process_time() - begin))
    return statistics.median(found[1:])


def main() -> None:
    """Print how far each step is off, and the speed at the longest that will do."""
    print("compiled" if compiled() else "in arrays")
    will_do = None
    for dt in STEPS:
        off = np.concatenate([ramp_heights(jet, dt) - ramp_heights(jet, FINEST) for jet in JETS]) / FOOT
        off = off[np.isfinite(off)]
        worst = float(np.abs(off).max())
        print(f"step {dt:5.3f} s: rms {np.sqrt(np.mean(off**2)):.3f} ft, worst of {off.size} {worst:.3f} ft")
        if will_do is None and worst * FOOT <= CONVERGED:
            will_do = dt
    if will_do is None:
        print("no step tried has converged")
        return
    for dt in dict.fromkeys((will_do, 0.02)):
        print(f"at {dt} s: {flown_a_second(dt):.0f} simulated seconds a processor second")


if __name__ == "__main__":
    main()
