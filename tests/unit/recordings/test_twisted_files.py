"""Files twisted by chance, and strangers' files: nothing is read wrongly in silence."""

from __future__ import annotations

import pytest

from deckward.recordings import draft_column_map
from support.foreign_files import file_named, file_of, names
from support.foreign_strangers import STRANGERS
from support.foreign_twists import twisted
from support.foreign_verdicts import answered, choose, misread, talked, unread, verdict


@pytest.mark.parametrize("seed", range(70))
def test_a_twisted_file_is_read_right_or_asked_about(seed, tmp_path):
    """And the answers of somebody who knows lead to what was flown."""
    file = file_of(twisted(seed))
    draft = draft_column_map(file.write(tmp_path))
    assert misread(file, draft) == []
    assert misread(file, answered(file, draft)) == []


@pytest.mark.parametrize("base", ["pattern", "straight", "level"])
@pytest.mark.parametrize("name", names(STRANGERS))
def test_a_strangers_file_is_never_read_wrongly_in_silence(name, base, tmp_path):
    file = file_named(name, STRANGERS, base=base, rate="10")
    assert misread(file, draft_column_map(file.write(tmp_path))) == []


@pytest.mark.parametrize("name", ["no words at all", "flight test parameter codes"])
def test_where_no_name_tells_the_place_the_columns_are_asked_for(name, tmp_path):
    file = file_named(name, STRANGERS, rate="10", base="straight")
    draft = draft_column_map(file.write(tmp_path))
    asked = [question.opens for question in draft.questions if question.opens]
    assert asked == ["latitude", "longitude", "altitude"]
    done = answered(file, draft)
    place = [w.header for w in file.wanted if w.quantity in ("latitude", "longitude", "altitude")]
    assert not any(rule.asked for rule in done.map.columns)
    assert [
        r.source for r in done.map.columns if r.quantity in ("latitude", "longitude", "altitude")
    ] == place


@pytest.mark.parametrize(
    "name",
    ["portuguese tug", "finnish", "turkish utf16", "russian", "japanese", "local plane with origin down"],
)
def test_a_strangers_file_with_plain_habits_asks_nothing(name, tmp_path):
    file = file_named(name, STRANGERS)
    assert not any(verdict(file, draft_column_map(file.write(tmp_path))).values())


def test_west_and_left_counted_up_under_plain_names_are_asked_about(tmp_path):
    """Longitude to the west with the left bank up looks as a heading anticlockwise does."""
    file = file_named("silent west left", STRANGERS, rate="10", base="pattern")
    path = file.write(tmp_path)
    draft = draft_column_map(path)
    assert {"lon", "hdg", "bank"} <= {name for q in draft.questions for name in q.columns}
    assert misread(file, answered(file, draft)) == []


#: words of no language, for what a column holds; the ship's carry one more
NONSENSE = """
nonsense words
how sep=, rate=10
zorba => time s
plim => latitude deg
quast => longitude deg
hurv => altitude ft
nemp => heading deg
trilg => pitch deg
wobb => roll deg
szarn => angle_of_attack deg
gnool plim => ship_latitude deg
gnool quast => ship_longitude deg
gnool hurv => ship_altitude ft
gnool nemp => ship_heading deg

nonsense in radians
how sep=; dec=, rate=10
zz1 => time s
vrilk_a => latitude rad
vrilk_b => longitude rad
vrilk_c => altitude m
vrilk_d => heading rad
vrilk_e => pitch rad
vrilk_f => roll rad

nonsense that counts the other way
how sep=, rate=10
torpel => time s
mu1 => latitude deg
mu2 => longitude deg
mu3 => altitude ft
mu4 => heading deg
mu5 => pitch deg -
mu6 => roll deg -

nonsense by the minute
how sep=; rate=10
dakk => time min
latt => latitude deg
lonn => longitude deg
kimm => altitude ft
mwel => heading deg
puaj => pitch deg
bawk => roll deg
"""


@pytest.mark.parametrize("base", ["pattern", "straight"])
@pytest.mark.parametrize("name", names(NONSENSE))
def test_words_of_no_language_are_learnt_from_the_answers(name, base, tmp_path):
    """After latitude, longitude and altitude are told, the ship and the rest follow with few questions."""
    file = file_named(name, NONSENSE, rate="10", base=base)
    draft = draft_column_map(file.write(tmp_path))
    opens = [question.opens for question in draft.questions]
    if base == "straight":
        assert opens == ["latitude", "longitude", "altitude"]
    else:  # a heading that follows the motion tells the place; "_d" and "_e" are axes, though
        place = [] if "radians" not in name else ["latitude", "longitude"]
        assert [each for each in opens if each != "altitude"] == place
    done = talked(file, draft)
    assert misread(file, done) == []
    assert unread(file, done) == []
    assert sum((rule.why or "").startswith("answered") for rule in done.map.columns) <= 7


@pytest.mark.parametrize("name", ["no words at all", "japanese", "flight test parameter codes"])
def test_a_talk_about_unknown_words_ends_with_what_was_flown(name, tmp_path):
    file = file_named(name, STRANGERS, rate="10")
    done = talked(file, draft_column_map(file.write(tmp_path)))
    assert misread(file, done) == []
    assert unread(file, done) == []


def test_who_leaves_a_column_out_is_not_asked_for_another(tmp_path):
    """The roll is told, its sense is not known, so it is left out: no other column is offered for it."""
    file = file_named("nonsense by the minute", NONSENSE, base="straight", rate="10")
    draft, opened, left = draft_column_map(file.write(tmp_path)), [], False
    while draft.questions:
        question = draft.questions[0]
        opened.append(question.opens)
        out = next((one for one in question.choices if one.text == "leave it out"), None)
        if out is not None and "bawk" in question.columns and not question.opens:
            draft, left = draft.taught(question, out), True
            continue
        draft = draft.taught(question, choose(file, draft, question))
    assert left
    assert opened.count("roll") == 1
