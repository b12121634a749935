"""Deciding speeds, rates and the small channels of the aircraft."""

from __future__ import annotations

import numpy as np

from deckward.foundation import units
from deckward.foundation.units import BY_SUFFIX
from deckward.recordings.quantities import BY_NAME
from deckward.recordings.recogniser import asking, names, physics, unnamed
from deckward.recordings.recogniser.findings import Craft, Finding

#: units that rates of climb and airspeeds come in, the usual ones first
_RATE_UNITS = ("mps", "fpm", "fps", "kt", "kmh")
_SPEED_UNITS = ("kt", "mps", "kmh")
#: wind that nobody flies approaches in, m/s
_ANY_WIND = 28.0
#: wind at which the unit that a name says is doubted, where another needs a third of it, m/s
_MUCH_WIND = 18.0
#: how near a speed must be to the one over ground to be it
_SAME = 0.006
#: how far a flight must turn for one wind to be seen on all courses, rad; what it must leave against another
_ALL_COURSES, _FAR_LESS = np.radians(200.0), 0.4
#: score of a guess that the unit alone supports
_BY_UNIT = 0.4
#: fewest metres a second between true and indicated that can be told apart
_APART = 3.0
_CONTROLS = ("stick_pitch", "stick_roll", "elevator", "aileron", "pitch_trim")


def settle_rate(work, rate: Finding, kind: str, altitude: Finding, rate_unit: str | None) -> None:
    """Decide on the vertical speed by the rate of the altitude."""
    own = work.own
    if rate.settled:
        return
    guess = rate.guess(kind, ship=False)
    assert own.motion is not None and guess is not None
    if not own.paced and guess.unit is None:
        rate.leave("how fast time runs is not known, and with it its unit; the altitude gives it", 0.6)
        return
    fit = physics.follow(own.motion.rate(altitude.si()), own.motion.middle(rate.column.numbers))
    sign = -1 if kind == "sink" else guess.turned or 1
    if fit.sound:
        sign = 1 if fit.slope > 0 else -1
        way = "" if sign > 0 else ", counting down"
        told = [guess.unit] if guess.unit else [rate_unit] if rate_unit else list(_RATE_UNITS)
        for unit in told:
            if 0.85 < abs(fit.slope) * BY_SUFFIX[unit].factor < 1.18:
                own.keep(
                    "vertical_speed",
                    rate,
                    unit,
                    0.96,
                    f"it is the rate of the altitude in {unit}{way}",
                    sign=sign,
                )
                return
        if guess.unit:
            ratio = abs(fit.slope) * BY_SUFFIX[guess.unit].factor
            rate.leave(f"it is {ratio:.2g} times the rate of the altitude in {guess.unit}", 0.7)
        else:
            rate.leave("it follows the rate of the altitude, but in no unit that is known", 0.7)
    elif guess.unit is not None and np.ptp(rate.column.known) > 0.0:
        own.keep(
            "vertical_speed",
            rate,
            guess.unit,
            0.7,
            "named so; the flight is too level to check it",
            sign=sign,
        )
    else:
        rate.leave("the flight is too level to tell its unit, and the altitude gives it", 0.6)


def settle_air(work) -> None:
    """Decide on airspeeds, velocities, accelerations, controls and weather."""
    own = work.own
    for quantity in ("true_airspeed", "indicated_airspeed"):
        for finding in own.candidates(quantity):
            if quantity not in own.found:
                _named_airspeed(work, finding, quantity)
    if not own.candidates("speed") and not own.found.keys() & {"true_airspeed", "indicated_airspeed"}:
        _guess_speed(own)
    for finding in own.candidates("speed"):
        _nameless_speed(work, finding)
    _velocities(own)
    by_name_alone(work)


def _guess_speed(own: Craft) -> None:
    """Take a nameless column in a unit of speed for one, where a wind joins it to the motion."""
    for finding in unnamed.nameless(own.findings):
        unit = names.unit_said(finding.name, finding.column.unit_row, "speed")
        if unit is None or own.motion is None or not own.paced:
            continue
        wind = physics.wind_between(own.motion, finding.si(unit, 1))
        if wind.size + wind.rest < _ANY_WIND:
            finding.guesses = [names.Guess("speed", False, unit, _BY_UNIT, by_motion=True)]


def _named_airspeed(work, finding: Finding, quantity: str) -> None:
    own = work.own
    guess = finding.guess(quantity, ship=False)
    unit, confidence, why = _airspeed_unit(own, finding, guess.unit if guess is not None else None)
    if unit is not None:
        own.keep(quantity, finding, unit, confidence, why)
        if guess is not None and not guess.ours and _another_unit(own, finding, unit):
            work.questions.append(asking.which_speed_unit(finding))
    elif finding.column.known.size and finding.column.known.max() > 0.0:
        own.keep(quantity, finding, "kt", 0.4, "named so; nothing tells its unit")
        work.questions.append(asking.which_speed_unit(finding))


def _another_unit(own: Craft, finding: Finding, named: str) -> bool:
    """Whether a speed makes a flight in another unit than the one it is named in, and none in that."""
    if own.motion is None or not own.paced:
        return False
    winds = {unit: physics.wind_between(own.motion, finding.si(unit, 1)) for unit in {named, *_SPEED_UNITS}}
    sums = {unit: wind.size + wind.rest for unit, wind in winds.items()}
    return sums[named] > _MUCH_WIND and min(sums.values()) < 0.35 * sums[named]


def _airspeed_unit(own: Craft, finding: Finding, named: str | None) -> tuple[str | None, float, str]:
    """Give the unit in which airspeed and motion need the least wind."""
    if own.motion is None or (not own.paced and named is not None):
        return named, 0.8, "the name says its unit"
    if not own.paced:
        return None, 0.0, ""
    winds = {unit: physics.wind_between(own.motion, finding.si(unit, 1)) for unit in BY_SUFFIX_OF_SPEED}
    if named is not None:
        wind = winds[named]
        if wind.size + wind.rest < _ANY_WIND:
            return (
                named,
                0.96,
                f"the name says its unit; a wind of {wind.size:.0f} m/s joins it to the motion",
            )
        return named, 0.7, "the name says its unit; the motion does not bear it out"
    # feet a second are a tenth off km/h: thought of wherever the file is not known to count in metres
    tried = _SPEED_UNITS if _metric(own) else (*_SPEED_UNITS, "fps")
    sums = {unit: winds[unit].size + winds[unit].rest for unit in tried}
    sums = {unit: total for unit, total in sums.items() if np.isfinite(total)}
    if not sums:
        return None, 0.0, ""
    best = min(sums, key=lambda unit: sums[unit])
    others = [unit for unit in sums if unit != best]
    second = min((sums[unit] for unit in others), default=np.inf)
    # on all courses the wrong unit leaves more than any wind explains
    turned = float(np.ptp(np.unwrap(own.motion.direction))) > _ALL_COURSES if own.motion.speed.size else False
    apart = turned and all(winds[best].rest < _FAR_LESS * winds[unit].rest for unit in others)
    if sums[best] < _ANY_WIND and (second > sums[best] + 8.0 or apart):
        return best, 0.9, f"named so; in {best} a wind of {winds[best].size:.0f} m/s joins it to the motion"
    return None, 0.0, ""


def _metric(own: Craft) -> bool:
    """Whether the aircraft's heights or its place are known to be in metres."""
    lengths = [own.found[q] for q in ("altitude", "up", "north") if q in own.found]
    rate = own.found.get("vertical_speed")
    feet = rate is not None and rate.unit == "fps"
    return not feet and any(f.unit == "m" and not f.asked and f.confidence > 0.5 for f in lengths)


BY_SUFFIX_OF_SPEED = tuple(unit.suffix for unit in BY_SUFFIX.values() if unit.dimension == "speed")


def _nameless_speed(work, finding: Finding) -> None:
    """Decide on a speed that is not said to be true, indicated or over ground."""
    own = work.own
    guess = finding.guess("speed", ship=False)
    assert own.motion is not None and guess is not None
    if not finding.column.known.size or finding.column.known.max() <= 0.0:
        return
    unit, _, why = _airspeed_unit(own, finding, guess.unit)
    told = [unit] if unit is not None else list(_SPEED_UNITS)
    named = own.found.get("true_airspeed") or own.found.get("indicated_airspeed")
    flying = own.motion.speed > physics.FLYING
    over_ground = False
    for each in told:
        ratio = (own.motion.middle(finding.si(each, 1)) / own.motion.speed)[flying]
        ratio = ratio[np.isfinite(ratio)]
        if ratio.size and float(np.median(np.abs(ratio - 1.0))) < _SAME:
            over_ground, unit = True, each
    if named is not None:
        if over_ground:
            finding.leave("it is the speed over ground, which the positions give")
        else:
            finding.leave(f"a speed that is not named; {named.name!r} is the airspeed", 0.7)
        return
    apart = None if over_ground or unit is None else _true_or_indicated(own, finding, unit)
    if apart is not None and unit is not None:
        quantity, reason = apart
        own.keep(quantity, finding, unit, 0.85, f"{why}; {reason}")
        return
    own.keep("true_airspeed", finding, unit or "kt", 0.4, "a speed; which one is not said")
    if over_ground:
        finding.why += "; here it is also the speed over ground: there is no wind, or it is that"
    work.questions.append(
        asking.which_speed(finding) if unit is not None else asking.which_speed_unit(finding)
    )


def _true_or_indicated(own: Craft, finding: Finding, unit: str) -> tuple[str, str] | None:
    """Tell true from indicated by the wind each of them needs, high up and all around."""
    altitude, motion = own.si("altitude"), own.motion
    if altitude is None or motion is None or not motion.speed.size:
        return None
    # density over that at the sea of the standard atmosphere, below 11 km
    thin = np.clip(1.0 - 2.25577e-5 * altitude, 0.3, 1.1) ** 4.2559
    speed = finding.si(unit, 1)
    factor = 1.0 / np.sqrt(thin)
    flown = motion.middle(factor)[motion.speed > physics.FLYING]
    if not flown.size or np.nanmedian(np.abs(flown - 1.0)) * np.nanmedian(speed) < _APART:
        return None
    if np.ptp(np.unwrap(motion.direction)) < _ALL_COURSES:
        return None
    as_true = physics.wind_between(motion, speed, lean=1e3)
    as_indicated = physics.wind_between(motion, speed * factor, lean=1e3)
    if as_true.rest < _FAR_LESS * as_indicated.rest and as_true.size < _ANY_WIND:
        return "true_airspeed", "one wind joins it to the motion as true, none as indicated"
    if as_indicated.rest < _FAR_LESS * as_true.rest and as_indicated.size < _ANY_WIND:
        return "indicated_airspeed", "one wind joins it to the motion as indicated, none as true"
    return None


def _velocities(own: Craft) -> None:
    """Decide on velocities by which rate of the position each of them is."""
    motion = own.motion
    assert motion is not None
    height = own.si("altitude") if "altitude" in own.found else own.si("up")
    rates = {"velocity_north": motion.north, "velocity_east": motion.east}
    if height is not None:
        rates["velocity_down"] = -motion.rate(height)
    for finding in own.candidates("velocity_north", "velocity_east", "velocity_down", "vx", "vy", "vz"):
        if not finding.column.known.size:
            continue
        guess = finding.guesses[0]
        named = [guess.quantity] if guess.quantity in rates else list(rates)
        told = [guess.unit] if guess.unit else ["mps", "kt", "fps", "kmh"]
        best = None
        for quantity in named:
            if quantity in own.found:
                continue
            fit = physics.follow(rates[quantity], motion.middle(finding.column.numbers))
            for unit in told:
                off = abs(np.log(max(abs(fit.slope) * BY_SUFFIX[unit].factor, 1e-9)))
                if fit.sound and off < 0.15 and (best is None or abs(fit.agreement) > best[0]):
                    best = (abs(fit.agreement), quantity, unit, 1 if fit.slope > 0 else -1)
        if best is not None:
            _, quantity, unit, sign = best
            if quantity == "velocity_down" and "vertical_speed" not in own.found and sign < 0:
                own.keep("vertical_speed", finding, unit, 0.94, f"it is the rate of the height in {unit}")
            else:
                where = quantity.removeprefix("velocity_")
                own.keep(
                    quantity, finding, unit, 0.94, f"it is the motion to the {where} in {unit}", sign=sign
                )


def by_name_alone(work) -> None:
    """Decide on channels that no motion tells: by name, and by what their range allows."""
    own = work.own
    for quantity, decide in _BY_RANGE.items():
        for finding in own.candidates(quantity):
            if quantity in own.found or not (finding.column.known.size or finding.column.kind == "words"):
                continue
            likelier = finding.guesses[0].quantity
            if likelier != quantity and likelier in _BY_RANGE and likelier not in own.found:
                continue  # "gear.hook" is no gear
            guess = finding.guess(quantity, ship=False)
            found = decide(own, finding, guess.unit)
            if found is not None:
                unit, sign, confidence, why = found
                own.keep(quantity, finding, unit, confidence, why, sign=sign)


def _fraction(own: Craft, finding: Finding, named: str | None):
    if finding.column.kind == "words":
        return None, 1, 0.9, "named so; a switch in words"
    low, high = float(finding.column.known.min()), float(finding.column.known.max())
    if high <= 1.6 and low >= -1.6:
        return (None, 1, 0.9, "named so; runs within 0 and 1") if low >= -0.2 else None
    if high <= 160.0 and low >= -20.0 and (named == "pct" or high > 5.0):
        return "pct", 1, 0.85, "named so; runs within 0 and 100"
    return None


def _control(own: Craft, finding: Finding, named: str | None):
    size = float(np.abs(finding.column.known).max()) if finding.column.known.size else 0.0
    if size <= 1.6:
        return None, 1, 0.7, "named so; runs within -1 and 1; nothing tells its sign"
    return (
        ("pct", 1, 0.65, "named so; runs within -100 and 100") if size <= 160.0 and named == "pct" else None
    )


def _told(own: Craft, finding: Finding, named: str | None):
    return (named, 1, 0.85, "named so; the name says its unit") if named is not None else None


def _acceleration(own: Craft, finding: Finding, named: str | None):
    middle = float(np.median(finding.column.known))
    unit = named or ("g" if 0.5 < abs(middle) < 1.8 else "mps2" if 5.0 < abs(middle) < 18.0 else None)
    if unit is None or not 0.5 < abs(middle) * BY_SUFFIX[unit].factor / units.STANDARD_GRAVITY < 1.8:
        return None
    return unit, 1 if middle > 0 else -1, 0.9, f"named so; about one g in {unit}"


def _radar(own: Craft, finding: Finding, named: str | None):
    height = own.si("altitude") if "altitude" in own.found else own.si("up")
    if height is None:
        return _told(own, finding, named)
    fit = physics.follow(height, finding.column.numbers, offset=True)
    for unit in [named] if named else ["m", "ft"]:
        if fit.sound and 0.85 < fit.slope * BY_SUFFIX[unit].factor < 1.18:
            return unit, 1, 0.93, f"it changes as the altitude does, in {unit}"
    return None if named is None else (named, 1, 0.7, "named so; the name says its unit")


def _direction(own: Craft, finding: Finding, named: str | None):
    far = float(np.abs(finding.column.known).max()) > 6.3
    return named or ("deg" if far else "rad"), 1, 0.85, "named so; taken as true, as winds are here"


def _pressure(own: Craft, finding: Finding, named: str | None):
    middle = float(np.median(finding.column.known))
    ranges = {"hpa": (870.0, 1090.0), "inhg": (25.7, 32.2), "pa": (87_000.0, 109_000.0)}
    unit = next((u for u, (low, high) in ranges.items() if low < middle < high), None)
    return (unit, 1, 0.9, f"named so; its size is that of {unit}") if unit and named in (None, unit) else None


def _temperature(own: Craft, finding: Finding, named: str | None):
    middle = float(np.median(finding.column.known))
    unit = named or ("k" if 200.0 < middle < 330.0 else "c" if -60.0 < middle < 45.0 else None)
    return (unit, 1, 0.8, f"named so; its size is that of {unit}") if unit else None


_BY_RANGE = {
    **{name: _fraction for name, q in BY_NAME.items() if q.dimension == "fraction" and name not in _CONTROLS},
    **dict.fromkeys(_CONTROLS, _control),
    "normal_acceleration": _acceleration,
    "radar_altitude": _radar,
    "fuel": _told,
    "mass": _told,
    "fuel_flow": _told,
    "wind_from": _direction,
    "wind_speed": _told,
    "sea_pressure": _pressure,
    "temperature": _temperature,
}
