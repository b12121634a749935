"""Time whole processes from outside, in pairs: A B A B ..., so that a drifting machine cancels out."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from dataclasses import dataclass


@dataclass(frozen=True)
class Run:
    """Wall seconds, the largest memory, MiB, and the CPU seconds of one finished process."""

    seconds: float
    peak_mib: float
    cpu_seconds: float


def once(command: list[str]) -> Run:
    """Run a command to its end and account for it (Linux and macOS)."""
    start = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    seconds = time.perf_counter() - start
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise SystemExit(f"{' '.join(command)} ended with exit code {process.returncode}")
    unit = 2**20 if sys.platform == "darwin" else 2**10
    return Run(seconds, usage.ru_maxrss / unit, usage.ru_utime + usage.ru_stime)


def pairs(ours: list[str], theirs: list[str], runs: int) -> list[tuple[Run, Run]]:
    """Run both in turn; the first pair warms the disk and is not counted."""
    return [(once(ours), once(theirs)) for _ in range(runs + 1)][1:]


def report(name: str, yardstick: str, found: list[tuple[Run, Run]], allowed: float) -> None:
    """Print the medians and the ratio, taken pair by pair."""
    ratio = statistics.median(a.seconds / b.seconds for a, b in found)
    ours = statistics.median(a.seconds for a, _ in found)
    theirs = statistics.median(b.seconds for _, b in found)
    print(f"{name}: {ours * 1e3:.0f} ms")
    print(f"{yardstick}: {theirs * 1e3:.0f} ms")
    print(f"ratio: {ratio:.2f} (at most {allowed:g})")
