"""What is imported when: help is instant, JSON needs three libraries."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

HEAVY = {"numpy", "polars", "msgspec", "rich", "jinja2", "typst", "scipy", "typing", "dataclasses", "inspect"}
PAGES_ONLY = {"rich", "jinja2", "typst", "scipy", "matplotlib", "pandas", "PIL"}

SPY = """
import json, sys
from deckward.cli import main
code = main({words!r})
print(json.dumps([code, sorted({{name.split(".")[0] for name in sys.modules}})]), file=sys.stderr)
"""


def imported(words: list[str]) -> set[str]:
    """Run the command line in a process of its own and say which packages it imported."""
    done = subprocess.run(
        [sys.executable, "-c", SPY.format(words=words)], capture_output=True, check=True, text=True
    )
    code, names = json.loads(done.stderr.splitlines()[-1])
    assert code == 0, done.stderr
    return set(names)


@pytest.mark.parametrize("words", [["--help"], ["--version"], ["debrief", "--help"]])
def test_help_imports_nothing_heavy(words):
    assert imported(words) & HEAVY == set()


def test_importing_the_package_imports_nothing_heavy():
    done = subprocess.run(
        [sys.executable, "-c", "import deckward, sys; print(*sys.modules)"],
        capture_output=True,
        check=True,
        text=True,
    )
    assert set(done.stdout.split()) & HEAVY == set()


def test_drafting_a_column_map_reads_text_without_the_table_library(desk):
    names = imported(["columns", "flight.csv", "--json"])
    assert names & (PAGES_ONLY | {"polars"}) == set()


def test_from_command_to_json_only_three_libraries_are_imported(desk):
    """Not even the libraries of the pages, which the same command could draw."""
    names = imported(["debrief", "flight.csv", "--json"])
    assert {"numpy", "polars", "msgspec"} <= names
    assert names & PAGES_ONLY == set()
