"""Measure the bundled carrier jets' tables on the open flight dynamics library's models.

Prints, for each model, level-flight trims in approach configuration (angle of attack, lift
and drag coefficients, thrust, fuel flow), thrust against throttle, and how quickly the
engine follows the throttle. The numbers in the bundled aircraft files are rounded from this.

    python builders/measure_jets.py
"""

from __future__ import annotations

import contextlib
import io

import jsbsim
import numpy as np

POUND_FORCE = 4.4482216152605
POUND = 0.45359237

POWERS = (0.1, 0.3, 0.5, 0.7, 0.9)

JETS = {
    # model: weight lb, on-speed calibrated airspeed kt, speeds to trim at, kt
    "A4": (12_750.0, 125.0, (108, 112, 116, 120, 125, 130, 140, 155, 175)),
    "F4N": (33_000.0, 134.0, (114, 117, 120, 125, 130, 134, 140, 150, 165, 185)),
}


def start(model: str, weight_lb: float, calibrated_kt: float):
    """Start a model low over the sea, gear and flaps down, engines running."""
    with contextlib.redirect_stdout(io.StringIO()):
        fdm = jsbsim.FGFDMExec(None)
    fdm.set_debug_level(0)
    fdm.load_model(model)
    fuel = weight_lb - fdm["inertia/empty-weight-lbs"]
    fdm["propulsion/tank[0]/contents-lbs"] = fuel
    for name, value in {
        "ic/h-sl-ft": 200.0,
        "ic/vc-kts": calibrated_kt,
        "ic/gamma-deg": 0.0,
        "gear/gear-cmd-norm": 1.0,
        "gear/gear-pos-norm": 1.0,
        "fcs/flap-cmd-norm": 1.0,
        "fcs/flap-pos-norm": 1.0,
        "fcs/flap-pos-deg": 30.0,
    }.items():
        fdm[name] = value
    fdm.run_ic()
    fdm["propulsion/set-running"] = -1
    return fdm


def trim(model: str, weight_lb: float, calibrated_kt: float):
    """Trim level and take one step, so that every property belongs to the trim."""
    fdm = start(model, weight_lb, calibrated_kt)
    fdm["simulation/do_simple_trim"] = 1
    fdm.run()
    return fdm


def engines(fdm) -> range:
    """Return the engines' numbers."""
    return range(2 if fdm.get_model_name() == "F4N" else 1)


def show_trims(model: str, weight_lb: float, speeds) -> None:
    """Print one line a trim."""
    print("  kt CAS  alpha deg   CL      CD     thrust N  throttle  fuel kg/s  elevator deg")
    for speed in speeds:
        fdm = trim(model, weight_lb, speed)
        pressure_area = fdm["aero/qbar-psf"] * fdm["metrics/Sw-sqft"]
        thrust = sum(fdm[f"propulsion/engine[{i}]/thrust-lbs"] for i in engines(fdm))
        flow = sum(fdm[f"propulsion/engine[{i}]/fuel-flow-rate-pps"] for i in engines(fdm))
        print(
            f"  {speed:6.0f} {fdm['aero/alpha-deg']:9.3f} "
            f"{fdm['forces/fwz-aero-lbs'] / pressure_area:8.4f} "
            f"{fdm['forces/fwx-aero-lbs'] / pressure_area:7.4f} "
            f"{thrust * POUND_FORCE:9.0f} {fdm['fcs/throttle-cmd-norm']:9.3f} "
            f"{flow * POUND:9.4f} {np.degrees(fdm['fcs/elevator-pos-rad']):9.2f}"
        )


def hold(fdm, throttle: float) -> None:
    for i in engines(fdm):
        fdm[f"fcs/throttle-cmd-norm[{i}]"] = throttle


def show_power(model: str, weight_lb: float, speed: float) -> None:
    """Print thrust against throttle, all engines, near the sea at approach speed."""
    print("  throttle  thrust N   fuel kg/s  (whole aircraft)")
    for throttle in (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.98, 1.0):
        fdm = trim(model, weight_lb, speed)
        hold(fdm, throttle)
        # 4 s bring the spool near its end while the speed has hardly changed
        for _ in range(int(4.0 / fdm.get_delta_t())):
            fdm.run()
        thrust = sum(fdm[f"propulsion/engine[{i}]/thrust-lbs"] for i in engines(fdm))
        flow = sum(fdm[f"propulsion/engine[{i}]/fuel-flow-rate-pps"] for i in engines(fdm))
        print(f"  {throttle:7.2f} {thrust * POUND_FORCE:10.0f} {flow * POUND:10.4f}")


def show_spool(model: str, weight_lb: float, speed: float) -> None:
    """Print how fast power can rise and fall, as a fraction of the throttle's travel a second.

    Power is the compressor speed between idle and full: 0 to 1, as the throttle that holds it.
    """
    rates = {}
    for word, first, target in (("rise", 0.05, 0.97), ("fall", 0.97, 0.05)):
        fdm = trim(model, weight_lb, speed)
        hold(fdm, first)
        for _ in range(int(3.0 / fdm.get_delta_t())):
            fdm.run()
        hold(fdm, target)
        idle = {"A4": 60.0, "F4N": 53.0}[model]
        power = []
        for _ in range(int(6.0 / fdm.get_delta_t())):
            power.append((fdm["propulsion/engine[0]/n2"] - idle) / (100.0 - idle))
            fdm.run()
        rate = np.gradient(power, fdm.get_delta_t())
        rates[word] = [rate[int(np.argmin(np.abs(np.array(power) - at)))] for at in POWERS]
    for at, up, down in zip(POWERS, rates["rise"], rates["fall"], strict=True):
        print(f"  power {at:.2f}: rises {up:5.2f}, falls {-down:5.2f} a second")


def main() -> None:
    """Print everything."""
    for model, (weight_lb, speed, speeds) in JETS.items():
        fdm = start(model, weight_lb, speed)
        print(
            f"{model}: {weight_lb:.0f} lb; centre of gravity at "
            f"{fdm['inertia/cg-x-in']:.2f}, {fdm['inertia/cg-z-in']:.2f} in of the structural frame; "
            f"pitch inertia {fdm['inertia/iyy-slugs_ft2'] * 1.3558179483:.0f} kg m2"
        )
        show_trims(model, weight_lb, speeds)
        show_power(model, weight_lb, speed)
        show_spool(model, weight_lb, speed)


if __name__ == "__main__":
    main()
