"""Edge units: every suffix against its written definition, there and back."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.foundation import units

#: suffix, number at the edge, SI: worked by hand from the definitions of 1929, 1959 and SI
DEFINITIONS = [
    ("deg", 180.0, 3.141592653589793),
    ("rad", 2.0, 2.0),
    ("mrad", 250.0, 0.25),
    ("m", 3.0, 3.0),
    ("km", 1.25, 1250.0),
    ("ft", 5000.0, 1524.0),
    ("nm", 2.0, 3704.0),
    ("mps", 7.0, 7.0),
    ("kt", 3600.0, 1852.0),
    ("fps", 100.0, 30.48),
    ("kmh", 36.0, 10.0),
    ("fpm", 6000.0, 30.48),
    ("mph", 3600.0, 1609.344),
    ("s", 1.5, 1.5),
    ("ms", 250.0, 0.25),
    ("min", 2.0, 120.0),
    ("h", 0.5, 1800.0),
    ("us", 250.0, 2.5e-4),
    ("kg", 4.0, 4.0),
    ("lb", 100.0, 45.359237),
    ("kgps", 0.5, 0.5),
    ("pph", 3600.0, 0.45359237),
    ("pa", 9.0, 9.0),
    ("hpa", 1013.25, 101325.0),
    ("inhg", 1.0, 3386.389),
    ("k", 288.15, 288.15),
    ("c", 15.0, 288.15),
    ("c", -273.15, 0.0),
    ("mps2", 2.0, 2.0),
    ("g", 2.0, 19.6133),
    ("pct", 55.0, 0.55),
    ("", 0.4, 0.4),
]


@pytest.mark.parametrize(("suffix", "number", "si"), DEFINITIONS)
def test_a_unit_is_its_definition(suffix, number, si):
    assert units.to_si(number, suffix) == pytest.approx(si, rel=1e-12, abs=1e-12)
    assert units.from_si(si, suffix) == pytest.approx(number, rel=1e-12, abs=1e-9)


def test_every_unit_of_the_edge_is_in_the_table_of_definitions():
    assert {row[0] for row in DEFINITIONS} == set(units.BY_SUFFIX)


def test_an_array_is_converted_into_a_new_one():
    knots = np.array([0.0, 100.0])
    knots.setflags(write=False)
    assert units.to_si(knots, "kt") == pytest.approx([0.0, 185200.0 / 3600.0])


def test_a_suffix_that_is_no_unit_is_refused():
    with pytest.raises(KeyError):
        units.to_si(1.0, "furlong")
