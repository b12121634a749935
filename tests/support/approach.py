"""One approach of the benchmark's hour, as files that a person could have."""

from __future__ import annotations

from importlib import util
from pathlib import Path

import numpy as np
import pytest

ROOT = Path(__file__).resolve().parents[2]

SITE = """
name = "Test ship"
kind = "ship"
[landing_area]
angle_deg = 9.0
ramp_m = [-130.0, 3.0, -19.0]
length_m = 230.0
width_m = 27.0
[wires]
positions_m = [52.0, 64.0, 76.0, 88.0]
height_m = 0.1
[lens]
position_m = [130.0, -19.0, 1.0]
basic_angle_deg = 3.5
cells = 12
cell_deg = 0.1417
red_cells = 2
hook_target_m = 66.0
stabilisation = "line"
"""

AIRCRAFT = """
name = "Test jet"
[points_m]
eye = [5.0, 0.0, -1.2]
hook = [-4.0, 0.0, 1.7]
main_wheels = [-0.3, 1.5, 1.9]
nose_wheel = [4.0, 0.0, 1.7]
[approach]
on_speed_deg = 8.0
on_speed_band_deg = [7.3, 8.7]
slight_band_deg = [6.8, 9.2]
max_landing_mass_kg = 16000
"""


def _hour():
    spec = util.spec_from_file_location("hour", ROOT / "benchmarks" / "hour.py")
    module = util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def save(path: Path, columns: dict) -> Path:
    """Write columns as CSV."""
    rows = zip(*columns.values(), strict=True)
    lines = [",".join(columns), *(",".join(map(str, row)) for row in rows)]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


@pytest.fixture(scope="session")
def approach() -> dict[str, np.ndarray]:
    """The first approach: column name to values, 10 Hz."""
    whole = _hour().flight()
    rows = (
        (whole["time_s"] >= 262.0) & (whole["time_s"] <= 312.0) & (np.arange(len(whole["time_s"])) % 2 == 0)
    )
    return {name: values[rows] for name, values in whole.items()}


@pytest.fixture
def desk(tmp_path, monkeypatch, approach) -> Path:
    """A working folder with that approach, its ship and its jet."""
    save(tmp_path / "flight.csv", approach)
    (tmp_path / "ship.toml").write_text(SITE)
    (tmp_path / "jet.toml").write_text(AIRCRAFT)
    monkeypatch.chdir(tmp_path)
    return tmp_path
