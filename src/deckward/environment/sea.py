"""The sea, and how it moves a deck.

Wave spectra are one-sided over angular frequency, m^2 s: their integral from 0 is the
variance of the surface. Motions: heave + up, m; pitch + bow up, roll + starboard down, rad.

Sources: Bretschneider and Pierson-Moskowitz spectra, sea states (from memory: STANAG 4194
form); response of a ship in heave and pitch, the closed forms of Jensen, Mansour and Olsen,
"Estimation of ship motions using closed-form expressions", Ocean Engineering 31 (2004)
(from memory). Roll is a single resonance driven by the waves' slope (common practice, no
source).
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from deckward.foundation.units import DEGREE, STANDARD_GRAVITY

#: usual significant wave height (m) and modal period (s) of each sea state
SEA_STATES = {2: (0.3, 6.7), 3: (0.88, 7.5), 4: (1.88, 8.8), 5: (3.25, 9.7), 6: (5.0, 12.4), 7: (7.5, 15.0)}
_COMPONENTS = 24


class Hull(Struct, frozen=True):
    """What moves in the sea: length, beam and draught at the waterline, m; its roll.

    ``roll_period`` in s, ``roll_damping`` as a share of the critical one.
    """

    length: float = 300.0
    beam: float = 40.0
    draught: float = 11.0
    roll_period: float = 22.0
    roll_damping: float = 0.1


class Sea(Struct, frozen=True):
    """A sea: significant wave height, m; modal period, s; spread over directions or not."""

    height: float
    period: float
    short_crested: bool = True


class DeckMotion(Struct, frozen=True):
    """A deck's motion as sums of waves: amplitudes (3, k) of heave (m), pitch and roll (rad).

    ``frequency`` (3, k), rad/s as met; ``phase`` (3, k). Heave is that of the centre of pitch.
    """

    amplitude: np.ndarray
    frequency: np.ndarray
    phase: np.ndarray

    def at(self, time) -> np.ndarray:
        """Return heave, pitch and roll (3, ...) at times, s."""
        time = np.asarray(time, dtype=float)[..., None]
        return np.stack(
            [
                (a * np.cos(w * time + p)).sum(axis=-1)
                for a, w, p in zip(self.amplitude, self.frequency, self.phase, strict=True)
            ]
        )

    def sigmas(self) -> np.ndarray:
        """Return the standard deviations (3,) of heave, pitch and roll."""
        return np.sqrt(0.5 * (self.amplitude**2).sum(axis=1))

    def pitch_wave(self) -> tuple[float, float]:
        """Return one wave's amplitude (rad) and frequency (rad/s) that stand for the pitching.

        The amplitude of equal variance, at the mean frequency of level crossings.
        """
        power = 0.5 * self.amplitude[1] ** 2
        total = float(power.sum())
        if total <= 0.0:
            return 0.0, 1.0
        rate = float(np.sqrt((power * self.frequency[1] ** 2).sum() / total))
        return float(np.sqrt(2.0 * total)), max(rate, 1e-3)


def sea_state(number: int) -> Sea:
    """Return the usual sea of a sea state, 2 to 7.

    >>> sea_state(5).height
    3.25
    """
    height, period = SEA_STATES[number]
    return Sea(height, period)


def sea_of(*, state: int | None = None, height: float | None = None) -> Sea | None:
    """Return the sea of a state (0 to 9) or of a significant wave height, m, at the usual period.

    The height says more than the state. None where no waves are told, or none that matter
    (states 0 and 1); states past the table are the highest in it.

    >>> sea_of(state=5).period
    9.7
    """
    if height is None:
        if state is None or state < min(SEA_STATES):
            return None
        return sea_state(min(state, max(SEA_STATES)))
    if height <= 0.0:
        return None
    heights, periods = np.array(sorted(SEA_STATES.values())).T
    return Sea(height, float(np.interp(height, heights, periods)))


def bretschneider(frequency, *, height, period):
    """Return the spectrum of a sea of a significant wave height (m) and modal period (s)."""
    frequency = np.asarray(frequency, dtype=float)
    peak = 2.0 * np.pi / period
    with np.errstate(divide="ignore", over="ignore", invalid="ignore"):
        ratio = (peak / frequency) ** 4
        spectrum = 5.0 / 16.0 * height**2 * ratio / frequency * np.exp(-1.25 * ratio)
    return np.where(frequency > 0.0, spectrum, 0.0)


def fully_developed(wind_speed: float) -> Sea:
    """Return the sea that a wind (m/s) raises in the end."""
    peak = 0.877 * STANDARD_GRAVITY / wind_speed
    return Sea(0.21 * wind_speed**2 / STANDARD_GRAVITY, 2.0 * np.pi / peak)


def encounter_frequency(frequency, *, speed, heading):
    """Return the frequency at which a ship meets waves, rad/s.

    ``heading`` between her course and where the waves go, rad: pi is a head sea.
    """
    return frequency - frequency**2 * speed / STANDARD_GRAVITY * np.cos(heading)


def ramp_heave(heave, pitch, *, aft: float):
    """Return how high a point ``aft`` metres behind the centre of pitch stands over its rest."""
    return heave - aft * np.sin(pitch)


def response(frequency, hull: Hull, *, speed, heading) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return amplitudes of heave (m), pitch and roll (rad) over the wave's amplitude (m).

    ``frequency`` of the waves, rad/s; ``speed`` of the ship, m/s; ``heading`` as for
    :func:`encounter_frequency`.
    """
    wave = np.asarray(frequency, dtype=float) ** 2 / STANDARD_GRAVITY
    along = np.maximum(np.abs(wave * np.cos(heading)), 1e-9)
    ratio = 1.0 - speed * np.sqrt(wave / STANDARD_GRAVITY) * np.cos(heading)
    half = 0.5 * along * hull.length
    # what the hull's depth and beam leave of the waves' push, and of her own motion
    depth = np.exp(-along * hull.draught)
    radiated = 2.0 * np.sin(0.5 * wave * hull.beam * ratio**2) * np.exp(-wave * hull.draught * ratio**2)
    with np.errstate(divide="ignore", invalid="ignore"):
        damping = radiated**2 / (wave * hull.beam * ratio**2)
        push = np.sqrt(
            (1.0 - wave * hull.draught) ** 2 + (radiated**2 / (wave * hull.beam * np.abs(ratio) ** 3)) ** 2
        )
        moved = 1.0 / np.sqrt((1.0 - 2.0 * wave * hull.draught * ratio**2) ** 2 + damping**2)
    heave = depth * push * np.sin(half) / half
    lever = 24.0 / ((2.0 * half) ** 2 * hull.length) * (np.sin(half) - half * np.cos(half))
    met = np.abs(encounter_frequency(np.asarray(frequency, dtype=float), speed=speed, heading=heading))
    tuning = met * hull.roll_period / (2.0 * np.pi)
    roll = wave * np.abs(np.sin(heading)) * np.exp(-wave * hull.draught)
    roll = roll / np.sqrt((1.0 - tuning**2) ** 2 + (2.0 * hull.roll_damping * tuning) ** 2)
    return (
        np.nan_to_num(np.abs(heave * moved)),
        np.nan_to_num(np.abs(depth * push * lever * moved)),
        np.nan_to_num(roll),
    )


def deck_motion(
    sea: Sea, hull: Hull, *, speed: float, heading: float, seed: int, components: int = _COMPONENTS
) -> DeckMotion:
    """Return one deck motion that a sea makes of a ship: same seed, same motion.

    ``speed`` of the ship, m/s; ``heading`` between her course and where the waves go, rad (pi
    is a head sea).
    """
    rng = np.random.default_rng(seed)
    peak = 2.0 * np.pi / sea.period
    edges = np.linspace(0.4 * peak, 3.0 * peak, components + 1)
    width = np.diff(edges)
    frequency = edges[:-1] + width * rng.random(components)
    wave = np.sqrt(2.0 * bretschneider(frequency, height=sea.height, period=sea.period) * width)
    if sea.short_crested:
        # directions by the square of the cosine about the mean one
        grid = np.linspace(-np.pi / 2, np.pi / 2, 2001)
        share = (grid + np.pi / 2) / np.pi + np.sin(2 * grid) / (2 * np.pi)
        goes = heading + np.interp(rng.random(components), share, grid)
    else:
        goes = np.full(components, heading)
    sizes = np.stack(response(frequency, hull, speed=speed, heading=goes)) * wave
    met = encounter_frequency(frequency, speed=speed, heading=goes)
    phase = rng.uniform(0.0, 2.0 * np.pi, components)
    # pitch leads heave by a quarter in waves longer than the ship; roll goes with the slope
    lag = np.array([0.0, np.pi / 2, np.pi / 2])[:, None]
    return DeckMotion(sizes, np.broadcast_to(met, (3, components)).copy(), phase + lag)


def motion_sigmas(sea: Sea, hull: Hull, *, speed: float, heading: float) -> np.ndarray:
    """Return the standard deviations (3,) of heave (m), pitch and roll (rad) that a sea makes of a ship.

    As :func:`deck_motion` on average over its seeds, by quadrature.
    """
    peak = 2.0 * np.pi / sea.period
    frequency = np.linspace(0.4 * peak, 3.0 * peak, 241)
    power = bretschneider(frequency, height=sea.height, period=sea.period)
    # directions by the square of the cosine about the mean one
    off = (np.arange(24) + 0.5) / 24.0 * np.pi - np.pi / 2 if sea.short_crested else np.zeros(1)
    share = np.cos(off) ** 2
    sizes = np.stack([response(frequency, hull, speed=speed, heading=heading + one) for one in off])
    spread = np.tensordot(share / share.sum(), sizes**2, axes=1)
    return np.sqrt(np.sum(spread * power, axis=-1) * (frequency[1] - frequency[0]))


def ramp_sigma(sigmas: np.ndarray, *, aft: float) -> float:
    """Return the standard deviation of the height of a point ``aft`` (m), by those of heave and pitch.

    Pitch leads heave by a quarter: they add as squares.
    """
    return float(np.hypot(sigmas[0], aft * sigmas[1]))


def scaled(
    motion: DeckMotion, *, heave: float | None = None, pitch: float | None = None, roll: float | None = None
) -> DeckMotion:
    """Return a motion with its parts scaled to significant single amplitudes (m, rad, rad).

    A part left out stays; one that does not move cannot be scaled and stays, too.
    """
    factors = [
        1.0 if wanted is None or sigma == 0.0 else wanted / (2.0 * sigma)
        for wanted, sigma in zip((heave, pitch, roll), motion.sigmas(), strict=True)
    ]
    return replace(motion, amplitude=motion.amplitude * np.array(factors)[:, None])


def regular_motion(
    *,
    pitch: float = 0.0,
    heave: float = 0.0,
    roll: float = 0.0,
    period: float = 9.0,
    roll_period: float = 20.0,
    seed: int = 0,
) -> DeckMotion:
    """Return a motion of one wave each, by amplitudes (rad, m, rad) and periods (s), phases by seed."""
    phase = np.random.default_rng(seed).uniform(0.0, 2.0 * np.pi, (3, 1))
    frequency = 2.0 * np.pi / np.array([[period], [period], [roll_period]])
    return DeckMotion(np.array([[heave], [pitch], [roll]]), frequency, phase)


def still_deck() -> DeckMotion:
    """Return no motion."""
    return regular_motion()


def medium_sea_motion() -> DeckMotion:
    """Return the synthetic deck motion of a "medium sea" that open papers share (from memory).

    No primary source is known: a generic one, for comparison, without its steady list of 0.5 deg.
    """
    quarter = -np.pi / 2
    return DeckMotion(
        amplitude=np.array([[1.22, 0.305], [0.50 * DEGREE, 0.30 * DEGREE], [2.5 * DEGREE, 3.0 * DEGREE]]),
        frequency=np.array([[0.60, 0.20], [0.60, 0.63], [0.50, 0.52]]),
        phase=np.full((3, 2), quarter),
    )
