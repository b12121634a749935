"""What if: a recorded pass flown again by the approach model with one thing changed.

The model first flies the pass as it was, from its own inputs: recorded angle of attack, bank and
power, the gusts they show, and the constant errors that were fitted. What it misses of the recorded
height is told. What a change would have done is the difference of two such flights, laid on the
pass as it was flown.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from deckward import prediction
from deckward.errors import InputError
from deckward.explanation.contributions import LONGEST
from deckward.explanation.flight import Flight
from deckward.explanation.view import STEP, View
from deckward.foundation.statistics import median
from deckward.foundation.units import NAUTICAL_MILE, STANDARD_GRAVITY
from deckward.passes.model import Pass
from deckward.scoring.rulebook import Rulebook
from deckward.scoring.windows import waved_off_in_the_air

#: the model must miss the recorded height by less than this, rms and at the ramp, m; chosen by us
ENOUGH = 1.0
#: s that are flown on past the end of what was recorded in the air
_ON = 7.0
#: steps of thrust over weight and angle of attack, rad, by which the model is settled on a pass,
#: and what it weighs, m^2, to go one step away from what was fitted before
_THRUST_STEP, _ALPHA_STEP, _WORTH = 0.01, 0.003, 0.5
#: what can be changed: its value where none is given, and the least and the most; s, s, -, nm
CHANGES: dict[str, tuple[float, float, float]] = {
    "hold-power": (3.0, 0.5, 15.0),
    "sooner": (1.0, 0.1, 5.0),
    "on-speed": (0.0, 0.0, 0.0),
    "wave-off": (0.25, 0.02, 1.0),
}


class Change(Struct, frozen=True):
    """One thing done otherwise; the value is s before the ramp, s, nothing, or nm, as in :data:`CHANGES`."""

    name: str
    value: float


class WhatIf(Struct, frozen=True, eq=False):
    """What a change would have made of a pass.

    ``rms`` and ``at_ramp`` are how far the model misses the recorded height, m; where it misses
    too much (``told`` False) nothing else is known. ``hook_to_ramp`` m; ``hook_x`` where the hook
    would have met the deck, ``wire`` the first one there; ``lowest_hook`` its least height above
    the deck where it met none. ``path`` is the hook's (n, 2): deck-frame x and height, m.
    """

    change: Change
    told: bool
    rms: float | None = None
    at_ramp: float | None = None
    hook_to_ramp: float | None = None
    hook_x: float | None = None
    wire: int | None = None
    lowest_hook: float | None = None
    path: np.ndarray | None = None


def change(text: str) -> Change:
    """Read a change as a person writes it: ``hold-power``, ``sooner=1.5``, ``wave-off=0.3``.

    Raises:
        InputError: there is no such change, or its number is out of range.
    """
    name, _, number = text.partition("=")
    if name not in CHANGES:
        raise InputError(
            f"{text!r} is no change.", place="what_if", remedy=f"Choose from {', '.join(CHANGES)}."
        )
    usual, least, most = CHANGES[name]
    try:
        value = float(number) if number else usual
    except ValueError:
        value = float("nan")
    if not least <= value <= most:
        raise InputError(
            f"{text!r}: the number is not from {least:g} to {most:g}.",
            place="what_if",
            remedy=f"Give {name} alone, or a number in that range.",
        )
    return Change(name, value)


def what_if(flown: Pass, rulebook: Rulebook, changes: Sequence[Change]) -> tuple[WhatIf, ...]:
    """Fly a pass again with each change; nothing is told of a pass that the model cannot fly."""
    if not changes:
        return ()
    again = _again(View(flown, rulebook))
    if again is None:
        return tuple(WhatIf(one, False) for one in changes)
    return tuple(again.tell(one) for one in changes)


def _again(view: View) -> _Again | None:
    flown = view.flown
    if flown.ramp is None or flown.groove is None or waved_off_in_the_air(flown):
        return None
    first = max(flown.groove.start, flown.ramp.time - LONGEST, float(view.time[0]))
    rows = np.flatnonzero((view.time >= first) & (view.time < view.until - STEP))
    if rows.size < 60 or rows[-1] * STEP + view.time[0] < flown.ramp.time - STEP:
        return None
    flight = Flight(view, rows)
    return None if flight.model is None else _Again(view, flight, rows)


class _Again:
    """A pass as the model flies it; inputs are (n,), held at their last values past the record."""

    def __init__(self, view: View, flight: Flight, rows: np.ndarray):
        self.view, self.flight = view, flight
        assert flight.model is not None
        self.approach = flight.model
        self.count = rows.size
        along, up = flight.air
        roll = view.roll[rows]
        thrust, recorded = flight.thrust()
        thrust = thrust - median(thrust)
        fit = flight.fit(thrust, along, up, np.cos(roll) - 1.0, recorded)
        linear, trim = self.approach.alpha_hold, self.approach.trim
        vz = linear.states.index("vz")
        more = fit.lift * STANDARD_GRAVITY / linear.b[vz, linear.inputs.index("nose")]
        self.first = fit.first
        self.time = view.time[rows]
        self.ramp_row = int(np.argmin(np.abs(self.time - view.flown.ramp.time)))  # type: ignore[union-attr]
        self.on_speed = trim.alpha + more
        self.alpha = self.on_speed + fit.nose_gain * flight.attack
        weight = self.approach.model.mass * STANDARD_GRAVITY
        self.thrust = trim.thrust + weight * (
            fit.power_gain * thrust + fit.thrust - fit.slip_drag * flight.slip_size
        )
        self.roll, self.along, self.up = roll, along, up
        self.detour = flight.detour
        self.ahead, self.above = flight.hook_offset()
        self.flown_height = flight.height_error()
        self.base = self.fly()
        self._settle(weight)
        miss = self._miss()
        self.rms, self.at_ramp = float(np.sqrt(np.mean(miss**2))), float(miss[self.ramp_row])

    def _miss(self) -> np.ndarray:
        """How far the model's height over the commanded path is from the recorded one, (n,), m."""
        model = self.base[: self.count]
        return model[:, 1] - self.commanded(model[:, 0]) - self.flown_height

    def _settle(self, weight: float) -> None:
        """Fit once more the constant errors of thrust and angle of attack, now to the whole model."""
        thrust, alpha, miss = self.thrust, self.alpha, self._miss()
        effects = []
        for more_thrust, more_alpha in ((_THRUST_STEP * weight, 0.0), (0.0, _ALPHA_STEP)):
            self.thrust, self.alpha = thrust + more_thrust, alpha + more_alpha
            self.base = self.fly()
            effects.append(self._miss() - miss)
        jacobian = np.stack(effects, axis=-1)
        more = np.linalg.solve(jacobian.T @ jacobian + np.eye(2) * _WORTH, -jacobian.T @ miss)
        self.thrust = thrust + more[0] * _THRUST_STEP * weight
        self.alpha = alpha + more[1] * _ALPHA_STEP
        self.on_speed += float(more[1]) * _ALPHA_STEP
        self.base = self.fly()

    def commanded(self, x: np.ndarray) -> np.ndarray:
        """Height of the reference point that the path commands at x (+ past the ramp), m."""
        site = self.view.flown.site
        return (site.lens.hook_target - x - self.ahead) * np.tan(site.lens.basic_angle) - self.above

    def fly(self, changed: Change | None = None) -> np.ndarray:
        """Fly the inputs, one thing changed; x, z (m), climb (rad) and pitch at every step, (n, 4)."""
        step, trim = prediction.step, self.approach.trim
        alpha, thrust, full_from = self._inputs(changed)
        x = -float(self.view.range[np.searchsorted(self.view.time, self.time[0])])
        at = dict(zip(self.flight.hands.states, self.first.tolist(), strict=True))
        state = trim.state._replace(
            x=x, z=float(self.commanded(np.array(x))) + at["z"], vx=trim.closure + at["vx"],
            vz=trim.state.vz + at["vz"],
        )  # fmt: skip
        n = self.count + round(_ON / STEP)
        out = np.empty((n, 4))
        for k in range(n):
            row = min(k, self.count - 1)
            air = trim.air._replace(x=trim.air.x + self.along[row], z=trim.air.z + self.up[row])
            climb = float(np.arctan2(state.vz - air.z, state.vx - air.x))
            pitch = climb + alpha[row] * float(np.cos(self.roll[row]))
            before = pitch if k == 0 else out[k - 1, 3]
            out[k] = state.x, state.z, climb, pitch
            given = {"thrust": float(thrust[row])} if k < full_from else {}
            state = state._replace(
                y=0.0, vy=0.0, heading=0.0, roll=float(self.roll[row]), roll_rate=0.0, pitch=pitch,
                pitch_rate=(pitch - before) / STEP, **given,
            )  # fmt: skip
            if k < full_from:
                power = float(self.approach.model.power_of(np.clip(thrust[row], *self._thrusts)))
                lever = power
                state = state._replace(power=power)
            else:
                lever = float(self.approach.model.coefficients.full_power)
            moved = step(
                self.approach.model,
                state,
                prediction.Controls(lever, float(alpha[row]), float(self.roll[row])),
                air,
                STEP,
            )
            state = moved._replace(x=moved.x + float(self.detour[row]) * STEP)
        return out

    @property
    def _thrusts(self) -> tuple[float, float]:
        table = self.approach.model.coefficients.thrust
        return float(table[0]), float(table[-1])

    def _inputs(self, changed: Change | None) -> tuple[np.ndarray, np.ndarray, float]:
        """Angle of attack and thrust by step, and the step from which the lever is at full."""
        alpha, thrust = self.alpha.copy(), self.thrust.copy()
        if changed is None:
            return alpha, thrust, np.inf
        lead = round(changed.value / STEP)
        if changed.name == "hold-power":
            row = max(self.ramp_row - lead, 20)
            thrust[row:] = thrust[row - 20 : row].mean()
        elif changed.name == "sooner":
            alpha = np.append(alpha[lead:], np.full(lead, alpha[-1]))
            thrust = np.append(thrust[lead:], np.full(lead, thrust[-1]))
        elif changed.name == "on-speed":
            alpha[:] = self.on_speed
        else:
            reach = self.view.range[np.searchsorted(self.view.time, self.time)]
            row = int(np.argmax(reach < changed.value * NAUTICAL_MILE))
            alpha[row:] = self.on_speed
            return alpha, thrust, row
        return alpha, thrust, np.inf

    def tell(self, changed: Change) -> WhatIf:
        """Say what a change would have made."""
        if max(self.rms, abs(self.at_ramp)) > ENOUGH:
            return WhatIf(changed, False, self.rms, self.at_ramp)
        path = self.path(self.fly(changed))
        site = self.view.flown.site
        to_ramp = float(np.interp(0.0, path[:, 0], path[:, 1]))
        over = path[(path[:, 0] >= 0.0) & (path[:, 0] <= site.length)]
        met = np.flatnonzero(over[:, 1] <= 0.0)
        hook_x = float(over[met[0], 0]) if met.size and to_ramp > 0.0 else None
        wire = None
        if site.wires is not None and to_ramp > 0.0:
            low = [
                number
                for number, x in enumerate(site.wires.positions, start=1)
                if (hook_x is not None and x >= hook_x)
                or float(np.interp(x, path[:, 0], path[:, 1])) <= site.wires.height
            ]
            wire = low[0] if low else None
        if met.size:
            path = path[path[:, 0] <= float(over[met[0], 0])]
        return WhatIf(
            changed,
            True,
            self.rms,
            self.at_ramp,
            hook_to_ramp=to_ramp,
            hook_x=hook_x,
            wire=wire,
            lowest_hook=float(over[:, 1].min()) if over.size and not met.size else None,
            path=path,
        )

    def path(self, changed: np.ndarray) -> np.ndarray:
        """The hook's path with the change: what was flown, and the difference of the two flights on it."""
        base = self.base
        x = base[:, 0]
        height = np.interp(x, changed[:, 0], changed[:, 1]) - base[:, 1]
        turned = np.interp(x, changed[:, 0], changed[:, 3]) - base[:, 3]
        series = self.view.flown.series
        inside = (series.time >= self.time[0]) & (np.arange(series.time.size) < series.contact)
        hook = series.hook[inside & np.isfinite(series.hook).all(axis=-1)]
        at = x + self.ahead
        model = base[:, 1] + self.above + self.ahead * (base[:, 3] - self.view.flown.on_speed_pitch)
        past = model + float(hook[-1, 2]) - float(np.interp(hook[-1, 0], at, model))
        flown = np.where(at <= hook[-1, 0], np.interp(at, hook[:, 0], hook[:, 2]), past)
        return np.stack([at, flown + height + self.ahead * turned], axis=-1)
