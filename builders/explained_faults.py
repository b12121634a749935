"""How each fault is flown: what a plan is changed to, and what the pilot does wrong."""

from __future__ import annotations

import math

from fly_errors import Fault
from fly_geometry import NAUTICAL_MILE

THRUST = {"A4": 1.0, "F4N": 1.35}  # throttle that weighs as much as one of the light jet's
#: faults that flights of other faults show as well, so that fewer flights of their own are enough
BROUGHT_ALONG = {
    "nose-for-ball", "power-idle", "power-cut-at-ramp", "chased-ball", "flared", "dived",
    "high-brought-down", "low-in-window", "burst-then-cut", "undershot-start", "short-groove",
    "pattern-altitude",
}  # fmt: skip
#: faults that only some of their flights show
SELDOM = {"roll-without-power", "late-line-up", "long-groove", "hook-skip"}


def one_side(rng):
    return 1.0 if rng.integers(2) else -1.0


def approach(code, rng, jet):
    """Plan changes, fault and event of a code of the approach."""
    u, k = rng.uniform, THRUST[jet]
    if code == "slow-held":
        return {"alpha": ((1500, s := u(1.3, 2.4)), (0, s))}, None
    if code == "fast-held":
        return {"alpha": ((1500, -(s := u(1.3, 2.4))), (0, -s))}, None
    if code == "nose-for-ball":
        e = one_side(rng) * u(0.4, 0.6)
        shape = {"glide": ((1500, e), (1100, e), (900, 0.0), (0, 0.0)), "start": 0.85}
        return shape, Fault(
            "nose for ball", at=u(950, 1080), seconds=u(3.0, 4.5), size=u(1.8, 2.6), more=u(0.8, 1.2)
        )
    if code == "power-left-in":
        e = u(0.4, 0.65)
        shape = {"glide": ((1500, -e), (1150, -e), (700, 0.0), (0, 0.0)), "start": 0.85}
        return shape, Fault("leave in", at=u(950, 1150), seconds=9, size=k * u(0.08, 0.13), more=u(0.4, 0.6))
    if code == "power-idle":
        e = u(0.3, 0.7)
        shape = {"glide": ((1500, e), (1100, e), (800, 0.0), (0, 0.0)), "start": 0.85}
        return shape, Fault(
            "idle while low", at=u(800, 1100), seconds=6, size=u(0.0, 0.06), more=-u(0.25, 0.45)
        )
    if code == "power-sawing":
        return {}, Fault("saw", at=u(900, 1200), seconds=u(9, 13), size=k * u(0.14, 0.2), more=u(1.4, 2.1))
    if code == "power-cut-at-ramp":
        return {"aim": u(0, 14)}, Fault("cut", at=u(30, 110), size=-k * u(0.16, 0.35))
    if code == "chased-ball":
        e = one_side(rng) * u(0.35, 0.5)
        shape = {"glide": ((1700, e), (1400, e), (1200, 0.0), (0, 0.0)), "start": 0.95}
        return shape, Fault(
            "chase", at=u(1350, 1450), seconds=u(18, 20), size=k * u(0.12, 0.18), more=u(0.9, 1.3)
        )
    if code == "flared":
        return {"aim": u(-14, 0), "flare": (u(90, 150), u(2.6, 4.0))}, None
    if code == "dived":
        return {"aim": u(0, 14), "glide": ((1500, 0.0), (500, 0.25), (0, 0.15))}, Fault(
            "nose", at=u(170, 330), seconds=u(2.2, 3.2), size=-u(2.6, 4.0)
        )
    if code == "high-brought-down":
        e = u(0.5, 0.8)
        return {"glide": ((1500, e), (400, e), (200, 0.0), (0, 0.0)), "aim": u(4, 14)}, Fault(
            "push down", at=u(360, 450), seconds=u(2.2, 3.2), size=k * u(0.12, 0.2), more=u(0.6, 1.2)
        )
    if code == "low-in-window":
        e = u(0.55, 0.8)
        return {"glide": ((1500, 0.0), (800, -e), (150, -e), (0, -0.6 * e))}, None
    if code == "late-wave-off":
        return {"wave_off": u(25, 95)}, None
    if code == "burst-then-cut":
        e = u(0.4, 0.65)
        shape = {"glide": ((1500, 0.0), (1000, -e), (450, -e), (0, 0.0))}
        return shape, Fault(
            "burst", at=u(330, 650), seconds=u(2.6, 3.4), size=k * u(0.22, 0.35), more=k * u(0.15, 0.25)
        )
    if code == "over-rotated":
        return {"wave_off": u(110, 240)}, Fault("over-rotate", size=u(4.5, 6.5))
    if code == "roll-without-power":
        return {}, Fault("roll", at=u(700, 1100), seconds=u(4.5, 6.0), size=one_side(rng) * u(15, 22))
    if code == "drifted":
        side, start = one_side(rng), u(450, 650)
        wind = (-9.0 - side * u(12, 25), u(10, 16))
        end = start * u(0.016, 0.024)
        return {"lateral": ((1500, 0.0), (start, 0.0), (0, side * end)), "wind": wind}, None
    if code == "late-line-up":
        side, at, bank, seconds = one_side(rng), u(250, 320), u(11, 16), u(3.2, 4.0)
        off = side * 9.8 * math.tan(math.radians(bank)) * (0.85 * seconds / 2) ** 2
        return {"lateral": ((1500, off), (at, off), (at - 100, 0.0), (0, 0.0))}, Fault(
            "side step", at=at, seconds=seconds, size=-side * bank
        )
    raise KeyError(code)


APPROACH = (
    "slow-held", "fast-held", "nose-for-ball", "power-left-in", "power-idle", "power-sawing",
    "power-cut-at-ramp", "chased-ball", "flared", "dived", "high-brought-down", "low-in-window",
    "late-wave-off", "burst-then-cut", "over-rotated", "roll-without-power", "drifted", "late-line-up",
)  # fmt: skip
PATTERN = (
    "straight-astern", "overshot-start", "undershot-start", "short-groove", "long-groove",
    "pattern-altitude", "barometric-error", "abeam-distance",
)  # fmt: skip


#: wires that do not hold
SKIPS = ((2, 3), (3, 4), (1, 2), (2,), (3,), (1, 2, 3))


def pattern(code, rng, key):
    """Plan changes and fault of a code of the pattern."""
    u = rng.uniform
    if code == "straight-astern":
        # stays on the wake until two thirds of a mile, then comes over
        wake = math.tan(math.radians({"halcyon": 9.0, "petrel": 9.6, "kestrel": 8.0, "tern": 10.5}[key]))
        at = u(1200, 1350)
        lateral = ((3000, -3000 * wake), (at, -at * wake), (350, 0.0), (0, 0.0))
        return {"turn_delay": u(12, 17), "lateral": lateral}, Fault("astern")
    if code == "overshot-start":
        return {"turn_delay": u(6, 10)}, Fault("beside", size=u(75, 130))
    if code == "undershot-start":
        off = -u(75, 110)
        lateral = ((2500, off), (1000, off), (350, 0.0), (0, 0.0))
        return {"turn_delay": u(8, 12), "lateral": lateral}, Fault("beside", size=off)
    if code == "short-groove":
        return {"turn_delay": 0.0, "abeam": u(1.0, 1.1) * NAUTICAL_MILE, "turn_bank": 30.0}, None
    if code == "long-groove":
        return {"turn_delay": u(15, 22)}, None
    if code == "pattern-altitude":
        return {}, Fault("pattern height", size=one_side(rng) * u(140, 240) * 0.3048)
    if code == "barometric-error":
        return {}, Fault("altimeter", size=one_side(rng) * u(120, 200) * 0.3048)
    if code == "abeam-distance":
        far = rng.integers(2)
        # close in there is no room for a turn of the usual bank
        return {"abeam": (u(1.6, 2.0) if far else u(0.70, 0.82)) * NAUTICAL_MILE,
                "turn_bank": 25.0 if far else 36.0}, None  # fmt: skip
    raise KeyError(code)
