"""Before the flight, by chance: what becomes of many passes, and how it changes with the day."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct

from deckward import aircraft as profiles
from deckward import prediction
from deckward import site as sites
from deckward.environment import airwake as airwakes
from deckward.environment import sea as seas
from deckward.errors import InputError
from deckward.foundation import documents
from deckward.foundation.units import to_si
from deckward.prediction import pilots
from deckward.reports.studies.model import Case, Input, StudyReport
from deckward.workflow import folder, options, study_document
from deckward.workflow.published import encode

#: what a study flies where nothing else is said
SITE, AIRCRAFT = "wintermere", "sandlark"
COUNT = 2000
LIGHTS = ("day", "night")
GUSTS = ("free-air", "low-altitude", "none")
#: more cases than this are a slip of a step
MOST_CASES = 400
#: sea states that a deck is still in
_STILL = (0, 1)

Values = float | str | Sequence[float | str]


class Studied(Struct, frozen=True):
    """A study; ``files`` names what was written, the page first, empty where nothing was asked for."""

    report: StudyReport
    files: tuple[Path, ...] = ()

    def to_dict(self) -> dict[str, Any]:
        """Return the published object as dicts and lists, edge units in its keys."""
        return msgspec.to_builtins(study_document.document(self.report))

    def to_json(self) -> str:
        """Return the published object as JSON text."""
        return encode(study_document.document(self.report))

    def to_text(self, *, plain: bool = False) -> str:
        """Return the study as lines of text; ``plain`` keeps to ASCII."""
        from deckward.reports.studies import render

        return render(self.report, plain=plain)


def study(
    *,
    site: str | Path = SITE,
    aircraft: Values = AIRCRAFT,
    mass_lb: Values | None = None,
    wind_kt: Values = 25.0,
    crosswind_kt: Values = 0.0,
    ship_speed_kt: Values = 15.0,
    sea: Values = 0,
    sea_from_bow_deg: Values = 0.0,
    airwake_pct: Values = 100.0,
    gusts: Values = "free-air",
    light: Values = "day",
    pilot: Values = pilots.STANDARD,
    officer: Values = "yes",
    start_nm: Values = 0.75,
    number: int = COUNT,
    seed: int = 0,
    out: str | Path | None = None,
    progress: Callable[[str], None] | None = None,
) -> Studied:
    """Fly many passes by chance and say what became of them.

    Every input takes several values, as a sequence or as text ("15,20,25", "15:35:5"); at most
    two inputs may. All cases meet the same chance, so that they differ by their inputs alone.

    Args:
        site: a bundled ship or a file.
        aircraft: the same for the jet; it needs aerodynamics and an engine.
        mass_lb: landing mass; the jet's own where not given.
        wind_kt: wind over deck down the landing area.
        crosswind_kt: wind over deck across it, + from starboard.
        ship_speed_kt: the ship's share of the wind; the sea meets her at this speed, too.
        sea: sea state, 0 to 7; the deck is still in 0 and 1.
        sea_from_bow_deg: where the sea comes from, right of the bow; 0 is a head sea.
        airwake_pct: strength of the ship's airwake.
        gusts: "free-air", "low-altitude" or "none".
        light: "day" or "night".
        pilot: "standard" or a pilot file.
        officer: "yes" or "no": whether a landing signal officer waves off.
        start_nm: where the passes start, aft of the ramp.
        number: passes a case.
        seed: of all chance; the same one gives the same passes.
        out: folder for page, figures and tables; nothing is left there on a failure.
        progress: called with a few words before each case.

    Raises:
        InputError: an input that cannot be used, or a jet that cannot hold the path.
    """
    count = round(options.number("number", number, 10, 1_000_000))
    given = round(options.number("seed", seed, 0, 2**53))
    if out is not None:
        folder.check(Path(out))
    deck = sites.load(site)
    if deck.is_field:
        raise InputError(f"{deck.name} is a field.", place="--site", remedy="Name a ship: deckward sites.")
    inputs = (
        _texts("aircraft", "jet", aircraft),
        _numbers("mass_lb", "mass", "lb", mass_lb, 1000.0, 300_000.0),
        _numbers("wind_kt", "wind", "kt", wind_kt, 0.0, 70.0),
        _numbers("crosswind_kt", "crosswind", "kt", crosswind_kt, -30.0, 30.0),
        _numbers("ship_speed_kt", "ship", "kt", ship_speed_kt, 0.0, options.FASTEST_SHIP_KT),
        _numbers("sea", "sea state", "", sea, 0, 7, whole=True),
        _numbers("sea_from_bow_deg", "sea from the bow", "deg", sea_from_bow_deg, 0.0, 360.0),
        _numbers("airwake_pct", "airwake", "%", airwake_pct, 0.0, 300.0),
        _texts("gusts", "gusts", gusts, GUSTS),
        _texts("light", "light", light, LIGHTS),
        _texts("pilot", "pilot", pilot),
        _texts("officer", "landing signal officer", officer, ("yes", "no")),
        _numbers("start_nm", "start", "nm", start_nm, 0.2, 2.0),
    )
    _few(inputs)
    jets = _jets(inputs)
    cases = []
    names = [one.name for one in inputs]
    every = list(itertools.product(*(one.values for one in inputs)))
    for place, values in enumerate(every, start=1):
        told = dict(zip(names, values, strict=True))
        if progress:
            progress(f"case {place} of {len(every)}")
        cases.append(Case(told, _fly(deck, jets, told, count=count, seed=given)))
    report = StudyReport(
        site=deck,
        inputs=tuple(one for one in inputs if one.values != (_OWN,)),
        count=count,
        seed=given,
        cases=tuple(cases),
    )
    if out is None:
        return Studied(report)
    if progress:
        progress("drawing")
    from deckward.reports.studies import write

    *rest, index = write(report, out)
    return Studied(report, (index, *rest))


#: the jet's own mass, whatever it is
_OWN = "own"


def _fly(deck, jets, told: dict[str, Any], *, count: int, seed: int) -> prediction.Study:
    """Fly one case."""
    night = told["light"] == "night"
    mass = told["mass_lb"]
    model = prediction.model_of(jets[told["aircraft"]], mass=None if mass == _OWN else to_si(mass, "lb"))
    speed = to_si(told["ship_speed_kt"], "kt")
    motion = (
        seas.still_deck()
        if told["sea"] in _STILL
        else seas.deck_motion(
            seas.sea_state(round(told["sea"])),
            seas.Hull(),
            speed=speed,
            heading=math.pi - to_si(told["sea_from_bow_deg"], "deg"),
            seed=seed,
        )
    )
    day = prediction.Conditions(
        headwind=to_si(told["wind_kt"], "kt"),
        crosswind=to_si(told["crosswind_kt"], "kt"),
        ship_speed=speed,
        motion=motion,
        gusts=told["gusts"],
        airwake=airwakes.load() if told["airwake_pct"] else None,
        airwake_strength=to_si(told["airwake_pct"], "pct"),
    )
    return prediction.study(
        model,
        deck,
        day,
        pilot=pilots.load(told["pilot"], night=night),
        officer=prediction.Officer(active=1.0 if told["officer"] == "yes" else 0.0),
        start_range=to_si(told["start_nm"], "nm"),
        count=count,
        seed=seed,
    )


def _jets(inputs: Iterable[Input]) -> dict[str, Any]:
    """Read the jets and the pilots before any pass is flown, so that a slip is told at once."""
    by_name = {one.name: one.values for one in inputs}
    for light, pilot in itertools.product(by_name["light"], by_name["pilot"]):
        pilots.load(str(pilot), night=light == "night")
    jets = {str(name): profiles.load(str(name)) for name in by_name["aircraft"]}
    for jet in jets.values():
        prediction.model_of(jet)
    return jets


def _few(inputs: Iterable[Input]) -> None:
    """Refuse more than two inputs that vary, and more cases than anybody means."""
    varied = [one for one in inputs if len(one.values) > 1]
    if len(varied) > 2:
        names = ", ".join(f"--{one.name.replace('_', '-')}" for one in varied)
        raise InputError(
            f"{len(varied)} options have several values: {names}.",
            remedy="Give several values to two options at most.",
        )
    cases = math.prod(len(one.values) for one in varied)
    if cases > MOST_CASES:
        raise InputError(f"that makes {cases} cases.", remedy=f"At most {MOST_CASES} are flown at once.")


def _parts(name: str, values) -> list:
    """Split several values; a range LOW:HIGH:STEP is spelt out."""
    if isinstance(values, str):
        parts = [part.strip() for part in values.split(",")]
    elif isinstance(values, (list, tuple)):
        parts = list(values)
    else:
        parts = [values]
    if not parts or "" in parts:
        raise InputError("a value is missing.", place=name, remedy="Give values parted by commas.")
    return list(dict.fromkeys(parts))


def _numbers(
    name: str, title: str, unit: str, values, low: float, high: float, *, whole: bool = False
) -> Input:
    if values is None:
        return Input(name, title, unit, (_OWN,))
    found: list[float] = []
    for part in _parts(name, values):
        found += _range(name, part) if isinstance(part, str) and ":" in part else [part]
    checked = [options.number(name, value, low, high) for value in found]
    if whole and any(value != round(value) for value in checked):
        raise InputError("this takes whole numbers.", place=name, remedy=f"Give {low:g} to {high:g}.")
    return Input(name, title, unit, tuple(dict.fromkeys(checked)))


def _range(name: str, text: str) -> list[float]:
    """Spell out LOW:HIGH:STEP, both ends among it."""
    bounds = [options.finite(name, part) for part in text.split(":")]
    if len(bounds) != 3 or bounds[2] <= 0.0 or bounds[1] < bounds[0]:
        raise InputError(f"{text!r} is no range.", place=name, remedy="Give LOW:HIGH:STEP, such as 15:35:5.")
    low, high, step = bounds
    steps = (high - low) / step
    if steps > MOST_CASES:
        raise InputError(
            f"{text!r} has more than {MOST_CASES} values.", place=name, remedy="Take a longer step."
        )
    return [round(low + k * step, 9) for k in range(math.floor(steps + 1e-9) + 1)]


def _texts(name: str, title: str, values, choices: Sequence[str] = ()) -> Input:
    found = [str(part) for part in _parts(name, values if not isinstance(values, Path) else str(values))]
    for value in found:
        if choices and value not in choices:
            guess = documents.nearest(value, choices)
            raise InputError(
                f"{value!r} is not a choice.{f' Did you mean {guess}?' if guess else ''}",
                place=name,
                remedy=f"Choose from {', '.join(choices)}.",
            )
    return Input(name, title, "", tuple(found))
