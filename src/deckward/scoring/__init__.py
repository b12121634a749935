"""The rulebook, deviations and the grade: what happened, nothing of why.

``load`` a rulebook, ``score`` a pass by it; ``windows`` says when the pass was at which of
the rulebook's positions.
"""

from deckward.scoring.files import bundled, load, source
from deckward.scoring.grading import score
from deckward.scoring.windows import Window, windows
from deckward.scoring.words import odds_in_words

__all__ = ["Window", "bundled", "load", "odds_in_words", "score", "source", "windows"]
