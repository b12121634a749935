"""Write the JSON Schema of a debrief where it is published: in the package and in the reference.

python builders/publish_schema.py
"""

from __future__ import annotations

from pathlib import Path

from deckward.workflow import contract

ROOT = Path(__file__).resolve().parents[1]
PLACES = (
    ROOT / "src" / "deckward" / "workflow" / "debrief.schema.json",
    ROOT / "docs" / "reference" / "debrief.schema.json",
)


def main() -> None:
    text = contract.encode(contract.schema()) + "\n"
    for place in PLACES:
        place.write_text(text, encoding="utf-8", newline="\n")
        print(place.relative_to(ROOT))


if __name__ == "__main__":
    main()
