"""Habits of the house that a machine can hold."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
TEXT = {".py", ".md", ".toml", ".txt", ".in", ".json", ".html", ".css", ".typ", ".j2", ".yml", ""}
LONGEST_MODULE = 600
LARGEST_FILE = 1_500 * 1024


def tracked() -> list[Path]:
    """Files of the project: what git tracks or would track."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=ROOT,
        capture_output=True,
        check=True,
        text=True,
    ).stdout
    return [ROOT / name for name in listed.split("\0") if name and (ROOT / name).is_file()]


def texts() -> list[tuple[str, str]]:
    return [
        (str(path.relative_to(ROOT)), path.read_text(encoding="utf-8"))
        for path in tracked()
        if path.suffix in TEXT and path != Path(__file__)
    ]


def lines_with(pattern: str) -> list[str]:
    search = re.compile(pattern).search
    return [
        f"{name}:{number}: {line.strip()[:100]}"
        for name, text in texts()
        for number, line in enumerate(text.splitlines(), start=1)
        if search(line)
    ]


def test_no_module_is_long_enough_to_hold_two_jobs():
    long = {
        name: text.count("\n")
        for name, text in texts()
        if name.startswith("src/") and name.endswith(".py") and text.count("\n") > LONGEST_MODULE
    }
    assert long == {}


def test_no_file_is_too_large_to_clone_gladly():
    assert [path for path in tracked() if path.stat().st_size > LARGEST_FILE] == []


@pytest.mark.parametrize(
    ("what", "pattern"),
    [
        ("a path of one machine", r"(?<![\w.])/(work|root|home/\w+|Users/\w+)/"),
        ("an address of packages", r"https?://[^\s\"']*(simple|packages|tarballs|registry)"),
        ("something left open", r"\b(TODO|FIXME|XXX|HACK)\b"),
        ("the number of an issue", r"(?i)\bissue #?\d|(?<!&)#\d{1,4}\b(?!\w)"),
        ("a failure that is let pass", r"pytest\.mark\.xfail|pytest\.xfail"),
    ],
)
def test_no_file_holds(what, pattern):
    assert lines_with(pattern) == [], what


def test_only_one_module_holds_factors():
    factor = r"(?<![\w.])(0\.3048|1852(\.0)?|0\.514444\d*|0\.45359237|9\.80665|1\.6878\d*)(?!\w)"
    kept = "src/deckward/foundation/units.py"
    assert [
        line
        for line in lines_with(factor)
        if line.startswith("src/") and ".py:" in line and not line.startswith(kept)
    ] == []


def test_no_public_function_swallows_misspelt_words():
    swallowing = lines_with(r"^def [a-z]\w*\(.*\*\*\w+")
    assert [line for line in swallowing if line.startswith("src/") and "options.py" not in line] == []
