"""What must hold in any air and any wind."""

from __future__ import annotations

import numpy as np
from hypothesis import assume, given
from hypothesis import strategies as st

from deckward.environment import airspeed, atmosphere, wind

directions = st.floats(0.0, 2 * np.pi)
speeds = st.floats(0.0, 40.0)


@given(st.floats(-4_900.0, 84_000.0))
def test_pressure_altitude_undoes_the_standard(height):
    assert abs(atmosphere.pressure_altitude(atmosphere.standard(height).pressure) - height) < 1e-5


@given(st.floats(-4_900.0, 80_000.0), st.floats(0.5, 2_000.0))
def test_pressure_falls_with_height(height, step):
    assert atmosphere.standard(height + step).pressure < atmosphere.standard(height).pressure


@given(st.floats(-1_000.0, 20_000.0), st.floats(-40.0, 40.0), st.floats(1.0, 200.0))
def test_true_undoes_calibrated(height, offset, calibrated):
    air = atmosphere.standard(height, temperature_offset=offset)
    there = {"pressure": air.pressure, "temperature": air.temperature}
    true = airspeed.true_from_calibrated(calibrated, **there)
    assume(np.isfinite(true))
    assert abs(airspeed.calibrated_from_true(true, **there) - calibrated) < 1e-6
    equivalent = airspeed.equivalent_from_true(true, density=air.density)
    assert abs(airspeed.true_from_equivalent(equivalent, density=air.density) - true) < 1e-9
    # compressibility only ever makes the indicator read more, above the sea
    assert height < 0 or equivalent <= calibrated + 1e-6


@given(directions, speeds, directions, speeds, st.floats(0.0, 0.3), directions)
def test_turning_the_world_changes_nothing_aboard(wind_from, kt, course, speed, angle, turn):
    here = wind.over_deck(wind_from=wind_from, wind_speed=kt, course=course, speed=speed, angle=angle)
    there = wind.over_deck(
        wind_from=wind_from + turn, wind_speed=kt, course=course + turn, speed=speed, angle=angle
    )
    assert abs(here.along_landing_area - there.along_landing_area) < 1e-9
    assert abs(here.crosswind_from_starboard - there.crosswind_from_starboard) < 1e-9
    assert abs(np.hypot(here.along_landing_area, here.crosswind_from_starboard) - here.speed) < 1e-9


@given(directions, speeds, directions, speeds)
def test_true_wind_undoes_over_deck(wind_from, kt, course, speed):
    there = wind.over_deck(wind_from=wind_from, wind_speed=kt, course=course, speed=speed)
    back = wind.true_wind(
        relative_from_bow=there.from_bow, relative_speed=there.speed, course=course, speed=speed
    )
    now = wind.air_velocity(wind_from=back.from_direction, wind_speed=back.speed)
    was = wind.air_velocity(wind_from=wind_from, wind_speed=kt)
    assert abs(now.north - was.north) < 1e-9 and abs(now.east - was.east) < 1e-9


@given(directions, st.floats(0.5, 40.0), st.floats(-np.pi, np.pi), speeds)
def test_ship_for_makes_the_wanted_wind_or_says_no(wind_from, kt, bearing, wanted):
    ship = wind.ship_for(wind_from=wind_from, wind_speed=kt, relative_from_bow=bearing, relative_speed=wanted)
    if np.isnan(ship.course):
        # out of reach: more across than there is, or more from astern than the wind can give
        across, ahead = wanted * np.sin(bearing), wanted * np.cos(bearing)
        assert abs(across) > kt * (1 - 1e-9) or ahead + np.sqrt(kt**2 - across**2) < 1e-9
        return
    assert ship.speed >= 0.0
    there = wind.over_deck(wind_from=wind_from, wind_speed=kt, course=ship.course, speed=ship.speed)
    assert abs(there.speed - wanted) < 1e-6
    assert abs(there.along_landing_area - wanted * np.cos(bearing)) < 1e-6
