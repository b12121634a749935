"""Passes with known histories: ball, line-up and angle of attack told as knots, no physics.

Each history is a number (the same all the way) or ``{metres aft of the ramp: value}``,
joined by straight lines. Closure is constant and the deck lies still unless it is told to
move, so that every number of the pass follows by plane trigonometry.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from deckward.aircraft.model import Profile
from deckward.passes.model import Groove, Pass, Ramp, Series, Touchdown, Turn, WaveOff
from deckward.site.model import Lens, Site, Wires

DEG = math.pi / 180.0
FT = 0.3048
NM = 1852.0
CLOSURE = 52.0
CONTACT_X = 70.0

SHIP = Site(
    name="Test deck",
    kind="ship",
    angle=9 * DEG,
    ramp=(-150.0, 2.0, -19.0),
    length=230.0,
    width=26.0,
    lens=Lens((130.0, -20.0, 1.5), 3.5 * DEG, 12, 0.1417 * DEG, 2, 70.0, "line", 45.7, 1.36),
    wires=Wires((52.0, 64.0, 76.0, 88.0), 0.1),
)
JET = Profile(
    name="Test jet",
    eye=(5.0, 0.0, -1.2),
    hook=(-4.0, 0.0, 2.0),
    main_wheels=(-0.5, 1.3, 1.9),
    nose_wheel=(4.0, 0.0, 1.9),
    on_speed=8.0 * DEG,
    band=(7.3 * DEG, 8.7 * DEG),
    slight_band=(6.8 * DEG, 9.2 * DEG),
    on_speed_pitch=5.3 * DEG,
)

History = float | Mapping[float, float]


def history(told: History, distance: np.ndarray) -> np.ndarray:
    """Return a history at distances aft of the ramp; shape of ``distance``."""
    if not isinstance(told, Mapping):
        return np.full(distance.shape, float(told))
    knots = sorted(told)
    return np.interp(distance, knots, [told[knot] for knot in knots])


def fly(
    *,
    ball_deg: History = 0.0,
    right_m: History = 0.0,
    slow_deg: History = 0.0,
    bank_deg: History = 0.0,
    outcome: str | None = "trap",
    wire: int | None = 3,
    wire_odds: Mapping[str, float] | None = None,
    start_m: float = 1.2 * NM,
    end_m: float = -150.0,
    rate_hz: float = 10.0,
    sigma: Mapping[str, float] | None = None,
    correlation: Mapping[str, float] | None = None,
    clearance_sigma_m: float = 0.0,
    groove_m: float | None = None,
    downwind: bool = False,
    wave_off_m: float | None = None,
    touchdown_sink_mps: float | None = None,
    off_centre_m: float | None = None,
    heave_m: float = 0.0,
    lost: Mapping[str, tuple[float, float]] | None = None,
    site: Site = SHIP,
    aircraft: Profile = JET,
    flags: tuple[str, ...] = (),
) -> Pass:
    """Make a pass from its histories.

    ``lost`` maps a series to the distances between which it was not recorded.
    ``wave_off_m`` starts a wave-off there; ``groove_m`` rolls out there; ``downwind`` says
    that a left turn came before.
    """
    touches = outcome != "wave-off" and end_m <= -CONTACT_X
    count = int((start_m - end_m) / CLOSURE * rate_hz) + 1
    time = 100.0 + np.arange(count) / rate_hz
    distance = start_m - CLOSURE * (time - 100.0)
    n = time.size

    def at(metres: float) -> float:
        return 100.0 + (start_m - metres) / CLOSURE

    contact_time = at(-CONTACT_X)
    contact = int(np.searchsorted(time, contact_time)) if touches else n
    ball = history(ball_deg, distance) * DEG
    right = history(right_m, distance)
    slow = history(slow_deg, distance) * DEG
    lens = site.lens
    to_lens = lens.position[0] - (-distance + aircraft.eye[0])
    nan = np.full(n, np.nan)
    values = {
        "time": time,
        "range": distance,
        "line_up_offset": right,
        "line_up_error": np.arctan2(right, distance + lens.hook_target),
        "height": to_lens * np.tan(lens.basic_angle + ball),
        "glide_slope_error": np.where(to_lens > 0, ball, np.nan),
        "ball_cells": np.where(to_lens > 0, ball / lens.cell, np.nan),
        "angle_of_attack": aircraft.on_speed + slow,
        "angle_of_attack_error": slow,
        "sink": CLOSURE * np.tan(lens.basic_angle) - np.gradient(ball * to_lens, time),
        "closure": np.full(n, CLOSURE),
        "true_airspeed": np.full(n, CLOSURE + 13.0),
        "pitch": np.full(n, 5.3 * DEG),
        "roll": history(bank_deg, distance) * DEG,
        "heading": np.where(
            (time < at(groove_m)) if downwind and groove_m is not None else False,
            -4.0 * DEG * (time - at(groove_m or 0.0)),
            0.0,
        ),
        "power": nan,
        "specific_energy_rate": nan,
        "drift": np.arctan2(np.gradient(right, time), CLOSURE),
        "marker_right_of_corner": nan,
        "marker_above_corner": nan,
        "ball_in_window": nan,
        "deck_pitch": np.zeros(n),
        "deck_roll": np.zeros(n),
        "deck_heave": heave_m * np.sin(2 * np.pi * time / 9.0),
    }
    for name, (far, near) in (lost or {}).items():
        values[name] = np.where((distance <= far) & (distance >= near), np.nan, values[name])
    points = np.stack([-distance, right, values["height"]], axis=1)
    series = Series(
        **values,
        hook=points,
        right_wheel=points,
        left_wheel=points,
        eye=points + np.array([aircraft.eye[0], 0.0, 0.0]),
        aim=np.full((n, 2), np.nan),
        contact=contact,
        sigma={name: np.full(n, value) for name, value in (sigma or {}).items()},
        correlation=dict(correlation or {}),
        origin={},
    )
    ball_at_ramp = float(history(ball_deg, np.array([0.0]))[0]) * DEG
    clearance = lens.hook_target * math.tan(lens.basic_angle) + ball_at_ramp * (
        lens.position[0] - aircraft.eye[0]
    )
    expected = CLOSURE * math.tan(lens.basic_angle)
    end = time[-1] if not touches else contact_time
    return Pass(
        who="Test pilot",
        aircraft=aircraft,
        site=site,
        start=float(time[0]),
        end=float(time[-1]),
        outcome=outcome,
        flags=flags,
        wire=wire if outcome == "trap" else None,
        wire_odds=dict(wire_odds) if wire_odds is not None else {},
        wire_in_the_air=False,
        groove=None
        if groove_m is None
        else Groove(at(groove_m), float((at(wave_off_m) if wave_off_m else end) - at(groove_m))),
        turn=Turn(1.1 * NM, 183.0, 60.0) if downwind else None,
        positions=(),
        ramp=Ramp(at(0.0), clearance, clearance_sigma_m) if end_m < 0 and wave_off_m is None else None,
        touchdown=Touchdown(
            contact_time,
            "deck",
            CONTACT_X,
            0.5,
            CONTACT_X - 3,
            float(history(right_m, np.array([-CONTACT_X]))[0]) if off_centre_m is None else off_centre_m,
            expected if touchdown_sink_mps is None else touchdown_sink_mps,
            CLOSURE,
            aircraft.on_speed,
            5.3 * DEG,
        )
        if touches
        else None,
        wave_off=None if wave_off_m is None else WaveOff(at(wave_off_m), wave_off_m, None),
        series=series,
    )
