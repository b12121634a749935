"""A ship measured with a known jet, a jet with a known ship: traps flown by formulas, with noise."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from deckward import aircraft, site
from deckward.errors import InputError
from deckward.foundation.track import Track
from deckward.passes.axes import hull_to_deck
from deckward.passes.measuring import measure_aircraft, measure_site
from deckward.passes.on_deck import from_hull
from deckward.passes.pull import pull_begins
from deckward.site.model import SiteSigma, Wires
from support.analytic_pass import DECK, DEGREE, JET, ROUGH, AnalyticPass, Flight, Ship, Sway

#: what somebody starts from who knows little
GUESS = replace(
    DECK,
    angle=8.0 * DEGREE,
    ramp=(DECK.ramp[0], 0.0, -14.0),
    wires=Wires((55.0, 68.0, 81.0, 94.0), 0.1),
    sigma=SiteSigma((15.0, 2.0, 5.0), 1.0 * DEGREE, 5.0),
)
#: aims, metres right of the centreline and degrees of drift of eight traps
TRAPS = (
    (46.0, 0.8, 0.3), (58.0, -1.2, -0.4), (71.0, 0.4, 0.2), (83.0, 1.5, -0.5),
    (59.5, -0.3, 0.6), (69.0, -1.6, 0.0), (57.0, 0.2, -0.2), (72.0, 1.1, 0.4),
)  # fmt: skip


def recorded(flight: Flight, seed: int, noise: float) -> tuple[Track, Track]:
    own, ship = AnalyticPass(flight).in_a_plane()
    if noise == 0.0:
        return own, ship
    rng = np.random.default_rng(seed)
    spread = {"north": noise, "east": noise, "up": 0.3, "pitch": 0.1 * DEGREE, "roll": 0.1 * DEGREE}
    noisy = {name: own[name] + rng.normal(0.0, sigma, len(own)) for name, sigma in spread.items()}
    return own.with_channels(**noisy), ship


def traps(*, noise: float = 0.0, ship: Ship | None = None) -> list[tuple[Track, Track]]:
    ship = ship or Ship(speed=9.0)
    flights = [
        Flight(ship=ship, hook_aim=aim, off_centre=aside, drift=drift * DEGREE, after=11.0)
        for aim, aside, drift in TRAPS
    ]
    return [recorded(flight, 40 + k, noise) for k, flight in enumerate(flights)]


def test_eight_noisy_traps_measure_the_ship():
    found, rows = measure_site(traps(noise=0.05), GUESS, JET)
    assert found.ramp[2] == pytest.approx(DECK.ramp[2], abs=0.3)
    assert found.angle == pytest.approx(DECK.angle, abs=0.3 * DEGREE)
    assert found.wires.positions == pytest.approx(DECK.wires.positions, abs=1.5)
    assert {row.name for row in rows} == {
        "deck height",
        "angle",
        "centreline",
        *(f"wire {k}" for k in range(1, 5)),
    }
    assert found.sigma.ramp[0] == GUESS.sigma.ramp[0]
    assert found.lens == GUESS.lens


@pytest.mark.parametrize("noise", [0.0, 0.1, 0.3])
@pytest.mark.parametrize("sea", [Ship(speed=9.0), replace(ROUGH, pitch=Sway(0.5 * DEGREE, 8.3, 0.4))])
def test_what_is_true_lies_within_two_sigma(sea, noise):
    found, _ = measure_site(traps(noise=noise, ship=sea), GUESS, JET)
    for value, true, sigma in (
        (found.ramp[1], DECK.ramp[1], found.sigma.ramp[1]),
        (found.ramp[2], DECK.ramp[2], found.sigma.ramp[2]),
        (found.angle, DECK.angle, found.sigma.angle),
        *zip(found.wires.positions, DECK.wires.positions, [found.sigma.wires] * 4, strict=True),
    ):
        assert value == pytest.approx(true, abs=2.0 * sigma)


def test_one_trap_says_that_it_is_one():
    pairs = traps()
    one, _ = measure_site(pairs[2:3], GUESS, JET)
    all_, _ = measure_site(pairs, GUESS, JET)
    assert one.sigma.angle > 2.0 * all_.sigma.angle
    assert one.sigma.wires > all_.sigma.wires
    assert one.angle == pytest.approx(DECK.angle, abs=2.0 * one.sigma.angle)


def parked(hull, ship: Ship, point=JET.nose_wheel) -> tuple[Track, Track]:
    """Ten seconds with a point of the jet held over a place of the hull, nose along the keel."""
    time = np.arange(0.0, 10.0, 0.1)
    flown = AnalyticPass(Flight(ship=ship))
    _, track = flown.in_a_plane(time, time)
    h = track["heading"][0]
    x = hull[0] - point[0]
    y = hull[1]
    own = {
        "north": track["north"] + x * np.cos(h) - y * np.sin(h),
        "east": track["east"] + x * np.sin(h) + y * np.cos(h),
        "up": track["up"] - hull[2] + point[2],
        "heading": track["heading"],
        "pitch": np.zeros(time.size),
        "roll": np.zeros(time.size),
    }
    return Track("aircraft", time, own), track


def test_a_nose_wheel_on_the_edge_shows_the_ramp():
    start = replace(GUESS, ramp=(-170.0, 0.0, -14.0))
    still = Ship(course=0.7, speed=9.0)
    found, rows = measure_site(traps(), start, JET, at_ramp=parked(DECK.ramp, still))
    assert found.ramp == pytest.approx(DECK.ramp, abs=1.0)
    assert found.sigma.ramp[0] < 0.5
    assert found.wires.positions == pytest.approx(DECK.wires.positions, abs=1.5)
    assert any(row.name == "ramp" for row in rows)


def test_the_edge_is_where_the_jet_rests_farthest_aft():
    """Before it taxies to the ramp a jet may stand elsewhere, and longer."""
    still = Ship(course=0.7, speed=9.0)
    (own, ship), (later, _) = (parked(place, still) for place in ((20.0, 9.0, DECK.ramp[2]), DECK.ramp))
    # fifty seconds forward, then ten on the edge: the ship goes on at her speed meanwhile
    time = np.concatenate([np.arange(-50.0, 0.0, 0.1), later.time])
    since = (time - ship.time[0]) / (ship.time[-1] - ship.time[0])
    gone = {name: ship[name][0] + since * (ship[name][-1] - ship[name][0]) for name in ("north", "east")}
    level = {name: np.full(time.size, ship[name][0]) for name in ("heading", "up")}
    boat = Track("ship", time, {**gone, **level})
    first, then = (
        {name: one[name][0] - ship[name][0] for name in ("north", "east", "up")} for one in (own, later)
    )
    place = {name: boat[name] + np.where(time < 0.0, first[name], then[name]) for name in first}
    tilt = dict.fromkeys(("pitch", "roll"), np.zeros(time.size))
    pair = Track("aircraft", time, {**place, "heading": level["heading"], **tilt}), boat
    found, _ = measure_site(traps()[:1], GUESS, JET, at_ramp=pair)
    assert found.ramp[0] == pytest.approx(DECK.ramp[0], abs=0.1)


def test_nothing_may_be_aft_of_the_edge():
    still = Ship(course=0.7, speed=9.0)
    with pytest.raises(InputError, match="aft of where the nose wheel stands"):
        measure_site(traps()[:1], GUESS, JET, at_ramp=parked((60.0, 9.0, DECK.ramp[2]), still))


def test_wheels_aft_of_the_ramp_in_the_file_are_told():
    still = Ship(course=0.7, speed=9.0)
    start = replace(DECK, ramp=(DECK.ramp[0] + 6.0, *DECK.ramp[1:]))
    stood = parked(DECK.ramp, still, JET.main_wheels)
    (told,) = (row for row in measure_site([stood], start, JET)[1] if row.name == "wheels aft")
    assert told.value == pytest.approx(6.0, abs=0.2)
    assert all(row.name != "wheels aft" for row in measure_site([stood], DECK, JET)[1])


@pytest.mark.parametrize("noise", [0.0, 0.05])
def test_a_bolter_shows_deck_angle_and_centreline(noise):
    flight = Flight(ship=Ship(speed=9.0), hook_aim=110.0, wire=None, off_centre=0.6, drift=0.3 * DEGREE)
    own, ship = recorded(flight, 3, 0.0)
    own = own.with_channels(up=own["up"] + np.random.default_rng(5).normal(0.0, noise, len(own)))
    found, rows = measure_site([(own, ship)], GUESS, JET)
    assert found.ramp[2] == pytest.approx(DECK.ramp[2], abs=2.0 * found.sigma.ramp[2])
    assert found.angle == pytest.approx(DECK.angle, abs=2.0 * found.sigma.angle)
    assert found.ramp[1] == pytest.approx(DECK.ramp[1], abs=2.0 * found.sigma.ramp[1])
    assert found.wires == GUESS.wires
    assert [row.name for row in rows] == ["deck height", "angle", "centreline"]
    jet, _ = measure_aircraft([(own, ship)], DECK, replace(JET, main_wheels=(-0.3, 1.2, 2.6)))
    assert jet.main_wheels[2] == pytest.approx(JET.main_wheels[2], abs=2.0 * jet.sigma.main_wheels[2])


def test_a_nose_wheel_abreast_of_the_lens_shows_it():
    still = Ship(course=0.7, speed=9.0)
    abreast = DECK.ramp_vector + hull_to_deck(DECK.angle).T @ np.array([DECK.lens.position[0], -8.0, 0.0])
    spot = {"at_ramp": parked(DECK.ramp, still), "at_lens": parked(abreast, still)}
    found, rows = measure_site(traps(), GUESS, JET, **spot)
    assert found.lens.position[0] == pytest.approx(DECK.lens.position[0], abs=1.0)
    assert found.lens.position[1:] == GUESS.lens.position[1:] and found.sigma.lens[0] < 0.5
    assert rows[-1].name == "lens"


def test_wheels_on_the_edge_show_where_they_are():
    still = Ship(course=0.7, speed=9.0)
    guess = replace(JET, main_wheels=(0.5, *JET.main_wheels[1:]), nose_wheel=(3.0, 0.0, JET.nose_wheel[2]))
    spot = {
        "at_ramp": parked(DECK.ramp, still),
        "mains_at_ramp": parked(DECK.ramp, still, JET.main_wheels),
    }
    found, rows = measure_aircraft(traps()[:2], DECK, guess, **spot)
    assert found.nose_wheel[0] == pytest.approx(JET.nose_wheel[0], abs=0.05)
    assert found.main_wheels[0] == pytest.approx(JET.main_wheels[0], abs=0.05)
    assert [row.name for row in rows[:2]] == ["main wheels ahead", "nose wheel ahead"]
    with pytest.raises(InputError, match="nose wheel would be"):
        measure_aircraft(traps()[:1], DECK, guess, at_ramp=traps()[0])


def test_a_deck_on_which_nothing_stands_is_refused():
    pair = AnalyticPass(Flight(wave_off_before=6.0)).in_a_plane()
    with pytest.raises(InputError, match="stand or roll"):
        measure_site([pair], GUESS, JET)
    with pytest.raises(InputError, match="rest on the deck"):
        measure_aircraft([pair], DECK, JET)
    with pytest.raises(InputError, match="does not rest"):
        measure_site(traps()[:1], GUESS, JET, at_ramp=pair)


def test_a_jet_is_measured_on_a_known_ship():
    guess = replace(JET, hook=(-2.5, 0.0, 1.9), main_wheels=(-0.3, 1.2, 2.6), nose_wheel=(3.4, 0.0, 2.6))
    found, rows = measure_aircraft(traps(noise=0.1), DECK, guess)
    assert found.main_wheels[2] == pytest.approx(JET.main_wheels[2], abs=2.0 * found.sigma.main_wheels[2])
    assert found.hook[0] == pytest.approx(JET.hook[0], abs=2.0 * found.sigma.hook[0])
    assert measure_aircraft(traps(), DECK, guess)[0].sigma.hook[0] < 1.0 < found.sigma.hook[0]
    # what no track shows stays as it was
    assert (found.eye, found.hook[2], found.main_wheels[:2]) == (JET.eye, 1.9, (-0.3, 1.2))
    assert {row.name for row in rows} == {"main wheels below", "nose wheel below", "hook ahead"}


def test_measured_files_are_read_back_as_they_were_written(tmp_path):
    for shelf, names in ((site, site.bundled()), (aircraft, aircraft.bundled())):
        for name in names:
            one = replace(shelf.load(name), generic=False)
            path = tmp_path / f"{name}.toml"
            path.write_text(shelf.text(one), encoding="utf-8")
            again = shelf.load(path)
            assert shelf.text(again) == shelf.text(one)
            assert shelf.describe(again) == shelf.describe(one)


@pytest.mark.parametrize("noise", [0.0, 0.2])
@pytest.mark.parametrize("onset", [0.1, 0.5, 0.9])
def test_a_pull_is_found_where_it_begins(onset, noise):
    """A pull that grows evenly for 0.3 s to 18 m/s^2 under a run at 55 m/s, thrust at 1 m/s^2 before it."""
    t = np.arange(-1.0, 4.0, 0.05)
    since = np.clip(t - onset, 0.0, None)
    grown = np.minimum(since, 0.3)
    pull = 18.0 * (grown**3 / 1.8 + 0.15 * (since - grown) + 0.5 * (since - grown) ** 2)
    x = 55.0 * t + 0.5 * np.clip(t, 0.0, None) ** 2 - pull
    x = x + np.random.default_rng(2).normal(0.0, noise, t.size)
    found = pull_begins(t, x, noise=noise)
    assert found.onset == pytest.approx(onset, abs=max(2.5 * found.sigma, 0.02))
    assert found.sigma < (0.05 if noise == 0.0 else 0.12)


@pytest.mark.parametrize("law", ["spring", "at once"])
@pytest.mark.parametrize("noise", [0.0, 0.1])
def test_pulls_of_other_wires_are_found(law, noise):
    """A spring's run is v/w sin wt (harmonic motion); a steady pull's v t - a t^2/2."""
    t = np.arange(-1.0, 4.0, 0.05)
    since = np.clip(t - 0.6, 0.0, None)
    rate, most = 0.55, 0.5 * np.pi / 0.55
    x = (
        55.0 * np.minimum(t, 0.6)
        + {
            "spring": 55.0 / rate * np.sin(rate * np.minimum(since, most)),
            "at once": 55.0 * np.minimum(since, 2.5) - 11.0 * np.minimum(since, 2.5) ** 2,
        }[law]
    )
    found = pull_begins(t, x + np.random.default_rng(4).normal(0.0, noise, t.size), noise=noise)
    assert found.onset == pytest.approx(0.6, abs=max(2.0 * found.sigma, 0.03))


def test_a_run_without_a_pull_has_none():
    t = np.arange(-1.0, 4.0, 0.05)
    assert pull_begins(t, 55.0 * t + 0.8 * np.clip(t, 0.0, None) ** 2, noise=0.0) is None
    assert pull_begins(t[:3], t[:3], noise=0.0) is None


def test_craft_that_never_meet_in_time_give_nothing():
    own, ship = traps()[0]
    late = replace(ship, time=ship.time + 1e4)
    assert from_hull(own, late).time.size == 0


def test_a_recorded_airspeed_shows_the_pull_where_places_jump():
    """The same pull under places that jump by half a metre: with the airspeed, and without."""
    t, onset = np.arange(-1.0, 4.0, 0.15), 0.5
    since = np.clip(t - onset, 0.0, None)
    grown = np.minimum(since, 0.3)
    pull = 18.0 * (grown**3 / 1.8 + 0.15 * (since - grown) + 0.5 * (since - grown) ** 2)
    slower = 18.0 * (grown**2 / 0.6 + since - grown)
    off, beside = [], []
    for seed in range(12):
        rng = np.random.default_rng(seed)
        x = 55.0 * t - pull + rng.normal(0.0, 0.5, t.size)
        felt = 68.0 - slower + rng.normal(0.0, 0.3, t.size)
        off.append(pull_begins(t, x, noise=0.5).onset - onset)
        beside.append(pull_begins(t, x, noise=0.5, speed=felt).onset - onset)
    assert np.std(beside) < 0.7 * np.std(off)
    assert np.abs(np.mean(beside)) < 0.05


def test_an_airspeed_that_sticks_on_deck_is_left_alone():
    told = [(own, ship) for own, ship in traps(noise=0.05)]
    stuck = [(own.with_channels(true_airspeed=np.full(own.time.size, 70.0)), ship) for own, ship in told]
    one, two = (measure_site(pairs, GUESS, JET)[0].wires.positions for pairs in (told, stuck))
    assert one == two
