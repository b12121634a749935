"""Scenes of passes for the tests of prediction."""

from __future__ import annotations

import numpy as np

from deckward import aircraft, site
from deckward.environment import airwake, sea
from deckward.prediction import State, model_of, trim
from deckward.prediction.scene import Officer, Pilot
from deckward.prediction.setting import Conditions, scene_of, start_on_path

DT = 0.02
STEADY_HANDS = Pilot(eye_noise=0.0, hand_noise=0.0, side_noise=0.0, alpha_noise=0.0, hook_skip=0.0)
NOBODY = Officer(active=0.0)


def made(name="stormcote", *, ship="wintermere", pilot=None, officer=NOBODY, dt=DT, ranges=(1200.0,), **day):
    """A scene, and states on its path at ranges; a day without air or motion unless told."""
    model, place = model_of(aircraft.load(name)), site.load(ship)
    conditions = Conditions(**({"gusts": "none"} | day))
    scene = scene_of(model, place, conditions, pilot=pilot or STEADY_HANDS, officer=officer, dt=dt)
    steady = trim(model, path=-place.lens.basic_angle, air=conditions.air)
    starts = [start_on_path(scene, steady, x) for x in ranges]
    return scene, State(*(np.array(column, dtype=float) for column in zip(*starts, strict=True)))


def rough_day():
    """Gusts, airwake and a moving deck."""
    motion = sea.deck_motion(sea.sea_state(6), sea.Hull(), speed=8.0, heading=np.pi, seed=1)
    return {
        "gusts": "free-air",
        "airwake": airwake.load(),
        "motion": sea.scaled(motion, pitch=0.012, heave=0.9),
    }
