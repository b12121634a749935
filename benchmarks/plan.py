"""Cards of the bundled scenario as whole processes, against a process that imports the array library.

In CPU time, so that what else runs beside it counts for little.

python benchmarks/plan.py
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from pathlib import Path

from measure import pairs

RUNS = 5
SCENARIO = "lantern-evening"


def main() -> None:
    plan = [sys.executable, "-m", "deckward", "plan", SCENARIO]
    with tempfile.TemporaryDirectory() as folder:
        written = [*plan, "--out", str(Path(folder) / "cards"), "--quiet"]
        report("every card as text, PDF and PNG", written, 2.5)
    report("wind, approach and fuel as JSON", [*plan, "wind", "approach", "fuel", "--json"], 0.7)


def report(name: str, command: list[str], allowed: float) -> None:
    """Print the median CPU seconds, and the ratio to the yardstick's, taken pair by pair."""
    found = pairs(command, [sys.executable, "-c", "import numpy"], RUNS)
    seconds = statistics.median(ours.cpu_seconds for ours, _ in found)
    ratio = statistics.median(ours.cpu_seconds / theirs.cpu_seconds for ours, theirs in found)
    print(f"{name}: {seconds:.2f} s of CPU (at most {allowed:g}), {ratio:.1f} times importing numpy")


if __name__ == "__main__":
    main()
