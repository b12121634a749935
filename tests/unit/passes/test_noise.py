"""Recordings with noise of known size: errors within budget, and sigmas that are honest.

Each kind of noise is put on a dozen weaving passes. Of all the numbers read from them, 60
to 76 % must lie within one of their own sigma (68 % would, were they normal) and few
beyond three.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import pytest
from support.analytic_pass import (
    DEGREE,
    RANGES,
    AnalyticPass,
    Flight,
    Ship,
    Sway,
    without,
)

from deckward.foundation.track import Track
from deckward.passes import Wind, find

EARTH = (38.0 * DEGREE, -62.0 * DEGREE)
PASSES = 16


@dataclass(frozen=True)
class Noise:
    """Standard deviations: altitude (m), attitude (rad), airspeed (m/s); float32 positions."""

    altitude: float = 0.0
    attitude: float = 0.0
    rate: float = 20.0
    float32: bool = False
    attack: float = 0.0
    leave_out: tuple[str, ...] = ()

    def on(self, track: Track, seed: int) -> Track:
        """A noisy copy of a track."""
        random = np.random.default_rng(seed)
        channels = dict(track.channels)
        channels["altitude"] = channels["altitude"] + self.altitude * random.normal(size=len(track))
        for name in ("pitch", "roll", "heading"):
            channels[name] = channels[name] + self.attitude * random.normal(size=len(track))
        if "angle_of_attack" in channels:
            noise = self.attack * random.normal(size=len(track))
            channels["angle_of_attack"] = channels["angle_of_attack"] + noise
        if self.float32:
            # as many recorders keep them: degrees in single precision
            for name in ("latitude", "longitude"):
                rounded = np.degrees(channels[name]).astype(np.float32).astype(float)
                channels[name] = np.radians(rounded)
        return without(replace(track, channels=channels), *self.leave_out)


KINDS = {
    "altitude 0.3 m": Noise(altitude=0.3),
    "altitude 0.9 m": Noise(altitude=0.9),
    "altitude 0.9 m, 10 Hz": Noise(altitude=0.9, rate=10.0),
    "attitude 0.1 deg": Noise(attitude=0.1 * DEGREE),
    "float32 positions": Noise(float32=True),
    "everything": Noise(altitude=0.6, attitude=0.1 * DEGREE, float32=True, attack=0.1 * DEGREE),
    "altitude 0.6 m and place only": Noise(
        altitude=0.6, leave_out=("angle_of_attack", "true_airspeed", "throttle")
    ),
}


def flight(seed: int) -> Flight:
    """A weaving pass of its own for each seed."""
    random = np.random.default_rng(1000 + seed)
    ship = Ship(
        course=random.uniform(0.0, 2.0 * np.pi),
        speed=random.uniform(5.0, 12.0),
        heave=Sway(random.uniform(0.0, 0.8), 9.0, random.uniform(0.0, 6.0)),
        pitch=Sway(random.uniform(0.0, 0.5) * DEGREE, 8.4, random.uniform(0.0, 6.0)),
        roll=Sway(random.uniform(0.0, 1.0) * DEGREE, 15.0, random.uniform(0.0, 6.0)),
    )
    return Flight(
        ship=ship,
        closure=random.uniform(52.0, 62.0),
        off_centre=random.uniform(-2.0, 2.0),
        drift=random.uniform(-0.4, 0.4) * DEGREE,
        weave=Sway(random.uniform(0.2, 1.5), random.uniform(7.0, 14.0)),
        sway=Sway(random.uniform(0.2, 1.5), random.uniform(8.0, 15.0)),
        roll=Sway(random.uniform(0.0, 2.0) * DEGREE, random.uniform(6.0, 10.0)),
        hook_aim=random.uniform(60.0, 85.0),
        from_range=1550.0,
        after=5.0,
    )


@cache
def ratios(kind: str) -> dict[str, np.ndarray]:
    """Errors over their own sigma, and the plain errors, by quantity."""
    noise = KINDS[kind]
    off: dict[str, list[float]] = {}
    for seed in range(PASSES):
        flown = AnalyticPass(flight(seed))
        own, ship = flown.on_earth(*EARTH, flown.times(noise.rate))
        noisy = noise.on(own, seed)
        (one,) = find(noisy, ship=ship, site=flown.site, aircraft=flown.jet, wind=Wind(0.0, 0.0)).passes

        def put(name, value, truth, sigma):
            off.setdefault(f"{name} error", []).append(value - truth)
            off.setdefault(name, []).append((value - truth) / sigma)

        put("ramp", one.ramp.hook_to_ramp, flown.hook_to_ramp, one.ramp.hook_to_ramp_sigma)
        if one.touchdown.kind == flown.contact.kind == "deck":
            put("hook x", one.touchdown.hook_x, flown.contact.hook_x, one.touchdown.hook_x_sigma)
        for position in one.positions:
            when = flown.ramp_time if position.name == "ramp" else flown.crosses(RANGES[position.name])
            truth = flown.reading(when, one.on_speed_pitch)
            for quantity in ("glide_slope_error", "line_up_offset", "sink", "closure"):
                sigma = position.sigma[quantity]
                put(quantity, getattr(position, quantity), getattr(truth, quantity), sigma)
    return {name: np.array(values) for name, values in off.items()}


@pytest.mark.parametrize("kind", KINDS)
def test_two_thirds_of_the_numbers_lie_within_one_sigma(kind):
    numbers = np.concatenate([v for name, v in ratios(kind).items() if not name.endswith("error")])
    assert numbers.size >= 200
    within, beyond = np.mean(np.abs(numbers) < 1.0), np.mean(np.abs(numbers) > 3.0)
    each = {n: round(float(np.mean(np.abs(v) < 1)), 2) for n, v in ratios(kind).items() if "error" not in n}
    assert 0.60 <= within <= 0.76, each
    assert beyond <= 0.02, each
