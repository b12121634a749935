"""Every command, option, export, argument and key is written down, and tried by a test."""

from __future__ import annotations

import inspect
import json
import re
from pathlib import Path

import pytest

import deckward
from deckward.cli.parser import build
from deckward.foundation.units import BY_SUFFIX
from deckward.recordings.quantities import BY_NAME
from deckward.workflow import contract, plan_contract, study_contract
from deckward.workflow.published import published_schema

ROOT = Path(__file__).resolve().parents[2]
COMMANDS = build()[1]
OPTIONS = sorted(
    {
        (name, option)
        for name, parser in COMMANDS.items()
        for option in parser._option_string_actions
        if option.startswith("--")
    }
    - {(name, "--help") for name in COMMANDS}
)


def reference(name: str) -> str:
    return (ROOT / "docs" / "reference" / name).read_text(encoding="utf-8")


def every_test() -> str:
    here = Path(__file__)
    return "\n".join(
        path.read_text(encoding="utf-8") for path in (ROOT / "tests").rglob("*.py") if path != here
    )


def schema_objects() -> list[tuple[str, str, dict]]:
    return [
        (page, name, parts["properties"])
        for page, document in (
            ("json.md", contract),
            ("plan-json.md", plan_contract),
            ("study-json.md", study_contract),
        )
        for name, parts in document.schema()["$defs"].items()
    ]


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_is_documented_and_tried(command):
    assert f"`deckward {command}`" in reference("commands.md")
    assert re.search(rf'"{command}"', every_test())


@pytest.mark.parametrize(("command", "option"), OPTIONS)
def test_each_option_is_documented_and_tried(command, option):
    section = reference("commands.md").split("## Exit codes")[0]
    assert re.search(rf"{option}(?![\w-])", section)
    assert f'"{option}"' in every_test()


def test_no_option_is_documented_that_is_not_there():
    known = {option for _, option in OPTIONS} | {"--help", "--version", "--json"}
    assert set(re.findall(r"(?<![\w-])--[a-z][a-z0-9-]+", reference("commands.md"))) <= known


@pytest.mark.parametrize("name", deckward.__all__)
def test_each_export_is_documented_and_tried(name):
    assert f"deckward.{name}" in reference("python.md")
    assert re.search(rf"\b{name}\b", every_test())
    assert getattr(deckward, name) is not None


@pytest.mark.parametrize("argument", inspect.signature(deckward.debrief).parameters)
def test_each_argument_is_documented(argument):
    assert f"`{argument}`" in reference("python.md")


@pytest.mark.parametrize(
    ("page", "keys"),
    [(page, keys) for page, _, keys in schema_objects()],
    ids=[f"{page} {name}" for page, name, _ in schema_objects()],
)
def test_each_key_of_the_json_is_documented(page, keys):
    for key in keys:
        assert f"`{key}`" in reference(page), key


@pytest.mark.parametrize("quantity", BY_NAME)
def test_each_quantity_of_a_recording_is_documented(quantity):
    assert f"`{quantity}`" in reference("recordings.md")


@pytest.mark.parametrize("suffix", [suffix for suffix in BY_SUFFIX if suffix])
def test_each_unit_is_documented(suffix):
    assert f"`_{suffix}`" in reference("recordings.md")


@pytest.mark.parametrize(
    ("name", "document"), [("debrief", contract), ("plan", plan_contract), ("study", study_contract)]
)
def test_the_published_schema_is_the_one_in_force(name, document):
    """The page's file and the package's say what the classes say."""
    assert json.loads(reference(f"{name}.schema.json")) == document.schema()
    assert json.loads(published_schema(name)) == document.schema()


def test_each_page_is_found_from_the_first():
    first = ROOT / "docs" / "README.md"
    linked = {
        (first.parent / target).resolve()
        for target in re.findall(r"\]\(([^)#\s]+)", first.read_text(encoding="utf-8"))
    }
    assert set((ROOT / "docs").rglob("*.md")) - linked == {first}


@pytest.mark.parametrize(
    "page",
    [*sorted((ROOT / "docs").rglob("*.md")), *sorted(ROOT.glob("*.md")), ROOT / "benchmarks" / "README.md"],
    ids=lambda path: str(path.relative_to(ROOT)),
)
def test_each_link_leads_somewhere(page):
    text = page.read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)\s]+)\)", text):
        file, _, anchor = target.partition("#")
        where = (page.parent / file).resolve() if file else page
        assert where.exists(), target
        if anchor:
            heads = re.findall(r"^#+ (.*)$", where.read_text(encoding="utf-8"), re.MULTILINE)
            assert anchor in {re.sub(r"[^\w -]", "", head.lower()).replace(" ", "-") for head in heads}, (
                target
            )
