"""Flying on: the approach model of an aircraft, and what it says.

Frames, signs and units: a level frame that moves uniformly (with the ship, or the earth): x
forward, y to starboard, z up; SI and radians; heading + to starboard of x. In the ship's
frame the air's velocity is the wind over deck.

The model
    ``model_of(profile, mass=)`` makes a :class:`Model` of an aircraft's tables.
    ``step(model, state, controls, air, dt, configuration=)`` is the next state.
    ``trim(model, path=, air=, alpha= | true_airspeed=)`` is steady flight.
    ``linear(model, trim, hold=)`` is the linear model about it, ``linear_along`` one along a flight.
    ``approach_figures(model)`` holds it against the published approach criteria.

Passes by chance
    ``Conditions`` is the day, ``Pilot`` and ``Officer`` the hands and the eye on them.
    ``study(model, site, conditions)`` flies many passes and sums up what became of them.
    ``scene_of(model, site, conditions, dt=)`` with ``odds_from(scene, states)``,
    ``wave_off_clears(scene, states)`` and ``last_safe_wave_off(scene, states)`` asks from given
    moments on; ``states`` holds arrays, in the approach frame of the ship's steady motion.
    The same seed tells the same on any number of threads, compiled (with numba) or not.
    ``prediction.fitting.fit(passes)`` finds whose hands flew recorded passes.

What only the figures and the passes by chance need is imported when it is first asked for.
"""

from __future__ import annotations

from importlib import import_module

from deckward.prediction.flight import ALPHA, ELEVATOR, PITCH
from deckward.prediction.linear import Linear, linear
from deckward.prediction.linear import along as linear_along
from deckward.prediction.model import (
    LANDING,
    STILL_AIR,
    Air,
    Configuration,
    Controls,
    Model,
    State,
    angle_of_attack,
    density_at,
    model_of,
    step,
    true_airspeed,
)
from deckward.prediction.trim import Trim, elevator_to_hold, on_speed_airspeed, trim, with_mass

TYPE_CHECKING = False  # type checkers read it as true; the real one would import typing
if TYPE_CHECKING:
    from deckward.prediction.figures import (
        Figure,
        SpeedCurve,
        WaveOffLoss,
        approach_figures,
        level_acceleration,
        path_slope,
        speed_curve,
        transfer_height,
        wave_off_loss,
    )
    from deckward.prediction.odds import (
        STEP,
        Odds,
        Scatter,
        Share,
        Study,
        last_safe_wave_off,
        odds_from,
        share,
        study,
        wave_off_clears,
    )
    from deckward.prediction.scene import NIGHT, Officer, Pilot, Scene
    from deckward.prediction.setting import Conditions, scene_of, start_on_path

__all__ = [
    "ALPHA",
    "ELEVATOR",
    "LANDING",
    "NIGHT",
    "PITCH",
    "STEP",
    "STILL_AIR",
    "Air",
    "Conditions",
    "Configuration",
    "Controls",
    "Figure",
    "Linear",
    "Model",
    "Odds",
    "Officer",
    "Pilot",
    "Scatter",
    "Scene",
    "Share",
    "SpeedCurve",
    "State",
    "Study",
    "Trim",
    "WaveOffLoss",
    "angle_of_attack",
    "approach_figures",
    "density_at",
    "elevator_to_hold",
    "last_safe_wave_off",
    "level_acceleration",
    "linear",
    "linear_along",
    "model_of",
    "odds_from",
    "on_speed_airspeed",
    "path_slope",
    "scene_of",
    "share",
    "speed_curve",
    "start_on_path",
    "step",
    "study",
    "transfer_height",
    "trim",
    "true_airspeed",
    "wave_off_clears",
    "wave_off_loss",
    "with_mass",
]

_MODULES = {
    "figures": (
        "Figure",
        "SpeedCurve",
        "WaveOffLoss",
        "approach_figures",
        "level_acceleration",
        "path_slope",
        "speed_curve",
        "transfer_height",
        "wave_off_loss",
    ),
    "odds": (
        "STEP",
        "Odds",
        "Scatter",
        "Share",
        "Study",
        "last_safe_wave_off",
        "odds_from",
        "share",
        "study",
        "wave_off_clears",
    ),
    "scene": ("NIGHT", "Officer", "Pilot", "Scene"),
    "setting": ("Conditions", "scene_of", "start_on_path"),
}
_HOME = {name: module for module, names in _MODULES.items() for name in names}


def __getattr__(name: str):
    if name not in _HOME:
        raise AttributeError(f"module 'deckward.prediction' has no attribute {name!r}")
    return getattr(import_module(f"deckward.prediction.{_HOME[name]}"), name)


def __dir__() -> list[str]:
    return sorted(__all__)
