"""The form of a site file: its keys, their ranges, and what each of them is."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Annotated, Literal

from msgspec import Meta

from deckward.foundation.documents import Problem, Table

Offset = Annotated[float, Meta(ge=-5000, le=5000)]
Spread = Annotated[float, Meta(ge=0, le=50)]
Place3 = tuple[Offset, Offset, Offset]


class PlaceForm(Table):
    """Where a field is."""

    latitude_deg: Annotated[float, Meta(ge=-90, le=90, description="of the reference point, + north")]
    longitude_deg: Annotated[float, Meta(ge=-180, le=180, description="of the reference point, + east")]
    elevation_m: Annotated[
        float, Meta(ge=-500, le=6000, description="height of the reference point above the sea")
    ]
    heading_deg: Annotated[
        float, Meta(ge=0, le=360, description="true heading of the landing area, clockwise from north")
    ]


class LandingAreaForm(Table):
    """Where aircraft land."""

    ramp_m: Annotated[
        Place3,
        Meta(description="ramp centre at deck level from the reference point: forward, starboard, down"),
    ]
    length_m: Annotated[float, Meta(ge=20, le=6000, description="length of the landing area from the ramp")]
    width_m: Annotated[float, Meta(ge=3, le=200, description="width of the landing area")]
    angle_deg: Annotated[
        float, Meta(ge=0, le=30, description="angle of the landing area to port of the keel")
    ] = 0.0


class WiresForm(Table):
    """The wires."""

    positions_m: Annotated[
        tuple[Annotated[float, Meta(gt=0, le=6000)], ...],
        Meta(min_length=1, max_length=12, description="distance of each wire past the ramp, aft first"),
    ]
    height_m: Annotated[
        float, Meta(ge=0, le=1, description="height above the deck at which a hook takes a wire")
    ]


class LensForm(Table):
    """The optical landing aid."""

    position_m: Annotated[
        Place3, Meta(description="the lens from the ramp, along the landing area: forward, starboard, up")
    ]
    basic_angle_deg: Annotated[float, Meta(ge=1, le=10, description="glide-path angle that the lens shows")]
    cells: Annotated[int, Meta(ge=2, le=60, description="number of cells, top to bottom")]
    cell_deg: Annotated[float, Meta(ge=0.01, le=2, description="vertical angle that one cell covers")]
    red_cells: Annotated[int, Meta(ge=0, le=59, description="number of red cells, counted from the bottom")]
    hook_target_m: Annotated[
        float,
        Meta(gt=0, le=6000, description="where a hook on path and on speed meets the deck, past the ramp"),
    ]
    stabilisation: Annotated[
        Literal["line", "inertial", "none"], Meta(description="what the lens does when the deck moves")
    ]
    #: published: 150 ft (NAVEDTRA 14342A)
    image_distance_m: Annotated[
        float, Meta(ge=1, le=1000, description="distance of the ball's image behind the window")
    ] = 45.72
    #: published: a box about 4 ft high (CNATRA P-1211)
    window_height_m: Annotated[float, Meta(ge=0.1, le=10, description="height of the lens's window")] = 1.22


class MotionForm(Table):
    """How the ship moves."""

    centre_m: Annotated[
        Place3, Meta(description="centre of pitch from the reference point: forward, starboard, down")
    ] = (0.0, 0.0, 0.0)


class SigmaForm(Table):
    """How well the site is known: one standard deviation of each."""

    ramp_m: Annotated[tuple[Spread, Spread, Spread], Meta(description="of ramp_m, each direction")] = (
        0.0,
        0.0,
        0.0,
    )
    angle_deg: Annotated[float, Meta(ge=0, le=10, description="of angle_deg")] = 0.0
    wires_m: Annotated[Spread, Meta(description="of the wires' positions")] = 0.0
    lens_m: Annotated[tuple[Spread, Spread, Spread], Meta(description="of the lens's position_m")] = (
        0.0,
        0.0,
        0.0,
    )


class SiteForm(Table):
    """A site file."""

    name: Annotated[str, Meta(min_length=1, max_length=80, description="what the site is called")]
    kind: Annotated[Literal["ship", "field"], Meta(description="whether it moves")]
    landing_area: LandingAreaForm
    lens: LensForm
    description: Annotated[str, Meta(max_length=400, description="one line about it, for lists")] = ""
    wires: WiresForm | None = None
    place: PlaceForm | None = None
    motion: MotionForm | None = None
    sigma: SigmaForm | None = None


def check(form: SiteForm) -> Iterator[Problem]:
    """Yield what no single key of a site file can show."""
    yield from _check_kind(form)
    yield from _check_wires(form)
    yield from _check_lens(form)


def _check_kind(form: SiteForm) -> Iterator[Problem]:
    if form.kind == "field":
        if form.place is None:
            yield Problem(
                "place",
                "a field stands somewhere, and this table is missing.",
                "Give [place] with latitude_deg, longitude_deg, elevation_m and heading_deg.",
            )
        if form.landing_area.angle_deg:
            yield Problem(
                "landing_area.angle_deg",
                f"a field's landing area has no angle, and this is {form.landing_area.angle_deg:g}.",
                "Leave the key out and give the landing area's true heading in place.heading_deg.",
            )
    else:
        if form.place is not None:
            yield Problem(
                "place",
                "a ship moves: her place comes from the recording.",
                'Leave [place] out, or set kind = "field".',
            )
        if form.wires is None:
            yield Problem(
                "wires",
                "a ship has wires, and this table is missing.",
                "Give [wires] with positions_m and height_m.",
            )


def _check_wires(form: SiteForm) -> Iterator[Problem]:
    if form.wires is None:
        return
    positions, length = form.wires.positions_m, form.landing_area.length_m
    if any(after <= before for before, after in pairwise(positions)):
        yield Problem(
            "wires.positions_m",
            f"the wires stand in the order {', '.join(f'{x:g}' for x in positions)}.",
            "Count from the ramp: aft first, each farther forward than the one before.",
        )
    if max(positions) >= length:
        yield Problem(
            "wires.positions_m",
            f"a wire at {max(positions):g} m lies past the landing area, which is {length:g} m long.",
            "Give metres past the ramp along the centreline.",
        )


def _check_lens(form: SiteForm) -> Iterator[Problem]:
    lens, length = form.lens, form.landing_area.length_m
    if lens.position_m[0] <= 0:
        yield Problem(
            "lens.position_m",
            f"the lens stands {-lens.position_m[0]:g} m aft of the ramp.",
            "Its first number is metres forward of the ramp, along the landing area.",
        )
    if abs(lens.position_m[2]) > 100:
        yield Problem(
            "lens.position_m",
            f"the lens stands {lens.position_m[2]:g} m above the deck.",
            "Its third number is metres up from deck level (this one counts up, not down).",
        )
    if lens.red_cells >= lens.cells:
        yield Problem(
            "lens.red_cells",
            f"{lens.red_cells} red cells of {lens.cells} leave none for the path.",
            "Give the number of red cells at the bottom, fewer than cells.",
        )
    fan = lens.cells * lens.cell_deg
    if fan / 2 >= lens.basic_angle_deg:
        yield Problem(
            "lens.cell_deg",
            f"{lens.cells} cells of {lens.cell_deg:g} deg reach {fan / 2:.2f} deg below a path of "
            f"{lens.basic_angle_deg:g} deg: into the deck.",
            "Give the angle of one cell, not of the whole lens (8.5 minutes of arc are 0.1417).",
        )
    if lens.hook_target_m >= length:
        yield Problem(
            "lens.hook_target_m",
            f"the hook would meet the deck {lens.hook_target_m:g} m past the ramp, where the landing area "
            f"({length:g} m) has ended.",
            "Give metres past the ramp along the centreline.",
        )
    clearance = lens.hook_target_m * math.tan(math.radians(lens.basic_angle_deg))
    if form.kind == "ship" and clearance < 0.5:
        yield Problem(
            "lens.hook_target_m",
            f"a hook on the path would cross the ramp {clearance:.2f} m above it.",
            "A ship's path clears the ramp by metres: give the hook target in metres past the ramp.",
        )
