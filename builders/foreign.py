"""Write flown passes as strangers' recordings and judge what ``deckward columns`` makes of them.

``python builders/foreign.py LIST.toml OUT FLIGHTS...`` writes each file of a list (``foreign_first.toml``
to ``foreign_tenth.toml``: other headers, units, signs, clocks, planes and habits,
written without a look at the words of the recogniser) from the flights that ``builders/corpus.py`` keeps in
``FLIGHTS/flown``, has it read, and prints for each whether it was read right, what was asked, and what was
wrong in silence. The flights are those of ``clean`` (``downwind-``) and ``flight-00`` to ``flight-39`` of
``noise``.
"""

from __future__ import annotations

import argparse
import contextlib
import gzip
import io
import json
import math
import pickle
import tomllib
from collections import Counter
from pathlib import Path

import numpy as np
from fly_record import Form, plane_origin, sample_aircraft, sample_ship, to_plane, toml
from sites import aircraft_file

RAD = math.pi / 180.0
KNOT = 1852.0 / 3600.0
UNITS = {
    "m": 1.0, "ft": 0.3048, "nm": 1852.0, "km": 1000.0, "mps": 1.0, "kt": KNOT, "fps": 0.3048,
    "kmh": 1 / 3.6, "mph": 0.44704, "fpm": 0.3048 / 60, "deg": RAD, "rad": 1.0, "mrad": 1e-3, "s": 1.0,
    "ms": 1e-3, "us": 1e-6, "min": 60.0, "h": 3600.0, "kg": 1.0, "lb": 0.45359237, "kgps": 1.0,
    "pph": 0.45359237 / 3600, "kgph": 1 / 3600, "g": 9.80665, "mps2": 1.0, "pct": 0.01, "1": 1.0,
    "hpa": 100.0, "pa": 1.0, "inhg": 3386.389, "c": 1.0, "k": 1.0,
}  # fmt: skip
QUANTITIES = {
    "time": "time", "lat": "latitude", "lon": "longitude", "alt": "altitude", "n": "north", "e": "east",
    "u": "up", "hdg": "heading", "pit": "pitch", "rol": "roll", "tas": "true_airspeed",
    "ias": "indicated_airspeed", "aoa": "angle_of_attack", "vs": "vertical_speed", "vn": "velocity_north",
    "ve": "velocity_east", "nz": "normal_acceleration", "radalt": "radar_altitude", "thr": "throttle",
    "rpm": "engine_rpm", "ff": "fuel_flow", "mass": "mass", "gear": "gear", "flaps": "flaps", "hook": "hook",
    "wow": "weight_on_wheels", "stp": "stick_pitch", "str": "stick_roll", "wdir": "wind_from",
    "wspd": "wind_speed", "temp": "temperature", "fuel": "fuel", "who": "who",
}  # fmt: skip
VARIATION = 7.5 * RAD  # to the east
OPTIONAL = {"radar_altitude", "stick_pitch", "stick_roll", "wind_from", "wind_speed", "normal_acceleration",
            "velocity_north", "velocity_east", "temperature", "fuel", "who"}  # fmt: skip


def values_of(flight, rate, span, file):
    """Times and SI arrays of everything that can be written."""
    form = Form(rate=rate, phase=span[0], until=span[1])
    t, own = sample_aircraft(flight, form)
    ship = sample_ship(flight, t)
    origin = plane_origin(
        flight, Form(plane="origin", plane_origin=tuple(file.get("origin", (-800.0, 350.0))))
    )
    own.update(to_plane(own, origin))
    ship.update(to_plane(ship, origin))
    out = {short: own[name] for short, name in QUANTITIES.items() if name in own}
    out.update({"S" + short: ship[name] for short, name in QUANTITIES.items() if name in ship})
    plan, zero = flight.plan, np.zeros(len(t))
    rng = np.random.default_rng(len(t))
    gs = np.hypot(out["vn"], out["ve"])
    out.update(
        time=t, Stime=t, zero=zero, who=zero, seq=np.arange(len(t)) * 1.0, gs=gs,
        trk=np.arctan2(out["ve"], out["vn"]),
        mhdg=np.mod(out["hdg"] - VARIATION, 2 * math.pi), mach=out["tas"] / 338.0, nz=out["nz"],
        Smhdg=np.mod(out["Shdg"] - VARIATION, 2 * math.pi), radalt=out["alt"], palt=0.985 * out["alt"] + 41.0,
        gauge=(out["aoa"] / RAD + 4.0) / 0.8, wdir=zero + plan.wind_from * RAD,
        wspd=zero + plan.wind_kt * KNOT, Sspd=zero + plan.ship.speed_kt * KNOT,
        noise=rng.normal(0, 1, len(t)), seven=zero + 7.0,
        temp=zero + 288.15 - 0.0065 * out["alt"], range=np.hypot(out["n"] - out["Sn"], out["e"] - out["Se"]),
        math=np.mod(math.pi / 2 - out["hdg"], 2 * math.pi), beta=rng.normal(0, 0.003, len(t)), Su=out["Su"],
        climb=np.arctan2(out["vs"], gs), brg=np.mod(np.arctan2(out["Se"] - out["e"], out["Sn"] - out["n"]),
                                                    2 * math.pi),
        qrate=np.gradient(out["pit"], t), fuel=out["mass"] * 0.1 - 0.4 * t,
    )  # fmt: skip
    half = [out[k] / 2 for k in ("rol", "pit", "hdg")]
    (cr, cp, cy), (sr, sp, sy) = np.cos(half), np.sin(half)
    out.update(q0=cr * cp * cy + sr * sp * sy, q1=sr * cp * cy - cr * sp * sy, q2=cr * sp * cy + sr * cp * sy,
               q3=cr * cp * sy - sr * sp * cy)  # fmt: skip
    return t, out, origin


def sexagesimal(values, style, east):
    """Radians as ``dms``, ``ddmm`` (one number), ``ddmmH`` or ``dmH`` text."""
    letters = "EW" if east else "NS"
    width = 3 if east else 2
    out = []
    for v in np.degrees(values):
        a, letter = abs(v), letters[int(v < 0)]
        d, m = divmod(round(a * 60.0, 6), 60.0)  # rounded first: no sixtieth minute
        d = int(d)
        if style == "dms":
            total = round(a * 3600.0, 4)
            out.append(f"{int(total // 3600)}°{int(total % 3600 // 60):02d}'{total % 60:07.4f}\"{letter}")
        elif style == "dmsfirst":
            total = round(a * 3600.0, 4)
            out.append(
                f"{letter}{int(total // 3600):0{width}d} {int(total % 3600 // 60):02d} {total % 60:07.4f}"
            )
        elif style == "dmH":
            out.append(f"{d}° {m:.6f}' {letter}")
        elif style == "ddmmH":
            out.append(f"{d:0{width}d}{m:09.6f}{letter}")
        else:
            out.append(f"{d:0{width}d}{m:09.6f}")
    return out


def clock(t, style, start):
    """Seconds as text; ``start`` is an ISO time."""
    at = np.datetime64(start) + np.round(t * 1e6).astype("timedelta64[us]")
    texts = [str(v) for v in at]
    day = [x.split("T") for x in texts]
    if style == "isoz":
        return [x[:-3] + "Z" for x in texts]
    if style == "iso+":
        return [x[:-3] + "+02:00" for x in texts]
    if style == "isospace":
        return [x[:-3].replace("T", " ") for x in texts]
    if style == "isobasic":
        return [x[:-3].replace("-", "").replace(":", "") + "Z" for x in texts]
    if style == "clock":
        return [x[1][:-3] for x in day]
    if style == "clockz":
        return [x[1][:-3] + "Z" for x in day]
    if style == "clockcomma":
        return [x[1][:-3].replace(".", ",") for x in day]
    if style == "ampm":
        return [f"{(int(x[1][:2]) - 1) % 12 + 1}{x[1][2:-3]} {'AP'[int(x[1][:2]) > 11]}M" for x in day]
    if style == "hms":
        return [f"{x[1][:2]}h{x[1][3:5]}m{x[1][6:-3]}s" for x in day]
    if style == "hhmmss":
        return [x[1][:-3].replace(":", "") for x in day]
    if style == "dotted":
        return [f"{x[0][8:]}.{x[0][5:7]}.{x[0][:4]} {x[1][:-3]}" for x in day]
    if style == "slashed":
        return [f"{x[0][5:7]}/{x[0][8:]}/{x[0][:4]} {x[1][:-3]}" for x in day]
    if style == "date":
        return [x[0] for x in day]
    if style == "mmss":
        return [f"{int(v // 60)}:{v % 60:06.3f}" for v in t]
    if style == "hmmss":
        return [f"{int(v // 3600)}:{int(v % 3600 // 60):02d}:{v % 60:06.3f}" for v in t]
    raise ValueError(style)


WORDS = {"onoff": ("off", "on"), "updown": ("UP", "DOWN"), "inout": ("eingefahren", "ausgefahren"),
         "yesno": ("no", "yes"), "tf": ("False", "True"), "stow": ("STOWED", "EXT")}  # fmt: skip


class Column:
    """One column of a stranger's file: header, cells and what it truly is."""

    def __init__(self, text):
        header, what = (part.strip() for part in text.split("|"))
        self.header, _, self.unit_line = header.partition("@")
        words = what.split()
        self.short, self.unit, digits, *flags = words
        self.digits = int(digits) if digits.lstrip("-").isdigit() else digits
        self.flags = {f.partition("=")[0]: f.partition("=")[2] for f in flags}
        self.sign = -1 if "neg" in self.flags else 1
        base = self.short.removeprefix("S") if self.short[0] == "S" else self.short
        name = QUANTITIES.get(base)
        self.quantity = (
            None
            if name is None or "x" in self.flags
            else ("ship_" if self.short[0] == "S" and base != "time" else "") + name
        )
        self.ask, self.doubt = "!" in self.flags, "~" in self.flags
        self.free = "free" in self.flags  # part of another column: a hemisphere, a date

    def cells(self, values, file):
        v = values[self.short]
        start = file.get("start", "2031-05-14T09:17:03")
        if self.unit in WORDS:
            return [WORDS[self.unit][int(x > 0.5)] for x in v]
        if self.unit == "hemi":
            return [("EW" if self.short.endswith("lon") else "NS")[int(x < 0)] for x in v]
        if self.unit == "text":
            return [self.digits] * len(v)
        if self.unit == "written":
            if self.short in ("time", "Stime"):
                return clock(v, self.digits, start)
            return sexagesimal(v, self.digits, self.short.endswith("lon"))
        if self.unit == "epoch":
            scale = {"s": 1.0, "ms": 1e3, "us": 1e6}[self.digits]
            zero = (np.datetime64(start) - np.datetime64("1970-01-01T00:00:00")) / np.timedelta64(1, "s")
            form = "{:.3f}" if self.digits == "s" else "{:.0f}"
            return [form.format((zero + x) * scale) for x in v]
        if self.unit == "ticks":
            return [f"{x * float(self.flags['per']) + 40000:.0f}" for x in v]
        v = self.sign * v
        if "half" in self.flags:  # -180..180
            v = np.mod(v + math.pi, 2 * math.pi) - math.pi
        v = v / UNITS[self.unit] + float(self.flags.get("plus", 0.0))
        if "minpos" in self.flags:
            v = 2 * v - 1
        return [f"{x:.{self.digits}f}" for x in v]

    def scale(self):
        """SI in one unit of the column, with its sign; None for written values."""
        if self.unit in WORDS or self.unit in ("written", "epoch", "ticks", "hemi", "text"):
            return None
        return self.sign * UNITS[self.unit]


def write_file(path, file, columns, values):
    """Write one file in its habits."""
    table = []
    for c in columns:
        cells = c.cells(values, file)
        if "suffix" in c.flags:
            cells = [f"{x} {c.flags['suffix']}" for x in cells]
        if "glue" in c.flags:
            cells = [f"{x}{c.flags['glue']}" for x in cells]
        if "gap" in c.flags:  # a word instead of a value, now and then
            cells = [c.flags["gap"].replace("_", "") if i % 37 == 5 else x for i, x in enumerate(cells)]
        if file.get("decimal") and c.unit not in ("written", "text", *WORDS):
            cells = [x.replace(".", file["decimal"]) for x in cells]
        table.append(cells)
    rows = list(zip(*table, strict=True))
    if file.get("repeat"):
        rows = [r for i, r in enumerate(rows) for _ in range(2 if i % file["repeat"] == 0 else 1)]
    style, names = file.get("style", "table"), [c.header for c in columns]
    if style == "table":
        text = _table(file, columns, names, rows)
    else:
        made = [_nested(names, [_number(x) for x in row]) for row in rows]
        if style == "jsonl":
            text = "\n".join(json.dumps(m, ensure_ascii=False) for m in made) + "\n"
        elif style == "json":
            text = json.dumps({"meta": {"made by": "a hand"}, "samples": made}, ensure_ascii=False)
        else:  # a list for each column
            text = json.dumps(
                {n: [_number(r[i]) for r in rows] for i, n in enumerate(names)}, ensure_ascii=False
            )
    blob = text.replace("\n", "\r\n" if file.get("eol") == "crlf" else "\n").encode(
        file.get("encoding", "utf-8")
    )
    path.write_bytes(gzip.compress(blob, mtime=0) if path.suffix == ".gz" else blob)


def _table(file, columns, names, rows):
    delimiter = file.get("delimiter", ",")
    quote = (lambda x: f'"{x}"') if file.get("quoted") else (lambda x: x)
    pad = file.get("pad", 0)
    lines = [] if file.get("headless") else [delimiter.join(quote(n).ljust(pad) for n in names)]
    if any(c.unit_line for c in columns):
        lines.append(delimiter.join(quote(c.unit_line).ljust(pad) for c in columns))
    lines += [delimiter.join(quote(x).rjust(pad) for x in row) for row in rows]
    return file.get("before", "") + "\n".join(lines) + "\n" + file.get("after", "")


def _number(text):
    try:
        return float(text) if "." in text else int(text)
    except ValueError:
        return {"True": True, "False": False}.get(text, text)


def _nested(names, row):
    out: dict = {}
    for name, value in zip(names, row, strict=True):
        *path, last = name.split(".")
        at = out
        for part in path:
            at = at.setdefault(part, {})
        at[last] = value
    return _lists(out)


def _lists(made):
    """Dictionaries whose keys are 0, 1, ... as lists."""
    if not isinstance(made, dict):
        return made
    parts = {key: _lists(value) for key, value in made.items()}
    return list(parts.values()) if all(key.isdigit() for key in parts) else parts


def claims(entry):
    """(quantity, SI in one unit with sign) that a draft says of a column."""
    quantity, sign = entry["quantity"], entry["sign"] or 1
    scale = UNITS.get(entry["unit"] or "1")
    if quantity.endswith("velocity_down"):
        quantity, sign = quantity.replace("velocity_down", "vertical_speed"), -sign
    return quantity, None if scale is None else sign * scale


def judge(columns, draft, ship_alone):
    """Verdicts (header, what) of each column and the needed quantities that are missing."""
    entries = draft["columns"]
    by_name = {e["source"]: e for e in entries}
    doubted = {name for q in draft["questions"] for name in q["columns"]}
    verdicts, given, times = [], set(), Counter(c.header for c in columns)
    for i, c in enumerate(columns):
        at = entries[i] if i < len(entries) else None
        e = at if times[c.header] > 1 else by_name.get(c.header) or at
        if e is None:
            verdicts.append((c.header, "missing from the draft"))
            continue
        asked = e["asked"] or c.header in doubted or e["source"] in doubted
        quantity, scale = claims(e)
        if ship_alone:
            quantity = quantity.removeprefix("ship_")
        truth = c.quantity.removeprefix("ship_") if c.quantity and ship_alone else c.quantity
        if quantity != "ignore":
            given.add(quantity)
        if asked:
            verdicts.append((c.header, "asked"))
        elif quantity == "ignore":
            verdicts.append((c.header, "right" if truth is None or c.free else "left out"))
        elif c.free:
            verdicts.append((c.header, "right"))
        elif quantity != truth:
            verdicts.append((c.header, f"WRONG: taken as {quantity}, is {truth or c.short}"))
        elif c.scale() is not None and (scale is None or abs(scale / c.scale() - 1) > 0.005):
            if not (quantity == "time" and scale is None):
                verdicts.append((c.header, f"WRONG: {e['unit']} x {e['sign']}, is {c.unit} x {c.sign}"))
            else:
                verdicts.append((c.header, "right"))
        else:
            verdicts.append((c.header, "right"))
    wanted = {c.quantity.removeprefix("ship_") if ship_alone else c.quantity for c in columns
              if c.quantity and not c.ask} - OPTIONAL  # fmt: skip
    return verdicts, sorted(wanted - given)


def call(main, argv):
    """Exit code, standard output and standard error of a command."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = main(argv)
        except SystemExit as stop:
            code = stop.code
    return code, out.getvalue(), err.getvalue()


def figures(text):
    """What a debrief says that must not change with the way a file is written."""
    out = []
    for p in json.loads(text)["passes"]:
        at = {q["name"]: q for q in p["positions"]}
        td, ramp = p["touchdown"] or {}, p["ramp"] or {}
        row = [p["outcome"], p["wire"], td.get("hook_x_m"), td.get("sink_mps"), ramp.get("hook_to_ramp_m")]
        for name in ("3/4 nm", "1/2 nm", "1/4 nm"):
            q = at.get(name) or {}
            row += [q.get("glide_slope_error_deg"), q.get("line_up_offset_m"), q.get("angle_of_attack_deg")]
        out.append(row)
    return out


#: of hook x, sink at touchdown and hook over the ramp; of each position. A sink hangs on how coarsely
#: a file is written, by up to half a metre a second
ALLOWED = (1.5, 0.5, 0.3) + (0.06, 1.0, 0.6) * 3


def same(one, other):
    """Whether two debriefs agree but for rounding; a text of the first thing that differs, or ''."""
    if len(one) != len(other):
        return f"{len(one)} passes instead of {len(other)}"
    for a, b in zip(one, other, strict=True):
        if a[:2] != b[:2]:
            return f"{a[:2]} instead of {b[:2]}"
        for x, y, limit in zip(a[2:], b[2:], ALLOWED, strict=True):
            if (x is None) != (y is None) or (x is not None and abs(x - y) > limit):
                return f"{x} instead of {y}"
    return ""


class Examiner:
    """Writes, reads and judges the files of a list."""

    def __init__(self, flights, out):
        from deckward.cli import main

        self.main, self.flights, self.out, self.plain = main, flights, out, {}
        out.mkdir(parents=True, exist_ok=True)

    def flight(self, name):
        for folder in self.flights:
            found = sorted(folder.glob(f"flown/{name}-*.pickle"))
            if found:
                return pickle.loads(found[0].read_bytes())
        raise SystemExit(f"no flight {name}")

    def examine(self, name, file):
        flight = self.flight(file["flight"])
        span = file.get("span", [0.0, float(flight.time[-1])])
        suffix = {"table": "csv"}.get(file.get("style", "table"), "json")
        path = self.out / (name + "." + file.get("suffix", suffix))
        file = {**file, "turns": flight.plan.start != "final" and "span" not in file}
        _, values, origin = values_of(flight, file.get("rate", 20), span, file)
        columns = [Column(x) for x in file["columns"].strip().splitlines()]
        write_file(path, file, columns, values)
        ship_path = None
        if "ship_columns" in file:
            ship_path = self.out / (name + "-ship.csv")
            ship_file = {**file, **file.get("ship_habits", {}), "flight": None}
            _, ship_values, _ = values_of(flight, file.get("ship_rate", 10), [span[0] - 0.4, span[1]], file)
            ship_columns = [Column(x) for x in file["ship_columns"].strip().splitlines()]
            write_file(ship_path, ship_file, ship_columns, ship_values)
        result = self.read(path, columns, file, ship_alone=False)
        if ship_path:
            also = self.read(ship_path, ship_columns, file, ship_alone=True)
            result = merged(result, also)
        if file.get("debrief", True) and result["verdict"] in ("right", "asks what is doubtful", "left out"):
            self.debrief(path, ship_path, name, file, flight, values, columns, origin, result)
        return result

    def read(self, path, columns, file, ship_alone):
        code, out, err = call(self.main, ["columns", str(path), "--json"])
        if code != 0:
            return {
                "verdict": "refused" if code in (2, 3) else "crash",
                "why": err.strip()[:400],
                "asked": [],
            }
        draft = json.loads(out)
        verdicts, lost = judge(columns, draft, ship_alone)
        asked = [q["columns"] for q in draft["questions"]]
        wrong = [f"{h}: {v}" for h, v in verdicts if v.startswith(("WRONG", "missing"))]
        doubt = {c.header for c in columns if c.doubt or c.ask}
        hard = {c.header for c in columns if c.ask} | ({"*"} if file.get("asks") == "any" else set())
        # on one course only nothing tells true from magnetic, where no word does
        doubt |= {
            c.header for c in columns if c.quantity in ("heading", "ship_heading") and not file["turns"]
        }
        needless = [q for q in draft["questions"] if not (set(q["columns"]) & doubt) and "*" not in hard]
        unasked = hard and not draft["questions"]
        unasked = unasked or any((h, "right") in verdicts for h in hard)
        return self._said(wrong, unasked, hard, needless, asked, lost, verdicts, draft)

    def _said(self, wrong, unasked, hard, needless, asked, lost, verdicts, draft):
        if wrong:
            verdict = "WRONG"
        elif unasked:
            verdict = "NOT ASKED"
        elif needless and not hard:
            verdict = "asks needlessly"
        elif lost and not hard:
            verdict = "left out"
        elif hard:
            verdict = "asks as it must"
        else:
            verdict = "asks what is doubtful" if asked else "right"
        why = [*wrong, *[f"lost {x}" for x in lost], *[f"? {q['question'][:150]}" for q in needless]]
        return {"verdict": verdict, "why": "; ".join(why), "asked": asked}

    def debrief(self, path, ship_path, name, file, flight, values, columns, origin, result):
        plan = flight.plan
        site, jet = self.out / f"{name}.site.toml", self.out / f"{name}.aircraft.toml"
        site.write_text(toml(plan.site))
        jet.write_text(toml(aircraft_file(plan.jet, plan.points, (0.0, 0.0, 0.0), None)))
        more = ["--site", str(site), "--aircraft", str(jet), "--wind-from-deg", f"{plan.wind_from:g}",
                "--wind-speed-kt", f"{plan.wind_kt:g}", "--json"]  # fmt: skip
        if any(c.short in ("n", "e", "u") and c.quantity for c in columns) and file.get("tell_origin"):
            more += ["--origin", f"{origin[0]},{origin[1]}"]
        ship = ["--ship", str(ship_path)] if ship_path else []
        if (
            ship_path is None
            and not any(c.short in ("Slat", "Sn") for c in columns)
            and plan.site["kind"] == "ship"
        ):
            s = plan.ship
            at = ",".join(f"{math.degrees(values[k][0]):.8f}" for k in ("Slat", "Slon")) + ",0"
            ship = [
                "--ship-course-deg",
                f"{s.heading:g}",
                "--ship-speed-kt",
                f"{s.speed_kt:g}",
                "--ship-at",
                at,
            ]
        if result["asked"]:
            if ship_path is not None or not self.answered(path, columns):
                return
            more = ["--map", str(path.with_suffix(".map.toml")), *more]
        code, out, err = call(self.main, ["debrief", str(path), *ship, *more])
        if code != 0:
            result.update(verdict="debrief refuses", why=err.strip()[:400])
            return
        more = more[2:] if more[0] == "--map" else more
        differs = same(figures(out), self.reference(name, file, values, columns, ship_path, ship, more))
        if differs:
            result.update(verdict="FIGURES", why=differs)

    def answered(self, path, columns):
        """Keep the draft as answered where it proposes what is true; whether it does."""
        kept = path.with_suffix(".map.toml")
        kept.unlink(missing_ok=True)
        call(self.main, ["columns", str(path), "--out", str(kept)])
        draft = tomllib.loads(kept.read_text())
        by_name = {e["source"]: e for e in draft["column"]}
        times = Counter(c.header for c in columns)
        for c, at in zip(columns, draft["column"], strict=False):
            e = at if times[c.header] > 1 else by_name.get(c.header, {})
            if e.get("asked"):
                quantity, scale = claims({"unit": None, "sign": 1, **e})
                if quantity != c.quantity or (c.scale() and abs(scale / c.scale() - 1) > 0.005):
                    return False
        kept.write_text(kept.read_text().replace("asked = true", "asked = false"))
        return True

    def reference(self, name, file, values, columns, ship_path, ship, more):
        """The debrief of the same samples under the contract's names."""
        kept = {}
        for c in columns:
            q = c.quantity
            if q in (None, "time") or c.free or q in kept or c.unit in ("hemi", "text"):
                continue
            kept[q] = (c, values[c.short])
        si = {"latitude": "deg", "longitude": "deg", "heading": "deg", "pitch": "deg", "roll": "deg",
              "angle_of_attack": "deg", "wind_from": "deg"}  # fmt: skip
        path = self.out / f"{name}.plain.csv"
        names, cells = [], []
        for q, (c, v) in kept.items():
            bare = q.removeprefix("ship_")
            unit = si.get(bare, _si_suffix(bare))
            scale = RAD if unit == "deg" else 1.0
            names.append(q + (f"_{unit}" if unit else ""))
            words = c.unit in WORDS
            if (
                c.scale() is not None
            ):  # with the digits of the file: what rounding costs is no fault of reading
                v = np.round(v / abs(c.scale()), c.digits) * abs(c.scale())
            cells.append([f"{x:.9g}" for x in (np.round(v) if words else v / scale)])
        clock = next(c for c in columns if c.short == "time")
        dated = clock.unit in ("epoch", "written")
        shared = ship_path is not None and dated  # the ship's file tells the same time of day
        times = clock.cells(values, file) if shared else [f"{x:.4f}" for x in values["time"]]
        scale = {"ms": 1e-3, "us": 1e-6}.get(clock.digits, 1.0)
        if shared and clock.unit == "epoch":
            times = [f"{float(x) * scale:.4f}" for x in times]
        named = "time" if shared and clock.unit == "written" else "time_s"
        names, cells = [named, *names], [times, *cells]
        path.write_text("\n".join([",".join(names), *map(",".join, zip(*cells, strict=True))]) + "\n")
        code, out, err = call(self.main, ["debrief", str(path), *ship, *more])
        if code != 0:
            return [["reference refused", err[:200]]]
        return figures(out)


def _si_suffix(quantity):
    if quantity in ("throttle", "engine_rpm", "gear", "flaps", "hook", "weight_on_wheels", "stick_pitch",
                    "stick_roll"):  # fmt: skip
        return "" if quantity != "engine_rpm" else "pct"
    if "speed" in quantity or quantity.startswith("velocity"):
        return "mps"
    others = {"time": "s", "normal_acceleration": "mps2", "fuel_flow": "kgps", "mass": "kg", "fuel": "kg",
              "temperature": "k"}  # fmt: skip
    return others.get(quantity, "m")


RANK = ("crash", "WRONG", "NOT ASKED", "FIGURES", "refused", "left out", "asks needlessly", "asks as it must",
        "asks what is doubtful", "right")  # fmt: skip


def merged(one, other):
    """The worse of two files' verdicts."""
    worse = min((one, other), key=lambda r: RANK.index(r["verdict"]))
    return {**worse, "asked": [*one["asked"], *other["asked"]], "why": "; ".join(
        x for x in (one["why"], other["why"] and f"ship: {other['why']}") if x)}  # fmt: skip


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("list", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("flights", type=Path, nargs="+")
    parser.add_argument("--only", nargs="*", default=[])
    options = parser.parse_args()
    examiner, results = Examiner(options.flights, options.out), {}
    files = tomllib.loads(options.list.read_text())
    for name, file in files.items():
        if options.only and not any(w in name for w in options.only):
            continue
        r = results[name] = examiner.examine(name, file)
        r["must_ask"] = file.get("asks") is not None or "!" in file["columns"].replace("\n", " ").split()
        print(f"{name:28s} {r['verdict']:22s} {'?' * len(r['asked'])} {r['why']}", flush=True)
    (options.out / "results.json").write_text(json.dumps(results, indent=1, ensure_ascii=False))
    for must in (False, True):
        print("must ask" if must else "decidable",
              dict(Counter(r["verdict"] for r in results.values() if r["must_ask"] == must)))  # fmt: skip


if __name__ == "__main__":
    main()
