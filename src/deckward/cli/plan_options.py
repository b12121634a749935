"""What can be typed behind ``plan``: an option for each fact that a scenario file can tell.

An option is the key of the scenario file with dashes: ``wind.from_deg`` is
``--wind-from-deg``. Only the standard library is imported here, so that help comes at once.
"""

from __future__ import annotations

#: kinds of values: a number, a text, yes or no, numbers parted by commas, pairs of numbers
#: (an option given for each), a table (an option given for each: key=value, parted by commas)
NUMBER, TEXT, YES, NUMBERS, PAIRS, TABLE = "N", "TEXT", "yes|no", "N,N,...", "N,N", "KEY=VALUE,..."

FACTS: tuple[tuple[str, tuple[tuple[str, str, str], ...]], ...] = (
    (
        "the plan, the ship, the jet",
        (
            ("name", TEXT, "what the plan is called"),
            ("description", TEXT, "one line about it"),
            ("time", TEXT, "clock time now, UTC, such as 17:40"),
            ("site", TEXT, "the ship: see deckward sites"),
            ("aircraft", TEXT, "the jet: see deckward aircraft"),
            ("fuel_lb", NUMBER, "fuel at engine start"),
            ("mass_lb", NUMBER, "the whole jet at engine start"),
            ("store", TABLE, "a store: name=pod,mass_lb=310,right_ft=8"),
            ("flight", TABLE, "a flight: name=Larch,count=4,fuel_lb=2300"),
            ("leg", TABLE, "a part of the sortie: name=out,distance_nm=60,airspeed_kt=400"),
        ),
    ),
    (
        "what the ship can do",
        (
            ("ship.course_deg", NUMBER, "true course she steers now"),
            ("ship.speed_kt", NUMBER, "speed she makes now"),
            ("ship.least_speed_kt", NUMBER, "least speed at which she steers"),
            ("ship.greatest_speed_kt", NUMBER, "greatest speed she can make"),
            ("ship.courses_deg", PAIRS, "a sector she may steer, clockwise"),
            ("ship.sea_room_nm", NUMBER, "how far she may run on one course"),
            ("ship.turn_deg_per_s", NUMBER, "how fast she comes round"),
            ("ship.latitude_deg", NUMBER, "where she is"),
            ("ship.longitude_deg", NUMBER, "where she is"),
            ("ship.bow_height_ft", NUMBER, "deck over the water at the bow"),
        ),
    ),
    (
        "wind, sea and weather",
        (
            ("wind.from_deg", NUMBER, "true bearing the wind comes from"),
            ("wind.speed_kt", NUMBER, "its speed over the sea"),
            ("wind.from_spread_deg", NUMBER, "how far it swings to each side"),
            ("wind.speed_spread_kt", NUMBER, "how much it rises and falls"),
            ("felt_wind.from_bow_deg", NUMBER, "or: where she feels it come from, right of the bow"),
            ("felt_wind.speed_kt", NUMBER, "and how strong"),
            ("wind_aloft", TABLE, "wind at a height: altitude_ft=5000,from_deg=250,speed_kt=30"),
            ("sea.state", NUMBER, "sea state by the usual scale"),
            ("sea.wave_height_m", NUMBER, "significant wave height"),
            ("weather.ceiling_ft", NUMBER, "lowest broken cloud"),
            ("weather.visibility_nm", NUMBER, "visibility"),
            ("weather.night", YES, "whether it is dark"),
            ("weather.sea_pressure_hpa", NUMBER, "pressure at the sea"),
            ("weather.temperature_c", NUMBER, "air at the sea"),
        ),
    ),
    (
        "the recovery",
        (
            ("recovery.time", TEXT, "clock time of the first ramp crossing"),
            ("recovery.aircraft", NUMBER, "how many"),
            ("recovery.interval_s", NUMBER, "from one to the next"),
            ("recovery.wind_kt", NUMBER, "wind wanted down the landing area"),
            ("recovery.least_wind_kt", NUMBER, "least that will do"),
            ("recovery.greatest_wind_kt", NUMBER, "most that will do"),
            ("recovery.crosswind_kt", NUMBER, "most across it"),
            ("recovery.basic_angle_deg", NUMBER, "lens setting"),
            ("recovery.landing_mass_lb", NUMBER, "heaviest landing"),
            ("recovery.case", NUMBER, "1, 2 or 3, whatever the weather"),
            ("approach.on_speed_kt", NUMBER, "on-speed airspeed, if the jet's file has none"),
            ("approach.at_mass_lb", NUMBER, "mass that it belongs to"),
            ("gear.energy_ftlb", NUMBER, "energy the arresting gear takes"),
            ("gear.run_out_ft", NUMBER, "how far it lets the jet run"),
            ("gear.mass_lb", NUMBERS, "landing masses, rising"),
            ("gear.engaging_kt", NUMBERS, "greatest engaging speed at each"),
        ),
    ),
    (
        "fuel and the field",
        (
            ("divert.name", TEXT, "the field"),
            ("divert.bearing_deg", NUMBER, "from the ship"),
            ("divert.distance_nm", NUMBER, "from the ship"),
            ("divert.latitude_deg", NUMBER, "or: where it is"),
            ("divert.longitude_deg", NUMBER, "or: where it is"),
            ("divert.reserve_lb", NUMBER, "fuel wanted overhead it"),
            ("divert.bingo_lb", NUMBER, "fuel to get there, if you know it"),
            ("tanker.give_lb", NUMBER, "fuel the tanker can give"),
            ("tanker.distance_nm", NUMBER, "how far off it is"),
            ("tanker.altitude_ft", NUMBER, "how high"),
            ("tanker.minutes", NUMBER, "to join and take it"),
            ("fuel.flow_pct", NUMBER, "of the jet's fuel flows"),
            ("fuel.start_lb", NUMBER, "burnt before the launch"),
            ("fuel.looks", NUMBER, "passes wanted before bingo"),
            ("fuel.margin_lb", NUMBER, "kept over bingo"),
            ("fuel.holding_pph", NUMBER, "flow in the stack"),
            ("fuel.pattern_pph", NUMBER, "flow in the pattern"),
            ("fuel.trip_min", NUMBER, "from one look to the next"),
            ("fuel.inbound_min", NUMBER, "from the stack to the ball"),
        ),
    ),
    (
        "the launch",
        (
            ("launch.time", TEXT, "clock time of the first shot"),
            ("launch.aircraft", NUMBER, "how many"),
            ("launch.interval_s", NUMBER, "from one to the next"),
            ("launch.wind_kt", NUMBER, "wind wanted down the catapult"),
            ("launch.greatest_wind_kt", NUMBER, "most that will do"),
            ("launch.crosswind_kt", NUMBER, "most across it"),
            ("launch.margin_kt", NUMBER, "over the least end airspeed"),
            ("launch.catapult_angle_deg", NUMBER, "how far it points to port"),
            ("launch.catapult.mass_lb", NUMBERS, "masses, rising"),
            ("launch.catapult.end_speed_kt", NUMBERS, "end speed against the ship at each"),
            ("launch.catapult.stroke_ft", NUMBER, "its stroke"),
            ("launch.catapult.capacity_pct", NUMBER, "part of its energy that it is set to"),
        ),
    ),
    (
        "the day pattern and the stack",
        (
            ("pattern.initial_altitude_ft", NUMBER, "of the initial"),
            ("pattern.initial_airspeed_kt", NUMBER, "of the initial"),
            ("pattern.initial_nm", NUMBER, "how far astern it begins"),
            ("pattern.downwind_altitude_ft", NUMBER, "downwind"),
            ("pattern.altitude_90_ft", NUMBER, "at the 90"),
            ("pattern.altitude_45_ft", NUMBER, "at the 45"),
            ("pattern.abeam_nm", NUMBER, "distance abeam, else what the turn needs"),
            ("pattern.bank_deg", NUMBER, "of the turn"),
            ("pattern.groove_s", NUMBER, "wings level to touchdown"),
            ("pattern.hold", TEXT, '"angle of attack" or "speed" in the turn'),
            ("pattern.stack_altitude_ft", NUMBER, "lowest of the holding stack"),
            ("marshal.radial_deg", NUMBER, "from the ship"),
            ("marshal.lowest_altitude_ft", NUMBER, "lowest of the marshal stack"),
            ("marshal.push", TEXT, "clock time of the first push"),
            ("marshal.interval_s", NUMBER, "from one push to the next"),
            ("marshal.airspeed_kt", NUMBER, "holding and inbound"),
            ("marshal.leg_s", NUMBER, "leg of the holding pattern"),
            ("marshal.turn_in_nm", NUMBER, "where a bolter is back on the final bearing"),
        ),
    ),
)

#: the cards that may be asked for one by one
CARDS = ("launch", "wind", "marshal", "pattern", "approach", "fuel")


def kinds() -> dict[str, str]:
    """Return each fact's kind by its key."""
    return {key: kind for _, facts in FACTS for key, kind, _ in facts}


def option(key: str) -> str:
    """Return the option of a fact."""
    return "--" + key.replace(".", "-").replace("_", "-")


def words(given: list[str]) -> tuple[list[str], str | None]:
    """Part the words behind ``plan`` into cards and the scenario.

    Raises:
        InputError: there are two scenarios.
    """
    cards = [word for word in given if word in CARDS]
    rest = [word for word in given if word not in CARDS]
    if len(rest) > 1:
        from deckward.errors import InputError
        from deckward.foundation.documents import nearest

        guess = next((f" Did you mean {card}?" for word in rest if (card := nearest(word, CARDS))), "")
        raise InputError(
            f"{rest[0]!r} and {rest[1]!r} are two scenarios.{guess}",
            remedy=f"Name one scenario; cards are {', '.join(CARDS)}.",
        )
    return cards, rest[0] if rest else None


def value(key: str, kind: str, text):
    """Read what was typed for a fact; what cannot be read stays text, and the form says so."""
    if kind == NUMBER:
        return _number(text)
    if kind == YES:
        return {"yes": True, "no": False}.get(text.strip().casefold(), text)
    if kind == NUMBERS:
        return [_number(part) for part in text.split(",")]
    if kind == PAIRS:
        return [[_number(part) for part in one.split(",")] for one in text]
    if kind == TABLE:
        return [_table(option(key), one) for one in text]
    return text


def _number(text: str):
    text = text.strip()
    for read in (int, float):
        try:
            return read(text)
        except ValueError:
            continue
    return text


def _table(name: str, text: str) -> dict:
    out: dict = {}
    for part in text.split(","):
        key, equals, written = (piece.strip() for piece in part.partition("="))
        if not equals or not key:
            from deckward.errors import InputError

            raise InputError(
                f"{part.strip()!r} is not a key with its value.",
                place=name,
                remedy=f"Give keys and values parted by commas: {name} name=Larch,count=2.",
            )
        if key == "crews":
            out[key] = [one.strip() for one in written.split("+")]
        elif key == "kept":
            out[key] = {"yes": True, "no": False}.get(written.casefold(), written)
        elif key in ("name", "at", "like"):
            out[key] = written
        else:
            out[key] = _number(written)
    return out
