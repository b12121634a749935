"""A hundred broken scenarios: each is told with its key, and what to do about it."""

from __future__ import annotations

import pytest

from deckward import planning
from deckward.errors import InputError

WIND = "[wind]\nfrom_deg = 240\nspeed_kt = 18\n"
FLIGHT = '[[flight]]\nname = "Larch"\n'
LEG = '[[leg]]\nname = "out"\n'
STORE = '[[store]]\nname = "pod"\n'
CATAPULT = "[launch.catapult]\n"
ALOFT = "[[wind_aloft]]\naltitude_ft = 5000\nfrom_deg = 250\nspeed_kt = 30\n"

# the file's text; the key that is told; words of the problem or the remedy
BROKEN = [
    # unknown keys and tables
    ("colour = 3", "colour", "unknown key"),
    ('nmae = "x"', "nmae", "Did you mean 'name'"),
    ('aircarft = "sandlark"', "aircarft", "Did you mean 'aircraft'"),
    ("[winds]\nfrom_deg = 3", "winds", "Did you mean 'wind'"),
    ("[wind]\nform_deg = 240\nspeed_kt = 18", "wind.form_deg", "Did you mean 'from_deg'"),
    (WIND + "gust_kt = 5", "wind.gust_kt", "Known here"),
    ("[ship]\nspeed = 12", "ship.speed", "Did you mean 'speed_kt'"),
    ("[ship]\nmax_speed_kt = 12", "ship.max_speed_kt", "unknown key"),
    ("[recovery]\ncases = 3", "recovery.cases", "Did you mean 'case'"),
    ("[recovery]\ninterval = 60", "recovery.interval", "Did you mean 'interval_s'"),
    ("[pattern]\nabeam = 1.1", "pattern.abeam", "Did you mean 'abeam_nm'"),
    ("[marshal]\nlegs_s = 60", "marshal.legs_s", "Did you mean 'leg_s'"),
    ("[divert]\nreserve = 400", "divert.reserve", "Did you mean 'reserve_lb'"),
    ("[fuel]\nlook = 2", "fuel.look", "Did you mean 'looks'"),
    ("[gear]\nrunout_ft = 300", "gear.runout_ft", "Did you mean 'run_out_ft'"),
    ("[launch]\nmargin = 15", "launch.margin", "Did you mean 'margin_kt'"),
    (STORE + "mass_lb = 3\nweight_lb = 4", "store[1].weight_lb", "unknown key"),
    (FLIGHT + "crew = 4", "flight[1].crew", "Did you mean 'crews'"),
    (LEG + "minutes = 4\nflow = 3", "leg[1].flow", "unknown key"),
    (ALOFT + "gust_kt = 3", "wind_aloft[1].gust_kt", "unknown key"),
    ("[weather]\nclouds_ft = 300", "weather.clouds_ft", "unknown key"),
    ("[sea]\nsea_state = 3", "sea.sea_state", "Did you mean 'state'"),
    ("[approach]\non_speed_kt = 130\nat_mass_lb = 30000\naoa = 8", "approach.aoa", "unknown key"),
    ("[tanker]\ngive_lb = 900\nfuel_lb = 3", "tanker.fuel_lb", "unknown key"),
    # missing keys
    ("[wind]\nspeed_kt = 18", "wind.from_deg", "this key is missing"),
    ("[wind]\nfrom_deg = 240", "wind.speed_kt", "this key is missing"),
    ("[felt_wind]\nspeed_kt = 18", "felt_wind.from_bow_deg", "this key is missing"),
    ("[[wind_aloft]]\nfrom_deg = 240\nspeed_kt = 4", "wind_aloft[1].altitude_ft", "this key is missing"),
    ("[[store]]\nmass_lb = 300", "store[1].name", "this key is missing"),
    (STORE, "store[1].mass_lb", "this key is missing"),
    ("[[flight]]\ncount = 3", "flight[1].name", "this key is missing"),
    ("[[leg]]\nminutes = 3", "leg[1].name", "this key is missing"),
    ("[tanker]\nminutes = 3", "tanker.give_lb", "this key is missing"),
    ("[approach]\nat_mass_lb = 30000", "approach.on_speed_kt", "this key is missing"),
    ("[approach]\non_speed_kt = 130", "approach.at_mass_lb", "this key is missing"),
    (CATAPULT + "mass_lb = [1, 2]", "launch.catapult.end_speed_kt", "this key is missing"),
    # out of range
    ("[wind]\nfrom_deg = 361\nspeed_kt = 18", "wind.from_deg", "from 0 to 360"),
    ("[wind]\nfrom_deg = -10\nspeed_kt = 18", "wind.from_deg", "from 0 to 360"),
    ("[wind]\nfrom_deg = 10\nspeed_kt = -18", "wind.speed_kt", "from 0 to 150"),
    ("[wind]\nfrom_deg = 10\nspeed_kt = 400", "wind.speed_kt", "from 0 to 150"),
    (WIND + "from_spread_deg = 120", "wind.from_spread_deg", "from 0 to 90"),
    ("[ship]\ncourse_deg = 400", "ship.course_deg", "from 0 to 360"),
    ("[ship]\ngreatest_speed_kt = 90", "ship.greatest_speed_kt", "from 0 to 60"),
    ("[ship]\nsea_room_nm = 0", "ship.sea_room_nm", "above 0"),
    ("[ship]\nlatitude_deg = 95\nlongitude_deg = 2", "ship.latitude_deg", "from -85 to 85"),
    ("[ship]\nlatitude_deg = 5\nlongitude_deg = 200", "ship.longitude_deg", "from -180 to 180"),
    ("[ship]\nturn_deg_per_s = 0", "ship.turn_deg_per_s", "above 0"),
    ("[ship]\ncourses_deg = [[20, 500]]", "ship.courses_deg", "from 0 to 360"),
    ("fuel_lb = -5", "fuel_lb", "from 0"),
    ("mass_lb = 1e9", "mass_lb", "from 0"),
    ("[sea]\nstate = 12", "sea.state", "from 0 to 9"),
    ("[weather]\nsea_pressure_hpa = 29.92", "weather.sea_pressure_hpa", "from 850 to 1090"),
    ("[weather]\ntemperature_c = 290", "weather.temperature_c", "from -50 to 60"),
    ("[weather]\nvisibility_nm = -1", "weather.visibility_nm", "from 0 to 100"),
    ("[recovery]\ncase = 4", "recovery.case", "from 1 to 3"),
    ("[recovery]\naircraft = 0", "recovery.aircraft", "from 1 to 40"),
    ("[recovery]\ninterval_s = 1", "recovery.interval_s", "from 10 to 900"),
    ("[recovery]\nbasic_angle_deg = 35", "recovery.basic_angle_deg", "from 2 to 6"),
    ("[pattern]\nbank_deg = 70", "pattern.bank_deg", "from 10 to 45"),
    ("[pattern]\ngroove_s = 2", "pattern.groove_s", "from 5 to 60"),
    ("[pattern]\nabeam_nm = 12", "pattern.abeam_nm", "from 0.3 to 4"),
    ("[marshal]\nairspeed_kt = 20", "marshal.airspeed_kt", "above 30"),
    ("[divert]\nbearing_deg = 20\ndistance_nm = 0", "divert.distance_nm", "above 0"),
    ("[fuel]\nflow_pct = 5", "fuel.flow_pct", "from 20 to 400"),
    ("[fuel]\nlooks = 0", "fuel.looks", "from 1 to 20"),
    ("[tanker]\ngive_lb = 900\nminutes = 0", "tanker.minutes", "above 0"),
    ("[gear]\nenergy_ftlb = 0", "gear.energy_ftlb", "above 100000"),
    ("[launch]\nmargin_kt = 100", "launch.margin_kt", "from 0 to 60"),
    (FLIGHT + "count = 50", "flight[1].count", "from 1 to 40"),
    (ALOFT.replace("5000", "-5"), "wind_aloft[1].altitude_ft", "above 0"),
    # of the wrong kind
    ('[wind]\nfrom_deg = "north"\nspeed_kt = 18', "wind.from_deg", 'the text "north"'),
    ("[wind]\nfrom_deg = 240\nspeed_kt = true", "wind.speed_kt", "true stands here"),
    ("[wind]\nfrom_deg = nan\nspeed_kt = 18", "wind.from_deg", "not a usable number"),
    ("wind = 18", "wind", "Give a table"),
    ("site = 3", "site", "a text in quotes"),
    ("time = 17.40", "time", "a text in quotes"),
    ('time = "25:00"', "time", "such as 17:40"),
    ('time = "5 pm"', "time", "such as 17:40"),
    ('[recovery]\ntime = "18:75"', "recovery.time", "such as 17:40"),
    ('[marshal]\npush = "soon"', "marshal.push", "such as 17:40"),
    ('[weather]\nnight = "yes"', "weather.night", "true or false"),
    ("[recovery]\naircraft = 2.5", "recovery.aircraft", "whole number"),
    ('[pattern]\nhold = "bank"', "pattern.hold", "angle of attack"),
    ("[ship]\ncourses_deg = [20, 50]", "ship.courses_deg", "a list"),
    ("[ship]\ncourses_deg = [[20, 50, 70]]", "ship.courses_deg", "a list of 3"),
    ("flight = 4", "flight", "a list"),
    # what keys say together
    ("[ship]\nleast_speed_kt = 30\ngreatest_speed_kt = 20", "ship.least_speed_kt", "greatest speed"),
    ("[recovery]\nleast_wind_kt = 28", "recovery.least_wind_kt", "rising order"),
    ("[recovery]\ngreatest_wind_kt = 20", "recovery.greatest_wind_kt", "rising order"),
    ("[ship]\nlatitude_deg = 5", "ship.longitude_deg", "Give all of"),
    ("[felt_wind]\nfrom_bow_deg = 3\nspeed_kt = 18", "ship.course_deg", "course and speed"),
    (
        WIND + "[felt_wind]\nfrom_bow_deg = 3\nspeed_kt = 18\n[ship]\ncourse_deg = 1\nspeed_kt = 2",
        "felt_wind",
        "told twice",
    ),
    (ALOFT + ALOFT, "wind_aloft[2].altitude_ft", "from the lowest up"),
    (FLIGHT + FLIGHT, "flight[2].name", "a name of its own"),
    (FLIGHT + 'count = 3\ncrews = ["A", "B"]', "flight[1].crews", "one name for each"),
    (FLIGHT + "bearing_deg = 20", "flight[1].distance_nm", "Give all of"),
    (LEG, "leg[1].minutes", "Give minutes or distance_nm"),
    (LEG + "distance_nm = 60", "leg[1].airspeed_kt", "needs a speed"),
    (LEG + 'minutes = 6\nflow_pph = 4000\nlike = "holding"', "leg[1].like", "told twice"),
    ("[divert]\nbearing_deg = 20", "divert.distance_nm", "Give all of"),
    (
        "[divert]\nbearing_deg = 20\ndistance_nm = 60\nlatitude_deg = 3\nlongitude_deg = 4",
        "divert.latitude_deg",
        "told twice",
    ),
    ("[divert]\nlatitude_deg = 3\nlongitude_deg = 4", "ship.latitude_deg", "the ship's place is missing"),
    ("[gear]\nmass_lb = [3000, 2000]\nengaging_kt = [100, 90]", "gear.mass_lb", "do not rise"),
    ("[gear]\nmass_lb = [2000, 3000]\nengaging_kt = [100]", "gear.engaging_kt", "one number for each"),
    (CATAPULT + "mass_lb = [3, 2]\nend_speed_kt = [100, 90]", "launch.catapult.mass_lb", "do not rise"),
    (CATAPULT + "mass_lb = [3]\nend_speed_kt = [100]", "launch.catapult.mass_lb", "a list of 1"),
    ("[pattern]\naltitude_90_ft = 700", "pattern.altitude_90_ft", "comes down"),
    ("[pattern]\ndownwind_altitude_ft = 1500", "pattern.downwind_altitude_ft", "comes down"),
    # launch, pattern and marshal
    ("[launch]\nwind = 25", "launch.wind", "Did you mean 'wind_kt'"),
    ("[launch]\naircraft = 0", "launch.aircraft", "from 1 to 40"),
    ("[launch]\ninterval_s = 2", "launch.interval_s", "from 10 to 900"),
    ("[launch]\ncrosswind_kt = -1", "launch.crosswind_kt", "from 0 to 150"),
    ("[launch]\ncatapult_angle_deg = 30", "launch.catapult_angle_deg", "from -15 to 15"),
    ('[launch]\ntime = "noon"', "launch.time", "such as 17:40"),
    (CATAPULT + "mass_lb = [1, 2]\nend_speed_kt = [100, 500]", "launch.catapult.end_speed_kt", "above 20"),
    (
        CATAPULT + "mass_lb = [1, 2]\nend_speed_kt = [90, 80]\nstroke_ft = 9",
        "launch.catapult.stroke_ft",
        "50",
    ),
    ("[pattern]\ninitial_airspeed_kt = 20", "pattern.initial_airspeed_kt", "above 30"),
    ("[pattern]\ninitial_nm = 0", "pattern.initial_nm", "above 0"),
    ("[pattern]\nstack_altitude_ft = -5", "pattern.stack_altitude_ft", "from 0"),
    ("[pattern]\nbank = 28", "pattern.bank", "unknown key"),
    ("[marshal]\nradial_deg = 400", "marshal.radial_deg", "from 0 to 360"),
    ("[marshal]\nleg_s = 5", "marshal.leg_s", "from 20 to 300"),
    ("[marshal]\ninterval_s = 5", "marshal.interval_s", "from 10 to 900"),
    ("[marshal]\nlowest_altitude_ft = 90000", "marshal.lowest_altitude_ft", "60000"),
]


def test_there_are_a_hundred():
    assert len({text for text, _, _ in BROKEN}) >= 100


@pytest.mark.parametrize(
    ("text", "key", "words"), BROKEN, ids=[f"{key}: {words}" for _, key, words in BROKEN]
)
def test_a_broken_scenario_is_told_with_its_key_and_the_remedy(tmp_path, text, key, words):
    path = tmp_path / "plan.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        planning.load(path)
    said = str(caught.value)
    assert said.startswith(f"{path}, key ") or "things to mend" in said
    assert f"key {key}" in said
    assert words in said


# broken beyond the form: text of the file, words of the message
UNREADABLE = [
    ("[wind\nfrom_deg = 3", "not valid TOML"),
    ("wind.from_deg = 3\nwind.from_deg = 4", "twice"),
    ('site = "no-such-ship"', "there is no site"),
    ('aircraft = "no-such-jet"', "there is no aircraft"),
    ('site = "ollershaw-sands"', "a plan needs a ship"),
]


@pytest.mark.parametrize(("text", "words"), UNREADABLE)
def test_what_cannot_be_read_at_all_is_told(tmp_path, text, words):
    path = tmp_path / "plan.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match=words):
        planning.load(path)


def test_a_scenario_that_is_not_there_is_told_with_those_that_are():
    with pytest.raises(InputError, match=r"Did you mean 'thistledown'.*Bundled: "):
        planning.load("thistledwn")
