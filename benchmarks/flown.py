"""Debrief flown recordings through the command line and set the result beside the exact truth."""

from __future__ import annotations

import contextlib
import io
import json
import math
import os
import sys
import traceback
from dataclasses import dataclass, field
from pathlib import Path


@dataclass
class Result:
    """What the command said of one recording."""

    code: int
    data: dict | None
    error: str


def debrief(folder: Path, argv) -> Result:
    """Run ``deckward debrief`` in this process from inside a folder."""
    from deckward.cli import main

    out, err = io.StringIO(), io.StringIO()
    home, before = Path.cwd(), sys.argv
    os.chdir(folder)
    sys.argv = ["deckward", "debrief", *argv]
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            code = main() or 0
    except SystemExit as stop:
        code = stop.code if isinstance(stop.code, int) else 1
        err.write("" if isinstance(stop.code, int) else str(stop.code))
    except Exception:
        code = 99
        err.write(traceback.format_exc())
    finally:
        sys.argv = before
        os.chdir(home)
    data = json.loads(out.getvalue()) if code == 0 and out.getvalue().strip() else None
    return Result(code, data, err.getvalue().strip())


@dataclass
class Comparison:
    """Errors of one case by figure, sigma ratios, and mistakes in words."""

    case: str
    errors: dict = field(default_factory=dict)  # figure -> [(error, where)]
    ratios: dict = field(default_factory=dict)  # figure -> [error / sigma]
    mistakes: list = field(default_factory=list)
    doubtful: list = field(default_factory=list)

    def add(self, figure, value, wanted, where=""):
        if wanted is None:
            return
        if value is None:
            self.mistakes.append(f"{figure} {where}: nothing told, truth {wanted:g}")
            return
        self.errors.setdefault(figure, []).append((value - wanted, where))


def truths(truth: dict):
    """The passes of a truth file, one or many."""
    return truth.get("passes") or [truth]


def moment(one: dict):
    """A time that tells one pass of a file from another."""
    for key, name in (("touchdown", "time_s"), ("ramp", "time_s"), ("wave_off", "start_s")):
        if one.get(key):
            return one[key][name]
    return one["positions"][-1]["time_s"] if one.get("positions") else 0.0


def compare(case: str, truth: dict, result: Result) -> list[Comparison]:
    """One comparison for each pass of the truth."""
    wanted = truths(truth)
    found = list((result.data or {}).get("passes", []))
    alone = len(wanted) == 1
    out = []
    for one in wanted:
        seen = Comparison(case if alone else f"{case}@{moment(one):.0f}s")
        out.append(seen)
        if result.data is None:
            last = result.error.splitlines()[-1] if result.error else ""
            seen.mistakes.append(f"exit {result.code}: {last}")
            continue
        choices = [p for p in found if not one.get("who") or p.get("who") in (None, one["who"])]
        if not choices:
            seen.mistakes.append("pass not found")
            continue
        best = min(choices, key=lambda p: abs(moment(p) - moment(one)))
        if not alone and abs(moment(best) - moment(one)) > 15.0:
            seen.mistakes.append("pass not found")
            continue
        found.remove(best)
        one_pass(seen, truth, one, best)
    for extra in found if out else ():
        out[0].mistakes.append(f"a pass too many: {extra.get('outcome')} at {moment(extra):.1f} s")
    return out


def one_pass(seen: Comparison, truth: dict, one: dict, got: dict):
    margin = one.get("wire_margin_m")
    clear = margin is None or margin >= 2.0
    if got["outcome"] != one["outcome"]:
        seen.mistakes.append(f"outcome {got['outcome']}, truth {one['outcome']}")
    if got["wire"] != one["wire"]:
        text = f"wire {got['wire']}, truth {one['wire']} (margin {margin})"
        (seen.mistakes if clear else seen.doubtful).append(text)
    missing = set(one.get("flags", ())) - set(got["flags"])
    if missing:
        seen.doubtful.append(f"flags missing: {', '.join(sorted(missing))}; told: {got['flags']}")
    positions(seen, truth, one, got)
    if one.get("ramp"):
        ramp = got.get("ramp") or {}
        struck = one["outcome"] == "ramp strike"
        far = abs(one["ramp"]["hook_to_ramp_m"]) > 30 or one.get("wave_off")
        figure = "ramp, wave-off" if far else "ramp, struck" if struck else "ramp"
        seen.add(figure, ramp.get("hook_to_ramp_m"), one["ramp"]["hook_to_ramp_m"])
        if not far and not struck:
            ratio(seen, "ramp", ramp, "hook_to_ramp_m", "hook_to_ramp_sigma_m", one["ramp"])
    touchdown(seen, one, got, clear)
    if one.get("wave_off"):
        wave_off = got.get("wave_off") or {}
        seen.add("wave-off start", wave_off.get("start_s"), one["wave_off"]["start_s"])
    if one.get("groove") and one["groove"]["start_s"] > 2.0:
        seen.add("groove start", (got.get("groove") or {}).get("start_s"), one["groove"]["start_s"])
    if one.get("turn"):
        turn = got.get("turn") or {}
        seen.add("abeam distance", turn.get("abeam_distance_m"), one["turn"]["abeam_distance_m"])
        seen.add("abeam altitude", turn.get("abeam_altitude_m"), one["turn"]["abeam_altitude_m"])


def positions(seen, truth, one, got):
    form = truth.get("form", {})
    told = {p["name"]: p for p in got["positions"]}
    for wanted in one["positions"]:
        name = wanted["name"]
        if name not in told:
            seen.mistakes.append(f"position {name} left out")
            continue
        p = told[name]
        late = name == "ramp" or wanted["after_wave_off"]
        figure = "glide slope" if not late else "glide slope, ramp or waved off"
        seen.add(figure, p["glide_slope_error_deg"], wanted["glide_slope_error_deg"], name)
        seen.add("line-up", p["line_up_offset_m"], wanted["line_up_offset_m"], name)
        recorded = form.get("alpha_recorded", True)
        kind = "recorded" if recorded else "inferred" if form.get("wind_told") else "inferred, no wind"
        air = ", in turbulence" if one.get("turbulence") else ""
        figure = f"angle of attack {kind}{air}"
        seen.add(figure, p["angle_of_attack_deg"], wanted["angle_of_attack_deg"], name)
        seen.add("sink", p["sink_mps"], wanted["sink_mps"], name)
        seen.add("closure", p["closure_mps"], wanted["closure_mps"], name)
        if p["after_wave_off"] != wanted["after_wave_off"]:
            seen.mistakes.append(f"position {name}: after_wave_off {p['after_wave_off']}")
    usual = {"3/4 nm", "1/2 nm", "1/4 nm"}
    for name in usual & set(told) - {p["name"] for p in one["positions"]}:
        seen.mistakes.append(f"position {name} that truth leaves out")


def touchdown(seen, one, got, clear):
    wanted, told = one.get("touchdown"), got.get("touchdown")
    if wanted is None:
        if told is not None and one["outcome"] != "ramp strike":
            seen.mistakes.append(f"touchdown at {told['time_s']} s that never was")
        return
    if told is None:
        seen.mistakes.append("touchdown not found")
        return
    if told["kind"] != wanted["kind"]:
        text = f"touchdown by {told['kind']}, truth {wanted['kind']}"
        (seen.mistakes if clear else seen.doubtful).append(text)
    else:
        if wanted["hook_x_m"] is not None:
            seen.add("touchdown", told["hook_x_m"], wanted["hook_x_m"])
            if wanted["kind"] == "deck":
                ratio(seen, "touchdown", told, "hook_x_m", "hook_x_sigma_m", wanted)
            seen.add("off centre", told["off_centre_m"], wanted["off_centre_m"])
            seen.add("touchdown sink", told["sink_mps"], wanted["sink_mps"])
        else:
            seen.add("wheels touchdown", told["wheels_x_m"], wanted["wheels_x_m"])
    seen.add("touchdown pitch", told["pitch_deg"], wanted["pitch_deg"])
    seen.add("touchdown closure", told["closure_mps"], wanted["closure_mps"])


def ratio(seen, figure, told, key, sigma_key, wanted):
    value, sigma = told.get(key), told.get(sigma_key)
    if value is None or wanted[key] is None:
        return
    if not sigma or sigma <= 0 or math.isnan(sigma):
        seen.mistakes.append(f"{figure}: sigma {sigma}")
        return
    seen.ratios.setdefault(figure, []).append((value - wanted[key]) / sigma)


def cases(folder: Path):
    """(name, folder, truth) of every case: folders of their own, a session, or files with a common stem."""
    for path in sorted(folder.rglob("truth.json")):
        truth = json.loads(path.read_text())
        for one in truth.get("recordings", [truth]):
            yield one.get("file", path.parent.name), path.parent, one
    for path in sorted(folder.glob("*.truth.json")):
        yield path.name.removesuffix(".truth.json"), folder, json.loads(path.read_text())


def options(name: str, folder: Path, truth: dict):
    """The arguments of a case: as its truth says, else by the files that stand beside it."""
    if "argv" in truth:
        return truth["argv"]
    track, *rest = truth["recording"]
    argv = [track, "--site", f"{name}.site.toml", "--aircraft", f"{name}.aircraft.toml"]
    if rest:
        argv += ["--ship", rest[0]]
    wind = [
        "--wind-from-deg",
        f"{truth['wind_from_deg']:g}",
        "--wind-speed-kt",
        f"{truth['wind_speed_kt']:g}",
    ]
    return [*argv, *wind, "--json"]
