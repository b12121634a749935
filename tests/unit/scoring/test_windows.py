"""When a pass was at which of the rulebook's positions."""

from __future__ import annotations

import pytest

from deckward import scoring
from support.synthetic_pass import CLOSURE, CONTACT_X, FT, NM, fly

STRICT = scoring.load("strict")
START = 1.2 * NM


def at(metres, start=START):
    return 100.0 + (start - metres) / CLOSURE


def spans(flown, rulebook=STRICT):
    return {window.bounds.code: (window.start, window.end) for window in scoring.windows(flown, rulebook)}


def test_positions_lie_where_the_rulebook_puts_them_and_end_with_contact():
    found = spans(fly())
    assert list(found) == ["X", "IM", "IC", "AR", "IW"]
    edges = [0.75 * NM, 0.5 * NM, 0.25 * NM, 300 * FT, 0.0, -CONTACT_X]
    for code, far, near in zip(found, edges[:-1], edges[1:], strict=True):
        assert found[code] == pytest.approx((at(far), at(near)), abs=0.02)
    assert [window.landing for window in scoring.windows(fly(), STRICT)] == [False] * 4 + [True]


def test_a_late_roll_out_starts_with_the_groove_and_lasts_its_least():
    found = spans(fly(groove_m=800.0, downwind=True))
    assert found["X"] == pytest.approx((at(800.0), at(800.0) + 4.0))
    assert found["IM"] == pytest.approx((at(800.0) + 4.0, at(0.25 * NM)))


def test_a_roll_out_far_inside_leaves_no_middle():
    found = spans(fly(groove_m=500.0, downwind=True))
    assert list(found) == ["X", "IC", "AR", "IW"]
    assert found["IC"][0] == pytest.approx(at(500.0) + 4.0)


def test_a_groove_from_far_out_changes_nothing():
    assert spans(fly(groove_m=1.1 * NM)) == spans(fly())


def test_nothing_lies_after_a_wave_off_began():
    found = spans(fly(outcome="wave-off", wave_off_m=600.0))
    assert list(found) == ["X", "IM"]
    assert found["IM"][1] == pytest.approx(at(600.0))
    assert not any(
        window.landing for window in scoring.windows(fly(outcome="wave-off", wave_off_m=600.0), STRICT)
    )


def test_a_record_that_begins_inside_a_position_has_the_rest_of_it():
    found = spans(fly(start_m=700.0))
    assert list(found) == ["IM", "IC", "AR", "IW"]
    assert found["IM"] == pytest.approx((at(700.0, 700.0), at(0.25 * NM, 700.0)), abs=0.02)


@pytest.mark.parametrize(("start", "end"), [(3.0 * NM, 2.0 * NM), (30.0, 20.0)])
def test_a_record_that_shows_no_position_or_a_corner_of_one(start, end):
    assert len(spans(fly(start_m=start, end_m=end, outcome=None))) <= 1


def test_bounds_in_seconds_count_down_to_the_ramp(tmp_path):
    own = tmp_path / "own.toml"
    text = scoring.source("strict")
    for old, new in {
        "from_nm = 0.75\nto_nm = 0.5": "from_s = 24\nto_s = 16",
        "from_nm = 0.5\nto_nm = 0.25": "from_s = 16\nto_s = 8",
        "from_nm = 0.25\nto_ft = 300": "from_s = 8\nto_s = 2",
        "from_ft = 300\nto_ft = 0": "from_s = 2\nto_s = 0",
        "from_ft = 0\nto_ft = -500": "from_s = 0\nto_s = -5",
    }.items():
        text = text.replace(old, new)
    own.write_text(text, encoding="utf-8")
    rulebook, ramp = scoring.load(own), at(0.0)
    assert spans(fly(), rulebook)["IC"] == pytest.approx((ramp - 8, ramp - 2))
    # waved off far out: the ramp is where the pass would have crossed it
    assert spans(fly(outcome="wave-off", wave_off_m=300.0), rulebook)["IC"] == pytest.approx(
        (ramp - 8, at(300.0)), abs=0.05
    )
