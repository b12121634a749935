"""Aircraft profiles from TOML files: the bundled ones and a person's own."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import msgspec

from deckward.aircraft.form import ProfileForm, check
from deckward.aircraft.model import Profile, ProfileSigma
from deckward.foundation.shelf import Shelf
from deckward.foundation.toml_text import toml_text
from deckward.foundation.units import from_si, to_si

SHELF = Shelf("aircraft", "--aircraft", Path(__file__).parent / "bundled")
#: the TOML text of a bundled one, to start a file of one's own from
source = SHELF.source
GENERIC = "generic-jet"
TABLES = ("mass", "aerodynamics", "engine", "launch", "fuel")


def load(name_or_path: str | Path = GENERIC) -> Profile:
    """Read an aircraft profile by its bundled name or from a file.

    Raises:
        InputError: no such aircraft, or a file that is no valid profile.

    >>> load("generic-jet").generic
    True
    """
    form = SHELF.load(name_or_path, ProfileForm, check=check)
    return _profile(form, generic=SHELF.name_of(name_or_path) == GENERIC)


def bundled() -> dict[str, str]:
    """Return the bundled aircraft's names, each with one line about it."""
    return {name: load(name).description for name in SHELF.names()}


def _profile(form: ProfileForm, *, generic: bool) -> Profile:
    points, approach, sigma = form.points_m, form.approach, form.sigma
    pitch = approach.on_speed_pitch_deg
    return Profile(
        name=form.name,
        description=form.description,
        eye=points.eye,
        hook=points.hook,
        main_wheels=points.main_wheels,
        nose_wheel=points.nose_wheel,
        on_speed=to_si(approach.on_speed_deg, "deg"),
        band=_radians(approach.on_speed_band_deg),
        slight_band=_radians(approach.slight_band_deg),
        max_landing_mass=approach.max_landing_mass_kg,
        on_speed_pitch=None if pitch is None else to_si(pitch, "deg"),
        sigma=ProfileSigma(
            eye=sigma.eye_m,
            hook=sigma.hook_m,
            main_wheels=sigma.main_wheels_m,
            nose_wheel=sigma.nose_wheel_m,
            on_speed=to_si(sigma.on_speed_deg, "deg"),
        )
        if sigma
        else ProfileSigma(),
        generic=generic,
        tables={name: table for name in TABLES if (table := _builtins(getattr(form, name)))},
    )


def _builtins(table: msgspec.Struct | None) -> dict[str, Any]:
    """Return a table with its defaults filled in and its absent keys left out."""
    if table is None:
        return {}
    return {key: _plain(value) for key, value in msgspec.structs.asdict(table).items() if value is not None}


def _plain(value: Any) -> Any:
    if isinstance(value, msgspec.Struct):
        return _builtins(value)
    return [_plain(item) for item in value] if isinstance(value, tuple) else value


def _radians(pair: tuple[float, float]) -> tuple[float, float]:
    return to_si(pair[0], "deg"), to_si(pair[1], "deg")


def text(profile: Profile) -> str:
    """Write a profile as the text of its file.

    >>> "on_speed_deg = 8.0" in text(load("sandlark"))
    True
    """
    sigma = profile.sigma
    pitch = profile.on_speed_pitch
    known = {
        "eye_m": sigma.eye,
        "hook_m": sigma.hook,
        "main_wheels_m": sigma.main_wheels,
        "nose_wheel_m": sigma.nose_wheel,
        "on_speed_deg": _degrees(sigma.on_speed),
    }
    return toml_text(
        {
            "name": profile.name,
            "description": profile.description or None,
            "points_m": {
                "eye": profile.eye,
                "hook": profile.hook,
                "main_wheels": profile.main_wheels,
                "nose_wheel": profile.nose_wheel,
            },
            "approach": {
                "on_speed_deg": _degrees(profile.on_speed),
                "on_speed_band_deg": [_degrees(angle) for angle in profile.band],
                "slight_band_deg": [_degrees(angle) for angle in profile.slight_band],
                "on_speed_pitch_deg": None if pitch is None else _degrees(pitch),
                "max_landing_mass_kg": profile.max_landing_mass,
            },
            "sigma": known if sigma != ProfileSigma() else None,
            **profile.tables,
        }
    )


def _degrees(angle: float) -> float:
    return round(float(from_si(angle, "deg")), 4)
