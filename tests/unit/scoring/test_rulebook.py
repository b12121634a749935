"""Rulebooks: the bundled ones hold, a user's own is read, a bad one is told what to mend."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
from msgspec import inspect

from deckward import scoring
from deckward.errors import InputError
from deckward.scoring.form import RulebookForm
from deckward.scoring.vocabulary import DANGERS, REMARKS
from support.synthetic_pass import FT, NM, fly

STRICT = scoring.source("strict")


def test_bundled_rulebooks_are_listed():
    bundled = scoring.bundled()
    assert list(bundled) == ["learners", "strict"]
    assert all(bundled.values())


@pytest.mark.parametrize("name", scoring.bundled())
def test_every_bundled_rulebook_is_loaded_and_used(name):
    rulebook = scoring.load(name)
    assert rulebook.name == name
    assert [bounds.code for bounds in rulebook.positions] == ["X", "IM", "IC", "AR", "IW"]
    everything = (
        *rulebook.positions,
        rulebook.wave_off_window,
        rulebook.groove,
        *rulebook.thresholds,
        *rulebook.safety,
        *rulebook.grades,
        rulebook.bolter,
        *rulebook.wave_offs.values(),
    )
    assert all(item.source for item in everything)
    assert scoring.score(fly(), rulebook).grade.name == "OK"


def test_learners_are_allowed_no_less_than_the_strict_allow():
    strict, learners = scoring.load("strict"), scoring.load("learners")
    wide = {(item.what, code): item for item in learners.thresholds for code in item.where or ("",)}
    tight = {(item.what, code): item for item in strict.thresholds for code in item.where or ("",)}
    assert wide.keys() == tight.keys()
    for key, item in tight.items():
        for mine, theirs in zip(item.limits, wide[key].limits, strict=True):
            assert mine.unit == theirs.unit
            if key[0] == "short in the groove":
                assert theirs.value < mine.value
            else:
                assert theirs.value > mine.value


def test_edge_units_become_si():
    rulebook = scoring.load("strict")
    assert rulebook.position("X").start == pytest.approx(0.75 * NM)
    assert rulebook.position("IC").end == pytest.approx(300 * FT)
    by_key = {(item.what, code): item for item in rulebook.thresholds for code in item.where or ("",)}
    assert by_key["low", "IM"].limits[1].value == pytest.approx(math.radians(0.40))
    assert by_key["settling", "AR"].limits[0].value == pytest.approx(1.8 * FT)
    assert by_key["slow", "IC"].limits[2].unit == "bands"
    with pytest.raises(KeyError):
        rulebook.position("XX")


def test_a_rulebook_of_ones_own_is_read_from_its_path(tmp_path):
    own = tmp_path / "squadron.toml"
    text = STRICT.replace('name = "strict"', 'name = "squadron"')
    text = text.replace("from_ft = 300\nto_ft = 0", "from_s = 2.0\nto_s = 0.0")
    own.write_text(
        text.replace("limits_deg = [0.25, 0.50, 0.80]", "limits_cells = [2, 4, 6]"), encoding="utf-8"
    )
    rulebook = scoring.load(own)
    assert rulebook.name == "squadron"
    assert (rulebook.position("AR").measured_by, rulebook.position("AR").start) == ("time", 2.0)
    card = scoring.score(fly(ball_deg=2.5 * 0.1417), rulebook)
    assert "(H)AR" in card.shorthand or "(H)AW" in card.shorthand
    assert card.rulebook == "squadron"


BAD = [
    # what stands in the good file, what is written instead, key, reason, remedy
    ('name = "strict"', 'name = ""', "name", "a text of 0 characters", "Give a text"),
    ('name = "strict"', "name = 7", "name", "the number 7 stands here", "Give a text in quotes"),
    ('name = "strict"', 'nam = "strict"', "nam", "unknown key", "Did you mean 'name'?"),
    ("[judging]", "[juding]", "juding", "unknown key", "Did you mean 'judging'?"),
    ("held_s = 1.0  ", "held_s = 0  ", "judging.held_s", "0 is out of range", "above 0"),
    ("held_s = 1.0  ", 'held_s = "1"  ', "judging.held_s", 'the text "1" stands here', "a number"),
    ("[1.0, 2.5, 5.0]", "[1.0, 2.5]", "judging.intensity_weights", "a list of 2", "of 3 numbers"),
    (
        "[1.0, 2.5, 5.0]",
        "[5.0, 2.5, 1.0]",
        "judging.intensity_weights",
        "do not rise",
        "three numbers that rise",
    ),
    (
        "[1.0, 2.5, 5.0]",
        "[0, 2.5, 5.0]",
        "judging.intensity_weights",
        "do not rise",
        "three numbers that rise",
    ),
    ("least_judged_s = 6.0", "least_judged_s = -1", "judging.least_judged_s", "out of range", "from 0"),
    ('code = "X"', 'code = "start"', "position[1].code", '"start" stands here', "a text in quotes"),
    ('code = "IM"', 'code = "X"', "position[2].code", "'X' stands here twice", "Give each position its own"),
    ('name = "in close"', 'name = "in the middle"', "position[3].name", "twice", "its own"),
    ("from_nm = 0.75", "", "position[1]", "its bounds are not one pair", "one from_ and one to_ key"),
    ("from_nm = 0.75", "from_nm = 0.75\nfrom_m = 1400", "position[1]", "not one pair", "one from_"),
    ("from_nm = 0.75", "from_s = 25", "position[1]", "not one pair", "from_s and to_s"),
    ("from_nm = 0.75", "from_nm = 0.4", "position[1].to_nm", "ends before it begins", "make from_ larger"),
    (
        "from_nm = 0.25",
        "from_nm = 0.35",
        "position[3].from_nm",
        "begins before 'in the middle' ends",
        "overlap",
    ),
    ("from_nm = 0.75", "from_nm = inf", "position[1].from_nm", "inf is not a usable number", "Give a number"),
    (
        "at_least_s = 4.0",
        "atleast_s = 4.0",
        "position[1].atleast_s",
        "unknown key",
        "Did you mean 'at_least_s'?",
    ),
    ("weight = 0.8\n", "weight = -1\n", "position[1].weight", "-1 is out of range", "from 0 to 20"),
    ("from_s = 6.0", "from_s = 0.0", "wave_off_window.from_s", "out of range", "seconds before the ramp"),
    ("to_s = 0.0", "to_s = 6.0", "wave_off_window.to_s", "ends before it begins", "Make from_s larger"),
    ("bank_deg = 5.0", "bank_deg = 95", "groove.bank_deg", "95 is out of range", "wings are level"),
    ('what = ["high"]', 'what = ["hi"]', "threshold[1].what", 'the text "hi" stands here', "Give one of"),
    ('what = ["high"]', 'what = "high"', "threshold[1].what", 'the text "high" stands here', "a list"),
    ('what = ["high"]', "what = []", "threshold[1].what", "a list of 0", "at least 1"),
    (
        'where = ["X"]',
        'where = ["Y"]',
        "threshold[1].where",
        "no position 'Y'",
        "Known here: X, IM, IC, AR, IW",
    ),
    (
        'where = ["X"]\nlimits_deg = [0.30',
        "limits_deg = [0.30",
        "threshold[1].where",
        "needs positions",
        "Give some of X",
    ),
    ('where = ["IM"]', 'where = ["X"]', "threshold[2].what", "has two thresholds at X", "Keep one"),
    ("[0.30, 0.60, 0.90]", "[0.30, 0.60]", "threshold[1].limits_deg", "a list of 2", "of 3 numbers"),
    (
        "[0.30, 0.60, 0.90]",
        "[0.60, 0.30, 0.90]",
        "threshold[1].limits_deg",
        "do not rise",
        "a little, plain, a lot",
    ),
    (
        "[0.30, 0.60, 0.90]",
        "[-0.3, 0.60, 0.90]",
        "threshold[1].limits_deg",
        "do not rise, all above 0",
        "numbers that rise",
    ),
    (
        "limits_deg = [0.30",
        "limits_fps = [0.30",
        "threshold[1].limits_fps",
        "not counted in fps",
        "limits_deg or limits_cells",
    ),
    (
        "limits_deg = [0.30, 0.60, 0.90]\n",
        "",
        "threshold[1]",
        "no limit is given for 'high'",
        "limits_deg or limits_cells",
    ),
    (
        "limits_deg = [0.30",
        "limits_cells = [1, 2, 3]\nlimits_deg = [0.30",
        "threshold[1]",
        "2 limits are given",
        "Give one: limits_deg or limits_cells",
    ),
    (
        "limits_s = [15, 12.5, 10]",
        "limits_s = [10, 12.5, 15]",
        ".limits_s",
        "do not fall",
        "three numbers that fall",
    ),
    (
        'what = ["long in the groove"]',
        'what = ["long in the groove"]\nwhere = ["X"]',
        ".where",
        "once for the whole pass",
        "Leave 'where' out",
    ),
    (
        'what = "red ball"',
        'what = "red ball"\nbeyond_deg = 0.5',
        "safety[2].beyond_deg",
        "the lens sets it",
        "Leave it out",
    ),
    ("beyond_deg = 0.52\n", "", "safety[3]", "no limit is given for 'low'", "beyond_deg or beyond_cells"),
    (
        "beyond_deg = 0.52",
        "beyond_m = 0.52",
        "safety[3].beyond_m",
        "not counted in m",
        "beyond_deg or beyond_cells",
    ),
    (
        "beyond_deg = 0.52",
        "below_m = 0.52",
        "safety[3].below_m",
        "is not bounded so",
        "beyond_deg or beyond_cells",
    ),
    (
        "below_nominal = 0.6",
        "below_nominal = 1.4",
        "safety[6].below_nominal",
        "1.4 is out of range",
        "at most 1",
    ),
    (
        'what = "hard touchdown"',
        'what = "hard touchdown"\nwhere = ["IW"]',
        ".where",
        "has its own place",
        "Leave 'where' out",
    ),
    ('at_best = "cut"', 'at_best = "cutt"', "safety[1].at_best", "no grade 'cutt'", "Did you mean 'cut'?"),
    ("points = 4.0", "points = 6.0", "grade[2].points", "6.0 is out of range", "from 0 to 5"),
    ("points = 3.0", "points = 4.5", "grade[3].points", "more points than the grade above", "best first"),
    (
        "total_at_most = 12.0",
        "total_at_most = 2.0",
        "grade[3].total_at_most",
        "takes fewer deviations than 'OK'",
        "rise down the list",
    ),
    (
        'worst_at_most = "plain"',
        'worst_at_most = "medium"',
        "grade[2].worst_at_most",
        '"medium" stands here',
        'one of "a little"',
    ),
    (
        'symbol = "-"\npoints = 2.0',
        'symbol = "-"\npoints = 2.0\ntotal_at_most = 30',
        "grade[4]",
        "no grade is left",
        "no bound",
    ),
    (
        "only_by_safety = true",
        "total_at_most = 99",
        "grade[5]",
        "no grade is left for passes that 'cut'",
        "no bound",
    ),
    (
        "only_by_safety = true",
        "only_by_safety = true\ntotal_at_most = 99",
        "grade[5].only_by_safety",
        "yet has a bound",
        "Leave total_at_most",
    ),
    ('name = "bolter"', 'name = "fair"', "bolter.name", "the name 'fair' is taken", "its own name"),
    (
        'reason = "pattern"',
        'reason = "technique"',
        "wave_off",
        "no grade for a wave-off of reason 'pattern'",
        'reason = "pattern"',
    ),
    ('reason = "pattern"', 'reason = "patern"', "wave_off[2].reason", '"patern" stands here', '"pattern"'),
    ('reason = "pattern"\n', "", "wave_off[2].reason", "this key is missing", "Give one of"),
    (
        'outside = "cut"',
        'outside = "no grades"',
        "outcomes.outside",
        "no grade 'no grades'",
        "Did you mean 'no grade'?",
    ),
    (
        'first_wire_at_best = "fair"',
        'first_wire_at_best = "far"',
        "outcomes.first_wire_at_best",
        "no grade 'far'",
        "Did you mean 'fair'?",
    ),
    (
        'source = "from memory"\n\n[bolter]',
        "\n[bolter]",
        "grade[5].source",
        "this key is missing",
        "where the numbers are from",
    ),
    (
        'source = "common practice, no source"',
        'source = ""',
        "judging.source",
        "a text of 0 characters",
        "where the numbers are from",
    ),
]


@pytest.mark.parametrize(
    ("good", "bad", "key", "reason", "remedy"), BAD, ids=[f"{i}-{row[2]}" for i, row in enumerate(BAD)]
)
def test_a_bad_rulebook_names_file_key_reason_and_remedy(tmp_path, good, bad, key, reason, remedy):
    assert good in STRICT
    file = tmp_path / "mine.toml"
    file.write_text(STRICT.replace(good, bad, 1), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        scoring.load(file)
    message = str(caught.value)
    assert message.startswith(f"{file}")
    for part in (f"key {key}" if not key.startswith(".") else key, reason, remedy):
        assert part in message, message


@pytest.mark.parametrize(
    ("text", "says", "remedy"),
    [
        ("", "key name: this key is missing", "Give a text in quotes"),
        ("name = strict", "this is not valid TOML", "Each line reads key = value"),
        ("[[grade]]\nname = 1\n[grade]\n", "this is not valid TOML", "Each line reads key = value"),
        (STRICT.split("# -- grades")[0], "this key is missing", "Give"),
        (STRICT + '\n[extra]\nkey = "value"\n', "key extra (line", "Known here: name, judging"),
    ],
)
def test_a_broken_file_is_told_as_one(tmp_path, text, says, remedy):
    file = tmp_path / "mine.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        scoring.load(file)
    assert says in str(caught.value) and remedy in str(caught.value)


def test_every_fault_is_told_at_once(tmp_path):
    file = tmp_path / "mine.toml"
    text = STRICT.replace("points = 3.0", "points = 4.5").replace('outside = "cut"', 'outside = "off"')
    file.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match="2 things to mend"):
        scoring.load(file)


@pytest.mark.parametrize("name", ["stric", "no-such-file.toml", "/no/such/place.toml"])
def test_an_unknown_rulebook_is_refused(name):
    with pytest.raises(InputError) as caught:
        scoring.load(name)
    assert caught.value.remedy


REFERENCE = (Path(__file__).parents[3] / "docs" / "reference" / "rulebook.md").read_text(encoding="utf-8")


def keys(node):
    """Yield the keys of a form, those of its tables and of their tables."""
    if isinstance(node, inspect.Metadata):
        yield from keys(node.type)
    elif isinstance(node, inspect.UnionType):
        for choice in node.types:
            yield from keys(choice)
    elif isinstance(node, inspect.ListType):
        yield from keys(node.item_type)
    elif isinstance(node, inspect.StructType):
        for field in node.fields:
            yield field.encode_name
            yield from keys(field.type)


def test_the_reference_tells_every_key_and_every_remark():
    told = set(re.findall(r"`\[*([\w.]+)\]*`", REFERENCE))
    assert set(keys(inspect.type_info(RulebookForm))) - told == set()
    rows = [line for line in REFERENCE.splitlines() if line.startswith('| `"')]
    for what, remark in REMARKS.items():
        (row,) = (row for row in rows if f'`"{what}"`' in row)
        assert re.search(rf"\b{remark.symbol}X?\b", row)
        assert all(re.search(rf"\b{unit}\b", row.split("|")[3]) for unit in remark.units)
    for danger in DANGERS:
        assert f'`"{danger}"`' in REFERENCE


def test_the_reference_tells_no_key_that_is_not_there():
    rows = re.findall(r"^\| (`[a-z].*?) \|", REFERENCE, flags=re.MULTILINE)
    told = {name for row in rows for name in re.findall(r"`(\w+)`", row)}
    assert told - set(keys(inspect.type_info(RulebookForm))) == set()


def test_the_reference_gives_the_points_of_the_bundled_rulebooks():
    rulebook = scoring.load("strict")
    for grade in (*rulebook.grades, rulebook.bolter):
        symbol = grade.symbol.replace("_", "\\_")
        assert f"| {grade.name} | {symbol} | {grade.points} |" in REFERENCE


def test_the_example_of_the_reference_is_a_threshold(tmp_path):
    (example,) = re.findall(r"```toml\n(.*?)```", REFERENCE, flags=re.DOTALL)
    head, _, rest = STRICT.partition("# -- the ball")
    after = rest[rest.index("# How fast the jet leaves") :]
    file = tmp_path / "mine.toml"
    file.write_text(head + example + "\n" + after, encoding="utf-8")
    assert "LO" in scoring.score(fly(ball_deg=-0.4), scoring.load(file)).shorthand
