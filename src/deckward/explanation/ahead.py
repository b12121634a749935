"""What was still to come: the odds from every moment of a recorded pass, and the last safe wave-off.

From each moment the pass is flown on by a model of the aircraft, of a pilot and of the air; the
deck moves as it was recorded. Imported only where it is asked for.
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from deckward import prediction
from deckward.errors import Note
from deckward.explanation.approach import flying
from deckward.explanation.model import Outlook
from deckward.foundation import angles
from deckward.foundation.statistics import median
from deckward.foundation.units import DEGREE, NAUTICAL_MILE, STANDARD_GRAVITY, from_si
from deckward.passes.model import Pass
from deckward.prediction.following import EVERY, Population, Record, follow
from deckward.prediction.odds import CLEAR_BY, CLEAR_COUNT, CLEAR_SHARE
from deckward.prediction.scene import Motion, Officer
from deckward.scoring.windows import judged_until

#: moments of a pass at most, and s between two of them at least
MOMENTS, BETWEEN = 200, 0.1
CONTINUATIONS = 500
#: the odds begin here, m aft of the ramp
FROM = 0.9 * NAUTICAL_MILE
#: s before a moment over which the energy rate is averaged for its thrust
CALM = 1.0
#: what gusts make of it, weights
THRUST_OFF = 0.08
#: deck motion smaller than this is none, m at the ramp
_STILL = 0.02
_MOTION_RATE = 20.0
#: sees what a landing signal officer would call by rule, and lets the pass go on
ONLOOKER = Officer(acts=0.0)
#: how pilots differ from the one who is told, by field (see ``Population``); common practice, no
#: source: gains by a third or so, habits by a foot and a quarter degree
LIKE_HIM = (
    ("height_gain", 0.35), ("rate_gain", 0.3), ("climb_gain", 0.4), ("settle_gain", 0.5), ("delay", 0.3),
    ("eye_noise", 0.5), ("hand_noise", 0.4), ("side_noise", 0.3), ("alpha_noise", 0.4),
    ("line_up_gain", 0.3), ("aim", 0.35), ("alpha_habit", 0.004),
)  # fmt: skip
#: pilots of recorded passes where nobody is told: the best of eleven tried by where 12 pilots of the
#: library's jets touched down on 35 passes (``builders/corpus_odds.py``, set "fit")
USUAL = Population(prediction.Pilot(height_gain=0.026, rate_gain=0.18, climb_gain=0.14, aim=0.4), LIKE_HIM)
#: s that the deck's record goes on behind the last moment
_BEHIND = 12.0
#: cells below the centre that make a pass low at the last safe wave-off; common practice, no source
_LOW_CELLS = -1.0


class Moments(Struct, frozen=True):
    """A scene made of a recorded pass, and its states (n,) at moments: their times, s, and ranges, m.

    ``begins`` is where each moment is in the record of the deck's motion, s; ``record`` the pass
    up to the last moment, and ``nearest`` each moment's sample of it; ``own`` says whether the
    aircraft's own tables are behind it.
    """

    scene: prediction.Scene
    states: prediction.State
    begins: np.ndarray
    time: np.ndarray
    range: np.ndarray
    record: Record
    nearest: np.ndarray
    own: bool


def outlook(
    flown: Pass,
    *,
    pilot: prediction.Pilot | None = None,
    count: int = CONTINUATIONS,
    wave_offs: int = CLEAR_COUNT,
    seed: int = 0,
    threads: int | None = None,
) -> Outlook | None:
    """Tell how a pass could still have ended from every moment of it; None where nothing can be told.

    Args:
        flown: a pass at a ship.
        pilot: whose hands fly on; the standard pilot's where not given.
        count: continuations from each moment.
        wave_offs: ensemble of the last safe wave-off.
        seed: of all chance.
        threads: as many as there are cores where not given.
    """
    found = moments(flown, pilot=pilot)
    if found is None:
        return None
    odds = odds_at(found, count=count, pilot=pilot, seed=seed, threads=threads)
    index = prediction.last_safe_wave_off(
        found.scene, found.states, begins=found.begins, seed=seed + 1, count=wave_offs, threads=threads
    )
    last = None if index is None else float(found.time[index])
    reaction = found.scene.pilot.reaction
    return Outlook(
        time=found.time,
        range=found.range,
        trap=odds.trap,
        bolter=odds.bolter,
        wave_off=odds.wave_off,
        ramp_strike=odds.ramp_strike,
        outside=odds.outside,
        called=odds.called,
        last_safe=last,
        last_safe_range=None if index is None else float(found.range[index]),
        margin=CLEAR_BY,
        share=CLEAR_SHARE,
        reaction=reaction,
        verdict=_verdict(flown, last, reaction, end=float(found.time[-1])),
        notes=_notes(flown, found),
    )


def odds_at(
    found: Moments,
    *,
    count: int = CONTINUATIONS,
    pilot: prediction.Pilot | None = None,
    seed: int = 0,
    threads: int | None = None,
) -> prediction.Odds:
    """Return the odds from each moment on.

    ``pilot`` is who flew the pass: what he had in mind is worked out from how he flew it up to
    there. Where nobody is told, pilots of the ``USUAL`` population take over at each moment: what
    a stranger sums up is his own, and taking it for that of another did worse on recorded passes.
    """
    pilots = followed = None
    if pilot is None or pilot == prediction.Pilot():
        pilots = USUAL.draw(count, seed)
    else:
        population = Population(pilot, LIKE_HIM)
        followed = follow(
            found.scene,
            found.record,
            found.nearest,
            population=population,
            count=count,
            seed=seed,
            dt=prediction.STEP,
        )
    return prediction.odds_from(
        found.scene,
        found.states,
        begins=found.begins,
        seed=seed,
        count=count,
        threads=threads,
        followed=followed,
        pilots=pilots,
    )


def moments(
    flown: Pass, *, pilot: prediction.Pilot | None = None, at: np.ndarray | None = None
) -> Moments | None:
    """Make a scene of a recorded pass and its states at moments; None where it cannot be flown on.

    ``at`` (n,) are times, s; moments from 0.9 nm to the ramp, the wave-off or contact where not given.
    """
    s, site = flown.series, flown.site
    if site.is_field or site.wires is None or "hook up" in flown.flags or flown.outcome == "touch-and-go":
        return None
    until = min(judged_until(flown), flown.ramp.time if flown.ramp else math.inf)
    rows = np.flatnonzero((s.range < FROM) & (s.range > 0.0) & (s.time <= until))
    needed = (
        s.range,
        s.height,
        s.line_up_offset,
        s.closure,
        s.sink,
        s.true_airspeed,
        s.angle_of_attack_error,
    )
    rows = rows[np.all([np.isfinite(values[rows]) for values in needed], axis=0)]
    # the last stretch only: the pattern may have come near before
    gaps = np.flatnonzero(np.diff(s.time[rows]) > 2.0)
    rows = rows[gaps[-1] + 1 :] if gaps.size else rows
    if rows.size < 10 or s.time[rows[-1]] - s.time[rows[0]] < 1.0:
        return None
    if at is None:
        span = s.time[rows[-1]] - s.time[rows[0]]
        at = np.linspace(s.time[rows[0]], s.time[rows[-1]], min(MOMENTS, int(span / BETWEEN) + 1))

    across = _air_across(flown, rows)
    air = prediction.Air(x=-float(median(s.true_airspeed[rows] - s.closure[rows])), y=across)
    alpha = flown.aircraft.on_speed + float(median(s.angle_of_attack_error[rows]))
    made = flying(
        flown.aircraft,
        true_airspeed=float(median(s.true_airspeed[rows])),
        alpha=alpha,
        air=air,
        path=-site.lens.basic_angle,
    )
    if made is None:
        return None
    model, _, own = made
    day = prediction.Conditions(headwind=-air.x, crosswind=-air.y)
    scene = prediction.scene_of(model, site, day, officer=ONLOOKER, pilot=pilot, dt=prediction.STEP)
    motion, first = _motion(flown, rows, scene)
    # the commanded path is the one that the pass was measured against
    deck = scene.deck._replace(path_constant=flown.path_constant)
    scene = scene._replace(motion=motion, deck=deck)
    looks = np.arange(s.time[rows[0]], s.time[rows[-1]], EVERY)
    past, attack = _states(flown, rows, looks, model, air)
    return Moments(
        scene=scene,
        states=_states(flown, rows, at, model, air)[0],
        begins=at - first,
        time=at,
        range=np.interp(at, s.time[rows], s.range[rows]),
        record=Record(past, looks - first, attack, CALM / 2, THRUST_OFF),
        nearest=np.clip(np.searchsorted(looks, at, side="right") - 1, 0, looks.size - 1),
        own=own,
    )


def _states(
    flown: Pass, rows: np.ndarray, at: np.ndarray, model: prediction.Model, air: prediction.Air
) -> tuple[prediction.State, np.ndarray]:
    """Return the aircraft's states (n,) at times, s, and its angles of attack, rad."""
    s = flown.series

    def known(values: np.ndarray) -> np.ndarray:
        good = rows[np.isfinite(values[rows])]
        return np.interp(at, s.time[good], values[good]) if good.size else np.zeros(at.size)

    closure, sink = known(s.closure), known(s.sink)
    sideways = closure * np.tan(known(s.drift))
    climb = np.arctan2(-sink, closure - air.x)
    attack = flown.aircraft.on_speed + known(s.angle_of_attack_error)
    thrust = np.clip(_thrust(flown, rows, at, model), *_reach(model))
    power, zero = model.power_of(thrust), np.zeros(at.size)
    state = prediction.State(
        x=-known(s.range),
        y=known(s.line_up_offset),
        z=known(s.height) + known(s.deck_heave),
        vx=closure,
        vy=sideways,
        vz=-sink,
        pitch=climb + attack,
        roll=known(s.roll),
        heading=np.arctan2(sideways - air.y, closure - air.x),
        pitch_rate=zero,
        roll_rate=zero,
        power=power,
        thrust=model.thrust_of(power),
    )
    return state, attack


def _reach(model: prediction.Model) -> tuple[float, float]:
    """Return the least and the most that an engine gives, N."""
    table = model.coefficients.thrust
    top = int(model.coefficients.full_power * model.coefficients.per_power)
    return float(table[0]), float(table[top])


def _thrust(flown: Pass, rows: np.ndarray, at: np.ndarray, model: prediction.Model) -> np.ndarray:
    """Return the thrust at moments, N, from the rate of energy and the model's drag."""
    s, c = flown.series, model.coefficients
    rate = np.where(np.isfinite(s.specific_energy_rate), s.specific_energy_rate, 0.0)
    total = np.concatenate([[0.0], np.cumsum(0.5 * (rate[1:] + rate[:-1]) * np.diff(s.time))])
    # nothing that came later may tell of a moment
    low, high = at - CALM, at
    mean = (np.interp(high, s.time, total) - np.interp(low, s.time, total)) / (high - low)
    airspeed = np.interp(at, s.time[rows], s.true_airspeed[rows])
    attack = flown.aircraft.on_speed + np.interp(at, s.time[rows], s.angle_of_attack_error[rows])
    _, drag = model.lift_and_drag(attack, power=0.5)
    pressure = 0.5 * prediction.STILL_AIR.density * airspeed**2 * c.area
    return (c.mass * STANDARD_GRAVITY * mean / airspeed + pressure * drag) / np.cos(attack)


def _air_across(flown: Pass, rows: np.ndarray) -> float:
    """Return where the air goes across the landing area, m/s, by the crab; 0 where it is not known."""
    s, recorded = flown.series, flown.recorded
    heading = None if recorded is None else recorded.ship.get("heading")
    if recorded is None or heading is None or not np.isfinite(heading).any():
        return 0.0
    good = np.isfinite(heading)
    turned = np.unwrap(heading[good])
    landing = np.interp(s.time[rows], recorded.ship.time[good], turned) - flown.site.angle
    crab = angles.difference(s.heading[rows], landing)
    level = rows[np.abs(s.roll[rows]) < 5.0 * DEGREE] if np.isfinite(s.roll[rows]).any() else rows
    chosen = np.isin(rows, level) & np.isfinite(crab)
    if not chosen.any():
        return 0.0
    at = rows[chosen]
    over = s.closure[at] * np.tan(s.drift[at]) - s.true_airspeed[at] * np.sin(crab[chosen])
    return float(median(over[np.isfinite(over)])) if np.isfinite(over).any() else 0.0


def _motion(flown: Pass, rows: np.ndarray, scene: prediction.Scene) -> tuple[Motion, float]:
    """Return the deck's motion as it was recorded, and the time at which its record begins, s."""
    s, deck = flown.series, scene.deck
    first = float(s.time[rows[0]]) - 1.0
    last = min(float(s.time[rows[-1]]) + _BEHIND, float(s.time[-1]))
    heave, pitch, roll = (
        np.interp(np.arange(first, last, 1.0 / _MOTION_RATE), s.time, np.nan_to_num(values))
        for values in (s.deck_heave, s.deck_pitch, s.deck_roll)
    )
    still = max(float(np.ptp(heave)), float(np.ptp(pitch)) * abs(deck.ramp_x)) < _STILL
    if still and abs(float(pitch.mean())) + abs(float(roll.mean())) < 1e-4:
        return Motion(np.zeros((3, 2)), 1.0), first
    # heave is told of the ramp; the motion counts from the centre of pitch
    centre = heave - deck.ramp_x * pitch + deck.ramp_y * roll
    # it is read round and round: after its end the deck stays where it was
    tail = np.ones(int(2 * _BEHIND * _MOTION_RATE))
    record = np.stack([np.concatenate([part, part[-1] * tail]) for part in (centre, pitch, roll)])
    rest = (float(centre.mean()), float(pitch.mean()), float(roll.mean()))
    return Motion(np.ascontiguousarray(record), _MOTION_RATE, rest), first


def _verdict(flown: Pass, last: float | None, reaction: float, end: float) -> str:
    """Say what the last safe wave-off means for a pass whose last moment looked at was ``end``."""
    margin = f"{from_si(CLEAR_BY, 'ft'):.0f} ft"
    if flown.wave_off is not None:
        if last is None:
            return f"Waved off, and at no moment looked at would a wave-off have kept {margin} over the deck."
        late = flown.wave_off.start - reaction - last
        if late <= 0.0 or last > end - 2.0 * BETWEEN:
            return "Waved off in time: a wave-off was still safe."
        return f"Waved off {late:.1f} s after the last safe moment: too late."
    if last is None:
        return f"At no moment looked at would a wave-off have kept {margin} over the deck in 99 of 100 cases."
    before = "" if flown.ramp is None else f", {flown.ramp.time - last:.1f} s before the ramp"
    s = flown.series
    good = np.isfinite(s.ball_cells)
    cells = float(np.interp(last, s.time[good], s.ball_cells[good])) if good.any() else 0.0
    if cells < _LOW_CELLS:
        return f"Continued past the last safe wave-off{before}, {-cells:.1f} cells low."
    return f"Last safe wave-off{before}."


def _notes(flown: Pass, found: Moments) -> tuple[Note, ...]:
    """Say what the odds rest on."""
    notes = [
        Note(
            "odds-model",
            "The odds are of pilots as they usually are (or of the one named by --pilot, followed up to "
            "each moment), in usual free-air gusts, with the deck as it moved and nobody waving them off; a "
            f"wave-off is safe if the hook keeps {from_si(CLEAR_BY, 'ft'):.0f} ft over ramp, wires and deck "
            f"in {CLEAR_SHARE:.0%} of {CLEAR_COUNT}, full power {found.scene.pilot.reaction:.1f} s after the "
            "signal. They came true within chance on 1,000 simulated passes by a known pilot, on 106 "
            "flown by others than they were fitted to.",
        )
    ]
    if not found.own:
        notes.append(
            Note(
                "odds-usual-jet",
                f"{flown.aircraft.name} has no tables of lift, drag and thrust: the odds are a usual jet's. "
                "Add [aerodynamics] and [engine] to its file.",
            )
        )
    return tuple(notes)
