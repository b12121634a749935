"""Passes by chance from the terminal: what is told, drawn and written, and what is said of slips."""

from __future__ import annotations

import csv
import json

import jsonschema
import pytest

from deckward import Studied, study, workflow
from deckward.cli import main
from deckward.prediction import NIGHT, Pilot, pilots

QUICK = ["--number", "40", "--gusts", "none"]


def told(capsys, *words):
    assert main(["study", *QUICK, *words, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_every_option_reaches_the_passes(capsys):
    found = told(
        capsys,
        *("--site", "wintermere"),
        *("--aircraft", "sandlark"),
        *("--mass-lb", "12500"),
        *("--wind-kt", "22"),
        *("--crosswind-kt", "-3"),
        *("--ship-speed-kt", "12"),
        *("--sea", "4"),
        *("--sea-from-bow-deg", "30"),
        *("--airwake-pct", "50"),
        *("--light", "night"),
        *("--pilot", "standard"),
        *("--officer", "no"),
        *("--start-nm", "0.5"),
        *("--seed", "7"),
    )
    (case,) = found["cases"]
    assert case["inputs"] == {
        "aircraft": "sandlark",
        "mass_lb": 12500,
        "wind_kt": 22,
        "crosswind_kt": -3,
        "ship_speed_kt": 12,
        "sea": 4,
        "sea_from_bow_deg": 30,
        "airwake_pct": 50,
        "gusts": "none",
        "light": "night",
        "pilot": "standard",
        "officer": "no",
        "start_nm": 0.5,
    }
    assert found["seed"] == 7 and found["number"] == 40
    assert case["outcomes"]["wave_off"]["share"] == 0.0, "nobody waves off"
    jsonschema.validate(found, json.loads(workflow.published_schema("study")))


def test_the_shares_add_up_and_the_wires_make_the_traps(capsys):
    (case,) = told(capsys)["cases"]
    assert sum(one["share"] for one in case["outcomes"].values()) == pytest.approx(1.0)
    wires = sum(one["share"] for one in case["wires"].values())
    assert wires == pytest.approx(case["outcomes"]["trap"]["share"], abs=1e-6)
    for one in case["outcomes"].values():
        assert one["low"] <= one["share"] <= one["high"]


def test_two_inputs_make_a_table_of_every_pair(capsys):
    found = told(capsys, "--wind-kt", "20:30:5", "--light", "day,night")
    assert found["varied"] == ["wind_kt", "light"]
    pairs = [(case["inputs"]["wind_kt"], case["inputs"]["light"]) for case in found["cases"]]
    assert pairs == [(wind, light) for wind in (20, 25, 30) for light in ("day", "night")]


def test_the_same_seed_tells_the_same_and_another_does_not(capsys):
    first, again, other = (
        told(capsys, "--gusts", "free-air", "--seed", seed)["cases"][0]["touchdown"] for seed in "112"
    )
    assert first == again != other


@pytest.mark.parametrize(
    ("words", "figures"),
    [
        ([], ["touchdowns", "sink"]),
        (["--sea", "0,5"], ["outcomes"]),
        (["--wind-kt", "20,30", "--sea", "0,5"], ["boarding", "bolters"]),
    ],
)
def test_page_figures_and_table_are_written(tmp_path, capsys, words, figures):
    assert main(["study", *QUICK, *words, "--out", str(tmp_path / "s"), "--quiet"]) == 0
    assert capsys.readouterr().out.strip() == str(tmp_path / "s" / "index.html")
    page = (tmp_path / "s" / "index.html").read_text(encoding="utf-8")
    for name in figures:
        assert (tmp_path / "s" / f"{name}.png").read_bytes()[1:4] == b"PNG"
        assert (tmp_path / "s" / f"{name}.svg").exists()
        assert f"{name}.png" in page
    rows = list(csv.DictReader((tmp_path / "s" / "cases.csv").open(encoding="utf-8")))
    assert len(rows) == (2 if len(words) == 2 else 4 if words else 1)
    assert all(0.0 <= float(row["trap_low"]) <= float(row["trap"]) <= 1.0 for row in rows)


def test_the_screen_tells_odds_and_what_they_are_worth(capsys):
    assert main(["study", *QUICK, "--sea", "0,5"]) == 0
    text = capsys.readouterr().out
    for words in ("trap, %", "sink, ft/s", "95 per cent", "common practice", "licensed people"):
        assert words in text


BAD = [
    (["--sea", "9"], ["--sea", "0 to 7"]),
    (["--sea", "3.5"], ["--sea", "whole"]),
    (["--light", "nigth"], ["--light", "Did you mean night?"]),
    (["--wind-kt", "20:10:5"], ["--wind-kt", "LOW:HIGH:STEP"]),
    (["--wind-kt", "0:60:0.001"], ["--wind-kt", "longer step"]),
    (["--wind-kt", "20,"], ["--wind-kt", "missing"]),
    (["--wind-kt", "fresh"], ["--wind-kt", "'fresh'"]),
    (["--wind-kt", "20,30", "--sea", "0,5", "--light", "day,night"], ["--wind-kt, --sea, --light", "two"]),
    (["--wind-kt", "0:60:1", "--crosswind-kt=-20:20:2"], ["1281 cases"]),
    (["--pilot", "nobody.toml"], ["--pilot", "nobody.toml"]),
    (["--aircraft", "generic-jet"], ["Generic jet", "[aerodynamics]"]),
    (["--site", "ollershaw-sands"], ["--site", "field"]),
    (["--number", "3"], ["--number", "10"]),
    (["--seat", "1"], ["Did you mean --sea?"]),
]


@pytest.mark.parametrize(("words", "wanted"), BAD, ids=[" ".join(words) for words, _ in BAD])
def test_a_slip_is_told_and_nothing_is_flown(capsys, tmp_path, words, wanted):
    assert main(["study", *words, "--out", str(tmp_path / "s")]) == 2
    out, err = capsys.readouterr()
    assert out == "" and all(word in err for word in wanted), err
    assert not (tmp_path / "s").exists()


def test_a_pilot_file_is_read_over_the_standard_one(tmp_path):
    file = tmp_path / "slow.toml"
    file.write_text('name = "slow"\ndelay_s = 0.8\nthreshold_deg = 0.1\n')
    assert pilots.load(file) == Pilot()._replace(delay=0.8, threshold=pytest.approx(0.001745, abs=1e-6))
    assert pilots.load(file, night=True).side_noise == NIGHT.side_noise


def test_a_written_pilot_reads_back(tmp_path):
    file = tmp_path / "night.toml"
    file.write_text(pilots.text(NIGHT, name="night", comment="by night"))
    assert pilots.load(file) == pytest.approx(NIGHT, abs=1e-6)


def test_from_python_with_numbers():
    found = study(wind_kt=[20, 30], number=20, gusts="none")
    assert isinstance(found, Studied)
    assert [case.values["wind_kt"] for case in found.report.cases] == [20, 30]
    assert found.to_dict()["cases"][0]["inputs"]["wind_kt"] == 20
