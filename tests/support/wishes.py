"""The day pattern as a scenario without a word about it has it, changes to that, and where it ends."""

from __future__ import annotations

from msgspec.structs import replace

from deckward import planning
from deckward.aircraft.model import Profile
from deckward.environment import atmosphere
from deckward.foundation.units import KNOT
from deckward.planning import approach
from deckward.planning.scenario import Pattern
from deckward.site.model import Site

USUAL = planning.load(typed={"wind.from_deg": 0, "wind.speed_kt": 0}).pattern


def wanted(**changes) -> Pattern:
    return replace(USUAL, **changes)


def aim_at(site: Site, profile: Profile, *, along: float = 25.0 * KNOT) -> approach.Aim:
    """Where a jet of its file's own mass meets the deck, with a wind down the landing area."""
    setting = approach.Setting(profile, site, atmosphere.standard(20.0), along, 0.0, site.lens.basic_angle)
    return approach.aim(setting, approach.fly(setting, profile.tables["mass"]["reference_kg"]))
