"""What the example recorder writes, and what we read, as other table libraries see it.

The standard library's ``csv`` and numpy's ``genfromtxt`` read text each in its own way; pandas and Apache's
``pyarrow`` (their own readers of CSV and Parquet) are asked where they are installed.
"""

from __future__ import annotations

import csv
import json

import numpy as np
import polars as pl
import pytest
from test_recorder import written  # noqa: F401  the fixture

from deckward.recordings import open_recording
from deckward.recordings.quantities import Meaning, understand
from support.recorded_flight import columns_of, csv_text, flight

#: how near a number read by us is to what another library reads, of its size
CLOSE = 1e-12


def _csv(path) -> dict[str, np.ndarray]:
    with path.open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    return {name: np.array([float(row[name]) for row in rows]) for name in rows[0]}


def _numpy(path) -> dict[str, np.ndarray]:
    table = np.genfromtxt(path, delimiter=",", names=True, encoding="utf-8", deletechars="")
    return {name: table[name] for name in table.dtype.names}


def _pandas(path) -> dict[str, np.ndarray]:
    pandas = pytest.importorskip("pandas")
    frame = (pandas.read_parquet if path.suffix == ".parquet" else pandas.read_csv)(path)
    return {name: frame[name].to_numpy(float) for name in frame.columns}


def _arrow(path) -> dict[str, np.ndarray]:
    pytest.importorskip("pyarrow")
    from pyarrow import csv as arrow_csv
    from pyarrow import parquet

    table = (parquet.read_table if path.suffix == ".parquet" else arrow_csv.read_csv)(path)
    return {name: np.asarray(table[name].to_pylist(), dtype=float) for name in table.column_names}


def _json(path) -> dict[str, np.ndarray]:
    rows = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    return {name: np.array([row[name] for row in rows], dtype=float) for name in rows[0]}


def agree(read, table: dict[str, np.ndarray]) -> int:
    """Hold every column of another library's table against our tracks; how many there were."""
    (own,) = read.aircraft
    seen = 0
    for name, values in table.items():
        meaning = understand(name)
        assert isinstance(meaning, Meaning), name
        track = read.ship if meaning.ship else own
        unit = meaning.unit
        si = values * unit.factor + unit.offset if unit is not None else values
        ours = track.time if meaning.quantity == "time" else track[meaning.quantity]
        assert ours.size == si.size
        if meaning.quantity in ("heading", "longitude"):
            si, ours = np.exp(1j * si), np.exp(1j * ours)
        np.testing.assert_allclose(ours, si, rtol=CLOSE, atol=1e-12, err_msg=name)
        seen += 1
    return seen


@pytest.mark.parametrize(
    "library", [_csv, _numpy, _pandas, _arrow], ids=lambda each: each.__name__.strip("_")
)
def test_the_recorders_file_is_read_alike(library, written, tmp_path):  # noqa: F811
    _, read = written
    assert agree(read, library(tmp_path / "flight.csv")) >= 15


@pytest.mark.parametrize(
    "library", [_csv, _numpy, _pandas, _arrow], ids=lambda each: each.__name__.strip("_")
)
def test_a_flight_of_25_columns_is_read_alike(library, tmp_path):
    path = tmp_path / "flight.csv"
    path.write_text(csv_text(columns_of(flight(20.0))), encoding="utf-8")
    assert agree(open_recording(path), library(path)) == 25


@pytest.mark.parametrize("library", [_pandas, _arrow])
def test_parquet_is_read_alike(library, tmp_path):
    path = tmp_path / "flight.parquet"
    pl.DataFrame(columns_of(flight(20.0))).write_parquet(path)
    assert agree(open_recording(path), library(path)) == 25


def test_json_lines_are_read_alike(tmp_path):
    path = tmp_path / "flight.jsonl"
    columns = columns_of(flight(20.0))
    rows = zip(*(values.tolist() for values in columns.values()), strict=True)
    lines = [json.dumps(dict(zip(columns, row, strict=True))) for row in rows]
    path.write_text("\n".join(lines), encoding="utf-8")
    assert agree(open_recording(path), _json(path)) == 25


def test_quotes_and_line_ends_are_read_as_the_standard_librarys_writer_writes_them(tmp_path):
    """RFC 4180 as csv.writer keeps to it: quoted names with commas and quotes in them, CR LF."""
    path = tmp_path / "flight.csv"
    columns = columns_of(flight(5.0))
    with path.open("w", newline="", encoding="utf-8") as file:
        out = csv.writer(file, quoting=csv.QUOTE_ALL)
        out.writerow([*columns, 'a "quoted", name'])
        out.writerows(zip(*columns.values(), ["x, y"] * len(columns["time_s"]), strict=True))
    read = open_recording(path)
    table = _csv_of(path)
    assert agree(
        read, {name: np.array(values, dtype=float) for name, values in table.items() if '"' not in name}
    )
    assert table['a "quoted", name'][0] == "x, y"


def _csv_of(path) -> dict[str, list[str]]:
    with path.open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    return {name: [row[name] for row in rows] for name in rows[0]}
