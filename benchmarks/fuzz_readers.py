"""Spoil files for so many seconds of CPU time, and tell what their readers made of them.

    python benchmarks/fuzz_readers.py SECONDS [FIRST SEED]

Prints a row a kind of file: cases, read, refused, broken (an unexpected error, a message without file or
remedy), the longest case in CPU time; every broken case with its seed; and the most memory that was used.
"""

from __future__ import annotations

import contextlib
import resource
import sys
import tempfile
import time
import warnings
from collections import Counter, defaultdict
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
from support.spoiling import KINDS, try_case

TOLD_EVERY = 120.0


def main() -> None:
    """Run until the CPU time is spent."""
    warnings.simplefilter("ignore")
    seconds, seed = float(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1_000_000
    counts: dict[str, Counter[str]] = defaultdict(Counter)
    longest: dict[str, tuple[float, int]] = {kind.name: (0.0, 0) for kind in KINDS}
    broken: dict[str, list[int]] = defaultdict(list)
    said = 0.0
    with tempfile.TemporaryDirectory() as name, contextlib.suppress(KeyboardInterrupt):
        while time.process_time() < seconds:
            before = time.process_time()
            outcome = try_case(seed, Path(name))
            took = time.process_time() - before
            counts[outcome.kind][outcome.what] += 1
            longest[outcome.kind] = max(longest[outcome.kind], (took, seed))
            if outcome.what == "broken":
                if len(broken[outcome.why]) == 0:
                    print(f"broken, seed {seed}, {outcome.kind}: {outcome.why}", flush=True)
                broken[outcome.why].append(seed)
            seed += 1
            if time.process_time() - said > TOLD_EVERY:
                said = time.process_time()
                print(f"{said:.0f} s: {sum(map(Counter.total, counts.values()))} cases", flush=True)
    print(f"{'kind':26s} {'cases':>7s} {'read':>7s} {'refused':>8s} {'broken':>7s}  longest")
    for kind in KINDS:
        row, (took, at) = counts[kind.name], longest[kind.name]
        print(
            f"{kind.name:26s} {row.total():7d} {row['read']:7d} {row['refused']:8d} {row['broken']:7d}"
            f"  {took:.2f} s (seed {at})"
        )
    total = sum(counts.values(), Counter())
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"{total.total()} cases in {time.process_time():.0f} s of CPU time, {dict(total)}, "
        f"{peak:.0f} MiB at most"
    )


if __name__ == "__main__":
    main()
