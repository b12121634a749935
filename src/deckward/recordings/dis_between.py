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
from deckward.recordings.dis_sway import sway

#: change of acceleration, m/s^2, within an interval that is a jolt, if it or the way that it leaves
#: missing is also this many times the usual of so many intervals before; of trials with flown
#: approaches, in which jolts stood out by far
_JOLT, _UNUSUAL, _COMPARED = 1.2, 5.0, 24
#: seconds after which an acceleration, and the turning of an attitude, are e times weaker; of
#: trials with flown approaches
_PUSH_LASTS, _TURN_LASTS = 2.0, 0.7
#: intervals before a jolt that the usual drift from what was reckoned is read off from, and how many must
#: have lasted as long as is asked for
_LOOK, _ENOUGH = 8, 4
#: what is not known of a motion is taken for white noise in its third derivative (of a place: the jerk) or
#: its second (of an attitude, which a hand on the stick moves more abruptly): the variance between two
#: updates grows with this power of the time to both
_PLACE_POWER, _TURN_POWER = 5, 3
#: where that grows by 1 with it, the variance of what a second's way lacks of an even acceleration's: noise
#: of density q leaves q / 20 (q / 3 in the second derivative) of the one, q / 30 (q / 3) of the other
_LACKS = {_PLACE_POWER: 20.0 / 30.0, _TURN_POWER: 1.0}
#: updates to either side whose leaving out shows how strong that noise is; all together count as much as the
#: interval's own bend, for noise comes in bursts
_AROUND = 12
#: share of what the way of an interval lacks of an even acceleration's that second derivatives may move its
#: middle by: 1/32 by a fourth derivative, some tenth by white noise in the third
_BULGE = 0.5
#: share of what an angle varies by that curves may miss where they follow it: chosen by us
_FOLLOWED = 0.2
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
    place; ``turned`` (m, 3), rad, of the attitude; all 0 at an update.
    """

    time: np.ndarray
    before: np.ndarray
    share: np.ndarray
    place: np.ndarray
    attitude: np.ndarray
    up: np.ndarray
    level: np.ndarray
    turned: np.ndarray


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
        return Between(when, before, share, path.value, turn.value, sure, sure, np.zeros((when.size, 3)))
    whole = (np.diff(path.time) < TIMEOUT) & ~broken
    jolted, shaking = _jolts(path, whole)
    whole[jolted] = whole[shaking] = False
    up = _up(path.value)
    raw_path, raw_turn = path, turn
    path, turn = path.completed(whole), turn.completed(whole)
    rough_place = _roughness(raw_path, path, whole, _PLACE_POWER, lambda off, rows: _apart(off, up[rows]))
    rough_turn = _roughness(raw_turn, turn, whole, _TURN_POWER, lambda off, rows: off)
    place, attitude = path.at(before, share), turn.at(before, share)
    shaken = np.isin(before, np.union1d(shaking, _bulging(path)))
    place[shaken] = replace(path, bend=path.bend * np.nan).at(before[shaken], share[shaken])
    inside = (share > 0.0) & np.append(whole, False)[before]
    seconds = when - path.time[before]
    within = np.where(inside | shaken, seconds * (1.0 - share), 0.0)[:, None]
    doubt = np.sqrt(
        np.column_stack(
            [
                rough_place[before] * within**_PLACE_POWER + _ROUNDED**2,
                rough_turn[before] * within**_TURN_POWER + _ROUNDED_ANGLE**2,
            ]
        )
    )
    doubt[within[:, 0] == 0.0] = 0.0
    swinging = _swinging(raw_turn) if sways else np.zeros(3, bool)
    if swinging.any():
        swung, unsure = sway(path.time, turn.value[:, swinging], when, raw_turn.rate[:, swinging])
        attitude[:, swinging] = swung
        doubt[:, 2 + np.flatnonzero(swinging)] = np.where(share[:, None] == 0.0, 0.0, unsure)
    if jolted.size:
        off = np.column_stack(
            [
                _apart(place[inside] - _reckoned(path, before[inside], seconds[inside]), up[before[inside]]),
                attitude[inside] - _turning(turn, before[inside], seconds[inside]),
            ]
        )
    for first in jolted:
        jolt = _Jolt.between(path, first, up[first])
        own = np.flatnonzero((before == first) & (share > 0.0))
        place[own] = jolt.place(path, seconds[own])
        if not (sways):
            attitude[own] = jolt.attitude(turn, seconds[own])
        # what follows the jolt, on a deck or away from it, is another motion
        near = np.isin(before[inside], np.flatnonzero(whole[:first])[-_LOOK:])
        for k in np.flatnonzero(np.concatenate([[True, True], ~swinging])):
            doubt[own, k] = _usual_drift(seconds[inside], off[:, k], before[inside], near, seconds[own])
    return Between(when, before, share, place, attitude, doubt[:, 0], doubt[:, 1], doubt[:, 2:])


def _bulging(path: Curve) -> np.ndarray:
    """Find the intervals whose second derivatives drive the curve off more than their ends bear out.

    A blow that began just before an update leaves it an acceleration that did not act before.
    """
    rows = np.arange(len(path.time) - 1)
    half = np.full(rows.size, 0.5)
    off = np.linalg.norm(path.at(rows, half) - replace(path, bend=path.bend * np.nan).at(rows, half), axis=1)
    missing = np.linalg.norm(_missing(path), axis=1)
    return np.flatnonzero(off > _BULGE * (missing + _before(missing, _COMPARED)))


def _swinging(turn: Curve) -> np.ndarray:
    """Tell which angles (3,) of a ship swing faster than curves through her updates can follow."""
    _, off, _ = turn.left_out()
    if not len(off):
        return np.ones(3, bool)
    return np.sqrt((off**2).mean(axis=0)) > _FOLLOWED * turn.value.std(axis=0)


def _roughness(raw: Curve, curve: Curve, whole: np.ndarray, power: int, split) -> np.ndarray:
    """Tell how strong the noise is that moves a craft off the smoothest curve after each update, (n, k).

    From how far curves pass the updates around that they do not see, more where the interval itself bends
    more than those around. ``split`` makes (m, k) numbers of what is off by (m, 3) at updates (m,).
    """
    tried, off, gaps = raw.left_out()
    seen = np.all([whole[tried + k] for k in (-2, -1, 0, 1)], axis=0) & (gaps.max(axis=1) > STEP)
    tried, off, gaps = tried[seen], split(off[seen], tried[seen]), gaps[seen]
    within = gaps.prod(axis=1) / gaps.sum(axis=1)
    # what follows a blow says nothing of the flight before it
    stretch = np.concatenate([[0], np.cumsum(~whole)])
    strength = _around(tried, off**2, within**power, stretch)
    span = np.diff(raw.time)[:, None]
    whole_way = np.flatnonzero(span[:, 0] <= TIMEOUT)
    own = split(_missing(curve)[whole_way], whole_way) ** 2 / (_LACKS[power] * span[whole_way] ** power)
    strength[whole_way] = 0.5 * (strength[whole_way] + own)
    return strength


def _around(at: np.ndarray, amount: np.ndarray, weight: np.ndarray, stretch: np.ndarray) -> np.ndarray:
    """Give (n, k) sums of amounts (m, k) over sums of weights (m,), of those at rows (m,) near each row.

    Only of those in the same stretch (n,); of all where that holds none.
    """
    n = stretch.size
    each = np.zeros((n, amount.shape[1] + 1))
    each[at] = np.column_stack([amount, weight])
    total = np.concatenate([np.zeros((1, each.shape[1])), np.cumsum(each, axis=0)])
    rows = np.arange(n)
    first, last = np.searchsorted(stretch, stretch), np.searchsorted(stretch, stretch, side="right")
    last = np.minimum(rows + _AROUND + 1, last)
    near = total[last] - total[np.maximum(rows - _AROUND + 1, first)]
    near = np.where(near[:, -1:] > 0.0, near, total[-1])
    return near[:, :-1] / np.maximum(near[:, -1:], 1e-30)


def _apart(off: np.ndarray, up: np.ndarray) -> np.ndarray:
    """Give what places (m, 3) are off up and down, and along each level axis root mean square, (m, 2)."""
    climb = np.einsum("ij,ij->i", off, up)
    level = np.maximum((off**2).sum(axis=1) - climb**2, 0.0)
    return np.column_stack([climb, np.sqrt(0.5 * level)])


def _usual_drift(lead, off, before, near, wanted) -> np.ndarray:
    """Give how far what is reckoned has usually drifted off after so many seconds, one sigma.

    Read off from the intervals where both ends are known: at every lead the root mean square of
    those that lasted so long, never falling; past them growing with the lead.
    """
    if np.unique(before[near]).size >= _ENOUGH:
        lead, off, before = lead[near], off[near], before[near]
    bins = np.rint(lead / STEP).astype(int)
    count = np.bincount(bins, minlength=2)
    power = np.bincount(bins, weights=off**2, minlength=2)
    known = np.flatnonzero(count >= _ENOUGH)
    if not known.size:
        return np.zeros(wanted.size)
    usual = np.sqrt(_rising(power[known] / count[known], count[known].astype(float)))
    leads = np.concatenate([[0.0], known * STEP])
    last = max(float(leads[-1]), STEP)
    out = np.interp(wanted, leads, np.concatenate([[0.0], usual]))
    return out * np.maximum(wanted / last, 1.0)


def _rising(values: np.ndarray, weights: np.ndarray) -> np.ndarray:
    """Give the never falling values (n,) next to some, by pooling neighbours that fall."""
    pools: list[tuple[float, float, int]] = []
    for value, weight in zip(values.tolist(), weights.tolist(), strict=True):
        count = 1
        while pools and pools[-1][0] > value:
            other, heavy, many = pools.pop()
            value = (value * weight + other * heavy) / (weight + heavy)
            weight, count = weight + heavy, count + many
        pools.append((value, weight, count))
    return np.repeat([pool[0] for pool in pools], [pool[2] for pool in pools])


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
