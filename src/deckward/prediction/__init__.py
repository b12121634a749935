"""Flying on: the approach model of an aircraft, and what it says.

Frames, signs and units: a level frame that moves uniformly (with the ship, or the earth): x
forward, y to starboard, z up; SI and radians; heading + to starboard of x. In the ship's
frame the air's velocity is the wind over deck.

The model
    ``model_of(profile, mass=)`` makes a :class:`Model` of an aircraft's tables.
    ``step(model, state, controls, air, dt, configuration=)`` is the next state.
    ``trim(model, path=, air=, alpha= | true_airspeed=)`` is steady flight.
    ``linear(model, trim, hold=)`` is the linear model about it.
    ``approach_figures(model)`` holds it against the published approach criteria.
"""

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
from deckward.prediction.flight import ALPHA, ELEVATOR, PITCH
from deckward.prediction.linear import Linear, linear
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

__all__ = [
    "ALPHA",
    "ELEVATOR",
    "LANDING",
    "PITCH",
    "STILL_AIR",
    "Air",
    "Configuration",
    "Controls",
    "Figure",
    "Linear",
    "Model",
    "SpeedCurve",
    "State",
    "Trim",
    "WaveOffLoss",
    "angle_of_attack",
    "approach_figures",
    "density_at",
    "elevator_to_hold",
    "level_acceleration",
    "linear",
    "model_of",
    "on_speed_airspeed",
    "path_slope",
    "speed_curve",
    "step",
    "transfer_height",
    "trim",
    "true_airspeed",
    "wave_off_loss",
    "with_mass",
]
