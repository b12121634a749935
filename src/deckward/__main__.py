"""``python -m deckward``: the same as the command ``deckward``."""

from deckward.cli import run

run()
