"""Cut the Latin part of the typeface out for web pages.

Needs ``fonttools``. The originals, unmodified, are B612 Regular and Bold, 1.008, under
the SIL Open Font License 1.1, without reserved names.

    python builders/web_fonts.py
"""

from __future__ import annotations

from pathlib import Path

from fontTools import subset

FOLDER = Path(__file__).parent.parent / "src/deckward/reports/type"
LETTERS = (
    "U+0020-007E,U+00A0-017F,U+2010-2015,U+2018-201D,U+2020-2022,U+2026,U+2032,U+2033,"
    "U+2190-2193,U+2212,U+2248,U+2264,U+2265"
)


def main() -> None:
    """Write a WOFF beside each OpenType file."""
    for font in sorted(FOLDER.glob("*.otf")):
        subset.main(
            [
                str(font),
                f"--unicodes={LETTERS}",
                "--flavor=woff",
                "--layout-features=*",
                f"--output-file={font.with_suffix('.woff')}",
            ]
        )


if __name__ == "__main__":
    main()
