"""What a pilot had in mind: pilots of a population, weighed along a pass by what his hands did.

A pass is flown on by what the pilot has seen, summed up and misjudged by then, and by who he is; none
of it is recorded. Many pilots are drawn from a population, each looks at the recorded pass through
his own errors of eye and hand, and those count on whose thrust, nose and bank come near the
recorded ones.

Source: the bootstrap particle filter (Gordon, Salmond and Smith, "Novel approach to
nonlinear/non-Gaussian Bayesian state estimation", IEE Proceedings F 140 (1993); from memory).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from msgspec import Struct

from deckward.foundation.units import STANDARD_GRAVITY
from deckward.prediction import scene as kernel
from deckward.prediction.chance import keys as keys_of
from deckward.prediction.chance import normal, uniform
from deckward.prediction.ensemble import Crew, Memory, noise, slots_of
from deckward.prediction.flight import spool
from deckward.prediction.model import State
from deckward.prediction.scene import Pilot, Scene

#: s between two looks at the record, and particles
EVERY, PARTICLES = 0.1, 1000
#: what angle of attack and bank (rad) of the right pilot may be off by, and for how long (s):
#: gusts, and what the recording and the model leave out
ALPHA_OFF, BANK_OFF, LASTS = 0.008, 0.03, 0.8
#: the pitch and roll loops of a jet held by its pilot
_LOOP, _DAMPING = 2.0, 0.8
_FEEL = 0.15
#: sums that pilots begin with, one standard deviation, m s
_SUMS = 6.0
_DRAWS = 6
_POPULATION, _START = np.uint64(0xFFFFFFFFFFF00000), np.uint64(0xFFFFFFFFFFF10000)


class Record(NamedTuple):
    """A pass as it was flown, (n,) each, in the scene's frame, every ``EVERY`` s.

    ``states`` may hold thrust and power as inferred; ``begins`` is where in the record of the
    deck's motion each sample is, s; ``alpha`` the angle of attack, rad. ``thrust_lags`` is how far
    the thrust is behind, s, 0 where it is the very one, and ``thrust_off`` its error in weights.
    """

    states: State
    begins: np.ndarray
    alpha: np.ndarray
    thrust_lags: float = 0.0
    thrust_off: float = 0.025


class Population(Struct, frozen=True):
    """Pilots: the one in the middle, and how far others are from him, one standard deviation.

    ``spread`` by the field's name: of the logarithm for gains and noises, in the field's own unit
    for those in ``SHIFTED``.
    """

    middle: Pilot
    spread: tuple[tuple[str, float], ...] = ()

    def draw(self, count: int, seed: int) -> Pilot:
        """Return pilots (count,) by chance."""
        each = keys_of(seed, 0, count)
        fields = {name: np.full(count, float(value)) for name, value in self.middle._asdict().items()}
        with np.errstate(over="ignore"):
            for n, (name, spread) in enumerate(self.spread):
                off = spread * normal(each, _POPULATION + np.uint64(n))
                fields[name] = fields[name] + off if name in SHIFTED else fields[name] * np.exp(off)
        return Pilot._make(fields[name] for name in Pilot._fields)


#: fields whose spread is in their own unit, not in their logarithm
SHIFTED = ("aim", "alpha_habit")


class Mind(NamedTuple):
    """What the law of the hands asks of a trajectory: the sums and what is felt."""

    height_sum: np.ndarray
    line_up_sum: np.ndarray
    climb_rate: np.ndarray


class Followed(Struct, frozen=True):
    """Pilots (m, count) at moments, weighed: who they are and what they have in mind."""

    pilots: Pilot
    memory: Memory
    power: np.ndarray
    thrust: np.ndarray
    seen: np.ndarray

    def crew(self) -> Crew:
        """Return them as who flies on, moment by moment."""
        moments, count = self.power.shape
        return Crew(
            pilots=Pilot._make(np.ravel(value) for value in self.pilots),
            memory=Memory._make(
                [*(np.ravel(value) for value in self.memory[:4]), tuple(np.ravel(v) for v in self.memory[4])]
            ),
            seen=self.seen,
            source=np.repeat(np.arange(moments), count),
        )


def follow(
    scene: Scene,
    record: Record,
    moments: np.ndarray,
    *,
    population: Population | None = None,
    count: int = 500,
    particles: int = PARTICLES,
    seed: int = 0,
    dt: float,
    begun: bool = False,
) -> Followed:
    """Weigh a population of pilots along a pass and return ``count`` of them at samples ``moments``.

    ``moments`` (m,) are rising indices of the record. ``dt`` is the step that they fly on with.
    ``begun`` says that the pilot took the aircraft over at the record's first sample, at trim.
    """
    s, n = record.states, particles
    population = population or Population(scene.pilot)
    length = np.size(s.x)
    key = keys_of(seed, 0, n)
    pilots = population.draw(n, seed)
    motion = kernel.deck_motion(scene.motion, record.begins)
    _, _, _, eye_x, eye_z, _ = kernel.points(scene.deck, s, motion)
    sight = kernel.see(scene.deck, scene.slope, s, eye_x, eye_z, motion)
    time = np.arange(length) * EVERY
    climb = _felt(np.asarray(s.vz))
    weight = scene.aircraft.mass * STANDARD_GRAVITY
    with np.errstate(over="ignore"):
        first = [normal(key, _START + np.uint64(i)) for i in range(6)]
        wander = np.stack(first[:4])
        spread = 0.0 if begun else _SUMS
        sums = [spread * first[4], 2.0 * spread * first[5]]
    lever = np.full(n, float(s.power[0]))
    power, thrust = lever.copy(), np.full(n, float(s.thrust[0]))
    told, share = thrust.copy(), EVERY / (record.thrust_lags + EVERY)
    alpha, alpha_rate = np.full(n, float(record.alpha[0])), np.zeros(n)
    bank, bank_rate = np.full(n, float(s.roll[0])), np.zeros(n)
    logs = np.zeros(n)
    kept: list[tuple] = []
    wanted = {int(m) for m in moments}
    for k in range(length):
        if k:
            keep, kick = noise(pilots, EVERY)
            with np.errstate(over="ignore"):
                push = [normal(key, np.uint64(_DRAWS * k + i)) for i in range(4)]
            wander = np.stack([keep[i] * wander[i] + kick[i] * push[i] for i in range(4)])
            known = tuple(np.interp(time[k] - pilots.delay, time, sight[i]) for i in range(4))
            at = tuple(float(column[k]) for column in s)
            mind = Mind(sums[0], sums[1], np.full(n, climb[k]))
            ask, nose, turn, sums[0], sums[1] = kernel.fly_hands(
                scene._replace(pilot=pilots), at, mind, (*known, float(sight[4][k])), wander, EVERY
            )
            reach = pilots.hand_rate * EVERY
            lever = np.clip(lever + np.clip(ask - lever, -reach, reach), 0.0, scene.aircraft.full_power)
            for _ in range(2):
                power, thrust = spool(scene.aircraft, power, thrust, lever, EVERY / 2)
                alpha, alpha_rate = _loop(alpha, alpha_rate, nose)
                bank, bank_rate = _loop(bank, bank_rate, turn)
            told = told + share * (thrust - told)
            off = (
                ((told - s.thrust[k]) / (weight * record.thrust_off)) ** 2
                + ((alpha - record.alpha[k]) / ALPHA_OFF) ** 2
                + ((bank - s.roll[k]) / BANK_OFF) ** 2
            )
            logs = logs - 0.5 * off * min(1.0, EVERY / LASTS)
        shares = np.exp(logs - logs.max())
        shares /= shares.sum()
        if k in wanted:
            chosen = _choose(shares, count, seed, 2 * k)
            kept.append(_take((pilots, lever, power, thrust, sums, wander), chosen))
        if 1.0 / np.sum(shares**2) < 0.5 * n:
            chosen = _choose(shares, n, seed, 2 * k + 1)
            pilots, lever, power, thrust, sums, wander = _take(
                (pilots, lever, power, thrust, sums, wander), chosen
            )
            told, alpha, alpha_rate, bank, bank_rate = (
                v[chosen] for v in (told, alpha, alpha_rate, bank, bank_rate)
            )
            logs = np.zeros(n)
    moments = np.asarray(moments)
    slots = int(max(slots_of(part[0], dt).max() for part in kept))
    back = (np.arange(slots) - slots) * dt
    seen = np.stack([np.interp(time[moments][:, None] + back, time, line).T for line in sight[:4]])
    pilots_at = Pilot._make(np.stack(values) for values in zip(*(part[0] for part in kept), strict=True))
    levers, powers, thrusts = (np.stack([part[i] for part in kept]) for i in (1, 2, 3))
    return Followed(
        pilots=pilots_at,
        memory=Memory(
            lever=levers,
            height_sum=np.stack([part[4][0] for part in kept]),
            line_up_sum=np.stack([part[4][1] for part in kept]),
            climb_rate=np.broadcast_to(climb[moments][:, None], levers.shape),
            wander=tuple(np.stack([part[5][i] for part in kept]) for i in range(4)),
        ),
        power=powers,
        thrust=thrusts,
        seen=np.ascontiguousarray(seen),
    )


def _felt(vz: np.ndarray) -> np.ndarray:
    """Return the climb rate's change as a pilot feels it, m/s2."""
    rate = np.concatenate([[0.0], np.diff(vz)]) / EVERY
    out, now = np.zeros(rate.size), 0.0
    share = 1.0 - np.exp(-EVERY / _FEEL)
    for k, value in enumerate(rate):
        now += share * (value - now)
        out[k] = now
    return out


def _loop(value, rate, wanted):
    """Return a held angle and its rate half a look later."""
    dt = EVERY / 2
    rate = rate + _LOOP * (_LOOP * (wanted - value) - 2.0 * _DAMPING * rate) * dt
    return value + rate * dt, rate


def _choose(shares: np.ndarray, count: int, seed: int, turn: int) -> np.ndarray:
    """Return indices of ``count`` drawn by their shares, evenly spaced from one chance."""
    with np.errstate(over="ignore"):
        start = float(uniform(keys_of(seed, 0, 1), _START + np.uint64(16 + turn))[0])
    places = (np.arange(count) + start) / count
    return np.minimum(np.searchsorted(np.cumsum(shares), places), shares.size - 1)


def _take(parts: tuple, chosen: np.ndarray) -> tuple:
    pilots, lever, power, thrust, sums, wander = parts
    return (
        Pilot._make(value[chosen] for value in pilots),
        lever[chosen],
        power[chosen],
        thrust[chosen],
        [value[chosen] for value in sums],
        wander[:, chosen],
    )
