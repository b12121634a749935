"""The changes from the commanded approach along a recorded pass: how its end answers to each moment.

The linear model of :mod:`deckward.explanation.approach` holds for small changes. Here its matrices
are those of the pass as flown, moment by moment, taken so that they give what the full model does far
from the trim as well: a jet that is slow by ten knots, or that pulls two degrees, is not a small change.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward import prediction
from deckward.explanation.approach import Approach
from deckward.explanation.recursion import carried, run
from deckward.foundation.units import STANDARD_GRAVITY

#: s between the samples that slopes are worked out at; chosen by us
_APART = 0.5
#: what moves in the plane of symmetry
_UPRIGHT = {
    prediction.ALPHA: ("z", "vx", "vz"),
    prediction.ELEVATOR: ("z", "vx", "vz", "pitch", "pitch_rate"),
}


class Along(Struct, frozen=True, eq=False):
    """An approach in changes about the commanded path along one pass, ``steps`` of it.

    ``states`` are names, the first the height over the commanded path; ``transition`` (steps,
    states, states) takes them over a step, and ``push`` maps an input to what a unit of it does
    to them a second, (steps, states).
    """

    step: float
    linear: prediction.Linear
    states: tuple[str, ...]
    transition: np.ndarray
    push: dict[str, np.ndarray]

    def state(self, **values: float) -> np.ndarray:
        """A state by the names of its parts."""
        out = np.zeros(len(self.states))
        for name, value in values.items():
            out[self.states.index(name)] = value
        return out

    def output(self, name: str) -> np.ndarray:
        """How an output of the linear model reads the states, at the trim; height leaves it alone."""
        row = self.linear.c[self.linear.outputs.index(name)]
        read = np.array([row[self.linear.states.index(state)] for state in self.states])
        read[0] = 0.0
        return read

    def at_once(self, output: str, **air: float) -> float:
        """Answer of an output to the air of the same moment: ``air_x``, ``air_z``, m/s."""
        direct = self.linear.d[self.linear.outputs.index(output)]
        return sum(float(direct[self.linear.inputs.index(name)]) * value for name, value in air.items())

    def alpha_of(self, along: np.ndarray, up: np.ndarray) -> np.ndarray:
        """Angle of attack (n,), rad, that gusts (n,), m/s, bring before any answer to it."""
        pushes = along[:, None] * self.push["air_x"] + up[:, None] * self.push["air_z"]
        states = self.responses(np.zeros((len(self.states), 1)), pushes[..., None])[..., 0]
        direct = self.at_once("alpha", air_x=1.0, air_z=0.0), self.at_once("alpha", air_x=0.0, air_z=1.0)
        return states @ self.output("alpha") + direct[0] * along + direct[1] * up

    def answers(self, lasts: np.ndarray, steps: int) -> np.ndarray:
        """Answers of what ``lasts`` (k, states) read after so many steps to each state before each of them.

        Returns:
            (steps + 1, k, states)
        """
        return carried(self.transition[:steps], lasts)

    def made(self, answers: np.ndarray, name: str) -> np.ndarray:
        """What a unit of an input in each step does at the end, (steps,), by answers (steps + 1, states)."""
        return np.einsum("ns,ns->n", answers[1:], self.push[name][: len(answers) - 1]) * self.step

    def hook(self, ahead: float) -> np.ndarray:
        """Read the height of the hook, ``ahead`` of the reference point, m: a path that climbs lifts it."""
        height = self.state(z=1.0)
        if "pitch" in self.states:
            return height + self.state(pitch=ahead)
        return height + ahead * self.output("path")

    def responses(self, first: np.ndarray, pushes: np.ndarray) -> np.ndarray:
        """States at every step, (steps, states, cases), from first states (states, cases).

        ``pushes`` is what the inputs do to the states a second, (steps, states, cases).
        """
        return run(self.transition, first, pushes * self.step)


def along(approach: Approach, flown: dict[str, np.ndarray], *, hold: int) -> Along:
    """Make the model along a pass.

    Args:
        approach: the aircraft on the commanded path.
        flown: ``vx``, ``vz``, ``air_x``, ``air_z`` (m/s, in the frame of the trim), ``pitch`` and ``nose``,
            which is the angle of attack (rad), ``power``, ``lift`` over mass (m/s^2), as flown, (n,) each.
        hold: ``prediction.ALPHA`` or ``prediction.ELEVATOR``.
    """
    held = hold == prediction.ALPHA
    linear = approach.alpha_hold if held else approach.elevator_hold
    states, inputs = _UPRIGHT[hold], ("nose", "air_x", "air_z")
    known = ("vx", "vz", "air_x", "air_z", "power", "nose" if held else "pitch")
    count = flown["vx"].size
    # slopes change slowly: they are worked out now and then, and straight between
    at = np.unique(np.append(np.arange(0, count, round(_APART / approach.step)), count - 1))
    slopes = prediction.linear_along(
        approach.model,
        approach.trim,
        {name: flown[name][at] for name in known},
        names=(*states[1:], *inputs),
        hold=hold,
    )[:, [linear.states.index(name) for name in states]]
    z, vx, vz = (states.index(name) for name in ("z", "vx", "vz"))
    a = np.zeros((at.size, len(states), len(states)))
    a[..., 1:] = slopes[..., : len(states) - 1]
    # height counts from the commanded path where the jet is
    a[:, z] = 0.0
    a[:, z, vz], a[:, z, vx] = 1.0, np.tan(-approach.trim.path)
    b = slopes[..., len(states) - 1 :]
    b[:, z] = 0.0
    between = _Between(at, count)
    pushes = between(b)
    pitch = 0.5 * (flown["pitch"] + approach.trim.pitch)
    power, lift = np.zeros((2, count, len(states)))
    power[:, vx], power[:, vz] = STANDARD_GRAVITY * np.cos(pitch), STANDARD_GRAVITY * np.sin(pitch)
    lift[:, vz] = flown["lift"]
    return Along(
        approach.step,
        linear,
        states,
        between(_transitions(a, approach.step)),
        {**{name: pushes[..., k] for k, name in enumerate(inputs)}, "power": power, "lift": lift},
    )


class _Between:
    """Straight lines between samples ``at`` (ascending, from 0 to count - 1) of ``count``."""

    def __init__(self, at: np.ndarray, count: int):
        row = np.arange(count)
        self.low = np.clip(np.searchsorted(at, row, side="right") - 1, 0, max(at.size - 2, 0))
        self.share = (row - at[self.low]) / np.diff(at)[self.low]

    def __call__(self, values: np.ndarray) -> np.ndarray:
        low = values[self.low]
        return low + self.share[:, None, None] * (values[self.low + 1] - low)


def _transitions(a: np.ndarray, step: float) -> np.ndarray:
    """exp(a step) of each, (n, states, states), by its series: the step is short against every mode."""
    term = np.broadcast_to(np.eye(a.shape[-1]), a.shape)
    out = term.copy()
    for k in range(1, 6):
        term = term @ a * (step / k)
        out += term
    return out
