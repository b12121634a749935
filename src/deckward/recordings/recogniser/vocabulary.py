"""Words that columns are named by: English ones, programmers' ones, and those of many languages.

The tables of the languages stand beside (:mod:`deckward.recordings.recogniser.words`) and join those here,
which keep English and what belongs to no one language. Words are folded before they are compared
(:func:`folded`): no accents, small letters, Latin script, ``ae oe ue`` as ``a o u``. A phrase is several
words that all have to be there, in any order. Source: common practice; general knowledge of the languages.
"""

from __future__ import annotations

import re

from deckward.recordings.recogniser.folding import folded as folded
from deckward.recordings.recogniser.words import gathered

#: quantity -> phrases, split by commas. A star before a phrase: it says little by itself
QUANTITIES = {
    "time": (
        "minutes, hours, *ts, *ms, segundo, sekund, minuti, sod, seconds of day, laiko, tm, zaman sn, since launch, "
        "since startup, time, t, timestamp, stamp, elapsed, seconds, secs, sec, utc, gmt, zulu, clock, "
        "epoch, unix, tick, ticks, kl, vrema, milliseconds, millis, msec, time of day, tod, sim time, "
        "mission time, run time"
    ),
    "latitude": (
        "br, *la, lat, latitude, lati, phi geo, phi lat, geodetic latitude, northing degrees, position n "
        "s, latitude n, position ns"
    ),
    "longitude": (
        "lg, *lo, lon, lng, long, longitude, longi, longgrad, lambda, lam, lambda geo, position e w, "
        "position ew"
    ),
    "altitude": (
        "habs, hist, hgps, hmsl, hgeo, hgnss, *al, *nivel, vyskaa, how high, augstis, alt, altitude, height, hgt, ht, h, elev, *elevation, "
        "msl, amsl, asl, altimeter, quote, above sea, altitude msl, alt msl, height above sea, geometric "
        "altitude, gps altitude, true altitude, uber meer, uber nn, au dessus mer"
    ),
    "heading": (
        "hdgt, *hd, burun, hdt, brc, base recovery course, points, hdg, heading, head, yaw, psi, thdg, "
        "true heading, nose direction, *direction, *azimuth, *rotta, kurs istinny, ryskaniye, *course, "
        "bearing of nose, compass true, kompas, hoofdrichting"
    ),
    "pitch": (
        "*nose, tht, thta, nokkakulma, nose angle, nose pitch, pitch up, *pi, ptch, pch, above horizon, "
        "joush, pitch, pit, theta, nose up, nose attitude, pitch attitude, pitch angle, elevation angle, "
        "stigning, *attitude, neus, trimm, *trim"
    ),
    "roll": (
        "wing angle, wing bank, *inclinacion, banking, *ro, dontes, rll, below horizon, wing down, right "
        "wing, roll, rol, bank, bnk, phi, kantning, wing attitude, wings attitude, krangvinkel, bank "
        "angle, roll attitude, roll angle, rull, wings, *heel, *list, hellingshoek"
    ),
    "true_airspeed": (
        "vist, true as, vist, v ist, tosi ilmanopeus, tas, ktas, vtas, vt, vtrue, true airspeed, airspeed true, "
        "true speed, true air speed, speed true, istinnaa skorost, istinnaya, v true"
    ),
    "indicated_airspeed": (
        "vpr, vpribor, v cal, vcal, vpr, v pr, ias, kias, cas, kcas, eas, vias, vcas, indicated airspeed, airspeed "
        "indicated, indicated speed, speed indicated, calibrated airspeed, vitesse indiquee, vi, "
        "pribornaya"
    ),
    "speed": "speed, airspeed, air speed, spd, velocity, vel, v",
    "angle_of_attack": (
        "aoa, alf, alfa, alpha, angle attack, attack, vane alpha, incidence, angle incidence, angulo de "
        "ataque, natarcia"
    ),
    "vertical_speed": (
        "vspd, vert spd, vs, v s, vsi, vvi, ivv, ivsi, vspeed, vario, variometer, climb, climb rate, rate "
        "climb, roc, vertical speed, vertical velocity, vert speed, vert vel, vz, w up, vert skorost, "
        "speed up, velocity up, alt rate, altitude rate, hdot, h dot, rate of climb, baro rate, up speed"
    ),
    "sink": "sink, sink rate, descent rate, rate descent, descent, sinkrate, rod, snizheniye",
    "velocity_north": (
        "velocity north, vel north, vn, vel n, v north, north velocity, north speed, ns velocity, v n, vnorth"
    ),
    "velocity_east": "velocity east, vel east, ve, vel e, v east, east velocity, east speed, ew velocity, v e, veast",
    "velocity_down": "velocity down, vel down, vd, vel d, v down, down velocity, down speed, vdown, w down",
    "normal_acceleration": (
        "g load, gload, nz, n z, load factor, normal acceleration, normal acc, normal g, g force, gforce, "
        "*g, az body, vertical g, vertical acceleration, acc z"
    ),
    "radar_altitude": (
        "radar altitude, radar alt, radalt, ralt, radar height, radio altitude, radio altimeter, radio "
        "height, ra, agl, alt agl, height agl, height above ground, above ground"
    ),
    "throttle": (
        "throttle, thr, power lever, thrust, pla, tla, gashandle, gaspaadrag, gazas, power, pwr, power "
        "level, pwr lvr, *lever, gasspjall, throttle position, power setting, thrust lever"
    ),
    "engine_rpm": "rpm, engine rpm, n1, n2, engine speed, engine",
    "fuel_flow": "fuel flow, ff",
    "fuel": (
        "fuel, fuel remaining, fuel total, fuel quantity, kraftstoff, treibstoff, carburant, combustible, "
        "carburante, brandstof, bransle, combustivel, paliwo, toplivo"
    ),
    "mass": "mass, weight, gross weight, gw, all up weight, auw",
    "stick_pitch": "stick pitch, pitch stick, stick y, stick fore aft, elevator input, knuppel nick, pitch input",
    "stick_roll": "stick roll, roll stick, stick x, lateral stick, aileron input, knuppel roll, roll input",
    "elevator": (
        "elevator, elev deflection, hohenruder, profondeur, gouverne profondeur, timon profundidad, "
        "equilibratore, hoogteroer, hojdroder, ster wysokosci, rul vysoty, stabilator"
    ),
    "aileron": "aileron, querruder, aileron deflection, aleron, alettone, rolroer, skevroder, lotka, eleron",
    "pitch_trim": "pitch trim, trim pitch, elevator trim, trimmung, compensateur, compensador",
    "gear": "gear, landing gear, wheels down, undercarriage",
    "flaps": "flap, flaps",
    "hook": "hook, hk, kroku, tailhook, tail hook, arresting hook, hook position",
    "speed_brake": "speed brake, speedbrake, air brake, airbrake, spoiler, tormozny shchitok, dive brake",
    "wheel_brake": "wheel brake, brake, brakes, radbremse, bremse, frein, freins, freno, rem, broms, hamulec, tormoz",
    "weight_on_wheels": "weight on wheels, wow, on ground, on deck, ground contact",
    "wind_from": "wind dir, wind direction, wind from",
    "wind_speed": "wind speed, wind vel, wind strength, *wind",
    "sea_pressure": "qnh, sea pressure, sea level pressure, baro setting, altimeter setting, slp",
    "temperature": "temperature, temp, oat, sat, air temperature",
    "tilt": "tilt, lean, neigung, slant",
    "who": (
        "who, callsign, call sign, pilot, crew, name, tail number, rufzeichen, indicatif, indicativo, "
        "kennung, unit name, object name, *id, entity, modex, side number, player"
    ),
}

#: what is no quantity of ours -> (phrases, why it is left out)
DECOYS = {
    "magnetic": (
        "mag heading, magnetic heading, heading mag, heading magnetic, mhdg, compass, magnetic, mag, "
        "magn, magnitny",
        "a magnetic heading; headings here are true",
    ),
    "variation": (
        "variation, mag var, magvar, declination, missweisung",
        "the magnetic variation",
    ),
    "pressure_altitude": (
        "hbar, hp, zp, hpress, pressure altitude, pressure alt, press alt, palt, baro alt, baro altitude, baro, alt baro, "
        "barom, barometric, flight level, nivel vuelo, nivel voo, fl, druckhohe, altitude pression, altitud "
        "presion, quota pressione, drukhoogte, tryckhojd, standard altitude, qne",
        "a pressure altitude, off by what the weather makes of it",
    ),
    "density_altitude": (
        "density altitude, density alt",
        "a density altitude",
    ),
    "ground_speed": (
        "vput, ground speed, groundspeed, gs, kgs, sog, speed over ground, vgs, vg",
        "the speed over ground, which the positions give",
    ),
    "track": (
        "track, ground track, cog, course over ground, track angle, trk, chi",
        "the direction over ground, which the positions give",
    ),
    "path": (
        "*gamma, flight path angle, fpa, path angle, bahnwinkel, pente, climb angle",
        "the climb angle, which the positions give",
    ),
    "mach": (
        "mach, ma, machzahl",
        "a Mach number",
    ),
    "sideslip": (
        "beta, sideslip, slip, schiebewinkel, derapage, ball slip, aos",
        "the sideslip",
    ),
    "rate": (
        "pitch rate, roll rate, yaw rate, turn rate, heading rate, p rate, q rate, r rate, drehrate, "
        "nickrate, rollrate, gierrate, rate turn, omega, gyro, theta dot, phi dot, psi dot, body rate",
        "a rate of turning",
    ),
    "acceleration": (
        "acc x, acc y, ax, ay, nx, ny, lateral g, longitudinal g, lateral acceleration, longitudinal "
        "acceleration, accel, acceleration",
        "an acceleration that is not used",
    ),
    "gauge": (
        "aoa units, aoa gauge, alpha units, aoa indexer, gauge, indexer, aoa unit",
        "in the units of a gauge, not in degrees",
    ),
    "target": (
        "selected, sel heading, bug, heading bug, commanded, cmd, command, target heading, target "
        "altitude, setpoint, autopilot, soll, flight director, fd bar, desired",
        "what was commanded, not what was flown",
    ),
    "radio": (
        "range, distance, dme, bearing, tacan, ils, glideslope, localizer, loc dev, gs dev, vor",
        "a bearing or distance",
    ),
    "counter": (
        "frame, index, idx, counter, count, sample, sample number, row, line, seq, sequence, packet, no, "
        "nr, number, record, satellites, sats, hdop, vdop, pdop, fix, quality",
        "a counter or a mark of quality",
    ),
    "date": (
        "date, day, datum, fecha, data, dato, dag, month, year, weekday",
        "a date; the time column is enough",
    ),
    "letters": (
        "ns, n s, ew, e w, hemisphere, hemi, lat dir, lon dir, north south, east west",
        "the letter of a hemisphere",
    ),
    "sigma": (
        "sigma, std, accuracy, error, uncertainty, variance, rms",
        "how sure another column is",
    ),
    "rudder": (
        "rudder, pedal, pedals, seitenruder, palonnier",
        "the rudder, which is not used",
    ),
    "quaternion": (
        "q0, q1, q2, q3, q 0, q 1, q 2, q 3, qw, qx, qy, qz, quat, quaternion",
        "part of a quaternion, which no map holds; heading, pitch and roll are angles here",
    ),
    "spare": (
        "spare, reserved, unused, dummy, padding, blank",
        "a spare column",
    ),
}

#: axes of a local plane
AXES = {
    "north": "north, northing, n, pn, p n, pos n, south, southing",
    "east": "east, easting, e, pe, p e, pos e, west, westing",
    "up": "up, u, above, w gore, nach oben, vers haut, hacia arriba, verso alto, z up, pu, p u, pos u",
    "down": "down, d, z down, pd, p d, pos d",
    "x": "x, pos x, px, local x, x pos, position x, coord x",
    "y": "y, pos y, py, local y, y pos, position y, coord y",
    "z": "z, pos z, pz, local z, z pos, position z, coord z",
    "vx": "vx, vel x, velocity x, speed x, x vel, x dot, v x",
    "vy": "vy, vel y, velocity y, speed y, y vel, y dot, v y",
    "vz": "vel z, velocity z, speed z, z vel, z dot, v z",
}

SHIP = (
    "ship avianosec shp vsl tengeralattjaro carrier cv cvn boat vessel deck mother mothership host"
    " parent platform porteavions okrat bato lha lhd flattop hull tarp"
)
AIRCRAFT = (
    "aircraft acft ac plane airplane aeroplane own ownship jet craft vehicle flugzeuges samolyot"
    " apparecchio self me my player fd adc ins ahrs air data imu gps gnss gga sim nav attitude att euler"
    " rot rotation rad pos position place where loc location local world state sensor value val measured"
    " current actual filtered raw body angle ang orientation geo geographic geodetic geom geometric wgs"
    " wgs84 ellipsoid sea level mean the of in to per above through and since start a de du des la le el"
    " der die das von del di da do van av na is at by with from unit units system main total average pct"
    " percent lever true wahr vrai vraie verdadero vera vero sann istinny nn nav2 instrument panel"
    " display flight long lateral longitudinal compass"
)

#: words that say that a heading counts from true north, or that a speed is the true one
TRUE = "true tru t istinny thdg effectif real rzecz"

#: words that say that a speed is the one an instrument shows
INDICATED = "indicated ind calibrated pribor"

#: decoys that a word beside another makes of it: a magnetic heading, a pressure altitude
MAKING = frozenset(
    ("magnetic", "pressure_altitude", "density_altitude", "gauge", "target", "rate", "sigma", "spare")
)

#: words that turn a sign: (words, of which quantities)
TURNED: tuple[tuple[str, str], ...] = (
    (
        "left port links gauche izquierda sinistra vanster babord lewo levo ccw anticlockwise counterclockwise linksdrehend",
        "roll heading",
    ),
    ("west ouest oeste ovest w vest zapad westwards", "longitude east"),
    ("south sud sur s syd yug sud", "latitude north"),
    ("down unten bas abajo giu omlaag ned dol vniz", "pitch vertical_speed"),
)
#: words that confirm the usual sign
CONFIRMED: tuple[tuple[str, str], ...] = (
    ("right starboard rechts stbd droite derecha destra hoger styrbord prawo cw clockwise", "roll heading"),
    ("up bow nose oben haut arriba su omhoog", "pitch"),
    ("north nord norte noord norr n", "latitude"),
    ("east est este ost oost oster e", "longitude"),
)

#: spelling of a unit -> our suffix, by dimension; compared without blanks and dots
UNITS = {
    "angle": {
        "deg": "deg derece d ° degree degrees degs grad graus grados gradi graden grader stopnie gradusy gr dg degt °t degtrue °true degn dege dec decimal decdeg",
        "rad": "rad rads radian radians radiant radianti radianes r",
        "mrad": "mrad mrads milliradian milliradians milliradiant",
    },
    "length": {
        "m": "m meter meters metre metres metros metri mtr mt metry metrov",
        "ft": "ft feet foot fuss fuß pied pieds pie pies piedi voet fot fod pes stopy futy fit feetmsl ftmsl ftamsl ' f",
        "nm": "nm nmi seemeile seemeilen nautical",
        "km": "km kms kilometer kilometers kilometre kilometres kilometern kilometro kilometros kilometri",
    },
    "speed": {
        "mps": "m/s mps m/sn m/sek m/seg m/sec ms ms-1 mpersec meters/second metres/second meterspersecond metrespersecond mpers mts/s м/с",
        "kt": "kt kts kn kn. knot knots knoten nudo nudos noeud noeuds nodi knopen knop knots. nos uzly wezly uzlov",
        "fps": "ft/s fps ft/sec feet/second feetpersecond ftpersec fuss/s pieds/s",
        "kmh": "km/h km/ch kmch km/sa km/saat km/godz km/std km/ora km/hora km/heure km/uur km/timme km/god km/g km/t km/tim km/u kmh kph km/hr kmperh kilometersperhour km/std",
        "mph": "mph mi/h miles/h miles/hour milesperhour mileshour",
        "fpm": "ft/min fpm fit/dk fit/dakika voet/minuut fuss/minute pieds/minute pies/minuto piedi/minuto stop/min fut/min ft/m feet/minute feetperminute feet/min pieds/min voet/min fuss/min fot/min pies/min piedi/min ftpermin pes/min",
    },
    "time": {
        "h": "h hr hrs hour hours stunden heures horas ore timmar godziny",
        "us": "us µs usec usecs micros microsec microsecond microseconds mikrosekunden microsecondes microsegundos",
        "s": "s sn saniye sekund sec secs second seconds sek sekunden secondes segundos secondi seconden sekunder sekundy",
        "ms": "ms msec millis millisecond milliseconds msecs",
        "min": "min mins minute minutes minuten minuti minutos minuter minuty",
    },
    "mass": {"kg": "kg kgs kilo kilogram kilograms", "lb": "lb lbs pound pounds"},
    "flow": {"kgps": "kg/s kgps", "pph": "pph lb/h lbs/h lb/hr lbs/hr"},
    "pressure": {"pa": "pa", "hpa": "hpa mbar mb millibar", "inhg": "inhg in.hg in"},
    "temperature": {"c": "c °c celsius degc", "k": "k kelvin"},
    "acceleration": {"mps2": "m/s2 m/s^2 m/s² mps2", "g": "g gs"},
    "fraction": {"pct": "pct % percent prozent procent"},
}  # fmt: skip
#: units that columns come in and that cannot be read, by what they are
FOREIGN_UNITS = {
    "deg/s": "deg/s °/s rad/s dps deg/sec degpers",
    "hundreds of feet": "fl hundreds hft",
    "gauge units": "units unit cu",
    "turns": "rev turns",
}


def _add_phrases(more: dict[str, tuple[str, ...]]) -> None:
    for key, phrases in more.items():
        if key in DECOYS:
            words, why = DECOYS[key]
            DECOYS[key] = (", ".join((words, *phrases)), why)
        else:
            table = AXES if key in AXES else QUANTITIES
            table[key] = ", ".join((table[key], *phrases))


def _add_units(more: dict[str, dict[str, tuple[str, ...]]]) -> None:
    for dimension, rows in more.items():
        known = {spelling for row in UNITS[dimension].values() for spelling in row.split()}
        for suffix, spellings in rows.items():
            new = (spelling for spelling in spellings if spelling not in known)
            UNITS[dimension][suffix] = " ".join((UNITS[dimension][suffix], *new))


_OURS = " ".join(
    map(str, (QUANTITIES, DECOYS, AXES, SHIP, AIRCRAFT, TRUE, INDICATED, TURNED, CONFIRMED, UNITS))
)
# the words of all languages join the tables above
_words = gathered()
#: words that are no part of a compound
WHOLE = _words.whole - set(re.findall("[a-z]+", _OURS))
_add_phrases(_words.phrases)
_add_phrases(_words.axes)
_add_units(_words.units)
_single = {term: " ".join(words) for term, words in _words.single.items()}
SHIP += f" {_single['ship']}"
AIRCRAFT += f" {_single['fill']}"
TRUE += f" {_single['true']}"
INDICATED += f" {_single['ind']}"
TURNED += (
    (_single["left"], "roll heading"),
    (_single["west"], "longitude east"),
    (_single["south"], "latitude north"),
    (_single["down"], "pitch vertical_speed"),
)
CONFIRMED += (
    (_single["right"], "roll heading"),
    (_single["up"], "pitch"),
    (_single["north"], "latitude"),
    (_single["east"], "longitude"),
)
