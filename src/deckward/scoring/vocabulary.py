"""What can be remarked on a pass: the trade's sign, the plain words and the units of each."""

from __future__ import annotations

from msgspec import Struct

#: intensities in words, from 1 to 3
INTENSITIES = ("a little", "plain", "a lot")

_ANGLE = ("deg",)
_LENGTH = ("ft", "m")
_RATE = ("fps", "mps")


class Remark(Struct, frozen=True):
    """One thing that a rulebook can judge.

    ``side`` is the sign of the quantity that the remark is about; ``words`` say it at
    each intensity; ``units`` are those a limit may be given in. A ``placed`` remark is
    judged at positions, any other once for the whole pass. ``trend``: a motion, not a
    place.
    """

    quantity: str
    symbol: str
    side: int
    units: tuple[str, ...]
    words: tuple[str, str, str]
    placed: bool = True
    trend: bool = False


#: Source of the symbols: trade shorthand, from memory, except OSX, published
#: (CNATRAINST 3740.9D), and the position letters of the bundled rulebooks.
REMARKS: dict[str, Remark] = {
    "high": Remark("glide slope", "H", 1, ("deg", "cells"), ("a little high", "high", "very high")),
    "low": Remark("glide slope", "LO", -1, ("deg", "cells"), ("a little low", "low", "very low")),
    "fast": Remark("angle of attack", "F", -1, ("deg", "bands"), ("a little fast", "fast", "very fast")),
    "slow": Remark("angle of attack", "SLO", 1, ("deg", "bands"), ("a little slow", "slow", "very slow")),
    "lined up left": Remark(
        "line-up",
        "LUL",
        -1,
        _ANGLE + _LENGTH,
        ("lined up a little left", "lined up left", "lined up far left"),
    ),
    "lined up right": Remark(
        "line-up",
        "LUR",
        1,
        _ANGLE + _LENGTH,
        ("lined up a little right", "lined up right", "lined up far right"),
    ),
    "settling": Remark(
        "path rate", "S", -1, _RATE, ("settled a little", "settled", "settled a lot"), trend=True
    ),
    "coming down": Remark(
        "path rate", "CD", -1, _RATE, ("came down a little", "came down", "came down fast"), trend=True
    ),
    "climbing": Remark(
        "path rate", "C", 1, _RATE, ("climbed a little", "climbed", "climbed a lot"), trend=True
    ),
    "coming back up": Remark(
        "path rate",
        "CB",
        1,
        _RATE,
        ("came back up a little", "came back up", "came back up fast"),
        trend=True,
    ),
    "drifting left": Remark(
        "drift",
        "DL",
        -1,
        _RATE,
        ("drifted a little left", "drifted left", "drifted left fast"),
        trend=True,
    ),
    "drifting right": Remark(
        "drift",
        "DR",
        1,
        _RATE,
        ("drifted a little right", "drifted right", "drifted right fast"),
        trend=True,
    ),
    "sinking fast": Remark(
        "sink",
        "TMRD",
        1,
        _RATE,
        ("a little too much rate of descent", "too much rate of descent", "far too much rate of descent"),
    ),
    "sinking slowly": Remark(
        "sink",
        "NERD",
        -1,
        _RATE,
        (
            "a little short of rate of descent",
            "not enough rate of descent",
            "hardly any rate of descent",
        ),
    ),
    "left wing down": Remark(
        "bank",
        "LWD",
        -1,
        _ANGLE,
        ("left wing a little down", "left wing down", "left wing far down"),
    ),
    "right wing down": Remark(
        "bank",
        "RWD",
        1,
        _ANGLE,
        ("right wing a little down", "right wing down", "right wing far down"),
    ),
    "overshot the start": Remark(
        "start",
        "OS",
        1,
        _ANGLE,
        ("overshot the start a little", "overshot the start", "overshot the start by far"),
        placed=False,
    ),
    "undershot the start": Remark(
        "start",
        "US",
        -1,
        _ANGLE,
        ("undershot the start a little", "undershot the start", "undershot the start by far"),
        placed=False,
    ),
    "long in the groove": Remark(
        "groove",
        "LIG",
        1,
        ("s",),
        ("a little long in the groove", "long in the groove", "very long in the groove"),
        placed=False,
    ),
    "short in the groove": Remark(
        "groove",
        "NESA",
        -1,
        ("s",),
        ("a little short in the groove", "short in the groove", "far too short in the groove"),
        placed=False,
    ),
}

#: said instead of the rulebook's remark where the rule written beside it applies
FLEW_DOWN_THROUGH = ("\\", "flew down through the glide path")
FLEW_UP_THROUGH = ("/", "flew up through the glide path")
LEFT_TO_RIGHT = ("LTR", "went from left to right of the centreline")
RIGHT_TO_LEFT = ("RTL", "went from right to left of the centreline")
LANDED = {
    "lined up left": ("LL", ("landed a little left", "landed left", "landed far left")),
    "lined up right": ("LR", ("landed a little right", "landed right", "landed far right")),
}
NICE_CORRECTION = "NC"
ALL_THE_WAY = "AW"

#: what a safety rule can look at besides the remarks above, with its units; ``nominal`` is
#: a fraction of what the commanded path gives
DANGERS: dict[str, tuple[str, ...]] = {
    "red ball": (),
    "ball off the bottom": (),
    "low over the ramp": ("nominal", "ft", "m"),
    "hard touchdown": _RATE,
}
