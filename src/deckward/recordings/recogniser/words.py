"""The words of all languages, by what they mean."""

from __future__ import annotations

import re
from collections.abc import Iterable

from msgspec import Struct

from deckward.recordings.recogniser.folding import folded
from deckward.recordings.recogniser.words_east import EAST
from deckward.recordings.recogniser.words_slavic import SLAVIC
from deckward.recordings.recogniser.words_west import WEST

#: term of the languages' tables -> the quantity that it names, or why a column is left out
TERMS = {
    "time": "time",
    "lat": "latitude",
    "lon": "longitude",
    "alt": "altitude",
    "radalt": "radar_altitude",
    "baro": "pressure_altitude",
    "hdg": "heading",
    "mag": "magnetic",
    "trk": "track",
    "bearing": "radio",
    "pitch": "pitch",
    "roll": "roll",
    "tas": "true_airspeed",
    "ias": "indicated_airspeed",
    "spd": "speed",
    "gs": "ground_speed",
    "aoa": "angle_of_attack",
    "vs": "vertical_speed",
    "sink": "sink",
    "nz": "normal_acceleration",
    "thr": "throttle",
    "rpm": "engine_rpm",
    "flaps": "flaps",
    "gear": "gear",
    "hook": "hook",
    "brake": "speed_brake",
    "wow": "weight_on_wheels",
    "mass": "mass",
    "fuel": "fuel",
    "flow": "fuel_flow",
    "wfrom": "wind_from",
    "wspd": "wind_speed",
    "temp": "temperature",
    "qnh": "sea_pressure",
}
#: term of a word for a unit -> (dimension, suffix)
UNIT_TERMS = {
    "deg": ("angle", "deg"),
    "rad": ("angle", "rad"),
    "m": ("length", "m"),
    "ft": ("length", "ft"),
    "km": ("length", "km"),
    "kt": ("speed", "kt"),
    "min": ("time", "min"),
    "s": ("time", "s"),
    "ms": ("time", "ms"),
    "pct": ("fraction", "pct"),
}
#: suffix of a speed -> term and sign of the way, term and sign of the time; an hour alone is no unit here,
#: as its word is the one for the time of day
_RATES = {
    "mps": ("m", "m", "s", "s"),
    "kmh": ("km", "km", "hour", "h"),
    "fpm": ("ft", "ft", "min", "min"),
}
#: decoy -> the term of what it is taken for, and that of the words that make it of it
_MADE = {"magnetic": ("hdg", "mag"), "pressure_altitude": ("alt", "baro")}
#: languages that write compounds as one word
_COMPOUNDING = (
    *("German", "Dutch", "Danish", "Norwegian", "Swedish", "Icelandic"),
    *("Hungarian", "Finnish", "Estonian"),
)
_SHORT = re.compile(r"\b[a-z]{2,3}\b")
#: shortest word that an axis is called by; shorter ones mean much else
_SHORTEST_AXIS = 3


class Words(Struct, frozen=True):
    """Words by what they mean, folded; phrases may have several words, the others are single ones.

    ``units`` is dimension -> suffix -> spellings without blanks. ``whole`` are short words of languages that
    build few compounds: they are no part of a longer word.
    """

    phrases: dict[str, tuple[str, ...]]
    axes: dict[str, tuple[str, ...]]
    single: dict[str, tuple[str, ...]]
    units: dict[str, dict[str, tuple[str, ...]]]
    whole: frozenset[str]


def _language(text: str) -> dict[str, list[str]]:
    """Read one language's table, which is folded."""
    found = {}
    for line in text.replace("\n", " ").split(";"):
        term, _, words = line.partition(":")
        found[term.strip()] = [word.strip() for word in words.split(",")]
    return found


def gathered() -> Words:
    """Gather the words of all languages."""
    phrases: dict[str, dict[str, None]] = {quantity: {} for quantity in TERMS.values()}
    phrases |= {"velocity_north": {}, "velocity_east": {}}
    points = ("north", "south", "east", "west", "up", "down")
    single: dict[str, dict[str, None]] = {
        term: {} for term in (*points, "left", "right", "true", "ind", "ship", "fill")
    }
    keys = {term: folded(term) for term in single}
    units: dict[str, dict[str, dict[str, None]]] = {}
    short: dict[bool, set[str]] = {True: set(), False: set()}
    for tables in (WEST, SLAVIC, EAST):
        for language, table in tables.items():
            text = folded(table)
            own = _language(text)
            short[language in _COMPOUNDING].update(_SHORT.findall(text))
            for term, quantity in TERMS.items():
                phrases[quantity] |= dict.fromkeys(own.get(term, ()))
            for term, words in single.items():
                words |= dict.fromkeys(_singles(own.get(keys[term], ())))
            for term in ("north", "east"):
                phrases[f"velocity_{term}"] |= dict.fromkeys(
                    f"{speed} {point}"
                    for speed in _singles(own.get("spd", ()))[:1]
                    for point in _singles(own.get(term, ()))[:2]
                )
            for quantity, (term, said) in _MADE.items():
                phrases[quantity] |= dict.fromkeys(
                    f"{word} {makes}"
                    for word in _singles(own.get(term, ()))[:2]
                    for makes in _singles(own.get(said, ()))[:2]
                )
            for term, (dimension, suffix) in UNIT_TERMS.items():
                row = units.setdefault(dimension, {}).setdefault(suffix, {})
                row |= dict.fromkeys(word.replace(" ", "") for word in own.get(term, ()))
            for suffix, spellings in _rates(own):
                units.setdefault("speed", {}).setdefault(suffix, {}).update(dict.fromkeys(spellings))
    alone = {word for words in phrases.values() for word in words if " " not in word}
    fill = {word: None for word in single["fill"] if word not in alone}
    axis = {p: tuple(w for w in single[p] if w not in fill and len(w) >= _SHORTEST_AXIS) for p in points}
    return Words(
        phrases={quantity: tuple(words) for quantity, words in phrases.items()},
        axes={
            "north": axis["north"] + axis["south"],
            "east": axis["east"] + axis["west"],
            "up": axis["up"],
            "down": axis["down"],
        },
        single={term: tuple(words) for term, words in {**single, "fill": fill}.items()},
        units={d: {suffix: tuple(words) for suffix, words in rows.items()} for d, rows in units.items()},
        whole=frozenset(short[False] - short[True]),
    )


def _singles(words: Iterable[str]) -> list[str]:
    """Give those that are one word, or several with hyphens."""
    return [part for word in words if " " not in word for part in word.split("-")]


def _rates(own: dict[str, list[str]]) -> Iterable[tuple[str, list[str]]]:
    """Put units of length, a word for ``per`` and units of time together."""
    per = ["/", *(word.replace(" ", "") for word in own.get("per", [""]))]
    for suffix, (way, sign, time, short) in _RATES.items():
        ways = [word for word in own.get(way, ()) if " " not in word]
        times = [word for word in own.get(time, ()) if " " not in word]
        yield suffix, [f"{w}{p}{t}" for w in ways for p in per for t in times]
        yield suffix, [f"{w}/{short}" for w in ways] + [f"{sign}/{t}" for t in times]
