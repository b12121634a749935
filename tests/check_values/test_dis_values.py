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
from support.authorities import each, rows


@each("dis-orientations")
def test_orientation_in_the_world_gives_heading_pitch_and_roll(row):
    latitude, longitude = row["latitude [deg]"], row["longitude [deg]"]
    level = [row[f"{name} [deg]"] for name in ("heading", "pitch", "roll")]
    world = [row[f"{name} [deg]"] for name in ("psi", "theta", "phi")]
    place = geodetic_to_ecef(np.radians([latitude]), np.radians([longitude]), [100.0])
    found = np.degrees(np.concatenate(dis_pdu.attitude(np.radians([world]), place)))
    off = (found - level + 180.0) % 360.0 - 180.0
    assert np.abs(off).max() < 0.002


def test_the_fixed_part_of_an_entity_state_is_144_bytes():
    places = {name: row["start [byte]"] for name, row in rows("dis-entity-state").items()}
    assert dis_pdu.STATE.itemsize == places.pop("end")
    for name, place in places.items():
        assert dis_pdu.STATE.fields[name][1] == place, name


def test_a_unit_of_time_is_an_hour_over_two_to_the_thirty_first():
    stamps = np.array([2, 2**31, (2**31 - 1) << 1 | 1], np.uint32)
    assert dis_pdu.past_the_hour(stamps) == pytest.approx([1.67638e-6, 1800.0, 3600.0], rel=1e-5)
    assert dis_pdu.is_absolute(stamps).tolist() == [False, False, True]
