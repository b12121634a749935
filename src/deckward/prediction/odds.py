"""Odds of a pass: from its start, from any moment of it, and when it can still be waved off."""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from deckward.foundation.units import FOOT
from deckward.prediction.chance import keys, normal
from deckward.prediction.ensemble import OUTCOMES, Crew, Passes, fly_passes
from deckward.prediction.following import Followed
from deckward.prediction.model import Model, State
from deckward.prediction.scene import Officer, Pilot, Scene
from deckward.prediction.setting import Conditions, scene_of, start_on_path
from deckward.prediction.trim import trim
from deckward.site.model import Site

#: the step at which the hook's height at the ramp has come within 0.1 ft of a finer step's
STEP = 0.02
#: hook over deck that a wave-off has to keep, share of the ensemble that keeps it, its size
CLEAR_BY, CLEAR_SHARE, CLEAR_COUNT = 10.0 * FOOT, 0.99, 2000
#: normal deviate of a 95 per cent interval
_TWO_SIDED = 1.959964
_SCATTER_DRAW = np.uint64(0xFFFFFFFFFFFD0000)


class Share(Struct, frozen=True):
    """A share of passes with its 95 per cent interval."""

    value: float
    low: float
    high: float


class Odds(Struct, frozen=True):
    """Odds of each outcome from each of some moments on, (n,) each; the outcomes' add to 1.

    ``called`` are the odds that the landing signal officer's rule calls for a wave-off, whether
    or not he acts.
    """

    trap: np.ndarray
    bolter: np.ndarray
    wave_off: np.ndarray
    ramp_strike: np.ndarray
    outside: np.ndarray
    called: np.ndarray
    count: int


class Scatter(Struct, frozen=True):
    """How starts differ from the path and on-speed flight, one standard deviation: m, m, m/s."""

    height: float = 3.0
    offset: float = 8.0
    airspeed: float = 1.0


class Study(Struct, frozen=True):
    """What became of many passes under the same conditions; SI.

    ``shares`` by outcome; ``wires`` share of all passes by wire, from aft. ``touch_x`` (mean,
    standard deviation) of the hook's touchdown and so on, over the passes that touched down;
    ``ramp_height`` over those that were not waved off. ``sink_points`` at 5, 25, 50, 75 and 95
    per cent.
    """

    count: int
    shares: dict[str, Share]
    wires: dict[int, Share]
    touch_x: tuple[float, float]
    touch_y: tuple[float, float]
    ramp_height: tuple[float, float]
    sink: tuple[float, float]
    sink_points: tuple[float, ...]
    passes: Passes


def share(hits: int, count: int) -> Share:
    """Return a share with its 95 per cent interval.

    Source: Wilson, "Probable inference", J. Am. Stat. Assoc. 22 (1927).

    >>> made = share(0, 100)
    >>> made.low, round(made.high, 3)
    (0.0, 0.037)
    """
    z2 = _TWO_SIDED**2
    p = hits / count
    centre = (p + z2 / (2 * count)) / (1 + z2 / count)
    half = _TWO_SIDED * math.sqrt(p * (1 - p) / count + z2 / (4 * count**2)) / (1 + z2 / count)
    return Share(p, max(0.0, centre - half), min(1.0, centre + half))


def study(
    model: Model,
    site: Site,
    conditions: Conditions,
    *,
    pilot: Pilot | None = None,
    officer: Officer | None = None,
    scatter: Scatter | None = None,
    start_range: float = 1400.0,
    count: int = 2000,
    seed: int = 0,
    dt: float = STEP,
    threads: int | None = None,
) -> Study:
    """Fly many passes under the same conditions and say what became of them.

    ``start_range`` in m behind the ramp, where the aircraft starts on the path and on speed
    but for ``scatter``. The same seed gives the same passes on any number of threads.

    Raises:
        InputError: the aircraft cannot hold the path in this wind.
    """
    scene = scene_of(model, site, conditions, pilot=pilot, officer=officer, dt=dt)
    steady = trim(model, path=-site.lens.basic_angle, air=conditions.air)
    start = start_on_path(scene, steady, start_range)
    scatter = scatter or Scatter()
    with np.errstate(over="ignore"):
        each = keys(seed, 0, count)
        high, right, fast = (normal(each, _SCATTER_DRAW + np.uint64(n)) for n in range(3))
    starts = State(*(np.full(count, float(value)) for value in start))
    starts = starts._replace(
        z=starts.z + scatter.height * high,
        y=starts.y + scatter.offset * right,
        vx=starts.vx + scatter.airspeed * fast,
    )
    return summary(fly_passes(scene, starts, seed=seed, dt=dt, threads=threads))


def summary(passes: Passes) -> Study:
    """Sum passes up."""
    count = passes.size
    touched = np.isfinite(passes.touch_x)
    straight = np.isfinite(passes.ramp_height) & (passes.called == 0)
    hooks = passes.wire[touched]
    return Study(
        count=count,
        shares={
            name: share(int(np.sum(passes.outcome == code)), count)
            for code, name in enumerate(OUTCOMES)
            if code
        },
        wires={n: share(int(np.sum(hooks == n)), count) for n in range(1, int(hooks.max(initial=0)) + 1)},
        touch_x=_mean_and_spread(passes.touch_x[touched]),
        touch_y=_mean_and_spread(passes.touch_y[touched]),
        ramp_height=_mean_and_spread(passes.ramp_height[straight]),
        sink=_mean_and_spread(passes.touch_sink[touched]),
        sink_points=tuple(
            float(value) for value in np.percentile(passes.touch_sink[touched], [5, 25, 50, 75, 95])
        )
        if touched.any()
        else (),
        passes=passes,
    )


def odds_from(
    scene: Scene,
    states: State,
    *,
    seed: int = 0,
    count: int = 500,
    dt: float = STEP,
    threads: int | None = None,
    begins: np.ndarray | None = None,
    followed: Followed | None = None,
    pilots: Pilot | None = None,
) -> Odds:
    """Return the odds of each outcome from each of some states (n,) on, in the scene's hands.

    From every state ``count`` continuations are flown; ``begins`` (n,) is where in the record
    of the deck's motion each state is, s, by chance if left out. ``followed`` are the pilots
    that fly on (as many as they are), with what they have in mind; if left out the scene's pilot
    begins anew at every state, which is right only where a pilot takes the aircraft over.
    ``pilots`` (count,) are others who begin anew there, in place of the scene's.
    """
    moments = np.size(states.x)
    count = count if followed is None else followed.power.shape[1]
    crew = None
    if followed is not None:
        crew = followed.crew()
    elif pilots is not None:
        crew = Crew(pilots=Pilot._make(np.tile(value, moments) for value in pilots))
    passes = _from_each(
        scene, states, begins, count, seed=seed, dt=dt, threads=threads, crew=crew, followed=followed
    )
    outcome = passes.outcome.reshape(moments, count)
    by_name = {name: (outcome == code).mean(axis=1) for code, name in enumerate(OUTCOMES) if code}
    return Odds(
        trap=by_name["trap"],
        bolter=by_name["bolter"],
        wave_off=by_name["wave-off"],
        ramp_strike=by_name["ramp strike"],
        outside=by_name["outside"],
        called=(passes.called > 0).reshape(moments, count).mean(axis=1),
        count=count,
    )


def wave_off_clears(
    scene: Scene,
    states: State,
    *,
    margin: float = CLEAR_BY,
    seed: int = 0,
    count: int = CLEAR_COUNT,
    dt: float = STEP,
    threads: int | None = None,
    begins: np.ndarray | None = None,
) -> np.ndarray:
    """Return from each state (n,) the share of wave-offs, signalled there, that keep the hook clear.

    Full power and the pilot's rotation follow after his reaction time; clear is ``margin``
    (m) over the deck from the ramp on.
    """
    waved = scene._replace(officer=scene.officer._replace(told=0.0, acts=1.0))
    moments = np.size(states.x)
    passes = _from_each(waved, states, begins, count, seed=seed, dt=dt, threads=threads)
    clear = (passes.lowest >= margin) & (passes.outcome == OUTCOMES.index("wave-off"))
    return clear.reshape(moments, count).mean(axis=1)


def last_safe_wave_off(
    scene: Scene,
    states: State,
    *,
    margin: float = CLEAR_BY,
    wanted: float = CLEAR_SHARE,
    seed: int = 0,
    count: int = CLEAR_COUNT,
    dt: float = STEP,
    threads: int | None = None,
    begins: np.ndarray | None = None,
) -> int | None:
    """Return the index of the last of some states (n,), in order of time, with a safe wave-off.

    Safe is a wave-off that stays clear by ``margin`` (m) in a share ``wanted`` of an ensemble
    of ``count``; None where no state has one.
    """

    def clears(rows: np.ndarray, size: int) -> np.ndarray:
        some = State(*(np.broadcast_to(column, moments)[rows] for column in states))
        when = None if begins is None else begins[rows]
        return wave_off_clears(
            scene, some, margin=margin, seed=seed, count=size, dt=dt, threads=threads, begins=when
        )

    moments = np.size(states.x)
    # few trajectories tell which moments are worth many
    rough = clears(np.arange(moments), min(count, 50))
    candidates = np.flatnonzero(rough >= wanted - 0.07)[::-1]
    for index in candidates:
        if clears(np.array([index]), count)[0] >= wanted:
            return int(index)
    return None


def _from_each(
    scene: Scene,
    states: State,
    begins,
    count: int,
    *,
    seed: int,
    dt: float,
    threads,
    crew: Crew | None = None,
    followed: Followed | None = None,
) -> Passes:
    """Fly ``count`` passes from each of some states (n,), those of one state side by side."""
    moments = np.size(states.x)
    starts = State(*(np.repeat(np.broadcast_to(column, moments), count) for column in states))
    when = None if begins is None else np.repeat(begins, count)
    if followed is not None:
        starts = starts._replace(power=followed.power.ravel(), thrust=followed.thrust.ravel())
    return fly_passes(scene, starts, seed=seed, dt=dt, threads=threads, begins=when, crew=crew)


def _mean_and_spread(values: np.ndarray) -> tuple[float, float]:
    if not values.size:
        return math.nan, math.nan
    return float(values.mean()), float(values.std())
