"""What every measuring is given: what is known, and how the recordings are read."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from msgspec import Struct

from deckward import recordings


class Given(Struct, frozen=True, kw_only=True):
    """What ``measure_site``, ``measure_aircraft`` and ``measure_pilot`` share.

    Args:
        ship: the ship's own recordings: one for each recording (and then for each made on a marked
            spot, in the order of the arguments), or one for all.
        ship_who: which craft is the ship, where a file holds several.
        site: the ship, or what to start from; a generic one where not given.
        aircraft: the jet, or what to start from; a generic one where not given.
        map: a column map for recordings with names of their own; one is drafted where it is needed
            and not given.
        ask: called with a draft that has open questions; returns it with them settled.
        only: take this craft alone.
        origin: (latitude, longitude) in degrees of a local plane's north 0, east 0.
        ship_time_offset_s: seconds to add to the ship's times where she has recordings of her own;
            estimated where not given.
        name: what that which is measured is to be called.
        out: folder for a picture of what was seen and concluded.
    """

    ship: Sequence[str | Path] = ()
    ship_who: str | None = None
    site: str | Path | None = None
    aircraft: str | Path | None = None
    map: str | Path | None = None
    ask: Callable[[recordings.Draft], recordings.Draft] | None = None
    only: str | None = None
    origin: tuple[float, float] | None = None
    ship_time_offset_s: float | None = None
    name: str | None = None
    out: str | Path | None = None
