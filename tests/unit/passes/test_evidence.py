"""What is drawn of a measurement lies where the formulas flew it."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest

from deckward import reports
from deckward.passes.evidence import evidence
from deckward.reports.evidence import of_aircraft, of_site
from support.analytic_pass import DECK, JET, AnalyticPass, Flight, Ship

AIMS = (58.0, 71.0, 83.0)


@pytest.fixture(scope="module")
def flown():
    return [AnalyticPass(Flight(ship=Ship(speed=9.0), hook_aim=aim, after=11.0)) for aim in AIMS]


@pytest.fixture(scope="module")
def seen(flown):
    return evidence([one.in_a_plane() for one in flown], DECK, JET)


def test_each_approach_is_there_once(seen):
    assert len(seen.paths) == len(seen.crossings) == len(seen.touches) == len(seen.pulls) == len(AIMS)


def test_it_lies_where_it_was_flown(flown, seen):
    wires = [DECK.wires.positions[one.wire - 1] for one in flown]
    assert seen.pulls[:, 0] == pytest.approx(wires, abs=1.5)
    assert seen.pulls[:, 1] == pytest.approx(0.0, abs=0.5)
    assert seen.touches[:, 0] == pytest.approx(AIMS, abs=6.0)
    slope = np.tan(3.5 * np.pi / 180.0)
    assert seen.crossings == pytest.approx(slope * np.array(AIMS), abs=0.3)
    assert np.abs(seen.stood[:, 2]) == pytest.approx(0.0, abs=0.2)


def test_what_never_came_near_shows_nothing():
    alone = evidence([AnalyticPass(Flight(wave_off_before=9.0)).in_a_plane()], DECK, JET)
    assert alone.pulls.shape == (0, 3) and alone.touches.shape == (0, 2) and alone.stood.shape == (0, 3)
    assert of_site(DECK, alone, [("deck height", "unknown")]).height > 100.0


def test_the_drawings_hold_every_sighting(seen, tmp_path):
    rows = [("deck height", "19.50 m (sigma 0.10), 3 stretches on deck: " + ", ".join(["19.50"] * 80))]
    files = reports.draw_site(DECK, seen, rows, tmp_path / "ship")
    assert sorted(path.name for path in files) == ["evidence.png", "evidence.svg"]
    text = (tmp_path / "ship" / "evidence.svg").read_text(encoding="utf-8")
    picture = ElementTree.fromstring(text)
    names = [element.tag.rpartition("}")[2] for element in picture.iter()]
    # a dot for each pull and one in the key
    assert names.count("circle") == len(AIMS) + 1
    assert text.count("...") == 1 and "deck height" in text
    jet = of_aircraft(JET, [("hook ahead", "-6.4 m")], {"hook": (-6.3, -6.5), "nose wheel": (2.1,)})
    ElementTree.fromstring(jet.render())
    assert reports.draw_aircraft(JET, {}, [], tmp_path / "jet")[0].exists()
