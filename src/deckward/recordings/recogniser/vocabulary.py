"""Words that columns are named by, in several languages.

Words are folded before they are compared (:func:`folded`): no accents, small letters, Latin
script, ``ae oe ue`` as ``a o u``. A phrase is several words that all have to be there, in
any order. Source: common practice; general knowledge of the languages.
"""

from __future__ import annotations

import re
import unicodedata

_LATIN = str.maketrans(
    {
        "ß": "ss", "ł": "l", "ø": "o", "æ": "a", "œ": "o", "đ": "d", "ı": "i", "þ": "th", "ð": "d",
        "а": "a", "б": "b", "в": "v", "г": "g", "д": "d", "е": "e", "ё": "e", "ж": "zh", "з": "z",
        "и": "i", "й": "y", "к": "k", "л": "l", "м": "m", "н": "n", "о": "o", "п": "p", "р": "r",
        "с": "s", "т": "t", "у": "u", "ф": "f", "х": "kh", "ц": "ts", "ч": "ch", "ш": "sh", "щ": "shch",
        "ъ": "", "ы": "y", "ь": "", "э": "e", "ю": "yu", "я": "ya", "і": "i", "ї": "yi", "є": "ye",
        "α": " alpha ", "β": " beta ", "θ": " theta ", "φ": " phi ", "ϕ": " phi ", "ψ": " psi ",
        "λ": " lambda ", "γ": " gamma ", "χ": " chi ", "°": "°", "º": "°", "˚": "°", "′": "'", "″": '"',
    }
)  # fmt: skip


#: Greek words in Latin letters; a Greek letter that stands alone is a symbol (see above)
_GREEK = str.maketrans(dict(zip(
    "αβγδεζηθικλμνξοπρσςτυφχψω",
    ("a", "v", "g", "d", "e", "z", "i", "th", "i", "k", "l", "m", "n", "x", "o", "p", "r", "s", "s", "t", "y",
     "f", "ch", "ps", "o"),
    strict=True,
)))  # fmt: skip
#: words of East Asian scripts, which part no words, in ours: Japanese, Chinese, Korean
_EAST_ASIAN = {
    "latitude": "緯度 纬度 위도",
    "longitude": "経度 經度 经度 경도",
    "angle attack": "迎角 迎え角 攻角 받음각",
    "altitude": "高度 고도",
    "heading": "機首方位 方位 航向 기수방위 방위",
    "pitch": "ピッチ 縦揺れ 俯仰角 俯仰 피치",
    "roll": "ロール バンク 横揺れ 滚转角 滚转 横滚 롤",
    "true airspeed": "真対気速度 真空速 진대기속도",
    "indicated airspeed": "指示対気速度 指示空速 表速 지시대기속도",
    "speed": "対気速度 空速 速度 속도",
    "vertical speed": "昇降率 升降率 승강률",
    "time": "時刻 時間 时间 시각 시간",
    "throttle": "スロットル 油门 油門 스로틀",
    "ship": "母艦 空母 艦 航母 舰 船 항모",
    "s": "秒",
    "ft": "フィート 英尺",
    "m": "メートル 米",
    "kt": "ノット",
}
_EAST_ASIAN_WORDS = {word: f" {ours} " for ours, words in _EAST_ASIAN.items() for word in words.split()}
_EAST_ASIAN_WORD = re.compile("|".join(sorted(map(re.escape, _EAST_ASIAN_WORDS), key=len, reverse=True)))
_GREEK_WORD = re.compile("[\u0370-\u03ff\u1f00-\u1fff]{3,}")


def _in_latin(word: re.Match[str]) -> str:
    bare = "".join(c for c in unicodedata.normalize("NFKD", word[0]) if not unicodedata.combining(c))
    return bare.translate(_GREEK)


def folded(text: str) -> str:
    """Fold a text: small letters, Latin script, no accents, ``ae oe ue`` as ``a o u``.

    >>> folded("Höhe"), folded("Hoehe"), folded("Высота")
    ('hohe', 'hohe', 'vysota')
    """
    if not text.isascii():
        text = _EAST_ASIAN_WORD.sub(lambda found: _EAST_ASIAN_WORDS[found[0]], text)
    small = _GREEK_WORD.sub(_in_latin, text.casefold()).translate(_LATIN)
    # the breve and the umlaut of composed letters go, the letters themselves were Latin by now
    plain = "".join(c for c in unicodedata.normalize("NFKD", small) if not unicodedata.combining(c))
    for pair, letter in (("ae", "a"), ("oe", "o"), ("ue", "u")):
        plain = plain.replace(pair, letter)
    return plain.translate(_LATIN)


#: quantity -> phrases, split by commas. A star before a phrase: it says little by itself
QUANTITIES = {
    "time": (
        "minutes, minuten, hours, heures, stunden, jikoku, laufzeit, tijdstip, secondi, segundo, sekund, minutos, minuti, sod, seconds of day, laiko, tm, timp, idopont, zaman sn, vreme, cas, since launch, since startup, aeg, laikas, laiks, time, t, timestamp, stamp, elapsed, seconds, secs, sec, utc, gmt, zulu, clock, epoch, unix, tick, ticks,"
        "zeit, uhrzeit, zeitstempel, temps, heure, horodatage, instant, tiempo, hora, tempo, ora, orario, tijd,"
        "tid, tidpunkt, klockslag, klokkeslett, klokken, kl, czas, godzina, vremya, vrema, chas, cas, aika, ido,"
        "zaman, saat, jikan, milliseconds, millis, msec, marca tiempo, time of day, tod, sim time, mission time, run time"
    ),
    "latitude": (
        "geografska sirina, zemljepisna sirina, hokui, br, *la, platuma, platums, laiuskraad, laius, platos, leveyspiiri, latitudinea, geogr sirka, zem sirka, lat, latitude, lati, breite, breitengrad, geobreite, latitud, latitudine, breedte, breedtegraad,"
        "breddgrad, bredd, breddegrad, bredde, szerokosc, szerokosc geogr, szer, shirota, sirka, zemepisna sirka,"
        "enlem, leveysaste, szelesseg, phi geo, phi lat, geodetic latitude, northing degrees, position n s,"
        "latitude n, position ns"
    ),
    "longitude": (
        "dovgota, geografska duzina, toukei, lg, *lo, zemljepisna dolzina, ilguma, garums, pikkuskraad, pikkus, mikos, pituuspiiri, longitudinea, zem delka, keido, geogr delka, lon, lng, long, longitude, longi, lange, langengrad, geolange, longitud, longitudine, lengte, lengtegraad,"
        "langd, langdgrad, longgrad, lengdegrad, langde, langdegrad, dlugosc, dlugosc geogr, dlug, dolgota, delka,"
        "boylam, pituusaste, hosszusag, lambda, lam, lambda geo, position e w, position ew"
    ),
    "altitude": (
        "visota, vys, nadmorska vyska, takasa, kodo, *al, aukstis, augstums, ypsos, *nivel, irtifa, koudo, inaltime, inaltimea, vyskaa, how high, visina, augstis, korgus, alt, altitude, height, hgt, ht, h, elev, *elevation, msl, amsl, asl, altimeter, hohe, flughohe, altitud, altura,"
        "hauteur, quota, quote, altezza, hoogte, vlieghoogte, hojd, flyghojd, hoyde, hojde, flyvehojde, wysokosc, wys, vysota,"
        "vyska, yukseklik, korkeus, magassag, above sea, altitude msl, alt msl, height above sea, geometric altitude,"
        "gps altitude, true altitude, uber meer, uber nn, sobre nivel mar, au dessus mer, livello mare, boven zee"
    ),
    "heading": (
        "hdgt, richtung, kishu houi, kishu, houkou, kierunek, napravlenie, *hd, kursrichtung, bas, burun, hdt, rwk, suunta, keulasuunta, kurz, irany, bas acisi, cap adevarat, houi, brc, base recovery course, points, smjer, kurss, hdg, heading, head, yaw, psi, thdg, true heading, nose direction, *direction, kurs, steuerkurs, *azimuth, *azimut, gier,"
        "gierwinkel, cap, lacet, rumbo, guinada, prua, *rotta, imbardata, koers, gierhoek, kurs rechtweisend,"
        "riktning, retning, proa, guinada, odchylenie, kurs geogr, kurs istinny, ryskanie, ryskaniye, smer, *course,"
        "bearing of nose, compass true, cap vrai, gir, stevnretning, kompas, styrkurs, hoofdrichting, voorligging"
    ),
    "pitch": (
        "*nose, nokkakulma, nose angle, nose pitch, tateyure, fugyokaku, picchiata, angulo cabeceo, pitch up, *pi, pituuskallistus, nyokkays, podelny sklon, bolintas, yunuslama, tangaj, ptch, pch, above horizon, joush, pitch, pit, theta, nick, nickwinkel, langsneigung, assiette, tangage, assiette longitudinale, cabeceo,"
        "beccheggio, assetto, neusstand, stamphoek, stampen, tippvinkel, tipp, tippning, arfagem, pochylenie, tangazh,"
        "nose up, nose attitude, pitch attitude, pitch angle, elevation angle, klopeni, naesestilling, nasestilling, stigvinkel,"
        "stigning, stampvinkel, langshelling, *attitude, kat pochylenia, neus, nos, nicklage, langsneigungswinkel, trimm, cabrage, *trim"
    ),
    "roll": (
        "kallistus, pricny sklon, wing angle, wing bank, yokoyure, keisha, keishakaku, rolagem, inclinazione laterale, inclinaison laterale, inclinacion lateral, *inclinacion, banking, yana yatis, *ro, dontes, yatis, ruliu, rll, below horizon, wing down, right wing, roll, rol, bank, bnk, phi, rollwinkel, querneigung, querlage, schraglage, hangewinkel, roulis, inclinaison, gite,"
        "alabeo, balanceo, rollio, inclinazione, rolhoek, rollen, dwarshelling, helling, rollvinkel, lutning, krangning, krengning, krenging, kantning, doles, oldaldoles, sbandamento, wing attitude, wings attitude, krangvinkel,"
        "rolamento, inclinacao, przechylenie, przechyl, kren, naklon, bank angle, roll attitude, roll angle, rulle, rull,"
        "kat przechylenia, slagzij, wings, *heel, *list, krangung, hellingshoek"
    ),
    "true_airspeed": (
        "true as, istinna shvidkist, shin taiki sokudo, shin sokudo, shintaikisokudo, vist, v ist, vitesse reelle, velocidad real, velocita reale, velocita effettiva, velocidade real, werkelijke snelheid, gercek surat, tatsachliche geschwindigkeit,  viteza adevarata, prava brzina, skutecna rychlost, tosi ilmanopeus, prava rychlost, valos sebesseg, gercek hava hizi, gercek hiz, tas, ktas, vtas, vt, vtrue, true airspeed, airspeed true, true speed, true air speed, speed true, wahre geschwindigkeit,"
        "wahre fluggeschwindigkeit, eigengeschwindigkeit, wahre eigengeschwindigkeit, vitesse vraie, vitesse air vraie,"
        "vitesse propre, velocidad verdadera, velocidad aerea verdadera, velocita vera, ware luchtsnelheid, ware snelheid,"
        "sann fart, sann hastighet, velocidade verdadeira, predkosc rzeczywista, istinnaya skorost, istinnaa skorost, istinnaya, v true"
    ),
    "indicated_airspeed": (
        "v cal, vcal, mittarinopeus, shiji taiki sokudo, shiji sokudo, vpr, v pr, gosterge hizi, gosterilen hiz, velocidade calibrada, velocidad calibrada, vitesse corrigee, indikovana rychlost, ias, kias, cas, kcas, eas, vias, vcas, indicated airspeed, airspeed indicated, indicated speed, speed indicated, calibrated airspeed,"
        "angezeigte geschwindigkeit, angezeigte fluggeschwindigkeit, fahrtmesser, vitesse indiquee, vi, vitesse conventionnelle, badin,"
        "velocidad indicada, velocita indicata, aangewezen snelheid, indikerad fart, indikerad hastighet, velocidade indicada,"
        "predkosc wskazywana, predkosc przyrzadowa, pribornaya skorost, pribornaya, anemometro"
    ),
    "speed": (
        "speed, geschw, airspeed, air speed, spd, taiki sokudo, sokudo, surat, hava hizi, velocity, vel, v, fahrt, fart, hastighet, hastighed, geschwindigkeit, fluggeschwindigkeit, vitesse, vitesse air, velocidad,"
        "velocita, snelheid, luchtsnelheid, velocidade, predkosc, skorost, rychlost, hiz, nopeus, sebesseg, ilmanopeus, shvidkist, viteza, brzina, hitrost, greitis, atrums, kiirus, tachytita"
    ),
    "angle_of_attack": (
        "kut ataki, unghi atac, mukaekaku, mukae kaku, kut napada, napadni kut, vpadni kot, uhol nabehu, kohtauskulma, uhel nabehu, hucum acisi, allasszog, unghi incidenta, geikaku, aoa, alpha, alfa, angle attack, attack, vane alpha, anstellwinkel, anstellung, incidence, incidenza, angle incidence, angulo ataque,"
        "angolo attacco, invalshoek, anfallsvinkel, angrepsvinkel, indfaldsvinkel, angulo de ataque, kat natarcia, natarcia, natarcie, ugol ataki,"
        "uhel nabehu, angle attaque"
    ),
    "vertical_speed": (
        "pystynopeus, stoupani, shoukou ritsu, shoukouritsu, joshoritsu, joushou ritsu, joushouritsu, tirmanma, rateo salita, dikey hiz, emelkedes, vspd, vert spd, vs, vsi, vvi, ivv, ivsi, vspeed, vario, variometer, variometre, climb, climb rate, rate climb, roc, vertical speed,"
        "vertical velocity, vert speed, vert vel, vz, w up, steigrate, steiggeschwindigkeit, steigen, vertikalgeschwindigkeit, vitesse verticale, taux montee,"
        "velocidad vertical, velocidad ascenso, ascenso, velocita verticale, variometro, stijgsnelheid, klimsnelheid, verticale snelheid,"
        "stighastighet, stigfart, vertikal hastighet, velocidade vertical, razao subida, wznoszenie, predkosc pionowa, wariometr,"
        "vertikalnaya skorost, vert skorost, skoropodemnost, speed up, velocity up, alt rate, altitude rate, hdot, h dot, rate of climb,"
        "baro rate, up speed"
    ),
    "sink": (
        "sink, sink rate, alcalma, kouka ritsu, koukaritsu, rateo discesa, descent rate, rate descent, descent, sinkrate, sinkgeschwindigkeit, sinken, rod, taux descente, daalsnelheid, sjunkhastighet,"
        "velocidad descenso, razao descida, opadanie, snizhenie, snizheniye, taux chute"
    ),
    "velocity_north": "velocity north, vel north, vn, vel n, v north, north velocity, north speed, ns velocity, v n, nord geschwindigkeit, vnorth",
    "velocity_east": "velocity east, vel east, ve, vel e, v east, east velocity, east speed, ew velocity, v e, ost geschwindigkeit, veast",
    "velocity_down": "velocity down, vel down, vd, vel d, v down, down velocity, down speed, vdown",
    "normal_acceleration": (
        "g load, gload, nz, n z, load factor, normal acceleration, normal acc, normal g, g force, gforce, *g, az body, lastvielfaches,"
        "facteur charge, factor carga, fattore carico, belastningsfaktor, przeciazenie, peregruzka, vertical g, vertical acceleration, acc z"
    ),
    "radar_altitude": (
        "radar altitude, radar alt, radalt, ralt, radar height, radio altitude, radio altimeter, radio height, ra, agl, alt agl, height agl, height above ground,"
        "funkhohe, radarhohe, radiosonde, hauteur radio, altura radio, quota radio, radiohoogte, radiohojd, radiovysota, above ground"
    ),
    "throttle": (
        "throttle, thr, power lever, gaz kolu, suiryoku, shutsuryoku, potencia, potenza, puissance, leistung, vermogen, effekt, moc, moshchnost, tyaga, ciag, schub, poussee, empuje, empuxo, spinta, stuwkracht, dragkraft, thrust, itki, pla, tla, gashebel, gas, schubhebel, leistungshebel, manette, manette gaz, acelerador, palanca gases, manetta, gashendel, gashandle, gaspadrag, gaspaadrag, maneta, maneta gaze, gazas, power, pwr, power level, pwr lvr, *lever, gass, plyn, plynova paka,"
        "gasspjall, gasreglage, manete, przepustnica, rud, gaz, throttle position, power setting, thrust lever"
    ),
    "engine_rpm": "rpm, engine rpm, n1, n2, engine speed, drehzahl, regime, regime moteur, giri, toerental, varvtal, obroty, oboroty, engine",
    "fuel_flow": "fuel flow, ff, kraftstofffluss, debit carburant, flujo combustible, flusso carburante, bransleflode, raskhod topliva",
    "fuel": "fuel, fuel remaining, fuel total, fuel quantity, kraftstoff, treibstoff, carburant, combustible, carburante, brandstof, bransle, combustivel, paliwo, toplivo",
    "mass": "mass, weight, gross weight, gw, all up weight, auw, masse, gewicht, poids, peso, massa, vikt, ves, masa, flugmasse",
    "stick_pitch": "stick pitch, pitch stick, stick y, stick fore aft, elevator input, knuppel nick, pitch input",
    "stick_roll": "stick roll, roll stick, stick x, lateral stick, aileron input, knuppel roll, roll input",
    "elevator": "elevator, elev deflection, hohenruder, profondeur, gouverne profondeur, timon profundidad, equilibratore, hoogteroer, hojdroder, ster wysokosci, rul vysoty, stabilator",
    "aileron": "aileron, querruder, aileron deflection, aleron, alettone, rolroer, skevroder, lotka, eleron",
    "pitch_trim": "pitch trim, trim pitch, elevator trim, trimmung, compensateur, compensador",
    "gear": "gear, landing gear, inis takimi, chakuriku souchi, wheels down, undercarriage, fahrwerk, train, train atterrissage, tren, tren aterrizaje, carrello, landingsgestel, onderstel, landstall, trem, trem pouso, podwozie, shassi",
    "flaps": "flap, flaps, klappen, landeklappen, wolbklappen, volets, volet, flapes, ipersostentatori, kleppen, klaff, klaffar, klapy, zakrylki",
    "hook": "hook, hk, carlig, fukku, chakkan fukku, kroku, kanca, yakalama kancasi, kuka, koukku, tailhook, tail hook, arresting hook, hook position, haken, fanghaken, crosse, crosse appontage, gancho, gancio, haak, vanghaak, krok, fangkrok, hak, gak",
    "speed_brake": "speed brake, speedbrake, air brake, airbrake, spoiler, bremsklappe, bremsklappen, luftbremse, aerofrein, aerofreno, luchtrem, luftbroms, tormozny shchitok, dive brake",
    "wheel_brake": "wheel brake, brake, brakes, radbremse, bremse, frein, freins, freno, rem, broms, hamulec, tormoz",
    "weight_on_wheels": "weight on wheels, wow, on ground, on deck, am boden, au sol, en tierra, a terra, ground contact",
    "wind_from": "wind dir, wind direction, wind from, windrichtung, direction vent, direccion viento, direzione vento, windrichting, vindriktning, kierunek wiatru",
    "wind_speed": "wind speed, wind vel, wind strength, *wind, windgeschwindigkeit, windstarke, vitesse vent, velocidad viento, velocita vento, windsnelheid, vindstyrka, predkosc wiatru",
    "sea_pressure": "qnh, sea pressure, sea level pressure, baro setting, altimeter setting, luftdruck, slp",
    "temperature": "temperature, temp, oat, sat, air temperature, lufttemperatur, temperatur, temperatura, temperatuur",
    "tilt": "tilt, lean, neigung, slant",
    "who": "who, callsign, call sign, pilot, crew, name, tail number, rufzeichen, indicatif, indicativo, kennung, unit name, object name, *id, entity, modex, side number, player",
}  # fmt: skip

#: what is no quantity of ours -> (phrases, why it is left out)
DECOYS = {
    "magnetic": (
        "mag heading, magnetic heading, heading mag, heading magnetic, mhdg, compass, magnetic, mag, kompasskurs, missweisend,"
        "cap magnetique, magnetique, rumbo magnetico, prua magnetica, magnetico, magnetica, magnetisk, magnetyczny, magnitny, magnetisch",
        "a magnetic heading; headings here are true",
    ),
    "variation": ("variation, mag var, magvar, declination, missweisung", "the magnetic variation"),
    "pressure_altitude": (
        "pressure altitude, pressure alt, press alt, palt, baro alt, baro altitude, baro, alt baro, barometric, flight level, nivel vuelo, nivel voo, fl, druckhohe,"
        "altitude pression, altitud presion, quota pressione, drukhoogte, tryckhojd, standard altitude, qne",
        "a pressure altitude, off by what the weather makes of it",
    ),
    "density_altitude": ("density altitude, density alt", "a density altitude"),
    "ground_speed": (
        "ground speed, groundspeed, gs, kgs, sog, speed over ground, vgs, vg, grundgeschwindigkeit, geschwindigkeit uber grund, vitesse sol,"
        "velocidad suelo, velocita suolo, grondsnelheid, fart over grund, putevaya skorost, predkosc podrozna",
        "the speed over ground, which the positions give",
    ),
    "track": (
        "track, ground track, cog, course over ground, track angle, trk, chi, kurs uber grund, route sol, route, grondkoers, putevoy ugol",
        "the direction over ground, which the positions give",
    ),
    "path": ("*gamma, flight path angle, fpa, path angle, bahnwinkel, pente, climb angle", "the climb angle, which the positions give"),
    "mach": ("mach, ma, machzahl", "a Mach number"),
    "sideslip": ("beta, sideslip, slip, schiebewinkel, derapage, ball slip, aos", "the sideslip"),
    "rate": (
        "pitch rate, roll rate, yaw rate, turn rate, heading rate, p rate, q rate, r rate, drehrate, nickrate, rollrate, gierrate,"
        "rate turn, omega, gyro, theta dot, phi dot, psi dot, body rate",
        "a rate of turning",
    ),
    "acceleration": (
        "acc x, acc y, ax, ay, nx, ny, lateral g, longitudinal g, lateral acceleration, longitudinal acceleration, accel, acceleration",
        "an acceleration that is not used",
    ),
    "gauge": ("aoa units, aoa gauge, alpha units, aoa indexer, gauge, indexer, aoa unit", "in the units of a gauge, not in degrees"),
    "target": (
        "selected, sel heading, bug, heading bug, commanded, cmd, command, target heading, target altitude, setpoint, autopilot, soll, flight director, fd bar, desired",
        "what was commanded, not what was flown",
    ),
    "radio": ("range, distance, dme, bearing, tacan, ils, glideslope, localizer, loc dev, gs dev, vor, entfernung", "a bearing or distance"),
    "counter": (
        "frame, index, idx, counter, count, sample, sample number, row, line, seq, sequence, packet, no, nr, number, record, satellites, sats, hdop, vdop, pdop, fix, quality",
        "a counter or a mark of quality",
    ),
    "date": ("date, day, datum, fecha, data, dato, dag, month, year, weekday", "a date; the time column is enough"),
    "letters": ("ns, n s, ew, e w, hemisphere, hemi, lat dir, lon dir, north south, east west", "the letter of a hemisphere"),
    "sigma": ("sigma, std, accuracy, error, uncertainty, variance, rms", "how sure another column is"),
    "rudder": ("rudder, pedal, pedals, seitenruder, palonnier", "the rudder, which is not used"),
    "spare": ("spare, reserved, unused, dummy, padding, blank", "a spare column"),
}  # fmt: skip

#: axes of a local plane
AXES = {
    "north": "north, northing, nord, norte, noord, norr, n, sever, south, southing",
    "east": "east, easting, est, este, oost, ost, oster, e, vostok, west, westing",
    "up": "up, u, above, z up, hoch",
    "down": "down, d, z down",
    "x": "x, pos x, px, local x, x pos, position x, coord x",
    "y": "y, pos y, py, local y, y pos, position y, coord y",
    "z": "z, pos z, pz, local z, z pos, position z, coord z",
    "vx": "vx, vel x, velocity x, speed x, x vel, x dot, v x",
    "vy": "vy, vel y, velocity y, speed y, y vel, y dot, v y",
    "vz": "vel z, velocity z, speed z, z vel, z dot, v z",
}

SHIP = (
    "ship kan kansen bokan avianosec shp vsl lod lode tengeralattjaro hajo gemisi vapor kuubo carrier cv cvn boat vessel deck boot mother mothership host parent platform schiff trager flugzeugtrager navire bateau porte porteavions"
    " buque barco portaaviones portaviones nave portaerei schip vliegdekschip fartyg hangarfartyg bat navio porta okret okrat lotniskowiec"
    " statek korabl korabel avianosets nave nava laev kugis laivas ploio skip hangarskip skib hangarskib bato laiva gemi lha lhd shp flattop hull tarp")  # fmt: skip
AIRCRAFT = (
    "aircraft acft ac plane airplane aeroplane own ownship jet craft vehicle flugzeug flieger avion aereo vliegtuig flygplan fly flugzeuges aviao samolot"
    " samolyot letadlo ucak hikouki kitai appareil apparecchio self me my player fd adc ins ahrs air data imu gps gnss gga sim nav attitude att euler rot rotation rad pos position place"
    " where loc location local world state sensor value val measured current actual filtered raw body angle ang lage winkel angolo angulo angle kat"
    " vinkel hoek ugol orientation geo geogr geographic geodetic geom geometric wgs wgs84 ellipsoid sea level mean the of in to per above over through and since start"
    " a de du des la le el der die das von del di da du do van av na is at by with from unit units system main total average pct percent lever"
    " air true wahr vrai vraie verdadero vera vero sann istinny uber nn nav2 instrument panel display flight plane data"
    " long lateral longitudinal compass kaku" )  # fmt: skip

#: words that say that a heading counts from true north, or that a speed is the true one
TRUE = (
    "true tru t vrai vraie istinny istinnaya thdg rechtweisend verdadeira verdadero verdadera vero vera rattvisande"
    " ware wahr wahre wahrer wahres tatsachlich tatsachliche effettiva effettivo effectif effective efectiva efectivo real reale reelle reel werkelijke shin sann sant sanna prava pravy gercek tosi valos rzecz rzeczywisty rzeczywista"
)  # fmt: skip

#: words that say that a speed is the one an instrument shows
INDICATED = (
    "indicated calibrated angezeigt angezeigte kalibriert kalibrierte indique indiquee corrigee indicada calibrada indicata"
    " calibrata aangewezen indikerad visad wskazywana przyrzadowa pribornaya pribor gosterge gosterilen shiji"
)  # fmt: skip

#: decoys that a word beside another makes of it: a magnetic heading, a pressure altitude
MAKING = frozenset(
    ("magnetic", "pressure_altitude", "density_altitude", "gauge", "target", "rate", "sigma", "spare")
)

#: words that turn a sign: (words, of which quantities)
TURNED = (
    (
        "left port links gauche izquierda sinistra vanster babord lewo levo ccw anticlockwise counterclockwise linksdrehend",
        "roll heading",
    ),
    ("west ouest oeste ovest w vest zapad westwards", "longitude east"),
    ("south sud sur s syd yug sud", "latitude north"),
    ("down unten bas abajo giu omlaag ned dol vniz", "pitch vertical_speed"),
)
#: words that confirm the usual sign
CONFIRMED = (
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
