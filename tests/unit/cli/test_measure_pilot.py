"""Fitting a pilot by command: his file, what flies with it, and what a recording cannot show."""

from __future__ import annotations

import numpy as np
import pytest

from deckward import aircraft
from deckward.cli import main
from deckward.prediction import Pilot, pilots
from support.approach import save
from support.simulated_recording import passes, write

#: quick hands that hold the jet high and fast
OTHER = Pilot(delay=0.2, rate_gain=0.24, climb_gain=0.17, aim=0.9, alpha_habit=-0.012)
KNOWN = ["--site", "wintermere", "--aircraft", "sandlark"]


@pytest.fixture(scope="module")
def flown():
    return passes(aircraft.load("sandlark"), "wintermere", OTHER, 5)


@pytest.fixture
def desk(tmp_path, monkeypatch, flown):
    write(tmp_path, flown)
    monkeypatch.chdir(tmp_path)
    return tmp_path


FILES = [f"pass-{number}.csv" for number in range(1, 6)]


def test_a_pilot_is_fitted_and_a_study_flies_with_his_file(desk, capsys):
    words = ["measure", "pilot", *FILES, *KNOWN, "--name", "Wren", "--copy", "wren.toml", "--out", "seen"]
    assert main(words) == 0
    said = capsys.readouterr().out
    for part in (
        "fitted to",
        "5 passes",
        "delay_s",
        "sigma",
        "usual 0.35",
        "foretold",
        "deckward study --pilot",
    ):
        assert part in said
    found = pilots.load("wren.toml")
    assert found.delay == pytest.approx(OTHER.delay, abs=0.08)
    assert found.rate_gain == pytest.approx(OTHER.rate_gain, rel=0.2)
    assert found.alpha_habit == pytest.approx(OTHER.alpha_habit, abs=0.004)
    assert found.aim == pytest.approx(OTHER.aim, abs=0.7)
    text = (desk / "wren.toml").read_text(encoding="utf-8")
    assert text.startswith("# Fitted to 5 passes") and 'name = "Wren"' in text
    assert {path.name for path in (desk / "seen").iterdir()} == {"hands.svg", "hands.png"}
    assert main(["study", "--pilot", "standard,wren.toml", "--number", "20"]) == 0
    assert "wren.toml" in capsys.readouterr().out


def test_too_few_passes_are_refused(desk, capsys):
    assert main(["measure", "pilot", *FILES[:3], *KNOWN]) == 2
    said = capsys.readouterr().err
    assert "3 passes" in said and "4 or more" in said and "Traceback" not in said


def spoil(desk, flown, without):
    for name, one in zip(FILES, flown, strict=True):
        save(desk / name, {key: value for key, value in one.items() if key not in without})


def test_without_a_throttle_power_is_said_not_to_be_fitted(desk, flown, capsys):
    spoil(desk, flown, {"throttle"})
    assert main(["measure", "pilot", *FILES, *KNOWN]) == 0
    said = capsys.readouterr().out
    assert "no throttle was recorded" in said and "delay_s" not in said and "alpha_habit_deg" in said


def test_with_nothing_that_shows_a_hand_nothing_is_guessed(desk, flown, capsys):
    spoil(desk, flown, {"throttle", "roll_deg", "pitch_deg", "angle_of_attack_deg"})
    assert main(["measure", "pilot", *FILES, *KNOWN, "--copy", "none.toml"]) == 2
    assert "neither throttle nor bank nor angle of attack" in capsys.readouterr().err
    assert not (desk / "none.toml").exists()


def test_a_pass_whose_throttle_stands_still_is_left_out(desk, flown, capsys):
    save(desk / FILES[0], {**flown[0], "throttle": np.full(flown[0]["time_s"].size, 0.5)})
    assert main(["measure", "pilot", *FILES, *KNOWN]) == 0
    said = capsys.readouterr().out
    assert "1 pass without a throttle" in said and "4 passes" in said


def test_a_ships_spots_say_nothing_of_a_pilot(desk, capsys):
    assert main(["measure", "pilot", *FILES, *KNOWN, "--at-ramp", FILES[0]]) == 2
    assert "tells nothing of the pilot" in capsys.readouterr().err
