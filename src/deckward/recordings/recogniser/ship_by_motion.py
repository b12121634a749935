"""A ship whose columns no word names: found beside the aircraft by where she is and how slowly she moves."""

from __future__ import annotations

from itertools import product

import numpy as np
from msgspec.structs import replace

from deckward.foundation.units import BY_SUFFIX
from deckward.recordings.columns import IGNORE
from deckward.recordings.recogniser import physics
from deckward.recordings.recogniser.findings import Finding
from deckward.recordings.recogniser.names import Guess, words_in
from deckward.recordings.recogniser.unnamed import nameless

#: score of a guess that no name supports
_SCORE = 0.4
#: a ship that is flown to comes as near as this, m, and sails no faster, m/s
_NEAR, _FASTEST = 15_000.0, 25.0
#: how far her speed may stray from the middle one, m/s, and how far a heading may be off her course, rad
_STEADY, _OFF = 4.0, np.radians(8.0)
_EARTH = 6.37e6


def guess_ship(work) -> None:
    """Guess which nameless columns are the ship's, where one pair alone fits a ship beside the jet."""
    boat, own = work.boat, work.own
    if work.alone or work.place is None or own.time is None or boat.candidates("latitude", "north", "x"):
        return
    pairs = _pairs(work)
    if len(pairs) != 1:
        return
    latitude, longitude, motion = pairs[0]
    unit = work.place.unit
    latitude.guesses = [Guess("latitude", True, unit, _SCORE, by_motion=True)]
    longitude.guesses = [Guess("longitude", True, unit, _SCORE, by_motion=True)]
    work.ship_words = (words_in(latitude.column.said) & words_in(longitude.column.said)) - _words_of_own(work)
    for finding in work.findings:
        if work.ship_words and not finding.settled and work.ship_words <= words_in(finding.column.said):
            finding.guesses = [replace(guess, ship=True) for guess in finding.guesses]
    _by_prefix(work, latitude)
    if motion.speed.size and np.median(motion.speed) > physics.SAILING:
        _guess_heading(work, motion)


def _by_prefix(work, latitude: Finding) -> None:
    """Read the other columns whose names are the aircraft's with the letters before her latitude's."""
    before = latitude.name.removesuffix(work.own.found["latitude"].name)
    if not before or before == latitude.name:
        return
    named = {finding.name: finding for finding in work.findings}
    for finding in work.findings:
        like = named.get(finding.name.removeprefix(before))
        if (
            not finding.settled
            and not finding.guesses
            and finding.name.startswith(before)
            and like is not None
        ):
            finding.guesses = [replace(guess, ship=True, ours=False) for guess in like.guesses]


def _words_of_own(work) -> frozenset[str]:
    own = [f for f in work.findings if f.settled and f.quantity != IGNORE and not f.ship]
    return frozenset(word for f in own for word in words_in(f.column.said))


def _pairs(work) -> list[tuple[Finding, Finding, physics.Motion]]:
    """Pairs of nameless columns that hold a slow craft close to the aircraft."""
    own, factor = work.own, BY_SUFFIX[work.place.unit].factor
    here = [own.found[q].column.numbers * factor for q in ("latitude", "longitude")]
    if work.place.unit not in ("deg", "rad") or work.place.notes:
        return []  # degrees and minutes in one number, or letters beside: the names must tell
    level = float(np.cos(np.nanmedian(here[0])))
    open_ones = [f for f in nameless(work.findings) if f.column.texts is None or f.column.kind == "number"]
    near = _NEAR / _EARTH
    lats = [f for f in open_ones if _beside(f.column.numbers * factor - here[0], near)]
    lons = [f for f in open_ones if _beside(f.column.numbers * factor - here[1], near / max(level, 0.05))]
    found = []
    for latitude, longitude in product(lats, lons):
        if latitude is longitude:
            continue
        there = [f.column.numbers * factor for f in (latitude, longitude)]
        apart = np.hypot(there[0] - here[0], (there[1] - here[1]) * level) * _EARTH
        if not np.isfinite(apart).any() or np.nanmin(apart) > _NEAR:
            continue
        motion = physics.motion_on_earth(own.time, *there, span=5.0)
        if motion.speed.size < 3:
            continue
        usual = float(np.median(motion.speed))
        if usual < _FASTEST and float(np.percentile(np.abs(motion.speed - usual), 90)) < _STEADY:
            found.append((latitude, longitude, motion))
    return found


def _beside(off: np.ndarray, near: float) -> bool:
    known = np.abs(off[np.isfinite(off)])
    return known.size > 3 and float(known.min()) < near and float(np.ptp(known)) > 0.0


def _guess_heading(work, motion: physics.Motion) -> None:
    tried = []
    for finding in work.findings:
        if finding.settled or finding.guesses or finding.column.kind != "number":
            continue
        for unit in ("deg", "rad"):
            aside = physics.beside_track(motion, finding.si(unit, 1), physics.SAILING)
            if np.isfinite(aside.off) and aside.off < _OFF:
                tried.append((not work.ship_words <= words_in(finding.column.said), aside.off, finding, unit))
    if tried:
        _, _, finding, unit = min(tried, key=lambda each: each[:2])
        finding.guesses = [Guess("heading", True, unit, _SCORE, by_motion=True)]
