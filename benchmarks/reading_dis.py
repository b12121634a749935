"""Reading Entity State PDUs: decoding alone, finding them in a capture, a whole session.

    python benchmarks/reading_dis.py

Decoding: PDUs that lie evenly, and scattered as in a capture. A session: an hour of ten
aircraft and a ship at 10 Hz, captured on Ethernet.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
from deckward.recordings import dis_frames, dis_pdu, open_recording
from support.dis_packets import as_ship, datagram, ethernet, pcap, states_of
from support.recorded_flight import flight


def best(work, rounds: int = 5) -> float:
    """Give the shortest of some rounds, s of CPU time."""
    times = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def decode(data: bytes, offsets: np.ndarray) -> list[np.ndarray]:
    """Decode states and bring what a track needs into the machine's own numbers."""
    states = dis_pdu.decode(data, offsets)
    wanted = ("timestamp", "velocity", "location", "orientation", "acceleration", "angular_velocity")
    return [states[name].astype(float) for name in wanted]


def main() -> None:
    truth = flight(3600.0, 10.0)
    rows = range(2, truth["time"].size - 2)
    start = 1_937_124_000.0
    states = []
    for number in range(10):
        states += states_of(truth, rows, start=start, marking=f"Wren {number}", entity=(1, 1, number))
    states += states_of(as_ship(truth), rows, start=start, marking="Ark", entity=(1, 1, 99), domain=3)
    states.sort(key=lambda state: state[0])
    count = len(states)
    data = pcap([(when, ethernet(datagram(pdu))) for when, pdu in states])
    even = b"".join(pdu for _, pdu in states)
    offsets = np.arange(count) * 144
    took = best(lambda: decode(even, offsets))
    print(f"decoding, evenly laid: {count / took / 1e6:.1f} million a second")
    frames = dis_frames.find_frames(data)
    scattered = np.delete(frames.offsets, 5)
    took = best(lambda: decode(data, scattered))
    print(f"decoding, scattered:   {count / took / 1e6:.1f} million a second")
    took = best(lambda: dis_frames.find_frames(data))
    print(f"finding in a capture:  {count / took / 1e6:.1f} million a second ({len(data) / 1e6:.0f} MB)")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "session.pcap"
        path.write_bytes(data)
        took = best(lambda: open_recording(path), 2)
    print(f"a session of {count} states, cleaned and judged: {took:.2f} s")


if __name__ == "__main__":
    main()
