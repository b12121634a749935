"""What published objects have in common: exact keys, rounded numbers, notes."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import msgspec

from deckward.errors import Note as ErrorNote
from deckward.foundation import units
from deckward.workflow import options

#: what has a published schema
SCHEMAS = ("debrief", "plan", "study")
#: decimals kept: a micrometre or a microdegree, far below any sigma
DECIMALS = 6


class Object(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A JSON object that has exactly the keys named here."""


class Note(Object, frozen=True):
    """Something to know about the data behind the numbers."""

    code: str
    text: str


def note(one: ErrorNote) -> Note:
    """Publish a note."""
    return Note(code=one.code, text=one.text)


def number(value: float | None, suffix: str = "") -> float | None:
    """SI to the unit of ``suffix``, rounded; None for None, NaN and infinity."""
    if value is None or not math.isfinite(value):
        return None
    # adding 0.0 turns -0.0 into 0.0
    return round(float(units.from_si(value, suffix)), DECIMALS) + 0.0


def known(value: float, suffix: str = "") -> float:
    """Like :func:`number`, for what is always there."""
    there = number(value, suffix)
    if there is None:
        raise ValueError(f"a number that is always there is not finite: {value}")
    return there


def schema_of(document: type[Object], title: str) -> dict[str, Any]:
    """Make the JSON Schema (draft 2020-12) of a published object."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": title,
        **msgspec.json.schema(document),
    }


def encode(value: Any) -> str:
    """Write a value as indented JSON text."""
    return msgspec.json.format(msgspec.json.encode(value), indent=2).decode()


def published_schema(of: str = "debrief") -> str:
    """Return a JSON Schema as it is published: the file beside this module.

    Raises:
        InputError: there is none of that name.
    """
    options.one_of("schema", of, SCHEMAS)
    return (Path(__file__).parent / f"{of}.schema.json").read_text(encoding="utf-8")
