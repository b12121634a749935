"""Write corpora of flown passes: ``python builders/corpus.py FOLDER [corpus ...] [--only CASE ...]``."""

from __future__ import annotations

import argparse
import hashlib
import json
import pickle
import time
from dataclasses import asdict, dataclass
from functools import partial
from pathlib import Path

import corpus_clean
import corpus_dis
import corpus_measured
import corpus_poor
import corpus_skips
from degrade import degrade
from fly import fly
from fly_aim import fly_to
from fly_dis import START, Capture, write_capture
from fly_plan import Flight, Plan
from fly_record import Form, tables, toml, write_table
from fly_truth import truth
from other_pulls import LAWS, pulled
from sites import aircraft_file

MAKERS = {
    "clean": corpus_clean.cases,
    "five": corpus_poor.five,
    "rough": corpus_poor.rough,
    "noise": corpus_poor.noisy,
    "measured": corpus_measured.cases,
    "measured-second": corpus_measured.second,
    "measured-third": corpus_measured.third,
    **{f"measured-{law}": partial(corpus_measured.other, law=law) for law in LAWS},
    "skips": corpus_skips.cases,
    "dis": corpus_dis.even,
    "threshold": corpus_dis.threshold,
    "threshold-held": corpus_dis.threshold_held,
    "threshold-last": corpus_dis.threshold_last,
    "apart": corpus_dis.apart,
    "together": corpus_dis.together,
}
LATER = ("fly_truth", "fly_record", "fly_dis")  # used after the flight, not in it
SOURCES = sorted(Path(__file__).parent.glob("fly*.py"))
CODE = b"".join(p.read_bytes() for p in SOURCES if p.stem not in LATER)


@dataclass(frozen=True)
class Case:
    """A plan, the form of its recording and what the plan is adjusted to hit."""

    name: str
    plan: Plan
    form: Form
    hit: tuple | None = None  # ("hook", x m), ("wheels", x m) or ("ramp", z m)
    pitch_given: float | None = None
    wind_told: bool = True
    expect: tuple = ()  # (outcome, wire)
    flown_as: str = ""  # the case whose flight this recording is of
    damage: tuple = ()  # ((way, settings), ...) to the aircraft's file
    ship_damage: tuple = ()
    damage_seed: int = 0
    capture: Capture | None = None  # as PDUs instead of tables
    pull: str = ""  # another law of the wires than the flown one


def flown(case: Case, cache: Path) -> Flight:
    """The flight of a case, from the cache if plan and flying code are as they were."""
    code = b"".join(
        p.read_bytes() for p in sorted(Path(__file__).parent.glob("fly*.py")) if p.stem not in LATER
    )
    key = hashlib.sha256(repr((case.plan, case.hit)).encode() + code).hexdigest()[:16]
    path = cache / f"{case.flown_as or case.name}-{key}.pickle"
    if path.exists():
        return pickle.loads(path.read_bytes())
    flight = fly_to(case.plan, case.hit, fly)
    cache.mkdir(parents=True, exist_ok=True)
    path.write_bytes(pickle.dumps(flight))
    return flight


def write(case: Case, folder: Path) -> dict:
    """Fly and write one case; returns its truth."""
    flight = flown(case, folder.parents[1] / "flown")
    if case.pull:
        flight = pulled(flight, case.pull, case.damage_seed)
    folder.mkdir(parents=True, exist_ok=True)
    form = case.form
    exact = truth(
        flight,
        form.reference,
        flight.plan.site,
        case.pitch_given,
        offset=_zero(case),
    )
    files, options = _recorded(case, flight, folder, exact)
    aircraft = aircraft_file(flight.plan.jet, flight.plan.points, form.reference, case.pitch_given)
    (folder / "site.toml").write_text(toml(flight.plan.site))
    (folder / "aircraft.toml").write_text(toml(aircraft))
    argv = [files[0], *options, "--site", "site.toml", "--aircraft", "aircraft.toml"]
    if case.wind_told:
        argv += [
            "--wind-from-deg",
            f"{flight.plan.wind_from:g}",
            "--wind-speed-kt",
            f"{flight.plan.wind_kt:g}",
        ]
    argv += ["--json"]
    out = {
        "case": case.name,
        "recording": files,
        "argv": argv,
        **exact,
        "form": {
            "rate_hz": form.rate,
            "ship": form.ship,
            "alpha_recorded": "angle_of_attack" in form.channels,
            "wind_told": case.wind_told,
            "pitch_given": case.pitch_given is not None,
            "stabilisation": flight.plan.site["lens"]["stabilisation"],
            "ship_clock_s": form.ship_clock,
            "damage": [*case.damage],
            "ship_damage": [*case.ship_damage],
            "jitter_s": form.jitter,
            **_told(case.capture),
        },
    }
    (folder / "truth.json").write_text(json.dumps(out, indent=1) + "\n")
    if case.expect and (exact["outcome"], exact["wire"]) != case.expect:
        print(f"  {case.name}: wanted {case.expect}, got {exact['outcome']} {exact['wire']}", flush=True)
    return out


def _zero(case: Case) -> float:
    """What is added to the times of the truth."""
    if case.capture is not None:
        return START if case.capture.kind.startswith("pcap") else START % 3600.0
    return 0.0 if case.form.time_style == "iso" else case.form.time_zero


def _recorded(case: Case, flight: Flight, folder: Path, exact: dict) -> tuple[list[str], list[str]]:
    """Write the recording of a case; returns its files and options."""
    form = case.form
    if case.capture is not None:
        return write_capture(folder, flight, form.reference, case.capture)
    main, ship_table, options = tables(flight, form)
    spare = exact["touchdown"]["time_s"] if exact["touchdown"] else None
    main = degrade(main, case.damage, case.damage_seed, spare)
    if ship_table is not None:
        ship_table = degrade(ship_table, case.ship_damage, case.damage_seed + 1)
    write_table(folder / form.file, main, form, who=form.who)
    files = [form.file]
    if ship_table is not None:
        write_table(folder / form.ship_file, ship_table, form)
        files.append(form.ship_file)
    return files, options


def _told(capture: Capture | None) -> dict:
    """How the PDUs of a case were sent."""
    return {"senders": [asdict(capture.aircraft), asdict(capture.ship)]} if capture is not None else {}


def line(out):
    td = out["touchdown"] or {}
    errors = [p["glide_slope_error_deg"] for p in out["positions"]]
    return (
        f"{out['case']:34s} {out['outcome']!s:12s} wire {out['wire']!s:5s} margin {out['wire_margin_m']!s:6s}"
        f" hook x {td.get('hook_x_m')!s:8s} ramp {(out['ramp'] or {}).get('hook_to_ramp_m')!s:8s}"
        f" gs {errors} {','.join(out['flags'])}"
    )


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("corpora", nargs="*", default=["clean"])
    parser.add_argument("--only", nargs="*", default=[])
    options = parser.parse_args()
    for corpus in options.corpora:
        makers = MAKERS
        start = time.time()
        made = makers[corpus](Case)
        for case in made:
            if options.only and not any(word in case.name for word in options.only):
                continue
            print(line(write(case, options.folder / corpus / case.name)), flush=True)
        print(f"{corpus}: {len(made)} cases in {time.time() - start:.0f} s")
        if not options.only:
            (options.folder / f"READY-{corpus}").write_text(f"{len(made)} cases\n")


if __name__ == "__main__":
    main()
