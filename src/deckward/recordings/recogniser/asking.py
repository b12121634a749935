"""The questions that data alone cannot answer, in a person's words."""

from __future__ import annotations

from msgspec.structs import replace

from deckward.recordings.columns import IGNORE, Rule
from deckward.recordings.drafted import Choice, Question
from deckward.recordings.quantities import SHIP_PREFIX
from deckward.recordings.recogniser.findings import Finding

UNIT_WORDS = {
    "m": "metres",
    "ft": "feet",
    "kt": "knots",
    "mps": "metres a second",
    "kmh": "kilometres an hour",
    "mph": "statute miles an hour",
    "km": "kilometres",
    "mrad": "milliradians",
    "fps": "feet a second",
    "fpm": "feet a minute",
    "deg": "degrees",
    "rad": "radians",
    "pct": "per cent",
}
_LEAVE_OUT = "leave it out"
#: columns offered for a quantity that no name tells
_MOST_COLUMNS = 24


def quoted(findings: list[Finding]) -> str:
    """Name columns in a sentence."""
    names = [repr(finding.name) for finding in findings]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def changed(
    finding: Finding, *, quantity: str | None = None, unit: str | None = None, sign: int | None = None
) -> Rule:
    """Give a finding's rule with another quantity, unit or sign."""
    rule = finding.rule()
    return replace(
        rule,
        quantity=quantity or rule.quantity,
        unit=unit or rule.unit,
        sign=rule.sign if sign is None else sign,
    )


def left_out(finding: Finding) -> Rule:
    """Give the rule that leaves a column out."""
    return replace(finding.rule(), quantity=IGNORE, unit=None, sign=1)


def _question(findings: list[Finding], question: str, choices: list[Choice]) -> Question:
    for finding in findings:
        finding.asked = True
        finding.confidence = min(finding.confidence, 0.5)
    return Question(tuple(f.name for f in findings), question, tuple(choices))


def which_height_unit(findings: list[Finding], linked: list[tuple[Finding, dict[str, str]]]) -> Question:
    """Ask for the unit of heights; ``linked`` columns change their unit with it."""
    choices = [
        Choice(
            UNIT_WORDS[unit],
            (*(changed(f, unit=unit) for f in findings), *(changed(f, unit=by[unit]) for f, by in linked)),
        )
        for unit in ("m", "ft")
    ]
    for finding, _ in linked:
        finding.asked = True
    every = [*findings, *(finding for finding, _ in linked)]
    return _question(every, f"Is {quoted(findings)} in metres or in feet? The flight does not tell.", choices)


def which_speed(finding: Finding) -> Question:
    """Ask what a speed is of: through the air true or indicated, or over ground."""
    choices = [
        Choice("true airspeed", (changed(finding, quantity="true_airspeed"),)),
        Choice("indicated airspeed", (changed(finding, quantity="indicated_airspeed"),)),
        Choice("speed over ground, or something else: leave it out", (left_out(finding),)),
    ]
    return _question([finding], f"Which speed is {quoted([finding])}? Its name does not say.", choices)


def which_speed_unit(finding: Finding) -> Question:
    """Ask for the unit of a speed."""
    choices = [
        Choice(UNIT_WORDS[unit], (changed(finding, unit=unit),)) for unit in ("kt", "mps", "kmh", "fps")
    ]
    return _question(
        [finding],
        f"In which unit is {quoted([finding])}?",
        [*choices, Choice(_LEAVE_OUT, (left_out(finding),))],
    )


def pressure_or_not(finding: Finding) -> Question:
    """Ask whether the only altitude, by pressure as its name says, may be taken as the height."""
    choices = [
        Choice("yes, it is the height above the sea", (changed(finding),)),
        Choice("no: leave it out", (left_out(finding),)),
    ]
    return _question(
        [finding],
        f"{quoted([finding])} is the only altitude. By its name it goes by air pressure, and would be off by "
        "what the weather makes of it. Is it the height above the sea all the same?",
        choices,
    )


def which_angle_unit(finding: Finding) -> Question:
    """Ask for the unit of an angle."""
    choices = [Choice(UNIT_WORDS[unit], (changed(finding, unit=unit),)) for unit in ("deg", "rad")]
    return _question([finding], f"Is {quoted([finding])} in degrees or in radians?", choices)


def angle_or_gauge(finding: Finding) -> Question:
    """Ask whether an angle of attack that no pitch can be held against is one, or what a gauge shows."""
    choices = [Choice(UNIT_WORDS[unit], (changed(finding, unit=unit),)) for unit in ("deg", "rad")]
    choices.append(Choice("the units of a gauge: leave it out", (left_out(finding),)))
    return _question(
        [finding],
        f"What does {quoted([finding])} count in? Without a pitch nothing tells an angle from a gauge's own "
        "units.",
        choices,
    )


def true_or_magnetic(findings: list[Finding], off_deg: float | None) -> Question:
    """Ask whether headings count from true or magnetic north; ``off_deg`` off the direction of motion."""
    seen = (
        f"It is {abs(off_deg):.0f} deg off the direction of motion, as wind or magnetic variation make it."
        if off_deg is not None
        else "It follows the motion on one course only, where wind and magnetic variation may cancel."
    )
    choices = [
        Choice("true", tuple(changed(f) for f in findings)),
        Choice(
            "magnetic: leave it out, it is worked out from the motion", tuple(left_out(f) for f in findings)
        ),
    ]
    return _question(
        findings,
        f"Is {quoted(findings)} true or magnetic? {seen}",
        choices,
    )


def which_way_tilted(finding: Finding, quantity: str) -> Question:
    """Ask which way of the ship's pitch or roll counts up."""
    up, down = (
        ("bow up counts up", "bow down counts up")
        if quantity == "pitch"
        else ("starboard side down counts up", "port side down counts up")
    )
    choices = [
        Choice(up, (changed(finding, sign=1),)),
        Choice(down, (changed(finding, sign=-1),)),
        Choice("leave it out, the deck is taken as level", (left_out(finding),)),
    ]
    return _question(
        [finding],
        f"Which way does {quoted([finding])} of the ship count? Nothing in the file shows it.",
        choices,
    )


def which_tilt(finding: Finding, unit: str) -> Question:
    """Ask what a tilt of the ship is at all."""
    ways = [
        ("pitch, bow up counts up", "ship_pitch", 1),
        ("pitch, bow down counts up", "ship_pitch", -1),
        ("roll, starboard side down counts up", "ship_roll", 1),
        ("roll, port side down counts up", "ship_roll", -1),
    ]
    choices = [
        Choice(words, (changed(finding, quantity=quantity, unit=unit, sign=sign),))
        for words, quantity, sign in ways
    ]
    choices.append(Choice(_LEAVE_OUT, (left_out(finding),)))
    return _question([finding], f"What does {quoted([finding])} of the ship tell, and which way?", choices)


def which_way_up(finding: Finding, up: str, down: str) -> Question:
    """Ask for the sign of an angle of the aircraft."""
    choices = [
        Choice(f"{up} counts up", (changed(finding, sign=1),)),
        Choice(f"{down} counts up", (changed(finding, sign=-1),)),
        Choice(_LEAVE_OUT, (left_out(finding),)),
    ]
    return _question(
        [finding], f"Which way does {quoted([finding])} count? The flight does not show it.", choices
    )


def which_hemisphere(finding: Finding, usual: str, other: str) -> Question:
    """Ask for the hemisphere of a latitude or longitude in degrees and minutes that no letter stands by."""
    choices = [
        Choice(f"{usual} counts up", (changed(finding, sign=1),)),
        Choice(f"{other} counts up", (changed(finding, sign=-1),)),
    ]
    return _question(
        [finding],
        f"Is {quoted([finding])} {usual} or {other}? It is in degrees and minutes without the letter of a "
        "hemisphere, and no heading shows it.",
        choices,
    )


def how_it_lies(
    axes: list[Finding],
    headings: list[Finding],
    rolls: list[Finding],
    choices: list[tuple[str, tuple[Rule, ...]]],
) -> Question:
    """Ask how positions lie and headings count, where several ways look the same in the data."""
    seen = " Mirror images look the same in the data." if headings else " Nothing in the data tells it."
    return _question(
        [*axes, *headings, *rolls],
        f"How do {quoted([f for f in axes if not f.ship] or axes)} count?{seen}",
        [Choice(words, rules) for words, rules in choices],
    )


def which_axes(crafts: list[list[Finding]]) -> Question:
    """Ask which way the axes x, y and z point, by the usual ways to lay them; for each craft alike."""
    findings = [finding for three in crafts for finding in three]
    letters = {f.name: next(g.quantity for g in f.guesses if g.quantity in "xyz") for f in findings}
    choices = []
    for way in _USUAL_AXES:
        meant = dict(zip("xyz", way.split(), strict=True))
        rules = []
        for finding in findings:
            quantity, sign = _POINTS[meant[letters[finding.name]]]
            rules.append(changed(finding, quantity=with_prefix(finding, quantity), sign=sign))
        words = ", ".join(f"{letter} {point}" for letter, point in meant.items())
        choices.append(Choice(words, tuple(rules)))
    return _question(
        findings,
        f"Which way do the axes {quoted(crafts[0])} point? The flight is too straight to tell.",
        choices,
    )


#: ways in which recorders lay x, y and z
_USUAL_AXES = (
    "east north up",
    "north east up",
    "east up north",
    "east up south",
    "north up east",
    "north west up",
    "north east down",
)
_POINTS = {
    "north": ("north", 1),
    "south": ("north", -1),
    "east": ("east", 1),
    "west": ("east", -1),
    "up": ("up", 1),
    "down": ("up", -1),
}


def with_prefix(finding: Finding, quantity: str) -> str:
    """Give a quantity of the craft that a finding is of, as a map writes it."""
    return SHIP_PREFIX + quantity if finding.ship else quantity


def which_column(
    quantity: str, likely: list[tuple[Finding, str, str]], *, ship: bool = False, alone: bool = False
) -> Question:
    """Ask which of the columns that nothing tells holds a quantity, and in which unit.

    ``likely``: columns, each with a unit and the quantity that it would be. ``ship``: it is the ship's;
    ``alone``: in a file of her own, where names go without her prefix.
    """
    prefix = SHIP_PREFIX if ship and not alone else ""
    choices = [
        Choice(
            finding.name
            + (f", in {UNIT_WORDS[unit]}" if unit else "")
            + (f", to the {what} of a plane" if what != quantity else ""),
            (replace(finding.rule(), quantity=prefix + what, unit=unit or None, sign=1, asked=False),),
        )
        for finding, unit, what in likely[:_MOST_COLUMNS]
    ]
    choices.append(Choice("none of them", ()))
    findings = list({id(finding): finding for finding, _, _ in likely}.values())
    wanted = ("ship's " if ship else "") + quantity.replace("_", " ")
    also = "" if ship else " (the aircraft's, if a ship is in the file too)"
    question = f"Which column holds the {wanted}{also}? No name and no motion tells."
    return replace(_question(findings, question, choices), opens=prefix + quantity)


def how_fast(findings: list[Finding], likely: float | None) -> Question:
    """Ask how many rows a second there are, where no column holds the time."""
    rates = [1.0, 5.0, 10.0, 20.0, 30.0, 50.0, 60.0, 100.0]
    if likely is not None:
        rates.sort(key=lambda rate: abs(rate - likely))
    choices = [Choice(f"{rate:g} rows a second", (), rate) for rate in rates[:6]]
    return Question(
        tuple(f.name for f in findings),
        "No column holds the time. How many rows a second were recorded"
        + (f" (its speeds ask for about {likely:.0f})?" if likely is not None else "?"),
        tuple(choices),
    )
