"""The atmosphere and airspeeds against what others publish or compute."""

from __future__ import annotations

import numpy as np
import pytest
from ambiance import Atmosphere
from fluids.atmosphere import ATMOSPHERE_1976

from deckward.environment import airspeed, atmosphere
from deckward.foundation.units import FOOT, KNOT
from support.authorities import each


@each(
    "standard-atmosphere",
    feet="height [ft]",
    temperature="temperature [K]",
    pressure="pressure [Pa]",
    density="density [kg/m3]",
    sound_kt="speed of sound [kt]",
)
def test_standard_table(feet, temperature, pressure, density, sound_kt):
    air = atmosphere.standard(feet * FOOT)
    assert air.temperature == pytest.approx(temperature, abs=6e-4)
    assert air.pressure == pytest.approx(pressure, abs=0.6)
    assert air.density == pytest.approx(density, abs=6e-6)
    assert air.speed_of_sound / KNOT == pytest.approx(sound_kt, abs=6e-3)


@each("atmosphere-layers", height="height [m]", temperature="temperature [K]", pressure="pressure [Pa]")
def test_layer_boundaries(height, temperature, pressure):
    air = atmosphere.standard(height)
    assert air.temperature == pytest.approx(temperature, rel=1e-9)
    assert air.pressure == pytest.approx(pressure, rel=1e-6)


def test_against_the_ambiance_library():
    """The ambiance package (geometric heights, ICAO 1993) to 32 km geopotential."""
    geometric = np.linspace(-4_900.0, 32_100.0, 200)
    other = Atmosphere(geometric)
    height = atmosphere.geopotential_height(geometric)
    air = atmosphere.standard(height)
    # the package starts each layer from the six printed digits of its base pressure
    assert height == pytest.approx(other.H, abs=1e-6)
    assert air.temperature == pytest.approx(other.temperature, rel=1e-7)
    assert air.pressure == pytest.approx(other.pressure, rel=6e-6)
    assert air.density == pytest.approx(other.density, rel=6e-6)
    assert air.speed_of_sound == pytest.approx(other.speed_of_sound, rel=2e-6)


def test_against_the_fluids_library():
    """The fluids package's U.S. Standard Atmosphere 1976, also with a warm day's offset."""
    for geometric in (0.0, 137.0, 1_500.0, 9_000.0, 12_345.0, 25_000.0, 60_000.0):
        for offset in (0.0, 15.0):
            other = ATMOSPHERE_1976(geometric, dT=offset)
            air = atmosphere.standard(atmosphere.geopotential_height(geometric), temperature_offset=offset)
            assert air.temperature == pytest.approx(other.T, rel=1e-6)
            assert air.pressure == pytest.approx(other.P, rel=5e-6)
            assert air.density == pytest.approx(other.rho, rel=5e-6)
            assert air.speed_of_sound == pytest.approx(other.v_sonic, rel=5e-6)


@each("airspeeds", calibrated_kt="calibrated [kt]", feet="height [ft]", mach="mach [1]", true_kt="true [kt]")
def test_airspeed_table(calibrated_kt, feet, mach, true_kt):
    air = atmosphere.standard(feet * FOOT)
    calibrated = calibrated_kt * KNOT
    assert airspeed.mach_from_calibrated(calibrated, pressure=air.pressure) == pytest.approx(mach, abs=6e-5)
    true = airspeed.true_from_calibrated(calibrated, pressure=air.pressure, temperature=air.temperature)
    assert true / KNOT == pytest.approx(true_kt, abs=6e-3)


def test_sea_level_airspeed_is_good_enough_low_down():
    """Using sea-level air at 200 ft costs a 135-kt approach less than 0.4 kt (worked by hand)."""
    air = atmosphere.standard(200 * FOOT)
    true = airspeed.true_from_calibrated(135 * KNOT, pressure=air.pressure, temperature=air.temperature)
    assert 0.3 < true / KNOT - 135 < 0.4


def test_against_the_flight_dynamics_library():
    """JSBSim's own atmosphere and pitot: calibrated to true, equivalent and Mach at altitude."""
    jsbsim = pytest.importorskip("jsbsim")
    fdm = jsbsim.FGFDMExec(None)
    fdm.set_debug_level(0)
    fdm.load_model("A4")
    for feet, calibrated_kt in ((50, 125), (600, 134), (5_000, 250), (20_000, 300), (36_500, 240)):
        fdm["ic/h-sl-ft"] = feet
        fdm["ic/vc-kts"] = calibrated_kt
        fdm.run_ic()
        # the library takes geometric height; its air is at that height's geopotential
        air = atmosphere.standard(atmosphere.geopotential_height(feet * FOOT))
        assert air.pressure == pytest.approx(fdm["atmosphere/P-psf"] * 47.880259, rel=1e-5)
        calibrated = fdm["velocities/vc-kts"] * KNOT
        true = airspeed.true_from_calibrated(calibrated, pressure=air.pressure, temperature=air.temperature)
        assert true / KNOT == pytest.approx(fdm["velocities/vt-fps"] * FOOT / KNOT, abs=0.02)
        equivalent = airspeed.equivalent_from_true(true, density=air.density)
        assert equivalent / KNOT == pytest.approx(fdm["velocities/ve-kts"], abs=0.02)
        mach = airspeed.mach_from_true(true, temperature=air.temperature)
        assert mach == pytest.approx(fdm["velocities/mach"], abs=5e-5)
