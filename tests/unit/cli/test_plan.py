"""Planning from the terminal: cards, facts typed as options, and what is said of slips."""

from __future__ import annotations

import json
import re

import pytest
from msgspec import inspect

from deckward import planning
from deckward.cli import main, plan_options
from deckward.cli.parser import arguments
from deckward.errors import InputError
from deckward.planning.form import ScenarioForm
from deckward.planning.plan import CARDS

# each option with a value that can be used
TYPED = {
    "--name": "evening",
    "--description": "a fair wind",
    "--time": "17:40",
    "--site": "wintermere",
    "--aircraft": "sandlark",
    "--fuel-lb": "3000",
    "--mass-lb": "16000",
    "--store": "name=pod,mass_lb=310,right_ft=-8.5,kept=no",
    "--flight": "name=Larch,count=2,crews=Abel Renn+Mika Thorold,at=18:00,fuel_lb=2300",
    "--leg": "name=out,distance_nm=60,airspeed_kt=400,like=holding",
    "--ship-course-deg": "200",
    "--ship-speed-kt": "12",
    "--ship-least-speed-kt": "5",
    "--ship-greatest-speed-kt": "28",
    "--ship-courses-deg": "150,330",
    "--ship-sea-room-nm": "18",
    "--ship-turn-deg-per-s": "0.8",
    "--ship-latitude-deg": "-43.6",
    "--ship-longitude-deg": "-9.9",
    "--ship-bow-height-ft": "62",
    "--wind-from-deg": "238",
    "--wind-speed-kt": "17",
    "--wind-from-spread-deg": "15",
    "--wind-speed-spread-kt": "3",
    "--felt-wind-from-bow-deg": "-9",
    "--felt-wind-speed-kt": "26",
    "--wind-aloft": "altitude_ft=5000,from_deg=255,speed_kt=28",
    "--sea-state": "4",
    "--sea-wave-height-m": "1.9",
    "--weather-ceiling-ft": "4500",
    "--weather-visibility-nm": "8",
    "--weather-night": "no",
    "--weather-sea-pressure-hpa": "1009",
    "--weather-temperature-c": "16",
    "--recovery-time": "18:20",
    "--recovery-aircraft": "8",
    "--recovery-interval-s": "50",
    "--recovery-wind-kt": "26",
    "--recovery-least-wind-kt": "20",
    "--recovery-greatest-wind-kt": "38",
    "--recovery-crosswind-kt": "7",
    "--recovery-basic-angle-deg": "3.5",
    "--recovery-landing-mass-lb": "14000",
    "--recovery-case": "1",
    "--approach-on-speed-kt": "126",
    "--approach-at-mass-lb": "12900",
    "--gear-energy-ftlb": "4e7",
    "--gear-run-out-ft": "330",
    "--gear-mass-lb": "12000,15000",
    "--gear-engaging-kt": "125,118",
    "--divert-name": "Lingmoor",
    "--divert-bearing-deg": "118",
    "--divert-distance-nm": "82",
    "--divert-latitude-deg": "44.3",
    "--divert-longitude-deg": "-1.2",
    "--divert-reserve-lb": "400",
    "--divert-bingo-lb": "1100",
    "--tanker-give-lb": "1000",
    "--tanker-distance-nm": "6",
    "--tanker-altitude-ft": "6000",
    "--tanker-minutes": "9",
    "--fuel-flow-pct": "105",
    "--fuel-start-lb": "180",
    "--fuel-looks": "3",
    "--fuel-margin-lb": "100",
    "--fuel-holding-pph": "2400",
    "--fuel-pattern-pph": "3300",
    "--fuel-trip-min": "4",
    "--fuel-inbound-min": "5",
    "--launch-time": "17:15",
    "--launch-aircraft": "8",
    "--launch-interval-s": "60",
    "--launch-wind-kt": "25",
    "--launch-greatest-wind-kt": "38",
    "--launch-crosswind-kt": "8",
    "--launch-margin-kt": "12",
    "--launch-catapult-angle-deg": "4",
    "--launch-catapult-mass-lb": "12000,24000",
    "--launch-catapult-end-speed-kt": "150,124",
    "--launch-catapult-stroke-ft": "300",
    "--launch-catapult-capacity-pct": "90",
    "--pattern-initial-altitude-ft": "800",
    "--pattern-initial-airspeed-kt": "300",
    "--pattern-initial-nm": "3",
    "--pattern-downwind-altitude-ft": "600",
    "--pattern-altitude-90-ft": "450",
    "--pattern-altitude-45-ft": "350",
    "--pattern-abeam-nm": "1.1",
    "--pattern-bank-deg": "28",
    "--pattern-groove-s": "16",
    "--pattern-hold": "speed",
    "--pattern-stack-altitude-ft": "2000",
    "--marshal-radial-deg": "60",
    "--marshal-lowest-altitude-ft": "6000",
    "--marshal-push": "18:12",
    "--marshal-interval-s": "60",
    "--marshal-airspeed-kt": "250",
    "--marshal-leg-s": "60",
    "--marshal-turn-in-nm": "7",
}
# two ways to tell one thing: not in one command
EITHER = [
    {"--felt-wind-from-bow-deg", "--felt-wind-speed-kt", "--divert-latitude-deg", "--divert-longitude-deg"},
    {"--wind-from-deg", "--wind-speed-kt", "--wind-from-spread-deg", "--wind-speed-spread-kt"}
    | {"--divert-bearing-deg", "--divert-distance-nm"},
]


def leaves(node, path=""):
    """Yield the keys of the scenario's form that can be typed: plain ones, and lists as a whole."""
    while isinstance(node, inspect.Metadata | inspect.UnionType):
        if isinstance(node, inspect.Metadata):
            node = node.type
        else:
            (node,) = (choice for choice in node.types if not isinstance(choice, inspect.NoneType))
    if isinstance(node, inspect.StructType):
        for field in node.fields:
            yield from leaves(field.type, f"{path}.{field.encode_name}".lstrip("."))
    else:
        yield path


def test_every_fact_of_a_scenario_can_be_typed():
    keys = set(leaves(inspect.type_info(ScenarioForm)))
    assert set(plan_options.kinds()) == keys
    assert {plan_options.option(key) for key in keys} == set(TYPED)


def test_the_cards_are_the_planners():
    assert plan_options.CARDS == CARDS


@pytest.mark.parametrize("left_out", EITHER, ids=["true wind", "felt wind"])
def test_everything_can_be_typed_at_once_and_says_what_a_file_would(left_out):
    words = ["plan", *(part for one in TYPED.items() if one[0] not in left_out for part in one)]
    given = arguments(words)
    typed = {
        key: plan_options.value(key, kind, text)
        for key, kind in plan_options.kinds().items()
        if (text := getattr(given, f"fact:{key}")) is not None
    }
    scenario = planning.load(typed=typed)
    assert scenario.site.name == "Wintermere"
    assert scenario.flights[0].crews == ("Abel Renn", "Mika Thorold")
    assert scenario.flights[0].time == 18 * 3600
    assert not scenario.load.stores[0].kept
    assert scenario.weather.night is False
    assert len(scenario.ship.courses) == len(scenario.recovery.gear.masses) - 1 == 1
    assert scenario.divert.name == "Lingmoor"


def test_a_whole_scenario_prints_every_card(capsys):
    assert main(["plan", "lantern-evening"]) == 0
    said = capsys.readouterr().out
    titles = ("LAUNCH", "WIND AND COURSE", "MARSHAL AND WAY IN", "DAY PATTERN", "APPROACH NUMBERS", "FUEL")
    for title in titles:
        assert title in said
    assert "252 true" in said
    assert "licensed people" in said


def test_single_cards_come_alone_in_any_order_of_words(capsys):
    assert main(["plan", "thistledown", "wind"]) == 0
    said = capsys.readouterr().out
    assert "WIND AND COURSE" in said and "FUEL" not in said
    assert "needs 3.9 kt of true wind" in said
    assert main(["plan", "wind", "fuel", "thistledown", "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert document["approach"] is None
    assert document["wind"]["recovery"]["exact"] is False


#: what each card is called, and enough facts for it to be typed without a file
ALONE = {
    "launch": ("LAUNCH", ["--aircraft", "sandlark", "--fuel-lb", "3000"]),
    "wind": ("WIND AND COURSE", ["--wind-from-deg", "240", "--wind-speed-kt", "18"]),
    "marshal": ("MARSHAL AND WAY IN",
                ["--aircraft", "sandlark", "--wind-from-deg", "240", "--wind-speed-kt", "18"]),
    "pattern": ("DAY PATTERN",
                ["--aircraft", "sandlark", "--wind-from-deg", "240", "--wind-speed-kt", "18"]),
    "approach": ("APPROACH NUMBERS", ["--aircraft", "sandlark"]),
    "fuel": ("FUEL", ["--aircraft", "sandlark", "--fuel-lb", "3000", "--divert-bearing-deg", "90",
                      "--divert-distance-nm", "40"]),
}  # fmt: skip


@pytest.mark.parametrize("card", ALONE)
def test_each_card_comes_alone_from_a_scenario_and_from_options(card, capsys):
    title, facts = ALONE[card]
    others = [name for other, (name, _) in ALONE.items() if other != card]
    for words in (["plan", card, "lantern-evening"], ["plan", card, *facts]):
        assert main(words) == 0
        said = capsys.readouterr().out
        heads = [line for line in said.splitlines() if line.startswith(tuple([title, *others]))]
        assert len(heads) == 1 and heads[0].startswith(title)
        for part in ("Limits", "To know", "Worked out from", "licensed people"):
            assert part in said
    assert main(["plan", card, *facts, "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert [name for name in ALONE if document[name] is not None] == [card]
    assert document[card]["says"]["inputs"] and document[card]["says"]["limits"]


def test_a_wind_too_light_for_the_angle_explains_its_compromise(capsys):
    """3 kt of wind and a deck 9 deg off the keel: 25 sin 9 = 3.9 kt would be needed (worked by hand)."""
    assert main(["plan", "wind", "thistledown"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "The wanted wind cannot be had. Nearest: 24.9 kt down, 0.9 kt across from starboard." in said
    assert (
        "25.0 kt down a landing area 9.0 deg off her keel needs 3.9 kt of true wind or more: there is less"
        in said
    )
    assert "With the least crosswind: 030 at 19.8 kt" in said


def test_typed_facts_answer_without_a_file(capsys):
    words = [
        "plan",
        "wind",
        "--wind-from-deg",
        "0",
        "--wind-speed-kt",
        "15",
        "--site",
        "wintermere",
        "--json",
    ]
    assert main([*words, "--ship-least-speed-kt", "0"]) == 0
    chosen = json.loads(capsys.readouterr().out)["wind"]["recovery"]["chosen"]
    assert chosen["course_deg"] == pytest.approx(15.1, abs=0.1)
    assert chosen["speed_kt"] == pytest.approx(10.2, abs=0.1)


def test_a_jet_too_heavy_says_how_much_must_go(capsys):
    assert main(["plan", "fuel", "approach", "full-creel"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    come = int(re.search(r"comes to the ball with ([\d,]+) lb", said)[1].replace(",", ""))
    may = int(re.search(r"and may have ([\d,]+) lb", said)[1].replace(",", ""))
    need = int(re.search(r"3 looks need ([\d,]+) lb at the ball", said)[1].replace(",", ""))
    # the file's 15,900 kg less 12,701 kg of jet, six rounds of 510 lb and two racks of 220 lb
    assert may == pytest.approx((15_900 - 12_701) / 0.45359237 - 6 * 510 - 2 * 220, abs=1)
    over = f"{come - may:,}"
    assert come - may > 2000
    assert f"Out of limits: landing mass {over} lb over (aircraft)" in said
    assert f"{over} lb must go before the pass" in said
    assert f"{over} lb too much to land" in said and "min of holding burns it, or dump it" in said
    found = re.search(r"([\d,]+) lb more than the landing mass allows", said)
    assert int(found[1].replace(",", "")) == pytest.approx(need - may, abs=1)


def test_files_are_written_and_told(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["plan", "lantern-evening", "wind", "--out", "knee", "--quiet", "--paper", "letter"]) == 0
    assert capsys.readouterr().out == "knee\n"
    assert {path.name for path in (tmp_path / "knee").iterdir()} == {
        "cards.txt",
        "cards.pdf",
        "cards-night.pdf",
        "cards-letter.pdf",
        "wind.png",
        "wind-night.png",
    }


BAD = [
    (["plan"], ["--wind-from-deg"]),
    (["plan", "no-such-plan"], ["no-such-plan", "Bundled: full-creel"]),
    (["plan", "wnd", "thistledown"], ["two scenarios", "Did you mean wind?"]),
    (["plan", "thistledown", "full-creel"], ["two scenarios"]),
    (["plan", "wind", "--wind-from-deg", "20"], ["--wind-speed-kt", "this key is missing"]),
    (["plan", "wind", "--wind-from-deg", "north"], ["--wind-from-deg", 'the text "north"']),
    (["plan", "wind", "--wind-from-deg", "720", "--wind-speed-kt", "9"], ["--wind-from-deg", "0 to 360"]),
    (["plan", "wind", "--wind-form-deg", "72"], ["--wind-form-deg", "Did you mean --wind-from-deg?"]),
    (["plan", "thistledown", "--weather-night", "maybe"], ["--weather-night", "true or false"]),
    (["plan", "thistledown", "--gear-mass-lb", "1,x"], ["--gear-mass-lb", 'the text "x"']),
    (["plan", "thistledown", "--flight", "Larch"], ["--flight", "key with its value"]),
    (["plan", "thistledown", "--flight", "nmae=Larch"], ["--flight 1", "Did you mean 'name'"]),
    (["plan", "thistledown", "--site", "ollershaw-sands"], ["a plan needs a ship"]),
    (["plan", "thistledown", "--paper", "a3", "--out", "x"], ["--paper", "a4, letter"]),
    (["plan", "thistledown", "--out", "file"], ["file", "--out", "this is a file"]),
    (["plan", "fuel", "--fuel-lb", "3000", "--aircraft", "sandlark"], ["--divert-distance-nm"]),
    (["plan", "fuel", "--fuel-lb", "3000"], ["--mass-lb and --fuel-lb"]),
    (["scenarios", "no-such"], ["no-such"]),
    (["schema", "logbook"], ["schema", "debrief, plan"]),
]


@pytest.mark.parametrize(("words", "expected"), BAD, ids=[" ".join(words) for words, _ in BAD])
def test_a_slip_is_told_in_one_message(tmp_path, monkeypatch, capsys, words, expected):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "file").write_text("x")
    assert main(words) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("deckward: ")
    for part in expected:
        assert part in said.err
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_the_package_offers_plans():
    import deckward

    made = deckward.plan("thistledown", facts={"wind.speed_kt": 12}, cards=["wind"])
    assert isinstance(made, deckward.Cards)
    assert made.to_dict()["wind"]["recovery"]["exact"] is True
    assert "WIND AND COURSE" in made.to_text()
    assert made.to_text(plain=True).isascii()
    assert made.files == ()


def test_a_card_that_is_none_is_refused_from_python_too():
    from deckward import workflow

    with pytest.raises(InputError, match=r"Did you mean wind\?"):
        workflow.plan("thistledown", cards=["wnd"])


def test_the_plan_keeps_to_its_schema():
    import jsonschema

    from deckward import workflow

    schema = json.loads(workflow.published_schema("plan"))
    for name in planning.bundled():
        jsonschema.validate(json.loads(workflow.plan(name).to_json()), schema)


def test_the_schema_of_a_plan_is_printed(capsys):
    assert main(["schema", "plan"]) == 0
    assert json.loads(capsys.readouterr().out)["title"] == "deckward.plan/1"
