"""The terminal face of Deckward."""

from __future__ import annotations


def main() -> int:
    """Run the command line."""
    raise SystemExit("deckward: the command line is not wired yet")
