"""What flights are written down in, language by language: Germanic and Romance languages.

``term: words; term: words``, with the terms of :mod:`deckward.recordings.recogniser.words`: those of
quantities and units, the points of the compass, ``left`` and ``right``, ``ind`` (a speed that an instrument
shows), ``fill`` (words that say nothing of their own), ``per`` (between the units of a rate). A comma parts
ways to say one thing; of several words in a row all have to be there; a star marks a word that says little
by itself. Source: common usage in these languages, general knowledge, from memory.
"""

from __future__ import annotations

WEST = {
    "German": """
time: Zeit, Uhrzeit, Zeitstempel, Zeitpunkt, Flugzeit, Laufzeit, Sekunden, Minuten, Stunden, Dauer; lat:
Breite, geographische Breite, geogr Breite, Breitengrad, Geobreite; lon: Länge, geographische Länge, geogr
Länge, Längengrad, Geolänge; alt: Höhe, Flughöhe, Höhe über Meer, Höhe über NN, Meereshöhe, Seehöhe, Höhe
über dem Meeresspiegel, Höhe über Grund Meer; radalt: Funkhöhe, Radarhöhe, Höhe über Grund, Bodenhöhe;
baro: Druckhöhe, barometrisch, barometrische, barometrische Höhe; hdg: Steuerkurs, rechtweisender Kurs,
Kurs, Kurs rechtweisend, rwK, Gierwinkel, Gier, Gieren, Richtung, Kursrichtung, Kurswinkel, *Azimut,
Vorausrichtung; mag: mw, missweisend, missweisender Kurs, mwK, Kompasskurs, magnetisch, magnetischer; trk:
Kurs über Grund, KüG, Grundkurs, Flugweg, Bahnazimut; bearing: Peilung, Entfernung, Abstand; pitch:
Neigung längs, Nick, Nickwinkel, Nicken, Nicklage, Längsneigung, Längsneigungswinkel, Stampfen,
Stampfwinkel, Nase; roll: Neigung quer, Rollwinkel, Rollen, Rollage, Rolllage, Querneigung, Querlage,
Schräglage, Hängewinkel, Wanken, Wankwinkel, Krängung, Schlagseite; tas: wahre Geschwindigkeit, wahre
Fluggeschwindigkeit, Eigengeschwindigkeit, wahre Eigengeschwindigkeit, Fahrt wahr, tatsächliche
Geschwindigkeit; ias: angezeigte Geschwindigkeit, angezeigte Fluggeschwindigkeit, angezeigte Fahrt,
Fahrtmesser, kalibrierte Geschwindigkeit, berichtigte Fluggeschwindigkeit, Staudruckfahrt; spd:
Geschwindigkeit, Fluggeschwindigkeit, Fahrt, Geschw; gs: Geschwindigkeit über Grund, Grundgeschwindigkeit,
Fahrt über Grund; aoa: Anstellwinkel, Anstellung; vs: Steigrate, Steiggeschwindigkeit, Steigen,
Vertikalgeschwindigkeit, vertikale Geschwindigkeit, Variometer, Vario, Höhenänderung, Steigleistung; sink:
Sinkrate, Sinkgeschwindigkeit, Sinken, Abstiegsrate; nz: Lastvielfaches, Normalbeschleunigung, vertikale
Beschleunigung; thr: Gas, Gashebel, Schubhebel, Leistungshebel, Gashebelstellung, Leistung, Schub,
Triebwerksleistung; rpm: Drehzahl; flaps: Klappen, Landeklappen, Wölbklappen, Klappenstellung; gear:
Fahrwerk, Fahrgestell, Räder; hook: Fanghaken, Haken; brake: Bremsklappe, Bremsklappen, Luftbremse,
Störklappen; wow: am Boden, Bodenkontakt, Radlast, Gewicht auf Rädern; mass: Masse, Gewicht, Flugmasse,
Fluggewicht; fuel: Kraftstoff, Treibstoff, Sprit, Tankinhalt; flow: Kraftstofffluss, Kraftstoffdurchfluss,
Verbrauch; wfrom: Windrichtung; wspd: Windgeschwindigkeit, Windstärke; temp: Temperatur, Lufttemperatur,
Außentemperatur; qnh: Luftdruck, Meeresdruck; north: Nord, Norden, nördlich, Nordwert, Hochwert,
nordwärts; east: Ost, Osten, östlich, Ostwert, Rechtswert, ostwärts; south: Süd, Süden, südlich; west:
West, Westen, westlich; up: oben, hoch, aufwärts; down: unten, abwärts, runter; left: links, linke,
backbord; right: rechts, rechte, steuerbord; true: rw, wahr, wahre, wahrer, wahres, rechtweisend,
rechtweisender, tatsächlich, tatsächliche; ind: angezeigt, angezeigte, kalibriert, kalibrierte; ship:
Schiff, Schiffs, Träger, Trägers, Flugzeugträger, Boot, Deck, Trägerschiff; fill: Flugzeug, Flugzeugs,
Flieger, Maschine, Winkel, Lage, der, die, das, des, dem, am, im, in, zur, vom, von, über, gegen, durch,
Luft, Meer, Grund, Meeresspiegel, Stellung, aktuell, Wert; deg: Grad, Winkelgrad; rad: Radiant, Bogenmaß;
m: Meter, Metern; ft: Fuß, Fuss; kt: Knoten; km: Kilometer, Kilometern; hour: Stunde, Stunden, Std; min:
Minute, Minuten; s: Sekunde, Sekunden, Sek; ms: Millisekunde, Millisekunden; pct: Prozent, vH; per: pro,
je, in der""",
    "French": """
time: temps, heure, horodatage, instant, date heure, durée, secondes, chrono, heures, temps écoulé; lat:
latitude, lat; lon: longitude, long; alt: altitude, hauteur, altitude mer, au-dessus mer, altitude niveau
mer, hauteur mer; radalt: hauteur radio, radiosonde, hauteur sol, hauteur sonde; baro: barométrique,
altitude pression; hdg: cap, cap vrai, cap géographique, lacet, angle lacet, cap avion; mag: cap
magnétique, magnétique, cap compas, compas; trk: route, route sol, route vraie, cap fond, route fond;
bearing: relèvement, gisement, distance; pitch: assiette, assiette longitudinale, tangage, angle tangage,
cabrage, assiette avion; roll: inclinaison, inclinaison latérale, roulis, angle roulis, gîte, assiette
latérale; tas: vitesse vraie, vitesse air vraie, vitesse propre, vitesse réelle, vitesse vent relatif
vraie; ias: vitesse indiquée, vitesse conventionnelle, vitesse corrigée, vitesse air indiquée, badin,
vitesse anémométrique; spd: vit, vit air, vitesse, vitesse air, vitesse avion; gs: vitesse sol, vitesse
fond, vitesse route; aoa: incidence, angle attaque, angle incidence; vs: vit verticale, vitesse verticale,
vitesse ascensionnelle, taux montée, vario, variomètre, vitesse montée; sink: taux descente, taux chute,
vitesse descente, vitesse chute; nz: facteur charge, accélération normale, accélération verticale; thr:
manette, manette gaz, gaz, puissance, poussée, manette puissance, position manette; rpm: régime, régime
moteur, tours minute; flaps: volets, volet, braquage volets; gear: train, train atterrissage, trains;
hook: crosse, crosse appontage, crosse arrêt, crochet; brake: aérofrein, aérofreins; wow: au sol, poids
sur roues, contact sol; mass: masse, poids, masse totale; fuel: carburant, pétrole, quantité carburant;
flow: débit carburant, débit; wfrom: direction vent; wspd: vitesse vent, force vent, *vent; temp:
température, température air; qnh: pression mer, calage altimétrique, pression niveau mer; north: nord;
east: est; south: sud; west: ouest; up: haut, montant; down: bas, descendant; left: gauche, bâbord; right:
droite, tribord; true: vrai, vraie, réelle, réel, effective; ind: ind, indiquée, indiqué, corrigée,
conventionnelle; ship: navire, bateau, porte-avions, porte-aéronefs, bâtiment, pont; fill: avion,
appareil, aéronef, angle, de, du, des, la, le, les, au, à, en, sur, et, par, rapport, air, niveau, mer,
valeur, géographique, actuelle, dessus; deg: degré, degrés; rad: radian, radians; m: mètre, mètres; ft:
pied, pieds; kt: nœud, nœuds, noeud, noeuds; km: kilomètre, kilomètres; hour: heure, heures; min: minute,
minutes; s: seconde, secondes; ms: milliseconde, millisecondes; pct: pourcent, pourcentage, pour cent;
per: par, à la""",
    "Spanish": """
time: tiempo, hora, marca tiempo, instante, segundos, minutos, cronómetro, tiempo transcurrido; lat:
latitud; lon: longitud; alt: altitud, altura, altura mar, sobre nivel mar, elevación, altitud msnm;
radalt: altura radio, radioaltura, radioaltímetro, altura suelo, altura terreno; baro: barométrica,
altitud presión; hdg: rumbo, guiñada, proa, rumbo verdadero, rumbo geográfico, orientación; mag: rumbo
magnético, magnético, compás, brújula; trk: derrota, ruta, rumbo suelo, trayectoria, rumbo fondo, curso
suelo; bearing: marcación, demora, distancia; pitch: cabeceo, ángulo cabeceo, inclinación longitudinal,
actitud longitudinal, morro, actitud morro, actitud cabeceo; roll: alabeo, balanceo, ángulo alabeo,
inclinación lateral, banqueo, escora, ladeo; tas: velocidad verdadera, velocidad aérea verdadera,
velocidad real, velocidad aire verdadera; ias: velocidad indicada, velocidad aérea indicada, velocidad
calibrada, anemómetro; spd: velocidad, velocidad aérea, velocidad aire, rapidez; gs: velocidad suelo,
velocidad terreno, velocidad tierra, velocidad fondo; aoa: ángulo ataque, ataque, incidencia, ángulo
incidencia; vs: vel vertical, velocidad vertical, velocidad ascenso, ascenso, régimen ascenso, variómetro,
tasa ascenso, velocidad ascensional, vario, razón ascenso; sink: velocidad descenso, régimen descenso,
tasa descenso, descenso, razón descenso; nz: factor carga, aceleración normal, aceleración vertical; thr:
acelerador, palanca gases, gases, potencia, empuje, mando gases, posición acelerador; rpm: revoluciones,
régimen motor; flaps: flaps, flap, aletas; gear: tren, tren aterrizaje; hook: gancho, gancho apontaje,
gancho frenado; brake: aerofreno, aerofrenos; wow: en tierra, peso sobre ruedas, en suelo; mass: masa,
peso, peso total; fuel: combustible, carburante; flow: flujo combustible, consumo combustible; wfrom:
dirección viento, viento dirección; wspd: velocidad viento, *viento, fuerza viento; temp: temperatura;
qnh: presión mar, presión nivel mar, reglaje altimétrico; north: norte; east: este; south: sur; west:
oeste; up: arriba; down: abajo; left: izquierda, izquierdo, babor; right: derecha, derecho, estribor;
true: verdadero, verdadera, real, efectiva, efectivo; ind: indicada, indicado, calibrada, calibrado; ship:
buque, barco, portaaviones, portaviones, nave, navío, cubierta; fill: avión, aeronave, aparato, ángulo,
de, del, la, el, los, al, en, sobre, con, respecto, aire, nivel, mar, posición, valor, actual, geográfica;
deg: grado, grados; rad: radián, radianes; m: metro, metros; ft: pie, pies; kt: nudo, nudos; km:
kilómetro, kilómetros; hour: hora, horas; min: minuto, minutos; s: segundo, segundos, seg; ms:
milisegundo, milisegundos; pct: por ciento, porcentaje, porciento; per: por""",
    "Italian": """
time: tempo, ora, orario, istante, secondi, tempo trascorso, tempo volo; lat: latitudine; lon:
longitudine; alt: quota, altitudine, altezza, livello mare, altezza mare, quota mare, sul livello mare;
radalt: quota radio, radioaltimetro, altezza suolo, radioquota; baro: barometrica, quota pressione; hdg:
prua, rotta vera, prua vera, imbardata, angolo imbardata, direzione prua, orientamento; mag: prua
magnetica, magnetica, magnetico, prua bussola, bussola; trk: rotta suolo, rotta terreno, traiettoria,
rotta fondo; bearing: rilevamento, distanza; pitch: beccheggio, angolo beccheggio, assetto, assetto
longitudinale, picchiata, cabrata, inclinazione longitudinale, muso; roll: rollio, angolo rollio,
inclinazione laterale, inclinazione, sbandamento, assetto laterale, angolo bank; tas: velocità vera,
velocità aria vera, velocità reale, velocità effettiva, velocità propria; ias: velocità indicata, velocità
calibrata, velocità aria indicata, anemometro; spd: velocità, velocità aria; gs: velocità suolo, velocità
terreno, velocità fondo; aoa: angolo attacco, attacco, incidenza, angolo incidenza; vs: vel verticale,
velocità verticale, rateo salita, variometro, velocità salita, velocità ascensionale, rateo ascesa, vario;
sink: rateo discesa, velocità discesa, discesa, rateo affondata; nz: fattore carico, accelerazione
normale, accelerazione verticale; thr: manetta, manetta gas, potenza, spinta, gas, posizione manetta; rpm:
giri, giri motore, regime; flaps: ipersostentatori, flap, ipersostentatore; gear: carrello, carrello
atterraggio; hook: gancio, gancio arresto, gancio appontaggio; brake: aerofreno, aerofreni, diruttori;
wow: a terra, peso ruote, peso sulle ruote, al suolo; mass: massa, peso; fuel: carburante, combustibile;
flow: flusso carburante, consumo carburante; wfrom: direzione vento, vento direzione; wspd: velocità
vento, *vento, intensità vento; temp: temperatura; qnh: pressione mare, pressione livello mare; north:
nord; east: est; south: sud; west: ovest; up: alto, su; down: basso, giù; left: sinistra, sinistro; right:
destra, destro, dritta; true: vero, vera, reale, effettiva, effettivo; ind: indicata, indicato, calibrata,
calibrato; ship: nave, portaerei, imbarcazione, ponte; fill: aereo, velivolo, aeromobile, angolo, di, del,
della, dello, il, la, lo, al, alla, sul, sulla, in, rispetto, aria, livello, mare, posizione, valore,
attuale, geografica; deg: grado, gradi; rad: radiante, radianti; m: metro, metri; ft: piede, piedi; kt:
nodo, nodi; km: chilometro, chilometri; hour: ora, ore; min: minuto, minuti; s: secondo, secondi, sec; ms:
millisecondo, millisecondi; pct: per cento, percento, percentuale; per: al, per, allo, all""",
    "Portuguese": """
time: tempo, hora, instante, marca temporal, carimbo tempo, segundos, tempo decorrido, relógio; lat:
latitude; lon: longitude; alt: altitude, altura, nível mar, acima nível mar, altitude mar, elevação;
radalt: altura radar, rádio altímetro, altura rádio, altura solo; baro: barométrica, altitude pressão;
hdg: rumo, proa, guinada, rumo verdadeiro, proa verdadeira, ângulo guinada; mag: proa magnética, rumo
magnético, magnético, magnética, bússola; trk: rota, rumo solo, trajetória, rota solo, rumo fundo;
bearing: marcação, distância; pitch: arfagem, ângulo arfagem, cabragem, nariz, inclinação longitudinal,
caturro; roll: rolamento, rolagem, ângulo rolamento, pranchamento, inclinação, inclinação lateral,
balanço, adornamento, inclinação asas; tas: velocidade verdadeira, velocidade real, velocidade
aerodinâmica verdadeira; ias: velocidade indicada, velocidade calibrada, velocidade ar indicada; spd:
velocidade, velocidade ar, velocidade aerodinâmica; gs: velocidade solo, velocidade terreno, velocidade
fundo; aoa: ângulo ataque, ataque, incidência; vs: vel vertical, velocidade vertical, razão subida, taxa
subida, variômetro, variómetro, velocidade subida, vario; sink: razão descida, taxa descida, velocidade
descida, descida; nz: fator carga, factor carga, aceleração normal, aceleração vertical; thr: manete,
acelerador, manete potência, potência, empuxo, impulso, tração, posição manete; rpm: rotação, rotação
motor, rotações; flaps: flapes, flape, flaps; gear: trem, trem pouso, trem aterragem; hook: gancho, gancho
parada, gancho retenção; brake: freio aerodinâmico, aerofreios; wow: em solo, peso nas rodas, no solo;
mass: massa, peso, peso total; fuel: combustível; flow: fluxo combustível; wfrom: direção vento, direcção
vento, vento direção; wspd: velocidade vento, *vento, intensidade vento; temp: temperatura; qnh: pressão
mar, pressão nível mar; north: norte; east: leste, este; south: sul; west: oeste; up: cima, acima; down:
baixo, abaixo; left: esquerda, bombordo; right: direita, estibordo, boreste; true: verdadeiro, verdadeira,
real, efetiva; ind: indicada, calibrada, indicado; ship: navio, porta-aviões, barco, embarcação, convés,
porta-aeronaves; fill: avião, aeronave, ângulo, de, do, da, dos, o, a, ao, no, na, em, sobre, com, ar,
nível, mar, posição, valor, atual, geográfica; deg: grau, graus; rad: radiano, radianos; m: metro, metros;
ft: pés; kt: nós; km: quilômetro, quilômetros, quilómetros; hour: hora, horas; min: minuto, minutos; s:
segundo, segundos, seg; ms: milissegundo, milissegundos; pct: por cento, porcentagem, porcento,
percentagem; per: por""",
    "Catalan": """
time: temps, hora, instant, segons, marca temps; lat: latitud; lon: longitud; alt: altitud, alçada,
altura, nivell mar, alçada mar; radalt: alçada radio, radioaltímetre, alçada terra; baro: baromètrica,
altitud pressió; hdg: rumb, rumb vertader, proa, guinyada, orientació; mag: rumb magnètic, magnètic,
brúixola; trk: ruta, derrota, rumb terra; bearing: marcació, distància; pitch: capcineig, angle capcineig,
inclinació longitudinal, capcinada, morro; roll: balanceig, balanç, guerxament, inclinació lateral, angle
balanceig, inclinació, alabeig; tas: velocitat vertadera, velocitat veritable, velocitat aire vertadera,
velocitat real; ias: velocitat indicada, velocitat calibrada; spd: velocitat, velocitat aire; gs:
velocitat terra, velocitat sòl; aoa: angle atac, atac, incidència; vs: velocitat vertical, velocitat
ascens, taxa ascens, variòmetre, velocitat pujada, règim ascens; sink: velocitat descens, taxa descens,
velocitat baixada; nz: factor càrrega, acceleració normal; thr: palanca gas, palanca gasos, gas, potència,
accelerador, comandament gasos, empenta; flaps: flaps, alerons hipersustentadors; gear: tren, tren
aterratge; hook: ganxo, ganxo frenada; brake: aerofrè; wow: a terra, pes rodes; mass: massa, pes total;
fuel: combustible; wfrom: direcció vent; wspd: velocitat vent, *vent; temp: temperatura; qnh: pressió mar;
north: nord; east: est; south: sud; up: amunt; down: avall; left: esquerra; right: dreta; true: vertader,
vertadera, veritable, real; ind: indicada, calibrada; ship: vaixell, portaavions, nau, coberta; fill:
avió, aeronau, angle, de, del, la, el, al, en, sobre, aire, nivell, mar, posició, valor; deg: grau, graus;
rad: radian, radians; m: metre, metres; ft: peu, peus; kt: nus, nusos; km: quilòmetre, quilòmetres; hour:
hora, hores; min: minut, minuts; s: segon, segons; ms: mil·lisegon, mil·lisegons; pct: per cent,
percentatge; per: per""",
    "Romanian": """
time: timp, ora, timpul, moment, secunde, marcaj timp; lat: latitudine, latitudinea; lon: longitudine,
longitudinea; alt: altitudine, altitudinea, înălțime, înălțimea, nivelul mării, cota; radalt:
radioaltitudine, radioaltimetru, înălțime sol; baro: barometrică, altitudine presiune; hdg: cap, cap
adevărat, capul, *direcție, girație, cap compas adevărat, unghi girație, orientare; mag: cap magnetic,
magnetic, busolă; trk: drum, ruta, drum sol, traiect; bearing: relevment, gisment, distanța; pitch:
tangaj, unghi tangaj, asietă; roll: ruliu, unghi ruliu, înclinare, înclinare laterală, unghi înclinare;
tas: viteza adevărată, viteză aer adevărată, viteza reală, viteză proprie; ias: viteza indicată, viteză
aer indicată, viteza calibrată; spd: viteză, viteza, viteză aer; gs: viteza sol, viteza față sol, viteză
terestră; aoa: unghi atac, unghi incidență, incidență, unghiul atac; vs: viteză verticală, viteza
verticală, variometru, rata urcare, viteză urcare, viteza ascensională; sink: rata coborâre, viteză
coborâre, coborâre, viteza coborâre; nz: factor sarcină, suprasarcină, accelerație normală; thr: manetă,
maneta, maneta gaze, manetă gaze, putere, tracțiune, accelerație motor; rpm: turație, turații, turația
motor; flaps: flapsuri, flaps, voleți; gear: tren, tren aterizare, trenul aterizare; hook: cârlig, cârlig
apuntare, croșă; brake: frână aerodinamică; wow: la sol, greutate roți; mass: masă, masa, greutate,
greutatea; fuel: combustibil; wfrom: direcția vântului, direcție vânt; wspd: viteza vântului, viteză vânt,
*vânt; temp: temperatură, temperatura; qnh: presiune mare, presiunea mării; north: nord; east: est; south:
sud; west: vest; up: sus; down: jos; left: stânga, babord; right: dreapta, tribord; true: adev, adevărat,
adevărată, real, reală; ind: indicată, indicat, calibrată; ship: navă, nava, navei, portavion,
portavionului, vapor, vas; fill: avion, avionului, aeronavă, unghi, unghiul, de, din, la, al, a, pe, față,
aer, aerului, nivel, peste, deasupra; deg: grad, grade; rad: radian, radiani; m: metru, metri; ft: picior,
picioare; kt: nod, noduri; km: kilometru, kilometri; hour: oră, ore; min: minut, minute; s: secundă,
secunde; ms: milisecundă, milisecunde; pct: la sută, procent, procente; per: pe""",
    "Dutch": """
time: tijd, tijdstip, tijdstempel, uur, seconden, verstreken tijd, vluchttijd, klok; lat: breedte,
breedtegraad, geografische breedte, noorderbreedte; lon: lengte, lengtegraad, geografische lengte,
oosterlengte; alt: hoogte, vlieghoogte, zeehoogte, hoogte boven zee, boven zee, hoogte boven zeespiegel,
hoogte boven zeeniveau; radalt: radiohoogte, radarhoogte, hoogte boven grond; baro: drukhoogte,
barometrische; hdg: koers, ware koers, gierhoek, gieren, stuurkoers, voorligging, neusrichting, richting,
grondwaartse richting; mag: magnetische koers, kompaskoers, magnetisch, magnetische, kompas; trk:
grondkoers, koers over grond, grondspoor, afgelegde koers; bearing: peiling, afstand; pitch: stamphoek,
stampen, neusstand, langshelling, duikhoek, hellingshoek langs, standhoek, neushoek; roll: rolhoek,
rollen, dwarshelling, helling, slagzij, slingeren, bankhoek, rolstand; tas: ware luchtsnelheid, ware
snelheid, werkelijke snelheid, werkelijke luchtsnelheid; ias: aangewezen snelheid, aangewezen
luchtsnelheid, gekalibreerde snelheid, gekalibreerde luchtsnelheid, snelheidsmeter; spd: snelheid,
luchtsnelheid, vliegsnelheid, vaart; gs: grondsnelheid, snelheid over grond; aoa: invalshoek, aanvalshoek;
vs: stijgsnelheid, klimsnelheid, verticale snelheid, variometer, stijgen, klimmen, vertikale snelheid;
sink: daalsnelheid, dalen, zinksnelheid, daling; nz: belastingsfactor, belastingfactor, g belasting,
normaalversnelling, verticale versnelling; thr: gashendel, gas, vermogen, stuwkracht, gashandel,
motorvermogen, gasstand; rpm: toerental; flaps: kleppen, flappen, landingskleppen, welvingskleppen; gear:
landingsgestel, onderstel, wielen; hook: vanghaak, haak, staarthaak, remhaak; brake: remkleppen, luchtrem,
remklep; wow: aan grond, gewicht op wielen, op grond; mass: massa, gewicht, vlieggewicht; fuel: brandstof;
flow: brandstofverbruik, brandstofstroom; wfrom: windrichting; wspd: windsnelheid, windkracht, *wind;
temp: temperatuur, luchttemperatuur, buitentemperatuur; qnh: luchtdruk, zeeniveaudruk; north: noord,
noorden, noordelijk; east: oost, oosten, oostelijk; south: zuid, zuiden, zuidelijk; west: west, westen,
westelijk; up: omhoog, opwaarts; down: omlaag, neerwaarts, beneden; left: links, linker, bakboord; right:
rechts, rechter, stuurboord; true: ware, werkelijke, werkelijk, waar, rechtwijzend; ind: aangewezen,
gekalibreerde, gekalibreerd; ship: scheeps, schip, schips, vliegdekschip, vliegkampschip, boot, dek,
moederschip, vaartuig; fill: vliegtuig, toestel, hoek, van, het, de, een, op, over, boven, lucht, zee,
zeespiegel, grond, stand, waarde, huidige, geografische; deg: graad, graden; rad: radiaal, radialen; m:
meter, meters; ft: voet, voeten; kt: knoop, knopen; km: kilometer, kilometers; hour: uur, uren; min:
minuut, minuten; s: seconde, seconden; ms: milliseconde, milliseconden; pct: procent, percentage; per: per""",
    "Danish": """
time: tid, tidspunkt, klokkeslæt, klokken, sekunder, tidsstempel, flyvetid; lat: bredde, breddegrad,
geografisk bredde; lon: længde, længdegrad, geografisk længde; alt: højde, flyvehøjde, havhøjde, højde
over havet, over havet, højde over havoverfladen; radalt: radiohøjde, radarhøjde, højde over jorden, højde
over terræn; baro: trykhøjde, barometrisk; hdg: kurs, retvisende kurs, styret kurs, stævnretning,
krøjning, krøjevinkel, retning, næseretning; mag: magnetisk kurs, misvisende kurs, magnetisk, kompaskurs,
misvisende; trk: beholden kurs, kurs over grunden, kurs over grund, grundspor; bearing: pejling, afstand;
pitch: næsestilling, stampning, stampevinkel, hældning langs, længdehældning, tipvinkel, næsevinkel,
duvning; roll: krængning, krængningsvinkel, rulning, rullevinkel, rulle, krængevinkel, slagside,
tværhældning; tas: sand flyvehastighed, sand hastighed, egenfart, sand fart; ias: indikeret hastighed,
vist hastighed, indikeret flyvehastighed, kalibreret hastighed; spd: hastighed, fart, flyvehastighed,
lufthastighed, flyvefart; gs: hastighed over grunden, fart over grund, fart over grunden, jordhastighed,
grundfart, beholden fart; aoa: indfaldsvinkel, angrebsvinkel; vs: stigehastighed, vertikal hastighed,
lodret hastighed, variometer, stigning, stigerate, stigeevne; sink: synkehastighed, synkerate, synk,
nedstigningshastighed, faldhastighed; nz: belastningsfaktor, normalacceleration, lastfaktor; thr:
gashåndtag, gas, effekt, trækkraft, motoreffekt, gasstilling, ydelse; rpm: omdrejninger, omdrejningstal;
flaps: flaps, klapper, bremseklapper; gear: understel, landingsstel, hjul; hook: krogens, fangkrog, krog,
halekrog, bremsekrog; brake: luftbremse, luftbremser; wow: på jorden, vægt på hjul; mass: masse, vægt,
flyvevægt; fuel: brændstof; flow: brændstofforbrug; wfrom: vindretning; wspd: vindhastighed, vindstyrke,
*vind; temp: temperatur, lufttemperatur; qnh: lufttryk, havtryk; north: nord, nordlig; east: øst, østlig;
south: syd, sydlig; west: vest, vestlig; up: op, opad; down: ned, nedad; left: venstre, bagbord; right:
højre, styrbord; true: sand, sande, retvisende, reel, faktisk; ind: indikeret, vist, kalibreret, visende;
ship: skibs, hangarskibs, skib, skibet, skibets, hangarskib, hangarskibets, båd, dæk, fartøj, moderskib;
fill: fly, flyet, flyets, flyvemaskine, vinkel, af, i, på, over, under, til, fra, luft, hav, havet,
grunden, jorden, værdi, aktuel, geografisk; deg: grad, grader; rad: radian, radianer; m: meter, metre; ft:
fod; kt: knob; km: kilometer; hour: time, timer; min: minut, minutter; s: sekund, sekunder, sekundet; ms:
millisekund, millisekunder; pct: procent, pct; per: i, per, pr""",
    "Norwegian": """
time: tid, tidspunkt, klokkeslett, klokka, klokken, sekunder, tidsstempel, flytid; lat: bredde,
breddegrad, geografisk bredde; lon: lengde, lengdegrad, geografisk lengde; alt: høyde, flyhøyde,
flygehøyde, høyde over havet, over havet, moh, høyde over havnivå; radalt: radiohøyde, radarhøyde, høyde
over bakken, høyde over terreng, bakkehøyde; baro: trykkhøyde, barometrisk; hdg: kurs, rettvisende kurs,
styrt kurs, stevnretning, baugretning, giring, girvinkel, retning, neseretning; mag: magnetisk kurs,
misvisende kurs, magnetisk, kompasskurs, misvisende; trk: beholden kurs, kurs over grunn, bakkespor,
grunnkurs; bearing: peiling, avstand; pitch: stigvinkel, stampvinkel, stamping, nesestilling, nesevinkel,
langshelling, stampevinkel, lengdehelling; roll: krengning, krengningsvinkel, krengevinkel, rulling,
rullevinkel, rulle, slingring, slagside, krenging, tverrhelling; tas: sann flyhastighet, sann hastighet,
sann fart, sann luftfart, sann lufthastighet, egenfart; ias: indikert hastighet, indikert fart, indikert
lufthastighet, indikert flyhastighet, vist hastighet, kalibrert hastighet; spd: hastighet, fart,
flyhastighet, lufthastighet, flyfart, luftfart; gs: fart over grunn, hastighet over grunn, bakkehastighet,
bakkefart, grunnfart; aoa: angrepsvinkel, innfallsvinkel; vs: stigehastighet, stighastighet, stigefart,
vertikal hastighet, vertikalhastighet, vertikalfart, variometer, stigerate, stigning, loddrett hastighet;
sink: synkehastighet, synkefart, synkerate, nedstigning, synk, nedstigningshastighet; nz: lastfaktor,
belastningsfaktor, normalakselerasjon; thr: gasshendel, gass, gasshåndtak, effekt, skyvekraft, gasspådrag,
motoreffekt, gassstilling; rpm: turtall, omdreininger; flaps: flaps, klaffer, vingeklaffer; gear:
understell, landingshjul, landingsunderstell, hjul; hook: krokens, fangkrok, krok, halekrok, bremsekrok;
brake: luftbrems, luftbremser, bremseklaff; wow: på bakken, vekt på hjul, bakkekontakt; mass: masse, vekt,
flyvekt; fuel: drivstoff, brennstoff; flow: drivstofforbruk; wfrom: vindretning; wspd: vindhastighet,
vindstyrke, *vind, vindfart; temp: temperatur, lufttemperatur; qnh: lufttrykk, havtrykk; north: nord,
nordlig; east: øst, østlig, aust; south: sør, syd, sørlig; west: vest, vestlig; up: opp, oppover; down:
ned, nedover; left: venstre, babord; right: høyre, styrbord; true: sann, sanne, rettvisende, reell,
virkelig, faktisk; ind: indikert, vist, kalibrert; ship: hangarskips, skip, skipet, skipets, hangarskip,
hangarskipet, hangarskipets, båt, dekk, fartøy, moderskip; fill: fly, flyet, flyets, vinkel, av, i, på,
over, til, fra, mot, luft, hav, havet, havnivå, grunn, bakken, verdi, geografisk; deg: grad, grader; rad:
radian, radianer; m: meter; ft: fot; kt: knop; km: kilometer; hour: time, timer; min: minutt, minutter; s:
sekund, sekunder; ms: millisekund, millisekunder; pct: prosent; per: i, per, pr""",
    "Swedish": """
time: tid, tidpunkt, klockslag, klockan, sekunder, tidsstämpel, flygtid, förfluten tid; lat: latitud,
bredd, breddgrad, geografisk bredd; lon: longitud, längd, längdgrad, geografisk längd; alt: höjd,
flyghöjd, altitud, höjd över havet, över havet, möh, höjd över havsytan, havshöjd; radalt: radiohöjd,
radarhöjd, höjd över marken, markhöjd; baro: tryckhöjd, barometrisk; hdg: kurs, rättvisande kurs,
styrkurs, girvinkel, gir, riktning, styrd kurs, nosriktning, bäring nos, gira; mag: magnetisk kurs,
missvisande kurs, magnetisk, kompasskurs, missvisande; trk: färdvinkel, kurs över grund, färdlinje;
bearing: bäring, pejling, avstånd; pitch: tippvinkel, tippning, tipp, nosläge, nosvinkel, stampning,
attityd, längdlutning, nosattityd, stampvinkel; roll: rollvinkel, rollning, krängning, bankning,
bankvinkel, lutning, krängningsvinkel, tvärlutning, slagsida, rullning; tas: sann flyghastighet, sann
fart, sann hastighet, verklig flyghastighet, egenfart, sann luftfart; ias: indikerad fart, indikerad
hastighet, indikerad flyghastighet, visad fart, visad hastighet, kalibrerad fart, kalibrerad hastighet;
spd: fart, hastighet, flyghastighet, luftfart, flygfart, lufthastighet; gs: fart över grund, markfart,
markhastighet, hastighet över grund; aoa: anfallsvinkel, alfavinkel; vs: stighastighet, stigfart, vertikal
hastighet, vertikalhastighet, vertikalfart, variometer, stigning, stigtal; sink: sjunkhastighet,
sjunkfart, sjunk, sjunktal, sjunkning; nz: lastfaktor, belastningsfaktor, normalacceleration,
lastmultipel; thr: gasreglage, gasspak, gas, gaspådrag, effekt, dragkraft, motoreffekt, gasläge; rpm:
varvtal; flaps: klaff, klaffar, klaffläge, vingklaffar; gear: landställ, landningsställ, hjul; hook:
krokens, fångkrok, krok, stjärtkrok, bromskrok, landningskrok; brake: luftbroms, luftbromsar, bromsklaff;
wow: på marken, hjultryck, markkontakt; mass: massa, vikt, flygvikt; fuel: bränsle, bränslemängd; flow:
bränsleflöde; wfrom: vindriktning; wspd: vindhastighet, vindstyrka, *vind; temp: temperatur,
lufttemperatur, utetemperatur; qnh: lufttryck, havsytetryck; north: nord, norr, norrut, nordlig; east:
öst, öster, österut, ost, ostlig; south: syd, söder, söderut, sydlig; west: väst, väster, västerut,
västlig; up: upp, uppåt; down: ned, nedåt, neråt; left: vänster, babord; right: höger, styrbord; true:
sann, sant, sanna, rättvisande, verklig, reell, faktisk; ind: indikerad, visad, kalibrerad; ship: fartygs,
hangarfartygs, skepps, fartyg, fartyget, fartygets, hangarfartyg, hangarfartyget, hangarfartygets, skepp,
båt, däck, moderfartyg; fill: flygplan, flygplanet, flygplanets, plan, vinkel, av, i, på, över, till,
från, mot, luft, hav, havet, mark, grund, läge, värde, geografisk; deg: grad, grader; rad: radian,
radianer; m: meter; ft: fot; kt: knop; km: kilometer; hour: timme, timmar, tim; min: minut, minuter; s:
sekund, sekunder; ms: millisekund, millisekunder; pct: procent; per: i, per""",
    "Icelandic": """
time: tími, tímastimpill, klukkan, sekúndur; lat: breidd, breiddargráða, norðlæg breidd; lon: lengd,
lengdargráða, vestlæg lengd; alt: hæð, flughæð, hæð yfir sjó, yfir sjávarmáli, hæð yfir sjávarmáli;
radalt: ratsjárhæð, hæð yfir jörðu; baro: þrýstihæð, loftþrýstihæð; hdg: stefna, réttvísandi stefna, kúrs,
stefnuhorn; mag: segulstefna, segul, misvísandi; trk: flugferill, ferilstefna, stefna yfir grunn; bearing:
miðun, fjarlægð; pitch: kinkhorn, kink, stýfa, langhalli, nefstaða; roll: velta, veltihorn, halli,
hliðarhalli, veltuhorn; tas: sannur flughraði, raunhraði, sannur hraði; ias: sýndur hraði, sýndur
flughraði, mældur hraði; spd: hraði, flughraði, lofthraði; gs: jarðhraði, hraði yfir grunn, jörðhraði;
aoa: áfallshorn, atlöguhorn; vs: klifurhraði, lóðréttur hraði, stighraði, klifur; sink: sökkhraði,
fallhraði, lækkunarhraði; nz: álagsstuðull; thr: eldsneytisgjöf, bensíngjöf, afl, inngjöf; flaps:
vængbörð, flapar; gear: hjólabúnaður, lendingarbúnaður; hook: krókur, stöðvunarkrókur; wow: á jörðu; mass:
massi, þyngd, þungi; fuel: eldsneyti; wfrom: vindátt, vindstefna; wspd: vindhraði, *vindur; temp: hiti,
hitastig; qnh: loftþrýstingur; north: norður; east: austur; south: suður; west: vestur; up: upp; down:
niður; left: vinstri; right: hægri; true: sannur, sönn, réttvísandi, raun; ind: sýndur, mældur; ship:
skip, skips, skipsins, flugmóðurskip, flugmóðurskips, bátur; fill: flugvél, flugvélar, horn, yfir, á, í,
af, sjó, jörðu; deg: gráða, gráður; rad: radíani, radíanar; m: metri, metrar, metrum; ft: fet; kt: hnútur,
hnútar, hnútum; km: kílómetri, kílómetrar; hour: klukkustund, klst; min: mínúta, mínútu, mín; s: sekúnda,
sekúndur, sekúndu, sek; ms: millisekúndur; pct: prósent; per: á""",
}
