"""How far two clocks are apart, where aircraft and ship were recorded by different senders.

Three things in a recording tie the clocks together. Wheels that stand or roll on a moving
deck keep its plane and its attitude, at the true offset alone. A wire begins to pull where
the hook is at that wire. And who lands means to land near the hook target: a weak hint that
chooses between wires. A ship that goes straight on an even keel leaves only the last two,
and an offset that carries her by one spacing of her wires then looks nearly the same: the
sigma says so.
"""

from __future__ import annotations

from itertools import pairwise
from math import erf

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.aircraft.model import Profile
from deckward.errors import Note
from deckward.foundation.statistics import median
from deckward.foundation.track import Track
from deckward.foundation.units import DEGREE, KNOT
from deckward.passes import estimate
from deckward.passes.axes import Geometry, Moment
from deckward.passes.draft import Draft, follow_plain, hook_up, raw_moment
from deckward.passes.ground import Ground
from deckward.passes.on_deck import RESTS, from_hull, speed_over, stretches
from deckward.passes.pull import ONSETS, Pull, pull_begins
from deckward.site.model import Site

#: offsets looked at, s; two recorders of one flight agree this well or are set by hand
_FARTHEST, _STEP = 4.0, 0.01
_OFFSETS = np.arange(-_FARTHEST, _FARTHEST + _STEP / 2.0, _STEP)
#: one clock behind both files is the usual case; else offsets spread like this, s
_ONE_CLOCK, _SPREAD = 0.7, 1.2
#: whatever the data say, stamps and interpolation leave this much, s
_LEAST = 0.01
#: slower than this against the deck, m/s, the nose has come down
_SLOW = 3.0
#: what a signal may stray in spite of standing on the deck, m and rad
_FLOOR, _FLOOR_ANGLE = 0.004, 0.004 * DEGREE
#: how far from the deck wheels that stand on it may seem to be, m: tyres, struts, a curved deck
_STANDS = 0.25
#: how long rocking goes on after a stop, s
_ROCKS = 1.0
#: how often attitudes are written late against their stamps, and at most by how much, s:
#: chosen by us
_LATE, _LATEST = 0.2, 0.3
#: stretches on deck looked at, their length (s) and the samples taken from all of them
_STRETCHES, _STRETCH, _SAMPLES = 6, 40.0, 420
_MARGIN = _FARTHEST + 2.0
#: where a pull is seen to begin, m; how near those who trap come to the hook target (m along, across);
#: how often a hook passes a wire over: chosen by us
_ONSET, _LANDS, _ASIDE, _SKIPS = 1.5, 15.0, 4.0, 0.03
#: a sigma of the offset, s, that says something
_PLAIN = 0.3
#: clocks are said to agree where what is seen leaves no more than this between them, s, whatever is usual: as
#: near as clocks that differ are to be put right, half a metre of a ship's way at 20 kt
_AGREE = 0.05
#: share of the chances that a peak must hold to count as the only one
_ALONE = 0.9


class Clocks(Struct, frozen=True):
    """Seconds to add to the ship's clock, their sigma, and what else they could be.

    ``one`` is the chance that both sources share a clock, ``alone`` that of all others the
    offset holds; ``others`` are the next likely offsets (s); ``told_by`` names what the
    estimate rests on. Where one clock is likelier the offset is 0, ``seen`` what would fit best, and the
    sigma what is seen leaves between the clocks: that two sources mostly share one is nothing seen.
    """

    offset: float
    sigma: float
    one: float
    alone: float
    others: tuple[float, ...]
    told_by: tuple[str, ...]
    seen: float = 0.0

    @property
    def differ(self) -> bool:
        """Whether the recording says that the clocks are apart, and by how much."""
        return self.one < 0.05 and self.alone > _ALONE

    @property
    def agree(self) -> bool:
        """Whether the recording itself says that the clocks are together."""
        return bool(self.told_by) and self.one > 0.5 and self.sigma <= _AGREE

    @property
    def hinted(self) -> bool:
        """Whether the recording says something of the clocks, but not enough to tell."""
        return bool(self.told_by) and self.sigma < _PLAIN and not (self.differ or self.agree)


def estimate_offset(drafts: list[Draft], track: Track, ship: Track, *, moved_by: float = 0.0) -> Clocks:
    """Estimate the seconds to add to the ship's times.

    Args:
        drafts: the passes, their lanes smoothed and contacts settled with the ship's track given.
        track: the aircraft's whole recording.
        ship: the ship's, on her own clock.
        moved_by: seconds that were added to her times before, counted into what is told.
    """
    site, profile = drafts[0].site, drafts[0].profile
    told_by: list[str] = []
    score = np.zeros(_OFFSETS.size)
    place, attitude = _deck_scores(track, ship, site, profile)
    deck = place + _perhaps_late(attitude)
    if np.ptp(deck) > 2.0:
        told_by.append("the deck's motion under the aircraft")
    score += deck
    for one in drafts:
        pull = _arrest_score(one)
        if pull is not None:
            score += pull
            told_by.append("where the wire begins to pull")
    return _weigh(score, tuple(dict.fromkeys(told_by)), moved_by)


def settled(first: Clocks, second: Clocks) -> Clocks:
    """Choose between an estimate and one made anew with the ship where the first had put her.

    The second one knows better; only where it still speaks for two clocks, less surely, the first holds.
    """
    if second.differ or second.one > 0.5:
        return second
    return replace(first, sigma=max(first.sigma, second.sigma))


def offset_on_deck(track: Track, ship: Track, site: Site, profile: Profile) -> Clocks:
    """Estimate the seconds to add to the ship's times from what stands or rolls on her deck alone.

    Needs no pass, and of the site only roughly where her deck is.
    """
    place, attitude = _deck_scores(track, ship, site, profile)
    deck = place + _perhaps_late(attitude)
    return _weigh(deck, ("the deck's motion under the aircraft",) if np.ptp(deck) > 2.0 else ())


def _perhaps_late(attitude: np.ndarray) -> np.ndarray:
    """Widen what attitudes say of the offsets by the chance that the recorder writes them late."""
    likelihood = np.exp(attitude - attitude.max())
    steps = round(_LATEST / _STEP)
    ahead = np.concatenate([likelihood, np.full(steps, likelihood[-1])])
    late = np.convolve(ahead, np.full(steps, 1.0 / steps), mode="valid")[: likelihood.size]
    return np.log((1.0 - _LATE) * likelihood + _LATE * late + 1e-300)


def _weigh(score: np.ndarray, told_by: tuple[str, ...], moved_by: float = 0.0) -> Clocks:
    """Turn log-likelihoods of the offsets, of a ship moved before, into all that there is to add."""
    offsets = _OFFSETS + moved_by
    likelihood = np.exp(score - score.max())
    likelihood = _blurred(likelihood, _LEAST / _STEP)
    prior = np.exp(-0.5 * (offsets / _SPREAD) ** 2)
    slab = likelihood * prior / prior.sum()
    at_zero = float(np.interp(0.0, offsets, likelihood))
    one = _ONE_CLOCK * at_zero / (_ONE_CLOCK * at_zero + (1.0 - _ONE_CLOCK) * float(slab.sum()))
    chance = slab / slab.sum()
    peaks = _peaks(chance)
    best = peaks[0]
    near = np.abs(_OFFSETS - best[0]) < best[2]
    mean = float((offsets * chance)[near].sum() / chance[near].sum())
    alone = best[1] > _ALONE
    counts = np.where(near, chance, 0.0) if alone else chance
    sigma = float(np.sqrt(((offsets - mean) ** 2 * counts).sum() / counts.sum()))
    seen = mean
    if one > 0.5:
        mean, sigma = 0.0, float(np.sqrt((offsets**2 * counts).sum() / counts.sum()))
    others = tuple(centre + moved_by for centre, share, _ in peaks[1:] if share > 0.05)
    return Clocks(mean, max(sigma, _LEAST), one, best[1], others, told_by, seen)


def _peaks(chance: np.ndarray) -> list[tuple[float, float, float]]:
    """Peaks as (offset, share of the chances, half width to the next valley), greatest share first."""
    smooth = _blurred(chance, 8.0)
    inner = (smooth[1:-1] > smooth[:-2]) & (smooth[1:-1] >= smooth[2:])
    tops = np.flatnonzero(inner) + 1
    if not tops.size:
        tops = np.array([int(smooth.argmax())])
    valleys = [int(a + smooth[a:b].argmin()) for a, b in pairwise(tops.tolist())]
    edges = [0, *valleys, chance.size]
    found: list[tuple[float, float, float]] = [
        (
            float(_OFFSETS[low + int(smooth[low:high].argmax())]),
            float(chance[low:high].sum()),
            float(max(min(top - low, high - top), 1) * _STEP),
        )
        for top, low, high in zip(tops.tolist(), edges[:-1], edges[1:], strict=True)
    ]
    return sorted(found, key=lambda peak: -peak[1])


def _blurred(values: np.ndarray, width: float) -> np.ndarray:
    """Spread over a bell of ``width`` steps."""
    reach = int(np.ceil(4.0 * width))
    bell = np.exp(-0.5 * (np.arange(-reach, reach + 1) / max(width, 1e-6)) ** 2)
    return np.convolve(values, bell / bell.sum(), mode="same")


# --- standing and rolling on the deck


def _deck_scores(track: Track, ship: Track, site: Site, profile) -> np.ndarray:
    """Log-likelihoods (2, k) of each offset from places and from attitudes against the deck."""
    total = np.zeros((2, _OFFSETS.size))
    found = _on_deck(track, ship)
    if not found:
        return total
    each = max(_SAMPLES // len(found), 40)
    for start, end in found:
        part = track.between(start, end)
        near = ship.between(start - _MARGIN, end + _MARGIN)
        if len(near) < 4 or len(part) < 8:
            continue
        ground = Ground.at(near, start)
        vessel = estimate.Craft(ground, near, estimate.lanes_of(near, ground))
        follow_plain(vessel, near)
        estimate.smooth([lane for lane in vessel.lanes.values() if not lane.settled])
        rows = np.unique(np.linspace(0, len(part) - 1, min(each, len(part))).astype(int))
        total += _stretch_scores(part.take(rows), vessel, ground, site, profile)
    return total


def _on_deck(track: Track, ship: Track) -> list[tuple[float, float]]:
    """Stretches (start, end), s, in which the aircraft stands or rolls on deck; the longest few."""
    thin = np.diff(np.floor(track.time / 0.1), prepend=-np.inf) > 0
    view = from_hull(track.take(np.flatnonzero(thin)), ship)
    found = [
        (float(view.time[run[0]]), float(min(view.time[run[-1]], view.time[run[0]] + _STRETCH)))
        for run in stretches(view)
    ]
    return sorted(found, key=lambda one: one[0] - one[1])[:_STRETCHES]


def _stretch_scores(part: Track, vessel: estimate.Craft, ground: Ground, site: Site, profile) -> np.ndarray:
    """Log-likelihoods (2, k) of each offset from one stretch on deck."""
    place = ground.place(part)
    n, k = len(part), _OFFSETS.size

    def own(name: str) -> np.ndarray:
        values = part.get(name)
        return np.zeros(n) if values is None else np.where(np.isfinite(values), values, 0.0)

    def each(values: np.ndarray) -> np.ndarray:
        return np.tile(values, (k, *[1] * (values.ndim - 1)))

    when = (part.time[None] - _OFFSETS[:, None]).ravel()
    ship_place, ship_velocity = vessel.place(when)
    lanes = vessel.lanes
    pitch, roll, heading = (
        lanes[name].at(when)[:, 0] if name in lanes else np.zeros(when.size)
        for name in ("pitch", "roll", "heading")
    )
    moment = Moment(
        each(part.time),
        each(place),
        ship_velocity,
        each(own("pitch")),
        each(own("roll")),
        each(own("heading")),
        ship_place,
        ship_velocity,
        pitch,
        roll,
        heading,
        np.zeros_like(ship_place),
    )
    geometry = Geometry(moment, site, profile, ground)
    right, left, _ = geometry.wheels()
    spot = geometry.deck(geometry.offset).reshape(k, n, 3)
    wheels = (0.5 * (right + left)[:, 2]).reshape(k, n)
    zero = _OFFSETS.size // 2
    speed = speed_over(part.time, spot[zero])
    attitude = np.einsum("...ji,...jk->...ik", geometry.ship_attitude, geometry.body).reshape(k, n, 3, 3)
    rest, slow, always = speed < RESTS, speed < _SLOW, speed < np.inf
    least = {name: lane.least for name, lane in estimate.lanes_of(part, ground).items()}
    level = max(least["north"], least["east"])
    signals = [
        ("place", wheels, least["down"], always),
        ("place", spot[:, :, 0], level, rest),
        ("place", spot[:, :, 1], level, rest),
        ("roll", np.arctan2(attitude[..., 2, 1], attitude[..., 2, 2]), 0.0, always),
        ("pitch", np.arcsin(np.clip(-attitude[..., 2, 0], -1.0, 1.0)), 0.0, slow),
        ("heading", np.arctan2(attitude[..., 1, 0], attitude[..., 0, 0]), 0.0, rest),
    ]
    measured = np.isfinite(place).all(axis=-1)
    stands = float(np.sqrt(_STANDS**2 + site.sigma.ramp[2] ** 2 + profile.sigma.main_wheels[2] ** 2))
    total = np.zeros((2, k))
    total[0] = -0.5 * (median(wheels[:, measured], axis=1) / stands) ** 2
    for name, values, floor, rows in signals:
        angle = name != "place"
        if angle and name not in least:
            continue
        floor = float(np.hypot(*((_FLOOR_ANGLE, least[name]) if angle else (_FLOOR, floor))))
        rows = rows & measured
        if rows.sum() >= 8 and np.ptp(part.time[rows]) > 1.0:
            total[int(angle)] += _steadiness(part.time[rows], values[:, rows], floor)
    return total


def _steadiness(time: np.ndarray, values: np.ndarray, floor: float) -> np.ndarray:
    """Log-likelihood (k,) of signals (k, n) that should stand still but for a dying rock.

    The scale comes from the best of them, the count from how long its residuals last.
    """
    basis = np.stack([np.ones_like(time), np.exp(-(time - time[0]) / _ROCKS)], axis=-1)
    solve = np.linalg.pinv(basis)
    rest = values - (values @ solve.T) @ basis.T
    power = np.mean(rest**2, axis=1) + floor**2
    best = rest[int(power.argmin())]
    spread = float(np.sum(best**2))
    lasting = float(np.sum(best[1:] * best[:-1]) / spread) if spread > 0.0 else 0.0
    lasting = float(np.clip(lasting, 0.0, 0.98))
    count = max(time.size * (1.0 - lasting) / (1.0 + lasting) - 2.0, 1.0)
    return -0.5 * count * np.log(power / power.min())


# --- held by a wire


def _arrest_score(d: Draft) -> np.ndarray | None:
    """Log-likelihood (k,) of each offset from where a wire begins to pull; None where none does."""
    if d.contact is None or d.site.wires is None or hook_up(d):
        return None
    run = _run(d)
    if run is None:
        return None
    pull, speed, hook, low = run
    wires = np.asarray(d.site.wires.positions)
    known = float(np.hypot(np.hypot(d.site.sigma.wires, d.profile.sigma.hook[0]), _ONSET))
    # a place that is off by some sigmas moves the onset as much, whatever the clocks do
    chance = _blurred(pull.chance, known / speed / float(ONSETS[1] - ONSETS[0]))
    moved = _carried(d)
    total = np.zeros(_OFFSETS.size)
    edges = np.concatenate([[-50.0], wires])
    lowest = low + moved[:, 0]
    unsure = float(np.hypot(2.0, known))
    for behind, wire in zip(edges[:-1], wires, strict=True):
        begins = (wire - hook[0] - moved[:, 0]) / speed
        seen = np.interp(begins, ONSETS, chance, left=0.0, right=0.0)
        first = _below((lowest - behind) / unsure) * _below((wire - lowest) / unsure)
        total += seen * (first + _SKIPS)
    total = total / max(float(total.max()), 1e-300) + 1e-3
    aim = (lowest - d.site.lens.hook_target) / np.hypot(_LANDS, known)
    aside = (hook[1] + moved[:, 1]) / _ASIDE
    return np.log(total) - 0.5 * aim**2 - 0.5 * aside**2


def _below(z: np.ndarray) -> np.ndarray:
    return np.array([0.5 * (1.0 + erf(v / np.sqrt(2.0))) for v in z])


def _run(d: Draft) -> tuple[Pull, float, np.ndarray, float] | None:
    """Read one arrest: the pull, speed at contact, hook then (deck axes), and where it was low.

    None where no wire held.
    """
    assert d.contact is not None
    time = d.aircraft.lanes["north"].time
    rows = np.flatnonzero(time >= d.contact - 1.0)
    at = d.geometry(d.contact + np.array([-0.02, 0.0]))
    before, after = at.deck(at.offset)
    hook = at.hook()[1]
    speed = float(after[0] - before[0]) / 0.02
    raw = Geometry(raw_moment(d, rows), d.site, d.profile, d.aircraft.ground)
    lanes = d.aircraft.lanes
    noise = float(np.sqrt(np.nanmax([lanes[name].variance for name in ("north", "east")])))
    pull = pull_begins(time[rows] - d.contact, raw.deck(raw.offset)[:, 0], noise=noise)
    if pull is None or speed < 10.0:
        return None
    sink = float(at.hook()[0, 2] - at.hook()[1, 2]) / 0.02
    low = hook[0] + speed * float(np.clip(hook[2] / max(sink, 0.5), 0.0, 1.0))
    return pull, speed, hook, low


def _carried(d: Draft) -> np.ndarray:
    """How far (k, 2) along and across the deck the aircraft moves as the ship's clock is shifted."""
    assert d.contact is not None
    place, _ = d.ship.place(d.contact - _OFFSETS)
    here, _ = d.ship.place(np.array([d.contact]))
    heading = float(d.ship.attitude(np.array([d.contact]))[0, 2]) - d.site.angle
    off = here[0] - place
    c, s = np.cos(heading), np.sin(heading)
    return np.stack([c * off[:, 0] + s * off[:, 1], -s * off[:, 0] + c * off[:, 1]], axis=-1)


# --- telling it


def shift(ship: Track, clocks: Clocks) -> Track:
    """Bring the ship onto the aircraft's clock; the doubt that is left goes along as her sigma "clock"."""
    return replace(ship, time=ship.time + clocks.offset, sigma={**ship.sigma, "clock": clocks.sigma})


def unsure(ship: Track, clocks: Clocks) -> Track:
    """Leave the ship on her own clock, with what the recording hints of another as her sigma "clock"."""
    doubt = float(np.hypot(clocks.offset, clocks.sigma)) if clocks.hinted else 0.0
    return replace(ship, sigma={**ship.sigma, "clock": doubt}) if doubt > 0.0 else ship


def notes(clocks: Clocks, speed: float) -> list[Note]:
    """Say what was found of the clocks; ``speed`` is the ship's, m/s."""
    by = " and ".join(clocks.told_by)
    away = f"{clocks.sigma * speed:.0f} m at her {speed / KNOT:.0f} kt"
    if clocks.differ:
        text = (
            f"The ship's clock is {abs(clocks.offset):.2f} s {'behind' if clocks.offset > 0 else 'ahead of'} "
            f"the aircraft's (sigma {clocks.sigma:.2f} s), by {by}: {clocks.offset:+.2f} s were added to her "
            "times. --ship-time-offset-s sets another."
        )
        return [Note("ship-clock", text)]
    if clocks.agree:
        return [
            Note(
                "ship-clock",
                "The clocks of aircraft and ship agree as far as can be told (offset 0, sigma "
                f"{clocks.sigma:.2f} s), by {by}.",
            )
        ]
    likely = " or ".join(f"{round(offset, 2) + 0.0:+.2f}" for offset in (clocks.seen, *clocks.others))
    if clocks.hinted:
        # of what may be between the clocks, how sure the likeliest is
        sigma = np.sqrt(max(clocks.sigma**2 - (clocks.seen - clocks.offset) ** 2, _LEAST**2))
        text = (
            f"Aircraft and ship come from two sources; by {by} her clock may need {likely} s (sigma "
            f"{sigma:.2f} s), which is not sure enough: one clock is taken, and sigmas along the deck are "
            f"wider by the doubt ({away}). --ship-time-offset-s sets another."
        )
        return [Note("ship-clock-unknown", text)]
    text = (
        "Aircraft and ship come from two sources, and nothing in them ties their clocks closer than "
        f"{clocks.sigma:.1f} s ({away}): one clock is taken. --ship-time-offset-s sets another."
    )
    if clocks.told_by and clocks.one < 0.5:
        text += f" By {by} {likely} s would fit better."
    return [Note("ship-clock-unknown", text)]
