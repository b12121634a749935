"""The step of a pass as machine code, where the compiler is installed.

The functions of ``chance``, ``flight`` and ``scene`` are compiled as they stand; only reading
a table and choosing are written anew, since a number is not an array of one.
"""

from __future__ import annotations

import hashlib
import types
from pathlib import Path
from typing import Any

import numba
import numpy as np

from deckward.prediction import chance, flight, scene

_OPTIONS: dict[str, Any] = {"nogil": True, "error_model": "numpy", "fastmath": {"contract", "nsz", "arcp"}}


@numba.njit(forceinline=True, **_OPTIONS)
def look_up(table, place):
    """Read a table on an even grid at one place."""
    last = table.size - 1.000001
    if place < 0.0:
        place = 0.0
    elif place > last:
        place = last
    index = int(place)
    low = table[index]
    return low + (place - index) * (table[index + 1] - low)


@numba.njit(forceinline=True, **_OPTIONS)
def row(table, height, per_metre):
    """Return the row of gust filters for one height."""
    index = int(height * per_metre)
    return table[min(max(index, 0), table.shape[0] - 1)]


@numba.njit(forceinline=True, **_OPTIONS)
def pick(filters, axis, item):
    """Return one number of a row of filters."""
    return filters[axis, item]


@numba.njit(forceinline=True, **_OPTIONS)
def recall(line, place):
    """Return what lies in a slot."""
    return line[place]


@numba.njit(forceinline=True, **_OPTIONS)
def choose(condition, this, other):
    """Return ``this`` if a condition holds, else ``other``."""
    if condition:
        return this
    return other


def _compile() -> dict[str, Any]:
    """Compile every function of the kernels; each finds the others, compiled, by their names."""
    done: dict[str, Any] = {"look_up": look_up, "row": row, "pick": pick, "choose": choose, "recall": recall}
    for module in (chance, flight, scene):
        space = vars(module) | done
        for name, function in vars(module).items():
            if isinstance(function, types.FunctionType) and name not in done and name != "keys":
                again = types.FunctionType(function.__code__, space, name, function.__defaults__)
                done[name] = space[name] = numba.njit(forceinline=True, **_OPTIONS)(again)
    return done


_FUNCTIONS = _compile()
_tick = _FUNCTIONS["tick"]
_FLYING = float(scene.FLYING)
_DRAWS = scene.DRAWS
_Flown, _Scene, _Pilot = scene.Flown, scene.Scene, scene.Pilot


def _stamp() -> str:
    """What the compiled code is made of: another text must not meet an older text's machine code."""
    sources = (Path(module.__file__ or "").read_bytes() for module in (chance, flight, scene))
    return hashlib.sha256(b"".join(sources)).hexdigest()


def _entry(stamp: str):
    @numba.njit(cache=True, **_OPTIONS)
    def fly(scene, rows, table, sight, source, hands, keys, low, high, steps, dt, results, each, track):
        """Fly trajectories ``low`` up to ``high`` to their ends; what became of them into ``results``.

        Every ``each`` steps state and lever go into ``track`` (14, n, samples); 0 keeps none.
        """
        assert len(stamp) > 0
        slots = sight.shape[1]
        past = np.empty((4, slots))
        for i in range(low, high):
            r, t, h = rows[:, i], table[:, i], hands[:, min(i, hands.shape[1] - 1)]
            pilot = _Pilot(
                h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], h[8], h[9], h[10], h[11], h[12], h[13],
                h[14], h[15], h[16], h[17], h[18], h[19], h[20], h[21], h[22], h[23], h[24], h[25],
                h[26], h[27],
            )  # fmt: skip
            own = _Scene(
                scene.aircraft, scene.deck, scene.motion, scene.weather, pilot, scene.officer,
                scene.trim_power, scene.lever_per_weight, scene.slope,
                (h[28], h[29], h[30], h[31]), (h[32], h[33], h[34], h[35]),
            )  # fmt: skip
            behind = slots - int(h[36])
            state = (r[0], r[1], r[2], r[3], r[4], r[5], r[6], r[7], r[8], r[9], r[10], r[11], r[12])
            flown = _Flown(
                (t[0], t[1], t[2], t[3], t[4], t[5]),
                (t[6], t[7], t[8], t[9], t[10], t[11]),
                (t[12], t[13], t[14], t[15]),
                t[16], t[17], t[18], t[19], t[20], t[21], t[22], t[23], t[24], t[25], t[26], t[27],
                t[28], t[29], t[30], t[31], t[32], t[33], t[34], t[35], t[36], (t[37], t[38], t[39]), t[40],
            )  # fmt: skip
            for n in range(4):
                past[n, :] = sight[n, :, source[i]]
            for k in range(steps):
                if each > 0 and k % each == 0:
                    for n in range(13):
                        track[n, i, k // each] = state[n]
                    track[13, i, k // each] = flown.lever
                count = np.uint64(k * _DRAWS)
                state, flown = _tick(
                    own, state, flown, past, k % slots, (k + behind) % slots, k * dt, keys[i], count, dt
                )
                if flown.outcome != _FLYING:
                    break
            results[0, i] = flown.outcome
            results[1, i] = flown.call
            results[2, i] = flown.waved
            results[3, i] = flown.ramp_height
            results[4, i] = flown.ramp_time
            results[5, i] = flown.touch_x
            results[6, i] = flown.touch_y
            results[7, i] = flown.touch_sink
            results[8, i] = flown.touch_closure
            results[9, i] = flown.touch_alpha
            results[10, i] = flown.touch_time
            results[11, i] = flown.wire
            results[12, i] = flown.lowest

    return fly


fly = _entry(_stamp())
