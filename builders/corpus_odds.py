"""Write passes of pilots with hands of their own, flown to the end that chance gave them.

    python builders/corpus_odds.py FOLDER fit|held [--part K/N]

Nothing is aimed at an outcome and nobody waves anybody off. ``fit`` is what the product's pilots
may be fitted to; ``held`` are other pilots, at other ships, to hold odds against. Two files a case, as
``builders/explained.py`` writes them; ``about["pilot"]`` tells whose hands flew.
"""

from __future__ import annotations

import argparse
import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from corpus_clean import MOTIONS, plan_at
from explained import PLACES, save
from fly import fly, new_pilot
from fly_geometry import NAUTICAL_MILE
from fly_pilot import Pilot
from fly_ship import STEP

#: seed, ships, pilots, passes of each
SETS = {"fit": (21_000, ("halcyon", "petrel"), 12, 12), "held": (33_000, ("kestrel", "tern"), 15, 12)}


@dataclass(frozen=True)
class Hands:
    """What is a pilot's own: power gains (weights a m, m/s, m/s2, m s), delay, s, and aim, m."""

    name: str
    height: float
    rate: float
    climb: float
    settle: float
    delay: float
    roughness: float
    aim: float


def hands(name: str, seed: int, number: int) -> Hands:
    """Draw a pilot."""
    rng = np.random.default_rng([seed, 7, number])
    n = rng.normal(0.0, 1.0, 5).clip(-2.0, 2.0)
    return Hands(
        name=f"{name}-{number:02d}",
        height=0.028 * math.exp(0.3 * n[0]),
        rate=0.19 * math.exp(0.25 * n[1]),
        climb=0.16 * math.exp(0.3 * n[2]),
        settle=0.0018 * math.exp(0.5 * n[3]),
        delay=float(rng.uniform(0.1, 0.45)),
        roughness=float(rng.uniform(0.7, 2.2)),
        aim=float(4.0 * n[4]),
    )


class Own(Pilot):
    """The builders' pilot with gains and a delay of his own."""

    def use(self, own: Hands) -> Own:
        """Take a pilot's hands."""
        self.own = own
        self.seen = []
        return self

    def _glide(self, s, height_error, rate_wanted):
        """Power from the height error (m, + too low) and the wanted climb rate, as seen a delay ago."""
        own = self.own
        if self.rate is None:
            self.rate, self.acceleration = s["climb"], 0.0
        raw = (s["climb"] - self.rate) / STEP
        self.acceleration += STEP / 0.15 * (raw - self.acceleration)
        self.rate = s["climb"]
        self.seen.append((max(-12.0, min(12.0, height_error)), rate_wanted - s["climb"]))
        if len(self.seen) > max(1, round(own.delay / STEP)):
            self.seen.pop(0)
        he, rising = self.seen[0]
        if abs(he) < 3.0:
            self.height_sum = max(-40.0, min(40.0, self.height_sum + he * STEP))
        self.lead = max(-0.6, min(0.6, 0.3 * (rising + 0.15 * he)))
        ask = (
            own.height * he + own.rate * rising - own.climb * self.acceleration + own.settle * self.height_sum
        )
        ask *= 0.8 / self.kind.thrust_to_weight
        want = self.trim_throttle + ask + 0.012 * own.roughness * self.hand_noise.step()
        want = min(1.0, max(0.0, want))
        self.throttle += max(-1.2 * STEP, min(1.2 * STEP, want - self.throttle))
        return self.throttle


def fly_own(plan, own: Hands):
    """Fly a pass with a pilot's own hands."""

    def of(plan, rng):
        pilot = new_pilot(plan, rng)
        pilot.__class__ = Own
        return pilot.use(own)

    return fly(plan, of)


def plan(rng, own: Hands, jet: str, key: str):
    """A pass in the air and at the ship of the day."""
    motion = (None, "medium", "pitching", "heaving", "heavy")[rng.integers(5)]
    n = rng.normal(0, 1, 6).clip(-2.0, 2.0)
    return plan_at(
        jet,
        key,
        PLACES[rng.integers(6)],
        float(rng.integers(0, 360)),
        speed=float(rng.integers(12, 24)),
        wind=(float(rng.integers(-12, 2)), float(rng.integers(4, 13))),
        motion=None if motion is None else MOTIONS[motion],
        seed=int(rng.integers(1 << 30)),
        turbulence=float(rng.uniform(0.3, 1.5)),
        roughness=own.roughness,
        start_range=0.95 * NAUTICAL_MILE,
        aim=own.aim + 3.0 * n[0],
        glide=((1700, 0.2 * n[1]), (1000, 0.0), (0, 0.0)),
        alpha=((1500, 0.25 * n[2]), (0, 0.25 * n[3])),
        lateral=((1500, 5.0 * n[4]), (300, 1.0 * n[5]), (0, 0.0)),
        after=7.0,
    )


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("set", choices=SETS)
    parser.add_argument("--part", default="0/1", help="every N-th case from K on")
    options = parser.parse_args()
    seed, ships, pilots, each = SETS[options.set]
    part, parts = (int(word) for word in options.part.split("/"))
    folder = options.folder / options.set
    folder.mkdir(parents=True, exist_ok=True)
    for index in range(part, pilots * each, parts):
        # every pilot's first pass comes before anybody's second
        turn, number = divmod(index, pilots)
        own = hands(options.set, seed, number)
        rng = np.random.default_rng([seed, number, turn])
        name = f"{own.name}-{turn:02d}"
        if (folder / f"{name}.npz").exists():
            continue
        jet, key = ("A4", "F4N")[(number + turn) % 2], ships[turn // 2 % 2]
        try:
            flight = fly_own(plan(rng, own, jet, key), own)
            save(folder, name, flight, "odds", {"pilot": vars(own)})
        except Exception as fault:  # one flight that fails does not end the corpus
            print(f"{name}: {type(fault).__name__} {fault}", flush=True)


if __name__ == "__main__":
    main()
