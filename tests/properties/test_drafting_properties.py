"""Whatever becomes of a table, a draft or an error with its place comes of it, never a trace."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from deckward.errors import InputError
from deckward.recordings import draft_column_map, open_recording, read_column_map, write_column_map
from support.foreign_files import file_named, names

COMMAS = [
    name for name in names() if file_named(name, rate="2", base="straight").content[:400].count(b",") > 3
]
ODD = ["", "-", "nan", "abc", "0", "1e300", "-1e9", "12:00:00", "27°N", "true"]


@st.composite
def spoilt(draw) -> bytes:
    """A foreign file with columns lost or renamed, cells spoilt, rows shuffled or cut."""
    text = file_named(draw(st.sampled_from(COMMAS)), rate="2", base="straight").content.decode(
        "utf-8", "replace"
    )
    rows = [line.split(",") for line in text.splitlines()]
    width = len(rows[-1])
    head = next(place for place, row in enumerate(rows) if len(row) == width)
    rows = rows[: head + 1 + draw(st.integers(0, 60))]
    body = rows[head + 1 :]
    for column in draw(st.sets(st.integers(0, width - 1), max_size=4)):
        cell = draw(st.sampled_from(ODD))
        every = draw(st.integers(1, 7))
        for row in body[::every]:
            if column < len(row):
                row[column] = cell
    lost = draw(st.sets(st.integers(0, width - 1), max_size=width - 1))
    if draw(st.booleans()):
        rows = [[cell for place, cell in enumerate(row) if place not in lost] for row in rows]
    elif draw(st.booleans()):
        rows[head] = draw(st.permutations(rows[head]))
    if draw(st.booleans()):
        rows = rows[: head + 1] + draw(st.permutations(rows[head + 1 :]))
    return "\n".join(map(",".join, rows)).encode()


@given(data=spoilt(), answer=st.integers(0, 5))
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_spoilt_table_is_drafted_or_refused(tmp_path_factory, data, answer):
    folder = tmp_path_factory.mktemp("spoilt")
    path, kept = folder / "flight.csv", folder / "map.toml"
    path.write_bytes(data)
    try:
        draft = draft_column_map(path)
        for question in draft.questions:
            draft = draft.answered(question, question.choices[answer % len(question.choices)])
        assert all(0.0 <= rule.confidence <= 1.0 and rule.why for rule in draft.map.columns)
        kept.write_text(write_column_map(draft.map), encoding="utf-8")
        open_recording(path, column_map=read_column_map(kept))
    except InputError as fault:
        assert str(folder) in fault.message()
