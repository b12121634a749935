"""What flights are written down in, language by language: Baltic, Finnic and farther languages.

Written as in :mod:`deckward.recordings.recogniser.words_west`. Source: common usage in these languages,
general knowledge, from memory.
"""

from __future__ import annotations

EAST = {
    "Hungarian": """
time: idő, időpont, időbélyeg, óra, másodperc, eltelt idő, repülési idő; lat: szélesség, földrajzi
szélesség, szélességi fok, földr szélesség; lon: hosszúság, földrajzi hosszúság, hosszúsági fok, földr
hosszúság, hossz; alt: magasság, repülési magasság, tengerszint feletti magasság, tengerszint felett;
radalt: rádiómagasság, radarmagasság, talaj feletti magasság, terep feletti magasság; baro: barometrikus,
nyomásmagasság; hdg: irány, valódi irány, irányszög, orrirány, földrajzi irány, legyezés, irányszög
földrajzi, géptengely irány, valós irány; mag: mágneses irány, mágneses, iránytű; trk: útirány, útvonal,
földi irány, útirányszög; bearing: távolság, irányzék; pitch: bólintás, bólintási szög, hosszdőlés,
bólintószög, orr állásszög, orrhelyzet, hossztengely dőlés; roll: dőlés, bedöntés, dőlésszög, bedöntési
szög, csűrés, orsózás, keresztdőlés, orsózási szög, oldaldőlés, billenés; tas: valós sebesség, tényleges
sebesség, valódi légsebesség, tényleges légsebesség, valódi sebesség, valós légsebesség; ias: műszer
szerinti sebesség, műszersebesség, mutatott sebesség, műszer szerinti légsebesség, jelzett sebesség,
kalibrált sebesség, indikált sebesség; spd: sebesség, légsebesség, repülési sebesség, seb; gs: földfeletti
sebesség, föld feletti sebesség, talajsebesség, talajhoz viszonyított sebesség, földi sebesség,
útsebesség; aoa: állásszög; vs: függ sebesség, függőleges sebesség, emelkedés, emelkedési sebesség, varió,
variométer, emelkedőképesség; sink: süllyedés, merülés, merülési sebesség, süllyedési sebesség,
ereszkedés; nz: terhelési többes, terhelés, túlterhelés, normálgyorsulás; thr: gázkar, gáz, tolóerő,
teljesítmény, gázkar állás, gázadás; rpm: fordulatszám; flaps: fékszárny, fékszárnyak, ívelőlap,
ívelőlapok; gear: futómű, kerekek; hook: fékhorog, horog, fogóhorog, kampó; brake: féklap, féklapok; wow:
földön, kerékterhelés, keréknyomás; mass: tömeg, súly, repülőtömeg; fuel: üzemanyag, tüzelőanyag; wfrom:
szélirány; wspd: szélsebesség, szélerő, szélerősség; temp: hőmérséklet; qnh: légnyomás; north: észak,
északi; east: kelet, keleti; south: déli; west: nyugat, nyugati; up: fel, felfelé; down: lefelé; left:
bal, balra; right: jobb, jobbra; true: valós, valódi, tényleges; ind: műszer, mutatott, jelzett,
kalibrált, indikált; ship: hajó, hajóé, anyahajó, hordozó, fedélzet, hajójának, vízijármű; fill:
repülőgép, gép, repülő, szög, szerinti, feletti, tenger, tengerszint, földrajzi, helyzet, érték, állás,
pillanatnyi; deg: fok, fokok, fokban; rad: radián, radiánban; m: méter, méterben; ft: láb, lábban; kt:
csomó, csomóban; km: kilométer, kilométerben; hour: óra; min: perc, percben; s: másodperc, mp,
másodpercben; ms: ezredmásodperc, milliszekundum, ezredmp; pct: százalék, százalékban""",
    "Finnish": """
time: aika, aikaleima, kello, kellonaika, sekunnit, hetki, lentoaika, ajanhetki; lat: leveysaste,
leveyspiiri, leveys, maantieteellinen leveys; lon: pituusaste, pituuspiiri, pituus, maantieteellinen
pituus; alt: korkeus, lentokorkeus, korkeus merenpinnasta, merenpinnan yläpuolella, korkeus mpy, mpy;
radalt: radiokorkeus, tutkakorkeus, korkeus maasta, korkeus maanpinnasta; baro: painekorkeus,
barometrinen; hdg: suunta, tosisuunta, keulasuunta, ohjaussuunta, suuntakulma, nokan suunta, kääntökulma,
kurssi, tosikurssi, suuntima nokka, *atsimuutti; mag: magneettinen suunta, magneettinen, kompassisuunta,
magneettisuunta, kompassi; trk: kulkusuunta, lentosuunta, suunta maan suhteen, jälki, pohjasuunta;
bearing: suuntima, etäisyys; pitch: jyskintä, nousukulma, pituuskallistus, nyökkäys, nyökkäyskulma, nokan
asento, pituuskallistuma, nokan kulma, nyökkäyskulma; roll: keinunta, kallistus, kallistuskulma,
poikittaiskallistus, kallistuma, kallistelu, kierähdys, rullaus; tas: tosi-ilmanopeus, todellinen
ilmanopeus, tosinopeus, todellinen nopeus; ias: mittarinopeus, osoitettu ilmanopeus, mittariilmanopeus,
korjattu ilmanopeus, osoitettu nopeus, kalibroitu ilmanopeus; spd: nopeus, ilmanopeus, lentonopeus,
vauhti; gs: maanopeus, nopeus maan suhteen, pohjanopeus; aoa: kohtauskulma; vs: pystynopeus, nousunopeus,
variometri, nousu, pystysuora nopeus, vertikaalinopeus; sink: vajoamisnopeus, vajoaminen, laskunopeus,
laskeutumisnopeus, vajoama; nz: kuormituskerroin, kuormitusmonikerta, normaalikiihtyvyys; thr: kaasu,
kaasuvipu, tehovipu, teho, työntövoima, tehoasetus, kaasun asento, moottoriteho; rpm: kierrosluku,
kierrokset; flaps: laipat, laskusiivekkeet, solakot, laskusiivet; gear: laskuteline, laskutelineet,
pyörät; hook: koukun, koukku, pysäytyskoukku, pyrstökoukku, jarrukoukku, laskukoukku; brake: ilmajarru,
lentojarru, lentojarrut; wow: maassa, paino pyörillä, maakosketus; mass: massa, paino, lentomassa; fuel:
polttoaine, polttoainemäärä; wfrom: tuulen suunta; wspd: tuulen nopeus, *tuuli; temp: lämpötila; qnh:
ilmanpaine; north: pohjoinen, pohjoiseen, pohjois; east: itä, itään; south: etelä, etelään; west: länsi,
länteen; up: ylös, ylöspäin; down: alas, alaspäin; left: vasen, vasemmalle, vasemmalla; right: oikea,
oikealle, oikealla; true: tosi, todellinen; ind: mittari, osoitettu, korjattu, kalibroitu; ship: laiva,
laivan, alus, aluksen, lentotukialus, lentotukialuksen, tukialus, tukialuksen, emäalus, kansi, kannen,
vene; fill: lentokone, lentokoneen, kone, koneen, kulma, yläpuolella, suhteen, ilma, meren, merenpinnasta,
maantieteellinen, asento, arvo, sijainti, asema; deg: aste, asteet, astetta, asteina; rad: radiaani,
radiaanit, radiaania, radiaaneina; m: metri, metriä, metreinä, metrit; ft: jalka, jalkaa, jalat, jalkoina;
kt: solmu, solmua, solmut, solmuina; km: kilometri, kilometriä; hour: tunti, tunnissa; min: minuutti,
minuuttia, minuutissa; s: sekunti, sekuntia, sekunnissa, sek; ms: millisekunti, millisekuntia; pct:
prosentti, prosenttia, prosentteina""",
    "Estonian": """
time: aeg, ajatempel, kellaaeg, sekundid, lennuaeg, ajahetk; lat: laius, laiuskraad, geograafiline laius,
laiused; lon: pikkus, pikkuskraad, geograafiline pikkus; alt: kõrgus, lennukõrgus, kõrgus merepinnast,
merepinnast, absoluutkõrgus; radalt: raadiokõrgus, radarkõrgus, kõrgus maapinnast; baro: rõhukõrgus,
baromeetriline; hdg: kurss, tõeline kurss, suund, lengerdus, lengerdusnurk, ninasuund, pöördenurk,
*asimuut; mag: magnetkurss, magnetiline, magnetiline kurss, kompass, kompassikurss; trk: teekonnanurk,
liikumissuund, teekurss; bearing: peiling, kaugus; pitch: kaldenurk piki, pikikalle, kiiknurk,
pikikaldenurk, nina asend, tangaaž; roll: külgkalle, kalle, kreen, kreeninurk, kaldenurk, külgkaldenurk,
põikkalle, rullumine, rullinurk; tas: tegelik õhkkiirus, tõeline õhkkiirus, tõeline kiirus, tegelik
kiirus, tõeline õhukiirus, tegelik õhukiirus; ias: näidatud kiirus, näidukiirus, indikaatorkiirus,
instrumentaalkiirus, näidatud õhkkiirus, mõõdiku kiirus, kalibreeritud kiirus; spd: kiirus, õhkkiirus,
õhukiirus, lennukiirus; gs: maakiirus, kiirus maapinna suhtes, teekiirus; aoa: kohtumisnurk, ründenurk;
vs: vertikaalkiirus, tõusukiirus, variomeeter, tõus, vertikaalne kiirus; sink: vajumiskiirus,
laskumiskiirus, vajumine, laskumine; nz: ülekoormus, koormustegur, koormuskordaja; thr: gaasihoob, gaas,
võimsus, tõmme, tõukejõud, gaasihoova asend; rpm: pöörded; flaps: tagatiivad, klapid; gear: telik,
telikud, rattad; hook: konksu, konks, pidurduskonks, püüdekonks, sabakonks; wow: maas, ratastel kaal;
mass: mass, kaal, lennumass; fuel: kütus; wfrom: tuule suund; wspd: tuule kiirus, *tuul; temp:
temperatuur; qnh: õhurõhk; north: põhi, põhja, põhjasuund; east: ida, itta; south: lõuna, lõunasse; west:
lääs, läände; down: alla; left: vasak, vasakule; right: parem, paremale; true: tõeline, tegelik; ind:
näidatud, indikaator, kalibreeritud; ship: laev, laeva, lennukikandja, alus, aluse, emalaev, emalaeva,
tekk, kandja; fill: lennuk, lennuki, nurk, suhtes, õhk, mere, merepinnast, geograafiline, asend, väärtus,
asukoht; deg: kraad, kraadi, kraadid, kraadides; rad: radiaan, radiaani, radiaanid, radiaanides; m:
meeter, meetrit, meetrid, meetrites; ft: jalg, jalga, jalad, jalgades; kt: sõlm, sõlme, sõlmed, sõlmedes;
km: kilomeeter, kilomeetrit; hour: tund, tunnis; min: minut, minutit, minutis; s: sekund, sekundit,
sekundis, sek; ms: millisekund, millisekundit; pct: protsent, protsenti, protsendid""",
    "Latvian": """
time: laiks, laika zīmogs, sekundes, pulkstenis, lidojuma laiks; lat: platums, ģeogrāfiskais platums,
platuma grādi, platuma grāds; lon: garums, ģeogrāfiskais garums, garuma grādi, garuma grāds; alt:
augstums, lidojuma augstums, augstums virs jūras, virs jūras līmeņa, augstums vjl; radalt: radioaugstums,
radara augstums, augstums virs zemes; baro: barometriskais, spiediena augstums; hdg: kurss, patiesais
kurss, virziens, īstais kurss, *azimuts, kursa leņķis; mag: magnētiskais kurss, magnētiskais, kompass;
trk: ceļa leņķis, ceļa kurss, faktiskais ceļa leņķis; bearing: peilējums, attālums; pitch: garensvere,
tangāža, tangāžas leņķis, garenslīpums, tangāžs, garensveres leņķis, deguna leņķis; roll: sānsvere,
sānsveres leņķis, šķērssvere, krēns, sasvere, sasveres leņķis, šķērsslīpums; tas: patiesais gaisa ātrums,
īstais gaisa ātrums, patiesais ātrums, īstais ātrums, faktiskais gaisa ātrums; ias: indicētais ātrums,
instrumentālais ātrums, indicētais gaisa ātrums, rādītais ātrums, kalibrētais ātrums, uzrādītais ātrums;
spd: ātrums, gaisa ātrums, lidojuma ātrums; gs: ceļa ātrums, ātrums virs zemes, ātrums pret zemi; aoa:
uzplūdes leņķis, atakas leņķis; vs: vertikālais ātrums, augstuma uzņemšana, kāpšanas ātrums, variometrs,
augstuma uzņemšanas ātrums, kāpums; sink: grimšanas ātrums, nolaišanās ātrums, grimšana, slīdēšanas
ātrums; nz: pārslodze, slodzes koeficients; thr: gāze, gāzes svira, jauda, vilkme, dzinēja jauda,
droseļvārsts, droseles svira; rpm: apgriezieni; flaps: aizplākšņi, aizspārņi; gear: šasija, riteņi; hook:
āķis, bremzēšanas āķis, nosēšanās āķis; wow: uz zemes, svars uz riteņiem; mass: masa, svars; fuel:
degviela; wfrom: vēja virziens; wspd: vēja ātrums, *vējš; temp: temperatūra; qnh: spiediens; north:
ziemeļi, ziemeļu; east: austrumi, austrumu; south: dienvidi, dienvidu; west: rietumi, rietumu; up: augšup,
uz augšu; down: lejup, uz leju; left: pa kreisi, kreisais, kreisā; right: pa labi, labais, labā; true:
patiesais, īstais, faktiskais; ind: indicētais, instrumentālais, rādītais, kalibrētais; ship: kuģis, kuģa,
bāzes kuģis, bāzeskuģis, bāzeskuģa, lidmašīnbāzes, laiva, klājs, klāja; fill: lidmašīna, lidmašīnas,
leņķis, virs, gaisa, jūras, līmeņa, ģeogrāfiskais, lidojuma, stāvoklis, vērtība, bāzes; deg: grāds, grādi,
grādos; rad: radiāns, radiāni, radiānos; m: metrs, metri, metros; ft: pēda, pēdas, pēdās; kt: mezgls,
mezgli, mezglos; km: kilometrs, kilometri; hour: stunda, stundā; min: minūte, minūtes, minūtē; s: sekunde,
sekundes, sekundē; ms: milisekunde, milisekundes; pct: procents, procenti, procentos""",
    "Lithuanian": """
time: laikas, laiko žyma, sekundės, skrydžio laikas, valandos; lat: platuma, geografinė platuma; lon:
ilguma, geografinė ilguma; alt: aukštis, skrydžio aukštis, aukštis virš jūros, virš jūros lygio, altitudė;
radalt: radijo aukštis, radaro aukštis, aukštis virš žemės; baro: barometrinis, slėgio aukštis; hdg:
kursas, tikrasis kursas, kryptis, *azimutas, krypavimas, nosies kryptis; mag: magnetinis kursas,
magnetinis, kompasas; trk: kelio kampas, maršruto kampas, kelio kryptis; bearing: pelengas, atstumas;
pitch: tangažas, tangažo kampas, polinkis, išilginis posvyris, išilginis polinkis; roll: posvyris,
posvyrio kampas, skersinis posvyris, krenas, pokrypis, pasvirimas, skersinis polinkis; tas: tikrasis oro
greitis, tikrasis greitis, tikroji oro greitis; ias: prietaisinis greitis, rodomas greitis, indikuotas
greitis, prietaiso greitis, kalibruotas greitis; spd: greitis, oro greitis, skrydžio greitis; gs: kelio
greitis, greitis žemės atžvilgiu, žemės greitis; aoa: atakos kampas; vs: vertikalus greitis, vertikalusis
greitis, kilimo greitis, variometras, kilimas, aukštėjimo greitis; sink: leidimosi greitis, žemėjimo
greitis, leidimasis, žemėjimas; nz: perkrova, apkrovos koeficientas; thr: droselis, galia, trauka, dujos,
traukos svirtis, akceleratorius, variklio galia, droselio padėtis; rpm: apsukos, sūkiai; flaps:
užsparniai, užsparnis; gear: važiuoklė, ratai; hook: kablys, stabdymo kablys, tūpimo kablys; wow: ant
žemės, svoris ant ratų; mass: masė, svoris; fuel: kuras, degalai; wfrom: vėjo kryptis; wspd: vėjo greitis,
*vėjas; temp: temperatūra; qnh: slėgis; north: šiaurė, šiaurės; east: rytai, rytų; south: pietūs, pietų;
west: vakarai, vakarų; up: aukštyn; down: žemyn; left: kairė, kairėn, kairysis; right: dešinė, dešinėn,
dešinysis; true: tikrasis, tikroji, tikras; ind: prietaisinis, rodomas, indikuotas, kalibruotas; ship:
laivas, laivo, lėktuvnešis, lėktuvnešio, denis, denio; fill: lėktuvas, lėktuvo, orlaivis, orlaivio,
kampas, virš, oro, jūros, lygio, geografinė, skrydžio, padėtis, reikšmė; deg: laipsnis, laipsniai,
laipsnių, laips; rad: radianas, radianai, radianų; m: metras, metrai, metrų; ft: pėda, pėdos, pėdų; kt:
mazgas, mazgai, mazgų; km: kilometras, kilometrai; hour: valanda, valandą, val; min: minutė, minutės,
minutę; s: sekundė, sekundės, sekundę; ms: milisekundė, milisekundės; pct: procentas, procentai, proc;
per: per""",
    "Greek": """
time: χρόνος, ώρα, χρονοσφραγίδα, δευτερόλεπτα, χρονική στιγμή; lat: πλάτος, γεωγραφικό πλάτος; lon:
μήκος, γεωγραφικό μήκος; alt: ύψος, υψόμετρο, ύψος πτήσης, ύψος θάλασσα, υψόμετρο θάλασσας; radalt:
ραδιοϋψόμετρο, ύψος εδάφους, ύψος ραντάρ; baro: βαρομετρικό, ύψος πίεσης; hdg: πορεία, αληθής πορεία,
κατεύθυνση, εκτροπή, *αζιμούθιο, διεύθυνση πλώρης, πλώρη; mag: μαγνητική πορεία, μαγνητική, πυξίδα,
μαγνητικός; trk: ίχνος, πορεία εδάφους, πορεία βυθού; bearing: διόπτευση, απόσταση; pitch: πρόνευση, γωνία
πρόνευσης, προνευτασμός, ανόρθωση, διαμήκης κλίση, γωνία ανύψωσης; roll: κλίση, διατοιχισμός, γωνία
κλίσης, περιστροφή, εγκάρσια κλίση, διατοίχιση, πλάγια κλίση; tas: αληθής ταχύτητα, πραγματική ταχύτητα,
αληθής ταχύτητα αέρα, αληθής αεροταχύτητα, πραγματική ταχύτητα αέρος; ias: ενδεικτική ταχύτητα,
ενδεικνυόμενη ταχύτητα, ένδειξη ταχύτητας, διορθωμένη ταχύτητα, ενδεικνύμενη ταχύτητα; spd: ταχύτητα,
ταχύτητα αέρα, ταχύτητα αέρος, αεροταχύτητα; gs: ταχύτητα εδάφους, ταχύτητα βυθού; aoa: γωνία προσβολής,
γωνία πρόσπτωσης; vs: κατακόρυφη ταχύτητα, ρυθμός ανόδου, βαριόμετρο, κάθετη ταχύτητα, άνοδος, ταχύτητα
ανόδου; sink: ρυθμός καθόδου, κάθοδος, ταχύτητα καθόδου, ρυθμός βύθισης; nz: συντελεστής φόρτισης,
συντελεστής φορτίου, επιτάχυνση βαρύτητας; thr: μανέτα, ισχύς, ώση, γκάζι, μοχλός ισχύος, θέση μανέτας;
rpm: στροφές; flaps: πτερύγια καμπυλότητας, φλαπς; gear: σύστημα προσγείωσης, τροχοί; hook: άγκιστρο,
άγκιστρο ανάσχεσης, γάντζος; wow: στο έδαφος, βάρος στους τροχούς; mass: μάζα, βάρος; fuel: καύσιμο,
καύσιμα; wfrom: διεύθυνση ανέμου, κατεύθυνση ανέμου; wspd: ταχύτητα ανέμου, *άνεμος, ένταση ανέμου; temp:
θερμοκρασία; qnh: πίεση; north: βορράς, βόρεια, βορρά; east: ανατολή, ανατολικά; south: νότος, νότια;
west: δύση, δυτικά; up: πάνω, επάνω; down: κάτω; left: αριστερά, αριστερή; right: δεξιά, δεξιή; true:
αληθής, πραγματική, αληθινή; ind: ενδεικτική, ενδεικνυόμενη, ένδειξη, διορθωμένη; ship: πλοίο, πλοίου,
αεροπλανοφόρο, αεροπλανοφόρου, σκάφος επιφανείας, κατάστρωμα, καράβι; fill: αεροσκάφος, αεροσκάφους,
αεροπλάνο, αεροπλάνου, γωνία, από, αέρα, θάλασσας, γεωγραφικό, θέση, τιμή, του, της, το; deg: μοίρα,
μοίρες, μοιρών; rad: ακτίνιο, ακτίνια; m: μέτρο, μέτρα; ft: πόδι, πόδια; kt: κόμβος, κόμβοι, κόμβους,
κόμβων; km: χιλιόμετρο, χιλιόμετρα, χλμ; hour: ώρα; min: λεπτό, λεπτά; s: δευτερόλεπτο, δευτερόλεπτα,
δευτ; ms: χιλιοστά δευτερολέπτου, χιλιοστοδευτερόλεπτα; pct: τοις εκατό, ποσοστό; per: ανά, την, το""",
    "Turkish": """
time: zaman, saat, zaman damgası, saniye, geçen süre, uçuş süresi; lat: enlem, coğrafi enlem; lon: boylam,
coğrafi boylam; alt: irtifa, yükseklik, rakım, uçuş irtifası, deniz seviyesi, deniz seviyesinden
yükseklik, irtifası, yüksekliği; radalt: radyo irtifa, radar irtifa, yerden yükseklik, radar yüksekliği,
radyo altimetre; baro: barometrik, basınç irtifası; hdg: baş, baş açısı, gerçek baş, burun yönü,
istikamet, yön, sapma, sapma açısı, gerçek yön, yönelme, hakiki baş, yönelim, pruva; mag: manyetik baş,
manyetik, pusula, manyetik yön; trk: yer izi, iz, rota, takip, yer rotası; bearing: kerteriz, mesafe,
uzaklık; pitch: yunuslama, yunuslama açısı, burun açısı, dikilme, boyuna eğim, yunuslaması; roll: yatış,
yatış açısı, yuvarlanma, yalpa, yalpa açısı, yatma, yana yatış, yuvarlanma açısı, yalpalama, enine eğim;
tas: gerçek hava hızı, gerçek hız, hakiki hava hızı, gerçek sürat, hakiki sürat, hakiki hız; ias: gösterge
hızı, gösterilen hız, gösterge hava hızı, gösterilen hava hızı, gösterge sürati, kalibre hava hızı,
düzeltilmiş hava hızı, işari sürat, işari hava hızı; spd: hız, hava hızı, sürat, hızı, uçuş hızı; gs: yer
hızı, yer sürati, yere göre hız; aoa: hücum açısı; vs: dikey hız, tırmanma, tırmanma hızı, tırmanma oranı,
varyometre, düşey hız, tırmanış, dikey sürat, tırmanış hızı; sink: alçalma, alçalma hızı, alçalma oranı,
çökme hızı, çöküş, süzülme hızı, alçalış; nz: yük faktörü, yük katsayısı, normal ivme; thr: gaz, gaz kolu,
güç, itki, gaz kolu konumu, motor gücü, güç kolu; rpm: devir, motor devri; flaps: flap, flaplar, kanatçık
flap; gear: iniş takımı, iniş takımları, tekerlek; hook: kanca, yakalama kancası, kuyruk kancası, tutucu
kanca, iniş kancası; brake: hava freni, sürat freni; wow: yerde, tekerlek ağırlığı, tekerlekte ağırlık,
tekerlek yükü; mass: kütle, ağırlık; fuel: yakıt, yakıt miktarı; wfrom: rüzgar yönü, rüzgâr yönü; wspd:
rüzgar hızı, *rüzgar, rüzgar şiddeti; temp: sıcaklık; qnh: basınç; north: kuzey; east: doğu; south: güney;
west: batı; up: yukarı; down: aşağı; left: sol, sola, iskele; right: sağ, sağa, sancak; true: gerçek,
hakiki; ind: gösterge, gösterilen, kalibre, işari; ship: gemi, geminin, uçak gemisi, gemisi, tekne,
güverte, uçakgemisi; fill: uçak, uçağın, uçağı, açı, açısı, hava, deniz, seviyesi, göre, coğrafi, konum,
konumu, değer, değeri, anlık; deg: derece; rad: radyan; m: metre; ft: fit, ayak; kt: knot, deniz mili; km:
kilometre; hour: saat, sa; min: dakika, dk; s: saniye, sn; ms: milisaniye, msn; pct: yüzde""",
    "Indonesian": """
time: waktu, jam, cap waktu, detik, saat waktu, stempel waktu; lat: lintang, garis lintang, latitud; lon:
bujur, garis bujur, longitud; alt: ketinggian, tinggi, elevasi, ketinggian dpl, atas permukaan laut,
altitud, dpl, aras laut; radalt: ketinggian radar, ketinggian radio, tinggi radar, atas tanah; baro:
barometrik, ketinggian tekanan, barometris; hdg: haluan, arah hidung, arah, haluan sejati, arah sejati,
arah haluan, haluan benar, rewang, *azimut, geleng; mag: haluan magnetik, magnetik, arah magnetik, kompas,
haluan kompas; trk: jejak, lintasan, arah lintasan, trek, haluan darat; bearing: baringan, jarak; pitch:
angguk, anggukan, sudut angguk, pitch, jungkit, sudut anggukan, sudut hidung, hidung naik, junaman; roll:
guling, sudut guling, kemiringan, miring, sudut kemiringan, oleng, golek, olengan, sudut miring, gulingan,
sendeng; tas: kecepatan udara sejati, kecepatan sejati, kecepatan udara sebenarnya, kelajuan udara
sebenar, laju udara benar, kecepatan sebenarnya, kelajuan sebenar, laju udara sebenar; ias: kecepatan
udara tertunjuk, kecepatan indikasi, kecepatan udara terindikasi, kecepatan terindikasi, kelajuan
tertunjuk, laju udara ditunjuk, kecepatan terkalibrasi, kecepatan udara terkalibrasi, laju udara
tertunjuk; spd: kecepatan, kecepatan udara, kelajuan, laju, kelajuan udara, laju udara; gs: kecepatan
darat, kecepatan tanah, kelajuan darat, laju darat, kecepatan terhadap tanah; aoa: sudut serang, sudut
serangan; vs: kecepatan vertikal, laju naik, laju tanjakan, kecepatan naik, laju pendakian, kelajuan
menegak, variometer, laju panjat, kadar pendakian, kadar naik, kecepatan menanjak; sink: laju turun,
kecepatan turun, laju penurunan, kadar penurunan, laju benam, kadar menurun, kadar turun; nz: faktor
beban, percepatan normal; thr: tuas gas, gas, daya, gaya dorong, tuas daya, pendikit, posisi tuas gas,
tujahan; rpm: putaran mesin, putaran; flaps: flap, kepak, sirip sayap; gear: roda pendarat, roda
pendaratan, gear pendaratan; hook: kait, kait penahan, kait ekor, cangkuk, kait pendaratan; brake: rem
udara, brek udara; wow: di darat, beban roda, di tanah, berat pada roda; mass: massa, berat, jisim; fuel:
bahan bakar, bahan api; wfrom: arah angin; wspd: kecepatan angin, *angin, kelajuan angin, laju angin;
temp: suhu, temperatur; qnh: tekanan; north: utara; east: timur; south: selatan; west: barat; up: atas;
down: bawah; left: kiri; right: kanan; true: sejati, sebenarnya, sebenar, benar; ind: tertunjuk, indikasi,
terindikasi, terkalibrasi, ditunjuk; ship: kapal, kapal induk, geladak, perahu; fill: pesawat, terbang,
sudut, garis, atas, permukaan, laut, terhadap, udara, posisi, nilai, pada, di, ke, hidung, aras,
kedudukan, sekarang, geografis, induk; deg: derajat, darjah; rad: radian; m: meter; ft: kaki; kt: knot,
simpul; km: kilometer; hour: jam; min: menit, minit; s: detik; ms: milidetik, milisaat; pct: persen,
peratus; per: se""",
    "Vietnamese": """
time: thời gian, giây, mốc thời gian, thời điểm; lat: vĩ độ; lon: kinh độ; alt: độ cao, cao độ, chiều cao;
radalt: độ cao vô tuyến, độ cao radar; baro: khí áp, độ cao khí áp; hdg: hướng, hướng mũi, hướng thật,
hướng mũi thật, góc hướng, hướng bay; mag: hướng từ, hướng từ trường, hướng la bàn, la bàn, từ tính; trk:
hướng đường bay, vết bay, đường bay, hướng di chuyển; bearing: phương vị, khoảng cách; pitch: góc chúc
ngóc, chúc ngóc, góc ngẩng, độ ngóc, góc chúc, góc ngóc, góc gật; roll: góc nghiêng, nghiêng, độ nghiêng,
góc cren, góc lăn, lắc ngang, nghiêng cánh; tas: tốc độ thật, vận tốc thật, tốc độ không khí thật, tốc độ
thực, vận tốc thực, tốc độ bay thực; ias: tốc độ chỉ thị, vận tốc chỉ thị, tốc độ đồng hồ, tốc độ hiệu
chỉnh, tốc độ biểu kiến; spd: tốc độ, vận tốc, tốc độ bay, tốc độ không khí; gs: tốc độ mặt đất, tốc độ
đất, vận tốc mặt đất; aoa: góc tấn, góc tới; vs: tốc độ lên xuống, tốc độ thẳng đứng, tốc độ lên, tốc độ
leo cao, vận tốc thẳng đứng, tốc độ leo, tốc độ lấy độ cao, tốc độ đứng; sink: tốc độ hạ, tốc độ xuống,
tốc độ hạ độ cao, tốc độ giảm độ cao; nz: hệ số quá tải, quá tải, hệ số tải; thr: tay ga, cần ga, ga, công
suất, lực đẩy, vị trí tay ga; flaps: cánh tà; gear: càng, càng đáp, càng hạ cánh; hook: móc hãm, móc đuôi,
móc cáp; wow: trên mặt đất, tải bánh xe; mass: khối lượng, trọng lượng; fuel: nhiên liệu; wfrom: hướng
gió; wspd: tốc độ gió, *gió, vận tốc gió; temp: nhiệt độ; qnh: áp suất; left: trái; right: phải; true:
thật, thực; ind: chỉ thị; ship: tàu, boong; fill: máy, bay, góc, mực, nước, biển, trên, so, với, vị, trí,
giá, trị, không, khí, sân, của, bay; rad: radian; m: mét; kt: hải lý giờ, nút; km: kilômét; hour: giờ;
min: phút; s: giây; ms: mili giây; pct: phần trăm; per: trên, một""",
    "Swahili": """
time: wakati, muda, saa, sekunde, majira; lat: latitudo, latitudi; lon: longitudo, longitudi; alt:
mwinuko, kimo, urefu juu bahari, altitudo, urefu wa juu, kwenda juu; hdg: mwelekeo, mwelekeo halisi,
uelekeo, mwelekeo wa kweli, mwelekeo wa pua; mag: mwelekeo sumaku, sumaku, dira; trk: njia, mwelekeo wa
njia; bearing: umbali; pitch: kuinama, mwinamo, pembe ya pua, mwinamo wa mbele, kuinuka kwa pua; roll:
kuviringika, mwinamo wa upande, kulala, mlalo, kubingirika, kuinama upande, mviringiko; tas: kasi halisi,
kasi ya kweli, kasi halisi ya hewa, kasi ya kweli ya hewa; ias: kasi iliyoonyeshwa, kasi inayoonyeshwa,
kasi ya kipimo; spd: kasi, mwendo, kasi ya hewa, mwendokasi, spidi; gs: kasi ya ardhi, kasi ardhini; aoa:
pembe ya shambulio, pembe ya mashambulizi; vs: kasi wima, kasi ya kupanda, kasi ya wima, kiwango cha
kupanda; sink: kasi ya kushuka, kiwango cha kushuka, kushuka; nz: kigezo cha mzigo; thr: nguvu, kaba,
nguvu ya injini; flaps: mapezi; gear: magurudumu, gia ya kutua; hook: ndoano, ndoano ya mkia; wow:
ardhini; mass: uzito, masi; fuel: mafuta; wfrom: mwelekeo wa upepo; wspd: kasi ya upepo, *upepo; temp:
joto, halijoto; qnh: shinikizo; north: kaskazini; east: mashariki; south: kusini; west: magharibi; up:
juu; down: chini; left: kushoto; right: kulia; true: kweli, halisi; ind: iliyoonyeshwa, inayoonyeshwa;
ship: meli, manowari, chombo, sitaha; fill: ndege, pembe, ya, wa, la, cha, kwa, hewa, bahari, usawa,
nafasi, thamani, za; deg: digrii, nyuzi; rad: radiani; m: mita; ft: futi; kt: noti, fundo; km: kilomita;
hour: saa; min: dakika; s: sekunde; ms: milisekunde; pct: asilimia; per: kwa""",
    "Japanese in Latin letters": """
time: jikan, jikoku, byo, keika jikan, taimu; lat: ido, hokui; lon: keido, toukei; alt: koudo, kodo,
takasa, kaibatsu, hikou koudo, kaibatsu koudo, hiko kodo; radalt: denpa koudo, taichi koudo; baro: kiatsu
koudo; hdg: houi, hoi, kishu houi, kishu hoi, kishu, houkou, shin houi, shin hoi, senkaku; mag: jiki houi,
jiki hoi, jihoui, jiki, jihoi; trk: kouseki, koseki, shinro; bearing: kyori; pitch: pitchi, tateyure,
kishu kaku, fugyokaku, joge kaku, pitchi kaku; roll: rooru, banku, yokoyure, keisha, keishakaku,
bankukaku, banku kaku, roru, rooru kaku; tas: shin taiki sokudo, shin sokudo, shintaikisokudo, shin tai
kisokudo, shintaiki sokudo; ias: shiji taiki sokudo, shiji sokudo, shijitaikisokudo, kousei taiki sokudo,
shijitaiki sokudo; spd: taiki sokudo, sokudo, taikisokudo; gs: taichi sokudo, taichisokudo; aoa: geikaku,
mukaekaku, mukae kaku, kougeikaku; vs: shoukou ritsu, shoukouritsu, joshoritsu, joushou ritsu,
joushouritsu, shokoritsu, suichoku sokudo, joushou sokudo; sink: kouka ritsu, koukaritsu, koukasokudo,
kouka sokudo, chinka ritsu, kokaritsu; nz: kajuu bairitsu, kajubairitsu; thr: suiryoku, shutsuryoku,
surottoru, surotto; flaps: furappu; gear: chakuriku souchi, ashi kudashi, sharin; hook: fukku, chakkan
fukku, kousoku fukku; wow: secchi; mass: shitsuryo, juryo, juryou, shitsuryou; fuel: nenryo, nenryou;
wfrom: fuukou, kazamuki, fuko; wspd: fuusoku, *kaze, fusoku; temp: ondo, kion; qnh: kiatsu; north: kita;
east: higashi; south: minami; west: nishi; left: hidari; right: migi; true: shin; ind: shiji, kousei;
ship: kan, kansen, bokan, kuubo, kubo, fune, senpaku, kanpan; fill: hikouki, kitai, kaku, kakudo, jiki
tai, ichi; deg: do kaku; m: meetoru, metoru; ft: fiito; kt: notto; hour: ji; min: funkan; s: byou, byo;
ms: miribyo, miribyou; pct: paasento; per: mai""",
    "Chinese in Latin letters": """
time: shijian, shike, miao; lat: weidu; lon: jingdu; alt: gaodu, haiba, haiba gaodu; radalt: wuxiandian
gaodu, leida gaodu; baro: qiya gaodu; hdg: hangxiang, zhen hangxiang, jishou fangxiang, fangxiang,
pianhang, pianhangjiao, hangxiangjiao, fangwei, fangweijiao; mag: ci hangxiang, cihangxiang; trk: hangji,
hangjijiao; bearing: juli; pitch: fuyang, fuyangjiao, fuyang jiao; roll: gunzhuan, gunzhuanjiao, henggun,
qingxie, gunzhuan jiao, qingxiejiao, henggunjiao, podu; tas: zhen kongsu, zhenkongsu, zhensu; ias: biaosu,
zhishi kongsu, biaokongsu; spd: sudu, kongsu; gs: disu; aoa: yingjiao, gongjiao; vs: shengjianglv,
shengjiangsudu, chuizhi sudu, chuisu, shengjianglu, shengjiang sudu, pashenglv; sink: xiajianglv,
xiachenlv, xiajiang sudu; nz: guozai, zaihe xishu; thr: youmen, tuili, gonglv; flaps: jinyi; gear:
qiluojia; hook: weigou, zhulangou, gouzi; mass: zhiliang, zhongliang; fuel: ranyou, youliang; wfrom:
fengxiang; wspd: fengsu; temp: wendu; qnh: qiya; true: zhen; ind: zhishi; ship: hangmu, jian, jianchuan,
muchuan, hangkongmujian, mujian, chuan; fill: feiji, jiao, jiaodu, zhanji, weizhi; deg: du jiao; ft:
yingchi; s: miao; ms: haomiao; min: fenzhong; per: mei""",
}
