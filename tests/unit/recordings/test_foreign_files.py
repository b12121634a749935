"""Tables with foreign names, units, signs, clocks and planes: read right, or asked about."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.recordings import draft_column_map, open_recording, read_column_map, write_column_map
from support.foreign_dialects import LATER
from support.foreign_files import decidable, file_named, names
from support.foreign_verdicts import verdict

#: how near what is read must come to what was flown, SI: the digits that are written
NEAR = {
    **dict.fromkeys(("latitude", "longitude"), 1e-7),
    **dict.fromkeys(("heading", "pitch", "roll", "angle_of_attack"), 2e-3),
    **dict.fromkeys(("altitude", "north", "east", "up"), 0.6),
    **dict.fromkeys(("true_airspeed", "indicated_airspeed", "vertical_speed"), 0.05),
}
CIRCULAR = ("heading", "longitude", "roll")


def read(file, folder):
    """Draft a map, keep it, read the file by it; where a question is left, its first answer."""
    path = file.write(folder)
    draft = draft_column_map(path)
    for question in draft.questions:
        draft = draft.answered(question, question.choices[0])
    kept = folder / "map.toml"
    kept.write_text(write_column_map(draft.map), encoding="utf-8")
    return open_recording(path, column_map=read_column_map(kept))


def differences(track, truth, prefix: str) -> dict[str, float]:
    """Largest difference of each channel from the truth."""
    found = {}
    for quantity in track.channels.keys() & NEAR.keys():
        off = track.channels[quantity] - truth[prefix + quantity]
        if quantity in CIRCULAR:
            off = (off + np.pi) % (2.0 * np.pi) - np.pi
        found[quantity] = float(np.nanmax(np.abs(off)))
    return found


@pytest.mark.parametrize("name", names())
def test_columns_are_read_right_or_asked_about(name, tmp_path):
    file = file_named(name)
    found = verdict(file, draft_column_map(file.write(tmp_path)))
    assert found == {"wrong": [], "missing": [], "needless": [], "unasked": []}


@pytest.mark.parametrize("name", decidable())
def test_what_is_read_by_a_drafted_map_is_what_was_flown(name, tmp_path):
    file = file_named(name)
    recording = read(file, tmp_path)
    (track,) = recording.aircraft
    assert len(track) == file.truth["time"].size
    assert {q: off for q, off in differences(track, file.truth, "").items() if off > NEAR[q]} == {}
    if any(wanted.quantity.startswith("ship_") for wanted in file.wanted):
        off = differences(recording.ship, file.truth, "ship_")
        assert {"heading"} < off.keys()
        assert {q: value for q, value in off.items() if value > NEAR[q]} == {}


@pytest.mark.parametrize(
    ("name", "base"),
    [*((name, "straight") for name in names()[::2]), *((name, "level") for name in names()[1::2])],
)
def test_on_a_straight_leg_nothing_is_read_wrongly_in_silence(name, base, tmp_path):
    """Without a turn less can be told; it is then asked."""
    file = file_named(name, base=base, rate="10")
    assert verdict(file, draft_column_map(file.write(tmp_path)))["wrong"] == []


@pytest.mark.parametrize("name", names(LATER))
def test_names_nobody_thought_of_are_never_read_wrongly_in_silence(name, tmp_path):
    file = file_named(name, LATER)
    assert verdict(file, draft_column_map(file.write(tmp_path)))["wrong"] == []


def test_most_names_nobody_thought_of_are_understood(tmp_path):
    """Words of languages that the tables know little of; a share, not each."""
    files = [file_named(name, LATER) for name in names(LATER)]
    whole = [f.name for f in files if not any(verdict(f, draft_column_map(f.write(tmp_path))).values())]
    assert len(whole) >= 13, sorted({f.name for f in files} - set(whole))
