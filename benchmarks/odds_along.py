"""The odds along recorded passes against the time that the passes took to fly, after one warm-up.

    PYTHONPATH=src python benchmarks/odds_along.py

The passes are the first of the demo session. From each of up to 200 moments 500 continuations are
flown, once by the usual population of pilots and once by a pilot who is followed along the pass; the
last safe wave-off is left out. Told are seconds on the clock, with as many threads as there are cores, and of
the processor, of which a pass on two cores may take twice its own time.
"""

from __future__ import annotations

import os
import statistics
import time

from deckward import prediction, workflow
from deckward.explanation import ahead
from deckward.prediction.ensemble import compiled

PASSES = 3
#: somebody who is followed: any pilot but the standard one
KNOWN = prediction.Pilot(height_gain=0.022)


def main() -> None:
    """Print each pass's times and the ratios' medians."""
    print(f"{'compiled' if compiled() else 'in arrays'}, {os.cpu_count()} cores")
    passes = [item.flown for item in workflow.demo().report.passes][:PASSES]
    found = [(flown, ahead.moments(flown)) for flown in passes]
    looked_at = [(flown, told) for flown, told in found if told is not None]
    ahead.odds_at(looked_at[0][1], count=2, pilot=KNOWN)
    ratios: dict[str, list[float]] = {"usual": [], "known": []}
    for flown, told in looked_at:
        took = flown.end - flown.start  # the turn with it, which no odds are told of
        shown = float(told.time[-1] - told.time[0])
        for name, pilot in (("usual", None), ("known", KNOWN)):
            clock, processor = time.perf_counter(), time.process_time()
            ahead.odds_at(told, count=ahead.CONTINUATIONS, pilot=pilot, seed=1)
            clock, processor = time.perf_counter() - clock, time.process_time() - processor
            ratios[name].append(processor / 2.0 / shown)
            print(
                f"pass of {took:.0f} s, {told.time.size} moments in its last {shown:.0f} s, {name} pilot: "
                f"{clock:.1f} s on the clock, {processor:.1f} s of the processor"
            )
    for name, values in ratios.items():
        print(
            f"{name}: half the processor time over that of the stretch that the moments are in: median "
            f"{statistics.median(values):.2f}, worst {max(values):.2f} (less than 1)"
        )


if __name__ == "__main__":
    main()
