"""Invented ships, fields and jets of the flown passes, in the shape of the project's TOML files."""

from __future__ import annotations

import copy

from fly_jet import TYPES
from fly_record import toml

__all__ = ["FIELDS", "SHIPS", "aircraft_file", "field", "ship", "toml"]


def _ship(name, angle, ramp, length, width, wires, height, lens, target, **more):
    lens_table = {
        "position_m": lens,
        "basic_angle_deg": more.get("basic", 3.5),
        "cells": more.get("cells", 12),
        "cell_deg": more.get("cell", 0.1417),
        "red_cells": 2,
        "hook_target_m": target,
        "stabilisation": "line",
    }
    return {
        "name": name,
        "kind": "ship",
        "landing_area": {"angle_deg": angle, "ramp_m": ramp, "length_m": length, "width_m": width},
        "wires": {"positions_m": wires, "height_m": height},
        "lens": lens_table,
    }


SHIPS = {  # name -> (site, height of the reference point over the sea)
    "halcyon": (
        _ship("Halcyon", 9.0, [-152.4, 1.83, 0.0], 231.6, 27.4, [51.8, 64.0, 76.2, 88.4], 0.107,
              [128.0, -18.9, 0.99], 70.1),
        19.5,
    ),
    "petrel": (
        _ship("Petrel", 9.6, [-156.97, 3.05, 0.0], 236.2, 27.4, [54.25, 67.67, 81.08], 0.122,
              [126.5, -20.1, 0.31], 65.5),
        19.6,
    ),
    "kestrel": (
        _ship("Kestrel", 8.0, [-128.0, 3.4, -18.7], 218.0, 25.5, [48.0, 60.5, 73.0, 85.5], 0.1,
              [121.0, -21.5, 1.4], 66.5),
        0.0,
    ),
    "tern": (
        _ship("Tern", 10.5, [-212.0, -11.5, 4.2], 205.0, 24.0, [41.0, 52.0, 63.0], 0.09,
              [104.0, -17.0, 1.8], 54.0, basic=4.0, cells=12, cell=0.12),
        24.0,
    ),
}  # fmt: skip

FIELDS = {
    "sandholm": {
        "name": "Sandholm practice field",
        "kind": "field",
        "place": {
            "latitude_deg": 56.1234, "longitude_deg": 9.4321, "elevation_m": 52.0, "heading_deg": 273.0,
        },
        "landing_area": {"angle_deg": 0.0, "ramp_m": [0.0, 0.0, 0.0], "length_m": 2300.0, "width_m": 45.0},
        "lens": {
            "position_m": [205.0, -27.0, 1.6], "basic_angle_deg": 3.25, "cells": 12, "cell_deg": 0.1417,
            "red_cells": 2, "hook_target_m": 150.0, "stabilisation": "line",
        },
    },
    "dry gulch": {
        "name": "Dry Gulch field",
        "kind": "field",
        "place": {
            "latitude_deg": -33.9871, "longitude_deg": 18.6029, "elevation_m": 1210.0, "heading_deg": 12.5,
        },
        "landing_area": {"angle_deg": 0.0, "ramp_m": [-300.0, 0.0, 0.0], "length_m": 2000.0, "width_m": 40.0},
        "wires": {"positions_m": [160.0, 175.0], "height_m": 0.1},
        "lens": {
            "position_m": [230.0, -24.0, 1.2], "basic_angle_deg": 3.5, "cells": 10, "cell_deg": 0.15,
            "red_cells": 2, "hook_target_m": 168.0, "stabilisation": "line",
        },
    },
}  # fmt: skip


def ship(key, **lens):
    """A copy of a ship's site (lens keys replaced) and her reference height."""
    site, height = SHIPS[key]
    site = copy.deepcopy(site)
    site["lens"].update(lens)
    return site, height


def field(key, **lens):
    site = copy.deepcopy(FIELDS[key])
    site["lens"].update(lens)
    return site


def aircraft_file(model, points, reference, pitch_given):
    """The aircraft's TOML dictionary, points moved to the recorded reference point."""
    kind = TYPES[model]
    on = kind.on_speed

    def moved(name):
        return [round(a - b, 6) for a, b in zip(points[name], reference, strict=True)]

    approach = {"on_speed_deg": on}
    if pitch_given is not None:
        approach["on_speed_pitch_deg"] = pitch_given
    approach["on_speed_band_deg"] = [round(on - 0.7, 2), round(on + 0.7, 2)]
    approach["slight_band_deg"] = [round(on - 1.2, 2), round(on + 1.2, 2)]
    approach["max_landing_mass_kg"] = 16000
    return {
        "name": {"A4": "Light jet", "F4N": "Heavy jet"}[model],
        "points_m": {name: moved(name) for name in ("eye", "hook", "main_wheels", "nose_wheel")},
        "approach": approach,
    }
