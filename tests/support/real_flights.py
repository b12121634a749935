"""The package that carries recordings of real flights, put in beside the others without its dependencies."""

from __future__ import annotations

import gzip
import importlib.util
import json
import sys
from pathlib import Path

import pytest

_FOUND = importlib.util.find_spec("traffic")
#: ``run.py test`` puts the package in and leaves this mark: there its absence is a fault
_SET_UP = (Path(sys.prefix) / "deckward-ready").exists()

needs_real_flights = pytest.mark.skipif(
    _FOUND is None and not _SET_UP, reason="pip install --no-deps -r requirements/samples.txt"
)


def rows(name: str) -> list[dict]:
    """Rows of one sample, as its file holds them."""
    assert _FOUND is not None, "the set-up for tests left the package with real flights out"
    folder = Path(_FOUND.submodule_search_locations[0])
    with gzip.open(folder / "data/samples" / name) as file:
        return json.load(file)
