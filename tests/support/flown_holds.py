"""Many jets at once that fly their holding plans by the clock; shares no code with the planner.

Each rolls at a steady rate, turns by its bank, rolls out a little before the heading it
wants, then keeps that heading. Earth axes: north and east, m; the ship moves, so does the air.
"""

from __future__ import annotations

import numpy as np

G = 9.80665


def fly(legs, place, heading, airspeed, wind, until, *, roll_rate, step=0.2):
    """Fly to each jet's time; returns place (n, 2), heading (n,).

    ``legs`` is (n, m, 5): start, heading, bank, turned, padded with starts of infinity;
    ``wind`` (n, 2) where the air goes; ``until`` (n,).
    """
    n = len(legs)
    place, heading = np.array(place, float), np.array(heading, float)
    bank, row = np.zeros(n), np.arange(n)
    current = np.full(n, -1)
    begun = heading.copy()
    rolling_out = np.zeros(n, dtype=bool)
    end_place, end_heading = place.copy(), heading.copy()
    for k in range(int(np.ceil(until.max() / step)) + 1):
        now = k * step
        done = (now <= until) & (until < now + step)
        part = (until - now)[done, None]
        over_ground = airspeed[:, None] * np.column_stack([np.cos(heading), np.sin(heading)]) + wind
        end_place[done] = place[done] + part * over_ground[done]
        end_heading[done] = heading[done]
        leg = (legs[:, :, 0] <= now + 1e-9).sum(axis=1) - 1
        new = leg != current
        begun, rolling_out, current = np.where(new, heading, begun), rolling_out & ~new, leg
        _, wanted, full, turned = legs[row, np.maximum(leg, 0)].T
        side = np.sign(full)
        to_go = np.abs(turned) - side * (heading - begun)
        lead = G * np.tan(np.abs(full)) / airspeed * np.abs(full) / roll_rate / 2.0
        rolling_out |= (side != 0.0) & (to_go <= lead)
        error = np.remainder(wanted - heading + np.pi, 2 * np.pi) - np.pi
        keep = np.clip(2.0 * error, -0.2, 0.2)
        target = np.where(side == 0.0, keep, np.where(rolling_out, 0.0, full))
        change = np.clip(target - bank, -roll_rate * step, roll_rate * step)
        rate = G * np.tan(bank + change / 2) / airspeed
        middle = heading + rate * step / 2
        place += step * (airspeed[:, None] * np.column_stack([np.cos(middle), np.sin(middle)]) + wind)
        heading += rate * step
        bank += change
    return end_place, end_heading
