"""``python -m deckward``: the same as the command ``deckward``."""

import sys

from deckward.cli import main

sys.exit(main())
