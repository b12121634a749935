"""A clone becomes a working tool: pins, the set-up script, the README's commands."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import deckward

ROOT = Path(__file__).resolve().parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def names(requirements: list[str]) -> set[str]:
    return {re.split(r"[^\w.-]", requirement)[0].lower() for requirement in requirements}


def pinned(file: str) -> dict[str, str]:
    """Name to text of each block of a requirements file."""
    text = (ROOT / "requirements" / file).read_text(encoding="utf-8")
    blocks = re.split(r"^(?=[a-z])", text, flags=re.MULTILINE)[1:]
    return {block.split("==")[0].lower(): block for block in blocks}


@pytest.mark.parametrize(
    ("file", "wanted"),
    [
        ("core.txt", PROJECT["project"]["dependencies"]),
        ("dev.txt", PROJECT["project"]["dependencies"] + PROJECT["dependency-groups"]["dev"]),
        ("build.txt", PROJECT["build-system"]["requires"]),
        ("samples.txt", ["traffic", "opendis"]),
    ],
)
def test_everything_the_project_needs_is_pinned_with_hashes(file, wanted):
    have = pinned(file)
    assert names(wanted) <= set(have)
    assert all("--hash=sha256:" in block for block in have.values())


def test_the_version_is_the_same_everywhere():
    assert PROJECT["project"]["version"] == deckward.__version__
    assert f"## {deckward.__version__}" in (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")


def set_up(*words: str, folder: Path) -> subprocess.CompletedProcess:
    return subprocess.run(
        [sys.executable, str(ROOT / "run.py"), *words],
        cwd=folder,
        capture_output=True,
        check=False,
        text=True,
    )


def test_the_set_up_script_tells_how_to_use_it(tmp_path):
    done = set_up("--help", folder=tmp_path)
    assert done.returncode == 0
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for line in ("python3 run.py demo", "python3 run.py test"):
        assert line in done.stdout
        assert line in readme


def test_the_set_up_script_runs_any_command(tmp_path):
    done = set_up("--here", "--version", folder=tmp_path)
    assert (done.returncode, done.stdout) == (0, f"deckward {deckward.__version__}\n")
    assert set_up("--here", "debrief", "nothing.csv", folder=tmp_path).returncode == 2


def test_an_old_python_is_told_what_it_lacks(monkeypatch, capsys):
    run = _load_run()
    monkeypatch.setattr(run.sys, "version_info", (3, 9, 2))
    assert run.main(["demo"]) == 2
    assert "3.11 or newer" in capsys.readouterr().err


def test_a_set_up_that_is_done_is_not_done_again(monkeypatch, tmp_path):
    run = _load_run()
    venv = tmp_path / ".venv"
    calls = []

    def call(command, **kwargs):
        calls.append(command)
        python = venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
        python.parent.mkdir(parents=True, exist_ok=True)
        python.touch()
        return 0

    monkeypatch.setattr(run, "VENV", venv)
    monkeypatch.setattr(run, "READY", venv / "deckward-ready")
    monkeypatch.setattr(run.subprocess, "call", call)
    run.environment(testing=True)
    assert len(calls) == 4
    run.environment(testing=True)
    run.environment(testing=False)  # what tests need holds what the product needs
    assert len(calls) == 4


@pytest.mark.skipif(os.name == "nt", reason="a shell script")
def test_the_build_calls_the_readmes_test_command():
    script = ROOT / ".ci" / "run"
    assert os.access(script, os.X_OK)
    assert script.read_text(encoding="utf-8").rstrip().endswith("python3 run.py test")


def _load_run():
    from importlib import util

    spec = util.spec_from_file_location("run", ROOT / "run.py")
    module = util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
