"""More strangers' files, written down before the recogniser's words were looked at.

In the form of :mod:`support.foreign_dialects`.
"""

from __future__ import annotations

STRANGERS = """
portuguese tug
how sep=; dec=, rate=20
Instante (s) => time s
Latitude (graus) => latitude deg
Longitude (graus) => longitude deg
Altitude (pés) => altitude ft
Proa verdadeira (graus) => heading deg
Arfagem (graus) => pitch deg
Rolamento (graus) => roll deg
Ângulo de ataque (graus) => angle_of_attack deg
Navio Latitude (graus) => ship_latitude deg
Navio Longitude (graus) => ship_longitude deg
Navio Altitude (pés) => ship_altitude ft
Navio Proa (graus) => ship_heading deg

finnish
how sep=; dec=,
aika => time s
leveysaste => latitude deg
pituusaste => longitude deg
korkeus (m) => altitude m
suunta => heading deg
nyökkäys => pitch deg
kallistus => roll deg
kohtauskulma => angle_of_attack deg
laivan leveysaste => ship_latitude deg
laivan pituusaste => ship_longitude deg
laivan korkeus (m) => ship_altitude m
laivan suunta => ship_heading deg

turkish utf16
how sep=tab encoding=utf-16
zaman_ms => time ms
enlem => latitude deg
boylam => longitude deg
irtifa_ft => altitude ft
bas_acisi => heading deg
yunuslama => pitch deg
yatis => roll deg
hucum_acisi => angle_of_attack deg
gemi_enlem => ship_latitude deg
gemi_boylam => ship_longitude deg
gemi_irtifa_ft => ship_altitude ft
gemi_bas_acisi => ship_heading deg

engine export nested
how json=lines rate=20
frame.t => time s
frame.id => junk counter
self.world.lla.0 => latitude rad
self.world.lla.1 => longitude rad
self.world.lla.2 => altitude m
self.rot.yaw => heading rad
self.rot.pitch => pitch rad
self.rot.roll => roll rad
self.aero.alpha => angle_of_attack rad
self.aero.tas => true_airspeed mps
parent.world.lla.0 => ship_latitude rad
parent.world.lla.1 => ship_longitude rad
parent.world.lla.2 => ship_altitude m
parent.rot.yaw => ship_heading rad

gps style lines
how sep=,
UTC => clock
Lat => latitude ddmm
NS => junk ns
Lon => longitude ddmm
EW => junk ew
MSL_m => altitude m
COG => junk ground_kt
SOG_kn => junk ground_kt
HDT => heading deg
PTCH => pitch deg
ROL => roll deg
Base_Lat => ship_latitude ddmm
Base_NS => junk ship_ns
Base_Lon => ship_longitude ddmm
Base_EW => junk ship_ew
Base_MSL_m => ship_altitude m
Base_HDT => ship_heading deg

flight test parameter codes
how sep=, unitrow= title=
TIME|SEC => time s
GLAT|DEG => latitude deg
GLONG|DEG => longitude deg
HGEO|FT => altitude ft
HPRES|FT => junk pressure_ft
PSI|DEG => heading deg
PSIMAG|DEG => junk magnetic
THETA|DEG => pitch deg
PHI|DEG => roll deg
ALPHA|DEG => angle_of_attack deg
ALPHAU|UNITS => junk aoa_units
VTRUE|KT => true_airspeed kt
HDOT|FT/MIN => vertical_speed fpm
NZ|G => normal_acceleration g
SLAT|DEG => ship_latitude deg
SLONG|DEG => ship_longitude deg
SHGT|FT => ship_altitude ft
SPSI|DEG => ship_heading deg

game plane z up left handed
how sep=, plane=
gameTime => time s
plr_x => north m
plr_y => east m -
plr_z => up m
plr_yaw => heading deg -
plr_pitch => pitch deg
plr_bank => roll deg
cvn_x => ship_north m
cvn_y => ship_east m -
cvn_z => ship_up m
cvn_yaw => ship_heading deg -

game plane y up
how sep=; plane= rate=20
secs => time s
PositionX => east m
PositionY => up m
PositionZ => north m
RotationY => heading deg
RotationX => pitch deg -
RotationZ => roll deg -
CarrierPositionX => ship_east m
CarrierPositionY => ship_up m
CarrierPositionZ => ship_north m
CarrierRotationY => ship_heading deg

sink and nose down
how sep=, rate=20
Elapsed minutes => time min
Latitude N => latitude deg
Longitude W => longitude deg -
Geometric altitude => altitude ft
Heading (T) => heading deg
Nose down angle => pitch deg -
Left bank => roll deg -
Rate of descent => vertical_speed fpm -
Ship latitude N => ship_latitude deg
Ship longitude W => ship_longitude deg -
Ship deck height => ship_altitude ft
Ship heading (T) => ship_heading deg

silent west left
how sep=, rate=20
t => time s
lat => latitude deg
lon => longitude deg -
alt => altitude m
hdg => heading deg
pitch => pitch deg
bank => roll deg -
ship_lat => ship_latitude deg
ship_lon => ship_longitude deg -
ship_alt => ship_altitude m
ship_hdg => ship_heading deg

no words at all
how sep=, rate=20
c1 => time s
c2 => latitude deg
c3 => longitude deg
c4 => altitude ft
c5 => heading deg
c6 => pitch deg
c7 => roll deg

russian
how sep=; dec=, encoding=utf-8
Время, с => time s
Широта, град => latitude deg
Долгота, град => longitude deg
Высота, м => altitude m
Курс истинный, град => heading deg
Тангаж, град => pitch deg
Крен, град => roll deg
Угол атаки, град => angle_of_attack deg
Скорость истинная, км/ч => true_airspeed kmh
Корабль широта, град => ship_latitude deg
Корабль долгота, град => ship_longitude deg
Корабль высота, м => ship_altitude m
Корабль курс, град => ship_heading deg

japanese
how sep=, bom=
時刻[s] => time s
緯度[deg] => latitude deg
経度[deg] => longitude deg
高度[ft] => altitude ft
方位[deg] => heading deg
ピッチ[deg] => pitch deg
ロール[deg] => roll deg
迎角[deg] => angle_of_attack deg
艦緯度[deg] => ship_latitude deg
艦経度[deg] => ship_longitude deg
艦高度[ft] => ship_altitude ft
艦方位[deg] => ship_heading deg

decoys everywhere
how sep=, rate=20
recNo => junk counter
date => junk date
missionTime => time s
ac.lat => latitude deg
ac.lon => longitude deg
ac.altBaroFt => junk pressure_ft
ac.altGeoM => altitude m
ac.altGeoM2 => junk copy:altitude:m
ac.hdgMag => junk magnetic
ac.hdgTrue => heading deg
ac.crs => junk copy:heading:deg
ac.pch => pitch deg
ac.rll => roll deg
ac.aoaGauge => junk aoa_units
ac.sideslip => junk zeros
ac.gs => junk ground_kt
ac.flightLevel => junk hundreds
cv.lat => ship_latitude deg
cv.lon => ship_longitude deg
cv.alt => ship_altitude m
cv.hdg => ship_heading deg

wind and two speeds
how sep=| rate=20
tm_ms => time ms
phi_lat => latitude rad
lambda_lon => longitude rad
h_m => altitude m
chi => heading rad
theta => pitch rad
mu => roll rad
V1 => true_airspeed mps
V2 => junk ground_mps
sh_lat => ship_latitude rad
sh_lon => ship_longitude rad
sh_h_m => ship_altitude m
sh_chi => ship_heading rad

local plane with origin down
how plane= sep=, rate=20
time_local => time s
X_north_ft => north ft
Y_east_ft => east ft
Z_down_ft => up ft -
Yaw => heading rad
Pitch => pitch rad
Roll => roll rad
boat X_north_ft => ship_north ft
boat Y_east_ft => ship_east ft
boat Z_down_ft => ship_up ft -
boat Yaw => ship_heading rad

european dates dmh
how sep=; dec=,
Datum Uhrzeit => european
Position N/S => latitude dmh
Position E/W => longitude dmh
Höhe über Meer ft => altitude ft
rwK => heading deg
Nick => pitch deg
Roll => roll deg
Träger Position N/S => ship_latitude dmh
Träger Position E/W => ship_longitude dmh
Träger Höhe über Meer ft => ship_altitude ft
Träger rwK => ship_heading deg
"""
