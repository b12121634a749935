"""Works the derived tables of ``authorities/`` again from their formulas, and tells where a digit differs.

``python builders/derived_tables.py`` uses no code of the product and none of its tests. A figure
agrees when it is the formula's value rounded to the digits it was printed with. It exits with 1
if one does not.
"""

from __future__ import annotations

import csv
import math
import sys
from itertools import pairwise
from math import asin, atan2, cos, degrees, hypot, pi, radians, sin, sqrt, tan
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[1] / "authorities"
#: figures that stand as they were printed although the formula rounds to another digit
PRINTED_OTHERWISE = {
    ("beam-widths", "edge of five", "1/4 nm [ft]"),
    ("beam-widths", "edge of five", "3/4 nm [ft]"),
    ("free-air-gusts", "up", "sigma [ft/s]"),
}
FOOT, MILE, KNOT, G = 0.3048, 1852.0, 1852.0 / 3600.0, 9.80665
NM = MILE / FOOT
GAS, HEATS, LAPSE, SEA_K, SEA_PA = 287.05287, 1.4, 0.0065, 288.15, 101325.0


def air(feet: float) -> tuple[float, float, float, float]:
    """K, Pa, kg/m3, kt."""
    kelvin = SEA_K - LAPSE * feet * FOOT
    pascal = SEA_PA * (kelvin / SEA_K) ** (G / (LAPSE * GAS))
    return kelvin, pascal, pascal / (GAS * kelvin), sqrt(HEATS * GAS * kelvin) / KNOT


def standard_atmosphere(r):
    return dict(zip(list(r)[2:], (None, *air(r["height [ft]"])), strict=True))


def airspeeds(r):
    _, pascal, _, sound = air(r["height [ft]"])
    impact = SEA_PA * ((1 + 0.2 * (r["calibrated [kt]"] / air(0.0)[3]) ** 2) ** 3.5 - 1)
    mach = sqrt(5 * ((impact / pascal + 1) ** (2 / 7) - 1))
    return {"mach [1]": mach, "true [kt]": mach * sound}


def turns(r):
    v, bank = r["speed [kt]"] * KNOT, radians(r["bank [deg]"])
    radius, rate = v**2 / (G * tan(bank)), G * tan(bank) / v
    return {
        "radius [ft]": radius / FOOT,
        "diameter [nm]": 2 * radius / MILE,
        "rate [deg/s]": degrees(rate),
        "half turn [s]": pi / rate,
        "load factor [1]": 1 / cos(bank),
    }


def arrests(r):
    v = r["engaging [kt]"] * KNOT
    pull = {f"{feet} ft [g]": v**2 / (2 * feet * FOOT * G) for feet in (320, 340)}
    energy = r["mass [lb]"] * v**2 / (2 * G * FOOT) / 1e6
    return {**pull, "time [s]": 2 * 340 * FOOT / v, "energy [1e6 ft-lb]": energy}


def gear_energy(r):
    return {"engaging [kt]": sqrt(2 * 47.5e6 * FOOT * G / r["mass [lb]"]) / KNOT}


def catapult_strokes(r):
    v, found = r["end speed [kt]"] * KNOT, {}
    for feet in (249.83, 306.75, 309.73):
        found[f"{feet} ft [g]"] = v**2 / (2 * feet * FOOT * G)
        found[f"{feet} ft [s]"] = 2 * feet * FOOT / v
    return found


def settles(r):
    deficit, growth = r["deficit [1]"], r["growth [1/s]"]
    return {"settle [ft]": 2 / 3 * G / FOOT * deficit**3 / growth**2, "time [s]": 2 * deficit / growth}


def glide_slope(r):
    slope = tan(radians(r["angle [deg]"]))
    miles = {"1/4 nm": 0.25, "1/2 nm": 0.5, "3/4 nm": 0.75, "1 nm": 1.0, "3 nm": 3.0}
    return {f"{name} [ft]": NM * far * slope for name, far in miles.items()} | {
        f"{feet} ft past [ft]": feet * slope for feet in (190, 210, 230, 250)
    }


def beam_widths(r):
    angle = radians(r["angle [arcmin]"] / 60)
    wide = tan(angle)
    reach = {
        "500 ft": 500,
        "1000 ft": 1000,
        "1/4 nm": NM / 4,
        "1/2 nm": NM / 2,
        "3/4 nm": NM * 0.75,
        "1 nm": NM,
    }
    return {f"{name} [ft]": feet * wide for name, feet in reach.items()}


def wire_shares(r):
    def below(x):
        return 50 * (1 + math.erf((x - 230) / (r["sigma [ft]"] * sqrt(2))))

    ends = [0.0, *(below(x) for x in (170, 210, 250, 290)), 100.0]
    names = ("wire 1", "wire 2", "wire 3", "wire 4", "none")
    return {f"{name} [%]": ends[k + 1] - ends[k] for k, name in enumerate(names)}


def hook_to_eye(r):
    x, z, pitch = r["ahead of hook [ft]"], r["above hook [ft]"], radians(r["pitch [deg]"])
    return {
        "hook to eye [ft]": x * sin(pitch) + z * cos(pitch),
        "eye ahead [ft]": x * cos(pitch) - z * sin(pitch),
    }


def sink_rates(r):
    sink = r["closure [kt]"] * KNOT / FOOT * tan(radians(r["angle [deg]"]))
    return {"sink [ft/s]": sink, "sink [ft/min]": 60 * sink}


def recovery_courses(r):
    wind, relative, bow = r["wind [kt]"], r["relative [kt]"], radians(r["from bow [deg]"])
    across, found = asin(relative * sin(bow) / wind), []
    for a in (across, pi - across):
        found.append((relative * cos(bow) - wind * cos(a), (r["from [deg]"] - degrees(a)) % 360))
    (slow, course), (fast, other) = sorted(found)
    return {
        "course [deg]": course,
        "speed [kt]": slow,
        "other course [deg]": other,
        "other speed [kt]": fast,
    }


def added(ship, course, wind, from_deg) -> tuple[float, float]:
    """Relative wind: degrees from north, kt."""
    north = ship * cos(radians(course)) + wind * cos(radians(from_deg))
    east = ship * sin(radians(course)) + wind * sin(radians(from_deg))
    return degrees(atan2(east, north)), hypot(north, east)


def deck_winds(r):
    from_north, speed = added(r["speed [kt]"], r["course [deg]"], r["wind [kt]"], r["from [deg]"])
    bow = (from_north - r["course [deg]"] + 180) % 360 - 180
    along, across = speed * cos(radians(bow + 9)), speed * sin(radians(bow + 9))
    return {"from bow [deg]": bow, "relative [kt]": speed, "along [kt]": along, "across [kt]": across}


def true_winds(r):
    apparent = r["course [deg]"] + r["from bow [deg]"]
    from_north, speed = added(-r["speed [kt]"], r["course [deg]"], r["relative [kt]"], apparent)
    return {"from [deg]": from_north % 360, "wind [kt]": speed}


def periodic_airwake(r):
    size, x = radians(1.0) * 25 * KNOT / FOOT, r["x [ft]"]
    along = size * (2.22 + 0.0009 * x) if x >= -2236 else 0.0
    return {"along [ft/s]": along, "up [ft/s]": size * (4.98 + 0.0018 * x) if x >= -2536 else 0.0}


def low_altitude_turbulence(r):
    feet = r["height [ft]"]
    bend = 0.177 + 0.000823 * feet
    return {"length [ft]": feet / bend**1.2, "sigma [ft/s]": 0.1 * 30 * KNOT / FOOT / bend**0.4}


def free_air_gusts(r):
    """Integral over spatial frequency by trapezia, whose steps grow with the frequency."""

    def spectrum(o):
        if r["id"] == "across":
            return 5900 * (1 + (400 * o) ** 2) / ((1 + (1000 * o) ** 2) * (1 + (400 * o / 3) ** 2))
        return (200 if r["id"] == "along" else 71.6) / (1 + (100 * o) ** 2)

    places = [0.0, *(10 ** (-7 + k / 1000) for k in range(12_000))]
    variance = sum((b - a) * (spectrum(a) + spectrum(b)) / 2 for a, b in pairwise(places))
    return {"sigma [ft/s]": sqrt(variance)}


def power_approach_derivatives(r):
    with (FOLDER / "power-approach-set" / "table.csv").open(encoding="utf-8", newline="") as file:
        given = {k: float(v) for k, v in next(csv.DictReader(file)).items() if "[" in k}

    def known(name, unit="1"):
        return given[f"{name} [{unit}]"]

    speed, chord = known("speed", "ft/s"), known("chord", "ft")
    force = 0.5 * 0.0023769 * speed**2 * known("area", "ft2")
    push, turn = force / (known("weight", "lb") / (G / FOOT)), force * chord / known("inertia", "slug ft2")
    lag = chord / (2 * speed)
    return {
        "Xu [1/s]": -2 * push * known("CD") / speed,
        "Zu [1/s]": -2 * push * known("CL") / speed,
        "X alpha [ft/s2]": push * (known("CL") - known("CD alpha")),
        "Z alpha [ft/s2]": -push * (known("CL alpha") + known("CD")),
        "X elevator [ft/s2]": -push * known("CD elevator"),
        "Z elevator [ft/s2]": -push * known("CL elevator"),
        "Z alpha-dot [ft/s]": -push * lag * known("CL alpha-dot"),
        "Z q [ft/s]": -push * lag * known("CL q"),
        "M alpha [1/s2]": turn * known("Cm alpha"),
        "M alpha-dot [1/s]": turn * lag * known("Cm alpha-dot"),
        "M q [1/s]": turn * lag * known("Cm q"),
        "M elevator [1/s2]": turn * known("Cm elevator"),
    }


def wgs_84(r):
    f = 1 / r["inverse flattening [1]"]
    return {"minor axis [m]": r["major axis [m]"] * (1 - f), "eccentricity squared [1]": f * (2 - f)}


def path_stability(r):
    return {"zero [1/s]": -radians(r["slope [deg/kt]"]) / KNOT * G}


def wave_encounters(r):
    met = 0.5 - 0.5**2 * 20 * KNOT * cos(radians(r["heading [deg]"])) / G
    return {"met [rad/s]": met, "period [s]": 2 * pi / met}


def earth_centred_places(r):
    a, f = 6378137.0, 1 / 298.257223563
    lat, lon, height = radians(r["latitude [deg]"]), radians(r["longitude [deg]"]), r["height [m]"]
    square = f * (2 - f)
    prime = a / sqrt(1 - square * sin(lat) ** 2)
    flat = (prime + height) * cos(lat)
    up = (prime * (1 - square) + height) * sin(lat)
    return {"x [m]": flat * cos(lon), "y [m]": flat * sin(lon), "z [m]": up}


def dis_orientations(r):
    def about(axis, angle):
        c, s = cos(angle), sin(angle)
        return {
            "x": ((1, 0, 0), (0, c, s), (0, -s, c)),
            "y": ((c, 0, -s), (0, 1, 0), (s, 0, c)),
            "z": ((c, s, 0), (-s, c, 0), (0, 0, 1)),
        }[axis]

    def times(m, n):
        return [[sum(m[i][k] * n[k][j] for k in range(3)) for j in range(3)] for i in range(3)]

    lat, lon = radians(r["latitude [deg]"]), radians(r["longitude [deg]"])
    level = (
        (-sin(lat) * cos(lon), -sin(lat) * sin(lon), cos(lat)),
        (-sin(lon), cos(lon), 0.0),
        (-cos(lat) * cos(lon), -cos(lat) * sin(lon), -sin(lat)),
    )
    body = level
    for axis, name in (("z", "heading"), ("y", "pitch"), ("x", "roll")):
        body = times(about(axis, radians(r[f"{name} [deg]"])), body)
    return {
        "psi [deg]": degrees(atan2(body[0][1], body[0][0])),
        "theta [deg]": degrees(-asin(body[0][2])),
        "phi [deg]": degrees(atan2(body[1][2], body[2][2])),
    }


WORKED = (
    standard_atmosphere,
    airspeeds,
    turns,
    arrests,
    gear_energy,
    catapult_strokes,
    settles,
    glide_slope,
    beam_widths,
    wire_shares,
    hook_to_eye,
    sink_rates,
    recovery_courses,
    deck_winds,
    true_winds,
    periodic_airwake,
    low_altitude_turbulence,
    free_air_gusts,
    wave_encounters,
    path_stability,
    power_approach_derivatives,
    wgs_84,
    earth_centred_places,
    dis_orientations,
)


def differences(work) -> tuple[int, list[str]]:
    """How many figures were worked, and those that are not the formula's to their last digit."""
    path, count, wrong = FOLDER / work.__name__.replace("_", "-") / "table.csv", 0, []
    with path.open(encoding="utf-8", newline="") as file:
        for cells in csv.DictReader(file):
            row = {k: float(v) if "[" in k and v else v for k, v in cells.items()}
            for heading, value in work(row).items():
                printed = cells[heading]
                if not printed or value is None:
                    continue
                digits = len(printed.partition(".")[2])
                off = abs(value - float(printed))
                if heading.endswith("[deg]"):
                    off = min(off, abs(360 - off))
                count += 1
                known = (path.parent.name, cells["id"], heading) in PRINTED_OTHERWISE
                if not known and off > 0.5 * 10**-digits * (1 + 1e-6):
                    wrong.append(
                        f"{path.parent.name}: {cells['id']}: {heading} {printed}, worked {value:.6g}"
                    )
    return count, wrong


def main() -> int:
    total, wrong = 0, []
    for work in WORKED:
        count, some = differences(work)
        total, wrong = total + count, wrong + some
    known = len(PRINTED_OTHERWISE)
    print(
        *wrong,
        f"{total} figures worked again, {len(wrong)} differ in the last digit; {known} known",
        sep="\n",
    )
    return bool(wrong)


if __name__ == "__main__":
    sys.exit(main())
