"""Measuring a ship or a jet from recordings, and writing what was found as its file."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from msgspec import Struct, field
from msgspec.structs import replace

from deckward import aircraft as profiles
from deckward import site as sites
from deckward.aircraft.model import Profile
from deckward.errors import InputError
from deckward.foundation import units
from deckward.foundation.track import Track
from deckward.passes import measuring
from deckward.passes.ground import Ground
from deckward.site.model import Site
from deckward.workflow import folder, mapping, options
from deckward.workflow.measuring_given import Given
from deckward.workflow.session import GENERIC_AIRCRAFT, GENERIC_SITE

if TYPE_CHECKING:
    from deckward.passes.clocks import Clocks

#: an unsure clock that a person should know of, m along the ship's way
_MUCH = 0.5
#: what is measured as an angle; all else is a length
_ANGLES = ("angle",)

_RAMP = (
    "The ramp: taxi there, nose aft, park with the nose wheel on its edge, on the centreline, record ten "
    "seconds, and give that recording with --at-ramp."
)
_AREA = "The angle and the centreline: record traps or bolters, flown to the deck along the centreline."
_WIRES = "The wires: record traps, each to its stop, at several wires if you can."
_LENS = (
    "The lens: park with the nose wheel abreast of it, ten seconds: --at-lens. Its height and angles no "
    "track shows: they are in what the ship's maker tells, keys lens.position_m and lens.basic_angle_deg."
)
_LENS_REST = (
    "The lens's height and angles no track shows: they are in what the ship's maker tells, keys "
    "lens.position_m and lens.basic_angle_deg."
)
_EYE = (
    "The eye: sit at the eye point and read the view's place from the recorded point where the simulator "
    "shows it, key points_m.eye."
)
_HOOK = (
    "How low the hook hangs: from a drawing on the wheels' scale, key points_m.hook; a foot there is sixteen "
    "along the deck."
)
_SPEED = "On speed: its angle of attack, and the bands around it, in [approach]."
_HOOK_AHEAD = "How far ahead the hook is: record traps, each to its stop."
_NOSE = "The nose wheel fore and aft: park with it on the ramp's edge, nose aft, ten seconds: --at-ramp."
_MAINS = (
    "The main wheels fore and aft: park with them on that edge, nose forward, ten seconds: --mains-at-ramp."
)


def _rest(*open_ones: str) -> str:
    """Say what stays as it was given, and what to do about each, a line for each."""
    return "\n".join(("Not measured, and left as in the file you started from:", *open_ones))


class Measured(Struct, frozen=True):
    """What was measured: rows of name, value with sigma and evidence; the file's text; what was not.

    ``rest`` has a line for each thing that was not; ``pictures`` are the files of the evidence
    drawn, none where none were asked for.
    """

    rows: tuple[tuple[str, str], ...]
    text: str
    rest: str
    pictures: tuple[Path, ...] = ()


def measure_site(
    files: Sequence[str | Path],
    given: Given,
    *,
    at_ramp: str | Path | None = None,
    at_lens: str | Path | None = None,
) -> Measured:
    """Measure a ship's deck height, angle, centreline, ramp and wires with a known jet.

    Args:
        files: recordings of traps, bolters or rests on her deck.
        given: what is known, and how the recordings are read; its site is what to start from.
        at_ramp: a recording in which the nose wheel stands on the ramp's edge.
        at_lens: one in which it stands abreast of the lens.

    Raises:
        InputError: a file or option that cannot be used, or nothing on deck in any of them.
    """
    start = sites.load(given.site or GENERIC_SITE)
    jet = profiles.load(given.aircraft or GENERIC_AIRCRAFT)
    if start.is_field:
        raise InputError(
            f"{start.name} is a field: what is measured here is a ship.",
            place="site",
            remedy="Name a ship to start from, or leave --site out.",
        )
    if given.out is not None:
        folder.check(Path(given.out))
    read = _Reader(given, mapping.Drafts(given.ask), _offset(given.ship_time_offset_s), start, jet)
    pairs = read.pairs(files)
    edge, abreast = read.spots(at_ramp, at_lens)
    found, rows = options.naming(
        files[0], lambda: measuring.measure_site(pairs, start, jet, at_ramp=edge, at_lens=abreast)
    )
    found = replace(found, name=given.name or _own(start), description=_words(files))
    found, rows = _less_sure(found, rows, read.doubt)
    told = (*read.told(), *(_row(one) for one in rows))
    pictures: list[Path] = []
    if given.out is not None:
        from deckward import reports
        from deckward.passes.evidence import evidence

        pictures = reports.draw_site(found, evidence(pairs, found, jet), told, given.out)
    return Measured(
        told,
        sites.text(found),
        _rest(
            *([] if _told(rows, "angle") else [_AREA]),
            *([] if _told(rows, "wire 1") or found.wires is None else [_WIRES]),
            *([] if at_ramp else [_RAMP]),
            _LENS_REST if at_lens else _LENS,
        ),
        tuple(pictures),
    )


def measure_aircraft(
    files: Sequence[str | Path],
    given: Given,
    *,
    at_ramp: str | Path | None = None,
    mains_at_ramp: str | Path | None = None,
) -> Measured:
    """Measure how low a jet's wheels stand and where its hook is, on a known ship.

    Args and errors are those of :func:`measure_site`; the jet given is what to start from, and
    ``mains_at_ramp`` a recording in which the main wheels stand on the ramp's edge.
    """
    deck = sites.load(given.site or GENERIC_SITE)
    start = profiles.load(given.aircraft or GENERIC_AIRCRAFT)
    if deck.is_field:
        raise InputError(
            f"{deck.name} is a field: a jet is measured on a ship.",
            place="site",
            remedy="Name the ship that it was flown to.",
        )
    if given.out is not None:
        folder.check(Path(given.out))
    read = _Reader(given, mapping.Drafts(given.ask), _offset(given.ship_time_offset_s), deck, start)
    pairs = read.pairs(files)
    nose, mains = read.spots(at_ramp, mains_at_ramp)
    found, rows = options.naming(
        files[0], lambda: measuring.measure_aircraft(pairs, deck, start, at_ramp=nose, mains_at_ramp=mains)
    )
    found = replace(found, name=given.name or _own(start), description=_words(files))
    told = (*read.told(), *(_row(one) for one in rows), *_flown_at(pairs, start))
    pictures: list[Path] = []
    if given.out is not None:
        from deckward import reports

        seen = {one.name.removesuffix(" below").removesuffix(" ahead"): one.seen for one in rows}
        pictures = reports.draw_aircraft(found, seen, told, given.out)
    return Measured(
        told,
        profiles.text(found),
        _rest(
            *([] if _told(rows, "hook ahead") else [_HOOK_AHEAD]),
            *([] if at_ramp else [_NOSE]),
            *([] if mains_at_ramp else [_MAINS]),
            _SPEED,
            _EYE,
            _HOOK,
        ),
        tuple(pictures),
    )


def _told(rows: list[measuring.Quantity], name: str) -> bool:
    return any(one.name == name for one in rows)


def _flown_at(pairs: list[tuple[Track, Track]], profile: Profile) -> tuple[tuple[str, str], ...]:
    """Say at which angle of attack the approaches were flown, where they recorded it."""
    seen = [float(units.from_si(value, "deg")) for value in measuring.flown_at(pairs)]
    if not seen:
        return ()
    on_speed = float(units.from_si(profile.on_speed, "deg"))
    many = f"{len(seen)} approach{'es' if len(seen) != 1 else ''}"
    words = (
        f"{np.median(seen):.1f} deg angle of attack, {many}; the file says on speed is {on_speed:.1f}: "
        "if you flew on speed, set approach.on_speed_deg and its bands"
    )
    return (("flown at", words),)


def _less_sure(found: Site, rows: list[measuring.Quantity], doubt: float):
    """Widen what hangs on the ship's clock: fore and aft, she may be off by ``doubt`` m."""
    if doubt <= 0.0:
        return found, rows
    x, y, z = found.sigma.ramp
    wires = float(np.hypot(found.sigma.wires, doubt)) if found.wires is not None else found.sigma.wires
    sigma = replace(found.sigma, ramp=(round(float(np.hypot(x, doubt)), 3), y, z), wires=round(wires, 3))
    along = [
        replace(one, sigma=float(np.hypot(one.sigma, doubt)))
        if one.name == "ramp" or one.name.startswith("wire ")
        else one
        for one in rows
    ]
    return replace(found, sigma=sigma), along


def _offset(seconds: float | None) -> float | None:
    return None if seconds is None else options.finite("ship_time_offset_s", seconds)


class _Reader(Struct):
    """Reads recordings as tracks of aircraft and ship on one clock, all of one recorder."""

    given: Given
    drafts: mapping.Drafts
    offset: float | None
    site: Site
    profile: Profile
    #: what was found of the clocks of each recording with the ship in a file of her own
    clocks: list[Clocks] = field(default_factory=list)
    #: of those, how fast the ship goes, m/s
    speed: float = 0.0
    #: the ship's recordings that are left for those made on marked spots
    for_spots: list[str | Path] = field(default_factory=list)

    def pairs(self, files: Sequence[str | Path]) -> list[tuple[Track, Track]]:
        """Read the recordings that are measured from."""
        for file in [*files, *self.given.ship, *([self.given.map] if self.given.map is not None else [])]:
            options.readable(file)
        if 1 < len(self.given.ship) < len(files):
            raise InputError(
                f"{len(files)} recordings and {len(self.given.ship)} of the ship.",
                place="ship",
                remedy="Give one ship's recording for each, in the same order, or one for all.",
            )
        self.for_spots = list(self.given.ship[len(files) :])
        found = []
        for number, file in enumerate(files):
            ship = None if not self.given.ship else self.given.ship[number if len(self.given.ship) > 1 else 0]
            found += self._read(file, ship)
        return found

    def spots(self, *files: str | Path | None) -> list[tuple[Track, Track] | None]:
        """Read recordings made on marked spots; each takes the next ship's recording that is left."""
        made = [file for file in files if file is not None]
        left = self.for_spots
        if left and len(left) != len(made):
            raise InputError(
                f"{len(left)} recordings of the ship are left for {len(made)} made on a marked spot.",
                place="ship",
                remedy="Give one for each recording, those on marked spots last, or one for all.",
            )
        if made and len(self.given.ship) > 1 and not left:
            raise InputError(
                "the ship's recordings do not reach to those made on a marked spot.",
                place="ship",
                remedy="Give one more --ship for each of these, after the others.",
            )
        common: list[str | Path | None] = [self.given.ship[0] if self.given.ship else None]
        ships = iter(left or common * len(made))
        return [
            None if file is None else self._read(options.readable(file), next(ships))[0] for file in files
        ]

    def _read(self, file: str | Path, ship: str | Path | None) -> list[tuple[Track, Track]]:
        given = self.given
        read = mapping.open_foreign(
            file,
            ship,
            column_map=given.map,
            only=given.only,
            ship_who=given.ship_who,
            origin=None if given.origin is None else options.place("origin", given.origin),
            ask=None,
            made=self.drafts,
        )
        if read.ship is None:
            raise InputError(
                "there is no ship in this recording.",
                file=str(file),
                remedy="Record her in ship_ columns, or give her own recording with --ship.",
            )
        pairs = [(track, read.ship) for track in read.aircraft]
        return pairs if ship is None else [(track, self._on_one_clock(track, boat)) for track, boat in pairs]

    def _on_one_clock(self, track: Track, ship: Track) -> Track:
        if self.offset is not None:
            return replace(ship, time=ship.time + self.offset)
        from deckward.passes import clocks

        found = clocks.offset_on_deck(track, ship, self.site, self.profile)
        self.clocks.append(found)
        ground = Ground.at(ship, float(ship.time[0]))
        way = ground.place(ship)[[0, -1], :2]
        self.speed = max(
            self.speed,
            float(np.hypot(*(way[1] - way[0])) / max(ship.time[-1] - ship.time[0], 1.0)),
        )
        return clocks.shift(ship, found)

    @property
    def doubt(self) -> float:
        """How far along her way the ship may be off for want of knowing her clock, m, one sigma."""
        return self.speed * max((one.sigma for one in self.clocks), default=0.0)

    def told(self) -> tuple[tuple[str, str], ...]:
        """Say in a row what was found of the clocks; none where there is one clock."""
        if not self.clocks:
            return ()
        added = ", ".join(f"{one.offset:+.2f}" for one in self.clocks)
        sigma = max(one.sigma for one in self.clocks)
        by = next((one.told_by for one in self.clocks if one.told_by), ())
        words = f"{added} s added to her times (sigma {sigma:.2f})"
        words += f", by {' and '.join(by)}" if by else ""
        if self.doubt > _MUCH:
            words += (
                f": {self.doubt:.0f} m along her way, which wires and ramp may be off by; a moving deck "
                "under a jet at rest ties the clocks, or say what you know with --ship-time-offset-s"
            )
        return (("ship's clock", words),)


def _own(start: Site | Profile) -> str:
    """Name what is measured after what it started from."""
    if start.generic:
        return "My ship" if isinstance(start, Site) else "My jet"
    return start.name if start.name.startswith("My ") else f"My {start.name[0].lower()}{start.name[1:]}"


def _words(files) -> str:
    return f"Measured from {len(files)} recording{'s' if len(files) != 1 else ''}"


def _row(one: measuring.Quantity) -> tuple[str, str]:
    """One quantity in metres or degrees, with its sigma, evidence and single sightings."""
    unit = "deg" if one.name in _ANGLES else "m"
    value, sigma, *seen = (float(units.from_si(v, unit)) for v in (one.value, one.sigma, *one.seen))
    shown = f": {', '.join(f'{v:.2f}' for v in sorted(seen))}" if len(seen) > 1 else ""
    return one.name, f"{value:.2f} {unit} (sigma {sigma:.2f}), {one.evidence}{shown}"
