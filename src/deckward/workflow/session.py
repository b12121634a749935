"""The main job: from a recording to a debrief."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import msgspec
import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward import aircraft as profiles
from deckward import explanation, passes, recordings, scoring
from deckward import site as sites
from deckward.aircraft.model import Profile
from deckward.errors import InputError, NoPassError, Note
from deckward.foundation import units
from deckward.foundation.track import Track
from deckward.recordings import Recording
from deckward.reports.model import PassReport, SessionReport
from deckward.site.model import Site
from deckward.workflow import contract, folder, mapping, options
from deckward.workflow.published import encode

if TYPE_CHECKING:
    from deckward.explanation.what_if import WhatIf
    from deckward.passes.model import Pass
    from deckward.planning.against import Compared
    from deckward.planning.plan import Plan
    from deckward.planning.scenario import Scenario
    from deckward.scoring.rulebook import Rulebook

#: the word for a ship that nobody recorded
FITTED = "fitted"
#: a profile or site known no better than this is told of: rad of on-speed angle, m fore and aft
_VAGUE_SPEED, _VAGUE_LENS = units.to_si(0.5, "deg"), 5.0
#: what a debrief takes where no site, aircraft or rulebook is named
GENERIC_SITE = "generic-ship"
GENERIC_AIRCRAFT = "generic-jet"
DEFAULT_RULEBOOK = "strict"

_NO_ODDS = (
    Note(
        "no-odds",
        "No odds are told: they need a ship with wires, a hook that is down, and a straight approach.",
    ),
)


class Debrief(Struct, frozen=True):
    """What came of one recording.

    ``report`` is everything that the screen and the pages show; ``pages`` names the files
    that were written, the session's page first, empty where none were asked for.
    """

    report: SessionReport
    pages: tuple[Path, ...] = ()

    def to_dict(self) -> dict[str, Any]:
        """Return the published object as dicts and lists, edge units in its keys."""
        return msgspec.to_builtins(contract.document(self.report))

    def to_json(self) -> str:
        """Return the published object as JSON text."""
        return encode(contract.document(self.report))


def debrief(
    recording: str | Path,
    *,
    ship: str | Path | None = None,
    ship_course_deg: float | None = None,
    ship_speed_kt: float | None = None,
    ship_at: tuple | None = None,
    map: str | Path | None = None,
    draft_map: str | Path | None = None,
    ask: Callable[[recordings.Draft], recordings.Draft] | None = None,
    site: str | Path | None = None,
    aircraft: str | Path | None = None,
    rulebook: str | Path | None = None,
    only: str | None = None,
    ship_who: str | None = None,
    wind_from_deg: float | None = None,
    wind_speed_kt: float | None = None,
    ship_time_offset_s: float | None = None,
    origin: tuple[float, float] | None = None,
    reason: str | None = None,
    what_if: Sequence[str] = (),
    plan: str | Path | None = None,
    odds: bool = False,
    pilot: str | Path | None = None,
    out: str | Path | None = None,
    progress: Callable[[str], None] | None = None,
) -> Debrief:
    """Find the passes in a recording, measure, grade and (with ``out``) draw them.

    Args:
        recording: CSV, Parquet or JSON lines, plain or gzip.
        ship: a recording of the ship, where it is not in ``recording``; or ``"fitted"``: one is
            fitted to what rested on her and what touched her deck.
        ship_course_deg: true course of a ship known by course and speed; with
            ``ship_speed_kt`` and ``ship_at``.
        ship_speed_kt: its speed.
        ship_at: (latitude, longitude, time) in degrees and the recording's time, s.
        map: a column map for a recording with names of its own; one is drafted where it is
            needed and not given.
        draft_map: new file for the drafted map.
        ask: called with a draft that has open questions; returns it with them settled.
        site: a bundled name or a file; a generic ship where not given.
        aircraft: the same for the jet.
        rulebook: the same for the grading.
        only: debrief this craft alone.
        ship_who: which craft is the ship, where a file holds several.
        wind_from_deg: true bearing the wind comes from; with ``wind_speed_kt``.
        wind_speed_kt: its speed over the sea.
        ship_time_offset_s: seconds to add to the ship's times; estimated where not given.
        origin: (latitude, longitude) in degrees of a local plane's north 0, east 0.
        reason: why a wave-off was waved off: technique, pattern, foul-deck or own.
        what_if: changes to fly each pass again with: hold-power, sooner, on-speed, wave-off, a
            number after ``=`` where one is not the usual.
        plan: a scenario, bundled or a file, whose plan is set beside each pass; its ship and jet are
            taken where none is named.
        odds: tell the odds from every moment of each pass, and its last safe wave-off; takes about as
            long as the passes took to fly.
        pilot: whose hands fly on in the odds: "standard" or a pilot file.
        out: folder for pages, figures and a PDF; nothing is left there on a failure.
        progress: called with a few words before each longer step.

    Raises:
        InputError: a file, key or option that cannot be used.
        NoPassError: the recording is readable, but has no pass in it.
    """
    say = progress or (lambda words: None)
    fitted = str(ship) == FITTED
    for file in (recording, None if fitted else ship, map):
        if file is not None:
            options.readable(file)
    course = _ship_course(ship, ship_course_deg, ship_speed_kt, ship_at)
    wind = _wind(wind_from_deg, wind_speed_kt)
    offset = None if ship_time_offset_s is None else options.finite("ship_time_offset_s", ship_time_offset_s)
    place = None if origin is None else options.place("origin", origin)
    why = options.one_of("reason", reason, options.REASONS)
    otherwise = _otherwise(what_if)
    hands = _hands(odds, pilot)
    if out is not None:
        folder.check(Path(out))

    scenario = None if plan is None else _scenario(plan)
    deck = scenario.site if scenario and site is None else sites.load(site or GENERIC_SITE)
    jet = scenario.aircraft if scenario and aircraft is None else profiles.load(aircraft or GENERIC_AIRCRAFT)
    planned = None if scenario is None else _plans(scenario)
    rules = scoring.load(DEFAULT_RULEBOOK if rulebook is None else rulebook)
    if deck.is_field and (ship is not None or course is not None):
        raise InputError(
            f"{deck.name} is a field and does not move, but a ship's track was given.",
            place="ship" if ship is not None else "ship_course_deg",
            remedy="Leave the ship out, or name a ship with --site.",
        )

    say("reading")
    craft = None if fitted else ship
    read = mapping.open_foreign(
        recording,
        craft,
        column_map=map,
        only=only,
        ship_who=ship_who,
        origin=place,
        ask=ask,
        draft_map=draft_map,
        wants_ship=not (deck.is_field or course or fitted),
    )
    boat = None if deck.is_field else course(read) if course else read.ship
    found_ship: list[Note] = []
    if fitted:
        say("fitting the ship")
        from deckward.passes import fitted_ship

        steady = options.naming(recording, lambda: fitted_ship.fit_ship(read.aircraft, deck, jet))
        boat, deck = steady.track, fitted_ship.known_to(steady, deck)
        found_ship = [steady.note()]

    say("finding the passes")
    found = [
        options.naming(
            recording,
            partial(
                passes.find,
                track,
                ship=boat,
                site=deck,
                aircraft=jet,
                wind=wind,
                ship_time_offset=offset,
                two_clocks=read.two_clocks and not fitted,
                groove=passes.GrooveBounds(
                    rules.groove.within, rules.groove.bank, rules.groove.line_up, rules.groove.held
                ),
            ),
        )
        for track in read.aircraft
    ]
    led_to = [
        [None] * len(each.passes) if deck.is_field else _launches(track, boat, deck, each)
        for track, each in zip(read.aircraft, found, strict=True)
    ]
    pairs = sorted(
        ((one, launch) for each, launches in zip(found, led_to, strict=True)
         for one, launch in zip(each.passes, launches, strict=True)),
        key=lambda pair: (pair[0].start, pair[0].who),
    )  # fmt: skip
    flown = [one for one, _ in pairs]
    if not flown:
        raise NoPassError(
            "there is no pass in this recording.", file=str(recording), remedy=_seen(read.aircraft, found)
        )
    notes = list(dict.fromkeys([*read.notes, *found_ship, *_generic_notes(deck, jet)]))
    for each in found:
        notes += [note for note in each.notes if note not in notes]

    say("grading and explaining")
    report = SessionReport(
        title=Path(recording).name.partition(".")[0],
        recording=Path(recording).name,
        samples=read.samples,
        rate_hz=read.rate_hz,
        notes=tuple(notes),
        passes=tuple(
            PassReport(
                number=number,
                flown=one,
                score=scoring.score(one, rules, reason=why and why.replace("-", " "), seed=number),
                why=explanation.explain(one, rules, launch=launch),
                what_if=otherwise(one, rules),
                planned=() if planned is None else _against(planned, one, launch),
            )
            for number, (one, launch) in enumerate(pairs, start=1)
        ),
    )
    if hands is not None:
        report = _with_odds(report, hands, say)
    return write(report, out, progress=progress)


def _scenario(name: str | Path) -> Scenario:
    """Read a scenario; planning is imported only where there is one."""
    from deckward import planning

    return planning.load(name)


def _plans(scenario: Scenario) -> Plan:
    from deckward.planning import plan

    return plan.make(scenario)


def _against(planned: Plan, one: passes.Pass, launch: explanation.Launch | None) -> tuple[Compared, ...]:
    """Set the plan beside a pass and the launch that led to it."""
    from deckward.planning import against

    airspeed = mass = None
    if launch is not None:
        speeds, masses = launch.channel("true_airspeed"), launch.channel("mass")
        if speeds is not None:
            airspeed = float(np.interp(launch.end, launch.track.time, speeds))
        if masses is not None:
            mass = float(np.interp(launch.end, launch.track.time, masses))
    return against.compare(planned, one, launch_airspeed=airspeed, launch_mass=mass)


def write(
    report: SessionReport, out: str | Path | None, *, progress: Callable[[str], None] | None = None
) -> Debrief:
    """Write a session's pages into the folder ``out``, all of them or none; nothing without one.

    Raises:
        InputError: the folder cannot be written.
    """
    if out is None:
        return Debrief(report)
    from deckward import reports

    # the session's page is written last, and named first
    *rest, index = reports.write(report, out, progress=progress and (lambda what, share: progress(what)))
    return Debrief(report, (index, *rest))


def _hands(odds: bool, pilot: str | Path | None):
    """Read whose hands fly on in the odds; None where no odds are asked for."""
    if not odds:
        if pilot is not None:
            raise InputError(
                "a pilot flies on only in the odds.", place="--pilot", remedy="Add --odds, or leave it out."
            )
        return None
    from deckward.prediction import pilots

    return pilots.load(pilots.STANDARD if pilot is None else pilot)


def _with_odds(report: SessionReport, hands, say: Callable[[str], None]) -> SessionReport:
    """Tell the odds along each pass, and say so where there are none."""
    from deckward.explanation import ahead

    told = []
    for item in report.passes:
        say(f"odds of pass {item.number}")
        found = ahead.outlook(item.flown, pilot=hands)
        notes = _NO_ODDS if found is None else found.notes
        told.append(replace(item, ahead=found, flown=replace(item.flown, notes=(*item.flown.notes, *notes))))
    return replace(report, passes=tuple(told))


def _ship_course(ship, course_deg, speed_kt, at) -> Callable[[Recording], passes.ShipCourse] | None:
    """Check a ship known by course and speed; what is returned waits for the recording's clock."""
    if not options.together(ship_course_deg=course_deg, ship_speed_kt=speed_kt, ship_at=at):
        return None
    if ship is not None:
        raise InputError(
            "the ship is given twice: by a recording, and by course and speed.",
            place="ship",
            remedy="Leave one of the two out.",
        )
    latitude_deg, longitude_deg, time = options.parts("ship_at", at, 3)
    latitude, longitude = options.place("ship_at", (latitude_deg, longitude_deg))
    when = options.instant("ship_at time", time)
    course = options.bearing("ship_course_deg", course_deg)
    speed = units.to_si(options.number("ship_speed_kt", speed_kt, 0.0, options.FASTEST_SHIP_KT), "kt")

    def on_clock_of(read: Recording) -> passes.ShipCourse:
        seconds = options.seconds("ship_at time", when, read.clock, read.time_zero)
        return passes.ShipCourse(latitude, longitude, seconds, course, speed)

    return on_clock_of


def _wind(from_deg, speed_kt) -> passes.Wind | None:
    """Check a steady wind; None where none is given."""
    if not options.together(wind_from_deg=from_deg, wind_speed_kt=speed_kt):
        return None
    return passes.Wind(
        options.bearing("wind_from_deg", from_deg),
        units.to_si(options.number("wind_speed_kt", speed_kt, 0.0, options.STRONGEST_WIND_KT), "kt"),
    )


def _otherwise(changes: Sequence[str]) -> Callable[[Pass, Rulebook], tuple[WhatIf, ...]]:
    """Check the changes that are asked for; what is returned flies a pass with them."""
    if not changes:
        return lambda flown, rules: ()
    from deckward.explanation import what_if

    asked = [what_if.change(text) for text in changes]
    return lambda flown, rules: what_if.what_if(flown, rules, asked)


def _launches(track: Track, boat, deck: Site, found: passes.Found) -> list[explanation.Launch | None]:
    """Return the launch that led to each pass of one craft, None where none is on record."""
    if not found.passes:
        return []
    launches = explanation.launches(track, passes.ship_track(boat, track, deck))
    before = explanation.launch_before(launches, [one.start for one in found.passes])
    return [before.get(number) for number in range(len(found.passes))]


def _seen(craft: tuple[Track, ...], found: list[passes.Found]) -> str:
    """Say of each craft what was there instead of a pass."""
    if len(craft) == 1:
        return f"Seen instead: {found[0].seen}."
    return (
        "Seen instead: "
        + "; ".join(f"{track.who}: {each.seen}" for track, each in zip(craft, found, strict=True))
        + "."
    )


def _generic_notes(site: Site, aircraft: Profile) -> list[Note]:
    """Say in one line how to do better than a generic ship or jet."""
    notes = []
    if site.generic:
        notes.append(
            Note(
                "generic-site",
                f"Measured against {site.name}, with wide sigmas: the wire is told as odds. Give --site "
                "with the ship you flew to (deckward sites).",
            )
        )
    if aircraft.generic:
        notes.append(
            Note(
                "generic-aircraft",
                f"Measured with the points of {aircraft.name}, with wide sigmas. Give --aircraft with "
                "the jet you flew (deckward aircraft).",
            )
        )
    elif aircraft.sigma.on_speed >= _VAGUE_SPEED:
        known = f"{units.from_si(aircraft.sigma.on_speed, 'deg'):.1f} deg"
        notes.append(
            Note(
                "vague-on-speed",
                f"The file of {aircraft.name} knows its on-speed angle of attack to {known} only: fast and "
                "slow are as unsure. Set approach.on_speed_deg, its bands, and sigma.on_speed_deg to match.",
            )
        )
    if not site.generic and site.sigma.lens[0] >= _VAGUE_LENS:
        notes.append(
            Note(
                "vague-lens",
                f"The file of {site.name} knows where the lens is to {site.sigma.lens[0]:.0f} m only, and "
                "its angles may be a guess: the ball is as unsure. Set [lens], and sigma.lens_m to match.",
            )
        )
    return notes
