"""Invented passes with whole, self-consistent histories: something to draw.

A pass is told as functions of the distance aft of the ramp (ball in cells, line-up in
metres, angle-of-attack error in radians); the geometry of an invented ship and jet turns
them into the smoothed state, on a still deck, by flat trigonometry that shares nothing
with the product.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from msgspec.structs import replace

from deckward.aircraft.model import Profile
from deckward.errors import Note
from deckward.passes.model import (
    Groove,
    Pass,
    Position,
    Ramp,
    Series,
    Touchdown,
    Turn,
    WaveOff,
)
from deckward.reports.model import PassReport, SessionReport
from deckward.scoring.model import Deviation, Grade, Scorecard
from deckward.site.model import Lens, Site, Wires

DEG = math.pi / 180.0
FT = 0.3048
NM = 1852.0

SHIP = Site(
    name="Long deck",
    kind="ship",
    angle=9 * DEG,
    ramp=(-152.4, 1.8, 0.0),
    length=231.6,
    width=27.4,
    lens=Lens(
        position=(128.0, -18.9, 1.0),
        basic_angle=3.5 * DEG,
        cells=12,
        cell=0.1417 * DEG,
        red_cells=2,
        hook_target=70.1,
        stabilisation="line",
        image_distance=45.7,
        window_height=1.36,
    ),
    wires=Wires(positions=(51.8, 64.0, 76.2, 88.4), height=0.11),
)

JET = Profile(
    name="Kestrel",
    eye=(5.08, 0.0, -1.23),
    hook=(-4.33, 0.0, 1.89),
    main_wheels=(-0.3, 1.19, 1.80),
    nose_wheel=(3.35, 0.0, 1.80),
    on_speed=8.0 * DEG,
    band=(7.3 * DEG, 8.7 * DEG),
    slight_band=(6.8 * DEG, 9.2 * DEG),
    on_speed_pitch=5.3 * DEG,
)

_UNKNOWN_DOWNWIND = (
    "power",
    "angle_of_attack",
    "angle_of_attack_error",
    "specific_energy_rate",
    "right_wheel",
    "left_wheel",
    "aim",
    "marker_right_of_corner",
    "marker_above_corner",
    "ball_in_window",
    "drift",
    "line_up_error",
    "sink",
    "closure",
    "true_airspeed",
    "pitch",
)

Shape = Callable[[np.ndarray], np.ndarray]


def bumps(*terms: tuple[float, float, float]) -> Shape:
    """Return a sum of smooth bumps (height, centre m aft of the ramp, width m)."""

    def shape(r):
        r = np.asarray(r, dtype=float)
        return sum((a * np.exp(-(((r - c) / w) ** 2)) for a, c, w in terms), np.zeros_like(r))

    return shape


def point(body, pitch, roll):
    """Return forward, right, up of a body point for a nose-up pitch and right-wing-down roll."""
    x, y, z = body
    right = y * np.cos(roll) - z * np.sin(roll)
    down = y * np.sin(roll) + z * np.cos(roll)
    return np.stack(
        [x * np.cos(pitch) + down * np.sin(pitch), right, x * np.sin(pitch) - down * np.cos(pitch)], axis=-1
    )


def path_constant(site: Site, jet: Profile) -> float:
    eye, hook = (point(p, jet.on_speed_pitch, 0.0) for p in (jet.eye, jet.hook))
    dx, _, dz = eye - hook
    slope = math.tan(site.lens.basic_angle)
    return slope * (site.lens.hook_target - (site.lens.position[0] - dx)) + dz - site.lens.position[2]


def fly(
    *,
    ball: Shape,
    line_up: Shape,
    slow: Shape,
    outcome: str = "trap",
    wave_off_range: float | None = None,
    start_range: float = 2100.0,
    rate: float = 20.0,
    who: str = "Ines Karvala",
    site: Site = SHIP,
    jet: Profile = JET,
    power: bool = True,
    alpha: bool = True,
    sigma_cells: float = 0.03,
    notes: tuple[Note, ...] = (),
    start: float = 754.0,
    turn: bool = False,
    flags: tuple[str, ...] = (),
    wire: int | None = None,
) -> Pass:
    """Fly the shapes down a still deck's glide path at about 111 kt of closure."""
    lens, c, closure0 = site.lens, path_constant(site, jet), 57.0
    dt = 1.0 / rate
    run_on = 2.5 if outcome == "trap" else 9.0
    seconds = start_range / closure0 + run_on + 1.5
    t = np.arange(0.0, seconds, dt)
    r = start_range - closure0 * t
    error = slow(r)
    pitch = jet.on_speed_pitch + error + 0.25 * DEG * np.sin(t / 1.7)
    offset = line_up(r)
    drift = np.arctan(np.gradient(offset, dt) / closure0)
    roll = np.clip(np.gradient(np.gradient(offset, dt), dt) / 9.8, -0.3, 0.3)
    eye_off, hook_off = point(jet.eye, pitch, roll), point(jet.hook, pitch, roll)
    right_off = point(jet.main_wheels, pitch, roll)
    left_off = point((jet.main_wheels[0], -jet.main_wheels[1], jet.main_wheels[2]), pitch, roll)
    eye_x = -r + eye_off[:, 0]
    cells = ball(r)
    height = (
        lens.position[2]
        + c
        + np.tan(lens.basic_angle + cells * lens.cell) * (lens.position[0] - eye_x)
        - eye_off[:, 2]
    )
    if wave_off_range is not None:
        i = int(np.argmax(r < wave_off_range))
        after = t[i:] - t[i]
        rate0 = (height[i] - height[i - 1]) / dt
        climb = np.where(after < 4.0, rate0 * after + after**2, rate0 * after + 8.0 * after - 16.0)
        height[i:] = height[i] + climb
        pitch[i:] += np.minimum(after * 0.9 * DEG, 3 * DEG)
    x, y = -r, offset.copy()
    hook_z = height + hook_off[:, 2]
    touched = (hook_z <= 0.0) & (x + hook_off[:, 0] > 0.0)
    touched &= wave_off_range is None
    contact = int(np.argmax(touched)) if touched.any() else t.size
    sink = -np.gradient(height, dt)
    closure = np.full_like(t, closure0) + 0.6 * np.sin(t / 3.1)
    if contact < t.size:
        after = t[contact:] - t[contact]
        if outcome == "trap":
            stop = closure0**2 / (2 * 95.0)
            after_capped = np.minimum(after, closure0 / stop)
            x[contact:] = x[contact] + closure0 * after_capped - 0.5 * stop * after_capped**2
            closure[contact:] = closure0 - stop * after_capped
            height[contact:] = height[contact] - 0.2
        else:
            height[contact:] = height[contact] - 0.2 + np.where(after > 1.2, 1.3 * (after - 1.2) ** 2, 0.0)
    place = np.stack([x, y, height], axis=-1)
    eye, hook = place + eye_off, place + hook_off
    hook[contact:, 2] = np.maximum(hook[contact:, 2], 0.0)
    seen = lens.position[0] - eye[:, 0]
    with np.errstate(invalid="ignore", divide="ignore"):
        gse = np.where(
            seen > 3.0,
            np.arctan2(eye[:, 2] - lens.position[2] - c, seen) - lens.basic_angle,
            np.nan,
        )
    corner = np.array([site.length, site.width / 2, 0.0]) - eye
    nan = np.full_like(t, np.nan)
    throttle = np.clip(0.47 + 0.05 * np.sin(t / 2.3) - 0.02 * np.gradient(cells, dt), 0.1, 1.0)
    if wave_off_range is not None:
        throttle[r < wave_off_range] = 1.0
    throttle[contact:] = 1.0
    aoa = jet.on_speed + error
    s = Series(
        time=start + t,
        range=-x,
        line_up_offset=y,
        line_up_error=np.where(x < 0, np.arctan2(y, lens.hook_target - x), np.nan),
        height=height,
        glide_slope_error=gse,
        ball_cells=gse / lens.cell,
        angle_of_attack=aoa if alpha else nan,
        angle_of_attack_error=error if alpha else nan,
        sink=sink,
        closure=closure,
        true_airspeed=closure + 12.0,
        pitch=pitch,
        roll=roll,
        heading=np.full_like(t, 143 * DEG),
        power=throttle if power else nan,
        specific_energy_rate=nan,
        hook=hook,
        right_wheel=place + right_off,
        left_wheel=place + left_off,
        eye=eye,
        drift=drift,
        aim=np.full((t.size, 2), np.nan),
        marker_right_of_corner=drift - np.arctan2(corner[:, 1], corner[:, 0]),
        marker_above_corner=-np.arctan2(sink, closure) - np.arctan2(corner[:, 2], corner[:, 0]),
        ball_in_window=lens.image_distance * seen * gse / (seen + lens.image_distance),
        deck_pitch=np.zeros_like(t),
        deck_roll=np.zeros_like(t),
        deck_heave=np.zeros_like(t),
        contact=contact,
        sigma={
            "glide_slope_error": np.full_like(t, sigma_cells * lens.cell),
            "ball_cells": np.full_like(t, sigma_cells),
            "line_up_offset": np.full_like(t, sigma_cells * 3),
            "height": np.full_like(t, sigma_cells),
            "angle_of_attack": np.full_like(t, 0.1 * DEG),
            "sink": np.full_like(t, 0.08),
        },
        origin={
            "angle_of_attack": "measured" if alpha else "inferred",
            "power": "measured",
        },
    )
    positions = tuple(
        _position(s, name, reach, wave_off_range, alpha)
        for name, reach in (("3/4 nm", 0.75 * NM), ("1/2 nm", 0.5 * NM), ("1/4 nm", 0.25 * NM), ("ramp", 0.0))
        if reach < start_range
    )
    ramp, touchdown = None, None
    k = int(np.argmax(hook[:, 0] >= 0.0))
    if hook[k, 0] >= 0.0:
        ramp = Ramp(time=float(s.time[k]), hook_to_ramp=float(hook[k, 2]), hook_to_ramp_sigma=sigma_cells)
    if contact < t.size:
        touchdown = Touchdown(
            time=float(s.time[contact]),
            kind="deck",
            hook_x=float(hook[contact, 0]),
            hook_x_sigma=5 * sigma_cells,
            wheels_x=float(hook[contact, 0] + 4.0),
            off_centre=float(y[contact]),
            sink=float(sink[contact - 1]),
            closure=float(closure[contact - 1]),
            angle_of_attack=float(aoa[contact]) if alpha else None,
            pitch=float(pitch[contact]),
        )
    wave_off = None
    if wave_off_range is not None:
        low = float(np.min(hook[hook[:, 0] > 0, 2])) if (hook[:, 0] > 0).any() else None
        i = int(np.argmax(r < wave_off_range))
        wave_off = WaveOff(start=float(s.time[i]), start_range=wave_off_range, lowest_hook_above_deck=low)
    if outcome == "trap" and wire is None and touchdown is not None and site.wires is not None:
        ahead = [n for n, p in enumerate(site.wires.positions, 1) if p >= touchdown.hook_x]
        wire = ahead[0] if ahead else len(site.wires.positions)
    flown = Pass(
        who=who,
        aircraft=jet,
        site=site,
        start=float(s.time[0]),
        end=float(s.time[-1]),
        outcome=outcome,
        flags=flags,
        wire=wire if outcome == "trap" else None,
        wire_odds={str(wire): 1.0} if outcome == "trap" else {},
        wire_in_the_air=False,
        groove=Groove(start=float(s.time[int(np.argmax(r < 1050.0))]), seconds=18.4),
        turn=None,
        positions=positions,
        ramp=ramp,
        touchdown=touchdown,
        wave_off=wave_off,
        series=s,
        notes=notes,
        path_constant=c,
        on_speed_pitch=jet.on_speed_pitch,
    )
    return _with_turn(flown, rate) if turn else flown


def _position(s: Series, name: str, reach: float, wave_off_range, alpha: bool) -> Position:
    i = int(np.argmax(s.range <= reach))
    return Position(
        name=name,
        range=reach,
        time=float(s.time[i]),
        glide_slope_error=float(s.glide_slope_error[i]),
        ball_cells=float(s.ball_cells[i]),
        line_up_error=float(np.arctan2(s.line_up_offset[i], 70.1 + s.range[i])),
        line_up_offset=float(s.line_up_offset[i]),
        angle_of_attack=float(s.angle_of_attack[i]) if alpha else None,
        angle_of_attack_error=float(s.angle_of_attack_error[i]) if alpha else None,
        sink=float(s.sink[i]),
        closure=float(s.closure[i]),
        after_wave_off=wave_off_range is not None and reach < wave_off_range,
        sigma={key: float(values[i]) for key, values in s.sigma.items()},
    )


def _with_turn(flown: Pass, rate: float) -> Pass:
    """Put a downwind leg and a left turn in front of a straight-in pass."""
    s, dt = flown.series, 1.0 / rate
    r0, y0, h0 = s.range[0], s.line_up_offset[0], s.height[0]
    speed, radius = 62.0, 1000.0
    around = np.arange(np.pi, 0.0, -speed / radius * dt)
    x_turn = -r0 - radius * np.sin(around)
    y_turn = y0 - radius + radius * np.cos(around)
    x_down = np.arange(900.0, -r0, -speed * dt)
    x = np.concatenate([x_down, x_turn])
    y = np.concatenate([np.full_like(x_down, y0 - 2 * radius), y_turn])
    n = x.size
    height = h0 + 60.0 * np.clip(np.linspace(1.6, 0.0, n), 0.0, 1.0) ** 1.2
    roll = np.concatenate([np.zeros(x_down.size), np.full(x_turn.size, -27 * DEG)])
    heading = 143 * DEG + np.concatenate([np.full(x_down.size, np.pi), around])
    place = np.stack([x, y, height], axis=-1)

    def before(values, fill=np.nan):
        head = np.full((n, *np.shape(values)[1:]), fill)
        return np.concatenate([head, values])

    lens = flown.site.lens
    gse = np.where(
        x < 0,
        np.arctan2(height - lens.position[2] - flown.path_constant, lens.position[0] - x) - lens.basic_angle,
        np.nan,
    )
    fields = {name: before(getattr(s, name)) for name in _UNKNOWN_DOWNWIND}
    zeros = {name: before(getattr(s, name), 0.0) for name in ("deck_pitch", "deck_roll", "deck_heave")}
    series = replace(
        s,
        time=np.concatenate([s.time[0] - dt * np.arange(n, 0, -1), s.time]),
        range=np.concatenate([-x, s.range]),
        line_up_offset=np.concatenate([y, s.line_up_offset]),
        height=np.concatenate([height, s.height]),
        glide_slope_error=np.concatenate([gse, s.glide_slope_error]),
        ball_cells=np.concatenate([gse / lens.cell, s.ball_cells]),
        roll=np.concatenate([roll, s.roll]),
        heading=np.concatenate([heading, s.heading]),
        eye=np.concatenate([place, s.eye]),
        hook=np.concatenate([place, s.hook]),
        contact=s.contact + n,
        sigma={key: before(values, float(values[0])) for key, values in s.sigma.items()},
        **fields,
        **zeros,
    )
    return replace(
        flown,
        series=series,
        start=float(series.time[0]),
        turn=Turn(
            abeam_distance=1950.0,
            abeam_altitude=600 * FT,
            start=float(series.time[x_down.size]),
        ),
    )


def card(
    name: str = "OK",
    symbol: str = "OK",
    points: float | None = 4.0,
    *,
    odds: dict[str, float] | None = None,
    shorthand: str = "(LO.IM)",
    summary: str = "A little low in the middle; on and on to touchdown.",
    look_at: str = "In the middle: the ball sagged 0.9 of a cell before the power came.",
    deviations: tuple[Deviation, ...] = (),
    reasons: tuple[str, ...] = (),
) -> Scorecard:
    return Scorecard(
        grade=Grade(name=name, symbol=symbol, points=points, odds=odds or {name: 1.0}),
        deviations=deviations,
        shorthand=shorthand,
        summary=summary,
        look_at=look_at,
        rulebook="Strict",
        reasons=reasons,
    )


def deviation(position: str, words: str, symbol: str, intensity: int) -> Deviation:
    return Deviation(
        position=position,
        quantity="glide_slope",
        symbol=symbol,
        words=words,
        intensity=intensity,
        value=-0.2 * DEG,
        limit=-0.1 * DEG,
        time=770.0,
        weight=1.0,
    )


def good() -> PassReport:
    flown = fly(
        ball=bumps((-0.8, 900, 260), (0.4, 350, 160)),
        line_up=bumps((5.0, 1700, 500), (-1.6, 600, 250)),
        slow=bumps((0.3 * DEG, 1000, 300)),
    )
    return PassReport(
        1, flown, card(deviations=(deviation("in the middle", "a little low in the middle", "LO", 1),))
    )


def low_red() -> PassReport:
    flown = fly(
        ball=bumps((-2.6, 900, 300), (-5.6, 150, 240)),
        line_up=bumps((-14.0, 1500, 600), (6.0, 300, 260)),
        slow=bumps((1.1 * DEG, 700, 300)),
        who="Tomek Brandt-Ojala",
        start=1311.0,
    )
    score = card(
        "Cut",
        "C",
        0.0,
        odds={"Cut": 0.62, "No grade": 0.38},
        shorthand="LO.SLO.IM _LO_.IC LO.AR (DR.IC)",
        summary="Low and slow in the middle, a lot low in close with a red ball, "
        "low at the ramp, drifting right.",
        look_at="In close: the red ball was held for 3.4 s with power at 47 %.",
        deviations=(
            deviation("in close", "a lot low in close", "LO", 3),
            deviation("in the middle", "low in the middle", "LO", 2),
            deviation("in the middle", "slow in the middle", "SLO", 2),
            deviation("at the ramp", "low at the ramp", "LO", 2),
            deviation("in close", "drifting right a little in close", "DR", 1),
        ),
        reasons=("A red ball continued in close is a cut.",),
    )
    return PassReport(2, flown, score)


def bolter() -> PassReport:
    flown = fly(
        ball=bumps((0.8, 800, 300), (15.0, -80, 130)),
        line_up=bumps((2.0, 900, 400)),
        slow=bumps((-0.9 * DEG, 500, 400)),
        outcome="bolter",
        who="Ines Karvala",
        start=2010.0,
    )
    return PassReport(
        3,
        flown,
        card(
            "Bolter",
            "B",
            2.5,
            shorthand="(H.IM) (F.IC) H.AR B",
            summary="A little high in the middle, a little fast in close, high at the ramp: bolter.",
            look_at="At the ramp: 2.9 cells high, and going up.",
        ),
    )


def wave_off() -> PassReport:
    flown = fly(
        ball=bumps((1.2, 1300, 400), (-3.8, 480, 260)),
        line_up=bumps((18.0, 1200, 500)),
        slow=bumps((0.4 * DEG, 600, 300)),
        outcome="wave-off",
        wave_off_range=330.0,
        who="Sunniva Aldecourt",
        start=2604.0,
    )
    return PassReport(
        4,
        flown,
        card(
            "Wave-off",
            "WO",
            None,
            shorthand="(H.X) LUR.IM LO.IC WO",
            summary="Lined up right in the middle, low in close, waved off.",
            look_at="In close: settled 3.8 cells in 4 s.",
        ),
    )


def poor() -> PassReport:
    """Return a pass from a gappy 5 Hz recording with neither angle of attack nor power."""
    flown = fly(
        ball=bumps((1.6, 1000, 350), (-1.0, 300, 200)),
        line_up=bumps((-6.0, 800, 300)),
        slow=bumps((0.2 * DEG, 800, 300)),
        rate=5.0,
        alpha=False,
        power=False,
        sigma_cells=0.32,
        who="Sunniva Aldecourt",
        start=3301.0,
        notes=(
            Note("rate", "The recording has 5.0 samples a second; sigmas are wider than usual."),
            Note("angle-of-attack-missing", "No angle of attack in the file and no wind known: not told."),
            Note("gap", "A gap of 1.4 s in close was bridged by the smoother."),
        ),
    )
    score = card(
        "Fair",
        "(OK)",
        3.0,
        odds={"Fair": 0.58, "OK": 0.40, "No grade": 0.02},
        shorthand="H.IM (LO.IC)",
        summary="High in the middle, a little low in close.",
        look_at="In the middle: 1.6 cells high for 9 s.",
    )
    return PassReport(5, replace(flown, wire_odds={"2": 0.71, "3": 0.29}), score)


def from_downwind() -> PassReport:
    flown = fly(
        ball=bumps((-0.9, 900, 300)),
        line_up=bumps((-9.0, 1250, 260), (3.0, 500, 250)),
        slow=bumps((0.5 * DEG, 700, 350)),
        start_range=1450.0,
        turn=True,
        who="Tomek Brandt-Ojala",
        start=4002.0,
    )
    return PassReport(6, flown, card(shorthand="(LUL.X) (LO.IM)"))


def session(*reports: PassReport, notes: tuple[Note, ...] = ()) -> SessionReport:
    """Number the passes in order and put them in one session (all six by default)."""
    reports = reports or (good(), low_red(), bolter(), wave_off(), poor(), from_downwind())
    return SessionReport(
        title="Thursday evening at the boat",
        recording="thursday.csv",
        samples=84210,
        rate_hz=20.0,
        notes=notes or (Note("unknown-columns", "3 columns were left out: g1, g2, label."),),
        passes=tuple(replace(item, number=n) for n, item in enumerate(reports, 1)),
    )
