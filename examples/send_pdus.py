"""Send a flight as IEEE 1278.1 Entity State PDUs: python send_pdus.py HOST:PORT|FILE [seconds]."""

import math
import socket
import struct
import sys
import time

RATE = 20  # updates a second; 10 is enough, more is better near the deck
AIR, SURFACE = 2, 3  # the domain tells aircraft and ship apart
A, E2 = 6378137.0, 6.69437999014e-3  # WGS 84


def read(now: float) -> dict[str, tuple]:
    """Ask the simulator for everything at one instant: put its own calls here."""
    ahead, north = 1500.0 - 60.0 * now, 1 / 110_852.0  # m left to the ship, who steams north at 10 m/s
    jet = (30.0 + (10.0 * now - ahead - 150.0) * north, -75.0, 24.0 + ahead * math.tan(math.radians(3.5)))
    ship = (30.0 + 10.0 * now * north, -75.0, 0.0)
    return {  # domain; latitude, longitude, altitude; heading, pitch, roll; velocity north, east, down
        "Petrel 1": (AIR, jet, (0.0, 5.0, 0.0), (70.0, 0.0, 60.0 * math.tan(math.radians(3.5)))),
        "Ship": (SURFACE, ship, (0.0, 0.0, 0.0), (10.0, 0.0, 0.0)),
    }


def entity_state(number: int, name: str, when: float, domain: int, place, attitude, velocity) -> bytes:
    """Pack one PDU: place in degrees and metres, attitude in degrees, velocity in m/s."""
    (la, lo), (yaw, pitch, roll) = map(math.radians, place[:2]), map(math.radians, attitude)
    sla, cla, slo, clo = math.sin(la), math.cos(la), math.sin(lo), math.cos(lo)
    level = ((-sla * clo, -sla * slo, cla), (-slo, clo, 0.0), (-cla * clo, -cla * slo, -sla))
    round_ = A / math.sqrt(1.0 - E2 * sla * sla)
    flat = (round_ + place[2]) * cla
    world = (flat * clo, flat * slo, (round_ * (1.0 - E2) + place[2]) * sla)
    sy, cy, sp, cp, sr, cr = (f(a) for a in (yaw, pitch, roll) for f in (math.sin, math.cos))
    body = ((cy * cp, sy * cp, -sp), (cy * sp * sr - sy * cr, sy * sp * sr + cy * cr, cp * sr),
            (cy * sp * cr + sy * sr, sy * sp * cr - cy * sr, cp * cr), velocity)  # fmt: skip
    x, y, z, speed = ([sum(v[i] * level[i][k] for i in range(3)) for k in range(3)] for v in body)
    turned = math.atan2(x[1], x[0]), -math.asin(x[2]), math.atan2(y[2], z[2])
    stamp = round(when % 3600.0 / 3600.0 * 2**31) % 2**31 << 1 | 1  # time past the hour, synchronised
    entity = struct.pack(">HHHBBBBHBBBB8x", 1, 1, number, 1, 0, 1, domain, 0, 1, 0, 0, 0)
    motion = struct.pack(">3f3d3f4xB15x24x", *speed, *world, *turned, 2)  # 2: goes on at its velocity
    return struct.pack(">BBBBIHH", 7, 1, 1, 1, stamp, 144, 0) + entity + motion + struct.pack(
        ">B11s4x", 1, name.encode()[:11])  # fmt: skip


def send(sink, seconds: float, wait=time.sleep, clock=time.time) -> None:
    """Send every craft again and again until the time is up, stamped with the moment it was asked for."""
    start = clock()
    while (now := clock()) - start < seconds:
        for number, (name, state) in enumerate(read(now - start).items(), start=1):
            sink(entity_state(number, name, now, *state))
        wait(max(0.0, 1.0 / RATE - (clock() - now)))


if __name__ == "__main__":
    target, seconds = sys.argv[1], float(sys.argv[2]) if len(sys.argv) > 2 else 3600.0
    host, _, port = target.rpartition(":")
    if port.isdigit():
        out = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
        out.setsockopt(socket.SOL_SOCKET, socket.SO_BROADCAST, 1)
        out.connect((host, int(port)))
        send(out.send, seconds)
    else:
        with open(target, "wb") as file:  # noqa: PTH123
            send(file.write, seconds)
