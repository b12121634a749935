"""Fly the bundled session: three invented pilots, a dozen passes, one ship in wind and swell.

``python builders/demo.py [FOLDER]`` writes recordings, ``session.toml``, ``truth.json`` and a README.
The ship and the jets are the bundled ones, read from their files as data.
"""

from __future__ import annotations

import argparse
import json
import tomllib
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np
from corpus import line
from corpus_clean import MEDIUM
from degrade import degrade
from fly_deck import DeckPlan
from fly_jet import TYPES
from fly_plan import Plan
from fly_record import COMMON, Form, Table, tables, write_table
from fly_ship import ShipPlan
from fly_sortie import Sortie
from fly_truth import truth

PACKAGE = Path(__file__).resolve().parents[1] / "src" / "deckward"
SITE, JETS = "wintermere", {"A4": "sandlark", "F4N": "stormcote"}
WIND_FROM, WIND_KT = 243.0, 14.0
SHIP = ShipPlan(
    latitude=46.512, longitude=-28.407, heading=250.0, speed_kt=16.0, height=0.0, trim_pitch=0.1, **MEDIUM
)
IDA, TOMAS, NOOR = "Ida Renholt", "Tomas Verrick", "Noor Calloway"
DECIMALS = {
    "time": 2, "latitude": 8, "longitude": 8, "altitude": 2, "heading": 2, "pitch": 2, "roll": 2,
    "true_airspeed": 1, "indicated_airspeed": 1, "angle_of_attack": 2, "throttle": 2, "gear": 0, "hook": 0,
}  # fmt: skip
UNITS = (("altitude", "ft"),)


@dataclass(frozen=True)
class Act:
    """One pilot's turn in one recording: the passes in order, and what each is to hit."""

    who: str
    jet: str
    passes: tuple  # ((start, settings of the plan, hit), ...)
    begins: float = 0.0  # s of the session's clock


@dataclass(frozen=True)
class Recording:
    """A file of the session."""

    file: str
    acts: tuple
    form: Form = field(default_factory=Form)
    damage: tuple = ()


def _pattern(told, hit=None, first=False, **more):
    start = "downwind" if first else "upwind"
    return start, {"told": (told,), "turn_delay": 15.0, "after": 9.0, "abeam": 2000.0, **more}, hit


def _straight(told, hit=None, **more):
    return "final", {"told": (told,), "after": 12.0, **more}, hit


HOOK_UP = {"hook_down": False}
RECORDINGS = (
    Recording(
        "evening.csv.gz",
        (
            Act(IDA, "A4", (
                _pattern("waved off in the middle, deck foul", first=True, wave_off=560.0, seed=11),
                _pattern("a good pass", ("hook", 69.6), seed=12),
            )),
            Act(TOMAS, "A4", (
                _pattern("high all the way, bolter", ("hook", 103.0), first=True, seed=21,
                         glide=((1500, 0.5), (400, 0.4), (0, 0.2))),
                _pattern("low in close", seed=22, aim=30.0,
                         glide=((900, 0.0), (450, -0.3), (150, -0.5), (0, -0.5))),
            ), begins=52.0),
        ),
        Form(rate=10),
    ),
    Recording(
        "touch-and-go.csv.gz",
        (
            Act(NOOR, "F4N", (
                _pattern("fast, hook up", ("wheels", 74.0), first=True, seed=31, **HOOK_UP,
                         alpha=((1600, -1.3), (0, -1.3))),
                _pattern("slow, hook up", ("wheels", 70.0), seed=32, **HOOK_UP,
                         alpha=((1600, 1.2), (0, 1.4))),
                _pattern("drifts left at the ramp", ("hook", 57.5), seed=33,
                         lateral=((1200, 8), (500, 6), (120, 0), (0, -5.5))),
            )),
        ),
        Form(rate=10, ship="file", ship_rate=5.0, ship_phase=0.04, ship_file="touch-and-go.ship.csv.gz"),
    ),
    Recording(
        "gappy.csv.gz",
        (Act(IDA, "A4", (_straight("a little low at the start, fixes it", ("hook", 57.8), seed=41,
                                   glide=((2000, -0.35), (900, -0.3), (500, 0.0), (0, 0.0))),)),),
        Form(rate=5, ship="file", ship_rate=2.0, ship_file="gappy.ship.csv.gz"),
        (("gaps", {"count": 4, "longest": 1.8}),),
    ),
    Recording(
        "no-alpha.csv.gz",
        (Act(TOMAS, "A4", (_straight("takes power off at the ramp", ("hook", 58.0), seed=51,
                                     cut=(300.0, -0.25)),)),),
        Form(rate=20, channels=tuple(c for c in COMMON if c != "angle_of_attack")),
    ),
    Recording(
        "overshoot.csv.gz",
        (Act(NOOR, "F4N", (_pattern("overshoots the start, S-turns back", ("hook", 82.0), first=True, seed=61,
                                    abeam=1850.0, turn_delay=9.0, turn_bank=24.0),)),),
        Form(rate=10),
    ),
    Recording(
        "late-wave-off.csv.gz",
        (Act(TOMAS, "A4", (_straight("settles in close, late wave-off", seed=71, wave_off=150.0,
                                     glide=((900, 0.1), (450, -0.6), (150, -1.1), (0, -1.1))),)),),
        Form(rate=20),
    ),
    Recording(
        "hook-skip.csv.gz",
        (Act(IDA, "A4", (_straight("good pass, hook skips the wires", ("hook", 69.5), seed=81,
                                   deck=DeckPlan(skips=(3, 4))),)),),
        Form(rate=20),
    ),
)  # fmt: skip


def bundled(kind, name):
    """A bundled site or aircraft as its file has it."""
    return tomllib.loads((PACKAGE / kind / "bundled" / f"{name}.toml").read_text())


def plan_of(act: Act, site) -> Plan:
    kind, aircraft = TYPES[act.jet], bundled("aircraft", JETS[act.jet])
    points = {name: tuple(value) for name, value in aircraft["points_m"].items()}
    return Plan(
        jet=act.jet,
        site=site,
        ship=SHIP,
        points=points,
        on_speed=kind.on_speed,
        wind_from=WIND_FROM,
        wind_kt=WIND_KT,
    )


def fly_act(act: Act, site):
    """The whole flight of an act and the exact figures of its passes."""
    plan = plan_of(act, site)
    start, settings, _ = act.passes[0]
    sortie = Sortie(
        replace(plan, **settings, start=start), 120.0 + 240.0 * len(act.passes), start=act.begins - 10.0
    )
    for start, settings, hit in act.passes:
        sortie.fly(replace(plan, **settings, start=start), hit)
    whole = sortie.flight()
    given = bundled("aircraft", JETS[act.jet])["approach"].get("on_speed_pitch_deg")
    exact = []
    for one in sortie.passes(whole):
        exact.append({"who": act.who, **truth(one, (0.0, 0.0, 0.0), site, given)})
    return whole, exact


def rounded(table: Table) -> Table:
    digits = {}
    for name in table.columns:
        plain = name.removeprefix("ship_")
        quantity = plain if plain in DECIMALS else plain.rsplit("_", 1)[0]
        digits[name] = DECIMALS.get(quantity, 3)
    return Table(table.columns, digits)


def joined(parts):
    """Rows of several craft in one table, by time, and who each row is of."""
    names = list(parts[0][1].columns)
    when = np.concatenate([t.columns[names[0]] for _, t in parts])
    who = np.concatenate([[name] * len(t.columns[names[0]]) for name, t in parts])
    order = np.argsort(when, kind="stable")
    columns = {n: np.concatenate([t.columns[n] for _, t in parts])[order] for n in names}
    return Table(columns, parts[0][1].decimals), who[order].tolist()


def write_recording(recording: Recording, folder: Path, site):
    """Fly and write one file; its options and truth."""
    form = replace(recording.form, file=recording.file, units=UNITS)
    parts, exact, ship_table = [], [], None
    for act in recording.acts:
        whole, passes = fly_act(act, site)
        main, ship_table, _ = tables(whole, replace(form, phase=act.begins))
        spare = next((p["touchdown"]["time_s"] for p in passes if p["touchdown"]), None)
        parts.append((act.who, degrade(main, recording.damage, 5, spare)))
        exact += passes
    table, who = joined(parts)
    write_table(folder / form.file, rounded(table), form, who=who)
    options = {"file": form.file}
    if ship_table is not None:
        write_table(folder / form.ship_file, rounded(ship_table), form)
        options["ship"] = form.ship_file
    options["site"] = SITE
    options["aircraft"] = JETS[recording.acts[0].jet]
    options["wind_from_deg"], options["wind_speed_kt"] = WIND_FROM, WIND_KT
    argv = [form.file, *(["--ship", options["ship"]] if "ship" in options else [])]
    argv += ["--site", SITE, "--aircraft", options["aircraft"]]
    argv += ["--wind-from-deg", f"{WIND_FROM:g}", "--wind-speed-kt", f"{WIND_KT:g}", "--json"]
    form_told = {
        "rate_hz": form.rate,
        "alpha_recorded": "angle_of_attack" in form.channels,
        "wind_told": True,
    }
    return options, {"file": form.file, "argv": argv, "form": form_told, "passes": exact}


README = """# The bundled session

An evening of practice at the ship, all of it invented: the ship Wintermere, the jets Sandlark and
Stormcote, and three pilots. Wintermere steams on 250 at 16 knots in a medium swell; the wind is 14 knots
from 243. The flights were flown by the carrier-jet models of an open flight dynamics library under a
simple closed loop of our own (`builders/demo.py`); the deck, its wires and the roll-out are ours too.
`truth.json` holds the exact figures of every pass, from the simulator's own states at 120 Hz.

| file | who, in what | what was flown | how it was recorded |
| --- | --- | --- | --- |
"""
AFTER = """
For simulation and training study only. Real operations follow their own manuals, the ship's bulletins
and licensed people.
"""


def readme(truths):
    rows = []
    for recording, told in zip(RECORDINGS, truths, strict=True):
        form = recording.form
        how = [f"{form.rate:g} Hz"]
        how.append("ship in a file of her own" if form.ship == "file" else "ship in the same rows")
        if recording.damage:
            how.append("with gaps")
        if "angle_of_attack" not in form.channels:
            how.append("without angle of attack")
        for act in recording.acts:
            mine = [p for p in told["passes"] if p["who"] == act.who]
            what = "; ".join(f"{p['told_to_fly'][0]} ({_end(p)})" for p in mine)
            rows.append(
                f"| `{recording.file}` | {act.who}, {JETS[act.jet].title()} | {what} | {', '.join(how)} |"
            )
    return README + "\n".join(rows) + "\n" + AFTER


def _end(one):
    wire = f", wire {one['wire']}" if one["wire"] else ""
    return one["outcome"] + wire


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("folder", type=Path, nargs="?", default=PACKAGE / "demo")
    folder = parser.parse_args().folder
    folder.mkdir(parents=True, exist_ok=True)
    site, entries, truths = bundled("site", SITE), [], []
    for recording in RECORDINGS:
        options, told = write_recording(recording, folder, site)
        entries.append(options)
        truths.append(told)
        for one in told["passes"]:
            print(line({"case": f"{one['who']}: {one['told_to_fly'][0]}"[:34], **one}), flush=True)
    text = 'title = "An evening at Wintermere"\n'
    for options in entries:
        text += "\n[[recording]]\n" + "".join(f"{k} = {json.dumps(v)}\n" for k, v in options.items())
    (folder / "session.toml").write_text(text)
    (folder / "truth.json").write_text(json.dumps({"recordings": truths}, indent=1) + "\n")
    (folder / "README.md").write_text(readme(truths))
    size = sum(p.stat().st_size for p in folder.iterdir())
    print(f"{len(truths)} recordings, {sum(len(t['passes']) for t in truths)} passes, {size / 1e6:.2f} MB")


if __name__ == "__main__":
    main()
