"""Finding the number that makes an error nothing."""

from __future__ import annotations

from collections.abc import Callable


def root(error: Callable[[float], float], low: float, high: float, *, within: float = 1e-9) -> float:
    """Find where ``error`` changes sign between ``low`` and ``high``, which must differ in it.

    Source: false position with the Illinois rule (Dowell and Jarratt, BIT 11, 1971).
    """
    at_low, at_high = error(low), error(high)
    for _ in range(100):
        if abs(high - low) < within or at_high == 0.0:
            break
        middle = high - at_high * (high - low) / (at_high - at_low)
        at_middle = error(middle)
        if (at_middle > 0.0) != (at_high > 0.0):
            low, at_low = high, at_high
        else:
            at_low /= 2.0
        high, at_high = middle, at_middle
    return high
