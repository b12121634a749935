"""The table of rules: what counts as a finding, read once from the file beside this module."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from msgspec import Struct

from deckward.foundation.units import BY_SUFFIX, to_si

_WORDS = ("title", "advice", "weight", "source")


class Rule(Struct, frozen=True):
    """One code's words and bounds; ``limits`` in SI and radians, by name without unit.

    Indexing a rule gives a bound: ``rule["held"]``.
    """

    code: str
    title: str
    advice: str
    weight: float
    source: str
    limits: Mapping[str, float]

    def __getitem__(self, name: str) -> float:
        return self.limits[name]


def _limit(key: str, value: float) -> tuple[str, float]:
    name, _, suffix = key.rpartition("_")
    if name and suffix in BY_SUFFIX:
        return name, to_si(float(value), suffix)
    return key, float(value)


@cache
def load() -> Mapping[str, Rule]:
    """Return the rules by code, in the file's order."""
    table = tomllib.loads((Path(__file__).parent / "rules.toml").read_text(encoding="utf-8"))
    return {
        code: Rule(
            code=code,
            title=entry["title"],
            advice=entry["advice"],
            weight=float(entry["weight"]),
            source=entry["source"],
            limits=dict(_limit(key, value) for key, value in entry.items() if key not in _WORDS),
        )
        for code, entry in table.items()
    }
