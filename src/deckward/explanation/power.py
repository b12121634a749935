"""Power of a pass as a force: how much more thrust there is than the path asks for, over weight.

Where a throttle (or engine speed) was recorded, its effect is found on the pass itself, led by
what the aircraft's engine table says; where none was, the energy rate stands for it.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.aircraft.model import Profile
from deckward.explanation import recursion
from deckward.foundation.statistics import median
from deckward.foundation.units import STANDARD_GRAVITY

#: thrust over weight by throttle of a usual jet on approach, which gives more the farther it is open,
#: and how far jets differ in its size, as a share; common practice, no source
USUAL_THROTTLE, USUAL_THRUST = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0), (0.04, 0.08, 0.18, 0.32, 0.49, 0.68)
GAIN_SPREAD = 0.22
#: the same of engine speed, whose range begins at idle; common practice, no source
IDLE_SPEED = 0.6
SPOOL_GAIN, SPOOL_SPREAD = 1.4, 0.4
#: s from throttle to thrust; from memory, 0.5 to 1.5 s for modern engines
LAG = 0.8
#: lags that are held against a pass, s, and how far jets differ in them, as a logarithm; chosen by us
_LAGS, _LAG_SPREAD = (0.2, 0.4, 0.8, 1.3, 2.0), 0.6
#: standard deviation of a single second's energy rate over airspeed, in gusty air
_GUST = 0.03
#: s that the energy rate is averaged over
_FELT_OVER = 1.0
#: drag of a usual jet over its weight, on speed and for each radian slower; common practice, no source
_USUAL_DRAG, _USUAL_DRAG_SLOPE = 0.225, 0.60
#: what an inferred power is off by for what tables leave out, for having none, and as a share of how
#: much it moved, rms; chosen by us, on 36 flights of two jets
_TABLE_OFF, _USUAL_OFF, _MOVED_OFF = 0.005, 0.007, 0.06
#: gusts change drag, too: off by so much for each m/s rms of them along the way, over the airspeed
_GUST_DRAG = 2.0
#: parts that an engine's rates are tabulated in
_GRID = 400


class Power(Struct, frozen=True, eq=False):
    """Thrust over weight beyond what holds the commanded path at constant speed, (n,).

    ``commanded`` is what the throttle asks for (NaN where not recorded), ``felt`` what the
    energy rate shows, later by the engine's lag; with the air in it where the throttle was recorded, and
    as :func:`infer` tells it where not. ``thrust`` is what the
    engine gives by its table, not yet held against this pass; ``follows`` is the share of the
    gap between them that it makes up in a step. ``sigma`` is one standard deviation of
    :attr:`best`.
    """

    commanded: np.ndarray
    felt: np.ndarray
    thrust: np.ndarray
    follows: np.ndarray
    sigma: float
    recorded: bool

    @property
    def best(self) -> np.ndarray:
        """What the throttle asks for; where it was not recorded, what the energy rate shows."""
        return self.commanded if self.recorded else self.felt


def lagged(values: np.ndarray, dt: float, seconds: float) -> np.ndarray:
    """Pass a signal through a first-order lag, from its first value on."""
    return values[0] + recursion.lagged(values - values[0], dt / (seconds + dt))


class Engine(Struct, frozen=True, eq=False):
    """Thrust over weight by power (``share`` rising), and how fast power can follow, 1/s, at each."""

    share: np.ndarray
    thrust: np.ndarray
    rise: np.ndarray | None
    fall: np.ndarray | None

    def answer(self, throttle: np.ndarray, dt: float) -> np.ndarray:
        """Power (n,) that follows a throttle, at the engine's rates, else through a usual lag."""
        if self.rise is None or self.fall is None:
            return lagged(throttle, dt, LAG)
        # each step's limits go by the power it has got to: one after the other, on an even grid
        grid = np.linspace(self.share[0], self.share[-1], _GRID + 1)
        rise = (np.interp(grid, self.share, self.rise) * dt).tolist()
        fall = (np.interp(grid, self.share, self.fall) * dt).tolist()
        low, per = float(self.share[0]), _GRID / float(self.share[-1] - self.share[0])
        power, out = float(throttle[0]), []
        for wanted in throttle.tolist():
            at = min(max(int((power - low) * per), 0), _GRID)
            power += min(max(wanted - power, -fall[at]), rise[at])
            out.append(power)
        return np.array(out)

    def follows(self, throttle: np.ndarray, power: np.ndarray, dt: float) -> np.ndarray:
        """Share (n,) of the gap between power and throttle that is made up in each step."""
        if self.rise is None or self.fall is None:
            return np.full(power.size, dt / (LAG + dt))
        before = np.concatenate([power[:1], power[:-1]])
        gap = throttle - before
        open_ = np.abs(gap) > 1e-9
        return np.where(open_, np.clip((power - before) / np.where(open_, gap, 1.0), 0.0, 1.0), 1.0)

    def over_weight(self, power: np.ndarray) -> np.ndarray:
        """Thrust over weight at powers."""
        return np.interp(power, self.share, self.thrust)


def engine_of(profile: Profile, mass: float | None) -> Engine | None:
    """Return the engine of an aircraft's tables at a mass, None without them."""
    table, masses = profile.tables.get("engine"), profile.tables.get("mass") or {}
    weight = (mass or masses.get("reference_kg") or 0.0) * STANDARD_GRAVITY
    if not table or weight <= 0.0:
        return None
    rates = [
        None if table.get(key) is None else np.asarray(table[key]) for key in ("rise_per_s", "fall_per_s")
    ]
    return Engine(np.asarray(table["power"]), np.asarray(table["thrust_n"]) / weight, *rates)


def _felt_so(answer: np.ndarray, dt: float) -> np.ndarray:
    """Average an engine's answer over a second, as the energy rate is."""
    width = np.ones(max(round(_FELT_OVER / dt), 1))
    return np.convolve(answer, width, "same") / np.convolve(np.ones(answer.size), width, "same")


def _lag(asked: np.ndarray, felt: np.ndarray, use: np.ndarray, dt: float) -> float:
    """Lag, s, with which the energy rate follows what was asked for: the likeliest of a few."""
    if use.sum() < round(5.0 / dt) or np.ptp(asked[use]) < 0.02:
        return LAG
    found = []
    for lag in _LAGS:
        mean = _felt_so(lagged(asked, dt, lag), dt)[use]
        x, y = mean - mean.mean(), felt[use] - felt[use].mean()
        left = y - x * float(x @ y) / max(float(x @ x), 1e-9)
        # samples a second apart are as good as independent
        misfit = dt * x.size * np.log(float(left @ left) / x.size + 1e-8)
        found.append(misfit + (np.log(lag / LAG) / _LAG_SPREAD) ** 2)
    return _LAGS[int(np.argmin(found))]


def infer(
    sink: np.ndarray,
    speed: np.ndarray,
    airspeed: np.ndarray,
    attack: np.ndarray,
    asked: np.ndarray,
    profile: Profile,
    rows: np.ndarray,
    *,
    dt: float,
    speed_sigma: float,
    gusts: float,
) -> Power:
    """Work power out of how the aircraft moved, where none was recorded.

    The speed against the ship changes by what pushes, not by the air that it flies into; drag by
    angle of attack and airspeed is taken off by the aircraft's tables, else a usual jet's.

    Args:
        sink: m/s, (n,), as all that follow.
        speed: against the ship, along the way, m/s.
        airspeed: m/s.
        attack: angle of attack beyond on-speed without gusts, rad.
        asked: climb rate of the commanded path, m/s.
        profile: the aircraft.
        rows: samples that show how fast it is usually flown: in the groove, in the air.
        dt: s between samples.
        speed_sigma: one standard deviation of ``speed``, m/s.
        gusts: along the way, m/s rms; 0 where nothing shows them.
    """
    known = rows if rows.any() else np.isfinite(airspeed)
    usual = float(median(airspeed[known])) if known.any() else np.nan
    drag, own = _drag(profile, np.nan_to_num(attack))
    on = float(_drag(profile, np.zeros(1))[0][0])
    climb = airspeed * np.gradient(speed, dt) / STANDARD_GRAVITY - sink - asked
    felt = climb / np.maximum(airspeed, 20.0) + drag * (airspeed / usual) ** 2 - on
    sigma = np.hypot(_TABLE_OFF if own else _USUAL_OFF, np.sqrt(2.0) * speed_sigma / STANDARD_GRAVITY)
    moved = felt[rows] - median(felt[rows]) if rows.any() else np.zeros(1)
    sigma = float(np.linalg.norm([sigma, _GUST_DRAG * on * gusts / usual, _MOVED_OFF * np.std(moved)]))
    nothing = np.full_like(felt, np.nan)
    return Power(nothing, felt, nothing, np.full_like(felt, dt / (LAG + dt)), sigma, False)


def _drag(profile: Profile, attack: np.ndarray) -> tuple[np.ndarray, bool]:
    """Return drag over on-speed lift at angles beyond on-speed, rad, and whether by own tables."""
    table = profile.tables.get("aerodynamics")
    if not table:
        return _USUAL_DRAG + _USUAL_DRAG_SLOPE * attack, False
    alpha = np.radians(table["angle_of_attack_deg"])
    lift = float(np.interp(profile.on_speed, alpha, table["lift_coefficient"]))
    return np.interp(profile.on_speed + attack, alpha, table["drag_coefficient"]) / lift, True


def measure(
    power: np.ndarray, felt: np.ndarray, rows: np.ndarray, *, dt: float, engine: Engine | None, spool: bool
) -> Power:
    """Find what the recorded power does on this pass.

    Args:
        power: as recorded, 0 to 1, (n,), NaN where not.
        felt: (energy rate - that of the commanded path) / airspeed, averaged over a second, (n,).
        rows: samples to learn from: in the groove, in the air.
        dt: s between samples.
        engine: by the aircraft's table, None where there is none.
        spool: whether ``power`` is engine speed.
    """
    known = np.isfinite(power)
    if known.sum() < 10 or not known[rows].any():
        nothing = np.full_like(felt, np.nan)
        return Power(nothing, felt, nothing, np.full_like(felt, dt / (LAG + dt)), _GUST, False)
    filled = np.interp(np.arange(power.size), np.flatnonzero(known), power[known])
    follows = np.full_like(felt, 1.0 if spool else dt / (LAG + dt))
    if engine is not None and not spool:
        given = engine.answer(filled, dt)
        asked, answer, spread = engine.over_weight(filled), engine.over_weight(given), 0.12
        follows = engine.follows(filled, given, dt)
    elif spool:
        asked, spread = SPOOL_GAIN * filled, SPOOL_SPREAD / SPOOL_GAIN
        answer = asked
    else:
        asked, spread = np.interp(filled, USUAL_THROTTLE, USUAL_THRUST), GAIN_SPREAD
        lag = _lag(asked, felt, rows & np.isfinite(felt), dt)
        answer = lagged(asked, dt, lag)
        follows = np.full_like(felt, dt / (lag + dt))
    use = rows & np.isfinite(felt)
    if use.sum() < 20:
        return Power(asked - float(median(asked[known])), felt, answer, follows, 0.05, True)
    x, y = _felt_so(answer, dt)[use], felt[use]
    # samples a second apart are as good as independent
    worth = dt / 1.0 / _GUST**2
    centre = float(median(x))
    a = np.array([[worth * np.sum((x - centre) ** 2) + 1.0 / spread**2, worth * np.sum(x - centre)],
                  [worth * np.sum(x - centre), worth * x.size]])  # fmt: skip
    b = np.array([worth * np.sum((x - centre) * y) + 1.0 / spread**2, worth * np.sum(y)])
    scale, offset = np.linalg.solve(a, b)
    scale = float(np.clip(scale, 0.4, 2.0))
    sigma = float(np.sqrt(np.linalg.inv(a)[1, 1]))
    return Power(scale * (asked - centre) + float(offset), felt, answer, follows, sigma, True)
