"""Whatever is written in a site or aircraft file, it is read or refused in words."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deckward import aircraft, site
from deckward.aircraft.form import ProfileForm
from deckward.aircraft.form import check as check_aircraft
from deckward.errors import InputError
from deckward.foundation import documents
from deckward.site.form import SiteForm
from deckward.site.form import check as check_site

SHIP = site.source("wintermere")
JET = aircraft.source("stormcote")
FORMS = [(SHIP, SiteForm, check_site), (JET, ProfileForm, check_aircraft)]

values = st.one_of(
    st.floats().map(lambda x: repr(x)),
    st.integers().map(str),
    st.sampled_from(
        ["true", '""', "[]", "{}", "[[]]", "1979-05-27", "07:32:00", '"x"', "[1, 2, 3]", "[nan]"]
    ),
    st.lists(st.floats(), max_size=4).map(repr),
    st.text(max_size=8),
)


def read_or_refuse(text, form, check):
    try:
        documents.parse(text, form, file="any.toml", check=check)
    except InputError as error:
        message = str(error)
        assert message.startswith("any.toml") and len(message) < 5000
        assert all(letter.isprintable() or letter == "\n" for letter in message)
        assert error.remedy or "\n  key " in message


@pytest.mark.parametrize(("text", "form", "check"), FORMS)
@given(data=st.data())
def test_any_value_anywhere(text, form, check, data):
    lines = text.splitlines()
    keyed = [number for number, line in enumerate(lines) if " = " in line and not line.startswith("#")]
    number = data.draw(st.sampled_from(keyed))
    lines[number] = lines[number].partition(" = ")[0] + " = " + data.draw(values)
    read_or_refuse("\n".join(lines), form, check)


@pytest.mark.parametrize(("text", "form", "check"), FORMS)
@given(data=st.data())
def test_any_damage(text, form, check, data):
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 200)))
    read_or_refuse(text[:start] + data.draw(st.text(max_size=20)) + text[end:], form, check)


@given(data=st.binary(max_size=300))
def test_any_bytes(data, tmp_path_factory):
    path = tmp_path_factory.mktemp("any") / "any.toml"
    path.write_bytes(data)
    with pytest.raises(InputError):
        site.load(path)


@given(
    angle=st.floats(0, 15),
    first=st.floats(20, 60),
    gaps=st.lists(st.floats(1, 20), min_size=1, max_size=5),
    lens=st.tuples(st.floats(50, 200), st.floats(-40, 40), st.floats(-3, 5)),
    basic=st.floats(2.5, 5),
    cells=st.integers(3, 20),
)
def test_every_sensible_ship_is_read_as_written(angle, first, gaps, lens, basic, cells):
    wires = [first]
    for gap in gaps:
        wires.append(wires[-1] + gap)
    text = (
        f'name = "Any"\nkind = "ship"\n[landing_area]\nangle_deg = {angle}\nramp_m = [-150.0, 3, -19]\n'
        f"length_m = 240\nwidth_m = 25\n[wires]\npositions_m = {wires}\nheight_m = 0.1\n"
        f"[lens]\nposition_m = {list(lens)}\nbasic_angle_deg = {basic}\ncells = {cells}\n"
        f'cell_deg = {1.7 / cells}\nred_cells = 1\nhook_target_m = {wires[0]}\nstabilisation = "none"\n'
    )
    form = documents.parse(text, SiteForm, file="any.toml", check=check_site)
    assert form.wires.positions_m == tuple(wires)
    assert form.lens.position_m == lens
    assert math.isclose(form.landing_area.angle_deg, angle)
