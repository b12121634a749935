"""What the motion of a craft says of its channels: rates, turns, climbs, winds.

Everything here takes numbers in SI and radians, NaN where there is none, and gives figures
to decide by; what is decided from them stands elsewhere.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from deckward.foundation import angles, units
from deckward.foundation.earth import geodetic_to_ecef, to_ned

#: seconds over which rates are taken, and the fewest spans that say anything
_SPAN = 1.0
FEWEST = 8
#: slowest motion whose direction means anything, m/s
FLYING, SAILING = 30.0, 2.0
#: sideways acceleration, m/s^2, below which nothing turns
_LEAST_TURN = 0.02
#: how far the slope of a turn by its roll may be off one for what the model leaves out: chosen by us, after
#: 54 flights in still air and 120 in turbulence
_TURN_MODEL = 0.3
#: and how far at most, whatever its sigma
_MOST_OFF = 0.7
#: how many times its chance size an agreement must have
_NO_CHANCE = 4.0


class Motion(Struct, frozen=True):
    """How a craft moves, over spans of about a second: (m,) each, SI.

    ``start`` and ``end`` are the rows between which each rate was taken.
    """

    start: np.ndarray
    end: np.ndarray
    step: np.ndarray
    north: np.ndarray
    east: np.ndarray

    @property
    def speed(self) -> np.ndarray:
        """Speed over ground."""
        return np.hypot(self.north, self.east)

    @property
    def direction(self) -> np.ndarray:
        """Course over ground, clockwise from north."""
        return np.arctan2(self.east, self.north)

    def rate(self, values: np.ndarray) -> np.ndarray:
        """Rate of a channel (n,) over each span."""
        return (values[self.end] - values[self.start]) / self.step

    def middle(self, values: np.ndarray) -> np.ndarray:
        """Value of a channel (n,) at the middle of each span."""
        return 0.5 * (values[self.start] + values[self.end])

    def middle_angle(self, values: np.ndarray) -> np.ndarray:
        """Value of an angle (n,) that may jump by a turn."""
        first = values[self.start]
        return first + 0.5 * angles.difference(values[self.end], first)

    def mirrored(self, north: int, east: int) -> Motion:
        """The same with the senses of north and east turned where they are -1."""
        return Motion(self.start, self.end, self.step, north * self.north, east * self.east)


def spans(time: np.ndarray, known: np.ndarray, span: float = _SPAN) -> tuple[np.ndarray, np.ndarray]:
    """Give the rows at the two ends of spans of about ``span`` s, gaps left out."""
    rows = np.flatnonzero(known & np.isfinite(time))
    if rows.size < 4:
        return rows[:0], rows[:0]
    steps = np.diff(time[rows])
    forward = steps[steps > 0.0]
    if not forward.size:
        return rows[:0], rows[:0]
    stride = max(1, round(span / float(np.median(forward))))
    at = rows[:: min(stride, max(1, rows.size // (2 * FEWEST)))]
    start, end = at[:-1], at[1:]
    step = time[end] - time[start]
    usual = (step > 0.0) & (step < 3.0 * np.median(step))
    return start[usual], end[usual]


def motion_on_earth(time, latitude, longitude, *, span: float = _SPAN) -> Motion:
    """Motion from latitude and longitude, rad; the height makes no difference here."""
    start, end = spans(time, np.isfinite(latitude) & np.isfinite(longitude), span)
    zero = np.zeros(start.size)
    if not start.size:
        return Motion(start, end, zero, zero, zero)
    step = time[end] - time[start]
    there = geodetic_to_ecef(latitude[end], longitude[end], zero)
    north, east, _ = to_ned(there, latitude[start], longitude[start], zero).T
    return _without_leaps(Motion(start, end, step, north / step, east / step))


def distance(latitude, longitude, other_latitude, other_longitude) -> np.ndarray:
    """Distance between two tracks (n,), rad, row by row, m; the height makes no difference here."""
    zero = np.zeros(np.shape(latitude))
    there = geodetic_to_ecef(other_latitude, other_longitude, zero)
    north, east, _ = to_ned(there, latitude, longitude, zero).T
    return np.hypot(north, east)


def motion_in_plane(time, north, east, *, span: float = _SPAN) -> Motion:
    """Motion from two axes of a plane, m."""
    start, end = spans(time, np.isfinite(north) & np.isfinite(east), span)
    step = time[end] - time[start]
    return _without_leaps(
        Motion(start, end, step, (north[end] - north[start]) / step, (east[end] - east[start]) / step)
    )


def _without_leaps(motion: Motion) -> Motion:
    """Leave out spans in which the craft was set elsewhere: far faster than it usually is."""
    speed = motion.speed
    if not speed.size:
        return motion
    usual = speed <= 4.0 * np.percentile(speed, 75) + 1e-9
    return Motion(
        motion.start[usual], motion.end[usual], motion.step[usual], motion.north[usual], motion.east[usual]
    )


class Fit(Struct, frozen=True):
    """How one series follows another: ``b`` = slope * ``a``; agreement from -1 to 1; points used."""

    slope: float
    agreement: float
    points: int

    def beyond(self, times: float) -> bool:
        """Whether it agrees ``times`` as well as points would that have nothing to do with one another."""
        return abs(self.agreement) * self.points**0.5 > times

    @property
    def beyond_chance(self) -> bool:
        """Whether the agreement is no accident."""
        return self.beyond(_NO_CHANCE)

    @property
    def sound(self) -> bool:
        """Whether the two move together, up or down."""
        return self.points >= FEWEST and abs(self.agreement) > 0.8


def follow(a: np.ndarray, b: np.ndarray, *, offset: bool = False) -> Fit:
    """Fit ``b`` as a multiple of ``a`` (with ``offset``: of its changes), by least squares."""
    use = np.isfinite(a) & np.isfinite(b)
    a, b = a[use], b[use]
    if a.size < FEWEST:
        return Fit(0.0, 0.0, int(a.size))
    if offset:
        a, b = a - a.mean(), b - b.mean()
    power, other = float(a @ a), float(b @ b)
    if power <= 0.0 or other <= 0.0:
        return Fit(0.0, 0.0, int(a.size))
    return Fit(float(a @ b) / power, float(a @ b) / float(np.sqrt(power * other)), int(a.size))


class Aside(Struct, frozen=True):
    """How a heading stands to the direction of motion, rad.

    ``middle`` is the median of heading minus direction, ``off`` the median of its size,
    ``turned`` how far the directions reach, ``constant`` the part that is the same on all
    courses (NaN where the courses are too few to part it from wind).
    """

    middle: float
    off: float
    turned: float
    constant: float
    points: int


def beside_track(motion: Motion, heading: np.ndarray, slowest: float = FLYING) -> Aside:
    """Compare a heading (n,), rad, with the direction of motion."""
    own = motion.middle_angle(heading)
    use = np.isfinite(own) & (motion.speed > slowest)
    if use.sum() < FEWEST:
        return Aside(np.nan, np.nan, 0.0, np.nan, int(use.sum()))
    track, speed = motion.direction[use], motion.speed[use]
    aside = angles.difference(own[use], track)
    middle = float(np.median(aside))
    turned = float(np.ptp(np.unwrap(track)))
    constant = np.nan
    if turned > np.radians(100.0) and np.median(np.abs(aside)) < np.radians(40.0):
        table = np.column_stack([np.ones(track.size), np.sin(track) / speed, np.cos(track) / speed])
        constant = float(np.linalg.lstsq(table, aside, rcond=None)[0][0])
    return Aside(middle, float(np.median(np.abs(aside))), turned, constant, int(use.sum()))


def turn_by_roll(motion: Motion, roll: np.ndarray, heading: np.ndarray | None = None) -> Fit:
    """Compare the turn with the one that a roll (n,), rad, makes: rate = g tan(roll) / speed.

    The turn is the motion's, or that of a ``heading`` (n,), rad, which small turns show better in.

    The slope is 1 where the roll is what it says, the right wing down counting up.
    """
    own = motion.middle_angle(roll)
    if own.size < FEWEST:
        return Fit(0.0, 0.0, int(own.size))
    if heading is None:
        turn = np.gradient(np.unwrap(motion.direction), np.cumsum(motion.step)) * motion.speed
    else:
        turn = angles.difference(heading[motion.end], heading[motion.start]) / motion.step * motion.speed
    use = (motion.speed > FLYING) & (np.abs(turn) < 40.0) & np.isfinite(own)
    if use.sum() < FEWEST or np.sqrt(np.mean(turn[use] ** 2)) < _LEAST_TURN:
        return Fit(0.0, 0.0, int(use.sum()))
    pull = units.STANDARD_GRAVITY * np.tan(np.clip(angles.wrap(own[use]), -1.4, 1.4))
    return follow(pull, turn[use])


class Bank(Struct, frozen=True):
    """How many times the turn that a roll makes is flown, and how well that is known.

    One of a right roll counting up, minus one of a left one: what else bends a path is parted off.
    """

    slope: float
    sigma: float

    @property
    def odds(self) -> float:
        """Log of how much likelier the right roll counts up than the left one does."""
        variance = self.sigma**2 + _TURN_MODEL**2
        return 2.0 * self.slope / variance if np.isfinite(self.sigma) else 0.0

    @property
    def likely(self) -> bool:
        """Whether the slope is near one either way, as it is of a roll in its own unit."""
        off = abs(abs(self.slope) - 1.0)
        return off < _MOST_OFF and off < 3.0 * float(np.hypot(self.sigma, _TURN_MODEL))


_NO_BANK = Bank(0.0, np.inf)


def bank(motion: Motion, roll: np.ndarray, heading: np.ndarray) -> Bank:
    """Fit what bends the path: roll, and the slip to one side, which the nose beside the path shows.

    On a straight approach slips bend the path as much as the small rolls do that go with them, so that path
    and roll alone say little; ``turn = a + slope g tan(roll) / speed + k (heading - course)`` parts the two.
    A steady wind and a heading that is off by a constant go into ``a``; gusts show in nothing recorded and
    are left in the residuals, whose sigma allows for runs of them that hang together.

    Args:
        motion: the motion over spans.
        roll: (n,), rad, the right wing down counting up.
        heading: (n,), rad, clockwise, true or off by a constant.
    """
    if motion.speed.size < 2 * FEWEST:
        return _NO_BANK
    middle = _mean_over(motion, np.tan(np.clip(angles.wrap(roll), -1.4, 1.4)))
    course, nose = np.unwrap(motion.direction), motion.middle_angle(heading)
    beside = angles.difference(nose, course)
    both = np.isfinite(middle + beside) & (motion.speed > FLYING)
    use = both[1:] & both[:-1] & (motion.start[1:] - motion.end[:-1] <= 1)
    if use.sum() < 2 * FEWEST:
        return _NO_BANK

    def between(values: np.ndarray) -> np.ndarray:
        return (0.5 * (values[1:] + values[:-1]))[use]

    speed, pace = between(motion.speed), between(motion.step)
    turn = np.diff(course)[use] / pace * speed
    table = np.column_stack(
        [np.ones(speed.size), units.STANDARD_GRAVITY * between(middle), speed * between(beside)]
    )
    sizes = np.sqrt((table**2).sum(axis=0))
    if not np.all(sizes > 0.0) or np.abs(turn).max() > 60.0:
        return _NO_BANK
    found, _, rank, _ = np.linalg.lstsq(table / sizes, turn, rcond=1e-9)
    if rank < 3:
        return _NO_BANK
    rest = turn - (table / sizes) @ found
    spread_of = np.linalg.inv((table / sizes).T @ (table / sizes))[1, 1] ** 0.5 / sizes[1]
    power = float(rest @ rest)
    linked = float(rest[1:] @ rest[:-1]) / power if power > 0.0 else 0.0
    # an even run of residuals says less than as many that are independent
    wider = ((1.0 + min(max(linked, 0.0), 0.98)) / (1.0 - min(max(linked, 0.0), 0.98))) ** 0.5
    sigma = spread_of * (power / (rest.size - 3)) ** 0.5 * wider
    return Bank(float(found[1] / sizes[1]), float(sigma))


def _mean_over(motion: Motion, values: np.ndarray) -> np.ndarray:
    """Mean of a channel (n,) over the rows of each span."""
    known = np.isfinite(values)
    total = np.concatenate([[0.0], np.cumsum(np.where(known, values, 0.0))])
    count = np.concatenate([[0], np.cumsum(known)])
    held = count[motion.end + 1] - count[motion.start]
    return np.where(held > 0, (total[motion.end + 1] - total[motion.start]) / np.maximum(held, 1), np.nan)


def climb_angle(motion: Motion, climb: np.ndarray) -> np.ndarray:
    """Climb angle over each span from its rate of climb (m,), NaN where it does not fly."""
    return np.where(
        motion.speed > FLYING, np.arctan2(climb, np.where(motion.speed > 0, motion.speed, 1.0)), np.nan
    )


def attack_by_nose(pitch: np.ndarray, climb: np.ndarray, roll: np.ndarray | None) -> np.ndarray:
    """Angle of attack that pitch and climb angle ask for, no sideslip; exact to first order in it."""
    level = np.cos(roll) if roll is not None else 1.0
    return (pitch - climb) / np.clip(level, 0.5, 1.0)


class Wind(Struct, frozen=True):
    """The one wind that best joins airspeed and motion: its size, and what it leaves, m/s."""

    size: float
    rest: float


def wind_between(motion: Motion, airspeed: np.ndarray, *, lean: float = 12.0) -> Wind:
    """Fit a wind to an airspeed (n,), m/s, and the motion; leaning to less than ``lean`` m/s."""
    own = motion.middle(airspeed)
    use = np.isfinite(own) & (motion.speed > FLYING) & (own > 0.5 * FLYING)
    if use.sum() < FEWEST:
        return Wind(np.nan, np.nan)
    along = np.column_stack([np.cos(motion.direction[use]), np.sin(motion.direction[use])])
    excess = motion.speed[use] - own[use]
    wind = np.linalg.solve(along.T @ along + np.eye(2) * (8.0 / lean) ** 2, along.T @ excess)
    return Wind(float(np.hypot(*wind)), float(np.median(np.abs(excess - along @ wind))))


def spread(values: np.ndarray) -> float:
    """Median distance from the median, of the finite ones."""
    values = values[np.isfinite(values)]
    return float(np.median(np.abs(values - np.median(values)))) if values.size else np.nan
