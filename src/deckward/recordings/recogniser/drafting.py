"""Drafting a column map: names first, then what motion says, then questions for the rest."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
from msgspec.structs import replace

from deckward.errors import InputError
from deckward.foundation import units
from deckward.recordings.columns import (
    IGNORE,
    ColumnMap,
    FileOptions,
    missing_position,
    plan_columns,
)
from deckward.recordings.content import Content
from deckward.recordings.delimited import Headless
from deckward.recordings.drafted import Draft, Question, Told
from deckward.recordings.formats import find_format
from deckward.recordings.quantities import BY_NAME, split_prefix
from deckward.recordings.recogniser import (
    asking,
    flight,
    nothing_named,
    places,
    ship,
    ship_by_motion,
    times,
    unnamed,
)
from deckward.recordings.recogniser import told as told_of
from deckward.recordings.recogniser.findings import Craft, Finding
from deckward.recordings.recogniser.names import Guess, read_name, words_in
from deckward.recordings.recogniser.sample import TABLES, Sample, column_names, take_sample
from deckward.recordings.recogniser.work import Work

#: what a place is told by
_PLACES = ("latitude", "longitude", "north", "east")
_NOTHING_TOLD = Told()
#: quantities that may well be zero, or stand still, all the way
_MAY_REST = frozenset(
    name
    for name, quantity in BY_NAME.items()
    if quantity.dimension in ("fraction", "name") and name != "engine_rpm"
) | {"wind_speed", "wind_from", "altitude", "up", "x", "y", "z", "tilt"}
_TILTS = frozenset({"pitch", "roll"})
#: decoys by name that are looked at once more
_DECIDED_LATER = ("letters", "track", "pressure_altitude", "date")
#: speed of a craft that is a ship even where nothing says so, m/s
_SHIP_FASTEST = 22.0
#: a jet flies no faster, m/s
_JET_FASTEST = 420.0
#: a ship's reference point goes no farther up and down, m
_SHIP_HEAVES = 25.0


def draft(
    path: str | Path,
    *,
    options: FileOptions | None = None,
    of_ship: bool | None = None,
    told: Told = _NOTHING_TOLD,
    like: ColumnMap | None = None,
) -> Draft:
    """Draft the column map of a recording.

    Args:
        path: the recording.
        options: how the file is written, where it does not show by itself.
        of_ship: whether it is a recording of the ship alone; None: told by how fast it moves.
        told: what a person has said of some columns already.
        like: the map of another file of the same recorder, whose names mean the same units.

    Raises:
        InputError: it cannot be read as a table.
    """
    options = options or FileOptions()
    try:
        sample = take_sample(Content(path), options)
    except Headless:
        options = replace(options, header_lines=0)
        sample = take_sample(Content(path), options)
    work = _work(sample, options, told)
    if like is not None:
        _units_as_in(work, like)
    if sample.tick_said is not None:
        _rate_by_ticks(work, sample.tick_said)
    if of_ship:
        _hers_alone(work)
    _leave_what_is_nothing(work)
    _clock_and_place(work, alone=of_ship)
    if not work.alone:
        _leave_what_stands_at_zero(work, tilts=True)
    ship_by_motion.guess_ship(work)
    if not work.alone:
        flight.settle_flight(work)
    ship.settle_ship(work)
    _who(work)
    _the_rest(work)
    questions = _final(work, told)
    rules = tuple({finding.name: finding.rule() for finding in reversed(work.findings)}.values())[::-1]
    rules = tuple(told_of.settled(told, rule) for rule in rules)
    rate = work.rate if work.clock is None else options.rate_hz
    file = replace(options, time_format=work.time_format or options.time_format, rate_hz=rate)

    def again(told: Told, rate: float | None) -> Draft:
        anew = replace(options, rate_hz=rate or options.rate_hz)
        return draft(path, options=anew, of_ship=of_ship, told=told, like=like)

    return Draft(ColumnMap(rules, file, None), questions, None, again, told, work.alone)


def is_foreign(path: str | Path, *, of_ship: bool) -> bool:
    """Tell whether the names of a table leave its time, position or (a ship's) heading unknown.

    A file that is no table of ours to draft, or whose names contradict one another, is none:
    reading it says what is wrong.
    """
    content = Content(path)
    if find_format(content).name not in TABLES:
        return False
    try:
        plan = plan_columns(column_names(content))
    except InputError:
        return False
    own, prefixed = plan.of(ship=False), plan.of(ship=True)
    if of_ship:
        whole = any(not missing_position(each) and "heading" in each for each in (own, prefixed))
        return not (whole and ("time" in own or "time" in prefixed))
    return bool(missing_position(own)) or "time" not in own


def _work(sample: Sample, options: FileOptions, told: Told) -> Work:
    taught = told_of.phrases(told, [column.name for column in sample.columns])
    findings = [Finding(column, []) for column in sample.columns]
    for finding in findings:
        given = told_of.guesses(told, finding.name)
        finding.guesses = (
            read_name(finding.column.said, finding.column.unit_row, taught) if given is None else given
        )
        if given == []:
            finding.leave("it was told to be left out", 1.0)
        elif given is None:
            _by_letters(finding)
    for longitude, latitude in _PARTNERS.items():
        _latitude_beside(findings, longitude, latitude)
    _numbered_say_nothing(findings, told)
    return Work(
        findings=findings,
        own=Craft(False, findings),
        boat=Craft(True, findings),
        every=sample.every,
        rate=options.rate_hz,
        rate_said=sample.rate_said,
        place_words=frozenset(w for p in taught if p.quantity in _PLACES for w in p.words),
    )


def _units_as_in(work: Work, like: ColumnMap) -> None:
    """Take the units of another file's columns of the same names for those that name none."""
    known = {rule.source: rule for rule in like.columns if not rule.asked and rule.unit is not None}
    for finding in work.findings:
        rule = known.get(finding.name)
        if rule is not None:
            quantity = split_prefix(rule.quantity)[1]
            finding.guesses = [
                replace(guess, unit=rule.unit) if guess.quantity == quantity and guess.unit is None else guess
                for guess in finding.guesses
            ]


def _rate_by_ticks(work: Work, tick: float) -> None:
    """Work out the rows a second from a count whose ticks are known, where it goes on evenly."""
    counts = [f for f in work.findings if f.guesses and f.guesses[0].quantity in ("time", "counter")]
    steps = [np.diff(f.column.known) / work.every for f in counts if f.column.known.size > 1]
    even = [float(np.median(each)) for each in steps if np.ptp(each) <= 0.1 * abs(float(np.median(each)))]
    if len(even) == 1 and even[0] > 0.0 and tick > 0.0:
        work.rate_said = 1.0 / (even[0] * tick)


def _hers_alone(work: Work) -> None:
    """Read names that say the ship, in a file of her own, as if they did not."""
    if work.own.candidates("latitude", "north", "x"):
        return
    for finding in work.findings:
        finding.guesses = [replace(guess, ship=False) for guess in finding.guesses]


def _by_letters(finding: Finding) -> None:
    """Read a place written with the letter of its hemisphere by that letter, whatever its name says."""
    if finding.column.kind != "place" or finding.column.texts is None:
        return
    letters = {text.strip().upper()[:1] for text in finding.column.texts}
    letters = letters | {text.strip().upper()[-1:] for text in finding.column.texts}
    for quantity, own in (("latitude", "NS"), ("longitude", "EW")):
        if letters & set(own) and not any(g.quantity == quantity for g in finding.guesses):
            ship = any(guess.ship for guess in finding.guesses)
            finding.guesses = [Guess(quantity, ship, None, 0.8)]


def _numbered_say_nothing(findings: list[Finding], told: Told) -> None:
    """Forget what names seem to say that differ from many others in their number only: X1, X2, X3, X4, X5."""
    stems: dict[str, list[Finding]] = {}
    for finding in findings:
        found = _NUMBERED.match(finding.name)
        if found is not None:
            stems.setdefault(found[1], []).append(finding)
    for same in stems.values():
        if len(same) >= _MANY:
            for finding in same:
                if told_of.guesses(told, finding.name) is None:
                    finding.guesses = []


#: a name that ends in its number, and how many of them make a row without words
_NUMBERED, _MANY = re.compile(r"(.*?)[\s._-]*\d+$"), 5
#: a longitude's word -> what the latitude beside it is called: words that alone mean something else
_PARTNERS = {"lambda": "phi", "keido": "ido"}


def _latitude_beside(findings: list[Finding], longitude: str, latitude: str) -> None:
    """Take a phi that stands beside a lambda of the same name for a latitude, not for a roll."""
    words = {id(finding): words_in(finding.name) for finding in findings}
    for finding in findings:
        named = longitude in words[id(finding)]
        if not named or not any(g.quantity == "longitude" for g in finding.guesses):
            continue
        partner = (words[id(finding)] - {longitude}) | {latitude}
        same = [f for f in findings if words[id(f)] == partner]
        if len(same) > 1:  # a small phi and a capital one are one word here
            same = [f for f in same if f.column.index == finding.column.index - 1]
        if same:
            same[0].guesses = [replace(g, quantity="latitude") for g in finding.guesses]


def _leave_what_is_nothing(work: Work) -> None:
    """Leave out empty columns, decoys by name, and what stands at zero all the way."""
    for finding in work.findings:
        column, top = finding.column, finding.guesses[0] if finding.guesses else None
        if finding.settled:
            continue
        if column.kind == "empty":
            finding.leave("it is empty", 1.0)
        elif top is not None and top.decoy is not None and top.quantity not in _DECIDED_LATER:
            finding.leave(f"by its name it is {top.decoy}")
        elif top is not None and top.foreign_unit is not None and finding.column.kind == "number":
            finding.leave(f"its unit ({top.foreign_unit}) is none that can be read")
    _leave_what_stands_at_zero(work, tilts=False)


def _leave_what_stands_at_zero(work: Work, *, tilts: bool) -> None:
    """Leave out zeros; a pitch or a roll (``tilts``) once it is known to be no ship's, who may be level."""
    for finding in work.findings:
        column, top = finding.column, finding.guesses[0] if finding.guesses else None
        if finding.settled or not column.constant or float(column.known[0]) != 0.0:
            continue
        may_rest = top is not None and (top.quantity in _MAY_REST or top.ship)
        tilt = top is not None and top.quantity in _TILTS
        if not may_rest and tilt == tilts:
            finding.leave("it is zero in every row: nothing was recorded")


def _clock_and_place(work: Work, *, alone: bool | None) -> None:
    """Find the clock and the position together: the plausible speed tells their units."""
    if not times.clocks(work.findings, work.every):
        unnamed.guess_clock(work.findings, work.every)
    clocks = [c for c in times.clocks(work.findings, work.every) if not _counts_ticks(work, c)]
    unnamed.tell_ship_by_speed(work, clocks[0].seconds if clocks else None)
    if clocks:
        nothing_named.guess_place(work.own, clocks[0].seconds)
        nothing_named.guess_plane(work.own, clocks[0].seconds)
    own_clock = bool(clocks)
    if not clocks:
        prefixed = times.clocks(work.findings, work.every, ship=True)
        clocks = prefixed if alone else []
    work.alone = bool(alone)
    flight.settle_place(work, clocks)
    clock = work.clock or (clocks[0] if clocks else None)
    if clock is not None:
        clock.finding.take(
            "time", clock.unit, clock.confidence, clock.why, ship=not own_clock and not work.alone
        )
        work.time_format = clock.pattern
        work.own.time = clock.seconds
        for other in clocks:
            if not other.finding.settled:
                other.finding.leave(f"another time; {clock.finding.name!r} is used")
    motion = work.own.motion
    if (
        alone is None
        and motion is not None
        and motion.speed.size
        and not work.boat.candidates("latitude", "north", "x")
    ):
        slow = float(np.percentile(motion.speed, 98)) < _SHIP_FASTEST and not _climbs(work)
        air = work.own.candidates("true_airspeed", "indicated_airspeed", "angle_of_attack", "speed")
        work.alone = slow and not air


def _counts_ticks(work: Work, clock: times.Clock) -> bool:
    """Whether a count, read as a time that no word gives a unit, makes no flight of a craft that climbs.

    Ticks and frames are such counts: how many there are in a second is not in the file.
    """
    guess = clock.finding.guess("time")
    if clock.unit is None or (guess is not None and guess.unit is not None) or not _climbs(work):
        return False
    fast = places.speeds(work.own, clock, work.findings)
    return bool(fast) and not any(_SHIP_FASTEST < speed < _JET_FASTEST for speed in fast)


def _climbs(work: Work) -> bool:
    """Whether a column of heights moves as no ship does, in metres or in feet."""
    reach = [float(np.ptp(f.column.known)) for f in work.own.candidates("altitude") if f.column.known.size]
    return bool(reach) and max(reach) * units.FOOT > _SHIP_HEAVES


def _who(work: Work) -> None:
    for finding in work.findings:
        guess = finding.guess("who", ship=False)
        if finding.settled or guess is None or guess is not finding.guesses[0]:
            continue
        held = set(finding.column.texts) if finding.column.texts is not None else set(finding.column.numbers)
        if len(held) <= 40 and "who" not in work.own.found:
            work.own.keep(
                "who", finding, None, 0.85, f"named so; holds {len(held)} name{'s' * (len(held) != 1)}"
            )


def _the_rest(work: Work) -> None:
    """Say why every column that is left is not used."""
    taken = [f for f in work.findings if f.settled and f.quantity != IGNORE and f.quantity != "time"]
    for finding in work.findings:
        if finding.settled:
            continue
        copy = next((other for other in taken if _copies(finding, other)), None)
        top = finding.guesses[0] if finding.guesses else None
        if copy is not None:
            finding.leave(f"it repeats {copy.name!r}", 0.97)
        elif top is not None and top.decoy is not None:
            finding.leave(f"by its name it is {top.decoy}")
        elif top is None:
            finding.leave("its name says nothing, and no test tells what it is", 0.6)
        else:
            prefix = "ship_" if top.ship else ""
            used = (work.boat if top.ship else work.own).found.get(top.quantity)
            if used is not None:
                finding.leave(f"another {prefix}{top.quantity}; {used.name!r} is used", 0.8)
            elif top.unit is None and top.quantity in BY_NAME:
                finding.leave(
                    f"it may be {prefix}{top.quantity}, but nothing tells its unit; it is not needed",
                    0.5,
                )
            else:
                finding.leave(f"it may be {prefix}{top.quantity}, but the data do not bear it out", 0.5)


def _copies(finding: Finding, other: Finding) -> bool:
    """Whether two columns are the same but for a unit."""
    a, b = finding.column.numbers, other.column.numbers
    use = np.isfinite(a) & np.isfinite(b)
    if use.sum() < 20 or np.ptp(a[use]) == 0.0 or np.ptp(b[use]) == 0.0:
        return False
    a, b = a[use], b[use]
    scale = float(a @ b) / float(b @ b)
    return bool(np.abs(a - scale * b).max() < 2e-3 * np.ptp(a)) and any(
        abs(scale / ratio - 1.0) < 1e-3 for ratio in _SCALES
    )


_SCALES = sorted(
    {
        a.factor / b.factor
        for a in units.BY_SUFFIX.values()
        for b in units.BY_SUFFIX.values()
        if a.dimension == b.dimension
    }
)


def _places_missing(work: Work, said: Told) -> list[Question]:
    """Ask which columns hold the place, where neither names nor motion tell."""
    if work.place is not None and ("altitude" in work.own.found or work.alone):
        return []
    if work.plane is not None:
        return []
    needed = ["altitude"] if work.place is not None else ["latitude", "longitude", "altitude"]
    given = {rule.quantity for rule in said.rules} | said.declined
    if given & {"north", "east", "up"}:
        needed = ["north", "east", "up"]
    found = [told_of.which(quantity, work, work.own) for quantity in needed if quantity not in given]
    return [question for question in found if question is not None]


def _final(work: Work, said: Told) -> tuple[Question, ...]:
    """Close the questions: no time and no place are asked first, since everything else hangs on them."""
    places = _places_missing(work, said)
    wanted = None if places else told_of.next_question(work, said)
    settled = {rule.source for rule in said.rules} - said.plain
    others = [q for q in work.questions if not settled.issuperset(q.columns)]
    questions = [*places, *others, *([wanted] if wanted is not None else [])]
    if work.clock is None and work.rate is None and not any(f.quantity == "time" for f in work.findings):
        counts = ("counter", "time")
        counters = [f for f in work.findings if f.guesses and f.guesses[0].quantity in counts]
        for finding in counters:
            finding.asked = False
        questions.insert(0, asking.how_fast(counters, work.likely_rate))
    return tuple(questions)
