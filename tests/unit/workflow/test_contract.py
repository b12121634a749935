"""The published object: keys, units, and what stands where nothing is known."""

from __future__ import annotations

import json
import math

import jsonschema
import numpy as np
import pytest
from msgspec.structs import replace

from deckward import aircraft, site
from deckward.errors import Note
from deckward.passes import model as flown
from deckward.reports.model import PassReport, SessionReport
from deckward.scoring.model import Grade, Scorecard
from deckward.workflow import Debrief, contract

DEG = math.pi / 180.0


def a_pass(**changes) -> flown.Pass:
    """A trap with every part in it; SI and radians, so that each unit can be told from its key."""
    position = flown.Position(
        name="1/2 nm",
        range=926.0,
        time=25.5,
        glide_slope_error=0.25 * DEG,
        ball_cells=1.75,
        line_up_error=-0.5 * DEG,
        line_up_offset=-8.0,
        angle_of_attack=8.0 * DEG,
        angle_of_attack_error=float("nan"),
        sink=3.5,
        closure=52.0,
        after_wave_off=False,
    )
    whole = flown.Pass(
        who="Heron",
        aircraft=aircraft.load("sandlark"),
        site=site.load("wintermere"),
        start=10.0,
        end=50.0,
        outcome="trap",
        flags=("hook skip",),
        wire=np.int64(3),  # type: ignore[arg-type]
        wire_odds={"3": 0.9, "4": 0.1},
        wire_in_the_air=False,
        groove=flown.Groove(start=28.0, seconds=17.0),
        turn=flown.Turn(abeam_distance=2100.0, abeam_altitude=183.0, start=12.0),
        positions=(position,),
        ramp=flown.Ramp(time=44.0, hook_to_ramp=4.2, hook_to_ramp_sigma=0.05),
        touchdown=flown.Touchdown(
            time=45.5,
            kind="deck",
            hook_x=75.5,
            hook_x_sigma=0.3,
            wheels_x=80.0,
            off_centre=0.7,
            sink=2.9,
            closure=49.5,
            angle_of_attack=7.9 * DEG,
            pitch=5.3 * DEG,
        ),
        wave_off=flown.WaveOff(start=40.0, start_range=200.0, lowest_hook_above_deck=2.5),
        series=None,  # type: ignore[arg-type]
        notes=(Note("gap", "0.4 s without samples."),),
    )
    return replace(whole, **changes)


CARD = Scorecard(
    grade=Grade(name="OK", symbol="OK", points=4.0, odds={"OK": 0.6, "fair": 0.4}),
    deviations=(),
    shorthand="(H)IM",
    summary="A little high in the middle.",
    look_at="High in the middle.",
    rulebook="strict",
)


def a_report(*passes: flown.Pass, card: Scorecard = CARD) -> SessionReport:
    return SessionReport(
        title="evening",
        recording="evening.csv",
        samples=1000,
        rate_hz=20.0,
        notes=(Note("jitter", "Samples come unevenly."),),
        passes=tuple(PassReport(i, one, card) for i, one in enumerate(passes, start=1)),
    )


def published(*passes: flown.Pass, card: Scorecard = CARD) -> dict:
    """The object as another program gets it: through its JSON text, held to the schema."""
    found = json.loads(Debrief(a_report(*passes, card=card)).to_json())
    jsonschema.validate(found, contract.schema())
    return found


def test_each_figure_stands_in_the_unit_of_its_name():
    one = published(a_pass())["passes"][0]
    assert one["aircraft"] == "Sandlark"
    assert one["wire"] == 3
    assert one["groove"] == {"start_s": 28.0, "seconds": 17.0}
    assert one["turn"] == {"abeam_distance_m": 2100.0, "abeam_altitude_m": 183.0, "start_s": 12.0}
    assert one["ramp"] == {"time_s": 44.0, "hook_to_ramp_m": 4.2, "hook_to_ramp_sigma_m": 0.05}
    assert one["touchdown"]["pitch_deg"] == 5.3
    assert one["touchdown"]["angle_of_attack_deg"] == 7.9
    assert one["wave_off"] == {"start_s": 40.0, "start_range_m": 200.0, "lowest_hook_above_deck_m": 2.5}
    position = one["positions"][0]
    assert position["glide_slope_error_deg"] == 0.25
    assert position["line_up_error_deg"] == -0.5
    assert position["line_up_offset_m"] == -8.0
    assert position["range_m"] == 926.0


def test_what_is_not_known_is_null():
    one = published(
        a_pass(
            outcome=None,
            wire=None,
            groove=None,
            turn=None,
            ramp=None,
            touchdown=None,
            wave_off=None,
            positions=(),
        )
    )["passes"][0]
    for key in ("outcome", "wire", "groove", "turn", "ramp", "touchdown", "wave_off"):
        assert one[key] is None
    assert one["positions"] == []


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf"), None])
def test_a_figure_without_a_value_is_null_and_never_breaks_the_json(value):
    ramp = flown.Ramp(time=44.0, hook_to_ramp=value, hook_to_ramp_sigma=0.05)
    one = published(a_pass(ramp=ramp))["passes"][0]
    assert one["ramp"]["hook_to_ramp_m"] is None
    assert one["positions"][0]["angle_of_attack_error_deg"] is None


def test_what_is_still_to_be_built_is_empty_or_null():
    one = published(a_pass())["passes"][0]
    assert (one["findings"], one["contributions"], one["odds"]) == ([], [], [])
    assert one["unexplained_m"] is None
    assert one["last_safe_wave_off_s"] is None


def test_the_grade_comes_with_odds_and_points_only_where_it_is_scored():
    grade = published(a_pass())["passes"][0]["grade"]
    assert grade == {"name": "OK", "symbol": "OK", "points": 4.0, "odds": {"OK": 0.6, "fair": 0.4}}
    unscored = replace(CARD, grade=Grade(name="wave-off", symbol="WO", points=None, odds={"wave-off": 1.0}))
    assert published(a_pass(outcome="wave-off"), card=unscored)["passes"][0]["grade"]["points"] is None


def test_the_notes_of_a_pass_are_told_with_its_number():
    notes = published(a_pass(), a_pass(notes=()))["recording"]["notes"]
    assert notes == [
        {"code": "jitter", "text": "Samples come unevenly."},
        {"code": "gap", "text": "Pass 1: 0.4 s without samples."},
    ]


def test_a_note_of_the_whole_recording_is_not_told_again():
    shared = Note("jitter", "Samples come unevenly.")
    assert len(published(a_pass(notes=(shared,)))["recording"]["notes"]) == 1


def test_the_schema_refuses_a_key_that_is_not_in_it():
    found = published(a_pass())
    found["passes"][0]["wires"] = 3
    with pytest.raises(jsonschema.ValidationError, match="wires"):
        jsonschema.validate(found, contract.schema())


@pytest.mark.parametrize("key", ["schema", "recording", "passes"])
def test_the_schema_wants_every_key_that_is_promised(key):
    found = published(a_pass())
    del found[key]
    with pytest.raises(jsonschema.ValidationError, match=key):
        jsonschema.validate(found, contract.schema())


def test_every_key_of_a_pass_is_promised():
    """Nothing may be left out because it is null or empty."""
    found = published(a_pass())
    for key in list(found["passes"][0]):
        less = json.loads(json.dumps(found))
        del less["passes"][0][key]
        with pytest.raises(jsonschema.ValidationError, match=key):
            jsonschema.validate(less, contract.schema())


def test_dicts_and_text_say_the_same():
    done = Debrief(a_report(a_pass()))
    assert done.to_dict() == json.loads(done.to_json())
