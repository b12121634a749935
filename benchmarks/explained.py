"""How well findings and contributions answer: recall and precision on known faults, pairs against truth.

    python benchmarks/explained.py FOLDER

FOLDER is a set that ``builders/explained.py`` wrote. Where ``builders/explained_labels.py`` can say
from the simulator's own states whether a pass shows a fault, that decides, in every pass: a flight
told to have the fault that does not reach the rulebook's bound is no positive. For the other codes a
finding of the fault's own code is right; in a pass with a fault of the approach, other findings of
the approach that begin after the fault follow from it more often than not: they are listed, and
counted neither way. Everything else is wrong, and so is every finding in a clean pass.
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
from deckward.explanation import deck, hands, launch, nose, pattern
from deckward.explanation.contributions import split
from deckward.explanation.view import View
from deckward.foundation.track import Track
from deckward.foundation.units import FOOT, KNOT

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "builders"))

from explained_labels import LABELS, labels

JETS = {"A4": "sandlark", "F4N": "stormcote"}
APPROACH = {detector.code for detector in (*nose.DETECTORS, *hands.DETECTORS)}
PATTERN = {detector.code for detector in pattern.DETECTORS}
DECK = {detector.code for detector in deck.DETECTORS}
#: what a flight whose glide path is flown out of a turn says nothing of
TURNS = {"pattern", *PATTERN}
#: a fault that can be another one's too
ALSO = {
    "pattern-altitude": {"short-groove", "long-groove"},
    "barometric-error": {"pattern-altitude", "short-groove", "long-groove"},
    "abeam-distance": {"short-groove", "long-groove", "overshot-start"},
    "straight-astern": {"short-groove", "long-groove"},
    "overshot-start": {"short-groove", "long-groove"},
    "undershot-start": {"short-groove", "long-groove"},
}
#: where a pass that was told to be clean was flown so: deg of glide slope
FLOWN_CLEAN = {"3/4 nm": 0.6, "1/2 nm": 0.5, "1/4 nm": 0.4, "ramp": 0.5}


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


def clean(about: dict) -> bool:
    """Whether a pass that was told to be clean was flown so."""
    return about["outcome"] == "trap" and all(
        abs(at["glide_slope_error_deg"]) < FLOWN_CLEAN[at["name"]] and abs(at["line_up_offset_m"]) < 9.0
        for at in about["positions"]
    )


def began(about: dict, path: Path) -> float:
    """When the fault of a flight began, s."""
    words = about.get("fault") or "None"
    if " at=" not in words:
        return -math.inf
    distance = float(words.split(" at=")[1].split(",")[0])
    stored = np.load(path)
    north = (stored["latitude"] - stored["ship_latitude"]) * 6.37e6
    east = (stored["longitude"] - stored["ship_longitude"]) * 6.37e6 * np.cos(stored["latitude"])
    near = np.hypot(north, east) < distance + 160.0
    return float(stored["time"][np.argmax(near)]) - 2.0


def faults(folder: Path, scratch: Path) -> None:
    """Print recall and precision of every code, and what else was said."""
    rules = scoring.load("strict")
    positives, found, right, wrong = Counter(), Counter(), Counter(), Counter()
    others: dict[str, Counter] = defaultdict(Counter)
    clean_passes = clean_told = 0
    for path in sorted(folder.glob("*.npz")):
        code = path.stem.rpartition("-")[0]
        if code.startswith("pair-"):
            continue
        about = json.loads(path.with_suffix(".json").read_text())
        shown = {} if "launch" in about else labels(np.load(path), about)
        if code == "clean" and (not clean(about) or any(shown.values())):
            continue
        own, ship, profile, flown = measured(path, about, scratch)
        if "launch" in about:
            told = [f for each in explanation.launches(own, ship) for f in launch.findings(each, profile)]
        else:
            told = list(explanation.explain(flown[-1], rules).findings) if flown else []
        codes = {finding.code for finding in told}
        if code in APPROACH | PATTERN | DECK | set(launch.DETECTORS):
            positives[code] += shown.get(code, True)
            found[code] += shown.get(code, True) and code in codes
        if code == "clean":
            clean_passes += 1
            clean_told += bool(codes)
        since = began(about, path)
        for finding in told:
            if finding.code != code:
                others[code][finding.code] += 1
            if finding.code in shown:
                wrong[finding.code] += not shown[finding.code]
                right[finding.code] += shown[finding.code]
                continue
            if finding.code == code:
                right[code] += 1
                continue
            follows = code in APPROACH and finding.code in APPROACH and finding.end >= since
            turned = code in TURNS and finding.code in APPROACH
            of_clean_pass = code in DECK and finding.code in APPROACH and not clean(about)
            if not (follows or turned or of_clean_pass or finding.code in ALSO.get(code, ())):
                wrong[finding.code] += 1
    print(f"clean passes {clean_passes}, with a finding {clean_told}")
    print(f"{'code':26s} label positives recall precision   also told")
    for code in sorted({*positives, *wrong, *others}):
        n, good, bad = positives[code], right[code], wrong[code]
        recall = f"{found[code] / n:.2f}" if n else "  - "
        precision = f"{good / (good + bad):.2f}" if good + bad else "  - "
        by = "shown" if code in LABELS else "told "
        print(f"{code:26s} {by} {n:9d} {recall:>6s} {precision:>9s}   {dict(others[code])}")


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
    options = parser.parse_args()
    faults(options.folder, options.scratch)
    for tables in (True, False):
        print("aircraft with tables of its own" if tables else "without")
        pairs(options.folder, options.scratch, tables=tables)


if __name__ == "__main__":
    main()
