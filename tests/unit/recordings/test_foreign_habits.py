"""Habits of recorders that a first look at files of a stranger's making found unread, or read wrongly.

The truth is that of :mod:`support.foreign_files`; the letters of a code page are Python's own codecs'.
"""

from __future__ import annotations

import re

import numpy as np
import pytest

from deckward.recordings import draft_column_map, open_recording
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
    ],
)
def test_names_of_the_first_look(name, quantity, unit):
    assert (read_name(name)[0].quantity, read_name(name)[0].unit) == (quantity, unit)


def test_the_beginning_of_a_word_is_not_any_longer_word():
    """``Fahrt`` (speed) is no ``Fahrtmesser`` (what is indicated), nor anything short of half a word."""
    assert read_name("Fahrt TAS (Knoten)")[0].quantity == "true_airspeed"
    assert not re.search("track|time", read_name("temp")[0].quantity)
