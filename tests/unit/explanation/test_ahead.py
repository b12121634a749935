"""Odds along recorded passes, and the last safe wave-off."""

from __future__ import annotations

import json
import subprocess
import sys

import numpy as np
import pytest
from msgspec.structs import replace

import deckward
from deckward.cli import main
from deckward.errors import InputError
from deckward.explanation import ahead
from deckward.foundation.units import FOOT
from deckward.prediction import NIGHT, wave_off_clears
from deckward.reports import approach, words
from deckward.reports.svg import Form
from support import drawn_pass


@pytest.fixture(autouse=True)
def few_moments(monkeypatch):
    """Twenty moments tell what two hundred do."""
    monkeypatch.setattr(ahead, "MOMENTS", 20)


def told(report, **options):
    found = ahead.outlook(report.flown, count=40, wave_offs=200, **options)
    assert found is not None
    return found


def test_the_odds_end_where_the_pass_did():
    good, bolter = told(drawn_pass.good()), told(drawn_pass.bolter())
    assert good.trap[-1] > 0.9 and bolter.bolter[-1] > 0.9
    assert bolter.trap[0] > bolter.trap[-1], "far out nothing was settled yet"
    for one in (good, bolter):
        total = one.trap + one.bolter + one.wave_off + one.ramp_strike + one.outside
        np.testing.assert_allclose(total, 1.0)
        assert (np.diff(one.time) > 0).all() and (np.diff(one.range) < 0).all()


def test_a_moment_is_the_aircraft_as_it_was():
    """The model's state has the place and the motion that the pass had there."""
    flown = drawn_pass.good().flown
    at = next(p for p in flown.positions if p.name == "1/2 nm")
    found = ahead.moments(flown, at=np.array([at.time]))
    s = found.states
    assert -s.x[0] == pytest.approx(at.range, abs=0.5)
    assert s.y[0] == pytest.approx(at.line_up_offset, abs=0.05)
    assert (s.vx[0], -s.vz[0]) == pytest.approx((at.closure, at.sink), abs=0.05)
    steady = found.scene.trim_power
    assert s.power[0] == pytest.approx(steady, abs=0.2)


def test_a_low_pass_carried_on_is_told_plainly_and_a_good_one_is_not():
    low, good = told(drawn_pass.low_red()), told(drawn_pass.good())
    assert "Continued past the last safe wave-off" in low.verdict and "cells low" in low.verdict
    assert "Continued" not in good.verdict
    assert low.last_safe_range >= good.last_safe_range - 0.1, "low, it comes sooner"


def test_a_wave_off_flown_is_held_against_the_last_safe_one():
    report = drawn_pass.wave_off()
    assert told(report).verdict == "Waved off in time: a wave-off was still safe."
    late = replace(
        report.flown, wave_off=replace(report.flown.wave_off, start=report.flown.wave_off.start + 3)
    )
    assert ahead._verdict(late, report.flown.wave_off.start, 0.7, end=late.wave_off.start) == (
        "Waved off 2.3 s after the last safe moment: too late."
    )


def test_the_last_safe_wave_off_keeps_its_margin_and_a_later_one_does_not():
    flown = drawn_pass.low_red().flown
    last = told(drawn_pass.low_red()).last_safe
    found = ahead.moments(flown, at=np.array([last, last + 1.5]))
    clear = wave_off_clears(
        found.scene, found.states, begins=found.begins, count=2000, margin=10 * FOOT, seed=5
    )
    assert clear[0] > 0.98 and clear[1] < 0.9


def test_slower_hands_board_no_better():
    found = [
        ahead.outlook(drawn_pass.bolter().flown, pilot=hands, count=400, wave_offs=20)
        for hands in (None, NIGHT)
    ]
    assert found[1].trap[:10].mean() <= found[0].trap[:10].mean() + 0.02


def test_no_wires_no_odds():
    flown = drawn_pass.good().flown
    assert ahead.outlook(replace(flown, site=replace(flown.site, wires=None))) is None
    assert ahead.outlook(replace(flown, outcome="touch-and-go")) is None


def test_the_ribbon_and_the_mark_are_drawn():
    report = drawn_pass.low_red()
    found = told(report)
    drawn = approach.draw(report.flown, name="p", form=Form.WIDE, ahead=found).render()
    bare = approach.draw(report.flown, name="p", form=Form.WIDE).render()
    assert "Odds from here on" in drawn and "last safe wave-off" in drawn
    assert "Odds from here on" not in bare and "last safe wave-off" not in bare
    assert "Odds of a trap" in words.outlook(found)


def test_the_command_tells_odds_where_it_is_asked(desk, capsys):
    command = ["debrief", "flight.csv", "--site", "ship.toml", "--aircraft", "jet.toml", "--json"]
    assert main([*command, "--odds", "--pilot", "standard"]) == 0
    (one,) = json.loads(capsys.readouterr().out)["passes"]
    assert len(one["odds"]) == 20
    assert one["odds"][0]["time_s"] < one["last_safe_wave_off_s"] < one["ramp"]["time_s"]
    assert main(command) == 0
    (bare,) = json.loads(capsys.readouterr().out)["passes"]
    assert bare["odds"] == [] and bare["last_safe_wave_off_s"] is None


def test_a_pilot_without_odds_is_a_slip(desk):
    with pytest.raises(InputError, match="only in the odds"):
        deckward.debrief("flight.csv", site="ship.toml", aircraft="jet.toml", pilot="standard")


def test_a_plain_debrief_compiles_nothing(desk):
    code = (
        "import sys; from deckward.cli import main;"
        "code = main(['debrief', 'flight.csv', '--site', 'ship.toml', '--aircraft', 'jet.toml', '--quiet']);"
        "sys.exit(code or 'numba' in sys.modules or 'deckward.explanation.ahead' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
