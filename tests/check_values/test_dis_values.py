"""The DIS facts that stand outside this project.

Layout and orientation: IEEE 1278.1 (sizes and meaning from memory; the order of fields
confirmed in an open implementation; the orientations worked by hand from the rotation
order psi, theta, phi about z, new y, new x of WGS-84 earth-centred axes).
"""

from __future__ import annotations

import numpy as np
import pytest

from deckward.foundation.earth import geodetic_to_ecef
from deckward.recordings import dis_pdu

ORIENTATIONS = [
    # latitude, longitude, heading, pitch, roll -> psi, theta, phi, all deg
    ((0.0, 0.0, 90.0, 0.0, 0.0), (90.000, 0.000, -90.000)),
    ((30.0, -75.0, 0.0, 0.0, 0.0), (105.000, -60.000, 180.000)),
    ((30.0, -75.0, 351.0, 5.0, 0.0), (125.515, -63.597, 162.263)),
    ((45.0, 0.0, 0.0, 0.0, 0.0), (180.000, -45.000, 180.000)),
    ((36.9, -75.5, 270.0, 8.1, -3.0), (-159.007, -4.853, 123.625)),
]


@pytest.mark.parametrize(("level", "world"), ORIENTATIONS)
def test_orientation_in_the_world_gives_heading_pitch_and_roll(level, world):
    latitude, longitude, heading, pitch, roll = level
    place = geodetic_to_ecef(np.radians([latitude]), np.radians([longitude]), [100.0])
    found = np.degrees(np.concatenate(dis_pdu.attitude(np.radians([world]), place)))
    off = (found - (heading, pitch, roll) + 180.0) % 360.0 - 180.0
    assert np.abs(off).max() < 0.002


def test_the_fixed_part_of_an_entity_state_is_144_bytes():
    assert dis_pdu.STATE.itemsize == 144
    places = {
        "timestamp": 4,
        "length": 8,
        "site": 12,
        "force": 18,
        "parameters": 19,
        "kind": 20,
        "alternative": 28,
        "velocity": 36,
        "location": 48,
        "orientation": 72,
        "appearance": 84,
        "algorithm": 88,
        "acceleration": 104,
        "angular_velocity": 116,
        "charset": 128,
        "marking": 129,
        "capabilities": 140,
    }
    for name, place in places.items():
        assert dis_pdu.STATE.fields[name][1] == place, name


def test_a_unit_of_time_is_an_hour_over_two_to_the_thirty_first():
    stamps = np.array([2, 2**31, (2**31 - 1) << 1 | 1], np.uint32)
    assert dis_pdu.past_the_hour(stamps) == pytest.approx([1.67638e-6, 1800.0, 3600.0], rel=1e-5)
    assert dis_pdu.is_absolute(stamps).tolist() == [False, False, True]
