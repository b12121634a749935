"""Headings: the short way round, never outside their range."""

from __future__ import annotations

import math

import numpy as np
import pytest

from deckward.foundation import angles

DEGREE = math.pi / 180.0


@pytest.mark.parametrize(
    ("a", "b", "short_way"),
    [(5, 355, 10), (355, 5, -10), (90, 90, 0), (720, 0.5, -0.5), (0, 359.75, 0.25)],
)
def test_the_difference_of_headings_goes_the_short_way(a, b, short_way):
    assert angles.difference(a * DEGREE, b * DEGREE) / DEGREE == pytest.approx(short_way, abs=1e-9)


def test_opposite_headings_are_half_a_turn_apart_either_way():
    assert abs(angles.difference(1.0 * DEGREE, 181.0 * DEGREE)) / DEGREE == pytest.approx(180.0)
    assert abs(angles.difference(181.0 * DEGREE, 1.0 * DEGREE)) / DEGREE == pytest.approx(180.0)


@pytest.mark.parametrize(
    "angle", [0.0, -1e-17, 2 * math.pi, -2 * math.pi, 7.0, -7.0, math.pi, -math.pi, -4e-16]
)
def test_a_compass_heading_is_below_a_whole_turn(angle):
    heading = float(angles.compass(angle))
    assert 0.0 <= heading < 2 * math.pi
    assert math.cos(heading) == pytest.approx(math.cos(angle))
    assert math.sin(heading) == pytest.approx(math.sin(angle), abs=1e-12)


@pytest.mark.parametrize("angle", [math.pi, -math.pi, np.nextafter(-math.pi, -4), 3 * math.pi, 0.0, 100.0])
def test_a_wrapped_angle_is_within_half_a_turn(angle):
    wrapped = float(angles.wrap(angle))
    assert -math.pi <= wrapped < math.pi
    assert math.sin(wrapped) == pytest.approx(math.sin(angle), abs=1e-12)


def test_unwrapping_goes_through_north_and_keeps_what_is_missing():
    heading = np.radians([350.0, 355.0, np.nan, 2.0, 8.0, 355.0])
    heading.setflags(write=False)
    degrees = np.degrees(angles.unwrap(heading))
    assert degrees[[0, 1, 3, 4, 5]] == pytest.approx([350.0, 355.0, 362.0, 368.0, 355.0])
    assert np.isnan(degrees[2])


def test_unwrapping_nothing_but_gaps_leaves_gaps():
    assert np.isnan(angles.unwrap(np.full(3, np.nan))).all()
