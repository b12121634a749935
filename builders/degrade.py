"""Damage a clean recording in the ways real ones are damaged; each way takes a table and a seed."""

from __future__ import annotations

import numpy as np
from fly_record import Table

POSITION = ("latitude", "longitude", "altitude", "north", "east", "up")
ATTITUDE = ("heading", "pitch", "roll")
FEET = 0.3048


def _time(table: Table) -> str:
    return next(name for name in table.columns if name.startswith("time_"))


def _named(table: Table, quantities, ship=True):
    """Columns of the quantities, the ship's too if asked."""
    found = []
    for name in table.columns:
        plain = name.removeprefix("ship_")
        if plain != name and not ship:
            continue
        if any(plain.startswith(q + "_") or plain == q for q in quantities):
            found.append(name)
    return found


def _scale(name, metres_or_degrees):
    """A size in metres (or degrees) in the unit of the column."""
    if name.endswith("_ft"):
        return metres_or_degrees / FEET
    if name.endswith("_rad"):
        return np.radians(metres_or_degrees)
    return metres_or_degrees


def _second(name):
    """A second in the unit of a time column."""
    return {"s": 1.0, "ms": 1000.0, "min": 1 / 60}[name.rsplit("_", 1)[1]]


def _seconds(table: Table):
    name = _time(table)
    return table.columns[name] / _second(name)


def _rows(table: Table, index) -> Table:
    return Table({k: v[index] for k, v in table.columns.items()}, table.decimals)


def _changed(table: Table, columns, decimals=None) -> Table:
    return Table({**table.columns, **columns}, {**table.decimals, **(decimals or {})})


def gaps(table, rng, *, count=3, longest=1.5, spare=None):
    """Lose rows; no gap longer than 0.3 s within a second of the ``spare`` time."""
    t = _seconds(table)
    keep = np.ones(len(t), bool)
    for _ in range(count):
        start, width = rng.uniform(t[0] + 1, t[-1] - 2), rng.uniform(0.3, longest)
        if spare is not None and start - 1 < spare < start + width + 1:
            width = 0.3
        keep &= ~((t > start) & (t < start + width))
    return _rows(table, np.flatnonzero(keep))


def spikes(table, rng, *, count=8):
    """Single samples far off in one column."""
    names = _named(table, ("latitude", "longitude", "altitude", "north", "east", "up", "pitch"), ship=False)
    columns = {n: table.columns[n].copy() for n in names}
    for _ in range(count):
        name = names[rng.integers(len(names))]
        size = _scale(name, rng.choice([-1, 1]) * rng.uniform(15, 60))
        if "latitude" in name or "longitude" in name:
            size /= 111_000.0
        columns[name][rng.integers(5, len(columns[name]) - 5)] += size
    return _changed(table, columns)


def stamps(table, _rng, *, step=0.1, truncate=False):
    """Time stamps rounded or cut to a step (s)."""
    name = _time(table)
    unit = _second(name) * step
    whole = np.floor if truncate else np.round
    digits = {"s": 2, "ms": 0, "min": 7}[name.rsplit("_", 1)[1]]
    return _changed(table, {name: whole(table.columns[name] / unit + 1e-9) * unit}, {name: digits})


def stamp_noise(table, rng, *, rms=0.004):
    """Stamps a little wrong, in order."""
    name = _time(table)
    wrong = table.columns[name] + rng.normal(0, rms * _second(name), len(table.columns[name]))
    return _changed(table, {name: np.maximum.accumulate(wrong)})


def coarse(table, _rng, *, altitude_ft=None, attitude_deg=None, position_decimals=None, alpha_deg=None):
    """Figures written with few digits."""
    columns = {}
    if altitude_ft:
        for n in _named(table, ("altitude", "up")):
            step = _scale(n, altitude_ft * FEET)
            columns[n] = np.round(table.columns[n] / step) * step
    if attitude_deg:
        for n in _named(table, ATTITUDE):
            step = _scale(n, attitude_deg)
            columns[n] = np.round(table.columns[n] / step) * step
    if alpha_deg:
        for n in _named(table, ("angle_of_attack",)):
            step = _scale(n, alpha_deg)
            columns[n] = np.round(table.columns[n] / step) * step
    if position_decimals:
        for n in _named(table, ("latitude", "longitude")):
            extra = 2 if n.endswith("_rad") else 0
            columns[n] = np.round(table.columns[n], position_decimals + extra)
    return _changed(table, columns)


def single_precision(table, _rng):
    """Positions kept as 32-bit floats."""
    columns = {n: table.columns[n].astype(np.float32).astype(float) for n in _named(table, POSITION)}
    return _changed(table, columns)


def out_of_order(table, rng, *, count=4):
    """Rows that arrive a few rows late, so that time runs back."""
    order = list(range(len(_seconds(table))))
    for _ in range(count):
        i = int(rng.integers(5, len(order) - 12))
        order.insert(i + int(rng.integers(2, 8)), order.pop(i))
    return _rows(table, np.array(order))


def duplicates(table, rng, *, count=12):
    """Rows written twice."""
    n = len(_seconds(table))
    return _rows(table, np.sort(np.concatenate([np.arange(n), rng.integers(0, n, count)])))


def frozen(table, rng, *, count=3, longest=0.7, spare=None):
    """Stretches in which the aircraft's values stand still while time goes on."""
    t = _seconds(table)
    names = [n for n in table.columns if n != _time(table) and not n.startswith("ship_")]
    columns = {n: table.columns[n].copy() for n in names}
    for _ in range(count):
        start, width = rng.uniform(t[0] + 1, t[-1] - 2), rng.uniform(0.3, longest)
        if spare is not None and start - 1 < spare < start + width + 1:
            continue
        where = np.flatnonzero((t > start) & (t < start + width))
        for n in names:
            columns[n][where] = columns[n][where[0] - 1]
    return _changed(table, columns)


def noise(table, rng, *, position_m=0.0, altitude_ft=0.0, attitude_deg=0.0, alpha_deg=0.0):
    """Independent errors on every sample of the aircraft."""
    columns = {}
    for n in _named(table, (*POSITION, *ATTITUDE, "angle_of_attack"), ship=False):
        size = 0.0
        if n.startswith(("altitude", "up")):
            size = _scale(n, altitude_ft * FEET)
        elif n.startswith(("latitude", "longitude")):
            size = _scale(n, position_m / 111_000.0)
        elif n.startswith(("north", "east")):
            size = _scale(n, position_m)
        elif n.startswith("angle_of_attack"):
            size = _scale(n, alpha_deg)
        else:
            size = _scale(n, attitude_deg)
        if size:
            columns[n] = table.columns[n] + rng.normal(0, size, len(table.columns[n]))
    return _changed(table, columns)


def lag(table, _rng, *, altitude_s=0.0, attitude_s=0.0):
    """Values that come late against the stamps."""
    t, columns = _seconds(table), {}
    for quantities, late in ((("altitude", "up", "vertical_speed"), altitude_s), (ATTITUDE, attitude_s)):
        for n in _named(table, quantities, ship=False) if late else ():
            values = table.columns[n]
            turn = n.startswith("heading")
            full = 2 * np.pi if n.endswith("_rad") else 360.0
            smooth = np.unwrap(values, period=full) if turn else values
            columns[n] = np.interp(t - late, t, smooth) % full if turn else np.interp(t - late, t, smooth)
    return _changed(table, columns)


def blank(table, rng, *, share=0.02):
    """Empty cells scattered over the aircraft's columns."""
    columns = {}
    for n in table.columns:
        if n == _time(table) or n.startswith("ship_"):
            continue
        values = table.columns[n].copy()
        values[rng.random(len(values)) < share] = np.nan
        columns[n] = values
    return _changed(table, columns)


WAYS = {
    "gaps": gaps,
    "spikes": spikes,
    "stamps": stamps,
    "stamp_noise": stamp_noise,
    "coarse": coarse,
    "single_precision": single_precision,
    "out_of_order": out_of_order,
    "duplicates": duplicates,
    "frozen": frozen,
    "noise": noise,
    "lag": lag,
    "blank": blank,
}
SPARING = ("gaps", "frozen")


def degrade(table: Table, damage, seed: int, spare=None) -> Table:
    """Apply ((way, {settings}), ...) one after another; ``spare`` is the time of touchdown."""
    rng = np.random.default_rng(seed)
    for way, settings in damage:
        extra = {"spare": spare} if way in SPARING else {}
        table = WAYS[way](table, rng, **settings, **extra)
    return table
