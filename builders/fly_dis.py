"""Write a flown pass as IEEE 1278.1 Entity State PDUs: at a rate, or on dead-reckoning thresholds.

An encoder and a sender of its own, apart from the product's reader. Formulas of the dead-reckoning
algorithms 1 to 9 from memory of IEEE 1278.1-2012 annex E: P, V, A in the world (1 to 5) or in the body
axes of the update (6 to 9); rotating ones turn by the body's angular velocity.
"""

from __future__ import annotations

import math
import struct
from dataclasses import dataclass

import numpy as np
from fly_plan import Flight

STEP = 1.0 / 120.0
START = 1_936_656_000.0 + 7 * 3600.0 + 3570.0  # half a minute before a full hour of UTC
ROTATING = (3, 4, 7, 8)
BODY = (6, 7, 8, 9)
ACCELERATED = (4, 5, 8, 9)
AIR, SURFACE = 2, 3


@dataclass(frozen=True)
class Sender:
    """How a craft is told to the network."""

    rate: float | None = 20.0  # Hz; None: on thresholds
    tick: int = 2  # steps of 120 Hz between the moments a sender looks at itself
    algorithm: int = 4
    metres: float = 0.3
    degrees: float = 1.0
    heartbeat: float = 5.0  # s
    spin_told: bool = True  # whether algorithms that do not turn carry an angular velocity all the same
    inertial: bool = False  # algorithms 8, 9: A is the acceleration in the world turned into body axes
    version: int = 7
    clock: float = 0.0  # s the sender's clock is ahead
    absolute: bool = True
    delay: float = 0.002  # s on the network, at least
    jitter: float = 0.001  # s more, at random
    phase: int = 0  # steps of 120 Hz at which it first speaks


@dataclass(frozen=True)
class Capture:
    """Two senders and the kind of file that they were caught in."""

    aircraft: Sender = Sender()
    ship: Sender = Sender()
    kind: str = "pcap"  # "pcap", "pcapng", "dump", "prefixed"; one file
    apart: bool = False  # the ship in a file of her own
    exercise: int = 1
    seed: int = 0


@dataclass(frozen=True)
class Motion:
    """A craft on the 120 Hz grid, earth-centred; body axes as columns; spin in body axes."""

    time: np.ndarray
    place: np.ndarray
    body: np.ndarray
    velocity: np.ndarray
    acceleration: np.ndarray
    spin: np.ndarray


def motion(time, place, body) -> Motion:
    """Velocity between neighbours, acceleration as a simulator has it: from the step before."""
    velocity = np.gradient(place, time, axis=0)
    change = np.diff(velocity, axis=0) / np.diff(time)[:, None]
    acceleration = np.concatenate([change[:1], change])
    turn = np.einsum("nji,njk->nik", body[:-1], body[1:])
    skew = 0.5 * (turn - turn.transpose(0, 2, 1))
    spin = np.stack([skew[:, 2, 1], skew[:, 0, 2], skew[:, 1, 0]], axis=-1) / np.diff(time)[:, None]
    return Motion(time, place, body, velocity, acceleration, np.concatenate([spin[:1], spin]))


def of_aircraft(flight: Flight, reference) -> Motion:
    keep = flight.time >= -1e-9
    place = flight.cg + flight.body @ np.asarray(reference)
    return motion(flight.time[keep], place[keep], flight.body[keep])


def of_ship(flight: Flight) -> Motion:
    ship = flight.ship
    keep = (ship.time >= -1e-9) & (ship.time <= flight.time[-1] + 1e-9)
    return motion(ship.time[keep], ship.point[keep], ship.hull[keep])


def turned(spin, seconds):
    """Rotation of the body by an angular velocity (3,), rad/s, held for so long."""
    size = float(np.linalg.norm(spin))
    if size * seconds < 1e-9:
        return np.eye(3)
    x, y, z = spin / size
    k = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.eye(3) + math.sin(size * seconds) * k + (1.0 - math.cos(size * seconds)) * (k @ k)


def reckoned(sent: dict, seconds: float):
    """Place and body axes that others believe so long after an update."""
    algorithm, p, v, a = sent["algorithm"], sent["place"], sent["velocity"], sent["acceleration"]
    body, spin = sent["body"], sent["spin"]
    t = seconds
    axes = body @ turned(spin, t) if algorithm in ROTATING else body
    if algorithm == 1:
        return p, axes
    if algorithm in (2, 3, 4, 5):
        return p + v * t + (0.5 * a * t * t if algorithm in ACCELERATED else 0.0), axes
    if algorithm in (6, 9):
        return p + body @ (v * t + (0.5 * a * t * t if algorithm == 9 else 0.0)), axes
    # 7 and 8: the velocity, and what it gains, turn with the body; by the trapezium over 32 parts
    when = np.linspace(0.0, t, 33)
    rows = np.stack([turned(spin, s) @ (v + (a * s if algorithm == 8 else 0.0)) for s in when])
    return p + body @ np.trapezoid(rows, when, axis=0), axes


def spoken(m: Motion, sender: Sender, i: int) -> dict:
    """The fields of an update at row i, rounded to single precision as they are sent."""
    body = m.body[i]
    velocity, acceleration, spin = m.velocity[i], m.acceleration[i], m.spin[i]
    if sender.algorithm in BODY:
        own = body.T @ acceleration
        if sender.algorithm == 8 and not sender.inertial:
            own = own - np.cross(spin, body.T @ velocity)
        velocity, acceleration = body.T @ velocity, own
    if sender.algorithm not in ACCELERATED:
        acceleration = np.zeros(3)
    if sender.algorithm not in ROTATING and not sender.spin_told:
        spin = np.zeros(3)
    if sender.algorithm == 1:
        velocity = np.zeros(3)
    single = [np.asarray(x, np.float32).astype(float) for x in (velocity, acceleration, spin)]
    return {
        "algorithm": sender.algorithm,
        "place": m.place[i],
        "velocity": single[0],
        "acceleration": single[1],
        "spin": single[2],
        "body": body,
    }


def updates(m: Motion, sender: Sender) -> list[tuple[int, dict]]:
    """Rows at which a craft speaks, and what it says."""
    if sender.rate is not None:
        each = 120.0 / sender.rate
        rows = np.unique(np.round(sender.phase + np.arange(0, len(m.time) / each) * each).astype(int))
        return [(i, spoken(m, sender, i)) for i in rows if i < len(m.time)]
    out = [(sender.phase, spoken(m, sender, sender.phase))]
    for i in range(sender.phase + sender.tick, len(m.time), sender.tick):
        last, said = out[-1]
        seconds = m.time[i] - m.time[last]
        place, axes = reckoned(said, seconds)
        turn = (np.trace(axes.T @ m.body[i]) - 1.0) / 2.0
        off = math.degrees(math.acos(min(max(turn, -1.0), 1.0)))
        aside = float(np.linalg.norm(place - m.place[i]))
        if aside > sender.metres or off > sender.degrees or seconds >= sender.heartbeat - 1e-6:
            out.append((i, spoken(m, sender, i)))
    return out


def pdu(said: dict, stamp: int, sender: Sender, *, entity, domain, marking, exercise) -> bytes:
    """One Entity State PDU, field by field."""
    b = said["body"]
    psi = math.atan2(b[1, 0], b[0, 0])
    theta = -math.asin(max(-1.0, min(1.0, b[2, 0])))
    phi = math.atan2(b[2, 1], b[2, 2])
    out = struct.pack(">BBBBI", sender.version, exercise, 1, 1, stamp)
    out += struct.pack(">HH", 144, 0)
    out += struct.pack(">3HBB", *entity, 1, 0)
    out += struct.pack(">BBHBBBB", 1, domain, 225, 1, 1, 0, 0) * 2
    out += struct.pack(">3f3d3fI", *said["velocity"], *said["place"], psi, theta, phi, 0)
    out += struct.pack(">B15x3f3f", said["algorithm"], *said["acceleration"], *said["spin"])
    return out + struct.pack(">B11sI", 1, marking.encode(), 0)


def stamped(seconds: float, *, absolute: bool) -> int:
    """Time past the hour in units of 3600 s / 2^31, the lowest bit telling what clock."""
    return (int(seconds % 3600.0 / 3600.0 * 2**31 + 0.5) % 2**31) * 2 + (1 if absolute else 0)


def datagrams(m: Motion, sender: Sender, capture: Capture, **who) -> list[tuple[float, bytes]]:
    """(when captured, PDU) of a craft."""
    rng = np.random.default_rng([capture.seed, who["domain"]])
    out = []
    for i, said in updates(m, sender):
        now = START + m.time[i]
        zero = 0.0 if sender.absolute else START - 17.0
        stamp = stamped(now + sender.clock - zero, absolute=sender.absolute)
        late = sender.delay + sender.jitter * rng.exponential()
        out.append((now + late, pdu(said, stamp, sender, exercise=capture.exercise, **who)))
    return out


def write(path, packets, kind: str) -> None:
    """Write (when, PDU) to a capture or a dump, in the order of their times."""
    packets = sorted(packets, key=lambda one: one[0])
    if kind in ("dump", "prefixed"):
        lead = (lambda p: b"") if kind == "dump" else (lambda p: struct.pack(">I", len(p)))
        path.write_bytes(b"".join(lead(p) + p for _, p in packets))
        return
    frames = []
    for when, payload in packets:
        udp = struct.pack(">4H", 3000, 3000, 8 + len(payload), 0) + payload
        ends = b"\x0a\0\0\1" + b"\xff" * 4
        ip = struct.pack(">BBHHHBBH8s", 0x45, 0, 20 + len(udp), 0, 0x4000, 64, 17, 0, ends)
        frames.append((round(when * 1e6), b"\xff" * 6 + b"\2\0\0\0\0\1" + b"\x08\0" + ip + udp))
    if kind == "pcap":
        out = [struct.pack("<IHHiIII", 0xA1B2C3D4, 2, 4, 0, 0, 262144, 1)]
        out += [struct.pack("<4I", u // 10**6, u % 10**6, len(f), len(f)) + f for u, f in frames]
    else:
        out = [struct.pack("<IIIHHqI", 0x0A0D0D0A, 28, 0x1A2B3C4D, 1, 0, -1, 28)]
        out.append(struct.pack("<IIHHII", 1, 20, 1, 0, 0, 20))
        for u, f in frames:
            size = 32 + (len(f) + 3) // 4 * 4
            head = struct.pack("<7I", 6, size, 0, u >> 32, u & 0xFFFFFFFF, len(f), len(f))
            out.append(head + f.ljust(size - 32, b"\0") + struct.pack("<I", size))
    path.write_bytes(b"".join(out))


def write_capture(folder, flight: Flight, reference, capture: Capture) -> tuple[list[str], list[str]]:
    """Write a flight; returns its files and the options that name the ship's."""
    ending = {"pcap": "pcap", "pcapng": "pcapng"}.get(capture.kind, "bin")
    flown, sailed = of_aircraft(flight, reference), of_ship(flight)
    air = datagrams(flown, capture.aircraft, capture, entity=(1, 2, 3), domain=AIR, marking="Wren")
    sea = datagrams(sailed, capture.ship, capture, entity=(1, 7, 9), domain=SURFACE, marking="Ark")
    name, ship_name = f"track.{ending}", f"ship.{ending}"
    if not capture.apart:
        write(folder / name, air + sea, capture.kind)
        return [name], []
    write(folder / name, air, capture.kind)
    write(folder / ship_name, sea, capture.kind)
    return [name, ship_name], ["--ship", ship_name]
