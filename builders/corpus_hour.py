"""An hour at sea in one file: launch, pattern, straight-in, fly-past, taxi between, six passes.

``python builders/corpus_hour.py FOLDER`` writes FOLDER/hour: 20 Hz, 25 columns, plain CSV.
"""

from __future__ import annotations

import argparse
import json
import math
import time
from dataclasses import replace
from pathlib import Path

from corpus import line
from corpus_clean import MEDIUM, plan_at
from fly_plan import Plan
from fly_record import Form, tables, toml, write_table
from fly_sortie import Sortie
from fly_truth import truth
from sites import aircraft_file

COLUMNS = (
    "heading", "pitch", "roll", "true_airspeed", "indicated_airspeed", "angle_of_attack", "vertical_speed",
    "normal_acceleration", "throttle", "engine_rpm", "fuel_flow", "stick_pitch", "gear", "flaps", "hook",
)  # fmt: skip
SHIP_COLUMNS = ("heading", "pitch", "roll")
PITCH = 5.3
CATAPULT = (169.0, 35.5)  # deck axes
SPOT = (185.0, 62.0)


def base_plan() -> Plan:
    return plan_at(
        "A4", "halcyon", (41.2, -52.6), 48.0, speed=17.0, wind=(-9, 13), motion=MEDIUM, seed=900,
        told=("an hour at sea",),
    )  # fmt: skip


def fly_hour() -> Sortie:
    """Fly it all; six passes end in traps, a bolter and a wave-off."""
    plan = base_plan()
    sortie = Sortie(plan, 3660.0, start=0.0)
    angle = math.radians(plan.site["landing_area"]["angle_deg"])

    def circuit(seed, hit=None, **more):
        return sortie.fly(replace(plan, start="upwind", seed=seed, after=7.0, turn_delay=15.0, **more), hit)

    def back_to_the_catapult(wait):
        sortie.rest(6.0)
        sortie.taxi([(200.0, 25.0), SPOT])
        sortie.rest(wait)
        sortie.taxi([(155.0, 33.0), CATAPULT], yaw_at_end=angle)

    sortie.stand(*SPOT, -math.pi / 2, 200.0)
    sortie.taxi([(160.0, 50.0), CATAPULT], yaw_at_end=angle)
    sortie.launch()
    circuit(901, ("hook", 70.0), told=("first pass, a good one",))
    back_to_the_catapult(180.0)
    sortie.launch()
    circuit(902, ("hook", 104.0), told=("high, bolter",))
    circuit(903, wave_off=420.0, told=("wave-off in close",))
    circuit(904, ("hook", 58.0), lateral=((1500, 12), (400, 4), (0, 0)), told=("a little low",))
    back_to_the_catapult(220.0)
    sortie.launch()
    out = replace(plan, start="far", seed=905, far=14000.0, after=7.0)
    sortie.fly(replace(out, passes_by=True, far=9000.0, far_height=244.0, hook_down=False), counts=False)
    sortie.fly(replace(out, told=("straight-in",)), ("hook", 71.0))
    back_to_the_catapult(160.0)
    sortie.launch()
    circuit(906, ("hook", 82.5), told=("last pass",))
    sortie.rest(6.0)
    sortie.taxi([(200.0, 25.0), SPOT])
    left = 3600.0 - sortie.i / 120.0
    if left > 1.0:
        sortie.rest(left)
    return sortie


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("folder", type=Path)
    folder = parser.parse_args().folder / "hour"
    start = time.time()
    sortie = fly_hour()
    whole = sortie.flight()
    form = Form(rate=20, channels=COLUMNS, ship_pose=SHIP_COLUMNS)
    main_table, _, options = tables(whole, form)
    place = folder / "hour"
    place.mkdir(parents=True, exist_ok=True)
    write_table(place / form.file, main_table, form)
    (place / "site.toml").write_text(toml(sortie.plan.site))
    aircraft = aircraft_file("A4", sortie.plan.points, form.reference, PITCH)
    (place / "aircraft.toml").write_text(toml(aircraft))
    plan = sortie.plan
    wind = ["--wind-from-deg", f"{plan.wind_from:g}", "--wind-speed-kt", f"{plan.wind_kt:g}"]
    out = {
        "case": "hour",
        "recording": [form.file],
        "argv": [form.file, *options, "--site", "site.toml", "--aircraft", "aircraft.toml", *wind, "--json"],
        "passes": [truth(one, form.reference, plan.site, PITCH) for one in sortie.passes(whole)],
        "form": {"rate_hz": form.rate, "ship": form.ship, "alpha_recorded": True, "wind_told": True},
    }
    (place / "truth.json").write_text(json.dumps(out, indent=1) + "\n")
    for one in out["passes"]:
        print(line({"case": one["told_to_fly"][0], **one}))
    print(f"{len(main_table.columns)} columns, {whole.time[-1]:.0f} s, in {time.time() - start:.0f} s")
    (folder.parent / "READY-hour").write_text("1 case\n")


if __name__ == "__main__":
    main()
