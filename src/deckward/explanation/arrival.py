"""What each cause made of how a pass arrived: airspeed, angle of attack, line-up, touchdown.

The height at the ramp has :mod:`deckward.explanation.contributions`; here stand the others, laid on the same
causes over the same time. Airspeed goes through the approach's adjoint as height does. Angle of attack is the
hand's, and what the air does with the elevator held. Line-up is where the first offset and course would have
led, and what each bank turned. A touchdown is the height over the commanded path at contact over its slope.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from deckward.explanation.contributions import BANK_LAG, SLIP_LAG, Causes, of_height
from deckward.explanation.model import Arrival, Made
from deckward.explanation.recursion import by_hand
from deckward.explanation.view import STEP


class Laid(Struct, frozen=True, eq=False):
    """One deviation, split over causes and time.

    ``what`` is "airspeed" (m/s over on speed), "angle of attack" (rad, + slow), "line-up" (m, +
    right) or "touchdown" (m past the hook's target). ``parts`` maps a cause to what each step of
    ``time`` made, (n,); ``start`` is what the first state would have made alone.
    """

    what: str
    deviation: float
    time: np.ndarray
    start: float
    parts: dict[str, np.ndarray]

    @property
    def unexplained(self) -> float:
        """What the causes leave."""
        return self.deviation - self.start - sum(float(part.sum()) for part in self.parts.values())


#: s of one stretch that is told; chosen by us
STRETCH = 2.0


def arrivals(of: Causes) -> tuple[Arrival, ...]:
    """Tell how a pass arrived in stretches of time, what made nothing left out."""
    return tuple(
        Arrival(one.what, one.deviation, one.unexplained, tuple(_stretches(one))) for one in laid(of)
    )


def _stretches(one: Laid) -> Iterator[Made]:
    first = float(one.time[0])
    yield Made("start", first, first, one.start)
    every = round(STRETCH / STEP)
    at = np.arange(0, one.time.size, every)
    ends = [*one.time[at[1:]].tolist(), float(one.time[-1]) + STEP]
    sums = {cause: np.add.reduceat(part, at).tolist() for cause, part in one.parts.items()}
    for k, (start, end) in enumerate(zip(one.time[at].tolist(), ends, strict=True)):
        for cause, made in sums.items():
            if made[k] != 0.0:
                yield Made(cause, start, end, made[k])


def laid(of: Causes) -> Iterator[Laid]:
    """Yield what recording and pass allow, the ramp's first."""
    flown = of.flight.view.flown
    assert flown.ramp is not None, "causes are told of passes that came to the ramp"
    steps = of.steps_to(flown.ramp.time)
    yield from _speed_and_attack(of, steps)
    yield _line_up(of, steps)
    touched = flown.touchdown
    if touched is not None and touched.hook_x is not None and of.time[-1] > touched.time - 2.0 * STEP:
        yield _touchdown(of, touched.hook_x)


def _speed_and_attack(of: Causes, steps: int) -> Iterator[Laid]:
    flight, fit = of.flight, of.fit
    hands, stick = flight.hands, flight.stick
    read = hands.output("true_airspeed")
    of_hand = hands.answers(read[None], steps)[:, 0]
    lasts = np.stack([stick.output(name) for name in ("true_airspeed", "alpha")])
    of_air = stick.answers(lasts, steps)
    at_once = [
        stick.at_once(name, air_x=float(of.along[steps - 1]), air_z=float(of.up[steps - 1]))
        for name in ("true_airspeed", "alpha")
    ]
    air = [of.by_air(stick, of_air[:, k]) for k in (0, 1)]
    for each, now in zip(air, at_once, strict=True):
        each[-1] += now
    power_push = hands.made(of_hand, "power")
    yield Laid(
        "airspeed",
        float(flight.airspeed[steps - 1]) - of.model.trim.true_airspeed - float(read @ of.steady),
        of.time[:steps],
        float(of_hand[0] @ (fit.first - of.steady)),
        {
            "power": by_hand(power_push, of.power[:steps], of.follows[:steps]),
            "nose": by_hand(hands.made(of_hand, "nose"), of.nose[:steps], of.nose_follows),
            "bank": by_hand(hands.made(of_hand, "lift"), of.lift[:steps], STEP / (BANK_LAG + STEP))
            - by_hand(power_push, of.slip_drag[:steps], STEP / (BANK_LAG + SLIP_LAG + STEP)),
            "air": air[0],
        },
    )
    last = np.zeros(steps)
    last[-1] = 1.0
    by = by_hand(last, of.nose[:steps], of.nose_follows)
    # what led to the first angle lies before the first sample
    start, by[0] = float(by[0]), 0.0
    yield Laid(
        "angle of attack",
        float(flight.attack[steps - 1]),
        of.time[:steps],
        start,
        {"nose": by, "air": air[1]},
    )


def _line_up(of: Causes, steps: int) -> Laid:
    flight = of.flight
    view, rows = flight.view, flight.rows[:steps]
    offset, across = np.nan_to_num(view.offset[rows]), np.nan_to_num(view.side_rate[rows])
    left = STEP * np.arange(steps - 1, -1, -1.0)
    # a bank tilts the lift, and slips the jet into its own side force; where it holds its course is level
    tilt = flight.lift[:steps] * np.sin(view.roll[rows])
    slip = (flight.side_force * flight.sideslip)[:steps]
    level = _constant(offset, across[0], tilt + slip)
    turned = by_hand(left * STEP, tilt + level, STEP / (BANK_LAG + STEP))
    slipped = by_hand(left * STEP, slip, STEP / (BANK_LAG + SLIP_LAG + STEP))
    return Laid(
        "line-up",
        float(offset[-1]),
        of.time[:steps],
        float(offset[0] + across[0] * left[0]),
        {"bank": turned + slipped},
    )


def _constant(offset: np.ndarray, first: float, turning: np.ndarray) -> float:
    """Constant acceleration with which a turning (n,), m/s^2, leads along a flown offset (n,), m, best."""
    time = STEP * np.arange(offset.size)
    made = np.cumsum(np.cumsum(turning)) * STEP**2
    missed, per_unit = offset - offset[0] - first * time - made, 0.5 * time**2
    return float(missed @ per_unit / (per_unit @ per_unit))


def _touchdown(of: Causes, hook_x: float) -> Laid:
    flight, lens = of.flight, of.flight.site.lens
    slope = float(np.tan(lens.basic_angle))
    found = of_height(of, of.time.size, (hook_x - lens.hook_target) * slope)
    # where the hook meets it, the deck has risen more than its ramp, or less
    pitch = np.nan_to_num(flight.view.even(flight.view.flown.series.deck_pitch)[flight.rows])
    risen = hook_x * np.tan(pitch)
    parts = {**found.parts, "deck": found.parts["deck"] - np.diff(risen, append=risen[-1])}
    return Laid(
        "touchdown",
        found.deviation / slope,
        found.time,
        (found.start - float(risen[0])) / slope,
        {cause: part / slope for cause, part in parts.items()},
    )
