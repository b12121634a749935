"""The tables of ``authorities/``: each told, each read by a test; a bad one refused by its line."""

from __future__ import annotations

import re
from pathlib import Path

import derived_tables
import pytest

from support.authorities import FOLDER, TableError, each, rows

ROOT = Path(__file__).resolve().parents[2]
NAMES = sorted(path.name for path in FOLDER.iterdir() if path.is_dir())
LIST = (FOLDER / "README.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", NAMES)
def test_each_folder_holds_a_table_and_says_where_it_is_from(name):
    assert sorted(path.name for path in (FOLDER / name).iterdir()) == ["README.md", "table.csv"]
    told = " ".join((FOLDER / name / "README.md").read_text(encoding="utf-8").split())
    for what in ("Source", "Standing", "Columns", "Typed in", "Checked"):
        assert f"**{what}**" in told, what
    headings = next(iter(rows(name).values())).cells
    assert [heading for heading in headings if f"`{heading}`" not in told] == []


@pytest.mark.parametrize("name", NAMES)
def test_each_table_is_listed_with_the_tests_that_read_it(name):
    (line,) = (line for line in LIST.splitlines() if line.startswith(f"| [`{name}`]({name}/README.md) |"))
    told = set(re.findall(r"`(test_\w+\.py)`", line))
    reading = {
        path.name
        for path in (ROOT / "tests").rglob("test_*.py")
        if path != Path(__file__)
        and re.search(rf'\b(each|rows)\(\s*"{name}"', path.read_text(encoding="utf-8"))
    }
    assert reading and told == reading


def test_nothing_is_listed_that_is_not_there():
    assert sorted(re.findall(r"^\| \[`([\w-]+)`\]", LIST, flags=re.MULTILINE)) == NAMES


@pytest.mark.parametrize("work", derived_tables.WORKED, ids=lambda work: work.__name__)
def test_derived_figures_are_their_formulas(work):
    """Worked again without the product, to the last digit printed."""
    count, wrong = derived_tables.differences(work)
    assert count and wrong == []


def test_every_table_that_is_derived_is_worked_again():
    derived = {name for name in NAMES if all("derived" in row["standing"] for row in rows(name).values())}
    assert {work.__name__.replace("_", "-") for work in derived_tables.WORKED} == derived


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("id,height [ft]\n", ":1: headings start with id,standing"),
        ("id,standing,a,a\n", ":1: headings start with id,standing, and none stands twice"),
        ("id,standing,height [ft]\n", ": there are no rows"),
        ("id,standing,height [ft]\na,derived,6\nb,derived\n", ":3: 2 cells, 3 headings"),
        ("id,standing,height [ft]\na,derived,six\n", ":2: height [ft]: 'six' is no number"),
        ("id,standing,height [ft]\na,sure,6\n", ":2: standing 'sure'"),
        ("id,standing,height [ft]\na,derived,6\na,derived,7\n", ":3: the id is empty or stands twice"),
    ],
)
def test_a_bad_table_is_refused_with_its_file_and_line(tmp_path, text, says):
    (tmp_path / "bad").mkdir()
    (tmp_path / "bad" / "table.csv").write_text(text, encoding="utf-8")
    with pytest.raises(TableError) as told:
        rows("bad", folder=tmp_path)
    assert f"bad/table.csv{says}" in str(told.value)


def test_a_unit_mistaken_is_a_column_not_found(tmp_path):
    (tmp_path / "good").mkdir()
    text = "id,standing,height [ft],by\na,confirmed+memory-high,6,hand\nb,derived,,\n"
    (tmp_path / "good" / "table.csv").write_text(text, encoding="utf-8")
    table = rows("good", folder=tmp_path)
    assert (table["a"]["height [ft]"], table["a"]["by"], table["b"]["height [ft]"]) == (6.0, "hand", None)
    with pytest.raises(
        TableError, match=r"good/table.csv:2: no column 'height \[m\]'; there are id, standing"
    ):
        table["a"]["height [m]"]


def test_a_table_that_is_not_there_is_named():
    with pytest.raises(TableError, match=r"authorities/nowhere/table\.csv: there is no such file"):
        each("nowhere", feet="height [ft]")
