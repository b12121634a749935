"""How strangers might name, write and mislead: the vocabulary of the foreign files.

Each entry is one file. The first line names it; a line ``how`` sets its style; every other
line reads ``header => what is in it``. What is in it is one of our quantities with a unit
(a minus counts the other way), or ``junk`` and a kind. ``?`` before it marks a column that
may be asked about; ``!`` one that must be. A bar parts names from a row of units.
"""

from __future__ import annotations

DIALECTS = """
german semicolons
how sep=; dec=,
Zeit [s] => time s
Breitengrad [°] => latitude deg
Längengrad [°] => longitude deg
Flughöhe [m] => altitude m
Kurs rechtweisend [°] => heading deg
Längsneigung [°] => pitch deg
Querlage [°] => roll deg
Eigengeschwindigkeit [km/h] => true_airspeed kmh
Anstellwinkel [°] => angle_of_attack deg
Steiggeschwindigkeit [m/s] => vertical_speed mps
Schiff Breite [°] => ship_latitude deg
Schiff Länge [°] => ship_longitude deg
Schiff Höhe [m] => ship_altitude m
Schiff Kurs [°] => ship_heading deg

german without units
how sep=; dec=, encoding=cp1252 rate=10
Uhrzeit => clock
Breite => latitude deg
Länge => longitude deg
Höhe => altitude ft
Steuerkurs => heading deg
Nickwinkel => pitch deg
Rollwinkel => roll deg
Variometer => vertical_speed fpm
Traeger_Breite => ship_latitude deg
Traeger_Laenge => ship_longitude deg
Traeger_Hoehe => ship_altitude ft
Traeger_Kurs => ship_heading deg

french
how sep=; dec=,
Temps (s) => time s
Latitude (deg) => latitude deg
Longitude (deg) => longitude deg
Altitude (pieds) => altitude ft
Cap vrai (deg) => heading deg
Assiette (deg) => pitch deg
Inclinaison (deg) => roll deg
Incidence (deg) => angle_of_attack deg
Vitesse indiquée (noeuds) => indicated_airspeed kt
Vario (pieds/min) => vertical_speed fpm
Bateau latitude (deg) => ship_latitude deg
Bateau longitude (deg) => ship_longitude deg
Bateau altitude (pieds) => ship_altitude ft
Bateau cap (deg) => ship_heading deg

french snake
how sep=tab
horodatage_ms => time ms
lat_avion => latitude deg
lon_avion => longitude deg
hauteur_avion_m => altitude m
cap_avion => heading deg
tangage_avion => pitch deg
roulis_avion => roll deg
vitesse_air_vraie => true_airspeed mps
lat_navire => ship_latitude deg
lon_navire => ship_longitude deg
hauteur_navire_m => ship_altitude m
cap_navire => ship_heading deg

spanish
how sep=,
tiempo_s => time s
latitud => latitude deg
longitud => longitude deg
altura_pies => altitude ft
rumbo => heading deg
cabeceo => pitch deg
alabeo => roll deg
angulo_de_ataque => angle_of_attack deg
velocidad_vertical => vertical_speed fpm
velocidad_verdadera_nudos => true_airspeed kt
buque.latitud => ship_latitude deg
buque.longitud => ship_longitude deg
buque.altura_pies => ship_altitude ft
buque.rumbo => ship_heading deg

italian
how sep=; dec=,
tempo => time s
latitudine => latitude deg
longitudine => longitude deg
quota [m] => altitude m
prua => heading deg
beccheggio => pitch deg
rollio => roll deg
incidenza => angle_of_attack deg
velocita indicata [kn] => indicated_airspeed kt
nave latitudine => ship_latitude deg
nave longitudine => ship_longitude deg
nave quota [m] => ship_altitude m
nave prua => ship_heading deg

dutch
how sep=; dec=,
tijd (sec) => time s
breedtegraad => latitude deg
lengtegraad => longitude deg
hoogte (voet) => altitude ft
koers => heading deg
neusstand => pitch deg
rolhoek => roll deg
invalshoek => angle_of_attack deg
stijgsnelheid (voet/min) => vertical_speed fpm
schip breedtegraad => ship_latitude deg
schip lengtegraad => ship_longitude deg
schip hoogte (voet) => ship_altitude ft
schip koers => ship_heading deg

swedish
how sep=tab dec=,
tid => time s
latitud => latitude deg
longitud => longitude deg
höjd [m] => altitude m
kurs => heading deg
tippvinkel => pitch deg
rollvinkel => roll deg
anfallsvinkel => angle_of_attack deg
stighastighet [m/s] => vertical_speed mps
fartyg latitud => ship_latitude deg
fartyg longitud => ship_longitude deg
fartyg höjd [m] => ship_altitude m
fartyg kurs => ship_heading deg

portuguese
how sep=;
hora_utc => clock
latitude_graus => latitude deg
longitude_graus => longitude deg
altitude_pes => altitude ft
proa_verdadeira_graus => heading deg
arfagem_graus => pitch deg
rolamento_graus => roll deg
razao_de_subida => vertical_speed fpm
navio_latitude_graus => ship_latitude deg
navio_longitude_graus => ship_longitude deg
navio_altitude_pes => ship_altitude ft
navio_proa_graus => ship_heading deg

polish
how sep=; dec=,
czas [s] => time s
szerokość geogr. => latitude deg
długość geogr. => longitude deg
wysokość [m] => altitude m
kurs => heading deg
pochylenie => pitch deg
przechylenie => roll deg
kąt natarcia => angle_of_attack deg
wznoszenie [m/s] => vertical_speed mps
okręt szerokość geogr. => ship_latitude deg
okręt długość geogr. => ship_longitude deg
okręt wysokość [m] => ship_altitude m
okręt kurs => ship_heading deg

russian transliterated
how sep=tab
vremya_s => time s
shirota => latitude deg
dolgota => longitude deg
vysota_m => altitude m
kurs => heading deg
tangazh => pitch deg
kren => roll deg
ugol_ataki => angle_of_attack deg
vert_skorost => vertical_speed mps
istinnaya_skorost => true_airspeed kmh
korabl_shirota => ship_latitude deg
korabl_dolgota => ship_longitude deg
korabl_vysota_m => ship_altitude m
korabl_kurs => ship_heading deg

russian letters
how sep=; encoding=utf-16
Время, с => time s
Широта => latitude deg
Долгота => longitude deg
Высота, м => altitude m
Курс => heading deg
Тангаж => pitch deg
Крен => roll deg
Угол атаки => angle_of_attack deg
Корабль широта => ship_latitude deg
Корабль долгота => ship_longitude deg
Корабль высота, м => ship_altitude m
Корабль курс => ship_heading deg

danish short
how sep=; dec=,
klokken => clock
bredde => latitude deg
længde => longitude deg
højde_m => altitude m
kurs => heading deg
næsestilling => pitch deg
krængning => roll deg
skib_bredde => ship_latitude deg
skib_længde => ship_longitude deg
skib_højde_m => ship_altitude m
skib_kurs => ship_heading deg

english spoken
how sep=,
Elapsed seconds => time s
Plane latitude => latitude deg
Plane longitude => longitude deg
Plane height above sea (feet) => altitude ft
Nose direction (true) => heading deg
Nose up => pitch deg
Bank right => roll deg
Rate of climb (feet per minute) => vertical_speed fpm
Speed through the air, true (knots) => true_airspeed kt
Boat latitude => ship_latitude deg
Boat longitude => ship_longitude deg
Boat height above sea (feet) => ship_altitude ft
Boat nose direction => ship_heading deg

camel case
how sep=,
simTimeSec => time s
acftLatDeg => latitude deg
acftLonDeg => longitude deg
acftAltMslFt => altitude ft
acftHdgTrueDeg => heading deg
acftPitchDeg => pitch deg
acftRollDeg => roll deg
acftAoaDeg => angle_of_attack deg
acftTasKts => true_airspeed kt
acftIasKts => indicated_airspeed kt
acftVviFpm => vertical_speed fpm
cvnLatDeg => ship_latitude deg
cvnLonDeg => ship_longitude deg
cvnAltMslFt => ship_altitude ft
cvnHdgTrueDeg => ship_heading deg

camel radians
how sep=,
tSim => time s
ownLat => latitude rad
ownLon => longitude rad
ownAlt => altitude m
ownPsi => heading rad
ownTheta => pitch rad
ownPhi => roll rad
ownAlpha => angle_of_attack rad
ownVt => true_airspeed mps
shipLat => ship_latitude rad
shipLon => ship_longitude rad
shipAlt => ship_altitude m
shipPsi => ship_heading rad

dotted
how sep=,
clock.elapsed => time s
jet.pos.lat => latitude deg
jet.pos.lng => longitude deg
jet.pos.elev => altitude m
jet.att.yaw => heading deg
jet.att.pitch => pitch deg
jet.att.bank => roll deg
jet.air.alpha => angle_of_attack deg
jet.air.ias => indicated_airspeed mps
carrier.pos.lat => ship_latitude deg
carrier.pos.lng => ship_longitude deg
carrier.pos.elev => ship_altitude m
carrier.att.yaw => ship_heading deg

nested json
how json=nested
stamp => iso
craft.where.lat => latitude deg
craft.where.lon => longitude deg
craft.where.alt_ft => altitude ft
craft.attitude.hdg => heading deg
craft.attitude.pitch => pitch deg
craft.attitude.roll => roll deg
craft.air.tas_kt => true_airspeed kt
mothership.where.lat => ship_latitude deg
mothership.where.lon => ship_longitude deg
mothership.where.alt_ft => ship_altitude ft
mothership.attitude.hdg => ship_heading deg

nested json array
how json=array
t => time s
plane.latitude => latitude rad
plane.longitude => longitude rad
plane.altitude => altitude m
plane.euler.psi => heading rad
plane.euler.theta => pitch rad
plane.euler.phi => roll rad
plane.vspeed => vertical_speed mps
vessel.latitude => ship_latitude rad
vessel.longitude => ship_longitude rad
vessel.altitude => ship_altitude m
vessel.euler.psi => ship_heading rad

two header lines
how sep=, unitrow=1
Time|sec => time s
Lat|deg => latitude deg
Lon|deg => longitude deg
Alt|ft => altitude ft
Hdg|deg true => heading deg
Pitch|deg => pitch deg
Bank|deg => roll deg
TAS|kts => true_airspeed kt
VSI|ft/min => vertical_speed fpm
Ship Lat|deg => ship_latitude deg
Ship Lon|deg => ship_longitude deg
Ship Alt|ft => ship_altitude ft
Ship Hdg|deg true => ship_heading deg

two header lines in brackets
how sep=; dec=, unitrow=1 comments=2
t|[ms] => time ms
phi|[rad] => roll rad
theta|[rad] => pitch rad
psi|[rad] => heading rad
alpha|[rad] => angle_of_attack rad
h|[m] => altitude m
lat|[rad] => latitude rad
lon|[rad] => longitude rad
V_TAS|[m/s] => true_airspeed mps
lat_ship|[rad] => ship_latitude rad
lon_ship|[rad] => ship_longitude rad
h_ship|[m] => ship_altitude m
psi_ship|[rad] => ship_heading rad

commented header
how sep=blank comments=3 hashed=1
utc_epoch => epoch s
gps_lat => latitude deg
gps_lon => longitude deg
gps_alt_m => altitude m
true_hdg => heading deg
pitch_att => pitch deg
roll_att => roll deg
boat_lat => ship_latitude deg
boat_lon => ship_longitude deg
boat_alt_m => ship_altitude m
boat_true_hdg => ship_heading deg

epoch milliseconds
how sep=, bom=1
unixTimeMs => epoch ms
latitudeDegrees => latitude deg
longitudeDegrees => longitude deg
altitudeFeet => altitude ft
headingDegrees => heading deg
pitchDegrees => pitch deg
rollDegrees => roll deg
verticalSpeedFeetPerSecond => vertical_speed fps
carrierLatitudeDegrees => ship_latitude deg
carrierLongitudeDegrees => ship_longitude deg
carrierAltitudeFeet => ship_altitude ft
carrierHeadingDegrees => ship_heading deg

epoch unlabelled
how sep=tab
timestamp => epoch ms
lat => latitude deg
lon => longitude deg
msl => altitude ft
hdg => heading deg
pit => pitch deg
rol => roll deg
vs => vertical_speed fpm
cv_lat => ship_latitude deg
cv_lon => ship_longitude deg
cv_msl => ship_altitude ft
cv_hdg => ship_heading deg

minutes
how sep=,
mission time (min) => time min
LAT => latitude deg
LONG => longitude deg
ALT (hundreds) => junk hundreds
HT => altitude m
HDG => heading deg
PIT => pitch deg
BNK => roll deg
ROC => vertical_speed mps
SHIP LAT => ship_latitude deg
SHIP LONG => ship_longitude deg
SHIP HT => ship_altitude m
SHIP HDG => ship_heading deg

minutes unlabelled
how sep=;
Time => time min
Latitude => latitude deg
Longitude => longitude deg
Elevation => altitude m
True course of nose => heading deg
Pitch attitude => pitch deg
Roll attitude => roll deg
Airspeed true => true_airspeed kt
Vessel latitude => ship_latitude deg
Vessel longitude => ship_longitude deg
Vessel elevation => ship_altitude m
Vessel heading => ship_heading deg

milliseconds unlabelled
how sep=,
tick => time ms
lat => latitude deg
lon => longitude deg
height => altitude m
yaw => heading deg
pitch => pitch deg
roll => roll deg
climb => vertical_speed mps
host_lat => ship_latitude deg
host_lon => ship_longitude deg
host_height => ship_altitude m
host_yaw => ship_heading deg

clock over midnight
how sep=, midnight=1
Zulu => clock
Lat(N+) => latitude deg
Lon(E+) => longitude deg
Alt_MSL_ft => altitude ft
THdg => heading deg
Pitch => pitch deg
Roll => roll deg
Alpha => angle_of_attack deg
KTAS => true_airspeed kt
Ship_Lat(N+) => ship_latitude deg
Ship_Lon(E+) => ship_longitude deg
Ship_Alt_ft => ship_altitude ft
Ship_THdg => ship_heading deg

degrees and minutes in cells
how sep=,
UTC => clock
Position N/S => latitude dmh
Position E/W => longitude dmh
MSL altitude [ft] => altitude ft
Heading true => heading deg
Pitch angle => pitch deg
Roll angle => roll deg
Ship position N/S => ship_latitude dmh
Ship position E/W => ship_longitude dmh
Ship MSL altitude [ft] => ship_altitude ft
Ship heading true => ship_heading deg

degrees and minutes with letters beside
how sep=,
gga_time => clock
gga_lat => latitude ddmm
gga_ns => junk ns
gga_lon => longitude ddmm
gga_ew => junk ew
gga_height_m => altitude m
heading_true => heading deg
pitch => pitch deg
roll => roll deg
ship_gga_lat => ship_latitude ddmm
ship_gga_ns => junk ship_ns
ship_gga_lon => ship_longitude ddmm
ship_gga_ew => junk ship_ew
ship_gga_height_m => ship_altitude m
ship_heading_true => ship_heading deg

west counts up
how sep=,
secs => time s
north_lat => latitude deg
west_long => longitude deg -
elev_ft => altitude ft
true_heading => heading deg
pitch_up => pitch deg
roll_right => roll deg
ship_north_lat => ship_latitude deg
ship_west_long => ship_longitude deg -
ship_elev_ft => ship_altitude ft
ship_true_heading => ship_heading deg

nose down counts up
how sep=,
t_sec => time s
lat_deg => latitude deg
lon_deg => longitude deg
alt_m => altitude m
hdg_deg => heading deg
pitch_deg => pitch deg -
bank_deg => roll deg -
aoa_deg => angle_of_attack deg
sink_mps => vertical_speed mps -
gs_kt => junk ground_kt
ship_lat_deg => ship_latitude deg
ship_lon_deg => ship_longitude deg
ship_alt_m => ship_altitude m
ship_hdg_deg => ship_heading deg

left bank counts up
how sep=;
Seconds => time s
Lat => latitude deg
Lon => longitude deg
Height m => altitude m
Heading => heading rad
Elevation angle => pitch rad
Bank => roll rad -
Descent rate => vertical_speed mps -
Deck lat => ship_latitude deg
Deck lon => ship_longitude deg
Deck height m => ship_altitude m
Deck heading => ship_heading rad

mirrored heading
how sep=, plane=1
time => time s
posN => north m
posE => east m
posU => up m
headingCCW => heading deg -
pitch => pitch deg
roll => roll deg
ship_posN => ship_north m
ship_posE => ship_east m
ship_posU => ship_up m
ship_headingCCW => ship_heading deg -

game plane y up
how sep=, plane=1
frame => junk counter
time => time s
pos.x => east m
pos.y => up m
pos.z => north m
rot.yaw => heading deg
rot.pitch => pitch deg
rot.roll => roll deg
vel.y => vertical_speed mps
deck.pos.x => ship_east m
deck.pos.y => ship_up m
deck.pos.z => ship_north m
deck.rot.yaw => ship_heading deg

game plane y up right handed
how sep=tab plane=1
t => time s
local_x => east m
local_y => up m
local_z => north m -
psi => heading deg
theta => pitch deg
phi => roll deg
alpha => angle_of_attack deg
boat_x => ship_east m
boat_y => ship_up m
boat_z => ship_north m -
boat_psi => ship_heading deg

plane in feet
how sep=, plane=1
Time_sec => time s
X_East_ft => east ft
Y_North_ft => north ft
Z_Up_ft => up ft
Heading_deg => heading deg
Pitch_deg => pitch deg
Roll_deg => roll deg
ShipX_East_ft => ship_east ft
ShipY_North_ft => ship_north ft
ShipZ_Up_ft => ship_up ft
ShipHeading_deg => ship_heading deg

plane north east down
how sep=, plane=1
time_s => time s
px => north m
py => east m
pz => up m -
psi_rad => heading rad
theta_rad => pitch rad
phi_rad => roll rad
u_mps => junk ground_mps
ship_px => ship_north m
ship_py => ship_east m
ship_pz => ship_up m -
ship_psi_rad => ship_heading rad

plane with velocities
how sep=, plane=1
elapsed => time s
x => north m
y => east m
z => up m
vx => velocity_north mps
vy => velocity_east mps
vz => velocity_down mps -
yaw => heading rad
pitch => pitch rad
roll => roll rad
cvx => ship_north m
cvy => ship_east m
cvz => ship_up m
cvyaw => ship_heading rad

decoys magnetic and pressure
how sep=,
Time s => time s
Latitude => latitude deg
Longitude => longitude deg
Pressure Altitude ft => junk pressure_ft
True Altitude ft => altitude ft
Magnetic Heading => junk magnetic
True Heading => heading deg
Pitch => pitch deg
Bank => roll deg
AoA gauge units => junk aoa_units
AoA => angle_of_attack deg
IAS kt => indicated_airspeed kt
Ground Speed kt => junk ground_kt
Ship Latitude => ship_latitude deg
Ship Longitude => ship_longitude deg
Ship Altitude ft => ship_altitude ft
Ship True Heading => ship_heading deg

decoys unmarked
how sep=;
time => time s
lat => latitude deg
lon => longitude deg
alt_baro => junk pressure_ft
alt_gps => altitude m
hdg_mag => junk magnetic
hdg => heading deg
pitch => pitch deg
roll => roll deg
vs => vertical_speed fpm
spare1 => junk zeros
spare2 => junk zeros
ship lat => ship_latitude deg
ship lon => ship_longitude deg
ship alt => ship_altitude m
ship hdg => ship_heading deg

duplicated columns
how sep=,
t => time s
t2 => junk copy:time:s
latitude => latitude deg
longitude => longitude deg
altitude ft => altitude ft
altitude m => junk copy:altitude:m
heading => heading deg
pitch => pitch deg
pitch rad => junk copy:pitch:rad
roll => roll deg
boat latitude => ship_latitude deg
boat longitude => ship_longitude deg
boat altitude ft => ship_altitude ft
boat heading => ship_heading deg

constant zeros
how sep=,
Time => time s
Lat => latitude deg
Lon => longitude deg
Alt ft => altitude ft
Hdg => heading deg
Pitch => pitch deg
Roll => roll deg
Alpha => junk zeros
TAS => junk zeros
VS => vertical_speed fpm
Radar alt => junk zeros
CV Lat => ship_latitude deg
CV Lon => ship_longitude deg
CV Alt ft => ship_altitude ft
CV Hdg => ship_heading deg

instrument panel
how sep=, comments=1
GMT => clock
LATITUDE => latitude deg
LONGITUDE => longitude deg
ALTIMETER => altitude ft
DIRECTION => heading deg
ATTITUDE PITCH => pitch deg
ATTITUDE ROLL => roll deg
ALPHA => angle_of_attack deg
VVI => vertical_speed fpm
G LOAD => normal_acceleration g
RADALT => radar_altitude ft
THROTTLE PCT => throttle pct
HOOK => hook
GEAR => gear
FLAP => flaps
FUEL LBS => fuel lb
WIND DIR => wind_from deg
WIND KTS => wind_speed kt
BOAT LATITUDE => ship_latitude deg
BOAT LONGITUDE => ship_longitude deg
BOAT ALTIMETER => ship_altitude ft
BOAT DIRECTION => ship_heading deg

switches in words
how sep=; words=1
Zeit => time s
Lat => latitude deg
Lon => longitude deg
Hoehe_ft => altitude ft
Kurs => heading deg
Nick => pitch deg
Roll => roll deg
Fanghaken => hook
Fahrwerk => gear
Landeklappen => flaps
Gashebel => throttle
Schiff_Lat => ship_latitude deg
Schiff_Lon => ship_longitude deg
Schiff_Hoehe_ft => ship_altitude ft
Schiff_Kurs => ship_heading deg

velocities on the earth
how sep=,
TIME_US_GPS => time s
LAT_D => latitude deg
LON_D => longitude deg
ALT_M => altitude m
VN => velocity_north mps
VE => velocity_east mps
VD => velocity_down mps
YAW_D => heading deg
PIT_D => pitch deg
ROL_D => roll deg
SHP_LAT_D => ship_latitude deg
SHP_LON_D => ship_longitude deg
SHP_ALT_M => ship_altitude m
SHP_YAW_D => ship_heading deg

speeds unlabelled
how sep=, wind=1
time => time s
lat => latitude deg
lon => longitude deg
alt => altitude m
hdg => heading deg
pitch => pitch deg
roll => roll deg
tas => true_airspeed kmh
ias => indicated_airspeed kmh
groundspeed => junk ground_kmh
vs => vertical_speed mps
ship_lat => ship_latitude deg
ship_lon => ship_longitude deg
ship_alt => ship_altitude m
ship_hdg => ship_heading deg

speeds in knots unlabelled
how sep=, wind=1
time => time s
lat => latitude deg
lon => longitude deg
alt => altitude ft
hdg => heading deg
pitch => pitch deg
roll => roll deg
aoa => angle_of_attack deg
tas => true_airspeed kt
climb_rate => vertical_speed fps
carrier lat => ship_latitude deg
carrier lon => ship_longitude deg
carrier alt => ship_altitude ft
carrier hdg => ship_heading deg

altitude by attack and pitch
how sep=;
Time => time s
Lat => latitude deg
Lon => longitude deg
Alt => altitude ft
Hdg => heading deg
Pitch => pitch deg
Roll => roll deg
AOA => angle_of_attack deg
TAS => true_airspeed kt
Ship Lat => ship_latitude deg
Ship Lon => ship_longitude deg
Ship Alt => ship_altitude ft
Ship Hdg => ship_heading deg

iso with a zone
how sep=;
Date/Time => iso zone
Lat => latitude deg
Lng => longitude deg
Alt (m) => altitude m
Heading (°T) => heading deg
Pitch (°) => pitch deg
Roll (°) => roll deg
V/S (m/s) => vertical_speed mps
Mother Lat => ship_latitude deg
Mother Lng => ship_longitude deg
Mother Alt (m) => ship_altitude m
Mother Heading (°T) => ship_heading deg

european dates
how sep=; dec=,
Datum Uhrzeit => european
Lat => latitude deg
Lon => longitude deg
Höhe (ft) => altitude ft
Kurs (°) => heading deg
Nick (°) => pitch deg
Roll (°) => roll deg
Schiff Lat => ship_latitude deg
Schiff Lon => ship_longitude deg
Schiff Höhe (ft) => ship_altitude ft
Schiff Kurs (°) => ship_heading deg

date and time apart
how sep=,
Date => junk date
Time (UTC) => clock
Lat. => latitude deg
Long. => longitude deg
Alt. (ft) => altitude ft
Hdg. (deg T) => heading deg
Pitch (deg) => pitch deg
Bank (deg) => roll deg
Ship Lat. => ship_latitude deg
Ship Long. => ship_longitude deg
Ship Alt. (ft) => ship_altitude ft
Ship Hdg. (deg T) => ship_heading deg

title above
how sep=, title=1
T => time s
FD_LAT => latitude deg
FD_LON => longitude deg
FD_ALT_FT => altitude ft
FD_HDG_T => heading deg
FD_PITCH => pitch deg
FD_ROLL => roll deg
FD_IVV_FPM => vertical_speed fpm
CVN_LAT => ship_latitude deg
CVN_LON => ship_longitude deg
CVN_ALT_FT => ship_altitude ft
CVN_HDG_T => ship_heading deg

heading signed half turn
how sep=, half=1
seconds => time s
lat => latitude deg
lon => longitude deg
alt_m => altitude m
yaw => heading deg
pitch => pitch deg
roll => roll deg
aoa => angle_of_attack rad
parent.lat => ship_latitude deg
parent.lon => ship_longitude deg
parent.alt_m => ship_altitude m
parent.yaw => ship_heading deg

longitude to 360
how sep=, east360=1
seconds => time s
lat_n => latitude deg
lon_e => longitude deg
geom_alt_ft => altitude ft
hdg_t => heading deg
pitch_ang => pitch deg
bank_ang => roll deg
rate_of_descent_fpm => vertical_speed fpm -
cv_lat_n => ship_latitude deg
cv_lon_e => ship_longitude deg
cv_geom_alt_ft => ship_altitude ft
cv_hdg_t => ship_heading deg

parquet
how parquet=1
TimeStamp => time s
AircraftLatitude => latitude deg
AircraftLongitude => longitude deg
AircraftAltitude => altitude ft
AircraftHeading => heading deg
AircraftPitch => pitch deg
AircraftRoll => roll deg
AircraftVerticalVelocity => vertical_speed fpm
ShipLatitude => ship_latitude deg
ShipLongitude => ship_longitude deg
ShipAltitude => ship_altitude ft
ShipHeading => ship_heading deg

gzip tabs
how sep=tab gz=1
zeit_ms => time ms
pos_lat => latitude deg
pos_lon => longitude deg
pos_hoehe_m => altitude m
lage_gier => heading deg
lage_nick => pitch deg
lage_roll => roll deg
schiff_pos_lat => ship_latitude deg
schiff_pos_lon => ship_longitude deg
schiff_pos_hoehe_m => ship_altitude m
schiff_lage_gier => ship_heading deg

deck tilt told
how sep=, sway=1
time s => time s
lat deg => latitude deg
lon deg => longitude deg
alt ft => altitude ft
hdg deg => heading deg
pitch deg => pitch deg
roll deg => roll deg
ship lat deg => ship_latitude deg
ship lon deg => ship_longitude deg
ship alt ft => ship_altitude ft
ship hdg deg => ship_heading deg
ship pitch bow up deg => ?ship_pitch deg
ship roll starboard down deg => ?ship_roll deg

field without a ship
how sep=,
Time since start [s] => time s
GNSS latitude => latitude deg
GNSS longitude => longitude deg
GNSS height [m] => altitude m
INS true heading => heading deg
INS pitch => pitch deg
INS roll => roll deg
ADC true airspeed [m/s] => true_airspeed mps
Vane alpha => angle_of_attack deg

bars and quotes
how sep=| quote=1
Run time => time s
Latitude, deg => latitude deg
Longitude, deg => longitude deg
Altitude, ft => altitude ft
Heading, deg => heading deg
Pitch, deg => pitch deg
Roll, deg => roll deg
Carrier latitude, deg => ship_latitude deg
Carrier longitude, deg => ship_longitude deg
Carrier altitude, ft => ship_altitude ft
Carrier heading, deg => ship_heading deg

ship course only
how sep=;
sec => time s
phi_geo => latitude deg
lambda_geo => longitude deg
alt_asl_m => altitude m
azimuth => heading deg
theta => pitch deg
gamma_bank => roll deg
ship_phi_geo => ship_latitude deg
ship_lambda_geo => ship_longitude deg
ship_alt_asl_m => ship_altitude m
ship_azimuth => ship_heading deg

norwegian
how sep=; dec=,
tid_s => time s
breddegrad => latitude deg
lengdegrad => longitude deg
hoyde_fot => altitude ft
retning => heading deg
stigning => pitch deg
krengning => roll deg
skip_breddegrad => ship_latitude deg
skip_lengdegrad => ship_longitude deg
skip_hoyde_fot => ship_altitude ft
skip_retning => ship_heading deg

level leg
how sep=, base=level undecided=1
time => time s
lat => latitude deg
lon => longitude deg
alt => !altitude m
hdg => ?heading deg
pitch => pitch deg
roll => ?roll deg

one speed
how sep=, undecided=1 wind=1
time => time s
lat => latitude deg
lon => longitude deg
alt_ft => altitude ft
hdg => heading deg
pitch => pitch deg
roll => roll deg
speed => !true_airspeed kt
vs_fpm => vertical_speed fpm
ship_lat => ship_latitude deg
ship_lon => ship_longitude deg
ship_alt_ft => ship_altitude ft
ship_hdg => ship_heading deg

one speed in german
how sep=; dec=, undecided=1 wind=1
Zeit s => time s
Breite => latitude deg
Länge => longitude deg
Höhe m => altitude m
Kurs => heading deg
Nick => pitch deg
Roll => roll deg
Geschwindigkeit km/h => !true_airspeed kmh

magnetic or true
how sep=, base=straight undecided=1 wind=1 variation=1
time => time s
lat => latitude deg
lon => longitude deg
alt_ft => altitude ft
hdg => !junk magnetic
pitch => pitch deg
roll => ?roll deg

deck tilt
how sep=, sway=1 undecided=1
time => time s
lat => latitude deg
lon => longitude deg
alt_ft => altitude ft
hdg => heading deg
pitch => pitch deg
roll => roll deg
ship_lat => ship_latitude deg
ship_lon => ship_longitude deg
ship_alt_ft => ship_altitude ft
ship_hdg => ship_heading deg
ship_trim => !ship_pitch deg
ship_list => !ship_roll deg

deck tilt in plain words
how sep=, sway=1 undecided=1
time => time s
lat => latitude deg
lon => longitude deg
alt_ft => altitude ft
hdg => heading deg
pitch => pitch deg
roll => roll deg
boat lat => ship_latitude deg
boat lon => ship_longitude deg
boat alt_ft => ship_altitude ft
boat hdg => ship_heading deg
boat tilt fore-aft => !ship_pitch deg -
boat tilt sideways => !ship_roll deg -

no time
how sep=, undecided=1
sample => ?junk counter
lat => latitude deg
lon => longitude deg
alt_ft => altitude ft
hdg => heading deg
pitch => pitch deg
roll => roll deg

no time at all
how sep=; undecided=1
Latitude => latitude deg
Longitude => longitude deg
Altitude ft => altitude ft
Heading => heading deg
Pitch => pitch deg
Bank => roll deg
TAS kt => true_airspeed kt

plane maybe mirrored
how sep=, plane=1 undecided=1
time => time s
x => !east m
y => !north m
z => up m
pitch => pitch deg
speed_up => vertical_speed mps

game plane maybe mirrored
how sep=, plane=1 undecided=1
time => time s
pos_x => !east m
pos_y => up m
pos_z => !north m
pitch => pitch deg
vspeed => vertical_speed mps
"""

#: files written down after the recogniser was first measured on those above
LATER = """
finnish
how sep=; dec=,
aika [s] => time s
leveyspiiri => latitude deg
pituuspiiri => longitude deg
korkeus [m] => altitude m
suunta => heading deg
nokkakulma => pitch deg
kallistus => roll deg
laiva leveyspiiri => ship_latitude deg
laiva pituuspiiri => ship_longitude deg
laiva korkeus [m] => ship_altitude m
laiva suunta => ship_heading deg

czech
how sep=;
cas_s => time s
zem_sirka => latitude deg
zem_delka => longitude deg
vyska_m => altitude m
kurz => heading deg
podelny_sklon => pitch deg
pricny_sklon => roll deg
lod_sirka => ship_latitude deg
lod_delka => ship_longitude deg
lod_vyska_m => ship_altitude m
lod_kurz => ship_heading deg

hungarian mix
how sep=tab
ido_ms => time ms
szelesseg => latitude deg
hosszusag => longitude deg
magassag_lab => altitude ft
irany => heading deg
bolintas => pitch deg
dontes => roll deg

sim english
how sep=,
SIM_ELAPSED => time s
PLANE_LAT_RADIANS => latitude rad
PLANE_LON_RADIANS => longitude rad
PLANE_ALT_MSL_FEET => altitude ft
PLANE_TRUE_HDG_RADIANS => heading rad
PLANE_PITCH_RADIANS => pitch rad -
PLANE_BANK_RADIANS => roll rad -
AIRSPEED_TRUE_FPS => true_airspeed fps
INCIDENCE_RADIANS => angle_of_attack rad
VERT_VEL_FPS => vertical_speed fps

terse
how sep=,
T => time s
LA => latitude deg
LO => longitude deg
AL => altitude ft
HD => heading deg
PI => pitch deg
RO => roll deg
VV => vertical_speed fpm

engineering
how sep=; unitrow=1
TIME|s => time s
ALT_GEO|m => altitude m
LAT_GEO|deg => latitude deg
LON_GEO|deg => longitude deg
ATT_PSI|deg => heading deg
ATT_THE|deg => pitch deg
ATT_PHI|deg => roll deg
V_CAL|kt => indicated_airspeed kt
ALPHA_TRUE|deg => angle_of_attack deg
HDOT|m/s => vertical_speed mps

words in a row
how sep=,
recorded at second => time s
where we are: latitude => latitude deg
where we are: longitude => longitude deg
how high in metres => altitude m
where the nose points => heading deg
nose above horizon => pitch deg
right wing below horizon => roll deg

unity
how sep=, plane=1
realtimeSinceStartup => time s
transform.position.x => east m
transform.position.y => up m
transform.position.z => north m
transform.eulerAngles.y => heading deg
pitchAngle => pitch deg
bankAngle => roll deg

vatsim-like
how sep=,
unix => epoch s
Latitude => latitude deg
Longitude => longitude deg
AltitudeTrue => altitude ft
AltitudePressure => junk pressure_ft
HeadingDegreesTrue => heading deg
Pitch => pitch deg
Bank => roll deg
GroundSpeed => junk ground_kt

greek letters
how sep=,
t [s] => time s
φ_lat [°] => latitude deg
λ_lon [°] => longitude deg
h [ft] => altitude ft
ψ [°] => heading deg
θ [°] => pitch deg
Φ [°] => roll deg
α [°] => angle_of_attack deg

turkish
how sep=;
zaman_sn => time s
enlem => latitude deg
boylam => longitude deg
irtifa_ft => altitude ft
bas_acisi => heading deg
yunuslama => pitch deg
yatis => roll deg
gemi_enlem => ship_latitude deg
gemi_boylam => ship_longitude deg
gemi_irtifa_ft => ship_altitude ft
gemi_bas_acisi => ship_heading deg

romanian
how sep=,
timp_s => time s
latitudine => latitude deg
longitudine => longitude deg
inaltime_m => altitude m
cap_adevarat => heading deg
tangaj => pitch deg
ruliu => roll deg

mixed caps
how sep=,
Time(UTC) => clock
Lat(deg) => latitude deg
Long(deg) => longitude deg
AltMSL(ft) => altitude ft
HDG(T) => heading deg
PTCH => pitch deg
RLL => roll deg
VSPD => vertical_speed fpm
CarrierLat(deg) => ship_latitude deg
CarrierLong(deg) => ship_longitude deg
CarrierAltMSL(ft) => ship_altitude ft
CarrierHDG(T) => ship_heading deg

japanese romaji
how sep=,
jikan => time s
ido => latitude deg
keido => longitude deg
koudo_m => altitude m
houi => heading deg
pitch => pitch deg
roll => roll deg

mission export
how sep=,
Mission Time => time s
Ownship Lat => latitude deg
Ownship Lon => longitude deg
Ownship Alt (ft) => altitude ft
Ownship Hdg (true) => heading deg
Ownship Pitch => pitch deg
Ownship Bank => roll deg
Ownship AOA => angle_of_attack deg
Ownship CAS (kts) => indicated_airspeed kt
CVN-99 Lat => ship_latitude deg
CVN-99 Lon => ship_longitude deg
CVN-99 Alt (ft) => ship_altitude ft
CVN-99 BRC => ship_heading deg

json entity
how json=nested
simTime => time s
ownship.geo.lat => latitude deg
ownship.geo.lon => longitude deg
ownship.geo.altM => altitude m
ownship.orientation.headingDeg => heading deg
ownship.orientation.pitchDeg => pitch deg
ownship.orientation.rollDeg => roll deg
carrier.geo.lat => ship_latitude deg
carrier.geo.lon => ship_longitude deg
carrier.geo.altM => ship_altitude m
carrier.orientation.headingDeg => ship_heading deg

ros flu
how sep=, plane=1
stamp => time s
pose.position.x => east m
pose.position.y => north m
pose.position.z => up m
rpy.roll => roll rad
rpy.pitch => pitch rad -
heading => heading rad

greek ship
how sep=,
secs since launch => time s
a/c lat => latitude deg
a/c long => longitude deg
a/c alt m => altitude m
a/c hdg => heading deg
a/c pitch => pitch deg
a/c roll => roll deg
tgt lat => ship_latitude deg
tgt long => ship_longitude deg
tgt alt m => ship_altitude m
tgt hdg => ship_heading deg
"""
