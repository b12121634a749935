"""Fly a plan again with its aim moved until the pass ends where it is wanted."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from fly_plan import Flight, Plan
from fly_truth import Seen, contact


def miss(flight: Flight, hit):
    """How far (m along the deck) the flight missed what it was to hit, None where it cannot be told."""
    seen = Seen(flight, (0, 0, 0), flight.plan.site, None)
    slope = math.tan(math.radians(flight.plan.site["lens"]["basic_angle_deg"]))
    what, wanted = hit
    if what == "ramp":
        i = int(np.argmax(seen.hook[:, 0] > 0))
        return (wanted - seen.hook[i, 2]) / slope
    met = contact(seen)
    if met is None or met[0] == "ramp":
        over = (seen.hook[:, 0] > 0) & (seen.hook[:, 0] < 230)
        low = float(seen.hook[over, 2].min()) if over.any() else 0.0
        return -max(3.0, min(25.0, low / slope)) if met is None else 15.0
    if what == "wheels":
        down = min(seen.right[met[2], 2], seen.left[met[2], 2])
        return wanted - (float(seen.right[met[2], 0]) + down / slope)
    i = met[2]
    a, b = seen.hook[i - 2], seen.hook[i - 1]
    where = b[0] + (b[0] - a[0]) * b[2] / max(a[2] - b[2], 1e-3)
    return wanted - float(where)


def fly_to(plan: Plan, hit, fly, tries=6) -> Flight:
    """Fly with ``fly(plan)``, moving the aim until ``hit`` is met or the tries are spent."""
    flight, before = fly(plan), None
    for _ in range(tries if hit else 0):
        off = miss(flight, hit)
        slope = math.tan(math.radians(3.5)) if hit[0] == "ramp" else 1.0
        if abs(off) * slope < (0.03 if hit[0] == "ramp" else 0.4):
            break
        answer = 1.0  # metres of hook touchdown for a metre of aim
        if before is not None and plan.aim != before[0]:
            answer = min(3.0, max(0.5, (before[1] - off) / (plan.aim - before[0])))
        before = plan.aim, off
        plan = replace(plan, aim=plan.aim + max(-40.0, min(40.0, off / answer)))
        flight = fly(plan)
    return flight
