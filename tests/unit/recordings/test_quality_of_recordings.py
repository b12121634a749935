"""What is wrong with a recording's data is found, mended where it can be, and told."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.errors import InputError
from deckward.foundation import angles
from deckward.recordings import open_recording
from support.recorded_flight import FOOT, KNOT, columns_of, flight, write_csv

FLIGHT = flight(150.0)
COLUMNS = columns_of(FLIGHT)
TIME = FLIGHT["time"]


def read(tmp_path, columns, **options):
    return open_recording(write_csv(tmp_path / "flight.csv", columns), **options)


def texts(recording) -> dict[str, str]:
    found: dict[str, str] = {}
    for note in recording.notes:
        found[note.code] = f"{found[note.code]} {note.text}" if note.code in found else note.text
    return found


def ground_speed(track) -> np.ndarray:
    north = np.diff(track["latitude"]) * 6.37e6
    east = np.diff(track["longitude"]) * 6.37e6 * np.cos(track["latitude"][0])
    return np.hypot(north, east) / np.diff(track.time)


# -- time --------------------------------------------------------------------------------------


@pytest.mark.parametrize("rate", [20.0, 30.0, 50.0, 60.0, 24.0])
@pytest.mark.parametrize("step", [0.01, 0.1, 1.0])
def test_rounded_stamps_of_a_regular_recorder_are_put_back_on_its_grid(tmp_path, rate, step):
    truth = flight(150.0, rate)
    rounded = np.round(truth["time"] / step) * step
    recording = read(tmp_path, {**columns_of(truth), "time_s": np.round(rounded, 3)})
    (track,) = recording.aircraft
    if np.allclose(rounded, truth["time"], atol=1e-6):
        assert recording.notes == ()
        return
    assert "time-rounded" in texts(recording)
    assert len(track) == truth["time"].size
    assert np.abs(track.time - truth["time"]).max() < max(0.002, 0.02 * step)
    assert track.sigma["time"] < 0.1 * step


def test_rounded_stamps_survive_gaps(tmp_path):
    keep = np.ones(TIME.size, bool)
    keep[1000:1060] = False
    keep[2000:2011] = False
    truth = flight(150.0, 30.0)
    keep = np.ones(truth["time"].size, bool)
    keep[1500:1590] = False
    keep[3000:3011] = False
    columns = {name: values[keep] for name, values in columns_of(truth).items()}
    recording = read(tmp_path, {**columns, "time_s": np.round(truth["time"][keep], 2)})
    assert set(texts(recording)) == {"time-rounded", "gap"}
    assert np.abs(recording.aircraft[0].time - truth["time"][keep]).max() < 0.002


def test_rounded_stamps_of_an_irregular_recorder_keep_their_sigma(tmp_path):
    rng = np.random.default_rng(3)
    times = np.cumsum(rng.uniform(0.03, 0.07, 2500))
    truth = flight(140.0, times=times[times < 139.0])
    recording = read(tmp_path, {**columns_of(truth), "time_s": np.round(truth["time"], 2)})
    (track,) = recording.aircraft
    assert track.time == pytest.approx(np.round(truth["time"], 2), abs=1e-9)
    assert track.sigma["time"] == pytest.approx(0.01 / np.sqrt(12.0))
    assert texts(recording)["time-rounded"] == "Time stamps are rounded to 0.01 s."
    assert "jitter" in texts(recording)


def test_true_but_uneven_times_are_left_alone(tmp_path):
    rng = np.random.default_rng(4)
    times = np.arange(2500) * 0.05 + rng.uniform(-0.02, 0.02, 2500)
    truth = flight(150.0, times=times - times[0])
    recording = read(tmp_path, {**columns_of(truth), "time_s": [f"{t:.6f}" for t in truth["time"]]})
    assert recording.aircraft[0].time == pytest.approx(truth["time"], abs=1e-6)
    assert set(texts(recording)) == {"jitter"}


def test_stamps_that_scatter_about_an_even_motion_are_put_on_its_grid(tmp_path):
    rng = np.random.default_rng(5)
    late = np.abs(rng.normal(0.0, 0.008, TIME.size))
    recording = read(tmp_path, {**COLUMNS, "time_s": [f"{t:.6f}" for t in TIME + late]})
    (track,) = recording.aircraft
    assert set(texts(recording)) == {"time-jitter"}
    error = track.time - TIME
    assert np.std(error) < 0.0012
    assert error.mean() == pytest.approx(late.mean(), abs=0.001)


def test_a_regular_recorder_with_lost_samples_gets_only_a_note_of_gaps(tmp_path):
    keep = np.random.default_rng(6).random(TIME.size) > 0.03
    recording = read(tmp_path, {name: values[keep] for name, values in COLUMNS.items()})
    assert recording.aircraft[0].time == pytest.approx(TIME[keep], abs=1e-9)
    assert set(texts(recording)) <= {"gap"}


def test_two_rates_in_one_recording_are_told(tmp_path):
    keep = (np.arange(TIME.size) % 5 == 0) | (TIME > 60.0)
    recording = read(tmp_path, {name: values[keep] for name, values in COLUMNS.items()})
    assert "mostly 20 Hz" in texts(recording)["uneven-rate"]
    assert recording.rate_hz == pytest.approx(20.0)


def test_samples_out_of_order_are_sorted(tmp_path):
    order = np.arange(TIME.size)
    order[100:103] = order[100:103][::-1]
    order[[500, 502]] = order[[502, 500]]
    recording = read(tmp_path, {name: values[order] for name, values in COLUMNS.items()})
    (track,) = recording.aircraft
    assert "4 samples out of order" in texts(recording)["out-of-order"]
    assert track.time == pytest.approx(TIME)
    assert track["pitch"] == pytest.approx(FLIGHT["pitch"], abs=1e-6)


def test_a_clock_that_starts_again_is_counted_on(tmp_path):
    second = flight(80.0, home=(np.radians(28.0), np.radians(-88.0)))
    joined = {name: np.concatenate([values, columns_of(second)[name]]) for name, values in COLUMNS.items()}
    recording = read(tmp_path, joined)
    (track,) = recording.aircraft
    assert "from 149.95 s to 0.00 s" in texts(recording)["time-back"]
    assert "150.00 s later" in texts(recording)["time-back"]
    assert len(track) == TIME.size + second["time"].size
    assert track.time[TIME.size] == pytest.approx(150.0)
    assert recording.ship.time == pytest.approx(track.time)


def test_a_clock_set_back_a_little_does_not_fold_the_way(tmp_path):
    times = np.where(TIME >= 60.0, TIME - 0.5, TIME)
    recording = read(tmp_path, {**COLUMNS, "time_s": times})
    (track,) = recording.aircraft
    assert set(texts(recording)) == {"time-back"}
    assert track.time == pytest.approx(TIME)
    assert np.abs(np.diff(ground_speed(track))).max() < 2.0


def test_a_clock_that_stands_still_and_catches_up_is_spread(tmp_path):
    times = TIME.copy()
    times[1000:1006] = times[1000]
    recording = read(tmp_path, {**COLUMNS, "time_s": times})
    (track,) = recording.aircraft
    assert "stands still for 5 samples, first at 50.00 s" in texts(recording)["time-standing-still"]
    assert len(track) == TIME.size
    assert track.time == pytest.approx(TIME, abs=1e-6)


def test_samples_crowded_on_one_stamp_are_left_out_but_one(tmp_path):
    rows = np.sort(np.concatenate([np.arange(TIME.size), np.full(40, 1000)]))
    columns = {name: values[rows].copy() for name, values in COLUMNS.items()}
    columns["throttle"] = np.round(columns["throttle"] + np.arange(rows.size) * 1e-4, 4)
    recording = read(tmp_path, columns)
    assert "40 samples" in texts(recording)["time-standing-still"]
    assert "left out" in texts(recording)["time-standing-still"]
    assert recording.aircraft[0].time == pytest.approx(TIME)


# -- values ------------------------------------------------------------------------------------


@pytest.mark.parametrize("every", [2, 4, 10, 20])
def test_positions_carried_forward_count_once(tmp_path, every):
    held = (np.arange(TIME.size) // every) * every
    quantities = ("latitude_deg", "longitude_deg", "altitude_m")
    recording = read(tmp_path, {**COLUMNS, **{name: COLUMNS[name][held] for name in quantities}})
    (track,) = recording.aircraft
    assert f"latitude_deg and longitude_deg every {every}" in texts(recording)["carried-forward"]
    known = np.isfinite(track["latitude"])
    assert np.array_equal(np.flatnonzero(known), np.arange(0, TIME.size, every))
    assert (np.isfinite(track["altitude"]) != known).sum() <= 2
    assert track["latitude"][known] == pytest.approx(FLIGHT["latitude"][known], abs=1e-11)


def test_a_ship_carried_forward_counts_once(tmp_path):
    held = (np.arange(TIME.size) // 20) * 20
    names = [name for name in COLUMNS if name.startswith("ship_")]
    recording = read(tmp_path, {**COLUMNS, **{name: COLUMNS[name][held] for name in names}})
    (note,) = recording.notes
    assert note.code == "carried-forward"
    assert (
        note.text
        == "ship: Every 20 samples stand for one: they repeat the one before until the next comes; left out."
    )
    assert np.array_equal(recording.ship.time, TIME[::20])
    assert recording.ship.sigma["latitude"] < 1e-11


@pytest.mark.parametrize("every", [2, 3, 5])
def test_a_whole_recording_at_a_lower_rate_than_its_rows_counts_once(tmp_path, every):
    held = (np.arange(TIME.size) // every) * every
    recording = read(
        tmp_path, {n: values[held] if n != "time_s" else values for n, values in COLUMNS.items()}
    )
    assert {note.code for note in recording.notes} == {"carried-forward"}
    for track in (recording.aircraft[0], recording.ship):
        assert track.time == pytest.approx(TIME[::every])
        assert np.isfinite(track["latitude"]).all()
        assert track.sigma["latitude"] < 1e-11
    assert recording.rate_hz == pytest.approx(20.0 / every)
    assert recording.samples == TIME.size


def test_controls_that_come_quicker_than_the_motion_are_kept(tmp_path):
    held = (np.arange(TIME.size) // 4) * 4
    quick = ("time_s", "throttle")
    recording = read(tmp_path, {n: values if n in quick else values[held] for n, values in COLUMNS.items()})
    (track,) = recording.aircraft
    assert np.array_equal(np.flatnonzero(np.isfinite(track["pitch"])), np.arange(0, TIME.size, 4))
    assert np.isfinite(track["throttle"]).all()


def test_coarse_steps_are_not_taken_for_values_carried_forward(tmp_path):
    columns = {**COLUMNS, "altitude_m": np.round(FLIGHT["altitude"] / FOOT / 25.0) * 25.0 * FOOT}
    columns["ship_latitude_deg"] = np.round(COLUMNS["ship_latitude_deg"], 5)
    columns["ship_longitude_deg"] = np.round(COLUMNS["ship_longitude_deg"], 5)
    recording = read(tmp_path, columns)
    assert set(texts(recording)) == {"coarse-values"}
    assert np.isfinite(recording.aircraft[0]["altitude"]).all()
    assert np.isfinite(recording.ship["latitude"]).all()


def test_controls_may_rest(tmp_path):
    throttle = np.round(np.repeat(np.random.default_rng(7).uniform(0.3, 0.9, TIME.size // 30), 30), 4)
    recording = read(tmp_path, {**COLUMNS, "throttle": throttle})
    assert recording.notes == ()
    assert np.isfinite(recording.aircraft[0]["throttle"]).all()


def test_a_position_that_freezes_and_jumps_is_masked(tmp_path):
    held = np.arange(TIME.size)
    held[1000:1042] = 1000
    names = ("latitude_deg", "longitude_deg", "altitude_m", "pitch_deg")
    recording = read(tmp_path, {**COLUMNS, **{name: COLUMNS[name][held] for name in names}})
    (track,) = recording.aircraft
    assert (
        "stands still once while the craft moves, longest 2.0 s at 50.00 s"
        in texts(recording)["frozen-values"]
    )
    for quantity in ("latitude", "longitude", "altitude", "pitch"):
        assert np.flatnonzero(np.isnan(track[quantity])) == pytest.approx(np.arange(1001, 1042))
    assert np.isfinite(track["roll"]).all()


def test_a_paused_game_is_told(tmp_path):
    held = np.concatenate([np.arange(1000), np.full(200, 999), np.arange(1000, TIME.size)])
    columns = {name: values[held] for name, values in COLUMNS.items()}
    columns["time_s"] = np.round(np.arange(held.size) * 0.05, 4)
    recording = read(tmp_path, columns)
    assert "as if the game was paused, longest 10.0 s at 49.95 s" in texts(recording)["frozen-values"]
    assert np.isnan(recording.aircraft[0]["latitude"]).sum() == 200


def test_a_craft_at_rest_is_not_frozen(tmp_path):
    held = np.concatenate([np.zeros(600, int), np.arange(TIME.size - 600)])
    columns = {name: values[held] for name, values in COLUMNS.items()}
    columns["time_s"] = COLUMNS["time_s"]
    speed = np.where(np.arange(TIME.size) < 600, 5.0, 1.0)
    columns["true_airspeed_kt"] = np.where(held == 0, 12.0, COLUMNS["true_airspeed_kt"][held]) * (speed > 0)
    columns["indicated_airspeed_kt"] = columns["true_airspeed_kt"]
    recording = read(tmp_path, columns)
    assert "frozen-values" not in texts(recording)
    assert np.isfinite(recording.aircraft[0]["latitude"]).all()


def test_one_channel_that_stops_in_flight_is_masked(tmp_path):
    pitch = COLUMNS["pitch_deg"].copy()
    pitch[500:701] = pitch[500]
    recording = read(tmp_path, {**COLUMNS, "pitch_deg": pitch})
    assert "pitch_deg once, first for 10.0 s at 25.00 s" in texts(recording)["frozen-values"]
    assert np.isnan(recording.aircraft[0]["pitch"]).sum() == 200


def test_spikes_are_told_and_kept(tmp_path):
    altitude = COLUMNS["altitude_m"].copy()
    altitude[[700, 1500]] += (25.0, -40.0)
    latitude = COLUMNS["latitude_deg"].copy()
    latitude[900] += 2e-3
    recording = read(tmp_path, {**COLUMNS, "altitude_m": altitude, "latitude_deg": latitude})
    told = texts(recording)["spikes"]
    assert "altitude_m 2 spikes, first at 35.00 s" in told
    assert "latitude_deg 1 spike, first at 45.00 s" in told
    assert recording.aircraft[0]["altitude"][700] == altitude[700]


@pytest.mark.parametrize("number", [-999.0, -9999.0, -32768.0, 1e9])
def test_numbers_for_no_value_are_masked(tmp_path, number):
    columns = {**COLUMNS}
    for name in ("altitude_m", "true_airspeed_kt"):
        columns[name] = COLUMNS[name].copy()
        columns[name][300:310] = number
    recording = read(tmp_path, columns)
    (track,) = recording.aircraft
    assert "10 samples, first at 15.00 s" in texts(recording)["impossible-values"]
    for quantity in ("altitude", "true_airspeed"):
        assert np.flatnonzero(np.isnan(track[quantity])) == pytest.approx(np.arange(300, 310))


# -- written steps -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("quantity", "column", "values", "step"),
    [
        ("altitude", "altitude_ft", np.round(FLIGHT["altitude"] / FOOT), FOOT),
        ("altitude", "altitude_m", np.round(FLIGHT["altitude"] / FOOT / 3.0) * 3.0 * FOOT, 3.0 * FOOT),
        ("altitude", "altitude_ft", np.round(FLIGHT["altitude"] / FOOT / 25.0) * 25.0, 25.0 * FOOT),
        ("heading", "heading_deg", np.round(np.degrees(FLIGHT["heading"])), np.radians(1.0)),
        (
            "heading",
            "heading_deg",
            np.floor(np.degrees(FLIGHT["heading"]) / 360.0 * 4096.0) * 360.0 / 4096.0,
            np.radians(360.0 / 4096.0),
        ),
        ("pitch", "pitch_deg", np.round(np.degrees(FLIGHT["pitch"]), 1), np.radians(0.1)),
        ("true_airspeed", "true_airspeed_kt", np.round(FLIGHT["true_airspeed"] / KNOT), KNOT),
        (
            "latitude",
            "latitude_deg",
            np.degrees(FLIGHT["latitude"]).astype(np.float32).astype(float),
            np.radians(2.0**-19),
        ),
        (
            "longitude",
            "longitude_deg",
            np.degrees(FLIGHT["longitude"]).astype(np.float32).astype(float),
            np.radians(2.0**-17),
        ),
        (
            "longitude",
            "longitude_deg",
            [str(v) for v in np.degrees(FLIGHT["longitude"]).astype(np.float32)],
            np.radians(2.0**-17),
        ),
        ("latitude", "latitude_deg", np.round(np.degrees(FLIGHT["latitude"]), 5), np.radians(1e-5)),
    ],
)
def test_the_step_of_a_column_becomes_its_sigma(tmp_path, quantity, column, values, step):
    dropped = next(name for name in COLUMNS if name.startswith(f"{quantity}_"))
    columns = {name: v for name, v in COLUMNS.items() if name != dropped}
    if column == "altitude_m":
        values = [f"{v:.6f}" for v in values]
    (track,) = read(tmp_path, {**columns, column: values}).aircraft
    assert track.sigma[quantity] == pytest.approx(step / np.sqrt(12.0), rel=1e-3)


def test_fine_columns_have_a_small_sigma_and_no_note(tmp_path):
    recording = read(tmp_path, COLUMNS)
    assert recording.notes == ()
    assert recording.aircraft[0].sigma["altitude"] == pytest.approx(1e-4 / np.sqrt(12.0))


# -- agreement ---------------------------------------------------------------------------------

DEG = 180.0 / np.pi
WRONG: list[tuple[str, dict, str | None, str]] = [
    (
        "vertical speed counts down",
        {"vertical_speed_fpm": -COLUMNS["vertical_speed_fpm"]},
        "vertical_speed",
        "counts the other way",
    ),
    (
        "vertical speed in ft/s",
        {"vertical_speed_fpm": COLUMNS["vertical_speed_fpm"] / 60.0},
        "vertical_speed",
        "vertical_speed_fps",
    ),
    (
        "vertical speed in m/s",
        {"vertical_speed_fpm": FLIGHT["vertical_speed"]},
        "vertical_speed",
        "vertical_speed_mps",
    ),
    (
        "vertical speed of another flight",
        {"vertical_speed_fpm": 500.0 * np.sin(TIME * 2.1)},
        "vertical_speed",
        "does not follow",
    ),
    (
        "velocity down is up",
        {"velocity_down_mps": -COLUMNS["velocity_down_mps"]},
        "velocity_down",
        "counts the other way",
    ),
    (
        "velocities exchanged",
        {
            "velocity_north_mps": COLUMNS["velocity_east_mps"],
            "velocity_east_mps": COLUMNS["velocity_north_mps"],
        },
        "velocity_north",
        "does not follow",
    ),
    (
        "velocity in knots",
        {"velocity_north_mps": COLUMNS["velocity_north_mps"] / KNOT},
        "velocity_north",
        "velocity_north_kt",
    ),
    ("heading in radians", {"heading_deg": FLIGHT["heading"]}, "heading", "written in radians"),
    ("heading anticlockwise", {"heading_deg": (-COLUMNS["heading_deg"]) % 360.0}, "heading", "anticlockwise"),
    (
        "heading as in mathematics",
        {"heading_deg": (90.0 - COLUMNS["heading_deg"]) % 360.0},
        "heading",
        "anticlockwise from east",
    ),
    (
        "heading reversed",
        {"heading_deg": (COLUMNS["heading_deg"] + 180.0) % 360.0},
        "heading",
        "points the other way",
    ),
    ("roll counts left", {"roll_deg": -COLUMNS["roll_deg"]}, "roll", "counts the other way"),
    ("roll in radians", {"roll_deg": FLIGHT["roll"]}, "roll", "roll_rad"),
    ("pitch in radians", {"pitch_deg": FLIGHT["pitch"]}, "pitch", "pitch_deg is in radians"),
    ("pitch counts down", {"pitch_deg": -COLUMNS["pitch_deg"]}, "pitch", "counts the other way"),
    (
        "angle of attack in radians",
        {"angle_of_attack_deg": FLIGHT["angle_of_attack"]},
        "angle_of_attack",
        "angle_of_attack_deg is in radians",
    ),
    (
        "angle of attack of another zero",
        {"angle_of_attack_deg": COLUMNS["angle_of_attack_deg"] + 9.0},
        None,
        "9.0 deg in the middle",
    ),
    (
        "airspeed in km/h",
        {"true_airspeed_kt": FLIGHT["true_airspeed"] * 3.6},
        "true_airspeed",
        "true_airspeed_kmh",
    ),
    (
        "airspeed in ft/s",
        {"true_airspeed_kt": FLIGHT["true_airspeed"] / FOOT},
        "true_airspeed",
        "true_airspeed_fps",
    ),
    (
        "airspeed of another flight",
        {"true_airspeed_kt": COLUMNS["true_airspeed_kt"] * 2.6},
        None,
        "disagree beyond any wind",
    ),
    (
        "ship's heading reversed",
        {"ship_heading_deg": (COLUMNS["ship_heading_deg"] + 180.0) % 360.0},
        None,
        "points the other way",
    ),
]


@pytest.mark.parametrize(
    ("changed", "dropped", "said"), [row[1:] for row in WRONG], ids=[row[0] for row in WRONG]
)
def test_channels_that_contradict_one_another_are_told(tmp_path, changed, dropped, said):
    columns = {**COLUMNS, **{name: [f"{v:.6f}" for v in values] for name, values in changed.items()}}
    if any(name.startswith("true_airspeed") for name in changed):
        columns = {name: v for name, v in columns.items() if name != "indicated_airspeed_kt"}
    recording = read(tmp_path, columns)
    assert said in texts(recording)["contradiction"]
    (track,) = recording.aircraft
    lost = (
        {quantity for quantity in FLIGHT if not quantity.startswith("ship_")} - set(track.channels) - {"time"}
    )
    lost -= {"indicated_airspeed"}
    assert lost <= ({dropped} if dropped else set()) | (
        {"velocity_east"} if dropped == "velocity_north" else set()
    )
    if dropped:
        assert dropped in lost


def test_a_magnetic_heading_is_told(tmp_path):
    recording = read(tmp_path, {**COLUMNS, "heading_deg": (COLUMNS["heading_deg"] + 8.0) % 360.0})
    assert "8 deg right of the direction of motion on all courses" in texts(recording)["heading-offset"]


@pytest.mark.parametrize("quiet", [True, False])
def test_swapped_coordinates_within_range_are_found(tmp_path, quiet):
    there = flight(150.0, home=(np.radians(35.0), np.radians(21.0)))
    columns = columns_of(there)
    columns["latitude_deg"], columns["longitude_deg"] = columns["longitude_deg"], columns["latitude_deg"]
    if quiet:
        columns = {k: v for k, v in columns.items() if "airspeed" not in k}
    with pytest.raises(InputError, match=r"latitude and longitude seem to be swapped.*Exchange"):
        read(tmp_path, columns)


def test_steady_wind_and_sideslip_are_no_contradiction(tmp_path):
    columns = {**COLUMNS, "true_airspeed_kt": COLUMNS["true_airspeed_kt"] + 25.0}
    assert "contradiction" not in texts(read(tmp_path, columns))
    columns = {**COLUMNS, "angle_of_attack_deg": COLUMNS["angle_of_attack_deg"] + 1.5}
    assert read(tmp_path, columns).notes == ()


@pytest.mark.parametrize("home", [(80.0, 10.0), (-39.0, 179.995), (0.001, 0.001), (-70.0, -179.99)])
def test_a_flight_anywhere_on_earth_is_as_good(tmp_path, home):
    there = flight(150.0, home=tuple(np.radians(home)))
    recording = read(tmp_path, columns_of(there))
    assert recording.notes == ()
    (track,) = recording.aircraft
    assert np.abs(angles.difference(track["longitude"], there["longitude"])).max() < 1e-11


def test_coarse_and_noisy_but_honest_data_are_not_accused(tmp_path):
    rng = np.random.default_rng(8)
    columns = {
        **COLUMNS,
        "latitude_deg": COLUMNS["latitude_deg"].astype(np.float32).astype(float),
        "longitude_deg": COLUMNS["longitude_deg"].astype(np.float32).astype(float),
        "altitude_m": np.round(FLIGHT["altitude"] / FOOT / 3.0) * 3.0 * FOOT,
        "pitch_deg": np.round(COLUMNS["pitch_deg"] + rng.normal(0.0, 0.1, TIME.size), 1),
        "heading_deg": np.round((COLUMNS["heading_deg"] + rng.normal(0.0, 0.1, TIME.size)) % 360.0, 1),
        "vertical_speed_fpm": np.round(COLUMNS["vertical_speed_fpm"] + rng.normal(0.0, 60.0, TIME.size), -1),
    }
    recording = read(tmp_path, columns)
    assert set(texts(recording)) == {"coarse-values"}
    assert set(recording.aircraft[0].channels) >= {"vertical_speed", "pitch", "heading", "angle_of_attack"}


def test_notes_of_several_craft_say_whose_they_are(tmp_path):
    keep = np.ones(TIME.size, bool)
    keep[100:300] = False
    one = {"who": np.repeat("Wren", keep.sum()), **{name: values[keep] for name, values in COLUMNS.items()}}
    two = {"who": np.repeat("Heron", TIME.size), **COLUMNS}
    joined = {name: np.concatenate([one[name], two[name]]) for name in one}
    recording = read(tmp_path, joined)
    assert [note.text[:9] for note in recording.notes if note.code == "gap"] == ["Wren: A g"]
    assert len(recording.ship) == TIME.size
