"""Whether the channels of a recording agree with one another, and with what can fly.

Each check compares a channel with what the positions say over about a second. Where
they disagree beyond any wind, the plain mistakes (another unit, another sign, another
zero) are tried; one that makes them agree is named. A channel that is plainly something
else is left out, so that it is inferred instead; a mistake in time or position stops.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from msgspec import Struct

from deckward.foundation import angles, units
from deckward.foundation.earth import SEMI_MAJOR_AXIS, geodetic_to_ecef, to_ned
from deckward.foundation.statistics import median
from deckward.recordings.cleaning import Samples
from deckward.recordings.quantities import spellings

#: seconds over which motion is compared, and the fewest comparisons that say anything
_SPAN, _SHIP_SPAN, _FEWEST = 1.0, 5.0, 12
#: slowest ground speed at which a direction of motion is meant, m/s
_SLOWEST, _SHIP_SLOWEST = 30.0, 2.0
#: fastest ship, m/s
_SHIP_FASTEST = 30.0
#: wind that is past anything flown in near the ground, m/s, and the height it is asked below, m
_ANY_WIND, _LOW = 28.0, 3_500.0
#: usual wind, m/s, which the fit of a wind leans towards
_USUAL_WIND = 12.0


class _Motion(Struct, frozen=True):
    """Motion of a craft over short spans; (m,) each, SI."""

    time: np.ndarray
    north: np.ndarray
    east: np.ndarray
    climb: np.ndarray
    low: np.ndarray
    #: what the written steps of the position make of climb and of horizontal speed, m/s
    climb_noise: float
    way_noise: float

    @property
    def speed(self) -> np.ndarray:
        return np.hypot(self.north, self.east)

    @property
    def direction(self) -> np.ndarray:
        return np.arctan2(self.east, self.north)


def judge(samples: Samples) -> None:
    """Compare the channels of one craft; notes what disagrees, leaves out what is plainly wrong.

    Raises:
        InputError: time or position are in another unit, or swapped.
    """
    motion = _motion(samples)
    if motion is None:
        return
    if samples.ship:
        _judge_ship(samples, motion)
        return
    _judge_airspeed(samples, motion)
    _judge_heading(samples, motion, _SLOWEST)
    for quantity, recorded in (
        ("vertical_speed", motion.climb),
        ("velocity_down", -motion.climb),
        ("velocity_north", motion.north),
        ("velocity_east", motion.east),
    ):
        _judge_rate(samples, motion, quantity, recorded)
    _judge_roll(samples, motion)
    _judge_attack(samples, motion)


def _motion(samples: Samples, *, swapped: bool = False) -> _Motion | None:
    first, second, third = samples.position
    place = [samples.channels[q] for q in (first, second, third)]
    if swapped:
        place[:2] = place[1::-1]
    ok = np.flatnonzero(np.isfinite(place).all(axis=0))
    if ok.size < 4:
        return None
    time = samples.time[ok]
    span = _SHIP_SPAN if samples.ship else _SPAN
    stride = max(1, round(span / max(float(median(np.diff(time))), 1e-3)))
    at = ok[:: min(stride, max(1, ok.size // (2 * _FEWEST)))]
    if at.size < 4:
        return None
    a, b, up = (values[at] for values in place)
    if first == "north":
        north, east = np.diff(a), np.diff(b)
    else:
        xyz = geodetic_to_ecef(a, b, up)
        north, east, _ = to_ned(xyz[1:], a[:-1], b[:-1], up[:-1]).T
    steps = np.diff(samples.time[at])
    usual = steps < 3.0 * median(steps)
    rounding = [samples.steps.get(q, 0.0) / (2.45 * float(median(steps))) for q in (first, second, third)]
    return _Motion(
        time=0.5 * (samples.time[at][1:] + samples.time[at][:-1])[usual],
        north=(north / steps)[usual],
        east=(east / steps)[usual],
        climb=(np.diff(up) / steps)[usual],
        low=(up[:-1] < _LOW)[usual],
        climb_noise=rounding[2],
        way_noise=max(rounding[:2]) * (1.0 if first == "north" else SEMI_MAJOR_AXIS),
    )


def _at(samples: Samples, motion: _Motion, quantity: str) -> np.ndarray | None:
    """Give a channel at the middle of each span, NaN where it was not recorded."""
    values = samples.channels.get(quantity)
    if values is None:
        return None
    known = np.isfinite(values)
    if known.sum() < _FEWEST:
        return None
    if quantity in ("heading", "roll", "wind_from"):
        values = angles.unwrap(values)
    return np.interp(motion.time, samples.time[known], values[known], left=np.nan, right=np.nan)


def _unit(samples: Samples, quantity: str) -> str:
    column = samples.columns.get(quantity)
    return column.unit.suffix if column is not None and column.unit is not None else ""


def _other_units(suffix: str) -> list[tuple[float, str]]:
    """Give factor and suffix of each unit that a column could have been written in instead."""
    own = units.BY_SUFFIX[suffix]
    return [
        (unit.factor / own.factor, unit.suffix)
        for unit in units.BY_SUFFIX.values()
        if unit.usual and unit.dimension == own.dimension and unit.suffix != suffix
    ]


def _leave_out(samples: Samples, quantity: str, text: str) -> None:
    samples.drop(quantity)
    samples.say("contradiction", f"{text}; left out.")


def _judge_airspeed(samples: Samples, motion: _Motion) -> None:
    """Fit one wind to airspeed and positions; past any wind, look for the mistake."""
    name = next((q for q in ("true_airspeed", "indicated_airspeed") if q in samples.channels), None)
    if name is None:
        if motion.low.any() and median(motion.speed[motion.low]) > 450.0:
            _blame_position(samples, motion.speed, None, "the craft would move at")
        return
    airspeed = _at(samples, motion, name)
    if airspeed is None:
        return
    use = np.isfinite(airspeed) & motion.low & ((airspeed > _SLOWEST) | (motion.speed > _SLOWEST))
    if use.sum() < _FEWEST:
        return
    airspeed = airspeed[use]
    if _wind(motion, use, airspeed) < _ANY_WIND and median(airspeed) > 1.0:
        return
    _blame_position(
        samples,
        motion.speed[use],
        airspeed,
        f"{samples.source(name)} {median(airspeed) / units.KNOT:.0f} kt, but",
    )
    for factor, suffix in _other_units(_unit(samples, name)):
        if _wind(motion, use, airspeed * factor) < 0.5 * _ANY_WIND:
            _leave_out(
                samples,
                name,
                f"{samples.source(name)} and the positions disagree beyond any wind; they agree if it "
                f"is {name}_{suffix}",
            )
            return
    samples.say(
        "contradiction",
        f"{samples.source(name)} (about {median(airspeed) / units.KNOT:.0f} kt) and the positions (about "
        f"{median(motion.speed[use]) / units.KNOT:.0f} kt over ground) disagree beyond any wind.",
    )


def _wind(motion: _Motion, use: np.ndarray, airspeed: np.ndarray) -> float:
    """Give the wind, m/s, that airspeed and ground speed ask for, with what the fit leaves."""
    ground = motion.speed[use]
    along = np.column_stack([np.cos(motion.direction[use]), np.sin(motion.direction[use])])
    known = np.isfinite(along).all(axis=1)
    excess = (ground - airspeed)[known]
    lean = np.eye(2) * (8.0 / _USUAL_WIND) ** 2
    wind = np.linalg.solve(along[known].T @ along[known] + lean, along[known].T @ excess)
    return float(np.hypot(*wind) + median(np.abs(excess - along[known] @ wind)))


def _blame_position(samples: Samples, ground: np.ndarray, airspeed: np.ndarray | None, told: str) -> None:
    """Stop where another unit of time or of position, or swapped coordinates, would explain the speed."""
    speed = float(median(ground))
    typical = float(median(airspeed)) if airspeed is not None else 100.0
    room = (0.7, 1.4) if airspeed is not None else (0.3, 3.0)

    def fits(factor: float) -> bool:
        return speed > 0.0 and typical > 0.0 and room[0] < speed * factor / typical < room[1]

    move = f"{told} {speed / units.KNOT:.3g} kt over ground"
    if "time" in samples.columns:
        for factor, suffix in _other_units(_unit(samples, "time") or "s"):
            if fits(1.0 / factor):
                raise samples.content.error(
                    f"{move}: the time seems to be in another unit.",
                    place=f"column {samples.source('time')!r}",
                    remedy=f"If so, name it time_{suffix}.",
                )
    first, second, _ = samples.position
    for factor, suffix in _other_units(_unit(samples, first) or "m"):
        if fits(factor) and not (first == "north" and 0.25 < factor < 4.0):
            raise samples.content.error(
                f"{move}: the position seems to be in another unit.",
                place=f"columns {samples.source(first)!r} and {samples.source(second)!r}",
                remedy=f"If so, name them {first}_{suffix} and {second}_{suffix}.",
            )


def _judge_heading(samples: Samples, motion: _Motion, slowest: float) -> None:
    heading = _at(samples, motion, "heading")
    if heading is None:
        return
    use = np.isfinite(heading) & (motion.speed > slowest)
    if use.sum() < _FEWEST:
        return
    heading, track = heading[use], motion.direction[use]

    def off(candidate: np.ndarray) -> float:
        return float(median(np.abs(angles.difference(track, candidate))))

    aside = off(heading)
    if aside < np.radians(35.0):
        _judge_north(samples, angles.difference(track, heading), track)
        return
    name = samples.source("heading")
    small = float(np.abs(heading).max()) <= 6.4 * units.DEGREE
    radians = _unit(samples, "heading") == "deg"
    mistakes: tuple[tuple[bool, Callable[[np.ndarray], np.ndarray], str], ...] = (
        (True, lambda h: h + np.pi, "points the other way"),
        (True, lambda h: -h, "counts anticlockwise"),
        (True, lambda h: np.pi / 2.0 - h, "counts anticlockwise from east"),
        (True, lambda h: np.pi / 2.0 + h, "counts from east"),
        (radians and small, lambda h: h / units.DEGREE, "is written in radians"),
        (not radians, lambda h: h * units.DEGREE, "is written in degrees"),
    )
    turning = float(np.abs(np.exp(1j * track).mean())) < 0.97
    for possible, change, words in mistakes:
        if not possible or off(change(heading)) > np.radians(20.0 if turning else 10.0):
            continue
        if "from east" in words and turning:
            _blame_order(samples, motion)
        text = f"{name} disagrees with the direction of motion; it agrees if it {words}"
        if samples.ship:
            samples.say("contradiction", f"{text}.")
        else:
            _leave_out(samples, "heading", text)
        return
    samples.say(
        "contradiction",
        f"{name} and the direction of motion differ by {np.degrees(aside):.0f} deg in the middle, "
        "more than wind does.",
    )


def _blame_order(samples: Samples, motion: _Motion) -> None:
    """Stop where latitude and longitude are swapped: exchanged, the craft moves evenly."""
    if samples.position[0] != "latitude":
        return
    swapped = _motion(samples, swapped=True)
    if swapped is not None and _unevenness(swapped) < 0.5 * _unevenness(motion):
        raise samples.content.error(
            "latitude and longitude seem to be swapped: exchanged, motion and heading agree.",
            place=f"columns {samples.source('latitude')!r} and {samples.source('longitude')!r}",
            remedy="Exchange their names.",
        )


def _unevenness(motion: _Motion) -> float:
    """Tell how much the ground speed varies with the direction beyond what one wind explains, m/s."""
    moving = motion.speed > _SLOWEST
    along = np.column_stack([np.cos(motion.direction), np.sin(motion.direction), np.ones(moving.size)])[
        moving
    ]
    rest = motion.speed[moving] - along @ np.linalg.lstsq(along, motion.speed[moving])[0]
    return float(median(np.abs(rest)))


def _judge_north(samples: Samples, aside: np.ndarray, track: np.ndarray) -> None:
    """Tell of a heading that is off by as much on all courses, as a magnetic one is."""
    if samples.ship or np.abs(np.exp(1j * track).mean()) > 0.35:
        return
    sectors = ((track % angles.TURN) / (angles.TURN / 8.0)).astype(int)
    each = [median(aside[sectors == s]) for s in range(8) if (sectors == s).sum() >= 3]
    if len(each) < 6:
        return
    constant = float(np.mean(each))
    if abs(constant) > np.radians(3.0):
        samples.say(
            "heading-offset",
            f"{samples.source('heading')} is {np.degrees(abs(constant)):.0f} deg "
            f"{'left' if constant > 0 else 'right'} of the direction of motion on all courses: "
            "magnetic instead of true?",
        )


def _judge_rate(samples: Samples, motion: _Motion, quantity: str, recorded: np.ndarray) -> None:
    """Compare a recorded rate with the one that the positions make."""
    rate = _at(samples, motion, quantity)
    if rate is None:
        return
    use = np.isfinite(rate) & np.isfinite(recorded)
    rate, recorded = rate[use], recorded[use]
    size = float(np.sqrt(np.mean(recorded**2))) if rate.size >= _FEWEST else 0.0
    upward = quantity in ("vertical_speed", "velocity_down")
    if size < max(1.0, 4.0 * (motion.climb_noise if upward else motion.way_noise)):
        return
    power = float(np.sum(rate * rate))
    slope = float(np.sum(rate * recorded)) / power if power > 0.0 else 0.0
    agree = (
        float(np.sum(rate * recorded)) / (np.sqrt(power) * size * np.sqrt(rate.size)) if power > 0.0 else 0.0
    )
    name = samples.source(quantity)
    third = samples.source(samples.position[2]) if upward else "the positions"
    if abs(agree) > 0.8 and 0.7 < slope < 1.4:
        return
    if abs(agree) > 0.8:
        guess = ""
        if slope < 0.0:
            guess = "; it counts the other way"
        for factor, suffix in _other_units(_unit(samples, quantity)):
            if 0.85 < abs(slope) / factor < 1.18:
                guess += f"; it agrees if it is {quantity}_{suffix}"
        _leave_out(samples, quantity, f"{name} is {1.0 / slope:.2g} times the rate of {third}{guess}")
    elif agree < 0.4:
        _leave_out(samples, quantity, f"{name} does not follow the rate of {third}")


def _judge_roll(samples: Samples, motion: _Motion) -> None:
    """Compare the roll with the turn that it makes: rate = g tan(roll) / speed."""
    roll = _at(samples, motion, "roll")
    if roll is None:
        return
    track = np.unwrap(motion.direction)
    turn = np.gradient(track, motion.time) if track.size > 2 else np.zeros(track.size)
    use = np.isfinite(roll) & (motion.speed > _SLOWEST) & (np.abs(turn) < 0.5)
    if use.sum() < _FEWEST:
        return
    turn = turn[use] * motion.speed[use]
    if np.sqrt(np.mean(turn**2)) < 1.0:
        return
    factor = 1.0 / units.DEGREE if _unit(samples, "roll") == "deg" else units.DEGREE
    other = "rad" if factor > 1.0 else "deg"

    def slope(angle: np.ndarray) -> tuple[float, float]:
        pull = units.STANDARD_GRAVITY * np.tan(np.clip(angles.wrap(angle), -1.4, 1.4))
        power = np.sum(pull * pull)
        if power == 0.0:
            return 0.0, 0.0
        return float(np.sum(pull * turn) / power), float(
            np.sum(pull * turn) / np.sqrt(power * np.sum(turn**2))
        )

    ratio, agree = slope(roll[use])
    if agree > 0.5 and 0.4 < ratio < 2.5:
        return
    name = samples.source("roll")
    if agree < -0.6:
        _leave_out(samples, "roll", f"{name} is left where the craft turns right; it counts the other way")
        return
    ratio, agree = slope(roll[use] * factor)
    if agree > 0.7 and 0.5 < ratio < 2.0:
        _leave_out(samples, "roll", f"{name} does not fit the turns; it does if it is roll_{other}")


def _judge_attack(samples: Samples, motion: _Motion) -> None:
    """Compare angle of attack with pitch minus climb angle, wings level."""
    attack = _at(samples, motion, "angle_of_attack")
    pitch = _at(samples, motion, "pitch")
    if attack is None or pitch is None:
        return
    roll = _at(samples, motion, "roll")
    airspeed = _at(samples, motion, "true_airspeed")
    speed = motion.speed if airspeed is None else np.where(np.isfinite(airspeed), airspeed, motion.speed)
    use = np.isfinite(attack) & np.isfinite(pitch) & (speed > _SLOWEST) & (np.abs(motion.climb) < 0.3 * speed)
    if roll is not None:
        use &= np.abs(angles.wrap(roll)) < np.radians(15.0)
    if use.sum() < _FEWEST:
        return
    attack, pitch = attack[use], pitch[use]
    climb = np.arcsin(motion.climb[use] / speed[use])
    to_other = {
        q: (1.0 / units.DEGREE, "radians") if _unit(samples, q) == "deg" else (units.DEGREE, "degrees")
        for q in ("angle_of_attack", "pitch")
    }

    def off(own: np.ndarray, nose: np.ndarray) -> np.ndarray:
        return own - (nose - climb)

    aside = off(attack, pitch)
    middle = float(median(aside))
    spread = float(median(np.abs(aside - middle)))
    limit = np.radians(4.0) + 2.0 * motion.climb_noise / float(median(speed[use]))
    if abs(middle) < limit and spread < limit:
        return
    names = {q: samples.source(q) for q in to_other}
    for quantity, own, nose, words in (
        (
            "angle_of_attack",
            attack * to_other["angle_of_attack"][0],
            pitch,
            f"is in {to_other['angle_of_attack'][1]}",
        ),
        ("pitch", attack, pitch * to_other["pitch"][0], f"is in {to_other['pitch'][1]}"),
        ("pitch", attack, -pitch, "counts the other way"),
        ("angle_of_attack", -attack, pitch, "counts the other way"),
    ):
        rest = off(own, nose)
        if median(np.abs(rest)) < 0.35 * median(np.abs(aside)) and median(np.abs(rest)) < 0.6 * limit:
            text = (
                f"{names['angle_of_attack']} and {names['pitch']} minus climb angle disagree; they agree if "
            )
            _leave_out(samples, quantity, f"{text}{names[quantity]} {words}")
            return
    text = (
        f"{names['angle_of_attack']} differs from {names['pitch']} minus climb angle by "
        f"{np.degrees(middle):.1f} deg in the middle (spread {np.degrees(spread):.1f} deg)"
    )
    if spread > limit:
        _leave_out(samples, "angle_of_attack", text)
    else:
        samples.say("contradiction", f"{text}: perhaps counted from another zero.")


def _judge_ship(samples: Samples, motion: _Motion) -> None:
    speed = float(median(motion.speed))
    if speed > _SHIP_FASTEST:
        samples.say(
            "contradiction",
            f"The ship would move at {speed / units.KNOT:.0f} kt; check the unit of its position "
            f"({spellings(samples.position[0], ship=True)}) and of time.",
        )
    _judge_heading(samples, motion, _SHIP_SLOWEST)
