"""What is told of passes that the open flight dynamics library flew with one thing changed.

The truth is the library's own: the same recorded commands flown twice, once with a change.
"""

from __future__ import annotations

import math

import corpus_clean
import numpy as np
import pytest
from fly_errors import Change, Fault, fly_faulty, fly_pair
from fly_record import Form, sample_aircraft, sample_ship, toml
from fly_truth import truth
from msgspec.structs import replace
from sites import aircraft_file

from deckward import aircraft, explanation, passes, scoring
from deckward import site as sites
from deckward.explanation.contributions import split
from deckward.explanation.view import View, averaged
from deckward.explanation.what_if import change, what_if
from deckward.foundation.track import Track
from deckward.foundation.units import FOOT, KNOT

TABLES = {"A4": "sandlark", "F4N": "stormcote"}


def plan(jet="A4", **more):
    settings = {
        "seed": 11,
        "start_range": 0.7 * 1852.0,
        "turbulence": 0.4,
        "roughness": 0.8,
        "after": 5.0,
        "wind": (-8.0, 9.0),
    }
    return corpus_clean.plan_at(jet, "halcyon", (21.0, -140.0), 70.0, **{**settings, **more})


@pytest.fixture(scope="module")
def debriefed(tmp_path_factory):
    """A function from a flight to its measured pass."""
    folder = tmp_path_factory.mktemp("files")

    def measured(flight, without=()):
        flown, form = flight.plan, Form(rate=20.0)
        time, own = sample_aircraft(flight, form)
        ship = sample_ship(flight, time)
        jet = aircraft_file(flown.jet, flown.points, form.reference, None)
        for name, content in (("site.toml", flown.site), ("jet.toml", jet)):
            (folder / name).write_text(toml(content))
        profile = replace(aircraft.load(folder / "jet.toml"), tables=aircraft.load(TABLES[flown.jet]).tables)
        found = passes.find(
            Track("jet", time, {name: own[name] for name in own if name not in ("point", *without)}),
            ship=Track("ship", time, {name: values for name, values in ship.items() if name != "point"}),
            site=sites.load(folder / "site.toml"),
            aircraft=profile,
            wind=passes.Wind(math.radians(flown.wind_from), flown.wind_kt * KNOT),
        )
        (one,) = found.passes
        return one

    return measured


@pytest.fixture(scope="module")
def rules():
    return scoring.load("strict")


@pytest.mark.parametrize(
    ("jet", "change"),
    [
        ("A4", Change("power", 12.0, 2.5, -0.06)),
        ("F4N", Change("nose", 13.0, 3.0, 1.0)),
        ("A4", Change("air", 14.0, 2.5, -1.8)),
        ("F4N", Change("bank", 11.0, 4.0, 15.0)),
        ("A4", Change("deck", 16.0, 11.0, 0.9)),
    ],
    ids=lambda value: value if isinstance(value, str) else value.what,
)
def test_a_cause_is_told_for_what_it_did(jet, change, debriefed, rules):
    flights = fly_pair(plan(jet), change)
    before, after = (split(View(debriefed(flight), rules)) for flight in flights)
    heights = [truth(flight)["ramp"]["hook_to_ramp_m"] for flight in flights]
    made = heights[1] - heights[0]
    until = np.inf if change.what == "deck" else change.start + change.seconds
    told = after.between(change.what, change.start, until) - before.between(change.what, change.start, until)
    assert abs(made) > FOOT
    assert told == pytest.approx(made, abs=max(0.25 * abs(made), FOOT))
    for parts in (before, after):
        assert abs(parts.unexplained) < max(2.0 * FOOT, 0.15 * abs(parts.deviation))


def arrived(one, rules):
    """What a pass is told to have arrived with, by name."""
    return {told.what: told for told in explanation.explain(one, rules).arrivals}


def of(told, cause):
    return sum(part.made for part in told.parts if part.cause == cause)


@pytest.mark.parametrize(
    ("jet", "change", "what", "least"),
    [
        ("A4", Change("power", 9.0, 4.0, 0.12), "airspeed", 0.3),
        ("F4N", Change("bank", 11.0, 4.0, 15.0), "line-up", 1.0),
        ("F4N", Change("nose", 15.0, 3.0, 0.7), "touchdown", 5.0),
        ("A4", Change("power", 17.0, 2.5, 0.05), "touchdown", 5.0),
    ],
)
def test_what_a_cause_made_of_the_arrival_is_what_it_did(jet, change, what, least, debriefed, rules):
    """Airspeed and line-up at the ramp and the touchdown, as the library's own flights differ in them."""
    flights = fly_pair(plan(jet), change)
    ends = [truth(flight) for flight in flights]

    def true(flight, end):
        if what == "touchdown":
            return end["touchdown"]["hook_x_m"]
        if what == "line-up":
            return next(at["line_up_offset_m"] for at in end["positions"] if at["name"] == "ramp")
        time, own = sample_aircraft(flight, Form(rate=20.0))
        return float(np.interp(end["ramp"]["time_s"], time, own["true_airspeed"]))

    made = true(flights[1], ends[1]) - true(flights[0], ends[0])
    before, after = (arrived(debriefed(flight), rules)[what] for flight in flights)
    assert abs(made) > least
    assert of(after, change.what) - of(before, change.what) == pytest.approx(made, rel=0.25, abs=0.1)
    assert abs(after.unexplained) < max(0.15 * abs(after.deviation), least)
    assert after.deviation - before.deviation == pytest.approx(made, rel=0.1, abs=0.3)


@pytest.mark.parametrize(
    ("code", "more", "fault"),
    [
        ("slow-held", {"alpha": ((1500, 1.8), (0, 1.8))}, None),
        ("low-in-window", {"glide": ((1500, 0.0), (800, -0.7), (150, -0.7), (0, -0.4))}, None),
        ("flared", {"flare": (120.0, 3.2)}, None),
        ("power-cut-at-ramp", {"aim": 8.0}, Fault("cut", at=60.0, size=-0.3)),
        ("late-wave-off", {"wave_off": 50.0}, None),
        ("power-sawing", {"start_range": 1500.0}, Fault("saw", at=1200.0, seconds=11.0, size=0.2, more=1.7)),
    ],
)
def test_a_fault_is_found(code, more, fault, debriefed, rules):
    told = explanation.explain(debriefed(fly_faulty(plan(**more), fault)), rules)
    assert code in [finding.code for finding in told.findings]


def test_a_clean_pass_has_no_finding_and_its_height_is_explained(debriefed, rules):
    told = explanation.explain(debriefed(fly_faulty(plan("F4N", seed=5))), rules)
    assert told.findings == ()
    assert abs(told.unexplained) < 2.0 * FOOT
    causes = {part.cause for part in told.contributions}
    assert causes == {"start", "power", "nose", "bank", "air", "deck"}


def test_a_cut_that_is_not_made_brings_the_hook_where_it_comes_down_without_it(debriefed, rules):
    """The same plan flown with and without a cut in close: held power takes the first to the second."""
    cut = debriefed(fly_faulty(plan("F4N", aim=8.0), Fault("cut", at=150.0, size=-0.2)))
    clean = debriefed(fly_faulty(plan("F4N", aim=8.0)))
    (told,) = what_if(cut, rules, [change("hold-power=3.5")])
    assert told.told
    assert told.rms < 0.3
    without = clean.ramp.hook_to_ramp - cut.ramp.hook_to_ramp
    assert without > 2.0 * FOOT
    assert told.hook_to_ramp - cut.ramp.hook_to_ramp == pytest.approx(without, rel=0.25)


def test_a_wave_off_in_time_clears_the_deck(debriefed, rules):
    flown = debriefed(fly_faulty(plan()))
    early, late = what_if(flown, rules, [change("wave-off=0.3"), change("wave-off=0.05")])
    assert early.hook_x is None
    assert early.lowest_hook > late.hook_to_ramp > flown.ramp.hook_to_ramp


def test_of_a_wave_off_nothing_is_told_otherwise(debriefed, rules):
    (told,) = what_if(debriefed(fly_faulty(plan(wave_off=300.0))), rules, [change("sooner")])
    assert not told.told
    assert told.hook_to_ramp is None


def test_the_same_pass_is_told_the_same_twice(debriefed, rules):
    one = debriefed(fly_faulty(plan(seed=9)))
    assert explanation.explain(one, rules) == explanation.explain(one, rules)


@pytest.mark.parametrize("jet", ["A4", "F4N"])
def test_power_that_was_not_recorded_is_told_within_its_sigma(debriefed, rules, jet):
    """Held against the throttle and the engine's measured table: in gusts, 1 s means, every second.

    The shares within one and three sigma are those of chance; one flight tells them roughly.
    """
    flight = fly_faulty(
        plan(jet, turbulence=1.0), Fault("saw", at=1000.0, seconds=10.0, size=0.16, more=1.7), None
    )
    view, bare = (View(debriefed(flight, without=names), rules) for names in ((), ("throttle", "engine_rpm")))
    found = bare.power
    assert view.power.recorded and not found.recorded
    shown = averaged(view.power.thrust, 1.0)
    rows = np.flatnonzero(view.groove & (view.to_ramp > 0.5) & np.isfinite(shown))[::20]
    off = (np.interp(view.time, bare.time, found.felt) - shown)[rows]
    off = off - np.median(off)
    assert np.std(shown[rows]) > 2.0 * np.std(off)
    assert np.mean(np.abs(off) < found.sigma) > 0.5
    assert np.mean(np.abs(off) > 3.0 * found.sigma) < 0.08
    made = [sum(split(v).parts["power"]) for v in (view, bare)]
    assert made[1] == pytest.approx(made[0], abs=2.5)
