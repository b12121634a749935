"""Many passes at once, by chance: the same numbers for the same seed on any number of threads."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from types import ModuleType

import numpy as np
from msgspec import Struct

from deckward.prediction import scene as kernel
from deckward.prediction.chance import keys as keys_of
from deckward.prediction.chance import normal, uniform
from deckward.prediction.model import State
from deckward.prediction.scene import FLYING, Flown, Scene

#: seconds after which a pass that has not ended is taken for flown on
LONGEST = 60.0
OUTCOMES = ("flying", "trap", "bolter", "wave-off", "ramp strike", "outside")
_START_DRAWS = np.uint64(0xFFFFFFFFFFFE0000)
_BEGIN_DRAW = np.uint64(0xFFFFFFFFFFFF0000)


class Passes(Struct, frozen=True):
    """What became of passes, (n,) each, SI and radians, NaN where it did not come to that.

    ``outcome`` indexes ``OUTCOMES``; ``called`` is why it was waved off (0: it was not).
    ``lowest`` is the least height of the hook over the deck from the ramp on.
    """

    outcome: np.ndarray
    called: np.ndarray
    waved_at: np.ndarray
    ramp_height: np.ndarray
    ramp_time: np.ndarray
    touch_x: np.ndarray
    touch_y: np.ndarray
    touch_sink: np.ndarray
    touch_closure: np.ndarray
    touch_alpha: np.ndarray
    touch_time: np.ndarray
    wire: np.ndarray
    lowest: np.ndarray

    @property
    def size(self) -> int:
        """How many passes."""
        return int(self.outcome.size)

    def share(self, outcome: str) -> float:
        """Return the share of passes with an outcome."""
        return float(np.mean(self.outcome == OUTCOMES.index(outcome)))


def compiled() -> ModuleType | None:
    """Return the compiled kernels, or None where the compiler is not installed or switched off."""
    if os.environ.get("DECKWARD_COMPILED") == "0":
        return None
    try:
        from deckward.prediction import compiled as module
    except ImportError:
        return None
    return module


def fly_passes(
    scene: Scene,
    starts: State,
    *,
    seed: int,
    dt: float,
    first: int = 0,
    threads: int | None = None,
    longest: float = LONGEST,
    begins: np.ndarray | None = None,
) -> Passes:
    """Fly passes (n,) from their states to their ends.

    ``starts`` holds arrays (n,); trajectory i has the chance of ``seed`` and ``first + i``.
    ``dt`` in seconds must be the one that the scene was made for. ``begins`` (n,) says at which
    moment of the record of the deck's motion each pass begins, s; by chance if left out.
    """
    rows = np.stack(np.broadcast_arrays(*(np.asarray(column, dtype=float) for column in starts)))
    rows = np.atleast_2d(rows.reshape(len(State._fields), -1))
    keys = keys_of(seed, first, rows.shape[1])
    steps, delay = round(longest / dt), max(1, round(scene.pilot.delay / dt))
    module = compiled()
    # chance is made by 64-bit products that run over
    with np.errstate(over="ignore"):
        if module is None:
            result = _in_arrays(scene, rows, keys, begins, steps, delay, dt)
        else:
            cores = threads or os.cpu_count() or 1
            result = _in_threads(module, scene, rows, keys, begins, steps, delay, dt, cores)
    return _passes(result)


def begin(scene: Scene, state, key, begins=None) -> Flown:
    """Return the rest of a trajectory's state at its start: gusts and noise as if they had always been."""
    rows = scene.weather.gust_rows
    height = scene.deck.above_sea + state[2]
    filters = kernel.row(rows, height, scene.weather.gust_per_metre)
    draw = [normal(key, _START_DRAWS + np.uint64(n)) for n in range(13)]
    gusts = []
    for axis in range(3):
        m, n = draw[2 * axis], draw[2 * axis + 1]
        gusts.append(kernel.pick(filters, axis, 7) * m)
        gusts.append(kernel.pick(filters, axis, 8) * m + kernel.pick(filters, axis, 9) * n)
    zero = np.zeros_like(state[0])
    never, none = zero + 1e9, zero * np.nan
    if begins is None:
        # each trajectory meets the record of the deck's motion at a moment of its own
        begins = uniform(key, _BEGIN_DRAW) * scene.motion.record.shape[1] / scene.motion.rate
    motion = kernel.deck_motion(scene.motion, zero + begins)
    hook_x, _, hook_z, eye_x, eye_z, _ = kernel.points(scene.deck, state, motion)
    return Flown(
        gust=tuple(gusts),
        wake=(draw[6], zero, draw[7], zero, draw[8], zero),
        wander=tuple(draw[9:13]),
        lever=state[11] + zero,
        height_sum=zero,
        line_up_sum=zero,
        climb_rate=zero,
        waved=never,
        call=zero,
        outcome=zero + FLYING,
        ramp_height=none,
        ramp_time=none,
        touch_x=none,
        touch_y=none,
        touch_sink=none,
        touch_closure=none,
        touch_alpha=none,
        touch_time=none,
        wire=none,
        lowest=never,
        hook_x=hook_x,
        hook_z=hook_z,
        eye_x=eye_x,
        eye_z=eye_z,
        motion=motion,
        begin=zero + begins,
    )


def first_sight(scene: Scene, state, flown: Flown):
    """Return what the pilot sees at the start, (4, n): it fills the time before it."""
    return np.stack(kernel.see(scene.deck, scene.slope, state, flown.eye_x, flown.eye_z, flown.motion)[:4])


def _in_arrays(scene: Scene, rows, keys, begins, steps: int, delay: int, dt: float) -> np.ndarray:
    """Fly all passes side by side, in arrays."""
    state = tuple(rows)
    flown = begin(scene, state, keys, begins)
    past = np.repeat(first_sight(scene, state, flown)[:, None], delay, axis=1)
    with np.errstate(all="ignore"):
        for k in range(steps):
            count = np.uint64(k * kernel.DRAWS)
            state, flown = kernel.tick(scene, state, flown, past, k % delay, k * dt, keys, count, dt)
            if not (flown.outcome == FLYING).any():
                break
    f = flown
    return np.stack(
        [
            f.outcome, f.call, f.waved, f.ramp_height, f.ramp_time, f.touch_x, f.touch_y, f.touch_sink,
            f.touch_closure, f.touch_alpha, f.touch_time, f.wire, f.lowest,
        ]
    )  # fmt: skip


def _in_threads(
    module, scene, rows, keys, begins, steps: int, delay: int, dt: float, threads: int
) -> np.ndarray:
    begun = begin(scene, tuple(rows), keys, begins)
    sight = first_sight(scene, tuple(rows), begun)
    table = np.stack([np.broadcast_to(value, keys.shape) for value in _flat(begun)])
    results = np.empty((len(Passes.__struct_fields__), keys.size))
    edges = np.linspace(0, keys.size, 4 * threads + 1).astype(int) if threads > 1 else [0, keys.size]

    def part(low: int, high: int) -> None:
        module.fly(scene, rows, table, sight, keys, low, high, steps, delay, dt, results)

    with ThreadPoolExecutor(threads) as pool:
        list(pool.map(part, edges[:-1], edges[1:]))
    return results


def _flat(flown: Flown):
    for value in flown:
        if isinstance(value, tuple):
            yield from value
        else:
            yield value


def _passes(result: np.ndarray) -> Passes:
    columns = dict(zip(Passes.__struct_fields__, result, strict=True))
    outcome = columns["outcome"].astype(int)
    # what still flies at the end has been waved off and climbs, or has flown on
    columns["outcome"] = np.where(outcome == FLYING, OUTCOMES.index("wave-off"), outcome)
    columns["called"] = columns["called"].astype(int)
    columns["waved_at"] = np.where(columns["called"] > 0, columns["waved_at"], np.nan)
    columns["lowest"] = np.where(columns["lowest"] < 1e8, columns["lowest"], np.nan)
    return Passes(**columns)
