"""The inks of every figure, page and sheet, by day, by night and in a dark cockpit.

An ink is named for what it says, never for its hue. Three hues are the real lamps'
(amber and red cells, green datum); one blue is ours and marks what can be pressed and
where the jet is going. Everything else is paper and ink.

How it was chosen: text inks reach 4.5 to 1 against both grounds (WCAG 2.2, 1.4.3) and
lines 3 to 1 (1.4.11); amber and red differ in lightness by enough to part in grey and
under the three simulated colour deficiencies. Hue is never the only sign: red cells are
hatched, a path off the lens is dashed, high and low, slow and fast are written.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

DAY: Mapping[str, str] = MappingProxyType(
    {
        "paper": "#fbfaf6",
        "sheet": "#f1f0ea",
        "rule": "#d3d1c6",
        "edge": "#86887f",
        "ink": "#141c24",
        "soft": "#545e68",
        "blue": "#1a5b93",
        "doubt": "#b8c6d3",
        "amber": "#f0a818",
        "amber-ink": "#875400",
        "amber-wash": "#fbedcd",
        "amber-wash-2": "#f6e0ae",
        "red": "#c0241c",
        "red-ink": "#a81a14",
        "red-wash": "#efc3bb",
        "red-wash-2": "#e9ada3",
        "green": "#1c7f54",
        "deck": "#c4c8c8",
        "lens": "#20272d",
        "glare": "#fff6da",
    }
)

NIGHT: Mapping[str, str] = MappingProxyType(
    {
        "paper": "#10161c",
        "sheet": "#182028",
        "rule": "#303b46",
        "edge": "#77828c",
        "ink": "#e8ecee",
        "soft": "#a5b0b9",
        "blue": "#84bcec",
        "doubt": "#3d4f60",
        "amber": "#f0a818",
        "amber-ink": "#f2ba4c",
        "amber-wash": "#40371a",
        "amber-wash-2": "#54481f",
        "red": "#e0483c",
        "red-ink": "#ff8b7e",
        "red-wash": "#471a26",
        "red-wash-2": "#561f2c",
        "green": "#3fb27e",
        "deck": "#46525c",
        "lens": "#05080a",
        "glare": "#fff6da",
    }
)

#: for a dark cockpit: all of it amber and red on black, nothing brighter than a dimmed lamp
COCKPIT: Mapping[str, str] = MappingProxyType(
    {
        "paper": "#050300",
        "sheet": "#120b04",
        "rule": "#3a2610",
        "edge": "#83592a",
        "ink": "#cf8630",
        "soft": "#ab6f2b",
        "blue": "#e09a45",
        "doubt": "#4d3315",
        "amber": "#cf8630",
        "amber-ink": "#cf8630",
        "amber-wash": "#241704",
        "amber-wash-2": "#332106",
        "red": "#c8402c",
        "red-ink": "#d9553f",
        "red-wash": "#2c0e08",
        "red-wash-2": "#3c130b",
        "green": "#8f7430",
        "deck": "#3d2a14",
        "lens": "#000000",
        "glare": "#cf8630",
    }
)

#: read as words, so they must reach 4.5 to 1 on paper and sheet
TEXT_INKS = ("ink", "soft", "blue", "amber-ink", "red-ink")
#: read as lines and marks, 3 to 1 on paper
LINE_INKS = ("edge", "green", "red")


def css(inks: Mapping[str, str]) -> str:
    """Write inks as style-sheet variables, one declaration each."""
    return "".join(f"--{name}:{value};" for name, value in inks.items())
