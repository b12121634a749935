"""The examples in docstrings and pages run and say what they say."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
import re
import shlex
from pathlib import Path

import pytest

import deckward
from deckward.cli.parser import arguments

ROOT = Path(__file__).resolve().parents[2]
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]
MODULES = sorted(
    module.name
    for module in pkgutil.walk_packages(deckward.__path__, "deckward.")
    if not module.name.endswith("__main__")
)


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_of_a_module_hold(name):
    result = doctest.testmod(importlib.import_module(name))
    assert result.failed == 0


@pytest.mark.parametrize("page", PAGES, ids=lambda path: path.stem)
def test_the_examples_of_a_page_hold(page):
    assert doctest.testfile(str(page), module_relative=False).failed == 0


def shell_lines() -> list[str]:
    found = []
    for page in PAGES:
        for block in re.findall(
            r"^ *```sh\n(.*?)^ *```", page.read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE
        ):
            found += [line.strip() for line in block.splitlines() if line.strip().startswith("deckward ")]
    return sorted(set(found))


@pytest.mark.parametrize("line", shell_lines())
def test_each_command_line_of_the_pages_is_understood(line):
    given = arguments(shlex.split(line)[1:])
    assert given.command == line.split()[1]
