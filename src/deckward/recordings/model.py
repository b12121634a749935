"""What reading a recording gives."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct

from deckward.errors import Note
from deckward.foundation.track import Track


class Recording(Struct, frozen=True):
    """A recording, cleaned and judged.

    Attributes:
        aircraft: one track for each craft, sorted by name.
        ship: the ship's track, None where no source holds one.
        samples: rows of the aircraft's file.
        rate_hz: usual rate of the aircraft's samples.
        notes: what a reader of results should know of the data.
        clock: "elapsed" where second 0 is an unknown instant, "utc-day" where it is
            midnight UTC of an unknown day, "utc" where it is ``time_zero``.
        time_zero: the instant of second 0 for the clock "utc", else None.
        two_clocks: aircraft and ship come from senders whose clocks nothing in the files ties together.
    """

    aircraft: tuple[Track, ...]
    ship: Track | None
    samples: int
    rate_hz: float
    notes: tuple[Note, ...] = ()
    clock: str = "elapsed"
    time_zero: datetime | None = None
    two_clocks: bool = False
