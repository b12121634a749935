"""How near ``deckward measure site`` comes, and whether the wire odds that follow can be believed.

``python benchmarks/measured.py FOLDER ... [--held FOLDER ...]`` takes the traps of folders made by
``builders/corpus.py FOLDER measured``: groups of eight flights of one jet on one ship measure
her, started from the generic one; each ship so measured then judges eight passes that no group
measured from (a third of the flights, or those of other folders). Printed are the errors of deck
height, angle and wires, how often truth lies within two sigma, and how often wires told with
given odds were the ones that held.
"""

from __future__ import annotations

import argparse
import json
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import numpy as np
from msgspec.structs import replace

from deckward import aircraft, passes, recordings
from deckward import site as sites
from deckward.passes.measuring import measure_site

GROUP = 8
BARS = {"deck height": 0.3, "angle": 0.3, "centreline": np.inf, "wire": 1.5}
EDGES = (0.0, 0.02, 0.1, 0.3, 0.7, 0.9, 0.98, 1.001)


@dataclass(frozen=True)
class Case:
    """One recording, its truth and its geometry."""

    name: str
    truth: dict
    own: object
    ship: object
    site: object
    profile: object

    @property
    def kind(self) -> tuple[str, str, float]:
        """What groups of flights share: ship, jet and the recorded point of it."""
        return self.site.name, self.profile.name, self.profile.hook[0]


def read(folder: Path) -> Case | None:
    """A trap on a ship whose track was recorded on one clock with the jet's; None for all else."""
    truth = json.loads((folder / "truth.json").read_text(encoding="utf-8"))
    form = truth["form"]
    if truth["outcome"] != "trap" or form["ship"] not in ("rows", "file") or form["ship_clock_s"]:
        return None
    files = [folder / name for name in truth["recording"]]
    deck, jet = sites.load(folder / "site.toml"), aircraft.load(folder / "aircraft.toml")
    if deck.is_field:
        return None
    taken = recordings.open_recording(files[0], ship=files[1] if len(files) > 1 else None)
    return Case(truth["case"].partition("--")[0], truth, taken.aircraft[0], taken.ship, deck, jet)


def read_all(folders: list[Path]) -> list[Case]:
    cases = [read(path.parent) for folder in folders for path in sorted(folder.glob("*/truth.json"))]
    return [case for case in cases if case is not None]


def errors(found, true) -> dict[str, list[tuple[float, float]]]:
    """Error and sigma of each measured number, m and deg."""
    wires = zip(found.wires.positions, true.wires.positions, strict=True)
    return {
        "deck height": [(found.ramp[2] - true.ramp[2], found.sigma.ramp[2])],
        "angle": [tuple(np.degrees((found.angle - true.angle, found.sigma.angle)))],
        "centreline": [(found.ramp[1] - true.ramp[1], found.sigma.ramp[1])],
        "wire": [(a - b, found.sigma.wires) for a, b in wires],
    }


def told(case: Case, site) -> list[tuple[float, bool]]:
    """The odds of each wire on a pass, and whether it held; none where no pass or no odds are told."""
    found = passes.find(case.own, ship=case.ship, site=site, aircraft=case.profile).passes
    if len(found) != 1:
        return []
    held = str(case.truth["wire"])
    return [(chance, number == held) for number, chance in found[0].wire_odds.items() if number != "none"]


def groups(cases: list[Case], rng, share: float) -> tuple[list[list[Case]], list[Case]]:
    """Groups of eight flights of one jet on one ship, from a share of the flights; the others."""
    once = {case.name: case for case in rng.permutation(np.array(cases, dtype=object))}
    ours, held = [], []
    for kind in sorted({case.kind for case in cases}):
        mine = [case for case in once.values() if case.kind == kind]
        first = int(share * len(mine)) // GROUP * GROUP
        ours += [mine[k : k + GROUP] for k in range(0, first, GROUP)]
        held += mine[first:]
    return ours, held


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("folders", type=Path, nargs="+")
    parser.add_argument("--held", type=Path, nargs="+", default=[])
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    rng = np.random.default_rng(options.seed)
    trained, held = groups(read_all(options.folders), rng, 1.0 if options.held else 2 / 3)
    held = read_all(options.held) or held
    start = sites.load("generic-ship")
    seen: dict[str, list[tuple[float, float]]] = {}
    odds: list[tuple[float, bool]] = []
    judged: list[str] = []
    beyond = dict.fromkeys(BARS, 0)
    for group in trained:
        true, jet = group[0].site, group[0].profile
        # the ramp fore and aft is known from a recording of its own, to a foot
        wires = replace(start.wires, positions=start.wires.positions[: len(true.wires.positions)])
        begin = replace(start, ramp=(true.ramp[0] + rng.normal(0.0, 0.3), *start.ramp[1:]), wires=wires)
        found, _ = measure_site([(case.own, case.ship) for case in group], begin, jet)
        for name, pairs in errors(found, true).items():
            seen.setdefault(name, []).extend(pairs)
            beyond[name] += any(abs(off) > BARS[name] for off, _ in pairs)
        mine = [case for case in held if case.kind == group[0].kind]
        for case in rng.choice(np.array(mine, dtype=object), min(GROUP, len(mine)), replace=False):
            odds += told(case, found)
            judged.append(case.truth["case"])
    print(f"{len(trained)} groups of {GROUP}; {len(set(judged))} held-out passes judged {len(judged)} times")
    report(seen, odds, beyond)


def report(seen, odds, beyond) -> None:
    print("\n| number | n | bar | 95th percentile | largest | groups beyond | within two sigma |")
    print("| --- | --- | --- | --- | --- | --- | --- |")
    for name, pairs in seen.items():
        off, sigma = np.abs(np.array(pairs)).T
        print(
            f"| {name} | {off.size} | {BARS[name]:g} | {np.percentile(off, 95):.2f} | {off.max():.2f} "
            f"| {beyond[name]} | {np.mean(off < 2.0 * sigma):.0%} |"
        )
    print("\n| odds told | n | told on average | came true |\n| --- | --- | --- | --- |")
    chance, held_true = np.array(odds, dtype=float).T
    for low, high in pairwise(EDGES):
        rows = (chance >= low) & (chance < high)
        if rows.any():
            print(
                f"| {low:g} to {min(high, 1.0):g} | {rows.sum()} | {chance[rows].mean():.3f} "
                f"| {held_true[rows].mean():.3f} |"
            )


if __name__ == "__main__":
    main()
