"""Curves through updates, a swaying ship, and blows between updates, against scipy and plain formulas."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import BPoly, CubicHermiteSpline, CubicSpline
from scipy.linalg import cho_factor, cho_solve

from deckward.foundation.earth import from_ned
from deckward.recordings import dis_between
from deckward.recordings.dis_between import fill
from deckward.recordings.dis_curves import STEP, TIMEOUT, Curve
from deckward.recordings.dis_sway import sway

RNG = np.random.default_rng(3)
TIME = np.cumsum(RNG.uniform(0.4, 2.5, 14))
VALUE, RATE, BEND = RNG.normal(size=(3, TIME.size, 3))
WHOLE = np.ones(TIME.size - 1, bool)
WHEN = np.linspace(TIME[0], TIME[-1], 301)[:-1]


def read(curve: Curve, when=WHEN) -> np.ndarray:
    before = np.searchsorted(curve.time, when, side="right") - 1
    return curve.at(before, (when - curve.time[before]) / np.diff(curve.time)[before])


def test_values_alone_make_the_natural_cubic_spline():
    """scipy's ``CubicSpline`` with natural ends."""
    curve = Curve.through(TIME, VALUE).completed(WHOLE)
    spline = CubicSpline(TIME, VALUE, bc_type="natural")
    # without second derivatives the curve is the cubic through its slopes
    plain = Curve.through(TIME, VALUE, curve.rate)
    np.testing.assert_allclose(curve.rate, spline(TIME, 1), atol=1e-9)
    np.testing.assert_allclose(read(plain), spline(WHEN), atol=1e-9)


def test_values_and_rates_make_hermites_cubic():
    """scipy's ``CubicHermiteSpline``."""
    np.testing.assert_allclose(
        read(Curve.through(TIME, VALUE, RATE)), CubicHermiteSpline(TIME, VALUE, RATE)(WHEN), atol=1e-12
    )


def test_accelerations_besides_make_the_curve_of_fifth_degree():
    """scipy's ``BPoly.from_derivatives``."""
    truth = BPoly.from_derivatives(TIME, list(zip(VALUE, RATE, BEND, strict=True)))
    np.testing.assert_allclose(read(Curve.through(TIME, VALUE, RATE, BEND)), truth(WHEN), atol=1e-10)


def test_accelerations_that_are_not_told_keep_the_third_derivative_continuous():
    """The condition that makes it the curve of least jerk, on scipy's polynomials through what was found."""
    curve = Curve.through(TIME, VALUE, RATE).completed(WHOLE)
    jerk = BPoly.from_derivatives(TIME, list(zip(VALUE, RATE, curve.bend, strict=True))).derivative(3)
    inner = TIME[1:-1]
    np.testing.assert_allclose(jerk(inner - 1e-9), jerk(inner + 1e-9), rtol=1e-4, atol=1e-4)
    np.testing.assert_allclose(jerk(TIME[[0, -1]]), 0.0, atol=1e-6)  # free ends


@pytest.mark.parametrize("known", ["values", "rates", "accelerations"])
def test_leaving_an_update_out_is_the_curve_through_the_four_around_it(known):
    rate = None if known == "values" else RATE
    bend = BEND if known == "accelerations" else None
    tried, off, gaps = Curve.through(TIME, VALUE, rate, bend).left_out()
    assert tried.tolist() == list(range(2, TIME.size - 2))
    for row, i in enumerate(tried):
        near = [i - 2, i - 1, i + 1, i + 2]
        if known == "values":
            spline = CubicSpline(TIME[near], VALUE[near], bc_type="natural")
            four = Curve.through(TIME[near], VALUE[near]).completed(np.ones(3, bool))
            np.testing.assert_allclose(four.rate, spline(TIME[near], 1), atol=1e-9)
        elif known == "rates":
            four = Curve.through(TIME[near], VALUE[near], RATE[near]).completed(np.ones(3, bool))
        else:
            four = Curve.through(TIME[near], VALUE[near], RATE[near], BEND[near])
        np.testing.assert_allclose(off[row], read(four, TIME[[i]])[0] - VALUE[i], atol=1e-9)
        np.testing.assert_allclose(gaps[row], [TIME[i] - TIME[i - 1], TIME[i + 1] - TIME[i]])


@pytest.mark.parametrize(("power", "order"), [(dis_between._LEVEL_POWER, 3), (dis_between._TURN_POWER, 2)])
def test_the_strength_of_the_noise_that_moves_a_craft_is_found(power, order):
    """White noise of strength 2.5 in the derivative of that order, integrated in steps of a millisecond.

    The doubt between two updates is then the conditional deviation of that process (a bridge), which for
    a thousand updates must hold two in three of what is really off.
    """
    rng = np.random.default_rng(11)
    step, span, n = 1e-3, 1.0, 400
    state = np.cumsum(rng.normal(0.0, np.sqrt(2.5 * step), (round(n * span / step), 3)), axis=0)
    chain = [state]
    for _ in range(order - 1):
        chain.append(np.cumsum(chain[-1], axis=0) * step)
    each = round(span / step)
    rows = np.arange(0, n * each, each)
    known = chain[::-1]
    curve = Curve.through(rows * step, known[0][rows], known[1][rows], known[2][rows] if order == 3 else None)
    whole = np.ones(rows.size - 1, bool)
    done = curve if order == 3 else replace_bends(curve)
    found = dis_between._roughness(curve, whole, np.full(3, power), lambda off, at: off)
    middle = known[0][rows[:-1] + each // 2]
    off = done.at(np.arange(n - 1), np.full(n - 1, 0.5)) - middle
    doubt = np.sqrt(found[:-1] * (0.25 * span) ** power)
    assert np.mean(np.abs(off) < doubt) == pytest.approx(0.683, abs=0.08)
    assert np.sqrt(np.mean((off / doubt) ** 2)) == pytest.approx(1.0, abs=0.25)


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.8])
def test_a_rate_is_as_unsure_as_white_noise_in_the_third_derivative_leaves_it(share):
    """The bridge between two states that are known, its covariance by the plain matrices of the process.

    Thrice integrated white noise: Y. Bar-Shalom et al., "Estimation with Applications to Tracking and
    Navigation" (2001), its covariance over a step (from memory).
    """

    def noise(h):
        return np.array(
            [[h**5 / 20, h**4 / 8, h**3 / 6], [h**4 / 8, h**3 / 3, h**2 / 2], [h**3 / 6, h**2 / 2, h]]
        )

    span = 1.7
    first, rest = share * span, (1.0 - share) * span
    goes_on = np.array([[1.0, rest, rest**2 / 2], [0.0, 1.0, rest], [0.0, 0.0, 1.0]])
    known = np.linalg.inv(noise(first)) + goes_on.T @ np.linalg.inv(noise(rest)) @ goes_on
    left = np.linalg.inv(known)
    within = first * rest / span
    slope = dis_between._SLOPES * (1.0 / 3.0 - 1.25 * share * (1.0 - share))
    assert left[0, 0] == pytest.approx(within**5 / 20.0, rel=1e-6)
    assert left[1, 1] == pytest.approx(left[0, 0] / within**2 * slope, rel=1e-6)


def replace_bends(curve: Curve) -> Curve:
    """Curves of third degree: no second derivatives."""
    return Curve.through(curve.time, curve.value, curve.rate)


# -- a ship ------------------------------------------------------------------------------------


def test_a_ship_that_swings_once_in_eight_seconds_is_followed_from_updates_far_apart():
    """A sum of two swings near a period of 8 s, told at uneven times 2 to 5 s apart."""
    rng = np.random.default_rng(8)
    time = np.cumsum(rng.uniform(2.0, 5.0, 60))

    def angles(t):
        swing = np.radians(1.5) * np.cos(0.78 * t) + np.radians(0.4) * np.sin(0.84 * t)
        return np.column_stack([0.0 * t + 1.0, swing, 0.6 * swing])

    when = np.arange(time[5], time[-5], 0.1)
    plain, sigma, _ = sway(time, angles(time), when)
    rates = (angles(time + 1e-4) - angles(time - 1e-4)) / 2e-4
    told, closer, _ = sway(time, angles(time), when, rates)
    curve = Curve.through(time, angles(time)).completed(np.ones(time.size - 1, bool))
    for found, doubt, most in ((plain, sigma, 0.1), (told, closer, 0.01)):
        off = np.abs(found - angles(when))[:, 1:]
        assert np.degrees(off).max() < most
        assert (off < 4.0 * doubt[:, 1:] + 1e-6).all()
    assert np.degrees(np.abs(read(curve, when) - angles(when))).max() > 0.5  # what a spline makes of it


def test_the_sway_is_the_regression_that_the_book_writes():
    """Rasmussen and Williams (2006), equations 2.25 and 2.26, the mean put in, at one set of settings."""
    time = np.cumsum(np.random.default_rng(2).uniform(1.0, 4.0, 20))
    swings, keeps, size = 0.8, 20.0, 0.02

    def kernel(a, b):
        apart = a[:, None] - b
        return size**2 * np.exp(-0.5 * (apart / keeps) ** 2) * np.cos(swings * apart)

    noise = 1e-9 * size**2 * np.eye(time.size)
    values = np.linalg.cholesky(kernel(time, time) + noise) @ np.random.default_rng(5).normal(size=time.size)
    when = np.linspace(time[4], time[-5], 40)
    factor = cho_factor(kernel(time, time) + noise)
    mean = kernel(when, time) @ cho_solve(factor, values)
    found, sigma, _ = sway(time, np.column_stack([values] * 3), when)
    spread = kernel(when, when) - kernel(when, time) @ cho_solve(factor, kernel(time, when))
    # the settings are found from twenty values: as near as the motion is known at all
    assert np.abs(found[:, 0] - mean).max() < 3.0 * np.sqrt(np.diag(spread)).max() + 2e-3
    assert np.median(sigma[:, 0]) < 3.0 * np.median(np.sqrt(np.diag(spread))) + 1e-3


def test_a_ship_that_turns_between_slow_updates_is_no_swaying_one():
    """Ninety degrees at 2 deg/s and back on a straight course, heard of every 4.7 s, without rates."""
    fine = np.arange(0.0, 310.0, 0.05)
    rate = np.radians(2.0) * np.clip((fine - 100.0) / 6.0, 0, 1) * np.clip((150.0 - fine) / 6.0, 0, 1)
    heading = np.cumsum(rate) * 0.05
    time = np.arange(0.0, 300.0, 4.7)
    turn = Curve.through(time, np.column_stack([np.interp(time, fine, heading), 0.0 * time, 0.0 * time]))
    place = np.column_stack([10.0 * time, 0.0 * time, 0.0 * time])
    path = Curve.through(time, placed(place), None)
    between = fill(path, turn, sways=True)
    off = np.degrees(between.attitude[:, 0] - np.interp(between.time, fine, heading))
    assert np.abs(off).max() < 0.5
    assert np.degrees(between.turned[:, 0]).max() < 2.0


def placed(way: np.ndarray) -> np.ndarray:
    return from_ned(way, 0.5, -1.5, 0.0)


# -- blows -------------------------------------------------------------------------------------


def descent(blow: float, pull: float = 0.0):
    """A jet that comes down at 3 m/s and meets a deck ``blow`` seconds after 20 s, updates 1 s apart.

    Down from then on it does not go; a wire may pull at it besides, m/s^2.
    """
    time = np.arange(0.0, 31.0, 1.0)
    hit = 20.0 + blow

    def state(t):
        since = np.maximum(t - hit, 0.0)
        gust = 0.02 * np.sin(0.9 * t)
        way = np.column_stack([70.0 * t - 0.5 * pull * since**2, 0.0 * t, 3.0 * np.minimum(t, hit) + gust])
        speed = np.column_stack([70.0 - pull * since, 0.0 * t, 3.0 * (t < hit) + 0.018 * np.cos(0.9 * t)])
        return way, speed

    way, speed = state(time)
    place = placed(way)
    ahead = placed(way + 1e-3 * speed)
    return Curve.through(time, place, (ahead - place) / 1e-3), hit, state


# a blow in the very middle of an interval looks like an even push; thresholds make a sender speak up after it
@pytest.mark.parametrize("blow", [0.2, 0.7, 0.9])
def test_the_interval_in_which_wheels_meet_a_deck_is_found(blow):
    path, _, _ = descent(blow)
    jolted, shaking = dis_between._jolts(path, np.diff(path.time) < TIMEOUT)
    assert jolted.tolist() == [20]
    assert 20 not in shaking


def test_smooth_flight_holds_no_blow():
    path, _, _ = descent(100.0)
    jolted, shaking = dis_between._jolts(path, np.diff(path.time) < TIMEOUT)
    assert not jolted.size
    assert not shaking.size


def test_no_blow_is_looked_for_across_a_silence():
    path, _, _ = descent(0.7)
    whole = np.diff(path.time) < TIMEOUT
    whole[20] = False
    assert not dis_between._jolts(path, whole)[0].size


@pytest.mark.parametrize(("blow", "pull"), [(0.35, 0.0), (0.7, 0.0), (0.4, 25.0)])
def test_until_the_blow_the_jet_flies_as_it_said(blow, pull):
    path, hit, state = descent(blow, pull)
    turn = Curve.through(path.time, np.zeros((path.time.size, 3)), np.zeros((path.time.size, 3)))
    between = fill(path, turn)
    before = (between.time > 20.0) & (between.time < hit - STEP)
    off = between.place[before] - placed(state(between.time[before])[0])
    assert np.linalg.norm(off, axis=1).max() < 0.08
    assert (between.up[before] > 0.0).all()


def test_how_far_reckoning_drifts_is_read_off_from_the_intervals_before():
    """Three intervals that drift by 0.1, 0.2, 0.4 m/s times their lead, the last one 0.5 s long.

    Root mean square of what each had drifted by the same lead, weights 1/4, 1/2, 1 in turn.
    """
    rates, lasts = np.array([0.1, 0.2, 0.4]), (1.0, 2.0, 0.5)
    drifts = []
    for rate, last in zip(rates, lasts, strict=True):
        lead = np.arange(1, round(last / STEP) + 1) * STEP
        drifts.append((rate * lead[:, None], lead))
    usual = dis_between._usual_drift(drifts, 0, np.array([0.5, 1.0, 3.0]))
    weights = np.array([0.25, 0.5, 1.0])
    assert usual == pytest.approx(
        np.sqrt(np.sum(weights * rates**2) / weights.sum()) * np.array([0.5, 1.0, 3.0])
    )


def test_what_an_update_lets_one_know_is_what_the_updates_before_it_do():
    """scipy's natural ``CubicSpline`` through the last updates; what comes after changes nothing."""
    known = dis_between._known_by(Curve.through(TIME, VALUE), 9, WHOLE)
    spline = CubicSpline(TIME[3:10], VALUE[3:10], bc_type="natural")
    np.testing.assert_allclose(known.rate[9], spline(TIME[9], 1), atol=1e-9)
    other = VALUE.copy()
    other[10:] += 5.0
    np.testing.assert_array_equal(
        dis_between._known_by(Curve.through(TIME, other), 9, WHOLE).rate[9], known.rate[9]
    )


def test_a_blow_that_begins_just_before_an_update_widens_what_went_before_it():
    """At 35 s the descent is slowed down by a push that began 0.1 s before the update.

    Hermite's cubic spreads it: what it then is off by, worked out by scipy, is at most what is doubted.
    """
    time = np.arange(0.0, 40.0, 1.0)
    usual = 0.002 * np.cos(2.0 * time)
    rate = np.column_stack([0.0 * time, 0.0 * time, -3.0 + usual])
    value = np.column_stack([0.0 * time, 0.0 * time, -3.0 * time])
    smooth = Curve.through(time, value, rate)
    blown = rate.copy()
    blown[35, 2] += 0.4
    up = np.tile([0.0, 0.0, 1.0], (time.size, 1))
    begun = dis_between._begun(Curve.through(time, value, blown), 34, up)
    assert begun[0] == pytest.approx(0.4, abs=0.01)
    assert begun[1] == 0.0
    assert dis_between._begun(smooth, 34, up)[0] < 0.005
    share = np.linspace(0.0, 1.0, 21)
    one, other = (CubicHermiteSpline(time, value, told)(34.0 + share) for told in (blown, rate))
    off = one - other
    np.testing.assert_allclose(np.abs(off[:, 2]), share**2 * (1.0 - share) * 0.4, atol=1e-12)


def test_an_update_nearer_by_counts_for_more_and_none_beyond_a_blow():
    """Weights 1, 1/2, 1/4 ... from either end of the way after a row; row 4 begins another stretch."""
    amount = np.arange(1.0, 8.0)[:, None]
    stretch = np.array([0, 0, 0, 0, 1, 1, 1])
    found = dis_between._around(np.arange(7), amount, stretch)[:, 0]
    assert found[1] == pytest.approx((2 + 1 / 2 + 3 + 4 / 2) / 3.0)
    assert found[3] == pytest.approx((4 + 3 / 2 + 2 / 4 + 1 / 8) / 1.875)
    assert found[4] == pytest.approx((5 + 6 + 7 / 2) / 2.5)
    alone = dis_between._around(np.array([0, 1]), amount[:2], stretch)[:, 0]
    assert alone[5] == pytest.approx(1.5)  # nothing seen there: as everywhere


def test_a_sway_is_asked_how_far_it_passes_an_update_left_out():
    """Rasmussen and Williams (2006), equation 5.12, against a regression without the update."""
    from deckward.recordings import dis_sway

    rng = np.random.default_rng(4)
    time = np.cumsum(rng.uniform(1.0, 4.0, 14))
    for told in (False, True):
        kernel = dis_sway._kernel(time[:, None] - time, 0.7, 9.0, rates=told)
        kernel[:14, :14] += 1e-6 * np.eye(14)
        values = np.linalg.cholesky(kernel) @ rng.normal(size=kernel.shape[0])
        one = np.concatenate([np.ones(14), np.zeros(kernel.shape[0] - 14)])
        inverse = np.linalg.inv(np.linalg.cholesky(kernel))
        level = inverse @ one
        left = inverse @ values - float(level @ inverse @ values) / float(level @ level) * level
        off = dis_sway._left_out(inverse, left, level, 14)
        for i in (0, 6, 13):
            rest = np.delete(np.arange(kernel.shape[0]), [i, i + 14] if told else [i])
            solved = np.linalg.solve(kernel[np.ix_(rest, rest)], np.column_stack([values[rest], one[rest]]))
            mean = float(one[rest] @ solved[:, 0]) / float(one[rest] @ solved[:, 1])
            foretold = mean + kernel[i, rest] @ (solved[:, 0] - mean * solved[:, 1])
            assert off[i] == pytest.approx(values[i] - foretold, abs=1e-6)
