"""How good an aircraft is on the approach: figures, each against its published criterion.

The criteria were written for choosing an approach speed. Their numbers are recalled from
publications and not read again, but for the flight-path limits, which were.
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from deckward.foundation.units import FOOT, KNOT, from_si
from deckward.prediction.flight import ALPHA
from deckward.prediction.model import LANDING, Configuration, Controls, Model, step
from deckward.prediction.trim import Trim, trim

MEMORY = "from memory: the Navy's approach-speed criteria"
PATH_SOURCE = "published: MIL-F-8785C 3.2.1.3, Level 1 (as given in MIL-STD-1797A App. A)"
#: slope of flight path against airspeed, rad per m/s
LEVEL_1 = math.radians(0.06) / KNOT
TRANSFER_HEIGHT, TRANSFER_TIME = 50.0 * FOOT, 5.0
ACCELERATION, ACCELERATION_TIME = 5.0 * FOOT, 2.5
WAVE_OFF_LOSS, WAVE_OFF_PATH, REACTION = 30.0 * FOOT, math.radians(-4.0), 0.7
_DT = 0.01


class Figure(Struct, frozen=True):
    """One figure: SI ``value`` (``None`` where the profile cannot tell) against ``limit``.

    ``code`` is stable; ``text`` says both in the trade's units; ``met`` is None without a value.
    """

    code: str
    title: str
    value: float | None
    limit: float
    met: bool | None
    text: str
    source: str


class SpeedCurve(Struct, frozen=True):
    """Level flight over airspeed, shape (n,): m/s, rad, N, and path slope in rad per m/s."""

    true_airspeed: np.ndarray
    alpha: np.ndarray
    thrust: np.ndarray
    path_slope: np.ndarray


class WaveOffLoss(Struct, frozen=True):
    """Height lost (m) from the moment of the signal, and when the lowest point is reached, s."""

    height: float
    seconds: float


def path_slope(model: Model, at: Trim) -> float:
    """Return how the steady path angle changes with airspeed, throttle fixed, rad per m/s.

    Negative is the front side; positive the back side, where slower flight sinks more.
    """
    speed, path, dv, dg = at.true_airspeed, at.air_path, 0.1, 1e-3
    still = at.air._replace(x=0.0, y=0.0, z=0.0)

    def thrust(speed: float, path: float) -> float:
        return trim(model, path=path, air=still, true_airspeed=speed, configuration=at.configuration).thrust

    by_speed = (thrust(speed + dv, path) - thrust(speed - dv, path)) / (2 * dv)
    by_path = (thrust(speed, path + dg) - thrust(speed, path - dg)) / (2 * dg)
    return -by_speed / by_path


def speed_curve(model: Model, speeds, *, configuration: Configuration = LANDING) -> SpeedCurve:
    """Return thrust required and path stability in level flight at airspeeds (n,), m/s."""
    flights = [trim(model, path=0.0, true_airspeed=float(v), configuration=configuration) for v in speeds]
    return SpeedCurve(
        np.array([f.true_airspeed for f in flights]),
        np.array([f.alpha for f in flights]),
        np.array([f.thrust for f in flights]),
        np.array([path_slope(model, f) for f in flights]),
    )


def wave_off_loss(
    model: Model,
    start: Trim,
    *,
    reaction: float = REACTION,
    alpha: float | None = None,
    configuration: Configuration | None = None,
) -> WaveOffLoss:
    """Return the height lost in a wave-off: full power and the nose up to ``alpha`` after a reaction.

    ``reaction`` in seconds; ``alpha`` in rad, the upper end of the on-speed band if left out
    (common practice, no source). ``configuration`` is what is out from then on (speed brake in,
    if left out).
    """
    after = configuration or start.configuration._replace(speed_brake=0.0)
    nose = model.profile.band[1] if alpha is None else alpha
    state, time, lowest = start.state, 0.0, start.state.z
    when = 0.0
    while time < 15.0:
        waving = time >= reaction
        controls = Controls(1.0, nose, 0.0, ALPHA) if waving else start.controls
        state = step(
            model, state, controls, start.air, _DT, configuration=after if waving else start.configuration
        )
        time += _DT
        if state.z < lowest:
            lowest, when = float(state.z), time
        elif waving and time > when + 1.0:
            break
    return WaveOffLoss(start.state.z - lowest, when)


def transfer_height(model: Model, start: Trim, *, seconds: float = TRANSFER_TIME) -> float | None:
    """Return how far the path is raised in ``seconds`` by the nose alone, m, throttle fixed.

    Half of the load factor between on-speed and the greatest lift is used. None where the
    profile's tables end before lift does.
    """
    if not model.stalls:
        return None
    on, top = (float(model.lift_and_drag(a, power=start.power)[0]) for a in (start.alpha, model.alpha_top))
    grid = np.linspace(start.alpha, model.alpha_top, 400)
    lift = model.lift_and_drag(grid, power=start.power)[0]
    nose = float(np.interp(0.5 * (on + top), lift, grid))
    state = start.state
    for _ in range(round(seconds / _DT)):
        controls = Controls(start.power, nose, 0.0, ALPHA)
        state = step(model, state, controls, start.air, _DT, configuration=start.configuration)
    return float(state.z - start.state.z - math.tan(start.path) * (state.x - start.state.x))


def level_acceleration(model: Model, start: Trim, *, seconds: float = ACCELERATION_TIME) -> float:
    """Return the acceleration in level flight ``seconds`` after the lever goes to full, m/s^2."""
    level = trim(model, path=0.0, alpha=start.alpha, configuration=start.configuration)
    state = level.state._replace(power=start.power, thrust=start.thrust)
    for _ in range(round(seconds / _DT)):
        state = step(model, state, Controls(1.0, start.alpha, 0.0, ALPHA), dt=_DT)
    brake_in = start.configuration._replace(speed_brake=0.0)
    drag = model.lift_and_drag(start.alpha, configuration=brake_in, power=state.power)[1]
    c = model.coefficients
    pressure = 0.5 * level.air.density * level.true_airspeed**2 * c.area
    return float((state.thrust * math.cos(start.alpha) - pressure * drag) / c.mass)


def approach_figures(model: Model, *, path: float = math.radians(-3.5)) -> tuple[Figure, ...]:
    """Return the aircraft's approach figures on speed in still air, each against its criterion."""
    on_path = trim(model, path=path)
    slope = path_slope(model, on_path)
    raised = transfer_height(model, on_path)
    quicker = level_acceleration(model, on_path)
    steep = trim(model, path=WAVE_OFF_PATH)
    loss = wave_off_loss(model, steep)
    return (
        Figure(
            "path-stability",
            "Flight path against airspeed, throttle fixed",
            slope,
            LEVEL_1,
            slope <= LEVEL_1,
            f"{math.degrees(slope) * KNOT:+.3f} deg/kt ({'back' if slope > 0 else 'front'} side); "
            "at most +0.060",
            PATH_SOURCE,
        ),
        Figure(
            "glide-slope-transfer",
            "Path raised by the nose alone in 5 s",
            raised,
            TRANSFER_HEIGHT,
            None if raised is None else raised >= TRANSFER_HEIGHT,
            "not known: the tables end before the greatest lift"
            if raised is None
            else f"{from_si(raised, 'ft'):.0f} ft; at least 50 ft, with half the load factor to spare",
            MEMORY,
        ),
        Figure(
            "level-acceleration",
            "Acceleration in level flight 2.5 s after full power",
            quicker,
            ACCELERATION,
            quicker >= ACCELERATION,
            f"{from_si(quicker, 'ft'):.1f} ft/s2; at least 5",
            MEMORY,
        ),
        Figure(
            "wave-off-loss",
            "Height lost in a wave-off from a 4-degree path, 0.7 s of reaction",
            loss.height,
            WAVE_OFF_LOSS,
            loss.height <= WAVE_OFF_LOSS,
            f"{from_si(loss.height, 'ft'):.0f} ft; at most 30 ft",
            MEMORY,
        ),
    )
