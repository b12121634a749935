"""Off the bow: the stroke, the least airspeed at its end, and what the jet does then.

The least end airspeed is found by flying the jet off the bow with the aircraft's own model:
it may settle so far, has to accelerate in level flight so much, and keeps so far from the
stall. The nose comes up from its stance on the catapult, steadily, to the angle of attack
that leaves the stall margin. Ground effect, the deck's motion and drag from trimming out a
dead engine are left out.

Frame: level, moving with the air; heights from where the reference point is as the stroke
ends.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.foundation.units import DEGREE, FOOT, KNOT, STANDARD_GRAVITY, from_si, to_si
from deckward.planning.solving import root
from deckward.prediction import ALPHA, STILL_AIR, Air, Configuration, Controls, Model, State, step

#: from memory: 10 ft of settle off the bow, 0.04 g in level flight
MOST_SETTLE = 10.0 * FOOT
LEAST_ACCELERATION = 0.04 * STANDARD_GRAVITY
#: airspeed over that of the stall with this power: from memory, as on approach
STALL_MARGIN = 1.10
#: how fast the nose comes up off the bow: our own choice
ROTATION = 8.0 * DEGREE
#: how long the jet is followed, and in what steps, s
_SECONDS, _STEP = 8.0, 0.04
#: angles of attack that level flight is worked out at
_ANGLES = 400
#: end airspeeds that are tried, as shares of the on-speed one in level flight
_TRIED = np.linspace(0.6, 1.35, 76)


class FlyOff(Struct, frozen=True):
    """The jet off the bow, (n,) each from the end of the stroke, read-only.

    ``height`` over where the stroke ended; ``settle`` how far it sinks at most, at ``lowest``
    seconds. Where it still sinks at the end, ``climbs`` is False.
    """

    end_airspeed: float
    time: np.ndarray
    ahead: np.ndarray
    height: np.ndarray
    airspeed: np.ndarray
    angle_of_attack: np.ndarray
    settle: float
    lowest: float
    climbs: bool

    def __post_init__(self) -> None:
        for values in (self.time, self.ahead, self.height, self.airspeed, self.angle_of_attack):
            values.setflags(write=False)


class Bound(Struct, frozen=True):
    """A least true airspeed at the end of the stroke, and what asks for it."""

    what: str
    airspeed: float


class Power(Struct, frozen=True):
    """The power of a launch: its name, and thrust at full lever over military thrust of all engines."""

    name: str
    share: float


def closed_settle(deficit: float, growth: float) -> tuple[float, float]:
    """Give the greatest settle, m, and when, where the load factor is 1 - ``deficit`` + ``growth`` t.

    Speed held. Derived: the sink is greatest where lift first holds the weight, and gone when
    as much has been gained after as was lost before.
    """
    return 2.0 / 3.0 * STANDARD_GRAVITY * deficit**3 / growth**2, 2.0 * deficit / growth


def powered(model: Model, power: Power) -> Model:
    """Return the model with the launch's thrust at full lever."""
    c = model.coefficients
    return replace(model, coefficients=c._replace(thrust=c.thrust * power.share))


def power_for(model: Model, mass: float, *, engines_out: float = 0.0) -> Power:
    """Return the power that the aircraft file launches this mass with; ``engines_out`` as a share of all."""
    launch, engine = model.profile.tables.get("launch", {}), model.profile.tables["engine"]
    lit = launch.get("afterburner_above_kg")
    if lit is not None and mass >= lit and "afterburner_n" in engine:
        name, share = "afterburner", engine["afterburner_n"] / engine["thrust_n"][-1]
    else:
        name, share = "military", 1.0
    return Power(name, share * (1.0 - engines_out))


def stance(model: Model) -> float:
    """Return the pitch attitude on the catapult: told in the file, else from the wheels' places."""
    told = model.profile.tables.get("launch", {}).get("stance_deg")
    if told is not None:
        return to_si(told, "deg")
    nose, main = model.profile.nose_wheel, model.profile.main_wheels
    return float(np.arctan2(nose[2] - main[2], nose[0] - main[0]))


def fly_off(
    model: Model, *, end_airspeeds: Sequence[float], air: Air = STILL_AIR, rotation: float = ROTATION
) -> tuple[FlyOff, ...]:
    """Fly launches off the bow at full power, one for each airspeed at the end of the stroke."""
    time, states = _fly(model, np.asarray(end_airspeeds, dtype=float), air, rotation)
    speed, climb = np.hypot(states.vx, states.vz), np.arctan2(states.vz, states.vx)
    out = []
    for k, end_airspeed in enumerate(end_airspeeds):
        height = states.z[:, k].copy()
        low = int(np.argmin(height))
        out.append(
            FlyOff(
                end_airspeed=float(end_airspeed),
                time=time.copy(),
                ahead=states.x[:, k].copy(),
                height=height,
                airspeed=speed[:, k].copy(),
                angle_of_attack=(states.pitch - climb)[:, k].copy(),
                settle=abs(float(height[low])),
                lowest=float(time[low]),
                climbs=low < time.size - 1,
            )
        )
    return tuple(out)


def bounds(
    model: Model, *, air: Air = STILL_AIR, rotation: float = ROTATION,
    settle: float = MOST_SETTLE, acceleration: float = LEAST_ACCELERATION, stall: float = STALL_MARGIN,
) -> tuple[Bound, ...]:  # fmt: skip
    """Find the least airspeeds that settle, level acceleration and the stall each allow, greatest first.

    Infinite where no airspeed that is tried keeps it.
    """
    tried = _TRIED * level_airspeed(model, model.on_speed, air)
    _, states = _fly(model, tried, air, rotation)
    sunk = -states.z.min(axis=0)
    gained = level_acceleration(model, tried, air)
    found = [
        Bound(f"settle of {from_si(settle, 'ft'):.0f} ft", _least(tried, settle - sunk)),
        Bound(
            f"{acceleration / STANDARD_GRAVITY:.2f} g in level flight", _least(tried, gained - acceleration)
        ),
        Bound(f"{stall:.2f} of the stall", stall * level_airspeed(model, model.alpha_top, air)),
    ]
    return tuple(sorted(found, key=lambda bound: -bound.airspeed))


def level_airspeed(model: Model, alpha: float, air: Air = STILL_AIR) -> float:
    """Return the true airspeed at which lift and full thrust hold the weight at an angle of attack."""
    lift, _ = model.lift_and_drag(alpha, configuration=configuration(model))
    up = model.mass * STANDARD_GRAVITY - _full_thrust(model) * np.sin(alpha)
    return float(np.sqrt(2.0 * up / (air.density * model.coefficients.area * lift)))


def level_acceleration(model: Model, airspeed, air: Air = STILL_AIR):
    """Return the acceleration in level flight at full power; -g where it cannot fly level."""
    airspeed = np.asarray(airspeed, dtype=float)
    alpha = np.linspace(model.alpha_range[0], model.alpha_top, _ANGLES)
    lift, drag = model.lift_and_drag(alpha, configuration=configuration(model))
    thrust, weight = _full_thrust(model), model.mass * STANDARD_GRAVITY
    # the airspeed that each angle of attack flies level at falls as the angle grows
    area = 0.5 * air.density * model.coefficients.area
    level = np.sqrt((weight - thrust * np.sin(alpha)) / (area * lift))
    ahead = (thrust * np.cos(alpha) - area * level**2 * drag) / model.mass
    gained = np.interp(airspeed, level[::-1], ahead[::-1])
    return np.where(airspeed < level[-1], -STANDARD_GRAVITY, gained)


def configuration(model: Model) -> Configuration:
    """Return gear and flaps of the launch: the part of the approach's flaps that the file tells, else all."""
    return Configuration(flaps=model.profile.tables.get("launch", {}).get("flaps_part", 1.0))


def fly_away_alpha(model: Model, margin: float = STALL_MARGIN) -> float:
    """Return the angle of attack whose airspeed in level flight is ``margin`` times that of the stall."""
    there = configuration(model)
    most, _ = model.lift_and_drag(model.alpha_top, configuration=there)

    def spare(alpha: float) -> float:
        return float(model.lift_and_drag(alpha, configuration=there)[0] - most / margin**2)

    low = model.alpha_range[0]
    return low if spare(low) > 0.0 else root(spare, low, model.alpha_top)


def aileron_for(model: Model, *, asymmetry: float, airspeed: float, air: Air = STILL_AIR) -> float | None:
    """Return the aileron, rad, that holds up an asymmetry, kg m; None where the file does not tell."""
    aero = model.profile.tables["aerodynamics"]
    per = (aero.get("derivatives") or {}).get("roll_per_aileron")
    if not per:
        return None
    pressure = 0.5 * air.density * airspeed**2
    return float(
        abs(asymmetry) * STANDARD_GRAVITY / (pressure * model.coefficients.area * aero["span_m"] * per)
    )


def from_table(model: Model, name: str) -> float | None:
    """Return the launch table's ``trim_deg`` or ``end_airspeed_kt`` at the mass, in SI; None without one.

    Beyond the table's masses it stays as at its ends.
    """
    table = model.profile.tables.get("launch")
    if table is None:
        return None
    value = float(np.interp(model.mass, table["mass_kg"], table[name]))
    return value * (KNOT if name.endswith("_kt") else DEGREE)


def _full_thrust(model: Model) -> float:
    return float(model.coefficients.thrust[-1])


def _least(speeds: np.ndarray, spare: np.ndarray) -> float:
    """Return the first speed at which nothing is missing, straight between two, else infinity."""
    enough = np.flatnonzero(spare >= 0.0)
    if enough.size == 0:
        return float("inf")
    k = int(enough[0])
    return float(speeds[0] if k == 0 else np.interp(0.0, spare[k - 1 : k + 1], speeds[k - 1 : k + 1]))


def _fly(model: Model, speeds: np.ndarray, air: Air, rotation: float) -> tuple[np.ndarray, State]:
    """Fly launches at end airspeeds (m,); returns times (n,) and states (n, m)."""
    pitch, full, there = stance(model), model.coefficients.full_power, configuration(model)
    most = fly_away_alpha(model)
    still = np.zeros_like(speeds)
    state = State(
        still, still, still, speeds, still, still, still + pitch, still, still, still, still,
        still + full, still + _full_thrust(model),
    )  # fmt: skip
    time = np.arange(0.0, _SECONDS + _STEP / 2, _STEP)
    rows = [state]
    for t in time[:-1]:
        nose = min(pitch + rotation * t, most)
        state = step(model, state, Controls(full, nose, 0.0, ALPHA), air, _STEP, configuration=there)
        rows.append(state)
    return time, State(*(np.array(values) for values in zip(*rows, strict=True)))
