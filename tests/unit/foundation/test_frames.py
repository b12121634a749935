"""Attitudes: what each angle does to the axes, told by what a pilot would see."""

from __future__ import annotations

import math

import numpy as np
import pytest

from deckward.foundation import frames
from support.analytic_pass import about_x, about_y, about_z

DEGREE = math.pi / 180.0
NOSE, RIGHT_WING, BELLY = np.eye(3)


def level(heading=0.0, pitch=0.0, roll=0.0):
    return frames.body_to_level(heading * DEGREE, pitch * DEGREE, roll * DEGREE)


def test_heading_east_points_the_nose_east_and_the_right_wing_south():
    assert level(heading=90.0) @ NOSE == pytest.approx([0.0, 1.0, 0.0])
    assert level(heading=90.0) @ RIGHT_WING == pytest.approx([-1.0, 0.0, 0.0])


def test_nose_up_is_a_positive_pitch():
    assert level(pitch=30.0) @ NOSE == pytest.approx([math.sqrt(0.75), 0.0, -0.5])


def test_starboard_down_is_a_positive_roll():
    assert level(roll=30.0) @ RIGHT_WING == pytest.approx([0.0, math.sqrt(0.75), 0.5])
    assert level(roll=30.0) @ BELLY == pytest.approx([0.0, -0.5, math.sqrt(0.75)])


def test_the_angles_are_taken_in_the_order_yaw_pitch_roll():
    told = frames.body_to_level(0.7, -0.3, 2.1)
    assert told == pytest.approx(about_z(0.7) @ about_y(-0.3) @ about_x(2.1), abs=1e-15)


def test_many_attitudes_at_once_are_the_single_ones():
    heading = np.linspace(-4.0, 7.0, 12)
    many = frames.body_to_level(heading, 0.1, -0.4)
    assert many.shape == (12, 3, 3)
    for k in (0, 5, 11):
        assert many[k] == pytest.approx(frames.body_to_level(heading[k], 0.1, -0.4))


def test_turning_back_undoes_turning():
    rotation = frames.body_to_level(np.linspace(0, 6, 5), np.linspace(-1, 1, 5), np.linspace(3, -3, 5))
    vector = np.arange(15.0).reshape(5, 3)
    assert frames.rotate_back(rotation, frames.rotate(rotation, vector)) == pytest.approx(vector)
    assert frames.rotate(rotation, vector)[2] == pytest.approx(rotation[2] @ vector[2])


def test_a_level_frame_turns_by_its_heading_alone():
    assert frames.yaw(np.array([0.3]))[0] == pytest.approx(about_z(0.3), abs=1e-15)
