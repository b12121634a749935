"""The open flight dynamics library's carrier jets behind a small handle: place, command, step, read."""

from __future__ import annotations

import math
import os
from dataclasses import dataclass
from functools import cache

os.environ["JSBSIM_DEBUG"] = "0"

import jsbsim
from fly_geometry import FOOT, KNOT
from fly_ship import STEP

jsbsim.FGJSBBase().debug_lvl = 0

READ = (
    "position/ecef-x-ft",
    "position/ecef-y-ft",
    "position/ecef-z-ft",
    "position/lat-geod-deg",
    "position/long-gc-deg",
    "position/geod-alt-ft",
    "velocities/v-north-fps",
    "velocities/v-east-fps",
    "velocities/v-down-fps",
    "attitude/phi-rad",
    "attitude/theta-rad",
    "attitude/psi-rad",
    "velocities/p-rad_sec",
    "velocities/q-rad_sec",
    "velocities/r-rad_sec",
    "aero/alpha-rad",
    "velocities/vt-fps",
    "velocities/vc-kts",
    "accelerations/Nz",
    "inertia/weight-lbs",
    "propulsion/engine[0]/n2",
    "propulsion/engine[0]/fuel-flow-rate-pps",
    "gear/gear-pos-norm",
    "fcs/flap-pos-deg",
    "aero/beta-rad",
)


@dataclass(frozen=True)
class JetType:
    """A model of the library with what the loops and the deck run need; metres, per unit mass."""

    model: str
    fuel_lb: float
    on_speed: float  # deg
    approach_kt: float
    points: dict  # from the centre of gravity, body frame
    pitch_gyration: float  # m^2
    roll_gyration: float
    lift_zero: float  # deg, angle of attack of no lift, gear and flaps down
    thrust_to_weight: float  # at full throttle
    elevator_gain: float
    rate_gain: float
    engines: int


A4 = JetType(
    model="A4",
    fuel_lb=2500.0,
    on_speed=8.0,
    approach_kt=126.0,
    points={
        "eye": (5.084064, 0.0, -1.231392),
        "hook": (-4.328160, 0.0, 1.889760),
        "main_wheels": (-0.304800, 1.188720, 1.798320),
        "nose_wheel": (3.352800, 0.0, 1.798320),
    },
    pitch_gyration=6.0,
    roll_gyration=1.4,
    lift_zero=-7.0,
    thrust_to_weight=0.70,
    elevator_gain=8.0,
    rate_gain=5.0,
    engines=1,
)
F4N = JetType(
    model="F4N",
    fuel_lb=5000.0,
    on_speed=6.0,
    approach_kt=134.0,
    points={
        "eye": (4.419600, 0.0, -1.371600),
        "hook": (-3.383280, 0.0, 1.767840),
        "main_wheels": (-0.762000, 1.816608, 1.554480),
        "nose_wheel": (6.644640, 0.0, 1.554480),
    },
    pitch_gyration=12.0,
    roll_gyration=3.2,
    lift_zero=-9.0,
    thrust_to_weight=0.75,
    elevator_gain=2.0,
    rate_gain=1.6,
    engines=2,
)
TYPES = {"A4": A4, "F4N": F4N}


class Jet:
    """One fresh simulator instance in the landing configuration."""

    def __init__(self, kind: JetType, wind, clean: bool = False):
        self.kind = kind
        fdm = jsbsim.FGFDMExec(None)
        fdm.set_debug_level(0)
        fdm.load_model(kind.model)
        fdm.set_dt(STEP)
        self.fdm = fdm
        pm = fdm.get_property_manager()
        fdm["propulsion/tank[0]/contents-lbs"] = kind.fuel_lb
        gear = 0.0 if clean else 1.0
        fdm["gear/gear-cmd-norm"] = gear
        fdm["gear/gear-pos-norm"] = gear
        fdm["fcs/flap-cmd-norm"] = gear
        fdm["fcs/flap-pos-norm"] = gear
        fdm["fcs/flap-pos-deg"] = 30.0 * gear
        self.wind = wind
        self._read = [pm.get_node(name).get_double_value for name in READ]
        self._set = {
            name: pm.get_node(path).set_double_value
            for name, path in {
                "elevator": "fcs/elevator-cmd-norm",
                "aileron": "fcs/aileron-cmd-norm",
                "rudder": "fcs/rudder-cmd-norm",
                "gust_n": "atmosphere/gust-north-fps",
                "gust_e": "atmosphere/gust-east-fps",
                "gust_d": "atmosphere/gust-down-fps",
            }.items()
        }
        self._throttles = [
            pm.get_node(f"fcs/throttle-cmd-norm[{i}]").set_double_value for i in range(kind.engines)
        ]

    def place(self, *, latitude, longitude, height, velocity, attitude, throttle, rates=(0.0, 0.0, 0.0)):
        """Start at deg, deg, m with north-east-down m/s over the ground and yaw, pitch, roll in rad."""
        f = self.fdm
        f["ic/lat-geod-deg"] = latitude
        f["ic/long-gc-deg"] = longitude
        f["ic/h-sl-ft"] = height / FOOT
        f["ic/psi-true-rad"], f["ic/theta-rad"], f["ic/phi-rad"] = attitude
        f["ic/vn-fps"], f["ic/ve-fps"], f["ic/vd-fps"] = (v / FOOT for v in velocity)
        f["ic/p-rad_sec"], f["ic/q-rad_sec"], f["ic/r-rad_sec"] = rates
        for put in self._throttles:
            put(throttle)
        f.run_ic()
        f["propulsion/set-running"] = -1
        f["propulsion/fuel_freeze"] = 1
        f["atmosphere/wind-north-fps"] = self.wind[0] / FOOT
        f["atmosphere/wind-east-fps"] = self.wind[1] / FOOT
        f["atmosphere/wind-down-fps"] = 0.0
        f.suspend_integration()
        f.run()
        f.resume_integration()

    def command(self, throttle, elevator, aileron, rudder=0.0):
        for put in self._throttles:
            put(throttle)
        self._set["elevator"](elevator)
        self._set["aileron"](aileron)
        self._set["rudder"](rudder)

    def gust(self, n, e, d):
        """Air moving north, east, down on top of the steady wind, m/s."""
        self._set["gust_n"](n / FOOT)
        self._set["gust_e"](e / FOOT)
        self._set["gust_d"](d / FOOT)

    def configure(self, gear, flaps):
        self.fdm["gear/gear-cmd-norm"] = gear
        self.fdm["fcs/flap-cmd-norm"] = flaps

    def step(self):
        self.fdm.run()

    def read(self):
        """State by READ's order, as the library gives it."""
        return [get() for get in self._read]


@cache
def trim(model: str):
    """Throttle, elevator and true airspeed (m/s) that hold the on-speed approach in still air."""
    kind = TYPES[model]
    low, high = kind.approach_kt - 20, kind.approach_kt + 25
    for _ in range(30):
        speed = 0.5 * (low + high)
        jet = Jet(kind, (0.0, 0.0))
        f = jet.fdm
        f["ic/h-sl-ft"], f["ic/vc-kts"], f["ic/gamma-deg"] = 400.0, speed, -2.7
        f.run_ic()
        f["propulsion/set-running"] = -1
        f["simulation/do_simple_trim"] = 0
        if f["aero/alpha-deg"] > kind.on_speed:
            low = speed
        else:
            high = speed
        if abs(f["aero/alpha-deg"] - kind.on_speed) < 1e-3:
            break
    elevator = f["fcs/elevator-cmd-norm"] + f["fcs/pitch-trim-cmd-norm"]
    return f["fcs/throttle-cmd-norm"], elevator, f["velocities/vt-fps"] * FOOT


def wind_vector(from_deg: float, speed_kt: float):
    """North and east components of the moving air, m/s."""
    a = math.radians(from_deg)
    return -speed_kt * KNOT * math.cos(a), -speed_kt * KNOT * math.sin(a)
