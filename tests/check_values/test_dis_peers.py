"""Entity State PDUs against two peers that know the standard: a reference package and a dissector.

The package is ``opendis`` 1.0 (BSD), put in without its dependencies as ``requirements/samples.txt`` says;
its conversion between latitude, longitude, attitude and the world's axes is the second opinion on
orientations. The dissector is Debian's ``tshark`` 4.0, which ``.ci/run`` installs. Both are asked about
PDUs of two writers, that of the tests and that of the builders, and about PDUs made by the package.
"""

from __future__ import annotations

import shutil
import subprocess
from io import BytesIO

import fly_dis
import numpy as np
import pytest

from deckward.foundation.earth import geodetic_to_ecef
from deckward.recordings import dis_frames, dis_pdu
from support.dis_packets import datagram, entity_state, ethernet, pcap, timestamp

STATES = [
    {
        "version": version,
        "exercise": exercise,
        "algorithm": algorithm,
        "seconds": seconds,
        "location": geodetic_to_ecef(np.radians(latitude), np.radians(longitude), 87.25),
        "orientation": (psi, -0.61, 2.875),
        "velocity": (61.5, -12.25, 3.125),
        "acceleration": (0.5, -0.75, 1.5),
        "spin": (0.03125, -0.0625, 0.015625),
        "entity": (17, 4099, 65001),
        "domain": domain,
    }
    for version, exercise, algorithm, seconds, latitude, longitude, psi, domain in [
        (6, 1, 4, 0.0, 30.0, -75.0, 1.5, 2),
        (7, 9, 2, 1799.5, -41.25, 179.5, -3.0, 3),
        (7, 255, 8, 3599.75, 78.0, 15.0, 0.25, 2),
    ]
]


def by_tests(state) -> bytes:
    return entity_state(
        stamp=timestamp(state["seconds"]),
        location=state["location"],
        orientation=state["orientation"],
        velocity=state["velocity"],
        acceleration=state["acceleration"],
        angular_velocity=state["spin"],
        algorithm=state["algorithm"],
        marking="Wren",
        entity=state["entity"],
        domain=state["domain"],
        version=state["version"],
        exercise=state["exercise"],
    )


def axes(psi, theta, phi) -> np.ndarray:
    """Body axes as columns: turn about z, the new y, the new x."""
    c, s = np.cos([psi, theta, phi]), np.sin([psi, theta, phi])
    about_z = np.array([[c[0], -s[0], 0], [s[0], c[0], 0], [0, 0, 1]])
    about_y = np.array([[c[1], 0, s[1]], [0, 1, 0], [-s[1], 0, c[1]]])
    about_x = np.array([[1, 0, 0], [0, c[2], -s[2]], [0, s[2], c[2]]])
    return about_z @ about_y @ about_x


def by_builders(state) -> bytes:
    said = {
        "algorithm": state["algorithm"],
        "place": np.asarray(state["location"]),
        "body": axes(*state["orientation"]),
        **{name: np.asarray(state[name]) for name in ("velocity", "acceleration", "spin")},
    }
    sender = fly_dis.Sender(version=state["version"])
    stamp = fly_dis.stamped(state["seconds"], absolute=True)
    who = {"entity": state["entity"], "domain": state["domain"], "marking": "Wren"}
    return fly_dis.pdu(said, stamp, sender, exercise=state["exercise"], **who)


WRITERS = {"tests": by_tests, "builders": by_builders}


@pytest.mark.parametrize("writer", WRITERS)
@pytest.mark.parametrize("state", STATES)
def test_the_reference_package_reads_what_is_written(state, writer):
    pytest.importorskip("opendis")
    from opendis.PduFactory import createPdu

    pdu = createPdu(WRITERS[writer](state))
    assert (pdu.protocolVersion, pdu.exerciseID, pdu.length) == (state["version"], state["exercise"], 144)
    assert (pdu.entityID.siteID, pdu.entityID.applicationID, pdu.entityID.entityID) == state["entity"]
    assert (pdu.entityType.entityKind, pdu.entityType.domain) == (1, state["domain"])
    place, turn = pdu.entityLocation, pdu.entityOrientation
    assert (place.x, place.y, place.z) == pytest.approx(state["location"], abs=1e-9)
    assert (turn.psi, turn.theta, turn.phi) == pytest.approx(state["orientation"], abs=1e-6)
    reckoning = pdu.deadReckoningParameters
    assert reckoning.deadReckoningAlgorithm == state["algorithm"]
    for vector, name in (
        (pdu.entityLinearVelocity, "velocity"),
        (reckoning.entityLinearAcceleration, "acceleration"),
        (reckoning.entityAngularVelocity, "spin"),
    ):
        assert (vector.x, vector.y, vector.z) == state[name]
    assert pdu.marking.charactersString() == "Wren"


@pytest.mark.parametrize("state", STATES)
def test_what_the_reference_package_writes_is_read(state):
    dis7 = pytest.importorskip("opendis.dis7")
    from opendis.DataOutputStream import DataOutputStream

    pdu = dis7.EntityStatePdu(
        entityID=dis7.EntityID(*state["entity"]),
        entityType=dis7.EntityType(entityKind=1, domain=state["domain"]),
        entityLinearVelocity=dis7.Vector3Float(*state["velocity"]),
        entityLocation=dis7.Vector3Double(*state["location"]),
        entityOrientation=dis7.EulerAngles(*state["orientation"]),
        deadReckoningParameters=dis7.DeadReckoningParameters(
            state["algorithm"],
            None,
            dis7.Vector3Float(*state["acceleration"]),
            dis7.Vector3Float(*state["spin"]),
        ),
    )
    # a fresh one cannot be written: some of its fields are of the wrong type, its length is 0
    pdu.entityAppearance = pdu.capabilities = pdu.pduStatus = 0
    pdu.pduType = pdu.protocolFamily = 1
    pdu.length, pdu.timestamp = 144, timestamp(state["seconds"])
    pdu.exerciseID, pdu.protocolVersion = state["exercise"], state["version"]
    pdu.marking.setString("Wren")
    stream = BytesIO()
    pdu.serialize(DataOutputStream(stream))
    frames = dis_frames.find_frames(stream.getvalue())
    assert frames.offsets.tolist() == [0]
    (found,) = dis_pdu.decode(stream.getvalue(), frames.offsets)
    assert found["location"] == pytest.approx(state["location"], abs=1e-9)
    assert found["orientation"] == pytest.approx(state["orientation"], abs=1e-6)
    assert found["velocity"].tolist() == list(state["velocity"])
    assert found["acceleration"].tolist() == list(state["acceleration"])
    assert found["angular_velocity"].tolist() == list(state["spin"])
    assert (found["site"], found["application"], found["entity"]) == state["entity"]
    assert (found["domain"], found["algorithm"], found["marking"]) == (
        state["domain"],
        state["algorithm"],
        b"Wren",
    )
    assert dis_pdu.past_the_hour(found["timestamp"]) == pytest.approx(state["seconds"], abs=2e-6)


@pytest.mark.parametrize("place", [(0.0, 0.0), (30.0, -75.0), (-52.5, 179.0), (71.0, 8.0)])
@pytest.mark.parametrize("attitude", [(0.0, 0.0, 0.0), (351.0, 5.0, -12.0), (95.0, -31.0, 170.0)])
def test_orientations_agree_with_the_reference_package(place, attitude):
    coordinates = pytest.importorskip("opendis.RangeCoordinates")
    (latitude, longitude), (heading, pitch, roll) = np.radians(place), np.radians(attitude)
    x, y, z, psi, theta, phi = coordinates.GPS().llarpy2ecef(latitude, longitude, 120.0, roll, pitch, heading)
    assert geodetic_to_ecef(latitude, longitude, 120.0) == pytest.approx([x, y, z], abs=1e-3)
    found = np.concatenate(dis_pdu.attitude(np.array([[psi, theta, phi]]), np.array([[x, y, z]])))
    off = (np.degrees(found) - attitude + 180.0) % 360.0 - 180.0
    assert np.abs(off).max() < 1e-6


FIELDS = (
    "dis.proto_ver",
    "dis.exer_id",
    "dis.pdu_length",
    "dis.entity_id_site",
    "dis.entity_id_application",
    "dis.entity_id_entity",
    "dis.entityDomain",
    "dis.timestamp",
    *(f"dis.entity_location.{axis}" for axis in "xyz"),
    *(f"dis.entity_orientation.{axis}" for axis in ("psi", "theta", "phi")),
    *(f"dis.entity_linear_velocity.{axis}" for axis in "xyz"),
    *(f"dis.entity_linear_acceleration.{axis}" for axis in "xyz"),
    *(f"dis.entity_angular_velocity.{axis}" for axis in "xyz"),
    "dis.entity_marking",
)


@pytest.mark.skipif(shutil.which("tshark") is None, reason="tshark is not installed; .ci/run installs it")
@pytest.mark.parametrize("writer", WRITERS)
def test_a_dissector_reads_the_same_fields(tmp_path, writer):
    data = pcap([(1e9, ethernet(datagram(WRITERS[writer](state)))) for state in STATES])
    path = tmp_path / "states.pcap"
    path.write_bytes(data)
    fields = [word for name in FIELDS for word in ("-e", name)]
    told = subprocess.run(
        [
            "tshark",
            "-r",
            str(path),
            "-d",
            "udp.port==3000,dis",
            "-T",
            "fields",
            "-E",
            "occurrence=f",
            *fields,
        ],
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    ).stdout.splitlines()
    decoded = dis_pdu.decode(data, dis_frames.find_frames(data).offsets)
    assert len(told) == len(decoded) == len(STATES)
    for line, found, state in zip(told, decoded, STATES, strict=True):
        *numbers, marking = line.split("\t")
        values = [float(number) for number in numbers]
        ours = [
            *(
                found[name]
                for name in ("version", "exercise", "length", "site", "application", "entity", "domain")
            ),
            float(dis_pdu.past_the_hour(found["timestamp"])),
            *found["location"],
            *found["orientation"],
            *found["velocity"],
            *found["acceleration"],
            *found["angular_velocity"],
        ]
        assert values == pytest.approx([float(x) for x in ours], rel=1e-5, abs=1e-5)
        assert values[8:11] == pytest.approx(state["location"], rel=1e-9)
        assert marking == "Wren"


@pytest.mark.skipif(shutil.which("tshark") is None, reason="tshark is not installed; .ci/run installs it")
def test_a_dissector_knows_the_same_bits_of_an_appearance(tmp_path):
    """Its table of fields gives the masks of "frozen" and "deactivated"; it finds the word where we do."""
    table = subprocess.run(
        ["tshark", "-G", "fields"], capture_output=True, text=True, check=True, timeout=60
    ).stdout
    masks = {cells[2]: cells[6] for line in table.splitlines() if len(cells := line.split("\t")) > 6}
    assert int(masks["dis.appearance.landform.frozen_status"], 16) == dis_pdu.FROZEN
    assert int(masks["dis.appearance.landform.state"], 16) == dis_pdu.DEACTIVATED
    pdu = by_tests(STATES[0])
    pdu = pdu[:84] + (dis_pdu.FROZEN | dis_pdu.DEACTIVATED | 5).to_bytes(4, "big") + pdu[88:]
    path = tmp_path / "state.pcap"
    path.write_bytes(pcap([(1e9, ethernet(datagram(pdu)))]))
    command = ["tshark", "-r", str(path), "-d", "udp.port==3000,dis", "-T", "fields", "-e", "dis.appearance"]
    told = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60).stdout
    (state,) = dis_pdu.decode(pdu, np.array([0]))
    assert int(told.strip(), 16) == state["appearance"]
