"""The table of rules, and the detectors that read it."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.explanation import findings, launch
from deckward.explanation.rules import load
from deckward.explanation.view import STEP, averaged, stretches, swings

PUBLISHED = [
    "slow-held",
    "fast-held",
    "nose-for-ball",
    "power-left-in",
    "power-idle",
    "power-sawing",
    "power-cut-at-ramp",
    "chased-ball",
    "flared",
    "dived",
    "high-brought-down",
    "low-in-window",
    "late-wave-off",
    "burst-then-cut",
    "over-rotated",
    "roll-without-power",
    "drifted",
    "late-line-up",
    "straight-astern",
    "overshot-start",
    "undershot-start",
    "short-groove",
    "long-groove",
    "pattern-altitude",
    "barometric-error",
    "abeam-distance",
    "not-configured",
    "hook-not-down",
    "too-heavy",
    "power-short-at-touchdown",
    "power-off-early",
    "brakes-in-wire",
    "hook-left-down",
    "hook-skip",
    "stick-in-launch",
    "launch-trim",
    "launch-flaps",
    "launch-power",
    "launch-settle",
    "fast-taxi-turn",
]


def test_every_published_code_has_a_rule_and_a_detector():
    looked_for = [detector.code for detector in findings.DETECTORS] + list(launch.DETECTORS)
    assert sorted(looked_for) == sorted(PUBLISHED)
    assert sorted(load()) == sorted(PUBLISHED)


@pytest.mark.parametrize("code", PUBLISHED)
def test_a_rule_says_what_it_is_and_where_from(code):
    rule = load()[code]
    assert rule.title and rule.advice.endswith(".")
    assert rule.weight > 0 and rule.limits
    assert any(word in rule.source for word in ("published", "derived", "memory", "practice", "own"))


def test_limits_are_read_in_si():
    rule = load()["slow-held"]
    assert rule["within"] == pytest.approx(0.75 * 1852)
    assert load()["power-sawing"]["stroke_part"] == pytest.approx(0.27)
    assert load()["dived"]["pitch"] == pytest.approx(np.radians(1.5))


def test_stretches_are_runs_that_last():
    mask = np.zeros(100, dtype=bool)
    mask[10:20] = mask[50:90] = True
    assert [(part.start, part.stop) for part in stretches(mask, 15 * STEP)] == [(50, 90)]
    assert list(stretches(~np.ones(10, dtype=bool), 0.0)) == []


def test_swings_leave_out_small_wobbles():
    time = np.linspace(0.0, 4.0 * np.pi, 400)
    wave = np.sin(time) + 0.05 * np.sin(31 * time)
    first, *between, last = swings(wave, 0.5)
    assert (first, last) == (0, 399)
    assert np.round(time[between] / np.pi - 0.5) == pytest.approx([0, 1, 2, 3])
    assert np.sign(wave[between]).tolist() == [1, -1, 1, -1]


def test_average_keeps_a_constant_and_skips_what_is_not_known():
    values = np.full(200, 3.0)
    values[40:50] = np.nan
    assert averaged(values, 1.0) == pytest.approx(np.full(200, 3.0))
