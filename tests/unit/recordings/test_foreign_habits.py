"""Habits of recorders that a first look at files of a stranger's making found unread, or read wrongly.

The truth is that of :mod:`support.foreign_files`; the letters of a code page are Python's own codecs'.
"""

from __future__ import annotations

import re

import numpy as np
import pytest

from deckward.errors import InputError
from deckward.recordings import draft_column_map, open_recording
from deckward.recordings.geographic import in_one_number
from deckward.recordings.recogniser.names import read_name
from support.foreign_files import file_of, names
from support.foreign_verdicts import verdict

HABITS = """
central european code page
how sep=; dec=, encoding=cp1250
Czas [s] => time s
Szerokość => latitude deg
Długość => longitude deg
Wysokość [m] => altitude m
Kurs => heading deg
Pochylenie => pitch deg
Przechylenie => roll deg
Okręt szerokość => ship_latitude deg
Okręt długość => ship_longitude deg
Okręt wysokość [m] => ship_altitude m
Okręt kurs => ship_heading deg

cyrillic code page
how sep=; encoding=cp1251
Время, с => time s
Широта => latitude deg
Долгота => longitude deg
Высота, м => altitude m
Курс => heading deg
Тангаж => pitch deg
Крен => roll deg
Корабль широта => ship_latitude deg
Корабль долгота => ship_longitude deg
Корабль высота, м => ship_altitude m
Корабль курс => ship_heading deg

phi twice
how json=lines
t => time s
jet.p.phi => latitude rad
jet.p.lambda => longitude rad
jet.p.h => altitude m
jet.a.psi => heading rad
jet.a.theta => pitch rad
jet.a.phi => roll rad
jet.alpha => angle_of_attack rad
boat.p.phi => ship_latitude rad
boat.p.lambda => ship_longitude rad
boat.p.h => ship_altitude m
boat.a.psi => ship_heading rad

one letter before the ship
how sep=,
TIME_S => time s
LAT => latitude deg
LON => longitude deg
ALT_FT => altitude ft
PSI => heading deg
THETA => pitch deg
PHI => roll deg
SLAT => ship_latitude deg
SLON => ship_longitude deg
SALT_FT => ship_altitude ft
SPSI => ship_heading deg

an axis up beside a place on earth
how sep=,
stamp_s => time s
y_lat => latitude deg
x_lon => longitude deg
z_ft => altitude ft
azimuth_true => heading deg
pitch => pitch deg
bank => roll deg
ship_y_lat => ship_latitude deg
ship_x_lon => ship_longitude deg
ship_z_ft => ship_altitude ft
ship_azimuth_true => ship_heading deg

a count by its name with a unit of time
how json=lines
frameTimeMs => time ms
own.lat => latitude deg
own.lon => longitude deg
own.altFt => altitude ft
own.yawTrue => heading deg
own.pitch => pitch deg
own.bank => roll deg
ship.lat => ship_latitude deg
ship.lon => ship_longitude deg
ship.altFt => ship_altitude ft
ship.yawTrue => ship_heading deg

words cut short
how sep=,
SOD => time s
Latit => latitude deg
Longit => longitude deg
Altit_ft => altitude ft
Head_true => heading deg
Pitch_att => pitch deg
Roll_att => roll deg
Ship_Latit => ship_latitude deg
Ship_Longit => ship_longitude deg
Ship_Altit_ft => ship_altitude ft
Ship_Head_true => ship_heading deg

feet a second where the file has them
how sep=,
t => time s
lat => latitude deg
lon => longitude deg
alt_ft => altitude ft
roc => vertical_speed fps
heading => heading deg
pitch => pitch deg
roll => roll deg
v_tas => ?true_airspeed fps
aoa => angle_of_attack deg

minutes by their name
how sep=,
minutes => time min
lat => latitude deg
lon => longitude deg
alt_ft => altitude ft
heading => heading deg
pitch => pitch deg
roll => roll deg

angle of attack without a pitch
how sep=, undecided=
t_s => time s
lat => latitude deg
lon => longitude deg
alt_ft => altitude ft
hdg_true => heading deg
AoA => !junk aoa_units

only an altitude by pressure
how sep=, undecided= base=straight
t_s => time s
lat => latitude deg
lon => longitude deg
Baro Alt ft => !junk pressure_ft
hdg_true => heading deg
pitch_deg => pitch deg
aoa_deg => angle_of_attack deg

a speed that only its unit tells
how sep=, undecided= base=straight
t_s => time s
lat => latitude deg
lon => longitude deg
alt_ft => altitude ft
hdg_true => heading deg
pitch_deg => pitch deg
VA (kt) => !indicated_airspeed kt

feet a second where nothing else counts by the second
how sep=, plane=
time => time s
pos_e => east ft
pos_n => north ft
pos_u => up ft
psi => heading deg
theta => pitch deg
phi => roll deg
vt => ?true_airspeed fps
alpha => angle_of_attack deg

a gauge beside an altitude without a unit
how sep=, base=straight
t => time s
lat => latitude deg
lon => longitude deg
alt => ?altitude ft
hdg_true => heading deg
pitch => pitch deg
aoa => ?junk aoa_units
ship_lat => ship_latitude deg
ship_lon => ship_longitude deg
ship_alt => ?ship_altitude ft
ship_hdg => ship_heading deg

two letters
how sep=,
TM => time s
LA => latitude deg
LO => longitude deg
AL_ft => altitude ft
HD_true => heading deg
PI => pitch deg
RO => roll deg
SHIP LA => ship_latitude deg
SHIP LO => ship_longitude deg
SHIP AL_ft => ship_altitude ft
SHIP HD_true => ship_heading deg

latitude and longitude in Japanese with Latin letters
how sep=,
jikoku_s => time s
ido => latitude deg
keido => longitude deg
koudo_m => altitude m
kishu_houi => heading deg
pitch_kaku => pitch deg
roll_kaku => roll deg
kan_ido => ship_latitude deg
kan_keido => ship_longitude deg
kan_koudo_m => ship_altitude m
kan_houi => ship_heading deg

lists by their first letters
how json=lines
t => time s
jet.lla.0 => latitude deg
jet.lla.1 => longitude deg
jet.lla.2 => altitude m
jet.hpr_deg.0 => heading deg
jet.hpr_deg.1 => pitch deg
jet.hpr_deg.2 => roll deg
ship.lla.0 => ship_latitude deg
ship.lla.1 => ship_longitude deg
ship.lla.2 => ship_altitude m
ship.hpr_deg.0 => ship_heading deg

lists named by their words
how json=lines
t_ms => time ms
own.lat_lon_alt_m.0 => latitude deg
own.lat_lon_alt_m.1 => longitude deg
own.lat_lon_alt_m.2 => altitude m
own.yaw_pitch_roll_deg.0 => heading deg
own.yaw_pitch_roll_deg.1 => pitch deg
own.yaw_pitch_roll_deg.2 => roll deg
own.velocityNedMps.0 => velocity_north mps
own.velocityNedMps.1 => velocity_east mps
own.velocityNedMps.2 => vertical_speed mps -

units in a line that holds others too
how sep=, unitrow=
TIME|SEC => time s
LAT_GPS|DEG => latitude deg
LON_GPS|DEG => longitude deg
H_MSL|FT => altitude ft
PSI_TRUE|DEG => heading deg
THETA|DEG => pitch deg
PHI|DEG => roll deg
V/S|FT/SEC => vertical_speed fps
MACH|ND => junk counter

a third axis that only its unit tells
how sep=; dec=, plane=
Czas [s] => time s
Północ [m] => north m
Wschód [m] => east m
Wzwyżka [m] => up m
Kurs rzeczywisty [°] => heading deg
Pochylenie [°] => pitch deg
Przechylenie [°] => roll deg

a plane that no word names
how sep=, plane= rate=10
secs => time s
ac_p1 => east ft
ac_p2 => north ft
ac_p3 => up ft
ac_heading => heading deg
ac_pitch => pitch deg
ac_roll => roll deg
ac_tas_fps => true_airspeed fps
ac_aoa => angle_of_attack deg
cv_p1 => ship_east ft
cv_p2 => ship_north ft
cv_p3 => ?ship_up ft
cv_heading => ship_heading deg

milliseconds by their unit alone
how sep=,
ms => time ms
lat => latitude deg
lon => longitude deg
h_msl => altitude ft
psi_true => heading deg
theta => pitch deg
phi => roll deg
hdot => vertical_speed fpm

units behind a word
how sep=; dec=, plane=
Zeit in s => time s
Nord in m => north m
Ost in m => east m
Höhe in m => up m
Kurs wahr in ° => heading deg
Nickwinkel in ° => pitch deg
Rollwinkel in ° => roll deg

no word for anything
how sep=, rate=10
col_1 => time s
col_2 => latitude deg
col_3 => longitude deg
col_4 => altitude ft
col_5 => heading deg
col_6 => pitch deg
col_7 => roll deg
col_8 => angle_of_attack deg
col_9 => vertical_speed fpm

a weak name of what another column is
how sep=,
t => time s
la => latitude deg
lo => longitude deg
h => altitude ft
psi => heading deg
theta => pitch deg
phi => roll deg
al => angle_of_attack deg
hd => vertical_speed fpm
s_la => ship_latitude deg
s_lo => ship_longitude deg
s_h => ship_altitude ft
s_psi => ship_heading deg

kilometres and miles
how sep=,
hours => time h
lat => latitude deg
lon => longitude deg
alt_km => altitude km
hdg_true_mrad => heading mrad
pitch_mrad => pitch mrad
roll_mrad => roll mrad
tas_mph => true_airspeed mph
aoa_mrad => angle_of_attack mrad

an inclination beside a bank
how sep=; dec=,
Zeit [s] => time s
Breitengrad => latitude deg
Längengrad => longitude deg
Höhe [m] => altitude m
Kurs rw => heading deg
Neigung => pitch deg
Schräglage => roll deg
Fluggeschw. (TAS) [km/h] => true_airspeed kmh
Anstellwinkel => angle_of_attack deg

a height that no word tells
how json=lines
t => time s
jet.la => latitude deg
jet.lo => longitude deg
jet.qq => altitude ft
jet.hd => heading deg
jet.pi => pitch deg
jet.ro => roll deg
jet.aoa => angle_of_attack deg
ship.la => ship_latitude deg
ship.lo => ship_longitude deg
ship.qq => ship_altitude ft
ship.hd => ship_heading deg

a plane on a level leg
how sep=, undecided= plane= base=level
t_s => time s
North => !north ft
East => !east ft
Up => !up ft
hdg_true => heading deg
"""


@pytest.mark.parametrize("name", names(HABITS))
def test_a_habit_is_read_right_or_asked_about(name, tmp_path):
    (block,) = (b for b in HABITS.strip().split("\n\n") if b.splitlines()[0] == name)
    file = file_of(block)
    found = verdict(file, draft_column_map(file.write(tmp_path)))
    assert found == {"wrong": [], "missing": [], "needless": [], "unasked": []}


PLAIN = """plain
how sep=;
time => time s
latitude => latitude deg
longitude => longitude deg
altitude => altitude ft
heading => heading deg
pitch => pitch deg
roll => roll deg
ship_latitude => ship_latitude deg
ship_longitude => ship_longitude deg
ship_altitude => ship_altitude ft
ship_heading => ship_heading deg"""


def lines_of(file) -> list[list[str]]:
    return [line.split(";") for line in file.content.decode().splitlines()]


def written(rows: list[list[str]], path):
    path.write_text("\n".join(";".join(row) for row in rows) + "\n", encoding="utf-8")
    return path


@pytest.mark.parametrize("comma", [False, True])
def test_units_behind_the_numbers_are_read(comma, tmp_path):
    file = file_of(PLAIN)
    head, *rows = lines_of(file)
    behind = [" s", "°", " °", " ft", "°", " deg", "°", "°", "°", "ft", "°"]
    rows = [[c + b for c, b in zip(row, behind, strict=True)] for row in rows]
    if comma:
        rows = [[cell.replace(".", ",") for cell in row] for row in rows]
    path = written([head, *rows], tmp_path / "with units.csv")
    draft = draft_column_map(path)
    assert draft.questions == ()
    read = open_recording(path, column_map=draft.map)
    assert np.abs(read.aircraft[0].channels["altitude"] - file.truth["altitude"]).max() < 0.01
    assert np.abs(read.ship.channels["latitude"] - file.truth["ship_latitude"]).max() < 1e-9


def test_another_unit_behind_the_numbers_than_in_the_name_stops(tmp_path):
    head, *rows = lines_of(file_of(PLAIN))
    head[3] = "altitude_ft"
    rows = [[*row[:3], row[3] + " m", *row[4:]] for row in rows]
    path = written([head, *rows], tmp_path / "two units.csv")
    with pytest.raises(Exception, match="is no number"):
        open_recording(path, column_map=draft_column_map(path).map)


def test_microseconds_since_1970_are_a_time(tmp_path):
    file = file_of(PLAIN)
    head, *rows = lines_of(file)
    zero = 1_936_000_000_000_000  # 2031-05-08, POSIX time
    rows = [[str(zero + round(float(row[0]) * 1e6)), *row[1:]] for row in rows]
    path = written([["epoch_us", *head[1:]], *rows], tmp_path / "fine.csv")
    draft = draft_column_map(path)
    assert draft.questions == ()
    time = open_recording(path, column_map=draft.map).aircraft[0].time
    assert np.abs(time - time[0] - (file.truth["time"] - file.truth["time"][0])).max() < 1e-3


def test_ticks_that_no_word_gives_a_unit_are_no_seconds(tmp_path):
    head, *rows = lines_of(file_of(PLAIN))
    rows = [[str(4000 + 3 * i), *row[1:]] for i, row in enumerate(rows)]
    draft = draft_column_map(written([["tick", *head[1:]], *rows], tmp_path / "ticks.csv"))
    assert not draft.of_ship
    assert [q.columns for q in draft.questions if "rows a second" in q.question] == [("tick",)]


def test_a_line_of_groups_tells_names_that_stand_twice_apart(tmp_path):
    """And without one the ship is told by how slowly she moves."""
    head, *rows = lines_of(file_of(PLAIN))
    words = {"latitude": "Breite", "longitude": "Länge", "altitude": "Höhe ft", "heading": "Kurs rw"}
    foreign = [words.get(name.removeprefix("ship_"), name) for name in head]
    groups = ["", "Jet", *[""] * 5, "Carrier", "", "", ""]
    for above, second in (([groups], "Carrier Breite"), ([], "Breite ~2")):
        path = written([*above, foreign, *rows], tmp_path / f"groups {len(above)}.csv")
        draft = draft_column_map(path)
        held = {rule.quantity: rule.source for rule in draft.map.columns}
        assert held["ship_latitude"] == second
        read = open_recording(path, column_map=draft.map)
        truth = file_of(PLAIN).truth
        assert np.abs(read.ship.channels["latitude"] - truth["ship_latitude"]).max() < 1e-9
        assert np.abs(read.aircraft[0].channels["latitude"] - truth["latitude"]).max() < 1e-9


@pytest.mark.parametrize(("separator", "mark"), [(",", "."), (";", ",")])
def test_a_table_without_names_is_read_by_its_motion(separator, mark, tmp_path):
    """And its column map reads it, from the first row on."""
    (block,) = (b for b in HABITS.strip().split("\n\n") if b.splitlines()[0] == "no word for anything")
    file = file_of(block)
    _, *rows = file.content.decode().splitlines()
    path = tmp_path / "headless.csv"
    rows = [row.replace(",", separator).replace(".", mark) for row in rows]
    path.write_text("\n".join(rows) + "\n")
    draft = draft_column_map(path)
    held = {rule.quantity: rule.source for rule in draft.map.columns}
    assert held["latitude"] == "column 2"
    assert held["vertical_speed"] == "column 9"
    read = open_recording(path, column_map=draft.map).aircraft[0]
    assert read.time.size == len(rows)
    assert np.abs(read.channels["altitude"] - file.truth["altitude"]).max() < 0.01
    with pytest.raises(InputError, match="where the names of the columns should be") as stopped:
        open_recording(path)
    assert stopped.value.place == "line 1"


def test_commas_in_quoted_cells_between_commas_are_decimal(tmp_path):
    file = file_of(PLAIN)
    head, *rows = lines_of(file)
    lines = [",".join('"' + cell.replace(".", ",") + '"' for cell in row) for row in [head, *rows]]
    path = tmp_path / "quoted.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    read = open_recording(path, column_map=draft_column_map(path).map)
    assert np.abs(read.aircraft[0].channels["altitude"] - file.truth["altitude"]).max() < 0.01


def test_a_name_with_a_bare_comma_is_told(tmp_path):
    head, *rows = lines_of(file_of(PLAIN))
    lines = [",".join([*head[:-1], "Heading, true"]), *(",".join(row) for row in rows)]
    (tmp_path / "comma.csv").write_text("\n".join(lines) + "\n")
    with pytest.raises(InputError, match="names 12 columns, but its rows hold 11 cells") as stopped:
        draft_column_map(tmp_path / "comma.csv")
    assert stopped.value.place == "line 1"


def test_a_remark_tells_how_long_a_tick_is(tmp_path):
    head, *rows = lines_of(file_of(PLAIN))
    rows = [[str(4000 + 3 * i), *row[1:]] for i, row in enumerate(rows)]
    path = written([["tick", *head[1:]], *rows], tmp_path / "ticks.csv")
    path.write_text("# one tick = 1/60 s\n" + path.read_text())
    draft = draft_column_map(path)
    assert draft.map.file.rate_hz == pytest.approx(20.0)
    assert not any("rows a second" in question.question for question in draft.questions)


def test_a_ships_own_file_is_in_the_units_of_the_aircrafts(tmp_path):
    """Where her names give none: the same recorder wrote both."""
    _, *rows = lines_of(file_of(PLAIN))
    names_of = ["t", "lat", "lon", "alt", "hdg_true"]
    own = written([[*names_of, "pitch", "roll"], *(row[:7] for row in rows)], tmp_path / "own.csv")
    hers = written([names_of, *([row[0], *row[7:]] for row in rows)], tmp_path / "hers.csv")
    alone = draft_column_map(hers, of_ship=True)
    assert [question.columns for question in alone.questions] == [("alt",)]
    beside = draft_column_map(hers, of_ship=True, like=draft_column_map(own).map)
    assert beside.questions == ()
    assert {rule.quantity: rule.unit for rule in beside.map.columns}["altitude"] == "ft"


def test_a_plane_without_words_that_counts_the_other_way_is_seen_to_do_so(tmp_path):
    """By the heading and the turn that the roll makes."""
    (block,) = (b for b in HABITS.strip().split("\n\n") if b.splitlines()[0] == "a plane that no word names")
    turned = block.replace("ac_p1 => east ft", "ac_p1 => east ft -").replace("ship_east ft", "ship_east ft -")
    file = file_of(turned)
    draft = draft_column_map(file.write(tmp_path))
    assert verdict(file, draft)["wrong"] == []
    (east,) = (rule for rule in draft.map.columns if rule.source == "ac_p1")
    assert (east.quantity, east.sign) == ("east", -1) or east.asked
    assert east.quantity in ("east", "north")


def test_a_title_of_several_cells_names_no_column(tmp_path):
    """A word for a ship in it makes no ship of the jet, where no name stands twice."""
    head, *rows = lines_of(file_of(PLAIN))
    title = ["Carrier evening", "", "", "2031-05-17", *[""] * 7]
    words = ["t", "Breite", "Länge", "Höhe ft", "Kurs rw", "Nick", "Roll", *(f"Schiff {n}" for n in
             ("Breite", "Länge", "Höhe ft", "Kurs rw"))]  # fmt: skip
    draft = draft_column_map(written([title, words, *rows], tmp_path / "title.csv"))
    held = {rule.quantity: rule.source for rule in draft.map.columns}
    assert (held["latitude"], held["ship_latitude"]) == ("Breite", "Schiff Breite")
    assert len(head) == len(words)


@pytest.mark.parametrize(("size", "asked"), [(0.004, False), (0.05, True)])
def test_a_ships_pitch_is_asked_about_once_it_moves_the_ramp_by_centimetres(size, asked, tmp_path):
    """At 150 m from its axis 0.05 deg is 13 cm, 0.004 deg one: sin of the angle times the arm."""
    head, *rows = lines_of(file_of(PLAIN))
    rows = [[*row, f"{size * np.sin(0.6 * i / 20):.4f}"] for i, row in enumerate(rows)]
    draft = draft_column_map(written([[*head, "ship pitch"], *rows], tmp_path / "tilt.csv"))
    assert (("ship pitch",) in [question.columns for question in draft.questions]) == asked


def test_two_compasses_on_one_course_are_asked_about(tmp_path):
    """One follows the path to a degree, the other is off it by a variation: wind may be what parts them."""
    file = file_of(APPROACH)
    head, *rows = lines_of(file)
    north = np.diff([float(row[1]) for row in rows])
    east = np.diff([float(row[2]) for row in rows]) * np.cos(np.radians(float(rows[0][1])))
    half = len(rows) // 2
    course = np.degrees(np.arctan2(east[:half].sum(), north[:half].sum()))
    at = head.index("true heading")
    heads = [*head[:at], "hdg1", "hdg2", *head[at + 1 :]]
    two = [[*row[:at], f"{course % 360:.2f}", f"{(course - 7.5) % 360:.2f}", *row[at + 1 :]] for row in rows]
    asked = draft_column_map(written([heads, *two], tmp_path / "two.csv")).questions
    assert [q.columns for q in asked if "magnetic" in q.question] == [("hdg1",)]
    one = [[*row[: at + 1], *row[at + 2 :]] for row in two]
    alone = draft_column_map(written([[n for n in heads if n != "hdg2"], *one], tmp_path / "one.csv"))
    assert not any("magnetic" in question.question for question in alone.questions)


def test_a_group_says_whose_a_name_is_that_stands_once(tmp_path):
    head, *rows = lines_of(file_of(PLAIN))
    foreign = ["t", *(f"{name.removeprefix('ship_')[:3]}." for name in head[1:-1]), "Steuerkurs rw"]
    groups = ["", "Jet", *[""] * 5, "Carrier", "", "", ""]
    draft = draft_column_map(written([groups, foreign, *rows], tmp_path / "one.csv"))
    assert {rule.quantity: rule.source for rule in draft.map.columns}["ship_heading"] == "Steuerkurs rw"


def test_degrees_and_minutes_without_a_hemisphere_are_asked_about(tmp_path):
    """Where neither a sign nor a heading shows it (NMEA 0183 has a letter beside each)."""
    head, *rows = lines_of(file_of(PLAIN))
    rows = [
        [
            row[0],
            *(f"{100 * int(abs(float(x))) + 60 * (abs(float(x)) % 1):.6f}" for x in row[1:3]),
            row[3],
            row[5],
        ]
        for row in rows
    ]
    path = written([[head[0], "lat ddmm", "lon ddmm", "altitude_ft", "pitch"], *rows], tmp_path / "open.csv")
    asked = [q.columns for q in draft_column_map(path).questions]
    assert ("lat ddmm",) in asked
    assert ("lon ddmm",) in asked


REMARKS = [
    ("# 20 Hz\n", 20.0),
    ("# sample rate: 20 Hz, local time\n", 20.0),
    ("# dt = 0.05 s\n", 20.0),
    ("% 20 samples per second\n", 20.0),
    ("# rate_hz = 20\n", 20.0),
    ("# 20 Hz, later 10 Hz\n", None),
    ("# 900 Hz\n", None),  # at which the jet would fly 3 km/s
]


@pytest.mark.parametrize(("remark", "rate"), REMARKS)
def test_a_remark_tells_the_rows_a_second(remark, rate, tmp_path):
    """Unless there are two of them, or it makes no flight."""
    head, *rows = lines_of(file_of(PLAIN))
    path = written([head[1:], *(row[1:] for row in rows)], tmp_path / "remark.csv")
    path.write_text(remark + path.read_text())
    draft = draft_column_map(path)
    assert draft.map.file.rate_hz == rate
    assert [q for q in draft.questions if "rows a second" in q.question] == [] or rate is None
    if rate is not None:
        time = open_recording(path, column_map=draft.map).aircraft[0].time
        assert np.diff(time) == pytest.approx(1.0 / rate)


def test_the_way_to_the_ship_tells_feet_from_metres(tmp_path):
    """Of an approach that stops half a mile from her; 3.5 deg is 11 deg in the other unit."""
    file = file_of(APPROACH)
    head, *rows = lines_of(file)
    path = written([head, *rows[: int(0.8 * len(rows))]], tmp_path / "half a pass.csv")
    found = verdict(file, draft_column_map(path))
    assert found == {"wrong": [], "missing": [], "needless": [], "unasked": []}


APPROACH = """an approach without a rate
how sep=; base=straight
time => time s
lat => latitude deg
lon => longitude deg
alt => altitude ft
true heading => heading deg
ship lat => ship_latitude deg
ship lon => ship_longitude deg
ship alt => ship_altitude ft
ship heading => ship_heading deg"""


def test_places_with_letters_are_read_whatever_their_names(tmp_path):
    head, *rows = lines_of(file_of(PLAIN))
    head[7:9] = ["Ship N-S", "Ship E-W"]

    def spelt(text, letters):
        minutes = abs(float(text)) * 60.0
        return f"{letters[int(float(text) < 0.0)]} {int(minutes // 60)} {minutes % 60:.6f}"

    rows = [[*row[:7], spelt(row[7], "NS"), spelt(row[8], "EW"), *row[9:]] for row in rows]
    rules = draft_column_map(written([head, *rows], tmp_path / "letters.csv")).map.columns
    assert [rule.quantity for rule in rules[7:9]] == ["ship_latitude", "ship_longitude"]


def test_switches_in_words_of_other_languages(tmp_path):
    head, *rows = lines_of(file_of(PLAIN))
    rows = [[*row, "ausgefahren" if i > 200 else "eingefahren"] for i, row in enumerate(rows)]
    path = written([[*head, "Fanghaken"], *rows], tmp_path / "words.csv")
    hook = open_recording(path, column_map=draft_column_map(path).map).aircraft[0].channels["hook"]
    assert (hook[0], hook[-1]) == (0.0, 1.0)


def test_a_ships_heading_under_a_word_nobody_knows_is_asked_for(tmp_path):
    head, *rows = lines_of(file_of(PLAIN))
    head[10] = "ship qqx"
    draft = draft_column_map(written([head, *rows], tmp_path / "no heading.csv"))
    assert any(q.opens == "ship_heading" for q in draft.questions)


@pytest.mark.parametrize(
    ("name", "quantity", "unit"),
    [
        ("Fart TAS (km/h)", "true_airspeed", "kmh"),
        ("velocidad_verdadera_kmh", "true_airspeed", "kmh"),
        ("N1 (%)", "engine_rpm", "pct"),
        ("PwrLvr", "throttle", None),
        ("Sample Time", "time", None),
        ("frame time index", "counter", None),
        ("MC.GEAR.HOOK", "hook", None),
        ("緯度", "latitude", None),
        ("艦 高度(フィート)", "altitude", "ft"),
        ("经度", "longitude", None),
        ("Angezeigte Fahrt [km/h]", "indicated_airspeed", "kmh"),
        ("Velocità effettiva (km/h)", "true_airspeed", "kmh"),
        ("Prędkość wznoszenia [m/s]", "vertical_speed", "mps"),
        ("Nose angle", "pitch", None),
        ("Wing angle", "roll", None),
        ("Dikey hız (fit/dk)", "vertical_speed", "fpm"),
    ],
)
def test_names_of_the_first_look(name, quantity, unit):
    assert (read_name(name)[0].quantity, read_name(name)[0].unit) == (quantity, unit)


def test_the_beginning_of_a_word_is_not_any_longer_word():
    """``Fahrt`` (speed) is no ``Fahrtmesser`` (what is indicated), nor anything short of half a word."""
    assert read_name("Fahrt TAS (Knoten)")[0].quantity == "true_airspeed"
    assert not re.search("track|time", read_name("temp")[0].quantity)


def test_minutes_rounded_up_to_sixty_are_minutes():
    """26 deg 59.99999996 min, six decimals written: ``2660.000000``, as C's printf rounds."""
    assert in_one_number(np.array([2660.0, 2700.0004]), np.array([7000.0, 6959.9996]))
    assert not in_one_number(np.array([2661.0]), np.array([7000.0]))


def diagonal(folder, *, ship: bool):
    """A straight course to the north-west in a plane, feet, left wing down counting up; she sails north."""
    t = np.arange(0.0, 40.0, 0.1)
    turn = 0.02 * np.sin(0.5 * t)  # rad a second
    course = np.radians(-45.0) - 0.04 * np.cos(0.5 * t)
    north, east = (np.cumsum(230.0 * 0.1 * f(course)) for f in (np.cos, np.sin))
    roll = -np.degrees(np.arctan(turn * 230.0 * 0.3048 / 9.80665))
    columns = {"t_s": t, "x_ft": north, "y_ft": east, "z_ft": 900.0 - 12.0 * t}
    columns |= {"hdg_true_deg": np.degrees(course) % 360.0, "roll": roll}
    if ship:
        columns |= {"ship_x_ft": 35.0 * t, "ship_y_ft": 0.0 * t, "ship_z_ft": 60.0 + 0.0 * t}
        columns["ship_hdg_true_deg"] = 0.0 * t
    rows = [[f"{v:.4f}" for v in row] for row in zip(*columns.values(), strict=True)]
    return draft_column_map(written([list(columns), *rows], folder / "diagonal.csv"))


def test_axes_exchanged_on_a_diagonal_are_told_apart_by_the_ship(tmp_path):
    """Exchanging x and y mirrors a course of 315 deg into itself, and the turns: only her course is left."""
    draft = diagonal(tmp_path, ship=True)
    rules = {rule.source: (rule.quantity, rule.sign) for rule in draft.map.columns}
    assert rules["x_ft"] == ("north", 1) and rules["y_ft"] == ("east", 1)
    assert rules["roll"] == ("roll", -1)


def test_axes_exchanged_on_a_diagonal_are_asked_about_without_a_ship(tmp_path):
    draft = diagonal(tmp_path, ship=False)
    assert any({"x_ft", "y_ft"} <= set(q.columns) for q in draft.questions)


def test_a_vertical_speed_changes_its_unit_with_the_plane(tmp_path):
    """Metres and metres a second, or feet and feet a second: the same numbers, one answer for both."""
    t = np.arange(0.0, 30.0, 0.1)
    columns = {"t_s": t, "north": 150.0 * t, "east": 3.0 * t, "up": 900.0 + 40.0 * np.sin(0.2 * t)}
    columns |= {"hdg_true_deg": 1.15 + 0.0 * t, "vs": 8.0 * np.cos(0.2 * t)}
    rows = [[f"{v:.4f}" for v in row] for row in zip(*columns.values(), strict=True)]
    draft = draft_column_map(written([list(columns), *rows], tmp_path / "plane.csv"))
    question = next(q for q in draft.questions if "up" in q.columns)
    assert "vs" in question.columns


def turning(folder, **more):
    """A turn of 150 degrees in a wind from the west, 10 m/s; columns of degrees and metres."""
    t = np.arange(0.0, 60.0, 0.2)
    heading = np.radians(2.5) * t
    north, east = 70.0 * np.cos(heading), 10.0 + 70.0 * np.sin(heading)
    radius = 70.0 / np.radians(2.5)
    latitude = 30.0 + radius * np.sin(heading) / 110_850.0  # m a degree at 30 deg north, WGS-84
    longitude = -40.0 + (10.0 * t + radius * (1.0 - np.cos(heading))) / 96_490.0
    columns = {"t_s": t, "lat_deg": latitude, "lon_deg": longitude, **more}
    if not more.keys() & {"alt", "qqx [ft]"}:
        columns["alt_m"] = 400.0 - 2.0 * t
    columns["roll_deg"] = np.degrees(np.arctan(np.radians(2.5) * 70.0 / 9.80665)) + 0.0 * t
    columns["course"] = np.degrees(np.arctan2(east, north)) % 360.0
    rows = [[f"{v:.8f}" for v in row] for row in zip(*columns.values(), strict=True)]
    draft = draft_column_map(written([list(columns), *rows], folder / "turning.csv"))
    return {rule.source: rule for rule in draft.map.columns}


def test_a_course_that_is_the_direction_of_motion_is_no_heading(tmp_path):
    assert turning(tmp_path)["course"].quantity == "ignore"


def test_an_altitude_of_satellites_goes_before_one_that_says_nothing(tmp_path):
    """A barometer off the standard atmosphere shows another height, by a share of it and an offset."""
    t = np.arange(0.0, 60.0, 0.2)
    rules = turning(tmp_path, alt=0.985 * (400.0 - 2.0 * t) + 41.0, alt_gps=400.0 - 2.0 * t)
    assert (rules["alt_gps"].quantity, rules["alt"].quantity) == ("altitude", "ignore")


def test_a_nose_within_a_third_of_a_degree_of_zero_is_in_radians(tmp_path):
    """6 to 8 degrees nose up on a descent of 1.6 degrees: 0.1 to 0.14 rad."""
    t = np.arange(0.0, 60.0, 0.2)
    assert turning(tmp_path, pitch=np.radians(7.0 + np.sin(t)))["pitch"].unit == "rad"


def test_a_nameless_column_whose_rate_is_the_vertical_speed_is_the_altitude(tmp_path):
    t = np.arange(0.0, 60.0, 0.2)
    feet = (400.0 + 30.0 * np.sin(0.15 * t)) / 0.3048
    rules = turning(tmp_path, **{"qqx [ft]": feet}, vs_fpm=60.0 * 30.0 * 0.15 * np.cos(0.15 * t) / 0.3048)
    assert (rules["qqx [ft]"].quantity, rules["qqx [ft]"].unit) == ("altitude", "ft")


def test_a_height_that_is_named_in_a_unit_nobody_could_fly_in_is_asked_about(tmp_path):
    """3.5 deg in metres is 1.1 deg where the numbers are taken for feet."""
    file = file_of(APPROACH.replace("alt => altitude ft", "alt [ft] => altitude m"))
    draft = draft_column_map(file.write(tmp_path))
    assert any("alt [ft]" in question.columns for question in draft.questions)
    file = file_of(APPROACH.replace("alt => altitude ft", "alt [m] => altitude m"))
    draft = draft_column_map(file.write(tmp_path))
    assert not any("alt [m]" in question.columns for question in draft.questions)
