"""Sites from TOML files: the bundled ones and a person's own."""

from __future__ import annotations

import math
from pathlib import Path

from deckward.foundation.shelf import Shelf
from deckward.foundation.toml_text import toml_text
from deckward.foundation.units import from_si, to_si
from deckward.site.form import SiteForm, check
from deckward.site.model import Lens, Place, Site, SiteSigma, Wires

SHELF = Shelf("site", "--site", Path(__file__).parent / "bundled")
#: the TOML text of a bundled one, to start a file of one's own from
source = SHELF.source
GENERIC = "generic-ship"


def load(name_or_path: str | Path = GENERIC) -> Site:
    """Read a site by its bundled name or from a file.

    Raises:
        InputError: no such site, or a file that is no valid site.

    >>> load("generic-ship").generic
    True
    """
    form = SHELF.load(name_or_path, SiteForm, check=check)
    return _site(form, generic=SHELF.name_of(name_or_path) == GENERIC)


def bundled() -> dict[str, str]:
    """Return the bundled sites' names, each with one line about it."""
    return {name: load(name).description for name in SHELF.names()}


def _site(form: SiteForm, *, generic: bool) -> Site:
    area, lens, sigma = form.landing_area, form.lens, form.sigma
    return Site(
        name=form.name,
        description=form.description,
        kind=form.kind,
        angle=to_si(area.angle_deg, "deg"),
        ramp=area.ramp_m,
        length=area.length_m,
        width=area.width_m,
        lens=Lens(
            position=lens.position_m,
            basic_angle=to_si(lens.basic_angle_deg, "deg"),
            cells=lens.cells,
            cell=to_si(lens.cell_deg, "deg"),
            red_cells=lens.red_cells,
            hook_target=lens.hook_target_m,
            stabilisation=lens.stabilisation,
            image_distance=lens.image_distance_m,
            window_height=lens.window_height_m,
        ),
        wires=Wires(form.wires.positions_m, form.wires.height_m) if form.wires else None,
        place=Place(
            latitude=to_si(form.place.latitude_deg, "deg"),
            longitude=to_si(form.place.longitude_deg, "deg"),
            elevation=form.place.elevation_m,
            heading=to_si(form.place.heading_deg, "deg") % (2 * math.pi),
        )
        if form.place
        else None,
        centre=form.motion.centre_m if form.motion else (0.0, 0.0, 0.0),
        sigma=SiteSigma(
            ramp=sigma.ramp_m, angle=to_si(sigma.angle_deg, "deg"), wires=sigma.wires_m, lens=sigma.lens_m
        )
        if sigma
        else SiteSigma(),
        generic=generic,
    )


def text(site: Site) -> str:
    """Write a site as the text of its file.

    >>> "positions_m = [51.816" in text(load("generic-ship"))
    True
    """
    lens, sigma, place = site.lens, site.sigma, site.place
    known = {
        "ramp_m": sigma.ramp,
        "angle_deg": _degrees(sigma.angle),
        "wires_m": sigma.wires,
        "lens_m": sigma.lens,
    }
    return toml_text(
        {
            "name": site.name,
            "kind": site.kind,
            "description": site.description or None,
            "place": place
            and {
                "latitude_deg": _degrees(place.latitude, 9),
                "longitude_deg": _degrees(place.longitude, 9),
                "elevation_m": place.elevation,
                "heading_deg": _degrees(place.heading),
            },
            "landing_area": {
                "angle_deg": _degrees(site.angle),
                "ramp_m": site.ramp,
                "length_m": site.length,
                "width_m": site.width,
            },
            "wires": site.wires and {"positions_m": site.wires.positions, "height_m": site.wires.height},
            "lens": {
                "position_m": lens.position,
                "basic_angle_deg": _degrees(lens.basic_angle),
                "cells": lens.cells,
                "cell_deg": _degrees(lens.cell),
                "red_cells": lens.red_cells,
                "hook_target_m": lens.hook_target,
                "stabilisation": lens.stabilisation,
                "image_distance_m": lens.image_distance,
                "window_height_m": lens.window_height,
            },
            "motion": {"centre_m": site.centre} if any(site.centre) else None,
            "sigma": known if sigma != SiteSigma() else None,
        }
    )


def _degrees(angle: float, digits: int = 4) -> float:
    return round(float(from_si(angle, "deg")), digits)
