"""Formats are found by entry point, ours and those of others, by the same door."""

from __future__ import annotations

import importlib.metadata
import sys
import tomllib
from pathlib import Path

import numpy as np
import pytest

from deckward.errors import InputError
from deckward.recordings import FileOptions, formats, open_recording
from deckward.recordings.cells import Cells, Table
from deckward.recordings.content import Content
from support.recorded_flight import columns_of, flight, write_csv

ROOT = Path(__file__).parents[3]


def test_our_own_formats_are_registered_as_others_are():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["entry-points"][formats.GROUP] == formats.OWN
    for name in formats.OWN:
        entry = importlib.metadata.EntryPoint(name, formats.OWN[name], formats.GROUP)
        assert entry.load()().name == name


@pytest.mark.parametrize("name", list(formats.OWN))
@pytest.mark.parametrize(
    "head", [b"", b"\0", b"\xff\xfe", b"{", b"PAR1", b"a,b\n", bytes(range(256)), "é".encode()]
)
def test_guessing_never_raises(name, head):
    own = importlib.metadata.EntryPoint(name, formats.OWN[name], formats.GROUP).load()()
    assert own.guess_can_open(head, "flight.csv") in (True, False)


class Ticks:
    """A format of somebody else: eight-byte numbers after a mark."""

    name = "ticks"

    def guess_can_open(self, head: bytes, name: str) -> bool:
        return head.startswith(b"\x01TICKS\0\0")

    def open(self, content: Content, options: FileOptions) -> Table:
        rows = np.frombuffer(content.read()[8:], "<f8").reshape(-1, 4)
        names = ("time_s", "latitude_deg", "longitude_deg", "altitude_m")
        return Table(
            names, lambda numbers, texts: Cells(content, {i: rows[:, i] for i in numbers}, len(rows))
        )


def test_a_format_of_another_package_is_found(tmp_path, monkeypatch):
    path = tmp_path / "flight.ticks"
    columns = columns_of(flight(10.0))
    rows = np.column_stack([columns[n] for n in ("time_s", "latitude_deg", "longitude_deg", "altitude_m")])
    path.write_bytes(b"\x01TICKS\0\0" + rows.astype("<f8").tobytes())
    with pytest.raises(InputError, match="no recording that can be read"):
        open_recording(path)
    entry = importlib.metadata.EntryPoint("ticks", f"{__name__}:Ticks", formats.GROUP)
    monkeypatch.setitem(sys.modules, __name__, sys.modules[__name__])
    monkeypatch.setattr(
        importlib.metadata, "entry_points", lambda group: [entry] if group == formats.GROUP else []
    )
    recording = open_recording(path)
    assert recording.samples == 200
    assert np.degrees(recording.aircraft[0]["latitude"]) == pytest.approx(columns["latitude_deg"], abs=1e-12)


def test_our_own_formats_are_not_searched_for(tmp_path, monkeypatch):
    def search(group):
        raise AssertionError("searched through all that is installed")

    monkeypatch.setattr(importlib.metadata, "entry_points", search)
    assert open_recording(write_csv(tmp_path / "flight.csv", columns_of(flight(5.0)))).samples == 100
