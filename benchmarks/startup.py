"""How long ``deckward --help`` takes against a Python that does nothing.

python benchmarks/startup.py
"""

from __future__ import annotations

import sys

from measure import pairs, report

RUNS = 21


def main() -> None:
    python = sys.executable
    found = pairs([python, "-m", "deckward", "--help"], [python, "-c", "pass"], RUNS)
    report("deckward --help", "python -c pass", found, 6.0)


if __name__ == "__main__":
    main()
