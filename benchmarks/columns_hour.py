"""``deckward columns`` on an hour at 20 Hz, 25 columns of foreign names: the process's CPU time and memory.

    python benchmarks/columns_hour.py

Against a process that imports the table library and reads the file, in pairs; and ``python -c pass``.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

PAIRS = 5
NAMES = {
    "time_s": "Zeit", "latitude_deg": "Breite", "longitude_deg": "Länge", "altitude_m": "Höhe",
    "pitch_deg": "Nick", "roll_deg": "Querlage", "heading_deg": "Kurs rw", "true_airspeed_kt": "TAS [kt]",
    "throttle": "Gas", "angle_of_attack_deg": "Anstellwinkel", "ship_latitude_deg": "Schiff Breite",
    "ship_longitude_deg": "Schiff Länge", "ship_altitude_m": "Schiff Höhe", "ship_heading_deg": "Schiff Kurs",
}  # fmt: skip
READ = "import polars, sys; polars.read_csv(sys.argv[1]).shape"


def cost(argv: list[str]) -> tuple[float, float]:
    """Run a process: its CPU time, s, and its peak memory, MiB."""
    child = subprocess.Popen([sys.executable, *argv], stdout=subprocess.DEVNULL)
    _, status, used = os.wait4(child.pid, 0)
    assert os.waitstatus_to_exitcode(status) == 0, argv
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def main() -> None:
    """Measure in pairs and print medians; with a path, only write the hour there."""
    if len(sys.argv) > 1:
        sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
        from support.recorded_flight import columns_of, flight, write_csv

        columns = {NAMES.get(name, name): values for name, values in columns_of(flight(3600.0)).items()}
        write_csv(Path(sys.argv[1]), columns)
        return
    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "hour.csv"
        # by a process of its own: a child's peak counts from what its parent holds
        subprocess.run([sys.executable, __file__, str(path)], check=True)
        columns_command = ["-m", "deckward", "columns", str(path), "--json"]
        runs = {"columns": columns_command, "read": ["-c", READ, str(path)], "nothing": ["-c", "pass"]}
        seen: dict[str, list[tuple[float, float]]] = {what: [] for what in runs}
        for _ in range(PAIRS):
            for what, argv in runs.items():
                seen[what].append(cost(argv))
    for what, costs in seen.items():
        seconds, memory = (statistics.median(values) for values in zip(*costs, strict=True))
        print(f"{what:8s} {seconds:5.2f} s of CPU time, {memory:4.0f} MiB at most")


if __name__ == "__main__":
    main()
