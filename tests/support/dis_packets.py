"""Entity State PDUs and captures written by hand, field by field."""

from __future__ import annotations

import struct

import numpy as np
from numpy.typing import ArrayLike

from deckward.foundation.earth import geodetic_to_ecef

AIR, SURFACE = 2, 3
UNITS_PER_HOUR = 2**31


def timestamp(seconds: float, *, absolute: bool = True) -> int:
    """Write seconds past the hour as a DIS timestamp."""
    return (round(seconds % 3600.0 / 3600.0 * UNITS_PER_HOUR) % UNITS_PER_HOUR) << 1 | absolute


def entity_state(
    *,
    stamp: int,
    location: ArrayLike,
    orientation: ArrayLike = (0.0, 0.0, 0.0),
    velocity: ArrayLike = (0.0, 0.0, 0.0),
    acceleration: ArrayLike = (0.0, 0.0, 0.0),
    angular_velocity: ArrayLike = (0.0, 0.0, 0.0),
    algorithm: int = 4,
    marking: str = "",
    entity: tuple[int, int, int] = (1, 2, 3),
    kind: int = 1,
    domain: int = AIR,
    category: int = 1,
    version: int = 7,
    exercise: int = 1,
    parameters: int = 0,
) -> bytes:
    """Pack one Entity State PDU, 144 bytes and 16 more for each variable parameter."""
    body = struct.pack(
        ">HHHBBBBHBBBB8s3f3d3fIB15s3f3fB11sI",
        *entity,
        1,
        parameters,
        kind,
        domain,
        0,
        category,
        0,
        0,
        0,
        bytes(8),
        *velocity,
        *location,
        *orientation,
        0,
        algorithm,
        bytes(15),
        *acceleration,
        *angular_velocity,
        1,
        marking.encode()[:11].ljust(11, b"\0"),
        0,
    )
    body += bytes(16 * parameters)
    header = struct.pack(">BBBBIHBB", version, exercise, 1, 1, stamp, 12 + len(body), 0, 0)
    return header + body


def other_pdu(kind: int = 2, size: int = 96) -> bytes:
    """Pack a PDU of another type, empty."""
    return struct.pack(">BBBBIHBB", 7, 1, kind, 2, 0, size, 0, 0) + bytes(size - 12)


def world_orientation(heading, pitch, roll, latitude, longitude) -> np.ndarray:
    """Turn heading, pitch, roll into psi, theta, phi (n, 3): columns of body axes in the world."""
    sh, ch, sp, cp, sr, cr = (f(a) for a in (heading, pitch, roll) for f in (np.sin, np.cos))
    sl, cl, so, co = (f(a) for a in (latitude, longitude) for f in (np.sin, np.cos))
    north = np.stack([-sl * co, -sl * so, cl], -1)
    east = np.stack([-so, co, 0.0 * so], -1)
    down = np.stack([-cl * co, -cl * so, -sl], -1)
    ahead = north * (cp * ch)[..., None] + east * (cp * sh)[..., None] - down * sp[..., None]
    level_right = east * ch[..., None] - north * sh[..., None]
    right = level_right * cr[..., None] + np.cross(ahead, level_right) * sr[..., None]
    below = np.cross(ahead, right)
    return np.stack(
        [
            np.arctan2(ahead[..., 1], ahead[..., 0]),
            -np.arcsin(ahead[..., 2]),
            np.arctan2(right[..., 2], below[..., 2]),
        ],
        -1,
    )


def datagram(payload: bytes, *, six: bool = False, fragment: bool = False, protocol: int = 17) -> bytes:
    """Wrap a payload in UDP and IP."""
    udp = struct.pack(">HHHH", 3000, 3000, 8 + len(payload), 0) + payload
    if six:
        return struct.pack(">IHBB16s16s", 6 << 28, len(udp), protocol, 64, bytes(16), bytes(16)) + udp
    flags = 0x2000 if fragment else 0x4000
    header = struct.pack(
        ">BBHHHBBH4s4s", 0x45, 0, 20 + len(udp), 7, flags, 64, protocol, 0, bytes(4), b"\xff" * 4
    )
    return header + udp


def ethernet(packet: bytes, *, vlan: int = 0) -> bytes:
    """Wrap a network packet in an Ethernet frame, with as many VLAN tags as asked for."""
    kind = b"\x86\xdd" if packet[0] >> 4 == 6 else b"\x08\x00"
    return bytes(12) + b"\x81\x00\x00\x05" * vlan + kind + packet


def pcap(packets: list[tuple[float, bytes]], *, order: str = "<", nano: bool = False, link: int = 1) -> bytes:
    """Write a pcap file of (seconds since 1970, frame)."""
    tick = 10**9 if nano else 10**6
    out = [struct.pack(order + "IHHiIII", 0xA1B23C4D if nano else 0xA1B2C3D4, 2, 4, 0, 0, 65535, link)]
    for when, frame in packets:
        total = round(when * tick)
        out += [struct.pack(order + "IIII", total // tick, total % tick, len(frame), len(frame)), frame]
    return b"".join(out)


def pcapng(
    packets: list[tuple[float, bytes]], *, order: str = "<", link: int = 1, nano: bool = False
) -> bytes:
    """Write a pcapng file of (seconds since 1970, frame), one section and one interface."""

    def block(kind: int, body: bytes) -> bytes:
        body += bytes(-len(body) % 4)
        size = 12 + len(body)
        return struct.pack(order + "II", kind, size) + body + struct.pack(order + "I", size)

    out = [block(0x0A0D0D0A, struct.pack(order + "IHHq", 0x1A2B3C4D, 1, 0, -1))]
    options = struct.pack(order + "HHB3xHH", 9, 1, 9, 0, 0) if nano else b""
    out.append(block(1, struct.pack(order + "HHI", link, 0, 65535) + options))
    out.append(block(4, bytes(8)))  # names, of no interest here
    for when, frame in packets:
        ticks = round(when * (10**9 if nano else 10**6))
        fields = struct.pack(order + "IIIII", 0, ticks >> 32, ticks & 0xFFFFFFFF, len(frame), len(frame))
        out.append(block(6, fields + frame))
    return b"".join(out)


def states_of(
    flight: dict[str, np.ndarray], rows, *, start: float, delay: float = 0.0, **how
) -> list[tuple[float, bytes]]:
    """Give (when captured, PDU) for some rows of a flight; velocity in the world, or as ``how`` says."""
    location = geodetic_to_ecef(flight["latitude"], flight["longitude"], flight["altitude"])
    time = flight["time"]
    velocity = np.gradient(location, time, axis=0)
    acceleration = np.gradient(velocity, time, axis=0)
    angles = world_orientation(
        *(flight[q] for q in ("heading", "pitch", "roll")), flight["latitude"], flight["longitude"]
    )
    absolute = how.pop("absolute", True)
    zero = how.pop("zero", 0.0)
    return [
        (
            start + time[i] + delay,
            entity_state(
                stamp=timestamp(start + time[i] - zero, absolute=absolute),
                location=location[i],
                orientation=angles[i],
                **{"velocity": velocity[i], "acceleration": acceleration[i], **how},
            ),
        )
        for i in rows
    ]


def as_ship(flight: dict[str, np.ndarray]) -> dict[str, np.ndarray]:
    """Give the ship's channels of a flight as a craft's."""
    own = {name.removeprefix("ship_"): values for name, values in flight.items() if name.startswith("ship_")}
    return {"time": flight["time"], **own}
