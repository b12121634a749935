"""What each cause cost at the ramp: start, power, nose, bank, air and deck, over time.

A cause's contribution is what it did to the hook's height at the ramp with all other commands as
recorded and nothing correcting the height afterwards: angle of attack held for power, nose and
bank, elevator held for air. The reference is on-speed flight down the commanded path with the
power that holds it. What these leave of the height at the ramp is told as unexplained.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from deckward.explanation.approach import Approach, approach
from deckward.explanation.model import Contribution
from deckward.explanation.view import STEP, View
from deckward.foundation import angles
from deckward.foundation.statistics import median
from deckward.passes.model import Pass
from deckward.scoring.windows import waved_off_in_the_air

CAUSES = ("start", "power", "nose", "bank", "air", "deck")
#: s of one stretch that is told, and the longest time before the ramp that is looked at; chosen by us
STRETCH, LONGEST = 0.5, 30.0
#: s before the ramp from which a wave-off changes nothing there that matters; chosen by us
UNFELT = 1.0
#: one standard deviation of a contribution, as a share of it: own tables, a usual jet's, power inferred
_SHARE, _USUAL_SHARE, _INFERRED_SHARE = 0.10, 0.20, 0.30
#: how well the model flies what was flown in a second: m, m/s along, m/s up; chosen by us
_FLOWN_SPREAD = (0.5, 0.5, 0.4)
#: what is known of the first state (m, m/s, m/s), of constant errors of thrust and lift over
#: weight, and of the gains of power and nose, one standard deviation; chosen by us
_FIRST_SPREAD = (0.3, 0.4, 0.3)
_THRUST_ERROR, _LIFT_ERROR = 0.04, 0.05
#: drag over weight of a radian of sideslip, how far jets differ in it, and how far one differs
#: from its own table; chosen by us
_SLIP_DRAG, _SLIP_SPREAD, _OWN_SLIP_SPREAD = 0.25, 0.15, 0.03
_OWN_GAIN, _USUAL_GAIN, _NOSE_GAIN = 0.10, 0.25, 0.08
#: gusts across over gusts up
_ACROSS_TO_UP = 4.0
#: s by which nose and bank follow the hand that moves them; common practice, no source
NOSE_LAG, BANK_LAG = 0.3, 0.4
#: s by which the sideslip of a bank follows it: a part of the yaw mode's period; common practice, no source
SLIP_LAG = 1.0


@dataclass(frozen=True, eq=False)
class Fit:
    """With what the model flies what was flown.

    Gains of power and nose, constant errors of thrust and lift over weight, the drag over
    weight of a radian of sideslip, the first state. ``height_rms`` is how far the model's
    height is from the recorded one, m.
    """

    power_gain: float
    nose_gain: float
    thrust: float
    lift: float
    slip_drag: float
    first: np.ndarray
    height_rms: float


@dataclass(frozen=True, eq=False)
class Split:
    """The hook's height at the ramp, split; ``(n,)`` by sample, m each, on ``time``.

    ``parts`` maps power, nose, bank, air and deck to what each step made; ``start`` is what
    the first state would have made alone; ``deviation`` is all of it, against the commanded
    height over a still deck.
    """

    time: np.ndarray
    start: float
    parts: dict[str, np.ndarray]
    deviation: float
    own_tables: bool
    power_recorded: bool
    fit: Fit

    @property
    def unexplained(self) -> float:
        """What the causes leave, m."""
        return self.deviation - self.start - sum(float(part.sum()) for part in self.parts.values())

    def between(self, cause: str, start: float, end: float) -> float:
        """What a cause made between two times, m."""
        if cause == "start":
            return self.start if start <= self.time[0] else 0.0
        return float(np.diff(self.until(cause, np.array([start, end])))[0])

    def until(self, cause: str, when: np.ndarray) -> np.ndarray:
        """What a cause but the start made up to times (n,), m."""
        total = np.concatenate([[0.0], np.cumsum(self.parts[cause])])
        return np.interp(when, np.append(self.time, self.time[-1] + STEP), total)


def split(view: View) -> Split | None:
    """Split the hook's height at the ramp, None where the recording or the pass does not allow it."""
    flown = view.flown
    ramp = flown.ramp
    if ramp is None or flown.groove is None or _waved_off_before(flown, ramp.time):
        return None
    first = max(flown.groove.start, ramp.time - LONGEST, float(view.time[0]))
    steps = int((ramp.time - first) / STEP)
    if steps < 60:
        return None
    rows = np.searchsorted(view.time, ramp.time) - steps + np.arange(steps)
    rows = rows[(rows >= 0) & (rows < view.time.size)]
    flight = Flight(view, rows)
    if flight.model is None:
        return None
    return flight.split(ramp.hook_to_ramp)


def _waved_off_before(flown: Pass, ramp: float) -> bool:
    """Whether a wave-off had begun early enough to be felt at the ramp."""
    wave_off = flown.wave_off
    return wave_off is not None and waved_off_in_the_air(flown) and wave_off.start < ramp - UNFELT


class Flight:
    """The recorded part of a pass as changes from the commanded approach; ``rows``: samples of its view."""

    def __init__(self, view: View, rows: np.ndarray):
        self.view, self.rows = view, rows
        flown = view.flown
        self.site, self.profile = flown.site, flown.aircraft
        self.airspeed = view.even(flown.series.true_airspeed)[rows]
        self.closure, self.sink = view.closure[rows], view.sink[rows]
        self.attack = view.even(flown.series.angle_of_attack_error)[rows]
        self.model = self._model()

    def _model(self) -> Approach | None:
        ok = np.isfinite(self.airspeed) & np.isfinite(self.attack) & np.isfinite(self.closure)
        if ok.sum() < 0.8 * ok.size:
            return None
        for name in ("airspeed", "closure", "sink", "attack"):
            values = getattr(self, name)
            known = np.isfinite(values)
            setattr(self, name, np.interp(np.arange(ok.size), np.flatnonzero(known), values[known]))
        self.airspeed = np.maximum(self.airspeed, 20.0)
        return approach(
            self.profile,
            true_airspeed=self._on_speed_airspeed(),
            wind_along=float(median(self.airspeed - self.closure + self.detour)),
            path=-self.site.lens.basic_angle,
            step=STEP,
        )

    def _on_speed_airspeed(self) -> float:
        """Airspeed that would carry it on speed, from what carried it at the angles it flew, m/s."""
        no_lift = _no_lift(self.profile)
        lift = 1.0 + self.attack / (self.profile.on_speed - no_lift)
        return float(median(self.airspeed * np.sqrt(np.clip(lift, 0.3, 2.0))))

    @property
    def heave(self) -> np.ndarray:
        """Height of the ramp point over its mean, m."""
        return self.view.even(self.view.flown.series.deck_heave)[self.rows]

    def hook_offset(self) -> tuple[float, float]:
        """Hook point ahead of and above the reference point at on-speed attitude, m."""
        x, _, z = self.profile.hook
        pitch = self.view.flown.on_speed_pitch
        return x * np.cos(pitch) + z * np.sin(pitch), x * np.sin(pitch) - z * np.cos(pitch)

    def height_error(self) -> np.ndarray:
        """Reference point over the path that is commanded on a still deck, m."""
        ahead, up = self.hook_offset()
        site, slope = self.site, np.tan(self.site.lens.basic_angle)
        height = self.view.even(self.view.flown.series.height)[self.rows] + self.heave
        distance = self.view.range[self.rows]
        return height + up - (site.lens.hook_target + distance - ahead) * slope

    @cached_property
    def heading(self) -> np.ndarray | None:
        """Nose against the centreline, rad, + right; None where headings are not on record."""
        recorded = self.view.flown.recorded
        heading = self.view.even(np.unwrap(self.view.flown.series.heading))[self.rows]
        if recorded is None or not np.isfinite(heading).all():
            return None
        ship = recorded.ship
        known = np.isfinite(ship["heading"])
        course = np.interp(self.view.time[self.rows], ship.time[known], angles.unwrap(ship["heading"][known]))
        return np.asarray(angles.difference(heading, course - self.site.angle))

    @cached_property
    def crosswind(self) -> float:
        """Air moving across the centreline, m/s, + to the right: what track and nose show."""
        if self.heading is None:
            return 0.0
        across = self.view.side_rate[self.rows]
        drift = across - self.airspeed * np.sin(self.heading + self._nose_off)
        return float(median(drift[np.isfinite(drift)]))

    @cached_property
    def _nose_off(self) -> np.ndarray:
        """Course against heading with no sideslip, rad: a bank turns the angle of attack sideways."""
        pitch, roll = self.view.pitch[self.rows], self.view.roll[self.rows]
        return -np.arcsin(np.clip(np.tan(roll) * np.sin(pitch - self.climb) / np.cos(self.climb), -0.5, 0.5))

    @cached_property
    def climb(self) -> np.ndarray:
        """Climb angle over the sea, rad, of the way through the air."""
        return np.arcsin(np.clip(-self.sink / self.airspeed, -0.5, 0.5))

    @cached_property
    def course(self) -> np.ndarray:
        """Course through the air against the centreline, rad, + right."""
        across = np.nan_to_num(self.view.side_rate[self.rows]) - self.crosswind
        return np.arcsin(np.clip(across / self.airspeed, -0.5, 0.5))

    @cached_property
    def sideslip(self) -> np.ndarray:
        """Sideslip, rad, + from the right, against its median."""
        if self.heading is None:
            return np.zeros(self.rows.size)
        pitch, roll = self.view.pitch[self.rows], self.view.roll[self.rows]
        off, climb = self.course - self.heading, self.climb
        level = np.cos(climb) * (np.cos(off) * np.sin(roll) * np.sin(pitch) + np.sin(off) * np.cos(roll))
        return np.arcsin(np.clip(level - np.sin(climb) * np.sin(roll) * np.cos(pitch), -0.5, 0.5))

    @cached_property
    def slip_size(self) -> np.ndarray:
        """Size of the sideslip, rad, over what gusts across make of it anyway, and leave no trace.

        They are as much larger than those up as published for free air (MIL-F-8785C 3.8.3: 4.24 to
        1.06 ft/s, from memory).
        """
        usual = 1.48 * float(median(np.abs(self.air[1])))
        across = _ACROSS_TO_UP * usual / float(median(self.airspeed))
        return np.hypot(self.sideslip, across) - across

    @cached_property
    def air(self) -> tuple[np.ndarray, np.ndarray]:
        """Gusts along and up, m/s, against their median: what airspeed and angle of attack show."""
        view, series = self.view, self.view.flown.series
        none = np.zeros(self.rows.size)
        along = up = none
        attack = self.attack + self.profile.on_speed
        pitch, roll, slip = view.pitch[self.rows], view.roll[self.rows], self.sideslip
        climb = np.arcsin(
            np.cos(attack) * np.cos(slip) * np.sin(pitch)
            - (np.sin(slip) * np.sin(roll) + np.sin(attack) * np.cos(slip) * np.cos(roll)) * np.cos(pitch)
        )
        if series.origin.get("angle_of_attack") == "measured":
            up = -self.sink - self.airspeed * np.sin(climb)
            up = up - median(up)
        if series.origin.get("true_airspeed") == "measured":
            # off the centreline the same airspeed closes less
            along = self.closure - self.detour - self.airspeed * np.cos(climb)
            along = along - median(along)
        return along, up

    def thrust(self) -> tuple[np.ndarray, bool]:
        """Thrust over weight by sample, but for a constant, and whether a hand on record made it."""
        power = self.view.power
        if not power.recorded:
            return power.felt[self.rows], False
        return power.thrust[self.rows], True

    @cached_property
    def straight(self) -> float:
        """Course through the air that keeps to the centreline, rad."""
        return float(np.arcsin(np.clip(-self.crosswind / median(self.airspeed), -0.5, 0.5)))

    @cached_property
    def detour(self) -> np.ndarray:
        """Closure lost or won, m/s, by turning off that course."""
        return self.airspeed * (np.cos(self.course) - np.cos(self.straight))

    def sideways(self) -> tuple[np.ndarray, float]:
        """What the detour cost, laid on the turns that made it, (n,) m, and what of it was there at first.

        A turn counts by what it added to those before it.
        """
        later = np.cumsum(self.airspeed[::-1])[::-1] * STEP * np.tan(self.site.lens.basic_angle)
        ahead = np.cos(self.course)
        turned = later * np.diff(ahead, prepend=ahead[0])
        return turned, float(later[0] * (ahead[0] - np.cos(self.straight)))

    def tilted(self) -> tuple[np.ndarray, float]:
        """What a tilted deck made of the line-up at the ramp: laid on the way across, (n,) m, and from the start.

        Off the centreline the deck lies higher or lower than at the ramp point.
        """
        view = self.view
        offset = np.nan_to_num(view.offset[self.rows])
        roll = view.even(view.flown.series.deck_roll)[self.rows]
        tilt = float(np.tan(roll[-1])) if np.isfinite(roll[-1]) else 0.0
        return tilt * np.diff(offset, append=offset[-1]), tilt * float(offset[0])

    def split(self, hook_to_ramp: float) -> Split:
        """Fit the approach to what was flown, run its adjoint back from the ramp, lay the causes on it."""
        model, view = self.model, self.view
        assert model is not None
        n = self.rows.size
        ahead, _ = self.hook_offset()
        hands, stick = model.alpha_hold, model.elevator_hold
        along, up = self.air
        lift = np.cos(view.roll[self.rows]) - 1.0
        thrust, recorded = self.thrust()
        thrust = thrust - median(thrust)
        fit = self.fit(thrust, along, up, lift, recorded)
        steady, needed = model.steady_with(fit.lift)
        by_hand, by_air = model.answers(hands, n, ahead), model.answers(stick, n, ahead)
        nose = fit.nose_gain * (self.attack - model.alpha_from_air(along, up))
        power_push = by_hand[1:] @ model.input(hands, "power") * STEP
        nose_push = by_hand[1:] @ model.input(hands, "nose") * STEP
        sideways, sideways_at_first = self.sideways()
        tilted, tilted_at_first = self.tilted()
        parts = {
            "power": _by_hand(
                power_push, fit.power_gain * thrust + fit.thrust - needed, view.power.follows[self.rows]
            ),
            "nose": _by_hand(nose_push, nose, STEP / (NOSE_LAG + STEP)),
            "bank": _by_hand(
                by_hand[1:] @ model.input(hands, "lift") * STEP, lift, STEP / (BANK_LAG + STEP)
            )
            - _by_hand(
                power_push, fit.slip_drag * self.slip_size, STEP / (BANK_LAG + SLIP_LAG + STEP)
            )
            + sideways
            + tilted,
            "air": by_air[1:] @ model.input(stick, "air_x") * STEP * along
            + by_air[1:] @ model.input(stick, "air_z") * STEP * up,
            "deck": -np.diff(self.heave, append=self.heave[-1]),
        }
        # the attitude it arrives with
        parts["nose"][-1] += ahead * float(nose[-5:].mean())
        start = float(by_hand[0] @ (fit.first - steady)) - float(self.heave[0])
        start += sideways_at_first + tilted_at_first
        nominal = self.site.lens.hook_target * float(np.tan(self.site.lens.basic_angle))
        return Split(
            time=view.time[self.rows],
            start=start,
            parts=parts,
            deviation=hook_to_ramp - nominal,
            own_tables=model.own,
            power_recorded=recorded,
            fit=fit,
        )

    def fit(self, thrust, along, up, lift, recorded: bool) -> Fit:
        """Find first state, constant errors and gains with which the model flies what was flown."""
        model = self.model
        assert model is not None
        linear, n, trim = model.alpha_hold, self.rows.size, model.trim
        states = len(linear.states)

        def push(name, values):
            return np.outer(values, model.input(linear, name))

        one, slope = np.ones(n), np.tan(self.site.lens.basic_angle)
        cases = np.stack(
            [
                push("nose", self.attack) + push("lift", lift) + push("air_x", along) + push("air_z", up)
                + push("power", thrust) + np.outer(slope * self.detour, model.state(linear, z=1.0)),
                push("power", thrust), push("nose", self.attack), push("power", one), push("lift", one),
                push("power", -self.slip_size),
                0 * push("lift", one), 0 * push("lift", one), 0 * push("lift", one),
            ],
            axis=-1,
        )  # fmt: skip
        first = np.zeros((states, cases.shape[-1]))
        for column, name in enumerate(("z", "vx", "vz"), start=6):
            first[:, column] = model.state(linear, **{name: 1.0})
        flown = model.responses(linear, first, cases)
        index = [linear.states.index(name) for name in ("z", "vx", "vz")]
        measured = np.stack(
            [self.height_error(), self.closure - self.detour - trim.state.vx, -self.sink - trim.state.vz],
            axis=-1,
        )
        spread = np.array(_FLOWN_SPREAD)
        known = flown[:, index, 0]
        basis = flown[:, index, 1:]
        worth = np.sqrt(STEP) / spread
        rows = (basis * worth[:, None]).reshape(-1, basis.shape[-1])
        aims = ((measured - known) * worth).reshape(-1)
        at_first = measured[:10].mean(axis=0)
        gain = _OWN_GAIN if model.own and recorded else _USUAL_GAIN
        slip, slip_spread = _SLIP_DRAG, _SLIP_SPREAD
        if model.slip_drag is not None:
            slip, slip_spread = model.slip_drag, _OWN_SLIP_SPREAD
        priors = np.array([gain, _NOSE_GAIN, _THRUST_ERROR, _LIFT_ERROR, slip_spread, *_FIRST_SPREAD])
        wanted = np.concatenate([np.zeros(4), [slip], at_first])
        rows = np.concatenate([rows, np.diag(1.0 / priors)])
        aims = np.concatenate([aims, wanted / priors])
        # few unknowns, each with a prior: the normal equations are well enough conditioned
        found = np.linalg.solve(rows.T @ rows, rows.T @ aims)
        left = measured - known - basis @ found
        return Fit(
            power_gain=1.0 + float(found[0]),
            nose_gain=1.0 + float(found[1]),
            thrust=float(found[2]),
            lift=float(found[3]),
            slip_drag=float(found[4]),
            first=model.state(linear, z=found[5], vx=found[6], vz=found[7]),
            height_rms=float(np.sqrt(np.mean(left[:, 0] ** 2))),
        )


def _no_lift(profile) -> float:
    """Angle of attack of no lift, rad, by the aircraft's tables or a usual jet's."""
    table = profile.tables.get("aerodynamics")
    if not table:
        return profile.on_speed - 0.28
    alpha, lift = np.radians(table["angle_of_attack_deg"]), np.array(table["lift_coefficient"])
    on = float(np.interp(profile.on_speed, alpha, lift))
    near = np.interp([profile.on_speed - 0.03, profile.on_speed + 0.03], alpha, lift)
    return float(profile.on_speed - on / max((near[1] - near[0]) / 0.06, 1.0))


def _by_hand(push: np.ndarray, answer: np.ndarray, follows: float | np.ndarray) -> np.ndarray:
    """Lay what a lagging answer did on the moments of the hand that it follows; the sum stays.

    Args:
        push: what a unit of the answer does at the ramp, by step, (n,).
        answer: the answer, (n,); it makes up the share
        follows: of its gap to the hand in each step, a number or (n,).
    """
    left = 1.0 - np.broadcast_to(follows, push.shape)
    weight, later = 0.0, []
    for done, stays in zip(push[::-1].tolist(), np.append(left[1:], 0.0)[::-1].tolist(), strict=True):
        weight = done + stays * weight
        later.append(weight)
    # what led to the first answer lies before the first sample, and stays with it
    hand = np.concatenate([answer[:1], answer[1:] - left[1:] * answer[:-1]])
    return np.array(later[::-1]) * hand


def contributions(found: Split) -> tuple[Contribution, ...]:
    """Tell a split in stretches of half a second, in order of time."""
    share = _SHARE if found.own_tables else _USUAL_SHARE
    out = [
        Contribution(
            "start", float(found.time[0]), float(found.time[0]), found.start, share * abs(found.start)
        )
    ]
    edges = np.arange(found.time[0], found.time[-1] + STRETCH, STRETCH)
    edges[-1] = min(edges[-1], found.time[-1] + STEP)
    between = list(pairwise(edges.tolist()))
    made = {cause: np.diff(found.until(cause, edges)).tolist() for cause in CAUSES[1:]}
    for k, (start, end) in enumerate(between):
        for cause in CAUSES[1:]:
            height = made[cause][k]
            of = share if cause != "power" or found.power_recorded else _INFERRED_SHARE
            sigma = 0.01 if cause == "deck" else of * abs(height) + 0.01
            out.append(Contribution(cause, start, end, height, sigma))
    return tuple(out)
