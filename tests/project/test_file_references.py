"""The reference pages of the site, aircraft and scenario files: every key told, every example readable."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from msgspec import inspect

from deckward import aircraft, planning, site
from deckward.aircraft.form import ProfileForm
from deckward.aircraft.form import check as check_aircraft
from deckward.foundation import documents
from deckward.planning.form import ScenarioForm
from deckward.planning.form import check as check_scenario
from deckward.site.form import SiteForm
from deckward.site.form import check as check_site

REFERENCE = Path(__file__).parents[2] / "docs" / "reference"
PAGES = {
    "site-file.md": (SiteForm, check_site, site),
    "aircraft-file.md": (ProfileForm, check_aircraft, aircraft),
    "scenario-file.md": (ScenarioForm, check_scenario, planning),
}


def keys(node):
    """Yield the keys of a form, those of its tables and of their tables."""
    if isinstance(node, inspect.Metadata):
        yield from keys(node.type)
    elif isinstance(node, inspect.UnionType):
        for choice in node.types:
            yield from keys(choice)
    elif isinstance(node, inspect.VarTupleType):
        yield from keys(node.item_type)
    elif isinstance(node, inspect.StructType):
        for field in node.fields:
            yield field.encode_name
            yield from keys(field.type)


@pytest.mark.parametrize("page", PAGES)
def test_every_key_is_told(page):
    text = (REFERENCE / page).read_text(encoding="utf-8")
    form, _, _ = PAGES[page]
    told = set(re.findall(r"`\[*([\w.]+)\]*`", text))
    told |= {part for name in told for part in name.split(".")}
    assert set(keys(inspect.type_info(form))) - told == set()


@pytest.mark.parametrize("page", PAGES)
def test_every_key_that_is_told_exists(page):
    text = (REFERENCE / page).read_text(encoding="utf-8")
    form, _, _ = PAGES[page]
    rows = re.findall(r"^\| (`.*?) \|", text, flags=re.MULTILINE)
    told = {name for row in rows for name in re.findall(r"`(\w+)`", row)}
    known = set(keys(inspect.type_info(form)))
    bundled = {name for *_, room in PAGES.values() for name in room.bundled()}
    assert told - known - {name for name in bundled if "-" not in name} == set()


@pytest.mark.parametrize("page", PAGES)
def test_every_example_is_a_valid_file(page):
    text = (REFERENCE / page).read_text(encoding="utf-8")
    form, check, _ = PAGES[page]
    examples = re.findall(r"```toml\n(.*?)```", text, flags=re.DOTALL)
    assert len(examples) >= 2
    for example in examples:
        documents.parse(example, form, file=page, check=check)


@pytest.mark.parametrize("page", PAGES)
def test_every_bundled_file_is_named(page):
    text = (REFERENCE / page).read_text(encoding="utf-8")
    *_, room = PAGES[page]
    assert all(f"| `{name}` |" in text for name in room.bundled())


@pytest.mark.parametrize("page", PAGES)
def test_the_caution_stands_on_the_page(page):
    text = " ".join((REFERENCE / page).read_text(encoding="utf-8").split())
    assert "simulation and training study only" in text
    assert "their own manuals, the ship's bulletins and licensed people" in text
