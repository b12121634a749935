"""Reading an hour at 20 Hz, 25 columns: time and memory against a process that only reads.

    python benchmarks/reading.py [ROUNDS]

Each round runs two processes, the one after the other: one imports polars and reads the
file; one opens it as a recording, cleaned and judged. Prints the medians, their ratio,
and how many tables (rows x columns x 8 bytes) the second peaks above the first.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

ROWS, COLUMNS = 72_000, 25
#: made in a process of its own: a child's peak counts from its parent's size
WRITE = """
import sys
from pathlib import Path
import polars
sys.path.insert(0, sys.argv[2])
from support.recorded_flight import columns_of, flight, write_csv, write_json_lines
columns, folder = columns_of(flight(3600.0)), Path(sys.argv[1])
assert (len(columns["time_s"]), len(columns)) == (72_000, 25)
write_csv(folder / "hour.csv", columns)
write_json_lines(folder / "hour.jsonl", columns)
polars.DataFrame(columns).write_parquet(folder / "hour.parquet")
"""
READ_ONLY = {
    "csv": "import sys, polars; polars.read_csv(sys.argv[1])",
    "parquet": "import sys, polars; polars.read_parquet(sys.argv[1])",
    "jsonl": "import sys, polars; polars.read_ndjson(sys.argv[1])",
}
AS_RECORDING = "import sys; from deckward.recordings import open_recording; open_recording(sys.argv[1])"


def run(code: str, *words: str) -> tuple[float, int]:
    """Run some Python; wall time in s and peak memory in bytes."""
    start = time.perf_counter()
    process = subprocess.Popen([sys.executable, "-c", code, *words])
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise SystemExit(f"failed: {code}")
    return time.perf_counter() - start, usage.ru_maxrss * (1 if sys.platform == "darwin" else 1024)


def main() -> None:
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    table = ROWS * COLUMNS * 8
    with tempfile.TemporaryDirectory() as folder:
        run(WRITE, folder, str(Path(__file__).parents[1] / "tests"))
        print(f"{ROWS} rows, {COLUMNS} columns; a table is {table / 1e6:.1f} MB")
        for kind, read_only in READ_ONLY.items():
            path = str(Path(folder) / f"hour.{kind}")
            pairs = [(run(read_only, path), run(AS_RECORDING, path)) for _ in range(rounds)]
            base, ours = (median(pair[i][0] for pair in pairs) for i in (0, 1))
            extra = median(pair[1][1] - pair[0][1] for pair in pairs) / table
            print(
                f"{kind:8} only read {base:.3f} s, as a recording {ours:.3f} s: {ours / base:.2f} times; "
                f"{extra:+.1f} tables at the peak"
            )


if __name__ == "__main__":
    main()
