"""The flown passes that measure the product: truth found again by another road; the bundled session."""

from __future__ import annotations

import csv
import gzip
import io
import json
import math
import tomllib
from pathlib import Path

import corpus_clean
import numpy as np
import pyproj
import pytest
from degrade import degrade
from fly import fly
from fly_record import Form, sample_ship, tables
from fly_truth import truth

DEMO = Path(__file__).resolve().parents[2] / "src" / "deckward" / "demo"
TO_EARTH = pyproj.Transformer.from_crs("EPSG:4979", "EPSG:4978", always_xy=True)


@pytest.fixture(scope="module")
def flight():
    plan = corpus_clean.plan_at(
        "A4",
        "halcyon",
        (-47.0, 179.99),
        205.0,
        wind=(-9, 12),
        motion=corpus_clean.MEDIUM,
        seed=3,
        start_range=1000.0,
    )
    return fly(plan)


@pytest.fixture(scope="module")
def rows(flight):
    table, _, _ = tables(flight, Form(rate=40, units=(("true_airspeed", "mps"),)))
    return table.columns


def earth(columns, prefix=""):
    x, y, z = TO_EARTH.transform(
        columns[f"{prefix}longitude_deg"], columns[f"{prefix}latitude_deg"], columns[f"{prefix}altitude_m"]
    )
    return np.stack([x, y, z], axis=-1)


def rotated(vector, heading, pitch, roll):
    """North, east, down of a forward-right-down vector, by three turns one after another."""
    x, y, z = vector
    y, z = y * np.cos(roll) - z * np.sin(roll), y * np.sin(roll) + z * np.cos(roll)
    x, z = x * np.cos(pitch) + z * np.sin(pitch), -x * np.sin(pitch) + z * np.cos(pitch)
    return x * np.cos(heading) - y * np.sin(heading), x * np.sin(heading) + y * np.cos(heading), z


def local(columns, place):
    """North, east, down (m) of an earth-centred place from the ship's reference point."""
    la, lo = (np.radians(columns[f"ship_{q}_deg"]) for q in ("latitude", "longitude"))
    d = place - earth(columns, "ship_")
    east = -np.sin(lo) * d[:, 0] + np.cos(lo) * d[:, 1]
    out = np.cos(lo) * d[:, 0] + np.sin(lo) * d[:, 1]
    return np.cos(la) * d[:, 2] - np.sin(la) * out, east, -np.cos(la) * out - np.sin(la) * d[:, 2]


def test_range_and_line_up_come_again_from_the_recording(flight, rows):
    exact = truth(flight, pitch_given=5.3)
    site = flight.plan.site
    ship = [np.radians(rows[f"ship_{q}_deg"]) for q in ("heading", "pitch", "roll")]
    ramp = rotated(site["landing_area"]["ramp_m"], *ship)
    north, east, _ = (a - b for a, b in zip(local(rows, earth(rows)), ramp, strict=True))
    along = ship[0] - math.radians(site["landing_area"]["angle_deg"])
    distance = -(north * np.cos(along) + east * np.sin(along))
    side = -north * np.sin(along) + east * np.cos(along)
    assert [p["name"] for p in exact["positions"]] == ["1/2 nm", "1/4 nm", "ramp"]
    for position in exact["positions"]:
        at = position["time_s"]
        assert np.interp(at, rows["time_s"], distance) == pytest.approx(position["range_m"], abs=0.01)
        assert np.interp(at, rows["time_s"], side) == pytest.approx(position["line_up_offset_m"], abs=0.01)


def test_hook_meets_the_deck_where_and_when_the_truth_says(flight, rows):
    touch = truth(flight, pitch_given=5.3)["touchdown"]
    site, hook = flight.plan.site, flight.plan.points["hook"]
    body = rotated(hook, *(np.radians(rows[f"{q}_deg"]) for q in ("heading", "pitch", "roll")))
    # the jet's own level and the ship's differ by less than a millimetre at this distance
    ship = [np.radians(rows[f"ship_{q}_deg"]) for q in ("heading", "pitch", "roll")]
    ramp = rotated(site["landing_area"]["ramp_m"], *ship)
    at = [a + b - c for a, b, c in zip(local(rows, earth(rows)), body, ramp, strict=True)]
    angle = math.radians(site["landing_area"]["angle_deg"])
    ahead = rotated((math.cos(angle), -math.sin(angle), 0.0), *ship)
    up = rotated((0.0, 0.0, -1.0), *ship)
    x = sum(a * b for a, b in zip(at, ahead, strict=True))
    z = sum(a * b for a, b in zip(at, up, strict=True))
    before = rows["time_s"] < touch["time_s"]
    line = np.polyfit(rows["time_s"][before][-6:], np.stack([x, z], axis=-1)[before][-6:], 2)
    x_then, z_then = np.polyval(line[:, 0], touch["time_s"]), np.polyval(line[:, 1], touch["time_s"])
    assert z_then == pytest.approx(0.0, abs=0.01)
    assert x_then == pytest.approx(touch["hook_x_m"], abs=0.03)


def test_a_jet_in_the_wire_ends_at_rest_on_the_deck(flight, rows):
    assert flight.wire == truth(flight)["wire"] is not None
    ship = sample_ship(flight, rows["time_s"][-2:])
    apart = np.linalg.norm(earth({k: v[-2:] for k, v in rows.items()}) - ship["point"], axis=-1)
    assert apart[1] == pytest.approx(apart[0], abs=0.01)


def test_damage_is_the_same_for_the_same_seed_and_spares_the_touchdown(rows, flight):
    table, _, _ = tables(flight, Form(rate=20))
    damage = (("spikes", {"count": 5}), ("gaps", {"count": 4, "longest": 1.5}))
    touch = truth(flight)["touchdown"]["time_s"]
    once, again = (degrade(table, damage, 4, touch).columns for _ in range(2))
    assert all(np.array_equal(once[k], again[k]) for k in once)
    gaps = np.diff(once["time_s"])
    assert gaps.max() > 0.3
    near = np.abs(once["time_s"][1:] - touch) < 1.0
    assert gaps[near].max() < 0.45


def session():
    return tomllib.loads((DEMO / "session.toml").read_text())["recording"]


def test_bundled_session_is_small_and_whole():
    listed = {one[key] for one in session() for key in ("file", "ship") if key in one}
    assert listed == {p.name for p in DEMO.glob("*.csv.gz")}
    assert sum(p.stat().st_size for p in DEMO.iterdir()) < 2_000_000


def test_bundled_session_holds_what_its_truth_says():
    told = {one["file"]: one for one in json.loads((DEMO / "truth.json").read_text())["recordings"]}
    assert sum(len(one["passes"]) for one in told.values()) == 12
    for one in session():
        text = io.StringIO(gzip.decompress((DEMO / one["file"]).read_bytes()).decode())
        rows = list(csv.DictReader(text))
        for who in {p["who"] for p in told[one["file"]]["passes"]}:
            times = [float(r["time_s"]) for r in rows if r["who"] == who]
            mine = [p for p in told[one["file"]]["passes"] if p["who"] == who]
            assert times == sorted(times)
            moments = [p["positions"][-1]["time_s"] for p in mine]
            assert times[0] < min(moments) <= max(moments) < times[-1]
