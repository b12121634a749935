"""The landing signal officer of a study judges the jet, not the deck's own movement.

Source of what he does: common practice, no source. What a sea may do to the wave-offs is bounded from
memory: by day 90 to 97 passes in 100 board, so that wave-offs and bolters together are few.
"""

from __future__ import annotations

import numpy as np
import pytest

from deckward import aircraft, site
from deckward.environment import airwake, sea
from deckward.foundation.units import FOOT
from deckward.prediction import Conditions, State, model_of, study
from deckward.prediction.ensemble import OUTCOMES, fly_passes
from deckward.prediction.scene import Motion, Officer
from support.predicted import DT, made

ONLOOKER = Officer(acts=0.0)


def flown(motion: Motion, *, below=0.0, officer=ONLOOKER):
    """Fly one steady pass from 150 m; ``below`` (m) the path."""
    scene, states = made(officer=officer, ranges=(150.0,))
    scene = scene._replace(motion=motion)
    states = State(*states)._replace(z=states.z - below)
    return fly_passes(scene, states, seed=1, dt=DT, begins=np.zeros(1)), scene, states


def swing(scene, states, height, phase):
    """A pitching deck whose ramp is ``height`` m up ``phase`` s after the pass began, and back in 10 s."""
    time = np.arange(0.0, 60.0, 0.1)
    pitch = height / scene.deck.ramp_x * np.cos(2.0 * np.pi * (time - phase) / 10.0)
    return Motion(np.stack([0.0 * pitch, pitch, 0.0 * pitch]), 10.0)


def test_a_deck_that_tilts_far_behind_the_ramp_is_no_reason_to_call():
    """The deck's plane goes 2.6 m up 150 m behind a ramp that is itself below its rest."""
    seen, *_ = flown(Motion(np.tile([[1.5], [0.0174], [0.0]], (1, 2)), 1.0, (1.5, 0.0174, 0.0)))
    assert seen.called[0] == 0 and OUTCOMES[seen.outcome[0]] in ("trap", "bolter")


@pytest.mark.parametrize(("height", "ends_low"), [(3.5, True), (-3.5, False)])
def test_what_counts_is_where_the_ramp_will_be(height, ends_low):
    """A jet 2.6 m low crosses the ramp about 2 s later: up then is a call, up now and down then is none."""
    _, scene, states = flown(Motion(np.zeros((3, 2)), 1.0))
    crossing = 150.0 / float(states.vx[0])
    seen, *_ = flown(swing(scene, states, height, crossing), below=2.6)
    assert (seen.ramp_height[0] < 1.0) == ends_low
    assert (seen.called[0] == 1) == ends_low


def test_who_foresees_nothing_takes_the_ramp_where_it_rests():
    _, scene, states = flown(Motion(np.zeros((3, 2)), 1.0))
    motion = swing(scene, states, 3.5, 150.0 / float(states.vx[0]))
    seen, *_ = flown(motion, below=2.6, officer=ONLOOKER._replace(foresees=0.01))
    assert seen.called[0] == 0 and seen.ramp_height[0] < 1.0


@pytest.fixture(scope="module")
def seas():
    ship, jet = site.load("wintermere"), model_of(aircraft.load("sandlark"))
    out = {}
    for state in (0, 6):
        motion = (
            sea.deck_motion(sea.sea_state(state), sea.Hull(), speed=7.7, heading=np.pi, seed=3)
            if state
            else sea.still_deck()
        )
        day = Conditions(airwake=airwake.load(), motion=motion)
        out[state] = tuple(
            study(jet, ship, day, officer=officer, count=800, seed=3) for officer in (ONLOOKER, Officer())
        )
    return out


def test_a_rough_sea_costs_few_more_wave_offs(seas):
    """It was 8 points more; with nobody calling, hardly more passes in that sea end badly."""
    calm, rough = (seas[state][1].shares for state in (0, 6))
    assert rough["wave-off"].value < calm["wave-off"].value + 0.03
    assert rough["trap"].value > 0.8


def test_who_is_called_in_a_rough_sea_would_have_come_low(seas):
    """Called passes come lower over the ramp than the rest; who comes very low is called far more often."""
    found = seas[6][0].passes
    called, met = found.called > 0, np.isfinite(found.ramp_height)
    assert (
        np.median(found.ramp_height[called & met]) < 7.0 * FOOT < np.median(found.ramp_height[~called & met])
    )
    very_low = met & (found.ramp_height < 2.0 * FOOT)
    assert very_low.sum() > 3
    assert np.mean(called[very_low]) > 5.0 * np.mean(called[met & ~very_low])
    assert seas[6][1].shares["ramp strike"].value <= seas[6][0].shares["ramp strike"].value
