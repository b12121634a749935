"""Aircraft: the bundled ones, a person's own, and how a bad one is refused."""

from __future__ import annotations

import json
import math
import re

import numpy as np
import pytest

from deckward import aircraft
from deckward.errors import InputError

BUNDLED = list(aircraft.bundled())
#: without its launch table, in whose place the tests put their own
JET = re.sub(r"(?ms)^\[launch\].*?^(?=\[fuel\])", "", aircraft.source("sandlark"))


def test_what_is_bundled():
    assert BUNDLED == ["cr2144-power-approach", "generic-jet", "sandlark", "stormcote"]
    assert [name for name in BUNDLED if aircraft.load(name).generic] == ["generic-jet"]
    assert all(len(line) < 100 for line in aircraft.bundled().values())


@pytest.mark.parametrize("name", BUNDLED)
def test_each_bundled_aircraft_is_whole_and_flyable(name):
    made = aircraft.load(name)
    low, high = made.band
    assert made.slight_band[0] <= low < made.on_speed < high <= made.slight_band[1]
    pitch = made.on_speed - math.radians(2.9)

    def below(point):
        return point[2] * math.cos(pitch) - point[0] * math.sin(pitch)

    # on speed: hook lowest and aft, then wheels, the eye well above both
    assert 0.3 < below(made.hook) - below(made.main_wheels) < 1.2
    assert 3 < below(made.hook) - below(made.eye) < 6.5
    assert made.hook[0] < made.main_wheels[0] < made.nose_wheel[0]
    assert made.hook[1] == made.eye[1] == 0
    rows = dict(aircraft.describe(made))
    assert rows["name"] == made.name and "hook, down" in rows
    assert all(text and "nan" not in text for text in rows.values())
    json.dumps(dict(made.tables))


@pytest.mark.parametrize("name", [name for name in BUNDLED if aircraft.load(name).tables])
def test_each_table_of_a_bundled_aircraft_can_fly_its_approach(name):
    """Lift carries the reference mass at a carrier approach speed; thrust and fuel reach the drag."""
    made = aircraft.load(name)
    aero, mass = made.tables["aerodynamics"], made.tables["mass"]["reference_kg"]
    on_speed = math.degrees(made.on_speed)

    lift = np.interp(on_speed, aero["angle_of_attack_deg"], aero["lift_coefficient"])
    drag = np.interp(on_speed, aero["angle_of_attack_deg"], aero["drag_coefficient"])
    weight = mass * 9.80665
    speed = math.sqrt(2 * weight / (1.225 * aero["reference_area_m2"] * lift))
    assert 115 < speed * 3600 / 1852 < 145
    if "engine" in made.tables:
        engine, fuel = made.tables["engine"], made.tables["fuel"]
        needed = weight * drag / lift
        assert engine["thrust_n"][0] < needed < engine["thrust_n"][-1]
        flow = np.interp(needed, fuel["thrust_n"], fuel["flow_kgps"])
        # level flight burns a little more than half the military flow at most
        assert fuel["flow_kgps"][0] < flow < 0.7 * fuel["flow_kgps"][-1]
        assert flow == pytest.approx(fuel["level"][0]["flow_kgps"], rel=0.03)


@pytest.mark.parametrize("name", BUNDLED)
def test_a_copy_of_a_bundled_file_is_the_same_aircraft(name, tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(aircraft.source(name), encoding="utf-8")
    mine, theirs = aircraft.load(path), aircraft.load(name)
    assert not mine.generic
    assert (mine.eye, mine.hook, mine.band, mine.sigma) == (
        theirs.eye,
        theirs.hook,
        theirs.band,
        theirs.sigma,
    )
    assert mine.tables == theirs.tables


def test_numbers_come_in_radians_metres_and_kilograms():
    made = aircraft.load("sandlark")
    assert made.on_speed == pytest.approx(math.radians(8))
    assert made.slight_band == pytest.approx((math.radians(6.8), math.radians(9.2)))
    assert made.max_landing_mass == 6600
    assert made.on_speed_pitch is None
    assert aircraft.load("generic-jet").sigma.on_speed == pytest.approx(math.radians(1))


def test_tables_keep_the_units_of_their_keys_and_leave_out_what_is_absent():
    tables = aircraft.load("sandlark").tables
    assert tables["engine"]["power"][0] == 0 and "afterburner_n" not in tables["engine"]
    assert tables["engine"]["lag_s"] == 0.0
    assert tables["aerodynamics"]["derivatives"]["pitch_per_alpha"] == -0.38
    assert "drag_per_alpha" not in tables["aerodynamics"]["derivatives"]
    assert tables["fuel"]["level"][0]["airspeed_kt"] == 125


def test_words_of_an_aircraft():
    rows = dict(aircraft.describe(aircraft.load("sandlark")))
    assert rows["eye"] == "16.7 ft forward, 4.0 ft above: from the recorded point"
    assert rows["main wheels"] == "1.0 ft aft, 2.5 ft to each side, 4.0 ft below: from the recorded point"
    assert rows["heaviest landing"] == "14,551 lb"
    assert rows["known to within"] == "taken as exact"
    assert "on-speed 1.0 deg" in dict(aircraft.describe(aircraft.load("generic-jet")))["known to within"]


def test_an_aircraft_without_a_hook_lands_on_its_wheels(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(JET.replace("hook = [-4.10, 0.0, 1.55]", "hook = [-0.305, 0, 1.208]"), encoding="utf-8")
    assert aircraft.load(path).hook == (-0.305, 0.0, 1.208)


def test_a_misspelt_name_is_told_with_the_bundled_ones():
    with pytest.raises(InputError) as caught:
        aircraft.load("sandlarc")
    message = str(caught.value)
    assert "--aircraft" in message and "Did you mean 'sandlark'?" in message
    assert all(name in message for name in BUNDLED)


LAUNCH = (
    '[launch]\nsource = "invented"\nmass_kg = [5000, 6000]\ntrim_deg = [5, 7]\n'
    "end_airspeed_kt = [120, 130]\n[mass]"
)

# (part to change, what to change it to; the key, what is wrong, what to do)
BAD = [
    ("[points_m]", "[points]", "points", "unknown key", "Did you mean 'points_m'?"),
    ("eye = [5.085, 0.0, -1.232]", "", "points_m.eye", "missing", "the pilot's eye"),
    ("eye = [5.085, 0.0, -1.232]", "eye = 5.085", "points_m.eye", "the number 5.085", "3 numbers"),
    ("eye = [5.085, 0.0, -1.232]", "eye = [5.085, 0.0]", "points_m.eye", "a list of 2", "3 numbers"),
    ("eye = [5.085, 0.0, -1.232]", "eye = [5.085, 0.0, 1.232]", "points_m.eye", "not above", "counts down"),
    ("eye = [5.085, 0.0, -1.232]", "eye = [200.2, 0.0, -1.2]", "points_m.eye", "out of range", "-60 to 60"),
    ("eye = [5.085, 0.0, -1.232]", "eyes = [5.085, 0.0, -1.232]", "points_m.eyes", "unknown", "'eye'"),
    (
        "hook = [-4.10, 0.0, 1.55]",
        "hook = [-4.10, 0.0, -1.55]",
        "points_m.hook",
        "could not meet",
        "hook down",
    ),
    ("hook = [-4.10, 0.0, 1.55]", "hook = [4.10, 0.0, 1.0]", "points_m.hook", "could not meet", "hook down"),
    ("hook = [-4.10, 0.0, 1.55]", "hook = [-4.10, nan, 1.55]", "points_m.hook", "nan is not", "hook point"),
    ("hook = [-4.10, 0.0, 1.55]", 'hook = "down"', "points_m.hook", 'the text "down"', "hook point"),
    (
        "main_wheels = [-0.305, 0.754",
        "main_wheels = [-0.305, -0.754",
        "points_m.main_wheels",
        "is -0.754",
        "right",
    ),
    (
        "main_wheels = [-0.305, 0.754",
        "main_wheels = [-0.305, 0",
        "points_m.main_wheels",
        "is 0",
        "mirrors",
    ),
    ("main_wheels =", "main_wheel =", "points_m.main_wheel", "unknown key", "'main_wheels'"),
    (
        "nose_wheel = [5.975, 0.0, 1.208]",
        "nose_wheel = []",
        "points_m.nose_wheel",
        "a list of 0",
        "nose wheel",
    ),
    (
        "on_speed_deg = 8.0",
        "on_speed_deg = 140",
        "approach.on_speed_deg",
        "140 is out",
        "not in cockpit units",
    ),
    ("on_speed_deg = 8.0", "on_speed_deg = inf", "approach.on_speed_deg", "inf is not", "angle of attack"),
    ("on_speed_deg = 8.0", "", "approach.on_speed_deg", "missing", "from -5 to 30"),
    (
        "on_speed_deg = 8.0",
        "on_speed_deg = 9.0",
        "approach.on_speed_band_deg",
        "does not lie",
        "lower end first",
    ),
    ("[7.3, 8.7]", "[8.7, 7.3]", "approach.on_speed_band_deg", "does not lie", "lower end first"),
    ("[7.3, 8.7]", "[7.3]", "approach.on_speed_band_deg", "a list of 1", "2 numbers"),
    ("[7.3, 8.7]", "[7.3, 8.0, 8.7]", "approach.on_speed_band_deg", "a list of 3", "2 numbers"),
    ("[6.8, 9.2]", "[7.5, 9.2]", "approach.slight_band_deg", "does not hold", "lies inside"),
    ("[6.8, 9.2]", "[6.8, 8.0]", "approach.slight_band_deg", "does not hold", "lies inside"),
    ("[6.8, 9.2]", "[6.8, 92]", "approach.slight_band_deg", "92 is out of range", "fast or slow"),
    (
        "max_landing_mass_kg = 6600",
        "max_landing_mass_kg = 0",
        "approach.max_landing_mass_kg",
        "out of",
        "heaviest",
    ),
    (
        "max_landing_mass_kg = 6600",
        "max_landing_mass_lb = 1",
        "approach.max_landing_mass_lb",
        "unknown",
        "_kg",
    ),
    (
        "max_landing_mass_kg = 6600",
        "max_landing_mass_kg = 4000",
        "approach.max_landing_mass_kg",
        "empty",
        "land",
    ),
    (
        "on_speed_deg = 8.0",
        "on_speed_deg = 8.0\non_speed_pitch_deg = 53",
        "approach.on_speed_pitch_deg",
        "53",
        "40",
    ),
    ('name = "Sandlark"', "", "name", "missing", "what the aircraft is called"),
    ('name = "Sandlark"', 'name = ["Sandlark"]', "name", "a list of 1", "a text in quotes"),
    ('name = "Sandlark"', 'name = "Sandlark"\nkind = "jet"', "kind", "unknown key", "Known here"),
    (
        "max_launch_kg = 10206",
        "max_launch_kg = 4000",
        "mass.max_launch_kg",
        "no more than the empty",
        "heaviest",
    ),
    ("empty_kg = 4649", "empty_kg = -4649", "mass.empty_kg", "out of range", "without fuel and stores"),
    ("pitch_inertia_kgm2 = 35116", "pitch_inertia_kgm2 = 0", "mass.pitch_inertia_kgm2", "out of", "above 0"),
    ("reference_area_m2 = 24.155", "", "aerodynamics.reference_area_m2", "missing", "wing area"),
    ("span_m = 8.382", "span_ft = 27.5", "aerodynamics.span_ft", "unknown key", "'span_m'"),
    ("[0.68, 2.80,", "[2.80, 0.68,", "aerodynamics.angle_of_attack_deg", "do not rise", "Order the table"),
    (
        "[0.470, 0.594,",
        "[0.594,",
        "aerodynamics.lift_coefficient",
        "a list of 11 stands beside 12",
        "one number",
    ),
    ("[0.142, 0.156,", "[-0.142, 0.156,", "aerodynamics.drag_coefficient", "out of range", "above 0"),
    (
        "[0.68, 2.80, 5.00, 6.90, 8.01, 9.25, 10.36, 11.57, 12.91,",
        "[8.68, 8.80, 9.00, 9.90, 10.01, 11.25, 12.36, 13.57, 13.91,",
        "aerodynamics.angle_of_attack_deg",
        "does not reach on-speed",
        "around the approach",
    ),
    (
        "lift_per_alpha = 3.54",
        "cl_alpha = 3.54",
        "aerodynamics.derivatives.cl_alpha",
        "unknown key",
        "lift_per",
    ),
    ("[0.0, 0.1, 0.2, 0.3,", "[0.0, 10, 20, 30,", "engine.power", "10 is out of range", "from 0 to 1"),
    ("[2400, 2830,", "[2830, 2400,", "engine.thrust_n", "falls while power rises", "from idle up"),
    ("[0.22, 0.22,", "[0.22,", "engine.rise_per_s", "a list of 10 stands beside 11", "one number"),
    ("[0.66, 0.66,", "[0, 0.66,", "engine.fall_per_s", "0 is out of range", "above 0"),
    (
        "power = [",
        "afterburner_n = 10\npower = [",
        "engine.afterburner_n",
        "no more than",
        "full afterburner",
    ),
    (
        'source = "measured on the model near the sea, 120 to 130 kt"',
        "",
        "engine.source",
        "missing",
        "come from",
    ),
    ("flow_kgps = [0.119,", "flow_kgps = [", "fuel.flow_kgps", "a list of 8 stands beside 9", "one number"),
    ("airspeed_kt = 125", "", "fuel.level[1].airspeed_kt", "missing", "calibrated"),
    (
        "[mass]",
        LAUNCH.replace("5000, 6000", "6000, 5000"),
        "launch.mass_kg",
        "do not rise",
        "Order the table",
    ),
    ("[mass]", LAUNCH.replace("[5, 7]", "[5, 7, 9]"), "launch.trim_deg", "a list of 3 stands", "one number"),
    (
        "[mass]",
        LAUNCH.replace("120, 130", "120, 1300"),
        "launch.end_airspeed_kt",
        "1300 is out",
        "least airspeed",
    ),
    ("[mass]", "[sigma]\neye_m = [1, 1]\n[mass]", "sigma.eye_m", "a list of 2", "3 numbers"),
    ("[mass]", "[sigma]\non_speed_deg = -1\n[mass]", "sigma.on_speed_deg", "out of range", "from 0 to 10"),
    ("[mass]", "[mass]\n[mass]", "line", "not valid TOML", "key = value"),
    ("on_speed_deg = 8.0", "on_speed_deg = 8.0 deg", "line", "not valid TOML", "key = value"),
]


@pytest.mark.parametrize(("old", "new", "key", "problem", "remedy"), BAD)
def test_a_bad_aircraft_is_refused_with_key_reason_and_remedy(tmp_path, old, new, key, problem, remedy):
    assert JET.count(old) >= 1
    path = tmp_path / "mine.toml"
    path.write_text(JET.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        aircraft.load(path)
    message = str(caught.value)
    assert message.startswith(str(path))
    told = next((line for line in message.splitlines() if f"key {key}" in line), message)
    assert key in told and problem in told and remedy in told
    assert caught.value.exit_code == 2


def test_a_good_launch_table_is_taken(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(JET.replace("[mass]", LAUNCH, 1), encoding="utf-8")
    assert aircraft.load(path).tables["launch"]["end_airspeed_kt"] == [120.0, 130.0]
