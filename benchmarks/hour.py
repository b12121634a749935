"""An hour of circuits at 20 Hz: 25 columns, six touches on a ship that sails a straight course.

Drawn, not flown: straight legs, level turns and one glide path in the ship's moving axes, so
that the recording can be made again anywhere to the last digit.
"""

from __future__ import annotations

import math

import numpy as np

RATE_HZ = 20
SECONDS = 3600
PASSES = 6

SHIP_COURSE = math.radians(20.0)
SHIP_SPEED = 12.0
ANGLE = math.radians(9.0)
RAMP = (-130.0, 3.0, -19.0)
START = (math.radians(31.0), math.radians(-121.0))
EARTH = 6_371_000.0

CLOSURE = 58.0
TURN_RADIUS = 1700.0
PATTERN_HEIGHT = 290.0
GLIDE = math.radians(3.5)
ON_SPEED = math.radians(8.0)
TOUCH = 70.0
WHEEL_HEIGHT = 2.0


def write(path: str) -> None:
    """Write the hour as CSV."""
    columns = flight()
    table = np.column_stack(list(columns.values()))
    np.savetxt(path, table, fmt="%.7f", delimiter=",", header=",".join(columns), comments="")


def flight() -> dict[str, np.ndarray]:
    """Draw the hour; column name to values."""
    rng = np.random.default_rng(7)
    time = np.arange(SECONDS * RATE_HZ) / RATE_HZ
    x, y, bank = _circuit(time)
    height = _height(x, y, time)
    rate = np.gradient(height, time)

    ship_north = SHIP_SPEED * math.cos(SHIP_COURSE) * time
    ship_east = SHIP_SPEED * math.sin(SHIP_COURSE) * time
    final = SHIP_COURSE - ANGLE
    ramp_north, ramp_east = _turned(RAMP[0], RAMP[1], SHIP_COURSE)
    north, east = _turned(x, y, final)
    north, east = north + ramp_north + ship_north, east + ramp_east + ship_east
    north_rate, east_rate = np.gradient(north, time), np.gradient(east, time)
    speed = np.hypot(north_rate, east_rate)

    flaws = {name: rng.normal(0.0, sigma, time.size) for name, sigma in _FLAWS.items()}
    latitude, longitude = _place(north, east)
    ship_latitude, ship_longitude = _place(ship_north, ship_east)
    deck_pitch = np.radians(0.4) * np.sin(2 * math.pi * time / 9.0)
    deg = np.degrees
    return {
        "time_s": time,
        "latitude_deg": deg(latitude),
        "longitude_deg": deg(longitude),
        "altitude_m": height - RAMP[2],
        "pitch_deg": deg(np.arctan2(rate, speed) + ON_SPEED) + flaws["pitch"],
        "roll_deg": deg(bank) + flaws["roll"],
        "heading_deg": deg(np.arctan2(east_rate, north_rate)) % 360.0,
        "true_airspeed_kt": speed / 0.514444 + flaws["speed"],
        "indicated_airspeed_kt": speed / 0.514444 + flaws["speed"],
        "angle_of_attack_deg": deg(ON_SPEED) + flaws["alpha"],
        "vertical_speed_mps": rate,
        "normal_acceleration_g": 1.0 / np.cos(bank),
        "throttle": np.clip(0.6 + 0.02 * rate + flaws["throttle"], 0.0, 1.0),
        "fuel_flow_kgps": 0.8 + 0.01 * rate,
        "fuel_kg": 3000.0 - 0.8 * time,
        "elevator": -0.1 + flaws["throttle"],
        "gear": np.ones_like(time),
        "flaps": np.ones_like(time),
        "hook": np.ones_like(time),
        "ship_latitude_deg": deg(ship_latitude),
        "ship_longitude_deg": deg(ship_longitude),
        "ship_altitude_m": np.zeros_like(time),
        "ship_heading_deg": np.full_like(time, math.degrees(SHIP_COURSE)),
        "ship_pitch_deg": deg(deck_pitch),
        "ship_roll_deg": 0.8 * np.sin(2 * math.pi * time / 14.0),
    }


_FLAWS = {"pitch": 0.02, "roll": 0.05, "speed": 0.1, "alpha": 0.05, "throttle": 0.01}


def _circuit(time):
    """Racetrack to the left: x along the centreline from the ramp, y to starboard, bank."""
    lap = SECONDS / PASSES * CLOSURE
    turn = math.pi * TURN_RADIUS
    leg = lap / 2 - turn
    half = leg / 2
    s = (CLOSURE * time) % lap
    bank = -math.atan(CLOSURE**2 / (9.80665 * TURN_RADIUS))
    # the lap begins on the downwind side, abeam, and goes aft first
    first, second, third = half, half + turn, half + turn + leg
    aft = (s - first) / TURN_RADIUS
    ahead = (s - third) / TURN_RADIUS
    pieces = [s < first, s < second, s < third, s < third + turn]
    x = np.select(
        pieces,
        [-s, -half - TURN_RADIUS * np.sin(aft), s - second - half, half + TURN_RADIUS * np.sin(ahead)],
        half - (s - third - turn),
    )
    y = np.select(
        pieces,
        [
            np.full_like(s, -2 * TURN_RADIUS),
            -TURN_RADIUS * (1 + np.cos(aft)),
            np.zeros_like(s),
            -TURN_RADIUS * (1 - np.cos(ahead)),
        ],
        -2 * TURN_RADIUS,
    )
    turning = ((s >= first) & (s < second)) | ((s >= third) & (s < third + turn))
    return x, y, np.where(turning, bank, 0.0)


def _height(x, y, time):
    """Pattern height, then the glide to the deck, a roll along it and a climb away, corners rounded."""
    glide = WHEEL_HEIGHT + np.maximum(TOUCH - x, 0.0) * math.tan(GLIDE)
    climb = WHEEL_HEIGHT + np.maximum(x - TOUCH - 120.0, 0.0) * math.tan(2 * GLIDE)
    on_final = np.abs(y) < 1.0
    height = np.where(on_final, np.where(x < TOUCH, glide, climb), PATTERN_HEIGHT)
    height = np.minimum(height, PATTERN_HEIGHT)
    window = np.hanning(2 * RATE_HZ + 1)
    rounded = np.convolve(height, window / window.sum(), mode="same")
    near = on_final & (np.abs(x - TOUCH) < 400.0)
    edge = (time < 2.0) | (time > SECONDS - 2.0)
    return np.where(near | edge, height, rounded)


def _turned(forward, right, heading):
    return (
        forward * math.cos(heading) - right * math.sin(heading),
        forward * math.sin(heading) + right * math.cos(heading),
    )


def _place(north, east):
    latitude = START[0] + north / EARTH
    return latitude, START[1] + east / (EARTH * np.cos(START[0]))
