"""The approach figures are held against the limits of published or remembered criteria."""

from __future__ import annotations

import math

import pytest

from deckward import aircraft
from deckward.foundation.units import DEGREE, FOOT, KNOT
from deckward.prediction import approach_figures, model_of
from support.authorities import each, rows


@pytest.fixture(scope="module")
def figures():
    told = approach_figures(model_of(aircraft.load("stormcote")))
    return {figure.code: figure for figure in told}


def test_path_stability_is_held_to_level_1(figures):
    most = rows("path-stability")["1"]["slope [deg/kt]"]
    found = figures["path-stability"]
    assert found.limit == pytest.approx(most * DEGREE / KNOT)
    assert found.met == (math.degrees(found.value) * KNOT <= most)
    assert f"at most +{most:.3f}" in found.text


@each("approach-criteria")
def test_a_criterion_is_the_one_that_is_told(figures, row):
    limit = row["limit [ft]"] or row["limit [ft/s2]"]
    found = figures[row["id"]]
    assert found.limit == pytest.approx(limit * FOOT)
    if found.value is not None:
        assert found.met == (
            found.value <= limit * FOOT if row["sense"] == "at most" else found.value >= limit * FOOT
        )
    assert f"{row['sense']} {limit:g}" in found.text or found.value is None
    assert f"{row['time [s]']:g} s" in found.title
    if row["path [deg]"]:
        assert f"{row['path [deg]']:g}-degree" in found.title
    assert "from memory" in found.source
