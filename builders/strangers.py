"""Evenings of people that nobody has met: ``python builders/strangers.py FOLDER [NAME ...]``.

Each has a ship and a jet that are not bundled, headers in words, units and clocks of her own, some traps to
measure from, a recording parked on the ramp's edge, and flights to debrief that nothing was measured from.
The true site and aircraft lie beside them in ``true``, for whoever checks afterwards.
"""

from __future__ import annotations

import argparse
import json
import math
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from corpus_clean import MEDIUM, plan_at
from fly import fly
from fly_aim import fly_to
from fly_record import Form, sample_aircraft, sample_ship, to_plane, toml
from fly_sortie import Sortie
from fly_truth import truth
from sites import aircraft_file

DAY = 45_125.0  # s of the day at which the clocks of a flight begin
EPOCH = 1_944_000_000.0  # s since 1970, likewise


@dataclass(frozen=True)
class Dialect:
    """How a stranger writes: (header, quantity, unit factor or writer, decimals), the separator, the mark."""

    own: tuple
    ship: tuple = ()
    separator: str = ","
    decimal: str = "."
    encoding: str = "utf-8"
    own_file: bool = False  # the ship in a file of her own
    ship_clock: float = 0.0  # s that her clock is ahead
    ship_rate: float = 10.0
    plane: tuple | None = None  # latitude and longitude of a plane's origin, deg
    title: str = ""
    rate: float = 20.0


@dataclass(frozen=True)
class Stranger:
    """Who she is and what she flew."""

    name: str
    told: str
    jet: str
    ship: str
    place: tuple
    heading: float
    speed: float
    wind: tuple
    reference: tuple  # recorded point from the centre of gravity, body axes
    dialect: Dialect
    seed: int
    motion: dict | None = None
    sortie: bool = False


def clock_letters(seconds):
    """Times like ``12h32m05.250s``."""
    return [
        f"{int(s // 3600):02d}h{int(s // 60) % 60:02d}m{s % 60:06.3f}s" for s in np.round(seconds + DAY, 3)
    ]


def minutes_seconds(seconds):
    """Times like ``7:05.25``, minutes and seconds since some start."""
    return [f"{int(s // 60)}:{s % 60:05.2f}" for s in np.round(seconds + 400.0, 2)]


def iso(seconds):
    """ISO 8601 with a zone that is not UTC."""
    base = np.datetime64("2031-08-09T14:02:11.000")
    return [f"{base + np.timedelta64(round(s * 1000), 'ms')}+02:00" for s in seconds]


DEG, FT, KT = 180.0 / math.pi, 1 / 0.3048, 3600.0 / 1852.0

PEARL = Dialect(
    # Indonesian with some English, feet written as "kaki", a clock with letters
    own=(
        ("Jam", "time", clock_letters, 0),
        ("No.", "counter", 1.0, 0),
        ("Lintang", "latitude", DEG, 8),
        ("Bujur", "longitude", DEG, 8),
        ("Tinggi (kaki)", "altitude", FT, 2),
        ("Haluan sejati", "heading", DEG, 3),
        ("Anggukan", "pitch", DEG, 3),
        ("Oleng kanan", "roll", DEG, 3),
        ("Sdt serang", "angle_of_attack", DEG, 3),
        ("Laju udara (simpul)", "true_airspeed", KT, 2),
        ("Tuas daya %", "throttle", 100.0, 1),
        ("Kait", "hook", 1.0, 0),
    ),
    ship=(
        ("Induk.Lintang", "latitude", DEG, 8),
        ("Induk.Bujur", "longitude", DEG, 8),
        ("Induk.Tinggi (kaki)", "altitude", FT, 2),
        ("Induk.Haluan sejati", "heading", DEG, 3),
        ("Induk.Anggukan", "pitch", DEG, 3),
        ("Induk.Oleng kanan", "roll", DEG, 3),
    ),
    title="# rekaman 9/8/2031 kokpit kiri\n",
)

COMMON_OWN = (
    ("time", "time", iso, 0),
    ("latitude_deg", "latitude", DEG, 9),
    ("longitude_deg", "longitude", DEG, 9),
    ("altitude_ft", "altitude", FT, 2),
    ("heading_deg", "heading", DEG, 3),
    ("pitch_deg", "pitch", DEG, 3),
    ("roll_deg", "roll", DEG, 3),
    ("angle_of_attack_deg", "angle_of_attack", DEG, 3),
    ("true_airspeed_kt", "true_airspeed", KT, 2),
    ("throttle_pct", "throttle", 100.0, 1),
    ("hook", "hook", 1.0, 0),
)

TWO = Dialect(
    # the jet's recorder has our names; the ship's computer speaks Greek and counts ms since 1970
    own=COMMON_OWN,
    ship=(
        ("χρόνος_ms", "time", lambda s: [f"{(s_ + 1_944_043_331.0) * 1000:.0f}" for s_ in s], 0),
        ("πλάτος", "latitude", DEG, 9),
        ("μήκος", "longitude", DEG, 9),
        ("ύψος μ", "altitude", 1.0, 3),
        ("πορεία", "heading", DEG, 4),
        ("διατοιχισμός", "roll", DEG, 4),
        ("προνευστασμός", "pitch", DEG, 4),
    ),
    separator=";",
    own_file=True,
    ship_clock=1.37,
)

MIXED = Dialect(
    # her own columns have our names, the ship's have the simulator's, in one file
    own=COMMON_OWN,
    ship=(
        ("Mutterschf_Br", "latitude", DEG, 9),
        ("Mutterschf_Lg", "longitude", DEG, 9),
        ("Mutterschf_H", "altitude", 1.0, 3),
        ("Mutterschf_Ri", "heading", DEG, 4),
        ("Mutterschf_Ni", "pitch", DEG, 4),
        ("Mutterschf_Ro", "roll", DEG, 4),
    ),
)

PLANE = Dialect(
    # a game's plane in metres, with the speed in km/h and angles in rad; Basque and abbreviations
    own=(
        ("denb", "time", minutes_seconds, 0),
        ("ipar_m", "north", 1.0, 3),
        ("ekialde_m", "east", 1.0, 3),
        ("goi_m", "up", 1.0, 3),
        ("norab", "heading", 1.0, 5),
        ("sudur", "pitch", 1.0, 5),
        ("hegal", "roll", 1.0, 5),
        ("eraso", "angle_of_attack", 1.0, 5),
        ("abiadura_km/h", "true_airspeed", 3.6, 2),
        ("pot", "throttle", 1.0, 3),
    ),
    ship=(
        ("otz_ipar_m", "north", 1.0, 3),
        ("otz_ekialde_m", "east", 1.0, 3),
        ("otz_goi_m", "up", 1.0, 3),
        ("otz_norab", "heading", 1.0, 5),
        ("otz_sudur", "pitch", 1.0, 5),
        ("otz_hegal", "roll", 1.0, 5),
    ),
    separator="\t",
    plane=(8.4, 72.9),
)

BARE = Dialect(
    # Welsh, decimal commas, neither angle of attack nor power nor hook
    own=(
        ("eiliad", "time", lambda s: [f"{s_ + 31.5:.3f}" for s_ in s], 0),
        ("lledred", "latitude", DEG, 8),
        ("hydred", "longitude", DEG, 8),
        ("uchder tr.", "altitude", FT, 1),
        ("cyfeiriad", "heading", DEG, 2),
        ("trwyn", "pitch", DEG, 2),
        ("gogwydd", "roll", DEG, 2),
    ),
    ship=(
        ("ll_lledred", "latitude", DEG, 8),
        ("ll_hydred", "longitude", DEG, 8),
        ("ll_uchder tr.", "altitude", FT, 1),
        ("ll_cyfeiriad", "heading", DEG, 2),
    ),
    separator=";",
    decimal=",",
    encoding="utf-16",
)

LATE = Dialect(
    # Swahili, knots and feet in words, minutes as a fraction, the ship's columns first
    own=(
        ("Dakika", "time", lambda s: [f"{(s_ + 212.4) / 60.0:.7f}" for s_ in s], 0),
        ("Latitudo", "latitude", DEG, 8),
        ("Longitudo", "longitude", DEG, 8),
        ("Kimo (futi)", "altitude", FT, 2),
        ("Mwelekeo", "heading", DEG, 3),
        ("Pua juu", "pitch", DEG, 3),
        ("Bawa kulia chini", "roll", DEG, 3),
        ("Pembe ya hewa", "angle_of_attack", DEG, 3),
        ("Kasi hewani (fundo)", "true_airspeed", KT, 2),
        ("Kaba", "throttle", 1.0, 3),
    ),
    ship=(
        ("Meli Latitudo", "latitude", DEG, 8),
        ("Meli Longitudo", "longitude", DEG, 8),
        ("Meli Kimo (futi)", "altitude", FT, 2),
        ("Meli Mwelekeo", "heading", DEG, 3),
        ("Meli Pua juu", "pitch", DEG, 3),
        ("Meli Bawa kulia chini", "roll", DEG, 3),
    ),
    separator="\t",
    title="## Jioni, kiti cha kwanza\n",
    rate=15.0,
)

STRANGERS = (
    Stranger("pearl", "Indonesian, one file, kestrel", "A4", "kestrel", (-6.1, 106.9), 71.0, 18.0, (-8, 11),
             (0.4, 0.0, -0.3), PEARL, 11, MEDIUM),
    Stranger("two", "Greek ship in a file of her own, clock ahead", "F4N", "tern", (36.2, 25.4), 212.0, 21.0,
             (-10, 8), (1.1, 0.0, 0.2), TWO, 22, MEDIUM),
    Stranger("mixed", "our names for the jet, others for the ship", "A4", "petrel", (54.2, 7.1), 305.0, 16.0,
             (-9, 12), (0.0, 0.0, 0.0), MIXED, 33),
    Stranger("plane", "a plane in metres, nowhere on earth", "F4N", "kestrel", (8.4, 72.9), 128.0, 20.0,
             (-8, 9), (0.7, 0.0, -0.4), PLANE, 44, MEDIUM),
    Stranger("bare", "no angle of attack, power or hook; a whole sortie", "A4", "petrel", (51.6, -5.2), 260.0,
             17.0, (-9, 12), (0.2, 0.0, 0.1), BARE, 55, None, True),
    Stranger("late", "Swahili, minutes, fifteen samples a second, tern", "F4N", "tern", (-4.3, 41.2), 155.0,
             19.0, (-10, 9), (0.9, 0.0, -0.2), LATE, 66, MEDIUM),
)  # fmt: skip


def plan_of(who: Stranger, number: int, **more):
    rng = np.random.default_rng([who.seed, number])
    aims = rng.normal(0.0, 10.0)
    glide = ((1600, float(rng.normal(0, 0.25))), (600, float(rng.normal(0, 0.15))), (0, 0.0))
    aside = ((1500, float(rng.normal(0, 8))), (300, float(rng.normal(0, 2))), (0, float(rng.normal(0, 1))))
    return plan_at(
        who.jet, who.ship, who.place, who.heading, speed=who.speed, wind=who.wind, motion=who.motion,
        seed=who.seed * 100 + number, aim=float(aims),
        glide=glide, lateral=aside,
        **more,
    )  # fmt: skip


def write(path: Path, flight, who: Stranger) -> list[str]:
    """Write a flight in the stranger's dialect; the names of its files."""
    d = who.dialect
    form = Form(rate=d.rate, channels=(), reference=who.reference)
    t, own = sample_aircraft(flight, form)
    own |= {"time": t, "counter": np.arange(len(t)) + 1.0}
    stamps = t if not d.own_file else np.arange(t[0] - 0.6, t[-1] + 0.4, 1.0 / d.ship_rate)
    boat = sample_ship(flight, stamps)
    boat["time"] = stamps + d.ship_clock
    if d.plane:
        own |= to_plane(own, d.plane)
        boat |= to_plane(boat, d.plane)
    columns, others = _cells(own, d.own, d), _cells(boat, d.ship, d)
    if d.own_file:
        ship = path.with_name(f"{path.stem}-ship.csv")
        _save(ship, others, d)
        _save(path, columns, replace(d, separator=","))
        return [path.name, ship.name]
    _save(path, columns | others, d)
    return [path.name]


def _cells(values, columns, d):
    out = {}
    for name, quantity, how, digits in columns:
        if callable(how):
            out[name] = how(values[quantity])
        else:
            out[name] = [f"{v * how:.{digits}f}" for v in values[quantity].tolist()]
    if d.decimal != ".":
        out = {name: [c.replace(".", d.decimal) for c in cells] for name, cells in out.items()}
    return out


def _save(path, columns, d):
    rows = zip(*columns.values(), strict=True)
    lines = [d.separator.join(columns), *(d.separator.join(row) for row in rows)]
    path.write_bytes((d.title + "\n".join(lines) + "\n").encode(d.encoding))


def parked(who: Stranger, point: str, at: float):
    """A jet that stands ten seconds with one of its wheels at ``at`` m past the ramp."""
    plan = plan_of(who, 90)
    sortie = Sortie(plan, 40.0, start=0.0)
    sortie.stand(at - plan.points[point][0], 0.0, 0.0, 12.0)
    return sortie.flight()


def sortie_of(who: Stranger, number: int):
    """Three passes, a rest and a taxi in one recording."""
    plan = replace(plan_of(who, number), start="upwind", after=7.0, turn_delay=15.0)
    flown = Sortie(plan, 1500.0, start=0.0)
    angle = math.radians(plan.site["landing_area"]["angle_deg"])
    catapult = (150.0, 33.0)
    wires = plan.site["wires"]["positions_m"]
    flown.stand(*catapult, angle, 20.0)
    flown.launch()
    flown.fly(replace(plan, seed=plan.seed + 1), ("hook", wires[1] - 5.0))
    flown.rest(8.0)
    flown.taxi([(185.0, 25.0), (140.0, 31.0), catapult], yaw_at_end=angle)
    flown.launch()
    flown.fly(replace(plan, seed=plan.seed + 2), ("hook", wires[-1] + 14.0))
    flown.fly(replace(plan, seed=plan.seed + 3), ("hook", wires[2] - 4.0))
    flown.rest(10.0)
    return flown


def make(who: Stranger, folder: Path) -> None:
    """Fly and write everything of one stranger."""
    (folder / "true").mkdir(parents=True, exist_ok=True)
    facts = {}
    if who.sortie:
        for number, name in ((1, "first"), (2, "second"), (3, "evening")):
            flown = sortie_of(who, number)
            whole = flown.flight()
            site = flown.plan.site
            facts[name] = {
                "files": write(folder / f"{name}.csv", whole, who),
                "passes": [truth(one, who.reference, site, None) for one in flown.passes(whole)],
            }
    else:
        for number in range(8):
            plan = plan_of(who, number)
            wires = plan.site["wires"]["positions_m"]
            held = number >= 6
            hit = ("hook", wires[number % len(wires)] - 4.0 if number != 7 else wires[-1] + 15.0)
            flight = fly_to(plan, hit, fly, tries=3)
            name = f"{'evening' if held else 'trap'}{number + 1}"
            facts[name] = {
                "files": write(folder / f"{name}.csv", flight, who),
                "passes": [truth(flight, who.reference, plan.site, None)],
            }
            print(
                who.name,
                name,
                facts[name]["passes"][0]["outcome"],
                facts[name]["passes"][0]["wire"],
                flush=True,
            )
    for name, point in (("parked", "nose_wheel"), ("mains", "main_wheels")):
        facts[name] = {"files": write(folder / f"{name}.csv", parked(who, point, 0.0), who)}
    lens = plan_of(who, 0).site["lens"]["position_m"][0]
    facts["abreast"] = {"files": write(folder / "abreast.csv", parked(who, "nose_wheel", lens), who)}
    plan = plan_of(who, 0)
    (folder / "true" / "site.toml").write_text(toml(plan.site))
    aircraft = aircraft_file(who.jet, plan.points, who.reference, None)
    (folder / "true" / "aircraft.toml").write_text(toml(aircraft))
    facts["wind"] = [plan.wind_from, plan.wind_kt]
    (folder / "true" / "truth.json").write_text(json.dumps(facts, indent=1) + "\n")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("names", nargs="*")
    options = parser.parse_args()
    for who in STRANGERS:
        if not options.names or who.name in options.names:
            make(who, options.folder / who.name)
            print(f"{who.name}: {who.told}", flush=True)


if __name__ == "__main__":
    main()
