"""The bundled jets against the open flight dynamics library's models that they stand for."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import numpy as np
import pytest

from deckward import aircraft

jsbsim = pytest.importorskip("jsbsim")

INCH = 0.0254
POUND = 0.45359237
POUND_FORCE = 4.4482216152605
# the recordings' reference point, inches of the model's structural frame: its centre of gravity
# as the library reports it at the weight below
MODELS = {
    "sandlark": ("A4", 12_750.0, 125.0, (300.31, -12.51)),
    "stormcote": ("F4N", 33_000.0, 134.0, (0.0, -2.86)),
}


def parsed(model):
    return ElementTree.parse(Path(jsbsim.get_default_root_dir()) / "aircraft" / model / f"{model}.xml")


def inches(element):
    return tuple(float(element.findtext(axis)) for axis in "xyz")


def body(point, reference):
    """Structural inches (x aft, y right, z up) to body metres (x forward, y right, z down)."""
    x, y, z = point
    return (-(x - reference[0]) * INCH, y * INCH, -(z - reference[1]) * INCH)


def trimmed(model, weight, speed):
    fdm = jsbsim.FGFDMExec(None)
    fdm.set_debug_level(0)
    fdm.load_model(model)
    fdm["propulsion/tank[0]/contents-lbs"] = weight - fdm["inertia/empty-weight-lbs"]
    for name, value in {
        "ic/h-sl-ft": 200.0,
        "ic/vc-kts": speed,
        "ic/gamma-deg": -2.9,
        "gear/gear-cmd-norm": 1.0,
        "gear/gear-pos-norm": 1.0,
        "fcs/flap-cmd-norm": 1.0,
        "fcs/flap-pos-norm": 1.0,
        "fcs/flap-pos-deg": 30.0,
    }.items():
        fdm[name] = value
    fdm.run_ic()
    fdm["propulsion/set-running"] = -1
    fdm["simulation/do_simple_trim"] = 1
    fdm.run()
    return fdm


@pytest.mark.parametrize("name", MODELS)
def test_wheels_stand_where_the_model_has_them(name):
    model, _, _, reference = MODELS[name]
    made = aircraft.load(name)
    contacts = {c.get("name"): inches(c.find("location")) for c in parsed(model).iter("contact")}
    assert made.main_wheels == pytest.approx(body(contacts["RIGHT_MAIN"], reference), abs=2e-3)
    assert made.nose_wheel == pytest.approx(body(contacts["NOSE"], reference), abs=2e-3)


@pytest.mark.parametrize("name", MODELS)
def test_the_eye_stands_where_the_model_has_it(name):
    model, _, _, reference = MODELS[name]
    places = {place.get("name"): inches(place) for place in parsed(model).iter("location")}
    forward, right, down = body(places["EYEPOINT"], reference)
    # one model gives its eye's distance ahead with the sign of "aft"
    assert aircraft.load(name).eye == pytest.approx((abs(forward), right, down), abs=2e-3)


@pytest.mark.parametrize("name", MODELS)
def test_the_model_flies_the_profile_on_speed(name):
    """Trimmed on a glide path at its approach speed, as the profile's tables say."""
    model, weight, speed, reference = MODELS[name]
    made, fdm = aircraft.load(name), trimmed(model, weight, speed)
    assert fdm["inertia/cg-x-in"] == pytest.approx(reference[0], abs=0.05)
    assert fdm["inertia/cg-z-in"] == pytest.approx(reference[1], abs=0.05)
    alpha = fdm["aero/alpha-deg"]
    assert alpha == pytest.approx(math.degrees(made.on_speed), abs=0.2)

    aero = made.tables["aerodynamics"]
    force = fdm["aero/qbar-psf"] * fdm["metrics/Sw-sqft"]
    for key, measured in (
        ("lift_coefficient", fdm["forces/fwz-aero-lbs"] / force),
        ("drag_coefficient", fdm["forces/fwx-aero-lbs"] / force),
    ):
        assert np.interp(alpha, aero["angle_of_attack_deg"], aero[key]) == pytest.approx(measured, rel=0.01)
    assert aero["reference_area_m2"] == pytest.approx(fdm["metrics/Sw-sqft"] * 0.3048**2, rel=1e-3)
    assert aero["span_m"] == pytest.approx(fdm["metrics/bw-ft"] * 0.3048, rel=1e-3)
    assert aero["chord_m"] == pytest.approx(fdm["metrics/cbarw-ft"] * 0.3048, rel=1e-3)
    mass = made.tables["mass"]
    assert mass["reference_kg"] == pytest.approx(fdm["inertia/weight-lbs"] * POUND, rel=1e-3)
    assert mass["pitch_inertia_kgm2"] == pytest.approx(fdm["inertia/iyy-slugs_ft2"] * 1.3558179, rel=2e-3)

    count = 2 if name == "stormcote" else 1
    thrust = sum(fdm[f"propulsion/engine[{i}]/thrust-lbs"] for i in range(count)) * POUND_FORCE
    flow = sum(fdm[f"propulsion/engine[{i}]/fuel-flow-rate-pps"] for i in range(count)) * POUND
    engine, fuel = made.tables["engine"], made.tables["fuel"]
    # the table is coarse, thrust bends between its rows: within a tenth
    assert np.interp(fdm["fcs/throttle-cmd-norm"], engine["power"], engine["thrust_n"]) == pytest.approx(
        thrust, rel=0.1
    )
    assert np.interp(thrust, fuel["thrust_n"], fuel["flow_kgps"]) == pytest.approx(flow, rel=0.03)
