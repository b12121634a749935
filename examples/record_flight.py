"""Record a flight as Deckward reads it: python record_flight.py flight.csv [seconds]."""

import csv
import math
import sys
import time

RATE = 20  # samples a second; 10 is enough, more is better near the deck
DECIMALS = {"latitude_deg": 9, "longitude_deg": 9, "altitude_m": 3, "heading_deg": 4, "pitch_deg": 4,
            "roll_deg": 4, "true_airspeed_mps": 3, "angle_of_attack_deg": 4, "throttle": 3, "hook": 0,
            "ship_latitude_deg": 9, "ship_longitude_deg": 9, "ship_altitude_m": 3,
            "ship_heading_deg": 4, "ship_pitch_deg": 4, "ship_roll_deg": 4}  # fmt: skip


def read(now: float) -> dict[str, float]:
    """Ask the simulator for everything at one instant: put its own calls here."""
    ahead = 1500.0 - 60.0 * now  # m left to the ship, who steams north at 10 m/s
    north = 1 / 111_200.0
    return {
        "latitude_deg": 30.0 + (10.0 * now - ahead - 150.0) * north, "longitude_deg": -75.0,
        "altitude_m": 24.0 + ahead * math.tan(math.radians(3.5)), "heading_deg": 0.0, "pitch_deg": 5.0,
        "roll_deg": 0.0, "true_airspeed_mps": 70.0, "angle_of_attack_deg": 8.0, "throttle": 0.6, "hook": 1.0,
        "ship_latitude_deg": 30.0 + 10.0 * now * north, "ship_longitude_deg": -75.0, "ship_altitude_m": 0.0,
        "ship_heading_deg": 0.0, "ship_pitch_deg": 0.0, "ship_roll_deg": 0.0,
    }  # fmt: skip


def record(path: str, seconds: float, wait=time.sleep, clock=time.monotonic) -> None:
    """Write samples until the time is up, each stamped with the moment it was asked for."""
    start = clock()
    with open(path, "w", newline="", encoding="utf-8") as file:  # noqa: PTH123
        rows = csv.writer(file)
        rows.writerow(["time_s", *DECIMALS])
        while (now := clock() - start) < seconds:
            state = read(now)
            rows.writerow([f"{now:.4f}", *(f"{state[name]:.{n}f}" for name, n in DECIMALS.items())])
            wait(max(0.0, 1.0 / RATE - (clock() - start - now)))


if __name__ == "__main__":
    record(sys.argv[1], float(sys.argv[2]) if len(sys.argv) > 2 else 3600.0)
