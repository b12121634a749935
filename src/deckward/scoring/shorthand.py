"""The trade's shorthand, written from the deviations by rule.

A landing signal officer writes a pass in the order it was flown: a sign for what was
wrong, then the letters of the position. Round brackets make it a little, underlining a
lot. What persists is written once, as ``HX-IM`` or ``HAW`` (all the way), and again only
where it grows; a remainder that is being corrected is not written. Signs and modifiers:
from memory.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby, pairwise
from statistics import median_low

from msgspec import Struct
from msgspec.structs import replace

from deckward.scoring.model import Deviation
from deckward.scoring.vocabulary import (
    ALL_THE_WAY,
    FLEW_DOWN_THROUGH,
    FLEW_UP_THROUGH,
    LEFT_TO_RIGHT,
    NICE_CORRECTION,
    RIGHT_TO_LEFT,
)
from deckward.scoring.windows import Window

#: fewest positions that make "all the way"
_FEWEST_ALL_THE_WAY = 3
#: a motion is put down to the deviation it leads to when that comes this soon after, s
_SOON = 1.0

#: what is written first of things that begin together
_ORDER = (
    "start",
    "groove",
    "glide slope",
    "path rate",
    "angle of attack",
    "line-up",
    "drift",
    "sink",
    "bank",
)

#: which motion leads from one side of which quantity to the other
_MOTION_OF = {"glide slope": "path rate", "line-up": "drift"}
_THROUGH = {
    ("path rate", -1): FLEW_DOWN_THROUGH,
    ("path rate", 1): FLEW_UP_THROUGH,
    ("drift", 1): LEFT_TO_RIGHT,
    ("drift", -1): RIGHT_TO_LEFT,
}


class Said(Struct, frozen=True):
    """One remark as it is written and said.

    ``codes`` are the positions it covers, empty for the whole pass; ``where`` says them in
    words. ``corrected`` is the code and the name of the position in which a nice
    correction was seen.
    """

    quantity: str
    symbol: str
    words: str
    intensity: int
    codes: tuple[str, ...]
    where: str
    all_the_way: bool
    time: float
    weight: float
    corrected: tuple[str, str] | None = None


def remarks(deviations: Sequence[Deviation], places: Sequence[Window]) -> tuple[Said, ...]:
    """Turn deviations into remarks in the order of the pass, nothing said twice."""
    order = [place.bounds.code for place in places]
    names = {place.bounds.code: place.bounds.name for place in places}
    flying = [place.bounds.code for place in places if not place.over_the_deck]
    left = _without_echo_of_the_start(_passing_through(deviations, names), order)
    whole = [_say([item], names) for item in left if not item.position]
    said: list[Said] = []
    for _, same in groupby(sorted((item for item in left if item.position), key=_thread), key=_thread):
        thread = sorted(same, key=lambda item: order.index(item.position))
        for run in _runs(thread, order):
            said += _write(run, left, flying, names)
    said.sort(key=lambda item: (order.index(item.codes[0]), item.time, _ORDER.index(item.quantity)))
    return (*whole, *said)


def written(said: Iterable[Said]) -> str:
    """Write remarks in the trade's shorthand.

    >>> high = Said("glide slope", "H", "a little high", 1, ("X", "IM"), "", False, 0.0, 1.0)
    >>> written([high, replace(high, symbol="LO", intensity=3, codes=("IC",))])
    '(H)X-IM _LO_IC'
    """
    parts = []
    for item in said:
        sign = {1: f"({item.symbol})", 2: item.symbol, 3: f"_{item.symbol}_"}[item.intensity]
        where = "-".join(dict.fromkeys(item.codes[:1] + item.codes[-1:]))
        parts.append(sign + (ALL_THE_WAY if item.all_the_way else where))
        if item.corrected:
            parts.append(NICE_CORRECTION + item.corrected[0])
    return " ".join(parts)


def _side(item: Deviation) -> int:
    return 1 if item.value > 0 else -1


def _thread(item: Deviation) -> tuple[str, str]:
    """Say which remarks can persist as one: motions by their sign, places by their side."""
    motion = item.quantity in _MOTION_OF.values()
    return item.quantity, item.symbol if motion else str(_side(item))


def _passing_through(deviations: Sequence[Deviation], names: Mapping[str, str]) -> list[Deviation]:
    """Name a motion that leads from one side to the other for what it is, and name it once."""
    out = list(deviations)
    for place, motion in _MOTION_OF.items():
        found = sorted((item for item in deviations if item.quantity == place), key=lambda item: item.time)
        for before, after in pairwise(found):
            between = [
                item
                for item in out
                if item.quantity == motion
                and _side(item) == _side(after) != _side(before)
                and before.time < item.time <= after.time + _SOON
            ]
            if between:
                symbol, words = _THROUGH[motion, _side(after)]
                most = max(between, key=lambda item: item.intensity)
                out = [item for item in out if item not in between]
                out.append(replace(most, symbol=symbol, words=f"{words} {names[most.position]}"))
    return out


def _without_echo_of_the_start(deviations: list[Deviation], order: list[str]) -> list[Deviation]:
    """Leave out the line-up that an overshot or undershot start has by itself."""
    starts = [item for item in deviations if item.quantity == "start"]
    return [
        item
        for item in deviations
        if not (
            item.quantity == "line-up"
            and item.position == order[0]
            and any(_side(start) == _side(item) and start.intensity >= item.intensity for start in starts)
        )
    ]


def _runs(thread: list[Deviation], order: list[str]) -> list[list[Deviation]]:
    """Split a thread where a position lies between."""
    runs: list[list[Deviation]] = []
    for item in thread:
        if runs and order.index(item.position) == order.index(runs[-1][-1].position) + 1:
            runs[-1].append(item)
        else:
            runs.append([item])
    return runs


def _write(
    run: list[Deviation], everything: list[Deviation], flying: list[str], names: Mapping[str, str]
) -> list[Said]:
    """Say a deviation that persists through neighbouring positions."""
    aloft = [item for item in run if item.position in flying]
    landing = run[len(aloft) :]
    said: list[Said] = []
    usual = 0
    motion = run[0].quantity in _MOTION_OF.values()
    if len(aloft) == len(flying) >= _FEWEST_ALL_THE_WAY and not motion:
        usual = median_low(item.intensity for item in aloft)
        said.append(replace(_say(aloft, names, usual), all_the_way=True, where="all the way"))
    previous = usual
    for intensity, equals in groupby(aloft, key=lambda item: item.intensity):
        same = list(equals)
        fading = intensity == 1 and previous > 1 and len(same) == 1
        if intensity > usual and not fading:
            said.append(_say(same, names))
        previous = intensity
    if said and len(aloft) == 1 and (corrected := _nice_correction(aloft[0], everything, flying)):
        said[-1] = replace(said[-1], corrected=(corrected, names[corrected]))
    if landing and (not aloft or landing[0].intensity > min(1, aloft[-1].intensity)):
        said.append(_say(landing, names))
    return said


def _say(items: list[Deviation], names: Mapping[str, str], intensity: int | None = None) -> Said:
    first = next((item for item in items if item.intensity == intensity), items[0])
    codes = tuple(item.position for item in items if item.position)
    return Said(
        quantity=first.quantity,
        symbol=first.symbol + ("X" if first.quantity == "start" else ""),
        words=first.words.removesuffix(f" {names.get(first.position, '')}"),
        intensity=first.intensity,
        codes=codes,
        where=_joined([names[code] for code in codes]),
        all_the_way=False,
        time=items[0].time,
        weight=sum(item.weight for item in items),
    )


def _nice_correction(last: Deviation, everything: list[Deviation], flying: list[str]) -> str | None:
    """Return the position in which a plain deviation was taken back and nothing came of it.

    Not at the last position before the deck, where the ball is to be stopped rather than
    centred: published (CNATRA P-1211).
    """
    place = flying.index(last.position) + 1
    if last.quantity not in _MOTION_OF or last.intensity < 2 or place >= len(flying) - 1:
        return None
    spoiled = {
        (item.quantity, item.position)
        for item in everything
        if item.quantity in (last.quantity, _MOTION_OF[last.quantity])
    }
    near = flying[place : place + 2]
    motion = (_MOTION_OF[last.quantity], last.position)
    if motion in spoiled or any(position in near for _, position in spoiled):
        return None
    return flying[place]


def _joined(names: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))
