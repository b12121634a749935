"""The median against numpy's."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.foundation.statistics import distinct, median, quantiles


@pytest.mark.parametrize("count", [1, 2, 3, 4, 5, 100, 101])
def test_it_is_numpys(count):
    values = np.random.default_rng(count).normal(size=count)
    assert median(values) == np.median(values)


@pytest.mark.parametrize("axis", [0, 1, -1])
@pytest.mark.parametrize("shape", [(4, 7), (5, 2, 3), (3, 1)])
def test_along_an_axis_it_is_numpys(axis, shape):
    values = np.random.default_rng(1).normal(size=shape)
    assert median(values, axis=axis) == pytest.approx(np.median(values, axis=axis), abs=0.0)


def test_of_a_table_without_an_axis_it_is_of_all():
    assert median([[1.0, 9.0], [2.0, 4.0]]) == 3.0


def test_nan_and_nothing_have_none():
    assert np.isnan(median([1.0, np.nan, 2.0]))
    assert np.isnan(median([]))
    assert np.isnan(median(np.array([[1.0, np.nan], [2.0, 3.0]]), axis=0)).tolist() == [False, True]
    assert np.isnan(median(np.empty((0, 2)), axis=0)).all()


def test_the_different_values_are_numpys():
    values = np.random.default_rng(3).integers(0, 30, size=(10, 9)).astype(float)
    assert np.array_equal(distinct(values), np.unique(values))
    assert distinct([]).size == 0


@pytest.mark.parametrize("count", [1, 2, 7, 100])
def test_quantiles_are_numpys(count):
    values = np.random.default_rng(count).normal(size=count)
    assert quantiles(values, (0.05, 0.5, 0.9)) == pytest.approx(np.percentile(values, (5, 50, 90)), rel=1e-12)
