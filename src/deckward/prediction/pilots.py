"""Pilots as files: the bundled hands by day and by night, and a person's own."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from msgspec import Meta

from deckward.errors import InputError
from deckward.foundation import documents
from deckward.foundation.documents import Table
from deckward.foundation.toml_text import toml_text
from deckward.foundation.units import from_si, to_si
from deckward.prediction.scene import NIGHT, Pilot

STANDARD = "standard"
#: seconds, angles, and gains by their size; far outside what anybody flies
Seconds = Annotated[float, Meta(ge=0, le=5)]
Lasting = Annotated[float, Meta(ge=0.1, le=60)]
Angle = Annotated[float, Meta(ge=0, le=5)]
Gain = Annotated[float, Meta(ge=0, le=5)]
Share = Annotated[float, Meta(ge=0, le=1)]


class PilotForm(Table):
    """A pilot file; what is left out is the standard pilot's."""

    name: str
    delay_s: Annotated[Seconds, Meta(description="from eye to hand")] | None = None
    threshold_deg: Annotated[Angle, Meta(description="ball error that is not seen")] | None = None
    height_gain: Annotated[Gain, Meta(description="power for height, weights a metre")] | None = None
    rate_gain: Annotated[Gain, Meta(description="power for sink, weights a m/s")] | None = None
    climb_gain: Annotated[Gain, Meta(description="power for what is felt, weights a m/s2")] | None = None
    settle_gain: Annotated[Gain, Meta(description="power set anew, weights a m s")] | None = None
    nose_lead: Annotated[Gain, Meta(description="nose for the ball, rad a m/s")] | None = None
    nose_lead_limit_deg: Annotated[Angle, Meta(description="the most of it")] | None = None
    line_up_gain: Annotated[Gain, Meta(description="turn for the offset, m/s2 a metre")] | None = None
    line_up_rate_gain: Annotated[Gain, Meta(description="turn for the drift, m/s2 a m/s")] | None = None
    line_up_settle_gain: Annotated[Gain, Meta(description="turn for what remains")] | None = None
    line_up_threshold_deg: Annotated[Angle, Meta(description="line-up error not seen")] | None = None
    bank_limit_deg: Annotated[float, Meta(ge=1, le=45, description="the most bank")] | None = None
    bank_power: Annotated[Gain, Meta(description="power for the lift lost in a bank, 1 all")] | None = None
    hand_rate: Annotated[float, Meta(ge=0.05, le=20, description="lever's travel a second")] | None = None
    eye_noise_deg: Annotated[Angle, Meta(description="slow error of the ball as seen")] | None = None
    eye_time_s: Annotated[Lasting, Meta(description="how long it lasts")] | None = None
    hand_noise: Annotated[Share, Meta(description="error of the hand, of the travel")] | None = None
    hand_time_s: Annotated[Lasting, Meta(description="how long it lasts")] | None = None
    side_noise_deg: Annotated[Angle, Meta(description="slow error of line-up as seen")] | None = None
    side_time_s: Annotated[Lasting, Meta(description="how long it lasts")] | None = None
    alpha_noise_deg: Annotated[Angle, Meta(description="error of angle of attack")] | None = None
    alpha_time_s: Annotated[Lasting, Meta(description="how long it lasts")] | None = None
    reaction_s: Annotated[Seconds, Meta(description="from a wave-off's signal to full power")] | None = None
    rotation_deg: Annotated[Angle, Meta(description="nose over on-speed in a wave-off")] | None = None
    hook_skip: Annotated[Share, Meta(description="chance that a wire does not hold")] | None = None
    aim_m: Annotated[float, Meta(ge=-5, le=5, description="habit: held so far over the path")] | None = None
    alpha_habit_deg: Annotated[float, Meta(ge=-5, le=5, description="habit: flown so slow")] | None = None


#: the keys of a file by the pilot's fields, with their units
_KEYS = {
    field: next(
        (field + tail, tail[1:]) for tail in ("", "_s", "_deg", "_m") if hasattr(PilotForm, field + tail)
    )
    for field in Pilot._fields
}


def key_of(field: str) -> tuple[str, str]:
    """Return a pilot's key in a file, and its unit, by the field's name.

    >>> key_of("eye_noise")
    ('eye_noise_deg', 'deg')
    """
    return _KEYS[field]


def load(name_or_path: str | Path = STANDARD, *, night: bool = False) -> Pilot:
    """Read a pilot: "standard", or a file whose missing keys are the standard pilot's.

    At ``night`` the standard pilot is the one at night.

    Raises:
        InputError: no such file, or one that is no pilot.
    """
    usual = NIGHT if night else Pilot()
    if str(name_or_path).strip().casefold() == STANDARD:
        return usual
    if not Path(name_or_path).exists():
        raise InputError(
            f"there is no pilot and no file of the name '{documents.clip(str(name_or_path), 200)}'.",
            place="--pilot",
            remedy=f"Say {STANDARD}, or give the path of a pilot file.",
        )
    form = documents.load(name_or_path, PilotForm)
    told = {field: (getattr(form, key), unit) for field, (key, unit) in _KEYS.items()}
    return usual._replace(
        **{field: to_si(float(value), unit) for field, (value, unit) in told.items() if value is not None}
    )


def text(pilot: Pilot, *, name: str, comment: str = "") -> str:
    """Write a pilot as the text of its file."""
    table: dict[str, object] = {"name": name}
    for field, (key, unit) in _KEYS.items():
        table[key] = round(float(from_si(getattr(pilot, field), unit)), 6)
    head = "".join(f"# {line}\n" for line in comment.splitlines())
    return head + toml_text(table)
