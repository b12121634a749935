"""Many passes at once, by chance: the same numbers for the same seed on any number of threads."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from types import ModuleType
from typing import NamedTuple

import numpy as np
from msgspec import Struct

from deckward.prediction import scene as kernel
from deckward.prediction.chance import keys as keys_of
from deckward.prediction.chance import normal, uniform
from deckward.prediction.model import State
from deckward.prediction.scene import FLYING, Flown, Pilot, Scene

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


class Memory(NamedTuple):
    """What pilots carry with them at a moment, (n,) each: the lever, their sums, what they feel.

    ``wander`` holds the noises of eye, hand, side and nose, in standard deviations.
    """

    lever: np.ndarray
    height_sum: np.ndarray
    line_up_sum: np.ndarray
    climb_rate: np.ndarray
    wander: tuple


class Crew(NamedTuple):
    """Who flies each pass, and what he brings with him; None is the scene's pilot, who begins anew.

    ``pilots`` has fields of arrays (n,). ``seen`` (4, slots, m) is what was seen up to now in
    steps of the ensemble, oldest first, and ``source`` (n,) which of the m each pass takes.
    """

    pilots: Pilot | None = None
    memory: Memory | None = None
    seen: np.ndarray | None = None
    source: np.ndarray | None = None


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
    crew: Crew | None = None,
) -> Passes:
    """Fly passes (n,) from their states to their ends.

    ``starts`` holds arrays (n,); trajectory i has the chance of ``seed`` and ``first + i``.
    ``dt`` in seconds must be the one that the scene was made for. ``begins`` (n,) says at which
    moment of the record of the deck's motion each pass begins, s; by chance if left out.
    ``crew`` is who flies, and what he has in mind; the scene's pilot, who begins anew, if left out.
    """
    return _fly(scene, starts, seed, dt, first, threads, longest, begins, crew, 0)[0]


def fly_tracks(
    scene: Scene,
    starts: State,
    *,
    seed: int,
    dt: float,
    each: int,
    longest: float,
    threads: int | None = None,
    begins: np.ndarray | None = None,
    crew: Crew | None = None,
) -> tuple[State, np.ndarray]:
    """Fly passes as :func:`fly_passes` does and return what a recorder would have kept of them.

    States of (n, samples) and the lever (n, samples), every ``each`` steps from the start on for
    ``longest`` seconds, NaN after a pass has ended.
    """
    track = _fly(scene, starts, seed, dt, 0, threads, longest, begins, crew, each)[1]
    return State(*track[:-1]), track[-1]


def _fly(
    scene: Scene, starts: State, seed: int, dt: float, first: int, threads, longest: float, begins, crew, each
) -> tuple[Passes, np.ndarray]:
    """Fly passes; return what became of them and their tracks (14, n, samples), empty where ``each`` is 0."""
    rows = np.stack(np.broadcast_arrays(*(np.asarray(column, dtype=float) for column in starts)))
    rows = np.atleast_2d(rows.reshape(len(State._fields), -1))
    keys = keys_of(seed, first, rows.shape[1])
    steps, crew = round(longest / dt), crew or Crew()
    hands = _hands(scene, crew.pilots, dt)
    track = np.full((len(State._fields) + 1, keys.size, -(-steps // each) if each else 0), np.nan)
    module = compiled()
    # chance is made by 64-bit products that run over
    with np.errstate(over="ignore"):
        begun = begin(scene, tuple(rows), keys, begins, crew.memory)
        if crew.seen is None or crew.source is None:
            slots = int(hands[-1].max())
            sight = np.repeat(first_sight(scene, tuple(rows), begun)[:, None], slots, axis=1)
            source = np.arange(keys.size)
        else:
            sight, source = crew.seen, crew.source
        if module is None:
            result = _in_arrays(scene, rows, begun, sight, source, hands, keys, steps, dt, each, track)
        else:
            cores = threads or os.cpu_count() or 1
            result = _in_threads(
                module, scene, rows, begun, sight, source, hands, keys, steps, dt, cores, each, track
            )
    return _passes(result), track


def slots_of(pilot: Pilot, dt: float):
    """Return how many steps lie between a pilot's eye and his hand."""
    return np.maximum(1, np.round(np.asarray(pilot.delay) / dt)).astype(int)


def noise(pilot: Pilot, dt: float) -> tuple[tuple, tuple]:
    """Return what a pilot's slow noise keeps in a step, and what is added, four each."""
    times = (pilot.eye_time, pilot.hand_time, pilot.side_time, pilot.alpha_time)
    keep = tuple(1.0 - dt / time for time in times)
    return keep, tuple(np.sqrt(1.0 - k * k) for k in keep)


def _hands(scene: Scene, pilots: Pilot | None, dt: float) -> np.ndarray:
    """Return a column a pilot, or one for all: his numbers, what his noise keeps and gains, his slots."""
    pilot = scene.pilot if pilots is None else pilots
    keep, kick = (scene.keep, scene.kick) if pilots is None else noise(pilot, dt)
    columns = np.broadcast_arrays(*(np.atleast_1d(value) for value in (*pilot, *keep, *kick)))
    return np.stack([*columns, np.broadcast_to(slots_of(pilot, dt), columns[0].shape)]).astype(float)


def begin(scene: Scene, state, key, begins=None, memory: Memory | None = None) -> Flown:
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
    memory = memory or Memory(state[11] + zero, zero, zero, zero, tuple(draw[9:13]))
    return Flown(
        gust=tuple(gusts),
        wake=(draw[6], zero, draw[7], zero, draw[8], zero),
        **memory._asdict(),
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


def _in_arrays(
    scene: Scene, rows, flown: Flown, sight, source, hands, keys, steps: int, dt: float, each: int, track
) -> np.ndarray:
    """Fly all passes side by side, in arrays; fill ``track`` every ``each`` steps, 0 for never."""
    state = tuple(rows)
    past = np.ascontiguousarray(sight[:, :, source])
    slots = past.shape[1]
    if hands.shape[1] > 1:
        count = len(Pilot._fields)
        scene = scene._replace(
            pilot=Pilot(*hands[:count]),
            keep=tuple(hands[count : count + 4]),
            kick=tuple(hands[count + 4 : count + 8]),
        )
        behind = slots - hands[-1].astype(int)
    else:
        behind = slots - int(hands[-1, 0])
    with np.errstate(all="ignore"):
        for k in range(steps):
            if each and k % each == 0:
                going = flown.outcome == FLYING
                track[:, going, k // each] = np.stack(np.broadcast_arrays(*state, flown.lever))[:, going]
            known_at, drawn = (k + behind) % slots, np.uint64(k * kernel.DRAWS)
            state, flown = kernel.tick(
                scene, state, flown, past, k % slots, known_at, k * dt, keys, drawn, dt
            )
            if not np.any(flown.outcome == FLYING):
                break
    f = flown
    return np.stack(
        [
            f.outcome, f.call, f.waved, f.ramp_height, f.ramp_time, f.touch_x, f.touch_y, f.touch_sink,
            f.touch_closure, f.touch_alpha, f.touch_time, f.wire, f.lowest,
        ]
    )  # fmt: skip


def _in_threads(
    module,
    scene,
    rows,
    begun: Flown,
    sight,
    source,
    hands,
    keys,
    steps: int,
    dt: float,
    threads: int,
    each: int,
    track: np.ndarray,
) -> np.ndarray:
    table = np.stack([np.broadcast_to(value, keys.shape) for value in _flat(begun)])
    results = np.empty((len(Passes.__struct_fields__), keys.size))
    edges = np.linspace(0, keys.size, 4 * threads + 1).astype(int) if threads > 1 else [0, keys.size]

    def part(low: int, high: int) -> None:
        module.fly(scene, rows, table, sight, source, hands, keys, low, high, steps, dt, results, each, track)

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
