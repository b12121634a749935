"""Which column is the clock, how it is written, and in what it counts."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import UTC, datetime

import numpy as np
from msgspec import Struct

from deckward.recordings.recogniser.findings import Finding
from deckward.recordings.recogniser.names import Guess

#: seconds between rows that a recorder may have
_SHORTEST, _LONGEST = 2e-3, 4.0
_DAY = 86_400.0
_EPOCH_FROM = 1e8
_CLOCK = re.compile(r"(\d{1,2}):(\d{2}):(\d{2}(?:[.,]\d+)?)\s*Z?$")
#: hours, minutes and seconds by letters or marks: 14h03m21.5s, 14h 03' 21.5"
_LETTERS = re.compile(
    r"(\d{1,2})\s*h\s*(\d{1,2})\s*[m'′]\s*(\d{1,2}(?:[.,]\d+)?)\s*(?:s|\"|″|'')?$", re.IGNORECASE
)
#: minutes and seconds since some start: 7:05.25
_MINUTES = re.compile(r"(\d{1,4}):(\d{2}(?:[.,]\d+)?)$")
_ISO = re.compile(r"\d{4}-?\d{2}-?\d{2}[T ]\d{2}:?\d{2}(:?\d{2}([.,]\d+)?)?\s*(Z|[+-]\d{2}:?\d{2})?$")
#: strftime patterns tried on other times, with the fraction of a second taken off
_PATTERNS = (
    "%d.%m.%Y %H:%M:%S",
    "%d/%m/%Y %H:%M:%S",
    "%m/%d/%Y %H:%M:%S",
    "%d-%m-%Y %H:%M:%S",
    "%Y/%m/%d %H:%M:%S",
    "%d.%m.%y %H:%M:%S",
    "%d/%m/%y %H:%M:%S",
    "%m/%d/%y %H:%M:%S",
    "%d %b %Y %H:%M:%S",
    "%m/%d/%Y %I:%M:%S %p",
    "%I:%M:%S %p",
)
_FRACTION = re.compile(r"(?<=:\d\d)[.,](\d+)")
#: counts since 1970 that no unit of a map is for, told by their size alone: it is before 2096
_FINE, _EPOCH_UNTIL = {"microseconds": 1e-6, "nanoseconds": 1e-9}, 4e9
_FACTORS = {"s": 1.0, "ms": 1e-3, "min": 60.0, "h": 3600.0, "us": 1e-6}


class Clock(Struct, frozen=True):
    """A way to read a column as time: seconds (n,), the unit (None: text), the pattern, the reason."""

    finding: Finding
    seconds: np.ndarray
    unit: str | None
    pattern: str | None
    why: str
    confidence: float


def clocks(findings: Sequence[Finding], every: int, *, ship: bool = False) -> list[Clock]:
    """Give the ways in which the columns can be read as the clock, the likeliest first."""
    found: list[tuple[float, Clock]] = []
    for finding in findings:
        if finding.settled or finding.column.kind == "empty":
            continue
        guess = finding.guess("time", ship=ship)
        score = guess.score if guess else 0.0
        if finding.column.texts is not None and finding.column.kind in ("text", "place"):
            written = _written(finding)
            if written is not None and (guess is not None or not _of_other_craft(finding, ship)):
                found.append((2.0 + score, written))
        if guess is not None and finding.column.kind == "number" and guess is finding.guesses[0]:
            found += [(score, clock) for clock in _counted(finding, guess, every)]
    return [clock for _, clock in sorted(found, key=lambda pair: -pair[0])]


def _of_other_craft(finding: Finding, ship: bool) -> bool:
    return any(guess.ship != ship for guess in finding.guesses)


def _rising(seconds: np.ndarray) -> bool:
    steps = np.diff(seconds[np.isfinite(seconds)])
    return steps.size > 2 and bool(np.mean(steps >= 0.0) > 0.9) and float(np.median(steps)) > 0.0


def _counted(finding: Finding, guess: Guess, every: int) -> list[Clock]:
    """Read a column of numbers; several ways where its steps fit several units."""
    numbers = finding.column.numbers
    if not _rising(numbers):
        packed = _packed_clock(finding)
        return [packed] if packed is not None else []
    packed = _packed_clock(finding)
    if packed is not None:
        return [packed]
    step = float(np.median(np.diff(finding.column.known))) / every
    middle = float(np.median(finding.column.known))
    for each, factor in _FINE.items():
        if _EPOCH_FROM < middle * factor < _EPOCH_UNTIL:
            seconds = (numbers - finding.column.known[0]) * factor
            return [Clock(finding, seconds, None, None, f"named a time; {each} since 1970", 0.95)]
    # no recorder is so quick or so slow: then the word meant something else ("TIME_US_GPS")
    if guess.unit is not None and _SHORTEST / 10.0 < step * _FACTORS[guess.unit] < 10.0 * _LONGEST:
        why = "named a time; the name says its unit"
        if middle * _FACTORS[guess.unit] > _EPOCH_FROM:
            why += "; counts from 1970"
        return [Clock(finding, numbers * _FACTORS[guess.unit], guess.unit, None, why, 0.97)]
    ways = []
    for unit, factor in _FACTORS.items():
        if not _SHORTEST <= step * factor <= _LONGEST:
            continue
        epoch = _EPOCH_FROM < middle * factor < 1e10
        told = "no name, but it alone rises evenly" if guess.by_motion else "named a time"
        why = f"{told}; steps of {step * factor:.3g} s"
        if epoch:
            why += f"; counts from 1970 ({datetime.fromtimestamp(middle * factor, UTC):%Y})"
        ways.append((epoch, Clock(finding, numbers * factor, unit, None, why, 0.9)))
    if any(epoch for epoch, _ in ways):
        return [clock for epoch, clock in ways if epoch]
    return [clock for _, clock in ways]


def _packed_clock(finding: Finding) -> Clock | None:
    """Read hours, minutes and seconds in one number (``140321.5``): it leaps by 41 at each minute."""
    if finding.column.texts is None:
        return None
    numbers = finding.column.numbers
    known = finding.column.known
    if not known.size or known.min() < 0.0 or known.max() >= 240_000.0:
        return None
    if np.any(known % 100.0 >= 60.0) or np.any((known // 100.0) % 100.0 >= 60.0):
        return None
    seconds = (numbers // 10_000) * 3600.0 + (numbers // 100 % 100) * 60.0 + numbers % 100.0
    steps, packed = np.diff(seconds[np.isfinite(seconds)]), np.diff(known)
    if not packed.size or np.ptp(packed) < 39.0 or np.ptp(steps[steps > -_DAY / 2]) > 0.1 * np.ptp(packed):
        return None
    dotted = any("." in text for text in finding.column.texts)
    why = "hours, minutes and seconds in one number: it leaps by 41 where a minute ends"
    return Clock(finding, _past_midnight(seconds), None, "%H%M%S%.f" if dotted else "%H%M%S", why, 0.93)


def _written(finding: Finding) -> Clock | None:
    """Read times written as text: clock times, ISO 8601, or a pattern."""
    texts = finding.column.texts or ()
    first = next((text for text in texts if text.strip()), "")
    if _CLOCK.match(first):
        seconds = np.array([_of_clock(text) for text in texts])
        over = " over midnight" if np.any(np.diff(seconds[np.isfinite(seconds)]) < -_DAY / 2) else ""
        return Clock(finding, _past_midnight(seconds), None, None, f"clock times{over}", 0.97)
    if _LETTERS.match(first):
        seconds = _past_midnight(np.array([_of_clock(text) for text in texts]))
        return Clock(finding, seconds, None, None, "clock times, written with letters", 0.95)
    if _MINUTES.match(first):
        seconds = np.array([_of_clock(text) for text in texts])
        if _rising(seconds):
            return Clock(finding, seconds, None, None, "minutes and seconds since some start", 0.9)
    if _ISO.match(first):
        return Clock(finding, np.array([_of_iso(text) for text in texts]), None, None, "ISO 8601 times", 0.99)
    for pattern in _PATTERNS:
        if not np.isfinite(_of_pattern(first, pattern)):
            continue
        seconds = np.array([_of_pattern(text, pattern) for text in texts])
        good = np.isfinite(seconds)
        if good.mean() < 0.9:
            continue
        if "%d" not in pattern:
            seconds = _past_midnight(seconds)
        if not _rising(seconds):
            continue
        whole = pattern.replace("%S", "%S%.f") if _FRACTION.search(first) else pattern
        return Clock(finding, seconds, None, whole, f"times written as {whole}", 0.93)
    return None


def _of_clock(text: str) -> float:
    found = _CLOCK.match(text.strip()) or _LETTERS.match(text.strip())
    if not found:
        short = _MINUTES.match(text.strip())
        return int(short[1]) * 60.0 + float(short[2].replace(",", ".")) if short else np.nan
    return int(found[1]) * 3600.0 + int(found[2]) * 60.0 + float(found[3].replace(",", "."))


def _of_iso(text: str) -> float:
    try:
        stamp = datetime.fromisoformat(text.strip().replace(",", "."))
    except ValueError:
        return np.nan
    return (stamp if stamp.tzinfo else stamp.replace(tzinfo=UTC)).timestamp()


def _of_pattern(text: str, pattern: str) -> float:
    fraction = _FRACTION.search(text)
    try:
        stamp = datetime.strptime(_FRACTION.sub("", text.strip()), pattern).replace(tzinfo=UTC)
    except ValueError:
        return np.nan
    day = datetime(1900, 1, 1, tzinfo=UTC)
    return (stamp - day).total_seconds() + (float(f"0.{fraction[1]}") if fraction else 0.0)


def _past_midnight(seconds: np.ndarray) -> np.ndarray:
    out = seconds.copy()
    good = np.isfinite(out)
    if good.sum() > 1:
        falls = np.diff(out[good]) < -_DAY / 2
        out[good] += _DAY * np.concatenate([[0], np.cumsum(falls)])
    return out
