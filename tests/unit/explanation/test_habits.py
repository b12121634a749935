"""Habits drawn by hand around the bounds of their rules: told beyond them, left alone inside.

The bounds are common practice, no source, as the table of rules says; what is checked is that a habit is
told where it goes beyond the bound that stands there, and is not where one condition of it is missing.
"""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from deckward.explanation import hands, nose, pattern
from deckward.explanation.rules import load
from deckward.explanation.view import STEP, averaged
from deckward.foundation.units import DEGREE, FOOT

TIME = np.arange(0.0, 26.0, STEP)
RAMP = 26.0
BAND = 0.7 * DEGREE


def drawn(*, ball=0.0, power=0.0, slow=0.0, climb=0.0, pitch=5.0, recorded=True):
    """A groove of 26 s that ends at the ramp: ball and slow in deg, power over weight, climb in ft/s."""
    ball, power, slow, climb = (
        np.broadcast_to(v, TIME.shape).astype(float) for v in (ball, power, slow, climb)
    )
    return SimpleNamespace(
        time=TIME,
        groove=np.ones(TIME.size, dtype=bool),
        to_ramp=RAMP - TIME,
        range=55.0 * (RAMP - TIME),
        ball=ball * DEGREE,
        path_rate=climb * FOOT,
        raw_attack=slow * DEGREE,
        attack=averaged(slow * DEGREE, 0.8),
        power=SimpleNamespace(best=power, commanded=power, recorded=recorded),
        aloft=np.ones(TIME.size, dtype=bool),
        until=RAMP,
        ramp_time=RAMP,
        inside=lambda start, end: (start <= TIME) & (end >= TIME),
        pitch=np.broadcast_to(pitch, TIME.shape) * DEGREE,
        sink=3.0 - np.broadcast_to(climb, TIME.shape) * FOOT,
        measured=lambda name: recorded,
        flown=SimpleNamespace(
            aircraft=SimpleNamespace(band=(-BAND, BAND), on_speed=0.0), touchdown=SimpleNamespace(time=RAMP)
        ),
    )


def between(start, end, value):
    """A value from one time to another, nothing else."""
    return np.where((start <= TIME) & (end > TIME), value, 0.0)


def told(code, view):
    """Whether a detector finds its code."""
    detector = {d.code: d for d in (*nose.DETECTORS, *hands.DETECTORS, *pattern.DETECTORS)}[code]
    return any(True for _ in detector.look(view, load()[code]))


@pytest.mark.parametrize(("code", "side"), [("slow-held", 1.0), ("fast-held", -1.0)])
def test_angle_of_attack_is_held_off_when_it_stays_off_and_not_in_gusts(code, side):
    assert told(code, drawn(slow=side * 0.9))
    assert not told(code, drawn(slow=-side * 0.9))
    assert not told(code, drawn(slow=side * 0.6))
    assert not told(code, drawn(slow=between(8.0, 11.0, side * 0.9)))
    # gusts of a second, twice the band either way
    assert not told(code, drawn(slow=side * 1.4 * np.sin(2 * np.pi * TIME)))


def falling(lowest):
    """A ball that falls from the middle between 10 and 13 s and stays there, deg."""
    return np.interp(TIME, [10.0, 13.0], [0.0, lowest])


def test_idle_while_the_ball_falls_through_is_told():
    sinks, off = between(10.0, 13.0, -6.0), between(10.0, 12.0, -0.11)
    assert told("power-idle", drawn(ball=falling(-0.4), power=off, climb=sinks))
    assert not told("power-idle", drawn(ball=falling(-0.1), power=off, climb=sinks))
    assert not told("power-idle", drawn(ball=falling(-0.4), power=0.7 * off, climb=sinks))
    assert not told("power-idle", drawn(ball=falling(-0.4), power=off, climb=0.4 * sinks))


@pytest.mark.parametrize(
    ("ball", "burst", "cut", "cut_at", "there"),
    [
        (-0.4, 0.13, -0.09, 16.0, True),
        (-0.1, 0.13, -0.09, 16.0, False),  # not low
        (-0.4, 0.08, -0.09, 16.0, False),  # what a correction takes
        (-0.4, 0.13, -0.05, 16.0, False),  # taken off, not cut
        (-0.4, 0.13, -0.09, 20.0, False),  # long after
    ],
)
def test_a_burst_from_low_and_then_a_cut_is_told(ball, burst, cut, cut_at, there):
    power = between(14.0, 15.0, burst) + between(cut_at, cut_at + 1.0, cut)
    assert told("burst-then-cut", drawn(ball=ball, power=power)) is there


@pytest.mark.parametrize(
    ("power", "there"),
    [
        (0.0, True),
        (between(11.5, 26.0, 0.05), False),  # the power moves the ball
        (between(11.5, 26.0, -0.1), True),  # the nose alone against the power
    ],
)
def test_a_nose_that_moves_the_ball_is_told_unless_the_power_does(power, there):
    view = drawn(ball=-0.5, slow=between(12.0, 15.0, 1.6), power=power)
    assert told("nose-for-ball", view) is there
    assert not told("nose-for-ball", drawn(ball=-0.1, slow=between(12.0, 15.0, 1.6)))
    assert not told("nose-for-ball", drawn(ball=0.5, slow=between(12.0, 15.0, 1.6)))


@pytest.mark.parametrize(
    ("on_until", "highest", "there"),
    [
        (16.0, 0.5, True),
        (16.0, 0.2, False),  # did not go through
        (12.0, 0.5, False),  # off again while the ball was still low
    ],
)
def test_power_left_in_past_the_middle_is_told(on_until, highest, there):
    ball = np.interp(TIME, [8.0, 13.0, 17.0], [-0.4, 0.0, highest])
    view = drawn(ball=ball, power=between(9.0, on_until, 0.06), climb=between(8.0, 17.0, 3.0))
    assert told("power-left-in", view) is there


@pytest.mark.parametrize(
    ("code", "power"),
    [
        ("power-sawing", 0.18 * np.sign(np.sin(2 * np.pi * TIME / 1.6))),
        ("power-cut-at-ramp", between(24.5, 27.0, -0.3)),
    ],
)
def test_what_only_a_hand_shows_is_not_guessed_from_the_energy_rate(code, power):
    view = drawn()
    view.hand = 0.45 + power
    assert told(code, view)
    view.hand = 0.45 + 0.5 * power
    assert not told(code, view)
    view.hand = None
    assert not told(code, view)


@pytest.mark.parametrize(("code", "up"), [("flared", 1.0), ("dived", -1.0)])
def test_a_flare_and_a_dive_are_of_the_pitch_that_was_recorded(code, up):
    moves = {"pitch": 5.0 + between(23.5, 27.0, 2.2 * up), "climb": between(24.0, 27.0, 5.0 * up)}
    assert told(code, drawn(**moves))
    assert not told(code, drawn(**moves, recorded=False))
    assert not told(code, drawn(climb=moves["climb"]))
    assert not told(code, drawn(pitch=moves["pitch"]))


@pytest.mark.parametrize(
    ("seconds", "touched", "told_short", "told_long"),
    [
        (16.0, True, False, False),  # 15 to 18 s, published (CNATRA P-1211)
        (9.0, True, True, False),
        (9.0, False, False, False),  # ended by a wave-off
        (26.0, True, False, True),
        (None, True, True, False),  # turned until the deck
    ],
)
def test_a_groove_is_short_or_long_by_its_seconds_and_none_is_short(seconds, touched, told_short, told_long):
    groove = None if seconds is None else SimpleNamespace(start=RAMP - seconds, seconds=seconds)
    view = drawn()
    view.flown = SimpleNamespace(
        turn=SimpleNamespace(), groove=groove, touchdown=SimpleNamespace(time=RAMP) if touched else None
    )
    assert told("short-groove", view) is told_short
    assert told("long-groove", view) is told_long
