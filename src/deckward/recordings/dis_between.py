"""Going from update to update of a dead-reckoned craft, and how sure that is.

Every update is exact. Between two of them goes the smoothest curve through both; where a blow
lies between (wheels meet a deck, a wire takes the hook), what was sent before it holds until it comes.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.foundation.earth import ecef_to_geodetic, ned_rotation
from deckward.recordings.dis_curves import STEP, TIMEOUT, Curve
from deckward.recordings.dis_sway import STILL, sway

#: change of acceleration, m/s^2, within an interval that is a jolt, if it or the way that it leaves
#: missing is also this many times the usual of so many intervals before; of trials with flown
#: approaches, in which jolts stood out by far
_JOLT, _UNUSUAL, _COMPARED = 1.2, 5.0, 24
#: seconds after which an acceleration, and the turning of an attitude, are e times weaker; of
#: trials with flown approaches
_PUSH_LASTS, _TURN_LASTS = 2.0, 0.7
#: what an update says of how a craft moves counts half as much as that of the next one nearer by, out to so
#: many updates: roughness comes in bursts, and an approach calms down; chosen by us, on flown approaches
_FADES, _AROUND = 0.5, 12
#: updates that the reckoning from another begins with, where it does not tell all of its motion
_PAST = 6
#: what is not known of a motion is taken for noise, and the variance between two updates grows with this
#: power of the time to both: 5 where a place's third derivative is white (along the level, where thrust and
#: bank act), 3 where an attitude's second one is. Up and down wings smooth what comes, and an attitude whose
#: rates were sent is not left alone for long: one more; chosen by us, on flown approaches, where twice the
#: time makes what is off up and down 8 times as large, along the level 6 times
_UP_POWER, _LEVEL_POWER, _TURN_POWER, _TOLD_TURN_POWER = 6, 5, 3, 4
#: white noise in the third derivative leaves of a rate this times (1/3 - 5/4 s (1 - s)) what it leaves of a
#: place over the squared time to both updates, s being the share of the way
_SLOPES = 20.0
#: share of what the way of an interval lacks of an even acceleration's that second derivatives may move its
#: middle by: 1/32 by a fourth derivative, some tenth by white noise in the third
_BULGE = 0.5
#: intervals before a jolt that the usual drift from what was reckoned is read off from
_LOOK = 8
#: m and rad that rounding leaves between updates: a stamp's step of 1.7 us moves a jet by a tenth of a
#: millimetre, angles are sent in single precision
_ROUNDED, _ROUNDED_ANGLE = 2e-4, 1e-6


def moments(time: np.ndarray, broken: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Give the times of updates and of samples between them, none in intervals (n - 1,) that are broken.

    Also after which update each is, and its share of the way to the next, 0 at an update.
    """
    gaps = np.diff(time)
    more = np.where(
        (gaps <= TIMEOUT) & ~broken, np.maximum(np.ceil(gaps / STEP - 1e-6) - 1.0, 0.0), 0.0
    ).astype(int)
    before = np.repeat(np.arange(time.size), np.append(more + 1, 1))
    within = np.arange(before.size) - np.concatenate([[0], np.cumsum(more + 1)])[before]
    share = within / np.append(more + 1, 1)[before]
    return time[before] + share * np.append(gaps, 0.0)[before], before, share


class Between(Struct, frozen=True):
    """Samples at and between updates, with standard deviations of those between.

    ``place`` (m, 3), earth-centred m; ``attitude`` (m, 3), rad; ``up`` and ``level`` (m,), m, of the
    place; ``turned`` (m, 3), rad, of the attitude; ``climb`` and ``pace`` (m,), m/s, of the place's rates up
    and along the level; all 0 at an update.
    """

    time: np.ndarray
    before: np.ndarray
    share: np.ndarray
    place: np.ndarray
    attitude: np.ndarray
    up: np.ndarray
    level: np.ndarray
    turned: np.ndarray
    climb: np.ndarray
    pace: np.ndarray


def fill(path: Curve, turn: Curve, *, broken: np.ndarray | None = None, sways: bool = False) -> Between:
    """Put samples between updates.

    Args:
        path: places (n, 3), earth-centred m, with what is known of their derivatives.
        turn: attitudes (n, 3), rad, unwrapped.
        broken: intervals (n - 1,) in which the craft was gone, or set down elsewhere.
        sways: it is a ship: her attitude sways as it does elsewhere, where curves do not follow it.
    """
    broken = np.zeros(path.time.size - 1, bool) if broken is None else broken
    when, before, share = moments(path.time, broken)
    if when.size == path.time.size:
        sure = np.zeros(when.size)
        angles = np.zeros((when.size, 3))
        return Between(when, before, share, path.value, turn.value, sure, sure, angles, sure, sure)
    whole = (np.diff(path.time) < TIMEOUT) & ~broken
    jolted, shaking = _jolts(path, whole)
    whole[jolted] = whole[shaking] = False
    up = _up(path.value)
    raw_path, raw_turn = path, turn
    path, turn = path.completed(whole), turn.completed(whole)
    told_rates = bool(np.isfinite(raw_turn.rate).all())
    powers = np.array([_UP_POWER, _LEVEL_POWER] + 3 * [_TOLD_TURN_POWER if told_rates else _TURN_POWER])
    rough = np.column_stack(
        [
            _roughness(raw_path, whole, powers[:2], lambda off, rows: _apart(off, up[rows])),
            _roughness(raw_turn, whole, powers[2:], lambda off, rows: off),
        ]
    )
    place, attitude = path.at(before, share), turn.at(before, share)
    shaken = np.isin(before, np.union1d(shaking, _bulging(path)))
    place[shaken] = replace(path, bend=path.bend * np.nan).at(before[shaken], share[shaken])
    inside = (share > 0.0) & np.append(whole, False)[before]
    seconds = when - path.time[before]
    within = np.where(inside | shaken, seconds * (1.0 - share), 0.0)[:, None]
    rounded = np.array([_ROUNDED] * 2 + [_ROUNDED_ANGLE] * 3)
    doubt = np.sqrt(rough[before] * within**powers + rounded**2)
    doubt[within[:, 0] == 0.0] = 0.0
    uneven = _SLOPES * (1.0 / 3.0 - 1.25 * share * (1.0 - share))
    pace = np.sqrt(rough[before, :2] * within ** (powers[:2] - 2) * uneven[:, None])
    swinging = np.zeros(3, bool)
    if sways:
        swinging, swung, unsure = _swings(raw_turn, turn.value, when)
        attitude[:, swinging] = swung[:, swinging]
        doubt[:, 2:][:, swinging] = np.where(share[:, None] == 0.0, 0.0, unsure[:, swinging])
    # a blow may have begun before the update that it is first seen from
    for eve in jolted[(jolted > 0) & whole[jolted - 1]] - 1:
        own = np.flatnonzero((before == eve) & (share > 0.0))
        begun = _begun(path, eve, up)
        part, span = share[own, None], path.time[eve + 1] - path.time[eve]
        doubt[own, :2] = np.hypot(doubt[own, :2], part**2 * (1.0 - part) * begun)
        pace[own] = np.hypot(pace[own], np.abs(part * (2.0 - 3.0 * part)) * begun / span)
    for first in jolted:
        jolt = _Jolt.between(path, first, up[first])
        own = np.flatnonzero((before == first) & (share > 0.0))
        place[own] = jolt.place(path, seconds[own])
        if not sways:
            attitude[own] = jolt.attitude(turn, seconds[own])
        # what follows the jolt, on a deck or away from it, is another motion
        looked = [i for i in np.flatnonzero(whole[:first])[-_LOOK:] if (before == i).sum() > 1]
        drifts = []
        for i in looked:
            rows = np.flatnonzero((before == i) & (share > 0.0))
            lead, at = seconds[rows], np.full(rows.size, i)
            off = place[rows] - _reckoned(_known_by(raw_path, i, whole), at, lead)
            turned = attitude[rows] - _turning(_known_by(raw_turn, i, whole), at, lead)
            drifts.append((np.column_stack([_apart(off, up[at]), turned]), lead))
        for k in np.flatnonzero(np.concatenate([[True, True], ~swinging])).tolist():
            drift = _usual_drift(drifts, k, seconds[own])
            doubt[own, k] = np.hypot(drift, rounded[k])
            if k < 2:  # as by an acceleration that is not known
                pace[own, k] = 2.0 * drift / seconds[own]
    level, turned = doubt[:, 1], doubt[:, 2:]
    return Between(when, before, share, place, attitude, doubt[:, 0], level, turned, pace[:, 0], pace[:, 1])


def _bulging(path: Curve) -> np.ndarray:
    """Find the intervals whose second derivatives drive the curve off more than their ends bear out.

    A blow that began just before an update leaves it an acceleration that did not act before.
    """
    rows = np.arange(len(path.time) - 1)
    half = np.full(rows.size, 0.5)
    off = np.linalg.norm(path.at(rows, half) - replace(path, bend=path.bend * np.nan).at(rows, half), axis=1)
    missing = np.linalg.norm(_missing(path), axis=1)
    return np.flatnonzero(off > _BULGE * (missing + _before(missing, _COMPARED)))


def _swings(raw: Curve, angles: np.ndarray, when: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Tell which angles (3,) of a ship a sway follows better than curves do, and give it and its sigma.

    Judged by the updates that each does not see.
    """
    swinging, swung, unsure = np.zeros(3, bool), np.zeros((when.size, 3)), np.zeros((when.size, 3))
    _, off, _ = raw.left_out()
    missed = np.sqrt((off**2).mean(axis=0)) if len(off) else np.full(3, np.inf)
    asked = missed > STILL
    if asked.any():
        swung[:, asked], unsure[:, asked], better = sway(raw.time, angles[:, asked], when, raw.rate[:, asked])
        swinging[asked] = better < missed[asked]
    return swinging, swung, unsure


def _roughness(raw: Curve, whole: np.ndarray, power: np.ndarray, split) -> np.ndarray:
    """Tell how strong the noise is that moves a craft off the smoothest curve after each update, (n, k).

    From how far curves pass the updates around that they do not see. ``split`` makes (m, k) numbers of
    what is off by (m, 3) at updates (m,).
    """
    tried, off, gaps = raw.left_out()
    seen = np.all([whole[tried + k] for k in (-2, -1, 0, 1)], axis=0) & (gaps.max(axis=1) > STEP)
    tried, off, gaps = tried[seen], split(off[seen], tried[seen]), gaps[seen]
    within = gaps.prod(axis=1) / gaps.sum(axis=1)
    # what follows a blow says nothing of the flight before it
    stretch = np.concatenate([[0], np.cumsum(~whole)])
    return _around(tried, off**2 / within[:, None] ** power, stretch)


def _around(at: np.ndarray, amount: np.ndarray, stretch: np.ndarray) -> np.ndarray:
    """Give (n, k) means of amounts (m, k) at updates (m,), as far as each counts for the way from each row.

    Only of those in the same stretch (n,); of all where that holds none.
    """
    n = stretch.size
    each = np.zeros((n, amount.shape[1] + 1))
    each[at] = np.column_stack([amount, np.ones(at.size)])
    total = np.zeros_like(each)
    for away in range(min(_AROUND, n)):
        counts = _FADES**away
        same = (stretch[away:] == stretch[: n - away])[:, None]
        total[away:] += counts * same * each[: n - away]
        same = (stretch[away + 1 :] == stretch[: n - away - 1])[:, None]
        total[: n - away - 1] += counts * same * each[away + 1 :]
    total = np.where(total[:, -1:] > 0.0, total, each.sum(axis=0))
    return total[:, :-1] / np.maximum(total[:, -1:], 1e-30)


def _apart(off: np.ndarray, up: np.ndarray) -> np.ndarray:
    """Give what places (m, 3) are off up and down, and along each level axis root mean square, (m, 2)."""
    climb = np.einsum("ij,ij->i", off, up)
    level = np.maximum((off**2).sum(axis=1) - climb**2, 0.0)
    return np.column_stack([climb, np.sqrt(0.5 * level)])


def _usual_drift(drifts: list[tuple[np.ndarray, np.ndarray]], k: int, wanted: np.ndarray) -> np.ndarray:
    """Give how far what is reckoned has usually drifted off after so many seconds (m,), one sigma.

    Read off from what it was off by (j, ..) after leads (j,) in the intervals before, the last one last.
    Past the end of such an interval it goes on drifting as it had on average.
    """
    power = np.zeros(wanted.size)
    counted = 0.0
    for away, (off, lead) in enumerate(reversed(drifts)):
        drifted = np.interp(wanted, np.append(0.0, lead), np.append(0.0, np.abs(off[:, k])))
        power += _FADES**away * (drifted * np.maximum(wanted / lead[-1], 1.0)) ** 2
        counted += _FADES**away
    return np.sqrt(power / max(counted, 1e-30))


def _known_by(raw: Curve, update: int, whole: np.ndarray) -> Curve:
    """Give the curve with the derivatives at an update that the updates up to it let one know."""
    if np.isfinite(raw.rate[update]).all() and np.isfinite(raw.bend[update]).all():
        return raw
    rows = slice(max(update - _PAST, 0), update + 1)
    past = Curve(*(values[rows] for values in (raw.time, raw.value, raw.rate, raw.bend)))
    past = past.completed(whole[rows.start : update])
    rate, bend = raw.rate.copy(), raw.bend.copy()
    rate[update], bend[update] = past.rate[-1], past.bend[-1]
    return replace(raw, rate=rate, bend=bend)


# -- jolts -------------------------------------------------------------------------------------


class _Jolt(Struct, frozen=True):
    """A blow, or the start of a pull, between two updates.

    A curve would spread it over all of the interval. What was sent before it holds until
    it comes. From the place and the velocity that the next update adds to what was
    reckoned, it came place / velocity before that update if it was a blow (taken so up and
    down), and twice that if it was a steady pull (taken so in the level plane).
    """

    after: int
    span: float
    since_blow: float
    since_pull: float
    blow: np.ndarray
    pull: np.ndarray

    @classmethod
    def between(cls, path: Curve, first: int, up: np.ndarray) -> _Jolt:
        last = first + 1
        span = float(path.time[last] - path.time[first])
        at, end = np.array([first]), np.array([span])
        aside = path.value[last] - _reckoned(path, at, end)[0]
        faster = path.rate[last] - path.rate[first] - path.bend[first] * _lasting(end)[0]
        blow = up * (aside @ up)
        level = faster - up * (faster @ up)
        return cls(
            after=int(first),
            span=span,
            since_blow=_within(np.linalg.norm(blow), abs(faster @ up), span),
            since_pull=_within(2.0 * np.linalg.norm(aside - blow), np.linalg.norm(level), span),
            blow=blow,
            pull=aside - blow,
        )

    def place(self, path: Curve, seconds: np.ndarray) -> np.ndarray:
        """Give earth-centred places (m, 3) so long after the first update."""
        blow = np.clip(1.0 - (self.span - seconds) / self.since_blow, 0.0, 1.0)[:, None]
        pull = np.clip(1.0 - (self.span - seconds) / self.since_pull, 0.0, 1.0)[:, None] ** 2
        at = np.full(seconds.size, self.after)
        return _reckoned(path, at, seconds) + blow * self.blow + pull * self.pull

    def attitude(self, turn: Curve, seconds: np.ndarray) -> np.ndarray:
        """Give attitudes (m, 3): turning on, until the blow."""
        at = np.full(seconds.size, self.after)
        held = _turning(turn, at, seconds)
        at_blow = _turning(turn, at[:1], np.array([self.span - self.since_blow]))
        late = np.clip(1.0 - (self.span - seconds) / self.since_blow, 0.0, 1.0)[:, None]
        return np.where(late > 0.0, at_blow + late * (turn.value[self.after + 1] - at_blow), held)


def _lasting(seconds: np.ndarray) -> np.ndarray:
    """Give what an acceleration of 1 that wears off adds to the velocity, (m,)."""
    return _PUSH_LASTS * (1.0 - np.exp(-seconds / _PUSH_LASTS))


def _reckoned(path: Curve, update: np.ndarray, seconds: np.ndarray) -> np.ndarray:
    """Give the places (m, 3) so long after updates (m,): the acceleration of an approach wears off.

    Source: R. A. Singer, "Estimating Optimal Tracking Filter Performance for Manned Maneuvering
    Targets", IEEE Trans. AES 6 (1970): exponentially correlated acceleration (from memory).
    """
    push = _PUSH_LASTS * (seconds - _lasting(seconds))
    t = seconds[:, None]
    return path.value[update] + path.rate[update] * t + path.bend[update] * push[:, None]


def _begun(path: Curve, interval: int, up: np.ndarray) -> np.ndarray:
    """Give what a blow at the end of an interval may have added to its last velocity, times its length, m.

    Up and down and along each level axis, (2,): what the way lacks of an even acceleration's beyond the
    usual. Hermite's cubic spreads it over the interval as share^2 (1 - share).
    """
    missing = np.abs(_apart(_missing(path), up[:-1]))
    usual = np.array([_before(one, _COMPARED)[interval] for one in missing.T])
    return np.maximum(missing[interval] - usual, 0.0)


def _turning(turn: Curve, update: np.ndarray, seconds: np.ndarray) -> np.ndarray:
    """Give the attitudes (m, 3) so long after updates (m,): turning wears off."""
    lasts = _TURN_LASTS * (1.0 - np.exp(-seconds / _TURN_LASTS))
    return turn.value[update] + turn.rate[update] * lasts[:, None]


def _within(way, speed, span: float) -> float:
    """Give how long a way takes, at least a thousandth of the span and at most all of it."""
    return float(np.clip(way / max(speed, 1e-9), 1e-3 * span, span))


def _up(place: np.ndarray) -> np.ndarray:
    latitude, longitude, _ = ecef_to_geodetic(place)
    return -ned_rotation(latitude, longitude)[:, 2]


def _missing(curve: Curve) -> np.ndarray:
    """Give what the way of each interval (n - 1, 3) lacks of that of an even acceleration, twice."""
    span = np.diff(curve.time)[:, None]
    way = np.diff(curve.value, axis=0) - curve.rate[:-1] * span
    return np.diff(curve.rate, axis=0) * span - 2.0 * way


def _jolts(path: Curve, whole: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Find the intervals (their first update) with a jolt, and those that it leaves shaking.

    An even acceleration takes a craft half as far as the velocity it adds, times the interval. What is
    missing from that is a few decimetres while a sender speaks up in time, whatever the craft does; after
    a blow late in an interval the velocity is there and the way is not. Six times that over the
    squared interval is the change of acceleration of the smoothest curve between both updates.
    """
    if len(path.time) < 5 or not np.isfinite(path.rate).all():
        return np.empty(0, int), np.empty(0, int)
    span = np.diff(path.time)
    sudden = far = np.zeros(span.size, bool)
    # up and down, where decks strike, and along the level, where wires pull and pilots steer
    for missing in np.abs(_apart(_missing(path), _up(path.value)[:-1])).T:
        change = 6.0 * missing / span**2
        strong = (change > _JOLT) & whole
        far = far | (strong & (missing > _UNUSUAL * _before(missing, _COMPARED)) & (span > STEP))
        sudden = sudden | (strong & (change > _UNUSUAL * _before(change, _COMPARED)))
    # the first after calm holds the blow, those that follow what it sets shaking
    first = sudden & ~np.concatenate([[False], sudden[:-1]]) & (span > STEP)
    jolted = far | first
    return np.flatnonzero(jolted), np.flatnonzero(sudden & ~jolted)


def _before(values: np.ndarray, count: int) -> np.ndarray:
    """Give for each value (n,) what eighty in a hundred of so many before it lie below."""
    first = np.percentile(values[:count], 80)
    padded = np.concatenate([np.full(count, first), values[:-1]])
    return np.percentile(np.lib.stride_tricks.sliding_window_view(padded, count), 80, axis=1)
