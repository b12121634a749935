"""Damage captures of PDUs in every way and read them: ``builders/fuzz_dis.py [minutes of CPU time] [seed]``.

Anything but a recording or a refusal with words (``InputError``) is a fault and is kept in a file beside
where the script runs. Prints how many were tried and what came of them, the slowest and the memory.
"""

from __future__ import annotations

import contextlib
import gzip
import resource
import struct
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

import numpy as np
from fly_dis import START, Capture, Motion, Sender, datagrams, write
from fly_geometry import to_earth_centred

from deckward.errors import InputError
from deckward.recordings import open_recording


def session(folder: Path, kind: str, rate: float | None) -> bytes:
    """Twelve seconds of an aircraft and a ship, in memory."""
    t = np.arange(0.0, 12.0, 1.0 / 120.0)
    place = to_earth_centred(36.0, -75.0, 300.0) + np.outer(t, [40.0, 30.0, 50.0])
    body = np.broadcast_to(np.eye(3), (t.size, 3, 3))
    speed = np.broadcast_to([40.0, 30.0, 50.0], (t.size, 3))
    still = np.zeros((t.size, 3))
    packets = []
    for domain, entity, shift in ((2, (1, 2, 3), 0.0), (3, (1, 7, 9), 900.0)):
        moved = Motion(t, place + shift, body, speed, still, still)
        sender = Sender(rate=rate, heartbeat=1.0)
        packets += datagrams(moved, sender, Capture(), entity=entity, domain=domain, marking="Wren")
    path = folder / "clean"
    write(path, packets, kind)
    return path.read_bytes()


def damaged(data: bytes, rng) -> bytes:
    """One to four kinds of damage, one upon the other."""
    out = bytearray(data)
    for _ in range(int(rng.integers(1, 5))):
        way = int(rng.integers(8))
        size = max(len(out), 1)
        at = int(rng.integers(size))
        if way == 0:  # flipped bits
            for place in rng.integers(size, size=int(rng.integers(1, 40))):
                if place < len(out):
                    out[place] ^= 1 << int(rng.integers(8))
        elif way == 1:  # cut short
            del out[at:]
        elif way == 2:  # a piece left out, or twice
            piece = out[at : at + int(rng.integers(1, 400))]
            out[at : at + len(piece)] = b"" if rng.random() < 0.5 else piece * 2
        elif way == 3:  # a length of all kinds, in either order
            value = int(rng.choice([0, 1, 11, 12, 143, 144, 255, 4096, 65535, 2**31 - 1, 2**31, 2**32 - 1]))
            out[at : at + 4] = struct.pack(rng.choice(["<I", ">I"]), value)
        elif way == 4:  # numbers that are none
            out[at : at + 8] = struct.pack(">d", float(rng.choice([np.nan, np.inf, -np.inf, 1e308, 0.0])))
        elif way == 5:  # noise
            noise = rng.integers(256, size=int(rng.integers(1, 300)), dtype=np.uint8).tobytes()
            out[at : at + len(noise)] = noise
        elif way == 6:  # only the head, and noise
            noise = rng.integers(256, size=2000, dtype=np.uint8).tobytes()
            out = bytearray(bytes(out[: int(rng.integers(200))]) + noise)
        else:  # fields of every PDU alike
            field, width = int(rng.integers(144)), int(rng.integers(1, 9))
            value = rng.integers(256, size=width, dtype=np.uint8).tobytes()
            for start in range(62, len(out) - 144, 202):
                out[start + field : start + field + width] = value
    return bytes(out)


def main() -> int:
    minutes = float(sys.argv[1]) if len(sys.argv) > 1 else 5.0
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    rng = np.random.default_rng(seed)
    came: Counter[str] = Counter()
    slowest, faults = 0.0, 0
    with tempfile.TemporaryDirectory() as name, contextlib.suppress(KeyboardInterrupt):
        folder = Path(name)
        kinds = ("pcap", "pcapng", "dump", "prefixed")
        clean = [session(folder, kind, rate) for kind in kinds for rate in (10.0, None)]
        first = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        end = time.process_time() + 60.0 * minutes
        while time.process_time() < end:
            data = damaged(clean[int(rng.integers(len(clean)))], rng)
            path = folder / "capture"
            path.write_bytes(gzip.compress(data, 1) if rng.random() < 0.1 else data)
            start = time.process_time()
            try:
                recording = open_recording(path)
                came["read, with a note" if recording.notes else "read, without a note"] += 1
            except InputError as error:
                came["refused"] += 1
                if not error.file or not error.problem:
                    came["refused without place or problem"] += 1
            except Exception as error:
                faults += 1
                came[f"FAULT {type(error).__name__}: {error}"[:120]] += 1
                Path(f"fuzz-fault-{seed}-{faults}.bin").write_bytes(data)
            slowest = max(slowest, time.process_time() - start)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - first
    print(f"seed {seed}, {minutes:g} min of CPU time, {sum(came.values())} captures (began at {START:.0f} s)")
    for what, count in came.most_common():
        print(f"  {count:7d} {what}")
    print(f"  slowest {slowest:.2f} s of CPU time; memory grew by {peak / 1024:.0f} MiB")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
