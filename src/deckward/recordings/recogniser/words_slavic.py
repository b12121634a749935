"""What flights are written down in, language by language: Slavic languages.

Written as in :mod:`deckward.recordings.recogniser.words_west`. Source: common usage in these languages,
general knowledge, from memory.
"""

from __future__ import annotations

SLAVIC = {
    "Polish": """
time: czas, godzina, znacznik czasu, sekundy, czas lotu, sygnatura czasowa, zegar; lat: sz geogr,
szerokość, szerokość geograficzna, szerokość geogr, szer; lon: dł geogr, dł, długość, długość
geograficzna, długość geogr, dług; alt: wysokość, wys, wysokość lotu, wysokość nad morzem, nad poziomem
morza, npm, pułap, wysokość npm; radalt: radiowysokość, wysokość radiowa, radiowysokościomierz, wysokość
nad ziemią, wysokość nad terenem; baro: barometryczna, wysokość ciśnieniowa; hdg: kurs, kurs geograficzny,
kurs rzeczywisty, kurs prawdziwy, odchylenie, kierunek, kąt odchylenia, kurs geogr, *azymut; mag: kurs
magnetyczny, magnetyczny, kompas, kurs kompasowy, busola; trk: kąt drogi, kurs nad dnem, ślad, nakazany
kąt drogi; bearing: namiar, odległość; pitch: pochylenie, kąt pochylenia, pochyl, kiwanie, nos, kołysanie
wzdłużne; roll: przechylenie, kąt przechylenia, przechył, przechyl, przechył boczny, kołysanie boczne,
kołysanie; tas: prędkość rzeczywista, prędkość prawdziwa, rzeczywista prędkość powietrzna, prędkość rzecz;
ias: prędkość wskazywana, prędkość przyrządowa, prędkość przyrządowa poprawiona, prędkość kalibrowana,
prędkość skalibrowana; spd: prędkość, prędkość powietrzna, prędkość lotu, pręd, szybkość; gs: prędkość
podróżna, prędkość względem ziemi, prędkość nad ziemią, prędkość naziemna; aoa: kąt natarcia, natarcie;
vs: wznoszenie, prędkość pionowa, prędkość wznoszenia, wariometr; sink: opadanie, zniżanie, prędkość
opadania, prędkość zniżania, schodzenie; nz: przeciążenie, współczynnik obciążenia, przyspieszenie
normalne; thr: przepustnica, moc, ciąg, dźwignia gazu, gaz, dźwignia mocy, dźwignia ciągu, manetka; rpm:
obroty, obroty silnika; flaps: klapy, klapa, wychylenie klap; gear: podwozie, koła; hook: haka, hak, hak
ogonowy, hak hamujący, hak lądowania; brake: hamulec aerodynamiczny, hamulce aerodynamiczne; wow: na
ziemi, nacisk kół, obciążenie kół, obciążenie podwozia; mass: masa, ciężar, waga; fuel: paliwo, ilość
paliwa; flow: przepływ paliwa; wfrom: kierunek wiatru; wspd: prędkość wiatru, siła wiatru, *wiatr; temp:
temperatura; qnh: ciśnienie; north: północ, północna, północny; east: wschód, wschodnia, wschodni; south:
południe, południowa; west: zachód, zachodnia; up: góra, górę; down: dół; left: lewo, lewy, lewa, lewe,
lewej; right: prawo, prawy, prawa, prawe, prawej; true: rzeczywista, rzeczywisty, prawdziwa, prawdziwy;
ind: wskazywana, przyrządowa, kalibrowana, skalibrowana; ship: statek, statku, okręt, okrętu,
lotniskowiec, lotniskowca, łódź, pokład, pokładu, jednostki; fill: samolot, samolotu, kąt, nad, względem,
geograficzna, geograficzny, lotu, powietrza, morza, poziomem, wartość, aktualna, położenie; deg: stopień,
stopnie, stopni; rad: radian, radiany, radianów, radianach; m: metr, metry, metrów, metrach; ft: stopa,
stopy, stóp, stopach; kt: węzeł, węzły, węzłów, węzłach; km: kilometr, kilometry, kilometrów; hour:
godzina, godzinę, godz; min: minuta, minuty, minutę, minut; s: sekunda, sekundy, sekundę, sekund; ms:
milisekunda, milisekundy, milisekund; pct: procent, procenty; per: na""",
    "Czech": """
time: čas, časová značka, hodina, sekundy, doba letu, doba; lat: zeměpisná šířka, šířka, zem šířka, z
šířka, geogr šířka; lon: zeměpisná délka, délka, zem délka, z délka, geogr délka; alt: výška, nadmořská
výška, výška letu, letová výška, výška nad mořem, výš, nad mořem, vys; radalt: radiovýška, radiovýškoměr,
výška nad zemí, výška nad terénem, rádiová výška; baro: barometrická, tlaková výška; hdg: kurz, zeměpisný
kurz, kurz skutečný, směr, skutečný kurz, pravý kurz, vybočení, zatáčení, bočení, *azimut, směr přídě;
mag: magnetický kurz, magnetický, kompas, kompasový kurz; trk: trať, traťový úhel, kurz nad zemí, zemní
trať; bearing: zaměření, vzdálenost; pitch: podélný sklon, klopení, úhel klopení, podélný náklon, sklon;
roll: příčný náklon, náklon, klonění, úhel klonění, příčný sklon, úhel náklonu, kolébání; tas: pravá
vzdušná rychlost, skutečná rychlost, skutečná vzdušná rychlost, pravá rychlost; ias: indikovaná rychlost,
přístrojová rychlost, indikovaná vzdušná rychlost, kalibrovaná rychlost, opravená rychlost; spd: rychlost,
vzdušná rychlost, rychlost letu; gs: traťová rychlost, zemní rychlost, rychlost vůči zemi, rychlost nad
zemí, pozemní rychlost; aoa: úhel náběhu, náběh; vs: vertikální rychlost, stoupání, rychlost stoupání,
variometr, svislá rychlost, stoupavost; sink: klesání, rychlost klesání, opadání, klesavost; nz: násobek
přetížení, přetížení, násobek, normálové zrychlení; thr: plyn, plynová páka, přípusť, výkon, tah, tah
motoru, páka plynu, výkon motoru; rpm: otáčky, otáčky motoru; flaps: klapky, vztlakové klapky; gear:
podvozek, kola; hook: háku, hák, záchytný hák, brzdicí hák, přistávací hák; brake: vzdušná brzda, vzdušné
brzdy, brzdící klapky; wow: na zemi, zatížení kol, tíha na kolech; mass: hmotnost, váha, tíha; fuel:
palivo; wfrom: směr větru; wspd: rychlost větru, síla větru, *vítr; temp: teplota; qnh: tlak; north:
sever, severní; east: východ, východní; south: jih, jižní; west: západ, západní; up: nahoru; down: dolů;
left: vlevo, doleva, levý, levá; right: vpravo, doprava; true: skut, skutečná, skutečný, pravá, pravý;
ind: indikovaná, přístrojová, kalibrovaná, opravená; ship: loď, lodi, lodě, letadlová loď, letadlové lodi,
plavidlo, paluba, lodní, plavidla, nosič, nosiče; fill: letadlo, letadla, letoun, letounu, úhel, nad,
vůči, vzdušná, mořem, zeměpisný, letu, poloha, hodnota, letadlová, letadlové, stav, vlastní; deg: stupeň,
stupně, stupňů, stup; rad: radián, radiány, radiánů; m: metr, metry, metrů; ft: stopa, stopy, stop; kt:
uzel, uzly, uzlů; km: kilometr, kilometry, kilometrů; hour: hodina, hodinu, hod; min: minuta, minuty,
minutu, minut; s: sekunda, sekundy, sekundu, sekund; ms: milisekunda, milisekundy, milisekund; pct:
procento, procenta, procent; per: za""",
    "Slovak": """
time: čas, časová značka, hodina, sekundy, čas letu; lat: zemepisná šírka, šírka, zem šírka, z šírka; lon:
zemepisná dĺžka, dĺžka, zem dĺžka, z dĺžka; alt: výška, nadmorská výška, výška letu, letová výška, výška
nad morom, nad morom; radalt: rádiová výška, rádiovýškomer, výška nad zemou, výška nad terénom; baro:
barometrická, tlaková výška; hdg: kurz, zemepisný kurz, skutočný kurz, smer, vybočenie, *azimut; mag:
magnetický kurz, magnetický, kompas; trk: trať, traťový uhol, kurz nad zemou; bearing: zameranie,
vzdialenosť; pitch: pozdĺžny sklon, klopenie, uhol klopenia, pozdĺžny náklon, sklon; roll: priečny náklon,
náklon, klonenie, uhol klonenia, priečny sklon, uhol náklonu, kolísanie; tas: pravá vzdušná rýchlosť,
skutočná rýchlosť, skutočná vzdušná rýchlosť, pravá rýchlosť; ias: indikovaná rýchlosť, prístrojová
rýchlosť, indikovaná vzdušná rýchlosť, kalibrovaná rýchlosť; spd: rýchlosť, vzdušná rýchlosť, rýchlosť
letu; gs: traťová rýchlosť, rýchlosť voči zemi, pozemná rýchlosť, rýchlosť nad zemou; aoa: uhol nábehu,
nábeh; vs: vertikálna rýchlosť, stúpanie, rýchlosť stúpania, variometer, zvislá rýchlosť, stúpavosť; sink:
klesanie, rýchlosť klesania, klesavosť; nz: násobok preťaženia, preťaženie, normálové zrýchlenie; thr:
plyn, plynová páka, prípusť, výkon, ťah, páka plynu, výkon motora; rpm: otáčky; flaps: klapky, vztlakové
klapky; gear: podvozok, kolesá; hook: háku, hák, záchytný hák, brzdiaci hák; brake: vzdušná brzda, vzdušné
brzdy; wow: na zemi, zaťaženie kolies; mass: hmotnosť, váha; fuel: palivo; wfrom: smer vetra; wspd:
rýchlosť vetra, *vietor; temp: teplota; qnh: tlak; north: sever, severný; east: východ, východný; south:
juh, južný; west: západ, západný; up: nahor, hore; down: nadol, dole; left: vľavo, doľava, ľavý; right:
vpravo, doprava; true: skut, skutočná, skutočný, pravá, pravý; ind: indikovaná, prístrojová, kalibrovaná;
ship: loď, lode, lodi, lietadlová loď, lietadlovej lode, plavidlo, paluba, lodný, nosič; fill: lietadlo,
lietadla, uhol, nad, voči, vzdušná, morom, zemepisný, letu, poloha, hodnota, lietadlová, lietadlovej; deg:
stupeň, stupne, stupňov; rad: radián, radiány, radiánov; m: meter, metre, metrov; ft: stopa, stopy, stôp;
kt: uzol, uzly, uzlov; km: kilometer, kilometre, kilometrov; hour: hodina, hodinu, hod; min: minúta,
minúty, minútu, minút; s: sekunda, sekundy, sekundu, sekúnd; ms: milisekunda, milisekundy, milisekúnd;
pct: percento, percentá, percent; per: za""",
    "Slovene": """
time: čas, časovni žig, ura, sekunde, časovna oznaka, čas leta; lat: geogr šir, zemljepisna širina,
širina, geografska širina, zem širina; lon: geogr dolž, zemljepisna dolžina, dolžina, geografska dolžina,
zem dolžina; alt: višina, nadmorska višina, višina leta, višina nad morjem, nad morjem; radalt: radijska
višina, radarska višina, višina nad tlemi, višina nad terenom; baro: barometrska, barometrična, tlačna
višina; hdg: smer, pravi kurz, kurz, smer nosu, pravi azimut, *azimut, odklon, sukanje, kot sukanja, prava
smer; mag: magnetna smer, magnetni kurz, magnetni, magnetna, kompas; trk: smer poti, smer gibanja, kurz
nad tlemi; bearing: razdalja, smerni kot cilja; pitch: vzdolžni naklon, vzdolžni nagib, kot vzdolžnega
naklona, nos gor, naklon nosu, kot vzpona nosu, višinski nagib, kot naklona; roll: prečni nagib, bočni
nagib, nagib, kot nagiba, valjanje, kot valjanja, prečni naklon, bočni naklon; tas: prava zračna hitrost,
dejanska zračna hitrost, prava hitrost, dejanska hitrost, resnična hitrost; ias: indicirana hitrost,
kazana hitrost, indicirana zračna hitrost, instrumentalna hitrost, kalibrirana hitrost; spd: hitrost,
zračna hitrost, hitrost leta; gs: hitrost nad tlemi, hitrost glede na tla, potna hitrost; aoa: vpadni kot;
vs: navpična hitrost, vertikalna hitrost, hitrost dviganja, vzpenjanje, dviganje, variometer, hitrost
vzpenjanja; sink: spuščanje, hitrost spuščanja, padanje, hitrost padanja; nz: faktor obremenitve,
obremenitev, preobremenitev; thr: ročica za plin, plin, moč, potisk, ročica plina, moč motorja; rpm:
vrtljaji, obrati; flaps: zakrilca, zakrilci; gear: podvozje, pristajalno podvozje, kolesa; hook: kavlja,
kavelj, zaustavni kavelj, pristajalni kavelj, kljuka; brake: zračna zavora, zračne zavore; wow: na tleh,
obremenitev koles; mass: masa, teža; fuel: gorivo; wfrom: smer vetra; wspd: hitrost vetra, *veter; temp:
temperatura; qnh: zračni tlak, tlak; north: sever, severno; east: vzhod, vzhodno; south: jug, južno; west:
zahod, zahodno; up: gor, navzgor; down: dol, navzdol; left: levo, levi, leva; right: desno, desni, desna;
true: prava, pravi, dejanska, dejanski, resnična; ind: indicirana, kazana, instrumentalna, kalibrirana;
ship: ladja, ladje, ladijski, letalonosilka, letalonosilke, plovilo, plovila, krov, čoln; fill: letalo,
letala, zrakoplov, kot, nad, glede, zračna, morjem, leta, položaj, vrednost, lega; deg: stopinja,
stopinje, stopinj; rad: radian, radiani, radianov; m: meter, metri, metrov; ft: čevelj, čevlji, čevljev;
kt: vozel, vozli, vozlov; km: kilometer, kilometri, kilometrov; hour: ura, uro; min: minuta, minute,
minuto, minut; s: sekunda, sekunde, sekundo, sekund; ms: milisekunda, milisekunde, milisekund; pct:
odstotek, odstotki, odstotkov; per: na""",
    "Croatian": """
time: vrijeme, vreme, vremenska oznaka, sekunde, trenutak, vrijeme leta; lat: geogr šir, zemljopisna
širina, geografska širina, širina, geogr širina, zemljop širina; lon: geogr duž, zemljopisna dužina,
geografska dužina, dužina, zemljopisna duljina, duljina, geogr dužina; alt: visina, nadmorska visina,
visina leta, visina nad morem, nad morem; radalt: radio visina, radarska visina, radiovisina, visina nad
tlom, visina iznad tla; baro: barometarska, barometrijska, tlačna visina; hdg: kurs, pravi kurs, smjer,
smer, skretanje, kut skretanja, ugao skretanja, zaošijanje, *azimut, smjer nosa; mag: magnetski kurs,
magnetski, magnetni kurs, magnetni, kompas; trk: putanja, kurs nad tlom, smjer puta; bearing: udaljenost,
smjerenje, azimut cilja; pitch: propinjanje, kut propinjanja, ugao propinjanja, poniranje nosa, uzdužni
nagib, uzdužni naklon, posrtanje, kut posrtanja; roll: valjanje, kut valjanja, ugao valjanja, nagib,
poprečni nagib, bočni nagib, ljuljanje, kut nagiba, kut bočnog nagiba; tas: prava brzina, stvarna brzina,
istinita brzina, stvarna zračna brzina, prava zračna brzina, stvarna vazdušna brzina; ias: indicirana
brzina, instrumentalna brzina, pokazna brzina, kalibrirana brzina, indikovana brzina, pokazivana brzina;
spd: brzina, zračna brzina, brzina leta, vazdušna brzina; gs: brzina prema tlu, putna brzina, zemaljska
brzina, brzina nad tlom; aoa: napadni kut, kut napada, napadni ugao; vs: vertikalna brzina, brzina
penjanja, penjanje, variometar, okomita brzina, uspinjanje; sink: poniranje, spuštanje, brzina spuštanja,
brzina poniranja, propadanje; nz: faktor opterećenja, preopterećenje, koeficijent opterećenja,
opterećenje; thr: gas, ručica gasa, ručica snage, snaga, potisak, poluga gasa, ručka gasa; rpm: okretaji,
broj okretaja, obrtaji; flaps: zakrilca, flapsovi; gear: podvozje, stajni trap, kotači, točkovi; hook:
kuke, kuka, kuka za zaustavljanje, repna kuka, kočna kuka; brake: zračna kočnica, zračne kočnice; wow: na
tlu, na zemlji, opterećenje kotača; mass: masa, težina; fuel: gorivo; wfrom: smjer vjetra, smer vetra;
wspd: brzina vjetra, brzina vetra, *vjetar, *vetar; temp: temperatura; qnh: tlak, pritisak, tlak zraka;
north: sjever, sever, sjeverno; east: istok, istočno; south: jug, južno; west: zapad, zapadno; up: gore;
down: dolje; left: lijevo, levo, lijevi; right: desno, desni; true: prava, pravi, stvarna, stvarni,
istinita; ind: indicirana, instrumentalna, pokazna, kalibrirana, indikovana; ship: brod, broda, brodski,
nosač, nosača, nosač zrakoplova, plovilo, paluba, palube; fill: zrakoplov, zrakoplova, avion, aviona,
letjelica, kut, ugao, nad, iznad, prema, zračna, morem, leta, položaj, vrijednost; deg: stupanj,
stupnjevi, stupnjeva, stepen, stepeni, stup; rad: radijan, radijani, radijana; m: metar, metri, metara;
ft: stopa, stope; kt: čvor, čvorovi, čvorova; km: kilometar, kilometri, kilometara; hour: sat, satu, čas;
min: minuta, minute, minuti; s: sekunda, sekunde, sekundi; ms: milisekunda, milisekunde, milisekundi; pct:
posto, postotak, postotci, procenat; per: u, na""",
    "Serbian": """
time: време, тренутак, секунде; lat: географска ширина, ширина; lon: географска дужина, дужина; alt:
висина, надморска висина, висина лета; baro: барометарска; hdg: курс, прави курс, смер, скретање; mag:
магнетни курс, магнетни; pitch: пропињање, угао пропињања, уздужни нагиб; roll: ваљање, угао ваљања,
нагиб, попречни нагиб, бочни нагиб; tas: стварна брзина, права брзина, стварна ваздушна брзина; ias:
индикована брзина, инструментална брзина, показана брзина; spd: брзина, ваздушна брзина; gs: брзина у
односу на тло, путна брзина; aoa: нападни угао; vs: вертикална брзина, брзина пењања, пењање, вариометар;
sink: брзина спуштања, спуштање, понирање; nz: фактор оптерећења, преоптерећење; thr: ручица гаса, гас,
снага, потисак; flaps: закрилца; gear: стајни трап; hook: кука; wow: на земљи; mass: маса, тежина; fuel:
гориво; wfrom: смер ветра; wspd: брзина ветра, *ветар; temp: температура; north: север; east: исток;
south: југ; west: запад; left: лево; right: десно; up: горе; down: доле; true: стварна, права, прави; ind:
индикована; ship: брод, брода, носач, палуба; fill: авион, авиона, угао, летелица, ваздушна; deg: степен,
степени; m: метар, метри, метара; ft: стопа, стопе; kt: чвор, чворови, чворова; km: километар, километара;
hour: сат, час; min: минут, минута, минуту; s: секунд, секунда, секунди; pct: проценат, посто; per: у, на""",
    "Russian": """
time: время, время полёта, секунды, отметка времени, час, метка времени; lat: широта, географическая
широта, геогр широта, шир; lon: долгота, географическая долгота, геогр долгота, долг; alt: высота, высота
полёта, абсолютная высота, высота над уровнем моря, высота над морем, над уровнем моря, выс, истинная
высота моря; radalt: радиовысота, высота по радиовысотомеру, радиовысотомер, высота над землёй,
геометрическая высота рв, высота над поверхностью; baro: барометрическая, баром; hdg: курс, истинный курс,
рыскание, рысканье, угол рыскания, направление, курс истинный, курсовой угол, *азимут; mag: магнитный
курс, магнитный, компас, компасный курс, приборный курс; trk: путевой угол, истинный путевой угол, линия
пути, пу; bearing: пеленг, дальность, расстояние; pitch: тангаж, угол тангажа, килевая качка; roll: крен,
угол крена, бортовая качка; tas: истинная скорость, истинная воздушная скорость, скорость истинная; ias:
приборная скорость, индикаторная скорость, скорость приборная, земная индикаторная скорость, исправленная
скорость; spd: скорость, воздушная скорость, скорость полёта, скор; gs: путевая скорость, скорость
относительно земли, земная скорость; aoa: угол атаки, атака, истинный угол атаки; vs: вертикальная
скорость, скорость набора, скороподъёмность, вариометр, скорость подъёма, набор высоты; sink: снижение,
скорость снижения, спуск; nz: перегрузка, нормальная перегрузка, вертикальная перегрузка, коэффициент
перегрузки; thr: руд, тяга, мощность, газ, рычаг газа, положение руд, сектор газа, рычаг управления
двигателем, дроссель; rpm: обороты, обороты двигателя; flaps: закрылки, механизация, закрылок; gear:
шасси; hook: гака, крюка, гак, тормозной гак, крюк, посадочный гак, тормозной крюк; brake: тормозной
щиток, тормозные щитки, воздушный тормоз; wow: на земле, обжатие стоек, обжатие шасси, обжатие; mass:
масса, вес, полётная масса; fuel: топливо, остаток топлива; flow: расход топлива; wfrom: направление
ветра; wspd: скорость ветра, *ветер, сила ветра; temp: температура; qnh: давление, давление моря; north:
север, северная, северное; east: восток, восточная, восточное; south: юг, южная; west: запад, западная;
up: вверх; down: вниз; left: влево, левый, левое, левая, лево, левого; right: вправо, правый, правое,
правая, право, правого; true: истинный, истинная, истинное, ист; ind: приборная, индикаторная, приборный,
приб; ship: корабль, корабля, авианосец, авианосца, судно, судна, палуба, палубы, носитель, авианесущий,
крейсер; fill: самолёт, самолёта, ла, угол, над, относительно, по, воздушная, уровнем, моря, полёта,
положение, значение, текущая, географическая, геогр; deg: градус, градусы, градусов; rad: радиан, радианы,
радианов; m: метр, метры, метров; ft: фут, футы, футов; kt: узел, узлы, узлов, уз; km: километр,
километры, километров; hour: час, ч; min: минута, минуты, минуту, минут, мин; s: секунда, секунды,
секунду, секунд, сек, с; ms: миллисекунда, миллисекунды, миллисекунд, мс, мсек; pct: процент, проценты,
процентов; per: в""",
    "Ukrainian": """
time: час, час польоту, секунди, мітка часу, відмітка часу; lat: широта, географічна широта; lon: довгота,
географічна довгота; alt: висота, висота польоту, висота над рівнем моря, абсолютна висота, над рівнем
моря; radalt: радіовисота, радіовисотомір, висота над землею; baro: барометрична; hdg: курс, істинний
курс, рискання, нишпорення, напрямок, кут рискання, *азимут, справжній курс; mag: магнітний курс,
магнітний, компас; trk: шляховий кут, колійний кут; bearing: пеленг, відстань, дальність; pitch: тангаж,
кут тангажа, кут тангажу; roll: крен, кут крену, хитавиця; tas: істинна швидкість, істинна повітряна
швидкість, справжня швидкість; ias: приладова швидкість, індикаторна швидкість; spd: швидкість, повітряна
швидкість, швидкість польоту; gs: шляхова швидкість, колійна швидкість, швидкість відносно землі; aoa: кут
атаки, атака; vs: вертикальна швидкість, швидкопідйомність, варіометр, швидкість підйому, швидкість
набору, набір висоти; sink: зниження, швидкість зниження; nz: перевантаження, нормальне перевантаження;
thr: тяга, потужність, газ, важіль газу, руд, дросель, сектор газу; rpm: оберти, обороти; flaps: закрилки;
gear: шасі; hook: гака, гак, гальмівний гак, посадковий гак; wow: на землі, обтиснення шасі; mass: маса,
вага; fuel: паливо, пальне; wfrom: напрямок вітру, напрям вітру; wspd: швидкість вітру, *вітер; temp:
температура; qnh: тиск; north: північ, північна; east: схід, східна; south: південь, південна; west:
захід, західна; up: вгору; down: вниз; left: вліво, лівий, ліворуч; right: вправо, правий, праворуч; true:
істинний, істинна, справжня, справжній; ind: приладова, індикаторна; ship: корабель, корабля, авіаносець,
авіаносця, судно, судна, палуба; fill: літак, літака, кут, над, відносно, повітряна, рівнем, моря,
польоту, положення, значення, географічна; deg: градус, градуси, градусів; rad: радіан, радіани, радіанів;
m: метр, метри, метрів; ft: фут, фути, футів; kt: вузол, вузли, вузлів; km: кілометр, кілометри,
кілометрів; hour: година, годину, год; min: хвилина, хвилини, хвилину, хв; s: секунда, секунди, секунду;
ms: мілісекунда, мілісекунди, мс; pct: відсоток, відсотки, відсотків; per: на, за, в""",
    "Bulgarian": """
time: време, час, секунди, времеви печат, време на полета; lat: ширина, географска ширина, геогр ширина,
шир; lon: дължина, географска дължина, геогр дължина, дълж; alt: височина, надморска височина, височина на
полета, над морското равнище, вис; radalt: радиовисота, радиовисочина, радиовисотомер, височина над
терена; baro: барометрична; hdg: курс, истински курс, рискане, посока, ъгъл на рискане, направление,
*азимут; mag: магнитен курс, магнитен, компас; trk: пътен ъгъл, следа; bearing: пеленг, разстояние; pitch:
тангаж, ъгъл на тангаж, надлъжен наклон; roll: крен, ъгъл на крен, напречен наклон; tas: истинска скорост,
истинска въздушна скорост, действителна скорост; ias: приборна скорост, индикаторна скорост, приборна
въздушна скорост, уредна скорост; spd: скорост, въздушна скорост; gs: пътна скорост, земна скорост,
скорост спрямо земята; aoa: ъгъл на атака, атака; vs: вертикална скорост, скороподемност, вариометър,
скорост на изкачване, изкачване, набор на височина; sink: снижение, скорост на снижение, спускане, скорост
на спускане; nz: претоварване, нормално претоварване; thr: газ, тяга, мощност, ръчка газ, лост за газта,
руд, ръчка за газта, дросел; rpm: обороти; flaps: задкрилки; gear: колесник, шаси; hook: куката, кука,
спирачна кука, гак, кука за кацане; wow: на земята, на земя; mass: маса, тегло; fuel: гориво; wfrom:
посока на вятъра; wspd: скорост на вятъра, *вятър; temp: температура; qnh: налягане; north: север,
северна; east: изток, източна; south: юг, южна; west: запад, западна; up: нагоре; down: надолу; left:
наляво, ляво, ляв; right: надясно, дясно, десен; true: истински, истинска, действителна; ind: приборна,
индикаторна; ship: кораб, кораба, самолетоносач, самолетоносача, палуба; fill: самолет, самолета, ъгъл,
на, за, над, спрямо, въздушна, полета, морското, положение, стойност, географска; deg: градус, градуси,
градуса; rad: радиан, радиани; m: метър, метри, метра; ft: фут, фута, футове; kt: възел, възли, възела;
km: километър, километри, километра; hour: час, ч; min: минута, минути, мин; s: секунда, секунди, сек; ms:
милисекунда, милисекунди, мс; pct: процент, проценти, процента; per: в, на, за""",
}
