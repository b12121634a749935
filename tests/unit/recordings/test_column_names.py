"""What the names of columns say, in the words of many recorders."""

from __future__ import annotations

import pytest

from deckward.recordings.recogniser.names import is_unit, read_name, unit_in

#: (name, craft and quantity, unit)
NAMED = [
    ("altitude_ft", "altitude", "ft"),
    ("Alt (ft MSL)", "altitude", "ft"),
    ("ALT [feet]", "altitude", "ft"),
    ("height_above_sea_m", "altitude", "m"),
    ("Flughöhe in Metern", "altitude", "m"),
    ("Hoehe [Fuß]", "altitude", "ft"),
    ("altitude (pieds)", "altitude", "ft"),
    ("quota_metri", "altitude", "m"),
    ("Высота (м)", "altitude", "m"),
    ("groundSpeedKts", "ground_speed", None),
    ("tas_kts", "true_airspeed", "kt"),
    ("KTAS", "true_airspeed", "kt"),
    ("KIAS", "indicated_airspeed", "kt"),
    ("True Airspeed (km/h)", "true_airspeed", "kmh"),
    ("trueAirspeedMps", "true_airspeed", "mps"),
    ("calibrated airspeed, kn", "indicated_airspeed", "kt"),
    ("Speed", "speed", None),
    ("Geschwindigkeit [m/s]", "speed", "mps"),
    ("hdg", "heading", None),
    ("Heading (°T)", "heading", "deg"),
    ("psi_rad", "heading", "rad"),
    ("mag_hdg", "magnetic", None),
    ("Kompasskurs", "magnetic", None),
    ("Pitch Angle [deg]", "pitch", "deg"),
    ("pitch_rate_dps", "rate", None),
    ("tangage (rad)", "pitch", "rad"),
    ("bankAngleDeg", "roll", "deg"),
    ("Querneigung °", "roll", "deg"),
    ("AoA", "angle_of_attack", None),
    ("AOA units", "gauge", None),
    ("alpha_deg", "angle_of_attack", "deg"),
    ("vertical speed (ft/min)", "vertical_speed", "fpm"),
    ("VSI fpm", "vertical_speed", "fpm"),
    ("Steigrate m/s", "vertical_speed", "mps"),
    ("sink rate [fps]", "sink", "fps"),
    ("RadAlt_ft", "radar_altitude", "ft"),
    ("pressure altitude", "pressure_altitude", None),
    ("baro_alt_ft", "pressure_altitude", "ft"),
    ("selected heading", "target", None),
    ("ship_latitude_deg", "ship latitude", "deg"),
    ("carrier lon", "ship longitude", None),
    ("CVN.position.lat", "ship latitude", None),
    ("boatHdg", "ship heading", None),
    ("Schiff Kurs [°]", "ship heading", "deg"),
    ("navire_cap", "ship heading", None),
    ("mothership.attitude.pitch", "ship pitch", None),
    ("Throttle %", "throttle", "pct"),
    ("Fahrwerk", "gear", None),
    ("tail hook", "hook", None),
    ("fuel_lbs", "fuel", "lb"),
    ("gross weight kg", "mass", "kg"),
    ("nz", "normal_acceleration", None),
    ("wind direction (deg)", "wind_from", "deg"),
    ("QNH [hPa]", "sea_pressure", "hpa"),
    ("OAT °C", "temperature", "c"),
    ("callsign", "who", None),
    ("unixTimeMs", "time", "ms"),
    ("Elapsed seconds", "time", "s"),
    ("czas", "time", None),
    ("pos.x", "x", None),
    ("vel_z", "vz", None),
    ("Y_North_ft", "north", "ft"),
]


@pytest.mark.parametrize(("name", "means", "unit"), NAMED)
def test_a_name_is_read(name, means, unit):
    best = read_name(name)[0]
    assert (("ship " if best.ship else "") + best.quantity, best.unit) == (means, unit)


@pytest.mark.parametrize("name", ["", "   ", "p7", "???", "zzz", "_", "42"])
def test_a_name_that_says_nothing_is_not_guessed_at(name):
    assert read_name(name) == []


@pytest.mark.parametrize(
    ("name", "turned"),
    [
        ("bank left", -1),
        ("bank right", 1),
        ("west long", -1),
        ("headingCCW", -1),
        ("nose up", 0),
        ("roll", 0),
    ],
)
def test_words_that_turn_a_sign_are_heard(name, turned):
    assert read_name(name)[0].turned == turned


@pytest.mark.parametrize(
    ("spelling", "dimension", "unit"),
    [
        ("ft", "length", "ft"),
        ("Feet MSL", "length", "ft"),
        ("m/s", "speed", "mps"),
        ("metres per second", "speed", "mps"),
        ("ft / min", "speed", "fpm"),
        ("kts", "speed", "kt"),
        ("km/h", "speed", "kmh"),
        ("°", "angle", "deg"),
        ("deg true", "angle", "deg"),
        ("msec", "time", "ms"),
        ("m/s²", "acceleration", "mps2"),
        ("furlong", "length", None),
        ("kt", "length", None),
    ],
)
def test_units_are_read_in_many_spellings(spelling, dimension, unit):
    assert unit_in(spelling, dimension) == unit


def test_a_unit_row_says_what_the_name_does_not():
    assert read_name("h", "[ft]")[0].unit == "ft"
    assert is_unit("[m/s]")
    assert is_unit("-")
    assert not is_unit("Altitude")
