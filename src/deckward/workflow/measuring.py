"""Measuring a ship or a jet from recordings, and writing what was found as its file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from deckward import aircraft as profiles
from deckward import recordings
from deckward import site as sites
from deckward.errors import InputError
from deckward.foundation import units
from deckward.foundation.track import Track
from deckward.passes import measuring
from deckward.workflow import folder, options
from deckward.workflow.session import GENERIC_AIRCRAFT, GENERIC_SITE

#: what is measured as an angle; all else is a length
_ANGLES = ("angle",)

SITE_REST = (
    "Not measured: the lens and the length of the landing area stay as in the file you started from. "
    "The ramp: park with the nose wheel on its edge, on the centreline, record ten seconds, and give "
    "that recording with --at-ramp. The lens: park with the nose wheel abreast of it and give that with "
    "--at-lens; its height and angle are in what the ship's maker tells."
)
AIRCRAFT_REST = (
    "Not measured: eye, wheels fore and aft, and how low the hook hangs stay as in the file you started "
    "from. The eye: sit in the cockpit, read the view point's place against the recorded point where the "
    "simulator shows it, or stand with the ramp's edge just hidden under the nose and record that. Wheels "
    "fore and aft: park with the nose wheel, then with the main wheels, on the ramp's edge, ten seconds "
    "each: --at-ramp, --mains-at-ramp."
)


@dataclass(frozen=True)
class Measured:
    """What was measured: rows of name, value with sigma and evidence; the file's text; what was not.

    ``pictures`` are the files of the evidence drawn, none where none were asked for.
    """

    rows: tuple[tuple[str, str], ...]
    text: str
    rest: str
    pictures: tuple[Path, ...] = ()


def measure_site(
    files: Sequence[str | Path],
    *,
    ship: Sequence[str | Path] = (),
    site: str | Path | None = None,
    aircraft: str | Path | None = None,
    at_ramp: str | Path | None = None,
    at_lens: str | Path | None = None,
    map: str | Path | None = None,
    only: str | None = None,
    origin: tuple[float, float] | None = None,
    name: str | None = None,
    out: str | Path | None = None,
) -> Measured:
    """Measure a ship's deck height, angle, centreline, ramp and wires with a known jet.

    Args:
        files: recordings of traps, bolters or rests on her deck.
        ship: the ship's own recordings: one for each of ``files``, or one for all.
        site: what to start from; a generic ship where not given.
        aircraft: the jet that was flown; a generic one where not given.
        at_ramp: a recording in which the nose wheel stands on the ramp's edge.
        at_lens: one in which it stands abreast of the lens.
        map: a column map for recordings with names of their own.
        only: take this craft alone.
        origin: (latitude, longitude) in degrees of a local plane's north 0, east 0.
        name: what the ship is to be called.
        out: folder for a picture of what was seen and concluded.

    Raises:
        InputError: a file or option that cannot be used, or nothing on deck in any of them.
    """
    start = sites.load(GENERIC_SITE if site is None else site)
    jet = profiles.load(GENERIC_AIRCRAFT if aircraft is None else aircraft)
    if start.is_field:
        raise InputError(
            f"{start.name} is a field: what is measured here is a ship.",
            place="site",
            remedy="Name a ship to start from, or leave --site out.",
        )
    pairs = _pairs(files, ship, map=map, only=only, origin=origin)
    if out is not None:
        folder.check(Path(out))
    edge, abreast = (_spot(file, ship, map=map, only=only, origin=origin) for file in (at_ramp, at_lens))
    found, rows = options.naming(
        files[0], lambda: measuring.measure_site(pairs, start, jet, at_ramp=edge, at_lens=abreast)
    )
    found = replace(found, name=name or _own(start.name), description=_words(files))
    told = tuple(_row(one) for one in rows)
    pictures: list[Path] = []
    if out is not None:
        from deckward import reports
        from deckward.passes.evidence import evidence

        pictures = reports.draw_site(found, evidence(pairs, found, jet), told, out)
    return Measured(told, sites.text(found), SITE_REST, tuple(pictures))


def measure_aircraft(
    files: Sequence[str | Path],
    *,
    ship: Sequence[str | Path] = (),
    site: str | Path | None = None,
    aircraft: str | Path | None = None,
    at_ramp: str | Path | None = None,
    mains_at_ramp: str | Path | None = None,
    map: str | Path | None = None,
    only: str | None = None,
    origin: tuple[float, float] | None = None,
    name: str | None = None,
    out: str | Path | None = None,
) -> Measured:
    """Measure how low a jet's wheels stand and where its hook is, on a known ship.

    Args and errors are those of :func:`measure_site`; ``aircraft`` is what to start from, and
    ``mains_at_ramp`` a recording in which the main wheels stand on the ramp's edge.
    """
    deck = sites.load(GENERIC_SITE if site is None else site)
    start = profiles.load(GENERIC_AIRCRAFT if aircraft is None else aircraft)
    if deck.is_field:
        raise InputError(
            f"{deck.name} is a field: a jet is measured on a ship.",
            place="site",
            remedy="Name the ship that it was flown to.",
        )
    if out is not None:
        folder.check(Path(out))
    pairs = _pairs(files, ship, map=map, only=only, origin=origin)
    nose, mains = (_spot(file, ship, map=map, only=only, origin=origin) for file in (at_ramp, mains_at_ramp))
    found, rows = options.naming(
        files[0], lambda: measuring.measure_aircraft(pairs, deck, start, at_ramp=nose, mains_at_ramp=mains)
    )
    found = replace(found, name=name or _own(start.name), description=_words(files))
    told = tuple(_row(one) for one in rows)
    pictures: list[Path] = []
    if out is not None:
        from deckward import reports

        seen = {one.name.removesuffix(" below").removesuffix(" ahead"): one.seen for one in rows}
        pictures = reports.draw_aircraft(found, seen, told, out)
    return Measured(told, profiles.text(found), AIRCRAFT_REST, tuple(pictures))


def _pairs(files, ships, *, map, only, origin) -> list[tuple[Track, Track]]:
    """Read the recordings as tracks of aircraft and ship."""
    for file in [*files, *ships, *([map] if map is not None else [])]:
        options.readable(file)
    if len(ships) > 1 and len(ships) != len(files):
        raise InputError(
            f"{len(files)} recordings and {len(ships)} of the ship.",
            place="ship",
            remedy="Give one ship's recording for each, in the same order, or one for all.",
        )
    place = None if origin is None else options.place("origin", origin)
    pairs = []
    for number, file in enumerate(files):
        ship = None if not ships else ships[number if len(ships) > 1 else 0]
        read = recordings.open_recording(file, ship=ship, only=only, column_map=map, origin=place)
        if read.ship is None:
            raise InputError(
                "there is no ship in this recording.",
                file=str(file),
                remedy="Record her in ship_ columns, or give her own recording with --ship.",
            )
        pairs += [(track, read.ship) for track in read.aircraft]
    return pairs


def _spot(file, ships, *, map, only, origin) -> tuple[Track, Track] | None:
    """Read a recording made on a marked spot."""
    return None if file is None else _pairs([file], ships[:1], map=map, only=only, origin=origin)[0]


def _own(name: str) -> str:
    return name if name.startswith("My ") else f"My {name[0].lower()}{name[1:]}"


def _words(files) -> str:
    return f"Measured from {len(files)} recording{'s' if len(files) != 1 else ''}"


def _row(one: measuring.Quantity) -> tuple[str, str]:
    """One quantity in metres or degrees, with its sigma, evidence and single sightings."""
    unit = "deg" if one.name in _ANGLES else "m"
    value, sigma, *seen = (float(units.from_si(v, unit)) for v in (one.value, one.sigma, *one.seen))
    shown = f": {', '.join(f'{v:.2f}' for v in sorted(seen))}" if len(seen) > 1 else ""
    return one.name, f"{value:.2f} {unit} (sigma {sigma:.2f}), {one.evidence}{shown}"
