"""Sites: the bundled ones, a person's own, and how a bad one is refused."""

from __future__ import annotations

import math

import pytest

from deckward import site
from deckward.errors import InputError
from support.authorities import rows

BUNDLED = list(site.bundled())
SHIP = site.source("wintermere")
FIELD = site.source("ollershaw-sands")


def test_what_is_bundled():
    kinds = [site.load(name).kind for name in BUNDLED]
    assert kinds.count("field") == 1
    wires = {name: len(made.wires.positions) for name in BUNDLED if (made := site.load(name)).wires}
    assert wires == {"corrie-vane": 3, "generic-ship": 4, "wintermere": 4}
    assert [name for name in BUNDLED if site.load(name).generic] == ["generic-ship"]
    assert all(len(line) < 100 for line in site.bundled().values())


@pytest.mark.parametrize("name", BUNDLED)
def test_each_bundled_site_is_whole_and_flyable(name):
    made = site.load(name)
    assert made.description and made.length > made.width > 0
    # the hook path clears the ramp as ships' do (8 to 18 ft, from memory), and takes a wire
    clearance = made.lens.hook_target * math.tan(made.lens.basic_angle)
    assert 8 * 0.3048 < clearance < 18 * 0.3048
    if made.wires:
        assert made.wires.positions[0] < made.lens.hook_target < made.wires.positions[-1]
    # an eye 3.5 to 5 m over the hook and 10 m ahead of it passes within a window of the lens
    eye_path = (made.lens.hook_target + 10.0 - made.lens.position[0]) * math.tan(made.lens.basic_angle) + 4.2
    assert abs(eye_path - made.lens.position[2]) < 2.5
    assert made.ramp_vector.shape == (3,)
    # the far end of the landing area stays near a hull as wide as such ships are
    if not made.is_field:
        port = made.ramp[1] - made.length * math.sin(made.angle)
        assert -50 < port < 0
    rows = dict(site.describe(made))
    assert rows["name"] == made.name and "ramp" in rows and "lens" in rows
    assert all(text and "nan" not in text for text in rows.values())


@pytest.mark.parametrize("name", BUNDLED)
def test_a_copy_of_a_bundled_file_is_the_same_site(name, tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(site.source(name), encoding="utf-8")
    mine, theirs = site.load(path), site.load(name)
    assert not mine.generic
    assert (mine.ramp, mine.lens, mine.wires, mine.sigma) == (
        theirs.ramp,
        theirs.lens,
        theirs.wires,
        theirs.sigma,
    )


def test_numbers_come_in_radians_and_metres():
    made = site.load("wintermere")
    assert made.angle == pytest.approx(math.radians(9))
    assert made.lens.cell == pytest.approx(math.radians(0.1417))
    assert made.ramp == (-152.4, 3.4, -19.5)
    field = site.load("ollershaw-sands")
    assert field.place.heading == pytest.approx(math.radians(282))
    assert field.place.longitude == pytest.approx(math.radians(-1.245))
    assert field.is_field and field.angle == 0 and field.wires is None


def test_what_is_left_out_takes_its_documented_value(tmp_path):
    path = tmp_path / "bare.toml"
    path.write_text(
        'name = "Bare"\nkind = "ship"\n'
        "[landing_area]\nramp_m = [-100, 0, -15]\nlength_m = 200\nwidth_m = 25\n"
        "[wires]\npositions_m = [50]\nheight_m = 0.1\n"
        "[lens]\nposition_m = [100, -15, 1]\nbasic_angle_deg = 3.5\ncells = 5\ncell_deg = 0.3\n"
        'red_cells = 1\nhook_target_m = 45\nstabilisation = "line"\n',
        encoding="utf-8",
    )
    made = site.load(path)
    assert made.angle == 0
    published = rows("deck-fittings")
    image, box = (published[name]["high [ft]"] for name in ("image behind the window", "box of five cells"))
    assert made.lens.image_distance == pytest.approx(image * 0.3048)
    assert made.lens.window_height == pytest.approx(box * 0.3048, abs=0.005)
    assert made.centre == (0.0, 0.0, 0.0)
    assert made.sigma.ramp == (0.0, 0.0, 0.0) and made.sigma.wires == 0.0


def test_words_of_a_site():
    rows = dict(site.describe(site.load("wintermere")))
    assert rows["landing area"] == "780 ft long, 90 ft wide, 9.00 deg to port"
    assert rows["ramp"].startswith("500 ft aft, 11 ft to starboard of the keel line, 64 ft above")
    assert "14.1 ft above it" in rows["hook target"]
    assert (
        rows["lens stands"] == "470 ft past the ramp, 67 ft to port of the centreline, 1.6 ft above the deck"
    )
    field = dict(site.describe(site.load("ollershaw-sands")))
    assert field["place"].startswith("44.3000 deg north, 1.2450 deg west")
    assert field["wires"] == "none" and field["ramp"] == "at the reference point"


def test_a_misspelt_name_is_told_with_the_bundled_ones():
    with pytest.raises(InputError) as caught:
        site.load("wintermeer")
    message = str(caught.value)
    assert "--site" in message and "Did you mean 'wintermere'?" in message
    assert all(name in message for name in BUNDLED)


# (text of the file, part to change, what to change it to; the key, what is wrong, what to do)
BAD = [
    (SHIP, '"Wintermere"', '"a\\u001b[2J"', "name", "control characters", "Give a text in quotes"),
    (SHIP, 'kind = "ship"\n', "", "kind", "missing", 'one of "field", "ship"'),
    (SHIP, '"ship"', '"boat"', "kind", 'the text "boat" stands here', 'one of "field", "ship"'),
    (SHIP, '"Wintermere"', '""', "name", "text of 0 characters", "Give a text in quotes"),
    (SHIP, '"Wintermere"', '"   "', "name", "text of 0 characters", "Give a text in quotes"),
    (SHIP, '"Wintermere"', '"' + "x" * 200 + '"', "name", "200 characters", "at most 80"),
    (SHIP, '"Wintermere"', "7", "name", "the number 7 stands here", "Give a text in quotes"),
    (
        SHIP,
        "angle_deg = 9.0",
        "angle = 9.0",
        "landing_area.angle",
        "unknown key",
        "Did you mean 'angle_deg'?",
    ),
    (SHIP, "[lens]", "[lense]", "lense", "unknown key", "Did you mean 'lens'?"),
    (SHIP, "[wires]", "[cables]", "cables", "unknown key", "Known here"),
    (SHIP, "angle_deg = 9.0", "angle_deg = -9.0", "landing_area.angle_deg", "out of range", "from 0 to 30"),
    (SHIP, "angle_deg = 9.0", "angle_deg = nan", "landing_area.angle_deg", "not a usable number", "from 0"),
    (SHIP, "angle_deg = 9.0", 'angle_deg = "9"', "landing_area.angle_deg", "stands here", "Give a number"),
    (SHIP, "-152.4, 3.4, -19.5", "-152.4, 3.4", "landing_area.ramp_m", "a list of 2", "of 3 numbers"),
    (SHIP, "-152.4, 3.4, -19.5", "-152.4, 3.4, inf", "landing_area.ramp_m", "inf is not", "ramp centre"),
    (SHIP, "-152.4, 3.4, -19.5", "-15240, 3.4, 0", "landing_area.ramp_m", "out of range", "from -5000"),
    (SHIP, "[-152.4, 3.4, -19.5]", "-152.4", "landing_area.ramp_m", "the number -152.4", "a list"),
    (SHIP, "[-152.4, 3.4, -19.5]", "{x = 1}", "landing_area.ramp_m", "a table stands here", "a list"),
    (SHIP, "length_m = 237.7", "length_m = 0", "landing_area.length_m", "out of range", "from 20 to 6000"),
    (SHIP, "width_m = 27.4", "width_m = -27", "landing_area.width_m", "out of range", "from 3 to 200"),
    (SHIP, "width_m = 27.4", "", "landing_area.width_m", "missing", "width of the landing area"),
    (SHIP, "[51.816, 64.008, 76.2, 88.392]", "[]", "wires.positions_m", "a list of 0", "1 to 12"),
    (SHIP, "[51.816, 64.008,", "[64.008, 51.816,", "wires.positions_m", "in the order", "aft first"),
    (SHIP, "[51.816, 64.008,", "[64.008, 64.008,", "wires.positions_m", "in the order", "aft first"),
    (SHIP, "76.2, 88.392", "76.2, 290.0", "wires.positions_m", "past the landing area", "past the ramp"),
    (SHIP, "[51.816,", "[-51.816,", "wires.positions_m", "out of range", "aft first"),
    (SHIP, "[51.816,", '["51.816",', "wires.positions_m", 'the text "51.816"', "Give a number"),
    (SHIP, "height_m = 0.11 ", "height_m = 11 ", "wires.height_m", "11 is out of range", "from 0 to 1"),
    (SHIP, "height_m = 0.11 ", "heigth_m = 0.11 ", "wires.heigth_m", "unknown key", "'height_m'"),
    (SHIP, "143.3, -20.5, 0.5", "-143.3, -20.5, 0.5", "lens.position_m", "aft of the ramp", "forward"),
    (SHIP, "143.3, -20.5, 0.5", "143.3, -20.5, 150", "lens.position_m", "above the deck", "up"),
    (
        SHIP,
        "basic_angle_deg = 3.5",
        "basic_angle_deg = 35",
        "lens.basic_angle_deg",
        "35 is out",
        "from 1 to 10",
    ),
    (SHIP, "basic_angle_deg = 3.5", "basic_angle_deg = 0.061", "lens.basic_angle_deg", "out of", "from 1 to"),
    (SHIP, "cells = 12", "cells = 12.0", "lens.cells", "the number 12.0", "whole number from 2 to 60"),
    (SHIP, "cells = 12", "cells = true", "lens.cells", "true stands here", "whole number from 2 to 60"),
    (SHIP, "cells = 12", "cells = 1", "lens.cells", "1 is out of range", "whole number from 2 to 60"),
    (SHIP, "cell_deg = 0.1417", "cell_deg = 1.7", "lens.cell_deg", "into the deck", "of one cell"),
    (SHIP, "cell_deg = 0.1417", "cell_deg = 8.5", "lens.cell_deg", "8.5 is out of range", "one cell covers"),
    (SHIP, "red_cells = 2", "red_cells = 12", "lens.red_cells", "leave none", "fewer than cells"),
    (SHIP, "red_cells = 2", "red_cells = -1", "lens.red_cells", "out of range", "from the bottom"),
    (
        SHIP,
        "hook_target_m = 70.104",
        "hook_target_m = 300",
        "lens.hook_target_m",
        "has ended",
        "past the ramp",
    ),
    (SHIP, "hook_target_m = 70.104", "hook_target_m = 2.3", "lens.hook_target_m", "above it", "in metres"),
    (SHIP, "hook_target_m = 70.104", "hook_target_m = 0", "lens.hook_target_m", "out of range", "above 0"),
    (SHIP, '"line"', '"lines"', "lens.stabilisation", 'the text "lines"', '"inertial", "line", "none"'),
    (SHIP, '"line"', "2", "lens.stabilisation", "the number 2", '"inertial", "line", "none"'),
    (SHIP, "stabilisation =", "stabilization =", "lens.stabilization", "unknown key", "'stabilisation'"),
    (
        SHIP,
        "image_distance_m = 45.72",
        "image_distance_m = 0",
        "lens.image_distance_m",
        "out of",
        "1 to 1000",
    ),
    (SHIP, "window_height_m = 1.22", "window_height_m = 48", "lens.window_height_m", "out of", "0.1 to 10"),
    (
        SHIP,
        "[motion]",
        "[place]\nlatitude_deg = 0\n[motion]",
        "place.heading_deg",
        "missing",
        "Give a number",
    ),
    (
        SHIP,
        "[motion]",
        "[place]\nlatitude_deg=0\nlongitude_deg=0\nelevation_m=0\nheading_deg=0\n[motion]",
        "place",
        "a ship moves",
        'kind = "field"',
    ),
    (SHIP, "[motion]", "[sigma]\nramp_m = 1.0\n[motion]", "sigma.ramp_m", "the number 1.0", "3 numbers"),
    (SHIP, "[motion]", "[sigma]\nwires_m = -1\n[motion]", "sigma.wires_m", "out of range", "from 0 to 50"),
    (SHIP, "centre_m = [-6.0", "centre_m = [nan", "motion.centre_m", "nan is not", "centre of pitch"),
    (SHIP, "[wires]", "[wires\n", "line", "not valid TOML", "key = value"),
    (SHIP, "angle_deg = 9.0", "angle_deg = 9,0", "line", "not valid TOML", "decimals with a point"),
    (SHIP, 'kind = "ship"', "kind = ship", "line", "text without quotes", "text stands in quotes"),
    (SHIP, "cells = 12", "cells = 12\ncells = 12", "line", "twice", "key = value"),
    (SHIP, "cells = 12", "cells = 12\n[lens]", "line", "not valid TOML", "key = value"),
    (FIELD, 'kind = "field"', 'kind = "ship"', "wires", "a ship has wires", "Give [wires]"),
    (FIELD, 'kind = "field"', 'kind = "ship"', "place", "a ship moves", "Leave [place] out"),
    (FIELD, "\n[place]\n", "\n[site]\n", "site", "unknown key", "Known here"),
    (FIELD, "latitude_deg = 44.3", "latitude_deg = 443", "place.latitude_deg", "out of range", "-90 to 90"),
    (FIELD, "longitude_deg = -1.245", "longitude_deg = 358.8", "place.longitude_deg", "out", "-180 to 180"),
    (FIELD, "heading_deg = 282.0", "heading_deg = -78", "place.heading_deg", "out of range", "from 0 to 360"),
    (FIELD, "elevation_m = 4.0", "elevation_ft = 13", "place.elevation_ft", "unknown key", "'elevation_m'"),
    (FIELD, "width_m = 45.0", "width_m = 45.0\nangle_deg = 9", "landing_area.angle_deg", "no angle", "Leave"),
]


@pytest.mark.parametrize(("text", "old", "new", "key", "problem", "remedy"), BAD)
def test_a_bad_site_is_refused_with_key_reason_and_remedy(tmp_path, text, old, new, key, problem, remedy):
    assert text.count(old) >= 1
    path = tmp_path / "mine.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        site.load(path)
    message = str(caught.value)
    assert message.startswith(str(path))
    told = next((line for line in message.splitlines() if f"key {key}" in line), message)
    assert key in told and problem in told and remedy in told
    assert caught.value.exit_code == 2


def test_a_field_without_a_place_is_refused(tmp_path):
    start, end = FIELD.index("\n[place]\n"), FIELD.index("\n[landing_area]\n")
    path = tmp_path / "mine.toml"
    path.write_text(FIELD[:start] + FIELD[end:], encoding="utf-8")
    with pytest.raises(InputError, match=r"key place: a field stands somewhere.*Give \[place\]"):
        site.load(path)
