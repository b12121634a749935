"""The air that the ship disturbs: what she leaves behind her ramp.

Three parts, in proportion to the wind over deck: steady, periodic with her pitching, and
random. Along is + forward, against the wind over deck (it takes headwind away); up is + up.

Source: the carrier-landing disturbances of MIL-F-8785C 3.8.3 (form and periodic part from
memory). The steady part and the random part's size along are only drawn there: they are
tables of our own in a file, and a person's file replaces them.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Annotated

import numpy as np
from msgspec import Meta, Struct

from deckward.foundation.documents import Problem, Table
from deckward.foundation.shelf import Shelf
from deckward.foundation.units import FOOT

SHELF = Shelf("airwake", "--airwake", Path(__file__).parent / "airwakes")
#: the TOML text of a bundled one, to start a file of one's own from
source = SHELF.source
USUAL = "usual"

#: the periodic part: its sizes at the centre of pitch, what a metre aft takes off, where it
#: ends (m from the centre of pitch), and how fast it drifts aft, over the wind over deck
ALONG_AT_CENTRE, ALONG_PER_METRE, ALONG_ENDS = 2.22, 0.0009 / FOOT, -2236.0 * FOOT
UP_AT_CENTRE, UP_PER_METRE, UP_ENDS = 4.98, 0.0018 / FOOT, -2536.0 * FOOT
DRIFT = 0.85
#: the random part up and across: its size over the wind over deck, and its time constant, s
RANDOM_SIGMA, RANDOM_TIME = 0.035, 3.33
#: the washout of the random parts, 1/s
WASHOUT = 0.1
#: the noise behind the random parts is modulated by a sine: half its power is left
MODULATION = float(np.sqrt(0.5))

Share = Annotated[float, Meta(ge=-1, le=1)]
Range = Annotated[float, Meta(ge=-500, le=5000)]


class SteadyForm(Table):
    """The steady part."""

    range_m: Annotated[tuple[Range, ...], Meta(min_length=2, max_length=200, description="aft of the ramp")]
    along_over_wind: Annotated[
        tuple[Share, ...], Meta(description="headwind taken away, over the wind over deck")
    ]
    up_over_wind: Annotated[tuple[Share, ...], Meta(description="air going up, over the wind over deck")]


class RandomForm(Table):
    """The random part along; across and up it is of one size."""

    range_m: Annotated[tuple[Range, ...], Meta(min_length=2, max_length=200, description="aft of the ramp")]
    sigma_over_wind: Annotated[
        tuple[Annotated[float, Meta(ge=0, le=1)], ...],
        Meta(description="size before the washout, over the wind over deck"),
    ]
    time_s: Annotated[tuple[Annotated[float, Meta(gt=0, le=60)], ...], Meta(description="time constant")]


class AirwakeForm(Table):
    """An airwake file."""

    name: Annotated[str, Meta(min_length=1, max_length=80, description="what the airwake is called")]
    source: Annotated[str, Meta(min_length=1, max_length=400, description="where the numbers come from")]
    steady: SteadyForm
    random: RandomForm


class Airwake(Struct, frozen=True):
    """The drawn parts of an airwake over range aft of the ramp (m, rising), as shares of wind over deck."""

    name: str
    source: str
    steady_range: np.ndarray
    along: np.ndarray
    up: np.ndarray
    random_range: np.ndarray
    random_sigma: np.ndarray
    random_time: np.ndarray

    def steady(self, range_aft) -> tuple[np.ndarray, np.ndarray]:
        """Return along and up, over the wind over deck, at ranges aft of the ramp; 0 outside the table."""
        along = np.interp(range_aft, self.steady_range, self.along, left=0.0, right=0.0)
        return along, np.interp(range_aft, self.steady_range, self.up, left=0.0, right=0.0)


def load(name_or_path: str | Path = USUAL) -> Airwake:
    """Read an airwake by its bundled name or from a file.

    Raises:
        InputError: no such airwake, or a file that is no valid one.

    >>> load().name
    'Usual airwake'
    """
    form = SHELF.load(name_or_path, AirwakeForm, check=check)
    steady, random = form.steady, form.random
    return Airwake(
        name=form.name,
        source=form.source,
        steady_range=np.array(steady.range_m),
        along=np.array(steady.along_over_wind),
        up=np.array(steady.up_over_wind),
        random_range=np.array(random.range_m),
        random_sigma=np.array(random.sigma_over_wind),
        random_time=np.array(random.time_s),
    )


def bundled() -> dict[str, str]:
    """Return the bundled airwakes' names, each with where it comes from."""
    return {name: load(name).source for name in SHELF.names()}


def check(form: AirwakeForm) -> Iterator[Problem]:
    """Yield what no single key of an airwake file can show."""
    for name, table in (("steady", form.steady), ("random", form.random)):
        ranges = table.range_m
        if any(after <= before for before, after in pairwise(ranges)):
            yield Problem(
                f"{name}.range_m",
                "the values do not rise from one to the next.",
                "Order the table from the ramp aft, the other lists with it.",
            )
        for key in table.__struct_fields__:
            size = len(getattr(table, key))
            if size != len(ranges):
                yield Problem(
                    f"{name}.{key}",
                    f"a list of {size} stands beside {len(ranges)} of range_m.",
                    "Give one number for each range_m.",
                )


def periodic_amplitudes(x, *, pitch_amplitude, wind_over_deck) -> tuple[np.ndarray, np.ndarray]:
    """Return the periodic part's amplitudes along and up, m/s.

    ``x`` in m from the ship's centre of pitch, negative aft; ``pitch_amplitude`` rad;
    ``wind_over_deck`` m/s.
    """
    x = np.asarray(x, dtype=float)
    size = pitch_amplitude * wind_over_deck
    along = np.where(x < ALONG_ENDS, 0.0, size * (ALONG_AT_CENTRE + ALONG_PER_METRE * x))
    return along, np.where(x < UP_ENDS, 0.0, size * (UP_AT_CENTRE + UP_PER_METRE * x))


def periodic_phase(x, time, *, frequency, wind_over_deck):
    """Return the phase of the periodic part, rad, where and when an aircraft now is.

    ``x`` m from the centre of pitch, negative aft; ``frequency`` of the ship's pitch, rad/s.
    The pattern drifts aft at 0.85 of the wind over deck; with the present x the closure of
    the aircraft is counted once.
    """
    return frequency * (time + x / (DRIFT * wind_over_deck))
