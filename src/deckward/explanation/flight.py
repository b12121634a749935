"""A recorded pass as changes from the commanded approach, and with what the model flies it."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from msgspec import Struct

from deckward import prediction
from deckward.explanation.along import Along, along
from deckward.explanation.approach import Approach, approach
from deckward.explanation.view import STEP, View
from deckward.foundation import angles
from deckward.foundation.statistics import median
from deckward.foundation.units import STANDARD_GRAVITY

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


class Fit(Struct, frozen=True, eq=False):
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
            wind_along=float(median(self.airspeed * np.cos(self.climb) - self.closure + self.detour)),
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
        return coordinated(self.view.pitch[self.rows], self.view.roll[self.rows], self.climb)

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
        return sideslip(pitch, roll, self.climb, self.course - self.heading)

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

    def sideways(self, steps: int) -> tuple[np.ndarray, float]:
        """What the detour cost after so many steps, laid on the turns that made it, and what of it was there.

        A turn counts by what it added to those before it; (steps,) and a number, m.
        """
        later = np.cumsum(self.airspeed[:steps][::-1])[::-1] * STEP * np.tan(self.site.lens.basic_angle)
        ahead = np.cos(self.course[:steps])
        turned = later * np.diff(ahead, prepend=ahead[0])
        return turned, float(later[0] * (ahead[0] - np.cos(self.straight)))

    def tilted(self, steps: int) -> tuple[np.ndarray, float]:
        """What a tilted deck made of the line-up, m: on the way across, (steps,), and at first.

        Off the centreline the deck lies higher or lower than at the ramp point.
        """
        view = self.view
        offset = np.nan_to_num(view.offset[self.rows[:steps]])
        roll = view.even(view.flown.series.deck_roll)[self.rows[:steps]]
        tilt = float(np.tan(roll[-1])) if np.isfinite(roll[-1]) else 0.0
        return tilt * np.diff(offset, append=offset[-1]), tilt * float(offset[0])

    @cached_property
    def lift(self) -> np.ndarray:
        """Lift over mass as flown, m/s^2."""
        approach = self.model
        assert approach is not None
        trim, model = approach.trim, approach.model
        share = model.lift_and_drag(trim.alpha + self.attack)[0] / model.lift_and_drag(trim.alpha)[0]
        return STANDARD_GRAVITY * share * (self.airspeed / trim.true_airspeed) ** 2

    @property
    def side_force(self) -> np.ndarray:
        """Side force over mass of a radian of sideslip from the right, m/s^2."""
        approach = self.model
        assert approach is not None
        c, pressure = approach.model.coefficients, 0.5 * approach.trim.air.density * self.airspeed**2
        return pressure * c.area * c.side_per_sideslip / c.mass

    @cached_property
    def hands(self) -> Along:
        """The model along the pass with the angle of attack held."""
        assert self.model is not None
        return along(self.model, self._flown, hold=prediction.ALPHA)

    @cached_property
    def stick(self) -> Along:
        """The model along the pass with the elevator held."""
        assert self.model is not None
        return along(self.model, self._flown, hold=prediction.ELEVATOR)

    @cached_property
    def _flown(self) -> dict[str, np.ndarray]:
        """States and inputs as flown, in the frame of the trim."""
        approach = self.model
        assert approach is not None
        gust, up = self.air
        trim, model = approach.trim, approach.model
        weight = model.mass * STANDARD_GRAVITY
        thrust, _ = self.thrust()
        thrust = trim.thrust + weight * (thrust - median(thrust))
        table = model.coefficients.thrust
        alpha = trim.alpha + self.attack
        climb = np.arcsin(np.clip((-self.sink - up) / self.airspeed, -0.5, 0.5))
        return {
            "vx": self.closure - self.detour,
            "vz": -self.sink,
            "air_x": trim.air.x + gust,
            "air_z": trim.air.z + up,
            "power": model.power_of(np.clip(thrust, float(table[0]), float(table[-1]))),
            "nose": alpha,
            "pitch": climb + alpha,
            "lift": self.lift,
        }

    def fit(self, thrust, along, up, lift, recorded: bool) -> Fit:
        """Find first state, constant errors and gains with which the model flies what was flown."""
        model = self.model
        assert model is not None
        hands, n, trim = self.hands, self.rows.size, model.trim
        states = len(hands.states)

        def push(name, values):
            return np.asarray(values)[:, None] * hands.push[name]

        one, slope = np.ones(n), np.tan(self.site.lens.basic_angle)
        cases = np.stack(
            [
                push("nose", self.attack) + push("lift", lift) + push("air_x", along) + push("air_z", up)
                + push("power", thrust) + np.outer(slope * self.detour, hands.state(z=1.0)),
                push("power", thrust), push("nose", self.attack), push("power", one), push("lift", one),
                push("power", -self.slip_size),
                0 * push("lift", one), 0 * push("lift", one), 0 * push("lift", one),
            ],
            axis=-1,
        )  # fmt: skip
        first = np.zeros((states, cases.shape[-1]))
        for column, name in enumerate(("z", "vx", "vz"), start=6):
            first[:, column] = hands.state(**{name: 1.0})
        flown = hands.responses(first, cases)
        index = [hands.states.index(name) for name in ("z", "vx", "vz")]
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
        # a straight line through the first half second, at its beginning
        at_first = np.polyfit(np.arange(10.0), measured[:10], 1)[1]
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
            first=hands.state(z=found[5], vx=found[6], vz=found[7]),
            height_rms=float(np.sqrt(np.mean(left[:, 0] ** 2))),
        )


def coordinated(pitch: np.ndarray, roll: np.ndarray, climb: np.ndarray) -> np.ndarray:
    """Course against heading, rad, + right, of a jet without sideslip: a bank turns its nose sideways.

    Attitude 3-2-1; ``climb`` is the climb angle of the way through the air, rad; (n,) each.
    """
    ahead, across = np.cos(roll), np.sin(roll) * np.sin(pitch)
    below = np.tan(climb) * np.sin(roll) * np.cos(pitch) / np.hypot(ahead, across)
    return np.arcsin(np.clip(below, -0.5, 0.5)) - np.arctan2(across, ahead)


def sideslip(pitch: np.ndarray, roll: np.ndarray, climb: np.ndarray, off: np.ndarray) -> np.ndarray:
    """Sideslip, rad, + from the right, of a jet whose course is ``off`` (rad, + right) its heading, (n,)."""
    level = np.cos(climb) * (np.cos(off) * np.sin(roll) * np.sin(pitch) + np.sin(off) * np.cos(roll))
    return np.arcsin(np.clip(level - np.sin(climb) * np.sin(roll) * np.cos(pitch), -0.5, 0.5))


def _no_lift(profile) -> float:
    """Angle of attack of no lift, rad, by the aircraft's tables or a usual jet's."""
    table = profile.tables.get("aerodynamics")
    if not table:
        return profile.on_speed - 0.28
    alpha, lift = np.radians(table["angle_of_attack_deg"]), np.array(table["lift_coefficient"])
    on = float(np.interp(profile.on_speed, alpha, lift))
    near = np.interp([profile.on_speed - 0.03, profile.on_speed + 0.03], alpha, lift)
    return float(profile.on_speed - on / max((near[1] - near[0]) / 0.06, 1.0))
