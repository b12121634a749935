"""Write passes with one known fault each, clean ones, and pairs: ``python builders/explained.py FOLDER SET``.

SET is ``build`` (to develop on), or ``report``, ``fresh`` or ``held`` (other seeds, other ships); those
that end in ``-model`` are flown by the project's own approach model, all at once, the rest by the
library. A case is two files:
NAME.npz with the aircraft's and the ship's samples (20 Hz, SI and radians), and NAME.json with
site, aircraft, wind, what was done wrong, and the truth at ramp and deck.
"""

from __future__ import annotations

import argparse
import json
import math
from collections import Counter
from dataclasses import dataclass, field, replace
from itertools import chain
from pathlib import Path

import numpy as np
from corpus_clean import MOTIONS, plan_at
from explained_deck import EDITS, launch_case
from explained_faults import (
    APPROACH,
    BROUGHT_ALONG,
    PATTERN,
    SELDOM,
    SKIPS,
    THRUST,
    approach,
    one_side,
    pattern,
)
from explained_labels import came, clean, labels
from fly_deck import DeckPlan
from fly_errors import Change, Fault, fly_faulty, fly_pair
from fly_geometry import NAUTICAL_MILE
from fly_many import fly_many
from fly_plan import Plan
from fly_record import Form, sample_aircraft, sample_ship
from fly_truth import truth
from sites import aircraft_file

PLACES = ((27.0, -88.0), (-39.0, 160.0), (55.0, -8.0), (-12.0, 12.0), (36.0, 178.0), (4.0, 70.0))
#: seed, ships, how many flights of each fault that show it, clean passes, and passes that each fault
#: is to be seen in, in whatever flight
SETS = {
    "build": (1000, ("halcyon", "petrel"), 8, 40, 0),
    "report": (5000, ("kestrel", "tern"), 40, 200, 0),
    "fresh": (9000, ("kestrel", "tern"), 46, 200, 0),
    "held": (21000, ("kestrel", "tern"), 24, 200, 40),
    # flown by the project's own approach model
    "build-model": (1500, ("halcyon", "petrel"), 8, 40, 0),
    "held-model": (21500, ("kestrel", "tern"), 40, 200, 0),
    "fresh-model": (33500, ("kestrel", "tern"), 40, 200, 0),
}
#: flights of other kinds for each fault's flights: waved off, round the pattern, in a gust
OTHERS = ("waved-off", "pattern", "event")
FEW = {*BROUGHT_ALONG, *OTHERS}
KEPT = ("outcome", "flags", "wire", "ramp", "touchdown", "wave_off", "positions", "groove", "turn")


@dataclass
class Case:
    """One flight: what to fly, what is wrong with it, how its recording is changed afterwards."""

    name: str
    code: str
    plan: Plan
    fault: Fault | None = None
    event: tuple | None = None
    edit: str = ""
    seed: int = 0
    more: dict = field(default_factory=dict)


def usual(rng, jet, key, *, start=0.75, **more) -> Plan:
    """A pass of an average pilot in average air."""
    motion = (None, None, "medium", None, "heaving")[rng.integers(5)]
    glide = more.pop("glide", None)
    n = rng.normal(0, 1, 6).clip(-1.6, 1.6)
    settings = {
        "speed": float(rng.integers(12, 24)),
        "wind": (float(rng.integers(-12, 2)), float(rng.integers(4, 13))),
        "motion": None if motion is None else MOTIONS[motion],
        "seed": int(rng.integers(1 << 30)),
        "turbulence": float(rng.uniform(0.0, 1.0)),
        "roughness": float(rng.uniform(0.5, 1.2)),
        "start_range": start * NAUTICAL_MILE,
        "aim": float(rng.uniform(-8, 12)),
        "glide": glide or ((1500, 0.12 * n[0]), (700, 0.1 * n[1]), (0, 0.0)),
        "alpha": ((1500, 0.25 * n[2]), (0, 0.25 * n[3])),
        "lateral": ((1500, 4.0 * n[4]), (300, 1.0 * n[5]), (0, 0.0)),
        "after": 7.0,
    }
    settings.update(more)
    return plan_at(jet, key, PLACES[rng.integers(6)], float(rng.integers(0, 360)), **settings)


CODES = ("clean", *OTHERS, *APPROACH, *PATTERN, "hook-skip")


def case(name, code, i):
    """The i-th single flight of a code in a set."""
    seed, ships, *_ = SETS[name]
    rng = np.random.default_rng([seed, CODES.index(code), i])
    jet, key = ("A4", "F4N")[i % 2], ships[i // 2 % len(ships)]
    fault, event, more = None, None, {}
    if code in APPROACH:
        more, fault = approach(code, rng, jet)
    elif code in PATTERN or code == "pattern":
        # our own model turns tighter
        late = (7.0 if jet == "A4" else 4.0) if name.endswith("-model") else 0.0
        changes, fault = pattern(code, rng, key) if code in PATTERN else ({}, None)
        more = {
            "start": 1.15,
            "turn_delay": rng.uniform(1.0, 3.5) + (2.5 if jet == "F4N" else 0.0) + late,
            "abeam": rng.uniform(1.05, 1.2) * NAUTICAL_MILE,
        }
        more.update(changes)
        more["speed"], more["wind"] = float(rng.integers(12, 20)), (-9.0, float(rng.integers(3, 9)))
    elif code == "hook-skip":
        more = {"deck": DeckPlan(skips=SKIPS[rng.integers(len(SKIPS))])}
    elif code == "waved-off":
        more = {"wave_off": float(rng.uniform(280, 900))}
    elif code == "event":
        u = rng.uniform
        event = (u(10, 18), u(1.5, 4), u(-2, 2), 0.0, u(-1.5, 1.5))
    plan = usual(rng, jet, key, **more)
    if code in PATTERN or code == "pattern":
        plan = _downwind(plan)
    return Case(f"{code}-{i:03d}", code, plan, fault, event, seed=seed + i)


def _downwind(plan):
    return replace(plan, start="downwind")


def pairs(name):
    """Pairs: a plan and one change of it."""
    seed, ships, *_ = SETS[name]
    out = []
    for number, what in enumerate(("power", "nose", "bank", "air", "along", "deck")):
        for i in range(20):
            rng = np.random.default_rng([seed, 100 + number, i])
            jet, key = ("A4", "F4N")[i % 2], ships[i // 2 % len(ships)]
            plan, u = usual(rng, jet, key), rng.uniform
            start, seconds = u(8, 19), u(1.5, 4.5)
            size = {
                "power": one_side(rng) * u(0.04, 0.15) * THRUST[jet],
                "nose": one_side(rng) * u(0.6, 1.8),
                "bank": one_side(rng) * u(8, 18),
                "air": one_side(rng) * u(0.8, 2.5),
                "along": one_side(rng) * u(1.0, 3.0),
                "deck": one_side(rng) * u(0.5, 1.3),
            }[what]
            if what == "deck":
                seconds = u(8, 13)
            change = Change(
                "air" if what == "along" else what,
                start,
                seconds,
                size,
                what == "along",
                bool(rng.integers(2)),
            )
            if what in ("air", "along", "deck"):
                change = Change(change.what, start, seconds, size, change.along)
            out.append((f"pair-{what}-{i:03d}", plan, change))
    return out


def fly_apart(plan, change):
    """A pair whose hooks both come over the ramp in the air: a change that ends in it is halved."""
    for _ in range(4):
        both = fly_pair(plan, change)
        exact = [truth(flight) for flight in both]
        if all(
            e["ramp"] and e["ramp"]["hook_to_ramp_m"] > 0.3 and e["outcome"] != "ramp strike" for e in exact
        ):
            break
        change = replace(change, size=0.5 * change.size)
    return both, change


def save(folder: Path, name: str, flight, code, more=None, edit=None, exact=None):
    """Write one flight; ``exact`` is its truth where that is known already."""
    plan = flight.plan
    t, own = sample_aircraft(flight, Form(rate=20.0))
    ship = sample_ship(flight, t)
    exact = exact or truth(flight)
    aircraft = aircraft_file(plan.jet, plan.points, (0.0, 0.0, 0.0), None)
    meta = {
        "code": code, "jet": plan.jet, "site": plan.site, "aircraft": aircraft,
        "wind_from_deg": plan.wind_from, "wind_kt": plan.wind_kt, "plan": repr(plan),
        **{k: exact[k] for k in KEPT},
        **(more or {}),
    }  # fmt: skip
    arrays = {"time": t, **{k: v for k, v in own.items() if k != "point"}}
    arrays.update({"ship_" + k: v for k, v in ship.items() if k != "point"})
    variants = {name: (arrays, meta)} if edit is None else edit(name, arrays, meta, flight)
    for variant, (values, about) in variants.items():
        np.savez(folder / f"{variant}.npz", **values)
        (folder / f"{variant}.json").write_text(json.dumps(about, default=float))


def write_singles(folder, options):
    """Fly in rounds, one of each code, until every code is shown often enough."""
    _, _, count, cleans, spread = SETS[options.set]
    own, seen, edited = Counter(), Counter(), 0
    for i in range(min(4 * cleans, options.first)):
        for code in CODES:
            wanted = cleans if code == "clean" else count
            enough = own[code] >= wanted and (code in OTHERS or code == "clean" or seen[code] >= spread)
            tried = 2 * cleans if code == "clean" else 1.2 * max(2 * count, spread)
            if enough or i >= tried or (options.only and code not in options.only):
                continue
            one = case(options.set, code, i)
            edit = EDITS if code == "clean" and not options.bare and edited < max(count, spread) else None
            about = write(folder, one, edit)
            if about is None:
                continue
            shown = labels(np.load(folder / f"{one.name}.npz"), about)
            edited += edit is not None and about["outcome"] == "trap"
            own[code] += clean(about, shown) if code == "clean" else shown.get(code, True)
            seen.update(name for name, there in shown.items() if there)


def write_together(folder, options):
    """Fly all that is still wanted of every code at once, by our own model, a few times over."""
    seed, _, count, cleans, _ = SETS[options.set]
    own, tried, edited = Counter(), Counter(), 0
    for again in range(4):
        lacks = {
            code: (cleans if code == "clean" else count // 4 if code in FEW else count) - own[code]
            for code in CODES
            if (not options.only or code in options.only) and not (again and code in OTHERS)
        }
        wanted = []
        for code, lack in lacks.items():
            # some do not reach the rule's bound
            more = math.ceil((1.45 if code in SELDOM or code == "clean" else 1.1) * lack) if lack > 0 else 0
            wanted += [case(options.set, code, i) for i in range(tried[code], tried[code] + more)]
            tried[code] += more
        # some of every code first
        wanted.sort(key=lambda one: int(one.name[-3:]))
        there = [one for one in wanted if (folder / f"{one.name}.json").exists()]
        new = fly_together([one for one in wanted if one not in there], seed + again)
        for one, flight in chain(((one, None) for one in there), new):
            if flight is not None:
                exact = truth(flight)
                if exact["outcome"] is None or not came(exact):
                    continue
                about = {"fault": repr(one.fault), "event": one.event}
                save(folder, one.name, flight, one.code, about, exact=exact)
                if one.code == "clean" and exact["outcome"] == "trap" and edited < count:
                    save(folder, one.name, flight, one.code, about, edit=EDITS, exact=exact)
            about = json.loads((folder / f"{one.name}.json").read_text())
            edited += (folder / f"taxied-{one.name[-3:]}.json").exists() and one.code == "clean"
            shown = labels(np.load(folder / f"{one.name}.npz"), about)
            own[one.code] += clean(about, shown) if one.code == "clean" else shown.get(one.code, True)


def fly_together(wanted, seed):
    """Cases and their flights by our own model: each jet's from each kind of start in one go."""
    for start in ("final", "downwind"):
        for jet in ("A4", "F4N"):
            part = [one for one in wanted if (one.plan.jet, one.plan.start) == (jet, start)]
            if part:
                flights = fly_many(
                    jet, [c.plan for c in part], [c.fault for c in part], [c.event for c in part], seed
                )
                yield from zip(part, flights, strict=True)


def write(folder, one, edit):
    """Fly and write one case that is not there yet; what is known of it, None where it is no pass."""
    path = folder / f"{one.name}.json"
    if path.exists():
        return json.loads(path.read_text())
    # one who touches nothing is waved off before it comes to that
    for plan in (one.plan, replace(one.plan, wave_off=450.0), None):
        if plan is None:
            return None
        try:
            flight = fly_faulty(plan, one.fault, one.event)
            exact = truth(flight)
            if exact["outcome"] is not None and came(exact):
                break
        except Exception as fault:  # one flight that fails does not end the corpus
            print(f"{one.name}: {type(fault).__name__} {fault}", flush=True)
            return None
    about = {"fault": repr(one.fault), "event": one.event}
    save(folder, one.name, flight, one.code, about)
    if edit:
        save(folder, one.name, flight, one.code, about, edit=edit)
    return json.loads(path.read_text())


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("set", choices=SETS)
    parser.add_argument("--only", nargs="*", default=[])
    parser.add_argument("--first", type=int, default=1000, help="so many flights of each code")
    parser.add_argument("--bare", action="store_true", help="no edits of the clean passes")
    parser.add_argument("--without-pairs", action="store_true", help="single flights only")
    options = parser.parse_args()
    folder = options.folder / options.set
    folder.mkdir(parents=True, exist_ok=True)
    (write_together if options.set.endswith("-model") else write_singles)(folder, options)
    if not options.only or "launch" in options.only:
        for i in range(max(2 * SETS[options.set][2], SETS[options.set][4])):
            for name, (values, about) in launch_case(i, SETS[options.set][:2]).items():
                np.savez(folder / f"{name}.npz", **values)
                (folder / f"{name}.json").write_text(json.dumps(about, default=float))
    for name, plan, change in () if options.without_pairs else pairs(options.set):
        what = name.rpartition("-")[0].replace("pair-", "pairs-")
        if options.only and not {"pairs", what} & set(options.only):
            continue
        if int(name[-3:]) >= options.first:
            continue
        if (folder / f"{name}-changed.npz").exists():
            continue
        (before, after), change = fly_apart(plan, change)
        about = {"change": vars(change)}
        save(folder, f"{name}-base", before, "pair", about)
        save(folder, f"{name}-changed", after, "pair", about)
    (options.folder / f"READY-{options.set}").write_text("all\n")


if __name__ == "__main__":
    main()
