"""What the names of columns say, in the words of many recorders and languages.

The words are common usage in their languages, as general dictionaries have them: general knowledge, from
memory.
"""

from __future__ import annotations

import pytest

from deckward.recordings.recogniser.names import is_unit, read_name, unit_in

#: (name, craft and quantity, unit)
NAMED = [
    ("altitude_ft", "altitude", "ft"),
    ("Alt (ft MSL)", "altitude", "ft"),
    ("ALT [feet]", "altitude", "ft"),
    ("height_above_sea_m", "altitude", "m"),
    ("Flughöhe in Metern", "altitude", "m"),
    ("Hoehe [Fuß]", "altitude", "ft"),
    ("altitude (pieds)", "altitude", "ft"),
    ("quota_metri", "altitude", "m"),
    ("Высота (м)", "altitude", "m"),
    ("groundSpeedKts", "ground_speed", None),
    ("tas_kts", "true_airspeed", "kt"),
    ("KTAS", "true_airspeed", "kt"),
    ("KIAS", "indicated_airspeed", "kt"),
    ("True Airspeed (km/h)", "true_airspeed", "kmh"),
    ("trueAirspeedMps", "true_airspeed", "mps"),
    ("calibrated airspeed, kn", "indicated_airspeed", "kt"),
    ("Speed", "speed", None),
    ("Geschwindigkeit [m/s]", "speed", "mps"),
    ("hdg", "heading", None),
    ("Heading (°T)", "heading", "deg"),
    ("psi_rad", "heading", "rad"),
    ("mag_hdg", "magnetic", None),
    ("Kompasskurs", "magnetic", None),
    ("Pitch Angle [deg]", "pitch", "deg"),
    ("pitch_rate_dps", "rate", None),
    ("tangage (rad)", "pitch", "rad"),
    ("bankAngleDeg", "roll", "deg"),
    ("Querneigung °", "roll", "deg"),
    ("AoA", "angle_of_attack", None),
    ("AOA units", "gauge", None),
    ("alpha_deg", "angle_of_attack", "deg"),
    ("vertical speed (ft/min)", "vertical_speed", "fpm"),
    ("VSI fpm", "vertical_speed", "fpm"),
    ("Steigrate m/s", "vertical_speed", "mps"),
    ("sink rate [fps]", "sink", "fps"),
    ("RadAlt_ft", "radar_altitude", "ft"),
    ("pressure altitude", "pressure_altitude", None),
    ("baro_alt_ft", "pressure_altitude", "ft"),
    ("selected heading", "target", None),
    ("ship_latitude_deg", "ship latitude", "deg"),
    ("carrier lon", "ship longitude", None),
    ("CVN.position.lat", "ship latitude", None),
    ("boatHdg", "ship heading", None),
    ("Schiff Kurs [°]", "ship heading", "deg"),
    ("navire_cap", "ship heading", None),
    ("mothership.attitude.pitch", "ship pitch", None),
    ("Throttle %", "throttle", "pct"),
    ("Fahrwerk", "gear", None),
    ("tail hook", "hook", None),
    ("fuel_lbs", "fuel", "lb"),
    ("gross weight kg", "mass", "kg"),
    ("nz", "normal_acceleration", None),
    ("wind direction (deg)", "wind_from", "deg"),
    ("QNH [hPa]", "sea_pressure", "hpa"),
    ("OAT °C", "temperature", "c"),
    ("callsign", "who", None),
    ("unixTimeMs", "time", "ms"),
    ("Elapsed seconds", "time", "s"),
    ("czas", "time", None),
    ("pos.x", "x", None),
    ("vel_z", "vz", None),
    ("Y_North_ft", "north", "ft"),
]


@pytest.mark.parametrize(("name", "means", "unit"), NAMED)
def test_a_name_is_read(name, means, unit):
    best = read_name(name)[0]
    assert (("ship " if best.ship else "") + best.quantity, best.unit) == (means, unit)


@pytest.mark.parametrize("name", ["", "   ", "p7", "???", "zzz", "_", "42"])
def test_a_name_that_says_nothing_is_not_guessed_at(name):
    assert read_name(name) == []


@pytest.mark.parametrize(
    ("name", "turned"),
    [
        ("bank left", -1),
        ("bank right", 1),
        ("west long", -1),
        ("headingCCW", -1),
        ("nose up", 0),
        ("roll", 0),
    ],
)
def test_words_that_turn_a_sign_are_heard(name, turned):
    assert read_name(name)[0].turned == turned


@pytest.mark.parametrize(
    ("spelling", "dimension", "unit"),
    [
        ("ft", "length", "ft"),
        ("Feet MSL", "length", "ft"),
        ("m/s", "speed", "mps"),
        ("metres per second", "speed", "mps"),
        ("ft / min", "speed", "fpm"),
        ("kts", "speed", "kt"),
        ("km/h", "speed", "kmh"),
        ("°", "angle", "deg"),
        ("deg true", "angle", "deg"),
        ("msec", "time", "ms"),
        ("m/s²", "acceleration", "mps2"),
        ("furlong", "length", None),
        ("kt", "length", None),
    ],
)
def test_units_are_read_in_many_spellings(spelling, dimension, unit):
    assert unit_in(spelling, dimension) == unit


def test_a_unit_row_says_what_the_name_does_not():
    assert read_name("h", "[ft]")[0].unit == "ft"
    assert is_unit("[m/s]")
    assert is_unit("-")
    assert not is_unit("Altitude")


#: language: header => craft and quantity, unit (a dash where the header says none); a bar parts them
HEADERS = """
English
lat => latitude - | lng => longitude - | Elevation (ft) => altitude ft | phi_deg => roll deg
tht (deg) => pitch deg | psi (rad) => heading rad | alf_deg => angle_of_attack deg
vt (kt) => true_airspeed kt | vtas_mps => true_airspeed mps | vcas_kts => indicated_airspeed kt
roc_fpm => vertical_speed fpm | ROD (ft/min) => sink fpm | h_dot (m/s) => vertical_speed mps
hdot [ft/s] => vertical_speed fps | Nz (g) => normal_acceleration g | thr_pct => throttle pct
PLA (deg) => throttle - | trk => track - | Bearing to ship (deg) => ship radio -
Course over ground (°) => track - | Weight on wheels => weight_on_wheels -
Ship's true heading (deg) => ship heading deg | Carrier pitch (deg) => ship pitch deg
VVI (ft/min) => vertical_speed fpm | Angle of bank [rad] => roll rad
Rate of descent (feet per minute) => sink fpm | Ship speed (kt) => ship speed kt
German
Zeit [s] => time s | Geographische Breite [Grad] => latitude deg | Längengrad [Grad] => longitude deg
Höhe über dem Meeresspiegel [Fuß] => altitude ft | rechtweisender Kurs [°] => heading deg
Missweisender Kurs [°] => magnetic - | Kurs über Grund [°] => track - | Nickwinkel [Grad] => pitch deg
Längsneigung [Bogenmaß] => pitch rad | Wanken [°] => roll deg | Querneigung [rad] => roll rad
Gieren [°] => heading deg | Fahrt wahr [Knoten] => true_airspeed kt
Angezeigte Fahrt [km/h] => indicated_airspeed kmh | Fluggeschwindigkeit [m/s] => speed mps
Geschwindigkeit über Grund [kt] => ground_speed - | Anstellwinkel [Grad] => angle_of_attack deg
Steiggeschwindigkeit [Meter pro Sekunde] => vertical_speed mps
Variometer [Fuß pro Minute] => vertical_speed fpm | Sinkrate [m/s] => sink mps | Hochwert [m] => north m
Rechtswert [m] => east m | Nordwert [m] => north m | Ostwert [Fuß] => east ft
Gashebelstellung [Prozent] => throttle pct | Fanghaken => hook - | Lastvielfaches => normal_acceleration -
Landeklappen => flaps - | Fahrwerk => gear - | Windrichtung [°] => wind_from deg
Breite des Schiffs [°] => ship latitude deg | Trägerkurs [°] => ship heading deg
Schiffslänge [Grad] => ship longitude deg
French
Temps écoulé (s) => time s | Latitude (degrés) => latitude deg
Altitude au-dessus de la mer (pieds) => altitude ft | Cap vrai (degrés) => heading deg
Cap magnétique (°) => magnetic - | Route sol (°) => track - | Assiette longitudinale (°) => pitch deg
Inclinaison (radians) => roll rad | Roulis (°) => roll deg | Vitesse propre (nœuds) => true_airspeed kt
Vitesse indiquée (nœuds) => indicated_airspeed kt | Vitesse sol (nœuds) => ground_speed -
Incidence (degrés) => angle_of_attack deg | Vitesse ascensionnelle (mètres par seconde) => vertical_speed mps
Taux de montée (pieds par minute) => vertical_speed fpm | Taux de chute (m/s) => sink mps
Facteur de charge => normal_acceleration - | Manette des gaz (%) => throttle pct
Crosse d'appontage => hook - | Volets => flaps - | Train d'atterrissage => gear - | Masse (kg) => mass kg
Latitude du porte-avions (°) => ship latitude deg | Cap du navire (degrés) => ship heading deg
Tangage du bateau (°) => ship pitch deg
Spanish
Tiempo (segundos) => time s | Latitud (grados) => latitude deg | Longitud (grados) => longitude deg
Altitud sobre el nivel del mar (pies) => altitude ft | Rumbo verdadero (grados) => heading deg
Rumbo magnético (°) => magnetic - | Cabeceo (grados) => pitch deg | Alabeo (radianes) => roll rad
Velocidad verdadera (nudos) => true_airspeed kt | Velocidad indicada (nudos) => indicated_airspeed kt
Velocidad respecto al suelo (nudos) => ground_speed - | Ángulo de ataque (grados) => angle_of_attack deg
Velocidad vertical (pies por minuto) => vertical_speed fpm
Régimen de ascenso (metros por segundo) => vertical_speed mps | Régimen de descenso (pies/min) => sink fpm
Factor de carga => normal_acceleration - | Palanca de gases (%) => throttle pct
Tren de aterrizaje => gear - | Gancho de apontaje => hook - | Combustible (kg) => fuel kg
Dirección del viento (°) => wind_from deg | Latitud del portaaviones (°) => ship latitude deg
Rumbo del buque (grados) => ship heading deg | Balanceo del buque (°) => ship roll deg
Italian
Tempo (secondi) => time s | Latitudine (gradi) => latitude deg | Longitudine (gradi) => longitude deg
Quota sul livello del mare (piedi) => altitude ft | Prua vera (gradi) => heading deg
Prua magnetica (gradi) => magnetic - | Beccheggio (gradi) => pitch deg | Rollio (radianti) => roll rad
Velocità vera (nodi) => true_airspeed kt | Velocità indicata (nodi) => indicated_airspeed kt
Velocità al suolo (nodi) => ground_speed - | Angolo di attacco (gradi) => angle_of_attack deg
Rateo di salita (piedi al minuto) => vertical_speed fpm
Velocità verticale (metri al secondo) => vertical_speed mps | Rateo di discesa (m/s) => sink mps
Fattore di carico => normal_acceleration - | Manetta (%) => throttle pct | Gancio di arresto => hook -
Carrello => gear - | Peso (kg) => mass kg | Latitudine della nave (°) => ship latitude deg
Prua della portaerei (gradi) => ship heading deg
Portuguese
Tempo (segundos) => time s | Longitude (graus) => longitude deg
Altitude acima do nível do mar (pés) => altitude ft | Proa verdadeira (graus) => heading deg
Rumo magnético (graus) => magnetic - | Arfagem (graus) => pitch deg | Rolamento (radianos) => roll rad
Inclinação lateral (graus) => roll deg | Velocidade verdadeira (nós) => true_airspeed kt
Velocidade indicada (nós) => indicated_airspeed kt | Velocidade do solo (nós) => ground_speed -
Ângulo de ataque (graus) => angle_of_attack deg | Razão de subida (pés por minuto) => vertical_speed fpm
Velocidade vertical (metros por segundo) => vertical_speed mps | Razão de descida (pés/min) => sink fpm
Manete de potência (%) => throttle pct | Trem de pouso => gear - | Gancho de parada => hook -
Fator de carga => normal_acceleration - | Latitude do navio (graus) => ship latitude deg
Rumo do porta-aviões (graus) => ship heading deg | Balanço do navio (graus) => ship roll deg
Catalan
Temps (segons) => time s | Latitud (graus) => latitude deg | Alçada (peus) => altitude ft
Rumb vertader (graus) => heading deg | Capcineig (graus) => pitch deg | Balanceig (graus) => roll deg
Velocitat vertadera (nusos) => true_airspeed kt | Velocitat indicada (nusos) => indicated_airspeed kt
Angle d'atac (graus) => angle_of_attack deg | Velocitat vertical (metres per segon) => vertical_speed mps
Taxa de descens (m/s) => sink mps | Potència (%) => throttle pct | Ganxo => hook -
Latitud del vaixell (graus) => ship latitude deg | Rumb del portaavions (graus) => ship heading deg
Romanian
Timp (secunde) => time s | Latitudine (grade) => latitude deg | Longitudine (grade) => longitude deg
Înălțime (metri) => altitude m | Altitudine (picioare) => altitude ft | Cap adevărat (grade) => heading deg
Cap magnetic (grade) => magnetic - | Tangaj (grade) => pitch deg | Ruliu (radiani) => roll rad
Viteză adevărată (noduri) => true_airspeed kt | Viteza indicată (noduri) => indicated_airspeed kt
Viteză la sol (noduri) => ground_speed - | Unghi de atac (grade) => angle_of_attack deg
Viteză verticală (metri pe secundă) => vertical_speed mps | Rata de coborâre (m/s) => sink mps
Manetă de gaze (%) => throttle pct | Cârlig => hook - | Tren de aterizare => gear -
Latitudinea navei (grade) => ship latitude deg | Capul portavionului (grade) => ship heading deg
Dutch
Tijd (seconden) => time s | Breedtegraad (graden) => latitude deg | Lengtegraad (graden) => longitude deg
Hoogte boven zee (voet) => altitude ft | Ware koers (graden) => heading deg
Magnetische koers (graden) => magnetic - | Grondkoers (graden) => track - | Stamphoek (graden) => pitch deg
Rolhoek (graden) => roll deg | Dwarshelling (radialen) => roll rad
Ware luchtsnelheid (knopen) => true_airspeed kt | Aangewezen luchtsnelheid (knopen) => indicated_airspeed kt
Grondsnelheid (knopen) => ground_speed - | Invalshoek (graden) => angle_of_attack deg
Stijgsnelheid (voet per minuut) => vertical_speed fpm
Verticale snelheid (meter per seconde) => vertical_speed mps | Daalsnelheid (m/s) => sink mps
Gashendel (procent) => throttle pct | Vanghaak => hook - | Landingsgestel => gear -
Breedte van het schip (graden) => ship latitude deg | Koers vliegdekschip (graden) => ship heading deg
Slingeren schip (graden) => ship roll deg
Danish
Tid (sekunder) => time s | Breddegrad (grader) => latitude deg | Længdegrad (grader) => longitude deg
Højde over havet (fod) => altitude ft | Retvisende kurs (grader) => heading deg
Misvisende kurs (grader) => magnetic - | Kurs over grunden (°) => track - | Stampning (grader) => pitch deg
Krængning (grader) => roll deg | Sand flyvehastighed (knob) => true_airspeed kt
Indikeret hastighed (knob) => indicated_airspeed kt | Fart over grunden (knob) => ground_speed -
Indfaldsvinkel (grader) => angle_of_attack deg | Stigehastighed (fod/min) => vertical_speed fpm
Lodret hastighed (meter i sekundet) => vertical_speed mps | Synkehastighed (m/s) => sink mps
Gashåndtag (procent) => throttle pct | Fangkrog => hook - | Understel => gear -
Skibets breddegrad (grader) => ship latitude deg | Hangarskibets kurs (grader) => ship heading deg
Norwegian
Tid (sekunder) => time s | Breddegrad (grader) => latitude deg | Lengdegrad (grader) => longitude deg
Høyde over havet (fot) => altitude ft | Rettvisende kurs (grader) => heading deg
Misvisende kurs (grader) => magnetic - | Kurs over grunn (°) => track - | Stampvinkel (grader) => pitch deg
Krengning (grader) => roll deg | Sann flyhastighet (knop) => true_airspeed kt
Indikert hastighet (knop) => indicated_airspeed kt | Fart over grunn (knop) => ground_speed -
Angrepsvinkel (grader) => angle_of_attack deg | Stigehastighet (fot per minutt) => vertical_speed fpm
Vertikalhastighet (meter per sekund) => vertical_speed mps | Synkehastighet (m/s) => sink mps
Gasshåndtak (prosent) => throttle pct | Fangkrok => hook - | Skipets breddegrad (grader) => ship latitude deg
Hangarskipets kurs (grader) => ship heading deg
Swedish
Tid (sekunder) => time s | Latitud (grader) => latitude deg | Längdgrad (grader) => longitude deg
Höjd över havet (fot) => altitude ft | Rättvisande kurs (grader) => heading deg
Missvisande kurs (grader) => magnetic - | Tippvinkel (grader) => pitch deg | Krängning (radianer) => roll rad
Bankning (grader) => roll deg | Sann fart (knop) => true_airspeed kt
Indikerad flyghastighet (knop) => indicated_airspeed kt | Fart över grund (knop) => ground_speed -
Anfallsvinkel (grader) => angle_of_attack deg | Stighastighet (fot per minut) => vertical_speed fpm
Vertikalhastighet (meter per sekund) => vertical_speed mps | Sjunkhastighet (m/s) => sink mps
Gasreglage (procent) => throttle pct | Fångkrok => hook - | Landställ => gear -
Fartygets latitud (grader) => ship latitude deg | Hangarfartygets kurs (grader) => ship heading deg
Icelandic
Tími (sekúndur) => time s | Breiddargráða (gráður) => latitude deg | Lengdargráða (gráður) => longitude deg
Hæð yfir sjávarmáli (fet) => altitude ft | Stefna (gráður) => heading deg
Segulstefna (gráður) => magnetic - | Velta (gráður) => roll deg
Sannur flughraði (hnútar) => true_airspeed kt | Áfallshorn (gráður) => angle_of_attack deg
Klifurhraði (metrar á sekúndu) => vertical_speed mps | Krókur => hook -
Breiddargráða skips (gráður) => ship latitude deg
Polish
Czas (sekundy) => time s | Szerokość geograficzna (stopnie) => latitude deg
Długość geograficzna (stopnie) => longitude deg | Wysokość nad poziomem morza (stopy) => altitude ft
Kurs rzeczywisty (stopnie) => heading deg | Kurs magnetyczny (stopnie) => magnetic -
Pochylenie (stopnie) => pitch deg | Przechylenie (radiany) => roll rad
Prędkość rzeczywista (węzły) => true_airspeed kt | Prędkość przyrządowa (węzły) => indicated_airspeed kt
Prędkość względem ziemi (węzły) => ground_speed - | Kąt natarcia (stopnie) => angle_of_attack deg
Prędkość pionowa (metry na sekundę) => vertical_speed mps
Wznoszenie (stopy na minutę) => vertical_speed fpm | Opadanie (m/s) => sink mps
Przeciążenie => normal_acceleration - | Przepustnica (procent) => throttle pct | Hak => hook -
Podwozie => gear - | Klapy => flaps - | Szerokość geograficzna okrętu (stopnie) => ship latitude deg
Kurs lotniskowca (stopnie) => ship heading deg | Przechył statku (stopnie) => ship roll deg
Czech
Čas (sekundy) => time s | Zeměpisná šířka (stupně) => latitude deg
Zeměpisná délka (stupně) => longitude deg | Nadmořská výška (stopy) => altitude ft
Kurz zeměpisný (stupně) => heading deg | Magnetický kurz (stupně) => magnetic -
Podélný sklon (stupně) => pitch deg | Příčný náklon (stupně) => roll deg
Pravá vzdušná rychlost (uzly) => true_airspeed kt | Indikovaná rychlost (uzly) => indicated_airspeed kt
Traťová rychlost (uzly) => ground_speed - | Úhel náběhu (stupně) => angle_of_attack deg
Vertikální rychlost (metry za sekundu) => vertical_speed mps
Stoupání (stopy za minutu) => vertical_speed fpm | Klesání (m/s) => sink mps
Přípusť (procenta) => throttle pct | Záchytný hák => hook - | Podvozek => gear -
Násobek přetížení => normal_acceleration - | Zeměpisná šířka lodi (stupně) => ship latitude deg
Kurz letadlové lodi (stupně) => ship heading deg
Slovak
Čas (sekundy) => time s | Zemepisná šírka (stupne) => latitude deg
Zemepisná dĺžka (stupne) => longitude deg | Nadmorská výška (stopy) => altitude ft
Zemepisný kurz (stupne) => heading deg | Pozdĺžny sklon (stupne) => pitch deg
Priečny náklon (stupne) => roll deg | Skutočná rýchlosť (uzly) => true_airspeed kt
Indikovaná rýchlosť (uzly) => indicated_airspeed kt | Uhol nábehu (stupne) => angle_of_attack deg
Vertikálna rýchlosť (metre za sekundu) => vertical_speed mps | Klesanie (m/s) => sink mps
Záchytný hák => hook - | Zemepisná šírka lode (stupne) => ship latitude deg
Kurz lode (stupne) => ship heading deg
Slovene
Čas (sekunde) => time s | Zemljepisna širina (stopinje) => latitude deg
Zemljepisna dolžina (stopinje) => longitude deg | Nadmorska višina (čevlji) => altitude ft
Prava smer (stopinje) => heading deg | Magnetna smer (stopinje) => magnetic -
Vzdolžni nagib (stopinje) => pitch deg | Bočni nagib (stopinje) => roll deg
Prava zračna hitrost (vozli) => true_airspeed kt | Indicirana hitrost (vozli) => indicated_airspeed kt
Vpadni kot (stopinje) => angle_of_attack deg | Navpična hitrost (metri na sekundo) => vertical_speed mps
Hitrost spuščanja (m/s) => sink mps | Kavelj => hook - | Smer ladje (stopinje) => ship heading deg
Croatian
Vrijeme (sekunde) => time s | Geografska širina (stupnjevi) => latitude deg
Geografska dužina (stupnjevi) => longitude deg | Nadmorska visina (stope) => altitude ft
Pravi kurs (stupnjevi) => heading deg | Magnetski kurs (stupnjevi) => magnetic -
Propinjanje (stupnjevi) => pitch deg | Valjanje (stupnjevi) => roll deg
Poprečni nagib (stupnjevi) => roll deg | Stvarna zračna brzina (čvorovi) => true_airspeed kt
Indicirana brzina (čvorovi) => indicated_airspeed kt | Napadni kut (stupnjevi) => angle_of_attack deg
Vertikalna brzina (metri u sekundi) => vertical_speed mps | Brzina poniranja (m/s) => sink mps
Kuka => hook - | Geografska širina broda (stupnjevi) => ship latitude deg
Kurs nosača zrakoplova (stupnjevi) => ship heading deg
Serbian
Време (секунде) => time s | Географска ширина (степени) => latitude deg
Географска дужина (степени) => longitude deg | Надморска висина (метри) => altitude m
Стварна брзина (чворови) => true_airspeed kt | Нападни угао (степени) => angle_of_attack deg
Курс брода (степени) => ship heading deg
Russian
Время (с) => time s | Широта (град) => latitude deg | Географическая долгота (градусы) => longitude deg
Высота над уровнем моря (футы) => altitude ft | Истинный курс (градусы) => heading deg
Магнитный курс (градусы) => magnetic - | Путевой угол (град) => track - | Тангаж (градусы) => pitch deg
Крен (радианы) => roll rad | Истинная воздушная скорость (узлы) => true_airspeed kt
Приборная скорость (км/ч) => indicated_airspeed kmh | Путевая скорость (км/ч) => ground_speed -
Угол атаки (градусы) => angle_of_attack deg | Вертикальная скорость (м/с) => vertical_speed mps
Скороподъёмность (метры в секунду) => vertical_speed mps | Скорость снижения (м/с) => sink mps
Перегрузка => normal_acceleration - | РУД (%) => throttle pct | Тормозной гак => hook - | Шасси => gear -
Закрылки => flaps - | Масса (кг) => mass kg | Направление ветра (град) => wind_from deg
Широта корабля (град) => ship latitude deg | Курс авианосца (град) => ship heading deg
Бортовая качка судна (град) => ship roll deg
Ukrainian
Час (секунди) => time s | Широта (градуси) => latitude deg | Довгота (градуси) => longitude deg
Висота над рівнем моря (фути) => altitude ft | Істинний курс (градуси) => heading deg
Магнітний курс (градуси) => magnetic - | Тангаж (градуси) => pitch deg | Крен (градуси) => roll deg
Істинна швидкість (вузли) => true_airspeed kt | Приладова швидкість (вузли) => indicated_airspeed kt
Кут атаки (градуси) => angle_of_attack deg | Вертикальна швидкість (метри на секунду) => vertical_speed mps
Швидкість зниження (м/с) => sink mps | Гак => hook - | Широта корабля (градуси) => ship latitude deg
Курс авіаносця (градуси) => ship heading deg
Bulgarian
Време (секунди) => time s | Географска ширина (градуси) => latitude deg
Географска дължина (градуси) => longitude deg | Надморска височина (футове) => altitude ft
Истински курс (градуси) => heading deg | Магнитен курс (градуси) => magnetic -
Тангаж (градуси) => pitch deg | Крен (градуси) => roll deg | Истинска скорост (възли) => true_airspeed kt
Приборна скорост (възли) => indicated_airspeed kt | Ъгъл на атака (градуси) => angle_of_attack deg
Вертикална скорост (метри в секунда) => vertical_speed mps | Скорост на снижение (м/с) => sink mps
Кука => hook - | Ширина на кораба (градуси) => ship latitude deg
Курс на самолетоносача (градуси) => ship heading deg
Hungarian
Idő (másodperc) => time s | Földrajzi szélesség (fok) => latitude deg
Földrajzi hosszúság (fok) => longitude deg | Tengerszint feletti magasság (láb) => altitude ft
Valódi irány (fok) => heading deg | Mágneses irány (fok) => magnetic - | Bólintás (fok) => pitch deg
Bedöntés (fok) => roll deg | Dőlésszög (radián) => roll rad | Valódi légsebesség (csomó) => true_airspeed kt
Műszer szerinti sebesség (csomó) => indicated_airspeed kt | Állásszög (fok) => angle_of_attack deg
Függőleges sebesség (m/s) => vertical_speed mps | Emelkedés (láb/perc) => vertical_speed fpm
Merülés (m/s) => sink mps | Gázkar (százalék) => throttle pct | Fékhorog => hook - | Futómű => gear -
Hajó szélesség (fok) => ship latitude deg | Anyahajó irány (fok) => ship heading deg
Finnish
Aika (sekuntia) => time s | Leveysaste (astetta) => latitude deg | Pituusaste (astetta) => longitude deg
Korkeus merenpinnasta (jalkaa) => altitude ft | Tosisuunta (astetta) => heading deg
Magneettinen suunta (astetta) => magnetic - | Pituuskallistus (astetta) => pitch deg
Kallistuskulma (astetta) => roll deg | Tosi-ilmanopeus (solmua) => true_airspeed kt
Mittarinopeus (solmua) => indicated_airspeed kt | Maanopeus (solmua) => ground_speed -
Kohtauskulma (astetta) => angle_of_attack deg | Pystynopeus (metriä sekunnissa) => vertical_speed mps
Nousunopeus (jalkaa/min) => vertical_speed fpm | Vajoamisnopeus (m/s) => sink mps
Kaasuvipu (%) => throttle pct | Pysäytyskoukku => hook - | Laskuteline => gear -
Laivan leveysaste (astetta) => ship latitude deg | Lentotukialuksen suunta (astetta) => ship heading deg
Estonian
Aeg (sekundit) => time s | Laiuskraad (kraadi) => latitude deg | Pikkuskraad (kraadi) => longitude deg
Kõrgus merepinnast (jalga) => altitude ft | Tõeline kurss (kraadi) => heading deg
Magnetkurss (kraadi) => magnetic - | Külgkalle (kraadi) => roll deg
Tõeline õhkkiirus (sõlme) => true_airspeed kt | Kohtumisnurk (kraadi) => angle_of_attack deg
Vertikaalkiirus (m/s) => vertical_speed mps | Konks => hook -
Laeva laiuskraad (kraadi) => ship latitude deg
Latvian
Laiks (sekundes) => time s | Ģeogrāfiskais platums (grādi) => latitude deg
Ģeogrāfiskais garums (grādi) => longitude deg | Augstums virs jūras līmeņa (pēdas) => altitude ft
Patiesais kurss (grādi) => heading deg | Sānsvere (grādi) => roll deg
Patiesais gaisa ātrums (mezgli) => true_airspeed kt | Atakas leņķis (grādi) => angle_of_attack deg
Vertikālais ātrums (metri sekundē) => vertical_speed mps | Āķis => hook -
Kuģa kurss (grādi) => ship heading deg
Lithuanian
Laikas (sekundės) => time s | Platuma (laipsniai) => latitude deg | Ilguma (laipsniai) => longitude deg
Aukštis virš jūros lygio (pėdos) => altitude ft | Tikrasis kursas (laipsniai) => heading deg
Tangažas (laipsniai) => pitch deg | Posvyris (laipsniai) => roll deg
Tikrasis oro greitis (mazgai) => true_airspeed kt | Atakos kampas (laipsniai) => angle_of_attack deg
Vertikalus greitis (m/s) => vertical_speed mps | Kablys => hook -
Laivo kursas (laipsniai) => ship heading deg
Greek
Χρόνος (δευτερόλεπτα) => time s | Γεωγραφικό πλάτος (μοίρες) => latitude deg
Γεωγραφικό μήκος (μοίρες) => longitude deg | Ύψος (πόδια) => altitude ft
Αληθής πορεία (μοίρες) => heading deg | Μαγνητική πορεία (μοίρες) => magnetic -
Πρόνευση (μοίρες) => pitch deg | Κλίση (μοίρες) => roll deg | Αληθής ταχύτητα (κόμβοι) => true_airspeed kt
Γωνία προσβολής (μοίρες) => angle_of_attack deg | Κατακόρυφη ταχύτητα (πόδια ανά λεπτό) => vertical_speed fpm
Άγκιστρο => hook - | Πορεία πλοίου (μοίρες) => ship heading deg
Γεωγραφικό πλάτος πλοίου (μοίρες) => ship latitude deg
Turkish
Zaman (saniye) => time s | Enlem (derece) => latitude deg | Boylam (derece) => longitude deg
Deniz seviyesinden yükseklik (fit) => altitude ft | Gerçek baş (derece) => heading deg
Manyetik baş (derece) => magnetic - | Yunuslama açısı (derece) => pitch deg
Yatış açısı (derece) => roll deg | Gerçek hava hızı (knot) => true_airspeed kt
Gösterge hava hızı (knot) => indicated_airspeed kt | Yer hızı (knot) => ground_speed -
Hücum açısı (derece) => angle_of_attack deg | Dikey hız (fit/dakika) => vertical_speed fpm
Tırmanma hızı (m/sn) => vertical_speed mps | Alçalma hızı (m/sn) => sink mps
Gaz kolu (yüzde) => throttle pct | Yakalama kancası => hook - | İniş takımı => gear -
Geminin enlemi (derece) => ship latitude deg | Uçak gemisi baş açısı (derece) => ship heading deg
Indonesian
Waktu (detik) => time s | Lintang (derajat) => latitude deg | Bujur (derajat) => longitude deg
Ketinggian (kaki) => altitude ft | Haluan sejati (derajat) => heading deg
Haluan magnetik (derajat) => magnetic - | Sudut angguk (derajat) => pitch deg
Sudut guling (derajat) => roll deg | Kecepatan udara sejati (knot) => true_airspeed kt
Kecepatan udara tertunjuk (knot) => indicated_airspeed kt | Kecepatan darat (knot) => ground_speed -
Sudut serang (derajat) => angle_of_attack deg | Kecepatan vertikal (kaki per menit) => vertical_speed fpm
Laju turun (m/s) => sink mps | Arah angin (derajat) => wind_from deg | Kait penahan => hook -
Lintang kapal (derajat) => ship latitude deg | Haluan kapal induk (derajat) => ship heading deg
Malay
Longitud (darjah) => longitude deg | Haluan benar (darjah) => heading deg
Kadar pendakian (kaki/minit) => vertical_speed fpm
Vietnamese
Thời gian (giây) => time s | Vĩ độ (độ) => latitude deg | Kinh độ (độ) => longitude deg
Độ cao (mét) => altitude m | Hướng mũi (độ) => heading deg | Góc chúc ngóc (độ) => pitch deg
Góc nghiêng (độ) => roll deg | Tốc độ thật (km/giờ) => true_airspeed kmh
Góc tấn (độ) => angle_of_attack deg | Tốc độ thẳng đứng (m/giây) => vertical_speed mps
Hướng gió (độ) => wind_from deg | Vĩ độ tàu (độ) => ship latitude deg
Hướng mũi tàu sân bay (độ) => ship heading deg
Swahili
Wakati (sekunde) => time s | Latitudo (digrii) => latitude deg | Longitudo (digrii) => longitude deg
Mwinuko (futi) => altitude ft | Mwelekeo (digrii) => heading deg
Kasi halisi ya hewa (noti) => true_airspeed kt | Kasi ya kupanda (mita kwa sekunde) => vertical_speed mps
Kasi ya kushuka (m/s) => sink mps | Mwelekeo wa meli (digrii) => ship heading deg
Latitudo ya meli (digrii) => ship latitude deg
Japanese
時刻 (秒) => time s | 緯度 (度) => latitude deg | 経度 (度) => longitude deg | 高度 (フィート) => altitude ft
機首方位 (度) => heading deg | 磁方位 (度) => magnetic - | ピッチ角 (度) => pitch deg
バンク角 (度) => roll deg | 真対気速度 (ノット) => true_airspeed kt
指示対気速度 (ノット) => indicated_airspeed kt | 対地速度 (ノット) => ground_speed -
迎角 (度) => angle_of_attack deg | 昇降率 (フィート/分) => vertical_speed fpm
降下率 (メートル/秒) => sink mps | 着艦フック => hook - | 母艦緯度 (度) => ship latitude deg
空母の機首方位 (度) => ship heading deg | 風向 (度) => wind_from deg
気圧高度 (フィート) => pressure_altitude ft | Ido (do) => time - | Keido => longitude -
Koudo (m) => altitude m | Kishu houi (deg) => heading deg | Taiki sokudo (kt) => speed kt
Chinese
时间 (秒) => time s | 纬度 (度) => latitude deg | 经度 (度) => longitude deg | 海拔高度 (米) => altitude m
航向 (度) => heading deg | 磁航向 (度) => magnetic - | 俯仰角 (度) => pitch deg | 滚转角 (弧度) => roll rad
真空速 (节) => true_airspeed kt | 指示空速 (节) => indicated_airspeed kt | 地速 (节) => ground_speed -
攻角 (度) => angle_of_attack deg | 升降率 (米/秒) => vertical_speed mps | 下降率 (英尺/分钟) => sink fpm
油门 (百分比) => throttle pct | 襟翼 => flaps - | 起落架 => gear - | 航母纬度 (度) => ship latitude deg
航母航向 (度) => ship heading deg | 過載 => normal_acceleration - | 緯度 (度) => latitude deg
滾轉角 (度) => roll deg | 艦航向 (度) => ship heading deg | weidu => latitude - | gaodu (m) => altitude m
hangxiang (deg) => heading deg
Korean
시간 (초) => time s | 위도 (도) => latitude deg | 경도 (도) => longitude deg | 고도 (피트) => altitude ft
기수방위 (도) => heading deg | 자방위 (도) => magnetic - | 피치각 (도) => pitch deg | 롤각 (도) => roll deg
진대기속도 (노트) => true_airspeed kt | 지시대기속도 (노트) => indicated_airspeed kt
받음각 (도) => angle_of_attack deg | 승강률 (피트/분) => vertical_speed fpm | 강하율 (미터/초) => sink mps
스로틀 (퍼센트) => throttle pct | 항공모함 위도 (도) => ship latitude deg
함정 침로 (도) => ship heading deg
Arabic
الوقت (ثانية) => time s | خط العرض (درجة) => latitude deg | خط الطول (درجة) => longitude deg
الارتفاع (قدم) => altitude ft | الاتجاه الحقيقي (درجة) => heading deg
السرعة الحقيقية (عقدة) => true_airspeed kt | السرعة الأرضية (عقدة) => ground_speed -
زاوية الهجوم (درجة) => angle_of_attack deg | السرعة العمودية (متر/ثانية) => vertical_speed mps
اتجاه السفينة (درجة) => ship heading deg | خط العرض للسفينة => ship latitude -
Hebrew
זמן (שניות) => time s | קו רוחב (מעלות) => latitude deg | קו אורך (מעלות) => longitude deg
גובה (רגל) => altitude ft | מהירות אמיתית (קשר) => true_airspeed kt
זווית התקפה (מעלות) => angle_of_attack deg | מהירות אנכית (מטר/שניות) => vertical_speed mps
קו רוחב ספינה (מעלות) => ship latitude deg
Hindi
समय (सेकंड) => time s | अक्षांश (डिग्री) => latitude deg | देशांतर (डिग्री) => longitude deg
ऊँचाई (फीट) => altitude ft | वास्तविक वायु गति (नॉट) => true_airspeed kt
आक्रमण कोण (डिग्री) => angle_of_attack deg | ऊर्ध्वाधर गति (मीटर/सेकंड) => vertical_speed mps
जहाज अक्षांश (डिग्री) => ship latitude deg
"""


def _headers():
    language = ""
    for line in HEADERS.strip().splitlines():
        if "=>" not in line:
            language = line
            continue
        for row in line.split(" | "):
            header, _, what = row.partition(" => ")
            *means, unit = what.split()
            yield pytest.param(
                header, " ".join(means), None if unit == "-" else unit, id=f"{language} {header}"
            )


@pytest.mark.parametrize(("header", "means", "unit"), list(_headers()))
def test_a_header_is_read_in_its_language(header, means, unit):
    best = read_name(header)[0]
    assert (("ship " if best.ship else "") + best.quantity, best.unit) == (means, unit)


@pytest.mark.parametrize(
    "name",
    [
        "Schiffsgeschwindigkeit [kn]",
        "Vitesse du bateau (nœuds)",
        "Velocidad del buque (nudos)",
        "Velocità della nave (nodi)",
        "Velocidade do navio (nós)",
        "Viteza navei (noduri)",
        "Snelheid schip (knopen)",
        "Skibets fart (knob)",
        "Skipets fart (knop)",
        "Fartygets fart (knop)",
        "Prędkość okrętu (węzły)",
        "Rychlost lodi (uzly)",
        "Hitrost ladje (vozli)",
        "Brzina broda (čvorovi)",
        "Скорость корабля (узлы)",
        "Hajó sebessége (csomó)",
        "Laivan nopeus (solmua)",
        "Laeva kiirus (sõlme)",
        "Kuģa ātrums (mezgli)",
        "Laivo greitis (mazgai)",
        "Ταχύτητα πλοίου (κόμβοι)",
        "Gemi hızı (knot)",
        "Kecepatan kapal (knot)",
        "船速 (ノット)",
        "舰速 (节)",
        "함속 (노트)",
    ],
)
def test_a_ships_speed_is_no_airspeed(name):
    best = read_name(name)[0]
    assert (best.ship, best.quantity, best.unit) == (True, "speed", "kt")


@pytest.mark.parametrize(
    "name",
    [
        "Höhe des Flugzeugs (m)",
        "Altitude de l'avion (m)",
        "Altura del avión (m)",
        "Altezza del velivolo (m)",
        "Altitude da aeronave (m)",
        "Altitudinea avionului (m)",
        "Hoogte vliegtuig (m)",
        "Flyets højde (m)",
        "Planets höjd (m)",
        "Wysokość samolotu (m)",
        "Výška letadla (m)",
        "Višina letala (m)",
        "Visina zrakoplova (m)",
        "Высота самолёта (м)",
        "Repülőgép magassága (m)",
        "Koneen korkeus (m)",
        "Uçağın irtifası (m)",
        "Ketinggian pesawat (m)",
        "Độ cao máy bay (m)",
        "飞机高度 (米)",
        "飛行機の高度 (m)",
        "항공기 고도 (미터)",
    ],
)
def test_the_aircraft_is_no_ship(name):
    """A ship that is called after the aircraft it carries lends them no word."""
    best = read_name(name)[0]
    assert (best.ship, best.quantity, best.unit) == (False, "altitude", "m")


@pytest.mark.parametrize(
    ("name", "turned"),
    [
        ("Querneigung links [°]", -1),
        ("Inclinaison à droite (°)", 1),
        ("Alabeo a la izquierda (°)", -1),
        ("Krängning vänster (grader)", -1),
        ("Przechylenie w lewo (stopnie)", -1),
        ("Náklon vpravo (stupně)", 1),
        ("Крен вправо (град)", 1),
        ("Крен влево (град)", -1),
        ("Yatış sola (derece)", -1),
        ("Kallistus vasemmalle (astetta)", -1),
        ("左バンク角 (度)", -1),
        ("Länge West [°]", -1),
        ("Longitudine ovest (gradi)", -1),
        ("Szerokość południowa (stopnie)", -1),
        ("Latitud norte (grados)", 1),
    ],
)
def test_sides_are_heard_in_many_languages(name, turned):
    assert read_name(name)[0].turned == turned
