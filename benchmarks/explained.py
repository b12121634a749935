"""How well findings and contributions answer: recall and precision on known faults, pairs against truth.

    python benchmarks/explained.py FOLDER

FOLDER is a set that ``builders/explained.py`` wrote. ``builders/explained_labels.py`` says of every
code, from the simulator's own states, whether a pass shows it: that decides, in every pass. Positives
are the flights that were flown to show a code and do; precision counts what is told in all of them.
"""

from __future__ import annotations

import argparse
import json
import math
import sys
from collections import Counter, defaultdict
from pathlib import Path

import numpy as np
from msgspec.structs import replace

from deckward import aircraft, explanation, passes, scoring
from deckward import site as sites
from deckward.explanation import launch
from deckward.explanation.contributions import split
from deckward.explanation.view import View
from deckward.foundation.track import Track
from deckward.foundation.units import FOOT, KNOT

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "builders"))

from explained_labels import LABELS, ON_DECK, came, clean, labels

#: a finding of this weight or more is one of weight: a usual one
OF_WEIGHT = 1.0
JETS = {"A4": "sandlark", "F4N": "stormcote"}


def toml_of(table: dict) -> str:
    """Write a site's or aircraft's dictionary as TOML."""
    lines, tables = [], []
    for key, value in table.items():
        if isinstance(value, dict):
            tables += [f"[{key}]", *(f"{k} = {json.dumps(v)}" for k, v in value.items())]
        else:
            lines.append(f"{key} = {json.dumps(value)}")
    return "\n".join([*lines, *tables]) + "\n"


def tracks(path: Path) -> tuple[Track, Track]:
    """Read the aircraft's and the ship's samples of a case."""
    stored = np.load(path)
    own = {k: stored[k] for k in stored.files if k != "time" and not k.startswith("ship_")}
    ship = {k.removeprefix("ship_"): stored[k] for k in stored.files if k.startswith("ship_")}
    return Track("jet", stored["time"], own), Track("ship", stored["time"], ship)


def measured(path: Path, about: dict, scratch: Path, *, tables: bool = False):
    """Find the passes of a case; with the aircraft's own tables where asked for."""
    own, ship = tracks(path)
    for name, key in (("site.toml", "site"), ("jet.toml", "aircraft")):
        (scratch / name).write_text(toml_of(about[key]))
    profile = aircraft.load(scratch / "jet.toml")
    if tables:
        profile = replace(profile, tables=aircraft.load(JETS[about["jet"]]).tables)
    if "launch" in about:
        return own, ship, profile, ()
    wind = passes.Wind(math.radians(about["wind_from_deg"]), about["wind_kt"] * KNOT)
    site = sites.load(scratch / "site.toml")
    return own, ship, profile, passes.find(own, ship=ship, site=site, aircraft=profile, wind=wind).passes


def told(path: Path, about: dict, scratch: Path, rules) -> tuple[list[str], bool]:
    """Codes that are told of a case, and whether one of them is of weight."""
    own, ship, profile, flown = measured(path, about, scratch)
    if "launch" in about:
        found = [f for each in explanation.launches(own, ship) for f in launch.findings(each, profile)]
    else:
        found = list(explanation.explain(flown[-1], rules).findings) if flown else []
    return [finding.code for finding in found], any(finding.weight >= OF_WEIGHT for finding in found)


def looked_at(folder: Path, scratch: Path, kept: Path | None):
    """Yield of every single flight its name, what it shows, what is told of it, and whether that has weight.

    What stands in the file ``kept`` is not measured again, what is new is added to it.
    """
    rules = scoring.load("strict")
    before = {} if kept is None or not kept.exists() else dict(map(json.loads, kept.read_text().splitlines()))
    for path in sorted(folder.glob("*.npz")):
        if path.stem.startswith("pair-"):
            continue
        about = json.loads(path.with_suffix(".json").read_text())
        if not came(about):
            continue
        shown = labels(np.load(path), about)
        if path.stem not in before:
            before[path.stem] = told(path, about, scratch, rules)
            if kept is not None:
                with kept.open("a") as file:
                    file.write(json.dumps([path.stem, before[path.stem]]) + "\n")
        codes, weighty = before[path.stem]
        yield path.stem, about, shown, codes, weighty


def faults(folder: Path, scratch: Path, *, kept: Path | None, names: bool) -> None:
    """Print recall and precision of every code, and how many clean passes carry a finding."""
    positives, found, right, wrong, everywhere, missed = (Counter() for _ in range(6))
    cleans, with_one, weighty_ones = 0, 0, 0
    for name, about, shown, codes, weighty in looked_at(folder, scratch, kept):
        code = name.rpartition("-")[0]
        positives[code] += shown.get(code, False)
        found[code] += shown.get(code, False) and code in codes
        if code == "clean" and clean(about, shown):
            cleans, with_one, weighty_ones = cleans + 1, with_one + bool(codes), weighty_ones + weighty
        for each, there in shown.items():
            if about["code"] in ON_DECK and each not in ON_DECK:
                continue  # the approach of a clean flight, counted there
            everywhere[each] += there
            missed[each] += there and each not in codes
            right[each] += there and each in codes
            wrong[each] += not there and each in codes
            if names and there != (each in codes):
                print(f"{name}: {each} {'missed' if there else 'told'}")
    print(f"clean passes {cleans}, with a finding {with_one}, with one of weight {weighty_ones}")
    print(f"{'code':26s} positives recall  everywhere recall  precision (right, wrong)")
    for code in LABELS:
        n, every, good, bad = positives[code], everywhere[code], right[code], wrong[code]
        recall = f"{found[code] / n:.2f}" if n else "  - "
        all_ = f"{1 - missed[code] / every:.2f}" if every else "  - "
        precision = f"{good / (good + bad):.2f}" if good + bad else "  - "
        print(f"{code:26s} {n:9d} {recall:>6s} {every:11d} {all_:>6s}  {precision:>9s} ({good}, {bad})")


def pairs(folder: Path, scratch: Path, *, tables: bool) -> None:
    """Print how well contributions of changed commands agree with what they did."""
    rules = scoring.load("strict")
    good, left = defaultdict(list), []
    for path in sorted(folder.glob("pair-*-base.npz")):
        name = path.stem.removesuffix("-base")
        both, heights = [], []
        for part in ("base", "changed"):
            about = json.loads((folder / f"{name}-{part}.json").read_text())
            change = about["change"]
            flown = measured(folder / f"{name}-{part}.npz", about, scratch, tables=tables)[3]
            both.append(split(View(flown[-1], rules)) if flown else None)
            heights.append(about["ramp"])
        if None in heights:
            continue
        what = change["what"]
        made = heights[1]["hook_to_ramp_m"] - heights[0]["hook_to_ramp_m"]
        until = math.inf if what == "deck" else change["start"] + change["seconds"]
        ok = False
        if None not in both:
            told = both[1].between(what, change["start"], until) - both[0].between(
                what, change["start"], until
            )
            ok = abs(told - made) <= max(0.25 * abs(made), FOOT)
            left += [abs(p.unexplained) <= max(2 * FOOT, 0.15 * abs(p.deviation)) for p in both]
        good[what].append(ok)
    for what, each in good.items():
        print(f"{what:6s} {sum(each)} of {len(each)} pairs")
    every = [ok for each in good.values() for ok in each]
    print(f"all    {sum(every)} of {len(every)}; unexplained rest within bounds {np.mean(left):.3f}")


def main() -> None:
    """Print everything."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--scratch", type=Path, default=Path("/tmp"))
    parser.add_argument("--findings-only", action="store_true", help="leave out the pairs")
    parser.add_argument("--kept", type=Path, help="file of what was told before, added to")
    parser.add_argument("--names", action="store_true", help="name each flight that is told wrongly")
    options = parser.parse_args()
    faults(options.folder, options.scratch, kept=options.kept, names=options.names)
    if options.findings_only:
        return
    for tables in (True, False):
        print("aircraft with tables of its own" if tables else "without")
        pairs(options.folder, options.scratch, tables=tables)


if __name__ == "__main__":
    main()
