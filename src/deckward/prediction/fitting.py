"""Whose hands these are: a pilot fitted to passes that he flew, each of his numbers with its sigma.

What he saw is worked out from where he was. First the likelihood of what his hands did is brought to
its top (``answering.py``). That alone would lean: he closes a loop in which a gust moves both what he
sees and what he does, each pass has a constant of its own, and a threshold is no straight line. So many
pilots about there fly the same passes by the model, from the same starts on the same deck, and what
the likelihood says of them tells what it means to say of him: his numbers are those at which passes
flown by chance would look as his do.

Source: indirect inference by the score, Gallant and Tauchen, "Which moments to match?", Econometric
Theory 12 (1996); from memory.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

import numpy as np
from msgspec import Struct

from deckward.errors import InputError
from deckward.foundation.units import STANDARD_GRAVITY
from deckward.prediction import answering
from deckward.prediction import scene as kernel
from deckward.prediction.answering import SKIP, Law, Likelihood, Line, loop
from deckward.prediction.chance import keys, normal
from deckward.prediction.ensemble import Crew, Memory, fly_tracks
from deckward.prediction.following import EVERY, SHIFTED
from deckward.prediction.model import State
from deckward.prediction.odds import STEP
from deckward.prediction.scene import Pilot, Scene

POWER = (
    "delay", "height_gain", "rate_gain", "climb_gain", "settle_gain", "threshold", "eye_noise", "hand_noise",
    "aim",
)  # fmt: skip
LINE_UP = ("line_up_gain", "line_up_rate_gain", "line_up_settle_gain", "line_up_threshold", "side_noise")
NOSE = ("alpha_habit", "nose_lead", "alpha_noise")
#: how far pilots may be from the usual one, one standard deviation: of the logarithm, or in the
#: field's own unit (m, rad) for those in ``SHIFTED``; wide, common practice, no source
WIDE = {
    "delay": 0.6, "height_gain": 0.7, "rate_gain": 0.7, "climb_gain": 0.8, "settle_gain": 0.8,
    "threshold": 0.6, "eye_noise": 0.6, "hand_noise": 0.8, "aim": 1.0, "line_up_gain": 0.7,
    "line_up_rate_gain": 0.7, "line_up_settle_gain": 0.8, "line_up_threshold": 0.6, "side_noise": 0.7,
    "alpha_habit": 0.02, "nose_lead": 0.8, "alpha_noise": 0.7,
}  # fmt: skip
#: trim lever and sums that he brought with him, one standard deviation: weights, m s
_TRIM, _SUMS = 0.05, 8.0
#: a sample's own error: of the lever in weights, of the turn in m/s2
_LEVER, _TURN = 0.002, 0.02
_ROUNDS, _DRAWN = 3, 320
#: how far from the usual the nose of the first pilots drawn is
_NOSE_REACH = np.array([0.003, 0.5, 0.3])
_FELT = 0.15
#: how far ahead the fitted hands are held against the lever, s
AHEAD = 1.0
_DRAW = np.uint64(0xFFFFFFFFFFF20000)


class Flown(NamedTuple):
    """A pass as it was recorded, (n,) each, ``EVERY`` s apart, in its scene's frame.

    ``lever`` is the throttle as recorded, ``alpha`` the angle of attack without gusts, rad; each None
    where it was not recorded. ``begins`` is where in the record of the deck's motion each sample is, s;
    ``banks`` says whether the bank was recorded.
    """

    scene: Scene
    states: State
    begins: np.ndarray
    lever: np.ndarray | None
    alpha: np.ndarray | None
    banks: bool = True


class Fit(Struct, frozen=True):
    """A pilot as fitted.

    ``sigma`` by field, of the logarithm for those not in ``SHIFTED``; what is not in it was not
    fitted. ``shown`` is the share of the usual spread among pilots that the passes took away, 1 all
    of it. ``lever`` is what the hand did and what the fitted hands foretold ``AHEAD`` before, for each
    pass (2, n), in weights of thrust; empty where no lever was recorded. ``differ`` is how much more
    the passes differ from one another than by chance, as a variance, 1 not.
    """

    pilot: Pilot
    sigma: dict[str, float]
    shown: dict[str, float]
    lever: tuple[np.ndarray, ...]
    differ: float
    passes: int
    seconds: float


class _Part(NamedTuple):
    """One hand: its numbers by the pilot's and the law's names, its line and its law."""

    names: tuple[str, ...]
    of_law: tuple[str, ...]
    line: Callable[..., Line]
    law: Callable[[Pilot, Scene], Law]
    constant: float
    sample: float
    rolls: bool


def _seen(scene: Scene, states: State, begins: np.ndarray):
    motion = kernel.deck_motion(scene.motion, begins)
    _, _, _, eye_x, eye_z, _ = kernel.points(scene.deck, states, motion)
    return kernel.see(scene.deck, scene.slope, states, eye_x, eye_z, motion)


def _felt(vz: np.ndarray) -> np.ndarray:
    """Return the climb rate's change as a pilot feels it, m/s2; the model's own lag is a step quicker."""
    lag, late = _FELT - 0.5 * STEP, 0.5 * STEP
    keep = np.exp(-EVERY / lag)
    out = np.zeros_like(vz)
    now = vz[..., 0]
    for k in range(1, vz.shape[-1]):
        rate = (vz[..., k] - vz[..., k - 1]) / EVERY
        now = vz[..., k] - rate * lag + (now - vz[..., k - 1] + rate * lag) * keep
        out[..., k] = (vz[..., k] - now) / lag
    return answering.delayed(out, late)


def _power_line(scene: Scene, states: State, begins, lever, delay: float) -> Line:
    height, rate, _, _, distance = _seen(scene, states, begins)
    moved = np.abs(np.diff(lever, axis=-1, prepend=lever[..., :1])) / EVERY
    full = scene.aircraft.full_power
    # at a stop, or as fast as it goes, the lever does not say what was asked for
    free = (lever > 0.005) & (lever < full - 0.005) & (moved < 0.95 * scene.pilot.hand_rate)
    hand = (lever - scene.trim_power) / scene.lever_per_weight
    lost = 1.0 / np.cos(states.roll) - 1.0
    return Line(height, rate, _felt(states.vz), distance, scene.pilot.bank_power * lost, hand, free)


def _line_up_line(scene: Scene, states: State, begins, lever, delay: float) -> Line:
    _, _, offset, drift, distance = _seen(scene, states, begins)
    zero = np.zeros_like(offset)
    turn = STANDARD_GRAVITY * np.tan(states.roll)
    offset, drift = answering.delayed(offset, delay), answering.delayed(drift, delay)
    return Line(offset, drift, zero, distance, zero, turn, zero == 0.0)


def _power_law(p: Pilot, scene: Scene) -> Law:
    # what is seen counts from the next step on
    return Law(
        p.delay + STEP, p.height_gain, p.rate_gain, p.climb_gain, p.settle_gain, p.threshold, p.eye_noise,
        p.hand_noise / scene.lever_per_weight, p.aim, p.eye_time, p.hand_time,
    )  # fmt: skip


def _line_up_law(p: Pilot, scene: Scene) -> Law:
    return Law(
        0.0, p.line_up_gain, p.line_up_rate_gain, 0.0, p.line_up_settle_gain, p.line_up_threshold,
        p.side_noise, 0.0, 0.0, p.side_time, 1.0,
    )  # fmt: skip


_POWER = _Part(
    POWER, ("delay", "gain", "rate", "felt", "settle", "threshold", "eye", "hand", "aim"),
    _power_line, _power_law, _TRIM, _LEVER, False,
)  # fmt: skip
_LINE_UP = _Part(
    LINE_UP, ("gain", "rate", "settle", "threshold", "eye"), _line_up_line, _line_up_law, 0.02, _TURN, True
)


def _spot(pilot: Pilot, names: Sequence[str]) -> np.ndarray:
    """Return a pilot's numbers as they are fitted: logarithms, but for those in ``SHIFTED``."""
    return np.array([getattr(pilot, n) if n in SHIFTED else np.log(getattr(pilot, n)) for n in names])


def _pilot(usual: Pilot, names: Sequence[str], spot: np.ndarray) -> Pilot:
    """Return a pilot with numbers (..., names) put in."""
    values: dict[str, Any] = {}
    for i, name in enumerate(names):
        values[name] = spot[..., i] if name in SHIFTED else np.exp(spot[..., i])
    return usual._replace(**values)


def _likelihood(part: _Part, one: Flown, line: Line, pilot: Pilot) -> Likelihood:
    c = one.scene.aircraft
    follows = loop(line.hand.size, c.roll_frequency, c.roll_damping) if part.rolls else None
    law = part.law(pilot, one.scene)
    return Likelihood(line, law, part.of_law, constant=part.constant, sample=part.sample, answer=follows)


def _lines(part: _Part, passes: Sequence[Flown], pilot: Pilot) -> list[Line]:
    return [part.line(one.scene, one.states, one.begins, one.lever, pilot.delay) for one in passes]


def _climb(part: _Part, passes: Sequence[Flown], usual: Pilot, pilot: Pilot) -> tuple[Pilot, np.ndarray]:
    """Bring a pilot's numbers of one hand to the top of their likelihood; return him and their covariance."""
    names = part.names
    centre, wide = _spot(usual, names), np.array([WIDE[n] for n in names])
    best, covariance = np.inf, np.diag(wide**2)
    spot = taken = _spot(pilot, names)
    step = np.zeros(len(names))
    lines = _lines(part, passes, pilot)
    for _ in range(30):
        here = _pilot(pilot, names, spot)
        found = [_likelihood(part, one, line, here).at(line) for one, line in zip(passes, lines, strict=True)]
        value = sum(one[0] for one in found) + 0.5 * float(np.sum(((spot - centre) / wide) ** 2))
        if value >= best - 0.01:
            if value < best or np.abs(step / wide).max() < 0.01:
                break
            step = 0.4 * step
            spot = taken + step
            continue
        best, taken = value, spot
        covariance = np.linalg.inv(sum(one[2] for one in found) + np.diag(wide**-2))
        lean = np.sum([one[1] for one in found], axis=0) + (spot - centre) / wide**2
        step = np.clip(-covariance @ lean, -0.8 * wide, 0.8 * wide)
        spot = spot + step
    return _pilot(pilot, names, taken), covariance


def _nose(scene: Scene, states: State, begins, alpha, delay: float) -> np.ndarray:
    """Return what the nose shows, (..., 3): its mean, how it goes with the ball, how much it wanders."""
    height, rate, *_ = _seen(scene, states, begins)
    lead = -(answering.delayed(rate + 0.15 * np.clip(height, -12.0, 12.0), delay))
    skip = round(SKIP / EVERY)
    off = (alpha - scene.aircraft.on_speed)[..., skip:]
    lead = lead[..., skip:]
    lead = lead - lead.mean(axis=-1, keepdims=True)
    centre = off.mean(axis=-1, keepdims=True)
    goes = np.sum(lead * (off - centre), axis=-1) / np.maximum(np.sum(lead**2, axis=-1), 1e-6)
    rest = off - centre - goes[..., None] * lead
    return np.stack([centre[..., 0], goes, np.log(np.std(rest, axis=-1) + 1e-4)], axis=-1)


class _Statistics:
    """What is told of passes, recorded or flown by chance alike: a row (q,) for each."""

    def __init__(self, passes: Sequence[Flown], usual: Pilot):
        self.passes, self.pilot = passes, usual
        self.parts: list[tuple[_Part, list[Likelihood]]] = []
        self.scales: list[np.ndarray] = []
        covariances: list[np.ndarray] = []
        self.names: tuple[str, ...] = ()
        self.nose = all(f.alpha is not None for f in passes)
        powered = all(f.lever is not None for f in passes)
        banked = all(f.banks for f in passes)
        for part in ([_POWER] if powered else []) + ([_LINE_UP] if banked else []):
            self.pilot, covariance = _climb(part, passes, usual, self.pilot)
            lines = _lines(part, passes, self.pilot)
            ready = [_likelihood(part, f, line, self.pilot) for f, line in zip(passes, lines, strict=True)]
            self.parts.append((part, ready))
            self.scales.append(covariance * len(passes))
            self.names += part.names
            covariances.append(covariance)
        if self.nose:
            self.names += NOSE
            covariances.append(np.diag(_NOSE_REACH**2))
        self.covariance = np.zeros((len(self.names), len(self.names)))
        at = 0
        for block in covariances:
            self.covariance[at : at + len(block), at : at + len(block)] = block
            at += len(block)

    def of(self, place: int, states: State, begins, lever, alpha) -> np.ndarray:
        """Return the row of a pass at a place, or rows (m, q) of many flown there."""
        scene, delay = self.passes[place].scene, self.pilot.delay
        rows = []
        for (part, ready), scale in zip(self.parts, self.scales, strict=True):
            line = part.line(scene, states, begins, lever, delay)
            rows.append(-ready[place].slopes(line) @ scale)
            if part is _POWER:
                late = line.error[..., line.error.shape[-1] // 3 :]
                rows.append(late.mean(axis=-1)[..., None])
        if self.nose:
            rows.append(_nose(scene, states, begins, alpha, delay))
        return np.concatenate(rows, axis=-1)


def fit(
    passes: Sequence[Flown],
    *,
    usual: Pilot | None = None,
    seed: int = 0,
    drawn: int = _DRAWN,
    threads: int | None = None,
    progress: Callable[[str], None] | None = None,
) -> Fit:
    """Fit a pilot to passes that he flew.

    Power is fitted where every pass has its lever, line-up where every one has its bank, the nose
    where every one has an angle of attack; the rest of his numbers are the ``usual`` pilot's.
    ``drawn`` pilots fly each pass in each of three rounds. The same passes and seed give the same pilot
    on any number of threads.

    Raises:
        InputError: the passes have nothing of these.
    """
    usual = usual or Pilot()
    say = progress or (lambda words: None)
    say("fitting the hands")
    told = _Statistics(passes, usual)
    names = told.names
    if not names:
        raise InputError(
            "no pilot can be fitted: these passes have neither throttle nor bank nor angle of attack.",
            remedy="Record throttle, roll, pitch and angle of attack.",
        )
    mine = np.stack(
        [told.of(i, f.states, f.begins, f.lever, f.alpha) for i, f in enumerate(passes)]
    )  # (passes, q)
    prior, wide = _spot(usual, names), np.array([WIDE[n] for n in names])
    centre, covariance, differ = _spot(told.pilot, names), told.covariance, 1.0
    for turn in range(_ROUNDS):
        say(f"flying his passes, round {turn + 1} of {_ROUNDS}")
        spots, rows = _fly(told, usual, names, centre, covariance, drawn, seed + 1000 * turn, threads)
        means = rows.mean(axis=0)  # (drawn, q)
        design = np.concatenate([np.ones((drawn, 1)), spots - centre], axis=1)
        answer, *_ = np.linalg.lstsq(design, means, rcond=None)
        left = means - design @ answer
        noise = left.T @ left / (drawn - design.shape[1])
        inverse = np.linalg.inv(noise + 1e-12 * np.diag(np.diag(noise)))
        differ = _differ(mine, rows)
        slope = answer[1:]  # (names, q)
        information = slope @ inverse @ slope.T / differ
        new = np.linalg.inv(information + np.diag(wide**-2))
        off = mine.mean(axis=0) - answer[0]
        shift = new @ (slope @ inverse @ off / differ + (prior - centre) / wide**2)
        # no farther than the pilots that were drawn
        far = np.sqrt(np.diag(covariance))
        centre, covariance = centre + np.clip(shift, -2.5 * far, 2.5 * far), new
    sigma = np.sqrt(np.diag(covariance))
    pilot = Pilot._make(float(v) for v in _pilot(usual, names, centre))
    return Fit(
        pilot=pilot,
        sigma=dict(zip(names, map(float, sigma), strict=True)),
        shown=dict(zip(names, map(float, 1.0 - sigma / wide), strict=True)),
        lever=tuple(_lever(one, pilot) for one in passes) if "delay" in names else (),
        differ=differ,
        passes=len(passes),
        seconds=float(sum(np.size(f.states.x) for f in passes) * EVERY),
    )


def _lever(one: Flown, pilot: Pilot) -> np.ndarray:
    """Return what the lever did and what these hands foretell of it, (2, n).

    Told from what is seen, and from the lever as it was until ``AHEAD`` before.
    """
    line = _power_line(one.scene, one.states, one.begins, one.lever, pilot.delay)
    law = _power_law(pilot, one.scene)
    mean, _ = answering.asked(line, law)
    whole, _ = answering.spread(line, law, constant=_TRIM, sample=_LEVER)
    factor = np.linalg.cholesky(whole)
    fresh = np.linalg.solve(factor, np.where(line.good, line.hand - mean, 0.0))
    return np.stack([line.hand, mean + np.tril(factor, -round(AHEAD / EVERY)) @ fresh])


def _fly(told: _Statistics, usual: Pilot, names, centre, covariance, drawn: int, seed: int, threads):
    """Draw pilots about a spot who fly every pass; return spots (drawn, names), rows (passes, drawn, q)."""
    each = keys(seed, 0, drawn)
    with np.errstate(over="ignore"):
        draws = np.stack([normal(each, _DRAW + np.uint64(i)) for i in range(len(names))], axis=-1)
    spots = centre + draws @ np.linalg.cholesky(covariance).T
    if "delay" in names:
        # a delay is flown in whole steps
        at = names.index("delay")
        spots[:, at] = np.log(np.maximum(1, np.round(np.exp(spots[:, at]) / STEP)) * STEP)
    pilots = _pilot(usual, names, spots)
    pilots = Pilot._make(np.broadcast_to(np.asarray(v, dtype=float), (drawn,)) for v in pilots)
    rows = []
    for place, one in enumerate(told.passes):
        states, lever = _again(one, pilots, seed + 1 + place, drawn, threads)
        rows.append(told.of(place, states, one.begins, lever, _attack(one.scene, states)))
    return spots, np.stack(rows)


def _attack(scene: Scene, states: State) -> np.ndarray:
    """Return the angle of attack against the steady air, rad."""
    w = scene.weather
    return states.pitch - np.arctan2(states.vz, np.hypot(states.vx - w.along, states.vy - w.across))


def _again(one: Flown, pilots: Pilot, seed: int, count: int, threads) -> tuple[State, np.ndarray]:
    """Fly a pass by many pilots from its start; return states (count, n) and levers, held after an end."""
    n = np.size(one.states.x)
    starts = State(*(np.full(count, float(np.asarray(column)[0])) for column in one.states))
    each = keys(seed, 0, count)
    with np.errstate(over="ignore"):
        draw = [normal(each, _DRAW + np.uint64(100 + i)) for i in range(6)]
    first = float(one.scene.trim_power if one.lever is None else one.lever[0])
    memory = Memory(
        lever=np.full(count, first),
        height_sum=_SUMS * draw[0],
        line_up_sum=_SUMS * draw[1],
        climb_rate=np.zeros(count),
        wander=tuple(draw[2:]),
    )
    states, levers = fly_tracks(
        one.scene,
        starts,
        seed=seed,
        dt=STEP,
        each=round(EVERY / STEP),
        longest=n * EVERY,
        threads=threads,
        begins=np.full(count, float(one.begins[0])),
        crew=Crew(pilots=pilots, memory=memory),
    )
    # one that ended early stays where it was
    last = np.maximum(np.isfinite(levers).sum(axis=1) - 1, 0)
    index = np.minimum(np.arange(n), last[:, None])
    *held, lever = (np.take_along_axis(values, index, axis=1) for values in (*states, levers))
    return State(*held), lever


def _differ(mine: np.ndarray, rows: np.ndarray) -> float:
    """Return how much more the passes (p, q) differ from one another than those by chance (p, m, q)."""
    if mine.shape[0] < 3:
        return 1.0
    apart = rows - rows.mean(axis=0)
    within = np.einsum("pmi,pmj->ij", apart, apart) / (rows.shape[0] - 1) / rows.shape[1]
    inverse = np.linalg.inv(within + 1e-9 * np.diag(np.diag(within)))
    usual = np.einsum("pmi,ij,pmj->m", apart, inverse, apart)
    own = mine - mine.mean(axis=0)
    found = float(np.einsum("pi,ij,pj->", own, inverse, own))
    return float(max(1.0, found / usual.mean())) if found > np.quantile(usual, 0.95) else 1.0
