"""Gusts, airwake and sea against published formulas and numbers worked from them by hand.

The formulas are those of MIL-F-8785C 3.7 and 3.8.3; those of 3.8.3 are from memory.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import integrate, signal

from deckward.environment import airwake, sea, turbulence
from support.authorities import each, rows

FOOT, KNOT = 0.3048, 1852 / 3600
AIRSPEED, DT = 65.0, 0.02


def estimate(gusts, *, height=0.0):
    """Frequencies in rad/s, one-sided spectra (3, f) per rad/s, and variances, of 150 long series."""
    normals = np.random.default_rng(5).standard_normal((round(300.0 / DT), 150, 3))
    series = turbulence.gust_series(gusts, normals, height=height)[round(60.0 / DT) :]
    frequency, power = signal.welch(series, fs=1 / DT, nperseg=2**13, axis=0, detrend=False)
    return 2 * np.pi * frequency, power.mean(axis=1).T / (2 * np.pi), np.square(series).mean(axis=(0, 1))


@pytest.fixture(scope="module")
def free():
    return estimate(turbulence.free_air(airspeed=AIRSPEED, dt=DT))


def test_free_air_variances(free):
    """Standard deviations along, across and up."""
    sigmas = [row["sigma [ft/s]"] for row in rows("free-air-gusts").values()]
    assert np.sqrt(free[2]) / FOOT == pytest.approx(sigmas, rel=0.05)
    assert np.array(turbulence.free_air_sigmas()) / FOOT == pytest.approx(sigmas, abs=1e-3)


def published_free_air(spatial_per_foot):
    """(ft/s)^2 per rad/ft, as written in the specification."""
    o = spatial_per_foot
    return (
        200 / (1 + (100 * o) ** 2),
        5900 * (1 + (400 * o) ** 2) / ((1 + (1000 * o) ** 2) * (1 + (400 * o / 3) ** 2)),
        71.6 / (1 + (100 * o) ** 2),
    )


@pytest.mark.parametrize("part", [0, 1, 2])
def test_free_air_spectra_as_generated(free, part):
    """A spectral estimate of the generated gusts within a tenth of the specification's, band by band."""
    frequency, power, _ = free
    for low, high in ((0.1, 0.4), (0.4, 1.0), (1.0, 3.0), (3.0, 10.0)):
        band = (frequency >= low) & (frequency < high)
        wanted = published_free_air(frequency[band] / AIRSPEED * FOOT)[part] * FOOT**3 / AIRSPEED
        assert power[part][band].mean() == pytest.approx(wanted.mean(), rel=0.12)


def test_free_air_spectra_are_the_specifications():
    spatial = np.array([1e-4, 1e-3, 1e-2, 1e-1])
    ours = turbulence.free_air_spectra(spatial / FOOT)
    for mine, wanted in zip(ours, published_free_air(spatial), strict=True):
        assert mine == pytest.approx(wanted * FOOT**3, rel=1e-12)


@each("low-altitude-turbulence", feet="height [ft]", length="length [ft]", sigma="sigma [ft/s]")
def test_low_altitude_lengths_and_sizes(feet, length, sigma):
    """Worked for 30 kt of wind 20 ft up (MIL-F-8785C 3.7): L_u in ft, sigma_u in ft/s; L_w is the height."""
    lengths, sigmas = turbulence.low_altitude(feet * FOOT, 30 * KNOT)
    assert lengths[0] / FOOT == pytest.approx(length, abs=0.05)
    assert sigmas[0] / FOOT == pytest.approx(sigma, abs=1e-3)
    assert (lengths[2] / FOOT, sigmas[2] / FOOT) == pytest.approx((feet, 5.063), abs=1e-3)


def test_low_altitude_spectra_as_generated():
    """Variances, and the estimate against the forms of MIL-F-8785C 3.7 written out, band by band."""
    height = 60.0
    gusts = turbulence.low_altitude_gusts(airspeed=AIRSPEED, dt=DT, wind_20ft=30 * KNOT)
    frequency, power, variance = estimate(gusts, height=height)
    lengths, sigmas = turbulence.low_altitude(height, 30 * KNOT)
    assert np.sqrt(variance) == pytest.approx(sigmas, rel=0.06)
    for low, high in ((0.1, 0.4), (0.4, 1.5), (1.5, 6.0)):
        band = (frequency >= low) & (frequency < high)
        spatial = frequency[band] / AIRSPEED
        along = sigmas[0] ** 2 * 2 * lengths[0] / np.pi / (1 + (lengths[0] * spatial) ** 2)
        spread = (lengths[2] * spatial) ** 2
        up = sigmas[2] ** 2 * lengths[2] / np.pi * (1 + 3 * spread) / (1 + spread) ** 2
        assert power[0][band].mean() * AIRSPEED == pytest.approx(along.mean(), rel=0.15)
        assert power[2][band].mean() * AIRSPEED == pytest.approx(up.mean(), rel=0.15)


@pytest.mark.parametrize("part", [0, 1, 2])
@pytest.mark.parametrize("where", ["free air", "low altitude"])
def test_spectra_hold_their_variances(part, where):
    """The integral of each one-sided spectrum is its variance."""
    if where == "free air":
        sigma = turbulence.free_air_sigmas()[part]
        found = integrate.quad(lambda o: turbulence.free_air_spectra(o)[part], 0, np.inf, limit=400)[0]
    else:
        sigma = turbulence.low_altitude(60.0, 10.0)[1][part]
        found = integrate.quad(
            lambda o: turbulence.low_altitude_spectra(o, 60.0, 10.0)[part], 0, np.inf, limit=400
        )[0]
    assert found == pytest.approx(sigma**2, rel=1e-4)


def test_wind_profile():
    """Worked: ln(h/z0) / ln(20/z0) with z0 0.15 ft: 1.329 at 100 ft."""
    assert turbulence.wind_at(100 * FOOT, wind_20ft=1.0) == pytest.approx(
        math.log(100 / 0.15) / math.log(20 / 0.15)
    )
    assert turbulence.wind_at(100 * FOOT, wind_20ft=1.0) == pytest.approx(1.329, abs=1e-3)


@each("periodic-airwake", x="x [ft]", along="along [ft/s]", up="up [ft/s]")
def test_periodic_airwake(x, along, up):
    """Worked for 1 deg of pitch and 25 kt of wind over deck: amplitudes in ft/s."""
    found = airwake.periodic_amplitudes(x * FOOT, pitch_amplitude=math.radians(1.0), wind_over_deck=25 * KNOT)
    assert [float(part) / FOOT for part in found] == pytest.approx([along, up], abs=1e-3)


def test_periodic_airwake_is_met_once():
    """Worked for 135 kt, 25 kt over deck, 0.6 rad/s: met at 3.706 rad/s; cosine -0.5225 at 1,000 ft aft."""
    over_deck, closure = 25 * KNOT, 110 * KNOT
    first, second = (
        airwake.periodic_phase(-1000 * FOOT + closure * t, t, frequency=0.6, wind_over_deck=over_deck)
        for t in (0.0, 1.0)
    )
    assert second - first == pytest.approx(3.706, abs=2e-3)
    assert math.cos(first) == pytest.approx(-0.5225, abs=1e-3)


def test_random_airwake_sizes():
    """Worked: 0.035 of 25 kt is 1.477 ft/s; the modulated and washed-out noise leaves 0.61 of it."""
    assert pytest.approx(1.477, abs=1e-3) == airwake.RANDOM_SIGMA * 25 * KNOT / FOOT
    # white noise through a lag T and a washout a keeps 1 / (1 + a T) of the lag's variance
    left = airwake.MODULATION / math.sqrt(1 + airwake.WASHOUT * airwake.RANDOM_TIME)
    assert left == pytest.approx(0.61, abs=0.005)


def test_usual_steady_airwake_lies_where_it_is_usually_told():
    """From memory, low confidence: peak downwash 0.05 to 0.08, upwash 0.02 to 0.04 of the wind over deck."""
    along, up = airwake.load().steady(np.arange(0.0, 900.0, 5.0))
    assert 0.05 <= -up.min() <= 0.08
    assert 0.02 <= up.max() <= 0.04
    assert np.argmin(up) < np.argmax(up)
    assert along.max() > 0.0


def test_sea_spectrum_holds_its_variance():
    """From memory: the Bretschneider spectrum's integral is the height squared over 16."""
    found = integrate.quad(lambda w: float(sea.bretschneider(w, height=3.25, period=9.7)), 1e-3, np.inf)[0]
    assert found == pytest.approx(3.25**2 / 16, rel=1e-4)
    frequency = np.linspace(0.2, 2.0, 3601)
    top = frequency[np.argmax(sea.bretschneider(frequency, height=3.25, period=9.7))]
    assert 2 * np.pi / top == pytest.approx(9.7, rel=2e-3)


@each("wave-encounters", heading="heading [deg]", met="met [rad/s]", period="period [s]")
def test_waves_are_met_at_the_frequency_worked_by_hand(heading, met, period):
    """Worked: waves of 0.5 rad/s from a ship at 20 kt."""
    found = sea.encounter_frequency(0.5, speed=20 * KNOT, heading=math.radians(heading))
    assert found == pytest.approx(met, abs=1e-3)
    assert 2 * math.pi / found == pytest.approx(period, abs=0.1)


def test_the_ramp_moves_with_pitch():
    """Worked: 450 ft behind the centre of pitch, 7.85 ft a degree."""
    assert sea.ramp_heave(0.0, math.radians(-1.0), aft=450 * FOOT) / FOOT == pytest.approx(7.85, abs=5e-3)


@each("sea-states")
def test_the_usual_sea_of_a_sea_state(row):
    usual = sea.sea_state(int(row["id"]))
    assert usual.height == row["mean [m]"]
    assert row["period low [s]"] <= usual.period <= row["period high [s]"]


def test_a_fully_developed_sea():
    """From memory: height 0.21 U^2/g, peak at 0.877 g/U; 15 m/s raises 4.8 m with 11 s."""
    made = sea.fully_developed(15.0)
    assert (made.height, made.period) == pytest.approx((4.82, 10.96), abs=0.01)


def test_long_waves_carry_the_ship_like_a_cork():
    """Limits of any ship: in long waves heave is their height, pitch their slope; short ones do nothing."""
    hull = sea.Hull()
    heave, pitch, _ = sea.response(0.08, hull, speed=0.0, heading=math.pi)
    assert heave == pytest.approx(1.0, abs=0.1)
    assert pitch == pytest.approx(0.08**2 / 9.80665, rel=0.1)
    heave, pitch, _ = sea.response(1.6, hull, speed=0.0, heading=math.pi)
    assert heave < 0.02
    assert math.degrees(float(pitch)) < 0.02


@each("ship-motion-peaks", state="sea state [1]", most_pitch="pitch [deg]", most_heave="heave [ft]")
def test_a_large_ship_moves_no_more_than_is_told(state, most_pitch, most_heave):
    """From memory, low confidence: occasional peaks of a large carrier in degrees and feet, upper ends."""
    sizes = np.array(
        [
            sea.deck_motion(sea.sea_state(state), sea.Hull(), speed=10.0, heading=math.pi, seed=s).sigmas()
            for s in range(20)
        ]
    ).mean(axis=0)
    # one in a hundred of the peaks is 3.34 times the standard deviation (from memory)
    assert math.degrees(3.34 * sizes[1]) <= most_pitch
    assert 3.34 * sizes[0] / FOOT <= most_heave


def test_deck_motion_has_the_power_of_its_waves():
    """Heave and pitch of many seeds, as time series, against wave spectrum times response squared."""
    rough, hull, speed = sea.Sea(5.0, 12.4, short_crested=False), sea.Hull(), 8.0
    time = np.arange(0.0, 1500.0, 0.5)
    motions = (sea.deck_motion(rough, hull, speed=speed, heading=math.pi, seed=s) for s in range(60))
    variance = np.mean([motion.at(time).var(axis=1) for motion in motions], axis=0)
    frequency = np.linspace(0.15, 1.52, 4001)
    answer = np.stack(sea.response(frequency, hull, speed=speed, heading=math.pi))
    wave = sea.bretschneider(frequency, height=5.0, period=12.4)
    wanted = integrate.trapezoid(answer**2 * wave, frequency, axis=1)
    assert variance[:2] == pytest.approx(wanted[:2], rel=0.1)
