"""How near the debrief comes to the truth of flown passes.

``python benchmarks/accuracy.py FOLDER [--as clean|five|rough] [--limit N] [--only WORD ...]`` debriefs
every case of a folder made by ``builders/corpus.py`` and prints the 95th percentile of each
error against what is asked, the worst cases, the mistakes, and how honest the sigmas are.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

import numpy as np
from flown import cases, compare, debrief, options

ASKED = {  # figure -> (clean at 10 Hz and up, clean at 5 Hz, rough)
    "touchdown": (0.3, 0.8, 1.5),
    "ramp": (0.05, 0.10, 0.15),
    "glide slope": (0.01, 0.03, 0.04),
    "line-up": (0.1, 0.2, 0.4),
    "angle of attack recorded": (0.1, 0.2, 0.3),
    "angle of attack inferred": (0.3, 0.5, 0.6),
}
COLUMN = {"clean": 0, "five": 1, "rough": 2, "noise": 2}
UNIT = {"glide slope": "deg", "angle of attack": "deg", "sink": "m/s", "closure": "m/s", "pitch": "deg"}


def unit(figure):
    return next((u for word, u in UNIT.items() if word in figure), "s" if "start" in figure else "m")


def report(name, compared, column, seconds):
    """Markdown lines of one corpus."""
    lines = [f"## {name}: {len(compared)} passes, {seconds:.0f} s", ""]
    lines += ["| figure | unit | asked | 95th percentile | largest | mean | n | worst five |"]
    lines += ["| --- | --- | --- | --- | --- | --- | --- | --- |"]
    figures = list(ASKED) + sorted({f for c in compared for f in c.errors} - set(ASKED))
    for figure in figures:
        rows = [(e, f"{c.case} {w}".strip()) for c in compared for e, w in c.errors.get(figure, ())]
        if not rows:
            continue
        size = np.abs([e for e, _ in rows])
        reached = float(np.percentile(size, 95))
        asked = ASKED.get(figure, (None,) * 3)[column]
        verdict = "" if asked is None else f"{asked:g} {'ok' if reached <= asked else 'MISSED'}"
        worst = sorted(rows, key=lambda r: -abs(r[0]))[:5]
        words = "; ".join(f"{w} {e:+.3f}" for e, w in worst)
        mean = float(np.mean([e for e, _ in rows]))
        lines.append(
            f"| {figure} | {unit(figure)} | {verdict} | {reached:.3f} | {size.max():.3f} | {mean:+.3f} "
            f"| {len(rows)} | {words} |"
        )
    lines += [
        "",
        "| sigma of | n | within 1 | within 3 | rms of error / sigma |",
        "| --- | --- | --- | --- | --- |",
    ]
    both = []
    for figure in ("ramp", "touchdown"):
        values = np.abs([r for c in compared for r in c.ratios.get(figure, ())])
        both += list(values)
        lines.append(sigma_line(figure, values))
    lines.append(sigma_line("both", np.array(both)))
    for title, key in (("Mistakes", "mistakes"), ("Doubtful", "doubtful")):
        told = [f"- {c.case}: {text}" for c in compared for text in getattr(c, key)]
        lines += ["", f"{title}: {len(told)}", *told]
    return lines


def sigma_line(figure, values):
    if not len(values):
        return f"| {figure} | 0 | | | |"
    return (
        f"| {figure} | {len(values)} | {np.mean(values <= 1):.0%} | {np.mean(values <= 3):.1%} "
        f"| {np.sqrt(np.mean(values**2)):.2f} |"
    )


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("folders", nargs="+", type=Path)
    parser.add_argument("--as", dest="column", choices=COLUMN, help="which column of demands applies")
    parser.add_argument("--limit", type=int)
    parser.add_argument("--only", nargs="*", default=[], help="words, one of which the case's name holds")
    parser.add_argument("--verbose", action="store_true", help="one line a case while running")
    chosen = parser.parse_args()
    for folder in chosen.folders:
        start, compared = time.time(), []
        picked = [c for c in cases(folder) if not chosen.only or any(w in c[0] for w in chosen.only)]
        for name, place, truth in picked[: chosen.limit]:
            result = debrief(place, options(name, place, truth))
            news = compare(name, truth, result)
            compared += news
            if chosen.verbose:
                print(name, *[c.mistakes + c.doubtful for c in news], file=sys.stderr, flush=True)
        column = COLUMN[chosen.column or (folder.name if folder.name in COLUMN else "clean")]
        print("\n".join(report(folder.name, compared, column, time.time() - start)), "\n")


if __name__ == "__main__":
    main()
