"""One step of a pass: deck, air, pilot, landing signal officer, aircraft, and what happened.

Frame: the approach frame of the ship's steady motion: origin at the ramp at rest, x forward
along the landing area, y to starboard, z up. Written for numbers and arrays alike, and for
the compiler (``prediction/compiled.py``): no branch goes by a trajectory's value.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from deckward.environment.airwake import (
    ALONG_AT_CENTRE,
    ALONG_ENDS,
    ALONG_PER_METRE,
    DRIFT,
    MODULATION,
    RANDOM_TIME,
    UP_AT_CENTRE,
    UP_ENDS,
    UP_PER_METRE,
    WASHOUT,
)
from deckward.foundation.units import STANDARD_GRAVITY
from deckward.prediction.chance import pair, uniform
from deckward.prediction.flight import ALPHA, Coefficients, advance, cosine, look_up, sine

#: outcomes as numbers while a pass is flown
FLYING, TRAP, BOLTER, WAVE_OFF, RAMP_STRIKE, OUTSIDE = 0.0, 1.0, 2.0, 3.0, 4.0, 5.0
#: what called a wave-off
NO_CALL, LOW, HIGH, LINE_UP, SLOW, TOLD = 0.0, 1.0, 2.0, 3.0, 4.0, 5.0
#: draws of chance that a step takes
DRAWS = 5
_CONFIGURATION = (1.0, 1.0, 0.0)
_NEVER = 1e9


class Deck(NamedTuple):
    """The deck, the lens, and where hook, eye and wheels are on the aircraft; m and rad."""

    cos_angle: float
    sin_angle: float
    #: ramp from the centre of pitch, hull frame
    ramp_x: float
    ramp_y: float
    length: float
    half_width: float
    wires: np.ndarray
    wire_height: float
    lens_x: float
    lens_z: float
    basic: float
    path_constant: float
    #: 1 where the lens follows the deck up and down ("line"), 0 where it is held ("inertial")
    lens_moves: float
    #: 1 where the angle of the path tilts with the deck ("none")
    lens_tilts: float
    above_sea: float
    hook_x: float
    hook_z: float
    eye_x: float
    eye_z: float
    wheel_x: float
    wheel_z: float


class Motion(NamedTuple):
    """The deck's motion as a long record (3, n): heave (m), pitch, roll (rad); steps a second.

    ``rest`` is what the deck moves about.
    """

    record: np.ndarray
    rate: float
    rest: tuple = (0.0, 0.0, 0.0)


class Weather(NamedTuple):
    """The air: wind over deck (m/s, where the air goes to), gust filters, airwake.

    ``profile`` is the wind's height profile over the sea on an even grid of height, over the
    wind at deck height. Airwake tables are on an even grid of range, shares of the wind.
    """

    along: float
    across: float
    #: part of them that the ship's own speed makes, the same at all heights
    ship_along: float
    ship_across: float
    density: float
    profile: np.ndarray
    per_height: float
    gust_rows: np.ndarray
    gust_per_metre: float
    over_deck: float
    wake_low: float
    wake_per_metre: float
    wake_along: np.ndarray
    wake_up: np.ndarray
    wake_sigma: np.ndarray
    wake_time: np.ndarray
    wake_random: float
    wake_strength: float
    centre_x: float
    pitch_amplitude: float
    pitch_frequency: float


class Pilot(NamedTuple):
    """How a pilot flies; lengths m, angles rad, times s. Power gains are in weights of thrust.

    Power is set in three parts: ``height_gain`` corrects for the error, ``rate_gain`` (with
    the feel of ``climb_gain``) takes it off as the ball comes back, ``settle_gain`` sets it
    anew for what remains. Errors smaller than ``threshold`` at the lens are not seen.
    ``delay`` is from eye to hand. The noises are slow errors of eye (at the lens, along and
    across), hand (share of the lever's travel) and angle of attack, each with its time. In a
    wave-off full power follows after ``reaction`` with the nose ``rotation`` above on-speed.
    ``hook_skip`` is the chance that a wire does not hold. Habits: ``aim`` is how far over the
    commanded path he holds the aircraft, ``alpha_habit`` how slow he flies it.

    The values are common practice without a source, chosen so that touchdowns scatter inside
    the ranges usually told (from memory: 35 to 60 ft by day); fit a pilot of your own to passes.
    """

    delay: float = 0.35
    threshold: float = 0.0008
    height_gain: float = 0.020
    rate_gain: float = 0.160
    climb_gain: float = 0.100
    settle_gain: float = 0.0012
    nose_lead: float = 0.004
    nose_lead_limit: float = 0.010
    line_up_gain: float = 0.07
    line_up_rate_gain: float = 0.50
    line_up_settle_gain: float = 0.002
    line_up_threshold: float = 0.002
    bank_limit: float = 0.30
    bank_power: float = 1.0
    hand_rate: float = 1.2
    eye_noise: float = 0.0012
    eye_time: float = 2.0
    hand_noise: float = 0.010
    hand_time: float = 0.6
    side_noise: float = 0.004
    side_time: float = 3.0
    alpha_noise: float = 0.005
    alpha_time: float = 2.5
    reaction: float = 0.7
    rotation: float = 0.014
    hook_skip: float = 0.02
    aim: float = 0.0
    alpha_habit: float = 0.0


#: the standard pilot at night: sees less, hesitates longer
NIGHT = Pilot(delay=0.45, threshold=0.0012, eye_noise=0.0020, side_noise=0.007)


class Officer(NamedTuple):
    """When a landing signal officer waves a pass off; m, rad. Common practice, no source.

    Judged between ``first`` and ``last`` metres behind the ramp: so low, so high, so far off
    line (m, where the pass would cross the ramp), so slow, or a hook that would cross the ramp
    lower than ``clearance``; all but the first only inside ``close``. Low and high count from the
    path of the deck at rest, whatever the moving lens shows; the clearance is over the ramp where it
    will be then, which is known the less the farther it is off, and from ``foresees`` (s) on not at
    all: from there the ramp counts where it rests. ``told`` waves the pass off
    at a time, s, whatever else. One who is ``active`` but does not act (``acts`` 0) only notes
    what he would have called.
    """

    first: float = 900.0
    last: float = 90.0
    low: float = 0.0175
    high: float = 0.0209
    line_up: float = 9.0
    slow: float = 0.044
    clearance: float = 0.0
    close: float = 200.0
    told: float = _NEVER
    active: float = 1.0
    acts: float = 1.0
    #: deck motion can be told about so far ahead; source: a study of filters that foretell the motion
    #: of ships, MIT LIDS-R-1220
    foresees: float = 5.0


class Scene(NamedTuple):
    """All that a pass is flown with, but its start and its chance."""

    aircraft: Coefficients
    deck: Deck
    motion: Motion
    weather: Weather
    pilot: Pilot
    officer: Officer
    #: the pilot's power on a steady path, and lever over weight of thrust there
    trim_power: float
    lever_per_weight: float
    #: slope of the lens's path; what slow noise keeps in a step, and what is added (4,) each
    slope: float
    keep: tuple
    kick: tuple


class Flown(NamedTuple):
    """One trajectory's state beside the aircraft's own, and what has happened to it."""

    gust: tuple
    wake: tuple
    wander: tuple
    lever: float
    height_sum: float
    line_up_sum: float
    climb_rate: float
    waved: float
    call: float
    outcome: float
    ramp_height: float
    ramp_time: float
    touch_x: float
    touch_y: float
    touch_sink: float
    touch_closure: float
    touch_alpha: float
    touch_time: float
    wire: float
    lowest: float
    hook_x: float
    hook_z: float
    eye_x: float
    eye_z: float
    #: heave, pitch and roll of the deck now, and where in their record the pass began, s
    motion: tuple
    begin: float


def points(deck, state, motion):
    """Return the hook (x, y, height over deck), the eye (x, z) and the wheels' height over deck."""
    x, y, z = state[0], state[1], state[2]
    sp, cp = sine(state[6]), cosine(state[6])
    sr, cr = sine(state[7]), cosine(state[7])
    hook_x = x + deck.hook_x * cp + deck.hook_z * sp
    hook_y = y + deck.hook_x * state[8] - deck.hook_z * sr
    hook_z = z + deck.hook_x * sp - deck.hook_z * cp * cr
    eye_x = x + deck.eye_x * cp + deck.eye_z * sp
    eye_z = z + deck.eye_x * sp - deck.eye_z * cp * cr
    wheel_x = x + deck.wheel_x * cp + deck.wheel_z * sp
    wheel_z = z + deck.wheel_x * sp - deck.wheel_z * cp * cr
    return (
        hook_x,
        hook_y,
        hook_z - deck_height(deck, hook_x, hook_y, motion),
        eye_x,
        eye_z,
        wheel_z - deck_height(deck, wheel_x, hook_y, motion),
    )


def deck_height(deck, x, y, motion):
    """Return the height of the deck plane at x, y against its rest; ``motion`` is heave, pitch, roll."""
    ahead = deck.ramp_x + x * deck.cos_angle + y * deck.sin_angle
    aside = deck.ramp_y - x * deck.sin_angle + y * deck.cos_angle
    return motion[0] + ahead * motion[1] - aside * motion[2]


def deck_motion(motion, time):
    """Return heave, pitch and roll at times, s, of the record; it is read round and round."""
    place = time * motion.rate
    span = motion.record.shape[1] - 1.0
    place = place - np.floor(place / span) * span
    return (
        look_up(motion.record[0], place),
        look_up(motion.record[1], place),
        look_up(motion.record[2], place),
    )


def ball(deck, eye_x, eye_z, motion):
    """Return the glide-slope error (rad, + high) and the distance of the eye from the lens."""
    distance = np.maximum(deck.lens_x - eye_x, 20.0)
    lens = deck.lens_z + deck.path_constant
    rise = deck_height(deck, deck.lens_x, 0.0, motion) * deck.lens_moves
    tilt = deck.lens_tilts * motion[1]
    rate = (eye_z - lens - rise) / distance
    return arctangent(rate) - deck.basic + tilt, distance


def arctangent(slope):
    """Return the angle of a slope up to 0.4 either way, to 3e-5."""
    square = slope * slope
    return slope * (1.0 - square * (1.0 / 3.0 - square * (1.0 / 5.0 - square / 7.0)))


def row(table, height, per_metre):
    """Return the row of gust filters for heights."""
    index = np.minimum(np.maximum(height * per_metre, 0.0), table.shape[0] - 1.0)
    return table[np.asarray(index).astype(np.intp)]


def choose(condition, this, other):
    """Return ``this`` where a condition holds, else ``other``."""
    return np.where(condition, this, other)


def recall(line, place):
    """Return what lies in the slots ``place`` (a number, or one each) of a line (slots, n)."""
    if np.ndim(place) == 0:
        return line[place] + 0.0
    return np.take_along_axis(line, place[None], axis=0)[0]


def pick(filters, axis, item):
    """Return one number of a row of filters."""
    return filters[..., axis, item]


def gust(filters, axis, first, second, chance):
    """Return the next two states of a gust's filter, and the gust."""
    first = pick(filters, axis, 0) * first + pick(filters, axis, 1) * chance
    second = (
        pick(filters, axis, 2) * second + pick(filters, axis, 3) * chance + pick(filters, axis, 4) * first
    )
    return first, second, pick(filters, axis, 5) * first + pick(filters, axis, 6) * second


def air_around(w, state, time, height, gusts, wake, chance, motion, dt):
    """Return the air's velocity (along x, y, up) at the aircraft, and the next gust and wake states."""
    share = look_up(w.profile, height * w.per_height)
    along = w.ship_along + (w.along - w.ship_along) * share
    across = w.ship_across + (w.across - w.ship_across) * share
    filters = row(w.gust_rows, height, w.gust_per_metre)
    g0, g1, u = gust(filters, 0, gusts[0], gusts[1], chance[0])
    g2, g3, v = gust(filters, 1, gusts[2], gusts[3], chance[1])
    g4, g5, up = gust(filters, 2, gusts[4], gusts[5], chance[2])

    place = (-state[0] - w.wake_low) * w.wake_per_metre
    size = w.over_deck * w.wake_strength
    u = u + look_up(w.wake_along, place) * size
    up = up + look_up(w.wake_up, place) * size
    # with the pitching ship
    x = state[0] + w.centre_x
    drift = DRIFT * np.maximum(w.over_deck, 1.0)
    wave = np.cos(w.pitch_frequency * (time + x / drift)) * w.pitch_amplitude * size
    u = u + wave * (ALONG_AT_CENTRE + ALONG_PER_METRE * x) * (x > ALONG_ENDS)
    up = up + wave * (UP_AT_CENTRE + UP_PER_METRE * x) * (x > UP_ENDS)
    # random: a lag, then a washout, of modulated noise
    lag_u = look_up(w.wake_time, place)
    scale = MODULATION * size
    sigma_u = look_up(w.wake_sigma, place) * scale
    a = 1.0 - dt / lag_u
    k0 = a * wake[0] + np.sqrt(2.0 * dt / lag_u) * chance[3]
    b = 1.0 - dt / RANDOM_TIME
    root = np.sqrt(2.0 * dt / RANDOM_TIME)
    k2 = b * wake[2] + root * chance[4]
    k4 = b * wake[4] + root * chance[5]
    out = WASHOUT * dt
    k1 = wake[1] + out * (k0 - wake[1])
    k3 = wake[3] + out * (k2 - wake[3])
    k5 = wake[5] + out * (k4 - wake[5])
    near = w.wake_random * scale * (place < w.wake_along.size)
    return (
        along + u + sigma_u * (k0 - k1),
        across + v + near * (k2 - k3),
        up + near * (k4 - k5),
        (g0, g1, g2, g3, g4, g5),
        (k0, k1, k2, k3, k4, k5),
    )


def see(deck, slope, state, eye_x, eye_z, motion):
    """Return what the pilot judges by: height over the path (m), its rate, offset, its rate, distance."""
    error, distance = ball(deck, eye_x, eye_z, motion)
    return error * distance, state[5] + slope * state[3], state[1], state[4], distance


def beyond(value, threshold):
    """Return what of a value exceeds a threshold either way."""
    return np.maximum(value - threshold, 0.0) + np.minimum(value + threshold, 0.0)


def fly_hands(scene, state, flown, seen, drift, dt):
    """Return the pilot's lever, angle of attack and bank to ask for, and the sums behind them."""
    p = scene.pilot
    height, rate, offset, offset_rate, distance = seen
    eye, hand, side, nose = drift
    height = beyond(height - p.aim + p.eye_noise * eye * distance, p.threshold * distance)
    offset = beyond(offset + p.side_noise * side * distance, p.line_up_threshold * distance)
    height = np.minimum(np.maximum(height, -12.0), 12.0)
    offset = np.minimum(np.maximum(offset, -60.0), 60.0)
    height_sum = np.minimum(np.maximum(flown.height_sum + height * dt, -40.0), 40.0)
    line_up_sum = np.minimum(np.maximum(flown.line_up_sum + offset * dt, -40.0), 40.0)

    ask = (
        p.height_gain * height
        + p.rate_gain * rate
        + p.climb_gain * flown.climb_rate
        + p.settle_gain * height_sum
    )
    turn = p.line_up_gain * offset + p.line_up_rate_gain * offset_rate + p.line_up_settle_gain * line_up_sum
    bank = arctangent(np.minimum(np.maximum(turn / -STANDARD_GRAVITY, -0.4), 0.4))
    bank = np.minimum(np.maximum(bank, -p.bank_limit), p.bank_limit)
    lost = p.bank_power * (1.0 / cosine(state[7]) - 1.0)
    lever = scene.trim_power + p.hand_noise * hand + scene.lever_per_weight * (lost - ask)
    lead = -p.nose_lead * (rate + 0.15 * height)
    lead = np.minimum(np.maximum(lead, -p.nose_lead_limit), p.nose_lead_limit)
    alpha = scene.aircraft.on_speed + p.alpha_habit + lead + p.alpha_noise * nose
    return lever, alpha, bank, height_sum, line_up_sum


def call(scene, state, flown, alpha, time):
    """Return why the landing signal officer waves the pass off now; 0 if not."""
    o, deck, motion = scene.officer, scene.deck, scene.motion
    hook_x, now = flown.hook_x, flown.motion
    behind = -hook_x
    inside = (behind < o.first) & (behind > o.last) & (o.active > 0.0)
    error, _ = ball(deck, flown.eye_x, flown.eye_z, motion.rest)
    to_go = np.maximum(behind, 1.0) / np.maximum(state[3], 10.0)
    # what the hook would clear the ramp by if the present sink went on and the deck moved as foreseen
    then = deck_motion(motion, flown.begin + time + to_go)
    known = np.maximum(1.0 - to_go / o.foresees, 0.0)
    ramp = known * deck_height(deck, 0.0, 0.0, then) + (1.0 - known) * deck_height(
        deck, 0.0, 0.0, motion.rest
    )
    hook = flown.hook_z + deck_height(deck, hook_x, state[1], now)
    crossing = hook + state[5] * to_go - ramp
    across = state[1] + state[4] * to_go
    close = behind < o.close
    why = choose((error < -o.low) | (close & (crossing < o.clearance)), LOW, NO_CALL)
    why = choose((why == NO_CALL) & close & (error > o.high), HIGH, why)
    why = choose((why == NO_CALL) & close & (np.abs(across) > o.line_up), LINE_UP, why)
    why = choose((why == NO_CALL) & close & (alpha > scene.aircraft.on_speed + o.slow), SLOW, why)
    why = choose(inside, why, NO_CALL)
    return choose((why == NO_CALL) & (time >= o.told), TOLD, why)


def meet(scene, flown, hook_x, hook_y, hook_z, wheels_z, state, time, dt, luck):
    """Return what became of the pass in a step that brought the hook here (deck frame)."""
    deck = scene.deck
    flying = flown.outcome == FLYING
    ran = np.maximum(hook_x - flown.hook_x, 1e-6)
    crossed = flying & (flown.hook_x < 0.0) & (hook_x >= 0.0)
    share = np.minimum(np.maximum(-flown.hook_x / ran, 0.0), 1.0)
    at_ramp = flown.hook_z + share * (hook_z - flown.hook_z)
    ramp_height = choose(crossed, at_ramp, flown.ramp_height)
    ramp_time = choose(crossed, time - dt * (1.0 - share), flown.ramp_time)
    struck = crossed & (at_ramp < 0.0)

    over = hook_x >= 0.0
    lowest = choose(flying & (hook_x > -5.0), np.minimum(flown.lowest, hook_z), flown.lowest)
    fell = np.maximum(flown.hook_z - hook_z, 1e-9)
    touched = flying & over & (np.minimum(hook_z, wheels_z) <= 0.0) & (hook_x <= deck.length) & (~struck)
    part = np.minimum(np.maximum(flown.hook_z / fell, 0.0), 1.0)
    touch_x = flown.hook_x + part * ran
    # a wire is taken where the hook passes at or below its height, so a little before the deck
    takes_from = touch_x - deck.wire_height * ran / fell * (hook_z <= 0.0)
    wire = 0.0 * touch_x
    for n in range(deck.wires.size):
        free = (wire == 0.0) & (deck.wires[n] >= takes_from)
        held = uniform(luck[0], luck[1] + np.uint64(n)) >= scene.pilot.hook_skip
        wire = choose(free & held, n + 1.0, wire)
    off = np.abs(hook_y) > deck.half_width
    outcome = choose(wire > 0.0, TRAP, BOLTER)
    outcome = choose(off, OUTSIDE, outcome)
    outcome = choose(touched, outcome, flown.outcome)
    outcome = choose(struck, RAMP_STRIKE, outcome)
    gone = flying & (~touched) & (~struck) & (hook_x > deck.length)
    outcome = choose(gone, WAVE_OFF, outcome)
    return (
        outcome,
        ramp_height,
        ramp_time,
        choose(touched, touch_x, flown.touch_x),
        choose(touched, hook_y, flown.touch_y),
        choose(touched, (flown.hook_z - hook_z) / dt, flown.touch_sink),
        choose(touched, state[3], flown.touch_closure),
        choose(touched, time, flown.touch_time),
        choose(touched, wire, flown.wire),
        lowest,
    )


def tick(scene, state, flown, past, place, known_at, time, key, count, dt):
    """Return the aircraft's state and what has happened, one step on.

    ``past`` (4, slots, ...) holds what the pilot saw and does not know yet; ``place`` is its
    slot of now, ``known_at`` that of what he knows by now. ``time`` s of the step's start,
    ``key`` and ``count`` of its chance.
    """
    deck, p, w = scene.deck, scene.pilot, scene.weather
    chance = (
        *pair(key, count),
        *pair(key, count + np.uint64(1)),
        *pair(key, count + np.uint64(2)),
    )
    eye, hand = pair(key, count + np.uint64(3))
    side, nose = pair(key, count + np.uint64(4))
    keep, kick = scene.keep, scene.kick
    drift = (
        keep[0] * flown.wander[0] + kick[0] * eye,
        keep[1] * flown.wander[1] + kick[1] * hand,
        keep[2] * flown.wander[2] + kick[2] * side,
        keep[3] * flown.wander[3] + kick[3] * nose,
    )
    begin, motion = flown.begin, flown.motion
    now = see(deck, scene.slope, state, flown.eye_x, flown.eye_z, motion)
    # past and now may lie in the same slot: what is read was seen one delay ago (and is read before)
    known = (
        recall(past[0], known_at),
        recall(past[1], known_at),
        recall(past[2], known_at),
        recall(past[3], known_at),
        now[4],
    )
    past[0][place] = now[0]
    past[1][place] = now[1]
    past[2][place] = now[2]
    past[3][place] = now[3]

    air_x, air_y, air_z, gusts, wake = air_around(
        w, state, begin + time, deck.above_sea + state[2], flown.gust, flown.wake, chance, motion, dt
    )
    air = (air_x, air_y, air_z, w.density)
    lever, nose, bank, height_sum, line_up_sum = fly_hands(scene, state, flown, known, drift, dt)
    speed = np.sqrt((state[3] - air_x) ** 2 + (state[4] - air_y) ** 2 + (state[5] - air_z) ** 2)
    alpha = state[6] - (state[5] - air_z) / speed
    why = call(scene, state, flown, alpha, time)
    first = (flown.call == NO_CALL) & (why > 0.0) & (flown.outcome == FLYING)
    called = choose(first, why, flown.call)
    waved = choose(first & ((scene.officer.acts > 0.0) | (why == TOLD)), time, flown.waved)
    waving = time >= waved + p.reaction
    wanted = choose(waving, scene.aircraft.full_power, lever)
    nose = choose(waving, scene.aircraft.on_speed + p.rotation, nose)
    bank = choose(waving, 0.0, bank)
    change = p.hand_rate * dt
    lever = flown.lever + np.minimum(np.maximum(wanted - flown.lever, -change), change)
    lever = np.minimum(np.maximum(lever, 0.0), scene.aircraft.full_power)

    after = advance(scene.aircraft, state, (lever, nose, bank, ALPHA), _CONFIGURATION, air, dt)
    climb = (after[5] - state[5]) / dt
    climb_rate = flown.climb_rate + min(1.0, dt / 0.15) * (climb - flown.climb_rate)

    end = deck_motion(scene.motion, begin + time + dt)
    hook_x, hook_y, hook_z, eye_x, eye_z, wheels_z = points(deck, after, end)
    met = meet(
        scene,
        flown,
        hook_x,
        hook_y,
        hook_z,
        wheels_z,
        after,
        time + dt,
        dt,
        (key, np.uint64(0xFFFFFFFFFFFF8000)),
    )
    touched = (flown.outcome == FLYING) & (met[0] != FLYING)
    return after, Flown(
        gusts,
        wake,
        drift,
        lever,
        height_sum,
        line_up_sum,
        climb_rate,
        waved,
        called,
        met[0],
        met[1],
        met[2],
        met[3],
        met[4],
        met[5],
        met[6],
        choose(touched, alpha, flown.touch_alpha),
        met[7],
        met[8],
        met[9],
        hook_x,
        hook_z,
        eye_x,
        eye_z,
        end,
        begin,
    )
