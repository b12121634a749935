"""What a column's name says: of which craft, which quantity, which unit, which sign."""

from __future__ import annotations

import re
from bisect import bisect_left
from functools import cache, lru_cache
from itertools import islice, takewhile

from msgspec import Struct
from msgspec.structs import replace

from deckward.recordings.quantities import BY_NAME, Meaning, understand
from deckward.recordings.recogniser import vocabulary
from deckward.recordings.recogniser.vocabulary import folded

#: shortest word that is looked for inside another
_SHORTEST_PART = 2
_STARRED = 0.6
#: how much more the last word of a path weighs than the others
_LAST = 1.05
#: fewest letters that a word may be cut to, and the least share of it that must be left
_CUT, _CUT_TO = 4, 0.55
#: letters by which two forms of a word may end otherwise, and the fewest that must be the same
_ENDING, _STEM = 2, 6
_AIRSPEEDS = ("true_airspeed", "indicated_airspeed")
_SPEEDS = (*_AIRSPEEDS, "vertical_speed", "sink")
_TRUE = frozenset(vocabulary.TRUE.split())
#: words beside "time" that make a count of it all the same
_COUNTED = frozenset(
    (
        "index",
        "idx",
        "count",
        "counter",
        "number",
        "no",
        "nr",
        "row",
        "line",
        "seq",
        "sequence",
        "frame",
        "packet",
    )
)
_INDICATED = frozenset(vocabulary.INDICATED.split())
_TRUE_SPEED = frozenset(word for word in _TRUE if len(word) > 2)
#: rates written with a stroke, which would part a letter from its unit
_RATES = {"km/h": "kmh", "m/s": "mps", "ft/s": "fps", "ft/min": "fpm"}
_PER = re.compile(r"(?<![^\W_])(?:km ?/ ?h|m ?/ ?s|ft ?/ ?s|ft ?/ ?min)(?![^\W_])", re.IGNORECASE)
_PER_WORDS = ("per", "pro", "par", "por", "al")
_PER_WORD = re.compile(rf"\b({'|'.join(_PER_WORDS)})\b")
_NO_PART_OF_A_UNIT = re.compile(r"[\s._*·^\[\](){}]")
_WORD = re.compile(r"[a-z']+|\d+")
#: short lists that go by the first letters of what they hold, and the place in them: ``jet.hpr_deg.0``
_ARRAYS = {
    "lla": ("latitude", "longitude", "altitude"),
    "llh": ("latitude", "longitude", "height"),
    "lonlatalt": ("longitude", "latitude", "altitude"),
    "latlonalt": ("latitude", "longitude", "altitude"),
    "hpr": ("heading", "pitch", "roll"),
    "ypr": ("yaw", "pitch", "roll"),
    "rpy": ("roll", "pitch", "yaw"),
    "rph": ("roll", "pitch", "heading"),
    "ned": ("north", "east", "down"),
    "neu": ("north", "east", "up"),
    "enu": ("east", "north", "up"),
    "xyz": ("x", "y", "z"),
}
_ARRAY = re.compile(rf"(?<![^\W_])({'|'.join(_ARRAYS)})(_[a-z]+)?[._\[]([012])\]?$", re.IGNORECASE)
_LISTED = re.compile(r"(.*?[./]|)([^\W\d_]+(?:[_-]?[^\W\d_]+)+)[._\[](\d)\]?$")
#: what stands in a line of units for a column that has none
_NO_UNIT = frozenset(
    ("", "-", "--", "1", "none", "nd", "nondim", "dimensionless", "n/a", "utc", "text", "bool", "flag", "0-1")
) | {"hh:mm:ss", "iso"}
_CAMEL = re.compile(r"(?<=[^\W\dA-Z_])(?=[A-Z])|(?<=\d)(?=[A-Z])|(?<=[A-Z])(?=[A-Z][a-z])")


class Guess(Struct, frozen=True):
    """One reading of a name.

    ``quantity`` is one of ours, an axis (``x`` ... ``vz``), ``speed``, ``sink`` or a decoy's key
    (then ``decoy`` says why it is left out). ``unit`` is a suffix, None where the name gives
    none; ``foreign_unit`` is a unit that cannot be read. ``turned`` is -1 where words turn the
    sign, +1 where they confirm it, 0 where they say nothing. ``score`` runs from 0 to 1.
    """

    quantity: str
    ship: bool
    unit: str | None
    score: float
    decoy: str | None = None
    foreign_unit: str | None = None
    turned: int = 0
    true: bool = False
    #: exactly a name of ours
    ours: bool = False
    #: not read from the name at all, but from how the column goes with the motion
    by_motion: bool = False


class Phrase(Struct, frozen=True):
    """Words that name a quantity when they are all there.

    ``decoy`` says why it is none of ours; ``unit`` is the one that a person said columns so named are in.
    """

    words: frozenset[str]
    quantity: str
    weight: float
    decoy: str | None
    unit: str | None = None


def _words(text: str) -> list[str]:
    return _WORD.findall(folded(text))


@cache
def _phrases() -> tuple[Phrase, ...]:
    found = []
    for table, decoys in ((vocabulary.QUANTITIES, {}), (vocabulary.AXES, {}), (None, vocabulary.DECOYS)):
        rows = table.items() if table is not None else ((k, v[0]) for k, v in decoys.items())
        for quantity, phrases in rows:
            decoy = decoys[quantity][1] if quantity in decoys else None
            for phrase in phrases.split(","):
                starred = phrase.strip().startswith("*")
                words = frozenset(_words(phrase))
                if words:
                    found.append(Phrase(words, quantity, _STARRED if starred else 1.0, decoy))
    return tuple(found)


@cache
def _by_word() -> dict[str, list[Phrase]]:
    table: dict[str, list[Phrase]] = {}
    for phrase in _phrases():
        for word in phrase.words:
            table.setdefault(word, []).append(phrase)
    return table


@cache
def _ships() -> frozenset[str]:
    return frozenset(_words(vocabulary.SHIP))


@cache
def _fillers() -> frozenset[str]:
    return frozenset(_words(vocabulary.AIRCRAFT))


@cache
def _turning() -> tuple[tuple[frozenset[str], frozenset[str], int], ...]:
    return tuple(
        (frozenset(_words(words)), frozenset(of.split()), sign)
        for table, sign in ((vocabulary.TURNED, -1), (vocabulary.CONFIRMED, 1))
        for words, of in table
    )


@cache
def _units() -> dict[str, dict[str, str]]:
    """Dimension -> spelling -> suffix."""
    return {
        dimension: {_squeezed(word): suffix for suffix, words in rows.items() for word in words.split()}
        for dimension, rows in vocabulary.UNITS.items()
    }


@cache
def _foreign_units() -> dict[str, str]:
    return {
        _squeezed(word): name for name, words in vocabulary.FOREIGN_UNITS.items() for word in words.split()
    }


@cache
def _lexicon() -> frozenset[str]:
    units = {word for rows in _units().values() for word in rows if word.isalpha() and len(word) > 1}
    turning = {word for words, _, _ in _turning() for word in words}
    return frozenset(_by_word()) | _ships() | _fillers() | units | turning | _TRUE_SPEED | _INDICATED


@cache
def _sorted_lexicon() -> list[str]:
    return sorted(_lexicon())


@cache
def _sorted_words() -> list[str]:
    return sorted(_by_word())


def _beginning(stem: str, words: list[str]) -> list[str]:
    """Give those of sorted words that begin with a stem."""
    first = bisect_left(words, stem)
    return list(takewhile(lambda word: word.startswith(stem), islice(words, first, None)))


def _squeezed(text: str) -> str:
    """Bring a unit's spelling into one form: ``ft per min.`` and ``Feet/Min`` are one."""
    text = folded(text)
    if text.isalpha() and text.isascii() and text not in _PER_WORDS:
        return text
    text = _PER_WORD.sub("/", text.replace("²", "2"))
    return _NO_PART_OF_A_UNIT.sub("", text)


def dimension_of(quantity: str) -> str:
    """Give the dimension of a guess's quantity, also of those that are none of ours."""
    if quantity in BY_NAME:
        return BY_NAME[quantity].dimension
    if quantity in ("speed", "sink", "vx", "vy", "vz"):
        return "speed"
    return "length" if quantity in ("x", "y", "z", "down", "pressure_altitude") else ""


def unit_in(text: str, dimension: str) -> str | None:
    """Read the spelling of a unit; None where it is no unit of that dimension."""
    return _units().get(dimension, {}).get(_squeezed(text))


def is_unit(text: str) -> bool:
    """Tell whether a text is nothing but a unit (or empty, or a dash)."""
    text = _squeezed(text)
    return text in _NO_UNIT or any(text in rows for rows in _units().values()) or text in _foreign_units()


@cache
def _parted(word: str) -> tuple[str, ...]:
    """Part a compound into words that are known, as few as can be; itself where that fails."""
    if word in _lexicon() or len(word) < 2 * _SHORTEST_PART - 1:
        return (word,)
    whole_word = _uncut(word)
    if whole_word is not None:
        return (whole_word,)
    best: list[tuple[str, ...] | None] = [()] + [None] * len(word)
    for end in range(1, len(word) + 1):
        for start in range(end):
            piece, before = word[start:end], best[start]
            lone = len(piece) == 1 and not (piece in "xyz" and end == len(word) and start >= 2)
            if before is None or lone or piece not in _lexicon() or piece in vocabulary.WHOLE:
                continue
            if best[end] is None or len(before) + 1 < len(best[end] or ()):
                best[end] = (*before, piece)
    whole = best[-1]
    if whole is not None and (sum(len(p) > 2 for p in whole) >= len(whole) / 2 or whole[0] in _ships()):
        return whole
    size = len(word)
    pieces = (word[start:end] for start in range(size - 4) for end in range(start + 5, size + 1))
    known = [piece for piece in (*pieces, word[-4:]) if piece in _lexicon()]
    if known:
        longest = max(known, key=len)
        return tuple(part for part in word.partition(longest) if part)
    return (word,)


def _inflected(word: str) -> str | None:
    """Give the known word that differs in its last letters only (``wznoszenia``, ``wznoszenie``)."""
    stem = word[: max(_STEM, len(word) - _ENDING)]
    same = [known for known in _beginning(stem, _sorted_lexicon()) if abs(len(known) - len(word)) <= _ENDING]
    same = [known for known in same if len(known) - len(stem) <= _ENDING]
    meant = {frozenset(p.quantity for p in _by_word().get(known, ())) for known in same}
    return min(same, key=lambda known: (len(known), known)) if len(meant) == 1 else None


def _uncut(word: str) -> str | None:
    """Give the word that another is the beginning of (``longit``), where all such words mean the same."""
    if len(word) < _CUT:
        return None
    same = _inflected(word)
    if same is not None:
        return same
    longer = [known for known in _beginning(word, _sorted_words()) if len(word) > _CUT_TO * len(known)]
    alone = {known: [p.quantity for p in _by_word()[known] if len(p.words) == 1] for known in longer}
    meant = {quantity for quantities in alone.values() for quantity in quantities}
    return min((known for known in longer if alone[known]), key=len) if len(meant) == 1 else None


class _Split(Struct, frozen=True):
    """A name in parts: its words, and what stands in brackets or after a comma."""

    words: tuple[str, ...]
    asides: tuple[str, ...]


@lru_cache(maxsize=4096)
def _split(name: str) -> _Split:
    name = _one_of_list(name)
    name = _ARRAY.sub(lambda m: f"{_ARRAYS[m[1].lower()][int(m[3])]}{m[2] or ''}", name)
    asides = re.findall(r"[\[({]([^\])}]*)[\])}]", name)
    rest = re.sub(r"[\[({][^\])}]*[\])}]", " ", name)
    found = re.match(r"(.*)[,;]\s*(\S[^,;]*)$", rest)
    found = found or re.match(r"(.*\S)\s+(?:in|en|em|i|w|v)\s+(\S+)\s*$", rest)
    if found and (is_unit(found[2]) or is_unit(found[2].split()[0])):
        asides.append(found[2])
        rest = found[1]
    rest = re.sub(r"[^\W_]+", lambda m: m[0] if folded(m[0]) in _lexicon() else _CAMEL.sub(" ", m[0]), rest)
    rest = _PER.sub(lambda m: _RATES[m[0].casefold().replace(" ", "")], rest)
    rest = re.sub(r"(?<=\w)(?=%)|°", lambda m: m[0] + " " if m[0] else " ", rest)
    words: list[str] = []
    for word in re.findall(r"[a-z]+|\d+|[°%]", folded(rest)):
        words += _parted(word)
    return _Split(tuple(words), tuple(aside.strip() for aside in asides if aside.strip()))


def _one_of_list(name: str) -> str:
    """Give one column of a list that goes by what it holds, ``lat_lon_alt_m.1``, its own name: ``lon_m``."""
    found = _LISTED.match(name)
    if found is None:
        return name
    words = [part for part in re.split(r"[_-]", _CAMEL.sub("_", found[2])) if part]
    place = int(found[3])
    letters = next((word for word in words if word.casefold() in _ARRAYS), None)
    if letters is not None and len(words) > 1:
        held = _ARRAYS[letters.casefold()]
        own = [held[place] if word is letters else word for word in words] if place < len(held) else []
        return found[1] + "_".join(own) if own else name
    named = [word for word in words if _names_alone(folded(word))]
    if len(named) < 2 or place >= len(named) or words[: len(named)] != named:
        return name
    return found[1] + "_".join([named[place], *words[len(named) :]])


@cache
def _names_alone(word: str) -> bool:
    """Whether one word names a quantity, or an axis."""
    return any(len(phrase.words) == 1 and phrase.decoy is None for phrase in _by_word().get(word, ()))


def unit_said(name: str, unit_row: str, dimension: str) -> str | None:
    """Give the unit of a dimension that stands in brackets, behind a comma or in the unit row."""
    found = (unit_in(aside, dimension) for aside in (*_split(name).asides, unit_row) if aside.strip())
    return next((unit for unit in found if unit is not None), None)


def dimension_said(name: str, unit_row: str) -> str | None:
    """Give the dimension of the unit in brackets, behind a comma or in the unit row; None without one."""
    for aside in (*_split(name).asides, unit_row):
        found = [d for d in _units() if aside.strip() and unit_in(aside, d) is not None]
        if len(found) == 1:
            return found[0]
    return None


def known_words(text: str) -> int:
    """Count the letters of those words of a text that name something and are not plain Latin."""
    words = {folded(word) for word in re.findall(r"[^\W\d_]+", text) if not word.isascii()}
    return sum(len(word) for word in words if word in _lexicon())


def words_in(name: str) -> frozenset[str]:
    """Give the words of a name, compounds parted."""
    return frozenset(_split(name).words)


def of_ship(name: str) -> bool:
    """Whether a word of the name is one for the ship."""
    return bool(words_in(name) & _ships())


def own_word(name: str) -> str:
    """Give the last word of a name that is not one for a craft: ``el`` of ``me.el``; empty without one."""
    return next((word for word in reversed(_split(name).words) if word not in _ships()), "")


def bare_words(name: str) -> frozenset[str]:
    """Give the words of a name without those that only say of which craft it is."""
    return words_in(name) - _ships() - _fillers()


def phrase_of(name: str, quantity: str, unit: str | None) -> Phrase | None:
    """Give the words of a column that a person has told of as a phrase; None where it has none of its own."""
    split = _split(name)
    aside = {word for text in split.asides if not is_unit(text) for word in _words(text)}
    words = frozenset({*split.words, *aside}) - _ships() - _fillers()
    words = frozenset(word for word in words if not word.isdigit())
    return Phrase(words, quantity, 1.0, None, unit) if words else None


def read_name(name: str, unit_row: str = "", taught: tuple[Phrase, ...] = ()) -> list[Guess]:
    """Read a column's name; the best guesses first, empty where it says nothing.

    ``unit_row`` is what stands in a second header line; ``taught`` are phrases that a person's answers
    gave, which go before those of the tables.
    """
    ours = understand(name)
    if isinstance(ours, Meaning):
        unit = ours.unit.suffix if ours.unit is not None else None
        return [Guess(ours.quantity, ours.ship, unit or None, 1.0, ours=True)]
    split = _split(name)
    asides = (*split.asides, *([unit_row] if unit_row.strip() else []))
    guesses: dict[tuple[str, str | None], Guess] = {}
    words = split.words
    aside_words = tuple(w for aside in asides for w in _words(aside) if not is_unit(w))
    known = {id(p): p for word in (*words, *aside_words) for p in _by_word().get(word, ())}
    # of a name with several parts the last one says what it is: "gear.hook"
    last = frozenset(words[-1:]) if "." in name or "_" in name or "/" in name else frozenset()
    learned = [p for p in taught if p.words <= {*words, *aside_words}]
    for phrase in learned or known.values():
        if not phrase.words <= {*words, *aside_words}:
            continue
        guess = _guess(phrase, words, asides, aside_words)
        if phrase.words & last:
            guess = replace(guess, score=min(1.0, guess.score * _LAST))
        key = (guess.quantity, guess.decoy)
        if key not in guesses or guess.score > guesses[key].score:
            guesses[key] = guess
    found = sorted(_settled_by_words(guesses, {*words, *aside_words}), key=lambda g: -g.score)
    return [g for g in found if g.score > 0.5 * found[0].score][:6] if found else []


def _settled_by_words(guesses: dict[tuple[str, str | None], Guess], words: set[str]) -> list[Guess]:
    """Weigh guesses by one another: a count has no unit of time, a true speed is an airspeed."""
    found = list(guesses.values())
    time = next((g for g in found if g.quantity == "time"), None)
    if time is not None and (time.unit is not None or not words & _COUNTED):
        found = [g for g in found if g.quantity != "counter"]
    speed = next((g for g in found if g.quantity == "speed"), None)
    named = any(g.quantity in _AIRSPEEDS for g in found)
    sayings = {"true_airspeed": _TRUE_SPEED, "indicated_airspeed": _INDICATED}
    said = {quantity for quantity, saying in sayings.items() if words & saying}
    if speed is not None and named:  # "airspeed (TAS)": the abbreviation says which one
        found = [
            replace(g, score=max(g.score, speed.score), unit=g.unit or speed.unit)
            if g.quantity in _AIRSPEEDS
            else g
            for g in found
            if g is not speed
        ]
    if speed is not None and not named and len(said) == 1:
        found.append(replace(speed, quantity=said.pop(), score=min(1.0, 1.3 * speed.score)))
    return found


def _guess(phrase: Phrase, words, asides, aside_words) -> Guess:
    """Read the words that a phrase leaves over: craft, unit, sign, and what says nothing."""
    dimension = dimension_of(phrase.quantity)
    left = list(words)
    for word in phrase.words:
        if word in left:
            left.remove(word)
    ship = any(word in _ships() for word in left)
    left = [word for word in left if word not in _ships()]
    unit = foreign = None
    for aside in asides:
        first = aside.split()[0] if aside.split() else ""
        unit = unit or unit_in(aside, dimension) or unit_in(first, dimension)
        foreign = foreign or _foreign_units().get(_squeezed(aside))
    if unit is None and foreign is None:
        unit, left = _unit_at_the_end(left, dimension)
    if phrase.decoy is not None:
        left = [word for word in left if len(word) < 2 or not is_unit(word)]
    if unit is None and phrase.quantity == "time":
        unit = next((u for word in phrase.words if len(word) > 2 and (u := unit_in(word, "time"))), None)
    unit = unit or phrase.unit
    if unit is None and phrase.words & {"ktas", "kias", "kcas", "kgs"}:
        unit = "kt"
    if foreign is None and unit is None and left and left[-1] in ("units", "hundreds"):
        foreign = _foreign_units()[left[-1]]
    turned = 0
    for sign_words, quantities, sign in _turning():
        # an axis may be called by the point it counts to
        own = phrase.words if phrase.quantity in ("north", "east") else frozenset()
        said = sign_words & {*left, *aside_words, *own}
        if said and phrase.quantity in quantities:
            turned = sign
            left = [word for word in left if word not in said]
    true = bool(_TRUE & {*words, *aside_words})
    single_letters = {"t", "n", "e", "w", "s"}
    unknown = [w for w in left if w not in _fillers() and w not in single_letters and not w.isdigit()]
    size = sum(min(len(word), 6) for word in phrase.words)
    if phrase.quantity in _SPEEDS:  # "speed TAS": the general word beside the one that says which
        unknown = [w for w in unknown if all(p.quantity != "speed" for p in _by_word().get(w, ()))]
    if phrase.quantity == "speed":
        unknown = [w for w in unknown if w not in _TRUE_SPEED and w not in _INDICATED]
    if phrase.quantity in vocabulary.MAKING:
        unknown = [w for w in unknown if w not in _by_word()]
    covered = size / (size + 2.0 * sum(min(len(word), 6) for word in unknown)) if size else 0.0
    longer = 1.0 - 0.35 * 0.5 ** (size / 3.0) - (0.1 if len(phrase.words) == 1 else 0.0)
    fits = 1.0
    if dimension and dimension != "name" and asides and unit is None and foreign is None:
        other = any(unit_in(aside, d) for aside in asides for d in _units() if d != dimension)
        fits = 0.35 if other else 1.0
    numbered = 0.97 if any(w.isdigit() for w in left) else 1.0
    return Guess(
        quantity=phrase.quantity,
        ship=ship,
        unit=unit,
        score=phrase.weight * covered * longer * fits * numbered,
        decoy=phrase.decoy,
        foreign_unit=foreign,
        turned=turned,
        true=true,
    )


def _unit_at_the_end(left: list[str], dimension: str) -> tuple[str | None, list[str]]:
    """Take a unit off the last words, up to three of them, or off a word before a filler."""
    for count in (3, 2, 1):
        if len(left) >= count:
            tail = left[-count:]
            for text in ("".join(tail), "/".join(tail)):
                unit = unit_in(text, dimension)
                if unit is not None:
                    return unit, left[:-count]
    for place, word in enumerate(left):
        unit = unit_in(word, dimension) if len(word) > 1 else None
        if unit is not None:
            return unit, left[:place] + left[place + 1 :]
    return None, left
