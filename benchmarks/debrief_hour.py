"""An hour at 20 Hz from command to JSON, against a process that only reads the same file.

python benchmarks/debrief_hour.py
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from pathlib import Path

from measure import once, pairs, report

RUNS = 5
#: a table of numbers as it stands in memory: an hour at 20 Hz, 25 columns of 8 bytes
TABLE_MIB = 3600 * 20 * 25 * 8 / 2**20

HERE = Path(__file__).parent
#: in a process of its own, since the memory of this one would count for those it starts
WRITE = "import sys; sys.path.insert(0, sys.argv[1]); import hour; hour.write(sys.argv[2])"
READ_ONLY = "import sys, polars; polars.read_csv(sys.argv[1])"


def main() -> None:
    python = sys.executable
    with tempfile.TemporaryDirectory() as folder:
        recording = str(Path(folder) / "hour.csv")
        once([python, "-c", WRITE, str(HERE), recording])
        found = pairs(
            [python, "-m", "deckward", "debrief", recording, "--json"],
            [python, "-c", READ_ONLY, recording],
            RUNS,
        )
    report("debrief an hour", "import the table library and read it", found, 3.0)
    above = statistics.median(a.peak_mib - b.peak_mib for a, b in found)
    print(f"memory above it: {above:.0f} MiB, {above / TABLE_MIB:.1f} tables (at most 3)")


if __name__ == "__main__":
    main()
