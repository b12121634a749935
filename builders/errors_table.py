"""Debrief the recordings of a folder and write their errors against truth as a Markdown table.

``python builders/errors_table.py FOLDER [--out FILE]``: the folder holds ``NAME.truth.json`` beside
each recording (or a folder with ``truth.json`` for each).
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "benchmarks"))

from flown import cases, debrief, moment, options, truths

HEAD = "| recording | figure | truth | told | sigma | error |\n| --- | --- | --- | --- | --- | --- |"


def value(number, digits):
    return "" if number is None else f"{number:.{digits}f}"


def row(name, figure, truth, told, digits, sigma=None):
    error = value(told - truth, digits) if None not in (truth, told) else ""
    cells = (name, figure, value(truth, digits), value(told, digits), value(sigma, digits), error)
    return "| " + " | ".join(cells) + " |"


def rows(name, wanted, got):
    """The lines of one pass."""
    true, seen = (f"{one['outcome']}, {one['wire']}" for one in (wanted, got))
    yield f"| {name} | outcome, wire | {true} | {seen} | | |"
    told = {p["name"]: p for p in got["positions"]}
    for p in wanted["positions"]:
        mine = told.get(p["name"], {})
        for key, words, digits in (
            ("glide_slope_error_deg", "glide slope, deg", 4),
            ("line_up_offset_m", "line-up, m", 3),
            ("angle_of_attack_deg", "angle of attack, deg", 3),
            ("sink_mps", "sink, m/s", 3),
            ("closure_mps", "closure, m/s", 3),
        ):
            yield row(name, f"{p['name']} {words}", p[key], mine.get(key), digits)
    if wanted["ramp"]:
        ramp = got["ramp"] or {}
        yield row(name, "ramp, time, s", wanted["ramp"]["time_s"], ramp.get("time_s"), 3)
        sigma = ramp.get("hook_to_ramp_sigma_m")
        truth = wanted["ramp"]["hook_to_ramp_m"]
        yield row(name, "hook to ramp, m", truth, ramp.get("hook_to_ramp_m"), 3, sigma)
    if wanted["touchdown"]:
        touch = got["touchdown"] or {}
        for key, words, digits in (
            ("time_s", "touchdown, time, s", 3),
            ("hook_x_m", "hook touchdown, m", 3),
            ("off_centre_m", "touchdown off centre, m", 3),
            ("sink_mps", "touchdown sink, m/s", 3),
            ("closure_mps", "touchdown closure, m/s", 3),
            ("angle_of_attack_deg", "touchdown angle of attack, deg", 3),
            ("pitch_deg", "touchdown pitch, deg", 3),
        ):
            sigma = touch.get("hook_x_sigma_m") if key == "hook_x_m" else None
            yield row(name, words, wanted["touchdown"].get(key), touch.get(key), digits, sigma)
    if wanted["wave_off"]:
        off = got["wave_off"] or {}
        for key, words in (("start_s", "wave-off start, s"), ("start_range_m", "wave-off range, m")):
            yield row(name, words, wanted["wave_off"][key], off.get(key), 2)


def table(folder: Path) -> str:
    """The whole table."""
    lines = [HEAD]
    for name, place, truth in cases(folder):
        result = debrief(place, options(name, place, truth))
        for wanted in truths(truth):
            if result.data is None:
                lines.append(f"| {name} | exit {result.code} | | {result.error.splitlines()[-1:]} | | |")
                continue
            got = min(result.data["passes"], key=lambda p: abs(moment(p) - moment(wanted)))
            lines += rows(name, wanted, got)
    return "\n".join(lines) + "\n"


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--out", type=Path)
    chosen = parser.parse_args()
    text = table(chosen.folder)
    if chosen.out:
        chosen.out.write_text(text)
    else:
        print(text, end="")


if __name__ == "__main__":
    main()
