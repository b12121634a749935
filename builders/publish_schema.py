"""Write the JSON Schemas of debrief, plan and study into the package and the reference.

python builders/publish_schema.py
"""

from __future__ import annotations

from pathlib import Path

from deckward.workflow import contract, plan_contract, study_contract
from deckward.workflow.published import encode

ROOT = Path(__file__).resolve().parents[1]
FOLDERS = (ROOT / "src" / "deckward" / "workflow", ROOT / "docs" / "reference")


def main() -> None:
    for name, document in (("debrief", contract), ("plan", plan_contract), ("study", study_contract)):
        text = encode(document.schema()) + "\n"
        for folder in FOLDERS:
            place = folder / f"{name}.schema.json"
            place.write_text(text, encoding="utf-8", newline="\n")
            print(place.relative_to(ROOT))


if __name__ == "__main__":
    main()
